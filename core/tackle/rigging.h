/* rigging.h -- a stand made ready for the solver: its line, its loads, its streams, as forces and lengths.
 *
 * The water span is counted in metres of line above the hook, the air span in metres above the float. Pure; no allocation.
 */
#ifndef BAITFALL_TACKLE_RIGGING_H
#define BAITFALL_TACKLE_RIGGING_H

#include "baitfall/rig.h"
#include "core/tackle/cable.h"

/* One shot of a row. */
typedef struct bfi_bead {
    double air_n, water_n; /* weight of one, in water less its buoyancy */
    double diameter_m;
    bf_drag drag;
} bfi_bead;

/* Shot that sit at one place: all of a bulk, or one of a spread row. */
typedef struct bfi_load {
    double at_m;
    int row, count;
} bfi_load;

#define BFI_MOST_LOADS (BF_RIG_SHOTS * 40)
#define BFI_MOST_BACK_LOADS (BF_RIG_BACK_SHOTS * 40)

typedef struct bfi_rigging {
    bfi_stream below, above; /* what the water span and the air span stand in */
    double below_m, above_m; /* their lengths                                 */
    bfi_cable line, hooklength;
    double knot_m; /* where the hooklength ends */

    double end_n;  /* hook and hook bait in water                                */
    bf_piece bait; /* its drag; the hook's own is left out                       */
    int n_loads;   /* lowest first                                              */
    bfi_load load[BFI_MOST_LOADS];
    bfi_bead bead[BF_RIG_SHOTS];
    int n_back_loads;
    bfi_load back_load[BFI_MOST_BACK_LOADS];
    bfi_bead back_bead[BF_RIG_BACK_SHOTS];

    bf_float flt; /* settled */
    double float_n, tension_n_m;
    double trim_n; /* what dotting it down by eye put on it, or took off */

    double tip_m, depth_m, slope, friction_frac;
    int feels_float, feels_shot, feels_bait; /* 0: no wind or current on it (bf_rig_solve's `without`) */
} bfi_rigging;

/* Returns BF_OK; BF_E_MODEL_RANGE when the tip is as high as its line is long, or the line from float to hook is
 * shorter than LEAST_BELOW_M; the statuses of bf_current_of. */
BF_CHECK bf_status bfi_rigging_of(const bf_stand *stand, double wind_frac, unsigned without,
                                  bfi_rigging *rigging);

/* Goes up the water span from from_m to to_m, loads that lie in (from_m, to_m] taken on; at to_m = below_m all that are
 * left. */
BF_CHECK bf_status bfi_climb_water(const bfi_rigging *rigging, double from_m, double to_m,
                                   bfi_strand *strand);

/* How the lower end of the air span runs: so much of it floats on the water, or is drawn under by its lowest back shot, so far. */
typedef struct bfi_slack {
    double afloat_m, sunk_m;
} bfi_slack;

BF_CHECK bf_status bfi_climb_air(const bfi_rigging *rigging, bfi_slack slack, double from_m, double to_m,
                                 bfi_strand *strand);

/* What pulls on the hook's end at a depth: drag of the bait, and the weight. */
void bfi_end_load(const bfi_rigging *rigging, double z_m, double force_n[3]);

/* What wind and current do to the float, N, when down_n pulls it down, trimmers apart: its bristle above the water, and below it bristle, body
 * and stem as cylinders in the current of their depth. *shows_m: what shows of the bristle (bf_float_shows_m). */
void bfi_float_push(const bfi_rigging *rigging, double down_n, double push_n[2], double *shows_m);

#endif
