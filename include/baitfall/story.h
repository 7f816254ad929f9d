/* story.h -- what happened at the water, as the swim's model reads it: put-ins, drops, touches, looks and tallies of one
 * session in order of time, in seconds and numbers, with the scene they happened in.
 *
 * A story is made of one session of a fold (bf_story_of), or by the model itself (play.h). Flat, no pointers but the
 * caller's array of events; names are gone, baits and spots are indices into the scene.
 *
 * Tests: tests/swim/story_test.c
 */
#ifndef BAITFALL_STORY_H
#define BAITFALL_STORY_H

#include "baitfall/fold.h"
#include "baitfall/status.h"

#ifdef __cplusplus
extern "C" {
#endif

#define BF_SWIM_MOST_SPOTS 8
#define BF_SWIM_MOST_FEEDS 16 /* different feed baits   */
#define BF_SWIM_MOST_HOOKS 16 /* different hook baits   */
#define BF_SWIM_MOST_CLASSES                                                                                 \
    4 /* sizes told apart on the bed; more are taken together with the nearest (by logarithm) */

/* A bait as feed. */
typedef struct bf_swim_feed {
    double diameter_m; /* of a piece as it lies there, > 0           */
    double piece_kg;   /* dry                                        */
    double lasting_s;  /* mean time until a piece has gone to crumbs */
    int is_soft;       /* 1: soft throughout                         */
    int is_guess;      /* 1: the bait is not in the kit or plan; these are start values */
} bf_swim_feed;

typedef struct bf_swim_hook {
    double diameter_m;
    int is_hard; /* 1: hard or banded; small nuisance fish cannot take it off */
    int is_guess;
} bf_swim_hook;

typedef struct bf_swim_spot {
    double depth_m;
    double distance_m; /* from the pole's butt; what spots share depends on how far apart they are */
    double side_m;
    double
        miss_m; /* between hook bait and the middle of the bed, half the drops within (aim.h: miss_50); start 0.08 */
    double miss_pm_m;
    /* Area that holds nine pieces in ten where a put-in lands, m2, by bf_how (spread.h's wide_m as a circle). */
    double area_m2[4];
} bf_swim_spot;

typedef struct bf_swim_scene {
    int n_spots, n_feeds, n_hooks;
    bf_swim_spot spot[BF_SWIM_MOST_SPOTS];
    bf_swim_feed feed[BF_SWIM_MOST_FEEDS];
    bf_swim_hook hook[BF_SWIM_MOST_HOOKS];
    double temp_c; /* at the start; BF_SWIM_TEMP events change it. NaN: not measured (16 C is taken) */
} bf_swim_scene;

typedef enum bf_swim_kind {
    BF_SWIM_FEED,  /* count pieces of feed `what` at spot, spread over area_m2 by `how` */
    BF_SWIM_IN,    /* the rig is down at spot with hook bait `what`; pm_s: how unsure the instant is */
    BF_SWIM_TOUCH, /* n touches */
    BF_SWIM_LIFT,  /* the drop ends: outcome, held */
    BF_SWIM_LOOK,  /* eye; count: the pieces the angler was shown as left, NaN: none shown */
    BF_SWIM_TALLY, /* a stretch not logged tap by tap ends at t_s: span_s long, tally[] counts, at spot */
    BF_SWIM_TEMP,  /* value: water, C */
    BF_SWIM_MARK   /* nothing happened: the belief is read here (series) */
} bf_swim_kind;

typedef struct bf_swim_event {
    double t_s; /* since the session began; events are sorted by it */
    int kind;   /* bf_swim_kind */
    int spot;
    int what;       /* feed or hook index */
    int how;        /* bf_how */
    int n;          /* touches */
    int outcome;    /* bf_outcome, BF_SWIM_LIFT */
    int held;       /* bf_held, -1: not told */
    int eye;        /* bf_eye */
    int live;       /* index into fold.live, -1: implied or made by the program */
    double count;   /* pieces */
    double area_m2; /* of this put-in, > 0 */
    double pm_s;
    double span_s;
    double value;
    int tally[BF_N_OUTCOMES];
} bf_swim_event;

/* How the names of a session stand in the scene: names are numbers of the journal; -1: not in the scene. */
typedef struct bf_story_names {
    int spot[BF_SWIM_MOST_SPOTS], feed[BF_SWIM_MOST_FEEDS],
        hook[BF_SWIM_MOST_HOOKS]; /* scene index -> journal name */
} bf_story_names;

/* Collects which spots, feeds and hook baits a session speaks of, in order of first appearance, into names and the
 * counts of scene (whose records are set to start values; text/ then fills in what kit and plan know). A drop or put-in without
 * a spot belongs to spot 0. More than fit: the last ones share the last index.
 *
 * session   index into fold.session */
void bf_story_cast(const bf_fold *fold, int session, bf_swim_scene *scene, bf_story_names *names);

/* Writes a session's story up to until_ms (events after it are left out; a drop open then stays open).
 *
 * event     (out most) sorted by time; at the same time: lift, feed, in, others
 * Returns how many there are in all: more than most means it did not fit (only the first most are written). */
int bf_story_of(const bf_fold *fold, int session, const bf_turnaround *turnaround, const bf_swim_scene *scene,
                const bf_story_names *names, double until_ms, bf_swim_event *event, int most);

/* FNV-1a of the first n events and the scene: the key of a snapshot (with model version and seed). */
uint64_t bf_story_hash(const bf_swim_scene *scene, const bf_swim_event *event, int n);

#ifdef __cplusplus
}
#endif

#endif
