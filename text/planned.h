/* planned.h -- what the files that answer "trial" share: trial_plan.c (the line that a plan is, planning), trial.c (the request,
 * analysing). Internal to text/. */
#ifndef BFI_PLANNED_H
#define BFI_PLANNED_H

#include "baitfall/trial.h"
#include "text/told.h"

#define BFI_PLAN_BYTES 1024 /* of a note that has the line in it */

/* A plan as one line of words:
 *
 *     trial seed 7, 12 blocks of 20 min, first 5 min dropped, a = soft two, b = hard four */
typedef struct bfi_plan_line {
    bf_trial_plan plan;
    char a[BF_NAME_BYTES + 1], b[BF_NAME_BYTES + 1];
} bfi_plan_line;

void bfi_put_plan_line(bfi_pen *pen, const bfi_plan_line *line);

/* Finds the line in a note; 0: there is none. b runs to the end of its line. */
int bfi_read_plan_line(const char *note, bfi_plan_line *line);

/* "one such day finds a difference of 2.3 times or more, 8 times in 10; 1.2 times takes about 21 such days" */
void bfi_put_trial_power(bfi_pen *pen, double n_side_a_day, double dispersion);

/* The answer to a request with "plan"; bytes of ask->spare for it. */
BF_CHECK bf_status bfi_answer_trial_plan(bfi_ask *ask, bfi_json *out);
size_t bfi_trial_plan_bytes(void);

#endif
