/* random.c -- Philox4x32-10 and the numbers made from it. */
#include "baitfall/random.h"

#include "baitfall/special.h"

/* The round multipliers and the key increments (Weyl constants) of the paper, table 2 and section 3.3. */
#define MULTIPLIER_0 UINT64_C(0xD2511F53)
#define MULTIPLIER_1 UINT64_C(0xCD9E8D57)
#define WEYL_0 UINT32_C(0x9E3779B9)
#define WEYL_1 UINT32_C(0xBB67AE85)

/* Round number n, with the key as it stands after n increments. */
static inline bf_philox_block philox_round(bf_philox_block in, uint64_t key, uint32_t n) {
    uint64_t p0 = MULTIPLIER_0 * in.word[0];
    uint64_t p1 = MULTIPLIER_1 * in.word[2];
    uint32_t key_0 = (uint32_t)key + n * WEYL_0;
    uint32_t key_1 = (uint32_t)(key >> 32) + n * WEYL_1;

    bf_philox_block out = {{(uint32_t)(p1 >> 32) ^ in.word[1] ^ key_0, (uint32_t)p1,
                            (uint32_t)(p0 >> 32) ^ in.word[3] ^ key_1, (uint32_t)p0}};
    return out;
}

/* The rounds stand one by one because gcc 12 at -O2 is a third slower on a loop. */
bf_philox_block bf_philox(uint64_t key, uint64_t stream, uint64_t index) {
    bf_philox_block b = {
        {(uint32_t)index, (uint32_t)(index >> 32), (uint32_t)stream, (uint32_t)(stream >> 32)}};

    b = philox_round(b, key, 0);
    b = philox_round(b, key, 1);
    b = philox_round(b, key, 2);
    b = philox_round(b, key, 3);
    b = philox_round(b, key, 4);
    b = philox_round(b, key, 5);
    b = philox_round(b, key, 6);
    b = philox_round(b, key, 7);
    b = philox_round(b, key, 8);
    return philox_round(b, key, 9);
}

/* 52 bits and a half: k + 1/2 fits a double exactly, with 53 bits the largest k would round up to 1. */
static double uniform_of(uint32_t high, uint32_t low) {
    uint64_t k = ((uint64_t)high << 32 | low) >> 12;
    return ((double)k + 0.5) * 0x1p-52;
}

double bf_uniform(uint64_t seed, uint64_t stream, uint64_t index) {
    bf_philox_block b = bf_philox(seed, stream, index);
    return uniform_of(b.word[1], b.word[0]);
}

void bf_uniform2(uint64_t seed, uint64_t stream, uint64_t index, double out[2]) {
    bf_philox_block b = bf_philox(seed, stream, index);
    out[0] = uniform_of(b.word[1], b.word[0]);
    out[1] = uniform_of(b.word[3], b.word[2]);
}

double bf_normal(uint64_t seed, uint64_t stream, uint64_t index) {
    return bf_normal_quantile(bf_uniform(seed, stream, index));
}
