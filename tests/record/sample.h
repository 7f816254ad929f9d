/* sample.h -- random data for the statistical tests, and how far a share of hits may stray. Test code only.
 *
 * Data come from GSL's generators, not from our own random numbers or quantiles. Seeds are fixed: a test that passes
 * always passes; the false-alarm rate says how likely a right program would have failed for a fresh seed. */
#ifndef BAITFALL_TESTS_SAMPLE_H
#define BAITFALL_TESTS_SAMPLE_H

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>

#include "common/check.h"

/* `most` repetitions with BF_LONG in the environment, else `few`. */
static inline int sample_size(int few, int most) {
    return getenv("BF_LONG") ? most : few;
}

static inline gsl_rng *sample_rng(unsigned long seed) {
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    gsl_rng_set(rng, seed);
    return rng;
}

/* The share of hits lies within 4.5 standard deviations of p: false alarm 7e-6. For p 0.95 and 10000 repetitions that
 * is 94.0 to 96.0 %, for 2000 it is 92.8 to 97.2 %. */
static inline void check_share(const char *what, double hits, int n, double p) {
    double sd = sqrt(p * (1 - p) / n);
    print_message("%s: %.2f %% of %d, expected %.2f %%\n", what, 100 * hits / n, n, 100 * p);
    BF_CHECK_ABS(hits / n, p, 4.5 * sd);
}

#endif
