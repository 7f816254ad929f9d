/* rig_model.c -- the rig command: how it hangs in the mean wind, what a gust does, and which part causes it. */
#include "baitfall/elementary.h"
#include "baitfall/pattern.h"
#include "baitfall/rig.h"
#include "core/tackle/rest.h"

/* A lift that a bite may be: 10 mg. */
#define LIFT_KG 1e-5

/* Water that moves along with a bobbing float, over its mass: 0 to 0.5 are taken (float.h). */
#define HEAVE_ADDED 0.25

static const bf_field rig_out_fields[] = {
    BF_R(bf_rig_out, out_m, BF_LENGTH, -BF_INFINITY, BF_INFINITY, BF_NAN,
         "hook bait against the point under the pole tip, outward"),
    BF_R(bf_rig_out, right_m, BF_LENGTH, -BF_INFINITY, BF_INFINITY, BF_NAN, "... to the right"),
    BF_R(bf_rig_out, off_m, BF_LENGTH, 0, BF_INFINITY, BF_NAN, "... how far off"),
    BF_R(bf_rig_out, above_bed_m, BF_LENGTH, 0, BF_INFINITY, BF_NAN, "hook bait above the bottom"),
    BF_R(bf_rig_out, float_off_m, BF_LENGTH, 0, BF_INFINITY, BF_NAN, "float off the point under the tip"),
    BF_R(bf_rig_out, bristle_m, BF_LENGTH, -BF_INFINITY, BF_INFINITY, BF_NAN,
         "bristle showing; below 0 it goes under, by so much; past its length the body shows"),
    BF_R(bf_rig_out, gust_m, BF_LENGTH, 0, BF_INFINITY, BF_NAN, "how far a gust moves the hook bait"),
    BF_R(bf_rig_out, tension_n, BF_FORCE, 0, BF_INFINITY, BF_NAN,
         "pull of the line under the float; 10 mN is the weight of 1 g"),
    BF_R(bf_rig_out, tip_n, BF_FORCE, 0, BF_INFINITY, BF_NAN, "pull of the line on the pole tip"),
    BF_R(bf_rig_out, steep_deg, BF_ANGLE, 0, 180, BF_NAN, "lean from float to hook bait, 0 upright"),
    BF_R(bf_rig_out, air_part_m, BF_LENGTH, -BF_INFINITY, BF_INFINITY, BF_NAN,
         "how much further off for the wind on the line above the float"),
    BF_R(bf_rig_out, float_part_m, BF_LENGTH, -BF_INFINITY, BF_INFINITY, BF_NAN,
         "... for wind and current on the float"),
    BF_R(bf_rig_out, water_line_part_m, BF_LENGTH, -BF_INFINITY, BF_INFINITY, BF_NAN,
         "... for the current on the line below it"),
    BF_R(bf_rig_out, shot_part_m, BF_LENGTH, -BF_INFINITY, BF_INFINITY, BF_NAN, "... on the shot"),
    BF_R(bf_rig_out, bait_part_m, BF_LENGTH, -BF_INFINITY, BF_INFINITY, BF_NAN, "... on the hook bait"),
    BF_R(bf_rig_out, bite_mm_per_10mg, BF_PURE, 0, BF_INFINITY, BF_NAN,
         "millimetres of bristle that 10 mg of lift bring up"),
    BF_R(bf_rig_out, heave_s, BF_TIME, 0, BF_INFINITY, BF_NAN, "time of one bob of the float"),
    BF_R(bf_rig_out, spare_n, BF_FORCE, -BF_INFINITY, BF_INFINITY, BF_NAN,
         "what the weakest knot holds less the pull of the elastic fully out"),
};
#define N_OUT ((int)(sizeof rig_out_fields / sizeof rig_out_fields[0]))

const bf_table bf_rig_out_table = BF_TABLE("rig", bf_rig_out, rig_out_fields);

static double off_of(const double at_m[2]) {
    return bf_hypot(at_m[0], at_m[1]);
}

/* What holds: by its tables a hooklength's and a main line's knot, whichever is weaker. */
static double spare_n(const bf_rig *rig) {
    double knot = bf_line_break_n(&rig->hooklength), line = bf_line_break_n(&rig->line);
    return (knot < line ? knot : line) - bf_elastic_pull_n(&rig->elastic, BF_ELASTIC_FULL_STRETCH);
}

static double bobbing_kg(const bf_rig *rig) {
    double sum = rig->flt.mass_kg;
    for (int i = 0; i < rig->n_shots; i++)
        sum += rig->shot[i].count * bf_shot_mass_kg(&rig->shot[i], rig->shot_error.value);
    return sum;
}

/* From where the bait rests in the mean wind. */
static bf_status gust_of(const bf_stand *stand, const double mean_m[2], double *gust_m) {
    bfi_rigging rigging;
    bfi_rest rest;
    bf_status status = bfi_rigging_of(stand, stand->hold.gust_frac.value, 0, &rigging);
    if (!status) status = bfi_rest_of(&rigging, mean_m, &rest);
    if (status) return status;
    *gust_m = bf_hypot(rest.bait_m[0] - mean_m[0], rest.bait_m[1] - mean_m[1]);
    return BF_OK;
}

/* What `off` would lose if a part felt neither wind nor current; NaN where the rig has no balance then. */
static double part_m(const bf_stand *stand, bf_rig_part part, double off_m) {
    bfi_rigging rigging;
    bfi_rest rest;
    bf_status status = bfi_rest_in(stand, 1, 1u << part, &rigging, &rest);
    return status ? BF_NAN : off_m - off_of(rest.bait_m);
}

bf_status bf_rig_model(const void *record, const bf_draw *draw, double *out) {
    const bf_stand *stand = record;
    const bf_rig *rig = &stand->rig;
    const bf_spot *spot = &stand->scene.spot;
    bf_rig_shape shape;
    bf_rig_out answer;
    for (int i = 0; i < N_OUT; i++) out[i] = BF_NAN;
    bf_status status = bf_rig_solve(stand, 1, 0, &shape);
    if (!status) status = gust_of(stand, shape.bait_m, &answer.gust_m);
    if (status) return status;

    double off = off_of(shape.bait_m), part[BF_RIG_N_PARTS];
    double water = bf_lake_density_kg_m3(&stand->scene.lake);
    double slope = bf_tan(spot->slope_deg.value * BF_RAD_PER_DEG);
    for (int i = 0; i < BF_RIG_N_PARTS; i++)
        part[i] = draw->is_nominal ? part_m(stand, (bf_rig_part)i, off) : BF_NAN;
    answer.out_m = shape.bait_m[0];
    answer.right_m = shape.bait_m[1];
    answer.off_m = off;
    answer.above_bed_m = spot->depth_m.value + slope * shape.bait_m[0] - shape.bait_m[2];
    answer.float_off_m = off_of(shape.float_m);
    answer.bristle_m = shape.bristle_m;
    answer.tension_n = shape.float_water_n;
    answer.tip_n = shape.tip_tension_n;
    answer.steep_deg = shape.steep_deg;
    answer.air_part_m = part[BF_PART_AIR_LINE];
    answer.float_part_m = part[BF_PART_FLOAT];
    answer.water_line_part_m = part[BF_PART_WATER_LINE];
    answer.shot_part_m = part[BF_PART_SHOT];
    answer.bait_part_m = part[BF_PART_BAIT];
    answer.bite_mm_per_10mg = 1e3 * LIFT_KG * BF_GRAVITY_M_S2 / bf_float_bristle_n_m(&rig->flt, water);
    answer.heave_s = bf_float_heave_s(&rig->flt, bobbing_kg(rig), HEAVE_ADDED, water);
    answer.spare_n = spare_n(rig);
    for (int i = 0; i < N_OUT; i++)
        out[i] = *(const double *)((const char *)&answer + rig_out_fields[i].offset);
    return BF_OK;
}

/* When more than the bristle shows: in the middle of the draws, or as given when there are none; or only at their high end. */
static int high_notes(const bf_rig *rig, const bf_ensemble_result *result, bf_note *notes) {
    const bf_range *shows = &result->range[offsetof(bf_rig_out, bristle_m) / sizeof(double)];
    double long_m = rig->flt.bristle_long_m, is_m = shows->mid == shows->mid ? shows->mid : shows->nominal;
    if (!(is_m > long_m || shows->hi > long_m)) return 0;
    *notes = (bf_note){is_m > long_m ? BF_NOTE_RIG_HIGH : BF_NOTE_RIG_MAY_RIDE_HIGH, {long_m, 0, 0}};
    return 1;
}

int bf_rig_notes(const void *record, const bf_ensemble_result *result, bf_note notes[BF_MOST_NOTES]) {
    const bf_stand *stand = record;
    double water = bf_lake_density_kg_m3(&stand->scene.lake);
    bf_rig_shape shape;
    int n = 0;
    notes[n++] = (bf_note){BF_NOTE_ESTIMATE, {0, 0, 0}};
    notes[n++] = (bf_note){BF_NOTE_POWER_LINES, {0, 0, 0}};
    notes[n++] = (bf_note){BF_NOTE_RIG_UNPROVED, {0, 0, 0}};
    if (bf_rig_solve(stand, 1, 0, &shape) == BF_OK) {
        if (shape.is_lifted) notes[n++] = (bf_note){BF_NOTE_RIG_LIFTED, {0, 0, 0}};
        n += high_notes(&stand->rig, result, notes + n);
        if (shape.bristle_m < 0) notes[n++] = (bf_note){BF_NOTE_RIG_UNDER, {-shape.bristle_m, 0, 0}};
        if (shape.contact == BF_HANGS)
            notes[n++] = (bf_note){BF_NOTE_RIG_HANGS, {0, 0, 0}};
        else if (shape.friction_used_frac >= 1)
            notes[n++] = (bf_note){BF_NOTE_RIG_DRAGGED, {off_of(shape.bait_m), 0, 0}};
    }
    n += bf_tackle_notes(&stand->rig, water, notes + n);
    n += bf_bait_notes(&stand->hook_bait, notes + n);
    if (stand->scene.lake.drift == BF_DRIFT_WIND && stand->scene.lake.wind_side_deg.is_unknown)
        notes[n++] = (bf_note){BF_NOTE_WIND_SIDE, {0, 0, 0}};
    n += bf_wind_notes(&stand->scene.lake, stand->scene.spot.depth_m.value, notes + n);
    return n;
}
