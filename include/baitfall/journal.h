/* journal.h -- a journal in memory: lines in, one at a time; its fold and answers out.
 *
 * A line is one JSON object (docs/formats.md, "The journal"), at most 64 KiB of UTF-8. It is read by the
 * field table of event.h, checked, and kept in canonical form: keys in the order of the tables, SI numbers,
 * no spaces, instants as RFC 3339 with milliseconds and offset. Two lines that say the same have the same
 * canonical bytes. A line that cannot be read is refused with a sentence and leaves the journal as it was.
 *
 * The caller gives the memory and its size; a full journal refuses lines with BF_E_SPACE and stays whole.
 * Pure: no I/O, no clock, no allocation. Tests: tests/text/journal_test.c, tests/fuzz/journal_fuzz.c
 */
#ifndef BAITFALL_JOURNAL_H
#define BAITFALL_JOURNAL_H

#include "baitfall/fold.h"
#include "baitfall/instant.h"
#include "baitfall/json.h"

#ifdef __cplusplus
extern "C" {
#endif

#define BF_LINE_MOST 65536 /* bytes of a line */
#define BF_EVENTS_MOST 10000000
#define BF_NAMES_MOST 4096 /* different names in a journal */
#define BF_NAME_BYTES 48   /* of one name */

/* ---- One line alone: for a store that keeps lines and needs no state ---- */

/* What a line says, with its names as text: enough to keep and list it. */
typedef struct bf_line {
    bf_event event; /* BF_REF fields number the names below */
    int n_names;
    char name[8][BF_NAME_BYTES + 1];
    size_t n_canonical; /* bytes of the canonical line written */
} bf_line;

/* Bytes of work for bf_line_read, 16-aligned. */
size_t bf_line_work_bytes(void);

/* Reads one line (in n_text, without its newline) and writes it in canonical form.
 *
 * canonical  (out canonical_most, BF_LINE_MOST + 1 is enough) ended with a 0 byte
 * Returns BF_OK or what *error says (always written). A line that is not valid leaves *line empty. */
BF_CHECK bf_status bf_line_read(void *work, const char *text, size_t n_text, bf_line *line, char *canonical,
                                size_t canonical_most, bf_error *error);

/* 32 hex digits and back. */
BF_CHECK bf_status bf_id_read(const char *text, size_t n, bf_id *id);
void bf_id_write(bf_id id, char out[33]);

/* ---- A journal ---- */

typedef struct bf_journal bf_journal;

typedef enum bf_taken {
    BF_TAKEN_NEW,   /* it is in the journal now                                   */
    BF_TAKEN_KNOWN, /* it was in already, byte for byte in canonical form         */
    BF_TAKEN_CLASH  /* its id was in with other bytes: both are kept (fold.h)     */
} bf_taken;

/* Bytes of memory, 16-aligned, for so many events (0 to BF_EVENTS_MOST) and bytes of canonical lines (250 a line as a rule);
 * fold and index included, about 1500 an event. Where size_t has 32 bits it is for the caller to keep to what it can hold. */
size_t bf_journal_bytes(int most_events, size_t most_text);

/* An empty journal in that memory; NULL never. */
bf_journal *bf_journal_start(void *memory, int most_events, size_t most_text);

/* Takes one line. BF_OK: *taken says what became of it. Else *error says why not: the errors of bf_line_read;
 * BF_E_SPACE: no room for it (or for a further name). */
BF_CHECK bf_status bf_take(bf_journal *journal, const char *text, size_t n, bf_taken *taken, bf_error *error);

int bf_journal_n(const bf_journal *journal);
const bf_event *bf_journal_events(const bf_journal *journal);

/* Canonical line of event i, 0-ended; *n its length. Valid until the journal's memory goes. */
const char *bf_journal_line(const bf_journal *journal, int i, size_t *n);

/* The text of a name; "" for -1. */
const char *bf_journal_name(const bf_journal *journal, int name);
/* Its number, -1. */
int bf_journal_find_name(const bf_journal *journal, const char *text);

/* The note of event i, decoded, cut to most - 1 bytes; "" when it has none. */
void bf_journal_note(const bf_journal *journal, int i, char *out, size_t most);

/* The state; folded when something was taken since the last time. Never NULL. */
const bf_fold *bf_journal_fold(bf_journal *journal);

/* ---- Questions about a journal ---- */

/* bank    how it stands now: since the last feed and bite, the open wait, counts, nets, box, pace, what can
 *         be undone
 * log     the entries, newest first
 * peg     last time here: three lines for a venue and peg
 * review  one session
 * season  all of them
 * trial   a randomised comparison: the blocks of the next session, or the analysis of those fished
 * bed     the bed account: what the swim's model believes is down there, now or at an instant (belief.h)
 * next    what to do next, and why, from that belief (advise.h)
 * rehearse  a session that did not take place, and its truth (rehearse.h); the journal is read where it goes on from a real one
 * otherwise  a session under another feeding (rehearse.h)
 * foretell  how well that model foretold one session's bites, beside simpler laws (predict.h)
 *
 * Requests and answers: docs/formats.md. json as in answer.h; "session" (32 hex digits; not given: the open
 * or else the last one) where one is asked about. The core has no clock: "now" (an instant) is in the request
 * where it matters. */

/* Bytes of work, 16-aligned, for a question to this journal; 0: no such question. */
size_t bf_ask_bytes(const bf_journal *journal, const char *question);

/* Answers as bf_answer does: the same shape, errors and returns. "bed", "next" and "foretell" have room for as many sets and particles as they start with;
 * more is BF_E_SPACE: ask in pieces. */
BF_CHECK bf_status bf_ask(bf_journal *journal, void *work, const char *question, const char *json,
                          size_t n_json, char *out, size_t out_most, size_t *n_out);

/* ---- The same in pieces, so that the middle one may run on many threads or workers at once ---- */

/* As bf_ask_bytes, without room for rows and scratch. */
size_t bf_ask_state_bytes(const bf_journal *journal, const char *question);

/* Reads the request. journal and json must stay as they are until bf_ask_finish returns. *n_items rows of *n_columns doubles
 * are then to be computed; 0, as for every question but "bed", "next", "foretell", "otherwise" and a "rehearse" that begins in a real session: call bf_ask_finish at once. On an error there are 0 items, and
 * bf_ask_finish gives the error object. */
BF_CHECK bf_status bf_ask_begin(bf_journal *journal, void *work, const char *question, const char *json,
                                size_t n_json, int *n_items, int *n_columns);

/* Bytes of scratch, 16-aligned, that one thread needs for bf_ask_range after a bf_ask_begin with items. */
size_t bf_ask_scratch_bytes(const void *work);

/* Rows i <= k < j into rows (out (j - i) x n_columns). work is only read. */
void bf_ask_range(const void *work, void *scratch, int i, int j, double *rows);

/* rows (in n_items x n_columns) in order of items; NULL when there are none. out, n_out and returns as bf_ask. */
BF_CHECK bf_status bf_ask_finish(void *work, const double *rows, char *out, size_t out_most, size_t *n_out);

/* ---- Snapshots of a belief, to go on from (belief.h), after a bf_ask_begin of "bed" or "next" with items ---- */

/* Where a snapshot can stand, and what it is known by: the same key is the same belief, whoever computed it. */
typedef struct bf_ask_moment {
    double t_s; /* of the session, a whole multiple of BF_BELIEF_GRID_S */
    uint64_t key;
} bf_ask_moment;

#define BF_ASK_MOST_MOMENTS 144 /* a day of them */

/* The moments up to the instant asked about, in order; returns how many. moment (out BF_ASK_MOST_MOMENTS). */
int bf_ask_moments(const void *work, bf_ask_moment *moment);

/* Bytes of the snapshot of one item that this question leaves; 16-aligned. One left by another question may have more or fewer:
 * as many as bf_ask_snapshot_bytes said then. */
size_t bf_ask_snapshot_bytes(const void *work);

/* 1 when this question can go on from a snapshot of one item. */
int bf_ask_fits(const void *work, const void *snapshot);

/* As bf_ask_range, going on from snapshots and leaving others: bf_belief_rows_from. */
void bf_ask_range_from(const void *work, int i, int j, const void *snapshots, void *saved, double save_at_s,
                       void *scratch, double *rows);

#ifdef __cplusplus
}
#endif
#endif
