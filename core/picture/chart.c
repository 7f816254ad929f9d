#include "core/picture/chart.h"

#include <math.h>
#include <string.h>

#include "core/picture/words.h"

/* ---- checks ---- */

int bfi_is_finite(double value) {
    return fabs(value) < BF_INFINITY;
}

bf_status bfi_check_look_and_width(int look, double width_mm) {
    if (!bfi_is_finite(width_mm)) return BF_E_NOT_FINITE;
    int is_fine = look >= BF_LOOK_OPEN && look <= BF_LOOK_DUSK && width_mm >= BF_RECORD_LEAST_WIDTH_MM &&
                  width_mm <= BF_RECORD_MOST_WIDTH_MM;
    return is_fine ? BF_OK : BF_E_RANGE;
}

bf_status bfi_check_stretch(double from_ms, double to_ms, int east_min) {
    /* Beyond the year 275760 no calendar of the page has days. */
    const double most_ms = 8.64e15;
    if (!bfi_is_finite(from_ms) || !bfi_is_finite(to_ms)) return BF_E_NOT_FINITE;
    int is_fine = from_ms < to_ms && fabs(from_ms) <= most_ms && to_ms - from_ms <= BF_RECORD_MOST_SPAN_MS &&
                  east_min >= -1440 && east_min <= 1440;
    return is_fine ? BF_OK : BF_E_RANGE;
}

bf_status bfi_check_row(const double *value, int n, double least, double most) {
    for (int k = 0; k < n; k++)
        if (!bfi_is_finite(value[k])) return BF_E_NOT_FINITE;
    for (int k = 0; k < n; k++)
        if (value[k] < (k ? value[k - 1] : least) || value[k] > most) return BF_E_RANGE;
    return BF_OK;
}

/* ---- words ---- */

#define MS_PER_MIN 60000.0
#define MIN_PER_DAY 1440.0

static void put_two_digits(bfi_pen *pen, int value) {
    if (value < 10) bfi_put(pen, "0");
    bfi_put_number(pen, value, 0);
}

static int minute_of_day(double at_ms, int east_min) {
    double minutes = floor(at_ms / MS_PER_MIN) + east_min;
    return (int)(minutes - MIN_PER_DAY * floor(minutes / MIN_PER_DAY));
}

static void put_only_hour(bfi_pen *pen, double at_ms, int east_min) {
    bfi_put_number(pen, minute_of_day(at_ms, east_min) / 60, 0);
}

void bfi_put_hour(bfi_pen *pen, double at_ms, int east_min) {
    int of_day = minute_of_day(at_ms, east_min);
    bfi_put_number(pen, of_day / 60, 0);
    bfi_put(pen, ":");
    put_two_digits(pen, of_day % 60);
}

void bfi_put_short(bfi_pen *pen, double value) {
    double size = fabs(value);
    if (size > 0 && size < 5e-5) value = 0;
    bfi_put(pen, value < 0 ? "\xE2\x88\x92" : ""); /* the true minus sign */
    bfi_put_number(pen, size, size < 0.0995 ? 3 : size < 0.995 ? 2 : size < 9.95 ? 1 : 0);
}

void bfi_put_count(bfi_pen *pen, int n, const char *one, const char *many) {
    bfi_put_number(pen, n, 0);
    bfi_put(pen, " ");
    bfi_put(pen, n == 1 ? one : many);
}

void bfi_svg_fitted(bfi_pen *pen, const char *class_names, double x, double y, double room_mm,
                    const char *text) {
    if (!text[0] || room_mm < bfi_word_width("...")) return;
    char fitted[256];
    bfi_pen word = bfi_pen_open(fitted, sizeof fitted);
    bfi_put_fitted(&word, text, room_mm);
    bfi_svg_text(pen, class_names, x, y, fitted);
}

/* ---- scales ---- */

double bfi_first_step(const double *steps, int n, double least) {
    for (int k = 0; k < n; k++)
        if (steps[k] >= least) return steps[k];
    return steps[n - 1];
}

double bfi_round_step(double least) {
    double power = 1;
    while (power < least) power *= 10;
    while (power / 10 >= least) power /= 10;
    /* power / 10 < least <= power */
    return power / 5 >= least ? power / 5 : power / 2 >= least ? power / 2 : power;
}

double bfi_clock_x(const bfi_clock *clock, double at_ms) {
    double part = (at_ms - clock->from_ms) / (clock->to_ms - clock->from_ms);
    return clock->x0 + bfi_clamp(part, 0, 1) * (clock->x1 - clock->x0);
}

/* Room for "23:00" and the gap to the next, mm; and for "23" when only the first has its minutes. */
#define HOUR_MM 14.5
#define SHORT_HOUR_MM 9.0
#define TICK_MM 1.2

void bfi_draw_clock(bfi_pen *pen, const bfi_clock *clock, double top, double base, double width_mm,
                    int is_labelled) {
    static const double steps_min[] = {1, 2, 5, 10, 15, 30, 60, 120, 180, 360, 720, 1440, 2880};
    double min_per_mm = (clock->to_ms - clock->from_ms) / MS_PER_MIN / (clock->x1 - clock->x0);
    double step = bfi_first_step(steps_min, 13, HOUR_MM * min_per_mm);
    int is_short = step >= 60 && step <= 360;
    if (is_short) step = bfi_first_step(steps_min, 13, bfi_clamp(SHORT_HOUR_MM * min_per_mm, 60, 1440));
    is_short &= step < 1.2 * HOUR_MM * min_per_mm;
    step *= MS_PER_MIN;
    double local = clock->east_min * MS_PER_MIN, last_x = -1;
    for (double at = -floor(-(clock->from_ms + local) / step) * step - local; at <= clock->to_ms;
         at += step) {
        char text[16];
        bfi_pen word = bfi_pen_open(text, sizeof text);
        if (is_short && last_x >= 0)
            put_only_hour(&word, at, clock->east_min);
        else
            bfi_put_hour(&word, at, clock->east_min);
        double x = bfi_clock_x(clock, at), half = 0.5 * bfi_word_width(text);
        bfi_svg_line(pen, "bf-grid", x, top, x, base);
        bfi_svg_line(pen, "bf-p2", x, base, x, base + TICK_MM);
        double middle = bfi_clamp(x, half + BFI_RIM_MM, width_mm - half - BFI_RIM_MM);
        if (!is_labelled || middle - half < last_x + 0.8) continue;
        bfi_svg_text(pen, "bf-mid", middle, base + TICK_MM + 5.5, text);
        last_x = middle + half;
    }
}

/* ---- marks ---- */

const int bfi_outcome_order[BF_N_OUTCOMES] = {BF_LANDED, BF_LOST, BF_TOUCHED, BF_MISSED, BF_FOUL, BF_NOTHING};

const char *const bfi_outcome_words[BF_N_OUTCOMES] = {
    [BF_LANDED] = "Fish", [BF_LOST] = "Lost",       [BF_MISSED] = "Missed",
    [BF_FOUL] = "Foul",   [BF_NOTHING] = "Nothing", [BF_TOUCHED] = "Touch"};

/* Filled with the outcome's colour, or its outline only; crossed out is always an outline at 30 %. */
static const char *const filled[BF_N_OUTCOMES] = {
    [BF_LANDED] = "bf-o-fish", [BF_LOST] = "bf-o-lost",       [BF_MISSED] = "bf-o-missed",
    [BF_FOUL] = "bf-o-foul",   [BF_NOTHING] = "bf-o-nothing", [BF_TOUCHED] = "bf-o-touch"};
static const char *const outlined[BF_N_OUTCOMES] = {
    [BF_LANDED] = "bf-o-fish bf-hollow",     [BF_LOST] = "bf-o-lost bf-hollow",
    [BF_MISSED] = "bf-o-missed bf-hollow",   [BF_FOUL] = "bf-o-foul bf-hollow",
    [BF_NOTHING] = "bf-o-nothing bf-hollow", [BF_TOUCHED] = "bf-o-touch bf-hollow"};

static void draw_cross(bfi_pen *pen, const char *class_names, double x, double y, double half) {
    bfi_svg_path_begin(pen, class_names);
    bfi_svg_point(pen, 'M', x - half, y - half);
    bfi_svg_point(pen, 'L', x + half, y + half);
    bfi_svg_point(pen, 'M', x - half, y + half);
    bfi_svg_point(pen, 'L', x + half, y - half);
    bfi_svg_path_end(pen, 0);
}

static void draw_triangle_down(bfi_pen *pen, const char *class_names, double x, double y, double half) {
    bfi_svg_path_begin(pen, class_names);
    bfi_svg_point(pen, 'M', x - half, y - 0.85 * half);
    bfi_svg_point(pen, 'L', x + half, y - 0.85 * half);
    bfi_svg_point(pen, 'L', x, y + 0.95 * half);
    bfi_svg_path_end(pen, 1);
}

void bfi_draw_outcome(bfi_pen *pen, int outcome, int is_crossed, double x, double y, double radius) {
    static const char *const crossed[BF_N_OUTCOMES] = {
        [BF_LANDED] = "bf-o-fish bf-hollow bf-off",     [BF_LOST] = "bf-o-lost bf-hollow bf-off",
        [BF_MISSED] = "bf-o-missed bf-hollow bf-off",   [BF_FOUL] = "bf-o-foul bf-hollow bf-off",
        [BF_NOTHING] = "bf-o-nothing bf-hollow bf-off", [BF_TOUCHED] = "bf-o-touch bf-hollow bf-off"};
    /* The pen of an outline is 0.45 mm, half of it outside. */
    double inner = radius - 0.22;
    const char *full = is_crossed ? crossed[outcome] : filled[outcome];
    const char *line = is_crossed ? crossed[outcome] : outlined[outcome];
    switch (outcome) {
    case BF_LANDED: bfi_svg_circle(pen, full, x, y, inner); break;
    case BF_LOST:
        bfi_svg_circle(pen, line, x, y, inner);
        bfi_svg_half_disc(pen, full, x, y, inner);
        break;
    case BF_TOUCHED: bfi_svg_circle(pen, line, x, y, inner); break;
    case BF_MISSED: draw_cross(pen, line, x, y, 0.85 * inner); break;
    case BF_FOUL: draw_triangle_down(pen, full, x, y, inner); break;
    case BF_NOTHING: bfi_svg_rect(pen, full, x - inner, y - 0.15, 2 * inner, 0.3); break;
    }
}

void bfi_draw_strips(bfi_pen *pen, const double *x, const double *y, int n) {
    for (int strip = 0; strip < BF_N_DECILES / 2; strip++) {
        bfi_svg_path_begin(pen, "bf-band");
        for (int k = 0; k < n; k++) bfi_svg_point(pen, k ? 'L' : 'M', x[k], y[k * BF_N_DECILES + strip]);
        for (int k = n - 1; k >= 0; k--)
            bfi_svg_point(pen, 'L', x[k], y[k * BF_N_DECILES + BF_N_DECILES - 1 - strip]);
        bfi_svg_path_end(pen, 1);
    }
}
