/* sketch_parts.h -- what the two spans of a sketched rig share: see sketch.h.
 *
 * Axes: outward, right, down. Pure; no allocation.
 */
#ifndef BAITFALL_TACKLE_SKETCH_PARTS_H
#define BAITFALL_TACKLE_SKETCH_PARTS_H

#include "core/tackle/close.h"
#include "core/tackle/cylinder.h"
#include "core/tackle/rigging.h"

/* A force or a place; pull_n is the pull of what is above on what is below, as in cable.h. */
typedef struct bfi_vector {
    double out, right, down;
} bfi_vector;

/* A way, a grip or a place that is level. */
typedef struct bfi_level {
    double out, right;
} bfi_level;

static inline double bfi_size(bfi_level of) {
    return sqrt(of.out * of.out + of.right * of.right);
}

/* A stretch of the water span, from where the one below ends, and the shot at its upper end. */
typedef struct bfi_stretch {
    double end_m; /* of line above the hook */
    const bfi_felt *felt;
    double weight_n_m, per_n; /* of a metre; how much a newton stretches it */
    bfi_vector load_n_m;      /* weight and drag of a metre                 */
    bfi_vector shot_n;
} bfi_stretch;

#define BFI_MOST_STRETCHES (BFI_MOST_LOADS + 64)
#define BFI_MOST_SKINS 40 /* below so many nothing is left of the skin */
#define BFI_STEM_SLICES 2
#define BFI_BODY_SLICES 5

/* How closely the tip is met: where about, there, or there in many strides if it is touchy. */
typedef enum bfi_care { BFI_COARSE, BFI_FINE, BFI_FINEST } bfi_care;

/* A rig as it hangs in a sketch. */
typedef struct bfi_hung {
    const bfi_rigging *rigging;
    bfi_level wind_way, current_way;         /* one wind, one current: each along one line */
    int crosses;                             /* 1: along another than the other           */
    double wind_per_e_m_s, per_roughness;    /* bf_wind_profile's; of a height below 0     */
    double skin_m_s, coef_m_s[4], per_depth; /* the current along its way, as bf_current   */
    bfi_feeling air, sunk, line, hooklength; /* air span in air, in water; water span     */
    bfi_vector bait_n;                       /* what pulls on the bait                    */
    double body_skin[BFI_BODY_SLICES], stem_skin[BFI_STEM_SLICES];

    int n_stretches;
    bfi_stretch stretch[BFI_MOST_STRETCHES];

    /* The water span: what the bottom is and does, and what comes of it. */
    double bed_m;
    bfi_level grip; /* its push sideways over its push up */
    bf_rig_contact contact;
    double lies_m, lying_n, up_n; /* line and weight that lie, and what the bottom carries */
    bfi_level run_m;              /* from bait to foot along the bottom                      */
    double foot_z_m;
    bfi_vector foot_n, head_n, head_m; /* all that pulls below foot and head; head against foot */
    double raised_m;                   /* float above the surface                               */

    /* The air span. */
    bfi_slack slack;
    double per_stride;       /* 1 over the number of strides */
    double slant, per_slant; /* where to look next time: slant_gap in sketch_air.c */
    bfi_known afloat;        /* ... and how much line floats */
    bfi_level tip_per_gap;
    bfi_vector tip_m; /* tip against float */
    double down_n;    /* what pulls the float down */
    int is_lifted;
} bfi_hung;

/* Speed of the wind along its way at a height (z below 0), of the current along its own at a depth, m/s. */
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

/* Drag of a round thing along the flow, N. */
double bfi_round_drag(const bfi_fluid *fluid, const bf_drag *law, double diameter_m, double flow_m_s);

static inline double bfi_square(bfi_vector of) {
    return of.out * of.out + of.right * of.right + of.down * of.down;
}

static inline bfi_vector bfi_way_of(bfi_vector pull) {
    double per = 1 / (sqrt(bfi_square(pull)) + 1e-10);
    return (bfi_vector){per * pull.out, per * pull.right, per * pull.down};
}

/* Adds `times` a vector, and a force along a level way. */
static inline void bfi_add(bfi_vector *to, double times, bfi_vector of) {
    to->out += times * of.out;
    to->right += times * of.right;
    to->down += times * of.down;
}

static inline void bfi_add_along(bfi_vector *to, double force, bfi_level way) {
    to->out += force * way.out;
    to->right += force * way.right;
}

/* Adds the drag of a flow along a way on a metre of line that runs along t, times `share`: as add_drag in cable.c. */
static inline void bfi_add_drag(const bfi_stream *stream, const bfi_felt *felt, double flow_m_s,
                                bfi_level way, bfi_vector t, double share, bfi_vector *load_n_m) {
    double along = flow_m_s * (way.out * t.out + way.right * t.right), along2 = along * along;
    double across2 = flow_m_s * flow_m_s - along2, per_across = 0, per_along = 0;
    if (across2 > STILL_M_S * STILL_M_S)
        per_across = stream->is_fixed ? felt->fixed_kg_m2 * sqrt(across2)
                                      : felt->half_pa_s * drag_times_re(across2 * felt->re2_per_m2_s2);
    if (!stream->is_fixed && along2 > STILL_M_S * STILL_M_S)
        per_along = 2.0 * felt->half_pa_s * along_of(felt->log_along - 0.5 * quick_log(along2));
    bfi_add_along(load_n_m, share * per_across * flow_m_s, way);
    bfi_add(load_n_m, share * (per_along - per_across) * along, t);
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
bfi_vector bfi_stride_to_tip(const bfi_hung *s, bfi_vector pull_n);

/* All that the line from the tip can lift, N: the whole rig with its float. */
double bfi_whole_lift_n(const bfi_hung *s);

/* Strides for a care. */
void bfi_take_care(bfi_hung *s, bfi_care care);

/* How much too high the tip is when the line leaves the float at a slant; or when -less_m of a slack line floats. BF_E_MODEL_RANGE: it is
 * slack, or would lift the float; none floats, or all as far as a back shot. */
BF_CHECK bf_status bfi_stride_at(bfi_hung *s, double slant, double *gap_m);
BF_CHECK bf_status bfi_float_at(bfi_hung *s, double less_m, double *gap_m);

/* Hangs the air span between the head and the tip; is_lifted: it would have to lift the float. */
BF_CHECK bf_status bfi_hang_air(bfi_hung *s, bfi_care care);

/* 1: a millimetre of height moves the float by more than BFI_TOUCHY of them. */
#define BFI_TOUCHY 1.5
static inline int bfi_is_touchy(const bfi_hung *s) {
    return bfi_size(s->tip_per_gap) >= BFI_TOUCHY;
}

/* How much too high the tip is when the line lifts the whole rig. */
double bfi_lifted_gap(bfi_hung *s);

#endif
