/* The sketch of a rig against the solver that it stands for, and against what must hold of any rig. */
#include "tackle/aim_stand.h"

#include "core/tackle/rest.h"
#include "core/tackle/sketch.h"

/* The middle start rig, all exact, with wind, overdepth and slope as said; the wind blows to wind_deg. */
static bf_stand windy_stand(double wind_m_s, double wind_deg, double over_m, double slope_deg) {
    bf_stand stand = exact_stand();
    stand.scene.lake.drift = BF_DRIFT_WIND;
    stand.scene.lake.wind_m_s = bf_exactly(wind_m_s);
    stand.scene.lake.wind_side_deg = bf_exactly(wind_deg);
    stand.scene.spot.slope_deg = bf_exactly(slope_deg);
    stand.hold.overdepth_m = bf_exactly(over_m);
    return stand;
}

static bfi_sketched sketched(const bf_stand *stand) {
    bfi_rigging rigging;
    bfi_sketched s;
    assert_int_equal(bfi_rigging_of(stand, 1, 0, &rigging), BF_OK);
    assert_int_equal(bfi_sketch(&rigging, &s), BF_OK);
    return s;
}

/* How far a sketch is from the solver; *is_held: what both say. */
static double off_m(const bf_stand *stand, int *is_held) {
    bfi_rigging rigging;
    bfi_rest rest;
    bfi_sketched s = sketched(stand);
    assert_int_equal(bfi_rest_in(stand, 1, 0, &rigging, &rest), BF_OK);
    *is_held = rest.balance.contact != BF_HANGS && rest.friction_used_frac < 1;
    assert_int_equal(s.is_held, *is_held);
    return hypot(s.bait_m[0] - rest.bait_m[0], s.bait_m[1] - rest.bait_m[1]);
}

static void a_hanging_bait_is_sketched_to_a_millimetre(void **state) {
    (void)state;
    for (int wind = 1; wind <= 6; wind++) {
        bf_stand stand = windy_stand(wind, 40, -0.1, 0);
        int is_held;
        BF_CHECK_IN(off_m(&stand, &is_held), 0, 1e-3);
        assert_false(is_held);
    }
}

static void a_held_bait_is_sketched_where_it_is_put_down(void **state) {
    (void)state;
    for (int k = 0; k < 6; k++) {
        bf_stand stand = windy_stand(0.5 + 0.3 * k, 250, 0.02 + 0.02 * k, k - 3.0);
        int is_held;
        BF_CHECK_IN(off_m(&stand, &is_held), 0, 1e-3);
        assert_true(is_held);
    }
}

/* Level, up a slope and down it. */
static void a_dragged_bait_is_sketched_to_five_millimetres(void **state) {
    (void)state;
    for (int slope = -3; slope <= 3; slope += 3)
        for (int wind = 4; wind <= 6; wind++) {
            bf_stand stand = windy_stand(wind, 10, 0.02, slope);
            int is_held;
            BF_CHECK_IN(off_m(&stand, &is_held), 0, 5e-3);
            assert_false(is_held);
        }
}

/* A bait that is set clear of the bottom and drifts up against it. */
static void a_bait_that_comes_up_against_the_slope_stops_there(void **state) {
    (void)state;
    bf_stand level = windy_stand(3, 0, -0.005, 0), uphill = windy_stand(3, 0, -0.005, -6);
    int is_held;
    BF_CHECK_IN(off_m(&level, &is_held), 0, 1e-3);
    BF_CHECK_IN(off_m(&uphill, &is_held), 0, 3e-3);
    assert_true(sketched(&uphill).bait_m[0] < 0.8 * sketched(&level).bait_m[0]);
}

/* Back shots on the line above, line that floats, and a bed so deep in line that some of it lies. */
static void back_shots_floating_line_and_lying_line_are_sketched(void **state) {
    (void)state;
    bf_stand stand = windy_stand(3, 90, -0.1, 0);
    stand.rig.back_shot[0] = (bf_shot){bf_shot_size_find("No 10"), BF_NAN, BF_LEAD, 2, 0.15, 0};
    stand.rig.n_back_shots = 1;
    int is_held;
    BF_CHECK_IN(off_m(&stand, &is_held), 0, 2e-3);
    stand = windy_stand(0.7, 90, -0.1, 0); /* light: the line above is slack */
    BF_CHECK_IN(off_m(&stand, &is_held), 0, 3e-3);
    stand = windy_stand(6, 90, 0.25, 0);
    BF_CHECK_IN(off_m(&stand, &is_held), 0, 3e-3);
}

static void wind_mirrored_mirrors_the_sketch(void **state) {
    (void)state;
    for (int k = 0; k < 4; k++) {
        bf_stand one = windy_stand(2 + k, 35, 0.02, 0), other = windy_stand(2 + k, -35, 0.02, 0);
        bfi_sketched a = sketched(&one), b = sketched(&other);
        BF_CHECK_ABS(a.bait_m[0], b.bait_m[0], 1e-12);
        BF_CHECK_ABS(a.bait_m[1], -b.bait_m[1], 1e-12);
    }
}

static void without_wind_a_sketch_hangs_plumb(void **state) {
    (void)state;
    bf_stand stand = exact_stand();
    stand.hold.overdepth_m = bf_exactly(-0.1);
    bfi_sketched hung = sketched(&stand);
    BF_CHECK_ABS(hypot(hung.bait_m[0], hung.bait_m[1]), 0, 1e-6);
    stand.hold.overdepth_m = bf_exactly(0.05);
    bfi_sketched held = sketched(&stand);
    BF_CHECK_ABS(hypot(held.bait_m[0], held.bait_m[1]), 0, 1e-6);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_hanging_bait_is_sketched_to_a_millimetre),
        cmocka_unit_test(a_held_bait_is_sketched_where_it_is_put_down),
        cmocka_unit_test(a_dragged_bait_is_sketched_to_five_millimetres),
        cmocka_unit_test(a_bait_that_comes_up_against_the_slope_stops_there),
        cmocka_unit_test(back_shots_floating_line_and_lying_line_are_sketched),
        cmocka_unit_test(wind_mirrored_mirrors_the_sketch),
        cmocka_unit_test(without_wind_a_sketch_hangs_plumb),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
