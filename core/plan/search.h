/* search.h -- candidates tried against each other, and what is said about the one that is taken. Internal. */
#ifndef BAITFALL_CORE_PLAN_SEARCH_H
#define BAITFALL_CORE_PLAN_SEARCH_H

#include "core/plan/judging.h"

#define BFI_AS_IS (-1) /* of float, pattern or back shots: as the stand's own rig has it */

/* One candidate, tried. */
typedef struct bfi_trial {
    int flt, pattern, back;
    double rating_kg;
    bf_judged judged;
    double price_m; /* hang in the worst wind and what its back shots must gain: less is better */
} bfi_trial;

/* Those of one float. */
#define BFI_TRIALS_MOST 16
typedef struct bfi_trials {
    int n;
    bfi_trial at[BFI_TRIALS_MOST];
} bfi_trials;

/* What a search found: the pick among the trials of its float, and the pick of another float. */
typedef struct bfi_found {
    const bf_stand *stand; /* that they were tried on: as given, or with a shorter line from the tip */
    int is_shortened;
    bfi_trials among;
    bfi_trial pick, rival;
    bfi_trial last; /* of the float searched last */
} bfi_found;

int bfi_holds(const bfi_trial *of);

/* Which trials are asked about, given the pick. */
typedef enum bfi_which {
    BFI_EVERY_ONE,
    BFI_SAME_SHOT,
    BFI_OTHER_SHOT,
    BFI_OTHER_BACK,
    BFI_NO_BACK
} bfi_which;

/* The best of them, NULL when there is none. */
const bfi_trial *bfi_best(const bfi_found *of, bfi_which which);

bf_suggested bfi_about_float(const bfi_found *of, const bfi_winds *winds, int has_rig);
bf_suggested bfi_about_shot(const bfi_found *of, const bfi_winds *winds);
bf_suggested bfi_about_back_shots(const bfi_found *of, const bfi_winds *winds);

#endif
