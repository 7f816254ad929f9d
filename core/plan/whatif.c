/* whatif.c -- see whatif.h. */
#include "baitfall/whatif.h"

#include <math.h>
#include <string.h>

#include "judging.h"

#define FOOT_M 0.3048
#define THREE_INCHES_M 0.0762
#define BACK_AT_M 0.20
#define BACK_SIZE "No 10"

/* Words -------------------------------------------------------------------------------------------------- */

static const char *const slugs[] = {
#define SLUG(name, slug, title) slug,
    BF_WHATIF_LIST(SLUG)
#undef SLUG
};

static const char *const titles[] = {
#define TITLE(name, slug, title) title,
    BF_WHATIF_LIST(TITLE)
#undef TITLE
};

const char *bf_whatif_slug(int what) {
    return slugs[what];
}

const char *bf_whatif_title(int what) {
    return titles[what];
}

/* Changes ------------------------------------------------------------------------------------------------ */

static int blow(bf_lake *lake, double wind_m_s) {
    if (lake->wind_m_s.value == wind_m_s || (wind_m_s > 0 && lake->wind_m_s.value > wind_m_s)) return 0;
    lake->wind_m_s = bf_exactly(wind_m_s);
    return 1;
}

static int stop_drift(bf_lake *lake) {
    if (lake->drift == BF_DRIFT_STILL) return 0;
    lake->drift = BF_DRIFT_STILL;
    return 1;
}

/* Adds to a quantity of a record; 0 when that leaves its field's range. */
static int add(const bf_table *table, const char *name, bf_quantity *to, double more) {
    int is_pm, i = bf_field_find(table, name, strlen(name), &is_pm);
    if (to->value + more > table->field[i].most) return 0;
    to->value += more;
    return 1;
}

static int take_next_float(const bf_stand *stand, bf_rig *rig) {
    int i = 0;
    while (i < bf_n_floats && bf_floats[i].rating_kg <= stand->rig.flt.rating_kg) i++;
    if (i == bf_n_floats) return 0;
    *rig = stand->rig;
    return bf_suggest_rig(stand, i, BF_PATTERN_BULK, rig) == BF_OK;
}

static int put_back_shot_on(bf_rig *rig) {
    double middle_m = rig->tip_to_float_m / 2;
    if (rig->n_back_shots == BF_RIG_BACK_SHOTS) return 0;
    bf_shot *shot = &rig->back_shot[rig->n_back_shots++];
    bf_record_start(&bf_back_shot_table, shot);
    shot->size = bf_shot_size_find(BACK_SIZE);
    shot->count = 1;
    shot->at_m = BACK_AT_M < middle_m ? BACK_AT_M : middle_m;
    return 1;
}

static int tighten(bf_stand *stand) {
    double slack_m = stand->rig.tip_to_float_m - stand->hold.tip_height_m.value;
    if (!(slack_m > 0)) return 0;
    stand->rig.tip_to_float_m -= slack_m / 2;
    for (int i = 0; i < stand->rig.n_back_shots; i++)
        if (stand->rig.back_shot[i].at_m > stand->rig.tip_to_float_m) return 0;
    return 1;
}

static int change(const bf_stand *stand, int what, bf_stand *changed) {
    switch (what) {
    case BF_WHATIF_BRISK: return blow(&changed->scene.lake, BF_BRISK_M_S);
    case BF_WHATIF_CALM: return blow(&changed->scene.lake, 0);
    case BF_WHATIF_NO_DRIFT: return stop_drift(&changed->scene.lake);
    case BF_WHATIF_DEEPER: return add(&bf_spot_table, "depth_m", &changed->scene.spot.depth_m, FOOT_M);
    case BF_WHATIF_HEAVIER: return take_next_float(stand, &changed->rig);
    case BF_WHATIF_BACK_SHOT: return put_back_shot_on(&changed->rig);
    case BF_WHATIF_TAUT: return tighten(changed);
    case BF_WHATIF_OVERDEPTH:
        return add(&bf_hold_table, "overdepth_m", &changed->hold.overdepth_m, THREE_INCHES_M);
    default: BF_ASSERT(0); return 0;
    }
}

int bf_whatif_change(const bf_stand *stand, int what, bf_stand *changed) {
    *changed = *stand;
    int applies = change(stand, what, changed);
    if (!applies) *changed = *stand;
    return applies;
}

/* Answers ------------------------------------------------------------------------------------------------ */

/* 1 when it is the weather or the peg that changes, for which another float may be taken. */
static int is_of_the_water(int what) {
    return what == BF_WHATIF_BRISK || what == BF_WHATIF_CALM || what == BF_WHATIF_NO_DRIFT ||
           what == BF_WHATIF_DEEPER;
}

/* To the millimetre, which is as fine as anyone looks. */
static double mm(double m) {
    return floor(m * 1000 + 0.5) / 1000;
}

static bf_said what_it_becomes(const bf_whatif_out *out, int is_searched) {
    const bf_judged *is = &out->is;
    double hung = mm(out->was.hang_m), hangs = mm(is->hang_m), gust = mm(is->gust_m);
    if (is->hang_m != is->hang_m) return (bf_said){BF_SAID_WHATIF_NONE, {0}};
    if (is->limit == BF_LIMIT_NONE) {
        int is_same = hung == hangs && gust == mm(out->was.gust_m) && out->was.limit == BF_LIMIT_NONE;
        return (bf_said){is_same ? BF_SAID_WHATIF_SAME : BF_SAID_WHATIF_HOLDS,
                         {hung, hangs, mm(out->was.gust_m), gust}};
    }
    if (out->take >= 0)
        return (bf_said){BF_SAID_WHATIF_TAKE, {hung, hangs, gust, bf_floats[out->take].rating_kg}};
    int held = out->was.limit == BF_LIMIT_NONE;
    return (bf_said){is_searched ? BF_SAID_WHATIF_FAILS
                     : held      ? BF_SAID_WHATIF_HOLDS_NOT
                                 : BF_SAID_WHATIF_STILL_NOT,
                     {hung, hangs, gust}};
}

bf_status bf_whatif_answer(const bf_stand *stand, const bf_judged *was, int what, bf_whatif_out *out) {
    bf_stand changed;
    *out = (bf_whatif_out){what, *was, bfi_unjudged(), -1, {BF_SAID_NOTHING, {0}}};
    if (!bf_whatif_change(stand, what, &changed)) return BF_E_MISSING;
    bf_status status = bf_judge(&changed, &out->is);
    int is_searched =
        !status && was->limit == BF_LIMIT_NONE && out->is.limit != BF_LIMIT_NONE && is_of_the_water(what);
    if (is_searched) status = bfi_lightest_float(&changed, &out->take);
    if (status) return status;
    out->said = what_it_becomes(out, is_searched);
    return BF_OK;
}

/* The chance --------------------------------------------------------------------------------------------- */

typedef struct room {
    bf_aiming aiming;
    double more[]; /* rows, then the ensemble's own work */
} room;

size_t bf_whatif_chance_bytes(int n_draws) {
    bf_ensemble ensemble = bf_aim_ensemble(NULL, 0, n_draws);
    return sizeof(room) + (size_t)n_draws * BF_AIM_ROW * sizeof(double) + bf_ensemble_work_bytes(&ensemble);
}

bf_status bf_whatif_chance(const bf_stand *stand, uint64_t seed, int n_draws, void *work,
                           bf_aim_chance *chance) {
    room *in = work;
    double *rows = in->more;
    *chance = (bf_aim_chance){BF_NAN, BF_NAN, BF_NAN};
    bf_status status = bf_aim_prepare(stand, &in->aiming);
    if (status) return status;
    bf_ensemble ensemble = bf_aim_ensemble(&in->aiming, seed, n_draws);
    status = bf_ensemble_range(&ensemble, 0, n_draws, rows + (size_t)n_draws * BF_AIM_ROW, rows);
    if (!status) bf_aim_chance_of(rows, n_draws, chance);
    return status;
}
