/* water.h -- fresh water and air: density, viscosity, surface tension; the water of a swim as an input
 * record. */
#ifndef BAITFALL_WATER_H
#define BAITFALL_WATER_H

#include "baitfall/field.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Standard gravity, CGPM 1901. */
#define BF_GRAVITY_M_S2 9.80665

typedef enum bf_drift { BF_DRIFT_STILL, BF_DRIFT_WIND, BF_DRIFT_MEASURED } bf_drift;

/* The lake today. Directions are where things go to: 0 straight out from the bank, 90 to the angler's right.
 */
typedef struct bf_lake {
    bf_quantity temp_c;
    bf_quantity solids_kg_m3; /* what dissolved matter adds to the density of pure water */
    int drift;                /* bf_drift: where the current comes from                  */
    bf_quantity wind_m_s;
    double wind_height_m;      /* above the water, where the wind was measured or forecast */
    bf_quantity wind_side_deg; /* where the wind blows to                                 */
    bf_quantity fetch_m;
    double wind_for_s;             /* how long it has blown so; NaN: long enough to be steady */
    bf_quantity surface_drift_m_s; /* measured: speed of the top skin                        */
    bf_quantity drift_side_deg;    /* measured: where the skin goes                           */
    bf_quantity undertow_m_s;      /* measured: largest speed back, below                     */
} bf_lake;

extern const bf_table bf_lake_table;

#ifdef __cplusplus
}
#endif
#endif
