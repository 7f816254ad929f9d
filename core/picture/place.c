#include "core/picture/place.h"

#include <math.h>
#include <string.h>

#include "baitfall/picture.h"

/* Of DejaVu Sans, per letter size: what a renderer reserves above and below the base line. */
#define ASCENT 0.93
#define DESCENT 0.24
/* Smallest distance between two words, mm: a slanted letter leans out of its box by up to a fifth of its height. */
#define GAP_MM 0.9
/* Nearer than this, two words side by side read as one phrase. */
#define APART_MM 5.0

double bfi_clamp(double value, double least, double most) {
    return value < least ? least : value > most ? most : value;
}

double bfi_word_width(const char *text) {
    return BFI_LETTER_MM * bf_text_width_mm(text, strlen(text), 1);
}

bfi_box bfi_word_box(const char *text, double x, double y) {
    return (bfi_box){x, y - ASCENT * BFI_LETTER_MM, x + bfi_word_width(text), y + DESCENT * BFI_LETTER_MM};
}

bfi_box bfi_box_around(bfi_box box, double x, double y) {
    if (x < box.x0) box.x0 = x;
    if (x > box.x1) box.x1 = x;
    if (y < box.y0) box.y0 = y;
    if (y > box.y1) box.y1 = y;
    return box;
}

int bfi_boxes_overlap(bfi_box a, bfi_box b, double gap) {
    return a.x0 < b.x1 + gap && b.x0 < a.x1 + gap && a.y0 < b.y1 && b.y0 < a.y1;
}

static double turn(double ax, double ay, double bx, double by, double cx, double cy) {
    return (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
}

int bfi_segments_cross(bfi_segment a, bfi_segment b) {
    double a0 = turn(b.x0, b.y0, b.x1, b.y1, a.x0, a.y0), a1 = turn(b.x0, b.y0, b.x1, b.y1, a.x1, a.y1);
    double b0 = turn(a.x0, a.y0, a.x1, a.y1, b.x0, b.y0), b1 = turn(a.x0, a.y0, a.x1, a.y1, b.x1, b.y1);
    return a0 * a1 <= 0 && b0 * b1 <= 0;
}

int bfi_segment_meets_box(bfi_segment s, bfi_box box) {
    int starts_inside = s.x0 > box.x0 && s.x0 < box.x1 && s.y0 > box.y0 && s.y0 < box.y1;
    return starts_inside || bfi_segments_cross(s, (bfi_segment){box.x0, box.y0, box.x1, box.y1}) ||
           bfi_segments_cross(s, (bfi_segment){box.x0, box.y1, box.x1, box.y0});
}

/* What is wrong with two places taken together. */
static double pair_cost(const bfi_place *a, const bfi_place *b) {
    double cost = 0;
    if (bfi_boxes_overlap(a->box, b->box, GAP_MM)) cost += 1e6;
    if (bfi_boxes_overlap(a->box, b->box, APART_MM)) cost += 40;
    if (a->has_leader && bfi_segment_meets_box(a->leader, b->box)) cost += 1e4;
    if (b->has_leader && bfi_segment_meets_box(b->leader, a->box)) cost += 1e4;
    if (a->has_leader && b->has_leader && bfi_segments_cross(a->leader, b->leader)) cost += 1e4;
    return cost;
}

static double own_cost(const bfi_place *place, const bfi_box *taken, int n_taken) {
    double cost = 0;
    for (int k = 0; k < n_taken; k++) {
        if (bfi_boxes_overlap(place->box, taken[k], GAP_MM)) cost += 1e6;
        if (place->has_leader && bfi_segment_meets_box(place->leader, taken[k])) cost += 1e4;
    }
    if (!place->has_leader) return cost;
    double dx = place->leader.x1 - place->leader.x0, dy = place->leader.y1 - place->leader.y0;
    return cost + sqrt(dx * dx + dy * dy);
}

static double total_cost(const bfi_word *words, int n, const int *pick, const bfi_box *taken, int n_taken) {
    double cost = 0;
    for (int a = 0; a < n; a++) {
        cost += own_cost(&words[a].place[pick[a]], taken, n_taken);
        for (int b = 0; b < a; b++) cost += pair_cost(&words[a].place[pick[a]], &words[b].place[pick[b]]);
    }
    return cost;
}

/* The next combination, like a counter whose wheels have as many teeth as there are places; 0 after the last. */
static int next_pick(const bfi_word *words, int n, int *pick) {
    for (int a = 0; a < n; a++) {
        pick[a] += 1;
        if (pick[a] < words[a].n_places) return 1;
        pick[a] = 0;
    }
    return 0;
}

void bfi_choose_places(bfi_word *words, int n, const bfi_box *taken, int n_taken) {
    BF_ASSERT(n <= BFI_MOST_WORDS);
    int pick[BFI_MOST_WORDS] = {0};
    double least = BF_INFINITY;
    do {
        double cost = total_cost(words, n, pick, taken, n_taken);
        if (cost < least) {
            least = cost;
            for (int a = 0; a < n; a++) words[a].chosen = pick[a];
        }
    } while (next_pick(words, n, pick));
}
