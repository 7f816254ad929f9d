/* lanes.h -- particles side by side in one vector: plain arithmetic, the same bits as one after the other. Internal.
 *
 * The vector extension that gcc and clang share. Four lie side by side on x86-64, where AVX2 holds them in one register and SSE2 in two; two elsewhere, as
 * NEON and wasm's simd128 hold them. All that takes or gives vectors is inlined: it goes by whichever
 * the function around it was compiled for, and how vectors would pass between functions (-Wno-psabi) does not matter.
 */
#ifndef BFI_SWIM_LANES_H
#define BFI_SWIM_LANES_H

#include <math.h>
#include <stdint.h>
#include <string.h>

#if defined(__x86_64__)
#define LANES 4
#else
#define LANES 2
#endif
#define LANES_INLINE static inline __attribute__((always_inline))
typedef double lanes __attribute__((vector_size(8 * LANES)));
typedef int64_t lanes_bits __attribute__((vector_size(8 * LANES)));

LANES_INLINE lanes lanes_of(double a) {
    return a - (lanes){0}; /* in each of them */
}

/* m of them at x, LANES or one, which then is in each. */
LANES_INLINE lanes lanes_at(const double *x, int m) {
    lanes v;
    if (m == 1) return lanes_of(*x);
    memcpy(&v, x, sizeof v);
    return v;
}

LANES_INLINE void lanes_put(double *x, int m, lanes v) {
    if (m == 1)
        *x = v[0];
    else
        memcpy(x, &v, sizeof v);
}

LANES_INLINE lanes lanes_where(lanes_bits is, lanes v) {
    return (lanes)(is & (lanes_bits)v);
}

LANES_INLINE int lanes_any(lanes_bits is) {
    int64_t any = 0;
    for (int w = 0; w < LANES; w++) any |= is[w];
    return any != 0;
}

LANES_INLINE lanes lanes_above_zero(lanes v) {
    return lanes_where((lanes_bits)(v > 0), v);
}

LANES_INLINE lanes lanes_sqrt(lanes v) {
    lanes root = v;
    for (int w = 0; w < LANES; w++) root[w] = sqrt(v[w]);
    return root;
}

#endif
