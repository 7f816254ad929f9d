/* contour.h -- the line on which a gridded density has a given value, by marching squares.
 *
 * The density is taken at the middles of the cells, linear along the line between two neighbours, and zero one cell
 * beyond the grid, so that every line closes. Where two opposite corners of a square are inside and the others are
 * not, the mean of the four decides whether they are joined. */
#ifndef BFI_CONTOUR_H
#define BFI_CONTOUR_H

#include "baitfall/picture.h"

/* Each edge between two neighbouring middles is crossed at most once. */
#define BFI_CONTOUR_MOST_POINTS (2 * (BF_ABOVE_MOST_SIDE + 2) * (BF_ABOVE_MOST_SIDE + 1))
#define BFI_CONTOUR_MOST_LOOPS (BFI_CONTOUR_MOST_POINTS / 4)

typedef struct bfi_contour {
    int n_points, n_loops;
    int loop_end
        [BFI_CONTOUR_MOST_LOOPS]; /* loop k: points loop_end[k - 1] .. loop_end[k] - 1, not repeated      */
    double
        x[BFI_CONTOUR_MOST_POINTS]; /* outward, in cells from the corner of cell (0, 0)                     */
    double
        y[BFI_CONTOUR_MOST_POINTS]; /* to the right. Outer loops run from x to y, holes the other way round */
    char seen[(BF_ABOVE_MOST_SIDE + 2) * (BF_ABOVE_MOST_SIDE + 2)];
} bfi_contour;

/* density (in nx * ny) at [i * ny + j];  level > 0. */
void bfi_contour_trace(const double *density, int nx, int ny, double level, bfi_contour *contour);

/* What the loops enclose, holes taken off, in cells squared. */
double bfi_contour_area(const bfi_contour *contour);

#endif
