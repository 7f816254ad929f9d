/* sketch.h -- a rig at rest in a few strides: what bfi_rest_of works out, some thirty times as quick and right to a millimetre or so.
 *
 * The same balance of the same forces (rig.h, balance.h), in three dimensions, by
 *
 *   water   stretches of line between shot, straight, each under the load of its middle as it hung last;
 *   air     4, 12 or 96 strides of an even load from float to tip, as touchy as it is; 24 at least where wind and current cross;
 *   rest    the bait is put down, and dragged when what draws at it over its whole friction takes it further: one balance, not the
 *           grip that just holds it. Where wind and current cross, the way it is dragged is turned until the bait goes along it. On a
 *           slope bait and bottom are brought to agree; on one steeper than the bottom can hold it slides until the line holds it.
 *
 * Where nothing is touchy it is right to tenths of a millimetre. It is not where slack line has two ways to lie, a balance each: it may
 * find the other; nor where in one plane the return flow draws the bait against the wind: then it says held.
 *
 * Validity: one wind, and a current along one line (bf_current_of), which may cross it.
 * Pure; no allocation; 25 kB of stack. Model: docs/models/aim.md. Tests: tests/tackle/sketch_test.c
 */
#ifndef BAITFALL_TACKLE_SKETCH_H
#define BAITFALL_TACKLE_SKETCH_H

#include "core/tackle/rigging.h"

typedef struct bfi_sketched {
    double bait_m[2];    /* outward and right of the point under the tip   */
    double cosine, sine; /* of the wind's way; in a calm of the current's  */
    int is_held;         /* 1: by the bottom, where it was let down        */
} bfi_sketched;

/* Returns BF_OK; BF_E_MODEL_RANGE or BF_E_NO_CONVERGE where it finds none. */
BF_CHECK bf_status bfi_sketch(const bfi_rigging *rigging, bfi_sketched *sketched);

/* What shows of the bristle at least when the bait comes to lie: the lesser of what shows without a grip and with all that the
 * bottom has against the wind, where it was put (NULL: let down). Where that is more than all of the bristle it is 0.2 mm
 * above the solver's in one rig of 100, 5 mm in one of 1 000, 7.9 in the worst of 6 000 at random (measured).
 * Returns as bfi_sketch; BF_E_MODEL_RANGE, too, when it hangs, and where that bounds nothing: the current crosses the wind, or a
 * slope takes it elsewhere. */
BF_CHECK bf_status bfi_sketch_shows_least(const bfi_rigging *rigging, const double *put_m, double *shows_m);

#endif
