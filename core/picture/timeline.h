/* timeline.h -- the timeline as a part of a larger sheet. */
#ifndef BFI_TIMELINE_H
#define BFI_TIMELINE_H

#include "core/picture/chart.h"

bf_status bfi_timeline_check(const bf_timeline_view *view);

/* Its height when notes and advice may take at most most_rows rows under the clock; the width is the view's. */
double bfi_timeline_height(const bf_timeline_view *view, int most_rows);

/* Draws it at the pen's origin. */
void bfi_timeline_draw(bfi_pen *pen, const bf_timeline_view *view, int most_rows);

#endif
