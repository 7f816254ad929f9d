# core + text as wasm modules that import nothing, each plain and with SIMD; the results are the same bits.
file(GLOB wasm_sources CONFIGURE_DEPENDS core/*/*.c text/*.c)

# Every page fetches the module: small before quick, but for the sums that a press waits for: the fall, the lay-in, the hanging rig, and the
# functions these call most. With them quick and all else small, the times of `make bench` are those of -O3 throughout.
set(wasm_quick core/base/elementary.c core/feed/descent.c core/tackle/cable.c core/tackle/lay_lumped.c core/swim/model.c)
set_source_files_properties(${wasm_quick} PROPERTIES COMPILE_OPTIONS -O3)

function(bf_wasm_core name)
  add_library(${name} OBJECT ${wasm_sources} ${BF_PICTURE_GENERATED})
  target_include_directories(${name} PUBLIC include ${CMAKE_SOURCE_DIR} ${BF_GENERATED})
  target_include_directories(${name} SYSTEM PRIVATE ${CMAKE_BINARY_DIR}/third)
  # What every browser has that runs the page at all (Chrome 75, Firefox 79, Safari 15): a copy and a rounding are one instruction.
  target_compile_options(${name} PUBLIC -Oz -mbulk-memory -mnontrapping-fptoint -msign-ext ${ARGN})
endfunction()
bf_wasm_core(objects)
bf_wasm_core(objects-simd -msimd128)

find_program(BF_WASM_OPT wasm-opt REQUIRED) # Debian: binaryen
# Low memory is the far end of the stack: no pointer is below 1024. Its -Oz takes twice the time and comes out a hundredth larger
# once compressed: it cuts the data into hundreds of pieces, and makes functions that are called once part of their callers.
set(wasm_passes --shrink-level=2 --optimize-level=2 --low-memory-unused
    --duplicate-function-elimination --dce --remove-unused-names --remove-unused-brs --optimize-instructions
    --optimize-added-constants-propagate --ssa-nomerge --precompute-propagate
    --simplify-locals-nostructure --vacuum --merge-locals --coalesce-locals --simplify-locals --vacuum --reorder-locals
    --coalesce-locals --merge-blocks --remove-unused-brs --optimize-instructions --rse --vacuum --reorder-locals
    --dae --remove-unused-module-elements --generate-stack-ir --optimize-stack-ir)

function(bf_wasm name objects)
  add_executable(${name} ${ARGN})
  set_target_properties(${name} PROPERTIES SUFFIX .wasm)
  target_link_libraries(${name} PRIVATE ${objects})
  # No -O here and no --strip-all: clang 14 would call wasm-opt itself, which then refuses SIMD.
  target_link_options(${name} PRIVATE -mexec-model=reactor -Wl,--strip-debug,--gc-sections,--stack-first
                      -Wl,-O2 -Wl,-z,stack-size=262144)
  add_custom_command(TARGET ${name} POST_BUILD VERBATIM
    COMMAND ${BF_WASM_OPT} $<TARGET_FILE:${name}> -o $<TARGET_FILE:${name}> ${wasm_passes}
            --strip-debug --strip-producers --strip-target-features)
endfunction()

# What the page's workers load, one module for each public header that they ask through: linking leaves out what its functions
# never call, half of the whole. And the hash program of tests/hash, which asks through both.
foreach(header answer journal)
  bf_wasm(${header} objects wasm/area.c wasm/${header}.c)
  bf_wasm(${header}-simd objects-simd wasm/area.c wasm/${header}.c)
endforeach()
set(hash_sources tests/hash/kernel.c tests/hash/request.c tests/hash/wasm.c)
bf_wasm(kernel objects ${hash_sources})
bf_wasm(kernel-simd objects-simd ${hash_sources})

# For `make bench`.
bf_wasm(bench objects bench/wasm.c)
bf_wasm(bench-simd objects-simd bench/wasm.c)
