/* review.c -- the question "review": one session looked back on. See baitfall/journal.h, "Questions about a journal".
 *
 * Three sentences, each only when there are five observations behind it:
 *   1  the best half hour, and how sure it is that it was
 *   2  by when half the waits had ended, and how old the feed was when they ended soonest
 *   3  the first of these that can be said: waits after a change of feed; bites slowed or quickened; where hooks held */
#include <math.h>
#include <string.h>

#include "baitfall/bait.h"
#include "core/base/room.h"
#include "text/reviewed.h"

/* ---- Names ---- */

const char *bfi_feed_name(const bfi_reviewed *r, int name) {
    return name < 0 ? "before feed" : bf_journal_name(r->ask->journal, name);
}

const char *bfi_feed_said(const bfi_reviewed *r, int name) {
    return bf_bait_name(bfi_feed_name(r, name));
}

void bfi_put_age(bfi_pen *pen, int age) {
    if (age + 1 == BF_REVIEW_N_AGES) bfi_put(pen, "from ");
    bfi_put_number(pen, bf_review_age_from_s[age] / 60, 0);
    if (age + 1 < BF_REVIEW_N_AGES) {
        bfi_put(pen, "-");
        bfi_put_number(pen, bf_review_age_from_s[age + 1] / 60, 0);
    }
    bfi_put(pen, " min after feed");
}

/* Volume of a piece; NaN of a bait that is not known. */
static double piece_m3(const bfi_reviewed *r, const char *name) {
    const bf_bait *bait = bfi_baits_find(&r->baits, name);
    return bait ? bf_piece_volume_m3(bait->form, bait->diameter_m.value, bait->length_m.value) : NAN;
}

/* ---- Sentences ---- */

static double n_fish(const bf_review *r) {
    return r->all.count[BF_LANDED] + r->n_tally_fish;
}

static void tell_best_half(bfi_reviewed *rd, bfi_pen *pen) {
    const bf_review *r = &rd->review;
    if (n_fish(r) < BF_LEAST_TO_SAY || r->best_half < 0 || r->n_halves < 2) {
        bfi_put(pen, "Too early to say which half hour was best: ");
        bfi_put_so_many(pen, n_fish(r), "fish", "fish");
        bfi_put(pen, ".");
        return;
    }
    const bf_review_half *half = &r->half[r->best_half];
    bfi_put(pen, "Best half hour ");
    bfi_put_hours(pen, half->from_ms, half->to_ms, rd->session->east_min);
    bfi_put(pen, ": ");
    bfi_put_so_many(pen, half->n_fish, "fish", "fish");
    if (!isnan(half->fish_per_h.p_best)) {
        bfi_put(pen, half->fish_per_h.p_best < 0.5 ? ", though it may be chance: " : ", ");
        bfi_put_in_ten(pen, half->fish_per_h.p_best);
        bfi_put(pen, " that fish came fastest then");
    }
    bfi_put(pen, ".");
}

#define SURE 0.8

static void tell_waits(bfi_reviewed *rd, bfi_pen *pen) {
    const bf_review *r = &rd->review;
    if (r->all.n_ended < BF_LEAST_TO_SAY) {
        bfi_put(pen, "Too early to say how long a bite took: ");
        bfi_put_so_many(pen, r->all.n_ended, "wait", "waits");
        bfi_put(pen, " ended with one.");
        return;
    }
    if (!isfinite(r->all.median_s.value)) {
        double longest_s = rd->step[r->all.step_from + r->all.n_steps - 1].time_s;
        bfi_put(pen, "Fewer than half the waits ended with a bite, in up to ");
        bfi_put_wait(pen, (bf_banded){longest_s, NAN, NAN});
    } else {
        bfi_put(pen, "Half the waits ended by ");
        bfi_put_wait(pen, r->all.median_s);
    }
    if (r->best_age >= 0 && r->p_best_age >= SURE) {
        bfi_put(pen, ", soonest ");
        bfi_put_age(pen, r->best_age);
    }
    bfi_put(pen, ".");
}

/* "After changing from soft two to hard four, ": stepping up or down when both sizes are known. */
static void put_switch(bfi_pen *pen, const bfi_reviewed *rd) {
    const bf_review *r = &rd->review;
    const char *from = bfi_feed_said(rd, r->feed[r->feeds.from].key);
    const char *to = bfi_feed_said(rd, r->feed[r->feeds.to].key);
    double times = piece_m3(rd, bfi_feed_name(rd, r->feed[r->feeds.to].key)) /
                   piece_m3(rd, bfi_feed_name(rd, r->feed[r->feeds.from].key));
    if (!r->feeds.is_once) {
        bfi_put(pen, "Over ");
        bfi_put(pen, to);
        bfi_put(pen, " rather than ");
        bfi_put(pen, from);
        return;
    }
    bfi_put(pen, times > 1.2       ? "After stepping up from "
                 : times < 1 / 1.2 ? "After stepping down from "
                                   : "After changing from ");
    bfi_put(pen, from);
    bfi_put(pen, " to ");
    bfi_put(pen, to);
}

static int tell_switch(bfi_reviewed *rd, bfi_pen *pen) {
    const bf_review_switch *s = &rd->review.feeds;
    if (s->from < 0 || isnan(s->ratio.value)) return 0;
    put_switch(pen, rd);
    bfi_put(pen, ", waits were ");
    bfi_put_ratio(pen, s->ratio);
    bfi_put(pen,
            s->ratio.lower > 1 || s->ratio.upper < 1 ? " as long." : " as long: too close to tell apart.");
    return 1;
}

static double bin_end_ms(const bf_review *r, int k) {
    return r->bin_from_ms + 1000 * BF_REVIEW_BIN_S * k;
}

int bfi_put_change(bfi_pen *pen, const bfi_reviewed *rd) {
    const bf_review *r = &rd->review;
    const bf_change *c = &r->change;
    int east_min = rd->session->east_min;
    if (!r->has_change) return 0;
    if (c->p_change < SURE) {
        bfi_put(pen, "No clear change in how often bites came: ");
        bfi_put_in_ten(pen, c->p_change);
        bfi_put(pen, " for one.");
        return 1;
    }
    bfi_put(pen, c->p_slowed > 0.5 ? "Bites slowed about " : "Bites quickened about ");
    bfi_put_clock(pen, bin_end_ms(r, c->k_mid), east_min, 0);
    bfi_put(pen, " (");
    bfi_put_hours(pen, bin_end_ms(r, c->k_lo), bin_end_ms(r, c->k_hi), east_min);
    bfi_put(pen, "), from ");
    bfi_put_figures(pen, c->rate_before, 2);
    bfi_put(pen, " to ");
    bfi_put_figures(pen, c->rate_after, 2);
    bfi_put(pen, " an hour; ");
    bfi_put_in_ten(pen, c->p_change);
    bfi_put(pen, " that there was a change at all.");
    return 1;
}

static void tell_third(bfi_reviewed *rd, bfi_pen *pen) {
    const bf_review *r = &rd->review;
    if (tell_switch(rd, pen)) return;
    int is_clear = r->has_change && r->change.p_change >= SURE;
    if (is_clear && bfi_put_change(pen, rd)) return;
    if (!isnan(r->in_lip.a)) {
        bfi_put_share(pen, r->in_lip.share);
        bfi_put(pen, " of the hooks looked at held in the lip.");
        return;
    }
    if (bfi_put_change(pen, rd)) return;
    bfi_put(pen, "Too early to say whether anything changed.");
}

/* ---- One thing to try ---- */

static const bf_review_group *most_used_feed(const bf_review *r) {
    const bf_review_group *most = NULL;
    for (int i = 0; i < r->n_feeds; i++)
        if (r->feed[i].key >= 0 && (!most || r->feed[i].n_drops > most->n_drops)) most = &r->feed[i];
    return most;
}

static void put_least(bfi_pen *pen, const bf_review *r) {
    if (isnan(r->try_least_ratio)) return;
    bfi_put(pen, " 12 blocks of 20 min find a difference of ");
    bfi_put_times(pen, r->try_least_ratio);
    bfi_put(pen, " or more; a smaller one takes several days.");
}

static void tell_turns(bfi_reviewed *rd) {
    const bf_review *r = &rd->review;
    bfi_put(&rd->try_next.pen, "Fish ");
    bfi_put(&rd->try_next.pen, bfi_feed_said(rd, r->feed[r->feeds.from].key));
    bfi_put(&rd->try_next.pen, " and ");
    bfi_put(&rd->try_next.pen, bfi_feed_said(rd, r->feed[r->feeds.to].key));
    bfi_put(&rd->try_next.pen, " in turns drawn by lot (a trial).");
    put_least(&rd->try_next.pen, r);
    bfi_put(&rd->try_rule.pen,
            r->what_to_try == BF_TRY_TURNS
                ? "Two feeds, five bites or more on each, and their waits cannot be told apart."
                : "Two feeds whose waits differ, but feed is changed when bites stop: only a "
                  "lot can say which of the two it was.");
}

static void tell_try(bfi_reviewed *rd) {
    const bf_review *r = &rd->review;
    const bf_review_group *feed = most_used_feed(r);
    bfi_pen *next = &rd->try_next.pen, *rule = &rd->try_rule.pen;
    switch (r->what_to_try) {
    case BF_TRY_LOG_MORE:
        bfi_put(next, "Enter every bite of a whole session: from five on there is something to compare.");
        bfi_put(rule, "Fewer than five waits ended with a bite.");
        break;
    case BF_TRY_RIG_IN:
        bfi_put(next, "Press RIG IN each time the rig goes in, for one session: it would tell the waits, and "
                      "your own turnaround for all others.");
        bfi_put(rule,
                "Most waits were not seen to start, and that moves the middle wait more than chance does.");
        break;
    case BF_TRY_TURNS:
    case BF_TRY_TURNS_AGAIN: tell_turns(rd); break;
    case BF_TRY_FEWER:
        bfi_put(next, "Put in half as much, or step up a size: fewer small pieces about usually means fewer "
                      "lost and foul-hooked fish (common practice, no source).");
        bfi_put(rule, "Three bites in ten or more were lost or foul.");
        break;
    case BF_TRY_SECOND:
        bfi_put(next, "Fish a second feed in turns with ");
        bfi_put(next, feed ? bfi_feed_said(rd, feed->key) : "the first");
        bfi_put(next, ", drawn by lot (a trial).");
        put_least(next, r);
        bfi_put(rule, "There is no second feed with five bites to compare with.");
        break;
    }
}

/* ---- Notes ---- */

static void note_count(bfi_json *out, const char *code, double n, const char *one, const char *more,
                       const char *rest) {
    bfi_told told;
    if (n <= 0) return;
    bfi_told_start(&told);
    bfi_put_so_many(&told.pen, n, one, more);
    bfi_put(&told.pen, rest);
    bfi_json_note(out, code, told.text);
}

static int n_crossed(const bfi_reviewed *rd) {
    int n = 0;
    for (int i = rd->session->live_from; i < rd->session->live_to; i++)
        n += rd->ask->fold->live[i].is_crossed;
    return n;
}

static int n_implied(const bfi_reviewed *rd) {
    int n = 0;
    for (int i = rd->session->drop_from; i < rd->session->drop_to; i++)
        n += rd->ask->fold->drop[i].is_implied;
    return n;
}

static int has_open_wait(const bfi_reviewed *rd) {
    const bf_session *s = rd->session;
    return s->drop_to > s->drop_from && rd->ask->fold->drop[s->drop_to - 1].end_live < 0;
}

static void note_unseen(bfi_json *out, const bfi_reviewed *rd) {
    const bf_review *r = &rd->review;
    bfi_told told;
    if (r->all.n_unseen == 0) return;
    bfi_told_start(&told);
    bfi_put_so_many(&told.pen, r->all.n_unseen, "wait was", "waits were");
    bfi_put(&told.pen, " not seen to start: begun ");
    bfi_put_wait(&told.pen, (bf_banded){rd->ask->turnaround.mid_s, NAN, NAN});
    bfi_put(&told.pen, " after the lift or put-in before, which moves the middle wait by up to ");
    bfi_put_wait(&told.pen, (bf_banded){r->unseen_pm_s, NAN, NAN});
    double half_width_s = (r->all.median_s.upper - r->all.median_s.lower) / 2;
    bfi_put(&told.pen, r->unseen_pm_s > half_width_s ? ": more than chance does." : ".");
    bfi_json_note(out, "starts-unseen", told.text);
}

static void json_notes(bfi_json *out, const bfi_reviewed *rd) {
    const bf_review *r = &rd->review;
    bfi_json_key(out, "notes");
    bfi_json_array(out);
    if (r->n_feeds > 1)
        bfi_json_note(
            out, "confounded",
            "Feed is changed when bites stop, and its age goes with the hour: this says what came after, "
            "not because of what. A trial drawn by lot can say more.");
    if (r->feeds.from >= 0 && !isnan(r->feeds.ratio.value))
        bfi_json_note(out, "as-long",
                      "How many times as long waits were is exact only if bites come evenly over a wait.");
    note_unseen(out, rd);
    note_count(out, "starts-unknown", r->all.n_unknown, "drop", "drops",
               " with nothing entered before it to start the wait from: left out of the waits.");
    note_count(out, "implied", n_implied(rd), "drop", "drops",
               " ended by what was entered next: taken as Nothing, its wait as cut short.");
    note_count(out, "tallied", r->n_tally_bites, "bite", "bites",
               " entered as counts over a stretch: in the half hours, evenly, but in no wait.");
    note_count(out, "crossed-out", n_crossed(rd), "entry is", "entries are",
               " crossed out and in nothing here.");
    if (has_open_wait(rd))
        bfi_json_note(out, "open-wait", "The last wait is still open: it counts as cut short.");
    if (r->n_halves == BF_REVIEW_MOST_HALVES && r->half[r->n_halves - 1].to_ms < r->to_ms)
        bfi_json_note(out, "first-day",
                      "Half hours and changes are looked for in the first 24 hours of a session only.");
    if (r->n_other_feeds > 0)
        note_count(out, "more-feeds", r->n_other_feeds, "drop", "drops",
                   " on a ninth feed or later: in the totals only.");
    if (rd->not_drawn && rd->not_drawn[0]) bfi_json_note(out, "not-drawn", rd->not_drawn);
    if (rd->is_drawing_cut)
        bfi_json_note(out, "drawing-cut",
                      "The drawings hold the first 2000 entries of each kind, and count to 999, no more.");
    if (r->all.n_drops > 0)
        bfi_json_note(out, "as-entered",
                      "Bites that were not entered, or entered as something else, cannot be seen from here.");
    bfi_json_close(out);
}

/* ---- The answer ---- */

static void json_session(bfi_json *out, const bfi_reviewed *rd) {
    const bf_session *s = rd->session;
    char id[33];
    bf_id_write(s->id, id);
    bfi_json_key(out, "session");
    bfi_json_object(out);
    bfi_json_key_text(out, "id", id);
    bfi_json_key_text(out, "venue", bf_journal_name(rd->ask->journal, s->venue));
    bfi_json_key_text(out, "peg", bf_journal_name(rd->ask->journal, s->peg));
    bfi_json_instant(out, "opened", s->opened_ms, s->east_min);
    bfi_json_instant(out, "closed", s->closed_ms, s->east_min);
    bfi_json_key_real(out, "n_events", s->live_to - s->live_from);
    bfi_json_close(out);
}

static void json_sentences(bfi_json *out, bfi_reviewed *rd) {
    static void (*const tell[BFI_REVIEW_SENTENCES])(bfi_reviewed *, bfi_pen *) = {tell_best_half, tell_waits,
                                                                                  tell_third};
    bfi_json_key(out, "sentences");
    bfi_json_array(out);
    for (int i = 0; i < BFI_REVIEW_SENTENCES; i++) {
        bfi_told_start(&rd->sentence[i]);
        tell[i](rd, &rd->sentence[i].pen);
        bfi_json_text(out, rd->sentence[i].text);
    }
    bfi_json_close(out);
}

/* An event makes one drop at most, and one more may be open. */
static int most_drops(const bf_journal *journal) {
    return bf_journal_n(journal) + 1;
}

static size_t spare_bytes(const bf_journal *journal) {
    int n = most_drops(journal);
    size_t work = bf_review_bytes(n), drawing = bfi_review_draw_bytes(n);
    return bfi_room(sizeof(bfi_reviewed)) + bfi_room(bf_review_steps(n) * sizeof(bf_wait_step)) +
           (work > drawing ? work : drawing);
}

static void lay_out(bfi_reviewed *rd, bfi_ask *ask) {
    size_t steps = bfi_room(bf_review_steps(most_drops(ask->journal)) * sizeof(bf_wait_step));
    memset(rd, 0, sizeof *rd);
    rd->ask = ask;
    rd->step = (bf_wait_step *)((char *)ask->spare + bfi_room(sizeof *rd));
    rd->spare = (char *)rd->step + steps;
}

static bf_status answer(bfi_ask *ask, bfi_json *out) {
    static const char *const others[] = {"session", "now", "look", "pictures", "wide", "baits.was", NULL};
    bfi_reviewed *rd = ask->spare;
    lay_out(rd, ask);
    bf_status status = bfi_baits_read(ask, others, &rd->baits);
    if (status) return status;
    rd->i_session = bfi_ask_session(ask);
    if (rd->i_session < 0 && ask->error.status) return ask->error.status;
    if (rd->i_session < 0) { // an empty journal
        bfi_json_key(out, "session");
        bfi_json_real(out, BF_NAN);
        return BF_OK;
    }
    rd->session = &ask->fold->session[rd->i_session];
    bf_review_of(ask->fold, &ask->turnaround, rd->i_session, rd->spare, rd->step, &rd->review);
    bf_guessing guessing = bf_guessing_of(ask->fold, rd->i_session);
    rd->nets = bf_nets_of(ask->fold, &guessing);
    json_session(out, rd);
    json_sentences(out, rd);
    bfi_told_start(&rd->try_next);
    bfi_told_start(&rd->try_rule);
    tell_try(rd);
    bfi_json_key_text(out, "try", rd->try_next.text);
    bfi_json_key_text(out, "try_rule", rd->try_rule.text);
    bfi_json_review_numbers(out, rd);
    bfi_json_review_tables(out, rd);
    status = bfi_json_review_pictures(out, rd);
    if (status) return status;
    json_notes(out, rd);
    return BF_OK;
}

const bfi_ask_verb bfi_review_verb = {"review", spare_bytes, answer, NULL};
