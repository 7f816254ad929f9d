/* iCalendar: read back by a small reader written from RFC 5545, line by line. */
#include "baitfall/ics.h"

#include <stdlib.h>
#include <string.h>

#include "baitfall/field.h"
#include "common/check.h"

#define START_MS 1776000000000.0

static char out[1 << 16];
static size_t n_out;

static const bf_ics_event two[] = {
    {START_MS - 3930e3, 330, "Cover 350 g of soft two with water for 5 min."},
    {START_MS - 3600e3, 0,
     "Drain; lid on, and let it stand\\rest.\nThen go, and don't forget the \xc3\xb6l."},
};

static void write_two(void) {
    assert_int_equal(
        bf_ics_write("Withy Pool, peg 14 (invented)", two, 2, START_MS - 86400e3, out, sizeof out, &n_out),
        BF_OK);
    assert_int_equal(n_out, strlen(out));
}

/* Unfolds (RFC 5545 3.1) into text of its own; the caller frees it. */
static char *unfolded(void) {
    char *text = malloc(n_out + 1), *to = text;
    for (const char *from = out; *from;)
        if (strncmp(from, "\r\n ", 3) == 0)
            from += 3;
        else
            *to++ = *from++;
    *to = 0;
    return text;
}

static int count(const char *text, const char *what) {
    int n = 0;
    for (const char *at = text; (at = strstr(at, what)); at += strlen(what)) n++;
    return n;
}

static void lines_end_in_crlf_and_hold_75_octets_at_most_of_whole_characters(void **state) {
    (void)state;
    write_two();
    const char *line = out;
    while (*line) {
        const char *end = strstr(line, "\r\n");
        assert_non_null(end);
        assert_true(end - line <= 75);
        assert_false(((unsigned char)line[*line == ' '] & 0xc0) == 0x80);
        for (const char *c = line; c < end; c++) assert_true(*c != '\r' && *c != '\n');
        line = end + 2;
    }
}

static void every_event_has_what_the_standard_demands(void **state) {
    (void)state;
    write_two();
    char *text = unfolded();
    static const char head[] = "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:";
    assert_int_equal(strncmp(text, head, sizeof head - 1), 0);
    assert_int_equal(count(text, "BEGIN:VEVENT\r\nUID:"), 2);
    assert_int_equal(count(text, "\r\nDTSTAMP:20260411T132000Z\r\n"), 2);
    assert_int_equal(count(text, "\r\nDTSTART:20260412T121430Z\r\nDTEND:20260412T122000Z\r\n"), 1);
    assert_int_equal(count(text, "\r\nDTSTART:20260412T122000Z\r\nSUMMARY:"), 1);
    assert_int_equal(count(text, "BEGIN:VALARM\r\nACTION:DISPLAY\r\nTRIGGER:PT0S\r\nDESCRIPTION:"), 2);
    assert_int_equal(count(text, "END:VALARM\r\nEND:VEVENT\r\n"), 2);
    assert_non_null(strstr(text, "END:VCALENDAR\r\n"));
    free(text);
}

static void text_is_escaped(void **state) {
    (void)state;
    write_two();
    char *text = unfolded();
    assert_non_null(strstr(text, "NAME:Withy Pool\\, peg 14 (invented)\r\n"));
    assert_non_null(
        strstr(text, "SUMMARY:Drain\\; lid on\\, and let it stand\\\\rest.\\nThen go\\, and don't forget "
                     "the \xc3\xb6l.\r\n"));
    free(text);
}

static void the_same_plan_keeps_its_uids_and_two_appointments_never_share_one(void **state) {
    (void)state;
    static char again[1 << 16];
    write_two();
    memcpy(again, out, n_out + 1);
    write_two();
    assert_string_equal(again, out);
    const char *a = strstr(out, "UID:"), *b = strstr(a + 1, "UID:");
    assert_true(memcmp(a, b, 20) != 0);
}

static void bad_times_and_little_room_are_refused_with_nothing_written(void **state) {
    (void)state;
    static const double bad[] = {BF_NAN, BF_INFINITY, -1e18, 1e18};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        bf_ics_event event = {bad[i], 0, "x"};
        assert_int_equal(bf_ics_write("x", &event, 1, START_MS, out, sizeof out, &n_out), BF_E_RANGE);
        event = (bf_ics_event){START_MS, bad[i], "x"};
        assert_int_equal(bf_ics_write("x", &event, 1, START_MS, out, sizeof out, &n_out), BF_E_RANGE);
        assert_int_equal(bf_ics_write("x", two, 2, bad[i], out, sizeof out, &n_out), BF_E_RANGE);
    }
    write_two();
    size_t n_whole = n_out;
    for (size_t most = 1; most <= n_whole; most += 7) {
        assert_int_equal(
            bf_ics_write("Withy Pool, peg 14 (invented)", two, 2, START_MS - 86400e3, out, most, &n_out),
            BF_E_SPACE);
        assert_int_equal(n_out, 0);
        assert_string_equal(out, "");
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lines_end_in_crlf_and_hold_75_octets_at_most_of_whole_characters),
        cmocka_unit_test(every_event_has_what_the_standard_demands),
        cmocka_unit_test(text_is_escaped),
        cmocka_unit_test(the_same_plan_keeps_its_uids_and_two_appointments_never_share_one),
        cmocka_unit_test(bad_times_and_little_room_are_refused_with_nothing_written),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
