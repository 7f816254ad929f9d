/* fall.c -- the fall command: how long pieces of a bait take to the bottom; see fall.h. */
#include "baitfall/fall.h"

#include "baitfall/elementary.h"
#include "baitfall/film.h"
#include "baitfall/special.h"
#include "core/feed/scatter.h"
#include "core/feed/terminal.h"

/* Pieces followed in one draw to find when one in ten, and nine in ten, are down. */
#define PIECES 32

static const bf_field fall_out_fields[] = {
    BF_R(bf_fall_out, time_s, BF_TIME, 0, BF_INFINITY, BF_NAN,
         "middle piece, surface to bottom, hanging on the film not counted"),
    BF_R(bf_fall_out, speed_m_s, BF_SPEED, 0, BF_INFINITY, BF_NAN, "its steady sinking speed"),
    BF_R(bf_fall_out, first_s, BF_TIME, 0, BF_INFINITY, BF_NAN, "one piece in ten is down by then"),
    BF_R(bf_fall_out, last_s, BF_TIME, 0, BF_INFINITY, BF_NAN, "nine pieces in ten are down by then"),
    BF_R(bf_fall_out, reynolds, BF_PURE, 0, BF_INFINITY, BF_NAN, "Reynolds number of the middle piece"),
};

const bf_table bf_fall_out_table = BF_TABLE("fall", bf_fall_out, fall_out_fields);

/* Times of n pieces dropped at the surface; infinite for one that does not land. */
static bf_status fall_times(const bf_scene *scene, const bf_piece *pieces, size_t n, double *time_s) {
    const bf_spot *spot = &scene->spot;
    bf_floor floor = {spot->depth_m.value, bf_tan(spot->slope_deg.value * BF_RAD_PER_DEG)};
    bf_entry rest[PIECES + 1] = {{0, 0, 0, 0, 0, 0}};
    bf_status each[PIECES + 1];
    bf_landing landing[PIECES + 1];
    bf_current current;
    bf_status status = bf_current_of(&scene->lake, spot->depth_m.value, &current);
    if (status) return status;
    bf_fall_land_many(pieces, rest, n, &current, &floor, each, landing);
    for (size_t i = 0; i < n; i++) {
        int lands = each[i] == BF_OK, never = each[i] == BF_E_MODEL_RANGE || each[i] == BF_E_NO_CONVERGE;
        if (!lands && !never) return each[i];
        time_s[i] = lands ? landing[i].time_s : BF_INFINITY;
    }
    return BF_OK;
}

static double finite_or_nan(double x) {
    return x - x == 0 ? x : BF_NAN;
}

bf_status bf_fall_model(const void *record, const bf_draw *draw, double *out) {
    const bf_scene *scene = record;
    bf_piece piece[PIECES + 1];
    double time_s[PIECES + 1];
    bfi_terminal terminal;
    for (int i = 0; i < 5; i++) out[i] = BF_NAN;

    /* The middle piece, then a handful out of the bag. */
    piece[PIECES] = bf_piece_of(&scene->bait, &scene->lake);
    for (int i = 0; i < PIECES; i++)
        piece[i] = bf_piece_other(&piece[PIECES], &scene->bait, bfi_scatter_normal(draw, BFI_PIECE_SIZE, i),
                                  bfi_scatter_normal(draw, BFI_PIECE_DENSITY, i));
    bf_status status = fall_times(scene, piece, PIECES + 1, time_s);
    if (status) return status;
    status = bfi_terminal_of(&piece[PIECES], &terminal);
    if (status && status != BF_E_MODEL_RANGE) return status;

    out[0] = finite_or_nan(time_s[PIECES]);
    out[1] = terminal.speed_m_s;
    bf_sort(time_s, PIECES);
    out[2] = finite_or_nan(bf_quantile_sorted(time_s, PIECES, 0.1));
    out[3] = finite_or_nan(bf_quantile_sorted(time_s, PIECES, 0.9));
    out[4] = terminal.reynolds;
    return BF_OK;
}

static int density_field(void) {
    int is_pm;
    return bf_field_find(&bf_bait_table, "density_kg_m3", 13, &is_pm);
}

/* The part of a bag that is lighter than water when the bait is as light as the low end of its range. */
static double afloat_at_worst(const bf_scene *scene) {
    const bf_field *field = &bf_bait_table.field[density_field()];
    bf_sampler density = bf_sampler_of(scene->bait.density_kg_m3, field->least, field->most,
                                       field->usual_least, field->usual_most);
    double too_light = bf_lake_density_kg_m3(&scene->lake) - bf_sampler_at(&density, 0.1);
    double scatter = scene->bait.density_scatter_kg_m3;
    if (scatter > 0) return bf_normal_cdf(too_light / scatter);
    return too_light >= 0 ? 1 : 0;
}

/* Whether the density of the bait explains more than half of an output's range. */
static int is_mostly_density(const bf_ensemble_result *result, int output) {
    for (int i = 0; i < result->n_inputs; i++)
        if (result->input[i].section == 0 && result->input[i].field == density_field())
            return result->share[output][i] > 0.5;
    return 0;
}

int bf_fall_notes(const void *record, const bf_ensemble_result *result, bf_note *notes) {
    const bf_scene *scene = record;
    const bf_range *time = &result->range[0];
    const bf_quantity *law_error = &scene->bait.drag_law_error; /* exact once a drop was timed */
    double law = bf_is_round(scene->bait.form) ? 0.06 : 0.10;
    double afloat = afloat_at_worst(scene);
    int n = 0, floats = time->nominal != time->nominal;
    notes[n++] = (bf_note){BF_NOTE_ESTIMATE, {0, 0, 0}};
    n += bf_bait_notes(&scene->bait, notes + n);
    if (floats) notes[n++] = (bf_note){BF_NOTE_FLOATS, {0, 0, 0}};
    if (!floats && afloat > BFI_WORTH_A_WORD) notes[n++] = (bf_note){BF_NOTE_AFLOAT, {afloat, 0, 0}};
    if (law_error->pm > 0 || law_error->is_unknown) notes[n++] = (bf_note){BF_NOTE_DRAG_LAWS, {law, 0, 0}};
    notes[n++] = (bf_note){BF_NOTE_ONE_PIECE, {0, 0, 0}};
    if (bf_film_may_hang(&scene->bait, &scene->lake)) notes[n++] = (bf_note){BF_NOTE_MAY_HANG, {0, 0, 0}};
    if (is_mostly_density(result, 0)) notes[n++] = (bf_note){BF_NOTE_TIME_A_DROP, {0, 0, 0}};
    if (scene->lake.temp_c.is_unknown) notes[n++] = (bf_note){BF_NOTE_TEMPERATURE, {0, 0, 0}};
    return n;
}
