/* throw.c -- see throw.h. */
#include "baitfall/throw.h"

#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"
#include "core/base/dormand_prince.h"
#include "core/feed/thrown.h"

bf_air bf_air_of(const bf_lake *lake) {
    double wind_10 = bf_wind_10_m_s(lake->wind_m_s.value, lake->wind_height_m);
    return (bf_air){.density_kg_m3 = bf_air_density_kg_m3(lake->temp_c.value),
                    .viscosity_pa_s = bf_air_viscosity_pa_s(lake->temp_c.value),
                    .gravity_m_s2 = BF_GRAVITY_M_S2,
                    .wind = bf_wind_profile_of(wind_10),
                    .wind_side_deg = lake->wind_side_deg.value};
}

/* Equation of motion ------------------------------------------------------------------------------------- */

/* Place (out, right, up), then velocity; or the rate of change of both. */
enum { X, Y, UP, VX, VY, VUP, N_STATE };
typedef struct state {
    double at[N_STATE];
} state;

/* One piece in one air, with what does not change on the way. */
typedef struct flying {
    bf_drag drag;
    double drag_per_m;         /* 3/4 air / density / equivalent_m                  */
    double reynolds_per_speed; /* Re = this x speed through the air                 */
    double wind_out, wind_right;
    const bf_air *air;
} flying;

static state rate_of(const flying *f, const state *s) {
    double wind = f->air->even_wind_m_s + bf_wind_at(&f->air->wind, s->at[UP]);
    double x = s->at[VX] - wind * f->wind_out, y = s->at[VY] - wind * f->wind_right, up = s->at[VUP];
    double speed = sqrt(x * x + y * y + up * up), reynolds = speed * f->reynolds_per_speed;
    double slowing = reynolds > 0 ? f->drag_per_m * bf_drag_coefficient(&f->drag, reynolds) * speed : 0;
    return (state){
        {s->at[VX], s->at[VY], s->at[VUP], -slowing * x, -slowing * y, -slowing * up - f->air->gravity_m_s2}};
}

/* One step of h seconds from a state whose rate is known. Returns the largest estimated error of place (m)
 * and velocity (m/s). */
static double step(const flying *f, const state *from, const state *rate, double h, state *to,
                   state *rate_to) {
    state k[BFI_STAGES] = {*rate};
    for (int i = 1; i < BFI_STAGES; i++) {
        *to = *from;
        for (int j = 0; j < i; j++)
            for (int c = 0; c < N_STATE; c++) to->at[c] += h * bfi_stage_weight[i][j] * k[j].at[c];
        k[i] = rate_of(f, to);
    }
    *rate_to = k[BFI_STAGES - 1];

    double most = 0;
    for (int c = 0; c < N_STATE; c++) {
        double error = 0;
        for (int j = 0; j < BFI_STAGES; j++) error += bfi_error_weight[j] * k[j].at[c];
        error = fabs(h * error);
        if (error > most) most = error;
    }
    return most;
}

#define MOST_STEPS 5000
#define FIRST_STEP_S 0.1
#define BARELY_BEYOND 1.02

/* Dropped from rest, to just below the water in one; thrown, a stretch of air. */
static double first_step_s(const bf_release *release, const bf_air *air) {
    double falls_s = BARELY_BEYOND * sqrt(2 * release->height_m / air->gravity_m_s2);
    int is_dropped = release->speed_m_s == 0 && release->height_m > 0 && air->gravity_m_s2 > 0;
    return is_dropped ? falls_s : FIRST_STEP_S;
}

typedef struct journey {
    state now, rate;
    double time_s, next_step_s;
} journey;

/* Shortens the step just tried until the component is zero at its end: Newton, its slope being the rate
 * there. */
static void end_where_zero(const flying *f, journey *j, int component, double tolerance, double h, state *to,
                           state *rate_to) {
    for (int i = 0; i < 12 && fabs(to->at[component]) > 0.1 * tolerance; i++) {
        h -= to->at[component] / rate_to->at[component];
        (void)step(f, &j->now, &j->rate, h, to, rate_to);
    }
    j->now = *to;
    j->rate = *rate_to;
    j->time_s += h;
}

/* Goes on until a component that is above zero has come down to zero. */
static bf_status fly_until_zero(const flying *f, journey *j, int component, double tolerance) {
    for (int i = 0; i < MOST_STEPS; i++) {
        if (!(j->now.at[component] > 0)) return BF_OK;
        state to, rate_to;
        double h = j->next_step_s, error = step(f, &j->now, &j->rate, h, &to, &rate_to);
        double grow = 0.9 * bf_pow(tolerance / (error + 1e-3 * tolerance), 0.2);
        j->next_step_s = h * (grow > 4 ? 4 : grow);
        if (error > tolerance) continue;
        if (!(to.at[component] > 0)) {
            end_where_zero(f, j, component, tolerance, h, &to, &rate_to);
            return BF_OK;
        }
        j->now = to;
        j->rate = rate_to;
        j->time_s += h;
    }
    return BF_E_NO_CONVERGE;
}

/* Checks ------------------------------------------------------------------------------------------------- */

typedef struct limit {
    double value, least, most;
} limit;

static bf_status check(const bf_piece *p, const bf_release *r, const bf_air *a, double tolerance_m) {
    const limit limits[] = {
        {p->equivalent_m, 1e-5, 0.2},  {p->density_kg_m3, 100, 20000},  {r->height_m, 0, 100},
        {r->speed_m_s, 0, 100},        {r->angle_deg, -90, 90},         {r->bearing_deg, -360, 360},
        {a->density_kg_m3, 0.5, 2},    {a->viscosity_pa_s, 1e-6, 1e-4}, {a->gravity_m_s2, 0, 20},
        {a->wind.per_e_m_s, 0, 20},    {a->wind.roughness_m, 1e-12, 1}, {a->even_wind_m_s, -50, 50},
        {a->wind_side_deg, -720, 720}, {tolerance_m, 1e-12, 0.01},
    };
    for (size_t i = 0; i < sizeof limits / sizeof limits[0]; i++)
        if (limits[i].value - limits[i].value != 0) return BF_E_NOT_FINITE;
    for (size_t i = 0; i < sizeof limits / sizeof limits[0]; i++)
        if (limits[i].value < limits[i].least || limits[i].value > limits[i].most) return BF_E_RANGE;
    if (r->speed_m_s * p->equivalent_m * a->density_kg_m3 / a->viscosity_pa_s > BF_DRAG_MOST_REYNOLDS)
        return BF_E_MODEL_RANGE;
    return BF_OK;
}

static flying flying_of(const bf_piece *piece, const bf_air *air) {
    return (flying){.drag = piece->drag,
                    .drag_per_m = 0.75 * air->density_kg_m3 / (piece->density_kg_m3 * piece->equivalent_m),
                    .reynolds_per_speed = air->density_kg_m3 * piece->equivalent_m / air->viscosity_pa_s,
                    .wind_out = bf_cos(air->wind_side_deg * BF_RAD_PER_DEG),
                    .wind_right = bf_sin(air->wind_side_deg * BF_RAD_PER_DEG),
                    .air = air};
}

static state leaving(const bf_release *r) {
    double level = r->speed_m_s * bf_cos(r->angle_deg * BF_RAD_PER_DEG),
           bearing = r->bearing_deg * BF_RAD_PER_DEG;
    return (state){{0, 0, r->height_m, level * bf_cos(bearing), level * bf_sin(bearing),
                    r->speed_m_s * bf_sin(r->angle_deg * BF_RAD_PER_DEG)}};
}

bf_status bf_throw_flight(const bf_piece *piece, const bf_release *release, const bf_air *air,
                          double tolerance_m, bf_flight *flight) {
    *flight = (bf_flight){BF_NAN, BF_NAN, BF_NAN, BF_NAN, BF_NAN, BF_NAN, BF_NAN};
    bf_status status = check(piece, release, air, tolerance_m);
    if (status) return status;

    flying f = flying_of(piece, air);
    journey j = {.now = leaving(release), .next_step_s = first_step_s(release, air)};
    j.rate = rate_of(&f, &j.now);

    status = fly_until_zero(&f, &j, VUP, tolerance_m);
    if (status) return status;
    double apex_m = j.now.at[UP];
    status = fly_until_zero(&f, &j, UP, tolerance_m);
    if (status) return status;

    const double *at = j.now.at;
    *flight = (bf_flight){at[X], at[Y], j.time_s, apex_m, at[VX], at[VY], -at[VUP]};
    return BF_OK;
}

/* A pinch ------------------------------------------------------------------------------------------------ */

static bf_release sling_release(const bf_sling *sling, double bearing_deg) {
    return (bf_release){sling->height_m.value, sling->speed_m_s.value, sling->angle_deg.value, bearing_deg};
}

static double within(double value, double least, double most) {
    return value < least ? least : value > most ? most : value;
}

bf_status bfi_thrown(const bf_sling *sling, double bearing_deg, const bf_piece *piece, const bf_air *air,
                     const bf_draw *draw, int i_piece, bf_flight *flight) {
    bf_release r = sling_release(sling, bearing_deg);
    r.speed_m_s *= 1.0 + sling->speed_scatter_frac * bfi_scatter_normal(draw, BFI_THROW_SPEED, i_piece);
    r.angle_deg += sling->angle_scatter_deg * bfi_scatter_normal(draw, BFI_THROW_ANGLE, i_piece);
    r.bearing_deg += sling->bearing_scatter_deg * bfi_scatter_normal(draw, BFI_THROW_BEARING, i_piece);
    r.speed_m_s = within(r.speed_m_s, 0, 100);
    r.angle_deg = within(r.angle_deg, -90, 90);
    r.bearing_deg = within(r.bearing_deg, -360, 360);
    return bf_throw_flight(piece, &r, air, BFI_THROW_TOLERANCE_M, flight);
}

/* Length that holds the middle nine in ten of n values; sorts them. */
static double middle_nine_tenths(double *values, size_t n) {
    bf_sort(values, n);
    return bf_quantile_sorted(values, n, 0.95) - bf_quantile_sorted(values, n, 0.05);
}

static bf_status throw_out(const bf_scene *scene, const bf_draw *draw, bf_throw_out *out) {
    bf_air air = bf_air_of(&scene->lake), still = air;
    still.wind.per_e_m_s = 0;
    bf_piece middle = bf_piece_of(&scene->bait, &scene->lake);
    bf_release release = sling_release(&scene->sling, 0);

    bf_flight flight, in_still_air;
    bf_status status = bf_throw_flight(&middle, &release, &air, BFI_THROW_TOLERANCE_M, &flight);
    if (status) return status;
    status = bf_throw_flight(&middle, &release, &still, BFI_THROW_TOLERANCE_M, &in_still_air);
    if (status) return status;

    double x[BF_PINCH], y[BF_PINCH];
    for (int i = 0; i < BF_PINCH; i++) {
        bf_piece piece = bf_piece_other(&middle, &scene->bait, bfi_scatter_normal(draw, BFI_PIECE_SIZE, i),
                                        bfi_scatter_normal(draw, BFI_PIECE_DENSITY, i));
        bf_flight f;
        status = bfi_thrown(&scene->sling, 0, &piece, &air, draw, i, &f);
        if (status) return status;
        x[i] = f.x_m;
        y[i] = f.y_m;
    }
    double u = flight.u_m_s, v = flight.v_m_s, w = flight.w_m_s;
    *out = (bf_throw_out){flight.x_m,
                          flight.y_m,
                          flight.time_s,
                          flight.apex_m,
                          sqrt(u * u + v * v + w * w),
                          flight.x_m - in_still_air.x_m,
                          middle_nine_tenths(x, BF_PINCH),
                          middle_nine_tenths(y, BF_PINCH)};
    return BF_OK;
}

#define OUT(member, dimension, least, help)                                                                  \
    BF_R(bf_throw_out, member, dimension, least, BF_INFINITY, BF_NAN, help)

static const bf_field throw_out_fields[] = {
    OUT(range_m, BF_LENGTH, -BF_INFINITY, "how far out the middle piece lands"),
    OUT(side_m, BF_LENGTH, -BF_INFINITY, "how far to the right of the aimed line, blown by the wind"),
    OUT(flight_s, BF_TIME, 0, "time in the air"),
    OUT(apex_m, BF_LENGTH, 0, "greatest height above the water"),
    OUT(speed_m_s, BF_SPEED, 0, "speed as it meets the water"),
    OUT(carry_m, BF_LENGTH, -BF_INFINITY, "how much further out than in still air; below 0: held back"),
    OUT(long_m, BF_LENGTH, 0, "nine pieces in ten of a pinch lie within this along the throw"),
    OUT(wide_m, BF_LENGTH, 0, "nine pieces in ten of a pinch lie within this across it"),
};

const bf_table bf_throw_out_table = BF_TABLE("throw", bf_throw_out, throw_out_fields);

bf_status bf_throw_model(const void *scene, const bf_draw *draw, double *out) {
    bf_throw_out answer = {BF_NAN, BF_NAN, BF_NAN, BF_NAN, BF_NAN, BF_NAN, BF_NAN, BF_NAN};
    bf_status status = throw_out(scene, draw, &answer);
    memcpy(out, &answer, sizeof answer);
    return status;
}

int bf_throw_notes(const void *record, const bf_ensemble_result *result, bf_note *notes) {
    const bf_scene *scene = record;
    int n = 0;
    (void)result;
    notes[n++] = (bf_note){BF_NOTE_ESTIMATE, {0, 0, 0}};
    notes[n++] = (bf_note){BF_NOTE_MEASURE_THROW, {0, 0, 0}};
    if (scene->lake.wind_m_s.value > 0 && scene->lake.wind_side_deg.is_unknown)
        notes[n++] = (bf_note){BF_NOTE_WIND_SIDE, {0, 0, 0}};
    return n;
}
