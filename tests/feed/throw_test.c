/* Flight through air against closed forms and an independent script's table
 * (tests/data/reference/feed/projectile.csv), against GSL's Prince-Dormand 8(9) solver, and what must hold by
 * symmetry. */
#include "common/check.h"
#include "common/csv.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_odeiv2.h>

#include "baitfall/random.h"
#include "baitfall/throw.h"

#define TIGHT_M 1e-11
#define RAD 0.017453292519943295

/* A piece with one drag coefficient at every speed. */
static bf_piece constant_drag(double diameter_m, double density_kg_m3, double drag) {
    return (bf_piece){.equivalent_m = diameter_m, .density_kg_m3 = density_kg_m3, .drag = {0, 0, 1, drag, 0}};
}

/* As the table: air 1.225, wind the same at every height. */
static bf_air table_air(double tail_wind_m_s) {
    return (bf_air){1.225, 1.789e-5, BF_GRAVITY_M_S2, {0, 1e-4}, tail_wind_m_s, 0};
}

/* A piece whose steady fall speed in table_air is terminal_m_s: drag per metre = g / terminal^2. */
static bf_piece with_terminal(double terminal_m_s) {
    double drag_per_m = BF_GRAVITY_M_S2 / (terminal_m_s * terminal_m_s);
    return constant_drag(0.006, 1200, drag_per_m * 1200 * 0.006 / (0.75 * 1.225));
}

static double speed(const bf_flight *f) {
    return sqrt(f->u_m_s * f->u_m_s + f->v_m_s * f->v_m_s + f->w_m_s * f->w_m_s);
}

static bf_flight fly(const bf_piece *piece, bf_release release, const bf_air *air) {
    bf_flight flight;
    assert_int_equal(bf_throw_flight(piece, &release, air, TIGHT_M, &flight), BF_OK);
    return flight;
}

/* The number after `name` in a text such as "d=6mm rho=1200 v0=10" or "x=9.116077840 m". */
static double number_after(const char *text, const char *name) {
    const char *at = strstr(text, name);
    assert_non_null(at);
    return strtod(at + strlen(name), NULL);
}

static void check_vertical(const csv_file *csv) {
    bf_piece piece = with_terminal(number_after(csv->cell[1], "vt="));
    bf_air air = table_air(0);
    bf_flight f = fly(&piece, (bf_release){0, number_after(csv->cell[1], "v0="), 90, 0}, &air);
    double up = number_after(csv->cell[4], "t_up="), down = number_after(csv->cell[6], "t_down=");
    BF_CHECK_ABS(f.apex_m, number_after(csv->cell[3], "H="), 0.6e-9);
    BF_CHECK_ABS(f.w_m_s, number_after(csv->cell[5], "v_return="), 0.6e-9);
    BF_CHECK_ABS(f.time_s, up + down, 1.1e-9);
    BF_CHECK_ABS(f.x_m, 0, 1e-12);
}

static void check_drop(const csv_file *csv) {
    bf_piece piece = with_terminal(number_after(csv->cell[1], "vt="));
    bf_air air = table_air(0);
    bf_flight f = fly(&piece, (bf_release){number_after(csv->cell[1], "H="), 0, 0, 0}, &air);
    BF_CHECK_ABS(f.time_s, number_after(csv->cell[3], "t="), 0.6e-9);
    BF_CHECK_ABS(f.w_m_s, number_after(csv->cell[4], "v="), 0.6e-9);
}

/* Without gravity the path is straight: thrown 45 degrees down from x / sqrt 2 it must meet the water at the
 * time. */
static void check_no_gravity(const csv_file *csv) {
    double k = number_after(csv->cell[1], "k="), v0 = number_after(csv->cell[1], "v0=");
    double x = number_after(csv->cell[3], "x=");
    bf_piece piece = constant_drag(0.006, 1200, k * 1200 * 0.006 / (0.75 * 1.225));
    bf_air air = table_air(0);
    air.gravity_m_s2 = 0;
    bf_flight f = fly(&piece, (bf_release){x * sqrt(0.5), v0, -45, 0}, &air);
    BF_CHECK_ABS(f.time_s, number_after(csv->cell[1], " t="), 1e-9);
    BF_CHECK_ABS(speed(&f), number_after(csv->cell[4], "v="), 1e-9);
    BF_CHECK_ABS(f.x_m, x * sqrt(0.5), 1e-9);
}

static void check_vacuum(const csv_file *csv) {
    bf_piece piece = constant_drag(0.006, 1200, 1e-30);
    bf_air air = table_air(0);
    bf_flight f = fly(&piece, (bf_release){0, 10, 45, 0}, &air);
    BF_CHECK_ABS(f.x_m, strtod(csv->cell[3], NULL), 0.6e-9);
}

static void check_projectile(const csv_file *csv) {
    const char *in = csv->cell[1];
    bf_piece piece = constant_drag(number_after(in, "d=") * 1e-3, number_after(in, "rho="), 0.47);
    bf_air air = table_air(number_after(in, "tailwind="));
    bf_flight f = fly(
        &piece, (bf_release){number_after(in, "h0="), number_after(in, "v0="), number_after(in, "angle="), 0},
        &air);
    BF_CHECK_ABS(f.x_m, number_after(csv->cell[3], "range="), 0.51e-6);
    BF_CHECK_ABS(f.time_s, number_after(csv->cell[4], "t="), 0.51e-6);
    BF_CHECK_ABS(speed(&f), number_after(csv->cell[5], "v_impact="), 0.51e-5);
    BF_CHECK_ABS(atan2(f.w_m_s, f.u_m_s) / RAD, number_after(csv->cell[6], "angle="), 0.51e-4);
}

/* The table does not say at what temperature it took the air's viscosity for this row; 15 C gives its five
 * digits. */
static void check_drag_law(const csv_file *csv) {
    const char *in = csv->cell[1];
    bf_piece piece = constant_drag(number_after(in, "d=") * 1e-3, number_after(in, "rho="), 0.47);
    bf_release release = {number_after(in, "h0="), number_after(in, "v0="), number_after(in, "a="), 0};
    bf_air air = table_air(0);
    bf_flight plain = fly(&piece, release, &air);
    BF_CHECK_ABS(plain.x_m, number_after(csv->cell[4], "range 0.47="), 0.51e-5);
    piece.drag = bf_drag_sphere();
    bf_flight law = fly(&piece, release, &air);
    BF_CHECK_ABS(law.x_m, number_after(csv->cell[3], "range BL="), 2e-5);
}

static void every_row_of_the_projectile_table_comes_out_to_its_printed_digits(void **state) {
    (void)state;
    static const struct {
        const char *begins;
        void (*check)(const csv_file *csv);
        int rows;
    } kind[] = {
        {"vertical throw", check_vertical, 3},
        {"drop from rest", check_drop, 2},
        {"horizontal, gravity off", check_no_gravity, 2},
        {"vacuum", check_vacuum, 1},
        {"projectile", check_projectile, 8},
        {"Re-dependent", check_drag_law, 2},
    };
    int seen[6] = {0}, rows = 0;
    csv_file csv;
    csv_open(&csv, "feed/projectile.csv");
    assert_true(csv_next(&csv));
    while (csv_next(&csv)) {
        for (int k = 0; k < 6; k++)
            if (strncmp(csv.cell[0], kind[k].begins, strlen(kind[k].begins)) == 0) {
                kind[k].check(&csv);
                seen[k]++;
            }
        rows++;
    }
    for (int k = 0; k < 6; k++) assert_int_equal(seen[k], kind[k].rows);
    assert_int_equal(rows, 18);
}

/* GSL: the same equation written again, Brown-Lawler written again, Prince-Dormand 8(9) at 1e-13, the
 * landing by bisection in time. */
typedef struct gsl_throw {
    double k, re, per_e, z0, out, right;
} gsl_throw;

static int gsl_rate(double t, const double s[], double r[], void *params) {
    const gsl_throw *p = params;
    (void)t;
    double wind = s[2] > p->z0 ? p->per_e * log(s[2] / p->z0) : 0;
    double x = s[3] - wind * p->out, y = s[4] - wind * p->right, z = s[5], v = sqrt(x * x + y * y + z * z);
    double re = p->re * v, cd = 24 / re * (1 + 0.150 * pow(re, 0.681)) + 0.407 / (1 + 8710 / re);
    for (int i = 0; i < 3; i++) r[i] = s[i + 3];
    r[3] = -p->k * cd * v * x;
    r[4] = -p->k * cd * v * y;
    r[5] = -p->k * cd * v * z - BF_GRAVITY_M_S2;
    return GSL_SUCCESS;
}

static void gsl_land(gsl_throw *p, const double start[6], double land[6], double *time) {
    gsl_odeiv2_system system = {gsl_rate, NULL, 6, p};
    double lo = 0, hi = 20;
    for (int i = 0; i < 60; i++) {
        double t = 0, until = (lo + hi) / 2;
        gsl_odeiv2_driver *d =
            gsl_odeiv2_driver_alloc_y_new(&system, gsl_odeiv2_step_rk8pd, 1e-3, 1e-13, 1e-13);
        memcpy(land, start, 6 * sizeof land[0]);
        assert_int_equal(gsl_odeiv2_driver_apply(d, &t, until, land), GSL_SUCCESS);
        gsl_odeiv2_driver_free(d);
        if (land[2] > 0)
            lo = until;
        else
            hi = until;
    }
    *time = (lo + hi) / 2;
}

static void flight_agrees_with_gsl_in_a_logarithmic_wind_from_the_side(void **state) {
    (void)state;
    bf_piece piece = bf_piece_of_form(BF_SPHERE, 0.006, 0, 1200, 1.225, 1.789e-5);
    bf_air air = {1.225, 1.789e-5, BF_GRAVITY_M_S2, bf_wind_profile_of(5), 0, 70};
    static const bf_release throws[] = {
        {1.3, 12, 40, 0}, {0.5, 8, 60, -3}, {1.5, 20, 10, 5}, {1.0, 15, -5, 0}};
    for (int i = 0; i < 4; i++) {
        const bf_release *r = &throws[i];
        gsl_throw p = {0.75 * 1.225 / (1200 * 0.006),
                       1.225 * 0.006 / 1.789e-5,
                       air.wind.per_e_m_s,
                       air.wind.roughness_m,
                       cos(70 * RAD),
                       sin(70 * RAD)};
        double level = r->speed_m_s * cos(r->angle_deg * RAD), land[6], time;
        double start[6] = {0,
                           0,
                           r->height_m,
                           level * cos(r->bearing_deg * RAD),
                           level * sin(r->bearing_deg * RAD),
                           r->speed_m_s * sin(r->angle_deg * RAD)};
        gsl_land(&p, start, land, &time);
        bf_flight tight = fly(&piece, *r, &air), loose;
        BF_CHECK_ABS(tight.time_s, time, 1e-9);
        BF_CHECK_ABS(tight.x_m, land[0], 1e-8);
        BF_CHECK_ABS(tight.y_m, land[1], 1e-8);
        BF_CHECK_ABS(tight.w_m_s, -land[5], 1e-8);
        /* As the commands fly it. */
        assert_int_equal(bf_throw_flight(&piece, r, &air, 1e-3, &loose), BF_OK);
        BF_CHECK_ABS(loose.x_m, land[0], 3e-3);
        BF_CHECK_ABS(loose.y_m, land[1], 3e-3);
        BF_CHECK_ABS(loose.apex_m, tight.apex_m, 3e-3);
    }
}

static void wind_from_the_other_side_mirrors_the_flight(void **state) {
    (void)state;
    bf_piece piece = bf_piece_of_form(BF_CYLINDER, 0.004, 0.005, 1200, 1.225, 1.789e-5);
    bf_air right = {1.225, 1.789e-5, BF_GRAVITY_M_S2, bf_wind_profile_of(4), 0, 90}, left = right;
    left.wind_side_deg = -90;
    bf_flight a = fly(&piece, (bf_release){1.3, 12, 40, 4}, &right),
              b = fly(&piece, (bf_release){1.3, 12, 40, -4}, &left);
    assert_true(a.x_m == b.x_m && a.y_m == -b.y_m && a.time_s == b.time_s);
}

static void tail_wind_carries_and_head_wind_holds_back(void **state) {
    (void)state;
    bf_piece piece = bf_piece_of_form(BF_SPHERE, 0.006, 0, 1200, 1.225, 1.789e-5);
    double before = -1;
    for (double wind = 0; wind <= 10; wind += 0.5) {
        bf_air air = {1.225, 1.789e-5, BF_GRAVITY_M_S2, bf_wind_profile_of(wind > 0 ? wind : 1e-9), 0, 0};
        double range = fly(&piece, (bf_release){1.3, 12, 40, 0}, &air).x_m;
        assert_true(range > before);
        before = range;
    }
}

static void every_error_of_the_header_is_given_and_leaves_nan(void **state) {
    (void)state;
    bf_piece piece = bf_piece_of_form(BF_SPHERE, 0.006, 0, 1200, 1.225, 1.789e-5);
    bf_air air = table_air(0);
    bf_release release = {1, 10, 45, 0}, bad = release;
    bf_flight f;
    bad.speed_m_s = BF_NAN;
    assert_int_equal(bf_throw_flight(&piece, &bad, &air, 1e-5, &f), BF_E_NOT_FINITE);
    bad.speed_m_s = -1;
    assert_int_equal(bf_throw_flight(&piece, &bad, &air, 1e-5, &f), BF_E_RANGE);
    assert_int_equal(bf_throw_flight(&piece, &release, &air, 0, &f), BF_E_RANGE);
    bf_piece ball = bf_piece_of_form(BF_BALL, 0.1, 0, 1200, 1.225, 1.789e-5);
    bad.speed_m_s = 60;
    assert_int_equal(bf_throw_flight(&ball, &bad, &air, 1e-5, &f), BF_E_MODEL_RANGE);
    air.gravity_m_s2 = 0;
    assert_int_equal(bf_throw_flight(&piece, &release, &air, 1e-5, &f), BF_E_NO_CONVERGE);
    assert_true(isnan(f.x_m) && isnan(f.time_s) && isnan(f.w_m_s));
}

/* The command's model ------------------------------------------------------------------------------------ */

static bf_scene calm_scene(void) {
    bf_scene scene;
    bf_scene_start(&scene);
    scene.lake.wind_m_s.value = 0;
    scene.lake.wind_side_deg = (bf_quantity){0, 0, 0};
    return scene;
}

static bf_throw_out model(const bf_scene *scene, uint64_t index, int is_nominal) {
    bf_draw draw = {1, index, is_nominal};
    double out[8];
    assert_int_equal(bf_throw_model(scene, &draw, out), BF_OK);
    return (bf_throw_out){out[0], out[1], out[2], out[3], out[4], out[5], out[6], out[7]};
}

static void a_pinch_without_scatter_lands_in_one_place(void **state) {
    (void)state;
    bf_scene scene = calm_scene();
    scene.sling.speed_scatter_frac = scene.sling.angle_scatter_deg = scene.sling.bearing_scatter_deg = 0;
    scene.bait.size_scatter_frac = scene.bait.density_scatter_kg_m3 = 0;
    bf_throw_out out = model(&scene, 0, 0);
    BF_CHECK_ABS(out.long_m, 0, 1e-12);
    BF_CHECK_ABS(out.wide_m, 0, 1e-12);
    BF_CHECK_ABS(out.carry_m, 0, 1e-12);
    BF_CHECK_ABS(out.side_m, 0, 1e-12);
}

/* Bearing scatter alone puts pieces on an arc: across, range x sin(normal); 3.29 standard deviations hold
 * nine in ten. Mean over 400 pinches; a sample of 24 gives 0.93 of the whole's width (simulated here with the
 * same rule). */
static void width_of_a_pinch_is_range_times_bearing_scatter(void **state) {
    (void)state;
    bf_scene scene = calm_scene();
    scene.sling.speed_scatter_frac = scene.sling.angle_scatter_deg = 0;
    scene.bait.size_scatter_frac = scene.bait.density_scatter_kg_m3 = 0;
    double wide = 0, range = 0, plain = 0;
    for (uint64_t i = 0; i < 400; i++) {
        bf_throw_out out = model(&scene, i, 0);
        wide += out.wide_m / 400;
        range += out.range_m / 400;
        double z[BF_PINCH];
        for (int j = 0; j < BF_PINCH; j++) z[j] = bf_normal(99, 7, i * BF_PINCH + (uint64_t)j);
        bf_sort(z, BF_PINCH);
        plain += (bf_quantile_sorted(z, BF_PINCH, 0.95) - bf_quantile_sorted(z, BF_PINCH, 0.05)) / 400;
    }
    /* 400 pinches: the mean of either is known to about 1 %. */
    BF_CHECK_REL(wide, range * sin(scene.sling.bearing_scatter_deg * RAD) * plain, 0.04);
}

static void more_speed_goes_further_and_the_answer_is_a_pure_function_of_the_draw(void **state) {
    (void)state;
    bf_scene slow = calm_scene(), fast = slow;
    fast.sling.speed_m_s.value += 3;
    assert_true(model(&fast, 5, 0).range_m > model(&slow, 5, 0).range_m);
    bf_throw_out a = model(&slow, 9, 0);
    (void)model(&fast, 2, 1);
    bf_throw_out b = model(&slow, 9, 0);
    assert_memory_equal(&a, &b, sizeof a);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_row_of_the_projectile_table_comes_out_to_its_printed_digits),
        cmocka_unit_test(flight_agrees_with_gsl_in_a_logarithmic_wind_from_the_side),
        cmocka_unit_test(wind_from_the_other_side_mirrors_the_flight),
        cmocka_unit_test(tail_wind_carries_and_head_wind_holds_back),
        cmocka_unit_test(every_error_of_the_header_is_given_and_leaves_nan),
        cmocka_unit_test(a_pinch_without_scatter_lands_in_one_place),
        cmocka_unit_test(width_of_a_pinch_is_range_times_bearing_scatter),
        cmocka_unit_test(more_speed_goes_further_and_the_answer_is_a_pure_function_of_the_draw),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
