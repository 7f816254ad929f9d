/* next.h -- what the files that answer "next" share: next.c (the request, its job, the verb), next_told.c (the answer in words).
 * Internal to text/. */
#ifndef BFI_NEXT_H
#define BFI_NEXT_H

#include "baitfall/advise.h"
#include "text/bedded.h"

typedef struct bfi_next {
    bfi_bedded *b; /* the belief, and the session as "bed" has it */
    bf_advise_job job;
    bf_advice advice;
    bf_odds odds;
    /* Names that the plan brings into the scene; NULL: the journal has it. */
    const char *spot_name[BF_SWIM_MOST_SPOTS], *feed_name[BF_SWIM_MOST_FEEDS], *hook_name[BF_SWIM_MOST_HOOKS];
    int planned_spot[BF_PLAN_SPOTS], planned_feed[BF_PLAN_BAITS]; /* the plan's row -> the scene's, -1 */
    double given_ms;
    int n_weighed;       /* landed fish whose weight was told: the usual fish is their mean */
    double feed_most_kg; /* the venue's, infinity: none told */
    int is_barred;       /* the venue's rules bar feed at this instant */
    double fed_kg;       /* in this session, dry */
    int is_near_end;     /* the session ends soon */
    int is_over;         /* its planned time is */
    int is_to_end;       /* the time ahead ends with the session */
    void *work;
} bfi_next;

/* Names of the scene; "" where none was told. */
const char *bfi_next_spot(const bfi_next *n, int spot);
const char *bfi_next_feed(const bfi_next *n, int feed);
const char *bfi_next_hook(const bfi_next *n, int hook);

/* next.c. What to weigh is read from the request; what the record says so far goes into the job: ways, hook baits, times. */
BF_CHECK bf_status bfi_next_objective(bfi_next *n);
void bfi_next_fill(bfi_next *n);

/* next_plan.c. The plan's spots, baits and hook baits into the scene, as far as there is room, before the belief is worked out; then its lines
 * of feed as ways. */
void bfi_next_take_plan(bfi_next *n);
void bfi_next_planned_ways(bfi_next *n, void (*add)(bfi_next *n, bf_way way));
/* From put-in to put-in as the plan has it at the spot asked about; NaN: it does not say. */
double bfi_next_planned_every_s(const bfi_next *n);

/* next_told.c. All members after the session's head. */
void bfi_json_next(bfi_json *out, const bfi_next *n);
/* "Feed now: 15 hard four, tipped", "Hold off until 11:46, then ...", "Move to long and feed ..." */
void bfi_put_act(bfi_pen *pen, const bfi_next *n, const bf_act *act);
/* "0.4 kg (0.1-0.7)" in the unit of the objective. */
void bfi_put_amounts(bfi_pen *pen, const bfi_next *n, bf_range r);

#endif
