/* bed.h -- what the drawings of the bed account share: the check of their view, ranges in words. */
#ifndef BFI_BED_H
#define BFI_BED_H

#include "baitfall/bed_picture.h"
#include "core/picture/chart.h"

/* Ends every title. */
#define BFI_RECKONED "Reckoned, not seen"

bf_status bfi_bed_check(const bf_bed_view *view);

/* Whether anything was put in at the spot. */
int bfi_bed_is_fed(const bf_bed_view *view);

/* Deciles of a range: 10, 20 .. 90 %. */
void bfi_range_deciles(const bf_range *range, double decile[BF_N_DECILES]);

/* "about 34 pieces (17-58)", "likely none (0-4)", "none"; from a hundred on to two figures. */
void bfi_put_pieces(bfi_pen *pen, const bf_range *range);

/* "22 pieces, 6 min ago": the last put-in; there must be one. */
void bfi_put_last_feed(bfi_pen *pen, const bf_bed_view *view);

#endif
