/* fall.h -- how one piece sinks: drag laws, terminal speed, start-up, travel in a current. */
#ifndef BAITFALL_FALL_H
#define BAITFALL_FALL_H

#include "baitfall/note.h"
#include "baitfall/scene.h"
#include "baitfall/wind.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Outputs of the fall command, in order. */
typedef struct bf_fall_out {
    double time_s;          /* of a typical piece from the surface to the bottom, hanging time not counted */
    double speed_m_s;       /* its terminal speed                                                          */
    double first_s, last_s; /* one piece in ten is down by first_s, nine in ten by last_s              */
    double reynolds;        /* its terminal Reynolds number                                                */
} bf_fall_out;

extern const bf_table bf_fall_out_table;
bf_status bf_fall_model(const void *scene, const bf_draw *draw, double *out);
int bf_fall_notes(const bf_scene *scene, const bf_ensemble_result *result, bf_note *notes);

/* One piece and the water it falls through, everything decided. */
typedef struct bf_piece {
    int form;
    double diameter_m, length_m, density_kg_m3;
    double water_kg_m3, viscosity_pa_s;
} bf_piece;

/* Where and when a piece reaches the bottom. */
typedef struct bf_landing {
    double x_m, y_m; /* from the point below the release */
    double z_m;      /* depth where it lands             */
    double time_s;
    double speed_m_s;
} bf_landing;

#ifdef __cplusplus
}
#endif
#endif
