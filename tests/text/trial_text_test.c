/* The question "trial": the plan as a line of words, and invented days fished by it.
 *
 * The invented days (tests/invented) share no code and no parameter with the estimator: Weibull waits, days of different
 * quality, feed that ages. Planted is a rate of bites 1.2 times as high on b. What the journal can show of it is less: an
 * invented angler enters a fish when it is in the net, so the time it was played is in the wait. */
#include "text/asked.h"

#include "baitfall/trial.h"

#define N_BLOCKS 14

static void fish_a_trial(asked *a, uint64_t seed, int day_number, double b_rate, int is_turned) {
    bf_trial_plan plan = {(double)seed * 100 + day_number, N_BLOCKS, 1200, 300};
    invented_block block[N_BLOCKS];
    invented_day day = invented_start(seed, day_number);
    char note[256];
    for (int i = 0; i < N_BLOCKS; i++)
        block[i] = (invented_block){plan.block_s * i, is_turned != bf_trial_is_b(&plan, i)};
    snprintf(note, sizeof note, "trial seed %.0f, 14 blocks of 20 min, first 5 min dropped, a = %s, b = %s",
             plan.seed, is_turned ? day.b : day.a, is_turned ? day.a : day.b);
    day.b_rate = b_rate;
    day.block = block;
    day.n_blocks = N_BLOCKS;
    day.note = note;
    invented_write(&day, asked_take, a, NULL);
}

/* In how many of so many runs, of so many days each, the interval leaves 1 out. */
static int runs_with_a_difference(int runs, int days, double b_rate, double *mean_ratio) {
    int found = 0;
    double sum = 0;
    for (int run = 0; run < runs; run++) {
        asked a = asked_start();
        for (int day = 0; day < days; day++) fish_a_trial(&a, (uint64_t)run + 1000, day, b_rate, 0);
        assert_int_equal(asked_ask(&a, "trial", "{}"), BF_OK);
        int effect = bf_json_find(&a.json, 0, "effect");
        found += asked_number(&a, effect, "lo") > 1 || asked_number(&a, effect, "hi") < 1;
        sum += log(asked_number(&a, effect, "ratio"));
        asked_free(&a);
    }
    *mean_ratio = exp(sum / runs);
    return found;
}

static int is_long(void) {
    return getenv("BF_LONG") != NULL;
}

/* BF_LONG: 200 runs, 80 % of them at least, as promised; else 25, of which a found share of 0.9 gives fewer than 18
 * once in 300 times (seeds are fixed). */
static void twenty_days_find_a_planted_twenty_per_cent_in_four_runs_of_five(void **state) {
    (void)state;
    int runs = is_long() ? 200 : 25, least = is_long() ? 160 : 18;
    double mean;
    int found = runs_with_a_difference(runs, 20, 1.2, &mean);
    print_message("planted 1.2: found in %d of %d runs of 20 days; mean ratio %.3f\n", found, runs, mean);
    BF_CHECK_IN(found, least, runs);
}

/* 5 % false alarms: BF_LONG 200 runs of which more than 18 come once in 200 times, else 40 of which more than 5 come
 * once in 70 times (seeds are fixed). */
static void without_a_difference_one_run_in_twenty_raises_the_alarm(void **state) {
    (void)state;
    int runs = is_long() ? 200 : 40, most = is_long() ? 18 : 5;
    double mean;
    int found = runs_with_a_difference(runs, 4, 1, &mean);
    print_message("planted 1: alarm in %d of %d runs of 4 days; mean ratio %.3f\n", found, runs, mean);
    BF_CHECK_IN(found, 0, most);
}

/* ---- The line ---- */

static void read_note(const asked *a, char *note, size_t most) {
    assert_int_equal(bf_json_string(&a->json, bf_json_find(&a->json, 0, "note"), note, most), BF_OK);
}

static void the_plan_is_one_line_that_makes_the_same_blocks_again(void **state) {
    (void)state;
    char note[512], body[600];
    asked a = asked_start();
    assert_int_equal(
        asked_ask(&a, "trial",
                  "{\"plan\":{\"a\":\"soft two\",\"b\":\"hard four\",\"hours\":4,\"block\":\"20min\","
                  "\"washout\":\"5min\",\"seed\":7}}"),
        BF_OK);
    read_note(&a, note, sizeof note);
    assert_string_equal(
        note, "trial seed 7, 12 blocks of 20 min, first 5 min dropped, a = soft two, b = hard four");
    bf_trial_plan plan = {7, 12, 1200, 300};
    int blocks = bf_json_find(&a.json, 0, "blocks"), i = 0;
    for (int at = bf_json_first(&a.json, blocks); at >= 0; at = bf_json_next(&a.json, at), i++) {
        BF_CHECK_ABS(asked_number(&a, at, "from_s"), 1200.0 * i, 0);
        assert_true(bf_json_is(&a.json, bf_json_find(&a.json, at, "feed"),
                               bf_trial_is_b(&plan, i) ? "hard four" : "soft two"));
    }
    assert_int_equal(i, 12);
    snprintf(body, sizeof body, "\"note\":\"Windy. %s\"", note);
    asked_line(&a, 0, "open", "", "");
    asked_line(&a, 60, "note", body, "");
    asked_line(&a, 5 * 3600, "close", "", "");
    assert_int_equal(asked_ask(&a, "trial", "{}"), BF_OK);
    int trial = bf_json_find(&a.json, 0, "trial");
    assert_true(bf_json_is(&a.json, bf_json_find(&a.json, trial, "note"), note));
    assert_non_null(strstr(asked_sentence(&a, 0), "Too early to say"));
    asked_free(&a);
}

static void a_crossed_out_note_makes_no_trial(void **state) {
    (void)state;
    asked a = asked_start();
    asked_line(&a, 0, "open", "", "");
    asked_line(&a, 60, "note",
               "\"note\":\"trial seed 7, 12 blocks of 20 min, first 5 min dropped, a = x, b = y\"", "");
    asked_line(&a, 90, "cross", "", ",\"of\":\"00000000000000000000000000000002\"");
    assert_int_equal(asked_ask(&a, "trial", "{}"), BF_OK);
    assert_int_equal(bf_json_kind_of(&a.json, bf_json_find(&a.json, 0, "trial")), BF_JSON_NULL);
    asked_free(&a);
}

static void a_plan_put_right_is_the_plan(void **state) {
    (void)state;
    asked a = asked_start();
    asked_line(&a, 0, "open", "", "");
    asked_line(&a, 60, "note", "\"note\":\"trial seed 7, 12 blocks, forgot the rest\"", "");
    asked_line(&a, 90, "fix",
               "\"note\":\"trial seed 7, 12 blocks of 20 min, first 5 min dropped, a = x, b = y\"",
               ",\"of\":\"00000000000000000000000000000002\"");
    assert_int_equal(asked_ask(&a, "trial", "{}"), BF_OK);
    int trial = bf_json_find(&a.json, 0, "trial");
    assert_int_equal(bf_json_kind_of(&a.json, trial), BF_JSON_OBJECT);
    assert_true(bf_json_is(&a.json, bf_json_find(&a.json, trial, "b"), "y"));
    asked_free(&a);
}

static void of_more_trials_than_fit_the_last_are_kept(void **state) {
    (void)state;
    asked a = asked_start();
    asked_line(&a, 0, "open", "", "");
    for (int i = 0; i < 70; i++) {
        char body[200];
        sprintf(body, "\"note\":\"trial seed %d, 2 blocks of 20 min, first 5 min dropped, a = x, b = y\"", i);
        asked_line(&a, 60 + i, "note", body, "");
    }
    assert_int_equal(asked_ask(&a, "trial", "{}"), BF_OK);
    int trial = bf_json_find(&a.json, 0, "trial");
    assert_true(bf_json_is(&a.json, bf_json_find(&a.json, trial, "note"),
                           "trial seed 69, 2 blocks of 20 min, first 5 min dropped, a = x, b = y"));
    assert_true(asked_has_note(&a, "more-trials"));
    asked_free(&a);
}

static void lines_that_are_no_plan_are_notes_and_nothing_else(void **state) {
    static const char *const notes[] = {
        "trial seed",
        "trial seed 7, 12 blocks",
        "trial seed 7, 13 blocks of 20 min, first 5 min dropped, a = x, b = y",
        "trial seed 7, 12 blocks of 2 min, first 1 min dropped, a = x, b = y",
        "trial seed 7, 12 blocks of 20 min, first 15 min dropped, a = x, b = y",
        "trial seed 7, 12 blocks of 20 min, first 5 min dropped, a = , b = y",
        "trial seed 7, 12 blocks of 20 min, first 5 min dropped, a = x, b = ",
        "trial seed 7, 99999999999999 blocks of 20 min, first 5 min dropped, a = x, b = y"};
    (void)state;
    asked a = asked_start();
    asked_line(&a, 0, "open", "", "");
    for (size_t i = 0; i < sizeof notes / sizeof notes[0]; i++) {
        char body[256];
        snprintf(body, sizeof body, "\"note\":\"%s\"", notes[i]);
        asked_line(&a, 60, "note", body, "");
    }
    assert_int_equal(asked_ask(&a, "trial", "{}"), BF_OK);
    assert_int_equal(bf_json_kind_of(&a.json, bf_json_find(&a.json, 0, "trial")), BF_JSON_NULL);
    asked_free(&a);
}

/* ---- Days together ---- */

static void days_of_the_same_two_feeds_are_put_together_whichever_is_called_a(void **state) {
    (void)state;
    asked both = asked_start(), turned = asked_start();
    for (int day = 0; day < 3; day++) {
        fish_a_trial(&both, 5, day, 1.2, 0);
        fish_a_trial(&turned, 5, day, 1.2, day == 1);
    }
    assert_int_equal(asked_ask(&both, "trial", "{}"), BF_OK);
    int effect = bf_json_find(&both.json, 0, "effect");
    BF_CHECK_ABS(asked_number(&both, effect, "n_pairs"), 21, 0);
    BF_CHECK_ABS(asked_number(&both, effect, "n_days"), 3, 0);
    assert_int_equal(asked_ask(&turned, "trial", "{}"), BF_OK);
    effect = bf_json_find(&turned.json, 0, "effect");
    BF_CHECK_ABS(asked_number(&turned, effect, "n_pairs"), 21, 0);
    BF_CHECK_ABS(asked_number(&turned, effect, "n_days"), 3, 0);
    assert_int_equal(asked_ask(&both, "trial", "{\"alone\":true}"), BF_OK);
    effect = bf_json_find(&both.json, 0, "effect");
    BF_CHECK_ABS(asked_number(&both, effect, "n_pairs"), 7, 0);
    asked_free(&both);
    asked_free(&turned);
}

/* ---- Bad requests ---- */

static void bad_requests_name_the_field(void **state) {
    static const struct {
        const char *request, *field;
        bf_status status;
    } cases[] = {
        {"{\"plan\":{\"b\":\"y\"}}", "plan.a", BF_E_MISSING},
        {"{\"plan\":{\"a\":\"x\"}}", "plan.b", BF_E_MISSING},
        {"{\"plan\":{\"a\":3,\"b\":\"y\"}}", "plan.a", BF_E_TYPE},
        {"{\"plan\":{\"a\":\"\",\"b\":\"y\"}}", "plan.a", BF_E_RANGE},
        {"{\"plan\":{\"a\":\"x, b = z\",\"b\":\"y\"}}", "plan.a", BF_E_RANGE},
        {"{\"plan\":{\"a\":\"x\",\"b\":\"y\",\"block\":\"90s\"}}", "plan.block_s", BF_E_RANGE},
        {"{\"plan\":{\"a\":\"x\",\"b\":\"y\",\"block\":\"350s\"}}", "plan.block_s", BF_E_RANGE},
        {"{\"plan\":{\"a\":\"x\",\"b\":\"y\",\"washout\":\"11min\"}}", "plan.washout_s", BF_E_RANGE},
        {"{\"plan\":{\"a\":\"x\",\"b\":\"y\",\"hours\":0.6}}", "plan.hours", BF_E_RANGE},
        {"{\"plan\":{\"a\":\"x\",\"b\":\"y\",\"seed\":1.5}}", "plan.seed", BF_E_RANGE},
        {"{\"plan\":{\"a\":\"x\",\"b\":\"y\",\"size\":1}}", "plan.size", BF_E_KEY},
        {"{\"measure\":\"luck\"}", "measure", BF_E_CHOICE},
        {"{\"alone\":1}", "alone", BF_E_TYPE},
        {"{\"session\":\"00000000000000000000000000000009\"}", "session", BF_E_CHOICE},
        {"{\"sesion\":1}", "sesion", BF_E_KEY},
    };
    (void)state;
    asked a = asked_start();
    asked_line(&a, 0, "open", "", "");
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char field[128];
        bf_status status = asked_ask(&a, "trial", cases[i].request);
        int error = bf_json_find(&a.json, 0, "error");
        if (status != cases[i].status) print_error("%s: %s\n", cases[i].request, a.answer);
        assert_int_equal(status, cases[i].status);
        assert_int_equal(bf_json_string(&a.json, bf_json_find(&a.json, error, "field"), field, sizeof field),
                         BF_OK);
        assert_string_equal(field, cases[i].field);
    }
    asked_free(&a);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(twenty_days_find_a_planted_twenty_per_cent_in_four_runs_of_five),
        cmocka_unit_test(without_a_difference_one_run_in_twenty_raises_the_alarm),
        cmocka_unit_test(the_plan_is_one_line_that_makes_the_same_blocks_again),
        cmocka_unit_test(a_crossed_out_note_makes_no_trial),
        cmocka_unit_test(a_plan_put_right_is_the_plan),
        cmocka_unit_test(of_more_trials_than_fit_the_last_are_kept),
        cmocka_unit_test(lines_that_are_no_plan_are_notes_and_nothing_else),
        cmocka_unit_test(days_of_the_same_two_feeds_are_put_together_whichever_is_called_a),
        cmocka_unit_test(bad_requests_name_the_field),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
