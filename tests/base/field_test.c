/* Field tables: starts, checks and names, one claim a status. */
#include "baitfall/field.h"
#include "common/check.h"

typedef struct rod {
    bf_quantity depth_m;
    double solids_kg_m3;
    double wind_for_s;
    int n;
    int kind;
    int spot;
    bf_list times_s;
    bf_quantity fill_frac;
} rod;

static const char *const kinds[] = {"still", "wind", 0};
static const char *const spots[] = {"spots", 0};
static const bf_field rod_fields[] = {
    {"depth_m", BF_QUANTITY, offsetof(rod, depth_m), BF_LENGTH, 0.2, 6, BF_NAN, 0.02, 1, 2, 0, "depth", 1},
    BF_R(rod, solids_kg_m3, BF_DENSITY, 0, 5, 0.3, "dissolved matter"),
    BF_R(rod, wind_for_s, BF_TIME, 0, 1e6, BF_NAN, "how long the wind has blown"),
    BF_I(rod, n, 0, 9, 3, "a count"),
    BF_W(rod, kind, kinds, 2, 1, "a choice"),
    {"spot", BF_REF, offsetof(rod, spot), BF_PURE, 0, 0, BF_NAN, 0, 0, 0, spots, "a spot", 0},
    BF_L(rod, times_s, BF_TIME, 0, 60, "times"),
    BF_Q(rod, fill_frac, BF_PURE, 0, 3, 1, 0.05, 0.5, 1.2, "a ratio"),
};
static const bf_table rod_table = BF_TABLE("rod", rod, rod_fields);

typedef struct box {
    rod one;
    int n_rods;
    rod rods[3];
} box;
static const bf_section box_section[] = {
    BF_SECTION("one", rod_table, box, one),
    BF_ROWS("rods", rod_table, box, rods, 3, n_rods),
};
static const bf_schema box_schema = {"box", sizeof(box), box_section, 2};

static rod good(void) {
    rod r;
    bf_record_start(&rod_table, &r);
    r.depth_m = (bf_quantity){1.5, 0.02, 0};
    return r;
}

static bf_status check(const rod *r, int *field, double *value) {
    *field = -1;
    *value = BF_NAN;
    return bf_record_check(&rod_table, r, field, value);
}

static void start_values_stand_in_the_table(void **state) {
    (void)state;
    rod r;
    bf_record_start(&rod_table, &r);
    assert_int_equal(r.depth_m.is_unknown, 1);
    BF_CHECK_ABS(r.depth_m.value, 1.5, 0);
    BF_CHECK_ABS(r.solids_kg_m3, 0.3, 0);
    assert_true(r.wind_for_s != r.wind_for_s);
    assert_int_equal(r.n, 3);
    assert_int_equal(r.kind, 1);
    assert_int_equal(r.spot, -1);
    assert_int_equal(r.times_s.n, 0);
}

static void a_good_record_passes_with_both_ends_of_its_ranges(void **state) {
    (void)state;
    int field;
    double value;
    rod r = good();
    assert_int_equal(check(&r, &field, &value), BF_OK);
    r.depth_m.value = 0.2;
    r.solids_kg_m3 = 5;
    assert_int_equal(check(&r, &field, &value), BF_OK);
}

static void each_kind_of_fault_has_its_status_field_and_value(void **state) {
    (void)state;
    int field;
    double value;
    rod r = good();
    r.depth_m.value = -1;
    assert_int_equal(check(&r, &field, &value), BF_E_RANGE);
    assert_int_equal(field, 0);
    BF_CHECK_ABS(value, -1, 0);

    r = good();
    r.depth_m.pm = -0.1;
    assert_int_equal(check(&r, &field, &value), BF_E_RANGE);
    BF_CHECK_ABS(value, -0.1, 0);

    r = good();
    r.depth_m.value = BF_NAN;
    assert_int_equal(check(&r, &field, &value), BF_E_NOT_FINITE);

    r = good();
    r.depth_m.is_unknown = 1;
    assert_int_equal(check(&r, &field, &value), BF_E_MISSING);

    r = good();
    r.solids_kg_m3 = BF_INFINITY;
    assert_int_equal(check(&r, &field, &value), BF_E_NOT_FINITE);
    assert_int_equal(field, 1);

    r = good();
    r.n = 10;
    assert_int_equal(check(&r, &field, &value), BF_E_RANGE);
    assert_int_equal(field, 3);

    r = good();
    r.kind = 2;
    assert_int_equal(check(&r, &field, &value), BF_E_CHOICE);
    assert_int_equal(field, 4);

    r = good();
    r.times_s.n = 2;
    r.times_s.at[1] = 61;
    assert_int_equal(check(&r, &field, &value), BF_E_RANGE);
    assert_int_equal(field, 6);
    BF_CHECK_ABS(value, 61, 0);
}

static void nan_is_found_before_range_and_the_first_field_wins(void **state) {
    (void)state;
    int field;
    double value;
    rod r = good();
    r.depth_m.value = BF_NAN;
    r.solids_kg_m3 = 99;
    assert_int_equal(check(&r, &field, &value), BF_E_NOT_FINITE);
    assert_int_equal(field, 0);
}

static void a_schema_fault_names_section_and_row(void **state) {
    (void)state;
    box b;
    bf_fault fault;
    bf_schema_start(&box_schema, &b);
    assert_int_equal(b.n_rods, 0);
    b.one = b.rods[0] = b.rods[1] = good();
    b.n_rods = 2;
    assert_int_equal(bf_schema_check(&box_schema, &b, &fault), BF_OK);
    assert_null(fault.section);
    b.rods[1].n = -1;
    assert_int_equal(bf_schema_check(&box_schema, &b, &fault), BF_E_RANGE);
    assert_ptr_equal(fault.section, &box_section[1]);
    assert_int_equal(fault.row, 1);
    assert_int_equal(fault.field, 3);
}

static int find(const char *name, int *is_pm) {
    return bf_field_find(&rod_table, name, strlen(name), is_pm);
}

static void a_field_is_found_with_and_without_its_unit(void **state) {
    (void)state;
    int is_pm;
    assert_int_equal(find("depth_m", &is_pm), 0);
    assert_int_equal(find("depth", &is_pm), 0);
    assert_int_equal(is_pm, 0);
    assert_int_equal(find("depth_pm_m", &is_pm), 0);
    assert_int_equal(is_pm, 1);
    assert_int_equal(find("depth_pm", &is_pm), 0);
    assert_int_equal(is_pm, 1);
    assert_int_equal(find("solids", &is_pm), 1);
    assert_int_equal(find("solids_kg_m3", &is_pm), 1);
    assert_int_equal(find("kind", &is_pm), 4);
    assert_int_equal(find("fill", &is_pm), 7);
    assert_int_equal(find("fill_frac", &is_pm), 7);
    assert_int_equal(find("fill_pm_frac", &is_pm), 7);
    assert_int_equal(is_pm, 1);
}

static void near_misses_are_not_found(void **state) {
    (void)state;
    int is_pm;
    const char *names[] = {"dept",       "depth_",          "depth_mm", "depth_pm_",
                           "depth_pm_s", "solids_pm_kg_m3", "",         "_m"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) assert_int_equal(find(names[i], &is_pm), -1);
}

static void every_status_has_words(void **state) {
    (void)state;
    for (int s = 0; s < BF_N_STATUS; s++) assert_true(strlen(bf_status_words((bf_status)s)) > 5);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(start_values_stand_in_the_table),
        cmocka_unit_test(a_good_record_passes_with_both_ends_of_its_ranges),
        cmocka_unit_test(each_kind_of_fault_has_its_status_field_and_value),
        cmocka_unit_test(nan_is_found_before_range_and_the_first_field_wins),
        cmocka_unit_test(a_schema_fault_names_section_and_row),
        cmocka_unit_test(a_field_is_found_with_and_without_its_unit),
        cmocka_unit_test(near_misses_are_not_found),
        cmocka_unit_test(every_status_has_words),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
