/* order.c -- radix order of positive doubles: their bits, read as whole numbers, rise as they do. */
#include "core/record/order.h"

#include <string.h>

#define DIGIT_BITS 11
#define N_VALUES (1u << DIGIT_BITS)
#define N_DIGITS 6 /* 66 bits */

static uint64_t bits_of(double x) {
    uint64_t bits;
    memcpy(&bits, &x, sizeof bits);
    return bits;
}

static unsigned digit_of(double x, unsigned k) {
    return (unsigned)(bits_of(x) >> (DIGIT_BITS * k)) & (N_VALUES - 1);
}

size_t bfi_order_bytes(size_t n) {
    return 2 * n * sizeof(bfi_ranked) + N_DIGITS * N_VALUES * sizeof(uint32_t);
}

/* Turns the count of each digit value into the place where its first number goes. */
static void places_of_counts(uint32_t *count) {
    uint32_t place = 0;
    for (unsigned v = 0; v < N_VALUES; v++) {
        uint32_t n = count[v];
        count[v] = place;
        place += n;
    }
}

const bfi_ranked *bfi_order(const double *x, size_t n, void *work) {
    bfi_ranked *from = work, *to = from + n;
    uint32_t(*count)[N_VALUES] = (void *)(to + n);

    memset(count, 0, N_DIGITS * sizeof *count);
    for (size_t i = 0; i < n; i++) {
        from[i] = (bfi_ranked){x[i], (uint32_t)i};
        for (unsigned k = 0; k < N_DIGITS; k++) count[k][digit_of(x[i], k)]++;
    }

    /* From the lowest digit up; one that all numbers share (whole seconds share most) needs no pass. */
    for (unsigned k = 0; k < N_DIGITS && n; k++) {
        if (count[k][digit_of(x[0], k)] == n) continue;
        places_of_counts(count[k]);
        for (size_t i = 0; i < n; i++) to[count[k][digit_of(from[i].x, k)]++] = from[i];
        bfi_ranked *sorted = to;
        to = from;
        from = sorted;
    }
    return from;
}
