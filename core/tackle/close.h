/* close.h -- the number at which a gap closes. */
#ifndef BAITFALL_TACKLE_CLOSE_H
#define BAITFALL_TACKLE_CLOSE_H

#include "baitfall/status.h"

/* By how much the number x misses; on the whole it rises with x. */
typedef bf_status (*bfi_gap)(void *of, double x, double *gap);

/* What is known of the number: about where it is, and how steep the gap is there (> 0). */
typedef struct bfi_known {
    double at, slope;
} bfi_known;

/* The number between lo (gap below 0) and hi (above it) where the gap is within the tolerance: secant steps from what is known, halving
 * when they leave the bracket or fail twice running to halve the gap. The last call of `gap` was made at known->at.
 * Returns the status of `gap`; BF_E_NO_CONVERGE when it jumps across 0 by more than a hundred tolerances. */
BF_CHECK bf_status bfi_close(bfi_gap gap, void *of, double lo, double hi, double tolerance, bfi_known *known);

/* The same where it is not sure that the gap is below 0 at lo, or above it at hi: an end that is not is looked at when the steps lead
 * there. *side: 0 closed; 1 even at hi the gap is below 0, -1 even at lo above it, and there the last call was made. */
typedef struct bfi_bracket {
    double lo, hi;
    int is_lo_sure, is_hi_sure;
} bfi_bracket;

BF_CHECK bf_status bfi_close_within(bfi_gap gap, void *of, bfi_bracket bracket, double tolerance,
                                    bfi_known *known, int *side);

#endif
