/* rehearsal.c -- see rehearsal.h. */
#define _POSIX_C_SOURCE 200809L

#include "cli/rehearsal.h"

#include <stdlib.h>
#include <string.h>

#include "cli/show.h"

static cli_exit no_memory(const cli_rehearsal *r) {
    return cli_say(r->command, CLI_INTERNAL, "out of memory.");
}

double cli_rehearse_now_s(const cli_rehearsal *r) {
    return r->answer.text ? cli_number_at(&r->answer.json, 0, "now_s") : r->until_s;
}

/* ---- The request, which is the file too ---- */

/* All members but the closing brace. */
static void write_request(FILE *to, const cli_rehearsal *r, double until_s) {
    fprintf(to, "{\"rehearsal\":1,\"seed\":%s,\"until_s\":%.17g,\n\"setup\":%s,\n\"choices\":[", r->seed,
            until_s, r->setup);
    for (int i = 0; i < r->n_choices; i++) fprintf(to, "%s\n%s", i ? "," : "", r->choice[i]);
    fputc(']', to);
}

static char *request_text(const cli_rehearsal *r, double until_s, const char *extra, size_t *n) {
    char *text = NULL;
    FILE *to = open_memstream(&text, n);
    if (!to) return NULL;
    write_request(to, r, until_s);
    fprintf(to, "%s%s}\n", extra[0] ? "," : "", extra);
    if (fclose(to) == 0) return text;
    free(text);
    return NULL;
}

static char *copied(const bf_json *json, int value) {
    size_t n;
    const char *text = bf_json_raw(json, value, &n);
    return strndup(text, n);
}

/* The core may answer with the setup as it is from then on. */
static cli_exit keep_setup(cli_rehearsal *r, const bf_json *json) {
    int value = cli_object_at(json, 0, "setup");
    if (value < 0) return CLI_OK;
    char *setup = copied(json, value);
    if (!setup) return no_memory(r);
    free(r->setup);
    r->setup = setup;
    return CLI_OK;
}

/* Of a choice that was just said no more than the field: "bait is ..."; the path is of use in a file alone. */
static cli_exit refuse(const cli_rehearsal *r, const cli_answer *answer) {
    char text[1024];
    cli_text(&answer->json, cli_object_at(&answer->json, 0, "error"), "text", text, sizeof text);
    const char *body = strstr(text, "body.");
    int is_choice = r->answer.text && body && strncmp(text, "choices[", strlen("choices[")) == 0;
    return cli_say(r->command, CLI_BAD_INPUT, "%s", is_choice ? body + strlen("body.") : text);
}

/* The core needs no journal for it. */
static cli_exit put(const cli_rehearsal *r, const char *request, size_t n, cli_answer *answer) {
    void *memory = malloc(bf_journal_bytes(1, 1));
    if (!memory) return no_memory(r);
    bf_status status = cli_put_question(bf_journal_start(memory, 1, 1), "rehearse", request, n, answer);
    free(memory);
    cli_exit code = cli_read_answer(r->command, BF_OK, answer);
    return code == CLI_OK && status ? refuse(r, answer) : code;
}

cli_exit cli_rehearse_ask(cli_rehearsal *r, double until_s, const char *extra) {
    cli_answer answer = {.text = NULL};
    size_t n;
    char *request = request_text(r, until_s, extra, &n);
    cli_exit code = request ? put(r, request, n, &answer) : no_memory(r);
    free(request);
    if (code == CLI_OK) code = keep_setup(r, &answer.json);
    if (code == CLI_OK) {
        cli_answer_free(&r->answer);
        r->answer = answer;
        r->until_s = cli_number_at(&answer.json, 0, "now_s");
    } else {
        cli_answer_free(&answer);
    }
    return code;
}

/* ---- Choices ---- */

static cli_exit add(cli_rehearsal *r, double t_s, const char *members) {
    char *text = NULL;
    size_t n;
    if (r->n_choices == CLI_MOST_CHOICES)
        return cli_say(r->command, CLI_NO, "a rehearsal has %d choices at most; `end` ends it.",
                       CLI_MOST_CHOICES);
    FILE *to = open_memstream(&text, &n);
    if (!to) return no_memory(r);
    fprintf(to, "{\"t_s\":%.17g,%s}", t_s, members);
    if (fclose(to) != 0) {
        free(text);
        return no_memory(r);
    }
    r->choice[r->n_choices++] = text;
    return CLI_OK;
}

static void drop_last(cli_rehearsal *r) {
    free(r->choice[--r->n_choices]);
}

cli_exit cli_rehearse_choose(cli_rehearsal *r, const char *members) {
    double now_s = cli_rehearse_now_s(r);
    cli_exit code = add(r, now_s, members);
    if (code != CLI_OK) return code;
    code = cli_rehearse_ask(r, now_s, "");
    if (code != CLI_OK) drop_last(r);
    return code == CLI_OK ? cli_rehearse_save(r) : code;
}

/* The instant of a choice. */
static double instant_of(const char *choice) {
    const char *t_s = strstr(choice, "\"t_s\":");
    return t_s ? strtod(t_s + strlen("\"t_s\":"), NULL) : 0;
}

cli_exit cli_rehearse_undo(cli_rehearsal *r) {
    if (!r->n_choices) return cli_say(r->command, CLI_NO, "nothing was chosen yet.");
    double t_s = instant_of(r->choice[r->n_choices - 1]);
    drop_last(r);
    cli_exit code = cli_rehearse_ask(r, t_s, "");
    r->n_shown = 0;
    return code == CLI_OK ? cli_rehearse_save(r) : code;
}

static cli_exit add_wait(cli_rehearsal *r, double from_s, double for_s) {
    char members[96];
    snprintf(members, sizeof members, "\"kind\":\"wait\",\"for_s\":%.17g", for_s);
    return add(r, from_s, members);
}

/* A choice like any other, so that a bite before it does not end it; kept as of as long as it lasted. */
cli_exit cli_rehearse_wait(cli_rehearsal *r, double for_s) {
    double from_s = cli_rehearse_now_s(r);
    cli_exit code = add_wait(r, from_s, for_s);
    if (code != CLI_OK) return code;
    code = cli_rehearse_ask(r, from_s + for_s, "\"until_bite\":true");
    drop_last(r);
    if (code == CLI_OK) code = add_wait(r, from_s, cli_rehearse_now_s(r) - from_s);
    return code == CLI_OK ? cli_rehearse_save(r) : code;
}

/* ---- Questions to its journal ---- */

static char *lines_of(const cli_rehearsal *r, size_t *n) {
    static char line[BF_LINE_MOST + 1];
    char *text = NULL;
    const bf_json *json = &r->answer.json;
    int list = bf_json_find(json, 0, "lines");
    FILE *to = open_memstream(&text, n);
    if (!to) return NULL;
    for (int i = bf_json_first(json, list); i >= 0; i = bf_json_next(json, i))
        if (bf_json_string(json, i, line, sizeof line) == BF_OK) fprintf(to, "%s\n", line);
    if (fclose(to) == 0) return text;
    free(text);
    return NULL;
}

/* What of the setup such a question takes, and the instant. */
static char *question_text(const cli_rehearsal *r, size_t *n) {
    static const char *const keys[] = {"plan", "kit", "learned", "objective", "target_kg"};
    char *text = NULL, now[64];
    int most_tokens = (int)strlen(r->setup) / 2 + 2;
    void *tokens = malloc(bf_json_bytes(most_tokens));
    bf_json setup;
    bf_json_fault fault;
    FILE *to = tokens ? open_memstream(&text, n) : NULL;
    if (!to || bf_json_read(r->setup, strlen(r->setup), tokens, most_tokens, &setup, &fault)) {
        if (to) fclose(to);
        free(tokens);
        return text;
    }
    fprintf(to, "{\"now\":\"%s\"", cli_text(&r->answer.json, 0, "now", now, sizeof now));
    for (size_t k = 0; k < sizeof keys / sizeof keys[0]; k++) {
        int value = bf_json_find(&setup, 0, keys[k]);
        size_t n_raw;
        const char *raw = value >= 0 ? bf_json_raw(&setup, value, &n_raw) : NULL;
        if (raw) fprintf(to, ",\"%s\":%.*s", keys[k], (int)n_raw, raw);
    }
    fputc('}', to);
    free(tokens);
    if (fclose(to) == 0) return text;
    free(text);
    return NULL;
}

cli_exit cli_rehearse_question(cli_rehearsal *r, const char *question, cli_answer *answer) {
    size_t n_lines, n;
    bf_journal *journal = NULL;
    char *lines = lines_of(r, &n_lines), *request = question_text(r, &n);
    *answer = (cli_answer){.text = NULL};
    cli_exit code = lines && request ? cli_load_lines(r->command, lines, n_lines, &journal) : no_memory(r);
    if (code == CLI_OK) code = cli_ask_journal(r->command, journal, question, request, n, answer);
    free(journal);
    free(lines);
    free(request);
    return code;
}

/* ---- Its file ---- */

cli_exit cli_rehearse_save(cli_rehearsal *r) {
    size_t n;
    if (!r->file) return CLI_OK;
    char *text = request_text(r, r->until_s, "", &n);
    if (!text) return no_memory(r);
    cli_exit code = cli_write_file(r->command, r->file, text, n, r->may_replace);
    free(text);
    if (code == CLI_OK) r->may_replace = 1;
    return code;
}

static cli_exit load_members(cli_rehearsal *r, const char *path, const bf_json *json) {
    int setup = cli_object_at(json, 0, "setup"), choices = bf_json_find(json, 0, "choices");
    double version = cli_number_at(json, 0, "rehearsal"), seed = cli_number_at(json, 0, "seed");
    if (version != 1)
        return cli_say(
            r->command, CLI_BAD_INPUT,
            "%s is no rehearsal that this program knows: it does not begin with \"rehearsal\":1. A plan is "
            "rehearsed with --plan %s.",
            path, path);
    r->setup = setup >= 0 ? copied(json, setup) : strdup("{}");
    if (!r->setup) return no_memory(r);
    snprintf(r->seed, sizeof r->seed, "%.0f", seed >= 0 ? seed : 1);
    r->until_s = cli_number_at(json, 0, "until_s");
    if (!(r->until_s >= 0)) r->until_s = 0;
    int is_array = choices >= 0 && bf_json_kind_of(json, choices) == BF_JSON_ARRAY;
    for (int i = is_array ? bf_json_first(json, choices) : -1; i >= 0; i = bf_json_next(json, i)) {
        if (r->n_choices == CLI_MOST_CHOICES)
            return cli_say(r->command, CLI_BAD_INPUT, "%s has more than %d choices.", path, CLI_MOST_CHOICES);
        r->choice[r->n_choices] = copied(json, i);
        if (!r->choice[r->n_choices++]) return no_memory(r);
    }
    return CLI_OK;
}

cli_exit cli_rehearse_load(cli_rehearsal *r, const char *path, const char *text, size_t n) {
    bf_json json;
    bf_json_fault fault;
    int most_tokens = (int)(n / 2) + 2;
    void *tokens = malloc(bf_json_bytes(most_tokens));
    if (!tokens) return no_memory(r);
    bf_status status = bf_json_read(text, n, tokens, most_tokens, &json, &fault);
    cli_exit code = status ? cli_say(r->command, CLI_BAD_INPUT, "%s %s: at byte %zu there should be %s.",
                                     path, bf_status_words(status), fault.at + 1, fault.wanted)
                           : load_members(r, path, &json);
    free(tokens);
    return code;
}

void cli_rehearse_free(cli_rehearsal *r) {
    cli_answer_free(&r->answer);
    while (r->n_choices) drop_last(r);
    free(r->setup);
    r->setup = NULL;
}
