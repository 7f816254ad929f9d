/* between.h -- a smooth pair of functions of several inputs through a few known points: kriging with a linear trend.
 *
 * The function is taken as a + b.x and what a stationary Gaussian process with a Matern 5/2 covariance adds,
 *
 *     k(r) = (1 + sqrt(5) r + 5/3 r^2) exp(-sqrt(5) r),   r^2 = sum (bend_j (x_j - x'_j))^2
 *
 * x scaled to mean 0 and standard deviation 1, a and b under a normal prior. bend_j says how fast input j bends the
 * function; it is chosen by the likelihood of the points, one input after the other.
 *
 * Source:   C. E. Rasmussen, C. K. I. Williams, "Gaussian Processes for Machine Learning", 2006: the predictor, its
 *           likelihood, and each point predicted from all others (eqs. 2.25, 2.30, 4.17, 5.10 and 5.12; from memory).
 * Pure; no allocation; about 100 kB of stack. Tests: tests/tackle/aim_fit_test.c
 */
#ifndef BAITFALL_TACKLE_BETWEEN_H
#define BAITFALL_TACKLE_BETWEEN_H

#include "baitfall/aim.h"

/* With fewer points nothing is made. */
#define BFI_BETWEEN_LEAST 8

/* Makes it through n known points, BFI_BETWEEN_LEAST .. BF_AIM_SOLVES of n_inputs, 0 .. BF_AIM_FIT_MOST (asserted). x (in
 * n), y (in n): finite. miss (out n): what is left of
 * each point's pair when it is predicted from all others. */
void bfi_between_make(int n, int n_inputs, const double x[][BF_AIM_FIT_MOST], const double y[][2],
                      bf_between *between, double miss[][2]);

/* Its values at x (in n_inputs). */
void bfi_between_at(const bf_between *between, const double *x, double y[2]);

#endif
