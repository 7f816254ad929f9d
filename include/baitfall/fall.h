/* fall.h -- how one piece sinks: terminal speed, start-up, travel in a current, where it meets the bottom.
 *
 * Pure arithmetic, no memory of its own. Axes: x out from the bank, y to the angler's right, z down from the
 * surface. Model: docs/models/fall.md. Tests: tests/feed/fall_test.c, fall_command_test.c
 */
#ifndef BAITFALL_FALL_H
#define BAITFALL_FALL_H

#include "baitfall/drag.h"
#include "baitfall/note.h"
#include "baitfall/scene.h"
#include "baitfall/wind.h"

#ifdef __cplusplus
extern "C" {
#endif

/* One piece and the water it falls through, everything decided. */
typedef struct bf_piece {
    double equivalent_m;   /* diameter of the sphere of the same volume, 1e-5 .. 0.2 */
    double density_kg_m3;  /* 100 .. 20000                                           */
    double water_kg_m3;    /* 0.5 .. 1200: air works too                             */
    double viscosity_pa_s; /* 1e-6 .. 1e-2                                           */
    bf_drag drag;          /* its drag law, ranges in drag.h                          */
} bf_piece;

/* A piece of a form (bf_form; sizes as in bf_bait, > 0) with the published drag law of that form: the
 * sphere's for BF_SPHERE, BF_BALL and anything rounder than BF_DRAG_ROUND_SPHERICITY, else the shape law at
 * the form's sphericity. */
bf_piece bf_piece_of_form(int form, double diameter_m, double length_m, double density_kg_m3,
                          double water_kg_m3, double viscosity_pa_s);

/* The middle piece of a bait in a lake (their `.value`s as they stand). bait->drag_law_error moves its drag: by 10 %
 * a unit when round, 20 % otherwise. */
bf_piece bf_piece_of(const bf_bait *bait, const bf_lake *lake);

/* Another piece out of the same bag: size_z and density_z say which, in standard deviations of the bait's scatter
 * (standard normal numbers make a random one), cut off at +-3. All its measures scale alike. */
bf_piece bf_piece_other(const bf_piece *middle, const bf_bait *bait, double size_z, double density_z);

/* Steady fall speed in still water and its Reynolds number on the equivalent diameter d: where drag equals
 * weight less buoyancy,
 *
 *     Cd(Re) Re^2 = 4/3 g (density / water - 1) d^3 / nu^2,   nu = viscosity / water
 *
 * Accuracy: the equation is solved to 1e-11. The drag law itself: 5 to 6 % in speed round, 8 to 11 %
 *           otherwise (drag.h). The density matters more: 20 kg/m3 in an excess of 100 is 11 to 13 %.
 *
 * Returns BF_OK, BF_E_NOT_FINITE, BF_E_RANGE (a field outside the range beside its declaration) or
 * BF_E_MODEL_RANGE: the piece does not sink (it floats, or is exactly as dense as the water), or Re > 2e5.
 * On any error both outputs are NaN.
 *
 * Example   4 mm sphere, 1200 kg/m3, 15 C -> 0.13517 m/s at Re 474.9. */
BF_CHECK bf_status bf_fall_speed(const bf_piece *piece, double *speed_m_s, double *reynolds);

/* Where a piece starts and how it moves there: just under the surface (z_m = 0) or where a cloud lets it go.
 */
typedef struct bf_entry {
    double x_m, y_m, z_m;
    double u_m_s, v_m_s, w_m_s; /* along x, y, z; each within +-60, w_m_s >= 0 */
} bf_entry;

/* A plane bottom: depth_m + x_m slope. */
typedef struct bf_floor {
    double depth_m; /* at x = 0: 0.05 .. 20                                      */
    double slope;   /* tangent of the angle, above 0 deepens outward, within +-1 */
} bf_floor;

/* Where and when a piece reaches the bottom. */
typedef struct bf_landing {
    double x_m, y_m;  /* in the axes of the entry                       */
    double z_m;       /* depth where it lands                           */
    double time_s;    /* since the entry                                */
    double speed_m_s; /* the piece's steady speed (not that of landing) */
} bf_landing;

/* Fall of one piece through a current to the bottom:
 *
 *     (density + water / 2) dV/dt = (density - water) g - 3/4 water Cd(Re) |V - U| (V - U) / d
 *
 * V the piece's velocity, U(z) the current's, Re on |V - U|; half the displaced water moves along (added mass
 * of a sphere, a standard result). Below its own depth the current goes on as it moves there.
 *
 * Left out: the history force (it delays the start by part of its 5 to 60 mm), lift, wobble and tumbling
 *           (spread.h adds a sideways scatter), other pieces nearby (cloud.h), turbulence.
 * Method:   integrated while the piece starts, brakes or crosses the skin, then in closed form (descent.c).
 * Accuracy: against a converged Runge-Kutta integration of the same equation, for 1.5 to 20 mm, excess
 *           density up to 600 kg/m3, 0 to 30 C, depth 0.2 to 6 m, skins of 1 mm to 0.5 m at up to 0.3 m/s,
 *           entry up to 10 m/s, slopes up to 30 degrees and pieces that sink at 5 mm/s or more: within 1 mm and
 *           5 ms (worst of 20,000 random worlds 0.96 mm and 3.4 ms). On slopes pieces of 5 to 30 mm/s keep
 *           the 1 mm; a bottom that falls away with them adds up to 1/10,000 of their time.
 *
 * Returns BF_OK; the errors of bf_fall_speed for the piece; BF_E_NOT_FINITE or BF_E_RANGE for the entry, the
 * floor or the current (depth 0.01 .. 100 m, skin 1e-4 .. 100 m, skin speeds within +-5 m/s, coefficients
 * within +-50 m/s), also when it starts below the bottom; BF_E_MODEL_RANGE when it never meets the bottom
 * (carried out over one that falls away faster than it sinks); BF_E_NO_CONVERGE when it hovers: it sinks
 * at a few mm/s in a current a hundred times as fast. On any error *landing is NaN.
 *
 * Example   4 mm sphere, 1200 kg/m3, 15 C, at rest under the surface of 1.5 m of still water -> 11.186 s. */
BF_CHECK bf_status bf_fall_land(const bf_piece *piece, const bf_entry *entry, const bf_current *current,
                                const bf_floor *floor, bf_landing *landing);

/* The same for n pieces at once, to the same bytes and three to four times as fast.
 * pieces, entries (in n), status, landings (out n): each as bf_fall_land would give it. */
void bf_fall_land_many(const bf_piece *pieces, const bf_entry *entries, size_t n, const bf_current *current,
                       const bf_floor *floor, bf_status *status, bf_landing *landings);

/* Outputs of the fall command, in order. */
typedef struct bf_fall_out {
    double time_s;          /* of the middle piece from the surface to the bottom, hanging time not counted */
    double speed_m_s;       /* its terminal speed                                                           */
    double first_s, last_s; /* one piece in ten is down by first_s, nine in ten by last_s                   */
    double reynolds;        /* the middle piece's terminal Reynolds number                                  */
} bf_fall_out;

extern const bf_table bf_fall_out_table;

/* The fall command's model: a bf_scene in, the doubles of bf_fall_out out. */
bf_status bf_fall_model(const void *scene, const bf_draw *draw, double *out);

/* Its remarks, at most BF_MOST_NOTES; returns how many. */
int bf_fall_notes(const void *scene, const bf_ensemble_result *result, bf_note *notes);

#ifdef __cplusplus
}
#endif
#endif
