/* show.h -- answers for people. */
#ifndef BAITFALL_CLI_SHOW_H
#define BAITFALL_CLI_SHOW_H

#include "cli/ask.h"

/* The answer of fall, pot, soak, throw or spread: what was taken, each output with its range, where the range mostly comes
 * from, and the notes. */
void cli_show_feed(const cli_command *command, const bf_json *json, int is_short);

/* Notes of an object, one a paragraph, wrapped. */
void cli_show_notes(const bf_json *json, int object);

/* Text wrapped at 80 columns; the first line starts with `first`, the others with as many spaces. */
void cli_show_wrapped(const char *first, const char *text);

/* How many columns UTF-8 text takes: one a character. */
int cli_columns(const char *text);

/* Text padded with spaces to a number of columns. */
void cli_show_padded(const char *text, int columns);

#endif
