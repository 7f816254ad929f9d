/* belief_test.c -- the bank of filters: cut anywhere, gone on from snapshots, marked, merged.
 *
 * Oracles: bits of the run straight through; the merged numbers computed again here in long double from the rows, by their
 * definitions; what went in equals what is left and what is gone. Stories are made up without the model (made_story.h).
 */
#include "baitfall/belief.h"

#include "common/check.h"
#include "core/swim/belief.h"
#include "swim/made_story.h"

#define SETS 24
#define PARTICLES 12

static made_story story;

/* A job on the made story up to until_s, with marks every 300 s on the way. */
static bf_belief_job job_of(double seconds, double until_s, int spot) {
    static bf_swim_event event[MADE_MOST + BF_BELIEF_MOST_MARKS];
    make_story(&story, 7, 2, seconds);
    int n = 0;
    double mark_s = 300;
    for (int i = 0; i <= story.n; i++) {
        double next_s = i < story.n && story.event[i].t_s <= until_s ? story.event[i].t_s : until_s + 1e-9;
        for (; mark_s < next_s; mark_s += 300) event[n++] = made_event(mark_s, BF_SWIM_MARK, 0);
        if (next_s > until_s) break;
        event[n++] = story.event[i];
    }
    return (bf_belief_job){.scene = &story.scene,
                           .event = event,
                           .n_events = n,
                           .until_s = until_s,
                           .spot = spot,
                           .prior = bf_swim_book(),
                           .seed = 11,
                           .n_sets = SETS,
                           .n_particles = PARTICLES};
}

/* The latest put-ins at the job's spot, as many as fit, and the end. */
static void add_ledger(bf_belief_job *job, int most) {
    double at[BF_BELIEF_MOST_LEDGER];
    int n = 0;
    for (int i = job->n_events - 1; i >= 0 && n < most; i--)
        if (job->event[i].kind == BF_SWIM_FEED && job->event[i].spot == job->spot)
            at[n++] = job->event[i].t_s;
    for (int k = 0; k < n; k++) job->ledger_s[k] = at[n - 1 - k];
    job->ledger_s[n] = job->until_s;
    job->n_ledger = n;
}

static void *room_for(size_t bytes) {
    void *memory = aligned_alloc(16, (bytes + 15) / 16 * 16);
    assert_non_null(memory);
    memset(memory, 0x5a, (bytes + 15) / 16 * 16);
    return memory;
}

static size_t rows_bytes(const bf_belief_job *job) {
    return (size_t)job->n_sets * (size_t)bf_belief_columns(job) * sizeof(double);
}

static double *rows_of(const bf_belief_job *job) {
    double *rows = room_for(rows_bytes(job));
    void *scratch = room_for(bf_belief_scratch_bytes(job));
    bf_belief_rows(job, 0, job->n_sets, scratch, rows);
    free(scratch);
    return rows;
}

static bf_bed bed_of(const bf_belief_job *job, const double *rows) {
    bf_bed bed;
    void *work = room_for(bf_belief_merge_bytes(job));
    bf_belief_bed(job, rows, work, &bed);
    free(work);
    return bed;
}

/* ---- Cuts, snapshots, marks ---- */

static void rows_are_the_same_bits_in_1_2_and_8_cuts(void **state) {
    (void)state;
    bf_belief_job job = job_of(2000, 2000, 0);
    add_ledger(&job, 3);
    double *whole = rows_of(&job);
    size_t columns = (size_t)bf_belief_columns(&job);
    for (int cuts = 2; cuts <= 8; cuts += 6) {
        double *rows = room_for(rows_bytes(&job));
        for (int c = cuts - 1; c >= 0; c--) {
            void *scratch = room_for(bf_belief_scratch_bytes(&job));
            int from = SETS * c / cuts, to = SETS * (c + 1) / cuts;
            bf_belief_rows(&job, from, to, scratch, rows + (size_t)from * columns);
            free(scratch);
        }
        assert_memory_equal(rows, whole, rows_bytes(&job));
        free(rows);
    }
    free(whole);
}

/* A session told three times as it grows: to 1300 s, to 1900 s going on from 600 s, to 2500 s going on from 1800 s. */
static void going_on_from_a_snapshot_gives_the_same_bits(void **state) {
    (void)state;
    void *left = NULL;
    for (int ask = 0; ask < 3; ask++) {
        double until_s = (double[]){1300, 1900, 2500}[ask], save_s = (double[]){600, 1800, 2400}[ask];
        bf_belief_job job = job_of(3000, until_s, 1);
        add_ledger(&job, 8);
        double *straight = rows_of(&job), *rows = room_for(rows_bytes(&job));
        void *scratch = room_for(bf_belief_scratch_bytes(&job));
        void *saved = room_for((size_t)SETS * bf_belief_snapshot_bytes(&job));
        if (left) assert_int_equal(bf_belief_fits(&job, left), 1);
        bf_belief_rows_from(&job, 0, SETS, left, saved, save_s, scratch, rows);
        assert_memory_equal(rows, straight, rows_bytes(&job));
        free(left);
        left = saved;
        free(scratch);
        free(straight);
        free(rows);
    }
    free(left);
}

static void a_snapshot_is_the_same_bytes_straight_or_by_way_of_another(void **state) {
    (void)state;
    bf_belief_job job = job_of(2000, 2000, 0);
    add_ledger(&job, 8);
    size_t bytes = (size_t)SETS * bf_belief_snapshot_bytes(&job);
    void *scratch = room_for(bf_belief_scratch_bytes(&job)), *first = room_for(bytes),
         *straight = room_for(bytes), *by_way = room_for(bytes);
    double *rows = room_for(rows_bytes(&job));
    bf_belief_rows_from(&job, 0, SETS, NULL, first, 600, scratch, rows);
    bf_belief_rows_from(&job, 0, SETS, NULL, straight, 1800, scratch, rows);
    bf_belief_rows_from(&job, 0, SETS, first, by_way, 1800, scratch, rows);
    assert_memory_equal(by_way, straight, bytes);
    free(scratch);
    free(first);
    free(straight);
    free(by_way);
    free(rows);
}

static void marks_and_ledger_change_nothing_else(void **state) {
    (void)state;
    bf_belief_job marked = job_of(2000, 2000, 0), bare = marked;
    static bf_swim_event event[MADE_MOST];
    bare.n_events = 0;
    for (int i = 0; i < marked.n_events; i++)
        if (marked.event[i].kind != BF_SWIM_MARK) event[bare.n_events++] = marked.event[i];
    bare.event = event;
    double *without = rows_of(&bare);
    add_ledger(&marked, 5);
    double *with = rows_of(&marked);
    bfi_belief_shape few = bfi_belief_shape_of(&bare), all = bfi_belief_shape_of(&marked);
    size_t now_bytes = (size_t)((BFI_NOW_CLASSES + few.n_classes) * few.n_reads) * sizeof(double);
    assert_true(all.n_marks == 6 && few.n_marks == 0 && all.n_ledger == 5);
    for (int s = 0; s < SETS; s++) {
        const double *a = without + s * few.n_columns, *b = with + s * all.n_columns;
        assert_memory_equal(a, b, BFI_ROW_MARKS * sizeof(double));
        assert_memory_equal(a + bfi_row_now(&few, 0), b + bfi_row_now(&all, 0), now_bytes);
    }
    free(with);
    free(without);
}

static void a_snapshot_of_anything_else_does_not_fit(void **state) {
    (void)state;
    bf_belief_job job = job_of(2000, 1500, 0);
    add_ledger(&job, 8);
    void *scratch = room_for(bf_belief_scratch_bytes(&job));
    void *saved = room_for((size_t)SETS * bf_belief_snapshot_bytes(&job));
    double *rows = room_for(rows_bytes(&job));
    bf_belief_rows_from(&job, 0, SETS, NULL, saved, 1200, scratch, rows);
    assert_int_equal(bf_belief_fits(&job, saved), 1);

    static bf_swim_event event[MADE_MOST];
    memcpy(event, job.event, (size_t)job.n_events * sizeof event[0]);
    bf_belief_job other = job;
    other.event = event;
    assert_int_equal(bf_belief_fits(&other, saved), 1);
    int late = job.n_events - 1, early = 4;
    assert_true(event[late].t_s > 1200 && event[early].t_s < 1200);
    event[late].count = 99; /* what comes after it is not its business */
    assert_int_equal(bf_belief_fits(&other, saved), 1);
    event[early].t_s += 0.5;
    assert_int_equal(bf_belief_fits(&other, saved), 0);
    event[early] = job.event[early];
    event[early] =
        made_event(event[early].t_s, BF_SWIM_MARK, 0); /* instead of an event: a mark it does not know */
    assert_int_equal(bf_belief_fits(&other, saved), 0);

    other = job, other.seed++;
    assert_int_equal(bf_belief_fits(&other, saved), 0);
    other = job, other.spot = 1;
    assert_int_equal(bf_belief_fits(&other, saved), 0);
    other = job, other.n_sets++;
    assert_int_equal(bf_belief_fits(&other, saved), 0);
    other = job, other.n_particles++;
    assert_int_equal(bf_belief_fits(&other, saved), 0);
    other = job, other.prior.mean[BF_SWIM_STOCK] += 0.01;
    assert_int_equal(bf_belief_fits(&other, saved), 0);
    other = job, other.ledger_s[0] += 0.25;
    assert_int_equal(bf_belief_fits(&other, saved), 0);
    other = job, other.until_s = 1100;
    assert_int_equal(bf_belief_fits(&other, saved), 0);
    free(scratch);
    free(saved);
    free(rows);
}

static void snapshots_stand_every_ten_minutes(void **state) {
    (void)state;
    assert_true(bf_belief_grid_s(599.9) == 0 && bf_belief_grid_s(600) == 600 &&
                bf_belief_grid_s(17999) == 17400);
}

/* ---- What is in a row ---- */

/* Pieces are kept in single precision at grid instants and each step may lose some last digits. */
static void what_went_in_is_left_or_gone(void **state) {
    (void)state;
    for (int spot = 0; spot < 2; spot++) {
        bf_belief_job job = job_of(3600, 3600, spot);
        add_ledger(&job, BF_BELIEF_MOST_LEDGER);
        int most = job.n_ledger;
        double fed = 0;
        for (int i = 0; i < job.n_events; i++)
            if (job.event[i].kind == BF_SWIM_FEED && job.event[i].spot == spot) fed += job.event[i].count;
        assert_true(most > 2 && fed > 100);
        memmove(job.ledger_s + 1, job.ledger_s + 2, (size_t)(most - 1) * sizeof(double));
        job.ledger_s[0] = 0; /* one more interval: all that was before the latest ones */
        job.n_ledger = most - 1;
        double *rows = rows_of(&job);
        bfi_belief_shape shape = bfi_belief_shape_of(&job);
        for (int s = 0; s < SETS; s++)
            for (int k = 0; k < shape.n_reads; k++) {
                const double *row = rows + s * shape.n_columns;
                double left = row[bfi_row_now(&shape, BFI_NOW_LEFT) + k], gone = 0, by_class = 0;
                for (int c = 0; c < shape.n_classes; c++)
                    by_class += row[bfi_row_now(&shape, BFI_NOW_CLASSES + c) + k];
                for (int i = 0; i < shape.n_ledger; i++) {
                    double eaten = row[bfi_row_now(&shape, BFI_NOW_CLASSES + shape.n_classes + i) + k];
                    gone += eaten;
                }
                BF_CHECK_ABS(left + gone, fed, 1e-3);
                BF_CHECK_ABS(by_class, left, 1e-9);
            }
        free(rows);
    }
}

static void a_mark_at_the_end_knows_what_now_knows(void **state) {
    (void)state;
    bf_belief_job job = job_of(2000, 1800, 0);
    assert_true(job.event[job.n_events - 1].t_s <= 1800);
    double *rows = rows_of(&job);
    bfi_belief_shape shape = bfi_belief_shape_of(&job);
    assert_int_equal(shape.n_marks, 6);
    for (int s = 0; s < SETS; s++) {
        const double *row = rows + s * shape.n_columns;
        BF_CHECK_REL(row[BFI_ROW_MARKS + 5 * shape.mark_columns], row[BFI_ROW_EVIDENCE], 1e-6);
    }
    free(rows);
}

/* The mean of evidence over seeds is the same for few and for many particles: the difference of the two means within 4 of its
 * standard errors (a sound filter fails in 1 of 16 000), and few particles scatter visibly, or the test would show nothing. */
static void evidence_is_unbiased_for_any_number_of_particles(void **state) {
    (void)state;
    enum { SEEDS = 600 };
    bf_belief_job job = job_of(400, 400, 0);
    job.n_sets = 1;
    for (int i = 0; i < BF_SWIM_N_PARAMETERS; i++) job.prior.sd[i] = 1e-9; /* the same set for every seed */
    double mean[2], variance[2], middle = 0;
    for (int many = 0; many < 2; many++) {
        double sum = 0, squares = 0;
        job.n_particles = many ? 64 : 8;
        int seeds = many ? SEEDS / 4 : SEEDS;
        double *row = room_for(rows_bytes(&job));
        void *scratch = room_for(bf_belief_scratch_bytes(&job));
        for (int seed = 1; seed <= seeds; seed++) {
            job.seed = (uint64_t)seed + (many ? 5000 : 0);
            bf_belief_rows(&job, 0, 1, scratch, row);
            middle = middle == 0 ? row[0] : middle;
            double evidence = exp(row[0] - middle);
            sum += evidence;
            squares += evidence * evidence;
        }
        mean[many] = sum / seeds;
        variance[many] = (squares / seeds - mean[many] * mean[many]) / seeds;
        free(row);
        free(scratch);
    }
    assert_true(sqrt(variance[0] * SEEDS) > 0.2 * mean[0]);
    assert_true(sqrt(variance[0] + variance[1]) < 0.25 * mean[1]);
    BF_CHECK_ABS(mean[0], mean[1], 4 * sqrt(variance[0] + variance[1]));
}

/* ---- Merging ---- */

typedef struct weighed {
    double value, weight;
} weighed;

static int by_value(const void *a, const void *b) {
    double x = ((const weighed *)a)->value, y = ((const weighed *)b)->value;
    return (x > y) - (x < y);
}

/* By definition: walk up the sorted values; each stands at the middle of its share. */
static double quantile_of(weighed *all, int n, double p) {
    long double total = 0, before = 0;
    qsort(all, (size_t)n, sizeof *all, by_value);
    for (int i = 0; i < n; i++) total += all[i].weight;
    for (int i = 0; i < n; i++) {
        long double here = (before + 0.5L * all[i].weight) / total;
        if (here >= p) {
            if (i == 0) return all[0].value;
            long double low = (before - 0.5L * all[i - 1].weight) / total;
            return (double)(all[i - 1].value + (all[i].value - all[i - 1].value) * (p - low) / (here - low));
        }
        before += all[i].weight;
    }
    return all[n - 1].value;
}

static void check_range(bf_range got, weighed *all, int n) {
    BF_CHECK_REL(got.lo, quantile_of(all, n, 0.1), 1e-9);
    BF_CHECK_REL(got.mid, quantile_of(all, n, 0.5), 1e-9);
    BF_CHECK_REL(got.hi, quantile_of(all, n, 0.9), 1e-9);
    assert_true(got.nominal != got.nominal);
}

/* Rows filled with numbers of the test's own, log evidence scattered by spread; set 3 stopped. */
static double *made_rows(const bf_belief_job *job, const bfi_belief_shape *shape, double spread) {
    double *rows = room_for(rows_bytes(job));
    for (int s = 0; s < job->n_sets; s++) {
        double *row = rows + s * shape->n_columns;
        for (int c = 0; c < shape->n_columns; c++)
            row[c] = s == 3 ? NAN : 50 * bf_uniform(3, (uint64_t)s, (uint64_t)c);
        row[BFI_ROW_EVIDENCE] = s == 3 ? -INFINITY : -200 + spread * bf_normal(4, 1, (uint64_t)s);
        for (int m = 0; m < shape->n_marks && s != 3; m++)
            row[BFI_ROW_MARKS + m * shape->mark_columns] =
                -30.0 * m + spread * bf_normal(4, 2 + (uint64_t)m, (uint64_t)s);
        row[BFI_ROW_FAMILIES] = 5.0 + s;
        double few = 0.2 + 0.02 * s, some = 0.5 - 0.01 * s;
        row[BFI_ROW_MANY] = few, row[BFI_ROW_MANY + 1] = some, row[BFI_ROW_MANY + 2] = 1 - few - some;
    }
    return rows;
}

static void gathered_at(const bf_belief_job *job, const bfi_belief_shape *shape, const double *rows, int c,
                        int reads, int evidence, weighed *all, int *n) {
    *n = 0;
    for (int s = 0; s < job->n_sets; s++)
        for (int k = 0; k < reads && s != 3; k++) {
            const double *row = rows + s * shape->n_columns;
            all[(*n)++] = (weighed){row[c + k], exp(row[evidence] + 200) / reads};
        }
}

static void ranges_and_dots_are_weighted_quantiles_of_the_rows(void **state) {
    (void)state;
    static weighed all[8192];
    bf_belief_job job = job_of(1300, 1300, 0);
    add_ledger(&job, 2);
    bfi_belief_shape shape = bfi_belief_shape_of(&job);
    double *rows = made_rows(&job, &shape, 0.5);
    bf_bed bed = bed_of(&job, rows);
    const bf_range *got[] = {&bed.left, &bed.left_kg, &bed.fish, &bed.near, &bed.bites_h, &bed.wide_m};
    int n;
    for (int now = 0; now < BFI_NOW_CLASSES; now++) {
        gathered_at(&job, &shape, rows, bfi_row_now(&shape, now), shape.n_reads, BFI_ROW_EVIDENCE, all, &n);
        check_range(*got[now], all, n);
    }
    gathered_at(&job, &shape, rows, bfi_row_now(&shape, 0), shape.n_reads, BFI_ROW_EVIDENCE, all, &n);
    for (int k = 0; k < 20; k++) BF_CHECK_REL(bed.left_dot[k], quantile_of(all, n, (k + 0.5) / 20), 1e-9);
    for (int k = 0; k < shape.n_classes + shape.n_ledger; k++) {
        int c = bfi_row_now(&shape, BFI_NOW_CLASSES + k);
        gathered_at(&job, &shape, rows, c, shape.n_reads, BFI_ROW_EVIDENCE, all, &n);
        check_range(k < shape.n_classes ? bed.left_of[k] : bed.ledger[k - shape.n_classes].eaten, all, n);
    }
    assert_true(bed.n_points == shape.n_marks && bed.n_points == 4 && bed.n_ledger == 2);
    for (int m = 0; m < bed.n_points; m++) {
        int c = BFI_ROW_MARKS + m * shape.mark_columns;
        gathered_at(&job, &shape, rows, c + 1, shape.n_mark_reads, c, all, &n);
        check_range(bed.point[m].left, all, n);
        gathered_at(&job, &shape, rows, c + 1 + shape.n_mark_reads, shape.n_mark_reads, c, all, &n);
        check_range(bed.point[m].fish, all, n);
        BF_CHECK_ABS(bed.point[m].t_s, 300.0 * (m + 1), 0);
    }
    free(rows);
}

/* Checks all that is an average over sets, each weighed by evidence^power. */
static void check_averages(double spread, double power, double tolerance) {
    bf_belief_job job = job_of(1300, 1300, 0);
    bfi_belief_shape shape = bfi_belief_shape_of(&job);
    double *rows = made_rows(&job, &shape, spread);
    bf_bed bed = bed_of(&job, rows);
    long double plain = 0, sum = 0, few = 0, many[3] = {0}, mean[BF_SWIM_N_PARAMETERS] = {0},
                second[BF_SWIM_N_PARAMETERS] = {0};
    for (int s = 0; s < SETS; s++) {
        const double *row = rows + s * shape.n_columns;
        if (s == 3) continue;
        long double w = expl(power * (row[0] + 200.0L));
        plain += expl(row[0] + 200.0L), sum += w, few += w * w / row[BFI_ROW_FAMILIES];
        for (int k = 0; k < 3; k++) many[k] += w * row[BFI_ROW_MANY + k];
        for (int i = 0; i < BF_SWIM_N_PARAMETERS; i++) {
            mean[i] += w * row[BFI_ROW_MEAN + i];
            second[i] += w * row[bfi_row_product(i, i)];
        }
    }
    BF_CHECK_ABS(bed.log_evidence, (double)(logl(plain / SETS) - 200), 1e-10);
    BF_CHECK_REL(bed.n_effective_sets, (double)(sum * sum / few), tolerance);
    for (int k = 0; k < 3; k++) BF_CHECK_REL(bed.p_many[k], (double)(many[k] / sum), tolerance);
    for (int i = 0; i < BF_SWIM_N_PARAMETERS; i++) {
        long double m = mean[i] / sum, v = second[i] / sum - m * m;
        long double ni = mean[0] / sum, both = 0;
        for (int s = 0; s < SETS; s++)
            if (s != 3)
                both += expl(power * (rows[s * shape.n_columns] + 200.0L)) / sum *
                        rows[s * shape.n_columns + bfi_row_product(i, 0)];
        BF_CHECK_ABS(bed.covariance[0][i], (double)(job.prior.sd[0] * job.prior.sd[i] * (both - ni * m)),
                     100 * tolerance);
        BF_CHECK_ABS(bed.posterior.mean[i], (double)(job.prior.mean[i] + job.prior.sd[i] * m),
                     100 * tolerance);
        BF_CHECK_ABS(bed.posterior.sd[i], v > 0 ? (double)(job.prior.sd[i] * sqrtl(v)) : 0, 100 * tolerance);
    }
    free(rows);
}

static void sets_are_weighed_by_evidence(void **state) {
    (void)state;
    check_averages(0.5, 1, 1e-10);
}

/* Effective number of the made sets when weighed by evidence^power. */
static double effective_at(const double *rows, int n_columns, double power) {
    long double sum = 0, squares = 0;
    for (int s = 0; s < SETS; s++) {
        if (s == 3) continue;
        long double w = expl(power * (rows[s * n_columns] + 200.0L));
        sum += w, squares += w * w;
    }
    return (double)(sum * sum / squares);
}

static void evidence_is_flattened_until_half_of_the_sets_count(void **state) {
    (void)state;
    bf_belief_job job = job_of(1300, 1300, 0);
    bfi_belief_shape shape = bfi_belief_shape_of(&job);
    double *rows = made_rows(&job, &shape, 12), low = 0, high = 1;
    assert_true(effective_at(rows, shape.n_columns, 1) < 3);
    for (int half = 0; half < 60; half++) {
        double power = 0.5 * (low + high);
        if (effective_at(rows, shape.n_columns, power) >= 0.5 * (SETS - 1))
            low = power;
        else
            high = power;
    }
    free(rows);
    check_averages(12, low, 1e-4);
}

static void without_any_evidence_nothing_is_shown_and_the_prior_stays(void **state) {
    (void)state;
    bf_belief_job job = job_of(1300, 1300, 0);
    bfi_belief_shape shape = bfi_belief_shape_of(&job);
    double *rows = made_rows(&job, &shape, 0.5);
    for (int s = 0; s < SETS; s++) {
        for (int c = 0; c < shape.n_columns; c++) rows[s * shape.n_columns + c] = NAN;
        rows[s * shape.n_columns] = -INFINITY;
    }
    bf_bed bed = bed_of(&job, rows);
    assert_true(bed.log_evidence == -INFINITY && bed.n_effective_sets == 0);
    assert_true(isnan(bed.left.mid) && isnan(bed.fish_dot[7]) && isnan(bed.p_many[1]) &&
                isnan(bed.point[0].left.lo));
    assert_memory_equal(&bed.posterior, &job.prior, sizeof job.prior);
    free(rows);
}

static int without_marks(const bf_belief_job *job, bf_swim_event *event) {
    int n = 0;
    for (int i = 0; i < job->n_events; i++)
        if (job->event[i].kind != BF_SWIM_MARK) event[n++] = job->event[i];
    return n;
}

/* Evidence of minus infinity and otherwise no number. */
static void check_stopped(const bf_belief_job *job, const double *rows) {
    int columns = bf_belief_columns(job);
    for (int s = 0; s < job->n_sets; s++)
        for (int c = 0; c < columns; c++) {
            double value = rows[s * columns + c];
            assert_true(c == BFI_ROW_EVIDENCE ? value == -INFINITY : value != value);
        }
}

/* Touches that come infinitely often give a second without one no weight: the set stops where that is seen, at a mark as at an event. It says so
 * in its row; nothing is shown, and a snapshot of it goes on to the same. */
static void a_set_without_any_weight_left_stops(void **state) {
    (void)state;
    static bf_swim_event event[MADE_MOST];
    bf_belief_job job = job_of(2000, 2000, 0);
    job.prior.mean[BF_SWIM_KNOCK] = 800, job.prior.sd[BF_SWIM_KNOCK] = 0;
    add_ledger(&job, 3);
    double *rows = rows_of(&job);
    check_stopped(&job, rows);
    bf_bed bed = bed_of(&job, rows);
    assert_true(bed.log_evidence == -INFINITY && bed.n_effective_sets == 0 && bed.left.mid != bed.left.mid);
    free(rows);

    job.n_events = without_marks(&job, event), job.event = event;
    void *scratch = room_for(bf_belief_scratch_bytes(&job)),
         *saved = room_for(SETS * bf_belief_snapshot_bytes(&job));
    rows = room_for(rows_bytes(&job));
    bf_belief_rows_from(&job, 0, SETS, NULL, saved, 1200, scratch, rows);
    check_stopped(&job, rows);
    bf_belief_rows_from(&job, 0, SETS, saved, NULL, 0, scratch, rows);
    check_stopped(&job, rows);
    free(rows), free(scratch), free(saved);
}

static void a_quantity_that_no_particle_has_is_nan(void **state) {
    (void)state;
    bf_belief_job job = job_of(1300, 1300, 0);
    bfi_belief_shape shape = bfi_belief_shape_of(&job);
    double *rows = made_rows(&job, &shape, 0.5);
    for (int s = 0; s < SETS; s++)
        for (int k = 0; k < shape.n_reads; k++)
            rows[s * shape.n_columns + bfi_row_now(&shape, BFI_NOW_WIDE_M) + k] = NAN;
    bf_bed bed = bed_of(&job, rows);
    assert_true(isnan(bed.wide_m.mid) && !isnan(bed.left.mid));
    free(rows);
}

/* The noise of eating can give fractions of a piece back. */
static void nobody_is_told_that_less_than_nothing_was_eaten(void **state) {
    (void)state;
    bf_belief_job job = job_of(1300, 1300, 0);
    add_ledger(&job, 1);
    bfi_belief_shape shape = bfi_belief_shape_of(&job);
    double *rows = made_rows(&job, &shape, 0.5);
    for (int s = 0; s < SETS; s++)
        for (int k = 0; k < shape.n_reads; k++)
            rows[s * shape.n_columns + bfi_row_now(&shape, BFI_NOW_CLASSES + shape.n_classes) + k] =
                k % 2 ? 0.25 : -0.25;
    bf_bed bed = bed_of(&job, rows);
    assert_true(bed.ledger[0].eaten.lo == 0 && bed.ledger[0].eaten.hi == 0.25);
    free(rows);
}

/* ---- Particles drawn whole ---- */

/* The particle that the k-th drawn one is a copy of, -1. */
static int copied_by(const bfi_filter *f, const double *drawn, int k) {
    int n = f->job->n_particles, m = f->shape.n_drawn;
    for (int p = 0; p < n; p++) {
        int is_same = 1;
        for (int c = 0; c < f->shape.model_columns; c++) is_same &= drawn[c * m + k] == f->x[c * n + p];
        if (is_same) return p;
    }
    return -1;
}

/* Oracle: the snapshot of the same instant, which keeps every particle and its weight. */
static void a_row_holds_particles_drawn_by_weight_and_all_else_in_it_is_the_same_bits(void **state) {
    (void)state;
    enum { DRAWN = 7 };
    bf_belief_job job = job_of(1200, 1200, 0);
    double *plain = rows_of(&job);
    int columns = bf_belief_columns(&job);
    job.n_drawn = DRAWN;
    bfi_belief_shape shape = bfi_belief_shape_of(&job);
    double *rows = room_for(rows_bytes(&job)), row[4096];
    void *scratch = room_for(bf_belief_scratch_bytes(&job));
    size_t bytes = bf_belief_snapshot_bytes(&job);
    char *saved = room_for(SETS * bytes);
    bf_belief_rows_from(&job, 0, SETS, NULL, saved, 1200, scratch, rows);
    assert_true(shape.n_columns <= 4096);
    bfi_filter f = bfi_filter_in(&job, scratch);
    f.row = row;
    for (f.set = 0; f.set < SETS; f.set++) {
        const double *of_set = rows + f.set * shape.n_columns, *drawn = of_set + bfi_row_drawn(&shape);
        double weight[PARTICLES] = {0}, all = 0, times[PARTICLES] = {0};
        assert_memory_equal(of_set, plain + f.set * columns, (size_t)columns * sizeof(double));
        if (!(of_set[BFI_ROW_EVIDENCE] > -INFINITY)) continue;
        bfi_filter_begin(&f, saved + (size_t)f.set * bytes);
        assert_true(drawn[0] == 1200); /* the moment's t_s */
        for (int p = 0; p < PARTICLES; p++) all += weight[p] = exp(f.log_w[p]);
        for (int k = 0; k < DRAWN; k++) {
            int p = copied_by(&f, drawn + BFI_SWIM_MOMENT, k);
            assert_true(p >= 0);
            times[p]++;
        }
        for (int p = 0; p < PARTICLES; p++) assert_true(fabs(times[p] - DRAWN * weight[p] / all) < 1 + 1e-9);
    }
    free(saved), free(scratch), free(rows), free(plain);
}

/* ---- Room ---- */

/* The start's sets and particles, one spot, five hours marked every five minutes, ten ledger intervals, 30 snapshots kept. */
static void five_hours_with_thirty_snapshots_take_under_64_mb(void **state) {
    (void)state;
    bf_belief_job job = job_of(18000, 18000, 0);
    job.n_sets = BF_BELIEF_SETS, job.n_particles = BF_BELIEF_PARTICLES;
    story.scene.n_spots = 1;
    job.n_ledger = BF_BELIEF_MOST_LEDGER;
    double all = 30.0 * BF_BELIEF_SETS * (double)bf_belief_snapshot_bytes(&job) + (double)rows_bytes(&job) +
                 2.0 * (double)bf_belief_scratch_bytes(&job) + (double)bf_belief_merge_bytes(&job) +
                 (double)job.n_events * sizeof(bf_swim_event);
    print_message("%.1f MB: a set's snapshot %zu, row %d doubles, scratch %zu\n", all / 1e6,
                  bf_belief_snapshot_bytes(&job), bf_belief_columns(&job), bf_belief_scratch_bytes(&job));
    BF_CHECK_IN(all, 1e6, 64e6);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rows_are_the_same_bits_in_1_2_and_8_cuts),
        cmocka_unit_test(going_on_from_a_snapshot_gives_the_same_bits),
        cmocka_unit_test(a_snapshot_is_the_same_bytes_straight_or_by_way_of_another),
        cmocka_unit_test(marks_and_ledger_change_nothing_else),
        cmocka_unit_test(a_snapshot_of_anything_else_does_not_fit),
        cmocka_unit_test(snapshots_stand_every_ten_minutes),
        cmocka_unit_test(what_went_in_is_left_or_gone),
        cmocka_unit_test(a_mark_at_the_end_knows_what_now_knows),
        cmocka_unit_test(evidence_is_unbiased_for_any_number_of_particles),
        cmocka_unit_test(ranges_and_dots_are_weighted_quantiles_of_the_rows),
        cmocka_unit_test(sets_are_weighed_by_evidence),
        cmocka_unit_test(evidence_is_flattened_until_half_of_the_sets_count),
        cmocka_unit_test(without_any_evidence_nothing_is_shown_and_the_prior_stays),
        cmocka_unit_test(a_set_without_any_weight_left_stops),
        cmocka_unit_test(a_quantity_that_no_particle_has_is_nan),
        cmocka_unit_test(nobody_is_told_that_less_than_nothing_was_eaten),
        cmocka_unit_test(a_row_holds_particles_drawn_by_weight_and_all_else_in_it_is_the_same_bits),
        cmocka_unit_test(five_hours_with_thirty_snapshots_take_under_64_mb),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
