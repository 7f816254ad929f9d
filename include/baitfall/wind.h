/* wind.h -- wind over water, and what it does to a closed basin: skin drift on top, return flow below.
 *
 * Pure arithmetic. Axes: x out from the bank, y to the angler's right, z down from the surface; `height_m` is
 * up. Model: docs/models/water.md. Tests: tests/water/wind_test.c
 */
#ifndef BAITFALL_WIND_H
#define BAITFALL_WIND_H

#include "baitfall/note.h"
#include "baitfall/water.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Below this wind at 10 m no drag law was fitted to data. The stress goes on falling by the low-wind law; the
 * profile keeps the shape it has here, because that law's roughness would grow to centimetres. */
#define BF_WIND_LEAST_FITTED_M_S 1.5

/* Drag coefficient of a lake's surface, for the wind at 10 m (m/s, > 0):
 *
 *     low wind   0.0044 U^-1.15                           small ripples; fitted at 1.5 to about 4 m/s
 *     Charnock   [ln(10 g / (C U^2)) / 0.41 + 11.3]^-2    waves as the roughness; 4 m/s and above
 *     used       the larger of the two, which cross near 4 m/s
 *
 * Why these: both were fitted to lakes; the open-sea laws (1.0e-3 to 1.2e-3 whatever the wind) have no
 *            ripples. The larger of the two keeps the law continuous and the stress increasing.
 * Source:    A. Wuest and A. Lorke, Annu. Rev. Fluid Mech. 35 (2003) 373, fig. 3, as coded in a public
 *            surface-velocity program that cites it; the paper itself was not seen.
 * Accuracy:  against the open-sea 1.2e-3: +65 % at 2 m/s, -22 % at 4 m/s, -10 % at 6 m/s. Call it +-30 %,
 *            which is +-15 % in the basin flow below.
 * Example    U = 2 -> 0.001983; U = 5 -> 0.001011. */
double bf_surface_drag_low_wind(double wind_10_m_s);
double bf_surface_drag_charnock(double wind_10_m_s);
double bf_surface_drag(double wind_10_m_s);

/* Stress of the wind on the water, Pa: air density x drag x U^2; 0 without wind. */
double bf_wind_stress_pa(double wind_10_m_s, double air_kg_m3);

/* Wind over height by the logarithmic law of a neutral surface layer, U(h) = per_e_m_s ln(h / roughness_m)
 * with per_e_m_s = sqrt(C) U / 0.41; 0 at and below the roughness. Not behind trees: there, measure low. */
typedef struct bf_wind_profile {
    double per_e_m_s;   /* gained each time the height grows e-fold, >= 0 */
    double roughness_m; /* > 0                                            */
} bf_wind_profile;

/* The profile of a wind at 10 m with a drag coefficient, and with the one of bf_surface_drag.
 * Example   U = 4, C = 1.2e-3 -> roughness 0.0724 mm, 2.988 m/s at 0.5 m. */
bf_wind_profile bf_wind_profile_drag(double wind_10_m_s, double drag);
bf_wind_profile bf_wind_profile_of(double wind_10_m_s);
double bf_wind_at(const bf_wind_profile *profile, double height_m);

/* Wind at 10 m from a wind at any height of the field table (0.5 to 20 m); bf_wind_at gives it back within
 * 1e-12. */
double bf_wind_10_m_s(double wind_m_s, double height_m);

/* Steady wind-driven flow of a long, shallow, closed basin with one eddy viscosity and a no-slip bed:
 *
 *     u = surface (1 - 4 s + 3 s^2),   surface = stress depth / (4 density mixing),   s = z / depth
 *
 * It carries nothing in sum; it turns at depth / 3 and runs back fastest, surface / 3, at 2 depth / 3. The
 * usual closure is mixing = friction velocity x depth / 15, which makes surface = 3.75 friction velocities,
 * about 0.5 % of the wind: the 2 to 3 % seen at the very surface lives in a skin of some millimetres, not in
 * this flow.
 *
 * Source:   exact solution of density mixing u'' = density g slope, stress given on top, u = 0 at the bed.
 * Example   stress 0.02352 Pa, depth 2 m, mixing 1e-4 m2/s, density 999.1 -> 0.1177 m/s. */
double bf_basin_mixing_m2_s(double stress_pa, double depth_m, double water_kg_m3);
double bf_basin_surface_m_s(double stress_pa, double depth_m, double water_kg_m3, double mixing_m2_s);

/* Time constant with which that flow grows once the water's slope stands: depth^2 / (k^2 mixing), tan k = k,
 * k = 4.493409 (the slowest mode that carries nothing in sum). Example: 2 m, 6.47e-4 m2/s -> 306 s. */
double bf_basin_spin_up_s(double depth_m, double mixing_m2_s);

/* Horizontal current over depth at one spot: a skin that decays with depth plus a polynomial in z / depth. */
typedef struct bf_current {
    double depth_m;                      /* > 0                                              */
    double skin_x_m_s, skin_y_m_s;       /* skin drift at z = 0, beyond the polynomial       */
    double skin_m;                       /* e-folding depth of the skin, > 0                 */
    double coef_x_m_s[4], coef_y_m_s[4]; /* u(s) = sum coef[k] s^k, s = z / depth_m in 0..1  */
} bf_current;

/* No current at all. */
bf_current bf_current_still(double depth_m);

/* The current of a lake record (its `.value`s as they stand) over a depth.
 *
 * still     nothing moves.
 * wind      the very surface goes with the wind at skin_frac x U10. That is basin flow (above, mixing times
 *           mixing_frac) plus a skin that dies away over skin_m. What the skin carries downwind comes back
 *           below as -1.5 (carried / depth) (1 - s^2), the flow a slope drives over a bed that holds, so that
 *           in sum nothing is carried. When the wind is young, everything but the skin is scaled by
 *           1 - exp(-(wind_for_s - fetch / sqrt(g depth)) / spin-up), and by 0 until the slope stands.
 * measured  the very surface at surface_drift_m_s, and a basin flow whose fastest return is undertow_m_s;
 *           both along drift_side_deg. It need not carry nothing in sum: the measurement has the word.
 *
 * Validity: the middle of a basin many depths long, not within a depth or two of a bank, island or weed bed;
 *           mixed water (a warm layer slides over a cold one); wind 1.5 to 20 m/s. Not modelled: turning by
 *           the earth's rotation (takes a day), the waves' own drift (about 0.3 % of the wind at 100 m fetch,
 *           inside skin_frac), gusts, rows of Langmuir cells.
 * Accuracy: against measured ponds: not checked, no data found. The give or take of skin_frac, skin_m and
 *           mixing_frac spans what is published.
 *
 * Returns BF_OK; BF_E_NOT_FINITE or BF_E_RANGE when depth_m is not a number above 0 (*current is then NaN).
 * Example   wind 4 m/s outward, start values, 12 C, depth 2 m -> 0.100 m/s on top, -0.0057 m/s at 1.33 m. */
BF_CHECK bf_status bf_current_of(const bf_lake *lake, double depth_m, bf_current *current);

/* Velocity at depth z_m; z is taken as 0 above the surface and as depth_m below the bed. */
void bf_current_at(const bf_current *current, double z_m, double *x_m_s, double *y_m_s);

/* Integral of the velocity over z from the surface to z_m (0 .. depth_m), m2/s: divided by a constant fall
 * speed it is the sideways travel of a piece that follows the water exactly. Closed form. */
void bf_current_integral(const bf_current *current, double z_m, double *x_m2_s, double *y_m2_s);

/* What to mind about this current: wind outside the fitted range, a basin short for its depth, warm water.
 * Writes at most BF_MOST_WIND_NOTES notes; returns how many. */
#define BF_MOST_WIND_NOTES 3
int bf_wind_notes(const bf_lake *lake, double depth_m, bf_note *notes);

#ifdef __cplusplus
}
#endif
#endif
