#include "core/picture/overhead.h"

#include <math.h>

/* Where feed may be drawn. */
#define FEED_X0 5.0
#define FEED_X1 75.0
#define FEED_Y0 15.0
#define FEED_Y1 57.0
#define TOP_WORDS_Y 8.8
#define LOW_WORDS_Y 69.6
#define COLUMN_TOP_Y 62.0

/* ---- scale ---- */

bfi_overhead bfi_overhead_around(bfi_box reach_m) {
    bfi_overhead o = {.mid_x_m = 0.5 * (reach_m.x0 + reach_m.x1), .mid_y_m = 0.5 * (reach_m.y0 + reach_m.y1)};
    double by_height = (FEED_Y1 - FEED_Y0) / (reach_m.x1 - reach_m.x0);
    double by_width = (FEED_X1 - FEED_X0) / (reach_m.y1 - reach_m.y0);
    o.mm_per_m = by_height < by_width ? by_height : by_width;
    return o;
}

double bfi_overhead_across(const bfi_overhead *o, double y_m) {
    return 0.5 * (FEED_X0 + FEED_X1) + (y_m - o->mid_y_m) * o->mm_per_m;
}

double bfi_overhead_down(const bfi_overhead *o, double x_m) {
    return 0.5 * (FEED_Y0 + FEED_Y1) - (x_m - o->mid_x_m) * o->mm_per_m;
}

/* ---- frame ---- */

static void draw_frame_as(bfi_pen *pen, const char *class_names) {
    bfi_svg_rect(pen, class_names, BFI_FRAME_X0, BFI_FRAME_Y0, BFI_FRAME_X1 - BFI_FRAME_X0,
                 BFI_FRAME_Y1 - BFI_FRAME_Y0);
}

void bfi_draw_frame_water(bfi_pen *pen) {
    draw_frame_as(pen, "bf-water");
}

void bfi_draw_frame(bfi_pen *pen) {
    draw_frame_as(pen, "bf-frame");
}

/* The largest of 1, 2, 5, 10 ... of which two fit into room_m. */
static double round_step(double room_m) {
    static const double next[] = {2, 2.5, 2};
    double step = 1e-6;
    for (int k = 0; 2 * step * next[k % 3] <= room_m; k++) step *= next[k % 3];
    return step;
}

void bfi_draw_scale_bar(bfi_pen *pen, const bfi_overhead *o) {
    double step = round_step(38 / o->mm_per_m), side = step * o->mm_per_m;
    int is_cm = 2 * step < 0.95;
    bfi_svg_rect(pen, "bf-ink", BFI_FRAME_X0, BFI_BAR_Y, 0.5 * side, BFI_BAR_MM);
    bfi_svg_rect(pen, "bf-ink", BFI_FRAME_X0 + side, BFI_BAR_Y, side, BFI_BAR_MM);
    bfi_svg_rect(pen, "bf-p1", BFI_FRAME_X0, BFI_BAR_Y, 2 * side, BFI_BAR_MM);
    bfi_svg_text(pen, "bf-label", BFI_FRAME_X0, BFI_UNDER_BAR_Y, "0");
    for (int k = 1; k <= 2; k++) {
        char text[32];
        bfi_pen number = bfi_pen_open(text, sizeof text);
        bfi_put_number(&number, k * step * (is_cm ? 100 : 1), 2);
        double half = 0.5 * bfi_word_width(text);
        if (k == 2) bfi_put(&number, is_cm ? " cm" : " m");
        bfi_svg_text(pen, "bf-label", BFI_FRAME_X0 + k * side - half, BFI_UNDER_BAR_Y, text);
    }
}

void bfi_draw_column(bfi_pen *pen, double column_mm) {
    bfi_svg_arrow(pen, "bf-p3", column_mm, BFI_FRAME_Y1, column_mm, COLUMN_TOP_Y, BFI_ARROW_HEAD_MM);
}

bfi_box bfi_column_box(double column_mm) {
    return (bfi_box){column_mm - 1.6, COLUMN_TOP_Y - 0.5, column_mm + 1.6, BFI_FRAME_Y1};
}

/* ---- words ---- */

bfi_word bfi_word_in_bands(const char *text, const char *class_names) {
    bfi_word word = {.text = text, .class_names = class_names};
    double room = FEED_X1 - FEED_X0 - bfi_word_width(text);
    for (int k = 0; k < 6; k++) {
        bfi_place *place = &word.place[k];
        place->x = FEED_X0 + room * 0.5 * (k % 3);
        place->y = k < 3 ? TOP_WORDS_Y : LOW_WORDS_Y;
        place->box = bfi_word_box(text, place->x, place->y);
    }
    word.n_places = 6;
    return word;
}

void bfi_lead_to(bfi_place *place, double x, double y) {
    int is_above = place->y < FEED_Y0;
    double x0 = bfi_clamp(x, place->box.x0 + 2, place->box.x1 - 2);
    double y0 = is_above ? place->box.y1 + 0.3 : place->box.y0 - 0.1;
    double dx = x - x0, dy = y - y0, length = sqrt(dx * dx + dy * dy);
    double part = length > 1.5 ? (length - 1) / length : 0.5;
    place->has_leader = 1;
    place->leader = (bfi_segment){x0, y0, x0 + part * dx, y0 + part * dy};
}

bfi_word bfi_word_of_circle(const char *text, const char *class_names, double x, double y, double radius) {
    bfi_word word = bfi_word_in_bands(text, class_names);
    for (int p = 0; p < word.n_places; p++) {
        bfi_place *place = &word.place[p];
        double dx = 0.5 * (place->box.x0 + place->box.x1) - x, dy = 0.5 * (place->box.y0 + place->box.y1) - y;
        double length = sqrt(dx * dx + dy * dy);
        bfi_lead_to(place, x + radius * dx / length, y + radius * dy / length);
    }
    return word;
}

bfi_word bfi_word_of_column(const char *text, double column_mm) {
    bfi_word word = {.text = text, .class_names = "bf-case"};
    double right = column_mm + 2.6, left = column_mm - 2.6 - bfi_word_width(text);
    if (right + bfi_word_width(text) < BFI_FRAME_X1 - 1)
        word.place[word.n_places++] =
            (bfi_place){right, LOW_WORDS_Y, .box = bfi_word_box(text, right, LOW_WORDS_Y)};
    if (left > BFI_FRAME_X0 + 1)
        word.place[word.n_places++] =
            (bfi_place){left, LOW_WORDS_Y, .box = bfi_word_box(text, left, LOW_WORDS_Y)};
    return word;
}

void bfi_draw_led_word(bfi_pen *pen, const bfi_word *word, const char *leader_class) {
    const bfi_place *place = &word->place[word->chosen];
    if (place->has_leader) {
        const bfi_segment *leader = &place->leader;
        bfi_svg_line(pen, "bf-casing", leader->x0, leader->y0, leader->x1, leader->y1);
        bfi_svg_line(pen, leader_class, leader->x0, leader->y0, leader->x1, leader->y1);
    }
    bfi_svg_text(pen, word->class_names, place->x, place->y, word->text);
}
