/* advise.h -- one advice on its way, shared by the files that make it: advise_offer.c (what may be done), advise.c (trying and choosing),
 * advise_why.c (what bears on it, what would change it). Internal. */
#ifndef BFI_SWIM_ADVISE_H
#define BFI_SWIM_ADVISE_H

#include "baitfall/advise.h"
#include "core/record/sort.h"
#include "core/swim/belief.h"
#include "core/swim/planner.h"
#include "core/swim/rollout.h"

typedef struct bfi_advising {
    const bf_advise_job *job;
    const double *rows;
    bfi_belief_shape shape;
    bfi_swim *ready; /* for the belief's scene */
    bfi_rollouts *block;
    double *weight;  /* of a set, sum 1 */
    double *value;   /* BF_ADVISE_MOST_ACTS x job->n_run_off, by act and scenario */
    double *reading; /* BF_N_READINGS x job->n_run_off */
    double *spare;   /* job->n_run_off */
    double *of_sets; /* 2 x sets, spare */
    int *set;        /* of each scenario, as far as they were tried */
    bfi_key *key, *spare_key;
    bfi_rule base; /* the same again */
    int given;     /* the act given before; -1: none */
    bfi_planner planner;
    bfi_verdict verdict;
    bf_advice *advice;
} bfi_advising;

/* ---- advise_offer.c ---- */

/* The simple rules, the same again first (or nothing at all, where that goes beyond most_kg), the other ways at the spot, nothing. rule (out BFI_ADVISE_RULES); returns n. */
#define BFI_ADVISE_RULES 24
int bfi_advise_rules(const bf_advise_job *job, bfi_rule *rule);
bfi_rule bfi_advise_same_again(const bf_advise_job *job);

/* Seconds until the rule's next put-in at its spot is due, 0: now; infinity: never. */
double bfi_advise_due_s(const bf_advise_job *job, const bfi_rule *rule);

/* As bf_advise_offer, with another base. */
int bfi_advise_offer(const bf_advise_job *job, const bfi_rule *base, bf_act *act);

/* 1 when both do the same now, waits to a minute; is_same: and go on alike. */
int bfi_advise_does_same(const bf_act *a, const bf_act *b);
int bfi_advise_is_same(const bf_act *a, const bf_act *b);

/* What a rule comes to now: a put-in, or waiting for it. By which rule an act goes on. */
bf_act bfi_advise_act_of(const bf_advise_job *job, const bfi_rule *rule);
bfi_rule bfi_advise_rule_of(const bf_advise_job *job, const bfi_rule *base, const bf_act *act);

/* Doing it, then going on by its own rule, or, where it has none, by the base. */
bfi_rollout bfi_advise_rollout(const bf_advise_job *job, const bfi_rule *base, const bf_act *act);

/* ---- advise_why.c ---- */

/* After act, planner and the advice's best are known: rivals, bearings, changes. */
void bfi_advise_why(bfi_advising *a);

/* ---- advise.c ---- */

/* The truth of a scenario, as it stands now. */
void bfi_advise_truth(const bfi_advising *a, int scenario, bfi_swim_alone *alone);

/* What a haul is worth by the job's objective. */
double bfi_advise_worth(const bf_advise_job *job, const bfi_haul *haul);

#endif
