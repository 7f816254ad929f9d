/* Twenty dots, and before and after: what is refused, where dots and gauges stand, what can be counted. */
#include "common/check.h"
#include "inside.h"
#include "record_scenes.h"

static char svg[BF_RECORD_SVG_BYTES];
static bf_dots_view dots;
static bf_change_view change;
static bf_picture picture;

static bf_status draw_dots(void) {
    return bf_picture_dots(&dots, svg, sizeof svg, &picture);
}

static bf_status draw_change(void) {
    return bf_picture_change(&change, svg, sizeof svg, &picture);
}

static void bad_dots_are_refused_and_leave_nothing(void **state) {
    (void)state;
    for (int k = 0; k < 9; k++) {
        bf_status want = BF_E_RANGE;
        scene_dots_everyday(&dots, 0, 80);
        switch (k) {
        case 0: dots.value[3] = NAN, want = BF_E_NOT_FINITE; break;
        case 1: dots.value[3] = dots.value[2] - 0.01; break;
        case 2: dots.value[19] = 2e9; break;
        case 3: dots.scale = 3; break;
        case 4: dots.scale = BF_SCALE_LOG, dots.value[0] = 0; break;
        case 5: dots.scale = BF_SCALE_COUNT, dots.value[0] = -1; break;
        case 6: dots.axis_lo = 0, want = BF_E_NOT_FINITE; break;
        case 7: dots.axis_lo = 0, dots.axis_hi = dots.value[19] - 0.1; break;
        case 8: dots.n_seen = -2; break;
        }
        assert_int_equal(draw_dots(), want);
        assert_int_equal(svg[0], 0);
        assert_int_equal(picture.n_svg + (size_t)picture.n_rows, 0);
    }
}

static void under_five_seen_no_dot_stands_and_it_is_too_early_to_say(void **state) {
    (void)state;
    for (int n_seen = 0; n_seen < 6; n_seen++) {
        scene_dots_everyday(&dots, 0, 80);
        dots.n_seen = n_seen;
        for (int k = 0; k < BF_N_DOTS && n_seen < 5; k++) dots.value[k] = NAN; /* not read */
        assert_int_equal(draw_dots(), BF_OK);
        assert_int_equal(inside_count(svg, "circle", "bf-rdot"), n_seen < 5 ? 0 : 20);
        assert_int_equal(strstr(svg, ">too early to say</text>") != NULL, n_seen < 5);
        if (n_seen < 5) assert_string_equal(picture.finding, "fish an hour: too early to say.");
    }
}

static void there_are_twenty_dots_and_the_tenth_is_ringed(void **state) {
    (void)state;
    for (int is_book = 0; is_book < 2; is_book++) {
        scene_dots_everyday(&dots, 0, 80);
        dots.is_book = is_book;
        assert_int_equal(draw_dots(), BF_OK);
        assert_int_equal(inside_count(svg, "circle", "bf-rdot"), is_book ? 0 : 20);
        assert_int_equal(inside_count(svg, "circle", "bf-ropen"), is_book ? 20 : 0);
        assert_int_equal(inside_count(svg, "circle", "bf-rring"), 1);
        const char *ring = inside_find(svg, "circle", "bf-rring", 0),
                   *tenth = inside_find(svg, "circle", is_book ? "bf-ropen" : "bf-rdot", 9);
        BF_CHECK_ABS(inside_number(ring, "cx"), inside_number(tenth, "cx"), 0);
        BF_CHECK_ABS(inside_number(ring, "cy"), inside_number(tenth, "cy"), 0);
    }
}

/* Where a value stands on an axis from 6 to 74 mm, by the C library's own logarithm. */
static double want_x(double value) {
    double lo = dots.axis_lo, hi = dots.axis_hi;
    if (dots.scale == BF_SCALE_LINEAR) return 6 + 68 * (value - lo) / (hi - lo);
    if (dots.scale == BF_SCALE_LOG) return 6 + 68 * log(value / lo) / log(hi / lo);
    return 6 + 68 * (log1p(value) - log1p(lo)) / (log1p(hi) - log1p(lo));
}

static void a_dot_stands_within_half_a_column_of_its_value_and_on_no_other(void **state) {
    (void)state;
    for (int scale = 0; scale < 3; scale++)
        for (int n = 0; n < 40; n++) {
            scene_dots_everyday(&dots, 0, 80);
            dots.scale = scale;
            dots.axis_lo = 0.5;
            dots.axis_hi = 40;
            for (int k = 0; k < BF_N_DOTS; k++)
                dots.value[k] = scene_uniform(n, k, 1, 1 + scene_scale(n, 90, 0.1, 35));
            qsort(dots.value, BF_N_DOTS, sizeof dots.value[0], scene_by_time);
            assert_int_equal(draw_dots(), BF_OK);
            double x[BF_N_DOTS], y[BF_N_DOTS], radius = 0;
            for (int k = 0; k < BF_N_DOTS; k++) {
                const char *dot = inside_find(svg, "circle", "bf-rdot", k);
                x[k] = inside_number(dot, "cx");
                y[k] = inside_number(dot, "cy");
                radius = inside_number(dot, "r");
                BF_CHECK_ABS(x[k], want_x(dots.value[k]), 1.8 + 0.02);
                for (int j = 0; j < k; j++)
                    assert_true(sqrt((x[k] - x[j]) * (x[k] - x[j]) + (y[k] - y[j]) * (y[k] - y[j])) >
                                2 * radius);
            }
        }
}

static void dots_on_either_side_of_the_zero_line_can_be_counted(void **state) {
    (void)state;
    for (int n = 0; n < 60; n++) {
        scene_dots_everyday(&dots, 1, 80);
        dots.scale = n % 2 ? BF_SCALE_LOG : BF_SCALE_LINEAR;
        double zero = n % 2, shift = scene_uniform(n, 1, -2, 2);
        int n_above = 0;
        for (int k = 0; k < BF_N_DOTS; k++) {
            double z = shift + bf_normal(85, (uint64_t)n, (uint64_t)k);
            dots.value[k] = n % 2 ? exp(z) : z;
        }
        qsort(dots.value, BF_N_DOTS, sizeof dots.value[0], scene_by_time);
        for (int k = 0; k < BF_N_DOTS; k++) n_above += dots.value[k] > zero;
        assert_int_equal(draw_dots(), BF_OK);
        double line = NAN;
        assert_int_equal(sscanf(strstr(inside_find(svg, "path", "bf-p2", 0), " d=\"M") + 5, "%lf", &line), 1);
        int n_right = 0;
        for (int k = 0; k < BF_N_DOTS; k++)
            n_right += inside_number(inside_find(svg, "circle", "bf-rdot", k), "cx") > line;
        assert_int_equal(n_right, n_above);
        char want[32];
        snprintf(want, sizeof want, "%d in 20", n_above);
        assert_string_equal(picture.cell[3][1], want);
    }
}

/* Twenty equal values: one column, kept within its height by smaller dots. */
static void a_certain_value_is_one_column(void **state) {
    (void)state;
    scene_dots_everyday(&dots, 0, 80);
    for (int k = 0; k < BF_N_DOTS; k++) dots.value[k] = 5;
    assert_int_equal(draw_dots(), BF_OK);
    for (int k = 1; k < BF_N_DOTS; k++)
        BF_CHECK_ABS(inside_number(inside_find(svg, "circle", "bf-rdot", k), "cx"),
                     inside_number(inside_find(svg, "circle", "bf-rdot", 0), "cx"), 0);
    double width, height;
    inside_size(svg, &width, &height);
    assert_true(height < 50);
}

static void dots_say_their_middle_and_range(void **state) {
    (void)state;
    scene_dots_everyday(&dots, 1, 80);
    for (int k = 0; k < BF_N_DOTS; k++) dots.value[k] = k - 4;
    assert_int_equal(draw_dots(), BF_OK);
    assert_string_equal(picture.finding, "fish an hour more after the change: about 5.5 (\xE2\x88\x92"
                                         "2.5 to 14, 8 times in 10); 15 of 20 dots lie above 0.");
    scene_dots_count(&dots);
    assert_int_equal(draw_dots(), BF_OK);
    assert_string_equal(picture.finding,
                        "fish within reach of the bait: about 5.3 (1.6-15, 8 times in 10); from the "
                        "book, nothing logged yet.");
    for (int k = 0; k < 7; k++) {
        static const char *const numbers[] = {">0<", ">1<", ">2<", ">5<", ">10<", ">20<", ">50<"};
        assert_non_null(strstr(svg, numbers[k]));
    }
}

static void bad_changes_are_refused_and_leave_nothing(void **state) {
    (void)state;
    for (int k = 0; k < 6; k++) {
        bf_status want = BF_E_RANGE;
        scene_change_everyday(&change, 80);
        switch (k) {
        case 0: change.side[1].decile[4] = NAN, want = BF_E_NOT_FINITE; break;
        case 1: change.side[1].decile[4] = 0; break;
        case 2: change.side[0].n_seen = -1; break;
        case 3: change.better_frac = 1.1; break;
        case 4: change.better_frac = -INFINITY, want = BF_E_NOT_FINITE; break;
        case 5: change.width_mm = 0; break;
        }
        assert_int_equal(draw_change(), want);
        assert_int_equal(svg[0], 0);
        assert_int_equal(picture.n_svg + (size_t)picture.n_rows, 0);
    }
}

/* Three places on one straight scale: the middles' distance is to the ranges as the numbers say. */
static void gauges_stand_on_one_scale_and_a_dashed_line_joins_their_middles(void **state) {
    (void)state;
    scene_change_everyday(&change, 80);
    assert_int_equal(draw_change(), BF_OK);
    assert_int_equal(inside_count(svg, "rect", "bf-band"), 8);
    assert_int_equal(inside_count(svg, "path", "bf-r4"), 2);
    double middle[2], end[2][2], join[4][2], point[4][2];
    for (int k = 0; k < 2; k++) {
        inside_points(inside_find(svg, "path", "bf-r4", k), point, 4);
        middle[k] = point[0][0];
        for (int side = 0; side < 2; side++) {
            inside_points(inside_find(svg, "path", "bf-r2", 2 * k + side), point, 4);
            end[k][side] = point[0][0];
        }
    }
    double mm_per_unit = (middle[1] - middle[0]) / (6.9 - 5.2);
    for (int k = 0; k < 2; k++) {
        double mid = k ? 6.9 : 5.2;
        BF_CHECK_ABS(middle[k] - end[k][0], mm_per_unit * mid * (1 - 0.66), 0.02);
        BF_CHECK_ABS(end[k][1] - middle[k], mm_per_unit * mid * (1.43 - 1), 0.02);
    }
    const char *line = inside_find(svg, "path", "bf-r3", 0);
    assert_true(inside_has_class(line, "bf-dash"));
    inside_points(line, join, 4);
    BF_CHECK_ABS(join[0][0], middle[0], 0);
    BF_CHECK_ABS(join[1][0], middle[1], 0);
    assert_string_equal(
        picture.finding,
        "fish an hour: before 5.2 (3.4-7.4), after 6.9 (4.6-9.9); 8.3 in 10 that it is higher after.");
}

static void under_five_on_a_side_that_side_says_too_early(void **state) {
    (void)state;
    for (int k = 0; k < 2; k++) {
        scene_change_everyday(&change, 80);
        change.side[k].n_seen = 4;
        assert_int_equal(draw_change(), BF_OK);
        assert_int_equal(inside_count(svg, "rect", "bf-band"), 4);
        assert_null(inside_find(svg, "path", "bf-r3", 0));
        assert_non_null(strstr(svg, ">too early to say</text>"));
        assert_null(strstr(picture.finding, "in 10 that it is higher"));
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bad_dots_are_refused_and_leave_nothing),
        cmocka_unit_test(under_five_seen_no_dot_stands_and_it_is_too_early_to_say),
        cmocka_unit_test(there_are_twenty_dots_and_the_tenth_is_ringed),
        cmocka_unit_test(a_dot_stands_within_half_a_column_of_its_value_and_on_no_other),
        cmocka_unit_test(dots_on_either_side_of_the_zero_line_can_be_counted),
        cmocka_unit_test(a_certain_value_is_one_column),
        cmocka_unit_test(dots_say_their_middle_and_range),
        cmocka_unit_test(bad_changes_are_refused_and_leave_nothing),
        cmocka_unit_test(gauges_stand_on_one_scale_and_a_dashed_line_joins_their_middles),
        cmocka_unit_test(under_five_on_a_side_that_side_says_too_early),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
