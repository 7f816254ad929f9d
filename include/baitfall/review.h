/* review.h -- one session looked back on: what came of the drops by feed and by the feed's age, the waits, the best half hour,
 * whether bites slowed down, what a change of feed went with, where hooks held, and one thing to try.
 *
 * Every number has its interval (80 %) or is left NaN: below BF_LEAST_TO_SAY observations the sentence is "too early to
 * say". The estimators are those of waits.h, hazard.h, rates.h, changes.h, holds.h and pool.h; here they meet the fold.
 *
 * What counts   Crossed-out entries are in nothing. A drop that ended by itself (landed, lost, missed, foul) is a wait that
 *               ended; one lifted, implied by the next or still open is a wait cut short; a touch ends nothing. A wait whose
 *               start nobody saw begins the learned turnaround after its base (fold.h); one without a base is left
 *               out of the waits and counted (n_unknown). Tallied stretches count as fish and bites in the half hours,
 *               evenly over their length, and in no wait.
 * Confounding   Feed is changed because bites stop, and its age goes with the hour: all of it says "after" and "while", never
 *               "because". trial.h is for that.
 *
 * Pure arithmetic; memory from the caller. Tests: tests/record/review_test.c
 */
#ifndef BAITFALL_REVIEW_H
#define BAITFALL_REVIEW_H

#include "baitfall/changes.h"
#include "baitfall/fold.h"
#include "baitfall/hazard.h"
#include "baitfall/holds.h"
#include "baitfall/pool.h"
#include "baitfall/rates.h"
#include "baitfall/waits.h"

#ifdef __cplusplus
extern "C" {
#endif

#define BF_REVIEW_LEVEL 0.8
#define BF_REVIEW_MOST_FEEDS 8
#define BF_REVIEW_MOST_HALVES 48
#define BF_REVIEW_N_AGES 4
#define BF_REVIEW_MOST_BINS 288
#define BF_REVIEW_BIN_S 300.0 /* of the change */

/* Minutes since the put-in at the start of the wait: below 4, 4 to 8, 8 to 15, 15 and more (our choice). */
extern const double bf_review_age_from_s[BF_REVIEW_N_AGES + 1]; /* 0 240 480 900 infinity */

/* Drops that have something in common. */
typedef struct bf_review_group {
    int key; /* feed: the bait's name, -1: before anything was fed; age: its index; all: 0 */
    int n_drops;
    int count[BF_N_OUTCOMES]; /* of the drops; touches too                                */
    double hours;             /* their time from drop to drop                             */
    int n_waits, n_ended;     /* waits with a start, and those of them that ended by a bite */
    int n_unseen;             /* of n_waits: start reckoned by the turnaround             */
    int n_unknown;            /* drops whose wait is left out                             */
    bf_banded median_s;       /* NaN under 5 ended waits; upper may be INFINITY           */
    int step_from, n_steps;   /* its curve in the steps given to bf_review_of             */
    bf_gamma fish, bites;     /* rates an hour                                            */
    bf_estimate fish_per_h, bites_per_h;
    bf_gamma ended; /* rate of ended waits an hour of waiting                   */
    bf_share clean; /* landed out of all bites                                  */
} bf_review_group;

typedef struct bf_review_half {
    double from_ms, to_ms; /* of the local clock's half hours, cut to the session */
    double n_fish;
    bf_pool_rate fish_per_h; /* pooled over the session's half hours */
} bf_review_half;

/* How waits on one feed compare with those on another of the same session. */
typedef struct bf_review_switch {
    int from, to;        /* indices into feed; -1: no two feeds with 5 ended waits each     */
    int is_once;         /* every drop on `from` came before every drop on `to`             */
    bf_banded ratio;     /* waits on `to` so many times as long                             */
    int n_covariates;    /* 1: the feed alone; 2: and minutes since feed; 3: and whether it was sprinkled */
    bf_banded per_min;   /* waits so many times as long for each minute the feed is older; NaN: not fitted */
    bf_banded sprinkled; /* and when sprinkled rather than tipped at once                                  */
    int n_clusters;      /* put-ins: waits after the same one share its bed, and the error knows it        */
} bf_review_switch;

/* What to try next time: the first of these rules that holds. */
typedef enum bf_review_try {
    BF_TRY_LOG_MORE, /* fewer than 5 ended waits: there is nothing to choose from yet                       */
    BF_TRY_RIG_IN, /* more than half of the starts unseen, and they move the median more than its band is wide */
    BF_TRY_TURNS, /* two feeds with 5 ended waits each, not told apart: fish them in turns by lot              */
    BF_TRY_TURNS_AGAIN, /* two feeds that seem to differ: the same, since feed was not changed by lot             */
    BF_TRY_FEWER, /* one feed, 10 bites or more, 3 in 10 or more of them lost or foul (9 in 10 sure of over 2 in 10) */
    BF_TRY_SECOND /* one feed: fish a second in turns with it                                                 */
} bf_review_try;

typedef struct bf_review {
    int session;
    double from_ms,
        to_ms; /* bf_session_span; of one longer than a day: opened, and closed or else the last entry */
    int n_touches;
    double n_tally_fish, n_tally_bites; /* of stretches */
    bf_review_group all;
    int n_feeds;
    bf_review_group feed[BF_REVIEW_MOST_FEEDS]; /* in order of first use; from the ninth on in `all` only */
    int n_other_feeds;                          /* drops that are in `all` only                        */
    bf_review_group age[BF_REVIEW_N_AGES];
    double unseen_pm_s; /* by how much the median moves with the learned turnaround, half-width of 80 % */
    int n_halves;
    bf_review_half half[BF_REVIEW_MOST_HALVES];
    double
        n_fish_outside; /* fish in none of them: entered as more than a day off, or caught after the first 24 hours */
    int best_half;      /* most fish; -1: none caught                               */
    int best_age;       /* the age band whose waits end soonest, -1: too early or too close to say */
    double p_best_age;  /* chance that it ends waits faster than every other band with 5 ended waits */
    int feed_most;      /* of the two of `feeds`: more bites an hour; -1 */
    double p_feed_most; /* chance that it has                                                     */
    int feed_clean;     /* of the two of `feeds`: the larger part of its bites landed; -1 */
    double p_feed_clean;
    bf_review_switch feeds;
    int has_change;     /* 1: change holds                                          */
    bf_change change;   /* bites in bins of 5 minutes                               */
    double bin_from_ms; /* bin k ends at bin_from_ms + k x 5 min                    */
    bf_mix holds;       /* kinds: bf_held                                           */
    bf_share in_lip;    /* top middle, top side, bottom                             */
    bf_review_try what_to_try;
    double try_least_ratio; /* with turns: the smallest ratio that 12 blocks of 20 min find, 8 in 10 */
} bf_review;

/* Bytes of work, 16-aligned, for a session of so many drops. */
size_t bf_review_bytes(int n_drops);

/* Steps of the curves of so many drops, at most. */
size_t bf_review_steps(int n_drops);

/* Looks back on one session.
 *
 * session   0 to fold->n_sessions - 1 (asserted)
 * work      bf_review_bytes
 * step      (out bf_review_steps) the wait curves, see bf_review_group
 *
 * Which two feeds are compared: the two with most ended waits, 5 at least each; `from` is the one fed first. The fit is Cox's
 * (hazard.h) over the waits on these two, with minutes since feed from 20 ended waits on and how it went in from 30
 * on, each only when the data can tell it; none when fewer than
 * BF_HAZARD_LEAST_CARRIERS put-ins carry it. Waits after the same put-in are one cluster: they share the bed they were fished over.
 *
 * The best half hour is the one with most fish; its p_best and pooled rate (pool.h) allow for its having been picked.
 *
 * A session with nothing in it gives zeros and NaN, no error. */
void bf_review_of(const bf_fold *fold, const bf_turnaround *turnaround, int session, void *work,
                  bf_wait_step *step, bf_review *review);

/* Fish an hour as it went: at every 10 minutes the rate of the half hour around, its deciles.
 *
 * at_ms    (out most)
 * per_h    (out most x 9)
 * Returns how many, at most `most`; 0 when the session is shorter than half an hour or nothing was landed. */
int bf_review_moving(const bf_fold *fold, int session, int most, double *at_ms, double *per_h);

#ifdef __cplusplus
}
#endif
#endif
