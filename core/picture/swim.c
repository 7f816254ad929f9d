/* The sheet across, in mm: x 0 .. 19 depth staff, metres left and feet right; x 19 .. 80 the water. */
#include "core/picture/swim.h"

#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"
#include "core/picture/chart.h"
#include "core/picture/words.h"

#define STAFF_X 9.2
#define STAFF_MM 2.0

double bfi_swim_across(const bfi_swim *s, double x_m) {
    return s->middle_x + (x_m - s->mid_x_m) * s->x_mm_per_m;
}

double bfi_swim_down(const bfi_swim *s, double z_m) {
    return s->surface_y + z_m * s->z_mm_per_m;
}

/* The bottom's line, for a depth of depth_m below x = 0, before it is cut at the surface and at the sheet's depth. */
static double bed_uncut_mm(const bfi_swim *s, double depth_m, double across) {
    return bfi_swim_down(s, depth_m) + s->slope * (across - bfi_swim_across(s, 0));
}

/* Cut at the surface, where it is dry bank, and at the sheet's lower edge, where it falls away. */
double bfi_swim_bed(const bfi_swim *s, double depth_m, double across) {
    double y = bed_uncut_mm(s, depth_m, across);
    return y < s->surface_y ? s->surface_y : y > s->base_y ? s->base_y : y;
}

int bfi_swim_bed_is_cut(const bfi_swim *s, double depth_m, double across) {
    double uncut = bed_uncut_mm(s, depth_m, across);
    return uncut < s->surface_y || uncut > s->base_y;
}

/* ---- checks ---- */

int bfi_all_finite(const double *numbers, int n) {
    for (int k = 0; k < n; k++)
        if (!(fabs(numbers[k]) < BF_INFINITY)) return 0;
    return 1;
}

int bfi_all_within(const double *numbers, int n, double most) {
    for (int k = 0; k < n; k++)
        if (fabs(numbers[k]) > most) return 0;
    return 1;
}

bf_status bfi_swim_check_water(const bf_side_view *view) {
    const double numbers[] = {view->depth_m, view->depth_lo_m, view->depth_hi_m, view->slope_deg};
    if (!bfi_all_finite(numbers, 4) || fabs(view->distance_m) == BF_INFINITY) return BF_E_NOT_FINITE;
    int is_fine = view->depth_m >= 0.01 && view->depth_m <= 1e3 && view->depth_lo_m > 0 &&
                  view->depth_lo_m <= view->depth_m && view->depth_hi_m >= view->depth_m &&
                  view->depth_hi_m <= 1e3 && fabs(view->slope_deg) <= 80 && view->bottom >= -1 &&
                  view->bottom <= BF_WEED && view->how >= BF_CLUMP && view->how <= BF_HAND &&
                  view->look >= BF_LOOK_OPEN && view->look <= BF_LOOK_DUSK && !(fabs(view->distance_m) > 1e4);
    return is_fine ? BF_OK : BF_E_RANGE;
}

bf_status bfi_swim_check_feed(const bf_side_view *view) {
    if (view->n_steps < 2 || view->n_steps > BF_SIDE_MOST_STEPS || view->n_pieces < 0 ||
        view->n_pieces > BF_SIDE_MOST_PIECES)
        return BF_E_COUNT;
    const double wide[] = {view->wide_lo_x_m, view->wide_hi_x_m};
    if (!bfi_all_finite(wide, 2) || !bfi_all_finite(view->step_s, view->n_steps) ||
        !bfi_all_finite(view->step_x_m, view->n_steps) || !bfi_all_finite(view->step_z_m, view->n_steps) ||
        !bfi_all_finite(view->piece_x_m, view->n_pieces))
        return BF_E_NOT_FINITE;
    for (int k = 1; k < view->n_steps; k++)
        if (view->step_s[k] <= view->step_s[k - 1] || view->step_z_m[k] < view->step_z_m[k - 1])
            return BF_E_RANGE;
    int is_fine = view->step_s[0] >= 0 && view->step_s[view->n_steps - 1] <= 1e5 && view->step_z_m[0] >= 0 &&
                  view->wide_lo_x_m <= view->wide_hi_x_m && bfi_all_within(wide, 2, 1e4) &&
                  bfi_all_within(view->step_x_m, view->n_steps, 1e4) &&
                  bfi_all_within(view->step_z_m, view->n_steps, 1e4) &&
                  bfi_all_within(view->piece_x_m, view->n_pieces, 1e4);
    return is_fine ? BF_OK : BF_E_RANGE;
}

/* ---- scale ---- */

void bfi_swim_scale(bfi_swim *s, double least_m, double most_m, double room_mm) {
    s->mid_x_m = 0.5 * (least_m + most_m);
    s->z_mm_per_m = s->deepest_mm / s->view->depth_hi_m;
    s->x_mm_per_m = s->z_mm_per_m;
    if ((most_m - least_m) * s->x_mm_per_m > room_mm) s->x_mm_per_m = room_mm / (most_m - least_m);
    s->slope = bf_tan(s->view->slope_deg * BF_RAD_PER_DEG) * s->z_mm_per_m / s->x_mm_per_m;
    s->base_y = s->surface_y + s->deepest_mm + BFI_FALL_AWAY_MM;
    double left = bfi_swim_bed(s, s->view->depth_hi_m, BFI_WATER_X0),
           right = bfi_swim_bed(s, s->view->depth_hi_m, BFI_WATER_X1);
    s->base_y = (left > right ? left : right) + BFI_BED_MM;
}

double bfi_swim_narrower(const bfi_swim *s) {
    return s->z_mm_per_m / s->x_mm_per_m;
}

/* ---- water and bottom ---- */

/* The part of the bottom's line, from left to right, that is not cut. */
static bfi_segment uncut_bed(const bfi_swim *s, double depth_m) {
    double from = BFI_WATER_X0, to = BFI_WATER_X1;
    if (s->slope != 0) {
        double origin = bfi_swim_across(s, 0);
        double dry = origin + (s->surface_y - bfi_swim_down(s, depth_m)) / s->slope;
        double gone = origin + (s->base_y - bfi_swim_down(s, depth_m)) / s->slope;
        double first = s->slope > 0 ? dry : gone, last = s->slope > 0 ? gone : dry;
        from = bfi_clamp(first, BFI_WATER_X0, BFI_WATER_X1);
        to = bfi_clamp(last, BFI_WATER_X0, BFI_WATER_X1);
    }
    return (bfi_segment){from, bfi_swim_bed(s, depth_m, from), to, bfi_swim_bed(s, depth_m, to)};
}

static void draw_bed_line(bfi_swim *s, double depth_m, const char *class_names) {
    bfi_segment line = uncut_bed(s, depth_m);
    bfi_svg_line(&s->pen, class_names, line.x0, line.y0, line.x1, line.y1);
}

static void draw_bed(bfi_swim *s, double depth_m) {
    bfi_segment line = uncut_bed(s, depth_m);
    bfi_svg_path_begin(&s->pen, "bf-bed");
    bfi_svg_point(&s->pen, 'M', BFI_WATER_X0, s->base_y);
    bfi_svg_point(&s->pen, 'L', BFI_WATER_X0, bfi_swim_bed(s, depth_m, BFI_WATER_X0));
    bfi_svg_point(&s->pen, 'L', line.x0, line.y0);
    bfi_svg_point(&s->pen, 'L', line.x1, line.y1);
    bfi_svg_point(&s->pen, 'L', BFI_WATER_X1, bfi_swim_bed(s, depth_m, BFI_WATER_X1));
    bfi_svg_point(&s->pen, 'L', BFI_WATER_X1, s->base_y);
    bfi_svg_path_end(&s->pen, 1);
}

/* Silt: broken dashes and dots in three rows. */
static void draw_silt(bfi_swim *s) {
    static const double dash_mm[] = {2.4, 1.6, 0.3, 2.4, 0.3, 1.6, 2.4}, gap_mm[] = {2.1, 2.8, 2.4, 2.2, 2.9};
    bfi_svg_path_begin(&s->pen, "bf-kind");
    for (int row = 0, k = 0; row < 3; row++)
        for (double x = BFI_WATER_X0 + 1 + 1.7 * row; x < BFI_WATER_X1 - 2.6; k++) {
            double to = x + dash_mm[k % 7], y = 1.9 + 1.6 * row;
            if (!bfi_swim_bed_is_cut(s, s->view->depth_m, x) &&
                !bfi_swim_bed_is_cut(s, s->view->depth_m, to)) {
                bfi_svg_point(&s->pen, 'M', x, bfi_swim_bed(s, s->view->depth_m, x) + y);
                bfi_svg_point(&s->pen, 'L', to, bfi_swim_bed(s, s->view->depth_m, to) + y);
            }
            x = to + gap_mm[k % 5];
        }
    bfi_svg_path_end(&s->pen, 0);
}

static void draw_gravel(bfi_swim *s) {
    static const double radius_mm[] = {0.7, 0.5, 0.8, 0.6, 0.5};
    for (int row = 0, k = 0; row < 2; row++)
        for (double x = BFI_WATER_X0 + 1.6 + 1.4 * row; x < BFI_WATER_X1 - 1; x += 2.9, k++) {
            double y = bfi_swim_bed(s, s->view->depth_m, x) + 2 + 2.1 * row, radius = radius_mm[k % 5];
            if (!bfi_swim_bed_is_cut(s, s->view->depth_m, x) && y + radius < s->base_y)
                bfi_svg_circle(&s->pen, "bf-kind", x, y, radius);
        }
}

/* Weed: upright ticks on the bottom. */
static void draw_weed(bfi_swim *s) {
    static const double height_mm[] = {2.6, 1.8, 3, 2.2};
    bfi_svg_path_begin(&s->pen, "bf-kind");
    int k = 0;
    for (double x = BFI_WATER_X0 + 1.5; x < BFI_WATER_X1 - 0.5; x += 1.9, k++) {
        if (bfi_swim_bed_is_cut(s, s->view->depth_m, x)) continue;
        double y = bfi_swim_bed(s, s->view->depth_m, x), top = y - height_mm[k % 4];
        bfi_svg_point(&s->pen, 'M', x, y);
        bfi_svg_point(&s->pen, 'L', x, top < s->surface_y ? s->surface_y : top);
    }
    bfi_svg_path_end(&s->pen, 0);
}

void bfi_draw_swim(bfi_swim *s) {
    const bf_side_view *view = s->view;
    double half = s->surface_y + 0.5 * s->deepest_mm;
    bfi_svg_rect(&s->pen, "bf-water", BFI_WATER_X0, s->surface_y, BFI_WATER_X1 - BFI_WATER_X0,
                 half - s->surface_y);
    bfi_svg_rect(&s->pen, "bf-deep", BFI_WATER_X0, half, BFI_WATER_X1 - BFI_WATER_X0, s->base_y - half);
    draw_bed(s, view->depth_m);
    if (view->bottom == BF_SILT) draw_silt(s);
    if (view->bottom == BF_GRAVEL) draw_gravel(s);
    if (view->bottom == BF_WEED) draw_weed(s);
    if ((view->depth_hi_m - view->depth_lo_m) * s->z_mm_per_m > 1) {
        draw_bed_line(s, view->depth_lo_m, "bf-r2 bf-dash");
        draw_bed_line(s, view->depth_hi_m, "bf-r2 bf-dash");
    }
    draw_bed_line(s, view->depth_m, "bf-p4");
    bfi_svg_line(&s->pen, "bf-p3", 0, s->surface_y, BFI_SIDE_WIDTH_MM, s->surface_y);
    bfi_draw_water_sign(&s->pen, 23, s->surface_y);
}

void bfi_draw_water_sign(bfi_pen *pen, double x, double y) {
    bfi_svg_path_begin(pen, "bf-p2");
    bfi_svg_point(pen, 'M', x - 1.6, y - 2.9);
    bfi_svg_point(pen, 'L', x + 1.6, y - 2.9);
    bfi_svg_point(pen, 'L', x, y - 0.2);
    bfi_svg_path_end(pen, 1);
    bfi_svg_line(pen, "bf-p1", x - 1.1, y + 1.1, x + 1.1, y + 1.1);
    bfi_svg_line(pen, "bf-p1", x - 0.5, y + 2, x + 0.5, y + 2);
}

/* ---- staff ---- */

static void put_figure(char *text, size_t most, double value) {
    bfi_pen pen = bfi_pen_open(text, most);
    bfi_put_number(&pen, value, 1);
}

void bfi_draw_staff(bfi_swim *s) {
    static const double metres[] = {0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500};
    static const double feet[] = {1, 2, 5, 10, 20, 50, 100, 200, 500, 1000}, inches[] = {1, 2, 3, 6, 12};
    double most_m = s->view->depth_hi_m;
    int is_shallow = most_m < 0.6; /* centimetres and inches then */

    double step_m = bfi_first_step(metres, 15, 8 / s->z_mm_per_m);
    double band = 0.2 * step_m * s->z_mm_per_m;
    int n_bands = (int)floor(most_m / (0.2 * step_m) + 0.999);
    for (int k = 0; k < n_bands; k++)
        bfi_svg_rect(&s->pen, k % 2 ? "bf-ink" : "bf-sheet", STAFF_X, s->surface_y + k * band, STAFF_MM,
                     band);
    bfi_svg_rect(&s->pen, "bf-p1", STAFF_X, s->surface_y, STAFF_MM, n_bands * band);

    char text[16];
    for (int k = 1; k * step_m <= most_m * 1.0001; k++) {
        put_figure(text, sizeof text, k * step_m * (is_shallow ? 100 : 1));
        bfi_svg_text(&s->pen, "bf-label", 8 - bfi_word_width(text),
                     bfi_swim_down(s, k * step_m) + BFI_HALF_FIGURE_MM, text);
    }
    double unit_m = is_shallow ? 0.0254 : 0.3048;
    double step = is_shallow ? bfi_first_step(inches, 5, 7 / (unit_m * s->z_mm_per_m))
                             : bfi_first_step(feet, 10, 7 / (unit_m * s->z_mm_per_m));
    for (int k = 1; k * step * unit_m <= most_m; k++) {
        double y = bfi_swim_down(s, k * step * unit_m);
        put_figure(text, sizeof text, k * step);
        bfi_svg_line(&s->pen, "bf-p2", STAFF_X + STAFF_MM, y, STAFF_X + STAFF_MM + 1.2, y);
        bfi_svg_text(&s->pen, "bf-label", STAFF_X + STAFF_MM + 1.7, y + BFI_HALF_FIGURE_MM, text);
    }
    const char *left = is_shallow ? "cm" : "m";
    bfi_svg_text(&s->pen, "bf-label", 8 - bfi_word_width(left), s->surface_y - 2.4, left);
    bfi_svg_text(&s->pen, "bf-label", STAFF_X + STAFF_MM + 1.7, s->surface_y - 2.4, is_shallow ? "in" : "ft");
}

/* ---- in the air ---- */

#define POLE_Y 10.9

void bfi_draw_pole(bfi_pen *pen, double tip_x) {
    bfi_svg_path_begin(pen, "bf-ink");
    bfi_svg_point(pen, 'M', 0, 7.4);
    bfi_svg_point(pen, 'L', tip_x, POLE_Y);
    bfi_svg_point(pen, 'L', tip_x, POLE_Y + 0.7);
    bfi_svg_point(pen, 'L', 0, 10.4);
    bfi_svg_path_end(pen, 1);
}

void bfi_draw_pot(bfi_pen *pen, double x) {
    bfi_svg_path_begin(pen, "bf-open");
    bfi_svg_point(pen, 'M', x - 1.8, 11.6);
    bfi_svg_point(pen, 'L', x + 1.8, 11.6);
    bfi_svg_point(pen, 'L', x + 1.2, 15.8);
    bfi_svg_point(pen, 'L', x - 1.2, 15.8);
    bfi_svg_path_end(pen, 1);
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
    int bin = (int)(across * HEAP_BINS / BFI_SIDE_WIDTH_MM);
    return bin < 0 ? 0 : bin >= HEAP_BINS ? HEAP_BINS - 1 : bin;
}

/* What lies: a dot a piece, heaped where several share a millimetre, highest where most do. */
static void draw_heap(bfi_swim *s) {
    const bf_side_view *view = s->view;
    int count[HEAP_BINS] = {0}, drawn[HEAP_BINS] = {0}, most = 3;
    for (int k = 0; k < view->n_pieces; k++) {
        int *here = &count[heap_bin(bfi_swim_across(s, view->piece_x_m[k]))];
        *here += 1;
        if (*here > most) most = *here;
    }
    for (int k = 0; k < view->n_pieces; k++) {
        double across = bfi_swim_across(s, view->piece_x_m[k]);
        if (bfi_swim_bed_is_cut(s, view->depth_m, across)) continue;
        int *here = &drawn[heap_bin(across)];
        double y = bfi_swim_bed(s, view->depth_m, across) - 0.7 - HEAP_MM * *here / most;
        bfi_svg_circle(&s->pen, "bf-feed", across, y, 0.45);
        *here += 1;
    }
}

void bfi_draw_feed(bfi_swim *s) {
    const bf_side_view *view = s->view;
    double end_x = view->step_x_m[view->n_steps - 1], end_z = view->step_z_m[view->n_steps - 1];
    int is_one_release = view->how == BF_CLUMP; /* else the pieces meet the water apart */
    for (int k = 0; k < view->n_pieces; k++) {
        double part = (k + 0.5) / view->n_pieces, z = part * end_z;
        double aside = (is_one_release ? part : 1) * (view->piece_x_m[k] - end_x);
        double x = along(view, view->step_z_m, view->step_x_m, z) + aside;
        double across = bfi_swim_across(s, x), y = bfi_swim_down(s, z),
               bed = bfi_swim_bed(s, view->depth_m, across);
        if (y > s->surface_y + 1 && y < bed - 2.4) bfi_svg_circle(&s->pen, "bf-rfill", across, y, 0.45);
    }
    draw_heap(s);
}

/* Round times on the way down, at most three. */
int bfi_choose_times(const bf_side_view *view, bfi_time_line lines[BFI_MOST_TIMES]) {
    static const double steps[] = {0.1, 0.2, 0.5, 1,   2,   4,    5,    10,    15,   20,
                                   30,  60,  120, 300, 600, 1200, 3600, 10800, 36000};
    double first = view->step_s[0], last = view->step_s[view->n_steps - 1];
    double step = bfi_first_step(steps, 19, (last - first) / 3.5);
    int n = 0;
    for (int k = 1; k <= BFI_MOST_TIMES; k++) {
        double time = first + k * step;
        if (time - first > 0.93 * (last - first)) break;
        lines[n].time_s = k * step;
        lines[n].x_m = along(view, view->step_s, view->step_x_m, time);
        lines[n].z_m = along(view, view->step_s, view->step_z_m, time);
        n += 1;
    }
    return n;
}

void bfi_put_time(bfi_pen *pen, double time_s) {
    bfi_put_number(pen, time_s, time_s < 9.95);
    bfi_put(pen, " s");
}

void bfi_draw_times(bfi_swim *s, double word_x, double right_x) {
    bfi_time_line lines[BFI_MOST_TIMES];
    int n = bfi_choose_times(s->view, lines);
    double last_y = s->surface_y;
    for (int k = 0; k < n; k++) {
        char text[24];
        bfi_pen pen = bfi_pen_open(text, sizeof text);
        bfi_put_time(&pen, lines[k].time_s);
        double y = bfi_swim_down(s, lines[k].z_m), x = bfi_swim_across(s, lines[k].x_m);
        double right = word_x + bfi_word_width(text);
        double bed = bfi_swim_bed(s, s->view->depth_lo_m, word_x),
               bed_right = bfi_swim_bed(s, s->view->depth_lo_m, right);
        if (bed_right < bed) bed = bed_right;
        /* Left out where it has no room above the bottom, below the one before or beside the drawing. */
        if (y < last_y + 4.9 || y > bed - 3.8 || right > right_x) continue;
        last_y = y;
        double left = x - 7 < BFI_WATER_X0 + 1 ? BFI_WATER_X0 + 1 : x - 7;
        bfi_svg_line(&s->pen, "bf-r2 bf-dash", left, y, word_x - 1, y);
        bfi_svg_text(&s->pen, "bf-wet bf-r bf-case", word_x, y + BFI_HALF_FIGURE_MM, text);
    }
}

void bfi_draw_bracket(bfi_swim *s, double y) {
    double x0 = bfi_swim_across(s, s->view->wide_lo_x_m), x1 = bfi_swim_across(s, s->view->wide_hi_x_m);
    bfi_svg_line(&s->pen, "bf-r3", x0, y, x1, y);
    bfi_svg_line(&s->pen, "bf-r3", x0, y - 1.1, x0, y + 1.1);
    bfi_svg_line(&s->pen, "bf-r3", x1, y - 1.1, x1, y + 1.1);
}

/* ---- in words ---- */

const char *bfi_bottom_word(int bottom) {
    return bottom < 0 ? "bottom not told" : bf_bottom_words[bottom];
}

void bfi_put_bottom(bfi_pen *pen, const bf_side_view *view) {
    bfi_put(pen, bfi_bottom_word(view->bottom));
    if (fabs(view->slope_deg) < 0.5) return;
    bfi_put(pen, view->slope_deg > 0 ? ", deepens outward by " : ", rises outward by ");
    bfi_put_number(pen, fabs(view->slope_deg), 0);
    bfi_put(pen, " degrees");
}

void bfi_put_depth(bfi_pen *pen, const bf_side_view *view, const bf_labels *labels) {
    if (labels->depth.text[0])
        bfi_put(pen, labels->depth.text);
    else
        bfi_put_length(pen, view->depth_m);
}

void bfi_draw_caption(bfi_pen *pen, double top_y, int row, const char *class_names, const char *text) {
    char fitted[128];
    bfi_pen word = bfi_pen_open(fitted, sizeof fitted);
    bfi_put_fitted(&word, text, BFI_SIDE_WIDTH_MM - 4);
    bfi_svg_text(pen, class_names, 2, top_y + 7.2 + BFI_SIDE_ROW_MM * row, fitted);
}
