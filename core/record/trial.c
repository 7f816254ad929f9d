/* trial.c -- see trial.h. */
#include "baitfall/trial.h"

#include <math.h>

#include "baitfall/elementary.h"
#include "baitfall/random.h"
#include "baitfall/special.h"
#include "core/record/cycle.h"

#define STREAM_TRIAL 0x747269616cu
#define STREAM_SIGNS 0x7369676e73u
#define SIGNS_ALL_PAIRS 12
#define SIGNS_DRAWN 2047
#define LOG_RATIO_MOST 7.0 /* ratios beyond 1100 are "any" */
#define BEST_STEPS 44      /* halvings of the log ratio: to 1e-12 */
#define LIMIT_STEPS 20     /* to 1e-5 */
#define LEVEL 0.95
#define POWER 0.8

/* ---- The plan ---- */

#define REAL(name, dimension, least, most, start, help)                                                      \
    { #name, BF_REAL, offsetof(bf_trial_wish, name), dimension, least, most, start, 0, 0, 0, NULL, help, 0 }

static const bf_field wish_fields[] = {
    REAL(hours, BF_PURE, 0.5, 24, 5, "how long the blocks may take together"),
    REAL(block_s, BF_TIME, BF_TRIAL_BLOCK_LEAST_S, BF_TRIAL_BLOCK_MOST_S, 1200,
         "one block; whole minutes (20 min: common practice in switchbacks, no source)"),
    REAL(washout_s, BF_TIME, 0, BF_TRIAL_BLOCK_MOST_S / 2, 300,
         "dropped at the start of each block; whole minutes, half a block at most"),
    REAL(seed, BF_PURE, 0, 9007199254740991.0, 1, "of the lot; whole"),
    REAL(bites_per_h, BF_PURE, 0.1, 1000, BF_NAN,
         "bites expected an hour by the clock, for what it could find"),
};
const bf_table bf_trial_wish_table = {"trial", sizeof(bf_trial_wish), wish_fields,
                                      sizeof wish_fields / sizeof wish_fields[0]};

static const bf_section wish_sections[] = {{"plan", &bf_trial_wish_table, 0, 1, 0, NULL}};
const bf_schema bf_trial_wish_schema = {"trial", sizeof(bf_trial_wish), wish_sections, 1};

bf_trial_plan bf_trial_plan_of(const bf_trial_wish *wish) {
    double n = 2 * floor(wish->hours * 3600 / wish->block_s / 2 + 1e-9);
    int n_blocks = n < BF_TRIAL_MOST_BLOCKS ? (int)n : BF_TRIAL_MOST_BLOCKS;
    return (bf_trial_plan){wish->seed, n_blocks, wish->block_s, wish->washout_s};
}

bf_status bf_trial_check(const bf_trial_plan *plan) {
    if (!isfinite(plan->seed) || !isfinite(plan->block_s) || !isfinite(plan->washout_s))
        return BF_E_NOT_FINITE;
    int is_seed = plan->seed >= 0 && plan->seed <= 9007199254740991.0 && floor(plan->seed) == plan->seed;
    int is_count = plan->n_blocks >= 2 && plan->n_blocks <= BF_TRIAL_MOST_BLOCKS && plan->n_blocks % 2 == 0;
    int is_time = plan->block_s >= BF_TRIAL_BLOCK_LEAST_S && plan->block_s <= BF_TRIAL_BLOCK_MOST_S &&
                  plan->washout_s >= 0 && plan->washout_s <= plan->block_s / 2;
    return is_seed && is_count && is_time ? BF_OK : BF_E_RANGE;
}

int bf_trial_is_b(const bf_trial_plan *plan, int block) {
    int b_first = bf_uniform((uint64_t)plan->seed, STREAM_TRIAL, (uint64_t)(block / 2)) < 0.5;
    return b_first == (block % 2 == 0);
}

/* ---- Pairs ---- */

/* The part of a block that counts; empty when to <= from. */
typedef struct kept {
    double from_ms, to_ms;
} kept;

static double end_ms(const bf_session *session) {
    return isfinite(session->closed_ms) ? session->closed_ms : session->last_ms;
}

static kept kept_of(const bf_fold *fold, const bf_trial *trial, int block) {
    double from = trial->from_ms + 1000 * (trial->plan.block_s * block + trial->plan.washout_s);
    double to = trial->from_ms + 1000 * trial->plan.block_s * (block + 1);
    double end = end_ms(&fold->session[trial->session]);
    return (kept){from, to < end ? to : end};
}

static int is_within(kept k, double ms) {
    return ms >= k.from_ms && ms < k.to_ms;
}

static void count_bites(const bf_fold *fold, const bf_turnaround *turnaround, int i_session, kept k,
                        double *n, double *time_s) {
    const bf_session *session = &fold->session[i_session];
    *n = *time_s = 0;
    for (int i = session->drop_from; i < session->drop_to; i++) {
        const bf_drop *drop = &fold->drop[i];
        double pm_s;
        int is_bite;
        double wait_s = bf_drop_wait_s(drop, turnaround, &pm_s, &is_bite);
        if (isnan(wait_s)) continue;
        *time_s += bfi_overlap_ms(k.from_ms, k.to_ms, drop->end_ms - 1000 * wait_s, drop->end_ms) / 1000;
        *n += is_bite && is_within(k, drop->end_ms);
    }
}

static void count_fish(const bf_fold *fold, int i_session, kept k, double *n, double *time_s) {
    const bf_session *session = &fold->session[i_session];
    *n = 0;
    *time_s = k.to_ms > k.from_ms ? (k.to_ms - k.from_ms) / 1000 : 0;
    for (int i = session->drop_from; i < session->drop_to; i++)
        *n += fold->drop[i].outcome == BF_LANDED && is_within(k, fold->drop[i].end_ms);
    for (int i = session->stretch_from; i < session->stretch_to; i++)
        *n += fold->stretch[i].count[BF_LANDED] * bfi_stretch_part(&fold->stretch[i], k.from_ms, k.to_ms);
}

static int has_other_feed(const bf_fold *fold, const bf_trial *trial, int block) {
    const bf_session *session = &fold->session[trial->session];
    kept k = kept_of(fold, trial, block);
    int due = bf_trial_is_b(&trial->plan, block) ? trial->b : trial->a;
    for (int i = session->put_from; i < session->put_to; i++)
        if (is_within(k, fold->put_in[i].t_ms) && fold->put_in[i].bait != due) return 1;
    return 0;
}

void bf_trial_pairs(const bf_fold *fold, const bf_turnaround *turnaround, const bf_trial *trial,
                    bf_trial_measure measure, bf_trial_pair *pair, int *n_pairs, int *n_other) {
    *n_pairs = 0;
    if (n_other) *n_other = 0;
    for (int block = 0; block < trial->plan.n_blocks; block++) {
        bf_trial_pair *p = &pair[*n_pairs];
        int is_b = bf_trial_is_b(&trial->plan, block);
        double *n = is_b ? &p->n_b : &p->n_a, *time_s = is_b ? &p->time_b_s : &p->time_a_s;
        kept k = kept_of(fold, trial, block);
        if (measure == BF_TRIAL_BITES)
            count_bites(fold, turnaround, trial->session, k, n, time_s);
        else
            count_fish(fold, trial->session, k, n, time_s);
        if (n_other) *n_other += has_other_feed(fold, trial, block);
        if (block % 2 == 1 && p->time_a_s > 0 && p->time_b_s > 0) ++*n_pairs;
    }
}

/* ---- The effect ---- */

/* What the tests of one comparison share. */
typedef struct signs {
    const bf_trial_pair *pair;
    int n;
} signs;

/* What b had in a pair beyond its share, were its rate exp(log_ratio) times a's. */
static double beyond(const bf_trial_pair *p, double log_ratio) {
    double weight = bf_exp(log_ratio) * p->time_b_s;
    return p->n_b - (p->n_a + p->n_b) * weight / (p->time_a_s + weight);
}

static double sum_beyond(const signs *s, double log_ratio) {
    double sum = 0;
    for (int i = 0; i < s->n; i++) sum += beyond(&s->pair[i], log_ratio);
    return sum;
}

/* The sum with the signs of one draw. */
static double signed_sum(const double *d, int n, int draw) {
    static const double sign[2] = {1, -1};
    double sum = 0;
    if (n <= SIGNS_ALL_PAIRS) {
        for (int i = 0; i < n; i++) sum += sign[draw >> i & 1] * d[i];
        return sum;
    }
    bf_philox_block bits = {{0}};
    for (int i = 0; i < n; i++) {
        if (i % 128 == 0) bits = bf_philox(STREAM_SIGNS, (uint64_t)draw, (uint64_t)(i / 128));
        sum += sign[bits.word[i % 128 / 32] >> (i % 32) & 1] * d[i];
    }
    return sum;
}

/* The shares of draws whose sum is at least (high) and at most (low) the one seen. */
static void tails(const signs *s, double log_ratio, double *high, double *low) {
    double d[BF_TRIAL_MOST_PAIRS], seen = 0, size = 0;
    int is_all = s->n <= SIGNS_ALL_PAIRS, n_draws = is_all ? 1 << s->n : SIGNS_DRAWN;
    int n_high = !is_all, n_low = !is_all; /* the one seen is a draw too */
    for (int i = 0; i < s->n; i++) {
        d[i] = beyond(&s->pair[i], log_ratio);
        seen += d[i];
        size += fabs(d[i]);
    }
    for (int draw = 0; draw < n_draws; draw++) {
        double sum = signed_sum(d, s->n, draw);
        n_high += sum >= seen - 1e-12 * size;
        n_low += sum <= seen + 1e-12 * size;
    }
    *high = (double)n_high / (n_draws + !is_all);
    *low = (double)n_low / (n_draws + !is_all);
}

/* The ratio that solves sum d_i = 0: the sum falls as the ratio rises. */
static double best_log_ratio(const signs *s) {
    double low = -LOG_RATIO_MOST, high = LOG_RATIO_MOST;
    for (int step = 0; step < BEST_STEPS; step++) {
        double middle = (low + high) / 2;
        if (sum_beyond(s, middle) > 0)
            low = middle;
        else
            high = middle;
    }
    return (low + high) / 2;
}

/* How far from the best ratio, in its direction (-1 or 1), ratios are still not refuted. */
static double limit(const signs *s, double best, int direction, double alpha) {
    double in = best, out = direction * LOG_RATIO_MOST, high, low;
    tails(s, out, &high, &low);
    if ((direction < 0 ? high : low) > alpha) return direction < 0 ? 0 : INFINITY;
    for (int step = 0; step < LIMIT_STEPS; step++) {
        double middle = (in + out) / 2;
        tails(s, middle, &high, &low);
        if ((direction < 0 ? high : low) > alpha)
            in = middle;
        else
            out = middle;
    }
    return bf_exp(in);
}

/* Squares of d over what chance alone gives them, n p (1 - p); one pair's worth is spent on the ratio. */
static double dispersion_of(const signs *s, double log_ratio) {
    double sum = 0;
    int n = 0;
    for (int i = 0; i < s->n; i++) {
        const bf_trial_pair *p = &s->pair[i];
        double weight = bf_exp(log_ratio) * p->time_b_s, share = weight / (p->time_a_s + weight);
        double variance = (p->n_a + p->n_b) * share * (1 - share), d = beyond(p, log_ratio);
        if (!(variance > 0)) continue;
        sum += d * d / variance;
        n++;
    }
    return n > 1 ? sum / (n - 1) : NAN;
}

static bf_status check_pairs(const bf_trial_pair *pair, int n_pairs) {
    if (n_pairs < 1) return BF_E_MISSING;
    if (n_pairs > BF_TRIAL_MOST_PAIRS) return BF_E_COUNT;
    for (int i = 0; i < n_pairs; i++) {
        const bf_trial_pair *p = &pair[i];
        if (!isfinite(p->n_a) || !isfinite(p->n_b) || !isfinite(p->time_a_s) || !isfinite(p->time_b_s))
            return BF_E_NOT_FINITE;
        if (p->n_a < 0 || p->n_b < 0 || p->time_a_s <= 0 || p->time_b_s <= 0) return BF_E_RANGE;
    }
    return BF_OK;
}

bf_status bf_trial_compare(const bf_trial_pair *pair, int n_pairs, double level, bf_trial_effect *effect) {
    BF_ASSERT(level > 0 && level < 1);
    *effect = (bf_trial_effect){n_pairs, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN};
    bf_status status = check_pairs(pair, n_pairs);
    if (status) return status;
    bf_trial_effect e = {.n_pairs = n_pairs};
    for (int i = 0; i < n_pairs; i++) {
        e.n_a += pair[i].n_a;
        e.n_b += pair[i].n_b;
        e.time_a_s += pair[i].time_a_s;
        e.time_b_s += pair[i].time_b_s;
    }
    if (e.n_a + e.n_b == 0) return BF_E_MISSING;
    signs s = {pair, n_pairs};
    double alpha = (1 - level) / 2, best = best_log_ratio(&s), high, low;
    e.ratio = e.n_b == 0 ? 0 : e.n_a == 0 ? INFINITY : bf_exp(best);
    e.lower = e.n_b == 0 ? 0 : limit(&s, best, -1, alpha);
    e.upper = e.n_a == 0 ? INFINITY : limit(&s, best, 1, alpha);
    tails(&s, 0, &high, &low);
    e.p_value = 2 * (high < low ? high : low) < 1 ? 2 * (high < low ? high : low) : 1;
    if (e.p_value >
        1 - level) { // outcomes of the lot that tie at 1 part again beside it: then 1 stands alone, and is in
        e.lower = e.lower < 1 ? e.lower : 1;
        e.upper = e.upper > 1 ? e.upper : 1;
    }
    e.dispersion = dispersion_of(&s, best);
    *effect = e;
    return BF_OK;
}

/* ---- What it could find ---- */

static double reach(void) {
    return bf_normal_quantile((1 + LEVEL) / 2) + bf_normal_quantile(POWER);
}

double bf_trial_least_ratio(double n_side, double dispersion) {
    BF_ASSERT(n_side > 0 && dispersion > 0);
    return bf_exp(reach() * sqrt(2 * dispersion / n_side));
}

double bf_trial_needed(double ratio, double dispersion) {
    BF_ASSERT(ratio > 0 && ratio != 1 && dispersion > 0);
    double each = reach() / bf_log(ratio);
    return 2 * dispersion * each * each;
}
