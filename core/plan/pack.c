/* pack.c -- spares by the chance of losing some; see baitfall/pack.h. */
#include "baitfall/pack.h"

#include "baitfall/special.h"
#include "baitfall/status.h"

static const struct {
    const char *word;
    double lost_per_h;
    const char *loss;
} packs[BF_N_PACKS] = {
#define BF_PACK_ROW(name, word, rate, sentence) {word, rate, sentence},
    BF_PACK_LIST(BF_PACK_ROW)
#undef BF_PACK_ROW
};

const char *bf_pack_word(bf_pack_kind kind) {
    return packs[kind].word;
}

const char *bf_pack_loss(bf_pack_kind kind) {
    return packs[kind].loss;
}

double bf_pack_lost_per_h(bf_pack_kind kind) {
    return packs[kind].lost_per_h;
}

int bf_pack_spares(double lost_per_h, double hours, double risk) {
    double expected = lost_per_h * hours;
    BF_ASSERT(lost_per_h >= 0 && lost_per_h <= 10 && hours >= 0 && hours <= 24 && risk >= 1e-6 && risk <= 1);
    int n = 0;
    if (expected == 0) return n;
    while (bf_gamma_p(n + 1, expected) > risk) n++;
    return n;
}
