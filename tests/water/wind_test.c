/* Wind over water and the flow of a closed basin, against tests/data/reference/water (README there), against
 * a GSL quadrature, a finite-difference solution of the same equation, and what must hold by symmetry. */
#include "common/check.h"
#include "common/csv.h"

#include <gsl/gsl_integration.h>

#include "baitfall/wind.h"

static const double air_kg_m3 = 1.225, water_kg_m3 = 999.1; /* as in the tables */

static bf_lake lake_with_wind(double wind_m_s, double side_deg) {
    bf_lake lake;
    bf_record_start(&bf_lake_table, &lake);
    lake.wind_m_s.value = wind_m_s;
    lake.wind_side_deg = (bf_quantity){side_deg, 0, 0};
    return lake;
}

/* Columns of wind_profile.csv. */
enum { U10, LAW, FLAG, C10, Z0_MM, USTAR_AIR, TAU, USTAR_WATER, U_2, U_05, U_RATIO, U_02 };

/* Printed to five digits. The two laws used are recomputed; for the other two (open sea) the printed drag
 * goes in and the profile and stress must come out. */
static void every_row_of_the_wind_profile_table_comes_out(void **state) {
    (void)state;
    csv_file csv;
    csv_open(&csv, "water/wind_profile.csv");
    int rows = 0, rows_of_our_laws = 0;
    assert_true(csv_next(&csv));
    while (csv_next(&csv)) {
        double u = csv_number(&csv, U10), drag = csv_number(&csv, C10);
        if (strncmp(csv.cell[LAW], "WuestLorke_low", 14) == 0) {
            drag = bf_surface_drag_low_wind(u);
            rows_of_our_laws++;
        } else if (strncmp(csv.cell[LAW], "Charnock", 8) == 0) {
            drag = bf_surface_drag_charnock(u);
            rows_of_our_laws++;
        }
        /* Five digits are printed; the table took g = 9.81 in Charnock's law, worth 6e-5. */
        BF_CHECK_REL(drag, csv_number(&csv, C10), 1.2e-4);
        bf_wind_profile p = bf_wind_profile_drag(u, drag);
        BF_CHECK_REL(p.roughness_m * 1e3, csv_number(&csv, Z0_MM), 1.2e-3); /* 9 times the drag's error */
        BF_CHECK_REL(p.per_e_m_s * 0.41, csv_number(&csv, USTAR_AIR), 5e-4);
        double stress = air_kg_m3 * drag * u * u;
        BF_CHECK_REL(stress, csv_number(&csv, TAU), 1.2e-4);
        BF_CHECK_REL(sqrt(stress / water_kg_m3), csv_number(&csv, USTAR_WATER), 1e-4);
        BF_CHECK_REL(bf_wind_at(&p, 2), csv_number(&csv, U_2), 5e-4);
        BF_CHECK_REL(bf_wind_at(&p, 0.5), csv_number(&csv, U_05), 5e-4);
        BF_CHECK_REL(bf_wind_at(&p, 0.2), csv_number(&csv, U_02), 5e-4);
        BF_CHECK_REL(bf_wind_at(&p, 10), u, 1e-12);
        rows++;
    }
    assert_int_equal(rows, 44);
    assert_int_equal(rows_of_our_laws, 22);
}

static void stress_is_continuous_and_grows_with_the_wind(void **state) {
    (void)state;
    double before = 0;
    for (int i = 1; i <= 20000; i++) {
        double u = i * 1e-3, stress = bf_wind_stress_pa(u, air_kg_m3);
        assert_true(stress > before);
        if (i > 500) assert_true(stress - before < 3e-3 * stress);
        before = stress;
    }
    assert_true(bf_wind_stress_pa(0, air_kg_m3) == 0);
}

static void wind_at_any_height_goes_to_10_m_and_back(void **state) {
    (void)state;
    static const double height[] = {0.5, 1, 2, 5, 10, 20};
    for (int h = 0; h < 6; h++)
        for (double u = 0.1; u <= 15; u += 0.07) {
            double u10 = bf_wind_10_m_s(u, height[h]);
            bf_wind_profile p = bf_wind_profile_of(u10);
            BF_CHECK_REL(bf_wind_at(&p, height[h]), u, 1e-12);
        }
    assert_true(bf_wind_10_m_s(0, 2) == 0);
}

/* Columns of closed_basin.csv. The last one is for a bed without friction, which we do not model. */
enum {
    H,
    B_U10,
    B_C10,
    B_TAU,
    CLOSURE,
    AZ,
    SURFACE,
    PC,
    RETURN_MOST,
    U_Q1,
    U_Q2,
    U_Q3,
    U_09,
    SLOPE,
    BED,
    H2_AZ
};

/* The current of a lake whose wind gives just this basin flow, without skin: measured, surface = 3 x
 * undertow. */
static bf_current basin_current(double surface_m_s, double depth_m) {
    bf_lake lake;
    bf_current current;
    bf_record_start(&bf_lake_table, &lake);
    lake.drift = BF_DRIFT_MEASURED;
    lake.surface_drift_m_s.value = surface_m_s;
    lake.undertow_m_s.value = surface_m_s / 3;
    lake.drift_side_deg.value = 0;
    assert_int_equal(bf_current_of(&lake, depth_m, &current), BF_OK);
    return current;
}

static double speed_at(const bf_current *current, double z_m) {
    double x, y;
    bf_current_at(current, z_m, &x, &y);
    return x;
}

static void every_row_of_the_closed_basin_table_comes_out(void **state) {
    (void)state;
    csv_file csv;
    csv_open(&csv, "water/closed_basin.csv");
    int rows = 0;
    assert_true(csv_next(&csv));
    while (csv_next(&csv)) {
        double depth = csv_number(&csv, H), stress = csv_number(&csv, B_TAU), mixing = csv_number(&csv, AZ);
        if (strcmp(csv.cell[CLOSURE], "Az=u*H/15") == 0) {
            BF_CHECK_REL(bf_basin_mixing_m2_s(stress, depth, water_kg_m3), mixing, 5e-5);
            mixing = bf_basin_mixing_m2_s(stress, depth, water_kg_m3);
        }
        double surface = bf_basin_surface_m_s(stress, depth, water_kg_m3, mixing);
        BF_CHECK_REL(surface, csv_number(&csv, SURFACE), 1e-4);
        bf_current c = basin_current(surface, depth);
        BF_CHECK_REL(speed_at(&c, depth * 2 / 3), csv_number(&csv, RETURN_MOST), 1e-4);
        BF_CHECK_REL(speed_at(&c, depth * 0.25), csv_number(&csv, U_Q1), 1e-4);
        BF_CHECK_REL(speed_at(&c, depth * 0.5), csv_number(&csv, U_Q2), 1e-4);
        BF_CHECK_REL(speed_at(&c, depth * 0.75), csv_number(&csv, U_Q3), 1e-4);
        BF_CHECK_REL(speed_at(&c, depth * 0.9), csv_number(&csv, U_09), 1e-4);
        /* Bed stress from the flow's own gradient, slope from its own curvature. */
        double h = depth * 0.01, rho_az = water_kg_m3 * mixing;
        double bed = rho_az *
                     (3 * speed_at(&c, depth) - 4 * speed_at(&c, depth - h) + speed_at(&c, depth - 2 * h)) /
                     (2 * h);
        BF_CHECK_REL(bed, csv_number(&csv, BED), 1e-4);
        double bend =
            (speed_at(&c, 0) - 2 * speed_at(&c, depth / 2) + speed_at(&c, depth)) / (depth * depth / 4);
        BF_CHECK_REL(mixing * bend / BF_GRAVITY_M_S2 * 1e6, csv_number(&csv, SLOPE),
                     4e-4); /* there g = 9.81 */
        BF_CHECK_REL(bf_basin_spin_up_s(depth, mixing) * 20.1907 / 60, csv_number(&csv, H2_AZ), 5e-4);
        rows++;
    }
    assert_int_equal(rows, 36);
}

static void every_row_of_the_no_slip_shape_comes_out(void **state) {
    (void)state;
    csv_file csv;
    csv_open(&csv, "water/closed_basin_shape.csv");
    bf_current c = basin_current(1.0, 1.0);
    int rows = 0;
    assert_true(csv_next(&csv));
    while (csv_next(&csv)) {
        BF_CHECK_ABS(speed_at(&c, -csv_number(&csv, 0)), csv_number(&csv, 1), 1e-12);
        rows++;
    }
    assert_int_equal(rows, 21);
}

/* What a piece of constant fall speed is moved by: the integral of the current over the fall speed. */
static void
steady_flow_moves_a_piece_by_less_than_two_per_cent_of_surface_speed_times_fall_time(void **state) {
    (void)state;
    static const double depth[] = {0.5, 1, 1.5, 2, 3, 5}, wind[] = {0.5, 1, 2, 4, 8, 15};
    double worst = 0;
    for (int d = 0; d < 6; d++)
        for (int w = 0; w < 6; w++) {
            bf_lake lake = lake_with_wind(wind[w], 0);
            bf_current c;
            double x, y;
            assert_int_equal(bf_current_of(&lake, depth[d], &c), BF_OK);
            bf_current_integral(&c, depth[d], &x, &y);
            double moved = fabs(x) / (speed_at(&c, 0) * depth[d]);
            if (moved > worst) worst = moved;
        }
    BF_CHECK_IN(worst, 0, 1e-12); /* asked for: 0.02; the return flow carries back what the skin carries */
}

static double integrand(double z, void *current) {
    return speed_at(current, z);
}

static void closed_integral_agrees_with_gsl_quadrature(void **state) {
    (void)state;
    bf_lake lake = lake_with_wind(6, 0);
    bf_current c;
    assert_int_equal(bf_current_of(&lake, 1.5, &c), BF_OK);
    gsl_integration_workspace *work = gsl_integration_workspace_alloc(200);
    for (double z = 0.005; z < 1.5; z += 0.07) {
        gsl_function f = {integrand, &c};
        double want, error, x, y;
        gsl_integration_qag(&f, 0, z, 1e-14, 1e-12, 200, GSL_INTEG_GAUSS31, work, &want, &error);
        bf_current_integral(&c, z, &x, &y);
        BF_CHECK_ABS(x, want, 1e-13);
    }
    gsl_integration_workspace_free(work);
}

static void surface_goes_at_the_stated_part_of_the_wind_and_a_third_of_the_basin_flow_returns(void **state) {
    (void)state;
    bf_lake lake = lake_with_wind(4, 0);
    bf_current c;
    assert_int_equal(bf_current_of(&lake, 2, &c), BF_OK);
    BF_CHECK_REL(speed_at(&c, 0), 0.025 * 4, 1e-12);
    /* 3.75 friction velocities at the surface of the basin flow, a third of it below, and the skin's share on
     * top. */
    double air = bf_air_density_kg_m3(12), water = bf_lake_density_kg_m3(&lake);
    double third = 1.25 * sqrt(bf_wind_stress_pa(4, air) / water);
    BF_CHECK_IN(-speed_at(&c, 2 * 2.0 / 3), third, 1.15 * third);
    BF_CHECK_ABS(speed_at(&c, 2), 0, 1e-15);
}

/* Independent: du/dt = mixing u'' - g slope, slope such that nothing is carried, from rest, on a grid of 200
 * cells. */
static double growth_by_finite_differences(double mixing, double depth, double time) {
    enum { N = 200 };
    double u[N] = {0}, dz = depth / N, dt = 0.2 * dz * dz / mixing, surface_gradient = 1.0;
    for (double t = 0; t < time; t += dt) {
        double push[N], mean = 0;
        for (int i = 0; i < N; i++) {
            double above = i == 0 ? u[0] + surface_gradient * dz : u[i - 1];
            double below = i == N - 1 ? -u[N - 1] : u[i + 1];
            push[i] = mixing * (above - 2 * u[i] + below) / (dz * dz);
            mean += push[i] / N;
        }
        for (int i = 0; i < N; i++) u[i] += dt * (push[i] - mean);
    }
    return -u[2 * N / 3] / (surface_gradient * depth / 4 / 3);
}

static void return_flow_grows_as_a_finite_difference_solution_does(void **state) {
    (void)state;
    double mixing = 5e-4, depth = 1.5, tau = bf_basin_spin_up_s(depth, mixing);
    /* One mode stands for all: exact late, a few per cent off within the first time constant. */
    BF_CHECK_ABS(growth_by_finite_differences(mixing, depth, 2 * tau), 1 - exp(-2.0), 0.03);
    BF_CHECK_ABS(growth_by_finite_differences(mixing, depth, 4 * tau), 1 - exp(-4.0), 0.01);
}

static void wind_that_has_just_risen_has_a_skin_but_no_return_flow_yet(void **state) {
    (void)state;
    bf_lake lake = lake_with_wind(4, 0);
    bf_current steady, young, old;
    assert_int_equal(bf_current_of(&lake, 1.5, &steady), BF_OK);
    lake.wind_for_s = 0;
    assert_int_equal(bf_current_of(&lake, 1.5, &young), BF_OK);
    lake.wind_for_s = 6 * 3600;
    assert_int_equal(bf_current_of(&lake, 1.5, &old), BF_OK);
    assert_true(speed_at(&young, 1.0) >= 0);
    BF_CHECK_REL(young.skin_x_m_s, steady.skin_x_m_s, 1e-15);
    BF_CHECK_REL(speed_at(&old, 1.0), speed_at(&steady, 1.0), 1e-9);
}

static void opposite_wind_gives_the_opposite_current(void **state) {
    (void)state;
    bf_lake right = lake_with_wind(3, 37), left = lake_with_wind(3, -37);
    bf_current a, b;
    assert_int_equal(bf_current_of(&right, 1.5, &a), BF_OK);
    assert_int_equal(bf_current_of(&left, 1.5, &b), BF_OK);
    for (double z = 0; z <= 1.5; z += 0.01) {
        double ax, ay, bx, by;
        bf_current_at(&a, z, &ax, &ay);
        bf_current_at(&b, z, &bx, &by);
        assert_true(ax == bx);
        assert_true(ay == -by);
    }
}

static void measured_drift_overrides_the_wind(void **state) {
    (void)state;
    bf_lake lake = lake_with_wind(9, 0);
    bf_current c;
    lake.drift = BF_DRIFT_MEASURED;
    lake.surface_drift_m_s.value = 0.06;
    lake.undertow_m_s.value = 0.01;
    lake.drift_side_deg = (bf_quantity){90, 0, 0};
    assert_int_equal(bf_current_of(&lake, 1.5, &c), BF_OK);
    double x, y, most_back = 0;
    bf_current_at(&c, 0, &x, &y);
    BF_CHECK_REL(y, 0.06, 1e-12);
    BF_CHECK_ABS(x, 0, 1e-12);
    for (double z = 0; z <= 1.5; z += 0.001) {
        bf_current_at(&c, z, &x, &y);
        if (-y > most_back) most_back = -y;
    }
    BF_CHECK_REL(most_back, 0.01, 1e-5);
}

static void no_wind_and_still_water_do_not_move(void **state) {
    (void)state;
    bf_lake lake = lake_with_wind(0, 0);
    bf_current c;
    for (int drift = BF_DRIFT_STILL; drift <= BF_DRIFT_WIND; drift++) {
        lake.drift = drift;
        assert_int_equal(bf_current_of(&lake, 1.5, &c), BF_OK);
        double x, y;
        bf_current_integral(&c, 1.5, &x, &y);
        assert_true(x == 0 && y == 0 && speed_at(&c, 0) == 0);
    }
}

static void a_depth_that_is_none_gives_an_error_and_nan(void **state) {
    (void)state;
    bf_lake lake = lake_with_wind(3, 0);
    bf_current c;
    assert_int_equal(bf_current_of(&lake, 0, &c), BF_E_RANGE);
    assert_int_equal(bf_current_of(&lake, -1, &c), BF_E_RANGE);
    assert_int_equal(bf_current_of(&lake, BF_NAN, &c), BF_E_NOT_FINITE);
    assert_int_equal(bf_current_of(&lake, BF_INFINITY, &c), BF_E_NOT_FINITE);
    assert_true(isnan(c.depth_m) && isnan(c.skin_x_m_s) && isnan(c.coef_y_m_s[2]));
}

static void notes_name_what_the_current_does_not_know(void **state) {
    (void)state;
    bf_note notes[BF_MOST_WIND_NOTES];
    bf_lake lake = lake_with_wind(3, 0);
    assert_int_equal(bf_wind_notes(&lake, 1.5, notes), 0);
    lake.wind_m_s.value = 1;
    lake.fetch_m.value = 10;
    lake.temp_c.value = 22;
    assert_int_equal(bf_wind_notes(&lake, 1.5, notes), 3);
    assert_int_equal(notes[0].code, BF_NOTE_LIGHT_WIND);
    assert_int_equal(notes[1].code, BF_NOTE_SHORT_FETCH);
    assert_int_equal(notes[2].code, BF_NOTE_WARM_LAYER);
    lake.drift = BF_DRIFT_STILL;
    assert_int_equal(bf_wind_notes(&lake, 1.5, notes), 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_row_of_the_wind_profile_table_comes_out),
        cmocka_unit_test(stress_is_continuous_and_grows_with_the_wind),
        cmocka_unit_test(wind_at_any_height_goes_to_10_m_and_back),
        cmocka_unit_test(every_row_of_the_closed_basin_table_comes_out),
        cmocka_unit_test(every_row_of_the_no_slip_shape_comes_out),
        cmocka_unit_test(
            steady_flow_moves_a_piece_by_less_than_two_per_cent_of_surface_speed_times_fall_time),
        cmocka_unit_test(closed_integral_agrees_with_gsl_quadrature),
        cmocka_unit_test(surface_goes_at_the_stated_part_of_the_wind_and_a_third_of_the_basin_flow_returns),
        cmocka_unit_test(return_flow_grows_as_a_finite_difference_solution_does),
        cmocka_unit_test(wind_that_has_just_risen_has_a_skin_but_no_return_flow_yet),
        cmocka_unit_test(opposite_wind_gives_the_opposite_current),
        cmocka_unit_test(measured_drift_overrides_the_wind),
        cmocka_unit_test(no_wind_and_still_water_do_not_move),
        cmocka_unit_test(a_depth_that_is_none_gives_an_error_and_nan),
        cmocka_unit_test(notes_name_what_the_current_does_not_know),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
