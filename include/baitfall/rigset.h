/* rigset.h -- the smallest set of rigs that covers a peg not yet drawn.
 *
 * Pure; no allocation. Model: docs/models/suggest.md. Tests: tests/plan/rigset_test.c
 */
#ifndef BAITFALL_RIGSET_H
#define BAITFALL_RIGSET_H

#include "baitfall/suggest.h"

#ifdef __cplusplus
extern "C" {
#endif

/* What is known about the peg the evening before. */
typedef struct bf_unknown_peg {
    double depth_least_m, depth_most_m;
    double distance_m;
    double wind_least_m_s, wind_most_m_s;
} bf_unknown_peg;

extern const bf_table bf_unknown_peg_table; /* "unknown_peg" */

/* Checks the table and that least is not above most. Returns BF_OK or the fault; *i_field and *value say where. */
BF_CHECK bf_status bf_unknown_peg_check(const bf_unknown_peg *peg, int *i_field, double *value);

/* Depths and winds that are tried: a Hammersley set, even over both ranges. A part of the range smaller than one of them
 * (3 %) can be missed. At most 63: what a rig covers is one word of bits. */
#define BF_RIGSET_CONDITIONS 32

/* Floats that sets are made of: every second of the catalogue; a set needs no finer steps (judgement). */
#define BF_RIGSET_FLOAT_STEP 2
#define BF_RIGSET_FLOATS 8

/* A made rig can be fished shallower by this much: the float is slid down, and the line above it is wound on or cut back to
 * what it was. More leaves too much line to do away with at the peg (judgement). */
#define BF_SHORTEN_MOST_M 0.40

/* ... and the highest shot stays this far below the float, so that it can turn up (judgement). */
#define BF_FLOAT_FREE_M 0.15

/* Rigs are made for depths in steps of this. */
#define BF_MADE_STEP_M 0.05

/* A rig counts as right for a condition when it holds there and its float is at most this many times as heavy as the
 * lightest that does: a coarser float hides bites (judgement). */
#define BF_HEAVIER_MOST 4.0

#define BF_RIGSET_MOST 6

typedef struct bf_set_rig {
    bf_rig rig;         /* as made: settled and shotted for made_m                                   */
    int i_float;        /* of bf_floats                                                              */
    double made_m;      /* float to hook as made                                                     */
    double needed_frac; /* part of the range where this is the one to take: the lightest of the set  */
    double depth_least_m, depth_most_m, wind_least_m_s, wind_most_m_s; /* of the conditions it covers */
    double covers_frac; /* part of the range it covers, alone                                        */
    uint64_t covers;    /* bit i: condition i                                                        */
    bf_said said_needed, said_covers;
} bf_set_rig;

typedef struct bf_rig_set {
    int n_rigs;
    bf_set_rig rig[BF_RIGSET_MOST]; /* most needed first                                          */
    double uncovered_frac;          /* part of the range none of them covers                      */
    double hopeless_frac;           /* ... of it, where no candidate at all does                  */
    double uncovered_depth_least_m, uncovered_depth_most_m, uncovered_wind_least_m_s; /* NaN: all covered */
    int is_exact; /* 1: proven that no smaller set covers as much               */
    int n_least;  /* proven lower bound on the rigs needed to cover as much     */
    int n_candidates, n_solves;
    bf_said said_uncovered, said_hopeless, said_exact; /* code BF_SAID_NOTHING: nothing to say */
} bf_rig_set;

/* Condition i of a peg: 0 <= i < BF_RIGSET_CONDITIONS. */
void bf_rigset_condition(const bf_unknown_peg *peg, int i, double *depth_m, double *wind_m_s);

/* The smallest set.
 *
 * Rigs      floats in a bulk (strung shot sit too high to be shortened), made for the depths of the conditions rounded up,
 *           on a line from the tip with at most BF_SHORT_SLACK_M of slack.
 * Holds     by suggest.h's limits in a condition's own wind and its gust; bare, or with the most back shots the float may
 *           bear, which are put on at the peg. Each float is solved in each condition as if made for its depth; the rigs
 *           that are taken are solved once more as they are made, and cover only where they hold.
 * Cover     bf_cover_smallest, the float's rating as cost.
 *
 * stand     lines, hook bait, hold and lake as for a spot; depth, distance and wind are replaced
 * peg       passed by bf_unknown_peg_check
 * Returns BF_OK, also when nothing is covered (n_rigs 0, and it is said); the status of bf_judge. */
BF_CHECK bf_status bf_rigset(const bf_stand *stand, const bf_unknown_peg *peg, bf_rig_set *out);

/* The same by parts, of which those of a kind may be done side by side: every float tried in one condition; the rigs that those
 * come to, with what each is hoped to cover; one of them solved as it is made, in all that; and what then is said. What is tried and
 * confirmed is all numbers, so that a row of an answer can hold it. */
typedef struct bf_rigset_tried {
    double status;      /* a bf_status                                        */
    double holds;       /* a bit for each float that holds, the lightest's first */
    double lightest_kg; /* rating of the lightest that holds; infinite: none  */
    double n_solves;
} bf_rigset_tried;

typedef struct bf_rigset_confirmed {
    double status;
    double covers; /* bit i: condition i */
    double n_solves;
} bf_rigset_confirmed;

void bf_rigset_try(const bf_stand *stand, const bf_unknown_peg *peg, int condition, bf_rigset_tried *tried);

/* Of *out only what is known of its rigs before they are confirmed is written; the rest is 0. */
BF_CHECK bf_status bf_rigset_choose(const bf_stand *stand, const bf_unknown_peg *peg,
                                    const bf_rigset_tried tried[BF_RIGSET_CONDITIONS], bf_rig_set *out);

void bf_rigset_confirm(const bf_stand *stand, const bf_unknown_peg *peg, const bf_set_rig *rig,
                       bf_rigset_confirmed *confirmed);

/* confirmed (in out->n_rigs), in their order. */
BF_CHECK bf_status bf_rigset_settle(const bf_unknown_peg *peg, const bf_rigset_confirmed confirmed[],
                                    bf_rig_set *out);

/* At the peg, once it is drawn: a rig of the set over a settled stand, whose own rig is left out.
 *
 * reaches  1: its float can be set to the depth: no deeper than it is made, BF_SHORTEN_MOST_M shallower at most, the highest shot
 *          BF_FLOAT_FREE_M below the float
 * judge    *rig as it is fished there: bare, or, when only so it holds, with the most back shots the float may bear; *judged as
 *          bf_judge, whose status it returns.
 * Example  made 1.75 m: over 1.62 m at 4 cm overdepth it is set 9 cm shallower; over 1.8 m it does not reach. */
int bf_rigset_reaches(const bf_set_rig *of, const bf_stand *stand);
BF_CHECK bf_status bf_rigset_judge(const bf_set_rig *of, const bf_stand *stand, bf_rig *rig,
                                   bf_judged *judged);

/* Covering ----------------------------------------------------------------------------------------------- */

#define BF_COVER_MOST 256
#define BF_COVER_NODES 50000

typedef struct bf_cover {
    int n;                      /* chosen                                                          */
    int chosen[BF_RIGSET_MOST]; /* indices                                                         */
    uint64_t covered;           /* their union                                                     */
    int covers_all;             /* 1: that is the union of all masks                               */
    int is_exact;               /* 1: n_least is the very number that covering all takes           */
    int n_least;                /* covering all takes at least so many; may be above BF_RIGSET_MOST */
    int n_greedy;               /* what greedy alone takes to cover all                            */
} bf_cover;

/* The smallest choice of masks whose union is the union of all, of those as small the least sum of costs.
 *
 * Greedy first (what adds most), then branch and bound on the bit that the fewest masks hold, at most BF_COVER_NODES
 * steps for the number and again for the costs. When more than BF_RIGSET_MOST are needed: the first so many of
 * greedy, which cover at least 1 - 1/e of what the best so many would.
 *
 * mask, cost   (in n) n 0 .. BF_COVER_MOST; cost > 0
 * Source:      G. L. Nemhauser, L. A. Wolsey, M. L. Fisher, Math. Program. 14 (1978) 265 (the 1 - 1/e; from memory). */
void bf_cover_smallest(const uint64_t *mask, const double *cost, int n, bf_cover *out);

#ifdef __cplusplus
}
#endif
#endif
