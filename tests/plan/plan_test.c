/* The feed part of a plan: its arithmetic by hand, and that a line is what spread, pot and fall answer. */
#include "baitfall/plan.h"

#include "baitfall/fall.h"
#include "baitfall/pot.h"
#include "common/check.h"

#define N_DRAWS 64
#define PI 3.14159265358979323846

static bf_quantity exact(double value) {
    return (bf_quantity){value, 0, 0};
}

/* One bait, one pot, one spot, one line of ten pieces tipped every ten minutes for an hour. */
static bf_plan a_plan(void) {
    static bf_plan plan;
    bf_schema_start(&bf_plan_schema, &plan);
    plan.n_baits = plan.n_pots = plan.n_spots = plan.n_lines = 1;
    bf_record_start(&bf_bait_table, &plan.bait[0]);
    bf_record_start(&bf_pot_table, &plan.pot[0]);
    bf_record_start(&bf_spot_table, &plan.spot[0]);
    plan.spot[0].depth_m = exact(1.5);
    bf_row_start(&bf_plan_schema.section[BF_PLAN_SPOT_USE], &plan, 0);
    plan.spot_use[0].pot = 0;
    bf_record_start(&bf_put_table, &plan.put[0]);
    plan.put[0].count = 10;
    plan.line[0] = (bf_plan_line){0, 0, -1, BF_NAN, BF_NAN, 0, 3600, 600};
    plan.session.hours = 2;
    return plan;
}

/* Rows of every line and their nominals, as a caller would fill them. */
static double rows[BF_PLAN_LINES * N_DRAWS * 24], nominal[BF_PLAN_LINES * 24];

static void answer(const bf_plan *plan) {
    static double work[1 << 14];
    for (int i = 0; i < plan->n_lines; i++) {
        bf_plan_put put;
        bf_plan_put_in(plan, i, &put);
        bf_ensemble ensemble = bf_plan_ensemble(&put, 0, 1, N_DRAWS);
        assert_true(bf_ensemble_work_bytes(&ensemble) <= sizeof work);
        assert_int_equal(bf_ensemble_range(&ensemble, 0, N_DRAWS, work, rows + i * N_DRAWS * BF_PLAN_N_OUT),
                         BF_OK);
        assert_int_equal(bf_ensemble_nominal(&ensemble, nominal + i * BF_PLAN_N_OUT), BF_OK);
    }
}

static bf_plan_supply supply_of(const bf_plan *plan, int bait) {
    double work[N_DRAWS];
    bf_plan_supply supply;
    answer(plan);
    bf_plan_sum(plan, bait, rows, BF_PLAN_N_OUT, nominal, N_DRAWS, work, &supply);
    return supply;
}

/* Times: counted on the fingers -------------------------------------------------------------------------- */

static void put_ins_are_counted_to_the_last_minute(void **state) {
    (void)state;
    static const struct {
        double from, to, every, hours;
        int n;
        double last;
    } cases[] = {
        {0, 3600, 600, 5, 7, 3600},        {0, 3599, 600, 5, 6, 3000},       {600, 600, 60, 5, 1, 600},
        {0, BF_NAN, BF_NAN, 5, 1, 0},      {60, BF_NAN, BF_NAN, 5, 1, 60},   {0, BF_NAN, 1800, 5, 11, 18000},
        {1200, BF_NAN, 720, 5, 24, 17760}, {20000, BF_NAN, 60, 5, 1, 20000}, {0, 54, 5.4, 5, 11, 54},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        bf_plan plan = a_plan();
        double last;
        plan.line[0].from_s = cases[i].from;
        plan.line[0].to_s = cases[i].to;
        plan.line[0].every_s = cases[i].every;
        plan.session.hours = cases[i].hours;
        assert_int_equal(bf_plan_times(&plan, 0, &last), cases[i].n);
        BF_CHECK_ABS(last, cases[i].last, 1e-9);
    }
}

/* Sums: by hand ------------------------------------------------------------------------------------------ */

static void counted_pieces_add_up_exactly(void **state) {
    (void)state;
    bf_plan plan = a_plan();
    bf_plan_supply supply = supply_of(&plan, 0);
    assert_int_equal(supply.n_put_ins, 7);
    BF_CHECK_ABS(supply.pieces.nominal, 70, 0);
    BF_CHECK_ABS(supply.pieces.lo, 70, 0);
    BF_CHECK_ABS(supply.pieces.hi, 70, 0);
    BF_CHECK_ABS(supply.pieces_per_h.mid, 35, 1e-12);
    assert_int_equal(supply.box, -1);
}

static void spheres_of_known_size_weigh_what_geometry_says(void **state) {
    (void)state;
    bf_plan plan = a_plan();
    plan.bait[0].form = BF_SPHERE;
    plan.bait[0].diameter_m = exact(0.006);
    plan.bait[0].density_kg_m3 = exact(1200);
    plan.bait[0].size_scatter_frac = 0;
    double mass_kg = 70 * PI / 6 * 0.006 * 0.006 * 0.006 * 1200;
    bf_plan_supply supply = supply_of(&plan, 0);
    BF_CHECK_REL(supply.mass_kg.nominal, mass_kg, 1e-12);
    BF_CHECK_REL(supply.mass_kg.lo, mass_kg, 1e-12);
}

static void a_level_pot_sends_out_its_own_volume(void **state) {
    (void)state;
    bf_plan plan = a_plan();
    plan.put[0].count = BF_NAN;
    plan.pot[0].volume_m3 = exact(8e-6);
    plan.pot[0].fill_frac = exact(1);
    plan.pot[0].settled_frac = exact(1);
    bf_plan_supply supply = supply_of(&plan, 0);
    BF_CHECK_REL(supply.volume_m3.nominal, 7 * 8e-6, 1e-12);
    BF_CHECK_REL(supply.volume_m3.hi, 7 * 8e-6, 1e-12);
}

static void a_volume_by_hand_is_as_many_pieces_as_fill_it(void **state) {
    (void)state;
    bf_plan plan = a_plan();
    bf_pot_out held;
    plan.put[0].how = BF_HAND;
    plan.put[0].count = BF_NAN;
    plan.line[0].volume_m3 = 20e-6;
    bf_plan_put put;
    bf_plan_put_in(&plan, 0, &put);
    assert_int_equal(bf_pot_holds(&put.scene.bait, &put.scene.pot, &put.scene.counted, &held), BF_OK);
    BF_CHECK_REL(held.volume_m3, 20e-6, 1e-12);
    bf_plan_supply supply = supply_of(&plan, 0);
    BF_CHECK_REL(supply.pieces.nominal, 7 * held.pieces, 1e-12);
}

static void two_lines_alike_are_one_line_twice(void **state) {
    (void)state;
    bf_plan one = a_plan();
    one.put[0].count = BF_NAN;
    bf_plan_supply once = supply_of(&one, 0);
    one.n_lines = 2;
    one.line[1] = one.line[0];
    one.put[1] = one.put[0];
    bf_plan_supply twice = supply_of(&one, 0);
    BF_CHECK_REL(twice.pieces.lo, 2 * once.pieces.lo, 1e-12);
    BF_CHECK_REL(twice.pieces.hi, 2 * once.pieces.hi, 1e-12);
    assert_true(once.pieces.hi > once.pieces.lo);
}

static void the_box_is_enough_short_or_in_doubt(void **state) {
    (void)state;
    bf_plan plan = a_plan();
    plan.n_box = 1;
    plan.box[0] = (bf_plan_box){0, BF_NAN, BF_NAN, 100};
    bf_plan_supply supply = supply_of(&plan, 0);
    BF_CHECK_ABS(supply.left.mid, 30, 0);
    BF_CHECK_ABS(supply.enough_frac, 1, 0);
    plan.box[0].count = 69;
    supply = supply_of(&plan, 0);
    BF_CHECK_ABS(supply.left.mid, -1, 0);
    BF_CHECK_ABS(supply.enough_frac, 0, 0);
    /* Exactly the middle of an uncertain need: enough in half of the draws. */
    plan.box[0] = (bf_plan_box){0, supply.mass_kg.mid, BF_NAN, BF_NAN};
    supply = supply_of(&plan, 0);
    BF_CHECK_ABS(supply.left.mid, 0, 1e-15);
    assert_true(supply.left.lo < 0 && supply.left.hi > 0);
    BF_CHECK_ABS(supply.enough_frac, 0.5, 1.0 / N_DRAWS);
}

static void a_bait_no_line_uses_comes_to_nothing(void **state) {
    (void)state;
    bf_plan plan = a_plan();
    plan.n_baits = 2;
    plan.bait[1] = plan.bait[0];
    plan.n_box = 1;
    plan.box[0] = (bf_plan_box){1, BF_NAN, 0.001, BF_NAN};
    bf_plan_supply supply = supply_of(&plan, 1);
    assert_int_equal(supply.n_put_ins, 0);
    BF_CHECK_ABS(supply.pieces.hi, 0, 0);
    BF_CHECK_ABS(supply.left.lo, 0.001, 0);
}

/* Composition -------------------------------------------------------------------------------------------- */

static void a_line_is_what_spread_pot_and_fall_answer(void **state) {
    (void)state;
    bf_plan plan = a_plan();
    bf_plan_put put;
    bf_draw draw = {1, 0, 1};
    double bed[sizeof(bf_spread_out) / sizeof(double) + BF_SPREAD_RAW];
    bf_fall_out fall;
    bf_pot_out pot;
    plan.put[0].count = BF_NAN;
    answer(&plan);
    bf_plan_put_in(&plan, 0, &put);
    assert_int_equal(bf_spread_model(&put.scene, &draw, bed), BF_OK);
    assert_int_equal(bf_fall_model(&put.scene, &draw, (double *)&fall), BF_OK);
    assert_int_equal(bf_pot_model(&put.scene, &draw, (double *)&pot), BF_OK);
    for (int i = 0; i < BF_PLAN_TIME; i++) BF_CHECK_ABS(nominal[i], bed[i], 0);
    BF_CHECK_ABS(nominal[BF_PLAN_TIME], fall.time_s, 0);
    BF_CHECK_ABS(nominal[BF_PLAN_PIECES], pot.pieces, 0);
    BF_CHECK_ABS(nominal[BF_PLAN_HOLDS], pot.pieces, 0);
    BF_CHECK_REL(nominal[BF_PLAN_MASS], pot.mass_kg, 1e-12);
}

static void the_line_takes_the_spots_pot_or_the_first(void **state) {
    (void)state;
    bf_plan plan = a_plan();
    bf_plan_put put;
    plan.n_pots = 2;
    plan.pot[1] = plan.pot[0];
    plan.pot[1].volume_m3 = exact(3e-6);
    plan.spot_use[0].pot = 1;
    bf_plan_put_in(&plan, 0, &put);
    BF_CHECK_ABS(put.scene.pot.volume_m3.value, 3e-6, 0);
    plan.spot_use[0].pot = -1;
    bf_plan_put_in(&plan, 0, &put);
    BF_CHECK_ABS(put.scene.pot.volume_m3.value, plan.pot[0].volume_m3.value, 0);
}

static int has_note(const bf_plan *plan, bf_note_code code) {
    static double work[1 << 14];
    static bf_ensemble_result result;
    bf_note notes[BF_MOST_NOTES];
    bf_plan_put put;
    int found = 0;
    answer(plan);
    bf_plan_put_in(plan, 0, &put);
    bf_ensemble ensemble = bf_plan_ensemble(&put, 0, 1, N_DRAWS);
    bf_ensemble_finish(&ensemble, rows, nominal, work, &result);
    int n = bf_plan_notes(&put, &result, notes);
    for (int i = 0; i < n; i++) found |= notes[i].code == code;
    return found;
}

static void more_than_a_potful_is_remarked(void **state) {
    (void)state;
    bf_plan plan = a_plan();
    plan.put[0].count = 20;
    assert_false(has_note(&plan, BF_NOTE_POT_TOO_SMALL));
    plan.put[0].count = 500;
    assert_true(has_note(&plan, BF_NOTE_POT_TOO_SMALL));
    plan.put[0].how = BF_HAND;
    assert_false(has_note(&plan, BF_NOTE_POT_TOO_SMALL));
}

/* Bad plans ---------------------------------------------------------------------------------------------- */

static void expect(const bf_plan *plan, bf_status status, int section, int row) {
    bf_fault fault;
    assert_int_equal(bf_plan_check(plan, &fault), status);
    assert_int_equal(fault.status, status);
    if (status) {
        assert_ptr_equal(fault.section, &bf_plan_schema_with_peg.section[section]);
        assert_int_equal(fault.row, row);
    }
}

static void every_fault_has_its_status_and_place(void **state) {
    (void)state;
    bf_plan good = a_plan(), plan;
    good.n_lines = 2;
    good.line[1] = good.line[0];
    good.put[1] = good.put[0];
    good.n_box = 1;
    good.box[0] = (bf_plan_box){0, 1, BF_NAN, BF_NAN};
    expect(&good, BF_OK, 0, 0);

    plan = good;
    plan.line[1].spot = 1;
    expect(&plan, BF_E_CHOICE, BF_PLAN_LINE, 1);
    plan = good;
    plan.line[1].bait = -1;
    expect(&plan, BF_E_MISSING, BF_PLAN_LINE, 1);
    plan = good;
    plan.line[1].volume_m3 = 1e-5;
    expect(&plan, BF_E_TWICE, BF_PLAN_LINE, 1);
    plan = good;
    plan.put[1].count = BF_NAN;
    plan.line[1].volume_m3 = 1e-5;
    plan.line[1].fill_frac = 0.5;
    expect(&plan, BF_E_TWICE, BF_PLAN_LINE, 1);
    plan = good;
    plan.line[1].to_s = -1;
    expect(&plan, BF_E_RANGE, BF_PLAN_LINE, 1);
    plan = good;
    plan.line[1].from_s = 3700;
    expect(&plan, BF_E_RANGE, BF_PLAN_LINE, 1);
    plan = good;
    plan.spot[0].depth_m.value = -1;
    expect(&plan, BF_E_RANGE, BF_PLAN_SPOT, 0);
    plan = good;
    plan.spot_use[0].pot = 3;
    expect(&plan, BF_E_CHOICE, BF_PLAN_SPOT_USE, 0);
    plan = good;
    plan.box[0].count = 5;
    expect(&plan, BF_E_TWICE, BF_PLAN_BOX, 0);
    plan = good;
    plan.box[0].mass_kg = BF_NAN;
    expect(&plan, BF_E_MISSING, BF_PLAN_BOX, 0);
    plan = good;
    plan.n_box = 2;
    plan.box[1] = plan.box[0];
    expect(&plan, BF_E_TWICE, BF_PLAN_BOX, 1);
    plan = good;
    plan.session.hours = 0;
    expect(&plan, BF_E_RANGE, BF_PLAN_SESSION, 0);
    plan = good;
    plan.spot_use[0].rig = 0;
    expect(&plan, BF_E_CHOICE, BF_PLAN_SPOT_USE, 0);
    plan = good;
    plan.spot_use[0].hook_bait = 2;
    expect(&plan, BF_E_CHOICE, BF_PLAN_SPOT_USE, 0);
    plan = good;
    plan.has_unknown_peg = 1;
    bf_row_start(&bf_plan_schema_with_peg.section[BF_PLAN_UNKNOWN_PEG], &plan, 0);
    expect(&plan, BF_E_MISSING, BF_PLAN_UNKNOWN_PEG, 0);
    plan.unknown_peg.depth_least_m = 2;
    plan.unknown_peg.depth_most_m = 1;
    expect(&plan, BF_E_RANGE, BF_PLAN_UNKNOWN_PEG, 0);
}

/* What is wrong in a spot's aim is in a part of the spot, and the fault says of which. */
static void a_fault_in_a_part_names_the_row_it_is_in(void **state) {
    (void)state;
    bf_plan plan = a_plan();
    bf_fault fault;
    plan.spot_use[0].aim.ship_m.value = 99;
    assert_int_equal(bf_plan_check(&plan, &fault), BF_E_RANGE);
    assert_string_equal(fault.section->name, "aim");
    assert_ptr_equal(fault.within, &bf_plan_schema.section[BF_PLAN_SPOT_USE]);
    assert_int_equal(fault.within_row, 0);
    BF_CHECK_ABS(fault.value, 99, 0);
}

/* Spots as stands ---------------------------------------------------------------------------------------- */

static void a_spot_is_the_stand_of_its_first_line(void **state) {
    (void)state;
    bf_plan plan = a_plan();
    bf_stand stand;
    plan.n_spots = 2;
    bf_record_start(&bf_spot_table, &plan.spot[1]);
    bf_row_start(&bf_plan_schema.section[BF_PLAN_SPOT_USE], &plan, 1);
    plan.n_lines = 2;
    plan.line[1] = plan.line[0];
    plan.put[1] = plan.put[0];
    plan.put[1].count = 77;
    plan.bait[0].density_kg_m3 = exact(1234);
    plan.spot_use[0].overdepth_m = exact(0.07);
    plan.spot_use[0].tip_height_m = exact(0.4);
    plan.spot_use[0].aim.marker_m = 50;
    plan.n_rigs = 1;
    bf_row_start(&bf_plan_schema.section[BF_PLAN_KIT_RIGS], &plan, 0);
    plan.rig[0].flt.rating_kg = 0.9e-3;
    plan.spot_use[0].rig = 0;
    assert_int_equal(bf_plan_stand(&plan, 0, &stand), 0);
    BF_CHECK_ABS(stand.scene.put.count, 10, 0);
    BF_CHECK_ABS(stand.scene.bait.density_kg_m3.value, 1234, 0);
    BF_CHECK_ABS(stand.scene.spot.depth_m.value, 1.5, 0);
    BF_CHECK_ABS(stand.hold.overdepth_m.value, 0.07, 0);
    BF_CHECK_ABS(stand.hold.tip_height_m.value, 0.4, 0);
    BF_CHECK_ABS(stand.hold.gust_frac.value, 1.5, 0);
    BF_CHECK_ABS(stand.aim.marker_m, 50, 0);
    BF_CHECK_ABS(stand.rig.flt.rating_kg, 0.9e-3, 0);
    assert_int_equal(bf_plan_stand(&plan, 1, &stand), -1);
}

/* Not named, it is what is fed there; nothing fed, the kit's first. */
static void the_hook_bait_is_named_fed_or_the_kits_first(void **state) {
    (void)state;
    bf_plan plan = a_plan();
    bf_stand stand;
    plan.bait[0].density_kg_m3 = exact(1111);
    plan.n_hook_baits = 2;
    for (int i = 0; i < 2; i++) {
        bf_record_start(&bf_bait_table, &plan.hook_bait[i]);
        plan.hook_bait[i].density_kg_m3 = exact(1200 + i);
    }
    bf_plan_stand(&plan, 0, &stand);
    BF_CHECK_ABS(stand.hook_bait.density_kg_m3.value, 1111, 0);
    plan.spot_use[0].hook_bait = 1;
    bf_plan_stand(&plan, 0, &stand);
    BF_CHECK_ABS(stand.hook_bait.density_kg_m3.value, 1201, 0);
    plan.spot_use[0].hook_bait = -1;
    plan.n_lines = 0;
    bf_plan_stand(&plan, 0, &stand);
    BF_CHECK_ABS(stand.hook_bait.density_kg_m3.value, 1200, 0);
}

/* The spot's own keys of its hold have the range and start that they have in "hold". */
static void a_spots_hold_is_that_of_the_stand(void **state) {
    (void)state;
    static const char *const names[] = {"overdepth_m", "tip_height_m"};
    const bf_table *use = bf_plan_schema.section[BF_PLAN_SPOT_USE].table;
    for (int i = 0; i < 2; i++) {
        int is_pm, in_use = bf_field_find(use, names[i], strlen(names[i]), &is_pm),
                   in_hold = bf_field_find(&bf_hold_table, names[i], strlen(names[i]), &is_pm);
        const bf_field *a = &use->field[in_use], *b = &bf_hold_table.field[in_hold];
        BF_CHECK_ABS(a->least, b->least, 0);
        BF_CHECK_ABS(a->most, b->most, 0);
        BF_CHECK_ABS(a->start, b->start, 0);
        BF_CHECK_ABS(a->start_pm, b->start_pm, 0);
        BF_CHECK_ABS(a->usual_least, b->usual_least, 0);
        BF_CHECK_ABS(a->usual_most, b->usual_most, 0);
    }
}

/* Of a session of 3 hours. */
static void feed_beyond_the_end_of_the_session_is_remarked(void **state) {
    (void)state;
    static bf_plan plan;
    static const struct {
        double from_s, to_s;
        int code; /* -1: none */
    } cases[] = {{0, BF_NAN, -1},
                 {10800, BF_NAN, -1},
                 {10801, BF_NAN, BF_NOTE_FEED_TOO_LATE},
                 {20000, 30000, BF_NOTE_FEED_TOO_LATE},
                 {0, 12000, BF_NOTE_FEED_GOES_ON},
                 {0, 10900, -1}};
    bf_schema_start(&bf_plan_schema, &plan);
    plan.session.hours = 3;
    plan.n_lines = 1;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        bf_note note = {0};
        plan.line[0] = (bf_plan_line){.from_s = cases[i].from_s, .to_s = cases[i].to_s, .every_s = 600};
        assert_int_equal(bf_plan_time_notes(&plan, 0, &note), cases[i].code >= 0);
        if (cases[i].code < 0) continue;
        assert_int_equal(note.code, cases[i].code);
        BF_CHECK_ABS(note.number[1], 10800, 0);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(put_ins_are_counted_to_the_last_minute),
        cmocka_unit_test(counted_pieces_add_up_exactly),
        cmocka_unit_test(spheres_of_known_size_weigh_what_geometry_says),
        cmocka_unit_test(a_level_pot_sends_out_its_own_volume),
        cmocka_unit_test(a_volume_by_hand_is_as_many_pieces_as_fill_it),
        cmocka_unit_test(two_lines_alike_are_one_line_twice),
        cmocka_unit_test(the_box_is_enough_short_or_in_doubt),
        cmocka_unit_test(a_bait_no_line_uses_comes_to_nothing),
        cmocka_unit_test(a_line_is_what_spread_pot_and_fall_answer),
        cmocka_unit_test(the_line_takes_the_spots_pot_or_the_first),
        cmocka_unit_test(more_than_a_potful_is_remarked),
        cmocka_unit_test(every_fault_has_its_status_and_place),
        cmocka_unit_test(a_fault_in_a_part_names_the_row_it_is_in),
        cmocka_unit_test(a_spot_is_the_stand_of_its_first_line),
        cmocka_unit_test(the_hook_bait_is_named_fed_or_the_kits_first),
        cmocka_unit_test(a_spots_hold_is_that_of_the_stand),
        cmocka_unit_test(feed_beyond_the_end_of_the_session_is_remarked),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
