/* play.h -- a made-up session of the swim's own model: the truth is known, the angler's acts are the caller's. For tests,
 * calibration and, later, rehearsal. One particle of the model (docs/models/swim.md), whose bites happen.
 *
 * Pure: the same scene, truth, seed and acts give the same day, to the bit. Times are seconds since the session began.
 *
 * What is entered in a journal is less than what happens: touches are seen and logged as the parameter KNOCK says, three
 * bites in a hundred are never entered, three of those entered stand under a wrong word. Bites happen within a second of their instant
 * (the step of a play is 1 s).
 *
 * Tests: tests/swim/play_test.c
 */
#ifndef BAITFALL_PLAY_H
#define BAITFALL_PLAY_H

#include "baitfall/swim.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct bf_play bf_play;

/* Bytes of a play, 8-aligned, from the caller; flat: a copy goes on by itself. */
size_t bf_play_bytes(void);
/* A session opens: fish about by the stock, none on the bait, a clean bed, the rig out. Scene and truth are copied. */
void bf_play_start(bf_play *play, const bf_swim_scene *scene, const bf_swim_set *truth, uint64_t seed);

/* The angler's act at the instant the play stands at (its t_s is not read): BF_SWIM_FEED, BF_SWIM_IN, BF_SWIM_LIFT with
 * BF_NOTHING, BF_SWIM_TEMP. Indices within the scene, count and area_m2 above 0. */
void bf_play_act(bf_play *play, const bf_swim_event *act);

/* Lets time pass until something shows or to_s is reached.
 *
 * event    written when something shows: a BF_SWIM_TOUCH, or a BF_SWIM_LIFT with its outcome, which ends the drop
 * Returns  0 to_s is reached; 1 *event is entered; 2 a bite that is not entered: *event as it was in truth */
int bf_play_run(bf_play *play, double to_s, bf_swim_event *event);

/* The truth now. */
typedef struct bf_play_truth {
    double t_s;
    double left;    /* pieces lying at the spot                                      */
    double fish;    /* on the bait there                                             */
    double near;    /* about, at no spot                                             */
    double bites_h; /* bites of all outcomes an hour, were the rig in with that hook bait */
    double eaten;   /* pieces gone at the spot since the session began               */
} bf_play_truth;
/* spot and hook: indices into the scene. */
bf_play_truth bf_play_see(const bf_play *play, int spot, int hook);

#ifdef __cplusplus
}
#endif

#endif
