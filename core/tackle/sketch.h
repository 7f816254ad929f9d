/* sketch.h -- a rig at rest in a few strides: what bfi_rest_of works out, some thirty times as quick and right to a millimetre or so.
 *
 * The same balance of the same forces (rig.h, balance.h), in three dimensions, by
 *
 *   water   stretches of line between shot, straight, each under the load of its middle as it hung last;
 *   air     4, 12 or 96 strides of an even load from float to tip, as touchy as it is; 24 at least where wind and current cross;
 *   rest    the bait is put down, and dragged when what draws at it over its whole friction takes it further: one balance, not the
 *           grip that just holds it. Where wind and current cross, the way it is dragged is turned until the bait goes along it: slant, way
 *           and bottom are closed together. On a
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

#include "core/tackle/close.h"
#include "core/tackle/rigging.h"

typedef struct bfi_sketched {
    double bait_m[2];    /* outward and right of the point under the tip   */
    double cosine, sine; /* of the wind's way; in a calm of the current's  */
    int is_held;         /* 1: by the bottom, where it was let down        */
} bfi_sketched;

/* Returns BF_OK; BF_E_MODEL_RANGE or BF_E_NO_CONVERGE where it finds none. */
BF_CHECK bf_status bfi_sketch(const bfi_rigging *rigging, bfi_sketched *sketched);

/* What shows of the bristle at least, the bait put where it was (NULL: let down): as it hangs or lies when it has moved; when it is
 * held, the lesser of what shows with all that the bottom has and with none of it. Of 5 500 rigs at random that show more than all
 * of it the sketch had 0.6 mm too much in one of 100, 2 mm in one of 1 000, and 26 mm in one, whose line is slack (measured).
 * Returns as bfi_sketch; BF_E_MODEL_RANGE, too, when the bait is held and the current crosses the wind. */
BF_CHECK bf_status bfi_sketch_shows_least(const bfi_rigging *rigging, const double *put_m, double *shows_m);

/* What draws on a bait that is held where it was put (rest.c): which way; how far on, held by nothing; the logarithms of the least grip
 * that is one, and of all that the bottom has. */
typedef struct bfi_pull {
    double toward[2], on_m, log_least, log_most;
} bfi_pull;

/* About where the grip's logarithm lies that just holds it, and how far back a fold of e more takes it; a guess where the sketch finds
 * none. 1: it is held with much to spare. */
int bfi_sketch_grip(const bfi_rigging *rigging, const double put_m[2], const bfi_pull *pull,
                    bfi_known *log_grip);

#endif
