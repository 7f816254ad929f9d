# core + text as one wasm module that imports nothing, plain and with SIMD; the results are the same bits.
file(GLOB wasm_sources CONFIGURE_DEPENDS core/*/*.c text/*.c)

# Reading, wording and drawing wait for people, and every page fetches them: small before quick. So do the steps about a rehearsal's or
# an advice's rollouts, not the rollouts themselves.
file(GLOB wasm_small CONFIGURE_DEPENDS text/*.c core/picture/*.c core/swim/rehearse*.c core/swim/advise_*.c
     core/swim/odds.c core/swim/story.c core/swim/learn.c core/swim/snapshot.c core/record/*.c core/plan/day.c core/plan/pack.c
     core/plan/prep.c core/plan/rules.c core/plan/suggest_said.c core/tackle/command.c core/tackle/shot.c core/tackle/tackle_measure.c
     core/feed/bait.c core/feed/measure.c core/base/note.c core/feed/scene.c)
set_source_files_properties(${wasm_small} PROPERTIES COMPILE_OPTIONS -Oz)

function(bf_wasm_core name)
  add_library(${name} OBJECT ${wasm_sources} ${BF_PICTURE_GENERATED})
  target_include_directories(${name} PUBLIC include ${CMAKE_SOURCE_DIR} ${BF_GENERATED})
  target_include_directories(${name} SYSTEM PRIVATE ${CMAKE_BINARY_DIR}/third)
  target_compile_options(${name} PUBLIC -O3 ${ARGN})
endfunction()
bf_wasm_core(objects)
bf_wasm_core(objects-simd -msimd128)

function(bf_wasm name objects)
  add_executable(${name} ${ARGN})
  set_target_properties(${name} PROPERTIES SUFFIX .wasm)
  target_link_libraries(${name} PRIVATE ${objects})
  # No -O here and no --strip-all: clang 14 would call wasm-opt, which then refuses SIMD.
  target_link_options(${name} PRIVATE -mexec-model=reactor -Wl,--strip-debug,--gc-sections,--stack-first
                      -Wl,-z,stack-size=262144)
endfunction()

# What the page loads, and the hash program of tests/hash.
bf_wasm(core objects wasm/exports.c)
bf_wasm(core-simd objects-simd wasm/exports.c)
set(hash_sources tests/hash/kernel.c tests/hash/request.c tests/hash/wasm.c)
bf_wasm(kernel objects ${hash_sources})
bf_wasm(kernel-simd objects-simd ${hash_sources})

# For `make bench`.
bf_wasm(bench objects bench/wasm.c)
bf_wasm(bench-simd objects-simd bench/wasm.c)
