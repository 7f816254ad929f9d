/* odds_test.c -- when odds are earned, and how often they came true (advise.h), from a record put together by hand. */
#include "baitfall/advise.h"
#include "record/made_fold.h"

static made_fold made;
static bf_live live[64];

static void begin(void) {
    made_start(&made);
    made.fold.live = live;
    made.fold.n_live = 0;
}

static bf_session *session(double at_s, double hours, int lifts) {
    bf_session *s = made_session(&made, at_s, hours);
    for (int i = 0; i < lifts; i++) made_drop(&made, 60 * (i + 1), 30, BF_NOTHING);
    s->live_from = s->live_to = made.fold.n_live;
    return s;
}

/* Advice followed, of the last session. */
static bf_live *advised(double at_s, double odds, double look_s) {
    bf_session *s = made_last_session(&made);
    bf_live *one = &live[made.fold.n_live++];
    *one =
        (bf_live){.session = made.fold.n_sessions - 1, .kind = BF_ADVICE, .t_ms = s->opened_ms + 1000 * at_s};
    bf_body_start(&one->body);
    one->body.what = BF_WHAT_FEED, one->body.done = BF_DONE_DID;
    one->body.odds_frac = odds, one->body.look_s = look_s;
    s->live_to = made.fold.n_live;
    return one;
}

static bf_odds odds(void) {
    return bf_odds_of(&made.fold, INFINITY, INFINITY);
}

static void a_session_counts_from_twenty_lifts_on(void **state) {
    (void)state;
    begin();
    session(0, 2, 19);
    assert_int_equal(odds().n_sessions, 0);
    made_drop(&made, 2000, 30, BF_LANDED);
    assert_int_equal(odds().n_sessions, 1);
    session(86400, 2, 5);
    made_stretch(&made, 400, 3000, 15); /* told afterwards */
    assert_int_equal(odds().n_sessions, 2);
    session(2 * 86400, 2, 30);
    for (int i = made_last_session(&made)->drop_from; i < made.fold.n_drops; i += 2)
        made.drop[i].is_implied = 1;
    assert_int_equal(odds().n_sessions, 2); /* 15 ends were not seen */
    bf_odds before = bf_odds_of(&made.fold, made.session[1].opened_ms, INFINITY);
    assert_int_equal(before.n_sessions, 1);
}

static void what_was_said_is_held_against_the_fish_before_the_next_look(void **state) {
    (void)state;
    begin();
    session(0, 2, 0);
    made_drop(&made, 1000, 30, BF_LANDED);
    made_drop(&made, 1500, 30, BF_MISSED);
    made_drop(&made, 3000, 30, BF_LANDED);
    advised(700, 0.7, 300);  /* at the look's very instant: came */
    advised(1000, 0.5, 600); /* the fish of that instant does not count, the miss neither: did not */
    advised(2900, 0.6, 600); /* came */
    bf_odds all = odds();
    assert_int_equal(all.n_said, 3);
    assert_int_equal(all.n_came, 2);
    BF_CHECK_REL(all.said, 1.8, 1e-15);
    /* what is not over yet is not counted, but for a fish that is there */
    all = bf_odds_of(&made.fold, INFINITY, made.session[0].opened_ms + 3100e3);
    assert_true(all.n_said == 3 && all.n_came == 2);
    all = bf_odds_of(&made.fold, INFINITY, made.session[0].opened_ms + 2950e3);
    assert_true(all.n_said == 2 && all.n_came == 1);
}

static void only_advice_that_was_followed_and_named_its_odds_counts(void **state) {
    (void)state;
    begin();
    session(0, 2, 0);
    advised(100, 0.5, 300)->body.done = BF_DONE_OTHER;
    advised(100, 0.5, 300)->body.done = -1;
    advised(100, NAN, 300);
    advised(100, 0.5, NAN);
    advised(100, 0.5, 300)->is_crossed = 1;
    advised(100, 0.5, 300)->kind = BF_NOTE;
    advised(7000, 0.5, 300); /* closed after 200 s of it, without a fish */
    assert_int_equal(odds().n_said, 0);
    advised(100, 0.5, 300);
    assert_int_equal(odds().n_said, 1);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_session_counts_from_twenty_lifts_on),
        cmocka_unit_test(what_was_said_is_held_against_the_fish_before_the_next_look),
        cmocka_unit_test(only_advice_that_was_followed_and_named_its_odds_counts),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
