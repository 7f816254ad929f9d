/* The fall from the side: what is refused, what is drawn, that words keep clear of each other. */
#include "apart.h"
#include "common/check.h"
#include "inside.h"
#include "scenes.h"
#include "told_table.h"

static char svg[SCENE_SVG_BYTES], other[SCENE_SVG_BYTES];
static bf_side_view view;
static bf_labels labels;
static bf_picture picture;

static bf_status draw(void) {
    return bf_picture_side(&view, &labels, svg, sizeof svg, &picture);
}

static void start(void) {
    scene_side_everyday(&view);
    scene_labels_everyday(&labels);
}

static void bad_views_are_refused_and_leave_nothing(void **state) {
    (void)state;
    for (int k = 0; k < 16; k++) {
        bf_status want = BF_E_RANGE;
        start();
        switch (k) {
        case 0: view.n_steps = 1, want = BF_E_COUNT; break;
        case 1: view.n_steps = BF_SIDE_MOST_STEPS + 1, want = BF_E_COUNT; break;
        case 2: view.n_pieces = -1, want = BF_E_COUNT; break;
        case 3: view.n_pieces = BF_SIDE_MOST_PIECES + 1, want = BF_E_COUNT; break;
        case 4: view.depth_m = 0; break;
        case 5: view.depth_m = NAN, want = BF_E_NOT_FINITE; break;
        case 6: view.depth_lo_m = 1.51; break;
        case 7: view.depth_hi_m = 1.49; break;
        case 8: view.slope_deg = 81; break;
        case 9: view.bottom = 4; break;
        case 10: view.step_s[3] = view.step_s[2]; break;
        case 11: view.step_z_m[3] = view.step_z_m[2] - 0.01; break;
        case 12: view.step_x_m[3] = NAN, want = BF_E_NOT_FINITE; break;
        case 13: view.piece_x_m[3] = INFINITY, want = BF_E_NOT_FINITE; break;
        case 14: view.wide_lo_x_m = 1; break;
        case 15: view.distance_m = INFINITY, want = BF_E_NOT_FINITE; break;
        }
        assert_int_equal(draw(), want);
        assert_int_equal(svg[0], 0);
        assert_int_equal(picture.n_svg + (size_t)picture.n_rows, 0);
        assert_int_equal(picture.finding[0], 0);
    }
}

static void a_short_buffer_is_said_and_left_empty(void **state) {
    (void)state;
    start();
    assert_int_equal(draw(), BF_OK);
    size_t whole = picture.n_svg;
    for (size_t most = 1; most <= whole; most += most < 300 ? 1 : 97) {
        char *tight = malloc(most);
        assert_int_equal(bf_picture_side(&view, &labels, tight, most, &picture), BF_E_SPACE);
        assert_int_equal(tight[0], 0);
        free(tight);
    }
    assert_int_equal(bf_picture_side(&view, &labels, other, whole + 1, &picture), BF_OK);
    assert_string_equal(other, svg);
}

static void every_picture_is_well_formed(void **state) {
    (void)state;
    for (int n = 0; n < 2000; n++) {
        scene_side_random(n, &view);
        scene_labels(n, &labels);
        assert_int_equal(draw(), BF_OK);
        assert_int_equal(strlen(svg), picture.n_svg);
        const char *fault = inside_xml_fault(svg);
        if (fault) fail_msg("scene %d: %s", n, fault);
        assert_null(strstr(svg, "style="));
    }
}

static void no_two_words_overlap_and_none_leaves_the_sheet(void **state) {
    (void)state;
    static inside_word words[64];
    int n_words = 0;
    for (int n = 0; n < 4000; n++) {
        scene_side_random(n, &view);
        scene_labels(n, &labels);
        assert_int_equal(draw(), BF_OK);
        double height = inside_number(svg, "height");
        int n_here = inside_words(svg, words, 64);
        n_words += n_here;
        check_words_apart(words, n_here, 0, 80, height, n);
    }
    assert_true(n_words > 4000 * 8);
}

/* Time lines stand where the way of the typical piece is at that time: 42 mm for the deepest the bottom may be. */
static void time_lines_stand_at_the_depth_of_their_time(void **state) {
    (void)state;
    start();
    assert_int_equal(draw(), BF_OK);
    int n = 0;
    for (const char *at = svg; (at = strstr(at, "class=\"bf-wet bf-r bf-case\"")); at++, n++) {
        double time = atof(strchr(at, '>') + 1);
        BF_CHECK_ABS(inside_number(at, "y") - 1.45, 19 + 42 * 0.125 * time / 1.55, 0.006);
    }
    assert_int_equal(n, 2); /* 4 s and 8 s of 12 s */
}

static void the_bed_slopes_as_said(void **state) {
    (void)state;
    for (int k = -2; k <= 2; k++) {
        start();
        view.slope_deg = 4 * k;
        assert_int_equal(draw(), BF_OK);
        double x0, y0, x1, y1;
        const char *bed = strstr(svg, "<path class=\"bf-p4\" d=\"M");
        assert_int_equal(
            sscanf(bed + strlen("<path class=\"bf-p4\" d=\"M"), "%lf %lfL%lf %lf", &x0, &y0, &x1, &y1), 4);
        BF_CHECK_ABS((y1 - y0) / (x1 - x0), tan(4 * k * 3.141592653589793 / 180), 0.0003);
    }
}

static void a_wide_feed_is_drawn_narrower_and_says_so(void **state) {
    (void)state;
    start();
    assert_int_equal(draw(), BF_OK);
    assert_null(strstr(svg, "narrower"));
    view.piece_x_m[0] = -1.255;
    view.piece_x_m[1] = 1.255;
    assert_int_equal(draw(), BF_OK);
    /* 2.51 m at 42 mm for 1.55 m would be 68.01 mm; 34 mm are there. */
    assert_non_null(strstr(svg, ">width drawn 2 times narrower</text>"));
}

/* Pieces that all lie 10 cm outward of the typical one: a clump leaves one place, a throw meets the water apart. */
static void a_clump_opens_on_the_way_and_a_throw_is_open_from_the_start(void **state) {
    (void)state;
    for (int is_throw = 0; is_throw < 2; is_throw++) {
        start();
        view.how = is_throw ? BF_THROW : BF_CLUMP;
        view.slope_deg = 0;
        for (int k = 0; k < view.n_steps; k++) view.step_x_m[k] = 0;
        for (int k = 0; k < view.n_pieces; k++) view.piece_x_m[k] = 0.1;
        assert_int_equal(draw(), BF_OK);
        /* Drawn is from -0.056 to 0.104 m, with its middle at 45 mm. */
        double mm_per_m = 42 / 1.55, middle = 45 - 0.024 * mm_per_m;
        int n = 0;
        for (const char *at = svg; (at = strstr(at, "<circle class=\"bf-rfill\"")); at++, n++) {
            double part = (inside_number(at, "cy") - 19) / (1.5 * mm_per_m);
            BF_CHECK_ABS(inside_number(at, "cx") - middle, 0.1 * mm_per_m * (is_throw ? 1 : part), 0.011);
        }
        assert_true(n > 30);
    }
}

static void the_finding_and_the_table_say_what_is_drawn(void **state) {
    (void)state;
    start();
    assert_int_equal(draw(), BF_OK);
    assert_string_equal(
        picture.finding,
        "A typical piece (hard-4) sinks 1.5 m (1.45-1.55) in about 12 s; nine in ten are down 12 s (10-15) "
        "after the put-in begins.");
    const char *const want[][2] = {{"Depth", "1.5 m (1.45-1.55)"},
                                   {"Bottom", "silt, deepens outward by 2 degrees"},
                                   {"After 4 s", "50 cm down"},
                                   {"After 8 s", "1 m down"},
                                   {"Typical piece on the bottom", "12 s"},
                                   {"9 in 10 on the bottom", "12 s (10-15)"},
                                   {"9 in 10 outward, over many put-ins", "16 cm"},
                                   {"Ring that holds 9 in 10 of one put-in", "14 cm (11-19)"}};
    check_told_table(&picture, want, 8);
}

static void words_in_the_water_are_slanted_and_words_in_the_air_are_not(void **state) {
    (void)state;
    start();
    assert_int_equal(draw(), BF_OK);
    static inside_word words[64];
    int n = inside_words(svg, words, 64), k = 0;
    const char *at = svg;
    for (; k < n; k++) {
        at = strstr(at, "<text ");
        const char *end = strchr(at, '>');
        int is_wet = strstr(at, "bf-wet") != NULL && strstr(at, "bf-wet") < end;
        int is_in_air = words[k].y1 < 19 || words[k].x1 < 19;
        assert_int_equal(is_wet, !is_in_air);
        at = end;
    }
    assert_true(n > 8);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bad_views_are_refused_and_leave_nothing),
        cmocka_unit_test(a_short_buffer_is_said_and_left_empty),
        cmocka_unit_test(every_picture_is_well_formed),
        cmocka_unit_test(no_two_words_overlap_and_none_leaves_the_sheet),
        cmocka_unit_test(time_lines_stand_at_the_depth_of_their_time),
        cmocka_unit_test(the_bed_slopes_as_said),
        cmocka_unit_test(a_wide_feed_is_drawn_narrower_and_says_so),
        cmocka_unit_test(a_clump_opens_on_the_way_and_a_throw_is_open_from_the_start),
        cmocka_unit_test(the_finding_and_the_table_say_what_is_drawn),
        cmocka_unit_test(words_in_the_water_are_slanted_and_words_in_the_air_are_not),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
