/* cmd_log.c -- `baitfall log`: its parts, and the sessions. */
#define _POSIX_C_SOURCE 200809L

#include <stdlib.h>
#include <string.h>

#include "cli/log.h"
#include "cli/request.h"
#include "cli/show.h"
#include "cli/when.h"

/* ---- Sessions ---- */

const char *cli_log_place(const bf_stored_session *session, char out[160]) {
    snprintf(out, 160, "%s%s%s", session->venue[0] ? session->venue : "a session without a venue",
             session->peg[0] ? ", peg " : "", session->peg);
    cli_disarm(out);
    return out;
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
    int is_open = s->opened_ms == s->opened_ms && s->closed_ms != s->closed_ms;
    printf("%4d fish %4d missed %4d lost %4d foul %5d entries%s\n", s->count[BF_LANDED], s->count[BF_MISSED],
           s->count[BF_LOST], s->count[BF_FOUL], s->n_events, is_open ? "  open" : "");
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
    cli_exit code = cli_open_store(command, args, BF_STORE_TO_READ, &store);
    if (code != CLI_OK) return code;
    if (is_json) fputs("{\"schema\":1,\"command\":\"log\",\"sessions\":[", stdout);
    if (bf_store_sessions(store, is_json ? print_session_json : print_session, &n, &error) != BF_STORE_OK)
        code = cli_say_store(command, &error);
    if (is_json) puts("]}");
    if (code == CLI_OK && n == 0) code = cli_say(command, CLI_NOTHING, "the journal is empty.");
    bf_store_close(store);
    return code;
}

/* ---- The parts ---- */

#define BIT(option) (1ull << (option))
#define ALWAYS (BIT(OPT_HELP) | BIT(OPT_VERSION) | BIT(OPT_JSON) | BIT(OPT_DB))

/* Each word behind `log`, and the options that mean something to it beside those of ALWAYS. */
static const struct {
    const char *word;
    cli_log_part run;
    unsigned long long options;
} parts[] = {
    {"add", cli_log_add, BIT(OPT_SESSION) | BIT(OPT_AT) | BIT(OPT_NOTE) | BIT(OPT_SET)},
    {"now", cli_log_now, BIT(OPT_SESSION) | BIT(OPT_KIT)},
    {"list", cli_log_list, BIT(OPT_SESSION) | BIT(OPT_ALL)},
    {"show", cli_log_show, BIT(OPT_SESSION)},
    {"sessions", cli_log_sessions, 0},
    {"cross", cli_log_cross, BIT(OPT_SESSION) | BIT(OPT_NOTE)},
    {"restore", cli_log_restore, BIT(OPT_SESSION) | BIT(OPT_NOTE)},
    {"fix", cli_log_fix, BIT(OPT_SESSION) | BIT(OPT_AT) | BIT(OPT_NOTE) | BIT(OPT_SET)},
    {"import", cli_log_import, 0},
    {"export", cli_log_export, BIT(OPT_SESSION) | BIT(OPT_CSV) | BIT(OPT_FORCE)},
    {"check", cli_log_check, 0},
    {"backup", cli_log_backup, 0},
};
#define N_PARTS (sizeof parts / sizeof parts[0])

/* An option that a part would not look at is a slip: --all with `add`, --at with `cross`. */
static cli_exit run_part(const cli_command *command, const cli_args *args, size_t part) {
    for (int i = 0; i < CLI_N_OPTIONS; i++) {
        int is_given = args->option[i] != NULL || (i == OPT_SET && args->n_sets > 0);
        if (is_given && !((parts[part].options | ALWAYS) & BIT(i)))
            return cli_say(command, CLI_USAGE, "--%s does not go with `log %s`.", cli_options[i].name,
                           parts[part].word);
    }
    return parts[part].run(command, args);
}

cli_exit cli_log(const cli_command *command, const cli_args *args) {
    cli_nearest nearest = {NULL, 0};
    for (size_t i = 0; args->n_words > 0 && i < N_PARTS; i++) {
        if (strcmp(args->word[0], parts[i].word) == 0) return run_part(command, args, i);
        cli_consider(&nearest, args->word[0], parts[i].word);
    }
    return cli_say(
        command, CLI_USAGE,
        "say first what to do: add, now, list, show, sessions, cross, restore, fix, import, export, "
        "check or backup%s%s%s",
        nearest.word ? "; did you mean '" : ".", nearest.word ? nearest.word : "", nearest.word ? "'?" : "");
}
