/* remarks.h -- notes of an answer with many parts: each sentence once. */
#ifndef BAITFALL_CLI_REMARKS_H
#define BAITFALL_CLI_REMARKS_H

#include "baitfall/note.h"
#include "baitfall/plan.h"
#include "cli/ask.h"

/* A sentence, and the part it was said of: "" of the whole answer or of several parts. */
typedef struct cli_remark {
    char text[512];
    char of[128];
} cli_remark;

typedef struct cli_remarks {
    int n;
    cli_remark at[BF_PLAN_LINES * BF_MOST_NOTES + BF_MOST_NOTES];
} cli_remarks;

/* Adds the notes of an object; `of` names the part it is, "" for the whole. */
void cli_add_remarks(cli_remarks *all, const bf_json *json, int object, const char *of);

/* Prints them; one that is of a single part says which. */
void cli_show_remarks(const cli_remarks *all);

#endif
