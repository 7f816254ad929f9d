/* Is it slowing: fish so far over the clock, and below it the moving rate. */
#include <math.h>
#include <string.h>

#include "core/picture/axis.h"
#include "core/picture/panel.h"
#include "core/picture/words.h"

#define PLOT_X 9.0
#define RIGHT_MM 4.5
#define TITLE_MM 7.4
#define BETWEEN_MM 2.6
#define CLOCK_MM 8.0
#define LEAST_STEP_MM 0.15
#define MS_PER_H 3600000.0
/* Of what the two plots share, the upper one's part. */
#define UPPER_PART 0.6

/* ---- checks ---- */

bf_status bfi_catch_check(const bf_catch_view *view) {
    if (view->n_fish < 0 || view->n_fish > BF_CATCH_MOST || view->n_feeds < 0 ||
        view->n_feeds > BF_CATCH_MOST || view->n_rates < 0 || view->n_rates == 1 ||
        view->n_rates > BF_CATCH_MOST_RATES)
        return BF_E_COUNT;
    bf_status status = bfi_check_stretch(view->from_ms, view->to_ms, view->east_min);
    if (!status) status = bfi_check_row(view->fish_ms, view->n_fish, view->from_ms, view->to_ms);
    if (!status) status = bfi_check_row(view->feed_ms, view->n_feeds, view->from_ms, view->to_ms);
    if (!status) status = bfi_check_row(view->rate_ms, view->n_rates, view->from_ms, view->to_ms);
    for (int k = 0; k < view->n_rates && !status; k++) {
        status = bfi_check_row(&view->rate_per_h[k * BF_N_DECILES], BF_N_DECILES, 0, 1e6);
        if (!status && k && view->rate_ms[k] == view->rate_ms[k - 1]) status = BF_E_RANGE;
    }
    return status;
}

/* ---- fish so far ---- */

static double hours(const bf_catch_view *view) {
    return (view->to_ms - view->from_ms) / MS_PER_H;
}

static double mean_per_h(const bf_catch_view *view) {
    return view->n_fish / hours(view);
}

static void draw_feeds(bfi_pen *pen, const bf_catch_view *view, const bfi_clock *clock, double base) {
    double last = -1;
    for (int k = 0; k < view->n_feeds; k++) {
        double x = bfi_clock_x(clock, view->feed_ms[k]);
        if (x < last + LEAST_STEP_MM) continue;
        bfi_svg_line(pen, "bf-stalk", x, base, x, base - 2.4);
        bfi_svg_circle(pen, "bf-feed", x, base - 2.6, 0.75);
        last = x;
    }
}

static void draw_fish(bfi_pen *pen, const bf_catch_view *view, const bfi_clock *clock,
                      const bfi_upright *axis) {
    bfi_svg_path_begin(pen, "bf-p3");
    bfi_svg_point(pen, 'M', axis->x0, axis->base);
    double last = axis->x0, y = axis->base;
    for (int k = 0; k < view->n_fish; k++) {
        double x = bfi_clock_x(clock, view->fish_ms[k]);
        int is_last_here =
            k + 1 == view->n_fish || bfi_clock_x(clock, view->fish_ms[k + 1]) >= last + LEAST_STEP_MM;
        if (!is_last_here) continue;
        bfi_svg_point(pen, 'L', x, y);
        y = bfi_upright_y(axis, k + 1);
        bfi_svg_point(pen, 'L', x, y);
        last = x;
    }
    bfi_svg_point(pen, 'L', axis->x1, y);
    bfi_svg_path_end(pen, 0);
}

static void put_mean(bfi_pen *pen, const bf_catch_view *view) {
    bfi_put_short(pen, mean_per_h(view));
    bfi_put(pen, " an hour");
}

/* What the plot shows, and the line of the mean with a piece of it. */
static void draw_heading(bfi_pen *pen, const bf_catch_view *view, double x1) {
    bfi_svg_text(pen, "bf-label", 2, 4, "fish so far");
    char text[48];
    bfi_pen word = bfi_pen_open(text, sizeof text);
    bfi_put(&word, "mean ");
    put_mean(&word, view);
    double left = x1 - bfi_word_width(text);
    bfi_svg_text(pen, "bf-r", left, 4, text);
    bfi_svg_line(pen, "bf-r2 bf-dash", left - 7.5, 2.6, left - 1.2, 2.6);
}

static void draw_so_far(bfi_pen *pen, const bf_catch_view *view, const bfi_clock *clock,
                        const bfi_upright *axis) {
    bfi_draw_upright(pen, axis);
    draw_feeds(pen, view, clock, axis->base);
    bfi_svg_line(pen, "bf-r2 bf-dash", axis->x0, axis->base, axis->x1, bfi_upright_y(axis, view->n_fish));
    draw_fish(pen, view, clock, axis);
}

/* ---- the moving rate ---- */

static double at_least(double value, double least) {
    return value > least ? value : least;
}

static double largest_rate(const bf_catch_view *view) {
    double most = 0;
    for (int k = 0; k < view->n_rates; k++)
        if (view->rate_per_h[k * BF_N_DECILES + BF_N_DECILES - 1] > most)
            most = view->rate_per_h[k * BF_N_DECILES + BF_N_DECILES - 1];
    return most > 0.001 ? most : 0.001;
}

static void draw_rate(bfi_pen *pen, const bf_catch_view *view, const bfi_clock *clock,
                      const bfi_upright *axis) {
    double x[BF_CATCH_MOST_RATES], y[BF_CATCH_MOST_RATES * BF_N_DECILES];
    for (int k = 0; k < view->n_rates; k++) x[k] = bfi_clock_x(clock, view->rate_ms[k]);
    for (int k = 0; k < view->n_rates * BF_N_DECILES; k++) y[k] = bfi_upright_y(axis, view->rate_per_h[k]);
    bfi_draw_strips(pen, x, y, view->n_rates);
    bfi_svg_path_begin(pen, "bf-r3 bf-dash");
    for (int k = 0; k < view->n_rates; k++)
        bfi_svg_point(pen, k ? 'L' : 'M', x[k], y[k * BF_N_DECILES + BF_N_DECILES / 2]);
    bfi_svg_path_end(pen, 0);
    bfi_draw_upright(pen, axis);
    bfi_svg_text(pen, "bf-r", 2, axis->top - 3.4, "fish an hour, with its 8-in-10 band");
}

void bfi_catch_draw(bfi_pen *pen, const bf_catch_view *view, double width_mm, double height_mm) {
    int has_rate = view->n_rates > 0;
    double x1 = width_mm - RIGHT_MM;
    double plots = height_mm - TITLE_MM - CLOCK_MM - (has_rate ? BETWEEN_MM + TITLE_MM : 0);
    bfi_upright fish = {
        0, x1, TITLE_MM, TITLE_MM + plots * (has_rate ? UPPER_PART : 1), at_least(view->n_fish, 4), 1};
    bfi_upright rate = {0,    x1, fish.base + BETWEEN_MM + TITLE_MM, height_mm - CLOCK_MM, largest_rate(view),
                        0.001};
    fish.x0 = rate.x0 = has_rate
                            ? at_least(bfi_upright_room_mm(&fish, PLOT_X), bfi_upright_room_mm(&rate, PLOT_X))
                            : bfi_upright_room_mm(&fish, PLOT_X);
    bfi_clock clock = {view->from_ms, view->to_ms, view->east_min, fish.x0, x1};
    draw_heading(pen, view, x1);
    bfi_draw_clock(pen, &clock, fish.top, fish.base, width_mm, !has_rate);
    draw_so_far(pen, view, &clock, &fish);
    if (!has_rate) return;
    bfi_draw_clock(pen, &clock, rate.top, rate.base, width_mm, 1);
    draw_rate(pen, view, &clock, &rate);
}

/* ---- what it says ---- */

#define BEST_MS 1800000.0

/* The half hour with the most fish: how many, and with which it begins. */
static int best_half_hour(const bf_catch_view *view, int *first) {
    int most = 0;
    for (int k = 0, end = 0; k < view->n_fish; k++) {
        while (end < view->n_fish && view->fish_ms[end] < view->fish_ms[k] + BEST_MS) end += 1;
        if (end - k > most) {
            most = end - k;
            *first = k;
        }
    }
    return most;
}

static void put_last_rate(bfi_pen *pen, const bf_catch_view *view) {
    const double *last = &view->rate_per_h[(view->n_rates - 1) * BF_N_DECILES];
    bfi_put_short(pen, last[BF_N_DECILES / 2]);
    bfi_put(pen, " an hour (");
    bfi_put_short(pen, last[0]);
    bfi_put(pen, "-");
    bfi_put_short(pen, last[BF_N_DECILES - 1]);
    bfi_put(pen, ")");
}

static void tell(const bf_catch_view *view, bf_picture *picture) {
    bfi_pen pen = bfi_pen_open(picture->finding, sizeof picture->finding);
    double long_s = (view->to_ms - view->from_ms) / 1000;
    bfi_put_count(&pen, view->n_fish, "fish", "fish");
    bfi_put(&pen, " in ");
    bfi_put_span(&pen, long_s);
    bfi_put(&pen, ", ");
    put_mean(&pen, view);
    if (view->n_rates) {
        bfi_put(&pen, "; at the end about ");
        put_last_rate(&pen, view);
    }
    bfi_put(&pen, ".");

    pen = bfi_row_open(picture, "Fish");
    bfi_put_number(&pen, view->n_fish, 0);
    pen = bfi_row_open(picture, "Over");
    bfi_put_span(&pen, long_s);
    pen = bfi_row_open(picture, "Mean");
    put_mean(&pen, view);
    pen = bfi_row_open(picture, "Put-ins");
    bfi_put_number(&pen, view->n_feeds, 0);
    int first = 0, most = best_half_hour(view, &first);
    if (most > 1 && long_s * 1000 >= 2 * BEST_MS) {
        pen = bfi_row_open(picture, "Most in half an hour");
        bfi_put_number(&pen, most, 0);
        bfi_put(&pen, ", from ");
        bfi_put_hour(&pen, view->fish_ms[first], view->east_min);
    }
    for (int quarter = 0; quarter < 4; quarter++) {
        double from = view->from_ms + 0.25 * quarter * (view->to_ms - view->from_ms),
               to = view->from_ms + 0.25 * (quarter + 1) * (view->to_ms - view->from_ms);
        int n = 0;
        for (int k = 0; k < view->n_fish; k++)
            n += (view->fish_ms[k] > from || quarter == 0) && view->fish_ms[k] <= to;
        char heading[40];
        bfi_pen words = bfi_pen_open(heading, sizeof heading);
        bfi_put_hour(&words, from, view->east_min);
        bfi_put(&words, " to ");
        bfi_put_hour(&words, to, view->east_min);
        pen = bfi_row_open(picture, heading);
        bfi_put_number(&pen, n, 0);
    }
    if (view->n_rates) {
        pen = bfi_row_open(picture, "At the end, 8 times in 10");
        put_last_rate(&pen, view);
    }
}

bf_status bf_picture_catch(const bf_catch_view *view, char *svg, size_t most, bf_picture *picture) {
    memset(picture, 0, sizeof *picture);
    bfi_pen pen = bfi_pen_open(svg, most);
    bf_status status = bfi_check_look_and_width(view->look, view->width_mm);
    if (!status) status = bfi_catch_check(view);
    if (status) return status;
    tell(view, picture);
    double height = view->n_rates ? 82 : 54;
    bfi_svg_open(&pen, "catch", view->width_mm, height, view->look, "Fish so far", picture->finding);
    bfi_catch_draw(&pen, view, view->width_mm, height);
    bfi_svg_close(&pen);
    return bfi_picture_end(&pen, picture);
}
