/* sort.c -- see sort.h: merge sort from below. */
#include "core/record/sort.h"

#include <string.h>

int bfi_key_order(const bfi_key *x, const bfi_key *y) {
    if (x->a != y->a) return x->a < y->a ? -1 : 1;
    if (x->b != y->b) return x->b < y->b ? -1 : 1;
    return x->c < y->c ? -1 : x->c > y->c;
}

/* Two sorted runs, [0, n_left) and [n_left, n), become one. */
static void merge(bfi_key *keys, int n_left, int n, bfi_key *spare) {
    if (bfi_key_order(&keys[n_left - 1], &keys[n_left]) <= 0) return;
    memcpy(spare, keys, (size_t)n_left * sizeof *keys);
    int left = 0, right = n_left;
    for (int to = 0; left < n_left; to++) {
        int takes_left = right == n || bfi_key_order(&spare[left], &keys[right]) <= 0;
        keys[to] = takes_left ? spare[left++] : keys[right++];
    }
}

void bfi_sort(bfi_key *keys, int n, bfi_key *spare) {

    for (int64_t width = 1; width < n; width *= 2)
        for (int64_t from = 0; from + width < n; from += 2 * width) {
            int64_t m = n - from < 2 * width ? n - from : 2 * width;
            merge(keys + from, (int)width, (int)m, spare);
        }
}

uint64_t bfi_key_of(double x) {
    uint64_t bits;
    if (x != x) return 0;
    memcpy(&bits, &x, sizeof bits);
    return bits >> 63 ? ~bits : bits | (uint64_t)1 << 63;
}

double bfi_of_key(uint64_t key) {
    double x;
    if (!key) return __builtin_nan("");
    key = key >> 63 ? key & ~((uint64_t)1 << 63) : ~key;
    memcpy(&x, &key, sizeof x);
    return x;
}
