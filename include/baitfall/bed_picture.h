/* bed_picture.h -- the drawings of the bed account: feed left over the last stretch, fish on it, the feed from above.
 *
 * As picture.h and record_picture.h: pure, SVG text into a caller's buffer, one sentence and a table with each, letters of
 * 4 mm that do not overlap. Ink is what was logged: put-ins with their amounts, the clock. All else is what a model with priors
 * believes (belief.h), and says so: the `reckon` colour, dashed, banded or dotted, and "Reckoned, not seen" in every title.
 *
 * A range of a belief is its 10, 50 and 90 % points. Strips between them are those of a bell curve's halves: the central 20, 40,
 * 60 and 80 % lie at 0.198, 0.409, 0.657 and 1 of the way from the middle to each end (quantiles of the normal distribution
 * over its 90 % point).
 *
 * Every function returns BF_OK or, with svg "" and *picture empty,
 *   BF_E_COUNT       n_feeds or the bed's n_points outside their bounds
 *   BF_E_NOT_FINITE  a number that is NaN or infinite where that is not said to be allowed
 *   BF_E_RANGE       a number outside what is said beside it; ranges, dots or times not in order
 *   BF_E_SPACE       svg too short; BF_BED_SVG_BYTES is enough for anything
 * svg (out most) is ended by a 0 byte; most >= 1 (asserted).
 *
 * Model: docs/models/pictures.md. Tests: tests/picture/bed_test.c
 */
#ifndef BAITFALL_BED_PICTURE_H
#define BAITFALL_BED_PICTURE_H

#include "baitfall/belief.h"
#include "baitfall/picture.h"

#ifdef __cplusplus
extern "C" {
#endif

#define BF_BED_SVG_BYTES (128 * 1024)
#define BF_BED_MOST_FEEDS 2000

/* One put-in at the spot, as logged. */
typedef struct bf_bed_feed {
    double at_ms; /* instant, ms since 1970-01-01 UTC            */
    double count; /* pieces, 0 .. 1e6; NaN: not known            */
} bf_bed_feed;

/* What is drawn. Of the bed are read: t_s, left, left_dot, fish_dot, p_many, wide_m and the points' left. Times >= 0, rising
 * or equal; ranges lo <= mid <= hi within 0 .. 1e6; dots not falling within 0 .. 1e6; wide_m at most 100, and 0 or NaN where
 * nothing lies. */
typedef struct bf_bed_view {
    int look;        /* bf_look                                           */
    double width_mm; /* 80 .. 280; the footprint is always 80 wide        */
    const bf_bed *bed;
    double start_ms; /* the instant at which the bed's t_s is 0           */
    int east_min;    /* the local clock's lead over UTC, -1440 .. 1440    */
    double span_s;   /* how far back the feed left is drawn, 600 .. 604800; 5400 as a rule */
    /* Put-ins at the spot, 0 .. BF_BED_MOST_FEEDS, in order of time, none after now; those before the stretch are counted, not
     * drawn. */
    int n_feeds;
    const bf_bed_feed *feed;
    /* Half the drops put the hook bait within this of the middle of the feed, 0 .. 100; NaN: unsaid. */
    double miss_m;
} bf_bed_view;

/* Pieces left over the last stretch: four strips in each other with a dashed middle, put-ins as stalks with their amounts, and on
 * the same scale twenty dots for now, each 1 chance in 20, the tenth ringed. A stretch is cut to the session so far (10 minutes at
 * least). Between two points the strips run straight: give a point right before a put-in and one right after. */
BF_CHECK bf_status bf_picture_bed_left(const bf_bed_view *view, char *svg, size_t most, bf_picture *picture);

/* Fish on the feed: twenty dots on an axis of log(1 + fish), with lines between few (0 to 2), some (3 to 6) and many (7 and more).
 * Dots stand on their own side of the lines, so that they can be counted; above BF_BED_MOST_FISH they stand at the end. */
#define BF_BED_MOST_FISH 50.0
BF_CHECK bf_status bf_picture_bed_fish(const bf_bed_view *view, char *svg, size_t most, bf_picture *picture);

/* The feed from above, true to scale, taken as a round heap whose density falls off as a bell curve: dashed the line that holds
 * nine pieces in ten, shaded how far off it may be; finely dashed the one that holds half, at sqrt(ln 2 / ln 10) = 0.549 of it;
 * and where the hook bait lies, as twenty dots around the middle whose distances are the quantiles (k + 1/2) / 20 of the one whose
 * half is miss_m:  r = miss_m sqrt(ln(1 - q) / ln(1/2)), each turned on by the golden angle. */
BF_CHECK bf_status bf_picture_bed_above(const bf_bed_view *view, char *svg, size_t most, bf_picture *picture);

#ifdef __cplusplus
}
#endif
#endif
