#include "baitfall/film.h"

#include <math.h>

#include "baitfall/elementary.h"
#include "core/feed/film.h"

#define MOST_RADIUS 2.5 /* in capillary lengths; the fit ends here */

static double capillary_length_m(double water_kg_m3, double tension_n_m) {
    return sqrt(tension_n_m / (water_kg_m3 * BF_GRAVITY_M_S2));
}

/* The meniscus --------------------------------------------------------------------------------------------------
 * Lengths in capillary lengths. Outside a ring of radius r the surface dips by `depth` and falls inward at angle
 * `slope`: d(depth)/dr = -tan(slope), d(sin slope)/dr = -depth - sin(slope) / r. Far out it is a Bessel function,
 * so the ratio K1/K0 starts it there; steps are even in ln r, because it behaves like ln r near a thin ring. */

#define FAR_OUT 7.0
#define RING_STEPS 240
#define STEEPEST 1.5 /* rad; no sphere up to 120 degrees carries its most at a steeper slope */
#define TOO_STEEP 10.0

typedef struct meniscus {
    double slope, depth;
} meniscus;

static meniscus rate_per_ln_r(double r, meniscus at) {
    double sine = bf_sin(at.slope), cosine = bf_cos(at.slope);
    meniscus rate = {-(r * at.depth + sine) / cosine, -r * sine / cosine};
    return rate;
}

static meniscus along(meniscus at, double step, meniscus rate) {
    meniscus next = {at.slope + step * rate.slope, at.depth + step * rate.depth};
    return next;
}

/* Integrates from far out, where the dip is far_depth, in to the ring. */
static meniscus meniscus_at(double ring, double far_depth) {
    double r = ring + FAR_OUT, step = bf_log(ring / r) / RING_STEPS, half_factor = bf_exp(step / 2);
    double k1_over_k0 = 1 + 1 / (2 * r) - 1 / (8 * r * r) + 1 / (8 * r * r * r);
    meniscus at = {bf_atan(far_depth * k1_over_k0), far_depth};
    for (int i = 0; i < RING_STEPS; i++) {
        double middle = r * half_factor, end = middle * half_factor;
        meniscus k1 = rate_per_ln_r(r, at), k2 = rate_per_ln_r(middle, along(at, step / 2, k1));
        meniscus k3 = rate_per_ln_r(middle, along(at, step / 2, k2)),
                 k4 = rate_per_ln_r(end, along(at, step, k3));
        meniscus next = along(at, step / 6, k1);
        next = along(along(along(next, step / 3, k2), step / 3, k3), step / 6, k4);
        /* Inward it only steepens; anything else has run past the vertical. */
        if (!(next.slope >= at.slope && next.slope < STEEPEST)) next.slope = TOO_STEEP;
        at = next;
        if (at.slope > STEEPEST) break;
        r = end;
    }
    return at;
}

/* How far the surface dips at a ring where it falls inward at `slope`. */
static double ring_depth(double ring, double slope) {
    double lo = -30, hi = 3; /* ln of the dip far out */
    for (int i = 0; i < 60; i++) {
        double middle = (lo + hi) / 2;
        if (meniscus_at(ring, bf_exp(middle)).slope < slope)
            lo = middle;
        else
            hi = middle;
    }
    return meniscus_at(ring, bf_exp(lo)).depth;
}

/* Density over the water's, less 1, that a sphere of this radius needs to hang with the surface at `slope`: water
 * displaced below the ring, the column above the ring, and the pull of the film. */
static double excess_carried(double radius, double angle, double slope) {
    double ring = radius * bf_sin(angle - slope), cosine = -bf_cos(angle - slope);
    double below_ring = (2 - 3 * cosine + cosine * cosine * cosine) / 4;
    double column = ring * ring * ring_depth(ring, slope), pull = 2 * ring * bf_sin(slope);
    return below_ring - 1 + 0.75 * (column + pull) / (radius * radius * radius);
}

/* Golden section over the slope: what is carried has one top between 0 and the contact angle. */
static double excess_solved(double radius, double angle) {
    const double golden = 0.61803398874989485;
    double lo = 1e-6 * angle, hi = angle - lo;
    if (hi > STEEPEST - 0.01) hi = STEEPEST - 0.01;
    double a = hi - golden * (hi - lo), b = lo + golden * (hi - lo);
    double at_a = excess_carried(radius, angle, a), at_b = excess_carried(radius, angle, b);
    for (int i = 0; i < 25; i++) {
        if (at_a < at_b) {
            lo = a, a = b, at_a = at_b;
            b = lo + golden * (hi - lo), at_b = excess_carried(radius, angle, b);
        } else {
            hi = b, b = a, at_b = at_a;
            a = hi - golden * (hi - lo), at_a = excess_carried(radius, angle, a);
        }
    }
    return at_a > at_b ? at_a : at_b;
}

double bfi_film_density_solved_kg_m3(double diameter_m, double contact_angle_deg, double water_kg_m3,
                                     double tension_n_m) {
    double radius = diameter_m / 2 / capillary_length_m(water_kg_m3, tension_n_m);
    if (contact_angle_deg <= 0) return water_kg_m3;
    return water_kg_m3 * (1 + excess_solved(radius, contact_angle_deg * BF_RAD_PER_DEG));
}

/* The fast form ------------------------------------------------------------------------------------------ */

/* F - 1 in powers of the radius (in capillary lengths) and of the angle over 90 degrees, fitted for least relative
 * error over radius 0.1 .. 2.5 and 10 .. 120 degrees. */
static double beyond_small_limit(double radius, double right_angles) {
    static const double coefficient[3][3] = {
        {-0.0161, 0.1097, 0.0358}, {-0.0043, 0.1344, -0.0852}, {0.0029, -0.0357, 0.0169}};
    double sum = 0, power = radius;
    for (int i = 0; i < 3; i++, power *= radius) {
        const double *c = coefficient[i];
        sum += power * (c[0] + right_angles * (c[1] + right_angles * c[2]));
    }
    return sum;
}

double bf_film_density_most_kg_m3(double diameter_m, double contact_angle_deg, double water_kg_m3,
                                  double tension_n_m) {
    double radius = diameter_m / 2 / capillary_length_m(water_kg_m3, tension_n_m);
    if (radius > MOST_RADIUS) return water_kg_m3;
    double sine = bf_sin(contact_angle_deg / 2 * BF_RAD_PER_DEG);
    double small_limit = 1.5 * sine * sine / (radius * radius);
    return water_kg_m3 * (1 + small_limit * (1 + beyond_small_limit(radius, contact_angle_deg / 90)));
}

double bf_film_weber(double speed_m_s, double diameter_m, double water_kg_m3, double tension_n_m) {
    return water_kg_m3 * speed_m_s * speed_m_s * diameter_m / tension_n_m;
}

double bf_film_hang_s(const bf_bait *bait, const bf_piece *piece, double impact_m_s, double tension_n_m) {
    if (bait->state != BF_DRY) return 0;
    double weber = bf_film_weber(impact_m_s, piece->equivalent_m, piece->water_kg_m3, tension_n_m);
    double most_kg_m3 = bf_film_density_most_kg_m3(piece->equivalent_m, bait->contact_angle_deg.value,
                                                   piece->water_kg_m3, tension_n_m);
    return weber <= bait->punch_weber.value && piece->density_kg_m3 <= most_kg_m3 ? bait->hang_s.value : 0;
}

int bf_film_may_hang(const bf_bait *bait, const bf_lake *lake) {
    bf_bait stickiest = *bait;
    bf_quantity angle = bait->contact_angle_deg, hang = bait->hang_s;
    stickiest.contact_angle_deg.value = angle.is_unknown ? 90 : angle.value + angle.pm;
    stickiest.hang_s.value = hang.value + hang.pm;
    bf_piece middle = bf_piece_of(bait, lake);
    return bf_film_hang_s(&stickiest, &middle, 0, bf_water_tension_n_m(lake->temp_c.value)) > 0;
}
