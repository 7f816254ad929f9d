/* ask.c -- questions about a journal: finds the verb, reads the request, lays out the memory; and what the
 * verbs share. See baitfall/journal.h and record.h. */
#include <string.h>

#include "baitfall/advise.h"
#include "baitfall/predict.h"
#include "core/base/room.h"
#include "text/read.h"
#include "text/record.h"

#define ASK_TOKENS 16384 /* keys and values of a request; a thousand choices of a rehearsal fit */

static const bfi_ask_verb *const verbs[] = {&bfi_bank_verb,     &bfi_log_verb,      &bfi_peg_verb,
                                            &bfi_review_verb,   &bfi_season_verb,   &bfi_trial_verb,
                                            &bfi_bed_verb,      &bfi_foretell_verb, &bfi_next_verb,
                                            &bfi_rehearse_verb, &bfi_otherwise_verb};
#define N_VERBS ((int)(sizeof verbs / sizeof verbs[0]))

static const bfi_ask_verb *find_verb(const char *name) {
    for (int i = 0; i < N_VERBS; i++)
        if (strcmp(verbs[i]->name, name) == 0) return verbs[i];
    return NULL;
}

/* ---- Memory: bfi_ask, then tokens, then the verb's own ---- */

static size_t tokens_at(void) {
    return bfi_room(sizeof(bfi_ask));
}

static size_t spare_at(void) {
    return tokens_at() + bfi_room(bf_json_bytes(ASK_TOKENS));
}

size_t bf_ask_state_bytes(const bf_journal *journal, const char *question) {
    const bfi_ask_verb *verb = find_verb(question);
    if (!verb) return 0;
    return spare_at() + (verb->spare_bytes ? bfi_room(verb->spare_bytes(journal)) : 0);
}

/* The largest job that is answered in one call: the start's sets and particles, every mark and ledger interval, and spots
 * and sizes of feed enough. */
typedef struct plain_job {
    bf_swim_scene scene;
    bf_swim_event mark[BF_BELIEF_MOST_MARKS];
    bf_belief_job job;
} plain_job;

static const bf_belief_job *plain_job_in(plain_job *plain) {
    bf_story_start_scene(&plain->scene, BF_SWIM_MOST_SPOTS, BF_SWIM_MOST_FEEDS, BF_SWIM_MOST_HOOKS);
    for (int i = 0; i < BF_SWIM_MOST_FEEDS; i++) plain->scene.feed[i].diameter_m = 0.001 * (i + 1);
    for (int i = 0; i < BF_BELIEF_MOST_MARKS; i++) plain->mark[i] = (bf_swim_event){.kind = BF_SWIM_MARK};
    plain->job = (bf_belief_job){.scene = &plain->scene,
                                 .event = plain->mark,
                                 .n_events = BF_BELIEF_MOST_MARKS,
                                 .n_ledger = BF_BELIEF_MOST_LEDGER,
                                 .n_sets = BF_BELIEF_SETS,
                                 .n_particles = BF_BELIEF_PARTICLES,
                                 .n_drawn = BF_ADVISE_DRAWN};
    return &plain->job;
}

static int columns_of(const bf_belief_job *job, int foretells) {
    return foretells ? bf_predict_columns(job) : bf_belief_columns(job);
}

static size_t scratch_bytes(const bf_belief_job *job, int foretells) {
    return foretells ? bf_predict_scratch_bytes(job) : bf_belief_scratch_bytes(job);
}

static size_t rows_bytes(const bf_belief_job *job, int foretells) {
    return bfi_room((size_t)job->n_sets * (size_t)columns_of(job, foretells) * sizeof(double));
}

static size_t job_bytes(const bf_belief_job *job, int foretells) {
    return rows_bytes(job, foretells) + bfi_room(scratch_bytes(job, foretells));
}

static size_t plain_bytes(void) {
    plain_job plain;
    return job_bytes(plain_job_in(&plain), 0);
}

size_t bf_ask_bytes(const bf_journal *journal, const char *question) {
    const bfi_ask_verb *verb = find_verb(question);
    return bf_ask_state_bytes(journal, question) + (verb && verb->begin ? plain_bytes() : 0);
}

/* ---- One question ---- */

static bf_status put_error(const bf_error *error, char *out, size_t out_most, size_t *n_out) {
    bf_status status = bfi_json_error(error, out, out_most, n_out);
    return status ? status : error->status;
}

static bf_status refuse_question(const char *question, char *out, size_t out_most, size_t *n_out) {
    bf_error error;
    const char *names[N_VERBS + 1] = {0};
    char accepted[sizeof error.accepted];
    bfi_pen pen = bfi_pen_open(accepted, sizeof accepted);
    for (int i = 0; i < N_VERBS; i++) names[i] = verbs[i]->name;
    bfi_put_words(&pen, names);
    bfi_fail(&error, BF_E_CHOICE, "question", NULL, -1, accepted);
    bfi_json value = bfi_json_open(error.value, sizeof error.value);
    char cut[48];
    bfi_cut(cut, sizeof cut, question, strlen(question));
    bfi_json_text(&value, cut);
    pen = bfi_pen_open(error.text, sizeof error.text);
    bfi_put(&pen, "There is no question ");
    bfi_put(&pen, error.value);
    bfi_put(&pen, "; accepted is ");
    bfi_put(&pen, accepted);
    bfi_put(&pen, ".");
    return put_error(&error, out, out_most, n_out);
}

/* Only an error is kept when there is no such question. */
static bf_status begin_question(bf_journal *journal, bfi_ask *ask, const char *question, const char *json,
                                size_t n_json) {
    bf_json_fault fault;
    char *work = (char *)ask;
    *ask = (bfi_ask){.verb = find_verb(question), .journal = journal, .fold = bf_journal_fold(journal)};
    ask->spare = work + spare_at();
    ask->turnaround = bf_turnaround_of(ask->fold);
    bf_status status = bf_json_read(json, n_json, work + tokens_at(), ASK_TOKENS, &ask->json, &fault);
    if (status) return bfi_fail_json(&ask->error, "The request", &ask->json, &fault);
    status = ask->verb->begin ? ask->verb->begin(ask) : BF_OK;
    BF_ASSERT(status == ask->error.status);
    return status;
}

static bf_status answer(bfi_ask *ask, bfi_json *out) {
    bfi_json_object(out);
    bfi_json_key_real(out, "schema", 1);
    bfi_json_key_text(out, "command", ask->verb->name);
    bf_status status = ask->verb->answer(ask, out);
    BF_ASSERT(status == ask->error.status);
    if (!status) bfi_json_close(out);
    return status;
}

bf_status bf_ask_begin(bf_journal *journal, void *work, const char *question, const char *json, size_t n_json,
                       int *n_items, int *n_columns) {
    bfi_ask *ask = work;
    BF_ASSERT(find_verb(question));
    bf_status status = begin_question(journal, ask, question, json, n_json);
    if (status) ask->job = NULL;
    *n_items = ask->job ? ask->job->n_sets : 0;
    *n_columns = ask->job ? columns_of(ask->job, ask->foretells) : 0;
    return status;
}

static const bf_belief_job *job_of(const void *work) {
    const bfi_ask *ask = work;
    BF_ASSERT(ask->job);
    return ask->job;
}

size_t bf_ask_scratch_bytes(const void *work) {
    const bfi_ask *ask = work;
    return scratch_bytes(job_of(work), ask->foretells);
}

void bf_ask_range(const void *work, void *scratch, int i, int j, double *rows) {
    const bfi_ask *ask = work;
    if (ask->foretells)
        bf_predict_rows(job_of(work), i, j, scratch, rows);
    else
        bf_belief_rows(job_of(work), i, j, scratch, rows);
}

bf_status bf_ask_finish(void *work, const double *rows, char *out, size_t out_most, size_t *n_out) {
    bfi_ask *ask = work;
    if (ask->error.status) return put_error(&ask->error, out, out_most, n_out);
    ask->rows = rows;
    bfi_json written = bfi_json_open(out, out_most);
    if (answer(ask, &written)) return put_error(&ask->error, out, out_most, n_out);
    bf_status status = bfi_json_done(&written, n_out);
    if (!status) return BF_OK;
    bfi_fail(&ask->error, status, "", NULL, -1, "more space for the answer");
    return put_error(&ask->error, out, out_most, n_out);
}

static void refuse_job(bfi_ask *ask) {
    char accepted[96];
    bfi_pen pen = bfi_pen_open(accepted, sizeof accepted);
    bfi_put_number(&pen, BF_BELIEF_SETS, 0);
    bfi_put(&pen, " sets of ");
    bfi_put_number(&pen, BF_BELIEF_PARTICLES, 0);
    bfi_put(&pen, " particles, or as much in other numbers");
    bfi_ask_fail(ask, BF_E_SPACE, "sets", accepted);
}

/* Behind the question's state: rows, then scratch. */
static void compute_all(bfi_ask *ask, char *room, double **rows) {
    const bf_belief_job *job = ask->job;
    *rows = NULL;
    if (!job) return;
    if (job_bytes(job, ask->foretells) > plain_bytes()) {
        refuse_job(ask);
        return;
    }
    *rows = (double *)(void *)room;
    bf_ask_range(ask, room + rows_bytes(job, ask->foretells), 0, job->n_sets, *rows);
}

bf_status bf_ask(bf_journal *journal, void *work, const char *question, const char *json, size_t n_json,
                 char *out, size_t out_most, size_t *n_out) {
    int n_items, n_columns;
    double *rows;
    if (!find_verb(question)) return refuse_question(question, out, out_most, n_out);
    bf_status status = bf_ask_begin(journal, work, question, json, n_json, &n_items, &n_columns);
    (void)status; // bf_ask_finish says it
    compute_all(work, (char *)work + bf_ask_state_bytes(journal, question), &rows);
    return bf_ask_finish(work, rows, out, out_most, n_out);
}

/* ---- Snapshots ---- */

int bf_ask_moments(const void *work, bf_ask_moment *moment) {
    const bf_belief_job *job = job_of(work);
    int n = 0;
    for (double t_s = BF_BELIEF_GRID_S; t_s <= job->until_s && n < BF_ASK_MOST_MOMENTS;
         t_s += BF_BELIEF_GRID_S)
        moment[n++] = (bf_ask_moment){t_s, bf_belief_key(job, t_s)};
    return n;
}

size_t bf_ask_snapshot_bytes(const void *work) {
    return bf_belief_snapshot_bytes(job_of(work));
}

int bf_ask_fits(const void *work, const void *snapshot) {
    return bf_belief_fits(job_of(work), snapshot);
}

void bf_ask_range_from(const void *work, int i, int j, const void *snapshots, void *saved, double save_at_s,
                       void *scratch, double *rows) {
    bf_belief_rows_from(job_of(work), i, j, snapshots, saved, save_at_s, scratch, rows);
}

/* ---- Requests ---- */

bf_status bfi_ask_fail(bfi_ask *ask, bf_status status, const char *key, const char *accepted) {
    return bfi_fail(&ask->error, status, key, &ask->json, bf_json_find(&ask->json, 0, key), accepted);
}

bf_status bfi_ask_only(bfi_ask *ask, const char *const *keys) {
    for (int key = bf_json_first(&ask->json, 0); key >= 0; key = bf_json_next(&ask->json, key)) {
        int i = 0;
        while (keys[i] && !bf_json_is(&ask->json, key, keys[i])) i++;
        if (keys[i]) continue;
        char path[128], accepted[sizeof ask->error.accepted];
        bfi_pen pen = bfi_pen_open(accepted, sizeof accepted);
        bf_json_path(&ask->json, key, path, sizeof path);
        bfi_put_words(&pen, keys);
        return bfi_fail(&ask->error, BF_E_KEY, path, &ask->json, -1, accepted);
    }
    return BF_OK;
}

bf_status bfi_ask_text(bfi_ask *ask, const char *key, char *out, size_t most) {
    int value = bf_json_find(&ask->json, 0, key);
    out[0] = 0;
    if (value < 0) return BF_OK;
    if (bf_json_kind_of(&ask->json, value) != BF_JSON_STRING)
        return bfi_ask_fail(ask, BF_E_TYPE, key, "text");
    bf_status status = bf_json_string(&ask->json, value, out, most);
    (void)status; // cut is what was asked for
    return BF_OK;
}

bf_status bfi_ask_instant(bfi_ask *ask, const char *key, double *ms, int *east_min) {
    char text[BF_INSTANT_BYTES];
    *ms = BF_NAN;
    *east_min = 0;
    bf_status status = bfi_ask_text(ask, key, text, sizeof text);
    if (status || bf_json_find(&ask->json, 0, key) < 0) return status;
    status = bf_instant_read(text, strlen(text), ms, east_min);
    return status ? bfi_ask_fail(ask, status, key, "an instant such as 2026-04-12T09:31:05.120+01:00")
                  : BF_OK;
}

bf_status bfi_ask_number(bfi_ask *ask, const char *key, double least, double most, double start,
                         double *number) {
    bf_field field = {.name = key, .kind = BF_REAL, .least = least, .most = most};
    int value = bf_json_find(&ask->json, 0, key);
    bf_quantity got;
    *number = start;
    if (value < 0) return BF_OK;
    bf_status status = bfi_read_quantity(&ask->json, value, key, &field, &got, &ask->error);
    if (!status) *number = got.value;
    return status;
}

/* A session whose events were not all crossed out. */
static int is_there(const bf_session *session) {
    return session->last_ms == session->last_ms;
}

static int session_of_id(const bf_fold *fold, bf_id id) {
    for (int s = 0; s < fold->n_sessions; s++)
        if (bf_id_order(fold->session[s].id, id) == 0) return s;
    return -1;
}

int bfi_ask_session(bfi_ask *ask) {
    const bf_fold *fold = ask->fold;
    char text[40];
    bf_id id;
    if (bfi_ask_text(ask, "session", text, sizeof text)) return -1;
    if (bf_json_find(&ask->json, 0, "session") >= 0) {
        bf_status status = bf_id_read(text, strlen(text), &id);
        int found = status ? -1 : session_of_id(fold, id);
        if (status)
            bfi_ask_fail(ask, status, "session", "32 hex digits");
        else if (found < 0)
            bfi_ask_fail(ask, BF_E_CHOICE, "session", "the id of a session in this journal");
        return found;
    }
    int open = bf_fold_open_session(fold);
    if (open >= 0) return open;
    int last = fold->n_sessions - 1;
    return last >= 0 && is_there(&fold->session[last]) ? last : -1;
}

/* ---- Words for people ---- */

static void put_two(bfi_pen *pen, int value) {
    const char text[2] = {(char)('0' + value / 10), (char)('0' + value % 10)};
    bfi_put_bytes(pen, text, 2);
}

void bfi_put_clock(bfi_pen *pen, double ms, int east_min, int with_seconds) {
    int hour, minute, second;
    if (ms > BF_INSTANT_MOST_MS) ms = BF_INSTANT_MOST_MS; // reckoned onward from the last instant there is
    bf_instant_clock(ms, east_min, &hour, &minute, &second);
    put_two(pen, hour);
    bfi_put(pen, ":");
    put_two(pen, minute);
    if (!with_seconds) return;
    bfi_put(pen, ":");
    put_two(pen, second);
}

void bfi_put_since(bfi_pen *pen, double s) {
    int whole_s = s > 0 ? (int)(s < 1e9 ? s : 1e9) : 0;
    if (whole_s < 600) {
        bfi_put_number(pen, whole_s / 60, 0);
        bfi_put(pen, ":");
        put_two(pen, whole_s % 60);
    } else if (whole_s < 6000) {
        bfi_put_number(pen, whole_s / 60, 0);
        bfi_put(pen, " min");
    } else {
        bfi_put_number(pen, (whole_s + 1800) / 3600, 0); // 100 min is nearer to 2 h
        bfi_put(pen, " h");
    }
}
