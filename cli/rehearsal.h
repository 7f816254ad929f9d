/* rehearsal.h -- a rehearsal on its way: what was chosen so far, how it stands, and its file. */
#ifndef BAITFALL_CLI_REHEARSAL_H
#define BAITFALL_CLI_REHEARSAL_H

#include "cli/input.h"
#include "cli/journal.h"

#define CLI_MOST_CHOICES 1000

typedef struct cli_rehearsal {
    const cli_command *command;
    char *setup; /* JSON, all of heap */
    char seed[24];
    char *choice[CLI_MOST_CHOICES]; /* JSON */
    int n_choices;
    double until_s;
    cli_answer answer; /* of the core, as it stands */
    int n_shown;       /* of its events */
    const char *file;  /* it is kept there as it goes; NULL: nowhere */
    int may_replace;   /* ... though something is there already */
    int is_json;       /* 1: answers alone are printed */
} cli_rehearsal;

/* Asks the core for the day as far as until_s. A setup that it answers with is the one from then on. extra: members more, "\"end\":true";
 * "" for none. The answer before is gone only when this one is there. */
cli_exit cli_rehearse_ask(cli_rehearsal *r, double until_s, const char *extra);

/* Adds a choice (JSON members behind its instant: "\"kind\":\"lift\"") at the instant where the day stands, and lets the day go on until
 * it is done. One that the core refuses is not added. */
cli_exit cli_rehearse_choose(cli_rehearsal *r, const char *members);

/* Takes the last choice back, and all that came of it. CLI_NO: there is none. */
cli_exit cli_rehearse_undo(cli_rehearsal *r);

/* Lets time pass, for_s at most, but no further than a bite; what was waited is a choice too. */
cli_exit cli_rehearse_wait(cli_rehearsal *r, double for_s);

/* A question to its journal as it stands: "bed", "next". */
cli_exit cli_rehearse_question(cli_rehearsal *r, const char *question, cli_answer *answer);

/* Reads a rehearsal's file (n bytes of JSON); writes it, when it has one. */
cli_exit cli_rehearse_load(cli_rehearsal *r, const char *path, const char *text, size_t n);
cli_exit cli_rehearse_save(cli_rehearsal *r);

void cli_rehearse_free(cli_rehearsal *r);

/* Where it stands, seconds since it began. */
double cli_rehearse_now_s(const cli_rehearsal *r);

#endif
