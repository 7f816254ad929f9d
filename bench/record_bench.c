/* record_bench.c -- wait curve, Cox fit and counts by pairs of keys, on the rows that the peers have just worked on.
 *
 *     record_bench p4_rows.csv p5.csv [runs]      CSV on stdout; the middle and the fastest of `runs` runs (start: 21)
 *
 * p4_rows.csv is written by bench/peers/p4_surv.R (1e5 waits, five covariates), p5.csv by bench/peers/p5_sqlite.sh (1e6
 * events). Reading the files is not part of any time. Rows "coef" hold the Cox coefficients, to be held against R's. */
#define _POSIX_C_SOURCE 199309L
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "baitfall/columns.h"
#include "baitfall/hazard.h"
#include "baitfall/waits.h"

#define MOST_RUNS 99
#define N_COVARIATES 5
#define N_METHODS 8
#define N_OUTCOMES 8

typedef struct waits {
    size_t n;
    double *time_s, *x;
    unsigned char *ended;
    uint32_t *session;
    void *work;
    bf_wait_step *step;
    bf_hazard fit;
} waits;

typedef struct events {
    size_t n, n_sessions;
    double *temp, *feed;
    uint16_t *session, *method_a;
    uint8_t *method, *outcome;
    uint32_t *count;
    double *sum;
} events;

static void give_up(const char *why, const char *what) {
    fprintf(stderr, "record_bench: %s %s\n", why, what);
    exit(70);
}

static void *room(size_t n, size_t bytes) {
    void *memory = calloc(n, bytes);
    if (!memory) give_up("out of", "memory");
    return memory;
}

/* Reading ------------------------------------------------------------------------------------------------ */

/* The whole file, ended by 0; its lines are counted. */
static char *text_of(const char *path, size_t *n_lines) {
    FILE *file = fopen(path, "rb");
    if (!file || fseek(file, 0, SEEK_END)) give_up("cannot read", path);
    size_t n = (size_t)ftell(file);
    rewind(file);
    char *text = room(n + 1, 1);
    if (fread(text, 1, n, file) != n) give_up("cannot read", path);
    fclose(file);
    *n_lines = 0;
    for (size_t i = 0; i < n; i++) *n_lines += text[i] == '\n';
    return text;
}

/* The next number of a row, past quotes, the comma or the end of the line. */
static double number(char **at) {
    while (**at == '"') (*at)++;
    char *end;
    double value = strtod(*at, &end);
    if (end == *at) give_up("no number at", *at);
    while (*end == '"' || *end == ',' || *end == '\n') end++;
    *at = end;
    return value;
}

/* method, temp, feed, session, time, st, exposure, bites; method is made three columns of 0 and 1. */
static waits read_waits(const char *path) {
    size_t n_lines;
    char *text = text_of(path, &n_lines), *at = strchr(text, '\n') + 1;
    waits w = {.n = n_lines - 1};
    w.time_s = room(w.n, sizeof *w.time_s);
    w.x = room(w.n, N_COVARIATES * sizeof *w.x);
    w.ended = room(w.n, 1);
    w.session = room(w.n, sizeof *w.session);
    w.work = room(bf_hazard_bytes(w.n, N_COVARIATES), 1);
    w.step = room(w.n, sizeof *w.step);
    for (size_t i = 0; i < w.n; i++) {
        double *x = &w.x[i * N_COVARIATES], method = number(&at);
        for (int k = 0; k < 3; k++) x[k] = method == k + 2;
        x[3] = number(&at);
        x[4] = number(&at);
        w.session[i] = (uint32_t)number(&at) - 1;
        w.time_s[i] = number(&at);
        w.ended[i] = number(&at) == 1;
        number(&at);
        number(&at);
    }
    free(text);
    return w;
}

/* id, session, t, temp, feed, method, outcome; no header. */
static events read_events(const char *path) {
    size_t n;
    char *text = text_of(path, &n), *at = text;
    events e = {.n = n};
    e.temp = room(n, sizeof *e.temp);
    e.feed = room(n, sizeof *e.feed);
    e.session = room(n, sizeof *e.session);
    e.method_a = room(n, sizeof *e.method_a);
    e.method = room(n, 1);
    e.outcome = room(n, 1);
    for (size_t i = 0; i < n; i++) {
        number(&at);
        e.session[i] = (uint16_t)number(&at);
        number(&at);
        e.temp[i] = number(&at);
        e.feed[i] = number(&at);
        e.method[i] = (uint8_t)number(&at);
        e.method_a[i] = e.method[i];
        e.outcome[i] = (uint8_t)number(&at);
        if (e.session[i] >= e.n_sessions) e.n_sessions = e.session[i] + 1u;
    }
    free(text);
    e.count = room(e.n_sessions * N_METHODS, sizeof *e.count);
    e.sum = room(e.n_sessions * N_METHODS, sizeof *e.sum);
    return e;
}

/* Measuring ---------------------------------------------------------------------------------------------- */

static double now_ms(void) {
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return 1e3 * (double)t.tv_sec + 1e-6 * (double)t.tv_nsec;
}

static int by_size(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static void measure(const char *name, bf_status (*work)(void *), void *of, size_t n_rows, int n_runs) {
    double ms[MOST_RUNS];
    for (int r = 0; r < n_runs; r++) {
        double start_ms = now_ms();
        bf_status status = work(of);
        ms[r] = now_ms() - start_ms;
        if (status) give_up(name, bf_status_words(status));
    }
    qsort(ms, (size_t)n_runs, sizeof *ms, by_size);
    printf("%s,%zu,%d,%.4f,%.4f\n", name, n_rows, n_runs, ms[n_runs / 2], ms[0]);
}

static bf_status curve(void *of) {
    waits *w = of;
    size_t n_steps;
    return bf_waits_curve(w->time_s, w->ended, w->n, BF_BAND_LOG_LOG, 0.95, w->work, w->step, &n_steps);
}

static bf_status fit(void *of) {
    waits *w = of;
    return bf_hazard_fit(w->time_s, w->ended, w->x, NULL, w->n, N_COVARIATES, BF_EFRON, w->work, &w->fit);
}

static bf_status fit_of_sessions(void *of) {
    waits *w = of;
    return bf_hazard_fit(w->time_s, w->ended, w->x, w->session, w->n, N_COVARIATES, BF_EFRON, w->work,
                         &w->fit);
}

static bf_status count_method_outcome(void *of) {
    events *e = of;
    return bf_count_pairs(e->method_a, e->outcome, e->feed, e->n, N_METHODS, N_OUTCOMES, e->count, e->sum);
}

static bf_status count_session_method(void *of) {
    events *e = of;
    return bf_count_pairs(e->session, e->method, e->temp, e->n, e->n_sessions, N_METHODS, e->count, e->sum);
}

int main(int argc, char **argv) {
    int n_runs = argc > 3 ? atoi(argv[3]) : 21;
    if (argc < 3 || argc > 4 || n_runs < 1 || n_runs > MOST_RUNS) {
        fprintf(stderr, "usage: record_bench p4_rows.csv p5.csv [runs 1..%d]\n", MOST_RUNS);
        return 2;
    }
    waits w = read_waits(argv[1]);
    events e = read_events(argv[2]);
    printf("what,rows,runs,median_ms,min_ms\n");
    measure("curve", curve, &w, w.n, n_runs);
    measure("cox", fit, &w, w.n, n_runs);
    measure("cox_sessions", fit_of_sessions, &w, w.n, n_runs);
    measure("method_outcome", count_method_outcome, &e, e.n, n_runs);
    measure("session_method", count_session_method, &e, e.n, n_runs);
    for (int k = 0; k < N_COVARIATES; k++) printf("coef,%d,,%.12g,%.12g\n", k, w.fit.coef[k], w.fit.coef[k]);
    return 0;
}
