/* demo.h -- what the demo asks for: questions as other commands answer them, of an invented peg. */
#ifndef BAITFALL_CLI_DEMO_H
#define BAITFALL_CLI_DEMO_H

#include "cli/input.h"
#include "cli/journal.h"

/* fall, pot, soak, throw or spread with this kit, and not the one of this machine. (cmd_feed.c) */
cli_exit cli_feed_by_kit(const cli_command *command, const cli_args *args, const cli_kit *kit);

/* The session's name, the sentences and the thing to try of the last session; no tables. (cmd_review.c) */
cli_exit cli_review_in_short(const cli_command *command, bf_journal *journal);

/* examples/withy-pool/spring-day.journal.jsonl, zero-ended; made at build time. */
extern const char cli_spring_day[];

#endif
