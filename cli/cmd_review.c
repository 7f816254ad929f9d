/* cmd_review.c -- review, season and trial: questions about the journal that are answered in sentences and tables. */
#define _POSIX_C_SOURCE 200809L

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "cli/asked.h"
#include "cli/demo.h"
#include "cli/draw.h"
#include "cli/input.h"
#include "cli/journal.h"
#include "cli/learned.h"
#include "cli/show.h"
#include "cli/swim_request.h"
#include "cli/table.h"
#include "cli/what_if.h"

/* ---- The answer for people ---- */

static void show_texts(const bf_json *json, const char *key) {
    char text[1024];
    int list = bf_json_find(json, 0, key);
    if (list < 0) return;
    for (int i = bf_json_first(json, list); i >= 0; i = bf_json_next(json, i)) {
        if (bf_json_string(json, i, text, sizeof text) != BF_OK) continue;
        cli_disarm(text);
        cli_show_wrapped("", text);
    }
}

static void fill_row(const bf_json *json, int row, char (*cell)[CLI_CELL_BYTES]) {
    int column = 0;
    for (int i = bf_json_first(json, row); i >= 0 && column < CLI_TABLE_COLUMNS; i = bf_json_next(json, i)) {
        bf_status is_cut = bf_json_string(json, i, cell[column], CLI_CELL_BYTES);
        (void)is_cut;
        cli_disarm(cell[column++]);
    }
}

static void show_table(const bf_json *json, int of) {
    static cli_table table;
    static char head[CLI_TABLE_COLUMNS][CLI_CELL_BYTES];
    const char *heads[CLI_TABLE_COLUMNS + 1] = {NULL};
    char title[256], finding[1024];
    int rows = bf_json_find(json, of, "rows"), n = 0;
    if (rows < 0 || bf_json_first(json, rows) < 0) return;
    memset(head, 0, sizeof head);
    fill_row(json, bf_json_find(json, of, "heads"), head);
    while (n < CLI_TABLE_COLUMNS && head[n][0]) {
        heads[n] = head[n];
        n++;
    }
    cli_table_start(&table, heads);
    for (int row = bf_json_first(json, rows); row >= 0 && table.n_rows < CLI_TABLE_ROWS;
         row = bf_json_next(json, row))
        fill_row(json, row, cli_table_row(&table));
    printf("\n%s\n", cli_text(json, of, "title", title, sizeof title));
    cli_table_print(&table);
    if (cli_text(json, of, "finding", finding, sizeof finding)[0]) cli_show_wrapped("", finding);
}

static void show_tables(const bf_json *json) {
    int tables = bf_json_find(json, 0, "tables");
    if (tables < 0) return;
    for (int of = bf_json_first(json, tables); of >= 0; of = bf_json_next(json, of)) show_table(json, of);
}

/* "Withy Pool, peg 14, 2026-04-12" */
static void show_session(const bf_json *json) {
    char venue[64], peg[64], opened[64];
    int session = bf_json_find(json, 0, "session");
    if (session < 0) return;
    cli_text(json, session, "venue", venue, sizeof venue);
    cli_text(json, session, "peg", peg, sizeof peg);
    cli_text(json, session, "opened", opened, sizeof opened);
    opened[strcspn(opened, "T")] = 0;
    printf("%s%s%s%s%s\n\n", venue[0] ? venue : "A session without a venue", peg[0] ? ", peg " : "", peg,
           opened[0] ? ", " : "", opened);
}

static void show_in_short(const bf_json *json) {
    char text[1024], rule[1024];
    show_session(json);
    show_texts(json, "sentences");
    if (cli_text(json, 0, "note", text, sizeof text)[0])
        printf("\nWhen the first block begins, enter this note (`baitfall log add note \"...\"`, or on the "
               "page):\n"
               "  %s\n",
               text);
    if (cli_text(json, 0, "try", text, sizeof text)[0]) {
        fputc('\n', stdout);
        cli_show_wrapped("To try: ", text);
        cli_show_wrapped("Why: ", cli_text(json, 0, "try_rule", rule, sizeof rule));
    }
}

static void show(const bf_json *json) {
    show_in_short(json);
    show_tables(json);
    fputc('\n', stdout);
    cli_show_notes(json, 0);
}

/* ---- The question ---- */

/* 1 when a member is null or 0: there is nothing to tell. */
static int is_nothing(const bf_json *json, const char *what) {
    double number = 1;
    int value = bf_json_find(json, 0, what);
    if (value < 0) return 0;
    if (bf_json_kind_of(json, value) == BF_JSON_NULL) return 1;
    return bf_json_kind_of(json, value) == BF_JSON_NUMBER && bf_json_number(json, value, &number) == BF_OK &&
           number == 0;
}

/* The core says why a session cannot be drawn. */
static cli_exit refuse_drawing(const cli_command *command, const bf_json *json) {
    char text[1024];
    int notes = bf_json_find(json, 0, "notes");
    for (int i = notes < 0 ? -1 : bf_json_first(json, notes); i >= 0; i = bf_json_next(json, i))
        if (bf_json_is(json, bf_json_find(json, i, "code"), "not-drawn"))
            return cli_say(command, CLI_BAD_INPUT, "%s", cli_text(json, i, "text", text, sizeof text));
    return CLI_OK;
}

/* Asks, and prints the answer as JSON or for people. `what` is the member that says whether there is anything. */
static cli_exit ask(const cli_command *command, const cli_args *args, bf_journal *journal,
                    const cli_request *request, const char *what, const char *nothing) {
    size_t n;
    cli_answer answer = {.text = NULL};
    char *json = cli_request_json(request, &n);
    if (!json) return cli_say(command, CLI_INTERNAL, "out of memory.");
    cli_exit code = cli_ask_journal(command, journal, command->name, json, n, &answer);
    free(json);
    if (code == CLI_OK && is_nothing(&answer.json, what)) code = cli_say(command, CLI_NOTHING, "%s", nothing);
    int is_drawn = (command->groups & CLI_DRAW) && cli_wants_drawing(args);
    if (code == CLI_OK && is_drawn) code = refuse_drawing(command, &answer.json);
    if (code == CLI_OK && is_drawn) code = cli_write_drawings(command, args, &answer.json);
    if (code == CLI_OK && args->option[OPT_JSON])
        puts(answer.text);
    else if (code == CLI_OK)
        show(&answer.json);
    cli_answer_free(&answer);
    return code;
}

/* ---- Under another feeding ---- */

static void show_range(const bf_json *json, const char *what, const char *key) {
    char text[128];
    printf("  %-22s%s\n", what, cli_text(json, cli_object_at(json, 0, key), "text", text, sizeof text));
}

static void show_otherwise(const bf_json *json) {
    char how[256];
    int fed = cli_object_at(json, 0, "fed");
    show_session(json);
    cli_show_wrapped("", cli_text(json, 0, "how", how, sizeof how));
    printf("\n  %-22s%.0f pieces; instead %.0f\n", "fed", cli_number_at(json, fed, "was"),
           cli_number_at(json, fed, "instead"));
    printf("  %-22s%.0f fish\n", "landed that day", cli_number_at(json, 0, "landed"));
    show_range(json, "the model, as fed", "was");
    show_range(json, "the model, instead", "instead");
    show_range(json, "difference", "fish");
    show_range(json, "", "kg");
    fputc('\n', stdout);
    show_texts(json, "sentences");
    fputc('\n', stdout);
    cli_show_notes(json, 0);
}

static cli_exit ask_otherwise(const cli_command *command, const cli_args *args, cli_swim *swim) {
    size_t n;
    char *otherwise = NULL, *json = NULL;
    cli_answer answer = {.text = NULL};
    const bf_session *session = cli_swim_session(swim);
    if (!session) return cli_say(command, CLI_NOTHING, "there is no session in this journal.");
    cli_exit code = cli_read_what_if(command, args->option[OPT_WHAT_IF], session, &otherwise);
    if (code == CLI_OK) code = cli_put(command, &swim->request, "otherwise", otherwise, CLI_AS_JSON);
    if (code == CLI_OK && !(json = cli_request_json(&swim->request, &n)))
        code = cli_say(command, CLI_INTERNAL, "out of memory.");
    if (code == CLI_OK) code = cli_ask_journal(command, swim->journal, "otherwise", json, n, &answer);
    if (code == CLI_OK && args->option[OPT_JSON])
        puts(answer.text);
    else if (code == CLI_OK)
        show_otherwise(&answer.json);
    cli_answer_free(&answer);
    free(json);
    free(otherwise);
    return code;
}

static cli_exit review_otherwise(const cli_command *command, const cli_args *args) {
    static cli_swim swim;
    if (cli_wants_drawing(args)) return cli_say(command, CLI_USAGE, "--what-if has no drawing.");
    cli_exit code = cli_put_swim(command, args, &swim);
    if (code == CLI_OK) code = ask_otherwise(command, args, &swim);
    cli_swim_free(&swim);
    return code;
}

/* ---- The commands ---- */

/* The kit's baits, so that a review knows which of two is the larger. */
static cli_exit put_baits(const cli_command *command, const cli_args *args, cli_request *request,
                          char **baits) {
    cli_kit kit = {.text = NULL};
    cli_exit code = cli_read_kit(command, args, 0, &kit);
    *baits = code == CLI_OK ? cli_kit_baits(&kit) : NULL;
    cli_kit_free(&kit);
    return *baits ? cli_put(command, request, "baits", *baits, CLI_AS_JSON) : code;
}

cli_exit cli_review(const cli_command *command, const cli_args *args) {
    static cli_request request;
    char id[35], *baits = NULL;
    bf_journal *journal = NULL;
    if (args->option[OPT_WHAT_IF]) return review_otherwise(command, args);
    cli_exit code = cli_ask_drawing(command, args, &request);
    if (code == CLI_OK) code = put_baits(command, args, &request, &baits);
    if (code == CLI_OK && args->option[OPT_LOOK])
        code = cli_put(command, &request, "look", args->option[OPT_LOOK], CLI_AS_TEXT);
    if (code == CLI_OK && cli_wants_drawing(args))
        code = cli_put(command, &request, "wide", "true", CLI_AS_JSON);
    if (code == CLI_OK) code = cli_load_asked(command, args, 0, &request, id, &journal);
    if (code == CLI_OK)
        code = ask(command, args, journal, &request, "session", "there is no session in this journal.");
    free(journal);
    free(baits);
    return code;
}

cli_exit cli_review_in_short(const cli_command *command, bf_journal *journal) {
    cli_answer answer;
    cli_exit code = cli_ask_journal(command, journal, "review", "{}", 2, &answer);
    if (code == CLI_OK) show_in_short(&answer.json);
    cli_answer_free(&answer);
    return code;
}

/* What the bed's model learned, and how well it foretold each session. */
static cli_exit put_learned(const cli_command *command, const cli_args *args, bf_journal *journal,
                            cli_request *request, char **learned, char **foretold) {
    cli_kit kit = {.text = NULL};
    cli_exit code = cli_read_kit(command, args, 0, &kit);
    if (code == CLI_OK) code = cli_learn(command, journal, INFINITY, &kit, learned);
    if (code == CLI_OK) code = cli_foretell(command, journal, &kit, foretold);
    cli_kit_free(&kit);
    if (code == CLI_OK) code = cli_put(command, request, "learned", *learned, CLI_AS_JSON);
    return code == CLI_OK ? cli_put(command, request, "foretold", *foretold, CLI_AS_JSON) : code;
}

cli_exit cli_season(const cli_command *command, const cli_args *args) {
    static cli_request request;
    const char *file = args->n_words == 1 ? args->word[0] : NULL;
    bf_journal *journal = NULL;
    if (args->n_words > 1 || args->option[OPT_SESSION])
        return cli_say(command, CLI_USAGE,
                       "a season is of all sessions; name a file of journal lines, `-`, or none.");
    char *learned = NULL, *foretold = NULL;
    cli_exit code = cli_load_journal(command, args, file, &journal);
    if (code == CLI_OK && args->option[OPT_LEARNED])
        code = put_learned(command, args, journal, &request, &learned, &foretold);
    if (code == CLI_OK)
        code = ask(command, args, journal, &request, "n_sessions", "there is no session in this journal.");
    free(journal);
    free(learned);
    free(foretold);
    return code;
}

/* Every --set as a key below `under`: "plan." or "". */
static cli_exit put_sets(const cli_command *command, const cli_args *args, const char *under,
                         cli_request *request) {
    cli_exit code = CLI_OK;
    for (int i = 0; code == CLI_OK && i < args->n_sets; i++) {
        char path[CLI_PATH_BYTES];
        const char *equals = strchr(args->set[i], '=');
        if (!equals || equals == args->set[i])
            return cli_say(command, CLI_USAGE, "--set %s; accepted is KEY=VALUE.", args->set[i]);
        snprintf(path, sizeof path, "%s%.*s", under, (int)(equals - args->set[i]), args->set[i]);
        int is_truth = strcmp(equals + 1, "true") == 0 || strcmp(equals + 1, "false") == 0;
        code = cli_put(command, request, path, equals + 1, is_truth ? CLI_AS_JSON : CLI_AS_TEXT);
    }
    return code;
}

static const cli_opt plan_options[] = {OPT_HOURS, OPT_BLOCK, OPT_WASHOUT, OPT_BITES, OPT_SEED};
#define N_PLAN_OPTIONS (sizeof plan_options / sizeof plan_options[0])

static cli_exit put_plan(const cli_command *command, const cli_args *args, cli_request *request) {
    cli_exit code = CLI_OK;
    for (size_t i = 0; code == CLI_OK && i < N_PLAN_OPTIONS; i++) {
        char path[CLI_PATH_BYTES];
        const char *value = args->option[plan_options[i]];
        snprintf(path, sizeof path, "plan.%s", cli_options[plan_options[i]].path);
        if (value) code = cli_put(command, request, path, value, CLI_AS_TEXT);
    }
    return code == CLI_OK ? put_sets(command, args, "plan.", request) : code;
}

/* The journal only tells how often bites came so far: without one, a plan is made all the same. */
static cli_exit load_for_plan(const cli_command *command, const cli_args *args, bf_journal **journal) {
    char path[BF_PATH_MOST];
    if (args->option[OPT_DB] || (bf_store_path(path) && access(path, F_OK) == 0))
        return cli_load_journal(command, args, NULL, journal);
    void *memory = malloc(bf_journal_bytes(1, 1));
    if (!memory) return cli_say(command, CLI_INTERNAL, "out of memory.");
    *journal = bf_journal_start(memory, 1, 1);
    return CLI_OK;
}

static cli_exit plan_trial(const cli_command *command, const cli_args *args) {
    static cli_request request;
    bf_journal *journal = NULL;
    if (args->n_words > 1 || args->option[OPT_SESSION])
        return cli_say(command, CLI_USAGE,
                       "a plan takes no session; name the feeds with --set a=NAME --set b=NAME.");
    cli_exit code = put_plan(command, args, &request);
    if (code == CLI_OK && request.n == 0) code = cli_put(command, &request, "plan", "{}", CLI_AS_JSON);
    if (code == CLI_OK) code = load_for_plan(command, args, &journal);
    if (code == CLI_OK) code = ask(command, args, journal, &request, "note", "there is no plan.");
    free(journal);
    return code;
}

/* Options that only a plan has. */
static cli_exit refuse_plan_options(const cli_command *command, const cli_args *args) {
    for (size_t i = 0; i < N_PLAN_OPTIONS; i++)
        if (args->option[plan_options[i]])
            return cli_say(command, CLI_USAGE, "--%s goes with `trial plan`.",
                           cli_options[plan_options[i]].name);
    return CLI_OK;
}

cli_exit cli_trial(const cli_command *command, const cli_args *args) {
    static cli_request request;
    char id[35];
    bf_journal *journal = NULL;
    if (args->n_words > 0 && strcmp(args->word[0], "plan") == 0) return plan_trial(command, args);
    cli_exit code = refuse_plan_options(command, args);
    if (code == CLI_OK) code = put_sets(command, args, "", &request);
    if (code == CLI_OK) code = cli_load_asked(command, args, 0, &request, id, &journal);
    if (code == CLI_OK)
        code = ask(command, args, journal, &request, "trial",
                   "there is no trial in this journal; `baitfall trial plan` makes one.");
    free(journal);
    return code;
}
