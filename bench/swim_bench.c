/* swim_bench.c -- the belief of a made-up five-hour session: a session-hour, a replay, one second more, the merging, and what it keeps.
 *
 *     swim_bench [sets particles]      CSV on stdout: what, wall ms, CPU ms; middle of RUNS runs (start: 16 640)
 *
 * The session is the model's own play: a pot of 40 pieces of 4 mm every 100 s, drops given up after two minutes. */
#define _POSIX_C_SOURCE 200809L
#include <math.h>
#include <pthread.h>
#include <string.h>
#include <time.h>

#include "baitfall/belief.h"
#include "bench/timing.h"
#include "core/swim/model.h"
#include "swim/made_day.h"

#define RUNS 5
#define SESSION_S 18000.0
#define MARK_S 300.0
#define PROGRAM "swim_bench"

static made_day made;

static void make_session(void) {
    bf_swim_prior book = bf_swim_book();
    bf_swim_set truth;
    for (int i = 0; i < BF_SWIM_N_PARAMETERS; i++) truth.of[i] = exp(book.mean[i]);
    make_day(&made, &truth, 5, SESSION_S);
    double mark_s[BF_BELIEF_MOST_MARKS];
    int n_marks = 0;
    for (double at = MARK_S; at <= SESSION_S; at += MARK_S) mark_s[n_marks++] = at;
    made.n = bf_story_mark(made.event, made.n, MADE_DAY_MOST, mark_s, n_marks);
}

static bf_belief_job job_until(double until_s, int n_sets, int n_particles) {
    bf_belief_job job = {
        .scene = &made.scene, .event = made.event, .until_s = until_s, .prior = bf_swim_book(), .seed = 1};
    job.n_sets = n_sets, job.n_particles = n_particles;
    while (job.n_events < made.n && made.event[job.n_events].t_s <= until_s) job.n_events++;
    for (int i = job.n_events - 1; i >= 0 && job.n_ledger < BF_BELIEF_MOST_LEDGER; i--)
        if (made.event[i].kind == BF_SWIM_FEED) job.n_ledger++;
    for (int i = job.n_events - 1, k = job.n_ledger; i >= 0 && k > 0; i--)
        if (made.event[i].kind == BF_SWIM_FEED) job.ledger_s[--k] = made.event[i].t_s;
    job.ledger_s[job.n_ledger] = until_s;
    return job;
}

/* ---- Measuring ---- */

static double cpu_ms(void) {
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec * 1e3 + (double)t.tv_nsec / 1e6;
}

typedef struct part {
    const bf_belief_job *job;
    int from, to;
    void *scratch;
    double *rows;
} part;

static void *run_part(void *given) {
    part *p = given;
    bf_belief_rows(p->job, p->from, p->to, p->scratch, p->rows);
    return NULL;
}

/* All rows on one or two threads. */
static void run_all(const bf_belief_job *job, int n_threads, void *scratch[2], double *rows) {
    part parts[2];
    pthread_t other;
    size_t columns = (size_t)bf_belief_columns(job);
    for (int k = 0; k < n_threads; k++) {
        int from = job->n_sets * k / n_threads, to = job->n_sets * (k + 1) / n_threads;
        parts[k] = (part){job, from, to, scratch[k], rows + (size_t)from * columns};
    }
    if (n_threads == 2 && pthread_create(&other, NULL, run_part, &parts[1])) give_up(PROGRAM, "no thread");
    run_part(&parts[0]);
    if (n_threads == 2) pthread_join(other, NULL);
}

static void tell(const char *what, double *wall, double *cpu, int runs) {
    printf("%s,%.4f,%.4f\n", what, middle_of(wall, runs), middle_of(cpu, runs));
    fflush(stdout);
}

static void measure_rows(const char *what, const bf_belief_job *job, int n_threads, double *rows) {
    double wall[RUNS], cpu[RUNS];
    void *scratch[2] = {room(PROGRAM, bf_belief_scratch_bytes(job)),
                        room(PROGRAM, bf_belief_scratch_bytes(job))};
    for (int run = 0; run < RUNS; run++) {
        wall[run] = -now_ms(), cpu[run] = -cpu_ms();
        run_all(job, n_threads, scratch, rows);
        wall[run] += now_ms(), cpu[run] += cpu_ms();
    }
    tell(what, wall, cpu, RUNS);
    free(scratch[0]);
    free(scratch[1]);
}

/* ---- One second more for every particle of the bank, the rig in ---- */

#define SECONDS 300

typedef struct bank {
    const bf_belief_job *job;
    int n;                    /* sets */
    size_t swim_bytes, block; /* of a set */
    char *swims;
    double *x;
} bank;

static bank bank_of(const bf_belief_job *job, int n_sets) {
    bank b = {.job = job, .n = n_sets, .swim_bytes = (bfi_swim_bytes() + 15) / 16 * 16};
    b.block = ((size_t)bfi_swim_columns(&made.scene) + 1) * (size_t)job->n_particles;
    b.swims = room(PROGRAM, (size_t)n_sets * b.swim_bytes);
    b.x = room(PROGRAM, (size_t)n_sets * b.block * sizeof *b.x);
    memset(b.x, 0, (size_t)n_sets * b.block * sizeof *b.x);
    return b;
}

/* A pot and the rig go in. */
static void begin_bank(const bank *b) {
    bf_swim_event feed = *made_entry(&made, 0, BF_SWIM_FEED), in = *made_entry(&made, 0, BF_SWIM_IN);
    made.n -= 2;
    for (int s = 0; s < b->n; s++) {
        bfi_swim *swim = (bfi_swim *)(void *)(b->swims + (size_t)s * b->swim_bytes);
        double *x = b->x + (size_t)s * b->block, *log_w = x + b->block - b->job->n_particles;
        bf_swim_set set = bf_swim_drawn_set(&b->job->prior, b->job->seed, s, b->job->n_sets);
        memset(log_w, 0, (size_t)b->job->n_particles * sizeof *log_w);
        bfi_swim_prepare(swim, &made.scene, &set, b->job->seed, (uint64_t)s);
        bfi_swim_begin(swim, b->job->n_particles, x);
        bfi_swim_meet(swim, b->job->n_particles, x, &feed, log_w);
        bfi_swim_meet(swim, b->job->n_particles, x, &in, log_w);
    }
}

static void *pass_seconds(void *given) {
    const bank *b = given;
    for (int second = 1; second <= SECONDS; second++)
        for (int s = 0; s < b->n; s++) {
            double *x = b->x + (size_t)s * b->block;
            bfi_swim_run((bfi_swim *)(void *)(b->swims + (size_t)s * b->swim_bytes), b->job->n_particles, x,
                         second, x + b->block - b->job->n_particles);
        }
    return NULL;
}

static void measure_second(const char *what, const bf_belief_job *job, int n_threads) {
    double wall[RUNS], cpu[RUNS];
    bank banks[2];
    pthread_t other;
    for (int k = 0; k < n_threads; k++) banks[k] = bank_of(job, job->n_sets / n_threads);
    for (int run = 0; run < RUNS; run++) {
        for (int k = 0; k < n_threads; k++) begin_bank(&banks[k]);
        wall[run] = -now_ms(), cpu[run] = -cpu_ms();
        if (n_threads == 2 && pthread_create(&other, NULL, pass_seconds, &banks[1]))
            give_up(PROGRAM, "no thread");
        pass_seconds(&banks[0]);
        if (n_threads == 2) pthread_join(other, NULL);
        wall[run] = (wall[run] + now_ms()) / SECONDS, cpu[run] = (cpu[run] + cpu_ms()) / SECONDS;
    }
    tell(what, wall, cpu, RUNS);
    for (int k = 0; k < n_threads; k++) {
        free(banks[k].swims);
        free(banks[k].x);
    }
}

static void measure_merge(const bf_belief_job *job, const double *rows, bf_bed *bed) {
    double wall[RUNS], cpu[RUNS];
    void *work = room(PROGRAM, bf_belief_merge_bytes(job));
    for (int run = 0; run < RUNS; run++) {
        wall[run] = -now_ms(), cpu[run] = -cpu_ms();
        bf_belief_bed(job, rows, work, bed);
        wall[run] += now_ms(), cpu[run] += cpu_ms();
    }
    tell("merging five hours' rows", wall, cpu, RUNS);
    free(work);
}

/* Going on from the last snapshot: what a press at the water waits for. */
static void measure_going_on(const bf_belief_job *job, double *rows) {
    double wall[RUNS], cpu[RUNS];
    size_t bytes = bf_belief_snapshot_bytes(job) * (size_t)job->n_sets;
    void *scratch = room(PROGRAM, bf_belief_scratch_bytes(job)), *saved = room(PROGRAM, bytes);
    bf_belief_rows_from(job, 0, job->n_sets, NULL, saved, bf_belief_grid_s(job->until_s), scratch, rows);
    for (int run = 0; run < RUNS; run++) {
        wall[run] = -now_ms(), cpu[run] = -cpu_ms();
        bf_belief_rows_from(job, 0, job->n_sets, saved, NULL, 0, scratch, rows);
        wall[run] += now_ms(), cpu[run] += cpu_ms();
    }
    tell("9 min on from a snapshot on one thread", wall, cpu, RUNS);
    free(scratch);
    free(saved);
}

int main(int argc, char **argv) {
    int sets = argc > 2 ? atoi(argv[1]) : BF_BELIEF_SETS,
        particles = argc > 2 ? atoi(argv[2]) : BF_BELIEF_PARTICLES;
    make_session();
    bf_belief_job day = job_until(SESSION_S, sets, particles), hour = job_until(3600, sets, particles),
                  late = job_until(3600 + 540, sets, particles);
    double *rows = room(PROGRAM, (size_t)bf_belief_columns(&day) * (size_t)sets * sizeof *rows);
    printf("what,wall_ms,cpu_ms\n");
    measure_second("one second on one thread", &hour, 1);
    measure_second("one second on two threads", &hour, 2);
    measure_going_on(&late, rows);
    measure_rows("a session-hour on one thread", &hour, 1, rows);
    measure_rows("a session-hour on two threads", &hour, 2, rows);
    measure_rows("five hours replayed on two threads", &day, 2, rows);
    bf_bed bed;
    measure_merge(&day, rows, &bed);
    double kept = 30.0 * (double)sets * (double)bf_belief_snapshot_bytes(&day);
    double used = (double)sets * bf_belief_columns(&day) * sizeof *rows +
                  2.0 * (double)bf_belief_scratch_bytes(&day) + (double)bf_belief_merge_bytes(&day);
    printf("MB with 30 snapshots,%.1f,\nMB without,%.1f,\n", (kept + used) / 1e6, used / 1e6);
    printf("events,%d,\neffective sets,%.1f,\n", day.n_events, bed.n_effective_sets);
    free(rows);
    return 0;
}
