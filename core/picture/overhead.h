/* overhead.h -- the water seen from above, true to scale, outward up the sheet: what the landing and the bed account share.
 * Frame y 2 .. 73 mm, words in the bands y 3 .. 13 and 58 .. 72, feed between; the scale bar under it. */
#ifndef BFI_OVERHEAD_H
#define BFI_OVERHEAD_H

#include "core/picture/place.h"
#include "core/picture/svg.h"

#define BFI_OVERHEAD_WIDTH_MM 80.0
/* Down to the words of the scale bar. */
#define BFI_OVERHEAD_HEIGHT_MM 86.0
#define BFI_OVERHEAD_ROW_MM 6.0
#define BFI_FRAME_X0 2.0
#define BFI_FRAME_X1 78.0
#define BFI_FRAME_Y0 2.0
#define BFI_FRAME_Y1 73.0
#define BFI_BAR_Y 76.6
#define BFI_BAR_MM 1.8
#define BFI_UNDER_BAR_Y 83.4
#define BFI_ARROW_HEAD_MM 2.2

/* The scale of one sheet. */
typedef struct bfi_overhead {
    double mm_per_m;
    double mid_x_m, mid_y_m; /* in the middle of where feed may be drawn */
} bfi_overhead;

/* The largest scale at which `reach` (x outward, y to the right, m) fits. */
bfi_overhead bfi_overhead_around(bfi_box reach_m);
double bfi_overhead_across(const bfi_overhead *o, double y_m);
double bfi_overhead_down(const bfi_overhead *o, double x_m);

void bfi_draw_frame_water(bfi_pen *pen);
void bfi_draw_frame(bfi_pen *pen);
void bfi_draw_scale_bar(bfi_pen *pen, const bfi_overhead *o);
/* The arrow that comes up the pole's column, and the room that it takes. */
void bfi_draw_column(bfi_pen *pen, double column_mm);
bfi_box bfi_column_box(double column_mm);

/* A word that may stand left, in the middle or right, above the feed and below it. */
bfi_word bfi_word_in_bands(const char *text, const char *class_names);
/* A leader from the side of the place that faces the feed to 1 mm before (x, y). */
void bfi_lead_to(bfi_place *place, double x, double y);
/* A word in the bands with leaders to a circle. */
bfi_word bfi_word_of_circle(const char *text, const char *class_names, double x, double y, double radius);
/* Beside the arrow of the column, where the frame has room. */
bfi_word bfi_word_of_column(const char *text, double column_mm);
/* At its chosen place, with its leader in that class on a casing. */
void bfi_draw_led_word(bfi_pen *pen, const bfi_word *word, const char *leader_class);

#endif
