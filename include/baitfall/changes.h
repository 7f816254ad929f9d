/* changes.h -- did the bites slow down or quicken, and when: one change in a row of counts, exactly.
 *
 * Pure arithmetic, no allocation.
 *
 * Model      counts n_1 .. n_N in bins of exposure T_1 .. T_N (unequal allowed; 0 for a bin out of play, which then
 *            must have count 0).
 *              same:    all bins share one rate
 *              change:  bins 1 .. k have one rate, k+1 .. N another; k = 1 .. N-1 equally likely beforehand
 *            every rate ~ prior, independently; count ~ Poisson(rate x exposure).
 *            With S, T the count and exposure of a stretch, its log evidence is
 *              a log b - (a + S) log(b + T) + log Gamma(a + S) - log Gamma(a)   (+ sum of n log T_i - log n!)
 *            P(k | data) is proportional to the product of the evidence of the two stretches.
 * Source:    A. E. Raftery and V. E. Akman, "Bayesian analysis of a Poisson process with a change-point", Biometrika
 *            73(1), 1986; D. V. Jarrett's coal mine disasters, 1979, as check data (both from memory).
 * Validity:  at most one change, sudden, between bins. A slow decline is reported as a change in its middle. Bites
 *            that come in bursts are more uneven than Poisson and look like changes: call bf_change_widen first.
 * Accuracy:  1e-10 of the coal tables. In simulation from the prior the set holds the true k exactly as often as
 *            p_set says (98.5 % for level 0.95 in 30 bins of 1 event each: k is whole, so the set is more than its
 *            level).
 * Sentence   "bites slowed about 11:40 (11:30-11:50), 8 in 10 sure there was a change at all"
 *            The caller turns k into a time: the end of bin k. Fewer than BF_LEAST_TO_SAY events in all: "too early
 *            to say" instead.
 * Tests:     tests/record/changes_test.c
 */
#ifndef BAITFALL_CHANGES_H
#define BAITFALL_CHANGES_H

#include "baitfall/rates.h"
#include "baitfall/status.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct bf_change_bin {
    double n;        /* events, 0 .. 1e6; need not be whole (see bf_change_widen) */
    double exposure; /* >= 0, finite                                              */
} bf_change_bin;

/* Where k stands below, it counts the bins before the change: 1 .. N-1. */
typedef struct bf_change {
    int k_mode, k_mid;  /* likeliest and median                                                    */
    int k_lo, k_hi;     /* central set: the (1 - level)/2 and (1 + level)/2 quantiles of k         */
    double p_mode;      /* chance of k_mode, given that there was a change                         */
    double p_set;       /* chance that k_lo <= k <= k_hi, given a change; at least level           */
    double k_mean;      /* mean of k                                                               */
    double rate_before; /* expected rates either side, per unit of exposure, averaged over k       */
    double rate_after;  /*                                                                         */
    double p_slowed;    /* chance that the later rate is the lower one, given a change             */
    double p_change;    /* chance that there was a change at all, from p_change_before             */
    double log_evidence_change, log_evidence_same, log_bayes_factor; /* natural logarithms            */
} bf_change;

/* The chance of a change to assume before seeing the data, for want of a better (our choice, no source): even. */
#define BF_CHANGE_EVEN 0.5

/* The exact posterior of one change.
 *
 * bins             (in n_bins)
 * n_bins           2 .. 100000
 * prior            of each rate: shape > 0, rate > 0, e.g. {1, 1 / usual rate}
 * p_change_before  in [0, 1]
 * level            of the set k_lo .. k_hi, in (0, 1)
 * posterior        (out n_bins - 1) P(k | data, change), element k - 1; not NULL
 * out              not NULL
 *
 * Returns BF_OK; BF_E_NOT_FINITE; BF_E_RANGE (a field outside its range, all exposures 0); BF_E_DATA (events in a bin
 * of no exposure). On an error *out and posterior are NaN and 0 (posterior untouched when n_bins is out of range).
 * Cost: O(n_bins).
 *
 * Example    coal mine disasters 1851-1962 by year, prior (1, 1): k_mode 41 (1891) p_mode 0.245020, k_mid 40, 95 %
 *            36 to 46, rates 3.0642354 and 0.9223675 a year, log_bayes_factor 28.942248. */
BF_CHECK bf_status bf_change_find(const bf_change_bin *bins, int n_bins, bf_gamma prior,
                                  double p_change_before, double level, double *posterior, bf_change *out);

/* Divides events and exposure of every bin by the dispersion, how many times more uneven than Poisson neighbouring
 * bins are, and returns it: rates stay, the evidence counts as that many times less (quasi-Poisson).
 *
 *     dispersion = sum of (n - s q)^2 / sum of s q (1 - q),   at least 1,
 *
 * over pairs of neighbours with exposure, n in the first, s in both, q the first's part of the exposure: one change
 * in the row moves one pair only.
 *
 * Accuracy:  60 bins of 2 bites, no change: said to have changed 8 in 10 sure 1.4 % of the time; in bursts of 2 bites
 *            (geometric) 40 % as they are, 2.6 % widened. A real fall to a third is then found 70 % of the time
 *            (steady bites: 99 %).
 *
 * bins       (in/out n_bins) as for bf_change_find
 *
 * Returns at least 1; 1 when no pair has an event. NaN, and bins untouched, for what bf_change_find would refuse.
 *
 * Example    counts 4, 0, 4, 0 in equal bins: pairs (4-2)^2, (0-2)^2, (4-2)^2 over 1 + 1 + 1 -> 4. */
double bf_change_widen(bf_change_bin *bins, int n_bins);

#ifdef __cplusplus
}
#endif
#endif /* BAITFALL_CHANGES_H */
