/* belief_bed.c -- the rows of all sets merged into what is shown. See baitfall/belief.h. */
#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"
#include "baitfall/field.h"
#include "core/base/room.h"
#include "core/record/sort.h"
#include "core/swim/belief.h"
#include "core/swim/weights.h"

#define NONE (-BF_INFINITY)
#define N_DOTS 20

const char *const bf_many_words[BF_N_MANY] = {"few", "some", "many"};

/* Values of many sets, each with its set's share of the weight. */
typedef struct gathered {
    bfi_key *key, *spare; /* a: the value, at: its set */
    int n;
    double *share; /* of a set */
    double weight; /* of all values */
} gathered;

typedef struct merge {
    const bf_belief_job *job;
    bfi_belief_shape shape;
    const double *rows;
    double *weight, *spare; /* of a set, sum 1 */
    gathered all;
} merge;

static size_t most_values(const bf_belief_job *job, const bfi_belief_shape *shape) {
    int reads = shape->n_reads > shape->n_mark_reads ? shape->n_reads : shape->n_mark_reads;
    return (size_t)reads * (size_t)job->n_sets;
}

size_t bf_belief_merge_bytes(const bf_belief_job *job) {
    bfi_belief_shape shape = bfi_belief_shape_of(job);
    return 3 * bfi_room((size_t)job->n_sets * sizeof(double)) +
           2 * bfi_room(most_values(job, &shape) * sizeof(bfi_key));
}

static merge merge_in(const bf_belief_job *job, const double *rows, void *work) {
    merge m = {.job = job, .shape = bfi_belief_shape_of(job), .rows = rows, .weight = work};
    size_t sets = bfi_room((size_t)job->n_sets * sizeof(double));
    size_t keys = bfi_room(most_values(job, &m.shape) * sizeof(bfi_key));
    m.spare = (double *)((char *)work + sets);
    m.all.share = (double *)((char *)work + 2 * sets);
    m.all.key = (bfi_key *)((char *)work + 3 * sets);
    m.all.spare = (bfi_key *)((char *)work + 3 * sets + keys);
    return m;
}

/* ---- Weights of sets ---- */

/* Evidence estimates of few particles scatter more than the sets differ: evidence is then flattened, evidence^power, until
 * half of the sets count (of those that have any). flat: spare. */
#define LEAST_POWER 1e-3

static void flatten(double *log_evidence, int n, double *flat) {
    int alive = 0;
    double low = LEAST_POWER, high = 1;
    for (int s = 0; s < n; s++) alive += log_evidence[s] > NONE;
    if (bfi_weights_effective(log_evidence, n) >= 0.5 * alive) return;
    for (int half = 0; half < 20; half++) {
        double power = 0.5 * (low + high);
        for (int s = 0; s < n; s++) flat[s] = log_evidence[s] > NONE ? power * log_evidence[s] : NONE;
        if (bfi_weights_effective(flat, n) >= 0.5 * alive)
            low = power;
        else
            high = power;
    }
    for (int s = 0; s < n; s++) log_evidence[s] = log_evidence[s] > NONE ? low * log_evidence[s] : NONE;
}

/* The sets' shares by the log evidence that stands in column c of their rows, sum 1; all 0 when no set has any. Returns the
 * log evidence of all sets together. */
static double weigh_sets(const merge *m, int c) {
    int n = m->job->n_sets;
    double *weight = m->weight;
    for (int s = 0; s < n; s++) {
        double log_evidence = m->rows[(size_t)s * (size_t)m->shape.n_columns + (size_t)c];
        weight[s] = log_evidence == log_evidence ? log_evidence : NONE; /* a set that stopped has no marks */
    }
    double level = bfi_weights_level(weight, n);
    flatten(weight, n, m->spare);
    bfi_weights_level(weight, n);
    for (int s = 0; s < n; s++) weight[s] = bf_exp(weight[s]) / n;
    return level;
}

void bfi_belief_weights(const bf_belief_job *job, const double *rows, double *weight) {
    merge m = {.job = job, .shape = bfi_belief_shape_of(job), .rows = rows, .weight = weight};
    m.spare = weight + job->n_sets;
    weigh_sets(&m, BFI_ROW_EVIDENCE);
}

/* Mean of what stands in column c of the rows, by the sets' shares. */
static double mean_of(const merge *m, int c) {
    double sum = 0;
    for (int s = 0; s < m->job->n_sets; s++)
        if (m->weight[s] > 0)
            sum += m->weight[s] * m->rows[(size_t)s * (size_t)m->shape.n_columns + (size_t)c];
    return sum;
}

/* ---- Quantiles ---- */

/* Collects the n_reads values at column c of every set's row that counts and sorts them; NaN are left out. */
static void collect(merge *m, int c, int n_reads, const double *weight) {
    gathered *all = &m->all;
    all->n = 0;
    all->weight = 0;
    for (int s = 0; s < m->job->n_sets; s++) {
        const double *values = m->rows + (size_t)s * (size_t)m->shape.n_columns + (size_t)c;
        all->share[s] = weight[s] / n_reads;
        for (int k = 0; k < n_reads && weight[s] > 0; k++) {
            if (values[k] != values[k]) continue;
            all->key[all->n++] = (bfi_key){.a = bfi_key_of(values[k]), .at = s};
            all->weight += all->share[s];
        }
    }
    bfi_sort(all->key, all->n, all->spare);
}

/* The quantiles at n rising p: each value stands at the middle of its share, linear between, the ends beyond. */
static void quantiles(const gathered *all, int n, const double *p, double *out) {
    double before = 0, low = BF_NAN, low_at = 0;
    int i = 0;
    for (int q = 0; q < n; q++) {
        double high = BF_NAN, high_at = 0, want = p[q] * all->weight;
        for (; i < all->n; i++) {
            double share = all->share[all->key[i].at];
            high = bfi_of_key(all->key[i].a);
            high_at = before + 0.5 * share;
            if (high_at >= want) break;
            low = high;
            low_at = high_at;
            before += share;
        }
        if (i == all->n)
            out[q] = low;
        else if (i == 0)
            out[q] = high;
        else
            out[q] = low + (high - low) * (want - low_at) / (high_at - low_at);
    }
}

static bf_range range_of(const gathered *all) {
    static const double p[3] = {0.1, 0.5, 0.9};
    double at[3];
    quantiles(all, 3, p, at);
    return (bf_range){.nominal = BF_NAN, .lo = at[0], .mid = at[1], .hi = at[2]};
}

static double mean_of_values(const gathered *all) {
    double sum = 0;
    for (int i = 0; i < all->n; i++) sum += all->share[all->key[i].at] * bfi_of_key(all->key[i].a);
    return sum / all->weight; /* NaN: there are none */
}

static void dots_of(const gathered *all, double dot[N_DOTS]) {
    double p[N_DOTS];
    for (int k = 0; k < N_DOTS; k++) p[k] = (k + 0.5) / N_DOTS;
    quantiles(all, N_DOTS, p, dot);
}

static bf_range now_range(merge *m, int now) {
    collect(m, bfi_row_now(&m->shape, now), m->shape.n_reads, m->weight);
    return range_of(&m->all);
}

/* ---- The parts of what is shown ---- */

static void show_now(merge *m, bf_bed *bed) {
    bed->left = now_range(m, BFI_NOW_LEFT);
    dots_of(&m->all, bed->left_dot);
    bed->fish = now_range(m, BFI_NOW_FISH);
    dots_of(&m->all, bed->fish_dot);
    bed->left_kg = now_range(m, BFI_NOW_LEFT_KG);
    bed->near = now_range(m, BFI_NOW_NEAR);
    bed->bites_h = now_range(m, BFI_NOW_BITES_H);
    bed->bites_mean_h = mean_of_values(&m->all);
    bed->wide_m = now_range(m, BFI_NOW_WIDE_M);
    bed->n_classes = bfi_swim_classes(m->job->scene, bed->class_m);
    for (int k = 0; k < bed->n_classes; k++) bed->left_of[k] = now_range(m, BFI_NOW_CLASSES + k);
}

/* The noise of a flow of pieces may give a fraction of one back: less than nothing was not eaten. */
static bf_range at_least_none(bf_range r) {
    r.lo = r.lo < 0 ? 0 : r.lo;
    r.mid = r.mid < 0 ? 0 : r.mid;
    r.hi = r.hi < 0 ? 0 : r.hi;
    return r;
}

static void show_ledger(merge *m, bf_bed *bed) {
    bed->n_ledger = m->job->n_ledger;
    for (int k = 0; k < bed->n_ledger; k++) {
        bed->ledger[k].from_s = m->job->ledger_s[k];
        bed->ledger[k].to_s = m->job->ledger_s[k + 1];
        bed->ledger[k].eaten = at_least_none(now_range(m, BFI_NOW_CLASSES + m->shape.n_classes + k));
    }
}

static void show_spots(merge *m, bf_bed *bed) {
    bed->n_spots = m->job->scene->n_spots;
    for (int s = 0; s < m->shape.n_spots; s++) {
        bed->spot[s].left = now_range(m, bfi_now_spot(&m->shape, s));
        bed->spot[s].fish = now_range(m, bfi_now_spot(&m->shape, s) + 1);
    }
    if (m->shape.n_spots == 0) bed->spot[0] = (bf_bed_spot){bed->left, bed->fish};
}

/* As believed at each mark, by the evidence up to then; work: the weights of the end are no longer needed. */
static void show_marks(merge *m, bf_bed *bed) {
    int reads = m->shape.n_mark_reads;
    bed->n_points = 0;
    for (int i = 0; i < m->job->n_events; i++) {
        if (m->job->event[i].kind != BF_SWIM_MARK) continue;
        int c = BFI_ROW_MARKS + bed->n_points * m->shape.mark_columns;
        bf_bed_point *point = &bed->point[bed->n_points++];
        weigh_sets(m, c);
        point->t_s = m->job->event[i].t_s;
        collect(m, c + 1, reads, m->weight);
        point->left = range_of(&m->all);
        collect(m, c + 1 + reads, reads, m->weight);
        point->fish = range_of(&m->all);
    }
}

/* Moments of the logarithms of the parameters. */
static void show_posterior(const merge *m, bf_bed *bed) {
    const bf_swim_prior *prior = &m->job->prior;
    double mean[BF_SWIM_N_PARAMETERS];
    for (int i = 0; i < BF_SWIM_N_PARAMETERS; i++) {
        mean[i] = mean_of(m, BFI_ROW_MEAN + i);
        for (int j = 0; j <= i; j++) {
            double within = mean_of(m, bfi_row_product(i, j)) - mean[i] * mean[j];
            bed->covariance[i][j] = bed->covariance[j][i] = prior->sd[i] * prior->sd[j] * within;
        }
        bed->posterior.mean[i] = prior->mean[i] + prior->sd[i] * mean[i];
        bed->posterior.sd[i] = sqrt(bed->covariance[i][i] > 0 ? bed->covariance[i][i] : 0);
    }
}

/* Over all parameters together, in the prior's units; a set by itself cannot tell. */
static double parameter_draws(const merge *m) {
    double squares = 0, all = 0, between = 0;
    for (int s = 0; s < m->job->n_sets; s++) squares += m->weight[s] * m->weight[s];
    for (int i = 0; i < BF_SWIM_N_PARAMETERS; i++) {
        double mean = mean_of(m, BFI_ROW_MEAN + i), of_means = 0;
        for (int s = 0; s < m->job->n_sets; s++) {
            double mine = m->rows[(size_t)s * (size_t)m->shape.n_columns + BFI_ROW_MEAN + (size_t)i];
            if (m->weight[s] > 0) of_means += m->weight[s] * (mine - mean) * (mine - mean);
        }
        all += mean_of(m, bfi_row_product(i, i)) - mean * mean;
        between += of_means;
    }
    return between > 0 ? (1 - squares) / squares * all / between : 0;
}

static double effective_sets(const merge *m) {
    double sum = 0;
    for (int s = 0; s < m->job->n_sets; s++) {
        double families = m->rows[(size_t)s * (size_t)m->shape.n_columns + BFI_ROW_FAMILIES];
        if (m->weight[s] > 0) sum += m->weight[s] * m->weight[s] / families;
    }
    return sum > 0 ? 1 / sum : 0;
}

void bf_belief_bed(const bf_belief_job *job, const double *rows, void *work, bf_bed *bed) {
    merge m = merge_in(job, rows, work);
    memset(bed, 0, sizeof *bed);
    bed->t_s = job->until_s;
    bed->posterior = job->prior;
    bed->log_evidence = weigh_sets(&m, BFI_ROW_EVIDENCE);
    int is_known = bed->log_evidence > NONE;
    bed->n_effective_sets = effective_sets(&m);
    show_now(&m, bed);
    show_ledger(&m, bed);
    show_spots(&m, bed);
    for (int k = 0; k < BF_N_MANY; k++) bed->p_many[k] = is_known ? mean_of(&m, BFI_ROW_MANY + k) : BF_NAN;
    if (is_known) show_posterior(&m, bed);
    if (is_known) bed->n_parameter_draws = parameter_draws(&m);
    show_marks(&m, bed);
}
