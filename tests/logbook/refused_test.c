/* A database that cannot be used as it is: in read-only places, locked by others, damaged. It is said, read where it can be, and nothing
 * is lost. */
#define _XOPEN_SOURCE 700

#include "logbook/before.h"

#include <sys/wait.h>
#include <time.h>

/* ---- Read-only places. Root may write everywhere, so this is done as nobody ---- */

static void as_nobody(void (*attempt)(void)) {
    int status;
    pid_t child = fork();
    if (child == 0) {
        if (geteuid() == 0 && (setgid(65534) != 0 || setuid(65534) != 0)) _exit(99);
        attempt();
        _exit(0);
    }
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFEXITED(status));
    assert_int_equal(WEXITSTATUS(status), 0);
}

static void must_be_read_only(void) {
    bf_store *store;
    bf_store_error error;
    bf_taken taken;
    bf_store_what what = bf_store_open(at("j.db"), BF_STORE_TO_MAKE, &store, &error);
    if (what == BF_STORE_OK) what = bf_store_add(store, line_of(9), strlen(line_of(9)), &taken, &error);
    if (what != BF_STORE_READ_ONLY) fprintf(stderr, "%d %s\n", (int)what, error.sentence);
    _exit(what == BF_STORE_READ_ONLY && strstr(error.sentence, at("j.db")) ? 0 : 1);
}

static void must_not_be_made(void) {
    bf_store *store;
    bf_store_error error;
    bf_store_what what = bf_store_open(at("new/j.db"), BF_STORE_TO_MAKE, &store, &error);
    _exit(what == BF_STORE_READ_ONLY && strstr(error.sentence, at("new/j.db")) &&
                  strstr(error.sentence, "Nothing was changed")
              ? 0
              : 1);
}

static void a_read_only_file_or_folder_is_said(void **state) {
    (void)state;
    static const struct {
        mode_t folder, file;
    } modes[] = {{0777, 0444}, {0555, 0666}, {0555, 0444}, {0777, 0}};
    start_over(N_BEFORE);
    for (size_t i = 0; i < sizeof modes / sizeof modes[0]; i++) {
        assert_int_equal(chmod(at("j.db"), modes[i].file), 0);
        assert_int_equal(chmod(folder, modes[i].folder), 0);
        as_nobody(must_be_read_only);
    }
    assert_int_equal(chmod(folder, 0555), 0);
    as_nobody(must_not_be_made);
    assert_int_equal(chmod(folder, 0700), 0);
    assert_int_equal(chmod(at("j.db"), 0600), 0);
    int acknowledged[N_BEFORE + 1] = {0, 1, 1, 1, 1, 1};
    nothing_is_lost(N_BEFORE, acknowledged);
}

static int count_sessions(void *to, const bf_stored_session *session) {
    *(int *)to += session->n_events;
    return 0;
}

/* Reads everything there is in every way there is, and may add nothing. expected: entries; 0: or else be refused. */
static void read_as_nobody(int expected, int may_be_refused) {
    bf_store *store;
    bf_store_error error;
    bf_journal *journal;
    bf_store_state state;
    bf_taken taken;
    text_sink sink = {0};
    long long n = 0;
    int n_of_sessions = 0;
    bf_store_what what = bf_store_open(at("j.db"), BF_STORE_TO_READ, &store, &error);
    if (what != BF_STORE_OK) fprintf(stderr, "%s\n", error.sentence);
    if (what != BF_STORE_OK) _exit(may_be_refused && what == BF_STORE_READ_ONLY ? 0 : 1);
    if (bf_store_load(store, NULL, &journal, &error) != BF_STORE_OK) _exit(2);
    if (bf_journal_n(journal) != expected) _exit(3);
    if (bf_store_sessions(store, count_sessions, &n_of_sessions, &error) != BF_STORE_OK) _exit(4);
    if (n_of_sessions != expected) _exit(5);
    if (bf_store_export(store, NULL, BF_EXPORT_CSV, write_text, &sink, &n, &error) != BF_STORE_OK) _exit(6);
    if (bf_store_check(store, NULL, NULL, &state, &error) != BF_STORE_OK || state.events != expected)
        _exit(7);
    if (state.database || state.damaged || state.derived) _exit(8);
    if (bf_store_add(store, line_of(9), strlen(line_of(9)), &taken, &error) != BF_STORE_READ_ONLY) _exit(9);
    if (!strstr(error.sentence, at("j.db"))) _exit(10);
    bf_store_close(store);
}

static void read_what_was_there(void) {
    read_as_nobody(N_BEFORE, 0);
}

static void a_journal_that_cannot_be_written_is_read_all_the_same(void **state) {
    (void)state;
    static const struct { mode_t folder, file; } modes[] = {{0777, 0444}, {0555, 0666}, {0555, 0444}};
    start_over(N_BEFORE);
    for (size_t i = 0; i < sizeof modes / sizeof modes[0]; i++) {
        assert_int_equal(chmod(at("j.db"), modes[i].file), 0);
        assert_int_equal(chmod(folder, modes[i].folder), 0);
        as_nobody(read_what_was_there);
        assert_int_equal(n_files(), 1);
    }
    assert_int_equal(chmod(folder, 0700), 0);
    assert_int_equal(chmod(at("j.db"), 0600), 0);
    int acknowledged[N_BEFORE + 1] = {0, 1, 1, 1, 1, 1};
    nothing_is_lost(N_BEFORE, acknowledged);
}

static void read_all_or_be_refused(void) {
    read_as_nobody(N_BEFORE + 1, 1);
}

/* Another program's last entry may so far be in its log alone: it is read with the others, or nothing is. */
static void an_entry_in_another_programs_log_is_never_missing(void **state) {
    (void)state;
    static const mode_t log_modes[] = {0666, 0444, 0};
    start_over(N_BEFORE);
    bf_store *other = opened(at("j.db"));
    added(other, line_of(N_BEFORE + 1));
    for (size_t i = 0; i < sizeof log_modes / sizeof log_modes[0]; i++) {
        assert_int_equal(chmod(at("j.db"), 0444), 0);
        assert_int_equal(chmod(at("j.db-wal"), log_modes[i]), 0);
        assert_int_equal(chmod(at("j.db-shm"), log_modes[i]), 0);
        assert_int_equal(chmod(folder, 0555), 0);
        as_nobody(read_all_or_be_refused);
        assert_int_equal(chmod(folder, 0700), 0);
    }
    bf_store_close(other);
    assert_int_equal(chmod(at("j.db"), 0600), 0);
    int acknowledged[N_BEFORE + 2] = {0, 1, 1, 1, 1, 1, 1};
    nothing_is_lost(N_BEFORE + 1, acknowledged);
}

/* ---- Locks ---- */

static void a_database_locked_by_another_is_said_and_can_be_used_again(void **state) {
    (void)state;
    sqlite3 *other;
    bf_store_error error;
    bf_taken taken;
    bf_import counts;
    start_over(N_BEFORE);
    bf_store *store = opened(at("j.db"));
    sqlite3_busy_timeout(store->db, 20); /* five seconds as a rule */
    assert_int_equal(sqlite3_open(at("j.db"), &other), SQLITE_OK);
    assert_int_equal(sqlite3_exec(other, "BEGIN IMMEDIATE", NULL, NULL, NULL), SQLITE_OK);
    assert_int_equal(bf_store_add(store, line_of(6), strlen(line_of(6)), &taken, &error), BF_STORE_BUSY);
    text_source source = {.text = line_of(7), .n = strlen(line_of(7))};
    assert_int_equal(bf_store_import(store, read_text, &source, NULL, NULL, &counts, &error), BF_STORE_BUSY);
    assert_int_equal(counts.fresh, 0);
    assert_int_equal(count_of(store), N_BEFORE); /* reading goes on */
    assert_int_equal(sqlite3_exec(other, "COMMIT", NULL, NULL, NULL), SQLITE_OK);
    sqlite3_close(other);
    assert_int_equal(added(store, line_of(6)), BF_TAKEN_NEW);
    bf_store_close(store);
}

static void a_lock_that_goes_within_five_seconds_is_waited_for(void **state) {
    (void)state;
    int ready[2], status;
    char byte;
    start_over(N_BEFORE);
    assert_int_equal(pipe(ready), 0);
    pid_t child = fork();
    if (child == 0) {
        sqlite3 *other;
        if (sqlite3_open(at("j.db"), &other) || sqlite3_exec(other, "BEGIN IMMEDIATE", NULL, NULL, NULL))
            _exit(1);
        if (write(ready[1], "x", 1) != 1) _exit(1);
        nanosleep(&(struct timespec){0, 300000000}, NULL);
        _exit(sqlite3_exec(other, "COMMIT", NULL, NULL, NULL));
    }
    assert_int_equal(read(ready[0], &byte, 1), 1);
    bf_store *store = opened(at("j.db"));
    assert_int_equal(added(store, line_of(6)), BF_TAKEN_NEW);
    bf_store_close(store);
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_int_equal(status, 0);
    close(ready[0]);
    close(ready[1]);
}

/* Eight processes make the same new database and add to it, all at once. */
static void many_may_start_and_add_at_once(void **state) {
    (void)state;
    enum { N_PROCESSES = 8, N_EACH = 10 };
    pid_t child[N_PROCESSES];
    for (int p = 0; p < N_PROCESSES; p++) {
        child[p] = fork();
        if (child[p] != 0) continue;
        bf_store *store;
        bf_store_error error;
        bf_taken taken;
        if (bf_store_open(at("j.db"), BF_STORE_TO_MAKE, &store, &error) != BF_STORE_OK) _exit(1);
        for (int k = 1 + p * N_EACH; k <= (p + 1) * N_EACH; k++)
            if (bf_store_add(store, line_of(k), strlen(line_of(k)), &taken, &error) != BF_STORE_OK) _exit(2);
        bf_store_close(store);
        _exit(0);
    }
    for (int p = 0; p < N_PROCESSES; p++) {
        int status;
        assert_int_equal(waitpid(child[p], &status, 0), child[p]);
        assert_int_equal(status, 0);
    }
    bf_store *store = opened(at("j.db"));
    assert_int_equal(count_of(store), N_PROCESSES * N_EACH);
    is_whole(store);
    bf_store_close(store);
}

/* ---- Damage ---- */

#define PAGE 8192
#define N_LAID_OUT 400

/* Fills a page with 0xff; pages count from 0. */
static void damage(long page) {
    char junk[PAGE];
    memset(junk, 0xff, sizeof junk);
    int fd = open(at("j.db"), O_WRONLY);
    assert_int_equal(pwrite(fd, junk, PAGE, page * PAGE), PAGE);
    close(fd);
}

/* The pages that hold rows of event: leaves of a table (first byte 13) with a line in them. */
static int event_pages(const char *bytes, size_t n, long *pages, int most) {
    int found = 0;
    for (long page = 1; (size_t)page < n / PAGE && found < most; page++) {
        const char *at_page = bytes + page * PAGE;
        int has_line = 0;
        for (int i = 0; i < PAGE - 8; i++) has_line |= memcmp(at_page + i, "{\"v\":1,", 7) == 0;
        if (at_page[0] == 13 && has_line) pages[found++] = page;
    }
    return found;
}

static void a_damaged_page_hides_only_its_own_rows(void **state) {
    (void)state;
    size_t n;
    long pages[64];
    long long n_lines;
    bf_store_error error;
    start_over(N_LAID_OUT);
    char *bytes = bytes_of(at("j.db"), &n);
    int n_pages = event_pages(bytes, n, pages, 64);
    free(bytes);
    assert_in_range(n_pages, 8, 64);
    for (int i = 1; i < n_pages; i += n_pages / 4) {
        start_over(N_LAID_OUT);
        damage(pages[i]);
        bf_store *store = opened(at("j.db"));
        text_sink sink = {0};
        assert_int_equal(bf_store_export(store, NULL, BF_EXPORT_LINES, write_text, &sink, &n_lines, &error),
                         BF_STORE_DAMAGED);
        assert_in_range(n_lines, N_LAID_OUT - 40, N_LAID_OUT - 1); /* a page holds some twenty rows */
        assert_non_null(strstr(error.sentence, "the first is row"));
        bf_store_state found = checked(store);
        assert_true(found.database > 0);
        assert_int_equal(found.damaged, N_LAID_OUT - n_lines);
        bf_store_close(store);
        /* What could be saved makes a new journal. */
        bf_store *fresh = opened(at("fresh.db"));
        assert_int_equal(imported(fresh, sink.text, sink.n, NULL, NULL).fresh, n_lines);
        is_whole(fresh);
        bf_store_close(fresh);
        unlink(at("fresh.db"));
        free(sink.text);
    }
}

/* Any page at all: an error that is said, or an answer; never a crash, and never a silent loss. */
static void any_damaged_page_is_found_by_check(void **state) {
    (void)state;
    struct stat about;
    start_over(N_LAID_OUT);
    assert_int_equal(stat(at("j.db"), &about), 0);
    long n_pages = about.st_size / PAGE, step = getenv("BF_LONG") ? 1 : n_pages / 12 + 1;
    for (long page = 0; page < n_pages; page += step) {
        bf_store *store;
        bf_store_error error;
        bf_store_state found;
        start_over(N_LAID_OUT);
        damage(page);
        bf_store_what what = bf_store_open(at("j.db"), BF_STORE_TO_READ, &store, &error);
        if (what == BF_STORE_OK) {
            what = bf_store_check(store, NULL, NULL, &found, &error);
            if (what == BF_STORE_OK) assert_true(found.database + found.damaged > 0);
            bf_store_close(store);
        }
        assert_true(what == BF_STORE_OK || what == BF_STORE_DAMAGED || what == BF_STORE_FOREIGN);
    }
}

static void a_file_cut_short_is_found(void **state) {
    (void)state;
    struct stat about;
    start_over(N_LAID_OUT);
    assert_int_equal(stat(at("j.db"), &about), 0);
    for (off_t n = about.st_size - PAGE; n > 3000; n -= about.st_size / 9) {
        bf_store *store;
        bf_store_error error;
        bf_store_state found;
        start_over(N_LAID_OUT);
        assert_int_equal(truncate(at("j.db"), n), 0);
        bf_store_what what = bf_store_open(at("j.db"), BF_STORE_TO_READ, &store, &error);
        if (what == BF_STORE_OK) {
            what = bf_store_check(store, NULL, NULL, &found, &error);
            if (what == BF_STORE_OK) assert_true(found.database > 0);
            bf_store_close(store);
        }
        assert_true(what == BF_STORE_OK || what == BF_STORE_DAMAGED);
    }
}

int main(void) {
#define TEST(name) cmocka_unit_test_setup_teardown(name, make_folder, drop_folder)
    const struct CMUnitTest tests[] = {
        TEST(a_read_only_file_or_folder_is_said),
        TEST(a_journal_that_cannot_be_written_is_read_all_the_same),
        TEST(an_entry_in_another_programs_log_is_never_missing),
        TEST(a_database_locked_by_another_is_said_and_can_be_used_again),
        TEST(a_lock_that_goes_within_five_seconds_is_waited_for),
        TEST(many_may_start_and_add_at_once),
        TEST(a_damaged_page_hides_only_its_own_rows),
        TEST(any_damaged_page_is_found_by_check),
        TEST(a_file_cut_short_is_found),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
