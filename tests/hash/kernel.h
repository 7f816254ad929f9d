#ifndef BAITFALL_TESTS_HASH_KERNEL_H
#define BAITFALL_TESTS_HASH_KERNEL_H

#include <stdint.h>

#ifdef __wasm__
__attribute__((export_name("bf_kernel_hash")))
#endif
uint64_t
bf_kernel_hash(void);

#endif
