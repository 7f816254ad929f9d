/* exports.c -- everything a page sees of the core: three areas of memory and one question.
 *
 * The page writes the command and behind it the request, both UTF-8, at in_at() (together at most in_most() bytes), calls
 * answer() and reads the JSON at out_at(). The module imports nothing and holds no state between questions. */
#include <stdint.h>
#include <string.h>

#include "baitfall/answer.h"
#include "baitfall/json.h"

#define EXPORT(name) __attribute__((export_name(#name))) extern

#define COMMAND_MOST 32
#define IN_MOST                                                                                              \
    (COMMAND_MOST + BF_JSON_BYTES_MOST + 1) /* one more than accepted, so that too long is said, not cut */
#define OUT_MOST (4u << 20)
#define STATE_MOST (6u << 20)
#define ROWS_MOST (8u << 20)

static char in[IN_MOST];
static char out[OUT_MOST];
static _Alignas(16) unsigned char state[STATE_MOST];
static double rows[ROWS_MOST / sizeof(double)];
static size_t n_out;

EXPORT(in_at) char *in_at(void);
EXPORT(in_most) size_t in_most(void);
EXPORT(out_at) char *out_at(void);
EXPORT(out_n) size_t out_n(void);
EXPORT(answer) int answer(size_t n_command, size_t n_json);

char *in_at(void) {
    return in;
}

size_t in_most(void) {
    return IN_MOST;
}

char *out_at(void) {
    return out;
}

/* Bytes of the last answer. */
size_t out_n(void) {
    return n_out;
}

/* The status of the answer, 0 when fine (status.h); the text at out_at() says it either way. */
int answer(size_t n_command, size_t n_json) {
    char command[COMMAND_MOST + 1];
    if (n_command > COMMAND_MOST || n_json > IN_MOST - n_command) __builtin_trap();
    memcpy(command, in, n_command);
    command[n_command] = 0;
    if (bf_state_bytes(command) > STATE_MOST) __builtin_trap();
    return (int)bf_answer_within(state, rows, ROWS_MOST / sizeof(double), command, in + n_command, n_json,
                                 out, OUT_MOST, &n_out);
}
