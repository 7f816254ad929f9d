/* card_back.c -- the back of the card: the tally, limits and cautions. Its places: card.c. */
#include <math.h>
#include <string.h>

#include "core/picture/card.h"
#include "core/picture/chart.h"

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

static void draw_tally(bfi_card_page *p, int n) {
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
            bfi_card_put_clock(&word, p->view, 1800.0 * k);
        bfi_card_put(p, "bf-14pt bf-key", PT14, X0, GRID_Y + BOX_MM * (k + 0.5) + 1.8, GRID_X - X0 - 0.6,
                     text);
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
    if (strlen(was) + strlen(limit) + 3 > sizeof joined || bfi_card_width(joined, PT14) > INNER_W) return 0;
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

static void draw_back_title(bfi_card_page *p) {
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
        peg_w = bfi_card_width(peg, PT14);
        if (peg_w > 0.45 * INNER_W) peg_w = 0.45 * INNER_W;
        bfi_card_put(p, "bf-14pt bf-key bf-end", PT14, X1, TITLE_Y, peg_w + 0.01, peg);
    } else {
        peg_w = bfi_card_width("peg ", PT14) + 14;
        bfi_svg_text(p->pen, "bf-14pt bf-key", X1 - peg_w, TITLE_Y, "peg");
        bfi_svg_line(p->pen, "bf-p2", X1 - 14, TITLE_Y + 0.6, X1, TITLE_Y + 0.6);
    }
    bfi_card_put(p, "bf-14pt bf-key", PT14, X0, TITLE_Y, INNER_W - peg_w - 3, text);
    bfi_card_rule(p, "bf-p4", RULE_Y);
}

static void draw_foot(bfi_card_page *p) {
    const char *day = p->view->day.text;
    double left = day[0] ? bfi_card_width(day, PT14) : 30;
    if (left > 0.6 * INNER_W) left = 0.6 * INNER_W;
    if (day[0])
        bfi_card_put(p, "bf-14pt", PT14, X0, FOOT_Y, left + 0.01, day);
    else
        bfi_svg_line(p->pen, "bf-p2", X0, FOOT_Y + 0.6, X0 + left, FOOT_Y + 0.6);
    bfi_card_put(p, "bf-14pt bf-end", PT14, X1, FOOT_Y, INNER_W - left - 3, p->view->version.text);
    bfi_svg_text(p->pen, "bf-14pt bf-key", X0, FOOT_Y - ROW14, "Estimates, not measurements.");
    bfi_card_rule(p, "bf-p2", FOOT_Y - 2 * ROW14 + 0.8);
}

void bfi_card_back(bfi_card_page *p) {
    int n = n_tally(p->view);
    double low = GRID_Y + n * BOX_MM, end = FOOT_Y - 2 * ROW14 + 0.8;
    int room = (int)((end - 0.8 - low) / ROW14);
    const char *minded[MOST_MINDED];
    limit_rows limits;
    draw_back_title(p);
    draw_tally(p, n);
    int n_minded = list_minded(p->view, minded, room < MOST_MINDED ? room : MOST_MINDED, &limits);
    for (int k = 0; k < n_minded; k++)
        bfi_card_put(p, "bf-14pt bf-key", PT14, X0, low + 5.2 + ROW14 * k, INNER_W, minded[k]);
    draw_foot(p);
}
