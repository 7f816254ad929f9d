/* advise_why.c -- why one act and not another: rivals of each kind, what bears on the advice, what would change it. Read off the
 * scenarios that were tried. See baitfall/advise.h. */
#include <math.h>

#include "core/swim/advise.h"

/* A correlation of fewer sd than this may be chance: four readings are looked at, and particles are kin. */
#define LEAST_PULL_SD 3.0
/* Fewer scenarios tell nothing of a part of the belief. */
#define LEAST_PART 16

/* ---- Rivals ---- */

typedef enum kind {
    KIND_SAME,
    KIND_LESS,
    KIND_MORE,
    KIND_OTHERWISE,
    KIND_WAIT,
    KIND_HOOK,
    KIND_MOVE,
    N_KINDS
} kind;

/* 1: beyond when its rule would have it. */
static int is_held_off(const bf_advise_job *job, const bf_act *act) {
    double due_s = act->every_s - job->since_put_s[act->spot];
    return act->what == BF_WHAT_WAIT && !act->after_bite && act->wait_s > (due_s > 0 ? due_s : 0);
}

static kind kind_of(const bf_advise_job *job, const bf_act *act) {
    const bf_way *usual = &job->way[0];
    double more = act->count * job->every_s / (usual->count * act->every_s);
    if (act->what == BF_WHAT_MOVE) return KIND_MOVE;
    if (act->hook != job->hook[0]) return KIND_HOOK;
    if (act->feed < 0 || is_held_off(job, act)) return KIND_WAIT;
    if (act->feed != usual->feed || act->how != usual->how) return KIND_OTHERWISE;
    return more < 1 ? KIND_LESS : more > 1 ? KIND_MORE : KIND_SAME;
}

static double share_above(const bfi_advising *a, int act, int over, int n) {
    const double *x = a->value + act * a->planner.n_most, *y = a->value + over * a->planner.n_most;
    double above = 0;
    for (int s = 0; s < n; s++) above += x[s] > y[s] ? 1 : x[s] == y[s] ? 0.5 : 0;
    return above / n;
}

static bf_rival rival_of(const bfi_advising *a, int act) {
    int best = a->advice->best,
        n = a->planner.seen[act] < a->planner.seen[best] ? a->planner.seen[act] : a->planner.seen[best];
    return (bf_rival){.act = act,
                      .behind = bfi_planner_difference(&a->planner, a->value, best, act),
                      .p_more = share_above(a, act, best, n),
                      .n = n};
}

static void insert_rival(bf_rival *rival, int n, const bf_rival *one) {
    for (; n > 0 && rival[n - 1].behind.mid > one->behind.mid; n--) rival[n] = rival[n - 1];
    rival[n] = *one;
}

/* The best of each kind; the nearest first. */
static void find_rivals(bfi_advising *a) {
    bf_advice *advice = a->advice;
    bf_rival of_kind[N_KINDS], in_order[N_KINDS];
    int has[N_KINDS] = {0}, n = 0;
    for (int k = 0; k < advice->n_acts; k++) {
        if (k == advice->best) continue;
        kind is = kind_of(a->job, &advice->act[k]);
        bf_rival rival = rival_of(a, k);
        if (!has[is] || rival.behind.mid < of_kind[is].behind.mid) of_kind[is] = rival;
        has[is] = 1;
    }
    for (int is = 0; is < N_KINDS; is++)
        if (has[is]) insert_rival(in_order, n++, &of_kind[is]);
    advice->n_rivals = n < BF_ADVISE_MOST_RIVALS ? n : BF_ADVISE_MOST_RIVALS;
    for (int i = 0; i < advice->n_rivals; i++) advice->rival[i] = in_order[i];
}

/* ---- Readings ---- */

static double *readings(const bfi_advising *a, int reading) {
    return a->reading + reading * a->job->n_run_off;
}

static void read_truths(const bfi_advising *a, int n) {
    int spot = a->job->way[0].spot;
    for (int s = 0; s < n; s++) {
        bfi_swim_alone alone;
        bfi_advise_truth(a, s, &alone);
        bfi_swim_left(&alone.swim, 1, alone.x, spot, -1, readings(a, BF_READ_LEFT) + s);
        bfi_swim_fish(&alone.swim, 1, alone.x, spot, readings(a, BF_READ_FISH) + s);
        bfi_swim_near(&alone.swim, 1, alone.x, readings(a, BF_READ_NEAR) + s);
        bfi_swim_left(&alone.swim, 1, alone.x, spot, 0, readings(a, BF_READ_SMALL) + s);
    }
}

/* Of one size of feed, all of it is the smallest. */
static int n_readings(const bfi_advising *a) {
    return a->ready->n_classes > 1 ? BF_N_READINGS : BF_READ_SMALL;
}

/* Sorts the first n scenarios by a reading. */
static void sort_by(bfi_advising *a, int reading, int n) {
    for (int s = 0; s < n; s++) a->key[s] = (bfi_key){.a = bfi_key_of(readings(a, reading)[s]), .at = s};
    bfi_sort(a->key, n, a->spare_key);
}

static double lead_in(const bfi_advising *a, int act, int over, int s) {
    return a->value[act * a->planner.n_most + s] - a->value[over * a->planner.n_most + s];
}

/* ---- What bears on it ---- */

/* Correlation of the lead over a rival with the rank of a reading. */
static double pull_of(bfi_advising *a, int reading, int rival, int n) {
    double sum = 0, rank = 0.5 * (n - 1), xy = 0, xx = 0, yy = 0;
    sort_by(a, reading, n);
    if (a->key[0].a == a->key[n - 1].a) return 0;
    for (int i = 0; i < n; i++) sum += lead_in(a, a->advice->best, rival, i);
    for (int i = 0; i < n; i++) {
        double y = lead_in(a, a->advice->best, rival, a->key[i].at) - sum / n;
        xy += (i - rank) * y, xx += (i - rank) * (i - rank), yy += y * y;
    }
    return yy > 0 ? xy / sqrt(xx * yy) : 0;
}

/* The nearest rival that does something else altogether, else the nearest. */
static int other_kind(const bf_advice *advice) {
    for (int i = 0; i < advice->n_rivals; i++)
        if (advice->act[advice->rival[i].act].what != advice->act[advice->best].what) return i;
    return 0;
}

static void find_bearings(bfi_advising *a) {
    bf_advice *advice = a->advice;
    advice->bearing[0].reading = advice->bearing[1].reading = -1;
    if (!advice->n_rivals) return;
    const bf_rival *rival = &advice->rival[other_kind(advice)];
    if (rival->n < LEAST_PART) return;
    for (int reading = 0; reading < n_readings(a); reading++) {
        bf_bearing b = {reading, pull_of(a, reading, rival->act, rival->n)};
        if (fabs(b.pull) < LEAST_PULL_SD / sqrt(rival->n)) continue;
        if (fabs(b.pull) > fabs(advice->bearing[0].pull))
            advice->bearing[1] = advice->bearing[0], advice->bearing[0] = b;
        else if (fabs(b.pull) > fabs(advice->bearing[1].pull))
            advice->bearing[1] = b;
    }
}

/* ---- What would change it ---- */

/* The lead of an act over the advised one in m of n sorted scenarios: the lowest, or the highest. */
static bf_range lead_of_part(const bfi_advising *a, int act, int n, int m, int is_above) {
    double sum = 0, squares = 0;
    for (int i = 0; i < m; i++) {
        double d = lead_in(a, act, a->advice->best, a->key[is_above ? n - 1 - i : i].at);
        sum += d, squares += d * d;
    }
    double mean = sum / m, variance = (squares - sum * mean) / (m - 1);
    double half = variance > 0 ? 1.2815515655446004 * sqrt(variance / m) : 0;
    return (bf_range){mean, mean, mean - half, mean + half};
}

/* The largest part of the belief, at one end of a reading, where the act is better: share 0 when there is none. */
static bf_tipping change_by(const bfi_advising *a, int reading, int act, int n, int is_above) {
    static const double shares[] = {0.5, 0.4, 0.3, 0.2, 0.1};
    bf_tipping none = {.share = 0};
    for (size_t i = 0; i < sizeof shares / sizeof shares[0]; i++) {
        int m = (int)(shares[i] * n);
        if (m < LEAST_PART) break;
        double inner = bfi_of_key(a->key[is_above ? n - m : m - 1].a),
               outer = bfi_of_key(a->key[is_above ? n - m - 1 : m].a);
        if (inner == outer) continue;
        bf_range lead = lead_of_part(a, act, n, m, is_above);
        if (lead.lo > 0) return (bf_tipping){reading, is_above, 0.5 * (inner + outer), shares[i], act, lead};
    }
    return none;
}

/* Of one reading and end: the rival for which it takes least. */
static bf_tipping nearest_change(bfi_advising *a, int reading, int is_above) {
    bf_tipping nearest = {.share = 0};
    const bf_advice *advice = a->advice;
    for (int i = 0; i < advice->n_rivals; i++) {
        const bf_rival *rival = &advice->rival[i];
        if (rival->n < 2 * LEAST_PART) continue;
        sort_by(a, reading, rival->n);
        bf_tipping change = change_by(a, reading, rival->act, rival->n, is_above);
        if (change.share > nearest.share ||
            (change.share > 0 && change.share == nearest.share && change.lead.mid > nearest.lead.mid))
            nearest = change;
    }
    return nearest;
}

static void find_changes(bfi_advising *a) {
    bf_advice *advice = a->advice;
    for (int i = 0; i < 2 * n_readings(a); i++) {
        bf_tipping change = nearest_change(a, i / 2, i % 2);
        if (!(change.share > 0)) continue;
        int at = advice->n_changes;
        if (at == BF_ADVISE_MOST_CHANGES && advice->change[--at].share >= change.share) continue;
        advice->n_changes = at + 1;
        for (; at > 0 && advice->change[at - 1].share < change.share; at--)
            advice->change[at] = advice->change[at - 1];
        advice->change[at] = change;
    }
}

/* ---- All of it ---- */

void bfi_advise_why(bfi_advising *a) {
    int n = 0;
    find_rivals(a);
    for (int i = 0; i < a->advice->n_rivals; i++) n = a->advice->rival[i].n > n ? a->advice->rival[i].n : n;
    read_truths(a, n);
    find_bearings(a);
    find_changes(a);
}
