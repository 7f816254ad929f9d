/* rest.c -- see rest.h. */
#include "core/tackle/rest.h"

#include <math.h>

#include "baitfall/elementary.h"
#include "core/tackle/close.h"
#include "core/tackle/sketch.h"

/* A place on the bottom is found to this. */
#define PLACE_M 1e-5

static double bed_at(const bfi_rigging *rigging, double out_m) {
    return rigging->depth_m + rigging->slope * out_m;
}

typedef struct resting {
    const bfi_rigging *rigging;
    bfi_grip grip;
    bfi_balance *balance;
    const double *put_m, *toward; /* for holding */
    double gap_m;
} resting;

/* On a slope the bait has to be where the bottom was looked up. */
static bf_status out_gap(void *of, double out_m, double *gap_m) {
    resting *rig = of;
    bf_status status = bfi_balance_of(rig->rigging, bed_at(rig->rigging, out_m), rig->grip, rig->balance);
    *gap_m = out_m - rig->balance->bait_m[0];
    return status;
}

static bf_status balance_on_slope(const bfi_rigging *rigging, bfi_grip grip, double out_m,
                                  bfi_balance *balance) {
    resting rig = {.rigging = rigging, .grip = grip, .balance = balance};
    double reach_m = rigging->above_m + rigging->below_m, unused;
    bfi_known out = {out_m, 1};
    if (rigging->slope == 0) return out_gap(&rig, out_m, &unused);
    if (bfi_balance_sliding(rigging, grip, balance) == BF_OK) return BF_OK;
    /* Line lies on the bottom. Where slack line above jumps over, the place between stands for both sides. */
    *balance = (bfi_balance){.contact = BF_HANGS};
    bf_status status = bfi_close(out_gap, &rig, -reach_m, reach_m, PLACE_M / fabs(rigging->slope), &out);
    if (status != BF_E_NO_CONVERGE) return status;
    status = out_gap(&rig, out.at, &unused);
    balance->foot_m[0] += out.at - balance->bait_m[0];
    balance->bait_m[0] = out.at;
    return status;
}

/* Grips are pushes sideways over the push upwards. On the edge of what the bottom can hold the whole push leans from the
 * slope's normal by the angle of friction; for a push along a unit vector whose outward part is `out`,
 *
 *     1 + k^2 = (1 + friction^2) / (1 + slope^2) (1 + slope out k)^2
 *
 * Two edges of k: `most` the one that is pushed to, `least` the other. */
static void edges_of_grip(const bfi_rigging *rigging, double out, double *least, double *most) {
    double slope = rigging->slope, mu = rigging->friction_frac;
    double ratio = (1 + mu * mu) / (1 + slope * slope), lean = slope * out;
    double a = 1 - ratio * lean * lean, b = ratio * lean, root = b * b - a * (1 - ratio);
    root = root > 0 ? sqrt(root) : 0;
    *least = (b - root) / a;
    *most = (b + root) / a;
}

/* So rough and steep that no push along it ever slides: as good as this. */
#define ENDLESS_GRIP 1e3

static double most_grip(const bfi_rigging *rigging, double out) {
    double least, most;
    edges_of_grip(rigging, out, &least, &most);
    return most > 0 && most < ENDLESS_GRIP ? most : ENDLESS_GRIP;
}

/* Nothing lies still on a slope steeper than its friction: it slides down until the line holds the rest. */
static int is_too_steep(const bfi_rigging *rigging) {
    return fabs(rigging->slope) > rigging->friction_frac;
}

static bfi_grip sliding_grip(const bfi_rigging *rigging) {
    double least, most, down = rigging->slope > 0 ? 1 : -1;
    edges_of_grip(rigging, down, &least, &most);
    return (bfi_grip){down * least, 0};
}

/* Part of what the bottom can hold that this grip uses; above 1 it asks for more. */
static double used_by(const bfi_rigging *rigging, bfi_grip grip) {
    double slope = rigging->slope, up = 1 + slope * grip.out_frac;
    double whole = 1 + grip.out_frac * grip.out_frac + grip.right_frac * grip.right_frac;
    double normal = up * up / (1 + slope * slope), along = whole > normal ? sqrt(whole - normal) : 0;
    double most = rigging->friction_frac * sqrt(normal);
    return most > 0 ? along / most : along > 0 ? ENDLESS_GRIP : 0;
}

/* Line from the hook up to the first load that is off the bottom; what is below it can be slack. */
static double loose_m(const bfi_rigging *rigging, double lies_m) {
    for (int i = 0; i < rigging->n_loads; i++)
        if (rigging->load[i].at_m > lies_m) return rigging->load[i].at_m;
    return rigging->below_m;
}

/* How far the place is beyond the reach of the line below the lowest hanging load, when that load stands as in this balance;
 * *toward: from the place to that load. */
static bf_status beyond_reach(const bfi_rigging *rigging, const bfi_balance *balance, const double put_m[2],
                              double *beyond_m, double toward[2]) {
    double loose = loose_m(rigging, balance->lies_m);
    bfi_strand strand = balance->foot;
    bf_status status = bfi_climb_water(rigging, balance->lies_m, loose, &strand);
    double high = balance->foot.at_m[2] - strand.at_m[2], square = loose * loose - high * high;
    double reach = square > 0 ? sqrt(square) : 0, distance = 0;
    if (reach < balance->lies_m) reach = balance->lies_m;
    for (int i = 0; i < 2; i++) {
        toward[i] = balance->foot_m[i] + strand.at_m[i] - put_m[i];
        distance += toward[i] * toward[i];
    }
    distance = sqrt(distance);
    *beyond_m = distance - reach;
    for (int i = 0; i < 2; i++) toward[i] /= distance > 0 ? distance : 1;
    return status;
}

/* How far back the bait is held by a grip against what draws it on: the unknown is the grip's logarithm. */
static bf_status hold_gap(void *of, double log_frac, double *gap_m) {
    resting *rig = of;
    double frac = bf_exp(log_frac);
    rig->grip = (bfi_grip){-frac * rig->toward[0], -frac * rig->toward[1]};
    bf_status status =
        bfi_balance_of(rig->rigging, bed_at(rig->rigging, rig->put_m[0]), rig->grip, rig->balance);
    *gap_m = 0;
    for (int i = 0; i < 2; i++) *gap_m -= (rig->balance->bait_m[i] - rig->put_m[i]) * rig->toward[i];
    rig->gap_m = *gap_m;
    return status;
}

#define MOST_TURN 0.3 /* of a grip at a time, so that it does not turn round */
#define TURNS 12
#define NEAR_M 0.02 /* where wind and drift cross over slack line: as near as this is held to be there */

static double miss_of(const resting *rig, double miss[2]) {
    for (int i = 0; i < 2; i++) miss[i] = rig->balance->bait_m[i] - rig->put_m[i];
    return sqrt(miss[0] * miss[0] + miss[1] * miss[1]);
}

/* Newton's step, shortened; its square is given back, 0 when there is none. */
static double turn_by(const double jacobian[2][2], const double miss[2], double most, double step[2]) {
    double det = jacobian[0][0] * jacobian[1][1] - jacobian[0][1] * jacobian[1][0];
    if (!(fabs(det) > 0)) return 0;
    step[0] = -(jacobian[1][1] * miss[0] - jacobian[0][1] * miss[1]) / det;
    step[1] = -(jacobian[0][0] * miss[1] - jacobian[1][0] * miss[0]) / det;
    double length = sqrt(step[0] * step[0] + step[1] * step[1]);
    for (int i = 0; i < 2; i++) step[i] *= length > most ? most / length : 1;
    return length > most ? most * most : length * length;
}

/* Turns a grip until the bait does not stray sideways either, which it does only where wind and drift cross: Newton's steps with
 * Broyden's derivative; the best of some. */
static bf_status turn_grip(resting *rig, double stiff) {
    double jacobian[2][2] = {{stiff, 0}, {0, stiff}}, miss[2], step[2], least = miss_of(rig, miss);
    bfi_balance best = *rig->balance;
    bfi_grip best_grip = rig->grip;
    for (int n = 0; n < TURNS && least > 2 * PLACE_M; n++) {
        double most = MOST_TURN * (fabs(rig->grip.out_frac) + fabs(rig->grip.right_frac)),
               was[2] = {miss[0], miss[1]};
        double square = turn_by((const double(*)[2])jacobian, miss, most, step);
        if (!(square > 0)) break;
        rig->grip.out_frac += step[0];
        rig->grip.right_frac += step[1];
        bf_status status =
            bfi_balance_of(rig->rigging, bed_at(rig->rigging, rig->put_m[0]), rig->grip, rig->balance);
        if (status) break;
        double off = miss_of(rig, miss);
        if (off < least) {
            least = off;
            best = *rig->balance;
            best_grip = rig->grip;
        }
        for (int i = 0; i < 2; i++) {
            double expected = was[i] + jacobian[i][0] * step[0] + jacobian[i][1] * step[1];
            for (int k = 0; k < 2; k++) jacobian[i][k] += (miss[i] - expected) * step[k] / square;
        }
    }
    *rig->balance = best;
    rig->grip = best_grip;
    int is_slack = best.slack.afloat_m > 0 || best.slack.sunk_m > 0;
    return least <= NEAR_M || is_slack ? BF_OK : BF_E_NO_CONVERGE;
}

/* The bait rests at a place: what stands above it goes along, unless it is slack. */
static bf_status finish(bfi_rest *rest, const double bait_m[2], double used_frac) {
    const bfi_balance *balance = &rest->balance;
    for (int i = 0; i < 2; i++) {
        rest->bait_m[i] = bait_m[i];
        rest->foot_m[i] = balance->foot_m[i] + (rest->slack_m > 0 ? 0 : bait_m[i] - balance->bait_m[i]);
    }
    rest->friction_used_frac = used_frac < 1 ? used_frac : 1;
    return BF_OK;
}

/* On a slack line: nothing draws at the bait. */
static bf_status rest_slack(const bfi_rigging *rigging, const double put_m[2], bfi_rest *rest) {
    rest->slack_m = loose_m(rigging, rest->balance.lies_m);
    return finish(rest, put_m, used_by(rigging, (bfi_grip){0, 0}));
}

/* So little of what the bottom can hold counts as none. */
#define LEAST_GRIP 1e-3

/* So little of what the bottom can hold counts as none. */
#define LEAST_GRIP 1e-3

/* A bait that is held against a way with all the bottom has there: over the place where it was put, or wherever it slides to. */
typedef struct dragging {
    resting *rig;
    int slides;
    bfi_known turn;      /* of the way, from the one it goes without a grip */
    double way[2], on_m; /* as turned; how far the bait goes along it */
} dragging;

/* How far it strays to the left of a way turned to the right. */
static bf_status stray_gap(void *of, double turn, double *gap_m) {
    dragging *d = of;
    resting *rig = d->rig;
    double cosine = bf_cos(turn), sine = bf_sin(turn), gone[2];
    d->way[0] = cosine * rig->toward[0] - sine * rig->toward[1];
    d->way[1] = sine * rig->toward[0] + cosine * rig->toward[1];
    double most = most_grip(rig->rigging, -d->way[0]), bed_m = bed_at(rig->rigging, rig->put_m[0]);
    rig->grip = (bfi_grip){-most * d->way[0], -most * d->way[1]};
    bf_status status = d->slides
                           ? balance_on_slope(rig->rigging, rig->grip, rig->balance->bait_m[0], rig->balance)
                           : bfi_balance_of(rig->rigging, bed_m, rig->grip, rig->balance);
    for (int i = 0; i < 2; i++) gone[i] = rig->balance->bait_m[i] - rig->put_m[i];
    d->on_m = gone[0] * d->way[0] + gone[1] * d->way[1];
    *gap_m = gone[0] * d->way[1] - gone[1] * d->way[0];
    return status;
}

#define STRAYS_M 2e-5
#define MOST_TURN_RAD 1.5

/* Turns the way until the bait goes along it, which it does at once unless wind and drift cross. Where slack line jumps over, the way
 * between stands for either side. */
static bf_status turn_way(dragging *d) {
    bf_status status = bfi_close(stray_gap, d, -MOST_TURN_RAD, MOST_TURN_RAD, STRAYS_M, &d->turn);
    return status == BF_E_NO_CONVERGE ? BF_OK : status;
}

/* Dragged from where it was put until what the bottom has holds it: along the way it goes. */
static bf_status rest_dragged(dragging *d, bfi_rest *rest) {
    d->slides = 1;
    bf_status status = turn_way(d);
    if (status) return status;
    return finish(rest, rest->balance.bait_m, rest->balance.contact == BF_HANGS ? 0 : 1);
}

/* Too short for the bottom where it was put: it hangs, or comes up against a slope on its way to where it would, and is held there
 * against that way. */
static bf_status rest_hanging(const bfi_rigging *rigging, const double put_m[2], bfi_rest *rest) {
    bfi_balance *balance = &rest->balance;
    const double *bait = balance->bait_m;
    if (balance->foot.at_m[2] < bed_at(rigging, bait[0])) return finish(rest, bait, 0);
    double way[2] = {bait[0] - put_m[0], bait[1] - put_m[1]}, far_m = sqrt(way[0] * way[0] + way[1] * way[1]);
    for (int i = 0; i < 2; i++) way[i] /= far_m > 0 ? far_m : 1;
    double most = most_grip(rigging, -way[0]);
    bf_status status =
        balance_on_slope(rigging, (bfi_grip){-most * way[0], -most * way[1]}, bait[0], balance);
    return status ? status : finish(rest, bait, balance->contact == BF_HANGS ? 0 : 1);
}

/* Slack line can stand in more ways than one. Where the search jumps between them it goes on from the one it ended in; when that
 * jumps too, the way that misses less stands for both. */
static bf_status hold_within(resting *rig, bfi_bracket grips, bfi_known *held, int *side) {
    bf_status status = bfi_close_within(hold_gap, rig, grips, PLACE_M, held, side);
    if (status != BF_E_NO_CONVERGE) return status;
    const bfi_balance balance = *rig->balance;
    const resting before = *rig;
    status = bfi_close_within(hold_gap, rig, grips, PLACE_M, held, side);
    if (status == BF_E_NO_CONVERGE && fabs(before.gap_m) < fabs(rig->gap_m)) {
        *rig->balance = balance;
        *rig = before;
    }
    return status;
}

bf_status bfi_rest_of(const bfi_rigging *rigging, const double *put_m, bfi_rest *rest) {
    double put[2] = {0, 0}, toward[2], beyond;
    bfi_balance *balance = &rest->balance;
    bf_status status = BF_OK;
    *rest = (bfi_rest){.slack_m = 0};
    if (put_m) {
        put[0] = put_m[0];
        put[1] = put_m[1];
    } else {
        status = bfi_put_down(rigging, put);
        if (status) return status;
    }

    /* Would it rest where it was put without being held sideways: on a slack line? */
    status = bfi_balance_of(rigging, bed_at(rigging, put[0]), (bfi_grip){0, 0}, balance);
    if (status) return status;
    if (balance->contact == BF_HANGS) return rest_hanging(rigging, put, rest);
    if (is_too_steep(rigging)) {
        status = balance_on_slope(rigging, sliding_grip(rigging), put[0], balance);
        return status ? status : finish(rest, balance->bait_m, balance->contact == BF_HANGS ? 0 : 1);
    }
    status = beyond_reach(rigging, balance, put, &beyond, toward);
    if (status) return status;
    if (beyond <= 0) return rest_slack(rigging, put, rest);

    /* Held there with all the bottom has against the way it goes: does it still move on? Then it is dragged until that holds it. */
    const bfi_balance loose = *balance;
    bfi_pull pull = {{toward[0], toward[1]}, 0, 0, bf_log(most_grip(rigging, -toward[0]))};
    pull.log_least = pull.log_most + bf_log(LEAST_GRIP);
    double on_m = 0;
    for (int i = 0; i < 2; i++) on_m += (loose.bait_m[i] - put[i]) * toward[i];
    pull.on_m = on_m > 0 ? on_m : 0;
    resting rig = {rigging, {0, 0}, balance, put, toward, 0};
    dragging d = {.rig = &rig, .turn = {0, on_m}};
    bfi_known held;
    int side, is_sure = bfi_sketch_grip(rigging, put, &pull, &held);
    if (!is_sure) {
        status = turn_way(&d);
        if (status) return status;
        if (d.on_m >= 0) return rest_dragged(&d, rest);
        if (d.turn.at != 0) *balance = loose;
    }

    /* The grip that just holds it. Next to none does: slack after all, with shot that lies. */
    status = hold_within(&rig, (bfi_bracket){pull.log_least, pull.log_most, 0, !is_sure}, &held, &side);
    if (!status && side < 0) {
        *balance = loose;
        return rest_slack(rigging, put, rest);
    }
    if (!status && side > 0) {
        status = turn_way(&d);
        return status ? status : rest_dragged(&d, rest);
    }
    /* Line that floats without pull lies anywhere, and slack line jumps between floating, sinking and lifting: where it turns
     * over stands for either side. */
    if (balance->contact == BF_HANGS) return finish(rest, balance->bait_m, 0);
    if (!status) status = turn_grip(&rig, held.slope / bf_exp(held.at));
    if (status && status != BF_E_NO_CONVERGE) return status;
    return finish(rest, put, used_by(rigging, rig.grip));
}

bf_status bfi_rest_in(const bf_stand *stand, double wind_frac, unsigned without, bfi_rigging *rigging,
                      bfi_rest *rest) {
    bf_status status = bfi_rigging_of(stand, 1, without, rigging);
    if (!status) status = bfi_rest_of(rigging, NULL, rest);
    if (status || wind_frac == 1) return status;
    double mean_m[2] = {rest->bait_m[0], rest->bait_m[1]};
    status = bfi_rigging_of(stand, wind_frac, without, rigging);
    return status ? status : bfi_rest_of(rigging, mean_m, rest);
}
