/* columns.h -- how many rows there are of each pair of keys, and the sum of a column over them.
 *
 * Answers tables such as "clean 31, lost 4, foul 2, missed 9 with 12 pellets a pot": rows by feed and outcome, by session
 * and method, with the mean wait or size of each.
 *
 * Keys are small numbers given by the caller (the core knows no names). Pure; allocates nothing; sums are taken in the order of
 * the rows, so the same rows in the same order give the same bits.
 * Tests: tests/record/columns_test.c
 */
#ifndef BAITFALL_COLUMNS_H
#define BAITFALL_COLUMNS_H

#include <stddef.h>
#include <stdint.h>

#include "baitfall/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Counts the rows of each pair and adds up their values:
 *
 *     count[a n_b + b] = number of rows i with key_a[i] = a and key_b[i] = b
 *     sum[a n_b + b]   = sum of value[i] over them
 *
 * key_a     (in n) each below n_a
 * key_b     (in n) each below n_b
 * value     (in n) or NULL; NaN makes the sum of its pair NaN
 * n         below 2^32
 * n_a, n_b  at least 1
 * count     (out n_a x n_b) row after row
 * sum       (out n_a x n_b) or NULL exactly when value is (asserted)
 *
 * Errors    BF_E_RANGE a key is not below its number of keys; tables are then all 0. BF_E_COUNT n too large.
 *
 * Example   keys (0,0) (1,2) (1,2), values 5 7 9, 2 x 3: count 1 0 0 0 0 2, sum 5 0 0 0 0 16. */
BF_CHECK bf_status bf_count_pairs(const uint16_t *key_a, const uint8_t *key_b, const double *value, size_t n,
                                  size_t n_a, size_t n_b, uint32_t *count, double *sum);

#ifdef __cplusplus
}
#endif
#endif /* BAITFALL_COLUMNS_H */
