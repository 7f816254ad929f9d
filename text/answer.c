/* answer.c -- see baitfall/answer.h: finds the verb of a command and lays out its memory. */
#include "baitfall/answer.h"

#include <string.h>

#include "core/base/room.h"
#include "text/work.h"

static const bfi_verb *const verbs[] = {&bfi_plan_verb, &bfi_peg_day_verb, &bfi_measure_verb,
                                        &bfi_catalogue_verb, &bfi_form_verb};
#define N_VERBS ((int)(sizeof verbs / sizeof verbs[0]))

static const bfi_verb *find_verb(const char *name, const bf_command **command) {
    *command = bf_command_find(name, strlen(name));
    if (*command) return &bfi_scene_verb;
    for (int i = 0; i < N_VERBS; i++)
        if (strcmp(verbs[i]->name, name) == 0) return verbs[i];
    return NULL;
}

/* ---- Memory: the work struct, then tokens, own, spare and rows ---- */

typedef struct layout {
    size_t tokens, own, spare, rows, end;
} layout;

static layout layout_of(const bfi_verb *verb, const bf_command *command) {
    layout l;
    l.tokens = bfi_room(sizeof(bfi_work));
    l.own = l.tokens + bfi_room(bf_json_bytes(BFI_TOKENS_MOST));
    l.spare = l.own + bfi_room(verb->own_bytes(command));
    l.rows = l.spare + bfi_room(verb->spare_bytes(command));
    l.end = l.rows + (verb->rows_bytes ? verb->rows_bytes(command) : 0);
    return l;
}

size_t bf_work_bytes(const char *name) {
    const bf_command *command;
    const bfi_verb *verb = find_verb(name, &command);
    return verb ? layout_of(verb, command).end : 0;
}

size_t bf_state_bytes(const char *name) {
    const bf_command *command;
    const bfi_verb *verb = find_verb(name, &command);
    return verb ? layout_of(verb, command).rows : 0;
}

/* ---- Options ---- */

int bfi_option(const bfi_work *work, const char *key) {
    return bf_json_find(&work->json, 0, key);
}

static bf_status read_whole(bfi_work *work, const char *key, double least, double most, double start,
                            double *number) {
    static const bf_field field = {.kind = BF_REAL, .dimension = BF_PURE};
    int value = bfi_option(work, key);
    bf_field asked = field;
    bf_quantity got;
    asked.least = least;
    asked.most = most;
    *number = start;
    if (value < 0) return BF_OK;
    bf_status status = bfi_read_quantity(&work->json, value, key, &asked, &got, &work->error);
    if (status) return status;
    if (got.value != (double)(int64_t)got.value)
        return bfi_fail(&work->error, BF_E_TYPE, key, &work->json, value, "a whole number");
    *number = got.value;
    return BF_OK;
}

bf_status bfi_read_options(bfi_work *work, int draws_start) {
    double seed, draws;
    bf_status status = read_whole(work, "seed", 0, BFI_SEED_MOST, 1, &seed);
    if (!status) status = read_whole(work, "draws", 16, BF_DRAWS_MOST, draws_start, &draws);
    if (status) return status;
    work->seed = (uint64_t)seed;
    work->n_draws = (int)draws;
    return BF_OK;
}

bf_status bfi_read_truth(bfi_work *work, const char *key, int *truth) {
    int value = bfi_option(work, key);
    *truth = 0;
    if (value < 0) return BF_OK;
    bf_json_kind kind = bf_json_kind_of(&work->json, value);
    if (kind != BF_JSON_TRUE && kind != BF_JSON_FALSE)
        return bfi_fail(&work->error, BF_E_TYPE, key, &work->json, value, "true or false");
    *truth = kind == BF_JSON_TRUE;
    return BF_OK;
}

/* ---- The calls ---- */

static bf_status read_request(bfi_work *work, const char *json, size_t n_json, void *tokens) {
    bf_json_fault fault;
    bf_status status = bf_json_read(json, n_json, tokens, BFI_TOKENS_MOST, &work->json, &fault);
    if (status) return bfi_fail_json(&work->error, "The request", &work->json, &fault);
    return work->verb->begin(work);
}

bf_status bf_begin(void *memory, const char *name, const char *json, size_t n_json, int *n_items,
                   int *n_columns) {
    const bf_command *command;
    const bfi_verb *verb = find_verb(name, &command);
    *n_items = *n_columns = 0;
    if (!verb) return BF_E_CHOICE;
    layout l = layout_of(verb, command);
    bfi_work *work = memory;
    work->verb = verb;
    work->command = command;
    work->names.n = 0;
    work->error = (bf_error){BF_OK, "", "", "", ""};
    work->n_items = work->n_columns = work->n_ready = 0;
    work->own = (char *)memory + l.own;
    work->spare = (char *)memory + l.spare;
    bf_status status = read_request(work, json, n_json, (char *)memory + l.tokens);
    BF_ASSERT(status == work->error.status);
    if (status) work->n_items = work->n_columns = 0;
    *n_items = work->n_items;
    *n_columns = work->n_columns;
    return status;
}

int bf_next(void *memory, const double *rows, int n_done) {
    bfi_work *work = memory;
    BF_ASSERT(0 <= n_done && n_done < work->n_items);
    int next = work->verb->next ? work->verb->next(work, rows, n_done) : work->n_items;
    BF_ASSERT(n_done < next && next <= work->n_items);
    work->n_ready = next;
    return next;
}

size_t bf_scratch_bytes(const void *memory) {
    const bfi_work *work = memory;
    return work->n_items ? work->verb->scratch_bytes(work) : 0;
}

bf_status bf_range_rows(const void *memory, void *scratch, int i, int j, double *rows) {
    const bfi_work *work = memory;
    BF_ASSERT(0 <= i && i <= j && j <= work->n_ready);
    if (i < j) work->verb->range(work, scratch, i, j, rows);
    return BF_OK;
}

static bf_status put_error(const bf_error *error, char *out, size_t out_most, size_t *n_out) {
    bf_status status = bfi_json_error(error, out, out_most, n_out);
    return status ? status : error->status;
}

bf_status bf_finish(void *memory, const double *rows, char *out, size_t out_most, size_t *n_out) {
    bfi_work *work = memory;
    if (work->error.status) return put_error(&work->error, out, out_most, n_out);
    bfi_json json = bfi_json_open(out, out_most);
    bfi_json_object(&json);
    bfi_json_key_real(&json, "schema", 1);
    bfi_json_key_text(&json, "command", work->command ? work->command->name : work->verb->name);
    bf_status status = work->verb->finish(work, rows, &json);
    if (status) return put_error(&work->error, out, out_most, n_out);
    bfi_json_close(&json);
    status = bfi_json_done(&json, n_out);
    if (!status) return BF_OK;
    bfi_fail(&work->error, status, "", NULL, -1, "more space for the answer");
    return put_error(&work->error, out, out_most, n_out);
}

static bf_status refuse_command(const char *name, char *out, size_t out_most, size_t *n_out) {
    bf_error error = {.status = BF_E_CHOICE, .field = "command"};
    bfi_pen pen = bfi_pen_open(error.accepted, sizeof error.accepted);
    for (int i = 0; i < bf_n_commands; i++) {
        bfi_put(&pen, bf_commands[i].name);
        bfi_put(&pen, ", ");
    }
    for (int i = 0; i < N_VERBS; i++) {
        bfi_put(&pen, verbs[i]->name);
        bfi_put(&pen, i + 2 < N_VERBS ? ", " : i + 1 < N_VERBS ? " or " : "");
    }
    char cut[48];
    bfi_cut(cut, sizeof cut, name, strlen(name));
    pen = bfi_pen_open(error.text, sizeof error.text);
    bfi_put(&pen, "There is no command \"");
    bfi_put(&pen, cut);
    bfi_put(&pen, "\"; accepted is ");
    bfi_put(&pen, error.accepted);
    bfi_put(&pen, ".");
    return put_error(&error, out, out_most, n_out);
}

bf_status bf_answer_within(void *memory, double *rows, size_t n_rows_most, const char *name, const char *json,
                           size_t n_json, char *out, size_t out_most, size_t *n_out) {
    int n_items, n_columns;
    bf_status status = bf_begin(memory, name, json, n_json, &n_items, &n_columns);
    if (status == BF_E_CHOICE && bf_state_bytes(name) == 0) return refuse_command(name, out, out_most, n_out);
    bfi_work *work = memory;
    if (!status && (size_t)n_items * (size_t)n_columns > n_rows_most)
        bfi_fail(&work->error, BF_E_SPACE, "draws", NULL, -1, "fewer of them here");
    else
        for (int done = 0, next; !status && done < n_items; done = next) {
            next = bf_next(memory, rows, done);
            status = bf_range_rows(memory, work->spare, done, next, rows + (size_t)done * (size_t)n_columns);
        }
    BF_ASSERT(!status || work->error.status);
    return bf_finish(memory, rows, out, out_most, n_out);
}

bf_status bf_answer(void *memory, const char *name, const char *json, size_t n_json, char *out,
                    size_t out_most, size_t *n_out) {
    size_t state = bf_state_bytes(name), n_rows = (bf_work_bytes(name) - state) / sizeof(double);
    double *rows = n_rows ? (void *)((char *)memory + state) : NULL; // of no command there may be no memory
    return bf_answer_within(memory, rows, n_rows, name, json, n_json, out, out_most, n_out);
}
