/* water.c -- see water.h. */
#include "baitfall/water.h"

#include <math.h>

#include "baitfall/elementary.h"

#define ZERO_C_IN_K 273.15

double bf_water_density_kg_m3(double temp_c) {
    double off_maximum = temp_c - 3.983035;
    return 999.974950 *
           (1.0 - off_maximum * off_maximum * (temp_c + 301.797) / (522528.9 * (temp_c + 69.34881)));
}

double bf_water_viscosity_pa_s(double temp_c) {
    double log_t = bf_log((temp_c + ZERO_C_IN_K) / 300.0);
    return 1e-6 * (280.68 * bf_exp(-1.9 * log_t) + 511.45 * bf_exp(-7.7 * log_t) +
                   61.131 * bf_exp(-19.6 * log_t) + 0.45903 * bf_exp(-40.0 * log_t));
}

double bf_water_tension_n_m(double temp_c) {
    double tau = 1.0 - (temp_c + ZERO_C_IN_K) / 647.096;
    return 0.2358 * bf_pow(tau, 1.256) * (1.0 - 0.625 * tau);
}

double bf_air_density_kg_m3(double temp_c) {
    return 101325.0 / (287.05 * (temp_c + ZERO_C_IN_K));
}

double bf_air_viscosity_pa_s(double temp_c) {
    double temp_k = temp_c + ZERO_C_IN_K;
    return 1.458e-6 * temp_k * sqrt(temp_k) / (temp_k + 110.4);
}

double bf_lake_density_kg_m3(const bf_lake *lake) {
    return bf_water_density_kg_m3(lake->temp_c.value) + lake->solids_kg_m3.value;
}

static const char *const drift_words[] = {"still", "wind", "measured", 0};

static const bf_field lake_fields[] = {
    BF_Q(bf_lake, temp_c, BF_TEMPERATURE, 0, 35, 12, 1, 4, 22, "water temperature; start: a mild spring day"),
    BF_Q(bf_lake, solids_kg_m3, BF_DENSITY, 0, 5, 0.3, 0.2, 0.1, 0.5,
         "density added by dissolved matter; start: from memory, 0.1 to 0.5 in fresh water"),
    BF_W(bf_lake, drift, drift_words, 3, BF_DRIFT_WIND,
         "where the current comes from: still water, the wind, or a drift you have measured"),
    BF_Q(bf_lake, wind_m_s, BF_SPEED, 0, 20, 2, 1.5, 0, 6, "wind, averaged over some minutes"),
    BF_R(bf_lake, wind_height_m, BF_LENGTH, 0.5, 20, 10,
         "height at which the wind was measured; forecasts give it at 10 m"),
    BF_Q(bf_lake, wind_side_deg, BF_ANGLE, -360, 360, BF_NAN, 20, -180, 180,
         "where the wind blows to: 0 straight out, 90 to your right, 180 into your face"),
    BF_Q(bf_lake, fetch_m, BF_LENGTH, 5, 5000, 100, 60, 30, 300, "length of open water along the wind"),
    BF_R(bf_lake, wind_for_s, BF_TIME, 0, 86400, BF_NAN,
         "how long it has blown like this; not given: long enough"),
    BF_Q(bf_lake, skin_frac, BF_PURE, 0, 0.06, 0.025, 0.01, 0.015, 0.035,
         "speed of the very surface as a part of the wind at 10 m; published 1.5 to 3.5 %"),
    BF_Q(bf_lake, skin_m, BF_LENGTH, 0.001, 0.1, 0.01, 0.006, 0.003, 0.03,
         "depth in which the surface's extra speed dies away; start: from a log layer under 4 m/s wind"),
    BF_Q(bf_lake, mixing_frac, BF_PURE, 0.1, 10, 1, 0.5, 0.3, 3,
         "how strongly the wind stirs, 1 as usual; less over colder water below"),
    BF_Q(bf_lake, surface_drift_m_s, BF_SPEED, 0, 0.5, 0.04, 0.02, 0, 0.1,
         "measured speed of something thin that floats flat on the surface"),
    BF_Q(bf_lake, drift_side_deg, BF_ANGLE, -360, 360, BF_NAN, 20, -180, 180,
         "where it went: 0 straight out, 90 to your right"),
    BF_Q(bf_lake, undertow_m_s, BF_SPEED, 0, 0.2, 0.005, 0.003, 0, 0.02,
         "measured largest speed the other way, below"),
};

const bf_table bf_lake_table = BF_TABLE("water", bf_lake, lake_fields);
