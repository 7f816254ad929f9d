/* json_test.c -- JSON as RFC 8259 has it, and what is refused beside it. */
#include "common/check.h"

#include "baitfall/json.h"

#define TOKENS 4096

static char memory[1 << 18];

static bf_status read_text(const char *text, bf_json *json, bf_json_fault *fault) {
    assert_true(bf_json_bytes(TOKENS) <= sizeof memory);
    return bf_json_read(text, strlen(text), memory, TOKENS, json, fault);
}

static bf_json good(const char *text) {
    bf_json json;
    bf_json_fault fault;
    bf_status status = read_text(text, &json, &fault);
    if (status) fail_msg("%s refused at %zu: %s", text, fault.at, fault.wanted);
    return json;
}

static void well_formed_text_is_accepted(void **state) {
    (void)state;
    static const char *const text[] = {
        "{}",
        " \t\r\n{ } \n",
        "{\"a\":[]}",
        "{\"a\":{},\"b\":[{},[],[[]]],\"c\":null,\"d\":true,\"e\":false}",
        "{\"a\":-0,\"b\":0.5e-3,\"c\":1E+9,\"d\":12345678901234567890}",
        "{\"\":\"\",\"a\\\"b\":\"\\\\\\/\\b\\f\\n\\r\\t\\u0041\\ud83d\\ude00\"}",
        "{\"caf\xc3\xa9\":\"\xf0\x9f\x90\x9f \xef\xbf\xbd\"}",
        "{\"a\":[[[[[[[[[[[[[[[1]]]]]]]]]]]]]]]}",
        "{\"a\":{\"a\":1},\"b\":{\"a\":1}}",
    };
    for (size_t i = 0; i < sizeof text / sizeof text[0]; i++) good(text[i]);
}

static void malformed_text_is_refused_where_it_breaks(void **state) {
    (void)state;
    static const struct {
        const char *text;
        bf_status status;
        size_t at;
        const char *wanted;
    } row[] = {
        {"", BF_E_SYNTAX, 0, "an object"},
        {"[1]", BF_E_SYNTAX, 0, "an object"},
        {"\"a\"", BF_E_SYNTAX, 0, "an object"},
        {"\xef\xbb\xbf{}", BF_E_SYNTAX, 0, "an object"},
        {"{", BF_E_SYNTAX, 1, "a key in double quotes"},
        {"{a:1}", BF_E_SYNTAX, 1, "a key in double quotes"},
        {"{\"a\"}", BF_E_SYNTAX, 4, "a colon"},
        {"{\"a\" 1}", BF_E_SYNTAX, 5, "a colon"},
        {"{\"a\":}", BF_E_SYNTAX, 5, "a value"},
        {"{\"a\":1,}", BF_E_SYNTAX, 7, "a key in double quotes"},
        {"{\"a\":1 \"b\":2}", BF_E_SYNTAX, 7, "a comma or }"},
        {"{\"a\":[1 2]}", BF_E_SYNTAX, 8, "a comma or ]"},
        {"{\"a\":[1,]}", BF_E_SYNTAX, 8, "a value"},
        {"{\"a\":[,1]}", BF_E_SYNTAX, 6, "a value"},
        {"{\"a\":[1}", BF_E_SYNTAX, 7, "a comma or ]"},
        {"{\"a\":{]}", BF_E_SYNTAX, 6, "a key in double quotes"},
        {"{\"a\":01}", BF_E_SYNTAX, 5, "a value"},
        {"{\"a\":.5}", BF_E_SYNTAX, 5, "a value"},
        {"{\"a\":1.}", BF_E_SYNTAX, 6, "a comma or }"},
        {"{\"a\":1e}", BF_E_SYNTAX, 6, "a comma or }"},
        {"{\"a\":+1}", BF_E_SYNTAX, 5, "a value"},
        {"{\"a\":NaN}", BF_E_SYNTAX, 5, "a value"},
        {"{\"a\":Infinity}", BF_E_SYNTAX, 5, "a value"},
        {"{\"a\":truth}", BF_E_SYNTAX, 5, "a value"},
        {"{\"a\":nul}", BF_E_SYNTAX, 5, "a value"},
        {"{\"a\":truefalse}", BF_E_SYNTAX, 9, "a comma or }"},
        {"{\"a\":\"b}", BF_E_SYNTAX, 8, "a closing quote"},
        {"{\"a\":\"\\x\"}", BF_E_SYNTAX, 6, "a valid escape"},
        {"{\"a\":\"\\u12g4\"}", BF_E_SYNTAX, 6, "a valid escape"},
        {"{\"a\":\"\\u0000\"}", BF_E_SYNTAX, 6, "a valid escape"},
        {"{\"a\":\"\\ud800\"}", BF_E_SYNTAX, 6, "a valid escape"},
        {"{\"a\":\"\\ud800\\u0041\"}", BF_E_SYNTAX, 6, "a valid escape"},
        {"{\"a\":\"\\udc00\"}", BF_E_SYNTAX, 6, "a valid escape"},
        {"{\"a\":\"\n\"}", BF_E_SYNTAX, 6, "an escape instead of a control character"},
        {"{\"a\":\"\xff\"}", BF_E_SYNTAX, 6, "valid UTF-8"},
        {"{\"a\":\"\xc0\xaf\"}", BF_E_SYNTAX, 6, "valid UTF-8"},         // overlong
        {"{\"a\":\"\xed\xa0\x80\"}", BF_E_SYNTAX, 6, "valid UTF-8"},     // surrogate
        {"{\"a\":\"\xf4\x90\x80\x80\"}", BF_E_SYNTAX, 6, "valid UTF-8"}, // beyond U+10FFFF
        {"{\"a\":\"\xe2\x82\"}", BF_E_SYNTAX, 6, "valid UTF-8"},         // cut short
        {"{\xc2\xa0}", BF_E_SYNTAX, 1, "a key in double quotes"},
        {"{}{}", BF_E_SYNTAX, 2, "the end"},
        {"{} x", BF_E_SYNTAX, 3, "the end"},
        {"{\"a\":[[[[[[[[[[[[[[[[1]]]]]]]]]]]]]]]]}", BF_E_SPACE, 20, "nesting of at most 16"},
        {"{\"a\":1,\"b\":2,\"a\":3}", BF_E_TWICE, 14, "each key once"},
        {"{\"a\":1,\"\\u0061\":2}", BF_E_TWICE, 8, "each key once"},
        {"{\"x\":[{\"a\":1},{\"b\":1,\"b\":2}]}", BF_E_TWICE, 22, "each key once"},
    };
    for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
        bf_json json;
        bf_json_fault fault;
        bf_status status = read_text(row[i].text, &json, &fault);
        if (status != row[i].status || fault.at != row[i].at || strcmp(fault.wanted, row[i].wanted) != 0)
            fail_msg("%s: status %d at %zu wanting %s", row[i].text, status, fault.at, fault.wanted);
    }
}

static void a_nul_byte_is_no_end(void **state) {
    (void)state;
    bf_json json;
    bf_json_fault fault;
    assert_int_equal(bf_json_read("{}\0", 3, memory, TOKENS, &json, &fault), BF_E_SYNTAX);
    assert_int_equal(bf_json_read("{\"a\":\"\0\"}", 9, memory, TOKENS, &json, &fault), BF_E_SYNTAX);
}

static void the_caps_hold(void **state) {
    (void)state;
    bf_json json;
    bf_json_fault fault;
    size_t n = BF_JSON_BYTES_MOST + 1;
    char *text = malloc(n);
    memset(text, ' ', n);
    text[0] = '{';
    text[n - 2] = '}';
    assert_int_equal(bf_json_read(text, n - 1, memory, TOKENS, &json, &fault), BF_OK);
    assert_int_equal(bf_json_read(text, n, memory, TOKENS, &json, &fault), BF_E_SPACE);
    assert_string_equal(fault.wanted, "at most 1048576 bytes");
    free(text);
    assert_int_equal(bf_json_read("{\"a\":[1,2,3]}", 13, memory, 5, &json, &fault), BF_E_SPACE);
    assert_string_equal(fault.wanted, "fewer values");
    assert_int_equal(bf_json_read("{\"a\":[1,2,3]}", 13, memory, 6, &json, &fault), BF_OK);
}

static void values_are_found_and_decoded(void **state) {
    (void)state;
    bf_json json =
        good("{\"n\":[10,{\"x\":\"\\u00e9\\ud83d\\udc1f\"},[],-2.5e1],\"\\u006d\":true,\"z\":null}");
    int n = bf_json_find(&json, 0, "n"), m = bf_json_find(&json, 0, "m");
    assert_int_equal(bf_json_kind_of(&json, 0), BF_JSON_OBJECT);
    assert_int_equal(bf_json_kind_of(&json, n), BF_JSON_ARRAY);
    assert_int_equal(bf_json_kind_of(&json, m), BF_JSON_TRUE);
    assert_int_equal(bf_json_kind_of(&json, bf_json_find(&json, 0, "z")), BF_JSON_NULL);
    assert_int_equal(bf_json_find(&json, 0, "no"), -1);
    assert_int_equal(bf_json_find(&json, 0, "nn"), -1);

    int first = bf_json_first(&json, n), second = bf_json_next(&json, first),
        third = bf_json_next(&json, second);
    int fourth = bf_json_next(&json, third);
    double number;
    assert_int_equal(bf_json_number(&json, first, &number), BF_OK);
    assert_true(number == 10);
    assert_int_equal(bf_json_number(&json, fourth, &number), BF_OK);
    assert_true(number == -25);
    assert_int_equal(bf_json_next(&json, fourth), -1);
    assert_int_equal(bf_json_first(&json, third), -1);

    char text[16];
    int x = bf_json_find(&json, second, "x");
    assert_int_equal(bf_json_string(&json, x, text, sizeof text), BF_OK);
    assert_string_equal(text, "\xc3\xa9\xf0\x9f\x90\x9f");
    assert_true(bf_json_is(&json, x, "\xc3\xa9\xf0\x9f\x90\x9f"));
    assert_false(bf_json_is(&json, x, "\xc3\xa9"));
    assert_int_equal(bf_json_string(&json, x, text, 6), BF_E_SPACE);
    assert_string_equal(text, "\xc3\xa9");

    size_t n_raw;
    const char *raw = bf_json_raw(&json, second, &n_raw);
    assert_int_equal((int)n_raw, 26);
    assert_memory_equal(raw, "{\"x\":\"\\u00e9\\ud83d\\udc1f\"}", n_raw);
}

static void paths_name_every_value(void **state) {
    (void)state;
    bf_json json = good("{\"feed\":[{\"a\":1},{\"count\":[7,8]}],\"b\":{\"c\":{\"d\":2}}}");
    static const struct {
        const char *raw, *path;
    } row[] = {{"1", "feed[0].a"}, {"8", "feed[1].count[1]"}, {"2", "b.c.d"}};
    for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
        int found = 0;
        for (int value = 0; value < json.n_tokens; value++) {
            size_t n;
            const char *raw = bf_json_raw(&json, value, &n);
            char path[64];
            if (n != strlen(row[i].raw) || memcmp(raw, row[i].raw, n) != 0) continue;
            bf_json_path(&json, value, path, sizeof path);
            assert_string_equal(path, row[i].path);
            found++;
        }
        assert_int_equal(found, 1);
    }
    char path[8];
    bf_json_path(&json, bf_json_find(&json, bf_json_find(&json, bf_json_find(&json, 0, "b"), "c"), "d"), path,
                 5);
    assert_string_equal(path, "b.c.");
}

/* A flat object of n bytes: as many short keys as fit. */
static size_t flat(char *text, size_t n) {
    size_t at = 1;
    text[0] = '{';
    for (unsigned int i = 0; at + 16 < n; i++)
        at += (size_t)sprintf(text + at, "%s\"%x\":0", i ? "," : "", i * 2654435761u);
    text[at++] = '}';
    return at;
}

static size_t steps_of(char *text, size_t n, void *tokens, int most) {
    bf_json json;
    bf_json_fault fault;
    n = flat(text, n);
    assert_int_equal(bf_json_read(text, n, tokens, most, &json, &fault), BF_OK);
    assert_true(json.n_tokens > (int)n / 16);
    return json.n_steps;
}

static void a_flat_mebibyte_takes_n_log_n_steps(void **state) {
    (void)state;
    int most = 1 << 19;
    void *tokens = malloc(bf_json_bytes(most));
    char *text = malloc(BF_JSON_BYTES_MOST + 32);
    size_t small = steps_of(text, BF_JSON_BYTES_MOST / 16, tokens, most);
    size_t large = steps_of(text, BF_JSON_BYTES_MOST, tokens, most);
    // Sixteen times the bytes: 16 x log2(16 n) / log2(n) for n = 4000 keys is 21.4.
    BF_CHECK_IN((double)large / (double)small, 15.0, 23.0);
    free(text);
    free(tokens);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(well_formed_text_is_accepted),
        cmocka_unit_test(malformed_text_is_refused_where_it_breaks),
        cmocka_unit_test(a_nul_byte_is_no_end),
        cmocka_unit_test(the_caps_hold),
        cmocka_unit_test(values_are_found_and_decoded),
        cmocka_unit_test(paths_name_every_value),
        cmocka_unit_test(a_flat_mebibyte_takes_n_log_n_steps),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
