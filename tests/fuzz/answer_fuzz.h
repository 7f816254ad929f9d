/* answer_fuzz.h -- one request through begin, rows and finish, whatever it is. */
#ifndef BAITFALL_TESTS_ANSWER_FUZZ_H
#define BAITFALL_TESTS_ANSWER_FUZZ_H

#include <stdlib.h>
#include <string.h>

#include "baitfall/answer.h"
#include "baitfall/json.h"

#define ANSWER_MOST (4u << 20)
#define ROWS_MOST 8192 /* doubles: a request for more draws is read, but not computed */
#define ANSWER_TOKENS 65536

static inline void *block(size_t bytes) {
    void *memory = aligned_alloc(16, (bytes + 15) / 16 * 16);
    BF_ASSERT(memory);
    memset(memory, 0xA5, bytes);
    return memory;
}

/* What was answered must be JSON, and an error must carry its sentence. */
static inline void check_answer(bf_status status, const char *out, size_t n) {
    static void *tokens;
    bf_json json;
    bf_json_fault fault;
    if (!tokens) tokens = block(bf_json_bytes(ANSWER_TOKENS));
    bf_status read = bf_json_read(out, n, tokens, ANSWER_TOKENS, &json, &fault);
    BF_ASSERT(read == BF_OK);
    int error = bf_json_find(&json, 0, "error");
    BF_ASSERT((status != BF_OK) == (error >= 0));
    BF_ASSERT(error < 0 || bf_json_find(&json, error, "text") > 0);
}

/* work: where this command keeps its memory from one call to the next; *work starts as NULL. */
static inline void answer_any(const char *command, void **work, const char *json, size_t n) {
    static char *out;
    static double *rows;
    size_t n_out;
    if (!out) out = block(ANSWER_MOST);
    if (!rows) rows = block(ROWS_MOST * sizeof *rows);
    if (!*work) *work = block(bf_state_bytes(command));
    bf_status status = bf_answer_within(*work, rows, ROWS_MOST, command, json, n, out, ANSWER_MOST, &n_out);
    check_answer(status, out, n_out);
}

#endif
