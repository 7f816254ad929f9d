#include "baitfall/ensemble.h"

#include <math.h>
#include <string.h>

#include "baitfall/random.h"
#include "core/base/room.h"

/* The quantities that vary ------------------------------------------------------------------------------- */

int bf_ensemble_inputs(const bf_ensemble *ensemble, bf_input inputs[BF_MOST_INPUTS]) {
    int n = 0;
    for (int s = 0; s < ensemble->schema->n_sections; s++) {
        const bf_section *section = &ensemble->schema->section[s];
        int count = bf_section_count(section, ensemble->record);
        for (int row = 0; row < count; row++) {
            const char *at = bf_section_row_const(section, ensemble->record, row);
            for (int f = 0; f < section->table->n_fields; f++) {
                const bf_field *field = &section->table->field[f];
                if (field->kind != BF_QUANTITY) continue;
                const bf_quantity *quantity = (const void *)(at + field->offset);
                if (quantity->pm <= 0 && !quantity->is_unknown) continue;
                BF_ASSERT(n < BF_MOST_INPUTS);
                inputs[n++] = (bf_input){s, row, f};
            }
        }
    }
    return n;
}

static const bf_field *input_field(const bf_ensemble *ensemble, bf_input input) {
    return &ensemble->schema->section[input.section].table->field[input.field];
}

static bf_quantity *input_quantity(const bf_ensemble *ensemble, bf_input input, void *record) {
    char *row = bf_section_row(&ensemble->schema->section[input.section], record, input.row);
    return (void *)(row + input_field(ensemble, input)->offset);
}

/* FNV-1a, 64 bits, over the bytes of a text. */
static uint64_t hash_text(uint64_t hash, const char *text) {
    for (; *text; text++) hash = (hash ^ (unsigned char)*text) * 0x100000001b3u;
    return hash;
}

/* A quantity's own stream: a hash of its section's and its own name and its row, so that neither another input's "give
 * or take" nor a new field in a table ever moves it. Models keep to streams below 2^63. */
static uint64_t input_stream(const bf_ensemble *ensemble, bf_input input) {
    const bf_section *section = &ensemble->schema->section[input.section];
    uint64_t hash = hash_text(0xcbf29ce484222325u, section->name);
    hash = hash_text(hash ^ '.', section->table->field[input.field].name);
    return (hash + (uint64_t)input.row) | (uint64_t)1 << 63;
}

/* Rows --------------------------------------------------------------------------------------------------- */

typedef struct workspace {
    int n_inputs;
    bf_input input[BF_MOST_INPUTS];
    uint64_t stream[BF_MOST_INPUTS];
    bf_sampler sampler[BF_MOST_INPUTS];
} workspace;

/* The record's copy, or the columns of bf_ensemble_finish, stand behind the workspace. */
size_t bf_ensemble_work_bytes(const bf_ensemble *ensemble) {
    size_t record = bfi_room(ensemble->schema->bytes);
    size_t column = (size_t)ensemble->n_draws * sizeof(double);
    return bfi_room(sizeof(workspace)) + (record > column ? record : column);
}

static void *behind(void *work) {
    return (char *)work + bfi_room(sizeof(workspace));
}

static void ready(const bf_ensemble *ensemble, workspace *work) {
    work->n_inputs = bf_ensemble_inputs(ensemble, work->input);
    for (int i = 0; i < work->n_inputs; i++) {
        const bf_field *field = input_field(ensemble, work->input[i]);
        work->stream[i] = input_stream(ensemble, work->input[i]);
        const char *row = bf_section_row_const(&ensemble->schema->section[work->input[i].section],
                                               ensemble->record, work->input[i].row);
        work->sampler[i] = bf_sampler_of(*(const bf_quantity *)(const void *)(row + field->offset),
                                         field->least, field->most, field->usual_least, field->usual_most);
    }
}

static void fill_nan(double *out, int n) {
    for (int i = 0; i < n; i++) out[i] = BF_NAN;
}

bf_status bf_ensemble_range(const bf_ensemble *ensemble, int i, int j, void *work, double *out) {
    workspace *space = work;
    void *record = behind(work);
    int n_columns = ensemble->n_out + ensemble->n_raw;
    bf_status first = BF_OK;
    ready(ensemble, space);
    memcpy(record, ensemble->record, ensemble->schema->bytes);
    for (int k = i; k < j; k++, out += n_columns) {
        bf_draw draw = {ensemble->seed, (uint64_t)k, 0};
        for (int q = 0; q < space->n_inputs; q++)
            input_quantity(ensemble, space->input[q], record)->value =
                bf_sampler_at(&space->sampler[q], bf_uniform(draw.seed, space->stream[q], draw.index));
        bf_status status = ensemble->model(record, &draw, out);
        if (status) {
            fill_nan(out, n_columns);
            if (!first) first = status;
        }
    }
    return first;
}

bf_status bf_ensemble_nominal(const bf_ensemble *ensemble, double *out) {
    bf_draw draw = {ensemble->seed, 0, 1};
    bf_status status = ensemble->model(ensemble->record, &draw, out);
    if (status) fill_nan(out, ensemble->n_out + ensemble->n_raw);
    return status;
}

/* Summary ------------------------------------------------------------------------------------------------ */

#define N_BINS 16

/* What one output does over all draws in which it is a number, strays held at the fences. */
typedef struct moments {
    double low, high;        /* fences: its 80 % range, widened by its own width at both ends */
    double n, mean, squares; /* squares: sum of squares about the mean                         */
} moments;

/* NaN stays NaN. */
static double held(double y, const moments *all) {
    if (y < all->low) return all->low;
    return y > all->high ? all->high : y;
}

/* Sums of every output over the draws whose uniform for one input falls in one of N_BINS equal parts. */
typedef struct bins {
    double n[BF_MOST_OUTPUTS][N_BINS], sum[BF_MOST_OUTPUTS][N_BINS];
} bins;

static const double *row_of(const bf_ensemble *ensemble, const double *rows, int k) {
    return rows + (size_t)k * (size_t)(ensemble->n_out + ensemble->n_raw);
}

static moments moments_of(const bf_ensemble *ensemble, const double *rows, int o, const bf_range *range) {
    double width = range->hi - range->lo;
    moments m = {range->lo - width, range->hi + width, 0, 0, 0};
    for (int k = 0; k < ensemble->n_draws; k++) {
        double y = held(row_of(ensemble, rows, k)[o], &m);
        if (y != y) continue;
        m.n += 1;
        m.mean += y;
    }
    m.mean = m.n > 0 ? m.mean / m.n : 0;
    for (int k = 0; k < ensemble->n_draws; k++) {
        double off = held(row_of(ensemble, rows, k)[o], &m) - m.mean;
        if (off == off) m.squares += off * off;
    }
    return m;
}

static void fill_bins(const bf_ensemble *ensemble, const double *rows, bf_input input, const moments *all,
                      bins *bin) {
    uint64_t stream = input_stream(ensemble, input);
    memset(bin, 0, sizeof *bin);
    for (int k = 0; k < ensemble->n_draws; k++) {
        const double *y = row_of(ensemble, rows, k);
        int b = (int)(bf_uniform(ensemble->seed, stream, (uint64_t)k) * N_BINS);
        for (int o = 0; o < ensemble->n_out; o++) {
            if (y[o] != y[o]) continue;
            bin->n[o][b] += 1;
            bin->sum[o][b] += held(y[o], &all[o]);
        }
    }
}

/* First-order share: the sum of squares between bins, less what chance alone puts there, over the total. Without an
 * effect that is sqrt(2 (N_BINS - 1)) / n or so off 0; what does not stand clear of twice that is no share. */
static double share_of(const double n[N_BINS], const double sum[N_BINS], const moments *all) {
    double between = 0, used = 0;
    for (int b = 0; b < N_BINS; b++) {
        if (n[b] == 0) continue;
        double off = sum[b] / n[b] - all->mean;
        between += n[b] * off * off;
        used += 1;
    }
    double within = (all->squares - between) / (all->n - used);
    double share = (between - (used - 1) * within) / all->squares;
    double chance = sqrt(2 * (used - 1)) / all->n;
    return share > 2 * chance ? share : 0;
}

/* Chance can push the sum of the shares a little over 1; then they are scaled back to it. */
static void close_shares(bf_ensemble_result *result, int o) {
    double known = 0;
    for (int q = 0; q < result->n_inputs; q++) known += result->share[o][q];
    for (int q = 0; q < result->n_inputs && known > 1; q++) result->share[o][q] /= known;
    result->together[o] = known < 1 ? 1 - known : 0;
}

void bf_ensemble_finish(const bf_ensemble *ensemble, const double *rows, const double *nominal, void *work,
                        bf_ensemble_result *result) {
    double *column = behind(work);
    moments all[BF_MOST_OUTPUTS];
    int has_shares[BF_MOST_OUTPUTS];
    memset(result, 0, sizeof *result);
    result->n_inputs = bf_ensemble_inputs(ensemble, result->input);

    for (int o = 0; o < ensemble->n_out; o++) {
        size_t n = 0;
        for (int k = 0; k < ensemble->n_draws; k++) {
            double y = row_of(ensemble, rows, k)[o];
            if (y == y) column[n++] = y;
        }
        result->range[o] = bf_range_of(column, n, nominal[o]);
        all[o] = moments_of(ensemble, rows, o, &result->range[o]);
        has_shares[o] = all[o].n >= BF_LEAST_FOR_SHARES && all[o].squares > 0;
    }
    for (int q = 0; q < result->n_inputs; q++) {
        bins bin;
        fill_bins(ensemble, rows, result->input[q], all, &bin);
        for (int o = 0; o < ensemble->n_out; o++)
            if (has_shares[o]) result->share[o][q] = share_of(bin.n[o], bin.sum[o], &all[o]);
    }
    for (int o = 0; o < ensemble->n_out; o++)
        if (has_shares[o]) close_shares(result, o);
}
