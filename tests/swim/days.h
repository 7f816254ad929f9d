/* days.h -- an angler who fishes by rule through a made-up session (play.h), and what the session came to. Test code only. */
#ifndef BAITFALL_TESTS_DAYS_H
#define BAITFALL_TESTS_DAYS_H

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "baitfall/play.h"

enum { DAYS_SOFT_TWO, DAYS_HARD_FOUR, DAYS_HARD_SIX, DAYS_FEEDS };   /* feeds of the scene */
enum { DAYS_SOFT_SIX, DAYS_BANDED_SIX, DAYS_SOFT_FOUR, DAYS_HOOKS }; /* hook baits of the scene */

/* One invented spot; areas that hold nine pieces in ten where a put-in lands, m2. */
static inline bf_swim_scene days_scene(double temp_c) {
    bf_swim_scene scene;
    memset(&scene, 0, sizeof scene);
    scene.n_spots = 1, scene.n_feeds = DAYS_FEEDS, scene.n_hooks = DAYS_HOOKS, scene.temp_c = temp_c;
    scene.feed[DAYS_SOFT_TWO] =
        (bf_swim_feed){.diameter_m = 2.2e-3, .piece_kg = 7.5e-6, .lasting_s = 7200, .is_soft = 1};
    scene.feed[DAYS_HARD_FOUR] = (bf_swim_feed){.diameter_m = 4e-3, .piece_kg = 6e-5, .lasting_s = 14400};
    scene.feed[DAYS_HARD_SIX] = (bf_swim_feed){.diameter_m = 6e-3, .piece_kg = 2e-4, .lasting_s = 14400};
    scene.hook[DAYS_SOFT_SIX] = (bf_swim_hook){.diameter_m = 6e-3};
    scene.hook[DAYS_BANDED_SIX] = (bf_swim_hook){.diameter_m = 6e-3, .is_hard = 1};
    scene.hook[DAYS_SOFT_FOUR] = (bf_swim_hook){.diameter_m = 4e-3};
    scene.spot[0] = (bf_swim_spot){
        .depth_m = 1.6, .distance_m = 11.5, .miss_m = 0.08, .miss_pm_m = 0.05, .area_m2 = {0.07, 0.13, 3, 1}};
    return scene;
}

static inline bf_swim_set days_book(void) {
    bf_swim_set set;
    for (int i = 0; i < BF_SWIM_N_PARAMETERS; i++) set.of[i] = bf_swim_parameters[i].middle;
    return set;
}

/* The angler's rule for a stretch of the day. A pot goes in with the rig out, before the next drop. */
typedef struct days_rule {
    int feed, hook;
    double pieces, every_s;      /* a pot of so many pieces, not oftener than this                     */
    double loose, loose_every_s; /* pieces thrown by catapult on loose_m2, each so often; 0: none      */
    double loose_m2;
    double patience_s; /* a drop is lifted after this */
} days_rule;

/* What a stretch of a day came to. */
typedef struct days_tally {
    double outcome
        [BF_N_OUTCOMES]; /* by the word entered, or what happened where none was; BF_TOUCHED: touches */
    double bites;        /* all four outcomes                                    */
    double fishing_s;    /* with the rig in                                      */
    double first_bite_s, first_touch_s; /* since the stretch began, capped at its end      */
} days_tally;

typedef struct days_angler {
    bf_play *play;
    double t_s, fed_s, loosed_s;
} days_angler;

/* Seconds until the rig can go back in: a fish landed, one lost, a strike in vain, nothing. From memory. */
static inline double days_busy_s(int outcome) {
    switch (outcome) {
    case BF_LANDED:
    case BF_FOUL: return 75;
    case BF_LOST: return 40;
    case BF_MISSED: return 15;
    default: return 10;
    }
}

static inline days_angler days_open(const bf_swim_scene *scene, const bf_swim_set *set, uint64_t seed) {
    days_angler a = {.play = malloc(bf_play_bytes()), .fed_s = -1e9, .loosed_s = -1e9};
    bf_play_start(a.play, scene, set, seed);
    return a;
}

static inline void days_pass(days_angler *a, double to_s) {
    bf_swim_event event;
    bf_play_run(a->play, to_s, &event);
    a->t_s = to_s;
}

static inline void days_feed(days_angler *a, int what, int how, double count, double area_m2) {
    bf_swim_event fed = {
        .t_s = a->t_s, .kind = BF_SWIM_FEED, .what = what, .how = how, .count = count, .area_m2 = area_m2};
    bf_play_act(a->play, &fed);
}

/* Puts in what is due. */
static inline void days_put_in(days_angler *a, const days_rule *rule) {
    if (rule->pieces > 0 && a->t_s - a->fed_s >= rule->every_s) {
        days_feed(a, rule->feed, BF_CLUMP, rule->pieces, 0.07);
        a->fed_s = a->t_s;
        days_pass(a, a->t_s + 15); /* to turn the pot over and let it settle */
    }
}

static inline void days_throw(days_angler *a, const days_rule *rule) {
    if (rule->loose > 0 && a->t_s >= a->loosed_s + rule->loose_every_s) {
        days_feed(a, rule->feed, BF_THROW, rule->loose, rule->loose_m2);
        a->loosed_s = a->t_s;
    }
}

/* Fishes by a rule until until_s. Loose feed flies while the rig is in; a pot waits for its end. */
static inline days_tally days_fish(days_angler *a, const days_rule *rule, double until_s) {
    double began_s = a->t_s;
    days_tally tally = {.first_bite_s = until_s - began_s, .first_touch_s = until_s - began_s};
    while (a->t_s < until_s) {
        days_put_in(a, rule);
        bf_swim_event in = {.t_s = a->t_s, .kind = BF_SWIM_IN, .what = rule->hook};
        bf_play_act(a->play, &in);
        double in_s = a->t_s;
        int outcome = BF_NOTHING;
        while (outcome == BF_NOTHING && a->t_s < in_s + rule->patience_s && a->t_s < until_s) {
            days_throw(a, rule);
            double to_s = fmin(in_s + rule->patience_s, until_s);
            if (rule->loose > 0) to_s = fmin(to_s, a->loosed_s + rule->loose_every_s);
            bf_swim_event event;
            int what = bf_play_run(a->play, to_s, &event);
            a->t_s = what ? event.t_s : to_s;
            if (what && event.kind == BF_SWIM_TOUCH) {
                tally.outcome[BF_TOUCHED]++;
                tally.first_touch_s = fmin(tally.first_touch_s, a->t_s - began_s);
            } else if (what) {
                outcome = event.outcome;
                tally.outcome[outcome]++, tally.bites++;
                tally.first_bite_s = fmin(tally.first_bite_s, a->t_s - began_s);
            }
        }
        tally.fishing_s += a->t_s - in_s;
        if (outcome == BF_NOTHING) {
            bf_swim_event lift = {.t_s = a->t_s, .kind = BF_SWIM_LIFT, .outcome = BF_NOTHING, .held = -1};
            bf_play_act(a->play, &lift);
        }
        days_pass(a, a->t_s + days_busy_s(outcome));
    }
    return tally;
}

static inline void days_close(days_angler *a) {
    free(a->play);
}

#endif
