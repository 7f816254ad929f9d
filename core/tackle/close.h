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

/* Three numbers whose three gaps are to close together, and two outputs of theirs: what is known of them. slope[i][k]: how gap i (0 .. 2)
 * or output i - 3 goes with number k. */
typedef struct bfi_together {
    double at[3], slope[5][3], out[2];
} bfi_together;

/* gap: three gaps, then the two outputs. Any status but BF_OK ends the search. */
typedef bf_status (*bfi_gaps)(void *of, const double x[3], double gap[5]);

/* Newton's steps with Broyden's slopes, none longer than most[] in any number: from what is known until each gap is within its
 * tolerance; what is left of them is taken out of the outputs by the slopes. Numbers should be of a size.
 * Returns BF_OK, the status of `gap`, or BF_E_NO_CONVERGE. */
BF_CHECK bf_status bfi_close_together(bfi_gaps gap, void *of, const double tolerance[3], const double most[3],
                                      bfi_together *known);

#endif
