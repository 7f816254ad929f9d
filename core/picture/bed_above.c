/* The feed on the bed from above, and where the hook bait lies: all of it reckoned. */
#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"
#include "core/picture/bed.h"
#include "core/picture/overhead.h"
#include "core/picture/words.h"

/* Radius that holds half of a round bell-shaped heap, over the one that holds nine in ten: sqrt(ln 2 / ln 10). */
#define HALF_OVER_NINE 0.54870
#define GOLDEN_ANGLE_RAD 2.39996322972865
#define N_CORNERS 72
#define DOT_MM 0.9
/* Nothing smaller is drawn to scale. */
#define LEAST_REACH_M 0.05

typedef struct sheet {
    const bf_bed_view *view;
    bfi_pen pen;
    bfi_overhead o;
    double x, y; /* the middle of the feed, mm */
} sheet;

static int has_feed(const bf_bed_view *view) {
    return bfi_bed_is_fed(view) && view->bed->wide_m.hi > 0;
}

static int has_hook(const bf_bed_view *view) {
    return view->miss_m >= 0;
}

/* How far from the middle the k-th of twenty hook baits lies. */
static double bait_m(const bf_bed_view *view, int k) {
    return view->miss_m * sqrt(bf_log(1 - (k + 0.5) / BF_N_DOTS) / bf_log(0.5));
}

static double reach_m(const bf_bed_view *view) {
    double reach = LEAST_REACH_M;
    if (has_feed(view) && 0.5 * view->bed->wide_m.hi > reach) reach = 0.5 * view->bed->wide_m.hi;
    if (has_hook(view) && bait_m(view, BF_N_DOTS - 1) > reach) reach = bait_m(view, BF_N_DOTS - 1);
    return 1.04 * reach;
}

/* ---- the drawing ---- */

static void circle_path(sheet *s, double radius, int is_back) {
    for (int k = 0; k < N_CORNERS; k++) {
        double angle = 2 * BF_PI * k / N_CORNERS * (is_back ? -1 : 1);
        bfi_svg_point(&s->pen, k ? 'L' : 'M', s->x + radius * bf_cos(angle), s->y + radius * bf_sin(angle));
    }
    bfi_put(&s->pen, "Z");
}

/* Four strips in each other around the line of nine in ten; the inner circle runs back and so leaves a hole. */
static void draw_doubt(sheet *s) {
    double decile[BF_N_DECILES];
    bfi_range_deciles(&s->view->bed->wide_m, decile);
    for (int strip = 0; strip < BF_N_DECILES / 2; strip++) {
        bfi_svg_path_begin(&s->pen, "bf-band");
        circle_path(s, 0.5 * s->o.mm_per_m * decile[BF_N_DECILES - 1 - strip], 0);
        circle_path(s, 0.5 * s->o.mm_per_m * decile[strip], 1);
        bfi_svg_path_end(&s->pen, 0);
    }
}

static double nine_mm(const sheet *s) {
    return 0.5 * s->o.mm_per_m * s->view->bed->wide_m.mid;
}

static void draw_lines(sheet *s) {
    bfi_svg_circle(&s->pen, "bf-r3 bf-dash", s->x, s->y, nine_mm(s));
    bfi_svg_circle(&s->pen, "bf-r2 bf-fine-dash", s->x, s->y, HALF_OVER_NINE * nine_mm(s));
}

static void draw_hooks(sheet *s) {
    for (int k = 0; k < BF_N_DOTS; k++) {
        double far = s->o.mm_per_m * bait_m(s->view, k), angle = k * GOLDEN_ANGLE_RAD;
        bfi_svg_circle(&s->pen, "bf-ropen", s->x + far * bf_cos(angle), s->y + far * bf_sin(angle), DOT_MM);
    }
}

static void draw_words(sheet *s) {
    enum { NINE, HALF, POLE, N_WORDS };
    static const char *const reckoned = "bf-wet bf-r bf-case";
    bfi_word word[N_WORDS] = {
        [NINE] = bfi_word_of_circle("9 in 10 inside", reckoned, s->x, s->y, nine_mm(s)),
        [HALF] = bfi_word_of_circle("half inside", reckoned, s->x, s->y, HALF_OVER_NINE * nine_mm(s)),
        [POLE] = bfi_word_of_column("pole", s->x)};
    bfi_box column = bfi_column_box(s->x);
    bfi_choose_places(word, N_WORDS, &column, 1);
    bfi_draw_led_word(&s->pen, &word[HALF], "bf-r2");
    bfi_draw_led_word(&s->pen, &word[NINE], "bf-r2");
    bfi_draw_led_word(&s->pen, &word[POLE], NULL);
    bfi_draw_column(&s->pen, s->x);
}

static void draw_rows_below(sheet *s) {
    double y = BFI_UNDER_BAR_Y + BFI_OVERHEAD_ROW_MM;
    if (has_hook(s->view)) {
        bfi_svg_circle(&s->pen, "bf-ropen", BFI_FRAME_X0 + 1, y - 1.4, DOT_MM);
        bfi_svg_text(&s->pen, "bf-wet bf-r", BFI_FRAME_X0 + 3.4, y, "the hook bait, 20 ways");
        y += BFI_OVERHEAD_ROW_MM;
    }
    bfi_svg_text(&s->pen, "bf-r", BFI_FRAME_X0, y, BFI_RECKONED);
}

/* ---- what it says ---- */

static void put_wide(bfi_pen *pen, const bf_range *wide, double part) {
    bfi_put_length(pen, part * wide->mid);
    bfi_put(pen, " (");
    bfi_put_length(pen, part * wide->lo);
    bfi_put(pen, " to ");
    bfi_put_length(pen, part * wide->hi);
    bfi_put(pen, ")");
}

static void tell(const bf_bed_view *view, bf_picture *picture) {
    const bf_range *wide = &view->bed->wide_m;
    bfi_pen pen = bfi_pen_open(picture->finding, sizeof picture->finding);
    if (has_feed(view)) {
        bfi_put(&pen, "By our reckoning nine in ten pieces lie inside a round of ");
        put_wide(&pen, wide, 1);
        bfi_put(&pen, ", half inside ");
        bfi_put_length(&pen, HALF_OVER_NINE * wide->mid);
    } else {
        bfi_put(&pen, "Nothing lies here by our reckoning");
    }
    if (has_hook(view)) {
        bfi_put(&pen, "; half the drops put the hook bait within ");
        bfi_put_length(&pen, view->miss_m);
        bfi_put(&pen, " of the middle");
    }
    bfi_put(&pen, ".");

    pen = bfi_row_open(picture, "9 in 10 inside, wide");
    if (has_feed(view))
        put_wide(&pen, wide, 1);
    else
        bfi_put(&pen, "nothing there");
    if (has_feed(view)) {
        pen = bfi_row_open(picture, "Half inside, wide");
        put_wide(&pen, wide, HALF_OVER_NINE);
    }
    pen = bfi_row_open(picture, "Hook bait off the middle, half the drops within");
    if (has_hook(view))
        bfi_put_length(&pen, view->miss_m);
    else
        bfi_put(&pen, "not known");
}

bf_status bf_picture_bed_above(const bf_bed_view *view, char *svg, size_t most, bf_picture *picture) {
    memset(picture, 0, sizeof *picture);
    bf_status status = bfi_bed_check(view);
    double reach = status ? 1 : reach_m(view);
    sheet s = {.view = view,
               .pen = bfi_pen_open(svg, most),
               .o = bfi_overhead_around((bfi_box){-reach, -reach, reach, reach})};
    if (status) return status;
    s.x = bfi_overhead_across(&s.o, 0);
    s.y = bfi_overhead_down(&s.o, 0);
    tell(view, picture);
    bfi_svg_open(&s.pen, "bed-above", BFI_OVERHEAD_WIDTH_MM,
                 BFI_OVERHEAD_HEIGHT_MM + BFI_OVERHEAD_ROW_MM * (1 + has_hook(view)), view->look,
                 "Where the feed lies, from above. " BFI_RECKONED, picture->finding);
    bfi_draw_frame_water(&s.pen);
    if (has_feed(view)) {
        draw_doubt(&s);
        draw_lines(&s);
    }
    if (has_feed(view)) {
        draw_words(&s);
    } else {
        bfi_word none = bfi_word_in_bands("nothing lies here", "bf-wet bf-r bf-case");
        bfi_draw_led_word(&s.pen, &none, NULL);
    }
    if (has_hook(view)) draw_hooks(&s);
    bfi_draw_frame(&s.pen);
    bfi_draw_scale_bar(&s.pen, &s.o);
    draw_rows_below(&s);
    bfi_svg_close(&s.pen);
    return bfi_picture_end(&s.pen, picture);
}
