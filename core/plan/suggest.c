/* suggest.c -- see suggest.h: the search for the lightest float that holds, its shot and back shots. */
#include "baitfall/suggest.h"

#include <string.h>

#include "search.h"
#include "suggest_feed.h"

const char *const bf_suggest_words[] = {"float", "shot", "pot", "back shots", "lay-in"};

typedef struct search {
    const bf_stand *stand;
    bfi_winds winds;
    bfi_depth depth; /* of judging candidates */
    int n_solves;
    int is_rival;                  /* of the catalogue only the pick is asked about */
    const bf_suggest_tried *tried; /* NULL: none tried before                       */
} search;

/* Trials ------------------------------------------------------------------------------------------------- */

int bfi_holds(const bfi_trial *of) {
    return of->judged.limit == BF_LIMIT_NONE;
}

static bf_status build(const bf_stand *stand, const bfi_trial *of, bf_rig *rig) {
    bf_status status = BF_OK;
    if (of->flt != BFI_AS_IS)
        status = bf_suggest_rig(stand, of->flt, of->pattern, rig);
    else if (of->pattern != BFI_AS_IS)
        status = bfi_shot_by(stand, &stand->rig.flt, of->pattern, rig);
    else
        *rig = stand->rig;
    if (of->back != BFI_AS_IS) bfi_put_back_shots(rig, of->back);
    return status;
}

/* Builds a candidate and judges it; one that cannot be built does not hold. */
static bf_status judge_trial(search *in, bfi_depth depth, bfi_trial *of) {
    bf_stand with = *in->stand;
    bf_status unbuilt = build(in->stand, of, &with.rig);
    of->rating_kg = with.rig.flt.rating_kg;
    if (unbuilt) return BF_OK;
    bf_status status = bfi_judge(&with, &in->winds, depth, &of->judged, &in->n_solves);
    if (bfi_holds(of)) of->price_m = of->judged.worst_hang_m + BF_BACK_GAIN_M_PER_KG * bfi_back_kg(&with.rig);
    return status;
}

static bfi_trial untried(int flt, int pattern, int back) {
    return (bfi_trial){flt, pattern, back, BF_NAN, bfi_unjudged(), BF_INFINITY};
}

/* What came of one that was tried before. */
static bf_status take_tried(search *in, const bf_suggest_tried *tried, bfi_trial *of) {
    *of = (bfi_trial){(int)tried->flt,  (int)tried->pattern, (int)tried->back,
                      tried->rating_kg, tried->judged,       tried->price_m};
    in->n_solves += (int)tried->n_solves;
    return (bf_status)(int)tried->status;
}

/* Of the own rig, tried before; NULL: it was not. */
static const bf_suggest_tried *tried_as(const search *in, const bfi_trial *of) {
    for (int k = 0; in->tried && of->flt == BFI_AS_IS && k < BF_SUGGEST_TRIES; k++) {
        const bf_suggest_tried *tried = &in->tried[k];
        if (tried->flt == of->flt && tried->pattern == of->pattern && tried->back == of->back) return tried;
    }
    return NULL;
}

static bf_status try_one(search *in, int flt, int pattern, int back, bfi_trials *all) {
    BF_ASSERT(all->n < BFI_TRIALS_MOST);
    bfi_trial *of = &all->at[all->n++];
    *of = untried(flt, pattern, back);
    const bf_suggest_tried *tried = tried_as(in, of);
    return tried ? take_tried(in, tried, of) : judge_trial(in, in->depth, of);
}

/* 1 when a is to be taken rather than b, which was met earlier. */
static int beats(const bfi_trial *a, const bfi_trial *b) {
    if (bfi_holds(a) != bfi_holds(b)) return bfi_holds(a);
    if (bfi_holds(a)) return a->price_m < b->price_m - BF_SAME_M;
    return a->judged.miss_frac < b->judged.miss_frac;
}

static int is_asked(const bfi_found *among, const bfi_trial *of, bfi_which which) {
    const bfi_trial *pick = &among->pick;
    int is_bare = of->back == 0 || (of->back == BFI_AS_IS && among->stand->rig.n_back_shots == 0);
    switch (which) {
    case BFI_SAME_SHOT: return of->pattern == pick->pattern;
    case BFI_OTHER_SHOT: return of->pattern != pick->pattern;
    case BFI_OTHER_BACK: return of->pattern == pick->pattern && of->back != pick->back;
    case BFI_NO_BACK: return of->pattern == pick->pattern && is_bare;
    default: return 1;
    }
}

const bfi_trial *bfi_best(const bfi_found *of, bfi_which which) {
    const bfi_trial *best = NULL;
    for (int i = 0; i < of->among.n; i++) {
        const bfi_trial *one = &of->among.at[i];
        if (is_asked(of, one, which) && (!best || beats(one, best))) best = one;
    }
    return best;
}

/* The catalogue ------------------------------------------------------------------------------------------ */

/* A float in every pattern, bare or with the most back shots it may bear. */
static bf_status try_float(search *in, int flt, int has_back, bfi_trials *all) {
    bf_rig rig = in->stand->rig;
    bf_status status = BF_OK;
    rig.flt = bf_floats[flt];
    int back = has_back ? bfi_most_back_shots(&rig) : 0;
    all->n = 0;
    for (int pattern = 0; pattern < BF_N_PATTERNS && !status; pattern++)
        status = try_one(in, flt, pattern, back, all);
    return status;
}

/* The lightest float with which a pattern holds, and next to it the float below; if none does, the two nearest misses. */
static bf_status search_floats(search *in, int has_back, bfi_found *out) {
    bfi_found here = {.stand = in->stand};
    for (int flt = 0; flt < bf_n_floats; flt++) {
        bf_status status = try_float(in, flt, has_back, &here.among);
        if (status) return status;
        bfi_trial best = *bfi_best(&here, BFI_EVERY_ONE);
        int is_pick = flt == 0 || (!bfi_holds(&out->pick) && beats(&best, &out->pick));
        if (is_pick) {
            if (flt > 0) out->rival = bfi_holds(&best) ? out->last : out->pick;
            out->pick = best;
            out->among = here.among;
        } else if (flt == 1 || beats(&best, &out->rival))
            out->rival = best;
        if (flt > 0 && bfi_holds(&out->pick)) break;
        out->last = best;
    }
    out->stand = in->stand;
    out->is_shortened = 0;
    return BF_OK;
}

/* Judges anew those of a float's candidates that do not hold. */
static bf_status look_closer(search *in, bfi_trials *all) {
    bf_status status = BF_OK;
    for (int i = 0; i < all->n && !status; i++)
        if (!bfi_holds(&all->at[i])) status = judge_trial(in, BFI_TO_LIMIT, &all->at[i]);
    return status;
}

/* The same, told from sketches where they leave no doubt; only what is said of it is looked at closely: the pick's other patterns,
 * and the float below. When none holds, the misses are, all of them. */
static bf_status search_quickly(search *in, int has_back, bfi_found *out) {
    bfi_found below = {.stand = in->stand};
    in->depth = BFI_WHETHER;
    bf_status status = search_floats(in, has_back, out);
    in->depth = BFI_TO_LIMIT;
    if (status) return status;
    if (!bfi_holds(&out->pick)) return search_floats(in, has_back, out);
    if (in->is_rival) return BF_OK;
    status = look_closer(in, &out->among);
    int flt = out->pick.flt > 0 ? out->pick.flt - 1 : 1; /* or the one above the lightest */
    if (!status) status = try_float(in, flt, has_back, &below.among);
    if (!status) out->rival = *bfi_best(&below, BFI_EVERY_ONE);
    return status;
}

/* Bare floats first; when none holds, with as many back shots as each may bear: fewer may do, which is tried later. */
static bf_status search_line(search *in, bfi_found *out) {
    bf_status status = search_quickly(in, 0, out);
    if (status || bfi_holds(&out->pick)) return status;
    bfi_found with_back;
    status = search_quickly(in, 1, &with_back);
    if (!status && beats(&with_back.pick, &out->pick)) *out = with_back;
    return status;
}

/* When nothing holds on the line as given, one with little slack and back shots is tried, if it may be made so. */
static bf_status search_catalogue(search *in, const bf_stand *shorter, bfi_found *out) {
    bf_status status = search_line(in, out);
    if (status || bfi_holds(&out->pick) || !shorter) return status;
    bfi_found tight;
    in->stand = shorter;
    status = search_quickly(in, 1, &tight);
    if (!status && beats(&tight.pick, &out->pick)) {
        *out = tight;
        out->is_shortened = 1;
    }
    in->stand = out->stand;
    return status;
}

static int is_tried(const bfi_trials *all, const bfi_trial *as, int back) {
    for (int i = 0; i < all->n; i++)
        if (all->at[i].flt == as->flt && all->at[i].pattern == as->pattern && all->at[i].back == back)
            return 1;
    return 0;
}

/* 1 when a choice of back shots cannot come out better than the pick, however little the rig would hang with it. */
static int is_too_dear(const bfi_found *of, const bf_rig *rig, int back) {
    bf_rig with = *rig;
    bfi_put_back_shots(&with, back);
    return BF_BACK_GAIN_M_PER_KG * bfi_back_kg(&with) >= of->pick.price_m - BF_SAME_M;
}

/* Tries what other back shots do for the pick, and takes them when they are worth their weight. The lightest are tried in
 * any case, to be told of. */
static bf_status try_back_shots(search *in, bfi_found *of) {
    bf_rig rig;
    bf_status status = BF_OK;
    if (build(of->stand, &of->pick, &rig)) return BF_OK;
    int is_bare = of->pick.back == BFI_AS_IS && rig.n_back_shots == 0, most = bfi_most_back_shots(&rig);
    for (int back = is_bare; back <= most && !status; back++)
        if (!is_tried(&of->among, &of->pick, back) && !(back > 1 && is_too_dear(of, &rig, back)))
            status = try_one(in, of->pick.flt, of->pick.pattern, back, &of->among);
    if (!status) of->pick = *bfi_best(of, BFI_SAME_SHOT);
    return status;
}

/* The angler's own rig ----------------------------------------------------------------------------------- */

static int is_same_row(const bf_shot *a, const bf_shot *b) {
    int is_weighed = a->mass_kg == a->mass_kg || b->mass_kg == b->mass_kg;
    return (is_weighed ? a->mass_kg == b->mass_kg : a->size == b->size) && a->metal == b->metal &&
           a->count == b->count && a->at_m == b->at_m && a->apart_m == b->apart_m;
}

/* 1 when a pattern would put on what the rig has. */
static int is_shotted_so(const bf_stand *stand, int pattern) {
    bf_rig rig;
    if (bfi_shot_by(stand, &stand->rig.flt, pattern, &rig) || rig.n_shots != stand->rig.n_shots) return 0;
    for (int i = 0; i < rig.n_shots; i++)
        if (!is_same_row(&rig.shot[i], &stand->rig.shot[i])) return 0;
    return 1;
}

/* As it is, shotted otherwise, with other back shots. */
static bf_status try_own(search *in, bfi_found *own) {
    own->stand = in->stand;
    own->is_shortened = 0;
    own->among.n = 0;
    bf_status status = try_one(in, BFI_AS_IS, BFI_AS_IS, BFI_AS_IS, &own->among);
    for (int pattern = 0; pattern < BF_N_PATTERNS && !status; pattern++)
        if (!is_shotted_so(in->stand, pattern))
            status = try_one(in, BFI_AS_IS, pattern, BFI_AS_IS, &own->among);
    own->pick = own->among.at[0];
    return status ? status : try_back_shots(in, own);
}

/* It comes before the catalogue's: it is kept when it holds, or when nothing does and it comes nearer. */
static void choose(const bfi_found *own, const bfi_found *catalogue, bfi_found *out) {
    int keeps_own =
        bfi_holds(&own->pick) || (!bfi_holds(&catalogue->pick) && !beats(&catalogue->pick, &own->pick));
    *out = keeps_own ? *own : *catalogue;
    out->rival = keeps_own ? catalogue->pick : own->pick;
}

/* All of it ---------------------------------------------------------------------------------------------- */

/* The stand with as little slack above the float as BF_SHORT_SLACK_M; NULL when it has no more, or the line is said. */
static const bf_stand *with_short_line(const bf_stand *stand, const bf_suggest_ask *ask, bf_stand *shorter) {
    double short_m = stand->hold.tip_height_m.value + BF_SHORT_SLACK_M;
    if (ask->has_rig || stand->rig.tip_to_float_m <= short_m) return NULL;
    *shorter = *stand;
    shorter->rig.tip_to_float_m = short_m;
    return shorter;
}

/* The catalogue's pick, with the back shots that are worth it. */
static bf_status pick_from_catalogue(search *in, const bf_stand *shorter, bfi_found *out) {
    const bf_stand *given = in->stand;
    if (in->is_rival && in->tried) return take_tried(in, &in->tried[0], &out->pick);
    bf_status status = search_catalogue(in, shorter, out);
    if (!status) status = try_back_shots(in, out);
    in->stand = given;
    return status;
}

/* The search, and what it is judged to be; a nearest miss once more in all winds. */
static bf_status search_all(search *in, const bf_stand *shorter, int has_rig, bfi_found *out, bf_rig *rig) {
    bfi_found own, catalogue = {.stand = in->stand};
    bf_status status = has_rig ? try_own(in, &own) : BF_OK;
    if (status) return status;
    in->is_rival = has_rig && bfi_holds(&own.pick);
    status = pick_from_catalogue(in, shorter, &catalogue);
    if (status) return status;
    if (has_rig)
        choose(&own, &catalogue, out);
    else
        *out = catalogue;

    bf_stand with = *out->stand;
    status = build(out->stand, &out->pick, &with.rig);
    if (!status && !bfi_holds(&out->pick))
        status = bfi_judge(&with, &in->winds, BFI_IN_ALL, &out->pick.judged, &in->n_solves);
    *rig = with.rig;
    return status;
}

static int is_as_it_is(const bfi_trial *of) {
    return of->flt == BFI_AS_IS && of->pattern == BFI_AS_IS && of->back == BFI_AS_IS;
}

bf_status bf_suggest_tackle(const bf_stand *stand, const bf_suggest_ask *ask, const bf_suggest_tried *tried,
                            bf_suggestion *out) {
    search in = {stand, bfi_winds_of(stand), BFI_TO_LIMIT, 0, 0, tried};
    bf_stand shorter;
    bfi_found found;
    bf_rig rig;
    memset(out, 0, sizeof *out);
    out->judged = out->own = bfi_unjudged();

    bf_status status = search_all(&in, with_short_line(stand, ask, &shorter), ask->has_rig, &found, &rig);
    if (status) return status;
    out->is_as_it_is = is_as_it_is(&found.pick);
    if (out->is_as_it_is) /* judged in all winds by now */
        out->own = found.pick.judged;
    else if (ask->has_rig)
        status = bfi_judge(stand, &in.winds, BFI_IN_ALL, &out->own, &in.n_solves);
    if (status) return status;

    out->rig = rig;
    out->judged = found.pick.judged;
    out->holds = bfi_holds(&found.pick);
    out->is_own = found.pick.flt == BFI_AS_IS;
    out->item[BF_SUGGEST_FLOAT] = bfi_about_float(&found, &in.winds, ask->has_rig);
    out->item[BF_SUGGEST_SHOT] = bfi_about_shot(&found, &in.winds);
    out->item[BF_SUGGEST_BACK_SHOTS] = bfi_about_back_shots(&found, &in.winds);
    out->item[BF_SUGGEST_POT] = bfi_suggest_pot(&stand->scene, ask);
    out->n_solves = in.n_solves;
    return BF_OK;
}

/* One of the own rig's candidates, in the order of bf_suggest_tried; 0: it is not asked about. */
static int own_candidate(const bf_stand *stand, int k, bfi_trial *of) {
    int pattern = k - 2, back = pattern - BF_N_PATTERNS;
    *of = untried(BFI_AS_IS, BFI_AS_IS, BFI_AS_IS);
    if (pattern < 0) return 1;
    if (back < 0) {
        of->pattern = pattern;
        return !is_shotted_so(stand, pattern);
    }
    of->back = back;
    return back <= bfi_most_back_shots(&stand->rig) && (back > 0 || stand->rig.n_back_shots > 0);
}

void bf_suggest_try(const bf_stand *stand, int k, bf_suggest_tried *tried) {
    search in = {stand, bfi_winds_of(stand), BFI_TO_LIMIT, 0, 1, NULL};
    bfi_trial of = untried(BFI_AS_IS, BFI_AS_IS, BFI_AS_IS);
    bfi_found found = {.pick = of};
    bf_status status = BF_OK;
    if (k == 0) {
        status = pick_from_catalogue(&in, NULL, &found);
        of = found.pick;
    } else if (own_candidate(stand, k, &of))
        status = judge_trial(&in, in.depth, &of);
    *tried = (bf_suggest_tried){(double)status, (double)of.flt, (double)of.pattern,  (double)of.back,
                                of.rating_kg,   of.price_m,     (double)in.n_solves, of.judged};
}

bf_status bf_suggest(const bf_stand *stand, const bf_suggest_ask *ask, bf_suggestion *out) {
    bf_stand with = *stand;
    bf_lay_out is, other;
    bf_status status = bf_suggest_tackle(stand, ask, NULL, out);
    if (status) return status;
    with.rig = out->rig;
    bf_suggest_way(&with, with.hold.lowering, &is);
    bf_suggest_way(&with, !with.hold.lowering, &other);
    out->item[BF_SUGGEST_LAY_IN] = bf_suggest_lay_in(with.hold.lowering, &is, &other);
    return BF_OK;
}

bf_status bfi_lightest_float(const bf_stand *stand, int *i_float) {
    search in = {stand, bfi_winds_of(stand), BFI_WHETHER, 0, 0, NULL};
    bfi_found of;
    bf_status status = BF_OK;
    *i_float = -1;
    for (int has_back = 0; has_back < 2 && *i_float < 0 && !status; has_back++) {
        status = search_floats(&in, has_back, &of);
        if (!status && bfi_holds(&of.pick)) *i_float = of.pick.flt;
    }
    return status;
}
