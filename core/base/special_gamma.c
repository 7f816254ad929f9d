/* special_gamma.c -- log gamma, its slopes, and the gamma distribution with its quantile. */
#include <math.h>

#include "baitfall/elementary.h"
#include "baitfall/special.h"
#include "core/base/gamma_parts.h"

#define ONE_LESS_EULER 0.42278433509846713939 /* 1 - Euler's constant */
#define HALF_LOG_2PI 0.91893853320467274178
#define MOST_TERMS 200000 /* never reached for shapes up to 1e8: about 9 sqrt(shape) */

/* (-1)^k (zeta(k) - 1) / k for k = 2, 3, ...: MPFR's zeta at 200 bits, rounded. */
static const double zeta_part[] = {
    0.32246703342411322,    -0.067352301053198095,   0.020580808427784548,   -0.0073855510286739853,
    0.0028905103307415233,  -0.001192753911703261,   0.00050966952474304242, -0.00022315475845357938,
    9.9457512781808534e-05, -4.4926236738133142e-05, 2.0507212775670692e-05, -9.4394882752683959e-06,
    4.3748667899074878e-06, -2.0392157538013662e-06, 9.5514121304074198e-07, -4.492469198764566e-07,
    2.1207184805554666e-07, -1.00432248239681e-07,   4.7698101693639806e-08, -2.2711094608943165e-08,
    1.0838659214896954e-08, -5.1834750419700467e-09, 2.4836745438024783e-09, -1.1921401405860912e-09,
    5.731367241678862e-10,  -2.7595228851242331e-10, 1.3304764374244489e-10, -6.4229645638381e-11,
};
#define N_ZETA_PARTS ((int)(sizeof zeta_part / sizeof *zeta_part))

/* Bernoulli numbers B2, B4, ... B16. */
static const double bernoulli[] = {1.0 / 6,  -1.0 / 30,     1.0 / 42, -1.0 / 30,
                                   5.0 / 66, -691.0 / 2730, 7.0 / 6,  -3617.0 / 510};
#define N_BERNOULLI 8

/* log Gamma(2 + z), |z| <= 1/2. */
static double log_gamma_near_2(double z) {
    double sum = 0;
    for (int k = N_ZETA_PARTS - 1; k >= 0; k--) sum = sum * z + zeta_part[k];
    return z * (ONE_LESS_EULER + z * sum);
}

double bfi_stirling_rest(double x) {
    double sum = 0, step = 1 / (x * x);
    for (int k = N_BERNOULLI; k >= 1; k--) sum = sum * step + bernoulli[k - 1] / (2 * k * (2 * k - 1));
    return sum / x;
}

double bf_log_gamma(double x) {
    if (!(x >= 0)) return NAN;
    if (x == 0 || x == INFINITY) return INFINITY;
    if (x < 0.5) return bfi_log_gamma1p(x) - bf_log(x);
    if (x < 1.5) return log_gamma_near_2(x - 1) - bf_log1p(x - 1);
    if (x >= BFI_STIRLING_FROM) return (x - 0.5) * bf_log(x) - x + HALF_LOG_2PI + bfi_stirling_rest(x);
    double product = 1;
    while (x > 2.5) {
        x -= 1;
        product *= x;
    }
    return log_gamma_near_2(x - 2) + bf_log(product);
}

double bfi_log_gamma1p(double z) {
    if (z <= 0.5) return log_gamma_near_2(z) - bf_log1p(z);
    if (z <= 1.5) return log_gamma_near_2(z - 1);
    return bf_log_gamma(1 + z);
}

double bf_log_gamma_step(double x, double d) {
    if (!(x > 0 && x < INFINITY && d >= 0 && d < INFINITY)) return NAN;
    double below = 0;
    for (; x < BFI_STIRLING_FROM; x += 1) below += bf_log1p(d / x);
    double rest = bfi_stirling_rest(x + d) - bfi_stirling_rest(x);
    return (x - 0.5) * bf_log1p(d / x) - d + d * bf_log(x + d) + rest - below;
}

double bf_log_beta(double a, double b) {
    if (!(a > 0 && b > 0)) return NAN;
    double less = a < b ? a : b, more = a < b ? b : a;
    return bf_log_gamma(less) - bf_log_gamma_step(more, less);
}

double bf_digamma(double x) {
    if (!(x > 0)) return NAN;
    double below = 0;
    for (; x < BFI_STIRLING_FROM; x += 1) below += 1 / x;
    double sum = 0, step = 1 / (x * x);
    for (int k = N_BERNOULLI; k >= 1; k--) sum = (sum + bernoulli[k - 1] / (2 * k)) * step;
    return bf_log(x) - 0.5 / x - sum - below;
}

double bf_trigamma(double x) {
    if (!(x > 0)) return NAN;
    double below = 0;
    for (; x < BFI_STIRLING_FROM; x += 1) below += 1 / (x * x);
    double sum = 0, step = 1 / (x * x);
    for (int k = N_BERNOULLI; k >= 1; k--) sum = (sum + bernoulli[k - 1]) * step;
    return (1 + 0.5 / x + sum) / x + below;
}

/* With r = mu / (2 + mu):  log(1 + mu) = 2 (r + r^3/3 + r^5/5 + ...)  and  mu - 2 r = mu r. */
double bfi_log_excess(double mu, double ratio) {
    if (!(fabs(mu) <= 0.5)) return mu - bf_log(ratio);
    double r = mu / (2 + mu), r2 = r * r, sum = 0;
    for (int k = 37; k >= 3; k -= 2) sum = sum * r2 + 1.0 / k;
    return r * (mu - 2 * r2 * sum);
}

/* log of x^shape e^-x / Gamma(shape + 1), x > 0. */
static double log_front(double shape, double x) {
    if (shape < BFI_STIRLING_FROM) return shape * bf_log(x) - x - bfi_log_gamma1p(shape);
    double away = shape * bfi_log_excess((x - shape) / shape, x / shape);
    return -away - 0.5 * bf_log(2 * BF_PI * shape) - bfi_stirling_rest(shape);
}

/* P / front: 1 + x/(shape + 1) + x^2/((shape + 1)(shape + 2)) + ... */
static double lower_series(double shape, double x) {
    double term = 1, sum = 1;
    for (int n = 1; n < MOST_TERMS && term > 1e-17 * sum; n++) {
        term *= x / (shape + n);
        sum += term;
    }
    return sum;
}

/* Q / front = shape / (x + 1 - shape - 1 (1 - shape) / (x + 3 - shape - 2 (2 - shape) / (x + 5 - shape - ...))), by
 * Lentz's method; x >= 1 and x >= shape + 1, so that nothing on the way is 0. */
static double upper_fraction(double shape, double x) {
    double b = x + 1 - shape, c = INFINITY, d = 1 / b, h = d;
    for (int n = 1; n < MOST_TERMS; n++) {
        double a = -n * (n - shape);
        b += 2;
        d = 1 / (a * d + b);
        c = b + a / c;
        double change = c * d;
        h *= change;
        if (fabs(change - 1) < 1e-16) break;
    }
    return shape * h;
}

/* Q for shape < 1, x < 1, where P is near 1:  1 - f (1 + s)  with  f = x^shape / Gamma(1 + shape)  and
 * s = shape times the sum over n >= 1 of (-x)^n / (n! (shape + n)). */
static double upper_of_small(double shape, double x) {
    double log_f = shape * bf_log(x) - bfi_log_gamma1p(shape), power = 1, s = 0;
    for (int n = 1; n <= 20; n++) {
        power *= -x / n;
        s += power / (shape + n);
    }
    return -bf_expm1(log_f) - bf_exp(log_f) * shape * s;
}

/* Both tails and their logarithms, which do not underflow; 0 < x < infinity. */
typedef struct tails {
    double p, q, log_p, log_q;
} tails;

static int is_below(double shape, double x) {
    return x < 1 || x < shape + 1;
}

static tails gamma_tails(double shape, double x) {
    tails t;
    double front = log_front(shape, x);
    if (is_below(shape, x)) {
        double series = lower_series(shape, x);
        t.p = bf_exp(front) * series;
        t.log_p = front + bf_log(series);
        t.q = shape < 1 && x < 1 ? upper_of_small(shape, x) : 1 - t.p;
        t.log_q = bf_log(t.q);
    } else {
        double fraction = upper_fraction(shape, x);
        t.q = bf_exp(front) * fraction;
        t.log_q = front + bf_log(fraction);
        t.p = 1 - t.q;
        t.log_p = bf_log1p(-t.q);
    }
    return t;
}

double bfi_gamma_p_slope(double shape, double x, double *slope) {
    double front = bf_exp(log_front(shape, x));
    *slope = shape * front;
    return is_below(shape, x) ? front * lower_series(shape, x) : 1 - front * upper_fraction(shape, x);
}

double bf_gamma_p(double shape, double x) {
    double slope;
    if (!(shape > 0 && shape < INFINITY && x >= 0)) return NAN;
    if (x == 0) return 0;
    return x == INFINITY ? 1 : bfi_gamma_p_slope(shape, x, &slope);
}

double bf_gamma_q(double shape, double x) {
    if (!(shape > 0 && shape < INFINITY && x >= 0)) return NAN;
    if (x == 0) return 1;
    return x == INFINITY ? 0 : gamma_tails(shape, x).q;
}

/* Wilson and Hilferty: the cube root of a gamma number is nearly normal. Not positive far down the lower tail. */
static double near_quantile(double shape, double p) {
    double root = 1 - 1 / (9 * shape) + bf_normal_quantile(p) / (3 * sqrt(shape));
    return shape * root * root * root;
}

/* Newton's method in u = log x on log P, or in the upper half on log Q: both are concave in u, so that it arrives from
 * everywhere; a step up is kept small because log Q falls ever faster. */
double bf_gamma_quantile(double shape, double p) {
    if (!(shape > 0 && shape < INFINITY && p >= 0 && p <= 1)) return NAN;
    if (p == 0) return 0;
    if (p == 1) return INFINITY;

    /* P = x^shape / Gamma(shape + 1) for small x, and below that for any x */
    double u = (bf_log(p) + bfi_log_gamma1p(shape)) / shape;
    if (u < -40) return bf_exp(u);
    double near = near_quantile(shape, p);
    if (shape >= 1 && near > 0) u = bf_log(near);

    int is_lower = p <= 0.5;
    double log_want = is_lower ? bf_log(p) : bf_log1p(-p);
    for (int i = 0; i < BFI_MOST_STEPS; i++) {
        double x = bf_exp(u);
        tails t = gamma_tails(shape, x);
        double density = shape * bf_exp(log_front(shape, x) - (is_lower ? t.log_p : t.log_q));
        double step = is_lower ? (log_want - t.log_p) / density : (t.log_q - log_want) / density;
        if (step > 1) step = 1;
        u += step;
        if (fabs(step) < BFI_LAST_STEP) break;
    }
    return bf_exp(u);
}
