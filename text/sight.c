/* sight.c -- see sight.h. */
#include "text/sight.h"

#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"
#include "baitfall/spread.h"
#include "baitfall/wind.h"
#include "core/base/room.h"

#define BAITS_MOST 8192 /* draws that are drawn from: plenty for quantiles */
#define PIECES_MOST (BAITS_MOST * BF_AIM_RAW_PIECES)

struct bfi_sight {
    int look;
    const bf_stand *stand;
    size_t n_baits, n_pieces;
    double bait_x_m[BAITS_MOST], bait_y_m[BAITS_MOST], away_m[BAITS_MOST];
    double piece_x_m[PIECES_MOST], piece_y_m[PIECES_MOST];
    double density[BF_LANDING_MOST_CELLS];
    char svg[BF_PLAN_SVG_BYTES];
    bf_section_view section;
    bf_above_view above;
    bf_picture picture;
};

size_t bfi_sight_bytes(void) {
    size_t map = bf_landing_map_work_bytes(PIECES_MOST), drawing = bf_picture_work_bytes();
    return bfi_room(sizeof(bfi_sight)) + (map > drawing ? map : drawing);
}

static void *behind(bfi_sight *sight) {
    return (char *)sight + bfi_room(sizeof(bfi_sight));
}

void bfi_sight_start(bfi_sight *sight, int look, const bf_stand *stand) {
    sight->look = look;
    sight->stand = stand;
    sight->n_baits = sight->n_pieces = 0;
}

/* ---- Where things may lie ---- */

static void add_bait(bfi_sight *sight, double x_m, double y_m) {
    if (x_m != x_m || y_m != y_m || sight->n_baits == BAITS_MOST) return;
    sight->bait_x_m[sight->n_baits] = x_m;
    sight->bait_y_m[sight->n_baits++] = y_m;
}

static void add_piece(bfi_sight *sight, double x_m, double y_m) {
    if (x_m != x_m || y_m != y_m || sight->n_pieces == PIECES_MOST) return;
    sight->piece_x_m[sight->n_pieces] = x_m;
    sight->piece_y_m[sight->n_pieces++] = y_m;
}

void bfi_sight_take_rig(bfi_sight *sight, const double *rows, int n_rows, int n_columns) {
    for (int k = 0; k < n_rows; k++) {
        const double *row = rows + (size_t)k * (size_t)n_columns;
        add_bait(sight, row[offsetof(bf_rig_out, out_m) / sizeof(double)],
                 row[offsetof(bf_rig_out, right_m) / sizeof(double)]);
    }
}

void bfi_sight_take_aim(bfi_sight *sight, const double *rows, int n_rows, int n_columns) {
    for (int k = 0; k < n_rows; k++) {
        const double *raw = rows + (size_t)k * (size_t)n_columns + bf_aim_out_table.n_fields;
        add_bait(sight, raw[0], raw[1]);
        for (int i = 0; i < BF_AIM_RAW_PIECES; i++) add_piece(sight, raw[4 + 2 * i], raw[5 + 2 * i]);
    }
}

/* ---- Water and wind ---- */

/* Where the wind blows to; nothing when that is not known. */
static void wind_of(const bf_lake *lake, double *x_m_s, double *y_m_s) {
    double to = lake->wind_side_deg.value * BF_RAD_PER_DEG, speed = lake->wind_m_s.value;
    int is_known = !lake->wind_side_deg.is_unknown && !lake->wind_m_s.is_unknown;
    *x_m_s = is_known ? speed * bf_cos(to) : 0;
    *y_m_s = is_known ? speed * bf_sin(to) : 0;
}

/* What the rig feels of it: near the bottom as hold.near_bed_frac says. */
static bf_status take_currents(const bf_stand *stand, bf_section_view *view) {
    bf_current current;
    double depth_m = stand->scene.spot.depth_m.value, right_m_s;
    if (!bfi_is_drift_known(&stand->scene.lake)) return BF_OK;
    bf_status status = bf_stand_current(stand, &current);
    for (int i = 0; !status && i < BF_SECTION_CURRENTS; i++) {
        view->current_z_m[i] = depth_m * i / BF_SECTION_CURRENTS;
        bf_current_at(&current, view->current_z_m[i], &view->current_m_s[i], &right_m_s);
        view->n_currents = i + 1;
    }
    return status;
}

/* ---- In section ---- */

static void take_water(const bf_stand *stand, bf_side_view *fall) {
    bf_quantity depth = stand->scene.spot.depth_m;
    fall->distance_m = stand->scene.spot.distance_m.value;
    fall->depth_m = depth.value;
    fall->depth_lo_m = depth.value - depth.pm > depth.value / 2 ? depth.value - depth.pm : depth.value / 2;
    fall->depth_hi_m = depth.value + depth.pm;
    fall->slope_deg = stand->scene.spot.slope_deg.value;
    fall->bottom = stand->scene.spot.bottom;
    fall->how = stand->scene.put.how;
}

/* The feed's way; a feed without one is not drawn. The pieces count from the point meant: the way is moved to end in their
 * middle. Without pieces it begins where the pot is tipped: behind the tip, less how far one leans forward. */
static void take_feed(bfi_sight *sight, bf_section_view *view) {
    const bf_scene *scene = &sight->stand->scene;
    bf_side_view *fall = &view->fall;
    double *x_m = sight->piece_x_m;
    size_t n = sight->n_pieces;
    fall->n_steps = 32;
    if (bf_spread_path(scene, fall->n_steps, fall->step_s, fall->step_x_m, fall->step_z_m)) {
        fall->n_steps = 0;
        return;
    }
    int is_by_pot = scene->put.how == BF_CLUMP || scene->put.how == BF_SPRINKLE;
    if (n == 0) {
        view->feed_x_m = is_by_pot ? sight->stand->aim.pot_comp_m - scene->pot.behind_tip_m.value : 0;
        return;
    }
    fall->n_pieces = n < BF_SIDE_MOST_PIECES ? (int)n : BF_SIDE_MOST_PIECES;
    for (int i = 0; i < fall->n_pieces; i++) fall->piece_x_m[i] = x_m[(size_t)i * n / (size_t)fall->n_pieces];
    bf_sort(x_m, n);
    fall->wide_lo_x_m = bf_quantile_sorted(x_m, n, 0.05);
    fall->wide_hi_x_m = bf_quantile_sorted(x_m, n, 0.95);
    double by_m = bf_quantile_sorted(x_m, n, 0.5) - fall->step_x_m[fall->n_steps - 1];
    for (int i = 0; i < fall->n_steps; i++) fall->step_x_m[i] += by_m;
}

static void take_dots(bfi_sight *sight, bf_section_view *view) {
    if (sight->n_baits < BF_SECTION_DOTS) return;
    bf_sort(sight->bait_x_m, sight->n_baits);
    view->n_dots = BF_SECTION_DOTS;
    for (int i = 0; i < BF_SECTION_DOTS; i++)
        view->dot_x_m[i] = bf_quantile_sorted(sight->bait_x_m, sight->n_baits, (i + 0.5) / BF_SECTION_DOTS);
}

bf_status bfi_json_section(bfi_sight *sight, const bf_rig_shape *shape, int has_feed,
                           const bfi_sight_words *words, bfi_json *out) {
    const bf_stand *stand = sight->stand;
    bf_section_view *view = &sight->section;
    double set_m = stand->scene.spot.depth_m.value + stand->hold.overdepth_m.value;
    *view = (bf_section_view){.look = sight->look,
                              .is_nominal = has_feed ? sight->n_pieces == 0 : sight->n_baits == 0,
                              .shape = *shape,
                              .rig = bf_drawn_rig_of(&stand->rig, set_m, words->hook_bait),
                              .bristle_long_m = stand->rig.flt.bristle_long_m,
                              .overdepth_m = stand->hold.overdepth_m.value,
                              .off = words->off,
                              .down = words->down};
    take_water(stand, &view->fall);
    if (has_feed) take_feed(sight, view);
    take_dots(sight, view);
    wind_of(&stand->scene.lake, &view->wind_x_m_s, &view->wind_y_m_s);
    bf_status status = take_currents(stand, view);
    if (!status)
        status = bf_picture_section(view, &words->feed, sight->svg, sizeof sight->svg, &sight->picture);
    if (!status) bfi_json_picture(out, "section", sight->svg, &sight->picture);
    return status;
}

/* ---- From above ---- */

static double middle_of(bfi_sight *sight, const double *values) {
    memcpy(sight->away_m, values, sight->n_baits * sizeof values[0]);
    bf_sort(sight->away_m, sight->n_baits);
    return bf_quantile_sorted(sight->away_m, sight->n_baits, 0.5);
}

/* Twenty baits out of all, their middle, and how far from it half and nine in ten lie. */
static void take_baits(bfi_sight *sight, bf_above_view *view) {
    size_t n = sight->n_baits;
    view->hook_x_m = middle_of(sight, sight->bait_x_m);
    view->hook_y_m = middle_of(sight, sight->bait_y_m);
    for (size_t i = 0; i < n; i++)
        sight->away_m[i] = bf_hypot(sight->bait_x_m[i] - view->hook_x_m, sight->bait_y_m[i] - view->hook_y_m);
    bf_sort(sight->away_m, n);
    view->bait50_m = bf_quantile_sorted(sight->away_m, n, 0.5);
    view->bait90_m = bf_quantile_sorted(sight->away_m, n, 0.9);
    if (!(view->bait50_m > 0)) return; // nothing about the bait's place is uncertain
    view->n_baits = BF_ABOVE_BAITS;
    for (int i = 0; i < BF_ABOVE_BAITS; i++) {
        view->bait_x_m[i] = sight->bait_x_m[(size_t)i * n / BF_ABOVE_BAITS];
        view->bait_y_m[i] = sight->bait_y_m[(size_t)i * n / BF_ABOVE_BAITS];
    }
}

bf_status bfi_json_above(bfi_sight *sight, const bfi_sight_words *words, bfi_json *out) {
    const bf_scene *scene = &sight->stand->scene;
    bf_above_view *view = &sight->above;
    bf_status status = bfi_see_above(scene, sight->piece_x_m, sight->piece_y_m, sight->n_pieces,
                                     behind(sight), sight->density, view);
    if (status) return status;
    view->look = sight->look;
    if (sight->n_baits >= BF_ABOVE_BAITS) take_baits(sight, view);
    view->hook_share_frac = bf_landing_share(sight->piece_x_m, sight->piece_y_m, sight->n_pieces,
                                             view->hook_x_m, view->hook_y_m, BF_HOOK_RING_M);
    wind_of(&scene->lake, &view->wind_x_m_s, &view->wind_y_m_s);
    status = bf_picture_above(view, sight->density, &words->feed, behind(sight), sight->svg,
                              sizeof sight->svg, &sight->picture);
    if (!status) bfi_json_picture(out, "above", sight->svg, &sight->picture);
    return status;
}
