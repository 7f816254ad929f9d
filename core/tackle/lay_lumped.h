/* lay_lumped.h -- the rig as a chain of lumps that moves: line, shot, float and bait under the pole tip.
 *
 * Nodes 0 .. n - 1 from the tip to the bait, n - 1 segments of line between them (the layout of M. Hall and A. Goupee,
 * Ocean Engineering 104 (2015) 590: half of a segment's mass and weight to either end). Axes: x out, y right, z down
 * from the surface. Model, equations and checks: docs/models/lay.md. Tests: tests/tackle/lumped_test.c */
#ifndef BAITFALL_TACKLE_LAY_LUMPED_H
#define BAITFALL_TACKLE_LAY_LUMPED_H

#include "baitfall/fall.h"

#define BFI_LUMPED_NODES 64

/* Line between two nodes. Weights are per metre of unstretched line, dry in air and wet less buoyancy. */
typedef struct bfi_segment {
    double length_m, diameter_m, stiff_n;
    double mass_kg_m, dry_n_m, wet_n_m;
} bfi_segment;

/* What sits at a node besides line. area_m2: of all spheres together as the flow sees them. */
typedef struct bfi_lump {
    double mass_kg, added_kg; /* itself; the water that moves along when it is under */
    double dry_n, wet_n;      /* weight in air, and less buoyancy                    */
    double area_m2, diameter_m;
    bf_drag drag; /* unused without area */
} bfi_lump;

/* The float at its node: upward force by how deep its bristle's foot is under the surface (above 0: under). */
typedef struct bfi_buoy {
    int node;           /* 0: no float */
    double lift_n;      /* load that brings the foot of the bristle to the surface */
    double weight_n;    /* of the float itself                                      */
    double body_long_m; /* over which the lift grows from none                      */
    double bristle_n_m; /* gained per metre of bristle under                        */
    double bristle_long_m;
} bfi_buoy;

/* Water and air about the chain. */
typedef struct bfi_around {
    bf_current current;
    bf_wind_profile wind;
    double wind_x, wind_y; /* where it blows to, a unit vector; 0, 0: calm */
    double water_kg_m3, water_pa_s, air_kg_m3, air_pa_s;
    bf_floor floor;
    double friction_frac;
    double line_drag_frac; /* factor on all drag of the line */
    double fixed_cd;       /* above 0: this normal drag whatever the speed, and no tangential; for checks */
} bfi_around;

typedef struct bfi_lumped {
    int n, is_end_held; /* node 0 goes with the tip; the last may be held as well, for checks */
    bfi_segment segment[BFI_LUMPED_NODES - 1];
    bfi_lump lump[BFI_LUMPED_NODES];
    bfi_buoy buoy;
    bfi_around around;
    double usual_n; /* a tension such as the chain knows, for the first guess when slack line comes tight */
    double x_m[BFI_LUMPED_NODES][3], v_m_s[BFI_LUMPED_NODES][3];
    double tension_n[BFI_LUMPED_NODES - 1];
} bfi_lumped;

/* Moves the chain on by dt_s while node 0 goes to tip_m: backward Euler in time, Newton's steps on places and tensions.
 * *bend_m: the most that a node came to lie off the straight way on at its old speed; half of it is the step's error.
 * Returns BF_OK, or BF_E_NO_CONVERGE with the chain as it was. */
BF_CHECK bf_status bfi_lumped_step(bfi_lumped *chain, const double tip_m[3], double dt_s, double *bend_m);

/* Speed of its fastest node. */
double bfi_lumped_fastest_m_s(const bfi_lumped *chain);

/* Lets the chain come to rest by steps that grow. BF_E_NO_CONVERGE when it does not within some hundred of them. */
BF_CHECK bf_status bfi_lumped_rest(bfi_lumped *chain);

/* How deep node i is below the bottom's plane; 0 or less: clear of it. */
double bfi_lumped_under_m(const bfi_lumped *chain, int i);

#endif
