/* aim as a command: what goes with its outputs. What the numbers are worth is tested in tests/tackle. */
#include "answered.h"

#define STAND                                                                                                \
    "\"water\":{\"depth\":\"1.6 m\",\"wind\":\"3 m/s\",\"wind_side\":\"90 deg\",\"temp\":\"12 C\"},"         \
    "\"spot\":{\"distance\":\"11.5 m\"},\"rig\":\"middle\",\"hook_bait\":\"hard-6\",\"bait\":\"hard-4\""

static answered asked(const char *more) {
    char request[1024];
    snprintf(request, sizeof request, "{\"draws\":512," STAND "%s}", more);
    return answered_ask("aim", request);
}

static void chances_grow_with_the_circle_and_are_said_in_tens(void **state) {
    (void)state;
    answered a = asked("");
    double c5 = answered_number(&a, "chance.within_5cm"), c10 = answered_number(&a, "chance.within_10cm"),
           c15 = answered_number(&a, "chance.within_15cm");
    assert_true(0 <= c5 && c5 <= c10 && c10 <= c15 && c15 <= 1);
    assert_non_null(strstr(answered_text(&a, "chance.text"), "in 10"));
    assert_non_null(strstr(answered_text(&a, "chance.text_15cm"), "in 10"));
    answered_free(&a);
}

/* How far the fit may be off is said as a number, and in a remark: one where it is within 3 mm, another where it is rough. */
static void how_good_the_fit_is_is_said(void **state) {
    (void)state;
    static const char *const stands[] = {"", ",\"hold\":{\"overdepth\":\"-20 cm\"}"};
    for (int i = 0; i < 2; i++) {
        answered a = asked(stands[i]);
        double error_m = answered_number(&a, "fit_error_m");
        assert_true(error_m > 0 && error_m < 1);
        assert_int_equal(answered_has_note(&a, "notes", "aim-fit"), error_m <= 0.003);
        assert_int_equal(answered_has_note(&a, "notes", "aim-fit-rough"), error_m > 0.003);
        answered_free(&a);
    }
}

/* Each mend in the same draws with one thing better: what it leaves is the miss less what it gains. */
static void mends_come_best_first_and_add_up(void **state) {
    (void)state;
    answered a = asked(",\"aim\":{\"ship\":\"0 cm give or take 12 cm\",\"pot_comp\":\"0 m\"}");
    int n = answered_count(&a, "mend"), has_mark = 0;
    double last = INFINITY, miss_90_m = answered_number(&a, "miss_m.hi");
    assert_true(n >= 2);
    for (int i = 0; i < n; i++) {
        char path[64];
        snprintf(path, sizeof path, "mend[%d].gain_m", i);
        double gain_m = answered_number(&a, path);
        assert_true(gain_m <= last && gain_m > 0);
        last = gain_m;
        snprintf(path, sizeof path, "mend[%d].miss_90_m", i);
        BF_CHECK_ABS(answered_number(&a, path), miss_90_m - gain_m, 1e-9);
        snprintf(path, sizeof path, "mend[%d].text", i);
        assert_null(strchr(answered_text(&a, path), '{'));
        snprintf(path, sizeof path, "mend[%d].gain", i);
        assert_non_null(strstr(answered_text(&a, path), "nine drops in ten lie "));
        snprintf(path, sizeof path, "mend[%d].input", i);
        has_mark |= strcmp(answered_text(&a, path), "aim.ship_m") == 0;
    }
    assert_true(has_mark); // 12 cm along the pole is the largest slip there is
    answered_free(&a);
}

static void nominal_has_no_chance_and_nothing_to_mend(void **state) {
    (void)state;
    answered a = answered_ask("aim", "{\"nominal\":true," STAND "}");
    assert_false(answered_has(&a, "chance"));
    assert_false(answered_has(&a, "mend"));
    assert_true(answered_has(&a, "miss_m.nominal"));
    answered_free(&a);
}

static void bait_and_bed_are_drawn_from_above(void **state) {
    (void)state;
    answered a = asked(",\"pictures\":[\"above\",\"section\"],\"look\":\"sun\"");
    assert_non_null(strstr(answered_text(&a, "pictures.above.svg"), "<svg"));
    assert_true(answered_count(&a, "pictures.above.table") > 0);
    assert_true(answered_count(&a, "pictures.section.table") > 0);
    answered_free(&a);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(chances_grow_with_the_circle_and_are_said_in_tens),
        cmocka_unit_test(how_good_the_fit_is_is_said),
        cmocka_unit_test(mends_come_best_first_and_add_up),
        cmocka_unit_test(nominal_has_no_chance_and_nothing_to_mend),
        cmocka_unit_test(bait_and_bed_are_drawn_from_above),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
