/* odds.c -- how many sessions stand behind an advice, and how often what it said came true. See baitfall/advise.h. */
#include <math.h>

#include "baitfall/advise.h"

/* Lifts that were entered one by one, and those told of a stretch; a wait whose end is implied is none. */
static int lifts_of(const bf_fold *fold, const bf_session *session) {
    int n = 0;
    for (int i = session->drop_from; i < session->drop_to; i++)
        n += !fold->drop[i].is_implied && fold->drop[i].end_live >= 0;
    for (int i = session->stretch_from; i < session->stretch_to; i++)
        for (int outcome = 0; outcome < BF_TOUCHED; outcome++) n += fold->stretch[i].count[outcome];
    return n;
}

/* The first fish landed after an instant; NaN: none. */
static double next_fish_ms(const bf_fold *fold, const bf_session *session, double after_ms) {
    for (int i = session->drop_from; i < session->drop_to; i++) {
        const bf_drop *drop = &fold->drop[i];
        if (drop->outcome == BF_LANDED && drop->end_live >= 0 && drop->end_ms > after_ms) return drop->end_ms;
    }
    return BF_NAN;
}

static void count_advice(const bf_fold *fold, const bf_session *session, const bf_live *advice,
                         double until_ms, bf_odds *odds) {
    const bf_body *body = &advice->body;
    if (advice->kind != BF_ADVICE || advice->is_crossed || body->done != BF_DONE_DID) return;
    if (!(body->odds_frac >= 0) || !(body->look_s > 0)) return;
    double look_ms = advice->t_ms + 1000 * body->look_s;
    double end_ms = session->closed_ms < until_ms ? session->closed_ms : until_ms;
    double fish_ms = next_fish_ms(fold, session, advice->t_ms);
    int came = fish_ms <= look_ms && fish_ms <= end_ms;
    if (!came && look_ms > end_ms) return;
    odds->n_said++;
    odds->said += body->odds_frac;
    odds->n_came += came;
}

bf_odds bf_odds_of(const bf_fold *fold, double before_ms, double until_ms) {
    bf_odds odds = {0, 0, 0, 0};
    for (int s = 0; s < fold->n_sessions; s++) {
        const bf_session *session = &fold->session[s];
        odds.n_sessions += session->opened_ms < before_ms && lifts_of(fold, session) >= BF_ODDS_LIFTS;
        for (int i = session->live_from; i < session->live_to; i++)
            count_advice(fold, session, &fold->live[i], until_ms, &odds);
    }
    return odds;
}
