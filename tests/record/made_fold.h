/* made_fold.h -- a fold put together by hand, one session at a time, for the tests of what reads folds. Test code only. */
#ifndef BAITFALL_TESTS_MADE_FOLD_H
#define BAITFALL_TESTS_MADE_FOLD_H

#include "baitfall/choice.h"
#include "baitfall/fold.h"
#include "common/check.h"

#define MADE_MOST 4000

typedef struct made_fold {
    bf_fold fold;
    bf_drop drop[MADE_MOST];
    bf_put_in put_in[MADE_MOST];
    bf_stretch stretch[64];
    bf_session session[400];
    bf_turnaround turnaround;
} made_fold;

/* 2026-04-12 09:00 UTC */
#define MADE_START_MS 1775984400000.0

static inline void made_start(made_fold *m) {
    memset(m, 0, sizeof *m);
    m->fold.drop = m->drop;
    m->fold.put_in = m->put_in;
    m->fold.stretch = m->stretch;
    m->fold.session = m->session;
    m->turnaround = (bf_turnaround){45, 31, 65, 0};
}

/* Opens a session at so many seconds; those before it are closed by it. */
static inline bf_session *made_session(made_fold *m, double at_s, double hours) {
    bf_session *s = &m->session[m->fold.n_sessions++];
    double from_ms = MADE_START_MS + 1000 * at_s, to_ms = from_ms + 3.6e6 * hours;
    *s = (bf_session){.opened_ms = from_ms,
                      .closed_ms = to_ms,
                      .last_ms = to_ms,
                      .venue = -1,
                      .peg = -1,
                      .temp_c = BF_NAN,
                      .drop_from = m->fold.n_drops,
                      .drop_to = m->fold.n_drops,
                      .put_from = m->fold.n_put_ins,
                      .put_to = m->fold.n_put_ins,
                      .stretch_from = m->fold.n_stretches,
                      .stretch_to = m->fold.n_stretches};
    return s;
}

static inline bf_session *made_last_session(made_fold *m) {
    return &m->session[m->fold.n_sessions - 1];
}

/* A put-in so many seconds after the session's start. */
static inline void made_feed(made_fold *m, double at_s, int bait, int how) {
    int i = m->fold.n_put_ins++;
    m->put_in[i] = (bf_put_in){.session = m->fold.n_sessions - 1,
                               .t_ms = made_last_session(m)->opened_ms + 1000 * at_s,
                               .spot = -1,
                               .bait = bait,
                               .how = how,
                               .first = i};
    made_last_session(m)->put_to = m->fold.n_put_ins;
}

/* A drop seen to start wait_s before it ended, so many seconds after the session's start, over the last put-in. */
static inline bf_drop *made_drop(made_fold *m, double end_s, double wait_s, int outcome) {
    bf_session *s = made_last_session(m);
    bf_drop *drop = &m->drop[m->fold.n_drops++];
    *drop = (bf_drop){.session = m->fold.n_sessions - 1,
                      .start = BF_START_LOWER,
                      .end_live = 0,
                      .base_ms = s->opened_ms + 1000 * (end_s - wait_s),
                      .end_ms = s->opened_ms + 1000 * end_s,
                      .outcome = outcome,
                      .spot = -1,
                      .hook_bait = -1,
                      .species = -1,
                      .held = -1,
                      .size = -1,
                      .mass_kg = BF_NAN,
                      .guess_kg = BF_NAN,
                      .first_touch_ms = BF_NAN,
                      .put = s->put_to > s->put_from ? s->put_to - 1 : -1};
    s->drop_to = m->fold.n_drops;
    s->count[outcome]++;
    return drop;
}

/* A tallied stretch with so many landed. */
static inline void made_stretch(made_fold *m, double from_s, double to_s, int landed) {
    bf_session *s = made_last_session(m);
    bf_stretch *stretch = &m->stretch[m->fold.n_stretches++];
    *stretch = (bf_stretch){.session = m->fold.n_sessions - 1,
                            .from_ms = s->opened_ms + 1000 * from_s,
                            .to_ms = s->opened_ms + 1000 * to_s};
    stretch->count[BF_LANDED] = landed;
    s->stretch_to = m->fold.n_stretches;
    s->count[BF_LANDED] += landed;
}

/* ---- Chance of the tests' own: splitmix64 ---- */

typedef struct made_chance {
    uint64_t state;
} made_chance;

static inline double made_uniform(made_chance *c) {
    uint64_t z = c->state += 0x9e3779b97f4a7c15u;
    z = (z ^ z >> 30) * 0xbf58476d1ce4e5b9u;
    z = (z ^ z >> 27) * 0x94d049bb133111ebu;
    return ((double)((z ^ z >> 31) >> 11) + 0.5) / 9007199254740992.0;
}

static inline double made_exponential(made_chance *c, double mean) {
    return -mean * log(made_uniform(c));
}

/* Poisson by counting exponentials. */
static inline int made_poisson(made_chance *c, double mean) {
    int n = 0;
    for (double t = made_exponential(c, 1); t < mean; t += made_exponential(c, 1)) n++;
    return n;
}

#endif
