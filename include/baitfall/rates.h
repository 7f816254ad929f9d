/* rates.h -- how often: the rate of something counted over a time, its uncertainty, and whether one beats another.
 *
 * Pure arithmetic, no allocation. A rate is per unit of exposure: with exposures in seconds, per second. Any unit will
 * do if all exposures and priors share it.
 *
 * Model      count ~ Poisson(rate x exposure),  rate ~ Gamma(shape a, rate b) beforehand
 *            rate given count n in exposure T ~ Gamma(a + n, b + T)
 * Source:    A. Gelman et al., Bayesian Data Analysis, 3rd ed., section 2.6 (from memory).
 * Validity:  events of one steady rate, independent. Bites in bursts, or a rate that drifts, make the interval too
 *            narrow: see changes.h and the spread between sessions in pool.h.
 * Sentences  "a fish every 6 minutes (4-10)"                        1 / quantiles of bf_rate_estimate
 *            "bites were more frequent on hard 4 mm, 9 in 10 sure"  bf_rate_p_greater
 *            "1.6 times as many bites (1.1-2.3)"                    bf_rate_ratio
 *            "7 in 10 for a fish in the next 10 minutes"            1 - p_none of bf_rate_predict
 *            Fewer than BF_LEAST_TO_SAY observations: the caller says "too early to say" instead.
 * Tests:     tests/record/rates_test.c
 */
#ifndef BAITFALL_RATES_H
#define BAITFALL_RATES_H

#include "baitfall/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Under this many observations every estimator's sentence is "too early to say" (our rule, no source). */
#define BF_LEAST_TO_SAY 5

/* What an estimator knows about one number. All in its unit. */
typedef struct bf_estimate {
    double mean, sd; /* of the posterior distribution                                          */
    double mid;      /* its median                                                             */
    double lo, hi;   /* ends of the central interval that holds the number with chance `level` */
} bf_estimate;

/* A gamma distribution of a rate. */
typedef struct bf_gamma {
    double shape; /* > 0, as if this many events had been seen      */
    double rate;  /* >= 0 [exposure], as if in this much exposure   */
} bf_gamma;

/* The weak default prior: shape 1/2, rate 0 (Jeffreys). It adds half an event and no time, so the data speak; chosen
 * because its central intervals have nearly the stated coverage whatever the true rate: 95 % intervals cover 94.9 % on
 * average over expected counts from 2 to 50, 90.5 % at the least. It is no distribution (its integral is infinite), so
 * bf_rate_log_marginal and changes.h need another prior. */
#define BF_RATE_WEAK ((bf_gamma){0.5, 0})

/* The posterior after n events in an exposure.
 *
 * prior      shape > 0, rate >= 0
 * n          0 .. 1e6
 * exposure   finite, >= 0; prior.rate + exposure > 0
 *
 * Returns BF_OK; BF_E_NOT_FINITE, BF_E_RANGE (then *out is NaN).
 *
 * Example    prior (2, 1), 7 in 3.5 -> (9, 4.5). */
BF_CHECK bf_status bf_rate_posterior(bf_gamma prior, double n, double exposure, bf_gamma *out);

/* The p-quantile of a rate; NaN unless shape > 0, rate > 0, 0 <= p <= 1. Example: (9, 4.5) at 0.025 ->
 * 0.914527354972963. Accuracy: as bf_gamma_quantile. */
double bf_rate_quantile(bf_gamma rate, double p);

/* Mean, sd, median and central interval of a rate.
 *
 * rate       shape > 0, rate > 0
 * level      chance of the interval, in (0, 1); the program's bands use 0.8
 *
 * Returns BF_OK; BF_E_NOT_FINITE, BF_E_RANGE (then *out is NaN).
 *
 * Example    (9, 4.5), level 0.95 -> mean 2, sd 0.6667, mid 1.9264, 0.9145 to 3.5029. */
BF_CHECK bf_status bf_rate_estimate(bf_gamma rate, double level, bf_estimate *out);

/* What a rate says of the count in a coming exposure: negative binomial. */
typedef struct bf_rate_forecast {
    double mean, sd;  /* of the count               */
    double p_none;    /* chance of no event         */
    double p_equal;   /* chance of exactly n        */
    double p_at_most; /* chance of n or fewer       */
} bf_rate_forecast;

/* rate as above; exposure > 0; n whole, 0 .. 1e6. Returns as bf_rate_estimate.
 *
 *     p_equal = Gamma(a + n) / (n! Gamma(a)) (b / (b + T))^a (T / (b + T))^n,   p_at_most = I_{b/(b+T)}(a, n + 1)
 *
 * Example    (9, 4.5), exposure 1, n 3 -> mean 2, p_none 0.16430, p_equal 0.16295. */
BF_CHECK bf_status bf_rate_predict(bf_gamma rate, double exposure, double n, bf_rate_forecast *out);

/* P(one > other) = I_{b2/(b1+b2)}(a2, a1) for two independent rates; both with shape > 0, rate > 0.
 * Returns as bf_rate_estimate.
 *
 * Example    (9, 4.5) against (6, 5) -> 0.841258091456885. */
BF_CHECK bf_status bf_rate_p_greater(bf_gamma one, bf_gamma other, double *p);

/* one / other with its interval: (b2/b1) w/(1 - w) with w ~ Beta(a1, a2). The mean is infinite when a2 <= 1, the sd
 * when a2 <= 2. Returns as bf_rate_estimate.
 *
 * Example    (9, 4.5) against (6, 5), level 0.8 -> mid 1.699, 0.862 to 3.458. */
BF_CHECK bf_status bf_rate_ratio(bf_gamma one, bf_gamma other, double level, bf_estimate *out);

/* log of the chance of exactly n events in an exposure before any were seen: log p_equal of bf_rate_predict with the
 * prior. prior.rate > 0, exposure > 0. Returns as bf_rate_estimate.
 *
 * Example    prior (2, 1), 7 in 3.5 -> -2.68791424983906. */
BF_CHECK bf_status bf_rate_log_marginal(bf_gamma prior, double n, double exposure, double *out);

#ifdef __cplusplus
}
#endif
#endif /* BAITFALL_RATES_H */
