/* next_told.c -- advice in words: the action, why, why not others, what would change it. See next.h. */
#include <math.h>
#include <string.h>

#include "text/next.h"

#define MINUTE_MS 60000.0

/* ---- Pieces ---- */

static int is_own(const bfi_next *n) {
    return n->odds.n_sessions >= BF_ODDS_SESSIONS;
}

static double ms_in(const bfi_next *n, double in_s) {
    return floor(n->b->at_ms + 1000 * in_s + 0.5);
}

/* A time after now: the minute is full then. */
static void put_at(bfi_pen *pen, const bfi_next *n, double in_s) {
    bfi_put_clock(pen, -MINUTE_MS * floor(-ms_in(n, in_s) / MINUTE_MS), n->b->session->east_min, 0);
}

/* "15 hard four, tipped" */
static void put_put_in(bfi_pen *pen, const bfi_next *n, const bf_act *act) {
    const char *bait = bf_bait_name(bfi_next_feed(n, act->feed));
    bfi_put_figures(pen, bfi_reckoned(act->count), 15);
    bfi_put(pen, " ");
    bfi_put(pen, bait[0] ? bait : "pieces");
    bfi_put(pen, ", ");
    bfi_put(pen, bfi_how_said[act->how]);
}

static int waits_for_a_bite(const bf_act *act) {
    return act->what == BF_WHAT_WAIT && act->after_bite;
}

/* A time between put-ins as one would keep to it. */
static double in_half_minutes(double time_s) {
    return time_s < 90 ? time_s : 30 * floor(time_s / 30 + 0.5);
}

/* "; from then on every 3 min", unless it goes on as it did. */
static void put_going_on(bfi_pen *pen, const bfi_next *n, const bf_act *act) {
    const bf_act *same = &n->advice.act[0];
    int is_as_before = act->feed == same->feed && act->how == same->how && act->count == same->count &&
                       act->every_s == same->every_s && act->after_bite == same->after_bite;
    if (!(act->every_s > 0) || act->feed < 0 || is_as_before) return;
    bfi_put(pen, act->after_bite ? "; from then on after a bite alone, and at most every "
                                 : "; from then on every ");
    bfi_put_about(pen, in_half_minutes(act->every_s));
}

static void put_wait(bfi_pen *pen, const bfi_next *n, const bf_act *act) {
    if (act->feed < 0 && n->is_to_end && act->wait_s >= n->job.for_s) {
        bfi_put(pen, "Feed no more");
        return;
    }
    if (act->feed < 0) {
        bfi_put(pen, "Feed nothing until ");
        put_at(pen, n, act->wait_s);
        bfi_put(pen, ", then look again");
        return;
    }
    bfi_put(pen, "Hold off until ");
    if (waits_for_a_bite(act))
        bfi_put(pen, "a bite");
    else
        put_at(pen, n, act->wait_s);
    bfi_put(pen, ", then ");
    put_put_in(pen, n, act);
}

static void put_move(bfi_pen *pen, const bfi_next *n, const bf_act *act) {
    const char *spot = bfi_next_spot(n, act->spot);
    bfi_put(pen, "Move to ");
    bfi_put(pen, spot[0] ? spot : "the other spot");
    bfi_put(pen, act->feed >= 0 ? " and feed " : " without feeding there");
    if (act->feed >= 0) put_put_in(pen, n, act);
}

void bfi_put_act(bfi_pen *pen, const bfi_next *n, const bf_act *act) {
    const char *hook = bfi_next_hook(n, act->hook);
    if (act->what == BF_WHAT_FEED) {
        bfi_put(pen, "Feed now: ");
        put_put_in(pen, n, act);
    } else if (act->what == BF_WHAT_WAIT)
        put_wait(pen, n, act);
    else
        put_move(pen, n, act);
    if (act->hook != n->job.hook[0]) {
        bfi_put(pen, ", with ");
        bfi_put(pen, hook[0] ? bf_bait_name(hook) : "another bait");
        bfi_put(pen, " on the hook");
    }
    put_going_on(pen, n, act);
}

static void put_act(bfi_pen *pen, const bfi_next *n, int i) {
    bfi_put_act(pen, n, &n->advice.act[i]);
    if (i == 0 && n->advice.act[0].feed >= 0) bfi_put(pen, ": the same again");
}

/* For a line of fifteen letters: "Feed 20 now", "Hold till 11:46", "Move to short". */
static void put_act_short(bfi_pen *pen, const bfi_next *n, int i) {
    const bf_act *act = &n->advice.act[i];
    const char *spot = bfi_next_spot(n, act->spot);
    if (act->what == BF_WHAT_FEED) {
        bfi_put(pen, "Feed ");
        bfi_put_figures(pen, bfi_reckoned(act->count), 15);
        bfi_put(pen, " now");
    } else if (act->what == BF_WHAT_MOVE) {
        bfi_put(pen, "Move to ");
        bfi_put(pen, spot[0] && strlen(spot) <= 7 ? spot : "spot");
    } else if (waits_for_a_bite(act))
        bfi_put(pen, "Hold for a bite");
    else {
        bfi_put(pen, "Hold till ");
        put_at(pen, n, act->wait_s);
    }
}

/* ---- How much ---- */

/* What a difference is held against: what the hour brings. */
static double scale_of(const bfi_next *n) {
    const bf_range *hour = &n->advice.hour;
    return hour->mid > 0 ? hour->mid : hour->hi > 0 ? hour->hi : 1;
}

static int is_even(const bfi_next *n, bf_range d) {
    return d.mid / scale_of(n) < BF_ADVISE_MARGIN;
}

/* "about even", "perhaps a little better", "clearly better": of a difference above 0; the word for more stands in `more`. */
static void put_how_much(bfi_pen *pen, const bfi_next *n, bf_range d, const char *more) {
    double part = d.mid / scale_of(n);
    if (is_even(n, d)) {
        bfi_put(pen, "about even");
        return;
    }
    if (!(d.lo > 0)) bfi_put(pen, "perhaps ");
    bfi_put(pen, part < 0.1 ? "a little " : part < 0.25 ? "" : "much ");
    bfi_put(pen, more);
}

static const char *unit_of(const bfi_next *n) {
    static const char *const units[BF_N_OBJECTIVES] = {"kg", "fish", "share", "fish"};
    return units[n->job.objective];
}

static void put_amount(bfi_pen *pen, const bfi_next *n, double x) {
    int figures = n->job.objective == BF_FOR_TARGET ? 2 : 1;
    bfi_put_number(pen, n->job.objective == BF_FOR_TARGET ? 100 * x : x, figures == 2 ? 0 : 1);
}

void bfi_put_amounts(bfi_pen *pen, const bfi_next *n, bf_range r) {
    put_amount(pen, n, r.mid);
    bfi_put(pen, n->job.objective == BF_FOR_WEIGHT   ? " kg ("
                 : n->job.objective == BF_FOR_TARGET ? " % of what is missing ("
                                                     : " fish (");
    put_amount(pen, n, r.lo);
    bfi_put(pen, r.lo < 0 || r.hi < 0 ? " to " : "-");
    put_amount(pen, n, r.hi);
    bfi_put(pen, ")");
}

/* key:{"mid","lo","hi","text"; numbers are null in advice of the book. Left open. */
static void json_amounts(bfi_json *out, const bfi_next *n, const char *key, bf_range r, const char *text) {
    bfi_json_key(out, key);
    bfi_json_object(out);
    bfi_json_key_real(out, "mid", is_own(n) ? r.mid : BF_NAN);
    bfi_json_key_real(out, "lo", is_own(n) ? r.lo : BF_NAN);
    bfi_json_key_real(out, "hi", is_own(n) ? r.hi : BF_NAN);
    bfi_json_key_text(out, "text", text);
}

/* ---- Actions ---- */

static double look_s(const bfi_next *n, int i) {
    return i == n->advice.best ? n->advice.look_s : BF_NAN;
}

/* Its put-in over the last of that way, or the planned one; NaN: nothing goes in. */
static double times_usual(const bfi_next *n, const bf_act *act) {
    for (int i = 0; act->feed >= 0 && i < n->job.n_ways; i++) {
        const bf_way *way = &n->job.way[i];
        if (way->spot == act->spot && way->feed == act->feed && way->how == act->how)
            return act->count / way->count;
    }
    return BF_NAN;
}

static void json_act_members(bfi_json *out, const bfi_next *n, int i) {
    const bf_act *act = &n->advice.act[i];
    bfi_told told;
    bfi_told_start(&told);
    put_act(&told.pen, n, i);
    bfi_json_key_text(out, "what", bf_what_words[act->what]);
    bfi_json_key_text(out, "spot", bfi_next_spot(n, act->spot));
    bfi_json_key_text(out, "hook_bait", bfi_next_hook(n, act->hook));
    bfi_json_key(out, "hook_short");
    bfi_json_short(out, bfi_next_hook(n, act->hook));
    bfi_json_key(out, "bait");
    if (act->feed >= 0)
        bfi_json_text(out, bfi_next_feed(n, act->feed));
    else
        bfi_json_real(out, BF_NAN); // null
    bfi_json_key_real(out, "count", act->feed >= 0 ? act->count : BF_NAN);
    if (act->feed >= 0) bfi_json_key_text(out, "how", bf_how_words[act->how]);
    bfi_json_key_real(out, "wait_s", act->wait_s);
    bfi_json_key_real(out, "every_s", act->every_s > 0 && act->feed >= 0 ? act->every_s : BF_NAN);
    bfi_json_key(out, "after_bite");
    bfi_json_truth(out, act->after_bite);
    bfi_json_key_text(out, "text", told.text);
}

static void json_act(bfi_json *out, const bfi_next *n, const char *key, int i) {
    bfi_json_key(out, key);
    if (i < 0) {
        bfi_json_real(out, BF_NAN); // null
        return;
    }
    bfi_json_object(out);
    json_act_members(out, n, i);
    bfi_told told;
    bfi_told_start(&told);
    put_act_short(&told.pen, n, i);
    bfi_json_key_text(out, "short", told.text);
    bfi_json_key_real(out, "times", times_usual(n, &n->advice.act[i]));
    bfi_json_instant(out, "at", n->b->at_ms, n->b->session->east_min);
    bfi_json_key_real(out, "look_again_s", look_s(n, i));
    bfi_json_instant(out, "look_again", ms_in(n, look_s(n, i)), n->b->session->east_min);
    bfi_json_close(out);
}

/* ---- What it brings ---- */

static void json_hour(bfi_json *out, const bfi_next *n) {
    bfi_told told;
    bfi_told_start(&told);
    if (is_own(n)) {
        bfi_put_amounts(&told.pen, n, n->advice.hour);
        bfi_put(&told.pen, " in the next ");
        bfi_put_span(&told.pen, n->job.for_s);
    }
    json_amounts(out, n, "hour", n->advice.hour, told.text);
    bfi_json_close(out);
}

static void tell_gain(bfi_pen *pen, const bfi_next *n) {
    const bf_range gain = n->advice.gain;
    if (n->advice.best == 0) {
        bfi_put(pen, "this is the same again");
        return;
    }
    if (is_own(n)) {
        bfi_put_amounts(pen, n, gain);
        bfi_put(pen, " more than the same again: ");
    }
    put_how_much(pen, n, gain, "better");
    if (!is_own(n)) bfi_put(pen, is_even(n, gain) ? " with the same again" : " than the same again");
}

static void json_gain(bfi_json *out, const bfi_next *n) {
    bfi_told told;
    bfi_told_start(&told);
    tell_gain(&told.pen, n);
    json_amounts(out, n, "gain", n->advice.gain, told.text);
    bfi_json_close(out);
}

/* ---- Odds, when they are earned ---- */

static void tell_odds(bfi_pen *pen, const bfi_next *n) {
    const bf_odds *odds = &n->odds;
    if (!isnan(n->advice.p_best)) {
        bfi_put(pen, "Nothing else brings more: ");
        bfi_put_in_ten(pen, n->advice.p_best);
        bfi_put(pen, ". ");
    }
    bfi_put(pen, "A fish by ");
    put_at(pen, n, n->advice.look_s);
    bfi_put(pen, ": ");
    bfi_put_in_ten(pen, n->advice.p_fish);
    bfi_put(pen, ". ");
    if (!odds->n_said) {
        bfi_put(pen, "No odds of advice you followed are on record yet.");
        return;
    }
    bfi_put(pen, "Such odds so far: ");
    bfi_put_number(pen, odds->said, 1);
    bfi_put(pen, " said, ");
    bfi_put_number(pen, odds->n_came, 0);
    bfi_put(pen, " came true, of ");
    bfi_put_number(pen, odds->n_said, 0);
    bfi_put(pen, ".");
}

static void json_odds(bfi_json *out, const bfi_next *n) {
    bfi_told told;
    bfi_json_key_real(out, "p_best", is_own(n) ? n->advice.p_best : BF_NAN);
    bfi_json_key(out, "odds");
    if (!is_own(n)) {
        bfi_json_real(out, BF_NAN); // null
        return;
    }
    bfi_told_start(&told);
    tell_odds(&told.pen, n);
    bfi_json_object(out);
    bfi_json_key_real(out, "p", n->advice.p_fish);
    bfi_json_instant(out, "until", ms_in(n, n->advice.look_s), n->b->session->east_min);
    bfi_json_key_real(out, "said", n->odds.said);
    bfi_json_key_real(out, "came", n->odds.n_came);
    bfi_json_key_real(out, "n", n->odds.n_said);
    bfi_json_key_text(out, "text", told.text);
    bfi_json_close(out);
}

static void tell_grounds(bfi_pen *pen, const bfi_next *n) {
    if (n->odds.n_sessions)
        bfi_put_so_many(pen, n->odds.n_sessions, "earlier session", "earlier sessions");
    else
        bfi_put(pen, "No earlier session");
    bfi_put(pen, " of yours with 20 lifts or more ");
    bfi_put(pen, n->odds.n_sessions > 1 ? "stand" : "stands");
    bfi_put(pen, " behind it");
    bfi_put(pen, is_own(n) ? "." : ": advice of the book, in words; odds are shown from 5 sessions on.");
}

static void json_grounds(bfi_json *out, const bfi_next *n) {
    bfi_told told;
    bfi_told_start(&told);
    tell_grounds(&told.pen, n);
    bfi_json_key_text(out, "grounds", is_own(n) ? "own" : "book");
    bfi_json_key_real(out, "sessions", n->odds.n_sessions);
    bfi_json_key_real(out, "learned_from", n->b->n_here + n->b->n_elsewhere);
    bfi_json_key_text(out, "grounds_text", told.text);
}

/* ---- Reasons ---- */

static void put_range(bfi_pen *pen, bf_range r) {
    if (bfi_reckoned(r.hi) < 1)
        bfi_put(pen, "none");
    else
        bfi_put_pieces_between(pen, r);
}

static const bf_range *small_left(const bfi_next *n) {
    return n->b->bed.n_classes > 0 ? &n->b->bed.left_of[0] : &n->b->bed.left;
}

/* "Left there, most likely: 5-15 pieces" */
static void put_reading(bfi_pen *pen, const bfi_next *n, int reading) {
    static const char *const heads[BF_N_READINGS] = {
        "Pieces left there: ", "Fish on the bait: ", "Fish about, not on the bait: ",
        "Smallest pieces left there: "};
    const bf_bed *bed = &n->b->bed;
    bfi_put(pen, heads[reading]);
    put_range(pen, reading == BF_READ_LEFT   ? bed->left
                   : reading == BF_READ_FISH ? bed->fish
                   : reading == BF_READ_NEAR ? bed->near
                                             : *small_left(n));
}

/* "; put in since 11:20: 55 hard four, tipped", "; since 11:20 3 drops: 1 fish, 2 missed" */
static void put_trace(bfi_pen *pen, const bfi_next *n, int reading) {
    const bfi_bedded *b = n->b;
    const bfi_bed_put *last = b->n_puts ? &b->puts[b->n_puts - 1] : NULL;
    bfi_bed_drops drops = bfi_bed_drops_in(b, last ? last->t_s : -1, b->job.until_s);
    int is_feed = reading == BF_READ_LEFT || reading == BF_READ_SMALL;
    if (is_feed && last) {
        bfi_put(pen, " of what went in up to ");
        bfi_put_clock(pen, bfi_bed_ms(b, last->t_s), b->session->east_min, 0);
    }
    if (!is_feed && (drops.n || drops.n_touches)) {
        bfi_put(pen, " (");
        bfi_put_bed_drops(pen, &drops);
        if (last) {
            bfi_put(pen, " since ");
            bfi_put_clock(pen, bfi_bed_ms(b, last->t_s), b->session->east_min, 0);
        }
        bfi_put(pen, ")");
    }
}

static void put_pull(bfi_pen *pen, const bfi_next *n, double pull) {
    static const char *const doing[] = {"feeding now", "holding off", "moving"};
    bfi_put(pen, pull > 0 ? ": the more, the better for " : ": the fewer, the better for ");
    bfi_put(pen, doing[n->advice.act[n->advice.best].what]);
}

static void json_id(bfi_json *out, const bfi_next *n, int live) {
    char id[33];
    if (live < 0) return;
    bf_id_write(bf_journal_events(n->b->ask->journal)[n->b->ask->fold->live[live].event].id, id);
    bfi_json_text(out, id);
}

/* Behind what lies there: the last put-in; behind the fish: the drops and touches since, three at most. */
static void json_events(bfi_json *out, const bfi_next *n, int reading) {
    const bfi_bedded *b = n->b;
    int is_feed = reading == BF_READ_LEFT || reading == BF_READ_SMALL, n_told = 0;
    bfi_json_key(out, "events");
    bfi_json_array(out);
    if (is_feed && b->n_puts) json_id(out, n, b->event[b->puts[b->n_puts - 1].first].live);
    for (int i = b->n_events - 1; i >= 0 && !is_feed && n_told < 3; i--) {
        const bf_swim_event *event = &b->event[i];
        if (event->spot != b->job.spot || event->live < 0) continue;
        if (event->kind != BF_SWIM_LIFT && event->kind != BF_SWIM_TOUCH) continue;
        json_id(out, n, event->live);
        n_told++;
    }
    bfi_json_close(out);
}

static void json_reason(bfi_json *out, const bfi_next *n, int reading, double pull) {
    bfi_told told;
    bfi_told_start(&told);
    put_reading(&told.pen, n, reading);
    put_trace(&told.pen, n, reading);
    if (pull != 0) put_pull(&told.pen, n, pull);
    bfi_put(&told.pen, ".");
    bfi_json_object(out);
    bfi_json_key_text(out, "text", told.text);
    bfi_json_key_text(out, "grounds", pull != 0 ? "today" : "book");
    json_events(out, n, reading);
    bfi_json_close(out);
}

/* Two: what bears on it most, by the scenarios; where nothing does clearly, how it stands, and the rest is the model's own. */
static void json_reasons(bfi_json *out, const bfi_next *n) {
    static const int plain[] = {BF_READ_LEFT, BF_READ_FISH};
    int told[2] = {-1, -1}, n_told = 0;
    bfi_json_key(out, "reasons");
    bfi_json_array(out);
    for (int i = 0; i < 2; i++) {
        const bf_bearing *bearing = &n->advice.bearing[i];
        if (bearing->reading < 0) continue;
        json_reason(out, n, bearing->reading, bearing->pull);
        told[n_told++] = bearing->reading;
    }
    for (int i = 0; i < 2 && n_told < 2; i++) {
        if (told[0] == plain[i]) continue;
        json_reason(out, n, plain[i], 0);
        told[n_told++] = plain[i];
    }
    bfi_json_close(out);
}

/* ---- Others, and what would change it ---- */

static void json_rival(bfi_json *out, const bfi_next *n, const bf_rival *rival) {
    bfi_told told;
    bfi_told_start(&told);
    bf_range ahead = rival->behind;
    int is_behind = ahead.mid >= 0;
    if (!is_behind) ahead = (bf_range){BF_NAN, -ahead.mid, -ahead.hi, -ahead.lo};
    if (n->advice.is_either && rival->act == n->advice.other && !is_even(n, ahead))
        bfi_put(&told.pen,
                is_behind ? "likely worse, but too close to call" : "likely better, but too close to call");
    else
        put_how_much(&told.pen, n, ahead, is_behind ? "worse" : "better");
    if (is_own(n)) {
        bfi_put(&told.pen, ", by ");
        bfi_put_amounts(&told.pen, n, ahead);
    }
    bfi_json_object(out);
    json_act_members(out, n, rival->act);
    json_amounts(out, n, "behind", rival->behind, told.text);
    bfi_json_close(out);
    bfi_json_key_real(out, "p_more", is_own(n) ? rival->p_more : BF_NAN);
    bfi_json_close(out);
}

static void json_others(bfi_json *out, const bfi_next *n) {
    bfi_json_key(out, "others");
    bfi_json_array(out);
    for (int i = 0; i < n->advice.n_rivals; i++) json_rival(out, n, &n->advice.rival[i]);
    bfi_json_close(out);
}

static void put_change(bfi_pen *pen, const bfi_next *n, const bf_tipping *change) {
    static const char *const nouns[BF_N_READINGS] = {" pieces left", " fish on the bait", " fish about",
                                                     " small pieces left"};
    static const char *const single[BF_N_READINGS] = {" piece left", " fish on the bait", " fish about",
                                                      " small piece left"};
    double bound = change->is_above ? floor(change->bound) : floor(change->bound) + 1;
    bfi_put(pen, change->is_above ? "more than " : "fewer than ");
    bfi_put_figures(pen, bfi_reckoned(bound), 15);
    bfi_put(pen, bfi_reckoned(bound) == 1 ? single[change->reading] : nouns[change->reading]);
    if (is_own(n)) {
        bfi_put(pen, ", likely in ");
        bfi_put_in_ten(pen, change->share);
    }
    bfi_put(pen, ": ");
    put_act(pen, n, change->act);
}

static void json_change(bfi_json *out, const bfi_next *n, const bf_tipping *change) {
    static const char *const readings[BF_N_READINGS] = {"left", "fish", "near", "small"};
    bfi_told told;
    bfi_told_start(&told);
    put_change(&told.pen, n, change);
    bfi_json_object(out);
    bfi_json_key_text(out, "reading", readings[change->reading]);
    bfi_json_key(out, "above");
    bfi_json_truth(out, change->is_above);
    bfi_json_key_real(out, "bound", change->bound);
    bfi_json_key_real(out, "share", is_own(n) ? change->share : BF_NAN);
    json_act(out, n, "action", change->act);
    bfi_json_key_text(out, "text", told.text);
    bfi_json_close(out);
}

static void json_changes(bfi_json *out, const bfi_next *n) {
    bfi_json_key(out, "changes_if");
    bfi_json_array(out);
    for (int i = 0; i < n->advice.n_changes; i++) json_change(out, n, &n->advice.change[i]);
    bfi_json_close(out);
}

/* ---- Notes ---- */

static void note_none(bfi_json *out, const bfi_next *n) {
    if (n->b->at_ms >= n->b->session->closed_ms)
        bfi_json_note(out, "closed", "No advice: the session is closed.");
    else if (!n->job.n_ways)
        bfi_json_note(out, "nothing-fed", "No advice yet: nothing was fed in this session.");
    else if (n->is_over)
        bfi_json_note(out, "over", "No advice: the hours told for this session are over. Feed nothing more.");
    else
        bfi_json_note(out, "not-explained",
                      "No advice: the model cannot explain what was entered. See whether an entry is wrong.");
}

static void note_objective(bfi_json *out, const bfi_next *n) {
    bfi_told told;
    if (n->job.objective == BF_FOR_SPECIES)
        bfi_json_note(out, "no-species", "The model knows no species: advice is for the number of fish.");
    if (n->job.objective != BF_FOR_WEIGHT && n->job.objective != BF_FOR_TARGET) return;
    bfi_told_start(&told);
    bfi_put(&told.pen, "The model knows no sizes of fish: weight is number times a usual fish, ");
    bfi_put_number(&told.pen, n->job.fish_kg, 2);
    bfi_put(&told.pen, n->n_weighed >= 5 ? " kg, the mean of those you weighed or guessed."
                                         : " kg until five were weighed or guessed.");
    bfi_json_note(out, "no-sizes", told.text);
}

static void note_rules(bfi_json *out, const bfi_next *n) {
    bfi_told told;
    if (n->is_barred) {
        bfi_json_note(out, "venue", "The venue's rules bar feed at this time: none is advised.");
        return;
    }
    if (isinf(n->feed_most_kg)) {
        bfi_json_note(
            out, "venue",
            "The venue's rules on feed are not in a plan given here: its board comes first. Uneaten feed "
            "fouls the bottom: when in doubt, less.");
        return;
    }
    bfi_told_start(&told);
    bfi_put(&told.pen, "The venue allows ");
    bfi_put_number(&told.pen, n->feed_most_kg, 2);
    bfi_put(&told.pen, " kg of feed; about ");
    bfi_put_number(&told.pen, n->fed_kg, 2);
    bfi_put(&told.pen,
            " kg went in. Nothing beyond it is advised. Uneaten feed fouls the bottom: when in doubt, less.");
    bfi_json_note(out, "venue", told.text);
}

static void json_notes(bfi_json *out, const bfi_next *n) {
    bfi_json_key(out, "notes");
    bfi_json_array(out);
    if (!n->advice.is_known) note_none(out, n);
    if (n->advice.is_known) note_objective(out, n);
    if (n->advice.is_known) note_rules(out, n);
    if (n->advice.is_known && n->is_near_end)
        bfi_json_note(out, "near-end",
                      "The session ends soon: only what comes until then counts, and what is left lying "
                      "counts nothing.");
    if (n->advice.is_known && n->b->n_events && n->job.n_bites == 0 && n->b->n_puts < 2)
        bfi_json_note(out, "early", "Little has happened yet: this rests on the book more than on today.");
    bfi_json_close(out);
}

/* ---- All of it ---- */

static void json_advised(bfi_json *out, const bfi_next *n) {
    json_act(out, n, "action", n->advice.best);
    json_act(out, n, "either", n->advice.is_either ? n->advice.other : -1);
    bfi_json_key(out, "kept");
    bfi_json_truth(out, n->advice.is_kept);
    bfi_json_key_text(out, "objective", bf_objective_words[n->job.objective]);
    bfi_json_key_real(out, "ahead_s", n->job.for_s);
    bfi_json_key_text(out, "unit", unit_of(n));
    json_hour(out, n);
    json_gain(out, n);
    json_odds(out, n);
    json_grounds(out, n);
    json_reasons(out, n);
    json_others(out, n);
    json_changes(out, n);
    bfi_json_key(out, "rests_on");
    bfi_json_object(out);
    bfi_json_key_real(out, "rollouts", n->advice.n_rollouts);
    bfi_json_key_real(out, "scenarios", n->advice.n_scenarios);
    bfi_json_close(out);
}

void bfi_json_next(bfi_json *out, const bfi_next *n) {
    if (n->advice.is_known)
        json_advised(out, n);
    else
        json_act(out, n, "action", -1);
    json_notes(out, n);
}
