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

/* Newton's steps: so many at most, none longer than this; one that wants to go so far is lost. They have come to an end
 * when the next would move nothing further than this, and change no speed by more. */
#define MOST_NEWTON 20
#define LONGEST_MOVE_M 0.1
#define LOST_M 10.0
#define PLACE_TOLERANCE_M 1e-5
#define SPEED_TOLERANCE_M_S 2e-4

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
#define JUST_UNDER_M 1e-9 /* where the flow is the water's, not the wind */
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

/* Things go under little by little over this height, so that one at the surface finds its balance there. */
#define SPLASH_M 0.01

/* Part of a stretch from depth a to depth b that is under water, the mean of how far each point of it is under; and how that
 * changes with a and b. */
typedef struct dip {
    double wet, by_a, by_b;
} dip;

static double sunk(double z_m, double tall_m) {
    double part = z_m / tall_m + 0.5;
    return part <= 0 ? 0 : part >= 1 ? 1 : part;
}

/* Integral of sunk from far above to z. */
static double sunk_m(double z_m, double tall_m) {
    double part = sunk(z_m, tall_m);
    return part < 1 ? 0.5 * tall_m * part * part : z_m;
}

static dip dip_of(double a, double b) {
    double fall = b - a, at_a = sunk(a, SPLASH_M), at_b = sunk(b, SPLASH_M);
    if (at_a == at_b && (at_a == 0 || at_a == 1)) return (dip){at_a, 0, 0};
    if (fabs(fall) < THIN_M) {
        double middle = sunk(0.5 * (a + b), SPLASH_M), slope = middle > 0 && middle < 1 ? 0.5 / SPLASH_M : 0;
        return (dip){middle, slope, slope};
    }
    double wet = (sunk_m(b, SPLASH_M) - sunk_m(a, SPLASH_M)) / fall;
    return (dip){wet, (wet - at_a) / fall, (at_b - wet) / fall};
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

/* What one segment feels: force, and how it changes with its speed, its direction, and the part of it that is under. */
typedef struct felt {
    vec force, by_wet;
    mat damp, turn;
} felt;

/* Weight and drag of a segment that runs along t. */
static felt feel_line(const bfi_lumped *c, int i, const vec t, double wet) {
    const bfi_segment *segment = &c->segment[i];
    const bfi_cable *line = &segment->line;
    const double *a = c->x_m[i], *b = c->x_m[i + 1];
    double top = a[2] < b[2] ? a[2] : b[2], bottom = a[2] < b[2] ? b[2] : a[2];
    felt sum = {{0}, {0}, {{0}}, {{0}}};
    for (int is_wet = 0; is_wet < 2; is_wet++) {
        double part = is_wet ? wet : 1 - wet;
        if (!(part > 0)) continue;
        felt one = {
            {0, 0, segment->length_m * (is_wet ? line->water_n_m : line->air_n_m)}, {0}, {{0}}, {{0}}};
        vec w;
        if (is_wet)
            mean_flow(&c->stream, top > JUST_UNDER_M ? top : JUST_UNDER_M,
                      bottom > JUST_UNDER_M ? bottom : JUST_UNDER_M, w);
        else
            mean_flow(&c->stream, top < 0 ? top : 0, bottom < 0 ? bottom : 0, w);
        for (int k = 0; k < 3; k++) w[k] -= 0.5 * (c->v_m_s[i][k] + c->v_m_s[i + 1][k]);
        drag_of_line(&c->stream, is_wet ? &c->stream.water : &c->stream.air, line->diameter_m,
                     is_wet ? line->fixed_water : line->fixed_air, segment->length_m, t, w, one.force,
                     one.damp, one.turn);
        for (int k = 0; k < 3; k++) {
            sum.force[k] += part * one.force[k];
            sum.by_wet[k] += is_wet ? one.force[k] : -one.force[k];
        }
        add(sum.damp, part, one.damp);
        add(sum.turn, part, one.turn);
    }
    return sum;
}

/* 0 below 0, 1 above 1, smooth between. */
static double smooth_step(double x) {
    return x <= 0 ? 0 : x >= 1 ? 1 : x * x * (3 - 2 * x);
}

/* Line shorter than this part of its length runs every way: the shorter, the less it has one direction. */
#define STRAIGHT_PART 0.7

/* Weight and drag of a segment, half to either node. */
static void feel_flow(const bfi_lumped *c, system *s, int i, double dt_s, const vec direct, double length_m,
                      const dip *under) {
    double straight = smooth_step(length_m / (STRAIGHT_PART * c->segment[i].length_m));
    double least = 0.2 * c->segment[i].length_m, span = length_m > least ? length_m : least;
    vec t = {straight * direct[0], straight * direct[1], straight * direct[2]};
    felt feels = feel_line(c, i, t, under->wet);

    /* Half of what the force loses when the upper, and the lower, end moves on: as the direction turns,
     * d t = (1 - t t^T) (d b - d a) / length; and as it goes under. */
    mat by_a, by_b;
    vec apart;
    for (int k = 0; k < 3; k++) apart[k] = c->v_m_s[i + 1][k] - c->v_m_s[i][k];
    for (int k = 0; k < 3; k++) {
        double along = dot(feels.turn[k], direct);
        for (int j = 0; j < 3; j++) {
            double sway = straight * (feels.turn[k][j] - along * direct[j]) / span;
            by_a[k][j] = 0.5 * (sway - (j == 2 ? under->by_a * feels.by_wet[k] : 0));
            by_b[k][j] = 0.5 * (-sway - (j == 2 ? under->by_b * feels.by_wet[k] : 0));
        }
        /* Each end drags by its own speed, not the middle's: a fold pushes nothing. */
        double own = 0.25 * dot(feels.damp[k], apart);
        s->right[i][k] += 0.5 * feels.force[k] + own;
        s->right[i + 1][k] += 0.5 * feels.force[k] - own;
    }
    add(s->mid[i], 0.5 / dt_s, feels.damp);
    add(s->mid[i + 1], 0.5 / dt_s, feels.damp);
    add(s->mid[i], 1, by_a);
    add(s->high[i], 1, by_b);
    add(s->low[i + 1], 1, by_a);
    add(s->mid[i + 1], 1, by_b);
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
        double diameter = segment->line.diameter_m;
        vec t;
        double length = direction(c, i, t);
        const dip under = dip_of(c->x_m[i][2], c->x_m[i + 1][2]);
        /* Water goes along as when a cylinder moves across itself: its own volume of it. */
        double moved_kg_m =
            segment->mass_kg_m + under.wet * BF_PI / 4 * diameter * diameter * c->stream.water.kg_m3;
        for (int end = 0; end < 2; end++) mass[i + end] += 0.5 * moved_kg_m * segment->length_m;
        feel_flow(c, s, i, dt_s, t, length, &under);
        feel_tension(c, s, i, t, length);
    }
}

/* Lumps, float, bottom ----------------------------------------------------------------------------------- */

/* A lump in one fluid: its drag is spread * w, w the fluid's speed as the lump sees it. */
static double drag_of_lump(const bfi_lump *lump, const bfi_fluid *fluid, const vec w) {
    double nu = fluid->pa_s / fluid->kg_m3, speed = sqrt(dot(w, w)), least = 0.01 * nu / lump->diameter_m;
    if (speed < least) speed = least;
    return 0.5 * fluid->kg_m3 * lump->area_m2 * speed *
           bf_drag_coefficient(&lump->drag, speed * lump->diameter_m / nu);
}

static void feel_lump(const bfi_lumped *c, system *s, int i, double dt_s, double *mass) {
    const bfi_lump *lump = &c->lump[i];
    if (!(lump->tall_m > 0)) return;
    double middle = c->x_m[i][2] + lump->below_m, tall = lump->tall_m > SPLASH_M ? lump->tall_m : SPLASH_M;
    double wet = sunk(middle, tall), per_m = wet > 0 && wet < 1 ? 1 / tall : 0;
    *mass += lump->mass_kg + wet * lump->added_kg;
    s->right[i][2] += wet * lump->wet_n + (1 - wet) * lump->dry_n;
    s->mid[i][2][2] += per_m * (lump->dry_n - lump->wet_n);
    for (int is_wet = 0; is_wet < 2 && lump->area_m2 > 0; is_wet++) {
        double part = is_wet ? wet : 1 - wet, more = is_wet ? per_m : -per_m;
        if (!(part > 0)) continue;
        vec w;
        flow_at(&c->stream, is_wet && middle <= 0 ? JUST_UNDER_M : !is_wet && middle > 0 ? 0 : middle, w);
        for (int k = 0; k < 3; k++) w[k] -= c->v_m_s[i][k];
        double full = drag_of_lump(lump, is_wet ? &c->stream.water : &c->stream.air, w);
        double drag = part * full, fast = dot(w, w) + 1e-12;
        for (int k = 0; k < 3; k++) {
            s->right[i][k] += drag * w[k];
            s->mid[i][k][2] -= more * full * w[k];
        }
        add_along(s->mid[i], drag / dt_s, 0.9 * drag / (dt_s * fast), w);
    }
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

/* The bottom pushes back along its normal, and holds against sliding. Of how the grip turns and ceases to grow with speed
 * half is told to Newton's method: all of it and it never finds where things stick, none and it creeps. */
static void feel_bottom(const bfi_lumped *c, system *s, int i, double dt_s) {
    double under = bfi_lumped_under_m(c, i), slope = c->floor.slope, unit = 1 / sqrt(1 + slope * slope);
    if (!(under > 0)) return;
    vec up = {slope * unit, 0, -unit}, slide;
    double push = BED_N_M * under, away = dot(c->v_m_s[i], up);
    for (int k = 0; k < 3; k++) slide[k] = c->v_m_s[i][k] - away * up[k];
    double fast = sqrt(dot(slide, slide) + CREEP_M_S * CREEP_M_S), grip = c->friction_frac * push / fast;
    for (int k = 0; k < 3; k++) {
        s->right[i][k] += push * up[k] - grip * slide[k];
        for (int j = 0; j < 3; j++)
            s->mid[i][k][j] -= grip / under * slide[k] * up[j]; /* more grip when pressed more */
    }
    add_along(s->mid[i], grip / dt_s, BED_N_M - grip / dt_s, up);
    add_along(s->mid[i], 0, -0.5 * grip / (dt_s * fast * fast), slide);
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
    size_t n = (size_t)c->n;
    memset(s->low, 0, n * sizeof s->low[0]);
    memset(s->mid, 0, n * sizeof s->mid[0]);
    memset(s->high, 0, n * sizeof s->high[0]);
    memset(s->right, 0, n * sizeof s->right[0]);
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

/* The tension that belongs to each segment's length as the moves make it, to first order; no more than usual at a time.
 * 1: one would be more. */
static int tighten(bfi_lumped *c, const system *s) {
    int is_more = 0;
    for (int i = 0; i + 1 < c->n; i++) {
        vec t;
        double length = direction(c, i, t) + dot(t, s->right[i + 1]) - dot(t, s->right[i]);
        double tension = tension_of(c, i, length / c->segment[i].length_m - 1);
        double most = c->tension_n[i] < 0.1 * c->usual_n ? c->usual_n : 10 * c->tension_n[i];
        is_more |= tension > most;
        c->tension_n[i] = tension < most ? tension : most;
    }
    return is_more;
}

/* The longest move along an axis; infinite when one is no number. */
static double longest(const system *s, int n) {
    double most = 0;
    for (int i = 1; i < n; i++)
        for (int k = 0; k < 3; k++) {
            double by = fabs(s->right[i][k]);
            if (by != by) return BF_INFINITY;
            if (by > most) most = by;
        }
    return most;
}

/* Shortens moves that are longer than may be believed, and halves those that are hardly shorter than the last: then Newton's
 * method goes to and fro about the answer. */
static void shorten(system *s, int n, double most_m, double last_m) {
    double factor = most_m > 0.7 * last_m ? 0.5 : 1;
    if (factor * most_m > LONGEST_MOVE_M) factor = LONGEST_MOVE_M / most_m;
    for (int i = 1; i < n && factor < 1; i++)
        for (int k = 0; k < 3; k++) s->right[i][k] *= factor;
}

/* Takes the moves as solved. */
static void move(bfi_lumped *c, const bfi_lumped *before, double dt_s, const system *s) {
    for (int i = 1; i < c->n; i++)
        for (int k = 0; k < 3; k++) {
            c->x_m[i][k] += s->right[i][k];
            c->v_m_s[i][k] = (c->x_m[i][k] - before->x_m[i][k]) / dt_s;
        }
}

double bfi_lumped_fastest_m_s(const bfi_lumped *chain) {
    double fastest = 0;
    for (int i = 1; i < chain->n; i++) {
        double speed = sqrt(dot(chain->v_m_s[i], chain->v_m_s[i]));
        if (speed > fastest) fastest = speed;
    }
    return fastest;
}

/* How far a step at dt_s bent off. */
static double bend(const bfi_lumped *c, const bfi_lumped *before, double dt_s) {
    double most = 0;
    for (int i = 1; i < c->n; i++)
        for (int k = 0; k < 3; k++) {
            double off = fabs(c->v_m_s[i][k] - before->v_m_s[i][k]) * dt_s;
            if (off > most) most = off;
        }
    return most;
}

/* How far the next of Newton's steps would move, the last two having moved so far: it is shorter again by as much, or more. */
static double next_move(double moved_m, double last_m) {
    return last_m < BF_INFINITY && moved_m < last_m ? moved_m * moved_m / last_m : moved_m;
}

/* Newton's steps from a first guess in *c; 1: they came to an end. */
static int solve_step(bfi_lumped *c, const bfi_lumped *before, double dt_s) {
    int last = c->n - 1 - (c->is_end_held ? 1 : 0);
    double last_moved = BF_INFINITY, fine = SPEED_TOLERANCE_M_S * dt_s;
    if (fine > PLACE_TOLERANCE_M) fine = PLACE_TOLERANCE_M;
    for (int newton = 0; newton < MOST_NEWTON; newton++) {
        system s;
        assemble(c, before, dt_s, &s);
        solve(&s, 1, last);
        memset(s.right[0], 0, sizeof s.right[0]);
        if (c->is_end_held) memset(s.right[c->n - 1], 0, sizeof s.right[0]);
        double moved = longest(&s, c->n);
        shorten(&s, c->n, moved, last_moved);
        int is_tight = tighten(c, &s);
        move(c, before, dt_s, &s);
        if (next_move(moved, last_moved) <= fine && !is_tight) return 1;
        if (!(moved < LOST_M)) return 0;
        last_moved = moved;
    }
    return 0;
}

bf_status bfi_lumped_step(bfi_lumped *lumped, const double tip_m[3], double dt_s, double most_bend_m,
                          double *bend_m) {
    const bfi_lumped before = *lumped;
    int last = lumped->n - 1 - (lumped->is_end_held ? 1 : 0);
    for (int k = 0; k < 3; k++) {
        lumped->x_m[0][k] = tip_m[k];
        lumped->v_m_s[0][k] = (tip_m[k] - before.x_m[0][k]) / dt_s;
        for (int i = 1; i <= last; i++) lumped->x_m[i][k] += dt_s * lumped->v_m_s[i][k];
    }
    *bend_m = solve_step(lumped, &before, dt_s) ? bend(lumped, &before, dt_s) : BF_INFINITY;
    if (*bend_m <= most_bend_m && *bend_m < BF_INFINITY) return BF_OK;
    *lumped = before;
    return BF_E_NO_CONVERGE;
}

bf_status bfi_lumped_rest(bfi_lumped *chain) {
    const vec tip = {chain->x_m[0][0], chain->x_m[0][1], chain->x_m[0][2]};
    double dt_s = 0.01, bend_m;
    for (int tries = 0; tries < MOST_REST_TRIES; tries++) {
        memset(chain->v_m_s, 0, sizeof chain->v_m_s); /* each step from rest: no swinging */
        bf_status status = bfi_lumped_step(chain, tip, dt_s, BF_INFINITY, &bend_m);
        double fastest = bfi_lumped_fastest_m_s(chain);
        if (status == BF_OK && dt_s > 1 && fastest * dt_s < REST_M) return BF_OK;
        dt_s *= status ? 0.25 : 1.5;
    }
    return BF_E_NO_CONVERGE;
}
