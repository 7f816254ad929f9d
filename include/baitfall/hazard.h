/* hazard.h -- what shortens or lengthens the waits: Cox's proportional hazards, with an error that knows that the waits of one
 * session resemble each other.
 *
 * Answers the sentence "after stepping up, waits were 0.7 as long (0.5-1.0)".
 *
 * From hazard ratio to that sentence: the fit says how many times as often waits end at any moment, exp(coef) for one unit
 * more of a covariate. Where the hazard is constant over a wait, the mean and every quantile of the waits are
 * 1 / exp(coef) times as long. That assumption is ours and is named beside the sentence ("if bites come evenly over a wait");
 * with a hazard that changes over the wait the fit still holds, the number of the sentence only roughly.
 *
 * Pure arithmetic; allocates nothing; the same bits natively and in WebAssembly for the same rows in the same order.
 * Tests: tests/record/hazard_test.c, and tests/record/r_live against R itself.
 */
#ifndef BAITFALL_HAZARD_H
#define BAITFALL_HAZARD_H

#include <stddef.h>
#include <stdint.h>

#include "baitfall/status.h"
#include "baitfall/waits.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Most covariates. */
#define BF_HAZARD_MOST 8

/* Where fewer sessions than this carry a coefficient (carriers), its robust interval holds the truth less often than it says:
 * "too early to say". */
#define BF_HAZARD_LEAST_CARRIERS 5

/* What is done where several waits end at the same time. BF_EFRON is ours; BF_BRESLOW is there to be checked. */
typedef enum bf_ties { BF_EFRON, BF_BRESLOW } bf_ties;

typedef enum bf_hazard_error { BF_ERROR_MODEL, BF_ERROR_ROBUST } bf_hazard_error;

/* A fit of p covariates; places beyond p are 0. Symmetric matrices, [row][column]. */
typedef struct bf_hazard {
    double coef[BF_HAZARD_MOST];                   /* log hazard ratio per unit of the covariate          */
    double model[BF_HAZARD_MOST][BF_HAZARD_MOST];  /* covariance, from the information matrix             */
    double robust[BF_HAZARD_MOST][BF_HAZARD_MOST]; /* covariance, sandwich over clusters; no correction   */
    double carriers[BF_HAZARD_MOST];               /* clusters that carry it, as if alike: a real number   */
    double loglik0;                                /* log partial likelihood with every coef 0            */
    double loglik;                                 /* at coef                                             */
    double score_test;                             /* the three tests that every coef is 0: chi-squared   */
    double wald_test;                              /* with p degrees of freedom, by the model covariance  */
    double ratio_test;                             /* 2 (loglik - loglik0)                                */
    uint32_t n_covariates;
    uint32_t n_waits;
    uint32_t n_events;
    uint32_t n_clusters; /* distinct ids among the rows; n_waits without ids                                */
    uint32_t n_steps;    /* Newton steps taken                                                              */
    uint32_t i_bad;      /* with BF_E_TWICE, BF_E_MODEL_RANGE: the covariate to blame; else 0               */
} bf_hazard;

/* Bytes of work space for n waits and p covariates. */
size_t bf_hazard_bytes(size_t n, size_t p);

/* Fits the hazard h0(t) exp(coef . x), h0 left free, by the largest partial likelihood:
 *
 *     log L = sum over event times t [ sum over ended i of coef.x_i - sum over l < d of log(S - (l/d) D) ]
 *
 * with S the sum of exp(coef.x) over all waits at least t long, D over the d that ended at t (Efron; Breslow: no D). Newton's
 * method from 0, a step halved while the likelihood falls; stops when the step is below 1e-9 standard errors.
 * model is the inverse information I^-1; robust = I^-1 (sum over clusters of u u') I^-1, u the cluster's sum of the
 * rows' score residuals.
 *
 * Source:    D. R. Cox, J. R. Stat. Soc. B 34, 1972; B. Efron, J. Am. Stat. Assoc. 72, 1977; D. Y. Lin and L. J. Wei,
 *            J. Am. Stat. Assoc. 84, 1989 (robust); all from memory. Conventions as R's survival::coxph(..., cluster).
 * Validity:  hazards in proportion over the whole wait; being cut short tells nothing (waits.h); about ten events or
 *            more for each covariate (common practice). Observed feed and catch are confounded, feed being
 *            changed because bites stop: without a trial this is "after", never "because".
 * Accuracy:  coef, se and loglik 1e-8 of R's, both ties.
 *
 * wait_s    (in n) finite, > 0
 * is_event  (in n) 0 cut short, else ended
 * x         (in n x p) row after row; at most 1e100 either side of 0. Centred and scaled inside, so any unit will do
 * cluster   (in n) the session's number, each below n; NULL: every wait its own
 * n         1 to BF_WAITS_MOST;  p  1 to BF_HAZARD_MOST
 * work      bf_hazard_bytes(n, p) bytes, aligned to 8
 *
 * Errors (fit is then NaN but for the counts and i_bad):
 *           BF_E_MISSING      n is 0, or no wait ended by itself
 *           BF_E_COUNT        n or p too large, or p is 0
 *           BF_E_NOT_FINITE, BF_E_RANGE  a wait, a covariate, a cluster id
 *           BF_E_TWICE        covariate i_bad is constant wherever it counts, or a combination of those before it
 *           BF_E_MODEL_RANGE  separation: covariate i_bad sorts ended from waiting so cleanly that its coefficient has
 *                             no finite value ("every wait after stepping up was shorter than every one before")
 *           BF_E_NO_CONVERGE  the likelihood's top was not found in 60 steps
 *
 * Example   aml, tests/data/reference/statistics/survdata.csv, x = 1 for "not maintained": coef 0.9155326, se 0.5119343:
 *           remissions ended 2.5 times as often, so lasted 0.40 as long. */
BF_CHECK bf_status bf_hazard_fit(const double *wait_s, const unsigned char *is_event, const double *x,
                                 const uint32_t *cluster, size_t n, size_t p, bf_ties ties, void *work,
                                 bf_hazard *fit);

/* How many times as long the waits are with `units` more of covariate k, all else equal, under a hazard constant over the
 * wait: exp(-units coef), with its interval
 *
 *     exp(-units coef -+ q |units| se)    MODEL   se from model, q the standard normal quantile of (1 + level)/2
 *                                         ROBUST  se^2 = robust g/(g - 1), q that of Student's t with g - 1 degrees of
 *                                                 freedom, g = carriers[k]
 *
 * g = (sum e)^2 / sum e^2, e the square of what each cluster is expected to move the coefficient by, under the model. It is the
 * number of clusters when all weigh the same; forty sessions of which four tried the thing have g = 4.9: hardly more than
 * four can vouch for it.
 *
 * Source:    factor and t: A. C. Cameron and D. L. Miller, J. Hum. Resour. 50, 2015; g in place of the number of
 *            clusters: A. V. Carter, K. T. Schnepel and D. G. Steigerwald, Rev. Econ. Stat. 99, 2017 (both from
 *            memory; that the two together serve Cox's model too is ours, by simulation).
 * Accuracy:  how many of 10 000 intervals of 95 % held the truth, waits of a session resembling each other (Kendall's tau
 *            0.3), 4 to 20 waits a session, coefficients of things that differ within sessions and between them:
 *
 *            g                    4.5 to 7      13 to 27
 *            ROBUST               94.1-96.2 %   94.7-95.6 %
 *            MODEL, within        77-97 %       79-97 %       97 when every session tries it half-way
 *            MODEL, between       61-62 %       62-63 %
 *
 * When to use MODEL: where every wait is a session of its own. Of repeated waits it takes each as news, so it is no
 * refuge when sessions are few: then it is too early to say (BF_HAZARD_LEAST_CARRIERS).
 *
 * k         below fit->n_covariates (asserted);  units  any, 1 for a yes/no covariate
 * level     in (0, 1) (asserted), 0.8 for screens
 *
 * Returns lengths as ratios; NaN for ROBUST with g below 2, or a failed fit.
 *
 * Example   the aml fit, 1 unit, model-based at 95 %: 0.400 (0.147-1.092). */
bf_banded bf_hazard_factor(const bf_hazard *fit, size_t k, double units, double level, bf_hazard_error error);

#ifdef __cplusplus
}
#endif
#endif /* BAITFALL_HAZARD_H */
