/* special.h -- the special functions the statistics need.
 *
 * Pure arithmetic; the same bits natively and in WebAssembly. Total functions: every double is accepted, what lies
 * outside a domain gives NaN, NaN gives NaN.
 * Tests: tests/base/special_test.c, special_gamma_test.c, special_beta_test.c; coefficients of the normal:
 *        scripts/elementary.sollya.
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

/* ---- The gamma function and its relatives ------------------------------------------------------------------- */

/* log Gamma(x), x > 0; 0 and infinity give infinity.
 *
 *     near 2        log Gamma(2 + z) = (1 - gamma) z + sum over k >= 2 of (-1)^k (zeta(k) - 1) z^k / k,  |z| <= 1/2
 *     1/2 to 10     brought there by Gamma(x + 1) = x Gamma(x)
 *     from 10       Stirling's series, eight terms
 *
 * Source:    M. Abramowitz and I. A. Stegun, Handbook of Mathematical Functions, 6.1.33, 6.1.40 (from memory).
 * Accuracy:  for x from 1e-3 to 1e6 at most 5.3e-16 of max(1, the value) against MPFR; relative at the zeros 1, 2
 *            too.
 *
 * Example    bf_log_gamma(0.5) = 0.5723649429247 = log(pi) / 2. */
double bf_log_gamma(double x);

/* log(Gamma(x + d) / Gamma(x)), x > 0, d >= 0, without the loss of digits of the difference of two logarithms:
 * small beside log Gamma(x) when d is small or x large. Relative error at most 1.8e-15 against MPFR, x and d from
 * 1e-3 to 1e6. Example: bf_log_gamma_step(1e6, 2) = log(1e6 (1e6 + 1)). */
double bf_log_gamma_step(double x, double d);

/* log B(a, b) = log(Gamma(a) Gamma(b) / Gamma(a + b)), a > 0, b > 0. Example: bf_log_beta(2, 3) = -log 12. */
double bf_log_beta(double a, double b);

/* psi(x), the slope of log Gamma, and psi'(x), its curvature; x > 0. Brought above 10 by psi(x + 1) = psi(x) + 1/x,
 * then the asymptotic series (Abramowitz and Stegun 6.3.18, 6.4.12, from memory). Error at most 1.3e-15 of
 * max(1, the value), 8e-16 relative, for x from 1e-3 to 1e6 against MPFR.
 *
 * Example    bf_digamma(1) = -0.5772156649015 (Euler's constant), bf_trigamma(1) = 1.6449340668482 (pi^2 / 6). */
double bf_digamma(double x);
double bf_trigamma(double x);

/* The gamma distribution of the given shape (its scale is 1): the chance to be at most x, and above x,
 *
 *     P(shape, x) = 1/Gamma(shape) integral from 0 to x of t^(shape - 1) e^-t dt,    Q = 1 - P
 *
 * Each has its own relative accuracy in its own tail. The power series below x = shape + 1, the continued fraction
 * above; up to 9 sqrt(shape) terms near the mean.
 *
 * Source:    Abramowitz and Stegun 6.5.29, 6.5.31 (from memory).
 * Accuracy:  for shapes 1e-3 to 1e6 and tails down to 1e-300 a relative error of at most 3e-13 against the series
 *            at 1400 bits (MPFR); the far tails of large shapes are the worst. GSL 2.7 itself is off by more than
 *            1e-12 at 1 point in 75.
 *
 * shape > 0, x >= 0; x = infinity gives 1 and 0.
 *
 * Example    bf_gamma_p(9, 4.5) = 0.040257312482038;  bf_gamma_q(0.5, 1.92072941034706) = 0.05. */
double bf_gamma_p(double shape, double x);
double bf_gamma_q(double shape, double x);

/* The x with P(shape, x) = p; p in [0, 1]: 0 gives 0, 1 gives infinity. Newton's steps on the logarithms of P (or
 * Q) and x.
 *
 * Accuracy:  relative error at most 5e-14 for shapes 0.1 to 1e6; below that 4.3e-16 / shape (x goes as p^(1/shape)).
 *
 * Example    bf_gamma_quantile(9, 0.5) / 4.5 = 1.92643359652674. */
double bf_gamma_quantile(double shape, double p);

/* The beta distribution: the chance to be at most x,
 *
 *     I_x(a, b) = 1/B(a, b) integral from 0 to x of t^(a - 1) (1 - t)^(b - 1) dt
 *
 * by its continued fraction, on the side of the mean where it converges fast (a few sqrt(a + b) terms). The chance
 * to be above x is I_{1-x}(b, a): relative accuracy there if 1 - x is exact.
 *
 * Source:    A. R. DiDonato and A. H. Morris, "Significant digit computation of the incomplete beta function
 *            ratios", ACM Trans. Math. Softw. 18, 1992 (from memory).
 * Accuracy:  for shapes 1e-3 to 1e6 and chances down to 1e-300 a relative error of at most 1.5e-13 against the
 *            series at 1400 bits. GSL 2.7 itself is off by more than 1e-12 at 1 point in 16.
 *
 * a > 0, b > 0, x in [0, 1].
 *
 * Example    bf_beta_i(9, 6, 4.5 / 9.5) = 0.158741908543115. */
double bf_beta_i(double a, double b, double x);

/* The x with I_x(a, b) = p; p in [0, 1]: 0 gives 0, 1 gives 1. Newton's steps on log I and the log odds of x.
 *
 * Accuracy:  for shapes 0.1 to 1e6 at most 1e-13 relative; near 1 absolute.
 *
 * Example    bf_beta_quantile(1.5, 3.5, 0.5) = 0.271806742602785 */
double bf_beta_quantile(double a, double b, double p);

#ifdef __cplusplus
}
#endif
#endif /* BAITFALL_SPECIAL_H */
