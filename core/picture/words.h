/* words.h -- what goes with a drawing as text: its table, and how places and directions are said. */
#ifndef BFI_WORDS_H
#define BFI_WORDS_H

#include "baitfall/picture.h"
#include "core/picture/svg.h"

/* Adds a row to the table and gives a pen for its value. */
bfi_pen bfi_row_open(bf_picture *picture, const char *heading);

/* "3 cm out, 4 cm right", "5 cm left", "none". */
void bfi_put_offset(bfi_pen *pen, double out_m, double right_m);

/* "out", "out and right", "right", ... the nearest of eight. Not both zero. */
void bfi_put_direction(bfi_pen *pen, double out, double right);

/* As much of the text as fits into room_mm in bold, with "..." for what does not. */
void bfi_put_fitted(bfi_pen *pen, const char *text, double room_mm);

/* Closes a drawing: n_svg, or everything empty and BF_E_SPACE when it did not fit. */
bf_status bfi_picture_end(bfi_pen *pen, bf_picture *picture);

#endif
