/* throw.h -- a piece flying through air with drag and wind, and a pinch of pieces thrown by catapult.
 *
 * Pure arithmetic. Axes: x out from the bank, y to the angler's right, heights up from the water.
 * Model: docs/models/throw.md. Tests: tests/feed/throw_test.c
 */
#ifndef BAITFALL_THROW_H
#define BAITFALL_THROW_H

#include "baitfall/fall.h"

#ifdef __cplusplus
extern "C" {
#endif

/* The air a piece flies through. Wind over height: even_wind_m_s + the logarithmic profile, both along
 * wind_side_deg. */
typedef struct bf_air {
    double density_kg_m3;  /* 0.5 .. 2                                       */
    double viscosity_pa_s; /* 1e-6 .. 1e-4                                   */
    double gravity_m_s2;   /* 0 .. 20                                        */
    bf_wind_profile wind;
    double even_wind_m_s; /* the same at every height: 0 over open water    */
    double wind_side_deg; /* where it blows to: 0 out, 90 to the right      */
} bf_air;

/* The air over a lake (its `.value`s as they stand): dry, as warm as the water, wind by the log profile. */
bf_air bf_air_of(const bf_lake *lake);

/* How a piece leaves the catapult, hand or pot. */
typedef struct bf_release {
    double height_m;    /* above the water, 0 .. 100                */
    double speed_m_s;   /* 0 .. 100                                 */
    double angle_deg;   /* above the horizontal, -90 .. 90          */
    double bearing_deg; /* 0 straight out, 90 to the right          */
} bf_release;

/* Where, when and how it meets the water. */
typedef struct bf_flight {
    double x_m, y_m; /* from below the hand         */
    double time_s;
    double apex_m;              /* greatest height above water */
    double u_m_s, v_m_s, w_m_s; /* velocity along x, y, down   */
} bf_flight;

/* Flight of one piece until it meets the water:
 *
 *     dV/dt = -g e_up - (3/4) (air / density) (Cd(Re) / equivalent_m) |V - wind| (V - wind)
 *
 * with the piece's own drag law (drag.h) at Re = air |V - wind| equivalent_m / viscosity; the fields
 * water_kg_m3 and viscosity_pa_s of the piece are not read. A law with only c gives a constant coefficient.
 *
 * Method:   Runge-Kutta 5(4) of Dormand and Prince (J. Comput. Appl. Math. 6 (1980) 19) with the step chosen
 *           so that the estimated error of a step stays below tolerance_m in place and tolerance_m per second
 *           in velocity; highest point and landing by Newton's method on the length of the last step.
 * Validity: one compact piece that does not spin or break; Re up to 2e5. No lift, no buoyancy in air (0.1 %),
 *           no added mass, no gusts.
 * Accuracy: with a tolerance of 1e-11 the closed forms of vertical throw, drop and straight flight to 1e-9,
 *           the table of projectile.csv to its printed digits; with 1e-3 (the commands) within 3 mm.
 *           Against real throws: not checked, no data found. The round drag law has +-10 % in Cd.
 *
 * piece, release, air   not NULL; equivalent_m and density_kg_m3 as in bf_piece
 * tolerance_m           1e-12 .. 0.01
 *
 * Returns BF_OK, BF_E_NOT_FINITE, BF_E_RANGE (a field outside the range beside its declaration),
 * BF_E_MODEL_RANGE (Re above 2e5 at release) or BF_E_NO_CONVERGE (it does not come down within 5000 steps, as
 * without gravity). On any error *flight is NaN.
 *
 * Example   6 mm sphere, 1200 kg/m3, Cd 0.47, air 1.225, 10 m/s at 45 degrees from the water, no wind
 *           -> 7.069406 m after 1.295225 s. */
BF_CHECK bf_status bf_throw_flight(const bf_piece *piece, const bf_release *release, const bf_air *air,
                                   double tolerance_m, bf_flight *flight);

/* Outputs of the throw command, in order. */
typedef struct bf_throw_out {
    double range_m;   /* the middle piece: how far out it meets the water, from below the hand           */
    double side_m;    /* ... and how far to the right of the aimed line                                  */
    double flight_s;  /* ... and after how long                                                          */
    double apex_m;    /* its greatest height above the water                                             */
    double speed_m_s; /* its speed as it meets the water                                                 */
    double carry_m;   /* how much further out the wind takes it than still air; below 0: held back       */
    double long_m;    /* along the line of the throw, nine pieces of the pinch in ten lie within this    */
    double wide_m;    /* across it                                                                       */
} bf_throw_out;

extern const bf_table bf_throw_out_table;

/* The throw command's model: a bf_scene in (bait, lake, sling), the doubles of bf_throw_out out. One draw is
 * one pinch of BF_PINCH pieces that leave together, each with its own speed, angle, bearing, size and
 * density. */
bf_status bf_throw_model(const void *scene, const bf_draw *draw, double *out);

/* Its remarks, at most BF_MOST_NOTES; returns how many. */
int bf_throw_notes(const void *scene, const bf_ensemble_result *result, bf_note *notes);

#ifdef __cplusplus
}
#endif
#endif
