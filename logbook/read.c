/* read.c -- counts, ids, sessions, and a journal in memory. */
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "logbook/parts.h"
#include "logbook/room.h"

bf_store_what bf_store_count(bf_store *store, long long *n, bf_store_error *error) {
    return bfi_number(store, bfi_statement(store, BFI_COUNT), 0, n, error);
}

bf_store_what bf_store_next_seq(bf_store *store, long long *seq, bf_store_error *error) {
    *seq = 0;
    bf_store_what what = bfi_refresh(store, error);
    if (what == BF_STORE_OK) what = bfi_number(store, bfi_statement(store, BFI_LARGEST_SEQ), 0, seq, error);
    ++*seq;
    return what;
}

/* ---- Into memory ---- */

/* An empty journal with room for what the statement counts; BF_STORE_ABSENT: there is nothing. */
static bf_store_what make_journal(bf_store *store, sqlite3_stmt *size, bf_journal **journal,
                                  bf_store_error *error) {
    int row = bfi_step(store, size, error);
    if (row < 0) return error->what;
    long long n = sqlite3_column_int64(size, 0), bytes = sqlite3_column_int64(size, 1);
    (void)sqlite3_reset(size);
    if (n > INT_MAX / 2)
        return bfi_say(error, BF_STORE_MEMORY, "the journal is too large to be held in memory.");
    void *memory = bfi_room(bf_journal_bytes((int)n, (size_t)bytes));
    if (!memory) return bfi_say(error, BF_STORE_MEMORY, "out of memory.");
    *journal = bf_journal_start(memory, (int)n, (size_t)bytes);
    return n > 0 ? BF_STORE_OK : BF_STORE_ABSENT;
}

static bf_store_what take_row(bf_store *store, sqlite3_stmt *row, bf_journal *journal,
                              bf_store_error *error) {
    bf_taken taken;
    bf_error refusal;
    const char *line = sqlite3_column_blob(row, 0);
    if (!line) return bfi_fault(store, error);
    bf_status status = bf_take(journal, line, (size_t)sqlite3_column_bytes(row, 0), &taken, &refusal);
    if (status == BF_OK) return BF_STORE_OK;
    return bfi_say(error, status == BF_E_SPACE ? BF_STORE_MEMORY : BF_STORE_DAMAGED, "%.1000s: %.1000s",
                   store->path, refusal.text);
}

static bf_store_what take_rows(bf_store *store, sqlite3_stmt *lines, bf_journal *journal,
                               bf_store_error *error) {
    int row;
    bf_store_what what = BF_STORE_OK;
    while (what == BF_STORE_OK && (row = bfi_step(store, lines, error)) != 0)
        what = row < 0 ? error->what : take_row(store, lines, journal, error);
    if (lines) (void)sqlite3_reset(lines);
    return what;
}

/* Counting and reading see the same state: within one transaction, ours or the caller's. */
bf_store_what bf_store_load(bf_store *store, const bf_id *session, bf_journal **journal,
                            bf_store_error *error) {
    unsigned char id[16];
    sqlite3_stmt *size = bfi_statement(store, session ? BFI_SESSION_SIZE : BFI_ALL_SIZE);
    sqlite3_stmt *lines = bfi_statement(store, session ? BFI_SESSION_LINES : BFI_ALL_LINES);
    int is_ours = sqlite3_get_autocommit(store->db);
    *journal = NULL;
    if (session) {
        bfi_bind_id(size, 1, *session, id);
        bfi_bind_id(lines, 1, *session, id);
    }
    bf_store_what what = is_ours ? bfi_look(store, error) : BF_STORE_OK;
    if (what == BF_STORE_OK) what = make_journal(store, size, journal, error);
    if (what == BF_STORE_OK) what = take_rows(store, lines, *journal, error);
    if (what == BF_STORE_ABSENT && !session) what = BF_STORE_OK;
    if (what == BF_STORE_ABSENT) (void)bfi_say(error, what, "there is no such session.");
    if (is_ours) what = bfi_end(store, what, error);
    if (what == BF_STORE_OK) return what;
    free(*journal);
    *journal = NULL;
    return what;
}

/* ---- Sessions as derived ---- */

static double ms_or_nan(sqlite3_stmt *row, int column) {
    return sqlite3_column_type(row, column) == SQLITE_NULL ? BF_NAN
                                                           : (double)sqlite3_column_int64(row, column);
}

static void copy_name(sqlite3_stmt *row, int column, char name[BF_NAME_BYTES + 1]) {
    const char *text = (const char *)sqlite3_column_text(row, column);
    snprintf(name, BF_NAME_BYTES + 1, "%s", text ? text : "");
}

static void read_session(sqlite3_stmt *row, bf_stored_session *session) {
    session->id = bfi_column_id(row, 0);
    copy_name(row, 1, session->venue);
    copy_name(row, 2, session->peg);
    session->opened_ms = ms_or_nan(row, 3);
    session->closed_ms = ms_or_nan(row, 4);
    session->last_ms = ms_or_nan(row, 5);
    session->east_min = sqlite3_column_int(row, 6);
    session->n_events = sqlite3_column_int(row, 7);
    static const int column[BF_N_OUTCOMES] = {[BF_LANDED] = 9, [BF_LOST] = 10,    [BF_MISSED] = 11,
                                              [BF_FOUL] = 12,  [BF_NOTHING] = 13, [BF_TOUCHED] = 14};
    for (int i = 0; i < BF_N_OUTCOMES; i++) session->count[i] = sqlite3_column_int(row, column[i]);
}

bf_store_what bf_store_sessions(bf_store *store, bf_each_session each, void *to, bf_store_error *error) {
    bf_store_what what = bfi_refresh(store, error);
    if (what != BF_STORE_OK) return what;
    sqlite3_stmt *rows = bfi_statement(store, BFI_SESSIONS);
    int row;
    while ((row = bfi_step(store, rows, error)) > 0) {
        bf_stored_session session;
        read_session(rows, &session);
        if (each(to, &session)) break;
    }
    if (row > 0) (void)sqlite3_reset(rows);
    return row < 0 ? error->what : BF_STORE_OK;
}

static int keep_open(void *to, const bf_stored_session *session) {
    bf_stored_session *last = to;
    if (session->opened_ms == session->opened_ms && session->closed_ms != session->closed_ms)
        *last = *session;
    return 0;
}

bf_store_what bf_store_open_session(bf_store *store, bf_stored_session *session, bf_store_error *error) {
    memset(session, 0, sizeof *session);
    bf_store_what what = bf_store_sessions(store, keep_open, session, error);
    if (what == BF_STORE_OK && session->n_events == 0)
        what = bfi_say(error, BF_STORE_ABSENT, "no session is open.");
    return what;
}

/* ---- Ids ---- */

/* The ids that begin so lie between the beginning filled up with 0 and with f. */
static int fill_up(const char *hex, char fill, bf_id *id) {
    char full[33];
    size_t n = strlen(hex);
    if (n > 32) return 0;
    memcpy(full, hex, n);
    memset(full + n, fill, 32 - n);
    full[32] = 0;
    return bf_id_read(full, 32, id) == BF_OK;
}

bf_store_what bf_store_find(bf_store *store, const char *hex, bf_id *id, bf_id *session, int *n,
                            bf_store_error *error) {
    bf_id least, most;
    unsigned char least_bytes[16], most_bytes[16];
    *n = 0;
    if (!fill_up(hex, '0', &least) || !fill_up(hex, 'f', &most))
        return bfi_say(error, BF_STORE_ABSENT,
                       "'%.64s' is not the beginning of an id: hex digits, 32 at most.", hex);
    sqlite3_stmt *found = bfi_statement(store, BFI_FIND);
    bfi_bind_id(found, 1, least, least_bytes);
    bfi_bind_id(found, 2, most, most_bytes);
    int row;
    while ((row = bfi_step(store, found, error)) > 0)
        if ((*n)++ == 0) {
            *id = bfi_column_id(found, 0);
            *session = bfi_column_id(found, 1);
        }
    if (row < 0) return error->what;
    return *n > 0 ? BF_STORE_OK
                  : bfi_say(error, BF_STORE_ABSENT, "no entry has an id that begins with %.64s.", hex);
}
