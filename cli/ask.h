/* ask.h -- one question to the core, and its answer as JSON. */
#ifndef BAITFALL_CLI_ASK_H
#define BAITFALL_CLI_ASK_H

#include "baitfall/json.h"
#include "cli/cli.h"

/* An answer; cli_answer_free frees it. */
typedef struct cli_answer {
    char *text; /* zero-ended; NULL: out of memory */
    size_t n;
    void *tokens;
    bf_json json; /* read from text */
} cli_answer;

/* Puts a request to the core, its draws shared among all processors, and reads the answer. CLI_OK; else what went
 * wrong was said: CLI_BAD_INPUT with the core's own sentence, CLI_INTERNAL when memory ran out. */
cli_exit cli_ask(const cli_command *command, const char *name, const char *request, size_t n,
                 cli_answer *answer);

/* Rows from .. to - 1 of items that do not know of each other, shared among all processors; rows: of all items. range: work,
 * scratch, from, to (not included), their rows. BF_E_SPACE: out of memory; else the first status that is not BF_OK. */
typedef bf_status (*cli_range)(const void *work, void *scratch, int from, int to, double *rows);
bf_status cli_compute_rows(cli_range range, const void *work, size_t scratch_bytes, int from, int to,
                           int n_columns, double *rows);

/* The second half of cli_ask: reads answer->text (answer->n bytes), and says the core's error when status is not BF_OK. */
cli_exit cli_read_answer(const cli_command *command, bf_status status, cli_answer *answer);

void cli_answer_free(cli_answer *answer);

/* What steers a terminal (U+0000 to U+001F, U+007F to U+009F) or turns the direction of text becomes question marks: names come from files of others. */
void cli_disarm(char *text);

/* A string below an object, decoded, safe for a terminal; "" when there is none. */
const char *cli_text(const bf_json *json, int object, const char *key, char *out, size_t most);
/* The same of a bait's id: what is read for it. */
const char *cli_bait_text(const bf_json *json, int object, const char *key, char *out, size_t most);

#endif
