/* bank.c -- the question "bank": how a session stands.
 *
 * {"session"?, "now"?: instant (start: the last entry's), "dev"?: whose acts can be undone, "baits"?: rows of a kit's baits} ->
 * {"session":{"id","venue","peg","opened","closed","n_events"}, "is_open", "now_text",
 *  "fed":{"s","text","what"}, "bite":{"s","text"}, "wait":{"s","text","pm_s","start":"lower|lift|feed"},
 *  "spot", "hook_bait", "net", "counts":{"fish","missed","lost","touch","foul","nothing"},
 *  "last_feed":{"spot","bait","how", its amount as it was told},
 *  "undo":[{"id","kind","word","at_text","is_crossed","run","seq","of" of a fix}], newest first, 40 at most,
 *  "nets":[{"net","mass_kg","limit_kg","change","over","weighed","n_fish","text"}], "net_words",
 *  "bias":{"factor","n_weighings","text"},
 *  "box":[{"bait","unit","prepared","left":{unit: range},"put_ins","lasts_s","n_put_ins","by_hour":[..],"text"}],
 *  "pace":{"n_fish","mass_kg","per_h_kg","last_h_kg","needs_per_h_kg","fish_per_h","last_h_fish","hours","hours_left","target_kg","text"},
 *  "same_fish":[{"a","b","text"}], the last 400 at most, "notes":[{"code","text"}]}
 * Null where there is nothing yet; the same keys, empty, in a journal without a session. Weights and the box: match.h. */
#include <math.h>
#include <string.h>

#include "text/bank.h"
#include "text/line.h"

/* ---- Times ---- */

/* An entry of a clock that is ahead was just now. */
static void json_ago(bfi_json *out, double s) {
    if (s < 0) s = 0;
    char text[32];
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    bfi_put_since(&pen, s);
    bfi_json_key_real(out, "s", s);
    bfi_json_key_text(out, "text", text);
}

static void json_clock(bfi_json *out, const bank *b, const char *key, double ms, int with_seconds) {
    char text[32];
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    if (ms == ms) bfi_put_clock(&pen, ms, b->session->east_min, with_seconds); // not when all is crossed out
    bfi_json_key_text(out, key, text);
}

static const char *name_of(const bank *b, int name) {
    return bf_journal_name(b->ask->journal, name);
}

/* A key that may have nothing: null. */
static void json_null(bfi_json *out, const char *key) {
    bfi_json_key_real(out, key, BF_NAN);
}

static void json_name(bfi_json *out, const bank *b, const char *key, int name) {
    if (name < 0)
        json_null(out, key);
    else
        bfi_json_key_text(out, key, name_of(b, name));
}

/* ---- The session, and what it is at ---- */

static void json_session(bfi_json *out, const bank *b) {
    char id[33];
    bf_id_write(b->session->id, id);
    bfi_json_key(out, "session");
    bfi_json_object(out);
    bfi_json_key_text(out, "id", id);
    json_name(out, b, "venue", b->session->venue);
    json_name(out, b, "peg", b->session->peg);
    bfi_json_instant(out, "opened", b->session->opened_ms, b->session->east_min);
    bfi_json_instant(out, "closed", b->session->closed_ms, b->session->east_min);
    bfi_json_key_real(out, "n_events", b->session->live_to - b->session->live_from);
    bfi_json_close(out);
}

/* "soft two, half medium pot": each bait of a put-in, and how much. */
static void put_fill(bfi_pen *pen, const bf_put_in *put) {
    if (fabs(put->fill_frac - 0.5) < 0.005)
        bfi_put(pen, "half ");
    else if (fabs(put->fill_frac - 1) >= 0.005) {
        bfi_put_figures(pen, put->fill_frac * 100, 2);
        bfi_put(pen, " % of a ");
    }
    for (int i = 0; i < bf_n_pots; i++)
        if (fabs(put->pot_m3 / bf_pots[i].pot.volume_m3.value - 1) < 0.1) {
            bfi_put(pen, bf_pots[i].word);
            bfi_put(pen, " ");
        }
    bfi_put(pen, "pot");
}

static void put_amount(bfi_pen *pen, const bf_put_in *put) {
    char text[BF_SAY_MOST];
    if (put->count == put->count) {
        bfi_put(pen, ", ");
        bfi_put_figures(pen, put->count, 6);
    } else if (put->volume_m3 == put->volume_m3) {
        bfi_put(pen, ", ");
        bfi_put_bytes(pen, text, bf_say(put->volume_m3, BF_VOLUME, text));
    } else if (put->fill_frac == put->fill_frac) {
        bfi_put(pen, ", ");
        put_fill(pen, put);
    }
}

/* The last that went in before the end; NULL: none. */
static const bf_put_in *last_put_in(const bank *b) {
    for (int i = b->session->put_to - 1; i >= b->session->put_from; i--)
        if (!(b->ask->fold->put_in[i].t_ms > b->session->closed_ms)) return &b->ask->fold->put_in[i];
    return NULL;
}

static void json_fed(bfi_json *out, const bank *b) {
    const bf_put_in *last = last_put_in(b);
    if (!last) {
        json_null(out, "fed");
        return;
    }
    char what[512];
    bfi_pen pen = bfi_pen_open(what, sizeof what);
    for (int i = b->session->put_from; i < b->session->put_to; i++) {
        const bf_put_in *put = &b->ask->fold->put_in[i];
        if (put->first != last->first) continue;
        if (pen.n) bfi_put(&pen, " and ");
        bfi_put(&pen, bf_bait_name(name_of(b, put->bait)));
        put_amount(&pen, put);
    }
    bfi_json_key(out, "fed");
    bfi_json_object(out);
    json_ago(out, (b->now_ms - last->t_ms) / 1000);
    bfi_json_key_text(out, "what", what);
    bfi_json_close(out);
}

static int is_bite(const bf_drop *drop) {
    return drop->end_live >= 0 && !drop->is_implied && drop->outcome != BF_NOTHING;
}

static void json_bite(bfi_json *out, const bank *b) {
    for (int i = b->session->drop_to - 1; i >= b->session->drop_from; i--) {
        const bf_drop *drop = &b->ask->fold->drop[i];
        if (!is_bite(drop)) continue;
        bfi_json_key(out, "bite");
        bfi_json_object(out);
        json_ago(out, (b->now_ms - drop->end_ms) / 1000);
        bfi_json_close(out);
        return;
    }
    json_null(out, "bite");
}

/* The wait that runs now; NULL: none. */
static const bf_drop *open_wait(const bank *b) {
    for (int i = b->session->drop_to - 1; i >= b->session->drop_from; i--) {
        const bf_drop *drop = &b->ask->fold->drop[i];
        if (drop->end_live < 0 && drop->start != BF_START_UNKNOWN) return drop;
    }
    return NULL;
}

static void json_wait(bfi_json *out, const bank *b) {
    static const char *const starts[] = {
        [BF_START_LOWER] = "lower", [BF_START_LIFT] = "lift", [BF_START_FEED] = "feed"};
    const bf_drop *drop = b->is_open ? open_wait(b) : NULL;
    if (!drop) {
        json_null(out, "wait");
        return;
    }
    bf_drop until_now = *drop;
    double pm_s;
    int is_event;
    until_now.end_ms = b->now_ms;
    double s = bf_drop_wait_s(&until_now, &b->ask->turnaround, &pm_s, &is_event);
    bfi_json_key(out, "wait");
    bfi_json_object(out);
    json_ago(out, s);
    bfi_json_key_real(out, "pm_s", pm_s);
    bfi_json_key_text(out, "start", starts[drop->start]);
    bfi_json_close(out);
}

/* Something that was done, no correction of it. */
static int is_entry(const bf_live *live) {
    return live->kind != BF_CLOCK && live->kind != BF_CROSS && live->kind != BF_RESTORE &&
           live->kind != BF_FIX;
}

/* The last spot and hook bait that any entry names; entries of the feed name spots as well. */
static void json_where(bfi_json *out, const bank *b) {
    int spot = -1, hook_bait = -1;
    for (int i = b->session->live_to - 1; i >= b->session->live_from; i--) {
        const bf_live *live = &b->ask->fold->live[i];
        if (!is_entry(live) || live->is_crossed) continue;
        if (spot < 0) spot = live->body.spot;
        if (hook_bait < 0) hook_bait = live->body.hook_bait;
    }
    json_name(out, b, "spot", spot);
    json_name(out, b, "hook_bait", hook_bait);
    bfi_json_key_real(out, "net", b->nets.current);
}

static void json_counts(bfi_json *out, const int count[BF_N_OUTCOMES]) {
    static const struct {
        const char *key;
        int outcome;
    } counts[] = {{"fish", BF_LANDED},   {"missed", BF_MISSED}, {"lost", BF_LOST},
                  {"touch", BF_TOUCHED}, {"foul", BF_FOUL},     {"nothing", BF_NOTHING}};
    bfi_json_key(out, "counts");
    bfi_json_object(out);
    for (size_t i = 0; i < sizeof counts / sizeof counts[0]; i++)
        bfi_json_key_real(out, counts[i].key, count[counts[i].outcome]);
    bfi_json_close(out);
}

static void json_told(bfi_json *out, const char *key, double number) {
    if (number == number) bfi_json_key_real(out, key, number);
}

static void json_last_feed(bfi_json *out, const bank *b) {
    if (b->session->put_to == b->session->put_from) {
        json_null(out, "last_feed");
        return;
    }
    const bf_put_in *put = &b->ask->fold->put_in[b->session->put_to - 1];
    bfi_json_key(out, "last_feed");
    bfi_json_object(out);
    json_name(out, b, "spot", put->spot);
    json_name(out, b, "bait", put->bait);
    if (put->how < 0)
        json_null(out, "how");
    else
        bfi_json_key_text(out, "how", bf_how_words[put->how]);
    json_told(out, "count", put->count);
    json_told(out, "volume_m3", put->volume_m3);
    json_told(out, "fill_frac", put->fill_frac);
    json_told(out, "pot_m3", put->pot_m3);
    bfi_json_close(out);
}

/* ---- What can be crossed out ---- */

#define UNDO_MOST 40

/* "Missed", "Net 2", "Weighed net 2" */
static void put_act(bfi_pen *pen, const bf_live *live) {
    bfi_put(pen, bfi_entry_word(live->kind, &live->body));
    if (live->kind != BF_NET || live->body.net < 0) return;
    bfi_put(pen, live->body.mass_kg == live->body.mass_kg ? " net " : " ");
    bfi_put_number(pen, live->body.net, 0);
}

static int is_own_act(const bank *b, int i) {
    const bf_live *live = &b->ask->fold->live[i];
    const bf_event *event = &bf_journal_events(b->ask->journal)[live->event];
    return (is_entry(live) || live->kind == BF_FIX) && (!b->has_dev || event->dev == b->dev);
}

/* The newest by seq, then id, first. Insertion into a short list: most entries end at its last place. */
static int newest_acts(const bank *b, int acts[UNDO_MOST]) {
    const bf_event *events = bf_journal_events(b->ask->journal);
    const bf_live *live = b->ask->fold->live;
    int n = 0;
    for (int i = b->session->live_from; i < b->session->live_to; i++) {
        if (!is_own_act(b, i)) continue;
        const bf_event *event = &events[live[i].event];
        int at = n;
        for (; at > 0; at--) {
            const bf_event *other = &events[live[acts[at - 1]].event];
            int is_newer = event->seq > other->seq ||
                           (event->seq == other->seq && bf_id_order(event->id, other->id) > 0);
            if (!is_newer) break;
            if (at < UNDO_MOST) acts[at] = acts[at - 1];
        }
        if (at < UNDO_MOST) acts[at] = i;
        if (n < UNDO_MOST) n++;
    }
    return n;
}

static void json_undo(bfi_json *out, const bank *b) {
    int acts[UNDO_MOST], n = newest_acts(b, acts);
    bfi_json_key(out, "undo");
    bfi_json_array(out);
    for (int i = 0; i < n; i++) {
        const bf_live *live = &b->ask->fold->live[acts[i]];
        const bf_event *event = &bf_journal_events(b->ask->journal)[live->event];
        char id[33], run[9], word[BF_NAME_BYTES];
        bf_id_write(event->id, id);
        bfi_word_write(event->run, run);
        bfi_pen pen = bfi_pen_open(word, sizeof word);
        put_act(&pen, live);
        bfi_json_object(out);
        bfi_json_key_text(out, "id", id);
        bfi_json_key_text(out, "kind", bf_event_words[live->kind]);
        bfi_json_key_text(out, "word", word);
        json_clock(out, b, "at_text", live->t_ms, 1);
        bfi_json_key(out, "is_crossed");
        bfi_json_truth(out, live->is_crossed);
        bfi_json_key_text(out, "run", run);
        bfi_json_key_real(out, "seq", event->seq);
        if (live->kind == BF_FIX) {
            bf_id_write(event->of, id);
            bfi_json_key_text(out, "of", id);
        }
        bfi_json_close(out);
    }
    bfi_json_close(out);
}

#define SAME_FISH_MOST 400

/* "Fish 11:42:07" */
static void put_act_at(bfi_pen *pen, const bank *b, const bf_live *live) {
    put_act(pen, live);
    bfi_put(pen, " ");
    bfi_put_clock(pen, live->t_ms, b->session->east_min, 1);
}

static void json_twin(bfi_json *out, const bank *b, const bf_live *one, const bf_live *other) {
    const bf_event *events = bf_journal_events(b->ask->journal);
    char id[33], text[160];
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    put_act_at(&pen, b, one);
    bfi_put(&pen, " and ");
    put_act_at(&pen, b, other);
    bfi_put(&pen, " from another device");
    bfi_json_object(out);
    bf_id_write(events[one->event].id, id);
    bfi_json_key_text(out, "a", id);
    bf_id_write(events[other->event].id, id);
    bfi_json_key_text(out, "b", id);
    bfi_json_key_text(out, "text", text);
    bfi_json_close(out);
}

/* The last ones: of a day entered on two devices there may be more than an answer holds. Twins are in the order of entries. */
static void json_same_fish(bfi_json *out, const bank *b) {
    const bf_fold *fold = b->ask->fold;
    int to = fold->n_twins, from;
    while (to > 0 && fold->live[fold->twin[to - 1].b].session > b->i_session) to--;
    for (from = to; from > 0 && to - from < SAME_FISH_MOST; from--)
        if (fold->live[fold->twin[from - 1].b].session != b->i_session) break;
    bfi_json_key(out, "same_fish");
    bfi_json_array(out);
    for (int i = from; i < to; i++)
        json_twin(out, b, &fold->live[fold->twin[i].a], &fold->live[fold->twin[i].b]);
    bfi_json_close(out);
}

/* ---- The request ---- */

static bf_status read_dev(bank *b) {
    char text[16];
    bf_status status = bfi_ask_text(b->ask, "dev", text, sizeof text);
    b->has_dev = bf_json_find(&b->ask->json, 0, "dev") >= 0;
    if (status || !b->has_dev) return status;
    status = bfi_word_read(text, strlen(text), &b->dev);
    return status ? bfi_ask_fail(b->ask, status, "dev", "8 hex digits") : BF_OK;
}

static bf_status read_request(bank *b) {
    static const char *const others[] = {"session", "now", "dev", "baits.was", NULL};
    int east_min, i_session = -1;
    bf_status status = bfi_baits_read(b->ask, others, &b->baits);
    if (!status) status = read_dev(b);
    if (!status) status = bfi_ask_instant(b->ask, "now", &b->now_ms, &east_min);
    if (!status) {
        i_session = bfi_ask_session(b->ask);
        status = b->ask->error.status;
    }
    if (status || i_session < 0) return status;
    b->i_session = i_session;
    b->session = &b->ask->fold->session[i_session];
    b->is_open =
        b->session->opened_ms == b->session->opened_ms && b->session->closed_ms != b->session->closed_ms;
    if (b->now_ms != b->now_ms) b->now_ms = b->is_open ? b->session->last_ms : b->session->closed_ms;
    return BF_OK;
}

/* A journal without a session: the same keys, with nothing in them. */
static void json_no_session(bfi_json *out) {
    static const char *const nulls[] = {"session",   "fed", "bite",      "wait", "spot",
                                        "hook_bait", "net", "last_feed", "bias", "pace"};
    static const char *const lists[] = {"undo", "nets", "box", "same_fish", "notes"};
    static const int none[BF_N_OUTCOMES];
    for (size_t i = 0; i < sizeof nulls / sizeof nulls[0]; i++) json_null(out, nulls[i]);
    bfi_json_key(out, "is_open");
    bfi_json_truth(out, 0);
    bfi_json_key_text(out, "now_text", "");
    bfi_json_key_text(out, "net_words", "");
    json_counts(out, none);
    for (size_t i = 0; i < sizeof lists / sizeof lists[0]; i++) {
        bfi_json_key(out, lists[i]);
        bfi_json_array(out);
        bfi_json_close(out);
    }
}

static size_t spare_bytes(const bf_journal *journal) {
    (void)journal;
    return sizeof(bank);
}

static bf_status answer(bfi_ask *ask, bfi_json *out) {
    bank *b = ask->spare;
    memset(b, 0, sizeof *b);
    b->ask = ask;
    bf_status status = read_request(b);
    if (status) return status;
    if (!b->session) {
        json_no_session(out);
        return BF_OK;
    }
    b->guessing = bf_guessing_of(ask->fold, b->i_session);
    b->nets = bf_nets_of(ask->fold, &b->guessing);
    json_session(out, b);
    bfi_json_key(out, "is_open");
    bfi_json_truth(out, b->is_open);
    json_clock(out, b, "now_text", b->now_ms, 0);
    json_fed(out, b);
    json_bite(out, b);
    json_wait(out, b);
    json_where(out, b);
    json_counts(out, b->session->count);
    json_last_feed(out, b);
    json_undo(out, b);
    bfi_json_nets(out, b);
    bfi_json_bias(out, b);
    bfi_json_box(out, b);
    bfi_json_pace(out, b);
    json_same_fish(out, b);
    bfi_json_match_notes(out, b);
    return BF_OK;
}

const bfi_ask_verb bfi_bank_verb = {"bank", spare_bytes, answer, NULL};
