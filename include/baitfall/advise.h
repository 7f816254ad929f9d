/* advise.h -- what to do next: actions tried on what is believed of the swim, each an hour ahead, by the swim's own model.
 *
 * An action is what is done now and the rule by which it goes on: so many pieces, by such a way, each so often. Its worth is what the time
 * ahead brings, on average over the belief; differences are taken in pairs, the same truth and luck for both (core/swim/rollout.h), so
 * that what both share drops out. Which actions: bf_advise_offer. Trying them: sequential halving, then a run-off of the finalists
 * (core/swim/planner.h).
 *
 * Same again    act[0]: of the way fed last (way[0]), as much, every every_s; where that is what the advice given named, by its rule. Gains are over it,
 *               and it is the base: holding off, another hook bait and another spot go on by it.
 * Simple rules  a quarter to four times as much; a quarter of the time between put-ins to twice; only after a bite; the other ways of feeding, what is
 *               thrown also little and often (each minute, as much in all or twice as much); nothing.
 * Advised       the first act listed whose mean is within a margin of the highest, where it is better than the same again by that margin with
 *               the chance BF_ADVISE_CHANCE; else the same again. The margin: BF_ADVISE_MARGIN of what the time ahead brings, and at least
 *               BF_ADVISE_LEAST_FISH_H and BF_ADVISE_LEAST_FISH. What is hard to undo (a move, less than half of the feed, holding off) only where sure;
 *               a move only where better by BF_ADVISE_MOVE_MARGIN: of a spot where nothing was seen yet the model alone speaks.
 * P(best)       chance that no act is better than the advised one. Sure: that is 0.8 or more, and another belief of the same size would say the same
 *               with 0.95 (planner.h, p_again). What is hard to undo is advised only when sure, so another belief must be sure as well:
 *               with z standard deviations to spare here, it has z + N(0, 1), and needs 1.645; so z = 2 x 1.645, a chance of 0.9995.
 * Kept          advice given stays, as what it comes to now, unless another act is better by the margin with the chance, and not sooner than
 *               BF_ADVISE_KEEP_S after it was given unless something showed (is_upset).
 * Either        too close to call: not sure, or something may be better than the same again but not surely so, or nothing is.
 *
 * Why so:    first an act was one put-in, and all went on by the base: on forty made-up hours the best of 25 acts brought 1.75 % more than
 *            going on, and nearly every answer was "either", rightly. A rule that goes on brings 21 % more than the same again. What is said of an
 *            act is right on average and too good where it is the best of thirty at thirty questions (docs/evaluation.md), hence 0.9 and sure.
 * Source:    rollout on a base policy: D. Bertsekas and D. Castanon, J. Heuristics 5, 1999; from memory.
 * Validity:  as good as the model and the belief (docs/models/swim.md): most numbers are judgement. The model knows no sizes and no
 *            species of fish: weight is number times the usual fish, species is number. What lies there when the hour is over is worth
 *            nothing. Venue rules and what is left in the box are the caller's, as most_kg and the ways offered.
 * Pure; flat; memory from the caller; the same bits natively and in WebAssembly.
 * Tests:     tests/swim/advise_test.c
 */
#ifndef BAITFALL_ADVISE_H
#define BAITFALL_ADVISE_H

#include "baitfall/belief.h"

#ifdef __cplusplus
extern "C" {
#endif

#define BF_ADVISE_MOST_ACTS 48
#define BF_ADVISE_MOST_WAYS 24
#define BF_ADVISE_DRAWN 64 /* particles of a set that the belief's rows should hold (belief.h, n_drawn) */
#define BF_ADVISE_SCENARIOS 256 /* start: truths that halving tries actions on */
#define BF_ADVISE_RUN_OFF 1024  /* start: truths that finalists are tried on at most */
#define BF_ADVISE_PHONE_ACTS 32 /* the phone's setting: so many acts, scenarios, and run-off */
#define BF_ADVISE_PHONE_SCENARIOS 128
#define BF_ADVISE_PHONE_RUN_OFF 320
#define BF_ADVISE_LEAST_S 60.0
#define BF_ADVISE_MARGIN 0.03       /* see Kept; judgement */
#define BF_ADVISE_LEAST_FISH_H 0.25 /* fish an hour, where 3 % is less, but no fewer in all than */
#define BF_ADVISE_LEAST_FISH 0.1    /* judgement */
#define BF_ADVISE_CHANCE 0.9
#define BF_ADVISE_MOVE_MARGIN 0.25 /* a move, where BF_ADVISE_MARGIN is that of other acts; judgement */
#define BF_ADVISE_KEEP_S 180.0
#define BF_ADVISE_LOOK_S                                                                                     \
    900.0 /* a move or a change of hook bait is looked at again after so long; judgement */

/* What the angler is after. */
typedef enum bf_objective {
    BF_FOR_WEIGHT,
    BF_FOR_NUMBER,
    BF_FOR_TARGET,
    BF_FOR_SPECIES,
    BF_N_OBJECTIVES
} bf_objective;
extern const char
    *const bf_objective_words[]; /* "weight", "number", "target", "species"; NULL-ended, static */

/* One way of feeding that there is: a bait, how it goes in, where; indices within the belief's scene. */
typedef struct bf_way {
    int spot, feed, how; /* how: bf_how                     */
    double count;        /* pieces of a usual put-in, > 0   */
    double area_m2;      /* of a put-in, > 0                */
} bf_way;

/* One thing to do. */
typedef struct bf_act {
    int what; /* bf_what: feed (now), wait (until wait_s, then the put-in, if any), move (fish at another spot) */
    int spot, hook; /* to be fished from now on */
    int feed, how;  /* what goes in; feed -1: nothing                    */
    int after_bite; /* see every_s                                       */
    double count, area_m2;
    double wait_s; /* wait: so long nothing goes in; else 0           */
    /* How it goes on from then: such put-ins each so often, and, after_bite, only once there was a bite since the last; infinity: never again
     * (feed -1: nothing at all); 0: this once, then the same again, or nothing where no more may go in. */
    double every_s;
} bf_act;

typedef struct bf_advise_job {
    const bf_belief_job *belief;            /* n_drawn >= 1 */
    int n_ways;                             /* 1 .. BF_ADVISE_MOST_WAYS */
    bf_way way[BF_ADVISE_MOST_WAYS];        /* way[0]: the usual one, where the rig is or was */
    int n_hooks;                            /* 1 .. BF_SWIM_MOST_HOOKS; different */
    int hook[BF_SWIM_MOST_HOOKS];           /* hook[0]: the one in use */
    double every_s;                         /* usual time from put-in to put-in, > 0 */
    double since_put_s[BF_SWIM_MOST_SPOTS]; /* at each spot, >= 0; infinity: none yet */
    int n_bites;                            /* since the last put-in at the spot of way[0] */
    double most_kg;                         /* dry feed that may still go in; infinity: no limit known */
    int objective;                          /* bf_objective */
    double fish_kg;                         /* usual landed fish, > 0 */
    double target_kg;                       /* still missing, > 0; of BF_FOR_TARGET alone */
    double for_s;                           /* how far ahead, BF_ADVISE_LEAST_S .. 18000; start 3600 */
    double busy_s;                          /* rig out after a lift, > 0 */
    double put_in_s;                        /* longer after a put-in with the rig out, > 0 */
    double blank_s;                         /* the rig is lifted after so long without a bite, > 0 */
    int has_given,
        is_upset; /* advice was given before and not done yet; something showed since (a fish, a put-in) */
    bf_act given; /* wait_s: what is left of it */
    double given_ago_s;
    int n_acts_most;            /* of the offer, 2 .. BF_ADVISE_MOST_ACTS */
    int n_scenarios, n_run_off; /* 16 or more; as many or more, 4096 at most */
    uint64_t seed;
} bf_advise_job;

/* What is read off a truth, at the spot of way[0]. */
typedef enum bf_advise_reading {
    BF_READ_LEFT,  /* pieces left                       */
    BF_READ_FISH,  /* fish on the bait                  */
    BF_READ_NEAR,  /* fish about, not on the bait       */
    BF_READ_SMALL, /* pieces left of the smallest size  */
    BF_N_READINGS
} bf_advise_reading;

/* How a reading bears on the advice. */
typedef struct bf_bearing {
    int reading; /* bf_advise_reading */
    /* Correlation, over scenarios, of the lead of the advised act over the best act of another kind with the rank of the reading: above 0, the more of
     * it, the better the advice. */
    double pull;
} bf_bearing;

/* What would change the advice: were the reading beyond a bound, another act would be best. */
typedef struct bf_tipping {
    int reading;
    int is_above; /* 1: above the bound, 0: below */
    double bound;
    double share;  /* of the belief that lies there */
    int act;       /* best there, of those tried so far */
    bf_range lead; /* of it over the advised act, there */
} bf_tipping;

/* An act that was not advised. */
typedef struct bf_rival {
    int act;
    bf_range behind; /* the advised act's lead over it, in the objective's unit */
    double p_more;   /* share of scenarios in which it brings more than the advised act, ties half */
    int n;           /* scenarios it was tried on */
} bf_rival;

#define BF_ADVISE_MOST_RIVALS 5
#define BF_ADVISE_MOST_CHANGES 3

typedef struct bf_advice {
    int is_known; /* 0: nothing explains the session (belief.h): all else is 0 */
    int n_acts;
    bf_act act[BF_ADVISE_MOST_ACTS]; /* act[0]: the same again, as what it comes to now */
    /* the rule that the advised act goes on by */
    double every_s, count;
    int after_bites; /* 1: only after a bite */
    int is_fed;      /* 0: nothing is fed */
    int best;        /* advised, index into act */
    int is_either;   /* 1: too close to call; `other` is as good as far as can be told */
    int other;       /* -1: none */
    int is_kept;     /* 1: it stays the advice given, though another was computed a little better */
    bf_range hour;   /* what the time ahead brings with it, 80 % of scenarios, in the objective's unit */
    bf_range gain;   /* of the advised act over act[0]; all 0 when it is that one */
    bf_range lead;   /* over the best other act; NaN when there is none */
    double p_best;   /* chance that none is better; NaN when is_either or is_kept */
    double look_s;   /* look again then */
    double p_fish;   /* chance of a fish landed by then, the advice being followed */
    int n_scenarios; /* that the finalists were tried on */
    int n_rollouts;
    double
        kin; /* by how much the sets' disagreement widens the variance of means, >= 1 (core/swim/planner.h) */
    int n_rivals;
    bf_rival rival[BF_ADVISE_MOST_RIVALS]; /* one of each kind of act, best first */
    bf_bearing bearing[2];                 /* strongest first; reading -1: nothing bears on it */
    int n_changes;
    bf_tipping change[BF_ADVISE_MOST_CHANGES]; /* nearest first */
} bf_advice;

/* Lists what may be done, here with the same again as base: act[0] is that; the simple rules; feeding at once, holding off past the time it is due; another
 * hook bait; another spot, with and without feed; other ways of feeding by half and twice as much. Not what most_kg does not allow. Returns n, at most
 * job->n_acts_most; act (out BF_ADVISE_MOST_ACTS). */
int bf_advise_offer(const bf_advise_job *job, bf_act *act);

/* Bytes of work, 16-aligned. */
size_t bf_advise_bytes(const bf_advise_job *job);

/* Advises. rows: of all sets of job->belief (bf_belief_rows). Values are kg (weight), fish (number, species) or the share of
 * target_kg that the time ahead brings (target), of landed and foul-hooked landed fish together.
 *
 * Accuracy:  on 96 made-up days of the model itself (tests/swim/advise_test.c, BF_LONG; before what is hard to undo was told so seldom) 20 answers were sure, P(best) 0.98 on average; a belief twice as
 *            large, given them, kept to all 20 (it would leave only what is clearly worse), and another seed said the same act 20 times. Before sure
 *            asked for that: 13 of 24 days, and of 11 where another seed was sure too 9 the same. */
void bf_advise(const bf_advise_job *job, const double *rows, void *work, bf_advice *advice);

/* ---- Odds are earned ---- */

/* Until an angler has so many sessions of at least so many lifts, advice is of the book: words, no odds. */
#define BF_ODDS_SESSIONS 5
#define BF_ODDS_LIFTS 20

typedef struct bf_odds {
    int n_sessions; /* with lifts enough */
    /* Of the advice that was followed and named the chance of a fish before the next look, that look past by until_ms or by the fish: */
    int n_said;
    double said; /* fish to be expected by those chances: their sum */
    int n_came;  /* a fish was landed */
} bf_odds;

/* From the record: sessions opened before before_ms; advice entered (event.h) before until_ms, its outcome known by then. A session that was
 * closed before the look without a fish tells nothing. */
bf_odds bf_odds_of(const bf_fold *fold, double before_ms, double until_ms);

#ifdef __cplusplus
}
#endif
#endif
