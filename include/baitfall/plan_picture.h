/* plan_picture.h -- the drawings of a plan: rig and feed in section, the shotting with every distance, and the card that
 * goes to the bank on paper.
 *
 * As picture.h: pure, SVG text into a caller's buffer, one sentence and a table with each. No two words overlap.
 * Ink is what was said or measured; what is worked out has the `reckon` colour and is dashed, dotted or banded as well.
 * Axes: x out from the bank, y to the angler's right, z down; the origin is the point of the surface under the pole tip.
 *
 * Every function returns BF_OK or, with svg "" and *picture empty,
 *   BF_E_COUNT       a count outside what is said beside it
 *   BF_E_NOT_FINITE  a number that is NaN or infinite where that is not said to be allowed
 *   BF_E_RANGE       a number outside what is said beside it
 *   BF_E_SPACE       svg too short; BF_PLAN_SVG_BYTES is enough for anything
 * svg (out most) is ended by a 0 byte; most >= 1 (asserted).
 *
 * Model: docs/models/pictures.md. Tests: tests/picture/section_test.c, shotting_test.c, card_test.c
 */
#ifndef BAITFALL_PLAN_PICTURE_H
#define BAITFALL_PLAN_PICTURE_H

#include "baitfall/picture.h"
#include "baitfall/rig.h"

#ifdef __cplusplus
extern "C" {
#endif

#define BF_PLAN_SVG_BYTES (128 * 1024)

/* ---- a rig as it is drawn ---- */

/* One row of shot: `count` of them, the lowest at at_m, each apart_m above the one below. */
typedef struct bf_drawn_shot {
    bf_label name;  /* "No 8"                                                                     */
    int count;      /* 1 .. 40                                                                    */
    double at_m;    /* of the lowest: above the hook, of back shots above the float; 0 .. 30      */
    double apart_m; /* 0: a bulk, touching each other; 0 .. 10                                    */
} bf_drawn_shot;

/* Rows may stand in any order. Names may be "": then the drawing leaves them out. */
typedef struct bf_drawn_rig {
    bf_label float_name;    /* "0.4 g"                                     */
    bf_label line;          /* "0.14 mm"                                   */
    bf_label hooklength;    /* "0.12 mm"                                   */
    bf_label hook;          /* "18"                                        */
    bf_label hook_bait;     /* "hard four"                                 */
    double tip_to_float_m;  /* > 0 .. 30                                   */
    double float_to_hook_m; /* > 0 .. 30                                   */
    double hooklength_m;    /* 0: none, the main line goes to the hook; less than float_to_hook_m */
    int n_shots;            /* 0 .. BF_RIG_SHOTS                           */
    int n_back_shots;       /* 0 .. BF_RIG_BACK_SHOTS                      */
    bf_drawn_shot shot[BF_RIG_SHOTS];
    bf_drawn_shot back_shot[BF_RIG_BACK_SHOTS];
} bf_drawn_rig;

/* The rig as it is drawn: sizes by their trade words, weighed shot in mg, diameters in mm.
 *
 * hook_bait  its name, UTF-8, or ""; longer than a label is cut
 * Example    0.4 g float, five No 8 of lead as a bulk 35 cm up -> float_name "0.4 g", shot[0].name "No 8", count 5,
 *            at_m 0.35, apart_m 0. */
bf_drawn_rig bf_drawn_rig_of(const bf_rig *rig, double float_to_hook_m, const char *hook_bait);

/* ---- in section ---- */

#define BF_SECTION_DOTS 20
#define BF_SECTION_CURRENTS 6

typedef struct bf_section_view {
    int look; /* bf_look */
    /* 1: drawn live, before the ranges are worked out: no band of depth, no pieces and no dots are read or drawn
     * (of fall: depth_lo_m, depth_hi_m, n_pieces, wide_lo_x_m, wide_hi_x_m). */
    int is_nominal;
    bf_side_view fall;  /* the water below the pole tip, and the feed on its way; fall.look is not read;  */
                        /* fall.distance_m is the tip's; fall.n_steps 0: no feed is drawn                 */
    double feed_x_m;    /* where x = 0 of fall's feed is, against the point under the tip: outward        */
    bf_rig_shape shape; /* as bf_rig_solve gave it; n_air, n_water 2 .. BF_RIG_POINTS                     */
    bf_drawn_rig rig;
    double
        bristle_long_m; /* length of the whole bristle; > 0 .. 1                                          */
    double overdepth_m; /* line from float to hook beyond the depth; below 0: off the bottom; |.| <= 30   */
    int n_dots;         /* 0 or BF_SECTION_DOTS                                                           */
    double dot_x_m[BF_SECTION_DOTS]; /* where the hook bait may lie, outward, equally likely         */
    int n_currents;                  /* 0 .. BF_SECTION_CURRENTS: arrows over depth                  */
    double
        current_z_m[BF_SECTION_CURRENTS]; /* rising, from 0                                               */
    double
        current_m_s[BF_SECTION_CURRENTS]; /* outward part, below 0 towards the bank; |.| <= 10            */
    double wind_x_m_s, wind_y_m_s;        /* where it blows to, outward and right; both 0: no arrow       */
    bf_label off;  /* "3 cm (1-6)": hook bait from the point under the tip; "": unsaid */
    bf_label down; /* "9 s (7-13)": until the bait is down; "": unsaid                 */
} bf_section_view;

/* Rig and feed from the side, the bank to the left: pole tip, line, back shots, float with the bristle that shows, shot
 * at their places along the line, hooklength, hook bait; the falling feed and the pile; bottom with slope and kind;
 * arrows of the current over depth and of the wind; staff in metres and feet. Below it, on the same places across, where
 * the feed lies (bracket: nine in ten) and twenty dots where the bait may lie.
 *
 * Across is drawn to the scale of the depth unless the parts would be wider than 13.4 mm; then the picture says how many
 * times the height is drawn. Float, shot, hook and bait are drawn larger than they are, and it says so; the line above the
 * water has a scale of its own where the tip is high.
 *
 * Finding   "Float 0.4 g, bulk 35 cm above the hook, bait 2 cm over depth and 3 cm (1-6) off the tip; feed pile 24 cm
 *           wide, its middle 4 cm in from the bait."
 */
BF_CHECK bf_status bf_picture_section(const bf_section_view *view, const bf_labels *labels, char *svg,
                                      size_t most, bf_picture *picture);

/* ---- the rig alone ---- */

typedef struct bf_shotting_view {
    int look;
    bf_drawn_rig rig;
} bf_shotting_view;

/* The rig upright with every distance in centimetres and inches: tip to float, float to hook, each row of shot above the
 * hook, hooklength. Distances are written, not drawn to scale; it says so. */
BF_CHECK bf_status bf_picture_shotting(const bf_shotting_view *view, char *svg, size_t most,
                                       bf_picture *picture);

/* ---- the card ---- */

#define BF_CARD_SPOTS 8
#define BF_CARD_FEEDS 32
#define BF_CARD_LIMITS 6

/* Labels with a range, "12 s (10-15)", are printed as a large number and its range behind it. "": left out. */
typedef struct bf_card_spot {
    bf_label name; /* "long"                                                                              */
    double
        distance_m; /* of the pole tip; 0 .. 100; 0 or NaN: unsaid                                          */
    double depth_m; /* > 0 .. 100                                                                          */
    int bottom;     /* bf_bottom; -1: not told, and nothing is printed                                     */
    bf_label
        feed_down; /* "12 s (10-15)": from the put-in until nine in ten are down                          */
    bf_label wait; /* "20 s (16-26)": from the put-in until the rig is lowered                            */
    bf_label
        rig_down;    /* "9 s (7-13)": from letting go until the bait is down                                */
    bf_label pieces; /* "14 (12-15)": of one put-in                                                         */
    bf_label
        pieces_what; /* "hard four a pot"                                                                   */
    bf_drawn_rig rig;
} bf_card_spot;

typedef struct bf_card_feed {
    int spot;        /* 0 .. n_spots - 1                                                  */
    bf_label amount; /* "1 pot", "24", "2 pots"                                           */
    bf_label bait;   /* "hard four"                                                       */
    bf_label how;    /* "tipped", "shaken", "catapult", "by hand"; "": unsaid             */
    double from_s;   /* of the first put-in, after the start; 0 .. 1e6                    */
    double to_s;     /* of the last; >= from_s; read when it is repeated                  */
    double every_s;  /* > 0 .. 1e6; NaN: once                                             */
} bf_card_feed;

typedef struct bf_card_view {
    bf_label venue;  /* "Withy Pool"                                                             */
    bf_label peg;    /* "14"; "": not drawn yet, and a line is left to write it on               */
    bf_label day;    /* "Thu 26 Nov 2026"; "": a line to write on                                */
    int is_invented; /* says so                                                                  */
    double
        starts_min; /* local clock at the start, minutes after midnight, 0 .. 1440; NaN: times count from the start */
    double hours; /* > 0 .. 48; sets the rows of the tally                                    */
    int n_spots;  /* 1 .. BF_CARD_SPOTS; the first has its rig drawn, the others a line each  */
    int n_feeds;  /* 0 .. BF_CARD_FEEDS, the most important first                             */
    int n_limits; /* 0 .. BF_CARD_LIMITS, the most important first                            */
    bf_card_spot spot[BF_CARD_SPOTS];
    bf_card_feed feed[BF_CARD_FEEDS];
    bf_label limit[BF_CARD_LIMITS]; /* "net: 50 lb at most", "barbless hooks"                      */
    bf_label version;               /* "Baitfall 0.4.0"                                            */
} bf_card_view;

/* The card: black on white without a filled area, for a pencil in the rain. Type 14 pt or larger, 10 pt for dimensions in
 * the drawing of the rig, key numbers 24 pt; lines 1 pt or wider; tally boxes 8 mm or larger.
 *
 *   front  A6 upright (105 x 148 mm): the first spot's rig with every distance, its depth, pieces, seconds; the other
 *          spots in a line each, below it their rigs in words where there is room; the lines of feed; the power-line caution
 *   back   A6 upright: tally by the half hour (F fish, L lost, M missed, T touch, Fo foul, N nothing, Fed), thunder, limits,
 *          other cautions, "estimates, not measurements", day, peg, version
 *   a5     A5 across (210 x 148 mm): front and back side by side; folded once it is the A6 card
 *
 * What does not fit is left out by importance, and the card then says how many "more in plan"; nothing is set
 * smaller and nothing overlaps. Words that are too long for their place end in "...". */
BF_CHECK bf_status bf_picture_card_a6_front(const bf_card_view *view, char *svg, size_t most,
                                            bf_picture *picture);
BF_CHECK bf_status bf_picture_card_a6_back(const bf_card_view *view, char *svg, size_t most,
                                           bf_picture *picture);
BF_CHECK bf_status bf_picture_card_a5(const bf_card_view *view, char *svg, size_t most, bf_picture *picture);

#ifdef __cplusplus
}
#endif
#endif
