/* pack.h -- how many of each thing go into the bag, by the chance of losing some.
 *
 * Pure arithmetic. Tests: tests/plan/pack_test.c
 *
 * Losses are taken as a Poisson process: so many an hour on average, one loss saying nothing about the next. Then the
 * number lost in a session has P(N <= n) = Q(n + 1, rate x hours), Q the upper regularised gamma function.
 * The rates are judgement, no source: no count of lost tackle was found. An angler's own log will do better.
 */
#ifndef BAITFALL_PACK_H
#define BAITFALL_PACK_H

#ifdef __cplusplus
extern "C" {
#endif

/* X(name, word, lost an hour, sentence) */
#define BF_PACK_LIST(X)                                                                                      \
    X(BF_PACK_RIG, "rig", 0.10, "a rig lost to a snag or a tangle")                                          \
    X(BF_PACK_HOOKLENGTH, "hooklength", 0.40, "a hooklength cut, curled or broken")                          \
    X(BF_PACK_ELASTIC, "elastic", 0.02, "an elastic that snaps")                                             \
    X(BF_PACK_POT, "pot", 0.02, "a pot that falls off")

typedef enum bf_pack_kind {
#define BF_PACK_NAME(name, word, rate, sentence) name,
    BF_PACK_LIST(BF_PACK_NAME)
#undef BF_PACK_NAME
        BF_N_PACKS
} bf_pack_kind;

const char *bf_pack_word(bf_pack_kind kind);
const char *bf_pack_loss(bf_pack_kind kind);
double bf_pack_lost_per_h(bf_pack_kind kind);

/* A spare runs out in at most one session of twenty. */
#define BF_PACK_RISK 0.05

/* The fewest spares with which the chance of losing more than that stays within risk.
 *
 * lost_per_h 0 .. 10, hours 0 .. 24, risk 1e-6 .. 1 (asserted).
 * Example   0.4 an hour, 5 hours, 5 % -> 5 (P(N > 5) = 0.0166, P(N > 4) = 0.0527). */
int bf_pack_spares(double lost_per_h, double hours, double risk);

#ifdef __cplusplus
}
#endif
#endif
