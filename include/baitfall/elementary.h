/* elementary.h -- exp, log, sin, cos, atan2 and what is composed of them, the same bits on every machine.
 *
 * The C library's own versions differ between libraries and processors; these use only + - * / sqrt and integer
 * operations on the bits, so gcc, clang (-ffp-contract=off) and WebAssembly agree bit for bit.
 *
 * Pure arithmetic. Total functions: every double is accepted; outside a domain the result is NaN; NaN in gives NaN out
 * (except bf_pow(x, 0) = bf_pow(1, y) = 1 and bf_hypot with an infinity). Subnormal numbers and infinities are handled;
 * special cases follow C17 annex F but for bf_pow, which takes no negative base. Angles in radians.
 *
 * Source:    argument reduction and polynomials are our own: scripts/elementary.sollya (fit errors in its log).
 * Accuracy:  the last column is the largest error found, in units of the last place of the exact result, against MPFR
 *            over 1e7 random arguments and all branch edges (the exact result is at most 0.5 from a double).
 *            Promised: 2 for exp, expm1, log, log1p, sin, cos; 4 for the others.
 * Example    bf_exp(1) = 2.718281828459045, bf_pow(2, 0.5) = 1.4142135623730951.
 * Tests:     tests/base/elementary_test.c
 */
#ifndef BAITFALL_ELEMENTARY_H
#define BAITFALL_ELEMENTARY_H

#ifdef __cplusplus
extern "C" {
#endif

#define BF_PI 3.14159265358979323846
#define BF_RAD_PER_DEG 0.017453292519943295

/* clang-format off */
double bf_exp(double x);              /* e^x; infinity above 709.78, 0 below -745.13                     0.85 */
double bf_expm1(double x);            /* e^x - 1, relative accuracy near 0 too                           1.13 */
double bf_log(double x);              /* natural logarithm; 0 gives -infinity, x < 0 NaN                 0.51 */
double bf_log1p(double x);            /* log(1 + x), relative accuracy near 0 too; -1 gives -infinity,
                                         x < -1 NaN                                                      0.67 */
double bf_log10(double x);            /* logarithm to base 10; domain as bf_log                          0.51 */
double bf_pow(double x, double y);    /* x^y for x >= 0; -0 counts as 0; x < 0 gives NaN for every y but
                                         0, also where y is whole                                        0.85 */
double bf_cbrt(double x);             /* cube root, any sign                                             0.74 */
double bf_hypot(double x, double y);  /* sqrt(x^2 + y^2), no overflow or underflow on the way            1.20 */

double bf_sin(double x);              /* |x| <= 1e5, else NaN                                            0.79 */
double bf_cos(double x);              /* |x| <= 1e5, else NaN                                            0.80 */
double bf_tan(double x);              /* |x| <= 1e5, else NaN                                            2.19 */
double bf_asin(double x);             /* |x| <= 1, else NaN; in [-pi/2, pi/2]                            2.49 */
double bf_acos(double x);             /* |x| <= 1, else NaN; in [0, pi]                                  2.17 */
double bf_atan(double x);             /* in [-pi/2, pi/2]                                                1.83 */
double bf_atan2(double y, double x);  /* angle of the point (x, y) from the x axis, in [-pi, pi]         1.92 */

double bf_sinh(double x);             /* infinite beyond +-710.47                                        2.20 */
double bf_cosh(double x);             /* infinite beyond +-710.47                                        1.27 */
double bf_tanh(double x);             /* in [-1, 1]                                                      2.48 */
/* clang-format on */

#ifdef __cplusplus
}
#endif
#endif /* BAITFALL_ELEMENTARY_H */
