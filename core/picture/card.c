/* The card: front and back of A6, or both beside each other on A5. In mm of paper; 6 mm are left free at every edge.
 *
 *     front  y 6 .. 15    peg and spot, how far out
 *            y 15 .. s    left the rig with every distance, right the key numbers
 *            y s .. 136   other spots and lines of feed, as many as there are, 5.8 mm each
 *            y 136 .. 142 the power-line caution; the back has the one for thunder
 *     back   y 6 .. 15    venue, peg
 *            y 15 .. t    tally, a row each half hour, 8 mm high
 *            y t .. 142   limits and cautions; "estimates, not measurements"; day and version
 */
#include <math.h>
#include <string.h>

#include "core/picture/chart.h"
#include "core/picture/drawn_rig.h"
#include "core/picture/shotting.h"
#include "core/picture/swim.h"
#include "core/picture/words.h"

#define PAGE_W 105.0
#define PAGE_H 148.0
#define X0 6.0
#define X1 99.0
#define INNER_W (X1 - X0)
#define LOW_Y 142.0

/* Letters: 14, 20, 24 and 10 points. */
#define PT14 4.94
#define PT20 7.06
#define PT24 8.47
#define PT10 3.53
#define ROW14 5.8
#define ROW10 4.25

#define TITLE_Y 12.2
#define RULE_Y 14.6

typedef struct page {
    const bf_card_view *view;
    bfi_pen *pen;
} page;

/* ---- checks ---- */

static bf_status check_spot(const bf_card_spot *spot) {
    bf_status status = bfi_drawn_rig_check(&spot->rig);
    if (status) return status;
    if (!(fabs(spot->depth_m) < BF_INFINITY) || fabs(spot->distance_m) == BF_INFINITY) return BF_E_NOT_FINITE;
    int is_fine = spot->depth_m > 0 && spot->depth_m <= 100 && !(spot->distance_m < 0) &&
                  !(spot->distance_m > 100) && spot->bottom >= -1 && spot->bottom <= BF_WEED;
    return is_fine ? BF_OK : BF_E_RANGE;
}

static int is_once(const bf_card_feed *feed) {
    return feed->every_s != feed->every_s;
}

static bf_status check_feed(const bf_card_feed *feed, int n_spots) {
    if (!(fabs(feed->from_s) < BF_INFINITY) || fabs(feed->every_s) == BF_INFINITY) return BF_E_NOT_FINITE;
    if (feed->spot < 0 || feed->spot >= n_spots || feed->from_s < 0 || feed->from_s > 1e6) return BF_E_RANGE;
    if (is_once(feed)) return BF_OK;
    if (!(fabs(feed->to_s) < BF_INFINITY)) return BF_E_NOT_FINITE;
    int is_fine =
        feed->every_s > 0 && feed->every_s <= 1e6 && feed->to_s >= feed->from_s && feed->to_s <= 1e6;
    return is_fine ? BF_OK : BF_E_RANGE;
}

static bf_status check_view(const bf_card_view *view) {
    if (view->n_spots < 1 || view->n_spots > BF_CARD_SPOTS || view->n_feeds < 0 ||
        view->n_feeds > BF_CARD_FEEDS || view->n_limits < 0 || view->n_limits > BF_CARD_LIMITS)
        return BF_E_COUNT;
    if (!(fabs(view->hours) < BF_INFINITY) || fabs(view->starts_min) == BF_INFINITY) return BF_E_NOT_FINITE;
    if (!(view->hours > 0 && view->hours <= 48) || view->starts_min < 0 || view->starts_min > 1440)
        return BF_E_RANGE;
    bf_status status = BF_OK;
    for (int k = 0; k < view->n_spots && !status; k++) status = check_spot(&view->spot[k]);
    for (int k = 0; k < view->n_feeds && !status; k++) status = check_feed(&view->feed[k], view->n_spots);
    return status;
}

/* ---- words ---- */

static double width_at(const char *text, double letter_mm) {
    return bfi_word_width(text) * letter_mm / BFI_LETTER_MM;
}

/* Bold words cut to their room; with "bf-end" they end at x. */
static void put_at(page *p, const char *class_names, double letter_mm, double x, double y, double room_mm,
                   const char *text) {
    char fitted[256];
    bfi_pen word = bfi_pen_open(fitted, sizeof fitted);
    if (!text[0] || room_mm < letter_mm) return;
    bfi_put_fitted_at(&word, text, letter_mm, room_mm);
    bfi_svg_text(p->pen, class_names, x, y, fitted);
}

static void rule(page *p, const char *class_names, double y) {
    bfi_svg_line(p->pen, class_names, X0, y, X1, y);
}

/* "9:30" by the clock, or "+0:30" since the start. */
static void put_clock(bfi_pen *pen, const bf_card_view *view, double after_start_s) {
    int is_clock = view->starts_min >= 0;
    double minutes = floor(after_start_s / 60 + 0.5) + (is_clock ? view->starts_min : 0);
    double hours = floor(minutes / 60), rest = minutes - 60 * hours;
    if (is_clock) hours -= 24 * floor(hours / 24);
    if (!is_clock) bfi_put(pen, "+");
    bfi_put_number(pen, hours, 0);
    bfi_put(pen, rest < 10 ? ":0" : ":");
    bfi_put_number(pen, rest, 0);
}

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
static void draw_title(page *p) {
    const bf_card_spot *spot = &p->view->spot[0];
    char text[160] = "", out[32] = "";
    bfi_pen word = bfi_pen_open(out, sizeof out);
    if (spot->distance_m > 0) {
        bfi_put_number(&word, spot->distance_m, 1);
        bfi_put(&word, " m");
    }
    double right = out[0] ? width_at(out, PT20) + 3 : 0, left = X0;
    put_at(p, "bf-20pt bf-key bf-end", PT20, X1, TITLE_Y, INNER_W, out);
    word = bfi_pen_open(text, sizeof text);
    bfi_put(&word, "Peg");
    if (p->view->peg.text[0]) {
        bfi_put(&word, " ");
        bfi_put(&word, p->view->peg.text);
        bfi_put(&word, spot->name.text[0] ? ", " : "");
    } else {
        bfi_svg_text(p->pen, "bf-20pt bf-key", X0, TITLE_Y, "Peg");
        left += width_at("Peg ", PT20) + 14;
        bfi_svg_line(p->pen, "bf-p2", left - 14, TITLE_Y + 0.6, left - 1.5, TITLE_Y + 0.6);
        word = bfi_pen_open(text, sizeof text);
    }
    bfi_put(&word, spot->name.text);
    put_at(p, "bf-20pt bf-key", PT20, left, TITLE_Y, X1 - left - right, text);
    rule(p, "bf-p4", RULE_Y);
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
    return add_block(blocks, n, spot->rig_down.text, "rig down", "rig down");
}

/* The number at 24 pt and its range behind it; where they have no room together, the range goes below, and a number that
 * is too long for itself is set at 14 pt. */
static void draw_block(page *p, const block *b, double y) {
    double number = y + 7.9, under = y + 14.6, tail_x = NUMBERS_X + width_at(b->head, PT24) + 1.8;
    int is_long = width_at(b->head, PT24) > NUMBERS_W,
        is_beside = !b->tail[0] || tail_x + width_at(b->tail, PT14) <= X1;
    char below[160];
    bfi_pen word = bfi_pen_open(below, sizeof below);
    if (is_long)
        put_at(p, "bf-14pt bf-key", PT14, NUMBERS_X, number, NUMBERS_W, b->head);
    else
        bfi_svg_text(p->pen, "bf-24pt bf-key", NUMBERS_X, number, b->head);
    if (is_beside) {
        put_at(p, "bf-14pt bf-key", PT14, tail_x, number, X1 - tail_x, b->tail);
        bfi_put(&word, b->under);
    } else {
        bfi_put(&word, b->short_under ? b->short_under : b->tail);
        bfi_put(&word, " ");
        bfi_put(&word, b->short_under ? b->tail : b->under);
    }
    put_at(p, "bf-14pt bf-key", PT14, NUMBERS_X, under, NUMBERS_W, below);
}

/* The last on a row of its own at 14 pt, where there is no room for all of them large. */
static void draw_small_block(page *p, const block *b, double y) {
    char text[160];
    bfi_pen word = bfi_pen_open(text, sizeof text);
    bfi_put(&word, b->short_under ? b->short_under : "");
    bfi_put(&word, b->short_under ? " " : "");
    bfi_put(&word, b->head);
    double tail_w = b->tail[0] ? width_at(" ", PT14) + width_at(b->tail, PT14) : 0;
    if (b->tail[0] && width_at(text, PT14) + tail_w <= NUMBERS_W) {
        bfi_put(&word, " ");
        bfi_put(&word, b->tail);
    }
    put_at(p, "bf-14pt bf-key", PT14, NUMBERS_X, y + 4.7, NUMBERS_W, text);
}

static void draw_numbers(page *p, double top, double height) {
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
    if (line[0] && width_at(longer, PT14) > INNER_W - RIG_INDENT) {
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

static void put_dose(bfi_pen *word, const bf_card_feed *feed, int has_how) {
    bfi_put(word, feed->amount.text);
    bfi_put(word, feed->amount.text[0] && feed->bait.text[0] ? " " : "");
    bfi_put(word, feed->bait.text);
    if (has_how && feed->how.text[0]) {
        bfi_put(word, ", ");
        bfi_put(word, feed->how.text);
    }
}

static void add_feed_rows(low_rows *rows, const bf_card_view *view, const bf_card_feed *feed) {
    char spare[256];
    bfi_pen word = add_low_row(rows, rows->is_short ? "bf-14pt" : "bf-14pt bf-key", 0, spare, sizeof spare);
    put_clock(&word, view, feed->from_s);
    if (is_once(feed)) {
        bfi_put(&word, " ");
    } else if (rows->is_short) {
        bfi_put(&word, " /");
        bfi_put_span(&word, feed->every_s);
        bfi_put(&word, ": ");
    } else {
        bfi_put(&word, " to ");
        put_clock(&word, view, feed->to_s);
        bfi_put(&word, ", every ");
        bfi_put_span(&word, feed->every_s);
        word = add_low_row(rows, "bf-14pt", 4, spare, sizeof spare);
    }
    put_dose(&word, feed, !rows->is_short);
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

static void draw_low_rows(page *p, const low_rows *rows, double y) {
    for (int k = 0; k < rows->n; k++) {
        const low_row *row = &rows->at[k];
        put_at(p, row->class_names, PT14, X0 + row->indent, y + 5.2 + ROW14 * k, INNER_W - row->indent,
               row->text);
    }
}

/* ---- front ---- */

#define CAUTION_RULE_Y 136.2
#define RIG_X1 49.4
static const char power_lines[] = "Power lines: keep well clear.";

static void draw_front(page *p) {
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
    rule(p, "bf-p3", split);
    draw_low_rows(p, &rows, split);
    if (rows.n > 0) rule(p, "bf-p2", CAUTION_RULE_Y);
    bfi_svg_text(p->pen, "bf-14pt bf-key", X0, 141, power_lines);
}

/* ---- back ---- */

#define N_COLUMNS 7
#define BOX_MM 8.0
#define HEAD_Y 19.3
#define GRID_Y 20.5
#define GRID_X 23.6
/* As many rows as leave room for the thunder and one limit; one fewer where there are more limits. */
#define MOST_TALLY 12
#define FOOT_Y 141.2

static const char *const column_words[N_COLUMNS] = {"F", "L", "M", "T", "Fo", "N", "Fed"};

static int n_tally(const bf_card_view *view) {
    double rows = floor(2 * view->hours + 0.999);
    int most = view->n_limits > 1 ? MOST_TALLY - 1 : MOST_TALLY;
    return rows < 1 ? 1 : rows > most ? most : (int)rows;
}

static void draw_tally(page *p, int n) {
    double column = (X1 - GRID_X) / N_COLUMNS, low = GRID_Y + n * BOX_MM;
    for (int k = 0; k < N_COLUMNS; k++)
        bfi_svg_text(p->pen, "bf-14pt bf-key bf-mid", GRID_X + column * (k + 0.5), HEAD_Y, column_words[k]);
    for (int k = 0; k <= N_COLUMNS; k++)
        bfi_svg_line(p->pen, "bf-p2", GRID_X + column * k, GRID_Y, GRID_X + column * k, low);
    for (int k = 0; k <= n; k++)
        bfi_svg_line(p->pen, "bf-p2", GRID_X, GRID_Y + k * BOX_MM, X1, GRID_Y + k * BOX_MM);
    for (int k = 0; k < n; k++) {
        char text[32];
        bfi_pen word = bfi_pen_open(text, sizeof text);
        int is_rest = k == n - 1 && 2 * p->view->hours > n + 0.001;
        if (is_rest)
            bfi_put(&word, "later");
        else
            put_clock(&word, p->view, 1800.0 * k);
        put_at(p, "bf-14pt bf-key", PT14, X0, GRID_Y + BOX_MM * (k + 0.5) + 1.8, GRID_X - X0 - 0.6, text);
    }
}

/* What to mind, by importance: limits among the cautions, of which the front has the power lines. Ours, for the card: core's cautions in
 * few words. */
static const char *const cautions[] = {"Thunder: stop at once.", "Wet banks slip, cold kills.",
                                       "Hooks: mind eyes and fingers.", "Wet hands, wet mat.",
                                       "Cuts covered, hands washed."};
#define N_CAUTIONS ((int)(sizeof cautions / sizeof cautions[0]))
/* What the letters over the tally stand for, in their order; all six on one row, where "Nothing" has no room. */
static const char letters_told[] = "Fish Lost Missed Touch Foul Nil";

#define MOST_MINDED (N_CAUTIONS + BF_CARD_LIMITS + 1)

/* Limits in rows: one each, or, where that takes too many, as many as go into a row. */
typedef struct limit_rows {
    int n, n_out; /* rows; limits without a place */
    char text[BF_CARD_LIMITS][2 * BF_LABEL_BYTES];
    int holds[BF_CARD_LIMITS]; /* limits in each */
} limit_rows;

/* Puts a limit behind those of a row; 0: it has no room there. */
static int join_limit(limit_rows *rows, int row, const char *limit) {
    char joined[2 * BF_LABEL_BYTES];
    const char *was = rows->text[row];
    bfi_pen word = bfi_pen_open(joined, sizeof joined);
    bfi_put(&word, was);
    bfi_put(&word, was[strlen(was) - 1] == '.' ? " " : "; ");
    bfi_put(&word, limit);
    if (strlen(was) + strlen(limit) + 3 > sizeof joined || width_at(joined, PT14) > INNER_W) return 0;
    memcpy(rows->text[row], joined, sizeof joined);
    rows->holds[row]++;
    return 1;
}

static void add_limit(limit_rows *rows, int most, int may_join, const char *limit) {
    for (int row = 0; may_join && row < rows->n; row++)
        if (join_limit(rows, row, limit)) return;
    if (rows->n == most) {
        rows->n_out++;
        return;
    }
    bfi_pen word = bfi_pen_open(rows->text[rows->n], sizeof rows->text[0]);
    bfi_put(&word, limit);
    rows->holds[rows->n++] = 1;
}

/* Limits that find no place are counted in the last row. */
static void list_limits(const bf_card_view *view, int most, limit_rows *rows) {
    for (int may_join = 0; may_join < 2; may_join++) {
        rows->n = rows->n_out = 0;
        for (int k = 0; k < view->n_limits; k++)
            if (view->limit[k].text[0]) add_limit(rows, most, may_join, view->limit[k].text);
        if (rows->n_out == 0) return;
    }
    if (rows->n == 0) return;
    int last = rows->n - 1;
    bfi_pen word = bfi_pen_open(rows->text[last], sizeof rows->text[last]);
    bfi_put_count(&word, rows->n_out + rows->holds[last], "limit", "limits");
    bfi_put(&word, " more in plan");
}

/* Fills as many rows as there are: the letters right under the tally, the thunder, limits, then the other cautions. */
static int list_minded(const bf_card_view *view, const char **minded, int room, limit_rows *limits) {
    int n = 0;
    if (room > 3) minded[n++] = letters_told;
    minded[n++] = cautions[0];
    list_limits(view, room - n, limits);
    for (int k = 0; k < limits->n; k++) minded[n++] = limits->text[k];
    for (int k = 1; k < N_CAUTIONS && n < room; k++) minded[n++] = cautions[k];
    return n;
}

/* Whether a name says already that it is invented. */
static int says_invented(const char *name) {
    static const char word[] = "invented";
    while (*name && strncmp(name, word, sizeof word - 1) != 0) name += 1;
    return *name != 0;
}

static void draw_back_title(page *p) {
    char text[160];
    bfi_pen word = bfi_pen_open(text, sizeof text);
    bfi_put(&word, p->view->venue.text);
    if (p->view->is_invented && !says_invented(p->view->venue.text)) bfi_put(&word, " (invented)");
    double peg_w = 0;
    char peg[64];
    bfi_pen peg_word = bfi_pen_open(peg, sizeof peg);
    bfi_put(&peg_word, "peg ");
    bfi_put(&peg_word, p->view->peg.text);
    if (p->view->peg.text[0]) {
        peg_w = width_at(peg, PT14);
        if (peg_w > 0.45 * INNER_W) peg_w = 0.45 * INNER_W;
        put_at(p, "bf-14pt bf-key bf-end", PT14, X1, TITLE_Y, peg_w + 0.01, peg);
    } else {
        peg_w = width_at("peg ", PT14) + 14;
        bfi_svg_text(p->pen, "bf-14pt bf-key", X1 - peg_w, TITLE_Y, "peg");
        bfi_svg_line(p->pen, "bf-p2", X1 - 14, TITLE_Y + 0.6, X1, TITLE_Y + 0.6);
    }
    put_at(p, "bf-14pt bf-key", PT14, X0, TITLE_Y, INNER_W - peg_w - 3, text);
    rule(p, "bf-p4", RULE_Y);
}

static void draw_foot(page *p) {
    const char *day = p->view->day.text;
    double left = day[0] ? width_at(day, PT14) : 30;
    if (left > 0.6 * INNER_W) left = 0.6 * INNER_W;
    if (day[0])
        put_at(p, "bf-14pt", PT14, X0, FOOT_Y, left + 0.01, day);
    else
        bfi_svg_line(p->pen, "bf-p2", X0, FOOT_Y + 0.6, X0 + left, FOOT_Y + 0.6);
    put_at(p, "bf-14pt bf-end", PT14, X1, FOOT_Y, INNER_W - left - 3, p->view->version.text);
    bfi_svg_text(p->pen, "bf-14pt bf-key", X0, FOOT_Y - ROW14, "Estimates, not measurements.");
    rule(p, "bf-p2", FOOT_Y - 2 * ROW14 + 0.8);
}

static void draw_back(page *p) {
    int n = n_tally(p->view);
    double low = GRID_Y + n * BOX_MM, end = FOOT_Y - 2 * ROW14 + 0.8;
    int room = (int)((end - 0.8 - low) / ROW14);
    const char *minded[MOST_MINDED];
    limit_rows limits;
    draw_back_title(p);
    draw_tally(p, n);
    int n_minded = list_minded(p->view, minded, room < MOST_MINDED ? room : MOST_MINDED, &limits);
    for (int k = 0; k < n_minded; k++)
        put_at(p, "bf-14pt bf-key", PT14, X0, low + 5.2 + ROW14 * k, INNER_W, minded[k]);
    draw_foot(p);
}

/* ---- what it says ---- */

static void tell_row(bf_picture *picture, const char *heading, const char *text) {
    if (!text[0] || picture->n_rows == BF_PICTURE_MOST_ROWS) return;
    bfi_pen pen = bfi_row_open(picture, heading);
    bfi_put(&pen, text);
}

static void tell(const bf_card_view *view, bf_picture *picture) {
    const bf_card_spot *spot = &view->spot[0];
    bfi_pen pen = bfi_pen_open(picture->finding, sizeof picture->finding);
    bfi_put(&pen, "Card");
    bfi_put(&pen, view->peg.text[0] ? " for peg " : "");
    bfi_put(&pen, view->peg.text);
    bfi_put(&pen, spot->name.text[0] ? ", " : "");
    bfi_put(&pen, spot->name.text);
    bfi_put(&pen, ": ");
    bfi_put_number(&pen, spot->depth_m, 2);
    bfi_put(&pen, " m deep, float ");
    bfi_put(&pen, spot->rig.float_name.text);
    bfi_put(&pen, spot->wait.text[0] ? "; after the put-in wait " : "");
    bfi_put(&pen, spot->wait.text);
    bfi_put(&pen, spot->wait.text[0] ? ", then lower." : ".");
    tell_row(picture, "Pieces of a put-in", spot->pieces.text);
    tell_row(picture, "Feed down", spot->feed_down.text);
    tell_row(picture, "Wait, then lower", spot->wait.text);
    tell_row(picture, "Rig down", spot->rig_down.text);
    for (int k = 0; k < view->n_feeds && picture->n_rows < BF_PICTURE_MOST_ROWS; k++) {
        const bf_card_feed *feed = &view->feed[k];
        char when[80];
        bfi_pen word = bfi_pen_open(when, sizeof when);
        put_clock(&word, view, feed->from_s);
        if (!is_once(feed)) {
            bfi_put(&word, ", every ");
            bfi_put_span(&word, feed->every_s);
        }
        pen = bfi_row_open(picture, when);
        put_dose(&pen, feed, 1);
    }
}

/* ---- the pages ---- */

static bf_status draw_card(const bf_card_view *view, const char *id, const char *title, double width,
                           int has_front, int has_back, char *svg, size_t most, bf_picture *picture) {
    memset(picture, 0, sizeof *picture);
    bfi_pen pen = bfi_pen_open(svg, most);
    bf_status status = check_view(view);
    if (status) return status;
    tell(view, picture);
    bfi_svg_open_scaled(&pen, id, width, PAGE_H, 1, BFI_LOOK_PRINT, title, picture->finding);
    page p = {view, &pen};
    if (has_front) draw_front(&p);
    if (has_front && has_back) {
        bfi_svg_line(&pen, "bf-p2 bf-dash", PAGE_W, 2, PAGE_W, PAGE_H - 2);
        pen.x0 = PAGE_W;
    }
    if (has_back) draw_back(&p);
    bfi_svg_close(&pen);
    return bfi_picture_end(&pen, picture);
}

bf_status bf_picture_card_a6_front(const bf_card_view *view, char *svg, size_t most, bf_picture *picture) {
    return draw_card(view, "card-front", "Card, front: rig and feed", PAGE_W, 1, 0, svg, most, picture);
}

bf_status bf_picture_card_a6_back(const bf_card_view *view, char *svg, size_t most, bf_picture *picture) {
    return draw_card(view, "card-back", "Card, back: tally and cautions", PAGE_W, 0, 1, svg, most, picture);
}

bf_status bf_picture_card_a5(const bf_card_view *view, char *svg, size_t most, bf_picture *picture) {
    return draw_card(view, "card", "Card: rig and feed, tally and cautions", 2 * PAGE_W, 1, 1, svg, most,
                     picture);
}
