/* drawn_rig.h -- a rig in the order in which it is drawn, and how its parts are said. */
#ifndef BFI_DRAWN_RIG_H
#define BFI_DRAWN_RIG_H

#include "baitfall/plan_picture.h"
#include "core/picture/svg.h"

bf_status bfi_drawn_rig_check(const bf_drawn_rig *rig);

/* The rows from the top of the drawing down; single shot of one name at even distances are one row. Returns how many. */
int bfi_rows_downward(const bf_drawn_shot *row, int n, bf_drawn_shot *out);

/* From hook (or float) to the highest shot of a row. */
double bfi_row_top_m(const bf_drawn_shot *row);

/* "5 x No 8" (with a real multiplication sign), "No 10", "3 shot". */
void bfi_put_row(bfi_pen *pen, const bf_drawn_shot *row);

/* "bulk of 5 No 8 at 35 cm, No 10 at 15 cm", as many rows as have room; "no shot". */
void bfi_put_rows(bfi_pen *pen, const bf_drawn_shot *row, int n, size_t room);

#endif
