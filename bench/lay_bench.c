/* lay_bench.c -- how the rig goes down, as a request does it: once, and for all draws.
 *
 *     lay_bench [draws] [runs]      CSV on stdout: what, milliseconds (middle of the runs; start: 128 draws, 5 runs)
 *
 * The middle start rig over 1.62 m in a breeze from the side, let down upright and laid out flat, a pot of hard 4 mm;
 * everything else as little known as at the start. One thread. */
#define _POSIX_C_SOURCE 200809L

#include "baitfall/lay.h"
#include "baitfall/pattern.h"
#include "bench/timing.h"

#define MOST_RUNS 99
#define N_OUT ((int)(sizeof(bf_lay_out) / sizeof(double)))

static bf_stand breezy_stand(int lowering) {
    bf_stand stand;
    bf_stand_start(&stand);
    stand.rig = bf_rigs[bf_n_rigs / 2].rig;
    stand.scene.bait = stand.hook_bait = bf_catalogue[bf_catalogue_find("hard-4", 6)].bait;
    stand.scene.spot.depth_m = (bf_quantity){1.62, 0.02, 0};
    stand.scene.lake.wind_m_s = (bf_quantity){4, 0.5, 0};
    stand.scene.lake.wind_side_deg = (bf_quantity){90, 15, 0};
    stand.hold.lowering = lowering;
    bf_stand_settle(&stand);
    return stand;
}

/* Middle of the runs: the inputs as given (n_draws 0), or so many draws. */
static double lay_ms(const bf_stand *stand, int n_draws, int n_runs) {
    double ms[MOST_RUNS];
    bf_ensemble ensemble = {&bf_lay_schema, stand, bf_lay_model, N_OUT, 0, 1, n_draws > 16 ? n_draws : 16};
    void *work = room("lay_bench", bf_ensemble_work_bytes(&ensemble));
    double *rows = room("lay_bench", sizeof(double) * (size_t)ensemble.n_draws * N_OUT);
    for (int i = 0; i < n_runs; i++) {
        double start = now_ms();
        bf_status status = n_draws > 0 ? bf_ensemble_range(&ensemble, 0, n_draws, work, rows)
                                       : bf_ensemble_nominal(&ensemble, rows);
        if (status) give_up("lay_bench", "a draw failed");
        ms[i] = now_ms() - start;
    }
    free(work);
    free(rows);
    return middle_of(ms, n_runs);
}

int main(int argc, char **argv) {
    int n_draws = argc > 1 ? atoi(argv[1]) : 128, n_runs = argc > 2 ? atoi(argv[2]) : 5;
    if (n_draws < 1 || n_draws > BF_DRAWS_MOST || n_runs < 1 || n_runs > MOST_RUNS)
        give_up("lay_bench", "draws 1 .. 65536, runs 1 .. 99");
    puts("what,ms");
    for (int lowering = 0; lowering < 2; lowering++) {
        const bf_stand stand = breezy_stand(lowering);
        const char *how = lowering ? "laid out flat" : "let down upright";
        printf("%s,%.3f\n", how, lay_ms(&stand, 0, n_runs));
        printf("%s x %d,%.3f\n", how, n_draws, lay_ms(&stand, n_draws, n_runs));
    }
    return 0;
}
