/* What happened in the water, from events in order: waits, put-ins, nets, what is carried forward, the same thing entered twice. */
#include "record/book.h"

/* ---- Waits ---- */

static const bf_drop *drop_at(const book *b, int i, int start, double base_s, double end_s, int outcome) {
    assert_true(i < b->fold.n_drops);
    const bf_drop *drop = &b->fold.drop[i];
    assert_int_equal(drop->start, start);
    if (start == BF_START_UNKNOWN)
        assert_true(isnan(drop->base_ms));
    else
        BF_CHECK_ABS(t_s(drop->base_ms), base_s, 0);
    BF_CHECK_ABS(t_s(drop->end_ms), end_s, 0);
    assert_int_equal(drop->outcome, outcome);
    return drop;
}

static void a_wait_runs_from_lower_to_lift(void **state) {
    (void)state;
    book b = {0};
    bf_event *in = enter(&b, BF_LOWER, 100);
    in->body.spot = LONG;
    in->body.hook_bait = HARD_SIX;
    enter(&b, BF_TOUCH, 150);
    enter(&b, BF_TOUCH, 160)->body.n = 3;
    bf_event *fish = lift(&b, 190, BF_LANDED);
    fish->body.mass_kg = 1.2;
    fish->body.held = BF_CORNER;
    fold_book(&b);
    assert_int_equal(b.fold.n_drops, 2); // and the wait that began with the lift
    const bf_drop *drop = drop_at(&b, 0, BF_START_LOWER, 100, 190, BF_LANDED);
    assert_int_equal(drop->is_implied, 0);
    assert_int_equal(drop->spot, LONG);
    assert_int_equal(drop->hook_bait, HARD_SIX);
    assert_int_equal(drop->n_touches, 4);
    BF_CHECK_ABS(t_s(drop->first_touch_ms), 150, 0);
    BF_CHECK_ABS(drop->mass_kg, 1.2, 0);
    assert_int_equal(drop->held, BF_CORNER);
    assert_int_equal(b.fold.session[0].count[BF_TOUCHED], 4);
    const bf_drop *open = drop_at(&b, 1, BF_START_LIFT, 190, 190, BF_NOTHING);
    assert_int_equal(open->end_live, -1);
    assert_int_equal(b.fold.session[0].count[BF_NOTHING], 0);
    free(b.memory);
}

static void a_wait_without_lower_starts_at_the_last_lift_or_put_in(void **state) {
    (void)state;
    book b = {0};
    lift(&b, 100, BF_LANDED);
    lift(&b, 250, BF_MISSED);
    feed(&b, 270, LONG, BF_CLUMP);
    lift(&b, 400, BF_LOST);
    enter(&b, BF_CLOSE, 500);
    fold_book(&b);
    assert_int_equal(b.fold.n_drops, 3);
    drop_at(&b, 0, BF_START_UNKNOWN, 0, 100, BF_LANDED);
    drop_at(&b, 1, BF_START_LIFT, 100, 250, BF_MISSED);
    drop_at(&b, 2, BF_START_FEED, 270, 400, BF_LOST);
    free(b.memory);
}

static void the_next_lower_ends_an_open_wait_with_nothing(void **state) {
    (void)state;
    book b = {0};
    enter(&b, BF_LOWER, 0)->body.spot = LONG;
    enter(&b, BF_LOWER, 300)->body.spot = MARGIN;
    fold_book(&b);
    const bf_drop *drop = drop_at(&b, 0, BF_START_LOWER, 0, 300, BF_NOTHING);
    assert_int_equal(drop->is_implied, 1);
    assert_int_equal(drop->spot, LONG);
    assert_int_equal(b.fold.session[0].count[BF_NOTHING], 1);
    assert_int_equal(drop_at(&b, 1, BF_START_LOWER, 300, 300, BF_NOTHING)->end_live, -1);
    free(b.memory);
}

static void a_lower_after_a_lift_ends_nothing(void **state) {
    (void)state;
    book b = {0};
    lift(&b, 0, BF_LANDED);
    enter(&b, BF_LOWER, 300);
    lift(&b, 400, BF_LANDED);
    enter(&b, BF_CLOSE, 401);
    fold_book(&b);
    assert_int_equal(b.fold.n_drops, 2);
    drop_at(&b, 1, BF_START_LOWER, 300, 400, BF_LANDED);
    free(b.memory);
}

static void feed_from_a_pot_ends_a_wait_and_thrown_feed_does_not(void **state) {
    (void)state;
    const int hows[] = {BF_CLUMP, BF_SPRINKLE, -1, BF_THROW, BF_HAND};
    for (int k = 0; k < 5; k++) {
        book b = {0};
        enter(&b, BF_LOWER, 0)->body.spot = LONG;
        feed(&b, 200, MARGIN, hows[k]);
        lift(&b, 300, BF_LANDED);
        enter(&b, BF_CLOSE, 301);
        fold_book(&b);
        int ends = k < 3;
        assert_int_equal(b.fold.n_drops, 1 + ends);
        if (ends) assert_int_equal(drop_at(&b, 0, BF_START_LOWER, 0, 200, BF_NOTHING)->spot, LONG);
        drop_at(&b, ends, ends ? BF_START_FEED : BF_START_LOWER, ends ? 200 : 0, 300, BF_LANDED);
        assert_int_equal(b.fold.drop[ends].spot, ends ? MARGIN : LONG);
        free(b.memory);
    }
}

static void feed_soon_after_a_lift_ends_nothing(void **state) {
    (void)state;
    for (int is_long = 0; is_long < 2; is_long++) {
        book b = {0};
        lift(&b, 0, BF_LANDED);
        feed(&b, is_long ? 65 : 64, LONG, BF_CLUMP);
        enter(&b, BF_CLOSE, 400);
        fold_book(&b);
        assert_int_equal(b.fold.n_drops, 1 + is_long);
        if (is_long) drop_at(&b, 1, BF_START_LIFT, 0, 65, BF_NOTHING);
        free(b.memory);
    }
}

static void a_touch_shows_that_the_rig_was_in(void **state) {
    (void)state;
    book b = {0};
    lift(&b, 0, BF_LANDED);
    enter(&b, BF_TOUCH, 40);
    feed(&b, 60, LONG, BF_CLUMP); // too soon, but for the touch
    enter(&b, BF_CLOSE, 400);
    fold_book(&b);
    assert_int_equal(b.fold.n_drops, 2);
    const bf_drop *drop = drop_at(&b, 1, BF_START_LIFT, 0, 60, BF_NOTHING);
    bf_turnaround turnaround = bf_turnaround_of(&b.fold);
    double pm_s;
    int is_event;
    BF_CHECK_ABS(bf_drop_wait_s(drop, &turnaround, &pm_s, &is_event), 20, 1e-12);
    free(b.memory);
}

static void several_baits_of_one_put_in_end_one_wait(void **state) {
    (void)state;
    book b = {0};
    enter(&b, BF_LOWER, 0);
    feed(&b, 200, LONG, BF_CLUMP)->body.put = 4;
    feed(&b, 200, LONG, BF_CLUMP)->body.put = 4;
    feed(&b, 290, LONG, BF_THROW);
    lift(&b, 300, BF_LANDED);
    enter(&b, BF_CLOSE, 301);
    fold_book(&b);
    assert_int_equal(b.fold.n_drops, 2);
    assert_int_equal(b.fold.n_put_ins, 3);
    assert_int_equal(b.fold.put_in[0].first, 0);
    assert_int_equal(b.fold.put_in[1].first, 0);
    assert_int_equal(b.fold.put_in[2].first, 2);
    assert_int_equal(b.fold.drop[0].put, -1);
    assert_int_equal(b.fold.drop[1].put, 1);
    free(b.memory);
}

static void a_drop_knows_the_last_put_in_at_its_spot(void **state) {
    (void)state;
    book b = {0};
    feed(&b, 0, LONG, BF_CLUMP);
    feed(&b, 100, MARGIN, BF_CLUMP);
    enter(&b, BF_LOWER, 200)->body.spot = LONG;
    lift(&b, 300, BF_LANDED);
    enter(&b, BF_LOWER, 350)->body.spot = MARGIN;
    lift(&b, 400, BF_LANDED);
    enter(&b, BF_LOWER, 450)->body.spot = CORN;
    lift(&b, 500, BF_LANDED);
    fold_book(&b);
    assert_int_equal(b.fold.n_drops,
                     5); // the first: fishing over the first put-in until the second, 100 s later
    assert_int_equal(b.fold.drop[1].put, 0);
    assert_int_equal(b.fold.drop[2].put, 1);
    assert_int_equal(b.fold.drop[3].put, -1);
    free(b.memory);
}

static void nothing_is_known_across_a_stretch_not_logged(void **state) {
    (void)state;
    book b = {0};
    lift(&b, 0, BF_LANDED);
    bf_event *tally = enter(&b, BF_TALLY, 4000);
    tally->body.from_ms = MAKER_START_MS + 100000;
    tally->body.to_ms = MAKER_START_MS + 3900000;
    tally->body.landed = 4;
    tally->body.touch = 2;
    lift(&b, 4100, BF_MISSED);
    enter(&b, BF_CLOSE, 4101);
    fold_book(&b);
    assert_int_equal(b.fold.n_drops, 2);
    drop_at(&b, 1, BF_START_UNKNOWN, 0, 4100, BF_MISSED);
    assert_int_equal(b.fold.session[0].count[BF_LANDED], 5);
    assert_int_equal(b.fold.session[0].count[BF_TOUCHED], 2);
    free(b.memory);
}

static void closing_takes_out_a_rig_that_was_seen_to_be_in(void **state) {
    (void)state;
    book b = {0};
    enter(&b, BF_LOWER, 0);
    enter(&b, BF_CLOSE, 100);
    fold_book(&b);
    assert_int_equal(b.fold.n_drops, 1);
    assert_int_equal(drop_at(&b, 0, BF_START_LOWER, 0, 100, BF_NOTHING)->is_implied, 1);
    BF_CHECK_ABS(t_s(b.fold.session[0].closed_ms), 100, 0);
    assert_int_equal(bf_fold_open_session(&b.fold), -1);
    free(b.memory);
}

static void waits_have_their_length_and_give_or_take(void **state) {
    (void)state;
    const bf_turnaround turnaround = {45, 31, 65, 0};
    bf_drop drop = {.start = BF_START_LOWER, .base_ms = 0, .base_pm_s = 3, .end_ms = 100000, .end_pm_s = 4};
    double pm_s;
    int is_event;
    drop.outcome = BF_MISSED;
    BF_CHECK_ABS(bf_drop_wait_s(&drop, &turnaround, &pm_s, &is_event), 100, 1e-12);
    BF_CHECK_ABS(pm_s, 5, 1e-12);
    assert_int_equal(is_event, 1);
    drop.start = BF_START_LIFT;
    BF_CHECK_ABS(bf_drop_wait_s(&drop, &turnaround, &pm_s, &is_event), 55, 1e-12);
    BF_CHECK_ABS(pm_s, sqrt(25 + 17 * 17), 1e-12);
    drop.end_ms = 30000;
    BF_CHECK_ABS(bf_drop_wait_s(&drop, &turnaround, &pm_s, &is_event), 0.5, 0);
    drop.outcome = BF_NOTHING;
    BF_CHECK_ABS(bf_drop_wait_s(&drop, &turnaround, &pm_s, &is_event), 0.5, 0);
    assert_int_equal(is_event, 0);
    drop.outcome = BF_LANDED;
    drop.end_live = -1;
    BF_CHECK_ABS(bf_drop_wait_s(&drop, &turnaround, &pm_s, &is_event), 0.5, 0);
    assert_int_equal(is_event, 0);
    drop.start = BF_START_UNKNOWN;
    assert_true(isnan(bf_drop_wait_s(&drop, &turnaround, &pm_s, &is_event)) && isnan(pm_s));
}

static void the_turnaround_starts_at_45_s_and_learns(void **state) {
    (void)state;
    book b = {0};
    fold_book(&b);
    bf_turnaround t = bf_turnaround_of(&b.fold);
    BF_CHECK_REL(t.mid_s, 45.0, 1e-12);
    BF_CHECK_REL(t.hi_s, 65.0, 1e-12);
    BF_CHECK_REL(t.lo_s, 45.0 * 45 / 65, 1e-12);
    assert_int_equal(t.n, 0);
    // Twelve gaps of 25 s: mean of logs by hand (4 ln 45 + 12 ln 25) / 16; their spread from the same sixteen.
    for (int i = 0; i < 12; i++) {
        lift(&b, i * 300, BF_MISSED);
        enter(&b, BF_LOWER, i * 300 + 25);
    }
    lift(&b, 12 * 300, BF_LANDED);
    enter(&b, BF_LOWER, 12 * 300 + 601); // a rest, no turnaround
    fold_book(&b);
    t = bf_turnaround_of(&b.fold);
    assert_int_equal(t.n, 12);
    double mean = (4 * log(45) + 12 * log(25)) / 16, prior = log(65.0 / 45) / 1.2815515655446004;
    double variance = (4 * (prior * prior + pow(log(45) - mean, 2)) + 12 * pow(log(25) - mean, 2)) / 16;
    BF_CHECK_REL(t.mid_s, exp(mean), 1e-12);
    BF_CHECK_REL(t.hi_s, exp(mean + 1.2815515655446004 * sqrt(variance)), 1e-12);
    free(b.memory);
}

/* ---- Nets, what is carried forward, twins ---- */

static void fish_go_into_the_net_named_last(void **state) {
    (void)state;
    book b = {0};
    lift(&b, 0, BF_LANDED);
    enter(&b, BF_NET, 10)->body.net = 2;
    lift(&b, 100, BF_LANDED);
    bf_event *weighed = enter(&b, BF_NET, 110);
    weighed->body.net = 1;
    weighed->body.mass_kg = 20;
    lift(&b, 200, BF_LANDED);
    fold_book(&b);
    assert_int_equal(b.fold.drop[0].net, 0);
    assert_int_equal(b.fold.drop[1].net, 2);
    assert_int_equal(b.fold.drop[2].net, 2);
    free(b.memory);
}

static void the_hook_bait_and_the_spot_are_carried_forward(void **state) {
    (void)state;
    book b = {0};
    enter(&b, BF_OPEN, 0)->body.hook_bait = CORN;
    lift(&b, 100, BF_LANDED)->body.spot = LONG;
    lift(&b, 200, BF_LANDED)->body.hook_bait = HARD_SIX;
    feed(&b, 210, -1, BF_CLUMP);
    lift(&b, 300, BF_LANDED);
    fold_book(&b);
    assert_int_equal(b.fold.drop[0].hook_bait, CORN);
    assert_int_equal(b.fold.drop[1].hook_bait, HARD_SIX);
    assert_int_equal(b.fold.drop[1].spot, LONG);
    assert_int_equal(b.fold.drop[2].hook_bait, HARD_SIX);
    assert_int_equal(b.fold.put_in[0].spot, LONG);
    free(b.memory);
}

static void the_same_thing_entered_on_two_devices_is_found(void **state) {
    (void)state;
    book b = {0};
    lift(&b, 100, BF_LANDED)->body.spot = LONG;
    bf_event *other = lift(&b, 125, BF_LANDED);
    other->dev = 2;
    other->body.spot = LONG;
    lift(&b, 126, BF_LANDED)->body.spot =
        LONG; // 26 s after the first, on the same device; 1 s after the other
    bf_event *elsewhere = lift(&b, 127, BF_LANDED);
    elsewhere->dev = 3;
    elsewhere->body.spot = MARGIN;
    bf_event *late = lift(&b, 160, BF_LANDED);
    late->dev = 2;
    late->body.spot = LONG;
    fold_book(&b);
    assert_int_equal(b.fold.n_twins, 2);
    assert_int_equal(b.fold.twin[0].a, 0);
    assert_int_equal(b.fold.twin[0].b, 1);
    assert_int_equal(b.fold.twin[1].a, 1);
    assert_int_equal(b.fold.twin[1].b, 2);
    correct(&b, BF_CROSS, other);
    fold_book(&b);
    assert_int_equal(b.fold.n_twins, 0);
    free(b.memory);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_wait_runs_from_lower_to_lift),
        cmocka_unit_test(a_wait_without_lower_starts_at_the_last_lift_or_put_in),
        cmocka_unit_test(the_next_lower_ends_an_open_wait_with_nothing),
        cmocka_unit_test(a_lower_after_a_lift_ends_nothing),
        cmocka_unit_test(feed_from_a_pot_ends_a_wait_and_thrown_feed_does_not),
        cmocka_unit_test(feed_soon_after_a_lift_ends_nothing),
        cmocka_unit_test(a_touch_shows_that_the_rig_was_in),
        cmocka_unit_test(several_baits_of_one_put_in_end_one_wait),
        cmocka_unit_test(a_drop_knows_the_last_put_in_at_its_spot),
        cmocka_unit_test(nothing_is_known_across_a_stretch_not_logged),
        cmocka_unit_test(closing_takes_out_a_rig_that_was_seen_to_be_in),
        cmocka_unit_test(waits_have_their_length_and_give_or_take),
        cmocka_unit_test(the_turnaround_starts_at_45_s_and_learns),
        cmocka_unit_test(fish_go_into_the_net_named_last),
        cmocka_unit_test(the_hook_bait_and_the_spot_are_carried_forward),
        cmocka_unit_test(the_same_thing_entered_on_two_devices_is_found),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
