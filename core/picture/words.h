/* words.h -- what goes with a drawing as text: its table, and how places and directions are said. */
#ifndef BFI_WORDS_H
#define BFI_WORDS_H

#include "baitfall/picture.h"
#include "core/picture/svg.h"

/* Adds a row to the table and gives a pen for its value. */
bfi_pen bfi_row_open(bf_picture *picture, const char *heading);

/* "45 s", "2 min 40 s", "12 min", "1 h 5 min". Nothing below 0. */
void bfi_put_span(bfi_pen *pen, double s);
/* A wait as it is told: whole seconds below a minute, then tens of seconds, from ten minutes on minutes. */
void bfi_put_about(bfi_pen *pen, double s);
#define BFI_POUND_KG 0.45359237 /* exact: international yard and pound agreement, 1959 */

/* A fish or a net: "2 lb 4 oz", "9 oz", "0 lb"; to the nearest ounce. Finite, 0 or more. */
void bfi_put_pounds(bfi_pen *pen, double kg);

/* A distance along a rig, to half a centimetre: "35 cm", "12.5 cm", from a metre on "1.64 m". 0 or more, finite. */
void bfi_put_rig_length(bfi_pen *pen, double m);
/* The same to a quarter of an inch: "13¾ in", from three feet on "5 ft 4½ in". */
void bfi_put_inches(bfi_pen *pen, double m);

/* Of wind: "4 m/s", "0.6 m/s". Finite. */
void bfi_put_speed(bfi_pen *pen, double m_s);

/* "3 cm out, 4 cm right", "5 cm left", "none". */
void bfi_put_offset(bfi_pen *pen, double out_m, double right_m);

/* "out", "out and right", "right", ... the nearest of eight. Not both zero. */
void bfi_put_direction(bfi_pen *pen, double out, double right);

/* As much of the text as fits into room_mm in bold, with "..." for what does not. */
void bfi_put_fitted(bfi_pen *pen, const char *text, double room_mm);

/* The same for letters of letter_mm. */
void bfi_put_fitted_at(bfi_pen *pen, const char *text, double letter_mm, double room_mm);

/* How many lines text takes when it wraps between words at room_mm in bold, `most` at most; 0 for "". */
int bfi_n_lines(const char *text, double room_mm, int most);

/* Text on lines step_mm apart, the first at y; what does not fit on `most` lines ends in "...". */
void bfi_svg_lines(bfi_pen *pen, const char *class_names, double x, double y, double room_mm, double step_mm,
                   int most, const char *text);

/* Closes a drawing: n_svg, or everything empty and BF_E_SPACE when it did not fit. */
bf_status bfi_picture_end(bfi_pen *pen, bf_picture *picture);

#endif
