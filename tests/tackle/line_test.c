/* Line: weight, stretch and strength against the computed table, and how far off the remembered ones are. */
#include "baitfall/line.h"

#include "baitfall/water.h"
#include "common/check.h"
#include "common/csv.h"

#define WATER_KG_M3 999.09961
#define TABLE_G_M_S2 9.81
#define TO_TABLE_G (TABLE_G_M_S2 / BF_GRAVITY_M_S2)
#define KGF_N 9.80665

static bf_fishing_line of(double diameter_mm, int kind) {
    bf_fishing_line line;
    bf_record_start(&bf_hooklength_table, &line);
    line.diameter_m = diameter_mm * 1e-3;
    line.kind = kind;
    return line;
}

/* line_computed.csv: nylon 1140, fluorocarbon 1780 kg/m3, five digits printed, g 9.81. */
static void a_metre_weighs_as_computed(void **state) {
    (void)state;
    csv_file csv;
    int n = 0;
    csv_open(&csv, "tackle/line_computed.csv");
    assert_true(csv_next(&csv));
    for (; csv_next(&csv); n++) {
        bf_fishing_line nylon = of(csv_number(&csv, 0), BF_NYLON),
                        fluoro = of(csv_number(&csv, 0), BF_FLUOROCARBON);
        BF_CHECK_REL(bf_line_area_m2(&nylon), csv_number(&csv, 1) * 1e-6, 5e-5);
        BF_CHECK_REL(bf_line_area_m2(&nylon) * bf_line_density_kg_m3(BF_NYLON), csv_number(&csv, 2) * 1e-6,
                     5e-5);
        BF_CHECK_REL(bf_line_weight_air_n_m(&nylon) * TO_TABLE_G, csv_number(&csv, 3) * 1e-6, 5e-4);
        BF_CHECK_REL(bf_line_weight_water_n_m(&nylon, WATER_KG_M3) * TO_TABLE_G, csv_number(&csv, 4) * 1e-6,
                     5e-4);
        BF_CHECK_REL(bf_line_weight_water_n_m(&fluoro, WATER_KG_M3) * TO_TABLE_G, csv_number(&csv, 5) * 1e-6,
                     5e-4);
    }
    assert_int_equal(n, 15);
}

/* The table's EA columns at Young's moduli of 2.0, 3.0 and 4.56 GPa. */
static void stiffness_is_modulus_times_area(void **state) {
    (void)state;
    const double young_pa[3] = {2.0e9, 3.0e9, 4.56e9};
    csv_file csv;
    csv_open(&csv, "tackle/line_computed.csv");
    assert_true(csv_next(&csv));
    while (csv_next(&csv)) {
        bf_fishing_line line = of(csv_number(&csv, 0), BF_NYLON);
        double own_n = bf_line_stiffness_n(&line);
        for (int i = 0; i < 3; i++) {
            line.stiff_frac.value = young_pa[i] * bf_line_area_m2(&line) / own_n;
            BF_CHECK_REL(bf_line_stiffness_n(&line), csv_number(&csv, 6 + i), 5e-4);
        }
    }
    bf_fishing_line line = of(0.12, BF_NYLON);
    BF_CHECK_REL(bf_line_stiffness_n(&line), 1.75e9 * 1.130973e-8, 1e-6); /* the header's modulus */
}

/* The table's central column: 700 MPa x 0.87 x 0.85. Its low and high columns are stacked worst and best cases, so the 80 %
 * range must lie inside them. */
static void wet_and_knotted_strength_is_the_tables_middle(void **state) {
    (void)state;
    csv_file csv;
    csv_open(&csv, "tackle/line_computed.csv");
    assert_true(csv_next(&csv));
    while (csv_next(&csv)) {
        bf_fishing_line line = of(csv_number(&csv, 0), BF_NYLON);
        double holds_n = bf_line_break_n(&line), pm = line.strength_frac.pm;
        BF_CHECK_REL(holds_n, csv_number(&csv, 12) * KGF_N, 5e-4);
        assert_true(holds_n * (1 - pm) > csv_number(&csv, 13) * KGF_N);
        assert_true(holds_n * (1 + pm) < csv_number(&csv, 14) * KGF_N);
    }
}

/* line_fao_memory.csv is from memory (a table of netting twine that could not be opened): no proof, but the 80 % range should
 * hold it if it was remembered well. */
static void the_remembered_wet_knotted_loads_lie_in_the_range(void **state) {
    (void)state;
    csv_file csv;
    int n = 0;
    csv_open(&csv, "tackle/line_fao_memory.csv");
    assert_true(csv_next(&csv));
    for (; csv_next(&csv); n++) {
        bf_fishing_line line = of(csv_number(&csv, 0), BF_NYLON);
        double off = bf_line_break_n(&line) / (csv_number(&csv, 4) * KGF_N) - 1;
        BF_CHECK_IN(off, 0.03, 0.45);
        assert_true(1 / (1 + off) >= 1 - line.strength_frac.pm);
    }
    assert_int_equal(n, 6);
}

/* line_fluoro_measured.csv: six samples on their measured diameter (read), dry, without a knot; the joining knot held 0.82 to
 * 0.996 of it. The program takes their mean, 773 MPa, and 0.85 for the knot. */
static void fluorocarbon_is_the_mean_of_six_measured_lines(void **state) {
    (void)state;
    csv_file csv;
    double mean_pa = 0;
    int n = 0;
    csv_open(&csv, "tackle/line_fluoro_measured.csv");
    assert_true(csv_next(&csv));
    for (; csv_next(&csv); n++) {
        bf_fishing_line line = of(csv_number(&csv, 4), BF_FLUOROCARBON);
        double knotted_n = csv_number(&csv, 6) * csv_number(&csv, 8);
        mean_pa += csv_number(&csv, 6) / bf_line_area_m2(&line) / 6;
        BF_CHECK_IN(knotted_n / bf_line_break_n(&line), 1 - line.strength_frac.pm, 1 + line.strength_frac.pm);
    }
    assert_int_equal(n, 6);
    bf_fishing_line line = of(0.2, BF_FLUOROCARBON);
    BF_CHECK_REL(bf_line_break_n(&line) / bf_line_area_m2(&line) / 0.85, mean_pa, 2e-3);
}

static void a_measured_break_rules_over_the_diameter(void **state) {
    (void)state;
    bf_fishing_line line = of(0.12, BF_NYLON);
    line.break_n = 7;
    BF_CHECK_ABS(bf_line_break_n(&line), 7, 0);
    line.strength_frac.value = 0.9;
    BF_CHECK_REL(bf_line_break_n(&line), 6.3, 1e-15);
}

static void strength_weight_and_stiffness_go_with_the_diameter_squared(void **state) {
    (void)state;
    bf_fishing_line thin = of(0.08, BF_NYLON), thick = of(0.24, BF_NYLON);
    BF_CHECK_REL(bf_line_break_n(&thick), 9 * bf_line_break_n(&thin), 1e-14);
    BF_CHECK_REL(bf_line_stiffness_n(&thick), 9 * bf_line_stiffness_n(&thin), 1e-14);
    BF_CHECK_REL(bf_line_weight_air_n_m(&thick), 9 * bf_line_weight_air_n_m(&thin), 1e-14);
}

static void start_values_pass_their_own_table(void **state) {
    (void)state;
    const bf_table *tables[2] = {&bf_line_table, &bf_hooklength_table};
    for (int i = 0; i < 2; i++) {
        bf_fishing_line line;
        bf_record_start(tables[i], &line);
        assert_int_equal(bf_record_check(tables[i], &line, NULL, NULL), BF_OK);
        line.diameter_m = 0.002;
        assert_int_equal(bf_record_check(tables[i], &line, NULL, NULL), BF_E_RANGE);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_metre_weighs_as_computed),
        cmocka_unit_test(stiffness_is_modulus_times_area),
        cmocka_unit_test(wet_and_knotted_strength_is_the_tables_middle),
        cmocka_unit_test(the_remembered_wet_knotted_loads_lie_in_the_range),
        cmocka_unit_test(fluorocarbon_is_the_mean_of_six_measured_lines),
        cmocka_unit_test(a_measured_break_rules_over_the_diameter),
        cmocka_unit_test(strength_weight_and_stiffness_go_with_the_diameter_squared),
        cmocka_unit_test(start_values_pass_their_own_table),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
