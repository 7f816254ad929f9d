/* Rig sets for an unknown peg: each rig holds where it is said to, solved again here; conditions are even. */
#include "baitfall/rigset.h"

#include "common/check.h"
#include "plan/random_stand.h"

static bf_unknown_peg a_peg(double depth_least_m, double depth_most_m, double wind_most_m_s) {
    return (bf_unknown_peg){depth_least_m, depth_most_m, 11, 0, wind_most_m_s};
}

static bf_stand a_stand(void) {
    bf_stand stand;
    bf_stand_start(&stand);
    stand.scene.spot.depth_m = bf_exactly(1.5);
    stand.scene.lake.wind_side_deg = bf_exactly(90);
    stand.hook_bait = bf_catalogue[bf_catalogue_find("hard-6", 6)].bait;
    stand.rig = bf_rigs[1].rig;
    bf_stand_settle(&stand);
    return stand;
}

static bf_rig_set set_of(const bf_stand *stand, const bf_unknown_peg *peg) {
    bf_rig_set set;
    assert_int_equal(bf_rigset(stand, peg, &set), BF_OK);
    return set;
}

/* The record ---------------------------------------------------------------------------------------------- */

static void a_peg_says_which_field_is_wrong(void **state) {
    (void)state;
    bf_unknown_peg peg = a_peg(1, 2, 6);
    int field;
    double value;
    assert_int_equal(bf_unknown_peg_check(&peg, &field, &value), BF_OK);
    peg.depth_most_m = 0.5;
    assert_int_equal(bf_unknown_peg_check(&peg, &field, &value), BF_E_RANGE);
    assert_string_equal(bf_unknown_peg_table.field[field].name, "depth_most_m");
    BF_CHECK_ABS(value, 0.5, 0);
    peg = a_peg(1, 2, 6);
    peg.wind_least_m_s = 7;
    assert_int_equal(bf_unknown_peg_check(&peg, &field, &value), BF_E_RANGE);
    assert_string_equal(bf_unknown_peg_table.field[field].name, "wind_most_m_s");
    bf_record_start(&bf_unknown_peg_table, &peg);
    assert_int_equal(bf_unknown_peg_check(&peg, &field, &value), BF_E_MISSING);
    assert_string_equal(bf_unknown_peg_table.field[field].name, "depth_least_m");
}

/* Conditions ---------------------------------------------------------------------------------------------- */

/* Star discrepancy at the points' own corners; a Hammersley set of N = 2^m
 * points stays below (m / 2 + 3 / 2) / N (known bound; from memory). */
static void conditions_are_spread_evenly_over_depth_and_wind(void **state) {
    (void)state;
    bf_unknown_peg peg = {0, 1, 11, 0, 1};
    double x[BF_RIGSET_CONDITIONS], y[BF_RIGSET_CONDITIONS], worst = 0;
    for (int i = 0; i < BF_RIGSET_CONDITIONS; i++) bf_rigset_condition(&peg, i, &x[i], &y[i]);
    for (int i = 0; i < BF_RIGSET_CONDITIONS; i++)
        for (int k = 0; k < BF_RIGSET_CONDITIONS; k++) {
            int inside = 0, closed = 0;
            for (int p = 0; p < BF_RIGSET_CONDITIONS; p++) {
                inside += x[p] < x[i] && y[p] < y[k];
                closed += x[p] <= x[i] && y[p] <= y[k];
            }
            worst = fmax(worst, fabs(x[i] * y[k] - (double)inside / BF_RIGSET_CONDITIONS));
            worst = fmax(worst, fabs(x[i] * y[k] - (double)closed / BF_RIGSET_CONDITIONS));
        }
    print_message("star discrepancy %.4f\n", worst);
    assert_true(worst < 4.0 / BF_RIGSET_CONDITIONS);
}

/* The set ------------------------------------------------------------------------------------------------- */

/* Within the limits in one wind, by the solver alone. */
static int holds_anew(const bf_stand *stand) {
    bf_rig_shape mean, gust;
    if (bf_rig_solve(stand, 1, 0, &mean) || bf_rig_solve(stand, stand->hold.gust_frac.value, 0, &gust))
        return 0;
    return !mean.is_lifted && !gust.is_lifted && mean.bristle_m >= BF_BRISTLE_LEAST_M &&
           gust.bristle_m >= BF_BRISTLE_LEAST_M && mean.bristle_m <= stand->rig.flt.bristle_long_m &&
           gust.bristle_m <= stand->rig.flt.bristle_long_m &&
           hypot(mean.bait_m[0], mean.bait_m[1]) <= BF_HANG_MOST_M &&
           hypot(gust.bait_m[0] - mean.bait_m[0], gust.bait_m[1] - mean.bait_m[1]) <= BF_GUST_MOST_M;
}

/* The last choice that weighs no more than a third of the float's rating. */
static void put_most_back_shots_on(bf_rig *rig) {
    for (int back = 1; back < bf_n_back_choices; back++) {
        bf_shot shot;
        bf_record_start(&bf_back_shot_table, &shot);
        shot.size = bf_shot_size_find(bf_back_choices[back].size);
        shot.count = bf_back_choices[back].count;
        shot.at_m = fmin(bf_back_choices[back].above_m, rig->tip_to_float_m / 2);
        if (shot.count * bf_shot_mass_kg(&shot, rig->shot_error.value) > 0.33 * rig->flt.rating_kg) continue;
        rig->back_shot[0] = shot;
        rig->n_back_shots = 1;
    }
}

static void every_rig_holds_wherever_it_is_said_to_with_its_float_slid_down(void **state) {
    (void)state;
    bf_stand stand = a_stand();
    bf_unknown_peg peg = a_peg(0.8, 2.2, 6);
    bf_rig_set set = set_of(&stand, &peg);
    int with_back = 0;
    assert_in_range(set.n_rigs, 1, BF_RIGSET_MOST);
    for (int k = 0; k < set.n_rigs; k++)
        for (int i = 0; i < BF_RIGSET_CONDITIONS; i++) {
            const bf_set_rig *rig = &set.rig[k];
            bf_stand with = stand;
            double depth_m, wind_m_s;
            if (!(rig->covers >> i & 1)) continue;
            bf_rigset_condition(&peg, i, &depth_m, &wind_m_s);
            double shorter_m = rig->made_m - stand.hold.overdepth_m.value - depth_m;
            BF_CHECK_IN(shorter_m, 0, BF_SHORTEN_MOST_M);
            with.rig = rig->rig;
            with.scene.spot.depth_m = bf_exactly(depth_m);
            with.scene.spot.distance_m = bf_exactly(peg.distance_m);
            with.scene.lake.wind_m_s = bf_exactly(wind_m_s);
            if (!holds_anew(&with)) {
                put_most_back_shots_on(&with.rig);
                assert_true(holds_anew(&with));
                with_back++;
            }
            BF_CHECK_IN(depth_m, rig->depth_least_m, rig->depth_most_m);
            BF_CHECK_IN(wind_m_s, rig->wind_least_m_s, rig->wind_most_m_s);
        }
    print_message("%d of the conditions by back shots\n", with_back);
}

static int bits_of(uint64_t mask) {
    return __builtin_popcountll(mask);
}

static void needs_and_what_is_left_add_up_to_the_whole_range(void **state) {
    (void)state;
    static const double pegs[][3] = {{0.8, 2.2, 6}, {1.4, 1.6, 3}, {0.5, 3.5, 8}, {1.5, 1.5, 2}};
    bf_stand stand = a_stand();
    for (size_t p = 0; p < sizeof pegs / sizeof pegs[0]; p++) {
        bf_unknown_peg peg = a_peg(pegs[p][0], pegs[p][1], pegs[p][2]);
        bf_rig_set set = set_of(&stand, &peg);
        double needed = 0;
        uint64_t covered = 0;
        for (int k = 0; k < set.n_rigs; k++) {
            needed += set.rig[k].needed_frac;
            covered |= set.rig[k].covers;
            BF_CHECK_ABS(set.rig[k].covers_frac, bits_of(set.rig[k].covers) / (double)BF_RIGSET_CONDITIONS,
                         1e-12);
            assert_true(k == 0 || set.rig[k].needed_frac <= set.rig[k - 1].needed_frac);
        }
        BF_CHECK_ABS(needed + set.uncovered_frac, 1, 1e-12);
        BF_CHECK_ABS(set.uncovered_frac, 1 - bits_of(covered) / (double)BF_RIGSET_CONDITIONS, 1e-12);
        BF_CHECK_IN(set.hopeless_frac, 0, set.uncovered_frac);
        assert_int_equal(set.said_uncovered.code == BF_SAID_ALL_COVERED, set.uncovered_frac == 0);
        assert_int_equal(set.said_hopeless.code == BF_SAID_NO_RIG_THERE, set.hopeless_frac > 0);
        print_message(
            "%g to %g m, wind to %g m/s: %d rigs%s of %d candidates, %d solves, uncovered %g, hopeless %g\n",
            pegs[p][0], pegs[p][1], pegs[p][2], set.n_rigs, set.is_exact ? " (fewest)" : "", set.n_candidates,
            set.n_solves, set.uncovered_frac, set.hopeless_frac);
    }
}

static void a_gale_is_said_not_to_be_covered(void **state) {
    (void)state;
    bf_stand stand = a_stand();
    bf_unknown_peg peg = a_peg(1, 2, 20);
    peg.wind_least_m_s = 15;
    bf_rig_set set = set_of(&stand, &peg);
    BF_CHECK_ABS(set.uncovered_frac, 1, 0);
    BF_CHECK_ABS(set.hopeless_frac, 1, 0);
    assert_int_equal(set.n_rigs, 0);
    assert_int_equal(set.said_uncovered.code, BF_SAID_UNCOVERED);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_peg_says_which_field_is_wrong),
        cmocka_unit_test(conditions_are_spread_evenly_over_depth_and_wind),
        cmocka_unit_test(every_rig_holds_wherever_it_is_said_to_with_its_float_slid_down),
        cmocka_unit_test(needs_and_what_is_left_add_up_to_the_whole_range),
        cmocka_unit_test(a_gale_is_said_not_to_be_covered),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
