#include "core/picture/axis.h"

#include <math.h>

#include "baitfall/elementary.h"

/* ---- across ---- */

static double bent(int scale, double value) {
    return scale == BF_SCALE_LINEAR ? value : scale == BF_SCALE_LOG ? bf_log(value) : bf_log(1 + value);
}

static double unbent(int scale, double value) {
    return scale == BF_SCALE_LINEAR ? value : scale == BF_SCALE_LOG ? bf_exp(value) : bf_exp(value) - 1;
}

bfi_axis bfi_axis_around(int scale, double lo, double hi, double rim, double width_mm) {
    bfi_axis a = {.scale = scale, .x0 = BFI_AXIS_LEFT_MM + 2, .x1 = width_mm - BFI_AXIS_RIGHT_MM - 2};
    double least = bent(scale, lo), most = bent(scale, hi), wide = most - least;
    double beyond = wide > 0 ? rim * wide : scale == BF_SCALE_LINEAR ? 0.1 * fabs(hi) + 0.001 : 0.5;
    a.lo = unbent(scale, least - beyond);
    a.hi = unbent(scale, most + beyond);
    /* What cannot be less than nothing starts at nothing, if it is near. */
    if (scale == BF_SCALE_COUNT && lo < 1) a.lo = 0;
    if (scale != BF_SCALE_LOG && lo >= 0 && (a.lo < 0 || lo < 0.75 * hi)) a.lo = 0;
    return a;
}

double bfi_axis_x(const bfi_axis *a, double value) {
    double lo = bent(a->scale, a->lo), hi = bent(a->scale, a->hi);
    return a->x0 + bfi_clamp((bent(a->scale, value) - lo) / (hi - lo), 0, 1) * (a->x1 - a->x0);
}

/* One number of the axis, if it keeps clear of the one before; returns where it ends. */
static double draw_number(bfi_pen *pen, const bfi_axis *a, double value, double base, double last) {
    char text[24];
    bfi_pen word = bfi_pen_open(text, sizeof text);
    bfi_put(&word, value < 0 ? "\xE2\x88\x92" : "");
    bfi_put_number(&word, fabs(value), 4);
    double x = bfi_axis_x(a, value), half = 0.5 * bfi_word_width(text);
    double middle = bfi_clamp(x, half + BFI_RIM_MM, a->x1 + BFI_AXIS_RIGHT_MM - half);
    bfi_svg_line(pen, "bf-p2", x, base, x, base + 1.2);
    if (middle - half < last + 1.4) return last;
    bfi_svg_text(pen, "bf-mid", middle, base + 5.4, text);
    return middle + half;
}

static void draw_linear_numbers(bfi_pen *pen, const bfi_axis *a, double base) {
    double step = bfi_round_step(13 * (a->hi - a->lo) / (a->x1 - a->x0)), last = -2;
    for (double k = -floor(-a->lo / step); k * step <= a->hi + 1e-9 * (a->hi - a->lo); k += 1)
        last = draw_number(pen, a, k * step, base, last);
}

/* 1, 2, 5, 10, 20, 50 ...; and 0 where it has a place. */
static void draw_log_numbers(bfi_pen *pen, const bfi_axis *a, double base) {
    static const double leads[] = {1, 2, 5};
    double last = -2;
    if (a->lo == 0) last = draw_number(pen, a, 0, base, last);
    double power = 1e-4;
    for (int k = 0; k < 13; k++, power *= 10)
        for (int lead = 0; lead < 3; lead++) {
            double value = leads[lead] * power;
            if (value >= a->lo * (1 - 1e-9) && value <= a->hi * (1 + 1e-9) &&
                (a->scale == BF_SCALE_LOG || value > 0.9))
                last = draw_number(pen, a, value, base, last);
        }
}

void bfi_draw_axis(bfi_pen *pen, const bfi_axis *a, double base) {
    bfi_svg_line(pen, "bf-p2", a->x0 - 2, base, a->x1 + 2, base);
    if (a->scale == BF_SCALE_LINEAR)
        draw_linear_numbers(pen, a, base);
    else
        draw_log_numbers(pen, a, base);
}

/* ---- upright ---- */

double bfi_upright_y(const bfi_upright *axis, double value) {
    return axis->base - value / axis->most * (axis->base - axis->top);
}

static double step_of(const bfi_upright *axis) {
    double step = bfi_round_step(6.5 * axis->most / (axis->base - axis->top));
    return step < axis->least ? axis->least : step;
}

static void put_value(bfi_pen *pen, double value) {
    bfi_put_number(pen, value, 3);
}

double bfi_upright_room_mm(const bfi_upright *axis, double least_mm) {
    double step = step_of(axis), widest = least_mm;
    for (int k = 0; k * step <= axis->most * 1.0001; k++) {
        char text[24];
        bfi_pen word = bfi_pen_open(text, sizeof text);
        put_value(&word, k * step);
        double width = bfi_word_width(text) + 2.2;
        if (width > widest) widest = width;
    }
    return widest;
}

void bfi_draw_upright(bfi_pen *pen, const bfi_upright *axis) {
    double step = step_of(axis);
    for (int k = 0; k * step <= axis->most * 1.0001; k++) {
        char text[24];
        bfi_pen word = bfi_pen_open(text, sizeof text);
        put_value(&word, k * step);
        double y = bfi_upright_y(axis, k * step);
        if (k) bfi_svg_line(pen, "bf-grid", axis->x0, y, axis->x1, y);
        bfi_svg_text(pen, "bf-end", axis->x0 - 1.6, y + 1.45, text);
    }
    bfi_svg_path_begin(pen, "bf-p2");
    bfi_svg_point(pen, 'M', axis->x0, axis->top);
    bfi_svg_point(pen, 'L', axis->x0, axis->base);
    bfi_svg_point(pen, 'L', axis->x1, axis->base);
    bfi_svg_path_end(pen, 0);
}

/* ---- twenty dots ---- */

static bfi_heap stack(const double *at, double start, double dot_mm) {
    bfi_heap h = {.dot_mm = dot_mm, .start = start};
    for (int k = 0; k < BF_N_DOTS; k++) {
        h.column[k] = (int)floor((at[k] - h.start) / dot_mm);
        h.level[k] = k && h.column[k] == h.column[k - 1] ? h.level[k - 1] + 1 : 0;
        if (h.level[k] + 1 > h.tallest) h.tallest = h.level[k] + 1;
    }
    return h;
}

bfi_heap bfi_heap_of(const double *at, double border, double shift, double most_mm, double least_mm,
                     double room_mm) {
    double dot_mm = most_mm;
    bfi_heap h = stack(at, border + shift * dot_mm, dot_mm);
    while (h.tallest * dot_mm > room_mm && dot_mm > least_mm) {
        dot_mm -= 0.3;
        h = stack(at, border + shift * dot_mm, dot_mm);
    }
    return h;
}

void bfi_draw_dot(bfi_pen *pen, const bfi_heap *heap, int k, int is_book, double x, double y) {
    double radius = 0.37 * heap->dot_mm;
    bfi_svg_circle(pen, is_book ? "bf-ropen" : "bf-rdot", x, y, radius - (is_book ? 0.25 : 0.15));
    if (k == BFI_MEDIAN_DOT) bfi_svg_circle(pen, "bf-rring", x, y, 0.53 * heap->dot_mm);
}
