/* random.h -- random numbers that are a pure function of (seed, stream, index).
 *
 * Pure arithmetic. No state, no I/O, no allocation: any draw can be taken alone, in any order, on any thread,
 * natively or in WebAssembly, and is the same 64 bits everywhere.
 *
 * How to use the three numbers:  seed    chosen by the user (default 1)
 *                                stream  which unknown is drawn (one input, one particle's noise, ...)
 *                                index   which draw of it (the number of the world, the step, ...)
 * Two runs with the same seed share their draws ("common random numbers"): a difference between them is then
 * caused by the changed input and not by other luck.
 *
 * Source:    Philox4x32-10: J. K. Salmon, M. A. Moraes, R. O. Dror, D. E. Shaw, "Parallel random numbers: as
 *            easy as 1, 2, 3", SC11 (2011).
 * Accuracy:  bit-equal to the authors' own library Random123 (known answers, and 1e6 counters).
 * Tests:     tests/base/random_test.c
 */
#ifndef BAITFALL_RANDOM_H
#define BAITFALL_RANDOM_H

#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

/* One block: four words of 32 random bits. */
typedef struct bf_philox_block {
    uint32_t word[4];
} bf_philox_block;

/* The Philox4x32-10 block of counter (index low, index high, stream low, stream high), key (low, high).
 *
 * Example    bf_philox(0, 0, 0) = { 6627e8d5, e169c58d, bc57ac4c, 9b00dbd8 } (hexadecimal). */
bf_philox_block bf_philox(uint64_t key, uint64_t stream, uint64_t index);

/* A uniform number in the open interval (0, 1): (k + 1/2) / 2^52, with k the top 52 bits of words 1 and 0.
 * Never 0 and never 1; least 2^-53, most 1 - 2^-53; u and 1 - u are equally likely, both exact. */
double bf_uniform(uint64_t seed, uint64_t stream, uint64_t index);

/* Two independent uniform numbers from one block: out[0] equals bf_uniform(seed, stream, index), out[1] comes
 * from words 3 and 2.
 *
 * out    (out 2) not NULL */
void bf_uniform2(uint64_t seed, uint64_t stream, uint64_t index, double out[2]);

/* A standard normal number: bf_normal_quantile(bf_uniform(seed, stream, index)), so a larger uniform never
 * gives a smaller normal beyond the last digit or two. Within (-8.21, 8.21). */
double bf_normal(uint64_t seed, uint64_t stream, uint64_t index);

#ifdef __cplusplus
}
#endif
#endif /* BAITFALL_RANDOM_H */
