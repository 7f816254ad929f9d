/* season.c -- see season.h. */
#include "baitfall/season.h"

#include <math.h>

#include "baitfall/elementary.h"
#include "baitfall/random.h"
#include "baitfall/special.h"
#include "baitfall/summary.h"
#include "core/base/room.h"
#include "core/record/cycle.h"

#define LOG_2 0.693147180559945309

/* ---- Keys ---- */

static const double band_from_c[BF_N_TEMP_BANDS] = {-INFINITY, 8, 12, 16, 20};

int bf_temp_band(double temp_c) {
    int band = -1;
    for (int i = 0; i < BF_N_TEMP_BANDS; i++)
        if (temp_c >= band_from_c[i]) band = i;
    return band;
}

void bf_temp_band_ends(int band, double *lo_c, double *hi_c) {
    BF_ASSERT(band >= 0 && band < BF_N_TEMP_BANDS);
    *lo_c = band_from_c[band];
    *hi_c = band + 1 < BF_N_TEMP_BANDS ? band_from_c[band + 1] : INFINITY;
}

/* The key that all drops of a session share. */
static int session_key(const bf_session *session, bf_season_factor factor, double ms) {
    if (factor == BF_SEASON_TEMP) return bf_temp_band(session->temp_c);
    if (factor == BF_SEASON_VENUE) return session->venue;
    if (factor == BF_SEASON_MONTH) return bfi_month(ms, session->east_min);
    return bfi_half_of_day(ms, session->east_min);
}

static int drop_key(const bf_fold *fold, bf_season_factor factor, int i) {
    const bf_drop *drop = &fold->drop[i];
    if (factor == BF_SEASON_FEED) return bfi_drop_bait(fold, i);
    if (factor == BF_SEASON_HOW) return bfi_drop_how(fold, i);
    return session_key(&fold->session[drop->session], factor, drop->end_ms);
}

static int stretch_key(const bf_fold *fold, bf_season_factor factor, int i) {
    const bf_stretch *stretch = &fold->stretch[i];
    int put = bfi_stretch_put_in(fold, i);
    if (factor == BF_SEASON_FEED) return put < 0 ? -1 : fold->put_in[put].bait;
    if (factor == BF_SEASON_HOW) return put < 0 ? -1 : fold->put_in[put].how;
    return session_key(&fold->session[stretch->session], factor, stretch->to_ms);
}

/* ---- The table ---- */

size_t bf_season_bytes(int n_drops, int n_stretches) {
    size_t n = (size_t)n_drops + (size_t)n_stretches;
    return bfi_room(n * sizeof(bf_pool_stretch)) + bfi_room(bf_pool_bytes(BF_SEASON_MOST_ROWS));
}

/* What is gathered: rows in the order of their first drop. */
typedef struct gathering {
    bf_season_table *table;
    bf_pool_stretch *stretch;
    int n;
    int last_session[BF_SEASON_MOST_ROWS];
} gathering;

static int row_of(gathering *g, int key) {
    if (key < 0) return -1;
    for (int i = 0; i < g->table->n_rows; i++)
        if (g->table->row[i].key == key) return i;
    if (g->table->n_rows == BF_SEASON_MOST_ROWS) return -1;
    int i = g->table->n_rows++;
    g->table->row[i] = (bf_season_row){.key = key};
    g->last_session[i] = -1;
    return i;
}

static void add(gathering *g, int key, int session, int is_drop, double n_fish, double hours) {
    int i = row_of(g, key);
    if (i < 0) {
        g->table->n_left_out++;
        return;
    }
    bf_season_row *row = &g->table->row[i];
    row->n_drops += is_drop;
    row->n_fish += n_fish;
    row->hours += hours;
    row->n_sessions += g->last_session[i] != session;
    g->last_session[i] = session;
    g->stretch[g->n++] = (bf_pool_stretch){.n = n_fish, .exposure = hours, .session = session, .level = {i}};
}

static void gather(const bf_fold *fold, bf_season_factor factor, gathering *g) {
    for (int s = 0; s < fold->n_sessions; s++) {
        const bf_session *session = &fold->session[s];
        for (int i = session->drop_from; i < session->drop_to; i++) {
            const bf_drop *drop = &fold->drop[i];
            if (drop->end_live >= 0)
                add(g, drop_key(fold, factor, i), s, 1, drop->outcome == BF_LANDED, bfi_cycle_h(fold, i));
        }
        for (int i = session->stretch_from; i < session->stretch_to; i++) {
            const bf_stretch *stretch = &fold->stretch[i];
            add(g, stretch_key(fold, factor, i), s, 0, stretch->count[BF_LANDED], bfi_stretch_h(stretch));
        }
    }
}

static bf_status pool_rows(gathering *g, double level, void *work) {
    bf_season_table *table = g->table;
    bf_pool_group group[BF_SEASON_MOST_ROWS];
    bf_pool_rate rate[BF_SEASON_MOST_ROWS];
    int order[BF_SEASON_MOST_ROWS];
    bf_season_row sorted[BF_SEASON_MOST_ROWS];
    bf_status status = bf_pool_gather(g->stretch, g->n, 0, table->n_rows, group, &table->dispersion);
    if (status) return status;
    bf_pool_widen(group, table->n_rows, table->dispersion);
    status = bf_pool_rates(group, table->n_rows, bf_pool_weak(BF_SEASON_USUAL_PER_H), level, work, rate,
                           &table->pool);
    if (status) return status;
    bf_pool_order(rate, table->n_rows, order);
    for (int i = 0; i < table->n_rows; i++) {
        sorted[i] = table->row[order[i]];
        sorted[i].rate = rate[order[i]];
    }
    for (int i = 0; i < table->n_rows; i++) table->row[i] = sorted[i];
    return BF_OK;
}

bf_status bf_season_by(const bf_fold *fold, bf_season_factor factor, double level, void *work,
                       bf_season_table *table) {
    BF_ASSERT(level > 0 && level < 1);
    size_t n = (size_t)fold->n_drops + (size_t)fold->n_stretches;
    gathering g = {.table = table, .stretch = work};
    *table = (bf_season_table){.dispersion = NAN};
    gather(fold, factor, &g);
    if (table->n_rows == 0) return BF_E_MISSING;
    bf_status status = pool_rows(&g, level, (char *)work + bfi_room(n * sizeof(bf_pool_stretch)));
    if (status) *table = (bf_season_table){.dispersion = NAN};
    return status;
}

/* ---- What waits to expect ---- */

#define LEAST_POWER 0.6
#define POWER_STEP 0.05

double bf_season_power(int i_power) {
    BF_ASSERT(i_power >= 0 && i_power < BF_SEASON_N_POWERS);
    return LEAST_POWER + POWER_STEP * i_power;
}

void bf_season_add_wait(bf_season_waits *waits, double wait_s, int is_event) {
    double log_min = bf_log(wait_s / 60), power = bf_exp(LEAST_POWER * log_min),
           step = bf_exp(POWER_STEP * log_min);
    waits->total_s += wait_s;
    waits->n_ended += is_event;
    if (is_event) waits->sum_log += log_min;
    for (int i = 0; i < BF_SEASON_N_POWERS; i++, power *= step) waits->sum_pow[i] += power;
}

bf_season_waits bf_season_waits_of(const bf_fold *fold, const bf_turnaround *turnaround, int i_session) {
    const bf_session *session = &fold->session[i_session];
    bf_season_waits waits = {.band = bf_temp_band(session->temp_c)};
    for (int i = session->drop_from; i < session->drop_to; i++) {
        double pm_s;
        int is_event;
        double wait_s = bf_drop_wait_s(&fold->drop[i], turnaround, &pm_s, &is_event);
        if (!isnan(wait_s)) bf_season_add_wait(&waits, wait_s, is_event);
    }
    return waits;
}

bf_season_law bf_season_book(void) {
    bf_season_law law = {.i_power = BF_SEASON_POWER_1, .shape = 1, .mean_any = 0.25};
    for (int band = 0; band < BF_N_TEMP_BANDS; band++) law.mean[band] = law.mean_any;
    return law;
}

static double mean_of(const bf_season_law *law, int band) {
    return band < 0 ? law->mean_any : law->mean[band];
}

double bf_season_log_score(const bf_season_law *law, const bf_season_waits *waits) {
    double a = law->shape, b = a / mean_of(law, waits->band), k = bf_season_power(law->i_power);
    double d = waits->n_ended, sum_pow = waits->sum_pow[law->i_power];
    return d * bf_log(k) + (k - 1) * waits->sum_log + bf_log_gamma_step(a, d) - d * bf_log(b + sum_pow) -
           a * bf_log1p(sum_pow / b);
}

double bf_season_middle_wait_s(const bf_season_law *law, int band, double p) {
    double rate = bf_gamma_quantile(law->shape, 1 - p) * mean_of(law, band) / law->shape;
    return 60 * bf_pow(LOG_2 / rate, 1 / bf_season_power(law->i_power));
}

/* ---- Learning: for a power, in turns the bands' means, their middle mu, and the shape, each to its own top ---- */

#define BAND_LOG_SD 0.5
#define SHAPE_LOG_MID 1.3862943611198906 /* log 4 */
#define SHAPE_LOG_SD 1.0
#define POWER_LOG_SD 0.3
#define LEAST_LOG_MEAN (-16.0)
#define MOST_LOG_MEAN 8.0
#define LEAST_LOG_SHAPE (-2.0)
#define MOST_LOG_SHAPE 7.0
#define TURNS 40
#define STEPS 40

typedef struct lesson {
    const bf_season_waits *waits;
    int n;
    double mu;
    bf_season_law law;
} lesson;

/* First and second derivative of the posterior by log m of a band: it has one top, as the second is below 0 everywhere. */
static double slope(const lesson *l, int band, double log_mean, double *bend) {
    double a = l->law.shape, b = a / bf_exp(log_mean), precision = 1 / (BAND_LOG_SD * BAND_LOG_SD);
    double sum = -(log_mean - l->mu) * precision;
    *bend = -precision;
    for (int i = 0; i < l->n; i++) {
        const bf_season_waits *w = &l->waits[i];
        if (w->band != band) continue;
        double share = b / (b + w->sum_pow[l->law.i_power]), n = a + w->n_ended;
        sum += n * share - a;
        *bend -= n * share * (1 - share);
    }
    return sum;
}

/* Newton's steps from mu, halved into the bracket where they would leave it. */
static double top_log_mean(const lesson *l, int band) {
    double low = LEAST_LOG_MEAN, high = MOST_LOG_MEAN, at = l->mu, bend;
    for (int i = 0; i < STEPS; i++) {
        double up = slope(l, band, at, &bend), next = at - up / bend;
        if (up > 0)
            low = at;
        else
            high = at;
        if (!(next > low && next < high)) next = (low + high) / 2;
        if (fabs(next - at) < 1e-12) break;
        at = next;
    }
    return at;
}

/* The posterior as far as the shape moves it. */
static double height(lesson *l, double log_shape) {
    double off = (log_shape - SHAPE_LOG_MID) / SHAPE_LOG_SD, sum = -off * off / 2;
    l->law.shape = bf_exp(log_shape);
    for (int i = 0; i < l->n; i++) sum += bf_season_log_score(&l->law, &l->waits[i]);
    return sum;
}

/* Golden section: the posterior has one top in log shape. */
static double top_log_shape(lesson *l) {
    const double golden = 0.6180339887498949;
    double low = LEAST_LOG_SHAPE, high = MOST_LOG_SHAPE;
    double left = high - golden * (high - low), right = low + golden * (high - low);
    double at_left = height(l, left), at_right = height(l, right);
    for (int i = 0; i < STEPS; i++) {
        if (at_left > at_right) {
            high = right;
            right = left;
            at_right = at_left;
            left = high - golden * (high - low);
            at_left = height(l, left);
        } else {
            low = left;
            left = right;
            at_left = at_right;
            right = low + golden * (high - low);
            at_right = height(l, right);
        }
    }
    return (low + high) / 2;
}

static int is_fished(const lesson *l, int band) {
    for (int i = 0; i < l->n; i++)
        if (l->waits[i].band == band && l->waits[i].total_s > 0) return 1;
    return 0;
}

static void learn_means(lesson *l) {
    double sum = 0;
    int n = 0, fished[BF_N_TEMP_BANDS];
    for (int band = 0; band < BF_N_TEMP_BANDS; band++) {
        fished[band] = is_fished(l, band);
        double log_mean = fished[band] ? top_log_mean(l, band) : 0;
        l->law.mean[band] = bf_exp(log_mean);
        sum += log_mean;
        n += fished[band];
    }
    if (n > 0) l->mu = sum / n;
    l->law.mean_any = bf_exp(l->mu);
    for (int band = 0; band < BF_N_TEMP_BANDS; band++)
        if (!fished[band]) l->law.mean[band] = l->law.mean_any;
}

/* All bites over all time^k: where mu starts, and where it stays when no temperature is known. */
static double mu_of_all(const bf_season_waits *waits, int n, int i_power) {
    double n_ended = 0, sum_pow = 0;
    for (int i = 0; i < n; i++) {
        n_ended += waits[i].n_ended;
        sum_pow += waits[i].sum_pow[i_power];
    }
    return n_ended > 0 ? bf_log(n_ended / sum_pow) : NAN;
}

/* The top for one power; the law there, and the height of the posterior. */
static double learn_at(lesson *l, int i_power) {
    double moved = 1, log_k = bf_log(bf_season_power(i_power)) / POWER_LOG_SD;
    l->law.i_power = i_power;
    l->law.shape = 4;
    l->mu = mu_of_all(l->waits, l->n, i_power);
    for (int turn = 0; turn < TURNS && moved > 1e-8; turn++) {
        double shape = l->law.shape, before = l->mu;
        learn_means(l);
        l->law.shape = bf_exp(top_log_shape(l));
        moved = fabs(l->law.shape / shape - 1) + fabs(l->mu - before);
    }
    double sum = -log_k * log_k / 2;
    for (int band = 0; band < BF_N_TEMP_BANDS; band++) {
        double off = (bf_log(l->law.mean[band]) - l->mu) / BAND_LOG_SD;
        sum -= off * off / 2;
    }
    return sum + height(l, bf_log(l->law.shape));
}

/* Uphill among the powers from 1; the posterior has one top. */
bf_season_law bf_season_learn_power(const bf_season_waits *waits, int n, int i_power) {
    BF_ASSERT(i_power >= 0 && i_power < BF_SEASON_N_POWERS);
    lesson l = {waits, n, 0, bf_season_book()};
    if (isnan(mu_of_all(waits, n, i_power))) return l.law;
    learn_at(&l, i_power);
    for (int i = 0; i < n; i++) l.law.n_sessions += waits[i].total_s > 0;
    return l.law;
}

bf_season_law bf_season_learn(const bf_season_waits *waits, int n) {
    lesson l = {waits, n, 0, bf_season_book()};
    if (isnan(mu_of_all(waits, n, BF_SEASON_POWER_1))) return l.law;
    double best = learn_at(&l, BF_SEASON_POWER_1);
    bf_season_law law = l.law;
    for (int direction = -1; direction <= 1; direction += 2) {
        for (int i = law.i_power + direction; i >= 0 && i < BF_SEASON_N_POWERS; i += direction) {
            double at = learn_at(&l, i);
            if (!(at > best)) break;
            best = at;
            law = l.law;
        }
    }
    for (int i = 0; i < n; i++) law.n_sessions += waits[i].total_s > 0;
    return law;
}

/* ---- Better than the book? ---- */

#define RESAMPLES 2000
#define STREAM_RESAMPLE 0x726573616d70u

/* Where the last n_last sessions with waits begin; *n_before: how many with waits come before. */
static int start_of_last(const bf_season_waits *waits, int n, int n_last, int *n_before) {
    int start = n, left = n_last;
    while (start > 0 && left > 0) left -= waits[--start].total_s > 0;
    *n_before = left > 0 ? -1 : 0;
    for (int i = 0; i < start; i++) *n_before += waits[i].total_s > 0;
    return start;
}

bf_banded bf_season_mean(const double *each, int n, double level) {
    double mean[RESAMPLES], sum = 0;
    for (int i = 0; i < n; i++) sum += each[i];
    for (int k = 0; k < RESAMPLES; k++) {
        mean[k] = 0;
        for (int i = 0; i < n; i++) {
            double u = bf_uniform(STREAM_RESAMPLE, (uint64_t)k, (uint64_t)i);
            mean[k] += each[(int)(u * n)] / n;
        }
    }
    bf_sort(mean, RESAMPLES);
    return (bf_banded){sum / n, bf_quantile_sorted(mean, RESAMPLES, (1 - level) / 2),
                       bf_quantile_sorted(mean, RESAMPLES, (1 + level) / 2)};
}

bf_status bf_season_gain(const bf_season_waits *waits, int n, int n_last, double level, bf_banded *gain) {
    BF_ASSERT(level > 0 && level < 1 && n_last >= 2 && n_last <= BF_SEASON_MOST_LAST);
    double each[BF_SEASON_MOST_LAST];
    int n_before, n_each = 0, start = start_of_last(waits, n, n_last, &n_before);
    *gain = (bf_banded){NAN, NAN, NAN};
    if (n_before < BF_LEAST_TO_SAY) return BF_E_MISSING;
    bf_season_law law = bf_season_learn(waits, start), book = bf_season_book();
    for (int i = start; i < n; i++) {
        if (!(waits[i].total_s > 0)) continue;
        each[n_each++] = bf_season_log_score(&law, &waits[i]) - bf_season_log_score(&book, &waits[i]);
    }
    *gain = bf_season_mean(each, n_each, level);
    return BF_OK;
}
