/* The bed account drawn: what is refused, where strips, dots, put-ins and the footprint stand, what is said. */
#include "apart.h"
#include "bed_scenes.h"
#include "ruled.h"
#include "told_table.h"

static char svg[BF_BED_SVG_BYTES], other[BF_BED_SVG_BYTES];
static scene_bed scene;
static bf_bed_view *view = &scene.view;
static bf_bed *bed = &scene.bed;
static bf_picture picture;

#define N_SCENES 300
#define MOST_WORDS 512

static bf_status draw(int kind) {
    return bed_kinds[kind].draw(view, svg, sizeof svg, &picture);
}
enum { LEFT, FISH, ABOVE };

/* ---- all three ---- */

static void bad_views_are_refused_and_leave_nothing(void **state) {
    (void)state;
    for (int kind = 0; kind < N_BED_KINDS; kind++)
        for (int k = 0; k < 19; k++) {
            bf_status want = BF_E_RANGE;
            scene_bed_everyday(&scene);
            switch (k) {
            case 0: view->n_feeds = BF_BED_MOST_FEEDS + 1, want = BF_E_COUNT; break;
            case 1: bed->n_points = BF_BELIEF_MOST_MARKS + 1, want = BF_E_COUNT; break;
            case 2: view->look = 4; break;
            case 3: view->width_mm = 79; break;
            case 4: view->start_ms = NAN, want = BF_E_NOT_FINITE; break;
            case 5: view->span_s = 599; break;
            case 6: view->miss_m = -0.01; break;
            case 7: view->miss_m = INFINITY, want = BF_E_NOT_FINITE; break;
            case 8: view->east_min = 1441; break;
            case 9: scene.feed[3].at_ms = view->start_ms + 1000 * bed->t_s + 1; break;
            case 10: scene.feed[1].at_ms = scene.feed[0].at_ms - 1; break;
            case 11: scene.feed[1].count = -1; break;
            case 12: bed->left.lo = bed->left.mid + 1; break;
            case 13: bed->left.mid = NAN, want = BF_E_NOT_FINITE; break;
            case 14: bed->point[3].t_s = bed->point[2].t_s - 1; break;
            case 15: bed->point[3].left.hi = INFINITY, want = BF_E_NOT_FINITE; break;
            case 16: bed->left_dot[4] = bed->left_dot[3] - 1; break;
            case 17: bed->fish_dot[0] = -1; break;
            case 18: bed->p_many[1] = 1.1; break;
            }
            assert_int_equal(draw(kind), want);
            assert_int_equal(svg[0], 0);
            assert_int_equal(picture.n_svg + (size_t)picture.n_rows, 0);
        }
}

static void every_drawing_is_well_formed_and_its_words_lie_apart(void **state) {
    (void)state;
    static inside_word words[MOST_WORDS];
    int n_words = 0;
    for (int kind = 0; kind < N_BED_KINDS; kind++)
        for (int n = 0; n < N_SCENES; n++) {
            scene_bed_random(n, &scene);
            bf_status status = draw(kind);
            if (status) fail_msg("%s %d: status %d", bed_kinds[kind].name, n, status);
            const char *fault = inside_xml_fault(svg);
            if (fault) fail_msg("%s %d: %s", bed_kinds[kind].name, n, fault);
            assert_null(strstr(svg, "nan"));
            assert_null(strstr(svg, "inf"));
            check_classes_ruled(svg, bed_kinds[kind].name);
            assert_int_equal(strlen(svg), picture.n_svg);
            assert_true(strlen(picture.finding) > 20 && picture.n_rows >= 2);
            for (int row = 0; row < picture.n_rows; row++)
                assert_true(picture.cell[row][0][0] && picture.cell[row][1][0]);
            double width, height;
            inside_size(svg, &width, &height);
            int n_here = inside_words(svg, words, MOST_WORDS);
            n_words += n_here;
            check_words_apart(words, n_here, 0, width, height, n);
        }
    assert_true(n_words > N_BED_KINDS * N_SCENES * 5);
}

static void a_short_buffer_is_said_and_left_empty(void **state) {
    (void)state;
    for (int kind = 0; kind < N_BED_KINDS; kind++) {
        scene_bed_everyday(&scene);
        assert_int_equal(draw(kind), BF_OK);
        size_t whole = picture.n_svg;
        for (size_t most = 1; most <= whole; most += most < 300 ? 23 : 499) {
            char *tight = malloc(most);
            assert_int_equal(bed_kinds[kind].draw(view, tight, most, &picture), BF_E_SPACE);
            assert_int_equal(tight[0], 0);
            assert_int_equal(picture.n_svg + (size_t)picture.n_rows + (size_t)picture.finding[0], 0);
            free(tight);
        }
        assert_int_equal(bed_kinds[kind].draw(view, other, whole + 1, &picture), BF_OK);
        assert_string_equal(other, svg);
    }
}

static void the_fullest_drawing_fits_the_bytes_that_are_said(void **state) {
    (void)state;
    scene_bed_everyday(&scene);
    view->width_mm = 280;
    view->n_feeds = BF_BED_MOST_FEEDS;
    double now_ms = view->start_ms + 1000 * bed->t_s;
    for (int k = 0; k < BF_BED_MOST_FEEDS; k++)
        scene.feed[k] = (bf_bed_feed){now_ms - 2.7 * 1000 * (BF_BED_MOST_FEEDS - k), 123456};
    bed->n_points = BF_BELIEF_MOST_MARKS;
    for (int k = 0; k < BF_BELIEF_MOST_MARKS; k++)
        bed->point[k] = (bf_bed_point){.t_s = bed->t_s - 60 * (BF_BELIEF_MOST_MARKS - k),
                                       .left = scene_range(12345.67, 23456.78, 34567.89)};
    assert_int_equal(draw(LEFT), BF_OK);
    assert_in_range(picture.n_svg, BF_BED_SVG_BYTES / 4, BF_BED_SVG_BYTES - 1);
}

/* In the title, in the drawing, and nothing of the belief in ink: every strip, dot and line of it has the reckon classes. */
static void every_drawing_says_reckoned_not_seen(void **state) {
    (void)state;
    scene_bed_everyday(&scene);
    for (int kind = 0; kind < N_BED_KINDS; kind++) {
        assert_int_equal(draw(kind), BF_OK);
        char title[64];
        snprintf(title, sizeof title, "<title id=\"bf-%s-title\">", bed_kinds[kind].name);
        const char *at = strstr(svg, title), *end = strstr(svg, "</title>");
        assert_non_null(at);
        const char *said = strstr(at, "Reckoned, not seen");
        assert_true(said && said < end);
        assert_non_null(strstr(strstr(svg, "</desc>"), "eckoned"));
        assert_non_null(strstr(picture.finding, "reckoning"));
    }
}

/* ---- feed left ---- */

static double clock_x(double minute, double x0) {
    return x0 + (58 - x0) * (minute - 72) / 90;
}

/* An hour and a half ends at the line "now", 22 mm from the right. */
static void put_ins_are_ink_at_their_time_with_their_amount(void **state) {
    (void)state;
    scene_bed_everyday(&scene);
    assert_int_equal(draw(LEFT), BF_OK);
    assert_int_equal(inside_count(svg, "path", "bf-stalk"), 4);
    static const double put_min[] = {78, 104, 131, 156};
    static const char *const amounts[] = {">+50<", ">+50<", ">+55<", ">+22<"};
    for (int k = 0; k < 4; k++) {
        BF_CHECK_ABS(inside_number(inside_find(svg, "circle", "bf-feed", 3 - k), "cx"),
                     clock_x(put_min[k], 9), 0.0051);
        assert_non_null(strstr(svg, amounts[k]));
    }
}

/* The widest strip runs between the ends of the range, the dashed middle between the middles. */
static void the_belief_is_four_strips_and_a_dashed_middle(void **state) {
    (void)state;
    scene_bed_everyday(&scene);
    assert_int_equal(draw(LEFT), BF_OK);
    assert_int_equal(inside_count(svg, "path", "bf-band"), 4);
    static double strip[2 * BF_BELIEF_MOST_MARKS + 8][2], middle[BF_BELIEF_MOST_MARKS + 4][2];
    int n = bed->n_points + 1;
    assert_int_equal(
        inside_points(inside_find(svg, "path", "bf-band", 0), strip, 2 * BF_BELIEF_MOST_MARKS + 8), 2 * n);
    const char *dashed = inside_find(svg, "path", "bf-r3", 0);
    assert_true(inside_has_class(dashed, "bf-dash"));
    assert_int_equal(inside_points(dashed, middle, BF_BELIEF_MOST_MARKS + 4), n);
    double base = 59, mm_per_piece = (base - middle[n - 1][1]) / 34;
    for (int k = 0; k < n; k++) {
        const bf_range *left = k < n - 1 ? &bed->point[k].left : &bed->left;
        double t_s = k < n - 1 ? bed->point[k].t_s : bed->t_s;
        BF_CHECK_ABS(middle[k][0], clock_x(t_s / 60, 9), 0.0051);
        BF_CHECK_ABS(base - middle[k][1], mm_per_piece * left->mid, 0.03);
        BF_CHECK_ABS(base - strip[k][1], mm_per_piece * left->lo, 0.03);
        BF_CHECK_ABS(base - strip[2 * n - 1 - k][1], mm_per_piece * left->hi, 0.03);
    }
}

/* The strips are those of a normal distribution with the same 10 and 90 % points. Source: its quantiles, z(0.9) = 1.2816,
 * z(0.8) = 0.8416, z(0.7) = 0.5244, z(0.6) = 0.2533 (tables of the normal distribution, from memory). */
static void strips_between_are_a_bell_curves(void **state) {
    (void)state;
    static const double z[] = {1.2816, 0.8416, 0.5244, 0.2533};
    scene_bed_everyday(&scene);
    assert_int_equal(draw(LEFT), BF_OK);
    static double strip[2 * BF_BELIEF_MOST_MARKS + 8][2];
    int n = bed->n_points + 1;
    double lo[4], hi[4];
    for (int k = 0; k < 4; k++) {
        inside_points(inside_find(svg, "path", "bf-band", k), strip, 2 * BF_BELIEF_MOST_MARKS + 8);
        lo[k] = strip[n - 1][1];
        hi[k] = strip[n][1];
    }
    /* Of the last range, 17 (34) 58: below its middle 17 pieces, above it 24. */
    double middle = 59 - (59 - hi[0]) * 34 / 58;
    for (int k = 1; k < 4; k++) {
        BF_CHECK_ABS((middle - hi[k]) / (middle - hi[0]), z[k] / z[0], 0.003);
        BF_CHECK_ABS((lo[k] - middle) / (lo[0] - middle), z[k] / z[0], 0.003);
    }
}

static void twenty_dots_for_now_stand_on_the_same_scale(void **state) {
    (void)state;
    scene_bed_everyday(&scene);
    assert_int_equal(draw(LEFT), BF_OK);
    assert_int_equal(inside_count(svg, "circle", "bf-rdot"), 20);
    assert_int_equal(inside_count(svg, "circle", "bf-rring"), 1);
    double middle[BF_BELIEF_MOST_MARKS + 4][2];
    int n = inside_points(inside_find(svg, "path", "bf-r3", 0), middle, BF_BELIEF_MOST_MARKS + 4);
    double mm_per_piece = (59 - middle[n - 1][1]) / 34;
    for (int k = 0; k < 20; k++) {
        const char *dot = inside_find(svg, "circle", "bf-rdot", k);
        BF_CHECK_ABS(59 - inside_number(dot, "cy"), mm_per_piece * bed->left_dot[k], 1.36);
        assert_true(inside_number(dot, "cx") > 58);
    }
}

static void a_few_pieces_and_many_are_said_to_what_is_known(void **state) {
    (void)state;
    static const struct {
        double lo, mid, hi;
        const char *said;
    } rows[] = {{0, 0, 0.4, "very likely none"},
                {55, 55, 55, "about 55 pieces"},
                {0, 0.3, 4, "likely none (0-4)"},
                {0.6, 1.2, 2, "about 1 piece (1-2)"},
                {17, 34, 58, "about 34 pieces (17-58)"},
                {87.3, 99.4, 123.4, "about 99 pieces (87-120)"},
                {1949, 2351, 12345, "about 2400 pieces (1900-12000)"}};
    for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
        scene_bed_everyday(&scene);
        bed->left = scene_range(rows[k].lo, rows[k].mid, rows[k].hi);
        assert_int_equal(draw(LEFT), BF_OK);
        assert_string_equal(picture.cell[2][1], rows[k].said);
    }
}

static void left_says_facts_first_and_nothing_where_nothing_was_put_in(void **state) {
    (void)state;
    scene_bed_everyday(&scene);
    assert_int_equal(draw(LEFT), BF_OK);
    assert_string_equal(picture.finding, "Last put-in: 22 pieces, 6 min ago. Left by our reckoning: about 34 "
                                         "pieces (17-58), 8 times in 10.");
    static const char *const want[][2] = {{"Last put-in", "22 pieces, 6 min ago"},
                                          {"Put-ins so far", "4"},
                                          {"Left now, reckoned", "about 34 pieces (17-58)"}};
    for (int k = 0; k < 3; k++) {
        assert_string_equal(picture.cell[k][0], want[k][0]);
        assert_string_equal(picture.cell[k][1], want[k][1]);
    }
    view->n_feeds = 0;
    bed->n_points = 0;
    bed->left = bed->wide_m = scene_range(0, 0, 0);
    memset(bed->left_dot, 0, sizeof bed->left_dot);
    assert_int_equal(draw(LEFT), BF_OK);
    assert_string_equal(picture.finding, "Nothing has been put in here yet.");
    assert_non_null(strstr(svg, ">nothing put in yet<"));
    assert_int_equal(inside_count(svg, "path", "bf-band"), 0);
    assert_int_equal(draw(ABOVE), BF_OK);
    assert_non_null(strstr(svg, ">nothing lies here<"));
}

/* ---- fish ---- */

/* In every random scene, whatever the axis. */
static void dots_can_be_counted_by_few_some_and_many(void **state) {
    (void)state;
    for (int n = 0; n < N_SCENES; n++) {
        scene_bed_random(n, &scene);
        assert_int_equal(draw(FISH), BF_OK);
        double line[2], point[4][2];
        for (int k = 0; k < 2; k++) {
            assert_int_equal(inside_points(inside_find(svg, "path", "bf-p1", k), point, 4), 2);
            line[k] = point[0][0];
        }
        int count[3] = {0}, want[3] = {0};
        for (int k = 0; k < 20; k++) {
            double x = inside_number(inside_find(svg, "circle", "bf-rdot", k), "cx");
            count[x < line[0] ? 0 : x < line[1] ? 1 : 2] += 1;
            want[bed->fish_dot[k] <= 2 ? 0 : bed->fish_dot[k] <= 6 ? 1 : 2] += 1;
        }
        for (int k = 0; k < 3; k++) assert_int_equal(count[k], want[k]);
    }
}

static void fish_are_said_in_words_and_odds_never_as_a_number(void **state) {
    (void)state;
    scene_bed_everyday(&scene);
    assert_int_equal(draw(FISH), BF_OK);
    assert_string_equal(picture.finding, "Fish on the feed by our reckoning: few to many, 8 times in 10.");
    static const char *const want[][2] = {{"8 times in 10", "few to many"},
                                          {"Few (0 to 2)", "about 2 in 10"},
                                          {"Some (3 to 6)", "about 5 in 10"},
                                          {"Many (7 and more)", "about 4 in 10"}};
    check_told_table(&picture, want, 4);
}

/* ---- from above ---- */

static void the_footprint_is_true_to_its_scale_bar(void **state) {
    (void)state;
    scene_bed_everyday(&scene);
    assert_int_equal(draw(ABOVE), BF_OK);
    /* The bar of 40 cm. */
    double mm_per_m = inside_number(inside_find(svg, "rect", "bf-p1", 0), "width") / 0.4;
    const char *nine = inside_find(svg, "circle", "bf-r3", 0), *half = inside_find(svg, "circle", "bf-r2", 0);
    assert_true(inside_has_class(nine, "bf-dash") && inside_has_class(half, "bf-fine-dash"));
    BF_CHECK_ABS(inside_number(nine, "r"), 0.5 * 0.31 * mm_per_m, 0.01);
    BF_CHECK_ABS(inside_number(half, "r"), 0.5 * 0.31 * sqrt(log(2) / log(10)) * mm_per_m, 0.01);
    assert_non_null(strstr(svg, ">40 cm<"));
}

/* Half of the twenty within miss_m, and the distances are those of a flat bell curve: mean of r2 is miss2 / ln 2. */
static void hook_baits_lie_by_the_aims_own_miss(void **state) {
    (void)state;
    scene_bed_everyday(&scene);
    assert_int_equal(draw(ABOVE), BF_OK);
    double mm_per_m = inside_number(inside_find(svg, "rect", "bf-p1", 0), "width") / 0.4;
    const char *nine = inside_find(svg, "circle", "bf-r3", 0);
    double x0 = inside_number(nine, "cx"), y0 = inside_number(nine, "cy"), sum = 0;
    int n_within = 0;
    /* The twenty-first stands for them under the frame. */
    assert_int_equal(inside_count(svg, "circle", "bf-ropen"), 21);
    for (int k = 0; k < 20; k++) {
        const char *dot = inside_find(svg, "circle", "bf-ropen", k);
        double x = (inside_number(dot, "cx") - x0) / mm_per_m, y = (inside_number(dot, "cy") - y0) / mm_per_m;
        n_within += sqrt(x * x + y * y) < 0.08;
        sum += x * x + y * y;
    }
    assert_int_equal(n_within, 10);
    /* The quantiles leave out a little of the tail: 3.4 % of the mean by the sum over k of -ln(1 - (k + 1/2) / 20). */
    BF_CHECK_REL(sum / 20, 0.08 * 0.08 / log(2), 0.05);
    view->miss_m = NAN;
    assert_int_equal(draw(ABOVE), BF_OK);
    assert_int_equal(inside_count(svg, "circle", "bf-ropen"), 0);
    assert_null(strstr(picture.finding, "hook bait"));
}

static void above_says_its_widths_as_ranges(void **state) {
    (void)state;
    scene_bed_everyday(&scene);
    assert_int_equal(draw(ABOVE), BF_OK);
    assert_string_equal(picture.finding,
                        "By our reckoning nine in ten pieces lie inside a round of 31 cm (22 cm to 44 cm), "
                        "half inside 17 cm; half the drops put the hook bait within 8 cm of the middle.");
    static const char *const want[][2] = {{"9 in 10 inside, wide", "31 cm (22 cm to 44 cm)"},
                                          {"Half inside, wide", "17 cm (12 cm to 24 cm)"},
                                          {"Hook bait off the middle, half the drops within", "8 cm"}};
    check_told_table(&picture, want, 3);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bad_views_are_refused_and_leave_nothing),
        cmocka_unit_test(every_drawing_is_well_formed_and_its_words_lie_apart),
        cmocka_unit_test(a_short_buffer_is_said_and_left_empty),
        cmocka_unit_test(the_fullest_drawing_fits_the_bytes_that_are_said),
        cmocka_unit_test(every_drawing_says_reckoned_not_seen),
        cmocka_unit_test(put_ins_are_ink_at_their_time_with_their_amount),
        cmocka_unit_test(the_belief_is_four_strips_and_a_dashed_middle),
        cmocka_unit_test(strips_between_are_a_bell_curves),
        cmocka_unit_test(twenty_dots_for_now_stand_on_the_same_scale),
        cmocka_unit_test(a_few_pieces_and_many_are_said_to_what_is_known),
        cmocka_unit_test(left_says_facts_first_and_nothing_where_nothing_was_put_in),
        cmocka_unit_test(dots_can_be_counted_by_few_some_and_many),
        cmocka_unit_test(fish_are_said_in_words_and_odds_never_as_a_number),
        cmocka_unit_test(the_footprint_is_true_to_its_scale_bar),
        cmocka_unit_test(hook_baits_lie_by_the_aims_own_miss),
        cmocka_unit_test(above_says_its_widths_as_ranges),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
