/* rigset.c -- see rigset.h: candidates, what each covers, and the smallest set of them. */
#include "baitfall/rigset.h"

#include <math.h>
#include <string.h>

#include "judging.h"

#define N BF_RIGSET_CONDITIONS
#define ALL (((uint64_t)1 << N) - 1)

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

/* What each float does ----------------------------------------------------------------------------------- */

typedef struct job {
    const bf_unknown_peg *peg;
    bf_stand stand; /* on a line with little slack */
    uint64_t holds[BF_RIGSET_FLOATS];
    double lightest_kg[N]; /* of the floats that hold in a condition; infinite: none */
    int n_solves;
} job;

static int float_of(int k) {
    return k * BF_RIGSET_FLOAT_STEP;
}

static bf_stand stand_at(const job *of, double depth_m, double wind_m_s) {
    bf_stand stand = of->stand;
    stand.scene.spot.distance_m = bf_exactly(of->peg->distance_m);
    stand.scene.spot.depth_m = bf_exactly(depth_m);
    stand.scene.lake.wind_m_s = bf_exactly(wind_m_s);
    return stand;
}

/* Whether the stand's rig holds, bare or with back shots put on at the peg. */
static bf_status holds_here(job *of, bf_stand *stand, int *holds) {
    bfi_winds wind = bfi_one_wind(stand->scene.lake.wind_m_s.value);
    bf_judged judged;
    bf_status status = bfi_judge(stand, &wind, BFI_WHETHER, &judged, &of->n_solves);
    if (!status && judged.limit != BF_LIMIT_NONE) {
        bfi_put_back_shots(&stand->rig, bfi_most_back_shots(&stand->rig));
        if (stand->rig.n_back_shots > 0)
            status = bfi_judge(stand, &wind, BFI_WHETHER, &judged, &of->n_solves);
    }
    *holds = judged.limit == BF_LIMIT_NONE;
    return status;
}

/* A float made for the very depth of a condition. */
static bf_status try_float_at(job *of, int k, int condition) {
    double depth_m, wind_m_s;
    int holds = 0;
    bf_rigset_condition(of->peg, condition, &depth_m, &wind_m_s);
    bf_stand stand = stand_at(of, depth_m, wind_m_s);
    double rating = bf_floats[float_of(k)].rating_kg;
    if (rating > BF_HEAVIER_MOST * of->lightest_kg[condition]) return BF_OK;
    if (bf_suggest_rig(&stand, float_of(k), BF_PATTERN_BULK, &stand.rig))
        return BF_OK; /* too small for any shot */
    bf_status status = holds_here(of, &stand, &holds);
    if (!holds) return status;
    of->holds[k] |= (uint64_t)1 << condition;
    if (rating < of->lightest_kg[condition]) of->lightest_kg[condition] = rating;
    return status;
}

static job job_of(const bf_stand *stand, const bf_unknown_peg *peg) {
    job of = {.peg = peg, .stand = *stand};
    double short_m = stand->hold.tip_height_m.value + BF_SHORT_SLACK_M;
    if (of.stand.rig.tip_to_float_m > short_m) of.stand.rig.tip_to_float_m = short_m;
    return of;
}

/* The lightest first, so that those too heavy are not asked. */
void bf_rigset_try(const bf_stand *stand, const bf_unknown_peg *peg, int condition, bf_rigset_tried *tried) {
    job of = job_of(stand, peg);
    bf_status status = BF_OK;
    uint64_t floats = 0;
    of.lightest_kg[condition] = BF_INFINITY;
    for (int k = 0; k < BF_RIGSET_FLOATS && float_of(k) < bf_n_floats && !status; k++) {
        status = try_float_at(&of, k, condition);
        floats |= (of.holds[k] >> condition & 1) << k;
    }
    *tried =
        (bf_rigset_tried){(double)status, (double)floats, of.lightest_kg[condition], (double)of.n_solves};
}

static bf_status take_tried(job *of, const bf_rigset_tried tried[N]) {
    for (int i = 0; i < N; i++) {
        if (tried[i].status != 0) return (bf_status)tried[i].status;
        of->lightest_kg[i] = tried[i].lightest_kg;
        of->n_solves += (int)tried[i].n_solves;
        for (int k = 0; k < BF_RIGSET_FLOATS; k++) of->holds[k] |= ((uint64_t)tried[i].holds >> k & 1) << i;
    }
    return BF_OK;
}

/* Rigs that can be made ---------------------------------------------------------------------------------- */

/* A float, and the depth it is made for. */
typedef struct candidate {
    int k;
    double depth_m;
} candidate;

static bf_status make(const job *of, const candidate *from, bf_rig *rig) {
    bf_stand stand = stand_at(of, from->depth_m, 0);
    return bf_suggest_rig(&stand, float_of(from->k), BF_PATTERN_BULK, rig);
}

/* Made depths: those of the conditions, rounded up. */
static double made_depth_m(const bf_unknown_peg *peg, int condition) {
    double depth_m, wind_m_s;
    bf_rigset_condition(peg, condition, &depth_m, &wind_m_s);
    return -floor(-depth_m / BF_MADE_STEP_M) * BF_MADE_STEP_M;
}

static double highest_shot_m(const bf_rig *rig) {
    double highest = 0;
    for (int i = 0; i < rig->n_shots; i++) {
        double top = rig->shot[i].at_m + (rig->shot[i].count - 1) * rig->shot[i].apart_m;
        if (top > highest) highest = top;
    }
    return highest;
}

/* Conditions whose depth a made rig can be set to by sliding its float down. */
static uint64_t within_reach(const job *of, const candidate *from) {
    uint64_t reach = 0;
    bf_rig rig;
    if (make(of, from, &rig)) return 0;
    double top_m = highest_shot_m(&rig) + BF_FLOAT_FREE_M;
    for (int i = 0; i < N; i++) {
        double depth_m, wind_m_s;
        bf_rigset_condition(of->peg, i, &depth_m, &wind_m_s);
        double shorter_m = from->depth_m - depth_m, wet_m = depth_m + of->stand.hold.overdepth_m.value;
        if (shorter_m >= 0 && shorter_m <= BF_SHORTEN_MOST_M && top_m <= wet_m) reach |= (uint64_t)1 << i;
    }
    return reach;
}

/* Where a float holds and is not too heavy. */
static uint64_t right_for(const job *of, int k) {
    uint64_t right = 0;
    for (int i = 0; i < N; i++)
        if (bf_floats[float_of(k)].rating_kg <= BF_HEAVIER_MOST * of->lightest_kg[i])
            right |= of->holds[k] & (uint64_t)1 << i;
    return right;
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
    for (int k = 0; k < out->n_rigs; k++) {
        double part = out->rig[k].needed_frac;
        out->rig[k].said_needed = said(part < 0.1 ? BF_SAID_NEEDED_RARELY : BF_SAID_NEEDED, part, 0, 0, 0);
    }
}

static void most_needed_first(bf_rig_set *out) {
    for (int i = 1; i < out->n_rigs; i++)
        for (int k = i; k > 0 && out->rig[k].needed_frac > out->rig[k - 1].needed_frac; k--) {
            bf_set_rig swapped = out->rig[k];
            out->rig[k] = out->rig[k - 1];
            out->rig[k - 1] = swapped;
        }
}

/* Rigs that none needs once all are confirmed: others, lighter ones, cover all they cover. */
static void drop_the_needless(bf_rig_set *out) {
    while (out->n_rigs > 0 && out->rig[out->n_rigs - 1].needed_frac == 0) out->n_rigs--;
}

/* A rig of the cover, as it is hoped to be. */
static bf_status take(const job *of, const candidate *from, uint64_t covers, bf_set_rig *rig) {
    rig->i_float = float_of(from->k);
    rig->made_m = from->depth_m + of->stand.hold.overdepth_m.value;
    rig->covers = covers;
    return make(of, from, &rig->rig);
}

static void say_what_it_covers(const bf_unknown_peg *peg, bf_set_rig *rig) {
    extent over = extent_of(peg, rig->covers);
    rig->covers_frac = part_of(rig->covers);
    rig->depth_least_m = over.depth_least_m;
    rig->depth_most_m = over.depth_most_m;
    rig->wind_least_m_s = over.wind_least_m_s;
    rig->wind_most_m_s = over.wind_most_m_s;
    rig->said_covers =
        said(BF_SAID_COVERS, over.depth_least_m, over.depth_most_m, over.wind_least_m_s, over.wind_most_m_s);
}

static void say_what_is_left(const bf_unknown_peg *peg, uint64_t uncovered, bf_rig_set *out) {
    extent over = extent_of(peg, uncovered);
    out->uncovered_frac = part_of(uncovered);
    out->uncovered_depth_least_m = uncovered ? over.depth_least_m : BF_NAN;
    out->uncovered_depth_most_m = uncovered ? over.depth_most_m : BF_NAN;
    out->uncovered_wind_least_m_s = uncovered ? over.wind_least_m_s : BF_NAN;
    out->said_uncovered = uncovered ? said(BF_SAID_UNCOVERED, out->uncovered_frac, over.depth_least_m,
                                           over.depth_most_m, over.wind_least_m_s)
                                    : said(BF_SAID_ALL_COVERED, 0, 0, 0, 0);
    if (out->hopeless_frac > 0) out->said_hopeless = said(BF_SAID_NO_RIG_THERE, out->hopeless_frac, 0, 0, 0);
    if (!out->is_exact) out->said_exact = said(BF_SAID_GREEDY, out->n_least, 0, 0, 0);
}

/* The rigs that could be made and what they would cover; a depth that is there already is not made twice. */
static int candidates_of(const job *of, candidate *at, uint64_t *mask, double *cost) {
    int n = 0;
    for (int k = 0; k < BF_RIGSET_FLOATS && float_of(k) < bf_n_floats; k++) {
        uint64_t right = right_for(of, k);
        for (int i = 0; i < N; i++) {
            candidate one = {k, made_depth_m(of->peg, i)};
            if (n > 0 && at[n - 1].k == k && at[n - 1].depth_m == one.depth_m) continue;
            BF_ASSERT(n < BF_COVER_MOST);
            at[n] = one;
            mask[n] = right & within_reach(of, &one);
            cost[n++] = bf_floats[float_of(k)].rating_kg;
        }
    }
    return n;
}

bf_status bf_rigset_choose(const bf_stand *stand, const bf_unknown_peg *peg, const bf_rigset_tried tried[N],
                           bf_rig_set *out) {
    job of = job_of(stand, peg);
    candidate at[BF_COVER_MOST];
    uint64_t mask[BF_COVER_MOST], any = 0;
    double cost[BF_COVER_MOST];
    bf_cover cover;
    memset(out, 0, sizeof *out);
    bf_status status = take_tried(&of, tried);
    if (status) return status;

    out->n_candidates = candidates_of(&of, at, mask, cost);
    bf_cover_smallest(mask, cost, out->n_candidates, &cover);
    for (int k = 0; k < BF_RIGSET_FLOATS; k++) any |= of.holds[k];
    out->hopeless_frac = part_of(ALL & ~any);
    out->is_exact = cover.is_exact;
    out->n_least = cover.n_least;
    out->n_solves = of.n_solves;
    for (; out->n_rigs < cover.n && !status; out->n_rigs++) {
        int k = cover.chosen[out->n_rigs];
        status = take(&of, &at[k], mask[k], &out->rig[out->n_rigs]);
    }
    return status;
}

void bf_rigset_confirm(const bf_stand *stand, const bf_unknown_peg *peg, const bf_set_rig *rig,
                       bf_rigset_confirmed *confirmed) {
    job of = job_of(stand, peg);
    bf_status status = BF_OK;
    uint64_t covers = 0;
    for (int i = 0; i < N && !status; i++) {
        double depth_m, wind_m_s;
        int holds;
        if (!(rig->covers >> i & 1)) continue;
        bf_rigset_condition(peg, i, &depth_m, &wind_m_s);
        bf_stand at = stand_at(&of, depth_m, wind_m_s);
        at.rig = rig->rig;
        status = holds_here(&of, &at, &holds);
        covers |= (uint64_t)holds << i;
    }
    *confirmed = (bf_rigset_confirmed){(double)status, (double)covers, (double)of.n_solves};
}

bf_status bf_rigset_settle(const bf_unknown_peg *peg, const bf_rigset_confirmed confirmed[],
                           bf_rig_set *out) {
    uint64_t covered = 0;
    for (int k = 0; k < out->n_rigs; k++) {
        if (confirmed[k].status != 0) return (bf_status)confirmed[k].status;
        out->rig[k].covers = (uint64_t)confirmed[k].covers;
        out->n_solves += (int)confirmed[k].n_solves;
        say_what_it_covers(peg, &out->rig[k]);
        covered |= out->rig[k].covers;
    }
    say_how_needed(out);
    most_needed_first(out);
    drop_the_needless(out);
    say_what_is_left(peg, ALL & ~covered, out);
    return BF_OK;
}

/* At the peg --------------------------------------------------------------------------------------------- */

/* Float to hook there, and how much a rig is longer than that. */
static double longer_m(const bf_set_rig *of, const bf_stand *stand) {
    return of->made_m - (stand->scene.spot.depth_m.value + stand->hold.overdepth_m.value);
}

int bf_rigset_reaches(const bf_set_rig *of, const bf_stand *stand) {
    const double rounding_m = 1e-9;
    double spare_m = longer_m(of, stand), set_m = of->made_m - spare_m;
    return spare_m >= -rounding_m && spare_m <= BF_SHORTEN_MOST_M &&
           highest_shot_m(&of->rig) + BF_FLOAT_FREE_M <= set_m;
}

bf_status bf_rigset_judge(const bf_set_rig *of, const bf_stand *stand, bf_rig *rig, bf_judged *judged) {
    bf_stand with = *stand;
    with.rig = *rig = of->rig;
    bf_status status = bf_judge(&with, judged);
    int back = bfi_most_back_shots(rig);
    if (status || judged->limit == BF_LIMIT_NONE || back == 0) return status;
    bf_judged with_back;
    bfi_put_back_shots(&with.rig, back);
    status = bf_judge(&with, &with_back);
    if (status || with_back.limit != BF_LIMIT_NONE) return status;
    *rig = with.rig;
    *judged = with_back;
    return BF_OK;
}

bf_status bf_rigset(const bf_stand *stand, const bf_unknown_peg *peg, bf_rig_set *out) {
    bf_rigset_tried tried[N];
    bf_rigset_confirmed confirmed[BF_RIGSET_MOST];
    for (int i = 0; i < N; i++) bf_rigset_try(stand, peg, i, &tried[i]);
    bf_status status = bf_rigset_choose(stand, peg, tried, out);
    if (status) return status;
    for (int k = 0; k < out->n_rigs; k++) bf_rigset_confirm(stand, peg, &out->rig[k], &confirmed[k]);
    return bf_rigset_settle(peg, confirmed, out);
}
