/* csv.h -- journals as tables for spreadsheets: RFC 4180, UTF-8, CR LF, a first row with the names of the
 * columns.
 *
 * One row an event, corrections and crossed-out events too, so that nothing is lost: reading a table back
 * gives the same events. Columns: id, session, dev, run, seq, mono_ms, kind, at, pm_s, rec, of, crossed,
 * clash; then every field of a body (event.h) under its name with its unit, the `at` and `pm_s` of a fix as
 * fix_at and fix_pm_s; then note. Cells of what is not given are empty.
 *
 * crossed  1 when the event is crossed out, else 0. For people: when a table is read back, the cross events
 *          say it again.
 * clash    1 when another event has the same id; read back likewise.
 *
 * Formulas  A text cell (a name or a note) that begins with = + - @, a tab or a carriage return gets an
 *           apostrophe before it, so that no spreadsheet runs it; one that begins with an apostrophe gets one
 *           more. Reading takes it away again. Numbers, instants and ids are never guarded.
 *
 * Reading takes what a spreadsheet may have done: columns in another order or left out, LF for CR LF, a byte
 * order mark, amounts typed with a unit. A damaged row is refused with a sentence and never hides the others.
 *
 * Pure. Tests: tests/text/csv_test.c
 */
#ifndef BAITFALL_CSV_H
#define BAITFALL_CSV_H

#include "baitfall/journal.h"

#ifdef __cplusplus
extern "C" {
#endif

#define BF_CSV_ROW_MOST 65536 /* bytes of a row with its line end: more than any event needs */

/* ---- Writing ---- */

/* The first row. out: BF_CSV_ROW_MOST bytes are enough. BF_OK or BF_E_SPACE; *n_out is its length, without
 * the ending 0. */
BF_CHECK bf_status bf_csv_head(char *out, size_t most, size_t *n_out);

/* Bytes of work for bf_csv_row, 16-aligned. */
size_t bf_csv_row_work_bytes(void);

/* One event, given by its line (in n bytes, canonical or not), as a row. Returns what bf_line_read returns,
 * or BF_E_SPACE; *n_out is 0 then. */
BF_CHECK bf_status bf_csv_row(void *work, const char *line, size_t n, int is_crossed, int is_clash, char *out,
                              size_t most, size_t *n_out, bf_error *error);

/* ---- Reading ---- */

typedef struct bf_csv bf_csv;

/* Bytes of memory, 16-aligned. */
size_t bf_csv_bytes(void);

/* Ready for the first row; NULL never. */
bf_csv *bf_csv_start(void *memory);

/* Reads one row off the front of text and makes a journal line of it, ready for bf_line_read or bf_take,
 * which check what it says.
 *
 * is_last   1: nothing comes behind these n bytes
 * *n_used   bytes read off; 0: the row goes on behind these bytes, so give more (at most BF_CSV_ROW_MOST are
 *           asked for)
 * line      (out line_most; BF_LINE_MOST + 1 is enough) ended by a 0 byte; *n_line is 0 for the first row and
 *           for empty ones
 *
 * Returns BF_OK
 *         BF_E_SYNTAX  quotes do not match, or there is a null character. Only the text up to the next line
 *                      end is read off, so that what stands behind is found.
 *         BF_E_COUNT   more cells than there are columns
 *         BF_E_KEY     the first row has a column that is none; then every further row is refused too
 *         BF_E_TWICE   ... a column twice
 *         BF_E_SPACE   a row of more than BF_CSV_ROW_MOST bytes, or line_most too small
 * *error is always written. */
BF_CHECK bf_status bf_csv_read(bf_csv *csv, const char *text, size_t n, int is_last, size_t *n_used,
                               char *line, size_t line_most, size_t *n_line, bf_error *error);

#ifdef __cplusplus
}
#endif
#endif
