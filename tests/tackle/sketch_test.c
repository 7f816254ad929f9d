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

/* The same with a drift that was measured, to drift_deg. */
static bf_stand crossed_stand(double wind_m_s, double drift_deg, double over_m, double slope_deg) {
    bf_stand stand = windy_stand(wind_m_s, 10, over_m, slope_deg);
    bf_lake *lake = &stand.scene.lake;
    lake->drift = BF_DRIFT_MEASURED;
    lake->surface_drift_m_s = bf_exactly(0.06);
    lake->undertow_m_s = bf_exactly(0.006);
    lake->drift_side_deg = bf_exactly(drift_deg);
    return stand;
}

/* Hanging to 2 mm, on the bottom to 8 mm. */
static void a_bait_is_sketched_at_any_angle_between_wind_and_current(void **state) {
    (void)state;
    int n_held = 0, n = 0;
    for (int drift = -160; drift <= 180; drift += 40)
        for (int wind = 3; wind <= 7; wind += 2)
            for (int slope = -3; slope <= 3; slope += 3) {
                bf_stand hung = crossed_stand(wind, drift, -0.1, slope),
                         on = crossed_stand(wind, drift, 0.02, slope);
                int is_held;
                BF_CHECK_IN(off_m(&hung, &is_held), 0, 2e-3);
                assert_false(is_held);
                BF_CHECK_IN(off_m(&on, &is_held), 0, 8e-3);
                n_held += is_held;
                n++;
            }
    BF_CHECK_IN(n_held, 0.2 * n, 0.8 * n); /* some of both */
}

/* Of the solver: what the bottom does to a bait that it lets go, against what pulls at it, points back along its way from where it was
 * let down, and is all that friction has (level bottom: its push up times the coefficient). Held, it is less. */
static void a_dragged_bait_is_held_against_the_way_it_went(void **state) {
    (void)state;
    int n_dragged = 0;
    for (int drift = -170; drift <= 180; drift += 25)
        for (int wind = 3; wind <= 7; wind++) {
            bf_stand stand = crossed_stand(wind, drift, 0.02, 0);
            bfi_rigging rigging;
            bfi_rest rest;
            double put_m[2], end_n[3], push_n[2], gone_m[2];
            assert_int_equal(bfi_rest_in(&stand, 1, 0, &rigging, &rest), BF_OK);
            assert_int_equal(bfi_put_down(&rigging, put_m), BF_OK);
            if (rest.balance.contact != BF_TOUCHES || rest.friction_used_frac < 1) continue;
            bfi_end_load(&rigging, rest.balance.foot.at_m[2], end_n);
            for (int i = 0; i < 2; i++) {
                push_n[i] = -rest.balance.foot.pull_n[i] - end_n[i];
                gone_m[i] = rest.bait_m[i] - put_m[i];
            }
            double push = hypot(push_n[0], push_n[1]), gone = hypot(gone_m[0], gone_m[1]);
            double up_n = end_n[2] + rest.balance.foot.pull_n[2];
            BF_CHECK_REL(push, rigging.friction_frac * up_n, 1e-9);
            BF_CHECK_ABS((push_n[0] * gone_m[1] - push_n[1] * gone_m[0]) / push, 0, 3e-5);
            assert_true(push_n[0] * gone_m[0] + push_n[1] * gone_m[1] < 0 || gone < 1e-4);
            n_dragged++;
        }
    assert_true(n_dragged >= 10);
}

/* Three numbers that move each other's gaps; the third beyond 2 has none. */
static bf_status three_gaps(void *of, const double x[3], double gap[5]) {
    ++*(int *)of;
    if (x[2] > 2) return BF_E_MODEL_RANGE;
    gap[0] = x[0] + 0.1 * x[1] * x[1] - 1;
    gap[1] = x[1] + 0.2 * x[0] * x[2] - 0.5;
    gap[2] = x[2] - 0.3 * sin(x[1]) - 0.2;
    gap[3] = x[0] * x[1];
    gap[4] = x[2] * x[2];
    return BF_OK;
}

/* Put right by the slopes the outputs are as at the very place; a status ends the search, and so does a gap that never closes. */
static void three_gaps_close_together(void **state) {
    (void)state;
    static const double coarse[] = {1e-3, 1e-3, 1e-3}, fine[] = {1e-12, 1e-12, 1e-12}, never[] = {-1, -1, -1},
                        most[] = {0.5, 0.5, 0.5};
    const bfi_together start = {.slope = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, {0.5, 1, 0}, {0, 0, 0.5}}};
    bfi_together about = start, exact = start, lost = start;
    int n_about = 0, n_exact = 0, n = 0;
    double gap[5];
    assert_int_equal(bfi_close_together(three_gaps, &n_exact, fine, most, &exact), BF_OK);
    assert_int_equal(three_gaps(&n, exact.at, gap), BF_OK);
    for (int i = 0; i < 3; i++) BF_CHECK_ABS(gap[i], 0, 1e-12);
    for (int i = 0; i < 2; i++) BF_CHECK_ABS(exact.out[i], gap[3 + i], 1e-12);
    assert_int_equal(bfi_close_together(three_gaps, &n_about, coarse, most, &about), BF_OK);
    assert_true(n_about < n_exact && n_exact <= 13);
    for (int i = 0; i < 2; i++) BF_CHECK_ABS(about.out[i], exact.out[i], 1e-4);
    lost.at[2] = 3;
    assert_int_equal(bfi_close_together(three_gaps, &n, coarse, most, &lost), BF_E_MODEL_RANGE);
    lost = start;
    assert_int_equal(bfi_close_together(three_gaps, &n, never, most, &lost), BF_E_NO_CONVERGE);
}

/* Level bottom: what a bait uses of it is its grip over the coefficient of friction. To a twentieth: the solver goes on from there. */
static void the_grip_that_just_holds_is_sketched(void **state) {
    (void)state;
    int n_held = 0;
    for (int k = 0; k < 12; k++) {
        bf_stand stand = windy_stand(1.5 + 0.4 * k, 0, 0.05 + 0.05 * (k % 3), 0);
        bfi_rigging rigging;
        bfi_rest rest;
        double put_m[2];
        assert_int_equal(bfi_rest_in(&stand, 1, 0, &rigging, &rest), BF_OK);
        assert_int_equal(bfi_put_down(&rigging, put_m), BF_OK);
        if (rest.slack_m > 0 || rest.friction_used_frac >= 1) continue;
        double most = log(rigging.friction_frac);
        bfi_pull pull = {{1, 0}, 0.1, most - 7, most};
        bfi_known grip;
        (void)bfi_sketch_grip(&rigging, put_m, &pull, &grip);
        BF_CHECK_ABS(grip.at - most, log(rest.friction_used_frac), 0.06);
        n_held++;
    }
    assert_true(n_held >= 6);
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
        cmocka_unit_test(a_bait_is_sketched_at_any_angle_between_wind_and_current),
        cmocka_unit_test(a_dragged_bait_is_held_against_the_way_it_went),
        cmocka_unit_test(three_gaps_close_together),
        cmocka_unit_test(the_grip_that_just_holds_is_sketched),
        cmocka_unit_test(wind_mirrored_mirrors_the_sketch),
        cmocka_unit_test(without_wind_a_sketch_hangs_plumb),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
