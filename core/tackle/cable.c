/* cable.c -- see cable.h. */
#include "core/tackle/cable.h"

#include <math.h>

#include "baitfall/elementary.h"
#include "core/base/dormand_prince.h"
#include "core/tackle/cylinder.h"

/* Drag of a cylinder -------------------------------------------------------------------------------------- */

/* clang-format off */
const double bfi_drag_of_octave[BFI_OCTAVES][6] = {
    {3.44895199, 0.289567806, -0.0839119866, 0.0348963859, -0.0186928978, 0.00974161791},
    {3.76389727, 0.316705624, -0.0916613648, 0.0381063035, -0.0204083066, 0.0106344252},
    {4.1085029, 0.34668491, -0.100176208, 0.0416280883, -0.0222887317, 0.011612643},
    {4.48593219, 0.37992258, -0.109552349, 0.0454988098, -0.0243531513, 0.0126859092},
    {4.89983335, 0.416939581, -0.119905301, 0.0497625575, -0.0266239364, 0.0138655246},
    {5.35446573, 0.458397858, -0.131376599, 0.0544725947, -0.0291278524, 0.0151649306},
    {5.85487189, 0.505152171, -0.144142613, 0.0596943391, -0.0318974394, 0.0166003668},
    {6.40711374, 0.558322919, -0.158426843, 0.0655095038, -0.0349729245, 0.0181917797},
    {7.01859905, 0.61939875, -0.174517118, 0.0720218775, -0.0384048849, 0.0199640865},
    {7.69853532, 0.690381468, -0.192789746, 0.0793654165, -0.0422579692, 0.021948938},
    {8.45856369, 0.773991109, -0.213743468, 0.0877156038, -0.0466161121, 0.0241871871},
    {9.31364819, 0.873956791, -0.238047321, 0.0973054307, -0.0515898624, 0.0267323543},
    {10.2833271, 0.995430164, -0.266608201, 0.108447922, -0.0573266989, 0.0296555018},
    {11.3934804, 1.14557456, -0.300666392, 0.121567941, -0.0640255812, 0.0330521051},
    {12.6788324, 1.33440699, -0.341930852, 0.137247153, -0.0719575032, 0.0370517527},
    {14.1865093, 1.57600536, -0.392771093, 0.156287713, -0.0814945709, 0.0418318603},
    {15.9811094, 1.89024639, -0.45648983, 0.179802577, -0.0931512015, 0.0476370906},
    {18.1519579, 2.30531893, -0.537711173, 0.209343831, -0.107642588, 0.0548068919},
    {20.8235305, 2.86137898, -0.642934677, 0.24708536, -0.125967815, 0.0638146175},
    {24.1704988, 3.61589927, -0.781328459, 0.296083511, -0.149528256, 0.0753232031},
    {28.4395685, 4.65155753, -0.965868694, 0.360650109, -0.180296672, 0.09026459},
    {33.9813767, 6.08796597, -1.21498428, 0.446888143, -0.221059425, 0.109953342},
    {41.2974196, 8.09927419, -1.55494424, 0.563464499, -0.275764779, 0.136249734},
    {51.1096558, 10.9408464, -2.02334815, 0.722730797, -0.350026096, 0.171794864},
    {64.4646566, 14.990097, -2.67427478, 0.942360451, -0.451853183, 0.220351391},
    {82.890916, 20.8095979, -3.5859722, 1.24774264, -0.59273709, 0.287295726},
    {108.638509, 29.2445512, -4.87407969, 1.67423187, -0.789623106, 0.380419466},
    {145.037074, 41.5415245, -6.7489107, 2.25900319, -1.06441745, 0.512073128},
    {196.886839, 59.1948354, -9.7641858, 3.082354, -1.42381302, 0.687891591},
    {270.236376, 82.8521051, -14.9150684, 4.55392946, -1.96142974, 0.913202023},
    {370.845826, 111.334674, -22.4942906, 7.29279353, -3.0684805, 1.35781175},
    {503.05044, 143.734976, -31.0281697, 11.1257229, -4.99578448, 2.26116772},
    {672.301382, 183.808905, -38.6041477, 14.9549434, -7.29992509, 3.50446161},
    {891.764728, 242.906171, -45.0674324, 17.9277533, -9.27021424, 4.67293668},
    {1190.74768, 340.791579, -52.8595628, 20.3070939, -10.669143, 5.50896703},
    {1623.75995, 506.38847, -66.865482, 23.4957368, -11.9547018, 6.13697653},
    {2280.88285, 779.56559, -94.5668336, 29.8706879, -14.1550685, 7.01320453},
    {3300.26308, 1213.18639, -146.997982, 42.9783442, -18.8359798, 8.86357929},
};
/* clang-format on */

double bfi_drag_times_re(double reynolds) {
    double sheds = -bf_expm1(-bf_exp(0.7 * bf_log(reynolds / 4500.0)));
    return 11.0 * sqrt(sqrt(reynolds)) + reynolds * (0.9 * -bf_expm1(-1000.0 / reynolds) + 1.2 * sheds);
}

double bfi_cylinder_drag(double reynolds) {
    BF_ASSERT(reynolds > 0);
    return quick_drag(reynolds);
}

double bfi_cylinder_drag_fixed(double reynolds) {
    BF_ASSERT(reynolds > 0);
    return 1.18 + 6.8 / bf_pow(reynolds, 0.89) + 1.96 / sqrt(reynolds) -
           0.0004 * reynolds / (1.0 + 3.64e-7 * reynolds * reynolds);
}

double bfi_cylinder_along(double kinematic_m2_s, double length_m, double speed_m_s, double diameter_m) {
    return along_of(quick_log(4.0 * kinematic_m2_s * length_m / (speed_m_s * diameter_m * diameter_m)));
}

/* Loads --------------------------------------------------------------------------------------------------- */

double bfi_wet_frac(double z_m, double over_m) {
    double s = z_m / over_m;
    return s <= 0 ? 0 : s >= 1 ? 1 : s * s * (3.0 - 2.0 * s);
}

/* e^-x, x not below 0, to eight digits. */
#define ALL_GONE 30.0 /* e^-30 of a current is none */

static inline double quick_decay(double x) {
    if (x > ALL_GONE) return 0;
    double octaves = x * 1.4426950408889634, scale;
    int64_t whole = (int64_t)(octaves + 0.5);
    uint64_t bits = (uint64_t)(1023 - whole) << 52;
    memcpy(&scale, &bits, sizeof scale);
    double r = (double)whole - octaves, r2 = r * r;
    double low = (1.0 + 0.693147206702833 * r) + (0.240226509222885 + 0.0555032722666969 * r) * r2;
    double high = (0.00961805667853355 + 0.00134004281778743 * r) + 0.000154614446971989 * r2;
    return scale * (low + r2 * r2 * high);
}

static inline void wind_at(const bfi_stream *stream, double per_roughness, double z_m, double flow[2]) {
    double times = -z_m * per_roughness;
    double speed = times > 1 ? stream->wind.per_e_m_s * quick_log(times) : 0;
    flow[0] = stream->wind_x * speed;
    flow[1] = stream->wind_y * speed;
}

static inline double polynomial(const double coef[4], double s) {
    return (coef[0] + s * coef[1]) + s * s * (coef[2] + s * coef[3]);
}

/* bf_current_at, with what it divides by made ready. */
static inline void current_at(const bf_current *current, double per_depth, double per_skin, double z_m,
                              double flow[2]) {
    double z = z_m > 0 ? z_m : 0;
    if (z > current->depth_m) z = current->depth_m;
    double s = z * per_depth, skin = quick_decay(z * per_skin);
    flow[0] = current->skin_x_m_s * skin + polynomial(current->coef_x_m_s, s);
    flow[1] = current->skin_y_m_s * skin + polynomial(current->coef_y_m_s, s);
}

void bfi_flow_at(const bfi_stream *stream, bfi_medium medium, double z_m, double flow_m_s[2]) {
    const bf_current *current = &stream->current;
    if (medium == BFI_IN_AIR && z_m <= 0)
        wind_at(stream, 1.0 / stream->wind.roughness_m, z_m, flow_m_s);
    else
        current_at(current, 1.0 / current->depth_m, 1.0 / current->skin_m, z_m, flow_m_s);
}

static bfi_felt felt_of(const bfi_stream *stream, const bfi_fluid *fluid, double diameter_m,
                        double fixed_cd) {
    double re_per_m_s = diameter_m * fluid->kg_m3 / fluid->pa_s;
    double along_m_s = 4.0 * stream->length_m / (re_per_m_s * diameter_m);
    return (bfi_felt){.re_per_m_s = re_per_m_s,
                      .re2_per_m2_s2 = re_per_m_s * re_per_m_s,
                      .half_pa_s = 0.5 * fluid->pa_s,
                      .along_m_s = along_m_s,
                      .log_along = quick_log(along_m_s),
                      .fixed_kg_m2 = 0.5 * fluid->kg_m3 * diameter_m * fixed_cd};
}

/* Adds to q the drag of a flow on a metre of line, times `share`. The line runs along `pull`, of which per_square is 1 over the
 * square: across it the force goes with U - (U.t) t, along it with (U.t) t. */
static inline void add_drag(const bfi_stream *stream, const bfi_felt *of, const double flow[2],
                            const double pull[3], double per_square, double share, double q[3]) {
    double onto = flow[0] * pull[0] + flow[1] * pull[1], part = onto * per_square, along2 = onto * part;
    double across2 = flow[0] * flow[0] + flow[1] * flow[1] - along2, per_across = 0, per_along = 0;
    if (across2 > STILL_M_S * STILL_M_S)
        per_across = stream->is_fixed ? of->fixed_kg_m2 * sqrt(across2)
                                      : of->half_pa_s * drag_times_re(across2 * of->re2_per_m2_s2);
    if (!stream->is_fixed && along2 > STILL_M_S * STILL_M_S)
        per_along = 2.0 * of->half_pa_s * along_of(of->log_along - 0.5 * quick_log(along2));
    double per_flow = share * per_across, per_pull = share * (per_along - per_across) * part;
    q[0] += per_flow * flow[0] + per_pull * pull[0];
    q[1] += per_flow * flow[1] + per_pull * pull[1];
    q[2] += per_pull * pull[2];
}

bfi_feeling bfi_feeling_of(const bfi_stream *stream, bfi_medium medium, const bfi_cable *cable) {
    return (bfi_feeling){.stream = stream,
                         .cable = cable,
                         .medium = medium,
                         .stretch_per_n = 1.0 / cable->stiffness_n,
                         .per_depth = 1.0 / stream->current.depth_m,
                         .per_skin = 1.0 / stream->current.skin_m,
                         .per_roughness = 1.0 / stream->wind.roughness_m,
                         .water = felt_of(stream, &stream->water, cable->diameter_m, cable->fixed_water),
                         .air = felt_of(stream, &stream->air, cable->diameter_m, cable->fixed_air)};
}

/* Weight and drag of a metre of line at a depth, pulled as for add_drag. */
static inline void load_of(const bfi_feeling *line, double z_m, const double pull[3], double per_square,
                           double q[3]) {
    const bfi_stream *stream = line->stream;
    double wet = line->medium == BFI_IN_AIR ? bfi_wet_frac(z_m, SURFACE_M) : 1, flow[2];
    q[0] = q[1] = 0;
    q[2] = wet * line->cable->water_n_m + (1 - wet) * line->cable->air_n_m;
    if (!(stream->drag_frac > 0)) return;
    if (wet < 1) {
        wind_at(stream, line->per_roughness, z_m, flow);
        add_drag(stream, &line->air, flow, pull, per_square, (1 - wet) * stream->drag_frac, q);
    }
    if (wet > 0) {
        current_at(&stream->current, line->per_depth, line->per_skin, z_m, flow);
        add_drag(stream, &line->water, flow, pull, per_square, wet * stream->drag_frac, q);
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
    load_of(&line, 0, t, 1, q);
    q[2] = 0;
    bfi_even_load(q, cable->stiffness_n, length_m, strand);
    double reaches = whole / sqrt(whole * whole + LIES_AS_FELL_N * LIES_AS_FELL_N);
    for (int i = 0; i < 3; i++) strand->at_m[i] = from[i] + reaches * (strand->at_m[i] - from[i]);
    strand->pull_n[2] = up;
}

/* Marching ------------------------------------------------------------------------------------------------ */

#define FLOOR_N 1e-10
#define FLOOR_M 1e-7
#define MOST_STEPS 4000
#define DIMENSIONS 6 /* place, pull */

static inline void slope_of(const bfi_feeling *line, const double y[DIMENSIONS], double slope[DIMENSIONS]) {
    const double *pull = y + 3;
    double square = pull[0] * pull[0] + pull[1] * pull[1] + pull[2] * pull[2] + FLOOR_N * FLOOR_N, q[3];
    double per_square = 1.0 / square, along = sqrt(square) * per_square + line->stretch_per_n;
    load_of(line, y[2], pull, per_square, q);
    for (int i = 0; i < 3; i++) {
        slope[i] = along * pull[i];
        slope[3 + i] = -q[i];
    }
}

/* Where stage k starts: with k known at each call a straight run of sums. */
static inline void go_to(int k, const double y[DIMENSIONS], double h, double slope[BFI_STAGES][DIMENSIONS],
                         double next[DIMENSIONS]) {
    for (int i = 0; i < DIMENSIONS; i++) {
        double sum = 0;
        for (int j = 0; j < k; j++) sum += bfi_stage_weight[k][j] * slope[j][i];
        next[i] = y[i] + h * sum;
    }
}

static inline void go_to_stage(int k, const double y[DIMENSIONS], double h,
                               double slope[BFI_STAGES][DIMENSIONS], double next[DIMENSIONS]) {
    switch (k) {
    case 1: go_to(1, y, h, slope, next); break;
    case 2: go_to(2, y, h, slope, next); break;
    case 3: go_to(3, y, h, slope, next); break;
    case 4: go_to(4, y, h, slope, next); break;
    case 5: go_to(5, y, h, slope, next); break;
    default: go_to(6, y, h, slope, next); break;
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
 * stream stays smooth. In the water that is so far in still depths, up to the surface's skin, and through it in short steps; in the
 * air to where the wind begins, and from there as far as it is high above the water, where the wind grows with the
 * logarithm. */
#define MOST_IN_WATER_M 0.2
#define SKINS_FELT 3.6
#define IN_SKIN 1.8
#define FIRST_IN_AIR_M 0.002
#define HEIGHTS_IN_AIR 2.5
#define BEYOND 1.02 /* of the way: on the far side */

/* ... up to so much higher, rising as it does and turning up evenly. */
static double up_to_m(double higher_m, double rises, double turns_up) {
    double square = rises * rises + 2 * turns_up * higher_m;
    return square > 0 && rises + sqrt(square) > 0 ? 2 * higher_m / (rises + sqrt(square)) : BF_INFINITY;
}

static double smooth_m(const bfi_stream *stream, bfi_medium medium, double z_m, double rises,
                       double turns_up) {
    double height = -z_m, roughness = stream->wind.roughness_m, skin = stream->current.skin_m;
    if (medium == BFI_IN_AIR && height >= 0 && height < roughness)
        return BEYOND * up_to_m(roughness - height, rises, turns_up) + FLOOR_M;
    if (medium == BFI_IN_AIR) return FIRST_IN_AIR_M + HEIGHTS_IN_AIR * fabs(height);
    double below = z_m - SKINS_FELT * skin, within = IN_SKIN * skin;
    return below > MOST_IN_WATER_M ? MOST_IN_WATER_M : below > within ? below : within;
}

static double most_step_m(const bfi_stream *stream, bfi_medium medium, const double y[DIMENSIONS],
                          const double slope[DIMENSIONS]) {
    const double *pull = y + 3, *change = slope + 3;
    double square = pull[0] * pull[0] + pull[1] * pull[1] + pull[2] * pull[2];
    double shrinks = -(pull[0] * change[0] + pull[1] * change[1] + pull[2] * change[2]);
    double change_n_m = length_of(change) + FLOOR_N, turns = (sqrt(square) + FLOOR_N) / change_n_m;
    double most = shrinks > 0 && 0.9 * square < turns * shrinks
                      ? 0.9 * square / shrinks + 0.1 * FLOOR_N / change_n_m
                      : turns;
    double smooth = smooth_m(stream, medium, y[2], -slope[2], -change[2] / (sqrt(square) + FLOOR_N));
    return most < smooth ? most : smooth;
}

#define AGAIN_FAILED 0.5 /* where the flow has a kink the order fails */

/* The step that would just be good enough, by the fifth root of its error: a tenth to five times as long. */
static double step_factor(double error) {
    if (error < 1.8e-4) return 5.0;
    return error < 6e4 ? 0.9 * quick_exp(-0.2 * quick_log(error)) : 0.1;
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
    double left = length_m, wanted = length_m;
    int n_failed = 0;
    for (int n = 0; left > 0; n++) {
        double most = most_step_m(stream, medium, y, slope[0]), h = wanted;
        if (n == MOST_STEPS) return BF_E_NO_CONVERGE;
        if (h > most) h = most;
        if (h > left) h = left;
        for (int k = 1; k < BFI_STAGES; k++) {
            go_to_stage(k, y, h, slope, next);
            slope_of(&line, next, slope[k]);
        }
        double error = step_error_m(stream, slope, h, y), better = h * step_factor(error / tolerance_m);
        if (error - error != 0) return BF_E_NOT_FINITE;
        n_failed = error <= tolerance_m ? 0 : n_failed + 1;
        if (n_failed > 1 && better > AGAIN_FAILED * h) better = AGAIN_FAILED * h;
        if (n_failed == 0) {
            left = h == left ? 0 : left - h;
            for (int i = 0; i < DIMENSIONS; i++) {
                y[i] = next[i];
                slope[0][i] = slope[BFI_STAGES - 1][i];
            }
        }
        /* A step that was cut short says nothing against a longer one. */
        if (n_failed > 0 || better > wanted || h == wanted) wanted = better;
    }
    for (int i = 0; i < 3; i++) {
        strand->at_m[i] = y[i];
        strand->pull_n[i] = y[3 + i];
    }
    return BF_OK;
}
