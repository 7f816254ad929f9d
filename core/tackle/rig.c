/* rig.c -- how the rig hangs: the solved shape; see rig.h. */
#include "baitfall/rig.h"

#include <math.h>

#include "baitfall/elementary.h"
#include "core/tackle/rest.h"

/* The shape ----------------------------------------------------------------------------------------------- */

static double length_of(const double v[3]) {
    return sqrt(v[0] * v[0] + v[1] * v[1] + v[2] * v[2]);
}

static bf_rig_shape no_shape(void) {
    bf_rig_shape shape = {.contact = BF_HANGS};
    double *lone[] = {&shape.tip_tension_n,  &shape.float_air_n,       &shape.float_water_n,
                      &shape.bait_tension_n, &shape.bristle_m,         &shape.bristle_band_m,
                      &shape.steep_deg,      &shape.friction_used_frac};
    for (size_t i = 0; i < sizeof lone / sizeof lone[0]; i++) *lone[i] = BF_NAN;
    for (int i = 0; i < 3; i++) shape.bait_m[i] = shape.float_m[i] = BF_NAN;
    return shape;
}

/* Writes a strand's place, which is against `from`, as a point of the drawing. */
static void put_point(double point[3], const bfi_strand *strand, const double from_m[2]) {
    point[0] = from_m[0] + strand->at_m[0];
    point[1] = from_m[1] + strand->at_m[1];
    point[2] = strand->at_m[2];
}

/* A bait that is held on a line which pulls on nothing: the float lies further than this from where the line would have it. */
#define LIES_ANYWHERE_M 0.02

static int lies_anywhere(const bfi_balance *balance, const double float_m[3]) {
    double off[2];
    for (int i = 0; i < 2; i++) off[i] = float_m[i] + balance->tip.at_m[i];
    return sqrt(off[0] * off[0] + off[1] * off[1]) > LIES_ANYWHERE_M;
}

static void draw_straight(double tip_m, bf_rig_shape *shape) {
    int n = shape->n_air = BF_RIG_POINTS;
    for (int i = 0; i < n; i++) {
        double down = (double)i / (n - 1);
        for (int k = 0; k < 2; k++) shape->air_m[i][k] = down * shape->float_m[k];
        shape->air_m[i][2] = -tip_m + down * (shape->float_m[2] + tip_m);
    }
}

/* From the tip down to the float. What floats, or lies anywhere, is drawn straight. */
static bf_status draw_air(const bfi_rigging *rigging, const bfi_rest *rest, bf_rig_shape *shape) {
    const bfi_balance *balance = &rest->balance;
    bfi_strand strand = balance->tail;
    if (!(rest->slack_m > 0) && lies_anywhere(balance, shape->float_m)) {
        draw_straight(rigging->tip_m, shape);
        return BF_OK;
    }
    double afloat_m = balance->slack.afloat_m, at_m = 0,
           from_tip_m[2] = {-balance->tip.at_m[0], -balance->tip.at_m[1]};
    int n = shape->n_air = BF_RIG_POINTS, n_curve = n - (afloat_m > 0);
    double step_m = (rigging->above_m - afloat_m) / (n_curve - 1);
    for (int k = 0; k < 3; k++) shape->air_m[n - 1][k] = shape->float_m[k];
    for (int i = 0; i < n_curve; i++) {
        double to_m = i == n_curve - 1 ? rigging->above_m : afloat_m + i * step_m;
        bf_status status = bfi_climb_air(rigging, balance->slack, at_m, to_m, &strand);
        if (status) return status;
        put_point(shape->air_m[n_curve - 1 - i], &strand, from_tip_m);
        at_m = to_m;
    }
    return BF_OK;
}

/* From the float down to the bait. What lies on the bottom, or is slack above it, is drawn straight. */
static bf_status draw_water(const bfi_rigging *rigging, const bfi_rest *rest, bf_rig_shape *shape) {
    const bfi_balance *balance = &rest->balance;
    bfi_strand strand = balance->foot;
    int n = shape->n_water = BF_RIG_POINTS, is_apart = balance->lies_m > 0 || rest->slack_m > 0;
    int n_curve = n - is_apart;
    double from_m = rest->slack_m > balance->lies_m ? rest->slack_m : balance->lies_m;
    double step_m = (rigging->below_m - from_m) / (n_curve - 1), at_m = balance->lies_m;
    for (int k = 0; k < 3; k++) shape->water_m[n - 1][k] = shape->bait_m[k];
    for (int i = 0; i < n_curve; i++) {
        double to_m = i == n_curve - 1 ? rigging->below_m : from_m + i * step_m;
        bf_status status = bfi_climb_water(rigging, at_m, to_m, &strand);
        if (status) return status;
        put_point(shape->water_m[n_curve - 1 - i], &strand, rest->foot_m);
        at_m = to_m;
    }
    return BF_OK;
}

static void fill_shape(const bfi_rigging *rigging, const bfi_rest *rest, bf_rig_shape *shape) {
    const bfi_balance *balance = &rest->balance;
    double lo, hi, down = rigging->trim_n - balance->head.pull_n[2] + balance->tail.pull_n[2];
    bf_float_shows_band_m(&rigging->flt, down, rigging->below.water.kg_m3, rigging->tension_n_m, &lo, &hi);
    shape->contact = (int)balance->contact;
    for (int i = 0; i < 2; i++) {
        shape->bait_m[i] = rest->bait_m[i];
        shape->float_m[i] = rest->foot_m[i] + balance->head.at_m[i];
    }
    shape->bait_m[2] = balance->contact == BF_HANGS ? balance->foot.at_m[2]
                                                    : rigging->depth_m + rigging->slope * rest->bait_m[0];
    shape->float_m[2] = -balance->raised_m;
    shape->tip_tension_n = length_of(balance->tip.pull_n);
    shape->float_air_n = length_of(balance->tail.pull_n);
    shape->float_water_n = length_of(balance->head.pull_n);
    shape->bait_tension_n = length_of(balance->foot.pull_n);
    shape->bristle_m = balance->shows_m;
    shape->bristle_band_m = 0.5 * (hi - lo);
    shape->friction_used_frac = rest->friction_used_frac;
    shape->is_lifted = balance->is_lifted;
    double over[2] = {shape->float_m[0] - shape->bait_m[0], shape->float_m[1] - shape->bait_m[1]};
    shape->steep_deg =
        bf_atan2(sqrt(over[0] * over[0] + over[1] * over[1]), shape->bait_m[2] - shape->float_m[2]) /
        BF_RAD_PER_DEG;
}

bf_status bf_rig_solve(const bf_stand *stand, double wind_frac, unsigned without, bf_rig_shape *shape) {
    bfi_rigging rigging;
    bfi_rest rest;
    bf_status status = bfi_rest_in(stand, wind_frac, without, &rigging, &rest);
    *shape = no_shape();
    if (status) return status;
    fill_shape(&rigging, &rest, shape);
    status = draw_air(&rigging, &rest, shape);
    if (!status) status = draw_water(&rigging, &rest, shape);
    if (status) *shape = no_shape();
    return status;
}

bf_status bf_rig_rest_of(const bf_stand *stand, double wind_frac, const double *put_m, bf_rig_rest *rest) {
    bfi_rigging rigging;
    bfi_rest at;
    *rest = (bf_rig_rest){{BF_NAN, BF_NAN}, BF_NAN, 0};
    bf_status status = bfi_rigging_of(stand, wind_frac, 0, &rigging);
    if (!status) status = bfi_rest_of(&rigging, put_m, &at);
    if (status) return status;
    *rest = (bf_rig_rest){{at.bait_m[0], at.bait_m[1]}, at.balance.shows_m, at.balance.is_lifted};
    return BF_OK;
}
