/* logbook_bench.c -- the journal's database: a large import, the same again, an export, single entries with and without the sync.
 *
 *     logbook_bench LINES FOLDER [ADDS]      CSV on stdout: scenario,n,seconds
 *     logbook_bench make N                   N lines of invented days on stdout, for the above
 *
 * Without the sync is no mode of the program: a crash of the machine could lose entries. It is here to say what the promise costs. */
#define _POSIX_C_SOURCE 200809L

#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include "invented.h"
#include "logbook/parts.h"

static double now_s(void) {
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + (double)now.tv_nsec * 1e-9;
}

static void must(bf_store_what what, const bf_store_error *error) {
    if (what == BF_STORE_OK) return;
    fprintf(stderr, "logbook_bench: %s\n", error->sentence);
    exit(1);
}

static void row(const char *scenario, long long n, double seconds) {
    printf("%s,%lld,%.6f\n", scenario, n, seconds);
    fflush(stdout);
}

static bf_store *open_at(const char *folder, const char *name) {
    char path[BF_PATH_MOST];
    bf_store *store;
    bf_store_error error;
    snprintf(path, sizeof path, "%s/%s", folder, name);
    must(bf_store_open(path, BF_STORE_TO_MAKE, &store, &error), &error);
    return store;
}

/* ---- Large ---- */

static long read_some(void *from, char *bytes, size_t most) {
    return (long)read(*(const int *)from, bytes, most);
}

static void import(bf_store *store, const char *lines, const char *scenario) {
    bf_import counts;
    bf_store_error error;
    int fd = open(lines, O_RDONLY);
    double start = now_s();
    must(bf_store_import(store, read_some, &fd, NULL, NULL, &counts, &error), &error);
    row(scenario, counts.lines, now_s() - start);
    close(fd);
}

static int write_nowhere(void *to, const char *bytes, size_t n) {
    (void)bytes;
    *(size_t *)to += n;
    return 0;
}

static void large(const char *lines, const char *folder) {
    bf_store *store = open_at(folder, "large.db");
    bf_store_error error;
    long long n;
    size_t bytes = 0;
    import(store, lines, "import");
    import(store, lines, "import_again");
    double start = now_s();
    must(bf_store_export(store, NULL, BF_EXPORT_LINES, write_nowhere, &bytes, &n, &error), &error);
    row("export", n, now_s() - start);
    start = now_s();
    must(bf_store_next_seq(store, &n, &error), &error); /* the first reading makes every session's rows */
    row("derive", n, now_s() - start);
    bf_store_close(store);
}

/* ---- One at a time ---- */

typedef struct adding {
    bf_store *store;
    int n, most;
} adding;

static void add_line(void *with, const char *line, size_t n) {
    adding *a = with;
    bf_taken taken;
    bf_store_error error;
    if (a->n >= a->most) return;
    must(bf_store_add(a->store, line, n, &taken, &error), &error);
    a->n++;
}

static void add(const char *folder, const char *name, const char *scenario, const char *pragma, int most) {
    adding a = {open_at(folder, name), 0, most};
    if (sqlite3_exec(a.store->db, pragma, NULL, NULL, NULL) != SQLITE_OK) exit(1);
    double start = now_s();
    for (int number = 0; a.n < most; number++) {
        invented_day day = invented_start(2, number);
        invented_write(&day, add_line, &a, NULL);
    }
    row(scenario, a.n, now_s() - start);
    bf_store_close(a.store);
}

/* ---- Lines ---- */

static void print_line(void *with, const char *line, size_t n) {
    long *left = with;
    if (*left <= 0) return;
    fwrite(line, 1, n, stdout);
    putchar('\n');
    --*left;
}

int main(int argc, char **argv) {
    if (argc == 3 && strcmp(argv[1], "make") == 0) {
        long left = atol(argv[2]);
        for (int number = 0; left > 0; number++) {
            invented_day day = invented_start(1, number);
            invented_write(&day, print_line, &left, NULL);
        }
        return 0;
    }
    if (argc < 3) return fprintf(stderr, "logbook_bench: LINES FOLDER [ADDS], or make N\n"), 2;
    int adds = argc > 3 ? atoi(argv[3]) : 500;
    puts("scenario,n,seconds");
    large(argv[1], argv[2]);
    add(argv[2], "synced.db", "add", "PRAGMA synchronous=FULL", adds);
    add(argv[2], "unsynced.db", "add_unsynced", "PRAGMA synchronous=OFF", adds);
    return 0;
}
