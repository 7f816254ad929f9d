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

/* How many lines text takes when it wraps between words at room_mm in bold, `most` at most; 0 for "". */
int bfi_n_lines(const char *text, double room_mm, int most);

/* Text on lines step_mm apart, the first at y; what does not fit on `most` lines ends in "...". */
void bfi_svg_lines(bfi_pen *pen, const char *class_names, double x, double y, double room_mm, double step_mm,
                   int most, const char *text);

/* Closes a drawing: n_svg, or everything empty and BF_E_SPACE when it did not fit. */
bf_status bfi_picture_end(bfi_pen *pen, bf_picture *picture);

#endif
