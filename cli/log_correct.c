/* log_correct.c -- earlier entries put right, each by a further entry: crossed out, put back, fixed. */
#define _POSIX_C_SOURCE 200809L

#include <stdlib.h>
#include <string.h>

#include "cli/log.h"
#include "cli/log_store.h"

/* ---- Which entry ---- */

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

/* 1 when the live entry may be the "last" to be crossed out, fixed or shown: an act that counts, of a device when one is given. */
static int may_be_last(const target *t, const bf_live *live, const uint32_t *dev, int kind) {
    if ((dev && event_of(t, live)->dev != *dev) || live->is_crossed) return 0;
    if (live->kind == BF_FIX) return kind == BF_CROSS;
    return live->kind != BF_CROSS && live->kind != BF_RESTORE && live->kind != BF_CLOCK;
}

/* By seq: the clock may have been wrong. */
static void find_last_act(target *t, const uint32_t *dev, int kind) {
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

cli_exit cli_is_last(const cli_command *command, const cli_args *args, int *is_last) {
    *is_last = strcmp(args->word[1], "last") == 0;
    if (*is_last || !args->option[OPT_SESSION]) return CLI_OK;
    return cli_say(command, CLI_USAGE, "--session goes with `last`; an id names its entry alone.");
}

static cli_exit find_target(const cli_command *command, const cli_args *args, bf_store *store, int kind,
                            target *t) {
    bf_id id;
    int is_last = 1;
    uint32_t dev = bf_store_dev(store);
    cli_exit code = args->n_words > 1 ? cli_is_last(command, args, &is_last) : CLI_OK;
    if (code == CLI_OK)
        code = is_last ? cli_some_session(command, args, store, &t->session)
                       : cli_find_entry(command, store, args->word[1], &id, &t->session);
    if (code == CLI_OK) code = load_session(command, store, t);
    if (code != CLI_OK) return code;
    int i = is_last ? -1 : bf_fold_find(t->fold, t->events, id);
    if (i >= 0) t->live = &t->fold->live[i];
    if (is_last && kind == BF_RESTORE) find_last_crossed(t, dev);
    if (is_last && kind != BF_RESTORE) find_last_act(t, &dev, kind);
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

/* What became of it. A fix is no row of the log: it is told by the entry that it fixes. */
static void say_corrected(const cli_command *command, bf_store *store, const target *t, int kind) {
    static const char *const words[] = {
        [BF_CROSS] = "Crossed out: ", [BF_RESTORE] = "Put back: ", [BF_FIX] = "Fixed: "};
    char before[64];
    const bf_event *event = event_of(t, t->live);
    int is_fix = t->live->kind == BF_FIX;
    bf_journal *journal = cli_load_to_say(command, store);
    snprintf(before, sizeof before, "%s%s", words[kind], is_fix ? "a fix; the entry is now: " : "");
    cli_say_entry(command, journal, before, t->session, is_fix ? event->of : event->id);
    free(journal);
}

static cli_exit correct(const cli_command *command, const cli_args *args, cli_entry *entry) {
    cli_envelope envelope;
    bf_store *store = NULL;
    target t = {0};
    const char *note = args->option[OPT_NOTE];
    cli_exit code = note ? cli_entry_note(command, entry, note) : CLI_OK;
    if (code == CLI_OK) code = cli_open_store(command, args, BF_STORE_TO_ADD, &store);
    if (code == CLI_OK) code = find_target(command, args, store, entry->kind, &t);
    if (code == CLI_OK) code = check_state(command, &t, entry->kind);
    if (code == CLI_OK && entry->kind == BF_FIX) code = check_fields(command, &t, entry);
    if (code == CLI_OK) code = cli_start_envelope(command, store, &envelope);
    if (code == CLI_OK) {
        envelope.session = t.session;
        envelope.of = event_of(&t, t.live)->id;
        code = cli_store_entry(command, args, store, entry, &envelope);
    }
    if (code == CLI_OK && !args->option[OPT_JSON]) say_corrected(command, store, &t, entry->kind);
    cli_entry_free(entry);
    free(t.journal);
    bf_store_close(store);
    return code;
}

cli_exit cli_last_entry(const cli_command *command, const cli_args *args, bf_store *store, bf_id *id,
                        bf_id *session) {
    target t = {0};
    cli_exit code = cli_some_session(command, args, store, &t.session);
    if (code == CLI_OK) code = load_session(command, store, &t);
    if (code == CLI_OK) find_last_act(&t, NULL, BF_NOTE);
    if (code == CLI_OK && !t.live)
        code =
            cli_say(command, CLI_NOTHING, "every entry of the session is crossed out; name one by its id.");
    if (code == CLI_OK) {
        *id = event_of(&t, t.live)->id;
        *session = t.session;
    }
    free(t.journal);
    return code;
}

static cli_exit cross_or_restore(const cli_command *command, const cli_args *args, int kind) {
    static cli_entry entry;
    if (args->n_words > 2)
        return cli_say(command, CLI_USAGE, "name one entry by the beginning of its id, or `last`.");
    cli_entry_start(&entry, kind, kind == BF_CROSS ? "crossed out" : "put back");
    return correct(command, args, &entry);
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
    cli_entry_start(&entry, BF_FIX, "a fix");
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
    return code == CLI_OK ? correct(command, args, &entry) : code;
}
