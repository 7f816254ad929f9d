/* log_add.c -- entries added: acts at the water, and corrections of earlier entries. */
#define _POSIX_C_SOURCE 200809L

#include <stdlib.h>
#include <string.h>
#include <sys/random.h>

#include "cli/entry.h"
#include "cli/log.h"

/* ---- Storing ---- */

static int random_bytes(void *bytes, size_t n) {
    return getrandom(bytes, n, 0) == (ssize_t)n;
}

/* Id, device, run, seq and the time of entry; `at` starts as now. */
static cli_exit start_envelope(const cli_command *command, bf_store *store, cli_envelope *envelope) {
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

/* Behind what the entry is: "11:42:07 on 25 Nov 2026 (+00:00)  [3f9a21c0]". */
static void print_when(double ms, int east_min, bf_id id) {
    char when[CLI_WHEN_BYTES], hex[33];
    bf_id_write(id, hex);
    printf(", %s  [%.8s]\n", cli_say_when(ms, east_min, when), hex);
}

/* Adds the entry; with --json it is printed as well. */
static cli_exit store_entry(const cli_command *command, const cli_args *args, bf_store *store,
                            const cli_entry *entry, const cli_envelope *envelope) {
    bf_store_error error;
    bf_taken taken;
    size_t n;
    char *line = cli_entry_line(entry, envelope, &n);
    if (!line) return cli_say(command, CLI_INTERNAL, "out of memory.");
    bf_store_what what = bf_store_add(store, line, n, &taken, &error);
    cli_exit code = what == BF_STORE_OK ? CLI_OK : cli_say_store(command, &error);
    if (code == CLI_OK && args->option[OPT_JSON]) print_json(line, taken);
    free(line);
    return code;
}

/* ---- Acts ---- */

static cli_exit read_entry(const cli_command *command, const cli_args *args, cli_entry *entry) {
    cli_exit code = cli_entry_words(command, args->word + 1, args->n_words - 1, entry);
    for (int i = 0; code == CLI_OK && i < args->n_sets; i++)
        code = cli_entry_set(command, entry, args->set[i]);
    if (code == CLI_OK && args->option[OPT_NOTE]) entry->note = args->option[OPT_NOTE];
    return code;
}

/* The session an entry goes into: a new one for `open`, else the named or the open one. */
static cli_exit choose_session(const cli_command *command, const cli_args *args, bf_store *store,
                               const cli_entry *entry, cli_envelope *envelope) {
    bf_stored_session open;
    bf_store_error error;
    char place[160];
    int is_named;
    cli_exit code = cli_named_session(command, args, store, &envelope->session, &is_named);
    if (code != CLI_OK || (is_named && entry->kind != BF_OPEN)) return code;
    bf_store_what what = bf_store_open_session(store, &open, &error);
    if (entry->kind == BF_OPEN) envelope->session = envelope->id;
    if (entry->kind == BF_OPEN && what == BF_STORE_ABSENT) return CLI_OK;
    if (entry->kind == BF_OPEN && what == BF_STORE_OK)
        return cli_say(command, CLI_NO, "a session is open already (%s); `baitfall log add close` closes it.",
                       cli_log_place(&open, place));
    if (what == BF_STORE_ABSENT)
        return cli_say(
            command, CLI_NOTHING,
            "no session is open; `baitfall log add open VENUE` opens one, --session names an earlier one.");
    if (what != BF_STORE_OK) return cli_say_store(command, &error);
    envelope->session = open.id;
    return CLI_OK;
}

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
    if (code == CLI_OK) code = cli_open_store(command, args, entry.kind == BF_OPEN, &store);
    if (code == CLI_OK) code = start_envelope(command, store, &envelope);
    if (code == CLI_OK && args->option[OPT_AT]) envelope.at = at;
    if (code == CLI_OK) code = choose_session(command, args, store, &entry, &envelope);
    if (code == CLI_OK) code = store_entry(command, args, store, &entry, &envelope);
    if (code == CLI_OK && !args->option[OPT_JSON]) {
        cli_entry_print(&entry);
        print_when(envelope.at.ms, envelope.at.east_min, envelope.id);
    }
    bf_store_close(store);
    return code;
}

/* ---- Corrections ---- */

/* An entry to be corrected, in the journal of its session. */
typedef struct target {
    bf_journal *journal;
    const bf_fold *fold;
    const bf_event *events;
    bf_id session;
    const bf_live *live;
} target;

static const bf_event *event_of(const target *t, const bf_live *live) {
    return &t->events[live->event];
}

/* 1 when the live entry may be the "last" to be crossed out or fixed: an act of this device that counts. */
static int may_be_last(const target *t, const bf_live *live, uint32_t dev, int kind) {
    if (event_of(t, live)->dev != dev || live->is_crossed) return 0;
    if (live->kind == BF_FIX) return kind == BF_CROSS;
    return live->kind != BF_CROSS && live->kind != BF_RESTORE && live->kind != BF_CLOCK;
}

/* By seq: the clock may have been wrong. */
static void find_last_act(target *t, uint32_t dev, int kind) {
    double most = -1;
    for (int i = 0; i < t->fold->n_live; i++) {
        const bf_live *live = &t->fold->live[i];
        if (!may_be_last(t, live, dev, kind) || event_of(t, live)->seq < most) continue;
        most = event_of(t, live)->seq;
        t->live = live;
    }
}

/* What this device crossed out last and is crossed out still. */
static void find_last_crossed(target *t, uint32_t dev) {
    double most = -1;
    for (int i = 0; i < t->fold->n_live; i++) {
        const bf_event *cross = event_of(t, &t->fold->live[i]);
        int of =
            cross->kind == BF_CROSS && cross->dev == dev ? bf_fold_find(t->fold, t->events, cross->of) : -1;
        if (of < 0 || !t->fold->live[of].is_crossed || cross->seq < most) continue;
        most = cross->seq;
        t->live = &t->fold->live[of];
    }
}

static cli_exit load_session(const cli_command *command, bf_store *store, target *t) {
    bf_store_error error;
    if (bf_store_load(store, &t->session, &t->journal, &error) != BF_STORE_OK)
        return cli_say_store(command, &error);
    t->fold = bf_journal_fold(t->journal);
    t->events = bf_journal_events(t->journal);
    return CLI_OK;
}

static cli_exit find_target(const cli_command *command, const cli_args *args, bf_store *store,
                            const char *word, int kind, target *t) {
    bf_id id;
    int is_last = strcmp(word, "last") == 0;
    cli_exit code = is_last ? cli_log_session(command, args, store, &t->session)
                            : cli_find_entry(command, store, word, &id, &t->session);
    if (code == CLI_OK) code = load_session(command, store, t);
    if (code != CLI_OK) return code;
    int i = is_last ? -1 : bf_fold_find(t->fold, t->events, id);
    if (i >= 0) t->live = &t->fold->live[i];
    if (is_last && kind == BF_RESTORE) find_last_crossed(t, bf_store_dev(store));
    if (is_last && kind != BF_RESTORE) find_last_act(t, bf_store_dev(store), kind);
    if (!t->live)
        return cli_say(command, CLI_NOTHING,
                       "this device has no entry in the session that could be %s; name one by its id.",
                       kind == BF_RESTORE ? "put back"
                       : kind == BF_CROSS ? "crossed out"
                                          : "fixed");
    if (t->live->kind == BF_CROSS || t->live->kind == BF_RESTORE)
        return cli_say(command, CLI_NO,
                       "that entry only crosses out or puts back another; correct that one.");
    return CLI_OK;
}

/* Crossing out what is crossed out would change nothing; the answer is no, and nothing is stored. */
static cli_exit check_state(const cli_command *command, const target *t, int kind) {
    if (kind == BF_CROSS && t->live->is_crossed)
        return cli_say(command, CLI_NO, "that entry is crossed out already.");
    if (kind == BF_RESTORE && !t->live->is_crossed)
        return cli_say(command, CLI_NO, "that entry is not crossed out.");
    if (kind == BF_FIX && t->live->kind == BF_FIX)
        return cli_say(command, CLI_NO, "a fix is not fixed; cross it out, or fix the entry again.");
    return CLI_OK;
}

/* A fix may only give what the entry's kind has, and when it was. */
static cli_exit check_fields(const cli_command *command, const target *t, const cli_entry *entry) {
    uint64_t fields = bf_event_fields(t->live->kind);
    for (int i = 0; i < bf_body_table.n_fields; i++) {
        const char *name = bf_body_table.field[i].name;
        int is_when = strcmp(name, "at") == 0 || strcmp(name, "pm_s") == 0;
        if (entry->json[i][0] && !is_when && !(fields >> i & 1))
            return cli_say(command, CLI_USAGE, "an entry of kind %s has no %s.",
                           bf_event_words[t->live->kind], name);
    }
    return CLI_OK;
}

/* "Crossed out: Missed, 11:42:07 ..." and "Fixed (1.2 kg): Fish, ..." */
static void print_corrected(const target *t, const cli_entry *entry) {
    const bf_event *event = event_of(t, t->live);
    cli_entry_print(entry);
    printf(": %s", cli_act_word(t->live->kind, t->live->body.outcome));
    print_when(t->live->t_ms, event->at_east_min, event->id);
}

static cli_exit correct(const cli_command *command, const cli_args *args, const char *word,
                        cli_entry *entry) {
    cli_envelope envelope;
    bf_store *store = NULL;
    target t = {0};
    cli_exit code = cli_open_store(command, args, 0, &store);
    if (code == CLI_OK) code = find_target(command, args, store, word, entry->kind, &t);
    if (code == CLI_OK) code = check_state(command, &t, entry->kind);
    if (code == CLI_OK && entry->kind == BF_FIX) code = check_fields(command, &t, entry);
    if (code == CLI_OK) code = start_envelope(command, store, &envelope);
    if (code == CLI_OK) {
        envelope.session = t.session;
        envelope.of = event_of(&t, t.live)->id;
        entry->note = args->option[OPT_NOTE];
        code = store_entry(command, args, store, entry, &envelope);
    }
    if (code == CLI_OK && !args->option[OPT_JSON]) print_corrected(&t, entry);
    free(t.journal);
    bf_store_close(store);
    return code;
}

static cli_exit cross_or_restore(const cli_command *command, const cli_args *args, int kind) {
    static cli_entry entry;
    if (args->n_words > 2 || args->n_sets > 0 || args->option[OPT_AT])
        return cli_say(command, CLI_USAGE, "name one entry by the beginning of its id, or `last`.");
    cli_entry_start(&entry, kind, kind == BF_CROSS ? "crossed out" : "put back");
    return correct(command, args, args->n_words == 2 ? args->word[1] : "last", &entry);
}

cli_exit cli_log_cross(const cli_command *command, const cli_args *args) {
    return cross_or_restore(command, args, BF_CROSS);
}

cli_exit cli_log_restore(const cli_command *command, const cli_args *args) {
    return cross_or_restore(command, args, BF_RESTORE);
}

cli_exit cli_log_fix(const cli_command *command, const cli_args *args) {
    static cli_entry entry;
    char at[256];
    cli_exit code = CLI_OK;
    if (args->n_words < 2)
        return cli_say(
            command, CLI_USAGE,
            "name the entry by the beginning of its id (or `last`), then what is right: mass=1.2kg.");
    cli_entry_start(&entry, BF_FIX, "fixed");
    for (int i = 2; code == CLI_OK && i < args->n_words; i++)
        code = cli_entry_set(command, &entry, args->word[i]);
    for (int i = 0; code == CLI_OK && i < args->n_sets; i++)
        code = cli_entry_set(command, &entry, args->set[i]);
    if (code == CLI_OK && args->option[OPT_AT]) {
        snprintf(at, sizeof at, "at=%s", args->option[OPT_AT]);
        code = cli_entry_set(command, &entry, at);
    }
    if (code == CLI_OK && args->n_words + args->n_sets == 2 && !args->option[OPT_AT] &&
        !args->option[OPT_NOTE])
        code = cli_say(command, CLI_USAGE, "say what is right: mass=1.2kg, at=11:40.");
    return code == CLI_OK ? correct(command, args, args->word[1], &entry) : code;
}
