/* sort.h -- stable sorting by numbers, in caller memory. Internal to core/record. */
#ifndef BFI_SORT_H
#define BFI_SORT_H

#include <stdint.h>

typedef struct bfi_key {
    uint64_t a, b, c; /* compared in this order */
    int at;           /* what it stands for     */
} bfi_key;

/* -1, 0 or 1. */
int bfi_key_order(const bfi_key *x, const bfi_key *y);

/* Sorts n keys, equal ones staying in their order. spare: n keys. n log n at worst, n when sorted already. */
void bfi_sort(bfi_key *keys, int n, bfi_key *spare);

/* A number in the order of doubles, NaN before all; and back. */
uint64_t bfi_key_of(double x);
double bfi_of_key(uint64_t key);

#endif
