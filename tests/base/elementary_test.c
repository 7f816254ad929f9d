/* elementary_test.c -- every elementary function against MPFR, and what C17 annex F says about the special
 * cases.
 *
 * Oracle: GNU MPFR at 100 bits (L. Fousse et al., "MPFR", ACM TOMS 33(2), 2007). Each function is measured on
 * 2e5 random arguments and on all its branch edges with three neighbours to either side; BF_LONG=1 in the
 * environment makes it 1e7. The largest error found is printed.
 */
#include <float.h>
#include <stdbool.h>

#include <mpfr.h>

#include "baitfall/elementary.h"
#include "baitfall/random.h"
#include "common/check.h"

#define PRECISION_BITS 100
#define N_NEIGHBOURS 3
#define SEED 20260412u

static uint64_t n_random(void) {
    const char *is_long = getenv("BF_LONG");
    return (uint64_t)check_samples(is_long && is_long[0] == '1' ? 10000000 : 200000);
}

static double of_bits(uint64_t bits) {
    double x;
    memcpy(&x, &bits, sizeof x);
    return x;
}

static bool same_bits(double a, double b) {
    return memcmp(&a, &b, sizeof a) == 0;
}

/* ---- measuring --------------------------------------------------------------------------------------------
 */

/* Distance of `got` from `exact` in units of the last place a double has there. Infinity counts as 2^1024. */
static double ulps_off(double got, mpfr_t exact) {
    if (isnan(got) || mpfr_nan_p(exact)) return isnan(got) && mpfr_nan_p(exact) ? 0 : INFINITY;

    static mpfr_t limit, off; /* made once: the many small allocations would be most of the work */
    static bool are_made;
    if (!are_made) mpfr_inits2(PRECISION_BITS, limit, off, (mpfr_ptr)0);
    are_made = true;
    mpfr_set_ui_2exp(limit, 1, 1024, MPFR_RNDN);
    if (mpfr_cmpabs(exact, limit) > 0) mpfr_setsign(exact, limit, mpfr_signbit(exact), MPFR_RNDN);
    if (isinf(got))
        mpfr_setsign(off, limit, got < 0, MPFR_RNDN);
    else
        mpfr_set_d(off, got, MPFR_RNDN);

    mpfr_exp_t last_place = mpfr_zero_p(exact) ? -1074 : mpfr_get_exp(exact) - 53;
    if (last_place < -1074) last_place = -1074;
    mpfr_sub(off, off, exact, MPFR_RNDN);
    mpfr_mul_2si(off, off, -last_place, MPFR_RNDN);
    return fabs(mpfr_get_d(off, MPFR_RNDN));
}

/* One function under measurement and the worst that was found. */
typedef struct measured {
    const char *claim;
    double (*ours_1)(double);
    int (*exact_1)(mpfr_t, const mpfr_t, mpfr_rnd_t);
    double (*ours_2)(double, double);
    int (*exact_2)(mpfr_t, const mpfr_t, const mpfr_t, mpfr_rnd_t);
    void (*edges)(struct measured *m);
    double most_ulps;
    double least, most;         /* the domain                                                        */
    double busy_low, busy_high; /* half of the arguments are uniform over this, half over all bits    */
    double busy_2_low, busy_2_high;
    double worst_ulps, worst_x, worst_y;
    uint64_t n;
} measured;

static void measure(measured *m, double x, double y) {
    if (!(x >= m->least && x <= m->most)) return;
    if (x == 0 && m->least == 0) x = 0; /* a domain that starts at 0 has no -0 of its own */
    static mpfr_t exact, exact_x, exact_y;
    static bool are_made;
    if (!are_made) mpfr_inits2(PRECISION_BITS, exact, exact_x, exact_y, (mpfr_ptr)0);
    are_made = true;
    mpfr_set_d(exact_x, x, MPFR_RNDN);
    mpfr_set_d(exact_y, y, MPFR_RNDN);
    if (m->exact_1)
        m->exact_1(exact, exact_x, MPFR_RNDN);
    else
        m->exact_2(exact, exact_x, exact_y, MPFR_RNDN);
    double ulps = ulps_off(m->exact_1 ? m->ours_1(x) : m->ours_2(x, y), exact);

    m->n++;
    if (ulps > m->worst_ulps) {
        m->worst_ulps = ulps;
        m->worst_x = x;
        m->worst_y = y;
    }
}

/* x, its neighbours and all their negatives; the second argument stays. */
static void measure_near(measured *m, double x, double y) {
    double up = x, down = x;
    for (int i = 0; i <= N_NEIGHBOURS; i++) {
        measure(m, up, y);
        measure(m, -up, y);
        measure(m, down, y);
        measure(m, -down, y);
        up = nextafter(up, INFINITY);
        down = nextafter(down, -INFINITY);
    }
}

/* Any finite double: every bit pattern is as likely as any other. */
static double any_finite(uint64_t stream, uint64_t index) {
    bf_philox_block b = bf_philox(SEED, stream, index);
    double x = of_bits((uint64_t)b.word[1] << 32 | b.word[0]);
    return isfinite(x) ? x : 1.5;
}

static double between(double low, double high, uint64_t stream, uint64_t index) {
    return low + (high - low) * bf_uniform(SEED, stream, index);
}

static void stays_within_its_ulps_of_mpfr(void **state) {
    measured *m = *state;
    const double everywhere[] = {0, DBL_TRUE_MIN, 0x1p-1050, DBL_MIN, 0x1p-500, 0x1p-54, 0x1p-27, 0.5, 1, 2,
                                 3, 40,           0x1p53,    0x1p500, 0x1p1000, DBL_MAX};
    for (size_t i = 0; i < sizeof everywhere / sizeof *everywhere; i++)
        for (size_t j = 0; j < (m->exact_2 ? sizeof everywhere / sizeof *everywhere : 1); j++) {
            measure_near(m, everywhere[i], everywhere[j]);
            if (m->exact_2) measure_near(m, everywhere[i], -everywhere[j]);
        }
    if (m->edges) m->edges(m);

    for (uint64_t i = 0; i < n_random(); i++) {
        if (i % 2)
            measure(m, between(m->busy_low, m->busy_high, 1, i),
                    between(m->busy_2_low, m->busy_2_high, 2, i));
        else {
            double x = any_finite(3, i);
            if (!(x >= m->least && x <= m->most)) x = fmod(x, m->most);
            measure(m, x < m->least ? -x : x, any_finite(4, i));
        }
    }
    print_message("%s: at most %.3f ulp in %llu arguments (at %a, %a)\n", m->claim, m->worst_ulps,
                  (unsigned long long)m->n, m->worst_x, m->worst_y);
    assert_true(m->n > n_random() / 2);
    BF_CHECK_IN(m->worst_ulps, 0, m->most_ulps);
}

/* ---- branch edges -----------------------------------------------------------------------------------------
 */

/* exp and its kin: where the whole multiple of ln 2 changes, overflow, underflow. */
static void exp_edges(measured *m) {
    for (int k = -1080; k <= 1030; k++) {
        measure_near(m, k * 0.6931471805599453, 0);
        measure_near(m, (k + 0.5) * 0.6931471805599453, 0);
    }
    const double edges[] = {709.782712893384,
                            710.4758600739439,
                            745.1332191019411,
                            744.4400719213812,
                            708.3964185322641,
                            800,
                            22,
                            20,
                            36.7};
    for (size_t i = 0; i < sizeof edges / sizeof *edges; i++) measure_near(m, edges[i], 0);
}

/* log: every edge of the 64 bins in several octaves, powers of two and of ten. */
static void log_edges(measured *m) {
    const int octaves[] = {-1074, -1060, -1023, -1022, -500, -53, -2, -1, 0, 1, 2, 52, 53, 500, 1022};
    for (size_t o = 0; o < sizeof octaves / sizeof *octaves; o++)
        for (int i = 0; i < 256; i++) measure_near(m, ldexp(1 + i / 256.0, octaves[o]), 0);
    for (int k = -1074; k <= 1023; k++) {
        measure_near(m, ldexp(1, k), 0);
        measure_near(m, 1 + ldexp(1, k), 0);
        measure_near(m, 1 - ldexp(1, k), 0);
    }
    for (int k = -307; k <= 308; k++) measure_near(m, pow(10, k), 0);
}

static void log1p_edges(measured *m) {
    for (int k = -1074; k <= 1023; k++) measure_near(m, ldexp(1, k), 0);
    for (int i = -255; i < 512; i++) measure_near(m, i / 256.0, 0);
}

/* sin and its kin: the double nearest to every multiple of pi/4 up to 1e5; there cancellation is worst. */
static void turn_edges(measured *m) {
    mpfr_t eighth;
    mpfr_init2(eighth, 200);
    for (unsigned k = 0; k <= 127324; k++) {
        mpfr_const_pi(eighth, MPFR_RNDN);
        mpfr_mul_ui(eighth, eighth, k, MPFR_RNDN);
        mpfr_div_ui(eighth, eighth, 4, MPFR_RNDN);
        double x = mpfr_get_d(eighth, MPFR_RNDN);
        measure(m, x, 0);
        measure(m, -x, 0);
    }
    mpfr_clear(eighth);
    measure_near(m, 1e5, 0);
}

static void unit_edges(measured *m) {
    for (int k = 1; k <= 1074; k++) {
        measure_near(m, ldexp(1, -k), 0);
        measure_near(m, 1 - ldexp(1, -k), 0);
    }
    for (int i = 0; i <= 1024; i++) measure_near(m, i / 256.0, 0);
}

/* atan2: the edges of the three bins in every octant and at very large and small sizes. */
static void atan2_edges(measured *m) {
    const double slopes[] = {0, 0.125, 0.25, 0.5, 0.75, 1, 4.0 / 3, 2, 4, 8, 0x1p60, 0x1p1000};
    const double sizes[] = {DBL_TRUE_MIN, 0x1p-1030, DBL_MIN, 0x1p-900, 0x1p-60, 1,
                            1.5,          3,         0x1p60,  0x1p1000, 0x1p1023};
    for (size_t s = 0; s < sizeof slopes / sizeof *slopes; s++)
        for (size_t z = 0; z < sizeof sizes / sizeof *sizes; z++) {
            if (!isfinite(slopes[s] * sizes[z])) continue;
            measure_near(m, slopes[s] * sizes[z], sizes[z]);
            measure_near(m, slopes[s] * sizes[z], -sizes[z]);
        }
}

/* pow near 1 to large powers, results near overflow and underflow, whole and half powers. */
static void pow_edges(measured *m) {
    for (int k = 1; k <= 60; k++)
        for (double result = -1074; result <= 1025; result += 11.7) {
            double size = ldexp(1 + bf_uniform(SEED, 10, (uint64_t)k), -k), up = 1 + size, down = 1 - size;
            if (up > 1) measure_near(m, up, result * 0.6931471805599453 / log(up));
            if (down < 1) measure_near(m, down, result * 0.6931471805599453 / log(down));
            measure_near(m, 1 + ldexp(1, -k), ldexp(result * 0.6931471805599453, k));
            measure_near(m, 1 - ldexp(1, -k - 1), ldexp(result * 0.6931471805599453, k + 1));
        }
    for (int i = 1; i < 256; i++)
        for (double y = -3; y <= 3; y += 0.25) measure_near(m, i / 16.0, y);
    for (uint64_t i = 0; i < 20000; i++) {
        double x = fabs(any_finite(5, i)), result = between(-1100, 1100, 6, i);
        if (x != 0 && x != 1) measure(m, x, result * 0.6931471805599453 / log(x));
    }
}

static void hypot_edges(measured *m) {
    const double scales[] = {0x1p-1074, 0x1p-1022, 0x1p-600, 0x1p-450, 0x1p-449,
                             1,         0x1p499,   0x1p500,  0x1p501,  0x1p1020};
    for (size_t i = 0; i < sizeof scales / sizeof *scales; i++)
        for (double ratio = 0; ratio <= 4; ratio += 0.125) measure_near(m, scales[i], scales[i] * ratio);
}

/* MPFR wants atan2(y, x) in the order of C: x of `measure` is y here. */
#define ONE(f) .ours_1 = bf_##f, .exact_1 = mpfr_##f
#define TWO(f) .ours_2 = bf_##f, .exact_2 = mpfr_##f

static measured functions[] = {
    {"exp_is_within_2_ulp", ONE(exp), .edges = exp_edges, .most_ulps = 2, .least = -DBL_MAX, .most = DBL_MAX,
     .busy_low = -750, .busy_high = 715},
    {"expm1_is_within_2_ulp", ONE(expm1), .edges = exp_edges, .most_ulps = 2, .least = -DBL_MAX,
     .most = DBL_MAX, .busy_low = -3, .busy_high = 3},
    {"log_is_within_2_ulp", ONE(log), .edges = log_edges, .most_ulps = 2, .least = 0, .most = DBL_MAX,
     .busy_low = 0.25, .busy_high = 4},
    {"log1p_is_within_2_ulp", ONE(log1p), .edges = log1p_edges, .most_ulps = 2, .least = -1, .most = DBL_MAX,
     .busy_low = -1, .busy_high = 3},
    {"sin_is_within_2_ulp", ONE(sin), .edges = turn_edges, .most_ulps = 2, .least = -1e5, .most = 1e5,
     .busy_low = -10, .busy_high = 1e5},
    {"cos_is_within_2_ulp", ONE(cos), .edges = turn_edges, .most_ulps = 2, .least = -1e5, .most = 1e5,
     .busy_low = -10, .busy_high = 1e5},
    {"atan2_is_within_4_ulp", TWO(atan2), .edges = atan2_edges, .most_ulps = 4, .least = -DBL_MAX,
     .most = DBL_MAX, .busy_low = -2, .busy_high = 2, .busy_2_low = -2, .busy_2_high = 2},
    {"tan_is_within_4_ulp", ONE(tan), .edges = turn_edges, .most_ulps = 4, .least = -1e5, .most = 1e5,
     .busy_low = -10, .busy_high = 10},
    {"atan_is_within_4_ulp", ONE(atan), .edges = unit_edges, .most_ulps = 4, .least = -DBL_MAX,
     .most = DBL_MAX, .busy_low = -5, .busy_high = 5},
    {"asin_is_within_4_ulp", ONE(asin), .edges = unit_edges, .most_ulps = 4, .least = -1, .most = 1,
     .busy_low = -1, .busy_high = 1},
    {"acos_is_within_4_ulp", ONE(acos), .edges = unit_edges, .most_ulps = 4, .least = -1, .most = 1,
     .busy_low = -1, .busy_high = 1},
    {"sinh_is_within_4_ulp", ONE(sinh), .edges = exp_edges, .most_ulps = 4, .least = -DBL_MAX,
     .most = DBL_MAX, .busy_low = -3, .busy_high = 3},
    {"cosh_is_within_4_ulp", ONE(cosh), .edges = exp_edges, .most_ulps = 4, .least = -DBL_MAX,
     .most = DBL_MAX, .busy_low = -3, .busy_high = 3},
    {"tanh_is_within_4_ulp", ONE(tanh), .edges = exp_edges, .most_ulps = 4, .least = -DBL_MAX,
     .most = DBL_MAX, .busy_low = -3, .busy_high = 3},
    {"log10_is_within_4_ulp", ONE(log10), .edges = log_edges, .most_ulps = 4, .least = 0, .most = DBL_MAX,
     .busy_low = 0.25, .busy_high = 4},
    {"cbrt_is_within_4_ulp", ONE(cbrt), .edges = log_edges, .most_ulps = 4, .least = -DBL_MAX,
     .most = DBL_MAX, .busy_low = -8, .busy_high = 8},
    {"pow_is_within_4_ulp", TWO(pow), .edges = pow_edges, .most_ulps = 4, .least = 0, .most = DBL_MAX,
     .busy_low = 0, .busy_high = 10, .busy_2_low = -300, .busy_2_high = 300},
    {"hypot_is_within_4_ulp", TWO(hypot), .edges = hypot_edges, .most_ulps = 4, .least = -DBL_MAX,
     .most = DBL_MAX, .busy_low = -1, .busy_high = 1, .busy_2_low = -1, .busy_2_high = 1},
};

/* ---- special cases: C17 annex F.10, except that pow takes no negative base --------------------------------
 */

typedef struct special_1 {
    double (*f)(double);
    double x, want;
} special_1;

static void one_argument_special_cases_follow_annex_f(void **state) {
    (void)state;
    const double inf = INFINITY, pi = 0x1.921fb54442d18p1;
    const special_1 rows[] = {
        {bf_exp, inf, inf},     {bf_exp, -inf, 0},        {bf_exp, 0, 1},           {bf_exp, -0.0, 1},
        {bf_exp, 1e308, inf},   {bf_exp, -1e308, 0},      {bf_exp, NAN, NAN},       {bf_expm1, inf, inf},
        {bf_expm1, -inf, -1},   {bf_expm1, -0.0, -0.0},   {bf_expm1, 0, 0},         {bf_expm1, NAN, NAN},
        {bf_log, inf, inf},     {bf_log, 0, -inf},        {bf_log, -0.0, -inf},     {bf_log, -1, NAN},
        {bf_log, -inf, NAN},    {bf_log, 1, 0},           {bf_log, NAN, NAN},       {bf_log1p, inf, inf},
        {bf_log1p, -1, -inf},   {bf_log1p, -2, NAN},      {bf_log1p, -0.0, -0.0},   {bf_log1p, NAN, NAN},
        {bf_log10, 0, -inf},    {bf_log10, inf, inf},     {bf_log10, -1, NAN},      {bf_log10, NAN, NAN},
        {bf_sin, -0.0, -0.0},   {bf_sin, 0, 0},           {bf_sin, 100000.1, NAN},  {bf_sin, inf, NAN},
        {bf_sin, NAN, NAN},     {bf_cos, 0, 1},           {bf_cos, -100000.1, NAN}, {bf_cos, -inf, NAN},
        {bf_cos, NAN, NAN},     {bf_tan, -0.0, -0.0},     {bf_tan, inf, NAN},       {bf_tan, NAN, NAN},
        {bf_atan, inf, pi / 2}, {bf_atan, -inf, -pi / 2}, {bf_atan, -0.0, -0.0},    {bf_atan, NAN, NAN},
        {bf_asin, -0.0, -0.0},  {bf_asin, 1, pi / 2},     {bf_asin, -1, -pi / 2},   {bf_asin, 1.5, NAN},
        {bf_asin, inf, NAN},    {bf_asin, NAN, NAN},      {bf_acos, 1, 0},          {bf_acos, -1, pi},
        {bf_acos, -1.5, NAN},   {bf_acos, NAN, NAN},      {bf_sinh, -0.0, -0.0},    {bf_sinh, -inf, -inf},
        {bf_sinh, NAN, NAN},    {bf_cosh, 0, 1},          {bf_cosh, -inf, inf},     {bf_cosh, NAN, NAN},
        {bf_tanh, -0.0, -0.0},  {bf_tanh, inf, 1},        {bf_tanh, -inf, -1},      {bf_tanh, NAN, NAN},
        {bf_cbrt, -0.0, -0.0},  {bf_cbrt, -inf, -inf},    {bf_cbrt, -27, -3},       {bf_cbrt, NAN, NAN},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        double got = rows[i].f(rows[i].x);
        if (isnan(rows[i].want) ? isnan(got) : same_bits(got, rows[i].want)) continue;
        fail_msg("row %zu: f(%g) = %a, want %a", i, rows[i].x, got, rows[i].want);
    }
}

typedef struct special_2 {
    double (*f)(double, double);
    double x, y, want;
} special_2;

static void two_argument_special_cases_follow_annex_f(void **state) {
    (void)state;
    const double inf = INFINITY, pi = 0x1.921fb54442d18p1;
    const special_2 rows[] = {
        {bf_atan2, 0, 0, 0},
        {bf_atan2, -0.0, 0, -0.0},
        {bf_atan2, 0, -0.0, pi},
        {bf_atan2, -0.0, -0.0, -pi},
        {bf_atan2, 0, -1, pi},
        {bf_atan2, -0.0, 1, -0.0},
        {bf_atan2, 1, 0, pi / 2},
        {bf_atan2, -1, -0.0, -pi / 2},
        {bf_atan2, 1, inf, 0},
        {bf_atan2, 1, -inf, pi},
        {bf_atan2, -1, -inf, -pi},
        {bf_atan2, inf, 1, pi / 2},
        {bf_atan2, inf, inf, pi / 4},
        {bf_atan2, -inf, inf, -pi / 4},
        {bf_atan2, inf, -inf, 0x1.2d97c7f3321d2p1},
        {bf_atan2, NAN, 1, NAN},
        {bf_atan2, 1, NAN, NAN},
        {bf_atan2, -inf, -inf, -0x1.2d97c7f3321d2p1},
        {bf_pow, 0, 0, 1},
        {bf_pow, NAN, 0, 1},
        {bf_pow, 1, NAN, 1},
        {bf_pow, 0, 2, 0},
        {bf_pow, 0, -2, inf},
        {bf_pow, -0.0, 2, 0},
        {bf_pow, -2, 2, NAN},
        {bf_pow, -inf, 2, NAN},
        {bf_pow, -2, 0, 1},
        {bf_pow, inf, 2, inf},
        {bf_pow, inf, -2, 0},
        {bf_pow, 2, inf, inf},
        {bf_pow, 2, -inf, 0},
        {bf_pow, 0.5, inf, 0},
        {bf_pow, 0.5, -inf, inf},
        {bf_pow, 0, inf, 0},
        {bf_pow, inf, -inf, 0},
        {bf_pow, 1, inf, 1},
        {bf_pow, NAN, 1, NAN},
        {bf_pow, 2, NAN, NAN},
        {bf_pow, 2, 1e300, inf},
        {bf_pow, 2, -1e300, 0},
        {bf_pow, 3, 4, 81},
        {bf_pow, 2, -1074, DBL_TRUE_MIN},
        {bf_hypot, inf, NAN, inf},
        {bf_hypot, NAN, -inf, inf},
        {bf_hypot, NAN, 1, NAN},
        {bf_hypot, 0, -0.0, 0},
        {bf_hypot, 3, -4, 5},
        {bf_hypot, DBL_MAX, DBL_MAX, inf},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        double got = rows[i].f(rows[i].x, rows[i].y);
        if (isnan(rows[i].want) ? isnan(got) : same_bits(got, rows[i].want)) continue;
        fail_msg("row %zu: f(%g, %g) = %a, want %a", i, rows[i].x, rows[i].y, got, rows[i].want);
    }
}

/* ---- properties -------------------------------------------------------------------------------------------
 */

static void log10_of_a_power_of_ten_is_whole(void **state) {
    (void)state;
    double x = 1;
    for (int k = 0; k <= 22; k++, x *= 10)
        assert_true(same_bits(bf_log10(x), k)); /* 10^22 is the last exact one */
}

static void sin_and_tan_are_odd_and_cos_is_even(void **state) {
    (void)state;
    for (uint64_t i = 0; i < 10000; i++) {
        double x = between(0, 1e5, 7, i);
        assert_true(same_bits(bf_sin(-x), -bf_sin(x)));
        assert_true(same_bits(bf_tan(-x), -bf_tan(x)));
        assert_true(same_bits(bf_cos(-x), bf_cos(x)));
    }
}

/* 64-bit FNV-1a over the bits of many results. Compiler, optimisation and wasm must not change it. The
 * constant was written down from the first build (gcc 12, -O2); it says "the same everywhere", the accuracy
 * is measured above. */
static void results_have_the_same_bits_in_every_build(void **state) {
    (void)state;
    uint64_t hash = UINT64_C(0xcbf29ce484222325);
    for (uint64_t i = 0; i < 20000; i++)
        for (size_t f = 0; f < sizeof functions / sizeof *functions; f++) {
            const measured *m = &functions[f];
            double x = between(m->busy_low, m->busy_high, 8, i),
                   y = between(m->busy_2_low, m->busy_2_high, 9, i);
            double result = m->ours_1 ? m->ours_1(x) : m->ours_2(x, y);
            uint64_t bits;
            memcpy(&bits, &result, sizeof bits);
            assert_true(!isnan(result));
            hash = (hash ^ bits) * UINT64_C(0x100000001b3);
        }
    assert_int_equal(hash, UINT64_C(0xf85ca2ca19e4f3ef));
}

int main(void) {
    enum { N_FUNCTIONS = sizeof functions / sizeof *functions };
    struct CMUnitTest tests[N_FUNCTIONS + 5] = {0};
    for (size_t i = 0; i < N_FUNCTIONS; i++)
        tests[i] =
            (struct CMUnitTest){functions[i].claim, stays_within_its_ulps_of_mpfr, NULL, NULL, &functions[i]};

    const struct CMUnitTest others[] = {
        cmocka_unit_test(one_argument_special_cases_follow_annex_f),
        cmocka_unit_test(two_argument_special_cases_follow_annex_f),
        cmocka_unit_test(log10_of_a_power_of_ten_is_whole),
        cmocka_unit_test(sin_and_tan_are_odd_and_cos_is_even),
        cmocka_unit_test(results_have_the_same_bits_in_every_build),
    };
    memcpy(tests + N_FUNCTIONS, others, sizeof others);
    return cmocka_run_group_tests_name("elementary", tests, NULL, NULL);
}
