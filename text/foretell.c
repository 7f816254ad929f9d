/* foretell.c -- the question "foretell": how well the swim's model foretold the bites of one session, from what was known
 * before each (predict.h), beside laws learned from the waits of the sessions before.
 *
 * The request is that of "bed", whose pictures and summary mean nothing here ->
 * {"session":{"id","venue","opened"}, "score":{"n_waits","n_bites","model","gamma_poisson","weibull","shares":[..]}}
 * A journal without a session: {"session":null}. Scores: log, higher is better. shares: uniform on (0, 1) if the model is right. */
#include <math.h>

#include "baitfall/predict.h"
#include "core/base/room.h"
#include "text/bedded.h"

static size_t predicted_bytes(const bf_journal *journal) {
    return bfi_room((size_t)(bf_journal_n(journal) + 1) * sizeof(bf_predicted));
}

static size_t waits_bytes(const bf_journal *journal) {
    return bfi_room((size_t)(bf_journal_n(journal) + 1) * sizeof(bf_season_waits));
}

static size_t work_bytes(void) {
    return bfi_room(BF_BELIEF_MOST_SETS * sizeof(double));
}

static size_t spare_bytes(const bf_journal *journal) {
    return bfi_room(bfi_bed_spare_bytes(journal)) + predicted_bytes(journal) + waits_bytes(journal) +
           work_bytes();
}

/* The bed's job without what only the bed shows. */
static bf_status begin(bfi_ask *ask) {
    bfi_bedded *b = ask->spare;
    bf_status status = bfi_bed_begin(ask);
    int n = 0;
    if (status || !ask->job) return status;
    for (int i = 0; i < b->job.n_events; i++)
        if (b->event[i].kind != BF_SWIM_MARK) b->event[n++] = b->event[i];
    b->job.n_events = b->n_events = n;
    b->job.n_ledger = 0;
    b->job.ledger_s[0] = b->job.until_s;
    ask->foretells = 1;
    if (bf_predict_drops(&b->job) == 0) ask->job = NULL; // nothing to foretell
    return BF_OK;
}

/* The waits of sessions opened before this one; returns how many sessions. */
static int earlier_waits(const bfi_bedded *b, bf_season_waits *waits) {
    const bf_fold *fold = b->ask->fold;
    int n = 0;
    for (int i = 0; i < fold->n_sessions; i++)
        if (fold->session[i].opened_ms < b->session->opened_ms)
            waits[n++] = bf_season_waits_of(fold, &b->ask->turnaround, i);
    return n;
}

static void json_score(bfi_json *out, const bf_predict_session *score, const bf_predicted *predicted, int n) {
    bfi_json_key(out, "score");
    bfi_json_object(out);
    bfi_json_key_real(out, "n_waits", score->n_waits);
    bfi_json_key_real(out, "n_bites", score->n_bites);
    bfi_json_key_real(out, "model", score->model);
    bfi_json_key_real(out, "gamma_poisson", score->gamma_poisson);
    bfi_json_key_real(out, "weibull", score->weibull);
    bfi_json_key(out, "shares");
    bfi_json_array(out);
    for (int i = 0; i < n; i++)
        if (!isnan(predicted[i].share)) bfi_json_real(out, predicted[i].share);
    bfi_json_close(out);
    bfi_json_close(out);
}

static bf_status answer(bfi_ask *ask, bfi_json *out) {
    const bfi_bedded *b = ask->spare;
    char *at = (char *)ask->spare + bfi_room(bfi_bed_spare_bytes(ask->journal));
    bf_predicted *predicted = (bf_predicted *)(void *)at;
    bf_season_waits *waits = (bf_season_waits *)(void *)(at + predicted_bytes(ask->journal));
    double *work = (double *)(void *)((char *)waits + waits_bytes(ask->journal));
    bf_predict_session score = {0};
    if (!b->session) {
        bfi_json_key_real(out, "session", BF_NAN); // null
        return BF_OK;
    }
    char id[33];
    bf_id_write(b->session->id, id);
    bfi_json_key(out, "session");
    bfi_json_object(out);
    bfi_json_key_text(out, "id", id);
    bfi_json_key_text(out, "venue", bfi_bed_name(b, b->session->venue));
    bfi_json_instant(out, "opened", b->session->opened_ms, b->session->east_min);
    bfi_json_close(out);
    int n = ask->job ? bf_predict_drops(&b->job) : 0;
    if (n) {
        bf_predict_waits(&b->job, ask->rows, work, predicted);
        score = bf_predict_score(predicted, n, b->session->temp_c, waits, earlier_waits(b, waits));
    }
    json_score(out, &score, predicted, n);
    return BF_OK;
}

const bfi_ask_verb bfi_foretell_verb = {"foretell", spare_bytes, answer, begin};
