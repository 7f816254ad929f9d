/* card_front.c -- the front of the card: peg, rig, key numbers, other spots and lines of feed. Its places: card.c. */
#include <math.h>
#include <string.h>

#include "core/picture/card.h"
#include "core/picture/chart.h"
#include "core/picture/shotting.h"
#include "core/picture/words.h"

/* ---- words ---- */

/* "12 s (10-15)" in two: what is before the bracket, and the bracket. */
static void split_label(const char *label, char head[BF_LABEL_BYTES + 1], char tail[BF_LABEL_BYTES + 1]) {
    const char *bracket = strchr(label, '(');
    int is_split = bracket && bracket > label + 1 && bracket[-1] == ' ';
    bfi_pen before = bfi_pen_open(head, BF_LABEL_BYTES + 1), after = bfi_pen_open(tail, BF_LABEL_BYTES + 1);
    bfi_put_bytes(&before, label, is_split ? (size_t)(bracket - 1 - label) : strlen(label));
    if (is_split) bfi_put(&after, bracket);
}

static void put_feet(bfi_pen *pen, double m) {
    double inches = floor(m / 0.0254 + 0.5), feet = floor(inches / 12);
    inches -= 12 * feet;
    if (feet > 0) {
        bfi_put_number(pen, feet, 0);
        bfi_put(pen, inches > 0 ? " ft " : " ft");
    }
    if (inches == 0 && feet > 0) return;
    bfi_put_number(pen, inches, 0);
    bfi_put(pen, " in");
}

/* ---- front: title ---- */

/* "Peg 14, long"; a line to write on while the peg is not drawn. */
static void draw_title(bfi_card_page *p) {
    const bf_card_spot *spot = &p->view->spot[0];
    char text[160] = "", out[32] = "";
    bfi_pen word = bfi_pen_open(out, sizeof out);
    if (spot->distance_m > 0) {
        bfi_put_number(&word, spot->distance_m, 1);
        bfi_put(&word, " m");
    }
    double right = out[0] ? bfi_card_width(out, PT20) + 3 : 0, left = X0;
    bfi_card_put(p, "bf-20pt bf-key bf-end", PT20, X1, TITLE_Y, INNER_W, out);
    word = bfi_pen_open(text, sizeof text);
    bfi_put(&word, "Peg");
    if (p->view->peg.text[0]) {
        bfi_put(&word, " ");
        bfi_put(&word, p->view->peg.text);
        bfi_put(&word, spot->name.text[0] ? ", " : "");
    } else {
        bfi_svg_text(p->pen, "bf-20pt bf-key", X0, TITLE_Y, "Peg");
        left += bfi_card_width("Peg ", PT20) + 14;
        bfi_svg_line(p->pen, "bf-p2", left - 14, TITLE_Y + 0.6, left - 1.5, TITLE_Y + 0.6);
        word = bfi_pen_open(text, sizeof text);
    }
    bfi_put(&word, spot->name.text);
    bfi_card_put(p, "bf-20pt bf-key", PT20, left, TITLE_Y, X1 - left - right, text);
    bfi_card_rule(p, "bf-p4", RULE_Y);
}

/* ---- front: key numbers ---- */

#define NUMBERS_X 52.0
#define NUMBERS_W (X1 - NUMBERS_X)
#define BLOCK_MM 15.8
#define MOST_BLOCKS 5

typedef struct block {
    char head[BF_LABEL_BYTES + 1], tail[BF_LABEL_BYTES + 1], under[80];
    const char *short_under; /* where the range stands beside it; NULL: as it is */
} block;

static int add_block(block *blocks, int n, const char *label, const char *under, const char *short_under) {
    if (!label[0]) return n;
    blocks[n].short_under = short_under;
    split_label(label, blocks[n].head, blocks[n].tail);
    bfi_pen word = bfi_pen_open(blocks[n].under, sizeof blocks[n].under);
    bfi_put(&word, under);
    return n + 1;
}

static int list_blocks(const bf_card_spot *spot, block *blocks) {
    char depth[32], feet[64];
    bfi_pen word = bfi_pen_open(depth, sizeof depth);
    bfi_put_number(&word, spot->depth_m, 2);
    bfi_put(&word, " m");
    word = bfi_pen_open(feet, sizeof feet);
    put_feet(&word, spot->depth_m);
    if (spot->bottom >= 0) {
        bfi_put(&word, ", ");
        bfi_put(&word, bf_bottom_words[spot->bottom]);
    }
    int n = add_block(blocks, 0, depth, feet, NULL);
    n = add_block(blocks, n, spot->pieces.text, spot->pieces_what.text, NULL);
    n = add_block(blocks, n, spot->feed_down.text, "feed down", "feed");
    n = add_block(blocks, n, spot->wait.text, "wait, then lower", "wait");
    return add_block(blocks, n, spot->rig_down.text, "rig down", "sinks");
}

/* The number at 24 pt and its range behind it; where they have no room together, the range goes below, and a number that
 * is too long for itself is set at 14 pt. */
static void draw_block(bfi_card_page *p, const block *b, double y) {
    double number = y + 7.9, under = y + 14.6, tail_x = NUMBERS_X + bfi_card_width(b->head, PT24) + 1.8;
    int is_long = bfi_card_width(b->head, PT24) > NUMBERS_W,
        is_beside = !b->tail[0] || tail_x + bfi_card_width(b->tail, PT14) <= X1;
    char below[160];
    bfi_pen word = bfi_pen_open(below, sizeof below);
    if (is_long)
        bfi_card_put(p, "bf-14pt bf-key", PT14, NUMBERS_X, number, NUMBERS_W, b->head);
    else
        bfi_svg_text(p->pen, "bf-24pt bf-key", NUMBERS_X, number, b->head);
    if (is_beside) {
        bfi_card_put(p, "bf-14pt bf-key", PT14, tail_x, number, X1 - tail_x, b->tail);
        bfi_put(&word, b->under);
    } else {
        bfi_put(&word, b->short_under ? b->short_under : b->tail);
        bfi_put(&word, " ");
        bfi_put(&word, b->short_under ? b->tail : b->under);
    }
    bfi_card_put(p, "bf-14pt bf-key", PT14, NUMBERS_X, under, NUMBERS_W, below);
}

/* The last on a row of its own at 14 pt, where there is no room for all of them large. */
static void draw_small_block(bfi_card_page *p, const block *b, double y) {
    char text[160];
    bfi_pen word = bfi_pen_open(text, sizeof text);
    bfi_put(&word, b->short_under ? b->short_under : "");
    bfi_put(&word, b->short_under ? " " : "");
    bfi_put(&word, b->head);
    double tail_w = b->tail[0] ? bfi_card_width(" ", PT14) + bfi_card_width(b->tail, PT14) : 0;
    if (b->tail[0] && bfi_card_width(text, PT14) + tail_w <= NUMBERS_W) {
        bfi_put(&word, " ");
        bfi_put(&word, b->tail);
    }
    bfi_card_put(p, "bf-14pt bf-key", PT14, NUMBERS_X, y + 4.7, NUMBERS_W, text);
}

static void draw_numbers(bfi_card_page *p, double top, double height) {
    block blocks[MOST_BLOCKS];
    int n = list_blocks(&p->view->spot[0], blocks), n_large = n;
    if (n * BLOCK_MM > height) n_large = n - 1;
    double used = n_large * BLOCK_MM + (n - n_large) * ROW14, gap = (height - used) / n;
    BF_ASSERT(gap >= 0);
    if (gap > 5) gap = 5;
    double y = top + 0.5 * gap;
    for (int k = 0; k < n_large; k++, y += BLOCK_MM + gap) draw_block(p, &blocks[k], y);
    if (n_large < n) draw_small_block(p, &blocks[n - 1], y);
}

/* ---- front: other spots and lines of feed ---- */

#define MOST_LOW_ROWS 8
#define MOST_HEADED 2
#define RIG_INDENT 4.0

/* What is said of the rig of another spot: nothing; its set length and shot; with their places. */
enum { RIG_UNSAID, RIG_SHOT, RIG_PLACES };

typedef struct low_row {
    char text[256];
    const char *class_names;
    double indent;
} low_row;

typedef struct low_rows {
    low_row at[MOST_LOW_ROWS];
    int n;                /* may be more than there is room for: the rest is not kept */
    int is_short;         /* one row a line of feed, else two                        */
    int detail;           /* of the rigs of other spots: RIG_... */
    int n_spots, n_feeds; /* how many spots have a place, and feeds in all   */
    int takes[BF_CARD_FEEDS];
} low_rows;

static bfi_pen add_low_row(low_rows *rows, const char *class_names, double indent, char *spare,
                           size_t n_spare) {
    int k = rows->n++;
    if (k >= MOST_LOW_ROWS) return bfi_pen_open(spare, n_spare);
    rows->at[k] = (low_row){.class_names = class_names, .indent = indent};
    return bfi_pen_open(rows->at[k].text, sizeof rows->at[k].text);
}

/* "short 5 m: 1.1 m deep, 0.2 g, wait 8 s" */
static void add_spot_row(low_rows *rows, const bf_card_spot *spot) {
    char spare[256], head[BF_LABEL_BYTES + 1], tail[BF_LABEL_BYTES + 1];
    bfi_pen word = add_low_row(rows, "bf-14pt bf-key", 0, spare, sizeof spare);
    bfi_put(&word, spot->name.text[0] ? spot->name.text : "next");
    bfi_put(&word, ": ");
    bfi_put_number(&word, spot->depth_m, 2);
    bfi_put(&word, " m");
    if (spot->rig.float_name.text[0]) bfi_put(&word, ", ");
    bfi_put(&word, spot->rig.float_name.text);
    if (!spot->wait.text[0]) return;
    split_label(spot->wait.text, head, tail);
    bfi_put(&word, ", wait ");
    bfi_put(&word, head);
}

static void put_cm(bfi_pen *word, double m) {
    double mm = floor(1000 * m + 0.5);
    bfi_put_number(word, mm / 10, mm - 10 * floor(mm / 10) > 0 ? 1 : 0);
}

/* "9 No 8 45+9": the lowest 45 cm above the hook, each 9 cm above the next. */
static void put_shot(bfi_pen *word, const bf_drawn_shot *shot, int detail) {
    if (shot->count > 1) {
        bfi_put_number(word, shot->count, 0);
        bfi_put(word, " ");
    }
    bfi_put(word, shot->name.text);
    if (detail < RIG_PLACES) return;
    bfi_put(word, " ");
    put_cm(word, shot->at_m);
    if (shot->count < 2 || !(shot->apart_m > 0)) return;
    bfi_put(word, "+");
    put_cm(word, shot->apart_m);
}

/* The shot above at_m and nearest to it; NULL: there is none. */
static const bf_drawn_shot *next_shot(const bf_drawn_rig *rig, double at_m) {
    const bf_drawn_shot *next = NULL;
    for (int i = 0; i < rig->n_shots; i++)
        if (rig->shot[i].at_m > at_m && (!next || rig->shot[i].at_m < next->at_m)) next = &rig->shot[i];
    return next;
}

/* A part of a rig's words: on the row that is open, or, where it has no room there, on one of its own. */
static void add_part(low_rows *rows, char *line, size_t n_line, const char *part) {
    char spare[256], longer[256];
    bfi_pen word = bfi_pen_open(longer, sizeof longer);
    bfi_put(&word, line);
    bfi_put(&word, line[0] ? ", " : "");
    bfi_put(&word, part);
    if (line[0] && bfi_card_width(longer, PT14) > INNER_W - RIG_INDENT) {
        word = add_low_row(rows, "bf-14pt", RIG_INDENT, spare, sizeof spare);
        bfi_put(&word, line);
        word = bfi_pen_open(line, n_line);
        bfi_put(&word, part);
        return;
    }
    word = bfi_pen_open(line, n_line);
    bfi_put(&word, longer);
}

/* "set 1.66 m, 2 No 9 16+14, 9 No 8 45+9 cm, back 2 No 10 15" */
static void add_rig_rows(low_rows *rows, const bf_drawn_rig *rig) {
    char line[256] = "", part[96], spare[256];
    bfi_pen word = bfi_pen_open(part, sizeof part);
    bfi_put(&word, "set ");
    bfi_put_number(&word, rig->float_to_hook_m, 2);
    bfi_put(&word, " m");
    add_part(rows, line, sizeof line, part);
    for (const bf_drawn_shot *shot = next_shot(rig, -1); shot; shot = next_shot(rig, shot->at_m)) {
        word = bfi_pen_open(part, sizeof part);
        put_shot(&word, shot, rows->detail);
        bfi_put(&word, rows->detail == RIG_PLACES && !next_shot(rig, shot->at_m) ? " cm" : "");
        add_part(rows, line, sizeof line, part);
    }
    for (int i = 0; i < rig->n_back_shots; i++) {
        word = bfi_pen_open(part, sizeof part);
        bfi_put(&word, "back ");
        put_shot(&word, &rig->back_shot[i], rows->detail);
        add_part(rows, line, sizeof line, part);
    }
    word = add_low_row(rows, "bf-14pt", RIG_INDENT, spare, sizeof spare);
    bfi_put(&word, line);
}

static void add_feed_rows(low_rows *rows, const bf_card_view *view, const bf_card_feed *feed) {
    char spare[256];
    bfi_pen word = add_low_row(rows, rows->is_short ? "bf-14pt" : "bf-14pt bf-key", 0, spare, sizeof spare);
    bfi_card_put_clock(&word, view, feed->from_s);
    if (bfi_card_is_once(feed)) {
        bfi_put(&word, " ");
    } else if (rows->is_short) {
        bfi_put(&word, " /");
        bfi_put_span(&word, feed->every_s);
        bfi_put(&word, ": ");
    } else {
        bfi_put(&word, " to ");
        bfi_card_put_clock(&word, view, feed->to_s);
        bfi_put(&word, ", every ");
        bfi_put_span(&word, feed->every_s);
        word = add_low_row(rows, "bf-14pt", 4, spare, sizeof spare);
    }
    bfi_card_put_dose(&word, feed, !rows->is_short);
}

static void add_rows_of_spot(low_rows *rows, const bf_card_view *view, int spot) {
    for (int k = 0; k < view->n_feeds; k++)
        if (rows->takes[k] && view->feed[k].spot == spot) add_feed_rows(rows, view, &view->feed[k]);
}

static void list_low_rows(low_rows *rows, const bf_card_view *view, int is_short, int detail) {
    rows->n = 0;
    rows->is_short = is_short;
    rows->detail = detail;
    for (int spot = 0; spot < rows->n_spots; spot++) {
        if (spot > 0) add_spot_row(rows, &view->spot[spot]);
        if (spot > 0 && detail > RIG_UNSAID) add_rig_rows(rows, &view->spot[spot].rig);
        add_rows_of_spot(rows, view, spot);
    }
}

/* "2 spots, 15 feeds, 2 rigs more in plan" */
static void add_more_row(low_rows *rows, int spots_out, int feeds_out) {
    char spare[256];
    int rigs_out = rows->n_spots - 1, n = 0;
    const struct {
        int n;
        const char *one, *more;
    } out[] = {{spots_out, "spot", "spots"}, {feeds_out, "feed", "feeds"}, {rigs_out, "rig", "rigs"}};
    bfi_pen word = add_low_row(rows, "bf-14pt", 0, spare, sizeof spare);
    for (size_t k = 0; k < sizeof out / sizeof out[0]; k++) {
        if (out[k].n == 0) continue;
        bfi_put(&word, n++ > 0 ? ", " : "");
        bfi_put_count(&word, out[k].n, out[k].one, out[k].more);
    }
    bfi_put(&word, n < 3 ? " more in plan" : " in plan"); /* three have no room for more */
}

/* What finds no place even in single rows: the last spots, then the last lines of feed, and a row says so. */
static void choose_low_rows(low_rows *rows, const bf_card_view *view) {
    rows->n_spots = view->n_spots < 1 + MOST_HEADED ? view->n_spots : 1 + MOST_HEADED;
    int room = MOST_LOW_ROWS - 1 - (rows->n_spots - 1), n_out = 0;
    for (int k = 0; k < view->n_feeds; k++) {
        rows->takes[k] = view->feed[k].spot < rows->n_spots && room > 0;
        room -= rows->takes[k];
        n_out += !rows->takes[k];
    }
    list_low_rows(rows, view, 1, RIG_UNSAID);
    add_more_row(rows, view->n_spots - rows->n_spots, n_out);
}

/* Rigs of other spots, first with every place, as long as the first spot's is still drawn whole beside them; else they are counted. */
#define MOST_WITH_RIGS 7

static void fill_low_rows(low_rows *rows, const bf_card_view *view) {
    static const struct {
        int is_short, detail, most;
    } ways[] = {{0, RIG_PLACES, MOST_WITH_RIGS},
                {1, RIG_PLACES, MOST_WITH_RIGS},
                {1, RIG_SHOT, MOST_WITH_RIGS},
                {0, RIG_UNSAID, MOST_LOW_ROWS},
                {1, RIG_UNSAID, MOST_LOW_ROWS}};
    rows->n_spots = view->n_spots;
    for (int k = 0; k < view->n_feeds; k++) rows->takes[k] = 1;
    for (size_t k = 0; k < sizeof ways / sizeof ways[0]; k++) {
        if (ways[k].detail > RIG_UNSAID && rows->n_spots == 1) continue;
        list_low_rows(rows, view, ways[k].is_short, ways[k].detail);
        if (ways[k].detail == RIG_UNSAID && rows->n_spots > 1) add_more_row(rows, 0, 0);
        if (rows->n <= ways[k].most) return;
    }
    choose_low_rows(rows, view);
    BF_ASSERT(rows->n <= MOST_LOW_ROWS);
}

static void draw_low_rows(bfi_card_page *p, const low_rows *rows, double y) {
    for (int k = 0; k < rows->n; k++) {
        const low_row *row = &rows->at[k];
        bfi_card_put(p, row->class_names, PT14, X0 + row->indent, y + 5.2 + ROW14 * k, INNER_W - row->indent,
                     row->text);
    }
}

/* ---- front ---- */

#define CAUTION_RULE_Y 136.2
#define RIG_X1 49.4
static const char power_lines[] = "Power lines: keep well clear.";

void bfi_card_front(bfi_card_page *p) {
    static const bfi_rig_style style = {.line_x = X0 + 4,
                                        .text_x = X0 + 9.5,
                                        .width = RIG_X1,
                                        .letter_mm = PT10,
                                        .row_mm = ROW10,
                                        .is_stacked = 1,
                                        .text_class = "bf-10pt bf-key",
                                        .shot_class = "bf-p2"};
    low_rows rows;
    fill_low_rows(&rows, p->view);
    double split = CAUTION_RULE_Y - 1.4 - ROW14 * rows.n, top = RULE_Y + 1.6;
    draw_title(p);
    bfi_draw_shotting(p->pen, &p->view->spot[0].rig, &style, top, split - top - 1);
    bfi_svg_line(p->pen, "bf-p2", NUMBERS_X - 1.6, RULE_Y, NUMBERS_X - 1.6, split);
    draw_numbers(p, top, split - top);
    bfi_card_rule(p, "bf-p3", split);
    draw_low_rows(p, &rows, split);
    if (rows.n > 0) bfi_card_rule(p, "bf-p2", CAUTION_RULE_Y);
    bfi_svg_text(p->pen, "bf-14pt bf-key", X0, 141, power_lines);
}
