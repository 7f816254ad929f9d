/* Measurements of tackle and aim: simulated with fixed seeds against known truths, and by hand. What is claimed to hold 8 times in 10
 * is counted: off by more than three binomial standard deviations is a failure, a false alarm once in about 400. */
#include "baitfall/tackle_measure.h"

#include "baitfall/random.h"
#include "baitfall/water.h"
#include "common/check.h"

static double *work(void) {
    static double *space;
    if (!space) space = malloc(bf_tackle_measure_work_bytes());
    return space;
}

static int n_runs(void) {
    return getenv("BF_LONG") ? 400 : 60;
}

static bf_tackle_measure started(void) {
    bf_tackle_measure measure;
    bf_tackle_measure_start(&measure);
    return measure;
}

static const bf_measurement *measurement(const char *word) {
    for (int i = 0; i < bf_n_tackle_measurements; i++)
        if (strcmp(bf_tackle_measurements[i].word, word) == 0) return &bf_tackle_measurements[i];
    fail();
    return NULL;
}

static bf_status run(const char *word, const bf_tackle_measure *measure, bf_measured *out) {
    bf_fault fault;
    assert_int_equal(bf_schema_check(measurement(word)->in, measure, &fault), BF_OK);
    return measurement(word)->run(measure, work(), out);
}

static bf_quantity now_of(const char *word, const bf_measured *out, const char *field) {
    const bf_schema *schema = measurement(word)->in;
    for (int i = 0; i < out->n_changes; i++) {
        const bf_before_after *change = &out->change[i];
        if (strcmp(schema->section[change->section].table->field[change->field].name, field) == 0)
            return change->now;
    }
    fail();
    return out->change[0].now;
}

static int has_note(const bf_measured *out, bf_note_code code) {
    for (int i = 0; i < out->n_notes; i++)
        if (out->note[i].code == code) return 1;
    return 0;
}

static int holds(bf_quantity range, double truth) {
    return fabs(truth - range.value) <= range.pm;
}

static void check_held(int n_held, int n, double expected) {
    double off = 3 * sqrt(expected * (1 - expected) * n);
    BF_CHECK_IN(n_held, expected * n - off, expected * n + off);
}

static void check_four_in_five(int n_held, int n) {
    check_held(n_held, n, 0.8);
}

static double normal(uint64_t stream, int i, int j) {
    return bf_normal(11, stream, (uint64_t)i * 64 + (uint64_t)j);
}

static double truth_of(bf_quantity q, uint64_t stream, int i) {
    return q.value + q.pm / BF_PM_PER_SD * normal(stream, i, 63);
}

static void add(bf_list *list, double value) {
    list->at[list->n++] = value;
}

/* Float -------------------------------------------------------------------------------------------------- */

static void weighed_shot_fix_a_floats_capacity(void **state) {
    (void)state;
    bf_tackle_measure measure = started();
    bf_measured out;
    add(&measure.tube.took_kg, 0.00037);
    add(&measure.tube.took_kg, 0.00038);
    measure.tube.mass_frac = bf_exactly(1);
    assert_int_equal(run("float", &measure, &out), BF_OK);
    bf_quantity capacity = now_of("float", &out, "capacity_kg"),
                frac = now_of("float", &out, "capacity_frac");
    BF_CHECK_ABS(capacity.value, 0.000375, 4e-6);
    assert_true(capacity.pm < 0.04 * capacity.value);
    BF_CHECK_ABS(frac.value, 1, 0);
    BF_CHECK_REL(frac.pm, capacity.pm / capacity.value, 1e-12);
    assert_false(has_note(&out, BF_NOTE_WEIGH_SHOT));
}

/* Shot counted by trade size say less, and that is told. */
static void shot_by_trade_size_say_less(void **state) {
    (void)state;
    bf_tackle_measure measure = started();
    bf_measured out;
    add(&measure.tube.took_kg, 0.00037);
    assert_int_equal(run("float", &measure, &out), BF_OK);
    bf_quantity frac = now_of("float", &out, "capacity_frac");
    assert_true(frac.pm > 0.05 && frac.pm < measure.rig.flt.capacity_frac.pm);
    assert_true(has_note(&out, BF_NOTE_WEIGH_SHOT));
}

/* 0.4 g of lead weighs in water as 0.4227 g of tin (tackle.md 1: 5.68 % more). */
static void tin_in_the_tube_is_counted_as_lead(void **state) {
    (void)state;
    bf_tackle_measure measure = started();
    bf_measured out;
    add(&measure.tube.took_kg, 0.0004 * 1.0568);
    measure.tube.metal = BF_TIN;
    measure.tube.mass_frac = bf_exactly(1);
    assert_int_equal(run("float", &measure, &out), BF_OK);
    BF_CHECK_REL(now_of("float", &out, "capacity_kg").value, 0.0004, 0.004);
}

static void float_ranges_hold_the_truth_four_times_in_five(void **state) {
    (void)state;
    int held = 0, n = n_runs();
    double mean_pm = 0;
    for (int i = 0; i < n; i++) {
        bf_tackle_measure measure = started();
        bf_measured out;
        double capacity_kg = 0.0004 * truth_of(measure.rig.flt.capacity_frac, 1, i);
        double mass_frac = truth_of(measure.tube.mass_frac, 2, i);
        for (int j = 0; j < 2; j++)
            add(&measure.tube.took_kg, capacity_kg / mass_frac + 1e-5 * normal(3, i, j));
        assert_int_equal(run("float", &measure, &out), BF_OK);
        held += holds(now_of("float", &out, "capacity_kg"), capacity_kg);
        mean_pm += now_of("float", &out, "capacity_frac").pm / n;
    }
    print_message("float: %d of %d held, give or take %.3f\n", held, n, mean_pm);
    check_four_in_five(held, n);
}

static void a_try_with_a_slipped_digit_is_refused(void **state) {
    (void)state;
    bf_tackle_measure measure = started();
    bf_measured out;
    add(&measure.tube.took_kg, 0.00037);
    add(&measure.tube.took_kg, 0.00073);
    assert_int_equal(run("float", &measure, &out), BF_E_DATA);
    assert_int_equal(out.n_changes, 0);
}

static void a_float_that_took_ten_times_its_rating_is_refused(void **state) {
    (void)state;
    bf_tackle_measure measure = started();
    bf_measured out;
    add(&measure.tube.took_kg, 0.004);
    add(&measure.tube.took_kg, 0.0041);
    assert_int_equal(run("float", &measure, &out), BF_E_DATA);
    assert_int_equal(out.n_changes, 0);
}

/* Elastic ------------------------------------------------------------------------------------------------ */

/* Forces of elastic_force.csv, solid 1.2 mm (computed apart): the law itself is found again. */
static void an_elastic_that_follows_the_law_is_found_to(void **state) {
    (void)state;
    const double stretch[5] = {1.5, 2, 3, 4, 5}, force_n[5] = {0.4454, 0.6685, 0.9759, 1.34, 1.926};
    for (double times = 0.8; times < 1.5; times += 0.3) {
        bf_tackle_measure measure = started();
        bf_measured out;
        measure.elastic.outer_m = 0.0012;
        measure.pull.rest_m = 0.3;
        for (int i = 0; i < 5; i++) {
            add(&measure.pull.long_m, 0.3 * stretch[i]);
            add(&measure.pull.load_kg, times * force_n[i] / BF_GRAVITY_M_S2);
        }
        assert_int_equal(run("pull", &measure, &out), BF_OK);
        bf_quantity frac = now_of("pull", &out, "force_frac");
        BF_CHECK_REL(frac.value, times, 0.04);
        assert_true(frac.pm < 0.12 && frac.pm > 0.02);
    }
}

/* Hung on in order of weight. */
static void sort_pulls(bf_pull_test *pull) {
    double *load = pull->load_kg.at, *length = pull->long_m.at;
    for (int i = 1; i < pull->load_kg.n; i++)
        for (int k = i; k > 0 && load[k] < load[k - 1]; k--) {
            double lighter = load[k], its = length[k];
            load[k] = load[k - 1], length[k] = length[k - 1];
            load[k - 1] = lighter, length[k - 1] = its;
        }
}

static void elastic_ranges_hold_the_truth_four_times_in_five(void **state) {
    (void)state;
    int held = 0, n = n_runs();
    double mean_pm = 0;
    for (int i = 0; i < n; i++) {
        bf_tackle_measure measure = started();
        bf_measured out;
        bf_elastic real = measure.elastic;
        real.force_frac.value = truth_of(measure.elastic.force_frac, 11, i);
        measure.pull.rest_m = 0.4;
        for (int j = 0; j < 5; j++) {
            double stretch = 1.5 + 0.7 * j;
            double pull_n =
                bf_elastic_pull_n(&real, stretch) * (1 + measure.pull.law_scatter_frac * normal(12, i, j));
            add(&measure.pull.long_m, 0.4 * stretch + measure.pull.tape_scatter_m * normal(13, i, j));
            add(&measure.pull.load_kg,
                pull_n / BF_GRAVITY_M_S2 + measure.pull.scale_scatter_kg * normal(14, i, j));
        }
        sort_pulls(&measure.pull);
        assert_int_equal(run("pull", &measure, &out), BF_OK);
        bf_quantity frac = now_of("pull", &out, "force_frac");
        held += holds(frac, real.force_frac.value);
        mean_pm += frac.pm / n;
    }
    print_message("pull: %d of %d held, give or take %.3f\n", held, n, mean_pm);
    check_four_in_five(held, n);
    BF_CHECK_IN(mean_pm, 0.04, 0.09);
}

static void lengths_that_cannot_be_are_refused(void **state) {
    (void)state;
    bf_tackle_measure measure = started();
    bf_measured out;
    measure.pull.rest_m = 0.5;
    add(&measure.pull.load_kg, 0.1);
    add(&measure.pull.long_m, 0.5);
    assert_int_equal(run("pull", &measure, &out), BF_E_DATA); /* no longer than at rest */
    add(&measure.pull.load_kg, 0.2);
    assert_int_equal(run("pull", &measure, &out), BF_E_COUNT);
    add(&measure.pull.long_m, 1.0);
    measure.pull.long_m.at[0] = 1.2; /* let go again */
    measure.pull.load_kg.at[0] = 0.3;
    assert_int_equal(run("pull", &measure, &out), BF_E_RANGE);
    measure.pull.load_kg.at[0] = 0.2;
    assert_int_equal(run("pull", &measure, &out), BF_E_RANGE);
    measure.pull.load_kg.at[0] = 0.1;
    measure.pull.long_m = measure.pull.load_kg;
    measure.pull.long_m.at[0] = 1, measure.pull.long_m.at[1] = 1.5;
    measure.elastic.bore_m = measure.elastic.outer_m;
    assert_int_equal(run("pull", &measure, &out), BF_E_DATA); /* no rubber in it */
}

/* Line --------------------------------------------------------------------------------------------------- */

/* What is kept is for the next knot: it must hold the load at which one more breaks. */
static void the_next_knot_breaks_within_the_range_four_times_in_five(void **state) {
    (void)state;
    int held = 0, n = n_runs();
    double mean_pm = 0;
    for (int i = 0; i < n; i++) {
        bf_tackle_measure measure = started();
        bf_measured out;
        bf_fishing_line real = measure.rig.hooklength;
        real.strength_frac.value = truth_of(measure.rig.hooklength.strength_frac, 21, i);
        double balance = truth_of(measure.broke.balance_frac, 22, i), next_n = 0;
        for (int j = 0; j < 6; j++) {
            double broke_n = bf_line_break_n(&real) * exp(measure.broke.knot_scatter_frac * normal(23, i, j));
            if (j < 5) add(&measure.broke.broke_kg, broke_n / balance / BF_GRAVITY_M_S2);
            next_n = broke_n;
        }
        assert_int_equal(run("break", &measure, &out), BF_OK);
        bf_quantity break_n = now_of("break", &out, "break_n"), frac = now_of("break", &out, "strength_frac");
        held += holds(break_n, next_n);
        mean_pm += frac.pm / n;
        BF_CHECK_ABS(frac.value, 1, 0);
    }
    print_message("break: %d of %d held, give or take %.3f\n", held, n, mean_pm);
    check_four_in_five(held, n);
    BF_CHECK_IN(mean_pm, 0.08, 0.15);
}

static void breaks_that_no_line_of_that_diameter_could_hold_are_refused(void **state) {
    (void)state;
    bf_tackle_measure measure = started();
    bf_measured out;
    add(&measure.broke.broke_kg, 40);
    add(&measure.broke.broke_kg, 41);
    assert_int_equal(run("break", &measure, &out), BF_E_DATA);
}

/* The main line when that is what was broken, and only it. */
static void the_line_that_was_broken_is_the_one_that_changes(void **state) {
    (void)state;
    for (int of = BF_THE_HOOKLENGTH; of <= BF_THE_MAIN_LINE; of++) {
        bf_tackle_measure measure = started();
        bf_measured out;
        measure.broke.of = of;
        for (int i = 0; i < 3; i++) add(&measure.broke.broke_kg, 0.8 + 0.02 * i);
        assert_int_equal(run("break", &measure, &out), BF_OK);
        assert_int_equal(out.n_changes, 2);
        for (int i = 0; i < 2; i++)
            assert_string_equal(bf_break_schema.section[out.change[i].section].name,
                                of == BF_THE_HOOKLENGTH ? "rig.hooklength" : "rig.line");
        BF_CHECK_REL(now_of("break", &out, "break_n").value, 0.82 * BF_GRAVITY_M_S2, 0.03);
    }
}

/* Shot --------------------------------------------------------------------------------------------------- */

static bf_tackle_measure no_8_weighed(double count, double together_kg, double scatter_kg) {
    bf_tackle_measure measure = started();
    measure.heap.size = bf_shot_size_find("No 8");
    measure.heap.count = count;
    measure.heap.together_kg = together_kg;
    measure.heap.scale_scatter_kg = scatter_kg;
    return measure;
}

/* Two normal beliefs together, by hand: chart 60 +- 6 mg, scales 66 +- 6 mg -> 63 +- 4.243 mg, half the chart's range up; the
 * rig's other sizes 0.3 of the range more uncertain. */
static void chart_and_scales_are_weighed_by_how_well_they_know(void **state) {
    (void)state;
    bf_measured out;
    bf_tackle_measure measure = no_8_weighed(10, 0.00066, 6e-5 / BF_PM_PER_SD);
    assert_int_equal(run("weigh", &measure, &out), BF_OK);
    bf_quantity error = now_of("weigh", &out, "shot_error");
    BF_CHECK_REL(error.value, 0.5, 1e-12);
    BF_CHECK_REL(error.pm, sqrt(0.5 + 0.09), 1e-12);
    assert_int_equal(out.note[0].code, BF_NOTE_SHOT_MASS);
    BF_CHECK_REL(out.note[0].number[1], 6.3e-5, 1e-12);
    BF_CHECK_REL(out.note[0].number[2], 6e-6 / sqrt(2), 1e-12);
    assert_true(has_note(&out, BF_NOTE_WEIGH_MORE)); /* 7 % */
}

/* What is kept gives the mass back: 20 No 8 of 64 mg. */
static void fine_scales_rule(void **state) {
    (void)state;
    bf_measured out;
    bf_tackle_measure measure = no_8_weighed(20, 0.00128, 1e-6);
    assert_int_equal(run("weigh", &measure, &out), BF_OK);
    bf_shot shot = {.size = measure.heap.size, .mass_kg = BF_NAN};
    BF_CHECK_REL(bf_shot_mass_kg(&shot, now_of("weigh", &out, "shot_error").value), 6.4e-5, 1e-3);
    BF_CHECK_REL(out.note[0].number[1], 6.4e-5, 1e-3);
    assert_int_equal(out.n_notes, 1);
}

static void another_size_on_the_scales_is_refused(void **state) {
    (void)state;
    bf_measured out;
    bf_tackle_measure ten_instead_of_one = no_8_weighed(1, 0.0006, 1e-6),
                      half = no_8_weighed(10, 0.00029, 1e-6);
    assert_int_equal(run("weigh", &ten_instead_of_one, &out), BF_E_DATA);
    assert_int_equal(run("weigh", &half, &out), BF_E_DATA);
    assert_int_equal(out.n_changes, 0);
}

/* Aim ---------------------------------------------------------------------------------------------------- */

/* Ten drops, none unsteady: t(0.90; 9) = 1.383, chi-square(9) 4.168 and 14.684 at 0.10 and 0.90 (printed tables). */
static void ten_drops_by_hand(void **state) {
    (void)state;
    const double out_cm[10] = {4, -2, 1, 7, 3, 0, -3, 5, 2, 3},
                 right_cm[10] = {1, 0, -2, 2, 1, -1, 0, 3, -3, -1};
    bf_tackle_measure measure = started();
    bf_measured out;
    double sum = 0, squares = 0;
    for (int i = 0; i < 10; i++) {
        add(&measure.ring.out_m, out_cm[i] / 100);
        add(&measure.ring.right_m, right_cm[i] / 100);
        sum += out_cm[i] / 100;
        squares += out_cm[i] * out_cm[i] / 1e4;
    }
    measure.ring.distance_m = 11.5;
    measure.aim.steady_m = bf_exactly(0);
    assert_int_equal(run("aim", &measure, &out), BF_OK);
    bf_quantity ship = now_of("aim", &out, "ship_m"), bearing = now_of("aim", &out, "bearing_deg");
    double about_mean = squares - sum * sum / 10, s = sqrt(about_mean / 9);
    BF_CHECK_REL(ship.value, sum / 10, 1e-12);
    BF_CHECK_REL(ship.pm, 1.383 * s * sqrt(1.1), 3e-4);
    BF_CHECK_ABS(bearing.value, 0, 1e-12);
    BF_CHECK_REL(bearing.pm, atan(1.383 * sqrt(30.0 / 9 / 1e4) * sqrt(1.1) / 11.5) * 180 / acos(-1), 3e-4);
    assert_int_equal(out.note[0].code, BF_NOTE_AIM_SCATTER);
    BF_CHECK_REL(out.note[0].number[1], sqrt(about_mean / 14.684), 1e-4);
    BF_CHECK_REL(out.note[0].number[2], sqrt(about_mean / 4.168), 1e-4);
}

/* The next drop, both axes, for few and many drops, with an unsteady tip whose size is looked at. */
static void the_next_drop_lies_within_the_range_four_times_in_five(void **state) {
    (void)state;
    const int drops[3] = {3, 6, 20};
    for (int kind = 0; kind < 3; kind++) {
        int held_out = 0, held_right = 0, held_steady = 0, n = 10 * n_runs();
        for (int i = 0; i < n; i++) {
            uint64_t stream = 100 * (uint64_t)(kind + 1);
            bf_tackle_measure measure = started();
            bf_measured out;
            double bias_m = 0.05 * normal(stream, i, 0), ship_sd = 0.04, side_sd = 0.05;
            for (int j = 0; j < drops[kind]; j++) {
                add(&measure.ring.out_m, bias_m + ship_sd * normal(stream + 1, i, j));
                add(&measure.ring.right_m, side_sd * normal(stream + 2, i, j));
            }
            double sees_m = 0.01;
            for (int j = 0; j < 6; j++)
                add(&measure.ring.held_m,
                    hypot(sees_m * normal(stream + 3, i, j), sees_m * normal(stream + 4, i, j)));
            measure.ring.distance_m = 11;
            assert_int_equal(run("aim", &measure, &out), BF_OK);
            /* What is left of the scatter without the unsteady part. */
            double ship_m = bias_m + sqrt(ship_sd * ship_sd - sees_m * sees_m) * normal(stream + 1, i, 60);
            double side_m = sqrt(side_sd * side_sd - sees_m * sees_m) * normal(stream + 2, i, 60);
            held_out += holds(now_of("aim", &out, "ship_m"), ship_m);
            held_right += holds(now_of("aim", &out, "bearing_deg"), atan2(side_m, 11) * 180 / acos(-1));
            held_steady += holds(now_of("aim", &out, "steady_m"), sees_m * normal(stream + 3, i, 60));
        }
        print_message("aim, %d drops: %d %d %d of %d held\n", drops[kind], held_out, held_right, held_steady,
                      n);
        double expected = drops[kind] == 3 ? 0.78 : 0.8; /* as the header says */
        check_held(held_out, n, expected);
        check_held(held_right, n, expected);
        check_four_in_five(held_steady, n);
    }
}

static void unsteadiness_takes_three_quarters_at_the_most(void **state) {
    (void)state;
    bf_tackle_measure measure = started();
    bf_measured steady, shaky;
    for (int i = 0; i < 8; i++) {
        add(&measure.ring.out_m, i % 2 ? 0.02 : -0.02);
        add(&measure.ring.right_m, i % 2 ? 0.02 : -0.02);
    }
    measure.ring.distance_m = 8;
    measure.aim.steady_m = bf_exactly(0);
    assert_int_equal(run("aim", &measure, &steady), BF_OK);
    measure.aim.steady_m = (bf_quantity){0, 0.2, 0};
    assert_int_equal(run("aim", &measure, &shaky), BF_OK);
    BF_CHECK_REL(now_of("aim", &shaky, "ship_m").pm,
                 now_of("aim", &steady, "ship_m").pm * sqrt((0.25 + 0.125) / 1.125), 1e-12);
}

static void two_drops_or_offsets_without_their_pair_are_refused(void **state) {
    (void)state;
    bf_tackle_measure measure = started();
    bf_measured out;
    for (int i = 0; i < 2; i++) add(&measure.ring.out_m, 0.01 * i), add(&measure.ring.right_m, 0.01);
    measure.ring.distance_m = 8;
    assert_int_equal(run("aim", &measure, &out), BF_E_COUNT);
    add(&measure.ring.out_m, 0.02);
    assert_int_equal(run("aim", &measure, &out), BF_E_COUNT);
}

static void what_must_be_given_is_asked_for(void **state) {
    (void)state;
    for (int i = 0; i < bf_n_tackle_measurements; i++) {
        const bf_measurement *how = &bf_tackle_measurements[i];
        bf_tackle_measure measure;
        bf_fault fault;
        how->start(&measure);
        assert_int_equal(bf_schema_check(how->in, &measure, &fault), BF_E_MISSING);
        assert_string_equal(fault.section->name, "readings");
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(weighed_shot_fix_a_floats_capacity),
        cmocka_unit_test(shot_by_trade_size_say_less),
        cmocka_unit_test(tin_in_the_tube_is_counted_as_lead),
        cmocka_unit_test(float_ranges_hold_the_truth_four_times_in_five),
        cmocka_unit_test(a_try_with_a_slipped_digit_is_refused),
        cmocka_unit_test(a_float_that_took_ten_times_its_rating_is_refused),
        cmocka_unit_test(an_elastic_that_follows_the_law_is_found_to),
        cmocka_unit_test(elastic_ranges_hold_the_truth_four_times_in_five),
        cmocka_unit_test(lengths_that_cannot_be_are_refused),
        cmocka_unit_test(the_next_knot_breaks_within_the_range_four_times_in_five),
        cmocka_unit_test(breaks_that_no_line_of_that_diameter_could_hold_are_refused),
        cmocka_unit_test(the_line_that_was_broken_is_the_one_that_changes),
        cmocka_unit_test(chart_and_scales_are_weighed_by_how_well_they_know),
        cmocka_unit_test(fine_scales_rule),
        cmocka_unit_test(another_size_on_the_scales_is_refused),
        cmocka_unit_test(ten_drops_by_hand),
        cmocka_unit_test(the_next_drop_lies_within_the_range_four_times_in_five),
        cmocka_unit_test(unsteadiness_takes_three_quarters_at_the_most),
        cmocka_unit_test(two_drops_or_offsets_without_their_pair_are_refused),
        cmocka_unit_test(what_must_be_given_is_asked_for),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
