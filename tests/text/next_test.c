/* The question "next" from outside: lines in, advice out. What the advice is worth is tested in tests/swim/advise_test.c. */
#include "asked.h"
#include "baitfall/advise.h"
#include "common/json_at.h"

/* Few particles and the phone's setting answer fast; no claim here depends on how many there are. */
#define QUICK "\"sets\":4,\"particles\":64,\"phone\":true"
#define START_MS 1775984400000.0

static asked a;

static void session_line(int session, double at_s, const char *kind, const char *body) {
    char line[1024], at[BF_INSTANT_BYTES];
    bf_instant_write(START_MS + 1000 * at_s, 0, at);
    a.seq++;
    int n = snprintf(line, sizeof line,
                     "{\"v\":1,\"id\":\"%032x\",\"session\":\"%032x\",\"dev\":\"00000001\",\"run\":"
                     "\"00000001\",\"seq\":%d,"
                     "\"kind\":\"%s\",\"at\":\"%s\",\"pm_s\":5,\"rec\":\"%s\",\"body\":{%s}}",
                     (unsigned)a.seq, (unsigned)session, a.seq, kind, at, at, body);
    asked_take(&a, line, (size_t)n);
}

static void line(double at_s, const char *kind, const char *body) {
    session_line(1, at_s, kind, body);
}

static void start(void) {
    if (!a.memory) a = asked_start();
    a.journal = bf_journal_start(a.memory, ASKED_EVENTS, (size_t)ASKED_EVENTS * 300);
    a.seq = 0;
}

/* Two spots, two baits, pot and catapult; the last put-in at 900 s. */
static void made_day(const char *open_more) {
    char open[256];
    snprintf(open, sizeof open, "\"venue\":\"Withy Pool\",\"peg\":\"14\",\"hook_bait\":\"hard-6\"%s",
             open_more);
    start();
    line(0, "open", open);
    line(5, "water", "\"temp_c\":16");
    line(60, "feed", "\"spot\":\"short\",\"bait\":\"hard-6\",\"count\":6,\"how\":\"throw\"");
    line(300, "feed", "\"spot\":\"long\",\"bait\":\"hard-4\",\"count\":40,\"how\":\"clump\"");
    line(330, "lower", "\"spot\":\"long\",\"hook_bait\":\"hard-6\"");
    line(400, "lift", "\"outcome\":\"landed\",\"mass_kg\":1.5");
    line(460, "lower", "\"spot\":\"long\",\"hook_bait\":\"soft-6\"");
    line(600, "lift", "\"outcome\":\"missed\"");
    line(660, "feed", "\"spot\":\"long\",\"bait\":\"hard-6\",\"count\":10,\"how\":\"throw\"");
    line(900, "feed", "\"spot\":\"long\",\"bait\":\"hard-4\",\"count\":30,\"how\":\"clump\"");
    line(940, "lower", "\"spot\":\"long\",\"hook_bait\":\"hard-6\"");
    line(1000, "touch", "\"n\":1");
}

/* Session `number` of long ago, with so many lifts. */
static void earlier(int number, int lifts) {
    double day_s = -86400.0 * (20 - number);
    session_line(100 + number, day_s, "open", "\"venue\":\"Withy Pool\"");
    for (int i = 0; i < lifts; i++)
        session_line(100 + number, day_s + 120 * (i + 1), "lift", "\"outcome\":\"nothing\"");
    session_line(100 + number, day_s + 120 * (lifts + 2), "close", "");
}

static const char *instant(double at_s) {
    static char at[BF_INSTANT_BYTES];
    bf_instant_write(START_MS + 1000 * at_s, 0, at);
    return at;
}

static bf_status next(double at_s, const char *more) {
    char request[8192];
    snprintf(request, sizeof request, "{" QUICK ",\"session\":\"%032x\",\"at\":\"%s\"%s}", 1u, instant(at_s),
             more);
    return asked_ask(&a, "next", request);
}

static void advised(double at_s, const char *more) {
    if (next(at_s, more)) fail_msg("%.1000s", a.answer);
}

static double number(const char *path) {
    return json_number_at(&a.json, path);
}
static const char *text(const char *path) {
    return json_text_at(&a.json, path);
}
static int is_null(const char *path) {
    return bf_json_kind_of(&a.json, json_at(&a.json, path)) == BF_JSON_NULL;
}
static int length(const char *path) {
    int n = 0;
    for (int i = bf_json_first(&a.json, json_at(&a.json, path)); i >= 0; i = bf_json_next(&a.json, i)) n++;
    return n;
}
static void check_error(bf_status got, bf_status want, const char *field) {
    assert_int_equal(got, want);
    assert_string_equal(text("error/field"), field);
}

/* ---- No advice ---- */

static void where_there_is_none_a_note_says_why(void **state) {
    (void)state;
    start();
    assert_int_equal(asked_ask(&a, "next", "{}"), BF_OK);
    assert_true(is_null("session"));
    line(0, "open", "\"venue\":\"Withy Pool\"");
    line(100, "lower", "\"spot\":\"long\"");
    advised(600, "");
    assert_true(is_null("action") && asked_has_note(&a, "nothing-fed"));
    made_day("");
    line(1500, "close", "");
    advised(1500, "");
    assert_true(is_null("action") && asked_has_note(&a, "closed"));
    assert_true(length("known/sentences") >= 2); /* facts come all the same */
    advised(1200, "");                           /* as it was then */
    assert_false(is_null("action"));
}

/* "until 09:18" is later than the instant asked about; 1 when there is such a time. */
static int ends_after(const char *words, double at_s) {
    const char *until = strstr(words, "ntil ");
    int hours, minutes;
    if (!until || sscanf(until, "ntil %d:%d", &hours, &minutes) != 2) return 0;
    assert_true(3600 * (hours - 9) + 60 * minutes > at_s);
    return 1;
}

static void what_is_to_be_waited_for_is_later_than_now(void **state) {
    (void)state;
    made_day("");
    int n = 0;
    for (int to_go_s = 5; to_go_s < 240; to_go_s += 31) {
        char given[256];
        snprintf(
            given, sizeof given,
            ",\"given\":{\"what\":\"wait\",\"spot\":\"long\",\"hook_bait\":\"hard-6\",\"bait\":\"hard-4\","
            "\"count\":30,\"how\":\"clump\",\"wait_s\":%d,\"every_s\":300,\"at\":\"%s\"}",
            to_go_s, instant(1000 + to_go_s));
        advised(1000 + to_go_s, given); /* too soon to change */
        n += ends_after(text("action/text"), 1000 + to_go_s);
    }
    assert_true(n >= 6);
}

static void an_action_fits_fifteen_letters_and_says_its_part_of_the_last_put_in(void **state) {
    (void)state;
    made_day("");
    for (int at_s = 1000; at_s <= 2600; at_s += 200) {
        advised(at_s, "");
        size_t n = strlen(text("action/short"));
        assert_true(n >= 8 && n <= 15);
        if (is_null("action/bait")) {
            assert_true(is_null("action/times"));
            continue;
        }
        double times = number("action/times");
        BF_CHECK_IN(times, 0.1, 10);
        if (strcmp(text("action/bait"), "hard-4") == 0 && strcmp(text("action/spot"), "long") == 0)
            BF_CHECK_ABS(number("action/count"), 30 * times, 0);
    }
}

/* ---- Book and own ---- */

static void until_five_sessions_of_twenty_lifts_it_is_the_book_in_words(void **state) {
    (void)state;
    made_day("");
    for (int i = 1; i <= 4; i++) earlier(i, 20);
    earlier(5, 19);
    advised(1200, "");
    assert_string_equal(text("grounds"), "book");
    BF_CHECK_ABS(number("sessions"), 4, 0);
    assert_true(is_null("hour/mid") && is_null("gain/lo") && is_null("p_best") && is_null("odds"));
    assert_true(is_null("others/0/behind/mid") && is_null("others/0/p_more"));
    assert_null(strstr(a.answer, "in 10"));
    assert_string_equal(text("hour/text"), "");
    for (int i = 0; i < length("changes_if"); i++) {
        char path[64];
        snprintf(path, sizeof path, "changes_if/%d/share", i);
        assert_true(is_null(path));
    }
    for (const char *c = text("gain/text"); *c; c++) assert_false(*c >= '0' && *c <= '9');
    session_line(105, -86400.0 * 15 + 3000, "lift",
                 "\"outcome\":\"nothing\""); /* after its close: the twentieth */
    advised(1200, "");
    assert_string_equal(text("grounds"), "own");
    BF_CHECK_ABS(number("sessions"), 5, 0);
    BF_CHECK_IN(number("odds/p"), 0.001, 0.999);
    assert_non_null(strstr(text("odds/text"), " in 10."));
    assert_true(number("hour/lo") <= number("hour/mid") && number("hour/mid") <= number("hour/hi"));
    assert_false(is_null("others/0/behind/mid"));
}

static void odds_say_how_often_they_came_true(void **state) {
    (void)state;
    start();
    for (int i = 1; i <= 5; i++) earlier(i, 20);
    line(0, "open", "\"venue\":\"Withy Pool\"");
    line(300, "feed", "\"spot\":\"long\",\"bait\":\"hard-4\",\"count\":40,\"how\":\"clump\"");
    line(350, "advice", "\"what\":\"wait\",\"done\":\"did\",\"odds_frac\":0.75,\"look_s\":300");
    line(400, "lift", "\"outcome\":\"landed\"");
    line(610, "advice",
         "\"what\":\"feed\",\"done\":\"did\",\"odds_frac\":0.5,\"look_s\":300"); /* nothing came */
    line(620, "advice", "\"what\":\"feed\",\"done\":\"other\",\"odds_frac\":0.5,\"look_s\":300");
    advised(1200, "");
    BF_CHECK_ABS(number("odds/n"), 2, 0);
    BF_CHECK_ABS(number("odds/came"), 1, 0);
    BF_CHECK_ABS(number("odds/said"), 1.25, 1e-12);
    assert_non_null(strstr(text("odds/text"), "1.3 said, 1 came true, of 2."));
}

/* ---- Reasons ---- */

/* An id that stands in the journal, of an entry of one of these kinds. */
static void check_id(const char *hex, uint64_t kinds) {
    bf_id id;
    assert_int_equal(bf_id_read(hex, strlen(hex), &id), BF_OK);
    for (int i = 0; i < bf_journal_n(a.journal); i++) {
        const bf_event *event = &bf_journal_events(a.journal)[i];
        if (bf_id_order(event->id, id) != 0) continue;
        assert_true(kinds >> event->kind & 1);
        return;
    }
    fail_msg("no entry %s", hex);
}

static void two_reasons_each_name_the_entries_behind_them(void **state) {
    (void)state;
    made_day("");
    for (int seed = 1; seed <= 3; seed++) {
        char more[32];
        snprintf(more, sizeof more, ",\"seed\":%d", seed);
        advised(1200, more);
        assert_int_equal(length("reasons"), 2);
        for (int i = 0; i < 2; i++) {
            char path[64];
            snprintf(path, sizeof path, "reasons/%d/events", i);
            int n = length(path);
            assert_true(n >= 1 && n <= 3);
            for (int k = 0; k < n; k++) {
                snprintf(path, sizeof path, "reasons/%d/events/%d", i, k);
                check_id(text(path), 1u << BF_FEED | 1u << BF_TOUCH | 1u << BF_LIFT);
            }
        }
        char first[320];
        strcpy(first, text("reasons/0/text"));
        assert_string_not_equal(first, text("reasons/1/text"));
    }
}

/* ---- Kept ---- */

static void what_was_said_is_said_again_when_it_is_passed_back(void **state) {
    (void)state;
    made_day("");
    char given[2048], said[512];
    size_t n;
    for (int seed = 1; seed <= 3; seed++) {
        snprintf(given, sizeof given, ",\"seed\":%d", seed);
        advised(1200, given);
        const char *action = bf_json_raw(&a.json, json_at(&a.json, "action"), &n);
        strcpy(said, text("action/text"));
        snprintf(given, sizeof given, ",\"seed\":%d,\"given\":%.*s", seed + 10, (int)n, action);
        advised(1230, given); /* another seed, half a minute on: too soon to change */
        assert_string_equal(text("action/text"), said);
    }
    advised(1230, ",\"given\":null");
    check_error(next(1230, ",\"given\":7"), BF_E_TYPE, "given");
    check_error(next(1230, ",\"given\":{\"what\":\"feed\"}"), BF_E_MISSING, "given");
    /* of another session, or nonsense: as if nothing was given */
    advised(1230, ",\"given\":{\"what\":\"feed\",\"spot\":\"margin\",\"at\":\"2026-04-12T09:20:00Z\"}");
    char fresh[512];
    strcpy(fresh, text("action/text"));
    advised(1230, "");
    assert_string_equal(text("action/text"), fresh);
}

/* ---- Rules ---- */

static void count_ways(const char *list, int *throws, double *most_six) {
    for (int i = 0; i < length(list); i++) {
        char path[64];
        snprintf(path, sizeof path, "%s/%d/bait", list, i);
        if (is_null(path)) continue;
        int is_six = strcmp(text(path), "hard-6") == 0;
        snprintf(path, sizeof path, "%s/%d/how", list, i);
        *throws += strcmp(text(path), "throw") == 0;
        snprintf(path, sizeof path, "%s/%d/count", list, i);
        if (is_six && number(path) > *most_six) *most_six = number(path);
    }
}

static void nothing_goes_in(void) {
    assert_true(is_null("action/bait"));
    for (int i = 0; i < length("others"); i++) {
        char path[64];
        snprintf(path, sizeof path, "others/%d/bait", i);
        assert_true(is_null(path));
    }
}

static void nothing_is_advised_that_the_venue_forbids(void **state) {
    (void)state;
    made_day("");
    int throws = 0;
    double most = 0;
    for (int seed = 1; seed <= 3; seed++) {
        char more[256];
        snprintf(more, sizeof more,
                 ",\"seed\":%d,\"plan\":{\"venue\":{\"name\":\"Withy Pool\",\"rules\":[\"no catapults\"]}}",
                 seed);
        advised(1200, more);
        count_ways("others", &throws, &most);
    }
    assert_int_equal(throws, 0);
    /* not even when it was advised before */
    advised(1230, ",\"plan\":{\"venue\":{\"rules\":[\"no "
                  "catapults\"]}},\"given\":{\"what\":\"feed\",\"spot\":\"long\",\"hook_bait\":"
                  "\"hard-6\",\"bait\":\"hard-6\",\"count\":10,\"how\":\"throw\",\"wait_s\":0,\"at\":\"2026-"
                  "04-12T09:20:00Z\"}");
    assert_true(is_null("action/bait") || strcmp(text("action/how"), "throw") != 0);
    advised(1200, ",\"plan\":{\"venue\":{\"rules\":[\"no more than 5 g of feed\"]}}");
    assert_non_null(strstr(a.answer, "Nothing beyond it is advised"));
    nothing_goes_in(); /* more than that went in already */
}

static void nothing_is_fed_when_the_venue_bars_feed(void **state) {
    (void)state;
    made_day("");
    advised(1200, ",\"plan\":{\"venue\":{\"rules\":[\"no feeding after 09:15\"]}}");
    assert_non_null(strstr(a.answer, "bar feed at this time"));
    nothing_goes_in();
    advised(1200, ",\"plan\":{\"venue\":{\"rules\":[\"no feeding before 09:30\"]}}");
    nothing_goes_in();
    advised(1200,
            ",\"plan\":{\"venue\":{\"rules\":[\"no feeding after 13:00\",\"no feeding before 09:00\"]}}");
    assert_null(strstr(a.answer, "bar feed at this time"));
}

/* ---- What the plan brings ---- */

#define PLAN                                                                                                 \
    ",\"plan\":{\"kit\":{\"baits\":[{\"id\":\"red four\",\"diameter\":\"4 mm\"},{\"id\":\"blue "             \
    "six\",\"diameter\":\"6 mm\"}]},"                                                                        \
    "\"spots\":[{\"id\":\"far\",\"distance\":\"11.5 m\",\"depth\":\"1.6 m\"},"                               \
    "{\"id\":\"edge\",\"distance\":\"5 m\",\"depth\":\"1.2 m\"}],"                                           \
    "\"feed\":[{\"spot\":\"far\",\"bait\":\"red four\",\"count\":40,\"how\":\"clump\",\"every\":\"7 min\"}," \
    "{\"spot\":\"edge\",\"bait\":\"blue six\",\"count\":8,\"how\":\"clump\"}]}"

static int says(const char *list, const char *key, const char *what) {
    for (int i = 0; i < length(list); i++) {
        char path[64];
        snprintf(path, sizeof path, "%s/%d/%s", list, i, key);
        if (!is_null(path) && strcmp(text(path), what) == 0) return 1;
    }
    return 0;
}

static void a_session_begins_with_what_its_plan_brings(void **state) {
    (void)state;
    start();
    line(0, "open", "\"venue\":\"Withy Pool\"");
    advised(60, PLAN);
    assert_string_equal(text("action/bait"), "red four");
    assert_string_equal(text("action/spot"), "far");
    assert_true(says("others", "spot", "edge")); /* to move there */
    line(100, "feed", "\"spot\":\"far\",\"bait\":\"red four\",\"count\":40,\"how\":\"clump\"");
    line(140, "lower", "\"spot\":\"far\"");
    advised(220, PLAN); /* seven minutes are not over */
    assert_string_equal(text("action/spot"), "far");
    assert_true(strcmp(text("action/what"), "wait") == 0 || says("others", "what", "wait"));
    advised(220, "");
    assert_false(says("others", "spot", "edge"));
}

/* ---- The request ---- */

static void what_it_is_for_is_the_anglers_to_say(void **state) {
    (void)state;
    made_day("");
    advised(1200, ",\"objective\":\"species\"");
    assert_true(asked_has_note(&a, "no-species"));
    assert_string_equal(text("unit"), "fish");
    advised(1200, "");
    assert_string_equal(text("objective"), "weight");
    assert_true(asked_has_note(&a, "no-sizes"));
    check_error(next(1200, ",\"objective\":\"glory\""), BF_E_CHOICE, "objective");
    check_error(next(1200, ",\"objective\":\"target\""), BF_E_MISSING, "target_kg");
    advised(1200, ",\"objective\":\"target\",\"target_kg\":30");
    assert_string_equal(text("unit"), "share");
    check_error(next(1200, ",\"ahead_s\":60"), BF_E_RANGE, "ahead_s");
    check_error(asked_ask(&a, "next", "{\"phone\":1}"), BF_E_TYPE, "phone");
    check_error(next(1200, ",\"whim\":1"), BF_E_KEY, "whim");
    made_day(",\"hours\":1,\"target_kg\":30");
    advised(1200, ",\"objective\":\"target\"");
    BF_CHECK_ABS(number("ahead_s"), 2400, 0); /* the session's end */
    advised(3500, "");
    BF_CHECK_ABS(number("ahead_s"), 100, 0);
    assert_true(asked_has_note(&a, "near-end"));
    advised(3550, "");
    assert_true(is_null("action") && asked_has_note(&a, "over"));
}

/* ---- Bytes ---- */

static void the_same_bytes_however_it_is_cut_and_asked_again(void **state) {
    (void)state;
    made_day("");
    advised(1200, "");
    char request[256];
    int n_items, n_columns,
        n = snprintf(request, sizeof request, "{" QUICK ",\"session\":\"%032x\",\"at\":\"%s\"}", 1u,
                     instant(1200));
    void *work = aligned_alloc(16, (bf_ask_state_bytes(a.journal, "next") + 15) / 16 * 16);
    assert_int_equal(bf_ask_begin(a.journal, work, "next", request, (size_t)n, &n_items, &n_columns), BF_OK);
    assert_int_equal(n_items, 4);
    double *rows = malloc((size_t)n_items * (size_t)n_columns * sizeof *rows);
    void *scratch = aligned_alloc(16, (bf_ask_scratch_bytes(work) + 15) / 16 * 16);
    for (int i = n_items - 1; i >= 0; i--)
        bf_ask_range(work, scratch, i, i + 1, rows + (size_t)i * (size_t)n_columns);
    char *out = malloc(ASKED_ANSWER);
    size_t n_out;
    assert_int_equal(bf_ask_finish(work, rows, out, ASKED_ANSWER, &n_out), BF_OK);
    assert_string_equal(out, a.answer);
    free(out), free(scratch), free(rows), free(work);
}

static void others_are_of_different_kinds_and_not_what_is_advised(void **state) {
    (void)state;
    made_day("");
    advised(1200, "");
    assert_true(length("others") >= 3);
    char best[512];
    strcpy(best, text("action/text"));
    for (int i = 0; i < length("others"); i++) {
        char path[64];
        snprintf(path, sizeof path, "others/%d/text", i);
        assert_string_not_equal(text(path), best);
    }
    double ms, until_ms;
    int east_min;
    assert_int_equal(bf_instant_read(text("action/at"), strlen(text("action/at")), &ms, &east_min), BF_OK);
    assert_int_equal(
        bf_instant_read(text("action/look_again"), strlen(text("action/look_again")), &until_ms, &east_min),
        BF_OK);
    BF_CHECK_ABS(until_ms - ms, 1000 * number("action/look_again_s"), 1);
    assert_true(number("rests_on/scenarios") <= BF_ADVISE_PHONE_RUN_OFF);
    assert_true(number("rests_on/rollouts") < BF_ADVISE_PHONE_ACTS * BF_ADVISE_PHONE_RUN_OFF / 4);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(where_there_is_none_a_note_says_why),
        cmocka_unit_test(an_action_fits_fifteen_letters_and_says_its_part_of_the_last_put_in),
        cmocka_unit_test(what_is_to_be_waited_for_is_later_than_now),
        cmocka_unit_test(until_five_sessions_of_twenty_lifts_it_is_the_book_in_words),
        cmocka_unit_test(odds_say_how_often_they_came_true),
        cmocka_unit_test(two_reasons_each_name_the_entries_behind_them),
        cmocka_unit_test(what_was_said_is_said_again_when_it_is_passed_back),
        cmocka_unit_test(nothing_is_advised_that_the_venue_forbids),
        cmocka_unit_test(nothing_is_fed_when_the_venue_bars_feed),
        cmocka_unit_test(a_session_begins_with_what_its_plan_brings),
        cmocka_unit_test(what_it_is_for_is_the_anglers_to_say),
        cmocka_unit_test(the_same_bytes_however_it_is_cut_and_asked_again),
        cmocka_unit_test(others_are_of_different_kinds_and_not_what_is_advised),
    };
    int failed = cmocka_run_group_tests(tests, NULL, NULL);
    asked_free(&a);
    return failed;
}
