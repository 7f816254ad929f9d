/* pool_test.c -- partial pooling of rates.
 *
 * Oracles: table pumps_eb.csv (public pump failures, fitted by an independent program); a plain search of the likelihood
 * with the C library's lgamma; a dense sum over log mean and log shape with GSL's gamma distribution; simulation with
 * GSL's generators.
 */
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>

#include "baitfall/pool.h"
#include "common/csv.h"
#include "record/sample.h"

#define TABLE 1e-8
#define MOST 400

/* ---- Empirical Bayes ---- */

static void pumps_equal_the_table(void **state) {
    (void)state;
    bf_pool_group groups[10];
    double mean[10], sd[10], a = 0, b = 0, log_likelihood = 0;
    csv_file csv;
    csv_open(&csv, "statistics/pumps_eb.csv");
    assert_true(csv_next(&csv));
    int n = 0;
    for (; csv_next(&csv); n++) {
        assert_true(n < 10);
        groups[n] = (bf_pool_group){csv_number(&csv, 1), csv_number(&csv, 2), 1};
        mean[n] = csv_number(&csv, 4);
        sd[n] = csv_number(&csv, 5);
        a = csv_number(&csv, 6);
        b = csv_number(&csv, 7);
        log_likelihood = csv_number(&csv, 8);
    }
    assert_int_equal(n, 10);
    bf_pool_fit fit;
    assert_int_equal(bf_pool_fit_groups(groups, n, &fit), BF_OK);
    assert_int_equal(fit.all_alike, 0);
    BF_CHECK_REL(fit.between.shape, a, TABLE);
    BF_CHECK_REL(fit.between.rate, b, TABLE);
    BF_CHECK_REL(fit.mean, a / b, TABLE);
    BF_CHECK_REL(fit.log_likelihood, log_likelihood, TABLE);
    for (int i = 0; i < n; i++) {
        bf_gamma rate;
        bf_estimate e;
        assert_int_equal(bf_rate_posterior(fit.between, groups[i].n, groups[i].exposure, &rate), BF_OK);
        assert_int_equal(bf_rate_estimate(rate, 0.8, &e), BF_OK);
        BF_CHECK_REL(e.mean, mean[i], TABLE);
        BF_CHECK_REL(e.sd, sd[i], TABLE);
    }
}

/* The log likelihood written out anew. */
static double log_likelihood(const bf_pool_group *g, int n, double shape, double mean) {
    double b = shape / mean, sum = 0;
    for (int i = 0; i < n; i++)
        sum += lgamma(shape + g[i].n) - lgamma(shape) - lgamma(g[i].n + 1) +
               shape * log(b / (b + g[i].exposure)) + g[i].n * log(g[i].exposure / (b + g[i].exposure));
    return sum;
}

static void sample_groups(gsl_rng *rng, bf_pool_group *g, double *truth, int n, double shape, double mean) {
    for (int i = 0; i < n; i++) {
        truth[i] = gsl_ran_gamma(rng, shape, mean / shape);
        double exposure = 0.5 + 4.5 * gsl_rng_uniform(rng);
        g[i] = (bf_pool_group){gsl_ran_poisson(rng, truth[i] * exposure), exposure, 1};
    }
}

/* No shape and mean of a fine search about the fit, or far from it, are likelier. */
static void fit_is_the_highest_point(void **state) {
    (void)state;
    gsl_rng *rng = sample_rng(5);
    int n_inside = 0;
    for (int rep = 0; rep < 40; rep++) {
        bf_pool_group g[12];
        double truth[12];
        bf_pool_fit fit;
        sample_groups(rng, g, truth, 12, 0.5 + rep % 4, 2);
        assert_int_equal(bf_pool_fit_groups(g, 12, &fit), BF_OK);
        if (fit.all_alike) continue;
        n_inside++;
        BF_CHECK_ABS(fit.log_likelihood, log_likelihood(g, 12, fit.between.shape, fit.mean), 1e-9);
        for (double s = -6; s <= 9; s += 0.05)
            for (double m = -1; m <= 1; m += 0.05)
                assert_true(log_likelihood(g, 12, exp(s), fit.mean * exp(m)) <= fit.log_likelihood + 1e-9);
        for (int i = -5; i <= 5; i++)
            for (int j = -5; j <= 5; j++)
                assert_true(log_likelihood(g, 12, fit.between.shape * (1 + 1e-3 * i),
                                           fit.mean * (1 + 1e-3 * j)) <= fit.log_likelihood + 1e-9);
    }
    gsl_rng_free(rng);
    assert_true(n_inside >= 20);
}

/* Counts that vary less than chance: one rate for all, said so. */
static void alike_groups_are_pooled_completely(void **state) {
    (void)state;
    const bf_pool_group g[] = {{10, 2, 1}, {5, 1, 1}, {16, 3, 1}, {9, 2, 1}, {0, 0, 0}};
    bf_pool_fit fit;
    assert_int_equal(bf_pool_fit_groups(g, 5, &fit), BF_OK);
    assert_int_equal(fit.all_alike, 1);
    assert_true(fit.between.shape == INFINITY && fit.between.rate == INFINITY);
    BF_CHECK_REL(fit.mean, 40.0 / 8, 1e-15);
    double poisson = 0;
    for (int i = 0; i < 4; i++)
        poisson += g[i].n * log(fit.mean * g[i].exposure) - fit.mean * g[i].exposure - lgamma(g[i].n + 1);
    BF_CHECK_REL(fit.log_likelihood, poisson, 1e-13);
    assert_true(log_likelihood(g, 4, 1e5, fit.mean) < fit.log_likelihood);
    assert_true(log_likelihood(g, 4, 100, fit.mean) < log_likelihood(g, 4, 1000, fit.mean));
}

/* The target of the statistics notes: pooled squared error at most 0.7 of the raw one at low counts. */
static void pooling_beats_raw_rates_at_low_counts(void **state) {
    (void)state;
    gsl_rng *rng = sample_rng(6);
    double raw = 0, pooled = 0;
    int reps = sample_size(400, 4000);
    for (int rep = 0; rep < reps; rep++) {
        bf_pool_group g[20];
        double truth[20];
        bf_pool_fit fit;
        sample_groups(rng, g, truth, 20, 4, 1.2); /* 20 short sessions, about 3 fish in each */
        assert_int_equal(bf_pool_fit_groups(g, 20, &fit), BF_OK);
        for (int i = 0; i < 20; i++) {
            double own = g[i].n / g[i].exposure;
            double mean =
                fit.all_alike ? fit.mean : (fit.between.shape + g[i].n) / (fit.between.rate + g[i].exposure);
            raw += (own - truth[i]) * (own - truth[i]);
            pooled += (mean - truth[i]) * (mean - truth[i]);
        }
    }
    gsl_rng_free(rng);
    print_message("squared error of empirical Bayes over raw: %.3f\n", pooled / raw);
    BF_CHECK_IN(pooled / raw, 0, 0.7);
}

/* ---- Fully Bayesian ---- */

/* Dense sum over 100 x 360 points of log shape and log mean, the whole prior range. */
typedef struct dense {
    double mean, sd, below_lo, below_mid, below_hi;
} dense;

static double log_prior(bf_pool_prior p, double shape, double mean) {
    double s = log(shape / p.shape_mid) / p.shape_log_sd, m = log(mean / p.mean_mid) / p.mean_log_sd;
    return -0.5 * (s * s + m * m);
}

static dense dense_sum(const bf_pool_group *g, int n, bf_pool_prior p, int which, const bf_estimate *e) {
    enum { SHAPES = 100, MEANS = 360 };
    double top = -INFINITY, weight = 0, first = 0, second = 0;
    dense d = {0, 0, 0, 0, 0};
    for (int pass = 0; pass < 2; pass++)
        for (int i = 0; i < SHAPES; i++)
            for (int j = 0; j < MEANS; j++) {
                double shape = p.shape_mid * exp(p.shape_log_sd * 7 * (2.0 * i / SHAPES - 1));
                double mean = p.mean_mid * exp(p.mean_log_sd * 6.5 * (2.0 * j / MEANS - 1));
                double here = log_prior(p, shape, mean), w;
                for (int k = 0; k < n; k++)
                    if (g[k].exposure > 0) here += log_likelihood(&g[k], 1, shape, mean);
                if (pass == 0 && here > top) top = here;
                if (pass == 0 || here < top - 40) continue;
                w = exp(here - top);
                double a = shape + g[which].n, b = shape / mean + g[which].exposure;
                weight += w;
                first += w * a / b;
                second += w * a * (a + 1) / b / b;
                d.below_lo += w * gsl_cdf_gamma_P(e->lo, a, 1 / b);
                d.below_mid += w * gsl_cdf_gamma_P(e->mid, a, 1 / b);
                d.below_hi += w * gsl_cdf_gamma_P(e->hi, a, 1 / b);
            }
    d.mean = first / weight;
    d.sd = sqrt(second / weight - d.mean * d.mean);
    d.below_lo /= weight;
    d.below_mid /= weight;
    d.below_hi /= weight;
    return d;
}

static void rates_equal_a_dense_sum(void **state) {
    (void)state;
    const bf_pool_group few[] = {{12, 3, 1}, {4, 2, 1}, {0, 1.5, 1}, {30, 5, 1}, {0, 0, 0}};
    const bf_pool_group none[] = {{0, 2, 1}, {0, 1, 1}};
    const bf_pool_group one[] = {{7, 2, 1}};
    const struct {
        const bf_pool_group *groups;
        int n;
    } sets[] = {{few, 5}, {none, 2}, {one, 1}};
    bf_pool_prior prior = bf_pool_weak(4);
    void *work = malloc(bf_pool_bytes(5));
    for (int s = 0; s < 3; s++) {
        bf_pool_rate rates[5];
        bf_pool pool;
        assert_int_equal(bf_pool_rates(sets[s].groups, sets[s].n, prior, 0.9, work, rates, &pool), BF_OK);
        for (int i = 0; i < sets[s].n; i++) {
            dense want = dense_sum(sets[s].groups, sets[s].n, prior, i, &rates[i].rate);
            BF_CHECK_REL(rates[i].rate.mean, want.mean, 1e-6);
            BF_CHECK_REL(rates[i].rate.sd, want.sd, 1e-5);
            BF_CHECK_ABS(want.below_lo, 0.05, 1e-6);
            BF_CHECK_ABS(want.below_mid, 0.5, 1e-6);
            BF_CHECK_ABS(want.below_hi, 0.95, 1e-6);
        }
        if (s == 0) { /* a group of which nothing is known is "another such group" */
            BF_CHECK_REL(pool.another.mean, rates[4].rate.mean, 1e-14);
            BF_CHECK_REL(pool.another.hi, rates[4].rate.hi, 1e-9);
            assert_true(isnan(rates[4].raw));
            BF_CHECK_REL(rates[0].raw, 4.0, 1e-15);
        }
    }
    free(work);
}

/* By drawing: a node of the dense grid, then every group's rate, then the highest. */
static void p_best_equals_drawing(void **state) {
    (void)state;
    const bf_pool_group g[] = {{12, 3, 1}, {4, 2, 1}, {0, 1.5, 1}, {30, 5, 1}, {0, 0, 0}, {2, 0.3, 1}};
    enum { GROUPS = 6, N = 150 };
    static double cumulative[N * N];
    bf_pool_prior prior = bf_pool_weak(4);
    double top = -INFINITY, sum = 0;
    for (int pass = 0; pass < 2; pass++)
        for (int i = 0; i < N * N; i++) {
            double shape = prior.shape_mid * exp(prior.shape_log_sd * 5 * (2.0 * (i / N) / N - 1));
            double mean = prior.mean_mid * exp(prior.mean_log_sd * 4 * (2.0 * (i % N) / N - 1));
            double here = log_prior(prior, shape, mean);
            for (int k = 0; k < GROUPS; k++)
                if (g[k].exposure > 0) here += log_likelihood(&g[k], 1, shape, mean);
            if (pass == 0 && here > top) top = here;
            if (pass == 1) cumulative[i] = sum += exp(here - top);
        }
    int wins[GROUPS] = {0}, draws = sample_size(100000, 1000000);
    gsl_rng *rng = sample_rng(7);
    for (int d = 0; d < draws; d++) {
        double u = sum * gsl_rng_uniform(rng), best = -1;
        int lo = 0, hi = N * N - 1, winner = 0;
        while (lo < hi) {
            int middle = (lo + hi) / 2;
            if (cumulative[middle] < u)
                lo = middle + 1;
            else
                hi = middle;
        }
        double shape = prior.shape_mid * exp(prior.shape_log_sd * 5 * (2.0 * (lo / N) / N - 1));
        double mean = prior.mean_mid * exp(prior.mean_log_sd * 4 * (2.0 * (lo % N) / N - 1));
        for (int k = 0; k < GROUPS; k++) {
            double rate = gsl_ran_gamma(rng, shape + g[k].n, 1 / (shape / mean + g[k].exposure));
            if (rate > best) best = rate, winner = k;
        }
        wins[winner]++;
    }
    gsl_rng_free(rng);
    void *work = malloc(bf_pool_bytes(GROUPS));
    bf_pool_rate rates[GROUPS];
    assert_int_equal(bf_pool_rates(g, GROUPS, prior, 0.8, work, rates, NULL), BF_OK);
    free(work);
    double total = 0;
    for (int k = 0; k < GROUPS; k++) {
        char name[32];
        snprintf(name, sizeof name, "best is group %d", k);
        if (rates[k].p_best > 1e-3) check_share(name, wins[k], draws, rates[k].p_best);
        total += rates[k].p_best;
    }
    BF_CHECK_ABS(total, 1, 1e-12);
}

/* Mean, shape and rates from the prior; group 0's interval, and its chance to be best. Beside it the interval of
 * empirical Bayes with its guessed prior taken for known, to show why it is not the one to show. */
static void interval_and_p_best_hold_in_simulation(void **state) {
    (void)state;
    int reps = sample_size(500, 10000), hits = 0, hits_eb = 0, n_eb = 0;
    double off = 0, variance = 0;
    enum { GROUPS = 4 };
    gsl_rng *rng = sample_rng(8);
    bf_pool_prior prior = bf_pool_weak(3);
    void *work = malloc(bf_pool_bytes(GROUPS));
    for (int rep = 0; rep < reps; rep++) {
        bf_pool_group g[GROUPS];
        double truth[GROUPS];
        double mean = prior.mean_mid * exp(gsl_ran_gaussian(rng, prior.mean_log_sd));
        double shape = prior.shape_mid * exp(gsl_ran_gaussian(rng, prior.shape_log_sd));
        sample_groups(rng, g, truth, GROUPS, shape, mean);
        bf_pool_rate rates[GROUPS];
        assert_int_equal(bf_pool_rates(g, GROUPS, prior, 0.95, work, rates, NULL), BF_OK);
        hits += rates[0].rate.lo <= truth[0] && truth[0] <= rates[0].rate.hi;
        int is_best = 1;
        for (int j = 1; j < GROUPS; j++) is_best &= truth[0] >= truth[j];
        off += is_best - rates[0].p_best;
        variance += rates[0].p_best * (1 - rates[0].p_best);
        bf_pool_fit fit;
        bf_gamma rate;
        bf_estimate e;
        if (bf_pool_fit_groups(g, GROUPS, &fit) != BF_OK || fit.all_alike) continue;
        assert_int_equal(bf_rate_posterior(fit.between, g[0].n, g[0].exposure, &rate), BF_OK);
        assert_int_equal(bf_rate_estimate(rate, 0.95, &e), BF_OK);
        n_eb++;
        hits_eb += e.lo <= truth[0] && truth[0] <= e.hi;
    }
    free(work);
    gsl_rng_free(rng);
    check_share("pooled rate, 95 % interval", hits, reps, 0.95);
    print_message("empirical Bayes, 95 %% interval: %.1f %% of %d\n", 100.0 * hits_eb / n_eb, n_eb);
    BF_CHECK_ABS(off, 0, 4.5 * sqrt(variance)); /* false alarm 7e-6 */
}

static void many_groups_are_pooled_alike_by_both_ways(void **state) {
    (void)state;
    static bf_pool_group g[MOST];
    static double truth[MOST];
    static bf_pool_rate rates[MOST];
    gsl_rng *rng = sample_rng(9);
    sample_groups(rng, g, truth, MOST, 3, 2);
    gsl_rng_free(rng);
    bf_pool_fit fit;
    bf_pool pool;
    void *work = malloc(bf_pool_bytes(MOST));
    assert_int_equal(bf_pool_fit_groups(g, MOST, &fit), BF_OK);
    assert_int_equal(bf_pool_rates(g, MOST, bf_pool_weak(2), 0.8, work, rates, &pool), BF_OK);
    free(work);
    /* with 400 groups little is unknown about the pool: both means within a few of its standard errors */
    BF_CHECK_REL(pool.mean, fit.mean, 0.02);
    BF_CHECK_REL(pool.spread, 1 / sqrt(fit.between.shape), 0.05);
    double total = 0;
    for (int i = 0; i < MOST; i++) {
        bf_gamma rate;
        assert_int_equal(bf_rate_posterior(fit.between, g[i].n, g[i].exposure, &rate), BF_OK);
        BF_CHECK_REL(rates[i].rate.mean, rate.shape / rate.rate, 0.05);
        total += rates[i].p_best;
    }
    BF_CHECK_ABS(total, 1, 1e-12);
}

/* A group is drawn towards the others, more so the less it has. */
static void little_data_borrow_more(void **state) {
    (void)state;
    const bf_pool_group g[] = {{40, 10, 6}, {44, 10, 6}, {8, 1, 1}, {80, 10, 8}};
    bf_pool_rate rates[4];
    void *work = malloc(bf_pool_bytes(4));
    assert_int_equal(bf_pool_rates(g, 4, bf_pool_weak(4), 0.8, work, rates, NULL), BF_OK);
    free(work);
    assert_true(rates[2].rate.mean < 8 && rates[3].rate.mean < 8); /* both drawn towards 4 */
    assert_true(rates[2].rate.mean < rates[3].rate.mean);
    assert_true(rates[2].rate.hi - rates[2].rate.lo > rates[3].rate.hi - rates[3].rate.lo);
    int order[4];
    bf_pool_order(rates, 4, order);
    assert_int_equal(order[0], 3);
    assert_int_equal(order[1], 2);
    for (int i = 1; i < 4; i++) assert_true(rates[order[i - 1]].p_best >= rates[order[i]].p_best);
}

static void unit_of_exposure_does_not_matter(void **state) {
    (void)state;
    bf_pool_group hours[] = {{12, 3, 1}, {4, 2, 1}, {0, 1.5, 1}}, seconds[3];
    for (int i = 0; i < 3; i++) seconds[i] = (bf_pool_group){hours[i].n, hours[i].exposure * 3600, 1};
    bf_pool_rate a[3], b[3];
    void *work = malloc(bf_pool_bytes(3));
    assert_int_equal(bf_pool_rates(hours, 3, bf_pool_weak(4), 0.8, work, a, NULL), BF_OK);
    assert_int_equal(bf_pool_rates(seconds, 3, bf_pool_weak(4 / 3600.0), 0.8, work, b, NULL), BF_OK);
    free(work);
    for (int i = 0; i < 3; i++) {
        BF_CHECK_REL(b[i].rate.lo * 3600, a[i].rate.lo, 1e-8);
        BF_CHECK_REL(b[i].rate.hi * 3600, a[i].rate.hi, 1e-8);
        BF_CHECK_ABS(b[i].p_best, a[i].p_best, 1e-6);
    }
}

static void header_values_hold(void **state) {
    (void)state;
    const bf_pool_group g[] = {{12, 3, 1}, {4, 2, 1}, {0, 1.5, 1}, {30, 5, 1}};
    bf_pool_rate rates[4];
    void *work = malloc(bf_pool_bytes(4));
    assert_int_equal(bf_pool_rates(g, 4, bf_pool_weak(4), 0.8, work, rates, NULL), BF_OK);
    free(work);
    BF_CHECK_ABS(rates[0].rate.mean, 3.87, 5e-3);
    BF_CHECK_ABS(rates[0].rate.lo, 2.61, 5e-3);
    BF_CHECK_ABS(rates[0].rate.hi, 5.25, 5e-3);
    BF_CHECK_ABS(rates[0].p_best, 0.104, 5e-4);
    BF_CHECK_ABS(rates[3].rate.mean, 5.62, 5e-3);
    BF_CHECK_ABS(rates[3].rate.lo, 4.34, 5e-3);
    BF_CHECK_ABS(rates[3].rate.hi, 6.99, 5e-3);
    BF_CHECK_ABS(rates[3].p_best, 0.885, 5e-4);
}

/* ---- The season ---- */

static void season_is_summed_by_a_factor(void **state) {
    (void)state;
    /* level[0]: size, level[1]: venue; two sizes in session 1, one of unknown size */
    const bf_pool_stretch s[] = {
        {3, 1, 1, {0, 0}},  {5, 2, 1, {1, 0}}, {1, 0.5, 1, {0, 0}}, {2, 1, 2, {0, 1}},
        {9, 1, 2, {-1, 1}}, {0, 0, 3, {1, 0}}, {4, 2, 4, {1, 0}},
    };
    bf_pool_group g[3];
    double dispersion;
    assert_int_equal(bf_pool_gather(s, 7, 0, 3, g, &dispersion), BF_OK);
    BF_CHECK_ABS(g[0].n, 6, 0);
    BF_CHECK_ABS(g[0].exposure, 2.5, 0);
    assert_int_equal(g[0].n_sessions, 2);
    BF_CHECK_ABS(g[1].n, 9, 0);
    BF_CHECK_ABS(g[1].exposure, 4, 0);
    assert_int_equal(g[1].n_sessions, 2); /* session 3 had no exposure */
    assert_true(g[2].n == 0 && g[2].exposure == 0 && g[2].n_sessions == 0);
    /* level 0: 4 in 1.5 h and 2 in 1 h, expected 3.6 and 2.4; level 1: 5 and 4, expected 4.5 each; 2 degrees */
    BF_CHECK_ABS(dispersion, 1, 0); /* chi-square 0.22 is below its degrees of freedom */
    assert_int_equal(bf_pool_gather(s, 7, 1, 2, g, &dispersion), BF_OK);
    BF_CHECK_ABS(g[0].n, 13, 0);
    assert_int_equal(g[0].n_sessions, 2);
    BF_CHECK_ABS(g[1].n, 11, 0);
    assert_int_equal(g[1].n_sessions, 1);
}

static void dispersion_is_pearsons(void **state) {
    (void)state;
    const bf_pool_stretch s[] = {
        {12, 1, 1, {0}}, {2, 1, 2, {0}}, {1, 1, 3, {0}}, {0, 1, 4, {1}}, {8, 1, 5, {1}}};
    bf_pool_group g[2];
    double dispersion;
    assert_int_equal(bf_pool_gather(s, 5, 0, 2, g, &dispersion), BF_OK);
    /* expected 5, 5, 5 and 4, 4: (49 + 9 + 16) / 5 + (16 + 16) / 4 = 22.8 over 3 degrees */
    BF_CHECK_REL(dispersion, 22.8 / 3, 1e-14);
    bf_pool_widen(g, 2, dispersion);
    BF_CHECK_REL(g[0].n / g[0].exposure, 5.0, 1e-14);
    BF_CHECK_REL(g[0].exposure, 3 / 7.6, 1e-14);
}

/* Days differ (a gamma factor of sd 0.5 a session): how often the 80 % interval of a level holds its long-run rate, with
 * and without widening. 3 levels of 8 sessions, 2 h each. */
static void widening_restores_most_of_the_coverage_when_days_differ(void **state) {
    (void)state;
    enum { LEVELS = 3, SESSIONS = 24 };
    int reps = sample_size(150, 5000), hits = 0, hits_plain = 0;
    gsl_rng *rng = sample_rng(10);
    void *work = malloc(bf_pool_bytes(LEVELS));
    for (int rep = 0; rep < reps; rep++) {
        double truth[LEVELS], dispersion;
        bf_pool_stretch s[SESSIONS];
        for (int k = 0; k < LEVELS; k++) truth[k] = gsl_ran_gamma(rng, 4, 5.0 / 4);
        for (int i = 0; i < SESSIONS; i++) {
            double day = gsl_ran_gamma(rng, 4, 0.25);
            s[i] = (bf_pool_stretch){gsl_ran_poisson(rng, 2 * day * truth[i % LEVELS]), 2, i, {i % LEVELS}};
        }
        bf_pool_group g[LEVELS];
        bf_pool_rate rates[LEVELS];
        assert_int_equal(bf_pool_gather(s, SESSIONS, 0, LEVELS, g, &dispersion), BF_OK);
        assert_int_equal(bf_pool_rates(g, LEVELS, bf_pool_weak(5), 0.8, work, rates, NULL), BF_OK);
        hits_plain += rates[0].rate.lo <= truth[0] && truth[0] <= rates[0].rate.hi;
        bf_pool_widen(g, LEVELS, dispersion);
        assert_int_equal(bf_pool_rates(g, LEVELS, bf_pool_weak(5), 0.8, work, rates, NULL), BF_OK);
        hits += rates[0].rate.lo <= truth[0] && truth[0] <= rates[0].rate.hi;
    }
    free(work);
    gsl_rng_free(rng);
    print_message("days differ: 80 %% interval covers %.1f %% plain, %.1f %% widened\n",
                  100.0 * hits_plain / reps, 100.0 * hits / reps);
    BF_CHECK_IN(1.0 * hits / reps, 0.7,
                0.9); /* not exact: quasi-Poisson; 150 repetitions have an sd of 3.3 % */
    assert_true(hits > hits_plain);
}

/* ---- Bad data ---- */

static void bad_data_give_the_listed_status_and_nan(void **state) {
    (void)state;
    void *work = malloc(bf_pool_bytes(2));
    const bf_pool_prior good = bf_pool_weak(2);
    const struct {
        bf_pool_group groups[2];
        int n;
        bf_pool_prior prior;
        double level;
        bf_status want;
    } rows[] = {
        {{{NAN, 1, 1}, {1, 1, 1}}, 2, good, 0.8, BF_E_NOT_FINITE},
        {{{1, INFINITY, 1}, {1, 1, 1}}, 2, good, 0.8, BF_E_NOT_FINITE},
        {{{-1, 1, 1}, {1, 1, 1}}, 2, good, 0.8, BF_E_RANGE},
        {{{1, -1, 1}, {1, 1, 1}}, 2, good, 0.8, BF_E_RANGE},
        {{{1, 0, 1}, {1, 1, 1}}, 2, good, 0.8, BF_E_DATA},
        {{{1, 1, 1}, {1, 1, 1}}, 2, {0, 1, 4, 1}, 0.8, BF_E_RANGE},
        {{{1, 1, 1}, {1, 1, 1}}, 2, {1, 4, 4, 1}, 0.8, BF_E_RANGE},
        {{{1, 1, 1}, {1, 1, 1}}, 2, {1, 1, 0.05, 1}, 0.8, BF_E_RANGE},
        {{{1, 1, 1}, {1, 1, 1}}, 2, {1, 1, 4, 2.5}, 0.8, BF_E_RANGE},
        {{{1, 1, 1}, {1, 1, 1}}, 2, {NAN, 1, 1, 1}, 0.8, BF_E_NOT_FINITE},
        {{{1, 1, 1}, {1, 1, 1}}, 2, good, 1, BF_E_RANGE},
        {{{1, 1, 1}, {1, 1, 1}}, 2, good, NAN, BF_E_NOT_FINITE},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        bf_pool_rate rates[2];
        bf_pool pool;
        bf_pool_fit fit;
        assert_int_equal(bf_pool_rates(rows[i].groups, 2, rows[i].prior, rows[i].level, work, rates, &pool),
                         rows[i].want);
        for (int k = 0; k < 2; k++) assert_true(isnan(rates[k].rate.mean) && isnan(rates[k].p_best));
        assert_true(isnan(pool.another.mean) && isnan(pool.spread));
        if (i > 4) continue;
        assert_int_equal(bf_pool_fit_groups(rows[i].groups, 2, &fit), rows[i].want);
        assert_true(isnan(fit.mean) && isnan(fit.between.shape) && !fit.all_alike);
    }
    free(work);
    const bf_pool_group nothing[] = {{0, 1, 1}, {0, 2, 1}}, single[] = {{5, 1, 1}, {0, 0, 0}};
    bf_pool_fit fit;
    bf_pool_rate rate;
    assert_int_equal(bf_pool_fit_groups(nothing, 2, &fit), BF_E_DATA);
    assert_int_equal(bf_pool_fit_groups(single, 2, &fit), BF_E_DATA);
    assert_int_equal(bf_pool_fit_groups(single, 0, &fit), BF_E_RANGE);
    assert_int_equal(bf_pool_fit_groups(single, 1001, &fit), BF_E_RANGE);
    assert_int_equal(bf_pool_rates(single, 0, good, 0.8, NULL, &rate, NULL), BF_E_RANGE);
    assert_true(bf_pool_bytes(0) == 0 && bf_pool_bytes(1001) == 0 && bf_pool_bytes(1000) > 0);
}

/* Wild data within the accepted ranges: every answer is a number in its order. */
static void any_accepted_data_give_numbers(void **state) {
    (void)state;
    gsl_rng *rng = sample_rng(11);
    void *work = malloc(bf_pool_bytes(6));
    int reps = sample_size(20, 500);
    for (int rep = 0; rep < reps; rep++) {
        bf_pool_group g[6];
        bf_pool_rate rates[6];
        bf_pool pool;
        int n = 1 + (int)gsl_rng_uniform_int(rng, 6);
        bf_pool_prior prior = {pow(10, gsl_ran_flat(rng, -6, 6)), gsl_ran_flat(rng, 0.01, 3),
                               pow(10, gsl_ran_flat(rng, -1, 4)), gsl_ran_flat(rng, 0.01, 2)};
        for (int i = 0; i < n; i++) {
            double exposure =
                gsl_rng_uniform(rng) < 0.2 ? 0 : pow(10, gsl_ran_flat(rng, -6, 6)) / prior.mean_mid;
            int is_none = exposure == 0 || gsl_rng_uniform(rng) < 0.4;
            g[i] = (bf_pool_group){is_none ? 0 : floor(pow(10, gsl_ran_flat(rng, 0, 4))), exposure, 1};
        }
        assert_int_equal(bf_pool_rates(g, n, prior, 0.8, work, rates, &pool), BF_OK);
        double total = 0;
        for (int i = 0; i < n; i++) {
            bf_estimate e = rates[i].rate;
            assert_true(isfinite(e.mean) && isfinite(e.sd) && isfinite(e.hi));
            assert_true(0 <= e.lo && e.lo <= e.mid && e.mid <= e.hi && rates[i].p_best >= 0);
            total += rates[i].p_best;
        }
        BF_CHECK_ABS(total, 1, 1e-12);
        assert_true(isfinite(pool.mean) && isfinite(pool.spread) && pool.another.lo <= pool.another.hi);
    }
    free(work);
    gsl_rng_free(rng);
}

static void bad_stretches_give_the_listed_status(void **state) {
    (void)state;
    const struct {
        bf_pool_stretch s[2];
        int n, factor, n_levels;
        bf_status want;
    } rows[] = {
        {{{1, 1, 2, {0}}, {1, 1, 1, {0}}}, 2, 0, 2, BF_E_RANGE},
        {{{1, 1, 1, {2}}}, 1, 0, 2, BF_E_RANGE},
        {{{1, 1, 1, {-2}}}, 1, 0, 2, BF_E_RANGE},
        {{{1, 1, 1, {0}}}, -1, 0, 2, BF_E_RANGE},
        {{{1, 1, 1, {0}}}, 1, 8, 2, BF_E_RANGE},
        {{{1, 1, 1, {0}}}, 1, -1, 2, BF_E_RANGE},
        {{{1, 1, 1, {0}}}, 1, 0, 0, BF_E_RANGE},
        {{{1, 0, 1, {0}}}, 1, 0, 2, BF_E_DATA},
        {{{NAN, 1, 1, {0}}}, 1, 0, 2, BF_E_NOT_FINITE},
        {{{1, -1, 1, {0}}}, 1, 0, 2, BF_E_RANGE},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        bf_pool_group g[2] = {{7, 7, 7}, {7, 7, 7}};
        double dispersion = 7;
        assert_int_equal(
            bf_pool_gather(rows[i].s, rows[i].n, rows[i].factor, rows[i].n_levels, g, &dispersion),
            rows[i].want);
        assert_true(isnan(dispersion));
        if (rows[i].n_levels == 2) assert_true(g[0].n == 0 && g[1].exposure == 0);
    }
    bf_pool_group g[1];
    double dispersion;
    assert_int_equal(bf_pool_gather(NULL, 0, 0, 1, g, &dispersion), BF_OK); /* an empty season is no error */
    assert_true(dispersion == 1 && g[0].exposure == 0);
}

int main(void) {
    gsl_set_error_handler_off();
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pumps_equal_the_table),
        cmocka_unit_test(fit_is_the_highest_point),
        cmocka_unit_test(alike_groups_are_pooled_completely),
        cmocka_unit_test(pooling_beats_raw_rates_at_low_counts),
        cmocka_unit_test(rates_equal_a_dense_sum),
        cmocka_unit_test(p_best_equals_drawing),
        cmocka_unit_test(interval_and_p_best_hold_in_simulation),
        cmocka_unit_test(many_groups_are_pooled_alike_by_both_ways),
        cmocka_unit_test(little_data_borrow_more),
        cmocka_unit_test(unit_of_exposure_does_not_matter),
        cmocka_unit_test(header_values_hold),
        cmocka_unit_test(season_is_summed_by_a_factor),
        cmocka_unit_test(dispersion_is_pearsons),
        cmocka_unit_test(widening_restores_most_of_the_coverage_when_days_differ),
        cmocka_unit_test(bad_data_give_the_listed_status_and_nan),
        cmocka_unit_test(any_accepted_data_give_numbers),
        cmocka_unit_test(bad_stretches_give_the_listed_status),
    };
    return cmocka_run_group_tests_name("pool", tests, NULL, NULL);
}
