/* random_stand.h -- a random spot with its water, hook bait, lines and hold, for the tests of this room. */
#ifndef BAITFALL_TESTS_RANDOM_STAND_H
#define BAITFALL_TESTS_RANDOM_STAND_H

#include "baitfall/bait.h"
#include "baitfall/pattern.h"
#include "baitfall/random.h"
#include "baitfall/stand.h"

typedef struct dice {
    uint64_t stream, index;
} dice;

static inline double between(dice *roll, double least, double most) {
    return least + (most - least) * bf_uniform(20261125, roll->stream, roll->index++);
}

static inline int one_of(dice *roll, int n) {
    return (int)between(roll, 0, n);
}

/* Settled; the rig is one of the start rigs, shotted by stand.c. */
static inline bf_stand random_stand(int index) {
    dice roll = {(uint64_t)index + 1, 0};
    bf_stand stand;
    bf_stand_start(&stand);
    bf_lake *lake = &stand.scene.lake;
    bf_spot *spot = &stand.scene.spot;
    lake->temp_c.value = between(&roll, 4, 22);
    lake->wind_m_s = (bf_quantity){between(&roll, 0, 5), between(&roll, 0, 1.5), one_of(&roll, 8) == 0};
    lake->wind_side_deg = (bf_quantity){between(&roll, -180, 180), 20, 0};
    lake->drift = one_of(&roll, 3);
    lake->surface_drift_m_s.value = between(&roll, 0, 0.08);
    lake->undertow_m_s.value = between(&roll, 0, 0.015);
    lake->drift_side_deg = (bf_quantity){between(&roll, -180, 180), 20, 0};
    spot->distance_m.value = between(&roll, 2, 14);
    spot->depth_m = (bf_quantity){between(&roll, 0.5, 3.5), 0.05, 0};
    spot->slope_deg.value = between(&roll, -8, 8);
    stand.hook_bait = bf_catalogue[one_of(&roll, bf_n_catalogue)].bait;
    stand.rig = bf_rigs[one_of(&roll, bf_n_rigs)].rig;
    stand.hold.tip_height_m.value = between(&roll, 0.05, 0.5);
    stand.rig.tip_to_float_m = stand.hold.tip_height_m.value + between(&roll, 0.01, 0.3);
    stand.hold.overdepth_m.value = between(&roll, -0.05, 0.15);
    stand.hold.friction_frac.value = between(&roll, 0.1, 0.8);
    bf_stand_settle(&stand);
    return stand;
}

#endif
