/* shotting.h -- the rig alone with every distance, as a part of a drawing: for the phone and for the card. */
#ifndef BFI_SHOTTING_H
#define BFI_SHOTTING_H

#include "baitfall/plan_picture.h"
#include "core/picture/svg.h"

/* How it is set. A row of words is a name, a distance in centimetres and the same in inches: beside each other in three
 * columns, or stacked in one narrow column. */
typedef struct bfi_rig_style {
    double line_x, text_x, width; /* the line; where words begin; where they end                 */
    double letter_mm, row_mm;     /* letters, and from one row of words to the next              */
    int is_stacked;
    const char *text_class, *far_class; /* of words, and of those that end at their place        */
    const char *shot_class;
} bfi_rig_style;

/* How high all of it is, mm. */
double bfi_rig_mm(const bf_drawn_rig *rig, const bfi_rig_style *style);

/* Draws it from `top` down, spread over height_mm. What has no room is left out, and a row says how much of the shot is only
 * in the plan. Returns how many rows of shot were left out. */
int bfi_draw_shotting(bfi_pen *pen, const bf_drawn_rig *rig, const bfi_rig_style *style, double top,
                      double height_mm);

#endif
