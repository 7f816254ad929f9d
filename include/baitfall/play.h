/* play.h -- a made-up session of the swim's own model: the truth is known, the angler's acts are the caller's. For tests, calibration and,
 * later, rehearsal. One particle of model.h; the same seed and acts give the same day.
 *
 * What is entered in the journal is less than what happens: touches are seen and logged as the parameter says, a share of
 * bites is never entered, another under a wrong word (docs/models/swim.md).
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

size_t bf_play_bytes(void);
void bf_play_start(bf_play *play, const bf_swim_scene *scene, const bf_swim_set *truth, uint64_t seed);
/* The angler's act at the instant the play stands at: BF_SWIM_FEED, BF_SWIM_IN, BF_SWIM_LIFT with BF_NOTHING, BF_SWIM_TEMP. */
void bf_play_act(bf_play *play, const bf_swim_event *act);
/* Lets time pass until something is entered (a touch, a bite with its outcome: *event, and returns 1) or to_s is reached (returns 0). A bite
 * that is not entered ends the drop too: returns 2, *event as it was in truth. */
int bf_play_run(bf_play *play, double to_s, bf_swim_event *event);

/* The truth now. */
typedef struct bf_play_truth {
    double t_s, left, fish, near, bites_h, eaten;
} bf_play_truth;
bf_play_truth bf_play_see(const bf_play *play, int spot, int hook);

#ifdef __cplusplus
}
#endif

#endif
