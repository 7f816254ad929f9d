/* Split shot: trade sizes, metals, the law by mass, weight in water and free fall. Tables: tests/data/reference/tackle. */
#include "baitfall/shot.h"

#include "baitfall/water.h"
#include "common/check.h"
#include "common/csv.h"

/* What the tables were made with. */
#define WATER_KG_M3 999.09961
#define VISCOSITY_PA_S 1.13830666e-3
#define TABLE_G_M_S2 9.81

static bf_shot of_size(const char *word, int metal) {
    int size = bf_shot_size_find(word);
    assert_true(size >= 0);
    return (bf_shot){.size = size, .mass_kg = BF_NAN, .metal = metal, .count = 1};
}

static int metal_of(const char *word) {
    for (int i = 0; bf_metal_words[i]; i++)
        if (strcmp(word, bf_metal_words[i]) == 0) return i;
    fail();
    return -1;
}

/* shot_sizes.csv: "mass_g_used" is one trade chart that was read, or memory where it says so. Its diameters and masses in
 * water have four digits and were computed with lead 11340, tin 7287, tungsten 19250 kg/m3 (read). */
static void every_trade_size_is_as_in_the_chart(void **state) {
    (void)state;
    csv_file csv;
    int n = 0;
    csv_open(&csv, "tackle/shot_sizes.csv");
    assert_true(csv_next(&csv));
    for (; csv_next(&csv); n++) {
        for (int metal = 0; metal < BF_N_METALS; metal++) {
            bf_shot shot = of_size(csv.cell[0], metal);
            BF_CHECK_REL(bf_shot_mass_kg(&shot, 0), csv_number(&csv, 3) * 1e-3, 1e-12);
            BF_CHECK_REL(bf_shot_diameter_m(&shot, 0), csv_number(&csv, 4 + 2 * metal) * 1e-3, 5e-4);
            BF_CHECK_REL(bf_shot_weight_n(&shot, 0, WATER_KG_M3) / BF_GRAVITY_M_S2,
                         csv_number(&csv, 5 + 2 * metal) * 1e-3, 5e-4);
        }
        int is_memory = strstr(csv.cell[11], "FROM MEMORY only") != NULL;
        const char *origin = bf_shot_sizes[bf_shot_size_find(csv.cell[0])].origin;
        assert_int_equal(strstr(origin, "memory") != NULL, is_memory);
    }
    assert_int_equal(n, 18);
}

/* The band holds what charts were remembered ("mass_g_memory_range", "a-b" or one number), and is at least 10 % either way
 * from No 8 up and 25 % below (judgement, tackle.md). */
static void the_spread_holds_every_chart_that_was_remembered(void **state) {
    (void)state;
    csv_file csv;
    csv_open(&csv, "tackle/shot_sizes.csv");
    assert_true(csv_next(&csv));
    while (csv_next(&csv)) {
        bf_shot shot = of_size(csv.cell[0], BF_LEAD);
        double lo = bf_shot_mass_kg(&shot, -1) * 1e3, hi = bf_shot_mass_kg(&shot, 1) * 1e3;
        double mass = csv_number(&csv, 3), pm = mass > 0.055 ? 0.10 : 0.25;
        char *end;
        double least = strtod(csv.cell[2], &end), most = *end == '-' ? strtod(end + 1, NULL) : least;
        assert_true(lo <= least + 1e-12 && hi >= most - 1e-12);
        assert_true(lo <= mass * (1 - pm) + 1e-12 && hi >= mass * (1 + pm) - 1e-12);
        assert_true(bf_shot_mass_kg(&shot, -3) > 0);
    }
}

/* shot_other_scales.csv: styls are from memory, give or take 20 %. */
static void styls_are_from_memory_and_wide(void **state) {
    (void)state;
    csv_file csv;
    int n = 0;
    csv_open(&csv, "tackle/shot_other_scales.csv");
    while (csv_next(&csv)) {
        if (strncmp(csv.cell[0], "styl", 4) != 0) continue;
        bf_shot shot = of_size(csv.cell[0], BF_LEAD);
        BF_CHECK_REL(bf_shot_mass_kg(&shot, 0), csv_number(&csv, 1) * 1e-3, 1e-12);
        BF_CHECK_REL(bf_shot_mass_kg(&shot, 1), csv_number(&csv, 1) * 1.2e-3, 1e-12);
        assert_non_null(strstr(bf_shot_sizes[shot.size].origin, "memory"));
        n++;
    }
    assert_int_equal(n, 6);
}

/* A weighed shot is what it weighs, whatever size stands beside it and however charts differ. */
static void a_weighed_shot_has_no_spread(void **state) {
    (void)state;
    bf_shot shot = of_size("No 10", BF_LEAD);
    shot.mass_kg = 3.4e-5;
    BF_CHECK_ABS(bf_shot_mass_kg(&shot, 0), 3.4e-5, 0);
    BF_CHECK_ABS(bf_shot_mass_kg(&shot, 2), 3.4e-5, 0);
}

/* legal.csv: lead only up to 0.06 g or above 28.35 g, "size 14 to size 8". */
static void lead_above_no_8_is_told_apart(void **state) {
    (void)state;
    csv_file csv;
    csv_open(&csv, "tackle/shot_sizes.csv");
    assert_true(csv_next(&csv));
    while (csv_next(&csv)) {
        bf_shot lead = of_size(csv.cell[0], BF_LEAD), tin = of_size(csv.cell[0], BF_TIN);
        assert_int_equal(bf_shot_is_banned_lead(&lead), strncmp(csv.cell[10], "no", 2) == 0);
        assert_false(bf_shot_is_banned_lead(&tin));
    }
    bf_shot ounce = {.mass_kg = 0.0284, .metal = BF_LEAD}, just_over = {.mass_kg = 6.1e-5, .metal = BF_LEAD};
    assert_false(bf_shot_is_banned_lead(&ounce));
    assert_true(bf_shot_is_banned_lead(&just_over));
}

static void a_metal_not_said_is_lead_where_lawful_and_else_tin(void **state) {
    (void)state;
    bf_shot no_8 = of_size("No 8", -1), no_7 = of_size("No 7", -1);
    assert_int_equal(bf_shot_metal(&no_8), BF_LEAD);
    assert_int_equal(bf_shot_metal(&no_7), BF_TIN);
    for (int i = 0; i < bf_n_shot_sizes; i++) {
        bf_shot any = {.size = i, .mass_kg = BF_NAN, .metal = -1};
        assert_false(bf_shot_is_banned_lead(&any));
    }
}

/* Factors 0.91190, 0.86289, 0.94810 (tackle.md 1); 5.7 % more dry mass of tin for the same weight in water. */
static void tin_takes_more_dry_mass_than_lead(void **state) {
    (void)state;
    const double factor[BF_N_METALS] = {0.91190, 0.86289, 0.94810};
    double in_water[BF_N_METALS];
    for (int metal = 0; metal < BF_N_METALS; metal++) {
        bf_shot shot = of_size("BB", metal);
        in_water[metal] = bf_shot_weight_n(&shot, 0, WATER_KG_M3) / (0.4e-3 * BF_GRAVITY_M_S2);
        BF_CHECK_ABS(in_water[metal], factor[metal], 6e-6);
    }
    BF_CHECK_ABS(in_water[BF_LEAD] / in_water[BF_TIN], 1.0568, 5e-5);
}

static void a_row_weighs_as_its_shot_together(void **state) {
    (void)state;
    bf_shot rows[2] = {of_size("No 8", BF_LEAD), of_size("No 13", BF_LEAD)};
    rows[0].count = 5;
    BF_CHECK_REL(bf_shots_weight_n(rows, 2, 0, WATER_KG_M3), 0.31e-3 * BF_GRAVITY_M_S2 * 0.911895, 1e-5);
    BF_CHECK_ABS(bf_shots_weight_n(rows, 0, 0, WATER_KG_M3), 0, 0);
}

/* terminal_velocity.csv: Clift & Gauvin's sphere (read), with Brown & Lawler's and Cheng's beside it; 15 C and g 9.81, which
 * is 0.03 % above the program's. The program's sphere is Brown & Lawler's. */
static void free_shot_fall_at_the_published_speeds(void **state) {
    (void)state;
    csv_file csv;
    int n = 0;
    csv_open(&csv, "tackle/terminal_velocity.csv");
    assert_true(csv_next(&csv));
    for (; csv_next(&csv); n++) {
        bf_shot shot = of_size(csv.cell[0], metal_of(csv.cell[2]));
        bf_piece piece = bf_shot_piece(&shot, 0, WATER_KG_M3, VISCOSITY_PA_S);
        double speed, reynolds;
        assert_int_equal(bf_fall_speed(&piece, &speed, &reynolds), BF_OK);
        double as_table = sqrt(TABLE_G_M_S2 / BF_GRAVITY_M_S2);
        BF_CHECK_REL(speed, csv_number(&csv, 4), 0.01);
        BF_CHECK_REL(speed * as_table, csv_number(&csv, 6), 5e-4); /* the same law, its own table */
    }
    assert_int_equal(n, 30);
}

static void sizes_are_found_by_word_only(void **state) {
    (void)state;
    for (int i = 0; i < bf_n_shot_sizes; i++) {
        assert_int_equal(bf_shot_size_find(bf_shot_sizes[i].word), i);
        assert_string_equal(bf_shot_table.field[0].words[i], bf_shot_sizes[i].word);
    }
    assert_null(bf_shot_table.field[0].words[bf_n_shot_sizes]);
    assert_int_equal(bf_shot_size_find("No 99"), -1);
    assert_int_equal(bf_shot_size_find(""), -1);
}

static void a_row_must_say_where_it_is_and_start_as_a_no_8(void **state) {
    (void)state;
    bf_shot row;
    int field;
    double value;
    bf_record_start(&bf_shot_table, &row);
    assert_int_equal(bf_record_check(&bf_shot_table, &row, &field, &value), BF_E_MISSING);
    assert_string_equal(bf_shot_table.field[field].name, "above_hook_m");
    row.at_m = 0.3;
    assert_int_equal(bf_record_check(&bf_shot_table, &row, &field, &value), BF_OK);
    assert_string_equal(bf_shot_sizes[row.size].word, "No 8");
    row.count = 41;
    assert_int_equal(bf_record_check(&bf_shot_table, &row, &field, &value), BF_E_RANGE);
    assert_string_equal(bf_shot_table.field[field].name, "count");
    bf_record_start(&bf_back_shot_table, &row);
    assert_int_equal(bf_record_check(&bf_back_shot_table, &row, &field, &value), BF_OK);
    assert_string_equal(bf_shot_sizes[row.size].word, "No 10");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_trade_size_is_as_in_the_chart),
        cmocka_unit_test(the_spread_holds_every_chart_that_was_remembered),
        cmocka_unit_test(styls_are_from_memory_and_wide),
        cmocka_unit_test(a_weighed_shot_has_no_spread),
        cmocka_unit_test(lead_above_no_8_is_told_apart),
        cmocka_unit_test(a_metal_not_said_is_lead_where_lawful_and_else_tin),
        cmocka_unit_test(tin_takes_more_dry_mass_than_lead),
        cmocka_unit_test(a_row_weighs_as_its_shot_together),
        cmocka_unit_test(free_shot_fall_at_the_published_speeds),
        cmocka_unit_test(sizes_are_found_by_word_only),
        cmocka_unit_test(a_row_must_say_where_it_is_and_start_as_a_no_8),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
