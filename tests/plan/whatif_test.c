/* What-ifs: each changes what it says and nothing else; its numbers are those of judging the changed stand. */
#include "baitfall/whatif.h"

#include "common/check.h"
#include "plan/random_stand.h"

static void each_change_changes_what_it_says(void **state) {
    (void)state;
    for (int index = 0; index < 40; index++) {
        bf_stand stand = random_stand(index), to;
        int applies = bf_whatif_change(&stand, BF_WHATIF_BRISK, &to);
        assert_int_equal(applies, stand.scene.lake.wind_m_s.value < BF_BRISK_M_S);
        BF_CHECK_ABS(to.scene.lake.wind_m_s.value, applies ? BF_BRISK_M_S : stand.scene.lake.wind_m_s.value,
                     0);
        to.scene.lake.wind_m_s = stand.scene.lake.wind_m_s;
        assert_memory_equal(&to, &stand, sizeof to);

        applies = bf_whatif_change(&stand, BF_WHATIF_NO_DRIFT, &to);
        assert_int_equal(applies, stand.scene.lake.drift != BF_DRIFT_STILL);
        assert_int_equal(to.scene.lake.drift, BF_DRIFT_STILL);
        to.scene.lake.drift = stand.scene.lake.drift;
        assert_memory_equal(&to, &stand, sizeof to);

        assert_int_equal(bf_whatif_change(&stand, BF_WHATIF_DEEPER, &to), 1);
        BF_CHECK_ABS(to.scene.spot.depth_m.value, stand.scene.spot.depth_m.value + 12 * 0.0254, 1e-12);
        to.scene.spot.depth_m = stand.scene.spot.depth_m;
        assert_memory_equal(&to, &stand, sizeof to);

        assert_int_equal(bf_whatif_change(&stand, BF_WHATIF_HEAVIER, &to), 1);
        assert_true(to.rig.flt.rating_kg > stand.rig.flt.rating_kg);
        for (int i = 0; i < bf_n_floats; i++)
            assert_true(bf_floats[i].rating_kg <= stand.rig.flt.rating_kg ||
                        bf_floats[i].rating_kg >= to.rig.flt.rating_kg);

        assert_int_equal(bf_whatif_change(&stand, BF_WHATIF_BACK_SHOT, &to), 1);
        assert_int_equal(to.rig.n_back_shots, stand.rig.n_back_shots + 1);
        assert_true(to.rig.back_shot[0].at_m <= to.rig.tip_to_float_m / 2);

        assert_int_equal(bf_whatif_change(&stand, BF_WHATIF_TAUT, &to), 1);
        BF_CHECK_ABS(to.rig.tip_to_float_m, (stand.rig.tip_to_float_m + stand.hold.tip_height_m.value) / 2,
                     1e-12);
    }
}

static void what_does_not_apply_is_missing_and_says_nothing(void **state) {
    (void)state;
    bf_stand stand = random_stand(1), to;
    bf_judged was;
    bf_whatif_out out;
    stand.scene.lake.wind_m_s = bf_exactly(0);
    stand.scene.lake.drift = BF_DRIFT_STILL;
    stand.rig.tip_to_float_m = stand.hold.tip_height_m.value;
    stand.rig.flt.rating_kg = bf_floats[bf_n_floats - 1].rating_kg;
    static const int not [] = {BF_WHATIF_CALM, BF_WHATIF_NO_DRIFT, BF_WHATIF_TAUT, BF_WHATIF_HEAVIER};
    assert_int_equal(bf_judge(&stand, &was), BF_OK);
    for (size_t i = 0; i < sizeof not / sizeof not [0]; i++) {
        assert_int_equal(bf_whatif_change(&stand, not [i], &to), 0);
        assert_memory_equal(&to, &stand, sizeof to);
        assert_int_equal(bf_whatif_answer(&stand, &was, not [i], &out), BF_E_MISSING);
        assert_int_equal(out.said.code, BF_SAID_NOTHING);
    }
}

static void numbers_are_those_of_the_changed_stand(void **state) {
    (void)state;
    int said[BF_N_SAIDS] = {0};
    for (int index = 0; index < 12; index++) {
        bf_stand stand = random_stand(index), to;
        bf_suggest_ask ask = {0};
        bf_suggestion suggestion;
        bf_judged was, is;
        assert_int_equal(bf_suggest(&stand, &ask, &suggestion), BF_OK);
        stand.rig = suggestion.rig;
        assert_int_equal(bf_judge(&stand, &was), BF_OK);
        for (int what = 0; what < BF_N_WHATIFS; what++) {
            bf_whatif_out out;
            if (!bf_whatif_change(&stand, what, &to)) continue;
            assert_int_equal(bf_judge(&to, &is), BF_OK);
            assert_int_equal(bf_whatif_answer(&stand, &was, what, &out), BF_OK);
            assert_memory_equal(&out.is, &is, sizeof is);
            assert_memory_equal(&out.was, &was, sizeof was);
            said[out.said.code]++;
            if (is.limit == BF_LIMIT_NONE) assert_int_equal(out.take, -1);
            if (out.said.code == BF_SAID_WHATIF_TAKE) {
                assert_int_equal(bf_suggest(&to, &ask, &suggestion), BF_OK);
                assert_int_equal(suggestion.item[BF_SUGGEST_FLOAT].choice, out.take);
            }
        }
    }
    print_message("holds %d, holds not %d, take another %d, none holds %d, no balance %d\n",
                  said[BF_SAID_WHATIF_HOLDS], said[BF_SAID_WHATIF_HOLDS_NOT], said[BF_SAID_WHATIF_TAKE],
                  said[BF_SAID_WHATIF_FAILS], said[BF_SAID_WHATIF_NONE]);
    assert_true(said[BF_SAID_WHATIF_HOLDS] > 0 && said[BF_SAID_WHATIF_TAKE] > 0);
}

/* The mean of aim's own rows that have one; the same stand twice is the same chance. */
static void the_chance_is_that_of_aim(void **state) {
    (void)state;
    enum { DRAWS = 64, ROW = (int)(sizeof(bf_aim_out) / sizeof(double)) + BF_AIM_RAW };
    static double work[1 << 16], rows[DRAWS * ROW];
    static bf_aiming aiming;
    bf_stand stand = random_stand(2), to;
    bf_aim_chance was, again, is;
    double on = 0;
    assert_true(bf_whatif_chance_bytes(DRAWS) <= sizeof work);
    assert_int_equal(bf_whatif_chance(&stand, 7, DRAWS, work, &was), BF_OK);
    assert_int_equal(bf_aim_prepare(&stand, &aiming), BF_OK);
    bf_ensemble ensemble = bf_aim_ensemble(&aiming, 7, DRAWS);
    assert_int_equal(bf_ensemble_range(&ensemble, 0, DRAWS, work, rows), BF_OK);
    int n = 0; /* draws in which the rig has a balance */
    for (int k = 0; k < DRAWS; k++) {
        double on_frac = rows[(size_t)(k * ROW) + offsetof(bf_aim_out, on_frac) / sizeof(double)];
        if (isnan(on_frac)) continue;
        on += on_frac;
        n++;
    }
    assert_true(n > DRAWS / 4); /* as many as a fit asks for */
    BF_CHECK_ABS(was.within_5cm, on / n, 1e-12);
    assert_int_equal(bf_whatif_chance(&stand, 7, DRAWS, work, &again), BF_OK);
    assert_memory_equal(&was, &again, sizeof was);
    /* A tip held far less steadily must lower the chance in the same draws. */
    to = stand;
    to.aim.steady_m = (bf_quantity){0, 0.3, 0};
    assert_int_equal(bf_whatif_chance(&to, 7, DRAWS, work, &is), BF_OK);
    assert_true(is.within_15cm < was.within_15cm);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_change_changes_what_it_says),
        cmocka_unit_test(what_does_not_apply_is_missing_and_says_nothing),
        cmocka_unit_test(numbers_are_those_of_the_changed_stand),
        cmocka_unit_test(the_chance_is_that_of_aim),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
