/* The program is killed (SIGKILL) at a random moment of adding or importing, again and again: whatever it had acknowledged is
 * there, the database is whole, and the work can go on. 50 times in `make check`, 500 with BF_LONG. */
#define _XOPEN_SOURCE 700

#include "logbook/logbook.h"

#include <signal.h>
#include <sys/wait.h>
#include <time.h>

static int n_kills(void) {
    return getenv("BF_LONG") ? 250 : 25; /* each of the two tests */
}

/* An xorshift generator of the test's own. */
static uint64_t bits = 88172645463325252u;
static double part(void) {
    bits ^= bits << 13;
    bits ^= bits >> 7;
    bits ^= bits << 17;
    return (double)(bits >> 11) / 9007199254740992.0;
}

static void wait_ms(double ms) {
    struct timespec span = {(time_t)(ms / 1000), (long)((ms - 1000 * (double)(time_t)(ms / 1000)) * 1e6)};
    nanosleep(&span, NULL);
}

/* Reads the numbers that a child acknowledged until its end of the pipe closes; the last one, or `last`. */
static int read_acknowledged(int fd, int last) {
    int number;
    while (read(fd, &number, sizeof number) == (ssize_t)sizeof number) last = number;
    return last;
}

static double now_ms(void) {
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec * 1000 + (double)now.tv_nsec / 1e6;
}

typedef void (*work)(int from, int to_parent);

/* Starts the work in a child, kills it after a while, and returns the last number it acknowledged. */
static int killed_at_work(work work_on, int from, double most_ms) {
    int pipe_ends[2], status;
    assert_int_equal(pipe(pipe_ends), 0);
    pid_t child = fork();
    if (child == 0) {
        close(pipe_ends[0]);
        work_on(from, pipe_ends[1]);
        _exit(0);
    }
    close(pipe_ends[1]);
    wait_ms(part() * most_ms);
    kill(child, SIGKILL);
    int last = read_acknowledged(pipe_ends[0], from - 1);
    close(pipe_ends[0]);
    assert_int_equal(waitpid(child, &status, 0), child);
    return last;
}

static void acknowledge(int fd, int number) {
    if (write(fd, &number, sizeof number) != (ssize_t)sizeof number) _exit(1);
}

/* Looks at the database after a kill: lines 1 to at least `acknowledged`, no gaps. Returns how many there are. */
static int look(int acknowledged) {
    bf_store_error error;
    bf_journal *journal;
    bf_store *store = opened(at("j.db"));
    is_whole(store);
    assert_int_equal(bf_store_load(store, NULL, &journal, &error), BF_STORE_OK);
    int n = bf_journal_n(journal);
    assert_in_range(n, (unsigned long)acknowledged, 100000);
    for (int i = 0; i < n; i++) assert_int_equal(bf_journal_events(journal)[i].id.low, i + 1);
    free(journal);
    bf_store_close(store);
    return n;
}

/* ---- Adding ---- */

static void add_on(int from, int to_parent) {
    bf_store *store;
    bf_store_error error;
    bf_taken taken;
    if (bf_store_open(at("j.db"), BF_STORE_TO_MAKE, &store, &error) != BF_STORE_OK) _exit(1);
    for (int k = from;; k++) {
        if (bf_store_add(store, line_of(k), strlen(line_of(k)), &taken, &error) != BF_STORE_OK) _exit(1);
        acknowledge(to_parent, k);
    }
}

static void a_kill_while_adding_loses_nothing_acknowledged(void **state) {
    (void)state;
    int next = 1, n_acknowledged = 0, n_into_work = 0;
    double started = now_ms(); /* opening and some adds take as long as this machine takes */
    bf_store *store = opened(at("j.db"));
    for (; next <= 20; next++) added(store, line_of(next));
    bf_store_close(store);
    double most_ms = 2 * (now_ms() - started);
    for (int i = 0; i < n_kills(); i++) {
        int last = killed_at_work(add_on, next, most_ms);
        n_acknowledged += last - next + 1;
        n_into_work += last >= next;
        next = look(last) + 1;
    }
    assert_true(n_into_work >= n_kills() / 4); /* the kills did hit the work, not the start alone */
    print_message("%d kills, %d acknowledged\n", n_kills(), n_acknowledged);
}

/* ---- Importing ---- */

#define N_IMPORTED 3000
#define BATCH 300

typedef struct endless {
    int next;
    size_t n, at;
    char text[1024];
} endless;

static long read_endless(void *from, char *bytes, size_t most) {
    endless *e = from;
    if (e->at == e->n) {
        if (e->next > N_IMPORTED) return 0;
        e->n = (size_t)sprintf(e->text, "%s\n", line_of(e->next++));
        e->at = 0;
    }
    size_t n = e->n - e->at < most ? e->n - e->at : most;
    memcpy(bytes, e->text + e->at, n);
    e->at += n;
    return (long)n;
}

static void hear_stored(void *to, bf_told_kind kind, long long number, const char *sentence) {
    (void)sentence;
    if (kind != BF_TOLD_STORED) _exit(1);
    acknowledge(*(int *)to, (int)number);
}

/* The same file from its beginning each time, as people would do it. */
static void import_all(int from, int to_parent) {
    bf_store *store;
    bf_store_error error;
    bf_import counts;
    endless lines = {.next = 1};
    (void)from;
    if (bf_store_open(at("j.db"), BF_STORE_TO_MAKE, &store, &error) != BF_STORE_OK) _exit(1);
    if (bf_store_import(store, read_endless, &lines, hear_stored, &to_parent, &counts, &error) != BF_STORE_OK)
        _exit(1);
    bf_store_close(store);
}

static void forget_all(void) {
    unlink(at("j.db"));
    unlink(at("j.db-wal"));
    unlink(at("j.db-shm"));
}

static void a_kill_while_importing_loses_nothing_acknowledged(void **state) {
    (void)state;
    int n_finished = 0, n_cut_short = 0, n_between = 0, nowhere = open("/dev/null", O_WRONLY);
    bfi_batch_lines = BATCH;
    double started = now_ms();
    import_all(1, nowhere);
    double most_ms = 1.6 * (now_ms() - started);
    close(nowhere);
    assert_int_equal(look(N_IMPORTED), N_IMPORTED);
    forget_all();
    for (int i = 0; i < n_kills(); i++) {
        int last = killed_at_work(import_all, 1, most_ms);
        int n = look(last);
        assert_int_equal(n % BATCH, 0); /* whole batches */
        n_finished += n == N_IMPORTED;
        n_between += n > 0 && n < N_IMPORTED;
        n_cut_short += n < N_IMPORTED;
        if (n == N_IMPORTED) forget_all();
    }
    assert_true(n_cut_short > 0 && n_finished > 0);
    print_message("%d kills: %d imports finished, %d cut short, %d of them between batches\n", n_kills(),
                  n_finished, n_cut_short, n_between);
}

int main(void) {
#define TEST(name) cmocka_unit_test_setup_teardown(name, make_folder, drop_folder)
    const struct CMUnitTest tests[] = {
        TEST(a_kill_while_adding_loses_nothing_acknowledged),
        TEST(a_kill_while_importing_loses_nothing_acknowledged),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
