/* The wait curve: what is refused, where its corners, ticks and median stand, when it says nothing. */
#include "common/check.h"
#include "inside.h"
#include "record_scenes.h"
#include "told_table.h"

static char svg[BF_RECORD_SVG_BYTES];
static scene_waits waits;
static bf_waits_view *view = &waits.view;
static bf_picture picture;

static bf_status draw(void) {
    return bf_picture_waits(view, svg, sizeof svg, &picture);
}

/* Six waits of 1 to 6 minutes, the third and the fifth lifted early: by hand, S is 5/6, 2/3, 2/3, 4/9, 4/9, 0.
 * On a sheet 80 mm wide ten minutes run from 9 to 78 mm. */
static const double hand[] = {5.0 / 6, 2.0 / 3, 2.0 / 3, 4.0 / 9, 4.0 / 9, 0};
static void start(void) {
    memset(&waits, 0, sizeof waits);
    view->width_mm = 80;
    view->longest_s = 600;
    view->n_panels = 1;
    bf_waits_panel *panel = &view->panel[0];
    panel->n_waits = 7;
    panel->n_bites = 5;
    panel->n_steps = 6;
    panel->step = waits.step[0];
    for (int k = 0; k < 6; k++)
        waits.step[0][k] = (bf_wait_step){.time_s = 60 * (k + 1),
                                          .survival = hand[k],
                                          .lower = k == 5 ? NAN : 0.8 * hand[k],
                                          .upper = k == 5 ? NAN : 0.5 * (1 + hand[k]),
                                          .n_event = k != 2 && k != 4,
                                          .n_censor = k == 2 || k == 4};
    panel->median = (bf_banded){240, 120, INFINITY};
}

static double x_of(double time_s) {
    return 9 + 69 * time_s / 600;
}

static void bad_views_are_refused_and_leave_nothing(void **state) {
    (void)state;
    for (int k = 0; k < 19; k++) {
        bf_status want = BF_E_RANGE;
        start();
        bf_waits_panel *panel = &view->panel[0];
        bf_wait_step *step = waits.step[0];
        switch (k) {
        case 0: view->n_panels = 0, want = BF_E_COUNT; break;
        case 1: view->n_panels = BF_WAITS_MOST_PANELS + 1, want = BF_E_COUNT; break;
        case 2: view->longest_s = 0; break;
        case 3: view->longest_s = INFINITY, want = BF_E_NOT_FINITE; break;
        case 4: panel->n_waits = 4; break;
        case 5: panel->n_bites = -1; break;
        case 6: panel->n_steps = 0, want = BF_E_COUNT; break;
        case 7: panel->n_steps = BF_WAITS_MOST_STEPS + 1, want = BF_E_COUNT; break;
        case 8: step[2].time_s = step[1].time_s; break;
        case 9: step[0].time_s = 0; break;
        case 10: step[2].survival = NAN, want = BF_E_NOT_FINITE; break;
        case 11: step[2].survival = step[1].survival + 0.01; break;
        case 12: step[5].survival = -0.01; break;
        case 13: step[2].lower = step[2].survival + 0.01; break;
        case 14: step[2].upper = INFINITY, want = BF_E_NOT_FINITE; break;
        case 15: panel->median.lower = 241; break;
        case 16: view->width_mm = 281; break;
        case 17: panel->median.upper = 1e7; break;
        case 18: step[5].time_s = 1e7; break;
        }
        assert_int_equal(draw(), want);
        assert_int_equal(svg[0], 0);
        assert_int_equal(picture.n_svg + (size_t)picture.n_rows, 0);
    }
}

static void the_curve_falls_at_each_time_to_its_share(void **state) {
    (void)state;
    start();
    assert_int_equal(draw(), BF_OK);
    double point[32][2];
    assert_int_equal(inside_count(svg, "path", "bf-p3"), 1);
    assert_int_equal(inside_points(inside_find(svg, "path", "bf-p3", 0), point, 32), 13);
    double top = point[0][1], base = point[12][1], share = 1;
    for (int k = 0; k < 6; k++) {
        BF_CHECK_ABS(point[1 + 2 * k][0], x_of(60 * (k + 1)), 0.0051);
        BF_CHECK_ABS(point[2 + 2 * k][0], x_of(60 * (k + 1)), 0.0051);
        BF_CHECK_ABS((base - point[1 + 2 * k][1]) / (base - top), share, 0.0003);
        share = hand[k];
        BF_CHECK_ABS((base - point[2 + 2 * k][1]) / (base - top), share, 0.0003);
    }
}

static void the_band_lies_around_the_curve_with_a_dashed_edge(void **state) {
    (void)state;
    start();
    assert_int_equal(draw(), BF_OK);
    assert_int_equal(inside_count(svg, "path", "bf-band"), 1);
    double curve[32][2];
    inside_points(inside_find(svg, "path", "bf-p3", 0), curve, 32);
    double top = curve[0][1], base = curve[12][1];
    /* Two dashed stairs, the upper first. After nothing is left there is no band: it ends with the curve. */
    for (int edge = 0; edge < 2; edge++) {
        const char *path = inside_find(svg, "path", "bf-r1", edge);
        assert_true(inside_has_class(path, "bf-dash"));
        double point[32][2];
        assert_int_equal(inside_points(path, point, 32), 13);
        for (int k = 0; k < 5; k++)
            BF_CHECK_ABS((base - point[2 + 2 * k][1]) / (base - top),
                         edge ? 0.8 * hand[k] : 0.5 * (1 + hand[k]), 0.0003);
        BF_CHECK_ABS(point[12][1], base, 0);
    }
}

static void each_rig_lifted_early_is_a_tick_on_the_curve(void **state) {
    (void)state;
    start();
    assert_int_equal(draw(), BF_OK);
    double curve[32][2];
    inside_points(inside_find(svg, "path", "bf-p3", 0), curve, 32);
    static const double at_s[] = {180, 300};
    for (int k = 0; k < 2; k++) {
        char want[64];
        double y = curve[0][1] + (1 - hand[k ? 4 : 2]) * (curve[12][1] - curve[0][1]);
        int n = snprintf(want, sizeof want, "M%g ", floor(x_of(at_s[k]) * 100 + 0.5) / 100);
        const char *tick = strstr(svg, want);
        assert_non_null(tick);
        double from, to;
        assert_int_equal(sscanf(tick + n, "%lfL%*f %lf", &from, &to), 2);
        BF_CHECK_ABS(from, y - 1.4, 0.0051);
        BF_CHECK_ABS(to, y + 1.4, 0.0051);
    }
}

static void the_median_is_ringed_at_half_and_said(void **state) {
    (void)state;
    start();
    assert_int_equal(draw(), BF_OK);
    const char *ring = inside_find(svg, "circle", "bf-ropen", 0);
    BF_CHECK_ABS(inside_number(ring, "cx"), x_of(240), 0.0051);
    double curve[32][2];
    inside_points(inside_find(svg, "path", "bf-p3", 0), curve, 32);
    BF_CHECK_ABS(inside_number(ring, "cy"), 0.5 * (curve[0][1] + curve[12][1]), 0.0051);
    assert_non_null(strstr(svg, ">half by 4 min</text>"));
    assert_string_equal(picture.finding, "Half of 7 waits had a bite by 4 min (2 min and up).");
    view->panel[0].median.upper = 376;
    assert_int_equal(draw(), BF_OK);
    assert_string_equal(picture.finding, "Half of 7 waits had a bite by 4 min (2 min-6 min 20 s).");
    view->panel[0].median.value = INFINITY;
    view->panel[0].median.upper = INFINITY;
    assert_int_equal(draw(), BF_OK);
    assert_null(inside_find(svg, "circle", "bf-ropen", 0));
    assert_non_null(strstr(svg, ">half not reached</text>"));
    assert_string_equal(picture.finding, "Of 7 waits fewer than half had a bite.");
}

static void under_five_bites_the_panel_only_says_too_early(void **state) {
    (void)state;
    for (int n = 0; n < 6; n++) {
        start();
        view->panel[0].n_bites = n;
        assert_int_equal(draw(), BF_OK);
        int is_early = n < BF_FEW;
        assert_int_equal(strstr(svg, "too early to say</text>") != NULL, is_early);
        assert_int_equal(strstr(picture.finding, "too early to say") != NULL, is_early);
        assert_int_equal(inside_count(svg, "path", "bf-p3"), !is_early);
        assert_int_equal(inside_count(svg, "path", "bf-band"), !is_early);
        assert_non_null(strstr(svg, ">7 waits</text>"));
    }
}

/* Nothing is known after the last wait: the curve ends there, and at the axis when it goes on. */
static void the_curve_ends_with_the_record_or_the_axis(void **state) {
    (void)state;
    start();
    double point[32][2];
    assert_int_equal(draw(), BF_OK);
    int n = inside_points(inside_find(svg, "path", "bf-p3", 0), point, 32);
    BF_CHECK_ABS(point[n - 1][0], x_of(360), 0.0051);
    view->longest_s = 210;
    assert_int_equal(draw(), BF_OK);
    n = inside_points(inside_find(svg, "path", "bf-p3", 0), point, 32);
    BF_CHECK_ABS(point[n - 1][0], 78, 0);
    BF_CHECK_ABS(point[n - 1][1], point[n - 2][1], 0);
}

/* The same curve twice: on shared axes it is the same line in both panels. */
static void panels_share_their_axes(void **state) {
    (void)state;
    start();
    view->longest_s = NAN;
    view->n_panels = 2;
    view->panel[1] = view->panel[0];
    assert_int_equal(draw(), BF_OK);
    double one[32][2], two[32][2];
    assert_int_equal(inside_points(inside_find(svg, "path", "bf-p3", 0), one, 32), 13);
    assert_int_equal(inside_points(inside_find(svg, "path", "bf-p3", 1), two, 32), 13);
    for (int k = 0; k < 13; k++) BF_CHECK_ABS(one[k][0], two[k][0], 0);
    BF_CHECK_ABS(one[12][0], 78, 0); /* the longest wait of all is the axis' end */
}

static void the_table_has_the_numbers(void **state) {
    (void)state;
    start();
    assert_int_equal(draw(), BF_OK);
    const char *const want[][2] = {{"All waits", "7 waits, 5 bites"},
                                   {"Half by", "4 min (2 min and up)"},
                                   {"Still waiting after 1 min", "8.3 in 10"},
                                   {"Still waiting after 2 min", "6.7 in 10"},
                                   {"Still waiting after 5 min", "4.4 in 10"}};
    check_told_table(&picture, want, 5);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bad_views_are_refused_and_leave_nothing),
        cmocka_unit_test(the_curve_falls_at_each_time_to_its_share),
        cmocka_unit_test(the_band_lies_around_the_curve_with_a_dashed_edge),
        cmocka_unit_test(each_rig_lifted_early_is_a_tick_on_the_curve),
        cmocka_unit_test(the_median_is_ringed_at_half_and_said),
        cmocka_unit_test(under_five_bites_the_panel_only_says_too_early),
        cmocka_unit_test(the_curve_ends_with_the_record_or_the_axis),
        cmocka_unit_test(panels_share_their_axes),
        cmocka_unit_test(the_table_has_the_numbers),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
