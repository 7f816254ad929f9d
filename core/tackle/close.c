/* close.c -- see close.h. */
#include "core/tackle/close.h"

#include <math.h>

#define MOST_TRIES 100
#define CLOSEST 1e-12 /* of the number: what is left of the bracket */
#define JUMP 100      /* tolerances that the gap may jump across 0 */

bf_status bfi_close(bfi_gap gap, void *of, double lo, double hi, double tolerance, bfi_known *known) {
    double x = known->at, before = 0, gap_before = 0;
    int n_slow = 0;
    if (!(x > lo && x < hi)) x = 0.5 * (lo + hi);
    for (int n = 0; n < MOST_TRIES; n++) {
        double miss;
        bf_status status = gap(of, x, &miss);
        if (status) return status;
        if (n > 0) known->slope = (miss - gap_before) / (x - before);
        known->at = x;
        if (fabs(miss) <= tolerance) return BF_OK;
        if (miss < 0)
            lo = x;
        else
            hi = x;
        n_slow = n > 0 && fabs(miss) > 0.5 * fabs(gap_before) ? n_slow + 1 : 0;
        before = x;
        gap_before = miss;
        x -= miss / known->slope;
        if (!(x > lo && x < hi) || n_slow >= 2) {
            x = 0.5 * (lo + hi);
            n_slow = 0;
        }
        if (!(x > lo && x < hi) || hi - lo <= CLOSEST * (fabs(lo) + fabs(hi)))
            return fabs(miss) <= JUMP * tolerance ? BF_OK : BF_E_NO_CONVERGE;
    }
    return BF_E_NO_CONVERGE;
}

#define NEAR_TRIES 6

bf_status bfi_close_near(bfi_gap gap, void *of, double lo, double hi, double tolerance, bfi_known *known) {
    double x = known->at, before = 0, gap_before = 0;
    for (int n = 0; n < NEAR_TRIES && x > lo && x < hi; n++) {
        double miss;
        bf_status status = gap(of, x, &miss);
        if (status) return status;
        if (n > 0) known->slope = (miss - gap_before) / (x - before);
        known->at = x;
        if (fabs(miss) <= tolerance) return BF_OK;
        if (!(known->slope > 0)) return BF_E_NO_CONVERGE;
        before = x;
        gap_before = miss;
        x -= miss / known->slope;
    }
    return BF_E_NO_CONVERGE;
}
