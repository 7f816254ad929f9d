/* summary.h -- order and quantile summaries of arrays of doubles.
 *
 * Pure; sorts in the caller's memory, allocates nothing.
 * Tests: tests/base/summary_test.c
 */
#ifndef BAITFALL_SUMMARY_H
#define BAITFALL_SUMMARY_H

#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/* A computed quantity with its band. All four in the unit of the quantity. */
typedef struct bf_range {
    double nominal; /* at the inputs exactly as given       */
    double mid;     /* 50 % point over the uncertain inputs */
    double lo;      /* 10 % point                           */
    double hi;      /* 90 % point                           */
} bf_range;

/* Sorts x (in/out n) upwards, in place, in O(n log n) at worst, always by the same steps for the same input.
 * n may be 0. Infinities are allowed, NaN is not (asserted); -0 and 0 count as equal. */
void bf_sort(double *x, size_t n);

/* The p-quantile of a sorted array by linear interpolation between order statistics:
 *
 *     h = (n - 1) p,   sorted[floor h] + (h - floor h) (sorted[floor h + 1] - sorted[floor h])
 *
 * Source:   type 7 of R. J. Hyndman and Y. Fan, "Sample quantiles in statistical packages", Am. Stat. 50(4),
 *           1996 (from memory).
 * Accuracy: as the source to 1e-15 of the two neighbours.
 *
 * sorted    (in n) sorted upwards
 * p         in [0, 1] (asserted)
 *
 * Returns the quantile; NaN when n is 0.
 *
 * Example   {1, 2, 4, 8} at p = 0.5 -> 3. */
double bf_quantile_sorted(const double *sorted, size_t n, double p);

/* The 50, 10 and 90 % points of values (in/out n; sorted afterwards), with `nominal` passed through. n = 0 gives
 * NaN for the three. */
bf_range bf_range_of(double *values, size_t n, double nominal);

#ifdef __cplusplus
}
#endif
#endif /* BAITFALL_SUMMARY_H */
