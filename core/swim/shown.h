/* shown.h -- what a rig lowered on the bait would show: hazards from what lies and swims near the hook bait. Internal.
 *
 * The hook bait is one more piece on the patch: met as often as a piece of its size, so its share of what is taken is its
 * share of what lies near it.
 */
#ifndef BFI_SWIM_SHOWN_H
#define BFI_SWIM_SHOWN_H

#include "core/swim/fixed.h"
#include "core/swim/state.h"

/* What counts near the hook of one particle. */
typedef struct bfi_about {
    double on;    /* fish on the patch                                              */
    double rate;  /* search: feeding fish over the patch with handling, 1/m2         */
    double at_m2; /* the patch                                                       */
    double small; /* small pieces on it                                              */
    double wary;
} bfi_about;

/* Hazards of one particle, 1/s. */
typedef struct bfi_meets {
    double take;   /* of the hook bait by a fish */
    double struck; /* a line bite that the angler strikes at */
    double robbed; /* a soft hook bait taken off by small fish, struck at in vain */
    double touch;  /* movements seen and logged, not struck */
    double crowd;  /* small feed's effect, 0 to 1 */
} bfi_meets;

static inline bfi_meets bfi_meets_of(const bfi_swim *swim, int spot, int hook, bfi_about a) {
    bfi_meets m;
    double near = 1 / (a.at_m2 + swim->miss_m2[spot]);
    double met = swim->hook_m2_s[hook] * a.rate * a.at_m2 * near;
    double nuisance = swim->of[BF_SWIM_NUISANCE] * swim->activity;
    m.crowd = a.small / (a.small + SMALL_HALF);
    double taken = swim->of[BF_SWIM_TAKE] * (1 - BLIND * m.crowd) /
                   (1 + SHY_TAKE * a.wary); /* a share: the prior's tail is over 1 */
    m.take = met * (taken < 1 ? taken : 1);
    double line =
        swim->of[BF_SWIM_LINE] * swim->activity * a.on * near * (LINE_FEW + (1 - LINE_FEW) * m.crowd);
    m.struck = LINE_STRUCK * line;
    m.robbed = nuisance * NUISANCE_TAKE_1_S * swim->hook_soft[hook];
    m.touch =
        swim->of[BF_SWIM_KNOCK] * (met - m.take + (1 - LINE_STRUCK) * line + nuisance * NUISANCE_KNOCK_1_S) +
        TOUCH_PASSING_1_S;
    return m;
}

/* All hazards together. */
static inline double bfi_meets_all(bfi_meets m) {
    return m.take + m.struck + m.robbed + m.touch + N_BITES * PASSING_1_S;
}

/* Into outcomes: h[BF_LANDED .. BF_FOUL], h[SHOWN_TOUCH]. */
static inline void bfi_meets_parted(const bfi_swim *swim, bfi_meets m, double on, double h[N_SHOWN]) {
    double crowd = (CROWD_FEW + (1 - CROWD_FEW) * m.crowd) * on / CROWD_FISH;
    double hooked = m.take * CLEAN / (1 + swim->of[BF_SWIM_CROWD] * crowd);
    double missed = m.take - hooked;
    double fouls = swim->of[BF_SWIM_FOUL] * on;
    double foul = (m.struck + FOUL_MISSED * missed) * fouls / (1 + fouls);
    h[BF_LANDED] = LANDS * hooked + PASSING_1_S;
    h[BF_LOST] = (1 - LANDS) * hooked + (1 - FOUL_LANDS) * foul + PASSING_1_S;
    h[BF_MISSED] = missed + m.struck - foul + m.robbed + PASSING_1_S;
    h[BF_FOUL] = FOUL_LANDS * foul + PASSING_1_S;
    h[SHOWN_TOUCH] = m.touch;
}

/* Hazard of an entry under a word, from the hazards of what really happened. */
static inline double bfi_entered(const double h[N_SHOWN], int outcome) {
    double all = h[BF_LANDED] + h[BF_LOST] + h[BF_MISSED] + h[BF_FOUL];
    return (1 - NOT_ENTERED) *
           ((1 - MISLABELLED) * h[outcome] + MISLABELLED / (N_BITES - 1) * (all - h[outcome]));
}

#endif
