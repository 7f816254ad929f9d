/* special.h -- the special functions the statistics need.
 *
 * Pure arithmetic; the same bits natively and in WebAssembly. Total functions: every double is accepted.
 * Tests: tests/base/special_test.c; coefficients: scripts/elementary.sollya.
 */
#ifndef BAITFALL_SPECIAL_H
#define BAITFALL_SPECIAL_H

#ifdef __cplusplus
extern "C" {
#endif

/* Standard normal distribution function: the chance that a standard normal number is at most x,
 *
 *     cdf(x) = erfc(-x / sqrt 2) / 2;   for x <= 0 computed as exp(-x^2/2) M(t) / (1 - x), t = (x + 4)/(x - 4)
 *
 * with M a polynomial; for x > 0 as 1 - cdf(-x).
 *
 * Accuracy:  relative error at most 6e-14 against MPFR for x >= -37.5; the far tail is the worst (rounding of x^2),
 *            3e-15 for x > -8.
 *
 * x any; NaN gives NaN. Returns [0, 1]: subnormal, with fewer digits, below -37.5; 0 below -38.5.
 *
 * Example    bf_normal_cdf(1) = 0.841344746068543. */
double bf_normal_cdf(double x);

/* Standard normal quantile: the x with bf_normal_cdf(x) = p. Three polynomials in w = -log(4 p (1 - p)) and its root.
 *
 * Accuracy:  error at most 2e-15 max(1, |x|) against GSL for every p from 2^-1073 to 1 - 2^-53; relative near
 *            p = 1/2 too.
 *
 * p in [0, 1]; 0 gives -infinity, 1 gives +infinity; NaN and anything outside give NaN.
 *
 * Example    bf_normal_quantile(0.9) = 1.2815515655446. */
double bf_normal_quantile(double p);

#ifdef __cplusplus
}
#endif
#endif /* BAITFALL_SPECIAL_H */
