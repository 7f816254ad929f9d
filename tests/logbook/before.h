/* before.h -- a journal as it was before something happened to it, and what must hold of it afterwards. Test code only; behind
 * logbook.h. */
#ifndef BAITFALL_TESTS_BEFORE_H
#define BAITFALL_TESTS_BEFORE_H

#include "logbook/logbook.h"

#define N_BEFORE 5

/* The database with the first n lines, as a file's bytes; made once for each n. */
static inline const char *base_of(int n_before, size_t *n) {
    static char *bytes;
    static size_t size;
    static int have;
    if (have != n_before) {
        bf_store *store = opened(at("base.db"));
        assert_int_equal(sqlite3_exec(store->db, "PRAGMA synchronous=OFF", NULL, NULL, NULL), SQLITE_OK);
        for (int k = 1; k <= n_before; k++) added(store, line_of(k));
        bf_store_close(store);
        free(bytes);
        bytes = bytes_of(at("base.db"), &size);
        unlink(at("base.db"));
        have = n_before;
    }
    *n = size;
    return bytes;
}

static inline void start_over(int n_before) {
    size_t n;
    unlink(at("j.db"));
    unlink(at("j.db-wal"));
    unlink(at("j.db-shm"));
    unlink(at("j.db-journal"));
    if (n_before == 0) return;
    const char *bytes = base_of(n_before, &n);
    FILE *file = fopen(at("j.db"), "wb");
    assert_int_equal(fwrite(bytes, 1, n, file), n);
    fclose(file);
}

/* Everything that was acknowledged is there, the rest whole or absent, and all of it can be added now. */
static inline void nothing_is_lost(int last, const int *acknowledged) {
    bf_store *store = opened(at("j.db"));
    is_whole(store);
    assert_int_equal(sqlite3_exec(store->db, "PRAGMA synchronous=OFF", NULL, NULL, NULL),
                     SQLITE_OK); /* only for speed */
    for (int k = 1; k <= last; k++) {
        bf_taken taken = added(store, line_of(k));
        assert_true(taken == BF_TAKEN_KNOWN || (taken == BF_TAKEN_NEW && !acknowledged[k]));
    }
    assert_int_equal(count_of(store), last);
    is_whole(store);
    bf_store_close(store);
}

#endif
