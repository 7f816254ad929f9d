/* sketch.h -- a rig at rest in a few strides: what bfi_rest_of works out, some thirty times as quick and right to a millimetre or so.
 *
 * The same balance of the same forces (rig.h, balance.h), in the upright plane of the wind, by
 *
 *   water   stretches of line between shot, straight, each under the load of its middle as it hung last;
 *   air     4, 12 or 48 strides of an even load from float to tip, as touchy as it is;
 *   rest    the bait is put down, and dragged when what draws at it over its whole friction takes it further: one balance, not the
 *           grip that just holds it. On a slope bait and bottom are brought to agree.
 *
 * Where nothing is touchy it is right to tenths of a millimetre. It is not where a line that is slack jumps between two ways to lie, on
 * slopes steeper than the bottom can hold, and where the return flow draws the bait against the wind: then it says held.
 *
 * Validity: wind and current in one plane: drift of the wind, or none. Not for a drift that was measured.
 * Pure; no allocation; 25 kB of stack. Model: docs/models/aim.md. Tests: tests/tackle/sketch_test.c
 */
#ifndef BAITFALL_TACKLE_SKETCH_H
#define BAITFALL_TACKLE_SKETCH_H

#include "core/tackle/rigging.h"

typedef struct bfi_sketched {
    double bait_m[2];    /* outward and right of the point under the tip   */
    double cosine, sine; /* of the wind's way                              */
    double along_m;      /* the bait along it                              */
    int is_held;         /* 1: by the bottom, where it was let down        */
} bfi_sketched;

/* Returns BF_OK; BF_E_MODEL_RANGE or BF_E_NO_CONVERGE where it finds none. */
BF_CHECK bf_status bfi_sketch(const bfi_rigging *rigging, bfi_sketched *sketched);

#endif
