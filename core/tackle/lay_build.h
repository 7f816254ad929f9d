/* lay_build.h -- a stand as a chain of lumps: which node is what. */
#ifndef BAITFALL_TACKLE_LAY_BUILD_H
#define BAITFALL_TACKLE_LAY_BUILD_H

#include "baitfall/stand.h"
#include "core/tackle/lay_lumped.h"

/* A stand's chain: node 0 the tip, float_node the float, heavy_node the one with most shot, the last the bait. */
typedef struct bfi_laid {
    bfi_lumped chain;
    int float_node, heavy_node;
    double tip_m, line_m; /* the tip's height while fishing; line from tip to hook */
} bfi_laid;

/* Builds it from a settled stand's `.value`s; places, speeds and tensions are still zero. refine: 1, or 2 or 4 for nodes so many
 * times as dense (for checks). Returns as bfi_rigging_of. */
BF_CHECK bf_status bfi_laid_of(const bf_stand *stand, int refine, bfi_laid *laid);

#endif
