/* balance.c -- see balance.h. */
#include "core/tackle/balance.h"

#include <math.h>

/* Heights meet to this. */
#define MEETS_M 1e-7

/* One unknown ------------------------------------------------------------------------------------------------ */

/* How far an end misses its height when the unknown is x: rises with x. */
typedef bf_status (*gap_of)(void *of, double x, double *gap_m);

/* A number between lo (gap below 0) and hi (above) where the gap closes: secant steps from a guess and a slope, halving when
 * they leave the bracket or do not halve the gap twice running. Leaves `of` as the last call made it: at *x. */
static bf_status close_gap(gap_of gap, void *of, double lo, double hi, double guess, double slope,
                           double *x) {
    double before = 0, gap_before = 0;
    int n_slow = 0;
    *x = guess > lo && guess < hi ? guess : 0.5 * (lo + hi);
    for (int n = 0; n < 100; n++) {
        double miss, next;
        bf_status status = gap(of, *x, &miss);
        if (status) return status;
        if (fabs(miss) <= MEETS_M) return BF_OK;
        if (miss < 0)
            lo = *x;
        else
            hi = *x;
        n_slow = n > 0 && fabs(miss) > 0.5 * fabs(gap_before) ? n_slow + 1 : 0;
        next = n == 0 ? *x - miss / slope : *x - miss * (*x - before) / (miss - gap_before);
        if (!(next > lo && next < hi) || n_slow >= 2) {
            next = 0.5 * (lo + hi);
            n_slow = 0;
        }
        if (!(next > lo && next < hi)) return fabs(miss) < 1e-5 ? BF_OK : BF_E_NO_CONVERGE;
        before = *x;
        gap_before = miss;
        *x = next;
    }
    return BF_E_NO_CONVERGE;
}

/* The water span ---------------------------------------------------------------------------------------------- */

typedef struct water_span {
    const bfi_rigging *rigging;
    double surface_m; /* where its head has to be: 0, above it when the float is lifted */
    double bed_m;
    bfi_grip grip;
    bfi_balance *balance;
    double lying_n[3]; /* what pulls on all that lies on the bottom */
} water_span;

static bf_status climb_to_head(const water_span *span, double *gap_m) {
    bfi_balance *balance = span->balance;
    balance->head = balance->foot;
    bf_status status =
        bfi_climb_water(span->rigging, balance->lies_m, span->rigging->below_m, &balance->head);
    *gap_m = balance->head.at_m[2] - span->surface_m;
    return status;
}

/* Hanging: the unknown is the bait's depth. */
static bf_status hang_gap(void *of, double depth_m, double *gap_m) {
    water_span *span = of;
    double force[3];
    bfi_end_load(span->rigging, depth_m, force);
    span->balance->foot = (bfi_strand){{0, 0, depth_m}, {-force[0], -force[1], -force[2]}};
    return climb_to_head(span, gap_m);
}

static bf_status hang(water_span *span) {
    double depth, most = (span->rigging->below_m + span->surface_m) * 1.05 + 0.01;
    span->balance->contact = BF_HANGS;
    span->balance->lies_m = span->balance->up_n = 0;
    if (!(span->rigging->end_n > 0)) return BF_E_MODEL_RANGE;
    return close_gap(hang_gap, span, span->surface_m, most, 0.97 * most, 1, &depth);
}

/* Held: with so much lying, the bottom carries up_n of it and pushes sideways by the grip. */
static void stand_on(water_span *span, double lies_m, double up_n) {
    const double *lying = span->lying_n;
    bfi_balance *balance = span->balance;
    double pull[3] = {-(lying[0] + up_n * span->grip.out_frac), -(lying[1] + up_n * span->grip.right_frac),
                      -(lying[2] - up_n)};
    double sideways = sqrt(pull[0] * pull[0] + pull[1] * pull[1]);
    double outward = sideways > 0 ? pull[0] / sideways : 0;
    balance->lies_m = lies_m;
    balance->up_n = up_n;
    balance->foot = (bfi_strand){{0, 0, span->bed_m + span->rigging->slope * lies_m * outward},
                                 {pull[0], pull[1], pull[2]}};
}

/* All of it carried: the line leaves along the bottom. The last nanonewton is left to the line, so that it has a direction. */
#define LAST_N 1e-9

static double all_of(const water_span *span) {
    double slope = span->rigging->slope;
    return (span->lying_n[2] - slope * span->lying_n[0]) / (1 + slope * span->grip.out_frac) - LAST_N;
}

static bf_status carry_gap(void *of, double up_n, double *gap_m) {
    water_span *span = of;
    stand_on(span, span->balance->lies_m, up_n);
    return climb_to_head(span, gap_m);
}

typedef struct lying_line {
    water_span *span;
    double from_m, n_m, weight_n; /* weight of what lies at from_m and below */
} lying_line;

static bf_status lie_gap(void *of, double lies_m, double *gap_m) {
    lying_line *line = of;
    line->span->lying_n[2] = line->weight_n + line->n_m * (lies_m - line->from_m);
    stand_on(line->span, lies_m, all_of(line->span));
    return climb_to_head(line->span, gap_m);
}

/* Lets the bottom carry more until the head comes down to the surface: first of the bait, then of the line, shot by shot. */
static bf_status settle_down(water_span *span) {
    const bfi_rigging *rigging = span->rigging;
    double up = 0, at_m = 0, gap, found;
    span->balance->lies_m = 0;
    for (int i = 0; i <= rigging->n_loads; i++) {
        /* What lies at this place. */
        double most = all_of(span);
        bf_status status = carry_gap(span, most, &gap);
        if (status) return status;
        if (gap >= 0)
            return close_gap(carry_gap, span, up, most, up + 0.9 * (most - up), (gap + 1e-3) / most, &found);
        span->balance->contact = BF_LIES;

        /* The line from here to the next shot, hooklength and main line. */
        double next_m = i < rigging->n_loads ? rigging->load[i].at_m : rigging->below_m;
        while (at_m < next_m) {
            int is_fine = at_m < rigging->knot_m;
            double to_m = is_fine && rigging->knot_m < next_m ? rigging->knot_m : next_m;
            lying_line line = {span, at_m, is_fine ? rigging->hooklength.water_n_m : rigging->line.water_n_m,
                               span->lying_n[2]};
            status = lie_gap(&line, to_m, &gap);
            if (status) return status;
            if (gap >= 0) return close_gap(lie_gap, &line, at_m, to_m, at_m + gap, 1, &found);
            at_m = to_m;
        }
        up = span->balance->up_n;
        if (i == rigging->n_loads) break;
        const bfi_load *load = &rigging->load[i];
        span->lying_n[2] += load->count * rigging->bead[load->row].water_n;
    }
    return BF_E_MODEL_RANGE; /* all of it lies, and the head is still too high */
}

static bf_status fill_water(water_span *span) {
    double gap;
    bfi_end_load(span->rigging, span->bed_m, span->lying_n);
    if (!(span->lying_n[2] > 0)) return BF_E_MODEL_RANGE;
    span->balance->lies_m = 0;
    span->balance->contact = BF_TOUCHES;
    bf_status status = carry_gap(span, 0, &gap);
    if (status) return status;
    return gap < 0 ? settle_down(span) : hang(span);
}

/* The air span ------------------------------------------------------------------------------------------------ */

typedef struct air_span {
    const bfi_rigging *rigging;
    bfi_balance *balance;
} air_span;

/* From the float with lift_n in the line above it; the gap is how much too high the tip gets. */
static bf_status lift_gap(void *of, double lift_n, double *gap_m) {
    air_span *span = of;
    bfi_balance *balance = span->balance;
    double push[2];
    bfi_float_push(span->rigging, -balance->head.pull_n[2] - lift_n, push, &balance->shows_m);
    balance->tail =
        (bfi_strand){{0, 0, -balance->raised_m},
                     {balance->head.pull_n[0] - push[0], balance->head.pull_n[1] - push[1], -lift_n}};
    balance->tip = balance->tail;
    bf_status status = bfi_climb_air(span->rigging, 0, span->rigging->above_m, &balance->tip);
    *gap_m = -balance->tip.at_m[2] - span->rigging->tip_m;
    return status;
}

/* Lift in a straight, weightless line from float to tip under this sideways pull. */
static double straight_lift_n(const bfi_rigging *rigging, const double pull_n[3]) {
    double sideways = sqrt(pull_n[0] * pull_n[0] + pull_n[1] * pull_n[1]);
    double long_m = rigging->above_m, high_m = rigging->tip_m;
    return sideways * high_m / sqrt(long_m * long_m - high_m * high_m);
}

static double whole_lift_n(const air_span *span) {
    return -span->balance->head.pull_n[2] + span->rigging->float_n;
}

/* Lifted: the unknown is how far the float is raised, the line carrying all of it. */
typedef struct raised_rig {
    water_span *water;
    air_span *air;
} raised_rig;

static bf_status raise_gap(void *of, double raised_m, double *gap_m) {
    raised_rig *rig = of;
    rig->water->surface_m = -raised_m;
    rig->air->balance->raised_m = raised_m;
    bf_status status = fill_water(rig->water);
    return status ? status : lift_gap(rig->air, whole_lift_n(rig->air), gap_m);
}

bf_status bfi_balance_of(const bfi_rigging *rigging, double bed_m, bfi_grip grip, bfi_balance *balance) {
    water_span water = {.rigging = rigging, .bed_m = bed_m, .grip = grip, .balance = balance};
    air_span air = {rigging, balance};
    double gap, lift, raised;
    *balance = (bfi_balance){.contact = BF_HANGS};
    bf_status status = fill_water(&water);
    if (status) return status;
    double whole = whole_lift_n(&air), guess = straight_lift_n(rigging, balance->head.pull_n);
    status = lift_gap(&air, whole, &gap);
    if (status) return status;
    if (gap >= 0) {
        status = close_gap(lift_gap, &air, -whole, whole, guess, gap / whole, &lift);
    } else {
        raised_rig rig = {&water, &air};
        balance->is_lifted = 1;
        status = close_gap(raise_gap, &rig, 0, rigging->tip_m, -gap, 1, &raised);
    }
    if (status) return status;

    double sideways = sqrt(balance->foot.pull_n[0] * balance->foot.pull_n[0] +
                           balance->foot.pull_n[1] * balance->foot.pull_n[1]);
    for (int i = 0; i < 2; i++) {
        double run = sideways > LAST_N ? balance->lies_m * balance->foot.pull_n[i] / sideways : 0;
        balance->foot_m[i] = -(balance->head.at_m[i] + balance->tip.at_m[i]);
        balance->bait_m[i] = balance->foot_m[i] - run;
    }
    return BF_OK;
}

/* Put down ---------------------------------------------------------------------------------------------------- */

bf_status bfi_put_down(const bfi_rigging *rigging, double put_m[2]) {
    bfi_balance balance = {.contact = BF_HANGS};
    water_span water = {.rigging = rigging, .balance = &balance};
    air_span air = {rigging, &balance};
    put_m[0] = put_m[1] = 0;
    /* Where it comes down decides how deep it is there: a few rounds on a slope, one on the level. */
    for (int n = 0; n < 20; n++) {
        double gap, was = put_m[0];
        bf_status status = hang_gap(&water, rigging->depth_m + rigging->slope * put_m[0], &gap);
        if (status) return status;
        balance.raised_m = -balance.head.at_m[2];
        balance.tail = (bfi_strand){{0, 0, -balance.raised_m},
                                    {balance.head.pull_n[0], balance.head.pull_n[1], -whole_lift_n(&air)}};
        balance.tip = balance.tail;
        status = bfi_climb_air(rigging, 0, rigging->above_m, &balance.tip);
        if (status) return status;
        for (int i = 0; i < 2; i++) put_m[i] = -(balance.head.at_m[i] + balance.tip.at_m[i]);
        if (fabs(put_m[0] - was) * fabs(rigging->slope) <= MEETS_M) return BF_OK;
    }
    return BF_E_NO_CONVERGE;
}
