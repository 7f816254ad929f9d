/* axis.h -- scales with their numbers, across and upright, and twenty dots stacked along one. */
#ifndef BFI_AXIS_H
#define BFI_AXIS_H

#include "core/picture/chart.h"

/* ---- across ---- */

/* From a drawing's edges to the ends of its axis line, mm. */
#define BFI_AXIS_LEFT_MM 4.0
#define BFI_AXIS_RIGHT_MM 4.0

typedef struct bfi_axis {
    int scale;     /* bf_scale               */
    double lo, hi; /* of values              */
    double x0, x1; /* where these are drawn  */
} bfi_axis;

/* Around lo .. hi and wider by a part `rim` of it on either side. */
bfi_axis bfi_axis_around(int scale, double lo, double hi, double rim, double width_mm);
double bfi_axis_x(const bfi_axis *axis, double value);
/* Its line at `base` with its numbers below. */
void bfi_draw_axis(bfi_pen *pen, const bfi_axis *axis, double base);

/* ---- upright ---- */

/* From 0 at `base` to `most` at `top`, with round values at least `least` apart. */
typedef struct bfi_upright {
    double x0, x1, top, base, most, least;
} bfi_upright;

double bfi_upright_y(const bfi_upright *axis, double value);
/* Room to the left of x0 for the widest of its numbers, at least `least_mm`. */
double bfi_upright_room_mm(const bfi_upright *axis, double least_mm);
/* Its line and the one along its base, grid lines to x1, its numbers. */
void bfi_draw_upright(bfi_pen *pen, const bfi_upright *axis);

/* ---- twenty dots ---- */

/* The tenth is ringed. */
#define BFI_MEDIAN_DOT 9

typedef struct bfi_heap {
    double dot_mm; /* from one dot to the next        */
    double start;  /* a border between two columns, mm */
    int tallest;
    int column[BF_N_DOTS], level[BF_N_DOTS];
} bfi_heap;

/* Stacks dots at places `at` (in BF_N_DOTS, not falling, mm along the axis) in columns that have a border at `border` plus
 * `shift` of a dot: of dots of least_mm to most_mm the largest whose highest column is not above room_mm. */
bfi_heap bfi_heap_of(const double *at, double border, double shift, double most_mm, double least_mm,
                     double room_mm);

/* A dot, hollow when it is the book's, and its ring if it is the tenth. */
void bfi_draw_dot(bfi_pen *pen, const bfi_heap *heap, int k, int is_book, double x, double y);

#endif
