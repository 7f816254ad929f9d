/* Packing laws and counts. Sources: values printed by a public library that cites Benyahia & O'Neill 2005 and Dixon
 * 1988; packing.csv and pot_counts.csv, worked out from the same formulas for the model note. */
#include "baitfall/pot.h"

#include "common/check.h"
#include "common/csv.h"

#define CYLINDER_L1 0.8735804647362988 /* sphericity at length = diameter: exact */

static double sphere(double tube_over_piece, double law) {
    return bf_pot_voidage(BF_SPHERE, 1, 1 / tube_over_piece, law);
}

static double cylinder(double tube_over_piece, double law) {
    return bf_pot_voidage(BF_CYLINDER, CYLINDER_L1, 1 / tube_over_piece, law);
}

/* Printed in the documentation of a public fluids library (read). */
static void voidages_reproduce_the_published_library_values(void **state) {
    (void)state;
    BF_CHECK_ABS(bf_pot_voidage(BF_CUBE, 0.8, 0.1, 1), 0.4139536385, 1e-10);
    BF_CHECK_ABS(sphere(50, 1), 0.3906653157, 1e-10);
    BF_CHECK_ABS(cylinder(10, 1), 0.3881252311, 1e-10);
    BF_CHECK_ABS(sphere(6, 0), 0.4198, 5e-5);
}

/* packing.csv, printed to 4 digits. Below two pieces across only geometry is used; the table has 0.667 there
 * where the zigzag has 2/3. */
static void voidages_reproduce_the_packing_table(void **state) {
    (void)state;
    csv_file csv;
    csv_open(&csv, "feed/packing.csv");
    csv_next(&csv);
    int n_rows = 0;
    for (; csv_next(&csv); n_rows++) {
        double across = csv_number(&csv, 0);
        BF_CHECK_ABS(sphere(across, 0), csv_number(&csv, 1), across < 2 ? 2.2e-4 : 5.1e-5);
        BF_CHECK_ABS(cylinder(across, 0), csv_number(&csv, 3), 5.1e-5);
        if (across < 2) continue;
        BF_CHECK_ABS(sphere(across, 1), csv_number(&csv, 2), 5.1e-5);
        BF_CHECK_ABS(cylinder(across, 1), csv_number(&csv, 4), 5.1e-5);
        BF_CHECK_ABS(bf_pot_voidage(BF_LENS, CYLINDER_L1, 1 / across, 1), csv_number(&csv, 5), 5.1e-5);
    }
    assert_int_equal(n_rows, 13);
}

/* The table prints four digits; the same laws written again as published hold to 1e-6 at its rows and between them. */
static void voidages_are_the_published_laws_within_a_millionth(void **state) {
    (void)state;
    for (double across = 2; across < 1000; across *= 1.03) {
        double x = 1 / across, general = pow(across + 0.1226, 2);
        BF_CHECK_ABS(sphere(across, 0), 0.4 + 0.05 * x + 0.412 * x * x, 1e-6);
        BF_CHECK_ABS(sphere(across, 1), 0.390 + 1.740 / pow(across + 1.140, 2), 1e-6);
        BF_CHECK_ABS(cylinder(across, 0), 0.36 + 0.10 * x + 0.7 * x * x, 1e-6);
        BF_CHECK_ABS(cylinder(across, 1), 0.373 + 1.703 / pow(across + 0.611, 2), 1e-6);
        BF_CHECK_ABS(bf_pot_voidage(BF_CUBE, 0.806, x, 0), 0.1504 + 0.2024 / 0.806 + 1.0814 / general, 1e-6);
        BF_CHECK_ABS(sphere(across, 0.5), (sphere(across, 0) + sphere(across, 1)) / 2, 1e-6);
    }
}

/* A zigzag of spheres in a tube: each adds sqrt(d^2 - (D - d)^2) of height. Flat stack of cylinders: 1 - d^2 / D^2. */
static void single_file_follows_from_geometry(void **state) {
    (void)state;
    const double pi = 3.14159265358979;
    for (double d = 0.56; d < 1; d += 0.04) {
        double height = sqrt(d * d - (1 - d) * (1 - d));
        double want = 1 - pi / 6 * d * d * d / (pi / 4 * height);
        BF_CHECK_ABS(sphere(1 / d, 0), want, 1e-9);
        BF_CHECK_ABS(sphere(1 / d, 1), want, 1e-9);
        double dv = d * cbrt(1.5);
        if (dv > 0.7) BF_CHECK_ABS(cylinder(1 / dv, 1), 1 - d * d, 5e-4);
    }
    BF_CHECK_ABS(sphere(0.9, 0.5), 1, 0);
    BF_CHECK_ABS(cylinder(0.8, 0.5), 1, 0);
    BF_CHECK_ABS(bf_pot_voidage(BF_CUBE, 0.806, 1.1, 0.5), 1, 0);
}

static bf_quantity exactly(double value) {
    bf_quantity quantity = {value, 0, 0};
    return quantity;
}

static bf_bait named(const char *word) {
    return bf_catalogue[bf_catalogue_find(word, strlen(word))].bait;
}

/* A level pot filled with pieces that are all alike. */
static double count_of(int form, double diameter_m, double mouth_m, double volume_m3, double law) {
    bf_bait bait = named("hard-4");
    bait.form = form;
    bait.diameter_m = exactly(diameter_m);
    bait.length_m = exactly(diameter_m);
    bait.size_scatter_frac = 0;
    bf_pot pot = {.volume_m3 = exactly(volume_m3),
                  .mouth_m = exactly(mouth_m),
                  .fill_frac = exactly(1),
                  .wall_law = exactly(law),
                  .settled_frac = exactly(1)};
    bf_counted none = {.count = exactly(0)};
    bf_pot_out out;
    assert_int_equal(bf_pot_holds(&bait, &pot, &none, &out), BF_OK);
    BF_CHECK_REL(out.volume_m3, volume_m3, 0);
    return out.pieces;
}

/* pot_counts.csv: 25 pots, printed to 0.1 piece. */
static void counts_reproduce_the_table_of_pots(void **state) {
    (void)state;
    csv_file csv;
    csv_open(&csv, "feed/pot_counts.csv");
    csv_next(&csv);
    int n_rows = 0;
    for (; csv_next(&csv); n_rows++) {
        double mouth_m = csv_number(&csv, 0) / 1000, height_m = csv_number(&csv, 1) / 1000;
        double piece_m = csv_number(&csv, 3) / 1000;
        double volume_m3 = 3.14159265358979 / 4 * mouth_m * mouth_m * height_m;
        for (int law = 0; law < 2; law++) {
            BF_CHECK_ABS(count_of(BF_SPHERE, piece_m, mouth_m, volume_m3, law), csv_number(&csv, 4 + law),
                         0.051);
            BF_CHECK_ABS(count_of(BF_CYLINDER, piece_m, mouth_m, volume_m3, law), csv_number(&csv, 6 + law),
                         0.051);
        }
    }
    assert_int_equal(n_rows, 25);
}

static bf_scene counted_micros(const char *asked) {
    bf_scene scene;
    bf_scene_start(&scene);
    scene.bait = named(asked);
    scene.counted.bait = named("micros-2");
    scene.counted.count = exactly(400);
    scene.counted.count.pm = 20;
    bf_scene_settle(&scene);
    return scene;
}

static bf_range pieces_of(const bf_scene *scene, bf_ensemble_result *result) {
    enum { N = 4096 };
    static double rows[N * 4], nominal[4], work[1 << 20];
    bf_ensemble ensemble = {&bf_pot_schema, scene, bf_pot_model, 4, 0, 1, N};
    assert_true(bf_ensemble_work_bytes(&ensemble) <= sizeof work);
    assert_int_equal(bf_ensemble_nominal(&ensemble, nominal), BF_OK);
    assert_int_equal(bf_ensemble_range(&ensemble, 0, N, work, rows), BF_OK);
    bf_ensemble_finish(&ensemble, rows, nominal, work, result);
    return result->range[0];
}

static void counting_the_asked_bait_itself_gives_the_count_back(void **state) {
    (void)state;
    bf_scene scene = counted_micros("micros-2");
    bf_pot_out out;
    assert_int_equal(bf_pot_holds(&scene.bait, &scene.pot, &scene.counted, &out), BF_OK);
    BF_CHECK_REL(out.pieces, 400.0, 1e-12);
    BF_CHECK_REL(out.volume_m3, 7.3e-6, 0.05);
}

/* However badly its size is known, as many go in as were counted: only the count and the fill are left in the range. */
static void the_size_of_the_counted_bait_does_not_matter_to_its_own_number(void **state) {
    (void)state;
    bf_scene scene = counted_micros("micros-2");
    bf_ensemble_result result;
    scene.pot.fill_frac.pm = 0;
    bf_range pieces = pieces_of(&scene, &result);
    BF_CHECK_ABS(pieces.mid, 400, 2);
    BF_CHECK_ABS(pieces.lo, 380, 2);
    BF_CHECK_ABS(pieces.hi, 420, 2);

    scene.bait = named("hard-4");
    bf_scene_settle(&scene);
    pieces = pieces_of(&scene, &result);
    assert_true(pieces.hi - pieces.lo > 0.5 * pieces.mid);
}

/* Common practice, no source: a pot of 400 soaked 2 mm holds 50 to 60 hard 4 mm. */
static void common_practice_four_mm_range_overlaps_50_to_60(void **state) {
    (void)state;
    bf_scene scene = counted_micros("hard-4");
    bf_ensemble_result result;
    bf_range pieces = pieces_of(&scene, &result);
    assert_true(pieces.lo < 60 && pieces.hi > 50);
    BF_CHECK_IN(pieces.nominal, 45, 52); /* by hand from measured sizes: 47 to 52 */
}

/* Common practice, no source, says 25 to 30 hard 6 mm; geometry says 13 to 17, and the answer states both. */
static void common_practice_six_mm_disagreement_is_stated_with_both_figures(void **state) {
    (void)state;
    bf_scene scene = counted_micros("hard-6");
    bf_ensemble_result result;
    bf_note notes[BF_MOST_NOTES];
    bf_range pieces = pieces_of(&scene, &result);
    BF_CHECK_IN(pieces.nominal, 12.5, 17.5);
    int n = bf_pot_notes(&scene, &result, notes), found = 0;
    for (int i = 0; i < n; i++)
        if (notes[i].code == BF_NOTE_POT_PRACTICE) {
            found = 1;
            BF_CHECK_ABS(notes[i].number[0], 25, 1e-9);
            BF_CHECK_ABS(notes[i].number[1], 30, 1e-9);
            BF_CHECK_ABS(notes[i].number[2], pieces.mid, 0);
        }
    assert_true(found);
}

/* A count says more about the pot than its guessed volume does. */
static void counting_narrows_the_answer(void **state) {
    (void)state;
    bf_scene scene = counted_micros("micros-2");
    bf_ensemble_result result;
    scene.counted.bait = scene.bait = named("hard-4");
    scene.counted.count = exactly(50);
    scene.bait.diameter_m.pm = scene.bait.length_m.pm = 0.0001;
    scene.counted.bait = scene.bait;
    bf_range counted = pieces_of(&scene, &result);
    scene.counted.count = exactly(0);
    bf_range guessed = pieces_of(&scene, &result);
    assert_true(counted.hi - counted.lo < 0.5 * (guessed.hi - guessed.lo));
}

static void heap_stops_at_the_slope_pieces_stand_at(void **state) {
    (void)state;
    bf_scene scene;
    bf_scene_start(&scene);
    bf_pot_out level, little, much;
    assert_int_equal(bf_pot_holds(&scene.bait, &scene.pot, &scene.counted, &level), BF_OK);
    scene.pot.fill_frac = exactly(1.1);
    assert_int_equal(bf_pot_holds(&scene.bait, &scene.pot, &scene.counted, &little), BF_OK);
    scene.pot.fill_frac = exactly(3);
    assert_int_equal(bf_pot_holds(&scene.bait, &scene.pot, &scene.counted, &much), BF_OK);
    BF_CHECK_REL(little.pieces, 1.1 * level.pieces, 1e-12);
    /* Cone on a 25 mm mouth at 32.5 degrees: 1/3 pi r^2 (r tan) = 1.303 ml on 8 ml. */
    BF_CHECK_REL(much.pieces / level.pieces, 1 + 1.3029 / 8, 1e-4);

    bf_note notes[BF_MOST_NOTES];
    bf_ensemble_result result = {.range[0].mid = level.pieces, .range[2].nominal = level.volume_m3};
    int n = bf_pot_notes(&scene, &result, notes), found = 0;
    for (int i = 0; i < n; i++) found += notes[i].code == BF_NOTE_POT_HEAP;
    assert_int_equal(found, 1);
}

static void pieces_too_big_for_the_mouth_count_none_and_cannot_have_been_counted(void **state) {
    (void)state;
    bf_scene scene;
    bf_scene_start(&scene);
    scene.bait = named("groundbait");
    bf_pot_out out;
    assert_int_equal(bf_pot_holds(&scene.bait, &scene.pot, &scene.counted, &out), BF_OK);
    assert_true(out.pieces == 0);
    scene.counted.bait = scene.bait;
    scene.counted.count = exactly(3);
    assert_int_equal(bf_pot_holds(&scene.bait, &scene.pot, &scene.counted, &out), BF_E_MODEL_RANGE);
    assert_true(isnan(out.pieces) && isnan(out.mass_kg) && isnan(out.volume_m3) && isnan(out.voidage_frac));
}

static void doubling_the_volume_doubles_the_pieces_and_their_mass(void **state) {
    (void)state;
    bf_scene scene;
    bf_scene_start(&scene);
    bf_pot_out one, two;
    assert_int_equal(bf_pot_holds(&scene.bait, &scene.pot, &scene.counted, &one), BF_OK);
    scene.pot.volume_m3.value *= 2;
    assert_int_equal(bf_pot_holds(&scene.bait, &scene.pot, &scene.counted, &two), BF_OK);
    BF_CHECK_REL(two.pieces, 2 * one.pieces, 1e-12);
    BF_CHECK_REL(two.mass_kg, 2 * one.mass_kg, 1e-12);
    /* mass = solid volume x density */
    BF_CHECK_REL(one.mass_kg, (1 - one.voidage_frac) * one.volume_m3 * scene.bait.density_kg_m3.value, 1e-12);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(voidages_reproduce_the_published_library_values),
        cmocka_unit_test(voidages_reproduce_the_packing_table),
        cmocka_unit_test(voidages_are_the_published_laws_within_a_millionth),
        cmocka_unit_test(single_file_follows_from_geometry),
        cmocka_unit_test(counts_reproduce_the_table_of_pots),
        cmocka_unit_test(counting_the_asked_bait_itself_gives_the_count_back),
        cmocka_unit_test(the_size_of_the_counted_bait_does_not_matter_to_its_own_number),
        cmocka_unit_test(common_practice_four_mm_range_overlaps_50_to_60),
        cmocka_unit_test(common_practice_six_mm_disagreement_is_stated_with_both_figures),
        cmocka_unit_test(counting_narrows_the_answer),
        cmocka_unit_test(heap_stops_at_the_slope_pieces_stand_at),
        cmocka_unit_test(pieces_too_big_for_the_mouth_count_none_and_cannot_have_been_counted),
        cmocka_unit_test(doubling_the_volume_doubles_the_pieces_and_their_mass),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
