/* belief.c -- one set's particle filter through a story, and the row it leaves. See baitfall/belief.h. */
#include "core/swim/belief.h"

#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"
#include "baitfall/field.h"
#include "baitfall/random.h"
#include "core/base/room.h"
#include "core/swim/cloud.h"
#include "core/swim/signs.h"
#include "core/swim/weights.h"

#define NONE (-BF_INFINITY)

/* Streams of random numbers beside the model's: where systematic sampling begins, and how parameters move. */
#define RESAMPLE_STREAM 0xB1F0000000000000u
#define MARK_STREAM 0xB1F1000000000000u
#define NOW_STREAM 0xB1F2000000000000u
#define MOVE_STREAM 0xB1F3000000000000u
#define DRAWN_STREAM 0xB1F5000000000000u

/* Values kept of all sets together, and of a set at least. */
#define READS_NOW 4096
#define READS_MARK 512

/* ---- Shape ---- */

static int reads_of(const bf_belief_job *job, int of_all) {
    int reads = of_all / job->n_sets;
    reads = reads < BF_BELIEF_READS ? BF_BELIEF_READS : reads;
    return reads < job->n_particles ? reads : job->n_particles;
}

static void check_job(const bf_belief_job *job, int n_marks) {
    BF_ASSERT(job->n_sets >= 1 && job->n_sets <= BF_BELIEF_MOST_SETS);
    BF_ASSERT(job->n_particles >= 4 && job->n_particles <= BF_BELIEF_MOST_PARTICLES);
    BF_ASSERT(job->n_ledger >= 0 && job->n_ledger <= BF_BELIEF_MOST_LEDGER);
    BF_ASSERT(job->n_drawn >= 0 && job->n_drawn <= job->n_particles);
    BF_ASSERT(job->spot >= 0 && job->spot < job->scene->n_spots);
    BF_ASSERT(n_marks <= BF_BELIEF_MOST_MARKS);
}

bfi_belief_shape bfi_belief_shape_of(const bf_belief_job *job) {
    double diameter_m[BF_SWIM_MOST_CLASSES];
    bfi_belief_shape shape = {.n_ledger = job->n_ledger, .n_drawn = job->n_drawn};
    shape.n_spots = job->scene->n_spots > 1 ? job->scene->n_spots : 0;
    for (int i = 0; i < job->n_events; i++) shape.n_marks += job->event[i].kind == BF_SWIM_MARK;
    check_job(job, shape.n_marks);
    shape.n_mark_reads = reads_of(job, READS_MARK);
    shape.n_reads = reads_of(job, READS_NOW);
    shape.n_classes = bfi_swim_classes(job->scene, diameter_m);
    shape.mark_columns = 1 + 2 * shape.n_mark_reads;
    shape.model_columns = bfi_swim_columns(job->scene);
    shape.n_columns = bfi_row_drawn(&shape);
    if (shape.n_drawn) shape.n_columns += BFI_SWIM_MOMENT + shape.n_drawn * shape.model_columns;
    shape.state_columns = shape.model_columns - BF_SWIM_N_PARAMETERS;
    shape.z_column = shape.model_columns;
    shape.ledger_column = shape.z_column + BF_SWIM_N_PARAMETERS;
    shape.n_carried = shape.ledger_column + shape.n_ledger + 2;
    return shape;
}

int bf_belief_columns(const bf_belief_job *job) {
    return bfi_belief_shape_of(job).n_columns;
}

/* ---- Memory ---- */

#define SPARE_COLUMNS (2 + BFI_MOST_SIGNS)

static size_t column_bytes(const bf_belief_job *job) {
    return (size_t)job->n_particles * sizeof(double);
}

static size_t most_from(const bf_belief_job *job, const bfi_belief_shape *shape) {
    return (size_t)(shape->n_reads > job->n_particles ? shape->n_reads : job->n_particles);
}

size_t bf_belief_scratch_bytes(const bf_belief_job *job) {
    bfi_belief_shape shape = bfi_belief_shape_of(job);
    return bfi_room(bfi_swim_bytes()) +
           bfi_room((size_t)(shape.n_carried + SPARE_COLUMNS) * column_bytes(job)) +
           bfi_room(most_from(job, &shape) * sizeof(int));
}

bfi_filter bfi_filter_in(const bf_belief_job *job, void *scratch) {
    bfi_filter f = {.job = job, .shape = bfi_belief_shape_of(job), .swim = scratch};
    size_t n = (size_t)job->n_particles;
    f.x = (double *)((char *)scratch + bfi_room(bfi_swim_bytes()));
    f.family = f.x + (size_t)(f.shape.n_carried - 2) * n;
    f.log_w = f.family + n;
    f.spare = f.log_w + n;
    f.sign = f.spare + 2 * n;
    f.from = (int *)((char *)f.x + bfi_room((size_t)(f.shape.n_carried + SPARE_COLUMNS) * column_bytes(job)));
    return f;
}

/* ---- Weights ---- */

static double begin_of_sampling(const bfi_filter *f, uint64_t stream, uint64_t index) {
    return bf_uniform(f->job->seed, stream + (uint64_t)f->set, index);
}

static double *column(const bfi_filter *f, int c) {
    return f->x + (size_t)c * (size_t)f->job->n_particles;
}

void bfi_filter_own(const bfi_filter *f) {
    const bf_swim_prior *prior = &f->job->prior;
    for (int i = 0; i < BF_SWIM_N_PARAMETERS; i++) {
        const double *z = column(f, f->shape.z_column + i);
        double *own = column(f, f->shape.state_columns + i);
        for (int p = 0; p < f->job->n_particles; p++) own[p] = prior->mean[i] + prior->sd[i] * z[p];
        bfi_swim_own(f->swim, f->job->n_particles, f->x, i, own);
    }
}

static void draw_again(const bfi_filter *f, double *values) {
    memcpy(f->spare, values, column_bytes(f->job));
    for (int p = 0; p < f->job->n_particles; p++) values[p] = f->spare[f->from[p]];
}

/* Each particle comes as often as its weight says; all of them then weigh the same, and copies part. */
static void resample(bfi_filter *f) {
    int n = f->job->n_particles;
    double *z = column(f, f->shape.z_column);
    uint64_t index = (uint64_t)f->n_resampled++;
    int n_signs = bfi_swim_signs(f->swim, n, f->x, f->sign);
    bfi_cloud cloud = bfi_cloud_of(f->log_w, n, n_signs, f->sign, z, f->spare);
    bfi_weights_resample(f->log_w, n, begin_of_sampling(f, RESAMPLE_STREAM, index), f->from);
    for (int c = 0; c < f->shape.state_columns; c++) draw_again(f, column(f, c));
    for (int c = f->shape.z_column; c < f->shape.n_carried - 1; c++) draw_again(f, column(f, c));
    for (int k = 0; k < n_signs; k++) draw_again(f, f->sign + k * n);
    memset(f->log_w, 0, column_bytes(f->job));
    bfi_cloud_move(&cloud, f->job->seed, MOVE_STREAM + (uint64_t)f->set, index, n, f->sign, z);
    bfi_filter_own(f);
}

/* Takes the mean weight into the evidence. Without any weight the set stops. */
static void settle(bfi_filter *f) {
    int n = f->job->n_particles;
    f->log_evidence += bfi_weights_level(f->log_w, n);
    if (f->log_evidence > NONE && bfi_weights_effective(f->log_w, n) < 0.5 * n) resample(f);
}

/* ---- Time ---- */

/* What was eaten when a ledger interval began is carried along, so that it is known of each particle's own past. The filter
 * stands at the last event before to_s, or at the beginning. */
static void open_ledger(bfi_filter *f, double to_s) {
    for (; f->n_ledger < f->shape.n_ledger && f->job->ledger_s[f->n_ledger] < to_s; f->n_ledger++) {
        bfi_swim_eaten(f->swim, f->job->n_particles, f->x, f->job->spot,
                       column(f, f->shape.ledger_column + f->n_ledger));
    }
}

/* ---- Grid instants ---- */

static void begin_families(bfi_filter *f) {
    for (int p = 0; p < f->job->n_particles; p++) f->family[p] = p;
}

/* Effective number of families by the weights of their members. */
static double families_now(const bfi_filter *f) {
    int n = f->job->n_particles;
    double sum = 0, squares = 0;
    memset(f->spare, 0, column_bytes(f->job));
    for (int p = 0; p < n; p++) f->spare[(int)f->family[p]] += bf_exp(f->log_w[p]);
    for (int p = 0; p < n; p++) sum += f->spare[p], squares += f->spare[p] * f->spare[p];
    return sum * sum / squares;
}

static double rounded_z(double z) {
    double steps = floor(z * BFI_Z_STEPS + 0.5);
    steps = steps > BFI_Z_MOST ? BFI_Z_MOST : steps < -BFI_Z_MOST ? -BFI_Z_MOST : steps;
    return steps / BFI_Z_STEPS;
}

/* To what a snapshot keeps. */
static void round_particles(bfi_filter *f) {
    size_t n = (size_t)f->shape.n_carried * (size_t)f->job->n_particles;
    double *z = column(f, f->shape.z_column), *ledger = column(f, f->shape.ledger_column);
    for (double *at = z; at < ledger; at++) *at = rounded_z(*at);
    for (double *at = f->x; at < z; at++) *at = (double)(float)*at;
    for (double *at = ledger; at < f->x + n; at++) *at = (double)(float)*at;
    bfi_filter_own(f);
}

/* Lets time pass to to_s. Grid instants on the way, and to_s itself where is_last, are stood at, rounded, and saved when it is theirs. */
static void pass(bfi_filter *f, double to_s, int is_last, double save_at_s, void *saved) {
    int n = f->job->n_particles;
    open_ledger(f, to_s);
    for (; f->grid_s < to_s || (is_last && f->grid_s == to_s); f->grid_s += BF_BELIEF_GRID_S) {
        bfi_swim_run(f->swim, n, f->x, f->grid_s, f->log_w);
        settle(f);
        if (f->log_evidence == NONE) return;
        f->families = families_now(f);
        begin_families(f);
        round_particles(f);
        if (saved && f->grid_s == save_at_s) bfi_filter_save(f, save_at_s, saved);
    }
    bfi_swim_run(f->swim, n, f->x, to_s, f->log_w);
}

void bfi_filter_pass(bfi_filter *f, double to_s) {
    pass(f, to_s, 0, 0, NULL);
}

/* ---- Reading ---- */

/* Draws m particles by weight; their indices are then in from. */
static void draw(bfi_filter *f, const double *log_w, int m, uint64_t stream, uint64_t index) {
    bfi_weights_draw(log_w, f->job->n_particles, begin_of_sampling(f, stream, index), m, f->from);
}

static void put_drawn(const bfi_filter *f, int m, double *to) {
    for (int k = 0; k < m; k++) to[k] = f->spare[f->from[k]];
}

/* A mark changes nothing: its weights are a copy. In single precision, as snapshots keep them. */
static void read_mark(bfi_filter *f, double t_s) {
    int n = f->job->n_particles, m = f->shape.n_mark_reads;
    double *to = f->row + BFI_ROW_MARKS + f->n_marks * f->shape.mark_columns, *log_w = f->spare + n;
    memcpy(log_w, f->log_w, column_bytes(f->job));
    double log_evidence = f->log_evidence + bfi_weights_level(log_w, n);
    if (log_evidence == NONE) { /* stops here, as it would at the next event */
        f->log_evidence = NONE;
        return;
    }
    to[0] = (double)(float)log_evidence;
    f->n_marks++;
    draw(f, log_w, m, MARK_STREAM, (uint64_t)t_s);
    bfi_swim_left(f->swim, n, f->x, f->job->spot, -1, f->spare);
    put_drawn(f, m, to + 1);
    bfi_swim_fish(f->swim, n, f->x, f->job->spot, f->spare);
    put_drawn(f, m, to + 1 + m);
    for (int k = 1; k < f->shape.mark_columns; k++) to[k] = (double)(float)to[k];
}

/* Few, some, many: by all particles. */
static void read_many(bfi_filter *f) {
    int n = f->job->n_particles;
    double *p = f->row + BFI_ROW_MANY;
    p[BF_MANY_FEW] = p[BF_MANY_SOME] = p[BF_MANY_MANY] = 0;
    bfi_swim_fish(f->swim, n, f->x, f->job->spot, f->spare);
    for (int i = 0; i < n; i++) {
        int many = (f->spare[i] > BF_FEW_END) + (f->spare[i] > BF_SOME_END);
        p[many] += bf_exp(f->log_w[i]) / n;
    }
}

/* Moments of the parameters, and how many families there are: of the last whole time between grid instants if those are fewer. */
static void read_parameters(bfi_filter *f) {
    int n = f->job->n_particles;
    double now = families_now(f);
    f->row[BFI_ROW_FAMILIES] = f->families > 0 && f->families < now ? f->families : now;
    for (int p = 0; p < n; p++) f->spare[p] = bf_exp(f->log_w[p]) / n;
    for (int i = 0; i < BF_SWIM_N_PARAMETERS; i++) {
        const double *z = column(f, f->shape.z_column + i);
        double *wz = f->spare + n, mean = 0;
        for (int p = 0; p < n; p++) mean += wz[p] = f->spare[p] * z[p];
        f->row[BFI_ROW_MEAN + i] = mean;
        for (int j = 0; j <= i; j++) {
            const double *other = column(f, f->shape.z_column + j);
            double product = 0;
            for (int p = 0; p < n; p++) product += wz[p] * other[p];
            f->row[bfi_row_product(i, j)] = product;
        }
    }
}

/* The hook bait that is or was down last, best at the spot asked for. */
static int last_hook(const bf_belief_job *job) {
    int hook = 0, is_here = 0;
    for (int i = 0; i < job->n_events; i++) {
        const bf_swim_event *event = &job->event[i];
        if (event->kind != BF_SWIM_IN || (is_here && event->spot != job->spot)) continue;
        hook = event->what;
        is_here = event->spot == job->spot;
    }
    return hook;
}

/* Interval k: from what was eaten when it began to what was when the next did. */
static void read_interval(bfi_filter *f, int k) {
    int n = f->job->n_particles;
    const double *began = column(f, f->shape.ledger_column + k), *ended = began + n;
    if (k + 1 == f->shape.n_ledger) {
        bfi_swim_eaten(f->swim, n, f->x, f->job->spot, f->spare);
        ended = f->spare;
    }
    for (int p = 0; p < n; p++) f->spare[p] = ended[p] - began[p];
}

/* The values in spare, of the particles drawn, are the row's `now`. */
static void keep(bfi_filter *f, int now) {
    put_drawn(f, f->shape.n_reads, f->row + bfi_row_now(&f->shape, now));
}

static void read_now(bfi_filter *f) {
    const bf_belief_job *job = f->job;
    int n = job->n_particles, n_classes = f->shape.n_classes, spot = job->spot;
    double *x = f->x, *values = f->spare;
    read_many(f);
    read_parameters(f);
    draw(f, f->log_w, f->shape.n_reads, NOW_STREAM, 0);
    bfi_swim_left(f->swim, n, x, spot, -1, values);
    keep(f, BFI_NOW_LEFT);
    bfi_swim_left_kg(f->swim, n, x, spot, values);
    keep(f, BFI_NOW_LEFT_KG);
    bfi_swim_fish(f->swim, n, x, spot, values);
    keep(f, BFI_NOW_FISH);
    bfi_swim_near(f->swim, n, x, values);
    keep(f, BFI_NOW_NEAR);
    bfi_swim_wide(f->swim, n, x, spot, values);
    keep(f, BFI_NOW_WIDE_M);
    for (int k = 0; k < n_classes; k++) {
        bfi_swim_left(f->swim, n, x, spot, k, values);
        keep(f, BFI_NOW_CLASSES + k);
    }
    for (int k = 0; k < f->shape.n_ledger; k++) {
        read_interval(f, k);
        keep(f, BFI_NOW_CLASSES + n_classes + k);
    }
    for (int s = 0; s < f->shape.n_spots; s++) {
        bfi_swim_left(f->swim, n, x, s, -1, values);
        keep(f, bfi_now_spot(&f->shape, s));
        bfi_swim_fish(f->swim, n, x, s, values);
        keep(f, bfi_now_spot(&f->shape, s) + 1);
    }
}

/* Of the same particles, what the next minutes bring. The last that is read: it uses x up. */
static void read_soon(bfi_filter *f) {
    const bf_belief_job *job = f->job;
    draw(f, f->log_w, f->shape.n_reads, NOW_STREAM, 0);
    bfi_swim_bites_soon_h(f->swim, job->n_particles, f->x, job->spot, last_hook(job), BF_BELIEF_SOON_S,
                          f->spare);
    keep(f, BFI_NOW_BITES_H);
}

/* Particles drawn by weight, whole, with the moment they are at. */
static void read_drawn(bfi_filter *f) {
    int m = f->shape.n_drawn, n = f->job->n_particles;
    double *to = f->row + bfi_row_drawn(&f->shape);
    if (!m) return;
    bfi_swim_save(f->swim, to);
    to += BFI_SWIM_MOMENT;
    draw(f, f->log_w, m, DRAWN_STREAM, 0);
    for (int c = 0; c < f->shape.model_columns; c++)
        for (int k = 0; k < m; k++) to[c * m + k] = f->x[c * n + f->from[k]];
}

/* ---- A set ---- */

/* Every particle of every set draws its own: together they are one Latin hypercube of the prior. */
static void draw_parameters(bfi_filter *f) {
    const bf_belief_job *job = f->job;
    int n = job->n_particles;
    for (int p = 0; p < n; p++) {
        bf_swim_set drawn = bf_swim_drawn_set(&job->prior, job->seed, f->set * n + p, job->n_sets * n);
        for (int i = 0; i < BF_SWIM_N_PARAMETERS; i++) {
            double off = bf_log(drawn.of[i]) - job->prior.mean[i];
            column(f, f->shape.z_column + i)[p] = job->prior.sd[i] > 0 ? off / job->prior.sd[i] : 0;
        }
    }
}

void bfi_filter_begin(bfi_filter *f, const void *snapshot) {
    const bf_belief_job *job = f->job;
    bf_swim_set middle = {{0}};
    bfi_swim_prepare(f->swim, job->scene, &middle, job->seed, (uint64_t)f->set);
    bfi_swim_weigh_entered(f->swim);
    memset(f->x, 0, (size_t)f->shape.n_carried * column_bytes(job));
    for (int c = 0; c < f->shape.n_columns; c++) f->row[c] = BF_NAN;
    f->log_evidence = 0;
    f->families = 0;
    f->grid_s = BF_BELIEF_GRID_S;
    f->n_marks = f->n_ledger = f->n_resampled = 0;
    begin_families(f);
    if (snapshot) {
        bfi_filter_load(f, snapshot);
        return;
    }
    draw_parameters(f);
    bfi_filter_own(f);
    bfi_swim_begin_own(f->swim, job->n_particles, f->x);
}

void bfi_filter_meet(bfi_filter *f, const bf_swim_event *event) {
    if (event->kind == BF_SWIM_MARK) {
        read_mark(f, event->t_s);
        return;
    }
    bfi_swim_meet(f->swim, f->job->n_particles, f->x, event, f->log_w);
    settle(f);
}

/* What is left as a snapshot when the set stops before it comes there. */
static void save_stopped(const bfi_filter *f, double save_at_s, void *saved) {
    bfi_filter stopped = *f;
    stopped.log_evidence = NONE;
    bfi_filter_save(&stopped, save_at_s, saved);
}

/* The story from event i_event on; stops early without any weight left. */
static void go_through(bfi_filter *f, int i_event, double save_at_s, void *saved) {
    const bf_belief_job *job = f->job;
    if (saved) save_stopped(f, save_at_s, saved);
    for (int i = i_event; i < job->n_events && f->log_evidence > NONE; i++) {
        pass(f, job->event[i].t_s, 0, save_at_s, saved);
        if (f->log_evidence > NONE) bfi_filter_meet(f, &job->event[i]);
    }
    if (f->log_evidence > NONE) pass(f, job->until_s, 1, save_at_s, saved);
    if (f->log_evidence > NONE) f->log_evidence += bfi_weights_level(f->log_w, job->n_particles);
    f->row[BFI_ROW_EVIDENCE] = f->log_evidence;
    if (f->log_evidence == NONE) return;
    open_ledger(f, BF_INFINITY);
    read_now(f);
    read_drawn(f);
    read_soon(f);
}

static int first_event_after(const bf_belief_job *job, double t_s) {
    int i = 0;
    while (i < job->n_events && job->event[i].t_s <= t_s) i++;
    return i;
}

void bf_belief_rows_from(const bf_belief_job *job, int i, int j, const void *snapshots, void *saved,
                         double save_at_s, void *scratch, double *rows) {
    bfi_filter f = bfi_filter_in(job, scratch);
    size_t bytes_from = snapshots ? bfi_snapshot_bytes_of(snapshots) : 0,
           bytes_to = bf_belief_snapshot_bytes(job);
    double from_s = snapshots ? bfi_snapshot_at_s(snapshots) : 0;
    BF_ASSERT(!saved ||
              (save_at_s > from_s && save_at_s <= job->until_s && bf_belief_grid_s(save_at_s) == save_at_s));
    int i_event = snapshots ? first_event_after(job, from_s) : 0;
    for (f.set = i; f.set < j; f.set++) {
        size_t k = (size_t)(f.set - i);
        const void *from = snapshots ? (const char *)snapshots + k * bytes_from : NULL;
        void *to = saved ? (char *)saved + k * bytes_to : NULL;
        f.row = rows + k * (size_t)f.shape.n_columns;
        bfi_filter_begin(&f, from);
        go_through(&f, i_event, save_at_s, to);
    }
}

void bf_belief_rows(const bf_belief_job *job, int i, int j, void *scratch, double *rows) {
    bf_belief_rows_from(job, i, j, NULL, NULL, 0, scratch, rows);
}
