/* aim_mend.c -- see aim.h: each slip mended alone, in the very same draws. */
#include <string.h>

#include "baitfall/aim.h"
#include "baitfall/elementary.h"
#include "baitfall/film.h"
#include "baitfall/pattern.h"
#include "core/base/room.h"
#include "core/tackle/hang.h"

const char *bf_mend_input(int kind) {
    static const char *const inputs[] = {
#define MEND_INPUT(name, input, sentence) input,
        BF_MEND_LIST(MEND_INPUT)
#undef MEND_INPUT
    };
    BF_ASSERT(kind >= 0 && kind < BF_N_MENDS);
    return inputs[kind];
}

const char *bf_mend_sentence(int kind) {
    static const char *const sentences[] = {
#define MEND_SENTENCE(name, input, sentence) sentence,
        BF_MEND_LIST(MEND_SENTENCE)
#undef MEND_SENTENCE
    };
    BF_ASSERT(kind >= 0 && kind < BF_N_MENDS);
    return sentences[kind];
}

/* What can be reached with care: judgement, no source. */
#define MARK_M 0.015
#define BEARING_DEG 0.15 /* 3 cm at 11.5 m */
#define POT_PLACE_M 0.005
#define PLUMB_M 0.01
#define STEADY_M 0.01
#define DRIFT_FRAC 0.25 /* of a speed */
#define DRIFT_DEG 15.0
#define TIP_TO_FLOAT_M 0.30
#define TIP_HEIGHT_M 0.15
#define TIP_HEIGHT_PM_M 0.05
#define BACK_SHOT_M 0.20
#define HEAVIER 1.4 /* the next float is at least so much heavier */

/* Solves for the fit of another rig: half as many, since it is only for one comparison. */
#define RIG_SOLVES (BF_AIM_SOLVES / 2)

/* One mending: what it does to the stand. */
typedef enum effect {
    NOTHING, /* there is nothing to mend                 */
    MENDED,  /* the rig hangs by the same fit            */
    RERIGGED /* ... by another, which is made            */
} effect;

/* Brings a give or take down to pm, the middle staying where it is. Returns 1 when it was more. */
static int narrow(bf_quantity *quantity, double pm) {
    if (!quantity->is_unknown && quantity->pm <= pm) return 0;
    *quantity = (bf_quantity){quantity->value, pm, 0};
    return 1;
}

/* Of a slip: no bias either. */
static int mend_slip(bf_quantity *slip, double pm) {
    int is_biased = slip->value != 0;
    slip->value = 0;
    return narrow(slip, pm) || is_biased;
}

static effect mended(int is_changed) {
    return is_changed ? MENDED : NOTHING;
}

/* The slips ------------------------------------------------------------------------------------------------ */

static effect mend_mark(bf_stand *stand, bf_mend *mend) {
    int fishing = mend_slip(&stand->aim.ship_m, MARK_M);
    int feeding = mend_slip(&stand->aim.feeding.ship_m, MARK_M);
    mend->number[0] = MARK_M;
    return mended(fishing || feeding);
}

static effect mend_bearing(bf_stand *stand, bf_mend *mend) {
    const bf_spot *spot = &stand->scene.spot;
    int fishing = mend_slip(&stand->aim.bearing_deg, BEARING_DEG);
    int feeding = mend_slip(&stand->aim.feeding.bearing_deg, BEARING_DEG);
    mend->number[0] =
        bf_hypot(spot->distance_m.value, spot->side_m.value) * bf_tan(BEARING_DEG * BF_RAD_PER_DEG);
    return mended(fishing || feeding);
}

static effect mend_marker(bf_stand *stand, bf_mend *mend) {
    int fishing = mend_slip(&stand->aim.marker_moves_m, 0);
    int feeding = mend_slip(&stand->aim.feeding.marker_moves_m, 0);
    (void)mend;
    return mended(stand->aim.marker_m == stand->aim.marker_m && (fishing || feeding));
}

static effect mend_lean(bf_stand *stand, bf_mend *mend) {
    double behind_m = stand->scene.pot.behind_tip_m.value, was_m = stand->aim.pot_comp_m;
    mend->number[0] = stand->aim.pot_comp_m = behind_m;
    return mended(bfi_is_by_pot(stand) && was_m != behind_m);
}

static effect mend_pot(bf_stand *stand, bf_mend *mend) {
    mend->number[0] = POT_PLACE_M;
    return mended(narrow(&stand->scene.pot.behind_tip_m, POT_PLACE_M) && bfi_is_by_pot(stand));
}

static effect mend_plumb(bf_stand *stand, bf_mend *mend) {
    int line = narrow(&stand->hold.overdepth_m, PLUMB_M);
    int depth = narrow(&stand->scene.spot.depth_m, PLUMB_M);
    mend->number[0] = PLUMB_M;
    return mended(line || depth);
}

static effect mend_steady(bf_stand *stand, bf_mend *mend) {
    mend->number[0] = STEADY_M;
    return mended(mend_slip(&stand->aim.steady_m, STEADY_M));
}

/* The water ------------------------------------------------------------------------------------------------ */

/* How far the bed's middle would miss the bait if the pole hit and everything were as given. */
static bf_status drift_of(const bf_stand *stand, double miss_m[2]) {
    bf_aiming bare;
    double row[BF_AIM_ROW];
    bf_aim_out out;
    bf_draw as_given = {0, 0, 1};
    bf_aim_bare(stand, &bare);
    bf_aim *aim = &bare.stand.aim;
    aim->ship_m.value = aim->bearing_deg.value = aim->marker_moves_m.value = aim->steady_m.value = 0;
    aim->feeding.ship_m.value = aim->feeding.bearing_deg.value = aim->feeding.marker_moves_m.value = 0;
    aim->pot_comp_m = stand->scene.pot.behind_tip_m.value;
    bf_status status = bf_aim_model(&bare, &as_given, row);
    memcpy(&out, row, sizeof out);
    miss_m[0] = out.out_m;
    miss_m[1] = out.right_m;
    return status;
}

/* Drift once watched is known better, and the feed is let go so far to its side that the bed comes down at the bait. */
static effect mend_drift(bf_stand *stand, bf_mend *mend) {
    bf_lake *lake = &stand->scene.lake;
    double miss_m[2];
    if (lake->drift == BF_DRIFT_STILL && lake->wind_m_s.value == 0) return NOTHING;
    narrow(&lake->wind_m_s, DRIFT_FRAC * lake->wind_m_s.value);
    narrow(&lake->wind_side_deg, DRIFT_DEG);
    if (lake->drift == BF_DRIFT_MEASURED) {
        narrow(&lake->surface_drift_m_s, DRIFT_FRAC * lake->surface_drift_m_s.value);
        narrow(&lake->undertow_m_s, DRIFT_FRAC * lake->undertow_m_s.value);
        narrow(&lake->drift_side_deg, DRIFT_DEG);
    }
    if (drift_of(stand, miss_m)) return NOTHING;
    stand->scene.put.offset_out_m.value += miss_m[0];
    stand->scene.put.offset_side_m.value += miss_m[1];
    mend->number[0] = bf_hypot(miss_m[0], miss_m[1]);
    return MENDED;
}

static effect mend_wet(bf_stand *stand, bf_mend *mend) {
    (void)mend;
    int may_hang = bf_film_may_hang(&stand->scene.bait, &stand->scene.lake);
    stand->scene.bait.state = BF_GLAZED;
    return mended(may_hang);
}

/* The rig -------------------------------------------------------------------------------------------------- */

static effect mend_back_shot(bf_stand *stand, bf_mend *mend) {
    bf_rig *rig = &stand->rig;
    if (rig->n_back_shots > 0 || rig->tip_to_float_m < 2 * BACK_SHOT_M) return NOTHING;
    rig->back_shot[0] = (bf_shot){bf_shot_size_find("No 10"), BF_NAN, BF_LEAD, 1, BACK_SHOT_M, 0};
    rig->n_back_shots = 1;
    mend->number[0] = BACK_SHOT_M;
    return RERIGGED;
}

static effect mend_short_line(bf_stand *stand, bf_mend *mend) {
    if (stand->rig.tip_to_float_m <= TIP_TO_FLOAT_M) return NOTHING;
    stand->rig.tip_to_float_m = TIP_TO_FLOAT_M;
    stand->hold.tip_height_m = (bf_quantity){TIP_HEIGHT_M, TIP_HEIGHT_PM_M, 0};
    mend->number[0] = TIP_TO_FLOAT_M;
    mend->number[1] = TIP_HEIGHT_M;
    return RERIGGED;
}

static effect mend_float(bf_stand *stand, bf_mend *mend) {
    double now_kg = stand->rig.flt.rating_kg, water_kg_m3 = bf_lake_density_kg_m3(&stand->scene.lake);
    double wet_m = stand->scene.spot.depth_m.value + stand->hold.overdepth_m.value;
    int i = 0;
    while (i < bf_n_floats && bf_floats[i].rating_kg < HEAVIER * now_kg) i++;
    if (i == bf_n_floats || !(wet_m > 0)) return NOTHING;
    stand->rig.flt = bf_float_settled(&bf_floats[i]);
    int metal = stand->rig.n_shots > 0 ? stand->rig.shot[0].metal : BF_LEAD;
    stand->rig.n_shots = bf_pattern_shot(&stand->rig, BF_PATTERN_BULK, metal, wet_m, water_kg_m3);
    mend->number[0] = bf_floats[i].rating_kg;
    return RERIGGED;
}

/* Tried ---------------------------------------------------------------------------------------------------- */

typedef effect mending(bf_stand *stand, bf_mend *mend);

static mending *const mendings[BF_N_MENDS] = {
    [BF_MEND_MARK] = mend_mark,
    [BF_MEND_BEARING] = mend_bearing,
    [BF_MEND_MARKER] = mend_marker,
    [BF_MEND_LEAN] = mend_lean,
    [BF_MEND_POT] = mend_pot,
    [BF_MEND_PLUMB] = mend_plumb,
    [BF_MEND_DRIFT] = mend_drift,
    [BF_MEND_STEADY] = mend_steady,
    [BF_MEND_WET] = mend_wet,
    [BF_MEND_BACK_SHOT] = mend_back_shot,
    [BF_MEND_SHORT_LINE] = mend_short_line,
    [BF_MEND_FLOAT] = mend_float,
};

static int few_of(int n_draws) {
    return n_draws < BF_MEND_DRAWS ? n_draws : BF_MEND_DRAWS;
}

/* Work: the mended stand, the ensemble's own, rows and one column. */
typedef struct layout {
    size_t ensemble, rows, column, end;
} layout;

static layout layout_of(int n_draws) {
    layout l;
    bf_ensemble ensemble = bf_aim_ensemble(NULL, 0, n_draws);
    l.ensemble = bfi_room(sizeof(bf_aiming));
    l.rows = l.ensemble + bfi_room(bf_ensemble_work_bytes(&ensemble));
    l.column = l.rows + bfi_room((size_t)n_draws * (size_t)BF_AIM_ROW * sizeof(double));
    l.end = l.column + bfi_room((size_t)n_draws * sizeof(double));
    return l;
}

size_t bf_aim_mend_bytes(int n_draws) {
    return layout_of(few_of(n_draws)).end;
}

/* Runs the draws of one aiming and writes what they come to; without an answer it stays 0. */
static void run(const bf_aiming *aiming, uint64_t seed, int n_draws, char *work, bf_mend_tried *tried) {
    layout l = layout_of(n_draws);
    bf_ensemble ensemble = bf_aim_ensemble(aiming, seed, n_draws);
    double *rows = (void *)(work + l.rows), *column = (void *)(work + l.column), sum = 0;
    size_t n = 0;
    if (bf_ensemble_range(&ensemble, 0, n_draws, work + l.ensemble, rows)) return;
    for (int k = 0; k < n_draws; k++) {
        double miss_m = rows[(size_t)k * BF_AIM_ROW];
        if (miss_m != miss_m) continue;
        column[n++] = miss_m;
        sum += miss_m * miss_m;
    }
    if (n == 0) return;
    bf_range miss = bf_range_of(column, n, BF_NAN);
    tried->is_answered = 1;
    tried->mean_square_m2 = sum / (double)n;
    tried->miss_50_m = miss.mid;
    tried->miss_90_m = miss.hi;
    bf_aim_chance_of(rows, n_draws, &tried->chance);
}

void bf_aim_mend_try(const bf_aiming *aiming, uint64_t seed, int n_draws, int try_kind, void *work,
                     bf_mend_tried *tried) {
    bf_aiming *with = work;
    bf_mend mend = {.kind = try_kind};
    *tried = (bf_mend_tried){.is_answered = 0};
    *with = *aiming;
    effect done = try_kind == BF_N_MENDS ? MENDED : mendings[try_kind](&with->stand, &mend);
    if (done == NOTHING || (done == RERIGGED && bfi_hang_fit(&with->stand, RIG_SOLVES, &with->fit))) return;
    memcpy(tried->number, mend.number, sizeof tried->number);
    run(with, seed, few_of(n_draws), work, tried);
}

static void insert(bf_mend *mends, int n, const bf_mend *mend) {
    int i = n;
    for (; i > 0 && mends[i - 1].gain_m < mend->gain_m; i--) mends[i] = mends[i - 1];
    mends[i] = *mend;
}

/* Those that hang the rig anew. */
static int is_of_the_rig(int kind) {
    return kind == BF_MEND_BACK_SHOT || kind == BF_MEND_SHORT_LINE || kind == BF_MEND_FLOAT;
}

int bf_aim_mends_of(const bf_mend_tried tried[BF_MEND_TRIES], bf_mend mends[BF_N_MENDS]) {
    const bf_mend_tried *now = &tried[BF_N_MENDS];
    int n = 0;
    for (int kind = 0; kind < BF_N_MENDS && now->is_answered == 1; kind++) {
        const bf_mend_tried *of = &tried[kind];
        if (of->is_answered != 1) continue;
        bf_mend mend = {.kind = kind,
                        .number = {of->number[0], of->number[1]},
                        .share_frac = of->mean_square_m2 < now->mean_square_m2
                                          ? 1 - of->mean_square_m2 / now->mean_square_m2
                                          : 0,
                        .gain_m = now->miss_90_m - of->miss_90_m,
                        .miss_50_m = of->miss_50_m,
                        .miss_90_m = of->miss_90_m,
                        .chance = of->chance};
        double least_m = is_of_the_rig(kind) ? BF_MEND_RIG_WORTH_M : BF_MEND_WORTH_M;
        if (mend.gain_m >= least_m) insert(mends, n++, &mend);
    }
    return n;
}

int bf_aim_mends(const bf_aiming *aiming, uint64_t seed, int n_draws, void *work, bf_mend mends[BF_N_MENDS]) {
    bf_mend_tried tried[BF_MEND_TRIES];
    for (int kind = 0; kind < BF_MEND_TRIES; kind++)
        bf_aim_mend_try(aiming, seed, n_draws, kind, work, &tried[kind]);
    return bf_aim_mends_of(tried, mends);
}
