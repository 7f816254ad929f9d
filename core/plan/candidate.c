/* candidate.c -- a rig put together to be tried: a float of the catalogue, its shot by pattern, its back shots. */
#include "judging.h"

const bf_back_choice bf_back_choices[] = {
    {0, "No 10", 0.20}, {1, "No 12", 0.20}, {1, "No 10", 0.20}, {2, "No 10", 0.20}, {3, "No 10", 0.20},
};
const int bf_n_back_choices = BF_SUGGEST_BACKS;
_Static_assert(sizeof bf_back_choices == BF_SUGGEST_BACKS * sizeof bf_back_choices[0], "all are tried");

void bfi_put_back_shots(bf_rig *rig, int back) {
    const bf_back_choice *choice = &bf_back_choices[back];
    double most_m = rig->tip_to_float_m / 2; /* on a short line: half-way up */
    rig->n_back_shots = 0;
    if (choice->count == 0) return;
    bf_shot *shot = &rig->back_shot[rig->n_back_shots++];
    bf_record_start(&bf_back_shot_table, shot);
    shot->size = bf_shot_size_find(choice->size);
    shot->count = choice->count;
    shot->at_m = choice->above_m < most_m ? choice->above_m : most_m;
    shot->apart_m = 0;
}

double bfi_back_kg(const bf_rig *rig) {
    double sum = 0;
    for (int i = 0; i < rig->n_back_shots; i++)
        sum += rig->back_shot[i].count * bf_shot_mass_kg(&rig->back_shot[i], rig->shot_error.value);
    return sum;
}

int bfi_most_back_shots(const bf_rig *rig) {
    int most = 0;
    for (int back = 1; back < bf_n_back_choices; back++) {
        bf_rig with = *rig;
        bfi_put_back_shots(&with, back);
        if (bfi_back_kg(&with) <= BF_BACK_MOST_FRAC * rig->flt.rating_kg) most = back;
    }
    return most;
}

bf_status bfi_shot_by(const bf_stand *stand, const bf_float *flt, int pattern, bf_rig *rig) {
    int metal = stand->rig.n_shots > 0 ? stand->rig.shot[0].metal : BF_LEAD;
    double wet_m = stand->scene.spot.depth_m.value + stand->hold.overdepth_m.value;
    *rig = stand->rig;
    rig->flt = *flt;
    if (!(wet_m > 0)) return BF_E_MODEL_RANGE;
    rig->n_shots = bf_pattern_shot(rig, pattern, metal, wet_m, bf_lake_density_kg_m3(&stand->scene.lake));
    return rig->n_shots > 0 ? BF_OK : BF_E_MODEL_RANGE;
}

bf_status bf_suggest_rig(const bf_stand *stand, int i_float, int pattern, bf_rig *rig) {
    bf_float flt = bf_float_settled(&bf_floats[i_float]);
    bf_status status = bfi_shot_by(stand, &flt, pattern, rig);
    rig->n_back_shots = 0;
    return status;
}
