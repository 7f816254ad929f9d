/* descent.c -- the fall of pieces to the bottom; see fall.h.
 *
 * Method. In the units of terminal.h every piece obeys dV/dt = down - f(|V - U|)(V - U). While it starts, while it
 * forgets how it was thrown and while the skin of the current shears past it, that is integrated by the classical
 * Runge-Kutta rule of order 4 in a few steps whose length follows the piece's own response time and the skin
 * (`step`). As soon as what is left is small (`unsettled` below 1) the rest is written down in closed form
 * (`closed_fall`): the piece sinks at terminal speed and lags the current by a small slip. One piece needs 4 to 15
 * steps. Pieces are worked on LANES at a time so that the compiler can use vector registers; no lane sees another,
 * so the answer for a piece does not depend on its neighbours. */
#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"
#include "core/feed/terminal.h"

#define LANES 8

/* Lengths of a step: in response times of the piece; in e-foldings of the skin when it moves as fast as the
 * piece sinks. */
#define STEP_RESPONSE 0.6
#define STEP_BRAKE 3.0
#define STEP_SKIN 0.4
#define MOST_STEPS 4000

/* What may be left for the closed form, whose errors are of the second order in each: difference from terminal
 * speed, from the settled sideways speed, the slip, and the skin not followed by the slip's series. */
#define LEFT_SINK 0.07
#define LEFT_SIDE 0.2
#define LEFT_SLIP 0.17
#define LEFT_SKIN 0.004

/* These hold for a piece whose start takes LEFT_S and LEFT_M; of a larger one, a faster current or a slope that makes
 * more of it, less may be left. */
#define LEFT_S 0.1
#define LEFT_M 0.015

/* A skin steeper than this (in slip lengths) is left out of the slip's series. */
#define SERIES_STEEPNESS 0.5

/* Where the pieces are and how they move, or the rates of change of all that. */
typedef struct motion {
    double x[LANES], y[LANES], z[LANES], u[LANES], v[LANES], w[LANES];
} motion;

/* Pieces side by side, each in its own units of speed, time and length (terminal.h). */
typedef struct lanes {
    double a[LANES], b[LANES], c[LANES], d[LANES];     /* drag                                             */
    double p1[LANES], p2[LANES], q1[LANES], q2[LANES]; /* its power, see drag_term                         */
    double x0[LANES], x1[LANES], x2[LANES], x3[LANES]; /* current out: polynomial in depth                 */
    double y0[LANES], y1[LANES], y2[LANES], y3[LANES]; /* current to the right                             */
    double skin_x[LANES], skin_y[LANES], skin[LANES];  /* skin drift and its size                          */
    double steep[LANES], bed[LANES];                   /* 1 / e-folding depth; depth of the current        */
    double floor[LANES], slope[LANES];                 /* bottom at floor + slope x                        */
    double give[LANES];                                /* a slip slows the sinking by give slip^2          */
    double care2[LANES];                               /* by how much less than usual may be left, squared */
    double is_moving[LANES];                           /* 1 while integrated, else 0                       */
    motion now, before;                                /* at the ends of the last step                     */
    double fade[LANES], t[LANES];                      /* of the skin at the piece's depth; time           */
    double step[LANES];
    double above[LANES];     /* height above the bottom                          */
    double unsettled[LANES]; /* below 1: the closed form may take over           */
} lanes;

static inline double least(double p, double q) {
    return p < q ? p : q;
}

static inline double most(double p, double q) {
    return p > q ? p : q;
}

/* e^-s for s >= 0: within 1e-6 up to s = 1, 1e-3 up to 4, always between 0 and 1. */
static inline double faded(double s) {
    double q = 0.125 * s, e = 1.0 + q * (1.0 + q * (0.5 + q * (1.0 / 6.0 + q * (1.0 / 24.0))));
    e *= e;
    e *= e;
    return 1.0 / (e * e);
}

/* The drag term f(x) at x^2 = square. With p the eighth root of x the power x^n is p^5 p^(8n - 5), and the
 * last factor is the [2/2] Pade approximant about 1: for both drag laws within 4e-6 for x in 0.1 .. 10,
 * 1.2e-4 in 0.01 .. 100, 1.4e-3 in 1e-3 .. 2000. */
static inline double drag_term(const lanes *l, int i, double square) {
    double x = sqrt(square), half = sqrt(x), eighth = sqrt(sqrt(half)), s = eighth - 1.0;
    double over = 1.0 + s * (l->p1[i] + s * l->p2[i]), under = 1.0 + s * (l->q1[i] + s * l->q2[i]);
    double beyond = x + l->d[i];
    return l->a[i] +
           (l->b[i] * (half * eighth) * over * beyond + l->c[i] * square * under) / (under * beyond);
}

static inline double current_out(const lanes *l, int i, double z) {
    return l->x0[i] + z * (l->x1[i] + z * (l->x2[i] + z * l->x3[i]));
}

static inline double current_right(const lanes *l, int i, double z) {
    return l->y0[i] + z * (l->y1[i] + z * (l->y2[i] + z * l->y3[i]));
}

/* Rates of change of `at`, which the pieces reach from l->now within a step, and the drag terms there. */
static void rates(const lanes *restrict l, const motion *restrict at, motion *restrict rate,
                  double *restrict drag) {
    for (int i = 0; i < LANES; i++) {
        double z = least(at->z[i], l->bed[i]), top = least(l->now.z[i], l->bed[i]);
        double fade = l->fade[i] * faded(l->steep[i] * (z - top));
        double u = at->u[i] - (current_out(l, i, z) + l->skin_x[i] * fade);
        double v = at->v[i] - (current_right(l, i, z) + l->skin_y[i] * fade), w = at->w[i];
        drag[i] = drag_term(l, i, u * u + v * v + w * w);
        rate->x[i] = at->u[i];
        rate->y[i] = at->v[i];
        rate->z[i] = w;
        rate->u[i] = -drag[i] * u;
        rate->v[i] = -drag[i] * v;
        rate->w[i] = 1.0 - drag[i] * w;
    }
}

/* Length of the next step: shorter than usual while drag brakes (a smooth maximum of drag - 1 and 0); in the skin, the
 * depth in which it fades by a set part, allowing for a piece still gaining speed, longer as the skin matters less and
 * shorter where it is faster than the piece sinks. Lanes that rest take a step of length 0. */
static void choose_step(lanes *restrict l, const double *restrict drag) {
    for (int i = 0; i < LANES; i++) {
        double excess = drag[i] - 1.0, brake = 0.5 * (excess + sqrt(excess * excess + 0.01)), w = l->now.w[i];
        double root = sqrt(sqrt(l->skin[i] * l->fade[i] + 1e-12));
        double fraction = STEP_SKIN / (root * most(root, 1.0) * (l->steep[i] + 1e-9));
        double in_skin = 2.0 * fraction / (w + sqrt(w * w + 2.0 * fraction));
        l->step[i] = l->is_moving[i] * least(STEP_RESPONSE / (1.0 + STEP_BRAKE * brake), in_skin);
    }
}

/* to = l->now + part of a step at `rate`. */
static void moved(const lanes *restrict l, double part, const motion *restrict rate, motion *restrict to) {
    for (int i = 0; i < LANES; i++) {
        double h = part * l->step[i];
        to->x[i] = l->now.x[i] + h * rate->x[i];
        to->y[i] = l->now.y[i] + h * rate->y[i];
        to->z[i] = l->now.z[i] + h * rate->z[i];
        to->u[i] = l->now.u[i] + h * rate->u[i];
        to->v[i] = l->now.v[i] + h * rate->v[i];
        to->w[i] = l->now.w[i] + h * rate->w[i];
    }
}

static void add(motion *restrict sum, double weight, const motion *restrict rate) {
    for (int i = 0; i < LANES; i++) {
        sum->x[i] += weight * rate->x[i];
        sum->y[i] += weight * rate->y[i];
        sum->z[i] += weight * rate->z[i];
        sum->u[i] += weight * rate->u[i];
        sum->v[i] += weight * rate->v[i];
        sum->w[i] += weight * rate->w[i];
    }
}

/* One Runge-Kutta step of every lane. */
static void advance(lanes *l) {
    motion mean, rate, at;
    double drag[LANES];
    rates(l, &l->now, &mean, drag);
    choose_step(l, drag);
    moved(l, 0.5, &mean, &at);
    rates(l, &at, &rate, drag);
    add(&mean, 2.0, &rate);
    moved(l, 0.5, &rate, &at);
    rates(l, &at, &rate, drag);
    add(&mean, 2.0, &rate);
    moved(l, 1.0, &rate, &at);
    rates(l, &at, &rate, drag);
    add(&mean, 1.0, &rate);

    moved(l, 1.0 / 6.0, &mean, &at);
    for (int i = 0; i < LANES; i++) {
        l->fade[i] *= faded(l->steep[i] * (least(at.z[i], l->bed[i]) - least(l->now.z[i], l->bed[i])));
        l->t[i] += l->step[i];
    }
    l->before = l->now;
    l->now = at;
}

/* Slip that the polynomial part of the current gives a settled piece at depth z: the current's shear there. */
static inline double shear_out(const lanes *l, int i, double z) {
    return l->x1[i] + z * (2.0 * l->x2[i] + z * 3.0 * l->x3[i]);
}

static inline double shear_right(const lanes *l, int i, double z) {
    return l->y1[i] + z * (2.0 * l->y2[i] + z * 3.0 * l->y3[i]);
}

static inline double poly_slip2(const lanes *l, int i, double z) {
    double out = shear_out(l, i, z), right = shear_right(l, i, z);
    return out * out + right * right;
}

/* How far each piece is above the bottom, and from what the closed form needs. The slip counts where it will be
 * largest: here, with the skin's, half way down or at the current's bed. */
static void look(lanes *l) {
    for (int i = 0; i < LANES; i++) {
        double z = least(l->now.z[i], l->bed[i]), steep = l->steep[i], missed = steep / (1.0 + steep);
        double skin_x = l->skin_x[i] * l->fade[i], skin_y = l->skin_y[i] * l->fade[i];
        double slip_x = shear_out(l, i, z) - steep * skin_x, slip_y = shear_right(l, i, z) - steep * skin_y;
        /* Below its bed the current no longer shears. */
        double shears = l->now.z[i] < l->bed[i] ? 1.0 : 0.0;
        slip_x *= shears;
        slip_y *= shears;
        double side_x = l->now.u[i] - (current_out(l, i, z) + skin_x - slip_x);
        double side_y = l->now.v[i] - (current_right(l, i, z) + skin_y - slip_y);
        double here2 = slip_x * slip_x + slip_y * slip_y, side2 = side_x * side_x + side_y * side_y;
        double slip2 =
            most(here2, most(poly_slip2(l, i, 0.5 * (z + l->bed[i])), poly_slip2(l, i, l->bed[i])));
        slip2 *= shears;
        double sink = l->now.w[i] - 1.0 + l->give[i] * here2;
        double left = most(side2 * (1.0 / (LEFT_SIDE * LEFT_SIDE)), slip2 * (1.0 / (LEFT_SLIP * LEFT_SLIP)));
        left = most(left, sink * sink * (1.0 / (LEFT_SINK * LEFT_SINK)));
        left = most(left, shears * l->skin[i] * l->fade[i] * missed * missed * (1.0 / LEFT_SKIN));
        l->unsettled[i] = l->care2[i] * left;
        l->above[i] = l->floor[i] + l->slope[i] * l->now.x[i] - l->now.z[i];
    }
}

/* Closed form -------------------------------------------------------------------------------------------- */

/* One component of the current. */
typedef struct profile {
    double c[4];  /* polynomial in depth    */
    double skin;  /* at the surface         */
    double steep; /* 1 / its e-folding depth */
} profile;

/* A piece when the closed form takes over, in its own units. Depths end at the bed of the current; what is sunk
 * below it counts from `below`. */
typedef struct settled {
    profile out, right;
    double x, y, z, t, u, v;
    double fade;           /* of the skin at z                              */
    double bed, below;     /* the current's depth; the deeper of it and z   */
    double sink;           /* sinking speed less the settled one            */
    double side_x, side_y; /* sideways speed less the settled one           */
    double give, relax;    /* slowing by a slip; rate at which `sink` fades */
} settled;

static double poly(const profile *p, double z) {
    return p->c[0] + z * (p->c[1] + z * (p->c[2] + z * p->c[3]));
}

static double poly_shear(const profile *p, double z) {
    return p->c[1] + z * (2.0 * p->c[2] + z * 3.0 * p->c[3]);
}

static double poly_bend(const profile *p, double z) {
    return 2.0 * p->c[2] + z * 6.0 * p->c[3];
}

static double poly_integral(const profile *p, double z) {
    return z * (p->c[0] + z * (p->c[1] / 2.0 + z * (p->c[2] / 3.0 + z * (p->c[3] / 4.0))));
}

/* The steepness of the skin as the slip knows it: 0, left out, when its series would not converge. */
static double slipping_steep(const profile *p) {
    return p->steep < SERIES_STEEPNESS ? p->steep : 0;
}

/* Sideways speed of a settled piece, which lags the water: sinking at speed 1 through U(z) it is U - U' + U'' - ... */
static double settled_side(const profile *p, double z, double fade) {
    double a = slipping_steep(p);
    return poly(p, z) - poly_shear(p, z) + poly_bend(p, z) + p->skin * fade * (1.0 + a + a * a);
}

static double slip_squared(const profile *p, double z, double fade) {
    double slip = poly_shear(p, z) - slipping_steep(p) * p->skin * fade;
    return slip * slip;
}

/* What the slip costs between the take-over and depth z2: time, because drag grows with the whole relative speed, and
 * the travel of the water in that time. Gauss's rule with three points twice: over depth for what only the polynomial
 * causes, over the fade of the skin for what the skin has a share in. */
typedef struct slowing {
    double t, x, y;
} slowing;

static slowing slowing_until(const settled *s, double z2, double fade2) {
    static const double at[3] = {0.11270166537925831, 0.5, 0.88729833462074169};
    static const double weight[3] = {5.0 / 18.0, 8.0 / 18.0, 5.0 / 18.0};
    double skin_x = s->out.skin, skin_y = s->right.skin, steep = slipping_steep(&s->out);
    slowing sum = {0, 0, 0};
    for (int k = 0; k < 3; k++) {
        double z = s->z + at[k] * (z2 - s->z), out = poly_shear(&s->out, z), right = poly_shear(&s->right, z);
        double t = s->give * weight[k] * (z2 - s->z) * (out * out + right * right);
        sum.t += t;
        sum.x += t * poly(&s->out, z);
        sum.y += t * poly(&s->right, z);
    }
    for (int k = 0; k < 3 && steep > 0 && s->fade > 0; k++) {
        double fade = s->fade + at[k] * (fade2 - s->fade), z = s->z + bf_log(s->fade / fade) / steep;
        double out = poly_shear(&s->out, z), right = poly_shear(&s->right, z);
        double part = s->give * weight[k] * (s->fade - fade2),
               even = part * (out * out + right * right) / steep;
        double t = part * (steep * fade * (skin_x * skin_x + skin_y * skin_y) -
                           2.0 * (skin_x * out + skin_y * right));
        sum.t += t;
        sum.x += t * (poly(&s->out, z) + skin_x * fade) + even * skin_x;
        sum.y += t * (poly(&s->right, z) + skin_y * fade) + even * skin_y;
    }
    return sum;
}

/* The integral of the current over depth from the take-over to z2. */
static double passed(const profile *p, const settled *s, double z2, double fade2) {
    double sum = poly_integral(p, z2) - poly_integral(p, s->z);
    return p->steep > 0 ? sum + p->skin * (s->fade - fade2) / p->steep : sum;
}

/* Position and time at depth z, and the outward speed there.
 * Because du/dt = -(u - U), a piece travels as far as the water around it less the change of its own speed. */
typedef struct place {
    double x, y, t, u;
} place;

static place closed_fall(const settled *s, double z) {
    double z2 = least(z, s->bed), depth = z2 - s->z;
    double fade2 = s->fade * bf_exp(-s->out.steep * depth), left = bf_exp(-depth);
    double ahead = s->sink * (1.0 - bf_exp(-s->relax * depth)) / s->relax;
    slowing slow = slowing_until(s, z2, fade2);
    double u = settled_side(&s->out, z2, fade2) + s->side_x * left;
    double v = settled_side(&s->right, z2, fade2) + s->side_y * left;
    double water_x = poly(&s->out, s->z) + s->out.skin * s->fade;
    double water_y = poly(&s->right, s->z) + s->right.skin * s->fade;
    place at = {.x = s->x + passed(&s->out, s, z2, fade2) + slow.x - water_x * ahead - (u - s->u),
                .y = s->y + passed(&s->right, s, z2, fade2) + slow.y - water_y * ahead - (v - s->v),
                .t = s->t + depth + slow.t - ahead,
                .u = u};
    if (z <= s->below) return at;

    /* Below the bed of the current the water goes on as it moves there, and the slip dies away. */
    double deeper = z - s->below, kept = bf_exp(-deeper);
    double bed_x = poly(&s->out, s->bed) + s->out.skin * fade2;
    double bed_y = poly(&s->right, s->bed) + s->right.skin * fade2;
    at.x += bed_x * deeper + (u - bed_x) * (1.0 - kept);
    at.y += bed_y * deeper + (v - bed_y) * (1.0 - kept);
    at.t += deeper;
    at.u = bed_x + (u - bed_x) * kept;
    return at;
}

/* The plane bottom and how far a piece at depth z has got below it. */
typedef struct plane {
    double depth, slope;
} plane;

static double gap(const settled *s, plane bottom, double z) {
    return z - bottom.depth - bottom.slope * closed_fall(s, z).x;
}

/* Closes a bracket (above at z1, at or below the bottom at z2) by halving. */
static double halved(const settled *s, plane bottom, double z1, double z2) {
    for (int i = 0; i < 50; i++) {
        double middle = 0.5 * (z1 + z2);
        if (gap(s, bottom, middle) < 0)
            z1 = middle;
        else
            z2 = middle;
    }
    return z2;
}

/* First depth at which a piece meets a bottom that may fall away about as fast as it sinks; NaN when it never does.
 * Looks at 64 depths down to the current's bed; below, where nothing changes any more, the path is straight. */
static double searched_depth(const settled *s, plane bottom) {
    double above = s->z, stride = (s->bed - s->z) / 64.0;
    for (int i = 1; i <= 64; i++) {
        double z = s->z + i * stride;
        if (stride > 0 && gap(s, bottom, z) >= 0) return halved(s, bottom, above, z);
        above = z;
    }
    double straight = s->below + 40.0, left = -gap(s, bottom, straight);
    if (left <= 0) return halved(s, bottom, above, straight);
    double closing = 1.0 - bottom.slope * closed_fall(s, straight).u;
    return closing > 1e-3 ? straight + left / closing : BF_NAN;
}

/* The same when the current is too slow for that: the gap grows nearly evenly all the way, and two steps of Newton's
 * rule leave less than a micrometre. */
static double landing_depth(const settled *s, plane bottom) {
    double fastest = fabs(s->out.skin) * s->fade + fabs(s->side_x), power = 1.0;
    for (int k = 0; k < 4; k++) {
        fastest += fabs(s->out.c[k]) * power;
        power *= s->bed;
    }
    if (bottom.slope == 0) return bottom.depth;
    if (fabs(bottom.slope) * fastest > 0.5) return searched_depth(s, bottom);
    double z = bottom.depth + bottom.slope * s->x;
    for (int i = 0; i < 2; i++) {
        place at = closed_fall(s, z);
        z -= (z - bottom.depth - bottom.slope * at.x) / (1.0 - bottom.slope * at.u);
    }
    return z;
}

/* A lane's piece as the closed form takes it over. */
static settled settle(const lanes *l, int i) {
    settled s = {.out = {{l->x0[i], l->x1[i], l->x2[i], l->x3[i]}, l->skin_x[i], l->steep[i]},
                 .right = {{l->y0[i], l->y1[i], l->y2[i], l->y3[i]}, l->skin_y[i], l->steep[i]},
                 .x = l->now.x[i],
                 .y = l->now.y[i],
                 .z = least(l->now.z[i], l->bed[i]),
                 .t = l->t[i],
                 .u = l->now.u[i],
                 .v = l->now.v[i],
                 .bed = l->bed[i],
                 .below = most(l->now.z[i], l->bed[i]),
                 .give = l->give[i],
                 .relax = 1.0 / (1.0 - 2.0 * l->give[i])};
    s.fade = bf_exp(-s.out.steep * s.z);
    s.side_x = s.u - settled_side(&s.out, s.z, s.fade);
    s.side_y = s.v - settled_side(&s.right, s.z, s.fade);
    s.sink = l->now.w[i] - 1.0 +
             s.give * (slip_squared(&s.out, s.z, s.fade) + slip_squared(&s.right, s.z, s.fade));
    return s;
}

/* Landings ----------------------------------------------------------------------------------------------- */

/* Position at fraction f of the last step, by the cubic through both ends and their speeds. */
static double between(double f, double from, double to, double from_travel, double to_travel) {
    double g = 1.0 - f;
    return g * g * ((1.0 + 2.0 * f) * from + f * from_travel) +
           f * f * ((1.0 + 2.0 * g) * to - g * to_travel);
}

typedef struct spot {
    double x, y, z;
} spot;

static spot within_step(const lanes *l, int i, double f) {
    double h = l->step[i];
    return (spot){between(f, l->before.x[i], l->now.x[i], h * l->before.u[i], h * l->now.u[i]),
                  between(f, l->before.y[i], l->now.y[i], h * l->before.v[i], h * l->now.v[i]),
                  between(f, l->before.z[i], l->now.z[i], h * l->before.w[i], h * l->now.w[i])};
}

/* The landing of a piece that passed the bottom in its last step. */
static bf_landing landed_in_step(const lanes *l, int i) {
    double early = 0, late = 1;
    for (int k = 0; k < 40; k++) {
        double f = 0.5 * (early + late);
        spot at = within_step(l, i, f);
        if (at.z < l->floor[i] + l->slope[i] * at.x)
            early = f;
        else
            late = f;
    }
    spot at = within_step(l, i, late);
    return (bf_landing){at.x, at.y, at.z, l->t[i] - (1.0 - late) * l->step[i], 1.0};
}

static bf_landing landed_settled(const lanes *l, int i) {
    settled s = settle(l, i);
    double z = landing_depth(&s, (plane){l->floor[i], l->slope[i]});
    place at = closed_fall(&s, z);
    return (bf_landing){at.x, at.y, z, at.t, 1.0};
}

/* What all pieces of a call share. */
static bf_status check_water(const bf_current *current, const bf_floor *floor) {
    bf_status status = bfi_first_wrong(BF_OK, floor->depth_m, 0.05, 20);
    status = bfi_first_wrong(status, floor->slope, -1, 1);
    status = bfi_first_wrong(status, current->depth_m, 0.01, 100);
    status = bfi_first_wrong(status, current->skin_m, 1e-4, 100);
    status = bfi_first_wrong(status, current->skin_x_m_s, -5, 5);
    status = bfi_first_wrong(status, current->skin_y_m_s, -5, 5);
    for (int k = 0; k < 4; k++) {
        status = bfi_first_wrong(status, current->coef_x_m_s[k], -50, 50);
        status = bfi_first_wrong(status, current->coef_y_m_s[k], -50, 50);
    }
    return status;
}

static bf_status check_entry(const bf_entry *entry, const bf_floor *floor) {
    bf_status status = bfi_first_wrong(BF_OK, entry->x_m, -1000, 1000);
    status = bfi_first_wrong(status, entry->y_m, -1000, 1000);
    status = bfi_first_wrong(status, entry->u_m_s, -60, 60);
    status = bfi_first_wrong(status, entry->v_m_s, -60, 60);
    status = bfi_first_wrong(status, entry->w_m_s, 0, 60);
    if (status) return status;
    return bfi_first_wrong(status, entry->z_m, 0, floor->depth_m + floor->slope * entry->x_m);
}

/* Puts a piece into a lane, in its own units. */
static void load(lanes *l, int i, const bfi_terminal *own, const bf_entry *entry, const bf_current *current,
                 const bf_floor *floor) {
    double per_m = 1.0 / own->length_m, per_m_s = 1.0 / own->speed_m_s, bend = 8.0 * own->n - 5.0;
    l->a[i] = own->a;
    l->b[i] = own->b;
    l->c[i] = own->c;
    l->d[i] = own->d;
    l->p1[i] = (2.0 + bend) / 2.0;
    l->p2[i] = (2.0 + bend) * (1.0 + bend) / 12.0;
    l->q1[i] = (2.0 - bend) / 2.0;
    l->q2[i] = (2.0 - bend) * (1.0 - bend) / 12.0;

    /* The settled balance f(x) w = 1 with x^2 = w^2 + slip^2 gives w = 1 - give slip^2, give = f' / (2 + 2 f'). */
    double beyond = 1.0 + own->d;
    double rise = own->n * own->b + own->c * (1.0 + 2.0 * own->d) / (beyond * beyond);
    l->give[i] = rise / (2.0 + 2.0 * rise);

    double scale = 1.0 / (current->depth_m * per_m), skin_x = current->skin_x_m_s,
           skin_y = current->skin_y_m_s;
    l->x0[i] = current->coef_x_m_s[0] * per_m_s;
    l->x1[i] = current->coef_x_m_s[1] * per_m_s * scale;
    l->x2[i] = current->coef_x_m_s[2] * per_m_s * scale * scale;
    l->x3[i] = current->coef_x_m_s[3] * per_m_s * scale * scale * scale;
    l->y0[i] = current->coef_y_m_s[0] * per_m_s;
    l->y1[i] = current->coef_y_m_s[1] * per_m_s * scale;
    l->y2[i] = current->coef_y_m_s[2] * per_m_s * scale * scale;
    l->y3[i] = current->coef_y_m_s[3] * per_m_s * scale * scale * scale;
    l->skin_x[i] = skin_x * per_m_s;
    l->skin_y[i] = skin_y * per_m_s;
    l->skin[i] = sqrt(skin_x * skin_x + skin_y * skin_y) * per_m_s;
    double water = l->skin[i] + sqrt(l->x0[i] * l->x0[i] + l->y0[i] * l->y0[i]);
    l->care2[i] = most(1.0, most(own->start_s / LEFT_S, own->length_m * (1.0 + water) / LEFT_M) *
                                (1.0 + fabs(floor->slope) * water));
    l->steep[i] = l->skin[i] > 0 ? own->length_m / current->skin_m : 0;
    l->bed[i] = current->depth_m * per_m;
    l->floor[i] = floor->depth_m * per_m;
    l->slope[i] = floor->slope;

    l->now.x[i] = entry->x_m * per_m;
    l->now.y[i] = entry->y_m * per_m;
    l->now.z[i] = entry->z_m * per_m;
    l->now.u[i] = entry->u_m_s * per_m_s;
    l->now.v[i] = entry->v_m_s * per_m_s;
    l->now.w[i] = entry->w_m_s * per_m_s;
    l->t[i] = 0;
    l->fade[i] = bf_exp(-l->steep[i] * least(l->now.z[i], l->bed[i]));
    l->is_moving[i] = 1;
}

static const bf_landing no_landing = {BF_NAN, BF_NAN, BF_NAN, BF_NAN, BF_NAN};

/* One piece in a lane: which it is, its units, its steps so far. */
typedef struct ticket {
    size_t piece;
    bfi_terminal own;
    int n_steps;
} ticket;

/* Takes a landing out of a lane's units. */
static bf_status deliver(bf_landing in_lane, const bfi_terminal *own, bf_landing *landing) {
    if (in_lane.z_m - in_lane.z_m != 0) {
        *landing = no_landing;
        return BF_E_MODEL_RANGE;
    }
    *landing = (bf_landing){in_lane.x_m * own->length_m, in_lane.y_m * own->length_m,
                            in_lane.z_m * own->length_m, in_lane.time_s * own->start_s, own->speed_m_s};
    return BF_OK;
}

void bf_fall_land_many(const bf_piece *pieces, const bf_entry *entries, size_t n, const bf_current *current,
                       const bf_floor *floor, bf_status *status, bf_landing *landings) {
    lanes l;
    ticket in_lane[LANES];
    bf_status shared = check_water(current, floor);
    size_t next = 0;
    int n_moving = 0;
    memset(&l, 0, sizeof l);

    for (;;) {
        /* Every free lane takes the next piece that can fall. */
        for (int i = 0; i < LANES && next < n; i++) {
            while (l.is_moving[i] == 0 && next < n) {
                ticket *mine = &in_lane[i];
                *mine = (ticket){.piece = next++};
                bf_status found = shared ? shared : check_entry(&entries[mine->piece], floor);
                if (!found) found = bfi_terminal_of(&pieces[mine->piece], &mine->own);
                status[mine->piece] = found;
                landings[mine->piece] = no_landing;
                if (found) continue;
                load(&l, i, &mine->own, &entries[mine->piece], current, floor);
                n_moving++;
            }
        }
        if (n_moving == 0) return;

        /* Those that are down or settled leave; the others move on. */
        look(&l);
        for (int i = 0; i < LANES; i++) {
            ticket *mine = &in_lane[i];
            if (l.is_moving[i] == 0) continue;
            int is_down = l.above[i] <= 0 && mine->n_steps > 0, is_settled = l.unsettled[i] < 1.0;
            if (is_down)
                status[mine->piece] = deliver(landed_in_step(&l, i), &mine->own, &landings[mine->piece]);
            else if (is_settled)
                status[mine->piece] = deliver(landed_settled(&l, i), &mine->own, &landings[mine->piece]);
            else if (mine->n_steps++ == MOST_STEPS)
                status[mine->piece] = BF_E_NO_CONVERGE;
            else
                continue;
            l.is_moving[i] = 0;
            n_moving--;
        }
        if (n_moving > 0) advance(&l);
    }
}

bf_status bf_fall_land(const bf_piece *piece, const bf_entry *entry, const bf_current *current,
                       const bf_floor *floor, bf_landing *landing) {
    bf_status status;
    bf_fall_land_many(piece, entry, 1, current, floor, &status, landing);
    return status;
}
