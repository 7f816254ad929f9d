/* random_rig.h -- settled stands at random, within what pole anglers fish: every float, pattern and bait of the catalogue. Test code
 * only. */
#ifndef BAITFALL_TESTS_RANDOM_RIG_H
#define BAITFALL_TESTS_RANDOM_RIG_H

#include <math.h>
#include <stdint.h>

#include "baitfall/pattern.h"
#include "baitfall/stand.h"

typedef struct rig_maker {
    uint64_t state; /* of xorshift64* (S. Vigna, 2016), not 0 */
} rig_maker;

static inline rig_maker rig_maker_start(uint64_t seed) {
    return (rig_maker){(seed + 1) * 0x9E3779B97F4A7C15u};
}

static inline double rig_unit(rig_maker *m) {
    m->state ^= m->state >> 12;
    m->state ^= m->state << 25;
    m->state ^= m->state >> 27;
    return (double)((m->state * 2685821657736338717u) >> 11) * 0x1p-53;
}

static inline double rig_real(rig_maker *m, double least, double most) {
    return least + (most - least) * rig_unit(m);
}

/* Even in its logarithm. */
static inline double rig_size(rig_maker *m, double least, double most) {
    return least * exp(log(most / least) * rig_unit(m));
}

static inline int rig_below(rig_maker *m, int n) {
    return (int)(rig_unit(m) * n);
}

static inline void random_lake(rig_maker *m, bf_lake *lake) {
    lake->temp_c.value = rig_real(m, 2, 26);
    lake->drift = rig_below(m, 4) ? BF_DRIFT_WIND : rig_below(m, 3);
    lake->wind_m_s.value = rig_below(m, 12) ? rig_size(m, 0.3, 10) : 0;
    lake->wind_side_deg.value = rig_real(m, -180, 180);
    lake->skin_m.value = rig_size(m, 0.003, 0.03);
    lake->skin_frac.value = rig_real(m, 0.01, 0.04);
    lake->mixing_frac.value = rig_size(m, 0.3, 3);
    lake->surface_drift_m_s.value = rig_size(m, 0.003, 0.15);
    lake->undertow_m_s.value = rig_size(m, 0.0005, 0.03);
    lake->drift_side_deg.value = rig_real(m, -180, 180);
}

static inline void random_back_shots(rig_maker *m, bf_rig *rig) {
    rig->n_back_shots = rig_below(m, 3) ? 0 : 1 + rig_below(m, 2);
    for (int i = 0; i < rig->n_back_shots; i++) {
        bf_shot *shot = &rig->back_shot[i];
        *shot = (bf_shot){.mass_kg = NAN, .metal = -1};
        shot->size = bf_shot_size_find("No 8") + rig_below(m, 6);
        shot->count = 1 + rig_below(m, 2);
        shot->at_m = rig_real(m, 0.05, 0.9) * rig->tip_to_float_m;
    }
}

/* Overdepth: lying on the bottom four times in ten, well over two, hanging four. */
static inline double random_overdepth_m(rig_maker *m, double depth_m) {
    switch (rig_below(m, 10)) {
    case 0:
    case 1:
    case 2:
    case 3: return rig_real(m, -0.01, 0.06);
    case 4:
    case 5: return rig_real(m, 0.06, 0.3);
    default: return -rig_real(m, 0.01, 0.7) * depth_m;
    }
}

static inline bf_stand random_stand(rig_maker *m) {
    bf_stand stand;
    bf_stand_start(&stand);
    double depth = rig_size(m, 0.5, 4);
    stand.rig = bf_rigs[rig_below(m, bf_n_rigs)].rig;
    stand.rig.flt = bf_floats[rig_below(m, bf_n_floats)];
    stand.rig.line.diameter_m = rig_size(m, 9e-5, 2.2e-4);
    stand.rig.line.kind = rig_below(m, 4) == 0;
    stand.rig.hooklength = stand.rig.line;
    stand.rig.hooklength.diameter_m *= rig_real(m, 0.65, 1);
    stand.rig.hooklength.length_m = rig_real(m, 0.08, 0.3);
    stand.rig.tip_to_float_m = rig_size(m, 0.25, 2);
    stand.rig.shot_error.value = rig_real(m, -1, 1);
    random_back_shots(m, &stand.rig);
    random_lake(m, &stand.scene.lake);
    stand.scene.spot.depth_m = bf_exactly(depth);
    stand.scene.spot.slope_deg.value = rig_below(m, 3) ? rig_real(m, -8, 8) : 0;
    stand.hold.tip_height_m.value = stand.rig.tip_to_float_m * rig_real(m, 0.2, 0.98);
    stand.hold.overdepth_m.value = random_overdepth_m(m, depth);
    stand.hold.friction_frac.value = rig_real(m, 0.1, 0.8);
    stand.hold.near_bed_frac.value = rig_real(m, 0.3, 2);
    stand.hold.line_drag_error.value = rig_real(m, -1, 1);
    stand.hook_bait = bf_catalogue[rig_below(m, bf_n_catalogue - 1)].bait; /* no ball of groundbait */
    stand.rig.flt = bf_float_settled(&stand.rig.flt);
    int pattern = rig_below(m, BF_N_PATTERNS), metal = rig_below(m, 2) ? BF_LEAD : BF_TIN;
    bf_pattern_shot(&stand.rig, pattern, metal, depth + stand.hold.overdepth_m.value, 999);
    bf_stand_settle(&stand);
    return stand;
}

#endif
