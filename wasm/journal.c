/* journal.c -- the module of the record: a journal, and everything that is asked of it (journal.h).
 *
 * journal_room() makes an empty one, journal_take() takes the line at in_at(), journal_check() only reads it, ask() answers a
 * question about it, journal_row() gives it as a table. Room and larger questions grow the module's memory: the page then looks
 * at memory.buffer anew.
 *
 * "bed" is asked in pieces, so that workers share its items and what was worked out is kept: ask_begin() reads the request at
 * in_at(), which must then stay as it is, as must all else until ask_finish(); ask_range() computes rows at ask_rows_at(), ask_finish() answers. Snapshots are
 * bytes of the page's: it puts them at ask_given_at(), and finds what ask_range() left at ask_saved_at(). */
#include "baitfall/journal.h"

#include <stdint.h>

#include "baitfall/csv.h"
#include "text/fault.h"
#include "text/write.h"
#include "wasm/area.h"

#define PAGE 65536u
#define MOST_EVENTS 500000 /* 4 GiB of addresses hold their state */
#define MOST_TEXT (1u << 30)

EXPORT(journal_room) int journal_room(int n_events, size_t n_text);
EXPORT(journal_take) int journal_take(size_t n_line);
EXPORT(journal_check) int journal_check(size_t n_line);
EXPORT(journal_n) int journal_n(void);
EXPORT(journal_row) int journal_row(int i);
EXPORT(journal_lessons) int journal_lessons(void);
EXPORT(ask) int ask(size_t n_question, size_t n_json);

static bf_journal *journal;
static size_t journal_bytes;
static size_t room_at, room_bytes; /* the grown memory */

/* So many bytes of grown memory in one piece: where it begins, NULL when there is no more memory. What is
 * there stays. */
static char *grow_to(size_t bytes) {
    if (!room_at) room_at = __builtin_wasm_memory_size(0) * PAGE;
    if (bytes > room_bytes) {
        size_t pages = (bytes - room_bytes + PAGE - 1) / PAGE;
        size_t end = __builtin_wasm_memory_size(0) * PAGE;
        int is_at_end = end == room_at + room_bytes; // nobody else grew memory
        if (!is_at_end || __builtin_wasm_memory_grow(0, pages) == SIZE_MAX) return NULL;
        room_bytes += pages * PAGE;
    }
    return (char *)room_at;
}

static int refuse(const bf_error *error) {
    bf_status status = bfi_json_error(error, area.out, OUT_MOST, &area.n_out);
    return status ? (int)status : (int)error->status;
}

static int refuse_for_space(void) {
    bf_error error;
    bfi_fail(&error, BF_E_SPACE, "question", NULL, -1, "what the memory of this device holds");
    return refuse(&error);
}

/* An empty journal for so many events and bytes of lines (250 a line as a rule) in place of the one before:
 * 0, or 1 when there is not so much memory; then there is no journal. */
int journal_room(int n_events, size_t n_text) {
    journal = NULL;
    if (n_events < 0 || n_events > MOST_EVENTS || n_text > MOST_TEXT) return 1;
    journal_bytes = bf_journal_bytes(n_events, n_text);
    char *memory = grow_to(journal_bytes);
    if (memory) journal = bf_journal_start(memory, n_events, n_text);
    return journal == NULL;
}

/* Takes the line at in_at(): 0 new, 1 known, 2 a clash (journal.h); minus the status when it is refused: the
 * error object is at out_at(). -BF_E_SPACE: make more room and take all lines again. */
int journal_take(size_t n_line) {
    bf_error error;
    bf_taken taken;
    if (!journal || n_line > IN_MOST) __builtin_trap();
    bf_status status = bf_take(journal, area.in, n_line, &taken, &error);
    return status ? -refuse(&error) : (int)taken;
}

/* Reads the line at in_at() and leaves the journal as it is: 0 and its canonical form at out_at(), or the
 * status and the error object. */
int journal_check(size_t n_line) {
    static bf_line line;
    bf_error error;
    if (!journal || n_line > IN_MOST) __builtin_trap();
    char *memory = grow_to(journal_bytes + bf_line_work_bytes());
    if (!memory) return refuse_for_space();
    bf_status status =
        bf_line_read(memory + journal_bytes, area.in, n_line, &line, area.out, OUT_MOST, &error);
    area.n_out = line.n_canonical;
    return status ? refuse(&error) : 0;
}

/* Events in the journal, crossed-out ones and corrections too. */
int journal_n(void) {
    return bf_journal_n(journal);
}

/* The entry that an event counts as, NULL: another of its id does. */
static const bf_live *live_of(int event) {
    const bf_fold *fold = bf_journal_fold(journal);
    const bf_event *events = bf_journal_events(journal);
    int i = bf_fold_find(fold, events, events[event].id);
    return fold->live[i].event == event ? &fold->live[i] : NULL;
}

/* Row i of the journal as a table (csv.h) at out_at(), -1: its first row. 0, or the status and the error
 * object. */
int journal_row(int i) {
    bf_error error = {.status = BF_OK};
    if (!journal || i < -1 || i >= bf_journal_n(journal)) __builtin_trap();
    if (i < 0) return (int)bf_csv_head(area.out, OUT_MOST, &area.n_out);
    char *memory = grow_to(journal_bytes + bf_csv_row_work_bytes());
    if (!memory) return refuse_for_space();
    size_t n_line;
    const char *line = bf_journal_line(journal, i, &n_line);
    const bf_live *live = live_of(i);
    bf_status status = bf_csv_row(memory + journal_bytes, line, n_line, live && live->is_crossed,
                                  live ? live->is_clash : 1, area.out, OUT_MOST, &area.n_out, &error);
    return status ? refuse(&error) : 0;
}

/* The earlier sessions that the one whose 32 digits stand at in_at() is learned from (fold.h), newest first: their ids behind
 * each other at out_at(). One that is not in the journal is yet to come: it learns from all of them. How many. */
int journal_lessons(void) {
    int lesson[BF_FOLD_MOST_LESSONS];
    double before_ms = BF_INFINITY;
    const bf_fold *fold = bf_journal_fold(journal);
    bf_id id;
    area.n_out = 0;
    if (bf_id_read(area.in, 32, &id) != BF_OK) return 0;
    for (int i = 0; i < fold->n_sessions; i++)
        if (bf_id_order(fold->session[i].id, id) == 0) before_ms = fold->session[i].opened_ms;
    int n = bf_fold_lessons(fold, before_ms, BF_FOLD_MOST_LESSONS, lesson);
    for (int i = 0; i < n; i++, area.n_out += 32)
        bf_id_write(fold->session[lesson[i]].id, area.out + area.n_out);
    return n;
}

/* Answers a question about the journal: question and request stand at in_at() as area.h says. Returns
 * the status of the answer, 0 when fine (status.h); the text at out_at() says it either way. */
int ask(size_t n_question, size_t n_json) {
    if (!journal) __builtin_trap();
    const char *question = area_name(n_question, n_json);
    char *memory = grow_to(journal_bytes + bf_ask_bytes(journal, question));
    if (!memory) return refuse_for_space();
    return (int)bf_ask(journal, memory + journal_bytes, question, area.in + n_question, n_json, area.out,
                       OUT_MOST, &area.n_out);
}

/* ---- The same in pieces ---- */

EXPORT(ask_begin) int ask_begin(size_t n_question, size_t n_json);
EXPORT(ask_columns) int ask_columns(void);
EXPORT(ask_moments) int ask_moments(void);
EXPORT(ask_snapshot_n) size_t ask_snapshot_n(void);
EXPORT(ask_room) int ask_room(size_t n_given, size_t n_saved);
EXPORT(ask_rows_at) double *ask_rows_at(void);
EXPORT(ask_given_at) char *ask_given_at(void);
EXPORT(ask_saved_at) char *ask_saved_at(void);
EXPORT(ask_fits) int ask_fits(void);
EXPORT(ask_range) void ask_range(int i, int j, int is_given, double save_at_s);
EXPORT(ask_finish) int ask_finish(void);

/* Where things lie in the grown memory, counted from its beginning: the question's state, rows, scratch, snapshots. */
static struct asking {
    int n_items, n_columns;
    size_t state_at, rows_at, scratch_at, given_at, saved_at;
} asking;

static char *asked(size_t at) {
    return (char *)room_at + at;
}

static size_t even(size_t n) {
    return (n + 15) / 16 * 16;
}

/* How many items there are to be computed; 0: call ask_finish() at once, which also says an error; -1: no memory, and the
 * error object at out_at(). Question and request as for ask(). */
int ask_begin(size_t n_question, size_t n_json) {
    if (!journal) __builtin_trap();
    const char *question = area_name(n_question, n_json);
    size_t n_state = bf_ask_state_bytes(journal, question);
    if (!n_state) __builtin_trap();
    asking = (struct asking){.state_at = even(journal_bytes)};
    asking.rows_at = asking.state_at + even(n_state);
    if (!grow_to(asking.rows_at)) return -(refuse_for_space() != 0);
    bf_status status = bf_ask_begin(journal, asked(asking.state_at), question, area.in + n_question, n_json,
                                    &asking.n_items, &asking.n_columns);
    (void)status; // ask_finish() says it
    return asking.n_items;
}

/* Doubles in a row. */
int ask_columns(void) {
    return asking.n_columns;
}

/* {"moments":[{"t_s":600,"key":"16 hex digits"},...]} at out_at(): where snapshots can stand, and what they are known by. */
int ask_moments(void) {
    bf_ask_moment moment[BF_ASK_MOST_MOMENTS];
    int n = bf_ask_moments(asked(asking.state_at), moment);
    bfi_json json = bfi_json_open(area.out, OUT_MOST);
    bfi_json_object(&json);
    bfi_json_key(&json, "moments");
    bfi_json_array(&json);
    for (int i = 0; i < n; i++) {
        char key[33];
        bf_id_write((bf_id){0, moment[i].key}, key);
        bfi_json_object(&json);
        bfi_json_key_real(&json, "t_s", moment[i].t_s);
        bfi_json_key_text(&json, "key", key + 16);
        bfi_json_close(&json);
    }
    bfi_json_close(&json);
    bfi_json_close(&json);
    return (int)bfi_json_done(&json, &area.n_out);
}

/* Bytes of one item's snapshot that this question leaves. */
size_t ask_snapshot_n(void) {
    return bf_ask_snapshot_bytes(asked(asking.state_at));
}

/* Makes room for the rows of all items, scratch, and so many bytes of snapshots given and saved. 0, or 1: no memory. Call it
 * once after ask_begin(), before asking where anything is. */
int ask_room(size_t n_given, size_t n_saved) {
    asking.scratch_at =
        asking.rows_at + even((size_t)asking.n_items * (size_t)asking.n_columns * sizeof(double));
    asking.given_at = asking.scratch_at + even(bf_ask_scratch_bytes(asked(asking.state_at)));
    asking.saved_at = asking.given_at + even(n_given);
    return grow_to(asking.saved_at + even(n_saved)) == NULL;
}

double *ask_rows_at(void) {
    return (double *)(void *)asked(asking.rows_at);
}

char *ask_given_at(void) {
    return asked(asking.given_at);
}

char *ask_saved_at(void) {
    return asked(asking.saved_at);
}

/* 1 when the question can go on from the snapshot at ask_given_at(). */
int ask_fits(void) {
    return bf_ask_fits(asked(asking.state_at), asked(asking.given_at));
}

/* Rows i <= k < j, each to its place. is_given 1: going on from their snapshots at ask_given_at(), behind each other; 0: from
 * the beginning. save_at_s above 0: leaves theirs at ask_saved_at(). */
void ask_range(int i, int j, int is_given, double save_at_s) {
    double *first = ask_rows_at() + (size_t)i * (size_t)asking.n_columns;
    bf_ask_range_from(asked(asking.state_at), i, j, is_given ? asked(asking.given_at) : NULL,
                      save_at_s > 0 ? asked(asking.saved_at) : NULL, save_at_s, asked(asking.scratch_at),
                      first);
}

/* Answers from the rows; returns and out_at() as ask(). */
int ask_finish(void) {
    return (int)bf_ask_finish(asked(asking.state_at), asking.n_items ? ask_rows_at() : NULL, area.out,
                              OUT_MOST, &area.n_out);
}
