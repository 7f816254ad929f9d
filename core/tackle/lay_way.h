/* lay_way.h -- the way of a rig from the hand's height to the bottom, step by step. */
#ifndef BAITFALL_TACKLE_LAY_WAY_H
#define BAITFALL_TACKLE_LAY_WAY_H

#include "core/tackle/lay_build.h"

#define BFI_WAY_MOST 256

/* Where things were at the end of each step, from letting go to rest; of a long way of every other, or fourth. */
typedef struct bfi_way {
    int n;
    double at_s[BFI_WAY_MOST];
    double float_m[BFI_WAY_MOST][3], heavy_m[BFI_WAY_MOST][3], bait_m[BFI_WAY_MOST][3];
    double down_s, settled_s, off_m; /* of bf_lay_out        */
    bfi_laid laid;                   /* as it came to rest   */
} bfi_way;

/* How finely it is followed; 1, 1 in use, more for checks. */
typedef struct bfi_care {
    int refine;         /* nodes twice as dense by 2                  */
    double tolerance_m; /* a step's error in place at most          */
} bfi_care;

extern const bfi_care bfi_usual_care;

/* Lets a settled stand's rig down at its `.value`s. Returns as bfi_rigging_of, or BF_E_NO_CONVERGE. On any error the times
 * are NaN. */
BF_CHECK bf_status bfi_way_of(const bf_stand *stand, const bfi_care *care, bfi_way *way);

#endif
