/* trial_plan.c -- a trial planned: the turns that the lot decides, the line to enter, and what it could find. The request:
 * trial.c. */
#include <math.h>
#include <string.h>

#include "text/planned.h"
#include "text/read.h"

/* ---- The line ---- */

void bfi_put_plan_line(bfi_pen *pen, const bfi_plan_line *line) {
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

int bfi_read_plan_line(const char *note, bfi_plan_line *line) {
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

void bfi_put_trial_power(bfi_pen *pen, double n_side_a_day, double dispersion) {
    bfi_put(pen, "one such day finds a difference of ");
    bfi_put_times(pen, bf_trial_least_ratio(n_side_a_day, dispersion));
    bfi_put(pen, " or more, 8 times in 10; 1.2 times takes ");
    put_days(pen, n_side_a_day, dispersion);
}

/* ---- Planning ---- */

typedef struct planning {
    bf_trial_wish wish;
    bfi_plan_line line;
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
        bfi_json_text(out, bf_bait_name(bf_trial_is_b(plan, i) ? p->line.b : p->line.a));
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
    bfi_put_trial_power(&told.pen, per_h * kept_h(plan), 1);
    bfi_put(&told.pen, ", which are analysed together.");
    bfi_json_text(out, told.text);
}

static void json_plan(bfi_json *out, const bfi_ask *ask, const planning *p, double start_ms, int east_min) {
    char line[BFI_PLAN_BYTES];
    bfi_pen pen = bfi_pen_open(line, sizeof line);
    bfi_put_plan_line(&pen, &p->line);
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

bf_status bfi_answer_trial_plan(bfi_ask *ask, bfi_json *out) {
    planning *p = ask->spare;
    double start_ms;
    int east_min;
    memset(p, 0, sizeof *p);
    bf_status status = read_plan(ask, p);
    if (!status) status = bfi_ask_instant(ask, "start", &start_ms, &east_min);
    if (!status) json_plan(out, ask, p, start_ms, east_min);
    return status;
}

size_t bfi_trial_plan_bytes(void) {
    return sizeof(planning);
}
