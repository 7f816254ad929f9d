/* learned.h -- what earlier sessions of a journal leave behind for the model of the swim. */
#ifndef BAITFALL_CLI_LEARNED_H
#define BAITFALL_CLI_LEARNED_H

#include "cli/input.h"
#include "cli/journal.h"

/* The summaries of the last sessions opened before before_ms, as the JSON array that "learned" takes; the caller frees *json.
 * Each is worked out once, from its own session alone, and kept in $XDG_CACHE_HOME/baitfall/sessions (else
 * ~/.cache/...) by what it was worked out from: that file may be deleted at any time. kit: of the baits' sizes; may be empty. */
cli_exit cli_learn(const cli_command *command, bf_journal *journal, double before_ms, const cli_kit *kit,
                   char **json);

/* How well the model foretold the bites of each of the last sessions, having learned from those before it: the JSON array that
 * "foretold" takes; kept likewise. */
cli_exit cli_foretell(const cli_command *command, bf_journal *journal, const cli_kit *kit, char **json);

#endif
