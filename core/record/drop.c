/* drop.c -- what happened in the water: put-ins, stretches, drops, counts, twins, waits. See baitfall/fold.h.
 * */
#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"
#include "core/record/count.h"
#include "core/record/folding.h"

/* ---- Sessions and what stands alone ---- */

static void start_session(bf_session *session) {
    session->open_live = session->close_live = -1;
    session->closed_ms = session->last_ms = session->temp_c = BF_NAN;
    session->hours = session->target_kg = session->net_limit_kg = BF_NAN;
    session->venue = session->peg = session->plan = session->nets = -1;
    session->east_min = 0;
    memset(session->count, 0, sizeof session->count);
}

static void find_ranges(bfi_folding *f) {
    bf_fold *fold = f->fold;
    for (int s = 0; s < fold->n_sessions; s++) start_session(&fold->session[s]);
    for (int i = 0; i < fold->n_live; i++) {
        int s = fold->live[i].session;
        if (!i || fold->live[i - 1].session != s) fold->session[s].live_from = i;
        fold->session[s].live_to = i + 1;
    }
}

static void take_open(bf_session *session, const bf_body *body, int i_live) {
    session->open_live = i_live;
    session->venue = body->venue;
    session->peg = body->peg;
    session->plan = body->plan;
    session->hours = body->hours;
    session->target_kg = body->target_kg;
    session->net_limit_kg = body->net_limit_kg;
    session->nets = body->nets;
}

static void add_stretch(bf_fold *fold, bf_session *session, int i_live) {
    const bf_live *live = &fold->live[i_live];
    const bf_body *body = &live->body;
    bf_stretch *stretch = &fold->stretch[fold->n_stretches++];
    const int counts[] = {
        [BF_LANDED] = body->landed, [BF_LOST] = body->lost,       [BF_MISSED] = body->missed,
        [BF_FOUL] = body->foul,     [BF_NOTHING] = body->nothing, [BF_TOUCHED] = body->touch};
    *stretch = (bf_stretch){
        .session = live->session, .live = i_live, .from_ms = body->from_ms, .to_ms = body->to_ms};
    for (int o = 0; o < BF_N_OUTCOMES; o++) {
        stretch->count[o] = counts[o] > 0 ? counts[o] : 0;
        bfi_count(&session->count[o], stretch->count[o]);
    }
}

/* What a session is told outright, without waits: its facts and its stretches. */
static void take_facts(bfi_folding *f, int s) {
    bf_fold *fold = f->fold;
    bf_session *session = &fold->session[s];
    session->stretch_from = fold->n_stretches;
    for (int i = session->live_from; i < session->live_to; i++) {
        const bf_live *live = &fold->live[i];
        if (!bfi_counts(live)) continue;
        if (session->last_ms != session->last_ms) session->east_min = f->events[live->event].at_east_min;
        session->last_ms = live->t_ms;
        if (live->kind == BF_OPEN && session->open_live < 0) take_open(session, &live->body, i);
        if (live->kind == BF_CLOSE) session->close_live = i;
        if (live->kind == BF_CLOSE) session->closed_ms = live->t_ms;
        if (live->kind == BF_WATER && live->body.temp_c == live->body.temp_c)
            session->temp_c = live->body.temp_c;
        if (live->kind == BF_TALLY) add_stretch(fold, session, i);
    }
    session->stretch_to = fold->n_stretches;
}

/* ---- The walk through a session ---- */

/* The drop that is going on. */
typedef struct wait_state {
    int start, start_live;
    double base_ms, base_pm_s;
    int n_touches;
    double first_touch_ms;
} wait_state;

typedef struct walk {
    bf_fold *fold;
    int session;
    int spot, hook_bait, net; /* as last known */
    wait_state wait;
} walk;

static void begin_wait(walk *w, int start, int i_live) {
    const bf_live *live = i_live >= 0 ? &w->fold->live[i_live] : NULL;
    w->wait = (wait_state){start, i_live, live ? live->t_ms : BF_NAN, live ? live->pm_s : BF_NAN, 0, BF_NAN};
}

static int is_seen(const wait_state *wait) {
    return wait->start == BF_START_LOWER || wait->n_touches > 0;
}

/* Over a stretch that was not logged nobody knows what the rig did. */
static void forget_over_stretches(walk *w, double end_ms) {
    const bf_session *session = &w->fold->session[w->session];
    if (w->wait.start != BF_START_LIFT && w->wait.start != BF_START_FEED) return;
    for (int i = session->stretch_from; i < session->stretch_to; i++) {
        const bf_stretch *stretch = &w->fold->stretch[i];
        if (stretch->from_ms >= end_ms || stretch->to_ms <= w->wait.base_ms) continue;
        w->wait.start = BF_START_UNKNOWN;
        w->wait.start_live = -1;
        w->wait.base_ms = w->wait.base_pm_s = BF_NAN;
        return;
    }
}

static bf_drop *add_drop(walk *w, int end_live) {
    const bf_live *end = end_live >= 0 ? &w->fold->live[end_live] : NULL;
    const wait_state *wait = &w->wait;
    bf_drop *drop = &w->fold->drop[w->fold->n_drops++];
    *drop = (bf_drop){
        .session = w->session,
        .start = wait->start,
        .start_live = wait->start_live,
        .end_live = end_live,
        .base_ms = wait->base_ms,
        .base_pm_s = wait->base_pm_s,
        .end_ms = end ? end->t_ms : w->fold->session[w->session].last_ms,
        .end_pm_s = end ? end->pm_s : 0,
        .is_implied = end && end->kind != BF_LIFT,
        .outcome = BF_NOTHING,
        .spot = w->spot,
        .hook_bait = w->hook_bait,
        .species = -1,
        .held = -1,
        .size = -1,
        .mass_kg = BF_NAN,
        .guess_kg = BF_NAN,
        .n_touches = wait->n_touches,
        .first_touch_ms = wait->first_touch_ms,
        .net = w->net,
        .put = -1,
    };
    if (end) w->fold->session[w->session].count[BF_NOTHING] += drop->is_implied;
    return drop;
}

static void know(int *last, int told) {
    if (told >= 0) *last = told;
}

static void take_lift(walk *w, int i_live) {
    const bf_body *body = &w->fold->live[i_live].body;
    know(&w->spot, body->spot);
    know(&w->hook_bait, body->hook_bait);
    bf_drop *drop = add_drop(w, i_live);
    drop->outcome = body->outcome;
    drop->species = body->species;
    drop->held = body->held;
    drop->size = body->size;
    drop->mass_kg = body->mass_kg;
    drop->guess_kg = body->guess_kg;
    w->fold->session[w->session].count[body->outcome]++;
    begin_wait(w, BF_START_LIFT, i_live);
}

static void take_lower(walk *w, int i_live) {
    const bf_body *body = &w->fold->live[i_live].body;
    if (is_seen(&w->wait)) add_drop(w, i_live);
    know(&w->spot, body->spot);
    know(&w->hook_bait, body->hook_bait);
    begin_wait(w, BF_START_LOWER, i_live);
}

static void add_put_in(walk *w, int i_live) {
    const bf_live *live = &w->fold->live[i_live];
    const bf_body *body = &live->body;
    w->fold->put_in[w->fold->n_put_ins++] = (bf_put_in){
        .session = w->session,
        .live = i_live,
        .t_ms = live->t_ms,
        .pm_s = live->pm_s,
        .spot = body->spot >= 0 ? body->spot : w->spot,
        .bait = body->bait,
        .how = body->how,
        .count = body->count,
        .volume_m3 = body->volume_m3,
        .fill_frac = body->fill_frac,
        .pot_m3 = body->pot_m3,
    };
}

/* Feed that takes the pole away from fishing. Nothing told: from a pot, as it mostly is. */
static int needs_pole(int how) {
    return how != BF_THROW && how != BF_HAND;
}

static void take_feed(walk *w, int i_live) {
    const bf_live *live = &w->fold->live[i_live];
    if (needs_pole(live->body.how)) {
        int was_unseen = w->wait.start == BF_START_LIFT || w->wait.start == BF_START_FEED;
        int is_long = was_unseen && live->t_ms - w->wait.base_ms >= BF_TURNAROUND_HI_S * 1000;
        if (is_seen(&w->wait) || is_long) add_drop(w, i_live);
        know(&w->spot, live->body.spot);
    }
    add_put_in(w, i_live);
    if (needs_pole(live->body.how)) begin_wait(w, BF_START_FEED, i_live);
}

static void take_touch(walk *w, int i_live) {
    const bf_live *live = &w->fold->live[i_live];
    int n = live->body.n > 0 ? live->body.n : 1;
    know(&w->spot, live->body.spot);
    if (!w->wait.n_touches) w->wait.first_touch_ms = live->t_ms;
    bfi_count(&w->wait.n_touches, n);
    bfi_count(&w->fold->session[w->session].count[BF_TOUCHED], n);
}

static void take_close(walk *w, int i_live) {
    if (is_seen(&w->wait)) add_drop(w, i_live);
    begin_wait(w, BF_START_UNKNOWN, -1);
}

static void take_event(walk *w, int i_live) {
    const bf_live *live = &w->fold->live[i_live];
    forget_over_stretches(w, live->t_ms);
    switch (live->kind) {
    case BF_OPEN: know(&w->hook_bait, live->body.hook_bait); break;
    case BF_LIFT: take_lift(w, i_live); break;
    case BF_LOWER: take_lower(w, i_live); break;
    case BF_FEED: take_feed(w, i_live); break;
    case BF_TOUCH: take_touch(w, i_live); break;
    case BF_CLOSE: take_close(w, i_live); break;
    case BF_NET:
        if (live->body.mass_kg != live->body.mass_kg) w->net = live->body.net;
        break;
    default: break;
    }
}

static void walk_session(bfi_folding *f, int s) {
    bf_fold *fold = f->fold;
    bf_session *session = &fold->session[s];
    walk w = {fold, s, -1, -1, 0, {0}};
    session->drop_from = fold->n_drops;
    session->put_from = fold->n_put_ins;
    begin_wait(&w, BF_START_UNKNOWN, -1);
    for (int i = session->live_from; i < session->live_to; i++)
        if (bfi_counts(&fold->live[i])) take_event(&w, i);
    forget_over_stretches(&w, session->last_ms);
    int is_going_on = w.wait.start != BF_START_UNKNOWN || w.wait.n_touches > 0;
    if (session->close_live < 0 && is_going_on) add_drop(&w, -1);
    session->drop_to = fold->n_drops;
    session->put_to = fold->n_put_ins;
}

/* ---- Which put-ins belong together, and which one a drop fished over ---- */

static uint64_t pair(int high, uint32_t low) {
    return (uint64_t)high << 32 | low;
}

/* Baits that share a number on one device in one session are one put-in. */
static void join_put_ins(bfi_folding *f) {
    bf_fold *fold = f->fold;
    int n = 0;
    for (int i = 0; i < fold->n_put_ins; i++) {
        bf_put_in *put = &fold->put_in[i];
        const bf_live *live = &fold->live[put->live];
        put->first = i;
        if (live->body.put < 0) continue;
        f->key[n++] =
            (bfi_key){pair(put->session, f->events[live->event].dev), (uint64_t)live->body.put, 0, i};
    }
    bfi_sort(f->key, n, f->spare);
    for (int k = 1; k < n; k++)
        if (bfi_key_order(&f->key[k - 1], &f->key[k]) == 0)
            fold->put_in[f->key[k].at].first = fold->put_in[f->key[k - 1].at].first;
}

/* The last of n sorted keys that is not above this one, -1. */
static int last_up_to(const bfi_key *keys, int n, const bfi_key *key) {
    int low = 0, high = n;
    while (low < high) {
        int middle = low + (high - low) / 2;
        if (bfi_key_order(&keys[middle], key) <= 0)
            low = middle + 1;
        else
            high = middle;
    }
    return low - 1;
}

static void find_puts_of_drops(bfi_folding *f) {
    bf_fold *fold = f->fold;
    for (int i = 0; i < fold->n_put_ins; i++) {
        const bf_put_in *put = &fold->put_in[i];
        f->key[i] = (bfi_key){pair(put->session, (uint32_t)put->spot), (uint64_t)put->live, 0, i};
    }
    bfi_sort(f->key, fold->n_put_ins, f->spare);
    for (int d = 0; d < fold->n_drops; d++) {
        bf_drop *drop = &fold->drop[d];
        if (drop->start_live < 0) continue;
        bfi_key key = {pair(drop->session, (uint32_t)drop->spot), (uint64_t)drop->start_live, 0, 0};
        int k = last_up_to(f->key, fold->n_put_ins, &key);
        if (k >= 0 && f->key[k].a == key.a) drop->put = f->key[k].at;
    }
}

/* ---- Twins ---- */

#define TWIN_MS 30000
#define TWIN_LOOK_BACK 64 /* entries, so that a pile of equal instants takes no quadratic time */

static int may_be_twin(const bf_live *live) {
    int kind = live->kind;
    return !live->is_crossed &&
           (kind == BF_FEED || kind == BF_LOWER || kind == BF_TOUCH || kind == BF_LIFT || kind == BF_NET);
}

static int are_twins(const bfi_folding *f, const bf_live *a, const bf_live *b) {
    return may_be_twin(a) && a->kind == b->kind && a->body.spot == b->body.spot &&
           a->body.bait == b->body.bait && f->events[a->event].dev != f->events[b->event].dev;
}

static void find_twins(bfi_folding *f) {
    bf_fold *fold = f->fold;
    for (int b = 0; b < fold->n_live; b++) {
        const bf_live *live = &fold->live[b];
        int first = fold->session[live->session].live_from;
        if (first < b - TWIN_LOOK_BACK) first = b - TWIN_LOOK_BACK;
        if (!may_be_twin(live)) continue;
        for (int a = b - 1; a >= first && live->t_ms - fold->live[a].t_ms <= TWIN_MS; a--)
            if (are_twins(f, &fold->live[a], live)) {
                fold->twin[fold->n_twins++] = (bf_twin){a, b};
                break;
            }
    }
}

void bfi_fold_drops(bfi_folding *f) {
    find_ranges(f);
    for (int s = 0; s < f->fold->n_sessions; s++) {
        take_facts(f, s);
        walk_session(f, s);
    }
    join_put_ins(f);
    find_puts_of_drops(f);
    find_twins(f);
}

/* ---- Waits ---- */

#define HALF_80 1.2815515655446004 /* normal quantile at 0.9 */
#define PRIOR_GAPS 4.0
#define GAP_LEAST_MS 3000.0
#define GAP_MOST_MS 600000.0
#define WAIT_LEAST_S 0.5

/* Moments of the logarithms of the gaps in seconds. */
typedef struct gaps {
    int n;
    double sum, sum_squares;
} gaps;

static void add_gap(gaps *g, double ms) {
    if (!(ms >= GAP_LEAST_MS && ms <= GAP_MOST_MS)) return;
    double x = bf_log(ms / 1000 / BF_TURNAROUND_S); // about the start value: nothing cancels
    g->n++;
    g->sum += x;
    g->sum_squares += x * x;
}

static void add_gaps_of(gaps *g, const bf_fold *fold, const bf_session *session) {
    double base_ms = BF_NAN;
    for (int i = session->live_from; i < session->live_to; i++) {
        const bf_live *live = &fold->live[i];
        if (!bfi_counts(live)) continue;
        int is_feed = live->kind == BF_FEED && needs_pole(live->body.how);
        if (live->kind == BF_LOWER) add_gap(g, live->t_ms - base_ms);
        if (live->kind == BF_LOWER || live->kind == BF_TOUCH || live->kind == BF_TALLY) base_ms = BF_NAN;
        if (live->kind == BF_LIFT || is_feed) base_ms = live->t_ms;
    }
}

bf_turnaround bf_turnaround_of(const bf_fold *fold) {
    gaps g = {0};
    for (int s = 0; s < fold->n_sessions; s++) add_gaps_of(&g, fold, &fold->session[s]);
    // Mean and spread with the start value as four gaps more, whose logarithms have mean 0 here.
    double weight = PRIOR_GAPS + g.n, mean = g.sum / weight;
    double prior_sd = bf_log(BF_TURNAROUND_HI_S / BF_TURNAROUND_S) / HALF_80;
    double variance = (PRIOR_GAPS * prior_sd * prior_sd + g.sum_squares) / weight - mean * mean;
    double spread = HALF_80 * sqrt(variance);
    return (bf_turnaround){BF_TURNAROUND_S * bf_exp(mean), BF_TURNAROUND_S * bf_exp(mean - spread),
                           BF_TURNAROUND_S * bf_exp(mean + spread), g.n};
}

static double larger(double a, double b) {
    return a > b ? a : b;
}

double bf_drop_wait_s(const bf_drop *drop, const bf_turnaround *turnaround, double *pm_s, int *is_event) {
    int is_bite = drop->outcome == BF_LANDED || drop->outcome == BF_LOST || drop->outcome == BF_MISSED ||
                  drop->outcome == BF_FOUL;
    *is_event = drop->end_live >= 0 && !drop->is_implied && is_bite;
    *pm_s = BF_NAN;
    if (drop->start == BF_START_UNKNOWN) return BF_NAN;
    double wait_s = (drop->end_ms - drop->base_ms) / 1000;
    double around_pm_s = 0;
    if (drop->start != BF_START_LOWER) {
        around_pm_s = (turnaround->hi_s - turnaround->lo_s) / 2;
        wait_s -= turnaround->mid_s;
        // A touch shows that the rig was in by then.
        if (drop->n_touches) wait_s = larger(wait_s, (drop->end_ms - drop->first_touch_ms) / 1000);
    }
    *pm_s =
        sqrt(drop->base_pm_s * drop->base_pm_s + drop->end_pm_s * drop->end_pm_s + around_pm_s * around_pm_s);
    return larger(wait_s, WAIT_LEAST_S);
}
