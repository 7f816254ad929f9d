/* Rig and feed in section: what is refused, that parts stand where the rig has them, that words keep clear. */
#include "apart.h"
#include "common/check.h"
#include "inside.h"
#include "plan_scenes.h"
#include "told_table.h"

static char svg[BF_PLAN_SVG_BYTES], other[BF_PLAN_SVG_BYTES];
static bf_section_view view;
static bf_labels labels;
static bf_picture picture;

/* 56 mm for the deepest the bottom may be, from the surface at 31 mm. */
#define SURFACE_MM 31.0
#define MM_PER_M (56 / 1.67)

static bf_status draw(void) {
    return bf_picture_section(&view, &labels, svg, sizeof svg, &picture);
}

static void start(void) {
    scene_section_everyday(&view);
    scene_labels_everyday(&labels);
    scene_label(&labels.depth, "1.62 m (1.57-1.67)");
}

/* A rig that hangs plumb, its hook at the bottom. */
static void start_plumb(void) {
    start();
    view.fall.slope_deg = 0;
    scene_shape(&view.shape, 0.6, 0, 0, 1.62);
}

static void bad_views_are_refused_and_leave_nothing(void **state) {
    (void)state;
    for (int k = 0; k < 22; k++) {
        bf_status want = BF_E_RANGE;
        start();
        switch (k) {
        case 0: view.n_dots = 19, want = BF_E_COUNT; break;
        case 1: view.n_currents = BF_SECTION_CURRENTS + 1, want = BF_E_COUNT; break;
        case 2: view.shape.n_air = 1, want = BF_E_COUNT; break;
        case 3: view.shape.n_water = BF_RIG_POINTS + 1, want = BF_E_COUNT; break;
        case 4: view.shape.water_m[3][1] = NAN, want = BF_E_NOT_FINITE; break;
        case 5: view.shape.contact = 3; break;
        case 6: view.shape.air_m[0][2] = -101; break;
        case 7: view.dot_x_m[7] = NAN, want = BF_E_NOT_FINITE; break;
        case 8: view.current_z_m[2] = view.current_z_m[1]; break;
        case 9: view.current_m_s[0] = 11; break;
        case 10: view.bristle_long_m = 0; break;
        case 11: view.overdepth_m = 31; break;
        case 12: view.wind_y_m_s = INFINITY, want = BF_E_NOT_FINITE; break;
        case 13: view.rig.n_shots = BF_RIG_SHOTS + 1, want = BF_E_COUNT; break;
        case 14: view.rig.shot[1].count = 0, want = BF_E_COUNT; break;
        case 15: view.rig.shot[0].at_m = -0.1; break;
        case 16: view.rig.back_shot[0].apart_m = NAN, want = BF_E_NOT_FINITE; break;
        case 17: view.rig.hooklength_m = view.rig.float_to_hook_m; break;
        case 18: view.fall.depth_lo_m = 1.63; break;
        case 19: view.fall.n_steps = 1, want = BF_E_COUNT; break;
        case 20: view.fall.piece_x_m[4] = NAN, want = BF_E_NOT_FINITE; break;
        case 21: view.look = BF_LOOK_DUSK + 1; break;
        }
        assert_int_equal(draw(), want);
        assert_int_equal(svg[0], 0);
        assert_int_equal(picture.n_svg + (size_t)picture.n_rows, 0);
    }
}

static void a_short_buffer_is_said_and_left_empty(void **state) {
    (void)state;
    start();
    assert_int_equal(draw(), BF_OK);
    size_t whole = picture.n_svg;
    for (size_t most = 1; most <= whole; most += most < 300 ? 1 : 197) {
        char *tight = malloc(most);
        assert_int_equal(bf_picture_section(&view, &labels, tight, most, &picture), BF_E_SPACE);
        assert_int_equal(tight[0], 0);
        free(tight);
    }
    assert_int_equal(bf_picture_section(&view, &labels, other, whole + 1, &picture), BF_OK);
    assert_string_equal(other, svg);
}

static void every_picture_is_well_formed(void **state) {
    (void)state;
    for (int n = 0; n < 1000; n++) {
        scene_section_random(n, &view);
        scene_labels(n, &labels);
        assert_int_equal(draw(), BF_OK);
        const char *fault = inside_xml_fault(svg);
        if (fault) fail_msg("scene %d: %s", n, fault);
        assert_true(picture.finding[0] && picture.n_rows >= 5);
    }
}

/* Leaders are the thin lines that begin right of the rig's words. */
static int leaders(double (*line)[4], int most) {
    int n = 0;
    double point[4][2];
    for (int k = 0; inside_find(svg, "path", "bf-p1", k) && n < most; k++) {
        if (inside_points(inside_find(svg, "path", "bf-p1", k), point, 4) != 2 ||
            fabs(point[0][0] - 47) > 0.01)
            continue;
        line[n][0] = point[0][0], line[n][1] = point[0][1], line[n][2] = point[1][0],
        line[n][3] = point[1][1];
        n += 1;
    }
    return n;
}

/* How far (x, y) is to the left of a line, mm. */
static double side_of(const double *line, double x, double y) {
    double dx = line[2] - line[0], dy = line[3] - line[1];
    return (dx * (y - line[1]) - dy * (x - line[0])) / sqrt(dx * dx + dy * dy);
}

static int are_apart(double a, double b) {
    const double rounding_mm = 0.015; /* places are printed to 0.01 mm */
    return (a > rounding_mm && b < -rounding_mm) || (a < -rounding_mm && b > rounding_mm);
}

static int cross(const double *a, const double *b) {
    return are_apart(side_of(a, b[0], b[1]), side_of(a, b[2], b[3])) &&
           are_apart(side_of(b, a[0], a[1]), side_of(b, a[2], a[3]));
}

static void no_two_words_overlap_and_no_leader_crosses_another(void **state) {
    (void)state;
    static inside_word words[96];
    static double line[64][4];
    int n_words = 0, n_leaders = 0;
    for (int n = 0; n < 2000; n++) {
        scene_section_random(n, &view);
        scene_labels(n, &labels);
        assert_int_equal(draw(), BF_OK);
        double height = inside_number(svg, "height");
        int n_here = inside_words(svg, words, 96), n_lines = leaders(line, 64);
        n_words += n_here;
        n_leaders += n_lines;
        check_words_apart(words, n_here, 0, 80, height, n);
        for (int a = 0; a < n_lines; a++)
            for (int b = 0; b < a; b++)
                if (cross(line[a], line[b])) fail_msg("scene %d: leaders %d and %d cross", n, a, b);
    }
    assert_true(n_words > 2000 * 10 && n_leaders > 2000 * 3);
}

/* Along a plumb line: the k-th shot at its distance above the hook, to the drawing's scale. */
static void shot_stand_at_their_distances(void **state) {
    (void)state;
    start_plumb();
    view.rig.n_back_shots = 0;
    view.rig.n_shots = 2;
    view.rig.shot[0] = (bf_drawn_shot){.count = 4, .at_m = 0.6, .apart_m = 0.1};
    view.rig.shot[1] = (bf_drawn_shot){.count = 1, .at_m = 0.2};
    view.wind_x_m_s = 4;
    assert_int_equal(draw(), BF_OK);
    static const double above_hook_m[] = {0.6, 0.7, 0.8, 0.9, 0.2};
    for (int k = 0; k < 5; k++) {
        const char *shot = inside_find(svg, "circle", "bf-ink", k);
        assert_non_null(shot);
        BF_CHECK_ABS(inside_number(shot, "cy"), SURFACE_MM + MM_PER_M * (1.62 - above_hook_m[k]), 0.01);
    }
    assert_null(inside_find(svg, "circle", "bf-ink", 5));
}

/* A bulk is drawn apart as far as its shot need, but its lowest shot stays at its place. */
static void a_bulk_is_drawn_apart_from_its_place_up(void **state) {
    (void)state;
    start_plumb();
    view.rig.n_back_shots = 0;
    assert_int_equal(draw(), BF_OK);
    double below = INFINITY;
    for (int k = 0; k < 5; k++) {
        double y = inside_number(inside_find(svg, "circle", "bf-ink", k), "cy");
        if (k == 0) BF_CHECK_ABS(y, SURFACE_MM + MM_PER_M * (1.62 - 0.35), 0.01);
        if (k > 0) BF_CHECK_ABS(below - y, 1.3, 0.011);
        below = y;
    }
}

/* The bristle is 4.6 mm long: all of it shows, half, none. */
static void the_bristle_shows_as_much_as_it_does(void **state) {
    (void)state;
    for (int k = 0; k <= 2; k++) {
        start_plumb();
        view.shape.bristle_m = 0.5 * k * view.bristle_long_m;
        assert_int_equal(draw(), BF_OK);
        double point[2][2], top = INFINITY;
        for (int p = 0; inside_find(svg, "path", "bf-p4", p); p++) {
            assert_int_equal(inside_points(inside_find(svg, "path", "bf-p4", p), point, 2), 2);
            if (fabs(point[0][0] - point[1][0]) < 0.011)
                top = point[1][1]; /* upright: the bristle; the bottom lies */
        }
        BF_CHECK_ABS(SURFACE_MM - top, 4.6 * 0.5 * k, 0.011);
    }
}

static void the_hook_bait_lies_on_the_bottom_and_not_in_it(void **state) {
    (void)state;
    start_plumb();
    view.shape.bait_m[2] = 1.7;
    assert_int_equal(draw(), BF_OK);
    double lowest = 0;
    for (int k = 0; inside_find(svg, "circle", "bf-open", k); k++) {
        double y = inside_number(inside_find(svg, "circle", "bf-open", k), "cy");
        if (y > lowest) lowest = y;
    }
    BF_CHECK_ABS(lowest, SURFACE_MM + MM_PER_M * 1.62 - 1.15, 0.011);
}

/* Twenty dots under the bottom in the reckoned colour, each within half a column of its place. */
static void twenty_dots_stand_where_the_bait_may_lie(void **state) {
    (void)state;
    start();
    view.fall.n_pieces = 0;
    view.fall.n_steps = 0;
    assert_int_equal(draw(), BF_OK);
    int n = inside_count(svg, "circle", "bf-rfill");
    assert_int_equal(n, BF_SECTION_DOTS);
    double least = INFINITY, most = -INFINITY, want_least = INFINITY, want_most = -INFINITY;
    for (int k = 0; k < n; k++) {
        double x = inside_number(inside_find(svg, "circle", "bf-rfill", k), "cx");
        least = fmin(least, x), most = fmax(most, x);
        want_least = fmin(want_least, view.dot_x_m[k]), want_most = fmax(want_most, view.dot_x_m[k]);
    }
    BF_CHECK_ABS(most - least, MM_PER_M * (want_most - want_least), 1.31);
}

static void a_nominal_drawing_has_no_dots_and_no_bands(void **state) {
    (void)state;
    start();
    view.is_nominal = 1;
    view.fall.depth_lo_m = NAN; /* none of it is read */
    view.fall.wide_hi_x_m = NAN;
    view.fall.n_pieces = -1;
    assert_int_equal(draw(), BF_OK);
    assert_int_equal(inside_count(svg, "circle", "bf-rfill"), 0);
    assert_int_equal(inside_count(svg, "circle", "bf-feed"), 0);
    assert_null(strstr(svg, "20 ways"));
    assert_null(strstr(svg, "9 in 10"));
    /* The way of the typical piece is dashed; the depth's band is not there. */
    int n_steps = view.fall.n_steps, n_ways = 0;
    double point[64][2];
    for (int k = 0; inside_find(svg, "path", "bf-dash", k); k++)
        n_ways += inside_points(inside_find(svg, "path", "bf-dash", k), point, 64) == n_steps;
    assert_int_equal(n_ways, 1);
    assert_non_null(strstr(svg, ">water to scale, float and shot not</text>"));
}

static void what_is_wide_makes_the_height_larger_and_it_is_said(void **state) {
    (void)state;
    start();
    assert_int_equal(draw(), BF_OK);
    assert_null(strstr(svg, "height drawn"));
    view.fall.piece_x_m[0] = 0.04 + 13.4 / MM_PER_M; /* 26.8 mm from left to right; 13.4 are there */
    view.fall.piece_x_m[1] = 0.04 - 13.4 / MM_PER_M;
    assert_int_equal(draw(), BF_OK);
    assert_non_null(strstr(svg, ">height drawn 2 times</text>"));
}

/* What is off across the drawing cannot be seen in it, so it is said. */
static void a_bait_that_hangs_aside_is_said_to(void **state) {
    (void)state;
    for (int k = 0; k < 3; k++) {
        start();
        view.shape.bait_m[1] = k == 0 ? 0.04 : k == 1 ? 0.2 : -0.2; /* against 5 cm outward */
        assert_int_equal(draw(), BF_OK);
        assert_int_equal(strstr(svg, ">mostly right: see from above<") != NULL, k == 1);
        assert_int_equal(strstr(svg, ">mostly left: see from above<") != NULL, k == 2);
    }
}

/* Outward is to the right: current and wind point where they go, and a wind across is a point or a cross. */
static void arrows_point_where_the_water_and_the_wind_go(void **state) {
    (void)state;
    start();
    assert_int_equal(draw(), BF_OK);
    int n_out = 0, n_in = 0;
    double point[8][2];
    for (int k = 0; inside_find(svg, "path", "bf-p2", k); k++) {
        if (inside_points(inside_find(svg, "path", "bf-p2", k), point, 8) != 5) continue;
        if (fabs(0.5 * (point[0][0] + point[1][0]) - 76.4) > 0.011) continue;
        n_out += point[1][0] > point[0][0];
        n_in += point[1][0] < point[0][0];
    }
    assert_int_equal(n_out, 2); /* 3 and 1.5 cm/s; -0.2 is too short to draw */
    assert_int_equal(n_in, 2);
    inside_points(inside_find(svg, "path", "bf-p3", 0), point, 8);
    for (int k = 0; k < 2; k++) {
        view.wind_x_m_s = k ? -4 : 4;
        assert_int_equal(draw(), BF_OK);
        int found = 0;
        for (int p = 0; inside_find(svg, "path", "bf-p3", p); p++)
            if (inside_points(inside_find(svg, "path", "bf-p3", p), point, 8) == 5)
                found = point[1][0] > point[0][0] ? 1 : -1;
        assert_int_equal(found, k ? -1 : 1);
    }
    view.wind_x_m_s = 0;
    view.wind_y_m_s = 4;
    assert_int_equal(draw(), BF_OK);
    int n_ink = inside_count(svg, "circle", "bf-ink");
    view.wind_y_m_s = -4;
    assert_int_equal(draw(), BF_OK);
    assert_int_equal(inside_count(svg, "circle", "bf-ink"), n_ink - 1);
    assert_non_null(strstr(svg, ">left</text>"));
}

static void the_finding_and_the_table_say_what_is_drawn(void **state) {
    (void)state;
    start();
    assert_int_equal(draw(), BF_OK);
    assert_string_equal(
        picture.finding,
        "Float 0.4 g, bulk of 5 No 8 at 35 cm, No 10 at 15 cm above the hook; bait 2 cm over depth, "
        "5 cm (2-9) off the tip; feed pile 16 cm wide, its middle 7 cm in from the bait.");
    const char *const want[][2] = {
        {"Float", "0.4 g, bristle showing 8 mm, give or take 2 mm"},
        {"Shot, above the hook", "bulk of 5 No 8 at 35 cm, No 10 at 15 cm"},
        {"Back shots, above the float", "bulk of 2 No 10 at 20 cm"},
        {"Hooklength", "15 cm of 0.12 mm"},
        {"Hook bait", "lies, 2 cm over depth"},
        {"Hook bait from under the tip", "5 cm (2-9)"},
        {"Hook bait down", "9 s (7-13)"},
        {"Depth and bottom", "1.62 m (1.57-1.67), silt, deepens outward by 3 degrees"},
        {"Feed, 9 in 10 outward", "16 cm"},
        {"Feed, 9 in 10 down", "12 s (10-15)"},
        {"Current, surface and deepest shown", "3 cm/s out; 0.8 cm/s in"},
        {"Wind blows", "4 m/s out"}};
    check_told_table(&picture, want, 12);
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
        int is_scale = strstr(words[k].text, "to scale") != NULL;
        int is_in_air = words[k].y1 < SURFACE_MM || words[k].x1 < 19;
        assert_int_equal(inside_has_class(at, "bf-wet"), !is_in_air && !is_scale);
        at += 6;
    }
    assert_true(n > 12);
}

/* Sizes by trade word, weighed shot in mg; the order of the drawing is from the top down. */
static void a_rig_is_drawn_with_its_own_names(void **state) {
    (void)state;
    bf_rig rig = {.tip_to_float_m = 0.5, .n_shots = 2, .n_back_shots = 1};
    rig.flt.rating_kg = 0.4e-3;
    rig.line.diameter_m = 0.14e-3;
    rig.hooklength.diameter_m = 0.12e-3;
    rig.hooklength.length_m = 0.15;
    rig.hook.size = 18;
    rig.shot[0] = (bf_shot){.size = bf_shot_size_find("No 8"), .mass_kg = NAN, .count = 5, .at_m = 0.35};
    rig.shot[1] = (bf_shot){.size = -1, .mass_kg = 40e-6, .count = 1, .at_m = 0.15};
    rig.back_shot[0] = (bf_shot){.size = bf_shot_size_find("No 10"), .mass_kg = NAN, .count = 2, .at_m = 0.2};
    bf_drawn_rig drawn =
        bf_drawn_rig_of(&rig, 1.64, "hard four, of a name that is far longer than any label is");
    assert_string_equal(drawn.float_name.text, "0.4 g");
    assert_string_equal(drawn.line.text, "0.14 mm");
    assert_string_equal(drawn.hooklength.text, "0.12 mm");
    assert_string_equal(drawn.hook.text, "18");
    assert_int_equal(strlen(drawn.hook_bait.text), BF_LABEL_BYTES);
    assert_string_equal(drawn.shot[0].name.text, "No 8");
    assert_string_equal(drawn.shot[1].name.text, "40 mg");
    assert_string_equal(drawn.back_shot[0].name.text, "No 10");
    assert_int_equal(drawn.shot[0].count, 5);
    assert_true(drawn.shot[0].at_m == 0.35 && drawn.hooklength_m == 0.15 && drawn.float_to_hook_m == 1.64);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bad_views_are_refused_and_leave_nothing),
        cmocka_unit_test(a_short_buffer_is_said_and_left_empty),
        cmocka_unit_test(every_picture_is_well_formed),
        cmocka_unit_test(no_two_words_overlap_and_no_leader_crosses_another),
        cmocka_unit_test(shot_stand_at_their_distances),
        cmocka_unit_test(a_bulk_is_drawn_apart_from_its_place_up),
        cmocka_unit_test(the_bristle_shows_as_much_as_it_does),
        cmocka_unit_test(the_hook_bait_lies_on_the_bottom_and_not_in_it),
        cmocka_unit_test(twenty_dots_stand_where_the_bait_may_lie),
        cmocka_unit_test(a_nominal_drawing_has_no_dots_and_no_bands),
        cmocka_unit_test(what_is_wide_makes_the_height_larger_and_it_is_said),
        cmocka_unit_test(a_bait_that_hangs_aside_is_said_to),
        cmocka_unit_test(arrows_point_where_the_water_and_the_wind_go),
        cmocka_unit_test(the_finding_and_the_table_say_what_is_drawn),
        cmocka_unit_test(words_in_the_water_are_slanted_and_words_in_the_air_are_not),
        cmocka_unit_test(a_rig_is_drawn_with_its_own_names),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
