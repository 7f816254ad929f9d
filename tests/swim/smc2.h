/* smc2.h -- SMC^2: parameters learned event by event, each set of them with a particle filter of its own; the truth that the belief's
 * quicker learner is held against (belief.h moves particles' own parameters; here none are ever moved but by a step that leaves the
 * posterior as it is). For tests; takes minutes where the belief takes a third of a second.
 *
 *     n_theta sets of parameters z, drawn from the prior; n_x states each, by the model itself
 *     weight of a set      product over events of its filter's mean weight: an unbiased likelihood
 *     below n_theta / 2    (effective number) sets are drawn again by weight, and moved by particle marginal Metropolis-Hastings: a
 *                          proposal z', its filter run afresh through all events so far, taken with chance
 *                              min(1, L(z') p(z') q(z) / (L(z) p(z) q(z')))
 *                          until as many were taken as there are sets; q the Gaussian of mean and covariance of the other half of the
 *                          sets, with a share of the prior's covariance
 *     taken too seldom     under one in five: all begins anew with twice the states
 *
 * Sources:   N. Chopin, P. E. Jacob, O. Papaspiliopoulos, J. R. Stat. Soc. B 75(3), 2013; the move: C. Andrieu, A. Doucet, R. Holenstein,
 *            J. R. Stat. Soc. B 72(3), 2010 (both from memory).
 * Why anew:  the paper goes on with twice the states and weights L new / L old. That was tried first: the ratio has so long a tail where the old
 *            filters were poor that 24 runs on the Nile, begun with 8 states, gave 0.43 of the evidence.
 * Why halves: a Gaussian fitted to the very sets that it judges covers them too well: with 16 parameters and 128 sets the mean square of z came
 *            out 11 % short and the evidence 23 % too large; with halves 0.5 % and 2 %, within the errors (plain sampling, ten minutes of the swim).
 * Validity:  any model whose filter can be run; exact in the limit of many sets, whatever n_x is. A mean is off by a posterior sd /
 *            sqrt(about n_theta / 2); for the swim docs/evaluation.md has it, measured.
 * Tests:     smc2_test.c, against closed forms. */
#ifndef BAITFALL_TESTS_SWIM_SMC2_H
#define BAITFALL_TESTS_SWIM_SMC2_H

#include <stddef.h>
#include <stdint.h>

#define SMC2_MOST_PARAMETERS 17 /* as many as the swim has */

/* A model: parameters z, independent and standard normal before anything is seen, and what a filter of it does. Randomness is a function of
 * (seed, stream, event, particle), streams below 2^48; a copied filter goes on with another stream. */
typedef struct smc2_model {
    const void *self;
    int n_parameters, n_events;
    int n_columns;       /* doubles of a particle: column c of particle p is x[c * n + p]      */
    size_t shared_bytes; /* what the particles of one filter share; flat, 16-aligned; may be 0 */
    void (*begin)(const void *self, const double *z, uint64_t seed, uint64_t stream, int n, double *x,
                  void *shared);
    /* Brings particles from the event before to event i; log_w[p] (in/out n) gains the logarithm of its chance. */
    void (*meet)(const void *self, int i, uint64_t seed, uint64_t stream, int n, double *x, void *shared,
                 double *log_w);
} smc2_model;

typedef struct smc2_size {
    int n_theta;
    int n_x, most_x; /* states of each, to begin with; at most */
    uint64_t seed;
} smc2_size;

/* A set of parameters with its filter. */
typedef struct smc2_filter {
    double z[SMC2_MOST_PARAMETERS];
    double log_likelihood;
    uint64_t stream;
    void *shared;
    double *x, *log_w; /* n_columns columns and one, n_x each; weights of mean 1 */
} smc2_filter;

typedef struct smc2 {
    const smc2_model *model;
    smc2_size size; /* n_x: as it came to be */
    int n_met;
    smc2_filter *filter, *other; /* n_theta; where copies go */
    double *log_w;               /* of the sets, mean 1 */
    double log_evidence;
    int n_moves;                        /* times that sets were drawn again      */
    double n_proposed, n_taken, n_runs; /* runs: events met by all filters, reruns too */
    int is_coarse;                      /* at the last move too few proposals were taken */
    uint64_t n_streams, n_draws;
    double *spare;
    int *from;
} smc2;

/* Through all events. n_theta and n_x at least 2. The test stops if nothing explains the events. */
void smc2_run(smc2 *s, const smc2_model *model, smc2_size size);
void smc2_free(smc2 *s);

/* Weighted mean and covariance of z. */
void smc2_moments(const smc2 *s, double mean[SMC2_MOST_PARAMETERS],
                  double covariance[SMC2_MOST_PARAMETERS][SMC2_MOST_PARAMETERS]);

/* An unbiased estimate of the likelihood of z, its logarithm, by n_x states. */
double smc2_log_likelihood(const smc2_model *model, const double *z, int n_x, uint64_t seed, uint64_t stream);

#endif
