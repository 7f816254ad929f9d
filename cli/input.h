/* input.h -- what a command reads besides its words: a request or plan as a file, and the kit. */
#ifndef BAITFALL_CLI_INPUT_H
#define BAITFALL_CLI_INPUT_H

#include "baitfall/kit.h"
#include "cli/words.h"

/* Reads a file or "-"; the caller frees *bytes. What goes wrong is said. */
cli_exit cli_read_file(const cli_command *command, const char *path, char **bytes, size_t *n);

/* The same of a JSON object, in text that is whole by itself: where it is not, the place in this file is said. */
cli_exit cli_read_object(const cli_command *command, const char *path, char **text, size_t *n);

/* The kit as it lies on this machine; all empty when there is none. cli_kit_free frees it. */
typedef struct cli_kit {
    char path[BF_PATH_MOST];
    char *text; /* NULL: no kit */
    size_t n;
    cli_names names; /* of its baits, pots, throws, rigs ... */
} cli_kit;

/* Reads the kit that --kit names (which must be there, unless may_be_new) or the one in the data folder. */
cli_exit cli_read_kit(const cli_command *command, const cli_args *args, int may_be_new, cli_kit *kit);
void cli_kit_free(cli_kit *kit);

/* A plan's text with members put before its first ("\"seed\":7,"), and the kit when it has none of its own; the caller frees
 * it. NULL: out of memory. */
char *cli_plan_with(const cli_kit *kit, const char *members, const char *plan, size_t n, size_t *n_request);

/* The text of an object with another value (JSON) in place of the one that its root has under a key; the caller frees it. NULL: it has
 * no such key, or cannot be read. */
char *cli_with_value(const char *text, size_t n, const char *key, const char *value, size_t *n_with);

/* Its baits, as the JSON array that a question about a journal takes; the caller frees it. NULL: it has none. */
char *cli_kit_baits(const cli_kit *kit);

/* Writes a drawing or a kit: says what goes wrong. */
cli_exit cli_write_file(const cli_command *command, const char *path, const char *bytes, size_t n,
                        int replace);

#endif
