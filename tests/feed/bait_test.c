/* The catalogue, the tables of a put-in, and the geometry of a piece. Geometry is exact. */
#include "baitfall/scene.h"

#include "common/check.h"

#define PI 3.14159265358979323846

static void every_catalogue_record_passes_its_own_table(void **state) {
    (void)state;
    assert_true(bf_n_catalogue >= 14);
    for (int i = 0; i < bf_n_catalogue; i++) {
        int field = -1;
        double value = 0;
        if (bf_record_check(&bf_bait_table, &bf_catalogue[i].bait, &field, &value) != BF_OK) {
            print_error("%s: %s = %g\n", bf_catalogue[i].word, bf_bait_table.field[field].name, value);
            fail();
        }
        assert_true(strlen(bf_catalogue[i].title) > 3 && strlen(bf_catalogue[i].origin) > 20);
    }
}

static void words_are_found_and_only_they(void **state) {
    (void)state;
    for (int i = 0; i < bf_n_catalogue; i++)
        assert_int_equal(bf_catalogue_find(bf_catalogue[i].word, strlen(bf_catalogue[i].word)), i);
    assert_int_equal(bf_catalogue_find("hard-4x", 7), -1);
    assert_int_equal(bf_catalogue_find("hard-", 5), -1);
    assert_int_equal(bf_catalogue_find("", 0), -1);
}

/* What is read for a bait: a name that a number may stand before and that fits a label, of its own; its title begins with it.
 * An id of the angler's own is its name. */
static void every_bait_has_a_name_to_be_read(void **state) {
    (void)state;
    for (int i = 0; i < bf_n_catalogue; i++) {
        const char *name = bf_bait_name(bf_catalogue[i].word);
        assert_string_equal(name, bf_catalogue[i].name);
        assert_true(strlen(name) <= 20 && !(name[0] >= '0' && name[0] <= '9') && !strchr(name, ','));
        assert_memory_equal(bf_catalogue[i].title, name, strlen(name));
        assert_int_equal(bf_catalogue[i].title[strlen(name)], ',');
        for (int k = 0; k < i; k++) assert_string_not_equal(name, bf_catalogue[k].name);
    }
    assert_string_equal(bf_bait_name("hard-4"), "hard 4 mm pellets");
    assert_int_equal(bf_bait_short("hard-4"), strlen("hard 4 mm"));
    assert_int_equal(bf_bait_short("maggot"), strlen("maggots"));
    assert_int_equal(bf_bait_short("a mix of my very own"), 20);
    assert_string_equal(bf_bait_name("hard four"), "hard four");
    assert_string_equal(bf_bait_name(""), "");
}

/* Start values pass their own ranges, depth aside, which must be given. */
static void started_scene_lacks_only_the_depth(void **state) {
    (void)state;
    static const bf_schema *const without_depth[] = {&bf_pot_schema, &bf_soak_schema, &bf_throw_schema};
    static const bf_schema *const with_depth[] = {&bf_fall_schema, &bf_spread_schema};
    bf_scene scene;
    bf_fault fault;
    bf_scene_start(&scene);
    for (int i = 0; i < 3; i++) assert_int_equal(bf_schema_check(without_depth[i], &scene, &fault), BF_OK);
    for (int i = 0; i < 2; i++) {
        assert_int_equal(bf_schema_check(with_depth[i], &scene, &fault), BF_E_MISSING);
        assert_string_equal(fault.section->table->field[fault.field].name, "depth_m");
    }
    scene.spot.depth_m = (bf_quantity){1.5, 0.05, 0};
    for (int i = 0; i < 2; i++) assert_int_equal(bf_schema_check(with_depth[i], &scene, &fault), BF_OK);
}

static void every_field_has_a_help_line_and_sane_ranges(void **state) {
    (void)state;
    static const bf_table *const tables[] = {&bf_bait_table,   &bf_spot_table,  &bf_pot_table,
                                             &bf_put_table,    &bf_sling_table, &bf_soaking_table,
                                             &bf_counted_table};
    for (int i = 0; i < 7; i++)
        for (int k = 0; k < tables[i]->n_fields; k++) {
            const bf_field *field = &tables[i]->field[k];
            assert_true(strlen(field->help) > 10);
            assert_true(field->least < field->most);
            assert_true(field->start != field->start ||
                        (field->start >= field->least && field->start <= field->most));
            if (field->kind != BF_QUANTITY) continue;
            assert_true(field->usual_least >= field->least && field->usual_most <= field->most);
            assert_true(field->usual_least < field->usual_most && field->start_pm >= 0);
        }
}

static void a_request_never_has_more_uncertain_inputs_than_the_ensemble_takes(void **state) {
    (void)state;
    bf_scene scene;
    bf_scene_start(&scene);
    scene.spot.depth_m = (bf_quantity){1.5, 0.05, 0};
    scene.counted.count = (bf_quantity){400, 20, 0};
    int n_quantities = 0;
    for (int i = 0; i < bf_spread_schema.n_sections; i++)
        for (int k = 0; k < bf_spread_schema.section[i].table->n_fields; k++)
            n_quantities += bf_spread_schema.section[i].table->field[k].kind == BF_QUANTITY;
    assert_true(n_quantities <= BF_MOST_INPUTS);
}

static void sphericities_are_exact(void **state) {
    (void)state;
    /* cylinders: the model note's exact table; cube: (pi/6)^(1/3) */
    BF_CHECK_ABS(bf_piece_sphericity(BF_CYLINDER, 0.004, 0.002), 0.825482, 6e-7);
    BF_CHECK_ABS(bf_piece_sphericity(BF_CYLINDER, 0.004, 0.004), 0.873580, 6e-7);
    BF_CHECK_ABS(bf_piece_sphericity(BF_CYLINDER, 0.004, 0.006), 0.858536, 6e-7);
    BF_CHECK_ABS(bf_piece_sphericity(BF_CYLINDER, 0.004, 0.008), 0.832034, 6e-7);
    BF_CHECK_REL(bf_piece_sphericity(BF_CUBE, 0.006, 0.1), cbrt(PI / 6), 1e-14);
    BF_CHECK_ABS(bf_piece_sphericity(BF_SPHERE, 0.006, 0.1), 1, 0);
    BF_CHECK_ABS(bf_piece_sphericity(BF_BALL, 0.04, 0.1), 1, 0);
}

static void equivalent_diameters_are_exact(void **state) {
    (void)state;
    BF_CHECK_ABS(bf_piece_equivalent_m(BF_CYLINDER, 1, 0.5), 0.908560, 6e-7);
    BF_CHECK_ABS(bf_piece_equivalent_m(BF_CYLINDER, 1, 2), 1.442250, 6e-7);
    BF_CHECK_REL(bf_piece_equivalent_m(BF_LENS, 0.008, 0.004), 0.008 * cbrt(0.5), 1e-14);
    BF_CHECK_REL(bf_piece_equivalent_m(BF_CUBE, 0.006, 0), 0.006 * cbrt(6 / PI), 1e-14);
    BF_CHECK_REL(bf_piece_volume_m3(BF_SPHERE, 0.004, 0), PI / 6 * 64e-9, 1e-14);
}

/* Surface of a spheroid by summing rings, against the closed form inside the sphericity. */
static double spheroid_surface(double diameter, double height) {
    const int n = 20000;
    double a = diameter / 2, c = height / 2, sum = 0;
    for (int i = 0; i < n; i++) {
        double t = PI * (i + 0.5) / n, dr = a * cos(t), dz = c * sin(t);
        sum += 2 * PI * a * sin(t) * sqrt(dr * dr + dz * dz) * PI / n;
    }
    return sum;
}

static void lens_sphericity_agrees_with_a_summed_surface(void **state) {
    (void)state;
    const double heights[] = {0.2, 0.6, 0.999, 1, 1.001, 1.7};
    for (int i = 0; i < 6; i++) {
        double round = bf_piece_equivalent_m(BF_LENS, 1, heights[i]);
        double want = PI * round * round / spheroid_surface(1, heights[i]);
        BF_CHECK_REL(bf_piece_sphericity(BF_LENS, 1, heights[i]), want, 1e-7);
    }
}

/* Davies & Davies 2017 (read): sizes of labels 2, 3, 4 and 6 mm are the high ends. */
static void hard_pellets_reach_from_label_to_measured_size(void **state) {
    (void)state;
    static const struct {
        const char *word;
        double label_m, measured_m;
    } sets[] = {{"micros-2", 0.002, 0.00247},
                {"hard-3", 0.003, 0.00405},
                {"hard-4", 0.004, 0.00486},
                {"hard-6", 0.006, 0.00709}};
    for (int i = 0; i < 4; i++) {
        bf_quantity size =
            bf_catalogue[bf_catalogue_find(sets[i].word, strlen(sets[i].word))].bait.diameter_m;
        BF_CHECK_ABS(size.value - size.pm, sets[i].label_m, 1e-12);
        BF_CHECK_ABS(size.value + size.pm, sets[i].measured_m, 1e-12);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_catalogue_record_passes_its_own_table),
        cmocka_unit_test(words_are_found_and_only_they),
        cmocka_unit_test(every_bait_has_a_name_to_be_read),
        cmocka_unit_test(started_scene_lacks_only_the_depth),
        cmocka_unit_test(every_field_has_a_help_line_and_sane_ranges),
        cmocka_unit_test(a_request_never_has_more_uncertain_inputs_than_the_ensemble_takes),
        cmocka_unit_test(sphericities_are_exact),
        cmocka_unit_test(equivalent_diameters_are_exact),
        cmocka_unit_test(lens_sphericity_agrees_with_a_summed_surface),
        cmocka_unit_test(hard_pellets_reach_from_label_to_measured_size),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
