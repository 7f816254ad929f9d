/* holds_test.c -- shares of a mix.
 *
 * Oracles: gsl_cdf_beta_P; numerical integration over the log odds of one density (lgamma of the C
 * library) times gsl_cdf_beta_P; simulation with GSL's Dirichlet and multinomial generators.
 */
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>

#include "baitfall/holds.h"
#include "record/sample.h"

static void share_of_a_set_is_the_beta_of_its_counts(void **state) {
    (void)state;
    const bf_mix mix = {6, {3, 2, 1, 1, 2, 1}, 1.5};
    for (uint32_t kinds = 1; kinds < 63; kinds++) {
        bf_share s;
        int n = 0, m = 0;
        for (int i = 0; i < 6; i++)
            if (kinds >> i & 1) m++, n += mix.count[i];
        assert_int_equal(bf_mix_share(&mix, kinds, 0.8, &s), BF_OK);
        assert_int_equal(s.n, n);
        assert_int_equal(s.of_n, 10);
        BF_CHECK_REL(s.a, n + 1.5 * m / 6, 1e-15);
        BF_CHECK_REL(s.b, 10 - n + 1.5 * (6 - m) / 6, 1e-15);
        BF_CHECK_REL(s.share.mean, (n + 1.5 * m / 6) / 11.5, 1e-15);
        BF_CHECK_REL(s.share.sd * s.share.sd, s.share.mean * (1 - s.share.mean) / 12.5, 1e-14);
        BF_CHECK_ABS(gsl_cdf_beta_P(s.share.lo, s.a, s.b), 0.1, 1e-11);
        BF_CHECK_ABS(gsl_cdf_beta_P(s.share.mid, s.a, s.b), 0.5, 1e-11);
        BF_CHECK_ABS(gsl_cdf_beta_P(s.share.hi, s.a, s.b), 0.9, 1e-11);
    }
}

static void set_and_its_rest_mirror(void **state) {
    (void)state;
    const bf_mix mix = {4, {12, 0, 3, 7}, 1};
    for (uint32_t kinds = 1; kinds < 15; kinds++) {
        bf_share in, out;
        assert_int_equal(bf_mix_share(&mix, kinds, 0.9, &in), BF_OK);
        assert_int_equal(bf_mix_share(&mix, 15 - kinds, 0.9, &out), BF_OK);
        BF_CHECK_ABS(in.share.lo + out.share.hi, 1, 1e-14);
        BF_CHECK_ABS(in.share.mid + out.share.mid, 1, 1e-14);
        BF_CHECK_ABS(in.share.mean + out.share.mean, 1, 1e-15);
    }
}

/* P(one > other) = integral over the log odds v of one's density times the other's distribution function. */
static double integrated(double a, double b, double c, double d) {
    double middle = log(a / b), wide = sqrt(1 / a + 1 / b), reach = 60 * (wide > 0.5 ? wide : 0.5), sum = 0;
    double h = wide < 0.2 ? wide / 40 : 0.005, log_beta = lgamma(a) + lgamma(b) - lgamma(a + b);
    for (double v = middle - reach; v < middle + reach; v += h) {
        double x = 1 / (1 + exp(-v)), y = 1 / (1 + exp(v));
        double density = exp(a * log(x) + b * log(y) - log_beta);
        if (density > 1e-30) sum += h * density * gsl_cdf_beta_P(x, c, d);
    }
    return sum;
}

static void chance_of_more_equals_integration(void **state) {
    (void)state;
    const int counts[][4] = {
        {7, 3, 3, 7},       {0, 0, 0, 0},      {1, 0, 0, 1},      {0, 0, 5, 1},     {0, 50, 50, 0},
        {200, 100, 90, 60}, {5, 1000, 3, 900}, {1000, 0, 100, 0}, {30, 10, 25, 15}, {3000, 1000, 2900, 1100}};
    for (size_t i = 0; i < sizeof counts / sizeof *counts; i++) {
        bf_mix one = {3, {counts[i][0], counts[i][1], 0}, 1.2},
               other = {3, {counts[i][2], counts[i][3], 0}, 1.2};
        double p, back;
        assert_int_equal(bf_mix_p_more(&one, &other, 1, &p), BF_OK);
        assert_int_equal(bf_mix_p_more(&other, &one, 1, &back), BF_OK);
        BF_CHECK_ABS(
            p, integrated(counts[i][0] + 0.4, counts[i][1] + 0.8, counts[i][2] + 0.4, counts[i][3] + 0.8),
            1e-10); /* the integration's own error */
        BF_CHECK_ABS(p + back, 1, 1e-12);
    }
}

/* One more on the set's side raises the chance, one more on the other side lowers it. */
static void chance_of_more_follows_the_counts(void **state) {
    (void)state;
    const bf_mix other = {2, {8, 9}, 1};
    for (int in = 0; in < 20; in++)
        for (int out = 0; out < 20; out++) {
            double p, p_in, p_out;
            assert_int_equal(bf_mix_p_more(&(bf_mix){2, {in, out}, 1}, &other, 1, &p), BF_OK);
            assert_int_equal(bf_mix_p_more(&(bf_mix){2, {in + 1, out}, 1}, &other, 1, &p_in), BF_OK);
            assert_int_equal(bf_mix_p_more(&(bf_mix){2, {in, out + 1}, 1}, &other, 1, &p_out), BF_OK);
            assert_true(p_in > p && p_out < p);
        }
}

/* Shares from the prior, counts from the shares. */
static void interval_and_chance_hold_in_simulation(void **state) {
    (void)state;
    int reps = sample_size(10000, 100000), hits = 0;
    double off = 0, variance = 0;
    gsl_rng *rng = sample_rng(4);
    const uint32_t lip = 7;
    for (int i = 0; i < reps; i++) {
        const double each[6] = {0.5, 0.5, 0.5, 0.5, 0.5, 0.5};
        bf_mix mix[2];
        double truth[2], p;
        for (int k = 0; k < 2; k++) {
            double shares[6];
            unsigned counts[6];
            gsl_ran_dirichlet(rng, 6, each, shares);
            gsl_ran_multinomial(rng, 6, 1 + (unsigned)gsl_rng_uniform_int(rng, 30), shares, counts);
            mix[k] = (bf_mix){6, {0}, 3};
            for (int j = 0; j < 6; j++) mix[k].count[j] = (int)counts[j];
            truth[k] = shares[0] + shares[1] + shares[2];
        }
        bf_share s;
        assert_int_equal(bf_mix_share(&mix[0], lip, 0.95, &s), BF_OK);
        assert_int_equal(bf_mix_p_more(&mix[0], &mix[1], lip, &p), BF_OK);
        hits += s.share.lo <= truth[0] && truth[0] <= s.share.hi;
        double said = truth[0] > truth[1] ? p : 1 - p;
        off += said - (p * p + (1 - p) * (1 - p));
        variance += p * (1 - p) * (2 * p - 1) * (2 * p - 1);
    }
    gsl_rng_free(rng);
    check_share("share, 95 % interval", hits, reps, 0.95);
    BF_CHECK_ABS(off, 0, 4.5 * sqrt(variance)); /* false alarm 7e-6 */
}

static void header_values_hold(void **state) {
    (void)state;
    bf_share s;
    double p;
    assert_int_equal(bf_mix_share(&(bf_mix){6, {3, 2, 1, 1, 2, 1}, BF_MIX_WEAK}, 7, 0.8, &s), BF_OK);
    BF_CHECK_ABS(s.a, 6.5, 0);
    BF_CHECK_ABS(s.b, 4.5, 0);
    BF_CHECK_ABS(s.share.mean, 0.5909, 5e-5);
    BF_CHECK_ABS(s.share.lo, 0.4003, 5e-5);
    BF_CHECK_ABS(s.share.hi, 0.7735, 5e-5);
    assert_int_equal(bf_mix_p_more(&(bf_mix){2, {7, 3}, 1}, &(bf_mix){2, {3, 7}, 1}, 1, &p), BF_OK);
    BF_CHECK_ABS(p, 0.964331742254, 1e-12);
}

static void empty_mix_gives_the_prior(void **state) {
    (void)state;
    bf_share s;
    assert_int_equal(bf_mix_share(&(bf_mix){2, {0, 0}, 1}, 1, 0.5, &s), BF_OK);
    assert_int_equal(s.of_n, 0);
    BF_CHECK_ABS(s.share.mid, 0.5, 1e-15);
    BF_CHECK_ABS(s.share.lo, (1 - sqrt(0.5)) / 2, 1e-14); /* arcsine law: sin^2(pi/8) */
}

static void bad_data_give_the_listed_status_and_nan(void **state) {
    (void)state;
    const bf_mix good = {3, {1, 2, 3}, 1};
    const struct {
        bf_mix mix;
        uint32_t kinds;
        double level;
        bf_status want;
    } rows[] = {
        {{1, {1}, 1}, 1, 0.8, BF_E_RANGE},
        {{0, {1}, 1}, 1, 0.8, BF_E_RANGE},
        {{17, {1}, 1}, 1, 0.8, BF_E_RANGE},
        {{3, {1, -1, 2}, 1}, 1, 0.8, BF_E_RANGE},
        {{3, {1, 2000000, 2}, 1}, 1, 0.8, BF_E_RANGE},
        {{3, {1, 2, 3}, 0}, 1, 0.8, BF_E_RANGE},
        {{3, {1, 2, 3}, 101}, 1, 0.8, BF_E_RANGE},
        {{3, {1, 2, 3}, NAN}, 1, 0.8, BF_E_NOT_FINITE},
        {good, 0, 0.8, BF_E_RANGE},
        {good, 7, 0.8, BF_E_RANGE},
        {good, 8, 0.8, BF_E_RANGE},
        {good, 1, 0, BF_E_RANGE},
        {good, 1, 1, BF_E_RANGE},
        {good, 1, NAN, BF_E_NOT_FINITE},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        bf_share s;
        assert_int_equal(bf_mix_share(&rows[i].mix, rows[i].kinds, rows[i].level, &s), rows[i].want);
        assert_true(s.n == 0 && s.of_n == 0 && isnan(s.a) && isnan(s.share.mid));
        if (rows[i].level != 0.8) continue;
        double p = 7;
        assert_int_equal(bf_mix_p_more(&rows[i].mix, &good, rows[i].kinds, &p), rows[i].want);
        assert_true(isnan(p));
        assert_int_equal(bf_mix_p_more(&good, &rows[i].mix, rows[i].kinds, &p), rows[i].want);
    }
    double p;
    assert_int_equal(bf_mix_p_more(&good, &(bf_mix){3, {1, 2, 3}, 2}, 1, &p), BF_E_RANGE);
    assert_int_equal(bf_mix_p_more(&good, &(bf_mix){4, {1, 2, 3, 0}, 1}, 1, &p), BF_E_RANGE);
}

int main(void) {
    gsl_set_error_handler_off();
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(share_of_a_set_is_the_beta_of_its_counts),
        cmocka_unit_test(set_and_its_rest_mirror),
        cmocka_unit_test(chance_of_more_equals_integration),
        cmocka_unit_test(chance_of_more_follows_the_counts),
        cmocka_unit_test(interval_and_chance_hold_in_simulation),
        cmocka_unit_test(header_values_hold),
        cmocka_unit_test(empty_mix_gives_the_prior),
        cmocka_unit_test(bad_data_give_the_listed_status_and_nan),
    };
    return cmocka_run_group_tests_name("holds", tests, NULL, NULL);
}
