/* rates_test.c -- gamma-Poisson rates.
 *
 * Oracles: tables gamma_poisson.csv and gamma_compare.csv (computed by an independent program, part by quadrature);
 * gsl_cdf_fdist_P; simulation with GSL's generators.
 */
#include <gsl/gsl_cdf.h>

#include "baitfall/rates.h"
#include "common/csv.h"
#include "record/sample.h"

#define TABLE 1e-10

static void posterior_and_forecast_equal_the_table(void **state) {
    (void)state;
    csv_file csv;
    csv_open(&csv, "statistics/gamma_poisson.csv");
    assert_true(csv_next(&csv));
    int rows = 0;
    for (; csv_next(&csv); rows++) {
        bf_gamma prior = {csv_number(&csv, 0), csv_number(&csv, 1)}, rate;
        double n = csv_number(&csv, 2), exposure = csv_number(&csv, 3), log_marginal;
        bf_estimate e;
        bf_rate_forecast f;
        assert_int_equal(bf_rate_posterior(prior, n, exposure, &rate), BF_OK);
        assert_int_equal(bf_rate_estimate(rate, 0.95, &e), BF_OK);
        assert_int_equal(bf_rate_predict(rate, 1, 3, &f), BF_OK);
        assert_int_equal(bf_rate_log_marginal(prior, n, exposure, &log_marginal), BF_OK);
        BF_CHECK_REL(rate.shape, csv_number(&csv, 4), TABLE);
        BF_CHECK_REL(rate.rate, csv_number(&csv, 5), TABLE);
        BF_CHECK_REL(e.mean, csv_number(&csv, 6), TABLE);
        BF_CHECK_REL(e.sd * e.sd, csv_number(&csv, 7), TABLE);
        BF_CHECK_REL(e.lo, csv_number(&csv, 9), TABLE);
        BF_CHECK_REL(e.mid, csv_number(&csv, 10), TABLE);
        BF_CHECK_REL(e.hi, csv_number(&csv, 11), TABLE);
        BF_CHECK_REL(log_marginal, csv_number(&csv, 12), TABLE);
        BF_CHECK_REL(f.p_none, csv_number(&csv, 17), TABLE); /* closed; column 13 is a quadrature */
        BF_CHECK_REL(f.p_equal, csv_number(&csv, 14), TABLE);
        BF_CHECK_REL(f.mean, csv_number(&csv, 15), TABLE);
        BF_CHECK_REL(f.sd * f.sd, csv_number(&csv, 16), TABLE);
    }
    assert_true(rows >= 4);
}

static void one_beats_the_other_as_in_the_table(void **state) {
    (void)state;
    csv_file csv;
    csv_open(&csv, "statistics/gamma_compare.csv");
    assert_true(csv_next(&csv));
    int rows = 0;
    for (; csv_next(&csv); rows++) {
        bf_gamma one = {csv_number(&csv, 0), csv_number(&csv, 1)},
                 other = {csv_number(&csv, 2), csv_number(&csv, 3)};
        double p, back;
        assert_int_equal(bf_rate_p_greater(one, other, &p), BF_OK);
        assert_int_equal(bf_rate_p_greater(other, one, &back), BF_OK);
        BF_CHECK_REL(p, csv_number(&csv, 4), TABLE);
        BF_CHECK_ABS(p + back, 1, 1e-14);
    }
    assert_true(rows >= 3);
}

static void forecast_adds_up(void **state) {
    (void)state;
    bf_gamma rate = {2.7, 3.1};
    double sum = 0, mean = 0;
    for (int n = 0; n < 400; n++) {
        bf_rate_forecast f;
        assert_int_equal(bf_rate_predict(rate, 7, n, &f), BF_OK);
        sum += f.p_equal;
        mean += n * f.p_equal;
        BF_CHECK_ABS(f.p_at_most, sum, 1e-13);
    }
    BF_CHECK_ABS(sum, 1, 1e-12);
    BF_CHECK_REL(mean, 2.7 / 3.1 * 7, 1e-11);
}

/* one/other = (a1/b1) / (a2/b2) F with F ~ F(2 a1, 2 a2). */
static void ratio_has_the_quantiles_of_f(void **state) {
    (void)state;
    const bf_gamma rates[] = {{9, 4.5}, {6, 5}, {0.5, 2}, {40.5, 11}, {1200, 300}};
    for (int i = 0; i < 5; i++)
        for (int j = 0; j < 5; j++) {
            bf_gamma one = rates[i], other = rates[j];
            double unit = one.shape / one.rate / (other.shape / other.rate);
            bf_estimate e;
            assert_int_equal(bf_rate_ratio(one, other, 0.9, &e), BF_OK);
            BF_CHECK_ABS(gsl_cdf_fdist_P(e.lo / unit, 2 * one.shape, 2 * other.shape), 0.05, 1e-11);
            BF_CHECK_ABS(gsl_cdf_fdist_P(e.mid / unit, 2 * one.shape, 2 * other.shape), 0.5, 1e-11);
            BF_CHECK_ABS(gsl_cdf_fdist_P(e.hi / unit, 2 * one.shape, 2 * other.shape), 0.95, 1e-11);
            if (other.shape > 1)
                BF_CHECK_REL(e.mean, unit * other.shape / (other.shape - 1), 1e-14);
            else
                assert_true(e.mean == INFINITY);
        }
}

/* The chance that the ratio is above 1 is the chance that one is greater. */
static void ratio_and_chance_agree(void **state) {
    (void)state;
    bf_gamma one = {9, 4.5}, other = {6, 5};
    double p;
    bf_estimate e;
    assert_int_equal(bf_rate_p_greater(one, other, &p), BF_OK);
    assert_int_equal(bf_rate_ratio(one, other, 2 * p - 1, &e), BF_OK); /* lo is the (1 - p)-quantile */
    BF_CHECK_ABS(e.lo, 1, 1e-12);
}

/* Truth from the prior, count from the truth. */
static void interval_covers_as_it_says(void **state) {
    (void)state;
    int reps = sample_size(10000, 100000), hits95 = 0, hits80 = 0;
    gsl_rng *rng = sample_rng(1);
    bf_gamma prior = {1.5, 0.4};
    for (int i = 0; i < reps; i++) {
        double truth = gsl_ran_gamma(rng, prior.shape, 1 / prior.rate),
               exposure = 0.2 + 5 * gsl_rng_uniform(rng);
        bf_gamma rate;
        bf_estimate e95, e80;
        assert_int_equal(bf_rate_posterior(prior, gsl_ran_poisson(rng, truth * exposure), exposure, &rate),
                         BF_OK);
        assert_int_equal(bf_rate_estimate(rate, 0.95, &e95), BF_OK);
        assert_int_equal(bf_rate_estimate(rate, 0.8, &e80), BF_OK);
        hits95 += e95.lo <= truth && truth <= e95.hi;
        hits80 += e80.lo <= truth && truth <= e80.hi;
    }
    gsl_rng_free(rng);
    check_share("rate, 95 % interval", hits95, reps, 0.95);
    check_share("rate, 80 % interval", hits80, reps, 0.8);
}

static void ratio_interval_and_chance_to_beat_hold_in_simulation(void **state) {
    (void)state;
    int reps = sample_size(10000, 100000), hits = 0;
    double expected = 0, variance = 0, won = 0;
    gsl_rng *rng = sample_rng(2);
    bf_gamma prior = {2, 0.5};
    for (int i = 0; i < reps; i++) {
        double truth[2], p;
        bf_gamma rate[2];
        for (int k = 0; k < 2; k++) {
            double exposure = 0.2 + 4 * gsl_rng_uniform(rng);
            truth[k] = gsl_ran_gamma(rng, prior.shape, 1 / prior.rate);
            assert_int_equal(
                bf_rate_posterior(prior, gsl_ran_poisson(rng, truth[k] * exposure), exposure, &rate[k]),
                BF_OK);
        }
        bf_estimate e;
        assert_int_equal(bf_rate_ratio(rate[0], rate[1], 0.95, &e), BF_OK);
        assert_int_equal(bf_rate_p_greater(rate[0], rate[1], &p), BF_OK);
        hits += e.lo <= truth[0] / truth[1] && truth[0] / truth[1] <= e.hi;
        won += truth[0] > truth[1] ? p : 1 - p; /* the chance given to what came true */
        expected += p * p + (1 - p) * (1 - p);
        variance += p * (1 - p) * (2 * p - 1) * (2 * p - 1);
    }
    gsl_rng_free(rng);
    check_share("ratio of rates, 95 % interval", hits, reps, 0.95);
    BF_CHECK_ABS(won, expected, 4.5 * sqrt(variance)); /* false alarm 7e-6 */
}

/* Coverage of the weak default whatever the rate, exactly: the sum of Poisson chances of the counts whose 95 % interval
 * holds the true rate. Counts being whole, it swings; its mean over expected counts from 2 to 50 is nominal. */
static void weak_default_covers_on_average_whatever_the_rate(void **state) {
    (void)state;
    double sum = 0, least = 1;
    bf_estimate e[200];
    for (int n = 0; n < 200; n++) {
        bf_gamma rate;
        assert_int_equal(bf_rate_posterior(BF_RATE_WEAK, n, 1, &rate), BF_OK);
        assert_int_equal(bf_rate_estimate(rate, 0.95, &e[n]), BF_OK);
    }
    int n_rates = 0;
    for (double truth = 2; truth < 50; truth += 0.01, n_rates++) {
        double coverage = 0;
        for (unsigned n = 0; n < 200; n++)
            if (e[n].lo <= truth && truth <= e[n].hi) coverage += gsl_ran_poisson_pdf(n, truth);
        sum += coverage;
        least = coverage < least ? coverage : least;
    }
    print_message("weak default, 95 %%: mean coverage %.2f %%, least %.2f %%\n", 100 * sum / n_rates,
                  100 * least);
    BF_CHECK_IN(sum / n_rates, 0.94, 0.96);
    BF_CHECK_IN(least, 0.88, 1);
}

static void header_values_hold(void **state) {
    (void)state;
    bf_gamma one = {9, 4.5}, other = {6, 5};
    bf_estimate e;
    bf_rate_forecast f;
    double p;
    assert_int_equal(bf_rate_estimate(one, 0.95, &e), BF_OK);
    BF_CHECK_ABS(e.mean, 2, 1e-15);
    BF_CHECK_ABS(e.sd, 0.6667, 5e-5);
    BF_CHECK_ABS(e.mid, 1.9264, 5e-5);
    BF_CHECK_ABS(e.lo, 0.9145, 5e-5);
    BF_CHECK_ABS(e.hi, 3.5029, 5e-5);
    assert_int_equal(bf_rate_predict(one, 1, 3, &f), BF_OK);
    BF_CHECK_ABS(f.p_none, 0.16430, 5e-6);
    BF_CHECK_ABS(f.p_equal, 0.16295, 5e-6);
    assert_int_equal(bf_rate_p_greater(one, other, &p), BF_OK);
    BF_CHECK_ABS(p, 0.841258091456885, 1e-14);
    assert_int_equal(bf_rate_ratio(one, other, 0.8, &e), BF_OK);
    BF_CHECK_ABS(e.mid, 1.699, 5e-4);
    BF_CHECK_ABS(e.lo, 0.862, 5e-4);
    BF_CHECK_ABS(e.hi, 3.458, 5e-4);
}

static void bad_data_give_the_listed_status_and_nan(void **state) {
    (void)state;
    const bf_gamma good = {2, 1};
    bf_gamma g;
    bf_estimate e;
    bf_rate_forecast f;
    double p;
    const struct {
        bf_gamma prior;
        double n, exposure;
        bf_status want;
    } rows[] = {
        {{2, 1}, NAN, 1, BF_E_NOT_FINITE}, {{2, 1}, 1, INFINITY, BF_E_NOT_FINITE},
        {{NAN, 1}, 1, 1, BF_E_NOT_FINITE}, {{2, INFINITY}, 1, 1, BF_E_NOT_FINITE},
        {{2, 1}, -1, 1, BF_E_RANGE},       {{2, 1}, 1, -1, BF_E_RANGE},
        {{0, 1}, 1, 1, BF_E_RANGE},        {{2, -1}, 1, 1, BF_E_RANGE},
        {{2, 0}, 0, 0, BF_E_RANGE},        {{2, 1}, 2e9, 1, BF_E_RANGE},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        assert_int_equal(bf_rate_posterior(rows[i].prior, rows[i].n, rows[i].exposure, &g), rows[i].want);
        assert_true(isnan(g.shape) && isnan(g.rate));
        assert_int_equal(bf_rate_log_marginal(rows[i].prior, rows[i].n, rows[i].exposure, &p), rows[i].want);
        assert_true(isnan(p));
        assert_int_equal(bf_rate_predict(rows[i].prior, rows[i].exposure, rows[i].n, &f), rows[i].want);
        assert_true(isnan(f.mean) && isnan(f.p_equal));
    }
    assert_int_equal(bf_rate_posterior(BF_RATE_WEAK, 0, 0, &g), BF_E_RANGE); /* nothing known at all */
    assert_int_equal(bf_rate_predict(good, 1, 2.5, &f), BF_E_RANGE);
    assert_int_equal(bf_rate_log_marginal(BF_RATE_WEAK, 1, 1, &p), BF_E_RANGE);
    const double levels[] = {0, 1, -1, 2};
    for (int i = 0; i < 4; i++) {
        assert_int_equal(bf_rate_estimate(good, levels[i], &e), BF_E_RANGE);
        assert_true(isnan(e.mean) && isnan(e.lo));
        assert_int_equal(bf_rate_ratio(good, good, levels[i], &e), BF_E_RANGE);
    }
    assert_int_equal(bf_rate_estimate(good, NAN, &e), BF_E_NOT_FINITE);
    assert_int_equal(bf_rate_estimate((bf_gamma){2, 0}, 0.8, &e), BF_E_RANGE);
    assert_int_equal(bf_rate_p_greater(good, (bf_gamma){2, 0}, &p), BF_E_RANGE);
    assert_int_equal(bf_rate_p_greater((bf_gamma){NAN, 1}, good, &p), BF_E_NOT_FINITE);
    assert_true(isnan(p));
    assert_true(isnan(bf_rate_quantile(good, -1)) && isnan(bf_rate_quantile((bf_gamma){-1, 1}, 0.5)));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(posterior_and_forecast_equal_the_table),
        cmocka_unit_test(one_beats_the_other_as_in_the_table),
        cmocka_unit_test(forecast_adds_up),
        cmocka_unit_test(ratio_has_the_quantiles_of_f),
        cmocka_unit_test(ratio_and_chance_agree),
        cmocka_unit_test(interval_covers_as_it_says),
        cmocka_unit_test(ratio_interval_and_chance_to_beat_hold_in_simulation),
        cmocka_unit_test(weak_default_covers_on_average_whatever_the_rate),
        cmocka_unit_test(header_values_hold),
        cmocka_unit_test(bad_data_give_the_listed_status_and_nan),
    };
    return cmocka_run_group_tests_name("rates", tests, NULL, NULL);
}
