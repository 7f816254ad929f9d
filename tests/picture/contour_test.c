/* Marching squares against shapes whose area is known. */
#include "core/picture/contour.h"

#include "common/check.h"
#include "scenes.h"

static bfi_contour *contour;
static double density[BF_ABOVE_MOST_SIDE * BF_ABOVE_MOST_SIDE];
#define PI 3.141592653589793

/* A Gaussian with peak 1, standard deviations in cells, turned. */
static void gaussian(int nx, int ny, double along, double across, double turn) {
    for (int i = 0; i < nx; i++)
        for (int j = 0; j < ny; j++) {
            double x = i + 0.5 - 0.5 * nx, y = j + 0.5 - 0.5 * ny;
            double u = (x * cos(turn) + y * sin(turn)) / along, v = (y * cos(turn) - x * sin(turn)) / across;
            density[i * ny + j] = exp(-0.5 * (u * u + v * v));
        }
}

/* The line that holds a share p of a Gaussian is the ellipse where the density is 1 - p of its peak; its area is
 * -2 pi ln(1 - p) along across (the chi-square distribution with two degrees of freedom, textbook result). */
static void a_gaussian_line_encloses_its_ellipse_within_one_percent(void **state) {
    (void)state;
    for (int turn = 0; turn < 8; turn++) {
        gaussian(80, 70, 8.5, 6, 0.37 * turn);
        for (int k = 0; k < 2; k++) {
            double p = k ? 0.9 : 0.5;
            bfi_contour_trace(density, 80, 70, 1 - p, contour);
            assert_int_equal(contour->n_loops, 1);
            BF_CHECK_REL(bfi_contour_area(contour), -2 * PI * log(1 - p) * 8.5 * 6, 0.01);
        }
    }
}

/* Halving the cell divides the error by about four: linear interpolation on a curved line. */
static void a_finer_grid_quarters_the_error(void **state) {
    (void)state;
    double error[2];
    for (int k = 0; k < 2; k++) {
        double sigma = k ? 10 : 5;
        gaussian(k ? 80 : 40, k ? 80 : 40, sigma, sigma, 0);
        bfi_contour_trace(density, k ? 80 : 40, k ? 80 : 40, 0.5, contour);
        error[k] = bfi_contour_area(contour) / (-2 * PI * log(0.5) * sigma * sigma) - 1;
    }
    BF_CHECK_IN(error[0] / error[1], 3.5, 4.5);
}

/* One cell alone: linear from 2 at its middle to 0 at its neighbours' middles, so the line for 1 is the square with
 * corners half a cell off, area 1/2. */
static void a_single_cell_gives_a_diamond(void **state) {
    (void)state;
    density[0] = 2;
    bfi_contour_trace(density, 1, 1, 1, contour);
    assert_int_equal(contour->n_loops, 1);
    assert_int_equal(contour->n_points, 4);
    BF_CHECK_ABS(bfi_contour_area(contour), 0.5, 1e-15);
}

static void a_hole_is_a_loop_of_its_own_and_taken_off(void **state) {
    (void)state;
    for (int i = 0; i < 5; i++)
        for (int j = 0; j < 5; j++) density[i * 5 + j] = i == 2 && j == 2 ? 0 : 2;
    bfi_contour_trace(density, 5, 5, 1, contour);
    assert_int_equal(contour->n_loops, 2);
    /* A square of side 5 with its corners cut (4 triangles of legs 1/2), less a diamond of area 1/2. */
    BF_CHECK_ABS(bfi_contour_area(contour), 25 - 4 * 0.125 - 0.5, 1e-12);
}

/* Two cells that touch at a corner: joined when the middle of the four is inside, apart when not. */
static void a_saddle_is_joined_only_when_its_middle_is_inside(void **state) {
    (void)state;
    double cells[] = {4, 0, 0, 4};
    bfi_contour_trace(cells, 2, 2, 1.5, contour);
    assert_int_equal(contour->n_loops, 1);
    bfi_contour_trace(cells, 2, 2, 2.5, contour);
    assert_int_equal(contour->n_loops, 2);
}

static void the_worst_checkerboard_fits(void **state) {
    (void)state;
    const int side = BF_ABOVE_MOST_SIDE;
    for (int i = 0; i < side; i++)
        for (int j = 0; j < side; j++) density[i * side + j] = (i + j) % 2;
    bfi_contour_trace(density, side, side, 0.9, contour);
    assert_int_equal(contour->n_loops, side * side / 2);
    assert_true(contour->n_points <= BFI_CONTOUR_MOST_POINTS);
}

static void every_loop_closes_and_turns_with_the_inside_on_one_hand(void **state) {
    (void)state;
    static scene_above scene;
    for (int n = 0; n < 100; n++) {
        scene_above_random(n, &scene);
        bfi_contour_trace(scene.density, scene.view.nx, scene.view.ny, scene.view.level90, contour);
        int inside = 0;
        for (int k = 0; k < scene.view.nx * scene.view.ny; k++)
            inside += scene.density[k] >= scene.view.level90;
        /* Each inside cell adds about one; a line's length bounds the difference. */
        BF_CHECK_ABS(bfi_contour_area(contour), inside, 0.5 * contour->n_points);
        for (int loop = 0, k = 0; loop < contour->n_loops; loop++)
            for (int first = k; k < contour->loop_end[loop]; k++) {
                int next = k + 1 < contour->loop_end[loop] ? k + 1 : first;
                BF_CHECK_IN(hypot(contour->x[next] - contour->x[k], contour->y[next] - contour->y[k]), 0,
                            1.4143);
            }
    }
}

static int give_room(void **state) {
    (void)state;
    contour = malloc(sizeof *contour);
    return contour == NULL;
}

static int take_room(void **state) {
    (void)state;
    free(contour);
    return 0;
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_gaussian_line_encloses_its_ellipse_within_one_percent),
        cmocka_unit_test(a_finer_grid_quarters_the_error),
        cmocka_unit_test(a_single_cell_gives_a_diamond),
        cmocka_unit_test(a_hole_is_a_loop_of_its_own_and_taken_off),
        cmocka_unit_test(a_saddle_is_joined_only_when_its_middle_is_inside),
        cmocka_unit_test(the_worst_checkerboard_fits),
        cmocka_unit_test(every_loop_closes_and_turns_with_the_inside_on_one_hand),
    };
    return cmocka_run_group_tests(tests, give_room, take_room);
}
