/* trial.c -- the question "trial": a comparison of two feeds by turns drawn by lot, planned or analysed.
 *
 * Request    {"plan":{"a","b","hours","block","washout","seed","bites_per_h"}, "start"?: instant}
 *            or {"session"?, "measure"?: "bites" or "fish", "alone"?: true}
 * The plan is one line of words, which is written as a note (of `open`, or a `note`) when the first block begins:
 *
 *     trial seed 7, 12 blocks of 20 min, first 5 min dropped, a = soft two, b = hard four
 *
 * That line in the note of a live event makes a trial: its first block begins at the event's instant. All trials of the same
 * two feeds are analysed together. */
#include <math.h>
#include <string.h>

#include "text/planned.h"
#include "text/read.h"

#define TRIALS_MOST 64

typedef struct found {
    bf_trial trial;
    bfi_plan_line line;
} found;

typedef struct analysis {
    bfi_ask *ask;
    int n; /* trials in the journal, in its order: the last ones */
    found at[TRIALS_MOST];
    int is_more; /* there are more than fit */
    const found *target;
    bf_trial_measure measure;
    int n_sessions, n_other; /* of those put together */
    bf_trial_pair pair[BF_TRIAL_MOST_PAIRS];
    int n_pairs;
    bf_trial_effect effect;
} analysis;

static void find_trials(analysis *a) {
    const bf_fold *fold = a->ask->fold;
    char note[BFI_PLAN_BYTES];
    for (int i = 0; i < fold->n_live; i++) {
        const bf_live *live = &fold->live[i];
        if (live->is_crossed || (live->kind != BF_OPEN && live->kind != BF_NOTE)) continue;
        bfi_plan_line line;
        bfi_entry_note(a->ask, i, note, sizeof note);
        if (!bfi_read_plan_line(note, &line)) continue;
        if (a->n == TRIALS_MOST) { // the oldest makes room
            a->is_more = 1;
            memmove(a->at, a->at + 1, (size_t)--a->n * sizeof a->at[0]);
        }
        bf_trial trial = {line.plan, live->session, live->t_ms, bf_journal_find_name(a->ask->journal, line.a),
                          bf_journal_find_name(a->ask->journal, line.b)};
        a->at[a->n++] = (found){trial, line};
    }
}

/* The last trial of the session asked about; without one asked, the last of the journal. */
static bf_status choose_target(analysis *a) {
    bfi_ask *ask = a->ask;
    int is_asked = bf_json_find(&ask->json, 0, "session") >= 0, session = -1;
    if (is_asked) session = bfi_ask_session(ask);
    if (is_asked && session < 0) return ask->error.status;
    for (int i = 0; i < a->n; i++)
        if (!is_asked || a->at[i].trial.session == session) a->target = &a->at[i];
    if (is_asked && !a->target)
        return bfi_ask_fail(ask, BF_E_CHOICE, "session", "a session with the note of a trial in it");
    return BF_OK;
}

static int is_same(const found *one, const char *a, const char *b) {
    return strcmp(one->line.a, a) == 0 && strcmp(one->line.b, b) == 0;
}

static void swap_sides(bf_trial_pair *pair, int n) {
    for (int i = 0; i < n; i++)
        pair[i] = (bf_trial_pair){pair[i].n_b, pair[i].n_a, pair[i].time_b_s, pair[i].time_a_s};
}

/* The pairs of every trial of the same two feeds, or of the target alone. */
static void put_together(analysis *a, int is_alone) {
    int last_session = -1;
    for (int i = 0; i < a->n; i++) {
        const found *one = &a->at[i];
        int is_turned = is_same(one, a->target->line.b, a->target->line.a);
        if (is_alone ? one != a->target : !is_turned && !is_same(one, a->target->line.a, a->target->line.b))
            continue;
        int n, n_other;
        if (a->n_pairs + one->trial.plan.n_blocks / 2 > BF_TRIAL_MOST_PAIRS) {
            a->is_more = 1;
            continue;
        }
        bf_trial_pairs(a->ask->fold, &a->ask->turnaround, &one->trial, a->measure, a->pair + a->n_pairs, &n,
                       &n_other);
        if (is_turned) swap_sides(a->pair + a->n_pairs, n);
        a->n_pairs += n;
        a->n_other += n_other;
        a->n_sessions += one->trial.session != last_session;
        last_session = one->trial.session;
    }
}

#define TRIAL_LEVEL 0.95

static int is_enough(const analysis *a) {
    return a->n_pairs >= BF_TRIAL_LEAST_PAIRS && a->effect.n_a + a->effect.n_b >= BF_LEAST_TO_SAY;
}

static void put_basis(bfi_pen *pen, const analysis *a) {
    bfi_put_so_many(pen, a->n_pairs, "pair of blocks", "pairs of blocks");
    bfi_put(pen, " over ");
    bfi_put_so_many(pen, a->n_sessions, "day", "days");
}

static void tell_effect(const analysis *a, bfi_pen *pen) {
    const bf_trial_effect *e = &a->effect;
    if (!is_enough(a)) {
        bfi_put(pen, "Too early to say: ");
        put_basis(pen, a);
        bfi_put(pen, "; six pairs and five bites are the least.");
        return;
    }
    bfi_put(pen, "With ");
    bfi_put(pen, bf_bait_name(a->target->line.b));
    bfi_put(pen, a->measure == BF_TRIAL_FISH ? " fish came " : " bites came ");
    bfi_put_ratio(pen, (bf_banded){e->ratio, e->lower, e->upper});
    bfi_put(pen, " times as often as with ");
    bfi_put(pen, bf_bait_name(a->target->line.a));
    bfi_put(pen,
            e->lower > 1 || e->upper < 1 ? ", 19 in 20 sure of a difference." : ": no difference found.");
}

/* By the lot alone. */
static void tell_chance(const analysis *a, bfi_pen *pen) {
    double in_100 = floor(100 * a->effect.p_value + 0.5);
    bfi_put(pen, "From ");
    put_basis(pen, a);
    bfi_put(pen, "; were the feeds alike, the lot alone would make as large a difference ");
    if (in_100 < 1) bfi_put(pen, "less than ");
    bfi_put_number(pen, in_100 < 1 ? 1 : in_100, 0);
    bfi_put(pen, in_100 <= 1 ? " time in 100." : " times in 100.");
}

/* With the pairs' own unevenness from a dozen on. */
static void tell_power(const analysis *a, bfi_pen *pen) {
    const bf_trial_effect *e = &a->effect;
    double n_side = (e->n_a + e->n_b) / 2 / a->n_sessions;
    double dispersion = a->n_pairs >= 12 && e->dispersion > 0.1 ? e->dispersion : 1;
    bfi_put(pen, "At this rate ");
    bfi_put_trial_power(pen, n_side, dispersion);
    bfi_put(pen, ".");
}

static void json_effect(bfi_json *out, const analysis *a) {
    const bf_trial_effect *e = &a->effect;
    bfi_json_key(out, "effect");
    bfi_json_object(out);
    bfi_json_key_real(out, "n_pairs", a->n_pairs);
    bfi_json_key_real(out, "n_days", a->n_sessions);
    bfi_json_key_real(out, "n_a", e->n_a);
    bfi_json_key_real(out, "n_b", e->n_b);
    bfi_json_key_real(out, "time_a_s", e->time_a_s);
    bfi_json_key_real(out, "time_b_s", e->time_b_s);
    bfi_json_key_real(out, "ratio", is_enough(a) ? e->ratio : BF_NAN);
    bfi_json_key_real(out, "lo", is_enough(a) ? e->lower : BF_NAN);
    bfi_json_key_real(out, "hi", is_enough(a) ? e->upper : BF_NAN);
    bfi_json_key_real(out, "p_value", is_enough(a) ? e->p_value : BF_NAN);
    bfi_json_key_real(out, "dispersion", e->dispersion);
    bfi_json_close(out);
}

static void row_side(bfi_json *out, const char *name, double n, double time_s) {
    bfi_told told;
    bfi_json_array(out);
    bfi_json_text(out, bf_bait_name(name));
    bfi_cell_count(out, n);
    bfi_told_start(&told);
    bfi_put_span(&told.pen, 60 * floor(time_s / 60 + 0.5));
    bfi_cell_told(out, &told);
    bfi_told_start(&told);
    bfi_put_figures(&told.pen, n / (time_s / 3600), 2);
    bfi_cell_told(out, &told);
    bfi_json_close(out);
}

static void table_sides(bfi_json *out, const analysis *a) {
    static const char *const bites[] = {"feed", "bites", "rig in the water", "bites an hour of it", NULL};
    static const char *const fish[] = {"feed", "fish", "time", "fish an hour", NULL};
    bfi_table_start(out, "sides", "Counted", "", a->measure == BF_TRIAL_FISH ? fish : bites);
    if (a->effect.time_a_s > 0) {
        row_side(out, a->target->line.a, a->effect.n_a, a->effect.time_a_s);
        row_side(out, a->target->line.b, a->effect.n_b, a->effect.time_b_s);
    }
    bfi_table_end(out);
}

static void json_analysis_notes(bfi_json *out, const analysis *a) {
    bfi_told told;
    bfi_json_key(out, "notes");
    bfi_json_array(out);
    bfi_json_note(out, "as-planned", "Blocks count as planned, whatever was fed in them.");
    if (a->n_other > 0) {
        bfi_told_start(&told);
        bfi_put_so_many(&told.pen, a->n_other, "block", "blocks");
        bfi_put(&told.pen, " had something else go in than planned: that draws the answer towards 1.");
        bfi_json_note(out, "other-feed", told.text);
    }
    if (a->is_more)
        bfi_json_note(out, "more-trials",
                      "There are more trials in this journal than are put together here.");
    bfi_json_close(out);
}

static void json_analysis(bfi_json *out, const analysis *a) {
    static void (*const tell[])(const analysis *, bfi_pen *) = {tell_effect, tell_chance, tell_power};
    bfi_json_key(out, "sentences");
    bfi_json_array(out);
    for (int i = 0; i < (is_enough(a) ? 3 : 1); i++) {
        bfi_told told;
        bfi_told_start(&told);
        tell[i](a, &told.pen);
        bfi_json_text(out, told.text);
    }
    bfi_json_close(out);
    json_effect(out, a);
    bfi_json_key(out, "tables");
    bfi_json_array(out);
    table_sides(out, a);
    bfi_json_close(out);
    json_analysis_notes(out, a);
}

static void json_target(bfi_json *out, const analysis *a) {
    bfi_json_key(out, "trial");
    if (!a->target) {
        bfi_json_real(out, BF_NAN);
        return;
    }
    char id[33], line[BFI_PLAN_BYTES];
    bfi_pen pen = bfi_pen_open(line, sizeof line);
    bf_id_write(a->ask->fold->session[a->target->trial.session].id, id);
    bfi_put_plan_line(&pen, &a->target->line);
    bfi_json_object(out);
    bfi_json_key_text(out, "session", id);
    bfi_json_key_text(out, "a", a->target->line.a);
    bfi_json_key_text(out, "b", a->target->line.b);
    bfi_json_key_text(out, "note", line);
    bfi_json_close(out);
}

static bf_status read_measure(analysis *a, int *is_alone) {
    static const char *const keys[] = {"session", "measure", "alone", "now", NULL};
    static const char *const measures[] = {"bites", "fish", NULL};
    bfi_ask *ask = a->ask;
    int choice = 0, value;
    bf_status status = bfi_ask_only(ask, keys);
    if (status) return status;
    value = bf_json_find(&ask->json, 0, "measure");
    if (value >= 0) status = bfi_read_choice(&ask->json, value, "measure", measures, &choice, &ask->error);
    a->measure = choice ? BF_TRIAL_FISH : BF_TRIAL_BITES;
    value = bf_json_find(&ask->json, 0, "alone");
    bf_json_kind kind = value < 0 ? BF_JSON_FALSE : bf_json_kind_of(&ask->json, value);
    *is_alone = kind == BF_JSON_TRUE;
    if (!status && kind != BF_JSON_TRUE && kind != BF_JSON_FALSE)
        status = bfi_ask_fail(ask, BF_E_TYPE, "alone", "true or false");
    return status;
}

static bf_status answer_analysis(bfi_ask *ask, bfi_json *out) {
    analysis *a = ask->spare;
    int is_alone;
    memset(a, 0, sizeof *a);
    a->ask = ask;
    bf_status status = read_measure(a, &is_alone);
    if (status) return status;
    find_trials(a);
    status = choose_target(a);
    if (status) return status;
    json_target(out, a);
    if (!a->target) return BF_OK;
    put_together(a, is_alone);
    /* Nothing to compare leaves NaN, which is_enough refuses and the sentence says. */
    status = bf_trial_compare(a->pair, a->n_pairs, TRIAL_LEVEL, &a->effect);
    if (status && status != BF_E_MISSING) return bfi_ask_fail(ask, status, "session", "");
    json_analysis(out, a);
    return BF_OK;
}

static size_t spare_bytes(const bf_journal *journal) {
    (void)journal;
    return bfi_trial_plan_bytes() > sizeof(analysis) ? bfi_trial_plan_bytes() : sizeof(analysis);
}

static bf_status answer(bfi_ask *ask, bfi_json *out) {
    return bf_json_find(&ask->json, 0, "plan") >= 0 ? bfi_answer_trial_plan(ask, out)
                                                    : answer_analysis(ask, out);
}

const bfi_ask_verb bfi_trial_verb = {"trial", spare_bytes, answer, NULL};
