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
    double
        lasting_factor; /* a put-in's pieces may last up to this factor longer or shorter, evenly in the logarithm; 0 or 1: as told */
} bf_swim_feed;

/* How surely anyone knows lasting_s: the start of lasting_factor. Judgement. */
#define BF_STORY_LASTING_FACTOR 2.5

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
    BF_SWIM_MARK,  /* nothing happened: the belief is read here (series) */
    BF_SWIM_STRETCH /* a stretch not logged tap by tap begins at spot; the TALLY that ends it follows. Without it a TALLY
                       is weighed by the hazards at its end alone */
} bf_swim_kind;

typedef struct bf_swim_event {
    double t_s; /* since the session began; events are sorted by it */
    int kind;   /* bf_swim_kind */
    int spot;
    int what;       /* feed or hook index */
    int how;        /* bf_how */
    int is_further; /* BF_SWIM_FEED: 1: a further bait of a put-in whose first was told: no noise of its own */
    int n;          /* touches */
    int outcome;    /* bf_outcome, BF_SWIM_LIFT */
    int held;       /* bf_held, -1: not told */
    int eye;        /* bf_eye */
    int live;       /* index into fold.live, -1: implied or made by the program */
    double count;   /* pieces */
    double
        count_pm_frac; /* BF_SWIM_FEED: standard deviation of how many there were, as a share of count; 0: counted */
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

/* What a put-in comes to, which the record alone does not say: bait, pot and place do (text/). */
typedef struct bf_story_put {
    double pieces;         /* NaN or 0: nothing went in as far as is known; it is no event then */
    double pieces_pm_frac; /* standard deviation of that as a share of it; 0: counted */
    double area_m2;        /* NaN: the spot's own for its `how` */
} bf_story_put;

/* Longer than this before the end nothing is told: a session left open for days does not grow without end. */
#define BF_STORY_MOST_S 86400.0

/* A drop whose start nobody can know (the first thing entered; after a stretch) is taken to have waited so long, unless
 * something before it shows that it was less. Judgement: about a turnaround. */
#define BF_STORY_UNKNOWN_WAIT_S 60.0

/* A wait that no lift ends (the next entry does, or none) is taken to have ended after so long: the angler forgot. Judgement. */
#define BF_STORY_LONGEST_S 1800.0

/* Collects which spots, feeds and hook baits a session's put-ins, drops, touches, tallies and looks speak of, in order of
 * first appearance, into names and the counts of scene, whose records are set to start values (bf_story_start_scene); text/
 * then fills in what kit and plan know. At least one spot, feed and hook bait, though it may have no name. More than fit: the last ones
 * share the last index. temp_c is the first measured.
 *
 * session   index into fold.session */
void bf_story_cast(const bf_fold *fold, int session, double until_ms, bf_swim_scene *scene,
                   bf_story_names *names);

/* A scene of so many spots, feeds and hook baits (1 .. most) at start values: 1.5 m deep, 11 m out, hook bait within 8 cm (give or take
 * 5); a put-in lies on 0.07 m2 tipped, 0.13 shaken out, 3 thrown, 1 by hand; feed and hook baits of 4 and 6 mm; all is_guess. Judgement. */
void bf_story_start_scene(bf_swim_scene *scene, int n_spots, int n_feeds, int n_hooks);

/* The instant that t_s counts from: when the session was opened, or the first entry that is told, if that was earlier; but
 * not longer than BF_STORY_MOST_S before until_ms. NaN: nothing in the session counts. */
double bf_story_begins_ms(const bf_fold *fold, int session, double until_ms);

/* Index of a journal's name among n of at most `most`; the last one where they did not all fit, the first one where none is told. */
int bf_story_index(const int *names, int n, int most, int name);

/* Writes a session's story up to until_ms; what came later is left out, and a drop that ended later is still open.
 *
 * Drops     IN where the drop was seen to start (`lower`), else the turnaround after its base (fold.h), but not after its
 *           first touch, not within 0.5 s of its end, not before the end of the drop before; a start nobody can know:
 *           BF_STORY_UNKNOWN_WAIT_S. LIFT at its end; BF_NOTHING where the end is implied. One that no lift ends is over
 *           after BF_STORY_LONGEST_S. Touches count while the rig is in. Left out: a drop of no length (the same lift
 *           entered on two devices); one that nobody saw start or end; one neither seen to start nor touched whose end
 *           is implied, when more drops before it were entered with `lower` than without: this angler enters them all.
 * Put-ins   one event a bait, from the second on is_further; nothing told how: BF_CLUMP.
 * Tallies   at the end of their stretch; one that overlaps an earlier one begins where that ends; a stretch shorter than 1 s tells no
 *           rate and is left out.
 * Spot      as told, else carried on as in fold.h; before any was told: spot 0. A tally or look without: the last fished.
 *
 * put       (in fold.session[session].put_to - put_from) in the order of fold.put_in; NULL: counts as told
 * event     (out most) sorted by time; at the same time: lift, feed, in, others
 * Returns how many there are in all: more than most means it did not fit, and what was written is of no use. most = n_live of the
 * session x 3 + 1 always fits. */
int bf_story_of(const bf_fold *fold, int session, const bf_turnaround *turnaround, const bf_swim_scene *scene,
                const bf_story_names *names, const bf_story_put *put, double until_ms, bf_swim_event *event,
                int most);

/* Adds a BF_SWIM_MARK at each of n_marks instants (different from each other). event (in n, out up to most) stays sorted; marks
 * that no longer fit are left out. Returns the new n. */
int bf_story_mark(bf_swim_event *event, int n, int most, const double *at_s, int n_marks);

/* A hash of the scene and of the first n events but marks: the key of a snapshot, with model version, seed and bank. `live` is not in
 * it: a note entered in between changes nothing. */
uint64_t bf_story_hash(const bf_swim_scene *scene, const bf_swim_event *event, int n);

#ifdef __cplusplus
}
#endif

#endif
