#include "baitfall/pot.h"

#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"

static const bf_field pot_out_fields[] = {
    BF_R(bf_pot_out, pieces, BF_PURE, 0, 1e9, BF_NAN, "pieces that go out with one filling"),
    BF_R(bf_pot_out, mass_kg, BF_MASS, 0, 1e3, BF_NAN, "their mass"),
    BF_R(bf_pot_out, volume_m3, BF_VOLUME, 0, 1, BF_NAN, "struck-level volume of the pot as understood"),
    BF_R(bf_pot_out, voidage_frac, BF_PURE, 0, 1, BF_NAN, "part of the filling between the pieces"),
};
const bf_table bf_pot_out_table = BF_TABLE("pot_out", bf_pot_out, pot_out_fields);

/* Packing ------------------------------------------------------------------------------------------------ */

static double dixon_sphere(double x) {
    if (x <= 0.5) return 0.4 + 0.05 * x + 0.412 * x * x;
    if (x <= 0.536) return 0.528 + 2.464 * (x - 0.5);
    return x <= 1 ? 1 - 2.0 / 3 * x * x * x / sqrt(2 * x - 1) : 1;
}

static double dixon_cylinder(double x) {
    if (x <= 0.6) return 0.36 + 0.10 * x + 0.7 * x * x;
    if (x <= 0.7) return 0.677 - 9 * (x - 0.625) * (x - 0.625);
    return x <= 1.1447 ? 1 - 0.763 * x * x : 1;
}

static double benyahia(double far_from_walls, double wall, double shift, double x) {
    return far_from_walls + wall / ((1 / x + shift) * (1 / x + shift));
}

double bf_pot_voidage(int form, double sphericity, double piece_over_tube, double law) {
    double x = piece_over_tube, dixon, oneill;
    switch (form) {
    case BF_SPHERE:
    case BF_BALL:
        dixon = dixon_sphere(x);
        oneill = benyahia(0.390, 1.740, 1.140, x);
        break;
    case BF_CYLINDER:
        dixon = dixon_cylinder(x);
        oneill = benyahia(0.373, 1.703, 0.611, x);
        break;
    default: return x <= 1 ? benyahia(0.1504 + 0.2024 / sphericity, 1.0814, 0.1226, x) : 1;
    }
    return x > 0.5 ? dixon : dixon + law * (oneill - dixon);
}

/* Filling ------------------------------------------------------------------------------------------------ */

/* Volume of one piece, averaged over the bag, and the voidage of a pot full of them. */
typedef struct filling {
    double piece_m3, voidage_frac;
} filling;

static filling filling_of(const bf_bait *bait, const bf_pot *pot) {
    double diameter_m = bait->diameter_m.value, length_m = bait->length_m.value;
    double scatter = bait->size_scatter_frac;
    double tube = bf_piece_equivalent_m(bait->form, diameter_m, length_m) / pot->mouth_m.value;
    filling of = {bf_piece_volume_m3(bait->form, diameter_m, length_m) * (1 + 3 * scatter * scatter),
                  bf_pot_voidage(bait->form, bf_piece_sphericity(bait->form, diameter_m, length_m), tube,
                                 pot->wall_law.value)};
    return of;
}

/* The highest heap that stands on the mouth, over the volume below it. */
static double heap_frac(const bf_bait *bait, const bf_pot *pot, double volume_m3) {
    double mouth_m = pot->mouth_m.value;
    return BF_PI / 24 * mouth_m * mouth_m * mouth_m * bf_tan(bait->repose_deg.value * BF_RAD_PER_DEG) /
           volume_m3;
}

bf_status bf_pot_holds(const bf_bait *bait, const bf_pot *pot, const bf_counted *counted, bf_pot_out *out) {
    out->pieces = out->mass_kg = out->volume_m3 = out->voidage_frac = BF_NAN;

    double volume_m3 = pot->volume_m3.value;
    if (counted->count.value > 0) {
        filling level = filling_of(counted->is_bait_asked ? bait : &counted->bait, pot);
        if (level.voidage_frac >= 1) return BF_E_MODEL_RANGE;
        volume_m3 =
            counted->count.value * level.piece_m3 / (pot->settled_frac.value * (1 - level.voidage_frac));
    }

    filling of = filling_of(bait, pot);
    double fill = pot->fill_frac.value, most = 1 + heap_frac(bait, pot, volume_m3);
    if (fill > most) fill = most;

    out->volume_m3 = volume_m3;
    out->voidage_frac = of.voidage_frac;
    out->pieces = pot->settled_frac.value * (1 - of.voidage_frac) * fill * volume_m3 / of.piece_m3;
    out->mass_kg = out->pieces * of.piece_m3 * bait->density_kg_m3.value;
    return BF_OK;
}

bf_status bf_pot_model(const void *scene, const bf_draw *draw, double *out) {
    const bf_scene *of = scene;
    bf_pot_out holds;
    (void)draw;
    bf_status status = bf_pot_holds(&of->bait, &of->pot, &of->counted, &holds);
    memcpy(out, &holds, sizeof holds);
    return status;
}

/* Notes -------------------------------------------------------------------------------------------------- */

/* Common practice, no source: a pot that holds about 400 soaked 2 mm pieces holds 25 to 30 of 6 mm. */
#define PRACTICE_COUNTED 400.0
#define PRACTICE_LEAST 25.0
#define PRACTICE_MOST 30.0

/* Give or take over value, below which a pot's volume or a piece's size needs no measuring (judgement). */
#define WELL_KNOWN 0.05

static int is_micro(const bf_bait *bait) {
    return bait->diameter_m.value < 0.003;
}

static int is_six_mm(const bf_bait *bait) {
    return bait->diameter_m.value > 0.0055 && bait->diameter_m.value < 0.0075;
}

int bf_pot_notes(const void *record, const bf_ensemble_result *result, bf_note *notes) {
    const bf_scene *scene = record;
    const bf_bait *bait = &scene->bait;
    const bf_pot *pot = &scene->pot;
    double counted = scene->counted.count.value;
    int n = 0;

    double size_m = bf_piece_equivalent_m(bait->form, bait->diameter_m.value, bait->length_m.value);

    notes[n++] = (bf_note){BF_NOTE_ESTIMATE, {0}};
    notes[n++] = (bf_note){BF_NOTE_POWER_LINES, {0}}; /* a pot goes out on a pole */
    if (result->range[0].mid == 0) {
        notes[n++] = (bf_note){BF_NOTE_POT_TOO_NARROW, {size_m, pot->mouth_m.value}};
        return n;
    }
    int is_known = !pot->volume_m3.is_unknown && pot->volume_m3.pm <= WELL_KNOWN * pot->volume_m3.value;
    if (counted <= 0 && !is_known) notes[n++] = (bf_note){BF_NOTE_POT_NOT_COUNTED, {0}};
    if (counted > 0 && is_micro(&scene->counted.bait) && is_six_mm(bait))
        notes[n++] = (bf_note){BF_NOTE_POT_PRACTICE,
                               {PRACTICE_LEAST * counted / PRACTICE_COUNTED,
                                PRACTICE_MOST * counted / PRACTICE_COUNTED, result->range[0].mid}};
    if (bait->kind == BF_PELLET && bait->diameter_m.pm > WELL_KNOWN * bait->diameter_m.value)
        notes[n++] = (bf_note){BF_NOTE_LABEL_SIZES, {0}};
    if (pot->mouth_m.value < 2 * size_m)
        notes[n++] = (bf_note){BF_NOTE_POT_NARROW, {pot->mouth_m.value / size_m}};
    double heap = heap_frac(bait, pot, result->range[2].nominal);
    if (pot->fill_frac.value > 1 + heap) notes[n++] = (bf_note){BF_NOTE_POT_HEAP, {1 + heap}};
    return n;
}
