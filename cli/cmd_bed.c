/* cmd_bed.c -- bed: what the model of the swim believes is down there. */
#define _POSIX_C_SOURCE 200809L

#include <stdlib.h>
#include <string.h>

#include "cli/draw.h"
#include "cli/show.h"
#include "cli/swim_request.h"
#include "cli/table.h"

/* ---- For people ---- */

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
        snprintf(line, sizeof line, "%s: %s", cli_text(json, i, "name", bait, sizeof bait),
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

/* The other spots, where there are any: "margin: about 20 pieces (5-30); fish few". */
static void show_spots(const bf_json *json) {
    char spot[64], other[64], left[256], fish[64], line[512];
    int list = bf_json_find(json, 0, "spots"), n = 0;
    cli_text(json, 0, "spot", spot, sizeof spot);
    for (int i = list < 0 ? -1 : bf_json_first(json, list); i >= 0; i = bf_json_next(json, i)) {
        if (strcmp(cli_text(json, i, "spot", other, sizeof other), spot) == 0) continue;
        snprintf(line, sizeof line, "%s: %s; fish %s", other,
                 cli_text(json, cli_object_at(json, i, "left"), "text", left, sizeof left),
                 cli_text(json, i, "fish", fish, sizeof fish));
        show_line(n++ ? "" : "elsewhere", line);
    }
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

void cli_show_bed(const bf_json *json) {
    char text[512];
    cli_show_swim_head(json);
    printf("\nKnown\n");
    cli_show_swim_known(json);
    printf("\nReckoned\n");
    show_reckoned(json);
    show_spots(json);
    show_ledger(json);
    fputc('\n', stdout);
    cli_show_wrapped("", cli_text(json, 0, "what", text, sizeof text));
    cli_show_wrapped("Rests on ",
                     cli_text(json, cli_object_at(json, 0, "rests_on"), "text", text, sizeof text));
    fputc('\n', stdout);
    cli_show_notes(json, 0);
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
        cli_show_bed(&answer.json);
    cli_answer_free(&answer);
    return code;
}

cli_exit cli_bed(const cli_command *command, const cli_args *args) {
    static cli_swim swim;
    cli_exit code = cli_ask_drawing(command, args, &swim.request);
    if (code == CLI_OK) code = cli_put_swim(command, args, &swim);
    if (code == CLI_OK) code = ask(command, args, swim.journal, &swim.request);
    cli_swim_free(&swim);
    return code;
}
