/* clock.h -- jumps in continuous time: the rate of all of them together is integrated against an exponential number of mean 1,
 * and where that is used up one of them happens, each in proportion to its rate. Internal.
 *
 *     clock -= rate x dt;   while it is not above 0: one jumps, clock += -log u
 *
 * Exact where the rates stay as they are from jump to jump and step to step, for any step; rates that change are frozen over a
 * step, which costs a relative error of the order of how far they move in it.
 * Source:    J. A. Gibson and J. Bruck, J. Phys. Chem. A 104(9), 2000; D. F. Anderson, J. Chem. Phys. 127, 2007 (internal
 *            times); from memory.
 * Tests:     tests/swim/closed_test.c (pure death, feed pulses, SIR, Lotka-Volterra)
 */
#ifndef BFI_SWIM_CLOCK_H
#define BFI_SWIM_CLOCK_H

#include "baitfall/elementary.h"
#include "baitfall/random.h"

/* 1 when the clock is used up: it is then set anew, and *at is a point drawn from (0, rate), which tells the jump. */
static inline int bfi_clock_strikes(double *clock, double rate, uint64_t seed, uint64_t stream,
                                    uint64_t index, double *at) {
    if (*clock > 0) return 0;
    double u[2];
    bf_uniform2(seed, stream, index, u);
    *at = u[0] * rate;
    *clock -= bf_log(u[1]);
    return 1;
}

#endif
