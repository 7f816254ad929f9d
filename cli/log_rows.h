/* log_rows.h -- rows of the question `log`: one entry each, in the words that everything in the program uses for it. */
#ifndef BAITFALL_CLI_LOG_ROWS_H
#define BAITFALL_CLI_LOG_ROWS_H

#include "cli/journal.h"

/* One page of a session's rows, newest first: as many of those behind the first *before as an answer holds. *before goes past them. *n:
 * how many rows there are in all. */
cli_exit cli_ask_rows(const cli_command *command, bf_journal *journal, bf_id session, int *before,
                      cli_answer *answer, int *n);

/* The page with the row of an entry, and the row in it; -1: it has none, as a correction. The caller frees the answer. */
cli_exit cli_ask_row(const cli_command *command, bf_journal *journal, bf_id session, bf_id id,
                     cli_answer *answer, int *row);

/* Every row of a page, one a line: "  3f9a21c0  11:42:07  Missed   long, hard six, wait 2:10" and what else there is to know. */
void cli_print_rows(const bf_json *json);

/* One of them. */
void cli_print_row(const bf_json *json, int row);

/* The same in a sentence: "Missed (long, hard six, wait 2:10), 11:42:07 on 25 Nov 2026 (+00:00)  [3f9a21c0]". */
void cli_say_row(const bf_json *json, int row);

#endif
