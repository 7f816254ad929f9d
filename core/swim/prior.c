/* prior.c -- what is believed of the learned parameters before a session, and a bank of sets drawn from it. */
#include "baitfall/elementary.h"
#include "baitfall/quantity.h"
#include "baitfall/random.h"
#include "baitfall/special.h"
#include "baitfall/swim.h"

#define LEVEL_OF(letter) LEVEL_##letter
enum { LEVEL_V = 'V', LEVEL_A = 'A', LEVEL_D = 'D' };

const bf_swim_named bf_swim_parameters[BF_SWIM_N_PARAMETERS] = {
#define NAMED(name, unit, middle, spread, level, why) {#name, unit, why, middle, spread, LEVEL_OF(level)},
    BF_SWIM_PARAMETER_LIST(NAMED)
#undef NAMED
};

bf_swim_prior bf_swim_book(void) {
    bf_swim_prior book = {.n_sessions = 0};
    for (int i = 0; i < BF_SWIM_N_PARAMETERS; i++) {
        book.mean[i] = bf_log(bf_swim_parameters[i].middle);
        book.sd[i] = bf_log(bf_swim_parameters[i].spread) / BF_PM_PER_SD;
    }
    return book;
}

/* Streams of the bank, apart from those of particles. */
#define STREAM_SHUFFLE UINT64_C(0x5e75000000000000)
#define STREAM_WITHIN UINT64_C(0x5e75100000000000)

/* Where i of n goes in a shuffle of its own for each key: a one-to-one mixing of the next power of two, walked on until
 * it falls below n (cycle walking). */
static uint32_t shuffled(uint32_t i, uint32_t n, bf_philox_block key) {
    int bits = 1;
    while (bits < 31 && (UINT32_C(1) << bits) < n) bits++;
    uint32_t mask = (UINT32_C(1) << bits) - 1;
    int half = (bits + 1) / 2;
    do {
        for (int round = 0; round < 4; round++) {
            i = (i * (key.word[round] | 1) + (key.word[(round + 1) % 4] >> 7)) & mask;
            i ^= i >> half;
        }
    } while (i >= n);
    return i;
}

bf_swim_set bf_swim_drawn_set(const bf_swim_prior *prior, uint64_t seed, int i, int n) {
    bf_swim_set set;
    for (int j = 0; j < BF_SWIM_N_PARAMETERS; j++) {
        bf_philox_block key = bf_philox(seed, STREAM_SHUFFLE, (uint64_t)j);
        double within = bf_uniform(seed, STREAM_WITHIN + (uint64_t)j, (uint64_t)i);
        double u = (shuffled((uint32_t)i, (uint32_t)n, key) + within) / n;
        set.of[j] = bf_exp(prior->mean[j] + prior->sd[j] * bf_normal_quantile(u));
    }
    return set;
}
