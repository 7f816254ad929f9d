/* The bait box, on folds by hand. */
#include "record/by_hand.h"

static const bf_bait_measure not_known = {NAN, NAN, NAN, NAN, NAN, NAN};

static void prepare(int bait, double count, double volume_m3, double mass_kg) {
    bf_live *live = add_live(BF_BOX);
    live->body.bait = bait;
    live->body.count = count;
    live->body.volume_m3 = volume_m3;
    live->body.mass_kg = mass_kg;
}

static bf_put_in *put_in(int bait) {
    made.t_ms += 5 * MINUTE_MS;
    add_live(BF_FEED);
    bf_put_in *put = &made.put_in[made.fold.n_put_ins];
    memset(put, 0, sizeof *put);
    *put = (bf_put_in){.session = made.fold.n_sessions - 1,
                       .live = made.fold.n_live - 1,
                       .t_ms = made.t_ms,
                       .bait = bait,
                       .count = NAN,
                       .volume_m3 = NAN,
                       .fill_frac = NAN,
                       .pot_m3 = NAN,
                       .first = made.fold.n_put_ins};
    session_now()->put_to = ++made.fold.n_put_ins;
    return put;
}

static bf_box box_of(int bait, const bf_bait_measure *measure) {
    return bf_box_of(&made.fold, made.fold.n_sessions - 1, bait, measure, made.t_ms);
}

static void the_box_is_prepared_less_put_in_by_hour(void **unused) {
    (void)unused;
    start_again();
    open_session(0, NAN);
    prepare(5, 300, NAN, NAN);
    prepare(6, NAN, NAN, 1);
    for (int i = 0; i < 14; i++)
        put_in(5)->count = 10; // every five minutes: 11 in the first hour, 3 in the second
    prepare(5, 40, NAN, NAN);
    int baits[4];
    assert_int_equal(bf_box_baits(&made.fold, 0, baits, 4), 2);
    assert_int_equal(baits[1], 6);
    bf_box box = box_of(5, &not_known);
    assert_int_equal(box.by, BF_BY_COUNT);
    BF_CHECK_ABS(box.left.mid, 200, 1e-9);
    BF_CHECK_ABS(box.left.lo, 200, 1e-9); // counted, not filled by eye
    BF_CHECK_ABS(box.put_ins.mid, 20, 1e-9);
    assert_int_equal(box.n_hours, 2);
    BF_CHECK_ABS(box.by_hour[0], 110, 1e-9);
    BF_CHECK_ABS(box.by_hour[1], 30, 1e-9);
    // the last hour (12 put-ins after its start, 120 pieces): 200 pieces last 100 minutes
    BF_CHECK_ABS(box.lasts_s.mid, 100 * 60, 1e-6);
    assert_true(box.lasts_s.lo < box.lasts_s.mid && box.lasts_s.hi > box.lasts_s.mid);
}

/* 1 l of micros in the box, 30 medium pots of 8 ml filled by eye: 760 ml left, 95 more; filling by eye is all the doubt. */
static void pots_by_eye_give_a_range(void **unused) {
    (void)unused;
    start_again();
    open_session(0, NAN);
    prepare(1, NAN, 1e-3, NAN);
    for (int i = 0; i < 30; i++) {
        bf_put_in *put = put_in(1);
        put->fill_frac = 1;
        put->pot_m3 = 8e-6;
    }
    bf_box box = box_of(1, &not_known);
    double sd = 0.1 * 8e-6 * sqrt(30);
    BF_CHECK_REL(box.left.mid, 760e-6, 1e-9);
    BF_CHECK_REL(box.left.lo, 760e-6 - 1.2815515655446 * sd, 1e-9);
    BF_CHECK_REL(box.put_ins.mid, 95.0, 1e-9);
    assert_true(box.put_ins.lo < 95 && box.put_ins.hi > 95);
}

/* Pieces of 0.1 ml that fill 60 % of what they are poured into, 1200 kg/m3: 1 kg is 8333 pieces, or 1.389 l poured. */
static void counts_volumes_and_masses_go_into_each_other(void **unused) {
    (void)unused;
    const bf_bait_measure measure = {1e-7, 0.6, 1200, 0.1, 0.05, 0.03};
    start_again();
    open_session(0, NAN);
    prepare(1, NAN, NAN, 1);
    put_in(1)->count = 1000;
    put_in(1)->volume_m3 = 1e-4;
    bf_box box = box_of(1, &measure);
    assert_int_equal(box.by, BF_BY_MASS);
    BF_CHECK_REL(box.left.mid, 1 - 1000 * 1e-7 * 1200 - 1e-4 * 0.6 * 1200, 1e-9);
    assert_true(box.left.lo < box.left.mid && box.left.hi > box.left.mid);
    assert_int_equal(box.n_mixed, 0);
    box = box_of(1, &not_known);
    assert_int_equal(box.n_mixed, 2);
    BF_CHECK_ABS(box.left.mid, 1, 1e-12);
}

static void a_put_in_without_an_amount_is_taken_as_the_others(void **unused) {
    (void)unused;
    start_again();
    open_session(0, NAN);
    prepare(1, 100, NAN, NAN);
    put_in(1)->count = 10;
    put_in(1)->count = 20;
    put_in(1);
    bf_box box = box_of(1, &not_known);
    assert_int_equal(box.n_guessed, 1);
    BF_CHECK_REL(box.left.mid, 55.0, 1e-9);
    assert_true(box.left.lo < 55 && box.left.hi > 55);
}

static void put_ins_to_come_are_as_large_as_the_last_five(void **unused) {
    (void)unused;
    start_again();
    open_session(0, NAN);
    prepare(1, 200, NAN, NAN);
    for (int i = 0; i < 3; i++) put_in(1)->count = 30;
    for (int i = 0; i < 5; i++) put_in(1)->count = 10;
    BF_CHECK_ABS(box_of(1, &not_known).put_ins.mid, 6, 1e-9);
}

static void an_empty_box_has_nothing_left(void **unused) {
    (void)unused;
    start_again();
    open_session(0, NAN);
    prepare(1, 30, NAN, NAN);
    for (int i = 0; i < 4; i++) put_in(1)->count = 10;
    bf_box box = box_of(1, &not_known);
    BF_CHECK_ABS(box.left.hi, 0, 0);
    BF_CHECK_ABS(box.put_ins.mid, 0, 0);
}

/* The bed account ends with the session, and so does the box: what went in later is told, not taken off. */
static void what_goes_in_after_the_end_leaves_the_box_as_it_was(void **unused) {
    (void)unused;
    start_again();
    open_session(0, NAN);
    prepare(1, 100, NAN, NAN);
    for (int i = 0; i < 3; i++) put_in(1)->count = 10;
    session_now()->closed_ms = made.t_ms; // the third went in at the very end
    bf_box at_end = box_of(1, &not_known);
    for (int i = 0; i < 2; i++) put_in(1)->count = 30;
    bf_box box = bf_box_of(&made.fold, made.fold.n_sessions - 1, 1, &not_known, session_now()->closed_ms);
    assert_int_equal(box.n_after_end, 2);
    assert_int_equal(box.n_put_ins, 3);
    BF_CHECK_ABS(box.left.mid, 70, 1e-9);
    box.n_after_end = 0;
    assert_memory_equal(&box, &at_end, sizeof box);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_box_is_prepared_less_put_in_by_hour),
        cmocka_unit_test(pots_by_eye_give_a_range),
        cmocka_unit_test(counts_volumes_and_masses_go_into_each_other),
        cmocka_unit_test(a_put_in_without_an_amount_is_taken_as_the_others),
        cmocka_unit_test(put_ins_to_come_are_as_large_as_the_last_five),
        cmocka_unit_test(an_empty_box_has_nothing_left),
        cmocka_unit_test(what_goes_in_after_the_end_leaves_the_box_as_it_was),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
