/* mix.h -- a 64-bit hash of words and bytes: for telling states and lines apart, not against forgery. */
#ifndef BFI_MIX_H
#define BFI_MIX_H

#include <stddef.h>
#include <stdint.h>

/* Takes one word into a hash. The multiplier is 2^64 over the golden ratio, odd: it spreads low bits upwards;
 * the shift brings them back down. */
static inline uint64_t bfi_mix(uint64_t hash, uint64_t word) {
    hash = (hash ^ word) * 0x9E3779B97F4A7C15u;
    return hash ^ hash >> 29;
}

/* Bytes, least first, eight at a time; the length last. */
static inline uint64_t bfi_mix_bytes(uint64_t hash, const char *text, size_t n) {
    size_t i = 0;
    for (; i + 8 <= n; i += 8) {
        uint64_t word = 0;
        for (size_t k = 0; k < 8; k++) word |= (uint64_t)(unsigned char)text[i + k] << 8 * k;
        hash = bfi_mix(hash, word);
    }
    uint64_t rest = 0;
    for (size_t k = 0; i + k < n; k++) rest |= (uint64_t)(unsigned char)text[i + k] << 8 * k;
    return bfi_mix(bfi_mix(hash, rest), n);
}

#endif
