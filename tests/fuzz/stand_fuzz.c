/* stand_fuzz.c -- any bytes as a request for rig, lay, aim or peg, its first byte which: an answer or an error, always JSON that
 * reads. */
#include <stdlib.h>
#include <string.h>

#include "answer_fuzz.h"
#include "fuzz.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    static const char *const commands[] = {"rig", "lay", "aim", "peg"};
    enum { N_COMMANDS = sizeof commands / sizeof commands[0] };
    static void *work[N_COMMANDS];
    if (!size) return 0;
    int i = data[0] % N_COMMANDS;
    answer_any(commands[i], &work[i], (const char *)data + 1, size - 1);
    return 0;
}
