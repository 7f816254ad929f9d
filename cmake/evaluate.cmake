# Calls of these core functions come to tests/swim/calibration.c first, where faults are planted; the core itself has none.
set(BF_FAULTS -Wl,--wrap=bfi_weights_resample,--wrap=bfi_swim_run)

# The program of `make evaluate`.
add_executable(evaluate tests/swim/evaluate.c tests/swim/calibration.c tests/swim/smc2.c tests/swim/smc2_swim.c
               tests/swim/smc2_truth.c)
target_include_directories(evaluate PRIVATE tests ${CMAKE_SOURCE_DIR})
target_link_options(evaluate PRIVATE ${BF_FAULTS})
target_link_libraries(evaluate PRIVATE bf_swim)
