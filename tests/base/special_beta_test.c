/* special_beta_test.c -- the beta distribution and its quantile.
 *
 * Oracles: the power series at 1400 bits (special_oracle.h); gsl_cdf_beta_P and _Pinv (GNU Scientific Library 2.7), and
 * where GSL and we differ by more than 1e-12 the series decides.
 */
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_randist.h>

#include "baitfall/random.h"
#include "baitfall/special.h"
#include "base/special_oracle.h"
#include "common/check.h"

/* Points for one pair: about the mean, near 0 (k 6..8), near 1 (k 9..11); 1 - x is exact near 1. */
static double point(double a, double b, int k, uint64_t pair) {
    double mean = a / (a + b), sd = sqrt(a * b / (a + b + 1)) / (a + b),
           u = bf_uniform(SEED, (uint64_t)k, pair);
    return k < 6 ? mean + (k - 2.5) * 6 * sd * u : k < 9 ? pow(10, -10 * u) : 1 - pow(10, -10 * u);
}

/* I_x(a, b) by the series from the nearer end; NaN where it would take too long or 1 - x is not exact. */
static double long_series(double a, double b, double x) {
    double mean = a / (a + b), y = 1 - x;
    if (x <= 0.5 && x <= 2 * mean) return oracle_beta(a, b, x).lower;
    if (1 - y == x && y <= 0.5 && y <= 2 * (1 - mean)) return oracle_beta(b, a, y).upper;
    return x <= 0.9 ? oracle_beta(a, b, x).lower : NAN;
}

static void beta_equals_the_long_series(void **state) {
    (void)state;
    double worst = 0;
    int n = 0;
    for (size_t i = 0; i < N_SHAPES; i++)
        for (size_t j = 0; j < N_SHAPES; j++) {
            double a = shapes[i], b = shapes[j];
            int step = a > 5e3 || b > 5e3 ? 5 : 1;
            for (int k = 0; k < 12; k += step) {
                double x = point(a, b, k, i * N_SHAPES + j);
                if (!(x > 0 && x < 1)) continue;
                double want = long_series(a, b, x);
                if (!(want > TINY)) continue;
                worst = larger(worst, fabs(bf_beta_i(a, b, x) / want - 1));
                n++;
            }
        }
    print_message("beta: largest relative error %.2g at %d points\n", worst, n);
    BF_CHECK_IN(worst, 0, TOLERANCE);
    BF_CHECK_IN(n, 2500, INFINITY);
}

static void beta_equals_gsl_or_gsl_is_wrong(void **state) {
    (void)state;
    int n = 0, n_series = 0;
    for (size_t i = 0; i < N_SHAPES; i++)
        for (size_t j = 0; j < N_SHAPES; j++)
            for (int k = 0; k < 8; k++) {
                double a = shapes[i], b = shapes[j], mean = a / (a + b),
                       sd = sqrt(mean * (1 - mean) / (a + b + 1));
                double x = mean + 8 * sd * (bf_uniform(SEED, 20, (i * N_SHAPES + j) * 8 + (uint64_t)k) - 0.5);
                if (!(x > 0 && x < 1)) continue;
                double got = bf_beta_i(a, b, x), gsl = gsl_cdf_beta_P(x, a, b);
                n++;
                if (fabs(got - gsl) <= TOLERANCE * gsl) continue;
                n_series++;
                if ((a > 5e3 || b > 5e3) && k != 4) continue; /* the series is slow there */
                double want = long_series(a, b, x);
                if (want == want) BF_CHECK_REL(got, want, TOLERANCE);
            }
    print_message("beta: %d of %d points went to the series, GSL being off by more than 1e-12\n", n_series,
                  n);
    BF_CHECK_IN(n - n_series, n / 4, n); /* GSL bears out a good part of them */
}

/* I_x(a, b) = 1 - I_{1-x}(b, a);  I_x(a, 1) = x^a;  I_x(1/2, 1/2) = 2/pi asin(sqrt x). */
static void beta_keeps_its_identities(void **state) {
    (void)state;
    for (uint64_t i = 0; i < 20000; i++) {
        double a = pow(10, -2 + 6 * bf_uniform(SEED, 21, i)), b = pow(10, -2 + 6 * bf_uniform(SEED, 22, i));
        double x = ldexp(floor(ldexp(bf_uniform(SEED, 23, i), 50)), -50);
        BF_CHECK_ABS(bf_beta_i(a, b, x) + bf_beta_i(b, a, 1 - x), 1, 1e-14);
        if (a < 100) BF_CHECK_REL(bf_beta_i(a, 1, x), pow(x, a), TOLERANCE);
        BF_CHECK_ABS(bf_beta_i(0.5, 0.5, x), asin(sqrt(x)) / asin(1), TOLERANCE);
    }
}

/* The quantile's own error is |I(x) - p| / density, beside x below the median and absolute near 1. */
static void beta_quantile_undoes_the_series(void **state) {
    (void)state;
    double worst = 0;
    int n = 0;
    const double ps[] = {1e-200, 1e-20, 1e-6, 0.025, 0.1, 0.5, 0.9, 0.975, 1 - 1e-9};
    for (size_t i = 4; i < N_SHAPES; i++) /* shapes from 0.1 */
        for (size_t j = 4; j < N_SHAPES; j++)
            for (size_t k = 0; k < sizeof ps / sizeof *ps; k++) {
                double a = shapes[i], b = shapes[j], x = bf_beta_quantile(a, b, ps[k]);
                if ((a > 5e3 || b > 5e3) && (i + j + k) % 7) continue;
                if (!(x > TINY && x < 0.999)) continue;
                double off = fabs(long_series(a, b, x) - ps[k]), density = gsl_ran_beta_pdf(x, a, b);
                if (!(off == off && density > TINY)) continue;
                worst = larger(worst, off / (density * x));
                n++;
            }
    print_message("beta quantile: largest relative error %.2g at %d points\n", worst, n);
    BF_CHECK_IN(worst, 0, TOLERANCE);
    BF_CHECK_IN(n, 1500, INFINITY);
}

static void beta_quantile_is_undone_by_beta(void **state) {
    (void)state;
    for (uint64_t i = 0; i < 20000; i++) {
        double a = pow(10, -1 + 5 * bf_uniform(SEED, 24, i)), b = pow(10, -1 + 5 * bf_uniform(SEED, 25, i));
        double p = bf_uniform(SEED, 26, i), x = bf_beta_quantile(a, b, p);
        /* x is a double: one last place of it moves I by density x 2^-53 */
        double tolerance = 1e-13 + 2.3e-16 * x * gsl_ran_beta_pdf(x, a, b);
        if (x < 1 - 1e-12) BF_CHECK_ABS(bf_beta_i(a, b, x), p, tolerance);
    }
}

static void beta_quantile_equals_gsl(void **state) {
    (void)state;
    double worst = 0;
    for (uint64_t i = 0; i < 3000; i++) {
        double a = pow(10, -0.3 + 2.5 * bf_uniform(SEED, 27, i)),
               b = pow(10, -0.3 + 2.5 * bf_uniform(SEED, 28, i));
        double p = bf_uniform(SEED, 29, i);
        worst = larger(worst, fabs(bf_beta_quantile(a, b, p) / gsl_cdf_beta_Pinv(p, a, b) - 1));
    }
    print_message("beta quantile: largest difference from GSL %.2g\n", worst);
    BF_CHECK_IN(worst, 0, 1e-6); /* GSL's own error; the series above decides at 1e-12 */
}

static void beta_quantile_rises_with_p(void **state) {
    (void)state;
    for (size_t i = 0; i < N_SHAPES; i += 3)
        for (size_t j = 0; j < N_SHAPES; j += 3) {
            double before = 0;
            for (int k = 1; k < 100; k++) {
                double x = bf_beta_quantile(shapes[i], shapes[j], k / 100.0);
                assert_true(x >= before && x <= 1);
                before = x;
            }
        }
}

static void header_values_hold(void **state) {
    (void)state;
    BF_CHECK_ABS(bf_beta_i(9, 6, 4.5 / 9.5), 0.158741908543115, 1e-14);
    BF_CHECK_ABS(bf_beta_quantile(1.5, 3.5, 0.5), 0.271806742602785, 1e-14);
    BF_CHECK_REL(bf_beta_quantile(2, 1, 0.25), 0.5, 1e-15); /* I = x^2 */
}

static void ends_and_nonsense_are_answered_as_the_header_says(void **state) {
    (void)state;
    assert_true(bf_beta_i(2, 3, 0) == 0 && bf_beta_i(2, 3, 1) == 1);
    assert_true(bf_beta_quantile(2, 3, 0) == 0 && bf_beta_quantile(2, 3, 1) == 1);
    const double bad[] = {0, -1, INFINITY, NAN};
    for (size_t i = 0; i < 4; i++) {
        assert_true(isnan(bf_beta_i(bad[i], 1, 0.5)) && isnan(bf_beta_i(1, bad[i], 0.5)));
        assert_true(isnan(bf_beta_quantile(bad[i], 1, 0.5)) && isnan(bf_beta_quantile(1, bad[i], 0.5)));
    }
    assert_true(isnan(bf_beta_i(1, 1, -0.1)) && isnan(bf_beta_i(1, 1, 1.1)) && isnan(bf_beta_i(1, 1, NAN)));
    assert_true(isnan(bf_beta_quantile(1, 1, -0.1)) && isnan(bf_beta_quantile(1, 1, NAN)));
}

int main(void) {
    gsl_set_error_handler_off();
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(beta_equals_the_long_series),
        cmocka_unit_test(beta_equals_gsl_or_gsl_is_wrong),
        cmocka_unit_test(beta_keeps_its_identities),
        cmocka_unit_test(beta_quantile_undoes_the_series),
        cmocka_unit_test(beta_quantile_is_undone_by_beta),
        cmocka_unit_test(beta_quantile_equals_gsl),
        cmocka_unit_test(beta_quantile_rises_with_p),
        cmocka_unit_test(header_values_hold),
        cmocka_unit_test(ends_and_nonsense_are_answered_as_the_header_says),
    };
    return cmocka_run_group_tests_name("special_beta", tests, NULL, NULL);
}
