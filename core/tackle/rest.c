/* rest.c -- see rest.h. */
#include "core/tackle/rest.h"

#include <math.h>

/* A place on the bottom is found to this. */
#define PLACE_M 1e-5

static double bed_at(const bfi_rigging *rigging, double out_m) {
    return rigging->depth_m + rigging->slope * out_m;
}

/* A balance whose bait is where the bottom was looked up: on a slope the two are brought together by Aitken's rule, starting
 * at *out_m, which is kept. */
static bf_status balance_on_slope(const bfi_rigging *rigging, bfi_grip grip, double *out_m,
                                  bfi_balance *balance) {
    double at[3];
    for (int n = 0; n < 40; n++) {
        at[n % 3] = *out_m;
        bf_status status = bfi_balance_of(rigging, bed_at(rigging, *out_m), grip, balance);
        if (status) return status;
        double off_m = balance->bait_m[0] - *out_m;
        if (fabs(off_m * rigging->slope) <= 0.1 * PLACE_M) return BF_OK;
        *out_m = balance->bait_m[0];
        if (n % 2 == 0) continue;
        double first = at[(n + 2) % 3], second = at[n % 3], bend = *out_m - 2 * second + first;
        if (bend != 0) *out_m = first - (second - first) * (second - first) / bend;
    }
    return BF_E_NO_CONVERGE;
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

/* Part of what the bottom can hold that this grip uses. */
static double used_by(const bfi_rigging *rigging, bfi_grip grip) {
    double slope = rigging->slope, up = 1 + slope * grip.out_frac;
    double whole = 1 + grip.out_frac * grip.out_frac + grip.right_frac * grip.right_frac;
    double normal = up * up / (1 + slope * slope), along = whole > normal ? sqrt(whole - normal) : 0;
    double most = rigging->friction_frac * sqrt(normal);
    return along < most ? along / most : 1;
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

/* The grip that holds the bait where it was put: Newton's steps with Broyden's derivative, from the full grip, at which it
 * would move on by miss_m (back to where it was put and further), and the reach without any. */
static bf_status hold_fast(const bfi_rigging *rigging, const double put_m[2], bfi_grip *grip, double beyond_m,
                           double back_m, bfi_rest *rest) {
    double full = sqrt(grip->out_frac * grip->out_frac + grip->right_frac * grip->right_frac);
    double stiff = (beyond_m + back_m) / full, at[2] = {grip->out_frac, grip->right_frac};
    double jacobian[2][2] = {{stiff, 0}, {0, stiff}}, miss[2], step[2] = {0, 0};
    for (int i = 0; i < 2; i++) miss[i] = rest->balance.bait_m[i] - put_m[i];
    for (int n = 0; n < 60; n++) {
        if (sqrt(miss[0] * miss[0] + miss[1] * miss[1]) <= PLACE_M) {
            *grip = (bfi_grip){at[0], at[1]};
            return BF_OK;
        }
        double det = jacobian[0][0] * jacobian[1][1] - jacobian[0][1] * jacobian[1][0];
        if (!(det > 0)) return BF_E_NO_CONVERGE;
        step[0] = -(jacobian[1][1] * miss[0] - jacobian[0][1] * miss[1]) / det;
        step[1] = -(jacobian[0][0] * miss[1] - jacobian[1][0] * miss[0]) / det;
        double was[2] = {miss[0], miss[1]}, square = step[0] * step[0] + step[1] * step[1];
        for (int i = 0; i < 2; i++) at[i] += step[i];
        bf_status status =
            bfi_balance_of(rigging, bed_at(rigging, put_m[0]), (bfi_grip){at[0], at[1]}, &rest->balance);
        if (status) return status;
        for (int i = 0; i < 2; i++) miss[i] = rest->balance.bait_m[i] - put_m[i];
        for (int i = 0; i < 2; i++) {
            double expected = was[i] + jacobian[i][0] * step[0] + jacobian[i][1] * step[1];
            for (int k = 0; k < 2; k++) jacobian[i][k] += (miss[i] - expected) * step[k] / square;
        }
    }
    return BF_E_NO_CONVERGE;
}

static bf_status finish(bfi_rest *rest, const double bait_m[2], double used_frac) {
    rest->bait_m[0] = bait_m[0];
    rest->bait_m[1] = bait_m[1];
    rest->friction_used_frac = used_frac;
    return BF_OK;
}

bf_status bfi_rest_of(const bfi_rigging *rigging, const double *put_m, bfi_rest *rest) {
    double put[2] = {0, 0}, toward[2], beyond, out;
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

    /* Would it rest without being held sideways: clear of the bottom, or on a slack line where it was put? */
    out = put[0];
    status = balance_on_slope(rigging, (bfi_grip){0, 0}, &out, balance);
    if (status) return status;
    if (balance->contact == BF_HANGS) return finish(rest, balance->bait_m, 0);
    if (is_too_steep(rigging)) {
        status = balance_on_slope(rigging, sliding_grip(rigging), &out, balance);
        return status ? status : finish(rest, balance->bait_m, 1);
    }
    status = beyond_reach(rigging, balance, put, &beyond, toward);
    if (status) return status;
    if (beyond <= 0) {
        rest->slack_m = loose_m(rigging, balance->lies_m);
        return finish(rest, put, used_by(rigging, (bfi_grip){0, 0}));
    }

    /* Held with all the bottom has: does it still move on? */
    double most = most_grip(rigging, -toward[0]);
    bfi_grip grip = {-most * toward[0], -most * toward[1]};
    status = balance_on_slope(rigging, grip, &out, balance);
    if (status) return status;
    if (balance->contact == BF_HANGS) return finish(rest, balance->bait_m, 0);
    double onward = (balance->bait_m[0] - put[0]) * toward[0] + (balance->bait_m[1] - put[1]) * toward[1];
    if (onward >= 0) return finish(rest, balance->bait_m, 1);

    status = hold_fast(rigging, put, &grip, beyond, -onward, rest);
    return status ? status : finish(rest, put, used_by(rigging, grip));
}
