/* journal.c -- see journal.h. */
#define _POSIX_C_SOURCE 200809L

#include "cli/journal.h"

#include <signal.h>
#include <stdlib.h>
#include <string.h>

#define FILE_BYTES_MOST ((size_t)1 << 30)
#define ANSWER_BYTES (16u << 20) /* a log of 10 000 entries */
#define LINES_NAMED 20           /* refused lines that are named; the rest is counted */

/* ---- The database ---- */

static cli_exit exit_of(bf_store_what what) {
    switch (what) {
    case BF_STORE_OK: return CLI_OK;
    case BF_STORE_ABSENT: return CLI_NOTHING;
    case BF_STORE_REFUSED:
    case BF_STORE_FOREIGN:
    case BF_STORE_NEWER:
    case BF_STORE_DAMAGED: return CLI_BAD_INPUT;
    case BF_STORE_THERE: return CLI_TAKEN;
    default: return CLI_INTERNAL;
    }
}

cli_exit cli_say_store(const cli_command *command, const bf_store_error *error) {
    char sentence[sizeof error->sentence];
    strcpy(sentence, error->sentence);
    cli_disarm(sentence);
    return cli_say(command, exit_of(error->what), "%s%s", sentence,
                   error->what == BF_STORE_THERE ? " --force replaces an export, never a backup." : "");
}

static cli_exit find_path(const cli_command *command, const cli_args *args, char path[BF_PATH_MOST]) {
    const char *named = args->option[OPT_DB];
    if (named && (!named[0] || strcmp(named, "-") == 0 || strlen(named) >= BF_PATH_MOST))
        return cli_say(command, CLI_USAGE, "--db needs the name of a file.");
    if (named)
        strcpy(path, named);
    else if (!bf_store_path(path))
        return cli_say(command, CLI_USAGE,
                       "there is no home folder to keep a journal in; name a file with --db.");
    return CLI_OK;
}

cli_exit cli_open_store(const cli_command *command, const cli_args *args, bf_store_use use,
                        bf_store **store) {
    char path[BF_PATH_MOST];
    bf_store_error error;
    *store = NULL;
    cli_exit code = find_path(command, args, path);
    if (code != CLI_OK) return code;
    (void)signal(SIGXFSZ, SIG_IGN); /* a limit on file size is an error to report, not a reason to die */
    bf_store_what what = bf_store_open(path, use, store, &error);
    if (what == BF_STORE_ABSENT) {
        cli_disarm(path);
        return cli_say(command, CLI_NOTHING,
                       "there is no journal at %s; `baitfall log add open VENUE` begins one.", path);
    }
    if (what != BF_STORE_OK) return cli_say_store(command, &error);
    if (bf_store_notice(*store)[0]) (void)cli_say(command, CLI_OK, "%s", bf_store_notice(*store));
    return CLI_OK;
}

cli_exit cli_find_entry(const cli_command *command, bf_store *store, const char *hex, bf_id *id,
                        bf_id *session) {
    bf_store_error error;
    int n;
    if (!hex[0]) return cli_say(command, CLI_USAGE, "an id is named by its first digits, not by none.");
    if (bf_store_find(store, hex, id, session, &n, &error) != BF_STORE_OK)
        return cli_say_store(command, &error);
    if (n > 1) return cli_say(command, CLI_USAGE, "more than one entry has an id that begins with %s.", hex);
    return CLI_OK;
}

static int keep_last(void *to, const bf_stored_session *session) {
    *(bf_stored_session *)to = *session;
    return 0;
}

static cli_exit last_session(const cli_command *command, bf_store *store, bf_id *session) {
    bf_stored_session last = {.n_events = 0};
    bf_store_error error;
    if (bf_store_sessions(store, keep_last, &last, &error) != BF_STORE_OK)
        return cli_say_store(command, &error);
    if (last.n_events == 0) return cli_say(command, CLI_NOTHING, "the journal is empty.");
    *session = last.id;
    return CLI_OK;
}

cli_exit cli_named_session(const cli_command *command, const cli_args *args, bf_store *store, bf_id *session,
                           int *is_named) {
    const char *name = args->option[OPT_SESSION];
    bf_id id;
    *is_named = name != NULL;
    if (!name) return CLI_OK;
    if (strcmp(name, "last") == 0) return last_session(command, store, session);
    return cli_find_entry(command, store, name, &id, session);
}

cli_exit cli_some_session(const cli_command *command, const cli_args *args, bf_store *store, bf_id *session) {
    bf_stored_session open;
    bf_store_error error;
    int is_named;
    cli_exit code = cli_named_session(command, args, store, session, &is_named);
    if (code != CLI_OK || is_named) return code;
    bf_store_what what = bf_store_open_session(store, &open, &error);
    if (what == BF_STORE_ABSENT) return last_session(command, store, session);
    if (what != BF_STORE_OK) return cli_say_store(command, &error);
    *session = open.id;
    return CLI_OK;
}

static cli_exit load_database(const cli_command *command, const cli_args *args, bf_journal **journal) {
    bf_store *store;
    bf_store_error error;
    cli_exit code = cli_open_store(command, args, BF_STORE_TO_READ, &store);
    if (code != CLI_OK) return code;
    if (bf_store_load(store, NULL, journal, &error) != BF_STORE_OK) code = cli_say_store(command, &error);
    bf_store_close(store);
    return code;
}

/* ---- A file of lines ---- */

static int count_lines(const char *text, size_t n) {
    int lines = 1;
    for (size_t i = 0; i < n; i++) lines += text[i] == '\n';
    return lines;
}

static int is_blank(const char *text, size_t n) {
    return strspn(text, " \t\r") >= n;
}

/* Takes every line; the number of those refused. Each of the first ones is said. A byte order mark is skipped, as by import. */
static int take_lines(const cli_command *command, bf_journal *journal, const char *text, size_t n) {
    static const char mark[] = "\xef\xbb\xbf";
    const char *end = text + n;
    int number = 0, refused = 0;
    if (n >= strlen(mark) && memcmp(text, mark, strlen(mark)) == 0) text += strlen(mark);
    for (; text < end; number++) {
        const char *newline = memchr(text, '\n', (size_t)(end - text));
        size_t length = (size_t)((newline ? newline : end) - text);
        bf_taken taken;
        bf_error error;
        if (!is_blank(text, length) && bf_take(journal, text, length, &taken, &error) != BF_OK &&
            refused++ < LINES_NAMED) {
            cli_disarm(error.text);
            (void)cli_say(command, CLI_OK, "line %d is left out: %s", number + 1, error.text);
        }
        text += length + 1;
    }
    return refused;
}

cli_exit cli_load_lines(const cli_command *command, const char *text, size_t n, bf_journal **journal) {
    int lines = count_lines(text, n);
    size_t room = 2 * n + 64; /* a line's canonical form may be a little longer than it was written */
    void *memory = malloc(bf_journal_bytes(lines, room));
    *journal = NULL;
    if (!memory) return cli_say(command, CLI_INTERNAL, "out of memory.");
    *journal = bf_journal_start(memory, lines, room);
    int refused = take_lines(command, *journal, text, n);
    if (refused > LINES_NAMED) (void)cli_say(command, CLI_OK, "%d lines in all are left out.", refused);
    return CLI_OK;
}

cli_exit cli_refuse_rehearsal(const cli_command *command, const char *file, const char *text, size_t n) {
    static const char begin[] = "{\"rehearsal\"";
    if (n < strlen(begin) || memcmp(text, begin, strlen(begin)) != 0) return CLI_OK;
    return cli_say(command, CLI_BAD_INPUT,
                   "%s is a rehearsal: simulated, and no session. `baitfall rehearse %s` opens it.", file,
                   file);
}

static cli_exit load_file(const cli_command *command, const char *file, bf_journal **journal) {
    char *text;
    size_t n;
    bf_file what = bf_file_read(file, FILE_BYTES_MOST, &text, &n);
    if (what == BF_FILE_TOO_LARGE)
        return cli_say(command, CLI_BAD_INPUT, "%s is larger than 1 GiB; `baitfall log import` takes it.",
                       file);
    if (what != BF_FILE_OK)
        return cli_say(command, what == BF_FILE_MEMORY ? CLI_INTERNAL : CLI_BAD_INPUT,
                       "%s cannot be read: %s.", strcmp(file, "-") == 0 ? "standard input" : file,
                       bf_file_words(what));
    cli_exit code = cli_refuse_rehearsal(command, file, text, n);
    if (code == CLI_OK) code = cli_load_lines(command, text, n, journal);
    free(text);
    return code;
}

cli_exit cli_load_journal(const cli_command *command, const cli_args *args, const char *file,
                          bf_journal **journal) {
    *journal = NULL;
    return file ? load_file(command, file, journal) : load_database(command, args, journal);
}

/* ---- Questions ---- */

static bf_status range_of(const void *work, void *scratch, int from, int to, double *rows) {
    bf_ask_range(work, scratch, from, to, rows);
    return BF_OK;
}

bf_status cli_put_question(bf_journal *journal, const char *question, const char *request, size_t n,
                           cli_answer *answer) {
    *answer = (cli_answer){0};
    int n_items, n_columns;
    double *rows = NULL;
    size_t n_work = bf_ask_state_bytes(journal, question);
    void *work = aligned_alloc(16, (n_work + 16) / 16 * 16);
    answer->text = malloc(ANSWER_BYTES);
    bf_status status = work && answer->text ? BF_OK : BF_E_SPACE;
    if (!status && bf_ask_begin(journal, work, question, request, n, &n_items, &n_columns) == BF_OK &&
        n_items) {
        rows = malloc((size_t)n_items * (size_t)n_columns * sizeof *rows);
        status =
            rows ? cli_compute_rows(range_of, work, bf_ask_scratch_bytes(work), 0, n_items, n_columns, rows)
                 : BF_E_SPACE;
    }
    if (!status) status = bf_ask_finish(work, rows, answer->text, ANSWER_BYTES, &answer->n);
    free(rows);
    free(work);
    return status;
}

cli_exit cli_ask_journal(const cli_command *command, bf_journal *journal, const char *question,
                         const char *request, size_t n, cli_answer *answer) {
    bf_status status = cli_put_question(journal, question, request, n, answer);
    return cli_read_answer(command, status, answer);
}
