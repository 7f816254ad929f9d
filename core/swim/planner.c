/* planner.c -- see planner.h. */
#include "core/swim/planner.h"

#include <math.h>

#include "baitfall/elementary.h"
#include "baitfall/field.h"
#include "baitfall/random.h"
#include "baitfall/special.h"
#include "baitfall/status.h"

#define LEAST_SCENARIOS 4
#define FIRST_SCENARIOS 16 /* of halving, where there are so many */
#define QUANTILES 32
#define SOURCES 16
#define NORMAL_90 1.2815515655446004
#define SHARE_STREAM UINT64_C(0x5ca2e00000000000)

/* ---- Differences ---- */

static int at(const bfi_planner *planner, int candidate, int scenario) {
    return candidate * planner->n_most + scenario;
}

typedef struct paired {
    int n;
    double mean, se;
} paired;

static paired paired_of(const bfi_planner *planner, const double *value, int a, int b) {
    const double *of_a = value + at(planner, a, 0), *of_b = value + at(planner, b, 0);
    int n = planner->seen[a] < planner->seen[b] ? planner->seen[a] : planner->seen[b];
    double sum = 0, squares = 0;
    for (int s = 0; s < n; s++) sum += of_a[s] - of_b[s];
    double mean = sum / n;
    for (int s = 0; s < n; s++) squares += (of_a[s] - of_b[s] - mean) * (of_a[s] - of_b[s] - mean);
    double inflation = planner->inflation[planner->inflation[a] > planner->inflation[b] ? a : b];
    return (paired){n, mean, sqrt(inflation * squares / (n - 1) / n)};
}

/* ---- Rounds ---- */

/* Scenarios that the candidates of a round have been tried on when it ends. */
static int scenarios_after(const bfi_planner *planner, int round) {
    int n = planner->n_scenarios >> (planner->n_rounds - 1 - round);
    int least = planner->n_scenarios < FIRST_SCENARIOS ? planner->n_scenarios : FIRST_SCENARIOS;
    return n < least ? least : n;
}

static void open_round(bfi_planner *planner) {
    planner->to = scenarios_after(planner, planner->round);
}

void bfi_planner_begin(bfi_planner *planner, int n_candidates, int base, int n_scenarios, int n_most) {
    BF_ASSERT(n_candidates >= 1 && n_candidates <= BFI_PLANNER_MOST && base >= 0 && base < n_candidates);
    BF_ASSERT(n_scenarios >= LEAST_SCENARIOS && n_most >= n_scenarios);
    *planner = (bfi_planner){.n_candidates = n_candidates,
                             .base = base,
                             .n_scenarios = n_scenarios,
                             .n_most = n_most,
                             .n_rounds = 1,
                             .n_left = n_candidates};
    while (1 << planner->n_rounds < n_candidates) planner->n_rounds++;
    for (int k = 0; k < n_candidates; k++) planner->left[k] = k, planner->inflation[k] = 1;
    open_round(planner);
}

int bfi_planner_items(const bfi_planner *planner) {
    int n = 0;
    for (int i = 0; i < planner->n_left; i++) n += planner->to - planner->seen[planner->left[i]];
    return n;
}

static int wanted_in(const bfi_planner *planner, int scenario) {
    int n = 0;
    for (int i = 0; i < planner->n_left; i++) n += planner->seen[planner->left[i]] <= scenario;
    return n;
}

/* Nearly always all of them were tried on as many. */
bfi_planner_item bfi_planner_item_of(const bfi_planner *planner, int i) {
    int s = planner->to, most = 0, left = 0;
    for (int l = 0; l < planner->n_left; l++) {
        int seen = planner->seen[planner->left[l]];
        s = seen < s ? seen : s, most = seen > most ? seen : most;
    }
    for (; s < most && i >= wanted_in(planner, s); s++) i -= wanted_in(planner, s);
    if (s == most) s += i / planner->n_left, i %= planner->n_left;
    while (planner->seen[planner->left[left]] > s || i-- > 0) left++;
    int k = planner->left[left];
    return (bfi_planner_item){k, s, at(planner, k, s)};
}

/* Best first; equal ones as they were listed. */
static void rank(bfi_planner *planner, const double *value) {
    double over_base[BFI_PLANNER_MOST];
    for (int i = 0; i < planner->n_left; i++) {
        int k = planner->left[i], to = i;
        double mean = paired_of(planner, value, k, planner->base).mean;
        for (;
             to > 0 && (over_base[to - 1] < mean || (over_base[to - 1] == mean && planner->left[to - 1] > k));
             to--)
            over_base[to] = over_base[to - 1], planner->left[to] = planner->left[to - 1];
        over_base[to] = mean, planner->left[to] = k;
    }
}

static void keep_too(bfi_planner *planner, int candidate) {
    for (int i = 0; i < planner->n_left; i++)
        if (planner->left[i] == candidate) return;
    planner->left[planner->n_left++] = candidate;
}

/* Drops all but the first n, and never the base. */
static void keep(bfi_planner *planner, int n) {
    planner->n_left = n < planner->n_left ? n : planner->n_left;
    keep_too(planner, planner->base);
}

int bfi_planner_next(bfi_planner *planner, const double *value) {
    for (int i = 0; i < planner->n_left; i++) planner->seen[planner->left[i]] = planner->to;
    rank(planner, value);
    if (planner->round < planner->n_rounds) planner->round++;
    if (planner->round == planner->n_rounds) return 0;
    keep(planner,
         (planner->n_candidates + (1 << planner->round) - 1) >> planner->round); /* 2 in the last round */
    open_round(planner);
    return 1;
}

void bfi_planner_run_off(bfi_planner *planner, int n_left, const int *also, int n_also, int n_scenarios) {
    BF_ASSERT(planner->round == planner->n_rounds && n_left >= 1);
    BF_ASSERT(n_scenarios >= planner->to && n_scenarios <= planner->n_most);
    keep(planner, n_left);
    for (int i = 0; i < n_also; i++) keep_too(planner, also[i]);
    planner->to = n_scenarios;
}

/* ---- Judging ---- */

/* The 90 % point of Student's distribution: the square of T is freedom (1 - y)/y with y of the beta distribution. */
static double student_90(double freedom) {
    double y = bf_beta_quantile(0.5 * freedom, 0.5, 0.2);
    return sqrt(freedom * (1 - y) / y);
}

bf_range bfi_planner_difference(const bfi_planner *planner, const double *value, int a, int b) {
    paired d = paired_of(planner, value, a, b);
    double half = student_90(d.n - 1) * d.se;
    return (bf_range){d.mean, d.mean, d.mean - half, d.mean + half};
}

/* The variance of the mean of a - b by its groups' means; 0 when there is but one group. */
static double variance_of_groups(const bfi_planner *planner, const double *value, int a, int b,
                                 const int *group, int n_groups, double *sum, double *count) {
    int n = planner->seen[a] < planner->seen[b] ? planner->seen[a] : planner->seen[b], G = 0;
    double mean = paired_of(planner, value, a, b).mean, variance = 0;
    for (int g = 0; g < n_groups; g++) sum[g] = count[g] = 0;
    for (int s = 0; s < n; s++)
        sum[group[s]] += value[at(planner, a, s)] - value[at(planner, b, s)], count[group[s]]++;
    for (int g = 0; g < n_groups; g++) {
        if (!(count[g] > 0)) continue;
        double off = (sum[g] - count[g] * mean) / n;
        variance += off * off, G++;
    }
    return G > 1 ? variance * G / (G - 1) : 0;
}

/* Of the mean of a - b, scenarios as independent draws. */
static double variance_alone(const bfi_planner *planner, const double *value, int a, int b) {
    double se = paired_of(planner, value, a, b).se;
    return se * se / planner->inflation[planner->inflation[a] > planner->inflation[b] ? a : b];
}

double bfi_planner_kin(const bfi_planner *planner, const double *value, const int *group, int n_groups,
                       double *spare) {
    double of_groups = 0, alone = 0;
    int best = planner->left[0];
    for (int i = 1; i < planner->n_left; i++) {
        alone += variance_alone(planner, value, best, planner->left[i]);
        of_groups += variance_of_groups(planner, value, best, planner->left[i], group, n_groups, spare,
                                        spare + n_groups);
    }
    return of_groups > alone && alone > 0 ? of_groups / alone : 1;
}

void bfi_planner_widen(bfi_planner *planner, const double *value, const int *group, int n_groups,
                       double freedom, double pooled, double *spare) {
    int best = planner->left[0];
    for (int k = 0; k < planner->n_candidates; k++) {
        double alone = variance_alone(planner, value, best, k), all = 1, own = 0;
        all += (pooled - 1) * planner->seen[k] / planner->to;
        if (planner->seen[k] == planner->to && alone > 0) {
            own =
                variance_of_groups(planner, value, best, k, group, n_groups, spare, spare + n_groups) / alone;
            all = (freedom * own + BFI_PLANNER_POOL * all) / (freedom + BFI_PLANNER_POOL);
        }
        planner->inflation[k] = k == best || all < 1 ? 1 : all;
    }
}

/* A candidate's mean over the best one's: as computed, with the variance of its error. */
typedef struct computed {
    double mean, variance;
} computed;

/* Half of a difference's variance is the best one's own, as far as the runner-up shows it. */
static void compute(const bfi_planner *planner, const double *value, int best, int runner_up,
                    computed of[BFI_PLANNER_MOST]) {
    double se = paired_of(planner, value, best, runner_up).se, own = 0.5 * se * se;
    for (int k = 0; k < planner->n_candidates; k++) {
        paired d = paired_of(planner, value, best, k);
        double rest = d.se * d.se - own;
        of[k] = (computed){-d.mean, k == best ? own : rest > 0 ? rest : 0};
    }
}

/* Middle and variance that the true means may have come from, and how likely that is. */
typedef struct source {
    double middle, variance, log_likelihood;
} source;

/* The middle is the likeliest one for the variance; the likelihood is over all middles. */
static source source_of(const computed *of, int n, double variance) {
    double weights = 0, sum = 0, log_l = 0, squares = 0;
    for (int k = 0; k < n; k++) {
        double w = 1 / (variance + of[k].variance);
        weights += w, sum += w * of[k].mean, log_l += 0.5 * bf_log(w);
    }
    double middle = sum / weights;
    for (int k = 0; k < n; k++) {
        double off = of[k].mean - middle;
        squares += off * off / (variance + of[k].variance);
    }
    return (source){middle, variance, log_l - 0.5 * squares - 0.5 * bf_log(weights)};
}

/* The harmonic mean of the variances above 0; 0 when none is. */
static double typical_variance(const computed *of, int n) {
    double inverse = 0;
    int above = 0;
    for (int k = 0; k < n; k++)
        if (of[k].variance > 0) inverse += 1 / of[k].variance, above++;
    return above ? above / inverse : 0;
}

/* What is believed of a candidate's mean. */
static computed believed(const computed *of, const source *from) {
    double share = from->variance / (from->variance + of->variance);
    return (computed){from->middle + share * (of->mean - from->middle), share * of->variance};
}

/* P(X <= x). */
static double below(const computed *is, double x) {
    if (!(is->variance > 0)) return x > is->mean ? 1 : x < is->mean ? 0 : 0.5;
    return bf_normal_cdf((x - is->mean) / sqrt(is->variance));
}

/* Chance that none is above the best one by more than the margin: over its own quantiles. */
static double chance_of_best(const computed *of, int n, int best, double margin) {
    double all = 0;
    for (int i = 0; i < QUANTILES; i++) {
        double x = of[best].mean + sqrt(of[best].variance) * bf_normal_quantile((i + 0.5) / QUANTILES), p = 1;
        for (int k = 0; k < n; k++)
            if (k != best) p *= below(&of[k], x + margin);
        all += p / QUANTILES;
    }
    return all;
}

/* Over all that is believed of the means: chance that fresh scenarios have the same candidate first within the margin of the highest, and, if it is not the
 * base, over the base by the margin and BFI_PLANNER_CLEAR standard errors; the base, that none is over it by so much. */
static double chance_again_with(const bfi_planner *planner, const computed *of, const computed *is,
                                const bfi_verdict *v) {
    double noise = of[v->best].variance + of[v->runner_up].variance, all = 1;
    double clear = planner->margin + BFI_PLANNER_CLEAR * sqrt(noise);
    for (int k = 0; k < planner->n_candidates; k++) {
        if (k == v->best) continue;
        double least = k < v->best ? planner->margin : -planner->margin;
        if (k == planner->base) least = clear;
        if (v->best == planner->base) least = -clear;
        double lead = is[v->best].mean - is[k].mean, variance = is[v->best].variance + is[k].variance + noise;
        if (variance > 0)
            all *= bf_normal_cdf((lead - least) / sqrt(variance));
        else if (lead < least)
            all = 0;
    }
    return all;
}

/* Moments of a difference, over all sources. */
typedef struct moments {
    double mean, square;
} moments;

static void add(moments *m, double share, const computed *a, const computed *b) {
    double mean = a->mean - b->mean;
    m->mean += share * mean, m->square += share * (mean * mean + a->variance + b->variance);
}

static bf_range range_of(const moments *m) {
    double variance = m->square - m->mean * m->mean, half = variance > 0 ? NORMAL_90 * sqrt(variance) : 0;
    return (bf_range){m->mean, m->mean, m->mean - half, m->mean + half};
}

/* Sources by how much they shrink a typical candidate, 1 - B of its distance from the middle, B = u^2 with u evenly in (0, 1). */
static int sources_of(const computed *of, int n, source from[SOURCES], double share[SOURCES]) {
    double typical = typical_variance(of, n), most = -BF_INFINITY, all = 0;
    if (!(typical > 0)) return 0;
    for (int j = 0; j < SOURCES; j++) {
        double u = (j + 0.5) / SOURCES, B = u * u;
        from[j] = source_of(of, n, typical * (1 - B) / B);
        most = from[j].log_likelihood > most ? from[j].log_likelihood : most;
    }
    for (int j = 0; j < SOURCES; j++)
        all += share[j] = (j + 0.5) * bf_exp(from[j].log_likelihood - most); /* dB = 2 u du */
    for (int j = 0; j < SOURCES; j++) share[j] /= all;
    return SOURCES;
}

void bfi_planner_bar(bfi_planner *planner, int candidate) {
    BF_ASSERT(candidate != planner->base && planner->n_left > 2);
    int n = 0;
    for (int i = 0; i < planner->n_left; i++)
        if (planner->left[i] != candidate) planner->left[n++] = planner->left[i];
    planner->n_left = n;
}

/* The first one listed within the margin of the highest mean. */
static int good_enough(const bfi_planner *planner, const double *value) {
    int best = planner->left[0];
    for (int i = 1; i < planner->n_left; i++) {
        int k = planner->left[i];
        if (k < best && paired_of(planner, value, planner->left[0], k).mean <= planner->margin) best = k;
    }
    return best;
}

bfi_verdict bfi_planner_verdict(const bfi_planner *planner, const double *value) {
    BF_ASSERT(planner->round == planner->n_rounds);
    computed of[BFI_PLANNER_MOST], is[BFI_PLANNER_MOST];
    int n = planner->n_candidates, best = good_enough(planner, value);
    bfi_verdict verdict = {.best = best,
                           .runner_up = -1,
                           .margin = {BF_NAN, BF_NAN, BF_NAN, BF_NAN},
                           .p_first = 1,
                           .p_best = 1,
                           .p_again = 1};
    if (n == 1) return verdict;
    verdict.runner_up = planner->left[planner->left[0] == best];
    verdict.p_first = verdict.p_best = verdict.p_again = 0;
    compute(planner, value, best, verdict.runner_up, of);
    source from[SOURCES];
    double share[SOURCES] = {1};
    int n_sources = sources_of(of, n, from, share);
    moments gain = {0, 0}, margin = {0, 0};
    for (int j = 0; j < n_sources || j == 0; j++) {
        for (int k = 0; k < n; k++) is[k] = n_sources ? believed(&of[k], &from[j]) : of[k];
        verdict.p_first += share[j] * chance_of_best(is, n, best, 0);
        verdict.p_best += share[j] * chance_of_best(is, n, best, planner->margin);
        verdict.p_again += share[j] * chance_again_with(planner, of, is, &verdict);
        if (best != planner->base) add(&gain, share[j], &is[best], &is[planner->base]);
        add(&margin, share[j], &is[best], &is[verdict.runner_up]);
    }
    verdict.gain = range_of(&gain);
    verdict.margin = range_of(&margin);
    verdict.is_close = verdict.p_best < BFI_PLANNER_SURE || !(verdict.margin.lo > 0);
    return verdict;
}

/* ---- Scenarios ---- */

double bfi_planner_share(uint64_t seed, int s) {
    uint32_t mirrored = 0;
    for (int bit = 0; bit < 32; bit++) mirrored |= ((uint32_t)s >> bit & 1) << (31 - bit);
    return (mirrored + bf_philox(seed, SHARE_STREAM, 0).word[0] + 0.5) / 4294967296.0;
}
