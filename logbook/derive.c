/* derive.c -- sessions, waits and put-ins made from the events by the fold, one session at a time. */
#include <stdlib.h>
#include <string.h>

#include "logbook/parts.h"

#define SESSIONS_AT_ONCE 200

/* ---- Binding what may be missing ---- */

static void bind_ms(sqlite3_stmt *put, int nth, double ms) {
    if (ms == ms) (void)sqlite3_bind_int64(put, nth, (sqlite3_int64)ms);
}

static void bind_real(sqlite3_stmt *put, int nth, double value) {
    if (value == value) (void)sqlite3_bind_double(put, nth, value);
}

/* The journal outlives the statement. */
static void bind_name(sqlite3_stmt *put, int nth, const bf_journal *journal, int name) {
    if (name >= 0) (void)sqlite3_bind_text(put, nth, bf_journal_name(journal, name), -1, SQLITE_STATIC);
}

/* The word of a choice of the body, by the name of its field. */
static void bind_choice(sqlite3_stmt *put, int nth, const char *field, int choice) {
    int is_pm;
    int i = bf_field_find(&bf_body_table, field, strlen(field), &is_pm);
    BF_ASSERT(i >= 0);
    if (choice >= 0)
        (void)sqlite3_bind_text(put, nth, bf_body_table.field[i].words[choice], -1, SQLITE_STATIC);
}

/* ---- Rows ---- */

typedef struct derivation {
    bf_store *store;
    const bf_journal *journal;
    const bf_fold *fold;
    const bf_session *session;
    long long n_events, last_seq;
} derivation;

static bf_store_what put_session(const derivation *d, bf_store_error *error) {
    const bf_session *s = d->session;
    sqlite3_stmt *put = bfi_statement(d->store, BFI_PUT_SESSION);
    unsigned char id[16];
    bfi_bind_id(put, 1, s->id, id);
    bind_name(put, 2, d->journal, s->venue);
    bind_name(put, 3, d->journal, s->peg);
    bind_ms(put, 4, s->opened_ms);
    bind_ms(put, 5, s->closed_ms);
    bind_ms(put, 6, s->last_ms);
    (void)sqlite3_bind_int(put, 7, s->east_min);
    (void)sqlite3_bind_int64(put, 8, d->n_events);
    (void)sqlite3_bind_int64(put, 9, d->last_seq);
    static const int column[BF_N_OUTCOMES] = {[BF_LANDED] = 10, [BF_LOST] = 11,    [BF_MISSED] = 12,
                                              [BF_FOUL] = 13,   [BF_NOTHING] = 14, [BF_TOUCHED] = 15};
    for (int i = 0; i < BF_N_OUTCOMES; i++) (void)sqlite3_bind_int(put, column[i], s->count[i]);
    return bfi_run(d->store, put, error);
}

static bf_store_what put_wait(const derivation *d, int i, bf_store_error *error) {
    static const char *const starts[] = {[BF_START_LOWER] = "lower",
                                         [BF_START_LIFT] = "lift",
                                         [BF_START_FEED] = "feed",
                                         [BF_START_UNKNOWN] = "unknown"};
    const bf_drop *drop = &d->fold->drop[i];
    sqlite3_stmt *put = bfi_statement(d->store, BFI_PUT_WAIT);
    unsigned char id[16];
    bfi_bind_id(put, 1, d->session->id, id);
    (void)sqlite3_bind_int(put, 2, i - d->session->drop_from);
    (void)sqlite3_bind_text(put, 3, starts[drop->start], -1, SQLITE_STATIC);
    bind_ms(put, 4, drop->base_ms);
    bind_ms(put, 5, drop->end_ms);
    (void)sqlite3_bind_int(put, 6, drop->end_live < 0);
    (void)sqlite3_bind_int(put, 7, drop->is_implied);
    bind_choice(put, 8, "outcome", drop->outcome);
    bind_name(put, 9, d->journal, drop->spot);
    bind_name(put, 10, d->journal, drop->hook_bait);
    bind_name(put, 11, d->journal, drop->species);
    bind_real(put, 12, drop->mass_kg);
    bind_real(put, 13, drop->guess_kg);
    (void)sqlite3_bind_int(put, 14, drop->n_touches);
    (void)sqlite3_bind_int(put, 15, drop->net);
    return bfi_run(d->store, put, error);
}

static bf_store_what put_put_in(const derivation *d, int i, bf_store_error *error) {
    const bf_put_in *put_in = &d->fold->put_in[i];
    sqlite3_stmt *put = bfi_statement(d->store, BFI_PUT_PUT_IN);
    unsigned char id[16];
    bfi_bind_id(put, 1, d->session->id, id);
    (void)sqlite3_bind_int(put, 2, i - d->session->put_from);
    bind_ms(put, 3, put_in->t_ms);
    bind_name(put, 4, d->journal, put_in->spot);
    bind_name(put, 5, d->journal, put_in->bait);
    bind_choice(put, 6, "how", put_in->how);
    bind_real(put, 7, put_in->count);
    bind_real(put, 8, put_in->volume_m3);
    bind_real(put, 9, put_in->fill_frac);
    bind_real(put, 10, put_in->pot_m3);
    return bfi_run(d->store, put, error);
}

static bf_store_what put_rows(const derivation *d, bf_store_error *error) {
    const bf_session *s = d->session;
    bf_store_what what = put_session(d, error);
    for (int i = s->drop_from; what == BF_STORE_OK && i < s->drop_to; i++) what = put_wait(d, i, error);
    for (int i = s->put_from; what == BF_STORE_OK && i < s->put_to; i++) what = put_put_in(d, i, error);
    return what;
}

/* Runs one of the statements that take a session and give no rows. */
static bf_store_what run_of(bf_store *store, bfi_statement_name name, bf_id session, bf_store_error *error) {
    unsigned char id[16];
    sqlite3_stmt *statement = bfi_statement(store, name);
    bfi_bind_id(statement, 1, session, id);
    return bfi_run(store, statement, error);
}

static bf_store_what count_events(derivation *d, bf_id session, bf_store_error *error) {
    unsigned char id[16];
    sqlite3_stmt *count = bfi_statement(d->store, BFI_N_OF_SESSION);
    bfi_bind_id(count, 1, session, id);
    int row = bfi_step(d->store, count, error);
    if (row < 0) return error->what;
    d->n_events = sqlite3_column_int64(count, 0);
    d->last_seq = sqlite3_column_int64(count, 1);
    (void)sqlite3_reset(count);
    return BF_STORE_OK;
}

bf_store_what bfi_derive(bf_store *store, bf_id session, bf_store_error *error) {
    bf_journal *journal = NULL;
    derivation d = {.store = store};
    bf_store_what what = run_of(store, BFI_DROP_SESSION, session, error);
    if (what == BF_STORE_OK) what = run_of(store, BFI_NOT_STALE, session, error);
    if (what == BF_STORE_OK) what = count_events(&d, session, error);
    if (what == BF_STORE_OK) what = bf_store_load(store, &session, &journal, error);
    if (what == BF_STORE_ABSENT) return BF_STORE_OK; /* a session without events has no rows */
    if (what != BF_STORE_OK) return what;
    d.journal = journal;
    d.fold = bf_journal_fold(journal);
    for (int s = 0; s < d.fold->n_sessions; s++)
        if (bf_id_order(d.fold->session[s].id, session) == 0) d.session = &d.fold->session[s];
    if (d.session) what = put_rows(&d, error);
    free(journal);
    return what;
}

/* The first stale session; BF_STORE_ABSENT: none is. */
static bf_store_what first_stale(bf_store *store, bf_id *session, bf_store_error *error) {
    sqlite3_stmt *some = bfi_statement(store, BFI_SOME_STALE);
    int row = bfi_step(store, some, error);
    if (row < 0) return error->what;
    if (row > 0) *session = bfi_column_id(some, 0);
    if (row > 0) (void)sqlite3_reset(some);
    return row > 0 ? BF_STORE_OK : BF_STORE_ABSENT;
}

/* Some stale sessions; BF_STORE_ABSENT: none is left. */
static bf_store_what derive_some(bf_store *store, bf_store_error *error) {
    bf_store_what what = BF_STORE_OK;
    for (int n = 0; what == BF_STORE_OK && n < SESSIONS_AT_ONCE; n++) {
        bf_id session;
        what = first_stale(store, &session, error);
        if (what == BF_STORE_OK) what = bfi_derive(store, session, error);
    }
    return what;
}

static bf_store_what derive_all(bf_store *store, bf_store_error *error) {
    bf_store_what what = BF_STORE_OK;
    while (what == BF_STORE_OK) what = derive_some(store, error);
    return what == BF_STORE_ABSENT ? BF_STORE_OK : what;
}

/* In transactions that are short enough for others to wait for; within one that has begun, in that. */
bf_store_what bfi_refresh(bf_store *store, bf_store_error *error) {
    bf_id session;
    if (!sqlite3_get_autocommit(store->db)) return derive_all(store, error);
    bf_store_what what = first_stale(store, &session, error);
    while (what == BF_STORE_OK) {
        what = bfi_begin(store, error);
        if (what != BF_STORE_OK) return what;
        what = derive_some(store, error);
        int is_done = what == BF_STORE_ABSENT;
        what = bfi_end(store, is_done ? BF_STORE_OK : what, error);
        if (is_done) return what;
    }
    return what == BF_STORE_ABSENT ? BF_STORE_OK : what;
}
