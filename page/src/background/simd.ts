// Which of the two modules this browser runs: they give the same answers, the one with SIMD sooner.
declare const CORE: string;
declare const CORE_SIMD: string;

/** A module that spreads a number over a vector and counts its bits: valid only where SIMD instructions are known. */
const PROBE = new Uint8Array([
    0, 97, 115, 109, 1, 0, 0, 0, 1, 5, 1, 96, 0, 1, 123, 3, 2, 1, 0, 10, 10, 1, 8, 0, 65, 0, 253, 15, 253, 98, 11,
]);

export const CORE_FILE = WebAssembly.validate(PROBE) ? CORE_SIMD : CORE;
