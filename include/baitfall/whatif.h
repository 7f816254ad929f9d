/* whatif.h -- a handful of changes to a spot, and what hang, gust and chance become.
 *
 * Pure; no allocation. Model: docs/models/suggest.md. Tests: tests/plan/whatif_test.c
 */
#ifndef BAITFALL_WHATIF_H
#define BAITFALL_WHATIF_H

#include "baitfall/aim.h"
#include "baitfall/suggest.h"

#ifdef __cplusplus
extern "C" {
#endif

/* A brisk wind: the middle of Beaufort 4 (5.5 to 7.9 m/s), rounded down. */
#define BF_BRISK_M_S 6.0

/* X(name, slug, title) */
#define BF_WHATIF_LIST(X)                                                                                    \
    X(BF_WHATIF_BRISK, "brisk-wind", "Brisk wind")                                                           \
    X(BF_WHATIF_CALM, "no-wind", "No wind")                                                                  \
    X(BF_WHATIF_NO_DRIFT, "no-drift", "No drift")                                                            \
    X(BF_WHATIF_DEEPER, "foot-deeper", "A foot deeper")                                                      \
    X(BF_WHATIF_HEAVIER, "heavier-float", "The next heavier float")                                          \
    X(BF_WHATIF_BACK_SHOT, "back-shot", "One back shot more")                                                \
    X(BF_WHATIF_TAUT, "tighter-line", "Half the slack above the float")                                      \
    X(BF_WHATIF_OVERDEPTH, "more-overdepth", "Three inches more overdepth")

typedef enum bf_whatif {
#define BF_WHATIF_NAME(name, slug, title) name,
    BF_WHATIF_LIST(BF_WHATIF_NAME)
#undef BF_WHATIF_NAME
        BF_N_WHATIFS
} bf_whatif;

const char *bf_whatif_slug(int what);
const char *bf_whatif_title(int what);

typedef struct bf_whatif_out {
    int what;          /* bf_whatif                                                                */
    bf_judged was, is; /* before and after the change                                              */
    int take;          /* lightest float that would hold after it, of bf_floats; -1: none, not needed, or not
              * looked for: only when the rig held before, and for changes of wind, drift or depth */
    bf_said said;
} bf_whatif_out;

/* The stand after a change, settled. Returns 1; 0 and *changed a copy when the change does not apply: brisk when it blows
 * so already, no wind in a calm, no drift in still water, no heavier float, no room for a back shot, no slack.
 *
 * deeper      the depth, 0.3048 m; the float is set for it
 * heavier     the next float of the catalogue, shotted by the bulk pattern
 * back shot   a No 10, 20 cm above the float or in the middle of a shorter line
 * overdepth   0.0762 m more line from float to hook
 * taut        tip_to_float_m less half of what it is longer than the tip is high */
int bf_whatif_change(const bf_stand *stand, int what, bf_stand *changed);

/* Answers one change of a settled stand; `was` is bf_judge of the stand, so that it is solved once.
 * Returns BF_OK; BF_E_MISSING when the change does not apply (*out NaN, nothing said); the status of bf_judge. */
BF_CHECK bf_status bf_whatif_answer(const bf_stand *stand, const bf_judged *was, int what,
                                    bf_whatif_out *out);

/* What the chance becomes that the bait lies on the bed, or near it: aim.h on a stand as it was and as it is changed, in the
 * same draws of the same seed, so that the difference is the change's. Its own fit of the hang: BF_AIM_SOLVES solves.
 *
 * n_draws   16 .. ; BF_WHATIF_DRAWS leave 0.02 on a chance of a half (one standard deviation), less on the difference
 * work      bf_whatif_chance_bytes(n_draws), 8-aligned
 * Returns BF_OK, or as bf_aim_prepare with *chance NaN. */
#define BF_WHATIF_DRAWS 512
size_t bf_whatif_chance_bytes(int n_draws);
BF_CHECK bf_status bf_whatif_chance(const bf_stand *stand, uint64_t seed, int n_draws, void *work,
                                    bf_aim_chance *chance);

#ifdef __cplusplus
}
#endif
#endif
