/* waits.c -- the Kaplan-Meier curve and what is read from it. */
#include "baitfall/waits.h"

#include <math.h>

#include "baitfall/elementary.h"
#include "baitfall/special.h"
#include "core/record/order.h"

/* A curve this near a share stands on it (as R's quantile.survfit has it: the square root of 2^-52). */
#define ON_THE_SHARE 1.4901161193847656e-8

size_t bf_waits_bytes(size_t n) {
    return bfi_order_bytes(n);
}

static double within_0_1(double x) {
    return x < 0 ? 0 : x > 1 ? 1 : x;
}

/* lower and upper of a survival whose logarithm has the variance v. */
static void set_band(bf_wait_step *step, double v, bf_band band, double z) {
    double s = step->survival, reach = z * sqrt(v);
    step->lower = step->upper = NAN;
    if (s == 0) return;

    switch (band) {
    case BF_BAND_LOG_LOG: {
        if (s == 1) return;
        double minus_log = -bf_log(s), stretch = bf_exp(reach / minus_log);
        step->lower = bf_exp(-minus_log * stretch);
        step->upper = bf_exp(-minus_log / stretch);
        return;
    }
    case BF_BAND_LOG: {
        double stretch = bf_exp(reach);
        step->lower = s / stretch;
        step->upper = within_0_1(s * stretch);
        return;
    }
    case BF_BAND_PLAIN: step->lower = within_0_1(s - reach * s); step->upper = within_0_1(s + reach * s);
    }
}

static bf_status check(const double *wait_s, size_t n) {
    if (n == 0) return BF_E_MISSING;
    if (n > BF_WAITS_MOST) return BF_E_COUNT;
    for (size_t i = 0; i < n; i++) {
        if (!(fabs(wait_s[i]) < INFINITY)) return BF_E_NOT_FINITE;
        if (!(wait_s[i] > 0)) return BF_E_RANGE;
    }
    return BF_OK;
}

bf_status bf_waits_curve(const double *wait_s, const unsigned char *is_event, size_t n, bf_band band,
                         double level, void *work, bf_wait_step *step, size_t *n_steps) {
    BF_ASSERT(level > 0 && level < 1);
    *n_steps = 0;
    bf_status status = check(wait_s, n);
    if (status) return status;

    const bfi_ranked *wait = bfi_order(wait_s, n, work);
    double z = bf_normal_quantile((1 + level) / 2), survival = 1, v = 0;
    size_t used = 0;
    for (size_t from = 0, to; from < n; from = to) {
        /* All waits of one length. */
        uint32_t n_event = 0, n_risk = (uint32_t)(n - from);
        for (to = from; to < n && wait[to].x == wait[from].x; to++) n_event += is_event[wait[to].row] != 0;

        if (n_event) {
            double r = n_risk, left = (double)(n_risk - n_event);
            survival *= left / r;
            v += n_event / (r * left);
        }
        bf_wait_step *now = &step[used++];
        *now = (bf_wait_step){.time_s = wait[from].x, .survival = survival, .n_risk = n_risk};
        now->std_err = survival > 0 ? survival * sqrt(v) : NAN;
        now->n_event = n_event;
        now->n_censor = (uint32_t)(to - from) - n_event;
        /* Steps where nothing ended keep the band of the one before. */
        if (n_event || used == 1) {
            set_band(now, v, band, z);
        } else {
            now->lower = now[-1].lower;
            now->upper = now[-1].upper;
        }
    }
    *n_steps = used;
    return BF_OK;
}

/* Quantiles ---------------------------------------------------------------------------------------------- */

typedef enum curve { SURVIVAL, LOWER, UPPER } curve;

static double height(const bf_wait_step *step, curve of) {
    return of == SURVIVAL ? step->survival : of == LOWER ? step->lower : step->upper;
}

/* The first step from `i` on where the curve is below `level`; n_steps when none. NaN is below nothing. */
static size_t first_below(const bf_wait_step *step, size_t n_steps, size_t i, curve of, double level) {
    while (i < n_steps && !(height(&step[i], of) < level)) i++;
    return i;
}

static double time_of_share(const bf_wait_step *step, size_t n_steps, curve of, double share) {
    size_t at = first_below(step, n_steps, 0, of, share + ON_THE_SHARE);
    if (at == n_steps) return INFINITY;
    if (!(fabs(height(&step[at], of) - share) < ON_THE_SHARE)) return step[at].time_s;

    size_t next = first_below(step, n_steps, at, of, share - ON_THE_SHARE);
    return (step[at].time_s + step[next < n_steps ? next : n_steps - 1].time_s) / 2;
}

bf_banded bf_waits_quantile(const bf_wait_step *step, size_t n_steps, double p) {
    BF_ASSERT(p > 0 && p < 1);
    return (bf_banded){time_of_share(step, n_steps, SURVIVAL, 1 - p),
                       time_of_share(step, n_steps, LOWER, 1 - p),
                       time_of_share(step, n_steps, UPPER, 1 - p)};
}

bf_banded bf_waits_at(const bf_wait_step *step, size_t n_steps, double time_s) {
    /* The last step not after time_s. */
    size_t low = 0, high = n_steps;
    while (low < high) {
        size_t middle = (low + high) / 2;
        if (step[middle].time_s <= time_s)
            low = middle + 1;
        else
            high = middle;
    }
    if (low == 0) return (bf_banded){1, NAN, NAN};
    return (bf_banded){step[low - 1].survival, step[low - 1].lower, step[low - 1].upper};
}
