/* planner.h -- which of some candidates is worth most, by trying all of them on the same scenarios. Internal.
 *
 * A scenario is a hidden truth drawn from what is believed, together with the luck that meets it. The value of candidate k in
 * scenario s is what comes of doing k first and going on by the base policy. Only the caller can tell it; the planner says which
 * values are wanted, drops the worse half of the candidates again and again (sequential halving), and judges what is left:
 *
 *     bfi_planner_begin(&planner, n_candidates, base, n_scenarios, n_scenarios);
 *     do
 *         for (int i = 0; i < bfi_planner_items(&planner); i++) {        any order, any threads: items are independent
 *             bfi_planner_item item = bfi_planner_item_of(&planner, i);
 *             value[item.at] = ... of item.candidate in item.scenario ...
 *         }
 *     while (bfi_planner_next(&planner, value));
 *     bfi_verdict verdict = bfi_planner_verdict(&planner, value);
 *
 * With ceil(log2 K) rounds, the candidates left have been tried on S / 2^(rounds to come) scenarios after each, but on sixteen at
 * least, where S is so many: on four the best of the swim's acts came out first by luck alone (differences of half a fish, se 1). The base goes along to the
 * end, whatever it is worth. 48 candidates, 256 scenarios: some 2000 rollouts, not 12288.
 *
 * Why so:    differences between candidates are taken scenario by scenario (common random numbers), so luck that both share drops
 *            out. Truths should be spread evenly over the belief: scenario s takes the one at bfi_planner_share.
 * Source:    Z. Karnin, T. Koren, O. Somekh, "Almost optimal exploration in multi-armed bandits", ICML 2013 (halving); rollout on
 *            a base policy: D. Bertsekas and D. Castanon, J. Heuristics 5, 1999; both from memory.
 * Validity:  values of scenarios count as independent draws with a mean; where they are spread evenly, ranges come out too wide.
 *            Never worse than the base in expectation, if the model that the scenarios come from is right.
 * Pure; flat; the same verdict however the items of a round are cut.
 * Tests:     tests/swim/planner_test.c (Tiger and the two-arm bandit against their exact solutions)
 */
#ifndef BFI_SWIM_PLANNER_H
#define BFI_SWIM_PLANNER_H

#include <stdint.h>

#include "baitfall/summary.h"

#define BFI_PLANNER_MOST 128

typedef struct bfi_planner {
    int n_candidates, base, n_scenarios, n_most;
    int n_rounds, round;
    int to;     /* the round tries its candidates on scenarios before this */
    int n_left; /* candidates in the round: best first, as far as known    */
    int left[BFI_PLANNER_MOST];
    int seen[BFI_PLANNER_MOST]; /* of each candidate: scenarios it was tried on, the first ones */
    /* Of variances of means, of each candidate against the best one, >= 1; 1 at the beginning: scenarios count as independent. Of two
     * candidates the larger counts. */
    double inflation[BFI_PLANNER_MOST];
    double margin; /* what is better by no more than this counts as no better; 0 at the beginning */
} bfi_planner;

/* candidates  1 .. BFI_PLANNER_MOST; of equal ones the first is preferred
 * base        the candidate that is the base policy itself
 * scenarios   4 or more for halving; n_most: with those of a run-off, as many as value has room for of each candidate */
void bfi_planner_begin(bfi_planner *planner, int n_candidates, int base, int n_scenarios, int n_most);

/* Values wanted in this round; 0 after the last. What is to be tried in a scenario follows each other, so that it can be tried side by
 * side. */
int bfi_planner_items(const bfi_planner *planner);
typedef struct bfi_planner_item {
    int candidate, scenario;
    int at; /* where its value belongs: candidate * n_most + scenario */
} bfi_planner_item;
bfi_planner_item bfi_planner_item_of(const bfi_planner *planner, int i);

/* Ends a round. value: (in n_candidates x n_most), finite where wanted so far. Returns 1 when another round is to be
 * computed, 0 when all is known. */
int bfi_planner_next(bfi_planner *planner, const double *value);

/* After the last round, one more for the finalists: the first n_left, the base and those of `also` (in n_also), each on the first
 * n_scenarios (no fewer than so far, n_most at most). Then items and next as above; may be done again. */
void bfi_planner_run_off(bfi_planner *planner, int n_left, const int *also, int n_also, int n_scenarios);

/* The mean of value(a) - value(b) over the scenarios that both were tried on: mid, with lo and hi the ends of its 80 % range,
 *
 *     mean -+ t se,   se = sd of the differences / sqrt n,   t the 90 % point of Student's distribution, n - 1 degrees
 *
 * It says how well the mean is known, not how much one day may differ from it. nominal is the mean too.
 *
 * Example    Student's ten patients (1908), sleep gained: mean 1.58 h, 1.0421 to 2.1179 (R's t.test). */
bf_range bfi_planner_difference(const bfi_planner *planner, const double *value, int a, int b);

/* How much larger the variance of a mean difference is than scenarios as independent draws have it, where they come in groups whose
 * truths are kin (the sets of a belief, each a filter by itself): the variance as the groups' means show it over that of independent
 * scenarios, summed over the pairs of the best with each other candidate that is left; 1 at least.
 *
 *     of groups    sum over g of (n_g / n)^2 (mean_g - mean)^2 x G / (G - 1)
 *
 * group (in planner->to): of each scenario, 0 .. n_groups - 1; spare (2 n_groups) */
double bfi_planner_kin(const bfi_planner *planner, const double *value, const int *group, int n_groups,
                       double *spare);

/* Sets planner->inflation: of each candidate its own, as its groups show it with so many degrees of freedom, pooled with that of all together (>= 1, at
 * planner->to scenarios), which counts as much as BFI_PLANNER_POOL degrees. A candidate tried on fewer scenarios has that alone, by its scenarios.
 *
 * Why so:    of eight made-up hours, ten beliefs each, the variance of a mean was 1.2 to 6 times that of independent scenarios where feed was halved, 2 to
 *            16 times where it came four times as often: one number for all was too small for what differs most. */
#define BFI_PLANNER_POOL 4.0
void bfi_planner_widen(bfi_planner *planner, const double *value, const int *group, int n_groups,
                       double freedom, double pooled, double *spare);

/* A finalist that is not to be chosen, whatever it is worth; never the base; two at least must be left. */
void bfi_planner_bar(bfi_planner *planner, int candidate);

typedef struct bfi_verdict {
    int best, runner_up; /* candidates; runner_up -1 when there is but one              */
    bf_range gain;       /* of the best over the base policy; all 0 when it is the base */
    bf_range margin;     /* of the best over the runner-up; NaN when there is none      */
    double p_first;      /* chance that no other is better at all                       */
    double p_best;       /* chance that no other is better by more than the margin      */
    double p_again; /* chance that fresh scenarios, of another belief, would choose the same (see below) */
    int is_close;   /* 1: too close to call                                        */
} bfi_verdict;

/* After the last round. The best of many was lucky too, so what was computed is shrunk towards the middle of all candidates:
 *
 *     true means     normal, one middle and one variance for all candidates, neither known (middle flat; variance so that the
 *                    share B by which a typical candidate shrinks is uniform in (0, 1), on 16 points)
 *     errors         normal by themselves once shared luck has dropped out; half a difference's variance is the best one's own, as
 *                    the runner-up shows it, the rest the other's
 *     best           of those tried to the end: the first one listed whose mean is within the margin of the highest
 *     p_best         mean over those points, by their likelihood, of the chance that no other mean is above its own by more than the margin
 *                    (correct selection with a zone of indifference: R. Bechhofer, Ann. Math. Stat. 25, 1954; from memory)
 *     p_again        the same, of the chance that the candidate is first within the margin once more, when all means are computed anew with as much error
 *                    as the finalists have; and, if it is not the base, over the base by the margin and BFI_PLANNER_CLEAR standard errors (so the caller asks of
 *                    another than the base); the base: that none is so far over it
 *     gain, margin   mid: mean; lo, hi: 80 % of a normal of that mean and variance
 *     is_close       p_best < BFI_PLANNER_SURE, or the margin's range holds 0
 *
 * Source:    one-way random effects as empirical Bayes has it, prior of B: M. Daniels, Can. J. Stat. 27, 1999; both from memory.
 * Why so:    first tried was the product of the rivals' chances by Student's t, with nothing known before (a usual form of the
 *            probability of correct selection): with 48 candidates it said 0.18 where 0.66 came true, and ranges of gain held 0.68.
 * Accuracy:  on made-up normal candidates, 256 scenarios, 1000 contests each (sd of true means in sds of a candidate's own luck):
 *                             right     p_best   clear, then right  gain in its range   gain said / came
 *                48, sd 0.3   0.70      0.65     0.33  0.95         0.79                0.99
 *                48, sd 1     0.92      0.91     0.77  0.99         0.81                1.00
 *                 6, sd 0.3   0.83      0.82     0.55  0.97         0.81                0.95
 *                 6, sd 1     0.94      0.95     0.86  0.99         0.84                0.99
 *                48, all alike          0.24     0.001              0.67
 *            With a margin of 0.1 and sd 0.3, right being within it: 48 are 0.86 right and said 0.84, 6 are 0.93 and 0.94.
 *            With 48 hardly apart (sd 0.1) the gain is said 1.2 times too large.
 *            One dreadful candidate makes the variance large and the shrinking weak. */
#define BFI_PLANNER_SURE 0.8
#define BFI_PLANNER_CLEAR 1.2815515655446004 /* 90 % of a normal lie below */
bfi_verdict bfi_planner_verdict(const bfi_planner *planner, const double *value);

/* Where in a belief scenario s takes its truth: a point in (0, 1), such that the first 2^m scenarios hit each of 2^m equal parts
 * once, for every m (van der Corput's points, all moved by one random number). Each by itself is uniform over seeds. */
double bfi_planner_share(uint64_t seed, int s);

#endif
