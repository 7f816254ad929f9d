/* plan_scenes.h -- invented rigs, sections and cards to draw in tests: the everyday ones, and random ones out to the far
 * ends of the ranges. Shapes of rigs are made by hand here; the solver is not asked. */
#ifndef BAITFALL_TESTS_PLAN_SCENES_H
#define BAITFALL_TESTS_PLAN_SCENES_H

#include "baitfall/plan_picture.h"
#include "record_scenes.h"

/* One of the texts: ordinary, long, empty, hostile. */
static inline void scene_text(bf_label *label, int n, int k, const char *ordinary) {
    static const char *const others[] = {"", "W W W W W W W W W W W W W W W W W W W W W W W W",
                                         "MMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMM", "<b>&\"'</b>",
                                         "\xC3\xA9"
                                         "cr\xC3\xAA"
                                         "pe \xC5\x81 \xD0\x96"};
    int pick = scene_pick(n, k, 12);
    scene_label(label, pick < 5 ? others[pick] : ordinary);
}

/* ---- rigs ---- */

static inline void scene_rig_everyday(bf_drawn_rig *rig) {
    memset(rig, 0, sizeof *rig);
    scene_label(&rig->float_name, "0.4 g");
    scene_label(&rig->line, "0.14 mm");
    scene_label(&rig->hooklength, "0.12 mm");
    scene_label(&rig->hook, "18");
    scene_label(&rig->hook_bait, "hard four");
    rig->tip_to_float_m = 0.5;
    rig->float_to_hook_m = 1.64;
    rig->hooklength_m = 0.15;
    rig->n_shots = 2;
    rig->shot[0] = (bf_drawn_shot){.count = 5, .at_m = 0.35};
    rig->shot[1] = (bf_drawn_shot){.count = 1, .at_m = 0.15};
    scene_label(&rig->shot[0].name, "No 8");
    scene_label(&rig->shot[1].name, "No 10");
    rig->n_back_shots = 1;
    rig->back_shot[0] = (bf_drawn_shot){.count = 2, .at_m = 0.2};
    scene_label(&rig->back_shot[0].name, "No 10");
}

static inline void scene_rig_random(int n, double depth_m, bf_drawn_rig *rig) {
    static const char *const sizes[] = {"No 8", "No 10", "styl 11", "No 12", "60 mg"};
    memset(rig, 0, sizeof *rig);
    scene_text(&rig->float_name, n, 300, "0.4 g");
    scene_text(&rig->line, n, 301, "0.14 mm");
    scene_text(&rig->hooklength, n, 302, "0.12 mm");
    scene_text(&rig->hook, n, 303, "18");
    scene_text(&rig->hook_bait, n, 304, "hard four");
    rig->tip_to_float_m = scene_scale(n, 305, 0.1, 3);
    rig->float_to_hook_m = depth_m * scene_uniform(n, 306, 0.8, 1.15);
    rig->hooklength_m =
        scene_pick(n, 307, 4) ? fmin(scene_uniform(n, 308, 0.05, 0.3), 0.4 * rig->float_to_hook_m) : 0;
    rig->n_shots = scene_pick(n, 309, BF_RIG_SHOTS + 1);
    rig->n_back_shots = scene_pick(n, 310, BF_RIG_BACK_SHOTS + 1);
    int is_even = scene_pick(n, 311, 3) == 0;
    for (int k = 0; k < rig->n_shots; k++) {
        bf_drawn_shot *row = &rig->shot[k];
        row->count = scene_pick(n, 320 + k, 2) ? 1 : 1 + scene_pick(n, 340 + k, 12);
        row->at_m = is_even ? rig->float_to_hook_m * (k + 1) / (BF_RIG_SHOTS + 2)
                            : rig->float_to_hook_m * scene_uniform(n, 360 + k, 0.02, 0.95);
        row->apart_m = row->count > 1 && scene_pick(n, 380 + k, 2) ? scene_uniform(n, 400 + k, 0.01, 0.1) : 0;
        if (is_even) row->count = 1;
        scene_text(&row->name, n, 420 + (is_even ? 0 : k), sizes[is_even ? 1 : k % 5]);
    }
    for (int k = 0; k < rig->n_back_shots; k++) {
        bf_drawn_shot *row = &rig->back_shot[k];
        row->count = 1 + scene_pick(n, 440 + k, 3);
        row->at_m = rig->tip_to_float_m * scene_uniform(n, 450 + k, 0.05, 0.9);
        scene_text(&row->name, n, 460 + k, sizes[1 + k % 4]);
    }
}

/* ---- sections ---- */

/* A line that leaves the tip, meets the water off_m out and its bait hang_m further: bowed, as wind and drift bow it. */
static inline void scene_shape(bf_rig_shape *shape, double tip_m, double off_m, double hang_m,
                               double down_m) {
    memset(shape, 0, sizeof *shape);
    shape->n_air = 12;
    shape->n_water = 24;
    for (int k = 0; k < shape->n_air; k++) {
        double part = k / (shape->n_air - 1.0);
        shape->air_m[k][0] = off_m * (1.6 * part - 0.6 * part * part);
        shape->air_m[k][2] = -tip_m * (1 - part);
    }
    for (int k = 0; k < shape->n_water; k++) {
        double part = k / (shape->n_water - 1.0);
        shape->water_m[k][0] = off_m + hang_m * part * part;
        shape->water_m[k][2] = down_m * part;
    }
    shape->float_m[0] = off_m;
    shape->bait_m[0] = off_m + hang_m;
    shape->bait_m[2] = down_m;
    shape->contact = BF_LIES;
    shape->bristle_m = 0.008;
    shape->bristle_band_m = 0.002;
}

static inline void scene_section_everyday(bf_section_view *view) {
    memset(view, 0, sizeof *view);
    scene_side_everyday(&view->fall);
    view->fall.depth_m = 1.62;
    view->fall.depth_lo_m = 1.57;
    view->fall.depth_hi_m = 1.67;
    view->fall.slope_deg = 3;
    for (int k = 0; k < view->fall.n_steps; k++) view->fall.step_z_m[k] = 0.135 * k;
    view->feed_x_m = -0.04;
    scene_shape(&view->shape, 0.6, 0.02, 0.03, 1.62);
    scene_rig_everyday(&view->rig);
    view->bristle_long_m = 0.03;
    view->overdepth_m = 0.02;
    view->n_dots = BF_SECTION_DOTS;
    for (int k = 0; k < BF_SECTION_DOTS; k++) view->dot_x_m[k] = 0.05 + 0.05 * bf_normal(81, 0, (uint64_t)k);
    static const double z[] = {0, 0.3, 0.7, 1.1, 1.5}, u[] = {0.03, 0.015, -0.002, -0.012, -0.008};
    view->n_currents = 5;
    memcpy(view->current_z_m, z, sizeof z);
    memcpy(view->current_m_s, u, sizeof u);
    view->wind_x_m_s = 4;
    view->wind_y_m_s = 1;
    scene_label(&view->off, "5 cm (2-9)");
    scene_label(&view->down, "9 s (7-13)");
}

static inline void scene_section_random(int n, bf_section_view *view) {
    memset(view, 0, sizeof *view);
    scene_side_random(n, &view->fall);
    view->look = scene_pick(n, 500, 4);
    view->is_nominal = scene_pick(n, 501, 4) == 0;
    if (scene_pick(n, 502, 6) == 0) view->fall.n_steps = 0;
    view->feed_x_m = scene_uniform(n, 503, -0.3, 0.3);
    double depth = view->fall.depth_m;
    scene_shape(&view->shape, scene_scale(n, 504, 0.05, 3), scene_uniform(n, 505, -0.5, 0.5),
                scene_uniform(n, 506, -0.4, 0.4), depth * scene_uniform(n, 507, 0.7, 1.05));
    view->shape.bait_m[1] = scene_pick(n, 535, 2) ? scene_uniform(n, 536, -0.5, 0.5) : 0;
    view->shape.contact = scene_pick(n, 508, 3);
    view->shape.bristle_m = scene_uniform(n, 509, -0.02, 0.05);
    scene_rig_random(n, depth, &view->rig);
    view->bristle_long_m = 0.03;
    view->overdepth_m = scene_uniform(n, 510, -0.5, 0.5);
    view->n_dots = scene_pick(n, 511, 4) ? BF_SECTION_DOTS : 0;
    double wide = scene_scale(n, 512, 0.005, 0.6);
    for (int k = 0; k < view->n_dots; k++)
        view->dot_x_m[k] = view->shape.bait_m[0] + wide * bf_normal(82, (uint64_t)n, (uint64_t)k);
    view->n_currents = scene_pick(n, 513, BF_SECTION_CURRENTS + 1);
    double fastest = scene_scale(n, 514, 0.0001, 0.4);
    for (int k = 0; k < view->n_currents; k++) {
        view->current_z_m[k] = depth * k / BF_SECTION_CURRENTS;
        view->current_m_s[k] = fastest * scene_uniform(n, 515 + k, -1, 1);
    }
    if (scene_pick(n, 530, 4)) {
        double speed = scene_scale(n, 531, 0.2, 20), heading = scene_uniform(n, 532, 0, 6.283);
        view->wind_x_m_s = speed * cos(heading);
        view->wind_y_m_s = speed * sin(heading);
    }
    scene_text(&view->off, n, 533, "3 cm (1-6)");
    scene_text(&view->down, n, 534, "9 s (7-13)");
}

/* ---- from above, with the hook bait's cloud ---- */

static inline void scene_aimed_random(int n, scene_above *scene) {
    scene_above_random(n, scene);
    bf_above_view *view = &scene->view;
    double wide = scene_scale(n, 710, 0.005, 0.6);
    view->n_baits = BF_ABOVE_BAITS;
    view->bait50_m = 1.18 * wide;
    view->bait90_m = 2.15 * wide;
    for (int k = 0; k < BF_ABOVE_BAITS; k++) {
        view->bait_x_m[k] = view->hook_x_m + wide * bf_normal(83, (uint64_t)n, (uint64_t)k);
        view->bait_y_m[k] = view->hook_y_m + wide * bf_normal(84, (uint64_t)n, (uint64_t)k);
    }
    if (scene_pick(n, 711, 3) == 0) return;
    double speed = scene_scale(n, 712, 0.2, 20), heading = scene_uniform(n, 713, 0, 6.283);
    view->wind_x_m_s = speed * cos(heading);
    view->wind_y_m_s = speed * sin(heading);
}

/* ---- cards ---- */

static inline void scene_card_everyday(bf_card_view *view) {
    memset(view, 0, sizeof *view);
    scene_label(&view->venue, "Withy Pool");
    scene_label(&view->peg, "14");
    scene_label(&view->day, "Thu 26 Nov 2026");
    scene_label(&view->version, "Baitfall 0.4.0");
    view->is_invented = 1;
    view->starts_min = 540;
    view->hours = 5;
    view->n_spots = 1;
    bf_card_spot *spot = &view->spot[0];
    scene_label(&spot->name, "long");
    spot->distance_m = 11.5;
    spot->depth_m = 1.62;
    spot->bottom = BF_SILT;
    scene_label(&spot->feed_down, "12 s (10-15)");
    scene_label(&spot->wait, "20 s (16-26)");
    scene_label(&spot->rig_down, "9 s (7-13)");
    scene_label(&spot->pieces, "14 (12-15)");
    scene_label(&spot->pieces_what, "hard four a pot");
    scene_rig_everyday(&spot->rig);
    view->n_feeds = 2;
    view->feed[0] = (bf_card_feed){.from_s = 0, .every_s = NAN};
    scene_label(&view->feed[0].amount, "2 pots");
    scene_label(&view->feed[0].bait, "soft two");
    scene_label(&view->feed[0].how, "tipped");
    view->feed[1] = (bf_card_feed){.from_s = 600, .to_s = 18000, .every_s = 600};
    scene_label(&view->feed[1].amount, "1 pot");
    scene_label(&view->feed[1].bait, "hard four");
    scene_label(&view->feed[1].how, "shaken");
    view->n_limits = 2;
    scene_label(&view->limit[0], "Net: 50 lb at most.");
    scene_label(&view->limit[1], "Barbless hooks only.");
}

/* Three spots and eight lines of feed. */
static inline void scene_card_long(bf_card_view *view) {
    scene_card_everyday(view);
    view->n_spots = 3;
    view->spot[2] = view->spot[1] = view->spot[0];
    scene_label(&view->spot[1].name, "short");
    scene_label(&view->spot[2].name, "margin");
    view->spot[1].depth_m = 1.2;
    view->spot[2].depth_m = 0.55;
    scene_label(&view->spot[1].rig.float_name, "0.2 g");
    scene_label(&view->spot[2].rig.float_name, "0.1 g");
    scene_label(&view->spot[1].wait, "9 s (7-11)");
    scene_label(&view->spot[2].wait, "4 s (3-6)");
    view->n_feeds = 8;
    for (int k = 2; k < 8; k++) {
        view->feed[k] = view->feed[k % 2];
        view->feed[k].spot = k % 3;
        view->feed[k].from_s = 1800 * k;
    }
}

static inline void scene_card_random(int n, bf_card_view *view) {
    memset(view, 0, sizeof *view);
    scene_text(&view->venue, n, 600, "Withy Pool");
    scene_text(&view->peg, n, 601, "14");
    scene_text(&view->day, n, 602, "Thu 26 Nov 2026");
    scene_text(&view->version, n, 603, "Baitfall 0.4.0");
    view->is_invented = scene_pick(n, 604, 2);
    view->starts_min = scene_pick(n, 605, 4) ? 15.0 * scene_pick(n, 606, 97) : NAN;
    view->hours = scene_scale(n, 607, 0.3, 12);
    view->n_spots = scene_pick(n, 608, 2) ? 1 : 1 + scene_pick(n, 609, BF_CARD_SPOTS);
    for (int k = 0; k < view->n_spots; k++) {
        bf_card_spot *spot = &view->spot[k];
        int at = 1000 * k;
        scene_text(&spot->name, n, 610 + at, "long");
        spot->distance_m = scene_pick(n, 611 + at, 5) ? scene_uniform(n, 612 + at, 1, 16) : NAN;
        spot->depth_m = scene_scale(n, 613 + at, 0.2, 10);
        spot->bottom = scene_pick(n, 614 + at, 4);
        scene_text(&spot->feed_down, n, 615 + at, "12 s (10-15)");
        scene_text(&spot->wait, n, 616 + at, "20 s (16-26)");
        scene_text(&spot->rig_down, n, 617 + at, "250 s (-3 to 1200)");
        scene_text(&spot->pieces, n, 618 + at, "14 (12-15)");
        scene_text(&spot->pieces_what, n, 619 + at, "hard four a pot");
        scene_rig_random(n + 5000 * k, spot->depth_m, &spot->rig);
    }
    view->n_feeds = scene_pick(n, 620, 2) ? scene_pick(n, 621, 6) : scene_pick(n, 622, BF_CARD_FEEDS + 1);
    for (int k = 0; k < view->n_feeds; k++) {
        bf_card_feed *feed = &view->feed[k];
        int at = 640 + 8 * k;
        feed->spot = scene_pick(n, at, view->n_spots);
        scene_text(&feed->amount, n, at + 1, "1 pot");
        scene_text(&feed->bait, n, at + 2, "hard four");
        scene_text(&feed->how, n, at + 3, "shaken");
        feed->from_s = 60 * scene_pick(n, at + 4, 600);
        feed->to_s = feed->from_s + 60 * scene_pick(n, at + 5, 600);
        feed->every_s = scene_pick(n, at + 6, 2) ? scene_scale(n, at + 7, 20, 7200) : NAN;
    }
    view->n_limits = scene_pick(n, 623, BF_CARD_LIMITS + 1);
    for (int k = 0; k < view->n_limits; k++) scene_text(&view->limit[k], n, 624 + k, "Net: 50 lb at most.");
}

#endif
