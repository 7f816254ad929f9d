/* log_show.c -- the journal shown: a session's entries, and one entry with its history. The whole journal is read each time: how long a
 * wait was, and when a net was over, also depends on what was learned on other days. */
#define _POSIX_C_SOURCE 200809L

#include <stdlib.h>
#include <string.h>

#include "cli/log.h"
#include "cli/log_rows.h"
#include "cli/when.h"

static cli_exit load(const cli_command *command, bf_store *store, bf_journal **journal) {
    bf_store_error error;
    return bf_store_load(store, NULL, journal, &error) == BF_STORE_OK ? CLI_OK
                                                                      : cli_say_store(command, &error);
}

/* ---- list ---- */

typedef struct listing {
    const cli_command *command;
    bf_journal *journal;
    const bf_id *only; /* NULL: every session */
    int is_json, n_sessions;
    cli_exit code;
} listing;

static void print_head(const bf_stored_session *session) {
    char when[CLI_WHEN_BYTES], place[160];
    printf("%s, %s\n", cli_log_place(session, place),
           session->opened_ms == session->opened_ms
               ? cli_say_when(session->opened_ms, session->east_min, when)
               : "all crossed out");
}

/* The pages of a session are one answer: the rows of all of them, between what stands before and behind the rows of the last. */
static void print_json_page(const cli_answer *answer, int is_first, int is_last) {
    size_t n;
    const char *rows = bf_json_raw(&answer->json, bf_json_find(&answer->json, 0, "rows"), &n);
    if (!is_first) putchar(',');
    fwrite(rows + 1, 1, n - 2, stdout);
    if (is_last) fputs(rows + n - 1, stdout);
}

static void print_json_head(const listing *l, const bf_stored_session *session) {
    char hex[33];
    bf_id_write(session->id, hex);
    if (l->only)
        fputs("{\"schema\":1,\"command\":\"log\",\"rows\":[", stdout);
    else
        printf("%s{\"session\":\"%s\",\"rows\":[", l->n_sessions ? "," : "", hex);
}

static int list_session(void *to, const bf_stored_session *session) {
    listing *l = to;
    int n = 1;
    if (l->only && bf_id_order(session->id, *l->only) != 0) return 0;
    if (l->is_json) print_json_head(l, session);
    if (!l->is_json && l->n_sessions) putchar('\n');
    if (!l->is_json) print_head(session);
    l->n_sessions++;
    for (int before = 0, is_first = 1; l->code == CLI_OK && before < n; is_first = 0) {
        cli_answer answer;
        l->code = cli_ask_rows(l->command, l->journal, session->id, &before, &answer, &n);
        if (l->code == CLI_OK && l->is_json) print_json_page(&answer, is_first, before >= n);
        if (l->code == CLI_OK && !l->is_json) cli_print_rows(&answer.json);
        cli_answer_free(&answer);
    }
    return l->code != CLI_OK;
}

static cli_exit list_sessions(listing *l, bf_store *store) {
    bf_store_error error;
    int has_frame = l->is_json && !l->only;
    if (has_frame) fputs("{\"schema\":1,\"command\":\"log\",\"sessions\":[", stdout);
    if (bf_store_sessions(store, list_session, l, &error) != BF_STORE_OK)
        return cli_say_store(l->command, &error);
    if (has_frame) fputs("]}", stdout);
    if (l->is_json) putchar('\n');
    return l->code;
}

cli_exit cli_log_list(const cli_command *command, const cli_args *args) {
    listing l = {.command = command, .is_json = args->option[OPT_JSON] != NULL, .code = CLI_OK};
    bf_store *store = NULL;
    bf_id session;
    if (args->n_words > 1 || (args->option[OPT_ALL] && args->option[OPT_SESSION]))
        return cli_say(command, CLI_USAGE,
                       "list takes no words; --session names a session, --all lists every one.");
    cli_exit code = cli_open_store(command, args, BF_STORE_TO_READ, &store);
    if (code == CLI_OK) code = cli_some_session(command, args, store, &session);
    if (code == CLI_OK) code = load(command, store, &l.journal);
    if (code == CLI_OK) {
        l.only = args->option[OPT_ALL] ? NULL : &session;
        code = list_sessions(&l, store);
    }
    free(l.journal);
    bf_store_close(store);
    return code;
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

/* What the entry is now. A correction is no row of its own: its lines tell. */
static cli_exit print_entry(const cli_command *command, const cli_args *args, bf_journal *journal,
                            bf_id session, bf_id id) {
    cli_answer answer;
    size_t length;
    int row, is_json = args->option[OPT_JSON] != NULL;
    cli_exit code = cli_ask_row(command, journal, session, id, &answer, &row);
    const char *raw = row >= 0 ? bf_json_raw(&answer.json, row, &length) : NULL;
    if (is_json) fputs("{\"schema\":1,\"command\":\"log\",\"entry\":", stdout);
    if (raw && is_json)
        fwrite(raw, 1, length, stdout);
    else if (raw)
        cli_print_row(&answer.json, row);
    else if (is_json)
        fputs("null", stdout);
    cli_answer_free(&answer);
    return code;
}

cli_exit cli_log_show(const cli_command *command, const cli_args *args) {
    bf_store *store = NULL;
    bf_journal *journal = NULL;
    bf_id id, session;
    int is_last, is_json = args->option[OPT_JSON] != NULL;
    if (args->n_words != 2)
        return cli_say(command, CLI_USAGE, "name one entry by the beginning of its id, or `last`.");
    cli_exit code = cli_is_last(command, args, &is_last);
    if (code == CLI_OK) code = cli_open_store(command, args, BF_STORE_TO_READ, &store);
    if (code == CLI_OK)
        code = is_last ? cli_last_entry(command, args, store, &id, &session)
                       : cli_find_entry(command, store, args->word[1], &id, &session);
    if (code == CLI_OK) code = load(command, store, &journal);
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
