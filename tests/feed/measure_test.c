/* Home measurements. The simulators below make readings from a known truth: drop times by the fall room's own
 * step-by-step fall with every piece drawn from the bag, throws by full flights; the estimator uses only a local power law
 * about the bait's middle piece. All seeds are fixed. */
#include "baitfall/measure.h"

#include "baitfall/pot.h"
#include "baitfall/random.h"
#include "baitfall/throw.h"
#include "common/check.h"

static double *work(void) {
    static double *space;
    if (!space) space = malloc(bf_measure_work_bytes());
    return space;
}

static bf_quantity exactly(double value) {
    bf_quantity quantity = {value, 0, 0};
    return quantity;
}

static bf_quantity about(double value, double pm) {
    bf_quantity quantity = {value, pm, 0};
    return quantity;
}

static bf_bait named(const char *word) {
    return bf_catalogue[bf_catalogue_find(word, strlen(word))].bait;
}

static const bf_measurement *measurement(const char *word) {
    for (int i = 0; i < bf_n_measurements; i++)
        if (strcmp(bf_measurements[i].word, word) == 0) return &bf_measurements[i];
    fail();
    return NULL;
}

static bf_status run(const char *word, const bf_measure *measure, bf_measured *out) {
    const bf_measurement *kind = measurement(word);
    bf_fault fault;
    assert_int_equal(bf_schema_check(kind->in, measure, &fault), BF_OK);
    return kind->run(measure, work(), out);
}

/* The change of a named field. */
static bf_before_after changed(const char *word, const bf_measured *out, const char *field) {
    const bf_schema *schema = measurement(word)->in;
    for (int i = 0; i < out->n_changes; i++)
        if (strcmp(schema->section[out->change[i].section].table->field[out->change[i].field].name, field) ==
            0)
            return out->change[i];
    fail();
    return out->change[0];
}

static int holds(bf_quantity range, double truth) {
    return fabs(truth - range.value) <= range.pm;
}

/* Four in five, give or take three binomial standard deviations: a false alarm in about 400. */
static void check_four_in_five(int n_held, int n) {
    double off = 3 * sqrt(0.16 * n);
    BF_CHECK_IN(n_held, 0.8 * n - off, 0.8 * n + off);
}

/* A true value for an uncertain one: normal by its give or take. */
static double truth_of(bf_quantity q, uint64_t stream, uint64_t run_index) {
    return q.value + q.pm / BF_PM_PER_SD * bf_normal(7, stream, run_index);
}

/* Wall --------------------------------------------------------------------------------------------------- */

static void wall_does_nothing_far_away_and_slows_near(void **state) {
    (void)state;
    for (double law = 0; law <= 1; law += 0.5) {
        BF_CHECK_ABS(bf_wall_factor(1e-6, 500, law), 1, 1e-5);
        double before = 1;
        for (double x = 0.05; x < 0.5; x += 0.05) {
            double factor = bf_wall_factor(x, 500, law);
            assert_true(factor > 0 && factor < before);
            before = factor;
        }
    }
}

/* Faxen's series for creeping flow (standard result), x small; law 0 is an empirical form through that limit. */
static void wall_law_nears_the_viscous_limit(void **state) {
    (void)state;
    for (double x = 0.02; x < 0.11; x += 0.02) {
        double faxen = 1 - 2.104 * x + 2.09 * x * x * x - 0.95 * pow(x, 5);
        BF_CHECK_REL(bf_wall_factor(x, 0, 0), faxen, 0.02);
    }
}

/* The larger the Reynolds number the less the wall does; law 0 at x 0.05 and Re 500 by hand: a = 45.8 / 51. */
static void wall_matters_less_when_inertia_rules(void **state) {
    (void)state;
    assert_true(bf_wall_factor(0.1, 1000, 0) > bf_wall_factor(0.1, 10, 0));
    BF_CHECK_ABS(bf_wall_factor(0.05, 500, 0), pow(0.95 / 0.9835, 45.8 / 51), 1e-12);
    BF_CHECK_ABS(bf_wall_factor(0.04, 5000, 1), 1 - 0.008, 1e-12);
}

/* Drop test ---------------------------------------------------------------------------------------------- */

enum { N_TIMES = 20 };

/* What the angler knows: the catalogue's bait, its size taken with a ruler, a jar. */
static bf_measure drop_asked(void) {
    bf_measure measure;
    bf_measure_start(&measure);
    measure.bait = named("hard-4");
    measure.bait.diameter_m.pm = 0.0001;
    measure.bait.length_m.pm = 0.0002;
    measure.drop.height_m = about(0.4, 0.003);
    measure.drop.vessel_m = about(0.12, 0.005);
    measure.drop.temp_c = about(16, 1);
    measure.drop.timing_scatter_s = 0.08;
    return measure;
}

typedef struct drop_truth {
    bf_bait bait;
    bf_lake jar;
    double height_m, vessel_m, late_s, wall_law;
} drop_truth;

static drop_truth drop_truth_of(const bf_measure *asked, uint64_t k) {
    drop_truth truth = {.bait = asked->bait, .jar = {.temp_c = exactly(truth_of(asked->drop.temp_c, 1, k))}};
    truth.bait.diameter_m = exactly(truth_of(asked->bait.diameter_m, 2, k));
    truth.bait.length_m = exactly(truth_of(asked->bait.length_m, 3, k));
    truth.bait.density_kg_m3 = exactly(truth_of(asked->bait.density_kg_m3, 4, k));
    truth.bait.drag_law_error = exactly(truth_of(asked->bait.drag_law_error, 5, k));
    truth.height_m = truth_of(asked->drop.height_m, 6, k);
    truth.vessel_m = truth_of(asked->drop.vessel_m, 7, k);
    truth.late_s = truth_of(asked->drop.late_s, 8, k);
    truth.wall_law = bf_uniform(7, 9, k);
    return truth;
}

/* One timed piece: its own size and density, its fall by bf_fall_land, slowed by the wall, and a thumb. */
static double drop_time_s(const drop_truth *truth, double timing_scatter_s, uint64_t k, uint64_t i) {
    bf_piece middle = bf_piece_of(&truth->bait, &truth->jar);
    bf_piece piece =
        bf_piece_other(&middle, &truth->bait, bf_normal(8, k, 3 * i), bf_normal(8, k, 3 * i + 1));
    bf_entry entry = {0};
    bf_floor floor = {truth->height_m, 0};
    bf_current still = bf_current_still(truth->height_m);
    bf_landing landing;
    double speed_m_s, reynolds;
    if (bf_fall_land(&piece, &entry, &still, &floor, &landing) != BF_OK) return NAN;
    assert_int_equal(bf_fall_speed(&piece, &speed_m_s, &reynolds), BF_OK);
    double wall = bf_wall_factor(piece.equivalent_m / truth->vessel_m, reynolds, truth->wall_law);
    return landing.time_s + truth->height_m / speed_m_s * (1 / wall - 1) + truth->late_s +
           timing_scatter_s * bf_normal(8, k, 3 * i + 2);
}

static void simulate_drops(bf_measure *measure, const drop_truth *truth, uint64_t k) {
    measure->drop.time_s.n = 0;
    for (uint64_t i = 0; measure->drop.time_s.n < N_TIMES; i++) {
        double time_s = drop_time_s(truth, measure->drop.timing_scatter_s, k, i);
        if (time_s > 0.1) measure->drop.time_s.at[measure->drop.time_s.n++] = time_s;
    }
}

/* 500 tests with every uncertain input at a true value of its own; binomial sd of the share is 1.8 %, and 2.8 of them are
 * allowed. */
static void twenty_drop_times_hold_the_truth_in_four_ranges_of_five_and_halve_the_catalogue(void **state) {
    (void)state;
    const int runs = check_samples(500);
    bf_measure asked = drop_asked();
    int n_acting = 0, n_real = 0, n_speed = 0;
    double pm_acting = 0;
    for (uint64_t k = 0; k < (uint64_t)runs; k++) {
        bf_measure measure = asked;
        bf_measured out;
        drop_truth truth = drop_truth_of(&asked, k);
        simulate_drops(&measure, &truth, k);
        assert_int_equal(run("drop", &measure, &out), BF_OK);

        /* The density that falls alike by the published law: excess over drag factor. */
        double water = bf_water_density_kg_m3(truth.jar.temp_c.value), real = truth.bait.density_kg_m3.value;
        double acting = water + (real - water) / (1 + 0.2 * truth.bait.drag_law_error.value);
        bf_quantity now = changed("drop", &out, "density_kg_m3").now;
        n_acting += holds(now, acting);
        pm_acting += now.pm / runs;
        assert_int_equal(out.note[0].code, BF_NOTE_ACTING_DENSITY);
        n_real += real >= out.note[0].number[0] && real <= out.note[0].number[1];

        /* What matters in the end: the speed foretold with the new bait against the true one. */
        bf_bait lo = asked.bait, hi = asked.bait;
        bf_piece true_piece = bf_piece_of(&truth.bait, &truth.jar);
        double speed, speed_lo, speed_hi, reynolds;
        lo.density_kg_m3.value = now.value - now.pm;
        hi.density_kg_m3.value = now.value + now.pm;
        bf_piece piece_lo = bf_piece_of(&lo, &truth.jar), piece_hi = bf_piece_of(&hi, &truth.jar);
        assert_int_equal(bf_fall_speed(&true_piece, &speed, &reynolds), BF_OK);
        assert_int_equal(bf_fall_speed(&piece_lo, &speed_lo, &reynolds), BF_OK);
        assert_int_equal(bf_fall_speed(&piece_hi, &speed_hi, &reynolds), BF_OK);
        n_speed += speed >= speed_lo && speed <= speed_hi;
    }
    print_message(
        "acting density held in %d, real in %d, speed in %d of %d; mean half-range %.1f of %.1f kg/m3\n",
        n_acting, n_real, n_speed, runs, pm_acting, asked.bait.density_kg_m3.pm);
    double off = 25 * sqrt(runs / 500.0);
    BF_CHECK_IN(n_acting, 0.8 * runs - off, 0.8 * runs + off);
    BF_CHECK_IN(n_real, 0.8 * runs - off, 0.8 * runs + off);
    assert_true(n_speed >= 0.8 * runs - off);
    assert_true(pm_acting <= 0.5 * asked.bait.density_kg_m3.pm);
}

/* Scatter from piece to piece is told apart from the mean and from the thumb. */
static void many_drop_times_find_the_scatter_of_the_bag(void **state) {
    (void)state;
    bf_measure asked = drop_asked();
    const double factors[] = {0.4, 1, 1.6};
    for (int i = 0; i < 3; i++) {
        double sum = 0;
        for (uint64_t k = 0; k < 20; k++) {
            bf_measure measure = asked;
            bf_measured out;
            drop_truth truth = drop_truth_of(&asked, k);
            truth.bait.density_kg_m3 = exactly(1225);
            truth.bait.drag_law_error = exactly(0);
            truth.bait.density_scatter_kg_m3 *= factors[i];
            simulate_drops(&measure, &truth, 1000 + k);
            assert_int_equal(run("drop", &measure, &out), BF_OK);
            sum += changed("drop", &out, "density_scatter_kg_m3").now.value / 20;
        }
        BF_CHECK_REL(sum, factors[i] * asked.bait.density_scatter_kg_m3, 0.25);
    }
}

static void more_times_narrow_further(void **state) {
    (void)state;
    bf_measure measure = drop_asked();
    bf_measured few, many;
    drop_truth truth = drop_truth_of(&measure, 3);
    simulate_drops(&measure, &truth, 3);
    assert_int_equal(run("drop", &measure, &many), BF_OK);
    measure.drop.time_s.n = 3;
    assert_int_equal(run("drop", &measure, &few), BF_OK);
    assert_true(changed("drop", &many, "density_kg_m3").now.pm <
                changed("drop", &few, "density_kg_m3").now.pm);
    assert_true(changed("drop", &few, "density_kg_m3").now.pm < measure.bait.density_kg_m3.pm);
    bf_before_after law = changed("drop", &few, "drag_law_error");
    assert_true(law.was.pm > 0 && law.now.value == 0 && law.now.pm == 0);
}

/* Measured a second time, the law is exact in the kit but no better known: real density has the wider range. */
static void a_second_drop_test_does_not_make_the_drag_law_certain(void **state) {
    (void)state;
    bf_measure measure = drop_asked();
    bf_measured out;
    drop_truth truth = drop_truth_of(&measure, 3);
    simulate_drops(&measure, &truth, 3);
    assert_int_equal(run("drop", &measure, &out), BF_OK);
    measure.bait.density_kg_m3 = changed("drop", &out, "density_kg_m3").now;
    measure.bait.drag_law_error = exactly(0);
    assert_int_equal(run("drop", &measure, &out), BF_OK);
    bf_quantity acting = changed("drop", &out, "density_kg_m3").now;
    double law_pm = 0.2 * (acting.value - bf_water_density_kg_m3(16)); /* drag 20 % for a cylinder */
    assert_int_equal(out.note[0].code, BF_NOTE_ACTING_DENSITY);
    double half = (out.note[0].number[1] - out.note[0].number[0]) / 2;
    BF_CHECK_REL(half, sqrt(acting.pm * acting.pm + law_pm * law_pm), 1e-3);
    for (int i = 0; i < out.n_changes; i++)
        assert_string_not_equal(bf_bait_table.field[out.change[i].field].name, "drag_law_error");
}

/* A bait far outside the catalogue's range is found all the same. */
static void good_readings_win_over_a_wrong_catalogue(void **state) {
    (void)state;
    bf_measure asked = drop_asked(), measure = asked;
    bf_measured out;
    drop_truth truth = drop_truth_of(&asked, 5);
    truth.bait.density_kg_m3 = exactly(1060);
    truth.bait.density_scatter_kg_m3 = 15;
    truth.bait.drag_law_error = exactly(0);
    simulate_drops(&measure, &truth, 5);
    assert_int_equal(run("drop", &measure, &out), BF_OK);
    bf_quantity now = changed("drop", &out, "density_kg_m3").now;
    BF_CHECK_ABS(now.value, 1060, 20);
}

static void times_no_such_bait_can_have_are_refused(void **state) {
    (void)state;
    bf_measure measure = drop_asked();
    bf_measured out;
    measure.drop.time_s.n = 10;
    for (int i = 0; i < 10; i++) measure.drop.time_s.at[i] = 0.3;
    assert_int_equal(run("drop", &measure, &out), BF_E_DATA);
    assert_int_equal(out.n_changes, 0);
}

static void readings_must_be_there(void **state) {
    (void)state;
    bf_measure measure;
    bf_fault fault;
    bf_measure_start(&measure);
    for (int i = 0; i < bf_n_measurements; i++) {
        assert_int_equal(bf_schema_check(bf_measurements[i].in, &measure, &fault), BF_E_MISSING);
        assert_string_equal(fault.section->name, "readings");
    }
}

/* Counted pot -------------------------------------------------------------------------------------------- */

static bf_measure count_asked(void) {
    bf_measure measure;
    bf_measure_start(&measure);
    measure.bait = named("hard-4");
    return measure;
}

/* Counts by the pot's own law in a world drawn from the ranges; 150 pots. */
static void counts_hold_the_true_volume_in_four_ranges_of_five(void **state) {
    (void)state;
    const int runs = check_samples(150);
    bf_measure asked = count_asked();
    int n_held = 0, n_done = 0;
    double pm = 0;
    for (uint64_t k = 0; k < (uint64_t)runs; k++) {
        static const bf_counted never;
        bf_measure measure = asked;
        bf_measured out;
        bf_pot_out full;
        bf_pot pot = asked.pot;
        bf_bait bait = asked.bait;
        bait.diameter_m.value = truth_of(bait.diameter_m, 1, k);
        bait.length_m.value = truth_of(bait.length_m, 2, k);
        pot.volume_m3.value = truth_of(pot.volume_m3, 3, k);
        if (pot.volume_m3.value < 2e-6) continue;
        n_done++;
        pot.mouth_m.value = truth_of(pot.mouth_m, 4, k);
        pot.settled_frac.value = truth_of(pot.settled_frac, 5, k);
        pot.wall_law.value = bf_uniform(7, 6, k);
        assert_int_equal(bf_pot_holds(&bait, &pot, &never, &full), BF_OK);
        measure.count.count.n = 3;
        for (int i = 0; i < 3; i++)
            measure.count.count.at[i] = floor(0.5 + full.pieces * (1 + 0.03 * bf_normal(9, k, (uint64_t)i)));
        assert_int_equal(run("count", &measure, &out), BF_OK);
        bf_quantity now = changed("count", &out, "volume_m3").now;
        n_held += holds(now, pot.volume_m3.value);
        pm += now.pm;
    }
    print_message("volume held in %d of %d; mean half-range %.2f of %.2f ml\n", n_held, n_done,
                  1e6 * pm / n_done, 1e6 * asked.pot.volume_m3.pm);
    check_four_in_five(n_held, n_done);
    assert_true(pm / n_done < 0.9 * asked.pot.volume_m3.pm);
}

static void weighed_water_gives_the_volume_and_the_count_then_the_size(void **state) {
    (void)state;
    bf_measure measure = count_asked();
    bf_measured out;
    measure.count.count.n = 1;
    measure.count.count.at[0] = 60;
    measure.count.water_kg = 0.0075;
    assert_int_equal(run("count", &measure, &out), BF_OK);
    bf_before_after volume = changed("count", &out, "volume_m3"), size = changed("count", &out, "diameter_m");
    BF_CHECK_REL(volume.now.value, 0.0075 / 998.2, 0.01);
    BF_CHECK_REL(volume.now.pm, 0.02 * volume.now.value, 0.15);
    assert_true(size.now.pm < 0.8 * size.was.pm);
    assert_true(size.was.value == measure.bait.diameter_m.value);
    /* 60 pieces are more than the middle bait's 46 or so in 7.5 ml, so the pieces must be smaller. */
    assert_true(size.now.value < size.was.value);
}

/* Weighed soak ------------------------------------------------------------------------------------------- */

/* Readings by Peleg's curve, each weighing off a little; 150 soaks of 5 weighings, less those whose truth is
 * outside the tables. */
static void weighings_hold_the_true_uptake_in_four_ranges_of_five(void **state) {
    (void)state;
    const int runs = check_samples(150);
    const double at_s[] = {300, 600, 1200, 2400, 4800};
    bf_measure asked;
    bf_measure_start(&asked);
    asked.bait = named("hard-4");
    asked.weigh.dry_kg = 0.1;
    int n_uptake = 0, n_half = 0, n_done = 0;
    double pm = 0;
    for (uint64_t k = 0; k < (uint64_t)runs; k++) {
        bf_measure measure = asked;
        bf_measured out;
        double uptake = truth_of(asked.bait.uptake_frac, 1, k),
               half_s = truth_of(asked.bait.half_uptake_s, 2, k);
        double ratio = truth_of(asked.weigh.warm_ratio, 3, k), temp_c = truth_of(asked.weigh.temp_c, 4, k);
        double cling = truth_of(asked.weigh.cling_frac, 5, k);
        if (uptake < 0.05 || half_s < 20 || ratio < 1 || cling < 0) continue;
        n_done++;
        double activation_k = log(ratio) / (1 / 283.15 - 1 / 293.15);
        double here_s = half_s / exp(activation_k * (1 / 293.15 - 1 / (temp_c + 273.15)));
        measure.weigh.at_s.n = measure.weigh.wet_kg.n = 5;
        for (int i = 0; i < 5; i++) {
            double gained =
                uptake * at_s[i] / (here_s + at_s[i]) + cling + 0.02 * bf_normal(9, k, (uint64_t)i);
            measure.weigh.at_s.at[i] = at_s[i];
            measure.weigh.wet_kg.at[i] = 0.1 * (1 + gained) + 0.0005 * bf_normal(10, k, (uint64_t)i);
        }
        assert_int_equal(run("soak", &measure, &out), BF_OK);
        bf_quantity now = changed("soak", &out, "uptake_frac").now;
        n_uptake += holds(now, uptake);
        pm += now.pm;
        n_half += holds(changed("soak", &out, "half_uptake_s").now, half_s);
    }
    print_message("uptake held in %d, half time in %d of %d; mean half-range of the uptake %.3f of %.3f\n",
                  n_uptake, n_half, n_done, pm / n_done, asked.bait.uptake_frac.pm);
    check_four_in_five(n_uptake, n_done);
    check_four_in_five(n_half, n_done);
    assert_true(pm / n_done < 0.5 * asked.bait.uptake_frac.pm);
}

static void weighings_and_times_must_pair(void **state) {
    (void)state;
    bf_measure measure;
    bf_measured out;
    bf_measure_start(&measure);
    measure.bait = named("hard-4");
    measure.weigh.dry_kg = 0.1;
    measure.weigh.at_s = (bf_list){2, {600, 1200}};
    measure.weigh.wet_kg = (bf_list){1, {0.13}};
    assert_int_equal(run("soak", &measure, &out), BF_E_COUNT);
    assert_int_equal(out.n_changes, 0);
}

/* Throws ------------------------------------------------------------------------------------------------- */

/* Every piece flies with its own speed and angle; 40 catapults of 8 pieces. */
static void throws_hold_the_true_speed_in_four_ranges_of_five(void **state) {
    (void)state;
    enum { PIECES = 8 };
    const int runs = check_samples(40);
    bf_measure asked;
    bf_measure_start(&asked);
    asked.bait = named("hard-6");
    asked.lake.wind_m_s = about(0, 0);
    int n_held = 0;
    double pm = 0;
    for (uint64_t k = 0; k < (uint64_t)runs; k++) {
        bf_measure measure = asked;
        bf_measured out;
        bf_lake lake = asked.lake;
        bf_bait bait = asked.bait;
        bait.density_kg_m3.value = truth_of(bait.density_kg_m3, 1, k);
        bait.diameter_m.value = truth_of(bait.diameter_m, 2, k);
        bait.length_m.value = truth_of(bait.length_m, 6, k);
        bait.drag_law_error.value = truth_of(bait.drag_law_error, 7, k);
        double speed = truth_of(asked.sling.speed_m_s, 3, k), angle = truth_of(asked.sling.angle_deg, 4, k);
        bf_piece piece = bf_piece_of(&bait, &lake);
        bf_air air = bf_air_of(&lake);
        measure.throws.distance_m.n = PIECES;
        for (uint64_t i = 0; i < PIECES; i++) {
            bf_release release = {.height_m = truth_of(asked.sling.height_m, 5, k),
                                  .speed_m_s = speed * (1 + 0.06 * bf_normal(11, k, 3 * i)),
                                  .angle_deg = angle + 3 * bf_normal(11, k, 3 * i + 1)};
            bf_flight flight;
            assert_int_equal(bf_throw_flight(&piece, &release, &air, 1e-6, &flight), BF_OK);
            measure.throws.distance_m.at[i] = flight.x_m + 0.2 * bf_normal(11, k, 3 * i + 2);
        }
        assert_int_equal(run("throw", &measure, &out), BF_OK);
        bf_quantity now = changed("throw", &out, "speed_m_s").now;
        n_held += holds(now, speed);
        pm += now.pm / runs;
        assert_true(changed("throw", &out, "speed_scatter_frac").now.value > 0);
    }
    print_message("speed held in %d of %d; mean half-range %.2f of %.2f m/s\n", n_held, runs, pm,
                  asked.sling.speed_m_s.pm);
    check_four_in_five(n_held, runs);
    assert_true(pm < 0.8 * asked.sling.speed_m_s.pm); /* the drag of pellets in air limits it */
}

static void a_distance_with_a_slipped_point_is_refused(void **state) {
    (void)state;
    static const double metres[] = {11, 1.15, 10.8, 11.2}; /* 11.5 was meant */
    bf_measure measure;
    bf_measured out;
    bf_measure_start(&measure);
    measure.bait = named("hard-6");
    measure.throws.distance_m.n = 4;
    for (int i = 0; i < 4; i++) measure.throws.distance_m.at[i] = metres[i];
    assert_int_equal(run("throw", &measure, &out), BF_E_DATA);
    assert_int_equal(out.n_changes, 0);
    measure.throws.distance_m.at[1] = 11.5;
    assert_int_equal(run("throw", &measure, &out), BF_OK);
    assert_int_equal(out.note[0].code, BF_NOTE_WIND_SIDE);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(wall_does_nothing_far_away_and_slows_near),
        cmocka_unit_test(wall_law_nears_the_viscous_limit),
        cmocka_unit_test(wall_matters_less_when_inertia_rules),
        cmocka_unit_test(twenty_drop_times_hold_the_truth_in_four_ranges_of_five_and_halve_the_catalogue),
        cmocka_unit_test(many_drop_times_find_the_scatter_of_the_bag),
        cmocka_unit_test(more_times_narrow_further),
        cmocka_unit_test(a_second_drop_test_does_not_make_the_drag_law_certain),
        cmocka_unit_test(good_readings_win_over_a_wrong_catalogue),
        cmocka_unit_test(times_no_such_bait_can_have_are_refused),
        cmocka_unit_test(readings_must_be_there),
        cmocka_unit_test(counts_hold_the_true_volume_in_four_ranges_of_five),
        cmocka_unit_test(weighed_water_gives_the_volume_and_the_count_then_the_size),
        cmocka_unit_test(weighings_hold_the_true_uptake_in_four_ranges_of_five),
        cmocka_unit_test(weighings_and_times_must_pair),
        cmocka_unit_test(throws_hold_the_true_speed_in_four_ranges_of_five),
        cmocka_unit_test(a_distance_with_a_slipped_point_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
