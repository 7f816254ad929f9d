/* terminal.h -- the steady fall of a piece, as the parts of core/feed share it. */
#ifndef BAITFALL_FEED_TERMINAL_H
#define BAITFALL_FEED_TERMINAL_H

#include "baitfall/fall.h"

/* How a piece moves once started: everything the equation of motion needs.
 *
 * In units of speed_m_s, start_s and their product length_m the motion of any piece is
 *
 *     dV/dt = down - f(|V - U|) (V - U),   f(x) = a + b x^n + c x^2 / (x + d),   f(1) = 1. */
typedef struct bfi_terminal {
    double speed_m_s; /* terminal                                                 */
    double start_s;   /* time to reach that speed if drag were absent             */
    double length_m;  /* speed_m_s start_s: how far it falls meanwhile, and twice  */
    double reynolds;  /* terminal, on the diameter of the sphere of the same volume */
    double a, b, n, c, d;
} bfi_terminal;

/* Errors as bf_fall_speed; *terminal is all NaN then. */
BF_CHECK bf_status bfi_terminal_of(const bf_piece *piece, bfi_terminal *terminal);

/* The first thing wrong with a list of numbers: `so_far`, or what is wrong with x, which should be in [least,
 * most]. NaN before range. */
static inline bf_status bfi_first_wrong(bf_status so_far, double x, double least, double most) {
    if (so_far) return so_far;
    if (x - x != 0) return BF_E_NOT_FINITE;
    return x >= least && x <= most ? BF_OK : BF_E_RANGE;
}

#endif
