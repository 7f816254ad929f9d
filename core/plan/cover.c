/* cover.c -- the fewest masks whose union is the union of all. See rigset.h. */
#include "baitfall/rigset.h"

#include <string.h>

#define BITS 64 /* greedy needs at most so many: each mask it takes adds a bit */

static int bits_of(uint64_t mask) {
    int n = 0;
    for (; mask; mask &= mask - 1) n++;
    return n;
}

/* A choice of masks in the order they were taken. */
typedef struct choice {
    int n, at[BITS];
    double cost;
} choice;

typedef struct job {
    const uint64_t *mask;
    const double *cost;
    int n;
    uint64_t all;
    int most_bits;    /* of any mask */
    int rarest[BITS]; /* bits, the one that the fewest masks hold first */
    int asks_cost;    /* 0: fewer masks are looked for; 1: as many that cost less */
    int nodes;
    choice now, best;
} job;

/* The mask that adds most, of those the cheapest, of those the first. */
static int that_adds_most(const job *of, uint64_t covered) {
    int best = 0, most = 0;
    for (int i = 0; i < of->n; i++) {
        int adds = bits_of(of->mask[i] & ~covered);
        if (adds > most || (adds == most && of->cost[i] < of->cost[best])) {
            best = i;
            most = adds;
        }
    }
    return best;
}

static choice greedy(const job *of) {
    choice taken = {0, {0}, 0};
    for (uint64_t covered = 0; covered != of->all;) {
        int i = that_adds_most(of, covered);
        taken.at[taken.n++] = i;
        taken.cost += of->cost[i];
        covered |= of->mask[i];
    }
    return taken;
}

/* Bits by how few masks hold them: which those are does not change while masks are taken. */
static void order_bits(job *of) {
    int holders[BITS] = {0};
    for (int b = 0; b < BITS; b++) {
        for (int i = 0; i < of->n; i++) holders[b] += (int)(of->mask[i] >> b & 1);
        int k = b;
        for (; k > 0 && holders[of->rarest[k - 1]] > holders[b]; k--) of->rarest[k] = of->rarest[k - 1];
        of->rarest[k] = b;
    }
}

/* The uncovered bit that the fewest masks hold. */
static uint64_t rarest_bit(const job *of, uint64_t covered) {
    uint64_t left = of->all & ~covered;
    int k = 0;
    while (!(left >> of->rarest[k] & 1)) k++;
    return (uint64_t)1 << of->rarest[k];
}

/* Masks that are still needed at least. */
static int least_more(const job *of, uint64_t covered) {
    return (bits_of(of->all & ~covered) + of->most_bits - 1) / of->most_bits;
}

static int is_hopeless(const job *of, uint64_t covered) {
    int n = of->now.n + least_more(of, covered);
    return of->asks_cost ? n > of->best.n || of->now.cost >= of->best.cost : n >= of->best.n;
}

/* One of the masks that hold the rarest uncovered bit must be taken: each is tried. */
static void branch(job *of, uint64_t covered) {
    if (of->nodes >= BF_COVER_NODES || is_hopeless(of, covered)) return;
    of->nodes++;
    if (covered == of->all) {
        of->best = of->now;
        return;
    }
    uint64_t bit = rarest_bit(of, covered);
    choice before = of->now;
    for (int i = 0; i < of->n; i++) {
        if (!(of->mask[i] & bit)) continue;
        of->now.at[of->now.n++] = i;
        of->now.cost += of->cost[i];
        branch(of, covered | of->mask[i]);
        of->now = before;
    }
}

void bf_cover_smallest(const uint64_t *mask, const double *cost, int n, bf_cover *out) {
    job of = {.mask = mask, .cost = cost, .n = n, .most_bits = 1};
    BF_ASSERT(n >= 0 && n <= BF_COVER_MOST);
    memset(out, 0, sizeof *out);
    for (int i = 0; i < n; i++) {
        of.all |= mask[i];
        if (bits_of(mask[i]) > of.most_bits) of.most_bits = bits_of(mask[i]);
    }

    order_bits(&of);
    choice by_greed = greedy(&of);
    out->n_greedy = by_greed.n;
    of.best = by_greed;
    branch(&of, 0);
    out->is_exact = of.nodes < BF_COVER_NODES;
    out->n_least = out->is_exact ? of.best.n : least_more(&of, 0);
    of.asks_cost = 1;
    of.nodes = 0;
    branch(&of, 0);

    const choice *taken = of.best.n <= BF_RIGSET_MOST ? &of.best : &by_greed;
    out->n = taken->n < BF_RIGSET_MOST ? taken->n : BF_RIGSET_MOST;
    for (int i = 0; i < out->n; i++) {
        out->chosen[i] = taken->at[i];
        out->covered |= mask[taken->at[i]];
    }
    out->covers_all = out->covered == of.all;
}
