/* balance.c -- see balance.h. */
#include "core/tackle/balance.h"

#include <math.h>

#include "baitfall/elementary.h"

/* Heights meet to this. */
#define MEETS_M 1e-6
#define TOUCHES_M 1e-7 /* under a bait that touches: straight line to the bottom makes much of a micrometre */
#define PUT_M 2e-5     /* a bait and the slope it is put on */
#define SUNK_M 2e-5    /* the tip's, over back shot that sinks */
#define PARTS_M 0.02
#define RAISED_M 5e-5 /* the tip's, when it carries the float */

/* The water span ---------------------------------------------------------------------------------------------- */

typedef struct water_span {
    const bfi_rigging *rigging;
    double surface_m; /* where its head has to be: 0, above it when the float is lifted */
    double bed_m;
    bfi_grip grip;
    bfi_balance *balance;
    double lying_n[3]; /* what pulls on all that lies on the bottom */
    double flat; /* given: how flat the line leaves the bait, wherever the bottom is; below 0: not given */
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

/* No bait is deeper than this. */
static double deepest_m(const water_span *span) {
    return (span->rigging->below_m + span->surface_m) * 1.05 + 0.01;
}

static bf_status hang(water_span *span) {
    double most = deepest_m(span);
    bfi_balance *balance = span->balance;
    balance->contact = BF_HANGS;
    balance->lies_m = balance->up_n = balance->run_m[0] = balance->run_m[1] = 0;
    if (!(span->rigging->end_n > 0)) return BF_E_MODEL_RANGE;
    return bfi_close(hang_gap, span, span->surface_m, most, MEETS_M, &balance->depth);
}

/* Held: with so much lying, the bottom carries up_n of it and pushes sideways by the grip. Line that lies without being held
 * at its end lies in a heap. */
static void stand_on(water_span *span, double lies_m, double up_n) {
    const double *lying = span->lying_n;
    bfi_balance *balance = span->balance;
    double pull[3] = {-(lying[0] + up_n * span->grip.out_frac), -(lying[1] + up_n * span->grip.right_frac),
                      -(lying[2] - up_n)};
    double sideways = sqrt(pull[0] * pull[0] + pull[1] * pull[1]);
    int is_heap = span->grip.out_frac == 0 && span->grip.right_frac == 0;
    for (int i = 0; i < 2; i++)
        balance->run_m[i] = is_heap || !(sideways > 0) ? 0 : lies_m * pull[i] / sideways;
    balance->lies_m = lies_m;
    balance->up_n = up_n;
    balance->foot = (bfi_strand){{0, 0, span->bed_m + span->rigging->slope * balance->run_m[0]},
                                 {pull[0], pull[1], pull[2]}};
}

/* All of it carried: the line leaves along the bottom. The last nanonewton is left to the line, so that it has a direction. */
#define LAST_N 1e-9

static double all_of(const water_span *span) {
    double slope = span->rigging->slope;
    return (span->lying_n[2] - slope * span->lying_n[0]) / (1 + slope * span->grip.out_frac) - LAST_N;
}

static bf_status carry_gap(water_span *span, double up_n, double *gap_m) {
    stand_on(span, span->balance->lies_m, up_n);
    return climb_to_head(span, gap_m);
}

/* Part of it carried: the unknown is how flat the line leaves, 1 less the sine of its rise, in which the head's height is
 * nearly straight. Sideways pulls the bottom by its grip, and the current on the line by about so much. */
#define CURRENT_N 1e-6

typedef struct leaving_line {
    water_span *span;
    double most_n, grip;
} leaving_line;

static bf_status leave_gap(void *of, double flat, double *gap_m) {
    leaving_line *line = of;
    double sine = 1 - flat, tangent = sine / sqrt(1 - sine * sine);
    double up = (line->most_n - tangent * CURRENT_N) / (1 + line->grip * tangent);
    return carry_gap(line->span, up, gap_m);
}

/* ... of a line that leaves so. */
static double flat_of(const bfi_strand *foot) {
    const double *pull = foot->pull_n;
    double whole = sqrt(pull[0] * pull[0] + pull[1] * pull[1] + pull[2] * pull[2]);
    return whole > 0 ? 1 + pull[2] / whole : 0;
}

static double grip_of(const water_span *span) {
    return sqrt(span->grip.out_frac * span->grip.out_frac + span->grip.right_frac * span->grip.right_frac);
}

/* The least that it can be with up_n carried. */
static double flattest(const water_span *span, double up_n, double most_n) {
    double tangent = (most_n - up_n) / (up_n * grip_of(span) + CURRENT_N);
    return 1 - tangent / sqrt(1 + tangent * tangent);
}

/* Between up_n carried and most_n: side as bfi_close_within. */
static bf_status leave_bottom(water_span *span, double up_n, double most_n, bfi_known *flat, int *side) {
    leaving_line line = {span, most_n, grip_of(span)};
    return bfi_close_within(leave_gap, &line, (bfi_bracket){.lo = flattest(span, up_n, most_n), .hi = 1},
                            TOUCHES_M, flat, side);
}

/* The bottom carries a given part, as deep as that takes: the unknown is the depth. */
static bf_status touch_gap(void *of, double depth_m, double *gap_m) {
    water_span *span = of;
    span->bed_m = depth_m;
    bfi_end_load(span->rigging, depth_m, span->lying_n);
    leaving_line line = {span, all_of(span), grip_of(span)};
    span->balance->lies_m = 0;
    return leave_gap(&line, span->flat, gap_m);
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

/* A shot that does not lie yet is so far above what lies. */
#define BELOW_SHOT_M 1e-7

/* Line lies, from at_m up to to_m at most: side as bfi_close_within. */
static bf_status lie_down(water_span *span, double at_m, double to_m, double low_m, int *side) {
    const bfi_rigging *rigging = span->rigging;
    const bfi_cable *line = at_m < rigging->knot_m ? &rigging->hooklength : &rigging->line;
    lying_line lying = {span, at_m, line->water_n_m, span->lying_n[2]};
    bfi_known lies = {at_m - low_m, 1};
    return bfi_close_within(lie_gap, &lying, (bfi_bracket){at_m, to_m, 1, 0}, MEETS_M, &lies, side);
}

/* Lets the bottom carry more than the bait until the head comes down to the surface: line, shot by shot. */
static bf_status settle_down(water_span *span) {
    const bfi_rigging *rigging = span->rigging;
    double at_m = 0;
    int side;
    span->balance->contact = BF_LIES;
    for (int i = 0;; i++) {
        /* The line from here to the next shot, hooklength and main line. */
        double next_m = i < rigging->n_loads ? rigging->load[i].at_m - BELOW_SHOT_M : rigging->below_m;
        while (at_m < next_m) {
            double to_m = at_m < rigging->knot_m && rigging->knot_m < next_m ? rigging->knot_m : next_m;
            double low_m = span->balance->head.at_m[2] - span->surface_m;
            bf_status status = lie_down(span, at_m, to_m, low_m, &side);
            if (status || side <= 0) return status;
            at_m = to_m;
        }
        if (i == rigging->n_loads)
            return BF_E_MODEL_RANGE; /* all of it lies, and the head is still too high */

        /* The shot at this place, carried more and more. */
        const bfi_load *load = &rigging->load[i];
        double up = span->balance->up_n;
        at_m = span->balance->lies_m = load->at_m;
        span->lying_n[2] += load->count * rigging->bead[load->row].water_n;
        bfi_known flat = {0, 0};
        bf_status status = leave_bottom(span, up, all_of(span), &flat, &side);
        if (status || side <= 0) return status;
    }
}

/* About how flat the line leaves a bait that touches: its lowest piece, as far as the first shot, has what is spare of its length
 * to lean with. */
static bfi_known likely_flat(const water_span *span) {
    const bfi_rigging *rigging = span->rigging;
    double piece_m = rigging->n_loads ? rigging->load[0].at_m : rigging->below_m;
    double spare_m = rigging->below_m + span->surface_m - span->bed_m;
    return (bfi_known){spare_m / piece_m, piece_m};
}

static bf_status fill_water(water_span *span) {
    bfi_balance *balance = span->balance;
    int side;
    bfi_end_load(span->rigging, span->bed_m, span->lying_n);
    if (!(span->lying_n[2] > 0)) return BF_E_MODEL_RANGE;
    balance->lies_m = 0;
    balance->contact = BF_TOUCHES;
    if (span->flat >= 0)
        return bfi_close(touch_gap, span, span->surface_m, deepest_m(span), TOUCHES_M, &balance->depth);
    if (!(balance->flat.slope > 0)) balance->flat = likely_flat(span);
    bf_status status = leave_bottom(span, 0, all_of(span), &balance->flat, &side);
    if (status || side == 0) return status;
    balance->flat = (bfi_known){0, 0};
    if (side > 0) return settle_down(span);
    balance->depth = (bfi_known){span->bed_m - (balance->head.at_m[2] - span->surface_m), 1};
    return hang(span);
}

/* The air span ------------------------------------------------------------------------------------------------ */

typedef struct air_span {
    const bfi_rigging *rigging;
    bfi_balance *balance;
    double sideways_n; /* about what pulls sideways in it: the scale of what lifts */
} air_span;

/* From the float with lift_n in the line above it; the gap is how much too high the tip gets. */
static bf_status lift_gap(const air_span *span, double lift_n, double *gap_m) {
    bfi_balance *balance = span->balance;
    double push[2];
    bfi_float_push(span->rigging, -balance->head.pull_n[2] - lift_n, push, &balance->shows_m);
    balance->tail =
        (bfi_strand){{0, 0, -balance->raised_m},
                     {balance->head.pull_n[0] - push[0], balance->head.pull_n[1] - push[1], -lift_n}};
    balance->tip = balance->tail;
    bf_status status = bfi_climb_air(span->rigging, balance->slack, 0, span->rigging->above_m, &balance->tip);
    *gap_m = -balance->tip.at_m[2] - span->rigging->tip_m;
    return status;
}

/* How steep from float to tip: which the mean pull is too, and so it rises evenly with the lift. */
#define STRAIGHT 0.999999999

static double steep_of(const bfi_rigging *rigging, double high_m) {
    double part = high_m / rigging->above_m;
    if (part > STRAIGHT) part = STRAIGHT;
    return part / sqrt(1 - part * part);
}

/* The unknown is the lift in the line above the float. */
static bf_status steep_gap(void *of, double lift_n, double *gap) {
    air_span *span = of;
    double high_m = span->rigging->tip_m, gap_m;
    bf_status status = lift_gap(span, lift_n, &gap_m);
    *gap = steep_of(span->rigging, high_m + gap_m) - steep_of(span->rigging, high_m);
    return status;
}

/* Drawn under, the unknown is the slope at which the line leaves the float, as its inverse hyperbolic sine: even in angle where the
 * line is slack, in powers of ten where it is tight. */
static bf_status slant_gap(void *of, double slant, double *gap_m) {
    air_span *span = of;
    return lift_gap(span, span->sideways_n * bf_sinh(slant), gap_m);
}

static double slant_of(double slope) {
    return slope < 0 ? -slant_of(-slope) : bf_log(slope + sqrt(1 + slope * slope));
}

/* Lying on the water: the unknown is how much, less than nothing so that the gap rises. */
static bf_status float_gap(void *of, double less_m, double *gap_m) {
    air_span *span = of;
    span->balance->slack.afloat_m = -less_m;
    return lift_gap(span, LAST_N, gap_m);
}

/* Less sideways pull than this is none, N. */
#define SIDEWAYS_LEAST_N 1e-7

/* All that the air span can hang on the float, as it weighs in air. */
static double hung_n(const bfi_rigging *rigging) {
    double sum = rigging->above_m * rigging->line.air_n_m;
    for (int i = 0; i < rigging->n_back_loads; i++)
        sum += rigging->back_load[i].count * rigging->back_bead[rigging->back_load[i].row].air_n;
    return sum;
}

/* About what pulls sideways below the float. */
static double sideways_n(const bfi_balance *balance) {
    const double *pull = balance->head.pull_n;
    double sideways = sqrt(pull[0] * pull[0] + pull[1] * pull[1]);
    return sideways > SIDEWAYS_LEAST_N ? sideways : SIDEWAYS_LEAST_N;
}

/* As far as the lowest back shot, or all of it. */
static double to_shot_m(const bfi_rigging *rigging) {
    return rigging->n_back_loads ? rigging->back_load[0].at_m : rigging->above_m;
}

/* A float that comes out of the water can stand in two ways: when it is pulled harder than before the deeper one is looked for, from
 * so much of what is likely on. */
#define DEEPER 0.5

/* Where the lift that meets the tip is likely: over what pulls sideways as steep as from float to tip. What is known of it was known at
 * another pull below the float. */
static bfi_known likely_lift(const air_span *span, double steep) {
    const bfi_balance *balance = span->balance;
    double further_n = span->sideways_n - balance->sideways_n, sideways = 1 / balance->lift.slope + further_n;
    if (!(balance->lift.slope > 0) || !(sideways > 0))
        return (bfi_known){steep * span->sideways_n, 1 / span->sideways_n};
    double likely = balance->lift.at + steep * further_n;
    return (bfi_known){further_n > 0 ? DEEPER * likely : likely, 1 / sideways};
}

/* The line leaves the float upwards: side as bfi_close_within. */
static bf_status draw_up(air_span *span, double whole_n, int *side) {
    const bfi_rigging *rigging = span->rigging;
    bfi_balance *balance = span->balance;
    double part = rigging->tip_m / rigging->above_m, square = 1 - part * part;
    double steep_per_m = 1 / (square * sqrt(square) * rigging->above_m);
    balance->lift = likely_lift(span, steep_of(rigging, rigging->tip_m));
    balance->sideways_n = span->sideways_n;
    return bfi_close_within(steep_gap, span, (bfi_bracket){.lo = LAST_N, .hi = whole_n},
                            MEETS_M * steep_per_m, &balance->lift, side);
}

/* More line than its pull can lift: the rest floats on the water. is_sure: that it does. Side as bfi_close_within. */
static bf_status float_off(air_span *span, int is_sure, int *side) {
    const bfi_rigging *rigging = span->rigging;
    bfi_balance *balance = span->balance;
    double spare_m = rigging->above_m - rigging->tip_m;
    if (!(balance->afloat.slope > 0)) balance->afloat = (bfi_known){-0.5 * spare_m, 1};
    bfi_bracket bracket = {-to_shot_m(rigging), 0, 0, is_sure};
    return bfi_close_within(float_gap, span, bracket, MEETS_M, &balance->afloat, side);
}

/* When what floats comes as far as a back shot, the shot sinks and draws the line under. */
static bf_status draw_under(air_span *span, double whole_n) {
    const bfi_rigging *rigging = span->rigging;
    bfi_balance *balance = span->balance;
    double low_m = -balance->tip.at_m[2] - rigging->tip_m;
    balance->slack = (bfi_slack){.sunk_m = to_shot_m(rigging)};
    if (!(balance->slant.slope > 0)) balance->slant = (bfi_known){-1, low_m};
    double under = slant_of((whole_n + hung_n(rigging)) / span->sideways_n);
    return bfi_close(slant_gap, span, -under, 0, SUNK_M, &balance->slant);
}

/* Tight, or slack; what it was before is tried first. *is_lifted: even with all of the rig's weight lifted the tip is too low. */
static bf_status fill_air(air_span *span, double whole_n, bfi_slack was, int *is_lifted) {
    int side = 1, was_slack = was.afloat_m > 0 || was.sunk_m > 0;
    bf_status status = BF_OK;
    span->sideways_n = sideways_n(span->balance);
    *is_lifted = 0;
    if (was_slack) status = float_off(span, 0, &side);
    if (!status && side > 0) {
        span->balance->slack = (bfi_slack){0, 0};
        status = draw_up(span, whole_n, &side);
        *is_lifted = side > 0;
        if (!status && side < 0) status = float_off(span, 1, &side);
    }
    return !status && side < 0 ? draw_under(span, whole_n) : status;
}

static double whole_lift_n(const air_span *span) {
    return -span->balance->head.pull_n[2] + span->rigging->float_n + span->rigging->trim_n;
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

/* Where foot and bait are once both spans are filled. */
static bf_status place(bfi_balance *balance) {
    for (int i = 0; i < 2; i++) {
        balance->foot_m[i] = -(balance->head.at_m[i] + balance->tip.at_m[i]);
        balance->bait_m[i] = balance->foot_m[i] - balance->run_m[i];
    }
    return BF_OK;
}

/* Even the whole weight leaves the tip gap_m too low: the float is raised. */
static bf_status lift_off(water_span *water, air_span *air) {
    raised_rig rig = {water, air};
    double out_m = water->rigging->below_m, tip_m = water->rigging->tip_m,
           most_m = out_m < tip_m ? out_m : tip_m, gap;
    bfi_known raised = {tip_m + water->balance->tip.at_m[2], 1};
    water->balance->is_lifted = 1;
    bf_status status = bfi_close(raise_gap, &rig, 0, most_m, RAISED_M, &raised);
    /* Wind that takes the whole rig out of the water leaves no balance. */
    if (status == BF_E_NO_CONVERGE && raised.at > 0.9 * out_m) return BF_E_MODEL_RANGE;
    if (status != BF_E_NO_CONVERGE) return status;
    /* Where bait and bottom just part, a micrometre decides: to a centimetre or two then. */
    status = raise_gap(&rig, raised.at, &gap);
    return !status && fabs(gap) > PARTS_M ? BF_E_NO_CONVERGE : status;
}

/* Water span, then air span. */
static bf_status balance_of(water_span *water) {
    bfi_balance *balance = water->balance;
    air_span air = {.rigging = water->rigging, .balance = balance};
    bfi_slack was = balance->slack;
    int is_lifted;
    balance->raised_m = balance->is_lifted = 0;
    balance->slack = (bfi_slack){0, 0};
    bf_status status = fill_water(water);
    if (!status) status = fill_air(&air, whole_lift_n(&air), was, &is_lifted);
    if (!status && is_lifted) status = lift_off(water, &air);
    place(balance);
    return status;
}

bf_status bfi_balance_of(const bfi_rigging *rigging, double bed_m, bfi_grip grip, bfi_balance *balance) {
    water_span water = {.rigging = rigging, .bed_m = bed_m, .grip = grip, .flat = -1, .balance = balance};
    return balance_of(&water);
}

/* A bait that slides, or is about to, on a slope ------------------------------------------------------------------ */

/* How far the bottom is below the bait when it carries a given part of it: the bait comes up, and so this grows, as it
 * carries more. */
static bf_status bed_gap(void *of, double flat, double *gap_m) {
    water_span *water = of;
    water->flat = flat;
    bf_status status = balance_of(water);
    const bfi_balance *balance = water->balance;
    *gap_m = water->rigging->depth_m + water->rigging->slope * balance->bait_m[0] - balance->foot.at_m[2];
    return status;
}

bf_status bfi_balance_sliding(const bfi_rigging *rigging, bfi_grip grip, bfi_balance *balance) {
    water_span water = {.rigging = rigging, .grip = grip, .flat = -1, .balance = balance};
    bfi_known flat = {flat_of(&balance->foot), 1};
    int side;
    if (balance->contact != BF_TOUCHES || balance->lies_m > 0 || balance->is_lifted) {
        *balance = (bfi_balance){.contact = BF_HANGS};
        flat.at = 0.1;
    }
    if (!(balance->depth.slope > 0)) balance->depth = (bfi_known){rigging->depth_m, 1};
    bfi_end_load(rigging, rigging->depth_m, water.lying_n);
    if (!(water.lying_n[2] > 0)) return BF_E_MODEL_RANGE;
    double least = flattest(&water, 0, all_of(&water));
    bf_status status =
        bfi_close_within(bed_gap, &water, (bfi_bracket){.lo = least, .hi = 1}, TOUCHES_M, &flat, &side);
    if (status) return status;
    if (side < 0) balance->contact = BF_HANGS;  /* clear of the bottom with nothing carried */
    return side > 0 ? BF_E_MODEL_RANGE : BF_OK; /* line lies as well */
}

/* Put down ---------------------------------------------------------------------------------------------------- */

typedef struct put_rig {
    water_span *water;
    air_span *air;
} put_rig;

/* Where it comes down decides how deep it is there. */
static bf_status put_gap(void *of, double out_m, double *gap_m) {
    put_rig *rig = of;
    const bfi_rigging *rigging = rig->water->rigging;
    bfi_balance *balance = rig->water->balance;
    double bed_m = rigging->depth_m + rigging->slope * out_m, force[3];
    bfi_end_load(rigging, bed_m, force);
    balance->head = (bfi_strand){{0, 0, bed_m}, {-force[0], -force[1], -force[2]}};
    /* The rest of it is above the water yet, upright in the air; shot there hangs on the line as heavy as below. */
    double wet_m = bed_m < rigging->below_m ? bed_m : rigging->below_m;
    bf_status status = bfi_climb_water(rigging, 0, wet_m, &balance->head);
    if (status) return status;
    for (int i = 0; i < rigging->n_loads; i++)
        if (rigging->load[i].at_m > wet_m)
            balance->head.pull_n[2] -= rigging->load[i].count * rigging->bead[rigging->load[i].row].water_n;
    balance->raised_m = -balance->head.at_m[2];
    balance->tail = (bfi_strand){{0, 0, -balance->raised_m},
                                 {balance->head.pull_n[0], balance->head.pull_n[1], -whole_lift_n(rig->air)}};
    balance->tip = balance->tail;
    status = bfi_climb_air(rigging, balance->slack, 0, rigging->above_m, &balance->tip);
    for (int i = 0; i < 2; i++) balance->bait_m[i] = -(balance->head.at_m[i] + balance->tip.at_m[i]);
    *gap_m = out_m - balance->bait_m[0];
    return status;
}

bf_status bfi_put_down(const bfi_rigging *rigging, double put_m[2]) {
    bfi_balance balance = {.contact = BF_HANGS};
    water_span water = {.rigging = rigging, .balance = &balance};
    air_span air = {.rigging = rigging, .balance = &balance};
    put_rig rig = {&water, &air};
    double reach_m = rigging->above_m + rigging->below_m;
    bfi_known out = {0, 1};
    double gap_m;
    bf_status status = rigging->slope == 0 ? put_gap(&rig, 0, &gap_m)
                                           : bfi_close(put_gap, &rig, -reach_m, reach_m, PUT_M, &out);
    for (int i = 0; i < 2; i++) put_m[i] = balance.bait_m[i];
    return status;
}
