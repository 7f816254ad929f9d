/* balance.h -- a rig at rest: bait, float and tip in balance, for a bait that hangs or is held by the bottom.
 *
 * Pure; no allocation. Model: docs/models/rig.md. Tests: tests/tackle/rig_test.c, rig_oracle_test.c
 */
#ifndef BAITFALL_TACKLE_BALANCE_H
#define BAITFALL_TACKLE_BALANCE_H

#include "core/tackle/close.h"
#include "core/tackle/rigging.h"

/* How the bottom holds: its push on what lies there is `up` upwards with held_frac x up sideways (outward, right). Both 0: it
 * only carries. */
typedef struct bfi_grip {
    double out_frac, right_frac;
} bfi_grip;

/* A rig in balance. Places of foot and head against the foot; of tail and tip against the float. */
typedef struct bfi_balance {
    bf_rig_contact contact;
    double lies_m;    /* line on the bottom                                                    */
    double run_m[2];  /* from the bait along the bottom to the foot; 0, 0: in a heap            */
    bfi_strand foot;  /* where the line leaves the bait, or the bottom, at place 0, 0            */
    bfi_strand head;  /* the water span's upper end: the pull under the float                    */
    bfi_strand tail;  /* the air span's lower end: the pull above the float                      */
    bfi_strand tip;   /* ... and its upper end                                                 */
    double up_n;      /* what the bottom carries                                               */
    double shows_m;   /* of the bristle                                                        */
    double raised_m;  /* float above the surface: 0 unless lifted                              */
    int is_lifted;    /* the line from the tip carries the float                               */
    double foot_m[2]; /* foot against the point under the tip: outward, right                  */
    double bait_m[2]; /* the bait, on the line's straight run along the bottom                 */
    bfi_slack slack;  /* how the air span's lower end runs                                     */
    /* How the line leaves the bottom and the float, and what floats of it: where to look next time. */
    bfi_known depth, flat, lift, slant, afloat;
    double sideways_n; /* pull below the float when lift was looked for */
} bfi_balance;

/* The balance with the bottom at bed_m under the bait (along the slope from there), held by a grip. When the bait is clear of
 * that bottom it hangs. *balance on entry: zero, or a balance of the same rig nearby, which is quicker. Returns BF_OK; BF_E_MODEL_RANGE (no balance), BF_E_NOT_FINITE or BF_E_NO_CONVERGE. */
BF_CHECK bf_status bfi_balance_of(const bfi_rigging *rigging, double bed_m, bfi_grip grip,
                                  bfi_balance *balance);

/* The balance of a bait on a slope that is held by a grip wherever it slides to; it hangs when it comes clear of the bottom. *balance on entry as
 * for bfi_balance_of. BF_E_MODEL_RANGE also when line lies on the bottom. */
BF_CHECK bf_status bfi_balance_sliding(const bfi_rigging *rigging, bfi_grip grip, bfi_balance *balance);

/* Where the bait is put: let down on a line that is tight from tip to bait, the float not yet afloat, until it touches
 * (or, too short for that, hangs). In m against the point under the tip, outward and right. */
BF_CHECK bf_status bfi_put_down(const bfi_rigging *rigging, double put_m[2]);

#endif
