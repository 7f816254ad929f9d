/* bed.c -- the question "bed": what the swim's model believes is down there, now or at an instant.
 *
 * {"session"?, "at"? instant (else "now", else the last entry; not after the session's end), "spot"? (else the last fed or
 *  fished), "plan"? or "kit"? objects: baits, pots, spots' depths, rigs; "seed"? 1, "sets"? 16, "particles"? 640 of each,
 *  "pictures"? ["left","fish","above"], "look"?, "learned"? [summaries of earlier sessions], "summary"? true} ->
 * {"session":{"id","venue","peg","opened"}, "at","at_text","spot","what",
 *  "known":{"since_put_in_s","last":{"bait","count","how","at","text"},"fed","fed_hour","lifts","sentences":[facts]},
 *  "left":{"mid","lo","hi","text","word"}, "left_kg":{..}, "left_of":[{"size_m","bait","mid","lo","hi","text"}], "left_dots":[20],
 *  "fish":{"word","band","p":{"few","some","many"},"text"}, "fish_dots":[20], "bites_h":{..}, "wide_m":{..}, "miss_m",
 *  "ledger":[{"from","to","what","in","gone":{"mid","lo","hi"},"text"}] newest first, 10 at most, "sentence",
 *  "series":[{"at","lo","mid","hi"}], "spots":[{"spot","fed","last","left":{"mid","lo","hi","text"},"fish":"few to some"}],
 *  "rests_on":{"sets","effective_sets","sessions","text"}, "summary":{"venue","opened","data"} when asked for, "pictures":{}, "notes":[{"code","text"}]}
 * A journal without a session: {"session":null}. Facts come first; fish are words with a band. Model: docs/models/swim.md. */
#include <math.h>
#include <string.h>

#include "core/base/room.h"
#include "text/bedded.h"

/* ---- Memory ---- */

static int most_told(int n_events) {
    return 3 * n_events + 1 + BF_BELIEF_MOST_MARKS;
}

static size_t put_bytes(int n_events) {
    return bfi_room((size_t)n_events * sizeof(bf_story_put));
}

static size_t puts_bytes(int n_events) {
    return bfi_room((size_t)n_events * sizeof(bfi_bed_put));
}

static size_t event_bytes(int n_events) {
    return bfi_room((size_t)most_told(n_events) * sizeof(bf_swim_event));
}

static size_t larger(size_t a, size_t b) {
    return a > b ? a : b;
}

/* What bf_belief_bed takes, for as many sets and reads as a request may name. */
static size_t merge_bytes(void) {
    static const bf_swim_scene scene = {.n_spots = 1, .n_feeds = 1, .n_hooks = 1};
    bf_belief_job job = {
        .scene = &scene, .n_sets = BF_BELIEF_MOST_SETS, .n_particles = BF_BELIEF_MOST_PARTICLES};
    return bf_belief_merge_bytes(&job);
}

size_t bfi_bed_bytes_of(int n_events) {
    return bfi_room(sizeof(bfi_bedded)) + put_bytes(n_events) + puts_bytes(n_events) + event_bytes(n_events) +
           bfi_room(larger(larger(bfi_bed_scene_bytes(), bfi_bed_draw_bytes()), merge_bytes()));
}

size_t bfi_bed_spare_bytes(const bf_journal *journal) {
    return bfi_bed_bytes_of(bf_journal_n(journal));
}

static void lay_out(bfi_bedded *b, bfi_ask *ask) {
    int n_events = bf_journal_n(ask->journal);
    char *at = (char *)b + bfi_room(sizeof *b);
    memset(b, 0, sizeof *b);
    b->ask = ask;
    b->put = (bf_story_put *)(void *)at;
    at += put_bytes(n_events);
    b->puts = (bfi_bed_put *)(void *)at;
    at += puts_bytes(n_events);
    b->event = (bf_swim_event *)(void *)at;
    b->most_events = most_told(n_events);
    b->spare = at + event_bytes(n_events);
}

/* ---- The request ---- */

static bf_status read_look(bfi_bedded *b) {
    static const char *const looks[] = {"shade", "sun", "dusk", NULL};
    static const int look_of[] = {BF_LOOK_SHADE, BF_LOOK_SUN, BF_LOOK_DUSK};
    int value = bf_json_find(&b->ask->json, 0, "look"), choice = 0;
    b->look = BF_LOOK_OPEN;
    if (value < 0) return BF_OK;
    bf_status status = bfi_read_choice(&b->ask->json, value, "look", looks, &choice, &b->ask->error);
    if (!status) b->look = look_of[choice];
    return status;
}

static bf_status read_pictures(bfi_bedded *b) {
    static const char *const pictures[] = {"left", "fish", "above", NULL};
    const bf_json *json = &b->ask->json;
    int value = bf_json_find(json, 0, "pictures"), choice;
    if (value < 0) return BF_OK;
    if (bf_json_kind_of(json, value) != BF_JSON_ARRAY)
        return bfi_ask_fail(b->ask, BF_E_TYPE, "pictures", "an array of left, fish and above");
    for (int i = bf_json_first(json, value); i >= 0; i = bf_json_next(json, i)) {
        bf_status status = bfi_read_choice(json, i, "pictures", pictures, &choice, &b->ask->error);
        if (status) return status;
        b->wants[choice] = 1;
    }
    return BF_OK;
}

static bf_status read_truth(bfi_bedded *b) {
    int value = bf_json_find(&b->ask->json, 0, "summary");
    if (value < 0) return BF_OK;
    bf_json_kind kind = bf_json_kind_of(&b->ask->json, value);
    if (kind != BF_JSON_TRUE && kind != BF_JSON_FALSE)
        return bfi_ask_fail(b->ask, BF_E_TYPE, "summary", "true or false");
    b->wants_summary = kind == BF_JSON_TRUE;
    return BF_OK;
}

/* Sessions opened before then are learned from; a rehearsal, which took place at no time, learns from all. */
static double learns_before_ms(const bfi_bedded *b) {
    int open = b->session->open_live;
    const bf_event *events = bf_journal_events(b->ask->journal);
    int is_simulated = open >= 0 && bf_event_is_simulated(&events[b->ask->fold->live[open].event]);
    return is_simulated ? BF_INFINITY : b->session->opened_ms;
}

/* What the session starts from: the book, and what sessions before it told. */
static bf_status read_prior(bfi_bedded *b) {
    const char *venue = bfi_bed_name(b, b->session->venue);
    bf_swim_learned learned;
    bf_status status = bfi_read_learned(b->ask, venue, learns_before_ms(b), &b->learned_from);
    if (!status) status = bfi_learn(b->ask, &b->learned_from, venue, &learned);
    if (status) return status;
    b->job.prior = learned.prior;
    b->n_here = learned.n_venue;
    b->n_elsewhere = learned.n_other;
    return BF_OK;
}

static bf_status read_whole(bfi_bedded *b, const char *key, double least, double most, double start,
                            double *number) {
    bf_status status = bfi_ask_number(b->ask, key, least, most, start, number);
    if (!status && *number != floor(*number))
        status = bfi_ask_fail(b->ask, BF_E_RANGE, key, "a whole number");
    return status;
}

static bf_status read_numbers(bfi_bedded *b) {
    double seed, sets, particles;
    bf_status status = read_whole(b, "seed", 0, BF_SEQ_MOST, 1, &seed);
    if (!status) status = read_whole(b, "sets", 1, BF_BELIEF_MOST_SETS, BF_BELIEF_SETS, &sets);
    if (!status)
        status = read_whole(b, "particles", 4, BF_BELIEF_MOST_PARTICLES, BF_BELIEF_PARTICLES, &particles);
    if (status) return status;
    b->job.seed = (uint64_t)seed;
    b->job.n_sets = (int)sets;
    b->job.n_particles = (int)particles;
    return BF_OK;
}

/* The instant that is asked about: not before the session, and not after its end. */
static bf_status read_at(bfi_bedded *b) {
    double at_ms, now_ms, begins_ms = bf_story_begins_ms(b->ask->fold, b->i_session, -BF_INFINITY);
    int east_min;
    bf_status status = bfi_ask_instant(b->ask, "at", &at_ms, &east_min);
    if (!status) status = bfi_ask_instant(b->ask, "now", &now_ms, &east_min);
    if (status) return status;
    if (at_ms < begins_ms) {
        char accepted[96];
        bfi_pen pen = bfi_pen_open(accepted, sizeof accepted);
        bfi_put(&pen, "the session's beginning, ");
        bfi_put_date(&pen, begins_ms, b->session->east_min, 0);
        bfi_put(&pen, " ");
        bfi_put_clock(&pen, begins_ms, b->session->east_min, 1);
        bfi_put(&pen, ", or later");
        return bfi_ask_fail(b->ask, BF_E_RANGE, "at", accepted);
    }
    b->at_ms = !isnan(at_ms) ? at_ms : !isnan(now_ms) ? now_ms : b->session->last_ms;
    if (b->at_ms < begins_ms) b->at_ms = begins_ms; // a clock that is behind
    if (b->at_ms > b->session->closed_ms) {
        b->is_after_close = !isnan(at_ms);
        b->at_ms = b->session->closed_ms;
    }
    b->begins_ms = bf_story_begins_ms(b->ask->fold, b->i_session, b->at_ms);
    b->is_cut = b->begins_ms > begins_ms;
    return BF_OK;
}

/* The spot that a lift, a wait or feed by pole was last at. */
static int last_spot(const bfi_bedded *b) {
    int spot = 0;
    for (int i = 0; i < b->n_events; i++)
        if (b->event[i].kind == BF_SWIM_FEED || b->event[i].kind == BF_SWIM_IN ||
            b->event[i].kind == BF_SWIM_TALLY)
            spot = b->event[i].spot;
    return spot;
}

static bf_status read_spot(bfi_bedded *b) {
    char text[BF_NAME_BYTES + 1], accepted[512];
    const char *names[BF_SWIM_MOST_SPOTS + 1] = {0};
    bf_status status = bfi_ask_text(b->ask, "spot", text, sizeof text);
    b->job.spot = last_spot(b);
    if (status || bf_json_find(&b->ask->json, 0, "spot") < 0) return status;
    for (int i = 0; i < b->scene.n_spots; i++) {
        names[i] = bfi_bed_name(b, b->names.spot[i]);
        if (strcmp(names[i], text) != 0) continue;
        b->job.spot = i;
        return BF_OK;
    }
    bfi_pen pen = bfi_pen_open(accepted, sizeof accepted);
    bfi_put(&pen, "a spot that was fed or fished: ");
    bfi_put_words(&pen, names);
    return bfi_ask_fail(b->ask, BF_E_CHOICE, "spot",
                        b->names.spot[0] < 0 ? "none: no entry names a spot" : accepted);
}

/* ---- The story and the job ---- */

/* The turnaround in whole steps of 5 s: a wait seen today must not move all that came before by a fraction. */
static bf_turnaround in_steps(bf_turnaround t) {
    const double step_s = 5;
    t.mid_s = step_s * floor(t.mid_s / step_s + 0.5);
    t.lo_s = step_s * floor(t.lo_s / step_s + 0.5);
    t.hi_s = step_s * floor(t.hi_s / step_s + 0.5);
    return t;
}

/* Instants of the series, in any order and each once. */
typedef struct instants {
    int n;
    double at_s[BF_BELIEF_MOST_MARKS];
} instants;

static void add_instant(instants *marks, double at_s, double from_s, double to_s) {
    if (at_s < from_s || at_s > to_s || marks->n == BF_BELIEF_MOST_MARKS) return;
    for (int i = 0; i < marks->n; i++)
        if (marks->at_s[i] == at_s) return;
    marks->at_s[marks->n++] = at_s;
}

/* Every two minutes of session time over the last stretch; and, as far as there is room, right before and after the last
 * put-ins. Marks stand at multiples of 5 s (belief.h). */
static void mark_series(bfi_bedded *b) {
    const double step_s = 5;
    double to_s = b->job.until_s, from_s = to_s > BFI_BED_SPAN_S ? to_s - BFI_BED_SPAN_S : 0;
    instants marks = {0};
    for (double at_s = BFI_BED_EVERY_S * floor(from_s / BFI_BED_EVERY_S); at_s <= to_s;
         at_s += BFI_BED_EVERY_S)
        add_instant(&marks, at_s, from_s, to_s);
    for (int i = b->n_events - 1; i >= 0 && b->event[i].t_s >= from_s; i--) {
        const bf_swim_event *event = &b->event[i];
        if (event->kind != BF_SWIM_FEED || event->spot != b->job.spot) continue;
        double after_s = -step_s * floor(-event->t_s / step_s);
        if (marks.n > BF_BELIEF_MOST_MARKS - 2) break;
        add_instant(&marks, after_s, from_s, to_s);
        add_instant(&marks, after_s == event->t_s ? after_s - step_s : step_s * floor(event->t_s / step_s),
                    from_s, to_s);
    }
    b->n_events = bf_story_mark(b->event, b->n_events, b->most_events, marks.at_s, marks.n);
}

/* Puts the story's put-ins at the spot together: baits of one put-in, or of one instant. */
void bfi_bed_gather_puts(bfi_bedded *b) {
    const bf_fold *fold = b->ask->fold;
    int put = b->session->put_from, first = -1;
    b->n_puts = 0;
    for (int i = 0; i < b->n_events; i++) {
        const bf_swim_event *event = &b->event[i];
        if (event->kind != BF_SWIM_FEED || event->spot != b->job.spot) continue;
        while (fold->put_in[put].live != event->live) put++;
        bfi_bed_put *last = b->n_puts ? &b->puts[b->n_puts - 1] : NULL;
        if (!last || (fold->put_in[put].first != first && event->t_s > last->t_s)) {
            last = &b->puts[b->n_puts++];
            *last = (bfi_bed_put){.t_s = event->t_s, .first = i, .how = event->how};
        }
        first = fold->put_in[put].first;
        last->last = i;
        last->pieces += event->count;
    }
}

/* The last put-ins' intervals; one at the very end has none yet. */
static void lay_ledger(bfi_bedded *b) {
    bf_belief_job *job = &b->job;
    int n = b->n_puts;
    if (n > 0 && !(b->puts[n - 1].t_s < job->until_s)) n--;
    job->n_ledger = n < BF_BELIEF_MOST_LEDGER ? n : BF_BELIEF_MOST_LEDGER;
    for (int i = 0; i < job->n_ledger; i++) job->ledger_s[i] = b->puts[n - job->n_ledger + i].t_s;
    job->ledger_s[job->n_ledger] = job->until_s;
}

static bf_status tell_story(bfi_bedded *b) {
    b->n_put_ins = b->session->put_to - b->session->put_from;
    b->turnaround = in_steps(b->ask->turnaround);
    bfi_bed_scene(b);
    b->n_events = bf_story_of(b->ask->fold, b->i_session, &b->turnaround, &b->scene, &b->names, b->put,
                              b->at_ms, b->event, b->most_events);
    BF_ASSERT(b->n_events <= b->most_events);
    bf_status status = read_spot(b);
    if (status) return status;
    b->job.scene = &b->scene;
    b->job.event = b->event;
    b->job.until_s = (b->at_ms - b->begins_ms) / 1000;
    mark_series(b);
    bfi_bed_gather_puts(b);
    lay_ledger(b);
    b->job.n_events = b->n_events;
    return BF_OK;
}

bf_status bfi_bed_begin(bfi_ask *ask) {
    bfi_bedded *b = ask->spare;
    lay_out(b, ask);
    bf_status status = bfi_bed_read(b);
    if (!status) status = read_look(b);
    if (!status) status = read_pictures(b);
    if (!status) status = read_truth(b);
    if (!status) status = read_numbers(b);
    if (status) return status;
    b->i_session = bfi_ask_session(ask);
    if (b->i_session < 0) return ask->error.status;
    const bf_session *session = &ask->fold->session[b->i_session];
    if (isnan(session->opened_ms)) return BF_OK; // all of it crossed out
    b->session = session;
    status = read_at(b);
    if (!status) status = read_prior(b);
    if (!status) status = tell_story(b);
    if (!status) ask->job = &b->job;
    return status;
}

/* ---- The answer ---- */

void bfi_json_bed_session(bfi_json *out, const bfi_bedded *b) {
    char id[33], clock[16];
    bfi_pen pen = bfi_pen_open(clock, sizeof clock);
    bf_id_write(b->session->id, id);
    bfi_json_key(out, "session");
    bfi_json_object(out);
    bfi_json_key_text(out, "id", id);
    bfi_json_key_text(out, "venue", bfi_bed_name(b, b->session->venue));
    bfi_json_key_text(out, "peg", bfi_bed_name(b, b->session->peg));
    bfi_json_instant(out, "opened", b->session->opened_ms, b->session->east_min);
    bfi_json_close(out);
    bfi_put_clock(&pen, b->at_ms, b->session->east_min, 0);
    bfi_json_instant(out, "at", b->at_ms, b->session->east_min);
    bfi_json_key_text(out, "at_text", clock);
    bfi_json_key_text(out, "spot", bfi_bed_name(b, b->names.spot[b->job.spot]));
    bfi_json_key_text(out, "what", BFI_BED_WHAT);
}

static void json_spots(bfi_json *out, const bfi_bedded *b) {
    bfi_json_key(out, "spots");
    bfi_json_array(out);
    for (int s = 0; s < b->scene.n_spots; s++) {
        double fed = 0, last_s = BF_NAN;
        for (int i = 0; i < b->n_events; i++) {
            if (b->event[i].kind != BF_SWIM_FEED || b->event[i].spot != s) continue;
            fed += b->event[i].count;
            last_s = b->event[i].t_s;
        }
        bfi_json_object(out);
        bfi_json_key_text(out, "spot", bfi_bed_name(b, b->names.spot[s]));
        bfi_json_key_real(out, "fed", fed);
        bfi_json_instant(out, "last", bfi_bed_ms(b, last_s), b->session->east_min);
        bfi_json_bed_spot(out, b, s, fed);
        bfi_json_close(out);
    }
    bfi_json_close(out);
}

static void put_learned(bfi_pen *pen, const bfi_bedded *b) {
    if (b->n_here + b->n_elsewhere == 0) {
        bfi_put(pen, "no earlier session learned from: it starts from the book's numbers");
        return;
    }
    bfi_put(pen, "learned from ");
    if (b->n_here) bfi_put_so_many(pen, b->n_here, "earlier session here", "earlier sessions here");
    if (b->n_here && b->n_elsewhere) bfi_put(pen, " and ");
    if (b->n_elsewhere) bfi_put_so_many(pen, b->n_elsewhere, "elsewhere", "elsewhere");
}

/* For later sessions. */
static void json_summary(bfi_json *out, const bfi_bedded *b) {
    if (!b->wants_summary) return;
    bf_swim_summary summary = bf_swim_summary_of(&b->job, &b->bed, b->session->venue);
    bfi_json_key(out, "summary");
    bfi_json_summary(out, &summary, bfi_bed_name(b, b->session->venue), b->session->opened_ms,
                     b->session->east_min);
}

static void json_rests_on(bfi_json *out, const bfi_bedded *b) {
    double n_versions = (double)b->job.n_sets * b->job.n_particles; // each particle has its own
    bfi_told told;
    bfi_told_start(&told);
    bfi_put_number(&told.pen, n_versions, 0);
    bfi_put(&told.pen, " versions of the model's numbers, of which about ");
    bfi_put_figures(&told.pen, bfi_reckoned(b->bed.n_effective_sets), 2);
    bfi_put(&told.pen, " still count; ");
    put_learned(&told.pen, b);
    bfi_json_key(out, "rests_on");
    bfi_json_object(out);
    bfi_json_key_real(out, "sets", n_versions);
    bfi_json_key_real(out, "effective_sets", b->bed.n_effective_sets);
    bfi_json_key_real(out, "sessions", b->n_here + b->n_elsewhere);
    bfi_json_key_text(out, "text", told.text);
    bfi_json_close(out);
}

static bf_status answer(bfi_ask *ask, bfi_json *out) {
    bfi_bedded *b = ask->spare;
    if (!b->session) {
        bfi_json_key_real(out, "session", BF_NAN); // null
        return BF_OK;
    }
    bf_belief_bed(&b->job, ask->rows, b->spare, &b->bed);
    bfi_json_bed_session(out, b);
    bfi_json_bed_known(out, b);
    bfi_json_bed_reckoned(out, b);
    json_spots(out, b);
    json_rests_on(out, b);
    json_summary(out, b);
    bfi_json_bed_pictures(out, b);
    bfi_json_bed_notes(out, b);
    return BF_OK;
}

const bfi_ask_verb bfi_bed_verb = {"bed", bfi_bed_spare_bytes, answer, bfi_bed_begin};
