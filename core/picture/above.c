/* The landing seen from above. The sheet, in mm:
 *
 *     y 2 .. 73    frame of water; words in the bands y 3 .. 13 and 58 .. 72, feed between, true to scale
 *     y 77 .. 86   scale bar on the left, key of the heat on the right
 *     y 86 ..      with the cloud of the hook bait: what its marks are, and the wind
 */
#include <math.h>
#include <string.h>

#include "baitfall/picture.h"
#include "core/picture/contour.h"
#include "core/picture/overhead.h"
#include "core/picture/swim.h"
#include "core/picture/words.h"

/* Heat step k + 1 begins at this part of the densest cell. */
static const double heat_from[] = {0.04, 0.2, 0.36, 0.52, 0.68, 0.84};
static const char *const heat_class[] = {"bf-heat bf-h1", "bf-heat bf-h2", "bf-heat bf-h3",
                                         "bf-heat bf-h4", "bf-heat bf-h5", "bf-heat bf-h6"};
#define N_HEAT 6

/* One drawing under way. */
typedef struct sheet {
    const bf_above_view *view;
    const double *density;
    bfi_contour *contour; /* one line at a time */
    bfi_pen pen;
    double peak;
    bfi_overhead o;
    double middle_x_m, middle_y_m; /* mean place of the pieces */
} sheet;

static double across_mm(const sheet *s, double y_m) {
    return bfi_overhead_across(&s->o, y_m);
}

static double down_mm(const sheet *s, double x_m) {
    return bfi_overhead_down(&s->o, x_m);
}

static double density_at(const sheet *s, int i, int j) {
    return s->density[i * s->view->ny + j];
}

/* ---- checks ---- */

static bf_status check_view(const bf_above_view *view, const double *density) {
    if (view->nx < 1 || view->nx > BF_ABOVE_MOST_SIDE || view->ny < 1 || view->ny > BF_ABOVE_MOST_SIDE)
        return BF_E_COUNT;
    const double numbers[] = {view->cell_m,   view->origin_x_m,  view->origin_y_m,
                              view->level50,  view->level90,     view->hook_x_m,
                              view->hook_y_m, view->drift_x_m_s, view->drift_y_m_s};
    for (size_t k = 0; k < sizeof numbers / sizeof numbers[0]; k++)
        if (!(fabs(numbers[k]) < BF_INFINITY)) return BF_E_NOT_FINITE;
    double sum = 0;
    for (int k = 0; k < view->nx * view->ny; k++) {
        if (!(fabs(density[k]) < BF_INFINITY)) return BF_E_NOT_FINITE;
        if (density[k] < 0) return BF_E_RANGE;
        sum += density[k];
    }
    int is_fine = sum > 0 && view->cell_m > 1e-6 && view->cell_m < 1e3 && view->level90 > 0 &&
                  view->level50 >= view->level90 && view->look >= BF_LOOK_OPEN &&
                  view->look <= BF_LOOK_DUSK && view->how >= BF_CLUMP && view->how <= BF_HAND &&
                  fabs(view->origin_x_m) < 1e4 && fabs(view->origin_y_m) < 1e4 &&
                  fabs(view->hook_x_m) < 1e4 && fabs(view->hook_y_m) < 1e4 && fabs(view->drift_x_m_s) < 1e2 &&
                  fabs(view->drift_y_m_s) < 1e2 && !(view->hook_share_frac < 0) &&
                  !(view->hook_share_frac > 1);
    return is_fine ? BF_OK : BF_E_RANGE;
}

static bf_status check_baits(const bf_above_view *view) {
    if (view->n_baits == 0) return BF_OK;
    if (view->n_baits != BF_ABOVE_BAITS) return BF_E_COUNT;
    const double numbers[] = {view->bait50_m, view->bait90_m, view->wind_x_m_s, view->wind_y_m_s};
    if (!bfi_all_finite(numbers, 4) || !bfi_all_finite(view->bait_x_m, BF_ABOVE_BAITS) ||
        !bfi_all_finite(view->bait_y_m, BF_ABOVE_BAITS))
        return BF_E_NOT_FINITE;
    int is_fine = view->bait50_m > 0 && view->bait50_m <= view->bait90_m && bfi_all_within(numbers, 4, 1e4) &&
                  bfi_all_within(view->bait_x_m, BF_ABOVE_BAITS, 1e4) &&
                  bfi_all_within(view->bait_y_m, BF_ABOVE_BAITS, 1e4);
    return is_fine ? BF_OK : BF_E_RANGE;
}

/* ---- scale ---- */

/* The outer ring around the hook bait: where it may lie, or what counts as beside it. */
static double ring_m(const bf_above_view *view) {
    return view->n_baits > 0 ? view->bait90_m : BF_HOOK_RING_M;
}

static void find_peak_and_middle(sheet *s) {
    const bf_above_view *view = s->view;
    double sum = 0, sum_x = 0, sum_y = 0;
    for (int i = 0; i < view->nx; i++)
        for (int j = 0; j < view->ny; j++) {
            double here = density_at(s, i, j);
            if (here > s->peak) s->peak = here;
            sum += here;
            sum_x += here * (i + 0.5);
            sum_y += here * (j + 0.5);
        }
    s->middle_x_m = view->origin_x_m + view->cell_m * sum_x / sum;
    s->middle_y_m = view->origin_y_m + view->cell_m * sum_y / sum;
}

/* Everything that is drawn must fit: the heat with the lines around it, the ring, and the column of the pole. */
static void choose_scale(sheet *s) {
    const bf_above_view *view = s->view;
    double ring = ring_m(view);
    bfi_box reach = {view->hook_x_m - ring, view->hook_y_m - ring, view->hook_x_m + ring,
                     view->hook_y_m + ring};
    for (int k = 0; k < view->n_baits; k++)
        reach = bfi_box_around(reach, view->bait_x_m[k], view->bait_y_m[k]);
    double faint = heat_from[0] * s->peak;
    if (view->level90 < faint) faint = view->level90;
    for (int i = 0; i < view->nx; i++)
        for (int j = 0; j < view->ny; j++) {
            if (density_at(s, i, j) < faint) continue;
            double x = view->origin_x_m + view->cell_m * i, y = view->origin_y_m + view->cell_m * j;
            reach = bfi_box_around(reach, x - 0.5 * view->cell_m, y - 0.5 * view->cell_m);
            reach = bfi_box_around(reach, x + 1.5 * view->cell_m, y + 1.5 * view->cell_m);
        }
    reach = bfi_box_around(reach, reach.x0, 0);
    s->o = bfi_overhead_around(reach);
}

/* ---- the map ---- */

/* One step of heat: every cell from `least` up, so that a higher step lies upon the lower ones without a seam. */
static void draw_heat_step(sheet *s, double least, const char *class_names) {
    const bf_above_view *view = s->view;
    double side = view->cell_m * s->o.mm_per_m;
    bfi_svg_path_begin(&s->pen, class_names);
    for (int i = 0; i < view->nx; i++)
        for (int j = 0; j < view->ny; j++) {
            if (density_at(s, i, j) < least) continue;
            int first = j;
            while (j + 1 < view->ny && density_at(s, i, j + 1) >= least) j += 1;
            double x0 = across_mm(s, view->origin_y_m + view->cell_m * first),
                   x1 = x0 + side * (j + 1 - first);
            double y1 = down_mm(s, view->origin_x_m + view->cell_m * i), y0 = y1 - side;
            bfi_svg_point(&s->pen, 'M', x0, y0);
            bfi_svg_point(&s->pen, 'L', x1, y0);
            bfi_svg_point(&s->pen, 'L', x1, y1);
            bfi_svg_point(&s->pen, 'L', x0, y1);
            bfi_put(&s->pen, "Z");
        }
    bfi_svg_path_end(&s->pen, 0);
}

static void draw_heat(sheet *s) {
    for (int k = 0; k < N_HEAT; k++) draw_heat_step(s, heat_from[k] * s->peak, heat_class[k]);
}

/* Traces the line of one level; its points are then in mm of the sheet. */
static void trace_line(sheet *s, double level) {
    const bf_above_view *view = s->view;
    bfi_contour_trace(s->density, view->nx, view->ny, level, s->contour);
    for (int k = 0; k < s->contour->n_points; k++) {
        double x_m = view->origin_x_m + view->cell_m * s->contour->x[k];
        double y_m = view->origin_y_m + view->cell_m * s->contour->y[k];
        s->contour->x[k] = across_mm(s, y_m);
        s->contour->y[k] = down_mm(s, x_m);
    }
}

static void draw_line(sheet *s, double level, const char *class_names) {
    trace_line(s, level);
    const bfi_contour *line = s->contour;
    bfi_svg_path_begin(&s->pen, class_names);
    for (int loop = 0, k = 0; loop < line->n_loops; loop++) {
        for (int first = k; k < line->loop_end[loop]; k++)
            bfi_svg_point(&s->pen, k == first ? 'M' : 'L', line->x[k], line->y[k]);
        bfi_put(&s->pen, "Z");
    }
    bfi_svg_path_end(&s->pen, 0);
}

static void draw_lines(sheet *s) {
    draw_line(s, s->view->level90, "bf-casing");
    draw_line(s, s->view->level50, "bf-casing");
    draw_line(s, s->view->level90, "bf-r3 bf-dash");
    draw_line(s, s->view->level50, "bf-r3");
}

static void draw_hook(sheet *s) {
    double x = across_mm(s, s->view->hook_y_m), y = down_mm(s, s->view->hook_x_m);
    double ring = ring_m(s->view) * s->o.mm_per_m;
    bfi_svg_circle(&s->pen, "bf-casing", x, y, ring);
    bfi_svg_circle(&s->pen, "bf-p3", x, y, ring);
    bfi_svg_circle(&s->pen, "bf-open", x, y, ring < 3 ? 0.3 * ring + 0.2 : 1.1);
}

/* Where the hook bait may lie: twenty dots, and the rings that hold half and nine in ten. */
static void draw_baits(sheet *s) {
    const bf_above_view *view = s->view;
    double x = across_mm(s, view->hook_y_m), y = down_mm(s, view->hook_x_m);
    bfi_svg_circle(&s->pen, "bf-casing", x, y, view->bait90_m * s->o.mm_per_m);
    bfi_svg_circle(&s->pen, "bf-casing", x, y, view->bait50_m * s->o.mm_per_m);
    bfi_svg_circle(&s->pen, "bf-r2 bf-fine-dash", x, y, view->bait90_m * s->o.mm_per_m);
    bfi_svg_circle(&s->pen, "bf-r2", x, y, view->bait50_m * s->o.mm_per_m);
    for (int k = 0; k < view->n_baits; k++)
        bfi_svg_circle(&s->pen, "bf-ropen", across_mm(s, view->bait_y_m[k]), down_mm(s, view->bait_x_m[k]),
                       0.9);
}

/* ---- words ---- */

/* A word for a traced line: from each place to the nearest point of it. */
static bfi_word word_of_line(sheet *s, double level, const char *text) {
    bfi_word word = bfi_word_in_bands(text, "bf-wet bf-r bf-case");
    trace_line(s, level);
    for (int p = 0; p < word.n_places; p++) {
        bfi_place *place = &word.place[p];
        double from_x = 0.5 * (place->box.x0 + place->box.x1), from_y = 0.5 * (place->box.y0 + place->box.y1);
        double least = BF_INFINITY;
        int nearest = 0;
        for (int k = 0; k < s->contour->n_points; k++) {
            double dx = s->contour->x[k] - from_x, dy = s->contour->y[k] - from_y;
            if (dx * dx + dy * dy >= least) continue;
            least = dx * dx + dy * dy;
            nearest = k;
        }
        bfi_lead_to(place, s->contour->x[nearest], s->contour->y[nearest]);
    }
    return word;
}

static bfi_word word_of_hook(const sheet *s) {
    return bfi_word_of_circle("hook bait", "bf-wet bf-case", across_mm(s, s->view->hook_y_m),
                              down_mm(s, s->view->hook_x_m), ring_m(s->view) * s->o.mm_per_m);
}

/* The arrow of the drift begins here. */
#define DRIFT_TOP_Y 58.2

/* "drift" under its arrow, in the lower band. */
static bfi_word word_of_drift(void) {
    bfi_word word = bfi_word_in_bands("drift", "bf-wet bf-case");
    word.n_places = 3;
    for (int p = 0; p < 3; p++) {
        word.place[p] = word.place[3 + p];
        word.place[p].box.y0 = DRIFT_TOP_Y;
    }
    return word;
}

static void draw_drift_arrow(sheet *s, const bfi_word *word) {
    const bfi_place *place = &word->place[word->chosen];
    double out = s->view->drift_x_m_s, right = s->view->drift_y_m_s, speed = sqrt(out * out + right * right);
    double x = 0.5 * (place->box.x0 + place->box.x1), y = 61.9;
    double dx = 3.6 * right / speed, dy = -3.6 * out / speed;
    bfi_svg_arrow(&s->pen, "bf-p3", x - dx, y - dy, x + dx, y + dy, BFI_ARROW_HEAD_MM);
}

static void draw_words(sheet *s) {
    const bf_above_view *view = s->view;
    double column = across_mm(s, 0);
    int has_drift = view->drift_x_m_s != 0 || view->drift_y_m_s != 0;
    int has_pole = view->how == BF_CLUMP || view->how == BF_SPRINKLE;
    enum { NINE, HALF, HOOK, POLE, DRIFT, N_WORDS };
    bfi_word word[N_WORDS] = {[NINE] = word_of_line(s, view->level90, "9 in 10 inside"),
                              [HALF] = word_of_line(s, view->level50, "half inside"),
                              [HOOK] = word_of_hook(s),
                              [POLE] = bfi_word_of_column(has_pole ? "pole" : "out", column),
                              [DRIFT] = word_of_drift()};
    int n_words = has_drift ? N_WORDS : N_WORDS - 1;
    bfi_box arrow = bfi_column_box(column);
    bfi_choose_places(word, n_words, &arrow, 1);

    bfi_draw_led_word(&s->pen, &word[HALF], "bf-r2");
    bfi_draw_led_word(&s->pen, &word[NINE], "bf-r2");
    bfi_draw_led_word(&s->pen, &word[HOOK], "bf-p2");
    bfi_draw_led_word(&s->pen, &word[POLE], NULL);
    bfi_draw_column(&s->pen, column);
    if (!has_drift) return;
    bfi_draw_led_word(&s->pen, &word[DRIFT], NULL);
    draw_drift_arrow(s, &word[DRIFT]);
}

/* ---- under the frame ---- */

static void draw_heat_key(sheet *s) {
    const double x0 = 53, side = (BFI_FRAME_X1 - x0) / N_HEAT;
    for (int k = 0; k < N_HEAT; k++)
        bfi_svg_rect(&s->pen, heat_class[k], x0 + k * side, BFI_BAR_Y, side, BFI_BAR_MM);
    bfi_svg_rect(&s->pen, "bf-p1", x0, BFI_BAR_Y, BFI_FRAME_X1 - x0, BFI_BAR_MM);
    bfi_svg_text(&s->pen, "bf-label", x0, BFI_UNDER_BAR_Y, "few");
    bfi_svg_text(&s->pen, "bf-label", BFI_FRAME_X1 - bfi_word_width("many"), BFI_UNDER_BAR_Y, "many");
}

static double wind_m_s(const bf_above_view *view) {
    return sqrt(view->wind_x_m_s * view->wind_x_m_s + view->wind_y_m_s * view->wind_y_m_s);
}

static int n_rows_below(const bf_above_view *view) {
    return view->n_baits == 0 ? 0 : 1 + (wind_m_s(view) > 0);
}

static void put_wind(bfi_pen *pen, const bf_above_view *view) {
    bfi_put_speed(pen, wind_m_s(view));
    bfi_put(pen, " ");
    bfi_put_direction(pen, view->wind_x_m_s, view->wind_y_m_s);
}

static void draw_rows_below(sheet *s) {
    const bf_above_view *view = s->view;
    if (view->n_baits == 0) return;
    double y = BFI_UNDER_BAR_Y + BFI_OVERHEAD_ROW_MM;
    bfi_svg_circle(&s->pen, "bf-ropen", BFI_FRAME_X0 + 1, y - 1.4, 0.9);
    bfi_svg_text(&s->pen, "bf-wet bf-r", BFI_FRAME_X0 + 3.4, y, "the hook bait, 20 ways");
    double speed = wind_m_s(view);
    if (!(speed > 0)) return;
    char text[64];
    bfi_pen word = bfi_pen_open(text, sizeof text);
    bfi_put(&word, "wind ");
    put_wind(&word, view);
    double dx = 2.6 * view->wind_y_m_s / speed, dy = -2.6 * view->wind_x_m_s / speed;
    double x = BFI_FRAME_X0 + 3.4, arrow_y = y + BFI_OVERHEAD_ROW_MM - 1.4;
    bfi_svg_arrow(&s->pen, "bf-p3", x - dx, arrow_y - dy, x + dx, arrow_y + dy, BFI_ARROW_HEAD_MM);
    bfi_svg_text(&s->pen, "bf-label", BFI_FRAME_X0 + 9, y + BFI_OVERHEAD_ROW_MM, text);
}

/* ---- what it says ---- */

/* How far the line of a level reaches outward and across, m. */
static void reach_of_line(sheet *s, double level, double *out_m, double *across_m) {
    trace_line(s, level);
    bfi_box reach = {BF_INFINITY, BF_INFINITY, -BF_INFINITY, -BF_INFINITY};
    for (int k = 0; k < s->contour->n_points; k++)
        reach = bfi_box_around(reach, s->contour->x[k], s->contour->y[k]);
    *across_m = (reach.x1 - reach.x0) / s->o.mm_per_m;
    *out_m = (reach.y1 - reach.y0) / s->o.mm_per_m;
}

static void put_reach(bfi_pen *pen, sheet *s, double level) {
    double out_m, across_m;
    reach_of_line(s, level, &out_m, &across_m);
    bfi_put_length(pen, out_m);
    bfi_put(pen, " out by ");
    bfi_put_length(pen, across_m);
    bfi_put(pen, " across");
}

static void put_in_ten(bfi_pen *pen, double share) {
    double tenths = floor(10 * share + 0.5);
    if (tenths < 1) {
        bfi_put(pen, "fewer than 1 in 10");
    } else if (tenths > 9) {
        bfi_put(pen, "nearly all");
    } else {
        bfi_put(pen, "about ");
        bfi_put_number(pen, tenths, 0);
        bfi_put(pen, " in 10");
    }
}

static void tell(sheet *s, const bf_labels *labels, bf_picture *picture) {
    const bf_above_view *view = s->view;
    int has_share = view->hook_share_frac >= 0;
    bfi_pen pen = bfi_pen_open(picture->finding, sizeof picture->finding);
    bfi_put(&pen, "Over many such put-ins, half the pieces lie inside ");
    put_reach(&pen, s, view->level50);
    bfi_put(&pen, ", nine in ten inside ");
    put_reach(&pen, s, view->level90);
    if (has_share) {
        bfi_put(&pen, "; ");
        put_in_ten(&pen, view->hook_share_frac);
        bfi_put(&pen, " within 5 cm of the hook bait");
    }
    if (view->n_baits > 0) {
        bfi_put(&pen, "; of the hook bait's places half lie within ");
        bfi_put_length(&pen, view->bait50_m);
        bfi_put(&pen, " of their middle, nine in ten within ");
        bfi_put_length(&pen, view->bait90_m);
    }
    bfi_put(&pen, ".");

    pen = bfi_row_open(picture, "Half inside, over many put-ins");
    put_reach(&pen, s, view->level50);
    pen = bfi_row_open(picture, "9 in 10 inside, over many put-ins");
    put_reach(&pen, s, view->level90);
    if (labels->wide.text[0]) {
        pen = bfi_row_open(picture, "Ring that holds 9 in 10 of one put-in");
        bfi_put(&pen, labels->wide.text);
    }
    pen = bfi_row_open(picture, "Hook bait from the middle of the feed");
    bfi_put_offset(&pen, view->hook_x_m - s->middle_x_m, view->hook_y_m - s->middle_y_m);
    if (has_share) {
        pen = bfi_row_open(picture, "Within 5 cm of the hook bait");
        put_in_ten(&pen, view->hook_share_frac);
    }
    if (view->n_baits > 0) {
        pen = bfi_row_open(picture, "Hook bait from its middle, half and 9 in 10 within");
        bfi_put_length(&pen, view->bait50_m);
        bfi_put(&pen, ", ");
        bfi_put_length(&pen, view->bait90_m);
        if (wind_m_s(view) > 0) {
            pen = bfi_row_open(picture, "Wind blows");
            put_wind(&pen, view);
        }
    }
    double drift = sqrt(view->drift_x_m_s * view->drift_x_m_s + view->drift_y_m_s * view->drift_y_m_s);
    if (drift > 0) {
        pen = bfi_row_open(picture, "Drift at the surface");
        bfi_put_number(&pen, 100 * drift, 1);
        bfi_put(&pen, " cm/s ");
        bfi_put_direction(&pen, view->drift_x_m_s, view->drift_y_m_s);
    }
}

size_t bf_picture_work_bytes(void) {
    return sizeof(bfi_contour);
}

bf_status bf_picture_above(const bf_above_view *view, const double *density, const bf_labels *labels,
                           void *work, char *svg, size_t most, bf_picture *picture) {
    memset(picture, 0, sizeof *picture);
    sheet s = {.view = view, .density = density, .contour = work, .pen = bfi_pen_open(svg, most)};
    bf_status status = check_view(view, density);
    if (!status) status = check_baits(view);
    if (status) return status;
    find_peak_and_middle(&s);
    if (view->level50 > s.peak) return BF_E_RANGE;
    choose_scale(&s);
    tell(&s, labels, picture);

    bfi_svg_open(&s.pen, "above", BFI_OVERHEAD_WIDTH_MM,
                 BFI_OVERHEAD_HEIGHT_MM + BFI_OVERHEAD_ROW_MM * n_rows_below(view), view->look,
                 "Where the feed lies, from above", picture->finding);
    bfi_draw_frame_water(&s.pen);
    draw_heat(&s);
    draw_lines(&s);
    if (view->n_baits > 0)
        draw_baits(&s);
    else
        draw_hook(&s);
    draw_words(&s);
    bfi_draw_frame(&s.pen);
    bfi_draw_scale_bar(&s.pen, &s.o);
    draw_heat_key(&s);
    draw_rows_below(&s);
    bfi_svg_close(&s.pen);
    return bfi_picture_end(&s.pen, picture);
}
