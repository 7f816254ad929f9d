/* Shot patterns to a float's capacity, start rigs, generic floats and what is said of a rig's parts. */
#include "baitfall/pattern.h"

#include "baitfall/water.h"
#include "common/check.h"

#define WATER_KG_M3 999.1

static bf_rig rig_of(const char *word) {
    for (int i = 0; i < bf_n_rigs; i++)
        if (strcmp(bf_rigs[i].word, word) == 0) {
            bf_rig rig = bf_rigs[i].rig;
            rig.flt = bf_float_settled(&rig.flt);
            return rig;
        }
    fail();
    return bf_rigs[0].rig;
}

static double dry_kg(const bf_rig *rig) {
    double sum = 0;
    for (int i = 0; i < rig->n_shots; i++) sum += rig->shot[i].count * bf_shot_mass_kg(&rig->shot[i], 0);
    return sum;
}

static int count_of(const bf_rig *rig, const char *word) {
    int count = 0;
    for (int i = 0; i < rig->n_shots; i++)
        if (strcmp(bf_shot_sizes[rig->shot[i].size].word, word) == 0) count += rig->shot[i].count;
    return count;
}

/* Trade practice (trade note 8, common practice, no source): a 0.4 g float takes five No 8 shot and a few trimmers. */
static void practice_a_0_4_g_float_takes_five_no_8_and_a_few_trimmers(void **state) {
    (void)state;
    bf_rig rig = rig_of("middle");
    assert_true(rig.flt.rating_kg == 0.0004);
    assert_true(bf_pattern_shot(&rig, BF_PATTERN_BULK, BF_LEAD, 1.6, WATER_KG_M3) > 0);
    assert_int_equal(count_of(&rig, "No 8"), 5);
    int all = 0;
    for (int i = 0; i < rig.n_shots; i++) all += rig.shot[i].count;
    assert_true(all - 5 >= 2 && all - 5 <= 5); /* "a few" */
    double pm = rig.flt.capacity_frac.pm;
    BF_CHECK_IN(dry_kg(&rig), 0.0004 * (1 - pm), 0.0004 * (1 + pm));
}

/* Every pattern, metal, float and depth: what is left over is less than a No 13, nothing is overloaded, rows stand in order
 * between hook and float, and lead keeps to the published limit. */
static void every_pattern_dots_every_float_down(void **state) {
    (void)state;
    bf_shot no_13 = {.size = bf_shot_size_find("No 13"), .mass_kg = BF_NAN};
    for (int i = 0; i < bf_n_floats; i++)
        for (int pattern = 0; pattern < BF_N_PATTERNS; pattern++)
            for (int metal = -1; metal < BF_N_METALS; metal++)
                for (double wet_m = 0.3; wet_m < 4; wet_m *= 1.5) {
                    bf_rig rig = rig_of("middle");
                    rig.flt = bf_float_settled(&bf_floats[i]);
                    double load_n = bf_pattern_load_n(&rig, wet_m, WATER_KG_M3);
                    int n = bf_pattern_shot(&rig, pattern, metal, wet_m, WATER_KG_M3);
                    assert_int_equal(n, rig.n_shots);
                    assert_true(n > 0 && n <= BF_RIG_SHOTS);
                    double left_n = load_n - bf_shots_weight_n(rig.shot, n, 0, WATER_KG_M3);
                    no_13.metal = metal;
                    BF_CHECK_IN(left_n, -1e-12, bf_shot_weight_n(&no_13, 0, WATER_KG_M3));
                    double before = 0;
                    for (int k = 0; k < n; k++) {
                        const bf_shot *row = &rig.shot[k];
                        assert_true(row->at_m >= before &&
                                    row->at_m + (row->count - 1) * row->apart_m < wet_m);
                        assert_false(metal <= BF_LEAD && bf_shot_is_banned_lead(row));
                        assert_int_equal(bf_record_check(&bf_shot_table, row, NULL, NULL), BF_OK);
                        before = row->at_m;
                    }
                }
}

/* Shotted so, in still water, with its own meniscus, two millimetres of bristle are left, and up to one No 13 more. */
static void a_shotted_float_shows_a_little_bristle(void **state) {
    (void)state;
    bf_rig rig = rig_of("middle");
    double wet_m = 1.6, tension = bf_water_tension_n_m(15);
    bf_pattern_shot(&rig, BF_PATTERN_STRUNG, BF_LEAD, wet_m, WATER_KG_M3);
    double hangs_n = bf_shots_weight_n(rig.shot, rig.n_shots, 0, WATER_KG_M3) +
                     bf_hook_weight_n(&rig.hook, WATER_KG_M3) +
                     (wet_m - 0.15) * bf_line_weight_water_n_m(&rig.line, WATER_KG_M3) +
                     0.15 * bf_line_weight_water_n_m(&rig.hooklength, WATER_KG_M3);
    double shows_m = bf_float_shows_m(&rig.flt, hangs_n, WATER_KG_M3, tension);
    BF_CHECK_IN(shows_m, 0.002 - 1e-9, 0.002 + bf_float_shot_moves_m(&rig.flt, 1e-5, WATER_KG_M3));
}

static void a_bulk_is_low_and_touching_and_droppers_hang_below(void **state) {
    (void)state;
    bf_rig rig = rig_of("heavy");
    bf_pattern_shot(&rig, BF_PATTERN_BULK, -1, 2, WATER_KG_M3);
    BF_CHECK_ABS(rig.shot[0].at_m, rig.hooklength.length_m + 0.02, 1e-12);
    assert_int_equal(rig.shot[0].count, 2);
    BF_CHECK_ABS(rig.shot[0].at_m + 2 * rig.shot[0].apart_m, 0.45, 1e-12);
    BF_CHECK_ABS(rig.shot[1].at_m, 0.45, 1e-12);
    BF_CHECK_ABS(rig.shot[1].apart_m, 0, 0);
    assert_true(rig.shot[1].count * bf_shot_mass_kg(&rig.shot[1], 0) > 0.75 * dry_kg(&rig));
    bf_pattern_shot(&rig, BF_PATTERN_BULK, -1, 0.5, WATER_KG_M3); /* in shallow water it moves down */
    BF_CHECK_ABS(rig.shot[1].at_m, 0.3, 1e-12);
}

/* Hooklengths as long as their table lets them be, and floats far above the catalogue's: every row is still one that a request
 * may hold, and rows stand in order. */
static void every_row_is_one_that_a_request_may_hold(void **state) {
    (void)state;
    for (double hooklength_m = 0.02; hooklength_m <= 3; hooklength_m *= 1.4)
        for (double wet_m = 0.3; wet_m < 12; wet_m *= 1.5)
            for (int pattern = 0; pattern < BF_N_PATTERNS; pattern++) {
                bf_rig rig = rig_of("middle");
                rig.hooklength.length_m = hooklength_m;
                rig.flt.capacity_kg = 0.02;
                rig.flt.capacity_frac.value = pattern == BF_PATTERN_TAPERED ? 2 : 0.02;
                int n = bf_pattern_shot(&rig, pattern, BF_LEAD, wet_m, WATER_KG_M3);
                assert_true(n > 0);
                for (int i = 0; i < n; i++) {
                    assert_int_equal(bf_record_check(&bf_shot_table, &rig.shot[i], NULL, NULL), BF_OK);
                    assert_true(i == 0 || rig.shot[i].at_m >= rig.shot[i - 1].at_m);
                }
                if (pattern == BF_PATTERN_BULK) assert_true(rig.shot[0].apart_m > 0);
            }
}

/* Mean height of the shot above the hook: bulk lowest, strung highest; and strung is even, tapered widens upward. */
static void patterns_differ_as_their_words_say(void **state) {
    (void)state;
    double height[BF_N_PATTERNS];
    bf_rig rig = rig_of("heavy");
    for (int pattern = 0; pattern < BF_N_PATTERNS; pattern++) {
        bf_pattern_shot(&rig, pattern, BF_TIN, 2, WATER_KG_M3);
        double moment = 0;
        for (int i = 0; i < rig.n_shots; i++) {
            const bf_shot *row = &rig.shot[i];
            double middle = row->at_m + (row->count - 1) * row->apart_m / 2;
            moment += row->count * bf_shot_mass_kg(row, 0) * middle;
        }
        height[pattern] = moment / dry_kg(&rig);
    }
    assert_true(height[BF_PATTERN_BULK] < height[BF_PATTERN_TAPERED]);
    assert_true(height[BF_PATTERN_TAPERED] < height[BF_PATTERN_STRUNG]);
    bf_pattern_shot(&rig, BF_PATTERN_TAPERED, BF_LEAD, 2, WATER_KG_M3);
    double gap = 0;
    for (int i = 1; i < 9; i++) {
        assert_true(rig.shot[i].at_m - rig.shot[i - 1].at_m > gap);
        gap = rig.shot[i].at_m - rig.shot[i - 1].at_m;
    }
}

static void a_float_too_small_for_its_hook_gets_no_shot(void **state) {
    (void)state;
    bf_rig rig = rig_of("light");
    rig.flt.capacity_kg = rig.flt.rating_kg = 3e-5;
    rig.hook.mass_kg = 2e-4;
    assert_true(bf_pattern_load_n(&rig, 1, WATER_KG_M3) < 0);
    for (int pattern = 0; pattern < BF_N_PATTERNS; pattern++)
        assert_int_equal(bf_pattern_shot(&rig, pattern, BF_LEAD, 1, WATER_KG_M3), 0);
}

static void check(const bf_table *table, const void *record) {
    int field = -1;
    double value;
    bf_status status = bf_record_check(table, record, &field, &value);
    if (status) print_error("%s.%s is %g\n", table->name, field >= 0 ? table->field[field].name : "", value);
    assert_int_equal(status, BF_OK);
}

static void start_rigs_and_floats_pass_their_tables(void **state) {
    (void)state;
    for (int i = 0; i < bf_n_rigs; i++) {
        const bf_rig *rig = &bf_rigs[i].rig;
        check(&bf_rig_table, rig);
        check(&bf_line_table, &rig->line);
        check(&bf_hooklength_table, &rig->hooklength);
        check(&bf_hook_table, &rig->hook);
        check(&bf_float_table, &rig->flt);
        check(&bf_elastic_table, &rig->elastic);
        assert_true(rig->hooklength.diameter_m < rig->line.diameter_m);
        assert_non_null(strstr(bf_rigs[i].origin, "memory"));
    }
    for (int i = 0; i < bf_n_floats; i++) {
        check(&bf_float_table, &bf_floats[i]);
        if (i) assert_true(bf_floats[i].rating_kg > bf_floats[i - 1].rating_kg);
        if (i) assert_true(bf_floats[i].bristle_m >= bf_floats[i - 1].bristle_m);
    }
    BF_CHECK_ABS(bf_floats[0].rating_kg, 1e-4, 1e-12);
    BF_CHECK_ABS(bf_floats[bf_n_floats - 1].rating_kg, 2e-3, 1e-12);
}

/* What "don't know" starts from and the rig that a plan takes when nothing is said are the same. */
static void the_middle_rig_is_what_the_tables_start_from(void **state) {
    (void)state;
    const bf_rig *middle = NULL;
    for (int i = 0; i < bf_n_rigs; i++)
        if (strcmp(bf_rigs[i].word, "middle") == 0) middle = &bf_rigs[i].rig;
    assert_non_null(middle);
    bf_fishing_line line, hooklength;
    bf_float flt;
    bf_elastic elastic;
    bf_hook hook;
    bf_record_start(&bf_line_table, &line);
    bf_record_start(&bf_hooklength_table, &hooklength);
    bf_record_start(&bf_float_table, &flt);
    bf_record_start(&bf_elastic_table, &elastic);
    bf_record_start(&bf_hook_table, &hook);
    BF_CHECK_ABS(middle->line.diameter_m, line.diameter_m, 1e-15);
    BF_CHECK_ABS(middle->hooklength.diameter_m, hooklength.diameter_m, 1e-15);
    BF_CHECK_ABS(middle->flt.rating_kg, flt.rating_kg, 1e-15);
    BF_CHECK_ABS(middle->flt.bristle_m, flt.bristle_m, 1e-15);
    BF_CHECK_ABS(middle->elastic.outer_m, elastic.outer_m, 1e-15);
    BF_CHECK_ABS(middle->elastic.length_m, elastic.length_m, 1e-15);
    assert_int_equal(middle->hook.size, hook.size);
}

static int has_note(const bf_rig *rig, bf_note_code code, bf_note *found) {
    bf_note notes[BF_MOST_TACKLE_NOTES];
    int n = bf_tackle_notes(rig, WATER_KG_M3, notes);
    assert_true(n <= BF_MOST_TACKLE_NOTES);
    for (int i = 0; i < n; i++)
        if (notes[i].code == code) {
            if (found) *found = notes[i];
            return 1;
        }
    return 0;
}

/* The band of a 1.2 mm bristle between 30 and 90 degrees is its 24.457 mg of pull at 30 degrees (bristle.csv) at 8.85 mm for
 * 10 mg: 21.6 mm; a No 13 moves it 8.07 mm. */
static void notes_say_what_was_never_tried_and_what_is_not_lawful(void **state) {
    (void)state;
    bf_rig rig = rig_of("middle");
    bf_note bristle;
    assert_true(has_note(&rig, BF_NOTE_BRISTLE_BAND, &bristle));
    BF_CHECK_ABS(bristle.number[0], 0.02164, 2e-5);
    BF_CHECK_ABS(bristle.number[1], 0.00807, 1e-5);
    assert_true(has_note(&rig, BF_NOTE_FLOAT_UNTRIED, NULL) && has_note(&rig, BF_NOTE_LINE_UNTRIED, NULL) &&
                has_note(&rig, BF_NOTE_ELASTIC_UNTRIED, NULL));
    assert_false(has_note(&rig, BF_NOTE_LEAD_SHOT, NULL));
    rig.n_back_shots = 1;
    rig.back_shot[0] =
        (bf_shot){.size = bf_shot_size_find("BB"), .mass_kg = BF_NAN, .metal = BF_LEAD, .count = 1};
    assert_true(has_note(&rig, BF_NOTE_LEAD_SHOT, NULL));
    rig.back_shot[0].metal = BF_TIN;
    assert_false(has_note(&rig, BF_NOTE_LEAD_SHOT, NULL));
    rig.flt.meets_deg = (bf_quantity){60, 5, 0};
    rig.flt.capacity_frac = (bf_quantity){1, 0.03, 0};
    rig.hooklength.strength_frac = (bf_quantity){1, 0.1, 0};
    rig.elastic.force_frac = (bf_quantity){1, 0.05, 0};
    bf_note notes[BF_MOST_TACKLE_NOTES];
    assert_int_equal(bf_tackle_notes(&rig, WATER_KG_M3, notes), 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(practice_a_0_4_g_float_takes_five_no_8_and_a_few_trimmers),
        cmocka_unit_test(every_pattern_dots_every_float_down),
        cmocka_unit_test(a_shotted_float_shows_a_little_bristle),
        cmocka_unit_test(a_bulk_is_low_and_touching_and_droppers_hang_below),
        cmocka_unit_test(every_row_is_one_that_a_request_may_hold),
        cmocka_unit_test(patterns_differ_as_their_words_say),
        cmocka_unit_test(a_float_too_small_for_its_hook_gets_no_shot),
        cmocka_unit_test(start_rigs_and_floats_pass_their_tables),
        cmocka_unit_test(the_middle_rig_is_what_the_tables_start_from),
        cmocka_unit_test(notes_say_what_was_never_tried_and_what_is_not_lawful),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
