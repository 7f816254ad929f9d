/* holds.h -- of so many, how many went which way: shares of hook holds or of outcomes.
 *
 * Pure arithmetic, no allocation. A mix counts things that are exactly one of a few kinds: where the hook held (lip top
 * middle, lip top side, lip bottom, corner, outside, body), or how drops on one feed ended (landed, lost, missed,
 * foul). The kinds are numbers 0 .. n_kinds-1; their meaning is the caller's.
 *
 * Model      counts ~ multinomial(shares),  shares ~ Dirichlet(prior_total / n_kinds each) beforehand
 *            the share of a set of m kinds ~ Beta(prior_total m / n_kinds + inside, prior_total (1 - m / n_kinds) +
 *            outside)
 * Source:    A. Gelman et al., Bayesian Data Analysis, 3rd ed., section 3.4; prior_total 1: W. Perks, 1947 (both from
 *            memory).
 * Validity:  each fish independent of the others, shares steady over the stretch counted. Holds the angler did not
 *            look at are not in the mix: if foul-hooked fish are looked at more often, their share is too high.
 * Sentences  "7 in 10 hooked in the lip (5-9)"                           bf_mix_share
 *            "more lip hooked since the change, 8 in 10 sure"            bf_mix_p_more
 *            Fewer than BF_LEAST_TO_SAY in the mix (of_n): "too early to say" instead.
 * Tests:     tests/record/holds_test.c
 */
#ifndef BAITFALL_HOLDS_H
#define BAITFALL_HOLDS_H

#include <stdint.h>

#include "baitfall/rates.h"
#include "baitfall/status.h"

#ifdef __cplusplus
extern "C" {
#endif

#define BF_MIX_MOST_KINDS 16

typedef struct bf_mix {
    int n_kinds;                  /* 2 .. BF_MIX_MOST_KINDS                                                */
    int count[BF_MIX_MOST_KINDS]; /* per kind, 0 .. 1e6; beyond n_kinds not looked at                      */
    double prior_total;           /* weight of the even prior in observations, (0, 100]; see BF_MIX_WEAK   */
} bf_mix;

/* The weak default: the prior weighs as much as one observation, spread evenly over the kinds. With two kinds it is
 * Jeffreys' prior Beta(1/2, 1/2). */
#define BF_MIX_WEAK 1.0

typedef struct bf_share {
    int n, of_n;       /* observed: n of of_n were in the set           */
    double a, b;       /* the share is Beta(a, b)                       */
    bf_estimate share; /* 0 .. 1                                        */
} bf_share;

/* The share of a set of kinds.
 *
 * kinds      bit i set: kind i belongs to the set; at least one kind in and one out
 * level      of the interval, in (0, 1)
 *
 * Returns BF_OK; BF_E_NOT_FINITE; BF_E_RANGE (a field or level outside its range, kinds empty, full or beyond
 * n_kinds). On an error the counts are 0 and the doubles NaN. An empty mix is no error: it gives the prior.
 *
 * Example    six kinds, prior_total 1, counts {3, 2, 1, 1, 2, 1}, the set {0, 1, 2}: Beta(6.5, 4.5): mean 0.5909, at
 *            level 0.8 0.4003 to 0.7735. */
BF_CHECK bf_status bf_mix_share(const bf_mix *mix, uint32_t kinds, double level, bf_share *out);

/* The chance that the set's share is higher behind `one` than behind `other`.
 *
 * Both start from one prior, where the chance is 1/2; each further observation changes it by a closed term,
 *
 *     P(a + 1, b; c, d) = P(a, b; c, d) + h / a,  P(a, b + 1; c, d) = P - h / b,  P(..; c + 1, d) = P - h / c,
 *     P(..; c, d + 1) = P + h / d,                h = B(a + c, b + d) / (B(a, b) B(c, d))
 *
 * Source:    J. D. Cook, "Exact calculation of beta inequalities", 2005 (from memory; each term checked against
 *            numerical integration in the test).
 * Accuracy:  absolute, 1e-13 for up to 10000 observations against numerical integration.
 *
 * Both mixes need the same n_kinds and prior_total. Returns as bf_mix_share; *p NaN on an error.
 * Cost: one step per observation.
 *
 * Example    two kinds, prior_total 1: 7 of 10 against 3 of 10 -> 0.964331742254. */
BF_CHECK bf_status bf_mix_p_more(const bf_mix *one, const bf_mix *other, uint32_t kinds, double *p);

#ifdef __cplusplus
}
#endif
#endif /* BAITFALL_HOLDS_H */
