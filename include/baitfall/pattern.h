/* pattern.h -- the shot patterns and start rigs this program knows by a word. (PARTS completes.) */
#ifndef BAITFALL_PATTERN_H
#define BAITFALL_PATTERN_H

#include "baitfall/stand.h"

#ifdef __cplusplus
extern "C" {
#endif

/* bulk: one bulk low and a dropper; strung: spread evenly; tapered: spread, closer to the hook. */
typedef enum bf_pattern { BF_PATTERN_BULK, BF_PATTERN_STRUNG, BF_PATTERN_TAPERED, BF_N_PATTERNS } bf_pattern;
extern const char *const bf_pattern_words[];

/* Shots a rig by pattern until its float is dotted down: as many of the largest lead-legal (or given metal) size as fit, then trimmers, the last
 * the dropper. wet_m: line from float to hook. Returns how many rows were written. */
int bf_pattern_shot(bf_rig *rig, int pattern, int metal, double wet_m, double water_kg_m3);

/* Start rigs by a word, floats of the catalogue (our own, generic; no make). */
typedef struct bf_rig_entry {
    const char *word, *title;
    bf_rig rig;
    const char *origin;
} bf_rig_entry;
extern const bf_rig_entry bf_rigs[];
extern const int bf_n_rigs;

/* Generic floats the suggestions choose from: ratings 0.1 .. 2 g. */
extern const bf_float bf_floats[];
extern const int bf_n_floats;

#ifdef __cplusplus
}
#endif
#endif
