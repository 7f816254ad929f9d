/* How the rig goes down: against the rig at rest, against itself done finer, and by what must hold whatever the rig. */
#include "baitfall/lay.h"

#include "baitfall/pattern.h"
#include "baitfall/random.h"
#include "baitfall/spread.h"
#include "common/check.h"
#include "core/tackle/lay_way.h"

/* Stands ------------------------------------------------------------------------------------------------- */

static double drawn(uint64_t i, uint64_t what, double least, double most) {
    return least + bf_uniform(20261125, what, i) * (most - least);
}

/* Any start rig and float, shotted to it, over 0.5 to 3 m in a wind of 1.5 to 4.5 m/s from anywhere. */
static bf_stand any_stand(uint64_t i) {
    bf_stand stand;
    bf_stand_start(&stand);
    stand.rig = bf_rigs[(int)drawn(i, 0, 0, bf_n_rigs)].rig;
    stand.rig.flt = bf_floats[(int)drawn(i, 1, 0, bf_n_floats)];
    stand.rig.n_shots = 0;
    stand.scene.spot.depth_m.value = drawn(i, 2, 0.5, 3);
    stand.hold.overdepth_m.value = drawn(i, 3, -0.2, 0.15);
    stand.scene.lake.wind_m_s.value = drawn(i, 4, 1.5, 4.5);
    stand.scene.lake.wind_side_deg.value = drawn(i, 5, -180, 180);
    stand.rig.tip_to_float_m = drawn(i, 6, 0.35, 1.2);
    stand.hold.tip_height_m.value = drawn(i, 7, 0.1, 0.9) * stand.rig.tip_to_float_m;
    stand.hold.lower_m_s = drawn(i, 8, 0.1, 1);
    stand.rig.shot_error.value = drawn(i, 9, -1, 1);
    stand.hold.lowering = drawn(i, 10, 0, 1) < 0.3;
    bf_stand_settle(&stand);
    double wet_m = stand.scene.spot.depth_m.value + stand.hold.overdepth_m.value;
    if (stand.rig.n_shots == 0)
        stand.rig.n_shots =
            bf_pattern_shot(&stand.rig, (int)drawn(i, 11, 0, BF_N_PATTERNS), -1, wet_m, 999.1);
    return stand;
}

/* The middle start rig over 1.5 m of still water. */
static bf_stand still_stand(void) {
    bf_stand stand;
    bf_stand_start(&stand);
    for (int i = 0; i < bf_n_rigs; i++)
        if (strcmp(bf_rigs[i].word, "middle") == 0) stand.rig = bf_rigs[i].rig;
    stand.scene.spot.depth_m.value = 1.5;
    stand.scene.lake.drift = BF_DRIFT_STILL;
    stand.scene.lake.wind_m_s.value = 0;
    bf_stand_settle(&stand);
    if (stand.rig.n_shots == 0)
        stand.rig.n_shots = bf_pattern_shot(&stand.rig, BF_PATTERN_BULK, -1, 1.52, 999.1);
    return stand;
}

static bfi_way way_of(const bf_stand *stand) {
    static bfi_way way;
    assert_int_equal(bfi_way_of(stand, &bfi_usual_care, &way), BF_OK);
    return way;
}

static int by_size(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static int n_stands(int usual, int many) {
    return getenv("BF_LONG") ? many : usual;
}

/* Against the rig at rest -------------------------------------------------------------------------------- */

/* Let down, and let hang: nine rigs in ten within 2 cm of where rig.h has them, all within 6 cm. */
static void a_rig_let_down_comes_to_hang_as_the_rig_at_rest(void **state) {
    (void)state;
    double off_m[400];
    int n = 0, most = n_stands(24, 400);
    for (uint64_t i = 0; n < most; i++) {
        bf_stand stand = any_stand(i);
        bf_rig_shape shape;
        stand.hold.overdepth_m.value = -drawn(i, 12, 0.03, 0.3);
        if (bf_rig_solve(&stand, 1, 0, &shape) != BF_OK || shape.is_lifted || shape.contact != BF_HANGS)
            continue;
        bfi_way way = way_of(&stand);
        bfi_lumped *chain = &way.laid.chain;
        assert_int_equal(bfi_lumped_rest(chain), BF_OK);
        const double *bait = chain->x_m[chain->n - 1];
        off_m[n] = 0;
        for (int k = 0; k < 3; k++) off_m[n] = hypot(off_m[n], bait[k] - shape.bait_m[k]);
        n++;
    }
    qsort(off_m, (size_t)n, sizeof off_m[0], by_size);
    if (getenv("BF_SHOW"))
        printf("off the rig at rest: %.4f %.4f %.4f m\n", off_m[n / 2], off_m[n * 9 / 10], off_m[n - 1]);
    assert_true(off_m[n * 9 / 10] < 0.02);
    assert_true(off_m[n - 1] < 0.06);
}

/* Against itself ----------------------------------------------------------------------------------------- */

/* Largest change of half the rigs, and of nine in ten, from how they are followed in use: of down_s, its part, and of off_m. */
typedef struct changes {
    double half_part, most_part, half_m, most_m;
} changes;

static changes changes_with(const bfi_care *care, int n) {
    static bfi_way finer;
    static double part[400], moved_m[400];
    for (int i = 0; i < n; i++) {
        bf_stand stand = any_stand((uint64_t)i);
        bfi_way way = way_of(&stand);
        assert_int_equal(bfi_way_of(&stand, care, &finer), BF_OK);
        part[i] = fabs(way.down_s / finer.down_s - 1);
        moved_m[i] = fabs(way.off_m - finer.off_m);
    }
    qsort(part, (size_t)n, sizeof part[0], by_size);
    qsort(moved_m, (size_t)n, sizeof moved_m[0], by_size);
    int most = n * 9 / 10 - 1;
    changes c = {part[n / 2], part[most], moved_m[n / 2], moved_m[most]};
    if (getenv("BF_SHOW"))
        printf("nodes x %d, error %.4f m: down %.3f and %.3f, off %.4f and %.4f m\n", care->refine,
               care->tolerance_m, c.half_part, c.most_part, c.half_m, c.most_m);
    return c;
}

static void four_times_as_many_nodes_change_little(void **state) {
    (void)state;
    const bfi_care care = {4, bfi_usual_care.tolerance_m};
    changes c = changes_with(&care, n_stands(16, 200));
    assert_true(c.half_part < 0.03 && c.most_part < 0.10);
    assert_true(c.half_m < 0.015 && c.most_m < 0.08);
}

/* The step's error is limited, not its length. */
static void a_quarter_of_the_steps_error_changes_less(void **state) {
    (void)state;
    const bfi_care care = {1, bfi_usual_care.tolerance_m / 4};
    changes c = changes_with(&care, n_stands(16, 200));
    assert_true(c.half_part < 0.01 && c.most_part < 0.05);
    assert_true(c.half_m < 0.01 && c.most_m < 0.05);
}

/* Whatever the rig --------------------------------------------------------------------------------------- */

static void every_rig_gets_down_and_never_through_the_bottom(void **state) {
    (void)state;
    for (int i = 0; i < n_stands(40, 3000); i++) {
        bf_stand stand = any_stand(1000 + (uint64_t)i);
        stand.scene.spot.slope_deg.value = drawn((uint64_t)i, 13, -12, 12);
        bfi_way way = way_of(&stand);
        const bfi_lumped *chain = &way.laid.chain;
        assert_true(way.down_s > 0 && way.settled_s >= way.down_s && way.at_s[way.n - 1] >= way.settled_s);
        assert_true(way.off_m >= 0 && way.off_m < 10);
        for (int k = 1; k < way.n; k++) assert_true(way.at_s[k] > way.at_s[k - 1]);
        for (int k = 1; k < chain->n; k++) assert_true(bfi_lumped_under_m(chain, k) < 1e-3);
    }
}

/* Let down under the tip in still water it goes as the tip does, until the float is at the surface. */
static void on_a_tight_line_the_bait_goes_down_as_the_tip_does(void **state) {
    (void)state;
    bf_stand stand = still_stand();
    stand.hold.lower_m_s = 0.1;
    stand.hold.overdepth_m.value = 0.05;
    bfi_way way = way_of(&stand);
    BF_CHECK_ABS(way.down_s, 1.5 / 0.1, 0.15);
    assert_true(way.off_m < 0.01);
}

static double down_s(const bf_stand *stand) {
    return way_of(stand).down_s;
}

/* The same rig with its bulk of more shot, let go faster than it can sink. */
static void a_heavier_bulk_goes_down_faster(void **state) {
    (void)state;
    bf_stand stand = still_stand();
    stand.hold.lower_m_s = 3;
    stand.rig.n_shots = 1;
    double last_s = 1e9;
    for (int count = 2; count <= 16; count *= 2) {
        stand.rig.shot[0] = (bf_shot){.size = bf_shot_size_find("No 8"),
                                      .mass_kg = BF_NAN,
                                      .metal = BF_LEAD,
                                      .count = count,
                                      .at_m = 0.2};
        double now_s = down_s(&stand);
        assert_true(now_s < last_s);
        last_s = now_s;
    }
}

/* Every start rig, and let go as fast as it will. */
static void laid_flat_takes_longer_than_let_down_upright(void **state) {
    (void)state;
    for (int i = 0; i < bf_n_rigs; i++) {
        bf_stand stand = still_stand();
        stand.rig = bf_rigs[i].rig;
        bf_stand_settle(&stand);
        stand.hold.lower_m_s = 3;
        double upright_s = down_s(&stand);
        stand.hold.lowering = 1;
        double flat_s = down_s(&stand);
        if (getenv("BF_SHOW"))
            printf("%s: upright %.1f s, flat %.1f s\n", bf_rigs[i].word, upright_s, flat_s);
        assert_true(flat_s > upright_s);
    }
}

/* Turning wind and world by the same angle turns the answer: nothing prefers a direction. */
static void wind_from_the_left_is_wind_from_the_right_in_a_mirror(void **state) {
    (void)state;
    bf_stand stand = any_stand(7);
    stand.hold.lowering = 0;
    stand.scene.lake.wind_side_deg.value = 70;
    bfi_way left = way_of(&stand);
    stand.scene.lake.wind_side_deg.value = -70;
    bfi_way right = way_of(&stand);
    assert_int_equal(left.n, right.n);
    BF_CHECK_REL(left.down_s, right.down_s, 1e-6);
    BF_CHECK_ABS(left.bait_m[left.n - 1][1], -right.bait_m[right.n - 1][1], 1e-6);
}

/* The command -------------------------------------------------------------------------------------------- */

#define SPREAD_COLUMNS (sizeof(bf_spread_out) / sizeof(double) + BF_SPREAD_RAW)

static void the_wait_is_the_feeds_time_less_the_rigs(void **state) {
    (void)state;
    for (uint64_t i = 0; i < 12; i++) {
        bf_stand stand = any_stand(3000 + i);
        stand.hold.lower_m_s = i % 2 ? 1 : 0.1;
        bf_draw draw = {7, i, i == 0};
        bf_lay_out out;
        bf_spread_out spread;
        double row[SPREAD_COLUMNS];
        assert_int_equal(bf_lay_model(&stand, &draw, (double *)&out), BF_OK);
        assert_int_equal(bf_spread_model(&stand.scene, &draw, row), BF_OK);
        memcpy(&spread, row, sizeof spread);
        assert_true(out.feed_s == spread.last_s);
        double early_s = out.feed_s - out.down_s;
        assert_true(out.wait_s == (early_s > 0 ? early_s : 0));
        assert_true(out.down_s == down_s(&stand));
    }
}

static void a_tip_higher_than_its_line_is_long_has_no_answer(void **state) {
    (void)state;
    bf_stand stand = still_stand();
    bf_lay_out out;
    bf_lay_way way;
    bf_draw draw = {7, 0, 1};
    stand.hold.tip_height_m.value = stand.rig.tip_to_float_m + 0.1;
    assert_int_equal(bf_lay_model(&stand, &draw, (double *)&out), BF_E_MODEL_RANGE);
    assert_true(isnan(out.down_s) && isnan(out.wait_s));
    assert_int_equal(bf_lay_path(&stand, &way), BF_E_MODEL_RANGE);
    assert_true(isnan(way.at_s[0]) && isnan(way.bait_m[BF_LAY_POINTS - 1][2]));
    draw.is_nominal = 0; /* one draw of many: no answer, and no reason to stop */
    assert_int_equal(bf_lay_model(&stand, &draw, (double *)&out), BF_OK);
    assert_true(isnan(out.down_s) && isnan(out.wait_s) && out.feed_s > 0);
}

static void feed_that_floats_leaves_the_wait_open(void **state) {
    (void)state;
    bf_stand stand = still_stand();
    bf_lay_out out;
    bf_draw draw = {7, 0, 1};
    stand.scene.bait.density_kg_m3.value = 900;
    stand.scene.bait.density_scatter_kg_m3 = 0;
    assert_int_equal(bf_lay_model(&stand, &draw, (double *)&out), BF_OK);
    assert_true(out.down_s > 0 && isnan(out.feed_s) && isnan(out.wait_s));
}

static void the_way_for_the_drawing_ends_on_the_bottom(void **state) {
    (void)state;
    bf_stand stand = still_stand();
    bf_lay_way way;
    stand.hold.overdepth_m.value = 0.05;
    assert_int_equal(bf_lay_path(&stand, &way), BF_OK);
    BF_CHECK_ABS(way.bait_m[0][2], 0, 1e-9);
    BF_CHECK_ABS(way.bait_m[BF_LAY_POINTS - 1][2], 1.5, 2e-3);
    BF_CHECK_REL(way.at_s[BF_LAY_POINTS - 1], down_s(&stand), 1e-12);
    for (int i = 0; i < BF_LAY_POINTS; i++) {
        assert_true(way.float_m[i][2] < way.bulk_m[i][2] + 1e-9);
        if (i > 0)
            assert_true(way.at_s[i] > way.at_s[i - 1] && way.bait_m[i][2] >= way.bait_m[i - 1][2] - 1e-3);
    }
}

/* The remark's wait is the high end of wait_s; without one it says to lower at once. */
static void remarks_name_the_safe_wait(void **state) {
    (void)state;
    for (int fast = 0; fast < 2; fast++) {
        static double rows[32 * 5], nominal[5], work[65536];
        bf_stand stand = still_stand();
        stand.hold.lower_m_s = fast ? 2 : 0.02;
        bf_ensemble ensemble = {&bf_lay_schema, &stand, bf_lay_model, 5, 0, 7, 32};
        static bf_ensemble_result result;
        bf_note notes[BF_MOST_NOTES];
        assert_true(bf_ensemble_work_bytes(&ensemble) <= sizeof work);
        assert_int_equal(bf_ensemble_nominal(&ensemble, nominal), BF_OK);
        assert_int_equal(bf_ensemble_range(&ensemble, 0, 32, work, rows), BF_OK);
        bf_ensemble_finish(&ensemble, rows, nominal, work, &result);
        int n = bf_lay_notes(&stand, &result, notes), n_wait = 0, n_at_once = 0, n_lines = 0;
        assert_true(n <= BF_MOST_NOTES);
        for (int i = 0; i < n; i++) {
            if (notes[i].code == BF_NOTE_LAY_WAIT) {
                assert_true(notes[i].number[0] == result.range[3].hi);
                n_wait++;
            }
            n_at_once += notes[i].code == BF_NOTE_LAY_AT_ONCE;
            n_lines += notes[i].code == BF_NOTE_POWER_LINES;
        }
        assert_int_equal(n_wait, fast);
        assert_int_equal(n_at_once, !fast);
        assert_int_equal(n_lines, 1);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_rig_let_down_comes_to_hang_as_the_rig_at_rest),
        cmocka_unit_test(four_times_as_many_nodes_change_little),
        cmocka_unit_test(a_quarter_of_the_steps_error_changes_less),
        cmocka_unit_test(every_rig_gets_down_and_never_through_the_bottom),
        cmocka_unit_test(on_a_tight_line_the_bait_goes_down_as_the_tip_does),
        cmocka_unit_test(a_heavier_bulk_goes_down_faster),
        cmocka_unit_test(laid_flat_takes_longer_than_let_down_upright),
        cmocka_unit_test(wind_from_the_left_is_wind_from_the_right_in_a_mirror),
        cmocka_unit_test(the_wait_is_the_feeds_time_less_the_rigs),
        cmocka_unit_test(a_tip_higher_than_its_line_is_long_has_no_answer),
        cmocka_unit_test(feed_that_floats_leaves_the_wait_open),
        cmocka_unit_test(the_way_for_the_drawing_ends_on_the_bottom),
        cmocka_unit_test(remarks_name_the_safe_wait),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
