/* Rig and feed in section, the bank to the left. The sheet, in mm:
 *
 *     y 0 .. 31     air: pole tip and wind on the first row, pole, pot, line, back shots; heights have their own scale
 *     y 31 .. 87    water, from the surface to the deepest the bottom may be under the tip
 *     y 87 ..       the bottom; below it twenty dots and a bracket on the same places across; then captions, one a row
 *     x 0 .. 19     depth staff;  x 19 .. 46 the rig's words;  x 50 .. 64 rig and feed;  x 64 .. 80 times, current
 */
#include <math.h>
#include <string.h>

#include "core/picture/chart.h"
#include "core/picture/drawn_rig.h"
#include "core/picture/swim.h"
#include "core/picture/words.h"

#define SURFACE_Y 31.0
#define DEPTH_MM 56.0
#define TIP_Y 11.3
#define MIDDLE_X 57.2
#define MOST_MM 13.4
/* The rig's words end here. */
#define WORDS_X1 46.0
#define WORD_STEP_MM 5.0
#define CURRENT_X 76.4
#define CURRENT_MM 2.7
#define TIMES_X1 73.2

#define FLOAT_MM 9.0
#define BRISTLE_MM 4.6
#define SHOT_MM 0.8
#define SHOT_STEP_MM 1.3
#define BULK_MM 7.0
#define BAIT_MM 1.15

typedef struct point {
    double x, y;
} point;

/* Where shot of a row are drawn, m of line from its end: true, but for what their drawn size needs. A bulk is at most
 * BULK_MM long, and a row begins above what is drawn of the one below. */
typedef struct drawn_row {
    double from_m, step_m;
} drawn_row;

typedef struct section {
    bfi_swim swim;
    const bf_section_view *view;
    bf_side_view fall; /* against the point under the tip; without bands when nominal */
    bf_drawn_shot row[BF_RIG_SHOTS], back_row[BF_RIG_BACK_SHOTS];
    int n_rows, n_back_rows;
    drawn_row drawn[BF_RIG_SHOTS], drawn_back[BF_RIG_BACK_SHOTS];
    double air_mm_per_m;
    double right_m; /* the rightmost that is drawn */
} section;

static int has_feed(const section *s) {
    return s->fall.n_steps > 0;
}

static int has_dots(const section *s) {
    return s->view->n_dots > 0 && !s->view->is_nominal;
}

static int has_bracket(const section *s) {
    return has_feed(s) && !s->view->is_nominal;
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
static void settle_fall(section *s) {
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

static bf_status check(section *s) {
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

static void choose_scale(section *s) {
    const bf_rig_shape *shape = &s->view->shape;
    bounds b = {0, 0};
    widen(&b, shape->bait_m[0]);
    for (int k = 0; k < shape->n_air; k++) widen(&b, shape->air_m[k][0]);
    for (int k = 0; k < shape->n_water; k++) widen(&b, shape->water_m[k][0]);
    for (int k = 0; k < s->fall.n_steps; k++) widen(&b, s->fall.step_x_m[k]);
    for (int k = 0; k < s->fall.n_pieces; k++) widen(&b, s->fall.piece_x_m[k]);
    if (has_bracket(s)) {
        widen(&b, s->fall.wide_lo_x_m);
        widen(&b, s->fall.wide_hi_x_m);
    }
    for (int k = 0; has_dots(s) && k < BF_SECTION_DOTS; k++) widen(&b, s->view->dot_x_m[k]);
    bfi_swim_scale(&s->swim, b.least, b.most, MOST_MM);
    s->right_m = b.most;
    double tip_m = -shape->air_m[0][2];
    s->air_mm_per_m = tip_m > 0.01 ? (SURFACE_Y - TIP_Y) / tip_m : 100;
}

/* Where a point of the rig is; above the water heights have their own scale. */
static point place_of(const section *s, const double at_m[3]) {
    double z = at_m[2];
    double y = z < 0 ? SURFACE_Y + z * s->air_mm_per_m : bfi_swim_down(&s->swim, z);
    return (point){bfi_swim_across(&s->swim, at_m[0]), y < TIP_Y - 2 ? TIP_Y - 2 : y};
}

/* ---- along a line ---- */

typedef const double (*points_m)[3];

static double gap_m(points_m at, int k) {
    double dx = at[k][0] - at[k - 1][0], dy = at[k][1] - at[k - 1][1], dz = at[k][2] - at[k - 1][2];
    return sqrt(dx * dx + dy * dy + dz * dz);
}

/* The place up_m before the last point, measured along the line; its first point when the line is shorter. */
static point place_along(const section *s, points_m at, int n, double up_m) {
    int k = n - 1;
    while (k > 1 && up_m > gap_m(at, k)) {
        up_m -= gap_m(at, k);
        k -= 1;
    }
    double gap = gap_m(at, k), part = gap > 0 ? bfi_clamp(up_m / gap, 0, 1) : 0, between[3];
    for (int axis = 0; axis < 3; axis++) between[axis] = at[k][axis] + part * (at[k - 1][axis] - at[k][axis]);
    return place_of(s, between);
}

static point place_in_water(const section *s, double above_hook_m) {
    return place_along(s, s->view->shape.water_m, s->view->shape.n_water, above_hook_m);
}

static point place_in_air(const section *s, double above_float_m) {
    return place_along(s, s->view->shape.air_m, s->view->shape.n_air, above_float_m);
}

/* Rows are listed from the top down. */
static void place_rows(const bf_drawn_shot *row, int n, double mm_per_m, drawn_row *drawn) {
    double least = SHOT_STEP_MM / mm_per_m, above = 0;
    for (int k = n - 1; k >= 0; k--) {
        double step = row[k].count > 1 ? BULK_MM / mm_per_m / (row[k].count - 1) : least;
        if (step > least) step = least;
        if (step < row[k].apart_m) step = row[k].apart_m;
        drawn[k] = (drawn_row){row[k].at_m > above ? row[k].at_m : above, step};
        above = drawn[k].from_m + (row[k].count - 1) * step + least;
    }
}

/* ---- the rig ---- */

static void draw_line(section *s, points_m at, int n) {
    bfi_svg_path_begin(&s->swim.pen, "bf-p2");
    for (int k = 0; k < n; k++) {
        point here = place_of(s, at[k]);
        bfi_svg_point(&s->swim.pen, k ? 'L' : 'M', here.x, here.y);
    }
    bfi_svg_path_end(&s->swim.pen, 0);
}

/* The float from the foot of its bristle along the line below it: how far that foot is under the surface goes by how much
 * of the bristle is. */
static void draw_float(section *s) {
    const bf_rig_shape *shape = &s->view->shape;
    point top = place_of(s, shape->float_m), below = top;
    for (int k = 1; k < shape->n_water && below.y < top.y + FLOAT_MM; k++)
        below = place_of(s, shape->water_m[k]);
    double dx = below.x - top.x, dy = below.y - top.y, length = sqrt(dx * dx + dy * dy);
    if (!(length > 1e-9)) dx = 0, dy = length = 1;
    dx /= length, dy /= length;
    double hidden = 1 - bfi_clamp(shape->bristle_m / s->view->bristle_long_m, -0.5, 1);
    point foot = {top.x + dx * hidden * BRISTLE_MM, top.y + dy * hidden * BRISTLE_MM};

    bfi_svg_line(&s->swim.pen, "bf-p4", foot.x, foot.y, foot.x - dx * BRISTLE_MM, foot.y - dy * BRISTLE_MM);
    static const double half_mm[] = {0, 1.0, 1.45, 1.6, 1.5, 1.25, 0.95, 0.6, 0.3, 0};
    const int n = sizeof half_mm / sizeof half_mm[0];
    bfi_svg_path_begin(&s->swim.pen, "bf-open");
    for (int k = 0; k < 2 * n - 1; k++) {
        int at = k < n ? k : 2 * (n - 1) - k;
        double along = FLOAT_MM * at / (n - 1), aside = k < n ? half_mm[at] : -half_mm[at];
        bfi_svg_point(&s->swim.pen, k ? 'L' : 'M', foot.x + dx * along - dy * aside,
                      foot.y + dy * along + dx * aside);
    }
    bfi_svg_path_end(&s->swim.pen, 1);
}

static void draw_rows(section *s, const bf_drawn_shot *row, const drawn_row *drawn, int n,
                      point (*place)(const section *, double)) {
    for (int k = 0; k < n; k++)
        for (int shot = 0; shot < row[k].count; shot++) {
            point at = place(s, drawn[k].from_m + shot * drawn[k].step_m);
            bfi_svg_circle(&s->swim.pen, "bf-ink", at.x, at.y, SHOT_MM);
        }
}

/* Where the bait is drawn: on the bottom, not in it. */
static point place_of_bait(const section *s) {
    point at = place_of(s, s->view->shape.bait_m);
    double lowest = bfi_swim_bed(&s->swim, s->fall.depth_m, at.x) - BAIT_MM;
    if (at.y > lowest) at.y = lowest;
    return at;
}

static void draw_hook_and_bait(section *s) {
    point at = place_of_bait(s);
    bfi_svg_path_begin(&s->swim.pen, "bf-p2");
    bfi_svg_point(&s->swim.pen, 'M', at.x - 1.3, at.y - 1.4);
    bfi_svg_point(&s->swim.pen, 'L', at.x - 1.4, at.y + 0.3);
    bfi_svg_point(&s->swim.pen, 'L', at.x - 0.9, at.y + 0.9);
    bfi_svg_point(&s->swim.pen, 'L', at.x - 0.2, at.y + 0.5);
    bfi_svg_path_end(&s->swim.pen, 0);
    bfi_svg_circle(&s->swim.pen, "bf-open", at.x, at.y, BAIT_MM);
}

static void draw_hooklength_knot(section *s) {
    if (!(s->view->rig.hooklength_m > 0)) return;
    point at = place_in_water(s, s->view->rig.hooklength_m);
    bfi_svg_line(&s->swim.pen, "bf-p2", at.x - 1.3, at.y, at.x + 1.3, at.y);
}

static void draw_rig(section *s) {
    const bf_rig_shape *shape = &s->view->shape;
    draw_line(s, shape->air_m, shape->n_air);
    draw_line(s, shape->water_m, shape->n_water);
    draw_hooklength_knot(s);
    draw_rows(s, s->back_row, s->drawn_back, s->n_back_rows, place_in_air);
    draw_rows(s, s->row, s->drawn, s->n_rows, place_in_water);
    draw_float(s);
    draw_hook_and_bait(s);
}

/* ---- the air ---- */

static double wind_m_s(const bf_section_view *view) {
    return sqrt(view->wind_x_m_s * view->wind_x_m_s + view->wind_y_m_s * view->wind_y_m_s);
}

static void put_speed(bfi_pen *pen, double m_s) {
    bfi_put_number(pen, m_s, m_s < 0.95);
    bfi_put(pen, " m/s");
}

/* Along the drawing an arrow; towards or away from whoever looks the arrow's point or its feathers. */
static void draw_wind_arrow(section *s, double x, double y) {
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

static void draw_wind(section *s) {
    double speed = wind_m_s(s->view);
    if (!(speed > 0)) return;
    char text[32];
    bfi_pen word = bfi_pen_open(text, sizeof text);
    bfi_put(&word, "wind ");
    put_speed(&word, speed);
    bfi_svg_text(&s->swim.pen, "bf-label", 79 - bfi_word_width(text), 5.4, text);
    draw_wind_arrow(s, 73.5, 11);
}

static int is_potted(const section *s) {
    return has_feed(s) && (s->fall.how == BF_CLUMP || s->fall.how == BF_SPRINKLE);
}

static void draw_air(section *s) {
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

/* ---- the rig's words ---- */

typedef struct rig_word {
    char text[64];
    point at; /* what it is said of */
    double y; /* of its base line   */
} rig_word;

#define MOST_WORDS (BF_RIG_SHOTS + 3)
/* More than these are a thicket of leaders. */
#define MOST_SAID 8

static bfi_segment leader_of(double y, point to) {
    return (bfi_segment){WORDS_X1 + 1, y - BFI_HALF_FIGURE_MM, to.x - 1.6, to.y};
}

static double length_of(bfi_segment line) {
    double dx = line.x1 - line.x0, dy = line.y1 - line.y0;
    return sqrt(dx * dx + dy * dy);
}

static void draw_leader(section *s, double y, point to) {
    bfi_segment line = leader_of(y, to);
    if (length_of(line) >= 1.5) bfi_svg_line(&s->swim.pen, "bf-p1", line.x0, line.y0, line.x1, line.y1);
}

static void draw_rig_word(section *s, const char *class_names, const rig_word *word) {
    char fitted[96];
    bfi_pen pen = bfi_pen_open(fitted, sizeof fitted);
    bfi_put_fitted(&pen, word->text, WORDS_X1 - BFI_WATER_X0 - BFI_RIM_MM);
    bfi_svg_text(&s->swim.pen, class_names, WORDS_X1, word->y, fitted);
}

static rig_word *add_word(rig_word *words, int *n, point at) {
    rig_word *word = &words[*n];
    *n += 1;
    word->text[0] = 0;
    word->at = at;
    return word;
}

static point middle_of_row(const section *s, int k) {
    return place_in_water(s, s->drawn[k].from_m + 0.5 * (s->row[k].count - 1) * s->drawn[k].step_m);
}

/* What is said of the rig under water, from the top down. */
static int list_words(section *s, rig_word *words) {
    const bf_drawn_rig *rig = &s->view->rig;
    int n = 0;
    point top = place_of(s, s->view->shape.float_m);
    rig_word *word = add_word(words, &n, (point){top.x, top.y + 0.5 * FLOAT_MM});
    bfi_pen pen = bfi_pen_open(word->text, sizeof word->text);
    bfi_put(&pen, "float ");
    bfi_put(&pen, rig->float_name.text);
    int knot_said = !(rig->hooklength_m > 0);
    for (int k = 0; k <= s->n_rows; k++) {
        if (!knot_said && (k == s->n_rows || s->row[k].at_m < 0.5 * rig->hooklength_m)) {
            word = add_word(words, &n, place_in_water(s, 0.5 * rig->hooklength_m));
            pen = bfi_pen_open(word->text, sizeof word->text);
            bfi_put_rig_length(&pen, rig->hooklength_m);
            /* "15 cm, 0.12": of its diameter the number. */
            if (rig->hooklength.text[0]) bfi_put(&pen, ", ");
            bfi_put_bytes(&pen, rig->hooklength.text, strcspn(rig->hooklength.text, " "));
            knot_said = 1;
        }
        if (k == s->n_rows) break;
        word = add_word(words, &n, middle_of_row(s, k));
        pen = bfi_pen_open(word->text, sizeof word->text);
        bfi_put_row(&pen, &s->row[k]);
    }
    return n;
}

/* By the height of what they are said of, so that no leader crosses another. */
static void sort_words(rig_word *words, int n) {
    for (int k = 1; k < n; k++) {
        rig_word moved = words[k];
        int at = k;
        while (at > 0 && words[at - 1].at.y > moved.at.y) {
            words[at] = words[at - 1];
            at -= 1;
        }
        words[at] = moved;
    }
}

/* The lowest base line of a word over the bottom. */
static double lowest_word(const section *s) {
    double lowest = BF_INFINITY;
    for (double x = BFI_WATER_X0; x <= WORDS_X1 + 0.01; x += (WORDS_X1 - BFI_WATER_X0) / 8) {
        double bed = bfi_swim_bed(&s->swim, s->fall.depth_lo_m, x);
        if (bed < lowest) lowest = bed;
    }
    return lowest - (s->fall.bottom == BF_WEED ? 4.6 : 1.6);
}

/* Base lines as near to what the words are said of as steps of WORD_STEP_MM between `first` and `last` allow, in order:
 * down the list each below the one before, then up from the end. */
static void spread_words(rig_word *words, int n, double first, double last) {
    double y = first;
    for (int k = 0; k < n; k++) {
        double wish = words[k].at.y - 4 + 2 * BFI_HALF_FIGURE_MM;
        words[k].y = wish > y ? wish : y;
        y = words[k].y + WORD_STEP_MM;
    }
    y = last;
    for (int k = n - 1; k >= 0; k--) {
        if (words[k].y > y) words[k].y = y;
        y = words[k].y - WORD_STEP_MM;
    }
}

/* Two words change places while that makes their leaders shorter together: two that cross always do. */
static void untangle(rig_word *words, int n) {
    int has_changed = 1;
    while (has_changed) {
        has_changed = 0;
        for (int a = 0; a < n; a++)
            for (int b = 0; b < a; b++) {
                double now = length_of(leader_of(words[a].y, words[a].at)) +
                             length_of(leader_of(words[b].y, words[b].at));
                double then = length_of(leader_of(words[a].y, words[b].at)) +
                              length_of(leader_of(words[b].y, words[a].at));
                if (then > now - 1e-6) continue;
                rig_word moved = words[a];
                double y = words[b].y;
                words[a] = words[b];
                words[a].y = moved.y;
                words[b] = moved;
                words[b].y = y;
                has_changed = 1;
            }
    }
}

static void draw_rig_words(section *s) {
    rig_word words[MOST_WORDS];
    int n = list_words(s, words);
    double first = SURFACE_Y + 7, last = lowest_word(s);
    int most = last < first ? 0 : 1 + (int)((last - first) / WORD_STEP_MM);
    if (most > MOST_SAID) most = MOST_SAID;
    /* Where there is less room, the upper shot go unsaid: those near the hook decide how the bait hangs. */
    int n_out = n > most ? n - most : 0;
    if (n_out > 0 && most > 0)
        memmove(&words[1], &words[1 + n_out], (size_t)(n - 1 - n_out) * sizeof words[0]);
    n = n_out > 0 ? most : n;
    sort_words(words, n);
    spread_words(words, n, first, last);
    untangle(words, n);
    for (int k = 0; k < n; k++) draw_leader(s, words[k].y, words[k].at);
    for (int k = 0; k < n; k++) draw_rig_word(s, "bf-wet bf-case bf-end", &words[k]);
}

static void draw_back_shot_word(section *s) {
    if (s->n_back_rows == 0) return;
    const bf_drawn_shot *row = &s->back_row[s->n_back_rows - 1];
    rig_word word = {.at = place_in_air(s, s->drawn_back[s->n_back_rows - 1].from_m)};
    bfi_pen pen = bfi_pen_open(word.text, sizeof word.text);
    if (s->n_back_rows > 1) {
        int n = 0;
        for (int k = 0; k < s->n_back_rows; k++) n += s->back_row[k].count;
        bfi_put_number(&pen, n, 0);
        bfi_put(&pen, " shots");
    } else {
        bfi_put_row(&pen, row);
    }
    word.y = bfi_clamp(word.at.y + BFI_HALF_FIGURE_MM, 21, 26.6);
    draw_leader(s, word.y, word.at);
    draw_rig_word(s, "bf-end", &word);
}

/* ---- feed and current ---- */

/* Live, before there are pieces: the way of the typical one. */
static void draw_way(section *s) {
    bfi_svg_path_begin(&s->swim.pen, "bf-r2 bf-dash");
    for (int k = 0; k < s->fall.n_steps; k++) {
        double across = bfi_swim_across(&s->swim, s->fall.step_x_m[k]),
               y = bfi_swim_down(&s->swim, s->fall.step_z_m[k]);
        double bed = bfi_swim_bed(&s->swim, s->fall.depth_m, across);
        bfi_svg_point(&s->swim.pen, k ? 'L' : 'M', across, y < bed ? y : bed);
    }
    bfi_svg_path_end(&s->swim.pen, 0);
}

static double fastest_m_s(const bf_section_view *view) {
    double most = 0;
    for (int k = 0; k < view->n_currents; k++)
        if (fabs(view->current_m_s[k]) > most) most = fabs(view->current_m_s[k]);
    return most;
}

#define LEAST_CURRENT_M_S 0.0005

static void draw_currents(section *s) {
    const bf_section_view *view = s->view;
    double most = fastest_m_s(view);
    if (most < LEAST_CURRENT_M_S) return;
    for (int k = 0; k < view->n_currents; k++) {
        double y = bfi_swim_down(&s->swim, view->current_z_m[k]),
               half = CURRENT_MM * view->current_m_s[k] / most;
        if (y < SURFACE_Y + 2) y = SURFACE_Y + 2;
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

static int column_of(const section *s, int dot) {
    double across = bfi_swim_across(&s->swim, s->view->dot_x_m[dot]);
    return (int)bfi_clamp((across - DOTS_X0) / DOT_STEP_MM, 0, DOT_COLUMNS - 1);
}

static int highest_column(const section *s) {
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
static void draw_dots(section *s, double base_y) {
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

static void draw_feed_bracket(section *s, double y) {
    char text[64];
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    bfi_put(&pen, "feed, 9 in 10: ");
    bfi_put_length(&pen, s->fall.wide_hi_x_m - s->fall.wide_lo_x_m);
    bfi_svg_text(&s->swim.pen, "bf-wet bf-r", 2, y + BFI_HALF_FIGURE_MM, text);
    bfi_draw_bracket(&s->swim, y);
}

static double strips_mm(const section *s) {
    return (has_dots(s) ? DOTS_MM : 0) + (has_bracket(s) ? BFI_SIDE_ROW_MM : 0);
}

static void draw_strips(section *s) {
    double y = s->swim.base_y + 1;
    if (has_dots(s)) {
        y += DOTS_MM;
        draw_dots(s, y);
    }
    if (has_bracket(s)) draw_feed_bracket(s, y + 3.4);
}

typedef struct caption {
    const char *class_names;
    char text[128];
} caption;

#define MOST_CAPTIONS 7

static bfi_pen add_caption(caption *captions, int *n, const char *class_names) {
    caption *row = &captions[*n];
    *n += 1;
    row->class_names = class_names;
    return bfi_pen_open(row->text, sizeof row->text);
}

/* Off the tip more across than outward, where this drawing does not show it. */
static int is_mostly_aside(const bf_section_view *view) {
    const double *bait_m = view->shape.bait_m;
    return fabs(bait_m[1]) > 0.02 && fabs(bait_m[1]) > fabs(bait_m[0]);
}

static int list_captions(const section *s, const bf_labels *labels, caption *captions) {
    const bf_section_view *view = s->view;
    int n = 0;
    bfi_pen pen;
    if (view->off.text[0]) {
        pen = add_caption(captions, &n, "bf-wet bf-r bf-key");
        bfi_put(&pen, "bait ");
        bfi_put(&pen, view->off.text);
        bfi_put(&pen, " off the tip");
    }
    if (is_mostly_aside(view)) {
        pen = add_caption(captions, &n, "bf-wet bf-r");
        bfi_put(&pen,
                view->shape.bait_m[1] > 0 ? "mostly right: see from above" : "mostly left: see from above");
    }
    pen = add_caption(captions, &n, "bf-wet bf-key");
    bfi_put_depth(&pen, &s->fall, labels);
    bfi_put(&pen, ", ");
    bfi_put(&pen, bf_bottom_words[s->fall.bottom]);
    if (fastest_m_s(view) >= LEAST_CURRENT_M_S) {
        pen = add_caption(captions, &n, "bf-wet");
        bfi_put(&pen, "arrows: current, up to ");
        bfi_put_short(&pen, 100 * fastest_m_s(view));
        bfi_put(&pen, " cm/s");
    }
    pen = add_caption(captions, &n, "bf-label");
    double times = bfi_swim_narrower(&s->swim);
    if (times > 1.05) {
        bfi_put(&pen, "height drawn ");
        bfi_put_number(&pen, times, times < 10);
        bfi_put(&pen, " times");
        pen = add_caption(captions, &n, "bf-label");
        bfi_put(&pen, "float, shot, bait larger; air not");
    } else {
        bfi_put(&pen, "water to scale, float and shot not");
    }
    return n;
}

/* ---- what it says ---- */

static void put_over(bfi_pen *pen, double overdepth_m) {
    if (fabs(overdepth_m) < 0.005) {
        bfi_put(pen, "at full depth");
        return;
    }
    bfi_put_rig_length(pen, fabs(overdepth_m));
    bfi_put(pen, overdepth_m > 0 ? " over depth" : " off the bottom");
}

static const char *const contact_words[] = {"hangs", "touches", "lies"};

static void put_feed_told(bfi_pen *pen, const section *s) {
    const bf_side_view *fall = &s->fall;
    double middle =
        has_bracket(s) ? 0.5 * (fall->wide_lo_x_m + fall->wide_hi_x_m) : fall->step_x_m[fall->n_steps - 1];
    double from_bait = middle - s->view->shape.bait_m[0];
    bfi_put(pen, has_bracket(s) ? "; feed pile " : "; feed");
    if (has_bracket(s)) {
        bfi_put_length(pen, fall->wide_hi_x_m - fall->wide_lo_x_m);
        bfi_put(pen, " wide, its middle");
    }
    if (fabs(from_bait) < 0.005) {
        bfi_put(pen, " at the bait");
        return;
    }
    bfi_put(pen, " ");
    bfi_put_length(pen, fabs(from_bait));
    bfi_put(pen, from_bait > 0 ? " out from the bait" : " in from the bait");
}

static void tell_finding(const section *s, bf_picture *picture) {
    const bf_section_view *view = s->view;
    bfi_pen pen = bfi_pen_open(picture->finding, sizeof picture->finding);
    bfi_put(&pen, "Float ");
    bfi_put(&pen, view->rig.float_name.text);
    bfi_put(&pen, ", ");
    bfi_put_rows(&pen, s->row, s->n_rows, 100);
    bfi_put(&pen, " above the hook; bait ");
    put_over(&pen, view->overdepth_m);
    if (view->off.text[0]) {
        bfi_put(&pen, ", ");
        bfi_put(&pen, view->off.text);
        bfi_put(&pen, " off the tip");
    }
    if (has_feed(s)) put_feed_told(&pen, s);
    bfi_put(&pen, ".");
}

static void tell_rig(const section *s, bf_picture *picture) {
    const bf_section_view *view = s->view;
    bfi_pen pen = bfi_row_open(picture, "Float");
    bfi_put(&pen, view->rig.float_name.text);
    bfi_put(&pen, view->shape.bristle_m < 0 ? ", under by " : ", bristle showing ");
    bfi_put_number(&pen, 1000 * fabs(view->shape.bristle_m), 0);
    bfi_put(&pen, " mm");
    if (view->shape.bristle_band_m > 0) {
        bfi_put(&pen, ", give or take ");
        bfi_put_number(&pen, 1000 * view->shape.bristle_band_m, 0);
        bfi_put(&pen, " mm");
    }
    pen = bfi_row_open(picture, "Shot, above the hook");
    bfi_put_rows(&pen, s->row, s->n_rows, 79);
    if (s->n_back_rows > 0) {
        pen = bfi_row_open(picture, "Back shots, above the float");
        bfi_put_rows(&pen, s->back_row, s->n_back_rows, 79);
    }
    if (view->rig.hooklength_m > 0) {
        pen = bfi_row_open(picture, "Hooklength");
        bfi_put_rig_length(&pen, view->rig.hooklength_m);
        bfi_put(&pen, view->rig.hooklength.text[0] ? " of " : "");
        bfi_put(&pen, view->rig.hooklength.text);
    }
    pen = bfi_row_open(picture, "Hook bait");
    bfi_put(&pen, contact_words[view->shape.contact]);
    bfi_put(&pen, ", ");
    put_over(&pen, view->overdepth_m);
    pen = bfi_row_open(picture, "Hook bait from under the tip");
    if (view->off.text[0])
        bfi_put(&pen, view->off.text);
    else
        bfi_put_offset(&pen, view->shape.bait_m[0], view->shape.bait_m[1]);
    if (view->down.text[0]) {
        pen = bfi_row_open(picture, "Hook bait down");
        bfi_put(&pen, view->down.text);
    }
}

static void tell_water(const section *s, const bf_labels *labels, bf_picture *picture) {
    const bf_section_view *view = s->view;
    bfi_pen pen = bfi_row_open(picture, "Depth and bottom");
    bfi_put_depth(&pen, &s->fall, labels);
    bfi_put(&pen, ", ");
    bfi_put_bottom(&pen, &s->fall);
    if (has_bracket(s)) {
        pen = bfi_row_open(picture, "Feed, 9 in 10 outward");
        bfi_put_length(&pen, s->fall.wide_hi_x_m - s->fall.wide_lo_x_m);
    }
    if (labels->time.text[0]) {
        pen = bfi_row_open(picture, "Feed, 9 in 10 down");
        bfi_put(&pen, labels->time.text);
    }
    if (fastest_m_s(view) >= LEAST_CURRENT_M_S) {
        pen = bfi_row_open(picture, "Current, surface and deepest shown");
        for (int k = 0; k < 2; k++) {
            double speed = 100 * view->current_m_s[k ? view->n_currents - 1 : 0];
            bfi_put(&pen, k ? "; " : "");
            bfi_put_short(&pen, fabs(speed));
            bfi_put(&pen, " cm/s");
            if (fabs(speed) >= 100 * LEAST_CURRENT_M_S) bfi_put(&pen, speed > 0 ? " out" : " in");
        }
    }
    if (wind_m_s(view) > 0) {
        pen = bfi_row_open(picture, "Wind blows");
        put_speed(&pen, wind_m_s(view));
        bfi_put(&pen, " ");
        bfi_put_direction(&pen, view->wind_x_m_s, view->wind_y_m_s);
    }
}

/* ---- the drawing ---- */

bf_status bf_picture_section(const bf_section_view *view, const bf_labels *labels, char *svg, size_t most,
                             bf_picture *picture) {
    memset(picture, 0, sizeof *picture);
    section s = {.view = view,
                 .swim = {.pen = bfi_pen_open(svg, most),
                          .surface_y = SURFACE_Y,
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
    tell_finding(&s, picture);
    tell_rig(&s, picture);
    tell_water(&s, labels, picture);

    caption captions[MOST_CAPTIONS];
    int n_captions = list_captions(&s, labels, captions);
    double under_y = s.swim.base_y + strips_mm(&s);
    bfi_svg_open(&s.swim.pen, "section", BFI_SIDE_WIDTH_MM, under_y + 4 + BFI_SIDE_ROW_MM * n_captions,
                 view->look, "Rig and feed in section", picture->finding);
    bfi_draw_swim(&s.swim);
    bfi_draw_staff(&s.swim);
    draw_air(&s);
    if (has_feed(&s)) {
        if (s.fall.n_pieces > 0)
            bfi_draw_feed(&s.swim);
        else
            draw_way(&s);
        bfi_draw_times(&s.swim, bfi_swim_across(&s.swim, s.right_m) + 2.6, TIMES_X1);
    }
    draw_currents(&s);
    draw_rig_words(&s);
    draw_back_shot_word(&s);
    draw_rig(&s);
    draw_strips(&s);
    for (int k = 0; k < n_captions; k++)
        bfi_draw_caption(&s.swim.pen, under_y, k, captions[k].class_names, captions[k].text);
    bfi_svg_close(&s.swim.pen);
    return bfi_picture_end(&s.swim.pen, picture);
}
