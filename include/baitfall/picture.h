/* picture.h -- every drawing once, as SVG text, each with its finding in one sentence and its table.
 *
 * Pure: no I/O, no allocation, no global state. A picture is drawn from a plain record of numbers and from labels
 * that were already made into text, so a page, a printed sheet and a terminal show the same thing.
 *
 * The SVG is a complete document for a screen or paper: viewBox in millimetres, 80 wide; classes "bf-..." and no
 * inline style; role="img" with <title> and <desc>. Its look (sun, shade, dusk) comes from one stylesheet,
 * core/picture/picture.css: a page links it, report/ hands it to the renderer, bf_picture_with_style puts it inside.
 * Ink is what was said or measured; what is worked out is in the `reckon` colour and dashed or dotted as well.
 * Slanted letters are for things in the water, upright ones for the air and the hand.
 * No two words overlap: places are found with the advance widths of DejaVu Sans Bold, the widest face used.
 *
 * Axes as everywhere: x out from the bank, y to the angler's right, z down; metres. x = y = 0 is the point of the
 * water that was meant: straight below the release that has no offset.
 *
 * Model: docs/models/pictures.md. Tests: tests/picture/
 */
#ifndef BAITFALL_PICTURE_H
#define BAITFALL_PICTURE_H

#include "baitfall/scene.h"
#include "baitfall/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/* A name or a ready number, UTF-8, ended by a 0 byte. Longer text is cut by whoever fills it. */
#define BF_LABEL_BYTES 48
typedef struct bf_label {
    char text[BF_LABEL_BYTES + 1];
} bf_label;

/* What the drawings need as words. Empty text: the picture leaves that word out. */
typedef struct bf_labels {
    bf_label bait;  /* "hard 4 mm pellets"                                           */
    bf_label time;  /* "12 s (10-15)": from the put-in until nine in ten are down      */
    bf_label wide;  /* "14 cm (11-19)": diameter that holds nine in ten of one put-in  */
    bf_label depth; /* "1.5 m" or "1.5 m (1.45-1.55)"                                  */
} bf_labels;

/* BF_LOOK_OPEN leaves the look to the document around the picture; alone it is shade. */
typedef enum bf_look { BF_LOOK_OPEN, BF_LOOK_SHADE, BF_LOOK_SUN, BF_LOOK_DUSK } bf_look;

/* Radius around the hook bait that counts as "beside it", m. Common practice, no source: beside the pile feeds,
 * 15 cm off is off it. */
#define BF_HOOK_RING_M 0.05

/* Most cells along one side of a landing grid. */
#define BF_ABOVE_MOST_SIDE 96
#define BF_ABOVE_BAITS 20

/* The landing grid seen from above: nx cells outward, ny cells to the right. */
typedef struct bf_above_view {
    int look;                        /* bf_look                                                  */
    int nx, ny;                      /* 1 .. BF_ABOVE_MOST_SIDE                                  */
    double cell_m;                   /* side of a square cell, > 0                               */
    double origin_x_m, origin_y_m;   /* the nearest, leftmost corner of cell (0, 0)              */
    double level50, level90;         /* the densities whose lines hold half and nine in ten of   */
                                     /* the pieces; unit as the grid, 0 < level90 <= level50;    */
                                     /* level50 not above the densest cell                       */
    double hook_x_m, hook_y_m;       /* where the hook bait lies                                 */
    double hook_share_frac;          /* pieces within BF_HOOK_RING_M of it, 0 .. 1; NaN: unsaid  */
    double drift_x_m_s, drift_y_m_s; /* of the water's skin, gives the arrow; both 0: no arrow   */
    int how;                         /* bf_how: a pole is drawn for clump and sprinkle           */
    /* Where the hook bait may lie; n_baits 0: not drawn, and the ring stands around (hook_x_m, hook_y_m) alone. */
    int n_baits;                                               /* 0 or BF_ABOVE_BAITS             */
    double bait_x_m[BF_ABOVE_BAITS], bait_y_m[BF_ABOVE_BAITS]; /* equally likely                 */
    double bait50_m, bait90_m; /* radii around (hook_x_m, hook_y_m), the bait's middle, that hold half and */
                               /* nine in ten of the baits; 0 < bait50_m <= bait90_m <= 1e4               */
    double wind_x_m_s,
        wind_y_m_s; /* where it blows to; drawn when n_baits > 0; both 0: no arrow              */
} bf_above_view;

#define BF_SIDE_MOST_STEPS 64
#define BF_SIDE_MOST_PIECES 96

/* The fall seen from the side: the bank is to the left, outward runs to the right. */
typedef struct bf_side_view {
    int look;                              /* bf_look                                                   */
    double distance_m;                     /* of the spot from the bank; NaN: unsaid                    */
    double depth_m;                        /* below x = 0, > 0                                          */
    double depth_lo_m, depth_hi_m;         /* its 80 % range; both depth_m when exact                   */
    double slope_deg;                      /* above 0 deepens outward; within -80 .. 80                 */
    int bottom;                            /* bf_bottom; -1: not told, drawn bare                       */
    int how;                               /* bf_how                                                    */
    int n_steps;                           /* way of a typical piece, 2 .. BF_SIDE_MOST_STEPS           */
    double step_s[BF_SIDE_MOST_STEPS];     /* since it left the surface, increasing, from 0             */
    double step_x_m[BF_SIDE_MOST_STEPS];   /* where it is then                                          */
    double step_z_m[BF_SIDE_MOST_STEPS];   /* not decreasing, from 0 to the bottom                      */
    int n_pieces;                          /* 0 .. BF_SIDE_MOST_PIECES                                  */
    double piece_x_m[BF_SIDE_MOST_PIECES]; /* where each piece lies in the end                          */
    double wide_lo_x_m, wide_hi_x_m;       /* nine pieces in ten lie between these, outward             */
} bf_side_view;

/* What goes with a drawing. */
#define BF_PICTURE_MOST_ROWS 12
typedef struct bf_picture {
    size_t n_svg;      /* bytes of SVG written, without the ending 0 */
    char finding[320]; /* one sentence                               */
    int n_rows;        /* its table: what, and how much              */
    char cell[BF_PICTURE_MOST_ROWS][2][80];
} bf_picture;

/* Work space of bf_picture_above in bytes; 8-aligned. */
size_t bf_picture_work_bytes(void);

/* Where the feed of many such put-ins lies, seen from above, true to scale: heat in six steps up to the densest cell,
 * the lines that hold half (solid) and nine in ten (dashed) of the pieces, the ring around the hook bait, scale bar,
 * pole, drift.
 *
 * Lines by marching squares on the middles of the cells, linear between them, zero around the grid.
 * Accuracy:  a Gaussian map with 6 cells a standard deviation: the area within the lines differs from the ellipse's
 *            by less than 1 % (tests/picture/contour_test.c).
 *
 * density  (in nx * ny) cell (i outward, j to the right) at [i * ny + j], finite, >= 0, any unit
 * work     bf_picture_work_bytes()
 * svg      (out most) ended by a 0 byte; "" on error. most >= 1 (asserted)
 * picture  always written; empty on error
 *
 * Returns BF_OK, BF_E_COUNT (nx, ny), BF_E_NOT_FINITE, BF_E_RANGE (outside what is said beside a field; no piece on
 * the whole grid), BF_E_SPACE (svg too short; 128 KiB is enough for any smooth map). */
BF_CHECK bf_status bf_picture_above(const bf_above_view *view, const double *density, const bf_labels *labels,
                                    void *work, char *svg, size_t most, bf_picture *picture);

/* How the feed falls, seen from the side: depth staff in metres and feet, surface, pieces on their way and where
 * they lie, times on the way down, the bottom with slope and kind, the band of an uncertain depth, pot and pole.
 *
 * A piece is drawn beside the way of the typical piece, by its own distance x_lies - x_typical_lies: all the way down
 * for sprinkle, throw and hand, whose pieces meet the water apart; growing with z / depth for a clump, which leaves
 * one place. Pieces are drawn at evenly spaced depths so that the whole way is seen. The deepest the bottom may be is
 * always 42 mm down. Width is drawn to the same scale; when the feed is too wide for that, the picture says how much
 * narrower it is.
 *
 * Arguments and returns as bf_picture_above (BF_E_COUNT: n_steps, n_pieces). */
BF_CHECK bf_status bf_picture_side(const bf_side_view *view, const bf_labels *labels, char *svg, size_t most,
                                   bf_picture *picture);

/* The stylesheet of all pictures, UTF-8, ended by a 0 byte. */
extern const char bf_picture_css[];

/* The same picture carrying the stylesheet in one <style>, to stand alone as a file.
 * svg (in n) as a picture function wrote it;  out (out most) ended by a 0 byte.
 * Returns BF_OK, BF_E_SYNTAX (svg is not such a picture), BF_E_SPACE. */
BF_CHECK bf_status bf_picture_with_style(const char *svg, size_t n, char *out, size_t most, size_t *n_out);

/* Width of UTF-8 text in DejaVu Sans at 1 mm letter size, mm; bold when is_bold. A character outside the table
 * (Latin, Greek, Cyrillic and the signs we print) counts as 1 mm. n bytes.
 * Example: "12 s" bold -> 2.335. */
double bf_text_width_mm(const char *text, size_t n, int is_bold);

#ifdef __cplusplus
}
#endif
#endif
