/* The solver as a whole: what must hold for any rig. */
#include "baitfall/rig.h"

#include "common/check.h"
#include "tackle/random_rig.h"

static int sample(int in_short, int in_long) {
    return getenv("BF_LONG") ? in_long : in_short;
}

static double distance(const double a[3], const double b[3]) {
    return sqrt((a[0] - b[0]) * (a[0] - b[0]) + (a[1] - b[1]) * (a[1] - b[1]) +
                (a[2] - b[2]) * (a[2] - b[2]));
}

static double polyline(double points[][3], int n) {
    double sum = 0;
    for (int i = 1; i < n; i++) sum += distance(points[i - 1], points[i]);
    return sum;
}

/* 1: in the strongest wind that leaves the rig a balance the line has lifted the float, or all but: its body is out of the water
 * and many times the bristle's lift off it. */
static int is_blown_out(bf_stand stand) {
    double wind_m_s = stand.scene.lake.wind_m_s.value, stands = 0, blown = 1;
    bf_rig_shape last = {0};
    for (int i = 0; i < 20; i++) {
        bf_rig_shape shape;
        double middle = (stands + blown) / 2;
        stand.scene.lake.wind_m_s.value = middle * wind_m_s;
        int has_answer = bf_rig_solve(&stand, 1, 0, &shape) == BF_OK;
        if (has_answer) last = shape;
        *(has_answer ? &stands : &blown) = middle;
    }
    return last.is_lifted || last.bristle_m > 5 * stand.rig.flt.bristle_long_m;
}

/* In hard wind the lightest rigs are blown out of the water: that is told, and seldom happens. */
static void every_legal_rig_at_random_has_an_answer(void **state) {
    int n = sample(2000, 100000), contacts[3] = {0}, n_blown = 0;
    (void)state;
    for (int i = 0; i < n; i++) {
        rig_maker maker = rig_maker_start((uint64_t)i);
        bf_stand stand = random_stand(&maker);
        bf_rig_shape shape;
        bf_status status = bf_rig_solve(&stand, 1, 0, &shape);
        int is_blown = status == BF_E_MODEL_RANGE && is_blown_out(stand);
        if (status && !is_blown) fail_msg("rig %d: status %d", i, status);
        n_blown += is_blown;
        if (!status) contacts[shape.contact]++;
    }
    assert_true(n_blown <= n / 500);
    for (int c = 0; c < 3; c++) assert_true(contacts[c] > n / 20); /* the sample is a mixture */
}

/* Drawn with 48 points a span, chords fall short of the arc; stretch is below 1 in 1000. Slack line is drawn straight. */
static void the_drawing_is_as_long_as_the_line_and_ends_where_it_should(void **state) {
    (void)state;
    for (int i = 0; i < 400; i++) {
        rig_maker maker = rig_maker_start((uint64_t)i);
        bf_stand stand = random_stand(&maker);
        bf_rig_shape s;
        assert_int_equal(bf_rig_solve(&stand, 1, 0, &s), BF_OK);
        double below = stand.scene.spot.depth_m.value + stand.hold.overdepth_m.value;
        double slack_m = s.bait_tension_n < 1e-6 ? 0.01 : 0; /* slack above the hook: to 1 cm */
        BF_CHECK_IN(polyline(s.water_m, s.n_water), 0, 1.002 * below + slack_m);
        if (s.contact == BF_HANGS) BF_CHECK_REL(polyline(s.water_m, s.n_water), below, 2e-3);
        BF_CHECK_IN(polyline(s.air_m, s.n_air), 0,
                    1.002 * stand.rig.tip_to_float_m + 0.03); /* slack: to 3 cm */
        BF_CHECK_ABS(s.air_m[0][0], 0, 3e-4);
        BF_CHECK_ABS(s.air_m[0][1], 0, 3e-4);
        BF_CHECK_ABS(-s.air_m[0][2], stand.hold.tip_height_m.value, 1e-3);
        BF_CHECK_ABS(distance(s.water_m[s.n_water - 1], s.bait_m), 0, 3e-4);
        BF_CHECK_ABS(distance(s.water_m[0], s.float_m), 0, 3e-4);
        BF_CHECK_ABS(distance(s.air_m[s.n_air - 1], s.float_m), 0, 0.03);
    }
}

/* Wind and drift the other way, the bottom sloping the other way: everything turned round. */
static void wind_mirrored_mirrors_the_rig(void **state) {
    (void)state;
    for (int i = 0; i < 200; i++) {
        rig_maker maker = rig_maker_start((uint64_t)i + 5000);
        bf_stand stand = random_stand(&maker), turned;
        bf_rig_shape a, b;
        turned = stand;
        turned.scene.lake.wind_side_deg.value = -stand.scene.lake.wind_side_deg.value;
        turned.scene.lake.drift_side_deg.value = -stand.scene.lake.drift_side_deg.value;
        assert_int_equal(bf_rig_solve(&stand, 1, 0, &a), BF_OK);
        assert_int_equal(bf_rig_solve(&turned, 1, 0, &b), BF_OK);
        assert_int_equal(a.contact, b.contact);
        BF_CHECK_ABS(a.bait_m[0], b.bait_m[0], 1e-12);
        BF_CHECK_ABS(a.bait_m[1], -b.bait_m[1], 1e-12);
        BF_CHECK_ABS(a.float_m[1], -b.float_m[1], 1e-12);
        BF_CHECK_REL(a.tip_tension_n, b.tip_tension_n, 1e-12);
    }
}

/* No wind, no current, a level bottom. */
static void without_wind_and_drift_the_rig_hangs_plumb(void **state) {
    (void)state;
    for (int i = 0; i < 200; i++) {
        rig_maker maker = rig_maker_start((uint64_t)i + 9000);
        bf_stand stand = random_stand(&maker);
        bf_rig_shape s;
        stand.scene.lake.wind_m_s.value = 0;
        stand.scene.lake.drift = BF_DRIFT_STILL;
        stand.scene.spot.slope_deg.value = 0;
        assert_int_equal(bf_rig_solve(&stand, 1, 0, &s), BF_OK);
        for (int k = 0; k < 2; k++) {
            BF_CHECK_ABS(s.bait_m[k], 0, 1e-6);
            BF_CHECK_ABS(s.float_m[k], 0, 1e-6);
        }
    }
}

static bf_stand middle_stand(void) {
    bf_stand stand;
    bf_stand_start(&stand);
    stand.rig = bf_rigs[1].rig;
    stand.scene.spot.depth_m = bf_exactly(1.62);
    stand.scene.spot.slope_deg = bf_exactly(0);
    stand.scene.lake.wind_m_s = bf_exactly(2);
    stand.scene.lake.wind_side_deg = bf_exactly(90);
    bf_stand_settle(&stand);
    return stand;
}

/* What hangs on the line has to be carried by it: upwards at the float, with still water and no wind. */
static void the_pull_under_the_float_is_what_hangs_there(void **state) {
    bf_stand stand = middle_stand();
    bf_rig_shape s;
    (void)state;
    stand.scene.lake.drift = BF_DRIFT_STILL;
    stand.scene.lake.wind_m_s.value = 0;
    stand.hold.overdepth_m.value = -0.2;
    double water = bf_lake_density_kg_m3(&stand.scene.lake), below = 1.42,
           hooklength = stand.rig.hooklength.length_m;
    double bait_m3 = bf_piece_volume_m3(stand.hook_bait.form, stand.hook_bait.diameter_m.value,
                                        stand.hook_bait.length_m.value);
    double weight = bf_shots_weight_n(stand.rig.shot, stand.rig.n_shots, 0, water) +
                    bf_hook_weight_n(&stand.rig.hook, water) +
                    bait_m3 * (stand.hook_bait.density_kg_m3.value - water) * BF_GRAVITY_M_S2 +
                    hooklength * bf_line_weight_water_n_m(&stand.rig.hooklength, water) +
                    (below - hooklength) * bf_line_weight_water_n_m(&stand.rig.line, water);
    assert_int_equal(bf_rig_solve(&stand, 1, 0, &s), BF_OK);
    BF_CHECK_REL(s.float_water_n, weight, 1e-9);
    BF_CHECK_REL(s.tip_tension_n, stand.hold.tip_height_m.value * bf_line_weight_air_n_m(&stand.rig.line),
                 1e-4);
    BF_CHECK_ABS(s.bait_m[2], below, 2e-3); /* stretched a little */
    BF_CHECK_IN(s.bait_m[2], below, below + 2e-3);
}

static void more_line_than_depth_lays_the_bait_on_the_bottom(void **state) {
    bf_stand stand = middle_stand();
    bf_rig_shape s;
    (void)state;
    for (int i = 0; i < 40; i++) {
        stand.hold.overdepth_m.value = -0.2 + 0.02 * i;
        assert_int_equal(bf_rig_solve(&stand, 1, 0, &s), BF_OK);
        assert_int_equal(s.contact == BF_HANGS, stand.hold.overdepth_m.value < -1e-9);
        if (s.contact != BF_HANGS) BF_CHECK_ABS(s.bait_m[2], 1.62, 1e-12);
        BF_CHECK_IN(s.friction_used_frac, 0, 1);
    }
}

static void a_tip_higher_than_its_line_is_long_is_out_of_range(void **state) {
    bf_stand stand = middle_stand();
    bf_rig_shape s;
    (void)state;
    stand.hold.tip_height_m.value = stand.rig.tip_to_float_m;
    assert_int_equal(bf_rig_solve(&stand, 1, 0, &s), BF_E_MODEL_RANGE);
    assert_true(isnan(s.bait_m[0]) && isnan(s.tip_tension_n) && isnan(s.bristle_m) && s.n_water == 0);
    stand = middle_stand();
    stand.hold.overdepth_m.value = -1.6;
    assert_int_equal(bf_rig_solve(&stand, 1, 0, &s), BF_E_MODEL_RANGE);
}

static void a_depth_that_is_no_number_is_told(void **state) {
    bf_stand stand = middle_stand();
    bf_rig_shape s;
    (void)state;
    stand.scene.spot.depth_m.value = NAN;
    assert_int_equal(bf_rig_solve(&stand, 1, 0, &s), BF_E_NOT_FINITE);
    assert_true(isnan(s.bait_m[0]));
}

static void a_hook_bait_that_floats_is_out_of_range(void **state) {
    bf_stand stand = middle_stand();
    bf_rig_shape s;
    (void)state;
    stand.hook_bait.density_kg_m3.value = 300;
    stand.hook_bait.diameter_m.value = 0.012;
    assert_int_equal(bf_rig_solve(&stand, 1, 0, &s), BF_E_MODEL_RANGE);
}

static void a_tip_that_pulls_the_line_tight_lifts_the_float(void **state) {
    bf_stand stand = middle_stand();
    bf_rig_shape s;
    (void)state;
    stand.hold.tip_height_m.value = stand.rig.tip_to_float_m - 1e-5;
    stand.hold.overdepth_m.value = -0.2;
    assert_int_equal(bf_rig_solve(&stand, 1, 0, &s), BF_OK);
    assert_int_equal(s.is_lifted, 1);
    assert_true(s.float_m[2] <= 0);
    assert_true(s.tip_tension_n > s.float_water_n); /* the float's own weight as well */
}

static void too_much_shot_draws_the_float_under(void **state) {
    bf_stand stand = middle_stand();
    bf_rig_shape s;
    (void)state;
    stand.hold.overdepth_m.value = -0.2;
    stand.rig.shot[1].count += 2;
    assert_int_equal(bf_rig_solve(&stand, 1, 0, &s), BF_OK);
    assert_true(s.bristle_m < 0);
}

static void a_gust_moves_a_bait_that_was_down_in_the_mean_wind(void **state) {
    bf_stand stand = middle_stand();
    bf_rig_shape mean, same, gust;
    (void)state;
    assert_int_equal(bf_rig_solve(&stand, 1, 0, &mean), BF_OK);
    assert_int_equal(bf_rig_solve(&stand, 1 + 1e-12, 0, &same), BF_OK);
    assert_int_equal(bf_rig_solve(&stand, 3, 0, &gust), BF_OK);
    BF_CHECK_ABS(same.bait_m[1], mean.bait_m[1], 1e-5);
    assert_true(gust.friction_used_frac > mean.friction_used_frac);
    assert_true(gust.bait_m[1] >= mean.bait_m[1] - 1e-5);
}

static void at_rest_without_its_drawing_a_rig_is_the_same(void **state) {
    (void)state;
    for (int i = 0; i < 100; i++) {
        rig_maker maker = rig_maker_start((uint64_t)i + 30000);
        bf_stand stand = random_stand(&maker);
        bf_rig_shape mean, gust;
        bf_rig_rest rest, blown;
        bf_status status = bf_rig_solve(&stand, 1, 0, &mean), in_gust = bf_rig_solve(&stand, 1.5, 0, &gust);
        assert_int_equal(bf_rig_rest_of(&stand, 1, NULL, &rest), status);
        assert_int_equal(isnan(rest.bait_m[0]), status != BF_OK);
        if (status) continue;
        assert_int_equal(bf_rig_rest_of(&stand, 1.5, rest.bait_m, &blown), in_gust);
        assert_memory_equal(rest.bait_m, mean.bait_m, sizeof rest.bait_m);
        BF_CHECK_ABS(rest.bristle_m, mean.bristle_m, 0);
        assert_int_equal(rest.is_lifted, mean.is_lifted);
        if (!in_gust) assert_memory_equal(blown.bait_m, gust.bait_m, sizeof blown.bait_m);
    }
}

static void a_part_that_feels_nothing_takes_its_share_away(void **state) {
    bf_stand stand = middle_stand();
    bf_rig_shape all, none;
    unsigned every = (1u << BF_RIG_N_PARTS) - 1;
    (void)state;
    stand.hold.overdepth_m.value = -0.2;
    assert_int_equal(bf_rig_solve(&stand, 1, 0, &all), BF_OK);
    assert_int_equal(bf_rig_solve(&stand, 1, every, &none), BF_OK);
    assert_true(all.bait_m[1] > 0.05);
    BF_CHECK_ABS(none.bait_m[1], 0, 1e-6);
}

static void outputs_of_the_command_agree_with_the_shape(void **state) {
    bf_stand stand = middle_stand();
    bf_draw nominal = {1, 0, 1}, draw = {1, 0, 0};
    bf_rig_shape s;
    bf_rig_out out, drawn;
    (void)state;
    assert_int_equal(bf_rig_solve(&stand, 1, 0, &s), BF_OK);
    assert_int_equal(bf_rig_model(&stand, &nominal, (double *)&out), BF_OK);
    assert_int_equal(bf_rig_model(&stand, &draw, (double *)&drawn), BF_OK);
    BF_CHECK_ABS(out.right_m, s.bait_m[1], 0);
    BF_CHECK_ABS(out.off_m, hypot(s.bait_m[0], s.bait_m[1]), 1e-15);
    BF_CHECK_ABS(out.above_bed_m, 0, 1e-12);
    BF_CHECK_ABS(out.bristle_m, s.bristle_m, 0);
    BF_CHECK_ABS(drawn.off_m, out.off_m, 0);
    BF_CHECK_ABS(out.bite_mm_per_10mg, 8.85, 0.01);                   /* bristle.csv: 1.2 mm */
    assert_true(isfinite(out.air_part_m) && isnan(drawn.air_part_m)); /* parts are worked out once */
    assert_true(out.spare_n > 0);
}

/* The note about a bristle that shows so much of itself; BF_N_NOTES: there is none. */
static bf_note_code high_note(const bf_stand *stand, double mid, double hi) {
    bf_ensemble_result result = {0};
    bf_note notes[BF_MOST_NOTES];
    double long_m = stand->rig.flt.bristle_long_m;
    result.range[offsetof(bf_rig_out, bristle_m) / sizeof(double)] =
        (bf_range){mid * long_m, mid * long_m, 0, hi * long_m};
    int n = bf_rig_notes(stand, &result, notes);
    for (int i = 0; i < n; i++)
        if (notes[i].code == BF_NOTE_RIG_HIGH || notes[i].code == BF_NOTE_RIG_MAY_RIDE_HIGH) {
            BF_CHECK_ABS(notes[i].number[0], long_m, 0);
            return notes[i].code;
        }
    return BF_N_NOTES;
}

static void more_than_all_of_the_bristle_is_said_to_be_the_body(void **state) {
    (void)state;
    bf_stand stand = middle_stand();
    assert_int_equal(high_note(&stand, 6, 9), BF_NOTE_RIG_HIGH);
    assert_int_equal(high_note(&stand, 0.5, 1.2), BF_NOTE_RIG_MAY_RIDE_HIGH);
    assert_int_equal(high_note(&stand, 0.5, 0.9), BF_N_NOTES);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_legal_rig_at_random_has_an_answer),
        cmocka_unit_test(the_drawing_is_as_long_as_the_line_and_ends_where_it_should),
        cmocka_unit_test(wind_mirrored_mirrors_the_rig),
        cmocka_unit_test(without_wind_and_drift_the_rig_hangs_plumb),
        cmocka_unit_test(the_pull_under_the_float_is_what_hangs_there),
        cmocka_unit_test(more_line_than_depth_lays_the_bait_on_the_bottom),
        cmocka_unit_test(a_tip_higher_than_its_line_is_long_is_out_of_range),
        cmocka_unit_test(a_depth_that_is_no_number_is_told),
        cmocka_unit_test(a_hook_bait_that_floats_is_out_of_range),
        cmocka_unit_test(a_tip_that_pulls_the_line_tight_lifts_the_float),
        cmocka_unit_test(too_much_shot_draws_the_float_under),
        cmocka_unit_test(a_gust_moves_a_bait_that_was_down_in_the_mean_wind),
        cmocka_unit_test(at_rest_without_its_drawing_a_rig_is_the_same),
        cmocka_unit_test(a_part_that_feels_nothing_takes_its_share_away),
        cmocka_unit_test(outputs_of_the_command_agree_with_the_shape),
        cmocka_unit_test(more_than_all_of_the_bristle_is_said_to_be_the_body),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
