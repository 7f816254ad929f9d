/* lay_build.c -- see lay_build.h. */
#include "core/tackle/lay_build.h"

#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"
#include "baitfall/throw.h"

/* Segments of each stretch. */
#define AIR_SEGMENTS 4
#define MAIN_SEGMENTS 12
#define HOOKLENGTH_SEGMENTS 2
#ifndef GRADE
#define GRADE 0.9
#endif

/* Line under a tension of this part of all weight is as short as slack line under a thousandth of it.  */
#define SLACK_PART 1e-6

/* The line below the float is at least so long. */
#define LEAST_WET_M 0.05

/* A float across the stream: a slim body, drag coefficient of a cylinder (memory: 1.0 to 1.2). It moves half its own
 * water along. */
#define FLOAT_CD 1.1
#define FLOAT_ADDED 0.5

/* What surrounds it -------------------------------------------------------------------------------------- */

static bf_status surround(const bf_stand *stand, bfi_laid *laid) {
    const bf_lake *lake = &stand->scene.lake;
    const bf_spot *spot = &stand->scene.spot;
    bfi_stream *stream = &laid->chain.stream;
    double to = lake->wind_side_deg.value * BF_RAD_PER_DEG, temp_c = lake->temp_c.value;
    bf_status status = bf_current_of(lake, spot->depth_m.value, &stream->current);
    double wind_10 = bf_wind_10_m_s(lake->wind_m_s.value, lake->wind_height_m);
    stream->wind = bf_wind_profile_of(wind_10);
    stream->wind_x = bf_cos(to);
    stream->wind_y = bf_sin(to);
    stream->water = (bfi_fluid){bf_lake_density_kg_m3(lake), bf_water_viscosity_pa_s(temp_c)};
    stream->air = (bfi_fluid){bf_air_density_kg_m3(temp_c), bf_air_viscosity_pa_s(temp_c)};
    stream->is_fixed = stand->hold.drag_mode;
    stream->drag_frac = 1 + 0.1 * stand->hold.line_drag_error.value;
    stream->length_m = laid->wet_m;
    laid->chain.floor = (bf_floor){spot->depth_m.value, bf_tan(spot->slope_deg.value * BF_RAD_PER_DEG)};
    laid->chain.friction_frac = stand->hold.friction_frac.value;
    return status;
}

/* Line --------------------------------------------------------------------------------------------------- */

/* The next n segments share length_m of line, each but the first so many times as long as the one above it. */
static void add_line(bfi_lumped *chain, const bf_fishing_line *line, double length_m, int n, double ratio) {
    double water = chain->stream.water.kg_m3, of_first = 0, grown = 1;
    for (int i = 0; i < n; i++, grown *= ratio) of_first += grown;
    bfi_segment segment = {.line = {.diameter_m = line->diameter_m,
                                    .stiffness_n = bf_line_stiffness_n(line),
                                    .air_n_m = bf_line_weight_air_n_m(line),
                                    .water_n_m = bf_line_weight_water_n_m(line, water),
                                    .fixed_air = 1.5,
                                    .fixed_water = 3},
                           .length_m = length_m / of_first,
                           .mass_kg_m = bf_line_density_kg_m3(line->kind) * bf_line_area_m2(line)};
    for (int i = 0; i < n; i++) {
        chain->segment[chain->n++ - 1] = segment;
        segment.length_m *= ratio;
    }
}

static void add_lines(const bf_rig *rig, int refine, bfi_laid *laid) {
    double hooklength =
        rig->hooklength.length_m < 0.5 * laid->wet_m ? rig->hooklength.length_m : 0.5 * laid->wet_m;
    laid->chain.n = 1;
    add_line(&laid->chain, &rig->line, laid->air_m, AIR_SEGMENTS * refine, 1);
    laid->float_node = laid->chain.n - 1;
    add_line(&laid->chain, &rig->line, laid->wet_m - hooklength, MAIN_SEGMENTS * refine,
             refine == 1   ? GRADE
             : refine == 2 ? sqrt(GRADE)
                           : sqrt(sqrt(GRADE)));
    add_line(&laid->chain, &rig->hooklength, hooklength, HOOKLENGTH_SEGMENTS * refine, 1);
}

/* Lumps -------------------------------------------------------------------------------------------------- */

/* One shot goes to the two nodes beside it, by how near they are. from: the node at the upper end of its stretch. */
static void add_shot(bfi_lumped *chain, const bf_shot *shot, double error_z, int from, double down_m) {
    double mass = bf_shot_mass_kg(shot, error_z), diameter = bf_shot_diameter_m(shot, error_z);
    double dry = mass * BF_GRAVITY_M_S2, wet = bf_shot_weight_n(shot, error_z, chain->stream.water.kg_m3);
    double displaced = (dry - wet) / BF_GRAVITY_M_S2, area = BF_PI / 4 * diameter * diameter;
    int i = from;
    while (i + 2 < chain->n && down_m > chain->segment[i].length_m) down_m -= chain->segment[i++].length_m;
    double lower = down_m / chain->segment[i].length_m;
    if (lower > 1) lower = 1;
    for (int end = 0; end < 2; end++) {
        bfi_lump *lump = &chain->lump[i + end];
        double share = end ? lower : 1 - lower;
        lump->mass_kg += share * mass;
        lump->added_kg += share * 0.5 * displaced;
        lump->dry_n += share * dry;
        lump->wet_n += share * wet;
        lump->area_m2 += share * area;
        lump->diameter_m += share * area * diameter; /* divided by all area later */
    }
}

/* Rows of shot on a stretch of span_m below node `from`; their places count from its lower end. */
static void add_shots(bfi_lumped *chain, const bf_shot *rows, int n_rows, double error_z, int from,
                      double span_m) {
    for (int row = 0; row < n_rows; row++) {
        double apart = rows[row].apart_m > 0 ? rows[row].apart_m : bf_shot_diameter_m(&rows[row], error_z);
        for (int k = 0; k < rows[row].count; k++) {
            double down = span_m - rows[row].at_m - k * apart;
            add_shot(chain, &rows[row], error_z, from, down > 0 ? down : 0);
        }
    }
}

static void finish_shots(bfi_laid *laid) {
    double heaviest = 0;
    laid->heavy_node = laid->chain.n - 1;
    for (int i = 0; i < laid->chain.n; i++) {
        bfi_lump *lump = &laid->chain.lump[i];
        if (!(lump->area_m2 > 0)) continue;
        lump->diameter_m /= lump->area_m2;
        lump->drag = bf_drag_sphere();
        if (i > laid->float_node && lump->mass_kg > heaviest) {
            heaviest = lump->mass_kg;
            laid->heavy_node = i;
        }
    }
}

/* Hook and bait at the end. */
static void add_bait(const bf_stand *stand, bfi_lumped *chain) {
    double water = chain->stream.water.kg_m3;
    bf_piece piece = bf_piece_of(&stand->hook_bait, &stand->scene.lake);
    double volume = BF_PI / 6 * piece.equivalent_m * piece.equivalent_m * piece.equivalent_m;
    bfi_lump *lump = &chain->lump[chain->n - 1];
    lump->mass_kg += piece.density_kg_m3 * volume + bf_hook_mass_kg(&stand->rig.hook);
    lump->added_kg += 0.5 * water * volume;
    lump->dry_n += (piece.density_kg_m3 * volume + bf_hook_mass_kg(&stand->rig.hook)) * BF_GRAVITY_M_S2;
    lump->wet_n +=
        (piece.density_kg_m3 - water) * volume * BF_GRAVITY_M_S2 + bf_hook_weight_n(&stand->rig.hook, water);
    lump->area_m2 = BF_PI / 4 * piece.equivalent_m * piece.equivalent_m;
    lump->diameter_m = piece.equivalent_m;
    lump->drag = piece.drag;
}

/* The float carries what hangs on it with its bristle's foot at its node: where the rig is dotted down is not asked here. */
static void add_float(const bf_float *flt, bfi_laid *laid) {
    bfi_lumped *chain = &laid->chain;
    double water = chain->stream.water.kg_m3, hangs_n = 0;
    for (int i = laid->float_node; i < chain->n; i++) hangs_n += chain->lump[i].wet_n;
    for (int i = laid->float_node; i + 1 < chain->n; i++)
        hangs_n += chain->segment[i].length_m * chain->segment[i].line.water_n_m;
    chain->buoy = (bfi_buoy){.node = laid->float_node,
                             .lift_n = hangs_n,
                             .weight_n = flt->mass_kg * BF_GRAVITY_M_S2,
                             .body_long_m = flt->body_long_m,
                             .bristle_n_m = bf_float_bristle_n_m(flt, water)};
    bfi_lump *lump = &chain->lump[laid->float_node];
    lump->mass_kg += flt->mass_kg;
    lump->added_kg += FLOAT_ADDED * (flt->mass_kg + bf_float_lift_n(flt, water) / BF_GRAVITY_M_S2);
    lump->area_m2 = flt->body_m * flt->body_long_m + bf_float_usual_build.stem_m * flt->stem_long_m;
    lump->diameter_m = flt->body_m;
    lump->drag = (bf_drag){0, 0, 0, FLOAT_CD, 0};
    lump->below_m = 0.5 * flt->body_long_m;
}

bf_status bfi_laid_of(const bf_stand *stand, int refine, bfi_laid *laid) {
    const bf_rig *rig = &stand->rig;
    memset(laid, 0, sizeof *laid);
    laid->air_m = rig->tip_to_float_m;
    laid->wet_m = stand->scene.spot.depth_m.value + stand->hold.overdepth_m.value;
    if (laid->wet_m < LEAST_WET_M) laid->wet_m = LEAST_WET_M;
    bf_status status = surround(stand, laid);
    if (status) return status;

    bfi_lumped *chain = &laid->chain;
    add_lines(rig, refine, laid);
    add_shots(chain, rig->back_shot, rig->n_back_shots, rig->shot_error.value, 0, laid->air_m);
    add_shots(chain, rig->shot, rig->n_shots, rig->shot_error.value, laid->float_node, laid->wet_m);
    finish_shots(laid);
    add_bait(stand, chain);
    add_float(&rig->flt, laid);
    for (int i = 0; i < chain->n; i++) chain->usual_n += chain->lump[i].dry_n;
    chain->slack_n = SLACK_PART * chain->usual_n;
    return BF_OK;
}
