/* angler.h -- an angler who fishes a world by a rule, and may think of another rule whenever the rig is out; what was landed, and the journal.
 *
 * A put-in by hand or pot waits until the rig is out; thrown feed goes in over it. The rig is lifted after BLANK_S without a bite. Bites that
 * are not entered, or under another word, are drawn by the world's shares, each second's own luck. */
#ifndef BAITFALL_TESTS_WORLDS_ANGLER_H
#define BAITFALL_TESTS_WORLDS_ANGLER_H

#include "worlds/world.h"

#define SESSION_S (3600.0 * SESSION_HOURS)
#define BLANK_S 150.0
enum { SESSION_HOURS = 3, JOURNAL_MOST = 4096 };

typedef struct rule {
    int spot, hook, feed, how; /* feed -1: nothing is put in */
    double count, every_s;
    int after_bite; /* 1: only once there was a bite since the last put-in */
    double pause_s; /* nothing goes in before this instant of the session  */
} rule;

typedef struct journal {
    bf_swim_event event[JOURNAL_MOST];
    int n;
} journal;

/* One session, or one that may be. Flat but for the journal, so a copy with none goes on by itself. */
typedef struct outing {
    const world_kind *kind;
    _Alignas(16) unsigned char world[WORLD_BYTES];
    bf_swim_scene scene;
    uint64_t seed;
    rule rule;
    double t_s;
    double put_s[WORLD_SPOTS];     /* the last put-in; -infinity: none */
    int n_since_put[WORLD_SPOTS];  /* bites entered since              */
    double bite_s;                 /* the last bite entered; 0: none   */
    double end_s;                  /* what is landed later is not counted */
    int landed[SESSION_HOURS + 1]; /* by hour, in truth; the last: all later hours */
    int n_puts;
    double fed_kg;
    journal *journal; /* NULL: nothing is kept */
} outing;

typedef struct strategy {
    void (*decide)(void *self, outing *o); /* the rig is out; may change o->rule */
    void *self;
} strategy;

/* The rig is out, nothing has happened. journal may be NULL. */
void outing_open(outing *o, const world_kind *kind, uint64_t seed, journal *kept);

/* Fishes until end_s; the last drop may end a little later. strategy NULL: the rule stays. */
void outing_fish(outing *o, const strategy *by, double end_s);

/* Puts in now, with the rig out; a pot takes its time. */
void outing_put_in(outing *o, int spot, int feed, int how, double count);

/* Landed from the beginning. */
int outing_landed(const outing *o);

/* Seconds until the rig can go in again, by outcome: judgement. */
double outing_busy_s(int outcome);

#endif
