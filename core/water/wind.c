/* wind.c -- see wind.h. */
#include "baitfall/wind.h"

#include <math.h>

#include "baitfall/elementary.h"

#define VON_KARMAN 0.41
#define STANDARD_HEIGHT_M 10.0

/* Smallest k > 0 with tan k = k, squared: the slowest flow in a basin that carries nothing in sum. */
#define SLOWEST_MODE_SQUARED 20.19072855642663

double bf_surface_drag_low_wind(double wind_10_m_s) {
    return 0.0044 * bf_pow(wind_10_m_s, -1.15);
}

/* With x = sqrt(C) the law reads x = 1 / (ln(10 g / (x U)^2) / k + 11.3). Each substitution shrinks the error
 * by 2 x / k < 0.25, so 30 of them leave less than rounding. */
double bf_surface_drag_charnock(double wind_10_m_s) {
    double x = 0.03;
    for (int i = 0; i < 30; i++) {
        double friction = x * wind_10_m_s, before = x;
        x = 1.0 / (bf_log(STANDARD_HEIGHT_M * BF_GRAVITY_M_S2 / (friction * friction)) / VON_KARMAN + 11.3);
        if (x == before) break; /* more rounds give the same */
    }
    return x * x;
}

/* The laws cross near 4 m/s; in less than this the low-wind law is surely the larger. */
#define ONLY_RIPPLES_M_S 3.0

double bf_surface_drag(double wind_10_m_s) {
    double low = bf_surface_drag_low_wind(wind_10_m_s);
    if (wind_10_m_s < ONLY_RIPPLES_M_S) return low;
    double waves = bf_surface_drag_charnock(wind_10_m_s);
    return low > waves ? low : waves;
}

double bf_wind_stress_pa(double wind_10_m_s, double air_kg_m3) {
    if (!(wind_10_m_s > 0)) return 0;
    return air_kg_m3 * bf_surface_drag(wind_10_m_s) * wind_10_m_s * wind_10_m_s;
}

bf_wind_profile bf_wind_profile_drag(double wind_10_m_s, double drag) {
    double root = sqrt(drag);
    return (bf_wind_profile){root * wind_10_m_s / VON_KARMAN, STANDARD_HEIGHT_M * bf_exp(-VON_KARMAN / root)};
}

/* The drag that shapes the profile: held at its value in the lightest wind a law was fitted to. */
static double profile_drag(double wind_10_m_s) {
    return bf_surface_drag(wind_10_m_s > BF_WIND_LEAST_FITTED_M_S ? wind_10_m_s : BF_WIND_LEAST_FITTED_M_S);
}

bf_wind_profile bf_wind_profile_of(double wind_10_m_s) {
    return bf_wind_profile_drag(wind_10_m_s, profile_drag(wind_10_m_s));
}

double bf_wind_at(const bf_wind_profile *profile, double height_m) {
    if (!(height_m > profile->roughness_m)) return 0;
    return profile->per_e_m_s * bf_log(height_m / profile->roughness_m);
}

/* U10 = U(h) / (1 - sqrt(C(U10)) / k ln(10 / h)) by substitution; the factor depends weakly on U10 (its
 * logarithmic slope is below 0.35 from 0.5 m up), so 40 rounds leave less than rounding. */
double bf_wind_10_m_s(double wind_m_s, double height_m) {
    if (height_m == STANDARD_HEIGHT_M) return wind_m_s;
    double log_ratio = bf_log(STANDARD_HEIGHT_M / height_m), wind_10 = wind_m_s;
    for (int i = 0; i < 40; i++) {
        double before = wind_10;
        wind_10 = wind_m_s / (1.0 - sqrt(profile_drag(wind_10)) / VON_KARMAN * log_ratio);
        if (wind_10 == before) break; /* more rounds give the same */
    }
    return wind_10;
}

double bf_basin_mixing_m2_s(double stress_pa, double depth_m, double water_kg_m3) {
    return sqrt(stress_pa / water_kg_m3) * depth_m / 15.0;
}

double bf_basin_surface_m_s(double stress_pa, double depth_m, double water_kg_m3, double mixing_m2_s) {
    return stress_pa * depth_m / (4.0 * water_kg_m3 * mixing_m2_s);
}

double bf_basin_spin_up_s(double depth_m, double mixing_m2_s) {
    return depth_m * depth_m / (SLOWEST_MODE_SQUARED * mixing_m2_s);
}

bf_current bf_current_still(double depth_m) {
    bf_current still = {.depth_m = depth_m, .skin_m = 1.0};
    return still;
}

/* A current along one direction: skin and polynomial given by their speeds that way. */
static bf_current along(double side_deg, double depth_m, double skin_m_s, double skin_m,
                        const double coef[4]) {
    double out = bf_cos(side_deg * BF_RAD_PER_DEG), right = bf_sin(side_deg * BF_RAD_PER_DEG);
    bf_current c = {depth_m, skin_m_s * out, skin_m_s * right, skin_m, {0}, {0}};
    for (int k = 0; k < 4; k++) {
        c.coef_x_m_s[k] = coef[k] * out;
        c.coef_y_m_s[k] = coef[k] * right;
    }
    return c;
}

/* What a skin of unit speed carries: its integral over the depth, divided by the depth. */
static double skin_mean(double skin_m, double depth_m) {
    return skin_m * -bf_expm1(-depth_m / skin_m) / depth_m;
}

/* How much of the basin flow has grown by now, 0 .. 1. */
static double grown(const bf_lake *lake, double depth_m, double mixing_m2_s) {
    double slope_stands_s = lake->fetch_m.value / sqrt(BF_GRAVITY_M_S2 * depth_m);
    double since_s = lake->wind_for_s - slope_stands_s;
    if (lake->wind_for_s != lake->wind_for_s) return 1; /* not given: long enough */
    if (!(since_s > 0)) return 0;
    return -bf_expm1(-since_s / bf_basin_spin_up_s(depth_m, mixing_m2_s));
}

static bf_current wind_current(const bf_lake *lake, double depth_m) {
    double wind_10 = bf_wind_10_m_s(lake->wind_m_s.value, lake->wind_height_m);
    double water = bf_lake_density_kg_m3(lake);
    double stress = bf_wind_stress_pa(wind_10, bf_air_density_kg_m3(lake->temp_c.value));
    if (!(stress > 0)) return bf_current_still(depth_m);

    /* Basin flow. */
    double mixing = lake->mixing_frac.value * bf_basin_mixing_m2_s(stress, depth_m, water);
    double basin = bf_basin_surface_m_s(stress, depth_m, water, mixing);

    /* Skin: as fast as makes the steady surface move at skin_frac of the wind after what it carries has come
     * back. */
    double carried = skin_mean(lake->skin_m.value, depth_m);
    double skin = (lake->skin_frac.value * wind_10 - basin) / (1.0 - 1.5 * carried);
    if (!(skin > 0)) skin = 0;

    double back = 1.5 * carried * skin, scale = grown(lake, depth_m, mixing);
    double coef[4] = {scale * (basin - back), scale * -4.0 * basin, scale * (3.0 * basin + back), 0};
    return along(lake->wind_side_deg.value, depth_m, skin, lake->skin_m.value, coef);
}

static bf_current measured_current(const bf_lake *lake, double depth_m) {
    double basin = 3.0 * lake->undertow_m_s.value;
    double coef[4] = {basin, -4.0 * basin, 3.0 * basin, 0};
    return along(lake->drift_side_deg.value, depth_m, lake->surface_drift_m_s.value - basin,
                 lake->skin_m.value, coef);
}

bf_status bf_current_of(const bf_lake *lake, double depth_m, bf_current *current) {
    if (!(depth_m > 0) || depth_m - depth_m != 0) {
        *current = (bf_current){BF_NAN,
                                BF_NAN,
                                BF_NAN,
                                BF_NAN,
                                {BF_NAN, BF_NAN, BF_NAN, BF_NAN},
                                {BF_NAN, BF_NAN, BF_NAN, BF_NAN}};
        return depth_m - depth_m != 0 ? BF_E_NOT_FINITE : BF_E_RANGE;
    }
    switch (lake->drift) {
    case BF_DRIFT_WIND: *current = wind_current(lake, depth_m); break;
    case BF_DRIFT_MEASURED: *current = measured_current(lake, depth_m); break;
    default: *current = bf_current_still(depth_m); break;
    }
    return BF_OK;
}

static double polynomial(const double coef[4], double s) {
    return coef[0] + s * (coef[1] + s * (coef[2] + s * coef[3]));
}

static double polynomial_integral(const double coef[4], double s) {
    return s * (coef[0] + s * (coef[1] / 2.0 + s * (coef[2] / 3.0 + s * (coef[3] / 4.0))));
}

void bf_current_at(const bf_current *current, double z_m, double *x_m_s, double *y_m_s) {
    double z = z_m > 0 ? z_m : 0;
    if (z > current->depth_m) z = current->depth_m;
    double s = z / current->depth_m, skin = bf_exp(-z / current->skin_m);
    *x_m_s = current->skin_x_m_s * skin + polynomial(current->coef_x_m_s, s);
    *y_m_s = current->skin_y_m_s * skin + polynomial(current->coef_y_m_s, s);
}

void bf_current_integral(const bf_current *current, double z_m, double *x_m2_s, double *y_m2_s) {
    double s = z_m / current->depth_m, skin = current->skin_m * -bf_expm1(-z_m / current->skin_m);
    *x_m2_s = current->skin_x_m_s * skin + current->depth_m * polynomial_integral(current->coef_x_m_s, s);
    *y_m2_s = current->skin_y_m_s * skin + current->depth_m * polynomial_integral(current->coef_y_m_s, s);
}

/* Above this a pond often carries a warm layer in still weather: a judgement, no source. */
#define WARM_C 18.0

/* Fewer depths along the wind than this and the turning ends reach the middle: a judgement, no source. */
#define LEAST_DEPTHS_LONG 10.0

int bf_wind_notes(const bf_lake *lake, double depth_m, bf_note *notes) {
    int n = 0;
    if (lake->drift != BF_DRIFT_WIND) return 0;
    if (lake->wind_m_s.value < BF_WIND_LEAST_FITTED_M_S)
        notes[n++] = (bf_note){BF_NOTE_LIGHT_WIND, {0, 0, 0}};
    if (lake->fetch_m.value < LEAST_DEPTHS_LONG * depth_m)
        notes[n++] = (bf_note){BF_NOTE_SHORT_FETCH, {lake->fetch_m.value, 0, 0}};
    if (lake->temp_c.value >= WARM_C) notes[n++] = (bf_note){BF_NOTE_WARM_LAYER, {WARM_C, 0, 0}};
    return n;
}
