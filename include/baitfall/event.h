/* event.h -- one line of a journal: something that happened at the water, as it was entered.
 *
 * An event never changes once it is written. What was wrong is put right by further events: `cross` takes one
 * out, `restore` puts it back, `fix` says other values for some of its fields. A journal is a set of events;
 * fold.h makes its state of them. text/ reads and writes the lines (journal.h); the line format is in
 * docs/formats.md.
 *
 * Times are whole milliseconds since 1970-01-01 UTC in a double, exact; beside an instant stands the offset
 * of the local clock then. Names (spots, baits, species, venues, plans) are text outside the core: a field of
 * kind BF_REF holds the name's number in the journal's list of names, -1 when not given. Notes stay outside
 * too.
 *
 * Tests: tests/record/event_test.c
 */
#ifndef BAITFALL_EVENT_H
#define BAITFALL_EVENT_H

#include "baitfall/choice.h"
#include "baitfall/field.h"

#ifdef __cplusplus
extern "C" {
#endif

/* X(name, word): what kinds there are. */
#define BF_EVENT_LIST(X)                                                                                     \
    X(BF_OPEN, "open")                                                                                       \
    X(BF_CLOSE, "close")                                                                                     \
    X(BF_PLUMB, "plumb")                                                                                     \
    X(BF_WATER, "water")                                                                                     \
    X(BF_BOX, "box")                                                                                         \
    X(BF_FEED, "feed")                                                                                       \
    X(BF_LOWER, "lower")                                                                                     \
    X(BF_TOUCH, "touch")                                                                                     \
    X(BF_LIFT, "lift")                                                                                       \
    X(BF_NET, "net")                                                                                         \
    X(BF_TALLY, "tally")                                                                                     \
    X(BF_LOOK, "look")                                                                                       \
    X(BF_ADVICE, "advice")                                                                                   \
    X(BF_ASK, "ask")                                                                                         \
    X(BF_NOTE, "note")                                                                                       \
    X(BF_CLOCK, "clock")                                                                                     \
    X(BF_CROSS, "cross")                                                                                     \
    X(BF_RESTORE, "restore")                                                                                 \
    X(BF_FIX, "fix")

typedef enum bf_event_kind {
#define BF_EVENT_NAME(name, word) name,
    BF_EVENT_LIST(BF_EVENT_NAME)
#undef BF_EVENT_NAME
        BF_N_EVENT_KINDS
} bf_event_kind;

/* The words in order, NULL-ended; static. */
extern const char *const bf_event_words[];

/* How a drop ended. `touch` is no ending: it is in the list so that counts have one place for each of the six
 * buttons. */
typedef enum bf_outcome {
    BF_LANDED,
    BF_LOST,
    BF_MISSED,
    BF_FOUL,
    BF_NOTHING,
    BF_TOUCHED,
    BF_N_OUTCOMES
} bf_outcome;

/* Where the hook had hold. */
typedef enum bf_held {
    BF_LIP_TOP_MIDDLE,
    BF_LIP_TOP_SIDE,
    BF_LIP_BOTTOM,
    BF_CORNER,
    BF_OUTSIDE,
    BF_BODY,
    BF_N_HELD
} bf_held;

/* A guess at a fish's weight in one tap: under half a pound, about one, about two, four and more. */
typedef enum bf_size { BF_UNDER_HALF_LB, BF_ONE_LB, BF_TWO_LB, BF_FOUR_LB, BF_N_SIZES } bf_size;

/* The angler's eye on the feed left; what was advised; what became of it: done, something else done, nothing
 * done. */
typedef enum bf_eye { BF_EYE_LESS, BF_EYE_RIGHT, BF_EYE_MORE, BF_N_EYES } bf_eye;
typedef enum bf_what { BF_WHAT_FEED, BF_WHAT_WAIT, BF_WHAT_MOVE, BF_N_WHATS } bf_what;
typedef enum bf_done { BF_DONE_DID, BF_DONE_OTHER, BF_DONE_NO, BF_N_DONES } bf_done;

/* Their words in order, as lines have them; NULL-ended, static. bf_outcome_words ends before BF_TOUCHED. */
extern const char *const bf_outcome_words[], *const bf_held_words[], *const bf_size_words[];
extern const char *const bf_eye_words[], *const bf_what_words[], *const bf_done_words[];

#define BF_NETS_MOST 20                /* keepnets                       */
#define BF_SEQ_MOST 9007199254740991.0 /* 2^53 - 1: exact in a double    */
#define BF_EVENT_PM_MOST_S 86400.0     /* give or take of an instant     */

/* 128 random bits, the first 64 first; all zero: none. */
typedef struct bf_id {
    uint64_t high, low;
} bf_id;

/* -1, 0 or 1 as a < b, a = b, a > b. */
int bf_id_order(bf_id a, bf_id b);

/* What an event says. A kind has some of these fields (bf_event_fields); numbers not given are NaN, counts,
 * choices and names -1. */
typedef struct bf_body {
    /* where and with what */
    int spot, hook_bait, bait, species; /* names */
    int venue, peg, plan;               /* names */
    /* a put-in; several baits of one put-in share `put` */
    int put;
    double count, volume_m3, fill_frac;
    double pot_m3; /* struck volume of the pot that fill_frac is a part of */
    double mass_kg;
    int how; /* bf_how */
    double over_s, wide_m;
    /* a drop */
    int n;           /* touches at once */
    int outcome;     /* bf_outcome without BF_TOUCHED */
    int held;        /* bf_held */
    int size;        /* bf_size */
    double guess_kg; /* the angler's guess at this fish; mass_kg is from scales */
    /* nets and the session */
    int net;  /* 1 .. 20 */
    int nets; /* how many there are */
    double net_limit_kg, target_kg, hours;
    /* a stretch not logged tap by tap */
    double from_ms, to_ms;
    int landed, lost, missed, foul, nothing, touch;
    /* the angler's eye on the feed left; advice */
    int eye;          /* bf_eye */
    double shown;     /* pieces the angler was shown as left */
    int what;         /* bf_what */
    int done;         /* bf_done */
    double odds_frac; /* chance said of a fish landed before the next look */
    double look_s;    /* that look, from the advice on */
    /* the water */
    double distance_m, side_m, depth_m;
    int bottom; /* bf_bottom */
    double temp_c, wind_m_s, wind_height_m, wind_side_deg, fetch_m, surface_drift_m_s, undertow_m_s;
    /* the clock */
    double jump_s;      /* clock: by how much the wall clock had jumped, forward above 0 */
    double at_ms, pm_s; /* fix: the corrected instant and its give or take */
} bf_body;

typedef struct bf_event {
    bf_id id;
    bf_id of;                      /* cross, restore, fix: the event meant; else zero */
    bf_id session;                 /* the id of the session's `open`                  */
    uint32_t dev;                  /* device                                          */
    uint32_t run;                  /* one start of the program on it                  */
    double seq;                    /* whole, one more than the largest seen, >= 0     */
    double mono_ms;                /* monotonic, since the run started; NaN: no such clock */
    int kind;                      /* bf_event_kind                                   */
    double at_ms;                  /* when it happened, by the clock it was entered with */
    double rec_ms;                 /* when it was entered, by the same clock          */
    int at_east_min, rec_east_min; /* local clock minus UTC               */
    double pm_s;                   /* give or take of at_ms, half-width of 80 %       */
    bf_body body;
    uint64_t
        digest; /* of the whole line, names and note included: events that differ only in a note differ here */
} bf_event;

/* Every field of a body, in the order of lines: one row a field. Units and ranges as in any table. */
extern const bf_table bf_body_table;

/* Which fields of bf_body_table a kind has, as a bit set (bit i: field i). close, ask, note, cross and
 * restore: none; fix: all but jump_s, which only `clock` has. */
uint64_t bf_event_fields(int kind);

/* Fields that must be given for a kind: box, feed: bait; lift: outcome; net: net; tally: from, to; look: eye;
 * advice: what; clock: jump_s. */
uint64_t bf_event_must(int kind);

/* 1 for cross, restore and fix: about another event, not about the water. */
int bf_event_is_correction(int kind);

/* 1 for an entry of no device (dev 0): a rehearsal made it (rehearse.h). No store takes it, and nothing is learned from it. */
int bf_event_is_simulated(const bf_event *event);

/* Order of entry, by which corrections are resolved: seq, then dev, then id. -1, 0 or 1. */
int bf_event_seq_order(const bf_event *a, const bf_event *b);

/* A body with nothing given. */
void bf_body_start(bf_body *body);

/* 1 when field i of the body is given. */
int bf_body_has(const bf_body *body, int i_field);

/* Takes over every field that `fix` gives and the kind has (but at_ms and pm_s, which belong to the event).
 * In a feed or box an amount given takes the place of any other amount. */
void bf_body_fix(bf_body *body, int kind, const bf_body *fix);

/* Checks an event: its kind has the fields that are given, has those it must, each in range; amounts at most
 * one of count, volume, fill (feed, fix) or count, volume, mass (box); `to` not before `from` and at most a
 * day after; id and session not zero; cross, restore and fix have `of`, other kinds have not; seq whole in
 * [0, BF_SEQ_MOST], mono_ms there too or NaN; instants whole and in [BF_INSTANT_LEAST_MS,
 * BF_INSTANT_MOST_MS]; offsets less than a day; pm_s in [0, BF_EVENT_PM_MOST_S]. First failing check wins:
 * the envelope, then the fields in order.
 *
 * Returns BF_OK, BF_E_KEY (a field the kind has not; `of` where it has no place), BF_E_MISSING, BF_E_TWICE (a
 * second amount), BF_E_RANGE, BF_E_NOT_FINITE, BF_E_CHOICE (a word or kind that is none); *i_field (may be
 * NULL) is the field of bf_body_table, -1: outside the body. */
BF_CHECK bf_status bf_event_check(const bf_event *event, int *i_field);

#ifdef __cplusplus
}
#endif
#endif
