/* Rig and feed in section, the bank to the left. The sheet, in mm:
 *
 *     y 0 .. 31     air: pole tip and wind on the first row, pole, pot, line, back shots; heights have their own scale
 *     y 31 .. 87    water, from the surface to the deepest the bottom may be under the tip
 *     y 87 ..       the bottom; below it twenty dots and a bracket on the same places across; then captions, one a row
 *     x 0 .. 19     depth staff;  x 19 .. 46 the rig's words;  x 50 .. 64 rig and feed;  x 64 .. 80 times, current
 */
#include <math.h>
#include <string.h>

#include "core/picture/section.h"
#include "core/picture/words.h"

#define DEPTH_MM 56.0
#define TIP_Y 11.3
#define MIDDLE_X 57.2
#define MOST_MM 13.4
#define CURRENT_X 76.4
#define CURRENT_MM 2.7
#define TIMES_X1 73.2

#define BRISTLE_MM 4.6
#define SHOT_MM 0.8
#define SHOT_STEP_MM 1.3
#define BULK_MM 7.0
#define BAIT_MM 1.15

int bfi_section_has_feed(const bfi_section *s) {
    return s->fall.n_steps > 0;
}

static int has_dots(const bfi_section *s) {
    return s->view->n_dots > 0 && !s->view->is_nominal;
}

int bfi_section_has_bracket(const bfi_section *s) {
    return bfi_section_has_feed(s) && !s->view->is_nominal;
}

double bfi_section_fastest_m_s(const bf_section_view *view) {
    double most = 0;
    for (int k = 0; k < view->n_currents; k++)
        if (fabs(view->current_m_s[k]) > most) most = fabs(view->current_m_s[k]);
    return most;
}

double bfi_section_wind_m_s(const bf_section_view *view) {
    return sqrt(view->wind_x_m_s * view->wind_x_m_s + view->wind_y_m_s * view->wind_y_m_s);
}

/* ---- checks ---- */

static bf_status check_shape(const bf_rig_shape *shape) {
    if (shape->n_air < 2 || shape->n_air > BF_RIG_POINTS || shape->n_water < 2 ||
        shape->n_water > BF_RIG_POINTS)
        return BF_E_COUNT;
    const double numbers[] = {shape->bristle_m, shape->bristle_band_m};
    if (!bfi_all_finite(shape->air_m[0], 3 * shape->n_air) ||
        !bfi_all_finite(shape->water_m[0], 3 * shape->n_water) || !bfi_all_finite(shape->bait_m, 3) ||
        !bfi_all_finite(shape->float_m, 3) || !bfi_all_finite(numbers, 2))
        return BF_E_NOT_FINITE;
    int is_fine = bfi_all_within(shape->air_m[0], 3 * shape->n_air, 100) &&
                  bfi_all_within(shape->water_m[0], 3 * shape->n_water, 100) &&
                  bfi_all_within(shape->bait_m, 3, 100) && bfi_all_within(shape->float_m, 3, 100) &&
                  bfi_all_within(numbers, 2, 10) && shape->contact >= BF_HANGS && shape->contact <= BF_LIES;
    return is_fine ? BF_OK : BF_E_RANGE;
}

static bf_status check_view(const bf_section_view *view) {
    if ((view->n_dots != 0 && view->n_dots != BF_SECTION_DOTS) || view->n_currents < 0 ||
        view->n_currents > BF_SECTION_CURRENTS)
        return BF_E_COUNT;
    const double numbers[] = {view->feed_x_m, view->bristle_long_m, view->overdepth_m, view->wind_x_m_s,
                              view->wind_y_m_s};
    if (!bfi_all_finite(numbers, 5) || !bfi_all_finite(view->dot_x_m, view->n_dots) ||
        !bfi_all_finite(view->current_z_m, view->n_currents) ||
        !bfi_all_finite(view->current_m_s, view->n_currents))
        return BF_E_NOT_FINITE;
    for (int k = 0; k < view->n_currents; k++)
        if (view->current_z_m[k] < 0 || (k > 0 && view->current_z_m[k] <= view->current_z_m[k - 1]))
            return BF_E_RANGE;
    int is_fine = view->look >= BF_LOOK_OPEN && view->look <= BF_LOOK_DUSK && fabs(view->feed_x_m) <= 1e4 &&
                  view->bristle_long_m > 0 && view->bristle_long_m <= 1 && fabs(view->overdepth_m) <= 30 &&
                  fabs(view->wind_x_m_s) <= 100 && fabs(view->wind_y_m_s) <= 100 &&
                  bfi_all_within(view->dot_x_m, view->n_dots, 100) &&
                  bfi_all_within(view->current_m_s, view->n_currents, 10);
    return is_fine ? BF_OK : BF_E_RANGE;
}

/* The fall as it is drawn here: moved to the tip, and without what is not known yet. */
static void settle_fall(bfi_section *s) {
    bf_side_view *fall = &s->fall;
    *fall = s->view->fall;
    if (s->view->is_nominal) {
        fall->depth_lo_m = fall->depth_hi_m = fall->depth_m;
        fall->wide_lo_x_m = fall->wide_hi_x_m = 0;
        fall->n_pieces = 0;
    }
    for (int k = 0; k < fall->n_steps && k < BF_SIDE_MOST_STEPS; k++) fall->step_x_m[k] += s->view->feed_x_m;
    for (int k = 0; k < fall->n_pieces && k < BF_SIDE_MOST_PIECES; k++)
        fall->piece_x_m[k] += s->view->feed_x_m;
    fall->wide_lo_x_m += s->view->feed_x_m;
    fall->wide_hi_x_m += s->view->feed_x_m;
}

static bf_status check(bfi_section *s) {
    bf_status status = check_view(s->view);
    if (!status) status = check_shape(&s->view->shape);
    if (!status) status = bfi_drawn_rig_check(&s->view->rig);
    if (status) return status;
    settle_fall(s);
    status = bfi_swim_check_water(&s->fall);
    if (!status && s->fall.n_steps != 0) status = bfi_swim_check_feed(&s->fall);
    return status;
}

/* ---- scale ---- */

typedef struct bounds {
    double least, most;
} bounds;

static void widen(bounds *b, double x_m) {
    if (x_m < b->least) b->least = x_m;
    if (x_m > b->most) b->most = x_m;
}

static void choose_scale(bfi_section *s) {
    const bf_rig_shape *shape = &s->view->shape;
    bounds b = {0, 0};
    widen(&b, shape->bait_m[0]);
    for (int k = 0; k < shape->n_air; k++) widen(&b, shape->air_m[k][0]);
    for (int k = 0; k < shape->n_water; k++) widen(&b, shape->water_m[k][0]);
    for (int k = 0; k < s->fall.n_steps; k++) widen(&b, s->fall.step_x_m[k]);
    for (int k = 0; k < s->fall.n_pieces; k++) widen(&b, s->fall.piece_x_m[k]);
    if (bfi_section_has_bracket(s)) {
        widen(&b, s->fall.wide_lo_x_m);
        widen(&b, s->fall.wide_hi_x_m);
    }
    for (int k = 0; has_dots(s) && k < BF_SECTION_DOTS; k++) widen(&b, s->view->dot_x_m[k]);
    bfi_swim_scale(&s->swim, b.least, b.most, MOST_MM);
    s->right_m = b.most;
    double tip_m = -shape->air_m[0][2];
    s->air_mm_per_m = tip_m > 0.01 ? (BFI_SECTION_SURFACE_Y - TIP_Y) / tip_m : 100;
}

/* Where a point of the rig is; above the water heights have their own scale. */
bfi_point bfi_section_place(const bfi_section *s, const double at_m[3]) {
    double z = at_m[2];
    double y = z < 0 ? BFI_SECTION_SURFACE_Y + z * s->air_mm_per_m : bfi_swim_down(&s->swim, z);
    return (bfi_point){bfi_swim_across(&s->swim, at_m[0]), y < TIP_Y - 2 ? TIP_Y - 2 : y};
}

/* ---- along a line ---- */

typedef const double (*points_m)[3];

static double gap_m(points_m at, int k) {
    double dx = at[k][0] - at[k - 1][0], dy = at[k][1] - at[k - 1][1], dz = at[k][2] - at[k - 1][2];
    return sqrt(dx * dx + dy * dy + dz * dz);
}

/* The place up_m before the last point, measured along the line; its first point when the line is shorter. */
static bfi_point place_along(const bfi_section *s, points_m at, int n, double up_m) {
    int k = n - 1;
    while (k > 1 && up_m > gap_m(at, k)) {
        up_m -= gap_m(at, k);
        k -= 1;
    }
    double gap = gap_m(at, k), part = gap > 0 ? bfi_clamp(up_m / gap, 0, 1) : 0, between[3];
    for (int axis = 0; axis < 3; axis++) between[axis] = at[k][axis] + part * (at[k - 1][axis] - at[k][axis]);
    return bfi_section_place(s, between);
}

bfi_point bfi_section_in_water(const bfi_section *s, double above_hook_m) {
    return place_along(s, s->view->shape.water_m, s->view->shape.n_water, above_hook_m);
}

bfi_point bfi_section_in_air(const bfi_section *s, double above_float_m) {
    return place_along(s, s->view->shape.air_m, s->view->shape.n_air, above_float_m);
}

/* A bulk is at most BULK_MM long, and a row begins above what is drawn of the one below. */
static void place_rows(const bf_drawn_shot *row, int n, double mm_per_m, bfi_drawn_row *drawn) {
    double least = SHOT_STEP_MM / mm_per_m, above = 0;
    for (int k = n - 1; k >= 0; k--) {
        double step = row[k].count > 1 ? BULK_MM / mm_per_m / (row[k].count - 1) : least;
        if (step > least) step = least;
        if (step < row[k].apart_m) step = row[k].apart_m;
        drawn[k] = (bfi_drawn_row){row[k].at_m > above ? row[k].at_m : above, step};
        above = drawn[k].from_m + (row[k].count - 1) * step + least;
    }
}

/* ---- the rig ---- */

static void draw_line(bfi_section *s, points_m at, int n) {
    bfi_svg_path_begin(&s->swim.pen, "bf-p2");
    for (int k = 0; k < n; k++) {
        bfi_point here = bfi_section_place(s, at[k]);
        bfi_svg_point(&s->swim.pen, k ? 'L' : 'M', here.x, here.y);
    }
    bfi_svg_path_end(&s->swim.pen, 0);
}

/* The float from the foot of its bristle along the line below it: how far that foot is under the surface goes by how much
 * of the bristle is. */
static void draw_float(bfi_section *s) {
    const bf_rig_shape *shape = &s->view->shape;
    bfi_point top = bfi_section_place(s, shape->float_m), below = top;
    for (int k = 1; k < shape->n_water && below.y < top.y + BFI_FLOAT_MM; k++)
        below = bfi_section_place(s, shape->water_m[k]);
    double dx = below.x - top.x, dy = below.y - top.y, length = sqrt(dx * dx + dy * dy);
    if (!(length > 1e-9)) dx = 0, dy = length = 1;
    dx /= length, dy /= length;
    double hidden = 1 - bfi_clamp(shape->bristle_m / s->view->bristle_long_m, -0.5, 1);
    bfi_point foot = {top.x + dx * hidden * BRISTLE_MM, top.y + dy * hidden * BRISTLE_MM};

    bfi_svg_line(&s->swim.pen, "bf-p4", foot.x, foot.y, foot.x - dx * BRISTLE_MM, foot.y - dy * BRISTLE_MM);
    static const double half_mm[] = {0, 1.0, 1.45, 1.6, 1.5, 1.25, 0.95, 0.6, 0.3, 0};
    const int n = sizeof half_mm / sizeof half_mm[0];
    bfi_svg_path_begin(&s->swim.pen, "bf-open");
    for (int k = 0; k < 2 * n - 1; k++) {
        int at = k < n ? k : 2 * (n - 1) - k;
        double along = BFI_FLOAT_MM * at / (n - 1), aside = k < n ? half_mm[at] : -half_mm[at];
        bfi_svg_point(&s->swim.pen, k ? 'L' : 'M', foot.x + dx * along - dy * aside,
                      foot.y + dy * along + dx * aside);
    }
    bfi_svg_path_end(&s->swim.pen, 1);
}

static void draw_rows(bfi_section *s, const bf_drawn_shot *row, const bfi_drawn_row *drawn, int n,
                      bfi_point (*place)(const bfi_section *, double)) {
    for (int k = 0; k < n; k++)
        for (int shot = 0; shot < row[k].count; shot++) {
            bfi_point at = place(s, drawn[k].from_m + shot * drawn[k].step_m);
            bfi_svg_circle(&s->swim.pen, "bf-ink", at.x, at.y, SHOT_MM);
        }
}

/* Where the bait is drawn: on the bottom, not in it. */
static bfi_point place_of_bait(const bfi_section *s) {
    bfi_point at = bfi_section_place(s, s->view->shape.bait_m);
    double lowest = bfi_swim_bed(&s->swim, s->fall.depth_m, at.x) - BAIT_MM;
    if (at.y > lowest) at.y = lowest;
    return at;
}

static void draw_hook_and_bait(bfi_section *s) {
    bfi_point at = place_of_bait(s);
    bfi_svg_path_begin(&s->swim.pen, "bf-p2");
    bfi_svg_point(&s->swim.pen, 'M', at.x - 1.3, at.y - 1.4);
    bfi_svg_point(&s->swim.pen, 'L', at.x - 1.4, at.y + 0.3);
    bfi_svg_point(&s->swim.pen, 'L', at.x - 0.9, at.y + 0.9);
    bfi_svg_point(&s->swim.pen, 'L', at.x - 0.2, at.y + 0.5);
    bfi_svg_path_end(&s->swim.pen, 0);
    bfi_svg_circle(&s->swim.pen, "bf-open", at.x, at.y, BAIT_MM);
}

static void draw_hooklength_knot(bfi_section *s) {
    if (!(s->view->rig.hooklength_m > 0)) return;
    bfi_point at = bfi_section_in_water(s, s->view->rig.hooklength_m);
    bfi_svg_line(&s->swim.pen, "bf-p2", at.x - 1.3, at.y, at.x + 1.3, at.y);
}

static void draw_rig(bfi_section *s) {
    const bf_rig_shape *shape = &s->view->shape;
    draw_line(s, shape->air_m, shape->n_air);
    draw_line(s, shape->water_m, shape->n_water);
    draw_hooklength_knot(s);
    draw_rows(s, s->back_row, s->drawn_back, s->n_back_rows, bfi_section_in_air);
    draw_rows(s, s->row, s->drawn, s->n_rows, bfi_section_in_water);
    draw_float(s);
    draw_hook_and_bait(s);
}

/* ---- the air ---- */

/* Along the drawing an arrow; towards or away from whoever looks the arrow's point or its feathers. */
static void draw_wind_arrow(bfi_section *s, double x, double y) {
    double out = s->view->wind_x_m_s, right = s->view->wind_y_m_s;
    if (fabs(out) >= 0.41421356237309503 * fabs(right)) {
        double half = out > 0 ? 4.5 : -4.5;
        bfi_svg_arrow(&s->swim.pen, "bf-p3", x - half, y, x + half, y, 2.2);
        return;
    }
    bfi_svg_text(&s->swim.pen, "bf-end", 79, y + 6.6, right > 0 ? "right" : "left");
    bfi_svg_circle(&s->swim.pen, "bf-p2", x, y, 2);
    if (right > 0) {
        bfi_svg_circle(&s->swim.pen, "bf-ink", x, y, 0.7);
    } else {
        bfi_svg_line(&s->swim.pen, "bf-p2", x - 1.4, y - 1.4, x + 1.4, y + 1.4);
        bfi_svg_line(&s->swim.pen, "bf-p2", x - 1.4, y + 1.4, x + 1.4, y - 1.4);
    }
}

static void draw_wind(bfi_section *s) {
    double speed = bfi_section_wind_m_s(s->view);
    if (!(speed > 0)) return;
    char text[32];
    bfi_pen word = bfi_pen_open(text, sizeof text);
    bfi_put(&word, "wind ");
    bfi_put_speed(&word, speed);
    bfi_svg_text(&s->swim.pen, "bf-label", 79 - bfi_word_width(text), 5.4, text);
    draw_wind_arrow(s, 73.5, 11);
}

static int is_potted(const bfi_section *s) {
    return bfi_section_has_feed(s) && (s->fall.how == BF_CLUMP || s->fall.how == BF_SPRINKLE);
}

static void draw_air(bfi_section *s) {
    double tip = bfi_swim_across(&s->swim, s->view->shape.air_m[0][0]);
    bfi_draw_pole(&s->swim.pen, tip);
    if (is_potted(s)) {
        double pot = bfi_swim_across(&s->swim, s->fall.step_x_m[0]);
        bfi_draw_pot(&s->swim.pen, pot < tip - 3.2 ? pot : tip - 3.2);
    }
    char text[48];
    bfi_pen word = bfi_pen_open(text, sizeof text);
    bfi_put(&word, "pole tip");
    if (s->fall.distance_m >= 0) {
        bfi_put(&word, " ");
        bfi_put_number(&word, s->fall.distance_m, 1);
        bfi_put(&word, " m out");
    }
    bfi_svg_text(&s->swim.pen, "bf-label", 2, 5.4, text);
    draw_wind(s);
}

/* ---- feed and current ---- */

/* Live, before there are pieces: the way of the typical one. */
static void draw_way(bfi_section *s) {
    bfi_svg_path_begin(&s->swim.pen, "bf-r2 bf-dash");
    for (int k = 0; k < s->fall.n_steps; k++) {
        double across = bfi_swim_across(&s->swim, s->fall.step_x_m[k]),
               y = bfi_swim_down(&s->swim, s->fall.step_z_m[k]);
        double bed = bfi_swim_bed(&s->swim, s->fall.depth_m, across);
        bfi_svg_point(&s->swim.pen, k ? 'L' : 'M', across, y < bed ? y : bed);
    }
    bfi_svg_path_end(&s->swim.pen, 0);
}

static void draw_currents(bfi_section *s) {
    const bf_section_view *view = s->view;
    double most = bfi_section_fastest_m_s(view);
    if (most < BFI_LEAST_CURRENT_M_S) return;
    for (int k = 0; k < view->n_currents; k++) {
        double y = bfi_swim_down(&s->swim, view->current_z_m[k]),
               half = CURRENT_MM * view->current_m_s[k] / most;
        if (y < BFI_SECTION_SURFACE_Y + 2) y = BFI_SECTION_SURFACE_Y + 2;
        if (fabs(half) < 0.3 || y > bfi_swim_bed(&s->swim, s->fall.depth_lo_m, CURRENT_X) - 1.4) continue;
        double head = fabs(half) < 1 ? 2 * fabs(half) * 0.6 : 1.2;
        bfi_svg_arrow(&s->swim.pen, "bf-p2", CURRENT_X - half, y, CURRENT_X + half, y, head);
    }
}

/* ---- under the bottom ---- */

#define DOT_MM 0.62
#define DOT_STEP_MM 1.3
#define DOTS_MM 8.0

/* Columns as wide as a dot, across the whole of what is drawn. */
#define DOT_COLUMNS 12
#define DOTS_X0 49.4

static int column_of(const bfi_section *s, int dot) {
    double across = bfi_swim_across(&s->swim, s->view->dot_x_m[dot]);
    return (int)bfi_clamp((across - DOTS_X0) / DOT_STEP_MM, 0, DOT_COLUMNS - 1);
}

static int highest_column(const bfi_section *s) {
    int count[DOT_COLUMNS] = {0}, most = 0;
    for (int k = 0; k < BF_SECTION_DOTS; k++) {
        int *here = &count[column_of(s, k)];
        *here += 1;
        if (*here > most) most = *here;
    }
    return most;
}

/* From one dot of a column to the next: closer where many stand on each other. */
static double dot_rise_mm(int most) {
    double step = (DOTS_MM - 2 * DOT_MM) / most;
    return step < 1.1 ? step : 1.1;
}

/* Twenty dots on a line. */
static void draw_dots(bfi_section *s, double base_y) {
    int count[DOT_COLUMNS] = {0};
    double rise = dot_rise_mm(highest_column(s));
    bfi_svg_text(&s->swim.pen, "bf-wet bf-r", 2, base_y, "the bait, 20 ways");
    bfi_svg_line(&s->swim.pen, "bf-r1", DOTS_X0, base_y + 0.2, DOTS_X0 + DOT_COLUMNS * DOT_STEP_MM,
                 base_y + 0.2);
    for (int k = 0; k < BF_SECTION_DOTS; k++) {
        int column = column_of(s, k);
        bfi_svg_circle(&s->swim.pen, "bf-rfill", DOTS_X0 + DOT_STEP_MM * (column + 0.5),
                       base_y - 0.8 - rise * count[column], DOT_MM);
        count[column] += 1;
    }
}

static void draw_feed_bracket(bfi_section *s, double y) {
    char text[64];
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    bfi_put(&pen, "feed, 9 in 10: ");
    bfi_put_length(&pen, s->fall.wide_hi_x_m - s->fall.wide_lo_x_m);
    bfi_svg_text(&s->swim.pen, "bf-wet bf-r", 2, y + BFI_HALF_FIGURE_MM, text);
    bfi_draw_bracket(&s->swim, y);
}

static double strips_mm(const bfi_section *s) {
    return (has_dots(s) ? DOTS_MM : 0) + (bfi_section_has_bracket(s) ? BFI_SIDE_ROW_MM : 0);
}

static void draw_strips(bfi_section *s) {
    double y = s->swim.base_y + 1;
    if (has_dots(s)) {
        y += DOTS_MM;
        draw_dots(s, y);
    }
    if (bfi_section_has_bracket(s)) draw_feed_bracket(s, y + 3.4);
}

/* ---- the drawing ---- */

bf_status bf_picture_section(const bf_section_view *view, const bf_labels *labels, char *svg, size_t most,
                             bf_picture *picture) {
    memset(picture, 0, sizeof *picture);
    bfi_section s = {.view = view,
                     .swim = {.pen = bfi_pen_open(svg, most),
                              .surface_y = BFI_SECTION_SURFACE_Y,
                              .deepest_mm = DEPTH_MM,
                              .middle_x = MIDDLE_X}};
    s.swim.view = &s.fall;
    bf_status status = check(&s);
    if (status) return status;
    s.n_rows = bfi_rows_downward(view->rig.shot, view->rig.n_shots, s.row);
    s.n_back_rows = bfi_rows_downward(view->rig.back_shot, view->rig.n_back_shots, s.back_row);
    choose_scale(&s);
    place_rows(s.row, s.n_rows, s.swim.z_mm_per_m, s.drawn);
    place_rows(s.back_row, s.n_back_rows, s.air_mm_per_m, s.drawn_back);
    bfi_section_tell(&s, labels, picture);

    bfi_caption captions[BFI_SECTION_CAPTIONS];
    int n_captions = bfi_section_captions(&s, labels, captions);
    double under_y = s.swim.base_y + strips_mm(&s);
    bfi_svg_open(&s.swim.pen, "section", BFI_SIDE_WIDTH_MM, under_y + 4 + BFI_SIDE_ROW_MM * n_captions,
                 view->look, "Rig and feed in section", picture->finding);
    bfi_draw_swim(&s.swim);
    bfi_draw_staff(&s.swim);
    draw_air(&s);
    if (bfi_section_has_feed(&s)) {
        if (s.fall.n_pieces > 0)
            bfi_draw_feed(&s.swim);
        else
            draw_way(&s);
        bfi_draw_times(&s.swim, bfi_swim_across(&s.swim, s.right_m) + 2.6, TIMES_X1);
    }
    draw_currents(&s);
    bfi_section_draw_words(&s);
    bfi_section_draw_back_word(&s);
    draw_rig(&s);
    draw_strips(&s);
    for (int k = 0; k < n_captions; k++)
        bfi_draw_caption(&s.swim.pen, under_y, k, captions[k].class_names, captions[k].text);
    bfi_svg_close(&s.swim.pen);
    return bfi_picture_end(&s.swim.pen, picture);
}
