/* model_ready.c -- a parameter set made ready for a scene: sizes told apart, rates by size, spots. */
#include "core/swim/state.h"

#include <math.h>
#include <string.h>

#include "baitfall/choice.h"
#include "baitfall/elementary.h"
#include "core/swim/fixed.h"

#define ALIKE 1.05      /* sizes within this factor are one class */
#define NO_FEED_M 4e-3  /* one class of this size where nothing is ever fed */
#define NOTHING_M2 0.25 /* a spot whose landing area is not told */
#define NOTHING_LOOSE_M2 1.0

/* Takes the two neighbours of sorted[0..n) that are most alike together, by the middle of their logarithms. Returns n - 1. */
static int closest_joined(double *sorted, int n, int at) {
    sorted[at] = sqrt(sorted[at] * sorted[at + 1]);
    memmove(sorted + at + 1, sorted + at + 2, (size_t)(n - at - 2) * sizeof *sorted);
    return n - 1;
}

int bfi_swim_classes(const bf_swim_scene *scene, double diameter_m[BF_SWIM_MOST_CLASSES]) {
    double sorted[BF_SWIM_MOST_FEEDS];
    int n = 0;
    for (int i = 0; i < scene->n_feeds; i++) {
        double d = scene->feed[i].diameter_m;
        int at = n++;
        for (; at > 0 && sorted[at - 1] > d; at--) sorted[at] = sorted[at - 1];
        sorted[at] = d;
    }
    while (n > 1) {
        int at = 0;
        for (int i = 1; i + 1 < n; i++)
            if (sorted[i + 1] * sorted[at] < sorted[i] * sorted[at + 1]) at = i;
        if (n <= BF_SWIM_MOST_CLASSES && sorted[at + 1] > ALIKE * sorted[at]) break;
        n = closest_joined(sorted, n, at);
    }
    if (n == 0) sorted[n++] = NO_FEED_M;
    memcpy(diameter_m, sorted, (size_t)n * sizeof *sorted);
    return n;
}

static int nearest_class(const double *size_m, int n, double d) {
    int best = 0;
    for (int k = 1; k < n; k++) /* nearer by the logarithm: d above the geometric middle */
        if (d * d > size_m[best] * size_m[k]) best = k;
    return best;
}

static void ready_classes(bfi_swim *swim, const bf_swim_scene *scene) {
    double size_m[BF_SWIM_MOST_CLASSES], feeds[BF_SWIM_MOST_CLASSES] = {0}, soft[BF_SWIM_MOST_CLASSES] = {0};
    swim->n_classes = bfi_swim_classes(scene, size_m);
    for (int i = 0; i < scene->n_feeds; i++) {
        const bf_swim_feed *feed = &scene->feed[i];
        int k = swim->class_of[i] = nearest_class(size_m, swim->n_classes, feed->diameter_m);
        swim->log_lasting[i] = feed->lasting_factor > 1 ? bf_log(feed->lasting_factor) : 0;
        feeds[k]++, soft[k] += feed->is_soft ? 1 : 0;
        swim->piece_kg[k] += feed->piece_kg, swim->rot_1_s[k] += 1 / feed->lasting_s;
    }
    for (int k = 0; k < swim->n_classes; k++) {
        double mm = swim->size_mm[k] = size_m[k] * 1e3, by_4 = mm / 4, many = feeds[k] > 0 ? feeds[k] : 1;
        swim->search_by[k] = bf_pow(by_4, SEARCH_POWER);
        swim->handle_by[k] = bf_pow(by_4, HANDLE_POWER);
        swim->piece_kg[k] /= many, swim->rot_1_s[k] /= many;
        double ease = NUISANCE_MM / mm, ease4 = ease * ease * ease * ease;
        swim->easy[k] = ease4 / (1 + ease4) * (soft[k] + (many - soft[k]) * NUISANCE_HARD) / many;
        swim->small[k] = mm < SMALL_MM ? 1 : 0;
    }
}

static void ready_spots(bfi_swim *swim, const bf_swim_scene *scene) {
    for (int s = 0; s < scene->n_spots; s++) {
        const bf_swim_spot *a = &scene->spot[s];
        swim->miss_m2[s] = BF_PI * a->miss_m * a->miss_m;
        double tight = a->area_m2[BF_CLUMP], loose = a->area_m2[BF_THROW];
        swim->start_m2[s][0] = tight > 0 ? tight : NOTHING_M2;
        swim->start_m2[s][1] = loose > 0 ? loose : NOTHING_LOOSE_M2;
        for (int to = 0; to < scene->n_spots; to++) {
            double dx = (scene->spot[to].distance_m - a->distance_m) / MOVE_M,
                   dy = (scene->spot[to].side_m - a->side_m) / MOVE_M;
            swim->beside[s][to] = to == s ? 0 : MOVE / (1 + dx * dx + dy * dy) / (scene->n_spots - 1);
        }
    }
}

void bfi_swim_warm(bfi_swim *swim, double temp_c) {
    swim->now.temp_c = temp_c;
    double appetite = bf_fish_appetite(temp_c == temp_c ? temp_c : TEMP_C);
    swim->activity = sqrt(appetite);
    swim->meal_kg = MEAL_KG * appetite;
}

void bfi_swim_weigh_entered(bfi_swim *swim) {
    swim->counted = 1 - NOT_ENTERED;
}

void bfi_swim_prepare(bfi_swim *swim, const bf_swim_scene *scene, const bf_swim_set *set, uint64_t seed,
                      uint64_t stream) {
    *swim = (bfi_swim){.seed = seed,
                       .stream = stream,
                       .n_spots = scene->n_spots,
                       .n_hooks = scene->n_hooks,
                       .n_feeds = scene->n_feeds,
                       .counted = 1};
    memcpy(swim->of, set->of, sizeof swim->of);
    ready_classes(swim, scene);
    ready_spots(swim, scene);
    for (int h = 0; h < BF_SWIM_MOST_HOOKS; h++) { /* a hook bait nobody told of is 6 mm and soft */
        double mm = h < scene->n_hooks ? scene->hook[h].diameter_m * 1e3 : 6;
        swim->hook_by[h] = bf_pow(mm / 4, SEARCH_POWER);
        swim->hook_soft[h] = h < scene->n_hooks && scene->hook[h].is_hard ? 0 : 1;
    }
    swim->now.rig_spot = swim->now.rig_hook = swim->now.stretch_spot = -1;
    bfi_swim_warm(swim, scene->temp_c);
}
