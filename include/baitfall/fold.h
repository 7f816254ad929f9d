/* fold.h -- from events to what was so: corrections, order, waits, put-ins, sessions. A pure function of a
 * set of events.
 *
 * The order in which events are given, events given twice, and the devices they came from make no difference:
 * the state and its hash are the same. Events of different sessions do not touch each other.
 *
 * Corrections   are resolved first, in the order (seq, dev, id): the last `cross` or `restore` of an event
 *               decides whether it counts; each `fix` of it that is not itself crossed out replaces the
 *               fields it gives and the kind has, the last one winning field by field (event.h, bf_body_fix).
 *               Crossing out a fix is how a fix is undone. A correction of nothing known, of an event of
 *               another session, of a cross or restore, and a fix of a fix mean nothing and are counted
 *               (n_idle).
 * Twice         the same id with another digest is a clash: the one with the smallest digest counts, its
 *               entry says is_clash, n_clashes counts the others.
 * Clock         within a session each device's clock is put right in the order of seq: all `clock` events up
 *               to an event take their jumps off its instants, those of its body too. Should a device's time
 *               of entry still go back by more than 2 s (a clock set back between two runs), it stands still
 *               instead, and goes on from there until the clock has caught up. Gaps stay right; which of two
 *               clocks was right is for a `fix` to say. A clock set forward between two runs looks like a
 *               rest. mono_ms is not read: whoever writes `clock` events has read it. A jump told within a minute
 *               by another run of the device, the same within 2 s, is the same jump. Crossing out a `clock`
 *               undoes it.
 * Order         live events sort by corrected instant, then (seq, dev, id).
 * Waits         `lower` starts a wait, `lift` ends it. Without `lower` a wait starts at the last lift or
 *               put-in by clump or sprinkle (how not told: clump), plus the angler's learned turnaround
 *               (bf_turnaround), which is not added here: base_ms is that lift or put-in. `touch` adds to the
 *               open wait, and shows that the rig is in.
 *               The next `lower`, a `feed` by clump or sprinkle, or `close` ends an open wait with BF_NOTHING
 *               when it began with a `lower` or had a touch. A wait that nobody saw ends so only by a `feed`
 *               that comes BF_TURNAROUND_HI_S or more after its base; sooner, the rig was not in yet, and a
 *               `lower` then only begins: there is no drop. Feed by throw and hand ends nothing.
 *               Over a `tally` nobody knows what the rig did: a wait not seen to start whose base lies before
 *               the end of such a stretch has no known start.
 * Carried on    a lift, lower or feed without a spot has the last one that a lift, lower, touch, or feed by
 *               clump or sprinkle told; a lift without a hook bait the last of a lift, lower or `open`. Only
 *               drops and put-ins have what is carried on, not the events.
 * Open wait     the last wait of a session without `close` has end_live -1 and ends at last_ms; it is
 *               censored there.
 * Counting      an event counts for last_ms and opened_ms when it is not crossed out and neither a correction
 *               nor `clock`, which tell nothing of the angler.
 *
 * Memory: the caller's; events are not copied (bf_live has the body as corrected).
 * Tests: tests/record/fold_test.c, drop_test.c
 */
#ifndef BAITFALL_FOLD_H
#define BAITFALL_FOLD_H

#include "baitfall/event.h"

#ifdef __cplusplus
extern "C" {
#endif

/* One event as corrected. Crossed-out ones are in the list, in their place, but in nothing else. */
typedef struct bf_live {
    int event;   /* its index in the events given      */
    int session; /* index into fold.session            */
    int kind;    /* bf_event_kind                      */
    double t_ms; /* instant, clock and fixes applied   */
    double pm_s;
    bf_body body; /* fixes applied, names as in the events */
    int is_crossed;
    int n_fixes;  /* live fixes of it                   */
    int is_clash; /* 1: another event has its id        */
} bf_live;

typedef enum bf_wait_start {
    BF_START_LOWER,  /* the rig was seen to go in         */
    BF_START_LIFT,   /* base_ms is the lift before        */
    BF_START_FEED,   /* base_ms is the put-in before      */
    BF_START_UNKNOWN /* nothing before it: base_ms is NaN */
} bf_wait_start;

/* One lowering of the rig. */
typedef struct bf_drop {
    int session;
    int start;      /* bf_wait_start                      */
    int start_live; /* index into fold.live, -1: unknown  */
    int end_live;   /* the lift, or what implied it; -1: still open */
    double base_ms; /* see bf_wait_start                  */
    double base_pm_s;
    double end_ms, end_pm_s;
    int is_implied;                           /* ended without a lift               */
    int outcome;                              /* bf_outcome; BF_NOTHING when implied or open */
    int spot, hook_bait, species, held, size; /* -1: not told */
    double mass_kg, guess_kg;                 /* NaN: not told */
    int n_touches;
    double first_touch_ms; /* NaN: none */
    int net;               /* that fish go into then, 0: none named   */
    int put;               /* index into fold.put_in: the last one at this spot before base, -1 */
} bf_drop;

/* One bait of one put-in. */
typedef struct bf_put_in {
    int session, live;
    double t_ms, pm_s;
    int spot, bait, how; /* how -1: not told */
    double count, volume_m3, fill_frac, pot_m3;
    int first; /* index into put_in of the first bait of the same put-in (itself when single) */
} bf_put_in;

/* Counts of the six outcomes over a stretch. */
typedef struct bf_stretch {
    int session, live;
    double from_ms, to_ms; /* in this order, though a fix may have put one end past the other; may be equal */
    int count[BF_N_OUTCOMES];
} bf_stretch;

typedef struct bf_session {
    bf_id id;
    int open_live, close_live;             /* the first `open` and the last `close`, -1: none         */
    double opened_ms;                      /* of `open`, else of the first that counts; NaN: nothing does */
    double closed_ms;                      /* of `close`; NaN: open                                   */
    double last_ms;                        /* the last event that counts; NaN: nothing does           */
    int east_min;                          /* local clock minus UTC of the first event that counts    */
    int venue, peg, plan;                  /* names, -1 */
    double hours, target_kg, net_limit_kg; /* NaN: not told */
    int nets;                              /* -1: not told */
    int live_from, live_to;                /* its events in fold.live: from <= i < to */
    int drop_from, drop_to, put_from, put_to, stretch_from, stretch_to;
    int count[BF_N_OUTCOMES]; /* drops, touches and stretches together; an open wait is not counted;
                               * 5e8 at most */
    double temp_c;            /* last water temperature measured, NaN */
} bf_session;

/* Two live events (feed, lower, touch, lift, net) of one kind, spot and bait within 30 s from two devices:
 * perhaps the same fish entered twice. Each is held against the nearest before it, at most 64 entries back.
 * */
typedef struct bf_twin {
    int a, b; /* indices into fold.live, a before b */
} bf_twin;

typedef struct bf_fold {
    int n_live, n_drops, n_put_ins, n_stretches, n_sessions, n_twins, n_clashes;
    int n_known;   /* events given a second time: same id, same digest */
    int n_idle;    /* corrections that mean nothing                    */
    bf_live *live; /* by session, then in order        */
    bf_drop *drop; /* by session, then by end          */
    bf_put_in *put_in;
    bf_stretch *stretch;
    bf_session *session; /* by opened_ms, then id            */
    bf_twin *twin;
    int *by_id; /* indices into live in the order of ids */
    /* Of all that is live and no correction, in order: session, id, kind, instant, give or take, body as corrected, names
     * by their keys. Notes are not in it. The same set of events gives the same hash on any machine; of two different
     * states one pair in 2^64 shares it by chance. */
    uint64_t hash;
} bf_fold;

/* Bytes of memory, 16-aligned, for so many events. */
size_t bf_fold_bytes(int n_events);

/* Folds n events (in any order; each passed bf_event_check). name_keys (in n_names): a hash of each name's
 * text, so that the state's hash does not depend on how names are numbered. memory must outlive *fold. O(n
 * log n).
 *
 * Returns BF_OK; n = 0 gives an empty fold. */
BF_CHECK bf_status bf_fold_events(const bf_event *events, int n, const uint64_t *name_keys, int n_names,
                                  void *memory, bf_fold *fold);

/* Start values of the turnaround, s: 45, give or take 20 (common practice, no source). */
#define BF_TURNAROUND_S 45.0
#define BF_TURNAROUND_HI_S 65.0

/* How long from a lift or a put-in until the rig is in again: learned from waits that did start with a
 * `lower` (gaps of 3 s to 10 min), a log-normal whose start value, 45 s give or take 20 (common practice, no
 * source), weighs as much as four gaps: mean and variance of the logarithms of all of them together. */
typedef struct bf_turnaround {
    double mid_s, lo_s, hi_s; /* of one gap: 50, 10 and 90 % */
    int n;                    /* gaps seen */
} bf_turnaround;
bf_turnaround bf_turnaround_of(const bf_fold *fold);

/* A drop's wait in seconds, 0.5 at least, less the turnaround where it was not seen to start (but no later
 * than its first touch), and its give or take; NaN when unknown. *is_event: 1 when it ended with a bite
 * (landed, lost, missed, foul), 0 when lifted, implied or still open. */
double bf_drop_wait_s(const bf_drop *drop, const bf_turnaround *turnaround, double *pm_s, int *is_event);

/* When a session was fished: from its opening to its close, or to its last entry while it is open; from the first and to the
 * last of its drops' ends, put-ins and tallied stretches where those were entered as outside of that; but feed that went in after
 * the close fishes nothing. NaN: nothing in it counts. */
typedef struct bf_span {
    double from_ms, to_ms;
} bf_span;
bf_span bf_session_span(const bf_fold *fold, int session);

/* The session that is open (opened last and not closed), -1. */
int bf_fold_open_session(const bf_fold *fold);

/* How many earlier sessions are learned from: later ones count, and a year's fishing is enough. */
#define BF_FOLD_MOST_LESSONS 20

/* The sessions that can tell something of one opened at before_ms (ms since 1970; infinite: of any): opened before it, fed and
 * fished. At most `most` of them, newest first, into session (out, indices). Returns how many. */
int bf_fold_lessons(const bf_fold *fold, double before_ms, int most, int *session);

/* The index of the live entry of an id, -1. */
int bf_fold_find(const bf_fold *fold, const bf_event *events, bf_id id);

#ifdef __cplusplus
}
#endif
#endif
