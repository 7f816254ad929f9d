/* The question "bed" in pieces, from snapshots, and from session to session: what one told those after it, and what it foretells. */
#include "baitfall/belief.h"
#include "text/bed_day.h"

/* ---- In pieces ---- */

typedef struct pieces {
    void *work;
    int n_items, n_columns;
    double *rows;
    char request[8192];
} pieces;

static pieces begin(const char *request) {
    pieces p = {.work = aligned_alloc(16, (bf_ask_state_bytes(a.journal, "bed") + 15) / 16 * 16)};
    snprintf(p.request, sizeof p.request, "%s", request);
    return p;
}

static void read_request(pieces *p) {
    memset(p->work, 0xA5, bf_ask_state_bytes(a.journal, "bed"));
    assert_int_equal(
        bf_ask_begin(a.journal, p->work, "bed", p->request, strlen(p->request), &p->n_items, &p->n_columns),
        BF_OK);
    p->rows = malloc((size_t)(p->n_items * p->n_columns) * sizeof *p->rows);
}

static char *finish(pieces *p) {
    static char out[1 << 20];
    size_t n;
    assert_int_equal(bf_ask_finish(p->work, p->rows, out, sizeof out, &n), BF_OK);
    free(p->rows);
    free(p->work);
    return out;
}

static char *answer_cut(const char *request, int at_a_time) {
    pieces p = begin(request);
    read_request(&p);
    void *scratch = aligned_alloc(16, (bf_ask_scratch_bytes(p.work) + 15) / 16 * 16);
    for (int i = 0; i < p.n_items; i += at_a_time) {
        int j = i + at_a_time < p.n_items ? i + at_a_time : p.n_items;
        bf_ask_range(p.work, scratch, i, j, p.rows + (size_t)i * (size_t)p.n_columns);
    }
    free(scratch);
    return finish(&p);
}

static void however_the_sets_are_cut_the_bytes_are_the_same(void **state) {
    (void)state;
    made_day();
    assert_int_equal(bed(""), BF_OK);
    static const int cuts[] = {1, 3, 4};
    for (int i = 0; i < 3; i++) assert_string_equal(answer_cut("{" QUICK "}", cuts[i]), a.answer);
}

static void other_questions_have_no_pieces(void **state) {
    (void)state;
    made_day();
    pieces p = begin("{}");
    int n_items, n_columns;
    static char out[1 << 20];
    size_t n;
    free(p.work);
    p.work = aligned_alloc(16, (bf_ask_state_bytes(a.journal, "bank") + 15) / 16 * 16);
    assert_int_equal(bf_ask_begin(a.journal, p.work, "bank", "{}", 2, &n_items, &n_columns), BF_OK);
    assert_int_equal(n_items, 0);
    assert_int_equal(bf_ask_finish(p.work, NULL, out, sizeof out, &n), BF_OK);
    assert_int_equal(asked_ask(&a, "bank", "{}"), BF_OK);
    assert_string_equal(out, a.answer);
    free(p.work);
}

static char *copy_of(const char *answer) {
    char *copy = malloc(strlen(answer) + 1);
    return strcpy(copy, answer);
}

static void going_on_from_a_snapshot_gives_the_same_bytes(void **state) {
    (void)state;
    made_day();
    line(1500, "lift", "\"outcome\":\"landed\"");
    line(1560, "feed", "\"spot\":\"long\",\"bait\":\"hard-4\",\"count\":30,\"how\":\"clump\"");
    line(1600, "lower", "\"spot\":\"long\"");
    char early[256], late[256];
    snprintf(early, sizeof early, "{" QUICK ",\"at\":\"%s\"}", instant(1300));
    snprintf(late, sizeof late, "{" QUICK ",\"at\":\"%s\"}", instant(1700));

    pieces p = begin(early);
    read_request(&p);
    bf_ask_moment moment[BF_ASK_MOST_MOMENTS];
    assert_int_equal(bf_ask_moments(p.work, moment), 2);
    BF_CHECK_ABS(moment[1].t_s, 1200, 0);
    uint64_t key = moment[1].key;
    size_t n_snapshot = bf_ask_snapshot_bytes(p.work);
    char *saved = aligned_alloc(16, n_snapshot * (size_t)p.n_items);
    void *scratch = aligned_alloc(16, (bf_ask_scratch_bytes(p.work) + 15) / 16 * 16);
    bf_ask_range_from(p.work, 0, p.n_items, NULL, saved, 1200, scratch, p.rows);
    free(scratch);
    finish(&p);

    char *through = copy_of(answer_cut(late, 16));
    p = begin(late);
    read_request(&p);
    assert_int_equal(bf_ask_moments(p.work, moment), 2);
    assert_true(moment[1].key == key); // nothing before it has changed
    assert_true(bf_ask_fits(p.work, saved));
    scratch = aligned_alloc(16, (bf_ask_scratch_bytes(p.work) + 15) / 16 * 16);
    bf_ask_range_from(p.work, 0, p.n_items, saved, NULL, 0, scratch, p.rows);
    free(scratch);
    assert_string_equal(finish(&p), through);

    asked_line(&a, 1750, "cross", "", ",\"of\":\"00000000000000000000000000000003\""); // the first put-in
    p = begin(late);
    read_request(&p);
    assert_int_equal(bf_ask_moments(p.work, moment), 2);
    assert_true(moment[1].key != key);
    assert_false(bf_ask_fits(p.work, saved));
    free(p.rows);
    free(p.work);
    free(through);
    free(saved);
}

static void an_error_of_the_request_is_told_in_the_end(void **state) {
    (void)state;
    made_day();
    pieces p = begin("{\"sets\":0}");
    int n_items, n_columns;
    static char out[4096];
    size_t n;
    assert_int_equal(
        bf_ask_begin(a.journal, p.work, "bed", p.request, strlen(p.request), &n_items, &n_columns),
        BF_E_RANGE);
    assert_int_equal(n_items, 0);
    assert_int_equal(bf_ask_finish(p.work, NULL, out, sizeof out, &n), BF_E_RANGE);
    assert_non_null(strstr(out, "\"field\":\"sets\""));
    free(p.work);
}

/* ---- From session to session ---- */

/* The summary of the day so far, as it stands in the answer. */
static char *summary_of(double at_s) {
    size_t n;
    bed_at(at_s, ",\"summary\":true");
    const char *raw = bf_json_raw(&a.json, json_at(&a.json, "summary"), &n);
    char *copy = malloc(n + 1);
    memcpy(copy, raw, n);
    copy[n] = 0;
    return copy;
}

/* The same with other text in place of a part of it. */
static char *with_other(const char *summary, const char *part, const char *other) {
    const char *at = strstr(summary, part);
    assert_non_null(at);
    char *copy = malloc(strlen(summary) + strlen(other) + 1);
    sprintf(copy, "%.*s%s%s", (int)(at - summary), summary, other, at + strlen(part));
    return copy;
}

static bf_status bed_with(const char *summary, int times) {
    char *request = malloc(8192 + (size_t)times * (strlen(summary) + 1)), *at = request;
    at += sprintf(at, "{" QUICK ",\"at\":\"%s\",\"learned\":[", instant(1020));
    for (int i = 0; i < times; i++) at += sprintf(at, "%s%s", i ? "," : "", summary);
    sprintf(at, "]}");
    bf_status status = asked_ask(&a, "bed", request);
    free(request);
    return status;
}

static void a_session_starts_from_what_earlier_ones_told(void **state) {
    (void)state;
    made_day();
    char *today = summary_of(1020);
    char *earlier = with_other(today, "2026-04-12", "2026-04-05");
    assert_int_equal(bed_with(today, 1), BF_OK); // of this very session: nothing to learn from
    BF_CHECK_ABS(number("rests_on/sessions"), 0, 0);
    assert_int_equal(bed_with(earlier, 1), BF_OK);
    BF_CHECK_ABS(number("rests_on/sessions"), 1, 0);
    assert_non_null(strstr(text("rests_on/text"), "learned from 1 earlier session here"));
    char *other = with_other(earlier, "Withy Pool", "Elsewhere");
    assert_int_equal(bed_with(other, 1), BF_OK);
    assert_non_null(strstr(text("rests_on/text"), "learned from 1 elsewhere"));
    free(today);
    free(earlier);
    free(other);
}

static void a_summary_is_the_same_whoever_made_it(void **state) {
    (void)state;
    made_day();
    char *one = summary_of(1020), *again = summary_of(1020);
    assert_string_equal(one, again);
    bed_at(1020, "");
    assert_true(bf_json_find(&a.json, 0, "summary") < 0); // unless it is asked for
    free(one);
    free(again);
}

/* One that says to know the stock well, and to be a million powers of e: nothing could be drawn from such a prior. */
static void a_summary_beyond_all_reason_is_refused(void **state) {
    (void)state;
    enum {
        NUMBERS = 32,
        EFFECTIVE = 0,
        MEAN = 1 + 2 * BF_SWIM_N_PARAMETERS,
        VARIANCE = 1 + 3 * BF_SWIM_N_PARAMETERS
    };
    made_day();
    char *today = summary_of(1020), *earlier = with_other(today, "2026-04-12", "2026-04-05");
    char *digits = strstr(earlier, "\"data\":\"") + strlen("\"data\":\"") + NUMBERS;
    memcpy(digits + 8 * EFFECTIVE, "49742400", 8); /* 1e6 in single precision */
    memcpy(digits + 8 * MEAN, "49742400", 8);
    memcpy(digits + 8 * VARIANCE, "358637bd", 8); /* 1e-6 */
    assert_int_equal(bed_with(earlier, 1), BF_E_RANGE);
    check_error("learned", "256 summaries");
    free(today);
    free(earlier);
}

static void what_is_no_summary_is_refused(void **state) {
    (void)state;
    made_day();
    char *today = summary_of(1020);
    char *short_one = with_other(today, "0000", "000"), *letters = with_other(today, "0000", "zzzz");
    char *undated = with_other(today, "2026-04-12", "someday");
    assert_int_equal(bed(",\"learned\":7"), BF_E_TYPE);
    assert_int_equal(bed(",\"learned\":[7]"), BF_E_TYPE);
    assert_int_equal(bed(",\"learned\":[{}]"), BF_E_TYPE);
    check_error("learned", "256 summaries");
    assert_int_equal(bed_with(short_one, 1), BF_E_SYNTAX);
    assert_int_equal(bed_with(letters, 1), BF_E_SYNTAX);
    assert_int_equal(bed_with(undated, 1), BF_E_SYNTAX);
    char *earlier = with_other(today, "2026-04-12", "2026-04-05");
    assert_int_equal(bed_with(earlier, 257), BF_E_SPACE);
    assert_int_equal(bed(",\"summary\":1"), BF_E_TYPE);
    free(today);
    free(short_one);
    free(letters);
    free(undated);
    free(earlier);
}

static void season_shows_what_was_learned(void **state) {
    (void)state;
    made_day();
    char *today = summary_of(1020), request[8192];
    snprintf(request, sizeof request, "{\"learned\":[%s]}", today);
    assert_int_equal(asked_ask(&a, "season", request), BF_OK);
    BF_CHECK_ABS(number("learned/n_here"), 1, 0);
    assert_int_equal(length("learned/of"), BF_SWIM_N_PARAMETERS);
    assert_true(number("learned/of/0/lo") < number("learned/of/0/mid"));
    assert_true(asked_has_note(&a, "learned-priors"));
    assert_int_equal(asked_ask(&a, "season", "{}"), BF_OK);
    assert_true(bf_json_find(&a.json, 0, "learned") < 0);
    free(today);
}

static void a_sessions_bites_are_foretold_one_by_one(void **state) {
    (void)state;
    made_day();
    assert_int_equal(asked_ask(&a, "foretell", "{" QUICK "}"), BF_OK);
    BF_CHECK_ABS(number("score/n_waits"), 2, 0); // the last one is still open
    BF_CHECK_ABS(number("score/n_bites"), 2, 0);
    assert_int_equal(length("score/shares"), 2);
    for (int i = 0; i < 2; i++) assert_true(number(i ? "score/shares/1" : "score/shares/0") > 0);
    assert_true(number("score/model") < 0 && number("score/weibull") < 0);
    char request[8192];
    snprintf(request, sizeof request, "{" QUICK ",\"at\":\"%s\"}", instant(90));
    assert_int_equal(asked_ask(&a, "foretell", request), BF_OK); // nothing to foretell yet
    BF_CHECK_ABS(number("score/n_waits"), 0, 0);
}

/* n sessions in which the model gained so much over either law. */
static void season_of(int n, double gain) {
    char request[16384], *at = request;
    at += sprintf(at, "{\"foretold\":[");
    for (int i = 0; i < n; i++)
        at += sprintf(at,
                      "%s{\"n_waits\":30,\"n_bites\":20,\"model\":%g,\"gamma_poisson\":-60,\"weibull\":-60,"
                      "\"shares\":[%g]}",
                      i ? "," : "", -60 + gain + 0.1 * (i % 3), (i + 0.5) / n);
    sprintf(at, "]}");
    assert_int_equal(asked_ask(&a, "season", request), BF_OK);
}

static void season_says_when_the_model_is_no_better(void **state) {
    (void)state;
    made_day();
    season_of(5, 3);
    assert_non_null(strstr(text("foretold/verdict"), "too early to say whether"));
    season_of(40, 3);
    assert_non_null(strstr(text("foretold/verdict"), "is better than a steady rate of bites"));
    BF_CHECK_ABS(number("foretold/over_weibull/mid"), 3.1, 0.05);
    assert_true(number("foretold/uniform_p") > 0.99);
    season_of(40, -3);
    assert_non_null(strstr(text("foretold/verdict"), "is no better than a steady rate of bites"));
    assert_non_null(strstr(text("foretold/verdict"), "no better than one law of waits"));
    assert_int_equal(asked_ask(&a, "season", "{\"foretold\":[{}]}"), BF_E_TYPE);
    check_error("foretold", "64 scores");
    assert_int_equal(asked_ask(&a, "season", "{\"foretold\":3}"), BF_E_TYPE);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(however_the_sets_are_cut_the_bytes_are_the_same),
        cmocka_unit_test(other_questions_have_no_pieces),
        cmocka_unit_test(going_on_from_a_snapshot_gives_the_same_bytes),
        cmocka_unit_test(an_error_of_the_request_is_told_in_the_end),
        cmocka_unit_test(a_session_starts_from_what_earlier_ones_told),
        cmocka_unit_test(a_summary_is_the_same_whoever_made_it),
        cmocka_unit_test(a_summary_beyond_all_reason_is_refused),
        cmocka_unit_test(what_is_no_summary_is_refused),
        cmocka_unit_test(season_shows_what_was_learned),
        cmocka_unit_test(a_sessions_bites_are_foretold_one_by_one),
        cmocka_unit_test(season_says_when_the_model_is_no_better),
    };
    int failed = cmocka_run_group_tests(tests, NULL, NULL);
    end_day();
    return failed;
}
