/* special_beta.c -- the beta distribution and its quantile. */
#include <math.h>

#include "baitfall/elementary.h"
#include "baitfall/special.h"
#include "core/base/gamma_parts.h"

#define MOST_TERMS 200000 /* never reached for shapes up to 1e8: a few sqrt(shape) */

/* x y = product + *rest exactly. Source: T. J. Dekker, "A floating-point technique for extending the available
 * precision", Numer. Math. 18, 1971 (from memory). */
static double exact_product(double x, double y, double *rest) {
    double split_x = 134217729 * x, split_y = 134217729 * y; /* 2^27 + 1 */
    double x_high = split_x - (split_x - x), y_high = split_y - (split_y - y);
    double x_low = x - x_high, y_low = y - y_high, product = x * y;
    *rest = ((x_high * y_high - product) + x_high * y_low + x_low * y_high) + x_low * y_low;
    return product;
}

/* s (a + b) - a, which is nearly 0 near the mean, to its own last digits. */
static double from_mean(double a, double b, double s) {
    double rest_a, rest_b;
    double sa = exact_product(s, a, &rest_a), sb = exact_product(s, b, &rest_b);
    double sum = sa + sb, part = sum - sa, rest_sum = (sa - (sum - part)) + (sb - part);
    return (sum - a) + (rest_sum + rest_a + rest_b);
}

/* log of s^a (1 - s)^b / B(a, b), 0 < s <= 1/2; off = s (a + b) - a. */
static double log_front(double a, double b, double s, double off) {
    if (a < BFI_STIRLING_FROM || b < BFI_STIRLING_FROM)
        return a * bf_log(s) + b * bf_log1p(-s) - bf_log_beta(a, b);
    double n = a + b;
    double away = a * bfi_log_excess(off / a, s * (n / a)) + b * bfi_log_excess(-off / b, (1 - s) * (n / b));
    double rest = bfi_stirling_rest(n) - bfi_stirling_rest(a) - bfi_stirling_rest(b);
    return -away + 0.5 * bf_log(a / n * b / (2 * BF_PI)) + rest;
}

/* I_x(a, b) / front = 1 / (b_0 + a_1 / (b_1 + a_2 / (b_2 + ...))), for x < (a + 1) / (a + b + 2), by Lentz's method;
 * below = a - (a + b) x and y = 1 - x come from the caller, who knows them to their last digits:
 *
 *     a_m = (a + m - 1)(a + b + m - 1) m (b - m) x^2 / (a + 2m - 1)^2
 *     b_m = m + m (b - m) x / (a + 2m - 1) + (a + m)(below + 1 + m (1 + y)) / (a + 2m + 1)
 *
 * Source: A. R. DiDonato and A. H. Morris, "Significant digit computation of the incomplete beta function ratios",
 * ACM Trans. Math. Softw. 18, 1992 (from memory). */
static double fraction(double a, double b, double x, double y, double below) {
    double c = a * (below + 1) / (a + 1), d = 0, h = c;
    for (int m = 1; m < MOST_TERMS; m++) {
        double odd = a + 2 * m - 1, part = m * (b - m) * x / odd;
        double a_m = (a + m - 1) * (a + b + m - 1) / odd * x * part;
        double b_m = m + part + (a + m) * (below + 1 + m * (1 + y)) / (odd + 2);
        d = 1 / (b_m + a_m * d);
        c = b_m + a_m / c;
        double change = c * d;
        h *= change;
        if (fabs(change - 1) < 1e-16) break;
    }
    return 1 / h;
}

/* The upper tail for a < 1, s small, where the lower is near 1:  1 - f (1 + sum)  with  f = s^a / (a B(a, b))  and
 * sum = a times the sum over n >= 1 of (1 - b)(2 - b)..(n - b) / n! s^n / (a + n). */
static double upper_of_small(double a, double b, double s) {
    double log_f = a * bf_log(s) - (bfi_log_gamma1p(a) - bf_log_gamma_step(b, a)), term = 1, sum = 0;
    for (int n = 1; n <= 60; n++) {
        term *= (n - b) / n * s;
        sum += term / (a + n);
    }
    return -bf_expm1(log_f) - bf_exp(log_f) * a * sum;
}

/* Both tails at s and their logarithms, which do not underflow; 0 < s <= 1/2. */
typedef struct tails {
    double lower, upper, log_lower, log_upper, log_front;
} tails;

static tails beta_tails(double a, double b, double s) {
    tails t;
    double off = from_mean(a, b, s);
    t.log_front = log_front(a, b, s, off);
    if (s < (a + 1) / (a + b + 2)) {
        double f = fraction(a, b, s, 1 - s, -off);
        t.lower = bf_exp(t.log_front) * f;
        t.log_lower = t.log_front + bf_log(f);
        t.upper = a < 1 ? upper_of_small(a, b, s) : 1 - t.lower;
        t.log_upper = bf_log(t.upper);
    } else {
        double f = fraction(b, a, 1 - s, s, off);
        t.upper = bf_exp(t.log_front) * f;
        t.log_upper = t.log_front + bf_log(f);
        t.lower = 1 - t.upper;
        t.log_lower = bf_log1p(-t.upper);
    }
    return t;
}

static int are_shapes(double a, double b) {
    return a > 0 && a < INFINITY && b > 0 && b < INFINITY;
}

double bf_beta_i(double a, double b, double x) {
    if (!(are_shapes(a, b) && x >= 0 && x <= 1)) return NAN;
    if (x == 0 || x == 1) return x;
    return x <= 0.5 ? beta_tails(a, b, x).lower : beta_tails(b, a, 1 - x).upper;
}

/* The log odds v of x = 1 / (1 + e^-v) with I_x(a, b) = p, 0 < p <= 1/2: Newton's method on log I, which is concave in
 * v, so that it arrives from everywhere. */
static double log_odds_of_quantile(double a, double b, double p) {
    double log_p = bf_log(p);

    /* I = x^a / (a B(a, b)) for small x */
    double v = (log_p + bfi_log_gamma1p(a) - bf_log_gamma_step(b, a)) / a;
    if (v < -40 && v + bf_log(b) < -40) return v;

    /* the log odds have mean psi(a) - psi(b), variance psi'(a) + psi'(b) */
    v = bf_digamma(a) - bf_digamma(b) + bf_normal_quantile(p) * sqrt(bf_trigamma(a) + bf_trigamma(b));
    for (int i = 0; i < BFI_MOST_STEPS; i++) {
        if (v < -700) v = -700;
        tails t = v <= 0 ? beta_tails(a, b, 1 / (1 + bf_exp(-v))) : beta_tails(b, a, 1 / (1 + bf_exp(v)));
        double log_i = v <= 0 ? t.log_lower : t.log_upper;
        double step = (log_p - log_i) / bf_exp(t.log_front - log_i);
        v += step;
        if (fabs(step) < BFI_LAST_STEP) break;
    }
    return v;
}

double bf_beta_quantile(double a, double b, double p) {
    if (!(are_shapes(a, b) && p >= 0 && p <= 1)) return NAN;
    if (p == 0 || p == 1) return p;
    double v = p <= 0.5 ? log_odds_of_quantile(a, b, p) : -log_odds_of_quantile(b, a, 1 - p);
    return 1 / (1 + bf_exp(-v));
}
