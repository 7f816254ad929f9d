/* The cloud of a tipped pot: its fallout depth against the published formula, the rest against closed forms of a
 * thermal, a numerical integration of its equations, and limits. */
#include "baitfall/cloud.h"

#include "common/check.h"

#define PI 3.14159265358979323846

static bf_piece pellet(double diameter_m) {
    return bf_piece_of_form(BF_CYLINDER, diameter_m, 1.25 * diameter_m, 1225, bf_water_density_kg_m3(12),
                            bf_water_viscosity_pa_s(12));
}

static double heap_m3(const bf_piece *piece, double count) {
    return count * PI / 6 * pow(piece->equivalent_m, 3) / 0.58;
}

static double sink_m_s(const bf_piece *piece) {
    double speed, reynolds;
    assert_int_equal(bf_fall_speed(piece, &speed, &reynolds), BF_OK);
    return speed;
}

static double buoyancy_m4_s2(const bf_piece *piece, double count) {
    return count * BF_GRAVITY_M_S2 * (piece->density_kg_m3 / piece->water_kg_m3 - 1) * PI / 6 *
           pow(piece->equivalent_m, 3);
}

static bf_cloud cloud_of(double count, const bf_piece *piece, double volume_m3, double entrainment,
                         double entry) {
    bf_cloud cloud;
    assert_int_equal(bf_cloud_of(count, piece, volume_m3, entrainment, entry, &cloud), BF_OK);
    return cloud;
}

/* Bush, Thurber & Blanchette 2003: Zf / a = (11 +- 2) (Q^1/2 / (w a))^0.83, and (9 +- 2) N^1/2 for fast particles. */
static void
pieces_leave_at_the_published_depth_and_its_other_form_agrees_within_its_give_or_take(void **state) {
    (void)state;
    for (double d = 0.002; d < 0.009; d += 0.001)
        for (double count = 20; count <= 400; count *= 1.5) {
            bf_piece piece = pellet(d);
            double a = piece.equivalent_m / 2, q = buoyancy_m4_s2(&piece, count);
            bf_cloud cloud = cloud_of(count, &piece, heap_m3(&piece, count), 0.25, 0);
            BF_CHECK_REL(cloud.depth_m, 11 * a * pow(sqrt(q) / (sink_m_s(&piece) * a), 0.83), 1e-12);
            BF_CHECK_IN(cloud.depth_m / (sqrt(count) * a), 7, 11);
        }
}

static void the_radius_grows_with_depth_by_the_entrainment(void **state) {
    (void)state;
    bf_piece piece = pellet(0.0022);
    double volume = heap_m3(&piece, 400), r0 = cbrt(3 * volume / (4 * PI));
    bf_cloud narrow = cloud_of(400, &piece, volume, 0.2, 1), wide = cloud_of(400, &piece, volume, 0.3, 1);
    BF_CHECK_REL(narrow.radius_m, r0 + 0.2 * narrow.depth_m, 1e-12);
    BF_CHECK_REL(wide.radius_m, r0 + 0.3 * wide.depth_m, 1e-12);
    assert_true(narrow.depth_m == wide.depth_m);
    assert_true(narrow.gain_s > wide.gain_s); /* the wider one slows sooner */
}

/* The thermal's equations by small steps of time: d(1.5 V w)/dt = buoyancy, dz/dt = max(w, own speed). */
static double stepped_time_s(const bf_piece *piece, double count, double volume_m3, double entrainment,
                             double entry, double depth_m) {
    double r0 = cbrt(3 * volume_m3 / (4 * PI)), q = buoyancy_m4_s2(piece, count), own = sink_m_s(piece);
    double moved =
        piece->density_kg_m3 / piece->water_kg_m3 * count * PI / 6 * pow(piece->equivalent_m, 3) * entry;
    double z = 0, t = 0, h = 1e-5;
    while (z < depth_m) {
        double r = r0 + entrainment * z, mass = 1.5 * 4 / 3 * PI * r * r * r;
        double w = moved / mass, half = z + h / 2 * w;
        double rh = r0 + entrainment * half, wh = (moved + h / 2 * q) / (1.5 * 4 / 3 * PI * rh * rh * rh);
        /* The cloud's momentum follows its own time; where it is slower than its pieces only they are followed. */
        if (w > own || (moved > 0 && wh > own)) {
            z += h * wh;
            moved += h * q;
            t += h;
        } else {
            z += h * own;
            t += h;
            double r2 = r0 + entrainment * z, c = 1.5 * 4 / 3 * PI * q / (2 * entrainment);
            double m2 = moved * moved + c * (pow(r2, 4) - pow(r, 4));
            moved = sqrt(m2);
        }
    }
    return t - (z - depth_m) / own;
}

static void times_agree_with_the_thermal_followed_in_small_steps(void **state) {
    (void)state;
    static const double entry[4] = {0, 0.3, 1.4, 4};
    for (int k = 0; k < 4; k++)
        for (double count = 100; count < 5000; count *= 3) {
            bf_piece piece = pellet(0.0022);
            double volume = heap_m3(&piece, count);
            bf_cloud cloud = cloud_of(count, &piece, volume, 0.25, entry[k]);
            BF_CHECK_ABS(cloud.time_s, stepped_time_s(&piece, count, volume, 0.25, entry[k], cloud.depth_m),
                         2e-3);
            BF_CHECK_ABS(cloud.time_s + cloud.gain_s, cloud.depth_m / sink_m_s(&piece), 1e-12);
        }
}

/* Far from its source a thermal's speed times its depth is (3 Q / (8 pi 1.5 entrainment^3))^1/2; so many fine grains
 * that the pieces' own speed hardly matters fall with it. Morton, Taylor & Turner 1956, from memory. */
static void very_many_fine_grains_follow_the_self_similar_thermal(void **state) {
    (void)state;
    bf_piece grain = bf_piece_of_form(BF_SPHERE, 1e-4, 0, 2600, 999.5, 1.2e-3);
    double count = 1e6, q = buoyancy_m4_s2(&grain, count), alpha = 0.25;
    bf_cloud cloud = cloud_of(count, &grain, heap_m3(&grain, count), alpha, 0);
    double constant = sqrt(3 * q / (8 * PI * 1.5 * pow(alpha, 3)));
    double slow_m = constant / sink_m_s(&grain); /* where the thermal has slowed to the grains' speed */
    double thermal_s = slow_m * slow_m / (2 * constant); /* from a point source down to there */
    assert_true(cloud.depth_m > slow_m);
    BF_CHECK_REL(cloud.time_s, thermal_s + (cloud.depth_m - slow_m) / sink_m_s(&grain), 0.1);
}

static void few_pieces_make_no_cloud(void **state) {
    (void)state;
    bf_piece piece = pellet(0.0045);
    for (double count = 0; count < BF_CLOUD_LEAST_PIECES; count++) {
        bf_cloud cloud = cloud_of(count, &piece, heap_m3(&piece, fmax(count, 1)), 0.25, 1);
        assert_true(cloud.is_cloud == 0 && cloud.depth_m == 0 && cloud.radius_m == 0 && cloud.time_s == 0 &&
                    cloud.gain_s == 0);
    }
    assert_int_equal(cloud_of(BF_CLOUD_LEAST_PIECES, &piece, heap_m3(&piece, 20), 0.25, 1).is_cloud, 1);
}

static void more_pieces_go_deeper_together_and_a_harder_entry_never_costs_time(void **state) {
    (void)state;
    bf_piece piece = pellet(0.0022);
    double deepest = 0;
    for (double count = 20; count < 1e5; count *= 2) {
        double least = 0;
        for (double entry = 0; entry < 10; entry += 0.5) {
            bf_cloud cloud = cloud_of(count, &piece, heap_m3(&piece, count), 0.25, entry);
            assert_true(cloud.gain_s >= least && cloud.time_s > 0);
            least = cloud.gain_s;
            if (entry == 0) assert_true(cloud.depth_m > deepest);
            if (entry == 0) deepest = cloud.depth_m;
        }
    }
}

static void the_headers_example_comes_out(void **state) {
    (void)state;
    bf_piece piece = bf_piece_of_form(BF_CYLINDER, 0.0044, 0.0055, 1225, bf_water_density_kg_m3(12),
                                      bf_water_viscosity_pa_s(12));
    bf_cloud cloud = cloud_of(50, &piece, 7.2e-6, 0.25, 1.4);
    BF_CHECK_ABS(cloud.depth_m, 0.171, 0.0005);
    BF_CHECK_ABS(cloud.radius_m, 0.055, 0.0005);
    BF_CHECK_ABS(cloud.time_s, 1.12, 0.005);
    BF_CHECK_ABS(cloud.gain_s, 0.12, 0.005);
}

static void expect_error(double count, bf_piece piece, double volume, double entrainment, double entry,
                         bf_status want) {
    bf_cloud cloud = {1, 1, 1, 1, 1};
    assert_int_equal(bf_cloud_of(count, &piece, volume, entrainment, entry, &cloud), want);
    assert_true(cloud.is_cloud == 0 && isnan(cloud.depth_m) && isnan(cloud.radius_m) && isnan(cloud.time_s) &&
                isnan(cloud.gain_s));
}

static void bad_values_give_the_listed_errors(void **state) {
    (void)state;
    bf_piece piece = pellet(0.004), floating = piece;
    floating.density_kg_m3 = 900;
    expect_error(100, floating, 1e-5, 0.25, 1, BF_E_MODEL_RANGE);
    expect_error(NAN, piece, 1e-5, 0.25, 1, BF_E_NOT_FINITE);
    expect_error(100, piece, INFINITY, 0.25, 1, BF_E_NOT_FINITE);
    expect_error(-1, piece, 1e-5, 0.25, 1, BF_E_RANGE);
    expect_error(100, piece, 0, 0.25, 1, BF_E_RANGE);
    expect_error(100, piece, 1e-5, 0.6, 1, BF_E_RANGE);
    expect_error(100, piece, 1e-5, 0.25, -1, BF_E_RANGE);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(
            pieces_leave_at_the_published_depth_and_its_other_form_agrees_within_its_give_or_take),
        cmocka_unit_test(the_radius_grows_with_depth_by_the_entrainment),
        cmocka_unit_test(times_agree_with_the_thermal_followed_in_small_steps),
        cmocka_unit_test(very_many_fine_grains_follow_the_self_similar_thermal),
        cmocka_unit_test(few_pieces_make_no_cloud),
        cmocka_unit_test(more_pieces_go_deeper_together_and_a_harder_entry_never_costs_time),
        cmocka_unit_test(the_headers_example_comes_out),
        cmocka_unit_test(bad_values_give_the_listed_errors),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
