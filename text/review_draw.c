/* review_draw.c -- the pictures of a review: timeline, waits, catch, rates, change, and the sheet for the printer. */
#include <math.h>
#include <string.h>

#include "baitfall/record_picture.h"
#include "core/base/room.h"
#include "text/bank.h"
#include "text/reviewed.h"

typedef enum drawing_name { TIMELINE, WAITS, CATCH, RATES, CHANGE, SHEET, N_DRAWINGS } drawing_name;
static const char *const drawing_names[] = {"timeline", "waits", "catch", "rates", "change", "sheet", NULL};

#define PHONE_MM 80.0
#define WIDE_MM 180.0
#define MINUTE_MS 60000.0
#define MOVING_MOST 144

/* ---- What the request asks for ---- */

typedef struct asked {
    int look, is_wide;
    int wants[N_DRAWINGS];
} asked;

static bf_status read_asked(const bfi_reviewed *rd, asked *a) {
    static const char *const looks[] = {"shade", "sun", "dusk", NULL};
    static const int look_of[] = {BF_LOOK_SHADE, BF_LOOK_SUN, BF_LOOK_DUSK};
    const bf_json *json = &rd->ask->json;
    bf_error *error = &rd->ask->error;
    int value = bf_json_find(json, 0, "look"), choice;
    *a = (asked){.look = BF_LOOK_OPEN};
    if (value >= 0) {
        bf_status status = bfi_read_choice(json, value, "look", looks, &choice, error);
        if (status) return status;
        a->look = look_of[choice];
    }
    value = bf_json_find(json, 0, "wide");
    if (value >= 0) {
        bf_json_kind kind = bf_json_kind_of(json, value);
        if (kind != BF_JSON_TRUE && kind != BF_JSON_FALSE)
            return bfi_fail(error, BF_E_TYPE, "wide", json, value, "true or false");
        a->is_wide = kind == BF_JSON_TRUE;
    }
    value = bf_json_find(json, 0, "pictures");
    if (value < 0) return BF_OK;
    if (bf_json_kind_of(json, value) != BF_JSON_ARRAY)
        return bfi_fail(error, BF_E_TYPE, "pictures", json, value,
                        "an array of timeline, waits, catch, rates, change and sheet");
    for (int i = bf_json_first(json, value); i >= 0; i = bf_json_next(json, i)) {
        bf_status status = bfi_read_choice(json, i, "pictures", drawing_names, &choice, error);
        if (status) return status;
        a->wants[choice] = 1;
    }
    return BF_OK;
}

/* ---- Memory ---- */

/* Views and their arrays; `most` places in each. */
typedef struct drawing {
    const bfi_reviewed *rd;
    int most, is_cut;
    double from_ms, to_ms;
    bf_timeline_view timeline;
    bf_waits_view waits;
    bf_catch_view catch;
    bf_sheet_view sheet;
    bf_picture picture;
    bf_timeline_feed *feed;
    bf_timeline_wait *wait;
    bf_timeline_bite *bite;
    bf_timeline_tally *tally;
    bf_timeline_note *note, *advice;
    double *fish_ms, *feed_ms;
    double rate_ms[MOVING_MOST], rate_per_h[MOVING_MOST * BF_N_DECILES];
    char svg[BF_RECORD_SVG_BYTES];
} drawing;

static int most_of(int n_events) {
    return n_events < BF_TIMELINE_MOST ? n_events : BF_TIMELINE_MOST;
}

size_t bfi_review_draw_bytes(int n_events) {
    size_t n = (size_t)most_of(n_events);
    return bfi_room(sizeof(drawing)) + bfi_room(n * sizeof(bf_timeline_feed)) +
           bfi_room(n * sizeof(bf_timeline_wait)) + bfi_room(n * sizeof(bf_timeline_bite)) +
           bfi_room(n * sizeof(bf_timeline_tally)) + 2 * bfi_room(n * sizeof(bf_timeline_note)) +
           bfi_room(BF_CATCH_MOST * sizeof(double)) + bfi_room(n * sizeof(double));
}

static void *take(char **memory, size_t n, size_t each) {
    void *taken = *memory;
    *memory += bfi_room(n * each);
    return taken;
}

static drawing *lay_out(const bfi_reviewed *rd) {
    drawing *d = rd->spare;
    char *memory = (char *)d + bfi_room(sizeof *d);
    d->rd = rd;
    d->most = most_of(bf_journal_n(rd->ask->journal));
    d->is_cut = 0;
    size_t n = (size_t)d->most;
    d->feed = take(&memory, n, sizeof *d->feed);
    d->wait = take(&memory, n, sizeof *d->wait);
    d->bite = take(&memory, n, sizeof *d->bite);
    d->tally = take(&memory, n, sizeof *d->tally);
    d->note = take(&memory, n, sizeof *d->note);
    d->advice = take(&memory, n, sizeof *d->advice);
    d->fish_ms = take(&memory, BF_CATCH_MOST, sizeof(double));
    d->feed_ms = take(&memory, n, sizeof(double));
    return d;
}

static void label(bf_label *to, const char *text) {
    bfi_cut(to->text, sizeof to->text, text, strlen(text));
}

static const char *name_of(const drawing *d, int name) {
    return bf_journal_name(d->rd->ask->journal, name);
}

/* 1 when there is a place for one more; else it is noted that the drawing is cut. */
static int has_place(drawing *d, int n, int most) {
    d->is_cut |= n >= most;
    return n < most;
}

/* ---- The timeline ---- */

static double amount_ml(const bf_body *body) {
    if (isfinite(body->volume_m3)) return body->volume_m3 * 1e6;
    return body->fill_frac * body->pot_m3 * 1e6; /* NaN when either is not told */
}

/* Pieces when more put-ins were counted than measured. */
static int is_by_count(const drawing *d) {
    int counted = 0, measured = 0;
    for (int i = d->rd->session->live_from; i < d->rd->session->live_to; i++) {
        const bf_live *live = &d->rd->ask->fold->live[i];
        if (live->kind != BF_FEED || live->is_crossed) continue;
        counted += isfinite(live->body.count);
        measured += isfinite(amount_ml(&live->body));
    }
    return counted > measured;
}

static void add_feed(drawing *d, const bf_live *live, int by_count) {
    bf_timeline_view *v = &d->timeline;
    if (!has_place(d, v->n_feeds, d->most)) return;
    bf_timeline_feed *feed = &d->feed[v->n_feeds++];
    *feed = (bf_timeline_feed){.at_ms = live->t_ms, .is_crossed = live->is_crossed};
    feed->amount = by_count ? live->body.count : amount_ml(&live->body);
    label(&feed->name, bf_bait_name(name_of(d, live->body.bait)));
}

static void add_bite(drawing *d, double at_ms, int outcome, double mass_kg, int is_crossed) {
    bf_timeline_view *v = &d->timeline;
    if (!has_place(d, v->n_bites, d->most)) return;
    int is_mass = mass_kg > 0 && mass_kg <= 1000;
    bf_timeline_bite bite = {at_ms, outcome, is_mass ? mass_kg : NAN, is_crossed};
    int at = v->n_bites++;
    for (; at > 0 && d->bite[at - 1].at_ms > at_ms; at--) d->bite[at] = d->bite[at - 1];
    d->bite[at] = bite;
}

static void add_note(drawing *d, bf_timeline_note *notes, int *n, const bf_live *live, const char *text) {
    if (!text[0] || !has_place(d, *n, d->most)) return;
    notes[*n] = (bf_timeline_note){.at_ms = live->t_ms, .is_crossed = live->is_crossed};
    label(&notes[(*n)++].text, text);
}

static void add_water(drawing *d, const bf_live *live) {
    char text[2 * BF_SAY_MOST], said[BF_SAY_MOST];
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    if (isfinite(live->body.temp_c)) {
        bfi_put(&pen, "water ");
        bfi_put_bytes(&pen, said, bf_say(live->body.temp_c, BF_TEMPERATURE, said));
    }
    if (isfinite(live->body.wind_m_s)) {
        bfi_put(&pen, pen.n ? ", wind " : "wind ");
        bfi_put_bytes(&pen, said, bf_say(live->body.wind_m_s, BF_SPEED, said));
    }
    add_note(d, d->note, &d->timeline.n_notes, live, text);
}

/* As many as drawings count. */
static int up_to_999(drawing *d, int n) {
    d->is_cut |= n > 999;
    return n < 0 ? 0 : n > 999 ? 999 : n;
}

static void add_live(drawing *d, int i_live, int by_count) {
    char text[BF_NAME_BYTES + 1];
    const bf_live *live = &d->rd->ask->fold->live[i_live];
    const bf_body *body = &live->body;
    bf_timeline_view *v = &d->timeline;
    switch (live->kind) {
    case BF_FEED: add_feed(d, live, by_count); break;
    case BF_LIFT:
        add_bite(d, live->t_ms, body->outcome, isfinite(body->mass_kg) ? body->mass_kg : body->guess_kg,
                 live->is_crossed);
        break;
    case BF_TOUCH: add_bite(d, live->t_ms, BF_TOUCHED, NAN, live->is_crossed); break;
    case BF_WATER: add_water(d, live); break;
    case BF_NOTE:
    case BF_ADVICE:
        bfi_entry_note(d->rd->ask, i_live, text, sizeof text);
        if (live->kind == BF_NOTE) add_note(d, d->note, &v->n_notes, live, text);
        if (live->kind == BF_ADVICE)
            add_note(d, d->advice, &v->n_advice, live, text[0] ? text : bf_bait_name(name_of(d, body->bait)));
        break;
    case BF_TALLY: {
        if (!has_place(d, v->n_tallies, d->most)) break;
        bf_timeline_tally *tally = &d->tally[v->n_tallies++];
        *tally = (bf_timeline_tally){.from_ms = body->from_ms, .to_ms = body->to_ms};
        const int n[BF_N_OUTCOMES] = {
            [BF_LANDED] = body->landed, [BF_LOST] = body->lost,       [BF_MISSED] = body->missed,
            [BF_FOUL] = body->foul,     [BF_NOTHING] = body->nothing, [BF_TOUCHED] = body->touch};
        for (int k = 0; k < BF_N_OUTCOMES; k++) tally->n[k] = up_to_999(d, n[k]);
        tally->is_crossed = live->is_crossed;
        break;
    }
    default: break;
    }
}

static void add_drop(drawing *d, const bf_drop *drop) {
    bf_timeline_view *v = &d->timeline;
    double pm_s;
    int is_event;
    double wait_s = bf_drop_wait_s(drop, &d->rd->ask->turnaround, &pm_s, &is_event);
    if (drop->is_implied) add_bite(d, drop->end_ms, BF_NOTHING, NAN, 0);
    if (isnan(wait_s) || !has_place(d, v->n_waits, d->most)) return;
    bf_timeline_wait wait = {drop->end_ms - 1000 * wait_s, drop->end_ms, !is_event,
                             drop->start != BF_START_LOWER, 0};
    int at = v->n_waits++;
    for (; at > 0 && d->wait[at - 1].from_ms > wait.from_ms; at--) d->wait[at] = d->wait[at - 1];
    d->wait[at] = wait;
}

static void make_timeline(drawing *d, const asked *a) {
    const bf_session *s = d->rd->session;
    int by_count = is_by_count(d);
    d->timeline = (bf_timeline_view){.look = a->look,
                                     .width_mm = a->is_wide ? WIDE_MM : PHONE_MM,
                                     .from_ms = d->from_ms,
                                     .to_ms = d->to_ms,
                                     .east_min = s->east_min,
                                     .feed = d->feed,
                                     .wait = d->wait,
                                     .bite = d->bite,
                                     .tally = d->tally,
                                     .note = d->note,
                                     .advice = d->advice};
    label(&d->timeline.feed_unit, by_count ? "pieces" : "ml");
    for (int i = s->live_from; i < s->live_to; i++) add_live(d, i, by_count);
    for (int i = s->drop_from; i < s->drop_to; i++) add_drop(d, &d->rd->ask->fold->drop[i]);
    for (int i = 1; i < d->timeline.n_tallies; i++) { // they come by when they were entered for
        bf_timeline_tally tally = d->tally[i];
        int at = i;
        for (; at > 0 && d->tally[at - 1].from_ms > tally.from_ms; at--) d->tally[at] = d->tally[at - 1];
        d->tally[at] = tally;
    }
}

/* ---- The waits ---- */

static void add_panel(drawing *d, const bf_review_group *g, const char *name) {
    bf_waits_panel *panel = &d->waits.panel[d->waits.n_panels++];
    *panel = (bf_waits_panel){.n_waits = g->n_waits,
                              .n_bites = g->n_ended,
                              .n_steps = g->n_steps < BF_WAITS_MOST_STEPS ? g->n_steps : BF_WAITS_MOST_STEPS,
                              .step = d->rd->step + g->step_from,
                              .median = g->median_s};
    d->is_cut |= g->n_steps > BF_WAITS_MOST_STEPS;
    label(&panel->name, name);
}

/* By the feed's age when two bands at least have something to say, else all together. */
static void make_waits(drawing *d, const asked *a) {
    const bf_review *r = &d->rd->review;
    int n = 0;
    d->waits =
        (bf_waits_view){.look = a->look, .width_mm = a->is_wide ? WIDE_MM : PHONE_MM, .longest_s = NAN};
    for (int i = 0; i < BF_REVIEW_N_AGES; i++) n += r->age[i].n_ended >= BF_LEAST_TO_SAY;
    if (n < 2) {
        add_panel(d, &r->all, "");
        return;
    }
    for (int i = 0; i < BF_REVIEW_N_AGES; i++) {
        bfi_told told;
        bfi_told_start(&told);
        bfi_put_age(&told.pen, i);
        add_panel(d, &r->age[i], told.text);
    }
}

/* ---- The catch ---- */

static void add_fish(drawing *d, double at_ms) {
    if (!(at_ms >= d->from_ms && at_ms <= d->to_ms) || !has_place(d, d->catch.n_fish, BF_CATCH_MOST)) return;
    int at = d->catch.n_fish++;
    for (; at > 0 && d->fish_ms[at - 1] > at_ms; at--) d->fish_ms[at] = d->fish_ms[at - 1];
    d->fish_ms[at] = at_ms;
}

static void make_catch(drawing *d, const asked *a) {
    const bf_fold *fold = d->rd->ask->fold;
    const bf_session *s = d->rd->session;
    d->catch = (bf_catch_view){.look = a->look,
                               .width_mm = a->is_wide ? WIDE_MM : PHONE_MM,
                               .from_ms = d->from_ms,
                               .to_ms = d->to_ms,
                               .east_min = s->east_min,
                               .fish_ms = d->fish_ms,
                               .feed_ms = d->feed_ms,
                               .rate_ms = d->rate_ms,
                               .rate_per_h = d->rate_per_h};
    for (int i = s->drop_from; i < s->drop_to; i++)
        if (fold->drop[i].outcome == BF_LANDED) add_fish(d, fold->drop[i].end_ms);
    for (int i = s->stretch_from; i < s->stretch_to; i++) { // tallied fish evenly over their stretch
        const bf_stretch *stretch = &fold->stretch[i];
        int n = stretch->count[BF_LANDED];
        for (int k = 0; k < n; k++)
            add_fish(d, stretch->from_ms + (stretch->to_ms - stretch->from_ms) * (k + 0.5) / n);
    }
    for (int i = s->put_from; i < s->put_to; i++) {
        double at_ms = fold->put_in[i].t_ms;
        if (fold->put_in[i].first == i && at_ms >= d->from_ms && at_ms <= d->to_ms &&
            has_place(d, d->catch.n_feeds, d->most))
            d->feed_ms[d->catch.n_feeds++] = at_ms;
    }
    int n = bf_review_moving(fold, d->rd->i_session, MOVING_MOST, d->rate_ms, d->rate_per_h);
    d->catch.n_rates = n >= 2 ? n : 0;
}

/* ---- The rate as twenty dots; one feed against another ---- */

/* feed -1: there are no two to compare. */
static bf_change_side side_of(const drawing *d, int feed) {
    bf_change_side side = {.n_seen = 0};
    if (feed < 0) return side;
    const bf_review_group *g = &d->rd->review.feed[feed];
    side.n_seen = g->n_ended;
    label(&side.name, bfi_feed_said(d->rd, g->key));
    for (int k = 0; k < BF_N_DECILES; k++) side.decile[k] = bf_rate_quantile(g->bites, (k + 1) / 10.0);
    return side;
}

static bf_status draw_change(drawing *d, const asked *a) {
    const bf_review *r = &d->rd->review;
    bf_change_view view = {.look = a->look,
                           .width_mm = a->is_wide ? WIDE_MM : PHONE_MM,
                           .side = {side_of(d, r->feeds.from), side_of(d, r->feeds.to)},
                           .better_frac = NAN};
    if (r->feed_most >= 0)
        view.better_frac = r->feed_most == r->feeds.to ? r->p_feed_most : 1 - r->p_feed_most;
    else
        for (int i = 0; i < 2; i++) label(&view.side[i].name, i ? "another feed" : "one feed");
    label(&view.quantity, "bites an hour");
    return bf_picture_change(&view, d->svg, sizeof d->svg, &d->picture);
}

static bf_status draw_dots(drawing *d, const asked *a) {
    const bf_review_group *g = &d->rd->review.all;
    int n = g->count[BF_LANDED];
    bf_dots_view view = {.look = a->look,
                         .width_mm = a->is_wide ? WIDE_MM : PHONE_MM,
                         .scale = BF_SCALE_LINEAR,
                         .axis_lo = NAN,
                         .axis_hi = NAN,
                         .n_seen = n};
    for (int k = 0; k < BF_N_DOTS && n >= BF_LEAST_TO_SAY; k++)
        view.value[k] = bf_rate_quantile(g->fish, (k + 0.5) / BF_N_DOTS);
    label(&view.quantity, "fish an hour");
    return bf_picture_dots(&view, d->svg, sizeof d->svg, &d->picture);
}

/* ---- The sheet ---- */

static void make_sheet(drawing *d) {
    const bfi_reviewed *rd = d->rd;
    const bf_session *s = rd->session;
    bf_sheet_view *v = &d->sheet;
    bfi_told told;
    *v = (bf_sheet_view){.timeline = d->timeline, .waits = d->waits, .fish = d->catch};
    bfi_told_start(&told);
    bfi_put(&told.pen, name_of(d, s->venue));
    if (s->peg >= 0) bfi_put(&told.pen, told.pen.n ? ", peg " : "Peg ");
    bfi_put(&told.pen, name_of(d, s->peg));
    label(&v->place, told.text);
    v->is_invented = bfi_find_text(told.text, "invented") != NULL;
    bfi_told_start(&told);
    bfi_put_date(&told.pen, d->from_ms, s->east_min, 1);
    label(&v->day, told.text);
    for (int i = 0; i < BF_SHEET_SENTENCES; i++)
        bfi_cut(v->sentence[i], BF_SHEET_TEXT_BYTES, rd->sentence[i].text, strlen(rd->sentence[i].text));
    bfi_cut(v->try_next, BF_SHEET_TEXT_BYTES, rd->try_next.text, strlen(rd->try_next.text));
    for (int i = 0; i < rd->review.n_feeds && i < BF_SHEET_MOST_FEEDS; i++) {
        bf_sheet_feed *feed = &v->feed[v->n_feeds++];
        label(&feed->name, bfi_feed_said(rd, rd->review.feed[i].key));
        for (int k = 0; k < BF_N_OUTCOMES; k++) feed->n[k] = up_to_999(d, rd->review.feed[i].count[k]);
    }
    for (int i = 0; i < rd->nets.n && v->n_nets < BF_SHEET_MOST_NETS; i++) {
        const bf_net *net = &rd->nets.net[i];
        if (net->n_fish == 0 && !net->is_weighed) continue;
        bf_sheet_net *to = &v->net[v->n_nets++];
        bfi_told_start(&told);
        bfi_put_number(&told.pen, net->net, 0);
        label(&to->name, told.text);
        bfi_told_start(&told);
        bfi_put_weight(&told.pen, net->mass);
        label(net->is_weighed ? &to->weighed : &to->guessed, told.text);
    }
    label(&v->version, "Baitfall " BF_VERSION);
}

/* ---- All that is asked for ---- */

static bf_status draw(drawing *d, const asked *a, drawing_name name) {
    switch (name) {
    case TIMELINE: return bf_picture_timeline(&d->timeline, d->svg, sizeof d->svg, &d->picture);
    case WAITS: return bf_picture_waits(&d->waits, d->svg, sizeof d->svg, &d->picture);
    case CATCH: return bf_picture_catch(&d->catch, d->svg, sizeof d->svg, &d->picture);
    case RATES: return draw_dots(d, a);
    case CHANGE: return draw_change(d, a);
    default: make_sheet(d); return bf_picture_sheet(&d->sheet, d->svg, sizeof d->svg, &d->picture);
    }
}

/* What stands in the way of drawing a session at all; "" when nothing does. */
static const char *not_drawn(const bf_review *r) {
    if (isnan(r->from_ms)) return "Everything is crossed out: there is nothing to draw.";
    return r->to_ms - r->from_ms > BF_RECORD_MOST_SPAN_MS ? "Sessions longer than seven days are not drawn."
                                                          : "";
}

bf_status bfi_json_review_pictures(bfi_json *out, bfi_reviewed *rd) {
    asked a;
    bf_status status = read_asked(rd, &a);
    int n = 0;
    for (int i = 0; i < N_DRAWINGS; i++) n += a.wants[i];
    if (status || n == 0) return status;
    const char *why_not = not_drawn(&rd->review);
    bfi_json_key(out, "pictures");
    bfi_json_object(out);
    if (!why_not[0]) {
        drawing *d = lay_out(rd);
        d->from_ms = rd->review.from_ms;
        d->to_ms = rd->review.to_ms > d->from_ms ? rd->review.to_ms : d->from_ms + MINUTE_MS;
        make_timeline(d, &a);
        make_waits(d, &a);
        make_catch(d, &a);
        for (int i = 0; i < N_DRAWINGS; i++) {
            if (!a.wants[i]) continue;
            status = draw(d, &a, (drawing_name)i);
            if (status) return bfi_fail(&rd->ask->error, status, "pictures", &rd->ask->json, -1, "");
            bfi_json_picture(out, drawing_names[i], d->svg, &d->picture);
        }
        rd->is_drawing_cut = d->is_cut;
    }
    bfi_json_close(out);
    rd->not_drawn = why_not;
    return BF_OK;
}
