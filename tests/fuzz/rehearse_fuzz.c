/* rehearse_fuzz.c -- any bytes as the file of a rehearsal: a day or an error, always JSON that reads, and the same bytes again. */
#include <stdlib.h>
#include <string.h>

#include "baitfall/journal.h"
#include "fuzz.h"

#define ANSWER_MOST (4u << 20)

static void *block(size_t bytes) {
    void *memory = aligned_alloc(16, (bytes + 15) / 16 * 16);
    BF_ASSERT(memory);
    memset(memory, 0xA5, bytes);
    return memory;
}

static bf_status ask(bf_journal *journal, const char *request, size_t size, char *out, size_t *n) {
    void *work = block(bf_ask_bytes(journal, "rehearse"));
    bf_status status = bf_ask(journal, work, "rehearse", request, size, out, ANSWER_MOST, n);
    free(work);
    return status;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    static void *memory, *tokens;
    static char *out[2];
    static size_t n[2];
    bf_json json;
    bf_json_fault fault;
    if (!memory) memory = block(bf_journal_bytes(1, 1));
    if (!tokens) tokens = block(bf_json_bytes(ANSWER_MOST / 8));
    bf_journal *journal = bf_journal_start(memory, 1, 1);
    char *request = block(size ? size : 1);
    memcpy(request, data, size);
    bf_status status[2];
    for (int i = 0; i < 2; i++) {
        if (!out[i]) out[i] = block(ANSWER_MOST);
        status[i] = ask(journal, request, size, out[i], &n[i]);
    }
    free(request);
    BF_ASSERT(status[0] == status[1] && n[0] == n[1] && memcmp(out[0], out[1], n[0]) == 0);
    BF_ASSERT(bf_json_read(out[0], n[0], tokens, ANSWER_MOST / 8, &json, &fault) == BF_OK);
    BF_ASSERT((bf_json_find(&json, 0, "error") >= 0) == (status[0] != BF_OK));
    return 0;
}
