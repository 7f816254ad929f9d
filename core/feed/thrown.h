/* thrown.h -- one piece of a pinch thrown by catapult, for the throw and spread models. */
#ifndef BAITFALL_FEED_THROWN_H
#define BAITFALL_FEED_THROWN_H

#include "baitfall/throw.h"
#include "core/feed/scatter.h"

/* How the middle piece leaves. */
bf_release bfi_sling_release(const bf_sling *sling);

/* Flight of piece i of the pinch: it leaves with its own speed, angle and bearing. Errors as
 * bf_throw_flight. */
bf_status bfi_thrown(const bf_sling *sling, const bf_piece *piece, const bf_air *air, const bf_draw *draw,
                     int i_piece, bf_flight *flight);

#endif
