/* special_test.c -- the normal distribution function and its inverse against GSL.
 *
 * Oracles: gsl_cdf_ugaussian_P and gsl_cdf_ugaussian_Pinv (GNU Scientific Library 2.7); MPFR's erfc at 100 bits where
 * GSL's own error is in question (the far tail).
 */
#include <float.h>

#include <gsl/gsl_cdf.h>
#include <mpfr.h>

#include "baitfall/random.h"
#include "baitfall/special.h"
#include "common/check.h"

#define SEED 1u
#define TOLERANCE 1e-12

static void cdf_equals_gsl(void **state) {
    (void)state;
    for (int i = -36000; i <= 9000; i++)
        BF_CHECK_REL(bf_normal_cdf(i / 1000.0), gsl_cdf_ugaussian_P(i / 1000.0), TOLERANCE);
}

/* cdf(-x) = erfc(x / sqrt 2) / 2 down to where it is subnormal. */
static void far_tail_of_cdf_equals_mpfr(void **state) {
    (void)state;
    mpfr_t exact, root;
    mpfr_inits2(100, exact, root, (mpfr_ptr)0);
    double worst = 0;
    for (int i = 0; i <= 37500; i++) {
        mpfr_sqrt_ui(root, 2, MPFR_RNDN);
        mpfr_set_d(exact, i / 1000.0, MPFR_RNDN);
        mpfr_div(exact, exact, root, MPFR_RNDN);
        mpfr_erfc(exact, exact, MPFR_RNDN);
        double want = mpfr_get_d(exact, MPFR_RNDN) / 2;
        worst = fmax(worst, fabs(bf_normal_cdf(-i / 1000.0) / want - 1));
    }
    mpfr_clears(exact, root, (mpfr_ptr)0);
    print_message("cdf: largest relative error %.2g\n", worst);
    BF_CHECK_IN(worst, 0, TOLERANCE);
}

/* p from 2^-1073 to 1 - 2^-53; near p = 1/2, where the quantile is 0, the tolerance is absolute. */
static void quantile_equals_gsl(void **state) {
    (void)state;
    double worst = 0;
    for (uint64_t i = 0; i < 300000; i++) {
        double u = bf_uniform(SEED, 1, i), p = i % 3 == 0   ? u
                                               : i % 3 == 1 ? pow(2, -1073 * u)
                                                            : 1 - pow(2, -52.9 * u);
        double want = gsl_cdf_ugaussian_Pinv(p),
               off = fabs(bf_normal_quantile(p) - want) / fmax(fabs(want), 1);
        worst = fmax(worst, off);
        if (!(off <= TOLERANCE)) fail_msg("p = %a: got %.17g, want %.17g", p, bf_normal_quantile(p), want);
    }
    print_message("quantile: largest error against GSL %.2g\n", worst);
}

/* Where the quantile changes its polynomial, p = 4.83e-4 and 5.8e-17, and their mirror images. */
static void quantile_equals_gsl_at_the_edges_of_its_parts(void **state) {
    (void)state;
    const double edges[] = {4.8279e-4, 5.79e-17};
    for (size_t e = 0; e < 2; e++)
        for (int i = -2000; i <= 2000; i++) {
            double p = edges[e] * (1 + 1e-6 * i);
            BF_CHECK_REL(bf_normal_quantile(p), gsl_cdf_ugaussian_Pinv(p), TOLERANCE);
            BF_CHECK_REL(bf_normal_quantile(1 - edges[0] * (1 + 1e-6 * i)),
                         gsl_cdf_ugaussian_Qinv(1 - (1 - edges[0] * (1 + 1e-6 * i))), TOLERANCE);
        }
}

static void quantile_is_odd_about_one_half(void **state) {
    (void)state;
    for (uint64_t i = 0; i < 100000; i++) {
        double u = bf_uniform(SEED, 2, i); /* 1 - u is exact */
        BF_CHECK_ABS(bf_normal_quantile(1 - u), -bf_normal_quantile(u), 1e-14);
    }
}

static void quantile_undoes_cdf(void **state) {
    (void)state;
    for (int i = -37000; i <= 5000; i++) {
        double x = i / 1000.0; /* above 5 the cdf itself has too few digits left */
        BF_CHECK_ABS(bf_normal_quantile(bf_normal_cdf(x)), x, x > 0 ? 1e-10 : 1e-13);
    }
}

/* A step up in p of one part in 1e13 or more never gives a step down in x. */
static void quantile_rises(void **state) {
    (void)state;
    const double middles[] = {1e-300, 1e-20, 5.79e-17, 1e-8, 4.8279e-4, 0.1, 0.4999, 0.5, 0.7, 0.99951721};
    for (size_t m = 0; m < sizeof middles / sizeof *middles; m++) {
        double before = -INFINITY;
        for (int i = -5000; i <= 5000; i++) {
            double x = bf_normal_quantile(middles[m] * (1 + 1e-9 * i));
            assert_true(x >= before);
            before = x;
        }
    }
}

/* Printed in every table of the normal distribution. */
static void table_values_hold(void **state) {
    (void)state;
    BF_CHECK_ABS(bf_normal_cdf(0), 0.5, 0);
    BF_CHECK_ABS(bf_normal_cdf(1), 0.8413447460685429, 1e-15);
    BF_CHECK_ABS(bf_normal_cdf(-1.96), 0.0249978951482204, 1e-15);
    BF_CHECK_ABS(bf_normal_quantile(0.975), 1.9599639845400545, 1e-14);
    BF_CHECK_ABS(bf_normal_quantile(0.1), -1.2815515655446004, 1e-14);
    BF_CHECK_ABS(bf_normal_quantile(0.5), 0, 0);
}

static void ends_and_nonsense_are_answered_as_the_header_says(void **state) {
    (void)state;
    assert_true(bf_normal_cdf(INFINITY) == 1);
    assert_true(bf_normal_cdf(-INFINITY) == 0);
    assert_true(bf_normal_cdf(-39) == 0);
    BF_CHECK_IN(bf_normal_cdf(-38), DBL_TRUE_MIN, DBL_MIN);
    assert_true(isnan(bf_normal_cdf(NAN)));
    assert_true(bf_normal_quantile(0) == -INFINITY);
    assert_true(bf_normal_quantile(1) == INFINITY);
    BF_CHECK_IN(bf_normal_quantile(DBL_TRUE_MIN), -38.5, -38.4);
    assert_true(isnan(bf_normal_quantile(-DBL_TRUE_MIN)));
    assert_true(isnan(bf_normal_quantile(1 + DBL_EPSILON)));
    assert_true(isnan(bf_normal_quantile(NAN)));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(cdf_equals_gsl),
        cmocka_unit_test(far_tail_of_cdf_equals_mpfr),
        cmocka_unit_test(quantile_equals_gsl),
        cmocka_unit_test(quantile_equals_gsl_at_the_edges_of_its_parts),
        cmocka_unit_test(quantile_is_odd_about_one_half),
        cmocka_unit_test(quantile_undoes_cdf),
        cmocka_unit_test(quantile_rises),
        cmocka_unit_test(table_values_hold),
        cmocka_unit_test(ends_and_nonsense_are_answered_as_the_header_says),
    };
    return cmocka_run_group_tests_name("special", tests, NULL, NULL);
}
