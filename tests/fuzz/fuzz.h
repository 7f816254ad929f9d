/* fuzz.h -- what every fuzz target offers: libFuzzer calls it with bytes of its own, replay.c with those of the corpus. */
#ifndef BAITFALL_TESTS_FUZZ_H
#define BAITFALL_TESTS_FUZZ_H

#include <stddef.h>
#include <stdint.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

#endif
