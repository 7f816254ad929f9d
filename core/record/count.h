/* count.h -- counts that stay whole numbers of an int, whatever a journal holds. Internal to core/record. */
#ifndef BFI_COUNT_H
#define BFI_COUNT_H

/* Where they stop: four of them can still be added. */
#define BFI_COUNT_MOST 500000000

/* n more, n >= 0. */
static inline void bfi_count(int *count, int n) {
    *count = n > BFI_COUNT_MOST - *count ? BFI_COUNT_MOST : *count + n;
}

#endif
