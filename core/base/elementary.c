/* elementary.c -- elementary functions from + - * / sqrt and the bits of a double.
 *
 * Two kernels carry most of it: exp of a number given as head + tail, and log to some 65 bits as head + tail.
 * Each result is rounded once, at the end, from such a pair; that is what keeps the errors near half an ulp.
 */
#include "baitfall/elementary.h"

#include <math.h>
#include <stdbool.h>
#include <stdint.h>
#include <string.h>

#include "core/base/elementary_tables.h"

/* A number as the unevaluated sum of two, |tail| at most about half an ulp of head. */
typedef struct pair {
    double head, tail;
} pair;

static inline uint64_t bits_of(double x) {
    uint64_t bits;
    memcpy(&bits, &x, sizeof bits);
    return bits;
}

static inline double of_bits(uint64_t bits) {
    double x;
    memcpy(&x, &bits, sizeof x);
    return x;
}

static inline bool is_minus(double x) {
    return bits_of(x) >> 63;
}

/* |x| with the sign of y. */
static inline double with_sign_of(double x, double y) {
    return is_minus(y) ? -fabs(x) : fabs(x);
}

/* 2^k for -1022 <= k <= 1023; any other k gives some double. */
static inline double power_of_two(int64_t k) {
    return of_bits(((uint64_t)k + 1023) << 52);
}

/* Adding this rounds |x| < 2^51 to a whole number, which then stands in the low bits. */
static const double rounder = 0x1.8p52;

static inline int64_t rounded_bits(double shifted) {
    return (int64_t)(bits_of(shifted) - bits_of(rounder));
}

/* a + b exactly. */
static inline pair sum_of(double a, double b) {
    double s = a + b;
    double b_part = s - a;
    return (pair){s, (a - (s - b_part)) + (b - b_part)};
}

/* a * b, exact but for the last bits of the tail: halves of 26 and 27 bits multiply without rounding. */
static inline pair product_of(double a, double b) {
    const uint64_t upper_half = ~UINT64_C(0x7FFFFFF);
    double a1 = of_bits(bits_of(a) & upper_half), a2 = a - a1;
    double b1 = of_bits(bits_of(b) & upper_half), b2 = b - b1;
    double p = a * b;
    return (pair){p, ((a1 * b1 - p) + a1 * b2 + a2 * b1) + a2 * b2};
}

/* ---- exp --------------------------------------------------------------------------------------------------
 */

/* x = k ln 2 + r + r_tail, |r| <= ln 2 / 2. */
typedef struct exp_argument {
    double r, r_tail;
    int64_t k;
} exp_argument;

static inline exp_argument reduce_exp(double head, double tail) {
    double shifted = head * log2_e + rounder;
    double k = shifted - rounder;
    double near = head - k * ln2_head;
    double rest = k * ln2_tail - tail;
    double r = near - rest;
    return (exp_argument){r, (near - r) - rest, rounded_bits(shifted)};
}

/* e^(r + r_tail) - 1 - r. */
static inline double exp_beyond_linear(exp_argument a) {
    const double *p = exp_p;
    double r = a.r, r2 = r * r, r4 = r2 * r2;
    double high = (p[4] + p[5] * r) + r2 * (p[6] + p[7] * r) + r4 * (p[8] + p[9] * r);
    double series = (p[0] + p[1] * r) + r2 * (p[2] + p[3] * r) + r4 * high;
    return r2 * series + (a.r_tail + r * a.r_tail);
}

/* 2^shift e^(head + tail). Beyond +-800 the result is infinite or 0 anyway; the power of two is applied in
 * two halves, so that a subnormal result is rounded only once more and an infinite one arises by itself. */
static inline double scaled_exp(double head, double tail, int shift) {
    head = head > 800 ? 800 : head;
    head = head < -800 ? -800 : head;
    exp_argument a = reduce_exp(head, tail);
    int64_t k = a.k + shift, half = k / 2;
    double y = 1 + (a.r + exp_beyond_linear(a));
    return y * power_of_two(half) * power_of_two(k - half);
}

double bf_exp(double x) {
    return scaled_exp(x, 0, 0);
}

double bf_expm1(double x) {
    if (fabs(x) < 0x1p-54) return x;
    if (x > 40) return bf_exp(x);
    if (x < -40) return -1;
    if (x != x) return x;

    /* 2^k (1 + r + w) - 1, the large parts added exactly */
    exp_argument a = reduce_exp(x, 0);
    double scale = power_of_two(a.k);
    pair large = sum_of(scale * a.r, scale - 1);
    return large.head + (large.tail + scale * exp_beyond_linear(a));
}

/* ---- log --------------------------------------------------------------------------------------------------
 */

/* log x of a positive finite x, to some 65 bits.
 *
 * x = 2^k m, m in [0.6875, 1.375);  m / c = 1 + r with 1/c from a table of 64 bins;
 * log x = k ln 2 + log c + (r - r^2/2 + r^3 Q(r)).
 *
 * m is cut into an upper part of 21 bits and a lower one: r = r1 + r2 then holds exactly, and so do the sum
 * of the three large terms (multiples of 2^-42 below 2^10) and r1^2/2. The bins beside 1 have c = 1, log c =
 * 0, so nothing cancels near x = 1. */
static inline pair log_of(double x) {
    const uint64_t lowest_m = UINT64_C(0x3FE6000000000000); /* the bits of 0.6875 */
    double k_extra = 0;
    if (x < 0x1p-1022) {
        x *= 0x1p54;
        k_extra = -54;
    }

    uint64_t above = bits_of(x) - lowest_m;
    int64_t k_whole = (int64_t)above >> 52;
    unsigned bin = (unsigned)(above >> 46) & 63u;
    uint64_t m_bits = bits_of(x) - ((uint64_t)k_whole << 52);
    double k = (double)k_whole + k_extra;

    double m1 = of_bits((m_bits + (UINT64_C(1) << 31)) & ~UINT64_C(0xFFFFFFFF));
    double m2 = of_bits(m_bits) - m1;
    double r1 = m1 * log_inverse[bin] - 1, r2 = m2 * log_inverse[bin], r = r1 + r2;

    /* large + r2 as head + lost, then r1^2/2 taken off: each in one exact step */
    double large = k * ln2_head + log_c_head[bin] + r1;
    double square = 0.5 * r1 * r1;
    double sum = large + r2, head = sum - square;
    double lost = (r2 - (sum - large)) + ((sum - head) - square);

    const double *q = log_q;
    double rr = r * r, rrrr = rr * rr;
    double series =
        (q[0] + q[1] * r) + rr * (q[2] + q[3] * r) + rrrr * ((q[4] + q[5] * r) + rr * (q[6] + q[7] * r));
    double tail = lost - r2 * (r1 + 0.5 * r2) + r * rr * series + (k * ln2_tail + log_c_tail[bin]);
    double result = head + tail;
    return (pair){result, (head - result) + tail};
}

/* log of what log_of does not take: NaN, negative, 0, infinity. */
static double log_at_edge(double x) {
    if (x == 0) return -INFINITY;
    return x > 0 ? x : NAN;
}

static inline bool is_positive_finite(double x) {
    return x > 0 && x < INFINITY;
}

double bf_log(double x) {
    return is_positive_finite(x) ? log_of(x).head : log_at_edge(x);
}

double bf_log1p(double x) {
    if (fabs(x) < 0x1p-54) return x;
    pair u = sum_of(1, x);
    if (!is_positive_finite(u.head)) return log_at_edge(u.head);

    /* log(u + lost) = log u + lost / u, the next term is below 2^-106 */
    pair l = log_of(u.head);
    return l.head + (l.tail + u.tail / u.head);
}

double bf_log10(double x) {
    if (!is_positive_finite(x)) return log_at_edge(x);
    pair l = log_of(x);
    pair p = product_of(l.head, log10_e_head);
    return p.head + (p.tail + (l.tail * log10_e_head + l.head * log10_e_tail));
}

/* x^y where x or y is 0, infinite or NaN, or x is negative. */
static double pow_at_edge(double x, double y) {
    if (x != x || y != y || x < 0) return NAN;
    if (x == 0) return y > 0 ? 0 : INFINITY;
    if (x == INFINITY) return y > 0 ? INFINITY : 0;
    return (x > 1) == (y > 0) ? INFINITY : 0;
}

double bf_pow(double x, double y) {
    if (y == 0 || x == 1) return 1;
    if (!is_positive_finite(x) || !(fabs(y) < INFINITY)) return pow_at_edge(x, y);

    pair l = log_of(x);
    if (fabs(y * l.head) > 800) return scaled_exp(y * l.head, 0, 0);
    pair p = product_of(y, l.head);
    return scaled_exp(p.head, p.tail + y * l.tail, 0);
}

double bf_cbrt(double x) {
    double size = fabs(x);
    if (size == 0 || !(size < INFINITY)) return x;

    /* the last error of y is removed by one step of Newton's method */
    double y = bf_pow(size, 1.0 / 3);
    y -= (y - size / (y * y)) / 3;
    return with_sign_of(y, x);
}

/* ---- hyperbolic functions ---------------------------------------------------------------------------------
 */

/* Above this e^-x is lost beside e^x. */
static const double one_sided = 40;

double bf_cosh(double x) {
    double size = fabs(x);
    if (size > one_sided) return scaled_exp(size, 0, -1);
    double e = bf_exp(size);
    return 0.5 * e + 0.5 / e;
}

double bf_sinh(double x) {
    double size = fabs(x);
    if (size > one_sided) return with_sign_of(scaled_exp(size, 0, -1), x);
    double e = bf_expm1(size);
    return with_sign_of(0.5 * (e + e / (e + 1)), x);
}

double bf_tanh(double x) {
    double e = bf_expm1(-2 * fabs(x));
    return with_sign_of(e / (e + 2), x);
}

/* ---- sin and cos ------------------------------------------------------------------------------------------
 */

static const double largest_angle = 1e5;

/* Below this sin x and tan x are x to the last bit or so. */
static const double tiny_angle = 0x1p-27;

/* x = k pi/2 + r, |r| <= pi/4 (a little more at the edge). */
typedef struct turn {
    pair r;
    unsigned quadrant; /* k mod 4 */
} turn;

/* pi/2 is cut into pieces of 33 bits and k has at most 16, so every k times a piece is exact; no double up to
 * 1e5 comes so near a multiple of pi/2 that the 150 bits of the pieces do not suffice. */
static inline turn reduce_angle(double x) {
    double shifted = x * two_over_pi + rounder;
    double k = shifted - rounder;
    pair a = sum_of(x - k * half_pi_1, -k * half_pi_2);
    pair b = sum_of(a.head, -k * half_pi_3);
    double rest = (a.tail + b.tail) - k * half_pi_4;
    return (turn){sum_of(b.head, rest), (unsigned)rounded_bits(shifted) & 3u};
}

static inline double sin_near_zero(pair r) {
    const double *s = sin_s;
    double z = r.head * r.head, zz = z * z;
    double high = (s[2] + s[3] * z) + zz * (s[4] + z * (s[5] + z * s[6]));
    double series = (s[0] + s[1] * z) + zz * high;
    return r.head + (r.head * z * series + r.tail * (1 - 0.5 * z));
}

static inline double cos_near_zero(pair r) {
    const double *c = cos_c;
    double z = r.head * r.head, zz = z * z;
    double high = (c[2] + c[3] * z) + zz * (c[4] + z * (c[5] + z * c[6]));
    double series = (c[0] + c[1] * z) + zz * high;
    double near = 1 - 0.5 * z;
    return near + (((1 - near) - 0.5 * z) + (zz * series - r.head * r.tail));
}

/* The sine `ahead` quarter turns further on. */
static inline double sin_ahead(double x, unsigned ahead) {
    if (!(fabs(x) <= largest_angle)) return NAN;
    turn t = reduce_angle(x);
    unsigned quadrant = t.quadrant + ahead;
    double size = quadrant & 1u ? cos_near_zero(t.r) : sin_near_zero(t.r);
    return quadrant & 2u ? -size : size;
}

double bf_sin(double x) {
    return fabs(x) < tiny_angle ? x : sin_ahead(x, 0);
}

double bf_cos(double x) {
    return sin_ahead(x, 1);
}

double bf_tan(double x) {
    if (fabs(x) < tiny_angle) return x;
    if (!(fabs(x) <= largest_angle)) return NAN;
    turn t = reduce_angle(x);
    double s = sin_near_zero(t.r), c = cos_near_zero(t.r);
    return t.quadrant & 1u ? -c / s : s / c;
}

/* ---- inverse angles ---------------------------------------------------------------------------------------
 */

static inline double atan_near_zero(double t) {
    const double *a = atan_a;
    double z = t * t, zz = z * z, zzzz = zz * zz;
    double high = (a[4] + a[5] * z) + zz * (a[6] + a[7] * z);
    double series = (a[0] + a[1] * z) + zz * (a[2] + a[3] * z) + zzzz * (high + zzzz * a[8]);
    return t + t * z * series;
}

/* An angle between 0 and 45 degrees, as the bin of its tangent (0, 1/2, 1) and what is left to it. */
typedef struct slope {
    unsigned bin;
    double left; /* tangent of the angle from the bin's own, |left| <= 1/4 */
} slope;

/* of the point (long_side, short_side), 0 <= short_side <= long_side. */
static inline slope slope_of(double short_side, double long_side) {
    if (long_side == 0) return (slope){0, 0};
    if (long_side == INFINITY) return (slope){short_side == INFINITY ? 2 : 0, 0};

    /* keeps the sums finite and the halves exact */
    double scale = long_side > 0x1p1000 ? 0x1p-60 : long_side < 0x1p-900 ? 0x1p60 : 1;
    short_side *= scale;
    long_side *= scale;
    unsigned bin = (unsigned)(short_side >= 0.25 * long_side) + (unsigned)(short_side >= 0.75 * long_side);
    double c = 0.5 * bin;
    return (slope){bin, (short_side - c * long_side) / (long_side + c * short_side)};
}

double bf_atan2(double y, double x) {
    if (x != x || y != y) return NAN;
    bool is_steep = fabs(y) > fabs(x), is_behind = is_minus(x);
    slope s = is_steep ? slope_of(fabs(x), fabs(y)) : slope_of(fabs(y), fabs(x));

    unsigned base = 3 * (2 * (unsigned)is_behind + (unsigned)is_steep) + s.bin;
    double left = atan_near_zero(is_steep == is_behind ? s.left : -s.left);
    return with_sign_of(angle_head[base] + (left + angle_tail[base]), y);
}

double bf_atan(double x) {
    return bf_atan2(x, 1);
}

double bf_asin(double x) {
    return bf_atan2(x, sqrt((1 - x) * (1 + x)));
}

double bf_acos(double x) {
    return bf_atan2(sqrt((1 - x) * (1 + x)), x);
}

double bf_hypot(double x, double y) {
    double a = fabs(x), b = fabs(y), most = a > b ? a : b;
    if (a == INFINITY || b == INFINITY) return INFINITY;
    if (most > 0x1p500) return 0x1p600 * sqrt(a * 0x1p-600 * (a * 0x1p-600) + b * 0x1p-600 * (b * 0x1p-600));
    if (most < 0x1p-450) return 0x1p-600 * sqrt(a * 0x1p600 * (a * 0x1p600) + b * 0x1p600 * (b * 0x1p600));
    return sqrt(a * a + b * b);
}
