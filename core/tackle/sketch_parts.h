/* sketch_parts.h -- what the two spans of a sketched rig share: see sketch.h.
 *
 * Everything lies in the upright plane of the wind: along it, and down. Pure; no allocation.
 */
#ifndef BAITFALL_TACKLE_SKETCH_PARTS_H
#define BAITFALL_TACKLE_SKETCH_PARTS_H

#include "core/tackle/close.h"
#include "core/tackle/cylinder.h"
#include "core/tackle/rigging.h"

/* A force or a place in the plane; pull_n is the pull of what is above on what is below, as in cable.h. */
typedef struct bfi_plane {
    double along, down;
} bfi_plane;

/* A stretch of the water span, from where the one below ends, and the shot at its upper end. */
typedef struct bfi_stretch {
    double end_m; /* of line above the hook */
    const bfi_felt *felt;
    double weight_n_m, per_n; /* of a metre; how much a newton stretches it */
    bfi_plane load_n_m;       /* weight and drag of a metre                 */
    bfi_plane shot_n;
} bfi_stretch;

#define BFI_MOST_STRETCHES (BFI_MOST_LOADS + 64)
#define BFI_MOST_SKINS 40 /* below so many nothing is left of the skin */
#define BFI_STEM_SLICES 2
#define BFI_BODY_SLICES 5

/* How closely the tip is met: where about, or there. */
typedef enum bfi_care { BFI_COARSE, BFI_FINE } bfi_care;

/* A rig as it hangs in a sketch. */
typedef struct bfi_hung {
    const bfi_rigging *rigging;
    double cosine, sine;                     /* of the wind's way                         */
    double wind_per_e_m_s, per_roughness;    /* bf_wind_profile's; of a height below 0     */
    double skin_m_s, coef_m_s[4], per_depth; /* the current along it, as bf_current       */
    double slope;                            /* of the bottom along it                    */
    bfi_feeling air, sunk, line, hooklength; /* air span in air, in water; water span     */
    bfi_plane bait_n;                        /* what pulls on the bait                    */
    double body_skin[BFI_BODY_SLICES], stem_skin[BFI_STEM_SLICES];

    int n_stretches;
    bfi_stretch stretch[BFI_MOST_STRETCHES];

    /* The water span: what the bottom is and does, and what comes of it. */
    double bed_m, grip; /* grip: its push along the wind over its push up */
    bf_rig_contact contact;
    double lies_m, lying_n, up_n;     /* line and weight that lie, and what the bottom carries */
    double run_m, foot_z_m;           /* from bait to foot along the wind; the foot's depth    */
    bfi_plane foot_n, head_n, head_m; /* all that pulls below foot and head; head against foot */
    double raised_m;                  /* float above the surface                               */

    /* The air span. */
    bfi_slack slack;
    double per_stride;                      /* 1 over the number of strides */
    double slant, per_slant, along_per_gap; /* where to look next time: slant_gap in sketch_air.c */
    bfi_plane tip_m;                        /* tip against float */
    int is_lifted;
} bfi_hung;

/* Wind along its way at a height (z below 0), current along it at a depth, m/s. */
static inline double bfi_wind_along(const bfi_hung *s, double z_m) {
    double times = z_m * s->per_roughness;
    return times > 1 ? s->wind_per_e_m_s * quick_log(times) : 0;
}

double bfi_current_along(const bfi_hung *s, double z_m);

/* What is left at a depth of the surface's extra speed. */
static inline double bfi_skin_at(const bfi_hung *s, double z_m) {
    double skins = z_m / s->rigging->below.current.skin_m;
    return skins < BFI_MOST_SKINS ? quick_exp(-skins) : 0;
}

/* Drag of a round thing, N. */
double bfi_round_drag(const bfi_fluid *fluid, const bf_drag *law, double diameter_m, double flow_m_s);

static inline bfi_plane bfi_way_of(bfi_plane pull) {
    double per = 1 / (sqrt(pull.along * pull.along + pull.down * pull.down) + 1e-10);
    return (bfi_plane){per * pull.along, per * pull.down};
}

/* Adds the drag of a flow on a metre of line that runs along t, times `share`. */
static inline void bfi_add_drag(const bfi_stream *stream, const bfi_felt *felt, double flow_m_s, bfi_plane t,
                                double share, bfi_plane *load_n_m) {
    double along = flow_m_s * t.along, ahead = fabs(along), across = fabs(flow_m_s * t.down);
    double per_normal = 0, per_along = 0;
    if (across > STILL_M_S)
        per_normal = stream->is_fixed ? felt->fixed_kg_m2 * across : across_pa_s(felt, across);
    if (!stream->is_fixed && ahead > STILL_M_S)
        per_along = 2.0 * felt->half_pa_s * along_of(quick_log(felt->along_m_s / ahead));
    load_n_m->along += share * (per_normal * (flow_m_s - along * t.along) + per_along * along * t.along);
    load_n_m->down += share * (per_along - per_normal) * along * t.down;
}

/* sketch_water.c ------------------------------------------------------------------------------------------- */

/* Cuts the water span into stretches, and lets each feel the current as it hangs upright over the bottom. */
void bfi_stretch_water(bfi_hung *s);

/* Lets each feel it where and as it hung last. */
void bfi_feel_water(bfi_hung *s);

/* From the foot up to the head; returns how much too low that comes out. */
double bfi_climb_stretches(bfi_hung *s);

/* Hangs the water span over the bottom at bed_m, held by a grip. Returns BF_OK, or BF_E_MODEL_RANGE: bait lighter than water, or
 * all of the line lies. */
BF_CHECK bf_status bfi_hang_water(bfi_hung *s);

/* sketch_air.c --------------------------------------------------------------------------------------------- */

/* What of the surface's skin reaches down the float's body and stem. */
void bfi_know_float(bfi_hung *s);

/* Up from the float, whose line pulls with pull_n, to the tip. Returns its place against the float. */
bfi_plane bfi_stride_to_tip(const bfi_hung *s, bfi_plane pull_n);

/* All that the line from the tip can lift, N: the whole rig with its float. */
double bfi_whole_lift_n(const bfi_hung *s);

/* Strides for a care. */
void bfi_take_care(bfi_hung *s, bfi_care care);

/* Hangs the air span between the head and the tip; is_lifted: it would have to lift the float. */
BF_CHECK bf_status bfi_hang_air(bfi_hung *s, bfi_care care);

/* 1: a millimetre of height moves the float by more than BFI_TOUCHY of them. */
#define BFI_TOUCHY 1.5
static inline int bfi_is_touchy(const bfi_hung *s) {
    return fabs(s->along_per_gap) >= BFI_TOUCHY;
}

/* How much too high the tip is when the line lifts the whole rig. */
double bfi_lifted_gap(bfi_hung *s);

#endif
