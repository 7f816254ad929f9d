/* swim.h -- the water seen from the side, the bank to the left: what the fall and the section of a rig share. Staff on the
 * left, surface, two depths of water, the bottom with slope and kind, the feed on its way and where it lies. */
#ifndef BFI_SWIM_H
#define BFI_SWIM_H

#include "baitfall/picture.h"
#include "core/picture/place.h"
#include "core/picture/svg.h"

#define BFI_SIDE_WIDTH_MM 80.0
#define BFI_WATER_X0 19.0
#define BFI_WATER_X1 80.0
/* How much deeper than the plumbed place the bottom may be drawn, and how thick it is. */
#define BFI_FALL_AWAY_MM 12.0
#define BFI_BED_MM 6.4
#define BFI_SIDE_ROW_MM 5.4
/* Half the height of a figure: moves a word so that it stands level with its line. */
#define BFI_HALF_FIGURE_MM 1.45

typedef struct bfi_swim {
    const bf_side_view *view;
    bfi_pen pen;
    double surface_y, deepest_mm; /* the surface, and from it to the deepest the bottom may be */
    double middle_x;              /* where mid_x_m is, mm                                      */
    double x_mm_per_m, z_mm_per_m, mid_x_m;
    double slope;  /* mm down per mm across, as drawn */
    double base_y; /* lower edge of the bottom        */
} bfi_swim;

/* What is checked of the water: depths, slope, bottom, how, look. */
bf_status bfi_swim_check_water(const bf_side_view *view);
/* ... and of the feed: steps, pieces, where nine in ten lie. */
bf_status bfi_swim_check_feed(const bf_side_view *view);

int bfi_all_finite(const double *numbers, int n);
int bfi_all_within(const double *numbers, int n, double most);

/* Sets the scales: down by the deepest the bottom may be, across the same unless least_m .. most_m would be wider
 * than room_mm. Needs view, surface_y, deepest_mm and middle_x. */
void bfi_swim_scale(bfi_swim *s, double least_m, double most_m, double room_mm);
/* How often smaller the width is drawn than the depth; 1: the same scale. */
double bfi_swim_narrower(const bfi_swim *s);

double bfi_swim_across(const bfi_swim *s, double x_m);
double bfi_swim_down(const bfi_swim *s, double z_m);
/* The bottom's line at a place across, for a depth of depth_m below x = 0: cut at the surface, where it is dry bank, and
 * at the sheet's lower edge, where it falls away. */
double bfi_swim_bed(const bfi_swim *s, double depth_m, double across);
int bfi_swim_bed_is_cut(const bfi_swim *s, double depth_m, double across);

void bfi_draw_swim(bfi_swim *s);
void bfi_draw_staff(bfi_swim *s);
/* The engineers' sign for a free water surface, standing on y. */
void bfi_draw_water_sign(bfi_pen *pen, double x, double y);
/* The pole from the bank to tip_x. */
void bfi_draw_pole(bfi_pen *pen, double tip_x);
/* The pot under it, its middle at x. */
void bfi_draw_pot(bfi_pen *pen, double x);
/* Pieces on their way and the heap that lies. */
void bfi_draw_feed(bfi_swim *s);
/* Where nine in ten lie: a bracket whose middle is y. */
void bfi_draw_bracket(bfi_swim *s, double y);

#define BFI_MOST_TIMES 3
typedef struct bfi_time_line {
    double time_s, x_m, z_m;
} bfi_time_line;

/* Round times on the way down of a typical piece, at most three. */
int bfi_choose_times(const bf_side_view *view, bfi_time_line lines[BFI_MOST_TIMES]);
void bfi_put_time(bfi_pen *pen, double time_s);
/* Their dashed lines up to word_x, with the time behind it if it has room before right_x. */
void bfi_draw_times(bfi_swim *s, double word_x, double right_x);

/* "silt"; -1: "bottom not told". */
const char *bfi_bottom_word(int bottom);
/* "silt, deepens outward by 2 degrees". */
void bfi_put_bottom(bfi_pen *pen, const bf_side_view *view);
/* The depth as it was said, else as a length. */
void bfi_put_depth(bfi_pen *pen, const bf_side_view *view, const bf_labels *labels);
/* One of the rows under the bottom, from 0, cut to the width; top_y is where they begin. */
void bfi_draw_caption(bfi_pen *pen, double top_y, int row, const char *class_names, const char *text);

#endif
