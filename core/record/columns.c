/* columns.c -- counts and sums of rows by a pair of keys. */
#include "baitfall/columns.h"

#include <string.h>

static void clear(uint32_t *count, double *sum, size_t n_cells) {
    memset(count, 0, n_cells * sizeof *count);
    if (sum) memset(sum, 0, n_cells * sizeof *sum);
}

bf_status bf_count_pairs(const uint16_t *key_a, const uint8_t *key_b, const double *value, size_t n,
                         size_t n_a, size_t n_b, uint32_t *count, double *sum) {
    BF_ASSERT(!value == !sum);
    clear(count, sum, n_a * n_b);
    if (n > UINT32_MAX) return BF_E_COUNT;

    for (size_t i = 0; i < n; i++) {
        if (key_a[i] >= n_a || key_b[i] >= n_b) {
            clear(count, sum, n_a * n_b);
            return BF_E_RANGE;
        }
        size_t cell = key_a[i] * n_b + key_b[i];
        count[cell]++;
        if (sum) sum[cell] += value[i];
    }
    return BF_OK;
}
