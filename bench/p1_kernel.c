/* p1_kernel.c -- see p1_kernel.h. Pellets are worked on LANES at a time so that the compiler can use vector registers;
 * a lane whose pellet is down takes the next one. */
#include "p1_kernel.h"

#include <math.h>
#include <string.h>

#define LANES 8
#define DEPTH_M 2.0
#define STEP_S 0.005
#define GRAVITY_M_S2 9.81
#define WATER_KG_M3 1000.0
#define VISCOSITY_M2_S 1.1e-6
#define ADDED_MASS 0.5
#define LEAST_REYNOLDS 1e-3
#define NEWTON_DRAG 0.44

typedef struct motion {
    double x[LANES], y[LANES], z[LANES], u[LANES], v[LANES], w[LANES];
} motion;

typedef struct lanes {
    double least_re[LANES];   /* the same everywhere; a constant here keeps gcc from using vectors */
    double re_per_m_s[LANES]; /* Reynolds number over speed                        */
    double viscous[LANES];    /* 0.75 x 24 x viscosity / (d^2 (rho + added mass))  */
    double inertial[LANES];   /* 0.75 x 0.44 / (d (rho + added mass))              */
    double sink_m_s2[LANES];  /* weight less buoyancy over mass and added mass     */
    motion now;
} lanes;

/* Re^0.687 = Re^(1/2 + 1/8 + 1/16) Re^-0.0005, the last factor by the series of the logarithm about Re^(1/16) = 1. */
static inline double power(double re) {
    double half = sqrt(re), eighth = sqrt(sqrt(half)), sixteenth = sqrt(eighth);
    double s = (sixteenth - 1.0) / (sixteenth + 1.0), s2 = s * s;
    double log_re = 32.0 * s * (1.0 + s2 * (1.0 / 3.0 + s2 * (1.0 / 5.0 + s2 * (1.0 / 7.0))));
    double small = 0.0005 * log_re;
    return half * eighth * sixteenth * (1.0 - small * (1.0 - 0.5 * small));
}

static void rates(const lanes *restrict l, const motion *restrict at, motion *restrict rate) {
    for (int i = 0; i < LANES; i++) {
        double s = at->z[i] * (1.0 / DEPTH_M), left = 1.0 - s;
        double du = 0.10 * left * (1.0 - 3.0 * s) + 0.03 * s - at->u[i], dv = 0.02 * left - at->v[i],
               w = at->w[i];
        double speed = sqrt(du * du + dv * dv + w * w), re = speed * l->re_per_m_s[i];
        re = re > l->least_re[i] ? re : l->least_re[i];
        double viscous = l->viscous[i] * (1.0 + 0.15 * power(re)), inertial = l->inertial[i] * speed;
        double k = viscous > inertial ? viscous : inertial;
        rate->x[i] = at->u[i];
        rate->y[i] = at->v[i];
        rate->z[i] = w;
        rate->u[i] = k * du;
        rate->v[i] = k * dv;
        rate->w[i] = l->sink_m_s2[i] - k * w;
    }
}

static void moved(const motion *restrict from, double h, const motion *restrict rate, motion *restrict to) {
    for (int i = 0; i < LANES; i++) {
        to->x[i] = from->x[i] + h * rate->x[i];
        to->y[i] = from->y[i] + h * rate->y[i];
        to->z[i] = from->z[i] + h * rate->z[i];
        to->u[i] = from->u[i] + h * rate->u[i];
        to->v[i] = from->v[i] + h * rate->v[i];
        to->w[i] = from->w[i] + h * rate->w[i];
    }
}

/* One step; the weighted mean of the four rates is summed stage by stage. */
static void advance(const lanes *restrict l, motion *restrict next) {
    motion k, at, sum;
    rates(l, &l->now, &k);
    moved(&l->now, STEP_S / 6.0, &k, &sum);
    moved(&l->now, STEP_S / 2.0, &k, &at);
    rates(l, &at, &k);
    moved(&sum, STEP_S / 3.0, &k, next);
    moved(&l->now, STEP_S / 2.0, &k, &at);
    rates(l, &at, &k);
    moved(next, STEP_S / 3.0, &k, &sum);
    moved(&l->now, STEP_S, &k, &at);
    rates(l, &at, &k);
    moved(&sum, STEP_S / 6.0, &k, next);
}

static void load(lanes *l, int i, double diameter_m, double density_kg_m3, double x_m, double y_m) {
    double mass = density_kg_m3 / WATER_KG_M3 + ADDED_MASS;
    l->least_re[i] = LEAST_REYNOLDS;
    l->re_per_m_s[i] = diameter_m / VISCOSITY_M2_S;
    l->viscous[i] = 0.75 * 24.0 * VISCOSITY_M2_S / (diameter_m * diameter_m * mass);
    l->inertial[i] = 0.75 * NEWTON_DRAG / (diameter_m * mass);
    l->sink_m_s2[i] = GRAVITY_M_S2 * (density_kg_m3 - WATER_KG_M3) / (mass * WATER_KG_M3);
    l->now.x[i] = x_m;
    l->now.y[i] = y_m;
    l->now.z[i] = l->now.v[i] = l->now.w[i] = 0;
    l->now.u[i] = 0.05;
}

unsigned long long p1_fall(const double *diameter_m, const double *density_kg_m3, const double *x0_m,
                           const double *y0_m, size_t n, double *x_m, double *y_m, double *t_s) {
    lanes l;
    motion next;
    size_t pellet[LANES], taken = 0, n_falling = 0;
    unsigned long long n_steps = 0;
    long step[LANES] = {0};
    int is_falling[LANES] = {0};
    memset(&l, 0, sizeof l);
    for (;;) {
        for (int i = 0; i < LANES; i++) {
            if (is_falling[i] || taken == n) continue;
            load(&l, i, diameter_m[taken], density_kg_m3[taken], x0_m[taken], y0_m[taken]);
            pellet[i] = taken++;
            step[i] = 0;
            is_falling[i] = 1;
            n_falling++;
        }
        if (n_falling == 0) return n_steps;
        advance(&l, &next);
        n_steps += n_falling;
        for (int i = 0; i < LANES; i++) {
            if (is_falling[i] && next.z[i] >= DEPTH_M) {
                double f = (DEPTH_M - l.now.z[i]) / (next.z[i] - l.now.z[i]);
                x_m[pellet[i]] = l.now.x[i] + f * (next.x[i] - l.now.x[i]);
                y_m[pellet[i]] = l.now.y[i] + f * (next.y[i] - l.now.y[i]);
                t_s[pellet[i]] = STEP_S * ((double)step[i] + f);
                is_falling[i] = 0;
                n_falling--;
            }
            step[i]++;
        }
        l.now = next;
    }
}
