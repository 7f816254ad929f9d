/* special.h -- the special functions the statistics need.
 *
 * Pure arithmetic; the same bits natively and in WebAssembly. Total functions: every double is accepted.
 * Tests: tests/base/special_test.c
 */
#ifndef BAITFALL_SPECIAL_H
#define BAITFALL_SPECIAL_H

#ifdef __cplusplus
extern "C" {
#endif

/* Standard normal distribution function: the chance that a standard normal number is at most x.
 * x any; NaN gives NaN. Returns [0, 1]; subnormal below -37.5, 0 below -38.5. */
double bf_normal_cdf(double x);

/* Standard normal quantile: the x with bf_normal_cdf(x) = p.
 * p in [0, 1]; 0 gives -infinity, 1 gives +infinity, NaN and anything outside give NaN. */
double bf_normal_quantile(double p);

#ifdef __cplusplus
}
#endif
#endif /* BAITFALL_SPECIAL_H */
