/* The review on one A5 page. It is drawn larger, with letters of 4 mm as everywhere, and printed at 0.72 of that. From top to
 * bottom: place and day, three sentences, the timeline, wait curves and fish so far, outcomes by feed beside nets, the one
 * thing to try, and a line at the foot. One curve stands beside fish so far; several have a row of their own. The charts
 * take what the rest leaves; on a full page notes give way first, then fish so far. */
#include <math.h>
#include <string.h>

#include "core/picture/panel.h"
#include "core/picture/swim.h"
#include "core/picture/timeline.h"
#include "core/picture/words.h"

#define PAPER_MM 0.72
#define PAGE_W (148 / PAPER_MM)
#define PAGE_H (210 / PAPER_MM)
#define EDGE 10.0
#define INNER_W (PAGE_W - 2 * EDGE)
#define COLUMN_GAP 5.0
#define COLUMN_W ((INNER_W - COLUMN_GAP) / 2)
#define ROW BFI_ROW_MM
#define HEAD_ROW 6.2
#define SECTION_GAP 2.4
#define FOOT_Y (PAGE_H - 8)
#define SECTION_MM (HEAD_ROW + SECTION_GAP)
#define LEAST_WAITS_MM 34.5
#define LEAST_FISH_MM 28.0
#define MOST_CHART_MM 74.0
/* From this height on fish so far has its moving rate. */
#define LEAST_RATE_MM 54.0
#define MOST_NOTE_ROWS 6
/* Of the tables, the outcomes' part; the nets have the rest. */
#define FEEDS_W 98.0
#define FEED_NAME_W 35.0

/* ---- checks ---- */

static bf_status check_feeds(const bf_sheet_view *view) {
    if (view->n_feeds < 0 || view->n_feeds > BF_SHEET_MOST_FEEDS || view->n_nets < 0 ||
        view->n_nets > BF_SHEET_MOST_NETS)
        return BF_E_COUNT;
    for (int k = 0; k < view->n_feeds; k++)
        for (int outcome = 0; outcome < BF_N_OUTCOMES; outcome++)
            if (view->feed[k].n[outcome] < 0 || view->feed[k].n[outcome] > 999) return BF_E_RANGE;
    return BF_OK;
}

static bf_status check_view(const bf_sheet_view *view) {
    bf_status status = check_feeds(view);
    if (!status) status = bfi_timeline_check(&view->timeline);
    if (!status && view->waits.n_panels != 0) status = bfi_waits_check(&view->waits);
    if (!status) status = bfi_catch_check(&view->fish);
    return status;
}

/* ---- parts ---- */

typedef struct page {
    const bf_sheet_view *view;
    bfi_pen *pen;
    double y; /* where the next part begins */
} page;

static void text_at(page *p, const char *class_names, double x, double y, const char *text) {
    bfi_svg_text(p->pen, class_names, x, y, text);
}

static void number_at(page *p, const char *class_names, double x, double y, int value) {
    char text[16];
    bfi_pen word = bfi_pen_open(text, sizeof text);
    bfi_put_number(&word, value, 0);
    text_at(p, class_names, x, y, text);
}

/* A heading over a heavy rule starts a section. */
static void draw_heading(page *p, double x, double width, const char *text) {
    bfi_svg_line(p->pen, "bf-p3", x, p->y, x + width, p->y);
    text_at(p, "bf-key", x, p->y + 5, text);
}

static void draw_title(page *p) {
    double y = EDGE + 1;
    bfi_svg_fitted(p->pen, "bf-key", EDGE, y, 0.53 * INNER_W, p->view->place.text);
    bfi_svg_fitted(p->pen, "bf-end", EDGE + INNER_W, y, 0.45 * INNER_W, p->view->day.text);
    /* The engineers' sign for a free water surface stands on the line under the title. */
    double x = EDGE + 2, line = y + 6.2;
    bfi_draw_water_sign(p->pen, x, line);
    bfi_svg_line(p->pen, "bf-p4", EDGE, line, EDGE + INNER_W, line);
    p->y = line + 1.8;
}

static void draw_sentences(page *p) {
    for (int k = 0; k < BF_SHEET_SENTENCES; k++) {
        const char *sentence = p->view->sentence[k];
        bfi_svg_lines(p->pen, "bf-label", EDGE, p->y + 4.6, INNER_W, ROW, 2, sentence);
        p->y += ROW * bfi_n_lines(sentence, INNER_W, 2);
    }
    p->y += SECTION_GAP;
}

/* ---- tables ---- */

static int n_table_rows(const bf_sheet_view *view) {
    int n = view->n_feeds > view->n_nets ? view->n_feeds : view->n_nets;
    return n > 0 ? n : 1;
}

static double tables_mm(const bf_sheet_view *view) {
    return HEAD_ROW + ROW * (n_table_rows(view) + 1) + SECTION_GAP;
}

static void draw_row_line(page *p, double x, double width, double y) {
    bfi_svg_line(p->pen, "bf-p1", x, y, x + width, y);
}

/* Outcomes by feed: shape over each column. */
static void draw_feeds(page *p) {
    double step = (FEEDS_W - FEED_NAME_W) / BF_N_OUTCOMES, y = p->y + HEAD_ROW + 4.2;
    draw_heading(p, EDGE, FEEDS_W, "By feed");
    for (int k = 0; k < BF_N_OUTCOMES; k++) {
        static const char *const letters[BF_N_OUTCOMES] = {
            [BF_LANDED] = "F", [BF_LOST] = "L",    [BF_MISSED] = "M",
            [BF_FOUL] = "Fo",  [BF_NOTHING] = "N", [BF_TOUCHED] = "T"};
        double right = EDGE + FEED_NAME_W + step * (k + 1);
        int outcome = bfi_outcome_order[k];
        text_at(p, "bf-end", right, y, letters[outcome]);
        bfi_draw_outcome(p->pen, outcome, 0, right - bfi_word_width(letters[outcome]) - 2, y - 1.45, 1.2);
    }
    for (int row = 0; row < p->view->n_feeds; row++) {
        const bf_sheet_feed *feed = &p->view->feed[row];
        draw_row_line(p, EDGE, FEEDS_W, y + 1.2);
        y += ROW;
        bfi_svg_fitted(p->pen, "bf-label", EDGE, y, FEED_NAME_W - 1,
                       feed->name.text[0] ? feed->name.text : "no name");
        for (int k = 0; k < BF_N_OUTCOMES; k++)
            number_at(p, "bf-end", EDGE + FEED_NAME_W + step * (k + 1), y, feed->n[bfi_outcome_order[k]]);
    }
    if (p->view->n_feeds == 0) text_at(p, "bf-label", EDGE, y + ROW, "no feed was named");
}

static void draw_nets(page *p) {
    double x = EDGE + FEEDS_W + COLUMN_GAP, width = INNER_W - FEEDS_W - COLUMN_GAP, y = p->y + HEAD_ROW + 4.2;
    double name_w = 9, half = 0.5 * (width - name_w);
    draw_heading(p, x, width, "Nets");
    text_at(p, "bf-end", x + name_w + half, y, "guessed");
    text_at(p, "bf-end", x + width, y, "weighed");
    for (int row = 0; row < p->view->n_nets; row++) {
        const bf_sheet_net *net = &p->view->net[row];
        draw_row_line(p, x, width, y + 1.2);
        y += ROW;
        bfi_svg_fitted(p->pen, "bf-label", x, y, name_w - 1, net->name.text);
        bfi_svg_fitted(p->pen, "bf-r bf-end", x + name_w + half, y, half - 1, net->guessed.text);
        bfi_svg_fitted(p->pen, "bf-end", x + width, y, half - 1, net->weighed.text);
    }
    if (p->view->n_nets == 0) text_at(p, "bf-label", x, y + ROW, "none");
}

/* ---- foot ---- */

static double try_mm(const bf_sheet_view *view) {
    int n = bfi_n_lines(view->try_next, INNER_W, 2);
    return n ? HEAD_ROW + ROW * n + SECTION_GAP : 0;
}

static void draw_try(page *p) {
    if (!(try_mm(p->view) > 0)) return;
    draw_heading(p, EDGE, INNER_W, "One thing to try");
    bfi_svg_lines(p->pen, "bf-label", EDGE, p->y + HEAD_ROW + 4.2, INNER_W, ROW, 2, p->view->try_next);
}

static void draw_foot(page *p) {
    bfi_svg_line(p->pen, "bf-p1", EDGE, FOOT_Y - 5, EDGE + INNER_W, FOOT_Y - 5);
    const char *left =
        p->view->is_invented ? "Estimates, not measurements. Invented." : "Estimates, not measurements.";
    text_at(p, "bf-label", EDGE, FOOT_Y, left);
    bfi_svg_fitted(p->pen, "bf-end", EDGE + INNER_W, FOOT_Y, INNER_W - bfi_word_width(left) - 4,
                   p->view->version.text);
}

/* ---- the page ---- */

/* The timeline's own margins lie outside the column: to its left, and both together. */
#define TIMELINE_LEFT_MM 2.5
#define TIMELINE_MARGINS_MM 8.0

static void draw_timeline(page *p, const bf_timeline_view *timeline, int note_rows) {
    draw_heading(p, EDGE, INNER_W, "What happened when");
    p->pen->x0 = EDGE - TIMELINE_LEFT_MM;
    p->pen->y0 = p->y + HEAD_ROW - 1;
    bfi_timeline_draw(p->pen, timeline, note_rows);
    p->pen->x0 = p->pen->y0 = 0;
    p->y += SECTION_MM + bfi_timeline_height(timeline, note_rows);
}

static void draw_waits(page *p, double width, double height) {
    int n_panels = p->view->waits.n_panels, is_row = n_panels > 1;
    draw_heading(p, EDGE, width, "How long till a bite");
    if (is_row) {
        /* The row's captions stand beside its heading. */
        char text[80];
        bfi_pen word = bfi_pen_open(text, sizeof text);
        bfi_put(&word, "still waiting, in 10, by ");
        bfi_put(&word, bfi_waits_caption(&p->view->waits));
        text_at(p, "bf-end", EDGE + width, p->y + 5, text);
    }
    p->pen->x0 = EDGE - 2;
    p->pen->y0 = p->y + HEAD_ROW;
    bfi_waits_draw(p->pen, &p->view->waits, width + 2 * 2, height, n_panels, !is_row);
    p->pen->x0 = p->pen->y0 = 0;
}

static void draw_fish(page *p, double x, double width, double height) {
    bf_catch_view fish = p->view->fish;
    if (height < LEAST_RATE_MM) fish.n_rates = 0;
    draw_heading(p, x, width, "Is it slowing");
    p->pen->x0 = x - 2;
    p->pen->y0 = p->y + HEAD_ROW;
    bfi_catch_draw(p->pen, &fish, width + 2, height);
    p->pen->x0 = p->pen->y0 = 0;
}

static double at_most(double value, double most) {
    return value < most ? value : most;
}

/* room_mm for all of it, headings and gaps included. */
static void draw_charts(page *p, double room_mm) {
    int n_panels = p->view->waits.n_panels;
    if (n_panels <= 1) {
        double height = at_most(room_mm - SECTION_MM, MOST_CHART_MM);
        double left = n_panels ? EDGE + COLUMN_W + COLUMN_GAP : EDGE;
        if (n_panels) draw_waits(p, COLUMN_W, height);
        draw_fish(p, left, n_panels ? COLUMN_W : INNER_W, height);
        p->y += SECTION_MM + height;
        return;
    }
    double both = room_mm - 2 * SECTION_MM;
    int has_fish = both >= LEAST_WAITS_MM + LEAST_FISH_MM;
    double waits = at_most(has_fish ? 0.55 * both : room_mm - SECTION_MM, MOST_CHART_MM);
    if (waits < LEAST_WAITS_MM) waits = LEAST_WAITS_MM;
    draw_waits(p, INNER_W, waits);
    p->y += SECTION_MM + waits;
    if (!has_fish) return;
    double fish = at_most(both - waits, MOST_CHART_MM);
    draw_fish(p, EDGE, INNER_W, fish);
    p->y += SECTION_MM + fish;
}

static void draw_page(bfi_pen *pen, const bf_sheet_view *view) {
    page p = {.view = view, .pen = pen};
    bf_timeline_view timeline = view->timeline;
    timeline.width_mm = INNER_W + TIMELINE_MARGINS_MM;
    draw_title(&p);
    draw_sentences(&p);
    double below = tables_mm(view) + try_mm(view), end = FOOT_Y - 6.4;
    double wanted = view->waits.n_panels > 1 ? LEAST_WAITS_MM + LEAST_FISH_MM + 2 * SECTION_MM
                                             : LEAST_WAITS_MM + SECTION_MM;
    double room = 0;
    int note_rows = MOST_NOTE_ROWS + 1;
    while (note_rows > 0 && room < wanted) {
        note_rows -= 1;
        room = end - p.y - SECTION_MM - bfi_timeline_height(&timeline, note_rows) - below;
    }
    BF_ASSERT(room >= LEAST_WAITS_MM + SECTION_MM);
    draw_timeline(&p, &timeline, note_rows);
    draw_charts(&p, room);
    draw_feeds(&p);
    draw_nets(&p);
    p.y += tables_mm(view);
    draw_try(&p);
    draw_foot(&p);
}

/* ---- what it says ---- */

static void tell(const bf_sheet_view *view, bf_picture *picture) {
    bfi_pen pen = bfi_pen_open(picture->finding, sizeof picture->finding);
    bfi_put(&pen, "Review");
    bfi_put(&pen, view->place.text[0] ? " of " : "");
    bfi_put(&pen, view->place.text);
    bfi_put(&pen, view->day.text[0] ? ", " : "");
    bfi_put(&pen, view->day.text);
    bfi_put(&pen, view->is_invented ? ", invented." : ".");
    for (int k = 0; k < view->n_feeds; k++) {
        const bf_sheet_feed *feed = &view->feed[k];
        pen = bfi_row_open(picture, feed->name.text[0] ? feed->name.text : "no name");
        for (int row = 0; row < BF_N_OUTCOMES; row++) {
            int outcome = bfi_outcome_order[row];
            bfi_put(&pen, row ? ", " : "");
            bfi_put(&pen, bfi_outcome_words[outcome]);
            bfi_put(&pen, " ");
            bfi_put_number(&pen, feed->n[outcome], 0);
        }
    }
    for (int k = 0; k < view->n_nets; k++) {
        char heading[64];
        bfi_pen words = bfi_pen_open(heading, sizeof heading);
        bfi_put(&words, "Net ");
        bfi_put(&words, view->net[k].name.text);
        pen = bfi_row_open(picture, heading);
        bfi_put(&pen, view->net[k].guessed.text[0] ? view->net[k].guessed.text : "not guessed");
        bfi_put(&pen, view->net[k].weighed.text[0] ? "; weighed " : "");
        bfi_put(&pen, view->net[k].weighed.text);
    }
}

bf_status bf_picture_sheet(const bf_sheet_view *view, char *svg, size_t most, bf_picture *picture) {
    memset(picture, 0, sizeof *picture);
    bfi_pen pen = bfi_pen_open(svg, most);
    bf_status status = check_view(view);
    if (status) return status;
    tell(view, picture);
    bfi_svg_open_scaled(&pen, "sheet", PAGE_W, PAGE_H, PAPER_MM, BFI_LOOK_PRINT, "Review", picture->finding);
    draw_page(&pen, view);
    bfi_svg_close(&pen);
    return bfi_picture_end(&pen, picture);
}
