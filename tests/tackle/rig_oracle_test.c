/* The solver against a rig solved another way: GSL's Runge-Kutta (Prince and Dormand, eighth order) from the pole tip DOWN, its
 * multidimensional root finder on the pull at the tip and the push of the water under the float. Drag laws, loads and the
 * float's drag are written out again here from their sources; only water, wind, current, the float's bristle and the masses
 * of shot come from the program. */
#include "baitfall/rig.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_multiroots.h>
#include <gsl/gsl_odeiv2.h>

#include "common/check.h"
#include "tackle/random_rig.h"

#define G 9.80665

static double cheng(double re) {
    return 11 * pow(re, -0.75) + 0.9 * (1 - exp(-1000 / re)) + 1.2 * (1 - exp(-pow(re / 4500, 0.7)));
}

/* The fit of cable.h to Glauert and Lighthill's method. */
static double along(double nu, double length, double u, double d) {
    double x = log(nu * length / (u * d * d / 4));
    x = fmin(16.8, fmax(0.7, x));
    return 2 * 3.14159265358979324 /
           (0.901522998 + 0.336197543 * x + 0.0149320391 * x * x - 0.000456361729 * x * x * x);
}

typedef struct world {
    const bf_stand *stand;
    bf_current current;
    bf_wind_profile wind;
    double wind_x, wind_y, rho, mu, rho_air, mu_air, drag;
    double below_m;
} world;

typedef struct span {
    const world *w;
    const bf_fishing_line *line;
    int is_air;
    double length_m;
} span;

static world world_of(const bf_stand *stand) {
    const bf_lake *lake = &stand->scene.lake;
    world w = {.stand = stand,
               .rho = bf_lake_density_kg_m3(lake),
               .mu = bf_water_viscosity_pa_s(lake->temp_c.value),
               .rho_air = bf_air_density_kg_m3(lake->temp_c.value),
               .mu_air = bf_air_viscosity_pa_s(lake->temp_c.value),
               .drag = 1 + 0.1 * stand->hold.line_drag_error.value,
               .below_m = stand->scene.spot.depth_m.value + stand->hold.overdepth_m.value};
    double side = lake->wind_side_deg.value * 3.14159265358979324 / 180;
    w.wind = bf_wind_profile_of(bf_wind_10_m_s(lake->wind_m_s.value, lake->wind_height_m));
    w.wind_x = cos(side);
    w.wind_y = sin(side);
    assert_int_equal(bf_stand_current(stand, &w.current), BF_OK);
    return w;
}

static void flow(const world *w, int is_air, double z, double u[2]) {
    if (is_air) {
        double speed = bf_wind_at(&w->wind, -z);
        u[0] = speed * w->wind_x;
        u[1] = speed * w->wind_y;
    } else {
        bf_current_at(&w->current, z, &u[0], &u[1]);
    }
}

/* y: place, pull of what is BELOW on what is above; s runs down. dr/ds = pull direction, dpull/ds = load. */
static int descend(double s, const double y[], double dy[], void *params) {
    const span *sp = params;
    const world *w = sp->w;
    double rho = sp->is_air ? w->rho_air : w->rho, mu = sp->is_air ? w->mu_air : w->mu,
           d = sp->line->diameter_m, u[2];
    double pull = sqrt(y[3] * y[3] + y[4] * y[4] + y[5] * y[5]), t[3], q[3];
    (void)s;
    for (int i = 0; i < 3; i++) t[i] = y[3 + i] / pull;
    flow(w, sp->is_air, y[2], u);
    double ut = u[0] * t[0] + u[1] * t[1], n[3] = {u[0] - ut * t[0], u[1] - ut * t[1], -ut * t[2]};
    double un = sqrt(n[0] * n[0] + n[1] * n[1] + n[2] * n[2]);
    double kn = un > 1e-9 ? 0.5 * rho * d * cheng(un * d * rho / mu) * un : 0;
    double kt = fabs(ut) > 1e-9 ? mu * along(mu / rho, sp->length_m, fabs(ut), d) : 0;
    for (int i = 0; i < 3; i++) q[i] = w->drag * (kn * n[i] + kt * ut * t[i]);
    double density = bf_line_density_kg_m3(sp->line->kind), area = 3.14159265358979324 / 4 * d * d;
    q[2] += area * (density - (sp->is_air ? 0 : rho)) * G;
    for (int i = 0; i < 3; i++) {
        dy[i] = t[i] * (1 + pull / bf_line_stiffness_n(sp->line));
        dy[3 + i] = -q[i];
    }
    return GSL_SUCCESS;
}

static int run(const span *sp, double length, double y[6]) {
    gsl_odeiv2_system system = {descend, NULL, 6, (void *)sp};
    const double scale[6] = {1, 1, 1, 1e-3, 1e-3, 1e-3};
    if (!(length > 0)) return GSL_SUCCESS;
    gsl_odeiv2_driver *driver = gsl_odeiv2_driver_alloc_scaled_new(&system, gsl_odeiv2_step_rk8pd,
                                                                   length * 1e-4, 1e-9, 0, 1, 0, scale);
    double s = 0;
    int status = gsl_odeiv2_driver_apply(driver, &s, length, y);
    gsl_odeiv2_driver_free(driver);
    return status;
}

static void add_sphere(const world *w, const bf_drag *law, double d, double z, double count,
                       double force[3]) {
    double u[2];
    bf_current_at(&w->current, z, &u[0], &u[1]);
    double speed = hypot(u[0], u[1]);
    if (!(speed > 0)) return;
    double re = speed * d * w->rho / w->mu;
    double cd = law->a / re * (1 + law->b * pow(re, law->n)) + law->c / (1 + law->d / re);
    for (int i = 0; i < 2; i++)
        force[i] += count * 0.5 * w->rho * cd * 3.14159265358979324 / 4 * d * d * speed * u[i];
}

typedef struct slice {
    const world *w;
    int is_air, component, is_spindle;
    double from_m, long_m, wide_m;
} slice;

static double slice_drag(double z, void *params) {
    const slice *s = params;
    double u[2], rho = s->is_air ? s->w->rho_air : s->w->rho, mu = s->is_air ? s->w->mu_air : s->w->mu;
    double off = 2 * (z - s->from_m) / s->long_m - 1,
           d = s->is_spindle ? s->wide_m * sqrt(fmax(0, 1 - off * off)) : s->wide_m;
    flow(s->w, s->is_air, z, u);
    double speed = hypot(u[0], u[1]);
    return speed > 0 && d > 0 ? 0.5 * rho * cheng(speed * d * rho / mu) * d * speed * u[s->component] : 0;
}

static double drag_of(const world *w, int is_air, int component, double from_m, double long_m, double wide_m,
                      int is_spindle) {
    static gsl_integration_glfixed_table *table;
    slice s = {w, is_air, component, is_spindle, from_m, long_m, wide_m};
    gsl_function f = {slice_drag, &s};
    if (!table) table = gsl_integration_glfixed_table_alloc(64);
    return long_m > 0 ? gsl_integration_glfixed(&f, from_m, from_m + long_m, table) : 0;
}

/* What dotting down by eye adds to the float: with it, hanging in calm water, as much shows as is said. */
static double trimmers(const world *w) {
    const bf_rig *rig = &w->stand->rig;
    double tension = bf_water_tension_n_m(w->stand->scene.lake.temp_c.value),
           most = 0.25 * bf_float_lift_n(&rig->flt, w->rho), below = w->below_m,
           fine = fmin(below, rig->hooklength.length_m);
    const bf_bait *bait = &w->stand->hook_bait;
    double excess = bait->density_kg_m3.value - w->rho,
           pieces_m3 = bf_piece_volume_m3(bait->form, bait->diameter_m.value, bait->length_m.value);
    double hangs = bf_hook_weight_n(&rig->hook, w->rho) +
                   fine * bf_line_weight_water_n_m(&rig->hooklength, w->rho) +
                   (below - fine) * bf_line_weight_water_n_m(&rig->line, w->rho);
    if (w->stand->hold.overdepth_m.value < -0.03) hangs += excess * pieces_m3 * 9.80665;
    for (int r = 0; r < rig->n_shots; r++)
        hangs += rig->shot[r].count * bf_shot_weight_n(&rig->shot[r], rig->shot_error.value, w->rho);
    double per_m =
        bf_float_shows_m(&rig->flt, 0, w->rho, tension) - bf_float_shows_m(&rig->flt, 1, w->rho, tension);
    double trim = (bf_float_shows_m(&rig->flt, hangs, w->rho, tension) - rig->dotted_m.value) / per_m;
    return fmin(fmax(trim, -most), most);
}

static void float_drag(const world *w, double down_n, double push[2]) {
    const bf_float *f = &w->stand->rig.flt;
    double tension = bf_water_tension_n_m(w->stand->scene.lake.temp_c.value);
    double shows = bf_float_shows_m(f, down_n + trimmers(w), w->rho, tension),
           dry = fmin(fmax(shows, 0), f->bristle_long_m);
    double wet = f->bristle_long_m - dry;
    for (int i = 0; i < 2; i++)
        push[i] = drag_of(w, 1, i, -dry, dry, f->bristle_m, 0) + drag_of(w, 0, i, 0, wet, f->bristle_m, 0) +
                  drag_of(w, 0, i, wet, f->body_long_m, f->body_m, 1) +
                  drag_of(w, 0, i, wet + f->body_long_m, f->stem_long_m, bf_float_usual_build.stem_m, 0);
}

typedef struct load {
    double at_m, kg;
    int row, count;
} load;

static int highest_first(const void *a, const void *b) {
    double x = ((const load *)a)->at_m, y = ((const load *)b)->at_m;
    return (x < y) - (x > y);
}

static int loads_of(const bf_stand *stand, load *loads) {
    int n = 0;
    for (int r = 0; r < stand->rig.n_shots; r++) {
        const bf_shot *shot = &stand->rig.shot[r];
        double d = bf_shot_diameter_m(shot, stand->rig.shot_error.value);
        int apart = shot->apart_m > 0;
        for (int i = 0; i < (apart ? shot->count : 1); i++)
            loads[n++] = (load){shot->at_m + (apart ? i * shot->apart_m : 0.5 * (shot->count - 1) * d), 0, r,
                                apart ? 1 : shot->count};
    }
    qsort(loads, (size_t)n, sizeof *loads, highest_first);
    return n;
}

typedef struct guess {
    const world *w;
    const bf_rig_shape *shape;
    double float_m[3], bait_m[3], float_air_n, float_water_n, end_n[3]; /* out */
} guess;

/* x: pull of the line on the tip (3, in mN) and upward push of the water on the float (mN). f: float at the surface; the hook's
 * end in balance when it hangs, else the bait where the solver says, with whatever push that takes. */
static int shoot(const gsl_vector *x, void *params, gsl_vector *f) {
    guess *g = params;
    const world *w = g->w;
    const bf_rig *rig = &w->stand->rig;
    double y[6] = {0, 0, -w->stand->hold.tip_height_m.value}, push[2];
    for (int i = 0; i < 3; i++) y[3 + i] = 1e-3 * gsl_vector_get(x, (size_t)i);
    span air = {w, &rig->line, 1, rig->tip_to_float_m};
    if (run(&air, rig->tip_to_float_m, y)) return GSL_EFAILED;
    for (int i = 0; i < 3; i++) g->float_m[i] = y[i];
    g->float_air_n = sqrt(y[3] * y[3] + y[4] * y[4] + y[5] * y[5]);

    double lift = y[5], up = 1e-3 * gsl_vector_get(x, 3),
           down = up; /* what the water carries is what pulls it down */
    float_drag(w, down, push);
    y[3] -= push[0];
    y[4] -= push[1];
    y[5] = lift + up;
    g->float_water_n = sqrt(y[3] * y[3] + y[4] * y[4] + y[5] * y[5]);

    load loads[BF_RIG_SHOTS * 40];
    int n = loads_of(w->stand, loads);
    double at = w->below_m, knot = fmin(rig->hooklength.length_m, w->below_m);
    for (int i = 0; i <= n; i++) {
        double to = i < n ? fmin(loads[i].at_m, w->below_m) : 0;
        span main_line = {w, &rig->line, 0, w->below_m}, fine = {w, &rig->hooklength, 0, w->below_m};
        double stop = fmax(to, knot);
        if (at > stop && run(&main_line, at - stop, y)) return GSL_EFAILED;
        if (fmin(at, knot) > to && run(&fine, fmin(at, knot) - to, y)) return GSL_EFAILED;
        at = to;
        if (i == n) break;
        const bf_shot *shot = &rig->shot[loads[i].row];
        double force[3] = {0, 0, loads[i].count * bf_shot_weight_n(shot, rig->shot_error.value, w->rho)};
        bf_drag law = bf_shot_piece(shot, 0, w->rho, w->mu).drag;
        add_sphere(w, &law, bf_shot_diameter_m(shot, rig->shot_error.value), y[2], loads[i].count, force);
        for (int k = 0; k < 3; k++) y[3 + k] -= force[k];
    }
    const bf_bait *bait = &w->stand->hook_bait;
    bf_piece piece = bf_piece_of(bait, &w->stand->scene.lake);
    double volume = bf_piece_volume_m3(bait->form, bait->diameter_m.value, bait->length_m.value);
    double end[3] = {
        0, 0, bf_hook_weight_n(&rig->hook, w->rho) + volume * (bait->density_kg_m3.value - w->rho) * G};
    add_sphere(w, &piece.drag, piece.equivalent_m, y[2], 1, end);
    for (int i = 0; i < 3; i++) {
        g->bait_m[i] = y[i];
        g->end_n[i] = end[i] - y[3 + i]; /* what the bottom has to hold */
    }
    gsl_vector_set(f, 0, g->float_m[2]);
    for (size_t i = 0; i < 3; i++) {
        double off_m = g->bait_m[i] - g->shape->bait_m[i];
        gsl_vector_set(f, i + 1, g->shape->contact == BF_HANGS ? 1e3 * g->end_n[i] : off_m);
    }
    return GSL_SUCCESS;
}

/* Starts from the solver's own pulls, put wrong by up to 3 %. */
static int solve_again(guess *g, rig_maker *m, double tip_n[3]) {
    const bf_rig_shape *s = g->shape;
    gsl_multiroot_function f = {shoot, 4, g};
    gsl_vector *x = gsl_vector_alloc(4);
    double leaves[3], length = 0;
    for (int i = 0; i < 3; i++) {
        leaves[i] = s->air_m[1][i] - s->air_m[0][i];
        length += leaves[i] * leaves[i];
    }
    for (int i = 0; i < 3; i++)
        gsl_vector_set(x, (size_t)i,
                       1e3 * s->tip_tension_n * leaves[i] / sqrt(length) * (1 + rig_real(m, -0.03, 0.03)));
    double lift = s->float_air_n * (s->air_m[s->n_air - 1][2] - s->air_m[s->n_air - 2][2]) * (s->n_air - 1) /
                  g->w->stand->rig.tip_to_float_m;
    gsl_vector_set(x, 3, 1e3 * (s->float_water_n - lift) * (1 + rig_real(m, -0.001, 0.001)));
    gsl_multiroot_fsolver *solver = gsl_multiroot_fsolver_alloc(gsl_multiroot_fsolver_hybrids, 4);
    int status = gsl_multiroot_fsolver_set(solver, &f, x);
    for (int i = 0; i < 200 && !status; i++) {
        status = gsl_multiroot_fsolver_iterate(solver);
        if (gsl_multiroot_test_residual(solver->f, 1e-7) == GSL_SUCCESS) break;
    }
    status = gsl_multiroot_test_residual(solver->f, 1e-5);
    shoot(solver->x, g, solver->f);
    for (int i = 0; i < 3; i++) tip_n[i] = 1e-3 * gsl_vector_get(solver->x, (size_t)i);
    gsl_multiroot_fsolver_free(solver);
    gsl_vector_free(x);
    return status == GSL_SUCCESS;
}

/* Drawn straight: a line that pulls on nothing and lies anywhere. One that stands in the wind bends. */
static int is_straight(const bf_rig_shape *s) {
    const double *a = s->air_m[0], *b = s->air_m[s->n_air - 1], *middle = s->air_m[s->n_air / 2];
    double square = 0, part = (double)(s->n_air / 2) / (s->n_air - 1);
    for (int k = 0; k < 3; k++) square += pow(a[k] + part * (b[k] - a[k]) - middle[k], 2);
    return square < 1e-20;
}

/* Slack line that floats or lies straight, back shots that sink and a float that is lifted have models of their own (rig.md);
 * the rigs compared stand on tight line above, and hang or touch below. */
static int is_comparable(const bf_stand *stand, const bf_rig_shape *s) {
    double floats = s->air_m[s->n_air - 1][2] - s->air_m[s->n_air - 2][2];
    int is_tight = stand->rig.n_back_shots == 0 && floats > 1e-4 * stand->rig.tip_to_float_m / s->n_air;
    int is_taut_below = s->contact == BF_HANGS || (s->contact == BF_TOUCHES && s->bait_tension_n > 1e-6);
    int is_drawn_at = s->contact == BF_HANGS || s->friction_used_frac > 0;
    return is_tight && is_taut_below && is_drawn_at && !s->is_lifted && !is_straight(s);
}

/* A pull of some hundredths of a millinewton is right to this, the weight of 10 micrograms. */
#define LEAST_N 1e-7

/* ... and what the bottom holds, at a bait placed to a hundredth of a millimetre, to this and a hundredth. */
#define HOLDS_N 3e-6

/* What holds the bait along the bottom by the end's balance; *most_n: what friction can hold there. */
static double held_n(const guess *g, double *most_n) {
    double slope = tan(g->w->stand->scene.spot.slope_deg.value * 3.14159265358979324 / 180), push[3],
           square = 0;
    for (int i = 0; i < 3; i++) {
        push[i] = -g->end_n[i];
        square += push[i] * push[i];
    }
    double normal = (slope * push[0] - push[2]) / sqrt(1 + slope * slope);
    *most_n = normal * g->w->stand->hold.friction_frac.value;
    return sqrt(fmax(0, square - normal * normal));
}

static void two_hundred_rigs_agree_with_an_independent_solution(void **state) {
    int n = 0, n_hang = 0, n_touch = 0, n_not_solved = 0;
    (void)state;
    gsl_set_error_handler_off();
    for (int i = 0; n < 200; i++) {
        rig_maker maker = rig_maker_start((uint64_t)i + 40000);
        bf_stand stand = random_stand(&maker);
        bf_rig_shape s;
        stand.rig.n_back_shots = 0;
        bf_status status = bf_rig_solve(&stand, 1, 0, &s);
        assert_true(status == BF_OK || status == BF_E_MODEL_RANGE); /* blown out of the water */
        if (status || !is_comparable(&stand, &s)) continue;
        world w = world_of(&stand);
        guess g = {.w = &w, .shape = &s};
        double tip[3];
        if (!solve_again(&g, &maker, tip)) {
            n_not_solved++;
            continue;
        }
        for (int k = 0; k < 3; k++) {
            BF_CHECK_ABS(g.float_m[k], s.float_m[k], 1e-4);
            BF_CHECK_ABS(g.bait_m[k], s.bait_m[k], 1e-4);
        }
        double tip_n = sqrt(tip[0] * tip[0] + tip[1] * tip[1] + tip[2] * tip[2]);
        BF_CHECK_ABS(tip_n, s.tip_tension_n, 1e-3 * s.tip_tension_n + LEAST_N);
        BF_CHECK_ABS(g.float_air_n, s.float_air_n, 1e-3 * s.float_air_n + LEAST_N);
        BF_CHECK_ABS(g.float_water_n, s.float_water_n, 1e-3 * s.float_water_n + LEAST_N);
        double most, held = held_n(&g, &most);
        if (s.contact == BF_TOUCHES) BF_CHECK_ABS(held, s.friction_used_frac * most, 0.01 * held + HOLDS_N);
        n++;
        n_hang += s.contact == BF_HANGS;
        n_touch += s.contact == BF_TOUCHES;
    }
    print_message("%d hang, %d touch; GSL's root finder gave up on %d more\n", n_hang, n_touch, n_not_solved);
    assert_true(n_hang > 40 && n_touch > 40);
    assert_true(n_not_solved < 20);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(two_hundred_rigs_agree_with_an_independent_solution),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
