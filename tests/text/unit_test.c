/* unit_test.c -- quantities as text. Factors: international yard and pound agreement 1959 (exact); Beaufort: class
 * limits of the WMO scale in m/s (from memory: 0.3, 1.6, 3.4, 5.5, 8.0, 10.8, 13.9, 17.2, 20.8, 24.5, 28.5, 32.7). */
#include "common/check.h"

#include "baitfall/unit.h"

static bf_status read_text(const char *text, bf_dimension dimension, bf_quantity *quantity, int *says_pm) {
    return bf_quantity_read(text, strlen(text), dimension, quantity, says_pm);
}

static void every_unit_reads_by_its_exact_factor(void **state) {
    (void)state;
    static const struct {
        const char *text;
        bf_dimension dimension;
        double value;
    } row[] = {
        {"4mm", BF_LENGTH, 0.004},
        {"4.43 MM", BF_LENGTH, 0.00443},
        {"15 cm", BF_LENGTH, 0.15},
        {"1.5m", BF_LENGTH, 1.5},
        {"-2 m", BF_LENGTH, -2},
        {"1 in", BF_LENGTH, 0.0254},
        {"5ft 3in", BF_LENGTH, 63 * 0.0254},
        {"5ft3in", BF_LENGTH, 63 * 0.0254},
        {"5' 3\"", BF_LENGTH, 63 * 0.0254},
        {"5\u2032 3\u2033", BF_LENGTH, 63 * 0.0254},
        {"-1 ft 3 in", BF_LENGTH, -15 * 0.0254},
        {"6 feet", BF_LENGTH, 1.8288},
        {"1 m 20 cm", BF_LENGTH, 1.2},
        {"8 ml", BF_VOLUME, 8e-6},
        {"1.5 l", BF_VOLUME, 1.5e-3},
        {"8 cm3", BF_VOLUME, 8e-6},
        {"0.001 m\u00b3", BF_VOLUME, 1e-3},
        {"250 g", BF_MASS, 0.25},
        {"1 lb", BF_MASS, 0.45359237},
        {"4lb 6oz", BF_MASS, 70 * 0.45359237 / 16},
        {"1.2 g/cm3", BF_DENSITY, 1200},
        {"1180 kg/m3", BF_DENSITY, 1180},
        {"90 s", BF_TIME, 90},
        {"1 min 30 s", BF_TIME, 90},
        {"2h", BF_TIME, 7200},
        {"12C", BF_TEMPERATURE, 12},
        {"12 \u00b0C", BF_TEMPERATURE, 12},
        {"-40F", BF_TEMPERATURE, -40},
        {"212 F", BF_TEMPERATURE, 100},
        {"3.6 km/h", BF_SPEED, 1},
        {"100 mph", BF_SPEED, 44.704},
        {"10 kn", BF_SPEED, 18520.0 / 3600},
        {"90 deg", BF_ANGLE, 90},
        {"90\u00b0", BF_ANGLE, 90},
        {"1.1 mPa s", BF_VISCOSITY, 0.0011},
        {"73 mN/m", BF_TENSION, 0.073},
        {"1013 hPa", BF_PRESSURE, 101300},
        {"0.3", BF_PURE, 0.3},
        {"30%", BF_PURE, 0.3},
        {"2 N", BF_FORCE, 2},
        {"5 cm2", BF_AREA, 5e-4},
    };
    for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
        bf_quantity q;
        int says_pm;
        if (read_text(row[i].text, row[i].dimension, &q, &says_pm)) fail_msg("%s was refused", row[i].text);
        if (!(fabs(q.value - row[i].value) <= 4e-16 * fabs(row[i].value)))
            fail_msg("%s is %.17g, want %.17g", row[i].text, q.value, row[i].value);
        assert_int_equal(says_pm, 0);
        assert_true(q.pm == 0 && !q.is_unknown);
    }
}

static void give_or_take_may_share_its_unit(void **state) {
    (void)state;
    static const struct {
        const char *text;
        bf_dimension dimension;
        double value, pm;
    } row[] = {
        {"1.5 m give or take 5 cm", BF_LENGTH, 1.5, 0.05},
        {"1.5m +-5cm", BF_LENGTH, 1.5, 0.05},
        {"1.5m +/- 5 cm", BF_LENGTH, 1.5, 0.05},
        {"1.5m \u00b1 5 cm", BF_LENGTH, 1.5, 0.05},
        {"50 give or take 5 cm", BF_LENGTH, 0.5, 0.05},
        {"12 C give or take 2", BF_TEMPERATURE, 12, 2},
        {"50 F give or take 9 F", BF_TEMPERATURE, 10, 5},
        {"0.4 give or take 0.1", BF_PURE, 0.4, 0.1},
        {"4 mm give or take 0 mm", BF_LENGTH, 0.004, 0},
        {"5ft 3in give or take 1in", BF_LENGTH, 1.6002, 0.0254},
    };
    for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
        bf_quantity q;
        int says_pm;
        assert_int_equal(read_text(row[i].text, row[i].dimension, &q, &says_pm), BF_OK);
        BF_CHECK_REL(q.value, row[i].value, 1e-15);
        BF_CHECK_REL(q.pm, row[i].pm, 1e-15);
        assert_int_equal(says_pm, 1);
    }
}

static void beaufort_carries_half_its_class(void **state) {
    (void)state;
    static const double limit[] = {0, 0.3, 1.6, 3.4, 5.5, 8.0, 10.8, 13.9, 17.2, 20.8, 24.5, 28.5, 32.7};
    for (int force = 0; force < 12; force++) {
        char text[32];
        snprintf(text, sizeof text, "%d Beaufort", force);
        bf_quantity q;
        int says_pm;
        assert_int_equal(read_text(text, BF_SPEED, &q, &says_pm), BF_OK);
        assert_int_equal(says_pm, 1);
        // The scale prints its limits to 0.1 m/s with a gap of 0.1 between classes.
        BF_CHECK_ABS(q.pm, (limit[force + 1] - limit[force]) / 2, 0.1);
        if (force) BF_CHECK_ABS(q.value, (limit[force + 1] + limit[force]) / 2, 0.15);
    }
    bf_quantity q;
    int says_pm;
    assert_int_equal(read_text("3 Beaufort", BF_SPEED, &q, &says_pm), BF_OK);
    BF_CHECK_ABS(q.value, 4.344, 0.001);
    BF_CHECK_ABS(q.pm, 1.085, 0.001);
    assert_int_equal(read_text("3.5 Beaufort", BF_SPEED, &q, &says_pm), BF_E_RANGE);
    assert_int_equal(read_text("13 Beaufort", BF_SPEED, &q, &says_pm), BF_E_RANGE);
    assert_int_equal(read_text("3 Beaufort give or take 1 m/s", BF_SPEED, &q, &says_pm), BF_OK);
    BF_CHECK_ABS(q.pm, 1, 0);
}

static void dont_know_is_legal(void **state) {
    (void)state;
    static const char *const words[] = {"don't know", "Don\u2019t know", " dont know ", "unknown", "?"};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        bf_quantity q;
        int says_pm;
        assert_int_equal(read_text(words[i], BF_LENGTH, &q, &says_pm), BF_OK);
        assert_int_equal(q.is_unknown, 1);
        assert_true(isnan(q.value) && isnan(q.pm));
    }
}

static void wrong_text_says_why(void **state) {
    (void)state;
    static const struct {
        const char *text;
        bf_dimension dimension;
        bf_status status;
    } row[] = {
        {"", BF_LENGTH, BF_E_SYNTAX},
        {"m", BF_LENGTH, BF_E_SYNTAX},
        {"NaN", BF_LENGTH, BF_E_SYNTAX},
        {"-inf m", BF_LENGTH, BF_E_SYNTAX},
        {"0x10 m", BF_LENGTH, BF_E_UNIT},
        {"1,5 m", BF_LENGTH, BF_E_UNIT},
        {"1.5 m give or take", BF_LENGTH, BF_E_SYNTAX},
        {"1.5 m give or take -5 cm", BF_LENGTH, BF_E_SYNTAX},
        {"1e999 m", BF_LENGTH, BF_E_NOT_FINITE},
        {"1e308 h", BF_TIME, BF_E_NOT_FINITE},
        {"1.5", BF_LENGTH, BF_E_UNIT},
        {"1.5 kg", BF_LENGTH, BF_E_UNIT},
        {"1.5 m/s", BF_LENGTH, BF_E_UNIT},
        {"1.5 m3", BF_LENGTH, BF_E_UNIT},
        {"4 mm", BF_TEMPERATURE, BF_E_UNIT},
        {"12 cm", BF_TEMPERATURE, BF_E_UNIT},
        {"3 in 5 ft", BF_LENGTH, BF_E_UNIT},
        {"5 ft -3 in", BF_LENGTH, BF_E_UNIT},
        {"5 ft 3", BF_LENGTH, BF_E_UNIT},
        {"5 ft wide", BF_LENGTH, BF_E_UNIT},
        {"50C 3F", BF_TEMPERATURE, BF_E_UNIT},
        {"3 Beaufort 4 m/s", BF_SPEED, BF_E_UNIT},
        {"4 m/s 3 Beaufort", BF_SPEED, BF_E_UNIT},
        {"4 m/s give or take 1 Beaufort", BF_SPEED, BF_E_UNIT},
        {"3 m", BF_PURE, BF_E_UNIT},
        {"1 2", BF_PURE, BF_E_UNIT},
    };
    for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
        bf_quantity q = {1, 1, 1};
        int says_pm;
        bf_status status = read_text(row[i].text, row[i].dimension, &q, &says_pm);
        if (status != row[i].status)
            fail_msg("\"%s\": status %d, want %d", row[i].text, status, row[i].status);
        assert_true(isnan(q.value) && isnan(q.pm) && !q.is_unknown && !says_pm);
    }
}

static void a_word_tells_its_dimension(void **state) {
    (void)state;
    static const struct {
        const char *text;
        bf_dimension dimension;
    } row[] = {{"1.5m", BF_LENGTH},      {"12C", BF_TEMPERATURE},   {"5ft 3in", BF_LENGTH},
               {"8ml", BF_VOLUME},       {"10 min", BF_TIME},       {"3 m/s", BF_SPEED},
               {"3 m3", BF_VOLUME},      {"1.2 g/cm3", BF_DENSITY}, {"90 deg", BF_ANGLE},
               {"3 Beaufort", BF_SPEED}, {"40 g", BF_MASS},         {"5 Pa s", BF_VISCOSITY},
               {"30%", BF_PURE}};
    for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
        bf_dimension dimension;
        assert_int_equal(bf_dimension_read(row[i].text, strlen(row[i].text), &dimension), BF_OK);
        assert_int_equal(dimension, row[i].dimension);
    }
    bf_dimension dimension;
    assert_int_equal(bf_dimension_read("400", 3, &dimension), BF_E_UNIT);
    assert_int_equal(bf_dimension_read("hard-4", 6, &dimension), BF_E_SYNTAX);
    assert_int_equal(bf_dimension_read("4 furlongs", 10, &dimension), BF_E_UNIT);
}

static void the_range_decides_the_digits(void **state) {
    (void)state;
    static const struct {
        double mid, lo, hi;
        bf_dimension dimension;
        const char *text;
    } row[] = {
        {12.2, 9.8, 14.9, BF_TIME, "12 s (10-15)"},
        {0.143, 0.108, 0.187, BF_LENGTH, "14 cm (11-19)"},
        {52.3, 45.1, 60.2, BF_PURE, "52 (45-60)"},
        {47.9, 30.6, 73.4, BF_PURE, "48 (31-73)"},
        {449, 279, 687, BF_PURE, "450 (280-690)"},
        {12.2, -3.1, 15.4, BF_TIME, "12 s (-3 to 15)"},
        {1.5, 1.45, 1.55, BF_LENGTH, "1.50 m (1.45-1.55)"},
        {0.0044, 0.0042, 0.0046, BF_LENGTH, "4.4 mm (4.2-4.6)"},
        {330, 310, 350, BF_TIME, "5.5 min (5.2-5.8)"},
        {1234, 934, 1534, BF_PURE, "1230 (930-1530)"},
        {0.131, 0.102, 0.163, BF_SPEED, "13 cm/s (10-16)"},
        {36.7, 18.5, 132.3, BF_TIME, "40 s (20-130)"},
        {12, 12, 12, BF_TIME, "12 s"},
        {12.3456, 12.3456, 12.3456, BF_TIME, "12.3 s"},
        {0, -0.051, 0.049, BF_LENGTH, "0 cm (-5 to 5)"},
        {0.25, 0.21, 0.31, BF_MASS, "250 g (210-310)"},
        {11.5, 9.5, 13.5, BF_TEMPERATURE, "12 C (10-14)"},
    };
    for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
        char text[BF_SAY_MOST];
        bf_say_range((bf_range){row[i].mid, row[i].mid, row[i].lo, row[i].hi}, row[i].dimension, text);
        assert_string_equal(text, row[i].text);
    }
    char text[BF_SAY_MOST];
    bf_say_range((bf_range){NAN, NAN, NAN, NAN}, BF_TIME, text);
    assert_string_equal(text, "no answer");
    bf_say_range((bf_range){12, 12, 10, INFINITY}, BF_TIME, text);
    assert_string_equal(text, "12 s (10 and up)");
}

static void values_are_said_in_the_unit_of_their_size(void **state) {
    (void)state;
    static const struct {
        double value;
        bf_dimension dimension;
        const char *text;
    } row[] = {
        {0.004, BF_LENGTH, "4 mm"},     {0.15, BF_LENGTH, "15 cm"},
        {1.5, BF_LENGTH, "1.5 m"},      {0, BF_LENGTH, "0 m"},
        {-1, BF_LENGTH, "-1 m"},        {8e-6, BF_VOLUME, "8 ml"},
        {0, BF_VOLUME, "0 l"},          {90, BF_TIME, "90 s"},
        {330, BF_TIME, "5.5 min"},      {1180, BF_DENSITY, "1180 kg/m3"},
        {1e-300, BF_PURE, "1e-300"},    {INFINITY, BF_TIME, "no number"},
        {1.0 / 3, BF_PURE, "0.333333"}, {1234567, BF_PURE, "1234567"},
        {0.5, BF_MASS, "500 g"},
    };
    for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
        char text[BF_SAY_MOST];
        bf_say(row[i].value, row[i].dimension, text);
        assert_string_equal(text, row[i].text);
    }
    char text[BF_SAY_MOST];
    bf_say_quantity((bf_quantity){1.5, 0.05, 0}, BF_LENGTH, text);
    assert_string_equal(text, "1.5 m give or take 5 cm");
    bf_say_quantity((bf_quantity){NAN, NAN, 1}, BF_LENGTH, text);
    assert_string_equal(text, "don't know");
}

static void a_ratio_is_said_in_percent_and_no_range_leaves_its_field(void **state) {
    (void)state;
    static const bf_field ratio = {.name = "fill_frac", .least = 0, .most = 3};
    static const bf_field stand = {.name = "stand_s", .dimension = BF_TIME, .least = 0, .most = 86400};
    char text[BF_SAY_MOST];
    bf_say_range_of(&ratio, (bf_range){0.6, 0.6, 0.4, 1}, text);
    assert_string_equal(text, "60 % (40-100)");
    bf_say_range_of(&ratio, (bf_range){NAN, NAN, NAN, NAN}, text);
    assert_string_equal(text, "no answer");
    bf_say_given(&ratio, (bf_quantity){2.9, 0.2, 0}, text);
    assert_string_equal(text, "290 % (270-300)");
    bf_say_given(&stand, (bf_quantity){0, 60, 0}, text);
    assert_string_equal(text, "0 s (0-60)");
    bf_say_given(&stand, (bf_quantity){0, 0, 1}, text);
    assert_string_equal(text, "don't know");
}

static void what_is_said_reads_back(void **state) {
    (void)state;
    for (int dimension = 0; dimension < BF_N_DIMENSIONS; dimension++) {
        assert_true(strlen(bf_units_of((bf_dimension)dimension)) > 0);
        for (int power = -8; power <= 8; power++) {
            double value = 1.2345 * pow(10, power);
            char text[BF_SAY_MOST];
            bf_say_quantity((bf_quantity){value, value / 10, 0}, (bf_dimension)dimension, text);
            bf_quantity q;
            int says_pm;
            if (read_text(text, (bf_dimension)dimension, &q, &says_pm))
                fail_msg("%s does not read back", text);
            BF_CHECK_REL(q.value, value, 1e-5);
            BF_CHECK_REL(q.pm, value / 10, 1e-5);
        }
    }
}

static void weights_are_told_as_they_are_weighed_in(void **state) {
    (void)state;
    static const struct {
        double kg;
        const char *said;
    } rows[] = {{0.45359237, "1 lb"},   {0.907184, "2 lb"}, {0.5669904625, "1 lb 4 oz"},
                {0.4252428, "15 oz"},   {0.452, "1 lb"},    {22.6796185, "50 lb"},
                {25.73, "56 lb 12 oz"}, {0, "0 lb"},        {BF_NAN, "no number"}};
    char said[BF_SAY_MOST];
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        bf_say_weight(rows[i].kg, said);
        assert_string_equal(said, rows[i].said);
    }
    bf_say_weight_range((bf_range){18, 18, 16, 21}, said);
    assert_string_equal(said, "40 lb (35-46)");
    bf_say_weight_range((bf_range){0.3, 0.3, 0.2, 0.4}, said);
    assert_string_equal(said, "11 oz (7-14)");
    bf_say_weight_range((bf_range){2, 2, 2, 2}, said);
    assert_string_equal(said, "4 lb 7 oz");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(weights_are_told_as_they_are_weighed_in),

        cmocka_unit_test(every_unit_reads_by_its_exact_factor),
        cmocka_unit_test(give_or_take_may_share_its_unit),
        cmocka_unit_test(beaufort_carries_half_its_class),
        cmocka_unit_test(dont_know_is_legal),
        cmocka_unit_test(wrong_text_says_why),
        cmocka_unit_test(a_word_tells_its_dimension),
        cmocka_unit_test(the_range_decides_the_digits),
        cmocka_unit_test(values_are_said_in_the_unit_of_their_size),
        cmocka_unit_test(a_ratio_is_said_in_percent_and_no_range_leaves_its_field),
        cmocka_unit_test(what_is_said_reads_back),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
