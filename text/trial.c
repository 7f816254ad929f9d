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

#include "baitfall/trial.h"
#include "text/read.h"
#include "text/told.h"

#define TRIALS_MOST 64
#define NOTE_BYTES 1024

/* ---- The line ---- */

typedef struct plan_line {
    bf_trial_plan plan;
    char a[BF_NAME_BYTES + 1], b[BF_NAME_BYTES + 1];
} plan_line;

static void put_line(bfi_pen *pen, const plan_line *line) {
    bfi_put(pen, "trial seed ");
    bfi_put_figures(pen, line->plan.seed, 16);
    bfi_put(pen, ", ");
    bfi_put_number(pen, line->plan.n_blocks, 0);
    bfi_put(pen, " blocks of ");
    bfi_put_number(pen, line->plan.block_s / 60, 0);
    bfi_put(pen, " min, first ");
    bfi_put_number(pen, line->plan.washout_s / 60, 0);
    bfi_put(pen, " min dropped, a = ");
    bfi_put(pen, line->a);
    bfi_put(pen, ", b = ");
    bfi_put(pen, line->b);
}

/* Steps over words that must stand there; 0: they do not. */
static int take_words(const char **at, const char *words) {
    size_t n = strlen(words);
    if (strncmp(*at, words, n) != 0) return 0;
    *at += n;
    return 1;
}

static int take_number(const char **at, double *number) {
    const char *from = *at;
    *number = 0;
    for (; **at >= '0' && **at <= '9' && *at - from < 16; ++*at) *number = 10 * *number + (**at - '0');
    return *at > from;
}

/* A name up to `end`; 0 when it is empty or too long. */
static int take_name(const char **at, const char *end, char name[BF_NAME_BYTES + 1]) {
    size_t n = (size_t)(end - *at);
    if (n == 0 || n > BF_NAME_BYTES) return 0;
    memcpy(name, *at, n);
    name[n] = 0;
    *at = end;
    return 1;
}

/* Finds the line in a note; 0: there is none. b runs to the end of its line. */
static int read_line(const char *note, plan_line *line) {
    const char *at = bfi_find_text(note, "trial seed ");
    double n_blocks, block_min, washout_min;
    if (!at) return 0;
    at += strlen("trial seed ");
    int is_read = take_number(&at, &line->plan.seed) && take_words(&at, ", ") &&
                  take_number(&at, &n_blocks) && take_words(&at, " blocks of ") &&
                  take_number(&at, &block_min) && take_words(&at, " min, first ") &&
                  take_number(&at, &washout_min) && take_words(&at, " min dropped, a = ");
    const char *comma = is_read ? bfi_find_text(at, ", b = ") : NULL;
    if (!comma || !take_name(&at, comma, line->a) || !take_words(&at, ", b = ")) return 0;
    const char *end = at + strcspn(at, "\r\n");
    while (end > at && end[-1] == ' ') end--;
    if (!take_name(&at, end, line->b) || n_blocks > BF_TRIAL_MOST_BLOCKS) return 0;
    line->plan.n_blocks = (int)n_blocks;
    line->plan.block_s = 60 * block_min;
    line->plan.washout_s = 60 * washout_min;
    return bf_trial_check(&line->plan) == BF_OK;
}

/* ---- What it could find ---- */

#define RATIO_WANTED 1.2
#define MOST_DAYS 1000 /* that are counted */

static double kept_h(const bf_trial_plan *plan) {
    return plan->n_blocks / 2 * (plan->block_s - plan->washout_s) / 3600;
}

/* Whole days, the last one not full. */
static double days_needed(double n_side_a_day, double dispersion) {
    return -floor(-bf_trial_needed(RATIO_WANTED, dispersion) / n_side_a_day);
}

static void put_days(bfi_pen *pen, double n_side_a_day, double dispersion) {
    double days = days_needed(n_side_a_day, dispersion);
    bfi_put(pen, days > MOST_DAYS ? "more than " : "about ");
    bfi_put_number(pen, days > MOST_DAYS ? MOST_DAYS : days, 0);
    bfi_put(pen, days == 1 ? " such day" : " such days");
}

/* "one day finds a difference of 2.3 times; 1.2 times takes about 21 such days" */
static void put_power(bfi_pen *pen, double n_side_a_day, double dispersion) {
    bfi_put(pen, "one such day finds a difference of ");
    bfi_put_times(pen, bf_trial_least_ratio(n_side_a_day, dispersion));
    bfi_put(pen, " or more, 8 times in 10; 1.2 times takes ");
    put_days(pen, n_side_a_day, dispersion);
}

/* ---- Planning ---- */

typedef struct planning {
    bf_trial_wish wish;
    plan_line line;
    bfi_names names;
    bfi_reader reader;
} planning;

static bf_status read_feed(bfi_ask *ask, int plan, const char *key, const char *path,
                           char name[BF_NAME_BYTES + 1]) {
    static const char accepted[] = "the name of a feed, 1 to 48 bytes in one line without \", b = \"";
    int value = bf_json_find(&ask->json, plan, key);
    if (value < 0) return bfi_fail(&ask->error, BF_E_MISSING, path, &ask->json, -1, accepted);
    if (bf_json_kind_of(&ask->json, value) != BF_JSON_STRING)
        return bfi_fail(&ask->error, BF_E_TYPE, path, &ask->json, value, accepted);
    bf_status status = bf_json_string(&ask->json, value, name, BF_NAME_BYTES + 1);
    if (!status && (!name[0] || bfi_find_text(name, ", b = ") || name[strcspn(name, "\r\n")]))
        status = BF_E_RANGE;
    return status ? bfi_fail(&ask->error, status, path, &ask->json, value, accepted) : BF_OK;
}

static bf_status refuse(bfi_ask *ask, int plan, const char *key, const char *path, const char *accepted) {
    return bfi_fail(&ask->error, BF_E_RANGE, path, &ask->json, bf_json_find(&ask->json, plan, key), accepted);
}

static int is_whole(double x) {
    return x == floor(x);
}

static bf_status read_plan(bfi_ask *ask, planning *p) {
    static const char *const others[] = {"plan.a", "plan.b", "start", NULL};
    int plan = bf_json_find(&ask->json, 0, "plan");
    bf_fault fault;
    bf_schema_start(&bf_trial_wish_schema, &p->wish);
    bf_status status = bfi_read_record(&p->reader, &ask->json, &bf_trial_wish_schema, &p->wish, others,
                                       &p->names, &ask->error);
    if (status) return status;
    if (bf_schema_check(&bf_trial_wish_schema, &p->wish, &fault))
        return bfi_fail_fault(&ask->error, &p->names, &fault);
    if (!is_whole(p->wish.seed)) return refuse(ask, plan, "seed", "plan.seed", "a whole number");
    if (!is_whole(p->wish.block_s / 60))
        return refuse(ask, plan, "block", "plan.block_s", "whole minutes, 5 to 120");
    if (!is_whole(p->wish.washout_s / 60) || p->wish.washout_s > p->wish.block_s / 2)
        return refuse(ask, plan, "washout", "plan.washout_s", "whole minutes, at most half a block");
    p->line.plan = bf_trial_plan_of(&p->wish);
    if (p->line.plan.n_blocks < 2)
        return refuse(ask, plan, "hours", "plan.hours", "time for two blocks at least");
    status = read_feed(ask, plan, "a", "plan.a", p->line.a);
    if (!status) status = read_feed(ask, plan, "b", "plan.b", p->line.b);
    if (status || strcmp(p->line.a, p->line.b) != 0) return status;
    return refuse(ask, plan, "b", "plan.b", "another feed than a");
}

/* "0:20" since the start, or the clock's time when that is known. */
static void put_when(bfi_pen *pen, double s, double start_ms, int east_min) {
    int minutes = (int)(s / 60 + 0.5);
    if (!isnan(start_ms)) {
        bfi_put_clock(pen, start_ms + 1000 * s, east_min, 0);
        return;
    }
    bfi_put_number(pen, minutes / 60, 0);
    bfi_put(pen, minutes % 60 < 10 ? ":0" : ":");
    bfi_put_number(pen, minutes % 60, 0);
}

static void table_blocks(bfi_json *out, const planning *p, double start_ms, int east_min) {
    static const char *const heads[] = {"block", "from", "to", "feed", "counts from", NULL};
    const bf_trial_plan *plan = &p->line.plan;
    bfi_table_start(out, "blocks",
                    isnan(start_ms) ? "The turns (hours and minutes since the start)" : "The turns", "",
                    heads);
    for (int i = 0; i < plan->n_blocks; i++) {
        double at_s[3] = {i * plan->block_s, (i + 1) * plan->block_s, i * plan->block_s + plan->washout_s};
        bfi_told when[3];
        for (int k = 0; k < 3; k++) {
            bfi_told_start(&when[k]);
            put_when(&when[k].pen, at_s[k], start_ms, east_min);
        }
        bfi_json_array(out);
        bfi_cell_count(out, i + 1);
        bfi_cell_told(out, &when[0]);
        bfi_cell_told(out, &when[1]);
        bfi_json_text(out, bf_trial_is_b(plan, i) ? p->line.b : p->line.a);
        bfi_cell_told(out, &when[2]);
        bfi_json_close(out);
    }
    bfi_table_end(out);
}

static void table_power(bfi_json *out, const planning *p) {
    static const char *const heads[] = {"bites an hour", "one day finds", "days for 1.2 times", NULL};
    static const double rates[] = {5, 10, 20, 40};
    bfi_told told;
    bfi_table_start(out, "power", "How small a difference it could find, 8 times in 10",
                    "If bites come singly and evenly; in bursts it takes more.", heads);
    for (size_t i = 0; i < sizeof rates / sizeof rates[0]; i++) {
        double n_side = rates[i] * kept_h(&p->line.plan);
        bfi_json_array(out);
        bfi_cell_count(out, rates[i]);
        bfi_told_start(&told);
        bfi_put_times(&told.pen, bf_trial_least_ratio(n_side, 1));
        bfi_cell_told(out, &told);
        bfi_cell_count(out, days_needed(n_side, 1));
        bfi_json_close(out);
    }
    bfi_table_end(out);
}

/* Bites an hour by the clock over the whole journal, NaN under five. */
static double bites_per_h_so_far(const bf_fold *fold) {
    double n = 0, hours = 0;
    for (int s = 0; s < fold->n_sessions; s++) {
        const bf_session *session = &fold->session[s];
        const int *count = session->count;
        double end = isfinite(session->closed_ms) ? session->closed_ms : session->last_ms;
        if (!(end > session->opened_ms)) continue;
        n += count[BF_LANDED] + count[BF_LOST] + count[BF_MISSED] + count[BF_FOUL];
        hours += (end - session->opened_ms) / 3.6e6;
    }
    return n >= BF_LEAST_TO_SAY ? n / hours : NAN;
}

static void json_plan_sentences(bfi_json *out, const bfi_ask *ask, const planning *p) {
    const bf_trial_plan *plan = &p->line.plan;
    bfi_told told;
    bfi_told_start(&told);
    bfi_put_number(&told.pen, plan->n_blocks, 0);
    bfi_put(&told.pen, " blocks of ");
    bfi_put_number(&told.pen, plan->block_s / 60, 0);
    bfi_put(&told.pen, " min, in pairs whose order a lot decided; the first ");
    bfi_put_number(&told.pen, plan->washout_s / 60, 0);
    bfi_put(&told.pen, " min of each do not count.");
    bfi_json_text(out, told.text);
    int is_told = !isnan(p->wish.bites_per_h);
    double per_h = is_told ? p->wish.bites_per_h : bites_per_h_so_far(ask->fold);
    if (isnan(per_h)) return;
    bfi_told_start(&told);
    bfi_put(&told.pen, "At ");
    bfi_put_figures(&told.pen, per_h, 2);
    bfi_put(&told.pen, is_told ? " bites an hour " : " bites an hour, as entered so far, ");
    put_power(&told.pen, per_h * kept_h(plan), 1);
    bfi_put(&told.pen, ", which are analysed together.");
    bfi_json_text(out, told.text);
}

static void json_plan(bfi_json *out, const bfi_ask *ask, const planning *p, double start_ms, int east_min) {
    char line[NOTE_BYTES];
    bfi_pen pen = bfi_pen_open(line, sizeof line);
    put_line(&pen, &p->line);
    bfi_json_key_text(out, "note", line);
    bfi_json_key(out, "sentences");
    bfi_json_array(out);
    json_plan_sentences(out, ask, p);
    bfi_json_close(out);
    bfi_json_key(out, "blocks");
    bfi_json_array(out);
    for (int i = 0; i < p->line.plan.n_blocks; i++) {
        int is_b = bf_trial_is_b(&p->line.plan, i);
        bfi_json_object(out);
        bfi_json_key_real(out, "from_s", i * p->line.plan.block_s);
        bfi_json_key_real(out, "to_s", (i + 1) * p->line.plan.block_s);
        bfi_json_key_text(out, "feed", is_b ? p->line.b : p->line.a);
        bfi_json_close(out);
    }
    bfi_json_close(out);
    bfi_json_key(out, "tables");
    bfi_json_array(out);
    table_blocks(out, p, start_ms, east_min);
    table_power(out, p);
    bfi_json_close(out);
    bfi_json_key(out, "notes");
    bfi_json_array(out);
    bfi_json_note(
        out, "write-it-down",
        "Enter the line under \"note\" as a note when the first block begins: from it the blocks are "
        "known again.");
    bfi_json_note(
        out, "keep-to-it",
        "Feed what the lot says, also when bites stop: that is what makes the answer mean something. Blocks "
        "count as planned, whatever was fed.");
    if (p->line.plan.n_blocks < 2 * BF_TRIAL_LEAST_PAIRS)
        bfi_json_note(out, "few-blocks",
                      "With fewer than 12 blocks no outcome of this day alone can be called a difference; "
                      "further days are added to it.");
    bfi_json_close(out);
}

static bf_status answer_plan(bfi_ask *ask, bfi_json *out) {
    planning *p = ask->spare;
    double start_ms;
    int east_min;
    memset(p, 0, sizeof *p);
    bf_status status = read_plan(ask, p);
    if (!status) status = bfi_ask_instant(ask, "start", &start_ms, &east_min);
    if (!status) json_plan(out, ask, p, start_ms, east_min);
    return status;
}

/* ---- Analysing ---- */

typedef struct found {
    bf_trial trial;
    plan_line line;
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
    char note[NOTE_BYTES];
    for (int i = 0; i < fold->n_live; i++) {
        const bf_live *live = &fold->live[i];
        if (live->is_crossed || (live->kind != BF_OPEN && live->kind != BF_NOTE)) continue;
        plan_line line;
        bfi_entry_note(a->ask, i, note, sizeof note);
        if (!read_line(note, &line)) continue;
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
    bfi_put(pen, a->target->line.b);
    bfi_put(pen, a->measure == BF_TRIAL_FISH ? " fish came " : " bites came ");
    bfi_put_ratio(pen, (bf_banded){e->ratio, e->lower, e->upper});
    bfi_put(pen, " times as often as with ");
    bfi_put(pen, a->target->line.a);
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
    put_power(pen, n_side, dispersion);
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
    bfi_json_text(out, name);
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
    char id[33], line[NOTE_BYTES];
    bfi_pen pen = bfi_pen_open(line, sizeof line);
    bf_id_write(a->ask->fold->session[a->target->trial.session].id, id);
    put_line(&pen, &a->target->line);
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
    return sizeof(planning) > sizeof(analysis) ? sizeof(planning) : sizeof(analysis);
}

static bf_status answer(bfi_ask *ask, bfi_json *out) {
    return bf_json_find(&ask->json, 0, "plan") >= 0 ? answer_plan(ask, out) : answer_analysis(ask, out);
}

const bfi_ask_verb bfi_trial_verb = {"trial", spare_bytes, answer};
