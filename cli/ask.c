/* ask.c -- one question to the core, its draws shared among all processors. */
#define _POSIX_C_SOURCE 200809L

#include "cli/ask.h"

#include <pthread.h>
#include <stdatomic.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "baitfall/answer.h"
#include "baitfall/bait.h"

#define MOST_THREADS 64
#define ANSWER_BYTES                                                                                         \
    (4u << 20) /* two drawings take 64 KiB each at most, a plan's answer less than a mebibyte */

/* Rows that all threads share: each takes the next few items that nobody has yet, since some cost much more than others. */
#define TURNS 256 /* of each thread, about */

typedef struct shared {
    cli_range range;
    const void *work;
    int end, n_columns, at_a_time;
    double *rows;
    atomic_int next; /* item nobody has yet */
} shared;

typedef struct part {
    pthread_t thread;
    int has_thread;
    shared *of;
    void *scratch;
    bf_status status;
} part;

static void *compute(void *with) {
    part *mine = with;
    shared *of = mine->of;
    while (!mine->status) {
        int from = atomic_fetch_add(&of->next, of->at_a_time);
        if (from >= of->end) break;
        int to = of->end - from < of->at_a_time ? of->end : from + of->at_a_time;
        mine->status =
            of->range(of->work, mine->scratch, from, to, of->rows + (size_t)from * (size_t)of->n_columns);
    }
    return NULL;
}

static int n_processors(void) {
    long n = sysconf(_SC_NPROCESSORS_ONLN);
    return n < 1 ? 1 : n > MOST_THREADS ? MOST_THREADS : (int)n;
}

/* All rows. A thread that cannot be started leaves its items to the others: the answer does not depend on the cut. */
bf_status cli_compute_rows(cli_range range, const void *work, size_t scratch_bytes, int from, int to,
                           int n_columns, double *rows) {
    part parts[MOST_THREADS] = {0};
    int n = n_processors();
    shared all = {.range = range,
                  .work = work,
                  .end = to,
                  .n_columns = n_columns,
                  .at_a_time = 1 + (to - from) / (TURNS * n),
                  .rows = rows,
                  .next = from};
    bf_status status = BF_OK;
    size_t each = (scratch_bytes + 63) / 64 * 64;
    char *scratch = aligned_alloc(64, each * (size_t)n);
    if (!scratch) return BF_E_SPACE;
    for (int p = 0; p < n; p++) {
        part *mine = &parts[p];
        mine->of = &all;
        mine->scratch = scratch + each * (size_t)p;
        mine->has_thread = p > 0 && pthread_create(&mine->thread, NULL, compute, mine) == 0;
    }
    compute(&parts[0]);
    for (int p = 0; p < n; p++) {
        if (parts[p].has_thread) pthread_join(parts[p].thread, NULL);
        if (!status) status = parts[p].status;
    }
    free(scratch);
    return status;
}

/* Rows of a question that was begun, a round after the other; *rows is to be freed. */
static bf_status compute_answer(void *work, int n_items, int n_columns, double **rows) {
    size_t scratch_bytes = bf_scratch_bytes(work);
    *rows = malloc((size_t)n_items * (size_t)n_columns * sizeof **rows);
    bf_status status = *rows ? BF_OK : BF_E_SPACE;
    for (int done = 0, next; !status && done < n_items; done = next) {
        next = bf_next(work, *rows, done);
        status = cli_compute_rows(bf_range_rows, work, scratch_bytes, done, next, n_columns, *rows);
    }
    return status;
}

/* Everything between a request and the bytes of its answer; *text is NULL when memory ran out. */
static bf_status put_question(const char *name, const char *request, size_t n_request, char **text,
                              size_t *n) {
    int n_items, n_columns;
    double *rows = NULL;
    void *work = aligned_alloc(64, (bf_state_bytes(name) + 63) / 64 * 64);
    *text = malloc(ANSWER_BYTES);
    bf_status status = work && *text ? BF_OK : BF_E_SPACE;
    if (!status && bf_begin(work, name, request, n_request, &n_items, &n_columns) == BF_OK && n_items > 0)
        status = compute_answer(work, n_items, n_columns, &rows);
    if (status) {
        free(*text);
        *text = NULL;
    } else {
        status = bf_finish(work, rows, *text, ANSWER_BYTES, n);
    }
    free(rows);
    free(work);
    return status;
}

static cli_exit read_answer(const cli_command *command, cli_answer *answer) {
    bf_json_fault fault;
    int most_tokens = (int)(answer->n / 2) + 1; /* a token takes a byte and a comma at least */
    answer->tokens = malloc(bf_json_bytes(most_tokens));
    if (!answer->tokens) return cli_say(command, CLI_INTERNAL, "out of memory.");
    if (bf_json_read(answer->text, answer->n, answer->tokens, most_tokens, &answer->json, &fault))
        return cli_say(command, CLI_INTERNAL, "the core's answer is not well-formed.");
    return CLI_OK;
}

/* 1 when a field of a request ("time_s[1]") is what an option gives ("time"). */
static int is_given_by(const char *field, const char *path) {
    size_t n = strlen(path);
    if (strncmp(field, path, n) != 0) return 0;
    field += n;
    if (*field == '_') field += 1 + strcspn(field + 1, "_["); /* its unit */
    return *field == 0 || *field == '[';
}

/* The core speaks of fields; who typed an option of another name is told that one first. */
static cli_exit say_error(const cli_command *command, const bf_json *json) {
    char sentence[1024], field[128];
    int error = bf_json_find(json, 0, "error");
    cli_text(json, error, "text", sentence, sizeof sentence);
    cli_text(json, error, "field", field, sizeof field);
    for (int i = 0; i < CLI_N_OPTIONS; i++) {
        const cli_option *option = &cli_options[i];
        int is_here = (option->groups & command->groups) && option->path;
        if (is_here && strcmp(option->name, field) != 0 && is_given_by(field, option->path))
            return cli_say(command, CLI_BAD_INPUT, "--%s: %s", option->name, sentence);
    }
    return cli_say(command, CLI_BAD_INPUT, "%s", sentence);
}

cli_exit cli_read_answer(const cli_command *command, bf_status status, cli_answer *answer) {
    if (!answer->text || !answer->n) return cli_say(command, CLI_INTERNAL, "out of memory.");
    cli_exit code = read_answer(command, answer);
    if (code != CLI_OK || !status) return code;
    return say_error(command, &answer->json);
}

cli_exit cli_ask(const cli_command *command, const char *name, const char *request, size_t n,
                 cli_answer *answer) {
    *answer = (cli_answer){0};
    bf_status status = put_question(name, request, n, &answer->text, &answer->n);
    return cli_read_answer(command, status, answer);
}

void cli_answer_free(cli_answer *answer) {
    free(answer->text);
    free(answer->tokens);
    *answer = (cli_answer){0};
}

/* U+200E, U+200F, U+2028 to U+202E, U+2066 to U+2069 in UTF-8: marks that turn or break a line of text. */
static int turns_text(const unsigned char *c) {
    if (c[0] != 0xe2) return 0;
    if (c[1] == 0x80) return c[2] == 0x8e || c[2] == 0x8f || (c[2] >= 0xa8 && c[2] <= 0xae);
    return c[1] == 0x81 && c[2] >= 0xa6 && c[2] <= 0xa9;
}

void cli_disarm(char *text) {
    for (unsigned char *c = (unsigned char *)text; *c; c++) {
        int n = *c < 0x20 || *c == 0x7f                       ? 1
                : c[0] == 0xc2 && c[1] >= 0x80 && c[1] < 0xa0 ? 2
                : turns_text(c)                               ? 3
                                                              : 0;
        for (int i = 0; i < n; i++) c[i] = '?';
    }
}

const char *cli_text(const bf_json *json, int object, const char *key, char *out, size_t most) {
    int value = object >= 0 ? bf_json_find(json, object, key) : -1;
    out[0] = 0;
    if (value < 0 || bf_json_kind_of(json, value) != BF_JSON_STRING) return out;
    bf_status is_cut = bf_json_string(json, value, out, most); /* before a character */
    (void)is_cut;
    cli_disarm(out);
    return out;
}

const char *cli_bait_text(const bf_json *json, int object, const char *key, char *out, size_t most) {
    const char *name = bf_bait_name(cli_text(json, object, key, out, most));
    if (name != out) snprintf(out, most, "%s", name);
    return out;
}
