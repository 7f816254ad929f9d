/* box.c -- the bait box; see baitfall/match.h. Nets, guessing and pace: match.c. */
#include <math.h>

#include "baitfall/elementary.h"
#include "baitfall/match.h"

#define HOUR_MS 3600000.0

static double square(double x) {
    return x * x;
}

static double above_zero(double x) {
    return x > 0 ? x : 0;
}

/* An amount as it was told; by < 0: not told. */
typedef struct amount {
    int by;
    double much;
    int is_fill;
} amount;

static amount amount_of_box(const bf_body *body) {
    if (!isnan(body->count)) return (amount){BF_BY_COUNT, body->count, 0};
    if (!isnan(body->volume_m3)) return (amount){BF_BY_VOLUME, body->volume_m3, 0};
    if (!isnan(body->mass_kg)) return (amount){BF_BY_MASS, body->mass_kg, 0};
    return (amount){-1, 0, 0};
}

static amount amount_of_put_in(const bf_put_in *put) {
    if (!isnan(put->count)) return (amount){BF_BY_COUNT, put->count, 0};
    if (!isnan(put->volume_m3)) return (amount){BF_BY_VOLUME, put->volume_m3, 0};
    double much = put->fill_frac * put->pot_m3;
    return !isnan(much) ? (amount){BF_BY_VOLUME, much, 1} : (amount){-1, 0, 0};
}

/* What one of a unit is in another; *sd of its logarithm. NaN: not known. */
static double turned(const bf_bait_measure *m, int from, int to, double *sd) {
    double solid_m3[BF_N_AMOUNTS] = {m->piece_m3, m->solid_frac, 1 / m->density_kg_m3};
    double sds[BF_N_AMOUNTS] = {m->piece_sd, m->solid_sd, m->density_sd};
    *sd = from == to ? 0 : sqrt(square(sds[from]) + square(sds[to]));
    return from == to ? 1 : solid_m3[from] / solid_m3[to];
}

/* A sum of amounts of one bait in the box's unit, at any number of standard deviations z above the middle. */
typedef struct sum {
    const bf_bait_measure *measure;
    int by;
    double told[BF_N_AMOUNTS]; /* by the unit they were told in, turned at the middle */
    double fill2;              /* variance from filling by eye */
    int n;
} sum;

static double sum_at(const sum *s, double z) {
    double all = z * sqrt(s->fill2);
    for (int by = 0; by < BF_N_AMOUNTS; by++) {
        double sd = 0;
        if (s->told[by] <= 0) continue;
        turned(s->measure, by, s->by, &sd);
        all += s->told[by] * bf_exp(z * sd);
    }
    return above_zero(all);
}

/* Returns what was added; NaN when it cannot be turned into the sum's unit. */
static double add_amount(sum *s, amount a) {
    double sd, much = a.much * turned(s->measure, a.by, s->by, &sd);
    if (isnan(much)) return BF_NAN;
    s->told[a.by] += much;
    if (a.is_fill) s->fill2 += square(BF_FILL_SD * much);
    s->n++;
    return much;
}

int bf_box_baits(const bf_fold *fold, int session, int *baits, int most) {
    int n = 0;
    for (int i = fold->session[session].live_from; i < fold->session[session].live_to; i++) {
        const bf_live *live = &fold->live[i];
        if (live->is_crossed || live->kind != BF_BOX) continue;
        int is_new = 1;
        for (int k = 0; k < n; k++) is_new &= baits[k] != live->body.bait;
        if (is_new && n < most) baits[n++] = live->body.bait;
    }
    return n;
}

/* Prepared and topped up; the first entry's unit is the box's. */
static sum prepare(const bf_fold *fold, const bf_session *session, const bf_bait_measure *measure,
                   bf_box *box) {
    sum prepared = {.measure = measure, .by = -1};
    for (int i = session->live_from; i < session->live_to; i++) {
        const bf_live *live = &fold->live[i];
        if (live->is_crossed || live->kind != BF_BOX || live->body.bait != box->bait) continue;
        amount a = amount_of_box(&live->body);
        if (a.by < 0) continue;
        if (prepared.by < 0) prepared.by = a.by;
        if (isnan(add_amount(&prepared, a))) box->n_mixed++;
    }
    box->by = prepared.by < 0 ? BF_BY_VOLUME : prepared.by;
    prepared.by = box->by;
    return prepared;
}

static void count_hour(bf_box *box, const bf_session *session, double t_ms, double much) {
    double hour = floor((t_ms - session->opened_ms) / HOUR_MS);
    int i = hour < 0 ? 0 : hour >= BF_HOURS_MOST ? BF_HOURS_MOST - 1 : (int)hour;
    box->by_hour[i] += much;
}

static int n_hours_begun(const bf_session *session, double now_ms) {
    double hours = floor((now_ms - session->opened_ms) / HOUR_MS) + 1;
    return hours < 1 ? 1 : hours > BF_HOURS_MOST ? BF_HOURS_MOST : (int)hours;
}

/* Put-ins without an amount were as large as the others, give or take (judgement: 30 % each). */
static void guess_missing(sum *used, const bf_box *box) {
    if (used->n == 0 || box->n_guessed == 0) return;
    double mean = sum_at(used, 0) / used->n, factor = 1 + (double)box->n_guessed / used->n;
    for (int by = 0; by < BF_N_AMOUNTS; by++) used->told[by] *= factor;
    used->fill2 += box->n_guessed * square(0.3 * mean);
}

bf_box bf_box_of(const bf_fold *fold, int i_session, int bait, const bf_bait_measure *measure,
                 double now_ms) {
    const bf_session *session = &fold->session[i_session];
    const double since_ms = session->opened_ms > now_ms - HOUR_MS ? session->opened_ms : now_ms - HOUR_MS;
    bf_box box = {.bait = bait, .how = -1, .n_hours = n_hours_begun(session, now_ms)};
    sum prepared = prepare(fold, session, measure, &box);
    sum used = {.measure = measure, .by = box.by}, lately = used, typical = used;
    box.prepared = sum_at(&prepared, 0);

    for (int i = session->put_to - 1; i >= session->put_from; i--) {
        const bf_put_in *put = &fold->put_in[i];
        if (put->bait != bait) continue;
        if (put->t_ms > session->closed_ms) {
            box.n_after_end++;
            continue;
        }
        if (box.n_put_ins++ == 0) box.how = put->how;
        amount a = amount_of_put_in(put);
        if (a.by < 0) {
            box.n_guessed++;
            continue;
        }
        double much = add_amount(&used, a);
        if (isnan(much)) {
            box.n_mixed++;
            continue;
        }
        count_hour(&box, session, put->t_ms, much);
        if (typical.n < 5) add_amount(&typical, a);
        if (put->t_ms > since_ms) add_amount(&lately, a);
    }
    guess_missing(&used, &box);

    // More used (z above 0) leaves less: the ends of what is left are those of what is used, turned round.
    static const double z[4] = {0, 0, BF_PM_PER_SD, -BF_PM_PER_SD};
    double span_s = (now_ms - since_ms) / 1000, left[4], used_at[4], puts[4], lasts[4];
    for (int k = 0; k < 4; k++) {
        used_at[k] = sum_at(&used, z[k]);
        left[k] = above_zero(sum_at(&prepared, 0) - used_at[k]);
        puts[k] = sum_at(&typical, 0) > 0 ? left[k] / (sum_at(&typical, z[k]) / typical.n) : BF_NAN;
        double rate = sum_at(&lately, z[k]) * bf_exp(z[k] / sqrt((double)(lately.n ? lately.n : 1))) / span_s;
        lasts[k] = lately.n >= 3 && rate > 0 ? left[k] / rate : BF_NAN;
    }
    box.used = (bf_range){used_at[0], used_at[1], used_at[3], used_at[2]};
    box.left = (bf_range){left[0], left[1], left[2], left[3]};
    box.put_ins = (bf_range){puts[0], puts[1], puts[2], puts[3]};
    box.lasts_s = (bf_range){lasts[0], lasts[1], lasts[2], lasts[3]};
    return box;
}
