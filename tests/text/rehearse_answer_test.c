/* The questions "rehearse" and "otherwise" from outside. What a rehearsal is worth is tested in tests/swim/rehearse_test.c. */
#include "asked.h"
#include "baitfall/rehearse.h"
#include "common/json_at.h"

static asked a;
static char kept[ASKED_ANSWER];

static void start(void) {
    if (!a.memory) a = asked_start();
    a.journal = bf_journal_start(a.memory, ASKED_EVENTS, (size_t)ASKED_EVENTS * 300);
    a.seq = 0;
}

/* Asks; the answer is a.json. */
static bf_status ask(const char *question, const char *request) {
    size_t n, bytes = bf_ask_bytes(a.journal, question);
    bf_json_fault fault;
    void *work = aligned_alloc(16, (bytes + 15) / 16 * 16);
    assert_non_null(work);
    memset(work, 0xa5, bytes); /* no answer comes of what lies there */
    bf_status status =
        bf_ask(a.journal, work, question, request, strlen(request), a.answer, ASKED_ANSWER, &n);
    free(work);
    assert_int_equal(bf_json_read(a.answer, n, a.tokens, ASKED_ANSWER / 2, &a.json, &fault), BF_OK);
    return status;
}

static double number(const char *path) {
    return json_number_at(&a.json, path);
}

#define CHOICES                                                                                              \
    "\"choices\":[{\"t_s\":0,\"kind\":\"feed\",\"body\":{\"bait\":\"hard-4\",\"count\":30}},"                \
    "{\"t_s\":0,\"kind\":\"lower\",\"body\":{\"spot\":\"long\",\"hook_bait\":\"expander-6\"}}"

/* The part of an answer from "events" to the end of it. */
static const char *events_of(const char *answer) {
    const char *events = strstr(answer, "\"events\":[");
    assert_non_null(events);
    return events;
}

static void it_is_marked_as_simulated_all_through(void **state) {
    (void)state;
    start();
    assert_int_equal(ask("rehearse", "{\"seed\":5," CHOICES "],\"until_s\":1800}"), BF_OK);
    assert_true(bf_json_kind_of(&a.json, bf_json_find(&a.json, 0, "simulated")) == BF_JSON_TRUE);
    int lines = bf_json_find(&a.json, 0, "lines"), n = 0;
    for (int i = bf_json_first(&a.json, lines); i >= 0; i = bf_json_next(&a.json, i), n++) {
        static _Alignas(16) char work[1 << 18];
        static bf_line line;
        static char text[BF_LINE_MOST + 1], canonical[BF_LINE_MOST + 1];
        bf_error error;
        assert_true(bf_line_work_bytes() <= sizeof work);
        assert_int_equal(bf_json_string(&a.json, i, text, sizeof text), BF_OK);
        assert_int_equal(bf_line_read(work, text, strlen(text), &line, canonical, sizeof canonical, &error),
                         BF_OK);
        assert_true(bf_event_is_simulated(&line.event));
        assert_string_equal(text, canonical);
        if (n == 0) assert_non_null(strstr(text, "simulated"));
    }
    assert_true(n >= 3);
}

static void the_same_request_has_the_same_bytes_and_another_seed_others(void **state) {
    (void)state;
    start();
    assert_int_equal(ask("rehearse", "{\"seed\":5," CHOICES "],\"until_s\":3600}"), BF_OK);
    strcpy(kept, a.answer);
    assert_int_equal(ask("rehearse", "{\"seed\":5," CHOICES "],\"until_s\":3600}"), BF_OK);
    assert_string_equal(kept, a.answer);
    assert_int_equal(ask("rehearse", "{\"seed\":6," CHOICES "],\"until_s\":3600}"), BF_OK);
    assert_true(strcmp(kept, a.answer) != 0);
}

/* Ids, times, weights: every line that was there is there still, to the byte. */
static void a_later_choice_leaves_every_line_before_it(void **state) {
    (void)state;
    start();
    assert_int_equal(ask("rehearse", "{\"seed\":5," CHOICES "],\"until_s\":600}"), BF_OK);
    strcpy(kept, strstr(a.answer, "\"lines\":["));
    size_t n = strlen(kept) - strlen("]}");
    double now_s = number("now_s");
    char request[1024];
    snprintf(request, sizeof request,
             "{\"seed\":5," CHOICES
             ",{\"t_s\":%.17g,\"kind\":\"feed\",\"body\":{\"bait\":\"micros-2\",\"count\":200}},"
             "{\"t_s\":%.17g,\"kind\":\"lower\",\"body\":{\"spot\":\"margin\"}}],\"until_s\":3600}",
             now_s, now_s);
    assert_int_equal(ask("rehearse", request), BF_OK);
    assert_memory_equal(strstr(a.answer, "\"lines\":["), kept, n);
}

static void bed_and_next_answer_from_its_lines_and_do_not_see_the_truth(void **state) {
    (void)state;
    start();
    assert_int_equal(ask("rehearse", "{\"seed\":5," CHOICES "],\"until_s\":900}"), BF_OK);
    assert_null(strstr(a.answer, "\"truth\""));
    assert_null(strstr(a.answer, "STOCK"));
    int lines = bf_json_find(&a.json, 0, "lines");
    static char text[BF_LINE_MOST + 1];
    for (int i = bf_json_first(&a.json, lines); i >= 0; i = bf_json_next(&a.json, i)) {
        assert_int_equal(bf_json_string(&a.json, i, text, sizeof text), BF_OK);
        asked_take(&a, text, strlen(text));
    }
    assert_int_equal(ask("bed", "{\"sets\":4,\"particles\":64}"), BF_OK);
    BF_CHECK_ABS(number("known/fed"), 30, 0);
    assert_int_equal(ask("next", "{\"sets\":4,\"particles\":64,\"phone\":true}"), BF_OK);
    assert_true(json_at(&a.json, "action/what") >= 0);
}

static void at_the_end_it_tells_the_truth_and_a_cost_with_its_range(void **state) {
    (void)state;
    start();
    assert_int_equal(ask("rehearse", "{\"seed\":5," CHOICES
                                     ",{\"t_s\":30,\"kind\":\"wait\",\"for_s\":600}],\"until_s\":600,"
                                     "\"end\":true}"),
                     BF_OK);
    int decisions = bf_json_find(&a.json, 0, "decisions"), n = 0;
    for (int i = bf_json_first(&a.json, decisions); i >= 0; i = bf_json_next(&a.json, i), n++) {
        int cost = bf_json_find(&a.json, i, "cost");
        double lo, mid, hi;
        assert_int_equal(bf_json_number(&a.json, bf_json_find(&a.json, cost, "lo"), &lo), BF_OK);
        assert_int_equal(bf_json_number(&a.json, bf_json_find(&a.json, cost, "mid"), &mid), BF_OK);
        assert_int_equal(bf_json_number(&a.json, bf_json_find(&a.json, cost, "hi"), &hi), BF_OK);
        assert_true(lo <= mid && mid <= hi);
    }
    assert_int_equal(n, 2);
    BF_CHECK_ABS(number("truth/series/0/t_s"), 0, 0);
    BF_CHECK_ABS(number("truth/series/1/t_s"), 60, 0);
    BF_CHECK_IN(number("truth/series/1/left/0"), 0, 30);
    assert_int_equal(
        ask("rehearse", "{\"seed\":5," CHOICES "],\"until_s\":600,\"end\":true,\"price\":[0,0]}"), BF_OK);
    assert_true(bf_json_kind_of(&a.json, json_at(&a.json, "decisions/0/cost")) == BF_JSON_NULL);
}

/* ---- From a real session ---- */

static void real_day(void) {
    start();
    asked_line(&a, 0, "open", "\"venue\":\"Withy Pool\",\"peg\":\"14\",\"hook_bait\":\"hard-6\",\"hours\":5",
               "");
    asked_line(&a, 60, "feed", "\"spot\":\"long\",\"bait\":\"hard-4\",\"count\":30,\"how\":\"clump\"", "");
    asked_line(&a, 90, "lower", "\"spot\":\"long\"", "");
    asked_line(&a, 300, "lift", "\"outcome\":\"landed\",\"mass_kg\":1.2", "");
    asked_line(&a, 360, "lower", "\"spot\":\"long\"", "");
    asked_line(&a, 1500, "lift", "\"outcome\":\"landed\",\"mass_kg\":2", "");
    asked_line(&a, 1560, "feed", "\"spot\":\"long\",\"bait\":\"hard-4\",\"count\":30,\"how\":\"clump\"", "");
    asked_line(&a, 3600, "close", "", "");
}

#define AT "\"at\":\"2026-04-12T09:20:00+00:00\",\"sets\":4,\"particles\":64"

static void a_real_session_goes_on_from_an_instant(void **state) {
    (void)state;
    static char request[ASKED_ANSWER];
    real_day();
    assert_int_equal(ask("rehearse", "{\"seed\":2,\"setup\":{" AT "}}"), BF_OK);
    size_t n;
    const char *setup = bf_json_raw(&a.json, bf_json_find(&a.json, 0, "setup"), &n);
    assert_true(n > 16 * 50 && n < ASKED_ANSWER / 2);
    memcpy(kept, setup, n), kept[n] = 0;
    assert_non_null(strstr(kept, "\\\"mass_kg\\\":1.2"));
    assert_null(strstr(kept, "\\\"mass_kg\\\":2")); /* nothing of what came later */
    assert_null(strstr(kept, "close"));
    snprintf(request, sizeof request,
             "{\"seed\":2,\"setup\":%.*s,\"choices\":[{\"t_s\":0,\"kind\":\"wait\",\"for_s\":600}],"
             "\"until_s\":600}",
             (int)n, kept);
    a.journal =
        bf_journal_start(a.memory, ASKED_EVENTS, (size_t)ASKED_EVENTS * 300); /* the file needs no journal */
    assert_int_equal(ask("rehearse", request), BF_OK);
    BF_CHECK_ABS(number("now_s"), 600, 0);
    assert_true(json_at(&a.json, "lines/4") >= 0); /* what was before stands first */
    strcpy(kept, events_of(a.answer));
    assert_int_equal(ask("rehearse", request), BF_OK);
    assert_string_equal(events_of(a.answer), kept);
    /* a truth that was meddled with */
    char *truth = strstr(request, "\"truth\":\"") + strlen("\"truth\":\"");
    truth[20] = truth[20] == 'f' ? '0' : 'f';
    memset(truth + 16, 'f', 32);
    assert_int_equal(ask("rehearse", request), BF_E_CHOICE);
    assert_string_equal(json_text_at(&a.json, "error/field"), "setup.truth");
}

/* ---- Otherwise ---- */

#define SMALL "\"sets\":4,\"particles\":64"

static void the_same_feeding_differs_by_exactly_nothing(void **state) {
    (void)state;
    real_day();
    assert_int_equal(ask("otherwise", "{" SMALL ",\"otherwise\":{\"times\":1}}"), BF_OK);
    BF_CHECK_ABS(number("fish/mean"), 0, 0);
    BF_CHECK_ABS(number("fish/lo"), 0, 0);
    BF_CHECK_ABS(number("kg/hi"), 0, 0);
    BF_CHECK_ABS(number("p_more"), 0.5, 0);
    BF_CHECK_ABS(number("fed/was"), number("fed/instead"), 0);
    BF_CHECK_ABS(number("landed"), 2, 0);
}

static void another_feeding_is_what_was_asked_for(void **state) {
    (void)state;
    real_day();
    assert_int_equal(ask("otherwise", "{" SMALL ",\"otherwise\":{\"times\":0.5}}"), BF_OK);
    BF_CHECK_ABS(number("fed/was"), 60, 0);
    BF_CHECK_ABS(number("fed/instead"), 30, 0);
    assert_int_equal(ask("otherwise", "{" SMALL ",\"otherwise\":{\"none_after\":\"2026-04-12T09:10:00Z\"}}"),
                     BF_OK);
    BF_CHECK_ABS(number("fed/instead"), 30, 0);
    assert_int_equal(ask("otherwise", "{" SMALL ",\"otherwise\":{\"every_s\":300}}"), BF_OK);
    BF_CHECK_ABS(number("fed/instead"), 180, 0); /* at 60, 360 .. 1560 s */
    assert_int_equal(
        ask("otherwise", "{" SMALL ",\"otherwise\":{\"bait\":\"hard-6\",\"instead_of\":\"hard-4\"}}"), BF_OK);
    BF_CHECK_IN(number("fed/instead"), 10, 30); /* by the same weight */
}

/* ---- What is refused ---- */

static void bad_requests_name_what_is_wrong(void **state) {
    (void)state;
    static const struct {
        const char *question, *request, *field;
        bf_status status;
    } bad[] = {
        {"rehearse", "{\"sed\":1}", "sed", BF_E_KEY},
        {"rehearse", "{\"seed\":-1}", "seed", BF_E_RANGE},
        {"rehearse", "{\"seed\":1.5}", "seed", BF_E_RANGE},
        {"rehearse", "{\"until_s\":1e9}", "until_s", BF_E_RANGE},
        {"rehearse", "{\"end\":1}", "end", BF_E_TYPE},
        {"rehearse", "{\"rehearsal\":2}", "rehearsal", BF_E_RANGE},
        {"rehearse", "{\"price\":[1]}", "price", BF_E_RANGE},
        {"rehearse", "{\"setup\":[]}", "setup", BF_E_TYPE},
        {"rehearse", "{\"setup\":{\"hours\":99}}", "hours", BF_E_RANGE},
        {"rehearse", "{\"setup\":{\"starts\":\"noon\"}}", "starts", BF_E_SYNTAX},
        {"rehearse", "{\"setup\":{\"plan\":{\"spots\":3}}}", "spots", BF_E_TYPE},
        {"rehearse", "{\"setup\":{\"before\":\"x\"}}", "setup.at", BF_E_MISSING},
        {"rehearse", "{\"choices\":3}", "choices", BF_E_TYPE},
        {"rehearse", "{\"choices\":[3]}", "choices[0]", BF_E_TYPE},
        {"rehearse", "{\"choices\":[{\"kind\":\"lift\"}]}", "choices[0].t_s", BF_E_MISSING},
        {"rehearse", "{\"choices\":[{\"t_s\":0}]}", "choices[0].kind", BF_E_MISSING},
        {"rehearse", "{\"choices\":[{\"t_s\":0,\"kind\":\"dance\"}]}", "choices[0].kind", BF_E_CHOICE},
        {"rehearse", "{\"choices\":[{\"t_s\":0,\"kind\":\"lift\",\"by\":1}]}", "choices[0].by", BF_E_KEY},
        {"rehearse", "{\"choices\":[{\"t_s\":9,\"kind\":\"lift\"},{\"t_s\":8,\"kind\":\"lift\"}]}",
         "choices[1].t_s", BF_E_RANGE},
        {"rehearse", "{\"choices\":[{\"t_s\":0,\"kind\":\"wait\"}]}", "choices[0].for_s", BF_E_MISSING},
        {"rehearse", "{\"choices\":[{\"t_s\":0,\"kind\":\"feed\",\"body\":{\"bait\":\"cake\",\"count\":1}}]}",
         "choices[0].body.bait", BF_E_CHOICE},
        {"rehearse",
         "{\"choices\":[{\"t_s\":0,\"kind\":\"feed\",\"body\":{\"bait\":\"hard-4\",\"count\":-1}}]}",
         "choices[0].body.count", BF_E_RANGE},
        {"rehearse",
         "{\"choices\":[{\"t_s\":0,\"kind\":\"feed\",\"body\":{\"bait\":\"hard-4\",\"count\":0}}]}",
         "choices[0].body.count", BF_E_MISSING},
        {"rehearse", "{\"choices\":[{\"t_s\":0,\"kind\":\"lower\",\"body\":{\"spot\":\"nowhere\"}}]}",
         "choices[0].body.spot", BF_E_CHOICE},
        {"rehearse", "{\"choices\":[{\"t_s\":0,\"kind\":\"lower\",\"body\":[]}]}", "choices[0].body",
         BF_E_TYPE},
        {"otherwise", "{}", "otherwise", BF_E_MISSING},
        {"otherwise", "{\"otherwise\":{\"times\":0}}", "otherwise.times", BF_E_RANGE},
        {"otherwise", "{\"otherwise\":{\"every_s\":1}}", "otherwise.every_s", BF_E_RANGE},
        {"otherwise", "{\"otherwise\":{\"none_after\":\"noon\"}}", "otherwise.none_after", BF_E_SYNTAX},
        {"otherwise", "{\"otherwise\":{\"bait\":\"cake\"}}", "otherwise.bait", BF_E_CHOICE},
        {"otherwise", "{\"otherwise\":{\"bait\":\"hard-6\",\"instead_of\":\"cake\"}}", "otherwise.instead_of",
         BF_E_CHOICE},
        {"otherwise", "{\"otherwise\":{\"half\":1}}", "otherwise.half", BF_E_KEY},
    };
    real_day();
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        bf_status status = ask(bad[i].question, bad[i].request);
        if (status != bad[i].status) print_error("%s\n%s\n", bad[i].request, a.answer);
        assert_int_equal(status, bad[i].status);
        assert_true(strcmp(json_text_at(&a.json, "error/field"), bad[i].field) == 0);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(it_is_marked_as_simulated_all_through),
        cmocka_unit_test(the_same_request_has_the_same_bytes_and_another_seed_others),
        cmocka_unit_test(a_later_choice_leaves_every_line_before_it),
        cmocka_unit_test(bed_and_next_answer_from_its_lines_and_do_not_see_the_truth),
        cmocka_unit_test(at_the_end_it_tells_the_truth_and_a_cost_with_its_range),
        cmocka_unit_test(a_real_session_goes_on_from_an_instant),
        cmocka_unit_test(the_same_feeding_differs_by_exactly_nothing),
        cmocka_unit_test(another_feeding_is_what_was_asked_for),
        cmocka_unit_test(bad_requests_name_what_is_wrong),
    };
    int failed = cmocka_run_group_tests(tests, NULL, NULL);
    asked_free(&a);
    return failed;
}
