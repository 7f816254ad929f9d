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

/* A number below an object, NaN when there is none. */
double cli_number_at(const bf_json *json, int object, const char *key);

/* The object below an object, -1 when there is none there: absent, or null. */
int cli_object_at(const bf_json *json, int object, const char *key);

/* "knot, about 8 times in 10": the part of a rig's "chain" that most often gives first; "" without a chain. */
const char *cli_first_to_give(const bf_json *json, int rig, char *out, size_t most);

/* "6 in 10 within 5 cm of a piece of feed, 9 in 10 within 10 cm, ...", of an aim's "chance"; "" without. */
const char *cli_chance(const bf_json *json, int aim, char *out, size_t most);

/* What to mend, a line each with what it gains: at most so many. */
void cli_show_mends(const bf_json *json, int aim, const char *first, int most);

/* How many columns UTF-8 text takes: one a character. */
int cli_columns(const char *text);

/* Text padded with spaces to a number of columns. */
void cli_show_padded(const char *text, int columns);

#endif
