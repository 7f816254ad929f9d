/* suggest.c -- see suggest.h: the lightest float that holds, its shot and back shots, and why not the next. */
#include "baitfall/suggest.h"

#include <string.h>

#include "judging.h"
#include "suggest_feed.h"

const char *const bf_suggest_words[] = {"float", "shot", "pot", "back shots", "lay-in"};

const bf_back_choice bf_back_choices[] = {
    {0, "No 10", 0.20}, {1, "No 12", 0.20}, {1, "No 10", 0.20}, {2, "No 10", 0.20}, {3, "No 10", 0.20},
};
const int bf_n_back_choices = sizeof bf_back_choices / sizeof bf_back_choices[0];

const char *bf_said_sentence(int code) {
    static const char *const sentences[] = {
#define SENTENCE(name, sentence) sentence,
        BF_SAID_LIST(SENTENCE)
#undef SENTENCE
    };
    return sentences[code];
}

/* Candidates --------------------------------------------------------------------------------------------- */

#define AS_IS (-1) /* of float, pattern or back shots: as the stand's own rig has it */
#define FLOATS_MOST 32
#define TRIALS_MOST 32

/* One candidate, tried. */
typedef struct trial {
    int flt, pattern, back;
    bf_judged judged;
    double price_m; /* hang in the worst wind and what its back shots must gain: less is better */
} trial;

/* Candidates tried against each other. */
typedef struct trials {
    int n;
    trial at[TRIALS_MOST];
} trials;

typedef struct search {
    const bf_stand *stand;
    bfi_winds winds;
    int n_solves;
} search;

/* What a search found: the pick among the trials of its float, and the pick of another float. */
typedef struct found {
    trials among;
    trial pick, rival;
} found;

static void put_back_shots(bf_rig *rig, int back) {
    const bf_back_choice *choice = &bf_back_choices[back];
    double most_m = rig->tip_to_float_m / 2; /* on a short line: half-way up */
    rig->n_back_shots = 0;
    if (choice->count == 0) return;
    bf_shot *shot = &rig->back_shot[rig->n_back_shots++];
    bf_record_start(&bf_back_shot_table, shot);
    shot->size = bf_shot_size_find(choice->size);
    shot->count = choice->count;
    shot->at_m = choice->above_m < most_m ? choice->above_m : most_m;
    shot->apart_m = 0;
}

static double back_kg(const bf_rig *rig) {
    double sum = 0;
    for (int i = 0; i < rig->n_back_shots; i++)
        sum += rig->back_shot[i].count * bf_shot_mass_kg(&rig->back_shot[i], rig->shot_error.value);
    return sum;
}

static bf_status shot_by(const bf_stand *stand, const bf_float *flt, int pattern, bf_rig *rig) {
    int metal = stand->rig.n_shots > 0 ? stand->rig.shot[0].metal : BF_LEAD;
    double wet_m = stand->scene.spot.depth_m.value + stand->hold.overdepth_m.value;
    *rig = stand->rig;
    rig->flt = *flt;
    if (!(wet_m > 0)) return BF_E_MODEL_RANGE;
    rig->n_shots = bf_pattern_shot(rig, pattern, metal, wet_m, bf_lake_density_kg_m3(&stand->scene.lake));
    return rig->n_shots > 0 ? BF_OK : BF_E_MODEL_RANGE;
}

bf_status bf_suggest_rig(const bf_stand *stand, int i_float, int pattern, bf_rig *rig) {
    bf_float flt = bf_float_settled(&bf_floats[i_float]);
    bf_status status = shot_by(stand, &flt, pattern, rig);
    rig->n_back_shots = 0;
    return status;
}

static bf_status build(const bf_stand *stand, const trial *of, bf_rig *rig) {
    bf_status status = BF_OK;
    if (of->flt != AS_IS)
        status = bf_suggest_rig(stand, of->flt, of->pattern, rig);
    else if (of->pattern != AS_IS)
        status = shot_by(stand, &stand->rig.flt, of->pattern, rig);
    else
        *rig = stand->rig;
    if (of->back != AS_IS) put_back_shots(rig, of->back);
    return status;
}

static int holds(const trial *of) {
    return of->judged.limit == BF_LIMIT_NONE;
}

/* Builds a candidate and judges it; one that cannot be built does not hold. */
static bf_status try_one(search *in, int flt, int pattern, int back, trials *all) {
    trial *of = &all->at[all->n++];
    bf_stand with = *in->stand;
    *of = (trial){flt, pattern, back, bfi_unjudged(), BF_INFINITY};
    if (build(in->stand, of, &with.rig)) return BF_OK;
    bf_status status = bfi_judge(&with, &in->winds, 1, &of->judged, &in->n_solves);
    if (holds(of)) of->price_m = of->judged.worst_hang_m + BF_BACK_GAIN_M_PER_KG * back_kg(&with.rig);
    return status;
}

/* 1 when a is to be taken rather than b, which was met earlier. */
static int beats(const trial *a, const trial *b) {
    if (holds(a) != holds(b)) return holds(a);
    if (holds(a)) return a->price_m < b->price_m - BF_SAME_M;
    return a->judged.miss_frac < b->judged.miss_frac;
}

/* Which trials of a float are asked about, given the pick. */
typedef enum among { EVERY_ONE, OWN_SHOT, OTHER_SHOT, OTHER_BACK, NO_BACK } among;

static int is_among(const bf_stand *stand, const trial *of, const trial *pick, among which) {
    switch (which) {
    case OWN_SHOT: return of->pattern == AS_IS;
    case OTHER_SHOT: return of->pattern != pick->pattern;
    case OTHER_BACK: return of->pattern == pick->pattern && of->back != pick->back;
    case NO_BACK:
        return of->pattern == pick->pattern &&
               (of->back == 0 || (of->back == AS_IS && stand->rig.n_back_shots == 0));
    default: return 1;
    }
}

/* The best of them, NULL when there is none. */
static const trial *best_of(const bf_stand *stand, const trials *all, const trial *pick, among which) {
    const trial *best = NULL;
    for (int i = 0; i < all->n; i++)
        if (is_among(stand, &all->at[i], pick, which) && (!best || beats(&all->at[i], best)))
            best = &all->at[i];
    return best;
}

/* Searches ----------------------------------------------------------------------------------------------- */

static bf_status try_float(search *in, int flt, trials *all) {
    bf_status status = BF_OK;
    all->n = 0;
    for (int pattern = 0; pattern < BF_N_PATTERNS; pattern++)
        for (int back = 0; back < bf_n_back_choices && !status; back++)
            status = try_one(in, flt, pattern, back, all);
    return status;
}

/* The angler's own rig: as it is, with other back shots, and shotted otherwise. */
static bf_status try_own(search *in, trials *all) {
    bf_status status = BF_OK;
    int bare = in->stand->rig.n_back_shots == 0;
    all->n = 0;
    for (int back = AS_IS; back < bf_n_back_choices && !status; back++)
        if (!(back == 0 && bare)) status = try_one(in, AS_IS, AS_IS, back, all);
    for (int pattern = 0; pattern < BF_N_PATTERNS && !status; pattern++)
        status = try_one(in, AS_IS, pattern, AS_IS, all);
    return status;
}

/* The lightest float of the catalogue that holds, or the nearest miss. */
static bf_status search_floats(search *in, found *out) {
    trial best[FLOATS_MOST];
    int i, nearest = 0, next = -1;
    BF_ASSERT(bf_n_floats >= 2 && bf_n_floats <= FLOATS_MOST);
    for (i = 0; i < bf_n_floats; i++) {
        bf_status status = try_float(in, i, &out->among);
        if (status) return status;
        best[i] = *best_of(in->stand, &out->among, NULL, EVERY_ONE);
        if (holds(&best[i])) break;
    }
    if (i < bf_n_floats) {
        out->pick = best[i];
        if (i > 0) {
            out->rival = best[i - 1];
            return BF_OK;
        }
        trials heavier;
        bf_status status = try_float(in, 1, &heavier);
        out->rival = *best_of(in->stand, &heavier, NULL, EVERY_ONE);
        return status;
    }
    for (i = 1; i < bf_n_floats; i++)
        if (beats(&best[i], &best[nearest])) nearest = i;
    for (i = 0; i < bf_n_floats; i++)
        if (i != nearest && (next < 0 || beats(&best[i], &best[next]))) next = i;
    out->pick = best[nearest];
    out->rival = best[next];
    return try_float(in, nearest, &out->among);
}

/* Sentences ---------------------------------------------------------------------------------------------- */

static bf_said said(int code, double a, double b, double c, double d) {
    return (bf_said){code, {a, b, c, d}};
}

static double failing_wind_m_s(const search *in, const bf_judged *judged) {
    for (int i = 0; i < in->winds.n; i++)
        if (in->winds.in_wind[i] == judged->in_wind) return in->winds.m_s[i];
    return BF_NAN;
}

/* What keeps a rig from holding. */
static bf_said why_it_fails(const search *in, const bf_judged *judged) {
    double wind = failing_wind_m_s(in, judged), used = judged->miss_frac;
    switch (judged->limit) {
    case BF_LIMIT_LIFTED: return said(BF_SAID_WHY_LIFTED, 0, 0, wind, 0);
    case BF_LIMIT_DROWNED: return said(BF_SAID_WHY_DROWNED, 0, 0, wind, 0);
    case BF_LIMIT_BITE: return said(BF_SAID_WHY_BITE, judged->bite_m, judged->seen_m, wind, 0);
    case BF_LIMIT_HANG: return said(BF_SAID_WHY_HANG, used * BF_HANG_MOST_M, BF_HANG_MOST_M, wind, 0);
    case BF_LIMIT_GUST: return said(BF_SAID_WHY_GUST, used * BF_GUST_MOST_M, BF_GUST_MOST_M, wind, 0);
    default: return said(BF_SAID_WHY_UNSOLVED, 0, 0, wind, 0);
    }
}

static double rating_kg(const bf_stand *stand, const trial *of) {
    return of->flt == AS_IS ? stand->rig.flt.rating_kg : bf_floats[of->flt].rating_kg;
}

static bf_said float_name(const bf_stand *stand, const trial *of) {
    return said(of->flt == AS_IS ? BF_SAID_YOURS : BF_SAID_FLOAT, rating_kg(stand, of), 0, 0, 0);
}

static bf_said why_not_that_float(const search *in, const trial *rival, const trial *pick) {
    const bf_judged *would = &rival->judged, *is = &pick->judged;
    if (!holds(rival)) return why_it_fails(in, would);
    int code = rating_kg(in->stand, rival) < rating_kg(in->stand, pick) ? BF_SAID_LIGHTER_HOLDS
               : would->worst_gust_m < is->worst_gust_m                 ? BF_SAID_STEADIER
                                                                        : BF_SAID_WHY_HEAVIER;
    return said(code, would->worst_hang_m, is->worst_hang_m, would->worst_gust_m, is->worst_gust_m);
}

static int nothing_holds_because(const bf_judged *nearest) {
    switch (nearest->limit) {
    case BF_LIMIT_HANG: return BF_SAID_NO_FLOAT_HANG;
    case BF_LIMIT_GUST: return BF_SAID_NO_FLOAT_GUST;
    case BF_LIMIT_BITE: return BF_SAID_NO_FLOAT_BITE;
    default: return BF_SAID_NO_FLOAT_STANDS;
    }
}

static bf_suggested about_float(const search *in, const found *of, int has_rig) {
    const bf_judged *is = &of->pick.judged;
    bf_suggested item = {of->pick.flt,
                         of->rival.flt,
                         float_name(in->stand, &of->pick),
                         said(BF_SAID_NOTHING, 0, 0, 0, 0),
                         float_name(in->stand, &of->rival),
                         why_not_that_float(in, &of->rival, &of->pick)};
    int code = of->pick.flt == AS_IS ? BF_SAID_YOURS_HOLDS : has_rig ? BF_SAID_YOURS_FAILS : BF_SAID_LIGHTEST;
    item.because = said(code, is->hang_m, is->worst_hang_m, is->worst_wind_m_s, is->worst_gust_m);
    if (!holds(&of->pick)) {
        item.because = why_it_fails(in, is);
        item.because.code = nothing_holds_because(is);
    }
    return item;
}

static bf_said shot_name(const trial *of) {
    return of->pattern == AS_IS ? said(BF_SAID_YOUR_SHOT, 0, 0, 0, 0)
                                : said(BF_SAID_PATTERN, of->pattern, 0, 0, 0);
}

static bf_suggested about_shot(const search *in, const found *of) {
    const bf_judged *is = &of->pick.judged;
    const trial *other = best_of(in->stand, &of->among, &of->pick, OTHER_SHOT);
    bf_suggested item = {of->pick.pattern,     other->pattern,
                         shot_name(&of->pick), said(BF_SAID_NOTHING, 0, 0, 0, 0),
                         shot_name(other),     why_it_fails(in, &other->judged)};
    int code = !holds(&of->pick)           ? BF_SAID_SHOT_MISSES_LEAST
               : of->pick.pattern == AS_IS ? BF_SAID_YOUR_SHOT_HOLDS
                                           : BF_SAID_HANGS_LEAST;
    item.because = said(code, is->worst_hang_m, is->worst_wind_m_s, 0, 0);
    if (holds(other)) {
        code = other->judged.worst_hang_m < is->worst_hang_m ? BF_SAID_WHY_NEARER : BF_SAID_WHY_FURTHER;
        item.why_not = said(code, other->judged.worst_hang_m, is->worst_hang_m, 0, 0);
    }
    return item;
}

static bf_said back_name(const bf_stand *stand, const trial *of) {
    if (of->back == AS_IS && stand->rig.n_back_shots > 0) return said(BF_SAID_YOUR_BACK, 0, 0, 0, 0);
    if (of->back <= 0) return said(BF_SAID_NO_BACK, 0, 0, 0, 0);
    bf_rig rig = stand->rig;
    put_back_shots(&rig, of->back);
    return said(BF_SAID_BACK, rig.back_shot[0].count, rig.back_shot[0].size, rig.back_shot[0].at_m, 0);
}

static bf_suggested about_back_shots(const search *in, const found *of) {
    const bf_judged *is = &of->pick.judged;
    const trial *other = best_of(in->stand, &of->among, &of->pick, OTHER_BACK);
    const trial *bare = best_of(in->stand, &of->among, &of->pick, NO_BACK);
    bf_suggested item = {of->pick.back,
                         other->back,
                         back_name(in->stand, &of->pick),
                         said(BF_SAID_NOTHING, 0, 0, 0, 0),
                         back_name(in->stand, other),
                         why_it_fails(in, &other->judged)};
    int has_back = bare != &of->pick && item.choose.code != BF_SAID_NO_BACK;
    if (!has_back)
        item.because = said(BF_SAID_BACK_NOT_WORTH, other->judged.worst_hang_m, is->worst_hang_m, 0, 0);
    else
        item.because =
            said(BF_SAID_BACK_WORTH, is->worst_hang_m, bare ? bare->judged.worst_hang_m : BF_NAN, 0, 0);
    if (holds(other)) {
        int code =
            other->judged.worst_hang_m < is->worst_hang_m ? BF_SAID_WHY_BACK_MORE : BF_SAID_WHY_BACK_LESS;
        item.why_not = said(code, other->judged.worst_hang_m, is->worst_hang_m, 0, 0);
    }
    return item;
}

/* All of it ---------------------------------------------------------------------------------------------- */

/* What the angler's own rig comes to, and whether it is the one to fish. */
static bf_status weigh_own(search *in, found *own) {
    bf_status status = try_own(in, &own->among);
    own->pick = *best_of(in->stand, &own->among, NULL, OWN_SHOT);
    return status;
}

/* The angler's own rig before the catalogue's: it is kept when it holds, or when nothing does and it comes nearer. */
static void choose(const found *own, const found *catalogue, found *out) {
    int keeps_own = holds(&own->pick) || (!holds(&catalogue->pick) && !beats(&catalogue->pick, &own->pick));
    *out = keeps_own ? *own : *catalogue;
    out->rival = keeps_own ? catalogue->pick : own->pick;
}

bf_status bf_suggest(const bf_stand *stand, const bf_suggest_ask *ask, bf_suggestion *out) {
    search in = {stand, bfi_winds_of(stand), 0};
    found own, catalogue, pick;
    memset(out, 0, sizeof *out);
    out->judged = out->own = bfi_unjudged();

    bf_status status = search_floats(&in, &catalogue);
    if (!status && ask->has_rig) status = weigh_own(&in, &own);
    if (status) return status;
    pick = catalogue;
    if (ask->has_rig) {
        choose(&own, &catalogue, &pick);
        status = bfi_judge(stand, &in.winds, 0, &out->own, &in.n_solves);
        if (status) return status;
    }

    bf_stand with = *stand;
    status = build(stand, &pick.pick, &with.rig);
    if (!status) status = bfi_judge(&with, &in.winds, 0, &pick.pick.judged, &in.n_solves);
    if (status) return status; /* no float carries as much as the smallest shot */
    out->rig = with.rig;
    out->judged = pick.pick.judged;
    out->holds = holds(&pick.pick);
    out->is_own = pick.pick.flt == AS_IS;
    out->item[BF_SUGGEST_FLOAT] = about_float(&in, &pick, ask->has_rig);
    out->item[BF_SUGGEST_SHOT] = about_shot(&in, &pick);
    out->item[BF_SUGGEST_BACK_SHOTS] = about_back_shots(&in, &pick);
    out->item[BF_SUGGEST_POT] = bfi_suggest_pot(&stand->scene, ask);
    out->n_solves = in.n_solves;
    return BF_OK;
}

bf_status bfi_lightest_float(const bf_stand *stand, int *i_float) {
    search in = {stand, bfi_winds_of(stand), 0};
    found of;
    bf_status status = search_floats(&in, &of);
    *i_float = !status && holds(&of.pick) ? of.pick.flt : -1;
    return status;
}
