# core + text as one wasm module that imports nothing, plain and with SIMD; same results.
