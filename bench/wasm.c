/* wasm.c -- the product's fall, many times over, for node to time. */
#include <stddef.h>

#include "baitfall/fall.h"
#include "baitfall/random.h"

#define BATCH 4096

__attribute__((export_name("bench_fall"))) double bench_fall(int n_batches);

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
