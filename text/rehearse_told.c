/* rehearse_told.c -- a rehearsal in words and numbers: how it stands, what happened, and at the end the hidden truth and what each
 * decision cost. See rehearsed.h. */
#include <math.h>
#include <string.h>

#include "text/rehearsed.h"

#define WHAT                                                                                                 \
    "Simulated: no fish were there. The water is the program's own model of a swim, most of whose numbers "  \
    "are judgement."
#define AFTER                                                                                                \
    "A cost is that of the one choice: over the hour after it, both going on as the best would. It is held " \
    "against the true fish, which nobody at the water knows."

/* ---- A setup that was drawn ---- */

/* What stays of a session up to an instant: its entries until then, and corrections. */
static int is_before(const bf_event *event, double t_ms, const bfi_rehearse *r) {
    if (bf_id_order(event->session, r->next.b->session->id) != 0 || event->kind == BF_CLOSE) return 0;
    return bf_event_is_correction(event->kind) || t_ms <= r->next.b->at_ms;
}

static bf_status gather_before(bfi_rehearse *r) {
    const bf_event *events = bf_journal_events(r->ask->journal);
    const bf_fold *of = r->ask->fold;
    bfi_pen pen = bfi_pen_open(r->before, BFI_REHEARSE_TEXT);
    int n_events = 0;
    for (int i = 0; i < bf_journal_n(r->ask->journal); i++) {
        int live = bf_fold_find(of, events, events[i].id);
        size_t n;
        if (!is_before(&events[i], live >= 0 ? of->live[live].t_ms : events[i].at_ms, r)) continue;
        const char *line = bf_journal_line(r->ask->journal, i, &n);
        bfi_put_bytes(&pen, line, n);
        bfi_put(&pen, "\n");
        n_events++;
    }
    int fits = !pen.is_short && n_events < BFI_REHEARSE_EVENTS / 2;
    return fits ? BF_OK
                : bfi_fail(&r->ask->error, BF_E_SPACE, "setup.at", NULL, -1,
                           "a session of no more than 2000 entries");
}

static void key_raw(bfi_json *out, const bfi_rehearse *r, const char *key) {
    size_t n;
    int value = bf_json_find(&r->inner.json, 0, key);
    if (value < 0) return;
    const char *text = bf_json_raw(&r->inner.json, value, &n);
    bfi_json_key(out, key);
    bfi_json_raw(out, text, n);
}

/* 16 hex digits a double, behind the model's version. */
static void key_truth(bfi_json *out, const bfi_rehearse *r) {
    char text[16 * (BFI_REHEARSE_TRUTH + 1) + 1], hex[33];
    int n = bf_rehearse_columns(&r->next.b->scene);
    for (int k = -1; k < n; k++) {
        bf_id id = {0, BF_SWIM_VERSION};
        if (k >= 0) memcpy(&id.low, &r->truth[k], sizeof id.low);
        bf_id_write(id, hex);
        memcpy(text + 16 * (k + 1), hex + 16, 17);
    }
    bfi_json_key_text(out, "truth", text);
}

static bf_status json_setup(bfi_json *out, bfi_rehearse *r) {
    const bfi_bedded *b = r->next.b;
    if (!bf_rehearse_draw(&b->job, r->ask->rows, r->seed, r->work, r->truth))
        return bfi_fail(&r->ask->error, BF_E_DATA, "setup.at", NULL, -1,
                        "a session that the model can explain until then");
    bf_status status = gather_before(r);
    if (status) return status;
    bfi_json_key(out, "setup");
    bfi_json_object(out);
    key_raw(out, r, "plan");
    key_raw(out, r, "kit");
    key_raw(out, r, "objective");
    key_raw(out, r, "target_kg");
    bfi_json_instant(out, "at", b->at_ms, b->session->east_min);
    bfi_json_key_text(out, "before", r->before);
    key_truth(out, r);
    bfi_json_close(out);
    return BF_OK;
}

/* ---- How it stands ---- */

static void key_instant(bfi_json *out, const bfi_rehearse *r, const char *key, double t_s) {
    bfi_json_instant(out, key, bfi_rehearse_ms(r, t_s), r->east_min);
}

static void key_clock(bfi_json *out, const bfi_rehearse *r, const char *key, double t_s, int with_seconds) {
    char text[16];
    bfi_pen pen = bfi_pen_open(text, sizeof text);
    bfi_put_clock(&pen, bfi_rehearse_ms(r, t_s), r->east_min, with_seconds);
    bfi_json_key_text(out, key, text);
}

static double since_began(const bfi_rehearse *r, double t_s) {
    return t_s - r->begin_s;
}

static void json_names(bfi_json *out, const char *key, const char (*text)[BF_NAME_BYTES + 1], int n) {
    bfi_json_key(out, key);
    bfi_json_array(out);
    for (int i = 0; i < n; i++) bfi_json_text(out, text[i]);
    bfi_json_close(out);
}

/* What buttons say for baits, in their order. */
static void json_short(bfi_json *out, const char *key, const char (*id)[BF_NAME_BYTES + 1], int n) {
    bfi_json_key(out, key);
    bfi_json_array(out);
    for (int i = 0; i < n; i++) bfi_json_short(out, id[i]);
    bfi_json_close(out);
}

static void json_rig(bfi_json *out, const bfi_rehearse *r) {
    const bf_rehearse_day *day = &r->day;
    int is_in = day->rig_spot >= 0;
    bfi_json_key(out, "rig");
    bfi_json_object(out);
    bfi_json_key(out, "in");
    bfi_json_truth(out, is_in);
    bfi_json_key_text(out, "spot", is_in ? r->spot[day->rig_spot] : "");
    bfi_json_key_text(out, "hook_bait", is_in ? r->hook[day->rig_hook] : "");
    bfi_json_key_real(out, "since_s", is_in ? since_began(r, day->rig_since_s) : BF_NAN);
    bfi_json_close(out);
}

static void json_counts(bfi_json *out, const bfi_rehearse *r) {
    bfi_json_key(out, "counts");
    bfi_json_object(out);
    for (int i = 0; i <= BF_FOUL; i++) bfi_json_key_real(out, bf_outcome_words[i], r->day.n[i]);
    bfi_json_key_real(out, "touch", r->day.n_touches);
    bfi_json_key_real(out, "kg", floor(100 * r->day.kg + 0.5) / 100);
    bfi_json_close(out);
}

static double ends_s(const bfi_rehearse *r) {
    return r->begin_s + 3600 * r->hours;
}

static void json_now(bfi_json *out, const bfi_rehearse *r) {
    const bf_swim_scene *scene = &r->next.b->scene;
    char id[33];
    bf_id_write(r->session, id);
    if (r->n_setup) {
        bfi_json_key(out, "setup");
        bfi_json_raw(out, r->setup, r->n_setup);
    }
    bfi_json_key_text(out, "session", id);
    bfi_json_key_text(out, "venue", bfi_bed_name(r->next.b, r->next.b->session->venue));
    bfi_json_key_text(out, "peg", bfi_bed_name(r->next.b, r->next.b->session->peg));
    bfi_json_key_real(out, "seed", (double)r->seed);
    key_instant(out, r, "began", r->begin_s);
    bfi_json_key_real(out, "now_s", since_began(r, r->day.t_s));
    key_instant(out, r, "now", r->day.t_s);
    key_clock(out, r, "now_text", r->day.t_s, 0);
    bfi_json_key_real(out, "ends_s", since_began(r, ends_s(r)));
    key_clock(out, r, "ends_text", ends_s(r), 0);
    bfi_json_key(out, "is_over");
    bfi_json_truth(out, r->day.t_s >= ends_s(r));
    json_rig(out, r);
    bfi_json_key_real(out, "free_s", since_began(r, r->day.free_s));
    json_counts(out, r);
    json_names(out, "spots", (const char(*)[BF_NAME_BYTES + 1]) r->spot, scene->n_spots);
    json_names(out, "baits", (const char(*)[BF_NAME_BYTES + 1]) r->feed, scene->n_feeds);
    json_names(out, "hook_baits", (const char(*)[BF_NAME_BYTES + 1]) r->hook, scene->n_hooks);
    json_short(out, "baits_short", (const char(*)[BF_NAME_BYTES + 1]) r->feed, scene->n_feeds);
    json_short(out, "hook_baits_short", (const char(*)[BF_NAME_BYTES + 1]) r->hook, scene->n_hooks);
}

/* ---- What happened ---- */

static const bf_event *line_of(const bfi_rehearse *r, int k) {
    return &bf_journal_events(r->journal)[bf_journal_n(r->journal) - r->day.n_events + k];
}

static void put_at_spot(bfi_pen *pen, const char *before, const char *spot) {
    if (!spot[0]) return;
    bfi_put(pen, before);
    bfi_put(pen, spot);
}

/* "15 hard four, tipped, at long"; "long, with hard six on the hook"; "0.82 kg". */
static void put_detail(bfi_pen *pen, const bfi_rehearse *r, const bf_swim_event *event) {
    switch (event->kind) {
    case BF_SWIM_FEED:
        if (event->count_pm_frac > 0) bfi_put(pen, "about ");
        bfi_put_figures(pen, bfi_reckoned(event->count), 15);
        bfi_put(pen, " ");
        bfi_put(pen, r->feed[event->what][0] ? bf_bait_name(r->feed[event->what]) : "pieces");
        bfi_put(pen, ", ");
        bfi_put(pen, bfi_how_said[event->how]);
        put_at_spot(pen, ", at ", r->spot[event->spot]);
        break;
    case BF_SWIM_IN:
        put_at_spot(pen, "at ", r->spot[event->spot]);
        put_at_spot(pen, r->spot[event->spot][0] ? ", with " : "with ", bf_bait_name(r->hook[event->what]));
        break;
    case BF_SWIM_LIFT:
        if (isnan(event->value)) break;
        bfi_put_number(pen, event->value, 2);
        bfi_put(pen, " kg");
        break;
    default: break;
    }
}

static void json_event(bfi_json *out, const bfi_rehearse *r, int k) {
    const bf_swim_event *event = &r->event[k];
    const bf_event *line = line_of(r, k);
    bfi_told detail;
    bfi_told_start(&detail);
    put_detail(&detail.pen, r, event);
    bfi_json_object(out);
    bfi_json_key_real(out, "t_s", since_began(r, event->t_s));
    key_clock(out, r, "at_text", event->t_s, 1);
    bfi_json_key_text(out, "kind", bf_event_words[line->kind]);
    bfi_json_key_real(out, "choice", event->live >= 0 ? event->live : BF_NAN);
    if (event->kind == BF_SWIM_LIFT) bfi_json_key_text(out, "outcome", bf_outcome_words[event->outcome]);
    bfi_json_key_real(out, "kg", event->value);
    bfi_json_key_text(out, "word", bfi_entry_word(line->kind, &line->body));
    bfi_json_key_text(out, "detail", detail.text);
    bfi_json_close(out);
}

static void json_happened(bfi_json *out, const bfi_rehearse *r) {
    int n = bf_journal_n(r->journal);
    bfi_json_key(out, "events");
    bfi_json_array(out);
    for (int k = 0; k < r->day.n_events; k++) json_event(out, r, k);
    bfi_json_close(out);
    bfi_json_key(out, "lines");
    bfi_json_array(out);
    for (int i = 0; i < n; i++) {
        size_t n_line;
        const char *line = bf_journal_line(r->journal, i, &n_line);
        bfi_json_text(out, line);
    }
    bfi_json_close(out);
}

/* ---- The hidden truth ---- */

static void json_parameters(bfi_json *out, const bfi_rehearse *r) {
    bf_swim_set set = bf_rehearse_parameters(&r->next.b->scene, r->truth);
    bfi_json_key(out, "parameters");
    bfi_json_array(out);
    for (int i = 0; i < BF_SWIM_N_PARAMETERS; i++) {
        const bf_swim_named *named = &bf_swim_parameters[i];
        bfi_json_object(out);
        bfi_json_key_text(out, "name", named->name);
        bfi_json_key_real(out, "value", set.of[i]);
        bfi_json_key_real(out, "usual", named->middle);
        bfi_json_key_text(out, "unit", named->unit);
        bfi_json_key_text(out, "of", named->level == 'D' ? "day" : named->level == 'A' ? "angler" : "venue");
        bfi_json_key_text(out, "what", named->why);
        bfi_json_close(out);
    }
    bfi_json_close(out);
}

static void json_point(bfi_json *out, const bfi_rehearse *r, const bf_rehearse_point *point) {
    bfi_json_object(out);
    bfi_json_key_real(out, "t_s", since_began(r, point->t_s));
    key_clock(out, r, "at_text", point->t_s, 0);
    bfi_json_key_real(out, "near", point->near);
    bfi_json_key(out, "left");
    bfi_json_array(out);
    for (int s = 0; s < r->next.b->scene.n_spots; s++) bfi_json_real(out, floor(point->left[s] + 0.5));
    bfi_json_close(out);
    bfi_json_key(out, "fish");
    bfi_json_array(out);
    for (int s = 0; s < r->next.b->scene.n_spots; s++) bfi_json_real(out, point->fish[s]);
    bfi_json_close(out);
    bfi_json_close(out);
}

static void json_truth(bfi_json *out, const bfi_rehearse *r) {
    bfi_json_key(out, "truth");
    bfi_json_object(out);
    bfi_json_key_real(out, "signs_due", r->day.due);
    json_parameters(out, r);
    bfi_json_key(out, "series");
    bfi_json_array(out);
    for (int k = 0; k < r->day.n_points; k++) json_point(out, r, &r->point[k]);
    bfi_json_close(out);
    bfi_json_close(out);
}

/* ---- What decisions cost ---- */

typedef struct priced {
    int n, n_costly; /* decisions with a cost; those whose range lies above 0 */
    int worst;       /* the turn that cost most of those, -1 */
    bf_range cost;
    double t_s;
} priced;

static void put_chosen(bfi_pen *pen, const bfi_rehearse *r, const bf_rehearse_decision *d) {
    if (d->act.what == BF_WHAT_WAIT && d->act.hook != d->hook) {
        bfi_put(pen, "Change to ");
        bfi_put(pen, bf_bait_name(r->hook[d->act.hook]));
        bfi_put(pen, " on the hook");
        return;
    }
    bfi_put_act(pen, &r->next, &d->act);
    if (d->is_beside) put_at_spot(pen, ", for ", r->spot[d->act.spot]);
}

static void put_cost(bfi_pen *pen, const bfi_rehearse *r, const bf_rehearse_cost *cost) {
    if (cost->is_best) {
        bfi_put(pen, "as good as anything that was tried");
        return;
    }
    bfi_put_amounts(pen, &r->next, cost->cost);
    bfi_put(pen, cost->cost.lo > 0   ? " less than the best"
                 : cost->cost.hi < 0 ? ": better than what looked best"
                                     : ": not told apart from the best");
}

static void json_cost(bfi_json *out, const bfi_rehearse *r, const bf_rehearse_cost *cost) {
    bfi_told told;
    bfi_told_start(&told);
    bfi_put_act(&told.pen, &r->next, &cost->best);
    bfi_json_key_text(out, "best", told.text);
    bfi_json_key(out, "is_best");
    bfi_json_truth(out, cost->is_best);
    bfi_told_start(&told);
    put_cost(&told.pen, r, cost);
    bfi_json_key(out, "cost");
    bfi_json_object(out);
    bfi_json_key_real(out, "mid", cost->cost.mid);
    bfi_json_key_real(out, "lo", cost->cost.lo);
    bfi_json_key_real(out, "hi", cost->cost.hi);
    bfi_json_key_real(out, "p_more", cost->p_more);
    bfi_json_key_real(out, "lucks", cost->n_lucks);
    bfi_json_key_text(out, "text", told.text);
    bfi_json_close(out);
}

static void count_cost(priced *all, int i, const bf_rehearse_decision *d, const bf_rehearse_cost *cost) {
    all->n++;
    if (cost->is_best || !(cost->cost.lo > 0)) return;
    all->n_costly++;
    if (all->worst >= 0 && !(cost->cost.mid > all->cost.mid)) return;
    all->worst = i, all->cost = cost->cost, all->t_s = d->t_s;
}

static void json_decision(bfi_json *out, bfi_rehearse *r, int i, const bf_rehearse_decision *d, priced *all) {
    bf_rehearse_cost cost;
    bfi_told told;
    bfi_rehearse_at(r, i, d);
    bfi_json_object(out);
    bfi_json_key_real(out, "choice", i);
    bfi_json_key_real(out, "t_s", since_began(r, d->t_s));
    key_clock(out, r, "at_text", d->t_s, 0);
    bfi_told_start(&told);
    put_chosen(&told.pen, r, d);
    bfi_json_key_text(out, "chosen", told.text);
    int is_priced = r->next.job.n_ways > 0 && i >= r->price_from && i < r->price_to;
    if (is_priced) {
        bf_rehearse_price(&r->day_of, i, d, &r->next.job, r->work, &cost);
        json_cost(out, r, &cost);
        count_cost(all, i, d, &cost);
    } else {
        bfi_json_key_real(out, "cost", BF_NAN); /* null */
    }
    bfi_json_close(out);
}

static void tell_decisions(bfi_json *out, const bfi_rehearse *r, const priced *all) {
    bfi_told told;
    bfi_told_start(&told);
    bfi_put_so_many(&told.pen, all->n, "decision", "decisions");
    bfi_put(&told.pen, " priced, ");
    bfi_put_number(&told.pen, all->n_costly, 0);
    bfi_put(&told.pen, " clearly worse than the best that was tried.");
    bfi_json_text(out, told.text);
    if (all->worst < 0) return;
    bfi_told_start(&told);
    bfi_put(&told.pen, "The dearest, at ");
    bfi_put_clock(&told.pen, bfi_rehearse_ms(r, all->t_s), r->east_min, 0);
    bfi_put(&told.pen, ": ");
    bfi_put_amounts(&told.pen, &r->next, all->cost);
    bfi_put(&told.pen, " in the hour after it, on average.");
    bfi_json_text(out, told.text);
}

static void tell_luck(bfi_json *out, const bfi_rehearse *r) {
    bfi_told told;
    bfi_told_start(&told);
    int signs = r->day.n_touches;
    for (int i = 0; i <= BF_FOUL; i++) signs += r->day.n[i];
    bfi_put(&told.pen, "With those fish and that feed, ");
    bfi_put_figures(&told.pen, r->day.due, 2);
    bfi_put(&told.pen, " touches and bites were due while the rig was in; ");
    bfi_put_number(&told.pen, signs, 0);
    bfi_put(&told.pen, " came. The difference is luck.");
    bfi_json_text(out, told.text);
}

static void json_decisions(bfi_json *out, bfi_rehearse *r) {
    priced all = {.worst = -1};
    bfi_json_key(out, "decisions");
    bfi_json_array(out);
    for (int i = 0; i < r->day.n_done; i++) {
        bf_rehearse_decision d;
        if (bf_rehearse_decided(&r->day_of, i, &d)) json_decision(out, r, i, &d, &all);
    }
    bfi_json_close(out);
    bfi_json_key(out, "sentences");
    bfi_json_array(out);
    tell_luck(out, r);
    if (all.n) tell_decisions(out, r, &all);
    bfi_json_text(out, AFTER);
    bfi_json_close(out);
}

/* ---- The answer ---- */

bf_status bfi_json_rehearse(bfi_json *out, bfi_rehearse *r) {
    bfi_json_key(out, "simulated");
    bfi_json_truth(out, 1);
    bfi_json_key_text(out, "what", WHAT);
    if (r->is_drawing) return json_setup(out, r);
    json_now(out, r);
    json_happened(out, r);
    if (!r->wants_end) return BF_OK;
    json_truth(out, r);
    json_decisions(out, r);
    return BF_OK;
}
