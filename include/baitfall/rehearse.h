/* rehearse.h -- a session that did not take place: the swim's own model is the water, the angler chooses; afterwards the hidden truth,
 * and what each decision cost. The same machinery fishes a real session again under another feeding.
 *
 * The day is a function of (scene, truth, seed, turns, until when) and of nothing else: it is always played from its beginning, so the
 * same seed and turns give the same day, and a turn late in the day changes nothing before it. Luck is drawn by the clock's five
 * seconds (core/swim/luck.h): a turn does not shuffle the luck of other hours.
 *
 * Truth      parameters and state at the beginning, bf_rehearse_columns doubles: drawn from the prior (bf_rehearse_begin), or from what is
 *            believed of a real session at an instant (bf_rehearse_draw). What they mean is the model's business; they can be kept as
 *            bytes for one BF_SWIM_VERSION.
 * Turns      what the angler chooses: a put-in, the rig in at a spot with a hook bait, the rig out, waiting.
 * Clock      all that is done falls on whole multiples of BF_REHEARSE_TICK_S since the session began, at or after the time chosen; bites
 *            have their own instants between.
 * Hands      what needs the pole (a put-in by clump or sprinkle, the rig in) waits until the hands are free: busy_s after the rig came
 *            out, put_in_s after such a put-in. A rig that is in comes out first. Feed thrown or by hand goes in at once.
 * What shows touches and bites as they are: unlike play.h, nothing is forgotten or entered under a wrong word. A fish landed weighs
 *            what its number in the day draws, read to 10 g; the model itself knows no sizes of fish.
 *
 * Validity:  as good as the model (docs/models/swim.md): most of its numbers are judgement. A rehearsal trains the handling of a model
 *            of fish, not of fish.
 * Accuracy:  steps of 5 s as in belief and rollouts, where play.h takes 1 s: of 6000 first drops 0.716 ended with a bite within ten minutes,
 *            there 0.721 (se of the difference 0.008); 15 hard four, parameters from the book.
 * Pure; flat; memory from the caller; the same bits natively and in WebAssembly.
 * Example    one spot, 15 hard four tipped every 3 min, 16 C, all parameters at their middles, an hour: some 11 bites (rehearse_test).
 * Tests:     tests/swim/rehearse_test.c
 */
#ifndef BAITFALL_REHEARSE_H
#define BAITFALL_REHEARSE_H

#include "baitfall/advise.h"

#ifdef __cplusplus
extern "C" {
#endif

#define BF_REHEARSE_TICK_S 5.0
#define BF_REHEARSE_MOST_TURNS 1000
#define BF_REHEARSE_MOST_S 43200.0 /* a session's length at most */
#define BF_REHEARSE_POINT_S 60.0   /* the truth is noted so often */
/* Start values, judgement: a usual fish of a stocked pool, and that eight in ten weigh between it divided and multiplied by this. */
#define BF_REHEARSE_FISH_KG 0.7
#define BF_REHEARSE_FISH_SPREAD 2.0

typedef enum bf_turn_kind {
    BF_TURN_FEED,
    BF_TURN_LOWER,
    BF_TURN_LIFT,
    BF_TURN_WAIT,
    BF_N_TURNS
} bf_turn_kind;
extern const char *const bf_turn_words[]; /* "feed", "lower", "lift", "wait"; NULL-ended, static */

/* One choice. Indices within the scene. */
typedef struct bf_turn {
    double t_s;     /* since the session began; turns stand in order of time                   */
    int kind;       /* bf_turn_kind                                                           */
    int spot;       /* feed, lower                                                            */
    int what;       /* feed: which; lower: the hook bait                                      */
    int how;        /* bf_how, of feed                                                        */
    int is_further; /* 1: a further bait of the put-in of the turn before                     */
    double count, count_pm_frac, area_m2; /* of feed: as in bf_swim_event                     */
    double for_s; /* wait: so long nothing else is meant to be done; the day does not read it */
} bf_turn;

typedef struct bf_rehearsal {
    const bf_swim_scene *scene;
    const double *truth; /* bf_rehearse_columns */
    uint64_t seed;
    const bf_turn *turn;
    int n_turns;       /* 0 .. BF_REHEARSE_MOST_TURNS */
    double until_s;    /* the day goes on so far, and until every turn chosen by then is done */
    int stops_at_bite; /* 1: but no further than the first bite once they are done        */
    int goes_in_again; /* 1: where it was lowered last the rig goes in again by itself, until a lift: a real session fished again */
    double busy_s, put_in_s;     /* hands, see above; > 0                                      */
    double fish_kg, fish_spread; /* median of a landed fish, > 0; factor for eight in ten, >= 1 */
} bf_rehearsal;

/* The hidden truth at an instant. */
typedef struct bf_rehearse_point {
    double t_s;
    double near;                                               /* fish about, not on any bait */
    double left[BF_SWIM_MOST_SPOTS], fish[BF_SWIM_MOST_SPOTS]; /* pieces lying, fish on the bait */
} bf_rehearse_point;

typedef struct bf_rehearse_day {
    /* What happened, in order: BF_SWIM_FEED, BF_SWIM_IN, BF_SWIM_TOUCH, BF_SWIM_LIFT with outcome and held. `live` is the turn it came of,
     * -1: it showed; `value` is the weight of a landed fish, kg, else NaN. Those beyond most_events are counted only. NULL with 0: none kept. */
    bf_swim_event *event;
    int most_events, n_events;
    bf_rehearse_point
        *point; /* likewise: at the beginning, at every BF_REHEARSE_POINT_S of the session's clock */
    int most_points, n_points;
    /* Written by bf_rehearse: how it stands at the end. */
    double t_s;
    int n_done;                 /* turns */
    int rig_spot, rig_hook;     /* -1: not in */
    double rig_since_s, free_s; /* since when; hands are free from then on */
    int n[BF_FOUL + 1];         /* bites by outcome */
    int n_touches;
    double kg;
    double
        due; /* bites and touches to be expected, given all that the truth was on the way: their integrated hazard */
} bf_rehearse_day;

/* Plays the day. event and point, with their most, are given; all else is written. */
void bf_rehearse(const bf_rehearsal *rehearsal, bf_rehearse_day *day);

/* ---- Truths ---- */

/* Doubles of a truth. */
int bf_rehearse_columns(const bf_swim_scene *scene);

/* Draws parameters from the prior, and the beginning of a session with them: fish about by the stock, none on the bait, a clean
 * bed. truth: (out columns). */
void bf_rehearse_begin(const bf_swim_scene *scene, const bf_swim_prior *prior, uint64_t seed, double *truth);

/* Draws one particle of a belief, by its weight, as it stands at until_s. belief->n_drawn >= 1; rows of all sets; work:
 * bf_rehearse_draw_bytes, 16-aligned. Returns 1; 0 when nothing explains the session, and truth is as it was. */
size_t bf_rehearse_draw_bytes(const bf_belief_job *belief);
int bf_rehearse_draw(const bf_belief_job *belief, const double *rows, uint64_t seed, void *work,
                     double *truth);

/* The parameters of a truth, in the units of their list; TAKE, a share, is 1 at most. */
bf_swim_set bf_rehearse_parameters(const bf_swim_scene *scene, const double *truth);

/* 1 when these doubles can be a truth of this scene at t_s: finite, no counts or rates below 0, the rig at a spot there is. */
int bf_rehearse_is_truth(const bf_swim_scene *scene, const double *truth, double *t_s);

/* ---- What a decision cost ---- */

/* Waits shorter than this are no decisions. */
#define BF_REHEARSE_LEAST_WAIT_S 60.0
#define BF_REHEARSE_LUCKS 128 /* the chosen and the best are compared on so many */

/* Turn i as a decision: a put-in, going to another spot (with the put-in before it, if there was one there), another hook bait, a wait. */
typedef struct bf_rehearse_decision {
    double t_s;     /* when it was taken: chosen, and the turn before done */
    int spot, hook; /* fished until then; where none was: as the turn says */
    bf_act act;     /* what was chosen */
    int is_beside;  /* 1: feed for another spot than the one that goes on being fished */
} bf_rehearse_decision;

/* 1 when turn i is one; *decision is then written. A lift, a rig that goes in as before, and the first time it goes in are none: no other
 * action is held against them. */
int bf_rehearse_decided(const bf_rehearsal *rehearsal, int i, bf_rehearse_decision *decision);

typedef struct bf_rehearse_cost {
    bf_act best; /* of the offer (bf_advise_offer) and the chosen, under the truth as it was then */
    int is_best; /* 1: that is what was chosen */
    bf_range
        cost; /* mean of what the best brings less what the chosen brings, in the objective's unit; lo, hi: its 80 % range */
    double p_more; /* share of lucks in which the best brings more, ties half */
    int n_lucks;
} bf_rehearse_cost;

/* What turn i, a decision, cost: from the true state then, under the true parameters, the chosen act against the best of the offer, both then
 * going on as the best would, over the same lucks, which are none of those that chose the best. So it is the price of that one choice; what is
 * chosen later has its own. Never below 0: where the chosen brought more than the best of the offer it is the best that is known. Whether the rig was in while it was waited is not priced.
 *
 * job     as for bf_advise, but for belief, seed, given and numbers of acts and scenarios: those are set here. way[0] at decision->spot,
 *         hook[0] decision->hook
 * work    bf_rehearse_cost_bytes, 16-aligned */
size_t bf_rehearse_cost_bytes(const bf_swim_scene *scene);
void bf_rehearse_price(const bf_rehearsal *rehearsal, int i, const bf_rehearse_decision *decision,
                       bf_advise_job *job, void *work, bf_rehearse_cost *cost);

/* ---- A real session fished again ---- */

/* Two feedings of the same session, fished side by side by the same rule with the same truth and luck: parameters are drawn from the belief of the
 * whole session, its fish are drawn anew from the beginning (what is known of where they were at each minute is not kept). */
typedef struct bf_rehearse_other_job {
    const bf_belief_job *belief; /* of the whole session; n_drawn >= 1 */
    const double *rows;          /* of all its sets                    */
    const bf_turn *turn[2];      /* as it was; instead                 */
    int n_turns[2];
    double busy_s, put_in_s, fish_kg;
    uint64_t seed;
} bf_rehearse_other_job;

/* Scenario s: how many fish are landed under each feeding. work: bf_rehearse_draw_bytes. Returns 0 when nothing explains the session. */
int bf_rehearse_other(const bf_rehearse_other_job *job, int scenario, void *work, double landed[2]);

#ifdef __cplusplus
}
#endif

#endif
