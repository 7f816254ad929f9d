/* cmd_next.c -- next: what to do next, and why; once, or as the journal grows. */
#define _POSIX_C_SOURCE 200809L

#include <math.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>

#include "cli/show.h"
#include "cli/swim_request.h"
#include "cli/when.h"

/* ---- For people ---- */

static void show_line(const char *what, const char *text) {
    char first[24];
    if (!text[0]) return;
    snprintf(first, sizeof first, "  %-11s", what);
    cli_show_wrapped(first, text);
}

/* "2026-03-23T11:42:07..." -> "11:42" */
static void clock_of(const bf_json *json, int object, const char *key, char clock[6]) {
    char at[64];
    cli_text(json, object, key, at, sizeof at);
    snprintf(clock, 6, "%.5s", strlen(at) > 16 ? at + 11 : "");
}

static void show_action(const bf_json *json) {
    char text[512], line[600], clock[6];
    int action = cli_object_at(json, 0, "action"), either = cli_object_at(json, 0, "either");
    int kept = bf_json_find(json, 0, "kept");
    printf("\nNext\n");
    cli_show_wrapped("  ", cli_text(json, action, "text", text, sizeof text));
    if (either >= 0) {
        snprintf(line, sizeof line, "either, your call: %s",
                 cli_text(json, either, "text", text, sizeof text));
        cli_show_wrapped("  ", line);
    }
    if (kept >= 0 && bf_json_kind_of(json, kept) == BF_JSON_TRUE)
        cli_show_wrapped("  ", "It stays what was said before: nothing else is clearly better.");
    clock_of(json, action, "look_again", clock);
    show_line("look again", clock);
}

static void show_worth(const bf_json *json) {
    static const struct {
        const char *key, *what;
    } said[] = {{"hour", "brings"}, {"gain", "gain"}, {"odds", "odds"}};
    char text[512];
    for (size_t i = 0; i < sizeof said / sizeof said[0]; i++)
        show_line(said[i].what,
                  cli_text(json, cli_object_at(json, 0, said[i].key), "text", text, sizeof text));
}

/* The texts of a list, under a heading; what stands below `beside` behind each. */
static void show_list(const bf_json *json, const char *key, const char *heading, const char *beside) {
    char text[512], more[256], line[800];
    int list = bf_json_find(json, 0, key);
    int first = list < 0 ? -1 : bf_json_first(json, list);
    if (first < 0) return;
    printf("\n%s\n", heading);
    for (int i = first; i >= 0; i = bf_json_next(json, i)) {
        cli_text(json, i, "text", text, sizeof text);
        if (beside) cli_text(json, cli_object_at(json, i, beside), "text", more, sizeof more);
        snprintf(line, sizeof line, "%s%s%s", text, beside ? ": " : "", beside ? more : "");
        cli_show_wrapped("  - ", line);
    }
}

void cli_show_next(const bf_json *json) {
    char text[512];
    cli_show_swim_head(json);
    printf("\nKnown\n");
    cli_show_swim_known(json);
    if (cli_object_at(json, 0, "action") >= 0) {
        show_action(json);
        show_worth(json);
        show_list(json, "reasons", "Because", NULL);
        show_list(json, "others", "Why not", "behind");
        show_list(json, "changes_if", "Would change it", NULL);
        fputc('\n', stdout);
        cli_show_wrapped("", cli_text(json, 0, "what", text, sizeof text));
        cli_show_wrapped("", cli_text(json, 0, "grounds_text", text, sizeof text));
    }
    fputc('\n', stdout);
    cli_show_notes(json, 0);
}

/* ---- One advice ---- */

/* What was said last, so that it does not flap. */
typedef struct said {
    char *action; /* as JSON; NULL: nothing yet */
    char text[512];
    double look_ms; /* the next look */
} said;

static cli_exit keep_said(const cli_command *command, const bf_json *json, said *last) {
    char look[BF_INSTANT_BYTES];
    int action = cli_object_at(json, 0, "action"), east_min;
    size_t n;
    free(last->action);
    last->action = NULL;
    last->text[0] = 0;
    last->look_ms = INFINITY;
    if (action < 0) return CLI_OK;
    const char *raw = bf_json_raw(json, action, &n);
    last->action = malloc(n + 1);
    if (!last->action) return cli_say(command, CLI_INTERNAL, "out of memory.");
    memcpy(last->action, raw, n);
    last->action[n] = 0;
    cli_text(json, action, "text", last->text, sizeof last->text);
    cli_text(json, action, "look_again", look, sizeof look);
    if (bf_instant_read(look, strlen(look), &last->look_ms, &east_min)) last->look_ms = INFINITY;
    return CLI_OK;
}

/* Asks, and shows it; only_new: unless it says the same as last time. */
static cli_exit advise(const cli_command *command, const cli_args *args, cli_swim *swim, said *last,
                       int only_new) {
    size_t n;
    char before[sizeof last->text];
    cli_answer answer = {.text = NULL};
    char *json = cli_request_json(&swim->request, &n);
    if (!json) return cli_say(command, CLI_INTERNAL, "out of memory.");
    cli_exit code = cli_ask_journal(command, swim->journal, "next", json, n, &answer);
    free(json);
    if (code == CLI_OK && cli_object_at(&answer.json, 0, "session") < 0)
        code = cli_say(command, CLI_NOTHING, "there is no session in this journal.");
    strcpy(before, last->text);
    if (code == CLI_OK) code = keep_said(command, &answer.json, last);
    int is_new = !only_new || strcmp(before, last->text) != 0;
    if (code == CLI_OK && is_new && args->option[OPT_JSON])
        puts(answer.text);
    else if (code == CLI_OK && is_new)
        cli_show_next(&answer.json);
    if (fflush(stdout) != 0 && code == CLI_OK) code = CLI_INTERNAL;
    cli_answer_free(&answer);
    return code;
}

static cli_exit put_given(const cli_command *command, cli_swim *swim, const said *last) {
    return last->action ? cli_put(command, &swim->request, "given", last->action, CLI_AS_JSON) : CLI_OK;
}

/* ---- As lines come ---- */

#define MOST_LINES 50000
#define MOST_TEXT ((size_t)25 << 20)

static bf_journal *room_for_lines(void) {
    void *memory = malloc(bf_journal_bytes(MOST_LINES, MOST_TEXT));
    return memory ? bf_journal_start(memory, MOST_LINES, MOST_TEXT) : NULL;
}

/* 1 when the line is a new question. */
static int take_line(const cli_command *command, bf_journal *journal, const char *line, size_t n,
                     int number) {
    bf_taken taken;
    bf_error error;
    while (n > 0 && (line[n - 1] == '\n' || line[n - 1] == '\r')) n--;
    if (n == 0) return 0;
    if (bf_take(journal, line, n, &taken, &error) != BF_OK) {
        cli_disarm(error.text);
        (void)cli_say(command, CLI_OK, "line %d is left out: %s", number, error.text);
        return 0;
    }
    return taken == BF_TAKEN_NEW && bf_journal_events(journal)[bf_journal_n(journal) - 1].kind == BF_ASK;
}

/* Lines from standard input; each `ask` is answered, as of its own instant. */
static cli_exit follow_lines(const cli_command *command, const cli_args *args) {
    static cli_swim swim;
    said last = {.action = NULL};
    bf_journal *journal = room_for_lines();
    char *line = NULL;
    size_t room = 0;
    ssize_t n;
    cli_exit code = journal ? CLI_OK : cli_say(command, CLI_INTERNAL, "out of memory.");
    for (int number = 1; code == CLI_OK && (n = getline(&line, &room, stdin)) >= 0; number++) {
        if (!take_line(command, journal, line, (size_t)n, number)) continue;
        memset(&swim, 0, sizeof swim);
        swim.journal = journal;
        code = put_given(command, &swim, &last);
        if (code == CLI_OK) code = cli_put_swim(command, args, &swim);
        if (code == CLI_OK) code = advise(command, args, &swim, &last, 0);
        swim.journal = NULL;
        cli_swim_free(&swim);
    }
    free(line);
    free(last.action);
    free(journal);
    return code;
}

/* ---- As the journal grows ---- */

#define LOOK_EVERY_S 2

static volatile sig_atomic_t is_over;

static void end_it(int signal_number) {
    (void)signal_number;
    is_over = 1;
}

static void end_on_signals(void) {
    struct sigaction action = {.sa_handler = end_it};
    sigemptyset(&action.sa_mask);
    (void)sigaction(SIGINT, &action, NULL);
    (void)sigaction(SIGTERM, &action, NULL);
}

/* What tells that a file has changed; of the database its entries do. */
static double stamp_of(const cli_args *args) {
    struct stat at;
    if (args->n_words == 0 || stat(args->word[0], &at) != 0) return NAN;
    return (double)at.st_size + (double)at.st_mtim.tv_sec + 1e-9 * (double)at.st_mtim.tv_nsec;
}

static cli_exit look_once(const cli_command *command, const cli_args *args, said *last, uint64_t *hash,
                          int *is_closed) {
    static cli_swim swim;
    memset(&swim, 0, sizeof swim);
    cli_exit code = put_given(command, &swim, last);
    if (code == CLI_OK) code = cli_put_swim(command, args, &swim);
    const bf_session *session = code == CLI_OK ? cli_swim_session(&swim) : NULL;
    uint64_t now = code == CLI_OK ? bf_journal_fold(swim.journal)->hash : *hash;
    int is_due = cli_now().ms >= last->look_ms;
    *is_closed = session && session->closed_ms == session->closed_ms;
    if (code == CLI_OK && (now != *hash || is_due)) code = advise(command, args, &swim, last, *hash != 0);
    *hash = now;
    cli_swim_free(&swim);
    return code;
}

/* Until the session is closed, or a signal comes. */
static cli_exit follow_journal(const cli_command *command, const cli_args *args) {
    said last = {.action = NULL, .look_ms = INFINITY};
    uint64_t hash = 0;
    double stamp = NAN;
    int is_closed = 0;
    cli_exit code = CLI_OK;
    end_on_signals();
    while (code == CLI_OK && !is_over && !is_closed) {
        double now = stamp_of(args);
        if (!(now == stamp) || cli_now().ms >= last.look_ms)
            code = look_once(command, args, &last, &hash, &is_closed);
        stamp = now;
        if (code == CLI_OK && !is_closed && !is_over)
            (void)nanosleep(&(struct timespec){.tv_sec = LOOK_EVERY_S}, NULL);
    }
    free(last.action);
    return code;
}

/* ---- The command ---- */

static cli_exit advise_once(const cli_command *command, const cli_args *args) {
    static cli_swim swim;
    said last = {.action = NULL};
    cli_exit code = cli_put_swim(command, args, &swim);
    if (code == CLI_OK) code = advise(command, args, &swim, &last, 0);
    cli_swim_free(&swim);
    free(last.action);
    return code;
}

cli_exit cli_next(const cli_command *command, const cli_args *args) {
    if (!args->option[OPT_FOLLOW]) return advise_once(command, args);
    if (args->option[OPT_AT])
        return cli_say(command, CLI_USAGE, "--follow is about what comes, --at about an instant: name one.");
    int is_lines = args->n_words == 1 && strcmp(args->word[0], "-") == 0;
    return is_lines ? follow_lines(command, args) : follow_journal(command, args);
}
