/* journal.h -- the journal that a command reads: the database of this machine, or a file of lines. */
#ifndef BAITFALL_CLI_JOURNAL_H
#define BAITFALL_CLI_JOURNAL_H

#include "baitfall/store.h"
#include "cli/ask.h"

/* Says a fault of the store; its exit code. */
cli_exit cli_say_store(const cli_command *command, const bf_store_error *error);

/* Opens the database that --db names, or the one in the data folder. CLI_NOTHING: there is none. What
 * opening did to it, and what went wrong, is said. */
cli_exit cli_open_store(const cli_command *command, const cli_args *args, bf_store_use use, bf_store **store);

/* The one entry whose id begins so, and its session. CLI_NOTHING; CLI_USAGE when several do. */
cli_exit cli_find_entry(const cli_command *command, bf_store *store, const char *hex, bf_id *id,
                        bf_id *session);

/* The session that --session names: by the beginning of its id, or of any of its entries, or `last`, the one opened last. *is_named 0:
 * the option is not given. */
cli_exit cli_named_session(const cli_command *command, const cli_args *args, bf_store *store, bf_id *session,
                           int *is_named);

/* The named session, else the open one, else the one opened last. CLI_NOTHING when there is none. */
cli_exit cli_some_session(const cli_command *command, const cli_args *args, bf_store *store, bf_id *session);

/* All of the journal in memory: from `file` (JSON Lines; "-" is standard input) or, when that is NULL, from the database. The caller
 * frees *journal with free(). Lines of a file that are not valid are said, by number, on standard error and left out. */
cli_exit cli_load_journal(const cli_command *command, const cli_args *args, const char *file,
                          bf_journal **journal);

/* A rehearsal's file is no journal: when the text that begins so is one, that is said. */
cli_exit cli_refuse_rehearsal(const cli_command *command, const char *file, const char *text, size_t n);

/* The same from n bytes of text. */
cli_exit cli_load_lines(const cli_command *command, const char *text, size_t n, bf_journal **journal);

/* Puts a question to a journal; what it answered is not read yet (cli_read_answer). */
bf_status cli_put_question(bf_journal *journal, const char *question, const char *request, size_t n,
                           cli_answer *answer);

/* Puts a question to a journal and reads the answer, as cli_ask does. */
cli_exit cli_ask_journal(const cli_command *command, bf_journal *journal, const char *question,
                         const char *request, size_t n, cli_answer *answer);

#endif
