/* by_hand.h -- a fold put together by hand, with its entries, for the tests of match arithmetic. Test code only. */
#ifndef BAITFALL_TESTS_BY_HAND_H
#define BAITFALL_TESTS_BY_HAND_H

#include "baitfall/match.h"
#include "common/check.h"

#define MOST 6000
#define SESSIONS_MOST 80
#define MINUTE_MS 60000.0
#define HOUR_MS 3600000.0

static struct {
    bf_live live[MOST];
    bf_drop drop[MOST];
    bf_put_in put_in[MOST];
    bf_stretch stretch[MOST];
    bf_session session[SESSIONS_MOST];
    bf_fold fold;
    double t_ms;
    int net;
} made;

static inline bf_session *session_now(void) {
    return &made.session[made.fold.n_sessions - 1];
}

static inline void start_again(void) {
    memset(&made.fold, 0, sizeof made.fold);
    made.fold.live = made.live;
    made.fold.drop = made.drop;
    made.fold.put_in = made.put_in;
    made.fold.stretch = made.stretch;
    made.fold.session = made.session;
    made.t_ms = 1e12;
}

static inline bf_live *add_live(int kind) {
    assert_true(made.fold.n_live < MOST);
    bf_live *live = &made.live[made.fold.n_live++];
    memset(live, 0, sizeof *live);
    live->kind = kind;
    live->session = made.fold.n_sessions - 1;
    live->t_ms = made.t_ms;
    live->body.count = live->body.volume_m3 = live->body.mass_kg = NAN;
    live->body.net = -1;
    session_now()->live_to = made.fold.n_live;
    session_now()->last_ms = made.t_ms;
    return live;
}

static inline void open_session(int venue, double limit_kg) {
    assert_true(made.fold.n_sessions < SESSIONS_MOST);
    bf_session *session = &made.session[made.fold.n_sessions++];
    memset(session, 0, sizeof *session);
    made.t_ms += 1e8;
    session->venue = venue;
    session->peg = session->plan = session->nets = session->close_live = -1;
    session->net_limit_kg = limit_kg;
    session->hours = session->target_kg = session->closed_ms = session->temp_c = NAN;
    session->opened_ms = made.t_ms;
    session->live_from = made.fold.n_live;
    session->drop_from = session->drop_to = made.fold.n_drops;
    session->put_from = session->put_to = made.fold.n_put_ins;
    session->stretch_from = session->stretch_to = made.fold.n_stretches;
    made.net = 0;
    session->open_live = made.fold.n_live;
    add_live(BF_OPEN);
}

#endif
