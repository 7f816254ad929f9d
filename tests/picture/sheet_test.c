/* The A5 review: what is refused, what stands on it, what gives way when it is full. */
#include "common/check.h"
#include "inside.h"
#include "record_scenes.h"

static char svg[BF_RECORD_SVG_BYTES];
static scene_sheet sheet;
static bf_sheet_view *view = &sheet.view;
static bf_picture picture;

static bf_status draw(void) {
    return bf_picture_sheet(view, svg, sizeof svg, &picture);
}

static void bad_views_are_refused_and_leave_nothing(void **state) {
    (void)state;
    for (int k = 0; k < 7; k++) {
        bf_status want = BF_E_RANGE;
        scene_sheet_everyday(&sheet, 2);
        switch (k) {
        case 0: view->n_feeds = BF_SHEET_MOST_FEEDS + 1, want = BF_E_COUNT; break;
        case 1: view->n_nets = -1, want = BF_E_COUNT; break;
        case 2: view->feed[1].n[BF_LOST] = 1000; break;
        case 3: view->timeline.to_ms = NAN, want = BF_E_NOT_FINITE; break;
        case 4: view->waits.n_panels = BF_WAITS_MOST_PANELS + 1, want = BF_E_COUNT; break;
        case 5: sheet.waits.step[1][2].survival = 2; break;
        case 6: sheet.fish.fish_ms[1] = INFINITY, want = BF_E_NOT_FINITE; break;
        }
        assert_int_equal(draw(), want);
        assert_int_equal(svg[0], 0);
        assert_int_equal(picture.n_svg + (size_t)picture.n_rows, 0);
    }
}

static void it_is_one_a5_page(void **state) {
    (void)state;
    for (int n = 0; n < 30; n++) {
        scene_sheet_random(n, &sheet);
        assert_int_equal(draw(), BF_OK);
        assert_non_null(strstr(svg, " width=\"148mm\" height=\"210mm\" "));
        double width, height;
        inside_size(svg, &width, &height);
        BF_CHECK_REL(height / width, 210.0 / 148, 1e-4);
        /* Letters of 4 are 2.9 mm on paper: 8 pt of 0.3528 mm. */
        assert_true(4 * 148 / width / 0.3528 > 8);
    }
}

static void an_ordinary_day_has_all_its_parts(void **state) {
    (void)state;
    for (int n_panels = 0; n_panels <= 4; n_panels++) {
        scene_sheet_everyday(&sheet, n_panels);
        assert_int_equal(draw(), BF_OK);
        static const char *const parts[] = {"Withy Pool, peg 14",
                                            "Thursday 26 November 2026",
                                            "Best half hour from 10:18: 5 fish.",
                                            "What happened when",
                                            "Is it slowing",
                                            "By feed",
                                            "hard four",
                                            "Nets",
                                            "36 lb (31-41)",
                                            "38 lb 4 oz",
                                            "One thing to try",
                                            "Estimates, not measurements. Invented.",
                                            "Baitfall 0.2.0"};
        for (size_t k = 0; k < sizeof parts / sizeof parts[0]; k++) {
            char want[80];
            snprintf(want, sizeof want, ">%s</text>", parts[k]);
            if (!strstr(svg, want)) fail_msg("%d panels: \"%s\" is missing", n_panels, parts[k]);
        }
        assert_int_equal(strstr(svg, ">How long till a bite</text>") != NULL, n_panels > 0);
        /* Each wait curve, and the fish. The headings have the same pen as straight lines of two points. */
        int n_curves = 0;
        double point[4][2];
        for (int k = 0; inside_find(svg, "path", "bf-p3", k); k++)
            n_curves += inside_points(inside_find(svg, "path", "bf-p3", k), point, 4) > 2;
        assert_int_equal(n_curves, (n_panels < 4 ? n_panels : 3) + 1); /* the fourth has four waits */
    }
}

static void invented_is_said_only_when_it_is(void **state) {
    (void)state;
    scene_sheet_everyday(&sheet, 1);
    view->is_invented = 0;
    assert_int_equal(draw(), BF_OK);
    assert_null(strstr(svg, "nvented"));
    assert_non_null(strstr(svg, ">Estimates, not measurements.</text>"));
}

static void outcomes_stand_under_their_letters(void **state) {
    (void)state;
    scene_sheet_everyday(&sheet, 1);
    assert_int_equal(draw(), BF_OK);
    static const char *const letters[] = {"F", "L", "T", "M", "Fo", "N"};
    static const int hard_four[] = {24, 1, 15, 9, 2, 11};
    for (int k = 0; k < 6; k++) {
        char want[16];
        snprintf(want, sizeof want, ">%s</text>", letters[k]);
        const char *at = strstr(svg, want);
        assert_non_null(at);
        while (*at != '<') at--;
        double x = inside_number(at, "x"), y = inside_number(at, "y");
        int n_found = 0;
        for (const char *text = svg; (text = strstr(text, "<text class=\"bf-end\"")); text++)
            if (inside_number(text, "x") == x && fabs(inside_number(text, "y") - y - 5.4) < 0.011) {
                assert_int_equal(atoi(strchr(text, '>') + 1), hard_four[k]);
                n_found++;
            }
        assert_int_equal(n_found, 1);
    }
}

/* As full as it can be: every lane, two rows each sentence, all feeds and nets; the curves stay. */
static void a_full_page_gives_up_notes_then_fish_so_far(void **state) {
    (void)state;
    scene_sheet_everyday(&sheet, 4);
    scene_timeline_random(49, &sheet.timeline);
    view->timeline = sheet.timeline.view;
    view->timeline.n_tallies = 0;
    for (int k = 0; k < 3; k++)
        for (int at = 0; at < BF_SHEET_TEXT_BYTES - 1; at++) view->sentence[k][at] = at % 8 == 7 ? ' ' : 'm';
    memcpy(view->try_next, view->sentence[0], BF_SHEET_TEXT_BYTES);
    view->n_feeds = BF_SHEET_MOST_FEEDS;
    view->n_nets = BF_SHEET_MOST_NETS;
    assert_int_equal(draw(), BF_OK);
    assert_non_null(strstr(svg, ">How long till a bite</text>"));
    assert_null(strstr(svg, ">Is it slowing</text>"));
    assert_non_null(strstr(svg, " notes</text>"));
}

static void the_table_has_feeds_and_nets(void **state) {
    (void)state;
    scene_sheet_everyday(&sheet, 1);
    assert_int_equal(draw(), BF_OK);
    assert_string_equal(picture.finding,
                        "Review of Withy Pool, peg 14, Thursday 26 November 2026, invented.");
    assert_int_equal(picture.n_rows, 5);
    assert_string_equal(picture.cell[0][0], "hard four");
    assert_string_equal(picture.cell[0][1], "Fish 24, Lost 1, Touch 15, Missed 9, Foul 2, Nothing 11");
    assert_string_equal(picture.cell[3][0], "Net 1");
    assert_string_equal(picture.cell[3][1], "36 lb (31-41); weighed 38 lb 4 oz");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bad_views_are_refused_and_leave_nothing),
        cmocka_unit_test(it_is_one_a5_page),
        cmocka_unit_test(an_ordinary_day_has_all_its_parts),
        cmocka_unit_test(invented_is_said_only_when_it_is),
        cmocka_unit_test(outcomes_stand_under_their_letters),
        cmocka_unit_test(a_full_page_gives_up_notes_then_fish_so_far),
        cmocka_unit_test(the_table_has_feeds_and_nets),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
