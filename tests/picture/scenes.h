/* scenes.h -- invented views to draw in tests: reproducible, random, from the ordinary to the far ends of the ranges. */
#ifndef BAITFALL_TESTS_SCENES_H
#define BAITFALL_TESTS_SCENES_H

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "baitfall/picture.h"
#include "baitfall/random.h"

#define SCENE_SVG_BYTES (256 * 1024)

typedef struct scene_above {
    bf_above_view view;
    double density[BF_ABOVE_MOST_SIDE * BF_ABOVE_MOST_SIDE];
} scene_above;

/* The k-th number of scene `scene`, uniform between least and most. */
static inline double scene_uniform(int scene, int k, double least, double most) {
    return least + (most - least) * bf_uniform(77, (uint64_t)scene, (uint64_t)k);
}

/* Uniform in the logarithm. */
static inline double scene_scale(int scene, int k, double least, double most) {
    return least * pow(most / least, bf_uniform(77, (uint64_t)scene, (uint64_t)k));
}

static inline int scene_pick(int scene, int k, int n) {
    return (int)(n * bf_uniform(77, (uint64_t)scene, (uint64_t)k));
}

static int scene_order(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return (x < y) - (x > y);
}

/* The density above which a share of the whole lies. */
static inline double scene_level(const scene_above *scene, double share) {
    static double sorted[BF_ABOVE_MOST_SIDE * BF_ABOVE_MOST_SIDE];
    int n = scene->view.nx * scene->view.ny;
    double sum = 0, part = 0;
    memcpy(sorted, scene->density, (size_t)n * sizeof sorted[0]);
    qsort(sorted, (size_t)n, sizeof sorted[0], scene_order);
    for (int k = 0; k < n; k++) sum += sorted[k];
    int k = 0;
    while (k < n - 1 && part + sorted[k] < share * sum) part += sorted[k++];
    return sorted[k];
}

/* A Gaussian heap with the given standard deviations along its own axes, turned by `turn` radians. */
static inline void scene_add_heap(scene_above *scene, double x_m, double y_m, double along_m, double across_m,
                                  double turn, double weight) {
    bf_above_view *view = &scene->view;
    for (int i = 0; i < view->nx; i++)
        for (int j = 0; j < view->ny; j++) {
            double x = view->origin_x_m + (i + 0.5) * view->cell_m - x_m;
            double y = view->origin_y_m + (j + 0.5) * view->cell_m - y_m;
            double u = (x * cos(turn) + y * sin(turn)) / along_m,
                   v = (y * cos(turn) - x * sin(turn)) / across_m;
            scene->density[i * view->ny + j] += weight * exp(-0.5 * (u * u + v * v));
        }
}

static inline void scene_above_random(int n, scene_above *scene) {
    memset(scene, 0, sizeof *scene);
    bf_above_view *view = &scene->view;
    double size = scene_scale(n, 0, 0.015, 1.5);
    double shift = scene_pick(n, 1, 3) == 0 ? 0 : scene_scale(n, 2, 0.01, 1.0);
    double heading = scene_uniform(n, 3, 0, 6.283185307179586);
    double x = shift * cos(heading), y = shift * sin(heading);
    view->look = scene_pick(n, 4, 4);
    view->nx = 24 + scene_pick(n, 5, BF_ABOVE_MOST_SIDE - 23);
    view->ny = 24 + scene_pick(n, 6, BF_ABOVE_MOST_SIDE - 23);
    int side = view->nx < view->ny ? view->nx : view->ny;
    view->cell_m = 7 * size / side;
    view->origin_x_m = x - 0.5 * view->nx * view->cell_m;
    view->origin_y_m = y - 0.5 * view->ny * view->cell_m;
    int n_heaps = 1 + scene_pick(n, 7, 3);
    for (int k = 0; k < n_heaps; k++)
        scene_add_heap(scene, x + size * scene_uniform(n, 10 + 6 * k, -1, 1),
                       y + size * scene_uniform(n, 11 + 6 * k, -1, 1),
                       size * scene_uniform(n, 12 + 6 * k, 0.3, 1),
                       size * scene_uniform(n, 13 + 6 * k, 0.2, 1), scene_uniform(n, 14 + 6 * k, 0, 3.14),
                       scene_uniform(n, 15 + 6 * k, 0.2, 1));
    /* Some maps are rough, as from few pieces. */
    double rough = scene_pick(n, 40, 2) ? scene_uniform(n, 41, 0, 0.5) : 0;
    for (int k = 0; k < view->nx * view->ny; k++)
        scene->density[k] *= 1 + rough * (bf_uniform(78, (uint64_t)n, (uint64_t)k) - 0.5);
    view->level50 = scene_level(scene, 0.5);
    view->level90 = scene_level(scene, 0.9);
    int is_off = scene_pick(n, 42, 3) == 0;
    view->hook_x_m = is_off ? scene_uniform(n, 43, -0.5, 0.5) : 0;
    view->hook_y_m = is_off ? scene_uniform(n, 44, -0.5, 0.5) : 0;
    view->hook_share_frac = scene_pick(n, 45, 4) ? scene_uniform(n, 46, 0, 1) : NAN;
    if (scene_pick(n, 47, 4)) {
        double speed = scene_scale(n, 48, 0.001, 0.3);
        view->drift_x_m_s = speed * cos(heading);
        view->drift_y_m_s = speed * sin(heading);
    }
    view->how = scene_pick(n, 49, 4);
}

static inline void scene_side_random(int n, bf_side_view *view) {
    memset(view, 0, sizeof *view);
    view->look = scene_pick(n, 100, 4);
    view->distance_m = scene_pick(n, 101, 5) ? scene_uniform(n, 102, 1, 16) : NAN;
    view->depth_m = scene_scale(n, 103, 0.2, 10);
    double unsure = scene_pick(n, 104, 3) ? scene_scale(n, 105, 0.005, 0.6) : 0;
    view->depth_lo_m = view->depth_m * (1 - unsure);
    view->depth_hi_m = view->depth_m * (1 + unsure);
    view->slope_deg = scene_pick(n, 106, 3) ? scene_uniform(n, 107, -40, 40) : 0;
    view->bottom = scene_pick(n, 108, 4);
    view->how = scene_pick(n, 109, 4);
    double time = scene_scale(n, 110, 0.4, 900),
           shift = scene_uniform(n, 111, -1, 1) * scene_scale(n, 112, 0.01, 2);
    double release = scene_uniform(n, 113, -0.1, 0.1), size = scene_scale(n, 114, 0.01, 1.5);
    view->n_steps = 2 + scene_pick(n, 115, BF_SIDE_MOST_STEPS - 1);
    for (int k = 0; k < view->n_steps; k++) {
        double part = (double)k / (view->n_steps - 1);
        view->step_s[k] = time * part;
        view->step_x_m[k] = release + shift * sin(2.2 * part);
        view->step_z_m[k] = view->depth_m * part;
    }
    view->n_pieces = scene_pick(n, 116, BF_SIDE_MOST_PIECES + 1);
    double lies = view->step_x_m[view->n_steps - 1];
    for (int k = 0; k < view->n_pieces; k++)
        view->piece_x_m[k] = lies + size * bf_normal(79, (uint64_t)n, (uint64_t)k);
    view->wide_lo_x_m = lies - 1.645 * size;
    view->wide_hi_x_m = lies + 1.645 * size;
}

/* Labels: ordinary ones, long ones, empty ones, hostile ones. */
static inline void scene_labels(int n, bf_labels *labels) {
    static const char *const baits[] = {"hard-4", "", "<b>&\"'</b>",
                                        "W W W W W W W W W W W W W W W W W W W W W W W W",
                                        "\xC3\xA9"
                                        "cr\xC3\xAA"
                                        "pe \xC5\x81 \xD0\x96"};
    static const char *const times[] = {"12 s (10-15)", "250 s (-3 to 1200)", "",
                                        "<svg onload=\"x()\">&&&&&&&&&&&&&&&&&&&&&&&&"};
    static const char *const wides[] = {"14 cm (11-19)", "1.25 m (0.95-1.62)", "",
                                        "MMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMM"};
    static const char *const depths[] = {"1.5 m", "1.5 m (1.45-1.55)", "",
                                         "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW"};
    memset(labels, 0, sizeof *labels);
    snprintf(labels->bait.text, sizeof labels->bait.text, "%s", baits[scene_pick(n, 200, 5)]);
    snprintf(labels->time.text, sizeof labels->time.text, "%s", times[scene_pick(n, 201, 4)]);
    snprintf(labels->wide.text, sizeof labels->wide.text, "%s", wides[scene_pick(n, 202, 4)]);
    snprintf(labels->depth.text, sizeof labels->depth.text, "%s", depths[scene_pick(n, 203, 4)]);
}

/* The everyday scene: a medium pot of hard 4 mm, 1.5 m of water, a light drift. */
static inline void scene_above_everyday(scene_above *scene) {
    memset(scene, 0, sizeof *scene);
    scene->view = (bf_above_view){.nx = 40,
                                  .ny = 40,
                                  .cell_m = 0.01,
                                  .origin_x_m = -0.2,
                                  .origin_y_m = -0.17,
                                  .hook_share_frac = 0.34,
                                  .drift_x_m_s = 0.01,
                                  .drift_y_m_s = 0.025};
    scene_add_heap(scene, 0.01, 0.03, 0.035, 0.055, 0.35, 1);
    scene->view.level50 = scene_level(scene, 0.5);
    scene->view.level90 = scene_level(scene, 0.9);
}

static inline void scene_side_everyday(bf_side_view *view) {
    memset(view, 0, sizeof *view);
    view->distance_m = 11.5;
    view->depth_m = 1.5;
    view->depth_lo_m = 1.45;
    view->depth_hi_m = 1.55;
    view->slope_deg = 2;
    view->bottom = BF_SILT;
    view->n_steps = 13;
    for (int k = 0; k < 13; k++) {
        view->step_s[k] = k;
        view->step_x_m[k] = 0.002 * k;
        view->step_z_m[k] = 0.125 * k;
    }
    view->n_pieces = 52;
    for (int k = 0; k < 52; k++) view->piece_x_m[k] = 0.024 + 0.05 * bf_normal(80, 0, (uint64_t)k);
    view->wide_lo_x_m = 0.024 - 0.08;
    view->wide_hi_x_m = 0.024 + 0.08;
}

static inline void scene_labels_everyday(bf_labels *labels) {
    memset(labels, 0, sizeof *labels);
    strcpy(labels->bait.text, "hard-4");
    strcpy(labels->time.text, "12 s (10-15)");
    strcpy(labels->wide.text, "14 cm (11-19)");
    strcpy(labels->depth.text, "1.5 m (1.45-1.55)");
}

#endif
