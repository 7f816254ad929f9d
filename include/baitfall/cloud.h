/* cloud.h -- when a tipped pot falls as one cloud that carries water with it, and where the pieces leave it.
 *
 * Pure arithmetic. Model: docs/models/cloud.md. Tests: tests/feed/cloud_test.c
 */
#ifndef BAITFALL_CLOUD_H
#define BAITFALL_CLOUD_H

#include "baitfall/fall.h"

#ifdef __cplusplus
extern "C" {
#endif

/* With fewer pieces each falls alone: a judgement, no experiment with so few was found. */
#define BF_CLOUD_LEAST_PIECES 20

/* What a tipped pot does on its way down. */
typedef struct bf_cloud {
    int is_cloud;    /* 0: too few pieces, each falls alone from the surface; the rest is 0       */
    double depth_m;  /* where the pieces leave it; may lie below the bottom, which is not known here */
    double radius_m; /* its radius there                                                          */
    double time_s;   /* from the surface to there                                                 */
    double gain_s;   /* how much sooner than a piece at its own steady speed; >= 0                */
} bf_cloud;

/* The cloud that `count` pieces make when they enter the water together.
 *
 * It widens by taking in water, radius = r0 + entrainment z, with r0 that of a sphere of the heaped volume,
 * and is driven by the pieces' weight less buoyancy, as a thermal (cloud.c has its closed form). The pieces
 * stay in it down to the measured fallout depth
 *
 *     depth = 11 a (Q^1/2 / (w a))^0.83,   Q = count g (density / water - 1) (4/3) pi a^3
 *
 * with a half the equivalent diameter and w the steady speed of one piece alone. Until then they go at the
 * cloud's speed or at their own, whichever is larger.
 *
 * Source:   J. W. M. Bush, B. A. Thurber, F. Blanchette, "Particle clouds in homogeneous and stratified
 *           environments", J. Fluid Mech. 489 (2003) 29: the fallout depth, 11 +- 2, read in the abstract.
 *           Entrainment 0.2 to 0.3 in sediment dropped at once: an MIT project page on G. Ruggaber's thesis
 *           of 2000, read. Thermals: B. R. Morton, G. Taylor, J. Turner 1956, from memory.
 * Validity: w a / nu 0.1 to 300 (6 and 8 mm pellets go to 800), still water, pieces of one size, all at once.
 *           For fast particles the authors also give (9 +- 2) count^1/2 a: 0.9 to 1.1 times this for 20 to
 *           400 pellets of 2 to 8 mm.
 * Accuracy: the depth +- 18 % by its authors. Not measured on feed, and a pole pot is at the small end of
 *           what was measured: a rough estimate. The width depends mostly on the entrainment.
 *
 * count       pieces, 0 .. 1e6
 * piece       the middle piece
 * volume_m3   of the lump as it enters the water, voids included, 1e-12 .. 1
 * entrainment 0.05 .. 0.5; 0.25, give or take 0.05, is usual
 * entry_m_s   speed at which the lump enters the water, 0 .. 60
 *
 * Returns BF_OK, the errors of bf_fall_speed for the piece, BF_E_NOT_FINITE or BF_E_RANGE; on any error
 * is_cloud is 0 and the numbers are NaN.
 *
 * Example   50 cylinders of 4.4 x 5.5 mm and 1225 kg/m3 in water of 12 C, lump 7.2e-6 m3, entrainment 0.25,
 *           entry at 1.4 m/s -> depth 0.171 m, radius 0.055 m, 1.12 s, 0.12 s gained. */
BF_CHECK bf_status bf_cloud_of(double count, const bf_piece *piece, double volume_m3, double entrainment,
                               double entry_m_s, bf_cloud *cloud);

#ifdef __cplusplus
}
#endif
#endif
