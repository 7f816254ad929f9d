/* check.c -- everything looked at again: the file, the lines, what is derived. */
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "logbook/parts.h"

typedef struct inspection {
    bf_store *store;
    bf_found told;
    void *to;
    bf_store_state *state;
} inspection;

__attribute__((format(printf, 2, 3))) static void tell(const inspection *in, const char *sentence, ...) {
    char text[1024];
    va_list rest;
    if (!in->told) return;
    va_start(rest, sentence);
    vsnprintf(text, sizeof text, sentence, rest);
    va_end(rest);
    in->told(in->to, text);
}

/* ---- The file ---- */

/* Runs a check that gives one row a fault, or a single row that says `fine`. A check that a damaged page stops is a fault as well. */
static bf_store_what ask_database(inspection *in, const char *sql, const char *fine, bf_store_error *error) {
    sqlite3_stmt *check = NULL;
    int row = -1;
    if (sqlite3_prepare_v2(in->store->db, sql, -1, &check, NULL) != SQLITE_OK)
        (void)bfi_fault(in->store, error);
    else
        while ((row = bfi_step(in->store, check, error)) > 0) {
            const char *text = (const char *)sqlite3_column_text(check, 0);
            if (!text) {
                (void)bfi_fault(in->store, error);
                row = -1;
                break;
            }
            if (strcmp(text, fine) == 0) continue;
            in->state->database++;
            tell(in, "The database: %s.", text);
        }
    (void)sqlite3_finalize(check);
    if (row == 0) return BF_STORE_OK;
    if (error->what != BF_STORE_DAMAGED) return error->what;
    in->state->database++;
    tell(in, "The database: %s", error->sentence);
    return BF_STORE_OK;
}

/* ---- The lines ---- */

static int same_number(sqlite3_stmt *row, int column, long long want) {
    return sqlite3_column_int64(row, column) == want;
}

/* The first thing in which a row differs from what its line says; NULL: nothing. */
static const char *difference(const bf_store *store, sqlite3_stmt *row, const char *line, size_t n) {
    const bf_event *event = &store->line.event;
    const char *kind = (const char *)sqlite3_column_text(row, 7);
    if (store->line.n_canonical != n || memcmp(store->canonical, line, n) != 0)
        return "the line is not in canonical form.";
    if ((uint64_t)sqlite3_column_int64(row, 3) != event->digest) return "the digest is not that of the line.";
    if (bf_id_order(bfi_column_id(row, 2), event->id) != 0) return "the id is not that of the line.";
    if (bf_id_order(bfi_column_id(row, 4), event->session) != 0)
        return "the session is not that of the line.";
    if (!same_number(row, 5, event->dev)) return "dev is not that of the line.";
    if (!same_number(row, 6, (long long)event->seq)) return "seq is not that of the line.";
    if (!kind || strcmp(kind, bf_event_words[event->kind]) != 0) return "the kind is not that of the line.";
    if (!same_number(row, 8, (long long)event->at_ms)) return "at_ms is not that of the line.";
    if (!same_number(row, 9, (long long)event->rec_ms)) return "rec_ms is not that of the line.";
    return NULL;
}

static bf_store_what inspect_row(void *to, sqlite3_stmt *row, bf_store_error *error) {
    inspection *in = to;
    long long nth = sqlite3_column_int64(row, 0);
    const char *line = sqlite3_column_blob(row, 1);
    size_t n = (size_t)sqlite3_column_bytes(row, 1);
    if (!line && n > 0) return bfi_fault(in->store, error);
    in->state->events++;
    bf_store_what what = bfi_read_line(in->store, line ? line : "", n, error);
    const char *why =
        what == BF_STORE_REFUSED ? error->sentence : difference(in->store, row, line ? line : "", n);
    if (!why) return BF_STORE_OK;
    in->state->damaged++;
    tell(in, "Row %lld of event: %s", nth, why);
    return BF_STORE_OK;
}

static void name_damaged(void *to, long long nth) {
    tell(to, "Row %lld of event cannot be read.", nth);
}

/* ---- What is derived ---- */

static void hash_value(uint64_t *hash, sqlite3_stmt *row, int column) {
    int type = sqlite3_column_type(row, column), n;
    bfi_hash(hash, &type, sizeof type);
    if (type == SQLITE_NULL) return;
    const void *bytes =
        type == SQLITE_BLOB ? sqlite3_column_blob(row, column) : sqlite3_column_text(row, column);
    n = sqlite3_column_bytes(row, column);
    bfi_hash(hash, &n, sizeof n);
    if (bytes) bfi_hash(hash, bytes, (size_t)n);
}

static bf_store_what hash_rows(bf_store *store, bfi_statement_name name, bf_id session, uint64_t *hash,
                               bf_store_error *error) {
    unsigned char id[16];
    sqlite3_stmt *rows = bfi_statement(store, name);
    int row;
    bfi_bind_id(rows, 1, session, id);
    while ((row = bfi_step(store, rows, error)) > 0)
        for (int c = 0; c < sqlite3_column_count(rows); c++) hash_value(hash, rows, c);
    return row < 0 ? error->what : BF_STORE_OK;
}

static bf_store_what hash_derived(bf_store *store, bf_id session, uint64_t *hash, bf_store_error *error) {
    *hash = BFI_HASH_START;
    bf_store_what what = hash_rows(store, BFI_SESSION_ROWS, session, hash, error);
    if (what == BF_STORE_OK) what = hash_rows(store, BFI_WAIT_ROWS, session, hash, error);
    if (what == BF_STORE_OK) what = hash_rows(store, BFI_PUT_IN_ROWS, session, hash, error);
    return what;
}

/* Makes a session's rows anew, within a transaction; *is_same: they had been the same. */
static bf_store_what compare(bf_store *store, bf_id session, int *is_same, bf_store_error *error) {
    uint64_t before = 0, after = 0;
    bf_store_what what = hash_derived(store, session, &before, error);
    if (what == BF_STORE_OK) what = bfi_derive(store, session, error);
    if (what == BF_STORE_OK) what = hash_derived(store, session, &after, error);
    *is_same = before == after;
    return what;
}

/* Rows that are right are left alone: what was made anew is taken back. */
static bf_store_what inspect_session(inspection *in, bf_id session, bf_store_error *error) {
    char hex[33];
    int is_same;
    bf_store_what what = bfi_begin(in->store, error);
    if (what != BF_STORE_OK) return what;
    what = compare(in->store, session, &is_same, error);
    if (what == BF_STORE_OK && is_same)
        bfi_roll_back(in->store);
    else
        what = bfi_end(in->store, what, error);
    if (what != BF_STORE_OK) return what;
    in->state->sessions++;
    if (is_same) return BF_STORE_OK;
    in->state->derived++;
    bf_id_write(session, hex);
    tell(in, "Session %s: the derived rows were not what its events say; they were made anew.", hex);
    return BF_STORE_OK;
}

/* The session behind this one, by id; *is_end 1: there is none. It is asked for each time, since rows change on the way. */
static bf_store_what next_session(bf_store *store, bf_id *session, int *is_end, bf_store_error *error) {
    unsigned char id[16];
    sqlite3_stmt *next = bfi_statement(store, BFI_NEXT_SESSION);
    bfi_bind_id(next, 1, *session, id);
    int row = bfi_step(store, next, error);
    if (row < 0) return error->what;
    *is_end = sqlite3_column_type(next, 0) == SQLITE_NULL;
    if (!*is_end) *session = bfi_column_id(next, 0);
    (void)sqlite3_reset(next);
    return BF_STORE_OK;
}

static bf_store_what inspect_sessions(inspection *in, bf_store_error *error) {
    bf_id session = {0, 0}; /* none: before every id */
    int is_end = 0;
    bf_store_what what = next_session(in->store, &session, &is_end, error);
    while (what == BF_STORE_OK && !is_end) {
        what = inspect_session(in, session, error);
        if (what == BF_STORE_OK) what = next_session(in->store, &session, &is_end, error);
    }
    return what;
}

/* Stale sessions first: they are no fault. */
static bf_store_what inspect_derived(inspection *in, bf_store_error *error) {
    bf_store_what what = bfi_refresh(in->store, error);
    return what == BF_STORE_OK ? inspect_sessions(in, error) : what;
}

bf_store_what bf_store_check(bf_store *store, bf_found told, void *to, bf_store_state *state,
                             bf_store_error *error) {
    inspection in = {store, told, to, state};
    long long n_unread;
    memset(state, 0, sizeof *state);
    bf_store_what what = ask_database(&in, "PRAGMA integrity_check", "ok", error);
    if (what == BF_STORE_OK) what = ask_database(&in, "PRAGMA foreign_key_check", "", error);
    if (what == BF_STORE_OK) what = bfi_walk(store, inspect_row, name_damaged, &in, &n_unread, error);
    if (what != BF_STORE_OK) return what;
    state->damaged += n_unread;
    if (state->database > 0 || state->damaged > 0) {
        tell(&in, "What is derived was not looked at: the events come first.");
        return BF_STORE_OK;
    }
    return inspect_derived(&in, error);
}
