/* A session told for the swim's model: which drops, when the rig was in, what put-ins come to, the order, the key. */
#include "common/check.h"

#include "baitfall/elementary.h"
#include "baitfall/story.h"
#include "common/random_event.h"

enum { LONG, MARGIN, MICROS, HARD_SIX, CORN };
#define MOST 4000

typedef struct day {
    int n;
    bf_event event[256];
    bf_fold fold;
    void *memory;
    bf_swim_scene scene;
    bf_story_names names;
    bf_turnaround around;
    int n_told;
    bf_swim_event told[MOST];
} day;

static const uint64_t keys[MAKER_NAMES] = {11, 22, 33, 44, 55, 66, 77, 88, 99, 110, 121, 132};

static bf_event *enter(day *d, int kind, double at_s) {
    bf_event *e = &d->event[d->n++];
    *e = (bf_event){.id = {1, (uint64_t)d->n},
                    .session = {1, 1},
                    .dev = 1,
                    .run = 1,
                    .seq = d->n,
                    .mono_ms = NAN,
                    .kind = kind,
                    .at_ms = MAKER_START_MS + at_s * 1000,
                    .rec_ms = MAKER_START_MS + at_s * 1000,
                    .pm_s = 5,
                    .digest = (uint64_t)d->n};
    bf_body_start(&e->body);
    return e;
}

static bf_event *lift(day *d, double at_s, int outcome) {
    bf_event *e = enter(d, BF_LIFT, at_s);
    e->body.outcome = outcome;
    return e;
}

static bf_event *lower(day *d, double at_s, int spot) {
    bf_event *e = enter(d, BF_LOWER, at_s);
    e->body.spot = spot;
    e->body.hook_bait = HARD_SIX;
    return e;
}

static bf_event *feed(day *d, double at_s, int spot, double count, int how) {
    bf_event *e = enter(d, BF_FEED, at_s);
    e->body.bait = MICROS;
    e->body.spot = spot;
    e->body.count = count;
    e->body.how = how;
    return e;
}

static bf_event *touch(day *d, double at_s) {
    return enter(d, BF_TOUCH, at_s);
}

static bf_event *tally(day *d, double from_s, double to_s, int landed) {
    bf_event *e = enter(d, BF_TALLY, to_s);
    e->body.from_ms = MAKER_START_MS + from_s * 1000;
    e->body.to_ms = MAKER_START_MS + to_s * 1000;
    e->body.landed = landed;
    return e;
}

static day *new_day(void) {
    day *d = calloc(1, sizeof *d);
    enter(d, BF_OPEN, 0)->body.hook_bait = CORN;
    return d;
}

static void fold_it(day *d, const bf_event *events, int n) {
    free(d->memory);
    d->memory = malloc(bf_fold_bytes(n) + 1);
    assert_int_equal(bf_fold_events(events, n, keys, MAKER_NAMES, d->memory, &d->fold), BF_OK);
    d->around = bf_turnaround_of(&d->fold);
}

static void tell_with(day *d, const bf_story_put *put, double until_s) {
    double until_ms = MAKER_START_MS + until_s * 1000;
    bf_story_cast(&d->fold, 0, until_ms, &d->scene, &d->names);
    d->n_told = bf_story_of(&d->fold, 0, &d->around, &d->scene, &d->names, put, until_ms, d->told, MOST);
    assert_true(d->n_told <= MOST);
}

static void tell(day *d, double until_s) {
    for (int i = 0; i < d->n; i++) assert_int_equal(bf_event_check(&d->event[i], NULL), BF_OK);
    fold_it(d, d->event, d->n);
    tell_with(d, NULL, until_s);
}

static void end_day(day *d) {
    free(d->memory);
    free(d);
}

/* The k-th event of a kind. */
static const bf_swim_event *told(const day *d, int kind, int k) {
    for (int i = 0; i < d->n_told; i++)
        if (d->told[i].kind == kind && k-- == 0) return &d->told[i];
    fail_msg("there is no such event of kind %d", kind);
    return NULL;
}

static int n_of(const day *d, int kind) {
    int n = 0;
    for (int i = 0; i < d->n_told; i++) n += d->told[i].kind == kind;
    return n;
}

/* ---- Drops ---- */

static void a_drop_seen_to_start_is_told_as_it_was(void **state) {
    (void)state;
    day *d = new_day();
    lower(d, 100, LONG);
    touch(d, 160)->body.n = 3;
    lift(d, 200, BF_LANDED)->body.held = BF_LIP_BOTTOM;
    tell(d, 300);
    assert_int_equal(d->n_told, 3);
    BF_CHECK_ABS(told(d, BF_SWIM_IN, 0)->t_s, 100, 1e-9);
    assert_int_equal(told(d, BF_SWIM_TOUCH, 0)->n, 3);
    const bf_swim_event *end = told(d, BF_SWIM_LIFT, 0);
    BF_CHECK_ABS(end->t_s, 200, 1e-9);
    assert_int_equal(end->outcome, BF_LANDED);
    assert_int_equal(end->held, BF_LIP_BOTTOM);
    assert_int_equal(d->names.hook[end->what], HARD_SIX);
    end_day(d);
}

static void an_unseen_start_is_the_turnaround_after_the_lift_or_put_in_before(void **state) {
    (void)state;
    day *d = new_day();
    feed(d, 60, LONG, 30, BF_CLUMP);
    lift(d, 400, BF_MISSED);
    lift(d, 900, BF_LANDED);
    tell(d, 1000);
    assert_int_equal(n_of(d, BF_SWIM_LIFT), 2);
    BF_CHECK_ABS(told(d, BF_SWIM_IN, 0)->t_s, 60 + BF_TURNAROUND_S, 1e-3); // nothing learned: the start value
    BF_CHECK_ABS(told(d, BF_SWIM_IN, 1)->t_s, 400 + BF_TURNAROUND_S, 1e-3);
    assert_true(told(d, BF_SWIM_IN, 1)->pm_s > 10);
    end_day(d);
}

static void an_unseen_start_is_not_after_the_first_touch(void **state) {
    (void)state;
    day *d = new_day();
    lift(d, 400, BF_MISSED);
    touch(d, 420);
    lift(d, 500, BF_LANDED);
    tell(d, 1000);
    BF_CHECK_ABS(told(d, BF_SWIM_IN, 1)->t_s, 420, 1e-3);
    end_day(d);
}

static void a_start_nobody_can_know_is_a_minute_before(void **state) {
    (void)state;
    day *d = new_day();
    lift(d, 400, BF_MISSED);
    tell(d, 1000);
    BF_CHECK_ABS(told(d, BF_SWIM_IN, 0)->t_s, 400 - BF_STORY_UNKNOWN_WAIT_S, 1e-6);
    end_day(d);
}

static void a_start_nobody_can_know_lies_after_the_stretch_before_it(void **state) {
    (void)state;
    day *d = new_day();
    tally(d, 100, 380, 4);
    lift(d, 400, BF_MISSED);
    tell(d, 1000);
    BF_CHECK_ABS(told(d, BF_SWIM_IN, 0)->t_s, 380, 1e-6);
    end_day(d);
}

static void a_wait_that_goes_on_counts_when_the_rig_was_seen_to_go_in(void **state) {
    (void)state;
    day *d = new_day();
    lift(d, 100, BF_LANDED);
    tell(d, 600);
    assert_int_equal(n_of(d, BF_SWIM_IN), 1); // only the one that ended
    lower(d, 150, LONG);
    tell(d, 600);
    assert_int_equal(n_of(d, BF_SWIM_IN), 2);
    assert_int_equal(d->told[d->n_told - 1].kind, BF_SWIM_IN);
    end_day(d);
}

static void a_wait_that_nobody_ended_is_forgotten_after_half_an_hour(void **state) {
    (void)state;
    day *d = new_day();
    lower(d, 100, LONG);
    tell(d, 7200);
    BF_CHECK_ABS(told(d, BF_SWIM_LIFT, 0)->t_s, 100 + BF_STORY_LONGEST_S, 1e-9);
    feed(d, 7000, LONG, 20, BF_CLUMP); // ends it by implication, too late
    tell(d, 7200);
    BF_CHECK_ABS(told(d, BF_SWIM_LIFT, 0)->t_s, 100 + BF_STORY_LONGEST_S, 1e-9);
    end_day(d);
}

static void a_lift_that_was_entered_ends_a_wait_however_long(void **state) {
    (void)state;
    day *d = new_day();
    lower(d, 100, LONG);
    lift(d, 5000, BF_LANDED);
    tell(d, 7200);
    BF_CHECK_ABS(told(d, BF_SWIM_LIFT, 0)->t_s, 5000, 1e-9);
    end_day(d);
}

/* A late put-in after a lift implies a drop in between, but not with an angler who enters each one. */
static void a_drop_that_is_only_implied_goes_by_the_anglers_habit(void **state) {
    (void)state;
    day *d = new_day();
    lift(d, 100, BF_LANDED);
    feed(d, 400, LONG, 20, BF_CLUMP);
    tell(d, 500);
    assert_int_equal(n_of(d, BF_SWIM_LIFT), 2);
    end_day(d);
    d = new_day();
    lower(d, 50, LONG);
    lift(d, 100, BF_LANDED);
    feed(d, 400, LONG, 20, BF_CLUMP);
    tell(d, 500);
    assert_int_equal(n_of(d, BF_SWIM_LIFT), 1);
    end_day(d);
}

static void what_comes_next_ends_a_drop_with_nothing(void **state) {
    (void)state;
    day *d = new_day();
    lower(d, 100, LONG);
    feed(d, 300, LONG, 20, BF_CLUMP);
    lower(d, 340, LONG);
    lower(d, 600, LONG);
    tell(d, 700);
    assert_int_equal(n_of(d, BF_SWIM_LIFT), 2);
    for (int i = 0; i < 2; i++) assert_int_equal(told(d, BF_SWIM_LIFT, i)->outcome, BF_NOTHING);
    BF_CHECK_ABS(told(d, BF_SWIM_LIFT, 0)->t_s, 300, 1e-9);
    // At the same instant: the rig comes out, then feed goes in; out, then in again.
    assert_int_equal(d->told[1].kind, BF_SWIM_LIFT);
    assert_int_equal(d->told[2].kind, BF_SWIM_FEED);
    assert_int_equal(d->told[4].kind, BF_SWIM_LIFT);
    assert_int_equal(d->told[5].kind, BF_SWIM_IN);
    end_day(d);
}

static void later_than_asked_is_left_out_and_the_drop_is_still_open(void **state) {
    (void)state;
    day *d = new_day();
    lower(d, 100, LONG);
    touch(d, 150);
    lift(d, 200, BF_LANDED);
    tell(d, 180);
    assert_int_equal(d->n_told, 2);
    assert_int_equal(d->told[0].kind, BF_SWIM_IN);
    assert_int_equal(d->told[1].kind, BF_SWIM_TOUCH);
    end_day(d);
}

static void a_lift_entered_on_two_devices_is_one_drop(void **state) {
    (void)state;
    day *d = new_day();
    lower(d, 100, LONG);
    lift(d, 200, BF_LANDED);
    lift(d, 200, BF_LANDED)->dev = 2;
    tell(d, 400);
    assert_int_equal(n_of(d, BF_SWIM_LIFT), 1);
    assert_int_equal(n_of(d, BF_SWIM_IN), 1);
    end_day(d);
}

static void touches_without_a_rig_in_are_left_out(void **state) {
    (void)state;
    day *d = new_day();
    lower(d, 100, LONG);
    lift(d, 200, BF_LANDED);
    enter(d, BF_CLOSE, 300);
    touch(d, 320);
    tell(d, 400);
    assert_int_equal(n_of(d, BF_SWIM_TOUCH), 0);
    end_day(d);
}

/* ---- What goes in, and what stands alone ---- */

static void crossed_out_entries_are_not_told(void **state) {
    (void)state;
    day *d = new_day();
    bf_event *wrong = feed(d, 60, LONG, 30, BF_CLUMP);
    bf_event *cross = enter(d, BF_CROSS, 90);
    cross->of = wrong->id;
    tell(d, 1000);
    assert_int_equal(d->n_told, 0);
    end_day(d);
}

/* Put-in 1: three baits, of the first of which nothing sank; put-in 2: one bait. */
static void further_baits_of_a_put_in_are_told_as_such(void **state) {
    (void)state;
    day *d = new_day();
    const bf_story_put put[4] = {{.pieces = 0, .area_m2 = NAN},
                                 {.pieces = 40, .area_m2 = NAN},
                                 {.pieces = 10, .area_m2 = NAN, .pieces_pm_frac = 0.2},
                                 {.pieces = 30, .area_m2 = NAN}};
    for (int i = 0; i < 4; i++) feed(d, 60 + 5 * i, LONG, 40, BF_CLUMP)->body.put = i < 3 ? 1 : 2;
    tell(d, 300);
    assert_int_equal(n_of(d, BF_SWIM_FEED), 4);
    for (int i = 0; i < 4; i++) assert_int_equal(told(d, BF_SWIM_FEED, i)->is_further, i == 1 || i == 2);
    tell_with(d, put, 300);
    assert_int_equal(n_of(d, BF_SWIM_FEED), 3);
    for (int i = 0; i < 3; i++) {
        assert_int_equal(told(d, BF_SWIM_FEED, i)->is_further, i == 1);
        BF_CHECK_ABS(told(d, BF_SWIM_FEED, i)->count_pm_frac, i == 1 ? 0.2 : 0, 0);
    }
    end_day(d);
}

static void put_ins_come_to_what_they_are_said_to_come_to(void **state) {
    (void)state;
    day *d = new_day();
    feed(d, 60, LONG, 30, BF_THROW);
    feed(d, 90, LONG, NAN, -1)->body.fill_frac = 0.5;
    fold_it(d, d->event, d->n);
    tell_with(d, NULL, 1000);
    assert_int_equal(n_of(d, BF_SWIM_FEED), 1); // a part of a pot is no count yet
    BF_CHECK_ABS(d->told[0].area_m2, d->scene.spot[0].area_m2[BF_THROW], 0);
    const bf_story_put put[2] = {{.pieces = 31, .area_m2 = 2.5}, {.pieces = 77, .area_m2 = NAN}};
    tell_with(d, put, 1000);
    BF_CHECK_ABS(told(d, BF_SWIM_FEED, 0)->count, 31, 0);
    BF_CHECK_ABS(told(d, BF_SWIM_FEED, 0)->area_m2, 2.5, 0);
    BF_CHECK_ABS(told(d, BF_SWIM_FEED, 1)->count, 77, 0);
    assert_int_equal(told(d, BF_SWIM_FEED, 1)->how, BF_CLUMP);
    BF_CHECK_ABS(told(d, BF_SWIM_FEED, 1)->area_m2, d->scene.spot[0].area_m2[BF_CLUMP], 0);
    end_day(d);
}

static void looks_tallies_and_temperatures_are_told(void **state) {
    (void)state;
    day *d = new_day();
    enter(d, BF_WATER, 10)->body.temp_c = 9;
    feed(d, 60, LONG, 30, BF_CLUMP);
    lower(d, 100, MARGIN);
    bf_event *look = enter(d, BF_LOOK, 150);
    look->body.eye = BF_EYE_LESS;
    look->body.shown = 24;
    lift(d, 200, BF_LANDED);
    tally(d, 300, 900, 7);
    tally(d, 950, 950, 7); // of no length: tells no rate
    enter(d, BF_WATER, 960)->body.temp_c = 11;
    tell(d, 1000);
    BF_CHECK_ABS(d->scene.temp_c, 9, 0); // the first measured
    BF_CHECK_ABS(told(d, BF_SWIM_TEMP, 1)->value, 11, 0);
    assert_int_equal(told(d, BF_SWIM_LOOK, 0)->eye, BF_EYE_LESS);
    BF_CHECK_ABS(told(d, BF_SWIM_LOOK, 0)->count, 24, 0);
    assert_int_equal(d->names.spot[told(d, BF_SWIM_LOOK, 0)->spot], MARGIN); // the last fished
    assert_int_equal(n_of(d, BF_SWIM_TALLY), 1);
    BF_CHECK_ABS(told(d, BF_SWIM_TALLY, 0)->t_s, 900, 1e-9);
    BF_CHECK_ABS(told(d, BF_SWIM_TALLY, 0)->span_s, 600, 1e-9);
    assert_int_equal(told(d, BF_SWIM_TALLY, 0)->tally[BF_LANDED], 7);
    end_day(d);
}

/* There is one rig: a stretch that overlaps one told before begins where that ends, one that lies within it is left out. */
static void stretches_that_overlap_are_cut(void **state) {
    (void)state;
    day *d = new_day();
    lower(d, 100, LONG);
    lift(d, 200, BF_LANDED);
    tally(d, 300, 900, 7);
    tally(d, 600, 1000, 2);
    tally(d, 800, 1000, 1); // covered by now
    tell(d, 1200);
    assert_int_equal(n_of(d, BF_SWIM_TALLY), 2);
    assert_int_equal(n_of(d, BF_SWIM_STRETCH), 2);
    BF_CHECK_ABS(told(d, BF_SWIM_STRETCH, 1)->t_s, 900, 1e-9);
    BF_CHECK_ABS(told(d, BF_SWIM_TALLY, 1)->span_s, 100, 1e-9);
    assert_int_equal(told(d, BF_SWIM_TALLY, 1)->tally[BF_LANDED], 2);
    end_day(d);
}

static void a_look_without_a_count_shows_none(void **state) {
    (void)state;
    day *d = new_day();
    enter(d, BF_LOOK, 150)->body.eye = BF_EYE_RIGHT;
    tell(d, 1000);
    assert_true(isnan(told(d, BF_SWIM_LOOK, 0)->count));
    end_day(d);
}

static void names_are_cast_in_order_and_an_empty_session_has_one_of_each(void **state) {
    (void)state;
    day *d = new_day();
    tell(d, 1000);
    assert_int_equal(d->n_told, 0);
    assert_int_equal(d->scene.n_spots, 1);
    assert_int_equal(d->scene.n_feeds, 1);
    assert_int_equal(d->scene.n_hooks, 1);
    assert_int_equal(d->names.spot[0], -1);
    assert_int_equal(d->names.hook[0], CORN); // told by `open`
    bf_event *plumb = enter(d, BF_PLUMB, 20);
    plumb->body.spot = MICROS;
    plumb->body.depth_m = 2;
    feed(d, 60, MARGIN, 30, BF_CLUMP);
    lower(d, 100, LONG);
    tell(d, 1000);
    assert_int_equal(d->scene.n_spots, 2); // plumbing alone is no fishing
    assert_int_equal(d->names.spot[0], MARGIN);
    assert_int_equal(d->names.spot[1], LONG);
    assert_int_equal(told(d, BF_SWIM_IN, 0)->spot, 1);
    end_day(d);
}

static void entries_before_the_session_was_opened_move_its_beginning(void **state) {
    (void)state;
    day *d = new_day();
    feed(d, -120, LONG, 30, BF_CLUMP);
    tell(d, 100);
    BF_CHECK_ABS(told(d, BF_SWIM_FEED, 0)->t_s, 0, 0);
    end_day(d);
}

static void no_more_than_a_day_is_told(void **state) {
    (void)state;
    day *d = new_day();
    feed(d, 60, LONG, 30, BF_CLUMP);
    lower(d, 4000, LONG);
    feed(d, 90000, LONG, 40, BF_CLUMP);
    tell(d, 91000);
    assert_int_equal(n_of(d, BF_SWIM_FEED), 1);
    BF_CHECK_ABS(told(d, BF_SWIM_FEED, 0)->count, 40, 0);
    BF_CHECK_ABS(told(d, BF_SWIM_FEED, 0)->t_s, BF_STORY_MOST_S - 1000, 1e-6);
    BF_CHECK_ABS(told(d, BF_SWIM_IN, 0)->t_s, 0,
                 0); // in already, and forgotten half an hour after it went in
    BF_CHECK_ABS(told(d, BF_SWIM_LIFT, 0)->t_s, 4000 + BF_STORY_LONGEST_S - 4600, 1e-6);
    end_day(d);
}

/* ---- Whatever was entered ---- */

/* Every kind, every field, any mixture: the story is in order, in and lift take turns, and nothing lies outside. */
static void any_journal_makes_a_story_that_holds_together(void **state) {
    (void)state;
    day *d = calloc(1, sizeof *d);
    static bf_event events[600];
    for (uint64_t seed = 1; seed <= 200; seed++) {
        maker m = maker_start(seed, 3, 1);
        int n = 20 + (int)(seed * 3 % 580);
        maker_fill(&m, events, n);
        fold_it(d, events, n);
        tell_with(d, NULL, 1e7);
        int in_at = -1;
        for (int i = 0; i < d->n_told; i++) {
            const bf_swim_event *e = &d->told[i];
            assert_true(e->t_s >= (i ? d->told[i - 1].t_s : 0));
            assert_true(e->t_s <= BF_STORY_MOST_S);
            assert_in_range(e->spot, 0, d->scene.n_spots - 1);
            if (e->kind == BF_SWIM_FEED) assert_true(e->count > 0 && e->area_m2 > 0);
            if (e->kind == BF_SWIM_FEED) assert_in_range(e->what, 0, d->scene.n_feeds - 1);
            if (e->kind == BF_SWIM_TOUCH) assert_true(in_at >= 0);
            if (e->kind == BF_SWIM_IN) {
                assert_int_equal(in_at, -1);
                assert_in_range(e->what, 0, d->scene.n_hooks - 1);
                in_at = i;
            }
            if (e->kind == BF_SWIM_LIFT) {
                assert_true(in_at >= 0 && e->t_s > d->told[in_at].t_s);
                assert_int_equal(e->spot, d->told[in_at].spot);
                in_at = -1;
            }
        }
    }
    end_day(d);
}

/* ---- Marks and the key of a snapshot ---- */

static day *made_day(void) {
    day *d = new_day();
    feed(d, 60, LONG, 30, BF_CLUMP);
    lower(d, 100, LONG);
    lift(d, 500, BF_LANDED);
    feed(d, 560, LONG, 30, BF_CLUMP);
    lower(d, 600, LONG);
    return d;
}

static void marks_stand_in_order_behind_what_happened_at_their_instant(void **state) {
    (void)state;
    day *d = made_day();
    tell(d, 1000);
    const double at_s[] = {600, 240, 120, 0};
    int n = bf_story_mark(d->told, d->n_told, MOST, at_s, 4);
    assert_int_equal(n - d->n_told, 4);
    d->n_told = n;
    for (int k = 0; k < 4; k++) BF_CHECK_ABS(told(d, BF_SWIM_MARK, k)->t_s, at_s[3 - k], 0);
    assert_int_equal(d->told[n - 1].kind, BF_SWIM_MARK); // after the rig went in at the same instant
    end_day(d);
}

static void the_key_knows_what_happened_and_not_what_was_marked_or_noted(void **state) {
    (void)state;
    day *d = made_day();
    tell(d, 1000);
    int n = d->n_told;
    uint64_t key = bf_story_hash(&d->scene, d->told, n);
    const double at_s[] = {0, 120, 505};
    int n_marked = bf_story_mark(d->told, n, MOST, at_s, 3);
    assert_true(bf_story_hash(&d->scene, d->told, n_marked) == key);
    enter(d, BF_NOTE, 30);
    tell(d, 1000);
    assert_true(bf_story_hash(&d->scene, d->told, d->n_told) == key);
    tell(d, 550); // fewer events: a beginning of the same story
    assert_true(bf_story_hash(&d->scene, d->told, d->n_told) != key);
    uint64_t beginning = bf_story_hash(&d->scene, d->told, d->n_told);
    tell(d, 1000);
    assert_true(bf_story_hash(&d->scene, d->told, d->n_told - 2) == beginning);
    d->told[0].count += 1;
    assert_true(bf_story_hash(&d->scene, d->told, d->n_told) != key);
    d->told[0].count -= 1;
    d->scene.spot[0].depth_m += 0.1;
    assert_true(bf_story_hash(&d->scene, d->told, d->n_told) != key);
    end_day(d);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_drop_seen_to_start_is_told_as_it_was),
        cmocka_unit_test(an_unseen_start_is_the_turnaround_after_the_lift_or_put_in_before),
        cmocka_unit_test(an_unseen_start_is_not_after_the_first_touch),
        cmocka_unit_test(a_start_nobody_can_know_is_a_minute_before),
        cmocka_unit_test(a_start_nobody_can_know_lies_after_the_stretch_before_it),
        cmocka_unit_test(a_wait_that_goes_on_counts_when_the_rig_was_seen_to_go_in),
        cmocka_unit_test(a_wait_that_nobody_ended_is_forgotten_after_half_an_hour),
        cmocka_unit_test(a_lift_that_was_entered_ends_a_wait_however_long),
        cmocka_unit_test(a_drop_that_is_only_implied_goes_by_the_anglers_habit),
        cmocka_unit_test(what_comes_next_ends_a_drop_with_nothing),
        cmocka_unit_test(later_than_asked_is_left_out_and_the_drop_is_still_open),
        cmocka_unit_test(a_lift_entered_on_two_devices_is_one_drop),
        cmocka_unit_test(touches_without_a_rig_in_are_left_out),
        cmocka_unit_test(crossed_out_entries_are_not_told),
        cmocka_unit_test(further_baits_of_a_put_in_are_told_as_such),
        cmocka_unit_test(put_ins_come_to_what_they_are_said_to_come_to),
        cmocka_unit_test(looks_tallies_and_temperatures_are_told),
        cmocka_unit_test(stretches_that_overlap_are_cut),
        cmocka_unit_test(a_look_without_a_count_shows_none),
        cmocka_unit_test(names_are_cast_in_order_and_an_empty_session_has_one_of_each),
        cmocka_unit_test(entries_before_the_session_was_opened_move_its_beginning),
        cmocka_unit_test(no_more_than_a_day_is_told),
        cmocka_unit_test(any_journal_makes_a_story_that_holds_together),
        cmocka_unit_test(marks_stand_in_order_behind_what_happened_at_their_instant),
        cmocka_unit_test(the_key_knows_what_happened_and_not_what_was_marked_or_noted),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
