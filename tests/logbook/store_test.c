/* The journal's database: what goes in stays in, unchanged; what is derived can always be made again. */
#define _XOPEN_SOURCE 700

#include "logbook/logbook.h"

#include "invented.h"

/* ---- Adding ---- */

static void what_was_added_is_there_after_reopening(void **state) {
    (void)state;
    bf_store *store = opened(at("deep/er/journal.db"));
    for (int k = 1; k <= 20; k++) assert_int_equal(added(store, line_of(k)), BF_TAKEN_NEW);
    uint32_t dev = bf_store_dev(store);
    uint64_t hash = state_of(store);
    bf_store_close(store);
    store = opened(at("deep/er/journal.db"));
    assert_int_equal(count_of(store), 20);
    assert_true(state_of(store) == hash);
    assert_true(dev != 0 && bf_store_dev(store) == dev);
    assert_string_equal(bf_store_notice(store), "");
    is_whole(store);
    bf_store_close(store);
}

static void the_same_line_again_is_known_and_changes_nothing(void **state) {
    (void)state;
    bf_store *store = opened(at("j.db"));
    assert_int_equal(added(store, line_of(1)), BF_TAKEN_NEW);
    assert_int_equal(added(store, line_of(1)), BF_TAKEN_KNOWN);
    assert_int_equal(count_of(store), 1);
    bf_store_close(store);
}

static void the_same_id_with_other_bytes_is_a_clash_and_both_are_kept(void **state) {
    (void)state;
    char other[512];
    bf_store *store = opened(at("j.db"));
    for (int k = 1; k <= 3; k++) added(store, line_of(k));
    strcpy(other, line_of(3));
    memcpy(strstr(other, "missed"), "landed", 6);
    assert_int_equal(added(store, other), BF_TAKEN_CLASH);
    assert_int_equal(added(store, other), BF_TAKEN_KNOWN);
    assert_int_equal(count_of(store), 4);
    text_sink out = exported(store, BF_EXPORT_LINES);
    assert_non_null(strstr(out.text, other));
    assert_non_null(strstr(out.text, line_of(3)));
    free(out.text);
    is_whole(store);
    bf_store_close(store);
}

/* An event of another session with an id of this one makes both sessions stale. */
static void a_clash_between_sessions_leaves_what_is_derived_right(void **state) {
    (void)state;
    char other[512];
    bf_stored_session session;
    bf_store_error error;
    bf_store *store = opened(at("j.db"));
    for (int k = 1; k <= 3; k++) added(store, line_of(k));
    assert_int_equal(bf_store_open_session(store, &session, &error), BF_STORE_OK);
    strcpy(other, line_of(3));
    memcpy(strstr(other, "\"session\":\"") + 11, "00000000000000000000000000000002", 32);
    assert_int_equal(added(store, other), BF_TAKEN_CLASH);
    is_whole(store);
    bf_store_close(store);
}

static void a_refused_line_leaves_the_store_as_it_was(void **state) {
    (void)state;
    static const char *const bad[] = {"",         "{}",
                                      "[1]",      "{\"v\":1",
                                      "=cmd",     "<script>alert(1)</script>",
                                      "\xff\xfe", "{\"v\":1,\"id\":\"\xe2\x80\xae\"}"};
    bf_taken taken;
    bf_store_error error;
    bf_store *store = opened(at("j.db"));
    added(store, line_of(1));
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        assert_int_equal(bf_store_add(store, bad[i], strlen(bad[i]), &taken, &error), BF_STORE_REFUSED);
        assert_true(error.sentence[0] != 0);
    }
    assert_int_equal(count_of(store), 1);
    is_whole(store);
    bf_store_close(store);
}

/* ---- Immutable ---- */

static void the_database_itself_refuses_to_change_or_delete_an_event(void **state) {
    (void)state;
    static const char *const tries[] = {"UPDATE event SET line = '{}'",
                                        "UPDATE event SET seq = 9 WHERE nth = 1", "DELETE FROM event",
                                        "INSERT OR REPLACE INTO event SELECT * FROM event WHERE nth = 1"};
    bf_store *store = opened(at("j.db"));
    added(store, line_of(1));
    for (size_t i = 0; i < sizeof tries / sizeof tries[0]; i++)
        assert_int_equal(sqlite3_exec(store->db, tries[i], NULL, NULL, NULL) & 0xff, SQLITE_CONSTRAINT);
    assert_int_equal(count_of(store), 1);
    is_whole(store);
    bf_store_close(store);
}

static char *pragma(sqlite3 *db, const char *sql) {
    static char value[64];
    sqlite3_stmt *statement;
    assert_int_equal(sqlite3_prepare_v2(db, sql, -1, &statement, NULL), SQLITE_OK);
    assert_int_equal(sqlite3_step(statement), SQLITE_ROW);
    snprintf(value, sizeof value, "%s", (const char *)sqlite3_column_text(statement, 0));
    sqlite3_finalize(statement);
    return value;
}

static void the_settings_that_keep_it_whole_are_on(void **state) {
    (void)state;
    bf_store *store = opened(at("j.db"));
    assert_string_equal(pragma(store->db, "PRAGMA journal_mode"), "wal");
    assert_string_equal(pragma(store->db, "PRAGMA synchronous"), "2");
    assert_string_equal(pragma(store->db, "PRAGMA foreign_keys"), "1");
    assert_string_equal(pragma(store->db, "PRAGMA trusted_schema"), "0");
    assert_string_equal(pragma(store->db, "PRAGMA application_id"), "1113680244");
    assert_string_equal(pragma(store->db, "PRAGMA user_version"), "2");
    assert_string_equal(
        pragma(store->db,
               "SELECT min(strict) FROM pragma_table_list WHERE schema = 'main' AND name NOT LIKE 'sqlite%'"),
        "1");
    bf_store_close(store);
}

/* ---- Import ---- */

typedef struct told {
    int n_refused, n_clashes, n_stored;
    long long refused[16], clash, stored;
} told;

static void hear(void *to, bf_told_kind kind, long long number, const char *sentence) {
    told *t = to;
    if (kind == BF_TOLD_REFUSED && t->n_refused < 16) t->refused[t->n_refused] = number;
    t->n_refused += kind == BF_TOLD_REFUSED;
    t->n_clashes += kind == BF_TOLD_CLASH;
    if (kind == BF_TOLD_CLASH) t->clash = number;
    t->n_stored += kind == BF_TOLD_STORED;
    if (kind == BF_TOLD_STORED) t->stored = number;
    assert_int_equal(sentence[0] == 0, kind == BF_TOLD_STORED);
}

static void bad_lines_are_told_by_number_and_good_ones_are_kept(void **state) {
    (void)state;
    static char text[400000];
    char clash[512];
    told t = {0};
    size_t n = 0;
    strcpy(clash, line_of(2));
    memcpy(strstr(clash, "missed"), "landed", 6);
    n += (size_t)sprintf(text + n, "\xef\xbb\xbf%s\r\n", line_of(1)); /* 1: byte order mark, CR LF */
    n += (size_t)sprintf(text + n, "garbage\n");                      /* 2 */
    n += (size_t)sprintf(text + n, "\n  \n");                         /* 3, 4: blank */
    n += (size_t)sprintf(text + n, "%s\n", line_of(2));               /* 5 */
    memset(text + n, 'x', 200000);                                    /* 6: too long */
    n += 200000;
    n += (size_t)sprintf(text + n, "\n%s\n", line_of(3));  /* 7 */
    n += (size_t)sprintf(text + n, "%.60s\n", line_of(4)); /* 8: cut off */
    n += (size_t)sprintf(text + n, "%s\n", line_of(2));    /* 9: known */
    n += (size_t)sprintf(text + n, "%s\n", clash);         /* 10 */
    text[n++] = 0;                                         /* 11: a null character */
    n += (size_t)sprintf(text + n, "\n%s", line_of(5));    /* 12: no newline */
    bf_store *store = opened(at("j.db"));
    bf_import counts = imported(store, text, n, hear, &t);
    assert_int_equal(counts.before, 0);
    assert_int_equal(counts.lines, 10);
    assert_int_equal(counts.fresh, 4);
    assert_int_equal(counts.known, 1);
    assert_int_equal(counts.clashes, 1);
    assert_int_equal(counts.refused, 4);
    static const long long want[] = {2, 6, 8, 11};
    for (int i = 0; i < 4; i++) assert_int_equal(t.refused[i], want[i]);
    assert_int_equal(t.n_clashes, 1);
    assert_int_equal(t.clash, 10);
    assert_int_equal(t.stored, 12);
    assert_int_equal(count_of(store), 5);
    is_whole(store);
    bf_store_close(store);
}

/* However the bytes arrive, the same lines come of them. */
static void bytes_may_come_in_any_pieces(void **state) {
    (void)state;
    char text[8192];
    size_t n = 0;
    for (int k = 1; k <= 12; k++) n += (size_t)sprintf(text + n, "%s%s", line_of(k), k % 2 ? "\r\n" : "\n");
    for (size_t piece = 1; piece < 700; piece += 37) {
        text_source source = {text, n, 0, piece};
        bf_import counts;
        bf_store_error error;
        bf_store *store = opened(at("j.db"));
        assert_int_equal(bf_store_import(store, read_text, &source, NULL, NULL, &counts, &error),
                         BF_STORE_OK);
        assert_int_equal(counts.refused, 0);
        assert_int_equal(count_of(store), 12);
        bf_store_close(store);
    }
}

static long read_half(void *from, char *bytes, size_t most) {
    text_source *t = from;
    return t->at < t->n / 2 ? read_text(from, bytes, most) : -1;
}

static void input_that_breaks_off_is_an_error_and_what_came_is_kept(void **state) {
    (void)state;
    char text[8192];
    size_t n = 0;
    for (int k = 1; k <= 12; k++) n += (size_t)sprintf(text + n, "%s\n", line_of(k));
    text_source source = {text, n, 0, n / 4};
    bf_import counts;
    bf_store_error error;
    bf_store *store = opened(at("j.db"));
    assert_int_equal(bf_store_import(store, read_half, &source, NULL, NULL, &counts, &error),
                     BF_STORE_SYSTEM);
    assert_true(counts.fresh > 0 && counts.fresh < 12);
    assert_int_equal(counts.refused, 0); /* the line that was cut is not taken for a bad one */
    assert_int_equal(count_of(store), counts.fresh);
    bf_store_close(store);
}

/* ---- Union ---- */

static void write_line(void *user, const char *line, size_t n) {
    write_text(user, line, n);
    write_text(user, "\n", 1);
}

/* Lines of a few invented days. The caller frees them. */
static text_sink days(int from, int n) {
    text_sink text = {0};
    for (int i = from; i < from + n; i++) {
        invented_day day = invented_start(5, i);
        invented_write(&day, write_line, &text, NULL);
    }
    return text;
}

static void import_is_idempotent_and_order_makes_no_difference(void **state) {
    (void)state;
    text_sink a = days(0, 3), b = days(2, 3); /* one day in both */
    bf_store *ab = opened(at("ab.db")), *ba = opened(at("ba.db"));
    imported(ab, a.text, a.n, NULL, NULL);
    bf_import second = imported(ab, b.text, b.n, NULL, NULL);
    assert_true(second.known > 0 && second.fresh > 0 && second.clashes == 0 && second.refused == 0);
    imported(ba, b.text, b.n, NULL, NULL);
    imported(ba, a.text, a.n, NULL, NULL);
    assert_int_equal(count_of(ab), count_of(ba));
    assert_true(state_of(ab) == state_of(ba));
    bf_import again = imported(ab, a.text, a.n, NULL, NULL);
    assert_int_equal(again.fresh, 0);
    assert_int_equal(again.known, again.lines);
    assert_int_equal(again.before, count_of(ab));
    is_whole(ab);
    is_whole(ba);
    bf_store_close(ab);
    bf_store_close(ba);
    free(a.text);
    free(b.text);
}

/* ---- Export ---- */

static void an_export_is_a_file_at_once_and_replaces_nothing_unasked(void **state) {
    (void)state;
    long long n;
    bf_store_error error;
    bf_store *store = opened(at("j.db"));
    for (int k = 1; k <= 5; k++) added(store, line_of(k));
    assert_int_equal(bf_store_export_file(store, NULL, BF_EXPORT_LINES, at("out"), 0, &n, &error),
                     BF_STORE_OK);
    assert_int_equal(n, 5);
    added(store, line_of(6));
    assert_int_equal(bf_store_export_file(store, NULL, BF_EXPORT_LINES, at("out"), 0, &n, &error),
                     BF_STORE_THERE);
    size_t size;
    char *bytes = bytes_of(at("out"), &size);
    assert_null(strstr(bytes, "\"seq\":6"));
    free(bytes);
    assert_int_equal(bf_store_export_file(store, NULL, BF_EXPORT_LINES, at("out"), 1, &n, &error),
                     BF_STORE_OK);
    assert_int_equal(n, 6);
    bf_id id = {0, 1}, other = {0, 77};
    assert_int_equal(bf_store_export_file(store, &id, BF_EXPORT_LINES, at("one"), 0, &n, &error),
                     BF_STORE_OK);
    assert_int_equal(n, 6);
    assert_int_equal(bf_store_export_file(store, &other, BF_EXPORT_LINES, at("none"), 0, &n, &error),
                     BF_STORE_ABSENT);
    assert_int_equal(access(at("none"), F_OK), -1);
    bf_store_close(store);
    assert_int_equal(n_files(), 3);
}

/* ---- Derived ---- */

static int same_session(void *to, const bf_stored_session *stored) {
    bf_journal *journal = to;
    const bf_fold *fold = bf_journal_fold(journal);
    for (int i = 0; i < fold->n_sessions; i++) {
        const bf_session *s = &fold->session[i];
        if (bf_id_order(s->id, stored->id) != 0) continue;
        assert_string_equal(stored->venue, bf_journal_name(journal, s->venue));
        assert_string_equal(stored->peg, bf_journal_name(journal, s->peg));
        assert_true(stored->opened_ms == s->opened_ms && stored->last_ms == s->last_ms &&
                    stored->east_min == s->east_min);
        assert_true(stored->closed_ms == s->closed_ms ||
                    (s->closed_ms != s->closed_ms && stored->closed_ms != stored->closed_ms));
        assert_memory_equal(stored->count, s->count, sizeof s->count);
        return 0;
    }
    fail();
    return 1;
}

static void stored_sessions_are_those_of_the_fold(void **state) {
    (void)state;
    text_sink a = days(0, 4);
    bf_journal *journal;
    bf_stored_session open;
    bf_store_error error;
    bf_store *store = opened(at("j.db"));
    imported(store, a.text, a.n, NULL, NULL);
    free(a.text);
    for (int k = 1; k <= 5; k++) added(store, line_of(k)); /* stays open */
    assert_int_equal(bf_store_load(store, NULL, &journal, &error), BF_STORE_OK);
    assert_int_equal(bf_store_sessions(store, same_session, journal, &error), BF_STORE_OK);
    int s = bf_fold_open_session(bf_journal_fold(journal));
    assert_true(s >= 0);
    assert_int_equal(bf_store_open_session(store, &open, &error), BF_STORE_OK);
    assert_int_equal(bf_id_order(open.id, bf_journal_fold(journal)->session[s].id), 0);
    assert_int_equal(bf_journal_fold(journal)->n_sessions, 5);
    free(journal);
    bf_store_close(store);
}

static void a_session_closed_or_crossed_out_is_not_open(void **state) {
    (void)state;
    static const char *const cross =
        "{\"v\":1,\"id\":\"000000000000000000000000000000ff\",\"session\":\"" SESSION
        "\",\"dev\":\"0000000a\",\"run\":\"0000000b\",\"seq\":2,\"kind\":\"cross\",\"at\":\"2026-04-12T09:30:"
        "00.000+01:00\","
        "\"pm_s\":5,\"rec\":\"2026-04-12T09:30:00.000+01:00\",\"of\":\"" SESSION "\",\"body\":{}}";
    bf_stored_session open;
    bf_store_error error;
    bf_store *store = opened(at("j.db"));
    assert_int_equal(bf_store_open_session(store, &open, &error), BF_STORE_ABSENT);
    added(store, line_of(1));
    assert_int_equal(bf_store_open_session(store, &open, &error), BF_STORE_OK);
    added(store, cross);
    assert_int_equal(bf_store_open_session(store, &open, &error), BF_STORE_ABSENT);
    bf_store_close(store);
}

static void run(bf_store *store, const char *sql) {
    assert_int_equal(sqlite3_exec(store->db, sql, NULL, NULL, NULL), SQLITE_OK);
}

static void derived_rows_that_were_tampered_with_are_found_and_made_anew(void **state) {
    (void)state;
    static const char *const tampers[] = {
        "UPDATE wait SET outcome = 'never' WHERE nth = 1", "DELETE FROM put_in", "DELETE FROM session",
        "UPDATE session SET missed = missed + 1",
        "INSERT INTO session SELECT x'00000000000000000000000000000009', venue, peg, opened_ms, closed_ms, "
        "last_ms, "
        "east_min, "
        "n_events, last_seq, landed, lost, missed, foul, blank, touch FROM session LIMIT 1"};
    text_sink a = days(0, 1);
    bf_store *store = opened(at("j.db"));
    imported(store, a.text, a.n, NULL, NULL);
    free(a.text);
    is_whole(store);
    for (size_t i = 0; i < sizeof tampers / sizeof tampers[0]; i++) {
        run(store, tampers[i]);
        bf_store_state found = checked(store);
        assert_int_equal(found.derived, 1);
        assert_int_equal(found.damaged, 0);
        is_whole(store);
    }
    bf_store_close(store);
}

static void rows_that_are_not_what_their_line_says_are_named(void **state) {
    (void)state;
    static const char *const tampers[] = {
        "UPDATE event SET seq = 99 WHERE nth = 2",
        "UPDATE event SET at_ms = 1 WHERE nth = 3",
        "UPDATE event SET kind = 'feed' WHERE nth = 4",
        "UPDATE event SET digest = 1 WHERE nth = 5",
        "UPDATE event SET line = replace(line, 'missed', 'landed') WHERE nth = 6",
        "UPDATE event SET line = line || ' ' WHERE nth = 7",
        "UPDATE event SET line = 'x' WHERE nth = 8"};
    const int n = (int)(sizeof tampers / sizeof tampers[0]);
    bf_store *store = opened(at("j.db"));
    for (int k = 1; k <= 10; k++) added(store, line_of(k));
    run(store, "DROP TRIGGER event_never_changes");
    for (int i = 0; i < n; i++) {
        run(store, tampers[i]);
        assert_int_equal(checked(store).damaged, i + 1);
    }
    bf_store_close(store);
}

/* ---- Ids and numbers ---- */

static void ids_are_found_by_their_beginning(void **state) {
    (void)state;
    bf_id id, session;
    int n;
    bf_store_error error;
    bf_store *store = opened(at("j.db"));
    for (int k = 1; k <= 18; k++) added(store, line_of(k));
    assert_int_equal(bf_store_find(store, "0000000000000000000000000000000f", &id, &session, &n, &error),
                     BF_STORE_OK);
    assert_true(n == 1 && id.low == 15 && id.high == 0 && session.low == 1);
    assert_int_equal(bf_store_find(store, "0000000000000000000000000000001", &id, &session, &n, &error),
                     BF_STORE_OK);
    assert_true(n == 2 && id.low == 16);
    assert_int_equal(bf_store_find(store, "1", &id, &session, &n, &error), BF_STORE_ABSENT);
    assert_int_equal(bf_store_find(store, "xyz", &id, &session, &n, &error), BF_STORE_ABSENT);
    assert_int_equal(bf_store_find(store, "000000000000000000000000000000000", &id, &session, &n, &error),
                     BF_STORE_ABSENT);
    bf_store_close(store);
}

static void the_next_seq_is_one_more_than_the_largest(void **state) {
    (void)state;
    long long seq;
    bf_store_error error;
    bf_store *store = opened(at("j.db"));
    assert_int_equal(bf_store_next_seq(store, &seq, &error), BF_STORE_OK);
    assert_int_equal(seq, 1);
    added(store, line_of(1));
    added(store, line_of(41));
    added(store, line_of(7));
    assert_int_equal(bf_store_next_seq(store, &seq, &error), BF_STORE_OK);
    assert_int_equal(seq, 42);
    bf_store_close(store);
}

/* ---- Backup ---- */

static void a_backup_is_a_whole_database_in_one_file(void **state) {
    (void)state;
    long long n;
    bf_store_error error;
    text_sink a = days(0, 2);
    bf_store *store = opened(at("j.db"));
    imported(store, a.text, a.n, NULL, NULL);
    free(a.text);
    assert_int_equal(bf_store_backup(store, at("b.db"), &n, &error), BF_STORE_OK);
    assert_int_equal(n, count_of(store));
    added(store, line_of(1)); /* comes after the copy */
    uint64_t hash = state_of(store);
    assert_int_equal(bf_store_backup(store, at("b.db"), &n, &error), BF_STORE_THERE);
    bf_store *copy = opened(at("b.db"));
    assert_int_equal(count_of(copy), count_of(store) - 1);
    added(copy, line_of(1));
    assert_true(state_of(copy) == hash);
    is_whole(copy);
    bf_store_close(copy);
    bf_store_close(store);
    assert_int_equal(n_files(), 2);
}

/* ---- Schemas ---- */

static void copy_file(const char *from, const char *to) {
    size_t n;
    char *bytes = bytes_of(from, &n);
    assert_int_equal(bf_file_write(to, bytes, n, 0), BF_FILE_OK);
    free(bytes);
}

static void schema_1_is_brought_forward_after_all_its_lines_were_written_beside_it(void **state) {
    (void)state;
    copy_file(BF_TEST_DATA "/logbook/v1.db", at("j.db"));
    copy_file(BF_TEST_DATA "/logbook/README",
              at("j.db.schema-1.journal.jsonl")); /* a name that is taken stays */
    bf_store *store = opened(at("j.db"));
    assert_int_equal(count_of(store), 40);
    assert_int_equal(bf_store_dev(store), 0x0badf00d);
    assert_non_null(strstr(bf_store_notice(store), "schema 1 to 2"));
    assert_non_null(strstr(bf_store_notice(store), "j.db.schema-1-2.journal.jsonl"));
    size_t n;
    char *beside = bytes_of(at("j.db.schema-1-2.journal.jsonl"), &n);
    text_sink now = exported(store, BF_EXPORT_LINES);
    assert_string_equal(beside, now.text);
    is_whole(store);
    bf_stored_session session;
    bf_store_error error;
    assert_int_equal(bf_store_open_session(store, &session, &error), BF_STORE_OK);
    assert_int_equal(session.n_events, 40);
    bf_store_close(store);
    store = opened(at("j.db"));
    assert_string_equal(bf_store_notice(store), "");
    assert_string_equal(pragma(store->db, "PRAGMA user_version"), "2");
    /* The same schema as of a database made today. */
    bf_store *fresh = opened(at("fresh.db"));
    static const char schema[] =
        "SELECT group_concat(sql, ';') FROM (SELECT sql FROM sqlite_schema ORDER BY name)";
    char *old = strdup(pragma(store->db, schema));
    assert_string_equal(old, pragma(fresh->db, schema));
    free(old);
    bf_store_close(fresh);
    bf_store_close(store);
    free(beside);
    free(now.text);
}

static void is_left_as_it_was(const char *path, bf_store_what want) {
    size_t n, n_after;
    char *before = bytes_of(path, &n);
    bf_store *store = (bf_store *)1;
    bf_store_error error;
    int files = n_files();
    for (bf_store_use use = BF_STORE_TO_READ; use <= BF_STORE_TO_ADD; use++) {
        assert_int_equal(bf_store_open(path, use, &store, &error), want);
        assert_null(store);
        assert_non_null(strstr(error.sentence, path));
    }
    char *after = bytes_of(path, &n_after);
    assert_int_equal(n, n_after);
    assert_memory_equal(before, after, n);
    assert_int_equal(n_files(), files);
    free(before);
    free(after);
}

static void make_foreign(const char *path, const char *sql) {
    sqlite3 *db;
    assert_int_equal(sqlite3_open(path, &db), SQLITE_OK);
    assert_int_equal(sqlite3_exec(db, sql, NULL, NULL, NULL), SQLITE_OK);
    sqlite3_close(db);
}

static void what_is_not_ours_is_left_as_it_is(void **state) {
    (void)state;
    bf_store *store;
    bf_store_error error;
    char junk[5000];
    memset(junk, 'j', sizeof junk);
    assert_int_equal(bf_file_write(at("short"), "no database", 11, 0), BF_FILE_OK);
    is_left_as_it_was(at("short"), BF_STORE_FOREIGN);
    assert_int_equal(bf_file_write(at("junk"), junk, sizeof junk, 0), BF_FILE_OK);
    is_left_as_it_was(at("junk"), BF_STORE_FOREIGN);
    make_foreign(at("plain.db"), "CREATE TABLE t (x)");
    is_left_as_it_was(at("plain.db"), BF_STORE_FOREIGN);
    make_foreign(at("other.db"), "PRAGMA application_id=77; PRAGMA user_version=2; CREATE TABLE event (x)");
    is_left_as_it_was(at("other.db"), BF_STORE_FOREIGN);
    make_foreign(at("later.db"),
                 "PRAGMA application_id=1113680244; PRAGMA user_version=3; CREATE TABLE event (x)");
    is_left_as_it_was(at("later.db"), BF_STORE_NEWER);
    assert_int_equal(bf_store_open(folder, BF_STORE_TO_MAKE, &store, &error), BF_STORE_FOREIGN);
    assert_int_equal(bf_store_open(at("none.db"), BF_STORE_TO_READ, &store, &error), BF_STORE_ABSENT);
    assert_int_equal(access(at("none.db"), F_OK), -1);
}

/* The later schema may so far only be in the log beside the file. */
static void a_later_schema_in_the_log_alone_is_seen_too(void **state) {
    (void)state;
    bf_store *later = opened(at("j.db")), *store;
    bf_store_error error;
    added(later, line_of(1));
    run(later, "PRAGMA user_version=3");
    assert_int_equal(bf_store_open(at("j.db"), BF_STORE_TO_MAKE, &store, &error), BF_STORE_NEWER);
    bf_store_close(later);
}

/* A first start that was cut short leaves an empty file. */
static void an_empty_file_becomes_a_new_journal(void **state) {
    (void)state;
    assert_int_equal(bf_file_write(at("j.db"), "", 0, 0), BF_FILE_OK);
    bf_store *store = opened(at("j.db"));
    added(store, line_of(1));
    is_whole(store);
    bf_store_close(store);
}

int main(void) {
#define TEST(name) cmocka_unit_test_setup_teardown(name, make_folder, drop_folder)
    const struct CMUnitTest tests[] = {
        TEST(what_was_added_is_there_after_reopening),
        TEST(the_same_line_again_is_known_and_changes_nothing),
        TEST(the_same_id_with_other_bytes_is_a_clash_and_both_are_kept),
        TEST(a_clash_between_sessions_leaves_what_is_derived_right),
        TEST(a_refused_line_leaves_the_store_as_it_was),
        TEST(the_database_itself_refuses_to_change_or_delete_an_event),
        TEST(the_settings_that_keep_it_whole_are_on),
        TEST(bad_lines_are_told_by_number_and_good_ones_are_kept),
        TEST(bytes_may_come_in_any_pieces),
        TEST(input_that_breaks_off_is_an_error_and_what_came_is_kept),
        TEST(import_is_idempotent_and_order_makes_no_difference),
        TEST(an_export_is_a_file_at_once_and_replaces_nothing_unasked),
        TEST(stored_sessions_are_those_of_the_fold),
        TEST(a_session_closed_or_crossed_out_is_not_open),
        TEST(derived_rows_that_were_tampered_with_are_found_and_made_anew),
        TEST(rows_that_are_not_what_their_line_says_are_named),
        TEST(ids_are_found_by_their_beginning),
        TEST(the_next_seq_is_one_more_than_the_largest),
        TEST(a_backup_is_a_whole_database_in_one_file),
        TEST(schema_1_is_brought_forward_after_all_its_lines_were_written_beside_it),
        TEST(what_is_not_ours_is_left_as_it_is),
        TEST(a_later_schema_in_the_log_alone_is_seen_too),
        TEST(an_empty_file_becomes_a_new_journal),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
