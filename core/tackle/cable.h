/* cable.h -- a line at rest in wind and water: the drag of a thin cylinder, and marching along a line from its lower end.
 *
 * Axes: x out, y right, z down from the surface. A line is marched upwards: with T the pull that the part above exerts on
 * the part below, T = -(everything that pulls on what lies below), and
 *
 *     dr/ds = (1 + |T| / EA) T / |T|,      dT/ds = -q,      q = weight + drag, a metre of unstretched line
 *
 * Pure; no allocation. Model: docs/models/rig.md. Tests: tests/tackle/cable_test.c
 */
#ifndef BAITFALL_TACKLE_CABLE_H
#define BAITFALL_TACKLE_CABLE_H

#include "baitfall/wind.h"

/* Drag coefficient of a cylinder across the flow:
 *
 *     Cd(Re) = 11 Re^-0.75 + 0.9 (1 - exp(-1000 / Re)) + 1.2 (1 - exp(-(Re / 4500)^0.7)),   Re > 0 (asserted)
 *
 * Source:   N.-S. Cheng, "Calculation of drag coefficient for arrays of emergent circular cylinders with
 *           pseudofluid model", J. Hydraul. Eng. 139 (2013) 602; read as code that cites it.
 * Validity: Re <= 2e5. Fishing line lies at 0.1 to 70. Below 0.1 it falls short of Lamb's law (30 % at 0.001), where the
 *           force is next to nothing.
 * Accuracy: within 3 % of Dennis and Chang's computed 4.12, 2.85, 2.05 at Re 5, 10, 20, 8 % at 40 (their figures from memory).
 *           Five published laws scatter by 10 to 13 % about each other: that is hold.line_drag_error's unit.
 * Example   Re 5 -> 4.200. */
double bfi_cylinder_drag(double reynolds);

/* The same by the form credited to Sucker and Brauer: 1.18 + 6.8 Re^-0.89 + 1.96 Re^-0.5 - 0.0004 Re / (1 + 3.64e-7 Re^2).
 * 6 to 11 % lower at Re 1 to 10, 8 to 14 % higher at 40 to 100 than the above. The check tables were made with it, so
 * the fixed mode takes it. Source: Nellis and Klein 2021, who cite White 1991, as code. Example: Re 5.266 -> 3.582. */
double bfi_cylinder_drag_fixed(double reynolds);

/* Drag along a cylinder, force a metre over viscosity x speed along it, for a line of so many metres in one stream:
 *
 *     force = 2 pi k viscosity U,      1 / k = 0.9015 + 0.3362 X + 0.01493 X^2 - 0.000456 X^3,
 *     X = ln(nu length / (U radius^2)), held to 0.7 .. 16.8
 *
 * Source:   M. B. Glauert and M. J. Lighthill, Proc. R. Soc. A 230 (1955) 188, Pohlhausen's method, integrated by us; the
 *           cubic is our fit, within 1.2 % of it.
 * Accuracy: the method about 10 %. Drag along is 5 to 20 % of drag across at the same speed.
 * Example   0.12 mm, 1 m, 0.05 m/s, nu 1.139e-6 -> 1 / k = 5.02; as a coefficient on d x length 0.51. */
double bfi_cylinder_along(double kinematic_m2_s, double length_m, double speed_m_s, double diameter_m);

typedef struct bfi_fluid {
    double kg_m3, pa_s;
} bfi_fluid;

/* What the line stands in. */
typedef struct bfi_stream {
    bf_current current;
    bf_wind_profile wind;
    double wind_x,
        wind_y; /* where the wind blows to, times any gust factor; 0, 0: calm                     */
    bfi_fluid water, air;
    int is_fixed;     /* drag by fixed coefficients, the square of the sine, none along the line        */
    double drag_frac; /* factor on all drag of line; 0: this line feels nothing                        */
    double length_m;  /* of the whole span: how far the flow along it has come                          */
} bfi_stream;

/* One kind of line. */
typedef struct bfi_cable {
    double diameter_m, stiffness_n; /* E A; infinite: does not stretch                  */
    double air_n_m, water_n_m;      /* weight of a metre, in water less its buoyancy    */
    double fixed_air, fixed_water;  /* drag coefficients of the fixed mode              */
} bfi_cable;

/* A place on the line and the pull of what is above it. */
typedef struct bfi_strand {
    double at_m[3], pull_n[3];
} bfi_strand;

/* What a piece of line runs through. BFI_IN_AIR takes it into the water where it is below the surface; the change is spread over
 * the first 5 mm, about a ripple. BFI_IN_WATER is in water all along: above the surface it feels the surface's own
 * current. */
typedef enum bfi_medium { BFI_IN_WATER, BFI_IN_AIR } bfi_medium;

/* What a line feels of a fluid, its numbers made ready once for each march. */
typedef struct bfi_felt {
    double re_per_m_s, re2_per_m2_s2; /* Reynolds number over speed, and its square    */
    double half_pa_s;                 /* half the viscosity                            */
    double along_m_s, log_along; /* 4 nu length / diameter^2, and its logarithm: see bfi_cylinder_along */
    double fixed_kg_m2;          /* density x diameter x fixed coefficient / 2    */
} bfi_felt;

/* A line in its streams, made ready; stream and cable must outlive it. */
typedef struct bfi_feeling {
    const bfi_stream *stream;
    const bfi_cable *cable;
    bfi_medium medium;
    double stretch_per_n;
    double per_depth, per_skin, per_roughness; /* a metre */
    bfi_felt water, air;
} bfi_feeling;

bfi_feeling bfi_feeling_of(const bfi_stream *stream, bfi_medium medium, const bfi_cable *cable);

/* A line under an even load, exactly: with T(s) = T - q s and a = T.q/|q|, b what of T is square to q,
 *
 *     r(s) = r + [sqrt(a^2 + b^2) - sqrt((a - |q| s)^2 + b^2)] / |q| along q
 *              + [asinh(a/|b|) - asinh((a - |q| s)/|b|)] b / |q|    + (T s - q s^2/2) / EA
 *
 * the catenary, in whatever direction the load pulls. Goes through a fold (b = 0) as well.
 * Example   1 N/m down, 2 sinh 1 m, the pull at the lower end 1 N out and 1.1752 N down -> 2 m out, at the same height. */
void bfi_even_load(const double q_n_m[3], double stiffness_n, double length_m, bfi_strand *strand);

/* Goes length_m along a line that floats on the surface's film, which carries its weight (0.12 mm nylon weighs a thousandth of what
 * a film can carry), and drifts with the surface: an even load, by the drag on its lower end's direction. Pull downward or
 * upward stays as it is. Pulled by less than about a micronewton a floating line lies as it fell (judgement): it reaches
 * pull / sqrt(pull^2 + 1e-6^2) of its length. */
void bfi_float_along(const bfi_stream *stream, const bfi_cable *cable, double length_m, bfi_strand *strand);

/* Goes length_m up the line from *strand, and puts it where it gets to.
 *
 * Dormand and Prince's fifth order with the steps set by its fourth: a step's error in place, and its error in pull
 * over the pull, times the span's length, stay below tolerance_m.
 * At a fold, where the pull passes through nothing, its direction is T / sqrt(T^2 + floor^2) with a floor of 1e-10 N, so
 * that the line turns within some micrometres. A real line is stiffer (0.12 mm nylon turns within some centimetres under
 * its own weight); stiffness in bending is left out everywhere.
 * Returns BF_OK, BF_E_NOT_FINITE, or BF_E_NO_CONVERGE after 4000 steps. */
BF_CHECK bf_status bfi_march(const bfi_stream *stream, bfi_medium medium, const bfi_cable *cable,
                             double length_m, double tolerance_m, bfi_strand *strand);

/* The flow at a depth (above the surface: the wind), m/s, outward and right. */
void bfi_flow_at(const bfi_stream *stream, bfi_medium medium, double z_m, double flow_m_s[2]);

/* How much of a thing at z is in the water: 0 above the surface, 1 from `over_m` below it, smooth between. */
double bfi_wet_frac(double z_m, double over_m);

#endif
