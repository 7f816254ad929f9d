/* order.h -- the rows of an array of positive numbers in rising order, in linear time. */
#ifndef BAITFALL_RECORD_ORDER_H
#define BAITFALL_RECORD_ORDER_H

#include <stddef.h>
#include <stdint.h>

typedef struct bfi_ranked {
    double x;
    uint32_t row;
} bfi_ranked;

/* Bytes of work space for n numbers. */
size_t bfi_order_bytes(size_t n);

/* Sorts x (in n; finite, > 0; n below 2^32) by radix; equal numbers stay in the order of their rows. The answer (n) lies in work,
 * which holds bfi_order_bytes(n) bytes, aligned to 8. */
const bfi_ranked *bfi_order(const double *x, size_t n, void *work);

#endif
