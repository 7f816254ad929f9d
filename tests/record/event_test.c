/* Events: which fields a kind has, and every status of the check. */
#include "common/check.h"

#include "baitfall/event.h"

#define NOON_MS 1775991600000.0 /* 2026-04-12T12:00:00+01:00 */

static bf_event event_of(int kind) {
    bf_event e = {.id = {1, 2},
                  .session = {3, 4},
                  .of = {0, bf_event_is_correction(kind) ? 9u : 0},
                  .seq = 5,
                  .mono_ms = BF_NAN,
                  .kind = kind,
                  .at_ms = NOON_MS,
                  .rec_ms = NOON_MS,
                  .at_east_min = 60,
                  .rec_east_min = 60,
                  .pm_s = 5};
    bf_body_start(&e.body);
    uint64_t must = bf_event_must(kind);
    for (int i = 0; i < bf_body_table.n_fields; i++) {
        const bf_field *field = &bf_body_table.field[i];
        void *member = (char *)&e.body + field->offset;
        if (!(must >> i & 1)) continue;
        if (field->kind == BF_REAL)
            *(double *)member = field->least;
        else if (field->kind == BF_INSTANT)
            *(double *)member = NOON_MS;
        else
            *(int *)member = (int)field->least;
    }
    return e;
}

static int field_called(const char *name) {
    int is_pm, i = bf_field_find(&bf_body_table, name, strlen(name), &is_pm);
    assert_true(i >= 0);
    return i;
}

static void check_refused(const bf_event *e, bf_status status, const char *field) {
    int i;
    assert_int_equal(bf_event_check(e, &i), status);
    assert_int_equal(i, field ? field_called(field) : -1);
}

static void every_kind_passes_with_what_it_must_have(void **state) {
    (void)state;
    for (int kind = 0; kind < BF_N_EVENT_KINDS; kind++) {
        bf_event e = event_of(kind);
        int i;
        assert_int_equal(bf_event_check(&e, &i), BF_OK);
        assert_int_equal(i, -1);
        assert_int_equal(bf_event_check(&e, NULL), BF_OK);
        assert_true((bf_event_must(kind) & ~bf_event_fields(kind)) == 0);
        assert_non_null(bf_event_words[kind]);
    }
    assert_null(bf_event_words[BF_N_EVENT_KINDS]);
}

static void a_field_of_another_kind_is_refused(void **state) {
    (void)state;
    int n_refused = 0;
    for (int kind = 0; kind < BF_N_EVENT_KINDS; kind++)
        for (int i = 0; i < bf_body_table.n_fields; i++) {
            const bf_field *field = &bf_body_table.field[i];
            bf_event e = event_of(kind);
            void *member = (char *)&e.body + field->offset;
            if (field->kind == BF_REAL)
                *(double *)member = field->most;
            else if (field->kind == BF_INSTANT)
                *(double *)member = NOON_MS;
            else
                *(int *)member = (int)field->most;
            int has = (int)(bf_event_fields(kind) >> i & 1), where;
            bf_status status = bf_event_check(&e, &where);
            assert_int_equal(status, has ? BF_OK : BF_E_KEY);
            assert_int_equal(where, has ? -1 : i);
            n_refused += !has;
        }
    assert_true(n_refused > 500);
}

static void what_must_be_given_is_missed(void **state) {
    (void)state;
    int n = 0;
    for (int kind = 0; kind < BF_N_EVENT_KINDS; kind++)
        for (int i = 0; i < bf_body_table.n_fields; i++) {
            if (!(bf_event_must(kind) >> i & 1)) continue;
            bf_event e = event_of(kind);
            bf_body none;
            bf_body_start(&none);
            const bf_field *field = &bf_body_table.field[i];
            size_t bytes = field->kind == BF_REAL || field->kind == BF_INSTANT ? sizeof(double) : sizeof(int);
            memcpy((char *)&e.body + field->offset, (char *)&none + field->offset, bytes);
            check_refused(&e, BF_E_MISSING, field->name);
            n++;
        }
    assert_int_equal(n, 9); // box feed lift net tally(2) look advice clock
}

static void every_number_is_held_to_its_range(void **state) {
    (void)state;
    for (int i = 0; i < bf_body_table.n_fields; i++) {
        const bf_field *field = &bf_body_table.field[i];
        int kind = field->dimension == BF_TIME && strcmp(field->name, "jump_s") == 0 ? BF_CLOCK : BF_FIX;
        bf_event e = event_of(kind);
        void *member = (char *)&e.body + field->offset;
        if (field->kind == BF_REAL || field->kind == BF_INSTANT) {
            *(double *)member = field->most * 1.001 + 1;
            check_refused(&e, BF_E_RANGE, field->name);
            *(double *)member = field->least - 1;
            check_refused(&e, BF_E_RANGE, field->name);
            *(double *)member = BF_INFINITY;
            check_refused(&e, BF_E_NOT_FINITE, field->name);
        } else if (field->kind == BF_INT) {
            *(int *)member = (int)field->most + 1;
            check_refused(&e, BF_E_RANGE, field->name);
        } else if (field->kind == BF_REF) {
            *(int *)member = -2;
            check_refused(&e, BF_E_CHOICE, field->name);
        } else if (field->kind == BF_CHOICE) {
            *(int *)member = (int)field->most + 1;
            check_refused(&e, BF_E_CHOICE, field->name);
        }
    }
}

static void an_instant_of_half_a_millisecond_is_refused(void **state) {
    (void)state;
    bf_event e = event_of(BF_FIX);
    e.body.at_ms = NOON_MS + 0.5;
    check_refused(&e, BF_E_RANGE, "at");
}

static void a_second_amount_is_refused(void **state) {
    (void)state;
    bf_event e = event_of(BF_FEED);
    e.body.count = 100;
    e.body.fill_frac = 0.5;
    check_refused(&e, BF_E_TWICE, "fill_frac");
    e = event_of(BF_BOX);
    e.body.volume_m3 = 1e-3;
    e.body.mass_kg = 1;
    check_refused(&e, BF_E_TWICE, "mass_kg");
    e = event_of(BF_FIX);
    e.body.count = 100;
    e.body.volume_m3 = 1e-5;
    check_refused(&e, BF_E_TWICE, "volume_m3");
}

static void a_stretch_runs_forward_and_at_most_a_day(void **state) {
    (void)state;
    bf_event e = event_of(BF_TALLY);
    e.body.to_ms = e.body.from_ms - 1;
    check_refused(&e, BF_E_RANGE, "to");
    e.body.to_ms = e.body.from_ms + 86400001;
    check_refused(&e, BF_E_RANGE, "to");
    e.body.to_ms = e.body.from_ms + 86400000;
    assert_int_equal(bf_event_check(&e, NULL), BF_OK);
}

static void the_envelope_is_checked(void **state) {
    (void)state;
    bf_event e = event_of(BF_NOTE);
#define REFUSED(change, status)                                                                              \
    e = event_of(BF_NOTE);                                                                                   \
    change;                                                                                                  \
    check_refused(&e, status, NULL)
    REFUSED(e.kind = BF_N_EVENT_KINDS, BF_E_CHOICE);
    REFUSED(e.kind = -1, BF_E_CHOICE);
    REFUSED((e.id = (bf_id){0, 0}), BF_E_MISSING);
    REFUSED((e.session = (bf_id){0, 0}), BF_E_MISSING);
    REFUSED((e.of = (bf_id){1, 1}), BF_E_KEY);
    REFUSED((e.kind = BF_CROSS), BF_E_MISSING);
    REFUSED(e.seq = -1, BF_E_RANGE);
    REFUSED(e.seq = 1.5, BF_E_RANGE);
    REFUSED(e.seq = BF_SEQ_MOST + 1, BF_E_RANGE);
    REFUSED(e.seq = BF_NAN, BF_E_NOT_FINITE);
    REFUSED(e.mono_ms = -1, BF_E_RANGE);
    REFUSED(e.mono_ms = BF_INFINITY, BF_E_NOT_FINITE);
    REFUSED(e.at_ms = BF_NAN, BF_E_NOT_FINITE);
    REFUSED(e.at_ms = BF_INSTANT_MOST_MS + 1, BF_E_RANGE);
    REFUSED(e.rec_ms = BF_INSTANT_LEAST_MS - 1, BF_E_RANGE);
    REFUSED(e.rec_ms = NOON_MS + 0.25, BF_E_RANGE);
    REFUSED(e.at_east_min = 1440, BF_E_RANGE);
    REFUSED(e.rec_east_min = -1440, BF_E_RANGE);
    REFUSED(e.pm_s = -0.1, BF_E_RANGE);
    REFUSED(e.pm_s = 86401, BF_E_RANGE);
    REFUSED(e.pm_s = BF_NAN, BF_E_NOT_FINITE);
#undef REFUSED
    e = event_of(BF_NOTE);
    e.seq = BF_SEQ_MOST;
    e.mono_ms = 0.125;
    assert_int_equal(bf_event_check(&e, NULL), BF_OK);
}

static void a_fix_changes_what_it_gives_and_nothing_else(void **state) {
    (void)state;
    bf_event e = event_of(BF_LIFT);
    bf_body fix;
    e.body.spot = 1;
    e.body.mass_kg = 2;
    bf_body_start(&fix);
    fix.outcome = BF_LOST;
    fix.at_ms = NOON_MS;
    fix.pm_s = 60;
    fix.count = 5; // a lift has none
    bf_body_fix(&e.body, BF_LIFT, &fix);
    assert_int_equal(e.body.outcome, BF_LOST);
    assert_int_equal(e.body.spot, 1);
    BF_CHECK_ABS(e.body.mass_kg, 2, 0);
    assert_true(isnan(e.body.at_ms) && isnan(e.body.pm_s) && isnan(e.body.count));
}

static void an_amount_fixed_takes_the_place_of_the_other(void **state) {
    (void)state;
    bf_event e = event_of(BF_FEED);
    bf_body fix;
    e.body.count = 100;
    e.body.pot_m3 = 1e-5;
    bf_body_start(&fix);
    fix.volume_m3 = 2e-5;
    bf_body_fix(&e.body, BF_FEED, &fix);
    assert_true(isnan(e.body.count));
    BF_CHECK_ABS(e.body.volume_m3, 2e-5, 0);
    BF_CHECK_ABS(e.body.pot_m3, 1e-5, 0);
    assert_int_equal(bf_event_check(&e, NULL), BF_OK);
}

static void ids_and_entries_have_an_order(void **state) {
    (void)state;
    assert_int_equal(bf_id_order((bf_id){1, 9}, (bf_id){2, 0}), -1);
    assert_int_equal(bf_id_order((bf_id){2, 1}, (bf_id){2, 0}), 1);
    assert_int_equal(bf_id_order((bf_id){2, 1}, (bf_id){2, 1}), 0);
    bf_event a = event_of(BF_NOTE), b = a;
    assert_int_equal(bf_event_seq_order(&a, &b), 0);
    b.id.low++;
    assert_int_equal(bf_event_seq_order(&a, &b), -1);
    a.dev = 1;
    assert_int_equal(bf_event_seq_order(&a, &b), 1);
    b.seq++;
    assert_int_equal(bf_event_seq_order(&a, &b), -1);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_kind_passes_with_what_it_must_have),
        cmocka_unit_test(a_field_of_another_kind_is_refused),
        cmocka_unit_test(what_must_be_given_is_missed),
        cmocka_unit_test(every_number_is_held_to_its_range),
        cmocka_unit_test(an_instant_of_half_a_millisecond_is_refused),
        cmocka_unit_test(a_second_amount_is_refused),
        cmocka_unit_test(a_stretch_runs_forward_and_at_most_a_day),
        cmocka_unit_test(the_envelope_is_checked),
        cmocka_unit_test(a_fix_changes_what_it_gives_and_nothing_else),
        cmocka_unit_test(an_amount_fixed_takes_the_place_of_the_other),
        cmocka_unit_test(ids_and_entries_have_an_order),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
