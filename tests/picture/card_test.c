/* The card on paper: sizes of type, lines and boxes, black alone, nothing on another, what stands on it and what gives way. */
#include "common/check.h"
#include "inside.h"
#include "plan_scenes.h"

static char front[BF_PLAN_SVG_BYTES], back[BF_PLAN_SVG_BYTES], a5[BF_PLAN_SVG_BYTES],
    other[BF_PLAN_SVG_BYTES];
static bf_card_view view;
static bf_picture picture;

/* One point, 1/72 inch, in mm. */
#define PT (25.4 / 72)

static void draw_all(void) {
    assert_int_equal(bf_picture_card_a6_front(&view, front, sizeof front, &picture), BF_OK);
    assert_int_equal(bf_picture_card_a6_back(&view, back, sizeof back, &picture), BF_OK);
    assert_int_equal(bf_picture_card_a5(&view, a5, sizeof a5, &picture), BF_OK);
}

static int says(const char *svg, const char *text) {
    char want[160];
    snprintf(want, sizeof want, ">%s</text>", text);
    return strstr(svg, want) != NULL;
}

/* ---- the words of a card, with their sizes ---- */

typedef struct sized_word {
    inside_word word;
    double letter_mm;
} sized_word;

/* Letter size by the class as the stylesheet has it. */
static double letter_mm(const char *element) {
    static const char *const names[] = {"bf-10pt", "bf-14pt", "bf-20pt", "bf-24pt"};
    for (int k = 0; k < 4; k++) {
        char rule[64];
        if (!inside_has_class(element, names[k])) continue;
        snprintf(rule, sizeof rule, ".bf .%s { font-size: ", names[k]);
        const char *found = strstr(bf_picture_css, rule);
        assert_non_null(found);
        return atof(found + strlen(rule));
    }
    return NAN;
}

static int sized_words(const char *svg, sized_word *words, int most) {
    static inside_word plain[512];
    int n = inside_words(svg, plain, 512);
    assert_true(n < most);
    const char *at = svg;
    for (int k = 0; k < n; k++) {
        at = strstr(at, "<text ");
        double x = inside_number(at, "x"), y = inside_number(at, "y"), size = letter_mm(at);
        double width = size * bf_text_width_mm(plain[k].text, strlen(plain[k].text), 1);
        words[k] = (sized_word){.word = plain[k], .letter_mm = size};
        words[k].word.x0 = inside_has_class(at, "bf-end")   ? x - width
                           : inside_has_class(at, "bf-mid") ? x - width / 2
                                                            : x;
        words[k].word.x1 = words[k].word.x0 + width;
        words[k].word.y0 = y - 0.93 * size;
        words[k].word.y1 = y + 0.24 * size;
        at += 6;
    }
    return n;
}

/* ---- tests ---- */

static void bad_views_are_refused_and_leave_nothing(void **state) {
    (void)state;
    for (int k = 0; k < 20; k++) {
        bf_status want = BF_E_RANGE;
        scene_card_everyday(&view);
        switch (k) {
        case 0: view.n_spots = 0, want = BF_E_COUNT; break;
        case 1: view.n_spots = BF_CARD_SPOTS + 1, want = BF_E_COUNT; break;
        case 2: view.n_feeds = BF_CARD_FEEDS + 1, want = BF_E_COUNT; break;
        case 3: view.n_limits = -1, want = BF_E_COUNT; break;
        case 4: view.hours = 0; break;
        case 5: view.hours = NAN, want = BF_E_NOT_FINITE; break;
        case 6: view.starts_min = -1; break;
        case 7: view.starts_min = INFINITY, want = BF_E_NOT_FINITE; break;
        case 8: view.spot[0].depth_m = 0; break;
        case 9: view.spot[0].depth_m = NAN, want = BF_E_NOT_FINITE; break;
        case 10: view.spot[0].distance_m = 101; break;
        case 11: view.spot[0].bottom = 4; break;
        case 12: view.feed[1].spot = 1; break;
        case 13: view.feed[1].to_s = 599; break;
        case 14: view.feed[1].to_s = NAN, want = BF_E_NOT_FINITE; break;
        case 15: view.feed[1].every_s = 0; break;
        case 16: view.feed[0].from_s = -1; break;
        case 17: view.spot[0].rig.n_shots = -1, want = BF_E_COUNT; break;
        case 18: view.spot[0].rig.shot[1].at_m = NAN, want = BF_E_NOT_FINITE; break;
        case 19: view.spot[0].rig.tip_to_float_m = 0; break;
        }
        assert_int_equal(bf_picture_card_a5(&view, a5, sizeof a5, &picture), want);
        assert_int_equal(a5[0], 0);
        assert_int_equal(picture.n_svg + (size_t)picture.n_rows, 0);
    }
}

static void a_short_buffer_is_said_and_left_empty(void **state) {
    (void)state;
    scene_card_everyday(&view);
    draw_all();
    size_t whole = picture.n_svg;
    for (size_t most = 1; most <= whole; most += most < 300 ? 1 : 197) {
        char *tight = malloc(most);
        assert_int_equal(bf_picture_card_a5(&view, tight, most, &picture), BF_E_SPACE);
        assert_int_equal(tight[0], 0);
        free(tight);
    }
    assert_int_equal(bf_picture_card_a5(&view, other, whole + 1, &picture), BF_OK);
    assert_string_equal(other, a5);
}

static void every_card_is_well_formed(void **state) {
    (void)state;
    for (int n = 0; n < 500; n++) {
        scene_card_random(n, &view);
        draw_all();
        const char *const pages[] = {front, back, a5};
        for (int k = 0; k < 3; k++) {
            const char *fault = inside_xml_fault(pages[k]);
            if (fault) fail_msg("scene %d, page %d: %s", n, k, fault);
        }
        assert_true(picture.finding[0]);
    }
}

static void pages_have_the_size_of_their_paper(void **state) {
    (void)state;
    scene_card_everyday(&view);
    draw_all();
    static const char want_a6[] = " width=\"105mm\" height=\"148mm\" viewBox=\"0 0 105 148\"";
    assert_non_null(strstr(front, want_a6));
    assert_non_null(strstr(back, want_a6));
    assert_non_null(strstr(a5, " width=\"210mm\" height=\"148mm\" viewBox=\"0 0 210 148\""));
}

/* A millimetre of the drawing is one of paper: the viewBox above. 10 pt is for the drawing of the rig alone. */
static void type_is_14_points_or_more_and_10_in_the_rig(void **state) {
    (void)state;
    static sized_word words[512];
    for (int n = 0; n < 200; n++) {
        scene_card_random(n, &view);
        draw_all();
        for (int page = 0; page < 2; page++) {
            int n_words = sized_words(page ? back : front, words, 512);
            for (int k = 0; k < n_words; k++) {
                int is_in_rig = page == 0 && words[k].word.x1 < 50;
                if (!(words[k].letter_mm >= (is_in_rig ? 10 : 14) * PT))
                    fail_msg("scene %d: \"%s\" is %g mm", n, words[k].word.text, words[k].letter_mm);
            }
        }
    }
}

static void key_numbers_are_24_points(void **state) {
    (void)state;
    static sized_word words[512];
    scene_card_everyday(&view);
    draw_all();
    static const char *const numbers[] = {"1.62 m", "14", "12 s", "20 s", "9 s"};
    int n = sized_words(front, words, 512), n_found = 0;
    for (int k = 0; k < n; k++)
        for (int number = 0; number < 5; number++)
            if (strcmp(words[k].word.text, numbers[number]) == 0 && words[k].letter_mm >= 24 * PT) n_found++;
    assert_int_equal(n_found, 5);
}

static void no_two_words_overlap_and_none_leaves_its_margin(void **state) {
    (void)state;
    static sized_word words[512];
    int n_words = 0;
    for (int n = 0; n < 1500; n++) {
        scene_card_random(n, &view);
        draw_all();
        for (int page = 0; page < 2; page++) {
            int n_here = sized_words(page ? back : front, words, 512);
            n_words += n_here;
            for (int a = 0; a < n_here; a++) {
                BF_CHECK_IN(words[a].word.x0, 5.99, 99.01);
                BF_CHECK_IN(words[a].word.x1, 5.99, 99.01);
                BF_CHECK_IN(words[a].word.y0, 5, 143);
                BF_CHECK_IN(words[a].word.y1, 5, 143);
                for (int b = 0; b < a; b++)
                    if (inside_overlap(&words[a].word, &words[b].word))
                        fail_msg("scene %d: \"%s\" lies on \"%s\"", n, words[a].word.text,
                                 words[b].word.text);
            }
        }
    }
    assert_true(n_words > 1500 * 50);
}

/* ---- ink ---- */

/* What the stylesheet says of a class on paper; where it says it twice, the last holds. */
static void printed_rule(const char *class_name, char *rule, size_t most) {
    char want[64];
    rule[0] = 0;
    snprintf(want, sizeof want, ".bf[data-look=\"print\"] .%s", class_name);
    for (const char *at = bf_picture_css; (at = strstr(at, want)); at++) {
        char next = at[strlen(want)];
        if (next != ' ' && next != ',') continue;
        const char *from = strchr(at, '{'), *to = strchr(from, '}');
        snprintf(rule, most, "%.*s", (int)(to - from), from);
    }
}

/* Only pens: every shape is a black line of a point or more without a filling, but for the white sheet under all. */
static void ink_is_black_lines_of_a_point_and_no_filled_area(void **state) {
    (void)state;
    static const char *const pens[] = {"bf-p2", "bf-p3", "bf-p4"};
    for (int k = 0; k < 3; k++) {
        char rule[128];
        printed_rule(pens[k], rule, sizeof rule);
        assert_non_null(strstr(rule, "stroke: #000000"));
        assert_true(atof(strstr(rule, "stroke-width: ") + strlen("stroke-width: ")) >= PT);
        assert_null(strstr(rule, "fill"));
    }
    for (int n = 0; n < 200; n++) {
        scene_card_random(n, &view);
        draw_all();
        int n_sheets = 0;
        for (const char *at = a5; (at = strchr(at, '<')); at++) {
            if (strncmp(at, "<path ", 6) != 0 && strncmp(at, "<circle ", 8) != 0 &&
                strncmp(at, "<rect ", 6) != 0)
                continue;
            int n_pens = 0;
            for (int k = 0; k < 3; k++) n_pens += inside_has_class(at, pens[k]);
            int is_sheet = inside_has_class(at, "bf-sheet");
            n_sheets += is_sheet;
            assert_int_equal(n_pens + is_sheet, 1);
            assert_false(inside_has_class(at, "bf-ink") || inside_has_class(at, "bf-open"));
        }
        assert_int_equal(n_sheets, 1);
        assert_null(strstr(a5, "bf-r"));
    }
}

/* ---- tally ---- */

typedef struct grid {
    int n_across, n_down;
    double least_mm; /* between two neighbouring lines */
} grid;

static int compare(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* The grid's lines are those of the rule pen that end at the grid's corners. */
static grid grid_of(const char *svg) {
    double point[4][2], across[64], down[64];
    grid g = {.least_mm = INFINITY};
    for (int k = 0; inside_find(svg, "path", "bf-p2", k); k++) {
        if (inside_points(inside_find(svg, "path", "bf-p2", k), point, 4) != 2) continue;
        if (point[0][0] == point[1][0] && point[0][0] > 20) across[g.n_across++] = point[0][0];
        if (point[0][1] == point[1][1] && point[0][0] > 20 && point[0][0] < 30)
            down[g.n_down++] = point[0][1];
    }
    qsort(across, (size_t)g.n_across, sizeof across[0], compare);
    qsort(down, (size_t)g.n_down, sizeof down[0], compare);
    for (int k = 1; k < g.n_across; k++) g.least_mm = fmin(g.least_mm, across[k] - across[k - 1]);
    for (int k = 1; k < g.n_down; k++) g.least_mm = fmin(g.least_mm, down[k] - down[k - 1]);
    return g;
}

static void boxes_of_the_tally_are_8_mm_or_more(void **state) {
    (void)state;
    static const double hours[] = {0.25, 0.5, 0.6, 3, 5, 6, 6.5, 10};
    static const int rows[] = {1, 1, 2, 6, 10, 12, 12, 12}; /* one fewer of the most with several limits */
    for (int k = 0; k < 16; k++) {
        scene_card_everyday(&view);
        view.hours = hours[k % 8];
        view.n_limits = k < 8 ? 1 : 2;
        draw_all();
        int want = view.n_limits > 1 && rows[k % 8] == 12 ? 11 : rows[k % 8];
        grid g = grid_of(back);
        assert_int_equal(g.n_across, 8); /* F L M T Fo N Fed */
        assert_int_equal(g.n_down, want + 1);
        assert_true(g.least_mm >= 7.995);
        assert_int_equal(says(back, "later"), 2 * view.hours > want);
        for (int limit = 0; limit < view.n_limits; limit++) assert_true(says(back, view.limit[limit].text));
    }
    static const char *const letters[] = {"F",  "L", "M",   "T",
                                          "Fo", "N", "Fed", "Fish Lost Missed Touch Foul Nil"};
    scene_card_everyday(&view);
    draw_all();
    for (int k = 0; k < 8; k++) assert_true(says(back, letters[k]));
}

static void rows_of_the_tally_go_by_the_half_hour(void **state) {
    (void)state;
    scene_card_everyday(&view);
    view.starts_min = 22 * 60 + 45;
    view.hours = 2;
    draw_all();
    static const char *const clock[] = {"22:45", "23:15", "23:45", "0:15"}, *const since[] = {
                                                                                "+0:00", "+0:30", "+1:00",
                                                                                "+1:30"};
    for (int k = 0; k < 4; k++) assert_true(says(back, clock[k]));
    view.starts_min = NAN;
    draw_all();
    for (int k = 0; k < 4; k++) assert_true(says(back, since[k]));
}

/* ---- what stands on it ---- */

static void it_carries_the_day_alone(void **state) {
    (void)state;
    scene_card_everyday(&view);
    draw_all();
    static const char *const on_front[] = {"Peg 14, long",
                                           "11.5 m",
                                           "1.62 m",
                                           "5 ft 4 in, silt",
                                           "14",
                                           "(12-15)",
                                           "12 s",
                                           "(10-15)",
                                           "feed down",
                                           "20 s",
                                           "(16-26)",
                                           "9 s",
                                           "(7-13)",
                                           "rig down",
                                           "wait, then lower",
                                           "hard four a pot",
                                           "tip to float",
                                           "50 cm 19\xC2\xBE in",
                                           "2 \xC3\x97 No 10",
                                           "20 cm 7\xC2\xBE in",
                                           "float 0.4 g",
                                           "to hook 1.64 m",
                                           "5 ft 4\xC2\xBD in",
                                           "5 \xC3\x97 No 8",
                                           "35 cm 13\xC2\xBE in",
                                           "No 10",
                                           "15 cm 6 in",
                                           "hooklength",
                                           "hook 18 to 0.12",
                                           "hard four",
                                           "9:00 2 pots soft two, tipped",
                                           "9:10 to 14:00, every 10 min",
                                           "1 pot hard four, shaken",
                                           "Power lines: keep well clear."};
    static const char *const on_back[] = {"Withy Pool (invented)",
                                          "peg 14",
                                          "Thu 26 Nov 2026",
                                          "Baitfall 0.4.0",
                                          "Estimates, not measurements.",
                                          "Net: 50 lb at most.",
                                          "Barbless hooks only.",
                                          "Thunder: stop at once.",
                                          "9:00",
                                          "13:30"};
    for (size_t k = 0; k < sizeof on_front / sizeof on_front[0]; k++)
        if (!says(front, on_front[k])) fail_msg("\"%s\" is not on the front", on_front[k]);
    for (size_t k = 0; k < sizeof on_back / sizeof on_back[0]; k++)
        if (!says(back, on_back[k])) fail_msg("\"%s\" is not on the back", on_back[k]);
}

static void a_bottom_that_nobody_told_is_not_printed(void **state) {
    (void)state;
    scene_card_everyday(&view);
    view.spot[0].bottom = -1;
    draw_all();
    assert_true(says(front, "5 ft 4 in"));
    for (int k = 0; bf_bottom_words[k]; k++) assert_null(strstr(front, bf_bottom_words[k]));
}

static void a5_is_front_and_back_beside_each_other(void **state) {
    (void)state;
    static sized_word one[512], both[512];
    for (int n = 0; n < 50; n++) {
        scene_card_random(n, &view);
        draw_all();
        int n_front = sized_words(front, one, 512), n_both = sized_words(a5, both, 512);
        for (int k = 0; k < n_front; k++) {
            assert_string_equal(one[k].word.text, both[k].word.text);
            BF_CHECK_ABS(one[k].word.x0, both[k].word.x0, 1e-9);
        }
        int n_back = sized_words(back, one, 512);
        assert_int_equal(n_front + n_back, n_both);
        for (int k = 0; k < n_back; k++) {
            assert_string_equal(one[k].word.text, both[n_front + k].word.text);
            BF_CHECK_ABS(one[k].word.x0 + 105, both[n_front + k].word.x0, 0.011);
            BF_CHECK_ABS(one[k].word.y0, both[n_front + k].word.y0, 1e-9);
        }
    }
}

/* Feeds that are shown, and how many the card says it leaves to the plan. */
static void what_has_no_place_is_counted(void **state) {
    (void)state;
    scene_card_long(&view);
    view.n_spots = 5;
    view.spot[3] = view.spot[4] = view.spot[0];
    view.n_feeds = 20;
    for (int k = 8; k < 20; k++) {
        view.feed[k] = view.feed[k % 8];
        view.feed[k].spot = k % 5;
    }
    for (int k = 0; k < 20; k++)
        snprintf(view.feed[k].amount.text, sizeof view.feed[k].amount.text, "%d pots", 100 + k);
    draw_all();
    int n_shown = 0;
    for (int k = 0; k < 20; k++) n_shown += strstr(front, view.feed[k].amount.text) != NULL;
    char more[64];
    snprintf(more, sizeof more, "2 spots, %d feeds, 2 rigs in plan", 20 - n_shown);
    assert_true(n_shown == 5 && says(front, more));
    assert_true(strstr(front, "short: 1.2 m, 0.2 g, wait 9 s") != NULL);
    for (int k = 0; k < 5; k++)
        assert_non_null(strstr(front, view.feed[k].amount.text)); /* the most important first */

    scene_card_everyday(&view);
    view.hours = 6;
    view.n_limits = BF_CARD_LIMITS;
    for (int k = 2; k < BF_CARD_LIMITS; k++) scene_label(&view.limit[k], "No floating feed.");
    draw_all();
    assert_true(says(back, "Net: 50 lb at most.") && says(back, "5 limits more in plan"));

    /* Short ones share a row: of six all have a place in two. */
    for (int k = 0; k < BF_CARD_LIMITS; k++) snprintf(view.limit[k].text, BF_LABEL_BYTES, "limit %d", 1 + k);
    draw_all();
    assert_true(says(back, "limit 1; limit 2; limit 3; limit 4") && says(back, "limit 5; limit 6"));
}

/* Of the spots whose rig is not drawn: set length and every shot, as long as there is room; else they are counted. */
static void rigs_of_other_spots_are_told_or_counted(void **state) {
    (void)state;
    scene_card_everyday(&view);
    view.n_spots = 2;
    view.spot[1] = view.spot[0];
    scene_label(&view.spot[1].name, "margin");
    bf_drawn_rig *rig = &view.spot[1].rig;
    rig->float_to_hook_m = 0.6;
    rig->n_shots = 2;
    rig->shot[0] = (bf_drawn_shot){.count = 9, .at_m = 0.45, .apart_m = 0.09};
    rig->shot[1] = (bf_drawn_shot){.count = 1, .at_m = 0.165};
    scene_label(&rig->shot[0].name, "No 8");
    scene_label(&rig->shot[1].name, "No 9");
    rig->n_back_shots = 0;
    draw_all();
    assert_true(says(front, "set 0.6 m, No 9 16.5") && says(front, "9 No 8 45+9 cm"));
    assert_null(strstr(front, "more in plan"));
    view.n_feeds = 5;
    for (int k = 2; k < 5; k++) view.feed[k] = view.feed[1];
    draw_all();
    assert_true(says(front, "set 0.6 m, No 9, 9 No 8"));
    view.n_feeds = 6;
    view.feed[5] = view.feed[1];
    draw_all();
    assert_null(strstr(front, "set 0.6 m"));
    assert_true(says(front, "1 rig more in plan"));
}

/* The longest rig: rows of shot that have no place are counted too, the highest and the lowest stay. */
static void a_long_rig_keeps_its_ends(void **state) {
    (void)state;
    scene_card_long(&view);
    bf_drawn_rig *rig = &view.spot[0].rig;
    rig->n_shots = BF_RIG_SHOTS;
    for (int k = 0; k < BF_RIG_SHOTS; k++) {
        rig->shot[k] = (bf_drawn_shot){.count = 2, .at_m = 0.1 + 0.1 * k};
        scene_label(&rig->shot[k].name, k == 0 ? "low" : k == BF_RIG_SHOTS - 1 ? "high" : "between");
    }
    draw_all();
    assert_non_null(strstr(front, "\xC3\x97 low</text>"));
    assert_non_null(strstr(front, "\xC3\x97 high</text>"));
    int n_between = 0;
    for (const char *at = front; (at = strstr(at, "\xC3\x97 between</text>")); at++) n_between++;
    char more[32];
    assert_true(says(front, "20 cm 7\xC2\xBE in")); /* the back shots */
    snprintf(more, sizeof more, "%d more in plan", 10 - n_between);
    assert_true(says(front, more));
}

/* Six small shot round a bulk: single ones go, the bulk stays, wherever among them it is. */
static void a_bulk_outlasts_single_shot(void **state) {
    (void)state;
    for (int bulk = 0; bulk < 7; bulk++) {
        scene_card_long(&view);
        bf_drawn_rig *rig = &view.spot[0].rig;
        rig->n_shots = 7;
        for (int k = 0; k < 7; k++) {
            rig->shot[k] = (bf_drawn_shot){.count = k == bulk ? 6 : 1, .at_m = 0.1 + 0.1 * k};
            snprintf(rig->shot[k].name.text, sizeof rig->shot[k].name.text, "No %d", 1 + k);
        }
        draw_all();
        char told[32];
        snprintf(told, sizeof told, "6 \xC3\x97 No %d", 1 + bulk);
        assert_true(says(front, told) && strstr(front, "more in plan"));
        ;
    }
}

/* Each once, so that both stand on an A5 page and on the two of A6. */
static void power_lines_stand_on_the_front_of_every_card_and_thunder_on_its_back(void **state) {
    (void)state;
    for (int n = 0; n < 300; n++) {
        scene_card_random(n, &view);
        draw_all();
        assert_true(says(front, "Power lines: keep well clear."));
        assert_true(says(back, "Thunder: stop at once."));
        assert_false(says(front, "Thunder: stop at once.") || says(back, "Power lines: keep well clear."));
        assert_true(says(back, "Estimates, not measurements."));
    }
}

static void a_peg_that_is_not_drawn_yet_has_a_line_to_write_on(void **state) {
    (void)state;
    scene_card_everyday(&view);
    int n_lines[2];
    for (int k = 0; k < 2; k++) {
        if (k) view.peg.text[0] = 0;
        draw_all();
        n_lines[k] = inside_count(front, "path", "bf-p2");
    }
    assert_int_equal(n_lines[1], n_lines[0] + 1);
    assert_true(says(front, "Peg") && says(front, "long"));
}

static void the_table_tells_numbers_and_feed(void **state) {
    (void)state;
    scene_card_everyday(&view);
    draw_all();
    assert_string_equal(
        picture.finding,
        "Card for peg 14, long: 1.62 m deep, float 0.4 g; after the put-in wait 20 s (16-26), then lower.");
    assert_int_equal(picture.n_rows, 6);
    assert_string_equal(picture.cell[2][0], "Wait, then lower");
    assert_string_equal(picture.cell[2][1], "20 s (16-26)");
    assert_string_equal(picture.cell[5][0], "9:10, every 10 min");
    assert_string_equal(picture.cell[5][1], "1 pot hard four, shaken");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bad_views_are_refused_and_leave_nothing),
        cmocka_unit_test(a_short_buffer_is_said_and_left_empty),
        cmocka_unit_test(every_card_is_well_formed),
        cmocka_unit_test(pages_have_the_size_of_their_paper),
        cmocka_unit_test(type_is_14_points_or_more_and_10_in_the_rig),
        cmocka_unit_test(key_numbers_are_24_points),
        cmocka_unit_test(no_two_words_overlap_and_none_leaves_its_margin),
        cmocka_unit_test(ink_is_black_lines_of_a_point_and_no_filled_area),
        cmocka_unit_test(boxes_of_the_tally_are_8_mm_or_more),
        cmocka_unit_test(rows_of_the_tally_go_by_the_half_hour),
        cmocka_unit_test(it_carries_the_day_alone),
        cmocka_unit_test(a_bottom_that_nobody_told_is_not_printed),
        cmocka_unit_test(a5_is_front_and_back_beside_each_other),
        cmocka_unit_test(what_has_no_place_is_counted),
        cmocka_unit_test(rigs_of_other_spots_are_told_or_counted),
        cmocka_unit_test(a_long_rig_keeps_its_ends),
        cmocka_unit_test(a_bulk_outlasts_single_shot),
        cmocka_unit_test(power_lines_stand_on_the_front_of_every_card_and_thunder_on_its_back),
        cmocka_unit_test(a_peg_that_is_not_drawn_yet_has_a_line_to_write_on),
        cmocka_unit_test(the_table_tells_numbers_and_feed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
