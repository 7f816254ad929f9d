/* bedded.h -- what the files that answer "bed" share: bed.c (the request, its job, the verb), bed_scene.c (what baits, pots and
 * places make of the record), bed_told.c (what is known, in sentences; notes), bed_reckoned.c (what the model believes), bed_draw.c
 * (pictures). Internal to text/. */
#ifndef BFI_BEDDED_H
#define BFI_BEDDED_H

#include "baitfall/bed_picture.h"
#include "baitfall/plan.h"
#include "text/kit.h"
#include "text/learned.h"
#include "text/read.h"
#include "text/told.h"

#define BFI_BED_WHAT "A model that starts from guesses and learns from your log. Not a measurement."

enum { BFI_BED_LEFT, BFI_BED_FISH, BFI_BED_ABOVE, BFI_BED_N_PICTURES };

/* How far back the series goes, and how close its points stand. */
#define BFI_BED_SPAN_S 5400.0
#define BFI_BED_EVERY_S 120.0

/* Where put-ins of one bait by one way at one spot lie, as the feed room's model has it. */
#define BFI_BED_PATCHES 64
typedef struct bfi_patch {
    int spot, feed, how;
    double told_wide_m; /* on the surface, as entered; NaN */
    double wide_m;      /* on the bottom, nine pieces in ten; NaN: no answer */
    double sinks_frac;
} bfi_patch;

/* Drops at the spot since something. */
typedef struct bfi_bed_drops {
    int n, n_touches, count[BF_N_OUTCOMES];
} bfi_bed_drops;

/* One put-in at the spot: all baits that went in together. */
typedef struct bfi_bed_put {
    double t_s;
    int first, last; /* events from .. to of the story; those of the put-in among them */
    int how;
    double pieces;
} bfi_bed_put;

typedef struct bfi_bedded {
    bfi_ask *ask;
    int i_session;
    const bf_session *session; /* NULL: none in the journal */
    double at_ms, begins_ms;
    int is_cut, is_after_close; /* at was moved to the session's end */
    int look;
    int wants[BFI_BED_N_PICTURES];
    int wants_summary;
    /* what the request brings along */
    struct bfi_bed_told {
        bfi_kit kit;
    } told;
    bfi_names kit_names, plan_names;
    bfi_reader reader;
    int has_plan;
    bf_plan plan;
    bfi_learned_from learned_from;
    int n_here, n_elsewhere; /* sessions learned from */
    /* the scene */
    bf_swim_scene scene;
    bf_story_names names;
    int has_aim[BF_SWIM_MOST_SPOTS]; /* the miss is the plan's rig's, not a start value */
    int n_patches;
    bfi_patch patch[BFI_BED_PATCHES];
    int n_by_pot; /* put-ins whose pieces a pot's or a volume's model tells */
    /* the story */
    int n_put_ins, n_events, most_events;
    bf_story_put *put;    /* (n_put_ins) */
    bf_swim_event *event; /* (most_events) */
    bf_turnaround turnaround;
    bf_belief_job job;
    int n_puts;        /* at the spot */
    bfi_bed_put *puts; /* (n_put_ins), in order of time */
    bf_bed bed;
    int is_not_drawn; /* a picture that was asked for */
    void *spare;
} bfi_bedded;

/* bed.c. The request and its job, in ask->spare; as the verb's begin and spare_bytes. */
BF_CHECK bf_status bfi_bed_begin(bfi_ask *ask);
size_t bfi_bed_spare_bytes(const bf_journal *journal);
size_t bfi_bed_bytes_of(int n_events); /* for a journal of so many */
/* The put-ins at the spot asked about, from the story's events. */
void bfi_bed_gather_puts(bfi_bedded *b);
void bfi_json_bed_session(bfi_json *out, const bfi_bedded *b); /* "session" to "what" */

/* bed_scene.c. The scene that the session is fished in, and what its put-ins come to. */
BF_CHECK bf_status bfi_bed_read(bfi_bedded *b); /* kit and plan of the request */
void bfi_bed_scene(bfi_bedded *b);
size_t bfi_bed_scene_bytes(void); /* of spare */
/* What a put-in of the session comes to in that scene. */
bf_story_put bfi_bed_comes_to(bfi_bedded *b, const bf_put_in *put);
const bf_bait *bfi_bed_bait(const bfi_bedded *b, const char *text, int is_hook); /* NULL: nobody knows it */
bf_swim_feed bfi_bed_feed(const bf_bait *bait, double temp_c);
bf_swim_hook bfi_bed_hook(const bf_bait *bait);

/* bed_told.c */
const char *bfi_bed_name(const bfi_bedded *b, int name); /* of the journal */
double bfi_bed_ms(const bfi_bedded *b, double t_s);
bfi_bed_drops bfi_bed_drops_in(const bfi_bedded *b, double from_s, double to_s);
void bfi_put_bed_put(bfi_pen *pen, const bfi_bedded *b, const bfi_bed_put *put); /* "pot, hard four" */
void bfi_put_bed_put_counts(bfi_pen *pen, const bfi_bedded *b,
                            const bfi_bed_put *put);                            /* "55 hard four, tipped" */
void bfi_put_bed_in(bfi_pen *pen, const bfi_bedded *b, const bfi_bed_put *put); /* "55", "150" when by pot */
void bfi_put_bed_drops(bfi_pen *pen, const bfi_bed_drops *drops); /* "3 drops: 1 fish, 2 missed" */
double bfi_reckoned(double number); /* whole; from a hundred on to two figures: it is only reckoned */
void bfi_put_pieces_between(bfi_pen *pen, bf_range range); /* "30-45" */
void bfi_json_bed_known(bfi_json *out, const bfi_bedded *b);
void bfi_json_bed_notes(bfi_json *out, const bfi_bedded *b);

/* bed_reckoned.c. A spot's "left" and "fish"; then "left" to "series" */
void bfi_json_bed_spot(bfi_json *out, const bfi_bedded *b, int spot, double fed);
void bfi_json_bed_reckoned(bfi_json *out, const bfi_bedded *b);

/* bed_draw.c. "pictures":{...}; before the notes, which say what could not be drawn. */
void bfi_json_bed_pictures(bfi_json *out, bfi_bedded *b);
size_t bfi_bed_draw_bytes(void);

#endif
