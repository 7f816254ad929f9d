/* The lumped chain: rest shapes against closed forms and their order, the falling shot, the bottom. */
#include "core/tackle/lay_lumped.h"

#include "baitfall/line.h"

#include "common/check.h"
#include "common/csv.h"

/* Chains ------------------------------------------------------------------------------------------------- */

/* Stiff enough to stretch by 1e-8, and not so stiff that rounding shows. */
#define INEXTENSIBLE_N 1e8

/* A chain of n equal segments in water that does not move; forces are such that 1 N is a usual tension. */
static bfi_lumped chain_of(int n_segments, double length_m, double stiff_n, double weight_n_m) {
    bfi_lumped c = {.n = n_segments + 1, .usual_n = 1};
    for (int i = 0; i < n_segments; i++) {
        c.segment[i] = (bfi_segment){
            {1e-3, stiff_n, weight_n_m, weight_n_m, 1, 1}, length_m / n_segments, 0.1 / length_m};
        c.tension_n[i] = 1;
    }
    c.stream.current = bf_current_still(100);
    c.stream.wind = bf_wind_profile_of(1);
    c.stream.water = c.stream.air = (bfi_fluid){1, 1e-3};
    c.stream.drag_frac = c.stream.length_m = 1;
    c.stream.is_fixed = 1;
    c.floor = (bf_floor){1e6, 0};
    return c;
}

/* Uniform flow outward at 1 m/s whose normal drag on the line is drag_n_m. */
static void flow_past(bfi_lumped *c, double drag_n_m) {
    c->stream.current.coef_x_m_s[0] = 1;
    for (int i = 0; i + 1 < c->n; i++) c->segment[i].line.fixed_water = drag_n_m / (0.5 * 1 * 1e-3);
}

/* Lays the chain from its top to its end with a bulge outward. */
static void lay_out(bfi_lumped *c, double top_z, double end_x, double end_z, double bulge_m) {
    for (int i = 0; i < c->n; i++) {
        double s = (double)i / (c->n - 1);
        c->x_m[i][0] = end_x * s + 4 * bulge_m * s * (1 - s);
        c->x_m[i][1] = 0;
        c->x_m[i][2] = top_z + (end_z - top_z) * s;
    }
}

static void hang_bob(bfi_lumped *c, double weight_n, double drag_n) {
    c->lump[c->n - 1] = (bfi_lump){.mass_kg = weight_n / 10,
                                   .dry_n = weight_n,
                                   .wet_n = weight_n,
                                   .area_m2 = 2 * drag_n,
                                   .diameter_m = 1e-3,
                                   .tall_m = 1e-3,
                                   .drag = {0, 0, 0, 1, 0}};
}

/* To rest from places that fit no length: slack line soft at first. */
static void come_to_rest(bfi_lumped *c) {
    for (c->slack_n = 1e-4; c->slack_n > 1e-10; c->slack_n *= 0.1)
        assert_int_equal(bfi_lumped_rest(c), BF_OK);
}

/* The force of the first segment on what holds it. */
static void top_pull(const bfi_lumped *c, double pull[3]) {
    double length = 0;
    for (int k = 0; k < 3; k++) {
        pull[k] = c->x_m[1][k] - c->x_m[0][k];
        length += pull[k] * pull[k];
    }
    for (int k = 0; k < 3; k++) pull[k] *= c->tension_n[0] / sqrt(length);
}

/* Order of convergence from errors at N, 2 N, 4 N: both steps must show it. */
static void check_second_order(const double error[3], const char *what) {
    for (int i = 0; i < 2; i++) {
        double order = log2(fabs(error[i] / error[i + 1]));
        if (getenv("BF_SHOW"))
            printf("%s: errors %.3g %.3g order %.3f\n", what, error[i], error[i + 1], order);
        BF_CHECK_IN(order, 1.8, 2.2);
    }
}

/* Rest --------------------------------------------------------------------------------------------------- */

static void catenary_of_the_table(void **state) {
    (void)state;
    csv_file csv;
    csv_open(&csv, "tackle/cable_catenary.csv");
    csv_next(&csv);
    int rows = 0;
    while (csv_next(&csv)) {
        /* As a line of 1 m: the shape is that of any scale. */
        double length = csv_number(&csv, 3), x = csv_number(&csv, 1) / length,
               z = csv_number(&csv, 2) / length;
        double unit = csv_number(&csv, 9), w = csv_number(&csv, 5) * length / unit,
               stiff = csv_number(&csv, 4) / unit;
        double h = csv_number(&csv, 6) / unit, v = csv_number(&csv, 7) / unit, error[3];
        if (!(x > 0)) continue; /* the hanging line has a test of its own */
        if (!isfinite(stiff)) stiff = INEXTENSIBLE_N;
        for (int k = 0; k < 3; k++) {
            bfi_lumped c = chain_of(15 << k, 1, stiff, w);
            double slack = 1 - sqrt(x * x + z * z), pull[3];
            c.is_end_held = 1;
            lay_out(&c, 1, x, 1 + z, 0);
            for (int i = 1; i + 1 < c.n; i++) {
                double s = (double)i / (c.n - 1);
                c.x_m[i][2] += sqrt(6 * slack) * s * (1 - s);
            }
            come_to_rest(&c);
            top_pull(&c, pull);
            error[k] = hypot(pull[0] - h, pull[2] - (v - w * c.segment[0].length_m / 2)) / hypot(h, v);
        }
        check_second_order(error, csv.cell[0]);
        assert_true(error[2] < 2e-3);
        rows++;
    }
    assert_int_equal(rows, 5);
}

static void neutral_line_of_the_table(void **state) {
    (void)state;
    csv_file csv;
    csv_open(&csv, "tackle/cable_crossflow_neutral.csv");
    csv_next(&csv);
    int rows = 0;
    while (csv_next(&csv)) {
        int is_held = strstr(csv.cell[0], "both ends") != NULL;
        double unit = csv_number(&csv, 7), drag = csv_number(&csv, 2) / unit, length = csv_number(&csv, 3);
        double bob = csv_number(&csv, 4) / unit, pull = csv_number(&csv, 5) / unit;
        double off = csv_number(&csv, 8), across = csv_number(&csv, 9), error[3];
        for (int k = 0; k < 3; k++) {
            bfi_lumped c = chain_of(10 << k, length, INEXTENSIBLE_N, 0);
            flow_past(&c, drag);
            c.is_end_held = is_held;
            if (!is_held) hang_bob(&c, bob, pull);
            lay_out(&c, 1, is_held ? 0 : off, 1 + across, is_held ? off : 0);
            come_to_rest(&c);
            if (is_held) {
                error[k] = c.x_m[(c.n - 1) / 2][0] - off;
            } else {
                error[k] = hypot(c.x_m[c.n - 1][0] - off, c.x_m[c.n - 1][2] - 1 - across);
            }
        }
        check_second_order(error, csv.cell[1]);
        rows++;
    }
    assert_int_equal(rows, 6);
}

static void heavy_line_of_the_table(void **state) {
    (void)state;
    csv_file csv;
    csv_open(&csv, "tackle/cable_crossflow_heavy.csv");
    csv_next(&csv);
    int rows = 0;
    while (csv_next(&csv)) {
        double length = csv_number(&csv, 3), unit = csv_number(&csv, 4) + csv_number(&csv, 1) * length;
        double drag = csv_number(&csv, 1) / unit, weight = csv_number(&csv, 2) / unit;
        double bob = csv_number(&csv, 4) / unit, pull = csv_number(&csv, 5) / unit;
        double off = csv_number(&csv, 6), deep = csv_number(&csv, 7), error[3];
        for (int k = 0; k < 3; k++) {
            bfi_lumped c = chain_of(10 << k, length, INEXTENSIBLE_N, weight);
            flow_past(&c, drag);
            hang_bob(&c, bob, pull);
            lay_out(&c, 1, off, 1 + deep, 0);
            come_to_rest(&c);
            error[k] = hypot(c.x_m[c.n - 1][0] - off, c.x_m[c.n - 1][2] - 1 - deep);
        }
        if (bob > 0)
            check_second_order(error, csv.cell[0]);
        else
            for (int k = 0; k < 3; k++) assert_true(error[k] < 1e-6); /* straight: no error of its own */
        rows++;
    }
    assert_int_equal(rows, 4);
}

/* One line, stretched by what hangs on it. */
static void hanging_line_stretches_by_the_table(void **state) {
    (void)state;
    csv_file csv;
    csv_open(&csv, "tackle/cable_catenary.csv");
    csv_next(&csv);
    int rows = 0;
    while (csv_next(&csv)) {
        if (strstr(csv.cell[0], "vertical") == NULL) continue;
        double length = csv_number(&csv, 3), unit = csv_number(&csv, 7), stiff = csv_number(&csv, 4) / unit,
               error[3];
        double w = csv_number(&csv, 5) / unit, bob = csv_number(&csv, 8) / unit;
        double stretch = (bob * length + w * length * length / 2) / stiff;
        BF_CHECK_ABS(length + stretch, csv_number(&csv, 2), 1e-10);
        for (int k = 0; k < 3; k++) {
            bfi_lumped c = chain_of(4 << k, length, stiff, w);
            hang_bob(&c, bob, 0);
            lay_out(&c, 1, 0, 1 + length, 0);
            come_to_rest(&c);
            error[k] = c.x_m[c.n - 1][2] - 1 - length - stretch;
            BF_CHECK_ABS(error[k], 0,
                         1e-4 * stretch); /* a sum of equal steps is exact: what is left is the slack's law */
        }
        rows++;
    }
    assert_int_equal(rows, 1);
}

/* Explicit steps of real line must be shorter than 2 over its highest frequency. Ours are thousands of times that long. */
static void steps_a_thousand_times_the_explicit_limit_are_stable(void **state) {
    (void)state;
    csv_file csv;
    csv_open(&csv, "tackle/lumped_mass.csv");
    csv_next(&csv);
    int rows = 0;
    while (csv_next(&csv)) {
        double diameter = csv_number(&csv, 0) * 1e-3, segment = csv_number(&csv, 1),
               stiff = csv_number(&csv, 3);
        double mass = csv_number(&csv, 4) * 1e-6, limit = csv_number(&csv, 6);
        const bf_fishing_line nylon = {.diameter_m = diameter, .kind = BF_NYLON};
        double area = bf_line_area_m2(&nylon), omega = 2 / segment * sqrt(stiff / mass);
        BF_CHECK_REL(bf_line_density_kg_m3(BF_NYLON) * area, mass, 1e-4);
        BF_CHECK_REL(stiff, csv_number(&csv, 2) * area, 1e-4);
        BF_CHECK_REL(mass + 1000 * area, csv_number(&csv, 8) * 1e-6,
                     2e-3); /* the water it moves along, as feel_segments */
        BF_CHECK_REL(omega, csv_number(&csv, 5), 1e-4);
        BF_CHECK_REL(2 / omega, limit, 1e-3);
        BF_CHECK_REL(segment * sqrt(stiff * mass), csv_number(&csv, 7), 1e-3);

        /* 1 m of it with 0.4 g on its end is let go a hand's width aside, and swings to rest. */
        int n = (int)(1 / segment + 0.5);
        bfi_lumped c = chain_of(n, 1, stiff, 0);
        for (int i = 0; i < n; i++) c.segment[i].mass_kg_m = mass;
        c.usual_n = 4e-3;
        c.slack_n = 4e-9;
        for (int i = 0; i < n; i++) c.tension_n[i] = 4e-3;
        c.stream.water = (bfi_fluid){1000, 1.1e-3};
        hang_bob(&c, 3.6e-3, 0);
        lay_out(&c, 1, 0.1, 1 + sqrt(0.99), 0);
        double bend, most = 0, last = 0, at = 0, dt = 1000 * limit;
        for (int k = 0; k < 3000; k++, at += dt) {
            const double tip[3] = {0, 0, 1};
            assert_int_equal(bfi_lumped_step(&c, tip, dt, BF_INFINITY, &bend), BF_OK);
            last = fabs(c.x_m[n][0]);
            if (last > most) most = last;
        }
        assert_true(most < 0.11);
        assert_true(last < 1e-3);
        BF_CHECK_ABS(c.x_m[n][2], 2 + 3.6e-3 / stiff, 1e-4);
        rows++;
    }
    assert_int_equal(rows, 4);
}

/* Motion ------------------------------------------------------------------------------------------------- */

/* A shot on one piece of line that weighs, drags and pulls next to nothing: it falls as a free one. */
static void shot_on_no_line_falls_at_the_tables_speed(void **state) {
    (void)state;
    csv_file csv;
    csv_open(&csv, "tackle/terminal_velocity.csv");
    csv_next(&csv);
    int rows = 0;
    double worst = 0;
    while (csv_next(&csv)) {
        double mass = csv_number(&csv, 1) * 1e-3, diameter = csv_number(&csv, 3) * 1e-3,
               speed = csv_number(&csv, 4);
        double water = bf_water_density_kg_m3(15),
               displaced = water * 3.14159265358979 / 6 * pow(diameter, 3);
        bfi_lumped c = chain_of(1, 50, 1e3, 0);
        c.usual_n = mass * 9.8;
        c.slack_n = 1e-9 * c.usual_n;
        c.tension_n[0] = c.slack_n;
        c.stream.water = (bfi_fluid){water, bf_water_viscosity_pa_s(15)};
        c.stream.drag_frac = 0;
        c.segment[0].mass_kg_m = 0;
        c.segment[0].line.diameter_m = 1e-9;
        c.lump[1] = (bfi_lump){.mass_kg = mass,
                               .added_kg = displaced / 2,
                               .wet_n = (mass - displaced) * BF_GRAVITY_M_S2,
                               .dry_n = mass * BF_GRAVITY_M_S2,
                               .area_m2 = 3.14159265358979 / 4 * diameter * diameter,
                               .diameter_m = diameter,
                               .tall_m = diameter,
                               .drag = bf_drag_sphere()};
        lay_out(&c, 1, 0, 1.5, 0);
        double bend, at = 0, at_95 = 0, dt = csv_number(&csv, 11) / 200;
        const double tip[3] = {0, 0, 1};
        for (int k = 0; k < 2000; k++) {
            assert_int_equal(bfi_lumped_step(&c, tip, dt, BF_INFINITY, &bend), BF_OK);
            at += dt;
            if (c.v_m_s[1][2] < 0.95 * speed) at_95 = at;
        }
        double off = fabs(c.v_m_s[1][2] / speed - 1);
        if (off > worst) worst = off;
        BF_CHECK_REL(c.v_m_s[1][2], speed, 0.03);
        BF_CHECK_REL(at_95, csv_number(&csv, 11), 0.1); /* the laws differ where the shot is slow */
        rows++;
    }
    assert_int_equal(rows, 30);
    if (getenv("BF_SHOW")) printf("terminal speeds: worst %.2f %%\n", 100 * worst);
}

/* Where a light bob on a line is half a second after it is let go sideways in still water. */
static double swung_m(double dt_s) {
    bfi_lumped c = chain_of(8, 1, 20, 1.6e-5);
    for (int i = 0; i < 8; i++) {
        c.segment[i].line.diameter_m = 1.2e-4;
        c.segment[i].mass_kg_m = 1.3e-5;
        c.tension_n[i] = 3e-4;
    }
    c.usual_n = 4e-4;
    c.slack_n = 4e-10;
    c.stream.water = (bfi_fluid){999, 1.14e-3};
    c.stream.is_fixed = 0;
    c.lump[8] = (bfi_lump){4e-5, 2e-6, 3.6e-4, 3.6e-4, 2.8e-6, 1.9e-3, bf_drag_sphere(), 1.9e-3, 0};
    lay_out(&c, 1, 0.6, 1.8, 0);
    double bend;
    const double tip[3] = {0, 0, 1};
    for (int k = 0; k < (int)(1 / dt_s + 0.5); k++)
        assert_int_equal(bfi_lumped_step(&c, tip, dt_s, BF_INFINITY, &bend), BF_OK);
    return c.x_m[8][0];
}

static void halving_the_step_halves_the_error(void **state) {
    (void)state;
    double exact = swung_m(1.0 / 8192), error[4];
    for (int k = 0; k < 4; k++) error[k] = swung_m(1.0 / (16 << k)) - exact;
    for (int k = 0; k < 3; k++) {
        double order = log2(fabs(error[k] / error[k + 1]));
        if (getenv("BF_SHOW")) printf("steps: errors %.3g %.3g order %.3f\n", error[k], error[k + 1], order);
        BF_CHECK_IN(order, 0.8, 1.3);
    }
}

/* Goes dt_s on while the tip sinks by sink_m, in halves where one step finds no answer. */
static void go_on(bfi_lumped *c, double dt_s, double sink_m) {
    double bend;
    const double tip[3] = {0, 0, c->x_m[0][2] + sink_m};
    if (bfi_lumped_step(c, tip, dt_s, BF_INFINITY, &bend) == BF_OK) return;
    assert_true(dt_s > 1e-6);
    go_on(c, dt_s / 2, sink_m / 2);
    go_on(c, dt_s / 2, sink_m / 2);
}

/* A bob that meets the bottom at half a metre a second goes no deeper than a tenth of a millimetre, and never leaves it. */
static void nothing_bounces_nor_goes_through_the_bottom(void **state) {
    (void)state;
    for (int k = 0; k < 3; k++) {
        double slope = 0.2 * (k - 1), deepest = 0, risen = 0;
        bfi_lumped c = chain_of(10, 1, 20, 1.6e-5);
        for (int i = 0; i < 10; i++) {
            c.segment[i].line.diameter_m = 1.2e-4;
            c.segment[i].mass_kg_m = 1.3e-5;
            c.tension_n[i] = 4e-3;
        }
        c.usual_n = 5e-3;
        c.slack_n = 5e-9;
        c.stream.water = (bfi_fluid){999, 1.14e-3};
        c.stream.is_fixed = 0;
        c.floor = (bf_floor){2.5, slope};
        c.friction_frac = 0.6;
        hang_bob(&c, 4e-3, 0);
        lay_out(&c, 1, 0, 2, 0);
        int has_met = 0;
        for (int step = 0; step < 300; step++) {
            go_on(&c, 0.01, step < 200 ? 0.005 : 0);
            for (int i = 1; i < c.n; i++) {
                double under = bfi_lumped_under_m(&c, i);
                if (under > deepest) deepest = under;
            }
            double under = bfi_lumped_under_m(&c, 10);
            if (under > 0) has_met = 1;
            if (has_met && -under > risen) risen = -under;
        }
        assert_true(has_met);
        assert_true(deepest < 1e-4);
        assert_true(risen == 0);
        assert_true(bfi_lumped_fastest_m_s(&c) < 0.3); /* what still sinks is slack line */
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(catenary_of_the_table),
        cmocka_unit_test(neutral_line_of_the_table),
        cmocka_unit_test(heavy_line_of_the_table),
        cmocka_unit_test(hanging_line_stretches_by_the_table),
        cmocka_unit_test(steps_a_thousand_times_the_explicit_limit_are_stable),
        cmocka_unit_test(shot_on_no_line_falls_at_the_tables_speed),
        cmocka_unit_test(halving_the_step_halves_the_error),
        cmocka_unit_test(nothing_bounces_nor_goes_through_the_bottom),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
