/* learn.h -- learning the swim's parameters from session to session, by venue and angler.
 *
 * A session leaves a summary: what it started from and what it believed at the end. Summaries together give what the next session
 * starts from. Nothing is stored of a session but that, so a summary can be made again whenever the model changes.
 *
 * Model      a parameter's logarithm in session s:  theta + day,   day ~ normal(0, share of the book's variance)
 *                theta  ~ normal(book's mean, the rest of the book's variance), the same for all sessions it belongs to
 *                share  V 0.25 (stock and water change a little), A 0.1 (so does the angler), D 0.8 (mostly of the day): judgement
 *            A session tells of its parameters as a normal likelihood: along each axis of its posterior covariance (in units of the
 *            prior's sd) the precision above the prior's,
 *                max(0, fair / (1.2 r) - 1),   r the variance left,   fair = 1 - (n parameters + 1) / draws
 *            where 1.2 is how much too sure beliefs were of 60 made-up hours (1.24 of busy ones), and fair makes the inverse of a covariance of so few draws
 *            right on average (Wishart's law, from memory). Axes, not parameters one by one: a session knows TAKE times fish far better than
 *            either, and many such sessions must not come to know both.
 *            Only parameters are taken from a session whose own variance, times 1.2, is smaller than what chance brings in 1 of 100
 *            sessions that tell nothing of them (chi-square over draws): a log cannot see all of them, HOLD without a hold entered
 *            not at all, NEAR next to not; those go on as they were.
 * Whose      sessions of the same venue tell of all parameters; those of other venues of the angler's own (level A).
 * Floor      never narrower than the day's share: sd 0.5 (V), 0.32 (A), 0.89 (D) of the book's.
 * Validity:  likelihoods as normal, taken as made by a belief that started from the stated prior; venues known by name.
 *            A learned prior is one of independent parameters (bf_swim_prior): what was learned of their products is used in
 *            learning, not handed to the next session's filter.
 *
 * Pure arithmetic; memory from the caller. What came of it: docs/models/swim.md. Tests: tests/swim/learn_test.c
 */
#ifndef BAITFALL_LEARN_H
#define BAITFALL_LEARN_H

#include "baitfall/belief.h"

#ifdef __cplusplus
extern "C" {
#endif

/* What a session leaves behind. Doubles in order, so it may be kept as numbers. */
typedef struct bf_swim_summary {
    int version;             /* BF_SWIM_VERSION; of another version it is left out */
    int venue;               /* a name, as the caller numbers them; -1: not told */
    uint64_t story;          /* bf_story_hash; of two summaries of one story the later in the array counts */
    bf_swim_prior prior;     /* what the session started from */
    double n_effective_sets; /* at its end, or n_parameter_draws (belief.h) if those are fewer */
    double mean[BF_SWIM_N_PARAMETERS]; /* of the logarithms at its end */
    double covariance[BF_SWIM_N_PARAMETERS][BF_SWIM_N_PARAMETERS];
} bf_swim_summary;

/* The summary of a belief. story: bf_story_hash of all the job's events. */
bf_swim_summary bf_swim_summary_of(const bf_belief_job *job, const bf_bed *bed, int venue);

/* What was learned of one parameter, in its own unit. */
typedef struct bf_swim_lesson {
    double book;    /* the book's middle                                */
    double middle;  /* learned middle of theta: what is usual there     */
    double lo, hi;  /* 10 and 90 % of it, without the day's own changes */
    int n_sessions; /* that told of it                                  */
} bf_swim_lesson;

typedef struct bf_swim_learned {
    bf_swim_prior prior; /* for the next session: usual and day together    */
    bf_swim_lesson lesson[BF_SWIM_N_PARAMETERS];
    int n_venue, n_other; /* sessions of this venue and of others that were used */
} bf_swim_learned;

/* Learns for the next session at a venue (-1: none known, then only the angler's parameters are).
 *
 * summary   (in n) in any order; those of another version, without effective sets or not finite are left out
 * Example   n 0: the book itself. */
bf_swim_learned bf_swim_learn(const bf_swim_summary *summary, int n, int venue);

#ifdef __cplusplus
}
#endif

#endif
