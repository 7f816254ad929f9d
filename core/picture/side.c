/* The fall seen from the side, the bank to the left. The sheet, in mm:
 *
 *     y 0 .. 19     air: what brings the feed out, pole and pot
 *     y 19 .. 61    water, from the surface to the deepest the bottom may be below x = 0
 *     y 61 ..       the bottom, with up to 12 mm more where it falls away; then the captions, one a row
 *     x 0 .. 19     depth staff, metres left and feet right;  x 19 .. 80 the water
 */
#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"
#include "baitfall/picture.h"
#include "core/picture/chart.h"
#include "core/picture/place.h"
#include "core/picture/svg.h"
#include "core/picture/words.h"

#define WIDTH_MM 80.0
#define WATER_X0 19.0
#define WATER_X1 80.0
#define SURFACE_Y 19.0
#define DEPTH_MM 42.0
#define FALL_AWAY_MM 12.0
#define BED_MM 6.4
/* Where feed may be drawn: left of it the water-level sign, right of it the times. */
#define FEED_MIDDLE_X 45.0
#define FEED_MOST_MM 34.0
#define ROW_MM 5.4
#define STAFF_X 9.2
#define STAFF_MM 2.0
/* Half the height of a figure: moves a word so that it stands level with its line. */
#define HALF_FIGURE_MM 1.45

static const char *const bottom_words[] = {"clay", "silt", "gravel", "weed"};

typedef struct sheet {
    const bf_side_view *view;
    bfi_pen pen;
    double x_mm_per_m, z_mm_per_m;
    double mid_x_m;
    double slope; /* mm down per mm across, as drawn */
    double right_of_feed_mm;
    double base_y; /* lower edge of the bottom */
} sheet;

static double across_mm(const sheet *s, double x_m) {
    return FEED_MIDDLE_X + (x_m - s->mid_x_m) * s->x_mm_per_m;
}

static double down_mm(const sheet *s, double z_m) {
    return SURFACE_Y + z_m * s->z_mm_per_m;
}

/* The bottom's line, for a depth of depth_m below x = 0, before it is cut at the surface and at the sheet's depth. */
static double bed_uncut_mm(const sheet *s, double depth_m, double across) {
    return down_mm(s, depth_m) + s->slope * (across - across_mm(s, 0));
}

/* Cut at the surface, where it is dry bank, and at the sheet's lower edge, where it falls away. */
static double bed_mm(const sheet *s, double depth_m, double across) {
    double y = bed_uncut_mm(s, depth_m, across);
    return y < SURFACE_Y ? SURFACE_Y : y > s->base_y ? s->base_y : y;
}

static int bed_is_cut(const sheet *s, double depth_m, double across) {
    double uncut = bed_uncut_mm(s, depth_m, across);
    return uncut < SURFACE_Y || uncut > s->base_y;
}

/* ---- checks ---- */

static int all_finite(const double *numbers, int n) {
    for (int k = 0; k < n; k++)
        if (!(fabs(numbers[k]) < BF_INFINITY)) return 0;
    return 1;
}

static int all_within(const double *numbers, int n, double most) {
    for (int k = 0; k < n; k++)
        if (fabs(numbers[k]) > most) return 0;
    return 1;
}

static bf_status check_view(const bf_side_view *view) {
    if (view->n_steps < 2 || view->n_steps > BF_SIDE_MOST_STEPS || view->n_pieces < 0 ||
        view->n_pieces > BF_SIDE_MOST_PIECES)
        return BF_E_COUNT;
    const double numbers[] = {view->depth_m,   view->depth_lo_m,  view->depth_hi_m,
                              view->slope_deg, view->wide_lo_x_m, view->wide_hi_x_m};
    if (!all_finite(numbers, 6) || !all_finite(view->step_s, view->n_steps) ||
        !all_finite(view->step_x_m, view->n_steps) || !all_finite(view->step_z_m, view->n_steps) ||
        !all_finite(view->piece_x_m, view->n_pieces) || fabs(view->distance_m) == BF_INFINITY)
        return BF_E_NOT_FINITE;
    for (int k = 1; k < view->n_steps; k++)
        if (view->step_s[k] <= view->step_s[k - 1] || view->step_z_m[k] < view->step_z_m[k - 1])
            return BF_E_RANGE;
    int is_fine =
        view->depth_m >= 0.01 && view->depth_m <= 1e3 && view->depth_lo_m > 0 &&
        view->depth_lo_m <= view->depth_m && view->depth_hi_m >= view->depth_m && view->depth_hi_m <= 1e3 &&
        fabs(view->slope_deg) <= 80 && view->bottom >= BF_CLAY && view->bottom <= BF_WEED &&
        view->how >= BF_CLUMP && view->how <= BF_HAND && view->look >= BF_LOOK_OPEN &&
        view->look <= BF_LOOK_DUSK && view->step_s[0] >= 0 && view->step_s[view->n_steps - 1] <= 1e5 &&
        view->step_z_m[0] >= 0 && view->wide_lo_x_m <= view->wide_hi_x_m && !(fabs(view->distance_m) > 1e4) &&
        all_within(view->step_x_m, view->n_steps, 1e4) && all_within(view->step_z_m, view->n_steps, 1e4) &&
        all_within(view->piece_x_m, view->n_pieces, 1e4) && fabs(view->wide_lo_x_m) <= 1e4 &&
        fabs(view->wide_hi_x_m) <= 1e4;
    return is_fine ? BF_OK : BF_E_RANGE;
}

/* ---- scale ---- */

static void choose_scale(sheet *s) {
    const bf_side_view *view = s->view;
    double least = view->wide_lo_x_m < 0 ? view->wide_lo_x_m : 0,
           most = view->wide_hi_x_m > 0 ? view->wide_hi_x_m : 0;
    const double *const lists[] = {view->step_x_m, view->piece_x_m};
    const int counts[] = {view->n_steps, view->n_pieces};
    for (int list = 0; list < 2; list++)
        for (int k = 0; k < counts[list]; k++) {
            if (lists[list][k] < least) least = lists[list][k];
            if (lists[list][k] > most) most = lists[list][k];
        }
    s->mid_x_m = 0.5 * (least + most);
    s->z_mm_per_m = DEPTH_MM / view->depth_hi_m;
    s->x_mm_per_m = s->z_mm_per_m;
    if ((most - least) * s->x_mm_per_m > FEED_MOST_MM) s->x_mm_per_m = FEED_MOST_MM / (most - least);
    s->slope = bf_tan(view->slope_deg * BF_RAD_PER_DEG) * s->z_mm_per_m / s->x_mm_per_m;
    s->right_of_feed_mm = across_mm(s, most);
    s->base_y = SURFACE_Y + DEPTH_MM + FALL_AWAY_MM;
    double left = bed_mm(s, view->depth_hi_m, WATER_X0), right = bed_mm(s, view->depth_hi_m, WATER_X1);
    s->base_y = (left > right ? left : right) + BED_MM;
}

/* ---- water and bottom ---- */

/* The part of the bottom's line, from left to right, that is not cut. */
static bfi_segment uncut_bed(const sheet *s, double depth_m) {
    double from = WATER_X0, to = WATER_X1;
    if (s->slope != 0) {
        double origin = across_mm(s, 0);
        double dry = origin + (SURFACE_Y - down_mm(s, depth_m)) / s->slope;
        double gone = origin + (s->base_y - down_mm(s, depth_m)) / s->slope;
        double first = s->slope > 0 ? dry : gone, last = s->slope > 0 ? gone : dry;
        from = bfi_clamp(first, WATER_X0, WATER_X1);
        to = bfi_clamp(last, WATER_X0, WATER_X1);
    }
    return (bfi_segment){from, bed_mm(s, depth_m, from), to, bed_mm(s, depth_m, to)};
}

static void draw_bed_line(sheet *s, double depth_m, const char *class_names) {
    bfi_segment line = uncut_bed(s, depth_m);
    bfi_svg_line(&s->pen, class_names, line.x0, line.y0, line.x1, line.y1);
}

static void draw_bed(sheet *s, double depth_m) {
    bfi_segment line = uncut_bed(s, depth_m);
    bfi_svg_path_begin(&s->pen, "bf-bed");
    bfi_svg_point(&s->pen, 'M', WATER_X0, s->base_y);
    bfi_svg_point(&s->pen, 'L', WATER_X0, bed_mm(s, depth_m, WATER_X0));
    bfi_svg_point(&s->pen, 'L', line.x0, line.y0);
    bfi_svg_point(&s->pen, 'L', line.x1, line.y1);
    bfi_svg_point(&s->pen, 'L', WATER_X1, bed_mm(s, depth_m, WATER_X1));
    bfi_svg_point(&s->pen, 'L', WATER_X1, s->base_y);
    bfi_svg_path_end(&s->pen, 1);
}

/* Silt: broken dashes and dots in three rows. */
static void draw_silt(sheet *s) {
    static const double dash_mm[] = {2.4, 1.6, 0.3, 2.4, 0.3, 1.6, 2.4}, gap_mm[] = {2.1, 2.8, 2.4, 2.2, 2.9};
    bfi_svg_path_begin(&s->pen, "bf-kind");
    for (int row = 0, k = 0; row < 3; row++)
        for (double x = WATER_X0 + 1 + 1.7 * row; x < WATER_X1 - 2.6; k++) {
            double to = x + dash_mm[k % 7], y = 1.9 + 1.6 * row;
            if (!bed_is_cut(s, s->view->depth_m, x) && !bed_is_cut(s, s->view->depth_m, to)) {
                bfi_svg_point(&s->pen, 'M', x, bed_mm(s, s->view->depth_m, x) + y);
                bfi_svg_point(&s->pen, 'L', to, bed_mm(s, s->view->depth_m, to) + y);
            }
            x = to + gap_mm[k % 5];
        }
    bfi_svg_path_end(&s->pen, 0);
}

static void draw_gravel(sheet *s) {
    static const double radius_mm[] = {0.7, 0.5, 0.8, 0.6, 0.5};
    for (int row = 0, k = 0; row < 2; row++)
        for (double x = WATER_X0 + 1.6 + 1.4 * row; x < WATER_X1 - 1; x += 2.9, k++)
            if (!bed_is_cut(s, s->view->depth_m, x))
                bfi_svg_circle(&s->pen, "bf-kind", x, bed_mm(s, s->view->depth_m, x) + 2 + 2.1 * row,
                               radius_mm[k % 5]);
}

/* Weed: upright ticks on the bottom. */
static void draw_weed(sheet *s) {
    static const double height_mm[] = {2.6, 1.8, 3, 2.2};
    bfi_svg_path_begin(&s->pen, "bf-kind");
    int k = 0;
    for (double x = WATER_X0 + 1.5; x < WATER_X1 - 0.5; x += 1.9, k++) {
        if (bed_is_cut(s, s->view->depth_m, x)) continue;
        double y = bed_mm(s, s->view->depth_m, x), top = y - height_mm[k % 4];
        bfi_svg_point(&s->pen, 'M', x, y);
        bfi_svg_point(&s->pen, 'L', x, top < SURFACE_Y ? SURFACE_Y : top);
    }
    bfi_svg_path_end(&s->pen, 0);
}

static void draw_water_and_bottom(sheet *s) {
    const bf_side_view *view = s->view;
    double half = SURFACE_Y + 0.5 * DEPTH_MM;
    bfi_svg_rect(&s->pen, "bf-water", WATER_X0, SURFACE_Y, WATER_X1 - WATER_X0, half - SURFACE_Y);
    bfi_svg_rect(&s->pen, "bf-deep", WATER_X0, half, WATER_X1 - WATER_X0, s->base_y - half);
    draw_bed(s, view->depth_m);
    if (view->bottom == BF_SILT) draw_silt(s);
    if (view->bottom == BF_GRAVEL) draw_gravel(s);
    if (view->bottom == BF_WEED) draw_weed(s);
    if ((view->depth_hi_m - view->depth_lo_m) * s->z_mm_per_m > 1) {
        draw_bed_line(s, view->depth_lo_m, "bf-r2 bf-dash");
        draw_bed_line(s, view->depth_hi_m, "bf-r2 bf-dash");
    }
    draw_bed_line(s, view->depth_m, "bf-p4");
    bfi_svg_line(&s->pen, "bf-p3", 0, SURFACE_Y, WIDTH_MM, SURFACE_Y);
    /* The engineers' sign for a free water surface. */
    const double x = 23;
    bfi_svg_path_begin(&s->pen, "bf-p2");
    bfi_svg_point(&s->pen, 'M', x - 1.6, SURFACE_Y - 2.9);
    bfi_svg_point(&s->pen, 'L', x + 1.6, SURFACE_Y - 2.9);
    bfi_svg_point(&s->pen, 'L', x, SURFACE_Y - 0.2);
    bfi_svg_path_end(&s->pen, 1);
    bfi_svg_line(&s->pen, "bf-p1", x - 1.1, SURFACE_Y + 1.1, x + 1.1, SURFACE_Y + 1.1);
    bfi_svg_line(&s->pen, "bf-p1", x - 0.5, SURFACE_Y + 2, x + 0.5, SURFACE_Y + 2);
}

/* ---- staff ---- */

static void put_figure(char *text, size_t most, double value) {
    bfi_pen pen = bfi_pen_open(text, most);
    bfi_put_number(&pen, value, 1);
}

static void draw_staff(sheet *s) {
    static const double metres[] = {0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500};
    static const double feet[] = {1, 2, 5, 10, 20, 50, 100, 200, 500, 1000}, inches[] = {1, 2, 3, 6, 12};
    double most_m = s->view->depth_hi_m;
    int is_shallow = most_m < 0.6; /* centimetres and inches then */

    double step_m = bfi_first_step(metres, 15, 8 / s->z_mm_per_m);
    double band = 0.2 * step_m * s->z_mm_per_m;
    int n_bands = (int)floor(most_m / (0.2 * step_m) + 0.999);
    for (int k = 0; k < n_bands; k++)
        bfi_svg_rect(&s->pen, k % 2 ? "bf-ink" : "bf-sheet", STAFF_X, SURFACE_Y + k * band, STAFF_MM, band);
    bfi_svg_rect(&s->pen, "bf-p1", STAFF_X, SURFACE_Y, STAFF_MM, n_bands * band);

    char text[16];
    for (int k = 1; k * step_m <= most_m * 1.0001; k++) {
        put_figure(text, sizeof text, k * step_m * (is_shallow ? 100 : 1));
        bfi_svg_text(&s->pen, "bf-label", 8 - bfi_word_width(text), down_mm(s, k * step_m) + HALF_FIGURE_MM,
                     text);
    }
    double unit_m = is_shallow ? 0.0254 : 0.3048;
    double step = is_shallow ? bfi_first_step(inches, 5, 7 / (unit_m * s->z_mm_per_m))
                             : bfi_first_step(feet, 10, 7 / (unit_m * s->z_mm_per_m));
    for (int k = 1; k * step * unit_m <= most_m; k++) {
        double y = down_mm(s, k * step * unit_m);
        put_figure(text, sizeof text, k * step);
        bfi_svg_line(&s->pen, "bf-p2", STAFF_X + STAFF_MM, y, STAFF_X + STAFF_MM + 1.2, y);
        bfi_svg_text(&s->pen, "bf-label", STAFF_X + STAFF_MM + 1.7, y + HALF_FIGURE_MM, text);
    }
    const char *left = is_shallow ? "cm" : "m";
    bfi_svg_text(&s->pen, "bf-label", 8 - bfi_word_width(left), SURFACE_Y - 2.4, left);
    bfi_svg_text(&s->pen, "bf-label", STAFF_X + STAFF_MM + 1.7, SURFACE_Y - 2.4, is_shallow ? "in" : "ft");
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

static void draw_air(sheet *s) {
    char text[64];
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    put_how(&pen, s->view);
    bfi_svg_text(&s->pen, "bf-label", WATER_X0, 5.4, text);

    double x = across_mm(s, s->view->step_x_m[0]);
    if (s->view->how == BF_THROW || s->view->how == BF_HAND) {
        bfi_svg_path_begin(&s->pen, "bf-r2 bf-dash");
        /* A parabola that comes down at the place where the feed meets the water. */
        for (int k = 0; k <= 12; k++) {
            double part = k / 12.0;
            double y = 12 - 12 * part * (1 - part) + (SURFACE_Y - 1 - 12) * part * part;
            bfi_svg_point(&s->pen, k ? 'L' : 'M', WATER_X0 + 8 + part * (x - WATER_X0 - 8), y);
        }
        bfi_svg_path_end(&s->pen, 0);
        return;
    }
    /* The pole from the bank, the pot a little behind its tip. */
    const double tip = x + 4;
    bfi_svg_path_begin(&s->pen, "bf-ink");
    bfi_svg_point(&s->pen, 'M', 0, 7.4);
    bfi_svg_point(&s->pen, 'L', tip, 10.9);
    bfi_svg_point(&s->pen, 'L', tip, 11.6);
    bfi_svg_point(&s->pen, 'L', 0, 10.4);
    bfi_svg_path_end(&s->pen, 1);
    bfi_svg_path_begin(&s->pen, "bf-open");
    bfi_svg_point(&s->pen, 'M', x - 1.8, 11.6);
    bfi_svg_point(&s->pen, 'L', x + 1.8, 11.6);
    bfi_svg_point(&s->pen, 'L', x + 1.2, 15.8);
    bfi_svg_point(&s->pen, 'L', x - 1.2, 15.8);
    bfi_svg_path_end(&s->pen, 1);
}

/* ---- the feed ---- */

/* Linear between the steps: where the typical piece is, as a function of its depth or of the time. */
static double along(const bf_side_view *view, const double *by, const double *what, double at) {
    int k = 1;
    while (k < view->n_steps - 1 && by[k] < at) k += 1;
    double width = by[k] - by[k - 1], part = width > 0 ? (at - by[k - 1]) / width : 1;
    part = bfi_clamp(part, 0, 1);
    return what[k - 1] + part * (what[k] - what[k - 1]);
}

#define HEAP_BINS 80
#define HEAP_MM 1.9

static int heap_bin(double across) {
    int bin = (int)(across * HEAP_BINS / WIDTH_MM);
    return bin < 0 ? 0 : bin >= HEAP_BINS ? HEAP_BINS - 1 : bin;
}

/* What lies: a dot a piece, heaped where several share a millimetre, highest where most do. */
static void draw_heap(sheet *s) {
    const bf_side_view *view = s->view;
    int count[HEAP_BINS] = {0}, drawn[HEAP_BINS] = {0}, most = 3;
    for (int k = 0; k < view->n_pieces; k++) {
        int *here = &count[heap_bin(across_mm(s, view->piece_x_m[k]))];
        *here += 1;
        if (*here > most) most = *here;
    }
    for (int k = 0; k < view->n_pieces; k++) {
        double across = across_mm(s, view->piece_x_m[k]);
        if (bed_is_cut(s, view->depth_m, across)) continue;
        int *here = &drawn[heap_bin(across)];
        double y = bed_mm(s, view->depth_m, across) - 0.7 - HEAP_MM * *here / most;
        bfi_svg_circle(&s->pen, "bf-feed", across, y, 0.45);
        *here += 1;
    }
}

static void draw_feed(sheet *s) {
    const bf_side_view *view = s->view;
    double end_x = view->step_x_m[view->n_steps - 1], end_z = view->step_z_m[view->n_steps - 1];
    int is_one_release = view->how == BF_CLUMP; /* else the pieces meet the water apart */
    for (int k = 0; k < view->n_pieces; k++) {
        double part = (k + 0.5) / view->n_pieces, z = part * end_z;
        double aside = (is_one_release ? part : 1) * (view->piece_x_m[k] - end_x);
        double x = along(view, view->step_z_m, view->step_x_m, z) + aside;
        double across = across_mm(s, x), y = down_mm(s, z), bed = bed_mm(s, view->depth_m, across);
        if (y > SURFACE_Y + 1 && y < bed - 2.4) bfi_svg_circle(&s->pen, "bf-rfill", across, y, 0.45);
    }
    draw_heap(s);
}

#define MOST_TIMES 3
typedef struct time_line {
    double time_s, x_m, z_m;
} time_line;

/* Round times on the way down, at most three. */
static int choose_times(const bf_side_view *view, time_line lines[MOST_TIMES]) {
    static const double steps[] = {0.1, 0.2, 0.5, 1,   2,   4,    5,    10,    15,   20,
                                   30,  60,  120, 300, 600, 1200, 3600, 10800, 36000};
    double first = view->step_s[0], last = view->step_s[view->n_steps - 1];
    double step = bfi_first_step(steps, 19, (last - first) / 3.5);
    int n = 0;
    for (int k = 1; k <= MOST_TIMES; k++) {
        double time = first + k * step;
        if (time - first > 0.93 * (last - first)) break;
        lines[n].time_s = k * step;
        lines[n].x_m = along(view, view->step_s, view->step_x_m, time);
        lines[n].z_m = along(view, view->step_s, view->step_z_m, time);
        n += 1;
    }
    return n;
}

static void put_time(bfi_pen *pen, double time_s) {
    bfi_put_number(pen, time_s, time_s < 9.95);
    bfi_put(pen, " s");
}

static void draw_times(sheet *s) {
    time_line lines[MOST_TIMES];
    int n = choose_times(s->view, lines);
    double word_x = s->right_of_feed_mm + 3, last_y = SURFACE_Y;
    for (int k = 0; k < n; k++) {
        char text[24];
        bfi_pen pen = bfi_pen_open(text, sizeof text);
        put_time(&pen, lines[k].time_s);
        double y = down_mm(s, lines[k].z_m), x = across_mm(s, lines[k].x_m);
        double right = word_x + bfi_word_width(text);
        double bed = bed_mm(s, s->view->depth_lo_m, word_x),
               bed_right = bed_mm(s, s->view->depth_lo_m, right);
        if (bed_right < bed) bed = bed_right;
        /* Left out where it has no room above the bottom or below the one before. */
        if (y < last_y + 4.9 || y > bed - 3.8) continue;
        last_y = y;
        double left = x - 7 < WATER_X0 + 1 ? WATER_X0 + 1 : x - 7;
        bfi_svg_line(&s->pen, "bf-r2 bf-dash", left, y, word_x - 1, y);
        bfi_svg_text(&s->pen, "bf-wet bf-r bf-case", word_x, y + HALF_FIGURE_MM, text);
    }
}

/* ---- captions ---- */

/* How often smaller the width is drawn than the depth; 1: the same scale. */
static double narrower(const sheet *s) {
    return s->z_mm_per_m / s->x_mm_per_m;
}

static void put_bottom(bfi_pen *pen, const bf_side_view *view) {
    bfi_put(pen, bottom_words[view->bottom]);
    if (fabs(view->slope_deg) < 0.5) return;
    bfi_put(pen, view->slope_deg > 0 ? ", deepens outward by " : ", rises outward by ");
    bfi_put_number(pen, fabs(view->slope_deg), 0);
    bfi_put(pen, " degrees");
}

static void draw_caption(sheet *s, int row, const char *class_names, const char *text) {
    char fitted[128];
    bfi_pen pen = bfi_pen_open(fitted, sizeof fitted);
    bfi_put_fitted(&pen, text, WIDTH_MM - 4);
    bfi_svg_text(&s->pen, class_names, 2, s->base_y + 7.2 + ROW_MM * row, fitted);
}

static void draw_bracket(sheet *s) {
    double x0 = across_mm(s, s->view->wide_lo_x_m), x1 = across_mm(s, s->view->wide_hi_x_m),
           y = s->base_y + 1.9;
    bfi_svg_line(&s->pen, "bf-r3", x0, y, x1, y);
    bfi_svg_line(&s->pen, "bf-r3", x0, y - 1.1, x0, y + 1.1);
    bfi_svg_line(&s->pen, "bf-r3", x1, y - 1.1, x1, y + 1.1);
}

/* The rows under the bottom. */
static void draw_captions(sheet *s, const bf_labels *labels) {
    char text[160];
    int row = 0;
    draw_bracket(s);
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    bfi_put(&pen, "9 in 10 in ");
    bfi_put_length(&pen, s->view->wide_hi_x_m - s->view->wide_lo_x_m);
    bfi_put(&pen, ", outward");
    draw_caption(s, row++, "bf-wet bf-r", text);
    if (labels->time.text[0]) {
        pen = bfi_pen_open(text, sizeof text);
        bfi_put(&pen, "9 in 10 down in ");
        bfi_put(&pen, labels->time.text);
        draw_caption(s, row++, "bf-wet bf-r bf-key", text);
    }
    pen = bfi_pen_open(text, sizeof text);
    bfi_put(&pen, labels->depth.text);
    if (labels->depth.text[0]) bfi_put(&pen, ", ");
    bfi_put(&pen, bottom_words[s->view->bottom]);
    draw_caption(s, row++, "bf-wet bf-key", text);
    if (narrower(s) > 1.05) {
        pen = bfi_pen_open(text, sizeof text);
        bfi_put(&pen, "width drawn ");
        bfi_put_number(&pen, narrower(s), narrower(s) < 10);
        bfi_put(&pen, " times narrower");
        draw_caption(s, row, "bf-label", text);
    }
}

/* ---- what it says ---- */

static void put_depth(bfi_pen *pen, const bf_side_view *view, const bf_labels *labels) {
    if (labels->depth.text[0])
        bfi_put(pen, labels->depth.text);
    else
        bfi_put_length(pen, view->depth_m);
}

static void tell(const sheet *s, const bf_labels *labels, bf_picture *picture) {
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
    put_depth(&pen, view, labels);
    bfi_put(&pen, " in about ");
    put_time(&pen, fall_s);
    if (labels->time.text[0]) {
        bfi_put(&pen, "; nine in ten are down ");
        bfi_put(&pen, labels->time.text);
        bfi_put(&pen, " after the put-in begins");
    }
    bfi_put(&pen, ".");

    pen = bfi_row_open(picture, "Depth");
    put_depth(&pen, view, labels);
    pen = bfi_row_open(picture, "Bottom");
    put_bottom(&pen, view);
    time_line lines[MOST_TIMES];
    int n = choose_times(view, lines);
    for (int k = 0; k < n; k++) {
        char heading[32];
        bfi_pen head = bfi_pen_open(heading, sizeof heading);
        bfi_put(&head, "After ");
        put_time(&head, lines[k].time_s);
        pen = bfi_row_open(picture, heading);
        bfi_put_length(&pen, lines[k].z_m);
        bfi_put(&pen, " down");
    }
    pen = bfi_row_open(picture, "Typical piece on the bottom");
    put_time(&pen, fall_s);
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
    sheet s = {.view = view, .pen = bfi_pen_open(svg, most)};
    bf_status status = check_view(view);
    if (status) return status;
    choose_scale(&s);
    tell(&s, labels, picture);

    int n_rows = 2 + (labels->time.text[0] != 0) + (narrower(&s) > 1.05);
    bfi_svg_open(&s.pen, "side", WIDTH_MM, s.base_y + 4 + ROW_MM * n_rows, view->look,
                 "How the feed falls, from the side", picture->finding);
    draw_water_and_bottom(&s);
    draw_staff(&s);
    draw_air(&s);
    draw_feed(&s);
    draw_times(&s);
    draw_captions(&s, labels);
    bfi_svg_close(&s.pen);
    return bfi_picture_end(&s.pen, picture);
}
