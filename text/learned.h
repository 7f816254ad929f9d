/* learned.h -- what earlier sessions leave behind for the model of the swim (learn.h), as members of requests and answers: for bed
 * and season. Internal to text/.
 *
 * A summary is {"venue":name,"opened":instant,"data":text}: the data are hex digits, numbers in single precision, of use to this
 * program alone: it is made again from the journal whenever the model changes. */
#ifndef BFI_LEARNED_H
#define BFI_LEARNED_H

#include "baitfall/learn.h"
#include "text/record.h"

#define BFI_LEARNED_MOST 256 /* summaries in a request */

typedef struct bfi_learned_from {
    int n;
    bf_swim_summary summary[BFI_LEARNED_MOST];
} bfi_learned_from;

/* Reads "learned" of the request, an array of summaries; those of sessions opened at before_ms or later are left out. Their
 * venue is 0 where it is this one, 1 where it is another, -1 where none is told. */
BF_CHECK bf_status bfi_read_learned(bfi_ask *ask, const char *venue, double before_ms,
                                    bfi_learned_from *from);

/* What the next session at a venue starts from; BF_E_RANGE: from these, nothing that can be. */
BF_CHECK bf_status bfi_learn(bfi_ask *ask, const bfi_learned_from *from, const char *venue,
                             bf_swim_learned *learned);

/* The summary as a value. */
void bfi_json_summary(bfi_json *out, const bf_swim_summary *summary, const char *venue, double opened_ms,
                      int east_min);

#endif
