/* The season: fish by factor, and the law of waits. */
#include "record/made_fold.h"

#include "baitfall/season.h"

static void *work_for(const made_fold *m) {
    size_t n = bf_season_bytes(m->fold.n_drops, m->fold.n_stretches);
    return aligned_alloc(16, (n + 15) / 16 * 16);
}

static const bf_season_row *row_of(const bf_season_table *table, int key) {
    for (int i = 0; i < table->n_rows; i++)
        if (table->row[i].key == key) return &table->row[i];
    fail_msg("no row %d", key);
    return NULL;
}

/* ---- Keys ---- */

static void temperature_bands_begin_at_their_lower_end(void **state) {
    (void)state;
    assert_int_equal(bf_temp_band(7.99), 0);
    assert_int_equal(bf_temp_band(8), 1);
    assert_int_equal(bf_temp_band(12), 2);
    assert_int_equal(bf_temp_band(19.99), 3);
    assert_int_equal(bf_temp_band(20), 4);
    assert_int_equal(bf_temp_band(BF_NAN), -1);
    double lo, hi;
    bf_temp_band_ends(1, &lo, &hi);
    BF_CHECK_ABS(lo, 8.0, 0);
    BF_CHECK_ABS(hi, 12.0, 0);
}

/* Instants whose local month and half hour are known: 2026-04-12 09:00 UTC is April and half hour 18, or with a clock 15
 * hours ahead 13 April, half past midnight ... ; 2024-02-29 23:45 UTC is February, and March an hour east of it. */
static void months_and_half_hours_are_those_of_the_local_clock(void **state) {
    static const struct {
        double ms;
        int east_min, month, half;
    } cases[] = {{1775984400000.0, 0, 3, 18},  {1775984400000.0, 930, 3, 1}, {1709250300000.0, 0, 1, 47},
                 {1709250300000.0, 60, 2, 1},  {1735689599000.0, 0, 11, 47}, {1735689600000.0, 0, 0, 0},
                 {1735689600000.0, -1, 11, 47}};
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        static made_fold m;
        static bf_season_table table;
        made_start(&m);
        bf_session *s = made_session(&m, (cases[i].ms - MADE_START_MS) / 1000 - 600, 1);
        s->east_min = cases[i].east_min;
        made_drop(&m, 600, 60, BF_LANDED);
        void *work = work_for(&m);
        assert_int_equal(bf_season_by(&m.fold, BF_SEASON_MONTH, 0.8, work, &table), BF_OK);
        assert_int_equal(table.row[0].key, cases[i].month);
        assert_int_equal(bf_season_by(&m.fold, BF_SEASON_HALF, 0.8, work, &table), BF_OK);
        assert_int_equal(table.row[0].key, cases[i].half);
        free(work);
    }
}

/* ---- Tables ---- */

static void fish_and_hours_go_to_the_feed_of_the_drop(void **state) {
    static made_fold m;
    static bf_season_table table;
    (void)state;
    made_start(&m);
    for (int day = 0; day < 3; day++) {
        made_session(&m, 86400.0 * day, 3);
        made_feed(&m, 0, 1, BF_CLUMP);
        made_drop(&m, 60, 60, BF_LANDED);
        for (int i = 1; i <= 10; i++) made_drop(&m, 60 + 360 * i, 100, i % 2 ? BF_LANDED : BF_NOTHING);
        made_feed(&m, 3660, 2, BF_SPRINKLE);
        for (int i = 1; i <= 20; i++) made_drop(&m, 3660 + 180 * i, 100, BF_LANDED);
    }
    void *work = work_for(&m);
    assert_int_equal(bf_season_by(&m.fold, BF_SEASON_FEED, 0.8, work, &table), BF_OK);
    assert_int_equal(table.n_rows, 2);
    const bf_season_row *one = row_of(&table, 1), *two = row_of(&table, 2);
    assert_int_equal(one->n_sessions, 3);
    assert_int_equal(one->n_drops, 33);
    BF_CHECK_ABS(one->n_fish, 18.0, 0);
    BF_CHECK_REL(one->hours, 3 * (60 + 3600) / 3600.0, 1e-12);
    BF_CHECK_ABS(two->n_fish, 60.0, 0);
    BF_CHECK_REL(two->hours, 3.0, 1e-12);
    BF_CHECK_REL(two->rate.raw, 20.0, 1e-12);
    // Pooled rates lean towards each other; the better one comes first and is very likely the best.
    assert_true(table.row[0].key == 2);
    BF_CHECK_IN(two->rate.rate.mid, one->rate.rate.mid, 20);
    BF_CHECK_IN(one->rate.rate.mid, one->rate.raw, two->rate.rate.mid);
    BF_CHECK_IN(two->rate.p_best, 0.99, 1);
    assert_int_equal(bf_season_by(&m.fold, BF_SEASON_HOW, 0.8, work, &table), BF_OK);
    BF_CHECK_ABS(row_of(&table, BF_SPRINKLE)->n_fish, 60.0, 0);
    free(work);
}

static void what_has_no_key_is_counted_and_left_out(void **state) {
    static made_fold m;
    static bf_season_table table;
    (void)state;
    made_start(&m);
    made_session(&m, 0, 1);
    made_drop(&m, 100, 50, BF_LANDED); // nothing fed yet
    void *work = work_for(&m);
    assert_int_equal(bf_season_by(&m.fold, BF_SEASON_FEED, 0.8, work, &table), BF_E_MISSING);
    assert_int_equal(table.n_rows, 0);
    assert_int_equal(bf_season_by(&m.fold, BF_SEASON_TEMP, 0.8, work, &table), BF_E_MISSING);
    free(work);
    made_feed(&m, 110, 4, BF_HAND);
    made_drop(&m, 200, 50, BF_LANDED);
    work = work_for(&m);
    assert_int_equal(bf_season_by(&m.fold, BF_SEASON_FEED, 0.8, work, &table), BF_OK);
    assert_int_equal(table.n_left_out, 1);
    free(work);
}

/* Hours of a stretch are not counted twice: the drop that spans it has the rest. */
static void a_tallied_stretch_takes_its_hours_from_the_drop_around_it(void **state) {
    static made_fold m;
    static bf_season_table table;
    (void)state;
    made_start(&m);
    made_session(&m, 0, 3);
    made_feed(&m, 0, 1, BF_CLUMP);
    made_drop(&m, 600, 600, BF_LANDED);
    made_stretch(&m, 1000, 4600, 9);
    made_drop(&m, 5000, 100, BF_LANDED);
    void *work = work_for(&m);
    assert_int_equal(bf_season_by(&m.fold, BF_SEASON_FEED, 0.8, work, &table), BF_OK);
    BF_CHECK_ABS(table.row[0].n_fish, 11.0, 0);
    BF_CHECK_REL(table.row[0].hours, 5000 / 3600.0, 1e-12);
    free(work);
}

static void fish_tallied_at_one_instant_do_not_lose_the_table(void **state) {
    static made_fold m;
    static bf_season_table table;
    (void)state;
    made_start(&m);
    made_session(&m, 0, 3);
    made_feed(&m, 0, 1, BF_CLUMP);
    made_drop(&m, 3600, 600, BF_LANDED);
    made_stretch(&m, 4600, 4600, 2);
    void *work = work_for(&m);
    assert_int_equal(bf_season_by(&m.fold, BF_SEASON_FEED, 0.8, work, &table), BF_OK);
    BF_CHECK_ABS(table.row[0].n_fish, 3.0, 0);
    BF_CHECK_REL(table.row[0].hours, 601 / 3600.0, 1e-12);
    free(work);
}

/* ---- The law of waits ---- */

/* One day's waits: Weibull of power k at a rate drawn from Gamma(shape 3 as a sum of exponentials, mean), cut at 6 min. */
static bf_season_waits day_of(made_chance *c, int band, double mean, double k, int n) {
    static made_fold m;
    double rate = mean / 3 * (made_exponential(c, 1) + made_exponential(c, 1) + made_exponential(c, 1));
    made_start(&m);
    bf_session *s = made_session(&m, 0, 24);
    s->temp_c = 6 + 4 * band;
    for (int i = 0; i < n; i++) {
        double wait_min = pow(made_exponential(c, 1) / rate, 1 / k), patience = 6;
        double wait_s = 60 * (wait_min < patience ? wait_min : patience);
        if (wait_s < 0.5) wait_s = 0.5;
        made_drop(&m, 500 * (i + 1), wait_s, wait_min < patience ? BF_LANDED : BF_NOTHING);
    }
    return bf_season_waits_of(&m.fold, &m.turnaround, 0);
}

static void the_book_expects_four_minutes(void **state) {
    (void)state;
    bf_season_law book = bf_season_book();
    for (int band = -1; band < BF_N_TEMP_BANDS; band++)
        BF_CHECK_REL(bf_season_middle_wait_s(&book, band, 0.5), 240.0, 1e-12);
    BF_CHECK_REL(bf_season_middle_wait_s(&book, 0, 0.1), 72.25, 1e-2);
    BF_CHECK_REL(bf_season_middle_wait_s(&book, 0, 0.9), 1579.0, 1e-2);
}

/* One wait that ended after t, and one cut short at t, against density and survival integrated over the rate by the
 * trapezium rule. */
static void the_score_is_the_density_averaged_over_rates(void **state) {
    (void)state;
    bf_season_law law = {.i_power = 14, .shape = 2.5, .mean_any = 0.3}; // k = 1.3
    for (int band = 0; band < BF_N_TEMP_BANDS; band++) law.mean[band] = 0.3;
    for (int is_event = 0; is_event < 2; is_event++) {
        double t = 2.2, k = 1.3, b = 2.5 / 0.3, sum = 0, step = 1e-4;
        for (double rate = step; rate < 8; rate += step) {
            double prior = exp(2.5 * log(b) - lgamma(2.5) + 1.5 * log(rate) - b * rate);
            double survival = exp(-rate * pow(t, k)),
                   density = survival * (is_event ? rate * k * pow(t, k - 1) : 1);
            sum += prior * density * step;
        }
        static made_fold m;
        made_start(&m);
        made_session(&m, 0, 1);
        made_drop(&m, 1000, 60 * t, is_event ? BF_LANDED : BF_NOTHING);
        bf_season_waits waits = bf_season_waits_of(&m.fold, &m.turnaround, 0);
        BF_CHECK_ABS(bf_season_log_score(&law, &waits), log(sum), 1e-6);
    }
}

static void the_law_that_made_the_waits_is_learned(void **state) {
    static bf_season_waits waits[300];
    (void)state;
    made_chance c = {5};
    double mean[BF_N_TEMP_BANDS] = {0.12, 0.18, 0.25, 0.33, 0.4};
    for (int i = 0; i < 300; i++) waits[i] = day_of(&c, i % 5, mean[i % 5], 1.3, 60);
    bf_season_law law = bf_season_learn(waits, 300);
    assert_int_equal(law.n_sessions, 300);
    BF_CHECK_ABS(bf_season_power(law.i_power), 1.3, 0.051);
    BF_CHECK_REL(law.shape, 3.0, 0.25);
    for (int band = 0; band < 5; band++) BF_CHECK_REL(law.mean[band], mean[band], 0.25);
}

/* The posterior of the header, written down again: no step away from the learned law is higher. */
static double posterior(const bf_season_law *law, const bf_season_waits *waits, int n) {
    double sum = 0, mu = 0, off = (log(law->shape) - log(4));
    for (int i = 0; i < n; i++) sum += bf_season_log_score(law, &waits[i]);
    for (int band = 0; band < BF_N_TEMP_BANDS; band++) mu += log(law->mean[band]) / BF_N_TEMP_BANDS;
    for (int band = 0; band < BF_N_TEMP_BANDS; band++) sum -= 2 * pow(log(law->mean[band]) - mu, 2);
    return sum - off * off / 2 - pow(log(bf_season_power(law->i_power)) / 0.3, 2) / 2;
}

static void no_step_away_from_the_learned_law_is_likelier(void **state) {
    static bf_season_waits waits[25];
    (void)state;
    made_chance c = {6};
    for (int i = 0; i < 25; i++) waits[i] = day_of(&c, i % 5, 0.2, 1.1, 30);
    bf_season_law law = bf_season_learn(waits, 25);
    double top = posterior(&law, waits, 25);
    for (int direction = -1; direction <= 1; direction += 2) {
        bf_season_law other = law;
        other.shape *= exp(0.02 * direction);
        assert_true(posterior(&other, waits, 25) < top);
        for (int band = 0; band < BF_N_TEMP_BANDS; band++) {
            other = law;
            other.mean[band] *= exp(0.02 * direction);
            assert_true(posterior(&other, waits, 25) < top);
        }
        other = law; // another power moves the best shape and means too: learned about it
        other.i_power += direction;
        assert_true(posterior(&other, waits, 25) < top);
    }
}

static void a_band_never_fished_expects_what_the_others_have_in_common(void **state) {
    static bf_season_waits waits[20];
    (void)state;
    made_chance c = {7};
    for (int i = 0; i < 20; i++) waits[i] = day_of(&c, 2, 0.3, 1, 40);
    bf_season_law law = bf_season_learn(waits, 20);
    BF_CHECK_REL(law.mean[0], law.mean_any, 1e-12);
    BF_CHECK_REL(law.mean[2], law.mean_any, 1e-4);
}

static void nothing_learned_is_the_book(void **state) {
    (void)state;
    bf_season_law book = bf_season_book(), law = bf_season_learn(NULL, 0);
    assert_memory_equal(&law, &book, sizeof law);
    bf_season_waits none = {.band = 1};
    law = bf_season_learn(&none, 1);
    assert_memory_equal(&law, &book, sizeof law);
}

static void the_gain_needs_five_sessions_to_learn_from(void **state) {
    static bf_season_waits waits[15];
    bf_banded gain;
    (void)state;
    made_chance c = {8};
    for (int i = 0; i < 15; i++) waits[i] = day_of(&c, i % 5, 0.3, 1.3, 40);
    assert_int_equal(bf_season_gain(waits, 14, 10, 0.95, &gain), BF_E_MISSING);
    assert_true(isnan(gain.value));
    assert_int_equal(bf_season_gain(waits, 15, 10, 0.95, &gain), BF_OK);
    BF_CHECK_IN(gain.value, gain.lower, gain.upper);
    assert_int_equal(bf_season_gain(waits, 9, 10, 0.95, &gain), BF_E_MISSING);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(temperature_bands_begin_at_their_lower_end),
        cmocka_unit_test(months_and_half_hours_are_those_of_the_local_clock),
        cmocka_unit_test(fish_and_hours_go_to_the_feed_of_the_drop),
        cmocka_unit_test(what_has_no_key_is_counted_and_left_out),
        cmocka_unit_test(a_tallied_stretch_takes_its_hours_from_the_drop_around_it),
        cmocka_unit_test(fish_tallied_at_one_instant_do_not_lose_the_table),
        cmocka_unit_test(the_book_expects_four_minutes),
        cmocka_unit_test(the_score_is_the_density_averaged_over_rates),
        cmocka_unit_test(the_law_that_made_the_waits_is_learned),
        cmocka_unit_test(no_step_away_from_the_learned_law_is_likelier),
        cmocka_unit_test(a_band_never_fished_expects_what_the_others_have_in_common),
        cmocka_unit_test(nothing_learned_is_the_book),
        cmocka_unit_test(the_gain_needs_five_sessions_to_learn_from),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
