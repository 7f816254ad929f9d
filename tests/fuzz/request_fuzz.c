/* request_fuzz.c -- any bytes as a request, its first byte the command: an answer or an error, always JSON that reads. */
#include <stdlib.h>
#include <string.h>

#include "answer_fuzz.h"
#include "fuzz.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    static const char *const commands[] = {"fall",   "pot",       "soak", "throw",
                                           "spread", "catalogue", "form", "measure"};
    enum { N_COMMANDS = sizeof commands / sizeof commands[0] };
    static void *work[N_COMMANDS];
    if (!size) return 0;
    int i = data[0] % N_COMMANDS;
    answer_any(commands[i], &work[i], (const char *)data + 1, size - 1);
    return 0;
}
