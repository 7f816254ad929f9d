/* The rig alone: every distance in centimetres and inches, in the order of the rig; and how distances are said. */
#include "apart.h"
#include "common/check.h"
#include "core/picture/drawn_rig.h"
#include "core/picture/words.h"
#include "inside.h"
#include "plan_scenes.h"
#include "told_table.h"

static char svg[BF_PLAN_SVG_BYTES];
static bf_shotting_view view;
static bf_picture picture;

static bf_status draw(void) {
    return bf_picture_shotting(&view, svg, sizeof svg, &picture);
}

static void start(void) {
    view.look = BF_LOOK_OPEN;
    scene_rig_everyday(&view.rig);
}

static void lengths_of_a_rig_are_said_to_half_a_centimetre_and_a_quarter_inch(void **state) {
    (void)state;
    static const struct {
        double m;
        const char *metric, *inches;
    } rows[] = {{0, "0 cm", "0 in"},
                {0.005, "0.5 cm", "\xC2\xBC in"},
                {0.1, "10 cm", "4 in"},           /* 3.94 in */
                {0.125, "12.5 cm", "5 in"},       /* 4.92 in */
                {0.127, "12.5 cm", "5 in"},       /* 5 in exactly */
                {0.35, "35 cm", "13\xC2\xBE in"}, /* 13.78 in */
                {0.9144, "91.5 cm", "3 ft"},      /* one yard, by definition */
                {0.998, "1 m", "3 ft 3\xC2\xBC in"},
                {1.64, "1.64 m", "5 ft 4\xC2\xBD in"}, /* 64.57 in */
                {3.048, "3.05 m", "10 ft"}};           /* ten feet, by definition */
    for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
        char text[32];
        bfi_pen pen = bfi_pen_open(text, sizeof text);
        bfi_put_rig_length(&pen, rows[k].m);
        assert_string_equal(text, rows[k].metric);
        pen = bfi_pen_open(text, sizeof text);
        bfi_put_inches(&pen, rows[k].m);
        assert_string_equal(text, rows[k].inches);
    }
}

static void bad_rigs_are_refused_and_leave_nothing(void **state) {
    (void)state;
    for (int k = 0; k < 7; k++) {
        bf_status want = BF_E_RANGE;
        start();
        switch (k) {
        case 0: view.look = -1; break;
        case 1: view.rig.n_back_shots = BF_RIG_BACK_SHOTS + 1, want = BF_E_COUNT; break;
        case 2: view.rig.shot[0].count = 41, want = BF_E_COUNT; break;
        case 3: view.rig.float_to_hook_m = NAN, want = BF_E_NOT_FINITE; break;
        case 4: view.rig.float_to_hook_m = 0; break;
        case 5: view.rig.shot[0].apart_m = 11; break;
        case 6: view.rig.hooklength_m = -0.1; break;
        }
        assert_int_equal(draw(), want);
        assert_int_equal(svg[0], 0);
        assert_int_equal(picture.n_svg + (size_t)picture.n_rows, 0);
    }
}

static void every_distance_stands_beside_its_part(void **state) {
    (void)state;
    start();
    assert_int_equal(draw(), BF_OK);
    const char *const want[][2] = {{"tip to float", "50 cm, 19\xC2\xBE in"},
                                   {"2 \xC3\x97 No 10", "20 cm, 7\xC2\xBE in"},
                                   {"float 0.4 g", "to hook 1.64 m, 5 ft 4\xC2\xBD in"},
                                   {"5 \xC3\x97 No 8", "35 cm, 13\xC2\xBE in"},
                                   {"No 10", "15 cm, 6 in"},
                                   {"hooklength", "15 cm, 6 in"},
                                   {"hook 18 to 0.12", "hard four"}};
    check_told_table(&picture, want, 7);
    assert_string_equal(
        picture.finding,
        "Float 0.4 g, 1.64 m to the hook; above the hook bulk of 5 No 8 at 35 cm, No 10 at 15 cm.");
    /* The same on the drawing, each name, its centimetres and its inches on one line. */
    static inside_word words[64];
    int n = inside_words(svg, words, 64);
    for (int k = 3; k < 6; k++) {
        char both[80];
        double y = NAN;
        int n_beside = 0;
        for (int a = 0; a < n; a++)
            if (strcmp(words[a].text, want[k][0]) == 0) y = words[a].y0;
        for (int a = 0; a < n; a++)
            for (int b = 0; b < n; b++) {
                snprintf(both, sizeof both, "%.36s, %.36s", words[a].text, words[b].text);
                n_beside += strcmp(both, want[k][1]) == 0 && words[a].y0 == y && words[b].y0 == y;
            }
        assert_int_equal(n_beside, 1);
    }
    assert_non_null(strstr(svg, ">not drawn to scale</text>"));
}

static void no_two_words_overlap_and_none_leaves_the_sheet(void **state) {
    (void)state;
    static inside_word words[128];
    for (int n = 0; n < 1500; n++) {
        scene_rig_random(n, scene_scale(n, 700, 0.2, 10), &view.rig);
        view.look = scene_pick(n, 701, 4);
        assert_int_equal(draw(), BF_OK);
        assert_null(inside_xml_fault(svg));
        double height = inside_number(svg, "height");
        int n_here = inside_words(svg, words, 128);
        check_words_apart(words, n_here, 0, 80, height, n);
    }
}

/* As many circles as shot, whatever the rows. */
static void every_shot_is_drawn(void **state) {
    (void)state;
    for (int n = 0; n < 200; n++) {
        scene_rig_random(n, scene_scale(n, 700, 0.2, 10), &view.rig);
        assert_int_equal(draw(), BF_OK);
        int n_shot = 0;
        for (int k = 0; k < view.rig.n_shots; k++) n_shot += view.rig.shot[k].count;
        for (int k = 0; k < view.rig.n_back_shots; k++) n_shot += view.rig.back_shot[k].count;
        assert_int_equal(inside_count(svg, "circle", "bf-ink"), n_shot);
    }
}

static bf_drawn_shot single(double at_m) {
    bf_drawn_shot shot = {.count = 1, .at_m = at_m};
    scene_label(&shot.name, "No 10");
    return shot;
}

/* Strung evenly they are one row that says how far apart; two, or uneven ones, keep a line each. */
static void single_shot_at_even_distances_are_one_row(void **state) {
    (void)state;
    bf_drawn_shot row[5], out[5];
    for (int k = 0; k < 5; k++) row[k] = single(0.1 + 0.12 * ((3 * k) % 5)); /* in any order */
    assert_int_equal(bfi_rows_downward(row, 5, out), 1);
    assert_int_equal(out[0].count, 5);
    BF_CHECK_ABS(out[0].at_m, 0.1, 1e-12);
    BF_CHECK_ABS(out[0].apart_m, 0.12, 1e-9);
    assert_int_equal(bfi_rows_downward(row, 2, out), 2);
    row[2].at_m += 0.03;
    assert_true(bfi_rows_downward(row, 5, out) > 1);
    row[2] = single(row[2].at_m - 0.03);
    scene_label(&row[2].name, "No 8");
    assert_true(bfi_rows_downward(row, 5, out) > 1);
    for (int k = 1; k < 3; k++) assert_true(out[k].at_m < out[k - 1].at_m);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lengths_of_a_rig_are_said_to_half_a_centimetre_and_a_quarter_inch),
        cmocka_unit_test(bad_rigs_are_refused_and_leave_nothing),
        cmocka_unit_test(every_distance_stands_beside_its_part),
        cmocka_unit_test(no_two_words_overlap_and_none_leaves_the_sheet),
        cmocka_unit_test(every_shot_is_drawn),
        cmocka_unit_test(single_shot_at_even_distances_are_one_row),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
