/* float.c -- the table of a float, its proportions, and its statics on the water. */
#include "baitfall/float.h"

#include <math.h>

#include "baitfall/elementary.h"
#include "baitfall/shot.h"
#include "baitfall/water.h"

/* Where the contact angle lies when it is not known: no value for a bristle's material was found. */
#define MEETS_LEAST_DEG 30
#define MEETS_MOST_DEG 90

static const bf_field float_fields[] = {
    BF_R(bf_float, rating_kg, BF_MASS, 3e-5, 0.02, 0.0004,
         "grams of lead shot it is said to take; start: 0.4 g"),
    BF_R(bf_float, capacity_kg, BF_MASS, 3e-5, 0.02, BF_NAN,
         "lead shot it took in a tube to where the bristle begins; not given: the rating"),
    BF_Q(bf_float, capacity_frac, BF_PURE, 0.5, 2, 1, 0.12, 0.8, 1.2,
         "real capacity over that figure; start: ratings are often 5 to 20 % wrong (memory), try it in a "
         "tube"),
    BF_R(bf_float, bristle_m, BF_LENGTH, 2e-4, 6e-3, 0.0012,
         "diameter of the bristle; start: general use (memory)"),
    BF_R(bf_float, bristle_long_m, BF_LENGTH, 5e-3, 0.15, 0.03, "length of the bristle; start: judgement"),
    BF_R(bf_float, body_m, BF_LENGTH, 1e-3, 0.05, BF_NAN,
         "diameter of the body; not given: as it must be to carry its rating, four times as long as wide"),
    BF_R(bf_float, body_long_m, BF_LENGTH, 3e-3, 0.2, BF_NAN,
         "length of the body; not given: as for its diameter"),
    BF_R(bf_float, stem_long_m, BF_LENGTH, 5e-3, 0.3, BF_NAN,
         "length of the stem; not given: 45 mm at 0.4 g, by the cube root of the rating (judgement)"),
    BF_R(bf_float, mass_kg, BF_MASS, 1e-5, 0.02, BF_NAN, "of the float itself; not given: from its parts"),
    BF_Q(bf_float, meets_deg, BF_ANGLE, 0, 120, BF_NAN, 15, MEETS_LEAST_DEG, MEETS_MOST_DEG,
         "angle at which water meets the wet bristle; no value was found, so 30 to 90 degrees"),
};

const bf_table bf_float_table = BF_TABLE("float", bf_float, float_fields);

const bf_float_build bf_float_usual_build = {0.0008, 1600, 200, 1100};

/* Proportions -------------------------------------------------------------------------------------------- */

#define STEM_M 0.045 /* at STEM_RATING_KG */
#define STEM_RATING_KG 0.0004
#define BODY_SLIM 4 /* length over width */
#define PROPORTION_WATER_KG_M3 999.1

static int is_given(double x) {
    return x == x;
}

static double rod_volume_m3(double diameter_m, double length_m) {
    return BF_PI / 4 * diameter_m * diameter_m * length_m;
}

static double body_volume_m3(const bf_float *flt) {
    return BF_PI / 6 * flt->body_m * flt->body_m * flt->body_long_m;
}

/* The body's volume that makes the float carry its capacity. */
static double carrying_volume_m3(const bf_float *flt, const bf_float_build *build) {
    double water = PROPORTION_WATER_KG_M3;
    double carried = flt->capacity_kg * (1 - water / bf_metal_density_kg_m3(BF_LEAD));
    double stem = rod_volume_m3(build->stem_m, flt->stem_long_m);
    double bristle = rod_volume_m3(flt->bristle_m, flt->bristle_long_m) * build->bristle_kg_m3;
    return (carried + stem * (build->stem_kg_m3 - water) + bristle) / (water - build->body_kg_m3);
}

static void settle_body(bf_float *flt, double volume_m3) {
    double squared_by_long = 6 / BF_PI * volume_m3; /* width^2 x length */
    if (!is_given(flt->body_m) && !is_given(flt->body_long_m))
        flt->body_m = bf_cbrt(squared_by_long / BODY_SLIM);
    if (!is_given(flt->body_m)) flt->body_m = sqrt(squared_by_long / flt->body_long_m);
    if (!is_given(flt->body_long_m)) flt->body_long_m = squared_by_long / (flt->body_m * flt->body_m);
}

bf_float bf_float_settled(const bf_float *given) {
    const bf_float_build *build = &bf_float_usual_build;
    bf_float flt = *given;
    if (!is_given(flt.capacity_kg)) flt.capacity_kg = flt.rating_kg;
    if (!is_given(flt.stem_long_m)) flt.stem_long_m = STEM_M * bf_cbrt(flt.rating_kg / STEM_RATING_KG);
    settle_body(&flt, carrying_volume_m3(&flt, build));
    if (!is_given(flt.mass_kg))
        flt.mass_kg = rod_volume_m3(build->stem_m, flt.stem_long_m) * build->stem_kg_m3 +
                      body_volume_m3(&flt) * build->body_kg_m3 +
                      rod_volume_m3(flt.bristle_m, flt.bristle_long_m) * build->bristle_kg_m3;
    return flt;
}

/* On the water ------------------------------------------------------------------------------------------- */

double bf_float_lift_n(const bf_float *settled, double water_kg_m3) {
    double in_water = 1 - water_kg_m3 / bf_metal_density_kg_m3(BF_LEAD);
    return settled->capacity_kg * settled->capacity_frac.value * in_water * BF_GRAVITY_M_S2;
}

double bf_float_bristle_n_m(const bf_float *settled, double water_kg_m3) {
    return water_kg_m3 * BF_GRAVITY_M_S2 * rod_volume_m3(settled->bristle_m, 1);
}

double bf_float_shot_moves_m(const bf_float *settled, double shot_kg, double water_kg_m3) {
    double in_water = 1 - water_kg_m3 / bf_metal_density_kg_m3(BF_LEAD);
    return shot_kg * in_water * BF_GRAVITY_M_S2 / bf_float_bristle_n_m(settled, water_kg_m3);
}

double bf_float_meniscus_n(const bf_float *settled, double tension_n_m, double angle_deg) {
    return BF_PI * settled->bristle_m * tension_n_m * bf_cos(angle_deg * BF_RAD_PER_DEG);
}

static double shows_at_m(const bf_float *flt, double down_n, double water_kg_m3, double tension_n_m,
                         double angle_deg) {
    double pull_n = down_n + bf_float_meniscus_n(flt, tension_n_m, angle_deg);
    double sunk_m = (pull_n - bf_float_lift_n(flt, water_kg_m3)) / bf_float_bristle_n_m(flt, water_kg_m3);
    return flt->bristle_long_m - sunk_m;
}

double bf_float_shows_m(const bf_float *settled, double down_n, double water_kg_m3, double tension_n_m) {
    return shows_at_m(settled, down_n, water_kg_m3, tension_n_m, settled->meets_deg.value);
}

void bf_float_shows_band_m(const bf_float *settled, double down_n, double water_kg_m3, double tension_n_m,
                           double *lo_m, double *hi_m) {
    const bf_quantity *meets = &settled->meets_deg;
    double least = meets->is_unknown          ? MEETS_LEAST_DEG
                   : meets->value > meets->pm ? meets->value - meets->pm
                                              : 0;
    double most = meets->is_unknown ? MEETS_MOST_DEG : meets->value + meets->pm;
    *lo_m = shows_at_m(settled, down_n, water_kg_m3, tension_n_m, least);
    *hi_m = shows_at_m(settled, down_n, water_kg_m3, tension_n_m, most);
}

#define EULER_GAMMA 0.57721566490153286

double bf_float_meniscus_rise_m(const bf_float *settled, double angle_deg, double water_kg_m3,
                                double tension_n_m) {
    double radius = settled->bristle_m / 2, angle = angle_deg * BF_RAD_PER_DEG;
    double capillary_m = sqrt(tension_n_m / (water_kg_m3 * BF_GRAVITY_M_S2));
    double reach = 4 * capillary_m / (radius * (1 + bf_sin(angle)));
    return radius * bf_cos(angle) * (bf_log(reach) - EULER_GAMMA);
}

double bf_float_heave_s(const bf_float *settled, double moving_kg, double added, double water_kg_m3) {
    return 2 * BF_PI * sqrt(moving_kg * (1 + added) / bf_float_bristle_n_m(settled, water_kg_m3));
}

/* Standing up -------------------------------------------------------------------------------------------- */

/* A piece of the float on its axis. */
typedef struct slice {
    double volume_m3, kg_m3, centre_m;
} slice;

bf_upright bf_float_upright(const bf_float *settled, const bf_float_build *build, double shows_m,
                            double water_kg_m3) {
    const bf_float *flt = settled;
    BF_ASSERT(shows_m >= 0 && shows_m <= flt->bristle_long_m);
    double body_top = flt->stem_long_m + flt->body_long_m, sunk = flt->bristle_long_m - shows_m;
    const slice solid[3] = {
        {rod_volume_m3(build->stem_m, flt->stem_long_m), build->stem_kg_m3, flt->stem_long_m / 2},
        {body_volume_m3(flt), build->body_kg_m3, flt->stem_long_m + flt->body_long_m / 2},
        {rod_volume_m3(flt->bristle_m, flt->bristle_long_m), build->bristle_kg_m3,
         body_top + flt->bristle_long_m / 2},
    };
    double mass = 0, mass_moment = 0;
    for (int i = 0; i < 3; i++) {
        mass += solid[i].volume_m3 * solid[i].kg_m3;
        mass_moment += solid[i].volume_m3 * solid[i].kg_m3 * solid[i].centre_m;
    }

    double wet_bristle = rod_volume_m3(flt->bristle_m, sunk);
    double volume = solid[0].volume_m3 + solid[1].volume_m3 + wet_bristle;
    double volume_moment = solid[0].volume_m3 * solid[0].centre_m + solid[1].volume_m3 * solid[1].centre_m +
                           wet_bristle * (body_top + sunk / 2);

    double displaced = volume * water_kg_m3, square = flt->bristle_m * flt->bristle_m;
    bf_upright up = {
        .mass_kg = mass,
        .displaced_kg = displaced,
        .load_n = (displaced - mass) * BF_GRAVITY_M_S2,
        .buoyancy_m = volume_moment / volume,
        .weight_m = mass_moment / displaced, /* float and load weigh as much as they displace */
        .waterplane_m = BF_PI / 64 * square * square / volume,
    };
    up.metacentric_m = up.buoyancy_m + up.waterplane_m - up.weight_m;
    return up;
}

double bf_float_righting_n_m(const bf_upright *upright, double lean_deg) {
    return upright->displaced_kg * BF_GRAVITY_M_S2 * upright->metacentric_m *
           bf_sin(lean_deg * BF_RAD_PER_DEG);
}
