/* Journals as tables: RFC 4180, the guard against formulas, everything back again. */
#define _POSIX_C_SOURCE 200809L

#include "common/check.h"

#include "baitfall/csv.h"
#include "common/random_line.h"

static bf_error error;
static char row[BF_CSV_ROW_MOST + 1], line[BF_LINE_MOST + 1], canonical[BF_LINE_MOST + 1];

/* The canonical form of a line. */
static const char *canonical_of(const char *text, size_t n) {
    static void *work;
    static bf_line read;
    if (!work) work = malloc(bf_line_work_bytes());
    bf_status status = bf_line_read(work, text, n, &read, canonical, sizeof canonical, &error);
    if (status) fail_msg("%s: %.*s", error.text, (int)n, text);
    return canonical;
}

static const char *row_of(const char *text, int is_crossed, int is_clash) {
    static void *work;
    size_t n;
    if (!work) work = malloc(bf_csv_row_work_bytes());
    bf_status status =
        bf_csv_row(work, text, strlen(text), is_crossed, is_clash, row, sizeof row, &n, &error);
    if (status) fail_msg("%s: %s", error.text, text);
    assert_int_equal(n, strlen(row));
    return row;
}

static bf_csv *reader_with_head(void) {
    static void *memory;
    char head[4096];
    size_t n, n_used, n_line;
    if (!memory) memory = malloc(bf_csv_bytes());
    bf_csv *csv = bf_csv_start(memory);
    assert_int_equal(bf_csv_head(head, sizeof head, &n), BF_OK);
    assert_int_equal(bf_csv_read(csv, head, n, 0, &n_used, line, sizeof line, &n_line, &error), BF_OK);
    assert_int_equal(n_used, n);
    assert_int_equal(n_line, 0);
    return csv;
}

#define LINE(kind, more, body)                                                                               \
    "{\"v\":1,\"id\":\"00000000000000010000000000000002\",\"session\":\"00000000000000010000000000000003\"," \
    "\"dev\":\"0000000a\",\"run\":\"0000000b\",\"seq\":3,\"kind\":\"" kind "\","                             \
    "\"at\":\"2026-04-12T09:31:05.120+01:00\",\"pm_s\":5,\"rec\":\"2026-04-12T09:31:06.000+01:00\"," more    \
    "\"body\":" body "}"

static void a_row_shows_the_event_and_its_flags(void **state) {
    (void)state;
    char head[4096];
    size_t n;
    assert_int_equal(bf_csv_head(head, sizeof head, &n), BF_OK);
    assert_int_equal(n, strlen(head));
    assert_true(
        strstr(head, "id,session,dev,run,seq,mono_ms,kind,at,pm_s,rec,of,crossed,clash,spot,hook_bait,") ==
        head);
    assert_non_null(strstr(head, ",volume_m3,fill_frac,"));
    assert_non_null(strstr(head, ",jump_s,fix_at,fix_pm_s,note\r\n"));
    assert_string_equal(
        row_of(LINE("lower", "", "{\"spot\":\"long\",\"note\":\"easy\"}"), 1, 0),
        "00000000000000010000000000000002,00000000000000010000000000000003,0000000a,0000000b,3,,lower,"
        "2026-04-12T09:31:05.120+01:00,5,2026-04-12T09:31:06.000+01:00,,1,0,long"
        ",,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,easy\r\n");
    int n_head = 0, n_row = 0;
    for (const char *c = head; *c; c++) n_head += *c == ',';
    for (const char *c = row; *c; c++) n_row += *c == ',';
    assert_int_equal(n_head, n_row);
    assert_int_equal(n_head + 1, 13 + bf_body_table.n_fields + 1);
}

static void formulas_are_guarded_and_come_back(void **state) {
    (void)state;
    static const struct {
        const char *json, *cell;
    } rows[] = {
        {"=1+1", "'=1+1"},
        {"+1", "'+1"},
        {"-1", "'-1"},
        {"@x", "'@x"},
        {"'plain", "''plain"},
        {"''=1", "'''=1"},
        {"1=1", "1=1"},
        {"=a,b", "\"'=a,b\""},
        {"\\t=1", "'\t=1"},
        {"\\r=1", "\"'\r=1\""},
        {"a \\\"b\\\"", "\"a \"\"b\"\"\""},
        {"\\n", "\"\n\""},
        {"'", "''"},
        {"two\\r\\nlines", "\"two\r\nlines\""},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[1000], ending[100];
        snprintf(text, sizeof text, LINE("note", "", "{\"note\":\"%s\"}"), rows[i].json);
        snprintf(ending, sizeof ending, ",%s\r\n", rows[i].cell);
        const char *got = row_of(text, 0, 0);
        assert_string_equal(got + strlen(got) - strlen(ending), ending);
        bf_csv *csv = reader_with_head();
        size_t n_used, n_line;
        assert_int_equal(bf_csv_read(csv, row, strlen(row), 1, &n_used, line, sizeof line, &n_line, &error),
                         BF_OK);
        assert_int_equal(n_used, strlen(row));
        char wanted[1000];
        strcpy(wanted, canonical_of(text, strlen(text)));
        assert_string_equal(canonical_of(line, n_line), wanted);
    }
}

/* A table in one piece, given to the reader in pieces of at most `piece` bytes. Returns rows that became lines. */
typedef struct table {
    char *text;
    size_t n;
} table;

static int read_table(const table *t, size_t piece, bf_journal *journal, int *n_refused) {
    void *memory = malloc(bf_csv_bytes());
    bf_csv *csv = bf_csv_start(memory);
    size_t from = 0, to = 0;
    int n_lines = 0;
    *n_refused = 0;
    while (from < t->n) {
        size_t n_used, n_line;
        bf_status status = bf_csv_read(csv, t->text + from, to - from, to == t->n, &n_used, line, sizeof line,
                                       &n_line, &error);
        if (!n_used) {
            assert_true(to < t->n);
            to = t->n - to < piece ? t->n : to + piece;
            continue;
        }
        from += n_used;
        if (!status && n_line) {
            bf_taken taken;
            status = bf_take(journal, line, n_line, &taken, &error);
            n_lines += !status;
        }
        assert_true(!status || error.text[0]);
        *n_refused += status != BF_OK;
    }
    free(memory);
    return n_lines;
}

static void add_text(table *t, const char *text) {
    size_t n = strlen(text);
    t->text = realloc(t->text, t->n + n + 1);
    memcpy(t->text + t->n, text, n + 1);
    t->n += n;
}

static void ten_thousand_random_events_survive(void **state) {
    (void)state;
    enum { N = 10000 };
    static bf_event events[N];
    static char text[80000], note[400], head[4096];
    maker m = maker_start(4180, 4, 6);
    size_t most_text = 40u << 20, n;
    char *memory = malloc(bf_journal_bytes(N, most_text)),
         *memory_again = malloc(bf_journal_bytes(N, most_text));
    bf_journal *journal = bf_journal_start(memory, N, most_text);
    bf_taken taken;
    table t = {malloc(32u << 20), 0};
    assert_int_equal(bf_csv_head(head, sizeof head, &n), BF_OK);
    memcpy(t.text, head, n);
    t.n = n;
    for (int i = 0; i < N; i++) {
        events[i] = maker_event(&m, events);
        random_note(&m, note);
        n = write_line(&m, &events[i], note, text);
        assert_int_equal(bf_take(journal, text, n, &taken, &error), BF_OK);
        row_of(bf_journal_line(journal, i, &n), i % 2, i % 3 == 0);
        n = strlen(row);
        memcpy(t.text + t.n, row, n);
        t.n += n;
    }
    for (size_t piece = 1000; piece <= 1000000; piece *= 1000) {
        int n_refused;
        bf_journal *again = bf_journal_start(memory_again, N, most_text);
        assert_int_equal(read_table(&t, piece, again, &n_refused), N);
        assert_int_equal(n_refused, 0);
        assert_int_equal(bf_journal_n(again), N);
        for (int i = 0; i < N; i++) {
            size_t n_a, n_b;
            const char *a = bf_journal_line(journal, i, &n_a), *b = bf_journal_line(again, i, &n_b);
            if (n_a != n_b || memcmp(a, b, n_a) != 0) fail_msg("%s\n%s", a, b);
        }
        assert_true(bf_journal_fold(journal)->hash == bf_journal_fold(again)->hash);
    }
    free(t.text);
    free(memory);
    free(memory_again);
}

static void what_a_spreadsheet_does_to_a_table_is_read(void **state) {
    (void)state;
    table t = {NULL, 0};
    char *memory = malloc(bf_journal_bytes(10, 10000));
    bf_journal *journal = bf_journal_start(memory, 10, 10000);
    int n_refused;
    // A mark at the front, other order, fewer columns, LF, an amount with its unit, an empty row, cells left off at the end, no last line end.
    add_text(&t, "\xEF\xBB\xBFkind,volume_m3,bait,id,session,dev,run,seq,at,pm_s,rec,note\n");
    add_text(
        &t, "feed,30 "
            "ml,micros,00000000000000010000000000000002,00000000000000010000000000000003,0000000a,0000000b,3,"
            "2026-04-12T09:31:05+01:00,5 s,2026-04-12T09:31:05+01:00\n\n");
    add_text(&t,
             "note,,,00000000000000010000000000000004,00000000000000010000000000000003,0000000a,0000000b,4,"
             "2026-04-12T09:31:05+01:00,5,2026-04-12T09:31:05+01:00,\"said \"\"yes\"\"\"");
    assert_int_equal(read_table(&t, 7, journal, &n_refused), 2);
    assert_int_equal(n_refused, 0);
    BF_CHECK_REL(bf_journal_events(journal)[0].body.volume_m3, 3e-5, 1e-15);
    char note[50];
    bf_journal_note(journal, 1, note, sizeof note);
    assert_string_equal(note, "said \"yes\"");
    free(t.text);
    free(memory);
}

/* Takes every `c` out of a table. */
static void drop(table *t, char c) {
    size_t n = 0;
    for (size_t i = 0; i < t->n; i++)
        if (t->text[i] != c) t->text[n++] = t->text[i];
    t->n = n;
}

static void damaged_rows_never_hide_the_others(void **state) {
    (void)state;
    static const char not_in_line_ends[] = {0, '\r', '\n'};
    static const char good[] = LINE("note", "", "{\"note\":\"x\"}");
    static const char *const bad[] = {
        "\"never closed,1,2\r\n",
        "a\"b,c\r\n",
        "\"a\"b,c\r\n",
        "1,2,3\r\n",
        "\xFF\xFE,2\r\n",
        ",,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,\r\n",
    };
    for (size_t k = 0; k < 3 * sizeof bad / sizeof bad[0]; k++) {
        table t = {NULL, 0};
        char head[4096], *memory = malloc(bf_journal_bytes(200, 100000));
        size_t n;
        int n_refused;
        bf_journal *journal = bf_journal_start(memory, 200, 100000);
        assert_int_equal(bf_csv_head(head, sizeof head, &n), BF_OK);
        add_text(&t, head);
        for (int i = 0; i < 100; i++) {
            char one[1000];
            snprintf(one, sizeof one, "%s", good);
            snprintf(one + 29, 4, "%03d", i); // inside the id
            one[32] = '2';
            add_text(&t, row_of(one, 0, 0));
            if (i == 50) add_text(&t, bad[k / 3]);
        }
        drop(&t, not_in_line_ends[k % 3]);
        assert_int_equal(read_table(&t, 100000, journal, &n_refused), 100);
        assert_int_equal(n_refused, 1);
        free(t.text);
        free(memory);
    }
}

static void a_null_character_is_refused(void **state) {
    (void)state;
    bf_csv *csv = reader_with_head();
    size_t n_used, n_line;
    row_of(LINE("note", "", "{\"note\":\"xyz\"}"), 0, 0);
    size_t n = strlen(row);
    row[n - 4] = 0;
    assert_int_equal(bf_csv_read(csv, row, n, 1, &n_used, line, sizeof line, &n_line, &error), BF_E_SYNTAX);
    assert_int_equal(n_used, n);
    assert_int_equal(n_line, 0);
}

static void a_table_of_something_else_is_refused(void **state) {
    (void)state;
    static const struct {
        const char *head;
        bf_status status;
        const char *field;
    } rows[] = {{"id,weight\r\n", BF_E_KEY, "weight"},
                {"id,kind,id\r\n", BF_E_TWICE, "id"},
                {"at,at\r\n", BF_E_TWICE, "at"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        void *memory = malloc(bf_csv_bytes());
        bf_csv *csv = bf_csv_start(memory);
        size_t n_used, n_line, n = strlen(rows[i].head);
        assert_int_equal(bf_csv_read(csv, rows[i].head, n, 0, &n_used, line, sizeof line, &n_line, &error),
                         rows[i].status);
        assert_string_equal(error.field, rows[i].field);
        assert_int_equal(n_used, n);
        assert_int_equal(bf_csv_read(csv, "1,2\n", 4, 1, &n_used, line, sizeof line, &n_line, &error),
                         BF_E_KEY);
        assert_string_equal(error.text,
                            "The row cannot be read, as the first row does not name the columns.");
        free(memory);
    }
}

static void a_row_without_end_is_given_up(void **state) {
    (void)state;
    bf_csv *csv = reader_with_head();
    size_t n_used, n_line, n = BF_CSV_ROW_MOST + 100;
    char *text = malloc(n);
    memset(text, 'x', n);
    text[10] = '\n';
    text[0] = '"';
    assert_int_equal(bf_csv_read(csv, text, n, 0, &n_used, line, sizeof line, &n_line, &error), BF_E_SPACE);
    assert_int_equal(n_used, 11);
    assert_int_equal(bf_csv_read(csv, text + 11, n - 11, 0, &n_used, line, sizeof line, &n_line, &error),
                     BF_E_SPACE);
    assert_int_equal(n_used, BF_CSV_ROW_MOST);
    free(text);
}

static void the_largest_note_fits_into_a_row(void **state) {
    (void)state;
    static char text[BF_LINE_MOST + 1];
    size_t n = (size_t)sprintf(text, "%s", LINE("note", "", "{\"note\":\"")) - 1; // without its closing brace
    for (int i = 0; i < 16384; i++) n += (size_t)sprintf(text + n, "\\\"");
    sprintf(text + n, "\"}}");
    row_of(text, 0, 0);
    bf_csv *csv = reader_with_head();
    size_t n_used, n_line;
    assert_int_equal(bf_csv_read(csv, row, strlen(row), 1, &n_used, line, sizeof line, &n_line, &error),
                     BF_OK);
    static char wanted[BF_LINE_MOST + 1];
    strcpy(wanted, canonical_of(text, strlen(text)));
    assert_string_equal(canonical_of(line, n_line), wanted);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_row_shows_the_event_and_its_flags),
        cmocka_unit_test(formulas_are_guarded_and_come_back),
        cmocka_unit_test(ten_thousand_random_events_survive),
        cmocka_unit_test(what_a_spreadsheet_does_to_a_table_is_read),
        cmocka_unit_test(damaged_rows_never_hide_the_others),
        cmocka_unit_test(a_null_character_is_refused),
        cmocka_unit_test(a_table_of_something_else_is_refused),
        cmocka_unit_test(a_row_without_end_is_given_up),
        cmocka_unit_test(the_largest_note_fits_into_a_row),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
