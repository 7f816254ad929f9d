/* cloud.h -- the parameters that particles carry: learned by which particles are drawn again, kept apart by moving the copies,
 * as one cloud. Internal.
 *
 * Parameters are carried as z = (log value - prior mean) / prior sd, one column each: z[i * n + p]; signs (signs.h) say of each
 * particle's state what goes with its parameters: s[k * n + p]. A resampling moves
 *
 *     z' = m + A (z - m) + E e,    m = mean(z) + B (s - mean(s))
 *
 * B the linear regression of z on s, e of mean 0 and variance 1; A and E by the axes v of what the signs leave open, C = C_zz - B C_sz with
 * variance r along v:
 *
 *     A = sum of sqrt(1 - h^2) v v',    E = (h sqrt(r) v),    h = 0.4 min(r, 1)
 *     B = C_zs (C_ss + R)^-1,           R = 0.05 diag(C_ss) (number of signs) / (effective number of particles)
 *
 * So the cloud keeps its mean, its covariance and how it goes with the state; its copies no longer stand on one point. What nothing told of yet
 * (r = 1, the prior's) is moved most, and so does not hang on the luck of the few lines that explain what happened; without this
 * a set's cloud shrank to nothing within an hour. What is known well is moved little, for there the cloud's shape counts. R (ridge) keeps the
 * regression firm where signs go together or particles are few; the covariance lacks under one part in a hundred for it.
 *
 * Source:    J. Liu and M. West, "Combined parameter and state estimation in simulation-based filtering" (2001), from memory; there m
 *            is mean(z) alone, which unties parameters from the state they came about with.
 * Validity:  mean, covariance and linear ties are kept, the cloud's shape is not: skewed or bent posteriors are made normal, given
 *            the signs. e is uniform before it is mixed, which does not matter after a few moves.
 * Tests:     tests/swim/swim_cloud_test.c; what it did to calibration: docs/evaluation.md
 */
#ifndef BFI_SWIM_CLOUD_H
#define BFI_SWIM_CLOUD_H

#include "core/swim/signs.h"

/* h where r is 1. How h falls with r, and this, were chosen by how well draws of the belief explain the hour (docs/evaluation.md). */
#define BFI_CLOUD_MOVE 0.4

typedef struct bfi_cloud {
    int n_signs;
    double mean[BF_SWIM_N_PARAMETERS];
    double lean[BF_SWIM_N_PARAMETERS][BFI_MOST_SIGNS];       /* B */
    double keep[BF_SWIM_N_PARAMETERS][BF_SWIM_N_PARAMETERS]; /* A */
    double stir[BF_SWIM_N_PARAMETERS][BF_SWIM_N_PARAMETERS]; /* E; 0 where a parameter does not vary */
} bfi_cloud;

/* Of n particles by their log weights, some of which count.
 *
 * sign   (in/out n_signs columns) afterwards off their weighted means, as moving wants them
 * spare  (out 2 n) */
bfi_cloud bfi_cloud_of(const double *log_w, int n, int n_signs, double *sign, const double *z, double *spare);

/* Moves them (in/out). sign: of the same particles as z, off their means. Draws are a function of (seed, stream, index, p); index below 2^50. */
void bfi_cloud_move(const bfi_cloud *cloud, uint64_t seed, uint64_t stream, uint64_t index, int n,
                    const double *sign, double *z);

#endif
