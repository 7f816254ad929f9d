/* rig.h -- how the rig hangs: one solver for the line in the air and the line in the water.
 *
 * Pure arithmetic; no allocation. Axes: x out, y to the angler's right, z down; the origin is the point of the surface straight
 * under the pole tip. Model: docs/models/rig.md. Tests: tests/tackle/cable_test.c, rig_test.c, rig_oracle_test.c,
 * rig_practice_test.c
 *
 * A line at rest: with T the pull of what is above on what is below, and s metres of unstretched line upwards,
 *
 *     dr/ds = (1 + |T| / EA) T / |T|,    dT/ds = -(weight + drag),    at a shot T drops by its weight and drag
 *     drag  = 1/2 rho d Cd(Re_n) |U_n| U_n across the line + 2 pi k mu U_t along it        (a metre; core/tackle/cable.h)
 *
 * U is the current at the depth (bf_stand_current), in the air the wind at the height (bf_wind_at). From the bait the line is
 * followed up to the float, from there to the tip; the bait's depth closes the first, the pull above the float the second.
 *
 * float     stands on the surface: its body, stem and the wet part of its bristle drag in the current of their depths, the dry
 *           part in the wind. What shows is bf_float_shows_m of what pulls it down. Lifted, it is raised until the line's pull
 *           carries all of it.
 * dotted    by eye (rig.dotting): trimmers come on or off until in calm water dotted_m shows under shot, hook and line, and
 *           under the bait as well where it is set more than 3 cm off the bottom; BF_TRIMS_FRAC of the lift at most. They
 *           weigh on the float alone. As shotted: none.
 * above     too much line for its pull floats on the water, and drifts; the lowest back shot, when that line comes so far,
 *           sinks and draws it under.
 * hanging   the bait is in balance; the rig drifts until the line to the tip holds it.
 * touching, lying   The bait is let down upright on a tight line, the float still above the water; there it stays while
 *           the push that takes is within friction x what presses on the bottom, and else is dragged straight on until it
 *           is just held. Line that lies without pull is slack: then nothing draws at the bait.
 *
 * Left out: stiffness of the line in bending, waves, the rig's swing, a float that leans, drag of the hook, shot in a bulk
 *           sheltering each other, fish. How the rig was laid in (hold.lowering) is lay's.
 * Validity: steady wind and current for as long as the rig takes to come to rest: seconds on the bottom, a minute or more
 *           hanging. Hook and bait together heavier than water.
 * Accuracy: of the solution, against GSL's on 200 rigs on tight line without back shots, hanging or touching: places within
 *           0.1 mm, pulls within 0.1 % or 0.1 micronewton. Lifted floats, line that lies, floats or sinks have models of
 *           their own, which nothing else solves. Where line above is slack and wind and drift cross, the float to 3 cm; where a lifted bait just parts from the bottom, to
 *           2 cm. Of the model: no measured rigs were found;
 *           the line's drag is known to 10 %, what the bottom holds is judgement.
 */
#ifndef BAITFALL_RIG_H
#define BAITFALL_RIG_H

#include "baitfall/command.h"
#include "baitfall/stand.h"

#ifdef __cplusplus
extern "C" {
#endif

/* hanging: the bait is clear of the bottom. touching: it carries part of its weight. lying: line lies as well. */
typedef enum bf_rig_contact { BF_HANGS, BF_TOUCHES, BF_LIES } bf_rig_contact;

/* What moves the hook bait away from under the tip. */
typedef enum bf_rig_part {
    BF_PART_AIR_LINE,   /* wind on the line between tip and float, back shots with it */
    BF_PART_FLOAT,      /* wind on the bristle, drift on the body */
    BF_PART_WATER_LINE, /* current on the line below the float */
    BF_PART_SHOT,
    BF_PART_BAIT,
    BF_RIG_N_PARTS
} bf_rig_part;

#define BF_RIG_POINTS 48

/* A solved rig. Places: x out, y right, z down, metres; origin: the surface straight under the pole tip. */
typedef struct bf_rig_shape {
    int contact;          /* bf_rig_contact */
    double bait_m[3];     /* the hook bait */
    double float_m[3];    /* the float at the surface */
    double tip_tension_n; /* pull of the line at the tip, above and below the float, at the hook */
    double float_air_n, float_water_n, bait_tension_n;
    double bristle_m;          /* how much of it shows, middle of the band; below 0: under, by so much */
    double bristle_band_m;     /* half of the band that the meniscus leaves open */
    double steep_deg;          /* lean of the straight from float to bait, 0 upright */
    double friction_used_frac; /* of what the bottom holds; 0: hanging or slack; 1: dragged */
    int is_lifted;             /* 1: the line from the tip carries the float */
    int n_air, n_water;        /* points of the drawing, tip to float and float to bait */
    double air_m[BF_RIG_POINTS][3];
    double water_m[BF_RIG_POINTS][3];
} bf_rig_shape;

/* Solves a settled stand at its `.value`s.
 *
 * wind_frac  factor on the lake's wind for the air span and the bristle; the current stays that of the mean wind. At 1 the bait is as
 *            it was let down; else it was down in the mean wind and moves on from there: a gust
 * without    bit (1 << bf_rig_part): that part feels no wind or current (for "which part causes it"); 0: all feel it
 * *shape     not NULL; always written. The drawing has BF_RIG_POINTS points a span, tip to float and float to bait; slack
 *            and lying line are drawn straight.
 *
 * hold.drag_mode 1 is for checks: a coefficient for each span by bfi_cylinder_drag_fixed at the surface's current and at the
 * wind by the tip, the square of the sine, no drag along the line.
 *
 * Returns
 *   BF_OK              *shape is the answer. A float that is overloaded has bristle_m below 0 and is otherwise treated as if
 *                      it stood at the surface; one that is lifted has is_lifted 1
 *   BF_E_NOT_FINITE, BF_E_RANGE   the depth, as bf_current_of
 *   BF_E_MODEL_RANGE   no balance: the tip as high as its line is long, less than 5 cm of line below the float, hook and bait
 *                      lighter than water, more line than depth and slope can lay down, or wind that blows the rig
 *                      out of the water
 *   BF_E_NO_CONVERGE   the search stopped (none of 100 000 rigs at random, tests/tackle/random_rig.h)
 * On any error the numbers of *shape are NaN and it has no points.
 *
 * Example   the start rig "middle" over 1.62 m of water at 12 C, wind 2 m/s to the right: the float stands 13.4 cm to the right,
 *           the bait where it was put, 0.1 cm right; in 3 m/s it is dragged to 23 cm. */
BF_CHECK bf_status bf_rig_solve(const bf_stand *stand, double wind_frac, unsigned without,
                                bf_rig_shape *shape);

/* A solved rig without its drawing: for searches that solve many. */
typedef struct bf_rig_rest {
    double bait_m[2]; /* outward and right of the point under the tip */
    double bristle_m; /* as in bf_rig_shape, likewise is_lifted       */
    int is_lifted;
} bf_rig_rest;

/* put_m (in 2)  where the bait rested before, outward and right; NULL: let down from above. A gust of bf_rig_solve is this in the
 *               mean wind (wind_frac 1, NULL), then in its own from where that left the bait.
 * Returns as bf_rig_solve; on any error the numbers are NaN. */
BF_CHECK bf_status bf_rig_rest_of(const bf_stand *stand, double wind_frac, const double *put_m,
                                  bf_rig_rest *rest);

/* Outputs of the rig command, in order. */
typedef struct bf_rig_out {
    double out_m; /* hook bait against the point under the tip: outward */
    double right_m;
    double off_m;       /* ... how far */
    double above_bed_m; /* bait above the bottom; 0: on it */
    double float_off_m; /* float against the point under the tip */
    double bristle_m;   /* showing */
    double gust_m;      /* how far a gust moves the bait */
    double tension_n;   /* pull on the float through the water line */
    double tip_n;       /* pull on the tip */
    double steep_deg;   /* lean from float to bait, 0 upright */
    double air_part_m;  /* what `off` would lose without it; likewise the others */
    double float_part_m, water_line_part_m, shot_part_m, bait_part_m;
    double bite_mm_per_10mg; /* bristle per 10 mg of lift: how a bite shows */
    double heave_s;          /* the float's own bobbing period */
    double spare_n;          /* weakest link wet and knotted less the elastic at full stretch */
} bf_rig_out;
extern const bf_table bf_rig_out_table;

/* The rig command's model: a settled bf_stand in, the doubles of bf_rig_out out. The five parts are worked out for the inputs as given
 * alone (draw->is_nominal), NaN in draws: each takes a solve of its own. Statuses as bf_rig_solve, the row then NaN. */
bf_status bf_rig_model(const void *stand, const bf_draw *draw, double *out);

/* Its remarks; returns how many. */
int bf_rig_notes(const void *stand, const bf_ensemble_result *result, bf_note notes[BF_MOST_NOTES]);

#ifdef __cplusplus
}
#endif
#endif
