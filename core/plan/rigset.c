/* rigset.c -- see rigset.h: candidates, what each covers, and the smallest set of them. */
#include "baitfall/rigset.h"

#include <string.h>

#include "judging.h"

#define N BF_RIGSET_CONDITIONS

/* The peg ------------------------------------------------------------------------------------------------ */

enum { DEPTH_LEAST, DEPTH_MOST, DISTANCE, WIND_LEAST, WIND_MOST };

static const bf_field peg_fields[] = {
    [DEPTH_LEAST] = {"depth_least_m", BF_REAL, offsetof(bf_unknown_peg, depth_least_m), BF_LENGTH, 0.05, 12,
                     BF_NAN, 0, 0.05, 12, NULL, "the shallowest that the peg may be where you fish", 1},
    [DEPTH_MOST] = {"depth_most_m", BF_REAL, offsetof(bf_unknown_peg, depth_most_m), BF_LENGTH, 0.05, 12,
                    BF_NAN, 0, 0.05, 12, NULL, "the deepest", 1},
    [DISTANCE] = BF_R(bf_unknown_peg, distance_m, BF_LENGTH, 0, 60, 11,
                      "how far out you mean to fish; start: 11 m, as for a spot"),
    [WIND_LEAST] =
        BF_R(bf_unknown_peg, wind_least_m_s, BF_SPEED, 0, 20, 0, "the least wind to expect; start: calm"),
    [WIND_MOST] = BF_R(bf_unknown_peg, wind_most_m_s, BF_SPEED, 0, 20, 6,
                       "the most wind to expect, gusts averaged out; start: 6 m/s, as usual for a lake"),
};

const bf_table bf_unknown_peg_table = BF_TABLE("unknown_peg", bf_unknown_peg, peg_fields);

bf_status bf_unknown_peg_check(const bf_unknown_peg *peg, int *i_field, double *value) {
    bf_status status = bf_record_check(&bf_unknown_peg_table, peg, i_field, value);
    if (status) return status;
    if (peg->depth_most_m < peg->depth_least_m) {
        *i_field = DEPTH_MOST;
        *value = peg->depth_most_m;
        return BF_E_RANGE;
    }
    if (peg->wind_most_m_s < peg->wind_least_m_s) {
        *i_field = WIND_MOST;
        *value = peg->wind_most_m_s;
        return BF_E_RANGE;
    }
    return BF_OK;
}

/* The binary digits of i turned round behind the point: 1/2, 1/4, 3/4, 1/8 ... for 1, 2, 3, 4 ... */
static double turned_round(int i) {
    double sum = 0, digit = 0.5;
    for (; i; i >>= 1, digit /= 2) sum += (i & 1) * digit;
    return sum;
}

void bf_rigset_condition(const bf_unknown_peg *peg, int i, double *depth_m, double *wind_m_s) {
    double u = (i + 0.5) / N, v = turned_round(i) + 0.5 / N;
    *depth_m = peg->depth_least_m + u * (peg->depth_most_m - peg->depth_least_m);
    *wind_m_s = peg->wind_least_m_s + v * (peg->wind_most_m_s - peg->wind_least_m_s);
}

/* Candidates --------------------------------------------------------------------------------------------- */

/* A rig that could be made: a float of the catalogue, a depth. */
typedef struct candidate {
    int flt;
    double depth_m;
    uint64_t holds; /* bit i: in condition i */
} candidate;

typedef struct job {
    const bf_unknown_peg *peg;
    const bf_stand *stand; /* on a line with little slack */
    int n;
    candidate at[BF_COVER_MOST];
    double lightest_kg[N]; /* that holds in a condition; infinite: none so far */
    int n_solves;
} job;

/* Depths that rigs are made for: the deepest, and steps up from it. */
static double made_step_m(const bf_unknown_peg *peg) {
    double range = peg->depth_most_m - peg->depth_least_m, step = BF_SHORTEN_MOST_M / 2;
    return range > BF_MADE_DEPTHS * step ? range / BF_MADE_DEPTHS : step;
}

static bf_status make(const job *of, const candidate *from, bf_rig *rig) {
    bf_stand stand = *of->stand;
    stand.scene.spot.depth_m = bf_exactly(from->depth_m);
    return bf_suggest_rig(&stand, from->flt, BF_PATTERN_BULK, rig);
}

static double highest_shot_m(const bf_rig *rig) {
    double highest = 0;
    for (int i = 0; i < rig->n_shots; i++) {
        double top = rig->shot[i].at_m + (rig->shot[i].count - 1) * rig->shot[i].apart_m;
        if (top > highest) highest = top;
    }
    return highest;
}

/* A made rig fished at a depth and wind, its float slid down; 0 when it cannot be. */
static int set_up(const job *of, const bf_rig *rig, double made_for_m, double depth_m, bf_stand *stand) {
    double shorter_m = made_for_m - depth_m;
    double wet_m = depth_m + of->stand->hold.overdepth_m.value;
    if (shorter_m < 0 || shorter_m > BF_SHORTEN_MOST_M || highest_shot_m(rig) + BF_FLOAT_FREE_M > wet_m)
        return 0;
    *stand = *of->stand;
    stand->scene.spot.distance_m = bf_exactly(of->peg->distance_m);
    stand->scene.spot.depth_m = bf_exactly(depth_m);
    stand->rig = *rig;
    stand->rig.tip_to_float_m += shorter_m;
    stand->hold.tip_height_m.value += shorter_m;
    return 1;
}

/* 1 when a rig holds in a wind, bare or with back shots put on at the peg. */
static bf_status holds_at(job *of, bf_stand *stand, double wind_m_s, int *holds) {
    bfi_winds wind = bfi_one_wind(wind_m_s);
    bf_judged judged;
    bf_status status = bfi_judge(stand, &wind, 1, &judged, &of->n_solves);
    if (!status && judged.limit != BF_LIMIT_NONE) {
        bfi_put_back_shots(&stand->rig, bfi_most_back_shots(&stand->rig));
        if (stand->rig.n_back_shots > 0) status = bfi_judge(stand, &wind, 1, &judged, &of->n_solves);
    }
    *holds = judged.limit == BF_LIMIT_NONE;
    return status;
}

/* In which conditions a candidate holds. Those where it is too heavy in any case are not asked. */
static bf_status try_candidate(job *of, candidate *tried) {
    double rating = bf_floats[tried->flt].rating_kg;
    bf_rig rig;
    if (make(of, tried, &rig)) return BF_OK; /* nothing to hang on so small a float */
    for (int i = 0; i < N; i++) {
        double depth_m, wind_m_s;
        bf_stand stand;
        int holds;
        bf_rigset_condition(of->peg, i, &depth_m, &wind_m_s);
        if (rating > BF_HEAVIER_MOST * of->lightest_kg[i]) continue;
        if (!set_up(of, &rig, tried->depth_m, depth_m, &stand)) continue;
        bf_status status = holds_at(of, &stand, wind_m_s, &holds);
        if (status) return status;
        if (!holds) continue;
        tried->holds |= (uint64_t)1 << i;
        if (rating < of->lightest_kg[i]) of->lightest_kg[i] = rating;
    }
    return BF_OK;
}

/* Every float, lightest first, made for every depth. */
static bf_status try_all(job *of) {
    double step = made_step_m(of->peg);
    for (int i = 0; i < N; i++) of->lightest_kg[i] = BF_INFINITY;
    for (int flt = 0; flt < bf_n_floats; flt++)
        for (int k = 0; k == 0 || of->peg->depth_most_m - (k - 1) * step > of->peg->depth_least_m + step / 2;
             k++) {
            BF_ASSERT(of->n < BF_COVER_MOST);
            candidate *tried = &of->at[of->n++];
            *tried = (candidate){flt, of->peg->depth_most_m - k * step, 0};
            bf_status status = try_candidate(of, tried);
            if (status) return status;
        }
    return BF_OK;
}

/* The set ------------------------------------------------------------------------------------------------ */

static double part_of(uint64_t conditions) {
    int n = 0;
    for (; conditions; conditions &= conditions - 1) n++;
    return (double)n / N;
}

typedef struct extent {
    double depth_least_m, depth_most_m, wind_least_m_s, wind_most_m_s;
} extent;

static extent extent_of(const bf_unknown_peg *peg, uint64_t conditions) {
    extent of = {BF_INFINITY, -BF_INFINITY, BF_INFINITY, -BF_INFINITY};
    for (int i = 0; i < N; i++) {
        double depth_m, wind_m_s;
        if (!(conditions >> i & 1)) continue;
        bf_rigset_condition(peg, i, &depth_m, &wind_m_s);
        if (depth_m < of.depth_least_m) of.depth_least_m = depth_m;
        if (depth_m > of.depth_most_m) of.depth_most_m = depth_m;
        if (wind_m_s < of.wind_least_m_s) of.wind_least_m_s = wind_m_s;
        if (wind_m_s > of.wind_most_m_s) of.wind_most_m_s = wind_m_s;
    }
    return of;
}

static bf_said said(int code, double a, double b, double c, double d) {
    return (bf_said){code, {a, b, c, d}};
}

/* In each condition the lightest of the set that covers it is the one to take; the first of equals. */
static void say_how_needed(bf_rig_set *out) {
    for (int i = 0; i < N; i++) {
        bf_set_rig *taken = NULL;
        for (int k = 0; k < out->n_rigs; k++) {
            bf_set_rig *of = &out->rig[k];
            if (of->covers >> i & 1 && (!taken || of->rig.flt.rating_kg < taken->rig.flt.rating_kg))
                taken = of;
        }
        if (taken) taken->needed_frac += 1.0 / N;
    }
    for (int k = 0; k < out->n_rigs; k++)
        out->rig[k].said_needed = said(BF_SAID_NEEDED, out->rig[k].needed_frac, 0, 0, 0);
}

static void most_needed_first(bf_rig_set *out) {
    for (int i = 1; i < out->n_rigs; i++)
        for (int k = i; k > 0 && out->rig[k].needed_frac > out->rig[k - 1].needed_frac; k--) {
            bf_set_rig swapped = out->rig[k];
            out->rig[k] = out->rig[k - 1];
            out->rig[k - 1] = swapped;
        }
}

static bf_status take(const job *of, const candidate *from, uint64_t covers, bf_set_rig *rig) {
    extent over = extent_of(of->peg, covers);
    rig->i_float = from->flt;
    rig->made_m = from->depth_m + of->stand->hold.overdepth_m.value;
    rig->covers = covers;
    rig->covers_frac = part_of(covers);
    rig->depth_least_m = over.depth_least_m;
    rig->depth_most_m = over.depth_most_m;
    rig->wind_least_m_s = over.wind_least_m_s;
    rig->wind_most_m_s = over.wind_most_m_s;
    rig->said_covers =
        said(BF_SAID_COVERS, over.depth_least_m, over.depth_most_m, over.wind_least_m_s, over.wind_most_m_s);
    return make(of, from, &rig->rig);
}

static void say_what_is_left(const bf_unknown_peg *peg, uint64_t uncovered, uint64_t hopeless,
                             bf_rig_set *out) {
    extent over = extent_of(peg, uncovered);
    out->uncovered_frac = part_of(uncovered);
    out->hopeless_frac = part_of(hopeless);
    out->uncovered_depth_least_m = uncovered ? over.depth_least_m : BF_NAN;
    out->uncovered_depth_most_m = uncovered ? over.depth_most_m : BF_NAN;
    out->uncovered_wind_least_m_s = uncovered ? over.wind_least_m_s : BF_NAN;
    out->said_uncovered = uncovered ? said(BF_SAID_UNCOVERED, out->uncovered_frac, over.depth_least_m,
                                           over.depth_most_m, over.wind_least_m_s)
                                    : said(BF_SAID_ALL_COVERED, 0, 0, 0, 0);
    if (hopeless) out->said_hopeless = said(BF_SAID_NO_RIG_THERE, out->hopeless_frac, 0, 0, 0);
    if (!out->is_exact) out->said_exact = said(BF_SAID_GREEDY, out->n_least, 0, 0, 0);
}

bf_status bf_rigset(const bf_stand *stand, const bf_unknown_peg *peg, bf_rig_set *out) {
    bf_stand short_line = *stand;
    job of = {.peg = peg, .stand = &short_line};
    uint64_t mask[BF_COVER_MOST], any = 0;
    double cost[BF_COVER_MOST];
    bf_cover cover;
    memset(out, 0, sizeof *out);
    double short_m = stand->hold.tip_height_m.value + BF_SHORT_SLACK_M;
    if (short_line.rig.tip_to_float_m > short_m) short_line.rig.tip_to_float_m = short_m;
    bf_status status = try_all(&of);
    if (status) return status;

    for (int k = 0; k < of.n; k++) {
        cost[k] = bf_floats[of.at[k].flt].rating_kg;
        mask[k] = 0;
        for (int i = 0; i < N; i++)
            if (of.at[k].holds >> i & 1 && cost[k] <= BF_HEAVIER_MOST * of.lightest_kg[i])
                mask[k] |= (uint64_t)1 << i;
        any |= mask[k];
    }
    bf_cover_smallest(mask, cost, of.n, &cover);

    out->n_rigs = cover.n;
    for (int k = 0; k < cover.n && !status; k++)
        status = take(&of, &of.at[cover.chosen[k]], mask[cover.chosen[k]], &out->rig[k]);
    say_how_needed(out);
    most_needed_first(out);
    out->is_exact = cover.is_exact;
    out->n_least = cover.n_least;
    out->n_candidates = of.n;
    out->n_solves = of.n_solves;
    say_what_is_left(peg, ~cover.covered, ~any, out);
    return status;
}
