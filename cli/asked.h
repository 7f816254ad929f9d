/* asked.h -- which journal and session a question of the command line is about. */
#ifndef BAITFALL_CLI_ASKED_H
#define BAITFALL_CLI_ASKED_H

#include "cli/journal.h"
#include "cli/request.h"

/* Puts a value into the request; a path given twice is said. */
cli_exit cli_put(const cli_command *command, cli_request *request, const char *path, const char *value,
                 cli_value_kind kind);

/* Loads the journal that word `first` and the options name: a file of lines, "-", or the database; and puts the session named, if
 * one is, into the request: the beginning of its id, or of any of its entries, or `last`. id (out 35) must live as long as the
 * request. The caller frees *journal with free(). */
cli_exit cli_load_asked(const cli_command *command, const cli_args *args, int first, cli_request *request,
                        char id[35], bf_journal **journal);

#endif
