/* made_day.h -- a day played by the model itself (play.h) and entered as a journal would have it: a pot of 40 pieces of 4 mm
 * every 100 s, drops given up after two minutes. */
#ifndef BAITFALL_TESTS_MADE_DAY_H
#define BAITFALL_TESTS_MADE_DAY_H

#include <math.h>
#include <stdlib.h>

#include "baitfall/belief.h"
#include "baitfall/play.h"

#define MADE_DAY_MOST 8192

typedef struct made_day {
    bf_swim_scene scene;
    bf_swim_event event[MADE_DAY_MOST];
    int n;
} made_day;

static inline bf_swim_event *made_entry(made_day *day, double t_s, bf_swim_kind kind) {
    if (day->n == MADE_DAY_MOST) abort();
    bf_swim_event *event = &day->event[day->n++];
    *event = (bf_swim_event){.t_s = t_s,
                             .kind = (int)kind,
                             .outcome = BF_NOTHING,
                             .held = -1,
                             .live = -1,
                             .count = 40,
                             .area_m2 = 0.07};
    return event;
}

/* One drop; returns when it ended. A bite that is not entered is noticed five seconds later. */
static inline double made_drop(made_day *day, bf_play *play, double t_s) {
    bf_swim_event shown, unseen;
    bf_play_run(play, t_s, &unseen);
    bf_play_act(play, made_entry(day, t_s, BF_SWIM_IN));
    int what;
    while ((what = bf_play_run(play, t_s + 120, &shown)) == 1 && shown.kind == BF_SWIM_TOUCH)
        *made_entry(day, shown.t_s, BF_SWIM_TOUCH) = shown;
    if (what == 1) {
        *made_entry(day, shown.t_s, BF_SWIM_LIFT) = shown;
        return shown.t_s;
    }
    double end_s = what == 2 ? shown.t_s + 5 : t_s + 120;
    bf_swim_event *end = made_entry(day, end_s, BF_SWIM_LIFT);
    bf_play_run(play, end_s, &unseen);
    bf_play_act(play, end);
    return end_s;
}

static inline void make_day(made_day *day, const bf_swim_set *truth, uint64_t seed, double seconds) {
    bf_play *play = malloc(bf_play_bytes());
    if (!play) abort();
    bf_story_start_scene(&day->scene, 1, 1, 1);
    day->n = 0;
    bf_play_start(play, &day->scene, truth, seed);
    double t = 20, fed = -INFINITY;
    while (t < seconds - 200) {
        bf_swim_event unseen;
        if (t > fed + 100) {
            bf_play_run(play, t, &unseen);
            bf_play_act(play, made_entry(day, t, BF_SWIM_FEED));
            fed = t;
        }
        t = made_drop(day, play, t + 8) + 12;
    }
    free(play);
}

/* The belief at its end, the prior given. */
static inline bf_belief_job made_day_job(const made_day *day, double until_s, bf_swim_prior prior,
                                         uint64_t seed) {
    return (bf_belief_job){.scene = &day->scene,
                           .event = day->event,
                           .n_events = day->n,
                           .until_s = until_s,
                           .prior = prior,
                           .seed = seed,
                           .n_sets = BF_BELIEF_SETS,
                           .n_particles = BF_BELIEF_PARTICLES};
}

#endif
