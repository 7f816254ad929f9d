/* bed_told.c -- the bed account in sentences: what is known, and what the estimate rests on. */
#include <math.h>
#include <string.h>

#include "text/bedded.h"

const char *bfi_bed_name(const bfi_bedded *b, int name) {
    return bf_journal_name(b->ask->journal, name);
}

double bfi_bed_ms(const bfi_bedded *b, double t_s) {
    return b->begins_ms + floor(1000 * t_s + 0.5);
}

/* ---- Pieces of sentences ---- */

static void put_clock_of(bfi_pen *pen, const bfi_bedded *b, double t_s) {
    bfi_put_clock(pen, bfi_bed_ms(b, t_s), b->session->east_min, 0);
}

/* "12 min ago (11:32)" */
static void put_ago(bfi_pen *pen, const bfi_bedded *b, double t_s) {
    bfi_put_span(pen, b->job.until_s - t_s);
    bfi_put(pen, " ago (");
    put_clock_of(pen, b, t_s);
    bfi_put(pen, ")");
}

/* Whole pieces. */
static void put_whole(bfi_pen *pen, double pieces) {
    bfi_put_figures(pen, floor(pieces + 0.5), 15);
}

double bfi_reckoned(double pieces) {
    double step = 1;
    while (pieces >= 100 * step) step *= 10;
    return step * floor(pieces / step + 0.5);
}

void bfi_put_pieces_between(bfi_pen *pen, bf_range range) {
    if (isnan(range.mid)) {
        bfi_put(pen, "not known");
        return;
    }
    put_whole(pen, bfi_reckoned(range.lo));
    if (bfi_reckoned(range.lo) == bfi_reckoned(range.hi)) return;
    bfi_put(pen, "-");
    put_whole(pen, bfi_reckoned(range.hi));
}

static const bf_body *body_of(const bfi_bedded *b, const bf_swim_event *event) {
    return &b->ask->fold->live[event->live].body;
}

/* 1 when an event's pieces are a pot's or a volume's by the model, not counted. */
static int is_by_pot(const bfi_bedded *b, const bf_swim_event *event) {
    return isnan(body_of(b, event)->count);
}

/* "55", "about 150" */
static void put_count(bfi_pen *pen, double pieces, int is_by_pot) {
    if (is_by_pot) bfi_put(pen, "about ");
    put_whole(pen, is_by_pot ? bfi_reckoned(pieces) : pieces);
}

void bfi_put_bed_in(bfi_pen *pen, const bfi_bedded *b, const bfi_bed_put *put) {
    int by_pot = 0;
    for (int i = put->first; i <= put->last; i++)
        if (b->event[i].kind == BF_SWIM_FEED && b->event[i].spot == b->job.spot)
            by_pot |= is_by_pot(b, &b->event[i]);
    put_whole(pen, by_pot ? bfi_reckoned(put->pieces) : put->pieces);
}

enum { BAIT_IDS, BAIT_NAMES, BAIT_COUNTS };

/* The baits of a put-in, one after the other: their ids, names, or "55 hard four and 400 soft two". */
static void put_baits(bfi_pen *pen, const bfi_bedded *b, const bfi_bed_put *put, int as) {
    int n = 0;
    for (int i = put->first; i <= put->last; i++) {
        const bf_swim_event *event = &b->event[i];
        if (event->kind != BF_SWIM_FEED || event->spot != b->job.spot) continue;
        const char *id = bfi_bed_name(b, body_of(b, event)->bait);
        if (n++) bfi_put(pen, " and ");
        if (as == BAIT_COUNTS) put_count(pen, event->count, is_by_pot(b, event));
        if (as == BAIT_COUNTS) bfi_put(pen, " ");
        bfi_put(pen, as == BAIT_IDS ? id : bf_bait_name(id));
    }
}

void bfi_put_bed_put(bfi_pen *pen, const bfi_bedded *b, const bfi_bed_put *put) {
    static const char *const ways[] = {"pot, ", "shaken, ", "catapult, ", "by hand, "};
    bfi_put(pen, ways[put->how]);
    put_baits(pen, b, put, BAIT_NAMES);
}

void bfi_put_bed_put_counts(bfi_pen *pen, const bfi_bedded *b, const bfi_bed_put *put) {
    put_baits(pen, b, put, BAIT_COUNTS);
    bfi_put(pen, ", ");
    bfi_put(pen, bfi_how_said[put->how]);
}

/* A stretch that was not logged drop by drop counts where it ended. */
static void add_tally(bfi_bed_drops *drops, const bf_swim_event *event) {
    for (int i = 0; i < BF_N_OUTCOMES; i++) {
        if (i == BF_TOUCHED) continue;
        drops->count[i] += event->tally[i];
        drops->n += event->tally[i];
    }
    drops->n_touches += event->tally[BF_TOUCHED];
}

bfi_bed_drops bfi_bed_drops_in(const bfi_bedded *b, double from_s, double to_s) {
    bfi_bed_drops drops = {0};
    for (int i = 0; i < b->n_events; i++) {
        const bf_swim_event *event = &b->event[i];
        if (event->spot != b->job.spot || event->t_s <= from_s || event->t_s > to_s) continue;
        if (event->kind == BF_SWIM_TOUCH) drops.n_touches += event->n;
        if (event->kind == BF_SWIM_TALLY) add_tally(&drops, event);
        if (event->kind != BF_SWIM_LIFT) continue;
        drops.n++;
        drops.count[event->outcome]++;
    }
    return drops;
}

void bfi_put_bed_drops(bfi_pen *pen, const bfi_bed_drops *drops) {
    static const struct {
        int outcome;
        const char *one, *more;
    } said[] = {{BF_LANDED, "fish", "fish"},
                {BF_LOST, "lost", "lost"},
                {BF_MISSED, "missed", "missed"},
                {BF_FOUL, "foul", "foul"},
                {BF_NOTHING, "nothing", "nothing"}};
    int n = 0;
    if (drops->n) bfi_put_so_many(pen, drops->n, "drop", "drops");
    for (size_t i = 0; i < sizeof said / sizeof said[0]; i++) {
        if (!drops->count[said[i].outcome]) continue;
        bfi_put(pen, n++ ? ", " : ": ");
        bfi_put_so_many(pen, drops->count[said[i].outcome], said[i].one, said[i].more);
    }
    if (!drops->n_touches) return;
    if (drops->n) bfi_put(pen, "; ");
    bfi_put_so_many(pen, drops->n_touches, "touch", "touches");
}

/* ---- What is known ---- */

/* Pieces put in at the spot after an instant. */
static double fed_since(const bfi_bedded *b, double from_s) {
    double pieces = 0;
    for (int i = 0; i < b->n_puts; i++)
        if (b->puts[i].t_s > from_s) pieces += b->puts[i].pieces;
    return pieces;
}

static void json_last(bfi_json *out, const bfi_bedded *b, const bfi_bed_put *put) {
    bfi_told baits, told;
    bfi_told_start(&baits);
    bfi_told_start(&told);
    put_baits(&baits.pen, b, put, BAIT_IDS);
    bfi_put_bed_put_counts(&told.pen, b, put);
    bfi_json_object(out);
    bfi_json_key_text(out, "bait", baits.text);
    bfi_json_key_real(out, "count", put->pieces);
    bfi_json_key_text(out, "how", bf_how_words[put->how]);
    bfi_json_instant(out, "at", bfi_bed_ms(b, put->t_s), b->session->east_min);
    bfi_json_key_text(out, "text", told.text);
    bfi_json_close(out);
}

static void put_at_spot(bfi_pen *pen, const bfi_bedded *b) {
    const char *name = bfi_bed_name(b, b->names.spot[b->job.spot]);
    if (!name[0]) return;
    bfi_put(pen, " at ");
    bfi_put(pen, name);
}

static void tell_last(bfi_pen *pen, const bfi_bedded *b) {
    if (b->n_puts == 0) {
        bfi_put(pen, "Nothing fed");
        put_at_spot(pen, b);
        bfi_put(pen, b->is_cut ? " in the last 24 hours." : " yet.");
        return;
    }
    const bfi_bed_put *last = &b->puts[b->n_puts - 1];
    bfi_put(pen, "Last put-in");
    put_at_spot(pen, b);
    bfi_put(pen, " ");
    put_ago(pen, b, last->t_s);
    bfi_put(pen, ": ");
    bfi_put_bed_put_counts(pen, b, last);
    bfi_put(pen, ".");
}

static void tell_drops(bfi_pen *pen, const bfi_bedded *b, const bfi_bed_drops *drops) {
    bfi_put(pen, b->n_puts ? "Since then " : "So far ");
    if (drops->n || drops->n_touches)
        bfi_put_bed_drops(pen, drops);
    else
        bfi_put(pen, "no drop");
    bfi_put(pen, ".");
}

static void tell_fed(bfi_pen *pen, const bfi_bedded *b) {
    double fed = fed_since(b, -1), hour = fed_since(b, b->job.until_s - 3600);
    if (b->n_puts < 2) return;
    bfi_put(pen, b->is_cut ? "Fed there in the last 24 hours " : "Fed there in all ");
    put_count(pen, fed, b->n_by_pot > 0);
    bfi_put(pen, " pieces in ");
    bfi_put_so_many(pen, b->n_puts, "put-in", "put-ins");
    if (hour < fed && hour > 0) {
        bfi_put(pen, ", ");
        put_count(pen, hour, b->n_by_pot > 0);
        bfi_put(pen, " of them in the last hour");
    }
    bfi_put(pen, ".");
}

/* The last event of a kind, at the spot where that matters, -1. */
static int last_of(const bfi_bedded *b, int kind) {
    for (int i = b->n_events - 1; i >= 0; i--)
        if (b->event[i].kind == kind && (kind == BF_SWIM_TEMP || b->event[i].spot == b->job.spot)) return i;
    return -1;
}

static void tell_look(bfi_pen *pen, const bfi_bedded *b) {
    static const char *const eyes[] = {"less than", "about as much as", "more than"};
    int i = last_of(b, BF_SWIM_LOOK);
    if (i < 0) return;
    bfi_put(pen, "You judged ");
    put_ago(pen, b, b->event[i].t_s);
    bfi_put(pen, ": ");
    bfi_put(pen, eyes[b->event[i].eye]);
    bfi_put(pen, " shown");
    if (!isnan(b->event[i].count)) {
        bfi_put(pen, ", which was ");
        put_whole(pen, b->event[i].count);
    }
    bfi_put(pen, ".");
}

static void tell_temp(bfi_pen *pen, const bfi_bedded *b) {
    char text[BF_SAY_MOST];
    int i = last_of(b, BF_SWIM_TEMP);
    if (i < 0) return;
    bfi_put(pen, "Water ");
    bfi_put_bytes(pen, text, bf_say(b->event[i].value, BF_TEMPERATURE, text));
    bfi_put(pen, ", measured ");
    put_clock_of(pen, b, b->event[i].t_s);
    bfi_put(pen, ".");
}

void bfi_json_bed_known(bfi_json *out, const bfi_bedded *b) {
    static void (*const tell[])(bfi_pen *, const bfi_bedded *) = {tell_fed, tell_look, tell_temp};
    const bfi_bed_put *last = b->n_puts ? &b->puts[b->n_puts - 1] : NULL;
    bfi_bed_drops drops = bfi_bed_drops_in(b, last ? last->t_s : -1, b->job.until_s);
    bfi_told told;
    bfi_json_key(out, "known");
    bfi_json_object(out);
    bfi_json_key_real(out, "since_put_in_s", last ? b->job.until_s - last->t_s : BF_NAN);
    bfi_json_key(out, "last");
    if (last)
        json_last(out, b, last);
    else
        bfi_json_real(out, BF_NAN); // null
    bfi_json_key_real(out, "fed", fed_since(b, -1));
    bfi_json_key_real(out, "fed_hour", fed_since(b, b->job.until_s - 3600));
    bfi_json_key_real(out, "lifts", drops.n);
    bfi_json_key(out, "sentences");
    bfi_json_array(out);
    bfi_told_start(&told);
    tell_last(&told.pen, b);
    bfi_json_text(out, told.text);
    bfi_told_start(&told);
    tell_drops(&told.pen, b, &drops);
    bfi_json_text(out, told.text);
    for (size_t i = 0; i < sizeof tell / sizeof tell[0]; i++) {
        bfi_told_start(&told);
        tell[i](&told.pen, b);
        if (told.pen.n) bfi_json_text(out, told.text);
    }
    bfi_json_close(out);
    bfi_json_close(out);
}

/* ---- Notes ---- */

#define FEW_SETS 10.0

/* Baits that neither plan nor kit nor catalogue know, fed at the spot or on the hook. */
static void note_guessed(bfi_json *out, const bfi_bedded *b) {
    bfi_told told;
    int n = 0;
    bfi_told_start(&told);
    for (int i = 0; i < b->scene.n_feeds + b->scene.n_hooks; i++) {
        int is_hook = i >= b->scene.n_feeds, k = is_hook ? i - b->scene.n_feeds : i;
        int name = is_hook ? b->names.hook[k] : b->names.feed[k];
        if (!(is_hook ? b->scene.hook[k].is_guess : b->scene.feed[k].is_guess) || name < 0) continue;
        int is_said = 0;
        for (int f = 0; is_hook && f < b->scene.n_feeds; f++) is_said |= b->names.feed[f] == name;
        if (is_said) continue;
        if (n++) bfi_put(&told.pen, ", ");
        bfi_put(&told.pen, bfi_bed_name(b, name));
    }
    if (!n) return;
    bfi_put(&told.pen, n == 1 ? ": not in the plan or kit, so taken as a 4 mm pellet (6 mm on the hook)."
                              : ": not in the plan or kit, so taken as 4 mm pellets (6 mm on the hook).");
    bfi_json_note(out, "bait-guessed", told.text);
}

static void note_sets(bfi_json *out, const bfi_bedded *b) {
    bfi_told told;
    if (isinf(b->bed.log_evidence)) {
        bfi_json_note(
            out, "not-explained",
            "No version of the model's numbers can explain what was entered: there is no estimate. See "
            "whether an entry is "
            "wrong.");
        return;
    }
    if (b->bed.n_effective_sets >= FEW_SETS) return;
    bfi_told_start(&told);
    bfi_put(&told.pen, "The bands rest on about ");
    bfi_put_figures(&told.pen, b->bed.n_effective_sets, 2);
    bfi_put(&told.pen, " versions of the model's numbers: too few to trust their ends.");
    bfi_json_note(out, "few-sets", told.text);
}

/* Entries of two devices that are perhaps one and the same; both count until one is crossed out. */
static void note_twice(bfi_json *out, const bfi_bedded *b) {
    const bf_fold *fold = b->ask->fold;
    int n = 0;
    for (int i = 0; i < fold->n_twins; i++) {
        const bf_live *a = &fold->live[fold->twin[i].a];
        n += a->session == b->i_session && a->t_ms <= b->at_ms;
    }
    if (!n) return;
    bfi_told told;
    bfi_told_start(&told);
    bfi_put_so_many(&told.pen, n, "entry stands", "entries stand");
    bfi_put(&told.pen, " within 30 s of one like it from another device: if it is the same, cross one out, "
                       "or it counts twice.");
    bfi_json_note(out, "twice", told.text);
}

static void note_story(bfi_json *out, const bfi_bedded *b) {
    if (b->is_after_close)
        bfi_json_note(out, "after-close",
                      "The session was closed before that: this is how it stood at its end.");
    note_twice(out, b);
    if (b->is_cut) bfi_json_note(out, "cut", "Only the last 24 hours of the session are reckoned with.");
    if (b->n_puts == 0)
        bfi_json_note(out, "nothing-fed", "Nothing was fed here: too early to say.");
    else if (last_of(b, BF_SWIM_LOOK) < 0)
        bfi_json_note(out, "no-look",
                      "You have not yet said whether this looks right: less, about right or more counts as "
                      "evidence.");
}

/* More names than the model has room for: the last of it takes the rest. */
static void note_many(bfi_json *out, const bfi_bedded *b) {
    int spots = 0, baits = 0;
    for (int i = 0; i < b->n_events; i++) {
        const bf_swim_event *event = &b->event[i];
        if (event->kind != BF_SWIM_FEED) continue;
        const bf_body *body = body_of(b, event);
        spots |= body->spot >= 0 && body->spot != b->names.spot[event->spot];
        baits |= body->bait != b->names.feed[event->what];
    }
    if (spots)
        bfi_json_note(out, "many-spots", "More than 8 spots: from the eighth on all are reckoned as one.");
    if (baits)
        bfi_json_note(out, "many-baits", "More than 16 baits: those after the 16th are taken to be like it.");
}

static void note_scene(bfi_json *out, const bfi_bedded *b) {
    note_many(out, b);
    if (last_of(b, BF_SWIM_TEMP) < 0)
        bfi_json_note(out, "no-temp",
                      isnan(b->scene.temp_c)
                          ? "The water's temperature was not measured: 16 C is taken."
                          : "The water's temperature was not measured: the plan's is taken.");
    note_guessed(out, b);
    if (b->n_by_pot > 0)
        bfi_json_note(out, "by-pot",
                      "Pieces of a pot or a volume are what it should hold, give or take 15 % (35 % where "
                      "not even how full it was is told).");
    if (!b->has_aim[b->job.spot])
        bfi_json_note(
            out, "no-aim",
            "No plan's rig for this spot: half the drops are taken to lie within 8 cm of the feed.");
}

static void note_drawing(bfi_json *out, const bfi_bedded *b) {
    if (b->is_not_drawn)
        bfi_json_note(out, "not-drawn",
                      "More than a million pieces, or more put-ins than can be told apart: not drawn.");
}

void bfi_json_bed_notes(bfi_json *out, const bfi_bedded *b) {
    bfi_json_key(out, "notes");
    bfi_json_array(out);
    note_sets(out, b);
    note_story(out, b);
    note_scene(out, b);
    note_drawing(out, b);
    bfi_json_close(out);
}
