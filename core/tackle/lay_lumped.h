/* lay_lumped.h -- the rig as a chain of lumps that moves: line, shot, float and bait under the pole tip.
 *
 * Nodes 0 .. n - 1 from the tip to the bait, n - 1 segments of line between them (the layout of M. Hall and A. Goupee,
 * Ocean Engineering 104 (2015) 590: half of a segment's mass and weight to either end). Axes: x out, y right, z down
 * from the surface. Model, equations and checks: docs/models/lay.md. Tests: tests/tackle/lumped_test.c */
#ifndef BAITFALL_TACKLE_LAY_LUMPED_H
#define BAITFALL_TACKLE_LAY_LUMPED_H

#include "baitfall/fall.h"
#include "core/tackle/cable.h"

#define BFI_LUMPED_NODES 100

/* Line between two nodes, unstretched. */
typedef struct bfi_segment {
    bfi_cable line;
    double length_m, mass_kg_m;
} bfi_segment;

/* What sits at a node besides line. area_m2: of all spheres together as the flow sees them. */
typedef struct bfi_lump {
    double mass_kg, added_kg; /* itself; the water that moves along when it is under */
    double dry_n, wet_n;      /* weight in air, and less buoyancy                    */
    double area_m2, diameter_m;
    bf_drag drag; /* unused without area                                            */
    /* It goes under over its height, whose middle hangs below_m below the node. No height: there is nothing. */
    double tall_m, below_m;
} bfi_lump;

/* The float at its node: it carries lift_n and itself with the node at the surface, less by as much of its body as comes
 * out, and more by bristle_n_m a metre that goes under. */
typedef struct bfi_buoy {
    int node; /* 0: no float */
    double lift_n, weight_n, body_long_m, bristle_n_m;
} bfi_buoy;

typedef struct bfi_lumped {
    int n, is_end_held; /* node 0 goes with the tip; the last may be held as well, for checks */
    bfi_segment segment[BFI_LUMPED_NODES - 1];
    bfi_lump lump[BFI_LUMPED_NODES];
    bfi_buoy buoy;
    bfi_stream stream; /* length_m: of line under water */
    bf_floor floor;
    double friction_frac; /* of what presses a node on the bottom */
    double usual_n;       /* a tension such as the chain knows: the first guess when slack line comes tight */
    double slack_n;       /* how soft slack line is: it is shorter by slack_n / tension of its length       */
    double x_m[BFI_LUMPED_NODES][3], v_m_s[BFI_LUMPED_NODES][3];
    double tension_n[BFI_LUMPED_NODES - 1];
} bfi_lumped;

/* Moves the chain on by dt_s while node 0 goes to tip_m: backward Euler in time, Newton's steps on places and tensions.
 *
 * *bend_m  the most that a node came to lie off the straight way on at its old speed; half of it is the step's error.
 *          Infinite when Newton's steps did not come to an end.
 * Returns BF_OK, or BF_E_NO_CONVERGE with the chain as it was: no end, or a bend of more than most_bend_m. */
BF_CHECK bf_status bfi_lumped_step(bfi_lumped *lumped, const double tip_m[3], double dt_s, double most_bend_m,
                                   double *bend_m);

/* Speed of its fastest node. */
double bfi_lumped_fastest_m_s(const bfi_lumped *chain);

/* Lets the chain come to rest by steps that grow. BF_E_NO_CONVERGE when it does not within 2000 of them. */
BF_CHECK bf_status bfi_lumped_rest(bfi_lumped *chain);

/* How deep node i is below the bottom's plane; 0 or less: clear of it. */
double bfi_lumped_under_m(const bfi_lumped *chain, int i);

#endif
