/* snapshot.c -- a set's filter at a grid instant as bytes. See baitfall/belief.h.
 *
 * Bytes: the head; in single precision the instants of its marks, what they showed, and the particles' columns: the model's state,
 * the ledger's, the log weights; in sixteen bits their z. Parameters as used follow from z; families begin anew at the grid.
 */
#include <math.h>
#include <string.h>

#include "baitfall/field.h"
#include "core/base/room.h"
#include "core/record/mix.h"
#include "core/swim/belief.h"

typedef struct snapshot_head {
    uint64_t key;
    double at_s, log_evidence, families;
    double moment[BFI_SWIM_MOMENT];
    double ledger_s[BF_BELIEF_MOST_LEDGER];
    int spot, set;
    int n_ledger;             /* instants passed                                     */
    int n_marks, n_marks_all; /* passed, and with room in it                         */
    int mark_columns, state_columns, n_ledger_all, n_particles, n_resampled;
} snapshot_head;

/* Columns in single precision. */
static size_t n_single(const snapshot_head *head) {
    return (size_t)(head->state_columns + head->n_ledger_all + 1);
}

static size_t bytes_of(const snapshot_head *head) {
    size_t marks = (size_t)(head->n_marks_all * (1 + head->mark_columns)), n = (size_t)head->n_particles;
    return bfi_room(sizeof *head + (marks + n_single(head) * n) * sizeof(float) +
                    BF_SWIM_N_PARAMETERS * n * sizeof(int16_t));
}

static snapshot_head head_for(const bf_belief_job *job, const bfi_belief_shape *shape) {
    return (snapshot_head){.spot = job->spot,
                           .n_marks_all = shape->n_marks,
                           .mark_columns = shape->mark_columns,
                           .state_columns = shape->state_columns,
                           .n_ledger_all = shape->n_ledger,
                           .n_particles = job->n_particles};
}

static const snapshot_head *head_of(const void *snapshot) {
    return snapshot;
}

/* Where in a snapshot marks' instants, marks, and column c of the particles begin. */
static size_t at_marks(const snapshot_head *head) {
    return sizeof *head + (size_t)head->n_marks_all * sizeof(float);
}

static size_t at_column(const snapshot_head *head, int c) {
    size_t marks = (size_t)(head->n_marks_all * head->mark_columns);
    return at_marks(head) + (marks + (size_t)c * (size_t)head->n_particles) * sizeof(float);
}

static size_t at_z(const snapshot_head *head) {
    return at_column(head, (int)n_single(head));
}

static void to_single(const double *from, size_t n, float *to) {
    for (size_t i = 0; i < n; i++) to[i] = (float)from[i];
}

static void to_double(const float *from, size_t n, double *to) {
    for (size_t i = 0; i < n; i++) to[i] = (double)from[i];
}

static void z_to_steps(const double *z, size_t n, int16_t *steps) {
    for (size_t i = 0; i < n; i++) steps[i] = (int16_t)(z[i] * BFI_Z_STEPS);
}

static void steps_to_z(const int16_t *steps, size_t n, double *z) {
    for (size_t i = 0; i < n; i++) z[i] = (double)steps[i] / BFI_Z_STEPS;
}

/* ---- Which snapshots go with which job ---- */

double bf_belief_grid_s(double until_s) {
    return floor(until_s / BF_BELIEF_GRID_S) * BF_BELIEF_GRID_S;
}

static uint64_t mix_number(uint64_t hash, double x) {
    uint64_t bits;
    memcpy(&bits, &x, sizeof bits);
    return bfi_mix(hash, bits);
}

uint64_t bf_belief_key(const bf_belief_job *job, double at_s) {
    int n = 0;
    while (n < job->n_events && job->event[n].t_s <= at_s) n++;
    uint64_t key = bfi_mix(BF_SWIM_VERSION, bf_story_hash(job->scene, job->event, n));
    key = mix_number(bfi_mix(key, job->seed), at_s);
    key = bfi_mix(bfi_mix(key, (uint64_t)job->n_sets), (uint64_t)job->n_particles);
    for (int i = 0; i < BF_SWIM_N_PARAMETERS; i++)
        key = mix_number(mix_number(key, job->prior.mean[i]), job->prior.sd[i]);
    return key;
}

double bfi_snapshot_at_s(const void *snapshot) {
    return head_of(snapshot)->at_s;
}

size_t bfi_snapshot_bytes_of(const void *snapshot) {
    return bytes_of(head_of(snapshot));
}

size_t bf_belief_snapshot_bytes(const bf_belief_job *job) {
    bfi_belief_shape shape = bfi_belief_shape_of(job);
    snapshot_head head = head_for(job, &shape);
    return bytes_of(&head);
}

/* Which of a snapshot's marks stands at t_s, -1: none. */
static int mark_at(const snapshot_head *head, double t_s) {
    const float *instant = (const float *)(head + 1);
    for (int m = 0; m < head->n_marks; m++)
        if ((double)instant[m] == t_s) return m;
    return -1;
}

static int ledger_at(const snapshot_head *head, double t_s) {
    for (int k = 0; k < head->n_ledger; k++)
        if (head->ledger_s[k] == t_s) return k;
    return -1;
}

int bf_belief_fits(const bf_belief_job *job, const void *snapshot) {
    const snapshot_head *head = head_of(snapshot);
    if (head->key != bf_belief_key(job, head->at_s) || head->spot != job->spot || head->at_s > job->until_s)
        return 0;
    for (int i = 0; i < job->n_events && job->event[i].t_s <= head->at_s; i++)
        if (job->event[i].kind == BF_SWIM_MARK && mark_at(head, job->event[i].t_s) < 0) return 0;
    for (int k = 0; k < job->n_ledger && job->ledger_s[k] < head->at_s; k++)
        if (ledger_at(head, job->ledger_s[k]) < 0) return 0;
    return 1;
}

/* ---- Leaving and taking up ---- */

/* The instants of the marks passed, in order. */
static void save_instants(const bfi_filter *f, float *to) {
    int m = 0;
    for (int i = 0; m < f->n_marks; i++)
        if (f->job->event[i].kind == BF_SWIM_MARK) to[m++] = (float)f->job->event[i].t_s;
}

void bfi_filter_save(const bfi_filter *f, double at_s, void *snapshot) {
    snapshot_head head = head_for(f->job, &f->shape);
    head.key = bf_belief_key(f->job, at_s);
    head.at_s = at_s;
    head.log_evidence = f->log_evidence;
    head.families = f->families;
    head.set = f->set;
    head.n_marks = f->n_marks;
    head.n_ledger = f->n_ledger;
    head.n_resampled = f->n_resampled;
    bfi_swim_save(f->swim, head.moment);
    memcpy(head.ledger_s, f->job->ledger_s, (size_t)f->n_ledger * sizeof(double));
    char *to = snapshot;
    memset(to, 0, bytes_of(&head));
    memcpy(to, &head, sizeof head);
    save_instants(f, (float *)(to + sizeof head));
    to_single(f->row + BFI_ROW_MARKS, (size_t)(f->n_marks * head.mark_columns),
              (float *)(to + at_marks(&head)));
    size_t n = (size_t)head.n_particles;
    to_single(f->x, (size_t)head.state_columns * n, (float *)(to + at_column(&head, 0)));
    to_single(f->x + (size_t)f->shape.ledger_column * n, (size_t)head.n_ledger_all * n,
              (float *)(to + at_column(&head, head.state_columns)));
    to_single(f->log_w, n, (float *)(to + at_column(&head, head.state_columns + head.n_ledger_all)));
    z_to_steps(f->x + (size_t)f->shape.z_column * n, BF_SWIM_N_PARAMETERS * n, (int16_t *)(to + at_z(&head)));
}

/* What the job's marks before the snapshot showed. */
static void load_marks(bfi_filter *f, const snapshot_head *head, const char *from) {
    const float *marks = (const float *)(from + at_marks(head));
    for (int i = 0; i < f->job->n_events && f->job->event[i].t_s <= head->at_s; i++) {
        if (f->job->event[i].kind != BF_SWIM_MARK) continue;
        size_t columns = (size_t)head->mark_columns;
        int m = mark_at(head, f->job->event[i].t_s);
        to_double(marks + (size_t)m * columns, columns,
                  f->row + BFI_ROW_MARKS + (size_t)f->n_marks++ * columns);
    }
}

/* Column c of the snapshot is column `to` of the filter. */
static void load_column(bfi_filter *f, const snapshot_head *head, const char *from, int c, int to) {
    size_t n = (size_t)head->n_particles;
    to_double((const float *)(from + at_column(head, c)), n, f->x + (size_t)to * n);
}

void bfi_filter_load(bfi_filter *f, const void *snapshot) {
    const snapshot_head *head = head_of(snapshot);
    BF_ASSERT(bf_belief_fits(f->job, snapshot) && head->set == f->set);
    f->log_evidence = head->log_evidence;
    f->families = head->families;
    f->grid_s = head->at_s + BF_BELIEF_GRID_S;
    f->n_resampled = head->n_resampled;
    bfi_swim_restore(f->swim, head->moment);
    load_marks(f, head, snapshot);
    for (int c = 0; c < head->state_columns; c++) load_column(f, head, snapshot, c, c);
    for (int k; f->n_ledger < f->shape.n_ledger && (k = ledger_at(head, f->job->ledger_s[f->n_ledger])) >= 0;
         f->n_ledger++)
        load_column(f, head, snapshot, head->state_columns + k, f->shape.ledger_column + f->n_ledger);
    load_column(f, head, snapshot, head->state_columns + head->n_ledger_all, f->shape.n_carried - 1);
    const int16_t *steps = (const int16_t *)((const char *)snapshot + at_z(head));
    size_t n = (size_t)head->n_particles;
    steps_to_z(steps, BF_SWIM_N_PARAMETERS * n, f->x + (size_t)f->shape.z_column * n);
    bfi_filter_own(f);
}
