/* The SVG writer: numbers, escaping, text width, short buffers. */
#include "core/picture/svg.h"

#include "common/check.h"
#include "core/picture/font.h"
#include "scenes.h"

static const char *number(double value, int decimals) {
    static char text[40];
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    bfi_put_number(&pen, value, decimals);
    return text;
}

static void numbers_are_short_and_rounded_half_away(void **state) {
    (void)state;
    assert_string_equal(number(0, 2), "0");
    assert_string_equal(number(-0.004, 2), "0");
    assert_string_equal(number(0.05, 2), "0.05");
    assert_string_equal(number(1.5, 2), "1.5");
    assert_string_equal(number(-1.25, 1), "-1.3");
    assert_string_equal(number(99.995001, 2), "100");
    assert_string_equal(number(100, 0), "100");
    assert_string_equal(number(123456789.12, 2), "123456789.12");
    assert_string_equal(number(7, 3), "7");
}

/* Oracle: the C library's printf, digits compared as numbers. */
static void numbers_agree_with_printf(void **state) {
    (void)state;
    for (int k = 0; k < 20000; k++) {
        double value = scene_uniform(1, k, -1, 1) * scene_scale(2, k, 1e-3, 1e6);
        char printed[40];
        snprintf(printed, sizeof printed, "%.2f", value);
        BF_CHECK_ABS(atof(number(value, 2)), atof(printed), 0);
    }
}

static void lengths_are_said_in_the_unit_that_suits(void **state) {
    (void)state;
    const struct {
        double m;
        const char *text;
    } rows[] = {{0, "0 cm"},      {0.0034, "3 mm"}, {0.0096, "1 cm"}, {0.24, "24 cm"},
                {0.994, "99 cm"}, {0.996, "1 m"},   {1.52, "1.5 m"},  {-0.1, "-10 cm"}};
    for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
        char text[32];
        bfi_pen pen = bfi_pen_open(text, sizeof text);
        bfi_put_length(&pen, rows[k].m);
        assert_string_equal(text, rows[k].text);
    }
}

static const char *escaped(const char *raw) {
    static char text[200];
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    bfi_put_escaped(&pen, raw);
    return text;
}

static void markup_in_text_is_escaped(void **state) {
    (void)state;
    assert_string_equal(escaped("</text><script>\"a\" & 'b'"),
                        "&lt;/text&gt;&lt;script&gt;&quot;a&quot; &amp; &#39;b&#39;");
    assert_string_equal(escaped("caf\xC3\xA9 \xF0\x9F\x90\x9F"), "caf\xC3\xA9 \xF0\x9F\x90\x9F");
}

#define GONE "\xEF\xBF\xBD"
static void what_xml_cannot_hold_is_replaced(void **state) {
    (void)state;
    assert_string_equal(escaped("a\x01"
                                "b\x1B"
                                "c"),
                        "a" GONE "b" GONE "c");
    assert_string_equal(escaped("\xC3("), GONE "(");              /* cut short         */
    assert_string_equal(escaped("\xC0\xAF"), GONE GONE);          /* longer than needed */
    assert_string_equal(escaped("\xED\xA0\x80"), GONE GONE GONE); /* half a surrogate  */
    assert_string_equal(escaped("\xEF\xBF\xBF"), GONE);           /* no character      */
    assert_string_equal(escaped("\xF4\x90\x80\x80"), GONE GONE GONE GONE);
    assert_string_equal(escaped("x\xE2\x82"), "x" GONE GONE); /* at the very end   */
}

/* Advances of DejaVu Sans read by hand from the fonts of Debian's fonts-dejavu-core 2.37 with fonttools' ttx, in
 * units of 1/2048 em. */
static void widths_are_those_of_the_font(void **state) {
    (void)state;
    assert_int_equal(bfi_font_units, 2048);
    BF_CHECK_ABS(bf_text_width_mm("0", 1, 0), 1303.0 / 2048, 0);
    BF_CHECK_ABS(bf_text_width_mm("0", 1, 1), 1425.0 / 2048, 0);
    BF_CHECK_ABS(bf_text_width_mm("W", 1, 1), 2259.0 / 2048, 0);
    BF_CHECK_ABS(bf_text_width_mm("12 s", 4, 1), (1425 + 1425 + 713 + 1219) / 2048.0, 0);
    BF_CHECK_ABS(bf_text_width_mm("\xF0\x9F\x90\x9F", 4, 1), 1, 0);
}

static void a_pen_never_writes_past_its_buffer(void **state) {
    (void)state;
    char buffer[40];
    for (size_t most = 1; most < 30; most++) {
        memset(buffer, '#', sizeof buffer);
        bfi_pen pen = bfi_pen_open(buffer, most);
        bfi_svg_rect(&pen, "bf-ink", 1, 2, 3, 4);
        assert_true(pen.is_short);
        assert_true(pen.n < most);
        assert_int_equal(buffer[pen.n], 0);
        for (size_t k = most; k < sizeof buffer; k++) assert_int_equal(buffer[k], '#');
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(numbers_are_short_and_rounded_half_away),
        cmocka_unit_test(numbers_agree_with_printf),
        cmocka_unit_test(lengths_are_said_in_the_unit_that_suits),
        cmocka_unit_test(markup_in_text_is_escaped),
        cmocka_unit_test(what_xml_cannot_hold_is_replaced),
        cmocka_unit_test(widths_are_those_of_the_font),
        cmocka_unit_test(a_pen_never_writes_past_its_buffer),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
