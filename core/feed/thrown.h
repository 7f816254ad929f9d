/* thrown.h -- one piece of a pinch thrown by catapult, for the throw and spread models. */
#ifndef BAITFALL_FEED_THROWN_H
#define BAITFALL_FEED_THROWN_H

#include "baitfall/throw.h"
#include "core/feed/scatter.h"

/* The commands need no more than a few millimetres, far below what a throw scatters. */
#define BFI_THROW_TOLERANCE_M 1e-3

/* Flight of piece i of a pinch aimed at bearing_deg: it leaves with its own speed, angle and bearing. Errors
 * as bf_throw_flight. */
bf_status bfi_thrown(const bf_sling *sling, double bearing_deg, const bf_piece *piece, const bf_air *air,
                     const bf_draw *draw, int i_piece, bf_flight *flight);

#endif
