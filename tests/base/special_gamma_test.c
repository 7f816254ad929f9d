/* special_gamma_test.c -- log gamma, its slopes, the gamma distribution and its quantile.
 *
 * Oracles: MPFR's lngamma and digamma at 300 bits (trigamma: a central difference of digamma, step 2^-60); the power
 * series at 1400 bits (special_oracle.h); gsl_cdf_gamma_P, _Q, _Pinv and gsl_cdf_chisq_Q (GNU Scientific Library 2.7).
 * Where GSL and we differ by more than 1e-12 the series decides.
 */
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_randist.h>

#include "baitfall/elementary.h"
#include "baitfall/random.h"
#include "baitfall/special.h"
#include "base/special_oracle.h"
#include "common/check.h"

static double mpfr_of(int (*f)(mpfr_t, const mpfr_t, mpfr_rnd_t), double x) {
    mpfr_t v;
    mpfr_init2(v, 300);
    mpfr_set_d(v, x, MPFR_RNDN);
    f(v, v, MPFR_RNDN);
    double answer = mpfr_get_d(v, MPFR_RNDN);
    mpfr_clear(v);
    return answer;
}

/* From 1e-3 to 1e6, every 0.02 %, and close to the zeros of log Gamma at 1 and 2. */
static double sweep(int i) {
    if (i < 100000) return 1e-3 * pow(10, 9 * i / 1e5);
    double off = pow(10, -15 * bf_uniform(SEED, 1, (uint64_t)i));
    return i % 4 == 0 ? 1 + off : i % 4 == 1 ? 1 - 0.5 * off : i % 4 == 2 ? 2 + off : 2 - 0.5 * off;
}

static void log_gamma_equals_mpfr(void **state) {
    (void)state;
    double worst = 0;
    for (int i = 0; i < 104000; i += i < 100000 ? 5 : 1) {
        double x = sweep(i), want = mpfr_of(mpfr_lngamma, x);
        worst = larger(worst, fabs(bf_log_gamma(x) - want) / larger(fabs(want), i < 100000 ? 1 : 0));
    }
    print_message("log gamma: largest error %.2g\n", worst);
    BF_CHECK_IN(worst, 0, TOLERANCE);
}

static void log_gamma_step_equals_mpfr(void **state) {
    (void)state;
    double worst = 0;
    mpfr_t a, b;
    mpfr_inits2(300, a, b, (mpfr_ptr)0);
    for (size_t i = 0; i < N_SHAPES; i++)
        for (size_t j = 0; j < N_SHAPES; j++) {
            mpfr_set_d(a, shapes[i], MPFR_RNDN);
            mpfr_add_d(b, a, shapes[j], MPFR_RNDN);
            mpfr_lngamma(a, a, MPFR_RNDN);
            mpfr_lngamma(b, b, MPFR_RNDN);
            mpfr_sub(b, b, a, MPFR_RNDN);
            double want = mpfr_get_d(b, MPFR_RNDN), got = bf_log_gamma_step(shapes[i], shapes[j]);
            worst = larger(worst, fabs(got - want) / larger(fabs(want), larger(1e-3, shapes[j])));
        }
    mpfr_clears(a, b, (mpfr_ptr)0);
    print_message("log gamma step: largest error %.2g\n", worst);
    BF_CHECK_IN(worst, 0, TOLERANCE);
}

static void log_beta_is_symmetric_and_known(void **state) {
    (void)state;
    BF_CHECK_REL(bf_log_beta(2, 3), -log(12), 1e-15);
    BF_CHECK_REL(bf_log_beta(0.5, 0.5), log(BF_PI), 1e-15);
    for (size_t i = 0; i < N_SHAPES; i++)
        for (size_t j = 0; j < N_SHAPES; j++)
            assert_true(bf_log_beta(shapes[i], shapes[j]) == bf_log_beta(shapes[j], shapes[i]));
}

static void digamma_equals_mpfr(void **state) {
    (void)state;
    double worst = 0;
    for (int i = 0; i < 100000; i += 5) {
        double x = sweep(i), want = mpfr_of(mpfr_digamma, x);
        worst = larger(worst, fabs(bf_digamma(x) - want) / larger(fabs(want), 1));
    }
    print_message("digamma: largest error %.2g\n", worst);
    BF_CHECK_IN(worst, 0, TOLERANCE);
}

static void trigamma_equals_the_slope_of_mpfr_digamma(void **state) {
    (void)state;
    double worst = 0;
    mpfr_t a, b;
    mpfr_inits2(300, a, b, (mpfr_ptr)0);
    for (int i = 0; i < 100000; i += 25) {
        double x = sweep(i);
        mpfr_set_d(a, 0x1p-60, MPFR_RNDN);
        mpfr_add_d(b, a, x, MPFR_RNDN);
        mpfr_d_sub(a, x, a, MPFR_RNDN);
        mpfr_digamma(a, a, MPFR_RNDN);
        mpfr_digamma(b, b, MPFR_RNDN);
        mpfr_sub(b, b, a, MPFR_RNDN);
        mpfr_mul_d(b, b, 0x1p59, MPFR_RNDN);
        double want = mpfr_get_d(b, MPFR_RNDN);
        worst = larger(worst, fabs(bf_trigamma(x) / want - 1));
    }
    mpfr_clears(a, b, (mpfr_ptr)0);
    print_message("trigamma: largest error %.2g\n", worst);
    BF_CHECK_IN(worst, 0, TOLERANCE);
}

/* Points for one shape: 30 evenly over 35 sd either side of the mean, 30 over twelve decades. */
static double point(double shape, int k) {
    double u = bf_uniform(SEED, 2, (uint64_t)(shape * 1000) * 64 + (uint64_t)k);
    if (k < 30) return shape + (k - 15) * 2.3 * sqrt(shape);
    return shape < 100 ? pow(10, -12 + 14.8 * u) : shape * (1 + (u - 0.5) * 8 / sqrt(shape));
}

static void gamma_tails_equal_the_long_series(void **state) {
    (void)state;
    double worst = 0;
    for (size_t i = 0; i < N_SHAPES; i++)
        for (int k = 0; k<60; k += shapes[i]> 5e4 ? 5 : 1) {
            double x = point(shapes[i], k);
            if (!(x > 0)) continue;
            oracle_tails want = oracle_gamma(shapes[i], x);
            if (want.lower > TINY) worst = larger(worst, fabs(bf_gamma_p(shapes[i], x) / want.lower - 1));
            if (want.upper > TINY) worst = larger(worst, fabs(bf_gamma_q(shapes[i], x) / want.upper - 1));
        }
    print_message("gamma P, Q: largest relative error %.2g\n", worst);
    BF_CHECK_IN(worst, 0, TOLERANCE);
}

static void gamma_tails_equal_gsl_or_gsl_is_wrong(void **state) {
    (void)state;
    int n = 0, n_series = 0;
    for (size_t i = 0; i < N_SHAPES; i++)
        for (int k = 0; k < 400; k++) {
            double a = shapes[i], u = bf_uniform(SEED, 3, i * 400 + (uint64_t)k);
            double x = a * (1 + (u - 0.5) * 16 / sqrt(a));
            if (!(x > 0)) continue;
            double p = bf_gamma_p(a, x), q = bf_gamma_q(a, x);
            double gsl_p = gsl_cdf_gamma_P(x, a, 1), gsl_q = gsl_cdf_gamma_Q(x, a, 1);
            n++;
            if (fabs(p - gsl_p) <= TOLERANCE * gsl_p && fabs(q - gsl_q) <= TOLERANCE * gsl_q) continue;
            n_series++;
            if (a > 5e3 && k % 20) continue; /* the series is slow there */
            oracle_tails want = oracle_gamma(a, x);
            BF_CHECK_REL(p, want.lower, TOLERANCE);
            BF_CHECK_REL(q, want.upper, TOLERANCE);
        }
    print_message("gamma P, Q: %d of %d points went to the series, GSL being off by more than 1e-12\n",
                  n_series, n);
    BF_CHECK_IN(n - n_series, n / 4, n); /* GSL bears out a good part of them */
}

static void gamma_tails_add_to_one(void **state) {
    (void)state;
    for (uint64_t i = 0; i < 20000; i++) {
        double a = pow(10, -3 + 7 * bf_uniform(SEED, 4, i));
        double x = a * pow(10, (bf_uniform(SEED, 5, i) - 0.5) * 4 / (1 + sqrt(a)));
        BF_CHECK_ABS(bf_gamma_p(a, x) + bf_gamma_q(a, x), 1, 2e-15);
    }
}

/* The quantile's own error is |P(x) - p| / (x density), P from the series. */
static void gamma_quantile_undoes_the_series(void **state) {
    (void)state;
    double worst = 0, worst_small = 0;
    const double ps[] = {1e-290, 1e-100, 1e-20, 1e-9,  1e-3,  0.025,    0.1,        0.4999,
                         0.5,    0.5001, 0.9,   0.975, 0.999, 1 - 1e-9, 1 - 0x1p-53};
    for (size_t i = 0; i < N_SHAPES; i++)
        for (size_t k = 0; k < sizeof ps / sizeof *ps; k++) {
            double a = shapes[i], x = bf_gamma_quantile(a, ps[k]);
            if (a > 5e4 && k % 3) continue;
            if (x < TINY) { /* there P = x^a / Gamma(a + 1) */
                BF_CHECK_IN(a * log(TINY) - lgamma(a + 1), log(ps[k]), INFINITY);
                continue;
            }
            oracle_tails t = oracle_gamma(a, x);
            double off = ps[k] <= 0.5 ? t.lower - ps[k] : (1 - ps[k]) - t.upper;
            double relative = fabs(off) / (x * gsl_ran_gamma_pdf(x, a, 1));
            if (a < 0.1)
                worst_small = larger(worst_small, relative * a);
            else
                worst = larger(worst, relative);
        }
    print_message("gamma quantile: largest relative error %.2g; shapes below 0.1: %.2g / shape\n", worst,
                  worst_small);
    BF_CHECK_IN(worst, 0, TOLERANCE);
    BF_CHECK_IN(worst_small, 0, TOLERANCE);
}

static void gamma_quantile_equals_gsl(void **state) {
    (void)state;
    double worst = 0;
    for (uint64_t i = 0; i < 20000; i++) {
        double a = pow(10, -0.3 + 3.3 * bf_uniform(SEED, 6, i)), p = bf_uniform(SEED, 7, i);
        worst = larger(worst, fabs(bf_gamma_quantile(a, p) / gsl_cdf_gamma_Pinv(p, a, 1) - 1));
    }
    print_message("gamma quantile: largest difference from GSL %.2g\n", worst);
    BF_CHECK_IN(worst, 0, 1e-9); /* GSL's own error; the series above decides at 1e-12 */
}

static void gamma_quantile_rises_with_p(void **state) {
    (void)state;
    for (size_t i = 0; i < N_SHAPES; i++) {
        double before = 0;
        for (int k = 1; k < 200; k++) {
            double x = bf_gamma_quantile(shapes[i], k / 200.0);
            assert_true(x >= before);
            before = x;
        }
    }
}

/* Printed in every table of chi-square: Q(df/2, x/2) is the chance above x. */
static void chi_square_table_values_hold(void **state) {
    (void)state;
    BF_CHECK_REL(bf_gamma_q(0.5, 3.84145882069412 / 2), 0.05, 1e-13);
    BF_CHECK_REL(bf_gamma_q(1, 9.21034037197618 / 2), 0.01, 1e-13);
    BF_CHECK_REL(bf_gamma_q(9.5, 36.1908691292701 / 2), 0.01, 1e-13);
    for (int df = 1; df <= 200; df++)
        for (int k = 1; k < 40; k++)
            BF_CHECK_REL(bf_gamma_q(df / 2.0, k * df / 20.0), gsl_cdf_chisq_Q(k * df / 10.0, df), 1e-11);
}

static void header_values_hold(void **state) {
    (void)state;
    BF_CHECK_ABS(bf_log_gamma(0.5), 0.5723649429247, 1e-13);
    BF_CHECK_REL(bf_log_gamma_step(1e6, 2), log(1e6) + log(1e6 + 1), 1e-15);
    BF_CHECK_ABS(bf_digamma(1), -0.5772156649015, 1e-13);
    BF_CHECK_ABS(bf_trigamma(1), 1.6449340668482, 1e-13);
    BF_CHECK_ABS(bf_gamma_p(9, 4.5), 0.040257312482038, 1e-14);
    BF_CHECK_ABS(bf_gamma_q(0.5, 1.92072941034706), 0.05, 1e-14);
    BF_CHECK_ABS(bf_gamma_quantile(9, 0.5) / 4.5, 1.92643359652674, 1e-14);
}

static void ends_and_nonsense_are_answered_as_the_header_says(void **state) {
    (void)state;
    assert_true(bf_log_gamma(0) == INFINITY && bf_log_gamma(INFINITY) == INFINITY);
    assert_true(isnan(bf_log_gamma(-1)) && isnan(bf_log_gamma(NAN)));
    assert_true(isnan(bf_log_gamma_step(0, 1)) && isnan(bf_log_gamma_step(1, -1)) &&
                isnan(bf_log_gamma_step(1, NAN)));
    assert_true(bf_log_gamma_step(3, 0) == 0);
    assert_true(isnan(bf_log_beta(0, 1)) && isnan(bf_log_beta(1, NAN)));
    assert_true(isnan(bf_digamma(0)) && isnan(bf_trigamma(-2)) && isnan(bf_digamma(NAN)));
    assert_true(bf_gamma_p(2, 0) == 0 && bf_gamma_q(2, 0) == 1);
    assert_true(bf_gamma_p(2, INFINITY) == 1 && bf_gamma_q(2, INFINITY) == 0);
    assert_true(bf_gamma_quantile(2, 0) == 0 && bf_gamma_quantile(2, 1) == INFINITY);
    const double bad[] = {0, -1, INFINITY, NAN};
    for (size_t i = 0; i < 4; i++) {
        assert_true(isnan(bf_gamma_p(bad[i], 1)) && isnan(bf_gamma_q(bad[i], 1)));
        assert_true(isnan(bf_gamma_quantile(bad[i], 0.5)));
    }
    assert_true(isnan(bf_gamma_p(1, -1e-300)) && isnan(bf_gamma_q(1, NAN)));
    assert_true(isnan(bf_gamma_quantile(1, -0.1)) && isnan(bf_gamma_quantile(1, 1.1)) &&
                isnan(bf_gamma_quantile(1, NAN)));
}

int main(void) {
    gsl_set_error_handler_off();
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(log_gamma_equals_mpfr),
        cmocka_unit_test(log_gamma_step_equals_mpfr),
        cmocka_unit_test(log_beta_is_symmetric_and_known),
        cmocka_unit_test(digamma_equals_mpfr),
        cmocka_unit_test(trigamma_equals_the_slope_of_mpfr_digamma),
        cmocka_unit_test(gamma_tails_equal_the_long_series),
        cmocka_unit_test(gamma_tails_equal_gsl_or_gsl_is_wrong),
        cmocka_unit_test(gamma_tails_add_to_one),
        cmocka_unit_test(gamma_quantile_undoes_the_series),
        cmocka_unit_test(gamma_quantile_equals_gsl),
        cmocka_unit_test(gamma_quantile_rises_with_p),
        cmocka_unit_test(chi_square_table_values_hold),
        cmocka_unit_test(header_values_hold),
        cmocka_unit_test(ends_and_nonsense_are_answered_as_the_header_says),
    };
    return cmocka_run_group_tests_name("special_gamma", tests, NULL, NULL);
}
