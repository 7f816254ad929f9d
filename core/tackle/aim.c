/* aim.c -- see aim.h. One drop after one put-in: where the feed comes to lie, where the bait hangs, how far apart. */
#include "baitfall/aim.h"

#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"
#include "baitfall/random.h"
#include "baitfall/spread.h"
#include "core/tackle/hang.h"

/* The model's own random numbers: which way the tip sways, and the wander of the pieces that are passed on. */
enum { STREAM_SWAY = BF_STREAM_MODEL + 512, STREAM_PIECE_X, STREAM_PIECE_Y };

static uint64_t index_of(const bf_draw *draw) {
    return draw->is_nominal ? BF_DRAWS_MOST : draw->index;
}

/* Slips ---------------------------------------------------------------------------------------------------- */

/* Along the pole and across it to the right, turned into out from the bank and to the right. */
static void turn(const bf_spot *spot, double along_m, double across_m, double place_m[2]) {
    double out = spot->distance_m.value, right = spot->side_m.value, length = bf_hypot(out, right);
    double cosine = length > 0 ? out / length : 1, sine = length > 0 ? right / length : 0;
    place_m[0] = cosine * along_m - sine * across_m;
    place_m[1] = sine * along_m + cosine * across_m;
}

/* How far to the right a pole's tip is when its line and its marker are so far off. A pole of length L to a marker at M
 * follows the marker's own movement by L / M. */
static double across_m(const bf_stand *stand, double bearing_deg, double marker_moves_m) {
    double length = bf_hypot(stand->scene.spot.distance_m.value, stand->scene.spot.side_m.value);
    double marker = stand->aim.marker_m;
    double follows = marker == marker ? length / marker : 0; /* NaN: none that moves */
    return length * bf_tan(bearing_deg * BF_RAD_PER_DEG) + follows * marker_moves_m;
}

int bfi_is_by_pot(const bf_stand *stand) {
    return stand->scene.put.how == BF_CLUMP || stand->scene.put.how == BF_SPRINKLE;
}

/* Where the feed is let go against where it was meant to: the pole's slips, and by pot what the lean leaves of its place
 * behind the tip. A catapult has its own scatter of distance; it is only pointed wrong. */
void bfi_release_place(const bf_stand *stand, double place_m[2]) {
    const bf_feeding *slip = &stand->aim.feeding;
    double along = stand->scene.put.how == BF_THROW ? 0 : slip->ship_m.value;
    if (bfi_is_by_pot(stand)) along += stand->aim.pot_comp_m - stand->scene.pot.behind_tip_m.value;
    turn(&stand->scene.spot, along, across_m(stand, slip->bearing_deg.value, slip->marker_moves_m.value),
         place_m);
}

/* Where the tip is held while fishing. It sways by steady_m, whichever way. */
void bfi_tip_place(const bf_stand *stand, const bf_draw *draw, double place_m[2]) {
    const bf_aim *aim = &stand->aim;
    double way = BF_PI * bf_uniform(draw->seed, STREAM_SWAY, index_of(draw)), sway = aim->steady_m.value;
    turn(&stand->scene.spot, aim->ship_m.value + sway * bf_cos(way),
         across_m(stand, aim->bearing_deg.value, aim->marker_moves_m.value) + sway * bf_sin(way), place_m);
}

/* Bed and bait --------------------------------------------------------------------------------------------- */

static bf_status lay_bed(const bf_stand *stand, const bf_draw *draw, bf_pile *pile) {
    bf_scene scene = stand->scene;
    double place_m[2];
    bfi_release_place(stand, place_m);
    scene.put.offset_out_m.value += place_m[0];
    scene.put.offset_side_m.value += place_m[1];
    return bf_spread_pile(&scene, draw, BF_AIM_PIECES, pile);
}

static bf_status hang_bait(const bf_aiming *aiming, const bf_draw *draw, double bait_m[2]) {
    double tip_m[2];
    bf_status status = BF_OK;
    if (aiming->fit.n == 0 || draw->is_nominal)
        status = bfi_hang_solved(&aiming->stand, bait_m);
    else
        bfi_hang_fitted(&aiming->fit, &aiming->stand, bait_m);
    bfi_tip_place(&aiming->stand, draw, tip_m);
    bait_m[0] += tip_m[0];
    bait_m[1] += tip_m[1];
    return status;
}

/* The middle of a pile is the median along each axis, as in spread.h. */
static double middle_of(const double *at_m, int n) {
    double sorted[BF_AIM_PIECES];
    memcpy(sorted, at_m, (size_t)n * sizeof sorted[0]);
    bf_sort(sorted, (size_t)n);
    return bf_quantile_sorted(sorted, (size_t)n, 0.5);
}

/* The chance that at least one piece lies within radius_m of the bait. Of `pieces` only n are followed: each of those
 * stands for pieces / n like it. */
static double chance_within(const bf_pile *pile, const double bait_m[2], double radius_m) {
    double none = 1;
    for (int i = 0; i < pile->n; i++) {
        double off_m = bf_hypot(pile->x_m[i] - bait_m[0], pile->y_m[i] - bait_m[1]);
        none *= 1 - bf_wander_within(off_m, pile->wander_m[i], radius_m);
    }
    return 1 - bf_pow(none, pile->pieces / pile->n);
}

/* A few pieces where they do come to lie, for a drawing. */
static void write_pieces(const bf_pile *pile, const bf_draw *draw, double *raw) {
    for (int i = 0; i < BF_AIM_RAW_PIECES && i < pile->n; i++) {
        uint64_t index = index_of(draw) * BF_AIM_RAW_PIECES + (uint64_t)i;
        raw[2 * i] = pile->x_m[i] + pile->wander_m[i] * bf_normal(draw->seed, STREAM_PIECE_X, index);
        raw[2 * i + 1] = pile->y_m[i] + pile->wander_m[i] * bf_normal(draw->seed, STREAM_PIECE_Y, index);
    }
}

#define OUT(member, dimension, least, help)                                                                  \
    BF_R(bf_aim_out, member, dimension, least, BF_INFINITY, BF_NAN, help)

static const bf_field aim_out_fields[] = {
    OUT(miss_m, BF_LENGTH, 0, "from the middle of the put-in's pile to the hook bait"),
    OUT(out_m, BF_LENGTH, -BF_INFINITY, "the bait lies this much further out than the middle of the pile"),
    OUT(right_m, BF_LENGTH, -BF_INFINITY, "and this much to the right of it"),
    OUT(on_frac, BF_PURE, 0, "chance that a piece lies within 5 cm of the bait"),
    OUT(within10_frac, BF_PURE, 0, "chance that a piece lies within 10 cm of it"),
    OUT(within15_frac, BF_PURE, 0, "chance that a piece lies within 15 cm of it"),
};

const bf_table bf_aim_out_table = BF_TABLE("aim", bf_aim_out, aim_out_fields);

#define N_OUT ((int)(sizeof aim_out_fields / sizeof aim_out_fields[0]))
enum { BAIT = N_OUT, MIDDLE = BAIT + 2, SOME_PIECES = MIDDLE + 2 }; /* raw, for a drawing */

/* One put-in and one drop over it. */
typedef struct drop {
    bf_pile pile;
    double bait_m[2], middle_m[2];
} drop;

/* Returns as bf_aim_model; without a piece pile.n is 0. */
static bf_status drop_over(const bf_aiming *aiming, const bf_draw *draw, drop *d) {
    bf_status status = hang_bait(aiming, draw, d->bait_m);
    if (status) return status;
    status = lay_bed(&aiming->stand, draw, &d->pile);
    if (status) return status;
    if (d->pile.n == 0) return draw->is_nominal ? BF_E_MODEL_RANGE : BF_OK;
    d->middle_m[0] = middle_of(d->pile.x_m, d->pile.n);
    d->middle_m[1] = middle_of(d->pile.y_m, d->pile.n);
    return BF_OK;
}

bf_status bfi_miss_model(const void *aiming, const bf_draw *draw, double *miss_m) {
    drop d;
    *miss_m = BF_NAN;
    bf_status status = drop_over(aiming, draw, &d);
    if (!status && d.pile.n > 0) *miss_m = bf_hypot(d.bait_m[0] - d.middle_m[0], d.bait_m[1] - d.middle_m[1]);
    return status;
}

bf_status bfi_bait_model(const void *aiming, const bf_draw *draw, double *bait_m) {
    return hang_bait(aiming, draw, bait_m);
}

const double *bfi_middle_of_row(const double *row) {
    return row + MIDDLE;
}

bf_status bf_aim_model(const void *aiming, const bf_draw *draw, double *out) {
    drop d;
    for (int i = 0; i < BF_AIM_ROW; i++) out[i] = BF_NAN;
    bf_status status = drop_over(aiming, draw, &d);
    if (status || d.pile.n == 0) return status;

    bf_aim_out answer = {.out_m = d.bait_m[0] - d.middle_m[0],
                         .right_m = d.bait_m[1] - d.middle_m[1],
                         .on_frac = chance_within(&d.pile, d.bait_m, 0.05),
                         .within10_frac = chance_within(&d.pile, d.bait_m, 0.10),
                         .within15_frac = chance_within(&d.pile, d.bait_m, 0.15)};
    answer.miss_m = bf_hypot(answer.out_m, answer.right_m);
    memcpy(out, &answer, sizeof answer);
    memcpy(out + BAIT, d.bait_m, sizeof d.bait_m);
    memcpy(out + MIDDLE, d.middle_m, sizeof d.middle_m);
    write_pieces(&d.pile, draw, out + SOME_PIECES);
    return BF_OK;
}

/* A request ------------------------------------------------------------------------------------------------ */

void bf_aim_bare(const bf_stand *settled, bf_aiming *aiming) {
    *aiming = (bf_aiming){.stand = *settled};
}

bf_status bf_aim_prepare(const bf_stand *settled, bf_aiming *aiming) {
    bf_aim_bare(settled, aiming);
    return bfi_hang_fit(settled, BF_AIM_SOLVES, &aiming->fit);
}

void bf_aim_solve(const bf_stand *settled, int i, bf_aim_solved *solved) {
    bfi_hang_solve(settled, i, solved);
}

bf_status bf_aim_prepare_from(const bf_stand *settled, const bf_aim_solved solved[BF_AIM_SOLVES],
                              bf_aiming *aiming) {
    bf_aim_bare(settled, aiming);
    return bfi_hang_fit_of(settled, solved, BF_AIM_SOLVES, &aiming->fit);
}

bf_ensemble bf_aim_ensemble(const bf_aiming *aiming, uint64_t seed, int n_draws) {
    return (bf_ensemble){&bf_aim_schema, aiming, bf_aim_model, N_OUT, BF_AIM_RAW, seed, n_draws};
}

void bf_aim_chance_of(const double *rows, int n_rows, bf_aim_chance *chance) {
    double on = 0, within10 = 0, within15 = 0, n = 0;
    for (int k = 0; k < n_rows; k++, rows += BF_AIM_ROW) {
        bf_aim_out row;
        memcpy(&row, rows, sizeof row);
        if (row.on_frac != row.on_frac) continue;
        on += row.on_frac;
        within10 += row.within10_frac;
        within15 += row.within15_frac;
        n += 1;
    }
    *chance =
        n > 0 ? (bf_aim_chance){on / n, within10 / n, within15 / n} : (bf_aim_chance){BF_NAN, BF_NAN, BF_NAN};
}

/* Where the fit of the hang is right to less than this it is not worth a warning; the header promises it on most stands. */
#define FIT_GOOD_M 0.003

/* From here on a bait is clearly off the bed: common practice, no source. */
#define CLEARLY_OFF_M 0.15

static int fit_notes(const bf_aim_fit *fit, bf_note *notes) {
    int n = 0;
    if (fit->n == 0) return 0;
    if (fit->error_m > FIT_GOOD_M)
        notes[n++] = (bf_note){BF_NOTE_AIM_FIT_ROUGH, {fit->error_m, 0, 0}};
    else
        notes[n++] = (bf_note){BF_NOTE_AIM_FIT, {fit->n, fit->error_m, 0}};
    if (fit->n_failed > 0)
        notes[n++] = (bf_note){BF_NOTE_AIM_NO_BALANCE, {fit->n_failed, fit->n + fit->n_failed, 0}};
    return n;
}

int bf_aim_notes(const void *record, const bf_ensemble_result *result, bf_note notes[BF_MOST_NOTES]) {
    const bf_aiming *aiming = record;
    const bf_scene *scene = &aiming->stand.scene;
    double half_miss_m = result->range[0].mid;
    int n = 0;
    notes[n++] = (bf_note){BF_NOTE_ESTIMATE, {0, 0, 0}};
    notes[n++] = (bf_note){BF_NOTE_POWER_LINES, {0, 0, 0}};
    if (half_miss_m >= CLEARLY_OFF_M) notes[n++] = (bf_note){BF_NOTE_AIM_CLEARLY_OFF, {half_miss_m, 0, 0}};
    n += fit_notes(&aiming->fit, notes + n);
    n += bf_wind_notes(&scene->lake, scene->spot.depth_m.value, notes + n);
    if (scene->lake.wind_side_deg.is_unknown) notes[n++] = (bf_note){BF_NOTE_WIND_SIDE, {0, 0, 0}};
    if (scene->put.how == BF_THROW) notes[n++] = (bf_note){BF_NOTE_MEASURE_THROW, {0, 0, 0}};
    notes[n++] = (bf_note){BF_NOTE_AIM_FOLLOWS, {0, 0, 0}};
    notes[n++] = (bf_note){BF_NOTE_AIM_ONE_PUT_IN, {0, 0, 0}};
    return n + bf_bait_notes(&scene->bait, notes + n);
}
