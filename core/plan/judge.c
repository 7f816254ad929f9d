/* judge.c -- does a rig hold? Solved in still and in gusty wind, held against the limits of suggest.h. */
#include <math.h>

#include "baitfall/rig.h"
#include "core/tackle/sketch.h"
#include "judging.h"

enum { AS_GIVEN, HIGH_END, LOW_END };

/* Winds ------------------------------------------------------------------------------------------------ */

bfi_winds bfi_one_wind(double m_s) {
    return (bfi_winds){1, {m_s}, {AS_GIVEN}};
}

bfi_winds bfi_winds_of(const bf_stand *stand) {
    bf_quantity wind = stand->scene.lake.wind_m_s;
    if (!wind.is_unknown && !(wind.pm > 0)) return bfi_one_wind(wind.value);
    int is_pm;
    const bf_field *field = &bf_lake_table.field[bf_field_find(&bf_lake_table, "wind_m_s", 8, &is_pm)];
    bf_sampler range = bf_sampler_of(wind, field->least, field->most, field->usual_least, field->usual_most);
    return (bfi_winds){
        3,
        {bf_sampler_at(&range, BF_WIND_HIGH_P), wind.value, bf_sampler_at(&range, BF_WIND_LOW_P)},
        {HIGH_END, AS_GIVEN, LOW_END}};
}

/* A bite ----------------------------------------------------------------------------------------------- */

static const bf_shot *lowest_shot(const bf_rig *rig) {
    const bf_shot *lowest = &rig->shot[0];
    for (int i = 1; i < rig->n_shots; i++)
        if (rig->shot[i].at_m < lowest->at_m) lowest = &rig->shot[i];
    return lowest;
}

/* How far the bristle rises when a fish lifts the lowest shot. */
static double bite_m(const bf_rig *rig, double water_kg_m3) {
    if (rig->n_shots == 0) return 0;
    const bf_shot *shot = lowest_shot(rig);
    double rises_m = bf_shot_weight_n(shot, rig->shot_error.value, water_kg_m3) /
                     bf_float_bristle_n_m(&rig->flt, water_kg_m3);
    return rises_m < rig->flt.bristle_long_m ? rises_m : rig->flt.bristle_long_m;
}

/* Limits ----------------------------------------------------------------------------------------------- */

bf_judged bfi_unjudged(void) {
    return (bf_judged){.limit = BF_LIMIT_SOLVED,
                       .miss_frac = BF_INFINITY,
                       .hang_m = BF_NAN,
                       .gust_m = BF_NAN,
                       .worst_hang_m = BF_NAN,
                       .worst_gust_m = BF_NAN,
                       .worst_wind_m_s = BF_NAN,
                       .bristle_m = BF_NAN,
                       .bite_m = BF_NAN,
                       .seen_m = BF_NAN};
}

/* A limit used by so much: the worst one is kept, and counts when it is used up. */
static void hold_against(bf_judged *judged, int limit, double used_frac, int in_wind) {
    if (!(used_frac > judged->miss_frac)) return;
    judged->miss_frac = used_frac;
    judged->limit = used_frac > 1 ? limit : BF_LIMIT_NONE;
    judged->in_wind = in_wind;
}

static void against_float(const bf_float *flt, const bf_rig_rest *rest, int in_wind, bf_judged *judged) {
    double shows_m = rest->bristle_m, long_m = flt->bristle_long_m;
    if (!(judged->bristle_m <= shows_m)) judged->bristle_m = shows_m;
    if (rest->is_lifted) hold_against(judged, BF_LIMIT_LIFTED, BF_INFINITY, in_wind);
    hold_against(judged, BF_LIMIT_HIGH, shows_m / long_m, in_wind);
    hold_against(judged, BF_LIMIT_DROWNED, 1 + (BF_BRISTLE_LEAST_M - shows_m) / long_m, in_wind);
}

static double apart_m(const double a[2], const double b[2]) {
    return sqrt((a[0] - b[0]) * (a[0] - b[0]) + (a[1] - b[1]) * (a[1] - b[1]));
}

static int has_no_balance(bf_status status) {
    return status == BF_E_MODEL_RANGE || status == BF_E_NO_CONVERGE || status == BF_E_NOT_FINITE;
}

static void against_hang(bf_judged *judged, double hang_m, double wind_m_s, int in_wind) {
    if (in_wind == AS_GIVEN) judged->hang_m = hang_m;
    if (!(judged->worst_hang_m >= hang_m)) {
        judged->worst_hang_m = hang_m;
        judged->worst_wind_m_s = wind_m_s;
    }
    hold_against(judged, BF_LIMIT_HANG, hang_m / BF_HANG_MOST_M, in_wind);
}

static void against_gust(bf_judged *judged, double gust_m, int in_wind) {
    if (in_wind == AS_GIVEN) judged->gust_m = gust_m;
    if (!(judged->worst_gust_m >= gust_m)) judged->worst_gust_m = gust_m;
    hold_against(judged, BF_LIMIT_GUST, gust_m / BF_GUST_MOST_M, in_wind);
}

/* The rig at rest in a wind from where its bait was (NULL: let down). No balance counts as a broken limit; *is_found says
 * whether there is one. */
static bf_status rest_in(const bf_stand *stand, double wind_frac, const double *put_m, int in_wind,
                         bf_judged *judged, bf_rig_rest *rest, int *is_found) {
    bf_status status = bf_rig_rest_of(stand, wind_frac, put_m, rest);
    *is_found = status == BF_OK;
    if (!has_no_balance(status)) return status;
    hold_against(judged, BF_LIMIT_SOLVED, BF_INFINITY, in_wind);
    return BF_OK;
}

/* A good margin: where a sketch shows all of the bristle and so much more, none of 10 900 at random was wrong (docs/models/suggest.md). */
#define SKETCH_M 0.010

/* 1 when a sketch leaves no doubt that the body shows: in a wind, from where it was (NULL: let
 * down). */
static int rides_high(const bf_stand *stand, double wind_frac, const double *put_m, int in_wind,
                      bf_judged *judged) {
    bfi_rigging rigging;
    double shows_m, long_m = stand->rig.flt.bristle_long_m;
    if (bfi_rigging_of(stand, wind_frac, 0, &rigging) || bfi_sketch_shows_least(&rigging, put_m, &shows_m))
        return 0;
    if (!(shows_m > long_m + SKETCH_M)) return 0;
    hold_against(judged, BF_LIMIT_HIGH, shows_m / long_m, in_wind);
    return 1;
}

/* One wind: the rig in the mean wind, then in its gust. */
static bf_status judge_wind(const bf_stand *stand, int in_wind, bfi_depth depth, bf_judged *judged,
                            int *n_solves) {
    static const double under_the_tip[2] = {0, 0};
    const bf_float *flt = &stand->rig.flt;
    bf_rig_rest mean, gust;
    double gust_frac = stand->hold.gust_frac.value;
    int is_found;
    if (depth == BFI_WHETHER && rides_high(stand, 1, NULL, in_wind, judged)) return BF_OK;
    bf_status status = rest_in(stand, 1, NULL, in_wind, judged, &mean, &is_found);
    ++*n_solves;
    if (!is_found) return status;
    against_float(flt, &mean, in_wind, judged);
    against_hang(judged, apart_m(mean.bait_m, under_the_tip), stand->scene.lake.wind_m_s.value, in_wind);
    if (depth != BFI_IN_ALL && judged->limit != BF_LIMIT_NONE) return BF_OK;

    if (depth == BFI_WHETHER && rides_high(stand, gust_frac, mean.bait_m, in_wind, judged)) return BF_OK;
    status = rest_in(stand, gust_frac, mean.bait_m, in_wind, judged, &gust, &is_found);
    ++*n_solves;
    if (!is_found) return status;
    against_float(flt, &gust, in_wind, judged);
    against_gust(judged, apart_m(gust.bait_m, mean.bait_m), in_wind);
    return BF_OK;
}

bf_status bfi_judge(const bf_stand *stand, const bfi_winds *winds, bfi_depth depth, bf_judged *judged,
                    int *n_solves) {
    bf_stand windy = *stand;
    *judged = bfi_unjudged();
    judged->limit = BF_LIMIT_NONE;
    judged->miss_frac = 0;
    judged->bite_m = bite_m(&stand->rig, bf_lake_density_kg_m3(&stand->scene.lake));
    judged->seen_m = BF_SEEN_RAD * stand->scene.spot.distance_m.value;
    hold_against(judged, BF_LIMIT_BITE, judged->seen_m / judged->bite_m, AS_GIVEN);

    for (int i = 0; i < winds->n && (depth == BFI_IN_ALL || judged->limit == BF_LIMIT_NONE); i++) {
        windy.scene.lake.wind_m_s = bf_exactly(winds->m_s[i]);
        bf_status status = judge_wind(&windy, winds->in_wind[i], depth, judged, n_solves);
        if (status) {
            *judged = bfi_unjudged();
            return status;
        }
    }
    return BF_OK;
}

bf_status bf_judge(const bf_stand *stand, bf_judged *judged) {
    bfi_winds winds = bfi_winds_of(stand);
    int n_solves = 0;
    return bfi_judge(stand, &winds, BFI_IN_ALL, judged, &n_solves);
}
