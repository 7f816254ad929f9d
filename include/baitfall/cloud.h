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

/* What a tipped pot does on its way down. */
typedef struct bf_cloud {
    int is_cloud;    /* 0: too few or too heavy pieces, each falls alone from the surface: the rest is 0 */
    double depth_m;  /* where the cloud has slowed to the pieces' own fall speed and they leave it       */
    double radius_m; /* its radius there                                                                 */
    double time_s;   /* from the surface to there                                                        */
    double gain_s;   /* how much sooner than a piece that falls alone, start-up left out; >= 0           */
} bf_cloud;

/* count       pieces released together, >= 0
 * piece       the middle piece; one that does not sink gives BF_E_MODEL_RANGE
 * volume_m3   heaped volume of the lump as it enters the water, voids included, > 0
 * entrainment widening of the radius per depth: 0.25 usual, 0.15 .. 0.35
 * entry_m_s   speed at which the lump enters the water, >= 0
 * Returns BF_OK or the status of bf_fall_speed or BF_E_RANGE; *cloud is NaN and 0 on error. */
BF_CHECK bf_status bf_cloud_of(double count, const bf_piece *piece, double volume_m3, double entrainment,
                               double entry_m_s, bf_cloud *cloud);

#ifdef __cplusplus
}
#endif
#endif
