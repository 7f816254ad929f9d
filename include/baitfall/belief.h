/* belief.h -- what is believed of the swim after a story: sets of particles, each a filter by itself, each particle with
 * parameters of its own.
 *
 * Every particle draws its parameters from the prior (bf_swim_drawn_set; all sets' particles are one Latin hypercube) and goes
 * through the story: log weights, no-bite likelihood integrated in continuous time, resampling (systematic) only when the
 * effective number of its set falls below half; copies then move in parameters, as one cloud that keeps how it goes with the
 * state (core/swim/cloud.h). A set's evidence, the running product of mean weights, weighs it against the other sets. Sets do not know of each other: any of them may run
 * on any thread or worker, in any order. What is read is a row a set; bf_belief_bed merges rows.
 *
 *     evidence of a set    product over events of (mean over particles of weight)
 *     weight of a set      evidence^b; b the largest, at most 1, with which half of the sets count (effective number)
 *     any quantity         its particles, weighted by particle weight x set weight
 *
 * Each set by itself converges to the same posterior, so any weights of sets are right in the limit of many particles; b = 1 would be
 * unbiased, but evidence estimated from few particles scatters more than sets differ, and one lucky set would speak for all.
 *
 * Source:    bootstrap filter: N. J. Gordon, D. J. Salmond, A. F. M. Smith, IEE Proc. F 140(2), 1993; parameters: J. Liu and
 *            M. West (2001); sets as islands: C. Verge et al., Stat. Comput. 25(2), 2015 (all from memory).
 * Why so:    a bank of 256 sets that draw their parameters once, 40 particles each, was tried first: after a made-up hour 5
 *            of 256 counted, after five 1, and its log evidence scattered by 7 even with parameters fixed.
 * Validity:  as good as the model and its priors (swim.h). Moving copies keeps mean and covariance of the parameters, not the
 *            shape of their distribution: after busy hours parameters drawn from a belief explain the hour a little worse than they
 *            should (docs/evaluation.md). Evidence is unbiased where parameters do not vary; else nearly.
 * Pure; memory from the caller; the same bits natively and in WebAssembly and however the sets are cut.
 * Tests: tests/swim/belief_test.c, swim_cloud_test.c, filter_test.c (Nile, AR(1), Poisson HMM), sbc_test.c
 */
#ifndef BAITFALL_BELIEF_H
#define BAITFALL_BELIEF_H

#include "baitfall/summary.h"
#include "baitfall/swim.h"

#ifdef __cplusplus
extern "C" {
#endif

#define BF_BELIEF_SETS 16 /* start; 1 .. BF_BELIEF_MOST_SETS */
#define BF_BELIEF_MOST_SETS 4096
#define BF_BELIEF_PARTICLES                                                                                  \
    640 /* of a set, start; 4 .. BF_BELIEF_MOST_PARTICLES; a few hundred learn parameters */
#define BF_BELIEF_MOST_PARTICLES 4096
#define BF_BELIEF_SOON_S 600.0 /* how far ahead bites are foretold */
#define BF_BELIEF_READS 4      /* particles of a set shown at a mark, at least; 512 over all sets */
#define BF_BELIEF_MOST_MARKS 64
#define BF_BELIEF_MOST_LEDGER 10

/* What a belief is asked. scene and event stay the caller's. */
typedef struct bf_belief_job {
    const bf_swim_scene *scene;
    /* n_events, sorted. BF_SWIM_MARK events, at most BF_BELIEF_MOST_MARKS, at whole multiples of 5 s, are where series are
     * read; they change nothing else. */
    const bf_swim_event *event;
    int n_events;
    double until_s; /* the belief is brought to this instant, >= the last event */
    int spot;       /* which spot series, ledger and "now" are about */
    /* Ledger: between these instants (rising, n_ledger + 1 of them, each 0 or that of an event; the last is until_s) eaten
     * pieces are kept apart. n_ledger 0 .. BF_BELIEF_MOST_LEDGER. */
    double ledger_s[BF_BELIEF_MOST_LEDGER + 1];
    int n_ledger;
    bf_swim_prior prior;
    uint64_t seed;
    int n_sets, n_particles;
    int n_drawn; /* particles of each set that its row holds whole, 0 .. n_particles: what advice tries its actions on (advise.h) */
} bf_belief_job;

/* Doubles in a set's row: its evidence, what a mark shows (evidence then, a few particles), what is read now (some 4096
 * particles over all sets), and n_drawn particles whole. */
int bf_belief_columns(const bf_belief_job *job);

/* Bytes of scratch, 16-aligned, for one set at a time. */
size_t bf_belief_scratch_bytes(const bf_belief_job *job);

/* Rows of sets i <= k < j from the story's beginning; row k begins at rows[(k - i) * columns]. */
void bf_belief_rows(const bf_belief_job *job, int i, int j, void *scratch, double *rows);

/* ---- Snapshots: a set's particles at an instant, as bytes, to go on from ---- */

/* Snapshots stand at whole multiples of this. There every belief, left or not left as a snapshot, rounds its particles to
 * single precision (parameters to 2^-12 of the prior's sd), which is what a snapshot keeps: so going on from one gives the same bits as running through. */
#define BF_BELIEF_GRID_S 600.0

/* The latest instant at or before until_s a snapshot can stand at; 0: none yet. */
double bf_belief_grid_s(double until_s);

/* Bytes of one set's snapshot; 16 x 640 particles, one spot: some 1.5 MB together. */
size_t bf_belief_snapshot_bytes(const bf_belief_job *job);

/* Says which snapshots of at_s a job can go on from: model version, seed, sets, particles, prior, scene, and all that happened up
 * to at_s. Not in it: spot, marks and ledger; bf_belief_fits looks at those. */
uint64_t bf_belief_key(const bf_belief_job *job, double at_s);

/* 1 when the job can go on from this snapshot of one set: same key, same spot, and the snapshot knows all the job's marks and
 * ledger instants that lie before it (it may know more). 0: begin at the beginning. */
int bf_belief_fits(const bf_belief_job *job, const void *snapshot);

/* As bf_belief_rows.
 *
 * snapshots  of sets i .. j - 1, behind each other, 16-aligned, that fit (asserted for each); NULL: from the beginning
 * saved      (out) snapshots of the same sets at save_at_s, 16-aligned; may not be the memory of snapshots. NULL: none
 * save_at_s  a positive multiple of BF_BELIEF_GRID_S, at most until_s, later than the snapshots given (asserted when saved is
 *            not NULL) */
void bf_belief_rows_from(const bf_belief_job *job, int i, int j, const void *snapshots, void *saved,
                         double save_at_s, void *scratch, double *rows);

/* ---- What is shown ---- */

/* All ranges: mid 50 %, lo 10 %, hi 90 % point of the belief; nominal is NaN. A quantity that no particle has (how wide the feed
 * lies, when there is none) is NaN. */
typedef struct bf_bed_point {
    double t_s;
    bf_range left, fish; /* as believed then, not knowing what came later */
} bf_bed_point;

typedef struct bf_bed_entry {
    double from_s, to_s;
    bf_range eaten; /* pieces eaten or gone in the interval, given all that came after too */
} bf_bed_entry;

typedef enum bf_many {
    BF_MANY_FEW,
    BF_MANY_SOME,
    BF_MANY_MANY,
    BF_N_MANY
} bf_many; /* 0-2, 3-6, 7 and more fish */

/* Where few and some end: halfway to the next whole fish, so that nothing lies there. */
#define BF_FEW_END 2.5
#define BF_SOME_END 6.5

/* The words, in their order; static. */
extern const char *const bf_many_words[BF_N_MANY];

/* Which of them (bf_many) a number of fish is. */
static inline int bf_many_of(double fish) {
    return fish < BF_FEW_END ? BF_MANY_FEW : fish < BF_SOME_END ? BF_MANY_SOME : BF_MANY_MANY;
}

typedef struct bf_bed_spot {
    bf_range left, fish; /* as those of bf_bed */
} bf_bed_spot;

typedef struct bf_bed {
    double t_s;                             /* until_s                                     */
    bf_range left;                          /* pieces on the bed at the spot, all sizes      */
    bf_range left_of[BF_SWIM_MOST_CLASSES]; /* by size class                                  */
    double class_m[BF_SWIM_MOST_CLASSES];   /* diameter of each                               */
    int n_classes;
    bf_range left_kg;
    double left_dot[20]; /* 20 equally likely values, rising */
    bf_range fish;       /* on the bait                      */
    double fish_dot[20];
    double p_many[BF_N_MANY];
    bf_range near; /* fish about, not on the bait                    */
    /* True bites an hour to be expected over the next BF_BELIEF_SOON_S, were the rig in (in again after each bite), nothing fed. */
    bf_range bites_h;
    double bites_mean_h; /* the mean of that: many bites or none make it lie far from the middle */
    bf_range wide_m;     /* diameter that holds nine pieces in ten, by those particles that have feed left */
    int n_points;
    bf_bed_point point[BF_BELIEF_MOST_MARKS];
    int n_ledger;
    bf_bed_entry ledger[BF_BELIEF_MOST_LEDGER];
    bf_bed_spot spot[BF_SWIM_MOST_SPOTS]; /* each spot of the scene, by some 4096 particles */
    int n_spots;
    /* Weighted moments of the logarithms of the parameters; covariance is 0 where there is no evidence. */
    bf_swim_prior posterior;
    double covariance[BF_SWIM_N_PARAMETERS][BF_SWIM_N_PARAMETERS];
    /* Of the whole story under the prior; -infinity: no particle of any set explains it; all else is then NaN, but the posterior,
     * which is the prior. */
    double log_evidence;
    /* Parameter sets that count: 1 / sum over sets of (weight^2 / families), a set's families the effective number of lines of
     * descent since the last grid instant, or over the ten minutes before it if those were fewer. Under 10 the screen says that
     * the bands rest on few. */
    double n_effective_sets;
    /* How many independent draws the posterior of the parameters is worth, by how far the sets' means lie apart: variance of all / variance
     * of one set's mean x effective number of sets; moved copies make clouds look fuller than they are. 0: one set. */
    double n_parameter_draws;
} bf_bed;

/* Merges the rows of all sets, in order of sets.
 *
 *     quantile   values sorted, each standing at the middle of its share of the weight; linear between
 *     posterior  weighted mean and sd of the logarithms over all particles
 *
 * Accuracy:  docs/models/swim.md, against many more particles. Ledger: lines of descent in a set run together after some
 *            resamplings, so old intervals are told by few values a set.
 *
 * rows  (in n_sets x columns)
 * work  bf_belief_merge_bytes, 16-aligned */
size_t bf_belief_merge_bytes(const bf_belief_job *job);
void bf_belief_bed(const bf_belief_job *job, const double *rows, void *work, bf_bed *bed);

#ifdef __cplusplus
}
#endif

#endif
