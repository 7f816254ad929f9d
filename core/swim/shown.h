/* shown.h -- the fed patch as fish and hook find it, and what a rig lowered there would show. Internal.
 *
 * The hook bait is one more piece on the patch: met as often as a piece of its size, so its share of what is taken is its
 * share of what lies near it.
 */
#ifndef BFI_SWIM_SHOWN_H
#define BFI_SWIM_SHOWN_H

#include "core/swim/fixed.h"
#include "core/swim/lanes.h"
#include "core/swim/state.h"

/* Whose parameters: own points at the particle's own ones. */
typedef struct bfi_whose {
    const double *own;
    int n, m;
} bfi_whose;

LANES_INLINE bfi_whose bfi_whose_at(const bfi_swim *swim, int n, const double *x, int p, int m) {
    return (bfi_whose){x + bfi_own_column(swim) * n + p, n, m};
}
LANES_INLINE lanes bfi_of(bfi_whose w, int parameter) {
    return lanes_at(w.own + parameter * w.n, w.m);
}
LANES_INLINE lanes bfi_activity(const bfi_swim *swim, bfi_whose w) {
    return swim->activity * bfi_of(w, BF_SWIM_APPETITE);
}

/* What counts near the hook. */
typedef struct bfi_about {
    lanes on;    /* fish on the patch                                                 */
    lanes rate;  /* patches' worth of search a second and m2, with handling and scrum */
    lanes at_m2; /* the patch                                                         */
    lanes small; /* small pieces on it                                                */
    lanes wary;
} bfi_about;

/* Hazards, 1/s. */
typedef struct bfi_meets {
    lanes take;   /* of the hook bait by a fish */
    lanes struck; /* a line bite that the angler strikes at */
    lanes robbed; /* a soft hook bait taken off by small fish, struck at in vain */
    lanes touch;  /* movements seen and logged, not struck */
    lanes crowd;  /* small feed's effect, 0 to 1 */
} bfi_meets;

/* Fish of the spot that are on the fed patch, not round it: by the pull of both, which wariness weakens. search: search
 * area times pieces, m2/s. */
LANES_INLINE lanes bfi_on_patch(lanes fish, lanes wary, lanes search, lanes search_loose) {
    lanes tight = (LURE_SPOT + LURE_TIGHT * search) * (1 + SHY_LOOSE * wary);
    lanes loose = (LURE_ROUND + LURE_LOOSE * search_loose) * (1 + SHY_TIGHT * wary);
    return fish * tight / (tight + loose);
}

/* Rate at which n fish search m2 of ground for each of the pieces there (handle: sum of search area, handling and pieces,
 * m2): Beddington and DeAngelis's form. */
LANES_INLINE lanes bfi_search_rate(lanes keen, lanes n, lanes m2, lanes handle) {
    return keen * n / (m2 * (1 + CROWDING * lanes_above_zero(n - 1)) + handle);
}

LANES_INLINE lanes bfi_keen(lanes activity, lanes hunger) {
    return activity * (FULL_KEEN + (1 - FULL_KEEN) * hunger);
}

/* hook_by, hook_soft: of the hook bait (state.h). */
LANES_INLINE bfi_meets bfi_meets_of(const bfi_swim *swim, bfi_whose w, int spot, lanes hook_by,
                                    lanes hook_soft, const bfi_about *a) {
    bfi_meets m;
    lanes activity = bfi_activity(swim, w), nuisance = bfi_of(w, BF_SWIM_NUISANCE) * activity,
          miss = bfi_of(w, BF_SWIM_NEAR);
    lanes near = 1 / (a->at_m2 + swim->miss_m2[spot] * miss * miss);
    lanes met = hook_by * bfi_of(w, BF_SWIM_SEARCH) * a->rate * a->at_m2 * near;
    met *= a->on / (a->on + REFUSED_S * met + 1e-12); /* each fish passes by what it has just refused */
    m.crowd = a->small / (a->small + SMALL_HALF);
    m.take = met * bfi_of(w, BF_SWIM_TAKE) * (1 - BLIND * m.crowd) / (1 + SHY_TAKE * a->wary);
    lanes line = bfi_of(w, BF_SWIM_LINE) * activity * a->on * near * (LINE_FEW + (1 - LINE_FEW) * m.crowd);
    m.struck = LINE_STRUCK * line;
    m.robbed = nuisance * NUISANCE_TAKE_1_S * hook_soft;
    m.touch =
        bfi_of(w, BF_SWIM_KNOCK) * (met - m.take + (1 - LINE_STRUCK) * line + nuisance * NUISANCE_KNOCK_1_S) +
        TOUCH_PASSING_1_S;
    return m;
}

/* Hazards together, of bites that share which counts. */
LANES_INLINE lanes bfi_meets_all(const bfi_meets *m, double counted) {
    return counted * (m->take + m->struck + m->robbed + N_BITES * PASSING_1_S) + m->touch;
}

/* Into outcomes: h[BF_LANDED .. BF_FOUL], h[SHOWN_TOUCH]. */
LANES_INLINE void bfi_meets_parted(bfi_whose w, const bfi_meets *m, lanes on, lanes h[N_SHOWN]) {
    lanes crowd = (CROWD_FEW + (1 - CROWD_FEW) * m->crowd) * on / CROWD_FISH;
    lanes hooked = m->take * CLEAN / (1 + bfi_of(w, BF_SWIM_CROWD) * crowd);
    lanes missed = m->take - hooked;
    lanes fouls = bfi_of(w, BF_SWIM_FOUL) * on;
    lanes foul = (m->struck + FOUL_MISSED * missed) * fouls / (1 + fouls);
    h[BF_LANDED] = LANDS * hooked + PASSING_1_S;
    h[BF_LOST] = (1 - LANDS) * hooked + (1 - FOUL_LANDS) * foul + PASSING_1_S;
    h[BF_MISSED] = missed + m->struck - foul + m->robbed + PASSING_1_S;
    h[BF_FOUL] = FOUL_LANDS * foul + PASSING_1_S;
    h[SHOWN_TOUCH] = m->touch;
}

/* Hazard of an entry under a word, from the hazards of what really happened. */
static inline double bfi_entered(const double h[N_SHOWN], int outcome) {
    double all = h[BF_LANDED] + h[BF_LOST] + h[BF_MISSED] + h[BF_FOUL];
    return (1 - NOT_ENTERED) *
           ((1 - MISLABELLED) * h[outcome] + MISLABELLED / (N_BITES - 1) * (all - h[outcome]));
}

#endif
