/* review.c -- see review.h. */
#include "baitfall/review.h"

#include <math.h>
#include <string.h>

#include "baitfall/choice.h"
#include "baitfall/trial.h"
#include "core/base/room.h"
#include "core/record/count.h"
#include "core/record/cycle.h"

#define HALF_MS 1800000.0
#define DAY_MS (BF_REVIEW_MOST_HALVES * HALF_MS)
#define LEVEL BF_REVIEW_LEVEL

const double bf_review_age_from_s[BF_REVIEW_N_AGES + 1] = {0, 240, 480, 900, INFINITY};

/* ---- Memory ---- */

/* What the estimators read, one place a drop. */
typedef struct tools {
    const bf_fold *fold;
    const bf_session *session;
    const bf_turnaround *turnaround;
    int n; /* drops */
    double *wait_s;
    unsigned char *is_event;
    double *x;
    uint32_t *cluster;
    int *feed; /* of each drop: index into review->feed, -1 */
    void *spare;
    bf_wait_step *step;
    int n_steps;
} tools;

#define MOST_COVARIATES 3

static size_t most(size_t a, size_t b) {
    return a > b ? a : b;
}

static size_t spare_bytes(size_t n) {
    size_t bytes = most(bf_waits_bytes(n), bf_hazard_bytes(n, MOST_COVARIATES));
    bytes = most(bytes, bf_pool_bytes(BF_REVIEW_MOST_HALVES));
    return bfi_room(most(bytes, BF_REVIEW_MOST_BINS * (sizeof(bf_change_bin) + sizeof(double))));
}

size_t bf_review_bytes(int n_drops) {
    size_t n = (size_t)n_drops;
    return bfi_room(n * sizeof(double)) + bfi_room(n) + bfi_room(n * MOST_COVARIATES * sizeof(double)) +
           bfi_room(n * sizeof(uint32_t)) + bfi_room(n * sizeof(int)) + spare_bytes(n);
}

size_t bf_review_steps(int n_drops) {
    return 3 * (size_t)n_drops; /* of all, of every feed, of every age */
}

static void *take(char **memory, size_t bytes) {
    void *taken = *memory;
    *memory += bfi_room(bytes);
    return taken;
}

static tools tools_of(const bf_fold *fold, const bf_turnaround *turnaround, int session, void *work,
                      bf_wait_step *step) {
    char *memory = work;
    tools t = {.fold = fold, .session = &fold->session[session], .turnaround = turnaround};
    t.n = t.session->drop_to - t.session->drop_from;
    size_t n = (size_t)t.n;
    t.wait_s = take(&memory, n * sizeof(double));
    t.is_event = take(&memory, n);
    t.x = take(&memory, n * MOST_COVARIATES * sizeof(double));
    t.cluster = take(&memory, n * sizeof(uint32_t));
    t.feed = take(&memory, n * sizeof(int));
    t.spare = memory;
    t.step = step;
    return t;
}

static const bf_drop *drop_at(const tools *t, int i) {
    return &t->fold->drop[t->session->drop_from + i];
}

/* ---- Groups of drops ---- */

static int is_bite(int outcome) {
    return outcome == BF_LANDED || outcome == BF_LOST || outcome == BF_MISSED || outcome == BF_FOUL;
}

static int n_bites(const int count[BF_N_OUTCOMES]) {
    return count[BF_LANDED] + count[BF_LOST] + count[BF_MISSED] + count[BF_FOUL];
}

static double wait_of(const tools *t, int i, int *is_event) {
    double pm_s;
    return bf_drop_wait_s(drop_at(t, i), t->turnaround, &pm_s, is_event);
}

/* Index of the age band of a drop, -1: nothing fed before it, or its start unknown. *age_s: NaN then. */
static int age_of(const tools *t, int i, double *age_s) {
    const bf_drop *drop = drop_at(t, i);
    int is_event;
    double wait_s = wait_of(t, i, &is_event);
    *age_s = NAN;
    if (drop->put < 0 || isnan(wait_s)) return -1;
    *age_s = (drop->end_ms - t->fold->put_in[drop->put].t_ms) / 1000 - wait_s;
    if (*age_s < 0) *age_s = 0;
    int band = 0;
    while (*age_s >= bf_review_age_from_s[band + 1]) band++;
    return band;
}

/* An open wait is no drop yet, but it is a wait. */
static void add_drop(const tools *t, bf_review_group *g, int i) {
    const bf_drop *drop = drop_at(t, i);
    int is_event;
    double wait_s = wait_of(t, i, &is_event);
    bfi_count(&g->count[BF_TOUCHED], drop->n_touches);
    g->hours += bfi_cycle_h(t->fold, t->session->drop_from + i);
    if (drop->end_live >= 0) {
        g->n_drops++;
        g->count[drop->outcome]++;
    }
    if (isnan(wait_s)) {
        g->n_unknown++;
        return;
    }
    g->n_unseen += drop->start != BF_START_LOWER;
    t->wait_s[g->n_waits] = wait_s;
    t->is_event[g->n_waits++] = (unsigned char)is_event;
    g->n_ended += is_event;
}

static bf_share no_share(void) {
    return (bf_share){.a = NAN, .b = NAN, .share = {NAN, NAN, NAN, NAN, NAN}};
}

static void estimate_rate(double n, double hours, bf_gamma *rate, bf_estimate *per_h) {
    *rate = (bf_gamma){NAN, NAN};
    *per_h = (bf_estimate){NAN, NAN, NAN, NAN, NAN};
    if (n < BF_LEAST_TO_SAY || !(hours > 0)) return;
    if (bf_rate_posterior(BF_RATE_WEAK, n, hours, rate) == BF_OK &&
        bf_rate_estimate(*rate, LEVEL, per_h) == BF_OK)
        return;
    *per_h = (bf_estimate){NAN, NAN, NAN, NAN, NAN};
}

/* Where the curve falls from 1 to 0 at once it has no band; then all that is known is that no wait ended sooner. */
static bf_banded median_of(const bf_wait_step *step, size_t n_steps) {
    bf_banded median = bf_waits_quantile(step, n_steps, 0.5);
    if (!(median.lower <= median.value)) median.lower = step[0].time_s;
    if (!(median.upper >= median.value)) median.upper = INFINITY;
    return median;
}

/* How its bites ended; kind 0: landed. */
static bf_mix bites_of(const bf_review_group *g) {
    return (bf_mix){
        4, {g->count[BF_LANDED], g->count[BF_LOST], g->count[BF_MISSED], g->count[BF_FOUL]}, BF_MIX_WEAK};
}

/* What the group's waits, which stand in t->wait_s, and its counts say. */
static void estimate(tools *t, bf_review_group *g) {
    g->median_s = (bf_banded){NAN, NAN, NAN};
    g->step_from = t->n_steps;
    g->clean = no_share();
    size_t n_steps = 0;
    if (g->n_waits > 0 && bf_waits_curve(t->wait_s, t->is_event, (size_t)g->n_waits, BF_BAND_LOG_LOG, LEVEL,
                                         t->spare, t->step + t->n_steps, &n_steps) == BF_OK)
        g->n_steps = (int)n_steps;
    if (g->n_ended >= BF_LEAST_TO_SAY) g->median_s = median_of(t->step + t->n_steps, n_steps);
    t->n_steps += g->n_steps;
    double waited_h = 0;
    int bites = n_bites(g->count);
    bf_estimate unused;
    for (int i = 0; i < g->n_waits; i++) waited_h += t->wait_s[i] / 3600;
    estimate_rate(g->n_ended, waited_h, &g->ended, &unused);
    estimate_rate(g->count[BF_LANDED], g->hours, &g->fish, &g->fish_per_h);
    estimate_rate(bites, g->hours, &g->bites, &g->bites_per_h);
    bf_mix mix = bites_of(g);
    if (bites >= BF_LEAST_TO_SAY && bf_mix_share(&mix, 1, LEVEL, &g->clean) != BF_OK) g->clean = no_share();
}

/* The group of all drops for which key_of is `key`. */
static bf_review_group group_of(tools *t, int key, const int *key_of, int wanted) {
    bf_review_group g = {.key = key};
    for (int i = 0; i < t->n; i++)
        if (!key_of || key_of[i] == wanted) add_drop(t, &g, i);
    estimate(t, &g);
    return g;
}

static void group_all(tools *t, bf_review *r) {
    r->all = group_of(t, 0, NULL, 0);
    r->n_touches = r->all.count[BF_TOUCHED];
}

static void group_feeds(tools *t, bf_review *r) {
    int bait[BF_REVIEW_MOST_FEEDS];
    for (int i = 0; i < t->n; i++) {
        int name = bfi_drop_bait(t->fold, t->session->drop_from + i), k = 0;
        while (k < r->n_feeds && bait[k] != name) k++;
        if (k == r->n_feeds && r->n_feeds < BF_REVIEW_MOST_FEEDS) bait[r->n_feeds++] = name;
        t->feed[i] = k < r->n_feeds ? k : -1;
        r->n_other_feeds += t->feed[i] < 0;
    }
    for (int k = 0; k < r->n_feeds; k++) r->feed[k] = group_of(t, bait[k], t->feed, k);
}

/* The bands stand where the clusters will. */
static void group_ages(tools *t, bf_review *r) {
    int *age = (int *)t->cluster;
    double age_s;
    for (int i = 0; i < t->n; i++) age[i] = age_of(t, i, &age_s);
    for (int k = 0; k < BF_REVIEW_N_AGES; k++) r->age[k] = group_of(t, k, age, k);
}

/* The band whose waits end fastest, told apart from each other band of 5 or more. */
static void find_best_age(bf_review *r) {
    int n = 0;
    r->best_age = -1;
    r->p_best_age = NAN;
    for (int k = 0; k < BF_REVIEW_N_AGES; k++) {
        const bf_gamma *g = &r->age[k].ended;
        if (isnan(g->shape)) continue;
        n++;
        const bf_gamma *best = r->best_age < 0 ? NULL : &r->age[r->best_age].ended;
        if (!best || g->shape / g->rate > best->shape / best->rate) r->best_age = k;
    }
    if (n < 2) r->best_age = -1;
    for (int k = 0; k < BF_REVIEW_N_AGES && r->best_age >= 0; k++) {
        double p;
        if (k == r->best_age || isnan(r->age[k].ended.shape)) continue;
        if (bf_rate_p_greater(r->age[r->best_age].ended, r->age[k].ended, &p) == BF_OK &&
            !(p >= r->p_best_age))
            r->p_best_age = p;
    }
}

/* By how much the learned turnaround moves the median: its own error (four gaps' worth of the book and those seen) on the part
 * of the waits that it begins. */
static double unseen_pm_s(const bf_turnaround *turnaround, const bf_review_group *all) {
    if (all->n_waits == 0) return NAN;
    double half_width_s = (turnaround->hi_s - turnaround->lo_s) / 2;
    return half_width_s / sqrt(4 + turnaround->n) * all->n_unseen / all->n_waits;
}

/* ---- Half hours ---- */

/* All that was fished; where that is longer than a day, an instant entered wrong is more likely than a day's fishing: then from
 * the opening to the end. */
static bf_span span_of(const bf_fold *fold, int i_session) {
    const bf_session *s = &fold->session[i_session];
    bf_span span = bf_session_span(fold, i_session);
    if (span.to_ms - span.from_ms <= DAY_MS) return span;
    return (bf_span){s->opened_ms, isfinite(s->closed_ms) ? s->closed_ms : s->last_ms};
}

/* Landed fish from .. to: of drops, and of stretches as far as they overlap. */
static double fish_between(const bf_fold *fold, const bf_session *session, double from_ms, double to_ms) {
    double n = 0;
    for (int i = session->drop_from; i < session->drop_to; i++) {
        const bf_drop *drop = &fold->drop[i];
        n += drop->outcome == BF_LANDED && drop->end_ms >= from_ms && drop->end_ms < to_ms;
    }
    for (int i = session->stretch_from; i < session->stretch_to; i++)
        n += fold->stretch[i].count[BF_LANDED] * bfi_stretch_part(&fold->stretch[i], from_ms, to_ms);
    return n;
}

/* The session's last instant is in its last half hour. */
static double counts_to_ms(const bf_review *r, const bf_review_half *half) {
    return half->to_ms < r->to_ms ? half->to_ms : half->to_ms + 1;
}

static void cut_halves(const tools *t, bf_review *r) {
    double east_ms = 60000.0 * t->session->east_min;
    double start = HALF_MS * floor((r->from_ms + east_ms) / HALF_MS) - east_ms;
    for (; start < r->to_ms && r->n_halves < BF_REVIEW_MOST_HALVES; start += HALF_MS) {
        bf_review_half *half = &r->half[r->n_halves++];
        half->from_ms = start > r->from_ms ? start : r->from_ms;
        half->to_ms = start + HALF_MS < r->to_ms ? start + HALF_MS : r->to_ms;
        half->n_fish = fish_between(t->fold, t->session, half->from_ms, counts_to_ms(r, half));
    }
    double first_ms = r->n_halves ? r->half[0].from_ms : INFINITY;
    double last_ms = r->n_halves ? counts_to_ms(r, &r->half[r->n_halves - 1]) : INFINITY;
    r->n_fish_outside = fish_between(t->fold, t->session, -INFINITY, first_ms) +
                        fish_between(t->fold, t->session, last_ms, INFINITY);
}

static void pool_halves(const tools *t, bf_review *r) {
    bf_pool_group group[BF_REVIEW_MOST_HALVES];
    bf_pool_rate rate[BF_REVIEW_MOST_HALVES];
    r->best_half = -1;
    double most_fish = 0, n_fish = 0, hours = 0;
    for (int i = 0; i < r->n_halves; i++) {
        bf_review_half *half = &r->half[i];
        group[i] = (bf_pool_group){half->n_fish, (half->to_ms - half->from_ms) / 3.6e6, 1};
        half->fish_per_h = (bf_pool_rate){{NAN, NAN, NAN, NAN, NAN}, NAN, half->n_fish / group[i].exposure};
        if (half->n_fish > most_fish) r->best_half = i;
        if (half->n_fish > most_fish) most_fish = half->n_fish;
        n_fish += half->n_fish;
        hours += group[i].exposure;
    }
    if (n_fish < BF_LEAST_TO_SAY || r->n_halves < 2) return;
    if (bf_pool_rates(group, r->n_halves, bf_pool_weak(n_fish / hours), LEVEL, t->spare, rate, NULL) != BF_OK)
        return;
    for (int i = 0; i < r->n_halves; i++) r->half[i].fish_per_h = rate[i];
}

static void count_stretches(const tools *t, bf_review *r) {
    for (int i = t->session->stretch_from; i < t->session->stretch_to; i++) {
        r->n_tally_fish += t->fold->stretch[i].count[BF_LANDED];
        r->n_tally_bites += n_bites(t->fold->stretch[i].count);
    }
}

/* ---- Slowing down ---- */

/* Minutes with tallied stretches in them are left out: when their bites came is not known. */
static void find_change(const tools *t, bf_review *r) {
    bf_change_bin *bin = t->spare;
    double bin_ms = 1000 * BF_REVIEW_BIN_S, n = 0, hours = 0;
    double span = floor((r->to_ms - r->from_ms) / bin_ms);
    double *posterior = (double *)(bin + BF_REVIEW_MOST_BINS);
    r->bin_from_ms = r->from_ms;
    if (!(span >= 2)) return;
    int n_bins = span > BF_REVIEW_MOST_BINS ? BF_REVIEW_MOST_BINS : (int)span;
    for (int k = 0; k < n_bins; k++) {
        double from = r->from_ms + bin_ms * k, tallied = 0;
        for (int i = t->session->stretch_from; i < t->session->stretch_to; i++)
            tallied +=
                bfi_overlap_ms(from, from + bin_ms, t->fold->stretch[i].from_ms, t->fold->stretch[i].to_ms);
        bin[k] = (bf_change_bin){0, tallied > 0 ? 0 : BF_REVIEW_BIN_S / 3600};
        hours += bin[k].exposure;
    }
    for (int i = 0; i < t->n; i++) {
        const bf_drop *drop = drop_at(t, i);
        double k = floor((drop->end_ms - r->from_ms) / bin_ms);
        if (!is_bite(drop->outcome) || k < 0 || k >= n_bins || bin[(int)k].exposure == 0) continue;
        bin[(int)k].n++;
        n++;
    }
    if (n < BF_LEAST_TO_SAY) return;
    bf_change_widen(bin, n_bins); // bites come in bursts
    r->has_change = bf_change_find(bin, n_bins, (bf_gamma){1, hours / n}, BF_CHANGE_EVEN, LEVEL, posterior,
                                   &r->change) == BF_OK;
}

/* ---- One feed and another ---- */

/* The two feeds with most ended waits, 5 or more each; `from` was fed first (feeds are in that order). */
static void choose_feeds(bf_review *r) {
    int one = -1, other = -1;
    for (int k = 0; k < r->n_feeds; k++) {
        if (r->feed[k].key < 0 || r->feed[k].n_ended < BF_LEAST_TO_SAY) continue;
        if (one < 0 || r->feed[k].n_ended > r->feed[one].n_ended) {
            other = one;
            one = k;
        } else if (other < 0 || r->feed[k].n_ended > r->feed[other].n_ended) {
            other = k;
        }
    }
    r->feeds.from = other < 0 ? -1 : one < other ? one : other;
    r->feeds.to = other < 0 ? -1 : one < other ? other : one;
}

static int is_once(const tools *t, const bf_review_switch *s) {
    int has_to = 0;
    for (int i = 0; i < t->n; i++) {
        if (t->feed[i] == s->from && has_to) return 0;
        has_to |= t->feed[i] == s->to;
    }
    return 1;
}

/* Rows of the fit: x is (is_to, minutes since feed, is_sprinkled), of which the first p are taken. */
static size_t make_rows(const tools *t, const bf_review_switch *s, int p) {
    size_t n = 0;
    int put = -1;
    uint32_t cluster = 0;
    for (int i = 0; i < t->n; i++) {
        double age_s;
        int is_event;
        if ((t->feed[i] != s->from && t->feed[i] != s->to) || age_of(t, i, &age_s) < 0) continue;
        const bf_drop *drop = drop_at(t, i);
        int is_sprinkled = bfi_drop_how(t->fold, t->session->drop_from + i) == BF_SPRINKLE;
        double x[MOST_COVARIATES] = {t->feed[i] == s->to, age_s / 60, is_sprinkled};
        t->wait_s[n] = wait_of(t, i, &is_event);
        t->is_event[n] = (unsigned char)is_event;
        memcpy(t->x + n * (size_t)p, x, (size_t)p * sizeof x[0]);
        cluster += n > 0 && drop->put != put;
        put = drop->put;
        t->cluster[n++] = cluster;
    }
    return n;
}

static bf_status fit_feeds(const tools *t, const bf_review_switch *s, int p, bf_hazard *fit) {
    size_t n = make_rows(t, s, p);
    if (n == 0) return BF_E_MISSING;
    return bf_hazard_fit(t->wait_s, t->is_event, t->x, t->cluster, n, (size_t)p, BF_EFRON, t->spare, fit);
}

/* Enough ended waits for so many covariates: about ten each. */
static int covariates_for(int n_ended) {
    return n_ended >= 30 ? 3 : n_ended >= 20 ? 2 : 1;
}

/* NaN where too few put-ins carry it. */
static bf_banded factor_of(const bf_hazard *fit, size_t k) {
    if (!(fit->carriers[k] >= BF_HAZARD_LEAST_CARRIERS)) return (bf_banded){NAN, NAN, NAN};
    return bf_hazard_factor(fit, k, 1, LEVEL, BF_ERROR_ROBUST);
}

static void compare_waits(const tools *t, bf_review *r) {
    bf_review_switch *s = &r->feeds;
    bf_hazard fit;
    bf_banded none = {NAN, NAN, NAN};
    s->ratio = s->per_min = s->sprinkled = none;
    if (s->from < 0) return;
    s->is_once = is_once(t, s);
    int p = covariates_for(r->feed[s->from].n_ended + r->feed[s->to].n_ended);
    while (p > 0 && (fit_feeds(t, s, p, &fit) || isnan(factor_of(&fit, 0).value))) p--;
    if (p == 0) return;
    s->n_covariates = p;
    s->n_clusters = (int)fit.n_clusters;
    s->ratio = factor_of(&fit, 0);
    if (p > 1) s->per_min = factor_of(&fit, 1);
    if (p > 2) s->sprinkled = factor_of(&fit, 2);
}

static void compare_rates(bf_review *r) {
    r->feed_most = -1;
    r->p_feed_most = NAN;
    if (r->feeds.from < 0) return;
    double p;
    if (bf_rate_p_greater(r->feed[r->feeds.to].bites, r->feed[r->feeds.from].bites, &p) != BF_OK) return;
    r->feed_most = p >= 0.5 ? r->feeds.to : r->feeds.from;
    r->p_feed_most = p >= 0.5 ? p : 1 - p;
}

static void compare_clean(bf_review *r) {
    r->feed_clean = -1;
    r->p_feed_clean = NAN;
    if (r->feeds.from < 0) return;
    double p;
    bf_mix to = bites_of(&r->feed[r->feeds.to]), from = bites_of(&r->feed[r->feeds.from]);
    if (bf_mix_p_more(&to, &from, 1, &p) != BF_OK) return;
    r->feed_clean = p >= 0.5 ? r->feeds.to : r->feeds.from;
    r->p_feed_clean = p >= 0.5 ? p : 1 - p;
}

/* ---- Where hooks held ---- */

static void mix_holds(const tools *t, bf_review *r) {
    r->holds = (bf_mix){.n_kinds = BF_N_HELD, .prior_total = BF_MIX_WEAK};
    r->in_lip = no_share();
    int n = 0;
    for (int i = 0; i < t->n; i++) {
        int held = drop_at(t, i)->held;
        if (held < 0) continue;
        r->holds.count[held]++;
        n++;
    }
    uint32_t lip = 1u << BF_LIP_TOP_MIDDLE | 1u << BF_LIP_TOP_SIDE | 1u << BF_LIP_BOTTOM;
    if (n >= BF_LEAST_TO_SAY && bf_mix_share(&r->holds, lip, LEVEL, &r->in_lip) != BF_OK)
        r->in_lip = no_share();
}

/* ---- One thing to try ---- */

/* Lost or foul out of all bites: 3 in 10 or more of ten or more, and more than 2 in 10 with nine chances in ten. */
static int is_much_spoilt(const bf_review_group *g) {
    int bites = n_bites(g->count), spoilt = g->count[BF_LOST] + g->count[BF_FOUL];
    bf_mix mix = {2, {spoilt, bites - spoilt}, BF_MIX_WEAK};
    bf_share share;
    return bites >= 10 && spoilt >= 0.3 * bites && bf_mix_share(&mix, 1, LEVEL, &share) == BF_OK &&
           share.share.lo > 0.2;
}

static bf_review_try choose_try(const bf_review *r) {
    const bf_banded *median = &r->all.median_s;
    double half_width_s = (median->upper - median->lower) / 2;
    if (r->all.n_ended < BF_LEAST_TO_SAY) return BF_TRY_LOG_MORE;
    if (2 * r->all.n_unseen > r->all.n_waits && r->unseen_pm_s > half_width_s) return BF_TRY_RIG_IN;
    if (r->feeds.from >= 0) {
        int is_apart = r->feeds.ratio.lower > 1 || r->feeds.ratio.upper < 1;
        return is_apart ? BF_TRY_TURNS_AGAIN : BF_TRY_TURNS;
    }
    return is_much_spoilt(&r->all) ? BF_TRY_FEWER : BF_TRY_SECOND;
}

/* 12 blocks of 20 minutes with 5 dropped: an hour and a half on each side, at this session's rate. */
static double least_ratio(const bf_review *r) {
    double per_h = r->all.bites_per_h.mid;
    return per_h > 0 ? bf_trial_least_ratio(1.5 * per_h, 1) : NAN;
}

/* ---- The review ---- */

void bf_review_of(const bf_fold *fold, const bf_turnaround *turnaround, int session, void *work,
                  bf_wait_step *step, bf_review *review) {
    BF_ASSERT(session >= 0 && session < fold->n_sessions);
    tools t = tools_of(fold, turnaround, session, work, step);
    bf_review *r = review;
    memset(r, 0, sizeof *r);
    r->session = session;
    bf_span span = span_of(fold, session);
    r->from_ms = span.from_ms;
    r->to_ms = span.to_ms;
    count_stretches(&t, r);
    group_all(&t, r);
    r->unseen_pm_s = unseen_pm_s(turnaround, &r->all);
    group_feeds(&t, r);
    group_ages(&t, r);
    find_best_age(r);
    cut_halves(&t, r);
    pool_halves(&t, r);
    find_change(&t, r);
    choose_feeds(r);
    compare_waits(&t, r);
    compare_rates(r);
    compare_clean(r);
    mix_holds(&t, r);
    r->what_to_try = choose_try(r);
    r->try_least_ratio = least_ratio(r);
}

/* ---- As it went ---- */

#define MOVING_STEP_MS 600000.0

int bf_review_moving(const bf_fold *fold, int i_session, int most_steps, double *at_ms, double *per_h) {
    const bf_session *session = &fold->session[i_session];
    bf_span span = span_of(fold, i_session);
    double from = span.from_ms, to = span.to_ms;
    int n = 0;
    if (!(to - from >= HALF_MS) || fish_between(fold, session, from, to + 1) <= 0) return 0;
    for (double at = from + HALF_MS / 2; at <= to - HALF_MS / 2 && n < most_steps; at += MOVING_STEP_MS) {
        bf_gamma rate = {BF_RATE_WEAK.shape + fish_between(fold, session, at - HALF_MS / 2, at + HALF_MS / 2),
                         BF_RATE_WEAK.rate + HALF_MS / 3.6e6};
        at_ms[n] = at;
        for (int d = 0; d < 9; d++) per_h[9 * n + d] = bf_rate_quantile(rate, (d + 1) / 10.0);
        n++;
    }
    return n;
}
