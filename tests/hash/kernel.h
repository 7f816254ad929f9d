/* kernel.h -- what the hash program shares with its wasm form. */
#ifndef BAITFALL_TESTS_HASH_KERNEL_H
#define BAITFALL_TESTS_HASH_KERNEL_H

#include <stddef.h>
#include <stdint.h>

#define BF_HASH_START 0xcbf29ce484222325u

/* FNV-1a, 64 bits. */
uint64_t bf_hash_bytes(uint64_t hash, const void *bytes, size_t n);

/* The elementary functions, the fall, wait curves and Cox fits over wide ranges of arguments, folded into a
 * hash. */
uint64_t bf_kernel_hash(uint64_t hash);

/* The status and the answer's bytes of one request, folded into a hash. The request is answered in one call
 * and again cut in 1, 2 and 8 ranges; 0 when a cut changes a byte.
 *
 * Command "take": json is a line for the one journal there is; the hash takes in that of its state. Command
 * "ask log": the answer to the question "log" about the lines taken so far, in one call. */
uint64_t bf_request_hash(uint64_t hash, const char *command, const char *json, size_t n_json);

#endif
