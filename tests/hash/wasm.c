/* The hash program as a wasm module that imports nothing: the caller writes command and request at hash_in_at(). */
#include <string.h>

#include "tests/hash/kernel.h"

#define EXPORT(name) __attribute__((export_name(#name))) extern

static char in[8192];

EXPORT(hash_in_at) char *hash_in_at(void);
EXPORT(hash_kernel) uint64_t hash_kernel(void);
EXPORT(hash_request) uint64_t hash_request(uint64_t hash, size_t n_command, size_t n_json);

char *hash_in_at(void) {
    return in;
}

uint64_t hash_kernel(void) {
    return bf_kernel_hash(BF_HASH_START);
}

uint64_t hash_request(uint64_t hash, size_t n_command, size_t n_json) {
    char command[64];
    if (n_command >= sizeof command || n_command + n_json > sizeof in) __builtin_trap();
    memcpy(command, in, n_command);
    command[n_command] = 0;
    return bf_request_hash(hash, command, in + n_command, n_json);
}
