/* At the peg: which place, by rules of thumb told apart (common practice, no source), and words for the wind. */
#include "baitfall/day.h"

#include <string.h>

#include "baitfall/field.h"
#include "common/check.h"

/* The invented Withy Pool's places. */
static const bf_place pool[] = {{11.5, 0, 1.62, 1}, {2.5, 0, 0.60, 0}, {5, 0, 1.35, 0}};
static const bf_place flat[] = {{4, 0, 1.40, 0}, {8, 0, 1.45, 0}, {12, 0, 1.50, 0}};

static bf_place_choice choice_of(const bf_place *places, int n, double reach_m, double temp_c) {
    bf_place_choice choice;
    assert_int_equal(bf_place_choose(places, n, reach_m, temp_c, &choice), 1);
    return choice;
}

static void in_cold_water_the_deepest_place(void **state) {
    (void)state;
    bf_place_choice c = choice_of(pool, 3, BF_NAN, 5);
    assert_int_equal(c.place, 0);
    assert_int_equal(c.why, BF_WHY_COLD);
    BF_CHECK_ABS(c.number[0], 5, 0);
}

static void in_spring_the_foot_of_the_shelf(void **state) {
    (void)state;
    bf_place_choice c = choice_of(pool, 3, BF_NAN, 11.5);
    assert_int_equal(c.place, 2);
    assert_int_equal(c.why, BF_WHY_OFF_SHELF);
    assert_int_equal(c.shelf_from, 1);
    assert_int_equal(c.shelf_to, 2);
    BF_CHECK_ABS(c.number[0], 0.60, 0);
    BF_CHECK_ABS(c.number[1], 1.35, 0);
}

static void on_a_flat_bottom_the_farthest_or_in_warm_water_the_shallowest(void **state) {
    (void)state;
    assert_int_equal(choice_of(flat, 3, BF_NAN, 12).place, 2);
    assert_int_equal(choice_of(flat, 3, BF_NAN, 12).why, BF_WHY_FLAT);
    assert_int_equal(choice_of(flat, 3, BF_NAN, 20).place, 0);
    assert_int_equal(choice_of(flat, 3, BF_NAN, 20).why, BF_WHY_WARM);
    assert_int_equal(choice_of(flat, 3, BF_NAN, BF_NAN).place, 2);
}

static void only_places_within_reach_are_chosen(void **state) {
    (void)state;
    bf_place_choice c = choice_of(pool, 3, 6, 5);
    assert_int_equal(c.place, 2);
    assert_int_equal(choice_of(pool, 3, 3, 5).why, BF_WHY_ONLY);
    assert_int_equal(bf_place_choose(pool, 3, 1, 5, &c), 0);
    assert_int_equal(c.place, -1);
}

static void the_order_they_were_plumbed_in_does_not_matter(void **state) {
    (void)state;
    static const int order[6][3] = {{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}};
    for (int i = 0; i < 6; i++)
        for (double temp_c = 4; temp_c < 22; temp_c += 5) {
            bf_place places[3];
            for (int k = 0; k < 3; k++) places[k] = pool[order[i][k]];
            bf_place_choice c = choice_of(places, 3, BF_NAN, temp_c), d = choice_of(pool, 3, BF_NAN, temp_c);
            BF_CHECK_ABS(places[c.place].depth_m, pool[d.place].depth_m, 0);
        }
}

/* Mirrored: wind from the left blows to the right, and the other way round. */
static void wind_words_say_where_it_blows_to(void **state) {
    (void)state;
    assert_int_equal(bf_n_wind_sides, 4);
    assert_string_equal(bf_wind_sides[0].word, "left");
    BF_CHECK_ABS(bf_wind_sides[0].to_deg.value, 90, 0);
    assert_string_equal(bf_wind_sides[2].word, "right");
    BF_CHECK_ABS(bf_wind_sides[2].to_deg.value, -90, 0);
    for (int i = 1; i < bf_n_wind_words; i++)
        assert_true(bf_wind_words[i].wind_m_s.value > bf_wind_words[i - 1].wind_m_s.value);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(in_cold_water_the_deepest_place),
        cmocka_unit_test(in_spring_the_foot_of_the_shelf),
        cmocka_unit_test(on_a_flat_bottom_the_farthest_or_in_warm_water_the_shallowest),
        cmocka_unit_test(only_places_within_reach_are_chosen),
        cmocka_unit_test(the_order_they_were_plumbed_in_does_not_matter),
        cmocka_unit_test(wind_words_say_where_it_blows_to),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
