/* The question "review": its sentences on journals whose answer is known by hand, and on odd ones. */
#include "text/asked.h"

#define ALL_PICTURES                                                                                         \
    "{\"pictures\":[\"timeline\",\"waits\",\"catch\",\"rates\",\"change\",\"sheet\"],\"wide\":true}"

static int member(const asked *a, const char *key) {
    return bf_json_find(&a->json, 0, key);
}

static const char *string(const asked *a, int object, const char *key) {
    static char text[1024];
    assert_int_equal(bf_json_string(&a->json, bf_json_find(&a->json, object, key), text, sizeof text), BF_OK);
    return text;
}

/* Every kind of answer to the journal as it stands; the last one is left to look at. */
static void review_in_full(asked *a) {
    if (asked_ask(a, "review", ALL_PICTURES)) print_error("%s\n", a->answer);
    assert_true(bf_json_find(&a->json, 0, "error") < 0);
    assert_int_equal(asked_ask(a, "review", "{}"), BF_OK);
}

/* Lifts `every_s` apart from `from_s`, each after a lowering `wait_s` before it. */
static double fish_on(asked *a, double from_s, int n, double wait_s, const char *outcome) {
    char body[128];
    snprintf(body, sizeof body, "\"spot\":\"long\",\"outcome\":\"%s\"", outcome);
    for (int i = 0; i < n; i++) {
        asked_line(a, from_s + 60, "lower", "\"spot\":\"long\"", "");
        asked_line(a, from_s + 60 + wait_s, "lift", body, "");
        from_s += 60 + wait_s;
    }
    return from_s;
}

/* The sum of one column of the table of this name. */
static double column_sum(const asked *a, const char *table, int column) {
    double sum = 0;
    int tables = member(a, "tables");
    for (int i = bf_json_first(&a->json, tables); i >= 0; i = bf_json_next(&a->json, i)) {
        if (strcmp(string(a, i, "name"), table) != 0) continue;
        int rows = bf_json_find(&a->json, i, "rows");
        for (int row = bf_json_first(&a->json, rows); row >= 0; row = bf_json_next(&a->json, row)) {
            char count[32], *end;
            int cell = bf_json_first(&a->json, row);
            for (int k = 0; k < column; k++) cell = bf_json_next(&a->json, cell);
            assert_int_equal(bf_json_string(&a->json, cell, count, sizeof count), BF_OK);
            sum += strtod(count, &end);
            assert_true(end > count && *end == 0);
        }
    }
    return sum;
}

/* What the fold counts in the session is counted once in the outcomes by feed, and its fish once in the half hours. */
static void tables_add_up_to_the_session(asked *a) {
    static const int outcomes[] = {BF_LANDED, BF_LOST, BF_FOUL, BF_MISSED, BF_NOTHING, BF_TOUCHED};
    const bf_session *session = &bf_journal_fold(a->journal)->session[0];
    for (int k = 0; k < 6; k++)
        BF_CHECK_ABS(column_sum(a, "outcomes", 1 + k), (double)session->count[outcomes[k]], 0);
    int rates = member(a, "rates"), halves = bf_json_find(&a->json, rates, "halves");
    double n_fish = asked_number(a, rates, "n_fish_outside");
    for (int i = bf_json_first(&a->json, halves); i >= 0; i = bf_json_next(&a->json, i))
        n_fish += asked_number(a, i, "n_fish");
    BF_CHECK_ABS(n_fish, (double)session->count[BF_LANDED], 1e-6);
}

/* ---- Known answers ---- */

/* Ten fish between 10:00 and 10:30, one in each other half hour: waits of 100 s but one. */
static void the_best_half_hour_and_the_middle_wait_are_told(void **state) {
    (void)state;
    asked a = asked_start();
    asked_line(&a, 0, "open", "\"venue\":\"Withy Pool (invented)\",\"peg\":\"14\"", "");
    fish_on(&a, 600, 1, 100, "landed");
    fish_on(&a, 2400, 1, 100, "landed");
    fish_on(&a, 3600, 10, 100, "landed");
    fish_on(&a, 6000, 1, 100, "landed");
    asked_line(&a, 9000, "close", "", "");
    review_in_full(&a);
    assert_non_null(strstr(asked_sentence(&a, 0), "Best half hour 10:00-10:30: 10 fish, over 9 in 10"));
    assert_non_null(strstr(asked_sentence(&a, 1), "Half the waits ended by 1 min 40 s"));
    int waits = member(&a, "waits"), rates = member(&a, "rates");
    BF_CHECK_ABS(asked_number(&a, waits, "n_waits"), 13.0, 0);
    BF_CHECK_ABS(asked_number(&a, waits, "n_ended"), 13.0, 0);
    BF_CHECK_ABS(asked_number(&a, waits, "n_unseen"), 0.0, 0);
    BF_CHECK_ABS(asked_number(&a, rates, "best_half"), 2.0, 0);
    asked_free(&a);
}

/* Opened late and closed early: what was fished before and after is in half hours of its own. */
static void fish_entered_as_before_the_opening_and_after_the_end_are_in_half_hours(void **state) {
    (void)state;
    asked a = asked_start();
    fish_on(&a, 0, 6, 100, "landed"); // 09:02 to 09:16
    asked_line(&a, 1800, "open", "\"venue\":\"Withy Pool (invented)\",\"peg\":\"14\"", "");
    fish_on(&a, 2400, 1, 100, "landed");
    asked_line(&a, 3600, "close", "", "");
    asked_line(&a, 5700, "lift", "\"outcome\":\"landed\"", ""); // 10:35
    review_in_full(&a);
    assert_non_null(strstr(asked_sentence(&a, 0), "Best half hour 09:02-09:30: 6 fish"));
    BF_CHECK_ABS(asked_number(&a, member(&a, "rates"), "n_fish_outside"), 0.0, 0);
    tables_add_up_to_the_session(&a);
    asked_free(&a);
}

/* One entry a week early is more likely a slip than a week's fishing: the day keeps its half hours, and the fish is told apart. */
static void a_fish_a_week_early_is_counted_outside_of_the_half_hours(void **state) {
    (void)state;
    asked a = asked_start();
    asked_line(&a, -7 * 86400.0, "lift", "\"outcome\":\"landed\"", "");
    asked_line(&a, 0, "open", "\"venue\":\"Withy Pool (invented)\",\"peg\":\"14\"", "");
    fish_on(&a, 0, 6, 100, "landed");
    asked_line(&a, 7200, "close", "", "");
    review_in_full(&a);
    assert_non_null(strstr(asked_sentence(&a, 0), "Best half hour 09:00-09:30: 6 fish"));
    BF_CHECK_ABS(asked_number(&a, member(&a, "rates"), "n_fish_outside"), 1.0, 0);
    tables_add_up_to_the_session(&a);
    asked_free(&a);
}

/* Fourteen put-ins of each feed with three bites over each; waits halve with the second feed. */
static void feed_one_then_the_other(asked *a, const char *first, const char *second) {
    double s = 0;
    asked_line(a, s, "open", "", "");
    for (int i = 0; i < 28; i++) {
        int is_second = i >= 14;
        char body[200];
        snprintf(body, sizeof body, "\"spot\":\"long\",\"bait\":\"%s\",\"how\":\"clump\"",
                 is_second ? second : first);
        asked_line(a, s + 10, "feed", body, "");
        for (int k = 0; k < 3; k++)
            s = fish_on(a, s + 20, 1, (is_second ? 50 : 100) * (0.6 + 0.8 * ((i * 3 + k) * 7 % 11) / 10.0),
                        "landed");
    }
    asked_line(a, s + 30, "close", "", "");
}

/* The request tells what the angler's own names mean; a name that nobody knows is only a change. */
static void the_kits_baits_tell_which_way_the_size_went(void **state) {
    (void)state;
    asked a = asked_start();
    feed_one_then_the_other(&a, "house mix", "soft two");
    assert_int_equal(asked_ask(&a, "review",
                               "{\"baits\":[{\"id\":\"house mix\",\"form\":\"sphere\",\"diameter_m\":0.006,"
                               "\"density_kg_m3\":1200},{\"id\":\"soft two\",\"was\":[],\"form\":\"sphere\","
                               "\"diameter_m\":0.002,\"density_kg_m3\":1200}]}"),
                     BF_OK);
    assert_non_null(
        strstr(asked_sentence(&a, 2), "After stepping down from house mix to soft two, waits were 0."));
    assert_int_equal(asked_ask(&a, "review", "{}"), BF_OK);
    assert_non_null(
        strstr(asked_sentence(&a, 2), "After changing from house mix to soft two, waits were 0."));
    asked_free(&a);
}

/* The sizes stand in the catalogue. */
static void stepping_up_a_size_is_told_with_its_interval(void **state) {
    (void)state;
    asked a = asked_start();
    feed_one_then_the_other(&a, "micros-2", "hard-4");
    review_in_full(&a);
    const char *third = asked_sentence(&a, 2);
    assert_non_null(
        strstr(third, "After stepping up from soft 2 mm micros to hard 4 mm pellets, waits were 0."));
    assert_null(strstr(third, "too close"));
    int changes = member(&a, "changes"), ratio = bf_json_find(&a.json, changes, "waits_ratio");
    BF_CHECK_IN(asked_number(&a, ratio, "hi"), 0.05, 0.8);
    assert_true(asked_has_note(&a, "confounded"));
    assert_true(asked_has_note(&a, "as-long"));
    assert_non_null(strstr(string(&a, 0, "try"), "in turns drawn by lot"));
    asked_free(&a);
}

/* ---- Too early ---- */

static void four_fish_are_too_few_to_say_anything_of(void **state) {
    (void)state;
    asked a = asked_start();
    asked_line(&a, 0, "open", "", "");
    fish_on(&a, 600, 4, 100, "landed");
    asked_line(&a, 3600, "close", "", "");
    review_in_full(&a);
    assert_string_equal(asked_sentence(&a, 0), "Too early to say which half hour was best: 4 fish.");
    assert_string_equal(asked_sentence(&a, 1),
                        "Too early to say how long a bite took: 4 waits ended with one.");
    assert_string_equal(asked_sentence(&a, 2), "Too early to say whether anything changed.");
    assert_non_null(strstr(string(&a, 0, "try_rule"), "Fewer than five"));
    int rates = member(&a, "rates"), fish = bf_json_find(&a.json, rates, "fish_per_h");
    assert_true(isnan(asked_number(&a, fish, "mid")));
    assert_string_equal(string(&a, fish, "text"), "too early to say");
    asked_free(&a);
}

/* ---- What counts ---- */

static void touches_end_no_wait_and_blanks_cut_it_short(void **state) {
    (void)state;
    asked a = asked_start();
    asked_line(&a, 0, "open", "", "");
    asked_line(&a, 60, "lower", "", "");
    asked_line(&a, 90, "touch", "\"n\":2", "");
    asked_line(&a, 120, "touch", "", "");
    asked_line(&a, 200, "lift", "\"outcome\":\"nothing\"", "");
    asked_line(&a, 260, "lower", "", ""); // ended by the next lower: implied
    asked_line(&a, 400, "lower", "", "");
    asked_line(&a, 500, "lift", "\"outcome\":\"missed\"", "");
    review_in_full(&a);
    int waits = member(&a, "waits"), feed = bf_json_first(&a.json, member(&a, "outcomes"));
    BF_CHECK_ABS(asked_number(&a, waits, "n_ended"), 1.0, 0);
    BF_CHECK_ABS(asked_number(&a, feed, "touch"), 3.0, 0);
    BF_CHECK_ABS(asked_number(&a, feed, "nothing"), 2.0, 0);
    BF_CHECK_ABS(asked_number(&a, feed, "missed"), 1.0, 0);
    assert_true(asked_has_note(&a, "implied"));
    asked_free(&a);
}

static void crossed_out_entries_are_in_nothing(void **state) {
    (void)state;
    asked a = asked_start();
    asked_line(&a, 0, "open", "", "");
    fish_on(&a, 600, 6, 100, "landed"); // entries 2 to 13
    asked_line(&a, 3000, "cross", "", ",\"of\":\"0000000000000000000000000000000d\"");
    asked_line(&a, 3600, "close", "", "");
    review_in_full(&a);
    int feed = bf_json_first(&a.json, member(&a, "outcomes"));
    BF_CHECK_ABS(asked_number(&a, feed, "landed"), 5.0, 0);
    assert_true(asked_has_note(&a, "crossed-out"));
    asked_free(&a);
}

static void a_wait_that_nobody_saw_start_begins_the_turnaround_after_its_base(void **state) {
    (void)state;
    asked a = asked_start();
    asked_line(&a, 0, "open", "", "");
    for (int i = 0; i < 16; i++)
        asked_line(&a, 600 + 200 * i + (i * i) % 5, "lift", "\"outcome\":\"landed\"", "");
    asked_line(&a, 4000, "close", "", "");
    review_in_full(&a);
    int waits = member(&a, "waits"), median = bf_json_find(&a.json, waits, "median_s");
    BF_CHECK_ABS(asked_number(&a, waits, "n_unknown"), 1.0, 0); // the first: nothing before it
    BF_CHECK_ABS(asked_number(&a, waits, "n_unseen"), 15.0, 0);
    BF_CHECK_ABS(asked_number(&a, median, "mid"), 200 - 45.0, 4);
    assert_true(asked_has_note(&a, "starts-unseen"));
    assert_true(asked_has_note(&a, "starts-unknown"));
    // Waits nearly alike, none seen to start: RIG IN would tell more than anything else.
    assert_non_null(strstr(string(&a, 0, "try"), "RIG IN"));
    asked_free(&a);
}

/* ---- Odd journals ---- */

static void an_empty_journal_has_no_session(void **state) {
    (void)state;
    asked a = asked_start();
    review_in_full(&a);
    assert_int_equal(bf_json_kind_of(&a.json, member(&a, "session")), BF_JSON_NULL);
    asked_free(&a);
}

static void a_session_of_its_start_alone_says_too_early(void **state) {
    (void)state;
    asked a = asked_start();
    asked_line(&a, 0, "open", "", "");
    review_in_full(&a);
    for (int i = 0; i < 3; i++) assert_non_null(strstr(asked_sentence(&a, i), "Too early to say"));
    asked_free(&a);
}

static void a_session_all_crossed_out_is_answered_and_not_drawn(void **state) {
    (void)state;
    asked a = asked_start();
    asked_line(&a, 0, "open", "", "");
    asked_line(&a, 100, "lift", "\"outcome\":\"landed\"", "");
    asked_line(&a, 200, "cross", "", ",\"of\":\"00000000000000000000000000000001\"");
    asked_line(&a, 201, "cross", "", ",\"of\":\"00000000000000000000000000000002\"");
    const char *request = "{\"session\":\"" ASKED_SESSION "\",\"pictures\":[\"sheet\",\"rates\"]}";
    assert_int_equal(asked_ask(&a, "review", request), BF_OK);
    for (int i = 0; i < 3; i++) assert_non_null(strstr(asked_sentence(&a, i), "Too early to say"));
    assert_true(asked_has_note(&a, "not-drawn"));
    asked_free(&a);
}

static void one_drop_and_tallies_alone_are_answered(void **state) {
    (void)state;
    asked one = asked_start(), tally = asked_start();
    asked_line(&one, 0, "open", "", "");
    fish_on(&one, 60, 1, 30, "foul");
    review_in_full(&one);
    assert_non_null(strstr(asked_sentence(&one, 1), "1 wait ended"));
    asked_line(&tally, 0, "open", "", "");
    asked_line(&tally, 7200, "tally",
               "\"from\":\"2026-04-12T09:00:00Z\",\"to\":\"2026-04-12T11:00:00Z\",\"landed\":8,\"missed\":3",
               "");
    asked_line(&tally, 7300, "close", "", "");
    review_in_full(&tally);
    // Two fish in each of the four half hours, and which was best is chance.
    assert_non_null(strstr(asked_sentence(&tally, 0), ": 2 fish, though it may be chance"));
    assert_non_null(strstr(asked_sentence(&tally, 1), "Too early to say"));
    assert_true(asked_has_note(&tally, "tallied"));
    asked_free(&one);
    asked_free(&tally);
}

static void two_thousand_drops_are_answered_and_drawn(void **state) {
    (void)state;
    asked a = asked_start();
    asked_line(&a, 0, "open", "", "");
    asked_line(&a, 1, "feed", "\"bait\":\"soft two\",\"how\":\"clump\"", "");
    for (int i = 0; i < 2100; i++)
        asked_line(&a, 60 + 20 * i, "lift", i % 3 ? "\"outcome\":\"landed\"" : "\"outcome\":\"missed\"", "");
    review_in_full(&a);
    assert_int_equal(asked_ask(&a, "review", ALL_PICTURES), BF_OK);
    assert_true(asked_has_note(&a, "drawing-cut"));
    int feed = bf_json_first(&a.json, member(&a, "outcomes"));
    BF_CHECK_ABS(asked_number(&a, feed, "landed") + asked_number(&a, feed, "missed"), 2100.0, 0);
    asked_free(&a);
}

static unsigned dice(uint64_t *state, unsigned sides) {
    *state = *state * 6364136223846793005u + 1442695040888963407u;
    return (unsigned)(*state >> 33) % sides;
}

/* Anything that may be entered, in any order and at any time: every question is answered and every picture drawn. */
static void random_journals_are_answered_and_drawn(void **state) {
    static const char *const bodies[][2] = {
        {"lower", "\"spot\":\"long\""},
        {"lower", ""},
        {"lift", "\"outcome\":\"landed\",\"held\":\"corner\",\"mass_kg\":1.2"},
        {"lift", "\"outcome\":\"missed\""},
        {"lift", "\"outcome\":\"foul\",\"spot\":\"short\""},
        {"lift", "\"outcome\":\"lost\""},
        {"lift", "\"outcome\":\"nothing\""},
        {"touch", "\"n\":3"},
        {"feed", "\"bait\":\"micros-2\",\"how\":\"clump\",\"volume_m3\":0.00003"},
        {"feed", "\"bait\":\"hard-4\",\"how\":\"sprinkle\",\"count\":30,\"spot\":\"short\""},
        {"feed", "\"bait\":\"hard-6\",\"how\":\"throw\",\"count\":5"},
        {"tally",
         "\"from\":\"2026-04-12T09:10:00Z\",\"to\":\"2026-04-12T10:05:00Z\",\"landed\":7,\"lost\":1"},
        {"tally", "\"from\":\"2026-04-12T09:40:00Z\",\"to\":\"2026-04-12T12:00:00Z\",\"missed\":900"},
        {"net", "\"net\":2"},
        {"net", "\"net\":1,\"mass_kg\":12.5"},
        {"water", "\"temp_c\":11.5"},
        {"note",
         "\"note\":\"trial seed 7, 12 blocks of 20 min, first 5 min dropped, a = micros-2, b = hard-4\""},
        {"look", "\"spot\":\"long\",\"eye\":\"less\""},
        {"close", ""},
    };
    const unsigned n_bodies = sizeof bodies / sizeof bodies[0];
    (void)state;
    uint64_t seed = 5;
    for (int run = 0; run < 24; run++) {
        asked a = asked_start();
        unsigned n = 1 + dice(&seed, 120), span_s = run % 4 ? 18000 : 60 + dice(&seed, 5000000);
        if (run % 5) asked_line(&a, 0, "open", "\"venue\":\"Withy Pool (invented)\"", "");
        for (unsigned i = 0; i < n; i++) {
            const char *const *body = bodies[dice(&seed, n_bodies)];
            char of[64];
            double back_s = run % 3 ? 0 : span_s / 2.0; // what came before the opening, too
            asked_line(&a, dice(&seed, span_s) - back_s, body[0], body[1], "");
            snprintf(of, sizeof of, ",\"of\":\"%032x\"", 1 + dice(&seed, (unsigned)a.seq));
            if (dice(&seed, 10) == 0) asked_line(&a, span_s, "cross", "", of);
        }
        if (asked_ask(&a, "review", ALL_PICTURES)) print_error("run %d: %s\n", run, a.answer);
        assert_true(member(&a, "error") < 0);
        tables_add_up_to_the_session(&a);
        if (run % 4 == 0) assert_int_equal(asked_ask(&a, "season", "{}"), BF_OK);
        assert_int_equal(asked_ask(&a, "trial", "{}"), BF_OK);
        asked_free(&a);
    }
}

/* ---- Requests ---- */

static void bad_requests_name_the_field(void **state) {
    static const struct {
        const char *request, *field;
        bf_status status;
    } cases[] = {
        {"{\"look\":\"neon\"}", "look", BF_E_CHOICE},
        {"{\"wide\":1}", "wide", BF_E_TYPE},
        {"{\"pictures\":\"sheet\"}", "pictures", BF_E_TYPE},
        {"{\"pictures\":[\"film\"]}", "pictures", BF_E_CHOICE},
        {"{\"session\":\"12\"}", "session", BF_E_SYNTAX},
        {"{\"session\":\"000000000000000000000000000000ff\"}", "session", BF_E_CHOICE},
        {"{\"nets\":1}", "nets", BF_E_KEY},
        {"{\"baits\":[{\"id\":\"x\",\"diameter_m\":5}]}", "baits[0].diameter_m", BF_E_RANGE},
    };
    (void)state;
    asked a = asked_start();
    asked_line(&a, 0, "open", "", "");
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        bf_status status = asked_ask(&a, "review", cases[i].request);
        if (status != cases[i].status) print_error("%s: %s\n", cases[i].request, a.answer);
        assert_int_equal(status, cases[i].status);
        assert_string_equal(string(&a, member(&a, "error"), "field"), cases[i].field);
    }
    asked_free(&a);
}

/* The order of lines and lines given twice make no difference to a byte of the answer. */
static void the_answer_does_not_depend_on_the_order_of_lines(void **state) {
    static char lines[400][600];
    static size_t length[400];
    (void)state;
    asked forward = asked_start(), backward = asked_start();
    invented_day day = invented_start(11, 4);
    invented_write(&day, asked_take, &forward, NULL);
    int n = bf_journal_n(forward.journal);
    assert_in_range(n, 100, 400);
    for (int i = 0; i < n; i++) {
        const char *line = bf_journal_line(forward.journal, i, &length[i]);
        assert_in_range(length[i], 1, sizeof lines[0]);
        memcpy(lines[i], line, length[i]);
    }
    for (int i = n - 1; i >= 0; i--) asked_take(&backward, lines[i], length[i]);
    for (int i = 0; i < 20; i++) asked_take(&backward, lines[i], length[i]);
    assert_int_equal(asked_ask(&forward, "review", ALL_PICTURES), BF_OK);
    assert_int_equal(asked_ask(&backward, "review", ALL_PICTURES), BF_OK);
    assert_string_equal(forward.answer, backward.answer);
    asked_free(&forward);
    asked_free(&backward);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_best_half_hour_and_the_middle_wait_are_told),
        cmocka_unit_test(fish_entered_as_before_the_opening_and_after_the_end_are_in_half_hours),
        cmocka_unit_test(a_fish_a_week_early_is_counted_outside_of_the_half_hours),
        cmocka_unit_test(stepping_up_a_size_is_told_with_its_interval),
        cmocka_unit_test(the_kits_baits_tell_which_way_the_size_went),
        cmocka_unit_test(four_fish_are_too_few_to_say_anything_of),
        cmocka_unit_test(touches_end_no_wait_and_blanks_cut_it_short),
        cmocka_unit_test(crossed_out_entries_are_in_nothing),
        cmocka_unit_test(a_wait_that_nobody_saw_start_begins_the_turnaround_after_its_base),
        cmocka_unit_test(an_empty_journal_has_no_session),
        cmocka_unit_test(a_session_of_its_start_alone_says_too_early),
        cmocka_unit_test(a_session_all_crossed_out_is_answered_and_not_drawn),
        cmocka_unit_test(one_drop_and_tallies_alone_are_answered),
        cmocka_unit_test(two_thousand_drops_are_answered_and_drawn),
        cmocka_unit_test(random_journals_are_answered_and_drawn),
        cmocka_unit_test(bad_requests_name_the_field),
        cmocka_unit_test(the_answer_does_not_depend_on_the_order_of_lines),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
