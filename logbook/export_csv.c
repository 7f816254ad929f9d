/* export_csv.c -- the journal as a table, a session at a time: which rows are crossed out only the fold can tell. */
#include <stdlib.h>
#include <string.h>

#include "baitfall/csv.h"
#include "logbook/parts.h"
#include "logbook/room.h"

typedef struct tabling {
    bf_store *store;
    bf_sink write;
    void *to;
    long long *n_rows;
    bf_store_error *error;
    bf_store_what what;
    void *work; /* of bf_csv_row */
    char row[BF_CSV_ROW_MOST];
} tabling;

static bf_store_what put(tabling *t, size_t n) {
    if (t->write(t->to, t->row, n) == 0) return BF_STORE_OK;
    return bfi_say(t->error, BF_STORE_SYSTEM, "the output could not be written.");
}

static bf_store_what put_head(tabling *t) {
    size_t n;
    bf_status status = bf_csv_head(t->row, sizeof t->row, &n);
    BF_ASSERT(status == BF_OK); /* the header says that the room is enough */
    return put(t, n);
}

/* The live entry of an event, or of the one with the same id that counts in its stead; its flags are both's. */
static const bf_live *live_of(const bf_fold *fold, const bf_event *events, bf_id id) {
    int i = bf_fold_find(fold, events, id);
    return i < 0 ? NULL : &fold->live[i];
}

static bf_store_what put_event(tabling *t, bf_journal *journal, int i) {
    const bf_event *events = bf_journal_events(journal);
    const bf_live *live = live_of(bf_journal_fold(journal), events, events[i].id);
    size_t n_line, n;
    bf_error refusal;
    const char *line = bf_journal_line(journal, i, &n_line);
    int is_crossed = live && live->is_crossed, is_clash = live && live->is_clash;
    if (bf_csv_row(t->work, line, n_line, is_crossed, is_clash, t->row, sizeof t->row, &n, &refusal) != BF_OK)
        return bfi_say(t->error, BF_STORE_DAMAGED, "%s", refusal.text);
    ++*t->n_rows;
    return put(t, n);
}

static bf_store_what put_session(tabling *t, bf_id session) {
    bf_journal *journal;
    bf_store_what what = bf_store_load(t->store, &session, &journal, t->error);
    if (what != BF_STORE_OK) return what;
    for (int i = 0; what == BF_STORE_OK && i < bf_journal_n(journal); i++)
        if (bf_id_order(bf_journal_events(journal)[i].session, session) == 0) what = put_event(t, journal, i);
    free(journal);
    return what;
}

static int put_each(void *to, const bf_stored_session *session) {
    tabling *t = to;
    t->what = put_session(t, session->id);
    return t->what != BF_STORE_OK;
}

static bf_store_what put_table(tabling *t, const bf_id *session) {
    bf_store_what what = put_head(t);
    if (what != BF_STORE_OK) return what;
    if (session) return put_session(t, *session);
    what = bf_store_sessions(t->store, put_each, t, t->error);
    return what == BF_STORE_OK ? t->what : what;
}

bf_store_what bfi_export_csv(bf_store *store, const bf_id *session, bf_sink write, void *to,
                             long long *n_rows, bf_store_error *error) {
    tabling *t = bfi_room(sizeof *t);
    void *work = bfi_room(bf_csv_row_work_bytes());
    bf_store_what what = BF_STORE_MEMORY;
    if (t && work) {
        *t = (tabling){
            .store = store, .write = write, .to = to, .n_rows = n_rows, .error = error, .work = work};
        what = put_table(t, session);
    } else {
        (void)bfi_say(error, what, "out of memory.");
    }
    free(work);
    free(t);
    return what;
}
