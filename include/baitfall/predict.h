/* predict.h -- does the swim's model foretell bites, and better than simpler laws? Every wait of a session is foretold from what
 * was known before it ended.
 *
 * For each drop every set of the belief says how fast entered bites were due at each instant, going by all entries up to then
 * (touches too). The sets' forecasts are mixed by their evidence before the drop:
 *
 *     share      chance of a bite by the end of the wait, sum over sets of p (1 - exp(-due)),   due = integral of the rate
 *                no bite: a number drawn between that and 1. Uniform on (0, 1) if the model is right (randomised probability
 *                integral transform: A. P. Dawid, JRSS A 147, 1984; time change of a point process: both from memory)
 *     log score  log of sum over sets of p rate^bite exp(-due): per minute, as bf_season_log_score; higher is better
 *
 * Compared on the same waits with the laws of season.h learned from the sessions before: gamma-Poisson (power 1) and Weibull.
 *
 * Validity:  the last bites' share of mislabelled or forgotten entries as stated by the model; within a drop the sets' weights stay as
 *            they were when it began.
 * Pure; memory from the caller; the same bits however the sets are cut. Tests: tests/swim/foretold_test.c
 */
#ifndef BAITFALL_PREDICT_H
#define BAITFALL_PREDICT_H

#include "baitfall/belief.h"
#include "baitfall/season.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct bf_predicted {
    double t_s;    /* when the drop ended */
    double wait_s; /* since the rig went in */
    int is_bite;
    double share;
    double log_score;
} bf_predicted;

/* Drops foretold: those that begin and end in the story and last some time. */
int bf_predict_drops(const bf_belief_job *job);
/* Doubles in a set's row of forecasts; rows as in belief.h: of sets i <= k < j. */
int bf_predict_columns(const bf_belief_job *job);
size_t bf_predict_scratch_bytes(const bf_belief_job *job);
void bf_predict_rows(const bf_belief_job *job, int i, int j, void *scratch, double *rows);

/* Mixes all sets' rows. predicted: (out bf_predict_drops). A drop that no set explains any more: share and score NaN.
 * work: (out n_sets) */
void bf_predict_waits(const bf_belief_job *job, const double *rows, double *work, bf_predicted *predicted);

/* A session's score beside those of the laws. */
typedef struct bf_predict_session {
    int n_waits, n_bites;
    double model, gamma_poisson, weibull; /* log scores */
} bf_predict_session;

/* Waits of a session as the laws read them. temp_c: NaN when not measured. */
bf_season_waits bf_predict_as_waits(const bf_predicted *predicted, int n, double temp_c);

/* The laws are learned from earlier (in n_earlier), the book where that is empty. */
bf_predict_session bf_predict_score(const bf_predicted *predicted, int n, double temp_c,
                                    const bf_season_waits *earlier, int n_earlier);

/* Fewer sessions than this say nothing of a venue. */
#define BF_PREDICT_LEAST_SESSIONS 30

typedef struct bf_predict_verdict {
    int n_sessions;
    bf_banded over_gamma_poisson,
        over_weibull; /* mean gain a session in log score, with interval; NaN without sessions */
    int is_enough;    /* BF_PREDICT_LEAST_SESSIONS or more */
    /* 1: better: enough sessions, and the interval is above 0; else it is "no better than" that law. */
    int is_better_than_gamma_poisson, is_better_than_weibull;
} bf_predict_verdict;

/* n 0 .. BF_SEASON_MOST_LAST sessions (asserted); level in (0, 1). */
bf_predict_verdict bf_predict_judge(const bf_predict_session *session, int n, double level);

/* Chance that n numbers that are uniform lie at least so far from it (Kolmogorov and Smirnov, with M. A. Stephens's correction for
 * small n, from memory; within 0.002 for n >= 10). sorted: (in n) sorted upwards, n >= 1.
 *
 * Example   {0.1, 0.2, .. 0.9}: distance 0.1, chance 1.000 */
double bf_predict_uniform_p(const double *sorted, int n);

#ifdef __cplusplus
}
#endif

#endif
