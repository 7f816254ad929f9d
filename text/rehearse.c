/* rehearse.c -- the question "rehearse": a session that did not take place, on the swim's own model (rehearse.h).
 *
 * {"setup"? {"plan"?, "kit"?, "learned"? as in "bed"; "starts"? instant, "hours"?, "objective"?, "target_kg"? as in "next";
 *  or "session"?, "at": an instant of a real one, from which it goes on}, "seed"? 1,
 *  "choices"? [{"t_s" since it began, "kind":"feed"|"lower"|"lift"|"wait", "body"? as in the journal, "for_s" of a wait}] in order of time,
 *  "until_s"? 0, "until_bite"? false, "end"? false, "price"? [from, to]: the choices whose cost is worked out, from .. to - 1} ->
 * a setup with "at" and no "truth": {"simulated":true, "setup": to be asked with from then on (it has the truth that was drawn)}; else
 * {"simulated":true,"what", "seed","began","now_s","now","now_text","ends_s","is_over", "rig","free_s","counts", "spots","baits","hook_baits",
 *  "events":[what happened], "lines":[the same as lines of a journal: for "bed" and "next"], and at the end "truth","decisions","sentences"}.
 * docs/formats.md has all members. The journal is read for a setup with "at" alone. */
#include <math.h>
#include <string.h>

#include "core/base/room.h"
#include "text/rehearsed.h"

#define SETUP_TOKENS 8192
#define HOURS 5.0
#define BUSY_S BF_TURNAROUND_S
#define PUT_IN_S 15.0
#define STARTS "2026-01-01T09:00:00.000+00:00" /* where neither setup nor plan says; the day means nothing */

/* Where the setup has no plan: an invented peg, as everything of the name. */
static const char invented[] =
    "\"plan\":{\"schema\":1,\"name\":\"Withy Pool, peg 14 (invented)\",\"venue\":{\"name\":\"Withy Pool "
    "(invented)\",\"peg\":\"14\"},\"water\":{\"temp_c\":16},\"kit\":{\"baits\":[{\"id\":\"hard-4\"},{\"id\":"
    "\"micros-2\"},"
    "{\"id\":\"hard-6\"}],\"hook_baits\":[{\"id\":\"hard-6\"},{\"id\":\"expander-6\"}]},\"pole_m\":13,"
    "\"spots\":["
    "{\"id\":\"long\",\"distance_m\":11,\"depth_m\":1.6},{\"id\":\"margin\",\"distance_m\":2,\"side_m\":6,"
    "\"depth_m\":"
    "0.7}],\"feed\":[{\"spot\":\"long\",\"bait\":\"hard-4\",\"count\":15,\"how\":\"clump\",\"every_s\":300},{"
    "\"spot\":"
    "\"long\",\"bait\":\"micros-2\",\"count\":300,\"how\":\"clump\"},{\"spot\":\"margin\",\"bait\":\"hard-"
    "6\",\"count\":"
    "8,\"how\":\"hand\",\"every_s\":600}],\"session\":{\"hours\":5}}";

/* ---- Memory ---- */

static size_t story_bytes(void) {
    return bfi_room((3 * BFI_REHEARSE_EVENTS + 1) * sizeof(bf_swim_event));
}
static size_t put_bytes(void) {
    return bfi_room(BFI_REHEARSE_EVENTS * sizeof(bf_story_put));
}
static size_t journal_bytes(void) {
    return bfi_room(bf_journal_bytes(BFI_REHEARSE_EVENTS, BFI_REHEARSE_TEXT));
}

static size_t bed_bytes(const bf_journal *journal) {
    int n = bf_journal_n(journal);
    return bfi_room(bfi_bed_bytes_of(n > BFI_REHEARSE_EVENTS ? n : BFI_REHEARSE_EVENTS));
}

static size_t larger(size_t a, size_t b) {
    return a > b ? a : b;
}

/* For the widest scene there is. */
static size_t work_bytes(void) {
    bf_swim_scene scene;
    bf_story_start_scene(&scene, BF_SWIM_MOST_SPOTS, BF_SWIM_MOST_FEEDS, BF_SWIM_MOST_HOOKS);
    for (int i = 0; i < BF_SWIM_MOST_FEEDS; i++) scene.feed[i].diameter_m = 0.001 * (i + 1);
    bf_belief_job belief = {.scene = &scene, .n_sets = BF_BELIEF_MOST_SETS};
    return bfi_room(larger(bf_rehearse_cost_bytes(&scene), bf_rehearse_draw_bytes(&belief)));
}

static size_t text_bytes(void) {
    return bfi_room(BF_JSON_BYTES_MOST + BFI_REHEARSE_TEXT);
}

static size_t spare_bytes(const bf_journal *journal) {
    return bfi_room(sizeof(bfi_rehearse)) + bfi_room(bf_json_bytes(SETUP_TOKENS)) + bed_bytes(journal) +
           story_bytes() + put_bytes() + journal_bytes() + work_bytes() + text_bytes() +
           bfi_room(BFI_REHEARSE_TEXT);
}

static void *taken(char **at, size_t bytes) {
    void *memory = *at;
    *at += bytes;
    return memory;
}

/* The tokens of the setup stand behind the record. */
static void *setup_tokens(bfi_rehearse *r) {
    return (char *)r + bfi_room(sizeof *r);
}

static bfi_rehearse *lay_out(bfi_ask *ask) {
    bfi_rehearse *r = ask->spare;
    char *at = (char *)r + bfi_room(sizeof *r) + bfi_room(bf_json_bytes(SETUP_TOKENS));
    memset(r, 0, sizeof *r);
    r->ask = ask;
    r->inner.spare = taken(&at, bed_bytes(ask->journal));
    r->story = taken(&at, story_bytes());
    r->put = taken(&at, put_bytes());
    r->journal = taken(&at, journal_bytes());
    r->work = taken(&at, work_bytes());
    r->setup = taken(&at, text_bytes());
    r->before = at;
    return r;
}

/* ---- Errors ---- */

bf_status bfi_rehearse_fail(bfi_rehearse *r, bf_status status, const char *path, const char *accepted) {
    return bfi_fail(&r->ask->error, status, path, NULL, -1, accepted);
}

/* An error of the setup or of a line is the question's own. */
static bf_status pass_on(bfi_rehearse *r, const bf_error *error) {
    r->ask->error = *error;
    return error->status;
}

/* ---- The request ---- */

static bf_status read_truth(bfi_rehearse *r, const char *key, int *truth) {
    const bf_json *json = &r->ask->json;
    int value = bf_json_find(json, 0, key);
    *truth = value >= 0 && bf_json_kind_of(json, value) == BF_JSON_TRUE;
    if (value >= 0 && !*truth && bf_json_kind_of(json, value) != BF_JSON_FALSE)
        return bfi_ask_fail(r->ask, BF_E_TYPE, key, "true or false");
    return BF_OK;
}

static bf_status read_price(bfi_rehearse *r) {
    const bf_json *json = &r->ask->json;
    int value = bf_json_find(json, 0, "price");
    double bound[2] = {0, BF_REHEARSE_MOST_TURNS};
    int i = value >= 0 && bf_json_kind_of(json, value) == BF_JSON_ARRAY ? bf_json_first(json, value) : -1;
    for (int k = 0; k < 2 && value >= 0; k++, i = i < 0 ? -1 : bf_json_next(json, i))
        if (i < 0 || bf_json_kind_of(json, i) != BF_JSON_NUMBER || bf_json_number(json, i, &bound[k]) ||
            !(bound[k] >= 0 && bound[k] <= BF_REHEARSE_MOST_TURNS))
            return bfi_ask_fail(r->ask, BF_E_RANGE, "price", "[from, to]: two numbers from 0 to 1000");
    r->price_from = (int)bound[0], r->price_to = (int)bound[1];
    return BF_OK;
}

/* A file of a rehearsal is the request itself, with its version and perhaps a name. */
static bf_status read_file_head(bfi_rehearse *r) {
    char name[BF_NAME_BYTES + 1];
    double version;
    bf_status status = bfi_ask_number(r->ask, "rehearsal", 1, 1, 1, &version);
    return status ? status : bfi_ask_text(r->ask, "name", name, sizeof name);
}

static bf_status read_root(bfi_rehearse *r) {
    static const char *const keys[] = {"rehearsal", "name",       "setup", "seed",  "choices",
                                       "until_s",   "until_bite", "end",   "price", NULL};
    bfi_ask *ask = r->ask;
    double seed;
    bf_status status = bfi_ask_only(ask, keys);
    if (!status) status = read_file_head(r);
    if (!status) status = bfi_ask_number(ask, "seed", 0, BF_SEQ_MOST, 1, &seed);
    if (!status && seed != floor(seed)) status = bfi_ask_fail(ask, BF_E_RANGE, "seed", "a whole number");
    if (!status) status = bfi_ask_number(ask, "until_s", 0, BF_REHEARSE_MOST_S, 0, &r->day_of.until_s);
    if (!status) status = read_truth(r, "until_bite", &r->stops_at_bite);
    if (!status) status = read_truth(r, "end", &r->wants_end);
    if (!status) status = read_price(r);
    if (!status) r->seed = (uint64_t)seed;
    return status;
}

/* The setup's text: with the invented plan where it has none, and none is part of a session that goes on. */
static bf_status open_setup(bfi_rehearse *r) {
    const bf_json *json = &r->ask->json;
    bf_json_fault fault;
    int value = bf_json_find(json, 0, "setup");
    size_t n = 2;
    const char *text = value < 0 ? "{}" : bf_json_raw(json, value, &n);
    if (value >= 0 && bf_json_kind_of(json, value) != BF_JSON_OBJECT)
        return bfi_ask_fail(r->ask, BF_E_TYPE, "setup", "an object");
    int is_whole =
        value >= 0 && (bf_json_find(json, value, "plan") >= 0 || bf_json_find(json, value, "at") >= 0 ||
                       bf_json_find(json, value, "before") >= 0);
    if (!is_whole) {
        int is_empty = value < 0 || bf_json_first(json, value) < 0;
        bfi_pen pen = bfi_pen_open(r->setup, BF_JSON_BYTES_MOST);
        bfi_put(&pen, "{");
        bfi_put(&pen, invented);
        if (!is_empty) bfi_put(&pen, ",");
        bfi_put_bytes(&pen, text + 1, n - 1);
        text = r->setup, n = r->n_setup = pen.n;
        if (pen.is_short) return bfi_rehearse_fail(r, BF_E_SPACE, "setup", "less than 1 MiB");
    }
    if (bf_json_read(text, n, setup_tokens(r), SETUP_TOKENS, &r->inner.json, &fault))
        return bfi_fail_json(&r->ask->error, "The setup", &r->inner.json, &fault);
    return BF_OK;
}

int bfi_rehearse_has(const bfi_rehearse *r, const char *key) {
    return bf_json_find(&r->inner.json, 0, key) >= 0;
}

/* ---- When it begins ---- */

static bf_status read_starts(bfi_rehearse *r) {
    char text[BF_INSTANT_BYTES];
    bf_status status = bfi_ask_text(&r->inner, "starts", text, sizeof text);
    if (!status && !text[0]) bfi_rehearse_plan_text(r, "session", "starts", text, sizeof text);
    if (!text[0]) memcpy(text, STARTS, sizeof STARTS);
    if (!status && bf_instant_read(text, strlen(text), &r->starts_ms, &r->east_min))
        status = bfi_ask_fail(&r->inner, BF_E_SYNTAX, "starts",
                              "an instant such as 2026-04-12T09:31:05.120+01:00");
    if (!status) status = bfi_ask_number(&r->inner, "hours", 0.1, 12, BF_NAN, &r->hours);
    return status ? pass_on(r, &r->inner.error) : BF_OK;
}

/* The setup's hours, else the plan's, else five. */
static double planned_hours(const bfi_rehearse *r) {
    const bf_json *json = &r->inner.json;
    int plan = bf_json_find(json, 0, "plan");
    int session =
        plan >= 0 && bf_json_kind_of(json, plan) == BF_JSON_OBJECT ? bf_json_find(json, plan, "session") : -1;
    int value = session >= 0 && bf_json_kind_of(json, session) == BF_JSON_OBJECT
                    ? bf_json_find(json, session, "hours")
                    : -1;
    double hours;
    int is_told = value >= 0 && bf_json_kind_of(json, value) == BF_JSON_NUMBER &&
                  bf_json_number(json, value, &hours) == BF_OK;
    return is_told && hours >= 0.1 && hours <= 12 ? hours : HOURS;
}

/* A session that goes on: from "at"; its id is that of its lines, and it ends when its `open` says, an hour from then at least. */
static bf_status take_up(bfi_rehearse *r) {
    double at_ms;
    bf_status status = bfi_ask_instant(&r->inner, "at", &at_ms, &r->east_min);
    if (status) return pass_on(r, &r->inner.error);
    if (isnan(at_ms)) return bfi_rehearse_fail(r, BF_E_MISSING, "setup.at", "the instant it goes on from");
    int value = bf_json_find(&r->inner.json, 0, "before");
    if (bf_json_kind_of(&r->inner.json, value) != BF_JSON_STRING ||
        bf_json_string(&r->inner.json, value, r->before, BFI_REHEARSE_TEXT))
        return bfi_rehearse_fail(r, BF_E_TYPE, "setup.before", "lines of a journal as text, less than 1 MiB");
    r->starts_ms = at_ms;
    return BF_OK;
}

/* A real session's `open` may say when it ends; an hour is left at least, two where it does not. */
static double hours_left(const bfi_rehearse *r, const bf_session *session) {
    double left = session->hours - (r->starts_ms - session->opened_ms) / 3600e3;
    return isnan(left) ? 2 : left < 1 ? 1 : left > 12 ? 12 : left;
}

/* ---- The scene ---- */

static void label(char *out, const char *name) {
    bfi_cut(out, BF_NAME_BYTES + 1, name, strlen(name));
}

/* A hook bait that nobody named is none where others are known. */
static void drop_nameless_hook(bfi_next *n) {
    bf_swim_scene *scene = &n->b->scene;
    if (scene->n_hooks < 2 || bfi_next_hook(n, 0)[0]) return;
    scene->n_hooks--;
    memmove(scene->hook, scene->hook + 1, (size_t)scene->n_hooks * sizeof *scene->hook);
    memmove(n->b->names.hook, n->b->names.hook + 1, (size_t)scene->n_hooks * sizeof *n->b->names.hook);
    memmove(n->hook_name, n->hook_name + 1, (size_t)scene->n_hooks * sizeof *n->hook_name);
}

/* Session, plan and book as the setup has them; then all names by heart. */
static bf_status set_scene(bfi_rehearse *r) {
    bfi_next *n = &r->next;
    bfi_bedded *b = r->inner.spare;
    r->inner.verb = r->ask->verb;
    if (bfi_bed_begin(&r->inner)) return pass_on(r, &r->inner.error);
    if (!b->session)
        return bfi_rehearse_fail(r, BF_E_CHOICE, r->is_drawing ? "session" : "setup.before",
                                 "a session in this journal");
    n->b = b;
    bfi_next_take_plan(n);
    if (!r->is_drawing && !bfi_rehearse_has(r, "before")) drop_nameless_hook(n);
    for (int i = 0; i < b->scene.n_spots; i++) label(r->spot[i], bfi_next_spot(n, i));
    for (int i = 0; i < b->scene.n_feeds; i++) label(r->feed[i], bfi_next_feed(n, i));
    for (int i = 0; i < b->scene.n_hooks; i++) label(r->hook[i], bfi_next_hook(n, i));
    BF_ASSERT(bf_rehearse_columns(&b->scene) <= BFI_REHEARSE_TRUTH);
    if (!r->feed[0][0])
        return bfi_rehearse_fail(r, BF_E_MISSING, "setup.plan",
                                 "a plan with a line of feed, where the session has fed nothing yet");
    return BF_OK;
}

/* ---- The truth ---- */

/* 16 hex digits a double, behind the model's version. */
static bf_status read_drawn(bfi_rehearse *r) {
    const bf_swim_scene *scene = &r->next.b->scene;
    int n = bf_rehearse_columns(scene), value = bf_json_find(&r->inner.json, 0, "truth"), is_good;
    char text[16 * (BFI_REHEARSE_TRUTH + 1) + 1];
    double t_s;
    is_good = value >= 0 && bf_json_kind_of(&r->inner.json, value) == BF_JSON_STRING &&
              bf_json_string(&r->inner.json, value, text, sizeof text) == BF_OK &&
              strlen(text) == 16 * (size_t)(n + 1);
    for (int k = -1; is_good && k < n; k++) {
        char pair[33];
        bf_id id;
        memset(pair, '0', 16), memcpy(pair + 16, text + 16 * (k + 1), 16), pair[32] = 0;
        is_good = bf_id_read(pair, 32, &id) == BF_OK && (k >= 0 || id.low == BF_SWIM_VERSION);
        if (k >= 0) memcpy(&r->truth[k], &id.low, sizeof id.low);
    }
    if (!is_good || !bf_rehearse_is_truth(scene, r->truth, &t_s) || t_s != r->next.b->job.until_s)
        return bfi_rehearse_fail(
            r, BF_E_CHOICE, "setup.truth",
            "what this version of the model drew for this session and plan: begin it anew");
    return BF_OK;
}

static bf_status take_truth(bfi_rehearse *r) {
    if (bfi_rehearse_has(r, "before")) return read_drawn(r);
    bf_rehearse_begin(&r->next.b->scene, &r->next.b->job.prior, r->seed, r->truth);
    return BF_OK;
}

/* ---- The day ---- */

static bf_status play(bfi_rehearse *r) {
    bf_rehearsal *is = &r->day_of;
    is->scene = &r->next.b->scene, is->truth = r->truth, is->seed = r->seed;
    is->turn = r->turn, is->n_turns = r->n_turns;
    is->until_s += r->begin_s, is->stops_at_bite = r->stops_at_bite;
    is->busy_s = BUSY_S, is->put_in_s = PUT_IN_S;
    is->fish_kg = BF_REHEARSE_FISH_KG, is->fish_spread = BF_REHEARSE_FISH_SPREAD;
    r->day = (bf_rehearse_day){.event = r->event,
                               .most_events = BFI_REHEARSE_SIGNS,
                               .point = r->point,
                               .most_points = BFI_REHEARSE_POINTS};
    bf_rehearse(is, &r->day);
    int is_too_much = r->day.n_events > BFI_REHEARSE_SIGNS || r->day.n_points > BFI_REHEARSE_POINTS ||
                      r->n_before + 1 + r->day.n_events > BFI_REHEARSE_EVENTS;
    return is_too_much ? bfi_rehearse_fail(r, BF_E_SPACE, "until_s",
                                           "a shorter day: it holds no more than 3000 signs and choices")
                       : BF_OK;
}

/* ---- For advice ---- */

static void tell_story(bfi_rehearse *r) {
    bfi_bedded *b = r->next.b;
    const bf_fold *of = r->inner.fold;
    for (int p = b->session->put_from; p < b->session->put_to; p++)
        r->put[p - b->session->put_from] = bfi_bed_comes_to(b, &of->put_in[p]);
    r->n_story = bf_story_of(of, b->i_session, &b->turnaround, &b->scene, &b->names, r->put,
                             bfi_rehearse_ms(r, r->day.t_s), r->story, 3 * BFI_REHEARSE_EVENTS + 1);
}

/* How many of the story's events came before what turn i did. */
static int told_before(const bfi_rehearse *r, int i, double t_s) {
    const bf_fold *of = r->inner.fold;
    int first = 0, n = 0;
    while (first < r->day.n_events && r->event[first].live != i) first++;
    first += bf_journal_n(r->journal) - r->day.n_events;
    while (n < r->n_story && r->story[n].t_s <= t_s &&
           (r->story[n].live < 0 || of->live[r->story[n].live].event < first))
        n++;
    return n;
}

void bfi_rehearse_at(bfi_rehearse *r, int i, const bf_rehearse_decision *d) {
    bfi_next *n = &r->next;
    bfi_bedded *b = n->b;
    if (!r->n_story) tell_story(r);
    b->event = r->story, b->n_events = told_before(r, i, d->t_s);
    b->at_ms = bfi_rehearse_ms(r, d->t_s), b->job.until_s = d->t_s, b->job.spot = d->spot;
    bfi_bed_gather_puts(b);
    int objective = n->job.objective;
    double target_kg = n->job.target_kg;
    memset(&n->job, 0, sizeof n->job);
    n->fed_kg = 0, n->n_weighed = 0;
    bfi_next_fill(n);
    n->job.objective = objective, n->job.target_kg = target_kg;
    double left_s = r->begin_s + 3600 * r->hours - d->t_s;
    n->job.for_s = left_s < 600 ? 600 : left_s < 3600 ? left_s : 3600;
    for (int k = 0; k < n->job.n_hooks; k++) /* the one that was down comes first */
        if (n->job.hook[k] == d->hook) n->job.hook[k] = n->job.hook[0], n->job.hook[0] = d->hook;
}

/* ---- The verb ---- */

/* A session that is to be taken up: its belief is computed, its truth drawn. */
static bf_status begin_drawing(bfi_rehearse *r) {
    r->inner.journal = r->ask->journal;
    r->inner.fold = r->ask->fold, r->inner.turnaround = r->ask->turnaround;
    bf_status status = set_scene(r);
    if (status) return status;
    bf_belief_job *job = &r->next.b->job;
    job->n_drawn = job->n_particles < BF_ADVISE_DRAWN ? job->n_particles : BF_ADVISE_DRAWN;
    r->ask->job = job;
    return BF_OK;
}

static bf_status begin_day(bfi_rehearse *r) {
    r->session = bfi_rehearse_id(r, -1);
    bf_status status = bfi_rehearse_has(r, "before") ? take_up(r) : read_starts(r);
    if (!status && isnan(r->hours)) r->hours = planned_hours(r);
    if (!status) status = bfi_rehearse_open_journal(r);
    if (status) return status;
    r->n_before = bf_journal_n(r->journal) - !bfi_rehearse_has(r, "before");
    status = set_scene(r);
    if (status) return status;
    const bf_session *session = r->next.b->session;
    r->session = session->id, r->begin_s = r->next.b->job.until_s;
    if (bfi_rehearse_has(r, "before")) r->east_min = session->east_min, r->hours = hours_left(r, session);
    status = take_truth(r);
    if (!status && bfi_next_objective(&r->next)) status = pass_on(r, &r->inner.error);
    if (!status) status = bfi_rehearse_read_choices(r);
    if (!status) status = bfi_rehearse_take_choices(r);
    if (!status) status = play(r);
    return status ? status : bfi_rehearse_write_day(r);
}

static bf_status begin(bfi_ask *ask) {
    bfi_rehearse *r = lay_out(ask);
    bf_status status = read_root(r);
    if (!status) status = open_setup(r);
    if (status) return status;
    r->is_drawing = bfi_rehearse_has(r, "at") && !bfi_rehearse_has(r, "truth");
    return r->is_drawing ? begin_drawing(r) : begin_day(r);
}

static bf_status answer(bfi_ask *ask, bfi_json *out) {
    return bfi_json_rehearse(out, ask->spare);
}

const bfi_ask_verb bfi_rehearse_verb = {"rehearse", spare_bytes, answer, begin};
