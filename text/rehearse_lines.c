/* rehearse_lines.c -- a rehearsal as lines of a journal of its own, and that journal folded. See text/rehearse.c. */
#include <math.h>
#include <string.h>

#include "baitfall/random.h"
#include "text/rehearsed.h"

/* ---- Lines ---- */

double bfi_rehearse_ms(const bfi_rehearse *r, double t_s) {
    return r->starts_ms + floor(1000 * (t_s - r->begin_s) + 0.5);
}

#define STREAM_ID UINT64_C(0x4e8eb00000000000)

/* The k-th id of a rehearsal. */
bf_id bfi_rehearse_id(const bfi_rehearse *r, int k) {
    bf_philox_block b = bf_philox(r->seed, STREAM_ID, (uint64_t)k);
    return (bf_id){(uint64_t)b.word[0] << 32 | b.word[1], (uint64_t)b.word[2] << 32 | b.word[3] | 1};
}

static void json_id(bfi_json *line, const char *key, bf_id id) {
    char hex[33];
    bf_id_write(id, hex);
    bfi_json_key_text(line, key, hex);
}

/* A line as far as its body; the last key is due. */
bfi_json bfi_rehearse_line(bfi_rehearse *r, int k, const char *kind, double t_s) {
    bfi_json line = bfi_json_open(r->line, sizeof r->line);
    double ms = bfi_rehearse_ms(r, t_s);
    bfi_json_object(&line);
    bfi_json_key_real(&line, "v", 1);
    json_id(&line, "id", k ? bfi_rehearse_id(r, k) : r->session);
    json_id(&line, "session", r->session);
    bfi_json_key_text(&line, "dev", BFI_REHEARSE_DEV);
    bfi_json_key_text(&line, "run", BFI_REHEARSE_DEV);
    bfi_json_key_real(&line, "seq", r->n_before + k);
    bfi_json_key_text(&line, "kind", kind);
    bfi_json_instant(&line, "at", ms, r->east_min);
    bfi_json_key_real(&line, "pm_s", 0);
    bfi_json_instant(&line, "rec", ms, r->east_min);
    bfi_json_key(&line, "body");
    return line;
}

static bf_status take_line(bfi_rehearse *r, const char *text, size_t n, bf_error *error) {
    bf_taken is;
    bf_status status = bf_take(r->journal, text, n, &is, error);
    if (!status && is == BF_TAKEN_CLASH)
        return bfi_fail(error, BF_E_TWICE, "id", NULL, -1, "an id of its own");
    return status;
}

bf_status bfi_rehearse_line_done(bfi_rehearse *r, bfi_json *line, bf_error *error) {
    size_t n;
    bfi_json_close(line);
    bf_status status = bfi_json_done(line, &n);
    return status ? bfi_fail(error, status, "body", NULL, -1, "less than 64 KiB")
                  : take_line(r, r->line, n, error);
}

static void key_name(bfi_json *line, const char *key, const char *name) {
    if (name[0]) bfi_json_key_text(line, key, name);
}

/* ---- The journal of a rehearsal: the session before, or an `open` ---- */

static bf_status take_before(bfi_rehearse *r) {
    const char *at = r->before;
    for (int number = 1; *at; number++) {
        const char *end = strchr(at, '\n');
        size_t n = end ? (size_t)(end - at) : strlen(at);
        bf_error error;
        if (n > 0 && take_line(r, at, n, &error)) {
            char path[64];
            bfi_pen pen = bfi_pen_open(path, sizeof path);
            bfi_put(&pen, "setup.before, line ");
            bfi_put_number(&pen, number, 0);
            bfi_put(&pen, ": ");
            bfi_put(&pen, error.field);
            return bfi_rehearse_fail(r, error.status, path, error.accepted);
        }
        at += n + (end != NULL);
    }
    return BF_OK;
}

/* Of the plan as it stands in the setup; "" where there is none. */
void bfi_rehearse_plan_text(const bfi_rehearse *r, const char *part, const char *key, char *out,
                            size_t most) {
    const bf_json *json = &r->inner.json;
    int value = bf_json_find(json, 0, "plan");
    out[0] = 0;
    for (int k = 0; k < 2; k++) {
        if (value < 0 || bf_json_kind_of(json, value) != BF_JSON_OBJECT) return;
        value = bf_json_find(json, value, k ? key : part);
    }
    if (value >= 0 && bf_json_kind_of(json, value) == BF_JSON_STRING &&
        bf_json_string(json, value, out, most))
        out[0] = 0;
}

static bf_status open_session(bfi_rehearse *r) {
    char venue[BF_NAME_BYTES + 1], peg[BF_NAME_BYTES + 1];
    bfi_rehearse_plan_text(r, "venue", "name", venue, sizeof venue);
    bfi_rehearse_plan_text(r, "venue", "peg", peg, sizeof peg);
    bfi_json line = bfi_rehearse_line(r, 0, "open", 0);
    bfi_json_object(&line);
    key_name(&line, "venue", venue);
    key_name(&line, "peg", peg);
    bfi_json_key_real(&line, "hours", r->hours);
    bfi_json_key_text(&line, "note", "Rehearsal: simulated, not a session.");
    bfi_json_close(&line);
    return bfi_rehearse_line_done(r, &line, &r->ask->error);
}

static void fold(bfi_rehearse *r) {
    r->inner.fold = bf_journal_fold(r->journal);
    r->inner.turnaround = bf_turnaround_of(r->inner.fold);
}

bf_status bfi_rehearse_open_journal(bfi_rehearse *r) {
    r->inner.journal = bf_journal_start(r->journal, BFI_REHEARSE_EVENTS, BFI_REHEARSE_TEXT);
    bf_status status = bfi_rehearse_has(r, "before") ? take_before(r) : open_session(r);
    if (!status) fold(r);
    return status;
}

/* ---- Its lines ---- */

static void json_shown(bfi_json *line, const bfi_rehearse *r, const bf_swim_event *event) {
    bfi_json_object(line);
    key_name(line, "spot", r->spot[event->spot]);
    if (event->kind != BF_SWIM_TOUCH) key_name(line, "hook_bait", r->hook[event->what]);
    if (event->kind == BF_SWIM_TOUCH) bfi_json_key_real(line, "n", event->n);
    if (event->kind == BF_SWIM_LIFT) bfi_json_key_text(line, "outcome", bf_outcome_words[event->outcome]);
    if (event->kind == BF_SWIM_LIFT && event->held >= 0)
        bfi_json_key_text(line, "held", bf_held_words[event->held]);
    if (event->kind == BF_SWIM_LIFT && !isnan(event->value)) bfi_json_key_real(line, "mass_kg", event->value);
    bfi_json_close(line);
}

/* The body of a put-in as it was chosen, its spot said. */
static void json_fed(bfi_json *line, const bfi_rehearse *r, const bf_swim_event *event) {
    const bfi_rehearse_choice *choice = &r->choice[event->live];
    const bf_json *json = &r->ask->json;
    int body = bf_json_find(json, choice->value, "body");
    bfi_json_object(line);
    if (bf_json_find(json, body, "spot") < 0) key_name(line, "spot", r->spot[event->spot]);
    bfi_json_raw(line, choice->body + 1, choice->n_body - 2); /* its members */
    bfi_json_close(line);
}

static const char *kind_of(const bf_swim_event *event) {
    return event->kind == BF_SWIM_FEED    ? "feed"
           : event->kind == BF_SWIM_IN    ? "lower"
           : event->kind == BF_SWIM_TOUCH ? "touch"
                                          : "lift";
}

/* The journal anew: what was before, and the day as it happened. */
bf_status bfi_rehearse_write_day(bfi_rehearse *r) {
    bf_status status = bfi_rehearse_open_journal(r);
    for (int k = 0; !status && k < r->day.n_events; k++) {
        const bf_swim_event *event = &r->event[k];
        bfi_json line = bfi_rehearse_line(r, k + 1, kind_of(event), event->t_s);
        if (event->kind == BF_SWIM_FEED)
            json_fed(&line, r, event);
        else
            json_shown(&line, r, event);
        status = bfi_rehearse_line_done(r, &line, &r->ask->error);
    }
    if (!status) bfi_rehearse_look_again(r);
    return status;
}

/* The scene's names by the journal's numbers. */
static void number(const bfi_rehearse *r, int *names, int n, const char (*text)[BF_NAME_BYTES + 1]) {
    for (int i = 0; i < n; i++) names[i] = text[i][0] ? bf_journal_find_name(r->journal, text[i]) : -1;
}

/* After the journal has changed: the session, and its names, anew. */
void bfi_rehearse_look_again(bfi_rehearse *r) {
    bfi_bedded *b = r->next.b;
    fold(r);
    for (int i = 0; i < r->inner.fold->n_sessions; i++)
        if (bf_id_order(r->inner.fold->session[i].id, r->session) == 0) b->i_session = i;
    b->session = &r->inner.fold->session[b->i_session];
    number(r, b->names.spot, b->scene.n_spots, (const char(*)[BF_NAME_BYTES + 1]) r->spot);
    number(r, b->names.feed, b->scene.n_feeds, (const char(*)[BF_NAME_BYTES + 1]) r->feed);
    number(r, b->names.hook, b->scene.n_hooks, (const char(*)[BF_NAME_BYTES + 1]) r->hook);
}
