/* aim_stand.h -- stands for the tests of aim: one known to the last figure, in still water and calm air, to which each test
 * adds what it is about. */
#ifndef BAITFALL_TESTS_AIM_STAND_H
#define BAITFALL_TESTS_AIM_STAND_H

#include "common/check.h"

#include "baitfall/aim.h"
#include "baitfall/pattern.h"

enum { MISS, OUT, RIGHT, ON, WITHIN_10, WITHIN_15, BAIT_X, BAIT_Y, BED_X, BED_Y };

static inline void make_exact(const bf_schema *schema, void *record) {
    bf_ensemble ensemble = {.schema = schema, .record = record};
    bf_input input[BF_MOST_INPUTS];
    int n = bf_ensemble_inputs(&ensemble, input);
    for (int i = 0; i < n; i++) {
        const bf_section *section = &schema->section[input[i].section];
        char *row = bf_section_row(section, record, input[i].row);
        bf_quantity *quantity = (void *)(row + section->table->field[input[i].field].offset);
        *quantity = bf_exactly(quantity->value);
    }
}

/* The middle start rig over 1.62 m at 11.5 m, 48 hard 4 mm tipped from the pot; everything exact, nothing moves. */
static inline bf_stand exact_stand(void) {
    bf_aiming aiming;
    bf_stand *stand = &aiming.stand;
    bf_stand_start(stand);
    stand->rig = bf_rigs[bf_n_rigs / 2].rig;
    stand->scene.bait = bf_catalogue[bf_catalogue_find("hard-4", 6)].bait;
    stand->scene.bait.state = BF_GLAZED;
    stand->hook_bait = bf_catalogue[bf_catalogue_find("hard-6", 6)].bait;
    stand->scene.lake.drift = BF_DRIFT_STILL;
    stand->scene.lake.wind_m_s = stand->scene.lake.wind_side_deg = bf_exactly(0);
    stand->scene.spot.distance_m = bf_exactly(11.5);
    stand->scene.spot.depth_m = bf_exactly(1.62);
    stand->scene.put.count = 48;
    bf_stand_settle(stand);
    make_exact(&bf_aim_schema, &aiming);
    stand->scene.put.offset_out_m = stand->scene.put.offset_side_m = bf_exactly(0);
    return aiming.stand;
}

static inline void run_draw(const bf_aiming *aiming, uint64_t index, double row[BF_AIM_ROW]) {
    bf_draw draw = {1, index, 0};
    assert_int_equal(bf_aim_model(aiming, &draw, row), BF_OK);
}

/* Rows of an ensemble, work space and all; the caller frees. */
static inline double *rows_of(const bf_aiming *aiming, int n_draws) {
    bf_ensemble ensemble = bf_aim_ensemble(aiming, 1, n_draws);
    double *rows = malloc((size_t)n_draws * BF_AIM_ROW * sizeof(double));
    void *work = malloc(bf_ensemble_work_bytes(&ensemble));
    assert_int_equal(bf_ensemble_range(&ensemble, 0, n_draws, work, rows), BF_OK);
    free(work);
    return rows;
}

static inline double mean_of(const double *rows, int n, int column) {
    double sum = 0;
    for (int k = 0; k < n; k++) sum += rows[k * BF_AIM_ROW + column];
    return sum / n;
}

static inline double sd_of(const double *rows, int n, int column) {
    double mean = mean_of(rows, n, column), sum = 0;
    for (int k = 0; k < n; k++) sum += pow(rows[k * BF_AIM_ROW + column] - mean, 2);
    return sqrt(sum / (n - 1));
}

#endif
