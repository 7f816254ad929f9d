/* log_store.c -- see log_store.h. */
#define _POSIX_C_SOURCE 200809L

#include "cli/log_store.h"

#include <stdlib.h>
#include <string.h>
#include <sys/random.h>

#include "cli/log.h"
#include "cli/log_rows.h"

/* ---- Storing ---- */

static int random_bytes(void *bytes, size_t n) {
    return getrandom(bytes, n, 0) == (ssize_t)n;
}

cli_exit cli_start_envelope(const cli_command *command, bf_store *store, cli_envelope *envelope) {
    bf_store_error error;
    memset(envelope, 0, sizeof *envelope);
    if (!random_bytes(&envelope->id, sizeof envelope->id) ||
        !random_bytes(&envelope->run, sizeof envelope->run))
        return cli_say(command, CLI_INTERNAL, "the system gives no random numbers.");
    envelope->dev = bf_store_dev(store);
    envelope->at = envelope->entered = cli_now();
    return bf_store_next_seq(store, &envelope->seq, &error) == BF_STORE_OK ? CLI_OK
                                                                           : cli_say_store(command, &error);
}

/* What was stored, said only once it is. */
static void print_json(const char *line, bf_taken taken) {
    static const char *const words[] = {
        [BF_TAKEN_NEW] = "new", [BF_TAKEN_KNOWN] = "known", [BF_TAKEN_CLASH] = "clash"};
    printf("{\"schema\":1,\"command\":\"log\",\"taken\":\"%s\",\"line\":%s}\n", words[taken], line);
}

static bf_store_what add(bf_store *store, const cli_entry *entry, const char *line, size_t n,
                         bf_stored_session *open, bf_taken *taken, bf_store_error *error) {
    return entry->kind == BF_OPEN ? bf_store_add_opening(store, line, n, open, taken, error)
                                  : bf_store_add(store, line, n, taken, error);
}

static cli_exit say_open_already(const cli_command *command, const bf_stored_session *open) {
    char place[160];
    return cli_say(command, CLI_NO,
                   "a session is open already (%s); `baitfall log add close` closes it, with --at TIME when "
                   "it ended before now.",
                   cli_log_place(open, place));
}

cli_exit cli_store_entry(const cli_command *command, const cli_args *args, bf_store *store,
                         const cli_entry *entry, const cli_envelope *envelope) {
    bf_store_error error;
    bf_taken taken;
    size_t n;
    char *line = cli_entry_line(entry, envelope, &n);
    if (!line) return cli_say(command, CLI_INTERNAL, "out of memory.");
    bf_stored_session open;
    bf_store_what what = add(store, entry, line, n, &open, &taken, &error);
    cli_exit code = what == BF_STORE_OK      ? CLI_OK
                    : what == BF_STORE_THERE ? say_open_already(command, &open)
                                             : cli_say_store(command, &error);
    if (code == CLI_OK && args->option[OPT_JSON]) print_json(line, taken);
    free(line);
    return code;
}

/* ---- Saying it back ---- */

bf_journal *cli_load_to_say(const cli_command *command, bf_store *store) {
    bf_journal *journal = NULL;
    bf_store_error error;
    if (bf_store_load(store, NULL, &journal, &error) != BF_STORE_OK) (void)cli_say_store(command, &error);
    return journal;
}

void cli_say_entry(const cli_command *command, bf_journal *journal, const char *before, bf_id session,
                   bf_id id) {
    cli_answer answer = {.text = NULL};
    char hex[33];
    int row = -1;
    if (journal && cli_ask_row(command, journal, session, id, &answer, &row) == CLI_OK && row >= 0) {
        fputs(before, stdout);
        cli_say_row(&answer.json, row);
    } else {
        bf_id_write(id, hex);
        printf("%sStored  [%.8s]\n", before, hex);
    }
    cli_answer_free(&answer);
}
