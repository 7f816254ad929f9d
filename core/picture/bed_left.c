/* Feed left over the last stretch: strips over the clock, put-ins at its foot, twenty dots for now on the same scale. */
#include <math.h>
#include <string.h>

#include "core/picture/axis.h"
#include "core/picture/bed.h"
#include "core/picture/words.h"

#define HEIGHT_MM 78.0
#define HEADING_Y 4.0
#define AMOUNTS_Y 10.2
#define TOP_MM 13.0
#define BASE_MM 59.0
#define CAPTION_Y 71.0
#define LEAST_NUMBERS_MM 9.0
/* The room of the dots, right of the line that is now. */
#define DOTS_MM 22.0
#define RIGHT_MM 1.5
#define MOST_DOT_MM 2.7
#define LEAST_DOT_MM 1.1
#define STALK_MM 2.4
/* Between two stalks. */
#define LEAST_STEP_MM 0.5
#define LEAST_STRETCH_S 600.0
#define MS_PER_S 1000.0

typedef struct sheet {
    const bf_bed_view *view;
    bfi_pen pen;
    bfi_clock clock;
    bfi_upright axis;
} sheet;

/* ---- scales ---- */

static double most_pieces(const bf_bed *bed) {
    double most = bed->left_dot[BF_N_DOTS - 1] > bed->left.hi ? bed->left_dot[BF_N_DOTS - 1] : bed->left.hi;
    for (int k = 0; k < bed->n_points; k++)
        if (bed->point[k].left.hi > most) most = bed->point[k].left.hi;
    return most > 8 ? 1.04 * most : 8;
}

static void set_scales(sheet *s) {
    const bf_bed_view *view = s->view;
    double now_s = view->bed->t_s, back_s = bfi_clamp(now_s, LEAST_STRETCH_S, view->span_s);
    double now_ms = view->start_ms + MS_PER_S * now_s;
    s->axis = (bfi_upright){.x1 = view->width_mm - DOTS_MM, .top = TOP_MM, .base = BASE_MM, .least = 1};
    s->axis.most = most_pieces(view->bed);
    s->axis.x0 = bfi_upright_room_mm(&s->axis, LEAST_NUMBERS_MM);
    s->clock = (bfi_clock){now_ms - MS_PER_S * back_s, now_ms, view->east_min, s->axis.x0, s->axis.x1};
}

/* ---- the belief ---- */

static void add_place(const sheet *s, double t_s, const bf_range *left, double *x, double *y) {
    double decile[BF_N_DECILES];
    bfi_range_deciles(left, decile);
    *x = bfi_clock_x(&s->clock, s->view->start_ms + MS_PER_S * t_s);
    for (int j = 0; j < BF_N_DECILES; j++) y[j] = bfi_upright_y(&s->axis, decile[j]);
}

static void draw_belief(sheet *s) {
    const bf_bed *bed = s->view->bed;
    double x[BF_BELIEF_MOST_MARKS + 1], y[(BF_BELIEF_MOST_MARKS + 1) * BF_N_DECILES];
    int n = 0;
    for (int k = 0; k < bed->n_points; k++) {
        if (s->view->start_ms + MS_PER_S * bed->point[k].t_s < s->clock.from_ms) continue;
        add_place(s, bed->point[k].t_s, &bed->point[k].left, &x[n], &y[n * BF_N_DECILES]);
        n += 1;
    }
    add_place(s, bed->t_s, &bed->left, &x[n], &y[n * BF_N_DECILES]);
    n += 1;
    if (n < 2) return;
    bfi_draw_strips(&s->pen, x, y, n);
    bfi_svg_path_begin(&s->pen, "bf-r3 bf-dash");
    for (int k = 0; k < n; k++)
        bfi_svg_point(&s->pen, k ? 'L' : 'M', x[k], y[k * BF_N_DECILES + BF_N_DECILES / 2]);
    bfi_svg_path_end(&s->pen, 0);
}

static void draw_now(sheet *s) {
    const bf_bed *bed = s->view->bed;
    double at[BF_N_DOTS], left = s->axis.x1, right = s->view->width_mm - RIGHT_MM;
    for (int k = 0; k < BF_N_DOTS; k++)
        at[k] = s->axis.base - bfi_upright_y(&s->axis, bed->left_dot[k]); /* above the base */
    bfi_heap heap = bfi_heap_of(at, 0, 0, MOST_DOT_MM, LEAST_DOT_MM, right - left - 1);
    for (int k = 0; k < BF_N_DOTS; k++)
        bfi_draw_dot(&s->pen, &heap, k, 0, left + 1 + (heap.level[k] + 0.5) * heap.dot_mm,
                     s->axis.base - heap.start - (heap.column[k] + 0.5) * heap.dot_mm);
    bfi_svg_line(&s->pen, "bf-p2", left, AMOUNTS_Y - 3, left, s->axis.base);
    bfi_svg_text(&s->pen, "bf-label", left + 1.4, AMOUNTS_Y, "now");
}

/* ---- what was put in ---- */

static void draw_stalk(sheet *s, double x) {
    double base = s->axis.base;
    bfi_svg_line(&s->pen, "bf-stalk", x, base, x, base - STALK_MM);
    bfi_svg_circle(&s->pen, "bf-feed", x, base - STALK_MM - 0.2, 0.75);
}

/* Its amount over the plot, if it keeps clear of the newer one's left edge; returns its own. */
static double draw_amount(sheet *s, double x, double count, double newer) {
    char text[24];
    bfi_pen word = bfi_pen_open(text, sizeof text);
    bfi_put(&word, "+");
    bfi_put_number(&word, count, 0);
    double half = 0.5 * bfi_word_width(text);
    double middle = bfi_clamp(x, s->axis.x0 + half, s->axis.x1 - half - 0.8);
    if (middle + half > newer - 1.2) return newer;
    bfi_svg_line(&s->pen, "bf-p1", x, AMOUNTS_Y + 1, x, TOP_MM);
    bfi_svg_text(&s->pen, "bf-mid", middle, AMOUNTS_Y, text);
    return middle - half;
}

/* From the newest back: its amount is the one that is wanted. */
static void draw_feeds(sheet *s) {
    const bf_bed_view *view = s->view;
    double newer_stalk = s->view->width_mm, newer_amount = s->axis.x1 + 1.2;
    for (int k = view->n_feeds - 1; k >= 0 && view->feed[k].at_ms >= s->clock.from_ms; k--) {
        double x = bfi_clock_x(&s->clock, view->feed[k].at_ms), count = view->feed[k].count;
        if (x > newer_stalk - LEAST_STEP_MM) continue;
        draw_stalk(s, x);
        newer_stalk = x;
        if (count == count) newer_amount = draw_amount(s, x, count, newer_amount);
    }
}

/* ---- words ---- */

static void draw_words(sheet *s) {
    double room = s->view->width_mm - 4;
    bfi_svg_fitted(&s->pen, "bf-wet bf-r", 2, HEADING_Y, room, "pieces left, reckoned");
    bfi_svg_text(&s->pen, "bf-label", 2, CAPTION_Y, "Stalks: put-ins. A dot: 1 in 20.");
    bfi_svg_fitted(&s->pen, "bf-r", 2, CAPTION_Y + BFI_ROW_MM, room, BFI_RECKONED);
    if (bfi_bed_is_fed(s->view)) return;
    bfi_svg_fitted(&s->pen, "bf-clear", s->axis.x0 + 3, 0.5 * (TOP_MM + BASE_MM), s->axis.x1 - s->axis.x0 - 4,
                   "nothing put in yet");
}

static void tell_point(bf_picture *picture, const bf_bed_view *view, double back_s) {
    const bf_bed *bed = view->bed;
    const bf_bed_point *found = NULL;
    for (int k = 0; k < bed->n_points; k++)
        if (bed->point[k].t_s <= bed->t_s - back_s) found = &bed->point[k];
    if (!found || bed->t_s - found->t_s > view->span_s) return;
    char heading[40];
    bfi_pen words = bfi_pen_open(heading, sizeof heading);
    bfi_put_hour(&words, view->start_ms + MS_PER_S * found->t_s, view->east_min);
    bfi_pen pen = bfi_row_open(picture, heading);
    bfi_put_pieces(&pen, &found->left);
}

static void tell(const bf_bed_view *view, bf_picture *picture) {
    const bf_bed *bed = view->bed;
    bfi_pen pen = bfi_pen_open(picture->finding, sizeof picture->finding);
    if (bfi_bed_is_fed(view)) {
        bfi_put(&pen, "Last put-in: ");
        bfi_put_last_feed(&pen, view);
        bfi_put(&pen, ". Left by our reckoning: ");
        bfi_put_pieces(&pen, &bed->left);
        bfi_put(&pen, ", 8 times in 10.");
    } else {
        bfi_put(&pen, "Nothing has been put in here yet.");
    }
    pen = bfi_row_open(picture, "Last put-in");
    if (bfi_bed_is_fed(view))
        bfi_put_last_feed(&pen, view);
    else
        bfi_put(&pen, "none yet");
    pen = bfi_row_open(picture, "Put-ins so far");
    bfi_put_number(&pen, view->n_feeds, 0);
    pen = bfi_row_open(picture, "Left now, reckoned");
    bfi_put_pieces(&pen, &bed->left);
    static const double back_min[] = {15, 30, 60};
    for (int k = 0; k < 3; k++) tell_point(picture, view, 60 * back_min[k]);
}

bf_status bf_picture_bed_left(const bf_bed_view *view, char *svg, size_t most, bf_picture *picture) {
    memset(picture, 0, sizeof *picture);
    sheet s = {.view = view, .pen = bfi_pen_open(svg, most)};
    bf_status status = bfi_bed_check(view);
    if (status) return status;
    tell(view, picture);
    set_scales(&s);
    bfi_svg_open(&s.pen, "bed-left", view->width_mm, HEIGHT_MM, view->look, "Feed left. " BFI_RECKONED,
                 picture->finding);
    bfi_draw_clock(&s.pen, &s.clock, TOP_MM, BASE_MM, s.axis.x1 + 6, 1);
    draw_belief(&s);
    bfi_draw_upright(&s.pen, &s.axis);
    draw_now(&s);
    draw_feeds(&s);
    draw_words(&s);
    bfi_svg_close(&s.pen);
    return bfi_picture_end(&s.pen, picture);
}
