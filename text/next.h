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
    double given_ms;
    int n_weighed;       /* landed fish whose weight was told: the usual fish is their mean */
    double feed_most_kg; /* the venue's, infinity: none told */
    double fed_kg;       /* in this session, dry */
    int is_near_end;     /* the session ends sooner than the least time ahead */
    void *work;
} bfi_next;

/* Names of the scene; "" where none was told. */
const char *bfi_next_spot(const bfi_next *n, int spot);
const char *bfi_next_feed(const bfi_next *n, int feed);
const char *bfi_next_hook(const bfi_next *n, int hook);

/* next_told.c. All members after the session's head. */
void bfi_json_next(bfi_json *out, const bfi_next *n);

#endif
