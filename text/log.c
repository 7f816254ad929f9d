/* log.c -- the question "log": the entries of a session, newest first.
 *
 * {"session"?, "most": 100, "before": 0, "lane"?} -> {"rows":[...], "n", "clashes", "idle"}: at most `most`
 * rows after the first `before`; n: how many the lane has in all. Corrections are no rows; they show in what
 * they corrected. */
#include <string.h>

#include "baitfall/match.h"
#include "text/line.h"
#include "text/read.h"
#include "text/record.h"
#include "text/told.h"

#define LATE_MS 60000.0
#define MOST_ROWS 1000

/* ---- Words ---- */

const char *bfi_entry_word(int kind, const bf_body *body) {
    static const char *const words[BF_N_EVENT_KINDS] = {
        [BF_OPEN] = "Start",      [BF_CLOSE] = "End",    [BF_PLUMB] = "Depth",     [BF_WATER] = "Water",
        [BF_BOX] = "Bait",        [BF_FEED] = "Feed",    [BF_LOWER] = "Rig in",    [BF_TOUCH] = "Touch",
        [BF_LIFT] = "Lift",       [BF_NET] = "Net",      [BF_TALLY] = "Catch-up",  [BF_LOOK] = "Look",
        [BF_ADVICE] = "Advice",   [BF_ASK] = "Question", [BF_NOTE] = "Note",       [BF_CLOCK] = "Clock",
        [BF_CROSS] = "Cross out", [BF_FIX] = "Fix",      [BF_RESTORE] = "Put back"};
    static const char *const lifts[] = {[BF_LANDED] = "Fish",
                                        [BF_LOST] = "Lost",
                                        [BF_MISSED] = "Missed",
                                        [BF_FOUL] = "Foul",
                                        [BF_NOTHING] = "Nothing"};
    if (kind == BF_LIFT && body->outcome >= 0) return lifts[body->outcome];
    if (kind == BF_NET && body->mass_kg == body->mass_kg) return "Weighed";
    return words[kind];
}

/* How a field is said where its value alone would not tell; NULL in `after`: not at all. */
typedef struct saying {
    const char *name, *before, *after;
} saying;

static const saying sayings[] = {
    {"put", "", NULL},
    {"peg", "peg ", ""},
    {"plan", "plan ", ""},
    {"outcome", "", NULL},
    {"count", "", " pieces"},
    {"pot_m3", "pot of ", ""},
    {"n", "", " times"},
    {"guess_kg", "guess ", ""},
    {"net", "net ", ""},
    {"nets", "", " nets"},
    {"net_limit_kg", "limit ", ""},
    {"hours", "", " h"},
    {"target_kg", "target ", ""},
    {"from", "from ", ""},
    {"to", "to ", ""},
    {"landed", "", " fish"},
    {"lost", "", " lost"},
    {"missed", "", " missed"},
    {"foul", "", " foul"},
    {"nothing", "", " nothing"},
    {"touch", "", " touches"},
    {"over_s", "over ", ""},
    {"wide_m", "", " wide"},
    {"distance_m", "", " out"},
    {"side_m", "", " to the right"},
    {"depth_m", "", " deep"},
    {"wind_m_s", "wind ", ""},
    {"wind_height_m", "measured at ", ""},
    {"wind_side_deg", "towards ", ""},
    {"fetch_m", "fetch ", ""},
    {"surface_drift_m_s", "drift ", ""},
    {"undertow_m_s", "undertow ", ""},
    {"jump_s", "jumped ", ""},
    {"fill_frac", "", " full"},
    {NULL, "", ""},
};

static const saying *saying_of(const char *name) {
    const saying *s = sayings;
    while (s->name && strcmp(s->name, name) != 0) s++;
    return s;
}

static void put_comma(bfi_pen *pen) {
    if (pen->n) bfi_put(pen, ", ");
}

/* To three figures. Weights are of fish, but in a bait box. */
static void put_number(bfi_pen *pen, int kind, const bf_field *field, double value) {
    char text[BF_SAY_MOST];
    int is_ratio = strcmp(bf_field_suffix(field), "_frac") == 0;
    double said = is_ratio ? 100 * value : value;
    if (field->dimension == BF_MASS && kind != BF_BOX)
        bf_say_weight(value, text);
    else
        bf_say_range((bf_range){said, said, said, said}, field->dimension, text);
    bfi_put(pen, text);
    if (is_ratio) bfi_put(pen, " %");
}

/* "shaken out", "top lip side"; others by their word, "under half lb". */
static void put_choice(bfi_pen *pen, const bf_field *field, int choice) {
    if (field->words == bf_how_words) {
        bfi_put(pen, bfi_how_said[choice]);
    } else if (field->words == bf_held_words) {
        bfi_put(pen, bfi_held_said[choice]);
    } else {
        for (const char *c = field->words[choice]; *c; c++) bfi_put_bytes(pen, *c == '_' ? " " : c, 1);
    }
}

/* A bait is said by its name, all else as it was written. */
static void put_named(bfi_pen *pen, const bf_field *field, const char *name) {
    int is_bait = strcmp(field->name, "bait") == 0 || strcmp(field->name, "hook_bait") == 0;
    bfi_put(pen, is_bait ? bf_bait_name(name) : name);
}

static void put_value(bfi_pen *pen, const bfi_ask *ask, int kind, const bf_field *field, const void *member,
                      int east_min) {
    switch (field->kind) {
    case BF_REF: put_named(pen, field, bf_journal_name(ask->journal, *(const int *)member)); break;
    case BF_CHOICE: put_choice(pen, field, *(const int *)member); break;
    case BF_INSTANT: bfi_put_clock(pen, *(const double *)member, east_min, 0); break;
    case BF_INT: put_number(pen, kind, field, *(const int *)member); break;
    default: put_number(pen, kind, field, *(const double *)member); break;
    }
}

static void put_body_words(bfi_pen *pen, const bfi_ask *ask, int kind, const bf_body *body, int east_min) {
    for (int i = 0; i < bf_body_table.n_fields; i++) {
        const bf_field *field = &bf_body_table.field[i];
        const saying *s = saying_of(field->name);
        int is_one = field->kind == BF_INT && strcmp(field->name, "n") == 0 && body->n == 1;
        if (!bf_body_has(body, i) || !s->after || is_one) continue;
        put_comma(pen);
        bfi_put(pen, s->before);
        put_value(pen, ask, kind, field, (const char *)body + field->offset, east_min);
        bfi_put(pen, s->after);
    }
}

/* The drop that a live entry ended by lifting, NULL. */
static const bf_drop *drop_of(const bf_fold *fold, int i_live) {
    const bf_session *session = &fold->session[fold->live[i_live].session];
    for (int d = session->drop_from; d < session->drop_to; d++)
        if (fold->drop[d].end_live == i_live && !fold->drop[d].is_implied) return &fold->drop[d];
    return NULL;
}

static void put_wait(bfi_pen *pen, const bfi_ask *ask, const bf_drop *drop) {
    double pm_s;
    int is_event;
    double wait_s = bf_drop_wait_s(drop, &ask->turnaround, &pm_s, &is_event);
    if (wait_s != wait_s) return;
    put_comma(pen);
    bfi_put(pen, "wait ");
    bfi_put_since(pen, wait_s);
}

/* At the fish that is reckoned to have taken a net over its limit: that it did. */
static void put_overrun(bfi_pen *pen, const bf_nets *nets, int i_live) {
    char limit[BF_SAY_MOST];
    for (int i = 0; i < nets->n; i++) {
        if (nets->net[i].over_live != i_live) continue;
        put_comma(pen);
        bfi_put(pen, "net ");
        bfi_put_number(pen, nets->net[i].net, 0);
        bfi_put(pen, " probably over ");
        bfi_put_bytes(pen, limit, bf_say_weight(nets->limit_kg, limit));
        bfi_put(pen, " from here");
    }
}

/* "long, hard six, wait 2:10" */
static void put_detail(bfi_pen *pen, const bfi_ask *ask, const bf_nets *nets, int i_live, int east_min) {
    const bf_live *live = &ask->fold->live[i_live];
    const bf_drop *drop = drop_of(ask->fold, i_live);
    bf_body body = live->body;
    if (drop) { // what was carried forward to it
        body.spot = drop->spot;
        body.hook_bait = drop->hook_bait;
    }
    put_body_words(pen, ask, live->kind, &body, east_min);
    if (drop) put_wait(pen, ask, drop);
    put_overrun(pen, nets, i_live);
}

/* ---- Lanes ---- */

enum { FEED, BITES, FISH, NETS, WATER, NOTES };
static const char *const lanes[] = {"feed", "bites", "fish", "nets", "water", "notes", NULL};

static int lane_of(const bf_live *live) {
    switch (live->kind) {
    case BF_FEED:
    case BF_BOX: return FEED;
    case BF_LIFT: return live->body.outcome == BF_LANDED ? FISH : BITES;
    case BF_TALLY: return live->body.landed > 0 ? FISH : BITES;
    case BF_LOWER:
    case BF_TOUCH: return BITES;
    case BF_NET: return NETS;
    case BF_PLUMB:
    case BF_WATER:
    case BF_LOOK: return WATER;
    default: return NOTES;
    }
}

/* ---- Notes ---- */

/* The last live fix of an entry that gives a note, else the entry's own event. */
static int event_of_note(const bfi_ask *ask, int i_live) {
    const bf_fold *fold = ask->fold;
    const bf_event *events = bf_journal_events(ask->journal);
    const bf_live *live = &fold->live[i_live];
    const bf_session *session = &fold->session[live->session];
    int last = live->event;
    for (int i = session->live_from; i < session->live_to && live->n_fixes; i++) {
        const bf_live *fix = &fold->live[i];
        char beginning[8];
        if (fix->kind != BF_FIX || fix->is_crossed ||
            bf_id_order(events[fix->event].of, events[live->event].id) != 0 ||
            (last != live->event && bf_event_seq_order(&events[fix->event], &events[last]) < 0))
            continue;
        bf_journal_note(ask->journal, fix->event, beginning, sizeof beginning);
        if (beginning[0]) last = fix->event;
    }
    return last;
}

void bfi_entry_note(const bfi_ask *ask, int i_live, char *note, size_t most) {
    bf_journal_note(ask->journal, event_of_note(ask, i_live), note, most);
}

/* ---- Rows ---- */

static const char *name_of_journal(const void *user, int i) {
    return bf_journal_name(user, i);
}

static void put_row(bfi_json *out, const bfi_ask *ask, const bf_nets *nets, int i_live) {
    const bf_live *live = &ask->fold->live[i_live];
    const bf_event *e = &bf_journal_events(ask->journal)[live->event];
    char id[33], dev[9], detail[1024], clock[16], note[BFI_NOTE_MOST + 1];
    bfi_pen detail_pen = bfi_pen_open(detail, sizeof detail), clock_pen = bfi_pen_open(clock, sizeof clock);
    bf_id_write(e->id, id);
    bfi_word_write(e->dev, dev);
    put_detail(&detail_pen, ask, nets, i_live, e->at_east_min);
    bfi_put_clock(&clock_pen, live->t_ms, e->at_east_min, 1);
    bfi_entry_note(ask, i_live, note, sizeof note);

    bfi_json_object(out);
    bfi_json_key_text(out, "id", id);
    bfi_json_key_text(out, "kind", bf_event_words[live->kind]);
    bfi_json_key_text(out, "word", bfi_entry_word(live->kind, &live->body));
    bfi_json_key_text(out, "detail", detail);
    bfi_json_key_text(out, "note", note);
    bfi_json_instant(out, "at", live->t_ms, e->at_east_min);
    bfi_json_key_text(out, "at_text", clock);
    bfi_json_key_real(out, "pm_s", live->pm_s);
    bfi_json_instant(out, "rec", e->rec_ms, e->rec_east_min);
    bfi_json_key(out, "is_late");
    bfi_json_truth(out, e->rec_ms - e->at_ms > LATE_MS);
    bfi_json_key_text(out, "dev", dev);
    bfi_json_key(out, "is_crossed");
    bfi_json_truth(out, live->is_crossed);
    bfi_json_key_real(out, "n_fixes", live->n_fixes);
    bfi_json_key(out, "is_clash");
    bfi_json_truth(out, live->is_clash);
    bfi_json_key_real(out, "seq", e->seq);
    bfi_json_key(out, "body");
    bfi_json_object(out);
    bfi_json_body(out, &live->body, e->at_east_min, name_of_journal, ask->journal);
    bfi_json_close(out);
    bfi_json_close(out);
}

/* ---- The answer ---- */

typedef struct log_request {
    int session, lane; /* -1: none, all */
    int most, before;
} log_request;

static bf_status read_lane(bfi_ask *ask, int *lane) {
    int value = bf_json_find(&ask->json, 0, "lane");
    *lane = -1;
    return value < 0 ? BF_OK : bfi_read_choice(&ask->json, value, "lane", lanes, lane, &ask->error);
}

static bf_status read_request(bfi_ask *ask, log_request *request) {
    static const char *const keys[] = {"session", "most", "before", "lane", NULL};
    double most, before = 0;
    bf_status status = bfi_ask_only(ask, keys);
    if (!status) status = bfi_ask_number(ask, "most", 1, MOST_ROWS, 100, &most);
    if (!status) status = bfi_ask_number(ask, "before", 0, BF_EVENTS_MOST, 0, &before);
    if (!status) status = read_lane(ask, &request->lane);
    if (status) return status;
    request->most = (int)most;
    request->before = (int)before;
    request->session = bfi_ask_session(ask);
    return ask->error.status;
}

static int is_row(const bf_live *live, int lane) {
    return !bf_event_is_correction(live->kind) && (lane < 0 || lane_of(live) == lane);
}

static bf_status answer_log(bfi_ask *ask, bfi_json *out) {
    log_request request;
    bf_status status = read_request(ask, &request);
    if (status) return status;
    const bf_session *session = request.session >= 0 ? &ask->fold->session[request.session] : NULL;
    bf_nets nets = {0};
    if (session) {
        bf_guessing guessing = bf_guessing_of(ask->fold, request.session);
        nets = bf_nets_of(ask->fold, &guessing);
    }
    int n = 0;
    bfi_json_key(out, "rows");
    bfi_json_array(out);
    for (int i = session ? session->live_to : 0; session && i-- > session->live_from;) {
        if (!is_row(&ask->fold->live[i], request.lane)) continue;
        if (n >= request.before && n - request.before < request.most) put_row(out, ask, &nets, i);
        n++;
    }
    bfi_json_close(out);
    bfi_json_key_real(out, "n", n);
    bfi_json_key_real(out, "clashes", ask->fold->n_clashes);
    bfi_json_key_real(out, "idle", ask->fold->n_idle);
    return BF_OK;
}

const bfi_ask_verb bfi_log_verb = {"log", NULL, answer_log, NULL};
