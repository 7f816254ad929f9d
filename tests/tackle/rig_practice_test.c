/* What anglers say of rigs, held against the solver. Each is common practice with no source unless it names one. */
#include "baitfall/rig.h"
#include "core/tackle/cable.h"

#include "common/check.h"
#include "tackle/random_rig.h"

/* One No 8 (0.06 g lead, 15 C) on a metre of 0.12 mm nylon in an even current of 5 cm/s, its head held. */
static double no_8_goes_m(int is_fixed, double drag_frac, double *down_m) {
    double rho = 999.09961, nu = 1.1393325e-6, weight = 0.06e-3 * 9.81 * (1 - rho / 11340);
    bfi_stream stream = {.current = bf_current_still(10),
                         .water = {rho, rho * nu},
                         .is_fixed = is_fixed,
                         .drag_frac = drag_frac,
                         .length_m = 1,
                         .wind = bf_wind_profile_of(2),
                         .air = {1.2, 1.8e-5}};
    bfi_cable line = {.diameter_m = 0.12e-3,
                      .stiffness_n = BF_INFINITY,
                      .water_n_m = is_fixed ? 0 : 1.56e-5,
                      .fixed_water = bfi_cylinder_drag_fixed(0.05 * 0.12e-3 / nu)};
    bfi_strand strand = {{0, 0, 5},
                         {-5.13820950729e-06, 0, -weight}}; /* the shot's drag: cable_crossflow_neutral.csv */
    stream.current.coef_x_m_s[0] = 0.05;
    assert_int_equal(bfi_march(&stream, BFI_IN_WATER, &line, 1, 1e-10, &strand), BF_OK);
    *down_m = 5 - strand.at_m[2];
    return -strand.at_m[0];
}

/* Table: 0.420990727652 m off and 0.878530903078 m down in the fixed mode; tackle.md says about 47 cm with Cd(Re). */
static void a_no_8_alone_on_a_metre_of_line_in_5_cm_a_second_goes_42_cm_off(void **state) {
    double down;
    (void)state;
    BF_CHECK_REL(no_8_goes_m(1, 1, &down), 0.420990727652, 1e-8);
    BF_CHECK_REL(down, 0.878530903078, 1e-8);
    for (int k = -1; k <= 1; k++) BF_CHECK_IN(no_8_goes_m(0, 1 + 0.1 * k, &down), 0.38, 0.52);
}

/* A rig off the bottom, out in the open, wind to the right. */
static bf_stand hanging(double rating_g, double wind_m_s) {
    bf_stand stand;
    bf_stand_start(&stand);
    stand.rig = bf_rigs[1].rig;
    for (int i = 0; i < bf_n_floats; i++)
        if (fabs(bf_floats[i].rating_kg - rating_g * 1e-3) < 1e-9) stand.rig.flt = bf_floats[i];
    stand.scene.spot.depth_m = bf_exactly(1.62);
    stand.scene.lake.wind_m_s = bf_exactly(wind_m_s);
    stand.scene.lake.wind_side_deg = bf_exactly(90);
    stand.scene.spot.slope_deg = bf_exactly(0);
    stand.hold.overdepth_m = bf_exactly(-0.1);
    bf_stand_settle(&stand);
    return stand;
}

static bf_rig_shape solved(const bf_stand *stand) {
    bf_rig_shape shape;
    assert_int_equal(bf_rig_solve(stand, 1, 0, &shape), BF_OK);
    return shape;
}

/* Shot by shot of twelve floats in nine winds. */
static void a_heavier_bulk_stands_steeper(void **state) {
    (void)state;
    for (double wind = 1; wind <= 9; wind++) {
        double before = 90;
        for (int i = 0; i < bf_n_floats; i++) {
            bf_stand stand = hanging(bf_floats[i].rating_kg * 1e3, wind);
            stand.rig.flt.bristle_m = bf_floats[0].bristle_m;
            double lean = solved(&stand).steep_deg;
            BF_CHECK_IN(lean, 0, before);
            before = lean;
        }
    }
}

static void in_wind_no_rig_hangs_plumb(void **state) {
    (void)state;
    for (int i = 0; i < 300; i++) {
        rig_maker maker = rig_maker_start((uint64_t)i + 20000);
        bf_stand stand = random_stand(&maker);
        stand.scene.lake.drift = BF_DRIFT_WIND;
        if (!(stand.scene.lake.wind_m_s.value >= 0.3)) stand.scene.lake.wind_m_s.value = 0.3;
        stand.scene.spot.slope_deg.value = 0;
        bf_rig_shape shape = solved(&stand);
        assert_true(hypot(shape.bait_m[0], shape.bait_m[1]) > 1e-6);
    }
}

/* Practice 9. A No 10 in the middle of the line above the float, in winds that skim the water while that line is slack: the float,
 * and with it a bait off the bottom, goes less far. In more wind, or on a line held tight, it gains nothing (within a
 * centimetre): the wind does not lift a line that is tight. */
static void back_shots_shrink_the_wind_offset_in_a_skimming_wind(void **state) {
    (void)state;
    for (double wind = 1; wind <= 8; wind += 1)
        for (double tip = 0.15; tip <= 0.46; tip += 0.05) {
            bf_stand bare = hanging(0.4, wind);
            bare.hold.tip_height_m.value = tip;
            bf_stand shot = bare;
            shot.rig.n_back_shots = 1;
            shot.rig.back_shot[0] = (bf_shot){
                .size = bf_shot_size_find("No 10"), .mass_kg = NAN, .metal = -1, .count = 1, .at_m = 0.25};
            double without = solved(&bare).bait_m[1], with = solved(&shot).bait_m[1];
            BF_CHECK_IN(with, 0, without + 0.01);
            if (wind <= 2 && tip <= 0.36) BF_CHECK_IN(with, 0, 0.85 * without);
        }
}

static bf_stand lying(double rating_g, double wind_m_s, double overdepth_m, double line_m) {
    bf_stand stand = hanging(rating_g, wind_m_s);
    stand.hold.overdepth_m.value = overdepth_m;
    stand.rig.tip_to_float_m = line_m;
    return stand;
}

/* Wind 3 to 8 m/s: 2 cm of line beyond the depth is dragged off, 30 cm stays where it was put. */
static void more_line_on_the_bottom_holds_the_bait_where_it_was_put(void **state) {
    (void)state;
    for (double wind = 3; wind <= 8; wind++) {
        bf_stand little = lying(0.4, wind, 0.02, 0.5), much = lying(0.4, wind, 0.3, 0.5);
        bf_rig_shape dragged = solved(&little), held = solved(&much);
        BF_CHECK_ABS(dragged.friction_used_frac, 1, 0);
        BF_CHECK_IN(held.friction_used_frac, 0, 0.99);
        assert_true(held.bait_m[1] < 0.5 * dragged.bait_m[1]);
    }
}

static void a_shorter_line_above_the_float_keeps_the_bait_nearer(void **state) {
    (void)state;
    for (double wind = 3; wind <= 8; wind++) {
        bf_stand longer = lying(0.4, wind, 0.02, 0.5), shorter = lying(0.4, wind, 0.02, 0.35);
        assert_true(solved(&shorter).bait_m[1] < 0.5 * solved(&longer).bait_m[1]);
    }
}

/* Practice 15: lowered upright and held still. The heavier rig comes down nearer under the tip. */
static void a_heavier_rig_is_put_down_nearer_under_the_tip(void **state) {
    (void)state;
    for (double wind = 3; wind <= 8; wind++) {
        double before = 1;
        for (int k = 0; k < 3; k++) {
            bf_stand stand = lying((const double[]){0.2, 0.4, 1.0}[k], wind, 0.3, 0.4);
            bf_rig_shape shape = solved(&stand);
            BF_CHECK_IN(shape.friction_used_frac, 0, 0.99);
            BF_CHECK_IN(shape.bait_m[1], 0, before);
            before = shape.bait_m[1];
        }
    }
}

/* Practice 8: a 0.4 g float takes five No 8 and a few trimmers: dotted down, within the band that the meniscus leaves. */
static void a_float_of_0_4_g_takes_five_no_8_and_a_few_trimmers(void **state) {
    bf_stand stand = hanging(0.4, 0);
    (void)state;
    stand.scene.lake.drift = BF_DRIFT_STILL;
    int no_8 = 0, others = 0;
    for (int i = 0; i < stand.rig.n_shots; i++) {
        int is_8 = stand.rig.shot[i].size == bf_shot_size_find("No 8");
        no_8 += is_8 ? stand.rig.shot[i].count : 0;
        others += is_8 ? 0 : stand.rig.shot[i].count;
    }
    bf_rig_shape shape = solved(&stand);
    assert_int_equal(no_8, 5);
    BF_CHECK_IN(others, 1, 4);
    BF_CHECK_IN(shape.bristle_m, -shape.bristle_band_m, stand.rig.flt.bristle_long_m);
}

/* The rig nearer upright is the one with more of its shot low: a bulk against the same shot strung out. */
static void shot_near_the_hook_keeps_the_bait_nearer_than_shot_near_the_float(void **state) {
    (void)state;
    for (double wind = 2; wind <= 8; wind += 2) {
        bf_stand low = hanging(0.4, wind), high = low;
        for (int i = 0; i < high.rig.n_shots; i++) high.rig.shot[i].at_m += 0.8;
        assert_true(solved(&low).steep_deg < solved(&high).steep_deg);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_no_8_alone_on_a_metre_of_line_in_5_cm_a_second_goes_42_cm_off),
        cmocka_unit_test(a_heavier_bulk_stands_steeper),
        cmocka_unit_test(in_wind_no_rig_hangs_plumb),
        cmocka_unit_test(back_shots_shrink_the_wind_offset_in_a_skimming_wind),
        cmocka_unit_test(more_line_on_the_bottom_holds_the_bait_where_it_was_put),
        cmocka_unit_test(a_shorter_line_above_the_float_keeps_the_bait_nearer),
        cmocka_unit_test(a_heavier_rig_is_put_down_nearer_under_the_tip),
        cmocka_unit_test(a_float_of_0_4_g_takes_five_no_8_and_a_few_trimmers),
        cmocka_unit_test(shot_near_the_hook_keeps_the_bait_nearer_than_shot_near_the_float),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
