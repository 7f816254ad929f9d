/* Twenty equally likely values, stacked on an axis; and two such quantities, before a change and after. */
#include <math.h>
#include <string.h>

#include "core/picture/axis.h"
#include "core/picture/words.h"

#define LEFT_X BFI_AXIS_LEFT_MM
#define ROW_MM 5.4
#define NUMBERS_MM 6.0
#define CAPTION_MM 5.6

/* ---- twenty dots ---- */

#define MOST_DOT_MM 3.6
#define LEAST_DOT_MM 1.5
#define MOST_HEAP_MM 30.0

static double zero_of(const bf_dots_view *view) {
    return view->scale == BF_SCALE_LOG ? 1 : 0;
}

/* Of so few nothing is shown that could be read as a number. */
static int says_values(const bf_dots_view *view) {
    return view->n_seen < 0 || view->n_seen >= BF_FEW;
}

static bf_status check_dots(const bf_dots_view *view) {
    bf_status status = bfi_check_look_and_width(view->look, view->width_mm);
    if (status) return status;
    if (view->scale < BF_SCALE_LINEAR || view->scale > BF_SCALE_COUNT || view->n_seen < -1) return BF_E_RANGE;
    double least = view->scale == BF_SCALE_LINEAR ? -1e9 : view->scale == BF_SCALE_LOG ? 1e-4 : 0;
    if (says_values(view)) status = bfi_check_row(view->value, BF_N_DOTS, least, 1e9);
    if (status) return status;
    if (view->axis_lo != view->axis_lo && view->axis_hi != view->axis_hi) return BF_OK;
    const double ends[] = {view->axis_lo, view->axis_hi};
    status = bfi_check_row(ends, 2, least, 1e9);
    if (status) return status;
    int is_around = ends[0] <= view->value[0] && ends[1] >= view->value[BF_N_DOTS - 1];
    return ends[0] < ends[1] && (is_around || !says_values(view)) ? BF_OK : BF_E_RANGE;
}

static bfi_axis axis_of(const bf_dots_view *view) {
    double lo = view->value[0], hi = view->value[BF_N_DOTS - 1], zero = zero_of(view);
    if (!says_values(view)) lo = zero, hi = zero + 1;
    if (view->has_zero && zero < lo) lo = zero;
    if (view->has_zero && zero > hi) hi = zero;
    /* Wide enough for columns to grow. */
    bfi_axis a = bfi_axis_around(view->scale, lo, hi, 0.35, view->width_mm);
    if (view->axis_lo == view->axis_lo) {
        a.lo = view->axis_lo;
        a.hi = view->axis_hi;
    }
    return a;
}

/* The largest dots whose highest column has room, with a border between two columns at the zero line; room for a line of
 * text where no dot stands. */
static bfi_heap choose_heap(const bf_dots_view *view, const bfi_axis *a) {
    double at[BF_N_DOTS];
    if (!says_values(view)) return (bfi_heap){.dot_mm = MOST_DOT_MM, .tallest = 2};
    for (int k = 0; k < BF_N_DOTS; k++) at[k] = bfi_axis_x(a, view->value[k]);
    double border = view->has_zero ? bfi_axis_x(a, zero_of(view)) : a->x0;
    return bfi_heap_of(at, border, view->has_zero ? 0 : -0.5, MOST_DOT_MM, LEAST_DOT_MM, MOST_HEAP_MM);
}

static void draw_heap(bfi_pen *pen, const bf_dots_view *view, const bfi_heap *h, double base) {
    if (!says_values(view)) return;
    for (int k = 0; k < BF_N_DOTS; k++)
        bfi_draw_dot(pen, h, k, view->is_book, h->start + (h->column[k] + 0.5) * h->dot_mm,
                     base - 0.8 - (h->level[k] + 0.5) * h->dot_mm);
}

/* The line of no difference, and what either side means. */
static void draw_zero(bfi_pen *pen, const bf_dots_view *view, const bfi_axis *a, double top, double base) {
    double x = bfi_axis_x(a, zero_of(view));
    bfi_svg_line(pen, "bf-p2", x, top - 4.6, x, base);
    bfi_svg_fitted(pen, "bf-end", x - 1.8, top - 1.2, x - 2.4, view->below.text);
    bfi_svg_fitted(pen, "bf-label", x + 1.8, top - 1.2, view->width_mm - x - 2.4, view->above.text);
}

static int n_beyond_zero(const bf_dots_view *view) {
    int n = 0;
    for (int k = 0; k < BF_N_DOTS; k++) n += view->value[k] > zero_of(view);
    return n;
}

/* The ends of the range that holds 8 in 10, between the second dot and the third from either end. */
static void put_range(bfi_pen *pen, const double *value) {
    double lo = 0.5 * (value[1] + value[2]), hi = 0.5 * (value[17] + value[18]);
    bfi_put_short(pen, lo);
    bfi_put(pen, lo < 0 ? " to " : "-");
    bfi_put_short(pen, hi);
}

static void put_middle(bfi_pen *pen, const double *value) {
    bfi_put_short(pen, 0.5 * (value[BFI_MEDIAN_DOT] + value[BFI_MEDIAN_DOT + 1]));
}

static const char too_early[] = "too early to say";

static void tell_n(const bf_dots_view *view, bf_picture *picture) {
    if (view->n_seen < 0) return;
    bfi_pen pen = bfi_row_open(picture, "Seen");
    bfi_put_number(&pen, view->n_seen, 0);
}

static void tell_too_early(const bf_dots_view *view, bf_picture *picture) {
    bfi_pen pen = bfi_pen_open(picture->finding, sizeof picture->finding);
    bfi_put(&pen, view->quantity.text);
    bfi_put(&pen, view->quantity.text[0] ? ": too early to say." : "Too early to say.");
    pen = bfi_row_open(picture, "Middle");
    bfi_put(&pen, too_early);
    tell_n(view, picture);
}

static void tell_dots(const bf_dots_view *view, bf_picture *picture) {
    if (!says_values(view)) {
        tell_too_early(view, picture);
        return;
    }
    bfi_pen pen = bfi_pen_open(picture->finding, sizeof picture->finding);
    bfi_put(&pen, view->quantity.text);
    bfi_put(&pen, view->quantity.text[0] ? ": about " : "About ");
    put_middle(&pen, view->value);
    bfi_put(&pen, " (");
    put_range(&pen, view->value);
    bfi_put(&pen, ", 8 times in 10)");
    if (view->has_zero) {
        bfi_put(&pen, "; ");
        bfi_put_number(&pen, n_beyond_zero(view), 0);
        bfi_put(&pen, " of 20 dots lie above ");
        bfi_put_number(&pen, zero_of(view), 0);
    }
    bfi_put(&pen, view->is_book ? "; from the book, nothing logged yet." : ".");

    pen = bfi_row_open(picture, "Middle");
    put_middle(&pen, view->value);
    pen = bfi_row_open(picture, "8 times in 10");
    put_range(&pen, view->value);
    pen = bfi_row_open(picture, "Lowest and highest dot");
    bfi_put_short(&pen, view->value[0]);
    bfi_put(&pen, view->value[0] < 0 ? " to " : "-");
    bfi_put_short(&pen, view->value[BF_N_DOTS - 1]);
    if (view->has_zero) {
        pen = bfi_row_open(picture, view->scale == BF_SCALE_LOG ? "Above 1" : "Above 0");
        bfi_put_number(&pen, n_beyond_zero(view), 0);
        bfi_put(&pen, " in 20");
    }
    tell_n(view, picture);
}

/* The quantity under the numbers, on two lines if need be, and how many were seen beside it. */
static double quantity_room(const bf_dots_view *view) {
    char text[24];
    bfi_pen word = bfi_pen_open(text, sizeof text);
    if (view->n_seen < 0) return view->width_mm - LEFT_X - 2;
    bfi_put_number(&word, view->n_seen, 0);
    bfi_put(&word, " seen");
    return view->width_mm - LEFT_X - 2 - bfi_word_width(text) - 2;
}

static void draw_dots_caption(bfi_pen *pen, const bf_dots_view *view, double y) {
    bfi_svg_lines(pen, "bf-label", LEFT_X, y, quantity_room(view), ROW_MM, 2, view->quantity.text);
    if (view->n_seen < 0) return;
    char text[24];
    bfi_pen word = bfi_pen_open(text, sizeof text);
    bfi_put_number(&word, view->n_seen, 0);
    bfi_put(&word, " seen");
    bfi_svg_text(pen, "bf-end", view->width_mm - 2, y, text);
}

bf_status bf_picture_dots(const bf_dots_view *view, char *svg, size_t most, bf_picture *picture) {
    memset(picture, 0, sizeof *picture);
    bfi_pen pen = bfi_pen_open(svg, most);
    bf_status status = check_dots(view);
    if (status) return status;
    tell_dots(view, picture);
    bfi_axis a = axis_of(view);
    bfi_heap h = choose_heap(view, &a);
    double top = view->has_zero ? ROW_MM + 1 : 1.5, rim = 0.3 * h.dot_mm;
    double base = top + rim + h.tallest * h.dot_mm + 0.8, caption = base + NUMBERS_MM + 4.2;
    int n_lines = bfi_n_lines(view->quantity.text, quantity_room(view), 2);
    double height = caption + 1.4 + ROW_MM * (n_lines > 1);
    bfi_svg_open(&pen, "dots", view->width_mm, height, view->look,
                 view->quantity.text[0] ? view->quantity.text : "What may be", picture->finding);
    if (view->has_zero) draw_zero(&pen, view, &a, top, base);
    draw_heap(&pen, view, &h, base);
    if (!says_values(view)) bfi_svg_text(&pen, "bf-mid", 0.5 * (a.x0 + a.x1), base - 2.4, too_early);
    bfi_draw_axis(&pen, &a, base);
    draw_dots_caption(&pen, view, caption);
    bfi_svg_close(&pen);
    return bfi_picture_end(&pen, picture);
}

/* ---- before and after ---- */

#define GAUGE_MM 4.6
#define SLOPE_MM 9.0

static int is_told(const bf_change_side *side) {
    return side->n_seen >= BF_FEW;
}

static bf_status check_change(const bf_change_view *view) {
    bf_status status = bfi_check_look_and_width(view->look, view->width_mm);
    if (status) return status;
    if (fabs(view->better_frac) == BF_INFINITY) return BF_E_NOT_FINITE;
    if (view->better_frac < 0 || view->better_frac > 1) return BF_E_RANGE;
    for (int k = 0; k < 2; k++) {
        const bf_change_side *side = &view->side[k];
        if (side->n_seen < 0) return BF_E_RANGE;
        if (is_told(side)) status = bfi_check_row(side->decile, BF_N_DECILES, 0, 1e9);
        if (status) return status;
    }
    return BF_OK;
}

static bfi_axis change_axis(const bf_change_view *view) {
    double lo = 1e9, hi = 0;
    for (int k = 0; k < 2; k++) {
        if (!is_told(&view->side[k])) continue;
        if (view->side[k].decile[0] < lo) lo = view->side[k].decile[0];
        if (view->side[k].decile[BF_N_DECILES - 1] > hi) hi = view->side[k].decile[BF_N_DECILES - 1];
    }
    if (lo > hi) lo = 0, hi = 1;
    return bfi_axis_around(BF_SCALE_LINEAR, lo, hi, 0.08, view->width_mm);
}

static void put_side(bfi_pen *pen, const bf_change_side *side) {
    if (!is_told(side)) {
        bfi_put(pen, too_early);
        return;
    }
    bfi_put_short(pen, side->decile[BF_N_DECILES / 2]);
    bfi_put(pen, " (");
    bfi_put_short(pen, side->decile[0]);
    bfi_put(pen, "-");
    bfi_put_short(pen, side->decile[BF_N_DECILES - 1]);
    bfi_put(pen, ")");
}

/* Four strips in each other, ends ticked, a heavy tick at the middle. */
static void draw_gauge(bfi_pen *pen, const bfi_axis *a, const bf_change_side *side, double top) {
    for (int strip = 0; strip < BF_N_DECILES / 2; strip++) {
        double x0 = bfi_axis_x(a, side->decile[strip]),
               x1 = bfi_axis_x(a, side->decile[BF_N_DECILES - 1 - strip]);
        bfi_svg_rect(pen, "bf-band", x0, top, x1 - x0, GAUGE_MM);
    }
    double lo = bfi_axis_x(a, side->decile[0]), mid = bfi_axis_x(a, side->decile[BF_N_DECILES / 2]),
           hi = bfi_axis_x(a, side->decile[BF_N_DECILES - 1]);
    bfi_svg_line(pen, "bf-r2", lo, top, lo, top + GAUGE_MM);
    bfi_svg_line(pen, "bf-r2", hi, top, hi, top + GAUGE_MM);
    bfi_svg_line(pen, "bf-r4", mid, top - 0.6, mid, top + GAUGE_MM + 0.6);
}

/* Two rows: what it is, then its middle and range, and how many were seen. */
static void draw_side_words(bfi_pen *pen, const bf_change_view *view, const bf_change_side *side, double y) {
    char text[64];
    bfi_svg_fitted(pen, "bf-label", LEFT_X, y, view->width_mm - LEFT_X - 2, side->name.text);
    bfi_pen word = bfi_pen_open(text, sizeof text);
    bfi_put_number(&word, side->n_seen, 0);
    bfi_put(&word, " seen");
    double room = view->width_mm - 2 - LEFT_X - bfi_word_width(text) - 2;
    bfi_svg_text(pen, "bf-end", view->width_mm - 2, y + ROW_MM, text);
    word = bfi_pen_open(text, sizeof text);
    put_side(&word, side);
    bfi_svg_fitted(pen, "bf-r bf-key", LEFT_X, y + ROW_MM, room, text);
}

static void put_better(bfi_pen *pen, const bf_change_view *view) {
    bfi_put_number(pen, 10 * view->better_frac, 1);
    bfi_put(pen, " in 10 that it is higher after");
}

static int says_better(const bf_change_view *view) {
    return view->better_frac >= 0 && is_told(&view->side[0]) && is_told(&view->side[1]);
}

static void tell_change(const bf_change_view *view, bf_picture *picture) {
    bfi_pen pen = bfi_pen_open(picture->finding, sizeof picture->finding);
    bfi_put(&pen, view->quantity.text);
    bfi_put(&pen, view->quantity.text[0] ? ": before " : "Before ");
    put_side(&pen, &view->side[0]);
    bfi_put(&pen, ", after ");
    put_side(&pen, &view->side[1]);
    if (says_better(view)) {
        bfi_put(&pen, "; ");
        put_better(&pen, view);
    }
    bfi_put(&pen, ".");
    static const char *const headings[] = {"Before", "After"};
    for (int k = 0; k < 2; k++) {
        const bf_change_side *side = &view->side[k];
        pen = bfi_row_open(picture, side->name.text[0] ? side->name.text : headings[k]);
        put_side(&pen, side);
        bfi_put(&pen, ", ");
        bfi_put_number(&pen, side->n_seen, 0);
        bfi_put(&pen, " seen");
    }
    if (says_better(view)) {
        pen = bfi_row_open(picture, "Higher after");
        bfi_put_number(&pen, 10 * view->better_frac, 1);
        bfi_put(&pen, " in 10");
    }
}

bf_status bf_picture_change(const bf_change_view *view, char *svg, size_t most, bf_picture *picture) {
    memset(picture, 0, sizeof *picture);
    bfi_pen pen = bfi_pen_open(svg, most);
    bf_status status = check_change(view);
    if (status) return status;
    tell_change(view, picture);
    bfi_axis a = change_axis(view);
    /* Words, gauge, slope, gauge, words, axis, caption. */
    double first = 2 * ROW_MM + 1.2, second = first + GAUGE_MM + SLOPE_MM;
    double base = second + GAUGE_MM + 2 * ROW_MM + 3;
    double height = base + NUMBERS_MM + CAPTION_MM;
    int is_whole = is_told(&view->side[0]) && is_told(&view->side[1]);
    bfi_svg_open(&pen, "change", view->width_mm, height, view->look, "Before and after", picture->finding);
    if (is_whole)
        bfi_svg_line(&pen, "bf-r3 bf-dash", bfi_axis_x(&a, view->side[0].decile[BF_N_DECILES / 2]),
                     first + GAUGE_MM + 0.6, bfi_axis_x(&a, view->side[1].decile[BF_N_DECILES / 2]),
                     second - 0.6);
    for (int k = 0; k < 2; k++) {
        if (is_told(&view->side[k])) draw_gauge(&pen, &a, &view->side[k], k ? second : first);
        draw_side_words(&pen, view, &view->side[k], k ? second + GAUGE_MM + 4.8 : 4);
    }
    bfi_draw_axis(&pen, &a, base);
    bfi_svg_fitted(&pen, "bf-label", LEFT_X, height - 1.4, view->width_mm - LEFT_X - 2, view->quantity.text);
    bfi_svg_close(&pen);
    return bfi_picture_end(&pen, picture);
}
