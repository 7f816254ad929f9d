/* cable.c -- see cable.h. */
#include "core/tackle/cable.h"

#include <math.h>

#include "baitfall/elementary.h"
#include "core/base/dormand_prince.h"
#include "core/tackle/cylinder.h"

/* Drag of a cylinder -------------------------------------------------------------------------------------- */

double bfi_cylinder_drag(double reynolds) {
    BF_ASSERT(reynolds > 0);
    double root = sqrt(reynolds), fourth = sqrt(root);
    if (reynolds < FITTED_RE) return fitted_drag(fourth) / (root * fourth);
    double log_re = bf_log(reynolds / 4500.0);
    return 11.0 / (root * fourth) + 0.9 * -bf_expm1(-1000.0 / reynolds) +
           1.2 * -bf_expm1(-bf_exp(0.7 * log_re));
}

double bfi_cylinder_drag_fixed(double reynolds) {
    BF_ASSERT(reynolds > 0);
    return 1.18 + 6.8 / bf_pow(reynolds, 0.89) + 1.96 / sqrt(reynolds) -
           0.0004 * reynolds / (1.0 + 3.64e-7 * reynolds * reynolds);
}

double bfi_cylinder_along(double kinematic_m2_s, double length_m, double speed_m_s, double diameter_m) {
    return along_of(bf_log(4.0 * kinematic_m2_s * length_m / (speed_m_s * diameter_m * diameter_m)));
}

/* Loads --------------------------------------------------------------------------------------------------- */

double bfi_wet_frac(double z_m, double over_m) {
    double s = z_m / over_m;
    return s <= 0 ? 0 : s >= 1 ? 1 : s * s * (3.0 - 2.0 * s);
}

static void wind_at(const bfi_stream *stream, double z_m, double flow[2]) {
    double times = -z_m / stream->wind.roughness_m;
    double speed = times > 1 ? stream->wind.per_e_m_s * quick_log(times) : 0;
    flow[0] = stream->wind_x * speed;
    flow[1] = stream->wind_y * speed;
}

void bfi_flow_at(const bfi_stream *stream, bfi_medium medium, double z_m, double flow_m_s[2]) {
    if (medium == BFI_IN_AIR && z_m <= 0)
        wind_at(stream, z_m, flow_m_s);
    else
        bf_current_at(&stream->current, z_m, &flow_m_s[0], &flow_m_s[1]);
}

static bfi_felt felt_of(const bfi_stream *stream, const bfi_fluid *fluid, double diameter_m,
                        double fixed_cd) {
    double kinematic = fluid->pa_s / fluid->kg_m3;
    return (bfi_felt){.re_per_m_s = diameter_m / kinematic,
                      .half_pa_s = 0.5 * fluid->pa_s,
                      .along_m_s = 4.0 * kinematic * stream->length_m / (diameter_m * diameter_m),
                      .fixed_kg_m2 = 0.5 * fluid->kg_m3 * diameter_m * fixed_cd};
}

/* Adds to q the drag of a flow on a metre of line that runs along t, times `share`. */
static inline void add_drag(const bfi_stream *stream, const bfi_felt *of, const double flow[2],
                            const double t[3], double share, double q[3]) {
    double along = flow[0] * t[0] + flow[1] * t[1], ahead = along < 0 ? -along : along;
    double normal[3] = {flow[0] - along * t[0], flow[1] - along * t[1], -along * t[2]};
    double across = sqrt(normal[0] * normal[0] + normal[1] * normal[1] + normal[2] * normal[2]);
    double per_normal = 0, per_along = 0;
    if (across > STILL_M_S)
        per_normal = stream->is_fixed ? of->fixed_kg_m2 * across : across_pa_s(of, across);
    if (!stream->is_fixed && ahead > STILL_M_S)
        per_along = 2.0 * of->half_pa_s * along_of(quick_log(of->along_m_s / ahead));
    for (int i = 0; i < 3; i++) q[i] += share * (per_normal * normal[i] + per_along * along * t[i]);
}

bfi_feeling bfi_feeling_of(const bfi_stream *stream, bfi_medium medium, const bfi_cable *cable) {
    return (bfi_feeling){.stream = stream,
                         .cable = cable,
                         .medium = medium,
                         .stretch_per_n = 1.0 / cable->stiffness_n,
                         .water = felt_of(stream, &stream->water, cable->diameter_m, cable->fixed_water),
                         .air = felt_of(stream, &stream->air, cable->diameter_m, cable->fixed_air)};
}

/* Weight and drag of a metre of line at a depth. */
static inline void load_at(const bfi_feeling *line, double z_m, const double t[3], double q[3]) {
    const bfi_stream *stream = line->stream;
    double wet = line->medium == BFI_IN_AIR ? bfi_wet_frac(z_m, SURFACE_M) : 1, flow[2];
    q[0] = q[1] = 0;
    q[2] = wet * line->cable->water_n_m + (1 - wet) * line->cable->air_n_m;
    if (!(stream->drag_frac > 0)) return;
    if (wet < 1) {
        wind_at(stream, z_m, flow);
        add_drag(stream, &line->air, flow, t, (1 - wet) * stream->drag_frac, q);
    }
    if (wet > 0) {
        bf_current_at(&stream->current, z_m, &flow[0], &flow[1]);
        add_drag(stream, &line->water, flow, t, wet * stream->drag_frac, q);
    }
}

/* Even loads ---------------------------------------------------------------------------------------------- */

static double length_of(const double v[3]) {
    return sqrt(v[0] * v[0] + v[1] * v[1] + v[2] * v[2]);
}

static double asinh_of(double x) {
    return x < 0 ? -asinh_of(-x) : bf_log1p(x + x * x / (1.0 + sqrt(1.0 + x * x)));
}

void bfi_even_load(const double q_n_m[3], double stiffness_n, double length_m, bfi_strand *strand) {
    double *at = strand->at_m, *pull = strand->pull_n, load = length_of(q_n_m), whole = length_of(pull);
    double along = 0, square[3], along_m = 0, per_square = whole > 0 ? length_m / whole : 0;
    if (load > 0) {
        for (int i = 0; i < 3; i++) along += pull[i] * q_n_m[i] / load;
        for (int i = 0; i < 3; i++) square[i] = pull[i] - along * q_n_m[i] / load;
        double b = length_of(square), end = along - load * length_m;
        along_m = (sqrt(along * along + b * b) - sqrt(end * end + b * b)) / load;
        per_square = b > 0 ? (asinh_of(along / b) - asinh_of(end / b)) / load : 0;
    } else {
        for (int i = 0; i < 3; i++) square[i] = pull[i];
    }
    for (int i = 0; i < 3; i++) {
        double along_i = load > 0 ? along_m * q_n_m[i] / load : 0;
        at[i] +=
            along_i + per_square * square[i] + (pull[i] - 0.5 * q_n_m[i] * length_m) * length_m / stiffness_n;
        pull[i] -= q_n_m[i] * length_m;
    }
}

#define LIES_AS_FELL_N 1e-6

void bfi_float_along(const bfi_stream *stream, const bfi_cable *cable, double length_m, bfi_strand *strand) {
    double up = strand->pull_n[2], from[3], whole, t[3] = {0}, q[3];
    strand->pull_n[2] = 0;
    whole = length_of(strand->pull_n);
    for (int i = 0; i < 2; i++) t[i] = whole > 0 ? strand->pull_n[i] / whole : 0;
    for (int i = 0; i < 3; i++) from[i] = strand->at_m[i];
    bfi_feeling line = bfi_feeling_of(stream, BFI_IN_WATER, cable);
    load_at(&line, 0, t, q);
    q[2] = 0;
    bfi_even_load(q, cable->stiffness_n, length_m, strand);
    double reaches = whole / sqrt(whole * whole + LIES_AS_FELL_N * LIES_AS_FELL_N);
    for (int i = 0; i < 3; i++) strand->at_m[i] = from[i] + reaches * (strand->at_m[i] - from[i]);
    strand->pull_n[2] = up;
}

/* Marching ------------------------------------------------------------------------------------------------ */

#define FLOOR_N 1e-10
#define MOST_STEPS 4000
#define DIMENSIONS 6 /* place, pull */

static inline void slope_of(const bfi_feeling *line, const double y[DIMENSIONS], double slope[DIMENSIONS]) {
    double pull = sqrt(y[3] * y[3] + y[4] * y[4] + y[5] * y[5] + FLOOR_N * FLOOR_N), per_pull = 1.0 / pull,
           q[3];
    double t[3] = {y[3] * per_pull, y[4] * per_pull, y[5] * per_pull};
    double stretched = 1.0 + pull * line->stretch_per_n;
    load_at(line, y[2], t, q);
    for (int i = 0; i < 3; i++) {
        slope[i] = stretched * t[i];
        slope[3 + i] = -q[i];
    }
}

/* A step's error in metres: of place, and of the direction of pull times the span's length. */
static double step_error_m(const bfi_stream *stream, double slope[BFI_STAGES][DIMENSIONS], double h,
                           const double y[DIMENSIONS]) {
    double error[DIMENSIONS] = {0};
    for (int k = 0; k < BFI_STAGES; k++)
        for (int i = 0; i < DIMENSIONS; i++) error[i] += h * bfi_error_weight[k] * slope[k][i];
    double of_place = length_of(error), of_pull = length_of(error + 3);
    double pull = length_of(y + 3) + FLOOR_N;
    return of_place + of_pull / pull * stream->length_m;
}

/* How far a step may go at most: as far as the pull keeps its direction, just short of a fold, and no further than the
 * stream stays smooth: up to the surface's skin and through it in short steps, and in the air as far as it is high above
 * the water, where the wind grows with the logarithm. */
#define FIRST_IN_AIR_M 0.03
#define SKINS_FELT 4.0
#define IN_SKIN 1.5

static double most_step_m(const bfi_stream *stream, bfi_medium medium, const double y[DIMENSIONS],
                          const double slope[DIMENSIONS]) {
    const double *pull = y + 3, *change = slope + 3;
    double square = pull[0] * pull[0] + pull[1] * pull[1] + pull[2] * pull[2];
    double shrinks = -(pull[0] * change[0] + pull[1] * change[1] + pull[2] * change[2]);
    double turns = (length_of(pull) + FLOOR_N) / (length_of(change) + FLOOR_N), skin = stream->current.skin_m;
    double most = shrinks > 0 && 0.9 * square < turns * shrinks
                      ? 0.9 * square / shrinks + 0.1 * FLOOR_N / length_of(change)
                      : turns;
    double smooth = medium == BFI_IN_AIR ? FIRST_IN_AIR_M + fabs(y[2]) : y[2] - SKINS_FELT * skin;
    if (medium != BFI_IN_AIR && smooth < IN_SKIN * skin) smooth = IN_SKIN * skin;
    return most < smooth ? most : smooth;
}

bf_status bfi_march(const bfi_stream *stream, bfi_medium medium, const bfi_cable *cable, double length_m,
                    double tolerance_m, bfi_strand *strand) {
    double y[DIMENSIONS], next[DIMENSIONS], slope[BFI_STAGES][DIMENSIONS];
    for (int i = 0; i < 3; i++) {
        y[i] = strand->at_m[i];
        y[3 + i] = strand->pull_n[i];
    }
    bfi_feeling line = bfi_feeling_of(stream, medium, cable);
    slope_of(&line, y, slope[0]);
    double left = length_m, h = length_m;
    for (int n = 0; left > 0; n++) {
        double most = most_step_m(stream, medium, y, slope[0]);
        if (n == MOST_STEPS) return BF_E_NO_CONVERGE;
        if (h > most) h = most;
        if (h > left) h = left;
        for (int k = 1; k < BFI_STAGES; k++) {
            for (int i = 0; i < DIMENSIONS; i++) {
                double sum = 0;
                for (int j = 0; j < k; j++) sum += bfi_stage_weight[k][j] * slope[j][i];
                next[i] = y[i] + h * sum;
            }
            slope_of(&line, next, slope[k]);
        }
        double error = step_error_m(stream, slope, h, y);
        if (error - error != 0) return BF_E_NOT_FINITE;
        if (error <= tolerance_m) {
            left = h == left ? 0 : left - h;
            for (int i = 0; i < DIMENSIONS; i++) {
                y[i] = next[i];
                slope[0][i] = slope[BFI_STAGES - 1][i];
            }
            if (!(left > 0)) break;
        }
        /* The step that would just be good enough, by the fifth root of its error. */
        double factor = error > 0 ? 0.9 * bf_exp(0.2 * quick_log(tolerance_m / error)) : 5.0;
        h *= factor < 0.1 ? 0.1 : factor > 5.0 ? 5.0 : factor;
    }
    for (int i = 0; i < 3; i++) {
        strand->at_m[i] = y[i];
        strand->pull_n[i] = y[3 + i];
    }
    return BF_OK;
}
