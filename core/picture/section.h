/* section.h -- the section of a rig under way: what its parts, its words and what it tells share. The sheet is in section.c. */
#ifndef BFI_SECTION_H
#define BFI_SECTION_H

#include "core/picture/drawn_rig.h"
#include "core/picture/swim.h"

#define BFI_SECTION_SURFACE_Y 31.0
/* The float as drawn, from the foot of its bristle down. */
#define BFI_FLOAT_MM 9.0
/* A slower current is none. */
#define BFI_LEAST_CURRENT_M_S 0.0005

typedef struct bfi_point {
    double x, y;
} bfi_point;

/* Where shot of a row are drawn, m of line from its end: true, but for what their drawn size needs. */
typedef struct bfi_drawn_row {
    double from_m, step_m;
} bfi_drawn_row;

typedef struct bfi_section {
    bfi_swim swim;
    const bf_section_view *view;
    bf_side_view fall; /* against the point under the tip; without bands when nominal */
    bf_drawn_shot row[BF_RIG_SHOTS], back_row[BF_RIG_BACK_SHOTS]; /* from the top down */
    int n_rows, n_back_rows;
    bfi_drawn_row drawn[BF_RIG_SHOTS], drawn_back[BF_RIG_BACK_SHOTS];
    double air_mm_per_m;
    double right_m; /* the rightmost that is drawn */
} bfi_section;

int bfi_section_has_feed(const bfi_section *s);
/* Whether it is known where nine pieces in ten lie. */
int bfi_section_has_bracket(const bfi_section *s);
double bfi_section_fastest_m_s(const bf_section_view *view);
double bfi_section_wind_m_s(const bf_section_view *view);

/* Where a point of the rig is; above the water heights have their own scale. */
bfi_point bfi_section_place(const bfi_section *s, const double at_m[3]);
/* ... so far above the hook along the line, and above the float. */
bfi_point bfi_section_in_water(const bfi_section *s, double above_hook_m);
bfi_point bfi_section_in_air(const bfi_section *s, double above_float_m);

/* The words of the rig with their leaders, under water and above it. */
void bfi_section_draw_words(bfi_section *s);
void bfi_section_draw_back_word(bfi_section *s);

/* The rows under the drawing. */
#define BFI_SECTION_CAPTIONS 7
typedef struct bfi_caption {
    const char *class_names;
    char text[128];
} bfi_caption;
int bfi_section_captions(const bfi_section *s, const bf_labels *labels,
                         bfi_caption captions[BFI_SECTION_CAPTIONS]);

/* The finding and the table. */
void bfi_section_tell(const bfi_section *s, const bf_labels *labels, bf_picture *picture);

#endif
