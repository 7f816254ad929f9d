/* logbook.h -- what the tests of the store share: a folder of their own, lines, stores opened and read. */
#ifndef BAITFALL_TESTS_LOGBOOK_H
#define BAITFALL_TESTS_LOGBOOK_H

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include "baitfall/store.h"
#include "common/check.h"
#include "folder.h"
#include "logbook/parts.h"

/* ---- Lines ---- */

#define SESSION "00000000000000000000000000000001"

/* The k-th line of one session: an open, then misses a minute apart. The id is k. */
static inline const char *line_of(int k) {
    static char line[4][512];
    static int next;
    char *mine = line[next++ % 4];
    if (k == 1)
        snprintf(
            mine, 512,
            "{\"v\":1,\"id\":\"" SESSION "\",\"session\":\"" SESSION
            "\",\"dev\":\"0000000a\",\"run\":\"0000000b\",\"seq\":1,\"kind\":\"open\","
            "\"at\":\"2026-04-12T09:00:00.000+01:00\",\"pm_s\":5,\"rec\":\"2026-04-12T09:00:00.000+01:00\","
            "\"body\":{\"venue\":\"Withy Pool (invented)\",\"peg\":\"14\"}}");
    else
        snprintf(mine, 512,
                 "{\"v\":1,\"id\":\"%032x\",\"session\":\"" SESSION
                 "\",\"dev\":\"0000000a\",\"run\":\"0000000b\",\"seq\":%d,\"kind\":\"lift\","
                 "\"at\":\"2026-04-12T%02d:%02d:00.000+01:00\",\"pm_s\":5,\"rec\":\"2026-04-12T%02d:%02d:00."
                 "000+01:00\","
                 "\"body\":{\"spot\":\"long\",\"outcome\":\"missed\"}}",
                 (unsigned int)k, k, 9 + k / 60 % 14, k % 60, 9 + k / 60 % 14, k % 60);
    return mine;
}

/* ---- Stores ---- */

static inline bf_store *opened(const char *path) {
    bf_store *store;
    bf_store_error error;
    bf_store_what what = bf_store_open(path, BF_STORE_TO_MAKE, &store, &error);
    if (what != BF_STORE_OK) print_error("%s\n", error.sentence);
    assert_int_equal(what, BF_STORE_OK);
    return store;
}

static inline bf_taken added(bf_store *store, const char *line) {
    bf_taken taken;
    bf_store_error error;
    bf_store_what what = bf_store_add(store, line, strlen(line), &taken, &error);
    if (what != BF_STORE_OK) print_error("%s\n", error.sentence);
    assert_int_equal(what, BF_STORE_OK);
    return taken;
}

static inline long long count_of(bf_store *store) {
    long long n;
    bf_store_error error;
    assert_int_equal(bf_store_count(store, &n, &error), BF_STORE_OK);
    return n;
}

/* The hash of the state of everything in it. */
static inline uint64_t state_of(bf_store *store) {
    bf_journal *journal;
    bf_store_error error;
    assert_int_equal(bf_store_load(store, NULL, &journal, &error), BF_STORE_OK);
    uint64_t hash = bf_journal_fold(journal)->hash;
    free(journal);
    return hash;
}

static inline void print_finding(void *to, const char *sentence) {
    (void)to;
    print_message("%s\n", sentence);
}

static inline bf_store_state checked(bf_store *store) {
    bf_store_state state;
    bf_store_error error;
    bf_store_what what = bf_store_check(store, print_finding, NULL, &state, &error);
    if (what != BF_STORE_OK) print_error("%s\n", error.sentence);
    assert_int_equal(what, BF_STORE_OK);
    return state;
}

static inline void is_whole(bf_store *store) {
    bf_store_state state = checked(store);
    assert_int_equal(state.database, 0);
    assert_int_equal(state.damaged, 0);
    assert_int_equal(state.derived, 0);
}

/* ---- Sources and sinks in memory ---- */

typedef struct text_source {
    const char *text;
    size_t n, at, most_at_once; /* 0: as much as is asked for */
} text_source;

static inline long read_text(void *from, char *bytes, size_t most) {
    text_source *t = from;
    size_t n = t->n - t->at < most ? t->n - t->at : most;
    if (t->most_at_once && n > t->most_at_once) n = t->most_at_once;
    memcpy(bytes, t->text + t->at, n);
    t->at += n;
    return (long)n;
}

typedef struct text_sink {
    char *text;
    size_t n, room;
} text_sink;

static inline int write_text(void *to, const char *bytes, size_t n) {
    text_sink *t = to;
    if (t->n + n + 1 > t->room) t->text = realloc(t->text, t->room = 2 * (t->n + n) + 4096);
    memcpy(t->text + t->n, bytes, n);
    t->n += n;
    t->text[t->n] = 0;
    return 0;
}

static inline bf_import imported(bf_store *store, const char *text, size_t n, bf_told told, void *to) {
    text_source source = {.text = text, .n = n};
    bf_import counts;
    bf_store_error error;
    bf_store_what what = bf_store_import(store, read_text, &source, told, to, &counts, &error);
    if (what != BF_STORE_OK) print_error("%s\n", error.sentence);
    assert_int_equal(what, BF_STORE_OK);
    assert_int_equal(counts.fresh + counts.known + counts.clashes + counts.refused, counts.lines);
    return counts;
}

/* The caller frees the text. */
static inline text_sink exported(bf_store *store, bf_export_form form) {
    text_sink sink = {0};
    long long n;
    bf_store_error error;
    bf_store_what what = bf_store_export(store, NULL, form, write_text, &sink, &n, &error);
    if (what != BF_STORE_OK) print_error("%s\n", error.sentence);
    assert_int_equal(what, BF_STORE_OK);
    return sink;
}

/* A whole file; the caller frees it. */
static inline char *bytes_of(const char *path, size_t *n) {
    char *bytes;
    assert_int_equal(bf_file_read(path, (size_t)1 << 30, &bytes, n), BF_FILE_OK);
    return bytes;
}

#endif
