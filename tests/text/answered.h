/* answered.h -- a command asked by bf_begin, bf_next, bf_range_rows and bf_finish, and its answer read as JSON, for the tests of rig,
 * lay, aim, plan and peg. Test code only. */
#ifndef BAITFALL_TESTS_ANSWERED_H
#define BAITFALL_TESTS_ANSWERED_H

#include "baitfall/answer.h"
#include "baitfall/json.h"
#include "common/check.h"

#define ANSWERED_BYTES (4u << 20)
#define ANSWERED_TOKENS 131072

typedef struct answered {
    bf_status status;
    char *text;
    size_t n;
    void *tokens;
    bf_json json;
} answered;

/* With the rows cut into runs of at most `run` items. */
static inline answered answered_cut(const char *command, const char *request, int run) {
    answered a = {BF_OK, malloc(ANSWERED_BYTES), 0, malloc(bf_json_bytes(ANSWERED_TOKENS)), {0}};
    bf_json_fault fault;
    int n_items, n_columns;
    double *rows = NULL;
    void *work = aligned_alloc(16, (bf_state_bytes(command) + 15) / 16 * 16);
    memset(work, 0xA5, bf_state_bytes(command)); // it need not be cleared
    bf_status begun = bf_begin(work, command, request, strlen(request), &n_items, &n_columns);
    if (n_items > 0) {
        void *scratch = aligned_alloc(16, (bf_scratch_bytes(work) + 15) / 16 * 16);
        rows = malloc((size_t)n_items * (size_t)n_columns * sizeof(double));
        for (int i = 0, next = 0; i < n_items;) {
            if (i == next) next = bf_next(work, rows, i);
            int j = i + run < next ? i + run : next;
            memset(scratch, 0xA5, bf_scratch_bytes(work));
            assert_int_equal(bf_range_rows(work, scratch, i, j, rows + (size_t)i * (size_t)n_columns), BF_OK);
            i = j;
        }
        free(scratch);
    }
    a.status = bf_finish(work, rows, a.text, ANSWERED_BYTES, &a.n);
    assert_true(begun == BF_OK || a.status != BF_OK);
    free(rows);
    free(work);
    assert_int_equal(bf_json_read(a.text, a.n, a.tokens, ANSWERED_TOKENS, &a.json, &fault), BF_OK);
    return a;
}

static inline answered answered_ask(const char *command, const char *request) {
    answered a = answered_cut(command, request, 1 << 20);
    if (a.status) print_error("%s\n", a.text);
    assert_int_equal(a.status, BF_OK);
    return a;
}

static inline void answered_free(answered *a) {
    free(a->text);
    free(a->tokens);
}

/* The value at a path such as "spots[1].rig.off_m.mid"; -1: nothing there. */
static inline int answered_at(const answered *a, const char *path) {
    int value = 0;
    while (value >= 0 && *path) {
        char key[64];
        if (*path == '.') path++;
        if (*path == '[') {
            int row = atoi(path + 1);
            value = bf_json_kind_of(&a->json, value) == BF_JSON_ARRAY ? bf_json_first(&a->json, value) : -1;
            while (value >= 0 && row-- > 0) value = bf_json_next(&a->json, value);
            path += strcspn(path, "]") + 1;
            continue;
        }
        size_t n = strcspn(path, ".[");
        assert_true(n < sizeof key);
        memcpy(key, path, n);
        key[n] = 0;
        value = bf_json_kind_of(&a->json, value) == BF_JSON_OBJECT ? bf_json_find(&a->json, value, key) : -1;
        path += n;
    }
    return value;
}

static inline int answered_has(const answered *a, const char *path) {
    int value = answered_at(a, path);
    return value >= 0 && bf_json_kind_of(&a->json, value) != BF_JSON_NULL;
}

/* NaN for null. */
static inline double answered_number(const answered *a, const char *path) {
    double number = NAN;
    int value = answered_at(a, path);
    if (value < 0) fail_msg("no %s in the answer", path);
    if (bf_json_kind_of(&a->json, value) != BF_JSON_NULL)
        assert_int_equal(bf_json_number(&a->json, value, &number), BF_OK);
    return number;
}

static inline const char *answered_text(const answered *a, const char *path) {
    static char text[4][2048];
    static int next;
    int value = answered_at(a, path);
    if (value < 0 || bf_json_kind_of(&a->json, value) != BF_JSON_STRING) fail_msg("no text %s", path);
    char *to = text[next++ % 4];
    bf_status status = bf_json_string(&a->json, value, to, sizeof text[0]);
    assert_true(status == BF_OK || status == BF_E_SPACE);
    return to;
}

static inline int answered_count(const answered *a, const char *path) {
    int n = 0, value = answered_at(a, path);
    if (value < 0) fail_msg("no %s in the answer", path);
    for (int i = bf_json_first(&a->json, value); i >= 0; i = bf_json_next(&a->json, i)) n++;
    return n;
}

/* 1 when a note of that code is in the notes at a path. */
static inline int answered_has_note(const answered *a, const char *notes, const char *code) {
    int value = answered_at(a, notes);
    for (int i = value < 0 ? -1 : bf_json_first(&a->json, value); i >= 0; i = bf_json_next(&a->json, i))
        if (bf_json_is(&a->json, bf_json_find(&a->json, i, "code"), code)) return 1;
    return 0;
}

/* 1 when a row of the table at a path begins with this cell. */
static inline int answered_has_cell(const answered *a, const char *table, const char *cell) {
    int value = answered_at(a, table);
    for (int i = value < 0 ? -1 : bf_json_first(&a->json, value); i >= 0; i = bf_json_next(&a->json, i))
        if (bf_json_is(&a->json, bf_json_first(&a->json, i), cell)) return 1;
    return 0;
}

static inline void answered_same(const answered *a, const answered *b, const char *path) {
    size_t n_a, n_b;
    int at_a = answered_at(a, path), at_b = answered_at(b, path);
    if (at_a < 0 || at_b < 0) fail_msg("no %s in the answer", path);
    const char *in_a = bf_json_raw(&a->json, at_a, &n_a), *in_b = bf_json_raw(&b->json, at_b, &n_b);
    if (n_a != n_b || memcmp(in_a, in_b, n_a) != 0)
        fail_msg("%s differs:\n%.*s\n%.*s", path, (int)n_a, in_a, (int)n_b, in_b);
}

/* The request is refused, about this field, with a sentence that begins so. */
static inline void answered_refused(const char *command, const char *request, const char *field,
                                    const char *begins) {
    answered a = answered_cut(command, request, 1 << 20);
    if (!answered_has(&a, "error")) fail_msg("%s %s was answered", command, request);
    const char *text = answered_text(&a, "error.text");
    if (strcmp(answered_text(&a, "error.field"), field) != 0 || strncmp(text, begins, strlen(begins)) != 0)
        fail_msg("%s\nwanted %s: %s\ngot    %s", request, field, begins, text);
    assert_true(a.status != BF_OK);
    answered_free(&a);
}

#endif
