/* rig.h -- how the rig hangs: one solver for the line in the air and the line in the water.
 *
 * (RIG completes this header: equations, sources, validity, accuracy, worked numbers.)
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
    BF_PART_FLOAT,      /* wind on the bristle, drift on the body                     */
    BF_PART_WATER_LINE, /* current on the line below the float                        */
    BF_PART_SHOT,
    BF_PART_BAIT,
    BF_RIG_N_PARTS
} bf_rig_part;

#define BF_RIG_POINTS 48

/* A solved rig. Places: x out, y right, z down, metres; origin: the surface straight under the pole tip. */
typedef struct bf_rig_shape {
    int contact;                  /* bf_rig_contact                                                            */
    double bait_m[3];             /* the hook bait                                                             */
    double float_m[3];            /* the float at the surface                                                  */
    double tip_tension_n, float_air_n, float_water_n, bait_tension_n; /* line tension at the tip, above and below the float, at the hook */
    double bristle_m;             /* how much of it shows, middle of the band; below 0: under, by so much        */
    double bristle_band_m;        /* half of the band that the meniscus leaves open                           */
    double steep_deg;             /* of the line just above the bait's end against the vertical, 0 upright      */
    double friction_used_frac;    /* of what the bottom can hold; 0 hanging; 1: slides                          */
    int is_lifted;                /* 1: the line from the tip carries the float                                */
    int n_air, n_water;           /* points of the drawing, tip to float and float to bait                    */
    double air_m[BF_RIG_POINTS][3];
    double water_m[BF_RIG_POINTS][3];
} bf_rig_shape;

/* Solves a settled stand at its `.value`s.
 *
 * wind_frac  factor on the lake's wind for the air span (1, or hold.gust_frac for a gust); the current is of the mean wind
 * without    bit (1 << bf_rig_part): that part feels no wind or current (for "which part causes it"); 0: all feel it
 * Returns BF_OK; BF_E_RANGE ..., BF_E_MODEL_RANGE (no equilibrium: line shorter than the tip is high, float pulled under), BF_E_NO_CONVERGE. On any
 * error *shape is NaN. */
BF_CHECK bf_status bf_rig_solve(const bf_stand *stand, double wind_frac, unsigned without, bf_rig_shape *shape);

/* Outputs of the rig command, in order. */
typedef struct bf_rig_out {
    double out_m;         /* hook bait against the point under the tip: outward                        */
    double right_m;
    double off_m;         /* ... how far                                                               */
    double above_bed_m;   /* bait above the bottom; 0: on it                                           */
    double float_off_m;   /* float against the point under the tip                                     */
    double bristle_m;     /* showing                                                                   */
    double gust_m;        /* how far a gust moves the bait                                             */
    double tension_n;     /* pull on the float through the water line                                  */
    double tip_n;         /* pull on the tip                                                           */
    double steep_deg;
    double air_part_m, float_part_m, water_line_part_m, shot_part_m, bait_part_m; /* what `off` would change without it */
    double bite_mm_per_10mg; /* bristle per 10 mg of lift: how a bite shows                            */
    double heave_s;       /* the float's own bobbing period                                            */
    double spare_n;       /* weakest link wet and knotted less the elastic at full stretch             */
} bf_rig_out;
extern const bf_table bf_rig_out_table;

bf_status bf_rig_model(const void *stand, const bf_draw *draw, double *out);
int bf_rig_notes(const void *stand, const bf_ensemble_result *result, bf_note notes[BF_MOST_NOTES]);

#ifdef __cplusplus
}
#endif
#endif
