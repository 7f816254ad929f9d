/* answer.c -- the module of the evening before: commands that need no record (answer.h). It holds no state between
 * questions. */
#include "baitfall/answer.h"

#include "wasm/area.h"

#define STATE_MOST (6u << 20)
#define ROWS_MOST (8u << 20)

static _Alignas(16) unsigned char state[STATE_MOST];
static double rows[ROWS_MOST / sizeof(double)];

EXPORT(answer) int answer(size_t n_command, size_t n_json);

/* Answers the command and request at in_at(). Returns the status of the answer, 0 when fine (status.h); the text at out_at() says
 * it either way. */
int answer(size_t n_command, size_t n_json) {
    const char *command = area_name(n_command, n_json);
    if (bf_state_bytes(command) > STATE_MOST) __builtin_trap();
    return (int)bf_answer_within(state, rows, ROWS_MOST / sizeof(double), command, area.in + n_command,
                                 n_json, area.out, OUT_MOST, &area.n_out);
}
