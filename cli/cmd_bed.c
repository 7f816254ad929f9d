/* cmd_bed.c -- bed: what the model of the swim believes is down there. */
#define _POSIX_C_SOURCE 200809L

#include <stdlib.h>
#include <string.h>

#include "cli/asked.h"
#include "cli/draw.h"
#include "cli/input.h"
#include "cli/learned.h"
#include "cli/show.h"
#include "cli/table.h"
#include "cli/when.h"

/* ---- For people ---- */

static void show_head(const bf_json *json) {
    char venue[64], peg[64], at[64], spot[64], clock[16];
    int session = bf_json_find(json, 0, "session");
    cli_text(json, session, "venue", venue, sizeof venue);
    cli_text(json, session, "peg", peg, sizeof peg);
    cli_text(json, 0, "at", at, sizeof at);
    cli_text(json, 0, "at_text", clock, sizeof clock);
    cli_text(json, 0, "spot", spot, sizeof spot);
    at[strcspn(at, "T")] = 0;
    printf("%s%s%s, %s %s%s%s\n", venue[0] ? venue : "A session without a venue", peg[0] ? ", peg " : "", peg,
           at, clock, spot[0] ? ", spot " : "", spot);
}

static void show_known(const bf_json *json) {
    char text[1024];
    int list = bf_json_find(json, cli_object_at(json, 0, "known"), "sentences");
    for (int i = list < 0 ? -1 : bf_json_first(json, list); i >= 0; i = bf_json_next(json, i)) {
        if (bf_json_string(json, i, text, sizeof text) != BF_OK) continue;
        cli_disarm(text);
        cli_show_wrapped("  ", text);
    }
}

static void show_line(const char *what, const char *text) {
    char first[24];
    snprintf(first, sizeof first, "  %-11s", what);
    cli_show_wrapped(first, text);
}

static void show_sizes(const bf_json *json) {
    char bait[256], text[256], line[512];
    int list = bf_json_find(json, 0, "left_of");
    int first = list < 0 ? -1 : bf_json_first(json, list);
    if (first < 0 || bf_json_next(json, first) < 0) return; // one size: said already
    for (int i = first; i >= 0; i = bf_json_next(json, i)) {
        snprintf(line, sizeof line, "%s: %s", cli_text(json, i, "bait", bait, sizeof bait),
                 cli_text(json, i, "text", text, sizeof text));
        show_line("", line);
    }
}

static void show_reckoned(const bf_json *json) {
    static const struct {
        const char *key, *what;
    } said[] = {{"left", "left"}, {"fish", "fish"}, {"bites_h", "bites"}, {"wide_m", "lies over"}};
    char text[512];
    for (size_t i = 0; i < sizeof said / sizeof said[0]; i++) {
        show_line(said[i].what,
                  cli_text(json, cli_object_at(json, 0, said[i].key), "text", text, sizeof text));
        if (i == 0) show_sizes(json);
    }
    show_line("in short", cli_text(json, 0, "sentence", text, sizeof text));
}

/* "11:42" of "2026-03-23T11:42:07..." */
static void put_clock(const bf_json *json, int of, const char *key, char *cell) {
    char at[64];
    cli_text(json, of, key, at, sizeof at);
    snprintf(cell, CLI_CELL_BYTES, "%.5s", strlen(at) > 16 ? at + 11 : "");
}

static void show_ledger(const bf_json *json) {
    static cli_table table;
    static const char *const heads[] = {"From", "To", "What went in", "How much, and what came of it", NULL};
    int list = bf_json_find(json, 0, "ledger");
    if (list < 0 || bf_json_first(json, list) < 0) return;
    cli_table_start(&table, heads);
    for (int i = bf_json_first(json, list); i >= 0; i = bf_json_next(json, i)) {
        char(*cell)[CLI_CELL_BYTES] = cli_table_row(&table);
        put_clock(json, i, "from", cell[0]);
        put_clock(json, i, "to", cell[1]);
        cli_text(json, i, "what", cell[2], CLI_CELL_BYTES);
        cli_text(json, i, "text", cell[3], CLI_CELL_BYTES);
    }
    printf("\nPut-in by put-in, newest first (gone: eaten or to crumbs)\n");
    cli_table_print(&table);
}

static void show(const bf_json *json) {
    char text[512];
    show_head(json);
    printf("\nKnown\n");
    show_known(json);
    printf("\nReckoned\n");
    show_reckoned(json);
    show_ledger(json);
    fputc('\n', stdout);
    cli_show_wrapped("", cli_text(json, 0, "what", text, sizeof text));
    cli_show_wrapped("Rests on ",
                     cli_text(json, cli_object_at(json, 0, "rests_on"), "text", text, sizeof text));
    fputc('\n', stdout);
    cli_show_notes(json, 0);
}

/* ---- The request ---- */

/* What a request is made of, and must outlive it. */
typedef struct parts {
    char session[35], at[BF_INSTANT_BYTES + 2];
    cli_kit kit;
    char *plan, *spot, *learned;
} parts;

static cli_exit put_kit(const cli_command *command, const cli_args *args, cli_request *request, parts *p) {
    cli_exit code = cli_read_kit(command, args, 0, &p->kit);
    if (code != CLI_OK || !p->kit.text) return code;
    return cli_put(command, request, "kit", p->kit.text, CLI_AS_JSON);
}

static cli_exit put_plan(const cli_command *command, const cli_args *args, cli_request *request, parts *p) {
    char *text;
    size_t n, n_plan;
    if (!args->option[OPT_PLAN]) return CLI_OK;
    cli_exit code = cli_read_object(command, args->option[OPT_PLAN], &text, &n);
    if (code != CLI_OK) return code;
    p->plan = cli_plan_with(&p->kit, "", text, n, &n_plan);
    free(text);
    if (!p->plan) return cli_say(command, CLI_INTERNAL, "out of memory.");
    return cli_put(command, request, "plan", p->plan, CLI_AS_JSON);
}

/* A name is text even when it looks like a number. */
static cli_exit put_spot(const cli_command *command, const cli_args *args, cli_request *request, parts *p) {
    size_t n;
    if (!args->option[OPT_SPOT]) return CLI_OK;
    FILE *to = open_memstream(&p->spot, &n);
    if (!to) return cli_say(command, CLI_INTERNAL, "out of memory.");
    cli_write_string(to, args->option[OPT_SPOT]);
    if (fclose(to) != 0) return cli_say(command, CLI_INTERNAL, "out of memory.");
    return cli_put(command, request, "spot", p->spot, CLI_AS_JSON);
}

/* The session that is asked about, as the core finds it; NULL: none. */
static const bf_session *session_of(bf_journal *journal, const char *hex) {
    const bf_fold *fold = bf_journal_fold(journal);
    bf_id id;
    int open = bf_fold_open_session(fold);
    if (hex[0] && bf_id_read(hex + 1, 32, &id) == BF_OK)
        for (int i = 0; i < fold->n_sessions; i++)
            if (bf_id_order(fold->session[i].id, id) == 0) return &fold->session[i];
    if (open >= 0) return &fold->session[open];
    return fold->n_sessions ? &fold->session[fold->n_sessions - 1] : NULL;
}

/* An open session is asked about as of now, unless nothing was entered for so long. */
#define FORGOTTEN_MS (12 * 3600e3)

static cli_exit put_at(const cli_command *command, const cli_args *args, bf_journal *journal,
                       cli_request *request, parts *p) {
    const char *text = args->option[OPT_AT];
    const bf_session *session = session_of(journal, p->session);
    cli_when when = cli_now();
    if (!session) return CLI_OK;
    if (!text && (session->closed_ms == session->closed_ms || !(when.ms - session->last_ms < FORGOTTEN_MS)))
        return CLI_OK;
    if (text && cli_read_clock_after(text, session->opened_ms, session->east_min, &when.ms))
        when.east_min = session->east_min;
    else {
        cli_exit code = cli_read_when(command, text, &when);
        if (code != CLI_OK) return code;
    }
    p->at[0] = '"';
    bf_instant_write(when.ms, when.east_min, p->at + 1);
    strcat(p->at, "\"");
    return cli_put(command, request, text ? "at" : "now", p->at, CLI_AS_JSON);
}

static cli_exit put_learned(const cli_command *command, const cli_args *args, bf_journal *journal,
                            cli_request *request, parts *p) {
    const bf_session *session = session_of(journal, p->session);
    if (args->option[OPT_BOOK] || !session) return CLI_OK;
    cli_exit code = cli_learn(command, journal, session->opened_ms, &p->kit, &p->learned);
    return code == CLI_OK ? cli_put(command, request, "learned", p->learned, CLI_AS_JSON) : code;
}

/* Options whose value is the request's. */
static cli_exit put_options(const cli_command *command, const cli_args *args, cli_request *request) {
    static const cli_opt plain[] = {OPT_SEED, OPT_LOOK};
    cli_exit code = CLI_OK;
    for (size_t i = 0; code == CLI_OK && i < sizeof plain / sizeof plain[0]; i++)
        if (args->option[plain[i]])
            code = cli_put(command, request, cli_options[plain[i]].path, args->option[plain[i]], CLI_AS_TEXT);
    return code;
}

/* ---- The command ---- */

static cli_exit ask(const cli_command *command, const cli_args *args, bf_journal *journal,
                    const cli_request *request) {
    size_t n;
    cli_answer answer = {.text = NULL};
    char *json = cli_request_json(request, &n);
    if (!json) return cli_say(command, CLI_INTERNAL, "out of memory.");
    cli_exit code = cli_ask_journal(command, journal, "bed", json, n, &answer);
    free(json);
    if (code == CLI_OK && cli_object_at(&answer.json, 0, "session") < 0)
        code = cli_say(command, CLI_NOTHING, "there is no session in this journal.");
    if (code == CLI_OK && cli_wants_drawing(args)) code = cli_write_drawings(command, args, &answer.json);
    if (code == CLI_OK && args->option[OPT_JSON])
        puts(answer.text);
    else if (code == CLI_OK)
        show(&answer.json);
    cli_answer_free(&answer);
    return code;
}

cli_exit cli_bed(const cli_command *command, const cli_args *args) {
    static cli_request request;
    parts p = {.kit = {.text = NULL}};
    bf_journal *journal = NULL;
    cli_exit code = cli_ask_drawing(command, args, &request);
    if (code == CLI_OK) code = put_options(command, args, &request);
    if (code == CLI_OK) code = put_kit(command, args, &request, &p);
    if (code == CLI_OK) code = put_plan(command, args, &request, &p);
    if (code == CLI_OK) code = put_spot(command, args, &request, &p);
    if (code == CLI_OK) code = cli_load_asked(command, args, 0, &request, p.session, &journal);
    if (code == CLI_OK) code = put_at(command, args, journal, &request, &p);
    if (code == CLI_OK) code = put_learned(command, args, journal, &request, &p);
    if (code == CLI_OK) code = ask(command, args, journal, &request);
    free(journal);
    cli_kit_free(&p.kit);
    free(p.plan);
    free(p.spot);
    free(p.learned);
    return code;
}
