/* water.h -- fresh water and air: density, viscosity, surface tension; the water of a swim as a record.
 *
 * Pure arithmetic by formula, no tables inside. Temperatures in degrees Celsius (ITS-90), pressure 101325 Pa.
 * Total functions: outside the range named they return the formula's value, which nobody should trust; the
 * field table below keeps a lake inside it. Model: docs/models/water.md. Tests: tests/water/water_test.c
 */
#ifndef BAITFALL_WATER_H
#define BAITFALL_WATER_H

#include "baitfall/field.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Standard gravity, CGPM 1901. */
#define BF_GRAVITY_M_S2 9.80665

/* Density of pure, air-free water, kg/m3:
 *
 *     rho = 999.974950 [1 - (t - 3.983035)^2 (t + 301.797) / (522528.9 (t + 69.34881))]
 *
 * Source:   M. Tanaka et al., "Recommended table for the density of water between 0 C and 40 C based on
 *           recent experimental reports", Metrologia 38 (2001) 301.
 * Validity: 0 to 40 C, 101325 Pa.
 * Accuracy: within 0.0011 kg/m3 of IAPWS-95 at 0 to 30 C (measured at the rows of water.csv).
 * Example   15 C -> 999.1026 kg/m3. */
double bf_water_density_kg_m3(double temp_c);

/* Viscosity of pure water, Pa s, with T' = (temp_c + 273.15) / 300:
 *
 *     mu / 1e-6 = 280.68 T'^-1.9 + 511.45 T'^-7.7 + 61.131 T'^-19.6 + 0.45903 T'^-40
 *
 * Source:   IAPWS SR6-08(2011), eq. 7 = M. L. Huber et al., J. Phys. Chem. Ref. Data 38 (2009) 101.
 * Validity: -20 to 110 C, 0.1 MPa.
 * Accuracy: within 0.003 % of the full 2008 formulation at the rows of water.csv (measured).
 * Example   15 C -> 1.137548e-3 Pa s. */
double bf_water_viscosity_pa_s(double temp_c);

/* Surface tension of pure water against air, N/m:
 *
 *     sigma = 0.2358 tau^1.256 (1 - 0.625 tau),  tau = 1 - (temp_c + 273.15) / 647.096
 *
 * Source:   IAPWS R1-76(2014).
 * Validity: 0.01 C to the critical point. Pond water carries films and is lower: from memory 0.060 to 0.072.
 * Example   15 C -> 0.073486 N/m. */
double bf_water_tension_n_m(double temp_c);

/* Density of dry air at 101325 Pa as an ideal gas, kg/m3: 101325 / (287.05 (temp_c + 273.15)).
 *
 * Accuracy: within 0.04 % of E. W. Lemmon et al., J. Phys. Chem. Ref. Data 29 (2000) 331 at 0 to 30 C
 *           (measured). Damp air at 70 % humidity is lighter, by 0.2 % at 0 C and 1.1 % at 30 C; weather and
 *           height change it by some per cent more. Neither is modelled.
 * Example   15 C -> 1.22501 kg/m3. */
double bf_air_density_kg_m3(double temp_c);

/* Viscosity of air, Pa s: Sutherland's law 1.458e-6 T^1.5 / (T + 110.4), T = temp_c + 273.15.
 * Source:   U.S. Standard Atmosphere 1976.
 * Example   15 C -> 1.7894e-5 Pa s. */
double bf_air_viscosity_pa_s(double temp_c);

/* still: no current. wind: from the wind of this record (wind.h). measured: from the drift of this record. */
typedef enum bf_drift { BF_DRIFT_STILL, BF_DRIFT_WIND, BF_DRIFT_MEASURED } bf_drift;

/* The lake today. Directions are where things go to: 0 straight out from the bank, 90 to the angler's right.
 * Units, accepted ranges and start values: bf_lake_table. */
typedef struct bf_lake {
    bf_quantity temp_c;
    bf_quantity solids_kg_m3;      /* what dissolved matter adds to the density of pure water       */
    int drift;                     /* bf_drift: where the current comes from                        */
    bf_quantity wind_m_s;          /* mean over some minutes, gusts averaged out                    */
    double wind_height_m;          /* above the water, where the wind was measured or forecast      */
    bf_quantity wind_side_deg;     /* where the wind blows to                                       */
    bf_quantity fetch_m;           /* length of open water along the wind                           */
    double wind_for_s;             /* how long it has blown so; NaN: long enough to be steady       */
    bf_quantity skin_frac;         /* wind: speed of the very surface over the wind at 10 m         */
    bf_quantity skin_m;            /* depth over which the extra speed of the surface falls to 1/e  */
    bf_quantity mixing_frac;       /* wind: eddy viscosity over friction velocity x depth / 15      */
    bf_quantity surface_drift_m_s; /* measured: speed of the very surface                           */
    bf_quantity drift_side_deg;    /* measured: where the surface goes                              */
    bf_quantity undertow_m_s;      /* measured: largest speed back, below                           */
} bf_lake;

extern const bf_table bf_lake_table;

/* Density of the lake's water (its `.value`s as they stand), kg/m3: pure water plus dissolved solids. */
double bf_lake_density_kg_m3(const bf_lake *lake);

#ifdef __cplusplus
}
#endif
#endif
