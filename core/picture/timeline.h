/* timeline.h -- the timeline as a part of a larger sheet (timeline.c), and in words (timeline_told.c). */
#ifndef BFI_TIMELINE_H
#define BFI_TIMELINE_H

#include "core/picture/chart.h"

bf_status bfi_timeline_check(const bf_timeline_view *view);

/* Its height when notes and advice may take at most most_rows rows under the clock; the width is the view's. */
double bfi_timeline_height(const bf_timeline_view *view, int most_rows);

/* Draws it at the pen's origin. */
void bfi_timeline_draw(bfi_pen *pen, const bf_timeline_view *view, int most_rows);

/* Whether any of a stretch, or an instant, lies in the view. */
int bfi_timeline_shows(const bf_timeline_view *view, double from_ms, double to_ms);

/* What is in the view. */
typedef struct bfi_census {
    int feeds, waits, bites[BF_N_OUTCOMES], notes, advice;
    int has_row[BF_N_OUTCOMES]; /* anything shown, crossed out or not */
    int crossed, outside;
    double feed_sum, feed_most, heaviest_kg; /* 0: none told */
} bfi_census;
bfi_census bfi_timeline_count(const bf_timeline_view *view);

/* The finding and the table. */
void bfi_timeline_tell(const bf_timeline_view *view, bf_picture *picture);

#endif
