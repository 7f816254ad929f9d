# Debian's clang for wasm32-wasi. Optimisation goes on the compile lines only: with -O on the link line clang 14
# runs wasm-opt from PATH, which refuses SIMD modules after stripping.
set(CMAKE_SYSTEM_NAME Generic)
set(CMAKE_SYSTEM_PROCESSOR wasm32)
set(CMAKE_C_COMPILER clang)
set(CMAKE_C_COMPILER_TARGET wasm32-wasi)
set(CMAKE_C_FLAGS_INIT "-isystem /usr/include/wasm32-wasi -fvisibility=hidden")
set(CMAKE_C_FLAGS_RELEASE "" CACHE STRING "" FORCE)
set(CMAKE_TRY_COMPILE_TARGET_TYPE STATIC_LIBRARY)
