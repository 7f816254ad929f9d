/* log_add.c -- entries added: acts at the water. */
#define _POSIX_C_SOURCE 200809L

#include <stdlib.h>
#include <string.h>

#include "cli/cautions.h"
#include "cli/log.h"
#include "cli/log_store.h"
#include "cli/show.h"

/* ---- What is added, and where to ---- */

static cli_exit read_entry(const cli_command *command, const cli_args *args, cli_entry *entry) {
    cli_exit code = cli_entry_words(command, args->word + 1, args->n_words - 1, entry);
    for (int i = 0; code == CLI_OK && i < args->n_sets; i++)
        code = cli_entry_set(command, entry, args->set[i]);
    if (code == CLI_OK && args->option[OPT_NOTE])
        code = cli_entry_note(command, entry, args->option[OPT_NOTE]);
    if (code == CLI_OK && entry->kind == BF_NOTE && !entry->note)
        code = cli_say(command, CLI_USAGE, "say what to note.");
    return code;
}

/* An `open` starts a session of its own; the store takes it when none is open. */
static cli_exit begin_session(const cli_command *command, const cli_args *args, cli_envelope *envelope) {
    if (args->option[OPT_SESSION])
        return cli_say(command, CLI_USAGE,
                       "--session does not go with `log add open`, which starts a new one.");
    envelope->session = envelope->id;
    return CLI_OK;
}

/* Every other entry goes into the named session or the open one, whose end is not before its beginning. */
static cli_exit choose_session(const cli_command *command, const cli_args *args, bf_store *store,
                               const cli_entry *entry, cli_envelope *envelope) {
    bf_stored_session open;
    bf_store_error error;
    int is_named;
    cli_exit code = cli_named_session(command, args, store, &envelope->session, &is_named);
    if (code != CLI_OK || is_named) return code;
    bf_store_what what = bf_store_open_session(store, &open, &error);
    if (what == BF_STORE_ABSENT)
        return cli_say(
            command, CLI_NOTHING,
            "no session is open; `baitfall log add open VENUE` opens one, --session names an earlier one.");
    if (what != BF_STORE_OK) return cli_say_store(command, &error);
    envelope->session = open.id;
    if (entry->kind == BF_CLOSE && envelope->at.ms < open.opened_ms)
        return cli_say(command, CLI_BAD_INPUT, "'%s' is before the session began; --at says when it ended.",
                       args->option[OPT_AT] ? args->option[OPT_AT] : "now");
    return CLI_OK;
}

/* ---- The start of a session ---- */

static void show_lines(const bf_json *json) {
    char line[1024];
    int lines = bf_json_find(json, 0, "lines");
    puts("\nLast time here");
    for (int i = bf_json_first(json, lines); i >= 0; i = bf_json_next(json, i)) {
        if (bf_json_string(json, i, line, sizeof line) != BF_OK) continue;
        cli_disarm(line);
        cli_show_wrapped("  ", line);
    }
}

/* What came of it at this venue and peg before; nothing when no venue is told. */
static void show_last_time(const cli_command *command, bf_journal *journal, const cli_entry *entry,
                           const cli_envelope *envelope) {
    const char *venue = cli_entry_json(entry, "venue"), *peg = cli_entry_json(entry, "peg");
    char now[BF_INSTANT_BYTES], request[1024];
    cli_answer answer;
    if (!venue) return;
    bf_instant_write(envelope->at.ms, envelope->at.east_min, now);
    int n = snprintf(request, sizeof request, "{\"venue\":%s%s%s,\"now\":\"%s\"}", venue,
                     peg ? ",\"peg\":" : "", peg ? peg : "", now);
    if (cli_ask_journal(command, journal, "peg", request, (size_t)n, &answer) == CLI_OK)
        show_lines(&answer.json);
    cli_answer_free(&answer);
}

static void say_added(const cli_command *command, bf_store *store, const cli_entry *entry,
                      const cli_envelope *envelope) {
    bf_journal *journal = cli_load_to_say(command, store);
    cli_say_entry(command, journal, "", envelope->session, envelope->id);
    if (entry->kind == BF_OPEN && journal) show_last_time(command, journal, entry, envelope);
    if (entry->kind == BF_OPEN) {
        puts("\nBefore you start");
        cli_show_cautions("  - ");
    }
    free(journal);
}

/* ---- add ---- */

cli_exit cli_log_add(const cli_command *command, const cli_args *args) {
    static cli_entry entry;
    cli_envelope envelope;
    cli_when at;
    bf_store *store = NULL;
    if (args->n_words < 2) {
        cli_entry_help();
        return cli_say(command, CLI_USAGE, "say what to add.");
    }
    cli_exit code = read_entry(command, args, &entry);
    if (code == CLI_OK) code = cli_read_when(command, args->option[OPT_AT], &at);
    if (code == CLI_OK)
        code =
            cli_open_store(command, args, entry.kind == BF_OPEN ? BF_STORE_TO_MAKE : BF_STORE_TO_ADD, &store);
    if (code == CLI_OK) code = cli_start_envelope(command, store, &envelope);
    if (code == CLI_OK && args->option[OPT_AT]) envelope.at = at;
    if (code == CLI_OK)
        code = entry.kind == BF_OPEN ? begin_session(command, args, &envelope)
                                     : choose_session(command, args, store, &entry, &envelope);
    if (code == CLI_OK) code = cli_store_entry(command, args, store, &entry, &envelope);
    if (code == CLI_OK && !args->option[OPT_JSON]) say_added(command, store, &entry, &envelope);
    cli_entry_free(&entry);
    bf_store_close(store);
    return code;
}
