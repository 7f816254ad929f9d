/* words.h -- the words of a command line become values of a request. */
#ifndef BAITFALL_CLI_WORDS_H
#define BAITFALL_CLI_WORDS_H

#include "cli/cli.h"
#include "cli/request.h"

/* Names that a kit adds to those of the catalogue. */
#define CLI_MOST_NAMES 64
typedef struct cli_names {
    struct {
        const char *path; /* where the name goes: "bait.id", "pot.id", "sling.id", "rig.id" ... */
        char name[49];
    } item[CLI_MOST_NAMES];
    int n;
} cli_names;

/* Puts words [first ..) and every --set into the request: quantities by their unit, names of the catalogue and the kit,
 * words of a choice ("sprinkle"). CLI_OK, or CLI_USAGE after saying what is wrong. */
cli_exit cli_take_words(const cli_command *command, const cli_args *args, int first, const cli_names *names,
                        cli_request *request);

/* Puts the options that have a path. */
cli_exit cli_take_options(const cli_command *command, const cli_args *args, cli_request *request);

#endif
