/* lay_way.c -- see lay_way.h. */
#include "core/tackle/lay_way.h"

#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"

/* Steps: no shorter, no longer; one that came out this much worse than it may is tried again at half. */
#define LEAST_STEP_S 2e-4
#define MOST_STEP_S 30.0
#define MOST_WORSE 4.0
#define LEAST_LONGER 0.25
#define MOST_LONGER 2.0
#define WARY 2 /* and none longer for so many steps after one that failed */

/* At rest: nothing faster than this. Settled: the bait never faster again than this. */
#define REST_M_S 5e-4
#define SETTLED_M_S 1e-3

/* A bait that hangs is down when it is this near to the depth where it comes to rest. */
#define NEAR_M 0.01

#define LONGEST_S 3600.0
#define MOST_STEPS 4000

const bfi_care bfi_usual_care = {1, 2e-3};

typedef struct descent {
    bfi_laid *laid;
    double tip_m[3], lower_m_s, end_m; /* the tip now; how fast and how far it goes down */
    double now_s;
    int n_wary; /* steps yet to go before one may be longer again */
} descent;

/* Starts ------------------------------------------------------------------------------------------------- */

/* Hands every segment the weight below it. */
static void stretch(bfi_lumped *chain) {
    double below = 1e-6;
    for (int i = chain->n - 2; i >= 0; i--) {
        below += chain->lump[i + 1].dry_n;
        chain->tension_n[i] = below;
    }
}

/* Hanging straight from a tip so high that the bait is at the surface, already on its way down. */
static void start_upright(descent *d) {
    bfi_lumped *chain = &d->laid->chain;
    double down = 0;
    d->tip_m[2] = -d->laid->line_m;
    for (int i = 0; i < chain->n; i++) {
        chain->x_m[i][2] = d->tip_m[2] + down;
        chain->v_m_s[i][2] = d->lower_m_s;
        if (i + 1 < chain->n) down += chain->segment[i].length_m;
    }
    stretch(chain);
}

/* The tip where it stays, the float under it, and the line below the float straight out on the surface. */
static void start_flat(descent *d) {
    bfi_lumped *chain = &d->laid->chain;
    double out = 0;
    d->tip_m[2] = d->end_m;
    for (int i = 0; i < chain->n; i++) {
        int above = d->laid->float_node - i;
        if (above > 0)
            chain->x_m[i][2] = d->tip_m[2] * above / d->laid->float_node;
        else
            chain->x_m[i][0] = out;
        if (above <= 0 && i + 1 < chain->n) out += chain->segment[i].length_m;
        if (i + 1 < chain->n) chain->tension_n[i] = 1e-6;
    }
}

/* On the way --------------------------------------------------------------------------------------------- */

/* Keeps every other place; the first stays. */
static void thin_out(bfi_way *way) {
    way->n = (way->n + 1) / 2;
    for (int k = 1; k < way->n; k++) {
        way->at_s[k] = way->at_s[2 * k];
        memcpy(way->float_m[k], way->float_m[2 * k], sizeof way->float_m[k]);
        memcpy(way->heavy_m[k], way->heavy_m[2 * k], sizeof way->heavy_m[k]);
        memcpy(way->bait_m[k], way->bait_m[2 * k], sizeof way->bait_m[k]);
    }
}

static void note_places(const descent *d, bfi_way *way) {
    const bfi_lumped *chain = &d->laid->chain;
    if (way->n == BFI_WAY_MOST) thin_out(way);
    int k = way->n++;
    way->at_s[k] = d->now_s;
    memcpy(way->float_m[k], chain->x_m[d->laid->float_node], sizeof way->float_m[k]);
    memcpy(way->heavy_m[k], chain->x_m[d->laid->heavy_node], sizeof way->heavy_m[k]);
    memcpy(way->bait_m[k], chain->x_m[chain->n - 1], sizeof way->bait_m[k]);
}

static double lesser(double a, double b) {
    return a < b ? a : b;
}

/* The next step, tried shorter until it is good. *dt_s: to try; then what to try next. */
static bf_status step_on(descent *d, double tolerance_m, double *dt_s) {
    for (;;) {
        double took = *dt_s, bend_m;
        double tip[3] = {0, 0, lesser(d->tip_m[2] + d->lower_m_s * took, d->end_m)};
        int is_least = took <= LEAST_STEP_S;
        double most_m = is_least ? BF_INFINITY : 2 * MOST_WORSE * tolerance_m;
        bf_status status = bfi_lumped_step(&d->laid->chain, tip, took, most_m, &bend_m);
        if (status && is_least) return status;
        double factor = bend_m > 0 ? 0.9 * sqrt(2 * tolerance_m / bend_m) : MOST_LONGER;
        factor = factor < LEAST_LONGER ? LEAST_LONGER : lesser(factor, d->n_wary > 0 ? 1 : MOST_LONGER);
        d->n_wary = status ? WARY : d->n_wary > 0 ? d->n_wary - 1 : 0;
        *dt_s = lesser(MOST_STEP_S, took * factor);
        if (*dt_s < LEAST_STEP_S) *dt_s = LEAST_STEP_S;
        if (status) continue;
        d->now_s += took;
        memcpy(d->tip_m, tip, sizeof tip);
        return BF_OK;
    }
}

/* Where between step k - 1 and k a value passes through `at`. */
static double when(const bfi_way *way, int k, double before, double after, double at) {
    double part = after == before ? 1 : (at - before) / (after - before);
    return way->at_s[k - 1] + part * (way->at_s[k] - way->at_s[k - 1]);
}

/* The first time the bait is near its last depth, and how far off the tip it is then. */
static void find_down(bfi_way *way, double depth_m) {
    int k = 1;
    while (k + 1 < way->n && way->bait_m[k][2] < depth_m) k++;
    way->down_s = when(way, k, way->bait_m[k - 1][2], way->bait_m[k][2], depth_m);
    double part = (way->down_s - way->at_s[k - 1]) / (way->at_s[k] - way->at_s[k - 1]), off[2];
    for (int i = 0; i < 2; i++)
        off[i] = way->bait_m[k - 1][i] + part * (way->bait_m[k][i] - way->bait_m[k - 1][i]);
    way->off_m = bf_hypot(off[0], off[1]);
}

/* The end of the last step in which the bait went faster than it may. */
static void find_settled(bfi_way *way) {
    int k = way->n - 1;
    for (; k > 0; k--) {
        double gone = 0;
        for (int i = 0; i < 3; i++) {
            double by = way->bait_m[k][i] - way->bait_m[k - 1][i];
            gone += by * by;
        }
        if (sqrt(gone) > SETTLED_M_S * (way->at_s[k] - way->at_s[k - 1])) break;
    }
    way->settled_s = way->at_s[k];
    if (way->settled_s < way->down_s) way->settled_s = way->down_s;
}

bf_status bfi_way_of(const bf_stand *stand, const bfi_care *care, bfi_way *way) {
    descent d = {.laid = &way->laid, .lower_m_s = stand->hold.lower_m_s};
    way->n = 0;
    way->down_s = way->settled_s = way->off_m = BF_NAN;
    bf_status status = bfi_laid_of(stand, care->refine, d.laid);
    if (status) return status;
    d.end_m = -d.laid->tip_m;
    stand->hold.lowering ? start_flat(&d) : start_upright(&d);

    const bfi_lumped *chain = &d.laid->chain;
    int last = chain->n - 1;
    double dt_s = 0.01, touch_m = BF_INFINITY;
    int n_steps = 0;
    note_places(&d, way);
    do {
        status = step_on(&d, care->tolerance_m, &dt_s);
        if (status || ++n_steps == MOST_STEPS || d.now_s > LONGEST_S) {
            return status ? status : BF_E_NO_CONVERGE;
        }
        note_places(&d, way);
        if (bfi_lumped_under_m(chain, last) > -1e-4) touch_m = lesser(touch_m, chain->x_m[last][2]);
    } while (d.tip_m[2] < d.end_m || bfi_lumped_fastest_m_s(chain) > REST_M_S);

    find_down(way, touch_m < BF_INFINITY ? touch_m : way->bait_m[way->n - 1][2] - NEAR_M);
    find_settled(way);
    return BF_OK;
}
