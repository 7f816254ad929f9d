/* What to mend first: each thing mended is what the stand so mended gives in the same draws. */
#include "tackle/aim_stand.h"

static bf_mend mends[BF_N_MENDS];

static int mend_all(const bf_stand *stand) {
    static bf_aiming aiming;
    assert_int_equal(bf_aim_prepare(stand, &aiming), BF_OK);
    double *rows = rows_of(&aiming, 4096);
    void *work = malloc(bf_aim_mend_bytes(4096));
    int n = bf_aim_mends(&aiming, 1, rows, 4096, work, mends);
    free(rows);
    free(work);
    return n;
}

static const bf_mend *find(int kind, int n) {
    for (int i = 0; i < n; i++)
        if (mends[i].kind == kind) return &mends[i];
    return NULL;
}

/* Miss over the draws that mends are tried on. */
static bf_range miss_of(const bf_stand *stand, double *mean_square) {
    static bf_aiming aiming;
    static double column[BF_MEND_DRAWS];
    assert_int_equal(bf_aim_prepare(stand, &aiming), BF_OK);
    double *rows = rows_of(&aiming, BF_MEND_DRAWS);
    *mean_square = 0;
    for (int k = 0; k < BF_MEND_DRAWS; k++) {
        column[k] = rows[k * BF_AIM_ROW + MISS];
        *mean_square += column[k] * column[k] / BF_MEND_DRAWS;
    }
    free(rows);
    return bf_range_of(column, BF_MEND_DRAWS, BF_NAN);
}

/* An angler with slips, in still water. */
static bf_stand slipping_stand(void) {
    bf_stand stand = exact_stand();
    stand.aim.pot_comp_m = 0;
    stand.aim.ship_m.pm = stand.aim.feeding.ship_m.pm = 0.04;
    stand.aim.bearing_deg.pm = stand.aim.feeding.bearing_deg.pm = 0.4;
    stand.aim.steady_m.pm = 0.015;
    return stand;
}

static void nothing_is_to_be_mended_where_all_is_well(void **state) {
    (void)state;
    bf_stand stand = exact_stand();
    stand.aim.pot_comp_m = stand.scene.pot.behind_tip_m.value;
    stand.rig.tip_to_float_m = 0.3;
    stand.hold.tip_height_m = bf_exactly(0.2);
    assert_int_equal(mend_all(&stand), 0);
}

/* The largest error first: 5.5 cm of a pot behind the tip that nobody leans forward for. */
static void leaning_forward_gains_what_the_pot_behind_the_tip_cost(void **state) {
    (void)state;
    bf_stand stand = exact_stand();
    stand.aim.pot_comp_m = 0;
    stand.aim.ship_m.pm = stand.aim.feeding.ship_m.pm = 0.02;
    int n = mend_all(&stand);
    assert_true(n >= 1);
    assert_int_equal(mends[0].kind, BF_MEND_LEAN);
    BF_CHECK_ABS(mends[0].number[0], 0.055, 1e-12);
    assert_true(mends[0].share_frac > 0.8);
    assert_true(mends[0].gain_m > 0.03);
}

/* A mend of `stand` against the stand so mended, run by itself: its points, gain and share within so many metres (of the share: of 1). */
static void check_mend(int kind, const bf_stand *stand, const bf_stand *so_mended, double within_m) {
    double square_now, square;
    int n = mend_all(stand);
    bf_range now = miss_of(stand, &square_now), miss = miss_of(so_mended, &square);
    const bf_mend *mend = find(kind, n);
    assert_non_null(mend);
    BF_CHECK_ABS(mend->miss_50_m, miss.mid, within_m);
    BF_CHECK_ABS(mend->miss_90_m, miss.hi, within_m);
    BF_CHECK_ABS(mend->gain_m, now.hi - miss.hi, within_m);
    BF_CHECK_ABS(mend->share_frac, 1 - square / square_now, within_m);
}

static void mended_is_what_the_mended_stand_gives_in_the_same_draws(void **state) {
    (void)state;
    bf_stand stand = slipping_stand();
    stand.aim.steady_m.pm = 0.05;
    bf_stand leaning = stand, lined_up = stand, steady = stand;
    leaning.aim.pot_comp_m = leaning.scene.pot.behind_tip_m.value;
    check_mend(BF_MEND_LEAN, &stand, &leaning, 1e-6);
    lined_up.aim.bearing_deg.pm = lined_up.aim.feeding.bearing_deg.pm = 0.15;
    check_mend(BF_MEND_BEARING, &stand, &lined_up, 1e-6);
    steady.aim.steady_m.pm = 0.01;
    check_mend(BF_MEND_STEADY, &stand, &steady, 1e-6);
}

/* On a slope feed that is let go elsewhere falls through another depth, which a mend leaves out (aim.h). */
static void on_a_slope_a_mended_slip_is_right_to_a_millimetre(void **state) {
    (void)state;
    for (int side_deg = 0; side_deg < 360; side_deg += 90) {
        bf_stand stand = slipping_stand();
        stand.scene.spot.slope_deg = bf_exactly(6);
        stand.scene.lake.drift = BF_DRIFT_WIND;
        stand.scene.lake.wind_m_s = bf_exactly(4);
        stand.scene.lake.wind_side_deg = bf_exactly(side_deg);
        bf_stand leaning = stand;
        leaning.aim.pot_comp_m = leaning.scene.pot.behind_tip_m.value;
        if (side_deg != 180) check_mend(BF_MEND_LEAN, &stand, &leaning, 1e-3);
    }
}

static void the_best_comes_first_and_all_are_worth_a_word(void **state) {
    (void)state;
    bf_stand stand = slipping_stand();
    int n = mend_all(&stand);
    assert_true(n >= 3);
    for (int i = 0; i < n; i++) {
        assert_true(mends[i].gain_m >= BF_MEND_WORTH_M);
        assert_true(i == 0 || mends[i].gain_m <= mends[i - 1].gain_m);
        assert_true(mends[i].miss_50_m < mends[i].miss_90_m);
    }
    assert_non_null(find(BF_MEND_MARK, n));
    assert_non_null(find(BF_MEND_BEARING, n));
    assert_null(find(BF_MEND_DRIFT, n));
}

static void a_marker_that_moves_is_named(void **state) {
    (void)state;
    bf_stand stand = exact_stand();
    stand.aim.marker_m = 40;
    stand.aim.marker_moves_m.pm = stand.aim.feeding.marker_moves_m.pm = 0.5;
    int n = mend_all(&stand);
    assert_int_equal(mends[0].kind, BF_MEND_MARKER);
    stand.aim.marker_m = BF_NAN; /* none that could move */
    n = mend_all(&stand);
    assert_null(find(BF_MEND_MARKER, n));
}

/* Common practice, no source (trade rule 9): a slack line between tip and float lets wind and drift carry the float off. */
static void in_wind_a_shorter_line_or_a_back_shot_is_offered(void **state) {
    (void)state;
    bf_stand stand = exact_stand();
    stand.aim.pot_comp_m = stand.scene.pot.behind_tip_m.value;
    stand.scene.lake.drift = BF_DRIFT_WIND;
    stand.scene.lake.wind_m_s = (bf_quantity){4, 0.5, 0};
    stand.scene.lake.wind_side_deg = (bf_quantity){90, 15, 0};
    stand.rig.tip_to_float_m = 0.6;
    stand.hold.tip_height_m = bf_exactly(0.4);
    stand.hold.overdepth_m = bf_exactly(-0.05);
    int n = mend_all(&stand);
    assert_true(find(BF_MEND_SHORT_LINE, n) || find(BF_MEND_BACK_SHOT, n));
    const bf_mend *drift = find(BF_MEND_DRIFT, n);
    assert_non_null(drift);
    assert_true(drift->share_frac > 0.5);
}

static void every_mend_has_its_key_and_its_sentence(void **state) {
    (void)state;
    for (int kind = 0; kind < BF_N_MENDS; kind++) {
        assert_true(strlen(bf_mend_input(kind)) > 3);
        const char *sentence = bf_mend_sentence(kind);
        assert_true(sentence[strlen(sentence) - 1] == '.');
    }
    assert_string_equal(bf_mend_input(BF_MEND_LEAN), "aim.pot_comp_m");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nothing_is_to_be_mended_where_all_is_well),
        cmocka_unit_test(leaning_forward_gains_what_the_pot_behind_the_tip_cost),
        cmocka_unit_test(mended_is_what_the_mended_stand_gives_in_the_same_draws),
        cmocka_unit_test(on_a_slope_a_mended_slip_is_right_to_a_millimetre),
        cmocka_unit_test(the_best_comes_first_and_all_are_worth_a_word),
        cmocka_unit_test(a_marker_that_moves_is_named),
        cmocka_unit_test(in_wind_a_shorter_line_or_a_back_shot_is_offered),
        cmocka_unit_test(every_mend_has_its_key_and_its_sentence),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
