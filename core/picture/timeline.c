/* What happened when. Lanes from top to bottom, their marks over one clock:
 *
 *     feed     stalks with a disc, as long as the put-in was large; a row of words over them
 *     rig in   bars
 *     fish, lost, touch, missed, foul, nothing   a row of shapes each, if there are any
 *     weights  stalks, if any fish was weighed or guessed
 *     water, notes;  advice   numbers, with their words under the clock
 *
 * On a narrow sheet the lane's words stand over its marks, on a wide one to the left of them. */
#include "core/picture/timeline.h"

#include <math.h>
#include <string.h>

#include "core/picture/words.h"

#define EDGE_X 2.5
/* Room to the right of the last mark, for numbers centred on it. */
#define RIGHT_MM 5.5
#define WIDE_MARKS_X 37.0
#define WIDE_TITLES_X1 34.5
#define TITLE_MM 5.0
#define WORDS_MM 4.8
#define STALK_MM 7.5
#define LANE_GAP_MM 0.6
#define BAR_MM 2.4
/* Shapes: from the middle to the edge, and from one to the next when they stand on each other. */
#define MARK_R 1.05
#define MARK_PITCH 2.2
#define MOST_STACKED 3
#define NUMBER_GAP_MM 1.2
#define AXIS_MM 8.0
#define NOTE_MM 5.4
/* Every group takes at least a mark's width of the widest sheet. */
#define MOST_GROUPS 160
#define MOST_LANES 12

typedef enum lane_kind { FEED, WAITS, BITES, WEIGHTS, NOTES, ADVICE } lane_kind;

typedef struct track {
    lane_kind kind;
    int outcome; /* of BITES */
    int is_numbered;
    double top, base;
    char title[96];
    double title_x, title_y, title_right; /* right: 0 when the title is not over the marks */
    double words_y;                       /* of FEED and WEIGHTS: the row over the stalks  */
} track;

typedef struct board {
    const bf_timeline_view *view;
    bfi_pen *pen;
    int is_wide;
    bfi_clock clock;
    int n_lanes;
    track lane[MOST_LANES];
    double marks_base; /* under the last lane        */
    int n_notes;       /* and advices, to be listed  */
} board;

/* ---- marks of a lane, one after the other ---- */

/* One mark, or the marks that stand in one place. */
typedef struct group {
    double x0, x1;      /* of its times                                                  */
    double left, right; /* of all that is drawn for it                                  */
    int n;
    int is_band;      /* holds a stretch that was entered as counts                    */
    int first;        /* number of the first, from 1                                   */
    double amount;    /* put-ins: together; fish: the heaviest; NaN: not known         */
    const char *name; /* of a put-in                                                   */
} group;

/* Where we are in the view's arrays. */
typedef struct reader {
    const board *b;
    const track *lane;
    int is_crossed;
    int at, at_tally, n;
} reader;

static double mark_x(const board *b, double at_ms) {
    return bfi_clock_x(&b->clock, at_ms);
}

static int next_feed(reader *r, group *mark) {
    const bf_timeline_view *view = r->b->view;
    while (r->at < view->n_feeds) {
        const bf_timeline_feed *feed = &view->feed[r->at++];
        if (!feed->is_crossed != !r->is_crossed || !bfi_timeline_shows(view, feed->at_ms, feed->at_ms))
            continue;
        double x = mark_x(r->b, feed->at_ms);
        *mark = (group){.x0 = x, .x1 = x, .n = 1, .amount = feed->amount, .name = feed->name.text};
        return 1;
    }
    return 0;
}

static int next_weight(reader *r, group *mark) {
    const bf_timeline_view *view = r->b->view;
    while (r->at < view->n_bites) {
        const bf_timeline_bite *bite = &view->bite[r->at++];
        if (bite->outcome != BF_LANDED || !(bite->mass_kg > 0) || !bite->is_crossed != !r->is_crossed ||
            !bfi_timeline_shows(view, bite->at_ms, bite->at_ms))
            continue;
        double x = mark_x(r->b, bite->at_ms);
        *mark = (group){.x0 = x, .x1 = x, .n = 1, .amount = bite->mass_kg, .name = ""};
        return 1;
    }
    return 0;
}

static int next_note(reader *r, group *mark) {
    const bf_timeline_view *view = r->b->view;
    int is_note = r->lane->kind == NOTES, n = is_note ? view->n_notes : view->n_advice;
    const bf_timeline_note *notes = is_note ? view->note : view->advice;
    while (r->at < n) {
        const bf_timeline_note *note = &notes[r->at++];
        if (!note->is_crossed != !r->is_crossed || !bfi_timeline_shows(view, note->at_ms, note->at_ms))
            continue;
        double x = mark_x(r->b, note->at_ms);
        *mark = (group){.x0 = x, .x1 = x, .n = 1, .first = ++r->n, .name = ""};
        return 1;
    }
    return 0;
}

/* Bites and tallies of one outcome, in order of their starts. */
static int next_bite(reader *r, group *mark) {
    const bf_timeline_view *view = r->b->view;
    int outcome = r->lane->outcome;
    const bf_timeline_bite *bite = NULL;
    for (; r->at < view->n_bites && !bite; r->at++) {
        const bf_timeline_bite *here = &view->bite[r->at];
        if (here->outcome == outcome && !here->is_crossed == !r->is_crossed &&
            bfi_timeline_shows(view, here->at_ms, here->at_ms))
            bite = here;
    }
    const bf_timeline_tally *tally = NULL;
    for (; r->at_tally < view->n_tallies && !tally; r->at_tally++) {
        const bf_timeline_tally *here = &view->tally[r->at_tally];
        if (here->n[outcome] > 0 && !here->is_crossed == !r->is_crossed &&
            bfi_timeline_shows(view, here->from_ms, here->to_ms))
            tally = here;
    }
    if (!bite && !tally) return 0;
    /* The later of the two is left for the next time. */
    int takes_tally = tally && (!bite || tally->from_ms <= bite->at_ms);
    if (bite && takes_tally) r->at -= 1;
    if (tally && !takes_tally) r->at_tally -= 1;
    double from = takes_tally ? tally->from_ms : bite->at_ms, to = takes_tally ? tally->to_ms : bite->at_ms;
    *mark = (group){.x0 = mark_x(r->b, from),
                    .x1 = mark_x(r->b, to),
                    .n = takes_tally ? tally->n[outcome] : 1,
                    .is_band = takes_tally,
                    .name = ""};
    return 1;
}

static int next_mark(reader *r, group *mark) {
    switch (r->lane->kind) {
    case FEED: return next_feed(r, mark);
    case WEIGHTS: return next_weight(r, mark);
    case BITES: return next_bite(r, mark);
    case NOTES:
    case ADVICE: return next_note(r, mark);
    case WAITS: break;
    }
    return 0;
}

/* ---- groups ---- */

static int is_stalk(const track *lane) {
    return lane->kind == FEED || lane->kind == WEIGHTS;
}

static void put_group(bfi_pen *pen, const track *lane, const group *g) {
    int is_note = lane->kind == NOTES || lane->kind == ADVICE;
    if (!is_note) {
        bfi_put_number(pen, g->n, 0);
        return;
    }
    if (lane->kind == ADVICE) bfi_put(pen, "A");
    bfi_put_number(pen, g->first, 0);
    if (g->n > 1) {
        bfi_put(pen, "-");
        bfi_put_number(pen, g->first + g->n - 1, 0);
    }
}

static int has_number(const track *lane, const group *g) {
    if (lane->kind == NOTES || lane->kind == ADVICE) return 1;
    return g->is_band || (lane->is_numbered && g->n > 1);
}

/* How far the drawing of a group reaches: its marks, or its number around or beside them, within the sheet. */
static void measure(const board *b, const track *lane, group *g) {
    g->left = g->is_band ? g->x0 : g->x0 - MARK_R;
    g->right = g->is_band ? g->x1 : g->x0 + MARK_R;
    if (!has_number(lane, g)) return;
    char text[24];
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    put_group(&pen, lane, g);
    double width = bfi_word_width(text) + 0.4, middle = 0.5 * (g->left + g->right);
    if (width > g->right - g->left) {
        g->left = bfi_clamp(middle - 0.5 * width, b->is_wide ? WIDE_TITLES_X1 : BFI_RIM_MM,
                            b->view->width_mm - BFI_RIM_MM - width);
        g->right = g->left + width;
    }
}

static int touch(const track *lane, const group *a, const group *b) {
    double gap = has_number(lane, a) && has_number(lane, b) ? NUMBER_GAP_MM : 0.15;
    return a->left < b->right + gap && b->left < a->right + gap;
}

/* `a` takes in `b`, which is not earlier. */
static void join(const track *lane, group *a, const group *b) {
    if (lane->kind == FEED) {
        /* Names that differ are not said; amounts add up, and one that is not known adds nothing. */
        if (strcmp(a->name, b->name) != 0) a->name = "";
        a->amount = !(a->amount >= 0) ? b->amount : b->amount > 0 ? a->amount + b->amount : a->amount;
    } else if (b->amount > a->amount) {
        a->amount = b->amount;
    }
    a->n += b->n;
    a->is_band |= b->is_band;
    if (b->x1 > a->x1) a->x1 = b->x1;
}

static int make_groups(const board *b, const track *lane, int is_crossed, group *groups) {
    reader r = {.b = b, .lane = lane, .is_crossed = is_crossed};
    int n = 0;
    for (group mark; next_mark(&r, &mark);) {
        measure(b, lane, &mark);
        while (n > 0 && touch(lane, &groups[n - 1], &mark)) {
            join(lane, &groups[n - 1], &mark);
            mark = groups[--n];
            measure(b, lane, &mark);
        }
        BF_ASSERT(n < MOST_GROUPS);
        groups[n++] = mark;
    }
    return n;
}

/* ---- lanes ---- */

static double stack_mm(int n) {
    return 2 * MARK_R + (n - 1) * MARK_PITCH + 0.7;
}

/* How high a row of bites is; decides whether its groups carry numbers. */
static double row_mm(const board *b, track *row) {
    group groups[MOST_GROUPS];
    int n = make_groups(b, row, 0, groups), tallest = 1, has_band = 0;
    for (int k = 0; k < n; k++) {
        has_band |= groups[k].is_band;
        if (!groups[k].is_band && groups[k].n > tallest) tallest = groups[k].n;
    }
    row->is_numbered = tallest > MOST_STACKED;
    double height = row->is_numbered ? stack_mm(1) + WORDS_MM - 0.4 : stack_mm(tallest);
    return has_band && height < 5.2 ? 5.2 : height;
}

static void put_amount(bfi_pen *pen, const board *b, double amount) {
    bfi_put_short(pen, amount);
    bfi_put(pen, b->view->feed_unit.text[0] ? " " : "");
    bfi_put(pen, b->view->feed_unit.text);
}

/* What it is and how many; on a narrow sheet, where few stalks have words, the largest too. */
static void put_title(bfi_pen *pen, const board *b, const track *lane, const bfi_census *count) {
    switch (lane->kind) {
    case FEED:
        bfi_put(pen, "Feed ");
        bfi_put_number(pen, count->feeds, 0);
        if (b->is_wide || !(count->feed_most > 0)) return;
        bfi_put(pen, ", to ");
        put_amount(pen, b, count->feed_most);
        return;
    case WAITS:
        bfi_put(pen, "Rig in ");
        bfi_put_number(pen, count->waits, 0);
        return;
    case BITES:
        bfi_put(pen, bfi_outcome_words[lane->outcome]);
        bfi_put(pen, " ");
        bfi_put_number(pen, count->bites[lane->outcome], 0);
        return;
    case WEIGHTS:
        bfi_put(pen, "Weights");
        if (b->is_wide) return;
        bfi_put(pen, ", to ");
        bfi_put_pounds(pen, count->heaviest_kg);
        return;
    case NOTES: bfi_put(pen, "Water, notes"); return;
    case ADVICE: bfi_put(pen, "Advice"); return;
    }
}

/* Whether a mark stands where a title would, or, over stalks, a number. */
static int is_in_the_way(const board *b, const track *lane) {
    if (lane->kind == WAITS) return 1;
    group groups[MOST_GROUPS];
    for (int is_crossed = 0; is_crossed < 2; is_crossed++) {
        int n = make_groups(b, lane, is_crossed, groups);
        for (int k = 0; k < n && groups[k].left < lane->title_right + 1; k++)
            if (!is_stalk(lane) || (!is_crossed && has_number(lane, &groups[k]))) return 1;
    }
    return 0;
}

/* On a narrow sheet a title stands over the marks only where they would meet. */
static double lane_mm(const board *b, track *lane) {
    double marks_mm = is_stalk(lane)        ? STALK_MM
                      : lane->kind == BITES ? row_mm(b, lane)
                      : lane->kind == WAITS ? BAR_MM + 0.5
                                            : WORDS_MM + 0.4;
    if (is_stalk(lane)) return marks_mm + WORDS_MM + (!b->is_wide && is_in_the_way(b, lane) ? TITLE_MM : 0);
    double least = TITLE_MM + 0.3;
    if (!b->is_wide && is_in_the_way(b, lane)) return marks_mm + TITLE_MM;
    return marks_mm > least ? marks_mm : least;
}

static void add_lane(board *b, double *y, const bfi_census *count, lane_kind kind, int outcome) {
    BF_ASSERT(b->n_lanes < MOST_LANES);
    track *added = &b->lane[b->n_lanes];
    *added = (track){.kind = kind, .outcome = outcome, .top = *y};
    added->is_numbered = is_stalk(added);
    b->n_lanes += 1;
    bfi_pen title = bfi_pen_open(added->title, sizeof added->title);
    put_title(&title, b, added, count);
    added->title_x = EDGE_X + (kind == BITES ? 4.2 : 0);
    double right = added->title_x + bfi_word_width(added->title);
    if (!b->is_wide) added->title_right = right;
    double height = lane_mm(b, added), least = is_stalk(added) ? STALK_MM + WORDS_MM + 1 : TITLE_MM + 1;
    added->base = *y + height;
    int is_above = !b->is_wide && (height > least || is_stalk(added));
    added->title_y = is_above || !(b->is_wide || height <= least) ? *y + 3.9 : added->base - 1.3;
    added->words_y = added->base - STALK_MM - 1;
    if (added->words_y > added->title_y + 1) added->title_right = 0;
    *y = added->base + LANE_GAP_MM;
}

static board lay_out(const bf_timeline_view *view, bfi_pen *pen) {
    bfi_census count = bfi_timeline_count(view);
    board b = {.view = view, .pen = pen, .is_wide = view->width_mm >= BFI_WIDE_MM};
    b.clock = (bfi_clock){view->from_ms, view->to_ms, view->east_min, b.is_wide ? WIDE_MARKS_X : EDGE_X,
                          view->width_mm - RIGHT_MM};
    double y = 1;
    if (view->n_feeds > 0) add_lane(&b, &y, &count, FEED, 0);
    if (view->n_waits > 0) add_lane(&b, &y, &count, WAITS, 0);
    for (int k = 0; k < BF_N_OUTCOMES; k++) {
        int outcome = bfi_outcome_order[k];
        if (outcome == BF_LANDED || count.has_row[outcome]) add_lane(&b, &y, &count, BITES, outcome);
    }
    if (count.heaviest_kg > 0) add_lane(&b, &y, &count, WEIGHTS, 0);
    if (count.notes > 0) add_lane(&b, &y, &count, NOTES, 0);
    if (count.advice > 0) add_lane(&b, &y, &count, ADVICE, 0);
    b.marks_base = y - LANE_GAP_MM;
    b.n_notes = count.notes + count.advice;
    return b;
}

/* ---- drawing ---- */

static void draw_title(const board *b, const track *lane) {
    if (lane->kind == BITES)
        bfi_draw_outcome(b->pen, lane->outcome, 0, EDGE_X + 1.3, lane->title_y - 1.45, 1.3);
    double room = (b->is_wide ? WIDE_TITLES_X1 : b->view->width_mm) - lane->title_x;
    bfi_svg_fitted(b->pen, "bf-clear", lane->title_x, lane->title_y, room, lane->title);
}

/* Short enough that the words over the stalks keep clear of each other and of the numbers to come. */
static int has_room(const group *groups, int n, const track *lane, int k, double right) {
    for (int later = k + 1; later < n && groups[later].left < right + NUMBER_GAP_MM; later++)
        if (has_number(lane, &groups[later])) return 0;
    return 1;
}

/* What a stalk is labelled with: "30 ml, hard four"; weights only "2 lb 4 oz". */
static void put_stalk(bfi_pen *pen, const board *b, const track *lane, const group *g) {
    if (lane->kind == WEIGHTS) {
        bfi_put_pounds(pen, g->amount);
        return;
    }
    if (g->amount >= 0) {
        put_amount(pen, b, g->amount);
    }
    if (g->amount >= 0 && g->name[0]) bfi_put(pen, ", ");
    bfi_put(pen, g->name);
}

/* Not known is the same as not known. */
static int says_same(const group *a, const group *b) {
    int is_same_amount = a->amount == b->amount || (!(a->amount >= 0) && !(b->amount >= 0));
    return is_same_amount && strcmp(a->name, b->name) == 0;
}

/* Words over stalks: numbers where several stand together, and amount and name where one of them changes. */
static void draw_stalk_words(const board *b, const track *lane, const group *groups, int n, double heaviest) {
    double taken = lane->title_right > 0 ? lane->title_right + 2 * NUMBER_GAP_MM : 0, y = lane->words_y;
    const group *said = NULL;
    for (int k = 0; k < n; k++) {
        const group *g = &groups[k];
        char text[96];
        bfi_pen pen = bfi_pen_open(text, sizeof text);
        if (has_number(lane, g)) {
            put_group(&pen, lane, g);
            bfi_svg_text(b->pen, "bf-mid bf-clear", 0.5 * (g->left + g->right), y, text);
            if (g->right + NUMBER_GAP_MM > taken) taken = g->right + NUMBER_GAP_MM;
            continue;
        }
        int is_news = lane->kind == WEIGHTS ? b->is_wide && g->amount == heaviest && !said
                                            : !said || !says_same(said, g);
        put_stalk(&pen, b, lane, g);
        double left = g->x0 - 0.8, right = left + bfi_word_width(text);
        if (lane->kind == WEIGHTS && !has_room(groups, n, lane, k, right)) {
            /* There is only one such word: to the left of its stalk, then. */
            left -= right - left - 1.6;
            right = g->x0 + 0.8;
        }
        if (!is_news || !text[0] || left < taken || right > b->view->width_mm ||
            !has_room(groups, n, lane, k, right))
            continue;
        bfi_svg_text(b->pen, "bf-clear", left, y, text);
        taken = right + 2 * NUMBER_GAP_MM;
        said = g;
    }
}

static void draw_stalks(const board *b, const track *lane, double most) {
    group groups[MOST_GROUPS];
    for (int is_crossed = 1; is_crossed >= 0; is_crossed--) {
        int n = make_groups(b, lane, is_crossed, groups);
        double largest = most;
        for (int k = 0; k < n; k++)
            if (groups[k].amount > largest) largest = groups[k].amount;
        int is_feed = lane->kind == FEED;
        for (int k = 0; k < n; k++) {
            const group *g = &groups[k];
            double share = g->amount > 0 && largest > 0 ? bfi_clamp(g->amount / largest, 0, 1) : 0;
            double y = lane->base - MARK_R - share * (STALK_MM - 2 * MARK_R - 0.4);
            if (!is_crossed && share > 0)
                bfi_svg_line(b->pen, is_feed ? "bf-stalk" : "bf-p2", g->x0, lane->base, g->x0, y);
            if (is_crossed)
                bfi_svg_circle(b->pen, "bf-p2 bf-off", g->x0, y, MARK_R - 0.25);
            else
                bfi_svg_circle(b->pen, is_feed ? "bf-feed" : "bf-ink", g->x0, y, MARK_R);
        }
        if (!is_crossed) draw_stalk_words(b, lane, groups, n, most);
    }
}

static void draw_band(const board *b, const track *lane, const group *g, int is_crossed) {
    double y = lane->base - 5;
    bfi_svg_rect(b->pen, is_crossed ? "bf-p1 bf-off" : "bf-tally", g->left, y, g->right - g->left, 4.7);
    if (is_crossed) return;
    char text[16];
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    put_group(&pen, lane, g);
    bfi_svg_text(b->pen, "bf-mid", 0.5 * (g->left + g->right), y + 3.8, text);
}

static void draw_bites(const board *b, const track *lane) {
    group groups[MOST_GROUPS];
    for (int is_crossed = 1; is_crossed >= 0; is_crossed--) {
        int n = make_groups(b, lane, is_crossed, groups);
        for (int k = 0; k < n; k++) {
            const group *g = &groups[k];
            if (g->is_band) {
                draw_band(b, lane, g, is_crossed);
                continue;
            }
            int is_stacked = !lane->is_numbered && !is_crossed;
            double y = lane->base - MARK_R - 0.4;
            for (int level = 0; level < (is_stacked ? g->n : 1); level++)
                bfi_draw_outcome(b->pen, lane->outcome, is_crossed, g->x0, y - level * MARK_PITCH, MARK_R);
            if (is_crossed || !has_number(lane, g)) continue;
            char text[16];
            bfi_pen pen = bfi_pen_open(text, sizeof text);
            put_group(&pen, lane, g);
            bfi_svg_text(b->pen, "bf-mid bf-clear", 0.5 * (g->left + g->right), y - MARK_R - 1, text);
        }
    }
}

/* ---- the rig in ---- */

/* A bar that ended by itself and whose start was logged is solid. One that is too short to show its ends is too. */
#define LEAST_ENDED_MM 0.9

static void draw_open_end(const board *b, double x0, double x1, double top, double bottom) {
    bfi_svg_path_begin(b->pen, "bf-p2");
    bfi_svg_point(b->pen, 'M', x1, top + 0.25);
    bfi_svg_point(b->pen, 'L', x0 + 0.25, top + 0.25);
    bfi_svg_point(b->pen, 'L', x0 + 0.25, bottom - 0.25);
    bfi_svg_point(b->pen, 'L', x1, bottom - 0.25);
    bfi_svg_path_end(b->pen, 0);
}

static void draw_bar(const board *b, double x0, double x1, int is_open, int is_start_reckoned, double base) {
    double top = base - BAR_MM - 0.4, bottom = base - 0.4, middle = 0.5 * (top + bottom);
    if (is_start_reckoned && x1 - x0 >= LEAST_ENDED_MM) {
        double start = x0 + bfi_clamp(0.4 * (x1 - x0), 0.6, 2.6);
        bfi_svg_line(b->pen, "bf-r3 bf-fine-dash", x0, middle, start, middle);
        x0 = start;
    }
    if (is_open && x1 - x0 >= 0.5)
        draw_open_end(b, x0, x1, top, bottom);
    else
        bfi_svg_rect(b->pen, "bf-ink", x0, top, x1 - x0, bottom - top);
}

static void draw_waits(const board *b, const track *lane) {
    const bf_timeline_view *view = b->view;
    const double least_mm = 0.3, least_gap_mm = 0.25;
    double x0 = 0, x1 = 0; /* a solid bar not yet drawn, while x1 > x0 */
    for (int k = 0; k < view->n_waits; k++) {
        const bf_timeline_wait *wait = &view->wait[k];
        if (!bfi_timeline_shows(view, wait->from_ms, wait->to_ms)) continue;
        double from = mark_x(b, wait->from_ms), to = mark_x(b, wait->to_ms);
        if (to < from + least_mm) to = from + least_mm;
        if (wait->is_crossed) {
            bfi_svg_rect(b->pen, "bf-p1 bf-off", from, lane->base - BAR_MM - 0.4, to - from, BAR_MM);
            continue;
        }
        int is_plain = (!wait->is_open && !wait->is_start_reckoned) || to - from < LEAST_ENDED_MM;
        if (is_plain && x1 > x0 && from < x1 + least_gap_mm) {
            if (to > x1) x1 = to;
            continue;
        }
        if (x1 > x0) draw_bar(b, x0, x1, 0, 0, lane->base);
        x1 = x0;
        if (is_plain) {
            x0 = from;
            x1 = to;
        } else {
            draw_bar(b, from, to, wait->is_open, wait->is_start_reckoned, lane->base);
        }
    }
    if (x1 > x0) draw_bar(b, x0, x1, 0, 0, lane->base);
}

/* ---- notes ---- */

static void draw_notes(const board *b, const track *lane) {
    group groups[MOST_GROUPS];
    int n = make_groups(b, lane, 0, groups);
    for (int k = 0; k < n; k++) {
        char text[24];
        bfi_pen pen = bfi_pen_open(text, sizeof text);
        put_group(&pen, lane, &groups[k]);
        double x = 0.5 * (groups[k].left + groups[k].right);
        bfi_svg_text(b->pen, lane->kind == ADVICE ? "bf-r bf-mid bf-clear" : "bf-mid bf-clear", x,
                     lane->base - 1.1, text);
    }
}

/* The next note or advice to be listed, in order of time; 0 after the last. */
typedef struct listing {
    int at[2], n[2];
} listing;

static const bf_timeline_note *next_listed(const board *b, listing *l, int *is_advice) {
    const bf_timeline_note *const lists[2] = {b->view->note, b->view->advice};
    const int counts[2] = {b->view->n_notes, b->view->n_advice};
    const bf_timeline_note *head[2] = {NULL, NULL};
    for (int list = 0; list < 2; list++) {
        while (l->at[list] < counts[list] && !head[list]) {
            const bf_timeline_note *note = &lists[list][l->at[list]];
            if (!note->is_crossed && bfi_timeline_shows(b->view, note->at_ms, note->at_ms))
                head[list] = note;
            else
                l->at[list] += 1;
        }
    }
    if (!head[0] && !head[1]) return NULL;
    *is_advice = !head[0] || (head[1] && head[1]->at_ms < head[0]->at_ms);
    l->at[*is_advice] += 1;
    l->n[*is_advice] += 1;
    return head[*is_advice];
}

/* Under the clock: number, time, words on as many rows as they need, two at most; when they take more than most_rows
 * together, one row more says how many are left. Returns the rows used; draws only when the board has a pen. */
static int list_notes(const board *b, int most_rows) {
    const double number_x = EDGE_X, time_x = EDGE_X + 23, text_x = EDGE_X + 25;
    double room = b->view->width_mm - text_x - 1;
    listing l = {{0}, {0}};
    int row = 0, is_advice;
    for (const bf_timeline_note *note; (note = next_listed(b, &l, &is_advice));) {
        double y = b->marks_base + AXIS_MM + 4.4 + NOTE_MM * row;
        const char *words = note->text.text;
        int n_rows = bfi_n_lines(words, room, 2);
        if (n_rows < 1) n_rows = 1;
        if (row + n_rows > most_rows) {
            if (b->pen) {
                char more[48];
                bfi_pen pen = bfi_pen_open(more, sizeof more);
                int n_left = b->n_notes - l.n[0] - l.n[1] + 1;
                bfi_put(&pen, row ? "and " : "");
                bfi_put_number(&pen, n_left, 0);
                bfi_put(&pen, row ? " more" : n_left == 1 ? " note" : " notes");
                bfi_svg_text(b->pen, "bf-label", text_x, y, more);
            }
            return row + 1;
        }
        row += n_rows;
        if (!b->pen) continue;
        char text[24];
        bfi_pen pen = bfi_pen_open(text, sizeof text);
        bfi_put(&pen, is_advice ? "A" : "");
        bfi_put_number(&pen, l.n[is_advice], 0);
        bfi_svg_text(b->pen, is_advice ? "bf-r bf-key" : "bf-key", number_x, y, text);
        pen = bfi_pen_open(text, sizeof text);
        bfi_put_hour(&pen, note->at_ms, b->view->east_min);
        bfi_svg_text(b->pen, "bf-end", time_x, y, text);
        bfi_svg_lines(b->pen, is_advice ? "bf-r" : "bf-label", text_x, y, room, NOTE_MM, 2, words);
    }
    return row;
}

double bfi_timeline_height(const bf_timeline_view *view, int most_rows) {
    board b = lay_out(view, NULL);
    return b.marks_base + AXIS_MM + NOTE_MM * list_notes(&b, most_rows);
}

void bfi_timeline_draw(bfi_pen *pen, const bf_timeline_view *view, int most_rows) {
    board b = lay_out(view, pen);
    bfi_census count = bfi_timeline_count(view);
    bfi_draw_clock(pen, &b.clock, b.is_wide ? 1 : TITLE_MM, b.marks_base, view->width_mm, 1);
    for (int k = 0; k < b.n_lanes; k++) {
        const track *lane = &b.lane[k];
        double from = b.is_wide ? EDGE_X : b.clock.x0;
        bfi_svg_line(pen, k == b.n_lanes - 1 ? "bf-p2" : "bf-edge", from, lane->base, b.clock.x1, lane->base);
        draw_title(&b, lane);
        switch (lane->kind) {
        case FEED: draw_stalks(&b, lane, count.feed_most); break;
        case WEIGHTS: draw_stalks(&b, lane, count.heaviest_kg); break;
        case WAITS: draw_waits(&b, lane); break;
        case BITES: draw_bites(&b, lane); break;
        case NOTES:
        case ADVICE: draw_notes(&b, lane); break;
        }
    }
    list_notes(&b, most_rows);
}

/* ---- the whole ---- */

#define MOST_NOTE_ROWS 16

bf_status bf_picture_timeline(const bf_timeline_view *view, char *svg, size_t most, bf_picture *picture) {
    memset(picture, 0, sizeof *picture);
    bfi_pen pen = bfi_pen_open(svg, most);
    bf_status status = bfi_check_look_and_width(view->look, view->width_mm);
    if (!status) status = bfi_timeline_check(view);
    if (status) return status;
    bfi_timeline_tell(view, picture);
    bfi_svg_open(&pen, "timeline", view->width_mm, bfi_timeline_height(view, MOST_NOTE_ROWS) + 1, view->look,
                 "What happened when", picture->finding);
    bfi_timeline_draw(&pen, view, MOST_NOTE_ROWS);
    bfi_svg_close(&pen);
    return bfi_picture_end(&pen, picture);
}
