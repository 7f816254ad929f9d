/* waits_test.c -- wait curves against R, and how often their bands hold the truth.
 *
 * Oracles: R 4.2.2, survival 3.5-3 (km.csv, km_median.csv); closed forms; the C library's qsort.
 */
#include <float.h>

#include "baitfall/random.h"
#include "baitfall/waits.h"
#include "record/survival_data.h"

enum { N_MOST = 4000 };

static bf_wait_step steps[N_MOST];
static double work[40000];

static size_t curve(const double *wait_s, const unsigned char *is_event, size_t n, bf_band band,
                    double level) {
    size_t n_steps;
    assert_true(n <= N_MOST && bf_waits_bytes(n) <= sizeof work);
    assert_int_equal(bf_waits_curve(wait_s, is_event, n, band, level, work, steps, &n_steps), BF_OK);
    return n_steps;
}

/* R's NA is our NaN in a curve. */
static void check_or_nan(double got, double want, double tolerance) {
    if (isnan(want))
        assert_true(isnan(got));
    else
        BF_CHECK_ABS(got, want, tolerance);
}

/* Against R ---------------------------------------------------------------------------------------------- */

/* The rows of "aml_all" or of one group, "sex=1" and the like. Returns their number. */
static size_t rows_of_stratum(const char *dataset, const char *stratum, double *time, unsigned char *event) {
    survival_data data = survival_read(strcmp(dataset, "aml_all") ? dataset : "aml");
    int k = strncmp(stratum, "sex=", 4) == 0 || strncmp(stratum, "rx=", 3) == 0;
    double group = strstr(stratum, "=Maintained")      ? 0
                   : strstr(stratum, "=Nonmaintained") ? 1
                   : strchr(stratum, '=')              ? atof(strchr(stratum, '=') + 1)
                                                       : -1;
    size_t n = 0;
    for (size_t i = 0; i < data.n; i++) {
        if (group >= 0 && data.x[i][k] != group) continue;
        time[n] = data.time[i];
        event[n++] = data.event[i];
    }
    assert_true(n > 0);
    return n;
}

static bf_band band_of(const char *name) {
    return strcmp(name, "plain") == 0 ? BF_BAND_PLAIN
           : strcmp(name, "log") == 0 ? BF_BAND_LOG
                                      : BF_BAND_LOG_LOG;
}

static void curves_with_each_band_are_those_of_r(void **state) {
    (void)state;
    csv_file csv;
    csv_open(&csv, "statistics/km.csv");
    csv_next(&csv);
    char last[3][64] = {"", "", ""};
    size_t i = 0, n_steps = 0, n_rows = 0;
    while (csv_next(&csv)) {
        if (strcmp(last[0], csv.cell[0]) || strcmp(last[1], csv.cell[1]) || strcmp(last[2], csv.cell[2])) {
            assert_int_equal(i, n_steps);
            double time[SURVIVAL_MOST];
            unsigned char event[SURVIVAL_MOST];
            size_t n = rows_of_stratum(csv.cell[0], csv.cell[2], time, event);
            n_steps = curve(time, event, n, band_of(csv.cell[1]), 0.95);
            i = 0;
            for (int k = 0; k < 3; k++) snprintf(last[k], sizeof last[k], "%s", csv.cell[k]);
        }
        assert_true(i < n_steps);
        const bf_wait_step *step = &steps[i++];
        BF_CHECK_ABS(step->time_s, csv_number(&csv, 3), 0);
        BF_CHECK_ABS(step->n_risk, csv_number(&csv, 4), 0);
        BF_CHECK_ABS(step->n_event, csv_number(&csv, 5), 0);
        BF_CHECK_ABS(step->n_censor, csv_number(&csv, 6), 0);
        BF_CHECK_ABS(step->survival, csv_number(&csv, 7), 1e-12);
        check_or_nan(step->std_err, number_or_nan(&csv, 8), 1e-12);
        check_or_nan(step->lower, number_or_nan(&csv, 10), 1e-12);
        check_or_nan(step->upper, number_or_nan(&csv, 11), 1e-12);
        n_rows++;
    }
    assert_int_equal(i, n_steps);
    assert_int_equal(n_rows, 810);
}

static void medians_and_their_intervals_are_those_of_r(void **state) {
    (void)state;
    csv_file csv;
    csv_open(&csv, "statistics/km_median.csv");
    csv_next(&csv);
    size_t n_rows = 0;
    for (; csv_next(&csv); n_rows++) {
        double time[SURVIVAL_MOST], want[3];
        unsigned char event[SURVIVAL_MOST];
        size_t n = rows_of_stratum(csv.cell[0], csv.cell[1], time, event);
        bf_banded median = bf_waits_quantile(steps, curve(time, event, n, BF_BAND_LOG, 0.95), 0.5);
        /* R's NA is "not reached". */
        for (int k = 0; k < 3; k++) {
            want[k] = number_or_nan(&csv, 8 + k);
            if (isnan(want[k])) want[k] = INFINITY;
        }
        assert_true(median.value == want[0] && median.lower == want[1] && median.upper == want[2]);
    }
    assert_int_equal(n_rows, 6);
}

/* What must hold ----------------------------------------------------------------------------------------- */

static void the_worked_examples_of_the_header_hold(void **state) {
    (void)state;
    const double time[] = {9, 13, 13, 18, 23, 28, 31, 34, 45, 48, 161};
    const unsigned char event[] = {1, 1, 0, 1, 1, 0, 1, 1, 0, 1, 0};
    size_t n_steps = curve(time, event, 11, BF_BAND_LOG_LOG, 0.95);
    bf_banded at = bf_waits_at(steps, n_steps, 13), median = bf_waits_quantile(steps, n_steps, 0.5);
    BF_CHECK_ABS(at.value, 0.818182, 5e-7);
    BF_CHECK_ABS(at.lower, 0.447429, 5e-7);
    BF_CHECK_ABS(at.upper, 0.951162, 5e-7);
    BF_CHECK_ABS(bf_waits_at(steps, n_steps, 20).value, 0.715909, 5e-7);
    BF_CHECK_ABS(median.value, 31, 0);
    BF_CHECK_ABS(median.lower, 13, 0);
    assert_true(isinf(median.upper));
}

static void nothing_is_known_before_the_first_step(void **state) {
    (void)state;
    const double time[] = {5, 7};
    const unsigned char event[] = {0, 1};
    size_t n_steps = curve(time, event, 2, BF_BAND_LOG_LOG, 0.8);
    bf_banded early = bf_waits_at(steps, n_steps, 4.9), late = bf_waits_at(steps, n_steps, 100);
    assert_true(early.value == 1 && isnan(early.lower) && isnan(early.upper));
    assert_true(isnan(steps[0].lower) && isnan(steps[0].upper)); /* nothing has ended yet */
    assert_true(late.value == 0 && isnan(steps[1].std_err));
}

static void with_nothing_cut_short_the_curve_counts_those_left(void **state) {
    (void)state;
    double time[500];
    unsigned char event[500];
    for (size_t i = 0; i < 500; i++) {
        time[i] = 1 + floor(40 * bf_uniform(3, 0, i));
        event[i] = 1;
    }
    size_t n_steps = curve(time, event, 500, BF_BAND_LOG_LOG, 0.95);
    for (size_t k = 0; k < n_steps; k++) {
        size_t longer = 0;
        for (size_t i = 0; i < 500; i++) longer += time[i] > steps[k].time_s;
        double s = (double)longer / 500;
        BF_CHECK_ABS(steps[k].survival, s, 1e-13);
        if (longer) BF_CHECK_ABS(steps[k].std_err, sqrt(s * (1 - s) / 500), 1e-13);
    }
}

static int upwards(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* From the smallest subnormal number to the largest number, every exponent, with ties. */
static void steps_rise_in_time_whatever_the_scale(void **state) {
    (void)state;
    static double time[N_MOST], sorted[N_MOST];
    static unsigned char event[N_MOST];
    for (size_t i = 0; i < N_MOST; i++) {
        time[i] = i % 5 == 4 ? time[i - 4] : ldexp(1 + bf_uniform(4, 0, i), (int)(i % 2090) - 1070);
        event[i] = i % 3 != 0;
    }
    time[0] = DBL_MAX;
    time[1] = 4.9406564584124654e-324;
    memcpy(sorted, time, sizeof sorted);
    qsort(sorted, N_MOST, sizeof *sorted, upwards);
    size_t n_steps = curve(time, event, N_MOST, BF_BAND_LOG_LOG, 0.95), at = 0;
    for (size_t k = 0; k < n_steps; k++) {
        assert_true(steps[k].time_s == sorted[at] && steps[k].n_risk == N_MOST - at);
        for (uint32_t ties = steps[k].n_event + steps[k].n_censor; ties > 0; ties--, at++)
            assert_true(sorted[at] == steps[k].time_s);
    }
    assert_int_equal(at, N_MOST);
}

static void the_order_of_the_rows_does_not_matter(void **state) {
    (void)state;
    double time[200], back[200];
    unsigned char event[200], event_back[200];
    for (size_t i = 0; i < 200; i++) {
        time[i] = back[199 - i] = 1 + floor(50 * bf_uniform(5, 0, i));
        event[i] = event_back[199 - i] = bf_uniform(5, 1, i) < 0.6;
    }
    static bf_wait_step first[200];
    size_t n = curve(time, event, 200, BF_BAND_LOG_LOG, 0.9);
    memcpy(first, steps, sizeof first);
    assert_int_equal(curve(back, event_back, 200, BF_BAND_LOG_LOG, 0.9), n);
    assert_memory_equal(first, steps, n * sizeof *first);
}

static void a_quantile_where_the_curve_stands_is_the_middle_of_the_stretch(void **state) {
    (void)state;
    const double time[] = {10, 20, 30, 40};
    const unsigned char all[] = {1, 1, 1, 1}, half[] = {1, 1, 0, 0};
    BF_CHECK_ABS(bf_waits_quantile(steps, curve(time, all, 4, BF_BAND_LOG_LOG, 0.8), 0.5).value, 25, 0);
    BF_CHECK_ABS(bf_waits_quantile(steps, curve(time, half, 4, BF_BAND_LOG_LOG, 0.8), 0.5).value, 30, 0);
    assert_true(isinf(bf_waits_quantile(steps, curve(time, half, 4, BF_BAND_LOG_LOG, 0.8), 0.75).value));
}

/* Bad input ---------------------------------------------------------------------------------------------- */

static void bad_waits_are_refused(void **state) {
    (void)state;
    const double bad[] = {NAN, INFINITY, -INFINITY, 0, -1};
    const bf_status want[] = {BF_E_NOT_FINITE, BF_E_NOT_FINITE, BF_E_NOT_FINITE, BF_E_RANGE, BF_E_RANGE};
    const unsigned char event[] = {1, 1};
    size_t n_steps = 9;
    for (size_t k = 0; k < 5; k++) {
        double time[] = {3, bad[k]};
        assert_int_equal(bf_waits_curve(time, event, 2, BF_BAND_LOG_LOG, 0.8, work, steps, &n_steps),
                         want[k]);
        assert_int_equal(n_steps, 0);
    }
    assert_int_equal(bf_waits_curve(NULL, NULL, 0, BF_BAND_LOG_LOG, 0.8, work, steps, &n_steps),
                     BF_E_MISSING);
    assert_int_equal(
        bf_waits_curve(NULL, NULL, BF_WAITS_MOST + 1u, BF_BAND_LOG_LOG, 0.8, work, steps, &n_steps),
        BF_E_COUNT);
}

/* Coverage ----------------------------------------------------------------------------------------------- */

typedef struct covered {
    size_t n, n_quarter, n_median; /* records; of them, those whose interval holds the truth */
} covered;

/* Waits of mean 1, evenly hazardous, each cut short at a time of mean 2: a third are. The band at time log 4 should hold 1/4,
 * the interval of the median log 2. A step already at 0 has no band and counts as a miss. */
static covered simulate(uint64_t seed, size_t n_waits) {
    covered in = {.n = repeats(2000, 10000)};
    for (size_t r = 0; r < in.n; r++) {
        double time[200];
        unsigned char event[200];
        for (size_t i = 0; i < n_waits; i++) {
            double wait = -log(1 - bf_uniform(seed, 2 * r, i)),
                   cut = -2 * log(1 - bf_uniform(seed, 2 * r + 1, i));
            time[i] = (wait < cut ? wait : cut) + DBL_MIN;
            event[i] = wait <= cut;
        }
        size_t n_steps = curve(time, event, n_waits, BF_BAND_LOG_LOG, 0.95);
        bf_banded at = bf_waits_at(steps, n_steps, log(4)), median = bf_waits_quantile(steps, n_steps, 0.5);
        in.n_quarter += at.lower <= 0.25 && 0.25 <= at.upper;
        in.n_median += median.lower <= log(2) && log(2) <= median.upper;
    }
    return in;
}

static void bands_of_95_percent_hold_the_truth_in_94_to_96(void **state) {
    (void)state;
    const size_t sizes[] = {50, 100, 200};
    for (size_t s = 0; s < 3; s++) {
        covered in = simulate(11 + s, sizes[s]);
        print_message("           %zu waits\n", sizes[s]);
        check_covers_95("band at 1/4 left", in.n_quarter, in.n);
        check_covers_95("interval of the median", in.n_median, in.n);
    }
}

/* The header owns up to it. The bound is four standard errors about 93 %; false alarm 6e-5. */
static void
with_twenty_waits_the_median_keeps_its_level_and_the_low_end_falls_short_by_2_percent(void **state) {
    (void)state;
    covered in = simulate(15, 20);
    check_covers_95("interval of the median, 20 waits", in.n_median, in.n);
    double share = (double)in.n_quarter / (double)in.n;
    print_message("           band at 1/4 left, 20 waits: %.2f %%\n", 100 * share);
    BF_CHECK_ABS(share, 0.93, 4 * sqrt(0.93 * 0.07 / (double)in.n));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(curves_with_each_band_are_those_of_r),
        cmocka_unit_test(medians_and_their_intervals_are_those_of_r),
        cmocka_unit_test(the_worked_examples_of_the_header_hold),
        cmocka_unit_test(nothing_is_known_before_the_first_step),
        cmocka_unit_test(with_nothing_cut_short_the_curve_counts_those_left),
        cmocka_unit_test(steps_rise_in_time_whatever_the_scale),
        cmocka_unit_test(the_order_of_the_rows_does_not_matter),
        cmocka_unit_test(a_quantile_where_the_curve_stands_is_the_middle_of_the_stretch),
        cmocka_unit_test(bad_waits_are_refused),
        cmocka_unit_test(bands_of_95_percent_hold_the_truth_in_94_to_96),
        cmocka_unit_test(
            with_twenty_waits_the_median_keeps_its_level_and_the_low_end_falls_short_by_2_percent),
    };
    return cmocka_run_group_tests_name("waits", tests, NULL, NULL);
}
