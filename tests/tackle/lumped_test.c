/* The lumped chain: rest shapes against closed forms and their order, the falling shot, the bottom. */
#include "core/tackle/lay_lumped.h"

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

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(catenary_of_the_table),
        cmocka_unit_test(neutral_line_of_the_table),
        cmocka_unit_test(heavy_line_of_the_table),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
