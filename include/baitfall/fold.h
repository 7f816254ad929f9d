/* fold.h -- from events to what was so: corrections, order, waits, put-ins, sessions. A pure function of a set of events.
 *
 * The order in which events are given, events given twice, and the devices they came from make no difference: the state
 * and its hash are the same. Events of different sessions do not touch each other.
 *
 * Corrections   are resolved first, in the order (seq, dev, id): the last `cross` or `restore` of an event decides whether it
 *               counts; each `fix` of it that is not itself crossed out replaces the fields it gives, the last one winning
 *               field by field. A cross or restore of a cross or restore means nothing and is reported (n_idle).
 * Twice         the same id with another digest is a clash: the one with the smaller digest counts, both are reported.
 * Clock         within a session each device's clock is put right in the order of seq: all `clock` events before an event
 *               take their jumps off its instants; should a device's time of entry still go back by more than 2 s (a clock set back between
 *               two runs), it stands still instead. Gaps stay right; which of two clocks was right is for a `fix` to say.
 * Order         live events sort by corrected instant, then (seq, dev, id).
 * Waits         `lower` starts a wait, `lift` ends it. Without `lower` a wait starts at the last lift or put-in by clump or sprinkle, plus
 *               the angler's learned turnaround (bf_turnaround), which is not added here: base_ms is that lift or put-in. The next
 *               `lower`, or a `feed` by clump or sprinkle, ends an open wait with BF_NOTHING; throw and hand do not. A wait that nobody
 *               saw start counts as ended so only when the `feed` comes BF_TURNAROUND_HI_S or more after its base: sooner, the rig was
 *               not in yet, and there is no drop. A lift without a hook bait carries the last known one forward, a lift, lower or feed without a
 *               spot the last known spot. `touch` adds to the open wait. With a `lower` pending, feed by clump or sprinkle after it ends that wait.
 * Open wait     the last wait of a session that is still open has end_event -1 and ends at the last event's instant; it
 *               is censored there.
 *
 * Memory: the caller's; events are not copied (bf_live has the body as corrected).
 * Tests: tests/record/fold_test.c
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
    double from_ms, to_ms;
    int count[BF_N_OUTCOMES];
} bf_stretch;

typedef struct bf_session {
    bf_id id;
    int open_live, close_live;             /* -1: none */
    double opened_ms;                      /* of `open`, else of the first live event; NaN: all crossed out */
    double closed_ms;                      /* of `close`; NaN: open */
    double last_ms;                        /* last live event  */
    int east_min;                          /* local clock minus UTC of the first live event */
    int venue, peg, plan;                  /* names, -1 */
    double hours, target_kg, net_limit_kg; /* NaN: not told */
    int nets;                              /* -1: not told */
    int live_from, live_to;                /* its events in fold.live: from <= i < to */
    int drop_from, drop_to, put_from, put_to, stretch_from, stretch_to;
    int count[BF_N_OUTCOMES]; /* drops, touches and stretches together; an open wait is not counted */
    double temp_c;            /* last water temperature measured, NaN */
} bf_session;

/* Two live events of one kind and spot within 30 s from two devices: perhaps the same fish entered twice. */
typedef struct bf_twin {
    int a, b; /* indices into fold.live, a before b */
} bf_twin;

typedef struct bf_fold {
    int n_live, n_drops, n_put_ins, n_stretches, n_sessions, n_twins, n_clashes;
    int n_known;   /* events given a second time, byte for byte */
    int n_idle;    /* cross, restore or fix of nothing known, or of a cross or restore */
    bf_live *live; /* by session, then in order        */
    bf_drop *drop; /* by session, then by end          */
    bf_put_in *put_in;
    bf_stretch *stretch;
    bf_session *session; /* by opened_ms, then id            */
    bf_twin *twin;
    int *by_id;    /* indices into live in the order of ids */
    uint64_t hash; /* of everything that is live: see bf_fold_hash */
} bf_fold;

/* Bytes of memory, 16-aligned, for so many events. */
size_t bf_fold_bytes(int n_events);

/* Folds n events (in any order; each passed bf_event_check). name_keys (in n_names): a hash of each name's text, so that the state's
 * hash does not depend on how names are numbered. memory must outlive *fold. O(n log n).
 *
 * Returns BF_OK; n = 0 gives an empty fold. */
BF_CHECK bf_status bf_fold_events(const bf_event *events, int n, const uint64_t *name_keys, int n_names,
                                  void *memory, bf_fold *fold);

/* Start values of the turnaround, s: 45, give or take 20 (common practice, no source). */
#define BF_TURNAROUND_S 45.0
#define BF_TURNAROUND_HI_S 65.0

/* How long from a lift or a put-in until the rig is in again: learned from waits that did start with a `lower` (gaps
 * of 3 s to 10 min), a log-normal whose start value, 45 s give or take 20 (common practice, no source), weighs as much as four gaps. */
typedef struct bf_turnaround {
    double mid_s, lo_s, hi_s; /* of one gap: 50, 10 and 90 % */
    int n;                    /* gaps seen */
} bf_turnaround;
bf_turnaround bf_turnaround_of(const bf_fold *fold);

/* A drop's wait in seconds, 0.5 at least, with the turnaround where it was not seen to start, and its give or take; NaN when unknown.
 * *is_event: 1 when it ended with a bite (landed, lost, missed, foul), 0 when lifted, implied or still open. */
double bf_drop_wait_s(const bf_drop *drop, const bf_turnaround *turnaround, double *pm_s, int *is_event);

/* The session that is open (opened last and not closed), -1. */
int bf_fold_open_session(const bf_fold *fold);

/* The index of the live entry of an id, -1. */
int bf_fold_find(const bf_fold *fold, const bf_event *events, bf_id id);

#ifdef __cplusplus
}
#endif
#endif
