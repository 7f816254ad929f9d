/* What is said of the rig beside it: words in the order of their parts, with leaders that do not cross. */
#include <math.h>
#include <string.h>

#include "core/picture/chart.h"
#include "core/picture/section.h"
#include "core/picture/words.h"

/* The words end here. */
#define WORDS_X1 46.0
#define WORD_STEP_MM 5.0

typedef struct rig_word {
    char text[64];
    bfi_point at; /* what it is said of */
    double y;     /* of its base line   */
} rig_word;

#define MOST_WORDS (BF_RIG_SHOTS + 3)
/* More than these are a thicket of leaders. */
#define MOST_SAID 8

static bfi_segment leader_of(double y, bfi_point to) {
    return (bfi_segment){WORDS_X1 + 1, y - BFI_HALF_FIGURE_MM, to.x - 1.6, to.y};
}

static double length_of(bfi_segment line) {
    double dx = line.x1 - line.x0, dy = line.y1 - line.y0;
    return sqrt(dx * dx + dy * dy);
}

static void draw_leader(bfi_section *s, double y, bfi_point to) {
    bfi_segment line = leader_of(y, to);
    if (length_of(line) >= 1.5) bfi_svg_line(&s->swim.pen, "bf-p1", line.x0, line.y0, line.x1, line.y1);
}

static void draw_rig_word(bfi_section *s, const char *class_names, const rig_word *word) {
    char fitted[96];
    bfi_pen pen = bfi_pen_open(fitted, sizeof fitted);
    bfi_put_fitted(&pen, word->text, WORDS_X1 - BFI_WATER_X0 - BFI_RIM_MM);
    bfi_svg_text(&s->swim.pen, class_names, WORDS_X1, word->y, fitted);
}

static rig_word *add_word(rig_word *words, int *n, bfi_point at) {
    rig_word *word = &words[*n];
    *n += 1;
    word->text[0] = 0;
    word->at = at;
    return word;
}

static bfi_point middle_of_row(const bfi_section *s, int k) {
    return bfi_section_in_water(s, s->drawn[k].from_m + 0.5 * (s->row[k].count - 1) * s->drawn[k].step_m);
}

/* What is said of the rig under water, from the top down. */
static int list_words(bfi_section *s, rig_word *words) {
    const bf_drawn_rig *rig = &s->view->rig;
    int n = 0;
    bfi_point top = bfi_section_place(s, s->view->shape.float_m);
    rig_word *word = add_word(words, &n, (bfi_point){top.x, top.y + 0.5 * BFI_FLOAT_MM});
    bfi_pen pen = bfi_pen_open(word->text, sizeof word->text);
    bfi_put(&pen, "float ");
    bfi_put(&pen, rig->float_name.text);
    int knot_said = !(rig->hooklength_m > 0);
    for (int k = 0; k <= s->n_rows; k++) {
        if (!knot_said && (k == s->n_rows || s->row[k].at_m < 0.5 * rig->hooklength_m)) {
            word = add_word(words, &n, bfi_section_in_water(s, 0.5 * rig->hooklength_m));
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
static double lowest_word(const bfi_section *s) {
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

void bfi_section_draw_words(bfi_section *s) {
    rig_word words[MOST_WORDS];
    int n = list_words(s, words);
    double first = BFI_SECTION_SURFACE_Y + 7, last = lowest_word(s);
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

void bfi_section_draw_back_word(bfi_section *s) {
    if (s->n_back_rows == 0) return;
    const bf_drawn_shot *row = &s->back_row[s->n_back_rows - 1];
    rig_word word = {.at = bfi_section_in_air(s, s->drawn_back[s->n_back_rows - 1].from_m)};
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
