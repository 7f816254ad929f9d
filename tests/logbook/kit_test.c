/* The kit file: whole or not at all. */
#define _XOPEN_SOURCE 700

#include "baitfall/kit.h"

#include <errno.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include "common/check.h"
#include "folder.h"

static void holds(const char *path, const char *want) {
    char *bytes;
    size_t n;
    assert_int_equal(bf_file_read(path, BF_KIT_BYTES_MOST, &bytes, &n), BF_FILE_OK);
    assert_string_equal(bytes, want);
    assert_int_equal(n, strlen(want));
    free(bytes);
}

static void what_was_written_is_read_back(void **state) {
    (void)state;
    assert_int_equal(bf_kit_write(at("deep/er/kit.json"), "{}", 2), BF_FILE_OK);
    holds(at("deep/er/kit.json"), "{}");
}

static void a_second_write_replaces_the_first_and_leaves_nothing_else(void **state) {
    (void)state;
    assert_int_equal(bf_file_write(at("kit.json"), "{\"old\":1}", 9, 1), BF_FILE_OK);
    assert_int_equal(bf_file_write(at("kit.json"), "{\"new\":1}", 9, 1), BF_FILE_OK);
    holds(at("kit.json"), "{\"new\":1}");
    assert_int_equal(n_files(), 1);
}

static void a_name_that_is_taken_is_kept_unless_asked(void **state) {
    (void)state;
    assert_int_equal(bf_file_write(at("a.svg"), "one", 3, 0), BF_FILE_OK);
    assert_int_equal(bf_file_write(at("a.svg"), "two", 3, 0), BF_FILE_THERE);
    holds(at("a.svg"), "one");
    assert_int_equal(n_files(), 1);
}

static void a_database_is_never_replaced(void **state) {
    (void)state;
    static const char head[] = "SQLite format 3"; /* with its closing 0, as SQLite writes it */
    assert_int_equal(bf_file_write(at("journal.db"), head, sizeof head, 0), BF_FILE_OK);
    assert_int_equal(bf_file_write(at("journal.db"), "new", 3, 1), BF_FILE_DATABASE);
    assert_int_equal(bf_file_write(at("journal.db"), "new", 3, 0), BF_FILE_THERE);
    char *bytes;
    size_t n;
    assert_int_equal(bf_file_read(at("journal.db"), BF_KIT_BYTES_MOST, &bytes, &n), BF_FILE_OK);
    assert_int_equal(n, sizeof head);
    free(bytes);
    assert_int_equal(n_files(), 1);
}

/* Renaming a file onto them would take a device's or a pipe's place: found with --svg /dev/full. */
static void what_is_no_ordinary_file_is_never_replaced(void **state) {
    (void)state;
    struct stat what;
    assert_int_equal(mkfifo(at("pipe"), 0600), 0);
    assert_int_equal(bf_file_write(at("pipe"), "new", 3, 1), BF_FILE_SPECIAL);
    assert_int_equal(stat(at("pipe"), &what), 0);
    assert_true(S_ISFIFO(what.st_mode));
    assert_int_equal(mkdir(at("folder"), 0700), 0);
    assert_int_equal(bf_file_write(at("folder"), "new", 3, 1), BF_FILE_SPECIAL);
    assert_int_equal(rmdir(at("folder")), 0);
    assert_int_equal(unlink(at("pipe")), 0);
    assert_int_equal(n_files(), 0);
}

/* A disk that fills up half way, by a limit on file size (POSIX setrlimit). */
static void a_write_that_fails_half_way_leaves_the_old_file(void **state) {
    (void)state;
    struct rlimit before, tight;
    char *large = calloc(1, 100000);
    assert_int_equal(bf_file_write(at("kit.json"), "old", 3, 1), BF_FILE_OK);
    memset(large, 'x', 99999);
    signal(SIGXFSZ, SIG_IGN);
    getrlimit(RLIMIT_FSIZE, &before);
    tight = before;
    tight.rlim_cur = 5000;
    setrlimit(RLIMIT_FSIZE, &tight);
    bf_file what = bf_kit_write(at("kit.json"), large, 99999);
    int why = errno;
    setrlimit(RLIMIT_FSIZE, &before);
    free(large);
    assert_int_equal(what, BF_FILE_SYSTEM);
    assert_int_equal(why, EFBIG);
    holds(at("kit.json"), "old");
    assert_int_equal(n_files(), 1);
}

static void a_missing_file_and_one_too_large_are_told_apart(void **state) {
    (void)state;
    char *bytes = (char *)1;
    size_t n = 7;
    assert_int_equal(bf_file_read(at("none"), 10, &bytes, &n), BF_FILE_ABSENT);
    assert_null(bytes);
    assert_int_equal(n, 0);
    assert_int_equal(bf_file_write(at("ten"), "0123456789", 10, 1), BF_FILE_OK);
    assert_int_equal(bf_file_read(at("ten"), 10, &bytes, &n), BF_FILE_OK);
    assert_int_equal(n, 10);
    free(bytes);
    assert_int_equal(bf_file_read(at("ten"), 9, &bytes, &n), BF_FILE_TOO_LARGE);
    assert_null(bytes);
}

static void a_path_through_a_file_is_the_systems_error(void **state) {
    (void)state;
    assert_int_equal(bf_file_write(at("file"), "x", 1, 1), BF_FILE_OK);
    assert_int_equal(bf_kit_write(at("file/kit.json"), "{}", 2), BF_FILE_SYSTEM);
    holds(at("file"), "x");
}

/* XDG Base Directory Specification: a relative path in the variable is to be ignored. */
static void the_kit_lies_in_the_data_folder(void **state) {
    (void)state;
    char path[BF_PATH_MOST];
    setenv("HOME", "/home/peg", 1);
    setenv("XDG_DATA_HOME", "/data", 1);
    assert_int_equal(bf_kit_path(path), 1);
    assert_string_equal(path, "/data/baitfall/kit.json");
    setenv("XDG_DATA_HOME", "data", 1);
    assert_int_equal(bf_kit_path(path), 1);
    assert_string_equal(path, "/home/peg/.local/share/baitfall/kit.json");
    unsetenv("XDG_DATA_HOME");
    unsetenv("HOME");
    assert_int_equal(bf_kit_path(path), 0);
    assert_string_equal(path, "");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(what_was_written_is_read_back, make_folder, drop_folder),
        cmocka_unit_test_setup_teardown(a_second_write_replaces_the_first_and_leaves_nothing_else,
                                        make_folder, drop_folder),
        cmocka_unit_test_setup_teardown(a_name_that_is_taken_is_kept_unless_asked, make_folder, drop_folder),
        cmocka_unit_test_setup_teardown(a_database_is_never_replaced, make_folder, drop_folder),
        cmocka_unit_test_setup_teardown(what_is_no_ordinary_file_is_never_replaced, make_folder, drop_folder),
        cmocka_unit_test_setup_teardown(a_write_that_fails_half_way_leaves_the_old_file, make_folder,
                                        drop_folder),
        cmocka_unit_test_setup_teardown(a_missing_file_and_one_too_large_are_told_apart, make_folder,
                                        drop_folder),
        cmocka_unit_test_setup_teardown(a_path_through_a_file_is_the_systems_error, make_folder, drop_folder),
        cmocka_unit_test(the_kit_lies_in_the_data_folder),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
