/* Fish so far: what is refused, the step, the mean, the marks of feed, the strips of the rate. */
#include "common/check.h"
#include "inside.h"
#include "record_scenes.h"
#include "told_table.h"

static char svg[BF_RECORD_SVG_BYTES];
static scene_catch scene;
static bf_catch_view *view = &scene.view;
static bf_picture picture;

static bf_status draw(void) {
    return bf_picture_catch(view, svg, sizeof svg, &picture);
}

/* Eight fish in four hours, on a sheet 80 mm wide: the clock runs from 9 to 75.5 mm. */
static const double fish_min[] = {10, 20, 30, 40, 100, 150, 200, 230};
static void start(void) {
    memset(&scene, 0, sizeof scene);
    scene_catch_point(&scene);
    view->width_mm = 80;
    view->from_ms = SCENE_START_MS;
    view->to_ms = SCENE_START_MS + 240 * SCENE_MIN_MS;
    view->n_fish = 8;
    for (int k = 0; k < 8; k++) scene.fish_ms[k] = SCENE_START_MS + fish_min[k] * SCENE_MIN_MS;
    view->n_feeds = 2;
    scene.feed_ms[0] = SCENE_START_MS;
    scene.feed_ms[1] = SCENE_START_MS + 120 * SCENE_MIN_MS;
    view->n_rates = 5;
    for (int k = 0; k < 5; k++) {
        scene.rate_ms[k] = SCENE_START_MS + 60 * k * SCENE_MIN_MS;
        for (int j = 0; j < BF_N_DECILES; j++)
            scene.rate_per_h[k * BF_N_DECILES + j] = (k + 1) * (j + 1) * 0.1;
    }
}

static double x_of(double minutes) {
    return 9 + 66.5 * minutes / 240;
}

static void bad_views_are_refused_and_leave_nothing(void **state) {
    (void)state;
    for (int k = 0; k < 12; k++) {
        bf_status want = BF_E_RANGE;
        start();
        switch (k) {
        case 0: view->n_fish = BF_CATCH_MOST + 1, want = BF_E_COUNT; break;
        case 1: view->n_rates = 1, want = BF_E_COUNT; break;
        case 2: view->n_rates = BF_CATCH_MOST_RATES + 1, want = BF_E_COUNT; break;
        case 3: scene.fish_ms[2] = NAN, want = BF_E_NOT_FINITE; break;
        case 4: scene.fish_ms[2] = scene.fish_ms[1] - 1; break;
        case 5: scene.fish_ms[7] = view->to_ms + 1; break;
        case 6: scene.feed_ms[0] = view->from_ms - 1; break;
        case 7: scene.rate_ms[2] = scene.rate_ms[1]; break;
        case 8: scene.rate_per_h[3] = scene.rate_per_h[2] - 0.01; break;
        case 9: scene.rate_per_h[3] = INFINITY, want = BF_E_NOT_FINITE; break;
        case 10: scene.rate_per_h[0] = -0.1; break;
        case 11: view->to_ms = NAN, want = BF_E_NOT_FINITE; break;
        }
        assert_int_equal(draw(), want);
        assert_int_equal(svg[0], 0);
        assert_int_equal(picture.n_svg + (size_t)picture.n_rows, 0);
    }
}

static void each_fish_is_a_step_up(void **state) {
    (void)state;
    start();
    assert_int_equal(draw(), BF_OK);
    double point[32][2];
    assert_int_equal(inside_points(inside_find(svg, "path", "bf-p3", 0), point, 32), 18);
    double rise = (point[0][1] - point[17][1]) / 8;
    for (int k = 0; k < 8; k++) {
        BF_CHECK_ABS(point[1 + 2 * k][0], x_of(fish_min[k]), 0.0051);
        BF_CHECK_ABS(point[0][1] - point[1 + 2 * k][1], k * rise, 0.0101);
        BF_CHECK_ABS(point[0][1] - point[2 + 2 * k][1], (k + 1) * rise, 0.0101);
    }
    BF_CHECK_ABS(point[17][0], x_of(240), 0.0051);
}

static void the_mean_runs_from_nothing_to_all_the_fish(void **state) {
    (void)state;
    start();
    assert_int_equal(draw(), BF_OK);
    double step[32][2], mean[4][2];
    inside_points(inside_find(svg, "path", "bf-p3", 0), step, 32);
    /* The first dashed line is the sample beside its words. */
    assert_int_equal(inside_points(inside_find(svg, "path", "bf-r2", 1), mean, 4), 2);
    for (int k = 0; k < 2; k++) {
        BF_CHECK_ABS(mean[0][k], step[0][k], 0);
        BF_CHECK_ABS(mean[1][k], step[17][k], 0);
    }
    assert_true(inside_has_class(inside_find(svg, "path", "bf-r2", 1), "bf-dash"));
    assert_non_null(strstr(svg, ">mean 2 an hour</text>"));
}

static void feed_is_marked_at_its_time(void **state) {
    (void)state;
    start();
    assert_int_equal(draw(), BF_OK);
    assert_int_equal(inside_count(svg, "circle", "bf-feed"), 2);
    BF_CHECK_ABS(inside_number(inside_find(svg, "circle", "bf-feed", 0), "cx"), x_of(0), 0.0051);
    BF_CHECK_ABS(inside_number(inside_find(svg, "circle", "bf-feed", 1), "cx"), x_of(120), 0.0051);
}

/* Four strips in each other around the fifth decile; the widest from the first to the ninth. */
static void the_rate_is_four_strips_and_a_dashed_middle(void **state) {
    (void)state;
    start();
    assert_int_equal(draw(), BF_OK);
    assert_int_equal(inside_count(svg, "path", "bf-band"), 4);
    double middle[8][2], strip[16][2];
    const char *path = inside_find(svg, "path", "bf-r3", 0);
    assert_true(inside_has_class(path, "bf-dash"));
    assert_int_equal(inside_points(path, middle, 8), 5);
    /* Rate k is 0.5 (k + 1) in the middle: equal steps, whose size is the scale. */
    double mm_per_unit = (middle[0][1] - middle[4][1]) / 2.0;
    for (int k = 0; k < 5; k++) {
        BF_CHECK_ABS(middle[k][0], x_of(60 * k), 0.0051);
        BF_CHECK_ABS(middle[0][1] - middle[k][1], mm_per_unit * 0.5 * k, 0.0101);
    }
    for (int s = 0; s < 4; s++) {
        assert_int_equal(inside_points(inside_find(svg, "path", "bf-band", s), strip, 16), 10);
        for (int k = 0; k < 5; k++) {
            double half = mm_per_unit * (k + 1) * (4 - s) * 0.1;
            BF_CHECK_ABS(strip[k][1] - middle[k][1], half, 0.0151);
            BF_CHECK_ABS(middle[k][1] - strip[9 - k][1], half, 0.0151);
        }
    }
}

static void without_rates_there_is_no_lower_panel(void **state) {
    (void)state;
    start();
    view->n_rates = 0;
    assert_int_equal(draw(), BF_OK);
    assert_int_equal(inside_count(svg, "path", "bf-band"), 0);
    assert_null(strstr(svg, "8-in-10"));
    assert_string_equal(picture.finding, "8 fish in 4 h, 2 an hour.");
}

static void the_finding_and_the_table_say_what_is_drawn(void **state) {
    (void)state;
    start();
    assert_int_equal(draw(), BF_OK);
    assert_string_equal(picture.finding, "8 fish in 4 h, 2 an hour; at the end about 2.5 an hour (0.5-4.5).");
    const char *const want[][2] = {{"Fish", "8"},
                                   {"Over", "4 h"},
                                   {"Mean", "2 an hour"},
                                   {"Put-ins", "2"},
                                   {"Most in half an hour", "3, from 9:10"},
                                   {"9:00 to 10:00", "4"},
                                   {"10:00 to 11:00", "1"},
                                   {"11:00 to 12:00", "1"},
                                   {"12:00 to 13:00", "2"},
                                   {"At the end, 8 times in 10", "2.5 an hour (0.5-4.5)"}};
    check_told_table(&picture, want, 10);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bad_views_are_refused_and_leave_nothing),
        cmocka_unit_test(each_fish_is_a_step_up),
        cmocka_unit_test(the_mean_runs_from_nothing_to_all_the_fish),
        cmocka_unit_test(feed_is_marked_at_its_time),
        cmocka_unit_test(the_rate_is_four_strips_and_a_dashed_middle),
        cmocka_unit_test(without_rates_there_is_no_lower_panel),
        cmocka_unit_test(the_finding_and_the_table_say_what_is_drawn),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
