/* rig_model.c -- the rig command: how it hangs in the mean wind and in a gust, and without each of its parts. */
#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"
#include "baitfall/pattern.h"
#include "baitfall/rig.h"

#define OUT(member, dimension, help)                                                                         \
    BF_R(bf_rig_out, member, dimension, -BF_INFINITY, BF_INFINITY, BF_NAN, help)

static const bf_field rig_out_fields[] = {
    OUT(out_m, BF_LENGTH, "the hook bait against the point under the pole tip: outward"),
    OUT(right_m, BF_LENGTH, "... and to the right"),
    OUT(off_m, BF_LENGTH, "... and how far off"),
    OUT(above_bed_m, BF_LENGTH, "the hook bait above the bottom; 0: on it"),
    OUT(float_off_m, BF_LENGTH, "the float against the point under the pole tip"),
    OUT(bristle_m, BF_LENGTH, "how much of the bristle shows"),
    OUT(gust_m, BF_LENGTH, "how far a gust moves the hook bait"),
    OUT(tension_n, BF_FORCE, "pull of the line below the float"),
    OUT(tip_n, BF_FORCE, "pull of the line on the pole tip"),
    OUT(steep_deg, BF_ANGLE, "the rig below the float against the vertical; 0 is upright"),
    OUT(air_part_m, BF_LENGTH, "of how far off: what wind on the line from tip to float causes"),
    OUT(float_part_m, BF_LENGTH, "... what wind and drift on the float cause"),
    OUT(water_line_part_m, BF_LENGTH, "... what drift on the line below the float causes"),
    OUT(shot_part_m, BF_LENGTH, "... what drift on the shot causes"),
    OUT(bait_part_m, BF_LENGTH, "... what drift on the hook bait causes"),
    {"bite_mm_per_10mg", BF_REAL, offsetof(bf_rig_out, bite_mm_per_10mg), BF_PURE, 0, BF_INFINITY, BF_NAN, 0,
     0, 0, NULL, "millimetres of bristle for every 10 mg lifted: how a bite shows", 0},
    OUT(heave_s, BF_TIME, "one bob of the float up and down"),
    OUT(spare_n, BF_FORCE, "what the weakest link holds beyond the elastic's pull fully out"),
};
const bf_table bf_rig_out_table = BF_TABLE("rig", bf_rig_out, rig_out_fields);

static double off_of(const bf_rig_shape *shape) {
    return bf_hypot(shape->bait_m[0], shape->bait_m[1]);
}

/* What a part adds to how far off the bait is: less when the part would pull it back. NaN when there is no answer without. */
static double part_m(const bf_stand *stand, bf_rig_part part, double off_m) {
    bf_rig_shape shape;
    return bf_rig_solve(stand, 1, 1u << part, &shape) == BF_OK ? off_m - off_of(&shape) : BF_NAN;
}

static double gust_moves_m(const bf_stand *stand, const bf_rig_shape *mean) {
    bf_rig_shape gust;
    if (bf_rig_solve(stand, stand->hold.gust_frac.value, 0, &gust) != BF_OK) return BF_NAN;
    return bf_hypot(gust.bait_m[0] - mean->bait_m[0], gust.bait_m[1] - mean->bait_m[1]);
}

static double shot_kg(const bf_rig *rig) {
    double kg = 0;
    for (int i = 0; i < rig->n_shots; i++)
        kg += rig->shot[i].count * bf_shot_mass_kg(&rig->shot[i], rig->shot_error.value);
    return kg;
}

/* What is computed of the float and the strength chain alone. */
static bf_status fill_tackle(const bf_stand *stand, bf_rig_out *out) {
    const bf_rig *rig = &stand->rig;
    double water = bf_lake_density_kg_m3(&stand->scene.lake);
    bf_chain chain;
    out->bite_mm_per_10mg = 1e3 * 1e-5 * BF_GRAVITY_M_S2 / bf_float_bristle_n_m(&rig->flt, water);
    out->heave_s = bf_float_heave_s(&rig->flt, rig->flt.mass_kg + shot_kg(rig), 0, water);
    bf_status status = bf_chain_of(&rig->hook, &rig->hooklength, &rig->line, &rig->elastic, &chain);
    out->spare_n = status ? BF_NAN : chain.spare_n.nominal;
    return status;
}

bf_status bf_rig_model(const void *record, const bf_draw *draw, double *columns) {
    const bf_stand *stand = record;
    bf_rig_shape shape;
    bf_rig_out out;
    (void)draw;
    for (size_t i = 0; i < sizeof out / sizeof(double); i++) columns[i] = BF_NAN;
    bf_status status = bf_rig_solve(stand, 1, 0, &shape);
    if (!status) status = fill_tackle(stand, &out);
    if (status) return status;
    const bf_spot *spot = &stand->scene.spot;
    double slope = bf_tan(spot->slope_deg.value * BF_RAD_PER_DEG);
    out.out_m = shape.bait_m[0];
    out.right_m = shape.bait_m[1];
    out.off_m = off_of(&shape);
    out.above_bed_m =
        shape.contact == BF_HANGS ? spot->depth_m.value + slope * shape.bait_m[0] - shape.bait_m[2] : 0;
    out.float_off_m = bf_hypot(shape.float_m[0], shape.float_m[1]);
    out.bristle_m = shape.bristle_m;
    out.gust_m = gust_moves_m(stand, &shape);
    out.tension_n = shape.float_water_n;
    out.tip_n = shape.tip_tension_n;
    out.steep_deg = shape.steep_deg;
    out.air_part_m = part_m(stand, BF_PART_AIR_LINE, out.off_m);
    out.float_part_m = part_m(stand, BF_PART_FLOAT, out.off_m);
    out.water_line_part_m = part_m(stand, BF_PART_WATER_LINE, out.off_m);
    out.shot_part_m = part_m(stand, BF_PART_SHOT, out.off_m);
    out.bait_part_m = part_m(stand, BF_PART_BAIT, out.off_m);
    memcpy(columns, &out, sizeof out);
    return BF_OK;
}

int bf_rig_notes(const void *record, const bf_ensemble_result *result, bf_note notes[BF_MOST_NOTES]) {
    const bf_stand *stand = record;
    const bf_scene *scene = &stand->scene;
    int n = 0;
    (void)result;
    notes[n++] = (bf_note){BF_NOTE_ESTIMATE, {0, 0, 0}};
    notes[n++] = (bf_note){BF_NOTE_POWER_LINES, {0, 0, 0}};
    n += bf_tackle_notes(&stand->rig, bf_lake_density_kg_m3(&scene->lake), notes + n);
    return n + bf_wind_notes(&scene->lake, scene->spot.depth_m.value, notes + n);
}
