/* signs.c -- see signs.h. */
#include "core/swim/signs.h"

#include <string.h>

#include "baitfall/elementary.h"
#include "core/swim/fixed.h"
#include "core/swim/state.h"

enum { FISH_SIGN, MANY_SIGN, WARY_SIGN, LEFT_SIGN, GONE_SIGN, N_OF_SPOTS };
_Static_assert(2 + 2 * N_OF_SPOTS == BFI_MOST_SIGNS, "the first spot and the others");

static void add(int n, const double *column, double *sum) {
    for (int p = 0; p < n; p++) sum[p] += column[p];
}

static void by_logarithm(int n, double least, double *sign) {
    for (int p = 0; p < n; p++) sign[p] = bf_log(least + (sign[p] > 0 ? sign[p] : 0));
}

/* Of spots from <= s < to together. sign: (out) N_OF_SPOTS columns. */
static void spots_signs(const bfi_swim *swim, int n, const double *x, int from, int to, double *sign) {
    memset(sign, 0, (size_t)(N_OF_SPOTS * n) * sizeof *sign);
    for (int s = from; s < to; s++) {
        const double *spot = x + (size_t)bfi_spot_column(swim, s) * (size_t)n;
        add(n, spot + FISH * n, sign + FISH_SIGN * n);
        add(n, spot + WARY * n, sign + WARY_SIGN * n);
        add(n, spot + GONE * n, sign + GONE_SIGN * n);
        for (int k = 0; k < 2 * swim->n_classes; k++) add(n, spot + (PIECES + k) * n, sign + LEFT_SIGN * n);
    }
    memcpy(sign + MANY_SIGN * n, sign + FISH_SIGN * n, (size_t)n * sizeof *sign);
    by_logarithm(n, 1, sign + MANY_SIGN * n);
    by_logarithm(n, 1, sign + LEFT_SIGN * n);
    by_logarithm(n, 1, sign + GONE_SIGN * n);
    by_logarithm(n, WARY_POT, sign + WARY_SIGN * n);
}

int bfi_swim_signs(const bfi_swim *swim, int n, const double *x, double *sign) {
    memcpy(sign, x + NEAR_FISH * n, (size_t)n * sizeof *sign);
    by_logarithm(n, 1, sign);
    memcpy(sign + n, x + HUNGER * n, (size_t)n * sizeof *sign);
    spots_signs(swim, n, x, 0, 1, sign + 2 * n);
    if (swim->n_spots == 1) return 2 + N_OF_SPOTS;
    spots_signs(swim, n, x, 1, swim->n_spots, sign + (2 + N_OF_SPOTS) * n);
    return BFI_MOST_SIGNS;
}
