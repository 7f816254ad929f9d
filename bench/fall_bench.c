/* fall_bench.c -- how many falls a second: the product's own, and problem P1 of bench/peers like for like.
 *
 *     fall_bench [pellets [runs]]      CSV on stdout; the fastest and the middle of `runs` runs (start: 5)
 *
 * The same inputs for every row of a scenario: diameters 4 +- 0.3 mm, densities 1150 +- 25 kg/m3, 2 m of water with a
 * surface drift of 0.10 m/s and a weak return. "fall" solves our own equation of motion (drag.h) through bf_fall_land_many;
 * "fall_skin" the same with a 10 mm skin and a sloping bottom; "p1_rk4" takes the peers' 5 ms steps. */
#define _POSIX_C_SOURCE 199309L
#include <math.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "baitfall/fall.h"
#include "baitfall/random.h"
#include "p1_kernel.h"

#define MOST_THREADS 2
#define MOST_RUNS 99

typedef struct pellets {
    size_t n;
    double *diameter_m, *density_kg_m3, *x0_m, *y0_m, *x_m, *y_m, *t_s;
    bf_piece *piece;
    bf_entry *entry;
    bf_landing *landing;
    bf_status *status;
} pellets;

/* One stretch of pellets for one thread. */
typedef struct job {
    const pellets *p;
    const bf_current *current;
    bf_floor floor;
    size_t from, to;
    unsigned long long n_steps;
} job;

static void *fall_job(void *of) {
    job *j = of;
    const pellets *p = j->p;
    bf_fall_land_many(p->piece + j->from, p->entry + j->from, j->to - j->from, j->current, &j->floor,
                      p->status + j->from, p->landing + j->from);
    for (size_t i = j->from; i < j->to; i++) {
        p->x_m[i] = p->landing[i].x_m;
        p->y_m[i] = p->landing[i].y_m;
        p->t_s[i] = p->landing[i].time_s;
    }
    return NULL;
}

static void *p1_job(void *of) {
    job *j = of;
    const pellets *p = j->p;
    size_t from = j->from;
    j->n_steps = p1_fall(p->diameter_m + from, p->density_kg_m3 + from, p->x0_m + from, p->y0_m + from,
                         j->to - from, p->x_m + from, p->y_m + from, p->t_s + from);
    return NULL;
}

static double now_s(clockid_t clock) {
    struct timespec t;
    clock_gettime(clock, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static double clamp(double x, double least, double most) {
    return x < least ? least : x > most ? most : x;
}

static void *room(size_t n, size_t bytes) {
    void *memory = calloc(n, bytes);
    if (!memory) {
        fprintf(stderr, "fall_bench: out of memory\n");
        exit(70);
    }
    return memory;
}

static pellets draw(size_t n) {
    pellets p = {.n = n};
    double **columns[] = {&p.diameter_m, &p.density_kg_m3, &p.x0_m, &p.y0_m, &p.x_m, &p.y_m, &p.t_s};
    for (size_t k = 0; k < sizeof columns / sizeof columns[0]; k++) *columns[k] = room(n, sizeof(double));
    p.piece = room(n, sizeof *p.piece);
    p.entry = room(n, sizeof *p.entry);
    p.landing = room(n, sizeof *p.landing);
    p.status = room(n, sizeof *p.status);
    for (size_t i = 0; i < n; i++) {
        p.diameter_m[i] = clamp(4e-3 + 0.3e-3 * bf_normal(1, 0, i), 2e-3, 6e-3);
        p.density_kg_m3[i] = clamp(1150 + 25 * bf_normal(1, 1, i), 1060, 1300);
        p.x0_m[i] = 0.15 * bf_normal(1, 2, i);
        p.y0_m[i] = 0.10 * bf_normal(1, 3, i);
        p.piece[i] = bf_piece_of_form(BF_SPHERE, p.diameter_m[i], 0, p.density_kg_m3[i], 1000, 1.1e-3);
        p.entry[i] = (bf_entry){.x_m = p.x0_m[i], .y_m = p.y0_m[i], .u_m_s = 0.05};
    }
    return p;
}

static int by_size(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* Runs the job on `n_threads` threads and prints one line. */
static void measure(const char *name, void *(*work)(void *), const pellets *p, const bf_current *current,
                    bf_floor floor, int n_threads, int n_runs) {
    double wall_s[MOST_RUNS], cpu_s[MOST_RUNS], sum_x = 0, sum_x2 = 0, sum_t = 0;
    job jobs[MOST_THREADS];
    unsigned long long n_steps = 0;
    for (int r = 0; r < n_runs; r++) {
        pthread_t thread[MOST_THREADS];
        double start_s = now_s(CLOCK_MONOTONIC), start_cpu_s = now_s(CLOCK_PROCESS_CPUTIME_ID);
        n_steps = 0;
        for (int k = 0; k < n_threads; k++) {
            size_t share = p->n / (size_t)n_threads;
            jobs[k] = (job){
                p, current, floor, share * (size_t)k, k + 1 == n_threads ? p->n : share * (size_t)(k + 1), 0};
            if (pthread_create(&thread[k], NULL, work, &jobs[k])) exit(70);
        }
        for (int k = 0; k < n_threads; k++) {
            pthread_join(thread[k], NULL);
            n_steps += jobs[k].n_steps;
        }
        wall_s[r] = now_s(CLOCK_MONOTONIC) - start_s;
        cpu_s[r] = now_s(CLOCK_PROCESS_CPUTIME_ID) - start_cpu_s;
    }
    for (size_t i = 0; i < p->n; i++) {
        sum_x += p->x_m[i];
        sum_x2 += p->x_m[i] * p->x_m[i];
        sum_t += p->t_s[i];
    }
    qsort(wall_s, (size_t)n_runs, sizeof wall_s[0], by_size);
    qsort(cpu_s, (size_t)n_runs, sizeof cpu_s[0], by_size);
    double n = (double)p->n, mean_x = sum_x / n, sd_x = sqrt(sum_x2 / n - mean_x * mean_x);
    printf("%s,%zu,%d,%d,%.4f,%.4f,%.0f,%.0f,%.0f,%.5f,%.6f,%.6f\n", name, p->n, n_threads, n_runs,
           wall_s[n_runs / 2], wall_s[0], n / wall_s[0], n / cpu_s[0], (double)n_steps / wall_s[0], sum_t / n,
           mean_x, sd_x);
    fflush(stdout);
}

int main(int argc, char **argv) {
    size_t n = argc > 1 ? strtoul(argv[1], NULL, 10) : 200000;
    int n_runs = argc > 2 ? atoi(argv[2]) : 5;
    if (n < 100 || n_runs < 1 || n_runs > MOST_RUNS) {
        fprintf(stderr, "usage: fall_bench [pellets >= 100 [runs 1..%d]]\n", MOST_RUNS);
        return 2;
    }
    pellets p = draw(n), few = p;
    few.n = n / 20;

    /* 0.10 (1 - s)(1 - 3 s) + 0.03 s out and 0.02 (1 - s) to the right, s = depth / 2 m. */
    bf_current sheared = bf_current_still(2), skinned;
    const double out[3] = {0.10, -0.37, 0.30};
    memcpy(sheared.coef_x_m_s, out, sizeof out);
    sheared.coef_y_m_s[0] = 0.02;
    sheared.coef_y_m_s[1] = -0.02;
    skinned = sheared;
    skinned.skin_x_m_s = 0.08;
    skinned.skin_m = 0.01;

    printf(
        "scenario,pellets,threads,runs,median_wall_s,min_wall_s,pellets_per_s,pellets_per_cpu_s,steps_per_s,"
        "mean_fall_s,mean_x_m,sd_x_m\n");
    for (int threads = 1; threads <= MOST_THREADS; threads++) {
        measure("fall", fall_job, &p, &sheared, (bf_floor){2, 0}, threads, n_runs);
        measure("fall_skin", fall_job, &p, &skinned, (bf_floor){2, 0.05}, threads, n_runs);
        measure("p1_rk4", p1_job, &few, &sheared, (bf_floor){2, 0}, threads, n_runs);
    }
    return 0;
}
