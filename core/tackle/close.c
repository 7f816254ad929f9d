/* close.c -- see close.h. */
#include "core/tackle/close.h"

#include <math.h>

#define MOST_TRIES 100
#define CLOSEST 1e-12 /* of the number: what is left of the bracket */
#define JUMP 100      /* tolerances that the gap may jump across 0 */

static int is_within(const bfi_bracket *b, double x) {
    return x > b->lo && x < b->hi;
}

/* Half way, or the end that is not sure towards which it goes. */
static double instead_of(const bfi_bracket *b, int is_up) {
    if (is_up && !b->is_hi_sure) return b->hi;
    if (!is_up && !b->is_lo_sure) return b->lo;
    return 0.5 * (b->lo + b->hi);
}

bf_status bfi_close_within(bfi_gap gap, void *of, bfi_bracket b, double tolerance, bfi_known *known,
                           int *side) {
    double x = known->at, before = 0, gap_before = 0;
    int n_slow = 0;
    *side = 0;
    if (!is_within(&b, x)) x = instead_of(&b, x > b.lo);
    for (int n = 0; n < MOST_TRIES; n++) {
        double miss;
        bf_status status = gap(of, x, &miss);
        if (status) return status;
        if (n > 0 && fabs(miss - gap_before) > tolerance) known->slope = (miss - gap_before) / (x - before);
        known->at = x;
        if (fabs(miss) <= tolerance) return BF_OK;
        int is_up = miss < 0;
        if (is_up ? !b.is_hi_sure && x >= b.hi : !b.is_lo_sure && x <= b.lo) {
            *side = is_up ? 1 : -1;
            return BF_OK;
        }
        if (is_up) {
            b.lo = x;
            b.is_lo_sure = 1;
        } else {
            b.hi = x;
            b.is_hi_sure = 1;
        }
        n_slow = n > 0 && fabs(miss) > 0.5 * fabs(gap_before) ? n_slow + 1 : 0;
        before = x;
        gap_before = miss;
        x -= miss / known->slope;
        if (!is_within(&b, x) || n_slow >= 2) {
            x = instead_of(&b, is_up);
            n_slow = 0;
        }
        if (!(x >= b.lo && x <= b.hi) || x == before || b.hi - b.lo <= CLOSEST * (fabs(b.lo) + fabs(b.hi)))
            return fabs(miss) <= JUMP * tolerance ? BF_OK : BF_E_NO_CONVERGE;
    }
    return BF_E_NO_CONVERGE;
}

bf_status bfi_close(bfi_gap gap, void *of, double lo, double hi, double tolerance, bfi_known *known) {
    int side;
    return bfi_close_within(gap, of, (bfi_bracket){lo, hi, 1, 1}, tolerance, known, &side);
}
