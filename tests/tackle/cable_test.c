/* A thin cylinder's drag, the line under an even load, and marching: against the tables of tests/data/reference/tackle, made
 * with the constants named here (each table's own: water 15 C by Kell's formula, g 9.81). */
#include "core/tackle/cable.h"

#include "common/check.h"
#include "common/csv.h"

#define WATER_KG_M3 999.09961
#define WATER_M2_S 1.1393325e-6
#define AIR_KG_M3 1.225
#define AIR_M2_S 1.461e-5

static int is_header(const csv_file *csv, int column) {
    char *end;
    strtod(csv->cell[column], &end);
    return end == csv->cell[column] && strcmp(csv->cell[column], "inf") != 0;
}

static void drag_follows_cheng_and_sucker_and_brauer_to_printed_digits(void **state) {
    csv_file csv;
    int n = 0;
    (void)state;
    csv_open(&csv, "tackle/cylinder_drag.csv");
    while (csv_next(&csv)) {
        if (is_header(&csv, 0)) continue;
        double re = csv_number(&csv, 0);
        BF_CHECK_REL(bfi_cylinder_drag_fixed(re), csv_number(&csv, 1), 6e-5);
        BF_CHECK_REL(bfi_cylinder_drag(re), csv_number(&csv, 3), 6e-5);
        n++;
    }
    assert_int_equal(n, 23);
}

/* Dennis and Chang 1970, from memory: 4.12, 2.85, 2.05 at Re 5, 10, 20 and 1.52 at 40 (steady). */
static void drag_lies_within_8_percent_of_remembered_computed_values(void **state) {
    (void)state;
    BF_CHECK_REL(bfi_cylinder_drag(5), 4.12, 0.03);
    BF_CHECK_REL(bfi_cylinder_drag(10), 2.85, 0.03);
    BF_CHECK_REL(bfi_cylinder_drag(20), 2.05, 0.03);
    BF_CHECK_REL(bfi_cylinder_drag(40), 1.52, 0.08);
}

/* Ct on d x length = force / (1/2 rho d length U^2) = 2 x coefficient x nu / (U d). */
static void drag_along_follows_the_boundary_layer_table_within_its_fit(void **state) {
    csv_file csv;
    int n = 0;
    (void)state;
    csv_open(&csv, "tackle/cylinder_tangential.csv");
    while (csv_next(&csv)) {
        if (is_header(&csv, 1)) continue;
        double nu = strcmp(csv.cell[0], "air") == 0 ? AIR_M2_S : WATER_M2_S;
        double d = csv_number(&csv, 1) * 1e-3, u = csv_number(&csv, 2), length = csv_number(&csv, 3);
        BF_CHECK_REL(2 * bfi_cylinder_along(nu, length, u, d) * nu / (u * d), csv_number(&csv, 7), 0.013);
        n++;
    }
    assert_int_equal(n, 7);
}

/* The drag of a metre of upright line, as the fixed mode takes it. */
static void drag_of_line_by_diameter_and_speed_has_the_printed_digits(void **state) {
    csv_file csv;
    int n = 0;
    (void)state;
    csv_open(&csv, "tackle/line_drag_cases.csv");
    while (csv_next(&csv)) {
        if (is_header(&csv, 1)) continue;
        int is_air = strcmp(csv.cell[0], "air") == 0;
        double nu = is_air ? AIR_M2_S : WATER_M2_S, rho = is_air ? AIR_KG_M3 : WATER_KG_M3;
        double d = csv_number(&csv, 1) * 1e-3, u = csv_number(&csv, 2),
               cd = bfi_cylinder_drag_fixed(u * d / nu);
        BF_CHECK_REL(cd, csv_number(&csv, 4), 5e-4);
        BF_CHECK_REL(0.5 * rho * cd * d * u * u * 1e6, csv_number(&csv, 5), 6e-4);
        n++;
    }
    assert_int_equal(n, 40);
}

/* Still water in which nothing drags, or a uniform current along x in which a metre of line broadside drags r_n_m. */
static bfi_stream uniform(double speed_m_s, double length_m) {
    bfi_stream stream = {.current = bf_current_still(100),
                         .water = {WATER_KG_M3, WATER_KG_M3 * WATER_M2_S},
                         .air = {AIR_KG_M3, AIR_KG_M3 * AIR_M2_S},
                         .wind = bf_wind_profile_of(2),
                         .is_fixed = 1,
                         .drag_frac = speed_m_s > 0,
                         .length_m = length_m};
    stream.current.coef_x_m_s[0] = speed_m_s;
    return stream;
}

static bfi_cable line_of(double r_n_m, double w_n_m, double stiffness_n) {
    double d = 1e-3, u = 1;
    return (bfi_cable){.diameter_m = d,
                       .stiffness_n = stiffness_n,
                       .air_n_m = w_n_m,
                       .water_n_m = w_n_m,
                       .fixed_water = r_n_m / (0.5 * WATER_KG_M3 * d * u * u)};
}

#define EXACT_M 1e-13
#define DEEP_M 50

static bfi_strand march_up(const bfi_stream *stream, const bfi_cable *cable, double length_m, double pull_x,
                           double pull_z, double tolerance_m) {
    bfi_strand strand = {{0, 0, DEEP_M}, {pull_x, 0, pull_z}};
    assert_int_equal(bfi_march(stream, BFI_IN_WATER, cable, length_m, tolerance_m, &strand), BF_OK);
    strand.at_m[2] = DEEP_M - strand.at_m[2];
    return strand;
}

/* cable_catenary.csv, computed exactly; NREL MoorPy's own figures for the first row differ by 5e-7, its solver's tolerance. */
static void an_even_load_makes_the_catenary_to_1e_9(void **state) {
    csv_file csv;
    int n = 0;
    (void)state;
    csv_open(&csv, "tackle/cable_catenary.csv");
    while (csv_next(&csv)) {
        if (is_header(&csv, 3)) continue;
        double x = csv_number(&csv, 1), z = csv_number(&csv, 2), length = csv_number(&csv, 3);
        double ea = csv_number(&csv, 4), h = csv_number(&csv, 6), v_low = csv_number(&csv, 8);
        const double down[3] = {0, 0, csv_number(&csv, 5)};
        bfi_strand strand = {{0, 0, 0}, {h, 0, -v_low}};
        bfi_even_load(down, ea, length, &strand);
        BF_CHECK_ABS(strand.at_m[0], x, 1e-9 * length);
        BF_CHECK_ABS(-strand.at_m[2], z, 1e-9 * length);
        BF_CHECK_REL(-strand.pull_n[2], csv_number(&csv, 7), 1e-9);
        BF_CHECK_REL(sqrt(h * h + strand.pull_n[2] * strand.pull_n[2]), csv_number(&csv, 9), 1e-9);
        n++;
    }
    assert_int_equal(n, 6);
}

static void marching_makes_the_same_catenary(void **state) {
    csv_file csv;
    (void)state;
    csv_open(&csv, "tackle/cable_catenary.csv");
    while (csv_next(&csv)) {
        if (is_header(&csv, 3) || csv_number(&csv, 3) > 10) continue; /* metres, not a mooring */
        double length = csv_number(&csv, 3), w = csv_number(&csv, 5);
        bfi_stream still = uniform(0, length);
        bfi_cable cable = line_of(0, w, csv_number(&csv, 4));
        bfi_strand top = march_up(&still, &cable, length, csv_number(&csv, 6), -csv_number(&csv, 8), 1e-12);
        BF_CHECK_ABS(top.at_m[0], csv_number(&csv, 1), 1e-9 * length);
        BF_CHECK_ABS(top.at_m[2], csv_number(&csv, 2), 1e-9 * length);
    }
}

static void a_line_through_a_fold_keeps_its_length(void **state) {
    const double down[3] = {0, 0, 1};
    bfi_strand strand = {{0, 0, 0}, {0, 0, 0.3}}; /* hangs 0.3 m down and comes up again */
    (void)state;
    bfi_even_load(down, BF_INFINITY, 1, &strand);
    BF_CHECK_ABS(strand.at_m[2], 0.3 - 0.7, 1e-15);
    bfi_stream still = uniform(0, 1);
    bfi_cable cable = line_of(0, 1, BF_INFINITY);
    BF_CHECK_ABS(march_up(&still, &cable, 1, 0, 0.3, 1e-9).at_m[2], 0.4, 1e-6);
}

/* A weightless line with drag R sin^2 a metre hangs as a catenary turned on its side: derived for the table, names Glauert
 * 1934 and Landweber and Protter from memory. */
static void a_weightless_line_in_a_current_follows_the_table_to_1e_8(void **state) {
    csv_file csv;
    int n = 0;
    (void)state;
    csv_open(&csv, "tackle/cable_crossflow_neutral.csv");
    while (csv_next(&csv)) {
        if (is_header(&csv, 2)) continue;
        double r = csv_number(&csv, 2), length = csv_number(&csv, 3);
        bfi_stream stream = uniform(1, length);
        bfi_cable cable = line_of(r, 0, BF_INFINITY);
        double t = csv_number(&csv, 7), x = csv_number(&csv, 8), z = csv_number(&csv, 9);
        if (csv.cell[4][0]) { /* a bob below */
            bfi_strand top =
                march_up(&stream, &cable, length, -csv_number(&csv, 5), -csv_number(&csv, 4), EXACT_M);
            BF_CHECK_REL(-top.at_m[0], x, 1e-8);
            BF_CHECK_REL(top.at_m[2], z, 1e-8);
            BF_CHECK_REL(sqrt(top.pull_n[0] * top.pull_n[0] + top.pull_n[2] * top.pull_n[2]), t, 1e-8);
            BF_CHECK_REL(atan2(-top.pull_n[2], -top.pull_n[0]) * 180 / 3.14159265358979324,
                         csv_number(&csv, 10), 1e-8);
        } else { /* both ends held: cot of the angle at the end is half the length over T / R */
            double cot = 0.5 * length * r / t, sine = 1 / sqrt(1 + cot * cot);
            bfi_strand half = march_up(&stream, &cable, 0.5 * length, t * cot * sine, -t * sine, EXACT_M);
            bfi_strand whole = march_up(&stream, &cable, length, t * cot * sine, -t * sine, EXACT_M);
            BF_CHECK_REL(half.at_m[0], x, 1e-8);
            BF_CHECK_REL(whole.at_m[2], z, 1e-8);
            BF_CHECK_ABS(whole.at_m[0], 0, 1e-8 * length);
        }
        n++;
    }
    assert_int_equal(n, 6);
}

static void a_heavy_line_in_a_current_follows_the_table_to_1e_8(void **state) {
    csv_file csv;
    int n = 0;
    (void)state;
    csv_open(&csv, "tackle/cable_crossflow_heavy.csv");
    while (csv_next(&csv)) {
        if (is_header(&csv, 1)) continue;
        double r = csv_number(&csv, 1), w = csv_number(&csv, 2), length = csv_number(&csv, 3);
        double bob = csv_number(&csv, 4), drag = csv_number(&csv, 5), tolerance = 1e-8;
        bfi_stream stream = uniform(1, length);
        bfi_cable cable = line_of(r, w, BF_INFINITY);
        if (bob == 0 && drag == 0 &&
            r != w) { /* no bob: straight at the critical angle, from a pull of next to nothing */
            double angle = csv_number(&csv, 10) * 3.14159265358979324 / 180;
            drag = 1e-8 * cos(angle);
            bob = 1e-8 * sin(angle);
            tolerance = 1e-7;
        }
        bfi_strand top = march_up(&stream, &cable, length, -drag, bob > 0 ? -bob : 0, EXACT_M);
        BF_CHECK_REL(-top.at_m[0], csv_number(&csv, 6), tolerance);
        BF_CHECK_REL(top.at_m[2], csv_number(&csv, 7), tolerance);
        BF_CHECK_REL(atan2(-top.pull_n[2], -top.pull_n[0]) * 180 / 3.14159265358979324, csv_number(&csv, 8),
                     tolerance);
        n++;
    }
    assert_int_equal(n, 4);
}

/* Clift and Gauvin's sphere, as the table was made with (the program's own law differs by some per cent, drag.h). */
static double clift_gauvin(double re) {
    return 24 / re * (1 + 0.15 * pow(re, 0.687)) + 0.42 / (1 + 42500 * pow(re, -1.16));
}

static void a_shot_on_a_weightless_line_hangs_at_the_pendulums_angle_to_1e_6(void **state) {
    csv_file csv;
    int n = 0;
    (void)state;
    csv_open(&csv, "tackle/pendulum_sphere.csv");
    while (csv_next(&csv)) {
        if (is_header(&csv, 1)) continue;
        double kg = csv_number(&csv, 1) * 1e-3, u = csv_number(&csv, 2), pi = 3.14159265358979324;
        double d = cbrt(6 / pi * kg / 11340), re = u * d / WATER_M2_S, cd = clift_gauvin(re);
        double drag = 0.5 * WATER_KG_M3 * cd * pi / 4 * d * d * u * u,
               weight = kg * 9.81 * (1 - WATER_KG_M3 / 11340);
        bfi_stream still = uniform(0, 1);
        bfi_cable cable = line_of(0, 0, BF_INFINITY);
        bfi_strand top = march_up(&still, &cable, 1, -drag, -weight, EXACT_M);
        BF_CHECK_REL(re, csv_number(&csv, 3), 6e-5);
        BF_CHECK_REL(drag, csv_number(&csv, 5), 6e-6);
        BF_CHECK_REL(atan2(-top.at_m[0], top.at_m[2]) * 180 / pi, csv_number(&csv, 7), 1e-6);
        n++;
    }
    assert_int_equal(n, 45);
}

/* Fifth order: a tolerance a hundred thousand times as small takes ten times the steps, so errors follow it. */
static void a_smaller_tolerance_makes_a_smaller_error(void **state) {
    bfi_stream stream = uniform(1, 1);
    bfi_cable cable = line_of(1, 1, BF_INFINITY);
    (void)state;
    double exact = march_up(&stream, &cable, 1, 0, -1, 1e-14).at_m[0], before = 1;
    for (double tolerance = 1e-3; tolerance > 1e-10; tolerance *= 1e-2) {
        double error = fabs(march_up(&stream, &cable, 1, 0, -1, tolerance).at_m[0] - exact);
        BF_CHECK_IN(error, 0, tolerance);
        BF_CHECK_IN(error, 0, before);
        before = error > 1e-13 ? error : 1;
    }
}

static void wind_and_current_turned_round_turn_the_line_round(void **state) {
    bfi_stream out = uniform(0.05, 1), right = uniform(0, 1);
    bfi_cable cable = {1.2e-4, 20, 1.3e-4, 1.6e-5, 0, 0};
    (void)state;
    out.is_fixed = right.is_fixed = 0;
    right.drag_frac = 1;
    right.current.coef_y_m_s[0] = -0.05;
    bfi_strand a = {{0, 0, 1}, {0, 0, -5e-4}}, b = a;
    assert_int_equal(bfi_march(&out, BFI_IN_WATER, &cable, 1, 1e-9, &a), BF_OK);
    assert_int_equal(bfi_march(&right, BFI_IN_WATER, &cable, 1, 1e-9, &b), BF_OK);
    BF_CHECK_ABS(a.at_m[0], -b.at_m[1], 1e-15);
    BF_CHECK_ABS(a.at_m[2], b.at_m[2], 1e-15);
    assert_true(a.at_m[0] < -0.1);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(drag_follows_cheng_and_sucker_and_brauer_to_printed_digits),
        cmocka_unit_test(drag_lies_within_8_percent_of_remembered_computed_values),
        cmocka_unit_test(drag_along_follows_the_boundary_layer_table_within_its_fit),
        cmocka_unit_test(drag_of_line_by_diameter_and_speed_has_the_printed_digits),
        cmocka_unit_test(an_even_load_makes_the_catenary_to_1e_9),
        cmocka_unit_test(marching_makes_the_same_catenary),
        cmocka_unit_test(a_line_through_a_fold_keeps_its_length),
        cmocka_unit_test(a_weightless_line_in_a_current_follows_the_table_to_1e_8),
        cmocka_unit_test(a_heavy_line_in_a_current_follows_the_table_to_1e_8),
        cmocka_unit_test(a_shot_on_a_weightless_line_hangs_at_the_pendulums_angle_to_1e_6),
        cmocka_unit_test(a_smaller_tolerance_makes_a_smaller_error),
        cmocka_unit_test(wind_and_current_turned_round_turn_the_line_round),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
