/* plan_fuzz.c -- any bytes as a plan: an answer or an error, always JSON that reads. */
#include <stdlib.h>
#include <string.h>

#include "answer_fuzz.h"
#include "fuzz.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    static void *work;
    answer_any("plan", &work, (const char *)data, size);
    return 0;
}
