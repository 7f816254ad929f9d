/* log_now.c -- how a session stands: the answer to the question `bank` for a terminal. */
#define _POSIX_C_SOURCE 200809L

#include <stdlib.h>
#include <string.h>

#include "cli/input.h"
#include "cli/log.h"
#include "cli/show.h"
#include "cli/when.h"

#define STALE_MS (12 * 3600000.0) /* an open session untouched for so long was forgotten to be closed */

/* The instant that an answer is about. */
typedef enum as_of { AT_NOW, AT_LAST, AT_END } as_of;

/* ---- Pieces of the answer ---- */

#define TEXT_BYTES 1024

/* Text below a member of the answer, "" when there is none. */
static const char *text_in(const bf_json *json, const char *member, const char *key, char out[TEXT_BYTES]) {
    int object = bf_json_find(json, 0, member);
    out[0] = 0;
    return object >= 0 && bf_json_kind_of(json, object) == BF_JSON_OBJECT
               ? cli_text(json, object, key, out, TEXT_BYTES)
               : out;
}

/* "  Box         " */
static void print_label(const char *label) {
    fputs("  ", stdout);
    cli_show_padded(label, 12);
}

/* The texts of a list, one a line, the first behind the label. */
static void show_list(const bf_json *json, const char *key, const char *label) {
    char text[TEXT_BYTES];
    int list = bf_json_find(json, 0, key);
    for (int i = bf_json_first(json, list); i >= 0; i = bf_json_next(json, i)) {
        print_label(label);
        puts(cli_text(json, i, "text", text, sizeof text));
        label = "";
    }
}

/* ---- The answer ---- */

/* "Withy Pool, peg 14: open, now 11:42" */
static void show_head(const bf_json *json, as_of at) {
    static const char *const words[] = {
        [AT_NOW] = "open, now", [AT_LAST] = "open, as of its last entry at", [AT_END] = "closed at"};
    char venue[TEXT_BYTES], peg[TEXT_BYTES], clock[16];
    text_in(json, "session", "venue", venue);
    text_in(json, "session", "peg", peg);
    cli_text(json, 0, "now_text", clock, sizeof clock);
    printf("%s%s%s: %s %s\n", venue[0] ? venue : "A session without a venue", peg[0] ? ", peg " : "", peg,
           clock[0] ? words[at] : "all crossed out", clock);
}

/* A net that is over, or the next to be, comes before all else. */
static void show_warning(const bf_json *json) {
    char words[TEXT_BYTES];
    if (!cli_text(json, 0, "net_words", words, sizeof words)[0]) return;
    fputc('\n', stdout);
    cli_show_wrapped(">>> ", words);
    fputc('\n', stdout);
}

static void show_clocks(const bf_json *json, as_of at) {
    char text[TEXT_BYTES], what[TEXT_BYTES];
    const char *ago = at == AT_NOW ? "ago" : "before";
    print_label("Fed");
    if (text_in(json, "fed", "text", text)[0])
        printf("%s %s: %s\n", text, ago, text_in(json, "fed", "what", what));
    else
        puts("not yet");
    print_label("Bite");
    if (text_in(json, "bite", "text", text)[0])
        printf("%s %s\n", text, ago);
    else
        puts("not yet");
    if (!text_in(json, "wait", "text", text)[0]) return;
    print_label("Waiting");
    printf("%s, counted from the last %s\n", text,
           strcmp(text_in(json, "wait", "start", what), "lower") == 0 ? "rig in" : what);
}

static void show_counts(const bf_json *json) {
    static const char *const keys[] = {"fish", "missed", "lost", "foul", "touch", "nothing"};
    int counts = bf_json_find(json, 0, "counts");
    print_label("So far");
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++) {
        double n = 0;
        bf_status is_read = bf_json_number(json, bf_json_find(json, counts, keys[i]), &n);
        if (is_read == BF_OK) printf("%s%s %.0f", i ? ", " : "", keys[i], n);
    }
    fputc('\n', stdout);
}

/* Where the rig fishes, and on what; the entries to come have it when they do not say. */
static void show_where(const bf_json *json) {
    char spot[TEXT_BYTES], bait[TEXT_BYTES];
    cli_text(json, 0, "spot", spot, sizeof spot);
    cli_text(json, 0, "hook_bait", bait, sizeof bait);
    if (!spot[0] && !bait[0]) return;
    print_label("Fishing");
    printf("%s%s%s\n", spot, spot[0] && bait[0] ? ", " : "", bait);
}

static void show_now(const bf_json *json, as_of at) {
    char text[TEXT_BYTES];
    show_head(json, at);
    show_warning(json);
    show_clocks(json, at);
    show_where(json);
    show_counts(json);
    show_list(json, "nets", "Nets");
    show_list(json, "box", "Box");
    if (text_in(json, "pace", "text", text)[0]) {
        print_label("Pace");
        puts(text);
    }
    if (text_in(json, "bias", "text", text)[0]) {
        print_label("Guessing");
        puts(text);
    }
    show_list(json, "same_fish", "Same fish?");
    cli_show_notes(json, 0);
    if (at == AT_LAST)
        cli_show_wrapped("  - ",
                         "Nothing was entered for more than twelve hours. If the day is over, `baitfall "
                         "log add close --at TIME` says when it ended.");
}

/* ---- The question ---- */

static as_of choose_instant(bf_journal *journal, bf_id id, double now_ms) {
    const bf_fold *fold = bf_journal_fold(journal);
    const bf_session *session = fold->session;
    while (session < fold->session + fold->n_sessions && bf_id_order(session->id, id) != 0) session++;
    BF_ASSERT(session < fold->session + fold->n_sessions);
    if (session->opened_ms != session->opened_ms || session->closed_ms == session->closed_ms) return AT_END;
    return now_ms - session->last_ms > STALE_MS ? AT_LAST : AT_NOW;
}

/* The core takes a session as of its end, or of its last entry, when no instant is given. */
static char *write_request(bf_store *store, bf_id session, const cli_when *now, const char *baits,
                           size_t *n) {
    char *request = NULL, hex[33], instant[BF_INSTANT_BYTES];
    FILE *to = open_memstream(&request, n);
    if (!to) return NULL;
    bf_id_write(session, hex);
    fprintf(to, "{\"session\":\"%s\",\"dev\":\"%08x\"", hex, (unsigned int)bf_store_dev(store));
    if (now) bf_instant_write(now->ms, now->east_min, instant);
    if (now) fprintf(to, ",\"now\":\"%s\"", instant);
    if (baits) fprintf(to, ",\"baits\":%s", baits);
    fputs("}", to);
    if (fclose(to) == 0) return request;
    free(request);
    return NULL;
}

static cli_exit ask(const cli_command *command, const cli_args *args, bf_store *store, bf_journal *journal,
                    bf_id session) {
    cli_kit kit;
    cli_answer answer = {.text = NULL};
    size_t n;
    cli_exit code = cli_read_kit(command, args, 0, &kit);
    char *baits = code == CLI_OK ? cli_kit_baits(&kit) : NULL;
    cli_when now = cli_now();
    as_of at = choose_instant(journal, session, now.ms);
    char *request = write_request(store, session, at == AT_NOW ? &now : NULL, baits, &n);
    if (code == CLI_OK && !request) code = cli_say(command, CLI_INTERNAL, "out of memory.");
    if (code == CLI_OK) code = cli_ask_journal(command, journal, "bank", request, n, &answer);
    if (code == CLI_OK && args->option[OPT_JSON])
        puts(answer.text);
    else if (code == CLI_OK)
        show_now(&answer.json, at);
    cli_answer_free(&answer);
    free(request);
    free(baits);
    cli_kit_free(&kit);
    return code;
}

cli_exit cli_log_now(const cli_command *command, const cli_args *args) {
    bf_store *store = NULL;
    bf_store_error error;
    bf_journal *journal = NULL;
    bf_id session;
    if (args->n_words > 1)
        return cli_say(command, CLI_USAGE, "now takes no words; --session names another session.");
    cli_exit code = cli_open_store(command, args, BF_STORE_TO_READ, &store);
    if (code == CLI_OK) code = cli_some_session(command, args, store, &session);
    if (code == CLI_OK && bf_store_load(store, NULL, &journal, &error) != BF_STORE_OK)
        code = cli_say_store(command, &error);
    if (code == CLI_OK) code = ask(command, args, store, journal, session);
    free(journal);
    bf_store_close(store);
    return code;
}
