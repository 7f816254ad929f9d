/* number_test.c -- doubles and text. Oracles: the C library's strtod and printf (both correctly rounding in glibc). */
#include "common/check.h"

#include "baitfall/number.h"
#include "baitfall/random.h"

static double of_bits(uint64_t bits) {
    double value;
    memcpy(&value, &bits, sizeof value);
    return value;
}

static uint64_t bits_of(double value) {
    uint64_t bits;
    memcpy(&bits, &value, sizeof bits);
    return bits;
}

static double pattern(uint64_t index) {
    bf_philox_block block = bf_philox(2026, 1, index);
    return of_bits((uint64_t)block.word[1] << 32 | block.word[0]);
}

static double read_all(const char *text) {
    double value;
    assert_int_equal(bf_number_read(text, strlen(text), &value), BF_OK);
    return value;
}

static int significant(const char *text) {
    int n = 0, zeros = 0;
    for (; *text && *text != 'e'; text++) {
        if (*text < '0' || *text > '9') continue;
        if (*text == '0') {
            if (n) zeros++;
            continue;
        }
        n += zeros + 1;
        zeros = 0;
    }
    return n;
}

static void a_million_bit_patterns_round_trip(void **state) {
    (void)state;
    long n_finite = 0;
    for (uint64_t i = 0; i < 1000000; i++) {
        double value = pattern(i);
        if (!isfinite(value)) continue;
        n_finite++;
        char text[BF_NUMBER_MOST];
        size_t n = bf_number_write(value, text);
        if (n != strlen(text) || n >= BF_NUMBER_MOST) fail_msg("length of %s", text);
        if (bits_of(strtod(text, NULL)) != bits_of(value)) fail_msg("%a written as %s", value, text);
        double back;
        if (bf_number_read(text, n, &back) || bits_of(back) != bits_of(value))
            fail_msg("%s read as %a", text, back);
    }
    assert_true(n_finite > 990000);
}

static void seventeen_digits_read_as_strtod_does(void **state) {
    (void)state;
    for (uint64_t i = 0; i < 300000; i++) {
        double value = pattern(i), back;
        if (!isfinite(value)) continue;
        char text[40];
        // Every digit count in turn: most such texts lie between two doubles.
        snprintf(text, sizeof text, "%.*e", (int)(i % 20), value);
        double want = strtod(text, NULL);
        bf_status status = bf_number_read(text, strlen(text), &back);
        if (isinf(want) ? status != BF_E_NOT_FINITE : bits_of(back) != bits_of(want))
            fail_msg("%s read as %a, strtod says %a", text, back, want);
    }
}

static void no_shorter_text_round_trips(void **state) {
    (void)state;
    for (uint64_t i = 0; i < 50000; i++) {
        double value = pattern(i);
        if (!isfinite(value)) continue;
        char text[BF_NUMBER_MOST], shorter[40];
        bf_number_write(value, text);
        int n = significant(text);
        if (n < 2) continue;
        snprintf(shorter, sizeof shorter, "%.*e", n - 2, value);
        if (strtod(shorter, NULL) == value) fail_msg("%s is not the shortest: %s", text, shorter);
        // The nearest of that length, unless rounding to that length no longer reads back (next to a power of two).
        snprintf(shorter, sizeof shorter, "%.*e", n - 1, value);
        if (strtod(shorter, NULL) == value && strtod(shorter, NULL) != strtod(text, NULL))
            fail_msg("%s is not the nearest: %s", text, shorter);
    }
}

static void edges_of_the_format_are_exact(void **state) {
    (void)state;
    static const struct {
        uint64_t bits;
        const char *text;
    } edge[] = {
        {0, "0"},
        {0x8000000000000000u, "-0"},
        {1, "5e-324"},
        {0x000fffffffffffffu, "2.225073858507201e-308"},
        {0x0010000000000000u, "2.2250738585072014e-308"},
        {0x7fefffffffffffffu, "1.7976931348623157e+308"},
        {0x3ff0000000000000u, "1"},
        {0x3fb999999999999au, "0.1"},
        {0x3fd3333333333334u, "0.30000000000000004"},
        {0x4340000000000000u, "9007199254740992"},
        {0x3d10000000000000u, "1.4210854715202004e-14"},
        {0x44b52d02c7e14af6u, "1e+23"},
        {0x444b1ae4d6e2ef50u, "1e+21"},
        {0x444b1ae4d6e2ef4fu, "999999999999999900000"},
        {0x3eb0c6f7a0b5ed8du, "0.000001"},
        {0x3e7ad7f29abcaf48u, "1e-7"},
    };
    for (size_t i = 0; i < sizeof edge / sizeof edge[0]; i++) {
        char text[BF_NUMBER_MOST];
        bf_number_write(of_bits(edge[i].bits), text);
        assert_string_equal(text, edge[i].text);
        assert_true(bits_of(read_all(edge[i].text)) == edge[i].bits);
    }
}

static void ties_and_long_digits_round_to_even(void **state) {
    (void)state;
    assert_true(read_all("9007199254740993") == 9007199254740992.0);
    assert_true(read_all("9007199254740995") == 9007199254740996.0);
    assert_true(read_all("2.4703282292062327e-324") == 0);
    assert_true(read_all("2.4703282292062328e-324") == 5e-324);
    // A tie that only digit 1001 breaks.
    char text[1200] = "9007199254740993.";
    memset(text + 17, '0', 1000);
    strcpy(text + 1017, "1");
    assert_true(read_all(text) == 9007199254740994.0);
    text[1017] = '0';
    assert_true(read_all(text) == 9007199254740992.0);
    // Leading zeros behind the point and a far exponent cancel.
    memset(text, '0', 1100);
    text[1] = '.';
    strcpy(text + 1100, "25e1100");
    assert_true(read_all(text) == 25.0);
    assert_true(read_all("0e999999999999") == 0);
    assert_true(signbit(read_all("-1e-999")));
}

static void only_the_json_grammar_is_a_number(void **state) {
    (void)state;
    static const char *const bad[] = {"",    "-",   "+1",  ".5", "5.", "01",  "1e",  "1e+",      "0x10",
                                      "1,5", "NaN", "inf", "1 ", " 1", "--1", "1d0", "Infinity", "1_000"};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        double value = 0;
        assert_int_equal(bf_number_read(bad[i], strlen(bad[i]), &value), BF_E_SYNTAX);
        assert_true(isnan(value));
    }
    double value = 0;
    assert_int_equal(bf_number_read("1e999", 5, &value), BF_E_NOT_FINITE);
    assert_true(isnan(value));
    assert_int_equal(bf_number_read("-1.7976931348623159e308", 23, &value), BF_E_NOT_FINITE);
    assert_int_equal((int)bf_number_span("5eggs", 5), 1);
    assert_int_equal((int)bf_number_span("1.5m", 4), 3);
    assert_int_equal((int)bf_number_span("1e5m", 4), 3);
}

static void fixed_decimals_equal_printf(void **state) {
    (void)state;
    for (uint64_t i = 0; i < 100000; i++) {
        double scale = pow(10, (double)(i % 24) - 5);
        double value = (2 * bf_uniform(7, 2, i) - 1) * scale;
        if (i % 3 == 0) value = floor(value * 8) / 8; // exact ties
        int decimals = (int)(i % 10);
        char got[BF_NUMBER_MOST], want[64];
        bf_number_fixed(value, decimals, got);
        snprintf(want, sizeof want, "%.*f", decimals, value);
        if (want[0] == '-' && strspn(want, "-0.") == strlen(want)) memmove(want, want + 1, strlen(want));
        if (strcmp(got, want) != 0)
            fail_msg("%.17g with %d decimals: %s, want %s", value, decimals, got, want);
    }
    char text[BF_NUMBER_MOST];
    bf_number_fixed(1.5, 2, text);
    assert_string_equal(text, "1.50");
    bf_number_fixed(0.125, 2, text);
    assert_string_equal(text, "0.12");
    bf_number_fixed(-0.001, 2, text);
    assert_string_equal(text, "0.00");
    bf_number_fixed(5e-324, 9, text);
    assert_string_equal(text, "0.000000000");
    bf_number_fixed(-1e300, 3, text);
    assert_string_equal(text, "-1e+300");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_million_bit_patterns_round_trip),
        cmocka_unit_test(seventeen_digits_read_as_strtod_does),
        cmocka_unit_test(no_shorter_text_round_trips),
        cmocka_unit_test(edges_of_the_format_are_exact),
        cmocka_unit_test(ties_and_long_digits_round_to_even),
        cmocka_unit_test(only_the_json_grammar_is_a_number),
        cmocka_unit_test(fixed_decimals_equal_printf),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
