/* The timeline in words: what may be drawn, how much there is of it, its finding and its table. The drawing: timeline.c. */
#include "core/picture/timeline.h"

#include <math.h>

#include "core/picture/words.h"

/* ---- checks ---- */

/* A crossed or live mark's time against the one before it. */
static bf_status check_time(double before_ms, double at_ms) {
    if (!bfi_is_finite(at_ms)) return BF_E_NOT_FINITE;
    return at_ms >= before_ms ? BF_OK : BF_E_RANGE;
}

static bf_status check_feeds(const bf_timeline_view *view) {
    double before = -BF_INFINITY;
    for (int k = 0; k < view->n_feeds; k++) {
        const bf_timeline_feed *feed = &view->feed[k];
        bf_status status = check_time(before, feed->at_ms);
        if (status) return status;
        if (fabs(feed->amount) == BF_INFINITY) return BF_E_NOT_FINITE;
        if (feed->amount < 0 || feed->amount > 1e6) return BF_E_RANGE;
        before = feed->at_ms;
    }
    return BF_OK;
}

static bf_status check_waits(const bf_timeline_view *view) {
    double before = -BF_INFINITY;
    for (int k = 0; k < view->n_waits; k++) {
        bf_status status = check_time(before, view->wait[k].from_ms);
        if (!status) status = check_time(view->wait[k].from_ms, view->wait[k].to_ms);
        if (status) return status;
        before = view->wait[k].from_ms;
    }
    return BF_OK;
}

static bf_status check_bites(const bf_timeline_view *view) {
    double before = -BF_INFINITY;
    for (int k = 0; k < view->n_bites; k++) {
        const bf_timeline_bite *bite = &view->bite[k];
        bf_status status = check_time(before, bite->at_ms);
        if (status) return status;
        if (fabs(bite->mass_kg) == BF_INFINITY) return BF_E_NOT_FINITE;
        if (bite->outcome < 0 || bite->outcome >= BF_N_OUTCOMES || bite->mass_kg <= 0 || bite->mass_kg > 1000)
            return BF_E_RANGE;
        before = bite->at_ms;
    }
    return BF_OK;
}

static bf_status check_tallies(const bf_timeline_view *view) {
    double before = -BF_INFINITY;
    for (int k = 0; k < view->n_tallies; k++) {
        const bf_timeline_tally *tally = &view->tally[k];
        bf_status status = check_time(before, tally->from_ms);
        if (!status) status = check_time(tally->from_ms, tally->to_ms);
        if (status) return status;
        for (int outcome = 0; outcome < BF_N_OUTCOMES; outcome++)
            if (tally->n[outcome] < 0 || tally->n[outcome] > 999) return BF_E_RANGE;
        before = tally->from_ms;
    }
    return BF_OK;
}

static bf_status check_notes(const bf_timeline_note *note, int n) {
    double before = -BF_INFINITY;
    for (int k = 0; k < n; k++) {
        bf_status status = check_time(before, note[k].at_ms);
        if (status) return status;
        before = note[k].at_ms;
    }
    return BF_OK;
}

bf_status bfi_timeline_check(const bf_timeline_view *view) {
    const int counts[] = {view->n_feeds,   view->n_waits, view->n_bites,
                          view->n_tallies, view->n_notes, view->n_advice};
    for (int k = 0; k < 6; k++)
        if (counts[k] < 0 || counts[k] > BF_TIMELINE_MOST) return BF_E_COUNT;
    bf_status status = bfi_check_stretch(view->from_ms, view->to_ms, view->east_min);
    if (!status) status = check_feeds(view);
    if (!status) status = check_waits(view);
    if (!status) status = check_bites(view);
    if (!status) status = check_tallies(view);
    if (!status) status = check_notes(view->note, view->n_notes);
    if (!status) status = check_notes(view->advice, view->n_advice);
    return status;
}

/* ---- counts ---- */

int bfi_timeline_shows(const bf_timeline_view *view, double from_ms, double to_ms) {
    return to_ms >= view->from_ms && from_ms <= view->to_ms;
}

/* Counts a mark as crossed out or outside, or says that it is to be counted for what it is. */
static int counts_live(bfi_census *count, const bf_timeline_view *view, double from_ms, double to_ms,
                       int is_crossed) {
    if (!bfi_timeline_shows(view, from_ms, to_ms))
        count->outside += 1;
    else if (is_crossed)
        count->crossed += 1;
    else
        return 1;
    return 0;
}

bfi_census bfi_timeline_count(const bf_timeline_view *view) {
    bfi_census all = {0};
    for (int k = 0; k < view->n_feeds; k++) {
        const bf_timeline_feed *feed = &view->feed[k];
        if (!counts_live(&all, view, feed->at_ms, feed->at_ms, feed->is_crossed)) continue;
        all.feeds += 1;
        if (feed->amount > 0) all.feed_sum += feed->amount;
        if (feed->amount > all.feed_most) all.feed_most = feed->amount;
    }
    for (int k = 0; k < view->n_waits; k++) {
        const bf_timeline_wait *wait = &view->wait[k];
        all.waits += counts_live(&all, view, wait->from_ms, wait->to_ms, wait->is_crossed);
    }
    for (int k = 0; k < view->n_bites; k++) {
        const bf_timeline_bite *bite = &view->bite[k];
        if (bfi_timeline_shows(view, bite->at_ms, bite->at_ms)) all.has_row[bite->outcome] = 1;
        if (!counts_live(&all, view, bite->at_ms, bite->at_ms, bite->is_crossed)) continue;
        all.bites[bite->outcome] += 1;
        if (bite->outcome == BF_LANDED && bite->mass_kg > all.heaviest_kg) all.heaviest_kg = bite->mass_kg;
    }
    for (int k = 0; k < view->n_tallies; k++) {
        const bf_timeline_tally *tally = &view->tally[k];
        for (int outcome = 0; outcome < BF_N_OUTCOMES; outcome++)
            if (tally->n[outcome] > 0 && bfi_timeline_shows(view, tally->from_ms, tally->to_ms))
                all.has_row[outcome] = 1;
        if (!counts_live(&all, view, tally->from_ms, tally->to_ms, tally->is_crossed)) continue;
        for (int outcome = 0; outcome < BF_N_OUTCOMES; outcome++) all.bites[outcome] += tally->n[outcome];
    }
    for (int k = 0; k < view->n_notes; k++) {
        const bf_timeline_note *note = &view->note[k];
        all.notes += counts_live(&all, view, note->at_ms, note->at_ms, note->is_crossed);
    }
    for (int k = 0; k < view->n_advice; k++) {
        const bf_timeline_note *advice = &view->advice[k];
        all.advice += counts_live(&all, view, advice->at_ms, advice->at_ms, advice->is_crossed);
    }
    return all;
}

/* ---- what it says ---- */

static void put_feed_sum(bfi_pen *pen, const bf_timeline_view *view, const bfi_census *count) {
    if (!(count->feed_sum > 0)) return;
    bfi_put(pen, " (");
    bfi_put_number(pen, count->feed_sum, count->feed_sum < 10);
    if (view->feed_unit.text[0]) bfi_put(pen, " ");
    bfi_put(pen, view->feed_unit.text);
    bfi_put(pen, ")");
}

static void row_of(bf_picture *picture, const char *heading, int n) {
    bfi_pen pen = bfi_row_open(picture, heading);
    bfi_put_number(&pen, n, 0);
}

void bfi_timeline_tell(const bf_timeline_view *view, bf_picture *picture) {
    static const char *const one[BF_N_OUTCOMES] = {"fish", "lost", "missed", "foul", "drop with nothing",
                                                   "touch"};
    static const char *const many[BF_N_OUTCOMES] = {"fish",   "lost", "missed", "foul", "drops with nothing",
                                                    "touches"};
    bfi_census count = bfi_timeline_count(view);
    bfi_pen pen = bfi_pen_open(picture->finding, sizeof picture->finding);
    bfi_put_hour(&pen, view->from_ms, view->east_min);
    bfi_put(&pen, " to ");
    bfi_put_hour(&pen, view->to_ms, view->east_min);
    bfi_put(&pen, ": ");
    bfi_put_count(&pen, count.feeds, "put-in", "put-ins");
    put_feed_sum(&pen, view, &count);
    for (int k = 0; k < BF_N_OUTCOMES; k++) {
        int outcome = bfi_outcome_order[k];
        if (outcome != BF_LANDED && count.bites[outcome] == 0) continue;
        bfi_put(&pen, ", ");
        bfi_put_count(&pen, count.bites[outcome], one[outcome], many[outcome]);
    }
    bfi_put(&pen, ".");

    pen = bfi_row_open(picture, "Shown");
    bfi_put_hour(&pen, view->from_ms, view->east_min);
    bfi_put(&pen, " to ");
    bfi_put_hour(&pen, view->to_ms, view->east_min);
    pen = bfi_row_open(picture, "Put-ins");
    bfi_put_number(&pen, count.feeds, 0);
    put_feed_sum(&pen, view, &count);
    row_of(picture, "Rig in", count.waits);
    for (int k = 0; k < BF_N_OUTCOMES; k++)
        row_of(picture, bfi_outcome_words[bfi_outcome_order[k]], count.bites[bfi_outcome_order[k]]);
    if (count.heaviest_kg > 0) {
        pen = bfi_row_open(picture, "Heaviest");
        bfi_put_pounds(&pen, count.heaviest_kg);
    }
    if (count.crossed > 0) row_of(picture, "Crossed out", count.crossed);
    if (count.outside > 0) row_of(picture, "Outside this stretch", count.outside);
}
