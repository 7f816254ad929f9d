/* What is published of fish, against the rows that were read (tests/data/reference/fish; sources stand in the rows). */
#include "common/check.h"
#include "common/csv.h"

#include "baitfall/swim.h"

enum { ITEM, VALUE, UNIT, CONDITIONS, KIND };

/* The row of a table whose first cell begins so and whose fourth holds `where`; fails when there is none. */
static double value_of(const char *path, const char *item, const char *where, const char *kind) {
    csv_file csv;
    csv_open(&csv, path);
    while (csv_next(&csv))
        if (csv.n_cells > KIND && strncmp(csv.cell[ITEM], item, strlen(item)) == 0 &&
            strstr(csv.cell[CONDITIONS], where)) {
            double value = atof(csv.cell[VALUE]);
            assert_string_equal(csv.cell[KIND], kind);
            while (csv_next(&csv)) {
            }
            return value;
        }
    fail_msg("no row \"%s\", \"%s\" in %s", item, where, path);
    return 0;
}

static const struct {
    double temp_c;
    const char *words;
} acclimated[] = {{12, "12 C"}, {18, "18 C"}, {24, "24 C"}, {30, "30 C"}};

static void maintenance_is_within_seven_percent_of_the_four_published_rations(void **state) {
    (void)state;
    for (int i = 0; i < 4; i++) {
        double percent =
            value_of("fish/feeding.csv", "carp juvenile maintenance", acclimated[i].words, "READ");
        BF_CHECK_REL(bf_fish_maintenance(acclimated[i].temp_c), percent / 100, 0.07);
    }
    BF_CHECK_REL(bf_fish_maintenance(20) / bf_fish_maintenance(10), 2.36,
                 0.005); /* Q10, computed from the rows */
}

static void appetite_follows_the_published_growth_within_five_points(void **state) {
    (void)state;
    double most = 0, growth[4];
    for (int i = 0; i < 4; i++) {
        growth[i] = value_of("fish/feeding.csv", "carp juvenile max growth", acclimated[i].words, "READ");
        if (growth[i] / bf_fish_appetite(acclimated[i].temp_c) > most) most = growth[i];
    }
    /* one scale for all four: least squares */
    double top = 0, bottom = 0;
    for (int i = 0; i < 4; i++) {
        double f = bf_fish_appetite(acclimated[i].temp_c);
        top += f * growth[i], bottom += f * f;
    }
    double scale = top / bottom;
    for (int i = 0; i < 4; i++) BF_CHECK_ABS(bf_fish_appetite(acclimated[i].temp_c), growth[i] / scale, 0.05);
}

/* Feeding rate was highest at 24 C of 16 to 28 tested, scope for growth at 27 C of 12 to 30: the curve's peak lies between
 * the steps that surround them. */
static void appetite_peaks_where_feeding_and_growth_were_best(void **state) {
    (void)state;
    double best_c = 0, best = 0;
    for (double t = 0; t <= 40; t += 0.01)
        if (bf_fish_appetite(t) > best) best = bf_fish_appetite(t), best_c = t;
    BF_CHECK_ABS(best, 1, 1e-6);
    double feeding = value_of("fish/feeding.csv", "carp 90-105 mm: highest feeding rate", "", "READ");
    double scope = value_of("fish/feeding.csv", "carp temperature of max scope", "", "READ");
    BF_CHECK_IN(best_c, feeding, scope);
}

static void appetite_never_falls_below_a_few_baits_and_is_smooth_between_the_rows(void **state) {
    (void)state;
    static const double row[][2] = {{8, 0.036},  {10, 0.119}, {12, 0.234}, {14, 0.368},
                                    {16, 0.509}, {18, 0.647}, {20, 0.774}, {22, 0.881},
                                    {24, 0.957}, {26, 0.997}, {28, 0.99},  {30, 0.93}};
    for (size_t i = 0; i < sizeof row / sizeof row[0];
         i++) /* computed rows of feeding.csv, printed to 3 digits */
        BF_CHECK_ABS(bf_fish_appetite(row[i][0]), row[i][1], 6e-4);
    for (double t = -5; t < 50; t += 0.1) {
        double here = bf_fish_appetite(t), next = bf_fish_appetite(t + 0.1);
        BF_CHECK_IN(here, 0.02, 1.0);
        BF_CHECK_ABS(next, here, 0.03);
    }
}

/* The weights that the table gives at 30 cm are computed from each source's own numbers. */
static void mass_by_length_gives_the_rows_weights_at_30_cm(void **state) {
    (void)state;
    static const struct {
        const char *species, *length;
        bf_fish fish;
    } rows[] = {{"common carp Ws", "TL", BF_CARP},
                {"bream", "SL", BF_BREAM},
                {"tench (Lake Beysehir)", "FL", BF_TENCH}};
    int found = 0;
    for (int i = 0; i < 3; i++) {
        csv_file csv;
        csv_open(&csv, "fish/lwr.csv");
        int here = 0;
        while (csv_next(&csv)) {
            if (here || strncmp(csv.cell[0], rows[i].species, strlen(rows[i].species)) != 0) continue;
            assert_string_equal(csv.cell[1], rows[i].length);
            assert_string_equal(csv.cell[7], "READ");
            BF_CHECK_ABS(bf_fish_mass_kg(rows[i].fish, 0.30) * 1e3, atof(csv.cell[6]), 0.6);
            here = 1, found++;
        }
    }
    assert_int_equal(found, 3);
    BF_CHECK_ABS(bf_fish_mass_kg(BF_CARP, 0.40), 0.910, 1e-3); /* the model note's own number */
}

static void oxygen_agrees_with_the_printed_table_of_en_25814(void **state) {
    (void)state;
    csv_file csv;
    csv_open(&csv, "fish/do.csv");
    assert_true(csv_next(&csv));
    int rows = 0;
    while (csv_next(&csv)) {
        double mg_l = bf_fish_oxygen_kg_m3(atof(csv.cell[0])) * 1e3;
        BF_CHECK_ABS(mg_l, atof(csv.cell[1]), 0.6e-3); /* computed by another program, three digits */
        BF_CHECK_ABS(mg_l, atof(csv.cell[2]), 0.06);   /* read, one or two digits */
        rows++;
    }
    assert_int_equal(rows, 7);
    /* an interpolation exercise's values, read: DO at 0, 8, 16, 24, 32, 40 C */
    static const double at_8[] = {14.621, 11.843, 9.870, 8.418, 7.305, 6.413};
    for (int i = 0; i < 6; i++) BF_CHECK_ABS(bf_fish_oxygen_kg_m3(8 * i) * 1e3, at_8[i], 1.1e-3);
}

/* The published holds and the angler's rule disagree: of 88 carp the lower jaw held most, and at most 3 % are left for any
 * other place in the mouth, the middle of the top lip among them. So the model gives a hold no weight of its own; what it says of
 * a hold is learned (model_test: a_hold_tells_nothing_before_it_is_learned). */
static void published_holds_are_the_lower_jaw_and_leave_the_top_lip_little(void **state) {
    (void)state;
    csv_file csv;
    csv_open(&csv, "fish/hooking.csv");
    int lower = 0, rest = 0;
    while (csv_next(&csv)) {
        double big, small;
        if (sscanf(csv.cell[VALUE], "%lf / %lf", &big, &small) != 2) continue;
        if (strstr(csv.cell[ITEM], "hooked in lower jaw")) {
            assert_true(big > 50 && small > 50);
            lower++;
        }
        if (strstr(csv.cell[ITEM], "neither lower jaw nor side")) {
            assert_true(big <= 3 && small <= 3);
            rest++;
        }
    }
    assert_int_equal(lower, 1);
    assert_int_equal(rest, 1);
    BF_CHECK_ABS(bf_swim_parameters[BF_SWIM_HOLD].middle, 1, 0); /* no effect, before logs say so */
}

/* Hunger comes back as the gut empties: 79 to 91 % in 24 h is a first-order time of 36000 to 55000 s. */
static void gut_evacuation_gives_the_time_that_hunger_takes(void **state) {
    (void)state;
    csv_file csv;
    csv_open(&csv, "fish/feeding.csv");
    int rows = 0;
    while (csv_next(&csv))
        if (strstr(csv.cell[ITEM], "share of meal evacuated after 24 h")) {
            double least, most;
            assert_int_equal(sscanf(csv.cell[VALUE], "%lf-%lf", &least, &most), 2);
            BF_CHECK_IN(36000.0, -86400 / log(1 - most / 100) * 0.99, -86400 / log(1 - least / 100));
            rows++;
        }
    assert_int_equal(rows, 1);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(maintenance_is_within_seven_percent_of_the_four_published_rations),
        cmocka_unit_test(appetite_follows_the_published_growth_within_five_points),
        cmocka_unit_test(appetite_peaks_where_feeding_and_growth_were_best),
        cmocka_unit_test(appetite_never_falls_below_a_few_baits_and_is_smooth_between_the_rows),
        cmocka_unit_test(mass_by_length_gives_the_rows_weights_at_30_cm),
        cmocka_unit_test(oxygen_agrees_with_the_printed_table_of_en_25814),
        cmocka_unit_test(published_holds_are_the_lower_jaw_and_leave_the_top_lip_little),
        cmocka_unit_test(gut_evacuation_gives_the_time_that_hunger_takes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
