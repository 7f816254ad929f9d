/* estimate.h -- what the estimators of the record check and return alike. Internal. */
#ifndef BAITFALL_CORE_ESTIMATE_H
#define BAITFALL_CORE_ESTIMATE_H

#include <math.h>

#include "baitfall/rates.h"

#define BFI_MOST_EVENTS 1e6
#define BFI_NO_ESTIMATE ((bf_estimate){NAN, NAN, NAN, NAN, NAN})

static inline int bfi_is_finite(double x) {
    return x - x == 0;
}

/* BF_OK for 0 < level < 1. */
static inline bf_status bfi_check_level(double level) {
    if (!bfi_is_finite(level)) return BF_E_NOT_FINITE;
    return level > 0 && level < 1 ? BF_OK : BF_E_RANGE;
}

/* BF_OK for n in 0 .. BFI_MOST_EVENTS, exposure >= 0, both finite. */
bf_status bfi_check_count(double n, double exposure);

/* BF_OK for a distribution: shape and rate above 0, finite. */
bf_status bfi_check_rate(bf_gamma rate);

#endif
