/* made_story.h -- a made-up session for tests of the filter's bookkeeping: put-ins, drops, touches, looks and a tally at
 * instants drawn from a seed, without any model behind them. */
#ifndef BAITFALL_TESTS_MADE_STORY_H
#define BAITFALL_TESTS_MADE_STORY_H

#include "baitfall/random.h"
#include "baitfall/story.h"

#define MADE_MOST 8192

typedef struct made_story {
    bf_swim_scene scene;
    bf_swim_event event[MADE_MOST];
    int n;
} made_story;

static inline bf_swim_event made_event(double t_s, bf_swim_kind kind, int spot) {
    return (bf_swim_event){
        .t_s = t_s, .kind = (int)kind, .spot = spot, .held = -1, .live = -1, .area_m2 = 0.07, .count = NAN};
}

/* Waits of some 24 s, a put-in of 20 pieces in front of every third drop; a bite of some kind ends two drops in three. */
static inline void make_story(made_story *story, uint64_t seed, int n_spots, double until_s) {
    bf_story_start_scene(&story->scene, n_spots, 2, 2);
    story->scene.feed[0].diameter_m = 0.002;
    story->scene.spot[n_spots - 1].distance_m = 6;
    story->n = 0;
    double t = 30;
    for (uint64_t drop = 0;; drop++) {
        double u[2];
        bf_uniform2(seed, 1, drop, u);
        double wait = 4 + 40 * u[0], lift = t + 6 + wait;
        if (lift > until_s || story->n + 6 > MADE_MOST) return;
        int spot = (int)(drop / 40) % n_spots;
        if (drop % 3 == 0) {
            bf_swim_event feed = made_event(t, BF_SWIM_FEED, spot);
            feed.what = (int)(drop / 3 % 2);
            feed.count = 20;
            story->event[story->n++] = feed;
        }
        bf_swim_event in = made_event(t + 6, BF_SWIM_IN, spot);
        in.pm_s = 1;
        story->event[story->n++] = in;
        if (drop % 4 == 1) {
            bf_swim_event touch = made_event(t + 6 + 0.5 * wait, BF_SWIM_TOUCH, spot);
            touch.n = 1 + (int)(drop % 3);
            story->event[story->n++] = touch;
        }
        bf_swim_event end = made_event(lift, BF_SWIM_LIFT, spot);
        end.outcome = u[1] < 0.33   ? BF_NOTHING
                      : u[1] < 0.7  ? BF_LANDED
                      : u[1] < 0.9  ? BF_MISSED
                      : u[1] < 0.95 ? BF_LOST
                                    : BF_FOUL;
        story->event[story->n++] = end;
        if (drop % 25 == 24) {
            bf_swim_event look = made_event(lift + 1, BF_SWIM_LOOK, spot);
            look.eye = BF_EYE_RIGHT;
            look.count = 15;
            story->event[story->n++] = look;
        }
        t = lift + 12;
    }
}

#endif
