/* changes_test.c -- one change in a row of counts.
 *
 * Oracles: tables coal_annual.csv, coal_posterior.csv, coal_summary.csv (the public coal mine disaster counts, computed
 * by an independent program); brute numerical integration over both rates; simulation with GSL's generators.
 */
#include "baitfall/changes.h"
#include "common/csv.h"
#include "record/sample.h"

#define TABLE 1e-10
#define N_YEARS 112

static void coal(bf_change_bin bins[N_YEARS]) {
    csv_file csv;
    csv_open(&csv, "statistics/coal_annual.csv");
    assert_true(csv_next(&csv));
    int n = 0;
    for (; csv_next(&csv); n++) {
        assert_true(n < N_YEARS);
        bins[n] = (bf_change_bin){csv_number(&csv, 1), 1};
    }
    assert_int_equal(n, N_YEARS);
}

static void coal_posterior_equals_the_table(void **state) {
    (void)state;
    bf_change_bin bins[N_YEARS];
    double posterior[N_YEARS - 1];
    bf_change c;
    coal(bins);
    csv_file csv;
    csv_open(&csv, "statistics/coal_posterior.csv");
    assert_true(csv_next(&csv));
    int rows = 0;
    for (; csv_next(&csv); rows++) {
        bf_gamma prior = {csv_number(&csv, 0), csv_number(&csv, 1)};
        int k = (int)csv_number(&csv, 2);
        assert_int_equal(bf_change_find(bins, N_YEARS, prior, 0.5, 0.95, posterior, &c), BF_OK);
        BF_CHECK_ABS(posterior[k - 1], csv_number(&csv, 4), TABLE);
    }
    assert_int_equal(rows, 3 * (N_YEARS - 1));
}

static void coal_summary_equals_the_table(void **state) {
    (void)state;
    bf_change_bin bins[N_YEARS];
    double posterior[N_YEARS - 1];
    bf_change c;
    coal(bins);
    csv_file csv;
    csv_open(&csv, "statistics/coal_summary.csv");
    assert_true(csv_next(&csv));
    int rows = 0;
    for (; csv_next(&csv); rows++) {
        bf_gamma prior = {csv_number(&csv, 0), csv_number(&csv, 1)};
        assert_int_equal(bf_change_find(bins, N_YEARS, prior, 0.5, 0.95, posterior, &c), BF_OK);
        assert_int_equal(c.k_mode, (int)csv_number(&csv, 2));
        assert_int_equal(1850 + c.k_mode, (int)csv_number(&csv, 3));
        BF_CHECK_REL(c.p_mode, csv_number(&csv, 4), TABLE);
        BF_CHECK_REL(c.k_mean, csv_number(&csv, 5), TABLE);
        assert_int_equal(c.k_lo, (int)csv_number(&csv, 6));
        assert_int_equal(c.k_mid, (int)csv_number(&csv, 7));
        assert_int_equal(c.k_hi, (int)csv_number(&csv, 8));
        BF_CHECK_REL(c.rate_before, csv_number(&csv, 9), TABLE);
        BF_CHECK_REL(c.rate_after, csv_number(&csv, 10), TABLE);
        BF_CHECK_REL(c.log_evidence_change, csv_number(&csv, 11), TABLE);
        BF_CHECK_REL(c.log_evidence_same, csv_number(&csv, 12), TABLE);
        BF_CHECK_REL(c.log_bayes_factor, csv_number(&csv, 13), TABLE);
        BF_CHECK_IN(c.p_change, 1 - 1e-12, 1);
        BF_CHECK_IN(c.p_slowed, 1 - 1e-9, 1);
        double mass = 0;
        for (int k = c.k_lo; k <= c.k_hi; k++) mass += posterior[k - 1];
        BF_CHECK_ABS(c.p_set, mass, 1e-14);
        BF_CHECK_IN(c.p_set, 0.95, 1);
    }
    assert_int_equal(rows, 3);
}

/* Integral over u = log rate of the prior times the Poisson chances of bins first .. last-1, and the same times rate. */
static double integrated(const bf_change_bin *bins, int first, int last, bf_gamma prior, double *mean_rate) {
    double sum = 0, sum_rate = 0, h = 0.01;
    for (double u = -40; u < 12; u += h) {
        double rate = exp(u),
               log_p = prior.shape * (log(prior.rate) + u) - prior.rate * rate - lgamma(prior.shape);
        for (int i = first; i < last; i++) {
            double expected = rate * bins[i].exposure;
            if (bins[i].exposure > 0) log_p += bins[i].n * log(expected) - expected - lgamma(bins[i].n + 1);
        }
        sum += h * exp(log_p);
        sum_rate += h * exp(log_p) * rate;
    }
    *mean_rate = sum_rate;
    return sum;
}

static void unequal_exposures_equal_brute_integration(void **state) {
    (void)state;
    const bf_change_bin bins[] = {{3, 0.5}, {4, 1}, {0, 0}, {6, 2.25}, {1, 1.5}, {0, 0.75}, {2, 3}};
    enum { N = 7 };
    bf_gamma prior = {1.5, 0.7};
    double posterior[N - 1], want[N - 1], mean_before = 0, mean_after = 0, total = 0, ignored;
    for (int k = 1; k < N; k++) {
        double rate_before, rate_after, before = integrated(bins, 0, k, prior, &rate_before),
                                        after = integrated(bins, k, N, prior, &rate_after);
        total += want[k - 1] = before * after;
        mean_before += rate_before * after;
        mean_after += before * rate_after;
    }
    bf_change c;
    assert_int_equal(bf_change_find(bins, N, prior, 0.3, 0.9, posterior, &c), BF_OK);
    for (int k = 1; k < N; k++) BF_CHECK_REL(posterior[k - 1], want[k - 1] / total, 1e-9);
    double same = integrated(bins, 0, N, prior, &ignored), factor = total / (N - 1) / same;
    BF_CHECK_REL(c.log_evidence_same, log(same), 1e-9);
    BF_CHECK_REL(c.log_evidence_change, log(total / (N - 1)), 1e-9);
    BF_CHECK_REL(c.rate_before, mean_before / total, 1e-9);
    BF_CHECK_REL(c.rate_after, mean_after / total, 1e-9);
    BF_CHECK_REL(c.p_change, 0.3 * factor / (0.3 * factor + 0.7), 1e-9);
}

static void backwards_in_time_mirrors_the_answer(void **state) {
    (void)state;
    bf_change_bin bins[N_YEARS], back[N_YEARS];
    double forth_p[N_YEARS - 1], back_p[N_YEARS - 1];
    coal(bins);
    for (int i = 0; i < N_YEARS; i++) {
        bins[i].exposure = 0.5 + i % 3;
        back[N_YEARS - 1 - i] = bins[i];
    }
    bf_change forth, mirrored;
    bf_gamma prior = {1, 1};
    assert_int_equal(bf_change_find(bins, N_YEARS, prior, 0.5, 0.8, forth_p, &forth), BF_OK);
    assert_int_equal(bf_change_find(back, N_YEARS, prior, 0.5, 0.8, back_p, &mirrored), BF_OK);
    for (int k = 1; k < N_YEARS; k++) BF_CHECK_ABS(back_p[N_YEARS - 1 - k], forth_p[k - 1], 1e-12);
    BF_CHECK_ABS(mirrored.p_slowed, 1 - forth.p_slowed, 1e-12);
    BF_CHECK_REL(mirrored.rate_before, forth.rate_after, 1e-12);
    BF_CHECK_REL(mirrored.log_bayes_factor, forth.log_bayes_factor, 1e-10);
}

static void unit_of_exposure_does_not_matter(void **state) {
    (void)state;
    bf_change_bin hours[N_YEARS], seconds[N_YEARS];
    double one[N_YEARS - 1], other[N_YEARS - 1];
    bf_change a, b;
    coal(hours);
    coal(seconds);
    for (int i = 0; i < N_YEARS; i++) seconds[i].exposure *= 3600;
    assert_int_equal(bf_change_find(hours, N_YEARS, (bf_gamma){1, 0.5}, 0.5, 0.8, one, &a), BF_OK);
    assert_int_equal(bf_change_find(seconds, N_YEARS, (bf_gamma){1, 1800}, 0.5, 0.8, other, &b), BF_OK);
    for (int k = 0; k < N_YEARS - 1; k++) BF_CHECK_ABS(one[k], other[k], 1e-11);
    BF_CHECK_REL(a.log_evidence_change, b.log_evidence_change, 1e-12);
    BF_CHECK_REL(a.rate_before, 3600 * b.rate_before, 1e-12);
}

/* Half the rows with a change, rates and place from the prior. The set of k holds the truth as often as p_set says (at
 * least its level: k is whole); p_change and p_slowed come true as often as they say: the sum of (came true - p) within
 * 4.5 standard deviations, false alarm 7e-6. */
static void set_and_chances_hold_in_simulation(void **state) {
    (void)state;
    enum { N = 30 };
    int reps = sample_size(10000, 50000), n_changed = 0, hits = 0;
    double expected_hits = 0, variance_hits = 0, off_change = 0, variance_change = 0, off_slowed = 0,
           variance_slowed = 0;
    gsl_rng *rng = sample_rng(3);
    bf_gamma prior = {2, 0.5};
    for (int i = 0; i < reps; i++) {
        bf_change_bin bins[N];
        double posterior[N - 1], before = gsl_ran_gamma(rng, prior.shape, 1 / prior.rate), after = before;
        int is_changed = gsl_rng_uniform(rng) < 0.5, truth = 1 + (int)gsl_rng_uniform_int(rng, N - 1);
        if (is_changed) after = gsl_ran_gamma(rng, prior.shape, 1 / prior.rate);
        for (int k = 0; k < N; k++) {
            bins[k].exposure = 0.1 + 0.4 * gsl_rng_uniform(rng);
            bins[k].n = gsl_ran_poisson(rng, bins[k].exposure * (k < truth ? before : after));
        }
        bf_change c;
        assert_int_equal(bf_change_find(bins, N, prior, 0.5, 0.95, posterior, &c), BF_OK);
        off_change += is_changed - c.p_change;
        variance_change += c.p_change * (1 - c.p_change);
        if (!is_changed) continue;
        n_changed++;
        hits += c.k_lo <= truth && truth <= c.k_hi;
        expected_hits += c.p_set;
        variance_hits += c.p_set * (1 - c.p_set);
        off_slowed += (after < before) - c.p_slowed;
        variance_slowed += c.p_slowed * (1 - c.p_slowed);
    }
    gsl_rng_free(rng);
    print_message("change, 95 %% set: %.2f %% of %d, said %.2f %%\n", 100.0 * hits / n_changed, n_changed,
                  100 * expected_hits / n_changed);
    BF_CHECK_ABS(hits, expected_hits, 4.5 * sqrt(variance_hits));
    BF_CHECK_IN(expected_hits / n_changed, 0.95, 1);
    BF_CHECK_ABS(off_change, 0, 4.5 * sqrt(variance_change));
    BF_CHECK_ABS(off_slowed, 0, 4.5 * sqrt(variance_slowed));
}

/* A day of 60 five-minute bins. */
typedef struct day {
    double before, after; /* bites a bin; the change, if any, is after bin 30  */
    double burst;         /* mean number of bites that come together           */
    int is_widened;
} day;

/* How often such a day is said to have a change, 8 in 10 sure; the prior as a review would set it, one event's weight at
 * the day's own rate. */
static double said_to_change(gsl_rng *rng, day d, int reps) {
    enum { N = 60 };
    int said = 0;
    for (int rep = 0; rep < reps; rep++) {
        bf_change_bin bins[N];
        double posterior[N - 1], n = 0;
        for (int k = 0; k < N; k++) {
            bins[k] = (bf_change_bin){0, 1 / 12.0};
            unsigned bursts = gsl_ran_poisson(rng, (k < 30 ? d.before : d.after) / d.burst);
            for (unsigned b = 0; b < bursts; b++) bins[k].n += gsl_ran_geometric(rng, 1 / d.burst);
            n += bins[k].n;
        }
        if (d.is_widened) assert_true(bf_change_widen(bins, N) >= 1);
        bf_change c;
        assert_int_equal(
            bf_change_find(bins, N, (bf_gamma){1, N / 12.0 / n}, BF_CHANGE_EVEN, 0.8, posterior, &c), BF_OK);
        said += c.p_change >= 0.8;
    }
    return 1.0 * said / reps;
}

static void bursts_are_no_changes_once_widened(void **state) {
    (void)state;
    gsl_rng *rng = sample_rng(12);
    int reps = sample_size(2000, 20000);
    double steady = said_to_change(rng, (day){2, 2, 1, 0}, reps),
           bursts = said_to_change(rng, (day){2, 2, 2, 0}, reps);
    double steady_wide = said_to_change(rng, (day){2, 2, 1, 1}, reps),
           bursts_wide = said_to_change(rng, (day){2, 2, 2, 1}, reps);
    double found = said_to_change(rng, (day){3, 1, 1, 1}, reps),
           found_bursts = said_to_change(rng, (day){3, 1, 2, 1}, reps);
    gsl_rng_free(rng);
    print_message("change said, none there: steady %.1f %%, widened %.1f %%; in bursts of two %.1f %%, "
                  "widened %.1f %%\n",
                  100 * steady, 100 * steady_wide, 100 * bursts, 100 * bursts_wide);
    print_message("fall to a third found: steady %.1f %%, in bursts %.1f %%\n", 100 * found,
                  100 * found_bursts);
    BF_CHECK_IN(steady, 0, 0.05);
    BF_CHECK_IN(steady_wide, 0, 0.05);
    BF_CHECK_IN(bursts_wide, 0, 0.1);
    BF_CHECK_IN(found, 0.9, 1);
    BF_CHECK_IN(found_bursts, 0.5, 1);
    assert_true(bursts > 3 * bursts_wide); /* why to widen */
}

static void dispersion_is_that_of_neighbours(void **state) {
    (void)state;
    bf_change_bin even[] = {{4, 1}, {0, 1}, {4, 1}, {0, 1}};
    BF_CHECK_REL(bf_change_widen(even, 4), 4.0, 1e-15);
    BF_CHECK_REL(even[0].n, 1.0, 1e-15);
    BF_CHECK_REL(even[3].exposure, 0.25, 1e-15);
    /* pair (6 in 1; 3 in 2): s 9, q 1/3, (6 - 3)^2 = 9 over 9 2/9 = 2; bin of no exposure passed over */
    bf_change_bin uneven[] = {{6, 1}, {0, 0}, {3, 2}};
    BF_CHECK_REL(bf_change_widen(uneven, 3), 4.5, 1e-15);
    bf_change_bin calm[] = {{2, 1}, {2, 1}, {2, 1}}, none[] = {{0, 1}, {0, 1}}, bad[] = {{1, 0}, {1, 1}};
    assert_true(bf_change_widen(calm, 3) == 1 && calm[0].n == 2);
    assert_true(bf_change_widen(none, 2) == 1);
    assert_true(isnan(bf_change_widen(bad, 2)) && bad[0].n == 1 && isnan(bf_change_widen(none, 1)));
    gsl_rng *rng = sample_rng(13);
    static bf_change_bin row[20000];
    for (int i = 0; i < 20000; i++) {
        double exposure = 0.5 + gsl_rng_uniform(rng);
        row[i] = (bf_change_bin){0, exposure};
        unsigned bursts = gsl_ran_poisson(rng, (i < 9000 ? 2 : 0.7) * exposure / 2);
        for (unsigned b = 0; b < bursts; b++) row[i].n += gsl_ran_geometric(rng, 0.5);
    }
    gsl_rng_free(rng);
    BF_CHECK_ABS(bf_change_widen(row, 20000), 3.0, 0.2); /* E X^2 / E X of the geometric; sd about 0.04 */
}

static void p_change_before_of_0_and_1_stays(void **state) {
    (void)state;
    const bf_change_bin bins[] = {{30, 1}, {0, 1}};
    double posterior[1];
    bf_change c;
    assert_int_equal(bf_change_find(bins, 2, (bf_gamma){1, 1}, 0, 0.8, posterior, &c), BF_OK);
    assert_true(c.p_change == 0);
    assert_int_equal(bf_change_find(bins, 2, (bf_gamma){1, 1}, 1, 0.8, posterior, &c), BF_OK);
    assert_true(c.p_change == 1 && posterior[0] == 1 && c.k_lo == 1 && c.k_hi == 1 && c.k_mid == 1);
}

/* A thousand bins of a busy day: nothing under- or overflows. */
static void long_rows_stay_finite(void **state) {
    (void)state;
    static bf_change_bin bins[20000];
    static double posterior[19999];
    for (int i = 0; i < 20000; i++) bins[i] = (bf_change_bin){i < 12345 ? 9 : 2, 300};
    bf_change c;
    assert_int_equal(bf_change_find(bins, 20000, (bf_gamma){1, 100}, 0.5, 0.8, posterior, &c), BF_OK);
    assert_int_equal(c.k_mode, 12345);
    BF_CHECK_REL(c.rate_before, 9 / 300.0, 1e-3);
    BF_CHECK_REL(c.rate_after, 2 / 300.0, 1e-3);
    assert_true(c.p_change == 1 && isfinite(c.log_bayes_factor));
}

static void bad_data_give_the_listed_status_and_nan(void **state) {
    (void)state;
    const bf_gamma good = {1, 1};
    const struct {
        bf_change_bin bins[2];
        int n_bins;
        bf_gamma prior;
        double before, level;
        bf_status want;
    } rows[] = {
        {{{1, 1}, {1, 1}}, 1, good, 0.5, 0.8, BF_E_RANGE},
        {{{1, 1}, {1, 1}}, 0, good, 0.5, 0.8, BF_E_RANGE},
        {{{1, 1}, {1, 1}}, -3, good, 0.5, 0.8, BF_E_RANGE},
        {{{1, 1}, {NAN, 1}}, 2, good, 0.5, 0.8, BF_E_NOT_FINITE},
        {{{1, 1}, {1, INFINITY}}, 2, good, 0.5, 0.8, BF_E_NOT_FINITE},
        {{{-1, 1}, {1, 1}}, 2, good, 0.5, 0.8, BF_E_RANGE},
        {{{1, -1}, {1, 1}}, 2, good, 0.5, 0.8, BF_E_RANGE},
        {{{0, 0}, {0, 0}}, 2, good, 0.5, 0.8, BF_E_RANGE},
        {{{1, 0}, {1, 1}}, 2, good, 0.5, 0.8, BF_E_DATA},
        {{{1, 1}, {1, 1}}, 2, {0, 1}, 0.5, 0.8, BF_E_RANGE},
        {{{1, 1}, {1, 1}}, 2, {1, 0}, 0.5, 0.8, BF_E_RANGE},
        {{{1, 1}, {1, 1}}, 2, {NAN, 1}, 0.5, 0.8, BF_E_NOT_FINITE},
        {{{1, 1}, {1, 1}}, 2, good, 1.1, 0.8, BF_E_RANGE},
        {{{1, 1}, {1, 1}}, 2, good, NAN, 0.8, BF_E_NOT_FINITE},
        {{{1, 1}, {1, 1}}, 2, good, 0.5, 1, BF_E_RANGE},
        {{{1, 1}, {1, 1}}, 2, good, 0.5, NAN, BF_E_NOT_FINITE},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        double posterior[1] = {7};
        bf_change c;
        assert_int_equal(bf_change_find(rows[i].bins, rows[i].n_bins, rows[i].prior, rows[i].before,
                                        rows[i].level, posterior, &c),
                         rows[i].want);
        assert_true(isnan(c.p_change) && isnan(c.rate_before) && isnan(c.log_bayes_factor) && c.k_mode == 0);
        if (rows[i].n_bins == 2)
            assert_true(isnan(posterior[0]));
        else
            assert_true(posterior[0] == 7);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(coal_posterior_equals_the_table),
        cmocka_unit_test(coal_summary_equals_the_table),
        cmocka_unit_test(unequal_exposures_equal_brute_integration),
        cmocka_unit_test(backwards_in_time_mirrors_the_answer),
        cmocka_unit_test(unit_of_exposure_does_not_matter),
        cmocka_unit_test(set_and_chances_hold_in_simulation),
        cmocka_unit_test(bursts_are_no_changes_once_widened),
        cmocka_unit_test(dispersion_is_that_of_neighbours),
        cmocka_unit_test(p_change_before_of_0_and_1_stays),
        cmocka_unit_test(long_rows_stay_finite),
        cmocka_unit_test(bad_data_give_the_listed_status_and_nan),
    };
    return cmocka_run_group_tests_name("changes", tests, NULL, NULL);
}
