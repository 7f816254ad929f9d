// Which modules this browser runs: each is there twice, and gives the same answers; with SIMD it gives them sooner.
declare const ANSWER: string;
declare const ANSWER_SIMD: string;
declare const JOURNAL: string;
declare const JOURNAL_SIMD: string;

/** A module that spreads a number over a vector and counts its bits: valid only where SIMD instructions are known. */
const PROBE = new Uint8Array([
    0, 97, 115, 109, 1, 0, 0, 0, 1, 5, 1, 96, 0, 1, 123, 3, 2, 1, 0, 10, 10, 1, 8, 0, 65, 0, 253, 15, 253, 98, 11,
]);

export const [ANSWER_FILE, JOURNAL_FILE] = WebAssembly.validate(PROBE) ? [ANSWER_SIMD, JOURNAL_SIMD] : [ANSWER, JOURNAL];
