/* pool.h -- partial pooling: rates of several groups that are alike but not the same.
 *
 * Pure arithmetic; memory from the caller. A group is one level of a factor: a bait size, a method, a temperature
 * band, a venue, a month, a session. A group of little data borrows from the others; one of much data stands for
 * itself.
 *
 * Model      count_i ~ Poisson(rate_i x exposure_i),  rate_i ~ Gamma(shape, rate = shape / mean)
 *            The groups' mean and shape are unknown: spread between groups, sd / mean, is 1 / sqrt(shape).
 * Validity:  within a group one steady rate. Days differ: give bf_pool_gather's dispersion to bf_pool_widen before
 *            comparing groups, or the intervals are too narrow. Groups differ in much else than their factor: feed
 *            and catch above all, because feed is changed when bites stop. No cause is claimed.
 * Sentences  "on micros 5.1 fish an hour (4.0-6.3) over 6 sessions"      bf_pool_rates
 *            "4 mm was the best of five, 7 in 10 sure"                   p_best
 *            Groups of fewer than BF_LEAST_TO_SAY events or of one session: the caller says "too early to say".
 * Tests:     tests/record/pool_test.c
 */
#ifndef BAITFALL_POOL_H
#define BAITFALL_POOL_H

#include <stddef.h>

#include "baitfall/rates.h"
#include "baitfall/status.h"

#ifdef __cplusplus
extern "C" {
#endif

#define BF_POOL_MOST_GROUPS 1000

typedef struct bf_pool_group {
    double n;        /* events, >= 0, at most 1e6; need not be whole (see bf_pool_widen) */
    double exposure; /* >= 0, finite; 0: nothing known of this group                     */
    int n_sessions;  /* for the sentence; not used in the arithmetic                     */
} bf_pool_group;

/* ---- Empirical Bayes ---------------------------------------------------------------------------------------- */

typedef struct bf_pool_fit {
    bf_gamma between; /* the rates' distribution over groups; infinite shape and rate when all_alike        */
    double mean; /* its mean                                                                            */
    double
        log_likelihood; /* of the counts, natural logarithm                                                    */
    int all_alike; /* 1: the counts vary no more than chance, the spread is estimated as 0: pool all      */
} bf_pool_fit;

/* Maximum of the marginal likelihood: counts are negative binomial (b = a / mean),
 *
 *     sum of  log Gamma(a + n) - log Gamma(a) - log n! + a log(b / (b + T)) + n log(T / (b + T))
 *
 * Then bf_rate_posterior(between, n, exposure) is the rate of a group, its sd not counting that a and b are
 * guesses. The spread is 0 when the likelihood rises for ever as shape grows (roughly: the sum of (n - m T)^2 is
 * below the sum of n, m the common rate) or is highest above a shape of 1e6: all_alike is then 1, the rate of every
 * group is `mean`, and empirical Bayes has no interval to offer; bf_pool_rates has.
 *
 * Source:    E. P. George, U. E. Makov and A. F. M. Smith, "Conjugate likelihood distributions", Scand. J. Stat.
 *            20, 1993, for the pumps data (from memory).
 * Accuracy:  1e-8 of the pumps table (a, b, log likelihood, means, sds). On 20 simulated sessions of about 3 fish
 *            each the squared error of the pooled rates is 0.41 of that of the raw rates.
 *
 * groups     (in n_groups) 2 .. BF_POOL_MOST_GROUPS; groups of exposure 0 count for nothing
 *
 * Returns BF_OK; BF_E_NOT_FINITE; BF_E_RANGE; BF_E_DATA (fewer than two groups with exposure, no event at all, or
 * events in no exposure); BF_E_NO_CONVERGE (highest below a shape of 1e-4). On an error *out is NaN and 0.
 *
 * Example    ten pumps: a 0.822348695, b 1.259070324, log likelihood -32.262474153. */
BF_CHECK bf_status bf_pool_fit_groups(const bf_pool_group *groups, int n_groups, bf_pool_fit *out);

/* ---- Fully Bayesian: the intervals to show --------------------------------------------------------------------- */

/* What is believed beforehand: log mean ~ normal(log mean_mid, mean_log_sd), log shape ~ normal(log shape_mid,
 * shape_log_sd), independent. */
typedef struct bf_pool_prior {
    double mean_mid;     /* 1e-100 .. 1e100, per unit of exposure */
    double mean_log_sd;  /* 0.01 .. 3                             */
    double shape_mid;    /* 0.1 .. 1e4                            */
    double shape_log_sd; /* 0.01 .. 2                             */
} bf_pool_prior;

/* A weak prior about a usual rate: the groups' mean within a factor 7 of it (95 %), spread between groups 50 % of the
 * mean, from 19 % to 130 % (shape 4, log sd 0.975 x 2 either way). Our choice, no source: wide enough that 5 groups
 * of 20 events decide for themselves, proper, so two groups are enough. */
bf_pool_prior bf_pool_weak(double usual_rate);

typedef struct bf_pool_rate {
    bf_estimate rate; /* of the group, everything unknown averaged over      */
    double p_best;    /* chance that no group has a higher rate              */
    double raw;       /* n / exposure, for comparison; NaN without exposure  */
} bf_pool_rate;

typedef struct bf_pool {
    bf_estimate another; /* rate of another group of the same kind, of which nothing is known yet */
    double mean;         /* expected mean rate of the groups                                      */
    double spread;       /* expected sd between groups over their mean, 1 / sqrt(shape)           */
} bf_pool;

/* Bytes of work memory for bf_pool_rates; 0 when n_groups is out of range. */
size_t bf_pool_bytes(int n_groups);

/* Rates of all groups, with intervals that count that mean and shape are unknown.
 *
 * Quadrature by the trapezoid rule: over log shape where the posterior is above e^-21 of its top (28 points), and
 * at each shape over log mean about its own maximum, in steps below its width and below the width of a group's
 * rate. At each node the rates are independent gammas; the answers are averages over nodes; quantiles are solved on
 * the averaged distribution function. p_best integrates, at each node, the density of one group times the
 * distribution functions of the others.
 *
 * Accuracy:  mean 1e-6, sd 1e-5 (the heavy tail of a group without exposure is cut), the chance below each quantile
 *            1e-6, against a dense sum over the whole prior. p_best: as 100000 draws to their error; its grid is
 *            too coarse when one group has over 5000 events and another nearly none. In simulation from the prior
 *            the 95 % interval of one of 4 groups covers 94.6 % of 10000; that of empirical Bayes, which takes its
 *            guess for known, 85 %. Where days differ (sd 0.5), 8 sessions a level: the 80 % interval covers 53 % as
 *            it is, 78 % after bf_pool_widen.
 *
 * groups     (in n_groups) 1 .. BF_POOL_MOST_GROUPS. A group without exposure gets the rate of "another such group".
 * level      of the intervals, in (0, 1)
 * work       bf_pool_bytes(n_groups) bytes, aligned for double
 * rates      (out n_groups), in the order of groups
 * pool       (out) may be NULL
 *
 * Returns BF_OK; BF_E_NOT_FINITE; BF_E_RANGE; BF_E_DATA (events in no exposure). On an error rates and *pool are
 * NaN.
 *
 * Example    12 in 3 h, 4 in 2 h, 0 in 1.5 h, 30 in 5 h, bf_pool_weak(4), level 0.8: the first mean 3.87 an hour, mid 3.77
 *            (2.61 to 5.25), p_best 0.104; the last mean 5.62, mid 5.55 (4.34 to 6.99), p_best 0.885. */
BF_CHECK bf_status bf_pool_rates(const bf_pool_group *groups, int n_groups, bf_pool_prior prior, double level,
                                 void *work, bf_pool_rate *rates, bf_pool *pool);

/* Order of groups, best first: by p_best, then by mean, then as given.
 *
 * order      (out n_groups) indices into rates */
void bf_pool_order(const bf_pool_rate *rates, int n_groups, int *order);

/* ---- From a season to groups ----------------------------------------------------------------------------------- */

#define BF_POOL_MOST_FACTORS 8

/* A stretch of one session in which no factor changed. */
typedef struct bf_pool_stretch {
    double n;                        /* events, >= 0                                                       */
    double exposure;                 /* >= 0                                                               */
    int session;                     /* number of the session; stretches come with sessions never falling  */
    int level[BF_POOL_MOST_FACTORS]; /* per factor 0 .. n_levels-1, or -1: not known, left out             */
} bf_pool_stretch;

/* Sums the stretches by the levels of one factor. The season calls this, bf_pool_widen and bf_pool_rates for each
 * factor in turn.
 *
 * dispersion (out) how much more the sessions within a level differ than chance: Pearson's chi-square over its
 *                  degrees of freedom, at least 1; 1 when no level has two sessions. A level's rate is then known
 *                  as if events and exposure were this many times fewer.
 *
 * Returns BF_OK; BF_E_NOT_FINITE; BF_E_RANGE (factor, n_levels 1 .. BF_POOL_MOST_GROUPS, a level, n_stretches < 0, a
 * session below its predecessor); BF_E_DATA (events in no exposure). On an error groups are 0 and *dispersion NaN. */
BF_CHECK bf_status bf_pool_gather(const bf_pool_stretch *stretches, int n_stretches, int factor, int n_levels,
                                  bf_pool_group *groups, double *dispersion);

/* Divides events and exposure of every group by dispersion (>= 1, finite: asserted): the raw rate stays, the interval
 * widens (quasi-Poisson). */
void bf_pool_widen(bf_pool_group *groups, int n_groups, double dispersion);

#ifdef __cplusplus
}
#endif
#endif /* BAITFALL_POOL_H */
