/* wasm.c -- the product's fall, its rig and an advice, many times over, for node to time. */
#include <stddef.h>

#include "baitfall/fall.h"
#include "baitfall/pattern.h"
#include "baitfall/random.h"
#include "baitfall/rig.h"
#include "bench/advice_case.h"

#define BATCH 4096

__attribute__((export_name("bench_fall"))) double bench_fall(int n_batches);
__attribute__((export_name("bench_rig"))) double bench_rig(int n, double overdepth_m);

__attribute__((export_name("bench_believe"))) void bench_believe(void);
__attribute__((export_name("bench_advice"))) int bench_advice(int seed);

static bf_piece piece[BATCH];
static bf_entry entry[BATCH];
static bf_landing landing[BATCH];
static bf_status status[BATCH];

/* n_batches of BATCH pellets, 4 mm and 1150 kg/m3 give or take, through 2 m of sheared water; returns the sum of the
 * landing places, so that nothing can be left out. */
double bench_fall(int n_batches) {
    bf_current current = bf_current_still(2.0);
    bf_floor floor = {2.0, 0};
    double sum = 0;
    current.coef_x_m_s[0] = 0.1;
    current.coef_x_m_s[1] = -0.37;
    current.coef_x_m_s[2] = 0.3;
    for (size_t i = 0; i < BATCH; i++) {
        double diameter_m = 4e-3 + 3e-4 * bf_normal(1, 1, i);
        piece[i] =
            bf_piece_of_form(BF_SPHERE, diameter_m, diameter_m, 1150 + 25 * bf_normal(1, 2, i), 1000, 1.1e-3);
        entry[i] = (bf_entry){0, 0, 0, 0, 0, 0};
    }
    for (int b = 0; b < n_batches; b++) {
        bf_fall_land_many(piece, entry, BATCH, &current, &floor, status, landing);
        for (size_t i = 0; i < BATCH; i++) sum += landing[i].x_m;
    }
    return sum;
}

/* The start rig "middle" in 2 m/s of wind, solved n times; returns how far right its bait is. */
double bench_rig(int n, double overdepth_m) {
    bf_stand stand;
    bf_rig_shape shape;
    bf_stand_start(&stand);
    stand.rig = bf_rigs[1].rig;
    stand.scene.spot.depth_m = bf_exactly(1.62);
    stand.scene.lake.wind_m_s = bf_exactly(2);
    stand.scene.lake.wind_side_deg = bf_exactly(90);
    stand.hold.overdepth_m = bf_exactly(overdepth_m);
    bf_stand_settle(&stand);
    for (int i = 0; i < n; i++)
        if (bf_rig_solve(&stand, 1, 0, &shape)) return -1;
    return shape.bait_m[1];
}

/* What advice is about; then one advice by the phone's setting. */
void bench_believe(void) {
    case_believe();
}
int bench_advice(int seed) {
    return case_advise(1, (uint64_t)seed);
}
