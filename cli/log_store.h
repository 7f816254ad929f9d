/* log_store.h -- an entry made at this machine goes into the journal, and is said back in the words of the log. */
#ifndef BAITFALL_CLI_LOG_STORE_H
#define BAITFALL_CLI_LOG_STORE_H

#include "cli/entry.h"
#include "cli/journal.h"

/* Id, device, run, seq and the time of entry; `at` is now. */
cli_exit cli_start_envelope(const cli_command *command, bf_store *store, cli_envelope *envelope);

/* Adds the entry; with --json the line is printed. */
cli_exit cli_store_entry(const cli_command *command, const cli_args *args, bf_store *store,
                         const cli_entry *entry, const cli_envelope *envelope);

/* The whole journal, to say what was stored; NULL, and the reason said, when it cannot be read: the entry is stored all the same. The
 * caller frees it. */
bf_journal *cli_load_to_say(const cli_command *command, bf_store *store);

/* "Crossed out: Missed (long, hard six, wait 2:10), 11:42:07 on 25 Nov 2026 (+00:00)  [3f9a21c0]": an entry as it is now. journal may be NULL. */
void cli_say_entry(const cli_command *command, bf_journal *journal, const char *before, bf_id session,
                   bf_id id);

#endif
