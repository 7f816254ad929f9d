/* answer.h -- the one door: a command and a JSON request in, a JSON answer out. The program, the server and the page all
 * come through here; docs/formats.md shows requests and answers.
 *
 * Commands   fall pot soak throw spread   a put-in of feed (command.h): request keys bait, water, spot, pot, put, sling,
 *                                         soak, counted; a command reads some of them and checks all
 *            rig lay aim                  what is fished over it (stand.h): besides those hook_bait, rig, hold, aim
 *            plan                         feed, rigs and the day of a plan (plan.h, text/plan.c)
 *            peg                          which of its spots and rigs at the drawn peg (day.h, text/peg_day.c)
 *            measure                      a home measurement into the kit (measure.h)
 *            catalogue                    the baits known by a word
 *            form                         the fields of a section, for forms: {"section":"bait"}, none: all
 *
 * Request    an object, at most 1 MiB. Keys by the field tables, with or without the unit at their end; numbers are SI,
 *            text carries a unit (unit.h). A bait, hook bait, pot, sling, rig, elastic or aim may be a name, or
 *            an object with "id" and what differs: looked up in "kit" first, then in the catalogue; a pot, sling or aim not
 *            mentioned is the kit's "my pot", "my catapult" or "my aim", or its only one. "seed" (1), "draws" (as the command
 *            says), "pictures" (spread: above, side; rig, lay, aim: section; aim: above; plan: text/plan.c), "look"
 *            (shade, sun or dusk), and of rig, lay, aim, plan and peg "nominal" (true: at the inputs as given only).
 * Answer     {"schema":1,"command",..., outputs {"nominal","mid","lo","hi","text","mostly"}, "inputs", "shares", "notes",
 *            "pictures"}. "mostly": the input that most of the range comes from, or "together" (ensemble.h). An output
 *            without an answer in some draws has its part in "without_answer_frac"; in most of them, it is "no answer".
 *            `pot` without a bait answers for every bait of the catalogue: "each":[{"bait","title",...}]; its "inputs"
 *            are the others.
 *            What rig and aim answer besides: text/stood.h. The other commands' answers: text/measure.c, text/plan.c,
 *            text/peg_day.c, text/catalogue.c.
 * Error      {"schema":1,"error":{"code","field","value","accepted","text"}}; text is one whole sentence.
 *
 * Pure: no I/O, no allocation. The answer's bytes do not depend on the machine or on how the rows were cut.
 * Tests: tests/text/answer_test.c, rig_answer_test.c, aim_answer_test.c, plan_answer_test.c, plan_rig_test.c, peg_day_test.c
 */
#ifndef BAITFALL_ANSWER_H
#define BAITFALL_ANSWER_H

#include <stddef.h>

#include "baitfall/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Bytes of work memory a command needs, with rows for bf_answer (address space: what is not used is not touched); 0: there
 * is no such command. */
size_t bf_work_bytes(const char *command);

/* The same without the rows: enough for bf_begin and bf_finish. */
size_t bf_state_bytes(const char *command);

/* Answers in one call.
 *
 * work   bf_work_bytes(command), 16-aligned; need not be cleared
 * json   (in n_json) the request
 * out    (out out_most, at least 1) the answer, or the error object; ended with a 0 byte. 4 MiB hold any answer.
 * n_out  its length without the 0 byte
 *
 * Returns BF_OK, or what the error object says. BF_E_CHOICE when there is no such command (work is not touched). BF_E_SPACE
 * with *n_out 0 when not even the error fits into out. */
BF_CHECK bf_status bf_answer(void *work, const char *command, const char *json, size_t n_json, char *out,
                             size_t out_most, size_t *n_out);

/* The same with room for so many doubles of rows given apart, as in a page; work: bf_state_bytes(command). More draws
 * than fit are refused with BF_E_SPACE. */
BF_CHECK bf_status bf_answer_within(void *work, double *rows, size_t n_rows_most, const char *command,
                                    const char *json, size_t n_json, char *out, size_t out_most,
                                    size_t *n_out);

/* The same in pieces, of which bf_range_rows may run on many threads or workers at once:
 *
 *     status = bf_begin(work, command, json, n_json, &n_items, &n_columns);
 *     for (int done = 0, next; done < n_items; done = next) {
 *         next = bf_next(work, rows, done);
 *         ... the rows done <= k < next, by bf_range_rows in any cut and order ...
 *     }
 *     status = bf_finish(work, rows, out, out_most, &n_out);
 *
 * bf_begin reads the request. json must stay as it is until bf_finish returns. *n_items rows of *n_columns doubles are
 * then to be computed; 0 items: call bf_finish at once. On an error there are 0 items, and bf_finish gives the error
 * object. */
BF_CHECK bf_status bf_begin(void *work, const char *command, const char *json, size_t n_json, int *n_items,
                            int *n_columns);

/* Up to which item rows may be computed now that those of the first n_done are there, 0 <= n_done < n_items: some items stand on
 * rows before them (a plan's do, in three rounds). More than n_done, at most n_items.
 *
 * rows   (in n_done x n_columns), which stay where and as they are until bf_finish; may be NULL when n_done is 0
 * Workers that do not share `work` each make the same calls, with all rows so far. */
int bf_next(void *work, const double *rows, int n_done);

/* Bytes of scratch, 16-aligned, that one thread needs for bf_range_rows after bf_begin. */
size_t bf_scratch_bytes(const void *work);

/* Rows i <= k < j into rows (out (j - i) x n_columns). work is only read. A draw that has no answer is a row of NaN;
 * returns BF_OK. 0 <= i <= j <= what bf_next said last (asserted). */
BF_CHECK bf_status bf_range_rows(const void *work, void *scratch, int i, int j, double *rows);

/* rows (in n_items x n_columns) in order of items; NULL when there are none. out, n_out and returns as bf_answer. */
BF_CHECK bf_status bf_finish(void *work, const double *rows, char *out, size_t out_most, size_t *n_out);

#ifdef __cplusplus
}
#endif
#endif
