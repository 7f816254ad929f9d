/* summary_test.c -- sorting and quantiles against the C library and GSL.
 *
 * Oracles: qsort of the C library; gsl_stats_quantile_from_sorted_data (GNU Scientific Library).
 */
#include <stdbool.h>

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_statistics_double.h>

#include "baitfall/elementary.h"
#include "baitfall/random.h"
#include "baitfall/special.h"
#include "baitfall/summary.h"
#include "common/check.h"

#define SEED 1u
#define PI 3.141592653589793

enum { N_MOST = 1 << 17, N_DRAWS = 4096, N_REPEATS = 64 };

static double values[N_MOST], expected[N_MOST];

/* Sorting ------------------------------------------------------------------------------------------------ */

static int upwards(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static void check_sorts_like_qsort(size_t n) {
    memcpy(expected, values, n * sizeof *values);
    qsort(expected, n, sizeof *expected, upwards);
    bf_sort(values, n);
    for (size_t i = 0; i < n; i++)
        if (values[i] != expected[i])
            fail_msg("n %zu: place %zu holds %g, want %g", n, i, values[i], expected[i]);
}

static void random_arrays_of_every_small_length_sort_like_qsort(void **state) {
    (void)state;
    for (size_t n = 0; n <= 300; n++) {
        for (size_t i = 0; i < n; i++) values[i] = bf_normal(SEED, n, i);
        check_sorts_like_qsort(n);
        for (size_t i = 0; i < n; i++) values[i] = floor(5 * bf_uniform(SEED, n, i)); /* many ties */
        check_sorts_like_qsort(n);
    }
}

static void large_arrays_of_awkward_shape_sort_like_qsort(void **state) {
    (void)state;
    const size_t n = N_MOST;
    for (size_t i = 0; i < n; i++) values[i] = (double)i;
    check_sorts_like_qsort(n);
    for (size_t i = 0; i < n; i++) values[i] = -(double)i;
    check_sorts_like_qsort(n);
    for (size_t i = 0; i < n; i++) values[i] = 7;
    check_sorts_like_qsort(n);
    for (size_t i = 0; i < n; i++) values[i] = (double)(i < n / 2 ? i : n - i); /* organ pipe */
    check_sorts_like_qsort(n);
    for (size_t i = 0; i < n; i++) values[i] = i % 3 ? INFINITY : -INFINITY;
    check_sorts_like_qsort(n);
    for (size_t i = 0; i < n; i++) values[i] = bf_uniform(SEED, 1, i);
    check_sorts_like_qsort(n);
}

/* Musser's median-of-three killer: every split takes off two values only. Without the change to heapsort this
 * would be 2^32 steps. */
static void the_pattern_that_defeats_median_of_three_sorts_like_qsort(void **state) {
    (void)state;
    const size_t n = N_MOST, half = n / 2;
    for (size_t i = 0; i < half; i++) {
        values[i] = (double)(i % 2 ? half + i : i + 1);
        values[half + i] = (double)(2 * (i + 1));
    }
    check_sorts_like_qsort(n);
}

/* Quantiles ---------------------------------------------------------------------------------------------- */

static void quantiles_equal_those_of_gsl(void **state) {
    (void)state;
    for (size_t n = 1; n <= 200; n++) {
        for (size_t i = 0; i < n; i++) values[i] = bf_normal(SEED, 1000 + n, i);
        bf_sort(values, n);
        for (int p = 0; p <= 100; p++)
            BF_CHECK_ABS(bf_quantile_sorted(values, n, p / 100.0),
                         gsl_stats_quantile_from_sorted_data(values, 1, n, p / 100.0), 1e-14);
    }
}

static void the_worked_example_of_the_header_holds(void **state) {
    (void)state;
    const double sorted[] = {1, 2, 4, 8};
    BF_CHECK_ABS(bf_quantile_sorted(sorted, 4, 0.5), 3, 0);
    BF_CHECK_ABS(bf_quantile_sorted(sorted, 4, 0), 1, 0);
    BF_CHECK_ABS(bf_quantile_sorted(sorted, 4, 1), 8, 0);
}

static void no_values_give_nan(void **state) {
    (void)state;
    bf_range r = bf_range_of(NULL, 0, 2.5);
    assert_true(r.nominal == 2.5);
    assert_true(isnan(r.mid) && isnan(r.lo) && isnan(r.hi));
    assert_true(isnan(bf_quantile_sorted(NULL, 0, 0.5)));
}

static void infinite_neighbours_do_not_turn_a_quantile_into_nan(void **state) {
    (void)state;
    const double sorted[] = {1, 2, INFINITY, INFINITY};
    assert_true(bf_quantile_sorted(sorted, 3, 0.5) == 2);
    assert_true(bf_quantile_sorted(sorted, 4, 0.9) == INFINITY);
}

/* 1e5 standard normal draws: the standard error of a 10 % point is sqrt(0.09 / n) / density = 0.0054; five of them:
 * false alarm 6e-7 a check. */
static void the_range_of_normal_draws_is_that_of_the_normal_distribution(void **state) {
    (void)state;
    const size_t n = 100000;
    for (size_t i = 0; i < n; i++) values[i] = bf_normal(SEED, 7, i);
    bf_range r = bf_range_of(values, n, 0);
    double error = sqrt(0.09 / (double)n) / gsl_ran_ugaussian_pdf(1.2815515655446004);
    BF_CHECK_ABS(r.lo, -1.2815515655446004, 5 * error);
    BF_CHECK_ABS(r.hi, 1.2815515655446004, 5 * error);
    BF_CHECK_ABS(r.mid, 0, 5 * sqrt(0.25 / (double)n) / gsl_ran_ugaussian_pdf(0));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(random_arrays_of_every_small_length_sort_like_qsort),
        cmocka_unit_test(large_arrays_of_awkward_shape_sort_like_qsort),
        cmocka_unit_test(the_pattern_that_defeats_median_of_three_sorts_like_qsort),
        cmocka_unit_test(quantiles_equal_those_of_gsl),
        cmocka_unit_test(the_worked_example_of_the_header_holds),
        cmocka_unit_test(no_values_give_nan),
        cmocka_unit_test(infinite_neighbours_do_not_turn_a_quantile_into_nan),
        cmocka_unit_test(the_range_of_normal_draws_is_that_of_the_normal_distribution),
    };
    return cmocka_run_group_tests_name("summary", tests, NULL, NULL);
}
