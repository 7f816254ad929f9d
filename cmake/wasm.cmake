# core + text as one wasm module that imports nothing, plain and with SIMD; the results are the same bits.
file(GLOB wasm_sources CONFIGURE_DEPENDS core/*/*.c text/*.c)

function(bf_wasm name)
  add_executable(${name} ${wasm_sources} ${ARGN})
  set_target_properties(${name} PROPERTIES SUFFIX .wasm)
  target_include_directories(${name} PRIVATE include ${CMAKE_SOURCE_DIR} ${BF_GENERATED})
  target_include_directories(${name} SYSTEM PRIVATE ${CMAKE_BINARY_DIR}/third)
  target_compile_options(${name} PRIVATE -O3)
  # No -O here and no --strip-all: clang 14 would call wasm-opt, which then refuses SIMD.
  target_link_options(${name} PRIVATE -mexec-model=reactor -Wl,--strip-debug,--gc-sections,--stack-first
                      -Wl,-z,stack-size=262144)
  if(name MATCHES simd)
    target_compile_options(${name} PRIVATE -msimd128)
  endif()
endfunction()

bf_wasm(core wasm/exports.c)
bf_wasm(core-simd wasm/exports.c)
bf_wasm(kernel tests/hash/kernel.c)
bf_wasm(kernel-simd tests/hash/kernel.c)
