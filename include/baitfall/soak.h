/* soak.h -- water going into a piece: how much, how dense and how big it is then, how soft.
 *
 * Pure arithmetic. Model: docs/models/soak.md. Tests: tests/feed/soak_test.c
 */
#ifndef BAITFALL_SOAK_H
#define BAITFALL_SOAK_H

#include "baitfall/note.h"
#include "baitfall/scene.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Gain after a time, Peleg's curve: time / (k1 + k2 time). Rate at first 1/k1, in the end 1/k2, half of that at
 * k1/k2. Any units, as long as they agree.
 * Source:   M. Peleg, J. Food Sci. 53 (1988) 1216. Example   k1 0.714 min/%, k2 0.043 1/%, 10 min -> 8.7413 %. */
double bf_peleg_gain(double time, double k1, double k2);

/* How much faster water goes in at temp_c than at 20 C, by Arrhenius' law through warm_ratio, the ratio of 20 C to
 * 10 C. Example   ratio 1.4280 (24.59 kJ/mol), 10 C -> 1 / 1.4280. */
double bf_soak_speed_up(double temp_c, double warm_ratio);

/* Diffusion into a sphere whose surface is wet from the start: fraction of the final uptake, and the local fraction at
 * radius x (0 centre .. 1 surface), after time number fo = D t / a^2.
 *
 *     mean = 1 - 6/pi^2 sum exp(-n^2 pi^2 fo) / n^2
 *     at x = 1 + 2/(pi x) sum (-1)^n sin(n pi x) exp(-n^2 pi^2 fo) / n
 *
 * and for small fo the equal short-time forms. Source:   J. Crank, The Mathematics of Diffusion, 6.3.
 * Accuracy: 1e-9. Example   fo 0.05: mean 0.606940. fo >= 0, x in [0, 1]. */
double bf_crank_mean_frac(double fo);
double bf_crank_local_frac(double fo, double x);

/* Density after taking up `uptake` kg of water per kg dry: open pores fill first, then the piece swells by the volume of
 * the water:
 *
 *     wet = dry (1 + uptake) / swelling,   swelling = 1 + max(0, uptake dry / water - pores)
 *
 * Example   1100 kg/m3, pores 0.20, uptake 0.42, water 1000 -> 1237.72 kg/m3, swelling 1.2620. */
double bf_soak_swelling(double dry_kg_m3, double pore_frac, double uptake_frac, double water_kg_m3);
double bf_soak_wet_kg_m3(double dry_kg_m3, double pore_frac, double uptake_frac, double water_kg_m3);

/* The inverse: dry density of a piece whose density at that uptake is known. NaN when no dry density gives it. */
double bf_soak_dry_kg_m3(double wet_kg_m3, double pore_frac, double uptake_frac, double water_kg_m3);

/* Outputs of the soak command, in order. */
typedef struct bf_soak_out {
    double uptake_frac;       /* kg of water per kg dry when it comes out of the water            */
    double wet_density_kg_m3; /* then                                                             */
    double wet_diameter_m;    /* then                                                             */
    double soft_frac;         /* part of the volume that is soft after standing                   */
    double through_s;         /* how long under water until even the centre is soft, not standing */
} bf_soak_out;

extern const bf_table bf_soak_out_table;

/* A soak (all `.value`s as they stand).
 *
 * Uptake follows Peleg's curve with half time = half_uptake_s / speed-up and end uptake_frac. A place is soft once it
 * holds soft_at_frac of its final water; where that is follows from diffusion into a sphere of the same half time (fo =
 * 0.030547 t / half time). Standing, drained and covered, lets water even out inside a sealed sphere: the exact modes
 * sin(b x) / x, tan b = b, of the soaked profile. A bait in state BF_SOAKED has its sizes and density
 * from the piece soaked through: its dry figures are worked back first.
 *
 * half_uptake_s belongs to the bait's own diameter; for another it goes with the diameter squared, as in the catalogue.
 *
 * Validity: pieces that neither crack nor crumble. No constants for fish feed were found, so the catalogue's range is
 *           wide: weigh once (measure.h). Water clinging outside is not counted.
 * Accuracy: Peleg's and the sphere's uptake differ by up to 0.09 of the final uptake. Soft part against a solution by
 *           100 shells: within 0.02 of the volume, less than the outer shell.
 * A bait with uptake_frac 0 takes up nothing: soft_frac and through_s are NaN.
 *
 * Returns BF_OK, or BF_E_MODEL_RANGE with *out NaN when no dry density explains a soaked bait's figures. */
BF_CHECK bf_status bf_soak(const bf_bait *bait, const bf_soaking *soaking, bf_soak_out *out);

/* The soak command's model: a bf_scene in, the doubles of bf_soak_out out. */
bf_status bf_soak_model(const void *scene, const bf_draw *draw, double *out);

/* Its remarks, at most BF_MOST_NOTES; returns how many. */
int bf_soak_notes(const void *scene, const bf_ensemble_result *result, bf_note *notes);

#ifdef __cplusplus
}
#endif
#endif
