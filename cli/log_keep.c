/* log_keep.c -- the journal in and out as files, looked over, copied. */
#define _POSIX_C_SOURCE 200809L

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "cli/log.h"
#include "cli/request.h"

#define MOST_NAMED 50 /* lines or faults that are named; the rest is counted */

/* ---- Import ---- */

static long read_some(void *from, char *bytes, size_t most) {
    ssize_t n;
    do n = read(*(const int *)from, bytes, most);
    while (n < 0 && errno == EINTR);
    return (long)n;
}

typedef struct telling {
    const cli_command *command;
    int n_named;
    int has_terminal; /* where progress is shown */
} telling;

static void tell_line(void *to, bf_told_kind kind, long long number, const char *sentence) {
    telling *t = to;
    char text[1024];
    if (kind == BF_TOLD_STORED && t->has_terminal) fprintf(stderr, "stored up to line %lld\n", number);
    if (kind == BF_TOLD_STORED || t->n_named++ >= MOST_NAMED) return;
    snprintf(text, sizeof text, "%s", sentence);
    cli_disarm(text);
    (void)cli_say(t->command, CLI_OK, "line %lld %s: %s", number,
                  kind == BF_TOLD_CLASH ? "clashes" : "is not taken", text);
}

static void print_counts(const cli_args *args, const bf_import *counts) {
    if (args->option[OPT_JSON])
        printf("{\"schema\":1,\"command\":\"log\",\"before\":%lld,\"lines\":%lld,\"new\":%lld,\"known\":%lld,"
               "\"clashes\":%lld,"
               "\"refused\":%lld}\n",
               counts->before, counts->lines, counts->fresh, counts->known, counts->clashes, counts->refused);
    else
        printf("Entries before: %lld. Lines read: %lld; new %lld, known already %lld, clashes %lld, refused "
               "%lld.\n",
               counts->before, counts->lines, counts->fresh, counts->known, counts->clashes, counts->refused);
}

static cli_exit import_from(const cli_command *command, const cli_args *args, bf_store *store, int fd) {
    bf_import counts;
    bf_store_error error;
    telling t = {command, 0, isatty(STDERR_FILENO)};
    bf_store_what what = bf_store_import(store, read_some, &fd, tell_line, &t, &counts, &error);
    if (t.n_named > MOST_NAMED) (void)cli_say(command, CLI_OK, "%d lines in all are such.", t.n_named);
    print_counts(args, &counts);
    if (what != BF_STORE_OK) return cli_say_store(command, &error);
    return counts.refused > 0 ? CLI_BAD_INPUT : CLI_OK;
}

/* What cannot be read from its beginning again is told line by line. */
static cli_exit refuse_rehearsal(const cli_command *command, const char *file, int fd) {
    char begin[32];
    ssize_t n = pread(fd, begin, sizeof begin, 0);
    return n > 0 ? cli_refuse_rehearsal(command, file, begin, (size_t)n) : CLI_OK;
}

cli_exit cli_log_import(const cli_command *command, const cli_args *args) {
    bf_store *store = NULL;
    if (args->n_words != 2) return cli_say(command, CLI_USAGE, "name one file, or `-` for standard input.");
    int is_stdin = strcmp(args->word[1], "-") == 0;
    int fd = is_stdin ? STDIN_FILENO : open(args->word[1], O_RDONLY | O_CLOEXEC);
    if (fd < 0)
        return cli_say(command, CLI_BAD_INPUT, "%s cannot be read: %s.", args->word[1], strerror(errno));
    struct stat what;
    cli_exit code = fstat(fd, &what) == 0 && !S_ISDIR(what.st_mode)
                        ? CLI_OK
                        : cli_say(command, CLI_BAD_INPUT, "%s is not a file.", args->word[1]);
    if (code == CLI_OK && !is_stdin) code = refuse_rehearsal(command, args->word[1], fd);
    if (code == CLI_OK) code = cli_open_store(command, args, BF_STORE_TO_MAKE, &store);
    if (code == CLI_OK) code = import_from(command, args, store, fd);
    bf_store_close(store);
    if (!is_stdin) close(fd);
    return code;
}

/* ---- Export ---- */

static int write_out(void *to, const char *bytes, size_t n) {
    return fwrite(bytes, 1, n, to) == n ? 0 : -1;
}

/* To standard output, or into the file that was named; with --json and a file, how many. */
static cli_exit export_to(const cli_command *command, const cli_args *args, bf_store *store,
                          const bf_id *session) {
    const char *path = args->n_words == 2 && strcmp(args->word[1], "-") != 0 ? args->word[1] : NULL;
    bf_export_form form = args->option[OPT_CSV] ? BF_EXPORT_CSV : BF_EXPORT_LINES;
    bf_store_error error;
    long long n;
    bf_store_what what =
        path ? bf_store_export_file(store, session, form, path, args->option[OPT_FORCE] != NULL, &n, &error)
             : bf_store_export(store, session, form, write_out, stdout, &n, &error);
    if (path && (what == BF_STORE_OK || what == BF_STORE_DAMAGED)) {
        if (args->option[OPT_JSON])
            printf("{\"schema\":1,\"command\":\"log\",\"entries\":%lld}\n", n);
        else
            printf("%lld entries written to %s.\n", n, path);
    }
    return what == BF_STORE_OK ? CLI_OK : cli_say_store(command, &error);
}

cli_exit cli_log_export(const cli_command *command, const cli_args *args) {
    bf_store *store = NULL;
    bf_id session;
    int is_named = 0;
    if (args->n_words > 2) return cli_say(command, CLI_USAGE, "name one file, or none for standard output.");
    cli_exit code = cli_open_store(command, args, BF_STORE_TO_READ, &store);
    if (code == CLI_OK) code = cli_named_session(command, args, store, &session, &is_named);
    if (code == CLI_OK) code = export_to(command, args, store, is_named ? &session : NULL);
    bf_store_close(store);
    return code;
}

/* ---- Check ---- */

typedef struct findings {
    int is_json, n;
} findings;

static void print_finding(void *to, const char *sentence) {
    findings *f = to;
    char text[1024];
    if (f->n++ >= MOST_NAMED) return;
    snprintf(text, sizeof text, "%s", sentence);
    cli_disarm(text);
    if (!f->is_json) {
        puts(text);
        return;
    }
    fputs(f->n > 1 ? "," : "", stdout);
    cli_write_string(stdout, text);
}

static cli_exit check_store(const cli_command *command, const cli_args *args, bf_store *store) {
    bf_store_state state;
    bf_store_error error;
    findings f = {args->option[OPT_JSON] != NULL, 0};
    if (f.is_json) fputs("{\"schema\":1,\"command\":\"log\",\"faults\":[", stdout);
    bf_store_what what = bf_store_check(store, print_finding, &f, &state, &error);
    int is_whole = state.database + state.damaged + state.derived == 0;
    if (f.is_json)
        printf("],\"events\":%lld,\"sessions\":%lld,\"database_faults\":%lld,\"damaged\":%lld,\"derived\":%"
               "lld}\n",
               state.events, state.sessions, state.database, state.damaged, state.derived);
    else if (what == BF_STORE_OK && is_whole)
        printf("%lld %s, %lld %s: all whole.\n", state.events, state.events == 1 ? "entry" : "entries",
               state.sessions, state.sessions == 1 ? "session" : "sessions");
    else if (what == BF_STORE_OK)
        printf("%lld entries can be read; %lld faults of the database, %lld damaged rows, %lld sessions made "
               "anew.\n",
               state.events, state.database, state.damaged, state.derived);
    if (what != BF_STORE_OK) return cli_say_store(command, &error);
    return is_whole ? CLI_OK : CLI_NO;
}

cli_exit cli_log_check(const cli_command *command, const cli_args *args) {
    bf_store *store = NULL;
    if (args->n_words > 1) return cli_say(command, CLI_USAGE, "check takes no words.");
    cli_exit code = cli_open_store(command, args, BF_STORE_TO_READ, &store);
    if (code == CLI_OK) code = check_store(command, args, store);
    bf_store_close(store);
    return code;
}

/* ---- Backup ---- */

cli_exit cli_log_backup(const cli_command *command, const cli_args *args) {
    bf_store *store = NULL;
    bf_store_error error;
    long long n = 0;
    if (args->n_words != 2 || strcmp(args->word[1], "-") == 0)
        return cli_say(command, CLI_USAGE, "name the file to copy the database into.");
    cli_exit code = cli_open_store(command, args, BF_STORE_TO_READ, &store);
    if (code == CLI_OK && bf_store_backup(store, args->word[1], &n, &error) != BF_STORE_OK)
        code = cli_say_store(command, &error);
    if (code == CLI_OK && args->option[OPT_JSON])
        printf("{\"schema\":1,\"command\":\"log\",\"entries\":%lld}\n", n);
    else if (code == CLI_OK)
        printf("%lld entries copied to %s and compared.\n", n, args->word[1]);
    bf_store_close(store);
    return code;
}
