/* add.c -- one line into the database. */
#include <string.h>

#include "logbook/parts.h"

bf_store_what bfi_read_line(bf_store *store, const char *text, size_t n, bf_store_error *error) {
    bf_error refusal;
    bf_status status = bf_line_read(store->line_work, text, n, &store->line, store->canonical,
                                    sizeof store->canonical, &refusal);
    if (status) return bfi_say(error, BF_STORE_REFUSED, "%s", refusal.text);
    if (bf_event_is_simulated(&store->line.event))
        return bfi_say(
            error, BF_STORE_REFUSED,
            "dev is 00000000: the line is of a rehearsal, which is simulated and no part of a journal.");
    return BF_STORE_OK;
}

/* The 64 bits of a digest as the signed number that SQLite keeps. */
static sqlite3_int64 signed_bits(uint64_t bits) {
    sqlite3_int64 number;
    memcpy(&number, &bits, sizeof number);
    return number;
}

/* The row at hand has the id and the digest of the line in hand: known, when it has its bytes too. */
static bf_store_what compare(bf_store *store, sqlite3_stmt *row, bf_store_error *error) {
    const void *line = sqlite3_column_blob(row, 1);
    size_t n = (size_t)sqlite3_column_bytes(row, 1);
    bf_store_what what = line ? BF_STORE_OK : bfi_fault(store, error);
    if (line && (n != store->line.n_canonical || memcmp(line, store->canonical, n) != 0))
        what = bfi_say(error, BF_STORE_REFUSED,
                       "another line of the journal has this id and this digest, yet says something else.");
    (void)sqlite3_reset(row);
    return what;
}

/* Many events in a row belong to one session: it is marked once. */
static bf_store_what mark_stale(bf_store *store, bf_id session, bf_store_error *error) {
    unsigned char id[16];
    if (bf_id_order(session, store->stale) == 0) return BF_STORE_OK;
    sqlite3_stmt *mark = bfi_statement(store, BFI_STALE);
    bfi_bind_id(mark, 1, session, id);
    bf_store_what what = bfi_run(store, mark, error);
    if (what == BF_STORE_OK) store->stale = session;
    return what;
}

/* Whether the id is in already: *taken is NEW, KNOWN or CLASH. A clash makes the session of each line with the id stale. */
static bf_store_what look_up(bf_store *store, bf_taken *taken, bf_store_error *error) {
    sqlite3_stmt *same = bfi_statement(store, BFI_SAME_ID);
    unsigned char id[16];
    int row;
    bf_store_what what = BF_STORE_OK;
    *taken = BF_TAKEN_NEW;
    bfi_bind_id(same, 1, store->line.event.id, id);
    while (what == BF_STORE_OK && (row = bfi_step(store, same, error)) != 0) {
        if (row < 0) return error->what;
        *taken = BF_TAKEN_KNOWN;
        if (sqlite3_column_int64(same, 0) == signed_bits(store->line.event.digest))
            return compare(store, same, error);
        *taken = BF_TAKEN_CLASH;
        what = mark_stale(store, bfi_column_id(same, 2), error);
    }
    return what;
}

static bf_store_what insert(bf_store *store, bf_store_error *error) {
    const bf_event *event = &store->line.event;
    sqlite3_stmt *put = bfi_statement(store, BFI_INSERT);
    unsigned char id[16], session[16];
    bfi_bind_id(put, 1, event->id, id);
    (void)sqlite3_bind_int64(put, 2, signed_bits(event->digest));
    bfi_bind_id(put, 3, event->session, session);
    (void)sqlite3_bind_int64(put, 4, (sqlite3_int64)event->dev);
    (void)sqlite3_bind_int64(put, 5, (sqlite3_int64)event->seq);
    (void)sqlite3_bind_text(put, 6, bf_event_words[event->kind], -1, SQLITE_STATIC);
    (void)sqlite3_bind_int64(put, 7, (sqlite3_int64)event->at_ms);
    (void)sqlite3_bind_int64(put, 8, (sqlite3_int64)event->rec_ms);
    (void)sqlite3_bind_text(put, 9, store->canonical, (int)store->line.n_canonical, SQLITE_STATIC);
    return bfi_run(store, put, error);
}

bf_store_what bfi_put_line(bf_store *store, bf_taken *taken, bf_store_error *error) {
    bf_store_what what = look_up(store, taken, error);
    if (what != BF_STORE_OK || *taken == BF_TAKEN_KNOWN) return what;
    what = insert(store, error);
    return what == BF_STORE_OK ? mark_stale(store, store->line.event.session, error) : what;
}

bf_store_what bf_store_add(bf_store *store, const char *text, size_t n, bf_taken *taken,
                           bf_store_error *error) {
    *taken = BF_TAKEN_NEW;
    bf_store_what what = bfi_read_line(store, text, n, error);
    if (what == BF_STORE_OK) what = bfi_begin(store, error);
    if (what != BF_STORE_OK) return what;
    return bfi_end(store, bfi_put_line(store, taken, error), error);
}

/* Whether a session is open is asked within the transaction: of two programs that open one, the second finds it open. */
bf_store_what bf_store_add_opening(bf_store *store, const char *text, size_t n, bf_stored_session *open,
                                   bf_taken *taken, bf_store_error *error) {
    *taken = BF_TAKEN_NEW;
    bf_store_what what = bfi_read_line(store, text, n, error);
    if (what == BF_STORE_OK) what = bfi_begin(store, error);
    if (what != BF_STORE_OK) return what;
    what = bf_store_open_session(store, open, error);
    if (what == BF_STORE_OK)
        what = bfi_say(error, BF_STORE_THERE, "a session is open already.");
    else if (what == BF_STORE_ABSENT)
        what = bfi_put_line(store, taken, error);
    return bfi_end(store, what, error);
}
