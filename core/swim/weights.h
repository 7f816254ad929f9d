/* weights.h -- log weights and resampling: what any particle filter here does with its weights. Internal.
 *
 * A weight of 0 is a log weight of -infinity; +infinity and NaN are not allowed. n >= 1.
 * Tests: tests/swim/weights_test.c; filters built on it against exact answers: filter_test.c */
#ifndef BFI_SWIM_WEIGHTS_H
#define BFI_SWIM_WEIGHTS_H

/* log(mean of exp(log_w)); -infinity when all are, log_w is then left alone. Normalises: log_w[i] -= that, so that the
 * mean weight is 1. The running sum of levels, taken after each observation, is the logarithm of an unbiased estimate of the
 * evidence, whether or not one resamples between (weights are set to 0, that is mean 1, when one does).
 *
 * log_w     (in/out n)
 * Example   {log 1, log 3} -> log 2; left are {log 0.5, log 1.5}. */
double bfi_weights_level(double *log_w, int n);

/* (sum of weights)^2 / sum of their squares: from 1 to n; 0 when all weights are. Normalised or not. */
double bfi_weights_effective(const double *log_w, int n);

/* Systematic sampling of m from n by one uniform number u in (0, 1): slot k takes the particle in whose share of the
 * running sum of weights the point (k + u) / m lies. Particle i comes floor or ceiling of m w_i / sum w times, on average
 * exactly that often; one of weight 0 never; in order (from is rising). Some weight must be positive (asserted).
 *
 * Source    J. Carpenter, P. Clifford and P. Fearnhead, "Improved particle filter for nonlinear problems", IEE Proc. Radar
 *           Sonar Navig. 146(1), 1999 (from memory).
 * from      (out m)
 * Example   weights {1, 2, 1}, u 0.5, m 4 -> {0, 1, 1, 2}. */
void bfi_weights_draw(const double *log_w, int n, double u, int m, int *from);

/* The same with m = n. */
void bfi_weights_resample(const double *log_w, int n, double u, int *from);

#endif
