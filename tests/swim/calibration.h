/* calibration.h -- does the belief mean what it says? Made-up sessions whose truth is known, beliefs of them, and where the truth
 * stands among what is believed (simulation-based calibration); faults put in on purpose, which must show.
 *
 * SBC: parameters drawn from the prior, a session made with them, L draws of the belief; the rank of the truth among the draws is
 * then uniform on 0 .. L for every quantity, if inference is right.
 * Source: S. Talts, M. Betancourt, D. Simpson, A. Vehtari, A. Gelman, arXiv 1804.06788 (2018), from memory.
 *
 * Used by sbc_test.c, predict_test.c (check) and evaluate.c (make evaluate). Everything is a function of the numbers given. */
#ifndef BAITFALL_TESTS_SWIM_CALIBRATION_H
#define BAITFALL_TESTS_SWIM_CALIBRATION_H

#include "baitfall/belief.h"
#include "baitfall/play.h"

/* ---- A made-up session ---- */

#define MADE_MOST_EVENTS 2048

/* What an angler did and entered from 0 to until_s at a made-up peg, and the truth. */
typedef struct made_session {
    bf_swim_scene scene;
    bf_swim_set truth;
    double until_s;
    int n_events, n_bites; /* bites: entered ones */
    bf_swim_event event[MADE_MOST_EVENTS];
    int spot, hook;     /* fished last */
    bf_play_truth seen; /* of `spot` at until_s */
    /* MADE_PAUSE_S after until_s the rig is put in once more and left in: seconds to the next bite, entered or not; INFINITY:
     * none within MADE_WAIT_MOST_S. */
    double bite_after_s;
} made_session;

#define MADE_SECONDS 3600.0
#define MADE_PAUSE_S 20.0
#define MADE_WAIT_MOST_S 1800.0

/* Session k: a pot every few minutes, some thrown feed, drops given up after a blank time; one or two spots. What the angler
 * does depends on chance and on what was entered, never on the truth. */
void made_session_of(uint64_t k, double seconds, made_session *made);

/* ---- Faults ---- */

/* X(name, what): each makes inference wrong on purpose, from outside. */
#define FAULT_LIST(X)                                                                                        \
    X(NONE, "none")                                                                                          \
    X(BEGUN_EARLY, "each drop is taken to begin where the one before ended")                                 \
    X(DECAY, "feed is taken to last two thirds as long")                                                     \
    X(NO_INTEGRAL, "the time without a bite weighs nothing")                                                 \
    X(WEIGHTS_KEPT, "weights are not reset when particles are resampled")                                    \
    X(RESAMPLED_BLIND, "resampling takes no notice of weights")                                              \
    X(OUTCOMES, "landed is read as missed and missed as landed")                                             \
    X(HALF_FED, "half of each put-in is counted")                                                            \
    X(BLANKS_LOST, "drops without a bite are left out of the story")                                         \
    X(TOUCHES_TWICE, "touches are counted twice")                                                            \
    X(PRIOR_SHIFTED, "three times as many fish are expected within reach")

typedef enum fault {
#define FAULT_NAME(name, what) FAULT_##name,
    FAULT_LIST(FAULT_NAME)
#undef FAULT_NAME
        N_FAULTS
} fault;

extern const char *const fault_words[N_FAULTS];

/* ---- Ranks ---- */

enum { RANK_BITES, RANK_LEFT, RANK_FISH, RANK_LIKELIHOOD, N_RANKS };
extern const char *const rank_words[N_RANKS];

#define SBC_MOST_DRAWS 99
#define FRESH_PARTICLES 64 /* of the log-likelihood of a set, estimated alike for truth and draws */

typedef struct sbc_size {
    int n_sets, n_particles; /* of the belief */
    int n_draws;             /* L */
    int foretells;           /* 1: the share of the next bite too */
} sbc_size;

/* One session's ranks, 0 .. L, with ties broken by lot, and how many sets counted. */
typedef struct sbc_ranks {
    int rank[N_RANKS];
    double effective_sets;
    double share; /* predicted_share of the same belief, where it was asked for; else 0 */
    int n_bites;
} sbc_ranks;

sbc_ranks sbc_session(uint64_t k, sbc_size size, fault plant);

/* How far n ranks 0 .. L are from uniform: chi2 over n_bins bins (L + 1 a multiple of them) and the largest distance of the
 * cumulative share from the uniform one. */
typedef struct uniformity {
    double chi2, distance;
} uniformity;

uniformity uniformity_of(const int *rank, int n, int n_draws, int n_bins);

/* Bounds for one quantity that a sound belief breaks in 1 of 600 (models/inference.md: six quantities at 1 of 100 together):
 * chi2 with 19 degrees of freedom; distance for n ranks (Kolmogorov's limit, 1.88 / sqrt n; coarser for ranks, so stricter). */
#define SBC_BINS 20
#define SBC_CHI2 42.20
#define SBC_DISTANCE(n) (1.88 / sqrt((double)(n)))

/* ---- All that is believed ---- */

/* Of each particle after a session: its parameters as (logarithm - prior mean) / prior sd, then what is shown at the spot fished last. */
enum {
    BELIEVED_BITES_H = BF_SWIM_N_PARAMETERS, /* with the hook bait used last */
    BELIEVED_LEFT,
    BELIEVED_FISH,
    N_BELIEVED
};

/* The particles of all sets of the belief, n_sets x n_particles of them. log_weight (out); value (out, N_BELIEVED each). Returns the log
 * evidence. */
double believed_after(const made_session *made, sbc_size size, uint64_t seed, double *log_weight,
                      double (*value)[N_BELIEVED]);

/* ---- Prediction ---- */

/* Where the next bite fell in what was predicted for it: chance believed that it comes no later; with no bite in the time, a number
 * drawn between that chance at the end and 1 (randomised probability integral transform). Uniform if the belief is right. */
double predicted_share(uint64_t k, sbc_size size);

#endif
