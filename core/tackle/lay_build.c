/* lay_build.c -- see lay_build.h. */
#include "core/tackle/lay_build.h"

#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"
#include "core/tackle/rigging.h"

/* Segments of each stretch. Those of the main line grow shorter towards the hook, where the line is slackest, each so many
 * times as long as the one above it. */
#define AIR_SEGMENTS 4
#define MAIN_SEGMENTS 16
#define HOOKLENGTH_SEGMENTS 4
#define N_SEGMENTS (AIR_SEGMENTS + MAIN_SEGMENTS + HOOKLENGTH_SEGMENTS)
#define MAIN_RATIO 0.88

/* At least so much of the line below the float is main line. */
#define LEAST_MAIN_PART 0.5

/* A slim float across the stream: bfi_cylinder_drag in the form of a bf_drag, 11 Re^-0.75 + 1.0, within 10 % of it at Re 5 to
 * 1000. It moves half its own volume of water along (judgement). */
static const bf_drag float_drag = {0.011, 1000, 0.25, 1.0, 0};
#define FLOAT_ADDED 0.5

/* Slack line: under this part of the rig's weight it has no length left, under a thousand times that it is a thousandth
 * short. */
#define SLACK_PART 1e-6

/* Line --------------------------------------------------------------------------------------------------- */

/* The next n segments share length_m of line. */
static void add_line(bfi_lumped *chain, const bfi_cable *cable, const bf_fishing_line *line, double length_m,
                     int n, double ratio) {
    double of_first = 0, grown = 1;
    for (int i = 0; i < n; i++, grown *= ratio) of_first += grown;
    bfi_segment segment = {.line = *cable,
                           .length_m = length_m / of_first,
                           .mass_kg_m = bf_line_density_kg_m3(line->kind) * bf_line_area_m2(line)};
    for (int i = 0; i < n; i++) {
        chain->segment[chain->n++ - 1] = segment;
        segment.length_m *= ratio;
    }
}

static void add_lines(const bf_rig *rig, const bfi_rigging *rigging, int refine, bfi_laid *laid) {
    bfi_lumped *chain = &laid->chain;
    double below = rigging->below_m, most = (1 - LEAST_MAIN_PART) * below, ratio = MAIN_RATIO;
    double hooklength = rigging->knot_m < most ? rigging->knot_m : most;
    for (int dense = refine; dense > 1; dense /= 2) ratio = sqrt(ratio);
    chain->n = 1;
    add_line(chain, &rigging->line, &rig->line, rigging->above_m, AIR_SEGMENTS * refine, 1);
    laid->float_node = chain->n - 1;
    add_line(chain, &rigging->line, &rig->line, below - hooklength, MAIN_SEGMENTS * refine, ratio);
    add_line(chain, &rigging->hooklength, &rig->hooklength, hooklength, HOOKLENGTH_SEGMENTS * refine, 1);
}

/* Lumps -------------------------------------------------------------------------------------------------- */

/* A load goes to the two nodes beside it, by how near they are. down_m: from node `from` on. */
static void add_load(bfi_lumped *chain, const bfi_bead *bead, int count, int from, double down_m) {
    double displaced_kg = (bead->air_n - bead->water_n) / BF_GRAVITY_M_S2;
    double area = BF_PI / 4 * bead->diameter_m * bead->diameter_m;
    int i = from;
    while (i + 2 < chain->n && down_m > chain->segment[i].length_m) down_m -= chain->segment[i++].length_m;
    double lower = down_m / chain->segment[i].length_m;
    for (int end = 0; end < 2; end++) {
        bfi_lump *lump = &chain->lump[i + end];
        double share = count * (end ? lower : 1 - lower);
        lump->mass_kg += share * bead->air_n / BF_GRAVITY_M_S2;
        lump->added_kg += share * 0.5 * displaced_kg;
        lump->dry_n += share * bead->air_n;
        lump->wet_n += share * bead->water_n;
        lump->area_m2 += share * area;
        lump->diameter_m += share * area * bead->diameter_m; /* the area's mean, once divided by it */
        lump->drag = bead->drag;
    }
}

static void add_shots(const bfi_rigging *rigging, bfi_laid *laid) {
    bfi_lumped *chain = &laid->chain;
    for (int k = 0; k < rigging->n_back_loads; k++) {
        const bfi_load *load = &rigging->back_load[k];
        add_load(chain, &rigging->back_bead[load->row], load->count, 0, rigging->above_m - load->at_m);
    }
    for (int k = 0; k < rigging->n_loads; k++) {
        const bfi_load *load = &rigging->load[k];
        add_load(chain, &rigging->bead[load->row], load->count, laid->float_node,
                 rigging->below_m - load->at_m);
    }
    laid->heavy_node = chain->n - 1;
    double heaviest = 0;
    for (int i = 0; i < chain->n; i++) {
        bfi_lump *lump = &chain->lump[i];
        if (!(lump->area_m2 > 0)) continue;
        lump->diameter_m /= lump->area_m2;
        lump->tall_m = lump->diameter_m;
        if (i <= laid->float_node || !(lump->mass_kg > heaviest)) continue;
        heaviest = lump->mass_kg;
        laid->heavy_node = i;
    }
}

/* Hook and bait; shot that fell to the last node go with them. */
static void add_bait(const bf_rig *rig, const bfi_rigging *rigging, bfi_lumped *chain) {
    const bf_piece *bait = &rigging->bait;
    double volume = BF_PI / 6 * bait->equivalent_m * bait->equivalent_m * bait->equivalent_m;
    double mass = bait->density_kg_m3 * volume + bf_hook_mass_kg(&rig->hook);
    bfi_lump *lump = &chain->lump[chain->n - 1];
    lump->mass_kg += mass;
    lump->added_kg += 0.5 * bait->water_kg_m3 * volume;
    lump->dry_n += mass * BF_GRAVITY_M_S2;
    lump->wet_n += rigging->end_n;
    lump->area_m2 = BF_PI / 4 * bait->equivalent_m * bait->equivalent_m;
    lump->diameter_m = lump->tall_m = bait->equivalent_m;
    lump->drag = bait->drag;
}

/* The float carries what hangs below it with its node at the surface: where it is dotted down is not asked here. */
static void add_float(const bf_float *flt, bfi_laid *laid) {
    bfi_lumped *chain = &laid->chain;
    double water = chain->stream.water.kg_m3, hangs_n = 0;
    for (int i = laid->float_node; i < chain->n; i++) hangs_n += chain->lump[i].wet_n;
    for (int i = laid->float_node; i + 1 < chain->n; i++)
        hangs_n += chain->segment[i].length_m * chain->segment[i].line.water_n_m;
    chain->buoy = (bfi_buoy){.node = laid->float_node,
                             .lift_n = hangs_n > 0 ? hangs_n : 0,
                             .weight_n = flt->mass_kg * BF_GRAVITY_M_S2,
                             .body_long_m = flt->body_long_m,
                             .bristle_n_m = bf_float_bristle_n_m(flt, water)};
    bfi_lump *lump = &chain->lump[laid->float_node];
    lump->mass_kg += flt->mass_kg;
    lump->added_kg += FLOAT_ADDED * (flt->mass_kg + bf_float_lift_n(flt, water) / BF_GRAVITY_M_S2);
    lump->area_m2 =
        BF_PI / 4 * flt->body_m * flt->body_long_m + bf_float_usual_build.stem_m * flt->stem_long_m;
    lump->diameter_m = flt->body_m;
    lump->drag = float_drag;
    lump->tall_m = flt->body_long_m;
    lump->below_m = 0.5 * flt->body_long_m;
}

bf_status bfi_laid_of(const bf_stand *stand, int refine, bfi_laid *laid) {
    bfi_rigging rigging;
    bfi_lumped *chain = &laid->chain;
    BF_ASSERT(refine >= 1 && refine * N_SEGMENTS < BFI_LUMPED_NODES);
    memset(laid, 0, sizeof *laid);
    bf_status status = bfi_rigging_of(stand, 1, 0, &rigging);
    if (status) return status;
    laid->tip_m = rigging.tip_m;
    laid->line_m = rigging.above_m + rigging.below_m;
    chain->stream = rigging.below;
    chain->floor = (bf_floor){rigging.depth_m, rigging.slope};
    chain->friction_frac = rigging.friction_frac;

    add_lines(&stand->rig, &rigging, refine, laid);
    add_shots(&rigging, laid);
    add_bait(&stand->rig, &rigging, chain);
    add_float(&rigging.flt, laid);
    for (int i = 0; i < chain->n; i++) chain->usual_n += chain->lump[i].dry_n;
    chain->slack_n = SLACK_PART * chain->usual_n;
    return BF_OK;
}
