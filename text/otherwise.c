/* otherwise.c -- the question "otherwise": a real session fished again under another feeding (rehearse.h), beside its own.
 *
 * The request is that of "bed", and {"otherwise": {"times"? so many times as much in each put-in, 0.05 to 20; "every_s"? from put-in to put-in
 *  at each spot, 60 to 7200; "none_after"? instant; "bait"? by the same weight, "instead_of"? one of the session's baits, else of all}} ->
 * {"session", "what", "otherwise": the request's, "fed":{"was","instead"} pieces,
 *  "landed": in truth, "was": landed as the model fishes it, "instead": {"mid","lo","hi","text"},
 *  "fish","kg": the difference, instead less was, of one such day {"mid","lo","hi","mean","mean_lo","mean_hi","text"}, "p_more", "pairs",
 *  "is_like": whether the model's own fishing comes near what was landed, "sentences", "notes"}. */
#include <math.h>
#include <string.h>

#include "baitfall/rehearse.h"
#include "core/base/room.h"
#include "text/next.h"

#define PAIRS 200
#define WHAT                                                                                                 \
    "The session fished again by the program's own model, under its own feeding and under another, on the "  \
    "same luck."
/* A rig that was out for so long was meant to be. */
#define BREAK_S 600.0
#define NORMAL_90 1.2815515655446004

typedef struct bfi_otherwise {
    bfi_next next; /* next.b: the session as "bed" has it */
    double times, every_s, none_after_s;
    int bait, instead_of; /* in the scene; -1: none */
    int n[2], is_cut;
    bf_turn turn[2][BF_REHEARSE_MOST_TURNS];
    double landed[2][PAIRS], difference[PAIRS];
    double told; /* landed in truth */
    void *work;
} bfi_otherwise;

/* ---- Memory ---- */

static size_t work_bytes(void) {
    bf_belief_job belief = {.n_sets = BF_BELIEF_MOST_SETS};
    return bfi_room(bf_rehearse_draw_bytes(&belief));
}

static size_t spare_bytes(const bf_journal *journal) {
    return bfi_room(bfi_bed_spare_bytes(journal)) + bfi_room(sizeof(bfi_otherwise)) + work_bytes();
}

static bfi_otherwise *otherwise_of(const bfi_ask *ask) {
    return (bfi_otherwise *)(void *)((char *)ask->spare + bfi_room(bfi_bed_spare_bytes(ask->journal)));
}

/* ---- The request ---- */

/* "otherwise.times" */
static void key_path(char *out, size_t most, const char *key) {
    bfi_pen pen = bfi_pen_open(out, most);
    bfi_put(&pen, "otherwise.");
    bfi_put(&pen, key);
}

static bf_status fail(bfi_ask *ask, bf_status status, const char *key, const char *accepted) {
    char path[48];
    int object = bf_json_find(&ask->json, 0, "otherwise");
    int value = object >= 0 ? bf_json_find(&ask->json, object, key) : -1;
    key_path(path, sizeof path, key);
    return bfi_fail(&ask->error, status, path, &ask->json, value, accepted);
}

static bf_status read_number(bfi_ask *ask, const char *key, double least, double most, double start,
                             double *number) {
    int object = bf_json_find(&ask->json, 0, "otherwise"), value = bf_json_find(&ask->json, object, key);
    char path[48];
    bf_field field = {.name = key, .kind = BF_REAL, .least = least, .most = most};
    bf_quantity got;
    *number = start;
    if (value < 0) return BF_OK;
    key_path(path, sizeof path, key);
    bf_status status = bfi_read_quantity(&ask->json, value, path, &field, &got, &ask->error);
    if (!status) *number = got.value;
    return status;
}

/* "" when it is not told. */
static bf_status read_text(bfi_ask *ask, const char *key, char *out, size_t most) {
    int object = bf_json_find(&ask->json, 0, "otherwise"), value = bf_json_find(&ask->json, object, key);
    out[0] = 0;
    if (value < 0) return BF_OK;
    if (bf_json_kind_of(&ask->json, value) != BF_JSON_STRING || bf_json_string(&ask->json, value, out, most))
        return fail(ask, BF_E_TYPE, key, "text of at most 48 bytes");
    return BF_OK;
}

static bf_status read_none_after(bfi_ask *ask, bfi_otherwise *o) {
    char text[BF_INSTANT_BYTES];
    double ms;
    int east_min;
    o->none_after_s = BF_INFINITY;
    bf_status status = read_text(ask, "none_after", text, sizeof text);
    if (status || !text[0]) return status;
    if (bf_instant_read(text, strlen(text), &ms, &east_min))
        return fail(ask, BF_E_SYNTAX, "none_after", "an instant such as 2026-04-12T12:00:00+01:00");
    o->none_after_s = (ms - o->next.b->begins_ms) / 1000;
    return BF_OK;
}

static int feed_of(const bfi_bedded *b, const char *name) {
    for (int i = 0; i < b->scene.n_feeds; i++)
        if (strcmp(bfi_bed_name(b, b->names.feed[i]), name) == 0) return i;
    return -1;
}

/* Another bait comes into the scene, for both feedings. */
static bf_status read_bait(bfi_ask *ask, bfi_otherwise *o) {
    bfi_bedded *b = o->next.b;
    char name[BF_NAME_BYTES + 1], accepted[512];
    const char *names[BF_SWIM_MOST_FEEDS + 1] = {0};
    for (int i = 0; i < b->scene.n_feeds; i++) names[i] = bfi_bed_name(b, b->names.feed[i]);
    o->bait = o->instead_of = -1;
    bf_status status = read_text(ask, "instead_of", name, sizeof name);
    if (!status && name[0] && (o->instead_of = feed_of(b, name)) < 0) {
        bfi_pen pen = bfi_pen_open(accepted, sizeof accepted);
        bfi_put(&pen, "a bait that was fed: ");
        bfi_put_words(&pen, names);
        return fail(ask, BF_E_CHOICE, "instead_of", accepted);
    }
    if (!status) status = read_text(ask, "bait", name, sizeof name);
    if (status || !name[0]) return status;
    o->bait = feed_of(b, name);
    const bf_bait *bait = bfi_bed_bait(b, name, 0);
    if (o->bait >= 0) return BF_OK;
    if (!bait || b->scene.n_feeds == BF_SWIM_MOST_FEEDS)
        return fail(ask, BF_E_CHOICE, "bait", "a bait of the session, the plan, the kit or the catalogue");
    o->bait = b->scene.n_feeds++;
    b->scene.feed[o->bait] = bfi_bed_feed(bait, b->scene.temp_c);
    b->names.feed[o->bait] = -1;
    return BF_OK;
}

static bf_status read_otherwise(bfi_ask *ask, bfi_otherwise *o) {
    static const char *const keys[] = {"times", "every_s", "none_after", "bait", "instead_of", NULL};
    const bf_json *json = &ask->json;
    int object = bf_json_find(json, 0, "otherwise");
    if (object < 0 || bf_json_kind_of(json, object) != BF_JSON_OBJECT)
        return bfi_ask_fail(ask, object < 0 ? BF_E_MISSING : BF_E_TYPE, "otherwise",
                            "an object with times, every_s, none_after, bait or instead_of");
    for (int key = bf_json_first(json, object); key >= 0; key = bf_json_next(json, key)) {
        int i = 0;
        char path[128];
        while (keys[i] && !bf_json_is(json, key, keys[i])) i++;
        bf_json_path(json, key, path, sizeof path);
        if (!keys[i])
            return bfi_fail(&ask->error, BF_E_KEY, path, json, -1,
                            "times, every_s, none_after, bait or instead_of");
    }
    bf_status status = read_number(ask, "times", 0.05, 20, 1, &o->times);
    if (!status) status = read_number(ask, "every_s", 60, 7200, BF_NAN, &o->every_s);
    if (!status) status = read_none_after(ask, o);
    return status ? status : read_bait(ask, o);
}

/* ---- Feedings as turns ---- */

static void add(bfi_otherwise *o, int k, bf_turn turn) {
    if (o->n[k] == BF_REHEARSE_MOST_TURNS) {
        o->is_cut = 1;
        return;
    }
    int at = o->n[k]++;
    for (; at > 0 && o->turn[k][at - 1].t_s > turn.t_s; at--) o->turn[k][at] = o->turn[k][at - 1];
    o->turn[k][at] = turn;
}

static bf_turn turn_of(const bf_swim_event *event) {
    return (bf_turn){.t_s = event->t_s,
                     .kind = BF_TURN_FEED,
                     .spot = event->spot,
                     .what = event->what,
                     .how = event->how,
                     .is_further = event->is_further,
                     .count = event->count,
                     .count_pm_frac = event->count_pm_frac,
                     .area_m2 = event->area_m2};
}

/* When the rig went in next after event i; infinity: not again. */
static double next_in_s(const bfi_bedded *b, int i) {
    for (i++; i < b->n_events; i++)
        if (b->event[i].kind == BF_SWIM_IN) return b->event[i].t_s;
    return BF_INFINITY;
}

/* Where the rig was fished, and when not at all: the same under both. */
static void add_fishing(bfi_otherwise *o) {
    const bfi_bedded *b = o->next.b;
    int spot = -1, hook = -1;
    for (int i = 0; i < b->n_events; i++) {
        const bf_swim_event *event = &b->event[i];
        if (event->kind == BF_SWIM_IN && (event->spot != spot || event->what != hook)) {
            spot = event->spot, hook = event->what;
            for (int k = 0; k < 2; k++)
                add(o, k, (bf_turn){.t_s = event->t_s, .kind = BF_TURN_LOWER, .spot = spot, .what = hook});
        }
        if (event->kind == BF_SWIM_LIFT && spot >= 0 && next_in_s(b, i) > event->t_s + BREAK_S) {
            spot = hook = -1;
            for (int k = 0; k < 2; k++) add(o, k, (bf_turn){.t_s = event->t_s, .kind = BF_TURN_LIFT});
        }
    }
}

/* A put-in as it would be instead. */
static bf_turn changed(const bfi_otherwise *o, bf_turn turn) {
    const bf_swim_feed *feed = o->next.b->scene.feed;
    turn.count *= o->times;
    if (o->bait < 0 || (o->instead_of >= 0 && turn.what != o->instead_of)) return turn;
    turn.count *= feed[turn.what].piece_kg / feed[o->bait].piece_kg;
    turn.what = o->bait;
    return turn;
}

/* Put-ins at a spot, each so often from its first to its last: each is what the last one before it was. */
static void add_every(bfi_otherwise *o, int spot) {
    const bfi_bedded *b = o->next.b;
    double first_s = BF_NAN, last_s = BF_NAN;
    for (int i = 0; i < b->n_events; i++) {
        const bf_swim_event *event = &b->event[i];
        if (event->kind != BF_SWIM_FEED || event->spot != spot || event->t_s > o->none_after_s) continue;
        if (isnan(first_s)) first_s = event->t_s;
        last_s = event->t_s;
    }
    for (double t_s = first_s; t_s <= last_s && !o->is_cut; t_s += o->every_s) {
        int from = -1;
        for (int i = 0; i < b->n_events && b->event[i].t_s <= t_s; i++)
            if (b->event[i].kind == BF_SWIM_FEED && b->event[i].spot == spot && !b->event[i].is_further)
                from = i;
        for (int i = from; i >= 0 && i < b->n_events; i++) {
            if (b->event[i].kind != BF_SWIM_FEED || b->event[i].spot != spot) continue;
            if (i > from && !b->event[i].is_further) break;
            bf_turn turn = changed(o, turn_of(&b->event[i]));
            turn.t_s = t_s;
            add(o, 1, turn);
        }
    }
}

static void add_feeding(bfi_otherwise *o) {
    const bfi_bedded *b = o->next.b;
    for (int i = 0; i < b->n_events; i++) {
        const bf_swim_event *event = &b->event[i];
        if (event->kind != BF_SWIM_FEED) continue;
        add(o, 0, turn_of(event));
        if (isnan(o->every_s) && event->t_s <= o->none_after_s) add(o, 1, changed(o, turn_of(event)));
    }
    for (int s = 0; s < b->scene.n_spots && !isnan(o->every_s); s++) add_every(o, s);
}

/* ---- The verb ---- */

static bf_status begin(bfi_ask *ask) {
    bf_status status = bfi_bed_begin(ask);
    bfi_otherwise *o = otherwise_of(ask);
    memset(o, 0, sizeof *o);
    o->next.b = ask->spare;
    o->work = (char *)o + bfi_room(sizeof *o);
    if (status || !ask->job) return status;
    bfi_next_fill(&o->next);
    status = read_otherwise(ask, o);
    if (status) return status;
    bf_belief_job *job = &o->next.b->job;
    job->n_drawn = job->n_particles < BF_ADVISE_DRAWN ? job->n_particles : BF_ADVISE_DRAWN;
    add_fishing(o);
    add_feeding(o);
    if (o->is_cut)
        return fail(ask, BF_E_SPACE, "every_s", "a feeding of no more than 1000 put-ins and drops");
    return BF_OK;
}

/* 0: nothing explains the session. */
static int fish_pairs(bfi_otherwise *o, const double *rows) {
    const bf_advise_job *as = &o->next.job;
    bf_rehearse_other_job job = {.belief = &o->next.b->job,
                                 .rows = rows,
                                 .turn = {o->turn[0], o->turn[1]},
                                 .n_turns = {o->n[0], o->n[1]},
                                 .busy_s = as->busy_s,
                                 .put_in_s = as->put_in_s,
                                 .fish_kg = as->fish_kg,
                                 .seed = o->next.b->job.seed};
    for (int s = 0; s < PAIRS; s++) {
        double landed[2];
        if (!bf_rehearse_other(&job, s, o->work, landed)) return 0;
        o->landed[0][s] = landed[0], o->landed[1][s] = landed[1];
        o->difference[s] = landed[1] - landed[0];
    }
    return 1;
}

/* ---- The answer ---- */

static double fed(const bfi_otherwise *o, int k) {
    double pieces = 0;
    for (int i = 0; i < o->n[k]; i++)
        if (o->turn[k][i].kind == BF_TURN_FEED) pieces += o->turn[k][i].count;
    return pieces;
}

static bf_range mean_of(const double *x) {
    double sum = 0, squares = 0;
    for (int s = 0; s < PAIRS; s++) sum += x[s];
    for (int s = 0; s < PAIRS; s++) squares += (x[s] - sum / PAIRS) * (x[s] - sum / PAIRS);
    double half = NORMAL_90 * sqrt(squares / (PAIRS - 1) / PAIRS);
    return (bf_range){sum / PAIRS, sum / PAIRS, sum / PAIRS - half, sum / PAIRS + half};
}

static void put_range(bfi_pen *pen, bf_range r, const char *unit, int decimals) {
    bfi_put_number(pen, r.mid, decimals);
    bfi_put(pen, unit);
    bfi_put(pen, " (");
    bfi_put_number(pen, r.lo, decimals);
    bfi_put(pen, r.lo < 0 ? " to " : "-");
    bfi_put_number(pen, r.hi, decimals);
    bfi_put(pen, ")");
}

static void json_landed(bfi_json *out, const char *key, double *landed) {
    bf_range r = bf_range_of(landed, PAIRS, BF_NAN);
    bfi_told told;
    bfi_told_start(&told);
    put_range(&told.pen, r, " fish", 0);
    bfi_json_key(out, key);
    bfi_json_object(out);
    bfi_json_key_real(out, "mid", r.mid);
    bfi_json_key_real(out, "lo", r.lo);
    bfi_json_key_real(out, "hi", r.hi);
    bfi_json_key_text(out, "text", told.text);
    bfi_json_close(out);
}

static void json_difference(bfi_json *out, const char *key, bf_range day, bf_range mean, double times,
                            const char *unit, int decimals) {
    bf_range one = {day.nominal, times * day.mid, times * day.lo, times * day.hi};
    bfi_told told;
    bfi_told_start(&told);
    put_range(&told.pen, one, unit, decimals);
    bfi_json_key(out, key);
    bfi_json_object(out);
    bfi_json_key_real(out, "mid", one.mid);
    bfi_json_key_real(out, "lo", one.lo);
    bfi_json_key_real(out, "hi", one.hi);
    bfi_json_key_real(out, "mean", times * mean.mid);
    bfi_json_key_real(out, "mean_lo", times * mean.lo);
    bfi_json_key_real(out, "mean_hi", times * mean.hi);
    bfi_json_key_text(out, "text", told.text);
    bfi_json_close(out);
}

/* "3 more", "1 fewer" */
static void put_more(bfi_pen *pen, double n, const char *unit, int decimals) {
    bfi_put_number(pen, fabs(n), decimals);
    bfi_put(pen, unit);
    bfi_put(pen, n < 0 ? " fewer" : " more");
}

/* "1 fish fewer (5 fewer to 5 more)" */
static void put_difference(bfi_pen *pen, bf_range r, int decimals) {
    put_more(pen, r.mid, " fish", decimals);
    bfi_put(pen, " (");
    put_more(pen, r.lo, "", decimals);
    bfi_put(pen, " to ");
    put_more(pen, r.hi, "", decimals);
    bfi_put(pen, ")");
}

static void tell_difference(bfi_json *out, bf_range day, bf_range mean, double p_more) {
    bfi_told told;
    bfi_told_start(&told);
    int is_alike = day.lo == 0 && day.hi == 0 && mean.mid == 0;
    bfi_put(&told.pen, is_alike ? "It comes to the same: no fish more or less." : "On a day like this one, ");
    if (!is_alike) {
        put_difference(&told.pen, day, 0);
        bfi_put(&told.pen, " than under the session's own feeding; more in ");
        bfi_put_in_ten(&told.pen, p_more);
        bfi_put(&told.pen, ".");
    }
    bfi_json_text(out, told.text);
    if (is_alike) return;
    bfi_told_start(&told);
    bfi_put(&told.pen, "On average ");
    put_difference(&told.pen, mean, 1);
    bfi_put(&told.pen, mean.lo > 0   ? ": the model takes it for better."
                       : mean.hi < 0 ? ": the model takes it for worse."
                                     : ": the model does not tell them apart.");
    bfi_json_text(out, told.text);
}

static void tell_weakness(bfi_json *out, const bfi_otherwise *o, bf_range was, int is_like) {
    bfi_told told;
    bfi_told_start(&told);
    bfi_put(&told.pen, "How weak this is: one session's fish are drawn anew by a model whose numbers are "
                       "mostly judgement. Fished its own way under the "
                       "feeding there was, it lands ");
    put_range(&told.pen, was, "", 0);
    bfi_put(&told.pen, "; you landed ");
    bfi_put_number(&told.pen, o->told, 0);
    bfi_put(&told.pen, is_like ? "." : ": it does not know this day, and its difference is worth little.");
    bfi_json_text(out, told.text);
}

/* Fish landed in truth, by tap and by tally. */
static double landed_in_truth(const bfi_bedded *b) {
    return b->session->count[BF_LANDED];
}

static double share_more(const bfi_otherwise *o) {
    double more = 0;
    for (int s = 0; s < PAIRS; s++) more += o->difference[s] > 0 ? 1 : o->difference[s] == 0 ? 0.5 : 0;
    return more / PAIRS;
}

static void json_fed(bfi_json *out, const bfi_otherwise *o) {
    bfi_json_key(out, "fed");
    bfi_json_object(out);
    bfi_json_key_real(out, "was", floor(fed(o, 0) + 0.5));
    bfi_json_key_real(out, "instead", floor(fed(o, 1) + 0.5));
    bfi_json_close(out);
}

static void json_otherwise(bfi_json *out, bfi_otherwise *o) {
    double p_more = share_more(o), kg = o->next.job.fish_kg;
    bf_range mean = mean_of(o->difference), was, day;
    o->told = landed_in_truth(o->next.b);
    json_fed(out, o);
    bfi_json_key_real(out, "landed", o->told);
    json_landed(out, "was", o->landed[0]);
    json_landed(out, "instead", o->landed[1]);
    was = bf_range_of(o->landed[0], PAIRS, BF_NAN), day = bf_range_of(o->difference, PAIRS, BF_NAN);
    int is_like = o->told >= was.lo && o->told <= was.hi;
    json_difference(out, "fish", day, mean, 1, " fish", 0);
    json_difference(out, "kg", day, mean, kg, " kg", 1);
    bfi_json_key_real(out, "p_more", p_more);
    bfi_json_key_real(out, "pairs", PAIRS);
    bfi_json_key(out, "is_like");
    bfi_json_truth(out, is_like);
    bfi_json_key(out, "sentences");
    bfi_json_array(out);
    tell_difference(out, day, mean, p_more);
    tell_weakness(out, o, was, is_like);
    bfi_json_close(out);
}

static bf_status answer(bfi_ask *ask, bfi_json *out) {
    bfi_otherwise *o = otherwise_of(ask);
    const bfi_bedded *b = o->next.b;
    size_t n;
    if (!b->session) {
        bfi_json_key_real(out, "session", BF_NAN); // null
        return BF_OK;
    }
    if (!fish_pairs(o, ask->rows))
        return bfi_fail(&ask->error, BF_E_DATA, "session", NULL, -1, "a session that the model can explain");
    bf_belief_bed(&b->job, ask->rows, b->spare, &o->next.b->bed); /* for its notes */
    bfi_json_bed_session(out, b);
    const char *text = bf_json_raw(&ask->json, bf_json_find(&ask->json, 0, "otherwise"), &n);
    bfi_json_key(out, "otherwise");
    bfi_json_raw(out, text, n);
    bfi_json_key_text(out, "how", WHAT);
    json_otherwise(out, o);
    bfi_json_bed_notes(out, b);
    return BF_OK;
}

const bfi_ask_verb bfi_otherwise_verb = {"otherwise", spare_bytes, answer, begin};
