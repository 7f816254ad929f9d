/* smc2_truth.h -- what SMC^2 learns from a made-up hour, and what the belief does: mean and sd of each parameter, of what is shown and of the
 * log-likelihood.
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
    int n_bites;
    int n_states, n_moves; /* of SMC^2: states of each filter at the end */
    double taken;          /* share of its proposals; these three are 0 of the belief */
    double log_evidence;
    /* Log density of the parameters the session was made with, by the Gaussian of the same mean and covariance. */
    double log_score;
    double mean[N_TRUTH], sd[N_TRUTH];
} truth_side;

/* Session k of calibration.h; seeds follow from k and `again`, below 8. */
truth_side truth_by_smc2(uint64_t k, uint64_t again, smc2_size size);
truth_side truth_by_belief(uint64_t k, uint64_t again, sbc_size size);

#endif
