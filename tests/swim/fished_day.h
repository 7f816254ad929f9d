/* fished_day.h -- a day of the model itself (play.h) on a scene of the caller's, fished by one rule and entered as a journal would have
 * it, and what an adviser is asked at its end. */
#ifndef BAITFALL_TESTS_FISHED_DAY_H
#define BAITFALL_TESTS_FISHED_DAY_H

#include "baitfall/advise.h"
#include "swim/days.h"

#define FISHED_MOST 8192

typedef struct fished_day {
    bf_swim_scene scene;
    bf_swim_event event[FISHED_MOST];
    int n;
    double t_s, fed_s;
    int n_bites; /* since fed */
    bf_play *play;
} fished_day;

static inline bf_swim_event *fished_entry(fished_day *day, bf_swim_kind kind) {
    if (day->n == FISHED_MOST) abort();
    bf_swim_event *event = &day->event[day->n++];
    *event =
        (bf_swim_event){.t_s = day->t_s, .kind = (int)kind, .outcome = BF_NOTHING, .held = -1, .live = -1};
    return event;
}

static inline void fished_open(fished_day *day, const bf_swim_scene *scene, const bf_swim_set *truth,
                               uint64_t seed) {
    memset(day, 0, sizeof *day);
    day->scene = *scene;
    day->fed_s = -INFINITY;
    day->play = malloc(bf_play_bytes());
    if (!day->play) abort();
    bf_play_start(day->play, scene, truth, seed);
}

static inline void fished_pass(fished_day *day, double s) {
    bf_swim_event unseen;
    day->t_s += s;
    bf_play_run(day->play, day->t_s, &unseen);
}

static inline void fished_feed(fished_day *day, int spot, int feed, double count) {
    bf_swim_event *fed = fished_entry(day, BF_SWIM_FEED);
    fed->spot = spot, fed->what = feed, fed->how = BF_CLUMP, fed->count = count, fed->area_m2 = 0.07;
    bf_play_act(day->play, fed);
    day->fed_s = day->t_s, day->n_bites = 0;
    fished_pass(day, 15);
}

/* One drop of at most patience_s, and what it takes until the rig can go in again. */
static inline void fished_drop(fished_day *day, int spot, int hook, double patience_s) {
    bf_swim_event *in = fished_entry(day, BF_SWIM_IN), shown;
    in->spot = spot, in->what = hook;
    bf_play_act(day->play, in);
    double up_s = day->t_s + patience_s;
    int what;
    while ((what = bf_play_run(day->play, up_s, &shown)) == 1 && shown.kind == BF_SWIM_TOUCH) {
        day->t_s = shown.t_s;
        *fished_entry(day, BF_SWIM_TOUCH) = shown;
    }
    day->t_s = what == 1 ? shown.t_s : what == 2 ? shown.t_s + 5 : up_s;
    bf_swim_event *end = fished_entry(day, BF_SWIM_LIFT);
    if (what == 1) {
        *end = shown;
        day->n_bites++;
    } else {
        bf_swim_event unseen;
        end->spot = spot;
        bf_play_run(day->play, day->t_s, &unseen);
        bf_play_act(day->play, end);
    }
    fished_pass(day, days_busy_s(end->outcome));
}

/* A pot of so many pieces each so often, until until_s. */
static inline void fished_on(fished_day *day, double until_s, int feed, double count, double every_s,
                             int hook) {
    while (day->t_s < until_s) {
        if (count > 0 && day->t_s >= day->fed_s + every_s) fished_feed(day, 0, feed, count);
        fished_drop(day, 0, hook, 150);
    }
}

static inline void fished_close(fished_day *day) {
    free(day->play);
}

static inline bf_belief_job fished_belief(const fished_day *day, uint64_t seed) {
    return (bf_belief_job){.scene = &day->scene,
                           .event = day->event,
                           .n_events = day->n,
                           .until_s = day->t_s,
                           .prior = bf_swim_book(),
                           .seed = seed,
                           .n_sets = BF_BELIEF_SETS,
                           .n_particles = BF_BELIEF_PARTICLES,
                           .n_drawn = BF_ADVISE_DRAWN};
}

/* Fished with a pot of so many pieces of `feed` each every_s, and with the first hook bait; all feeds and hook baits may be used. */
static inline bf_advise_job fished_job(const fished_day *day, const bf_belief_job *belief, int feed,
                                       double count, double every_s) {
    bf_advise_job job = {.belief = belief,
                         .every_s = every_s,
                         .n_bites = day->n_bites,
                         .most_kg = INFINITY,
                         .objective = BF_FOR_NUMBER,
                         .fish_kg = 1.2,
                         .for_s = 3600,
                         .busy_s = 45,
                         .put_in_s = 15,
                         .blank_s = 150,
                         .n_acts_most = BF_ADVISE_MOST_ACTS,
                         .n_scenarios = BF_ADVISE_SCENARIOS,
                         .n_run_off = BF_ADVISE_RUN_OFF,
                         .seed = belief->seed};
    for (int s = 0; s < BF_SWIM_MOST_SPOTS; s++) job.since_put_s[s] = INFINITY;
    job.since_put_s[0] = day->t_s - day->fed_s;
    for (int f = 0; f < day->scene.n_feeds; f++) {
        int is = f == 0 ? feed : f <= feed ? f - 1 : f;
        double grams = count * day->scene.feed[feed].piece_kg;
        job.way[job.n_ways++] = (bf_way){.feed = is,
                                         .how = BF_CLUMP,
                                         .count = floor(grams / day->scene.feed[is].piece_kg + 0.5),
                                         .area_m2 = 0.07};
    }
    for (int h = 0; h < day->scene.n_hooks; h++) job.hook[job.n_hooks++] = h;
    return job;
}

#endif
