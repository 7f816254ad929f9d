/* prep.h -- the evening and the morning before: what is to be done to each bait, how much of it, and when.
 *
 * Pure arithmetic. Times count from the start of the session: an hour before is -3600 s. Tests: tests/plan/prep_test.c
 *
 * Amounts   what the plan's lines come to (bf_plan_sum), with spare: the middle times 1 + spare, or the high end of its 80 %
 *           range when that is more.
 * Soaking   2 mm micros are covered for 5 to 6 minutes, drained and used within the hour, soft throughout (common
 *           practice, no source); up to 3 mm that time goes with the diameter squared (diffusion, soak.h). Larger ones: until the
 *           soak model at its middle constants calls 99 % of the piece soft after an hour of standing. For micros the
 *           model agrees with the practice; for 6 mm expanders it asks for some two hours.
 * Dry       the dry amount is the wet mass over 1 + uptake (soak.h's final uptake; no value for feed was found, so it is wide).
 * Validity  pellets that neither crack nor float. How long a given feed really takes: soak a handful first.
 */
#ifndef BAITFALL_PREP_H
#define BAITFALL_PREP_H

#include "baitfall/bait.h"
#include "baitfall/summary.h"

#ifdef __cplusplus
extern "C" {
#endif

/* X(name, slug, sentence): {0} the amount, filled in by whoever writes it; {1} how long, {2} the spare in per cent. */
#define BF_PREP_LIST(X)                                                                                      \
    X(BF_PREP_COVER, "cover", "Cover {0} of {bait} with water for {1}.")                                     \
    X(BF_PREP_DRAIN, "drain", "Drain {bait}, put the lid on and let it stand.")                              \
    X(BF_PREP_MIX, "mix", "Mix {0} of {bait}, damp; let it take up water for {1}, then riddle it.")          \
    X(BF_PREP_WET, "wet", "Wet {0} of {bait} and tip the water off at once.")                                \
    X(BF_PREP_MEASURE, "measure", "Measure out {0} of {bait}.")                                              \
    X(BF_PREP_COOL, "cool", "Riddle {0} of {bait} and keep it cool.")                                        \
    X(BF_PREP_PLUMB, "plumb", "Plumb every spot and mark the rigs.")

typedef enum bf_prep_code {
#define BF_PREP_NAME(name, slug, sentence) name,
    BF_PREP_LIST(BF_PREP_NAME)
#undef BF_PREP_NAME
        BF_N_PREPS
} bf_prep_code;

const char *bf_prep_slug(bf_prep_code code);
const char *bf_prep_sentence(bf_prep_code code);

/* One thing to do. */
typedef struct bf_prep {
    bf_prep_code code;
    double at_s;      /* when to begin, against the start of the session; below 0: before it */
    double for_s;     /* how long it takes; 0: at once                                      */
    double mass_kg;   /* of the bait as it then is: dry before it is covered; NaN: no amount    */
    double volume_m3; /* loose, as it goes in; NaN: unknown                                     */
} bf_prep;

#define BF_PREP_STEPS_MOST 2 /* for one bait */
#define BF_PREP_SPARE_START 0.2
#define BF_PREP_PLUMB_S (-2400.0) /* 40 minutes before: judgement */

/* What one bait needs before the start.
 *
 * mass_kg, volume_m3  (in) what the plan's lines come to, as it goes in; mid and hi are read
 * spare_frac          0 .. 2
 * steps               (out BF_PREP_STEPS_MOST) in order of time
 * Returns how many, 1 or 2.
 * Example   2 mm micros (2.235 mm), mid 0.5 kg, hi 0.55, spare 0.2, uptake 0.7 -> cover 0.353 kg dry 65.5 min before for
 *           5.5 min; drain 60 min before. */
int bf_prep_bait(const bf_bait *bait, bf_range mass_kg, bf_range volume_m3, double spare_frac,
                 bf_prep steps[BF_PREP_STEPS_MOST]);

/* How long a bait stays under water, s. Example   2 mm micros of the catalogue -> 330 s. */
double bf_prep_soak_s(const bf_bait *bait);

#ifdef __cplusplus
}
#endif
#endif
