#include "core/picture/shotting.h"

#include <math.h>
#include <string.h>

#include "core/picture/drawn_rig.h"
#include "core/picture/place.h"
#include "core/picture/swim.h"
#include "core/picture/words.h"

/* ---- what is said, from the tip down ---- */

typedef enum item_kind { TIP, BACK_HEAD, BACK, FLOAT, HEAD, ROW, MORE, KNOT, HOOK } item_kind;

typedef struct distance {
    char before[16], metric[16], inches[24];
} distance;

#define MOST_DISTANCES 2
typedef struct item {
    item_kind kind;
    char name[96], under[BF_LABEL_BYTES + 1]; /* a second row of words; "": none */
    int n_distances;
    distance distance[MOST_DISTANCES];
    int count; /* of shot */
} item;

#define MOST_ITEMS (BF_RIG_SHOTS + BF_RIG_BACK_SHOTS + 7)
typedef struct item_list {
    item at[MOST_ITEMS];
    int n;
} item_list;

static item *add_item(item_list *list, item_kind kind, const char *name) {
    BF_ASSERT(list->n < MOST_ITEMS);
    item *added = &list->at[list->n++];
    *added = (item){.kind = kind};
    bfi_pen pen = bfi_pen_open(added->name, sizeof added->name);
    bfi_put(&pen, name);
    return added;
}

static void add_distance(item *to, const char *before, double m) {
    distance *added = &to->distance[to->n_distances++];
    bfi_pen pen = bfi_pen_open(added->before, sizeof added->before);
    bfi_put(&pen, before);
    pen = bfi_pen_open(added->metric, sizeof added->metric);
    bfi_put_rig_length(&pen, m);
    pen = bfi_pen_open(added->inches, sizeof added->inches);
    bfi_put_inches(&pen, m);
}

static void add_row(item_list *list, item_kind kind, const bf_drawn_shot *row) {
    item *added = add_item(list, kind, "");
    bfi_pen pen = bfi_pen_open(added->name, sizeof added->name);
    bfi_put_row(&pen, row);
    added->count = row->count;
    add_distance(added, "", row->at_m);
    if (row->count > 1 && row->apart_m > 0) add_distance(added, "gap", row->apart_m);
}

static void put_number_of(bfi_pen *pen, const char *label) {
    bfi_put_bytes(pen, label, strcspn(label, " "));
}

/* "hook 18 to 0.12": as it is said on the bank, the hook to its line; below it the bait. */
static void add_hook(item_list *list, const bf_drawn_rig *rig) {
    item *hook = add_item(list, HOOK, "");
    memcpy(hook->under, rig->hook_bait.text, sizeof hook->under);
    bfi_pen pen = bfi_pen_open(hook->name, sizeof hook->name);
    const char *line = rig->hooklength_m > 0 ? rig->hooklength.text : rig->line.text;
    bfi_put(&pen, "hook");
    bfi_put(&pen, rig->hook.text[0] ? " " : "");
    put_number_of(&pen, rig->hook.text);
    if (!line[0]) return;
    bfi_put(&pen, " to ");
    put_number_of(&pen, line);
}

static void list_back_shots(item_list *list, const bf_drawn_rig *rig) {
    bf_drawn_shot row[BF_RIG_BACK_SHOTS];
    int n = bfi_rows_downward(rig->back_shot, rig->n_back_shots, row);
    if (n > 0) add_item(list, BACK_HEAD, "up from float:");
    for (int k = 0; k < n; k++) add_row(list, BACK, &row[k]);
}

static void list_shots(item_list *list, const bf_drawn_rig *rig) {
    bf_drawn_shot row[BF_RIG_SHOTS];
    int n = bfi_rows_downward(rig->shot, rig->n_shots, row), has_knot = rig->hooklength_m > 0;
    if (n > 0 || has_knot) add_item(list, HEAD, "up from hook:");
    for (int k = 0; k <= n; k++) {
        if (has_knot && (k == n || row[k].at_m < rig->hooklength_m)) {
            add_distance(add_item(list, KNOT, "hooklength"), "", rig->hooklength_m);
            has_knot = 0;
        }
        if (k < n) add_row(list, ROW, &row[k]);
    }
}

static void list_items(item_list *list, const bf_drawn_rig *rig) {
    list->n = 0;
    add_distance(add_item(list, TIP, "tip to float"), "", rig->tip_to_float_m);
    list_back_shots(list, rig);
    item *pole_float = add_item(list, FLOAT, "");
    bfi_pen pen = bfi_pen_open(pole_float->name, sizeof pole_float->name);
    bfi_put(&pen, "float ");
    bfi_put(&pen, rig->float_name.text);
    add_distance(pole_float, "to hook", rig->float_to_hook_m);
    list_shots(list, rig);
    add_hook(list, rig);
}

/* ---- rows of words ---- */

typedef struct word_row {
    char left[96], metric[24], inches[24]; /* stacked: all of it is left */
} word_row;

#define MOST_WORD_ROWS 5

static double width_mm(const bfi_rig_style *style, const char *text) {
    return bfi_word_width(text) * style->letter_mm / BFI_LETTER_MM;
}

static int stack_rows(const item *from, const bfi_rig_style *style, word_row *rows) {
    int n = 0;
    memcpy(rows[n++].left, from->name, sizeof from->name);
    if (from->under[0]) memcpy(rows[n++].left, from->under, sizeof from->under);
    for (int k = 0; k < from->n_distances; k++) {
        const distance *told = &from->distance[k];
        char *one = rows[n].left;
        bfi_pen pen = bfi_pen_open(one, sizeof rows[n].left);
        bfi_put(&pen, told->before);
        bfi_put(&pen, told->before[0] ? " " : "");
        bfi_put(&pen, told->metric);
        size_t n_metric = pen.n;
        bfi_put(&pen, " ");
        bfi_put(&pen, told->inches);
        n += 1;
        if (width_mm(style, one) <= style->width - style->text_x) continue;
        one[n_metric] = 0;
        pen = bfi_pen_open(rows[n].left, sizeof rows[n].left);
        bfi_put(&pen, told->inches);
        n += 1;
    }
    return n;
}

/* In columns: where the centimetres end, left of inches that need more than their own column. */
#define METRIC_PART 0.654
#define COLUMN_GAP_MM 1.2

static double metric_x(const bfi_rig_style *style, const word_row *row) {
    double column = style->text_x + METRIC_PART * (style->width - style->text_x);
    double before_inches = style->width - width_mm(style, row->inches) - COLUMN_GAP_MM;
    return column < before_inches ? column : before_inches;
}

static double left_room_mm(const bfi_rig_style *style, const word_row *row) {
    if (!row->metric[0]) return style->width - style->text_x;
    return metric_x(style, row) - width_mm(style, row->metric) - COLUMN_GAP_MM - style->text_x;
}

static int column_rows(const item *from, const bfi_rig_style *style, word_row *rows) {
    int n = 0;
    memcpy(rows[n].left, from->name, sizeof from->name);
    for (int k = 0; k < from->n_distances; k++) {
        const distance *told = &from->distance[k];
        word_row row = {.left = ""};
        memcpy(row.metric, told->metric, sizeof told->metric);
        memcpy(row.inches, told->inches, sizeof told->inches);
        int is_beside_name = !told->before[0] && width_mm(style, rows[n].left) <= left_room_mm(style, &row);
        memcpy(row.left, is_beside_name ? rows[n].left : told->before,
               is_beside_name ? sizeof row.left : sizeof told->before);
        if (!is_beside_name) n += 1;
        rows[n] = row;
    }
    if (from->under[0]) memcpy(rows[++n].left, from->under, sizeof from->under);
    return n + 1;
}

static int rows_of(const item *from, const bfi_rig_style *style, word_row *rows) {
    memset(rows, 0, MOST_WORD_ROWS * sizeof rows[0]);
    return style->is_stacked ? stack_rows(from, style, rows) : column_rows(from, style, rows);
}

/* Shot of a row on the line: their size, how far apart they are drawn, and how many of them are at least not crowded where
 * there is room to grow. */
#define SHOT_MM 0.9
#define SHOT_STEP_MM 1.75
#define MOST_CLEAR_SHOT 8

static double item_mm(const item *from, const bfi_rig_style *style) {
    word_row rows[MOST_WORD_ROWS];
    double height = style->row_mm * rows_of(from, style, rows);
    int n_clear = from->count < MOST_CLEAR_SHOT ? from->count : MOST_CLEAR_SHOT;
    double clear = style->is_stacked || n_clear < 2 ? 0 : (n_clear - 1) * SHOT_STEP_MM + 3.5;
    return height > clear ? height : clear;
}

static double list_mm(const item_list *list, const bfi_rig_style *style) {
    double height = 0;
    for (int k = 0; k < list->n; k++) height += item_mm(&list->at[k], style);
    return height;
}

double bfi_rig_mm(const bf_drawn_rig *rig, const bfi_rig_style *style) {
    item_list list;
    list_items(&list, rig);
    return list_mm(&list, style);
}

/* ---- what gives way ---- */

static void remove_item(item_list *list, int k) {
    memmove(&list->at[k], &list->at[k + 1], (size_t)(list->n - k - 1) * sizeof list->at[0]);
    list->n -= 1;
}

static int find_last(const item_list *list, item_kind kind) {
    for (int k = list->n - 1; k >= 0; k--)
        if (list->at[k].kind == kind) return k;
    return -1;
}

static int count_of(const item_list *list, item_kind kind) {
    int n = 0;
    for (int k = 0; k < list->n; k++) n += list->at[k].kind == kind;
    return n;
}

/* The row with the fewest shot of all but the lowest; of those alike the lowest. -1: there is none. */
static int fewest(const item_list *list) {
    int last = find_last(list, ROW), k_least = -1;
    for (int k = 0; k < last; k++)
        if (list->at[k].kind == ROW && (k_least < 0 || list->at[k].count <= list->at[k_least].count))
            k_least = k;
    return k_least;
}

/* The one that is missed least: back shots but one, then small rows of shot until two are left, then the back shots, then the
 * other shot, the lowest last. */
static int least_needed(const item_list *list) {
    int n_back = count_of(list, BACK), k = fewest(list);
    if (n_back > 1 || (n_back > 0 && count_of(list, ROW) <= 2)) return find_last(list, BACK);
    return k >= 0 ? k : find_last(list, ROW);
}

static void say_more(item_list *list, int n_out) {
    int at = find_last(list, MORE);
    if (at < 0) {
        /* Above the lowest row of shot: where they were. */
        at = find_last(list, ROW);
        if (at < 0) at = find_last(list, HOOK);
        add_item(list, MORE, "");
        item more = list->at[list->n - 1];
        memmove(&list->at[at + 1], &list->at[at], (size_t)(list->n - 1 - at) * sizeof list->at[0]);
        list->at[at] = more;
    }
    bfi_pen pen = bfi_pen_open(list->at[at].name, sizeof list->at[at].name);
    bfi_put_number(&pen, n_out, 0);
    bfi_put(&pen, " more in plan");
}

/* Leaves out items until the rest is no higher than height_mm. Returns how many rows of shot went. */
static int leave_out(item_list *list, const bfi_rig_style *style, double height_mm) {
    int n_out = 0;
    /* What back shots are told from, then what the others are, is seen without a heading; the bait stands with the feed. */
    static const item_kind headings[] = {BACK_HEAD, HEAD};
    for (int k = 0; k < 2; k++) {
        int at = find_last(list, headings[k]);
        if (at >= 0 && list_mm(list, style) > height_mm) remove_item(list, at);
    }
    if (list_mm(list, style) > height_mm) list->at[find_last(list, HOOK)].under[0] = 0;
    while (list_mm(list, style) > height_mm) {
        int k = least_needed(list);
        if (k < 0) break;
        remove_item(list, k);
        n_out += 1;
        say_more(list, n_out);
    }
    return n_out;
}

/* ---- marks on the line ---- */

static void draw_shots(bfi_pen *pen, const bfi_rig_style *style, double y, double room_mm, int count) {
    double step = count > 1 ? room_mm / (count - 1) : 0;
    if (step > SHOT_STEP_MM) step = SHOT_STEP_MM;
    for (int k = 0; k < count; k++)
        bfi_svg_circle(pen, style->shot_class, style->line_x, y + k * step, SHOT_MM);
}

static void draw_float(bfi_pen *pen, double x, double y) {
    static const double half_mm[] = {0, 1.1, 1.5, 1.6, 1.5, 1.25, 0.95, 0.6, 0.3, 0};
    const int n = sizeof half_mm / sizeof half_mm[0];
    const double long_mm = 7.4;
    bfi_svg_line(pen, "bf-p2", x - 4, y, x + 4, y);
    bfi_svg_line(pen, "bf-p4", x, y - 2.6, x, y + 0.8);
    bfi_svg_path_begin(pen, "bf-p2");
    for (int k = 0; k < 2 * n - 1; k++) {
        int at = k < n ? k : 2 * (n - 1) - k;
        double aside = k < n ? half_mm[at] : -half_mm[at];
        bfi_svg_point(pen, k ? 'L' : 'M', x + aside, y + 0.8 + long_mm * at / (n - 1));
    }
    bfi_svg_path_end(pen, 1);
}

static void draw_hook(bfi_pen *pen, double x, double y) {
    bfi_svg_path_begin(pen, "bf-p2");
    bfi_svg_point(pen, 'M', x, y - 1);
    bfi_svg_point(pen, 'L', x - 0.2, y + 1);
    bfi_svg_point(pen, 'L', x + 0.6, y + 2);
    bfi_svg_point(pen, 'L', x + 1.7, y + 1.9);
    bfi_svg_point(pen, 'L', x + 2, y + 0.9);
    bfi_svg_path_end(pen, 0);
    bfi_svg_circle(pen, "bf-p2", x + 2.2, y - 0.6, 1.3);
}

/* The float's body takes the place of the line. */
#define FLOAT_FOOT_MM 8.2

static void draw_mark(bfi_pen *pen, const item *from, const bfi_rig_style *style, double y, double height) {
    double x = style->line_x;
    switch (from->kind) {
    case TIP: bfi_svg_line(pen, "bf-p4", x - 4, y, x + 0.6, y); break;
    case FLOAT: draw_float(pen, x, y); break;
    case KNOT: bfi_svg_line(pen, "bf-p3", x - 1.6, y, x + 1.6, y); break;
    case HOOK: draw_hook(pen, x, y); break;
    case BACK:
    case ROW: draw_shots(pen, style, y, height - 3 * SHOT_MM, from->count); break;
    default: break;
    }
}

static void draw_words(bfi_pen *pen, const item *from, const bfi_rig_style *style, double y) {
    word_row rows[MOST_WORD_ROWS];
    int n = rows_of(from, style, rows);
    for (int k = 0; k < n; k++, y += style->row_mm) {
        char fitted[128];
        bfi_pen word = bfi_pen_open(fitted, sizeof fitted);
        bfi_put_fitted_at(&word, rows[k].left, style->letter_mm, left_room_mm(style, &rows[k]));
        if (fitted[0]) bfi_svg_text(pen, style->text_class, style->text_x, y, fitted);
        if (!rows[k].metric[0]) continue;
        bfi_svg_text(pen, style->far_class, metric_x(style, &rows[k]), y, rows[k].metric);
        bfi_svg_text(pen, style->far_class, style->width, y, rows[k].inches);
    }
}

int bfi_draw_shotting(bfi_pen *pen, const bf_drawn_rig *rig, const bfi_rig_style *style, double top,
                      double height_mm) {
    item_list list;
    list_items(&list, rig);
    int n_out = leave_out(&list, style, height_mm);
    double spare = height_mm - list_mm(&list, style), gap = list.n > 1 ? spare / (list.n - 1) : 0;
    if (gap > 3.5) gap = 3.5;
    double y = top + 0.5 * (spare - gap * (list.n - 1)), x = style->line_x;
    double line_from = y + 0.5 * style->row_mm;
    for (int k = 0; k < list.n; k++) {
        double height = item_mm(&list.at[k], style), level = y + 0.5 * style->row_mm;
        if (list.at[k].kind == FLOAT) {
            bfi_svg_line(pen, "bf-p2", x, line_from, x, level - 2.6);
            line_from = level + FLOAT_FOOT_MM;
        }
        if (list.at[k].kind == HOOK) bfi_svg_line(pen, "bf-p2", x, line_from, x, level - 1);
        draw_mark(pen, &list.at[k], style, level, height);
        draw_words(pen, &list.at[k], style, level + 0.36 * style->letter_mm);
        y += height + gap;
    }
    return n_out;
}

/* ---- the picture ---- */

#define MARGIN_MM 2.0

static void tell(const bf_drawn_rig *rig, bf_picture *picture) {
    item_list list;
    list_items(&list, rig);
    bfi_pen pen = bfi_pen_open(picture->finding, sizeof picture->finding);
    bf_drawn_shot row[BF_RIG_SHOTS];
    int n = bfi_rows_downward(rig->shot, rig->n_shots, row);
    bfi_put(&pen, "Float ");
    bfi_put(&pen, rig->float_name.text);
    bfi_put(&pen, ", ");
    bfi_put_rig_length(&pen, rig->float_to_hook_m);
    bfi_put(&pen, " to the hook; above the hook ");
    bfi_put_rows(&pen, row, n, 160);
    bfi_put(&pen, ".");
    for (int k = 0; k < list.n; k++) {
        const item *from = &list.at[k];
        if (from->n_distances == 0 && from->kind != HOOK) continue; /* headings */
        if (picture->n_rows == BF_PICTURE_MOST_ROWS) return;
        pen = bfi_row_open(picture, from->name);
        for (int d = 0; d < from->n_distances; d++) {
            const distance *told = &from->distance[d];
            bfi_put(&pen, d ? ", " : "");
            bfi_put(&pen, told->before);
            bfi_put(&pen, told->before[0] ? " " : "");
            bfi_put(&pen, told->metric);
            bfi_put(&pen, ", ");
            bfi_put(&pen, told->inches);
        }
        if (from->kind == HOOK) bfi_put(&pen, rig->hook_bait.text);
    }
}

bf_status bf_picture_shotting(const bf_shotting_view *view, char *svg, size_t most, bf_picture *picture) {
    static const bfi_rig_style style = {.line_x = 5.5,
                                        .text_x = 11,
                                        .width = 78.6,
                                        .letter_mm = BFI_LETTER_MM,
                                        .row_mm = 6.2,
                                        .text_class = "bf-label",
                                        .far_class = "bf-end",
                                        .shot_class = "bf-ink"};
    memset(picture, 0, sizeof *picture);
    bfi_pen pen = bfi_pen_open(svg, most);
    bf_status status = bfi_drawn_rig_check(&view->rig);
    if (!status && (view->look < BF_LOOK_OPEN || view->look > BF_LOOK_DUSK)) status = BF_E_RANGE;
    if (status) return status;
    tell(&view->rig, picture);
    double height = bfi_rig_mm(&view->rig, &style);
    bfi_svg_open(&pen, "shotting", BFI_SIDE_WIDTH_MM, height + 2 * MARGIN_MM + BFI_SIDE_ROW_MM + 1.6,
                 view->look, "The rig, with every distance", picture->finding);
    bfi_draw_shotting(&pen, &view->rig, &style, MARGIN_MM, height);
    bfi_draw_caption(&pen, height + MARGIN_MM - 1.6, 0, "bf-label", "not drawn to scale");
    bfi_svg_close(&pen);
    return bfi_picture_end(&pen, picture);
}
