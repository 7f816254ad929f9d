/* bed_scenes.h -- invented beliefs to draw in tests: an hour and a half at Withy Pool, peg 14 (invented), and random ones up to
 * the ends of the ranges; and the three drawings of them by one name each. Uses no estimator of the project. */
#ifndef BAITFALL_TESTS_BED_SCENES_H
#define BAITFALL_TESTS_BED_SCENES_H

#include "baitfall/bed_picture.h"
#include "record_scenes.h"

typedef struct scene_bed {
    bf_bed_view view;
    bf_bed bed;
    bf_bed_feed feed[BF_BED_MOST_FEEDS];
} scene_bed;

static inline bf_range scene_range(double lo, double mid, double hi) {
    return (bf_range){.nominal = NAN, .lo = lo, .mid = mid, .hi = hi};
}

static inline void scene_bed_point(scene_bed *scene) {
    memset(scene, 0, sizeof *scene);
    scene->view.bed = &scene->bed;
    scene->view.feed = scene->feed;
    scene->view.width_mm = 80;
    scene->view.start_ms = SCENE_START_MS;
    scene->view.span_s = 5400;
}

/* Pots of 50, 50, 55 and 22 pieces, eaten by halves in about twelve minutes; now is 2 h 42 min after the start, 11:42. */
static inline void scene_bed_everyday(scene_bed *scene) {
    static const double put_min[] = {78, 104, 131, 156}, put[] = {50, 50, 55, 22};
    scene_bed_point(scene);
    bf_bed *bed = &scene->bed;
    bed->t_s = 162 * 60;
    scene->view.miss_m = 0.08;
    scene->view.n_feeds = 4;
    for (int k = 0; k < 4; k++)
        scene->feed[k] = (bf_bed_feed){SCENE_START_MS + put_min[k] * SCENE_MIN_MS, put[k]};
    double left = 9;
    for (int minute = 72, fed = 0; minute <= 162; minute += 2) {
        if (minute > 72) left *= 0.89;
        bed->point[bed->n_points++] =
            (bf_bed_point){.t_s = 60.0 * minute, .left = scene_range(0.5 * left, left, 1.5 * left + 3)};
        if (fed < 4 && put_min[fed] < minute + 2) {
            left += put[fed++];
            bed->point[bed->n_points++] = (bf_bed_point){
                .t_s = 60.0 * minute + 60, .left = scene_range(0.7 * left, left, 1.2 * left + 3)};
        }
    }
    bed->left = bed->point[bed->n_points - 1].left = scene_range(17, 34, 58);
    static const double dots[] = {8,  14, 17, 20, 23, 25, 27, 29, 31, 33,
                                  35, 37, 40, 43, 46, 49, 53, 57, 64, 78};
    static const double fish[] = {1, 2, 2, 3, 3, 4, 4, 4, 5, 5, 5, 6, 6, 7, 8, 9, 11, 13, 16, 23};
    memcpy(bed->left_dot, dots, sizeof dots);
    memcpy(bed->fish_dot, fish, sizeof fish);
    bed->p_many[BF_MANY_FEW] = 0.15;
    bed->p_many[BF_MANY_SOME] = 0.5;
    bed->p_many[BF_MANY_MANY] = 0.35;
    bed->wide_m = scene_range(0.22, 0.31, 0.44);
}

static inline bf_range scene_range_random(int n, int k, double most) {
    double x[3];
    for (int j = 0; j < 3; j++) x[j] = most * scene_scale(n, k + j, 1e-4, 1);
    qsort(x, 3, sizeof x[0], scene_by_time);
    if (scene_pick(n, k + 3, 9) == 0) x[0] = 0;
    if (scene_pick(n, k + 4, 20) == 0) x[0] = x[1] = x[2] = 0;
    return scene_range(x[0], x[1], x[2]);
}

static inline void scene_bed_random(int n, scene_bed *scene) {
    scene_bed_point(scene);
    bf_bed_view *view = &scene->view;
    bf_bed *bed = &scene->bed;
    view->look = scene_pick(n, 301, 4);
    view->width_mm = scene_width(n);
    view->east_min = 15 * scene_pick(n, 302, 60) - 450;
    view->span_s = scene_scale(n, 303, 600, 604800);
    view->miss_m = scene_pick(n, 304, 5) ? scene_scale(n, 305, 1e-3, 100) : scene_pick(n, 306, 2) ? NAN : 0;
    bed->t_s = scene_pick(n, 307, 9) ? scene_scale(n, 308, 1, 1e6) : 0;
    bed->n_points = scene_pick(n, 309, 6) ? scene_pick(n, 310, BF_BELIEF_MOST_MARKS + 1) : 0;
    double most = scene_scale(n, 311, 1, 9e5), now_ms = view->start_ms + 1000 * bed->t_s,
           at[BF_BED_MOST_FEEDS];
    scene_times(3 * n + 1, 1, 0, bed->t_s, at, bed->n_points); /* that scene's times stay within */
    for (int k = 0; k < bed->n_points; k++)
        bed->point[k] = (bf_bed_point){.t_s = at[k], .left = scene_range_random(n, 400 + 8 * k, most)};
    view->n_feeds = scene_pick(n, 312, 6) ? (int)scene_scale(n, 313, 1, BF_BED_MOST_FEEDS) : 0;
    scene_times(3 * n + 1, 2, view->start_ms, now_ms, at, view->n_feeds);
    for (int k = 0; k < view->n_feeds; k++)
        scene->feed[k] =
            (bf_bed_feed){at[k], scene_pick(n, 1000 + k, 7) ? scene_scale(n, 4000 + k, 1, 1e6) : NAN};
    bed->left = scene_range_random(n, 320, most);
    bed->wide_m = scene_range_random(n, 330, scene_scale(n, 340, 1e-3, 90));
    if (scene_pick(n, 341, 9) == 0) bed->wide_m = scene_range(NAN, NAN, NAN);
    double fish = scene_scale(n, 342, 1, 400);
    int is_sure = scene_pick(n, 343, 5) == 0;
    for (int k = 0; k < BF_N_DOTS; k++) {
        bed->left_dot[k] = is_sure ? bed->left.mid : most * scene_uniform(n, 350 + k, 0, 1);
        bed->fish_dot[k] = is_sure ? floor(fish) : floor(fish * scene_uniform(n, 380 + k, 0, 1));
    }
    qsort(bed->left_dot, BF_N_DOTS, sizeof bed->left_dot[0], scene_by_time);
    qsort(bed->fish_dot, BF_N_DOTS, sizeof bed->fish_dot[0], scene_by_time);
    for (int k = 0; k < BF_N_DOTS; k++)
        bed->p_many[bed->fish_dot[k] < 2.5   ? BF_MANY_FEW
                    : bed->fish_dot[k] < 6.5 ? BF_MANY_SOME
                                             : BF_MANY_MANY] += 0.05;
}

typedef struct bed_kind {
    const char *name;
    bf_status (*draw)(const bf_bed_view *view, char *svg, size_t most, bf_picture *picture);
} bed_kind;

#define N_BED_KINDS 3
static const bed_kind bed_kinds[N_BED_KINDS] = {{"bed-left", bf_picture_bed_left},
                                                {"bed-fish", bf_picture_bed_fish},
                                                {"bed-above", bf_picture_bed_above}};

#endif
