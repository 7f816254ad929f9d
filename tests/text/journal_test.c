#define _POSIX_C_SOURCE 200809L

/* Lines of a journal: read, refused with a sentence, kept in canonical form; the journal in memory; the question log. */
#include "common/check.h"

#include "baitfall/journal.h"
#include "common/random_line.h"

/* ---- Lines ---- */

static char canonical[BF_LINE_MOST + 1];
static bf_line line;
static bf_error error;

static bf_status read_line(const char *text, size_t n) {
    static void *work;
    if (!work) work = malloc(bf_line_work_bytes());
    // A block of exactly n bytes, so that a read past its end is seen.
    char *exact = malloc(n ? n : 1);
    memcpy(exact, text, n);
    bf_status status = bf_line_read(work, exact, n, &line, canonical, sizeof canonical, &error);
    free(exact);
    assert_int_equal(status, error.status);
    assert_true(!status == !error.text[0]);
    if (status) assert_true(line.n_canonical == 0 && line.n_names == 0 && line.event.id.high == 0);
    return status;
}

#define ENVELOPE                                                                                             \
    "\"v\":1,\"id\":\"00000000000000010000000000000002\",\"session\":\"00000000000000010000000000000002\","  \
    "\"dev\":\"0000000a\",\"run\":\"0000000b\",\"seq\":3,"
#define TIMES "\"at\":\"2026-04-12T09:31:05.120+01:00\",\"pm_s\":5,\"rec\":\"2026-04-12T09:31:05.120+01:00\","
#define LINE(kind, body) "{" ENVELOPE "\"kind\":\"" kind "\"," TIMES "\"body\":" body "}"

static void check_refused(const char *text, bf_status status, const char *field, const char *sentence) {
    bf_status got = read_line(text, strlen(text));
    if (got != status || strcmp(error.field, field) != 0 || strcmp(error.text, sentence) != 0)
        fail_msg("%s\n  status %d, field \"%s\": %s\n  wanted %d, \"%s\": %s", text, got, error.field,
                 error.text, status, field, sentence);
}

static void check_canonical(const char *text, const char *wanted) {
    bf_status status = read_line(text, strlen(text));
    if (status) fail_msg("%s: %s", text, error.text);
    assert_string_equal(canonical, wanted);
    assert_int_equal(line.n_canonical, strlen(wanted));
    uint64_t digest = line.event.digest;
    assert_int_equal(read_line(wanted, strlen(wanted)), BF_OK);
    assert_string_equal(canonical, wanted);
    assert_true(line.event.digest == digest);
}

static void a_line_becomes_canonical_and_stays_so(void **state) {
    (void)state;
    check_canonical(
        LINE("feed", "{\"spot\":\"long\",\"bait\":\"micros\",\"volume_m3\":0.00003,\"how\":\"clump\"}"),
        LINE("feed", "{\"spot\":\"long\",\"bait\":\"micros\",\"volume_m3\":0.00003,\"how\":\"clump\"}"));
    // Other order, blanks, escapes, keys without units, text with units, capital hex, an instant without fraction.
    check_canonical(
        " { \"body\" : { \"how\":\"clump\", \"volume\":\"30 ml\", \"b\\u0061it\":\"mi\\u0063ros\", "
        "\"spot\":\"long\" },\n"
        "\"rec\":\"2026-04-12T09:31:05.12+01:00\", "
        "\"kind\":\"feed\",\"run\":\"0000000B\",\"dev\":\"0000000A\","
        "\"seq\":3e0,\"pm_s\":\"5 s\",\"at\":\"2026-04-12t09:31:05.1201+01:00\",\"v\":1.0,"
        "\"session\":\"00000000000000010000000000000002\",\"id\":\"00000000000000010000000000000002\"}",
        LINE("feed", "{\"spot\":\"long\",\"bait\":\"micros\",\"volume_m3\":0.00003,\"how\":\"clump\"}"));
    check_canonical(LINE("plumb", "{\"depth\":\"5ft 3in\",\"distance\":\"11 m\",\"bottom\":\"silt\"}"),
                    LINE("plumb", "{\"distance_m\":11,\"depth_m\":1.6002,\"bottom\":\"silt\"}"));
    check_canonical("{" ENVELOPE "\"mono_ms\":193211.25,\"kind\":\"note\"," TIMES "\"body\":{\"note\":\"\"}}",
                    "{" ENVELOPE "\"mono_ms\":193211.25,\"kind\":\"note\"," TIMES "\"body\":{}}");
    check_canonical("{" ENVELOPE "\"kind\":\"cross\"," TIMES "\"of\":\"FFFFFFFFFFFFFFFFffffffffffffffff\"}",
                    "{" ENVELOPE "\"kind\":\"cross\"," TIMES
                    "\"of\":\"ffffffffffffffffffffffffffffffff\",\"body\":{}}");
    // Instants of a body are written by the local clock of the event.
    check_canonical(
        LINE("tally", "{\"from\":\"2026-04-12T07:00:00Z\",\"to\":\"2026-04-12T08:00:00Z\",\"landed\":3}"),
        LINE("tally", "{\"from\":\"2026-04-12T08:00:00.000+01:00\",\"to\":\"2026-04-12T09:00:00.000+01:00\","
                      "\"landed\":3}"));
}

static void names_and_notes_survive_byte_for_byte(void **state) {
    (void)state;
    static const char *const hostile[] = {"=cmd|' /C calc'!A0",
                                          "<script>alert(1)</script>",
                                          ("\xE2\x80\xAE"
                                           "txet"),
                                          "\xF0\x9F\x90\x9F carp",
                                          "O'Hara; DROP TABLE",
                                          "a,b",
                                          "\"quoted\"\\",
                                          "'already",
                                          "+1",
                                          "-1",
                                          "@x",
                                          "\xEF\xBB\xBF"};
    for (size_t i = 0; i < sizeof hostile / sizeof hostile[0]; i++) {
        char text[4096], body[1024];
        size_t n = 0;
        put_string(body, &n, hostile[i]);
        body[n] = 0;
        snprintf(text, sizeof text, LINE("lower", "{\"spot\":%s,\"note\":%s}"), body, body);
        assert_int_equal(read_line(text, strlen(text)), BF_OK);
        assert_string_equal(line.name[line.event.body.spot], hostile[i]);
        char *memory = malloc(bf_journal_bytes(1, 4096));
        bf_journal *journal = bf_journal_start(memory, 1, 4096);
        bf_taken taken;
        char note[200];
        assert_int_equal(bf_take(journal, text, strlen(text), &taken, &error), BF_OK);
        bf_journal_note(journal, 0, note, sizeof note);
        assert_string_equal(note, hostile[i]);
        free(memory);
    }
}

static void a_note_of_controls_and_of_16_kib_survives(void **state) {
    (void)state;
    static char text[40000], note[16400], got[16400], *memory;
    for (int size = 16383; size <= 16385; size++) {
        memset(note, 'x', (size_t)size);
        memcpy(note, "tab\there\nline\rreturn\x01\x1f", 22);
        note[size] = 0;
        size_t n = (size_t)sprintf(text, "{" ENVELOPE "\"kind\":\"note\"," TIMES "\"body\":{\"note\":");
        put_string(text, &n, note);
        n += (size_t)sprintf(text + n, "}}");
        if (size > 16384) {
            assert_int_equal(read_line(text, n), BF_E_SPACE);
            assert_string_equal(error.field, "body.note");
            continue;
        }
        memory = malloc(bf_journal_bytes(1, 40000));
        bf_journal *journal = bf_journal_start(memory, 1, 40000);
        bf_taken taken;
        assert_int_equal(bf_take(journal, text, n, &taken, &error), BF_OK);
        bf_journal_note(journal, 0, got, sizeof got);
        assert_string_equal(got, note);
        bf_journal_note(journal, 0, got, 4);
        assert_string_equal(got, "tab");
        free(memory);
    }
}

static void what_is_wrong_is_said_with_its_key(void **state) {
    (void)state;
    check_refused("{\"v\":2}", BF_E_CHOICE, "v",
                  "v is 2, which is not one of the words known here; accepted is 1.");
    check_refused("{\"id\":\"00000000000000010000000000000002\"}", BF_E_MISSING, "v",
                  "v is missing; accepted is 1.");
    check_refused("{\"v\":1}", BF_E_MISSING, "id", "id is missing; accepted is 32 hex digits, not all zero.");
    check_refused("{\"v\":1,\"id\":\"12\"}", BF_E_SYNTAX, "id",
                  "id is \"12\", which is not well-formed; accepted is 32 hex digits, not all zero.");
    check_refused("{\"v\":1,\"id\":\"00000000000000000000000000000000\"}", BF_E_RANGE, "id",
                  "id is \"00000000000000000000000000000000\"; accepted is 32 hex digits, not all zero.");
    check_refused("{\"v\":1,\"id\":7}", BF_E_TYPE, "id",
                  "id is 7, which has the wrong type; accepted is 32 hex digits, not all zero.");
    check_refused("{\"v\":1,\"what\":7}", BF_E_KEY, "what",
                  "what is not a key known here; accepted is v, id, session, dev, run, seq, mono_ms, kind, "
                  "at, pm_s, rec, "
                  "of or body.");
    check_refused(
        LINE("sneeze", "{}"), BF_E_CHOICE, "kind",
        "kind is \"sneeze\", which is not one of the words known here; accepted is open, close, plumb, "
        "water, box, "
        "feed, lower, touch, lift, net, tally, look, advice, ask, note, clock, cross, restore or fix.");
    check_refused(LINE("lower", "{\"count\":3}"), BF_E_KEY, "body.count",
                  "body.count is not a key known here; accepted is in lower: spot, hook_bait, note.");
    check_refused(LINE("lower", "{\"spto\":\"long\"}"), BF_E_KEY, "body.spto",
                  "body.spto is not a key known here; accepted is in lower: spot, hook_bait, note.");
    check_refused(LINE("feed", "{\"spot\":\"long\"}"), BF_E_MISSING, "body.bait",
                  "body.bait is missing; accepted is a name of 1 to 48 bytes without control characters.");
    check_refused(
        LINE("feed", "{\"bait\":\"a\",\"volume\":\"3 kg\"}"), BF_E_UNIT, "body.volume_m3",
        "body.volume_m3 is \"3 kg\", which has the wrong unit; accepted is 0 l to 100 l (ml, l, cm3 or m3).");
    check_refused(LINE("feed", "{\"bait\":\"a\",\"volume\":1}"), BF_E_RANGE, "body.volume_m3",
                  "body.volume_m3 is 1; accepted is 0 l to 100 l.");
    check_refused(LINE("feed", "{\"bait\":\"a\",\"volume\":1e-5,\"volume_m3\":1e-5}"), BF_E_TWICE,
                  "body.volume_m3", "body.volume_m3 is given twice; accepted is 0 l to 100 l.");
    check_refused(LINE("feed", "{\"bait\":\"a\",\"count\":5,\"volume_m3\":1e-5}"), BF_E_TWICE,
                  "body.volume_m3", "body.volume_m3 is given twice; accepted is one amount.");
    check_refused(LINE("feed", "{\"bait\":\"a\\u0007\"}"), BF_E_SYNTAX, "body.bait",
                  "body.bait is \"a\\u0007\", which is not well-formed; accepted is a name of 1 to 48 bytes "
                  "without control "
                  "characters.");
    check_refused(LINE("feed", "{\"bait\":\"a\\u0085\"}"), BF_E_SYNTAX, "body.bait",
                  "body.bait is \"a\xC2\x85\", which is not well-formed; accepted is a name of 1 to 48 bytes "
                  "without control "
                  "characters.");
    check_refused(LINE("feed", "{\"bait\":\"\"}"), BF_E_SYNTAX, "body.bait",
                  "body.bait is \"\", which is not well-formed; accepted is a name of 1 to 48 bytes without "
                  "control characters.");
    check_refused(LINE("feed", "{\"bait\":\"0123456789012345678901234567890123456789012345678\"}"),
                  BF_E_SPACE, "body.bait",
                  "body.bait is \"01234567890123456789012345678901234567890123...\", which does not fit in "
                  "the space given; "
                  "accepted is a name of 1 to 48 bytes without control characters.");
    check_refused(LINE("lift", "{\"outcome\":\"touched\"}"), BF_E_CHOICE, "body.outcome",
                  "body.outcome is \"touched\", which is not one of the words known here; accepted is "
                  "landed, lost, missed, "
                  "foul or nothing.");
    check_refused(LINE("net", "{\"net\":1.5}"), BF_E_TYPE, "body.net",
                  "body.net is 1.5, which has the wrong type; accepted is a whole number from 1 to 20.");
    check_refused(
        LINE("tally", "{\"from\":\"2026-04-12T07:00:00Z\",\"to\":\"2026-04-12T06:00:00Z\"}"), BF_E_RANGE,
        "body.to",
        "body.to is outside the accepted range; accepted is not before from, at most a day after it.");
    check_refused(LINE("tally", "{\"from\":\"yesterday\"}"), BF_E_SYNTAX, "body.from",
                  "body.from is \"yesterday\", which is not well-formed; accepted is an instant such as "
                  "2026-04-12T09:31:05.120+01:00.");
    check_refused("{" ENVELOPE "\"kind\":\"cross\"," TIMES "\"body\":{}}", BF_E_MISSING, "of",
                  "of is missing; accepted is 32 hex digits, not all zero.");
    check_refused("{" ENVELOPE "\"kind\":\"note\"," TIMES "\"of\":\"00000000000000010000000000000002\"}",
                  BF_E_KEY, "of", "of is not a key known here; accepted is in cross, restore and fix only.");
    check_refused(LINE("note", "[]"), BF_E_TYPE, "body",
                  "body is an array, which has the wrong type; accepted is an object.");
    check_refused(LINE("note", "{\"note\":7}"), BF_E_TYPE, "body.note",
                  "body.note is 7, which has the wrong type; accepted is text of at most 16384 bytes.");
}

static void damaged_text_is_refused_where_it_breaks(void **state) {
    (void)state;
    check_refused("", BF_E_SYNTAX, "", "The line is not well-formed: at byte 1 there should be an object.");
    check_refused("{\"v\":1,", BF_E_SYNTAX, "",
                  "The line is not well-formed: at byte 8 there should be a key in double quotes.");
    check_refused("{\"v\":1,\"v\":1}", BF_E_TWICE, "v", "v is given twice; accepted is each key once.");
    check_refused("{\"v\":\"\xFF\"}", BF_E_SYNTAX, "",
                  "The line is not well-formed: at byte 7 there should be valid UTF-8.");
    check_refused("{\"v\":\"\\u0000\"}", BF_E_SYNTAX, "",
                  "The line is not well-formed: at byte 7 there should be a valid escape.");
    check_refused("{\"v\":1}{", BF_E_SYNTAX, "",
                  "The line is not well-formed: at byte 8 there should be the end.");
    static char big[BF_LINE_MOST + 2];
    memset(big, ' ', BF_LINE_MOST + 1);
    check_refused(big, BF_E_SPACE, "",
                  "The line is too much: at byte 65537 it passes what is accepted, at most 65536 bytes.");
    // Every shorter piece of a line is refused, and no byte behind it is read.
    static const char whole[] =
        LINE("lift", "{\"spot\":\"long\",\"outcome\":\"landed\",\"note\":\"\xF0\x9F\x90\x9F\"}");
    for (size_t n = 0; n < sizeof whole - 1; n++) assert_int_equal(read_line(whole, n), BF_E_SYNTAX);
    assert_int_equal(read_line(whole, sizeof whole - 1), BF_OK);
}

/* ---- Instants and ids ---- */

/* Checked against `date -u -d` of GNU coreutils 9.1. */
static void instants_are_read_and_written(void **state) {
    (void)state;
    static const struct {
        const char *text;
        double ms;
        int east_min;
    } rows[] = {
        {"2026-04-12T09:31:05.120+01:00", 1775982665120.0, 60},
        {"1970-01-01T00:00:00.000+00:00", 0, 0},
        {"2000-02-29T23:59:59.999-03:30", 951881399999.0, -210},
        {"1900-03-01T00:00:00.000+00:00", -2203891200000.0, 0},
        {"9999-12-30T23:59:59.999+00:00", BF_INSTANT_MOST_MS, 0},
        {"1900-01-02T00:00:00.000+00:00", BF_INSTANT_LEAST_MS, 0},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double ms;
        int east_min;
        char text[BF_INSTANT_BYTES];
        assert_int_equal(bf_instant_read(rows[i].text, strlen(rows[i].text), &ms, &east_min), BF_OK);
        BF_CHECK_ABS(ms, rows[i].ms, 0);
        assert_int_equal(east_min, rows[i].east_min);
        assert_int_equal(bf_instant_write(ms, east_min, text), strlen(rows[i].text));
        assert_string_equal(text, rows[i].text);
    }
    static const char *const bad[] = {"",
                                      "2026-04-12",
                                      "2026-04-12T09:31:05",
                                      "2026-13-01T00:00:00Z",
                                      "2026-02-29T00:00:00Z",
                                      "2026-04-12T24:00:00Z",
                                      "2026-04-12T09:60:00Z",
                                      "2026-04-12T09:31:61Z",
                                      "2026-04-12T09:31:05.Z",
                                      "2026-04-12T09:31:05+1:00",
                                      "2026-04-12T09:31:05+24:00",
                                      "2026-04-12T09:31:05Z ",
                                      "2026-04-12 09:31:05Z",
                                      "-026-04-12T09:31:05Z"};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        double ms;
        int east_min;
        assert_int_equal(bf_instant_read(bad[i], strlen(bad[i]), &ms, &east_min), BF_E_SYNTAX);
        assert_true(isnan(ms));
    }
    double ms;
    int east_min;
    assert_int_equal(bf_instant_read("1899-12-31T00:00:00Z", 20, &ms, &east_min), BF_E_RANGE);
    assert_int_equal(bf_instant_read("9999-12-31T00:00:00Z", 20, &ms, &east_min), BF_E_RANGE);
    assert_int_equal(bf_instant_read("0000-12-31T00:00:00Z", 20, &ms, &east_min), BF_E_RANGE);
    assert_int_equal(bf_instant_read("2026-04-12T09:31:05.9996z", 25, &ms, &east_min), BF_OK);
    BF_CHECK_ABS(ms, 1775986266000.0, 0);
    assert_int_equal(bf_instant_read("2026-06-30T23:59:60Z", 20, &ms, &east_min), BF_OK);
    BF_CHECK_ABS(ms, 1782864000000.0, 0);
}

static void every_day_of_four_centuries_is_read_back(void **state) {
    (void)state;
    for (int day = 0; day < 146097 * 2; day++) {
        double ms, back_ms;
        int east_min;
        char text[BF_INSTANT_BYTES];
        ms = BF_INSTANT_LEAST_MS + day * 86400000.0 + day % 86400 * 1000 + day % 1000;
        size_t n = bf_instant_write(ms, day % 1439, text);
        assert_int_equal(bf_instant_read(text, n, &back_ms, &east_min), BF_OK);
        if (back_ms != ms || east_min != day % 1439) fail_msg("%s", text);
    }
}

/* ---- Random journals ---- */

static void ten_thousand_random_events_survive(void **state) {
    (void)state;
    enum { N = 10000 };
    static bf_event events[N];
    static char text[80000], note[400];
    maker m = maker_start(2026, 4, 6);
    size_t most_text = 40u << 20;
    char *memory = malloc(bf_journal_bytes(N, most_text)),
         *memory_again = malloc(bf_journal_bytes(N, most_text));
    bf_journal *journal = bf_journal_start(memory, N, most_text),
               *again = bf_journal_start(memory_again, N, most_text);
    bf_taken taken;
    for (int i = 0; i < N; i++) {
        events[i] = maker_event(&m, events);
        random_note(&m, note);
        size_t n = write_line(&m, &events[i], note, text);
        if (bf_take(journal, text, n, &taken, &error)) fail_msg("%s: %s", error.text, text);
        assert_int_equal(taken, BF_TAKEN_NEW);
        // What was read is what was made.
        const bf_event *got = &bf_journal_events(journal)[i];
        for (int f = 0; f < bf_body_table.n_fields; f++) {
            const bf_field *field = &bf_body_table.field[f];
            const void *a = (const char *)&events[i].body + field->offset,
                       *b = (const char *)&got->body + field->offset;
            assert_int_equal(bf_body_has(&events[i].body, f), bf_body_has(&got->body, f));
            if (!bf_body_has(&got->body, f)) continue;
            if (field->kind == BF_REF)
                assert_string_equal(bf_journal_name(journal, *(const int *)b), maker_names[*(const int *)a]);
            else if (field->kind == BF_REAL || field->kind == BF_INSTANT)
                BF_CHECK_ABS(*(const double *)b, *(const double *)a, 0);
            else
                assert_int_equal(*(const int *)b, *(const int *)a);
        }
        BF_CHECK_ABS(got->at_ms, events[i].at_ms, 0);
        assert_int_equal(got->at_east_min, events[i].at_east_min);
        assert_true(got->mono_ms == events[i].mono_ms || (isnan(got->mono_ms) && isnan(events[i].mono_ms)));
        char back[400];
        bf_journal_note(journal, i, back, sizeof back);
        assert_string_equal(back, note);
    }
    // The canonical lines, in another order and some twice, make the same journal.
    static int order[N];
    for (int i = 0; i < N; i++) order[i] = i;
    for (int i = N - 1; i > 0; i--) {
        int k = maker_below(&m, i + 1), swap = order[i];
        order[i] = order[k];
        order[k] = swap;
    }
    for (int i = 0; i < N; i++) {
        size_t n;
        const char *one = bf_journal_line(journal, order[i], &n);
        assert_int_equal(strlen(one), n);
        assert_int_equal(bf_take(again, one, n, &taken, &error), BF_OK);
        assert_int_equal(taken, BF_TAKEN_NEW);
        if (i % 3) continue;
        assert_int_equal(bf_take(again, one, n, &taken, &error), BF_OK);
        assert_int_equal(taken, BF_TAKEN_KNOWN);
    }
    assert_int_equal(bf_journal_n(again), N);
    assert_true(bf_journal_fold(journal)->hash == bf_journal_fold(again)->hash);
    free(memory);
    free(memory_again);
}

static void damaged_lines_never_hide_the_others(void **state) {
    (void)state;
    enum { N = 600 };
    static bf_event events[N];
    static char text[80000], note[400];
    maker m = maker_start(11, 2, 1);
    char *memory = malloc(bf_journal_bytes(N, 1 << 20));
    bf_journal *journal = bf_journal_start(memory, N, 1 << 20);
    bf_taken taken;
    int n_refused = 0, n_kept = 0;
    for (int i = 0; i < N; i++) {
        events[i] = maker_event(&m, events);
        random_note(&m, note);
        size_t n = write_line(&m, &events[i], note, text);
        int damage = maker_below(&m, 4);
        if (damage == 1) n = (size_t)maker_below(&m, (int)n - 1);    // cut short
        if (damage == 2) text[maker_below(&m, (int)n)] = (char)0xC0; // no UTF-8
        if (damage == 3) memset(text + 1, '{', n / 2);               // nested too deep
        int before = bf_journal_n(journal);
        bf_status status = bf_take(journal, text, n, &taken, &error);
        assert_int_equal(status != BF_OK, damage > 0);
        assert_int_equal(bf_journal_n(journal), before + !damage);
        assert_true(!status || error.text[0]);
        n_refused += damage > 0;
        n_kept += !damage;
    }
    assert_true(n_refused > 300 && n_kept > 100);
    assert_int_equal(bf_journal_fold(journal)->n_live, n_kept);
    free(memory);
}

/* ---- The journal in memory ---- */

static void the_same_id_with_other_bytes_is_a_clash_and_both_are_kept(void **state) {
    (void)state;
    char *memory = malloc(bf_journal_bytes(4, 4096));
    bf_journal *journal = bf_journal_start(memory, 4, 4096);
    bf_taken taken;
    static const char one[] = LINE("lift", "{\"outcome\":\"landed\"}"),
                      other[] = LINE("lift", "{\"outcome\":\"lost\"}");
    static const char same[] = LINE("lift", "{ \"outcome\" : \"landed\" }");
    assert_int_equal(bf_take(journal, one, strlen(one), &taken, &error), BF_OK);
    assert_int_equal(taken, BF_TAKEN_NEW);
    assert_int_equal(bf_take(journal, other, strlen(other), &taken, &error), BF_OK);
    assert_int_equal(taken, BF_TAKEN_CLASH);
    assert_int_equal(bf_take(journal, same, strlen(same), &taken, &error), BF_OK);
    assert_int_equal(taken, BF_TAKEN_KNOWN);
    assert_int_equal(bf_take(journal, other, strlen(other), &taken, &error), BF_OK);
    assert_int_equal(taken, BF_TAKEN_KNOWN);
    assert_int_equal(bf_journal_n(journal), 2);
    assert_int_equal(bf_journal_fold(journal)->n_live, 1);
    assert_int_equal(bf_journal_fold(journal)->n_clashes, 1);
    free(memory);
}

static void a_full_journal_refuses_and_stays_whole(void **state) {
    (void)state;
    static bf_event events[20];
    static char text[80000];
    for (int by_text = 0; by_text < 2; by_text++) {
        maker m = maker_start(3, 1, 1);
        size_t most_text = by_text ? 2000 : 1 << 20;
        char *memory = malloc(bf_journal_bytes(10, most_text));
        bf_journal *journal = bf_journal_start(memory, 10, most_text);
        bf_taken taken;
        int n_kept = 0;
        for (int i = 0; i < 20; i++) {
            events[i] = maker_event(&m, events);
            size_t n = write_line(&m, &events[i], "", text);
            bf_status status = bf_take(journal, text, n, &taken, &error);
            assert_true(status == BF_OK || status == BF_E_SPACE);
            n_kept += !status;
            assert_int_equal(bf_journal_n(journal), n_kept);
        }
        assert_true(by_text ? n_kept < 10 && n_kept > 2 : n_kept == 10);
        assert_int_equal(bf_journal_fold(journal)->n_live, n_kept);
        // What is in is still known.
        size_t n;
        const char *first = bf_journal_line(journal, 0, &n);
        assert_int_equal(bf_take(journal, first, n, &taken, &error), BF_OK);
        assert_int_equal(taken, BF_TAKEN_KNOWN);
        free(memory);
    }
}

static void more_names_than_fit_are_refused(void **state) {
    (void)state;
    enum { N = BF_NAMES_MOST / 2 + 2 };
    char *memory = malloc(bf_journal_bytes(N, N * 400)), text[1000];
    bf_journal *journal = bf_journal_start(memory, N, N * 400);
    bf_taken taken;
    for (int i = 0; i < N; i++) {
        size_t n = (size_t)snprintf(
            text, sizeof text,
            "{\"v\":1,\"id\":\"0000000000000001%016x\",\"session\":\"00000000000000010000000000000002\","
            "\"dev\":\"0000000a\",\"run\":\"0000000b\",\"seq\":3,\"kind\":\"lower\"," TIMES
            "\"body\":{\"spot\":\"s%d\",\"hook_bait\":\"h%d\"}}",
            (unsigned)i, i, i);
        bf_status status = bf_take(journal, text, n, &taken, &error);
        assert_int_equal(status, i < BF_NAMES_MOST / 2 ? BF_OK : BF_E_SPACE);
    }
    assert_int_equal(bf_journal_find_name(journal, "h7"), 15);
    assert_string_equal(bf_journal_name(journal, 15), "h7");
    assert_int_equal(bf_journal_find_name(journal, "nowhere"), -1);
    assert_string_equal(bf_journal_name(journal, -1), "");
    free(memory);
}

/* ---- Questions ---- */

static char answer[1 << 20];

static bf_status ask(bf_journal *journal, const char *question, const char *json) {
    size_t n;
    size_t bytes = bf_ask_bytes(journal, question);
    void *work = malloc(bytes ? bytes : 1);
    bf_status status = bf_ask(journal, work, question, json, strlen(json), answer, sizeof answer, &n);
    assert_int_equal(n, strlen(answer));
    free(work);
    return status;
}

static void check_has(const char *part) {
    if (!strstr(answer, part)) fail_msg("%s is not in %s", part, answer);
}

static bf_journal *a_morning(void **memory) {
    static const char *const lines[] = {
        "{\"v\":1,\"id\":\"0000000000000001000000000000000a\",\"session\":"
        "\"0000000000000001000000000000000a\",\"dev\":\"00000001\",\"run\":\"00000001\",\"seq\":1,\"kind\":"
        "\"open\",\"at\":\"2026-04-12T09:00:00+01:00\",\"pm_s\":1,\"rec\":\"2026-04-12T09:00:00+01:00\","
        "\"body\":{\"venue\":\"Withy Pool\",\"peg\":\"14\",\"hours\":5,\"note\":\"invented\"}}",
        "{\"v\":1,\"id\":\"0000000000000001000000000000000b\",\"session\":"
        "\"0000000000000001000000000000000a\",\"dev\":\"00000001\",\"run\":\"00000001\",\"seq\":2,\"kind\":"
        "\"feed\",\"at\":\"2026-04-12T09:05:00+01:00\",\"pm_s\":1,\"rec\":\"2026-04-12T09:05:00+01:00\","
        "\"body\":{\"spot\":\"long\",\"bait\":\"micros\",\"fill_frac\":0.5,\"pot\":\"8 "
        "ml\",\"how\":\"clump\"}}",
        "{\"v\":1,\"id\":\"0000000000000001000000000000000c\",\"session\":"
        "\"0000000000000001000000000000000a\",\"dev\":\"00000001\",\"run\":\"00000001\",\"seq\":3,\"kind\":"
        "\"lift\",\"at\":\"2026-04-12T09:08:00+01:00\",\"pm_s\":1,\"rec\":\"2026-04-12T09:20:00+01:00\","
        "\"body\":{\"hook_bait\":\"hard six\",\"outcome\":\"missed\"}}",
        "{\"v\":1,\"id\":\"0000000000000001000000000000000d\",\"session\":"
        "\"0000000000000001000000000000000a\",\"dev\":\"00000001\",\"run\":\"00000001\",\"seq\":4,\"kind\":"
        "\"fix\",\"at\":\"2026-04-12T09:21:00+01:00\",\"pm_s\":1,\"rec\":\"2026-04-12T09:21:00+01:00\","
        "\"of\":\"0000000000000001000000000000000c\",\"body\":{\"outcome\":\"landed\",\"note\":\"it was a "
        "fish\"}}",
        "{\"v\":1,\"id\":\"0000000000000001000000000000000e\",\"session\":"
        "\"0000000000000001000000000000000a\",\"dev\":\"00000001\",\"run\":\"00000001\",\"seq\":5,\"kind\":"
        "\"cross\",\"at\":\"2026-04-12T09:22:00+01:00\",\"pm_s\":1,\"rec\":\"2026-04-12T09:22:00+01:00\","
        "\"of\":\"0000000000000001000000000000000b\",\"body\":{}}",
    };
    bf_taken taken;
    *memory = malloc(bf_journal_bytes(16, 8192));
    bf_journal *journal = bf_journal_start(*memory, 16, 8192);
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++)
        assert_int_equal(bf_take(journal, lines[i], strlen(lines[i]), &taken, &error), BF_OK);
    return journal;
}

static void the_log_shows_entries_newest_first_with_their_corrections(void **state) {
    (void)state;
    void *memory;
    bf_journal *journal = a_morning(&memory);
    assert_int_equal(ask(journal, "log", "{}"), BF_OK);
    check_has("{\"schema\":1,\"command\":\"log\",\"rows\":[{\"id\":\"0000000000000001000000000000000c\","
              "\"kind\":\"lift\","
              "\"word\":\"Fish\",\"detail\":\"hard six\",\"note\":\"it was a fish\"");
    check_has("\"at_text\":\"09:08:00\"");
    check_has("\"is_late\":true,\"dev\":\"00000001\",\"is_crossed\":false,\"n_fixes\":1");
    check_has("\"detail\":\"long, micros, 50 % full, pot of 8 ml, tipped\"");
    check_has("\"is_crossed\":true");
    check_has("\"detail\":\"Withy Pool, peg 14, 5 h\",\"note\":\"invented\"");
    check_has("\"n\":3,\"clashes\":0,\"idle\":0}");
    assert_int_equal(ask(journal, "log", "{\"lane\":\"fish\"}"), BF_OK);
    check_has("\"n\":1,");
    assert_int_equal(ask(journal, "log", "{\"most\":1,\"before\":2}"), BF_OK);
    check_has("\"rows\":[{\"id\":\"0000000000000001000000000000000a\"");
    assert_null(strstr(answer, "lift"));
    free(memory);
}

static void questions_are_refused_with_a_sentence(void **state) {
    (void)state;
    void *memory;
    bf_journal *journal = a_morning(&memory);
    assert_int_equal(bf_ask_bytes(journal, "weather"), 0);
    assert_int_equal(ask(journal, "weather", "{}"), BF_E_CHOICE);
    check_has("\"field\":\"question\",\"value\":\"weather\"");
    check_has("There is no question \\\"weather\\\"; accepted is bank, ");
    assert_int_equal(ask(journal, "log", "{\"most\":0}"), BF_E_RANGE);
    check_has("\"text\":\"most is 0; accepted is 1 to 1000.\"");
    assert_int_equal(ask(journal, "log", "{\"lane\":\"deep\"}"), BF_E_CHOICE);
    assert_int_equal(ask(journal, "log", "{\"lan\":\"deep\"}"), BF_E_KEY);
    assert_int_equal(ask(journal, "log", "{\"session\":\"12\"}"), BF_E_SYNTAX);
    assert_int_equal(ask(journal, "log", "{\"session\":\"00000000000000010000000000000099\"}"), BF_E_CHOICE);
    check_has("accepted is the id of a session in this journal.");
    assert_int_equal(ask(journal, "log", "{"), BF_E_SYNTAX);
    free(memory);
}

static void an_empty_journal_answers(void **state) {
    (void)state;
    void *memory = malloc(bf_journal_bytes(0, 0));
    bf_journal *journal = bf_journal_start(memory, 0, 0);
    bf_taken taken;
    assert_int_equal(ask(journal, "log", "{}"), BF_OK);
    check_has("\"rows\":[],\"n\":0,");
    static const char one[] = LINE("note", "{}");
    assert_int_equal(bf_take(journal, one, strlen(one), &taken, &error), BF_E_SPACE);
    free(memory);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_line_becomes_canonical_and_stays_so),
        cmocka_unit_test(names_and_notes_survive_byte_for_byte),
        cmocka_unit_test(a_note_of_controls_and_of_16_kib_survives),
        cmocka_unit_test(what_is_wrong_is_said_with_its_key),
        cmocka_unit_test(damaged_text_is_refused_where_it_breaks),
        cmocka_unit_test(instants_are_read_and_written),
        cmocka_unit_test(every_day_of_four_centuries_is_read_back),
        cmocka_unit_test(ten_thousand_random_events_survive),
        cmocka_unit_test(damaged_lines_never_hide_the_others),
        cmocka_unit_test(the_same_id_with_other_bytes_is_a_clash_and_both_are_kept),
        cmocka_unit_test(a_full_journal_refuses_and_stays_whole),
        cmocka_unit_test(more_names_than_fit_are_refused),
        cmocka_unit_test(the_log_shows_entries_newest_first_with_their_corrections),
        cmocka_unit_test(questions_are_refused_with_a_sentence),
        cmocka_unit_test(an_empty_journal_answers),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
