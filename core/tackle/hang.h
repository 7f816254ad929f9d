/* hang.h -- what aim's parts share: where the hook bait hangs against the point under the tip, solved or by the fit of
 * aim.h. */
#ifndef BAITFALL_TACKLE_HANG_H
#define BAITFALL_TACKLE_HANG_H

#include "baitfall/aim.h"

/* Solves a settled stand at its `.value`s. bait_m (out 2) outward and right. Returns as bf_rig_solve; then both are NaN. */
bf_status bfi_hang_solved(const bf_stand *stand, double bait_m[2]);

/* Makes the fit of a settled stand's hang from n_solves conditions, a power of 2 up to BF_AIM_SOLVES. Returns BF_OK, or
 * as bf_rig_solve when too few of them have an answer; then it is empty. */
bf_status bfi_hang_fit(const bf_stand *stand, int n_solves, bf_aim_fit *fit);

/* The same by parts: one condition solved, and the fit from all of them in their order. */
void bfi_hang_solve(const bf_stand *stand, int i, bf_aim_solved *solved);
bf_status bfi_hang_fit_of(const bf_stand *stand, const bf_aim_solved solves[], int n_solves, bf_aim_fit *fit);

/* bfi_hang_solved by a fit that was made (fit->n > 0). */
void bfi_hang_fitted(const bf_aim_fit *fit, const bf_stand *stand, double bait_m[2]);

/* 1: the feed leaves a pot, which sits behind the tip. */
int bfi_is_by_pot(const bf_stand *stand);

/* Where feed is let go against where it was meant to, and where the tip is held while fishing: the slips of one draw, outward and
 * right (out 2). */
void bfi_release_place(const bf_stand *stand, double place_m[2]);
void bfi_tip_place(const bf_stand *stand, const bf_draw *draw, double place_m[2]);

/* Models of an aiming: its miss alone, bf_aim_model's first output; where its bait hangs (2 outputs). */
bf_status bfi_miss_model(const void *aiming, const bf_draw *draw, double *miss_m);
bf_status bfi_bait_model(const void *aiming, const bf_draw *draw, double *bait_m);

/* Where the middle of the pile lies by a row of bf_aim_model (in BF_AIM_ROW): its 2 doubles, outward and right. */
const double *bfi_middle_of_row(const double *row);

#endif
