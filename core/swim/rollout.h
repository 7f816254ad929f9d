/* rollout.h -- one way on from here: the swim as one particle of a belief has it, fished by a rule for a while, and what that
 * brings. Internal.
 *
 * Two rules tried in the same scenario (particle, seed, number) share their luck as far as what happens allows: the noise of
 * eating, the moves of fish and whether something shows are drawn by the clock's five seconds, each with a number of its own, and
 * not by how much has happened before; fish k landed weighs the same under every rule.
 *
 * Validity:  as good as the model and the belief. What bites does not come heavier for a larger bait: the model knows no sizes of
 *            fish.
 * Accuracy:  steps of 5 s as in the belief; a put-in lands at the nearer end of one, the rig goes in and comes out, and bites, at their instants.
 *            Over 3000 hours 15.69 bites, where play.h in steps of 1 s has 15.67 (se of the difference 0.08); landed 7.76 and 7.79 (0.05). 15 hard
 *            4 mm pieces every 180 s, parameters from the book.
 * Pairing:   variance of the difference of landed fish in an hour from that rule, truth and luck of both apart, over that of
 *            pairs (in brackets: pairs that share the truth alone); 1500 pairs from a session's beginning:
 *                12 pieces, not 15               44  (12)         lifted after 240 s, not 150    43  (12)
 *                8                               31  (12)         a banded hook bait             41  (12)
 *                30                              28  (12)         60 every 600 s                 14  (9)
 *                every 90 s, not 180             24  (11)
 *            Going on by jump k's and bite k's own numbers instead of the clock's gave two thirds of that (another prior).
 * Cost:      some 35 us of one core a scenario-hour, sixteen side by side (three sizes of feed, one spot; a busy Zen 3 core); one by one 120.
 * Pure; flat.
 * Tests:     tests/swim/rollout_test.c (against play.h fished by the same rule)
 */
#ifndef BFI_SWIM_ROLLOUT_H
#define BFI_SWIM_ROLLOUT_H

#include "baitfall/field.h"
#include "core/swim/luck.h"
#include "core/swim/state.h"

/* A swim by itself. */
typedef struct bfi_swim_alone {
    bfi_swim swim;
    double x[BFI_SWIM_MOST_COLUMNS];
} bfi_swim_alone;

/* Particle p of a block of n, as it stands. */
void bfi_swim_take(const bfi_swim *swim, int n, const double *x, int p, bfi_swim_alone *alone);

/* A rule of fishing. Indices within the scene. */
typedef struct bfi_rule {
    int spot, hook;
    int feed;       /* -1: nothing is put in                                                          */
    int how;        /* bf_how; thrown feed goes in over the rig, all other when the rig is out         */
    double count;   /* pieces of a put-in, > 0                                                        */
    double area_m2; /* of a put-in, > 0                                                               */
    double every_s; /* from put-in to put-in, > 0                                                     */
    int after_bite; /* 1: and only once there was a bite since the last one                           */
    double blank_s; /* the rig is lifted after so long without a bite, > 0                            */
} bfi_rule;

/* What the angler's own work takes, and what the fish weigh. */
typedef struct bfi_hands {
    double
        busy_s[BF_TOUCHED]; /* rig out after an outcome (bf_outcome), > 0; BF_NOTHING: lifted without one */
    double put_in_s;        /* longer after a put-in with the rig out, > 0                               */
    double fish_kg;         /* median of a landed fish                                                   */
    double fish_spread;     /* eight in ten weigh between it divided and multiplied by this, >= 1        */
} bfi_hands;

/* Fishing by `first` until first_s, by `then` until for_s; seconds from where the swim stands. */
typedef struct bfi_rollout {
    bfi_rule first, then;
    double first_s, for_s;
    double since_put_s; /* the last put-in was so long ago; infinity: one is due at once */
    int n_bites;        /* since then                                                    */
    bfi_hands hands;
    uint64_t seed;
} bfi_rollout;

/* What it brought. */
typedef struct bfi_haul {
    int n[BF_FOUL + 1]; /* by outcome; landed fish count and weigh */
    double kg;
    int n_put_ins;
    double pieces; /* put in */
} bfi_haul;

/* A rig that is in where the rule wants it, with its hook bait, stays in until a put-in with the rig out is due; another one is
 * lifted. alone (in/out) stands at the end afterwards. scenario: which luck, >= 0. */
bfi_haul bfi_rollout_run(const bfi_rollout *rollout, bfi_swim_alone *alone, int scenario);

/* Up to BFI_WAYS of them side by side, which is quicker by far; what each brings does not depend on the others. */
typedef struct bfi_outing {
    const bfi_rollout *is;
    const bfi_rule *rule; /* of this drop */
    bfi_luck luck;
    int is_in, is_fed; /* the rig; what this drop is to feed went in, or nothing is due */
    double free_s;     /* rig out: what is next is done then; in: since when            */
    double up_s;       /* in: it is lifted then                                         */
    double late_s;     /* a rig had to come out first: the first rule counts from then  */
    double put_s;      /* the last put-in                                               */
    int n_bites;       /* since then                                                    */
    bfi_haul haul;
} bfi_outing;

typedef struct bfi_rollouts {
    int n;
    double begin_s, end_s;
    bfi_swim_ways ways;
    bfi_swim_alone one; /* the instant of all of them; and one of them, looked at closely */
    bfi_outing outing[BFI_WAYS];
} bfi_rollouts;

/* For n of them, 1 .. BFI_WAYS, then each is added: all from the same instant of the same scene, for as long, with the same seed. rollout stays
 * the caller's until they were run. Those of a scenario should follow each other. */
void bfi_rollouts_begin(bfi_rollouts *r, int n);
void bfi_rollouts_add(bfi_rollouts *r, const bfi_rollout *rollout, const bfi_swim_alone *alone, int scenario);

/* outing[i].haul is what the i-th brings. */
void bfi_rollouts_run(bfi_rollouts *r);

#endif
