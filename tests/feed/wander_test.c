/* The chance that a wandering piece lies within a circle, against GSL's integral of its density. */
#include "common/check.h"

#include <gsl/gsl_integration.h>
#include <gsl/gsl_sf_bessel.h>

#include "baitfall/spread.h"

typedef struct piece {
    double off_m, sd_m;
} piece;

/* Density of the distance from the circle's middle: Rice's law. */
static double rice(double r, void *of) {
    const piece *p = of;
    double s2 = p->sd_m * p->sd_m, d = r - p->off_m;
    return r / s2 * exp(-d * d / (2 * s2)) * gsl_sf_bessel_I0_scaled(r * p->off_m / s2);
}

static double integrated(double off_m, double sd_m, double radius_m) {
    piece p = {off_m, sd_m};
    gsl_function f = {rice, &p};
    double from = fmax(0, off_m - 9 * sd_m), to = fmin(radius_m, off_m + 9 * sd_m), value = 0, error;
    gsl_integration_workspace *work = gsl_integration_workspace_alloc(1000);
    if (to > from)
        gsl_integration_qag(&f, from, to, 1e-10, 1e-9, 1000, GSL_INTEG_GAUSS41, work, &value, &error);
    gsl_integration_workspace_free(work);
    return value;
}

static void chance_is_the_integral_of_rices_law(void **state) {
    (void)state;
    for (double radius_m = 0.05; radius_m < 0.16; radius_m += 0.05)
        for (double sd_m = 0.002; sd_m < 0.15; sd_m *= 1.4)
            for (double off_m = 0; off_m < 0.4; off_m += 0.0061) {
                double tolerance = off_m * radius_m <= 186 * sd_m * sd_m ? 3e-5 : 6e-4;
                BF_CHECK_ABS(bf_wander_within(off_m, sd_m, radius_m), integrated(off_m, sd_m, radius_m),
                             tolerance);
            }
}

static void worked_number_of_the_header(void **state) {
    (void)state;
    BF_CHECK_ABS(bf_wander_within(0.04, 0.03, 0.05), 0.485641, 1e-6);
}

/* From the middle of the circle the law is 1 - exp(-R^2 / 2 sd^2). */
static void from_the_middle_it_is_rayleighs_law(void **state) {
    (void)state;
    BF_CHECK_ABS(bf_wander_within(0, 0.04, 0.05), 1 - exp(-25.0 / 32), 1e-12);
}

static void without_wander_it_is_inside_or_not(void **state) {
    (void)state;
    assert_true(bf_wander_within(0.049, 0, 0.05) == 1);
    assert_true(bf_wander_within(0.05, 0, 0.05) == 1);
    assert_true(bf_wander_within(0.051, 0, 0.05) == 0);
}

/* A pile before its wander is the spread command's, piece for piece: its middle and its pieces are where the wander's own
 * normal numbers, which the test does not know, must be centred. */
static void piles_of_few_pieces_are_the_first_of_those_of_many(void **state) {
    (void)state;
    bf_scene scene;
    bf_scene_start(&scene);
    scene.spot.depth_m = (bf_quantity){1.5, 0, 0};
    scene.put.count = 60;
    bf_pile few, many;
    bf_draw draw = {1, 7, 0};
    assert_int_equal(bf_spread_pile(&scene, &draw, 8, &few), BF_OK);
    assert_int_equal(bf_spread_pile(&scene, &draw, BF_SPREAD_MOST_PIECES, &many), BF_OK);
    assert_int_equal(few.n, 8);
    assert_int_equal(many.n, 60);
    assert_true(few.pieces == 60 && many.pieces == 60);
    assert_memory_equal(few.x_m, many.x_m, 8 * sizeof few.x_m[0]);
    assert_memory_equal(few.y_m, many.y_m, 8 * sizeof few.y_m[0]);
    assert_memory_equal(few.wander_m, many.wander_m, 8 * sizeof few.wander_m[0]);
}

/* What the spread command adds to the pile is normal with that standard deviation: mean 0 and mean square 1 over 8 pieces of
 * 500 draws, along either axis; at 4 standard errors one false alarm in 8,000 runs of other seeds. */
static void the_spread_command_adds_a_normal_wander(void **state) {
    (void)state;
    bf_scene scene;
    bf_scene_start(&scene);
    scene.spot.depth_m = (bf_quantity){1.5, 0, 0};
    scene.put.count = 60;
    double sum = 0, square = 0, n = 0;
    for (uint64_t k = 0; k < 500; k++) {
        bf_pile pile;
        bf_draw draw = {1, k, 0};
        double row[sizeof(bf_spread_out) / sizeof(double) + BF_SPREAD_RAW],
            *raw = row + sizeof(bf_spread_out) / sizeof(double);
        assert_int_equal(bf_spread_pile(&scene, &draw, 8, &pile), BF_OK);
        assert_int_equal(bf_spread_model(&scene, &draw, row), BF_OK);
        for (int i = 0; i < pile.n; i++) {
            double x = (raw[3 * i] - pile.x_m[i]) / pile.wander_m[i],
                   y = (raw[3 * i + 1] - pile.y_m[i]) / pile.wander_m[i];
            sum += x + y;
            square += x * x + y * y;
            n += 2;
        }
    }
    BF_CHECK_ABS(sum / n, 0, 4 / sqrt(n));
    BF_CHECK_ABS(square / n, 1, 4 * sqrt(2 / n));
}

static void a_pile_of_nothing_is_empty(void **state) {
    (void)state;
    bf_scene scene;
    bf_scene_start(&scene);
    scene.spot.depth_m = (bf_quantity){1.5, 0, 0};
    scene.bait.density_kg_m3 = bf_exactly(900);
    bf_pile pile;
    bf_draw draw = {1, 0, 0};
    assert_int_equal(bf_spread_pile(&scene, &draw, 8, &pile), BF_OK);
    assert_int_equal(pile.n, 0);
    assert_true(pile.pieces == 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(chance_is_the_integral_of_rices_law),
        cmocka_unit_test(worked_number_of_the_header),
        cmocka_unit_test(from_the_middle_it_is_rayleighs_law),
        cmocka_unit_test(without_wander_it_is_inside_or_not),
        cmocka_unit_test(piles_of_few_pieces_are_the_first_of_those_of_many),
        cmocka_unit_test(the_spread_command_adds_a_normal_wander),
        cmocka_unit_test(a_pile_of_nothing_is_empty),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
