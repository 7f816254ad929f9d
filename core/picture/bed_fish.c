/* Fish on the feed: twenty dots, told apart as few, some and many. */
#include <string.h>

#include "core/picture/axis.h"
#include "core/picture/bed.h"
#include "core/picture/words.h"

#define MOST_DOT_MM 3.6
#define LEAST_DOT_MM 1.2
#define MOST_HEAP_MM 24.0
#define LEAST_AXIS 20.0
#define WORDS_Y 4.4
/* The same whatever the dots: the page keeps the room. */
#define BASE_MM 34.0
#define HEIGHT_MM 52.0
#define CAPTION_MM 11.0

static const double border[] = {BF_FEW_END, BF_SOME_END};
#define N_BORDERS 2
static const char *const many_rows[BF_N_MANY] = {"Few (0 to 2)", "Some (3 to 6)", "Many (7 and more)"};

static bfi_axis axis_of(const bf_bed_view *view) {
    double most = bfi_clamp(1.2 * view->bed->fish_dot[BF_N_DOTS - 1], LEAST_AXIS, BF_BED_MOST_FISH);
    bfi_axis axis = bfi_axis_around(BF_SCALE_COUNT, 0, most, 0, view->width_mm);
    return axis;
}

/* Where dots stand, mm; the second line is moved to the nearest border between two columns, and a dot to its own side. */
typedef struct fish_sheet {
    bfi_axis axis;
    bfi_heap heap;
    double line_x[N_BORDERS];
} fish_sheet;

static fish_sheet place_dots(const bf_bed_view *view) {
    fish_sheet s = {.axis = axis_of(view)};
    double dot_mm = MOST_DOT_MM;
    do {
        double at[BF_N_DOTS];
        s.line_x[0] = bfi_axis_x(&s.axis, border[0]);
        double apart = bfi_axis_x(&s.axis, border[1]) - s.line_x[0];
        int n_some = (int)(apart / dot_mm + 0.5);
        s.line_x[1] = s.line_x[0] + n_some * dot_mm;
        const double least[] = {-1e9, s.line_x[0], s.line_x[1]}, most[] = {s.line_x[0], s.line_x[1], 1e9};
        for (int k = 0; k < BF_N_DOTS; k++) {
            int many = bf_many_of(view->bed->fish_dot[k]);
            at[k] = bfi_clamp(bfi_axis_x(&s.axis, view->bed->fish_dot[k]), least[many] + 0.5 * dot_mm,
                              most[many] - 0.5 * dot_mm);
        }
        s.heap = bfi_heap_of(at, s.line_x[0], 0, dot_mm, dot_mm, MOST_HEAP_MM);
        dot_mm -= 0.3;
    } while (s.heap.tallest * s.heap.dot_mm > MOST_HEAP_MM && dot_mm >= LEAST_DOT_MM);
    return s;
}

static void draw_words(bfi_pen *pen, const bf_bed_view *view, const fish_sheet *s) {
    const double from[] = {0, s->line_x[0], s->line_x[1]},
                 to[] = {s->line_x[0], s->line_x[1], view->width_mm};
    for (int k = 0; k < BF_N_MANY; k++)
        bfi_svg_text(pen, "bf-wet bf-mid", 0.5 * (from[k] + to[k]), WORDS_Y, bf_many_words[k]);
}

static void draw(bfi_pen *pen, const bf_bed_view *view, const fish_sheet *s) {
    for (int k = 0; k < N_BORDERS; k++) bfi_svg_line(pen, "bf-p1", s->line_x[k], 1, s->line_x[k], BASE_MM);
    draw_words(pen, view, s);
    const bfi_heap *heap = &s->heap;
    for (int k = 0; k < BF_N_DOTS; k++)
        bfi_draw_dot(pen, heap, k, 0, heap->start + (heap->column[k] + 0.5) * heap->dot_mm,
                     BASE_MM - 0.8 - (heap->level[k] + 0.5) * heap->dot_mm);
    bfi_draw_axis(pen, &s->axis, BASE_MM);
    bfi_svg_text(pen, "bf-r", 2, BASE_MM + CAPTION_MM, "fish on the feed, reckoned");
    bfi_svg_text(pen, "bf-label", 2, BASE_MM + CAPTION_MM + BFI_ROW_MM, "A dot: 1 in 20.");
}

/* ---- what it says ---- */

static void put_band(bfi_pen *pen, const bf_bed *bed) {
    int least = bf_many_of(0.5 * (bed->fish_dot[1] + bed->fish_dot[2])),
        most = bf_many_of(0.5 * (bed->fish_dot[17] + bed->fish_dot[18]));
    bfi_put(pen, bf_many_words[least]);
    if (most == least) return;
    bfi_put(pen, " to ");
    bfi_put(pen, bf_many_words[most]);
}

static void put_tenths(bfi_pen *pen, double part) {
    double tenths = (int)(10 * part + 0.5);
    if (tenths < 1)
        bfi_put(pen, "under 1 in 10");
    else if (tenths > 9)
        bfi_put(pen, "over 9 in 10");
    else {
        bfi_put(pen, "about ");
        bfi_put_number(pen, tenths, 0);
        bfi_put(pen, " in 10");
    }
}

static void tell(const bf_bed_view *view, bf_picture *picture) {
    const bf_bed *bed = view->bed;
    bfi_pen pen = bfi_pen_open(picture->finding, sizeof picture->finding);
    bfi_put(&pen, "Fish on the feed by our reckoning: ");
    put_band(&pen, bed);
    bfi_put(&pen, ", 8 times in 10.");
    pen = bfi_row_open(picture, "8 times in 10");
    put_band(&pen, bed);
    for (int k = 0; k < BF_N_MANY; k++) {
        pen = bfi_row_open(picture, many_rows[k]);
        put_tenths(&pen, bed->p_many[k]);
    }
}

bf_status bf_picture_bed_fish(const bf_bed_view *view, char *svg, size_t most, bf_picture *picture) {
    memset(picture, 0, sizeof *picture);
    bfi_pen pen = bfi_pen_open(svg, most);
    bf_status status = bfi_bed_check(view);
    if (status) return status;
    tell(view, picture);
    fish_sheet s = place_dots(view);
    bfi_svg_open(&pen, "bed-fish", view->width_mm, HEIGHT_MM, view->look, "Fish on the feed. " BFI_RECKONED,
                 picture->finding);
    draw(&pen, view, &s);
    bfi_svg_close(&pen);
    return bfi_picture_end(&pen, picture);
}
