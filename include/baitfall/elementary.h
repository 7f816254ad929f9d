/* elementary.h -- exp, log, sin, cos, atan2 and what is composed of them, the same bits on every machine.
 *
 * The C library's own versions differ between libraries and processors; these use only + - * / sqrt and
 * integer operations on the bits, so gcc, clang (-ffp-contract=off) and WebAssembly agree bit for bit.
 *
 * Pure arithmetic. Total functions: every double is accepted; outside a domain the result is NaN; NaN in
 * gives NaN out (except bf_pow(x, 0) = bf_pow(1, y) = 1). Subnormal numbers and infinities are handled.
 * Angles in radians. Tests: tests/base/elementary_test.c
 */
#ifndef BAITFALL_ELEMENTARY_H
#define BAITFALL_ELEMENTARY_H

#ifdef __cplusplus
extern "C" {
#endif

double bf_exp(double x);           /* e^x; infinity above 709.78, 0 below -745.13                          */
double bf_expm1(double x);         /* e^x - 1, exact in relative terms near 0                              */
double bf_log(double x);           /* natural logarithm; x = 0: -infinity, x < 0: NaN                      */
double bf_log1p(double x);         /* log(1 + x), exact in relative terms near 0; x < -1: NaN              */
double bf_log10(double x);         /* logarithm to base 10; domain as bf_log                               */
double bf_pow(double x, double y); /* x^y for x >= 0; x < 0: NaN, whatever y is (y = 0 gives 1)            */
double bf_sin(double x);           /* |x| <= 1e5, else NaN                                                 */
double bf_cos(double x);           /* |x| <= 1e5, else NaN                                                 */
double bf_tan(double x);           /* |x| <= 1e5, else NaN                                                 */
double bf_atan2(double y,
                double x); /* angle of the point (x, y), in [-pi, pi]; zeros and infinities as C17 */
double bf_atan(double x);  /* in [-pi/2, pi/2]                                                     */
double bf_asin(double x);  /* |x| <= 1, else NaN; in [-pi/2, pi/2]                                 */
double bf_acos(double x);  /* |x| <= 1, else NaN; in [0, pi]                                       */
double bf_sinh(double x);  /* infinity beyond +-710.47                                             */
double bf_cosh(double x);  /* infinity beyond +-710.47                                             */
double bf_tanh(double x);  /* in [-1, 1]                                                           */
double bf_hypot(double x, double y); /* sqrt(x^2 + y^2) without overflow or underflow on the way */
double bf_cbrt(double x); /* cube root, any sign                                                  */

#ifdef __cplusplus
}
#endif
#endif /* BAITFALL_ELEMENTARY_H */
