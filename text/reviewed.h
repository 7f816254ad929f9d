/* reviewed.h -- what the files that answer "review" share: review.c (request, sentences, one thing to try), review_tables.c (tables
 * and numbers), review_draw.c (pictures). Internal to text/. */
#ifndef BFI_REVIEWED_H
#define BFI_REVIEWED_H

#include "baitfall/match.h"
#include "baitfall/review.h"
#include "text/baits.h"
#include "text/told.h"

#define BFI_REVIEW_SENTENCES 3

/* One review on its way; stands in ask->spare, its arrays behind it. */
typedef struct bfi_reviewed {
    bfi_ask *ask;
    const bf_session *session;
    int i_session;
    bfi_baits baits; /* for which of two is the larger */
    bf_review review;
    bf_nets nets;
    bfi_told sentence[BFI_REVIEW_SENTENCES];
    bfi_told try_next, try_rule;
    bf_wait_step *step;
    void *spare;           /* bf_review_bytes, then free for the pictures */
    const char *not_drawn; /* why pictures that were asked for are not there; NULL or "": they are */
    int is_drawing_cut;    /* more entries of a kind than a drawing holds     */
} bfi_reviewed;

/* A bait's id, and what is read for it (bf_bait_name); "before feed" for -1. */
const char *bfi_feed_name(const bfi_reviewed *r, int name);
const char *bfi_feed_said(const bfi_reviewed *r, int name);

/* "4-8 min after feed" */
void bfi_put_age(bfi_pen *pen, int age);

/* review_tables.c: "waits", "rates", "change", "feeds", "outcomes", "held", "nets", "tables" */
void bfi_json_review_numbers(bfi_json *out, const bfi_reviewed *r);
void bfi_json_review_tables(bfi_json *out, const bfi_reviewed *r);

/* review.c, for the tables: "bites slowed about 11:40 (11:30-11:50)"; 0 when there is nothing to say. */
int bfi_put_change(bfi_pen *pen, const bfi_reviewed *r);

/* review_draw.c: reads "look", "pictures" and "wide"; "pictures". */
BF_CHECK bf_status bfi_json_review_pictures(bfi_json *out, bfi_reviewed *r);
size_t bfi_review_draw_bytes(int n_events);

#endif
