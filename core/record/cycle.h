/* cycle.h -- the time a drop took altogether, and what had been fed before it. Internal to core/record. */
#ifndef BFI_CYCLE_H
#define BFI_CYCLE_H

#include "baitfall/fold.h"

/* Milliseconds that two spans have in common. */
double bfi_overlap_ms(double a_from, double a_to, double b_from, double b_to);

/* The part of a tallied stretch that lies in from <= t < to, 0 to 1; one without length is in it or not. */
double bfi_stretch_part(const bf_stretch *stretch, double from_ms, double to_ms);

/* Hours of it, a second at least: no fish is caught in no time. */
double bfi_stretch_h(const bf_stretch *stretch);

/* Local half hour of the day, 0 to 47, and month, 0 to 11. */
int bfi_half_of_day(double ms, int east_min);
int bfi_month(double ms, int east_min);

/* Hours of drop i, a second at least, from the end of the drop before it in its session (of the first one: from its base, else from
 * when the session was opened) to its own; so the drops of a session cover it without gap from the first on. Those of
 * tallied stretches are taken out: what was caught in them is in no drop. */
double bfi_cycle_h(const bf_fold *fold, int i_drop);

/* Bait of the last put-in before a drop at its spot (of several baits at once: the first named), -1: none. */
int bfi_drop_bait(const bf_fold *fold, int i_drop);
int bfi_drop_how(const bf_fold *fold, int i_drop);

/* The same for a tallied stretch: of the last put-in before it began, at any spot. */
int bfi_stretch_put_in(const bf_fold *fold, int i_stretch);

#endif
