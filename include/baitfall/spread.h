/* spread.h -- where the pieces of one put-in come to lie on the bottom.
 *
 * Pure arithmetic. Axes: x out from the bank, y to the angler's right, z down; x = y = 0 is the point of the
 * water that was meant, above the spot. Model: docs/models/spread.md. Tests: tests/feed/spread_test.c
 */
#ifndef BAITFALL_SPREAD_H
#define BAITFALL_SPREAD_H

#include "baitfall/cloud.h"
#include "baitfall/throw.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Outputs of the spread command, in order. The middle of the pile is the median of its pieces along x and
 * along y. */
typedef struct bf_spread_out {
    double wide_m;      /* diameter of the circle about the middle that holds nine pieces in ten        */
    double half_wide_m; /* ... five in ten                                                              */
    double long_m;      /* length of the ellipse that holds nine in ten, were the pile normal           */
    double narrow_m;    /* its width; both from the middle nine tenths along the longest direction      */
    double out_m;       /* where the middle lies against the point meant: outward                       */
    double right_m;     /* ... and to the right                                                         */
    double miss_m;      /* ... and how far away                                                         */
    double first_s;     /* one piece in ten is down by then, from the moment the put-in begins          */
    double last_s;      /* nine in ten                                                                  */
    double hang_frac;   /* part of the pieces that hang on the surface film for a while, 0 .. 1         */
    double afloat_frac; /* part that floats or hovers for ever; all else here is about the others        */
} bf_spread_out;

extern const bf_table bf_spread_out_table;

/* Most pieces followed in one draw; a put-in of fewer is followed whole. */
#define BF_SPREAD_MOST_PIECES 64

/* After the outputs the model passes on x_m, y_m and landing time_s of this many pieces, NaN where there is
 * none. */
#define BF_SPREAD_RAW_PIECES 16
#define BF_SPREAD_RAW (3 * BF_SPREAD_RAW_PIECES)

#define BF_SPREAD_DRAWS_START 1024

/* The standard deviation of the sideways wander of a sinking piece in still water, along either axis:
 *
 *     wander_frac x sqrt(0.29 x diameter x fall),   half of it for round pieces; diameter of the same volume
 *
 * Source:   the spread of sinking salmon feed of 3 to 12 mm in drop tests, as fitted by a public feed model
 *           (its kappa over its fall speed is 0.125 to 0.161 diameters). Round spheres were seen to fall
 *           straight (J. Fluid Mech. 2025, abstract); the half for round pieces is a judgement, no source.
 * Validity: 3 to 12 mm, still water, depths of metres.
 * Accuracy: +-30 %, which is wander_frac's start. The fit was to the pellets' own diameter, which is 0.87 of
 *           that of the same volume when they are as long as wide: 7 % of the spread, inside the 30 %.
 * Example   4 mm over 1 m -> 3.4 cm; round: 1.7 cm. */
double bf_wander_m(const bf_piece *piece, int form, double fall_m, double wander_frac);

/* The chance that a piece that would lie off_m from a place without wander comes to lie within radius_m of it; sd_m its
 * wander's standard deviation along either axis (all three >= 0, finite). Two independent normal numbers, so this is the
 * noncentral chi-square law with 2 degrees of freedom.
 *
 * Accuracy: 3e-5 against numerical integration where off x radius <= 186 sd^2, 6e-4 beyond (tests).
 * Example   off 4 cm, sd 3 cm, radius 5 cm -> 0.485641. */
double bf_wander_within(double off_m, double sd_m, double radius_m);

/* The spread command's model: a bf_scene in, the doubles of bf_spread_out and BF_SPREAD_RAW more out. One
 * draw is one put-in; its pieces differ in size, density, start, wander and, dry, in how long they hang.
 *
 * clump      tipped from rest at height_m, meets the water within the pot's mouth; falls as one cloud
 *            (cloud.h) that drifts with the current, and leaves it spread evenly through a ball of the
 *            cloud's radius; or, when there is no cloud, each alone. A cloud that meets the bottom before it
 *            comes apart is cut off there, its time in proportion.
 * sprinkle   from rest at height_m, evenly over over_s, normal about the middle, nine in ten within wide_m.
 * hand       the same, all at once.
 * throw      a pinch by catapult (throw.h) from above the origin of the spot's distance_m and side_m, at the
 *            spot's bearing; its water entry speed is cut to 12 m/s.
 *
 * Then each piece hangs on the film (film.h; exponential about bait->hang_s) drifting with the very surface,
 * sinks through the current of its depth (fall.h) onto a sloping plane, and wanders sideways (above).
 * count not given: clump and sprinkle as many as the pot holds; throw and hand bf_handful.
 * A pot whose mouth the pieces do not fit through holds none: then there is no pile.
 *
 * Validity: that of its parts. Not modelled: rolling down a slope, pieces that crawl or are taken on the way
 *           down, rafts on the film, feed that breaks up, the splash of a throw, a pole that moves while it
 *           is shaken.
 * Accuracy: the Monte Carlo error of the ranges at 1024 draws is about 2 % of their width. Against real
 *           piles: not checked, no data found.
 *
 * Returns BF_OK with NaN outputs when no piece goes in or sinks (BF_E_MODEL_RANGE for the answer at the inputs as
 * given), or the status of the part that failed. */
bf_status bf_spread_model(const void *scene, const bf_draw *draw, double *out);

/* The pile of one put-in before each piece's own wander, for whoever asks what the chance is that some piece lies at a
 * place: the wander is normal, so that chance can be computed and need not be tried. */
typedef struct bf_pile {
    double pieces; /* that come to lie                                                       */
    int n;         /* of those followed                                                      */
    double x_m[BF_SPREAD_MOST_PIECES], y_m[BF_SPREAD_MOST_PIECES]; /* where each would lie without wander */
    double wander_m[BF_SPREAD_MOST_PIECES]; /* one standard deviation along either axis      */
} bf_pile;

/* The put-in of bf_spread_model, draw for draw and piece for piece, with at most `most` pieces followed (1 ..
 * BF_SPREAD_MOST_PIECES); the cloud they fall in is that of all pieces. Returns as bf_spread_model does for a draw that
 * is not nominal; a put-in of which nothing comes to lie has n and pieces 0. On any error *pile is zero. */
BF_CHECK bf_status bf_spread_pile(const bf_scene *scene, const bf_draw *draw, int most, bf_pile *pile);

/* Its remarks, at most BF_MOST_NOTES; returns how many. */
int bf_spread_notes(const void *scene, const bf_ensemble_result *result, bf_note *notes);

/* The way of the middle piece of a put-in at the inputs as given, for a drawing: n depths from the surface to
 * the bottom in equal steps, when it is there and how far out of the release, hanging time not counted.
 *
 * n       2 .. 64;   s, x_m, z_m (out n): since it left the surface; outward of the release; down
 * Returns as bf_fall_land. */
BF_CHECK bf_status bf_spread_path(const bf_scene *scene, int n, double *s, double *x_m, double *z_m);

/* The landing map ---------------------------------------------------------------------------------------- */

/* Takes the places of all pieces out of the rows of an ensemble (n_rows x (outputs + BF_SPREAD_RAW)), in
 * order. x_m, y_m (out n_rows x BF_SPREAD_RAW_PIECES). Returns how many there are. */
size_t bf_spread_points(const double *rows, size_t n_rows, double *x_m, double *y_m);

/* Part of n points within radius_m of (x, y); NaN when n is 0. */
double bf_landing_share(const double *x_m, const double *y_m, size_t n, double at_x_m, double at_y_m,
                        double radius_m);

#define BF_LANDING_MOST_SIDE 96
#define BF_LANDING_MOST_CELLS (BF_LANDING_MOST_SIDE * BF_LANDING_MOST_SIDE)

/* Density of landed pieces over a grid of square cells, nx outward and ny to the right. */
typedef struct bf_landing_map {
    int nx, ny;                            /* 1 .. BF_LANDING_MOST_SIDE                                   */
    double cell_m;                         /* side of a cell                                              */
    double origin_x_m, origin_y_m;         /* nearest, leftmost corner of cell (0, 0)                     */
    double smooth_x_m, smooth_y_m;         /* standard deviations of the smoothing kernel                 */
    double level50_per_m2, level90_per_m2; /* densities whose lines hold half and nine in ten of the pieces */
} bf_landing_map;

/* Smooths n points into a density, pieces per m2 for one piece in all.
 *
 * Grid:     from the 2 to the 98 % point along each axis, the point meant (0, 0) included, with a margin of
 *           four kernels and two cells; the longer side has 48 cells plus margins, all cells are alike and at
 *           least a millimetre.
 * Kernel:   normal, along each axis separately; standard deviation = s n^(-1/6), s the range of the middle
 *           half over 1.349 (Scott's rule for two dimensions with a robust scale), at least one cell, at most
 *           five. Points go to the four nearest cell middles by linear weights, then rows and columns are
 *           convolved.
 * Levels:   the highest densities that together hold 50 and 90 % of all points; points off the grid count as
 *           lowest.
 *
 * Source:   D. W. Scott, Multivariate Density Estimation (1992); R. J. Hyndman, "Computing and graphing
 *           highest density regions", Am. Stat. 50 (1996) 120.
 * Accuracy: 16,000 normal points: the areas within the lines are within 6 % of the ellipses (tests).
 *
 * x_m, y_m  (in n) finite
 * work      bf_landing_map_work_bytes(n), 8-aligned
 * density   (out nx x ny, room for BF_LANDING_MOST_CELLS) cell (i outward, j to the right) at [i * ny + j]
 *
 * Returns BF_OK; BF_E_MISSING when n is 0, BF_E_NOT_FINITE; *map is then zero. */
size_t bf_landing_map_work_bytes(size_t n);
BF_CHECK bf_status bf_landing_map_of(const double *x_m, const double *y_m, size_t n, void *work,
                                     double *density, bf_landing_map *map);

#ifdef __cplusplus
}
#endif
#endif
