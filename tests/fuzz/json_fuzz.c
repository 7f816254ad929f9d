/* json_fuzz.c -- any bytes as JSON: tokens stay inside the text, walking them ends, and writing them again reads back. */
#include <stdlib.h>
#include <string.h>

#include "baitfall/json.h"
#include "baitfall/number.h"
#include "fuzz.h"

#define MOST_TOKENS 4096

/* Every value below one, each once: returns how many tokens were met. */
static int walk(const bf_json *json, int value) {
    char text[64];
    size_t n;
    int met = 1;
    const char *raw = bf_json_raw(json, value, &n);
    BF_ASSERT(raw >= json->text && raw + n <= json->text + json->n);
    bf_json_path(json, value, text, sizeof text);
    BF_ASSERT(strlen(text) < sizeof text);
    if (bf_json_kind_of(json, value) == BF_JSON_STRING) {
        bf_status status = bf_json_string(json, value, text, sizeof text);
        BF_ASSERT(strlen(text) < sizeof text);
        BF_ASSERT(status || bf_json_is(json, value, text));
    }
    int is_object = bf_json_kind_of(json, value) == BF_JSON_OBJECT;
    for (int i = bf_json_first(json, value); i >= 0; i = bf_json_next(json, i)) {
        met += is_object ? 1 + walk(json, i + 1) : walk(json, i);
        if (is_object && !bf_json_string(json, i, text, sizeof text))
            BF_ASSERT(bf_json_find(json, value, text) == i + 1);
    }
    return met;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    bf_json json;
    bf_json_fault fault;
    void *memory = malloc(bf_json_bytes(MOST_TOKENS));
    if (!memory) return 0;
    bf_status status = bf_json_read((const char *)data, size, memory, MOST_TOKENS, &json, &fault);
    BF_ASSERT(status == fault.status && fault.at <= size);
    BF_ASSERT(!status || fault.wanted[0]);
    if (!status) BF_ASSERT(walk(&json, 0) == json.n_tokens);
    free(memory);
    return 0;
}
