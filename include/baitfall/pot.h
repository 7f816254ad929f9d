/* pot.h -- how many pieces a pole pot holds, and what one counted pot says about all others.
 *
 * Pure arithmetic. Model: docs/models/pot.md. Tests: tests/feed/pot_test.c
 */
#ifndef BAITFALL_POT_H
#define BAITFALL_POT_H

#include "baitfall/note.h"
#include "baitfall/scene.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Voidage (the part that is air or water) of pieces poured into a round tube; x = d / D with d the diameter of the
 * sphere of a piece's volume and D the tube's.
 *
 * law 0, Dixon 1988:           spheres    0.4 + 0.05 x + 0.412 x^2                  x <= 0.5
 *                                         0.528 + 2.464 (x - 0.5)                   x <= 0.536
 *                                         1 - (2/3) x^3 / sqrt(2 x - 1)             x <= 1: a zigzag, exact
 *                              cylinders  0.36 + 0.10 x + 0.7 x^2                   x <= 0.6
 *                                         0.677 - 9 (x - 0.625)^2                   x <= 0.7
 *                                         1 - 0.763 x^2                             x <= 1.1447: a stack, exact
 * law 1, Benyahia & O'Neill 2005:  spheres   0.390 + 1.740 / (1/x + 1.140)^2
 *                                  cylinders 0.373 + 1.703 / (1/x + 0.611)^2
 *                                  others    0.1504 + 0.2024 / sphericity + 1.0814 / (1/x + 0.1226)^2
 * law between 0 and 1: a mixture, and their difference is how far such laws can be trusted. Where D < 2 d only Dixon's
 * forms are used, as they follow from geometry there; other shapes have only the one law. A piece that does not fit
 * at all: 1.
 *
 * Source:   A. G. Dixon, Can. J. Chem. Eng. 66 (1988) 705 (spheres read in a public library that cites it; cylinders
 *           and x > 0.5 from memory); F. Benyahia and K. E. O'Neill, Part. Sci. Technol. 23 (2005) 169 (same library).
 * Validity: one size, poured without tapping; cylinders about as long as wide. Nothing for the floor of the tube.
 * Accuracy: published mean errors 1.5 % (spheres), 1.6 % (cylinders), 5.2 % (others); the two laws lie up to 0.039
 *           apart at D/d 2 to 2.5 and under 0.02 above 6.
 * Example   spheres of 1 mm in 50 mm, law 1 -> 0.3906653157. */
double bf_pot_voidage(int form, double sphericity, double piece_over_tube, double law);

/* Outputs of the pot command, in order. */
typedef struct bf_pot_out {
    double pieces;       /* that go out with one filling; a mean, so not a whole number */
    double mass_kg;      /* of them                                                     */
    double volume_m3;    /* of the pot, struck level, as understood                     */
    double voidage_frac; /* between the pieces                                          */
} bf_pot_out;

extern const bf_table bf_pot_out_table;

/* What a pot holds of a bait, all `.value`s as they stand:
 *
 *     pieces = settled (1 - voidage) volume min(fill, 1 + cone / volume) / piece
 *
 * with cone = pi mouth^3 tan(repose) / 24, the highest heap that stands, and the piece's volume a mean over the
 * scatter of sizes (1 + 3 scatter^2). With counted->count > 0 the pot's volume is not pot->volume_m3 but what the count
 * says: counted pieces x their volume / (settled (1 - their voidage)).
 *
 * Returns BF_OK, or BF_E_MODEL_RANGE with *out NaN when the counted pieces do not fit through the mouth.
 * Example   the middle of the catalogue: 400 "micros-2" counted level in a pot 25 mm wide, wall_law 0.5: volume 7.2 ml,
 *           and it holds 48 of "hard-4". */
BF_CHECK bf_status bf_pot_holds(const bf_bait *bait, const bf_pot *pot, const bf_counted *counted,
                                bf_pot_out *out);

/* The pot command's model: a bf_scene in, the doubles of bf_pot_out out. */
bf_status bf_pot_model(const void *scene, const bf_draw *draw, double *out);

/* Its remarks, at most BF_MOST_NOTES; returns how many. */
int bf_pot_notes(const void *scene, const bf_ensemble_result *result, bf_note *notes);

#ifdef __cplusplus
}
#endif
#endif
