/* asked.c -- see asked.h. */
#define _POSIX_C_SOURCE 200809L

#include "cli/asked.h"

#include <string.h>
#include <unistd.h>

/* A word that is no "-" and no file there is the beginning of a session's id. */
static int is_file(const char *word) {
    return strcmp(word, "-") == 0 || access(word, F_OK) == 0;
}

static int is_hex(const char *word) {
    size_t n = strlen(word);
    return n > 0 && n <= 32 && strspn(word, "0123456789abcdef") == n;
}

/* As JSON: 32 digits in quotes. */
static void write_session(bf_id session, char id[35]) {
    bf_id_write(session, id + 1);
    id[0] = id[33] = '"';
    id[34] = 0;
}

/* The session opened last, whether it is closed or not. */
static cli_exit find_last(const cli_command *command, bf_journal *journal, char id[35]) {
    const bf_fold *fold = bf_journal_fold(journal);
    int last = -1;
    for (int i = 0; i < fold->n_sessions; i++)
        if (fold->session[i].opened_ms == fold->session[i].opened_ms) last = i;
    if (last < 0) return cli_say(command, CLI_NOTHING, "there is no session in this journal.");
    write_session(fold->session[last].id, id);
    return CLI_OK;
}

/* The session of the one entry whose id begins so, or the last. */
static cli_exit find_session(const cli_command *command, bf_journal *journal, const char *hex, char id[35]) {
    if (strcmp(hex, "last") == 0) return find_last(command, journal, id);
    const bf_event *events = bf_journal_events(journal);
    bf_id found = {0, 0};
    int n = 0;
    for (int i = 0; i < bf_journal_n(journal); i++) {
        char of_event[33];
        bf_id_write(events[i].id, of_event);
        if (strncmp(of_event, hex, strlen(hex)) != 0) continue;
        n += n == 0 || bf_id_order(events[i].session, found) != 0;
        found = events[i].session;
    }
    if (n == 0) return cli_say(command, CLI_NOTHING, "no entry has an id that begins with %s.", hex);
    if (n > 1)
        return cli_say(command, CLI_USAGE, "more than one session has an id that begins with %s.", hex);
    write_session(found, id);
    return CLI_OK;
}

/* What the words and options name: `file` may be NULL (the database), `hex` too (the open session, else the last). */
static cli_exit name_journal(const cli_command *command, const cli_args *args, int first, const char **file,
                             const char **hex) {
    const char *word = args->n_words > first ? args->word[first] : NULL;
    *file = word && is_file(word) ? word : NULL;
    *hex = args->option[OPT_SESSION] ? args->option[OPT_SESSION] : word && !*file ? word : NULL;
    if (args->n_words > first + 1 || (args->option[OPT_SESSION] && word && !*file))
        return cli_say(command, CLI_USAGE, "name one session, or one file of journal lines, or `-`.");
    if (*hex && !is_hex(*hex) && strcmp(*hex, "last") != 0)
        return cli_say(command, CLI_USAGE,
                       "'%s' is neither a file, nor the first digits of an id, nor `last`.", *hex);
    if (*file && args->option[OPT_DB])
        return cli_say(command, CLI_USAGE, "name a file of journal lines or --db, not both.");
    return CLI_OK;
}

cli_exit cli_put(const cli_command *command, cli_request *request, const char *path, const char *value,
                 cli_value_kind kind) {
    if (cli_request_put(request, path, value, kind) == CLI_PUT) return CLI_OK;
    return cli_say(command, CLI_USAGE, "%s is given twice, or is no key.", path);
}

cli_exit cli_load_asked(const cli_command *command, const cli_args *args, int first, cli_request *request,
                        char id[35], bf_journal **journal) {
    const char *file, *hex;
    *journal = NULL;
    cli_exit code = name_journal(command, args, first, &file, &hex);
    if (code == CLI_OK) code = cli_load_journal(command, args, file, journal);
    if (code == CLI_OK && hex) code = find_session(command, *journal, hex, id);
    if (code == CLI_OK && hex) code = cli_put(command, request, "session", id, CLI_AS_JSON);
    return code;
}
