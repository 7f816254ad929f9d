/* How long till a bite: of ten waits, how many are still going. One panel a curve, all on the same axes. */
#include <math.h>
#include <string.h>

#include "core/picture/panel.h"
#include "core/picture/words.h"

#define PLOT_X 9.0
#define RIGHT_MM 2.0
#define TITLE_MM 5.4
#define TICKS_MM 6.0
#define CAPTION_MM 5.6
#define NARROW_MM 60.0
/* The longest wait there may be. */
#define MOST_S 1e6
/* Under a panel that has no times. */
#define BETWEEN_MM 2.4
/* Steps nearer than this are drawn as one. */
#define LEAST_STEP_MM 0.15

/* Where one panel's curve goes. */
typedef struct plot {
    bfi_pen *pen;
    const bf_waits_panel *panel;
    double longest_s;
    double x0, x1, top, base;
    int n_picked, is_cut; /* is_cut: the curve goes on beyond the axis */
    int picked[BF_WAITS_MOST_STEPS];
} plot;

static int is_told(const bf_waits_panel *panel) {
    return panel->n_bites >= BF_FEW;
}

/* ---- checks ---- */

static int is_nan(double value) {
    return value != value;
}

static bf_status check_step(const bf_wait_step *step, double before_s, double before) {
    if (!bfi_is_finite(step->time_s) || !bfi_is_finite(step->survival) || fabs(step->lower) == BF_INFINITY ||
        fabs(step->upper) == BF_INFINITY)
        return BF_E_NOT_FINITE;
    int is_fine = step->time_s > before_s && step->time_s <= MOST_S && step->survival >= 0 &&
                  step->survival <= before && !(step->lower < 0) && !(step->lower > step->survival) &&
                  !(step->upper < step->survival) && !(step->upper > 1);
    return is_fine ? BF_OK : BF_E_RANGE;
}

/* A time, or INFINITY: not reached, or NaN: unsaid. */
static int is_time(double time_s) {
    return !(time_s < 0) && !(time_s > MOST_S && time_s < BF_INFINITY);
}

static bf_status check_panel(const bf_waits_panel *panel) {
    if (panel->n_bites < 0 || panel->n_waits < panel->n_bites) return BF_E_RANGE;
    if (!is_told(panel)) return BF_OK;
    if (panel->n_steps < 1 || panel->n_steps > BF_WAITS_MOST_STEPS) return BF_E_COUNT;
    for (int k = 0; k < panel->n_steps; k++) {
        const bf_wait_step *step = &panel->step[k];
        bf_status status = k ? check_step(step, step[-1].time_s, step[-1].survival) : check_step(step, 0, 1);
        if (status) return status;
    }
    const bf_banded *median = &panel->median;
    int is_fine = is_time(median->value) && is_time(median->lower) && is_time(median->upper) &&
                  !(median->lower > median->value) && !(median->upper < median->value);
    return is_fine ? BF_OK : BF_E_RANGE;
}

bf_status bfi_waits_check(const bf_waits_view *view) {
    if (view->n_panels < 1 || view->n_panels > BF_WAITS_MOST_PANELS) return BF_E_COUNT;
    if (fabs(view->longest_s) == BF_INFINITY) return BF_E_NOT_FINITE;
    if (view->longest_s <= 0 || view->longest_s > MOST_S) return BF_E_RANGE;
    for (int k = 0; k < view->n_panels; k++) {
        bf_status status = check_panel(&view->panel[k]);
        if (status) return status;
    }
    return BF_OK;
}

/* ---- scales ---- */

static double longest_s(const bf_waits_view *view) {
    if (!is_nan(view->longest_s)) return view->longest_s;
    double longest = 0;
    for (int k = 0; k < view->n_panels; k++) {
        const bf_waits_panel *panel = &view->panel[k];
        if (is_told(panel) && panel->step[panel->n_steps - 1].time_s > longest)
            longest = panel->step[panel->n_steps - 1].time_s;
    }
    return longest > 0 ? longest : 600;
}

static double time_x(const plot *p, double time_s) {
    return p->x0 + bfi_clamp(time_s / p->longest_s, 0, 1) * (p->x1 - p->x0);
}

static double share_y(const plot *p, double share) {
    return p->base - share * (p->base - p->top);
}

/* The steps that are drawn: all that can be told apart, and the last within the axis. */
static void pick_steps(plot *p) {
    double last = -1;
    for (int k = 0; k < p->panel->n_steps; k++) {
        double time_s = p->panel->step[k].time_s, x = time_x(p, time_s);
        if (time_s > p->longest_s) {
            p->is_cut = 1;
            return;
        }
        if (x < last + LEAST_STEP_MM)
            p->picked[p->n_picked - 1] = k;
        else
            p->picked[p->n_picked++] = k, last = x;
    }
}

/* ---- one panel ---- */

typedef double (*height_of)(const bf_wait_step *step);

static double survival_of(const bf_wait_step *step) {
    return step->survival;
}

/* Before anything has ended, and where there is no band, the band has no width. */
static double lower_of(const bf_wait_step *step) {
    return is_nan(step->lower) ? step->survival : step->lower;
}

static double upper_of(const bf_wait_step *step) {
    return is_nan(step->upper) ? step->survival : step->upper;
}

/* A stair from (0, 1) on, to where the last step is or the axis ends. */
static void add_stair(const plot *p, height_of height, int is_first) {
    double y = share_y(p, 1);
    bfi_svg_point(p->pen, is_first ? 'M' : 'L', p->x0, y);
    for (int k = 0; k < p->n_picked; k++) {
        const bf_wait_step *step = &p->panel->step[p->picked[k]];
        double x = time_x(p, step->time_s);
        bfi_svg_point(p->pen, 'L', x, y);
        y = share_y(p, height(step));
        bfi_svg_point(p->pen, 'L', x, y);
    }
    if (p->is_cut) bfi_svg_point(p->pen, 'L', p->x1, y);
}

/* The same stair walked back. */
static void add_stair_back(const plot *p, height_of height) {
    for (int k = p->n_picked - 1; k >= 0; k--) {
        const bf_wait_step *step = &p->panel->step[p->picked[k]];
        double x = time_x(p, step->time_s), y = share_y(p, height(step));
        if (k == p->n_picked - 1 && p->is_cut) bfi_svg_point(p->pen, 'L', p->x1, y);
        bfi_svg_point(p->pen, 'L', x, y);
        bfi_svg_point(p->pen, 'L', x, share_y(p, k ? height(&p->panel->step[p->picked[k - 1]]) : 1));
    }
}

static void draw_stair(const plot *p, const char *class_names, height_of height) {
    bfi_svg_path_begin(p->pen, class_names);
    add_stair(p, height, 1);
    bfi_svg_path_end(p->pen, 0);
}

static void draw_band(const plot *p) {
    bfi_svg_path_begin(p->pen, "bf-band");
    add_stair(p, upper_of, 1);
    add_stair_back(p, lower_of);
    bfi_svg_path_end(p->pen, 1);
    draw_stair(p, "bf-r1 bf-dash", upper_of);
    draw_stair(p, "bf-r1 bf-dash", lower_of);
}

/* Rigs lifted early: a tick on the curve. */
static void draw_early(const plot *p) {
    double last = -1;
    bfi_svg_path_begin(p->pen, "bf-p2");
    bfi_svg_point(p->pen, 'M', p->x0, share_y(p, 1)); /* so that the path is not empty */
    for (int k = 0; k < p->panel->n_steps; k++) {
        const bf_wait_step *step = &p->panel->step[k];
        double x = time_x(p, step->time_s), y = share_y(p, step->survival);
        if (step->n_censor == 0 || step->time_s > p->longest_s || x < last + LEAST_STEP_MM) continue;
        bfi_svg_point(p->pen, 'M', x, y - 1.4);
        bfi_svg_point(p->pen, 'L', x, y + 1.4);
        last = x;
    }
    bfi_svg_path_end(p->pen, 0);
}

/* Words above to the right of a place on the curve, or below to the left, where the curve is not; 0: no room. */
static int draw_beside(const plot *p, double x, double y, const char *text) {
    double width = bfi_word_width(text);
    if (x + 2.2 + width <= p->x1)
        bfi_svg_text(p->pen, "bf-key bf-clear", x + 2.2, y - 2, text);
    else if (x - 2.2 - width >= p->x0 + 0.6)
        bfi_svg_text(p->pen, "bf-key bf-end bf-clear", x - 2.2, y + 5, text);
    else
        return 0;
    return 1;
}

/* The median: a ring on the curve, a dashed line down, and its words. */
static void draw_median(const plot *p) {
    double median = p->panel->median.value;
    if (is_nan(median)) return;
    if (median > p->longest_s) {
        /* The curve stays in the upper half: the lower one is free. */
        const char *words = "half not reached";
        if (bfi_word_width(words) > p->x1 - p->x0 - 2) words = "under half";
        bfi_svg_text(p->pen, "bf-end bf-clear", p->x1 - 1, p->base - 1.6, words);
        return;
    }
    double x = time_x(p, median), y = share_y(p, 0.5);
    bfi_svg_line(p->pen, "bf-r2 bf-dash", x, y, x, p->base);
    bfi_svg_circle(p->pen, "bf-ropen", x, y, 1.3);
    char text[48];
    bfi_pen word = bfi_pen_open(text, sizeof text);
    bfi_put(&word, "half by ");
    const char *only_time = text + word.n;
    bfi_put_about(&word, median);
    if (!draw_beside(p, x, y, text)) draw_beside(p, x, y, only_time);
}

static void draw_curve(plot *p) {
    pick_steps(p);
    draw_band(p);
    draw_early(p);
    draw_stair(p, "bf-p3", survival_of);
    draw_median(p);
}

/* ---- axes ---- */

typedef struct time_unit {
    double unit_s;
    const char *caption;
} time_unit;

static time_unit unit_for(double longest) {
    if (longest < 90) return (time_unit){1, "seconds since the rig went in"};
    if (longest < 6 * 3600.0) return (time_unit){60, "minutes since the rig went in"};
    return (time_unit){3600, "hours since the rig went in"};
}

static void draw_axes(const plot *p, int is_labelled) {
    static const double steps_s[] = {0.1,  0.2,   0.5,   1,     2,     5,      10,    15,   30,
                                     60,   120,   180,   300,   600,   900,    1200,  1800, 3600,
                                     7200, 10800, 21600, 43200, 86400, 172800, 432000};
    static const char *const tens[] = {"0", "5", "10"};
    time_unit unit = unit_for(p->longest_s);
    double step = bfi_first_step(steps_s, 25, 11 * p->longest_s / (p->x1 - p->x0));
    for (int k = 0; k < 3; k++) {
        double y = share_y(p, 0.5 * k);
        if (k) bfi_svg_line(p->pen, "bf-grid", p->x0, y, p->x1, y);
        bfi_svg_text(p->pen, "bf-end", p->x0 - 1.6, y + 1.45, tens[k]);
    }
    for (int k = 0; k * step <= p->longest_s * 1.0001; k++) {
        char text[16];
        bfi_pen word = bfi_pen_open(text, sizeof text);
        bfi_put_number(&word, k * step / unit.unit_s, 2);
        double x = time_x(p, k * step), half = 0.5 * bfi_word_width(text);
        bfi_svg_line(p->pen, "bf-p2", x, p->base, x, p->base + 1.2);
        double most = p->x1 + RIGHT_MM - BFI_RIM_MM - half;
        if (is_labelled) bfi_svg_text(p->pen, "bf-mid", x < most ? x : most, p->base + 5.4, text);
    }
    bfi_svg_path_begin(p->pen, "bf-p2");
    bfi_svg_point(p->pen, 'M', p->x0, p->top);
    bfi_svg_point(p->pen, 'L', p->x0, p->base);
    bfi_svg_point(p->pen, 'L', p->x1, p->base);
    bfi_svg_path_end(p->pen, 0);
}

/* The name over the plot, and how many waits beside it; on a narrow panel that stands within, where curves are low. */
static void draw_heading(const plot *p) {
    char text[24];
    bfi_pen word = bfi_pen_open(text, sizeof text);
    bfi_put_count(&word, p->panel->n_waits, "wait", "waits");
    int is_narrow = p->x1 < NARROW_MM;
    double room = p->x1 - 2 - (is_narrow ? 0 : bfi_word_width(text) + 2);
    bfi_svg_text(p->pen, "bf-end bf-clear", p->x1, is_narrow ? p->top + 3.6 : 4, text);
    bfi_svg_fitted(p->pen, "bf-key", 2, 4, room, p->panel->name.text);
}

static void draw_panel(bfi_pen *pen, const bf_waits_view *view, int k, double width, double height,
                       int is_lowest) {
    plot p;
    memset(&p, 0, sizeof p);
    p.pen = pen;
    p.panel = &view->panel[k];
    p.longest_s = longest_s(view);
    p.x0 = PLOT_X;
    p.x1 = width - RIGHT_MM;
    p.top = TITLE_MM + 2;
    p.base = height - (is_lowest ? TICKS_MM : BETWEEN_MM);
    BF_ASSERT(p.base > p.top + 5);
    draw_axes(&p, is_lowest);
    if (is_told(p.panel))
        draw_curve(&p);
    else
        bfi_svg_text(pen, "bf-mid bf-clear", 0.5 * (p.x0 + p.x1), share_y(&p, 0.5) - 1.6, "too early to say");
    draw_heading(&p);
}

/* What the height stands for is said over the panels, or in the heading of one that has no name. */
static double caption_mm(const bf_waits_view *view) {
    return view->n_panels == 1 && !view->panel[0].name.text[0] ? 0 : TITLE_MM;
}

const char *bfi_waits_caption(const bf_waits_view *view) {
    return unit_for(longest_s(view)).caption;
}

void bfi_waits_draw(bfi_pen *pen, const bf_waits_view *view, double width_mm, double height_mm, int n_columns,
                    int has_captions) {
    bfi_pen whole = *pen;
    int n_rows = (view->n_panels + n_columns - 1) / n_columns;
    double width = width_mm / n_columns, over = has_captions ? caption_mm(view) : 0;
    double under = has_captions ? CAPTION_MM : 0;
    /* Rows share what is left by the captions; the lowest row has its times too. */
    double each = (height_mm - over - under - (TICKS_MM - BETWEEN_MM)) / n_rows;
    for (int k = 0; k < view->n_panels; k++) {
        int row = k / n_columns, is_lowest = k + n_columns >= view->n_panels;
        pen->x0 = whole.x0 + width * (k % n_columns);
        pen->y0 = whole.y0 + over + each * row;
        draw_panel(pen, view, k, width, each + (is_lowest ? TICKS_MM - BETWEEN_MM : 0), is_lowest);
    }
    pen->x0 = whole.x0;
    pen->y0 = whole.y0;
    if (!has_captions) return;
    bfi_svg_text(pen, "bf-label", 2, 4, "still waiting, in 10");
    bfi_svg_text(pen, "bf-end", width_mm - RIGHT_MM, height_mm - 1.2, bfi_waits_caption(view));
}

/* ---- what it says ---- */

static void put_median(bfi_pen *pen, const bf_waits_panel *panel) {
    const bf_banded *median = &panel->median;
    if (!is_told(panel)) {
        bfi_put(pen, "too early to say");
        return;
    }
    if (is_nan(median->value)) {
        bfi_put(pen, "not said");
        return;
    }
    if (median->value == BF_INFINITY) {
        bfi_put(pen, "not reached");
        return;
    }
    bfi_put_about(pen, median->value);
    if (is_nan(median->lower) || is_nan(median->upper)) return;
    bfi_put(pen, " (");
    bfi_put_about(pen, median->lower);
    if (median->upper < BF_INFINITY) {
        bfi_put(pen, "-");
        bfi_put_about(pen, median->upper);
        bfi_put(pen, ")");
    } else {
        bfi_put(pen, " and up)");
    }
}

static void tell_one(const bf_waits_panel *panel, bf_picture *picture) {
    bfi_pen pen = bfi_pen_open(picture->finding, sizeof picture->finding);
    double median = panel->median.value;
    if (!is_told(panel) || is_nan(median)) {
        bfi_put_count(&pen, panel->n_waits, "wait", "waits");
        bfi_put(&pen, ", ");
        bfi_put_count(&pen, panel->n_bites, "bite", "bites");
        bfi_put(&pen, is_told(panel) ? "." : ": too early to say.");
    } else if (median == BF_INFINITY) {
        bfi_put(&pen, "Of ");
        bfi_put_count(&pen, panel->n_waits, "wait", "waits");
        bfi_put(&pen, " fewer than half had a bite.");
    } else {
        bfi_put(&pen, "Half of ");
        bfi_put_count(&pen, panel->n_waits, "wait", "waits");
        bfi_put(&pen, " had a bite by ");
        put_median(&pen, panel);
        bfi_put(&pen, ".");
    }
}

static void tell_several(const bf_waits_view *view, bf_picture *picture) {
    bfi_pen pen = bfi_pen_open(picture->finding, sizeof picture->finding);
    bfi_put(&pen, "Half had a bite by: ");
    for (int k = 0; k < view->n_panels; k++) {
        const bf_waits_panel *panel = &view->panel[k];
        bfi_put(&pen, k ? "; " : "");
        bfi_put(&pen, panel->name.text);
        bfi_put(&pen, panel->name.text[0] ? ", " : "");
        if (is_told(panel) && panel->median.value < BF_INFINITY)
            bfi_put_about(&pen, panel->median.value);
        else
            put_median(&pen, panel);
    }
    bfi_put(&pen, ".");
}

/* How many of ten are still waiting at round times, for one curve. */
static void tell_curve(const bf_waits_panel *panel, bf_picture *picture) {
    static const double times_s[] = {60, 120, 300, 600, 1200};
    const bf_wait_step *last = &panel->step[panel->n_steps - 1];
    for (int at = 0; at < 5 && times_s[at] <= last->time_s; at++) {
        double survival = 1;
        for (int k = 0; k < panel->n_steps && panel->step[k].time_s <= times_s[at]; k++)
            survival = panel->step[k].survival;
        char heading[48];
        bfi_pen pen = bfi_pen_open(heading, sizeof heading);
        bfi_put(&pen, "Still waiting after ");
        bfi_put_span(&pen, times_s[at]);
        pen = bfi_row_open(picture, heading);
        bfi_put_number(&pen, 10 * survival, 1);
        bfi_put(&pen, " in 10");
    }
}

static void tell(const bf_waits_view *view, bf_picture *picture) {
    if (view->n_panels > 1)
        tell_several(view, picture);
    else
        tell_one(&view->panel[0], picture);
    for (int k = 0; k < view->n_panels; k++) {
        const bf_waits_panel *panel = &view->panel[k];
        bfi_pen pen = bfi_row_open(picture, panel->name.text[0] ? panel->name.text : "All waits");
        bfi_put_count(&pen, panel->n_waits, "wait, ", "waits, ");
        bfi_put_count(&pen, panel->n_bites, "bite", "bites");
        pen = bfi_row_open(picture, "Half by");
        put_median(&pen, panel);
    }
    if (view->n_panels == 1 && is_told(&view->panel[0])) tell_curve(&view->panel[0], picture);
}

static int columns_for(const bf_waits_view *view) {
    int most = view->width_mm < BFI_WIDE_MM ? 1 : view->width_mm < 200 ? 2 : BF_WAITS_MOST_PANELS;
    return view->n_panels < most ? view->n_panels : most;
}

bf_status bf_picture_waits(const bf_waits_view *view, char *svg, size_t most, bf_picture *picture) {
    memset(picture, 0, sizeof *picture);
    bfi_pen pen = bfi_pen_open(svg, most);
    bf_status status = bfi_check_look_and_width(view->look, view->width_mm);
    if (!status) status = bfi_waits_check(view);
    if (status) return status;
    tell(view, picture);
    int n_columns = columns_for(view), n_rows = (view->n_panels + n_columns - 1) / n_columns;
    double height = caption_mm(view) + CAPTION_MM + TICKS_MM + n_rows * (n_rows == 1 ? 55 : 33);
    bfi_svg_open(&pen, "waits", view->width_mm, height, view->look, "How long till a bite", picture->finding);
    bfi_waits_draw(&pen, view, view->width_mm, height, n_columns, 1);
    bfi_svg_close(&pen);
    return bfi_picture_end(&pen, picture);
}
