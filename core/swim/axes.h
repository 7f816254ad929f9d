/* axes.h -- small symmetric matrices: axes, roots, solving. Internal. n <= BF_SWIM_N_PARAMETERS; the first n rows and columns count. */
#ifndef BFI_SWIM_AXES_H
#define BFI_SWIM_AXES_H

#include "baitfall/swim.h"

#define BFI_MOST_AXES BF_SWIM_N_PARAMETERS

/* Axes and variances of a covariance: cov = sum over a of r[a] (axis[.][a])(axis[.][a])'. Jacobi's rotations until nothing is left
 * beside the diagonal (error some 1e-15 of the largest r). */
void bfi_axes_of(int n, double covariance[BFI_MOST_AXES][BFI_MOST_AXES], double r[BFI_MOST_AXES],
                 double axis[BFI_MOST_AXES][BFI_MOST_AXES]);

/* Cholesky's lower triangle; a row whose own share is less than 1e-12 of its variance becomes 0 on the diagonal. No entry is
 * larger than its row's standard deviation, as in any covariance: where a matrix is nothing but rounding, its root stays so too. */
void bfi_root_of(int n, double matrix[BFI_MOST_AXES][BFI_MOST_AXES],
                 double lower[BFI_MOST_AXES][BFI_MOST_AXES]);

/* x (in/out n) becomes the solution of (lower lower') y = x; no diagonal is 0. */
void bfi_solve_root(int n, double lower[BFI_MOST_AXES][BFI_MOST_AXES], double x[BFI_MOST_AXES]);

#endif
