/* belief.h -- what is believed of the swim after a story: a bank of parameter sets, each with its own particle filter.
 *
 * Set s of n draws its parameters from the prior (bf_swim_drawn_set) and runs `m` particles through the story by itself:
 * log weights, no-bite likelihood integrated in continuous time, resampling (systematic) only when the effective number falls below
 * half. Its evidence, the running product of mean weights, weighs it against the other sets. Sets do not know of each other:
 * any of them may run on any thread or worker, in any order. What is read is a row a set; bf_belief_bed merges rows.
 *
 * Pure; memory from the caller; the same bits natively and in WebAssembly and however the sets are cut.
 * Tests: tests/swim/belief_test.c, filter_test.c (Nile, AR(1), Poisson HMM), sbc_test.c
 */
#ifndef BAITFALL_BELIEF_H
#define BAITFALL_BELIEF_H

#include "baitfall/summary.h"
#include "baitfall/swim.h"

#ifdef __cplusplus
extern "C" {
#endif

#define BF_BELIEF_SETS 256 /* start; 16 .. BF_BELIEF_MOST_SETS */
#define BF_BELIEF_MOST_SETS 4096
#define BF_BELIEF_PARTICLES 40 /* of a set, start; 4 .. 4096 */
#define BF_BELIEF_READS 4      /* particles of a set shown at a mark */
#define BF_BELIEF_MOST_MARKS 64
#define BF_BELIEF_MOST_LEDGER 10

/* What a belief is asked. story and scene stay the caller's. */
typedef struct bf_belief_job {
    const bf_swim_scene *scene;
    const bf_swim_event *
        event; /* n_events, sorted; BF_SWIM_MARK events (at most BF_BELIEF_MOST_MARKS) are where series are read */
    int n_events;
    double until_s; /* the belief is brought to this instant, >= the last event */
    int spot;       /* which spot the ledger and "now" are about */
    /* The ledger's intervals: between these instants (rising, n_ledger + 1 of them, the last is until_s) eaten pieces are kept apart. */
    double ledger_s[BF_BELIEF_MOST_LEDGER + 1];
    int n_ledger;
    bf_swim_prior prior;
    uint64_t seed;
    int n_sets, n_particles;
} bf_belief_job;

/* Columns of a set's row. OWNER BELIEF: completes the layout (offset functions), keeps rows self-contained. */
int bf_belief_columns(const bf_belief_job *job);
/* Bytes of scratch for one set at a time, 16-aligned. */
size_t bf_belief_scratch_bytes(const bf_belief_job *job);
/* Rows of sets i <= k < j from the story's beginning. */
void bf_belief_rows(const bf_belief_job *job, int i, int j, void *scratch, double *rows);

/* ---- Snapshots: a set's particles at an instant, as bytes, to go on from ---- */
size_t bf_belief_snapshot_bytes(const bf_belief_job *job); /* of one set */
/* As bf_belief_rows, beginning at event i_event with the snapshots given (NULL: from the start), and leaving a snapshot after the last event
 * at or before save_at_s (NULL: none). Going on from a snapshot gives the same bits as running through. */
void bf_belief_rows_from(const bf_belief_job *job, int i, int j, const void *snapshots, void *saved,
                         double save_at_s, void *scratch, double *rows);

/* ---- What is shown ---- */

typedef struct bf_bed_point {
    double t_s;
    bf_range left, fish; /* nominal is NaN */
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

typedef struct bf_bed {
    double t_s;
    bf_range left;                          /* pieces on the bed at the spot, all sizes      */
    bf_range left_of[BF_SWIM_MOST_CLASSES]; /* by size class                                  */
    double class_m[BF_SWIM_MOST_CLASSES];   /* diameter of each                               */
    int n_classes;
    bf_range left_kg;
    double left_dot[20]; /* 20 equally likely values, rising */
    bf_range fish;       /* on the bait                      */
    double fish_dot[20];
    double p_many[BF_N_MANY];
    bf_range near;    /* fish about, not on the bait                    */
    bf_range bites_h; /* true bites an hour with the rig in now          */
    bf_range wide_m;  /* diameter that holds nine pieces in ten          */
    int n_points;
    bf_bed_point point[BF_BELIEF_MOST_MARKS];
    int n_ledger;
    bf_bed_entry ledger[BF_BELIEF_MOST_LEDGER];
    bf_swim_prior posterior; /* weighted moments of the logarithms of the parameters */
    double log_evidence;     /* of the whole story */
    double
        n_effective_sets; /* 1 / sum of squared weights: under 10 the screen says that the bands rest on few sets */
} bf_bed;

/* Merges the rows of all sets. work: bf_belief_merge_bytes. */
size_t bf_belief_merge_bytes(const bf_belief_job *job);
void bf_belief_bed(const bf_belief_job *job, const double *rows, void *work, bf_bed *bed);

#ifdef __cplusplus
}
#endif

#endif
