/* cloud.h -- the parameters that particles carry: learned by which particles are drawn again, kept apart by moving the copies
 * a little, as one cloud. Internal.
 *
 * Parameters are carried as z = (log value - prior mean) / prior sd, one column each: z[i * n + p]. A resampling moves
 *
 *     z' = mean + a (z - mean) + h L e,    a = sqrt(1 - h^2),  L L' = covariance,  e of mean 0 and variance 1
 *
 * with the weighted mean and covariance before it: the cloud keeps both, and its copies no longer stand on one point.
 *
 * Source:    J. Liu and M. West, "Combined parameter and state estimation in simulation-based filtering" (2001), from memory.
 * Validity:  mean and covariance are kept, the cloud's shape is not: skewed or bent posteriors are slowly made normal (a bias that
 *            grows with h and with the number of resamplings). e is uniform, which does not matter after a few.
 * Tests:     tests/swim/swim_cloud_test.c; belief against particles without number: docs/models/swim.md
 */
#ifndef BFI_SWIM_CLOUD_H
#define BFI_SWIM_CLOUD_H

#include "baitfall/swim.h"

/* h: the share of the sd that a copy is moved by, at one resampling. 40 made-up hours with parameters drawn from the book, 16 x 640:
 * squared errors of the 16 parameters in posterior sds 22.2, 21.1, 19.1, 19.1, 19.4 and log density gained on the prior 1.3, 1.7, 2.2, 2.1,
 * 2.1 at h 0.1 .. 0.5 (16 were right); bands of feed, fish and bites are the same from 0.05 to 0.3. */
#define BFI_CLOUD_MOVE 0.3

typedef struct bfi_cloud {
    double mean[BF_SWIM_N_PARAMETERS];
    double lower[BF_SWIM_N_PARAMETERS][BF_SWIM_N_PARAMETERS]; /* L; 0 where a parameter does not vary */
} bfi_cloud;

/* Of n particles by their log weights, some of which count. spare: (out 2 n). */
bfi_cloud bfi_cloud_of(const double *log_w, int n, const double *z, double *spare);

/* Moves them (in/out). Draws are a function of (seed, stream, index, p); index below 2^50. */
void bfi_cloud_move(const bfi_cloud *cloud, uint64_t seed, uint64_t stream, uint64_t index, int n, double *z);

#endif
