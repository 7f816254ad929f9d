/* The fold: a state that depends on the set of events alone; corrections, clocks, sessions. What happened in the water: drop_test.c. */
#include "record/book.h"

#define MOST 12000

/* ---- A set of events has one state ---- */

/* Everything that does not say where an event stood in the list. */
static void check_same_state(const bf_fold *a, const bf_fold *b) {
    assert_true(a->hash == b->hash);
    assert_int_equal(a->n_live, b->n_live);
    assert_int_equal(a->n_drops, b->n_drops);
    assert_int_equal(a->n_put_ins, b->n_put_ins);
    assert_int_equal(a->n_stretches, b->n_stretches);
    assert_int_equal(a->n_sessions, b->n_sessions);
    assert_int_equal(a->n_twins, b->n_twins);
    assert_int_equal(a->n_clashes, b->n_clashes);
    assert_int_equal(a->n_idle, b->n_idle);
    assert_memory_equal(a->drop, b->drop, (size_t)a->n_drops * sizeof *a->drop);
    assert_memory_equal(a->put_in, b->put_in, (size_t)a->n_put_ins * sizeof *a->put_in);
    assert_memory_equal(a->stretch, b->stretch, (size_t)a->n_stretches * sizeof *a->stretch);
    assert_memory_equal(a->twin, b->twin, (size_t)a->n_twins * sizeof *a->twin);
    assert_memory_equal(a->session, b->session, (size_t)a->n_sessions * sizeof *a->session);
}

static void any_order_and_any_repetition_give_the_same_state(void **state) {
    (void)state;
    static bf_event events[3 * 400];
    for (uint64_t seed = 1; seed <= 20; seed++) {
        maker m = maker_start(seed, 3, 2);
        int n = 400;
        bf_fold first, again;
        void *memory, *memory_again;
        maker_fill(&m, events, n);
        fold_events(events, n, &first, &memory);
        assert_int_equal(first.n_live, n);
        assert_true(first.n_drops > 5 && first.n_put_ins > 5 && first.n_idle > 0);
        for (int round = 0; round < 4; round++) {
            memcpy(events + n, events, (size_t)n * sizeof *events); // everything twice
            int n_all = n + maker_below(&m, n);
            maker_shuffle(&m, events, n);
            maker_shuffle(&m, events + n, n);
            fold_events(events, n_all, &again, &memory_again);
            assert_int_equal(again.n_known, n_all - n);
            check_same_state(&first, &again);
            free(memory_again);
        }
        free(memory);
    }
}

static void the_numbers_of_names_do_not_matter_to_the_hash(void **state) {
    (void)state;
    static bf_event events[300];
    maker m = maker_start(77, 2, 1);
    bf_fold a, b;
    void *memory_a, *memory_b;
    maker_fill(&m, events, 300);
    fold_events(events, 300, &a, &memory_a);
    uint64_t turned[MAKER_NAMES];
    for (int i = 0; i < MAKER_NAMES; i++) turned[(i + 5) % MAKER_NAMES] = keys[i];
    for (int i = 0; i < 300; i++)
        for (int f = 0; f < bf_body_table.n_fields; f++) {
            int *member = (int *)(void *)((char *)&events[i].body + bf_body_table.field[f].offset);
            if (bf_body_table.field[f].kind == BF_REF && *member >= 0) *member = (*member + 5) % MAKER_NAMES;
        }
    memory_b = malloc(bf_fold_bytes(300));
    assert_int_equal(bf_fold_events(events, 300, turned, MAKER_NAMES, memory_b, &b), BF_OK);
    assert_true(a.hash == b.hash);
    free(memory_a);
    free(memory_b);
}

static void the_union_of_two_devices_is_the_same_from_both_sides(void **state) {
    (void)state;
    static bf_event all[500], a[700], b[700];
    maker m = maker_start(5, 2, 2);
    maker_fill(&m, all, 500);
    // Each has its own entries and half of the other's; then each takes in what the other has.
    int n_a = 0, n_b = 0;
    for (int i = 0; i < 500; i++) {
        int is_a = all[i].dev == 1, is_shared = maker_below(&m, 2);
        if (is_a || is_shared) a[n_a++] = all[i];
        if (!is_a || is_shared) b[n_b++] = all[i];
    }
    assert_true(n_a < 500 && n_b < 500);
    static bf_event ab[1400], ba[1400];
    memcpy(ab, a, (size_t)n_a * sizeof *a);
    memcpy(ab + n_a, b, (size_t)n_b * sizeof *b);
    memcpy(ba, b, (size_t)n_b * sizeof *b);
    memcpy(ba + n_b, a, (size_t)n_a * sizeof *a);
    bf_fold whole, one, other;
    void *memory[3];
    fold_events(all, 500, &whole, &memory[0]);
    fold_events(ab, n_a + n_b, &one, &memory[1]);
    fold_events(ba, n_a + n_b, &other, &memory[2]);
    check_same_state(&whole, &one);
    check_same_state(&whole, &other);
    for (int i = 0; i < 3; i++) free(memory[i]);
}

static void any_change_of_what_counts_changes_the_hash(void **state) {
    (void)state;
    book b = {0};
    lift(&b, 100, BF_LANDED)->body.spot = LONG;
    fold_book(&b);
    uint64_t hash = b.fold.hash;
#define CHANGED(change)                                                                                      \
    {                                                                                                        \
        bf_event was = b.event[0];                                                                           \
        change;                                                                                              \
        fold_book(&b);                                                                                       \
        assert_true(b.fold.hash != hash);                                                                    \
        b.event[0] = was;                                                                                    \
    }
    CHANGED(b.event[0].body.outcome = BF_LOST)
    CHANGED(b.event[0].body.spot = MARGIN)
    CHANGED(b.event[0].body.mass_kg = 1)
    CHANGED(b.event[0].at_ms += 1)
    CHANGED(b.event[0].pm_s += 1)
    CHANGED(b.event[0].id.low += 1)
    CHANGED(b.event[0].session.low += 1)
#undef CHANGED
    free(b.memory);
}

/* ---- Corrections ---- */

static void crossing_out_and_putting_back_changes_nothing(void **state) {
    (void)state;
    static bf_event events[700];
    for (uint64_t seed = 1; seed <= 10; seed++) {
        maker m = maker_start(100 + seed, 2, 2);
        bf_fold before, after;
        void *memory[2];
        int n = 300;
        maker_fill(&m, events, n);
        // Random journals cross things out themselves: putting those back would change something. Only what counts is tried.
        fold_events(events, n, &before, &memory[0]);
        for (int i = 0; i < before.n_live; i += 3) {
            const bf_live *live = &before.live[i];
            if (live->is_crossed || bf_event_is_correction(live->kind)) continue;
            for (int put_back = 0; put_back < 2; put_back++) {
                bf_event *e = &events[n++];
                *e = maker_event(&m, events);
                bf_body_start(&e->body);
                e->kind = put_back ? BF_RESTORE : BF_CROSS;
                e->session = events[live->event].session;
                e->of = events[live->event].id;
            }
        }
        assert_true(n > 350);
        fold_events(events, n, &after, &memory[1]);
        assert_true(before.hash == after.hash);
        assert_int_equal(before.n_idle, after.n_idle);
        assert_int_equal(before.n_drops, after.n_drops);
        for (int i = 0; i < before.n_sessions; i++)
            assert_memory_equal(before.session[i].count, after.session[i].count,
                                sizeof before.session[i].count);
        free(memory[0]);
        free(memory[1]);
    }
}

static void the_last_correction_by_seq_decides(void **state) {
    (void)state;
    book b = {0};
    bf_event *fish = lift(&b, 100, BF_LANDED);
    correct(&b, BF_CROSS, fish)->seq = 20;
    correct(&b, BF_RESTORE, fish)->seq = 10; // entered before, came later
    fold_book(&b);
    assert_int_equal(b.fold.live[0].is_crossed, 1);
    assert_int_equal(b.fold.session[0].count[BF_LANDED], 0);
    assert_int_equal(b.fold.n_drops, 0);
    correct(&b, BF_RESTORE, fish)->seq = 21;
    fold_book(&b);
    assert_int_equal(b.fold.live[0].is_crossed, 0);
    assert_int_equal(b.fold.session[0].count[BF_LANDED], 1);
    free(b.memory);
}

static void of_equal_seq_the_greater_device_decides(void **state) {
    (void)state;
    book b = {0};
    bf_event *fish = lift(&b, 100, BF_LANDED);
    bf_event *cross = correct(&b, BF_CROSS, fish), *restore = correct(&b, BF_RESTORE, fish);
    cross->seq = restore->seq = 7;
    cross->dev = 2;
    restore->dev = 1;
    fold_book(&b);
    assert_int_equal(b.fold.live[0].is_crossed, 1);
    free(b.memory);
}

static void fixes_win_field_by_field_and_a_crossed_fix_does_nothing(void **state) {
    (void)state;
    book b = {0};
    bf_event *fish = lift(&b, 100, BF_MISSED);
    fish->body.spot = LONG;
    bf_event *one = correct(&b, BF_FIX, fish), *two = correct(&b, BF_FIX, fish),
             *three = correct(&b, BF_FIX, fish);
    one->body.outcome = BF_LANDED;
    one->body.mass_kg = 1;
    two->body.outcome = BF_LOST;
    two->body.at_ms = MAKER_START_MS + 60000;
    two->body.pm_s = 90;
    three->body.outcome = BF_FOUL;
    correct(&b, BF_CROSS, three);
    fold_book(&b);
    int i = bf_fold_find(&b.fold, b.event, fish->id);
    const bf_live *live = &b.fold.live[i];
    assert_int_equal(live->body.outcome, BF_LOST);
    assert_int_equal(live->body.spot, LONG);
    BF_CHECK_ABS(live->body.mass_kg, 1, 0);
    BF_CHECK_ABS(t_s(live->t_ms), 60, 0);
    BF_CHECK_ABS(live->pm_s, 90, 0);
    assert_int_equal(live->n_fixes, 2);
    assert_int_equal(b.fold.n_idle, 0);
    free(b.memory);
}

static void corrections_of_nothing_are_counted_and_do_nothing(void **state) {
    (void)state;
    book b = {0};
    bf_event *fish = lift(&b, 100, BF_LANDED);
    bf_event *cross = correct(&b, BF_CROSS, fish);
    bf_event *fix = correct(&b, BF_FIX, fish);
    correct(&b, BF_CROSS, cross);                           // a cross of a cross
    correct(&b, BF_FIX, fix)->body.spot = LONG;             // a fix of a fix
    correct(&b, BF_FIX, fish)->of = (bf_id){5, 5};          // of nothing known
    correct(&b, BF_RESTORE, fish)->session = (bf_id){8, 8}; // from another session
    fold_book(&b);
    assert_int_equal(b.fold.n_idle, 4);
    assert_int_equal(b.fold.live[bf_fold_find(&b.fold, b.event, fish->id)].is_crossed, 1);
    assert_int_equal(bf_fold_find(&b.fold, b.event, (bf_id){5, 5}), -1);
    free(b.memory);
}

static void of_two_that_share_an_id_the_smaller_digest_counts(void **state) {
    (void)state;
    for (int swap = 0; swap < 2; swap++) {
        book b = {0};
        lift(&b, 100, BF_LANDED)->digest = swap ? 9 : 3;
        lift(&b, 100, BF_LOST)->digest = swap ? 3 : 9;
        b.event[1].id = b.event[0].id;
        fold_book(&b);
        assert_int_equal(b.fold.n_live, 1);
        assert_int_equal(b.fold.n_clashes, 1);
        assert_int_equal(b.fold.n_known, 0);
        assert_int_equal(b.fold.live[0].is_clash, 1);
        assert_int_equal(b.fold.live[0].body.outcome, swap ? BF_LOST : BF_LANDED);
        free(b.memory);
    }
}

/* ---- Clocks ---- */

/* A day of 40 lifts, 5 min apart, on a device whose clock runs right until entry 20; from there wall clock = truth + off_s. With
 * `told`, the page was open and wrote a clock event. */
static void make_day(book *b, double off_s, int told) {
    *b = (book){0};
    for (int i = 0; i < 40; i++) {
        double at_s = i * 300;
        if (i == 20 && told) {
            bf_event *clock = enter(b, BF_CLOCK, at_s - 1 + off_s);
            clock->body.jump_s = off_s;
        }
        lift(b, at_s + (i >= 20 ? off_s : 0), i % 3 ? BF_MISSED : BF_LANDED);
    }
}

static void check_day(const book *b, double from_entry_20_s) {
    int n = 0;
    for (int i = 0; i < b->fold.n_live; i++) {
        if (b->fold.live[i].kind != BF_LIFT) continue;
        BF_CHECK_ABS(t_s(b->fold.live[i].t_ms), n * 300 + (n >= 20 ? from_entry_20_s : 0), 1e-9);
        n++;
    }
    assert_int_equal(n, 40);
}

static void a_clock_that_jumps_while_the_page_is_open_moves_nothing(void **state) {
    (void)state;
    const double to_1970_s = -MAKER_START_MS / 1000;
    const double jumps_s[] = {3600, -3600, to_1970_s, 2.5, -86400 * 3};
    for (int k = 0; k < 5; k++) {
        book b;
        make_day(&b, jumps_s[k], 1);
        fold_book(&b);
        check_day(&b, 0);
        free(b.memory);
    }
}

static void a_jump_that_two_open_pages_tell_counts_once(void **state) {
    (void)state;
    for (int is_other = 0; is_other < 2; is_other++) {
        book b;
        make_day(&b, 3600, 1);
        bf_event *echo = &b.event[b.n++];
        *echo = b.event[20];
        assert_int_equal(echo->kind, BF_CLOCK);
        echo->id.high = 2;
        echo->run = 2;
        echo->rec_ms += 500;
        echo->body.jump_s = is_other ? -300 : 3600.4; // another jump, or the same
        fold_book(&b);
        check_day(&b, is_other ? 300 : 0);
        free(b.memory);
    }
}

static void a_clock_set_back_between_two_runs_stands_still_and_gaps_stay_right(void **state) {
    (void)state;
    const double back_s[] = {-3600, -MAKER_START_MS / 1000};
    for (int k = 0; k < 2; k++) {
        book b;
        make_day(&b, back_s[k], 0);
        fold_book(&b);
        // Entry 20 stands where entry 19 stood, 300 s too early; those after it keep their distances.
        check_day(&b, -300);
        free(b.memory);
    }
}

static void a_clock_set_right_again_is_believed(void **state) {
    (void)state;
    book b;
    make_day(&b, -MAKER_START_MS / 1000, 0);
    lift(&b, 40 * 300, BF_LANDED); // by the right clock
    fold_book(&b);
    BF_CHECK_ABS(t_s(b.fold.live[40].t_ms), 40 * 300, 1e-9);
    free(b.memory);
}

static void a_slip_of_less_than_two_seconds_is_left_alone(void **state) {
    (void)state;
    book b = {0};
    lift(&b, 100, BF_LANDED);
    lift(&b, 98.5, BF_LANDED);
    fold_book(&b);
    BF_CHECK_ABS(t_s(b.fold.live[0].t_ms), 98.5, 1e-9);
    free(b.memory);
}

static void a_monotonic_clock_that_stopped_for_twenty_minutes_moves_nothing(void **state) {
    (void)state;
    book b;
    make_day(&b, 0, 0);
    for (int i = 25; i < b.n; i++) b.event[i].mono_ms -= 1200 * 1000;
    fold_book(&b);
    check_day(&b, 0);
    free(b.memory);
}

static void one_devices_clock_does_not_move_anothers_entries(void **state) {
    (void)state;
    book b;
    make_day(&b, 3600, 1);
    bf_event *other = lift(&b, 30 * 300 + 1, BF_FOUL);
    other->dev = 2;
    fold_book(&b);
    BF_CHECK_ABS(t_s(b.fold.live[bf_fold_find(&b.fold, b.event, other->id)].t_ms), 9001, 1e-9);
    free(b.memory);
}

static void entries_made_late_keep_the_time_they_tell(void **state) {
    (void)state;
    book b = {0};
    lift(&b, 1000, BF_LANDED);
    bf_event *late = lift(&b, 2000, BF_MISSED);
    late->at_ms = MAKER_START_MS + 500000;
    fold_book(&b);
    assert_int_equal(b.fold.live[0].body.outcome, BF_MISSED);
    BF_CHECK_ABS(t_s(b.fold.live[0].t_ms), 500, 0);
    free(b.memory);
}

static void a_stretch_is_told_by_the_clock_of_its_entry(void **state) {
    (void)state;
    book b = {0};
    bf_event *clock = enter(&b, BF_CLOCK, 3600);
    clock->body.jump_s = 3600;
    bf_event *tally = enter(&b, BF_TALLY, 3600 + 1800);
    tally->body.from_ms = MAKER_START_MS + 3600 * 1000.0;
    tally->body.to_ms = MAKER_START_MS + 5000 * 1000.0;
    tally->body.landed = 3;
    fold_book(&b);
    BF_CHECK_ABS(t_s(b.fold.stretch[0].from_ms), 0, 0);
    BF_CHECK_ABS(t_s(b.fold.stretch[0].to_ms), 1400, 0);
    assert_int_equal(b.fold.session[0].count[BF_LANDED], 3);
    free(b.memory);
}

static void an_end_fixed_past_the_other_leaves_a_stretch_the_right_way_round(void **state) {
    (void)state;
    book b = {0};
    bf_event *tally = enter(&b, BF_TALLY, 5000);
    tally->body.from_ms = MAKER_START_MS + 1000 * 1000.0;
    tally->body.to_ms = MAKER_START_MS + 2000 * 1000.0;
    tally->body.landed = 3;
    correct(&b, BF_FIX, tally)->body.from_ms = MAKER_START_MS + 3000 * 1000.0;
    fold_book(&b);
    BF_CHECK_ABS(t_s(b.fold.stretch[0].from_ms), 2000, 0);
    BF_CHECK_ABS(t_s(b.fold.stretch[0].to_ms), 3000, 0);
    BF_CHECK_ABS(t_s(b.fold.live[0].body.to_ms), 3000, 0);
    free(b.memory);
}

/* Hostile: 51 000 tallies of 10 000 fish each. */
static void counts_past_all_sense_stop(void **state) {
    (void)state;
    enum { N = 51000 };
    bf_event *events = malloc(N * sizeof *events);
    book one = {0};
    bf_event *tally = enter(&one, BF_TALLY, 100);
    tally->body.from_ms = tally->body.to_ms = MAKER_START_MS;
    tally->body.landed = 10000;
    for (int i = 0; i < N; i++) {
        events[i] = *tally;
        events[i].id.low = (uint64_t)i + 1;
    }
    bf_fold fold;
    void *memory;
    fold_events(events, N, &fold, &memory);
    assert_int_equal(fold.n_stretches, N);
    assert_int_equal(fold.session[0].count[BF_LANDED], 500000000);
    free(memory);
    free(events);
}

/* ---- Sessions ---- */

static void sessions_are_kept_apart_and_stand_by_opening(void **state) {
    (void)state;
    book b = {0};
    enter(&b, BF_OPEN, 90000)->session = (bf_id){1, 1};
    bf_event *early = enter(&b, BF_OPEN, 100);
    early->session = (bf_id){2, 2};
    early->body.venue = LONG;
    early->body.hours = 5;
    early->body.nets = 3;
    lift(&b, 200, BF_LANDED)->session = (bf_id){2, 2};
    lift(&b, 90200, BF_LOST)->session = (bf_id){1, 1};
    enter(&b, BF_WATER, 90300)->body.temp_c = 11.5;
    bf_event *end = enter(&b, BF_CLOSE, 5000);
    end->session = (bf_id){2, 2};
    // A third of which everything is crossed out.
    bf_event *gone = lift(&b, 50, BF_LANDED);
    gone->session = (bf_id){3, 3};
    correct(&b, BF_CROSS, gone)->session = (bf_id){3, 3};
    fold_book(&b);
    assert_int_equal(b.fold.n_sessions, 3);
    const bf_session *s = b.fold.session;
    assert_true(isnan(s[0].opened_ms) && s[0].id.high == 3);
    assert_int_equal(s[1].id.high, 2);
    BF_CHECK_ABS(t_s(s[1].opened_ms), 100, 0);
    BF_CHECK_ABS(t_s(s[1].closed_ms), 5000, 0);
    assert_int_equal(s[1].venue, LONG);
    assert_int_equal(s[1].nets, 3);
    BF_CHECK_ABS(s[1].hours, 5, 0);
    assert_int_equal(s[1].east_min, 60);
    assert_int_equal(s[1].count[BF_LANDED], 1);
    assert_int_equal(s[2].count[BF_LOST], 1);
    assert_true(isnan(s[2].closed_ms));
    BF_CHECK_ABS(s[2].temp_c, 11.5, 0);
    BF_CHECK_ABS(t_s(s[2].last_ms), 90300, 0);
    assert_int_equal(bf_fold_open_session(&b.fold), 2);
    int n = 0;
    for (int i = 0; i < 3; i++) n += s[i].live_to - s[i].live_from;
    assert_int_equal(n, b.fold.n_live);
    free(b.memory);
}

static void a_days_waits_fit_into_the_memory_that_was_asked_for(void **state) {
    (void)state;
    // Each event its own session: the most sessions and, with their open waits, the most drops there can be.
    static bf_event events[MOST];
    maker m = maker_start(9, 4, 1);
    bf_fold fold;
    void *memory;
    maker_fill(&m, events, MOST);
    fold_events(events, MOST, &fold, &memory); // 10 000 and more, under the sanitizers
    assert_int_equal(fold.n_live, MOST);
    free(memory);
    for (int i = 0; i < 200; i++) {
        events[i] = maker_event(&m, events);
        events[i].kind = BF_LIFT;
        events[i].of = (bf_id){0, 0};
        bf_body_start(&events[i].body);
        events[i].body.outcome = BF_LANDED;
        events[i].session = (bf_id){4, (uint64_t)i + 1};
    }
    fold_events(events, 200, &fold, &memory);
    assert_int_equal(fold.n_sessions, 200);
    assert_int_equal(fold.n_drops, 400);
    free(memory);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(any_order_and_any_repetition_give_the_same_state),
        cmocka_unit_test(the_numbers_of_names_do_not_matter_to_the_hash),
        cmocka_unit_test(the_union_of_two_devices_is_the_same_from_both_sides),
        cmocka_unit_test(any_change_of_what_counts_changes_the_hash),
        cmocka_unit_test(crossing_out_and_putting_back_changes_nothing),
        cmocka_unit_test(the_last_correction_by_seq_decides),
        cmocka_unit_test(of_equal_seq_the_greater_device_decides),
        cmocka_unit_test(fixes_win_field_by_field_and_a_crossed_fix_does_nothing),
        cmocka_unit_test(corrections_of_nothing_are_counted_and_do_nothing),
        cmocka_unit_test(of_two_that_share_an_id_the_smaller_digest_counts),
        cmocka_unit_test(a_clock_that_jumps_while_the_page_is_open_moves_nothing),
        cmocka_unit_test(a_jump_that_two_open_pages_tell_counts_once),
        cmocka_unit_test(a_clock_set_back_between_two_runs_stands_still_and_gaps_stay_right),
        cmocka_unit_test(a_clock_set_right_again_is_believed),
        cmocka_unit_test(a_slip_of_less_than_two_seconds_is_left_alone),
        cmocka_unit_test(a_monotonic_clock_that_stopped_for_twenty_minutes_moves_nothing),
        cmocka_unit_test(one_devices_clock_does_not_move_anothers_entries),
        cmocka_unit_test(entries_made_late_keep_the_time_they_tell),
        cmocka_unit_test(a_stretch_is_told_by_the_clock_of_its_entry),
        cmocka_unit_test(counts_past_all_sense_stop),
        cmocka_unit_test(an_end_fixed_past_the_other_leaves_a_stretch_the_right_way_round),
        cmocka_unit_test(sessions_are_kept_apart_and_stand_by_opening),
        cmocka_unit_test(a_days_waits_fit_into_the_memory_that_was_asked_for),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
