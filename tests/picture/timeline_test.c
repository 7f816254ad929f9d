/* The timeline: what is refused, where marks stand, that none is lost when they share a place. */
#include "common/check.h"
#include "inside.h"
#include "record_scenes.h"
#include "told_table.h"

static char svg[BF_RECORD_SVG_BYTES];
static scene_timeline scene;
static bf_timeline_view *view = &scene.view;
static bf_picture picture;

static bf_status draw(void) {
    return bf_picture_timeline(view, svg, sizeof svg, &picture);
}

/* Ten hours from 9:00 on a narrow sheet, nothing in it: 2.5 to 74.5 mm are 0 to 600 minutes. */
static void start(void) {
    memset(&scene, 0, sizeof scene);
    scene_timeline_point(&scene);
    view->width_mm = 80;
    view->from_ms = SCENE_START_MS;
    view->to_ms = SCENE_START_MS + 600 * SCENE_MIN_MS;
}

static double at_min(double minutes) {
    return SCENE_START_MS + minutes * SCENE_MIN_MS;
}

static double x_of(double minutes) {
    return 2.5 + 72 * minutes / 600;
}

static void add_bite(double minutes, int outcome) {
    scene.bite[view->n_bites++] =
        (bf_timeline_bite){.at_ms = at_min(minutes), .outcome = outcome, .mass_kg = NAN};
}

static void bad_views_are_refused_and_leave_nothing(void **state) {
    (void)state;
    for (int k = 0; k < 22; k++) {
        bf_status want = BF_E_RANGE;
        scene_timeline_everyday(&scene, 80);
        switch (k) {
        case 0: view->n_feeds = -1, want = BF_E_COUNT; break;
        case 1: view->n_bites = BF_TIMELINE_MOST + 1, want = BF_E_COUNT; break;
        case 2: view->from_ms = NAN, want = BF_E_NOT_FINITE; break;
        case 3: view->to_ms = view->from_ms; break;
        case 4: view->to_ms = view->from_ms + BF_RECORD_MOST_SPAN_MS + 1; break;
        case 5: view->east_min = 1441; break;
        case 6: view->width_mm = 79; break;
        case 7: view->width_mm = INFINITY, want = BF_E_NOT_FINITE; break;
        case 8: view->look = 4; break;
        case 9: scene.feed[3].at_ms = scene.feed[2].at_ms - 1; break;
        case 10: scene.feed[3].amount = INFINITY, want = BF_E_NOT_FINITE; break;
        case 11: scene.feed[3].amount = -1; break;
        case 12: scene.wait[3].to_ms = scene.wait[3].from_ms - 1; break;
        case 13: scene.wait[3].to_ms = NAN, want = BF_E_NOT_FINITE; break;
        case 14: scene.bite[3].outcome = BF_N_OUTCOMES; break;
        case 15: scene.bite[3].mass_kg = 0; break;
        case 16: scene.bite[3].at_ms = NAN, want = BF_E_NOT_FINITE; break;
        case 17: scene.tally[0].n[BF_LOST] = 1000; break;
        case 18: scene.tally[0].n[BF_LOST] = -1; break;
        case 19: scene.note[1].at_ms = scene.note[0].at_ms - 1; break;
        case 20: scene.advice[0].at_ms = INFINITY, want = BF_E_NOT_FINITE; break;
        case 21: view->n_advice = -1, want = BF_E_COUNT; break;
        }
        assert_int_equal(draw(), want);
        assert_int_equal(svg[0], 0);
        assert_int_equal(picture.n_svg + (size_t)picture.n_rows, 0);
        assert_int_equal(picture.finding[0], 0);
    }
}

static void a_mark_stands_at_its_time(void **state) {
    (void)state;
    for (double minutes = 0; minutes <= 600; minutes += 37.5) {
        start();
        add_bite(minutes, BF_LANDED);
        assert_int_equal(draw(), BF_OK);
        /* The first disc is the title's. */
        assert_int_equal(inside_count(svg, "circle", "bf-o-fish"), 2);
        BF_CHECK_ABS(inside_number(inside_find(svg, "circle", "bf-o-fish", 1), "cx"), x_of(minutes), 0.0051);
    }
}

/* All the shapes of a row and the numbers over them, each number standing for one shape: together the row's marks. */
static int marks_told(const char *element, const char *class_name) {
    int sum = inside_count(svg, element, class_name) - 1;
    for (int k = 0;; k++) {
        const char *word = inside_find(svg, "text", "bf-mid", k);
        if (!word) return sum;
        if (inside_has_class(word, "bf-clear")) sum += atoi(strchr(word, '>') + 1) - 1;
    }
}

static void no_mark_is_lost_when_many_share_a_place(void **state) {
    (void)state;
    static const struct {
        int outcome;
        const char *element, *class_name;
    } rows[] = {{BF_LANDED, "circle", "bf-o-fish"},   {BF_TOUCHED, "circle", "bf-o-touch"},
                {BF_MISSED, "path", "bf-o-missed"},   {BF_FOUL, "path", "bf-o-foul"},
                {BF_NOTHING, "rect", "bf-o-nothing"}, {BF_LOST, "path", "bf-o-lost"}};
    static double at[BF_TIMELINE_MOST];
    for (int n = 0; n < 240; n++) {
        int row = n % 6, n_marks = (int)scene_scale(n, 600, 1, BF_TIMELINE_MOST);
        start();
        view->width_mm = scene_width(n);
        scene_times(3 * n + 2, 0, view->from_ms, view->to_ms, at, n_marks);
        for (int k = 0; k < n_marks; k++)
            scene.bite[k] = (bf_timeline_bite){.at_ms = at[k], .outcome = rows[row].outcome, .mass_kg = NAN};
        view->n_bites = n_marks;
        assert_int_equal(draw(), BF_OK);
        int told = marks_told(rows[row].element, rows[row].class_name);
        if (told != n_marks) fail_msg("scene %d: %d marks, %d told", n, n_marks, told);
    }
}

static void marks_of_a_row_do_not_touch(void **state) {
    (void)state;
    static double at[BF_TIMELINE_MOST];
    for (int n = 0; n < 60; n++) {
        start();
        view->n_bites = (int)scene_scale(n, 600, 2, 400);
        scene_times(3 * n + 2, 0, view->from_ms, view->to_ms, at, view->n_bites);
        for (int k = 0; k < view->n_bites; k++)
            scene.bite[k] = (bf_timeline_bite){.at_ms = at[k], .outcome = BF_LANDED, .mass_kg = NAN};
        assert_int_equal(draw(), BF_OK);
        int n_discs = inside_count(svg, "circle", "bf-o-fish");
        for (int a = 2; a < n_discs; a++) {
            const char *one = inside_find(svg, "circle", "bf-o-fish", a),
                       *two = inside_find(svg, "circle", "bf-o-fish", a - 1);
            double dx = inside_number(one, "cx") - inside_number(two, "cx"),
                   dy = inside_number(one, "cy") - inside_number(two, "cy");
            /* 0.83 mm and half a pen of 0.45 mm each. */
            assert_true(sqrt(dx * dx + dy * dy) > 2 * (0.83 + 0.225));
        }
    }
}

static void stalks_are_as_long_as_the_put_in_was_large(void **state) {
    (void)state;
    start();
    static const double ml[] = {40, 20, 10, 5};
    view->n_feeds = 4;
    for (int k = 0; k < 4; k++)
        scene.feed[k] = (bf_timeline_feed){.at_ms = at_min(120 + 100 * k), .amount = ml[k]};
    assert_int_equal(draw(), BF_OK);
    double base[4], tip[4];
    for (int k = 0; k < 4; k++) {
        double x;
        const char *stalk = strstr(inside_find(svg, "path", "bf-stalk", k), " d=\"M") + 5;
        assert_int_equal(sscanf(stalk, "%lf %lfL%*f %lf", &x, &base[k], &tip[k]), 3);
        BF_CHECK_ABS(x, x_of(120 + 100 * k), 0.0051);
    }
    /* A disc's radius lies under the shortest of them: lengths less that one are as the amounts. */
    double disc = 1.05;
    for (int k = 1; k < 4; k++)
        BF_CHECK_ABS((base[k] - tip[k] - disc) / (base[0] - tip[0] - disc), ml[k] / ml[0], 0.005);
}

static void a_put_in_of_unknown_amount_has_no_stalk(void **state) {
    (void)state;
    start();
    view->n_feeds = 1;
    scene.feed[0] = (bf_timeline_feed){.at_ms = at_min(300), .amount = NAN};
    assert_int_equal(draw(), BF_OK);
    assert_int_equal(inside_count(svg, "path", "bf-stalk"), 0);
    assert_int_equal(inside_count(svg, "circle", "bf-feed"), 1);
}

/* Twelve alike are named once; the two of another feed too, and the first again after them. */
static void a_feed_is_named_when_it_changes(void **state) {
    (void)state;
    for (int is_known = 0; is_known < 2; is_known++) {
        start();
        view->width_mm = 280;
        view->n_feeds = 12;
        for (int k = 0; k < 12; k++) {
            scene.feed[k] = (bf_timeline_feed){.at_ms = at_min(50 * k), .amount = is_known ? 9 : NAN};
            scene_label(&scene.feed[k].name, k == 6 || k == 7 ? "hard six" : "soft two");
        }
        assert_int_equal(draw(), BF_OK);
        int n_soft = 0, n_hard = 0;
        for (const char *at = svg; (at = strstr(at, "soft two</text>")); at++) n_soft++;
        for (const char *at = svg; (at = strstr(at, "hard six</text>")); at++) n_hard++;
        assert_int_equal(n_soft, 2);
        assert_int_equal(n_hard, 1);
    }
}

static void crossed_out_marks_are_hollow_and_counted_apart(void **state) {
    (void)state;
    start();
    for (int k = 0; k < 6; k++) {
        add_bite(200 + 60 * k, BF_LANDED);
        scene.bite[k].is_crossed = k % 3 == 1;
    }
    assert_int_equal(draw(), BF_OK);
    assert_int_equal(inside_count(svg, "circle", "bf-o-fish"), 7);
    assert_int_equal(inside_count(svg, "circle", "bf-off"), 2);
    assert_int_equal(inside_count(svg, "circle", "bf-hollow"), 2);
    assert_non_null(strstr(svg, ">Fish 4</text>"));
    assert_non_null(strstr(picture.finding, " 4 fish"));
    assert_string_equal(picture.cell[picture.n_rows - 1][0], "Crossed out");
    assert_string_equal(picture.cell[picture.n_rows - 1][1], "2");
}

static void a_wait_is_a_bar_open_when_cut_short_and_dashed_when_its_start_is_reckoned(void **state) {
    (void)state;
    start();
    view->n_waits = 3;
    scene.wait[0] = (bf_timeline_wait){.from_ms = at_min(60), .to_ms = at_min(90)};
    scene.wait[1] = (bf_timeline_wait){.from_ms = at_min(120), .to_ms = at_min(185), .is_open = 1};
    scene.wait[2] = (bf_timeline_wait){.from_ms = at_min(240), .to_ms = at_min(270), .is_start_reckoned = 1};
    assert_int_equal(draw(), BF_OK);
    const char *bar = inside_find(svg, "rect", "bf-ink", 0);
    BF_CHECK_ABS(inside_number(bar, "x"), x_of(60), 0.0051);
    BF_CHECK_ABS(inside_number(bar, "width"), x_of(90) - x_of(60), 0.0051);
    /* Up to 185 minutes, round the left end, and back: the right end is open. */
    char want[64];
    snprintf(want, sizeof want, " d=\"M%.4g ", x_of(185));
    const char *open = strstr(svg, want);
    assert_non_null(open);
    double x[4];
    assert_int_equal(sscanf(open + 5, "%lf %*fL%lf %*fL%lf %*fL%lf", &x[0], &x[1], &x[2], &x[3]), 4);
    BF_CHECK_ABS(x[0], x[3], 0);
    BF_CHECK_ABS(x[1], x_of(120) + 0.25, 0.0051);
    /* Only the third begins with dashes in the colour of reckoning. */
    assert_int_equal(inside_count(svg, "path", "bf-fine-dash"), 1);
    double from;
    assert_int_equal(sscanf(strstr(inside_find(svg, "path", "bf-fine-dash", 0), " d=\"M") + 5, "%lf", &from),
                     1);
    BF_CHECK_ABS(from, x_of(240), 0.0051);
    assert_int_equal(inside_count(svg, "rect", "bf-ink"), 2);
}

static void a_tally_is_a_band_with_its_count(void **state) {
    (void)state;
    start();
    view->n_tallies = 1;
    scene.tally[0] = (bf_timeline_tally){.from_ms = at_min(200), .to_ms = at_min(320)};
    scene.tally[0].n[BF_LANDED] = 7;
    add_bite(260, BF_LANDED); /* within the stretch: the band counts it in */
    add_bite(500, BF_LANDED);
    assert_int_equal(draw(), BF_OK);
    assert_int_equal(inside_count(svg, "rect", "bf-tally"), 1);
    const char *band = inside_find(svg, "rect", "bf-tally", 0);
    BF_CHECK_ABS(inside_number(band, "x"), x_of(200), 0.0051);
    BF_CHECK_ABS(inside_number(band, "width"), x_of(320) - x_of(200), 0.0051);
    assert_non_null(strstr(svg, ">8</text>"));
    assert_non_null(strstr(svg, ">Fish 9</text>"));
}

static void marks_outside_the_stretch_are_counted_not_drawn(void **state) {
    (void)state;
    start();
    add_bite(-1, BF_LANDED);
    add_bite(0, BF_LANDED);
    add_bite(600, BF_LANDED);
    add_bite(601, BF_LANDED);
    assert_int_equal(draw(), BF_OK);
    assert_int_equal(inside_count(svg, "circle", "bf-o-fish"), 3);
    assert_string_equal(picture.cell[picture.n_rows - 1][0], "Outside this stretch");
    assert_string_equal(picture.cell[picture.n_rows - 1][1], "2");
}

/* 9:00 UTC is 10:00 where clocks are an hour ahead, 20:30 in the east, 23:30 the day before in the west. */
static void times_are_of_the_local_clock(void **state) {
    (void)state;
    static const struct {
        int east_min;
        const char *from, *to;
    } rows[] = {
        {0, "9:00", "19:00"}, {60, "10:00", "20:00"}, {690, "20:30", "6:30"}, {-570, "23:30", "9:30"}};
    for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
        char want[32];
        start();
        view->east_min = rows[k].east_min;
        assert_int_equal(draw(), BF_OK);
        snprintf(want, sizeof want, "%s to %s", rows[k].from, rows[k].to);
        assert_string_equal(picture.cell[0][1], want);
        assert_int_equal(strncmp(picture.finding, want, strlen(want)), 0);
    }
}

static void notes_are_numbered_and_told_under_the_clock(void **state) {
    (void)state;
    scene_timeline_everyday(&scene, 280);
    assert_int_equal(draw(), BF_OK);
    assert_non_null(strstr(svg, ">10:58</text>"));
    assert_non_null(strstr(svg, ">wind round to the south, ripple on</text>"));
    assert_non_null(strstr(svg, ">A1</text>"));
    assert_non_null(strstr(svg, ">Hold till 11:46; held</text>"));
    view->n_notes = view->n_advice = 0;
    assert_int_equal(draw(), BF_OK);
    assert_null(strstr(svg, "Water, notes"));
    assert_null(strstr(svg, "Advice"));
}

static void the_finding_and_the_table_say_what_is_drawn(void **state) {
    (void)state;
    start();
    view->n_feeds = 2;
    scene_label(&view->feed_unit, "ml");
    for (int k = 0; k < 2; k++) scene.feed[k] = (bf_timeline_feed){.at_ms = at_min(100 * k), .amount = 15};
    add_bite(10, BF_LANDED);
    add_bite(20, BF_TOUCHED);
    add_bite(30, BF_NOTHING);
    add_bite(40, BF_NOTHING);
    scene.bite[0].mass_kg = 1.0; /* 2 lb 3.27 oz */
    assert_int_equal(draw(), BF_OK);
    assert_string_equal(picture.finding,
                        "9:00 to 19:00: 2 put-ins (30 ml), 1 fish, 1 touch, 2 drops with nothing.");
    const char *const want[][2] = {{"Shown", "9:00 to 19:00"},
                                   {"Put-ins", "2 (30 ml)"},
                                   {"Rig in", "0"},
                                   {"Fish", "1"},
                                   {"Lost", "0"},
                                   {"Touch", "1"},
                                   {"Missed", "0"},
                                   {"Foul", "0"},
                                   {"Nothing", "2"},
                                   {"Heaviest", "2 lb 3 oz"}};
    check_told_table(&picture, want, 10);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bad_views_are_refused_and_leave_nothing),
        cmocka_unit_test(a_mark_stands_at_its_time),
        cmocka_unit_test(no_mark_is_lost_when_many_share_a_place),
        cmocka_unit_test(marks_of_a_row_do_not_touch),
        cmocka_unit_test(stalks_are_as_long_as_the_put_in_was_large),
        cmocka_unit_test(a_put_in_of_unknown_amount_has_no_stalk),
        cmocka_unit_test(a_feed_is_named_when_it_changes),
        cmocka_unit_test(crossed_out_marks_are_hollow_and_counted_apart),
        cmocka_unit_test(a_wait_is_a_bar_open_when_cut_short_and_dashed_when_its_start_is_reckoned),
        cmocka_unit_test(a_tally_is_a_band_with_its_count),
        cmocka_unit_test(marks_outside_the_stretch_are_counted_not_drawn),
        cmocka_unit_test(times_are_of_the_local_clock),
        cmocka_unit_test(notes_are_numbered_and_told_under_the_clock),
        cmocka_unit_test(the_finding_and_the_table_say_what_is_drawn),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
