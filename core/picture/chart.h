/* chart.h -- what the drawings of the record share: scales, clock and spans in words, shapes, strips, groups of marks. */
#ifndef BFI_CHART_H
#define BFI_CHART_H

#include "baitfall/record_picture.h"
#include "core/picture/place.h"
#include "core/picture/svg.h"

/* The look of the printed sheet: black on white, fine pens. Only the sheet has it. */
#define BFI_LOOK_PRINT (BF_LOOK_DUSK + 1)

#define BFI_ROW_MM 5.4
/* How far words that are pushed in keep from the edge: renderers round. */
#define BFI_RIM_MM 0.3
/* From here on a drawing has room for a column of words to the left of its marks. */
#define BFI_WIDE_MM 120.0

/* ---- checks ---- */

int bfi_is_finite(double value);
bf_status bfi_check_look_and_width(int look, double width_mm);
/* from < to, at most BF_RECORD_MOST_SPAN_MS apart, and a plausible local clock. */
bf_status bfi_check_stretch(double from_ms, double to_ms, int east_min);
/* Not falling, and within least .. most. */
bf_status bfi_check_row(const double *value, int n, double least, double most);

/* ---- words ---- */

/* "9:05": of the local clock, 24 h. */
void bfi_put_hour(bfi_pen *pen, double at_ms, int east_min);
/* Three digits at most, as few decimals as that needs: "0.042", "5.8", "23". */
void bfi_put_short(bfi_pen *pen, double value);
/* "29 fish"; the word as it is said for one, and for others. */
void bfi_put_count(bfi_pen *pen, int n, const char *one, const char *many);
/* Words cut to room_mm, where their class puts them: plain from x on, "bf-end" up to x. Nothing for "" or no room. */
void bfi_svg_fitted(bfi_pen *pen, const char *class_names, double x, double y, double room_mm,
                    const char *text);

/* ---- scales ---- */

/* The first of a row of round steps that is at least `least`, or the last. */
double bfi_first_step(const double *steps, int n, double least);
/* 1, 2 or 5 times a power of ten, at least `least` (> 0). */
double bfi_round_step(double least);

typedef struct bfi_clock {
    double from_ms, to_ms;
    int east_min;
    double x0, x1; /* where these are, mm */
} bfi_clock;

double bfi_clock_x(const bfi_clock *clock, double at_ms);
/* Grid lines at round times from `top` to `base`, ticks below it, and their times if is_labelled; words stay within
 * 0 .. width_mm. */
void bfi_draw_clock(bfi_pen *pen, const bfi_clock *clock, double top, double base, double width_mm,
                    int is_labelled);

/* ---- marks ---- */

/* The words of the outcomes in the order in which they are listed, and that order. */
extern const int bfi_outcome_order[BF_N_OUTCOMES];
extern const char *const bfi_outcome_words[BF_N_OUTCOMES]; /* by bf_outcome */

/* The shape of an outcome, `radius` from its middle to its edge. */
void bfi_draw_outcome(bfi_pen *pen, int outcome, int is_crossed, double x, double y, double radius);

/* Deciles over a row of places as four strips in each other: x[k], and y[k * BF_N_DECILES + j]. */
void bfi_draw_strips(bfi_pen *pen, const double *x, const double *y, int n);

#endif
