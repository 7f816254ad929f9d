/* landing.c -- the landing map: many landed pieces smoothed into a density on a grid; see spread.h. */
#include "baitfall/spread.h"

#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"

/* Cells along the longer side before margins, the smallest cell, and what the rules of spread.h say. */
#define SIDE_CELLS 48
#define LEAST_CELL_M 1e-3
#define EDGE_P 0.02
#define QUARTERS_PER_SD 1.3489795003921634 /* range of the middle half of a standard normal */
#define LEAST_KERNEL_CELLS 1.0
#define MOST_KERNEL_CELLS 5.0
#define MOST_REACH 20 /* cells to one side: four standard deviations */

_Static_assert(SIDE_CELLS + 1 + 2 * (MOST_REACH + 2) <= BF_LANDING_MOST_SIDE, "the grid fits");

double bf_landing_share(const double *x_m, const double *y_m, size_t n, double at_x_m, double at_y_m,
                        double radius_m) {
    size_t inside = 0;
    if (n == 0) return BF_NAN;
    for (size_t i = 0; i < n; i++) {
        double dx = x_m[i] - at_x_m, dy = y_m[i] - at_y_m;
        inside += dx * dx + dy * dy <= radius_m * radius_m;
    }
    return (double)inside / (double)n;
}

/* The grid ----------------------------------------------------------------------------------------------- */

typedef struct extent {
    double lo, hi; /* covered by the grid, margins apart */
    double scale;  /* robust standard deviation          */
} extent;

/* sorted (in/out n): a copy of the coordinates. The point meant, 0, is always on the grid. */
static extent extent_of(double *sorted, size_t n) {
    bf_sort(sorted, n);
    double lo = bf_quantile_sorted(sorted, n, EDGE_P), hi = bf_quantile_sorted(sorted, n, 1 - EDGE_P);
    double quarters = bf_quantile_sorted(sorted, n, 0.75) - bf_quantile_sorted(sorted, n, 0.25);
    return (extent){lo < 0 ? lo : 0, hi > 0 ? hi : 0, quarters / QUARTERS_PER_SD};
}

static double kernel_sd(const extent *side, size_t n, double cell_m) {
    double cells = side->scale * bf_pow((double)n, -1.0 / 6.0) / cell_m;
    if (cells < LEAST_KERNEL_CELLS) cells = LEAST_KERNEL_CELLS;
    return cell_m * (cells > MOST_KERNEL_CELLS ? MOST_KERNEL_CELLS : cells);
}

static int reach_of(double sd_cells) {
    return (int)(4.0 * sd_cells + 0.5);
}

/* Lays cells over one side; returns how many. */
static int lay_cells(const extent *side, double cell_m, double smooth_m, double *origin_m) {
    int margin = reach_of(smooth_m / cell_m) + 2;
    *origin_m = side->lo - margin * cell_m;
    return (int)floor((side->hi - side->lo) / cell_m) + 1 + 2 * margin;
}

static bf_landing_map grid_of(const extent *x, const extent *y, size_t n) {
    double wide = x->hi - x->lo, tall = y->hi - y->lo, cell = (wide > tall ? wide : tall) / SIDE_CELLS;
    if (cell < LEAST_CELL_M) cell = LEAST_CELL_M;
    bf_landing_map map = {
        .cell_m = cell, .smooth_x_m = kernel_sd(x, n, cell), .smooth_y_m = kernel_sd(y, n, cell)};
    map.nx = lay_cells(x, cell, map.smooth_x_m, &map.origin_x_m);
    map.ny = lay_cells(y, cell, map.smooth_y_m, &map.origin_y_m);
    return map;
}

/* Smoothing ---------------------------------------------------------------------------------------------- */

/* Shares one point among the four nearest cell middles; what falls off the grid is lost. */
static void drop_point(const bf_landing_map *m, double x_m, double y_m, double *grid) {
    double at_x = (x_m - m->origin_x_m) / m->cell_m - 0.5, at_y = (y_m - m->origin_y_m) / m->cell_m - 0.5;
    if (!(at_x >= 0 && at_y >= 0 && at_x < m->nx - 1 && at_y < m->ny - 1)) return;
    int i = (int)at_x, j = (int)at_y;
    double right = at_x - i, up = at_y - j, *cell = grid + i * m->ny + j;
    cell[0] += (1 - right) * (1 - up);
    cell[1] += (1 - right) * up;
    cell[m->ny] += right * (1 - up);
    cell[m->ny + 1] += right * up;
}

/* Weights of a normal kernel on cells 0 .. reach to one side, all of them (both sides) adding to 1. */
static int kernel_of(double sd_cells, double weight[MOST_REACH + 1]) {
    int reach = reach_of(sd_cells);
    double sum = 0;
    for (int k = 0; k <= reach; k++) {
        weight[k] = bf_exp(-0.5 * k * k / (sd_cells * sd_cells));
        sum += k == 0 ? weight[k] : 2 * weight[k];
    }
    for (int k = 0; k <= reach; k++) weight[k] /= sum;
    return reach;
}

/* Convolves n values, `stride` apart, with a kernel; zero outside. */
static void smooth_line(double *line, int n, int stride, const double *weight, int reach) {
    double was[BF_LANDING_MOST_SIDE];
    for (int i = 0; i < n; i++) was[i] = line[i * stride];
    for (int i = 0; i < n; i++) {
        double sum = weight[0] * was[i];
        for (int k = 1; k <= reach; k++)
            sum += weight[k] * ((i >= k ? was[i - k] : 0) + (i + k < n ? was[i + k] : 0));
        line[i * stride] = sum;
    }
}

static void smooth(const bf_landing_map *m, double *grid) {
    double weight[MOST_REACH + 1];
    int reach = kernel_of(m->smooth_x_m / m->cell_m, weight);
    for (int j = 0; j < m->ny; j++) smooth_line(grid + j, m->nx, m->ny, weight, reach);
    reach = kernel_of(m->smooth_y_m / m->cell_m, weight);
    for (int i = 0; i < m->nx; i++) smooth_line(grid + i * m->ny, m->ny, 1, weight, reach);
}

/* Lines -------------------------------------------------------------------------------------------------- */

/* The density down to which the densest cells together hold `part` of all; 0 when the grid holds less. */
static double level_of(const double *sorted_up, int n_cells, double cell_m2, double part) {
    double held = 0;
    for (int i = n_cells - 1; i >= 0; i--) {
        double more = sorted_up[i] * cell_m2;
        if (held + more >= part) return sorted_up[i];
        held += more;
    }
    return 0;
}

/* Room for one sorted coordinate, or for the sorted cells, whichever is more. */
size_t bf_landing_map_work_bytes(size_t n) {
    size_t most = n > BF_LANDING_MOST_CELLS ? n : BF_LANDING_MOST_CELLS;
    return most * sizeof(double);
}

static bf_status check_points(const double *x_m, const double *y_m, size_t n) {
    if (n == 0) return BF_E_MISSING;
    for (size_t i = 0; i < n; i++)
        if (x_m[i] - x_m[i] != 0 || y_m[i] - y_m[i] != 0) return BF_E_NOT_FINITE;
    return BF_OK;
}

bf_status bf_landing_map_of(const double *x_m, const double *y_m, size_t n, void *work, double *density,
                            bf_landing_map *map) {
    memset(map, 0, sizeof *map);
    bf_status status = check_points(x_m, y_m, n);
    if (status) return status;

    double *sorted = work;
    memcpy(sorted, x_m, n * sizeof *sorted);
    extent x = extent_of(sorted, n);
    memcpy(sorted, y_m, n * sizeof *sorted);
    extent y = extent_of(sorted, n);
    *map = grid_of(&x, &y, n);

    int n_cells = map->nx * map->ny;
    double cell_m2 = map->cell_m * map->cell_m, per_point = 1.0 / ((double)n * cell_m2);
    for (int i = 0; i < n_cells; i++) density[i] = 0;
    for (size_t i = 0; i < n; i++) drop_point(map, x_m[i], y_m[i], density);
    for (int i = 0; i < n_cells; i++) density[i] *= per_point;
    smooth(map, density);

    memcpy(sorted, density, (size_t)n_cells * sizeof *sorted);
    bf_sort(sorted, (size_t)n_cells);
    map->level50_per_m2 = level_of(sorted, n_cells, cell_m2, 0.5);
    map->level90_per_m2 = level_of(sorted, n_cells, cell_m2, 0.9);
    return BF_OK;
}
