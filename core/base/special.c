/* special.c -- normal distribution function and quantile. */
#include "baitfall/special.h"

#include <math.h>

#include "baitfall/elementary.h"
#include "core/base/special_tables.h"

/* A polynomial of 24 coefficients, lowest first, as four in x^4: a shorter chain than Horner's. */
static inline double polynomial_24(const double *c, double x) {
    double x2 = x * x, x4 = x2 * x2;
    double a = c[20], b = c[21], d = c[22], e = c[23];
    for (int i = 16; i >= 0; i -= 4) {
        a = a * x4 + c[i];
        b = b * x4 + c[i + 1];
        d = d * x4 + c[i + 2];
        e = e * x4 + c[i + 3];
    }
    return (a + b * x) + x2 * (d + e * x);
}

/* cdf(-x) for 0 <= x < 39. */
static double upper_tail(double x) {
    double m = polynomial_24(mills_m, (x - 4) / (x + 4));
    return bf_exp(-0.5 * x * x) * m / (1 + x);
}

double bf_normal_cdf(double x) {
    if (x != x) return x;
    double size = fabs(x), tail = size < 39 ? upper_tail(size) : 0;
    return x > 0 ? 1 - tail : tail;
}

double bf_normal_quantile(double p) {
    if (!(p >= 0 && p <= 1)) return NAN;
    if (p == 0) return -INFINITY;
    if (p == 1) return INFINITY;

    /* 1 - p is exact above 1/2, and below it an error in it is one of the last bit of w */
    double w = -bf_log(4 * p * (1 - p));
    if (w < 6.25) return (2 * p - 1) * polynomial_24(quantile_central, w - quantile_central_center);

    double s = sqrt(w);
    double size = s < 6 ? polynomial_24(quantile_outer, s - quantile_outer_center)
                        : s * polynomial_24(quantile_far, 1 / s - quantile_far_center);
    return p < 0.5 ? -size : size;
}
