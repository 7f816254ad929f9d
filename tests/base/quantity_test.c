/* A quantity's "give or take" means what quantity.h says. Oracle: GSL's normal distribution. */
#include <gsl/gsl_cdf.h>

#include "baitfall/quantity.h"
#include "common/check.h"

static const double far_least = -1e9, far_most = 1e9;

static void pm_is_half_the_central_eighty_percent(void **state) {
    (void)state;
    bf_sampler s = bf_sampler_of((bf_quantity){1.5, 0.05, 0}, far_least, far_most, 0, 1);
    BF_CHECK_ABS(bf_sampler_at(&s, 0.5), 1.5, 1e-12);
    BF_CHECK_ABS(bf_sampler_at(&s, 0.9), 1.55, 1e-12);
    BF_CHECK_ABS(bf_sampler_at(&s, 0.1), 1.45, 1e-12);
}

static void exact_stays_exact(void **state) {
    (void)state;
    bf_sampler s = bf_sampler_of((bf_quantity){0.3, 0, 0}, 0, 1, 0, 1);
    for (int i = 1; i < 100; i++) BF_CHECK_ABS(bf_sampler_at(&s, i / 100.0), 0.3, 0);
}

static void unknown_is_uniform_over_the_usual_range(void **state) {
    (void)state;
    bf_sampler s = bf_sampler_of((bf_quantity){12, 0, 1}, 0, 35, 2, 22);
    for (int i = 1; i < 100; i++) BF_CHECK_ABS(bf_sampler_at(&s, i / 100.0), 2 + 20 * (i / 100.0), 1e-12);
}

static void truncation_follows_the_truncated_normal(void **state) {
    (void)state;
    double mean = 0.1, sd = 0.08, least = 0, most = 0.2;
    bf_sampler s = bf_sampler_of((bf_quantity){mean, sd * BF_PM_PER_SD, 0}, least, most, 0, 1);
    double p0 = gsl_cdf_ugaussian_P((least - mean) / sd), p1 = gsl_cdf_ugaussian_P((most - mean) / sd);
    for (int i = 1; i < 1000; i++) {
        double p = i / 1000.0, want = mean + sd * gsl_cdf_ugaussian_Pinv(p0 + p * (p1 - p0));
        BF_CHECK_ABS(bf_sampler_at(&s, p), want, 1e-12);
    }
}

static void never_leaves_the_accepted_range_and_never_decreases(void **state) {
    (void)state;
    bf_sampler s = bf_sampler_of((bf_quantity){0, 5, 0}, 0, 0.5, 0, 1);
    double before = 0;
    for (int i = 0; i <= 10000; i++) {
        double p = (i + 0.5) / 10001.0, value = bf_sampler_at(&s, p);
        BF_CHECK_IN(value, before, 0.5);
        before = value;
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pm_is_half_the_central_eighty_percent),
        cmocka_unit_test(exact_stays_exact),
        cmocka_unit_test(unknown_is_uniform_over_the_usual_range),
        cmocka_unit_test(truncation_follows_the_truncated_normal),
        cmocka_unit_test(never_leaves_the_accepted_range_and_never_decreases),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
