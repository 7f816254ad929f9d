/* smc2_truth.h -- the belief of a made-up hour beside SMC^2's: mean and sd of each parameter, of what is shown and of the log-likelihood.
 * Used by evaluate.c. */
#ifndef BAITFALL_TESTS_SWIM_SMC2_TRUTH_H
#define BAITFALL_TESTS_SWIM_SMC2_TRUTH_H

#include "swim/calibration.h"
#include "swim/smc2.h"

/* Quantities: the parameters by z, log of bites an hour, log(1 + pieces left), log(1 + fish), log-likelihood of the parameters. */
enum { TRUTH_LIKELIHOOD = N_BELIEVED, N_TRUTH };

#define TRUTH_DRAWS                                                                                          \
    64 /* draws of which the log-likelihood is estimated afresh by TRUTH_STATES states, alike for both */
#define TRUTH_STATES 64

typedef struct truth_side {
    double mean[N_TRUTH], sd[N_TRUTH], log_evidence;
    /* Log density of the parameters the session was made with, by the Gaussian of the same mean and covariance. */
    double log_score;
} truth_side;

typedef struct truth_beside {
    truth_side belief, smc2;
    int n_bites, n_states, n_moves; /* states: of each filter at the end */
    double taken;                   /* share of proposals */
} truth_beside;

/* Session k of calibration.h; seeds of both follow from k and `again`. */
truth_beside truth_of(uint64_t k, uint64_t again, sbc_size belief, smc2_size size);

#endif
