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
#define TRIALS_MOST 16

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
    trial last; /* the float searched last */
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

static double back_kg_of(const bf_stand *stand, int back) {
    bf_rig rig = stand->rig;
    put_back_shots(&rig, back);
    return back_kg(&rig);
}

/* The most back shots that a float of this rating may bear: the last choice that is light enough. */
static int most_back_shots(const bf_stand *stand, double rating_kg) {
    int most = 0;
    for (int back = 1; back < bf_n_back_choices; back++)
        if (back_kg_of(stand, back) <= BF_BACK_MOST_FRAC * rating_kg) most = back;
    return most;
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

static double rating_kg(const bf_stand *stand, const trial *of) {
    return of->flt == AS_IS ? stand->rig.flt.rating_kg : bf_floats[of->flt].rating_kg;
}

static int holds(const trial *of) {
    return of->judged.limit == BF_LIMIT_NONE;
}

/* 1 when a pattern would put on what the angler's own rig has. */
static int is_shotted_so(const bf_stand *stand, int pattern) {
    bf_rig rig;
    return !shot_by(stand, &stand->rig.flt, pattern, &rig) && rig.n_shots == stand->rig.n_shots &&
           memcmp(rig.shot, stand->rig.shot, sizeof *rig.shot * (size_t)rig.n_shots) == 0;
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
typedef enum among { EVERY_ONE, SAME_SHOT, OTHER_SHOT, OTHER_BACK, NO_BACK } among;

static int is_among(const bf_stand *stand, const trial *of, const trial *pick, among which) {
    switch (which) {
    case SAME_SHOT: return of->pattern == pick->pattern;
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

/* A float in every pattern, bare or with the most back shots it may bear. */
static bf_status try_float(search *in, int flt, int has_back, trials *all) {
    int back = has_back ? most_back_shots(in->stand, bf_floats[flt].rating_kg) : 0;
    bf_status status = BF_OK;
    all->n = 0;
    for (int pattern = 0; pattern < BF_N_PATTERNS && !status; pattern++)
        status = try_one(in, flt, pattern, back, all);
    return status;
}

/* The lightest float with which a pattern holds, and next to it the float below; if none does, the two nearest misses. */
static bf_status search_floats(search *in, int has_back, found *out) {
    trials all;
    for (int flt = 0; flt < bf_n_floats; flt++) {
        bf_status status = try_float(in, flt, has_back, &all);
        if (status) return status;
        trial best = *best_of(in->stand, &all, NULL, EVERY_ONE);
        int is_pick = flt == 0 || (!holds(&out->pick) && beats(&best, &out->pick));
        if (is_pick) {
            if (flt > 0) out->rival = holds(&best) ? out->last : out->pick;
            out->pick = best;
            out->among = all;
        } else if (flt == 1 || beats(&best, &out->rival))
            out->rival = best;
        if (flt > 0 && holds(&out->pick)) return BF_OK;
        out->last = best;
    }
    return BF_OK;
}

/* Bare floats first; when none holds, with as many back shots as each may bear: fewer may
 * do, which is tried on the pick. */
static bf_status search_catalogue(search *in, found *out) {
    bf_status status = search_floats(in, 0, out);
    if (status || holds(&out->pick)) return status;
    found with_back;
    status = search_floats(in, 1, &with_back);
    if (!status && beats(&with_back.pick, &out->pick)) *out = with_back;
    return status;
}

static int is_tried(const trials *all, const trial *as, int back) {
    for (int i = 0; i < all->n; i++)
        if (all->at[i].flt == as->flt && all->at[i].pattern == as->pattern && all->at[i].back == back)
            return 1;
    return 0;
}

/* Tries what other back shots do for the pick, and takes them when they are worth their weight. */
static bf_status try_back_shots(search *in, found *of) {
    bf_status status = BF_OK;
    int is_bare = of->pick.back == AS_IS && in->stand->rig.n_back_shots == 0;
    int most = most_back_shots(in->stand, rating_kg(in->stand, &of->pick));
    for (int back = is_bare; back <= most && !status; back++)
        if (!is_tried(&of->among, &of->pick, back))
            status = try_one(in, of->pick.flt, of->pick.pattern, back, &of->among);
    if (!status) of->pick = *best_of(in->stand, &of->among, &of->pick, SAME_SHOT);
    return status;
}

/* The angler's own rig: as it is, shotted otherwise, with other back shots. */
static bf_status try_own(search *in, found *own) {
    own->among.n = 0;
    bf_status status = try_one(in, AS_IS, AS_IS, AS_IS, &own->among);
    for (int pattern = 0; pattern < BF_N_PATTERNS && !status; pattern++)
        if (!is_shotted_so(in->stand, pattern)) status = try_one(in, AS_IS, pattern, AS_IS, &own->among);
    own->pick = own->among.at[0];
    return status ? status : try_back_shots(in, own);
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
    case BF_LIMIT_HIGH: return said(BF_SAID_WHY_HIGH, 0, 0, wind, 0);
    case BF_LIMIT_DROWNED: return said(BF_SAID_WHY_DROWNED, 0, 0, wind, 0);
    case BF_LIMIT_BITE: return said(BF_SAID_WHY_BITE, judged->bite_m, judged->seen_m, wind, 0);
    case BF_LIMIT_HANG: return said(BF_SAID_WHY_HANG, used * BF_HANG_MOST_M, BF_HANG_MOST_M, wind, 0);
    case BF_LIMIT_GUST: return said(BF_SAID_WHY_GUST, used * BF_GUST_MOST_M, BF_GUST_MOST_M, wind, 0);
    default: return said(BF_SAID_WHY_UNSOLVED, 0, 0, wind, 0);
    }
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
    case BF_LIMIT_HIGH: return BF_SAID_NO_FLOAT_HIGH;
    case BF_LIMIT_DROWNED: return BF_SAID_NO_FLOAT_DROWNED;
    default: return BF_SAID_NO_FLOAT_STANDS;
    }
}

/* 1 when the pick holds only by its back shots. */
static int needs_back_shots(const search *in, const found *of) {
    const trial *bare = best_of(in->stand, &of->among, &of->pick, NO_BACK);
    return holds(&of->pick) && of->pick.back > 0 && bare && !holds(bare);
}

static int this_float_because(const search *in, const found *of, int has_rig) {
    int needs = needs_back_shots(in, of);
    if (of->pick.flt == AS_IS) return needs ? BF_SAID_YOURS_HOLDS_BACK : BF_SAID_YOURS_HOLDS;
    if (has_rig) return BF_SAID_YOURS_FAILS;
    return needs ? BF_SAID_LIGHTEST_BACK : BF_SAID_LIGHTEST;
}

static bf_suggested about_float(const search *in, const found *of, int has_rig) {
    const bf_judged *is = &of->pick.judged;
    bf_suggested item = {of->pick.flt,
                         of->rival.flt,
                         float_name(in->stand, &of->pick),
                         said(this_float_because(in, of, has_rig), is->hang_m, is->worst_hang_m,
                              is->worst_wind_m_s, is->worst_gust_m),
                         float_name(in->stand, &of->rival),
                         why_not_that_float(in, &of->rival, &of->pick)};
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

static int is_same(double a_m, double b_m) {
    return a_m - b_m < BF_SAME_M && b_m - a_m < BF_SAME_M;
}

static bf_said why_not_that_shot(const search *in, const trial *rival, const trial *pick) {
    double would_m = rival->judged.worst_hang_m, is_m = pick->judged.worst_hang_m;
    if (!holds(rival)) return why_it_fails(in, &rival->judged);
    int code = is_same(would_m, is_m) ? BF_SAID_WHY_SAME
               : would_m < is_m       ? BF_SAID_WHY_NEARER
                                      : BF_SAID_WHY_FURTHER;
    return said(code, would_m, is_m, 0, 0);
}

static bf_suggested about_shot(const search *in, const found *of) {
    const bf_judged *is = &of->pick.judged;
    const trial *other = best_of(in->stand, &of->among, &of->pick, OTHER_SHOT);
    int code = is->worst_hang_m != is->worst_hang_m ? BF_SAID_SHOT_NO_MATTER
               : !holds(&of->pick)                  ? BF_SAID_SHOT_MISSES_LEAST
               : of->pick.pattern == AS_IS          ? BF_SAID_YOUR_SHOT_HOLDS
                                                    : BF_SAID_HANGS_LEAST;
    return (bf_suggested){of->pick.pattern,     other->pattern,
                          shot_name(&of->pick), said(code, is->worst_hang_m, is->worst_wind_m_s, 0, 0),
                          shot_name(other),     why_not_that_shot(in, other, &of->pick)};
}

static bf_said back_name(const bf_stand *stand, const trial *of) {
    if (of->back == AS_IS && stand->rig.n_back_shots > 0) return said(BF_SAID_YOUR_BACK, 0, 0, 0, 0);
    if (of->back <= 0) return said(BF_SAID_NO_BACK, 0, 0, 0, 0);
    bf_rig rig = stand->rig;
    put_back_shots(&rig, of->back);
    return said(BF_SAID_BACK, rig.back_shot[0].count, rig.back_shot[0].size, rig.back_shot[0].at_m, 0);
}

/* Of a pick with back shots against the same without; of a bare one against the best with some. */
static bf_said why_back_shots(int has_back, const trial *pick, const trial *bare, const trial *other) {
    double is_m = pick->judged.worst_hang_m;
    if (!holds(pick)) return said(has_back ? BF_SAID_BACK_NEARER : BF_SAID_BACK_NO_HELP, 0, 0, 0, 0);
    if (has_back && bare)
        return said(holds(bare) ? BF_SAID_BACK_WORTH : BF_SAID_BACK_NEEDED, is_m, bare->judged.worst_hang_m,
                    0, 0);
    if (is_m < BF_SAME_M) return said(BF_SAID_BACK_NO_NEED, 0, 0, 0, 0);
    if (!other) return said(BF_SAID_BACK_TOO_HEAVY, 0, 0, 0, 0);
    return said(holds(other) ? BF_SAID_BACK_NOT_WORTH : BF_SAID_BACK_NO_HELP, other->judged.worst_hang_m,
                is_m, 0, 0);
}

static bf_said why_not_those_back_shots(const search *in, const trial *rival, const trial *pick) {
    double would_m = rival->judged.worst_hang_m, is_m = pick->judged.worst_hang_m;
    if (!holds(rival)) return why_it_fails(in, &rival->judged);
    int code = is_same(would_m, is_m) ? BF_SAID_WHY_SAME
               : would_m < is_m       ? BF_SAID_WHY_BACK_MORE
                                      : BF_SAID_WHY_BACK_LESS;
    return said(code, would_m, is_m, 0, 0);
}

static bf_suggested about_back_shots(const search *in, const found *of) {
    const trial *other = best_of(in->stand, &of->among, &of->pick, OTHER_BACK);
    const trial *bare = best_of(in->stand, &of->among, &of->pick, NO_BACK);
    bf_suggested item = {
        .choice = of->pick.back, .runner_up = AS_IS, .choose = back_name(in->stand, &of->pick)};
    item.because = why_back_shots(item.choose.code != BF_SAID_NO_BACK, &of->pick, bare, other);
    if (other) {
        item.runner_up = other->back;
        item.other = back_name(in->stand, other);
        item.why_not = why_not_those_back_shots(in, other, &of->pick);
    }
    return item;
}

/* All of it ---------------------------------------------------------------------------------------------- */

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

    bf_status status = search_catalogue(&in, &catalogue);
    if (!status) status = try_back_shots(&in, &catalogue);
    if (!status && ask->has_rig) status = try_own(&in, &own);
    if (status) return status;
    pick = catalogue;
    if (ask->has_rig) {
        choose(&own, &catalogue, &pick);
        status = bfi_judge(stand, &in.winds, 0, &out->own, &in.n_solves);
        if (status) return status;
    }

    bf_stand with = *stand;
    status = build(stand, &pick.pick, &with.rig);
    if (!status && !holds(&pick.pick))
        status = bfi_judge(&with, &in.winds, 0, &pick.pick.judged, &in.n_solves);
    if (status) return status; /* no float carries as much as the smallest shot */
    out->rig = with.rig;
    out->judged = pick.pick.judged;
    out->holds = holds(&pick.pick);
    out->is_own = pick.pick.flt == AS_IS;
    out->item[BF_SUGGEST_FLOAT] = about_float(&in, &pick, ask->has_rig);
    out->item[BF_SUGGEST_SHOT] = about_shot(&in, &pick);
    out->item[BF_SUGGEST_BACK_SHOTS] = about_back_shots(&in, &pick);
    out->item[BF_SUGGEST_POT] = bfi_suggest_pot(&stand->scene, ask);
    out->item[BF_SUGGEST_LAY_IN] = bfi_suggest_lay(&with);
    out->n_solves = in.n_solves;
    return BF_OK;
}

bf_status bfi_lightest_float(const bf_stand *stand, int *i_float) {
    search in = {stand, bfi_winds_of(stand), 0};
    found of;
    bf_status status = search_catalogue(&in, &of);
    *i_float = !status && holds(&of.pick) ? of.pick.flt : -1;
    return status;
}
