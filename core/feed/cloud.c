/* cloud.c -- see cloud.h. */
#include "baitfall/cloud.h"

#include <math.h>

#include "baitfall/elementary.h"
#include "core/feed/terminal.h"

/* Mass of a sphere of water and of the water it pushes along, over the first: potential flow. */
#define WITH_ADDED_MASS 1.5

/* A cloud as a thermal: its radius grows as r0 + entrainment z, and its momentum over the water's density,
 * m = 1.5 (4/3 pi r^3) w, by the weight less buoyancy of its pieces: dm/dt = buoyancy. With dz = w dt this is
 *
 *     m^2 = m0^2 + per_r4 (r^4 - r0^4),   per_r4 = 1.5 (4/3 pi) buoyancy / (2 entrainment) */
typedef struct thermal {
    double buoyancy_m4_s2;
    double entrainment;
    double r0_m, m0_m4_s, per_r4;
} thermal;

/* m = volume_m3(r) w; added mass counted in. */
static double moved_m3(double r_m) {
    return WITH_ADDED_MASS * 4.0 / 3.0 * BF_PI * r_m * r_m * r_m;
}

static double momentum_m4_s(const thermal *c, double r_m) {
    double r2 = r_m * r_m, r02 = c->r0_m * c->r0_m;
    double square = c->m0_m4_s * c->m0_m4_s + c->per_r4 * (r2 * r2 - r02 * r02);
    return square > 0 ? sqrt(square) : 0;
}

static double cloud_speed_m_s(const thermal *c, double r_m) {
    return momentum_m4_s(c, r_m) / moved_m3(r_m);
}

/* Radius at which the cloud is fastest: its start, or r0 (3 (1 - m0^2 / (per_r4 r0^4)))^(1/4) if that is larger. */
static double fastest_radius_m(const thermal *c) {
    double r04 = c->r0_m * c->r0_m * c->r0_m * c->r0_m;
    double fourth = 3.0 * (r04 - c->m0_m4_s * c->m0_m4_s / c->per_r4);
    return fourth > r04 ? sqrt(sqrt(fourth)) : c->r0_m;
}

/* Where between two radii the cloud passes `speed_m_s`; it does so once, faster or slower at `from_m`. In the radius' square s it is
 * there that m0^2 + per_r4 (s^2 - r0^4) is (moved volume x speed)^2, a cubic: Newton's rule, and halving where that leads astray. */
static double passing_radius_m(const thermal *c, double speed_m_s, double from_m, double to_m) {
    double r02 = c->r0_m * c->r0_m, root = moved_m3(1) * speed_m_s, per_r6 = root * root;
    double at_0 = c->m0_m4_s * c->m0_m4_s - c->per_r4 * r02 * r02;
    double from = from_m * from_m, to = to_m * to_m, s = to;
    int is_faster = cloud_speed_m_s(c, from_m) > speed_m_s;
    for (int i = 0; i < 60; i++) {
        double over = at_0 + s * s * (c->per_r4 - s * per_r6), was = s;
        if ((over > 0) == is_faster)
            from = s;
        else
            to = s;
        s -= over / (s * (2 * c->per_r4 - 3 * s * per_r6));
        if (!(s > from && s < to)) s = 0.5 * (from + to);
        if (fabs(s - was) <= 1e-15 * s) break;
    }
    return sqrt(s);
}

/* Time the pieces gain between the surface and depth_m by going with the cloud while it is faster than they are. In
 * that stretch the time is the change of momentum over the buoyancy. */
static double gained_s(const thermal *c, double sink_m_s, double depth_m) {
    double end_m = c->r0_m + c->entrainment * depth_m, fastest_m = fastest_radius_m(c);
    if (fastest_m > end_m) fastest_m = end_m;
    if (cloud_speed_m_s(c, fastest_m) <= sink_m_s) return 0;
    double from_m = c->r0_m, to_m = end_m;
    if (cloud_speed_m_s(c, from_m) < sink_m_s) from_m = passing_radius_m(c, sink_m_s, from_m, fastest_m);
    if (cloud_speed_m_s(c, to_m) < sink_m_s) to_m = passing_radius_m(c, sink_m_s, fastest_m, to_m);
    double alone_s = (to_m - from_m) / (c->entrainment * sink_m_s);
    return alone_s - (momentum_m4_s(c, to_m) - momentum_m4_s(c, from_m)) / c->buoyancy_m4_s2;
}

bf_status bf_cloud_of(double count, const bf_piece *piece, double volume_m3, double entrainment,
                      double entry_m_s, bf_cloud *cloud) {
    double sink_m_s, reynolds;
    *cloud = (bf_cloud){0, BF_NAN, BF_NAN, BF_NAN, BF_NAN};
    bf_status status = bf_fall_speed(piece, &sink_m_s, &reynolds);
    status = bfi_first_wrong(status, count, 0, 1e6);
    status = bfi_first_wrong(status, volume_m3, 1e-12, 1);
    status = bfi_first_wrong(status, entrainment, 0.05, 0.5);
    status = bfi_first_wrong(status, entry_m_s, 0, 60);
    if (status) return status;
    *cloud = (bf_cloud){0, 0, 0, 0, 0};
    if (count < BF_CLOUD_LEAST_PIECES) return BF_OK;

    /* Weight less buoyancy of all pieces over the water's density; the lump brings its own momentum. */
    double excess = piece->density_kg_m3 / piece->water_kg_m3 - 1.0, a_m = 0.5 * piece->equivalent_m;
    double solid_m3 = count * BF_PI / 6.0 * piece->equivalent_m * piece->equivalent_m * piece->equivalent_m;
    thermal c = {.buoyancy_m4_s2 = BF_GRAVITY_M_S2 * excess * solid_m3, .entrainment = entrainment};
    c.r0_m = bf_cbrt(3.0 * volume_m3 / (4.0 * BF_PI));
    c.m0_m4_s = (1.0 + excess) * solid_m3 * entry_m_s;
    c.per_r4 = WITH_ADDED_MASS * 4.0 / 3.0 * BF_PI * c.buoyancy_m4_s2 / (2.0 * entrainment);

    double depth_m = 11.0 * a_m * bf_pow(sqrt(c.buoyancy_m4_s2) / (sink_m_s * a_m), 0.83);
    double gain_s = gained_s(&c, sink_m_s, depth_m);
    *cloud = (bf_cloud){1, depth_m, c.r0_m + entrainment * depth_m, depth_m / sink_m_s - gain_s, gain_s};
    return BF_OK;
}
