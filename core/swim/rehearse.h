/* rehearse.h -- a rehearsed day in steps, shared by the files that make it: rehearse.c (the day), rehearse_cost.c (what decisions cost).
 * Internal. */
#ifndef BFI_SWIM_REHEARSE_H
#define BFI_SWIM_REHEARSE_H

#include "baitfall/rehearse.h"
#include "core/swim/advise.h"

/* The truth as it stands at the beginning. */
void bfi_rehearse_stand(const bf_rehearsal *is, bfi_swim_alone *alone);

/* Plays the day; alone (in/out) stands at its end afterwards. */
void bfi_rehearse_play(const bf_rehearsal *is, bfi_swim_alone *alone, bf_rehearse_day *day);

#endif
