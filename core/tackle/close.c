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

/* Together --------------------------------------------------------------------------------------------------- */

#define MOST_TOGETHER 12

/* step = -slope^-1 gap by Cramer's rule; 0: there is none. */
static int newton_step(const double slope[5][3], const double gap[3], double step[3]) {
    double cofactor[3][3], det = 0;
    for (int i = 0; i < 3; i++)
        for (int k = 0; k < 3; k++) {
            int i1 = (i + 1) % 3, i2 = (i + 2) % 3, k1 = (k + 1) % 3, k2 = (k + 2) % 3;
            cofactor[i][k] = slope[i1][k1] * slope[i2][k2] - slope[i1][k2] * slope[i2][k1];
        }
    for (int k = 0; k < 3; k++) det += slope[0][k] * cofactor[0][k];
    for (int k = 0; k < 3; k++) {
        step[k] = 0;
        for (int i = 0; i < 3; i++) step[k] -= cofactor[i][k] * gap[i] / det;
    }
    return fabs(det) > 0;
}

/* The least change of slopes by which they give what came of a step. */
static void learn(double slope[5][3], const double step[3], const double before[5], const double after[5]) {
    double square = step[0] * step[0] + step[1] * step[1] + step[2] * step[2];
    for (int i = 0; i < 5 && square > 0; i++) {
        double missed = after[i] - before[i];
        for (int k = 0; k < 3; k++) missed -= slope[i][k] * step[k];
        for (int k = 0; k < 3; k++) slope[i][k] += missed * step[k] / square;
    }
}

static void shorten(double step[3], const double most[3]) {
    double factor = 1;
    for (int k = 0; k < 3; k++)
        if (fabs(step[k]) * factor > most[k]) factor = most[k] / fabs(step[k]);
    for (int k = 0; k < 3; k++) step[k] *= factor;
}

bf_status bfi_close_together(bfi_gaps gap, void *of, const double tolerance[3], const double most[3],
                             bfi_together *known) {
    double now[5], before[5], step[3];
    bf_status status = gap(of, known->at, now);
    for (int n = 0; !status; n++) {
        int is_closed = 1, is_known = newton_step((const double(*)[3])known->slope, now, step);
        for (int i = 0; i < 3; i++) is_closed &= fabs(now[i]) <= tolerance[i];
        for (int i = 0; i < 2; i++) {
            known->out[i] = now[3 + i];
            for (int k = 0; k < 3 && is_known; k++) known->out[i] += known->slope[3 + i][k] * step[k];
        }
        if (is_closed) return BF_OK;
        if (!is_known || n == MOST_TOGETHER) return BF_E_NO_CONVERGE;
        shorten(step, most);
        for (int k = 0; k < 3; k++) known->at[k] += step[k];
        for (int i = 0; i < 5; i++) before[i] = now[i];
        status = gap(of, known->at, now);
        if (!status) learn(known->slope, step, before, now);
    }
    return status;
}
