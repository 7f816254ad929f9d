/* trial.h -- two feeds compared by turns whose order was drawn by lot: the plan of the turns, and what came of them.
 *
 * Why        on an ordinary day feed is changed because bites stop, so what was caught on a feed says little about what
 *            the feed does. Here a lot decides when each is fed; what differs between them is then the feed or chance.
 * Plan       n_blocks blocks of block_s each, in pairs; within each pair the lot says a then b, or b then a (a switchback:
 *            AB BA BA AB ...). The first washout_s of every block are dropped: the bed of the block before is
 *            still there.
 * Record     the plan is written into the journal as words, in the note of `open` or in a `note` of its own (text/trial.c); the
 *            first block begins at that event's instant, which can be corrected like any other. Seed and sizes give
 *            the same blocks again.
 * Analysis   blocks count as planned, whatever was fed ("intention to treat"); a pair whose second block was not reached is
 *            left out. Pairs of several days are put together.
 *
 * Answers the sentence "with hard four bites came 1.2 times as often as with soft two (0.9-1.6, 19 in 20)".
 *
 * Pure arithmetic; allocates nothing. Tests: tests/record/trial_test.c
 */
#ifndef BAITFALL_TRIAL_H
#define BAITFALL_TRIAL_H

#include "baitfall/fold.h"

#ifdef __cplusplus
extern "C" {
#endif

#define BF_TRIAL_MOST_BLOCKS 48
#define BF_TRIAL_MOST_PAIRS 1024 /* of all days together */
/* With fewer pairs no outcome whatever can reach 19 in 20: 2/2^5 = 0.06. */
#define BF_TRIAL_LEAST_PAIRS 6

/* Ranges that are accepted. */
#define BF_TRIAL_BLOCK_LEAST_S 300.0
#define BF_TRIAL_BLOCK_MOST_S 7200.0

typedef struct bf_trial_plan {
    double seed;      /* whole, 0 .. 2^53 - 1                        */
    int n_blocks;     /* even, 2 .. BF_TRIAL_MOST_BLOCKS             */
    double block_s;   /* 300 .. 7200                                 */
    double washout_s; /* 0 .. block_s / 2                            */
} bf_trial_plan;

/* BF_OK, BF_E_NOT_FINITE, BF_E_RANGE (the washout above half a block too). */
BF_CHECK bf_status bf_trial_check(const bf_trial_plan *plan);

/* 1 when block i (from 0) is for b, 0 for a. The lot of pair k: bf_uniform(seed, 0x747269616c ("trial"), k) < 1/2 puts b first. */
int bf_trial_is_b(const bf_trial_plan *plan, int block);

/* What is asked for: how long, and in what blocks. */
typedef struct bf_trial_wish {
    double hours;
    double block_s, washout_s;
    double seed;
    double bites_per_h; /* expected, by the clock; NaN: not told */
} bf_trial_wish;
extern const bf_table bf_trial_wish_table;
extern const bf_schema bf_trial_wish_schema; /* one section, "plan" */

/* As many whole pairs of blocks as go into the hours, BF_TRIAL_MOST_BLOCKS at most; n_blocks is 0 when not even one does. */
bf_trial_plan bf_trial_plan_of(const bf_trial_wish *wish);

/* ---- From a journal to pairs ---- */

/* What is counted, over what time. */
typedef enum bf_trial_measure {
    BF_TRIAL_BITES, /* bites (landed, lost, missed, foul) an hour of the rig in the water: how soon bites come */
    BF_TRIAL_FISH /* fish landed an hour by the clock                                                       */
} bf_trial_measure;

/* A plan as it was fished. */
typedef struct bf_trial {
    bf_trial_plan plan;
    int session;    /* index into fold.session        */
    double from_ms; /* start of the first block       */
    int a, b;       /* names of the two feeds         */
} bf_trial;

typedef struct bf_trial_pair {
    double n_a, n_b; /* counted, washouts left out */
    double time_a_s, time_b_s;
} bf_trial_pair;

/* Counts a trial's pairs.
 *
 * pair        (out n_blocks / 2) the first *n_pairs are written: those whose second block the session reached, with time on
 *             both sides
 * n_other     (out) blocks in which something other than what was planned went in, or NULL
 *
 * A drop whose start is unknown counts neither as a bite nor as time (BF_TRIAL_BITES). Tallied stretches count as fish, evenly
 * over their length (BF_TRIAL_FISH), and in no wait. Times between blocks' ends and the
 * session's end are cut there. */
void bf_trial_pairs(const bf_fold *fold, const bf_turnaround *turnaround, const bf_trial *trial,
                    bf_trial_measure measure, bf_trial_pair *pair, int *n_pairs, int *n_other);

/* ---- The effect ---- */

typedef struct bf_trial_effect {
    int n_pairs;
    double n_a, n_b, time_a_s, time_b_s;
    double ratio;        /* rate on b over rate on a; 0 or INFINITY when one side had none */
    double lower, upper; /* the ratios not refuted at `level`; 0 and INFINITY when nothing is */
    double p_value; /* chance, were the feeds alike, of a difference at least as large from the lot alone */
    double
        dispersion; /* how many times as uneven as chance the pairs are; 1: as chance; NaN under two pairs with counts */
} bf_trial_effect;

/* With d_i(q) = n_b - n q t_b / (t_a + q t_b), n = n_a + n_b of pair i: what b had beyond its share were its rate q times a's,
 *
 *     ratio     the q with  sum d_i(q) = 0                        (the conditional Poisson estimate)
 *     p_value   from  sum s_i d_i(1)  over signs s_i = +-1        (swapping the feeds of pair i turns its sign)
 *     lower     the q below which  P(sum s_i d_i(q) >= sum d_i(q)) <= (1 - level)/2;  upper likewise
 *
 * so that 1 is in the interval exactly when p_value is above 1 - level.
 * Up to 12 pairs all 2^n signs are counted, above that 2047 drawn ones and the one seen.
 *
 * Source:    R. A. Fisher, The Design of Experiments, 1935 (randomisation test); E. S. Edgington, Randomization Tests
 *            (inversion); both from memory.
 * Validity:  the p-value needs only that the lot was kept to: no law for bites, no independence of blocks. The interval
 *            also takes a difference as a factor, the same all day. Feed that works for longer than washout_s blurs it
 *            towards 1. Where Fish is entered when it is in the net, the time it was played is in the wait, and a
 *            difference in bites shows smaller.
 * Accuracy:  invented days (tests/text/trial_text_test.c, BF_LONG): 1.2 times the bites shows as 1.15 and is found in 187 of
 *            200 runs of 20 days of 14 blocks, 160 of 200 of 14 days; false alarms without a difference 45 in 1000.
 *            Poisson bites (tests/record/trial_test.c): 95 % intervals hold the truth in 94.7 to 95 %.
 *
 * pair      (in n_pairs), counts >= 0, times > 0
 * n_pairs   1 to BF_TRIAL_MOST_PAIRS
 * level     in (0, 1) (asserted); 0.95 as a rule
 *
 * Errors    BF_E_MISSING no pair, or nothing counted in any; BF_E_COUNT too many; BF_E_NOT_FINITE, BF_E_RANGE. *effect
 *           is then NaN but for n_pairs.
 *
 * Example   six pairs of (4, 8) in equal times: ratio 2, p 2/64 = 0.031. */
BF_CHECK bf_status bf_trial_compare(const bf_trial_pair *pair, int n_pairs, double level,
                                    bf_trial_effect *effect);

/* ---- How small a difference it could find ---- */

/* The smallest ratio above 1 that is found (level 0.95) with a chance of 0.8 when so many bites or fish are counted on
 * each side:
 *
 *     log ratio = (z(0.975) + z(0.8)) sqrt(2 dispersion / n_side)
 *
 * Source:    the usual normal approximation for two Poisson counts (from memory).
 * Validity:  ten pairs or more; with six about a quarter too small.
 *
 * n_side > 0, dispersion > 0 (asserted); 1 when nothing is known.
 *
 * Example   23 a side: 2.28, so 2.3 times as many; 473 a side: 1.20. */
double bf_trial_least_ratio(double n_side, double dispersion);

/* The inverse: how many are needed on each side to find a ratio (> 0, not 1, asserted). Example 1.2: 472.2. */
double bf_trial_needed(double ratio, double dispersion);

#ifdef __cplusplus
}
#endif
#endif
