/* rest.h -- where the hook bait comes to rest: hanging free, held by the bottom where it was put, or dragged until it is.
 *
 * Pure; no allocation. Model: docs/models/rig.md. Tests: tests/tackle/rig_test.c
 */
#ifndef BAITFALL_TACKLE_REST_H
#define BAITFALL_TACKLE_REST_H

#include "core/tackle/balance.h"

typedef struct bfi_rest {
    bfi_balance balance;
    double bait_m[2], foot_m[2]; /* bait and foot against the point under the tip: outward, right */
    double
        friction_used_frac; /* of what the bottom can hold                                                 */
    double slack_m;         /* above 0: so much line above the hook is slack and pulls on nothing           */
} bfi_rest;

/* A rig whose bait was at put_m before; NULL: let down from above (bfi_put_down). Statuses as bfi_balance_of. */
BF_CHECK bf_status bfi_rest_of(const bfi_rigging *rigging, const double *put_m, bfi_rest *rest);

/* A stand's rig at rest: in the mean wind (wind_frac 1) as it was let down, in another wind from there on. */
BF_CHECK bf_status bfi_rest_in(const bf_stand *stand, double wind_frac, unsigned without,
                               bfi_rigging *rigging, bfi_rest *rest);

#endif
