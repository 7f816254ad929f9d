/* smc2.c -- see smc2.h. */
#include "swim/smc2.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "baitfall/random.h"
#include "core/swim/weights.h"

#define D SMC2_MOST_PARAMETERS
#define LEAST_TAKEN 0.2 /* of proposals; below it there are too few states */
#define MOST_STEPS 8    /* of Metropolis-Hastings at a move, */
#define ENOUGH_TAKEN 1  /* or until so many were taken, for each set */
#define PRIORS 0.15     /* share of the prior's covariance in that of proposals */

/* Streams beside those of filters: all that is drawn for the sets, and where a filter draws its particles again. */
#define STREAM_SETS (UINT64_C(1) << 50)
#define STREAM_AGAIN (UINT64_C(1) << 51)

/* ---- One filter ----------------------------------------------------------------------------------------------- */

static size_t shared_room(const smc2_model *model) {
    return (model->shared_bytes + 15) / 16 * 16;
}

static void *room_for(size_t bytes) {
    void *room = aligned_alloc(16, (bytes + 15) / 16 * 16);
    if (!room) abort();
    return room;
}

static size_t filter_bytes(const smc2_model *model, int n_x) {
    return shared_room(model) + (size_t)(model->n_columns + 1) * (size_t)n_x * sizeof(double);
}

static void open_filter(const smc2_model *model, int n_x, smc2_filter *f) {
    f->shared = room_for(filter_bytes(model, n_x));
    f->x = (double *)((char *)f->shared + shared_room(model));
    f->log_w = f->x + (size_t)model->n_columns * (size_t)n_x;
}

static void copy_filter(const smc2_model *model, int n_x, const smc2_filter *from, smc2_filter *to) {
    memcpy(to->z, from->z, sizeof to->z);
    to->log_likelihood = from->log_likelihood;
    memcpy(to->shared, from->shared, filter_bytes(model, n_x));
}

static void begin_filter(const smc2_model *model, uint64_t seed, int n_x, smc2_filter *f) {
    f->log_likelihood = 0;
    memset(f->log_w, 0, (size_t)n_x * sizeof *f->log_w);
    model->begin(model->self, f->z, seed, f->stream, n_x, f->x, f->shared);
}

static void draw_particles(const smc2_model *model, double u, int n_x, smc2_filter *f, double *spare,
                           int *from) {
    bfi_weights_resample(f->log_w, n_x, u, from);
    for (int c = 0; c < model->n_columns; c++) {
        double *x = f->x + (size_t)c * (size_t)n_x;
        memcpy(spare, x, (size_t)n_x * sizeof *spare);
        for (int p = 0; p < n_x; p++) x[p] = spare[from[p]];
    }
    memset(f->log_w, 0, (size_t)n_x * sizeof *f->log_w);
}

static void meet(const smc2_model *model, int i, uint64_t seed, int n_x, smc2_filter *f, double *spare,
                 int *from) {
    if (f->log_likelihood == -INFINITY) return;
    model->meet(model->self, i, seed, f->stream, n_x, f->x, f->shared, f->log_w);
    f->log_likelihood += bfi_weights_level(f->log_w, n_x);
    if (f->log_likelihood == -INFINITY || bfi_weights_effective(f->log_w, n_x) >= 0.5 * n_x) return;
    draw_particles(model, bf_uniform(seed, f->stream | STREAM_AGAIN, (uint64_t)i), n_x, f, spare, from);
}

double smc2_log_likelihood(const smc2_model *model, const double *z, int n_x, uint64_t seed,
                           uint64_t stream) {
    smc2_filter f = {.stream = stream};
    double *spare = room_for((size_t)n_x * sizeof *spare);
    int *from = room_for((size_t)n_x * sizeof *from);
    open_filter(model, n_x, &f);
    memcpy(f.z, z, (size_t)model->n_parameters * sizeof *z);
    begin_filter(model, seed, n_x, &f);
    for (int i = 0; i < model->n_events; i++) meet(model, i, seed, n_x, &f, spare, from);
    free(f.shared), free(spare), free(from);
    return f.log_likelihood;
}

/* ---- All of them ---------------------------------------------------------------------------------------------- */

static double uniform(smc2 *s) {
    return bf_uniform(s->size.seed, STREAM_SETS, s->n_draws++);
}
static double normal(smc2 *s) {
    return bf_normal(s->size.seed, STREAM_SETS, s->n_draws++);
}

/* A filter's luck from here on. */
static uint64_t new_stream(smc2 *s) {
    return ++s->n_streams;
}

/* The filter run afresh through all events so far. */
static void run_again(smc2 *s, smc2_filter *f) {
    int n_x = s->size.n_x;
    f->stream = new_stream(s);
    begin_filter(s->model, s->size.seed, n_x, f);
    for (int i = 0; i < s->n_met; i++) meet(s->model, i, s->size.seed, n_x, f, s->spare, s->from);
    s->n_runs += s->n_met;
}

static smc2_filter *open_filters(const smc2_model *model, int n, int n_x) {
    smc2_filter *filter = calloc((size_t)n, sizeof *filter);
    if (!filter) abort();
    for (int t = 0; t < n; t++) open_filter(model, n_x, &filter[t]);
    return filter;
}

static void close_filters(smc2_filter *filter, int n) {
    for (int t = 0; t < n; t++) free(filter[t].shared);
    free(filter);
}

static void start(smc2 *s, const smc2_model *model, smc2_size size) {
    int largest = size.n_theta > size.n_x ? size.n_theta : size.n_x;
    *s = (smc2){.model = model, .size = size, .n_streams = s->n_streams, .n_draws = s->n_draws};
    s->filter = open_filters(model, size.n_theta, size.n_x);
    s->other = open_filters(model, size.n_theta, size.n_x);
    s->log_w = room_for((size_t)size.n_theta * sizeof *s->log_w);
    s->spare = room_for((size_t)largest * sizeof *s->spare);
    s->from = room_for((size_t)largest * sizeof *s->from);
    for (int t = 0; t < size.n_theta; t++) {
        for (int i = 0; i < model->n_parameters; i++) s->filter[t].z[i] = normal(s);
        s->log_w[t] = 0;
        run_again(s, &s->filter[t]);
    }
}

void smc2_free(smc2 *s) {
    close_filters(s->filter, s->size.n_theta);
    close_filters(s->other, s->size.n_theta);
    free(s->log_w), free(s->spare), free(s->from);
}

void smc2_moments(const smc2 *s, double mean[D], double covariance[D][D]) {
    int n = s->size.n_theta, d = s->model->n_parameters;
    double sum = 0;
    memset(mean, 0, D * sizeof *mean);
    memset(covariance, 0, sizeof(double[D][D]));
    for (int t = 0; t < n; t++) sum += exp(s->log_w[t]);
    for (int i = 0; i < d; i++)
        for (int t = 0; t < n; t++) mean[i] += exp(s->log_w[t]) / sum * s->filter[t].z[i];
    for (int i = 0; i < d; i++)
        for (int j = 0; j < d; j++)
            for (int t = 0; t < n; t++)
                covariance[i][j] +=
                    exp(s->log_w[t]) / sum * (s->filter[t].z[i] - mean[i]) * (s->filter[t].z[j] - mean[j]);
}

/* ---- Moving sets ----------------------------------------------------------------------------------------------- */

/* The Gaussian that proposals come from. */
typedef struct gaussian {
    int d;
    double mean[D], root[D][D]; /* root root' = covariance, lower */
} gaussian;

/* Of n sets that weigh alike, with PRIORS of the prior's covariance: what is lost of the tails comes back, and few sets do. */
static gaussian gaussian_of(const smc2_filter *filter, int n, int d) {
    gaussian g = {.d = d};
    for (int i = 0; i < d; i++)
        for (int t = 0; t < n; t++) g.mean[i] += filter[t].z[i] / n;
    for (int i = 0; i < d; i++)
        for (int j = 0; j <= i; j++) {
            double rest = i == j ? PRIORS : 0;
            for (int t = 0; t < n; t++)
                rest += (1 - PRIORS) / n * (filter[t].z[i] - g.mean[i]) * (filter[t].z[j] - g.mean[j]);
            for (int k = 0; k < j; k++) rest -= g.root[i][k] * g.root[j][k];
            g.root[i][j] = j < i ? rest / g.root[j][j] : sqrt(rest);
        }
    return g;
}

static void propose(smc2 *s, const gaussian *g, double *z) {
    double e[D];
    for (int i = 0; i < g->d; i++) {
        e[i] = normal(s);
        z[i] = g->mean[i];
        for (int j = 0; j <= i; j++) z[i] += g->root[i][j] * e[j];
    }
}

/* Logarithms of densities, without what is the same for all z. */
static double log_proposed(const gaussian *g, const double *z) {
    double e[D], squares = 0;
    for (int i = 0; i < g->d; i++) {
        e[i] = z[i] - g->mean[i];
        for (int j = 0; j < i; j++) e[i] -= g->root[i][j] * e[j];
        e[i] /= g->root[i][i];
        squares += e[i] * e[i];
    }
    return -0.5 * squares;
}
static double log_prior(int d, const double *z) {
    double squares = 0;
    for (int i = 0; i < d; i++) squares += z[i] * z[i];
    return -0.5 * squares;
}

static void swap(smc2_filter *a, smc2_filter *b) {
    smc2_filter was = *a;
    *a = *b;
    *b = was;
}

/* One proposal for each of the sets i to j - 1; how many were taken. */
static int move_some(smc2 *s, const gaussian *g, int i, int j) {
    int n_taken = 0;
    for (int t = i; t < j; t++) {
        smc2_filter *is = &s->filter[t], *may = &s->other[t];
        propose(s, g, may->z);
        run_again(s, may);
        double gain = may->log_likelihood + log_prior(g->d, may->z) - log_proposed(g, may->z) -
                      (is->log_likelihood + log_prior(g->d, is->z) - log_proposed(g, is->z));
        if (log(uniform(s)) >= gain) continue;
        swap(is, may);
        n_taken++;
    }
    s->n_proposed += j - i;
    s->n_taken += n_taken;
    return n_taken;
}

/* Every set comes as often as its weight says. */
static void draw_sets(smc2 *s) {
    int n = s->size.n_theta;
    bfi_weights_resample(s->log_w, n, uniform(s), s->from);
    for (int t = 0; t < n; t++) {
        copy_filter(s->model, s->size.n_x, &s->filter[s->from[t]], &s->other[t]);
        s->other[t].stream = new_stream(s);
        s->log_w[t] = 0;
    }
    smc2_filter *was = s->filter;
    s->filter = s->other;
    s->other = was;
}

/* Either half by what the other is like: sets must not be judged by a Gaussian fitted to themselves. Drawing again keeps their order, so the
 * halves descend from different sets. */
static void renew(smc2 *s) {
    int n = s->size.n_theta, half = n / 2, d = s->model->n_parameters, n_taken = 0, n_steps = 0;
    draw_sets(s);
    gaussian first = gaussian_of(s->filter, half, d), second = gaussian_of(s->filter + half, n - half, d);
    for (; n_steps < MOST_STEPS && n_taken < ENOUGH_TAKEN * n; n_steps++)
        n_taken += move_some(s, &second, 0, half) + move_some(s, &first, half, n);
    s->n_moves++;
    s->is_coarse = n_taken < LEAST_TAKEN * n * n_steps;
}

/* ---- Through the events ---------------------------------------------------------------------------------------- */

static void meet_all(smc2 *s) {
    int n = s->size.n_theta, i = s->n_met++;
    for (int t = 0; t < n; t++) {
        double before = s->filter[t].log_likelihood;
        if (before == -INFINITY) continue;
        meet(s->model, i, s->size.seed, s->size.n_x, &s->filter[t], s->spare, s->from);
        s->log_w[t] += s->filter[t].log_likelihood - before;
    }
    s->n_runs += n;
    s->log_evidence += bfi_weights_level(s->log_w, n);
    if (s->log_evidence == -INFINITY) abort();
    if (bfi_weights_effective(s->log_w, n) < 0.5 * n) renew(s);
}

void smc2_run(smc2 *s, const smc2_model *model, smc2_size size) {
    if (size.n_theta < 2 || size.n_x < 2 || model->n_parameters > D) abort();
    s->n_streams = s->n_draws = 0;
    start(s, model, size);
    while (s->n_met < model->n_events) {
        meet_all(s);
        if (!s->is_coarse || 2 * size.n_x > size.most_x) continue;
        smc2_free(s);
        size.n_x *= 2;
        start(s, model, size);
    }
}
