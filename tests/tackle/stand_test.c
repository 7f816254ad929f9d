/* The record of a rig at work: what it starts with, what it may be, what follows from it. */
#include "baitfall/stand.h"

#include "baitfall/aim.h"
#include "baitfall/ensemble.h"
#include "baitfall/pattern.h"
#include "common/check.h"

static bf_stand started(void) {
    bf_stand stand;
    bf_stand_start(&stand);
    stand.scene.spot.depth_m = bf_exactly(1.5);
    return stand;
}

static void a_started_stand_lacks_only_the_depth(void **state) {
    bf_stand stand;
    bf_fault fault;
    (void)state;
    bf_stand_start(&stand);
    assert_int_equal(bf_schema_check(&bf_rig_schema, &stand, &fault), BF_E_MISSING);
    assert_string_equal(fault.section->table->field[fault.field].name, "depth_m");
    stand = started();
    assert_int_equal(bf_schema_check(&bf_rig_schema, &stand, &fault), BF_OK);
    assert_int_equal(bf_schema_check(&bf_lay_schema, &stand, &fault), BF_OK);
}

static void every_command_of_a_stand_has_room_for_its_inputs(void **state) {
    const bf_schema *schemas[] = {&bf_rig_schema, &bf_lay_schema, &bf_aim_schema};
    (void)state;
    for (int k = 0; k < 3; k++) {
        int n = 0;
        for (int s = 0; s < schemas[k]->n_sections; s++) {
            const bf_section *section = &schemas[k]->section[s];
            for (int f = 0; f < section->table->n_fields; f++)
                n += section->table->field[f].kind == BF_QUANTITY ? section->most : 0;
        }
        BF_CHECK_IN(n, 30, BF_MOST_INPUTS);
    }
}

static void the_bait_starts_just_lying(void **state) {
    bf_stand stand = started();
    (void)state;
    BF_CHECK_ABS(stand.hold.overdepth_m.value, 0.02, 0);
    BF_CHECK_ABS(stand.hold.overdepth_m.pm, 0.02, 0);
    BF_CHECK_ABS(stand.hold.tip_height_m.value, 0.3, 0);
    BF_CHECK_ABS(stand.hold.gust_frac.value, 1.5, 0);
    assert_int_equal(stand.hold.drag_mode, 0);
}

static void a_rig_without_shot_is_shotted_to_its_float(void **state) {
    bf_stand stand = started();
    (void)state;
    stand.rig = bf_rigs[1].rig;
    assert_int_equal(stand.rig.n_shots, 0);
    bf_stand_settle(&stand);
    assert_true(stand.rig.n_shots > 0);
    assert_true(stand.rig.flt.body_m > 0 && stand.rig.flt.mass_kg > 0);
    bf_stand again = stand;
    bf_stand_settle(&again);
    assert_int_equal(again.rig.n_shots, stand.rig.n_shots);
    assert_int_equal(again.rig.shot[0].count, stand.rig.shot[0].count);
}

/* The current near the bottom, by differences: near_bed_frac as steep, nothing at the bottom, the surface as it was. */
static void the_current_near_the_bottom_is_as_much_stronger_as_said(void **state) {
    bf_stand stand = started();
    bf_current basin, near_bed;
    double u, v, ux, vx;
    (void)state;
    stand.scene.lake.wind_side_deg = bf_exactly(30);
    assert_int_equal(bf_current_of(&stand.scene.lake, 1.5, &basin), BF_OK);
    for (double frac = 0; frac <= 2; frac += 0.5) {
        stand.hold.near_bed_frac.value = frac;
        assert_int_equal(bf_stand_current(&stand, &near_bed), BF_OK);
        bf_current_at(&basin, 1.5 - 1e-5, &u, &v);
        bf_current_at(&near_bed, 1.5 - 1e-5, &ux, &vx);
        BF_CHECK_ABS(ux, frac * u, 1e-4 * fabs(u));
        BF_CHECK_ABS(vx, frac * v, 1e-4 * fabs(v));
        bf_current_at(&basin, 0, &u, &v);
        bf_current_at(&near_bed, 0, &ux, &vx);
        BF_CHECK_ABS(ux, u, 1e-15);
        bf_current_at(&near_bed, 1.5, &ux, &vx);
        BF_CHECK_ABS(ux, 0, 1e-9);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_started_stand_lacks_only_the_depth),
        cmocka_unit_test(every_command_of_a_stand_has_room_for_its_inputs),
        cmocka_unit_test(the_bait_starts_just_lying),
        cmocka_unit_test(a_rig_without_shot_is_shotted_to_its_float),
        cmocka_unit_test(the_current_near_the_bottom_is_as_much_stronger_as_said),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
