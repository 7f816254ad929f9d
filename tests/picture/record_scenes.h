/* record_scenes.h -- invented records to draw in tests: an ordinary five hours at Withy Pool, peg 14 (invented), and random
 * ones up to the ends of the ranges. Uses no estimator of the project. */
#ifndef BAITFALL_TESTS_RECORD_SCENES_H
#define BAITFALL_TESTS_RECORD_SCENES_H

#include "baitfall/record_picture.h"
#include "scenes.h"

#define SCENE_MIN_MS 60000.0
/* 26 Nov 2026, 9:00 UTC. */
#define SCENE_START_MS 1795683600000.0

static inline void scene_label(bf_label *label, const char *text) {
    snprintf(label->text, sizeof label->text, "%s", text);
}

/* Ordinary, empty, long and hostile words. */
static inline void scene_word(int scene, int k, bf_label *label) {
    static const char *const words[] = {"hard four",
                                        "",
                                        "wind backing south, two bites on the drop",
                                        "<b>&\"'</b>",
                                        "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW",
                                        ("caf\xC3\xA9 \xD0\x96 12 \xC2\xB0"
                                         "C")};
    scene_label(label, words[scene_pick(scene, k, 6)]);
}

typedef struct scene_timeline {
    bf_timeline_view view;
    bf_timeline_feed feed[BF_TIMELINE_MOST];
    bf_timeline_wait wait[BF_TIMELINE_MOST];
    bf_timeline_bite bite[BF_TIMELINE_MOST];
    bf_timeline_tally tally[BF_TIMELINE_MOST];
    bf_timeline_note note[BF_TIMELINE_MOST], advice[BF_TIMELINE_MOST];
} scene_timeline;

static inline void scene_timeline_point(scene_timeline *scene) {
    bf_timeline_view *view = &scene->view;
    view->feed = scene->feed;
    view->wait = scene->wait;
    view->bite = scene->bite;
    view->tally = scene->tally;
    view->note = scene->note;
    view->advice = scene->advice;
}

static inline void scene_timeline_everyday(scene_timeline *scene, double width_mm) {
    memset(scene, 0, sizeof *scene);
    scene_timeline_point(scene);
    bf_timeline_view *view = &scene->view;
    view->width_mm = width_mm;
    view->from_ms = SCENE_START_MS;
    view->to_ms = SCENE_START_MS + 300 * SCENE_MIN_MS;
    scene_label(&view->feed_unit, "ml");
    static const double feed_min[] = {0, 24, 41, 58, 76, 95, 112, 130, 148, 171, 196, 221, 246, 270};
    static const double feed_ml[] = {30, 18, 9, 9, 9, 9, 9, 9, 9, 5, 5, 9, 9, 9};
    view->n_feeds = 14;
    for (int k = 0; k < 14; k++) {
        scene->feed[k] =
            (bf_timeline_feed){.at_ms = view->from_ms + feed_min[k] * SCENE_MIN_MS, .amount = feed_ml[k]};
        scene_label(&scene->feed[k].name, k == 9 || k == 10 ? "hard six" : "hard four");
    }
    scene->feed[5].is_crossed = 1;
    double at = 3;
    for (int k = 0; k < 85 && at < 290; k++) {
        double wait = -3.2 * log(scene_uniform(500, k, 0.05, 1)), end = at + wait;
        if (end > 300) break;
        int kind = scene_pick(501, k, 100);
        int outcome = kind < 34   ? BF_LANDED
                      : kind < 50 ? BF_MISSED
                      : kind < 54 ? BF_LOST
                      : kind < 58 ? BF_FOUL
                      : kind < 84 ? BF_TOUCHED
                                  : BF_NOTHING;
        if (!(at > 150 && at < 172)) {
            scene->wait[view->n_waits++] =
                (bf_timeline_wait){.from_ms = view->from_ms + at * SCENE_MIN_MS,
                                   .to_ms = view->from_ms + end * SCENE_MIN_MS,
                                   .is_open = outcome == BF_NOTHING,
                                   .is_start_reckoned = scene_pick(502, k, 6) == 0};
            scene->bite[view->n_bites++] = (bf_timeline_bite){
                .at_ms = view->from_ms + end * SCENE_MIN_MS,
                .outcome = outcome,
                .mass_kg =
                    outcome == BF_LANDED && scene_pick(503, k, 2) ? scene_scale(504, k, 0.15, 1.2) : NAN,
                .is_crossed = k == 30 || k == 47};
        }
        at = end + scene_uniform(505, k, 0.4, 1.6);
    }
    view->n_tallies = 1;
    scene->tally[0] = (bf_timeline_tally){.from_ms = view->from_ms + 150 * SCENE_MIN_MS,
                                          .to_ms = view->from_ms + 171 * SCENE_MIN_MS};
    scene->tally[0].n[BF_LANDED] = 4;
    scene->tally[0].n[BF_MISSED] = 2;
    view->n_notes = 3;
    scene->note[0].at_ms = view->from_ms;
    scene_label(&scene->note[0].text, "water 9.5 \xC2\xB0"
                                      "C, clear to 60 cm");
    scene->note[1].at_ms = view->from_ms + 118 * SCENE_MIN_MS;
    scene_label(&scene->note[1].text, "wind round to the south, ripple on");
    scene->note[2].at_ms = view->from_ms + 205 * SCENE_MIN_MS;
    scene_label(&scene->note[2].text, "two foul in a row, shallowed up 5 cm");
    view->n_advice = 1;
    scene->advice[0].at_ms = view->from_ms + 166 * SCENE_MIN_MS;
    scene_label(&scene->advice[0].text, "Hold till 11:46; held");
}

static int scene_by_time(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* n times in order, most within from .. to, a few beyond. */
static inline void scene_times(int scene, int key, double from_ms, double to_ms, double *at, int n) {
    for (int k = 0; k < n; k++) {
        double part = bf_uniform(81, (uint64_t)(scene * 16 + key), (uint64_t)k);
        at[k] = from_ms + (to_ms - from_ms) * (scene % 3 == 0 ? 1.1 * part - 0.05 : part);
        /* Now and then all in one place. */
        if (scene % 7 == 1 && k % 3) at[k] = to_ms - 0.02 * part * (to_ms - from_ms);
    }
    qsort(at, (size_t)n, sizeof at[0], scene_by_time);
}

static inline double scene_width(int scene) {
    static const double widths[] = {80, 80, 80, 110, 160, 280};
    return widths[scene_pick(scene, 300, 6)];
}

static inline void scene_timeline_random(int n, scene_timeline *scene) {
    memset(scene, 0, sizeof *scene);
    scene_timeline_point(scene);
    bf_timeline_view *view = &scene->view;
    view->look = scene_pick(n, 301, 4);
    view->width_mm = scene_width(n);
    view->from_ms = floor(SCENE_START_MS + scene_uniform(n, 302, -1e9, 1e9));
    view->to_ms = view->from_ms + floor(scene_scale(n, 303, 2e5, BF_RECORD_MOST_SPAN_MS));
    view->east_min = 15 * scene_pick(n, 304, 60) - 450;
    scene_word(n, 305, &view->feed_unit);
    int *counts[] = {&view->n_feeds,   &view->n_waits, &view->n_bites,
                     &view->n_tallies, &view->n_notes, &view->n_advice};
    static const double most[] = {300, 800, 1500, 12, 60, 40};
    for (int k = 0; k < 6; k++) {
        *counts[k] = scene_pick(n, 310 + k, 4) ? (int)scene_scale(n, 320 + k, 1, most[k]) : 0;
        if (n % 50 == 49) *counts[k] = BF_TIMELINE_MOST;
    }
    static double at[BF_TIMELINE_MOST];
    scene_times(n, 0, view->from_ms, view->to_ms, at, view->n_feeds);
    for (int k = 0; k < view->n_feeds; k++) {
        scene->feed[k] = (bf_timeline_feed){.at_ms = at[k],
                                            .amount = k % 9 == 8 ? NAN : scene_scale(n, 400 + k, 0.5, 400),
                                            .is_crossed = k % 11 == 3};
        scene_word(n, 1000 + k / 4, &scene->feed[k].name);
    }
    scene_times(n, 1, view->from_ms, view->to_ms, at, view->n_waits);
    for (int k = 0; k < view->n_waits; k++) {
        double next = k + 1 < view->n_waits ? at[k + 1] : view->to_ms + 1;
        if (next < at[k]) next = at[k];
        scene->wait[k] =
            (bf_timeline_wait){.from_ms = at[k],
                               .to_ms = at[k] + (next - at[k]) * scene_uniform(n, 3000 + k, 0, 1),
                               .is_open = scene_pick(n, 6000 + k, 4) == 0,
                               .is_start_reckoned = scene_pick(n, 9000 + k, 4) == 0,
                               .is_crossed = k % 13 == 5};
    }
    scene_times(n, 2, view->from_ms, view->to_ms, at, view->n_bites);
    for (int k = 0; k < view->n_bites; k++)
        scene->bite[k] = (bf_timeline_bite){
            .at_ms = at[k],
            .outcome = scene_pick(n, 12000 + k, BF_N_OUTCOMES),
            .mass_kg = scene_pick(n, 15000 + k, 3) ? NAN : scene_scale(n, 18000 + k, 0.02, 15),
            .is_crossed = k % 17 == 2};
    scene_times(n, 3, view->from_ms, view->to_ms, at, view->n_tallies);
    for (int k = 0; k < view->n_tallies; k++) {
        scene->tally[k] = (bf_timeline_tally){.from_ms = at[k],
                                              .to_ms = at[k] + (view->to_ms - view->from_ms) *
                                                                   scene_scale(n, 21000 + k, 1e-3, 0.3),
                                              .is_crossed = k % 5 == 4};
        for (int outcome = 0; outcome < BF_N_OUTCOMES; outcome++)
            scene->tally[k].n[outcome] =
                scene_pick(n, 24000 + 6 * k + outcome, 3) ? 0 : scene_pick(n, 40000 + k, 1000);
    }
    scene_times(n, 4, view->from_ms, view->to_ms, at, view->n_notes);
    for (int k = 0; k < view->n_notes; k++) {
        scene->note[k] = (bf_timeline_note){.at_ms = at[k], .is_crossed = k % 7 == 6};
        scene_word(n, 43000 + k, &scene->note[k].text);
    }
    scene_times(n, 5, view->from_ms, view->to_ms, at, view->n_advice);
    for (int k = 0; k < view->n_advice; k++) {
        scene->advice[k] = (bf_timeline_note){.at_ms = at[k], .is_crossed = k % 7 == 6};
        scene_word(n, 46000 + k, &scene->advice[k].text);
    }
}

/* ---- waits ---- */

typedef struct scene_waits {
    bf_waits_view view;
    bf_wait_step step[BF_WAITS_MOST_PANELS][BF_WAITS_MOST_STEPS];
} scene_waits;

/* A falling curve with a band around it, of n waits; not any estimator's. */
static inline void scene_curve(int scene, int k, int n, double mean_s, scene_waits *waits) {
    bf_waits_panel *panel = &waits->view.panel[k];
    bf_wait_step *step = waits->step[k];
    panel->step = step;
    panel->n_steps = n;
    panel->n_waits = n;
    double time = 0, survival = 1, half = NAN, half_lo = NAN, half_hi = NAN;
    for (int i = 0; i < n; i++) {
        int is_early = scene_pick(scene, 100 * k + 50, 3) &&
                       bf_uniform(82, (uint64_t)(scene * 4 + k), (uint64_t)i) < 0.15;
        time += -mean_s * log(bf_uniform(83, (uint64_t)(scene * 4 + k), (uint64_t)i)) / (n - i + 1) + 1e-3;
        if (!is_early) survival *= 1 - 1.0 / (n - i);
        if (survival < 1e-9) survival = 0;
        panel->n_bites += !is_early;
        double wide = 1.28 * sqrt(survival * (1 - survival) / (n - i));
        step[i] = (bf_wait_step){.time_s = time,
                                 .survival = survival,
                                 .lower = survival == 1 || survival == 0 ? NAN : fmax(0, survival - wide),
                                 .upper = survival == 1 || survival == 0 ? NAN : fmin(1, survival + wide),
                                 .n_risk = (uint32_t)(n - i),
                                 .n_event = !is_early,
                                 .n_censor = (uint32_t)is_early};
        if (half != half && survival <= 0.5) half = time;
        if (half_lo != half_lo && survival - wide <= 0.5) half_lo = time;
        if (half_hi != half_hi && survival + wide <= 0.5) half_hi = time;
    }
    panel->median = (bf_banded){half == half ? half : INFINITY, half_lo == half_lo ? half_lo : INFINITY,
                                half_hi == half_hi ? half_hi : INFINITY};
}

static inline void scene_waits_everyday(scene_waits *waits, int n_panels, double width_mm) {
    memset(waits, 0, sizeof *waits);
    static const char *const names[] = {"0-4 min after feed", "4-8 min after feed", "8-15 min after feed",
                                        "later"};
    static const int n[] = {23, 31, 14, 4};
    waits->view.width_mm = width_mm;
    waits->view.longest_s = 720;
    waits->view.n_panels = n_panels;
    for (int k = 0; k < n_panels; k++) {
        if (n_panels > 1) scene_label(&waits->view.panel[k].name, names[k]);
        scene_curve(1000 + k, k, n_panels > 1 ? n[k] : 61, 210, waits);
    }
}

static inline void scene_waits_random(int n, scene_waits *waits) {
    memset(waits, 0, sizeof *waits);
    bf_waits_view *view = &waits->view;
    view->look = scene_pick(n, 301, 4);
    view->width_mm = scene_width(n);
    view->n_panels = 1 + scene_pick(n, 302, BF_WAITS_MOST_PANELS);
    double mean = scene_scale(n, 303, 5, 20000);
    view->longest_s = scene_pick(n, 304, 3) ? NAN : mean * scene_scale(n, 305, 0.3, 5);
    for (int k = 0; k < view->n_panels; k++) {
        scene_word(n, 310 + k, &view->panel[k].name);
        int steps = n % 20 == 19 ? BF_WAITS_MOST_STEPS : (int)scene_scale(n, 320 + k, 1, 400);
        scene_curve(n, k, steps, mean * scene_scale(n, 330 + k, 0.4, 2.5), waits);
        if (scene_pick(n, 340 + k, 9) == 0) view->panel[k].median.value = NAN;
    }
}

/* ---- fish so far ---- */

typedef struct scene_catch {
    bf_catch_view view;
    double fish_ms[BF_CATCH_MOST], feed_ms[BF_CATCH_MOST];
    double rate_ms[BF_CATCH_MOST_RATES], rate_per_h[BF_CATCH_MOST_RATES * BF_N_DECILES];
} scene_catch;

/* Rates that wander, with deciles around them. */
static inline void scene_rates(int scene, double mid_per_h, scene_catch *scene_of) {
    static const double part[BF_N_DECILES] = {0.55, 0.68, 0.79, 0.89, 1, 1.12, 1.26, 1.45, 1.75};
    bf_catch_view *view = &scene_of->view;
    for (int k = 0; k < view->n_rates; k++) {
        double along = (double)k / (view->n_rates - 1);
        scene_of->rate_ms[k] = view->from_ms + along * (view->to_ms - view->from_ms);
        double rate = mid_per_h * (1 + 0.5 * sin(7 * along + scene) - 0.3 * along);
        for (int j = 0; j < BF_N_DECILES; j++) scene_of->rate_per_h[k * BF_N_DECILES + j] = rate * part[j];
    }
}

static inline void scene_catch_point(scene_catch *scene) {
    scene->view.fish_ms = scene->fish_ms;
    scene->view.feed_ms = scene->feed_ms;
    scene->view.rate_ms = scene->rate_ms;
    scene->view.rate_per_h = scene->rate_per_h;
}

/* The fish and put-ins of the ordinary timeline. */
static inline void scene_catch_everyday(scene_catch *scene, double width_mm) {
    static scene_timeline day;
    scene_timeline_everyday(&day, width_mm);
    memset(scene, 0, sizeof *scene);
    scene_catch_point(scene);
    bf_catch_view *view = &scene->view;
    view->width_mm = width_mm;
    view->from_ms = day.view.from_ms;
    view->to_ms = day.view.to_ms;
    for (int k = 0; k < day.view.n_bites; k++)
        if (day.bite[k].outcome == BF_LANDED && !day.bite[k].is_crossed)
            scene->fish_ms[view->n_fish++] = day.bite[k].at_ms;
    for (int k = 0; k < day.view.n_feeds; k++)
        if (!day.feed[k].is_crossed) scene->feed_ms[view->n_feeds++] = day.feed[k].at_ms;
    view->n_rates = 61;
    scene_rates(0, 6, scene);
}

static inline void scene_catch_random(int n, scene_catch *scene) {
    memset(scene, 0, sizeof *scene);
    scene_catch_point(scene);
    bf_catch_view *view = &scene->view;
    view->look = scene_pick(n, 301, 4);
    view->width_mm = scene_width(n);
    view->from_ms = floor(SCENE_START_MS + scene_uniform(n, 302, -1e9, 1e9));
    view->to_ms = view->from_ms + floor(scene_scale(n, 303, 2e5, BF_RECORD_MOST_SPAN_MS));
    view->east_min = 15 * scene_pick(n, 304, 60) - 450;
    view->n_fish = scene_pick(n, 305, 8) ? (int)scene_scale(n, 306, 1, BF_CATCH_MOST) : 0;
    view->n_feeds = scene_pick(n, 307, 8) ? (int)scene_scale(n, 308, 1, BF_CATCH_MOST) : 0;
    scene_times(3 * n + 1, 0, view->from_ms, view->to_ms, scene->fish_ms, view->n_fish);
    scene_times(3 * n + 1, 1, view->from_ms, view->to_ms, scene->feed_ms, view->n_feeds);
    view->n_rates = scene_pick(n, 309, 4) ? 2 + scene_pick(n, 310, BF_CATCH_MOST_RATES - 1) : 0;
    scene_rates(n, scene_scale(n, 311, 1e-3, 4e5), scene);
}

/* ---- dots, before and after ---- */

static inline void scene_dots_everyday(bf_dots_view *view, int has_zero, double width_mm) {
    *view = (bf_dots_view){
        .width_mm = width_mm, .axis_lo = NAN, .axis_hi = NAN, .n_seen = 29, .has_zero = has_zero};
    for (int k = 0; k < BF_N_DOTS; k++) {
        double z = 2.2 * (k - 9.5) / 10 * (1 + 0.1 * fabs((k - 9.5) / 10)) * 0.8;
        view->value[k] = has_zero ? 1.1 + 1.3 * z : 5.8 * exp(0.22 * z);
    }
    scene_label(&view->quantity, has_zero ? "fish an hour more after the change" : "fish an hour");
    scene_label(&view->below, "fewer");
    scene_label(&view->above, "more");
}

static inline void scene_dots_count(bf_dots_view *view) {
    static const double fish[BF_N_DOTS] = {0.6, 1.3, 1.9, 2.4, 2.9, 3.2, 3.6,  4.1, 4.5, 5,
                                           5.5, 6,   6.6, 7.1, 8,   9,   10.5, 13,  17,  26};
    scene_dots_everyday(view, 0, 80);
    view->scale = BF_SCALE_COUNT;
    view->axis_lo = 0;
    view->axis_hi = 50;
    view->is_book = 1;
    view->n_seen = -1;
    memcpy(view->value, fish, sizeof fish);
    scene_label(&view->quantity, "fish within reach of the bait");
}

static inline void scene_dots_random(int n, bf_dots_view *view) {
    *view = (bf_dots_view){.look = scene_pick(n, 301, 4),
                           .width_mm = scene_width(n),
                           .scale = scene_pick(n, 302, 3),
                           .is_book = scene_pick(n, 303, 2),
                           .axis_lo = NAN,
                           .axis_hi = NAN,
                           .has_zero = scene_pick(n, 304, 2),
                           .n_seen = scene_pick(n, 305, 3) ? (int)scene_scale(n, 306, 1, 2e9) : -1};
    double middle = scene_scale(n, 307, 1e-3, 1e5), spread = scene_scale(n, 308, 1e-3, 2);
    for (int k = 0; k < BF_N_DOTS; k++) {
        double z = spread * bf_normal(84, (uint64_t)n, (uint64_t)k);
        view->value[k] =
            view->scale == BF_SCALE_LINEAR ? middle * (scene_pick(n, 309, 2) ? z : 1 + z) : middle * exp(z);
        if (scene_pick(n, 310, 12) == 0) view->value[k] = view->scale == BF_SCALE_LOG ? 1 : 0;
    }
    qsort(view->value, BF_N_DOTS, sizeof view->value[0], scene_by_time);
    scene_word(n, 311, &view->quantity);
    scene_word(n, 312, &view->below);
    scene_word(n, 313, &view->above);
    if (scene_pick(n, 314, 3)) return;
    view->axis_lo = view->scale == BF_SCALE_LINEAR ? view->value[0] - middle : 0.5 * view->value[0];
    view->axis_hi = 2 * fabs(view->value[BF_N_DOTS - 1]) + middle;
}

static inline void scene_change_everyday(bf_change_view *view, double width_mm) {
    static const double part[BF_N_DECILES] = {0.66, 0.77, 0.85, 0.92, 1, 1.08, 1.17, 1.28, 1.43};
    memset(view, 0, sizeof *view);
    view->width_mm = width_mm;
    view->better_frac = 0.83;
    scene_label(&view->quantity, "fish an hour");
    scene_label(&view->side[0].name, "before 11:48, hard four");
    scene_label(&view->side[1].name, "after, hard six");
    for (int k = 0; k < 2; k++) {
        view->side[k].n_seen = k ? 14 : 21;
        for (int j = 0; j < BF_N_DECILES; j++) view->side[k].decile[j] = (k ? 6.9 : 5.2) * part[j];
    }
}

static inline void scene_change_random(int n, bf_change_view *view) {
    memset(view, 0, sizeof *view);
    view->look = scene_pick(n, 301, 4);
    view->width_mm = scene_width(n);
    view->better_frac = scene_pick(n, 302, 3) ? scene_uniform(n, 303, 0, 1) : NAN;
    scene_word(n, 304, &view->quantity);
    double middle = scene_scale(n, 305, 1e-3, 1e7);
    for (int k = 0; k < 2; k++) {
        bf_change_side *side = &view->side[k];
        scene_word(n, 306 + k, &side->name);
        side->n_seen = scene_pick(n, 308 + k, 30);
        double own = middle * scene_scale(n, 310 + k, 0.3, 3), spread = scene_scale(n, 312 + k, 1e-3, 1.5);
        for (int j = 0; j < BF_N_DECILES; j++) side->decile[j] = own * exp(spread * (j - 4) / 3);
    }
}

/* ---- the sheet ---- */

typedef struct scene_sheet {
    bf_sheet_view view;
    scene_timeline timeline;
    scene_waits waits;
    scene_catch fish;
} scene_sheet;

static inline void scene_sheet_take(scene_sheet *sheet) {
    sheet->view.timeline = sheet->timeline.view;
    sheet->view.waits = sheet->waits.view;
    sheet->view.fish = sheet->fish.view;
}

static inline void scene_sheet_everyday(scene_sheet *sheet, int n_panels) {
    memset(&sheet->view, 0, sizeof sheet->view);
    scene_timeline_everyday(&sheet->timeline, 80);
    scene_waits_everyday(&sheet->waits, n_panels, 80);
    scene_catch_everyday(&sheet->fish, 80);
    scene_sheet_take(sheet);
    bf_sheet_view *view = &sheet->view;
    scene_label(&view->place, "Withy Pool, peg 14");
    scene_label(&view->day, "Thursday 26 November 2026");
    scene_label(&view->version, "Baitfall 0.2.0");
    view->is_invented = 1;
    static const char *const sentences[] = {
        "Best half hour from 10:18: 5 fish.",
        "Bites came soonest 4-8 min after a small pot: waits 0.7 as long (0.5-1.0).",
        "From 12:00 to 13:00 more strikes met nothing: 7 in 13; before, 5 in 26."};
    for (int k = 0; k < 3; k++) snprintf(view->sentence[k], BF_SHEET_TEXT_BYTES, "%s", sentences[k]);
    static const char *const names[] = {"hard four", "hard six", "soft two"};
    static const int n[][BF_N_OUTCOMES] = {{24, 1, 9, 2, 11, 15}, {7, 0, 2, 1, 3, 5}, {0, 0, 1, 0, 0, 1}};
    view->n_feeds = 3;
    for (int k = 0; k < 3; k++) {
        scene_label(&view->feed[k].name, names[k]);
        memcpy(view->feed[k].n, n[k], sizeof n[k]);
    }
    view->n_nets = 2;
    scene_label(&view->net[0].name, "1");
    scene_label(&view->net[0].guessed, "36 lb (31-41)");
    scene_label(&view->net[0].weighed, "38 lb 4 oz");
    scene_label(&view->net[1].name, "2");
    scene_label(&view->net[1].guessed, "9 lb (7-12)");
    scene_label(&view->net[1].weighed, "8 lb 10 oz");
    snprintf(view->try_next, BF_SHEET_TEXT_BYTES, "%s",
             "Swap hard four and hard six every 40 minutes, in an order drawn by lot. Five hours would tell "
             "a difference of "
             "a third.");
}

static inline void scene_sheet_random(int n, scene_sheet *sheet) {
    memset(&sheet->view, 0, sizeof sheet->view);
    scene_timeline_random(n, &sheet->timeline);
    scene_waits_random(n, &sheet->waits);
    scene_catch_random(n, &sheet->fish);
    scene_sheet_take(sheet);
    bf_sheet_view *view = &sheet->view;
    if (scene_pick(n, 700, 5) == 0) view->waits.n_panels = 0;
    scene_word(n, 701, &view->place);
    scene_word(n, 702, &view->day);
    scene_word(n, 703, &view->version);
    view->is_invented = scene_pick(n, 704, 2);
    for (int k = 0; k < 4; k++) {
        char *text = k < 3 ? view->sentence[k] : view->try_next;
        int n_words = scene_pick(n, 710 + k, 5);
        for (int word = 0; word < n_words; word++) {
            bf_label label;
            scene_word(n, 720 + 8 * k + word, &label);
            size_t used = strlen(text);
            if (used + sizeof label.text < BF_SHEET_TEXT_BYTES)
                snprintf(text + used, BF_SHEET_TEXT_BYTES - used, "%s ", label.text);
        }
    }
    view->n_feeds = scene_pick(n, 760, BF_SHEET_MOST_FEEDS + 1);
    for (int k = 0; k < view->n_feeds; k++) {
        scene_word(n, 770 + k, &view->feed[k].name);
        for (int outcome = 0; outcome < BF_N_OUTCOMES; outcome++)
            view->feed[k].n[outcome] = (int)scene_scale(n, 780 + 6 * k + outcome, 1, 999);
    }
    view->n_nets = scene_pick(n, 820, BF_SHEET_MOST_NETS + 1);
    for (int k = 0; k < view->n_nets; k++) {
        scene_word(n, 830 + k, &view->net[k].name);
        scene_word(n, 840 + k, &view->net[k].guessed);
        scene_word(n, 850 + k, &view->net[k].weighed);
    }
}

#endif
