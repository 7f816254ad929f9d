/* log.h -- the parts of `baitfall log`. */
#ifndef BAITFALL_CLI_LOG_H
#define BAITFALL_CLI_LOG_H

#include "cli/journal.h"

typedef cli_exit (*cli_log_part)(const cli_command *command, const cli_args *args);

/* One word behind `log` each. */
cli_exit cli_log_add(const cli_command *command, const cli_args *args);
cli_exit cli_log_now(const cli_command *command, const cli_args *args);
cli_exit cli_log_cross(const cli_command *command, const cli_args *args);
cli_exit cli_log_restore(const cli_command *command, const cli_args *args);
cli_exit cli_log_fix(const cli_command *command, const cli_args *args);
cli_exit cli_log_list(const cli_command *command, const cli_args *args);
cli_exit cli_log_show(const cli_command *command, const cli_args *args);
cli_exit cli_log_sessions(const cli_command *command, const cli_args *args);
cli_exit cli_log_import(const cli_command *command, const cli_args *args);
cli_exit cli_log_export(const cli_command *command, const cli_args *args);
cli_exit cli_log_check(const cli_command *command, const cli_args *args);
cli_exit cli_log_backup(const cli_command *command, const cli_args *args);

/* "Withy Pool, peg 14" of a session, safe for a terminal; "a session without a venue". */
const char *cli_log_place(const bf_stored_session *session, char out[160]);

/* 1: args->word[1] is `last`; 0: an id, which goes without --session. */
cli_exit cli_is_last(const cli_command *command, const cli_args *args, int *is_last);

/* The `last` of `show`: what was entered last in the session, by whatever device, and counts. CLI_NOTHING when nothing does. */
cli_exit cli_last_entry(const cli_command *command, const cli_args *args, bf_store *store, bf_id *id,
                        bf_id *session);

#endif
