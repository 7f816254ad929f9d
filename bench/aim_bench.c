/* aim_bench.c -- bait against bed, as a request does it: the fit of the hang once, 10 000 draws, what to mend.
 *
 *     aim_bench [draws] [runs]      CSV on stdout: what, milliseconds (middle of the runs; start: 10000 draws, 7 runs)
 *
 * The middle start rig over 1.62 m at 11.5 m in a breeze from the side, a pot of hard 4 mm; everything else as little known
 * as at the start. "crossed": the draws where a measured drift goes across that breeze. One thread. */
#define _POSIX_C_SOURCE 200809L

#include "baitfall/aim.h"
#include "baitfall/pattern.h"
#include "bench/timing.h"

#define MOST_RUNS 99

enum { PREPARE, DRAWS, MENDS, CROSSED, N_WHATS };
static const char *const whats[N_WHATS] = {"prepare", "draws", "mends", "crossed"};

static bf_stand breezy_stand(void) {
    bf_stand stand;
    bf_stand_start(&stand);
    stand.rig = bf_rigs[bf_n_rigs / 2].rig;
    stand.scene.bait = stand.hook_bait = bf_catalogue[bf_catalogue_find("hard-4", 6)].bait;
    stand.scene.spot.depth_m = (bf_quantity){1.62, 0.02, 0};
    stand.scene.lake.wind_m_s = (bf_quantity){4, 0.5, 0};
    stand.scene.lake.wind_side_deg = (bf_quantity){90, 15, 0};
    bf_stand_settle(&stand);
    return stand;
}

static bf_stand crossed_stand(void) {
    bf_stand stand = breezy_stand();
    bf_lake *lake = &stand.scene.lake;
    lake->drift = BF_DRIFT_MEASURED;
    lake->surface_drift_m_s = (bf_quantity){0.06, 0.01, 0};
    lake->undertow_m_s = (bf_quantity){0.006, 0.002, 0};
    lake->drift_side_deg = (bf_quantity){0, 15, 0};
    return stand;
}

static void prepare(const bf_stand *stand, bf_aiming *aiming) {
    if (bf_aim_prepare(stand, aiming)) give_up("aim_bench", "the rig has no balance");
}

/* Milliseconds. */
static double draw(const bf_aiming *aiming, int n_draws, double *rows, void *work) {
    bf_ensemble ensemble = bf_aim_ensemble(aiming, 1, n_draws);
    double start = now_ms();
    if (bf_ensemble_range(&ensemble, 0, n_draws, work, rows)) give_up("aim_bench", "a draw failed");
    return now_ms() - start;
}

static void run(int n_draws, double *rows, void *work, double ms[N_WHATS]) {
    static bf_aiming aiming;
    bf_stand stand = breezy_stand(), crossed = crossed_stand();
    bf_mend mends[BF_N_MENDS];
    double start = now_ms();
    prepare(&stand, &aiming);
    ms[PREPARE] = now_ms() - start;
    ms[DRAWS] = draw(&aiming, n_draws, rows, work);
    start = now_ms();
    (void)bf_aim_mends(&aiming, 1, rows, n_draws, work, mends);
    ms[MENDS] = now_ms() - start;
    prepare(&crossed, &aiming);
    ms[CROSSED] = draw(&aiming, n_draws, rows, work);
}

int main(int argc, char **argv) {
    int n_draws = argc > 1 ? atoi(argv[1]) : 10000, n_runs = argc > 2 ? atoi(argv[2]) : 7;
    if (n_draws < 128 || n_draws > BF_DRAWS_MOST || n_runs < 1 || n_runs > MOST_RUNS) {
        fprintf(stderr, "usage: aim_bench [draws 128..%d [runs 1..%d]]\n", BF_DRAWS_MOST, MOST_RUNS);
        return 2;
    }
    bf_ensemble ensemble = bf_aim_ensemble(NULL, 1, n_draws);
    size_t rows_bytes = (size_t)n_draws * (size_t)(ensemble.n_out + ensemble.n_raw) * sizeof(double);
    size_t work_bytes = bf_ensemble_work_bytes(&ensemble), mend_bytes = bf_aim_mend_bytes(n_draws);
    double *rows = room("aim_bench", rows_bytes), ms[N_WHATS][MOST_RUNS], one[N_WHATS];
    void *work = room("aim_bench", work_bytes > mend_bytes ? work_bytes : mend_bytes);
    for (int r = 0; r < n_runs; r++) {
        run(n_draws, rows, work, one);
        for (int w = 0; w < N_WHATS; w++) ms[w][r] = one[w];
    }
    printf("what,ms\n");
    for (int w = 0; w < N_WHATS; w++) printf("%s,%.2f\n", whats[w], middle_of(ms[w], n_runs));
    return 0;
}
