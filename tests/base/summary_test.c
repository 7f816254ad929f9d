/* summary_test.c -- sorting and quantiles against the C library and GSL, shares against closed forms.
 *
 * Oracles: qsort of the C library; gsl_stats_quantile_from_sorted_data (GNU Scientific Library); the variance
 * decomposition of a linear normal model and of Ishigami's function (A. Saltelli et al., "Global Sensitivity
 * Analysis: The Primer", 2008, prints 0.3139 and 0.4424 for a = 7, b = 0.1; from memory, and worked out below).
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

/* ---- sorting ---------------------------------------------------------------------------------------------- */

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

/* Musser's median-of-three killer: every split takes off two values only. Without the change to heapsort this would
 * be 2^32 steps. */
static void the_pattern_that_defeats_median_of_three_sorts_like_qsort(void **state) {
    (void)state;
    const size_t n = N_MOST, half = n / 2;
    for (size_t i = 0; i < half; i++) {
        values[i] = (double)(i % 2 ? half + i : i + 1);
        values[half + i] = (double)(2 * (i + 1));
    }
    check_sorts_like_qsort(n);
}

/* ---- quantiles -------------------------------------------------------------------------------------------- */

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

/* ---- shares ----------------------------------------------------------------------------------------------- */

typedef struct repeats {
    double mean, error; /* mean over the repeats and its standard error */
} repeats;

/* The share of input `which` of `model`, over N_REPEATS sets of N_DRAWS worlds. */
static repeats share_repeated(double (*model)(const double x[3]),
                              double (*draw)(uint64_t, uint64_t, uint64_t), int which) {
    static double input[N_DRAWS], output[N_DRAWS], work[N_DRAWS], shares[N_REPEATS];
    assert_true(bf_first_order_share_bytes(N_DRAWS) <= sizeof work);
    for (uint64_t repeat = 0; repeat < N_REPEATS; repeat++) {
        for (uint64_t i = 0; i < N_DRAWS; i++) {
            double x[3];
            for (uint64_t j = 0; j < 3; j++) x[j] = draw(repeat, j, i);
            input[i] = x[which];
            output[i] = model(x);
        }
        shares[repeat] = bf_first_order_share(input, output, N_DRAWS, work);
    }
    repeats r = {gsl_stats_mean(shares, 1, N_REPEATS), gsl_stats_sd(shares, 1, N_REPEATS) / sqrt(N_REPEATS)};
    print_message("share %d: mean %.4f, standard deviation of one %.4f\n", which, r.mean,
                  r.error * sqrt(N_REPEATS));
    return r;
}

/* The part of a standard normal input's own variance that lies within 64 bins of equal chance. */
static double lost_within_normal_bins(void) {
    double between = 0;
    for (int b = 0; b < 64; b++) {
        double low = gsl_cdf_ugaussian_Pinv(b / 64.0), high = gsl_cdf_ugaussian_Pinv((b + 1) / 64.0);
        double mean = 64 * (gsl_ran_ugaussian_pdf(low) - gsl_ran_ugaussian_pdf(high));
        between += mean * mean / 64;
    }
    return 1 - between;
}

/* y = 3 x1 + 2 x2 + x3 + 10: shares 9/14, 4/14, 1/14. */
static double linear_model(const double x[3]) {
    return 3 * x[0] + 2 * x[1] + x[2] + 10;
}

/* Each check: 4.5 standard errors of the mean, false alarm 7e-6; and the loss within bins, which is known. */
static void shares_of_a_linear_normal_model_are_its_squared_coefficients(void **state) {
    (void)state;
    const double exact[3] = {9.0 / 14, 4.0 / 14, 1.0 / 14};
    double kept = 1 - lost_within_normal_bins();
    print_message("a normal input keeps %.4f of its variance between 64 bins\n", kept);
    for (int i = 0; i < 3; i++) {
        repeats r = share_repeated(linear_model, bf_normal, i);
        BF_CHECK_ABS(r.mean, exact[i] * kept, 4.5 * r.error + 1e-4);
    }
}

/* Ishigami's function on (-pi, pi)^3. */
static const double ishigami_a = 7, ishigami_b = 0.1;

static double draw_ishigami(uint64_t seed, uint64_t stream, uint64_t index) {
    return PI * (2 * bf_uniform(seed, stream, index) - 1);
}

static double ishigami(const double x[3]) {
    double s1 = bf_sin(x[0]), s2 = bf_sin(x[1]), x3 = x[2] * x[2];
    return s1 + ishigami_a * s2 * s2 + ishigami_b * x3 * x3 * s1;
}

/* Mean over x3 of the squared variance of y at that x3, over its squared mean: uneven noise makes the luck between
 * bins larger than even noise would. */
static double unevenness_of_noise_over_x3(void) {
    double sum = 0, sum_squares = 0;
    enum { N_STEPS = 1000 };
    for (int i = 0; i < N_STEPS; i++) {
        double x = PI * (2 * (i + 0.5) / N_STEPS - 1), s = 1 + ishigami_b * x * x * x * x;
        double variance = s * s / 2 + ishigami_a * ishigami_a / 8;
        sum += variance;
        sum_squares += variance * variance;
    }
    return sum_squares * N_STEPS / (sum * sum);
}

/* As above; variation within bins may take up to 0.004 of sin^2, whose period covers 32 bins: pi^2 / (3 * 32^2). The
 * third input acts only together with the first: its share is 0, and the mean of the estimate, being cut at 0, is
 * 1 / sqrt(2 pi) = 0.4 of its standard deviation. */
static void shares_of_ishigamis_function_are_the_known_ones(void **state) {
    (void)state;
    double pi4 = PI * PI * PI * PI, s = 1 + ishigami_b * pi4 / 5;
    double v1 = s * s / 2, v2 = ishigami_a * ishigami_a / 8,
           v13 = 8 * ishigami_b * ishigami_b * pi4 * pi4 / 225;
    double total = v1 + v2 + v13;
    BF_CHECK_ABS(v1 / total, 0.3139, 5e-5);
    BF_CHECK_ABS(v2 / total, 0.4424, 5e-5);

    repeats r1 = share_repeated(ishigami, draw_ishigami, 0);
    repeats r2 = share_repeated(ishigami, draw_ishigami, 1);
    repeats r3 = share_repeated(ishigami, draw_ishigami, 2);
    BF_CHECK_ABS(r1.mean, v1 / total, 4.5 * r1.error + 0.002);
    BF_CHECK_ABS(r2.mean, v2 / total, 4.5 * r2.error + 0.004);
    double deviation = sqrt(2 * 63 * unevenness_of_noise_over_x3()) / N_DRAWS;
    BF_CHECK_ABS(r3.mean, deviation / sqrt(2 * PI), 4.5 * r3.error);
}

static void shares_do_not_depend_on_the_order_of_the_worlds(void **state) {
    (void)state;
    static double input[1000], output[1000], work[1000];
    double shares[2];
    for (size_t way = 0; way < 2; way++) {
        for (size_t i = 0; i < 1000; i++) {
            size_t place = way ? 999 - i : i;
            input[place] = floor(20 * bf_uniform(SEED, 1, i)); /* ties across the bin edges */
            output[place] = input[place] + bf_normal(SEED, 2, i);
        }
        shares[way] = bf_first_order_share(input, output, 1000, work);
    }
    BF_CHECK_ABS(shares[0], shares[1], 1e-12);
}

static void an_input_of_two_values_is_accounted_for(void **state) {
    (void)state;
    static double input[N_DRAWS], output[N_DRAWS], work[N_DRAWS];
    for (size_t i = 0; i < N_DRAWS; i++) {
        input[i] = (double)(i % 2);
        output[i] = 3 * input[i] - 1;
    }
    BF_CHECK_ABS(bf_first_order_share(input, output, N_DRAWS, work), 1, 1e-12);
}

static void nothing_that_varies_gives_no_share(void **state) {
    (void)state;
    double input[16], output[16], work[16];
    for (size_t i = 0; i < 16; i++) {
        input[i] = (double)i;
        output[i] = 4;
    }
    assert_true(bf_first_order_share(input, output, 16, work) == 0);
    assert_true(bf_first_order_share(output, input, 16, work) == 0);
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
        cmocka_unit_test(shares_of_a_linear_normal_model_are_its_squared_coefficients),
        cmocka_unit_test(shares_of_ishigamis_function_are_the_known_ones),
        cmocka_unit_test(shares_do_not_depend_on_the_order_of_the_worlds),
        cmocka_unit_test(an_input_of_two_values_is_accounted_for),
        cmocka_unit_test(nothing_that_varies_gives_no_share),
    };
    return cmocka_run_group_tests_name("summary", tests, NULL, NULL);
}
