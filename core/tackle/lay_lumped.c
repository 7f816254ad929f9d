/* lay_lumped.c -- see lay_lumped.h. One step, force by force: what each part feels, and how that changes with the places.
 *
 * Unknown are the places at the end of the step and the tensions. A segment's tension is an unknown of its own, tied to
 * its length by
 *
 *     length = rest length (1 + T / EA - slack / T)
 *
 * so that line may go slack (T never below 0) and stiff line does not make the forces wild while Newton's method is still
 * on its way. The tensions are taken out of the linear system segment by segment, which leaves 3 x 3 blocks on three
 * diagonals. */
#include "core/tackle/lay_lumped.h"

#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"

/* The bottom gives by so much under a newton: a rig of 2 g sinks in 0.02 mm. */
#define BED_N_M 1000.0

/* Friction is full from about this speed on. */
#define CREEP_M_S 1e-4

#define MOST_NEWTON 25
#define PLACE_TOLERANCE_M 1e-6

/* At rest: steps of more than a second move it less than this. */
#define REST_M 1e-9
#define MOST_REST_TRIES 2000

typedef double vec[3];
typedef double mat[3][3];

static double dot(const vec a, const vec b) {
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

/* One step's linear system: row i is  low[i] d(i-1) + mid[i] d(i) + high[i] d(i+1) = right[i]. */
typedef struct system {
    mat low[BFI_LUMPED_NODES], mid[BFI_LUMPED_NODES], high[BFI_LUMPED_NODES];
    vec right[BFI_LUMPED_NODES];
} system;

static void add(mat to, double factor, mat m) {
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++) to[i][j] += factor * m[i][j];
}

/* Adds every (identity) + along (a a^T). */
static void add_along(mat to, double every, double along, const vec a) {
    for (int i = 0; i < 3; i++) {
        to[i][i] += every;
        for (int j = 0; j < 3; j++) to[i][j] += along * a[i] * a[j];
    }
}

/* Water, air, speeds ------------------------------------------------------------------------------------- */

static void flow_at(const bfi_stream *stream, double z_m, vec flow) {
    bfi_flow_at(stream, BFI_IN_AIR, z_m, flow);
    flow[2] = 0;
}

/* Mean over depths top .. bottom, all above the surface or all below. */
#define THIN_M 1e-3
static void mean_flow(const bfi_stream *stream, double top, double bottom, vec flow) {
    double to[2], from[2];
    if (top < 0 || bottom - top < THIN_M) {
        flow_at(stream, 0.5 * (top + bottom), flow);
        return;
    }
    bf_current_integral(&stream->current, bottom, &to[0], &to[1]);
    bf_current_integral(&stream->current, top, &from[0], &from[1]);
    for (int k = 0; k < 2; k++) flow[k] = (to[k] - from[k]) / (bottom - top);
    flow[2] = 0;
}

/* Part of a stretch from depth a to depth b that is under water. */
static double wet_part(double a, double b) {
    if (a > 0 && b > 0) return 1;
    if (a <= 0 && b <= 0) return 0;
    double under = a > 0 ? a : b, over = a > 0 ? b : a;
    return under / (under - over);
}

/* Line --------------------------------------------------------------------------------------------------- */

/* Slower than this, m/s, drag is as at this speed. */
#define CREEPS_M_S 1e-6

/* How fast the drag across grows with the speed, d ln force / d ln speed less 1: the viscous term of bfi_cylinder_drag goes
 * with Re^-0.75, the rest hardly. Only Newton's way to the answer depends on it. */
static double growth(double cd) {
    return cd > 0.9 ? 1 - 0.75 * (cd - 0.9) / cd : 1;
}

/* Drag of `length_m` of line in one fluid: force on it, and how it changes with its speed (damp, positive) and with its
 * direction (turn). t: its direction; w: the fluid's speed as the line sees it. */
static void drag_of_line(const bfi_stream *stream, const bfi_fluid *fluid, double diameter_m, double fixed_cd,
                         double length_m, const vec t, const vec w, vec force, mat damp, mat turn) {
    double along = dot(w, t), ahead = fabs(along), wn[3];
    for (int k = 0; k < 3; k++) wn[k] = w[k] - along * t[k];
    double across = sqrt(dot(wn, wn)), nu = fluid->pa_s / fluid->kg_m3, share = length_m * stream->drag_frac;
    double speed = across > CREEPS_M_S ? across : CREEPS_M_S;
    double cd = stream->is_fixed ? fixed_cd : bfi_cylinder_drag(speed * diameter_m / nu);
    double normal = share * 0.5 * fluid->kg_m3 * diameter_m * cd * speed, tangent = 0;
    double gain = (stream->is_fixed ? 1 : growth(cd)) * normal / (speed * speed);
    if (!stream->is_fixed)
        tangent =
            share * fluid->pa_s *
            bfi_cylinder_along(nu, stream->length_m, ahead > CREEPS_M_S ? ahead : CREEPS_M_S, diameter_m);
    for (int i = 0; i < 3; i++) {
        force[i] += normal * wn[i] + tangent * along * t[i];
        for (int j = 0; j < 3; j++) {
            double tt = t[i] * t[j], nn = gain * wn[i] * wn[j];
            damp[i][j] += normal * ((i == j) - tt) + nn + tangent * tt;
            turn[i][j] +=
                (tangent - normal) * (t[i] * w[j] + (i == j) * along) - gain * along * wn[i] * wn[j];
        }
    }
}

/* Force of one segment's water and air on it, shared by its two nodes. */
static void feel_flow(const bfi_lumped *c, system *s, int i, double dt_s, const vec t, double length_m,
                      double wet) {
    const bfi_segment *segment = &c->segment[i];
    const bfi_stream *stream = &c->stream;
    const bfi_cable *line = &segment->line;
    const double *a = c->x_m[i], *b = c->x_m[i + 1];
    double top = a[2] < b[2] ? a[2] : b[2], bottom = a[2] < b[2] ? b[2] : a[2];
    vec force = {0, 0, 0}, flow, w;
    mat damp = {{0}}, turn = {{0}};
    for (int is_wet = 0; is_wet < 2; is_wet++) {
        double part = is_wet ? wet : 1 - wet;
        if (!(part > 0)) continue;
        mean_flow(stream, is_wet && top < 0 ? 0 : top, !is_wet && bottom > 0 ? 0 : bottom, flow);
        for (int k = 0; k < 3; k++) w[k] = flow[k] - 0.5 * (c->v_m_s[i][k] + c->v_m_s[i + 1][k]);
        drag_of_line(stream, is_wet ? &stream->water : &stream->air, line->diameter_m,
                     is_wet ? line->fixed_water : line->fixed_air, part * segment->length_m, t, w, force,
                     damp, turn);
    }

    /* The direction turns with the ends: d t = (1 - t t^T) (d b - d a) / length. */
    double least = 0.2 * segment->length_m, span = length_m > least ? length_m : least;
    mat sway;
    for (int k = 0; k < 3; k++) {
        double along = dot(turn[k], t);
        for (int j = 0; j < 3; j++) sway[k][j] = (turn[k][j] - along * t[j]) / span;
    }
    for (int k = 0; k < 3; k++) {
        s->right[i][k] += 0.5 * force[k];
        s->right[i + 1][k] += 0.5 * force[k];
    }
    double slow = 0.25 / dt_s;
    add(s->mid[i], slow, damp);
    add(s->high[i], slow, damp);
    add(s->low[i + 1], slow, damp);
    add(s->mid[i + 1], slow, damp);
    add(s->mid[i], 0.5, sway);
    add(s->high[i], -0.5, sway);
    add(s->low[i + 1], 0.5, sway);
    add(s->mid[i + 1], -0.5, sway);
}

/* Strain at a tension, and what it gains per newton. */
static double strain_of(const bfi_lumped *c, int i) {
    return c->tension_n[i] / c->segment[i].line.stiffness_n - c->slack_n / c->tension_n[i];
}

static double strain_slope(const bfi_lumped *c, int i) {
    return 1 / c->segment[i].line.stiffness_n + c->slack_n / (c->tension_n[i] * c->tension_n[i]);
}

/* The tension of a strain: the positive root of strain_of. */
static double tension_of(const bfi_lumped *c, int i, double strain) {
    double stiff = c->segment[i].line.stiffness_n, part = c->slack_n * stiff, half = 0.5 * strain * stiff;
    double root = sqrt(half * half + part);
    return strain > 0 ? half + root : part / (root - half);
}

/* Direction of a segment and its length; straight down when its ends meet. */
static double direction(const bfi_lumped *c, int i, vec t) {
    for (int k = 0; k < 3; k++) t[k] = c->x_m[i + 1][k] - c->x_m[i][k];
    double length = sqrt(dot(t, t));
    if (!(length > 1e-9)) {
        t[0] = t[1] = 0;
        t[2] = 1;
        return 1e-9;
    }
    for (int k = 0; k < 3; k++) t[k] /= length;
    return length;
}

/* Tension of a segment. With d a, d b the moves of its ends, the law above gives
 * d T = (t (d b - d a) + short) stiffness, short = length - rest length (1 + strain(T)). */
static void feel_tension(const bfi_lumped *c, system *s, int i, const vec t, double length_m) {
    const bfi_segment *segment = &c->segment[i];
    double tension = c->tension_n[i], stiff = 1 / (segment->length_m * strain_slope(c, i));
    double excess = length_m - segment->length_m * (1 + strain_of(c, i));
    double pull = tension + stiff * excess, side = tension / length_m;
    mat hold = {{0}};
    add_along(hold, side, stiff - side, t);
    for (int k = 0; k < 3; k++) {
        s->right[i][k] += pull * t[k];
        s->right[i + 1][k] -= pull * t[k];
    }
    add(s->mid[i], 1, hold);
    add(s->high[i], -1, hold);
    add(s->low[i + 1], -1, hold);
    add(s->mid[i + 1], 1, hold);
}

static void feel_segments(const bfi_lumped *c, system *s, double dt_s, double mass[BFI_LUMPED_NODES]) {
    for (int i = 0; i + 1 < c->n; i++) {
        const bfi_segment *segment = &c->segment[i];
        vec t;
        double length = direction(c, i, t), wet = wet_part(c->x_m[i][2], c->x_m[i + 1][2]);
        double weight =
            segment->length_m * (wet * segment->line.water_n_m + (1 - wet) * segment->line.air_n_m);
        /* Water that goes along, as when a cylinder moves across itself: its own volume of it. */
        double volume =
            0.25 * BF_PI * segment->line.diameter_m * segment->line.diameter_m * segment->length_m;
        double moved = segment->mass_kg_m * segment->length_m + wet * volume * c->stream.water.kg_m3;
        for (int end = 0; end < 2; end++) {
            s->right[i + end][2] += 0.5 * weight;
            mass[i + end] += 0.5 * moved;
        }
        feel_flow(c, s, i, dt_s, t, length, wet);
        feel_tension(c, s, i, t, length);
    }
}

/* Lumps, float, bottom ----------------------------------------------------------------------------------- */

static void feel_lump(const bfi_lumped *c, system *s, int i, double dt_s, double *mass) {
    const bfi_lump *lump = &c->lump[i];
    double z_m = c->x_m[i][2] + lump->below_m;
    int is_wet = z_m > 0;
    *mass += lump->mass_kg + (is_wet ? lump->added_kg : 0);
    s->right[i][2] += is_wet ? lump->wet_n : lump->dry_n;
    if (!(lump->area_m2 > 0)) return;

    const bfi_fluid *fluid = is_wet ? &c->stream.water : &c->stream.air;
    double density = fluid->kg_m3, nu = fluid->pa_s / density;
    vec w;
    flow_at(&c->stream, z_m, w);
    for (int k = 0; k < 3; k++) w[k] -= c->v_m_s[i][k];
    double speed = sqrt(dot(w, w)), least = 0.01 * nu / lump->diameter_m;
    if (speed < least) speed = least;
    double k_drag = 0.5 * density * lump->area_m2 * speed *
                    bf_drag_coefficient(&lump->drag, speed * lump->diameter_m / nu);
    for (int k = 0; k < 3; k++) s->right[i][k] += k_drag * w[k];
    add_along(s->mid[i], k_drag / dt_s, 0.9 * k_drag / (dt_s * speed * speed), w);
}

static void feel_buoyancy(const bfi_lumped *c, system *s) {
    const bfi_buoy *buoy = &c->buoy;
    int i = buoy->node;
    if (!i) return;
    double under = c->x_m[i][2], full = buoy->lift_n + buoy->weight_n;
    double slope = under > 0 ? buoy->bristle_n_m : under > -buoy->body_long_m ? full / buoy->body_long_m : 0;
    double lift = under > -buoy->body_long_m ? full + slope * under : 0;
    s->right[i][2] += buoy->weight_n - lift;
    s->mid[i][2][2] += slope;
}

double bfi_lumped_under_m(const bfi_lumped *chain, int i) {
    const bf_floor *floor = &chain->floor;
    double under = chain->x_m[i][2] - floor->depth_m - floor->slope * chain->x_m[i][0];
    return under / sqrt(1 + floor->slope * floor->slope);
}

/* The bottom pushes back along its normal, and holds against sliding. */
static void feel_bottom(const bfi_lumped *c, system *s, int i, double dt_s) {
    double under = bfi_lumped_under_m(c, i), slope = c->floor.slope, unit = 1 / sqrt(1 + slope * slope);
    if (!(under > 0)) return;
    vec up = {slope * unit, 0, -unit}, slide;
    double push = BED_N_M * under, away = dot(c->v_m_s[i], up);
    for (int k = 0; k < 3; k++) slide[k] = c->v_m_s[i][k] - away * up[k];
    double grip = c->friction_frac * push / sqrt(dot(slide, slide) + CREEP_M_S * CREEP_M_S);
    for (int k = 0; k < 3; k++) s->right[i][k] += push * up[k] - grip * slide[k];
    add_along(s->mid[i], grip / dt_s, BED_N_M - grip / dt_s, up);
}

/* The linear system -------------------------------------------------------------------------------------- */

/* to = m^-1, by its cofactors. */
static void invert(mat m, mat to) {
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++) {
            int i1 = (j + 1) % 3, i2 = (j + 2) % 3, j1 = (i + 1) % 3, j2 = (i + 2) % 3;
            to[i][j] = m[i1][j1] * m[i2][j2] - m[i1][j2] * m[i2][j1];
        }
    double det = m[0][0] * to[0][0] + m[0][1] * to[1][0] + m[0][2] * to[2][0];
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++) to[i][j] /= det;
}

static void multiply(mat a, mat b, mat to) {
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++) to[i][j] = a[i][0] * b[0][j] + a[i][1] * b[1][j] + a[i][2] * b[2][j];
}

/* Solves rows first .. last in place; the answer is in right. */
static void solve(system *s, int first, int last) {
    mat inverse, up;
    for (int i = first; i <= last; i++) {
        vec right;
        invert(s->mid[i], inverse);
        for (int k = 0; k < 3; k++) right[k] = dot(inverse[k], s->right[i]);
        memcpy(s->right[i], right, sizeof right);
        if (i == last) break;
        multiply(inverse, s->high[i], up);
        memcpy(s->high[i], up, sizeof up);
        mat carried;
        multiply(s->low[i + 1], up, carried);
        add(s->mid[i + 1], -1, carried);
        for (int k = 0; k < 3; k++) s->right[i + 1][k] -= dot(s->low[i + 1][k], right);
    }
    for (int i = last - 1; i >= first; i--)
        for (int k = 0; k < 3; k++) s->right[i][k] -= dot(s->high[i][k], s->right[i + 1]);
}

/* Steps -------------------------------------------------------------------------------------------------- */

/* Forces less mass times acceleration at the places as they stand, and how they change with them. */
static void assemble(const bfi_lumped *c, const bfi_lumped *before, double dt_s, system *s) {
    double mass[BFI_LUMPED_NODES] = {0};
    memset(s, 0, sizeof *s);
    feel_segments(c, s, dt_s, mass);
    feel_buoyancy(c, s);
    for (int i = 1; i < c->n; i++) {
        feel_lump(c, s, i, dt_s, &mass[i]);
        feel_bottom(c, s, i, dt_s);
        for (int k = 0; k < 3; k++) {
            s->right[i][k] -= mass[i] * (c->v_m_s[i][k] - before->v_m_s[i][k]) / dt_s;
            s->mid[i][k][k] += mass[i] / (dt_s * dt_s);
        }
    }
}

/* The tension that belongs to each segment's length as the moves make it, to first order; no more than usual at a time. */
static void tighten(bfi_lumped *c, const system *s) {
    for (int i = 0; i + 1 < c->n; i++) {
        vec t;
        double length = direction(c, i, t) + dot(t, s->right[i + 1]) - dot(t, s->right[i]);
        double tension = tension_of(c, i, length / c->segment[i].length_m - 1);
        double most = c->tension_n[i] > c->usual_n ? 10 * c->tension_n[i] : c->usual_n;
        c->tension_n[i] = tension < most ? tension : most;
    }
}

/* Takes the moves as solved; returns the largest, NaN when one is. */
static double move(bfi_lumped *c, const bfi_lumped *before, double dt_s, const system *s) {
    double most = 0;
    tighten(c, s);
    for (int i = 1; i < c->n; i++)
        for (int k = 0; k < 3; k++) {
            double by = s->right[i][k];
            c->x_m[i][k] += by;
            c->v_m_s[i][k] = (c->x_m[i][k] - before->x_m[i][k]) / dt_s;
            if (!(fabs(by) <= most)) most = fabs(by);
        }
    return most;
}

double bfi_lumped_fastest_m_s(const bfi_lumped *chain) {
    double fastest = 0;
    for (int i = 1; i < chain->n; i++) {
        double speed = sqrt(dot(chain->v_m_s[i], chain->v_m_s[i]));
        if (speed > fastest) fastest = speed;
    }
    return fastest;
}

bf_status bfi_lumped_step(bfi_lumped *chain, const double tip_m[3], double dt_s, double *bend_m) {
    const bfi_lumped before = *chain;
    system s;
    int last = chain->n - 1 - (chain->is_end_held ? 1 : 0);
    for (int k = 0; k < 3; k++) {
        chain->x_m[0][k] = tip_m[k];
        chain->v_m_s[0][k] = (tip_m[k] - before.x_m[0][k]) / dt_s;
        for (int i = 1; i <= last; i++) chain->x_m[i][k] += dt_s * chain->v_m_s[i][k];
    }
    for (int newton = 0; newton < MOST_NEWTON; newton++) {
        assemble(chain, &before, dt_s, &s);
        solve(&s, 1, last);
        memset(s.right[0], 0, sizeof s.right[0]);
        if (chain->is_end_held) memset(s.right[chain->n - 1], 0, sizeof s.right[0]);
        double moved = move(chain, &before, dt_s, &s);
        if (!(moved < 10)) break;
        if (moved > PLACE_TOLERANCE_M) continue;
        *bend_m = 0;
        for (int i = 1; i <= last; i++)
            for (int k = 0; k < 3; k++) {
                double off = fabs(chain->v_m_s[i][k] - before.v_m_s[i][k]) * dt_s;
                if (off > *bend_m) *bend_m = off;
            }
        return BF_OK;
    }
    *chain = before;
    return BF_E_NO_CONVERGE;
}

bf_status bfi_lumped_rest(bfi_lumped *chain) {
    const vec tip = {chain->x_m[0][0], chain->x_m[0][1], chain->x_m[0][2]};
    double dt_s = 0.01, bend_m;
    for (int tries = 0; tries < MOST_REST_TRIES; tries++) {
        memset(chain->v_m_s, 0, sizeof chain->v_m_s); /* each step from rest: no swinging */
        bf_status status = bfi_lumped_step(chain, tip, dt_s, &bend_m);
        double fastest = bfi_lumped_fastest_m_s(chain);
        if (status == BF_OK && dt_s > 1 && fastest * dt_s < REST_M) return BF_OK;
        dt_s *= status ? 0.25 : 1.5;
    }
    return BF_E_NO_CONVERGE;
}
