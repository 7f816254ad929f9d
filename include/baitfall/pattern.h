/* pattern.h -- the shot patterns and start rigs this program knows by a word, and what there is to say of a rig's parts.
 *
 * Pure arithmetic. Model: docs/models/tackle.md. Tests: tests/tackle/pattern_test.c
 */
#ifndef BAITFALL_PATTERN_H
#define BAITFALL_PATTERN_H

#include "baitfall/note.h"
#include "baitfall/stand.h"

#ifdef __cplusplus
extern "C" {
#endif

/* bulk: one bulk low and two droppers; strung: spread evenly; tapered: spread, closer to the hook. */
typedef enum bf_pattern { BF_PATTERN_BULK, BF_PATTERN_STRUNG, BF_PATTERN_TAPERED, BF_N_PATTERNS } bf_pattern;

/* "bulk", "strung", "tapered", NULL; static. */
extern const char *const bf_pattern_words[];

/* Weight in water that dots a rig's float down, N: what its shot are chosen to be.
 *
 *     lift + bristle_n_m (bristle_long - 2 mm) - meniscus - hook - line and hooklength in water
 *
 * The bait is not counted: lying, it carries itself. wet_m: line from float to hook. Water of 15 C is taken for the
 * meniscus; its angle is meets_deg's value. May be below 0 for a tiny float. How much is to show as it is fished
 * (bf_rig.dotted_m) is not read: that is for trimmers at the water. */
double bf_pattern_load_n(const bf_rig *rig, double wet_m, double water_kg_m3);

/* Shots a rig by pattern until its float is dotted down, and less than the smallest shot (No 13) is left over.
 *
 * Sizes run from SSG to No 13, in lead from No 8 (shot.h: the published limit). The size is the largest of which
 * three, strung or tapered five, fit, so that a pattern can be seen; what is left is filled with ever smaller ones,
 * the trimmers, above the others.
 * bulk      two droppers, each the largest size up to No 8 that is no more than a tenth of the load, one just above the
 *           hooklength and one halfway to the bulk; the bulk 45 cm above the hook, over a long hooklength 10 cm above the
 *           lowest dropper, or at six tenths of wet_m if that is lower.
 * strung    evenly from just above the hooklength to 0.85 wet_m.
 * tapered   up to nine places there, gaps growing upward (place^1.5); what does not divide goes to the upper ones.
 * A row holds 40 shot at most, so a float that takes more than about 8 g is not dotted down in lead no larger than No 8.
 * Source:   bulk 0.4 to 0.6 m above the hook, one to three droppers below it (memory); the fractions are judgement.
 *
 * rig       (in, out) its float settled (bf_float_settled); its rows of shot are replaced, back shots are not touched
 * pattern   bf_pattern, asserted
 * metal     bf_metal, or -1: lead
 * wet_m     line from float to hook, above 0, asserted
 *
 * Returns how many rows were written, 0 when not even a No 13 fits. Rows stand in order from the hook up.
 * Example   0.4 g, 1.2 mm bristle, 1.6 m, lead -> two No 11, five No 8, one No 11: 0.39 g. */
int bf_pattern_shot(bf_rig *rig, int pattern, int metal, double wet_m, double water_kg_m3);

/* Start rigs by a word, floats of the catalogue (our own, generic; no make). Rigs come without shot: bf_stand_settle shots
 * them to the depth. Their diameters and numbers are from memory of common use. */
typedef struct bf_rig_entry {
    const char *word, *title;
    bf_rig rig;
    const char *origin;
} bf_rig_entry;
extern const bf_rig_entry bf_rigs[];
extern const int bf_n_rigs;

/* Generic floats the suggestions choose from: ratings 0.1 .. 2 g, lightest first; bristles thicken with the rating. */
extern const bf_float bf_floats[];
extern const int bf_n_floats;

#define BF_MOST_TACKLE_NOTES 5

/* What there is to say of a rig's parts: lead shot over the published limit; a bristle whose meniscus can do more than the
 * smallest shot; a float, line or elastic that was never tried. Returns how many. */
int bf_tackle_notes(const bf_rig *rig, double water_kg_m3, bf_note notes[BF_MOST_TACKLE_NOTES]);

#ifdef __cplusplus
}
#endif
#endif
