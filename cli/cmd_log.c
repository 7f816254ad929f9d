/* cmd_log.c -- `baitfall log`: its parts, and the journal shown: entries, one entry with its history, sessions. */
#define _POSIX_C_SOURCE 200809L

#include <stdlib.h>
#include <string.h>

#include "cli/log.h"
#include "cli/request.h"
#include "cli/show.h"
#include "cli/when.h"

#define ROWS_AT_ONCE 1000 /* the most that the question `log` gives */

/* ---- Sessions ---- */

const char *cli_log_place(const bf_stored_session *session, char out[160]) {
    snprintf(out, 160, "%s%s%s", session->venue[0] ? session->venue : "a session without a venue",
             session->peg[0] ? ", peg " : "", session->peg);
    cli_disarm(out);
    return out;
}

static int keep_last(void *to, const bf_stored_session *session) {
    *(bf_stored_session *)to = *session;
    return 0;
}

cli_exit cli_log_session(const cli_command *command, const cli_args *args, bf_store *store, bf_id *session) {
    bf_stored_session found = {.n_events = 0};
    bf_store_error error;
    int is_named;
    cli_exit code = cli_named_session(command, args, store, session, &is_named);
    if (code != CLI_OK || is_named) return code;
    bf_store_what what = bf_store_open_session(store, &found, &error);
    if (what == BF_STORE_ABSENT) what = bf_store_sessions(store, keep_last, &found, &error);
    if (what != BF_STORE_OK) return cli_say_store(command, &error);
    if (found.n_events == 0) return cli_say(command, CLI_NOTHING, "the journal is empty.");
    *session = found.id;
    return CLI_OK;
}

static int print_session(void *to, const bf_stored_session *s) {
    char hex[33], when[CLI_WHEN_BYTES] = "all crossed out", place[160];
    int *n = to;
    bf_id_write(s->id, hex);
    ++*n;
    if (s->opened_ms == s->opened_ms) cli_say_when(s->opened_ms, s->east_min, when);
    printf("  %.8s  ", hex);
    cli_show_padded(when, 34);
    cli_show_padded(cli_log_place(s, place), 28);
    printf("%4d fish %4d missed %4d lost %4d foul %5d entries%s\n", s->count[BF_LANDED], s->count[BF_MISSED],
           s->count[BF_LOST], s->count[BF_FOUL], s->n_events, s->closed_ms == s->closed_ms ? "" : "  open");
    return 0;
}

static void print_ms(const char *key, double ms, int east_min) {
    char instant[BF_INSTANT_BYTES];
    if (ms == ms) bf_instant_write(ms, east_min, instant);
    printf(ms == ms ? ",\"%s\":\"%s\"" : ",\"%s\":null", key, instant);
}

static int print_session_json(void *to, const bf_stored_session *s) {
    char hex[33];
    int *n = to;
    bf_id_write(s->id, hex);
    printf("%s{\"id\":\"%s\",\"venue\":", (*n)++ ? "," : "", hex);
    cli_write_string(stdout, s->venue);
    fputs(",\"peg\":", stdout);
    cli_write_string(stdout, s->peg);
    print_ms("opened", s->opened_ms, s->east_min);
    print_ms("closed", s->closed_ms, s->east_min);
    for (int i = 0; i < BF_N_OUTCOMES; i++)
        printf(",\"%s\":%d", i == BF_TOUCHED ? "touch" : bf_outcome_words[i], s->count[i]);
    printf(",\"n_events\":%d}", s->n_events);
    return 0;
}

cli_exit cli_log_sessions(const cli_command *command, const cli_args *args) {
    bf_store *store = NULL;
    bf_store_error error;
    int n = 0, is_json = args->option[OPT_JSON] != NULL;
    if (args->n_words > 1) return cli_say(command, CLI_USAGE, "sessions takes no words.");
    cli_exit code = cli_open_store(command, args, 0, &store);
    if (code != CLI_OK) return code;
    if (is_json) fputs("{\"schema\":1,\"command\":\"log\",\"sessions\":[", stdout);
    if (bf_store_sessions(store, is_json ? print_session_json : print_session, &n, &error) != BF_STORE_OK)
        code = cli_say_store(command, &error);
    if (is_json) puts("]}");
    if (code == CLI_OK && n == 0) code = cli_say(command, CLI_NOTHING, "the journal is empty.");
    bf_store_close(store);
    return code;
}

/* ---- Rows ---- */

static int truth_at(const bf_json *json, int object, const char *key) {
    int value = bf_json_find(json, object, key);
    return value >= 0 && bf_json_kind_of(json, value) == BF_JSON_TRUE;
}

static int number_at(const bf_json *json, int object, const char *key) {
    double number = 0;
    int value = bf_json_find(json, object, key);
    if (value < 0 || bf_json_kind_of(json, value) != BF_JSON_NUMBER ||
        bf_json_number(json, value, &number) != BF_OK)
        return 0;
    return (int)number;
}

/* "  3f9a21c0  11:42:07  Missed   long, hard six, wait 2:10" and what else there is to know. */
static void print_row(const bf_json *json, int row) {
    char text[1024];
    int n_fixes = number_at(json, row, "n_fixes");
    printf("  %.8s  ", cli_text(json, row, "id", text, sizeof text));
    printf("%s  ", cli_text(json, row, "at_text", text, sizeof text));
    cli_show_padded(cli_text(json, row, "word", text, sizeof text), 9);
    fputs(cli_text(json, row, "detail", text, sizeof text), stdout);
    if (cli_text(json, row, "note", text, sizeof text)[0]) printf("  \"%s\"", text);
    if (truth_at(json, row, "is_crossed")) fputs("  (crossed out)", stdout);
    if (n_fixes > 0) printf("  (fixed%s)", n_fixes > 1 ? " more than once" : "");
    if (truth_at(json, row, "is_late")) fputs("  (entered later)", stdout);
    if (truth_at(json, row, "is_clash")) fputs("  (another entry has its id)", stdout);
    putchar('\n');
}

/* One page of a session's rows. */
static cli_exit ask_rows(const cli_command *command, bf_journal *journal, bf_id session, int before,
                         cli_answer *answer) {
    char request[128], hex[33];
    bf_id_write(session, hex);
    int n = snprintf(request, sizeof request, "{\"session\":\"%s\",\"most\":%d,\"before\":%d}", hex,
                     ROWS_AT_ONCE, before);
    return cli_ask_journal(command, journal, "log", request, (size_t)n, answer);
}

static void print_rows(const cli_args *args, const cli_answer *answer) {
    int rows = bf_json_find(&answer->json, 0, "rows");
    if (args->option[OPT_JSON]) {
        puts(answer->text);
        return;
    }
    for (int row = bf_json_first(&answer->json, rows); row >= 0; row = bf_json_next(&answer->json, row))
        print_row(&answer->json, row);
}

static void print_head(const bf_stored_session *session) {
    char when[CLI_WHEN_BYTES], place[160];
    printf("%s, %s\n", cli_log_place(session, place),
           session->opened_ms == session->opened_ms
               ? cli_say_when(session->opened_ms, session->east_min, when)
               : "all crossed out");
}

/* ---- list ---- */

typedef struct listing {
    const cli_command *command;
    const cli_args *args;
    bf_store *store;
    const bf_id *only; /* NULL: every session */
    int n_sessions;
    cli_exit code;
} listing;

static cli_exit list_rows(const listing *l, bf_journal *journal, bf_id session) {
    int n = 1;
    cli_exit code = CLI_OK;
    for (int before = 0; code == CLI_OK && before < n; before += ROWS_AT_ONCE) {
        cli_answer answer;
        code = ask_rows(l->command, journal, session, before, &answer);
        if (code == CLI_OK) {
            n = number_at(&answer.json, 0, "n");
            print_rows(l->args, &answer);
        }
        cli_answer_free(&answer);
    }
    return code;
}

static int list_session(void *to, const bf_stored_session *session) {
    listing *l = to;
    bf_store_error error;
    bf_journal *journal = NULL;
    if (l->only && bf_id_order(session->id, *l->only) != 0) return 0;
    if (!l->args->option[OPT_JSON]) {
        if (l->n_sessions++) putchar('\n');
        print_head(session);
    }
    if (bf_store_load(l->store, &session->id, &journal, &error) != BF_STORE_OK)
        l->code = cli_say_store(l->command, &error);
    else
        l->code = list_rows(l, journal, session->id);
    free(journal);
    return l->code != CLI_OK;
}

cli_exit cli_log_list(const cli_command *command, const cli_args *args) {
    listing l = {.command = command, .args = args, .code = CLI_OK};
    bf_store_error error;
    bf_id session;
    if (args->n_words > 1)
        return cli_say(command, CLI_USAGE,
                       "list takes no words; --session names a session, --all lists every one.");
    cli_exit code = cli_open_store(command, args, 0, &l.store);
    if (code == CLI_OK) code = cli_log_session(command, args, l.store, &session);
    if (code == CLI_OK) {
        l.only = args->option[OPT_ALL] ? NULL : &session;
        if (bf_store_sessions(l.store, list_session, &l, &error) != BF_STORE_OK)
            code = cli_say_store(command, &error);
    }
    bf_store_close(l.store);
    return code == CLI_OK ? l.code : code;
}

/* ---- show ---- */

/* 1 when a line belongs to the history of an entry: it has its id, or corrects it. */
static int is_about(const bf_event *event, bf_id id) {
    return bf_id_order(event->id, id) == 0 ||
           (bf_event_is_correction(event->kind) && bf_id_order(event->of, id) == 0);
}

static void print_lines(const bf_journal *journal, bf_id id, int is_json) {
    const bf_event *events = bf_journal_events(journal);
    const char *between = "";
    for (int i = 0; i < bf_journal_n(journal); i++) {
        size_t n;
        if (!is_about(&events[i], id)) continue;
        char *line = strdup(bf_journal_line(journal, i, &n));
        if (!line) continue;
        if (!is_json) cli_disarm(line);
        printf(is_json ? "%s%s" : "%s  %s\n", between, line);
        between = is_json ? "," : "";
        free(line);
    }
}

/* The row of an entry among the rows of its session, -1 on this page. */
static int find_row(const bf_json *json, bf_id id) {
    char hex[33];
    bf_id_write(id, hex);
    int rows = bf_json_find(json, 0, "rows");
    for (int row = bf_json_first(json, rows); row >= 0; row = bf_json_next(json, row)) {
        int value = bf_json_find(json, row, "id");
        if (bf_json_is(json, value, hex)) return row;
    }
    return -1;
}

/* What the entry is now. A correction is no row of its own: its lines tell. */
static cli_exit print_entry(const cli_command *command, const cli_args *args, bf_journal *journal,
                            bf_id session, bf_id id) {
    int n = 1, row = -1;
    cli_exit code = CLI_OK;
    if (args->option[OPT_JSON]) fputs("{\"schema\":1,\"command\":\"log\",\"entry\":", stdout);
    for (int before = 0; code == CLI_OK && row < 0 && before < n; before += ROWS_AT_ONCE) {
        cli_answer answer;
        code = ask_rows(command, journal, session, before, &answer);
        if (code == CLI_OK) {
            size_t length;
            n = number_at(&answer.json, 0, "n");
            row = find_row(&answer.json, id);
            const char *raw = row >= 0 ? bf_json_raw(&answer.json, row, &length) : NULL;
            if (raw && args->option[OPT_JSON])
                fwrite(raw, 1, length, stdout);
            else if (raw)
                print_row(&answer.json, row);
        }
        cli_answer_free(&answer);
    }
    if (row < 0 && args->option[OPT_JSON]) fputs("null", stdout);
    return code;
}

cli_exit cli_log_show(const cli_command *command, const cli_args *args) {
    bf_store *store = NULL;
    bf_store_error error;
    bf_journal *journal = NULL;
    bf_id id, session;
    int is_json = args->option[OPT_JSON] != NULL;
    if (args->n_words != 2) return cli_say(command, CLI_USAGE, "name one entry by the beginning of its id.");
    cli_exit code = cli_open_store(command, args, 0, &store);
    if (code == CLI_OK) code = cli_find_entry(command, store, args->word[1], &id, &session);
    if (code == CLI_OK && bf_store_load(store, &session, &journal, &error) != BF_STORE_OK)
        code = cli_say_store(command, &error);
    if (code == CLI_OK) code = print_entry(command, args, journal, session, id);
    if (code == CLI_OK) {
        fputs(is_json ? ",\"lines\":[" : "\nIts lines, as they came in:\n", stdout);
        print_lines(journal, id, is_json);
        fputs(is_json ? "]}\n" : "", stdout);
    }
    free(journal);
    bf_store_close(store);
    return code;
}

/* ---- The parts ---- */

static const struct {
    const char *word;
    cli_log_part run;
} parts[] = {{"add", cli_log_add},           {"list", cli_log_list},     {"show", cli_log_show},
             {"sessions", cli_log_sessions}, {"cross", cli_log_cross},   {"restore", cli_log_restore},
             {"fix", cli_log_fix},           {"import", cli_log_import}, {"export", cli_log_export},
             {"check", cli_log_check},       {"backup", cli_log_backup}};

cli_exit cli_log(const cli_command *command, const cli_args *args) {
    cli_nearest nearest = {NULL, 0};
    for (size_t i = 0; args->n_words > 0 && i < sizeof parts / sizeof parts[0]; i++) {
        if (strcmp(args->word[0], parts[i].word) == 0) return parts[i].run(command, args);
        cli_consider(&nearest, args->word[0], parts[i].word);
    }
    return cli_say(command, CLI_USAGE,
                   "say first what to do: add, list, show, sessions, cross, restore, fix, import, export, "
                   "check or backup%s%s%s",
                   nearest.word ? "; did you mean '" : ".", nearest.word ? nearest.word : "",
                   nearest.word ? "'?" : "");
}
