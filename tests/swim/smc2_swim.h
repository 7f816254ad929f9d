/* smc2_swim.h -- the swim's model as SMC^2 takes it, and the belief held against it: the same made-up hour, the same prior, the same model;
 * what differs is how the parameters are learned.
 *
 * Used by smc2_test.c and, with calibration.c, by evaluate.c. */
#ifndef BAITFALL_TESTS_SWIM_SMC2_SWIM_H
#define BAITFALL_TESTS_SWIM_SMC2_SWIM_H

#include "baitfall/swim.h"
#include "swim/smc2.h"

/* A story to learn from. Parameters z: (logarithm - prior mean) / prior sd. */
typedef struct smc2_story {
    const bf_swim_scene *scene;
    const bf_swim_event *event;
    int n_events;
    double until_s;
    bf_swim_prior prior;
} smc2_story;

/* Its last event is the end. story stays the caller's; states at most 4095. */
smc2_model smc2_swim_model(const smc2_story *story);

/* What is read of a set's states: bites an hour, pieces left, fish on the bait; n_x each (out). */
void smc2_swim_shown(const smc2_filter *f, int n_x, int spot, int hook, double *bites_h, double *left,
                     double *fish);

#endif
