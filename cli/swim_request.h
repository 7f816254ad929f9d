/* swim_request.h -- the request of a question to the swim's model: bed and next. */
#ifndef BAITFALL_CLI_SWIM_REQUEST_H
#define BAITFALL_CLI_SWIM_REQUEST_H

#include "cli/asked.h"
#include "cli/input.h"

/* What a request is made of, and must outlive it. cli_swim_free frees it. */
typedef struct cli_swim {
    cli_request request;
    bf_journal *journal;
    char session[35], at[BF_INSTANT_BYTES + 2];
    cli_kit kit;
    char *plan, *spot, *learned;
} cli_swim;

/* Puts in what words and options name: seed, look, kit, plan, spot, session, instant, and what earlier sessions told. swim starts as all
 * zero but for what is put before, and for a journal: when it has one that one is asked, as of its last entry. */
cli_exit cli_put_swim(const cli_command *command, const cli_args *args, cli_swim *swim);

/* The session that is asked about, as the core finds it; NULL: none. */
const bf_session *cli_swim_session(const cli_swim *swim);

void cli_swim_free(cli_swim *swim);

/* "Withy Pool (invented), peg 14, 2026-03-23 12:10, spot long", and what is known, of an answer. */
void cli_show_swim_head(const bf_json *json);
void cli_show_swim_known(const bf_json *json);

/* The whole answer of bed, of next, for people. (cmd_bed.c, cmd_next.c) */
void cli_show_bed(const bf_json *json);
void cli_show_next(const bf_json *json);

#endif
