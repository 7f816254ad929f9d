/* cloud.h -- the parameters that particles carry: learned by which particles are drawn again, kept apart by moving the copies,
 * as one cloud. Internal.
 *
 * Parameters are carried as z = (log value - prior mean) / prior sd, one column each: z[i * n + p]; signs (signs.h) say of each
 * particle's state what goes with its parameters: s[k * n + p]. A resampling moves
 *
 *     z' = m + a (z - m) + e,    m = mean(z) + B (s - mean(s)),    a = sqrt(1 - h^2)
 *
 * B the linear regression of z on s, e normal enough, of mean 0 and the covariance that z then lacks. So the cloud keeps its mean, its
 * covariance and how it goes with the state; its copies no longer stand on one point, and a parameter that nothing tells of does not hang on
 * the luck of the few lines that explain what happened: without this a set's cloud shrank to nothing within an hour.
 *
 *     B = C_zs (C_ss + R)^-1,    R = 0.05 diag(C_ss) (number of signs) / (effective number of particles)
 *     covariance of e = h^2 (C_zz - B C_sz) + (1 - a)^2 B R B'
 *
 * R (ridge) keeps the regression firm where signs go together or particles are few.
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

/* h: the share of the sd, beside what the signs tell, that a copy is moved by at one resampling. Chosen by how well draws of the belief explain
 * the hour (docs/evaluation.md). */
#define BFI_CLOUD_MOVE 0.8

typedef struct bfi_cloud {
    int n_signs;
    double mean[BF_SWIM_N_PARAMETERS];
    double lean[BF_SWIM_N_PARAMETERS][BFI_MOST_SIGNS]; /* B */
    double lower[BF_SWIM_N_PARAMETERS]
                [BF_SWIM_N_PARAMETERS]; /* root of the covariance of e; 0 where a parameter does not vary */
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
