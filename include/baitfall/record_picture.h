/* record_picture.h -- the drawings of a session's record: timeline, wait curves, cumulative fish, chances as twenty dots,
 * before and after a change, and the review sheet for the printer.
 *
 * As picture.h: pure, SVG text into a caller's buffer, one sentence and a table with each, letters of 4 mm that do not
 * overlap. A view is a plain record; its arrays stay the caller's and are only read. Drawings are view->width_mm wide,
 * 80 (phone) to 280 mm; the sheet is A5.
 *
 * Ink is what was logged. What is reckoned has the `reckon` colour and is dashed, banded or dotted as well.
 * Times are milliseconds since 1970-01-01 UTC, exact; `east_min` is the local clock's lead over UTC, and clock times are of
 * that clock, 24 h. Masses are kg and shown in lb oz.
 * Outcomes are shape and word, colour last: fish full disc, lost half disc, touch ring, missed cross, foul triangle point
 * down, nothing bar.
 *
 * Every function returns BF_OK or, with svg "" and *picture empty,
 *   BF_E_COUNT       a count outside what is said beside it
 *   BF_E_NOT_FINITE  a number that is NaN or infinite where that is not said to be allowed
 *   BF_E_RANGE       a number outside what is said beside it; times not in order
 *   BF_E_SPACE       svg too short; BF_RECORD_SVG_BYTES is enough for anything
 * svg (out most) is ended by a 0 byte; most >= 1 (asserted).
 *
 * Model: docs/models/pictures.md. Tests: tests/picture/
 */
#ifndef BAITFALL_RECORD_PICTURE_H
#define BAITFALL_RECORD_PICTURE_H

#include "baitfall/event.h"
#include "baitfall/picture.h"
#include "baitfall/waits.h"

#ifdef __cplusplus
extern "C" {
#endif

#define BF_RECORD_SVG_BYTES (512 * 1024)

#define BF_RECORD_LEAST_WIDTH_MM 80.0
#define BF_RECORD_MOST_WIDTH_MM 280.0

/* Under so many observations nothing is drawn but the words "too early to say". */
#define BF_FEW 5

/* The longest stretch on one time axis, ms: seven days. */
#define BF_RECORD_MOST_SPAN_MS 604800000.0

/* The ten-per-cent steps 10, 20 ... 90 % of a quantity that is not known exactly. */
#define BF_N_DECILES 9

/* ---- what happened when ---- */

#define BF_TIMELINE_MOST 2000 /* of each array below */

/* One put-in. */
typedef struct bf_timeline_feed {
    double at_ms;
    double amount;  /* in the view's unit, 0 .. 1e6; NaN: not known, drawn without a stalk */
    int is_crossed; /* crossed out: drawn hollow, counted as such                      */
    bf_label name;  /* "hard four"; "": unsaid                                         */
} bf_timeline_feed;

/* One wait of the rig in the water. */
typedef struct bf_timeline_wait {
    double from_ms, to_ms; /* from <= to                                                */
    int is_open;           /* still open, or cut short: its right end is left open      */
    int is_start_reckoned; /* the start was not logged: its left end is dashed          */
    int is_crossed;
} bf_timeline_wait;

/* One bite, or a drop that ended without. */
typedef struct bf_timeline_bite {
    double at_ms;
    int outcome;    /* bf_outcome                                  */
    double mass_kg; /* of a fish, > 0 .. 1000; NaN: not told       */
    int is_crossed;
} bf_timeline_bite;

/* A stretch that was entered as counts. */
typedef struct bf_timeline_tally {
    double from_ms, to_ms;
    int n[BF_N_OUTCOMES]; /* 0 .. 999 each */
    int is_crossed;
} bf_timeline_tally;

/* Words at a time: a measurement of the water, a note, an advice. */
typedef struct bf_timeline_note {
    double at_ms;
    int is_crossed;
    bf_label text;
} bf_timeline_note;

typedef struct bf_timeline_view {
    int look; /* bf_look                                                         */
    double width_mm;
    double from_ms, to_ms; /* what is shown: from < to; marks outside are counted, not drawn  */
    int east_min;          /* -1440 .. 1440                                                   */
    bf_label feed_unit;    /* "ml" or "pieces": of every amount                               */
    int n_feeds, n_waits, n_bites, n_tallies, n_notes, n_advice; /* 0 .. BF_TIMELINE_MOST     */
    const bf_timeline_feed *feed; /* each in order of time (of from_ms), ties allowed       */
    const bf_timeline_wait *wait;
    const bf_timeline_bite *bite;
    const bf_timeline_tally *tally;
    const bf_timeline_note *note;   /* the lane "water, notes"                                */
    const bf_timeline_note *advice; /* a lane of its own when there is any                    */
} bf_timeline_view;

/* Lanes over one clock: feed as stalks scaled by amount, the rig in the water as bars, a row an outcome, fish by weight if
 * told, notes by number with their words below, advice.
 *
 * Marks that would touch stand on each other, up to three; where that is not enough in a lane, one mark with a number
 * stands for that many. A group stands at its first. Lanes say their totals.
 * Crossed-out marks are hollow at 30 %, in groups of their own and without a number. */
BF_CHECK bf_status bf_picture_timeline(const bf_timeline_view *view, char *svg, size_t most,
                                       bf_picture *picture);

/* ---- how long till a bite ---- */

#define BF_WAITS_MOST_PANELS 4
#define BF_WAITS_MOST_STEPS 2000

/* One curve, as bf_waits_curve and bf_waits_quantile of waits.h give it at level 0.8. */
typedef struct bf_waits_panel {
    bf_label name; /* "4-8 min after feed"; may be "" when it is the only one           */
    int n_waits;   /* >= 0                                                              */
    int n_bites;   /* of them, ended by a bite; under BF_FEW: "too early to say"        */
    int n_steps;   /* 1 .. BF_WAITS_MOST_STEPS; read when n_bites >= BF_FEW             */
    /* Times rising from above 0 to 1e6 s at most; survival falling within 0 .. 1; lower <= survival <= upper within
     * 0 .. 1, or NaN; a step with n_censor has a tick. */
    const bf_wait_step *step;
    bf_banded median; /* s, lower <= value <= upper; INFINITY: not reached; NaN: unsaid */
} bf_waits_panel;

typedef struct bf_waits_view {
    int look;
    double width_mm;
    double longest_s; /* end of the shared time axis, > 0 .. 1e6; NaN: chosen from the curves */
    int n_panels;     /* 1 .. BF_WAITS_MOST_PANELS: small multiples on the same axes          */
    bf_waits_panel panel[BF_WAITS_MOST_PANELS];
} bf_waits_view;

/* Of ten waits, how many are still going: step in ink, ticks where rigs were lifted early, the 80 % band with a dashed
 * edge, a ring and a dashed line at the median. A curve ends with its last step: later nothing is known. */
BF_CHECK bf_status bf_picture_waits(const bf_waits_view *view, char *svg, size_t most, bf_picture *picture);

/* ---- is it slowing ---- */

#define BF_CATCH_MOST 2000
#define BF_CATCH_MOST_RATES 512

typedef struct bf_catch_view {
    int look;
    double width_mm;
    double from_ms, to_ms; /* from < to                                                       */
    int east_min;
    int n_fish, n_feeds;      /* 0 .. BF_CATCH_MOST                                              */
    const double *fish_ms;    /* (in n_fish) in order, within from .. to                         */
    const double *feed_ms;    /* (in n_feeds) in order, within from .. to                        */
    int n_rates;              /* 0: no lower panel; else 2 .. BF_CATCH_MOST_RATES                */
    const double *rate_ms;    /* (in n_rates) rising, within from .. to                          */
    const double *rate_per_h; /* (in n_rates * BF_N_DECILES) deciles of the rate at [k * BF_N_DECILES + j], */
                              /* not falling with j, 0 .. 1e6                                               */
} bf_catch_view;

/* Fish so far as a step with marks where feed went in and the straight line of the session's mean; below, on the same clock,
 * the moving rate as four strips in each other and a dashed middle. */
BF_CHECK bf_status bf_picture_catch(const bf_catch_view *view, char *svg, size_t most, bf_picture *picture);

/* ---- what may be, as twenty dots ---- */

#define BF_N_DOTS 20

/* BF_SCALE_COUNT: log(1 + x), so that 0 has a place beside 1, 2, 5, 10. */
typedef enum bf_scale { BF_SCALE_LINEAR, BF_SCALE_LOG, BF_SCALE_COUNT } bf_scale;

typedef struct bf_dots_view {
    int look;
    double width_mm;
    int scale;               /* bf_scale                                                          */
    int is_book;             /* hollow dots: only the book's value; solid: moved by what was logged */
    double value[BF_N_DOTS]; /* equally likely, not falling: the quantiles (k + 1/2) / 20;        */
                             /* |value| <= 1e9, >= 1e-4 for LOG, >= 0 for COUNT                       */
    double axis_lo, axis_hi; /* lo < hi around every value, as value; both NaN: chosen            */
    int has_zero;          /* a line at no difference: 0, or 1 for LOG (a ratio)                            */
    bf_label below, above; /* what either side of that line means: "slower", "faster"                       */
    bf_label quantity;     /* "fish an hour"                                                                */
    int n_seen; /* observations behind it, shown as "n 29"; -1: unsaid; 0 .. BF_FEW - 1: "too early to */
                /* say" in the place of the dots, value unread                                    */
} bf_dots_view;

/* Twenty dots stacked on an axis, each 1 chance in 20, the tenth ringed. Columns are as wide as a dot and begin at the zero
 * line if there is one, so that dots on either side of it can be counted. */
BF_CHECK bf_status bf_picture_dots(const bf_dots_view *view, char *svg, size_t most, bf_picture *picture);

/* ---- did a change help ---- */

typedef struct bf_change_side {
    bf_label name;               /* "before: hard four"                              */
    int n_seen;                  /* >= 0; under BF_FEW: "too early to say"           */
    double decile[BF_N_DECILES]; /* not falling, 0 .. 1e9; read when n_seen >= BF_FEW */
} bf_change_side;

typedef struct bf_change_view {
    int look;
    double width_mm;
    bf_label quantity;      /* "fish an hour"                                          */
    bf_change_side side[2]; /* before, after                                           */
    double better_frac;     /* chance that the second is the higher, 0 .. 1; NaN: unsaid */
} bf_change_view;

/* Before over after on one axis, each a gauge of four strips in each other with its middle, and a dashed line from middle
 * to middle. */
BF_CHECK bf_status bf_picture_change(const bf_change_view *view, char *svg, size_t most, bf_picture *picture);

/* ---- the sheet ---- */

#define BF_SHEET_SENTENCES 3
#define BF_SHEET_MOST_FEEDS 5
#define BF_SHEET_MOST_NETS 4
#define BF_SHEET_TEXT_BYTES 240

typedef struct bf_sheet_feed {
    bf_label name;
    int n[BF_N_OUTCOMES]; /* 0 .. 999 each */
} bf_sheet_feed;

typedef struct bf_sheet_net {
    bf_label name, guessed, weighed; /* "1", "36 lb (31-41)", "38 lb 4 oz"; "" where there is none */
} bf_sheet_net;

typedef struct bf_sheet_view {
    bf_label place, day; /* "Withy Pool, peg 14", "Thu 26 Nov 2026"                                  */
    int is_invented;     /* says so                                                                  */
    char sentence[BF_SHEET_SENTENCES][BF_SHEET_TEXT_BYTES]; /* UTF-8, ended by a 0 byte; "": left out    */
    bf_timeline_view timeline; /* look and width_mm of these three are not read                          */
    bf_waits_view waits;       /* n_panels 0: left out                                                   */
    bf_catch_view fish;
    int n_feeds, n_nets; /* 0 .. BF_SHEET_MOST_FEEDS, BF_SHEET_MOST_NETS                                 */
    bf_sheet_feed feed[BF_SHEET_MOST_FEEDS];
    bf_sheet_net net[BF_SHEET_MOST_NETS];
    char try_next[BF_SHEET_TEXT_BYTES]; /* the one thing to try; "": left out                            */
    bf_label version;                   /* "Baitfall 0.2.0"                                              */
} bf_sheet_view;

/* The review on one page of A5 upright (148 x 210 mm), black on white, drawn at 0.72 so that letters are 2.9 mm
 * (8 pt). Sentences wrap to two lines; what is longer is cut with "...". */
BF_CHECK bf_status bf_picture_sheet(const bf_sheet_view *view, char *svg, size_t most, bf_picture *picture);

#ifdef __cplusplus
}
#endif
#endif
