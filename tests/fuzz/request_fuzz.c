/* request_fuzz.c -- any bytes as a request, its first byte the command: an answer or an error, always JSON that reads. */
#include <stdlib.h>
#include <string.h>

#include "answer_fuzz.h"
#include "fuzz.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    static const char *const commands[] = {"fall",   "pot",       "soak", "throw",
                                           "spread", "catalogue", "form", "measure"};
    if (size)
        answer_any(commands[data[0] % (sizeof commands / sizeof commands[0])], (const char *)data + 1,
                   size - 1);
    return 0;
}
