/* suggest_said.c -- what is said about a suggestion: why this one, and why not the next. */
#include <math.h>

#include "search.h"

const char *bf_said_sentence(int code) {
    static const char *const sentences[] = {
#define SENTENCE(name, sentence) sentence,
        BF_SAID_LIST(SENTENCE)
#undef SENTENCE
    };
    return sentences[code];
}

static bf_said said(int code, double a, double b, double c, double d) {
    return (bf_said){code, {a, b, c, d}};
}

/* Of lengths: to the millimetre, which is as fine as anyone looks. */
static bf_said said_m(int code, double a_m, double b_m, double c_m, double d_m) {
    bf_said of = {code, {a_m, b_m, c_m, d_m}};
    for (int i = 0; i < 4; i++) of.number[i] = floor(of.number[i] * 1000 + 0.5) / 1000;
    return of;
}

static double failing_wind_m_s(const bfi_winds *winds, const bf_judged *judged) {
    for (int i = 0; i < winds->n; i++)
        if (winds->in_wind[i] == judged->in_wind) return winds->m_s[i];
    return BF_NAN;
}

/* What keeps a rig from holding. */
bf_said bfi_why_it_fails(const bfi_winds *winds, const bf_judged *judged) {
    double wind = failing_wind_m_s(winds, judged), used = judged->miss_frac;
    switch (judged->limit) {
    case BF_LIMIT_LIFTED: return said(BF_SAID_WHY_LIFTED, 0, 0, wind, 0);
    case BF_LIMIT_HIGH: return said(wind > 0 ? BF_SAID_WHY_HIGH : BF_SAID_WHY_HIGH_CALM, 0, 0, wind, 0);
    case BF_LIMIT_DROWNED: return said(BF_SAID_WHY_DROWNED, 0, 0, wind, 0);
    case BF_LIMIT_BITE: return said(BF_SAID_WHY_BITE, judged->bite_m, judged->seen_m, wind, 0);
    case BF_LIMIT_HANG: return said_m(BF_SAID_WHY_HANG, used * BF_HANG_MOST_M, BF_HANG_MOST_M, wind, 0);
    case BF_LIMIT_GUST: return said_m(BF_SAID_WHY_GUST, used * BF_GUST_MOST_M, BF_GUST_MOST_M, wind, 0);
    default: return said(BF_SAID_WHY_UNSOLVED, 0, 0, wind, 0);
    }
}

bf_said bf_why_it_fails(const bf_stand *stand, const bf_judged *judged) {
    bfi_winds winds = bfi_winds_of(stand);
    return bfi_why_it_fails(&winds, judged);
}

static bf_said float_name(const bfi_trial *of) {
    return said(of->flt == BFI_AS_IS ? BF_SAID_YOURS : BF_SAID_FLOAT, of->rating_kg, 0, 0, 0);
}

static bf_said why_not_that_float(const bfi_winds *winds, const bfi_trial *rival, const bfi_trial *pick) {
    const bf_judged *would = &rival->judged, *is = &pick->judged;
    if (!bfi_holds(rival)) return bfi_why_it_fails(winds, would);
    int code = rival->rating_kg == pick->rating_kg      ? BF_SAID_WHY_AS_HEAVY
               : rival->rating_kg < pick->rating_kg     ? BF_SAID_LIGHTER_HOLDS
               : would->worst_gust_m < is->worst_gust_m ? BF_SAID_STEADIER
                                                        : BF_SAID_WHY_HEAVIER;
    return said_m(code, would->worst_hang_m, is->worst_hang_m, would->worst_gust_m, is->worst_gust_m);
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
static int needs_back_shots(const bfi_found *of) {
    const bfi_trial *bare = bfi_best(of, BFI_NO_BACK);
    return bfi_holds(&of->pick) && of->pick.back > 0 && bare && !bfi_holds(bare);
}

static int this_float_because(const bfi_found *of, int has_rig) {
    int needs = needs_back_shots(of);
    if (of->pick.flt == BFI_AS_IS) return needs ? BF_SAID_YOURS_HOLDS_BACK : BF_SAID_YOURS_HOLDS;
    if (has_rig) return BF_SAID_YOURS_FAILS;
    if (of->is_shortened) return BF_SAID_LIGHTEST_SHORT;
    return needs ? BF_SAID_LIGHTEST_BACK : BF_SAID_LIGHTEST;
}

bf_suggested bfi_about_float(const bfi_found *of, const bfi_winds *winds, int has_rig) {
    const bf_judged *is = &of->pick.judged;
    bf_suggested item = {of->pick.flt,
                         of->rival.flt,
                         float_name(&of->pick),
                         said_m(this_float_because(of, has_rig), is->hang_m, is->worst_hang_m,
                                is->worst_wind_m_s, is->worst_gust_m),
                         float_name(&of->rival),
                         why_not_that_float(winds, &of->rival, &of->pick)};
    if (item.because.code == BF_SAID_LIGHTEST_SHORT) item.because.number[3] = of->stand->rig.tip_to_float_m;
    if (!bfi_holds(&of->pick)) {
        item.choose.code = of->pick.flt == BFI_AS_IS ? BF_SAID_YOURS_NEAREST : BF_SAID_NEAREST;
        item.because = bfi_why_it_fails(winds, is);
        item.because.code = nothing_holds_because(is);
    }
    return item;
}

static bf_said shot_name(const bfi_trial *of) {
    return of->pattern == BFI_AS_IS ? said(BF_SAID_YOUR_SHOT, 0, 0, 0, 0)
                                    : said(BF_SAID_PATTERN, of->pattern, 0, 0, 0);
}

static int is_same(double a_m, double b_m) {
    return a_m - b_m < BF_SAME_M && b_m - a_m < BF_SAME_M;
}

static bf_said why_not_that_shot(const bfi_winds *winds, const bfi_trial *rival, const bfi_trial *pick) {
    double would_m = rival->judged.worst_hang_m, is_m = pick->judged.worst_hang_m;
    if (!bfi_holds(rival)) return bfi_why_it_fails(winds, &rival->judged);
    int code = is_same(would_m, is_m) ? BF_SAID_WHY_SAME
               : would_m < is_m       ? BF_SAID_WHY_NEARER
                                      : BF_SAID_WHY_FURTHER;
    return said_m(code, would_m, is_m, 0, 0);
}

bf_suggested bfi_about_shot(const bfi_found *of, const bfi_winds *winds) {
    const bf_judged *is = &of->pick.judged;
    const bfi_trial *other = bfi_best(of, BFI_OTHER_SHOT);
    int code = is->worst_hang_m != is->worst_hang_m ? BF_SAID_SHOT_NO_MATTER
               : !bfi_holds(&of->pick)              ? BF_SAID_SHOT_MISSES_LEAST
               : of->pick.pattern == BFI_AS_IS      ? BF_SAID_YOUR_SHOT_HOLDS
                                                    : BF_SAID_HANGS_LEAST;
    return (bf_suggested){of->pick.pattern,     other->pattern,
                          shot_name(&of->pick), said_m(code, is->worst_hang_m, is->worst_wind_m_s, 0, 0),
                          shot_name(other),     why_not_that_shot(winds, other, &of->pick)};
}

static bf_said back_name(const bf_stand *stand, const bfi_trial *of) {
    if (of->back == BFI_AS_IS && stand->rig.n_back_shots > 0) return said(BF_SAID_YOUR_BACK, 0, 0, 0, 0);
    if (of->back <= 0) return said(BF_SAID_NO_BACK, 0, 0, 0, 0);
    bf_rig rig = stand->rig;
    bfi_put_back_shots(&rig, of->back);
    return said(BF_SAID_BACK, rig.back_shot[0].count, rig.back_shot[0].size, rig.back_shot[0].at_m, 0);
}

/* Of a pick with back shots against the same without; of a bare one against the best with some. */
static bf_said why_back_shots(int has_back, const bfi_trial *pick, const bfi_trial *bare,
                              const bfi_trial *other) {
    double is_m = pick->judged.worst_hang_m;
    if (!bfi_holds(pick)) return said(has_back ? BF_SAID_BACK_NEARER : BF_SAID_BACK_NO_HELP, 0, 0, 0, 0);
    if (has_back && bare)
        return said_m(bfi_holds(bare) ? BF_SAID_BACK_WORTH : BF_SAID_BACK_NEEDED, is_m,
                      bare->judged.worst_hang_m, 0, 0);
    if (is_m < BF_SAME_M) return said(BF_SAID_BACK_NO_NEED, 0, 0, 0, 0);
    if (!other) return said(BF_SAID_BACK_TOO_HEAVY, 0, 0, 0, 0);
    double best_m = other->judged.worst_hang_m;
    if (bfi_holds(other) && is_m - best_m < BF_SAME_M) return said_m(BF_SAID_BACK_AS_GOOD, is_m, 0, 0, 0);
    return said_m(bfi_holds(other) ? BF_SAID_BACK_NOT_WORTH : BF_SAID_BACK_NO_HELP, best_m, is_m, 0, 0);
}

static bf_said why_not_those_back_shots(const bfi_winds *winds, const bfi_trial *rival,
                                        const bfi_trial *pick) {
    double would_m = rival->judged.worst_hang_m, is_m = pick->judged.worst_hang_m;
    if (!bfi_holds(rival)) return bfi_why_it_fails(winds, &rival->judged);
    int code = is_same(would_m, is_m) ? BF_SAID_WHY_SAME
               : would_m < is_m       ? BF_SAID_WHY_BACK_MORE
                                      : BF_SAID_WHY_BACK_LESS;
    return said_m(code, would_m, is_m, 0, 0);
}

bf_suggested bfi_about_back_shots(const bfi_found *of, const bfi_winds *winds) {
    const bfi_trial *other = bfi_best(of, BFI_OTHER_BACK);
    const bfi_trial *bare = bfi_best(of, BFI_NO_BACK);
    bf_suggested item = {
        .choice = of->pick.back, .runner_up = BFI_AS_IS, .choose = back_name(of->stand, &of->pick)};
    item.because = why_back_shots(item.choose.code != BF_SAID_NO_BACK, &of->pick, bare, other);
    if (other) {
        item.runner_up = other->back;
        item.other = back_name(of->stand, other);
        item.why_not = why_not_those_back_shots(winds, other, &of->pick);
    }
    return item;
}
