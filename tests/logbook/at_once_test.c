/* Eight programs at one journal at the same instant: none is told that it is busy, one session is opened, every entry is in. With
 * BF_LONG set as many rounds more. */
#define _XOPEN_SOURCE 700

#include "logbook/logbook.h"

#include <sys/wait.h>

#define N_PROGRAMS 8
#define N_EACH 4

static int n_rounds(void) {
    return getenv("BF_LONG") ? 200 : 5;
}

/* An `open` of a session of its own. */
static const char *opening_of(int k, char line[512]) {
    snprintf(line, 512,
             "{\"v\":1,\"id\":\"%032x\",\"session\":\"%032x\",\"dev\":\"0000000a\",\"run\":\"0000000b\","
             "\"seq\":%d,"
             "\"kind\":\"open\",\"at\":\"2026-04-12T09:00:00.000+01:00\",\"pm_s\":5,"
             "\"rec\":\"2026-04-12T09:00:00.000+01:00\",\"body\":{\"venue\":\"Withy Pool (invented)\"}}",
             (unsigned)k, (unsigned)k, k);
    return line;
}

/* One program: opens the journal, a session unless one is open, and adds entries. Exit code 0: it opened it, 1: it found it open; else
 * what the store said. */
static int take_part(int k) {
    bf_store *store;
    bf_store_error error;
    bf_stored_session open = {.n_events = 0};
    bf_taken taken;
    char line[512];
    opening_of(k, line);
    bf_store_what what = bf_store_open(at("j.db"), BF_STORE_TO_MAKE, &store, &error);
    if (what != BF_STORE_OK) fprintf(stderr, "%s\n", error.sentence);
    if (what != BF_STORE_OK) return 100 + (int)what;
    bf_store_what opened_it = bf_store_add_opening(store, line, strlen(line), &open, &taken, &error);
    if (opened_it != BF_STORE_OK && opened_it != BF_STORE_THERE) fprintf(stderr, "%s\n", error.sentence);
    if (opened_it != BF_STORE_OK && opened_it != BF_STORE_THERE) return 120 + (int)opened_it;
    if (opened_it == BF_STORE_THERE && open.n_events == 0) return 99;
    for (int i = 0; i < N_EACH; i++) {
        const char *entry = line_of(1000 + N_EACH * k + i);
        what = bf_store_add(store, entry, strlen(entry), &taken, &error);
        if (what != BF_STORE_OK) fprintf(stderr, "%s\n", error.sentence);
        if (what != BF_STORE_OK) return 140 + (int)what;
    }
    bf_store_close(store);
    return opened_it == BF_STORE_THERE;
}

/* Starts them all, and lets them go at once. Returns how many opened a session. */
static int run_programs(void) {
    int gate[2], n_opened = 0;
    pid_t program[N_PROGRAMS];
    char byte;
    assert_int_equal(pipe(gate), 0);
    for (int k = 0; k < N_PROGRAMS; k++) {
        program[k] = fork();
        if (program[k] != 0) continue;
        close(gate[1]);
        (void)!read(gate[0], &byte, 1); // until the gate is closed
        _exit(take_part(k + 1));
    }
    close(gate[0]);
    close(gate[1]);
    for (int k = 0; k < N_PROGRAMS; k++) {
        int status;
        assert_int_equal(waitpid(program[k], &status, 0), program[k]);
        assert_true(WIFEXITED(status));
        assert_in_range(WEXITSTATUS(status), 0, 1);
        n_opened += WEXITSTATUS(status) == 0;
    }
    return n_opened;
}

static void of_eight_programs_that_open_a_session_at_once_one_does(void **state) {
    (void)state;
    for (int round = 0; round < n_rounds(); round++) {
        assert_int_equal(run_programs(), 1);
        bf_store *store = opened(at("j.db"));
        assert_int_equal(count_of(store), 1 + N_PROGRAMS * N_EACH);
        is_whole(store);
        bf_store_close(store);
        unlink(at("j.db"));
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(of_eight_programs_that_open_a_session_at_once_one_does, make_folder,
                                        drop_folder),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
