/* peg.c -- the question "peg": last time here, in three lines at most, and what to mind before a session. See
 * baitfall/journal.h.
 *
 * {"venue"?, "peg"?, "now"?} -> {"lines":[...], "sessions", "notes":[...]}: lines only when a venue is named; notes: the cautions.
 *
 * The last session at the venue and peg before now; never fished the peg: the last at the venue, and it is said so. Lines: what was
 * caught in how long; the best half hour and what was fed then; what was noted, else what was changed. */
#include <math.h>
#include <string.h>

#include "text/bank.h"
#include "text/work.h"

#define HALF_HOUR_MS 1800000.0
#define HOUR_MS 3600000.0
#define STALE_MS (12 * HOUR_MS) /* an open session untouched for so long is a day of the past */
#define EARLY 5                 /* under so many fish no half hour is called the best */

typedef struct visit {
    bfi_ask *ask;
    int i_session;
    const bf_session *session;
    char venue[BF_NAME_BYTES + 1], peg[BF_NAME_BYTES + 1];
    double now_ms;
    int n_sessions;  /* at the venue and peg           */
    int is_same_peg; /* 0: the last one was at another */
} visit;

static const char *name_of(const visit *v, int name) {
    return bf_journal_name(v->ask->journal, name);
}

/* ---- Which session ---- */

static int is_past(const visit *v, const bf_session *session) {
    int is_open = session->closed_ms != session->closed_ms;
    if (v->now_ms != v->now_ms) return !is_open;
    return session->opened_ms < v->now_ms && (!is_open || v->now_ms - session->last_ms > STALE_MS);
}

/* The last past session at the venue, and at the peg when one is asked for; -1. */
static int last_visit(visit *v, int at_peg) {
    int last = -1;
    for (int i = 0; i < v->ask->fold->n_sessions; i++) {
        const bf_session *session = &v->ask->fold->session[i];
        if (session->opened_ms != session->opened_ms || !is_past(v, session)) continue;
        if (strcmp(name_of(v, session->venue), v->venue) != 0) continue;
        if (at_peg && strcmp(name_of(v, session->peg), v->peg) != 0) continue;
        v->n_sessions++;
        last = i;
    }
    return last;
}

static int find_visit(visit *v) {
    v->i_session = last_visit(v, v->peg[0] != 0);
    v->is_same_peg = v->i_session >= 0;
    if (v->peg[0] && v->i_session < 0) {
        v->i_session = last_visit(v, 0);
        v->n_sessions = 0;
    }
    if (v->i_session >= 0) v->session = &v->ask->fold->session[v->i_session];
    return v->i_session >= 0;
}

/* ---- What was caught ---- */

static void put_place(bfi_pen *pen, const visit *v) {
    if (!v->is_same_peg) {
        bfi_put(pen, "Never at peg ");
        bfi_put(pen, v->peg);
        bfi_put(pen, " in this journal. ");
    }
    bfi_put_date(pen, v->session->opened_ms, v->session->east_min, 0);
    if (v->session->peg >= 0 && (!v->is_same_peg || !v->peg[0])) {
        bfi_put(pen, ", peg ");
        bfi_put(pen, name_of(v, v->session->peg));
    }
}

static void put_caught(bfi_pen *pen, const visit *v, const bf_pace *pace) {
    put_place(pen, v);
    bfi_put(pen, ": ");
    if (pace->n_fish) {
        bfi_put_weight(pen, pace->mass_kg);
        bfi_put(pen, ", ");
    }
    bfi_put_so_many(pen, pace->n_fish, "fish", "fish");
    bfi_put(pen, " in ");
    bfi_put_span(pen, 60 * floor(pace->hours * 60 + 0.5));
    if (v->session->temp_c == v->session->temp_c) {
        bfi_put(pen, ", water ");
        bfi_put_figures(pen, v->session->temp_c, 2);
        bfi_put(pen, " C");
    }
    bfi_put(pen, ".");
}

/* ---- The best half hour ---- */

static int is_fish(const bf_drop *drop) {
    return drop->outcome == BF_LANDED && drop->end_live >= 0;
}

/* The half hour with the most fish that begins with one; drops are in order of their ends. Returns how many. */
static int best_half_hour(const visit *v, double *from_ms) {
    const bf_drop *drop = v->ask->fold->drop;
    int most = 0, n = 0, last = v->session->drop_from;
    for (int first = v->session->drop_from; first < v->session->drop_to; first++) {
        for (; last < v->session->drop_to && drop[last].end_ms < drop[first].end_ms + HALF_HOUR_MS; last++)
            n += is_fish(&drop[last]);
        if (is_fish(&drop[first]) && n > most) {
            most = n;
            *from_ms = drop[first].end_ms;
        }
        n -= is_fish(&drop[first]);
    }
    return most;
}

#define BAITS_SAID 4

/* "soft two 3 times and hard four once": what went in from ten minutes before until the half hour's end. */
static void put_fed(bfi_pen *pen, const visit *v, double from_ms) {
    int bait[BAITS_SAID], times[BAITS_SAID], n = 0;
    for (int i = v->session->put_from; i < v->session->put_to; i++) {
        const bf_put_in *put = &v->ask->fold->put_in[i];
        if (put->t_ms < from_ms - HALF_HOUR_MS / 3 || put->t_ms > from_ms + HALF_HOUR_MS) continue;
        int k = 0;
        while (k < n && bait[k] != put->bait) k++;
        if (k == BAITS_SAID) continue;
        if (k == n) {
            bait[n] = put->bait;
            times[n++] = 0;
        }
        times[k]++;
    }
    bfi_put(pen, n ? "; fed then: " : "; nothing was fed then");
    for (int k = 0; k < n; k++) {
        if (k) bfi_put(pen, k + 1 == n ? " and " : ", ");
        bfi_put(pen, bf_bait_name(name_of(v, bait[k])));
        bfi_put(pen, " ");
        if (times[k] == 1) {
            bfi_put(pen, "once");
        } else
            bfi_put_so_many(pen, times[k], "time", "times");
    }
}

static void put_best(bfi_pen *pen, const visit *v, const bf_pace *pace) {
    double from_ms = BF_NAN;
    int n = best_half_hour(v, &from_ms);
    if (pace->n_fish < EARLY || n == 0) {
        bfi_put(pen, "Best half hour: too early to say, ");
        bfi_put_so_many(pen, n ? pace->n_fish : 0, "fish", "fish");
        bfi_put(pen, " entered one by one.");
        return;
    }
    bfi_put(pen, "Best half hour ");
    bfi_put_hours(pen, from_ms, from_ms + HALF_HOUR_MS, v->session->east_min);
    bfi_put(pen, ": ");
    bfi_put_so_many(pen, n, "fish", "fish");
    put_fed(pen, v, from_ms);
    bfi_put(pen, ".");
}

/* ---- What to remember ---- */

#define NOTE_SAID 160

/* The last words written: of `close`, else the last note. */
static int find_note(const visit *v, char note[NOTE_SAID]) {
    for (int pass = 0; pass < 2; pass++)
        for (int i = v->session->live_to - 1; i >= v->session->live_from; i--) {
            const bf_live *live = &v->ask->fold->live[i];
            if (live->is_crossed || live->kind != (pass ? BF_NOTE : BF_CLOSE)) continue;
            bfi_entry_note(v->ask, i, note, NOTE_SAID);
            if (note[0]) return 1;
        }
    return 0;
}

/* The bait of the put-in before put-in i, of several at once the first named. */
static int bait_before(const visit *v, int i) {
    const bf_put_in *put = v->ask->fold->put_in;
    return put[put[i - 1].first].bait;
}

/* The last put-in of another bait than the one before it; -1. */
static int last_change(const visit *v) {
    const bf_put_in *put = v->ask->fold->put_in;
    for (int i = v->session->put_to - 1; i > v->session->put_from; i--)
        if (put[i].first == i && put[i].bait != bait_before(v, i)) return i;
    return -1;
}

static void put_remember(bfi_pen *pen, const visit *v) {
    char note[NOTE_SAID];
    if (find_note(v, note)) {
        bfi_put(pen, "Noted: ");
        bfi_put(pen, note);
        return;
    }
    int i = last_change(v);
    if (i < 0) {
        bfi_put(pen, "Nothing was noted, and the feed was not changed.");
        return;
    }
    const bf_put_in *put = v->ask->fold->put_in;
    bfi_put(pen, "Feed last changed at ");
    bfi_put_clock(pen, put[i].t_ms, v->session->east_min, 0);
    bfi_put(pen, ", from ");
    bfi_put(pen, bf_bait_name(name_of(v, bait_before(v, i))));
    bfi_put(pen, " to ");
    bfi_put(pen, bf_bait_name(name_of(v, put[i].bait)));
    bfi_put(pen, ".");
}

/* ---- The answer ---- */

static bf_status read_request(visit *v) {
    static const char *const keys[] = {"venue", "peg", "now", NULL};
    int east_min;
    bf_status status = bfi_ask_only(v->ask, keys);
    if (!status) status = bfi_ask_text(v->ask, "venue", v->venue, sizeof v->venue);
    if (!status) status = bfi_ask_text(v->ask, "peg", v->peg, sizeof v->peg);
    if (!status) status = bfi_ask_instant(v->ask, "now", &v->now_ms, &east_min);
    return status;
}

static void json_lines(bfi_json *out, const visit *v) {
    char line[3][640];
    bf_guessing guessing = bf_guessing_of(v->ask->fold, v->i_session);
    bf_pace pace = bf_pace_of(v->ask->fold, &guessing, v->session->last_ms);
    bfi_pen caught = bfi_pen_open(line[0], sizeof line[0]);
    bfi_pen best = bfi_pen_open(line[1], sizeof line[1]);
    bfi_pen remember = bfi_pen_open(line[2], sizeof line[2]);
    put_caught(&caught, v, &pace);
    put_best(&best, v, &pace);
    put_remember(&remember, v);
    for (int i = 0; i < 3; i++) bfi_json_text(out, line[i]);
}

static void json_cautions(bfi_json *out) {
    bf_note cautions[BF_N_CAUTIONS] = {{0}};
    for (int i = 0; i < BF_N_CAUTIONS; i++) cautions[i].code = bf_cautions[i];
    bfi_json_notes(out, cautions, BF_N_CAUTIONS);
}

static bf_status answer(bfi_ask *ask, bfi_json *out) {
    visit v = {.ask = ask};
    bf_status status = read_request(&v);
    if (status) return status;
    int is_found = v.venue[0] && find_visit(&v);
    bfi_json_key(out, "lines");
    bfi_json_array(out);
    if (is_found)
        json_lines(out, &v);
    else if (v.venue[0])
        bfi_json_text(out, "No earlier session at this venue in this journal.");
    bfi_json_close(out);
    bfi_json_key_real(out, "sessions", v.n_sessions);
    json_cautions(out);
    return BF_OK;
}

const bfi_ask_verb bfi_peg_verb = {"peg", NULL, answer, NULL};
