/* lanes.h -- two particles side by side in one vector: plain arithmetic, the same bits as one after the other. Internal.
 *
 * The vector extension that gcc and clang share; SSE2, NEON and wasm's simd128 hold it in one register, without them the
 * compiler does each half by itself.
 */
#ifndef BFI_SWIM_LANES_H
#define BFI_SWIM_LANES_H

#include <math.h>
#include <stdint.h>

#define LANES 2
typedef double lanes __attribute__((vector_size(8 * LANES)));
typedef int64_t lanes_bits __attribute__((vector_size(8 * LANES)));

/* m of them at x, the first one doubled where m is 1. */
static inline lanes lanes_at(const double *x, int m) {
    return (lanes){x[0], x[m > 1]};
}

static inline void lanes_put(double *x, int m, lanes v) {
    x[0] = v[0];
    if (m > 1) x[1] = v[1];
}

static inline lanes lanes_of(double a) {
    return (lanes){a, a};
}

static inline lanes lanes_where(lanes_bits is, lanes v) {
    return (lanes)(is & (lanes_bits)v);
}

static inline lanes lanes_above_zero(lanes v) {
    return lanes_where((lanes_bits)(v > 0), v);
}

static inline lanes lanes_sqrt(lanes v) {
    return (lanes){sqrt(v[0]), sqrt(v[1])};
}

#endif
