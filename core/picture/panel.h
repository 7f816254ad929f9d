/* panel.h -- the charts that the sheet takes over, drawn at the pen's origin within a width and a height. */
#ifndef BFI_PANEL_H
#define BFI_PANEL_H

#include "core/picture/chart.h"

bf_status bfi_waits_check(const bf_waits_view *view);
/* Panels in n_columns columns, all together height_mm high; with what the axes are, or without. */
void bfi_waits_draw(bfi_pen *pen, const bf_waits_view *view, double width_mm, double height_mm, int n_columns,
                    int has_captions);
/* "minutes since the rig went in": what the time axis is. */
const char *bfi_waits_caption(const bf_waits_view *view);

bf_status bfi_catch_check(const bf_catch_view *view);
void bfi_catch_draw(bfi_pen *pen, const bf_catch_view *view, double width_mm, double height_mm);

#endif
