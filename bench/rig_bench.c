/* rig_bench.c -- how long one solve of a rig takes.
 *
 *     rig_bench [solves]      CSV on stdout: median and 95 % point of one solve, us
 *
 * hanging: the start rig "middle", off the bottom, as bench/peers/rig_scipy.py solves it. held: the same lying and held where it was
 * put; dragged: in 5 m/s; random: those of the tests. */
#define _POSIX_C_SOURCE 199309L

#include "baitfall/rig.h"
#include "bench/timing.h"
#include "tackle/random_rig.h"

static bf_stand middle(double overdepth_m, double wind_m_s) {
    bf_stand stand;
    bf_stand_start(&stand);
    stand.rig = bf_rigs[1].rig;
    stand.scene.spot.depth_m = bf_exactly(1.62);
    stand.scene.spot.slope_deg = bf_exactly(0);
    stand.scene.lake.wind_m_s = bf_exactly(wind_m_s);
    stand.scene.lake.wind_side_deg = bf_exactly(90);
    stand.hold.overdepth_m = bf_exactly(overdepth_m);
    bf_stand_settle(&stand);
    return stand;
}

static void measure(const char *name, int n, int is_random, bf_stand stand) {
    double *us = room("rig_bench", (size_t)n * sizeof *us), off = 0;
    for (int i = 0; i < n; i++) {
        bf_rig_shape shape;
        if (is_random) {
            rig_maker maker = rig_maker_start((uint64_t)i);
            stand = random_stand(&maker);
        }
        double start = now_ms();
        bf_status status = bf_rig_solve(&stand, 1, 0, &shape);
        us[i] = 1e3 * (now_ms() - start);
        if (status) exit(1);
        off = shape.bait_m[1];
    }
    double middle_us = middle_of(us, n);
    printf("%s,%d,%.1f,%.1f,%.6f\n", name, n, middle_us, us[n - 1 - n / 20], off);
    free(us);
}

int main(int argc, char **argv) {
    int n = argc > 1 ? atoi(argv[1]) : 2000;
    if (n < 20) {
        fprintf(stderr, "usage: rig_bench [solves >= 20]\n");
        return 2;
    }
    printf("scenario,solves,median_us,p95_us,right_m\n");
    measure("hanging", n, 0, middle(-0.1, 2));
    measure("held", n, 0, middle(0.02, 2));
    measure("dragged", n, 0, middle(0.02, 5));
    measure("random", n, 1, middle(0, 2));
    return 0;
}
