/* The question "bed" from outside: lines in, answers out. What the model itself is worth is tested in tests/swim. In
 * pieces and from session to session: bed_lessons_test.c. */
#include "baitfall/belief.h"
#include "baitfall/pot.h"
#include "text/bed_day.h"

/* ---- Nothing to tell ---- */

static void a_journal_without_a_session_has_no_bed(void **state) {
    (void)state;
    new_day();
    a.journal = bf_journal_start(a.memory, ASKED_EVENTS, (size_t)ASKED_EVENTS * 300);
    assert_int_equal(bed(""), BF_OK);
    assert_int_equal(bf_json_kind_of(&a.json, json_at(&a.json, "session")), BF_JSON_NULL);
}

static void a_session_all_crossed_out_has_no_bed(void **state) {
    (void)state;
    new_day();
    asked_line(&a, 10, "cross", "", ",\"of\":\"" ASKED_SESSION "\"");
    assert_int_equal(bed(""), BF_OK);
    assert_int_equal(bf_json_kind_of(&a.json, json_at(&a.json, "session")), BF_JSON_NULL);
}

static void with_nothing_fed_it_is_too_early_to_say(void **state) {
    (void)state;
    new_day();
    line(100, "lower", "\"spot\":\"long\"");
    bed_at(600, "");
    assert_true(asked_has_note(&a, "nothing-fed"));
    assert_string_equal(text("known/sentences/0"), "Nothing fed at long yet.");
    assert_string_equal(text("sentence"), "nothing fed: too early to say");
    BF_CHECK_ABS(number("left/hi"), 0, 0);
    assert_int_equal(length("ledger"), 0);
    assert_int_equal(bf_json_kind_of(&a.json, json_at(&a.json, "known/last")), BF_JSON_NULL);
}

/* ---- Facts ---- */

static void what_is_known_comes_as_it_was_entered(void **state) {
    (void)state;
    made_day();
    line(1000, "look", "\"eye\":\"less\",\"shown\":24");
    bed_at(1020, "");
    BF_CHECK_ABS(number("known/since_put_in_s"), 120, 1e-6);
    assert_string_equal(text("known/last/bait"), "hard-4");
    assert_string_equal(text("known/last/how"), "sprinkle");
    assert_string_equal(text("known/last/text"), "20 hard 4 mm pellets, shaken out");
    BF_CHECK_ABS(number("known/fed"), 100, 0); // at this spot
    BF_CHECK_ABS(number("known/fed_hour"), 100, 0);
    assert_string_equal(text("known/sentences/0"),
                        "Last put-in at long 2 min ago (09:15): 20 hard 4 mm pellets, shaken out.");
    assert_string_equal(text("known/sentences/1"), "Since then no drop.");
    assert_string_equal(text("known/sentences/2"), "Fed there in all 100 pieces in 3 put-ins.");
    assert_string_equal(text("known/sentences/3"),
                        "You judged 20 s ago (09:16): less than shown, which was 24.");
    assert_string_equal(text("known/sentences/4"), "Water 14 C, measured 09:00.");
}

static void facts_stand_before_what_is_reckoned(void **state) {
    (void)state;
    made_day();
    bed_at(1020, "");
    const char *known = strstr(a.answer, "\"known\""), *left = strstr(a.answer, "\"left\"");
    assert_true(known && left && known < left);
    assert_string_equal(text("what"),
                        "A model that starts from guesses and learns from your log. Not a measurement.");
}

static void what_came_after_the_instant_is_not_known(void **state) {
    (void)state;
    made_day();
    bed_at(450, "");
    BF_CHECK_ABS(number("known/fed"), 40, 0);
    assert_string_equal(text("known/sentences/1"), "Since then 1 drop: 1 fish; 2 touches.");
    assert_int_equal(length("spots"), 1); // the other spot was not fed yet
    assert_int_equal(length("left_of"), 1);
}

/* The spot asked about has the same numbers there as above; the other has its own. */
static void every_spot_has_its_estimate(void **state) {
    (void)state;
    new_day();
    line(60, "feed", "\"spot\":\"long\",\"bait\":\"hard-4\",\"count\":40,\"how\":\"clump\"");
    line(70, "feed", "\"spot\":\"margin\",\"bait\":\"hard-4\",\"count\":500,\"how\":\"hand\"");
    bed_at(90, ",\"spot\":\"long\"");
    assert_int_equal(length("spots"), 2);
    BF_CHECK_ABS(number("spots/0/left/mid"), number("left/mid"), 0);
    BF_CHECK_ABS(number("spots/0/left/hi"), number("left/hi"), 0);
    assert_string_equal(text("spots/0/fish"), text("fish/band"));
    BF_CHECK_IN(number("spots/1/left/mid"), 400, 500);
}

static void pieces_of_a_pot_are_those_of_the_pots_model(void **state) {
    (void)state;
    new_day();
    bf_scene scene;
    bf_pot_out holds;
    bf_scene_start(&scene);
    scene.bait = bf_catalogue[bf_catalogue_find("hard-4", 6)].bait;
    scene.pot.volume_m3.value = 8e-6;
    scene.pot.fill_frac.value = 0.5;
    assert_int_equal(bf_pot_holds(&scene.bait, &scene.pot, &scene.counted, &holds), BF_OK);
    line(60, "feed",
         "\"spot\":\"long\",\"bait\":\"hard-4\",\"fill_frac\":0.5,\"pot_m3\":0.000008,\"how\":\"clump\"");
    bed_at(100, "");
    BF_CHECK_REL(number("known/fed"), holds.pieces, 1e-12);
    assert_true(asked_has_note(&a, "by-pot"));
    line(120, "feed", "\"spot\":\"long\",\"bait\":\"hard-4\",\"volume_m3\":0.000004,\"how\":\"clump\"");
    bed_at(200, "");
    BF_CHECK_REL(number("known/fed"), 2 * holds.pieces, 1e-12);
}

static void a_put_in_without_an_amount_is_what_the_pot_holds_or_a_pinch(void **state) {
    (void)state;
    new_day();
    line(60, "feed", "\"spot\":\"long\",\"bait\":\"hard-4\",\"how\":\"throw\"");
    bed_at(100, "");
    BF_CHECK_ABS(number("known/fed"), BF_PINCH, 0);
}

static void what_floats_does_not_lie_on_the_bed(void **state) {
    (void)state;
    new_day();
    line(60, "feed", "\"spot\":\"long\",\"bait\":\"cork\",\"count\":30,\"how\":\"clump\"");
    bed_at(100, ",\"kit\":{\"baits\":[{\"id\":\"cork\",\"form\":\"sphere\",\"diameter\":\"5 "
                "mm\",\"density\":\"800 kg/m3 "
                "give or take 1 kg/m3\",\"density_scatter\":\"0 kg/m3\"}]}");
    BF_CHECK_ABS(number("known/fed"), 0, 0);
    assert_true(asked_has_note(&a, "nothing-fed"));
}

/* ---- What is reckoned ---- */

static void right_after_the_first_put_in_all_of_it_lies_there(void **state) {
    (void)state;
    new_day();
    line(60, "feed", "\"spot\":\"long\",\"bait\":\"hard-4\",\"count\":40,\"how\":\"clump\"");
    bed_at(60, "");
    BF_CHECK_ABS(number("left/lo"), 40, 0);
    BF_CHECK_ABS(number("left/hi"), 40, 0);
    assert_string_equal(text("left/word"), "some");
    assert_string_equal(text("sentence"), "last pot +40, eaten 0, left 40");
}

static void ranges_are_in_order_and_dots_do_not_fall(void **state) {
    (void)state;
    made_day();
    bed_at(1020, "");
    static const char *const ranges[] = {"left", "left_kg", "bites_h", "wide_m"};
    for (int i = 0; i < 4; i++) {
        char lo[32], mid[32], hi[32];
        sprintf(lo, "%s/lo", ranges[i]);
        sprintf(mid, "%s/mid", ranges[i]);
        sprintf(hi, "%s/hi", ranges[i]);
        assert_true(number(lo) <= number(mid) && number(mid) <= number(hi));
    }
    assert_true(number("left/hi") <= 100);
    assert_int_equal(length("left_dots"), 20);
    assert_int_equal(length("fish_dots"), 20);
    double last = -1;
    int dots = json_at(&a.json, "left_dots");
    for (int i = bf_json_first(&a.json, dots); i >= 0; i = bf_json_next(&a.json, i)) {
        double dot;
        assert_int_equal(bf_json_number(&a.json, i, &dot), BF_OK);
        assert_true(dot >= last);
        last = dot;
    }
}

static void fish_are_words_with_a_band_and_no_number(void **state) {
    (void)state;
    made_day();
    bed_at(1020, "");
    int fish = json_at(&a.json, "fish");
    assert_true(bf_json_find(&a.json, fish, "mid") < 0);
    double p = number("fish/p/few") + number("fish/p/some") + number("fish/p/many");
    BF_CHECK_ABS(p, 1, 1e-9);
    const char *word = text("fish/word");
    assert_true(strcmp(word, "few") == 0 || strcmp(word, "some") == 0 || strcmp(word, "many") == 0);
    assert_true(strstr(text("fish/text"), " in 10") != NULL);
}

static void each_size_is_told_with_its_baits(void **state) {
    (void)state;
    new_day();
    line(60, "feed", "\"spot\":\"long\",\"bait\":\"micros-2\",\"count\":300,\"put\":1,\"how\":\"clump\"");
    line(62, "feed", "\"spot\":\"long\",\"bait\":\"hard-6\",\"count\":10,\"put\":1,\"how\":\"clump\"");
    bed_at(100, "");
    assert_int_equal(length("left_of"), 2);
    assert_string_equal(text("left_of/0/bait"), "micros-2");
    assert_string_equal(text("left_of/1/bait"), "hard-6");
    assert_true(number("left_of/1/hi") <
                10.5); // the model's noise of eating may lie a little above nothing eaten
    // Two baits of one put-in are one entry.
    assert_int_equal(length("ledger"), 1);
    assert_string_equal(text("ledger/0/what"), "pot, soft 2 mm micros and hard 6 mm pellets");
    BF_CHECK_ABS(number("ledger/0/in"), 310, 0);
}

/* ---- The ledger and the series ---- */

static void the_ledger_is_put_in_by_put_in_newest_first(void **state) {
    (void)state;
    made_day();
    bed_at(1020, "");
    assert_int_equal(length("ledger"), 3);
    assert_string_equal(text("ledger/0/from"), "2026-04-12T09:15:00.000+00:00");
    assert_string_equal(text("ledger/0/to"), "2026-04-12T09:17:00.000+00:00");
    assert_string_equal(text("ledger/2/what"), "pot, hard 4 mm pellets");
    assert_string_equal(text("ledger/2/to"), text("ledger/1/from"));
    BF_CHECK_ABS(number("ledger/0/in"), 20, 0);
    assert_true(number("ledger/2/gone/hi") <= 40);
    assert_true(strstr(text("ledger/1/text"), "1 drop: 1 missed") != NULL);
    assert_true(strncmp(text("sentence"), "last shake +20, eaten ", 22) == 0);
}

static void the_ledger_has_the_last_ten(void **state) {
    (void)state;
    new_day();
    for (int i = 0; i < 15; i++)
        line(60 + 300 * i, "feed", "\"spot\":\"long\",\"bait\":\"hard-4\",\"count\":12,\"how\":\"clump\"");
    bed_at(4500, "");
    assert_int_equal(length("ledger"), 10);
    assert_string_equal(text("ledger/0/from"), instant(60 + 300 * 14));
    assert_string_equal(text("ledger/9/from"), instant(60 + 300 * 5));
}

static void the_series_is_in_order_and_stands_close_around_put_ins(void **state) {
    (void)state;
    new_day();
    for (int i = 0; i < 20; i++)
        line(63 + 500 * i, "feed", "\"spot\":\"long\",\"bait\":\"hard-4\",\"count\":12,\"how\":\"clump\"");
    bed_at(9700, "");
    int n = length("series"), n_around = 0;
    assert_in_range(n, 46, BF_BELIEF_MOST_MARKS);
    double last_ms = 0;
    int series = json_at(&a.json, "series");
    for (int i = bf_json_first(&a.json, series); i >= 0; i = bf_json_next(&a.json, i)) {
        char at[64];
        double ms;
        int east;
        assert_int_equal(bf_json_string(&a.json, bf_json_find(&a.json, i, "at"), at, sizeof at), BF_OK);
        assert_int_equal(bf_instant_read(at, strlen(at), &ms, &east), BF_OK);
        double t_s = (ms - 1775984400000.0) / 1000;
        assert_true(ms > last_ms && t_s <= 9700 && t_s >= 9700 - 5400 - 120);
        BF_CHECK_ABS(fmod(t_s, 5), 0, 1e-9);
        double since = fmod(t_s - 63 + 1e6 * 500, 500);
        n_around += since < 5 || since >= 495;
        last_ms = ms;
    }
    assert_true(n_around >= 16); // right before and after the last ones
}

/* ---- Which spot, which instant ---- */

static void the_last_spot_is_asked_about_unless_one_is_named(void **state) {
    (void)state;
    made_day();
    bed_at(1020, "");
    assert_string_equal(text("spot"), "long");
    bed_at(1020, ",\"spot\":\"short\"");
    assert_string_equal(text("spot"), "short");
    BF_CHECK_ABS(number("known/fed"), 6, 0);
    assert_string_equal(text("ledger/0/what"), "by hand, hard 6 mm pellets");
    assert_int_equal(bed(",\"spot\":\"margin\""), BF_E_CHOICE);
    check_error("spot", "long or short");
}

static void spots_without_names_are_one_place(void **state) {
    (void)state;
    new_day();
    line(60, "feed", "\"bait\":\"hard-4\",\"count\":12");
    bed_at(100, "");
    assert_string_equal(text("spot"), "");
    assert_string_equal(text("known/sentences/0"),
                        "Last put-in 40 s ago (09:01): 12 hard 4 mm pellets, tipped.");
    assert_int_equal(bed(",\"spot\":\"long\""), BF_E_CHOICE);
    check_error("spot", "no entry names a spot");
}

static void the_instant_is_within_the_session(void **state) {
    (void)state;
    made_day();
    assert_int_equal(bed(",\"at\":\"2026-04-12T08:00:00+00:00\""), BF_E_RANGE);
    check_error("at", "the session's beginning, 12 April 2026 09:00:00, or later");
    assert_int_equal(bed(",\"at\":\"noon\""), BF_E_SYNTAX);
    check_error("at", "an instant");
    assert_int_equal(bed(",\"now\":\"2026-04-12T08:00:00+00:00\""), BF_OK); // a clock that is behind
    assert_string_equal(text("at_text"), "09:00");
    assert_int_equal(bed(""), BF_OK);
    assert_string_equal(text("at"), instant(960)); // the last entry
    line(1200, "close", "");
    bed_at(90000, "");
    assert_string_equal(text("at"), instant(1200));
    assert_true(asked_has_note(&a, "after-close"));
}

static void only_a_day_is_reckoned_with(void **state) {
    (void)state;
    made_day();
    bed_at(7 * 86400, "");
    assert_true(asked_has_note(&a, "cut"));
    assert_true(asked_has_note(&a, "nothing-fed"));
}

/* ---- Kit and plan ---- */

static void a_bait_nobody_knows_is_guessed_and_said(void **state) {
    (void)state;
    new_day();
    line(60, "feed", "\"spot\":\"long\",\"bait\":\"blobs\",\"count\":12,\"how\":\"clump\"");
    bed_at(100, "");
    assert_true(asked_has_note(&a, "bait-guessed"));
    bed_at(100, ",\"kit\":{\"baits\":[{\"id\":\"blobs\",\"form\":\"sphere\",\"diameter\":\"8 "
                "mm\",\"density\":\"1200 kg/m3\"}]}");
    assert_false(asked_has_note(&a, "bait-guessed"));
    BF_CHECK_ABS(number("left_of/0/size_m"), 0.008, 1e-12);
}

#define PLAN                                                                                                 \
    ",\"plan\":{\"spots\":[{\"id\":\"long\",\"distance\":\"11.5 m\",\"depth\":\"1.6 "                        \
    "m\",\"rig\":\"middle\"}],"                                                                              \
    "\"feed\":[{\"spot\":\"long\",\"bait\":\"hard-4\",\"count\":20}]}"

static void a_plans_rig_says_how_well_it_hits(void **state) {
    (void)state;
    made_day();
    bed_at(1020, "");
    assert_true(asked_has_note(&a, "no-aim"));
    BF_CHECK_ABS(number("miss_m"), 0.08, 0);
    bed_at(1020, PLAN);
    assert_false(asked_has_note(&a, "no-aim"));
    assert_true(number("miss_m") > 0.02 && number("miss_m") < 0.5);
    assert_true(number("miss_m") != 0.08);
}

static void deeper_water_spreads_a_put_in_wider(void **state) {
    (void)state;
    double wide_m[2];
    for (int i = 0; i < 2; i++) {
        new_day();
        line(20, "plumb", i ? "\"spot\":\"long\",\"depth_m\":3" : "\"spot\":\"long\",\"depth_m\":0.8");
        line(60, "feed", "\"spot\":\"long\",\"bait\":\"hard-4\",\"count\":40,\"how\":\"clump\"");
        bed_at(60, "");
        wide_m[i] = number("wide_m/mid");
    }
    assert_true(wide_m[1] > 1.2 * wide_m[0]);
}

static void a_bad_plan_or_kit_is_refused_by_field(void **state) {
    (void)state;
    made_day();
    assert_int_equal(bed(",\"plan\":7"), BF_E_TYPE);
    check_error("plan", "a plan");
    assert_int_equal(bed(",\"plan\":{\"spots\":[{\"id\":\"long\",\"depth\":\"40 m\"}]}"), BF_E_RANGE);
    check_error("spots[0].depth_m", "12 m");
    assert_int_equal(bed(",\"kit\":{\"baits\":[{\"id\":\"x\",\"diameter\":\"-4 mm\"}]}"), BF_E_RANGE);
    check_error("kit.baits[0].diameter_m", "accepted");
    assert_int_equal(bed(",\"kat\":{}"), BF_E_KEY);
}

static void numbers_of_the_request_are_checked(void **state) {
    (void)state;
    made_day();
    assert_int_equal(asked_ask(&a, "bed", "{\"sets\":0}"), BF_E_RANGE);
    check_error("sets", "1 to 4096");
    assert_int_equal(asked_ask(&a, "bed", "{\"particles\":1e9}"), BF_E_RANGE);
    assert_int_equal(asked_ask(&a, "bed", "{\"seed\":1.5}"), BF_E_RANGE);
    check_error("seed", "whole");
    assert_int_equal(bed(",\"pictures\":[\"side\"]"), BF_E_CHOICE);
    check_error("pictures", "left, fish or above");
    assert_int_equal(bed(",\"look\":\"dawn\""), BF_E_CHOICE);
    assert_int_equal(asked_ask(&a, "bed", "{\"sets\":4096}"), BF_E_SPACE);
    check_error("sets", "16 sets of 640");
}

static void pictures_are_drawn_when_asked_for(void **state) {
    (void)state;
    made_day();
    bed_at(1020, ",\"pictures\":[\"left\",\"fish\",\"above\"],\"look\":\"sun\"");
    static const char *const names[] = {"pictures/left/svg", "pictures/fish/svg", "pictures/above/svg"};
    for (int i = 0; i < 3; i++) {
        size_t n;
        const char *svg = bf_json_raw(&a.json, json_at(&a.json, names[i]), &n);
        assert_true(n > 500 && strncmp(svg, "\"<svg", 5) == 0);
    }
}

static void more_than_can_be_drawn_is_said_not_refused(void **state) {
    (void)state;
    new_day();
    for (int i = 0; i < 3; i++)
        line(60 + i, "feed", "\"spot\":\"long\",\"bait\":\"hard-4\",\"count\":1000000,\"how\":\"clump\"");
    bed_at(70, ",\"pictures\":[\"left\"]");
    assert_true(asked_has_note(&a, "not-drawn"));
}

/* ---- However much was entered ---- */

static void ten_thousand_entries_are_answered(void **state) {
    (void)state;
    new_day();
    for (int i = 0; i < 2500; i++) {
        double at_s = 10 + 8 * i;
        char body[128];
        sprintf(body, "\"spot\":\"spot %d\",\"bait\":\"bait %d\",\"count\":3,\"how\":\"%s\"", i % 11, i % 19,
                i % 2 ? "clump" : "throw");
        line(at_s, "feed", body);
        line(at_s + 2, "lower", "\"spot\":\"long\"");
        line(at_s + 3, "touch", "\"n\":1");
        line(at_s + 5, "lift", "\"outcome\":\"nothing\"");
    }
    assert_int_equal(bed(",\"pictures\":[\"left\",\"fish\",\"above\"]"), BF_OK);
    assert_string_equal(text("spot"), "long");
    assert_int_equal(length("spots"), 8); // as many as are told apart
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_journal_without_a_session_has_no_bed),
        cmocka_unit_test(a_session_all_crossed_out_has_no_bed),
        cmocka_unit_test(with_nothing_fed_it_is_too_early_to_say),
        cmocka_unit_test(what_is_known_comes_as_it_was_entered),
        cmocka_unit_test(facts_stand_before_what_is_reckoned),
        cmocka_unit_test(what_came_after_the_instant_is_not_known),
        cmocka_unit_test(every_spot_has_its_estimate),
        cmocka_unit_test(pieces_of_a_pot_are_those_of_the_pots_model),
        cmocka_unit_test(a_put_in_without_an_amount_is_what_the_pot_holds_or_a_pinch),
        cmocka_unit_test(what_floats_does_not_lie_on_the_bed),
        cmocka_unit_test(right_after_the_first_put_in_all_of_it_lies_there),
        cmocka_unit_test(ranges_are_in_order_and_dots_do_not_fall),
        cmocka_unit_test(fish_are_words_with_a_band_and_no_number),
        cmocka_unit_test(each_size_is_told_with_its_baits),
        cmocka_unit_test(the_ledger_is_put_in_by_put_in_newest_first),
        cmocka_unit_test(the_ledger_has_the_last_ten),
        cmocka_unit_test(the_series_is_in_order_and_stands_close_around_put_ins),
        cmocka_unit_test(the_last_spot_is_asked_about_unless_one_is_named),
        cmocka_unit_test(spots_without_names_are_one_place),
        cmocka_unit_test(the_instant_is_within_the_session),
        cmocka_unit_test(only_a_day_is_reckoned_with),
        cmocka_unit_test(a_bait_nobody_knows_is_guessed_and_said),
        cmocka_unit_test(a_plans_rig_says_how_well_it_hits),
        cmocka_unit_test(deeper_water_spreads_a_put_in_wider),
        cmocka_unit_test(a_bad_plan_or_kit_is_refused_by_field),
        cmocka_unit_test(numbers_of_the_request_are_checked),
        cmocka_unit_test(pictures_are_drawn_when_asked_for),
        cmocka_unit_test(more_than_can_be_drawn_is_said_not_refused),
        cmocka_unit_test(ten_thousand_entries_are_answered),
    };
    int failed = cmocka_run_group_tests(tests, NULL, NULL);
    end_day();
    return failed;
}
