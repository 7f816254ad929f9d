/* The fall seen from the side, the bank to the left. The sheet, in mm:
 *
 *     y 0 .. 19     air: what brings the feed out, pole and pot
 *     y 19 .. 61    water, from the surface to the deepest the bottom may be below x = 0
 *     y 61 ..       the bottom, with up to 12 mm more where it falls away; then the captions, one a row
 */
#include <math.h>
#include <string.h>

#include "baitfall/picture.h"
#include "core/picture/swim.h"
#include "core/picture/words.h"

#define SURFACE_Y 19.0
#define DEPTH_MM 42.0
/* Where feed may be drawn: left of it the water-level sign, right of it the times. */
#define FEED_MIDDLE_X 45.0
#define FEED_MOST_MM 34.0

typedef struct bounds {
    double least, most;
} bounds;

/* Everything that is drawn, outward; the place of the release among it. */
static bounds bounds_of(const bf_side_view *view) {
    bounds b = {view->wide_lo_x_m < 0 ? view->wide_lo_x_m : 0, view->wide_hi_x_m > 0 ? view->wide_hi_x_m : 0};
    const double *const lists[] = {view->step_x_m, view->piece_x_m};
    const int counts[] = {view->n_steps, view->n_pieces};
    for (int list = 0; list < 2; list++)
        for (int k = 0; k < counts[list]; k++) {
            if (lists[list][k] < b.least) b.least = lists[list][k];
            if (lists[list][k] > b.most) b.most = lists[list][k];
        }
    return b;
}

/* ---- in the air ---- */

static void put_how(bfi_pen *pen, const bf_side_view *view) {
    static const char *const words[] = {"pole pot", "shaken pot", "by catapult", "by hand"};
    bfi_put(pen, words[view->how]);
    if (!(fabs(view->distance_m) >= 0)) return;
    bfi_put(pen, ", ");
    bfi_put_number(pen, view->distance_m, 1);
    bfi_put(pen, " m out");
}

static void draw_air(bfi_swim *s) {
    char text[64];
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    put_how(&pen, s->view);
    bfi_svg_text(&s->pen, "bf-label", BFI_WATER_X0, 5.4, text);

    double x = bfi_swim_across(s, s->view->step_x_m[0]);
    if (s->view->how == BF_THROW || s->view->how == BF_HAND) {
        bfi_svg_path_begin(&s->pen, "bf-r2 bf-dash");
        /* A parabola that comes down at the place where the feed meets the water. */
        for (int k = 0; k <= 12; k++) {
            double part = k / 12.0;
            double y = 12 - 12 * part * (1 - part) + (SURFACE_Y - 1 - 12) * part * part;
            bfi_svg_point(&s->pen, k ? 'L' : 'M', BFI_WATER_X0 + 8 + part * (x - BFI_WATER_X0 - 8), y);
        }
        bfi_svg_path_end(&s->pen, 0);
        return;
    }
    /* The pot hangs a little behind the pole's tip. */
    bfi_draw_pole(&s->pen, x + 4);
    bfi_draw_pot(&s->pen, x);
}

/* ---- captions ---- */

/* The rows under the bottom. */
static void draw_captions(bfi_swim *s, const bf_labels *labels) {
    char text[160];
    int row = 0;
    bfi_draw_bracket(s, s->base_y + 1.9);
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    bfi_put(&pen, "9 in 10 in ");
    bfi_put_length(&pen, s->view->wide_hi_x_m - s->view->wide_lo_x_m);
    bfi_put(&pen, ", outward");
    bfi_draw_caption(&s->pen, s->base_y, row++, "bf-wet bf-r", text);
    if (labels->time.text[0]) {
        pen = bfi_pen_open(text, sizeof text);
        bfi_put(&pen, "9 in 10 down in ");
        bfi_put(&pen, labels->time.text);
        bfi_draw_caption(&s->pen, s->base_y, row++, "bf-wet bf-r bf-key", text);
    }
    pen = bfi_pen_open(text, sizeof text);
    bfi_put(&pen, labels->depth.text);
    int is_deep = labels->depth.text[0] != 0;
    if (is_deep && s->view->bottom >= 0) bfi_put(&pen, ", ");
    if (!is_deep || s->view->bottom >= 0) bfi_put(&pen, bfi_bottom_word(s->view->bottom));
    bfi_draw_caption(&s->pen, s->base_y, row++, "bf-wet bf-key", text);
    if (bfi_swim_narrower(s) > 1.05) {
        pen = bfi_pen_open(text, sizeof text);
        bfi_put(&pen, "width drawn ");
        bfi_put_number(&pen, bfi_swim_narrower(s), bfi_swim_narrower(s) < 10);
        bfi_put(&pen, " times narrower");
        bfi_draw_caption(&s->pen, s->base_y, row, "bf-label", text);
    }
}

/* ---- what it says ---- */

static void tell(const bfi_swim *s, const bf_labels *labels, bf_picture *picture) {
    const bf_side_view *view = s->view;
    double fall_s = view->step_s[view->n_steps - 1] - view->step_s[0];
    bfi_pen pen = bfi_pen_open(picture->finding, sizeof picture->finding);
    bfi_put(&pen, "A typical piece");
    if (labels->bait.text[0]) {
        bfi_put(&pen, " (");
        bfi_put(&pen, labels->bait.text);
        bfi_put(&pen, ")");
    }
    bfi_put(&pen, " sinks ");
    bfi_put_depth(&pen, view, labels);
    bfi_put(&pen, " in about ");
    bfi_put_time(&pen, fall_s);
    if (labels->time.text[0]) {
        bfi_put(&pen, "; nine in ten are down ");
        bfi_put(&pen, labels->time.text);
        bfi_put(&pen, " after the put-in begins");
    }
    bfi_put(&pen, ".");

    pen = bfi_row_open(picture, "Depth");
    bfi_put_depth(&pen, view, labels);
    pen = bfi_row_open(picture, "Bottom");
    bfi_put_bottom(&pen, view);
    bfi_time_line lines[BFI_MOST_TIMES];
    int n = bfi_choose_times(view, lines);
    for (int k = 0; k < n; k++) {
        char heading[32];
        bfi_pen head = bfi_pen_open(heading, sizeof heading);
        bfi_put(&head, "After ");
        bfi_put_time(&head, lines[k].time_s);
        pen = bfi_row_open(picture, heading);
        bfi_put_length(&pen, lines[k].z_m);
        bfi_put(&pen, " down");
    }
    pen = bfi_row_open(picture, "Typical piece on the bottom");
    bfi_put_time(&pen, fall_s);
    if (labels->time.text[0]) {
        pen = bfi_row_open(picture, "9 in 10 on the bottom");
        bfi_put(&pen, labels->time.text);
    }
    pen = bfi_row_open(picture, "9 in 10 outward, over many put-ins");
    bfi_put_length(&pen, view->wide_hi_x_m - view->wide_lo_x_m);
    if (labels->wide.text[0]) {
        pen = bfi_row_open(picture, "Ring that holds 9 in 10 of one put-in");
        bfi_put(&pen, labels->wide.text);
    }
}

bf_status bf_picture_side(const bf_side_view *view, const bf_labels *labels, char *svg, size_t most,
                          bf_picture *picture) {
    memset(picture, 0, sizeof *picture);
    bfi_swim s = {.view = view,
                  .pen = bfi_pen_open(svg, most),
                  .surface_y = SURFACE_Y,
                  .deepest_mm = DEPTH_MM,
                  .middle_x = FEED_MIDDLE_X};
    bf_status status = bfi_swim_check_feed(view);
    if (!status) status = bfi_swim_check_water(view);
    if (status) return status;
    bounds drawn = bounds_of(view);
    bfi_swim_scale(&s, drawn.least, drawn.most, FEED_MOST_MM);
    tell(&s, labels, picture);

    int n_rows = 2 + (labels->time.text[0] != 0) + (bfi_swim_narrower(&s) > 1.05);
    bfi_svg_open(&s.pen, "side", BFI_SIDE_WIDTH_MM, s.base_y + 4 + BFI_SIDE_ROW_MM * n_rows, view->look,
                 "How the feed falls, from the side", picture->finding);
    bfi_draw_swim(&s);
    bfi_draw_staff(&s);
    draw_air(&s);
    bfi_draw_feed(&s);
    bfi_draw_times(&s, bfi_swim_across(&s, drawn.most) + 3, BF_INFINITY);
    draw_captions(&s, labels);
    bfi_svg_close(&s.pen);
    return bfi_picture_end(&s.pen, picture);
}
