#include "core/picture/contour.h"

#include <string.h>

typedef struct grid {
    const double *density;
    int nx, ny;
    double level;
} grid;

/* Corner k of square (i, j), counted round: the edge k of a square runs from corner k to corner k + 1. */
static const int corner_i[] = {0, 0, 1, 1}, corner_j[] = {0, 1, 1, 0};
/* The square beyond edge k. */
static const int beyond_i[] = {-1, 0, 1, 0}, beyond_j[] = {0, 1, 0, -1};

static double value_at(const grid *map, int i, int j) {
    if (i < 0 || j < 0 || i >= map->nx || j >= map->ny) return 0;
    return map->density[i * map->ny + j];
}

static double corner_value(const grid *map, int i, int j, int corner) {
    return value_at(map, i + corner_i[corner & 3], j + corner_j[corner & 3]);
}

static int is_inside(const grid *map, int i, int j, int corner) {
    return corner_value(map, i, j, corner) >= map->level;
}

/* Where the line that came in through edge `from` leaves the square. It keeps the inside to one hand: of the edge
 * it came through, corner `from` is outside and the next one inside. */
static int way_out(const grid *map, int i, int j, int from) {
    int next_is_inside = is_inside(map, i, j, from + 2), last_is_inside = is_inside(map, i, j, from + 3);
    if (next_is_inside) return (from + (last_is_inside ? 3 : 2)) & 3;
    if (!last_is_inside) return (from + 1) & 3;
    double middle = 0;
    for (int k = 0; k < 4; k++) middle += 0.25 * corner_value(map, i, j, k);
    return (from + (middle >= map->level ? 3 : 1)) & 3;
}

static void add_point(const grid *map, int i, int j, int edge, bfi_contour *contour) {
    double a = corner_value(map, i, j, edge), b = corner_value(map, i, j, edge + 1);
    double part = (map->level - a) / (b - a);
    int from = edge & 3, to = (edge + 1) & 3;
    contour->x[contour->n_points] = i + 0.5 + corner_i[from] + part * (corner_i[to] - corner_i[from]);
    contour->y[contour->n_points] = j + 0.5 + corner_j[from] + part * (corner_j[to] - corner_j[from]);
    contour->n_points += 1;
}

/* The mark of the edge between (i, j) and (i, j + 1). Every loop crosses such edges, so only they are marked. */
static char *mark_of(bfi_contour *contour, int i, int j) {
    return &contour->seen[(i + 1) * (BF_ABOVE_MOST_SIDE + 2) + j + 1];
}

/* Follows one loop that enters square (i, j) through `edge` until it is back there. */
static void follow(const grid *map, int i, int j, int edge, bfi_contour *contour) {
    for (;;) {
        if ((edge & 1) == 0) {
            char *mark = mark_of(contour, i + (edge == 2), j);
            if (*mark) break;
            *mark = 1;
        }
        add_point(map, i, j, edge, contour);
        int out = way_out(map, i, j, edge);
        i += beyond_i[out];
        j += beyond_j[out];
        edge = (out + 2) & 3;
    }
    contour->loop_end[contour->n_loops] = contour->n_points;
    contour->n_loops += 1;
}

void bfi_contour_trace(const double *density, int nx, int ny, double level, bfi_contour *contour) {
    const grid map = {density, nx, ny, level};
    contour->n_points = 0;
    contour->n_loops = 0;
    memset(contour->seen, 0, sizeof contour->seen);
    for (int i = 0; i < nx; i++)
        for (int j = -1; j < ny; j++) {
            int here = value_at(&map, i, j) >= level, right = value_at(&map, i, j + 1) >= level;
            if (here == right || *mark_of(contour, i, j)) continue;
            if (right)
                follow(&map, i, j, 0, contour);
            else
                follow(&map, i - 1, j, 2, contour);
        }
}

double bfi_contour_area(const bfi_contour *contour) {
    double twice = 0;
    for (int loop = 0, start = 0; loop < contour->n_loops; loop++) {
        int end = contour->loop_end[loop];
        for (int k = start; k < end; k++) {
            int next = k + 1 < end ? k + 1 : start;
            twice += contour->x[k] * contour->y[next] - contour->x[next] * contour->y[k];
        }
        start = end;
    }
    return 0.5 * twice;
}
