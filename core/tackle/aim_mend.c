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

/* The slips ------------------------------------------------------------------------------------------------ */

static int mend_mark(bf_stand *stand, bf_mend *mend) {
    int fishing = mend_slip(&stand->aim.ship_m, MARK_M);
    int feeding = mend_slip(&stand->aim.feeding.ship_m, MARK_M);
    mend->number[0] = MARK_M;
    return fishing || feeding;
}

static int mend_bearing(bf_stand *stand, bf_mend *mend) {
    const bf_spot *spot = &stand->scene.spot;
    int fishing = mend_slip(&stand->aim.bearing_deg, BEARING_DEG);
    int feeding = mend_slip(&stand->aim.feeding.bearing_deg, BEARING_DEG);
    mend->number[0] =
        bf_hypot(spot->distance_m.value, spot->side_m.value) * bf_tan(BEARING_DEG * BF_RAD_PER_DEG);
    return fishing || feeding;
}

static int mend_marker(bf_stand *stand, bf_mend *mend) {
    int fishing = mend_slip(&stand->aim.marker_moves_m, 0);
    int feeding = mend_slip(&stand->aim.feeding.marker_moves_m, 0);
    (void)mend;
    return stand->aim.marker_m == stand->aim.marker_m && (fishing || feeding);
}

static int mend_lean(bf_stand *stand, bf_mend *mend) {
    double behind_m = stand->scene.pot.behind_tip_m.value, was_m = stand->aim.pot_comp_m;
    mend->number[0] = stand->aim.pot_comp_m = behind_m;
    return bfi_is_by_pot(stand) && was_m != behind_m;
}

static int mend_pot(bf_stand *stand, bf_mend *mend) {
    mend->number[0] = POT_PLACE_M;
    return narrow(&stand->scene.pot.behind_tip_m, POT_PLACE_M) && bfi_is_by_pot(stand);
}

static int mend_plumb(bf_stand *stand, bf_mend *mend) {
    int line = narrow(&stand->hold.overdepth_m, PLUMB_M);
    int depth = narrow(&stand->scene.spot.depth_m, PLUMB_M);
    mend->number[0] = PLUMB_M;
    return line || depth;
}

static int mend_steady(bf_stand *stand, bf_mend *mend) {
    mend->number[0] = STEADY_M;
    return mend_slip(&stand->aim.steady_m, STEADY_M);
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
static int mend_drift(bf_stand *stand, bf_mend *mend) {
    bf_lake *lake = &stand->scene.lake;
    double miss_m[2];
    if (lake->drift == BF_DRIFT_STILL && lake->wind_m_s.value == 0) return 0;
    narrow(&lake->wind_m_s, DRIFT_FRAC * lake->wind_m_s.value);
    narrow(&lake->wind_side_deg, DRIFT_DEG);
    if (lake->drift == BF_DRIFT_MEASURED) {
        narrow(&lake->surface_drift_m_s, DRIFT_FRAC * lake->surface_drift_m_s.value);
        narrow(&lake->undertow_m_s, DRIFT_FRAC * lake->undertow_m_s.value);
        narrow(&lake->drift_side_deg, DRIFT_DEG);
    }
    if (drift_of(stand, miss_m)) return 0;
    stand->scene.put.offset_out_m.value += miss_m[0];
    stand->scene.put.offset_side_m.value += miss_m[1];
    mend->number[0] = bf_hypot(miss_m[0], miss_m[1]);
    return 1;
}

static int mend_wet(bf_stand *stand, bf_mend *mend) {
    (void)mend;
    int may_hang = bf_film_may_hang(&stand->scene.bait, &stand->scene.lake);
    stand->scene.bait.state = BF_GLAZED;
    return may_hang;
}

/* The rig -------------------------------------------------------------------------------------------------- */

static int mend_back_shot(bf_stand *stand, bf_mend *mend) {
    bf_rig *rig = &stand->rig;
    if (rig->n_back_shots > 0 || rig->tip_to_float_m < 2 * BACK_SHOT_M) return 0;
    rig->back_shot[0] = (bf_shot){bf_shot_size_find("No 10"), BF_NAN, BF_LEAD, 1, BACK_SHOT_M, 0};
    rig->n_back_shots = 1;
    mend->number[0] = BACK_SHOT_M;
    return 1;
}

static int mend_short_line(bf_stand *stand, bf_mend *mend) {
    if (stand->rig.tip_to_float_m <= TIP_TO_FLOAT_M) return 0;
    stand->rig.tip_to_float_m = TIP_TO_FLOAT_M;
    stand->hold.tip_height_m = (bf_quantity){TIP_HEIGHT_M, TIP_HEIGHT_PM_M, 0};
    mend->number[0] = TIP_TO_FLOAT_M;
    mend->number[1] = TIP_HEIGHT_M;
    return 1;
}

static int mend_float(bf_stand *stand, bf_mend *mend) {
    double now_kg = stand->rig.flt.rating_kg, water_kg_m3 = bf_lake_density_kg_m3(&stand->scene.lake);
    double wet_m = stand->scene.spot.depth_m.value + stand->hold.overdepth_m.value;
    int i = 0;
    while (i < bf_n_floats && bf_floats[i].rating_kg < HEAVIER * now_kg) i++;
    if (i == bf_n_floats || !(wet_m > 0)) return 0;
    stand->rig.flt = bf_float_settled(&bf_floats[i]);
    int metal = stand->rig.n_shots > 0 ? stand->rig.shot[0].metal : BF_LEAD;
    stand->rig.n_shots = bf_pattern_shot(&stand->rig, BF_PATTERN_BULK, metal, wet_m, water_kg_m3);
    mend->number[0] = bf_floats[i].rating_kg;
    return 1;
}

/* All of them ---------------------------------------------------------------------------------------------- */

/* What a mending is about, and so how it is tried. */
typedef enum subject {
    SLIP,  /* where tip and pot are: bed and bait go with them              */
    WATER, /* bed or bait change, the rig hangs by the same fit             */
    RIG    /* it hangs by another fit, which is made; bed and tip stay      */
} subject;

/* Mends a stand and writes the sentence's numbers; returns 0 when there is nothing to mend. */
typedef int mending(bf_stand *stand, bf_mend *mend);

static const struct {
    mending *mend;
    subject subject;
} mendings[BF_N_MENDS] = {
    [BF_MEND_MARK] = {mend_mark, SLIP},
    [BF_MEND_BEARING] = {mend_bearing, SLIP},
    [BF_MEND_MARKER] = {mend_marker, SLIP},
    [BF_MEND_LEAN] = {mend_lean, SLIP},
    [BF_MEND_POT] = {mend_pot, SLIP},
    [BF_MEND_PLUMB] = {mend_plumb, WATER},
    [BF_MEND_DRIFT] = {mend_drift, WATER},
    [BF_MEND_STEADY] = {mend_steady, SLIP},
    [BF_MEND_WET] = {mend_wet, WATER},
    [BF_MEND_BACK_SHOT] = {mend_back_shot, RIG},
    [BF_MEND_SHORT_LINE] = {mend_short_line, RIG},
    [BF_MEND_FLOAT] = {mend_float, RIG},
};

/* Where tip and pot are, for the place of each. */
enum { TIP, LET_GO = TIP + 2, N_PLACES = LET_GO + 2 };

static int few_of(int n_draws) {
    return n_draws < BF_MEND_DRAWS ? n_draws : BF_MEND_DRAWS;
}

/* Work: the mended stand, the ensemble's own, the places of each draw as it is and mended, and its miss. */
typedef struct layout {
    size_t ensemble, places, moved, miss, end;
} layout;

static layout layout_of(int n_draws) {
    layout l;
    bf_ensemble ensemble = bf_aim_ensemble(NULL, 0, n_draws);
    size_t column = (size_t)n_draws * sizeof(double);
    l.ensemble = bfi_room(sizeof(bf_aiming));
    l.places = l.ensemble + bfi_room(bf_ensemble_work_bytes(&ensemble));
    l.moved = l.places + bfi_room(N_PLACES * column);
    l.miss = l.moved + bfi_room(N_PLACES * column);
    l.end = l.miss + bfi_room(column);
    return l;
}

size_t bf_aim_mend_bytes(int n_draws) {
    return layout_of(few_of(n_draws)).end;
}

/* What the misses of the draws come to; without one it stays unanswered. Sorts them. */
static void come_to(double *miss_m, int n_draws, bf_mend_tried *tried) {
    double sum = 0;
    size_t n = 0;
    for (int k = 0; k < n_draws; k++) {
        if (miss_m[k] != miss_m[k]) continue;
        sum += miss_m[k] * miss_m[k];
        miss_m[n++] = miss_m[k];
    }
    if (n == 0) return;
    bf_range miss = bf_range_of(miss_m, n, BF_NAN);
    tried->is_answered = 1;
    tried->mean_square_m2 = sum / (double)n;
    tried->miss_50_m = miss.mid;
    tried->miss_90_m = miss.hi;
}

/* Tried in the draws, one by one ------------------------------------------------------------------------------ */

/* Solves for the fit of another rig, only for one comparison. */
#define RIG_SOLVES (BF_AIM_SOLVES / 4)

/* Of bait that hangs elsewhere, over the beds of the rows; bait and miss may not overlap. */
static void miss_over(const double *rows, int n_draws, const double *bait_m, double *miss_m) {
    for (int k = 0; k < n_draws; k++, rows += BF_AIM_ROW, bait_m += 2) {
        const double *middle_m = bfi_middle_of_row(rows);
        miss_m[k] = bf_hypot(bait_m[0] - middle_m[0], bait_m[1] - middle_m[1]);
    }
}

void bf_aim_mend_try(const bf_aiming *aiming, uint64_t seed, const double *rows, int n_draws, int kind,
                     void *work, bf_mend_tried *tried) {
    bf_aiming *with = work;
    bf_mend mend = {.kind = kind};
    int n = few_of(n_draws);
    layout l = layout_of(n);
    *tried = (bf_mend_tried){.is_answered = 0};
    if (mendings[kind].subject == SLIP) return;
    *with = *aiming;
    if (!mendings[kind].mend(&with->stand, &mend)) return;
    int is_rig = mendings[kind].subject == RIG;
    if (is_rig && bfi_hang_fit(&with->stand, RIG_SOLVES, &with->fit)) return;
    memcpy(tried->number, mend.number, sizeof tried->number);
    double *bait_m = (void *)((char *)work + l.moved), *miss_m = (void *)((char *)work + l.miss);
    bf_model model = is_rig ? bfi_bait_model : bfi_miss_model;
    bf_ensemble ensemble = {&bf_aim_schema, with, model, is_rig ? 2 : 1, 0, seed, n};
    if (bf_ensemble_range(&ensemble, 0, n, (char *)work + l.ensemble, is_rig ? bait_m : miss_m)) return;
    if (is_rig) miss_over(rows, n, bait_m, miss_m);
    come_to(miss_m, n, tried);
}

/* Following from the rows ------------------------------------------------------------------------------------ */

static bf_status places_model(const void *stand, const bf_draw *draw, double *out) {
    bfi_tip_place(stand, draw, out + TIP);
    bfi_release_place(stand, out + LET_GO);
    return BF_OK;
}

/* Those of a stand in each draw: of all that is drawn, what they depend on. */
static void places_of(const bf_stand *stand, uint64_t seed, int n_draws, void *work, double *places) {
    const bf_table *const reads[] = {&bf_spot_table, &bf_pot_table, &bf_aim_table, &bf_feeding_table};
    bf_section sections[sizeof reads / sizeof reads[0]];
    int n = 0;
    for (int i = 0; i < bf_aim_schema.n_sections; i++)
        for (size_t k = 0; k < sizeof reads / sizeof reads[0]; k++)
            if (bf_aim_schema.section[i].table == reads[k]) sections[n++] = bf_aim_schema.section[i];
    bf_schema schema = {"aim", sizeof *stand, sections, n};
    bf_ensemble ensemble = {&schema, stand, places_model, N_PLACES, 0, seed, n_draws};
    bf_status status = bf_ensemble_range(&ensemble, 0, n_draws, work, places);
    BF_ASSERT(status == BF_OK);
    (void)status;
}

/* The rows of an ensemble, with tip and feed moved from where they were. */
static void miss_moved(const double *rows, int n_draws, const double *places, const double *moved,
                       double *miss_m) {
    for (int k = 0; k < n_draws; k++, rows += BF_AIM_ROW, places += N_PLACES, moved += N_PLACES) {
        bf_aim_out row;
        memcpy(&row, rows, sizeof row);
        double out_m = row.out_m + (moved[TIP] - places[TIP]) - (moved[LET_GO] - places[LET_GO]);
        double right_m =
            row.right_m + (moved[TIP + 1] - places[TIP + 1]) - (moved[LET_GO + 1] - places[LET_GO + 1]);
        miss_m[k] = bf_hypot(out_m, right_m);
    }
}

/* An ensemble's rows, and what slips mended make of them. */
typedef struct basis {
    const bf_aiming *aiming;
    uint64_t seed;
    const double *rows;
    int n;
    char *work;
    layout l;
} basis;

static void as_it_is(const basis *b, bf_mend_tried *now) {
    double *miss_m = (void *)(b->work + b->l.miss);
    *now = (bf_mend_tried){.is_answered = 0};
    for (int k = 0; k < b->n; k++) miss_m[k] = b->rows[(size_t)k * BF_AIM_ROW];
    come_to(miss_m, b->n, now);
    places_of(&b->aiming->stand, b->seed, b->n, b->work + b->l.ensemble, (void *)(b->work + b->l.places));
}

static void move(const basis *b, int kind, bf_mend_tried *tried) {
    bf_stand *stand = (void *)b->work;
    double *places = (void *)(b->work + b->l.places), *moved = (void *)(b->work + b->l.moved);
    double *miss_m = (void *)(b->work + b->l.miss);
    bf_mend mend = {.kind = kind};
    *tried = (bf_mend_tried){.is_answered = 0};
    *stand = b->aiming->stand;
    if (!mendings[kind].mend(stand, &mend)) return;
    memcpy(tried->number, mend.number, sizeof tried->number);
    places_of(stand, b->seed, b->n, b->work + b->l.ensemble, moved);
    miss_moved(b->rows, b->n, places, moved, miss_m);
    come_to(miss_m, b->n, tried);
}

/* The answer ------------------------------------------------------------------------------------------------- */

static void insert(bf_mend *mends, int n, const bf_mend *mend) {
    int i = n;
    for (; i > 0 && mends[i - 1].gain_m < mend->gain_m; i--) mends[i] = mends[i - 1];
    mends[i] = *mend;
}

static bf_mend mend_of(int kind, const bf_mend_tried *of, const bf_mend_tried *now) {
    double left = of->mean_square_m2 / now->mean_square_m2;
    return (bf_mend){.kind = kind,
                     .number = {of->number[0], of->number[1]},
                     .share_frac = left < 1 ? 1 - left : 0,
                     .gain_m = now->miss_90_m - of->miss_90_m,
                     .miss_50_m = of->miss_50_m,
                     .miss_90_m = of->miss_90_m};
}

int bf_aim_mends_of(const bf_aiming *aiming, uint64_t seed, const double *rows, int n_rows,
                    const bf_mend_tried tried[BF_N_MENDS], void *work, bf_mend mends[BF_N_MENDS]) {
    int n = 0, n_few = few_of(n_rows);
    basis b = {aiming, seed, rows, n_few, work, layout_of(n_few)};
    bf_mend_tried now;
    as_it_is(&b, &now);
    for (int kind = 0; kind < BF_N_MENDS && now.is_answered == 1; kind++) {
        bf_mend_tried of = tried[kind];
        if (mendings[kind].subject == SLIP) move(&b, kind, &of);
        if (of.is_answered != 1) continue;
        bf_mend mend = mend_of(kind, &of, &now);
        double least_m = mendings[kind].subject == RIG ? BF_MEND_RIG_WORTH_M : BF_MEND_WORTH_M;
        if (mend.gain_m >= least_m) insert(mends, n++, &mend);
    }
    return n;
}

int bf_aim_mends(const bf_aiming *aiming, uint64_t seed, const double *rows, int n_draws, void *work,
                 bf_mend mends[BF_N_MENDS]) {
    bf_mend_tried tried[BF_N_MENDS];
    for (int kind = 0; kind < BF_N_MENDS; kind++)
        bf_aim_mend_try(aiming, seed, rows, n_draws, kind, work, &tried[kind]);
    return bf_aim_mends_of(aiming, seed, rows, n_draws, tried, work, mends);
}
