/* season.c -- see season.h. */
#include "baitfall/season.h"

#include <math.h>

#include "baitfall/elementary.h"
#include "baitfall/random.h"
#include "baitfall/special.h"
#include "baitfall/summary.h"
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

static size_t align16(size_t n) {
    return (n + 15) / 16 * 16;
}

size_t bf_season_bytes(int n_drops, int n_stretches) {
    size_t n = (size_t)n_drops + (size_t)n_stretches;
    return align16(n * sizeof(bf_pool_stretch)) + align16(bf_pool_bytes(BF_SEASON_MOST_ROWS));
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
            double hours = (stretch->to_ms - stretch->from_ms) / 3.6e6;
            add(g, stretch_key(fold, factor, i), s, 0, stretch->count[BF_LANDED], hours);
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
    bf_status status = pool_rows(&g, level, (char *)work + align16(n * sizeof(bf_pool_stretch)));
    if (status) *table = (bf_season_table){.dispersion = NAN};
    return status;
}

/* ---- What waits to expect ---- */

bf_season_waits bf_season_waits_of(const bf_fold *fold, const bf_turnaround *turnaround, int i_session) {
    const bf_session *session = &fold->session[i_session];
    bf_season_waits waits = {.band = bf_temp_band(session->temp_c)};
    for (int i = session->drop_from; i < session->drop_to; i++) {
        double pm_s;
        int is_event;
        double wait_s = bf_drop_wait_s(&fold->drop[i], turnaround, &pm_s, &is_event);
        if (isnan(wait_s)) continue;
        waits.total_s += wait_s;
        waits.n_ended += is_event;
    }
    return waits;
}

bf_season_law bf_season_book(void) {
    bf_season_law law = {.shape = 1, .mean_any_per_s = 1.0 / 240};
    for (int band = 0; band < BF_N_TEMP_BANDS; band++) law.mean_per_s[band] = 1.0 / 240;
    return law;
}

static double mean_of(const bf_season_law *law, int band) {
    return band < 0 ? law->mean_any_per_s : law->mean_per_s[band];
}

double bf_season_log_score(const bf_season_law *law, const bf_season_waits *waits) {
    double a = law->shape, b = a / mean_of(law, waits->band);
    return bf_log_gamma_step(a, waits->n_ended) - waits->n_ended * bf_log(b + waits->total_s) -
           a * bf_log1p(waits->total_s / b);
}

double bf_season_middle_wait_s(const bf_season_law *law, int band, double p) {
    double rate = bf_gamma_quantile(law->shape, 1 - p) * mean_of(law, band) / law->shape;
    return LOG_2 / rate;
}

/* ---- Learning: in turns the bands' means, their middle mu, and the shape, each to its own top ---- */

#define BAND_LOG_SD 0.5
#define SHAPE_LOG_MID 1.3862943611198906 /* log 4 */
#define SHAPE_LOG_SD 1.0
#define LEAST_LOG_MEAN (-16.0) /* a bite in 100 days */
#define MOST_LOG_MEAN 1.0
#define LEAST_LOG_SHAPE (-2.0)
#define MOST_LOG_SHAPE 7.0
#define TURNS 40
#define HALVINGS 44

typedef struct lesson {
    const bf_season_waits *waits;
    int n;
    bf_season_law law;
} lesson;

/* Derivative of the posterior by log m of a band; it falls as log m rises. */
static double slope(const lesson *l, int band, double log_mean, double mu) {
    double a = l->law.shape, b = a / bf_exp(log_mean), sum = -(log_mean - mu) / (BAND_LOG_SD * BAND_LOG_SD);
    for (int i = 0; i < l->n; i++) {
        const bf_season_waits *w = &l->waits[i];
        if (w->band == band) sum += (a + w->n_ended) * b / (b + w->total_s) - a;
    }
    return sum;
}

static double top_log_mean(const lesson *l, int band, double mu) {
    double low = LEAST_LOG_MEAN, high = MOST_LOG_MEAN;
    for (int i = 0; i < HALVINGS; i++) {
        double middle = (low + high) / 2;
        if (slope(l, band, middle, mu) > 0)
            low = middle;
        else
            high = middle;
    }
    return (low + high) / 2;
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
    for (int i = 0; i < HALVINGS; i++) {
        if (at_left > at_right) {
            high = right;
            right = left;
            at_right = at_left;
            at_left = height(l, left = high - golden * (high - low));
        } else {
            low = left;
            left = right;
            at_left = at_right;
            at_right = height(l, right = low + golden * (high - low));
        }
    }
    return (low + high) / 2;
}

static void learn_means(lesson *l, double *mu) {
    double sum = 0;
    int n = 0;
    for (int band = 0; band < BF_N_TEMP_BANDS; band++) {
        int is_fished = 0;
        for (int i = 0; i < l->n; i++) is_fished |= l->waits[i].band == band && l->waits[i].total_s > 0;
        double log_mean = is_fished ? top_log_mean(l, band, *mu) : *mu;
        l->law.mean_per_s[band] = bf_exp(log_mean);
        sum += is_fished ? log_mean : 0;
        n += is_fished;
    }
    if (n > 0) *mu = sum / n;
}

/* Sessions of unknown temperature alone: they have no band to learn, so theirs is the common middle. */
static double mu_of_all(const bf_season_waits *waits, int n) {
    double n_ended = 0, total_s = 0;
    for (int i = 0; i < n; i++) {
        n_ended += waits[i].n_ended;
        total_s += waits[i].total_s;
    }
    return n_ended > 0 ? bf_log(n_ended / total_s) : NAN;
}

bf_season_law bf_season_learn(const bf_season_waits *waits, int n) {
    lesson l = {waits, n, bf_season_book()};
    double mu = mu_of_all(waits, n), moved = 1;
    if (isnan(mu)) return l.law;
    l.law.shape = 4;
    for (int turn = 0; turn < TURNS && moved > 1e-9; turn++) {
        double shape = l.law.shape, before = mu;
        learn_means(&l, &mu);
        l.law.mean_any_per_s = bf_exp(mu);
        l.law.shape = bf_exp(top_log_shape(&l));
        moved = fabs(l.law.shape / shape - 1) + fabs(mu - before);
    }
    for (int i = 0; i < n; i++) l.law.n_sessions += waits[i].total_s > 0;
    return l.law;
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

bf_status bf_season_gain(const bf_season_waits *waits, int n, int n_last, double level, bf_banded *gain) {
    BF_ASSERT(level > 0 && level < 1 && n_last >= 2 && n_last <= BF_SEASON_MOST_LAST);
    double each[BF_SEASON_MOST_LAST], mean[RESAMPLES], sum = 0;
    int n_before, n_each = 0, start = start_of_last(waits, n, n_last, &n_before);
    *gain = (bf_banded){NAN, NAN, NAN};
    if (n_before < BF_LEAST_TO_SAY) return BF_E_MISSING;
    bf_season_law law = bf_season_learn(waits, start), book = bf_season_book();
    for (int i = start; i < n; i++) {
        if (!(waits[i].total_s > 0)) continue;
        each[n_each] = bf_season_log_score(&law, &waits[i]) - bf_season_log_score(&book, &waits[i]);
        sum += each[n_each++];
    }
    for (int k = 0; k < RESAMPLES; k++) {
        mean[k] = 0;
        for (int i = 0; i < n_last; i++) {
            double u = bf_uniform(STREAM_RESAMPLE, (uint64_t)k, (uint64_t)i);
            mean[k] += each[(int)(u * n_last)] / n_last;
        }
    }
    bf_sort(mean, RESAMPLES);
    *gain = (bf_banded){sum / n_last, bf_quantile_sorted(mean, RESAMPLES, (1 - level) / 2),
                        bf_quantile_sorted(mean, RESAMPLES, (1 + level) / 2)};
    return BF_OK;
}
