/* summary.h -- order and quantile summaries of arrays of doubles, and the share of an input in an output's
 * spread.
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

/* The fewest pairs bf_first_order_share takes. */
#define BF_LEAST_FOR_SHARE 16

/* Bytes of work space that bf_first_order_share needs for n pairs: n doubles. */
size_t bf_first_order_share_bytes(size_t n);

/* The first-order share of one input in the spread of an output: the variance of E(output | input) over the
 * variance of the output, from n random worlds.
 *
 * The worlds are put into B = min(64, floor sqrt n) bins of equal count by their input (equal inputs share a bin, so
 * bins may be uneven or empty for an input of few values). With T the sum of squares about the mean, S that between
 * the bins and W = T - S that within them,
 *
 *     share = (S - (B - 1) W / (n - B)) / T,   cut to [0, 1]
 *
 * where the second term is what luck alone puts between the bins of an input without effect.
 *
 * Source:   first-order indices: A. Saltelli et al., "Global Sensitivity Analysis: The Primer" (2008), ch. 1; the
 *           estimator is T. L. Kelley's epsilon squared (PNAS 21(9), 1935). Both from memory.
 * Validity: worlds drawn independently at random; the inputs independent of each other. What inputs do only together
 *           belongs to none of them: the shares then sum to less than 1.
 * Accuracy: at n = 4096 the standard deviation is about 0.01, and 0.003 for an input without effect (more if the
 *           spread of the output depends on it); that one, cut at 0, reads 0.001 in the mean. Variation within a bin
 *           counts as noise: a share of 1 reads 0.996 for a normal input and 0.9998 for a uniform one (linear, 64
 *           bins).
 *
 * input     (in n) the input in each world, no NaN (asserted)
 * output    (in n) the output in the same worlds, finite
 * n         at least BF_LEAST_FOR_SHARE (asserted)
 * work      (work) bf_first_order_share_bytes(n) bytes, aligned for double
 *
 * Returns the share; 0 when the output does not vary or the input has one value only.
 *
 * Example   Ishigami's function (a = 7, b = 0.1), 64 times 4096 worlds: 0.315, 0.442, 0.002 in the mean; exact:
 *           0.314, 0.442, 0. */
double bf_first_order_share(const double *input, const double *output, size_t n, double *work);

#ifdef __cplusplus
}
#endif
#endif /* BAITFALL_SUMMARY_H */
