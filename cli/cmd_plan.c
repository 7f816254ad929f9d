/* cmd_plan.c -- a plan file in; what its feed comes to out. */
#define _POSIX_C_SOURCE 200809L

#include <stdlib.h>
#include <string.h>

#include "baitfall/plan.h"
#include "baitfall/unit.h"
#include "cli/input.h"
#include "cli/remarks.h"
#include "cli/request.h"
#include "cli/show.h"
#include "cli/table.h"

/* The request ------------------------------------------------------------------------------------------------- */

/* 1 when the plan brings a kit of its own. Text that cannot be read is left for the core to refuse. */
static int has_kit(const char *plan, size_t n) {
    bf_json json;
    bf_json_fault fault;
    int most_tokens = (int)(n / 2) + 1, found = 1;
    void *tokens = malloc(bf_json_bytes(most_tokens));
    if (tokens && bf_json_read(plan, n, tokens, most_tokens, &json, &fault) == BF_OK)
        found = bf_json_find(&json, 0, "kit") >= 0;
    free(tokens);
    return found;
}

static void put_option(FILE *to, const cli_args *args, cli_opt option) {
    if (!args->option[option]) return;
    fprintf(to, "\"%s\":", cli_options[option].path);
    cli_write_value(to, args->option[option], CLI_AS_TEXT);
    fputc(',', to);
}

/* Where something may be put before the first key of an object; 0: there is no such place, the core will refuse it. */
static size_t before_first_key(const char *plan) {
    static const char space[] = " \t\r\n";
    size_t brace = strspn(plan, space);
    if (plan[brace] != '{') return 0;
    return plan[brace + 1 + strspn(plan + brace + 1, space)] == '"' ? brace + 1 : 0;
}

/* The plan with what the command line adds to it: the machine's kit when it has none, seed and draws. */
static char *complete(const cli_args *args, const cli_kit *kit, const char *plan, size_t n,
                      size_t *n_request) {
    char *request = NULL;
    size_t place = before_first_key(plan);
    FILE *to = open_memstream(&request, n_request);
    if (!to) return NULL;
    fwrite(plan, 1, place, to);
    if (place > 0) {
        put_option(to, args, OPT_SEED);
        put_option(to, args, OPT_DRAWS);
        if (kit->text && !has_kit(plan, n)) fprintf(to, "\"kit\":%s,", kit->text);
    }
    fwrite(plan + place, 1, n - place, to);
    if (fclose(to) == 0) return request;
    free(request);
    return NULL;
}

/* The answer for people ------------------------------------------------------------------------------------- */

static double number_at(const bf_json *json, int object, const char *key) {
    double number = BF_NAN;
    int value = bf_json_find(json, object, key);
    if (value < 0 || bf_json_kind_of(json, value) != BF_JSON_NUMBER) return BF_NAN;
    return bf_json_number(json, value, &number) == BF_OK ? number : BF_NAN;
}

/* A range's text into a cell. */
static void put_range(const bf_json *json, int object, const char *key, char cell[CLI_CELL_BYTES]) {
    int range = bf_json_find(json, object, key);
    if (range >= 0) cli_text(json, range, "text", cell, CLI_CELL_BYTES);
}

/* Hours and minutes since the start: "1:20". */
static int put_clock(double s, char *out, size_t most) {
    int minutes = (int)(s / 60 + 0.5);
    return snprintf(out, most, "%d:%02d", minutes / 60, minutes % 60);
}

static void put_when(const bf_json *json, int line, char cell[CLI_CELL_BYTES]) {
    char every[BF_SAY_MOST], from[16], last[16];
    int n = (int)number_at(json, line, "put_ins");
    put_clock(number_at(json, line, "from_s"), from, sizeof from);
    if (n == 1) {
        snprintf(cell, CLI_CELL_BYTES, "%s once", from);
        return;
    }
    put_clock(number_at(json, line, "until_s"), last, sizeof last);
    bf_say(number_at(json, line, "every_s"), BF_TIME, every);
    snprintf(cell, CLI_CELL_BYTES, "%s-%s every %.24s: %d", from, last, every, n);
}

/* A new row with the spot and the bait of a line of feed in its first two cells. */
static char (*new_row(cli_table *table, const bf_json *json, int line))[CLI_CELL_BYTES] {
    char(*cell)[CLI_CELL_BYTES] = cli_table_row(table);
    cli_text(json, line, "spot", cell[0], CLI_CELL_BYTES);
    cli_text(json, line, "bait", cell[1], CLI_CELL_BYTES);
    return cell;
}

static void show_lines(const bf_json *json) {
    static const char *const heads[] = {"spot", "bait", "how", "when (h:min)", "pieces", NULL};
    static cli_table table;
    int feed = bf_json_find(json, 0, "feed");
    cli_table_start(&table, heads);
    for (int line = bf_json_first(json, feed); line >= 0; line = bf_json_next(json, line)) {
        char(*cell)[CLI_CELL_BYTES] = new_row(&table, json, line);
        cli_text(json, line, "how", cell[2], CLI_CELL_BYTES);
        put_when(json, line, cell[3]);
        put_range(json, line, "pieces", cell[4]);
    }
    puts("Each put-in");
    cli_table_print(&table);
}

/* A table of ranges for every line of feed, keys and heads side by side after spot and bait. */
static void show_ranges(const bf_json *json, const char *title, const char *const *heads,
                        const char *const *keys) {
    static cli_table table;
    int feed = bf_json_find(json, 0, "feed");
    cli_table_start(&table, heads);
    for (int line = bf_json_first(json, feed); line >= 0; line = bf_json_next(json, line)) {
        char(*cell)[CLI_CELL_BYTES] = new_row(&table, json, line);
        for (int i = 0; keys[i]; i++) put_range(json, line, keys[i], cell[2 + i]);
    }
    printf("\n%s\n", title);
    cli_table_print(&table);
}

static void show_falls(const bf_json *json) {
    static const char *const heads[] = {"spot",         "bait",           "middle piece down",
                                        "9 in 10 down", "9 in 10 within", NULL};
    static const char *const keys[] = {"time_s", "last_s", "wide_m", NULL};
    show_ranges(json, "How long it takes, and how wide it lies", heads, keys);
}

static void show_places(const bf_json *json) {
    static const char *const heads[] = {"spot", "bait", "the middle lies out", "to the right", NULL};
    static const char *const keys[] = {"out_m", "right_m", NULL};
    show_ranges(json, "Where it lies against the point meant", heads, keys);
}

/* What the box says of a bait: "enough (99 %)", the part of the draws in which it is enough, and what is left. */
static void put_left(const bf_json *json, int bait, char *verdict, char left[CLI_CELL_BYTES]) {
    static const char *const keys[] = {"left_kg", "left_m3", "left_pieces"};
    double enough = number_at(json, bait, "enough_frac");
    if (enough != enough) {
        snprintf(verdict, CLI_CELL_BYTES, "not in the box");
        return;
    }
    for (int i = 0; i < 3; i++) put_range(json, bait, keys[i], left);
    snprintf(verdict, CLI_CELL_BYTES, "%s (%.0f %%)",
             enough >= 0.9   ? "enough"
             : enough >= 0.1 ? "in doubt"
                             : "short",
             enough * 100);
}

static void show_baits(const bf_json *json) {
    static const char *const heads[] = {"bait", "pieces", "weight", "box (chance)", "left", NULL};
    static cli_table table;
    int baits = bf_json_find(json, 0, "baits");
    cli_table_start(&table, heads);
    for (int bait = bf_json_first(json, baits); bait >= 0; bait = bf_json_next(json, bait)) {
        char(*cell)[CLI_CELL_BYTES] = cli_table_row(&table);
        cli_text(json, bait, "bait", cell[0], CLI_CELL_BYTES);
        put_range(json, bait, "pieces", cell[1]);
        put_range(json, bait, "mass_kg", cell[2]);
        put_left(json, bait, cell[3], cell[4]);
    }
    puts("\nAltogether");
    cli_table_print(&table);
}

static void show_notes(const bf_json *json) {
    static cli_remarks all;
    int feed = bf_json_find(json, 0, "feed");
    cli_add_remarks(&all, json, 0, "");
    for (int line = bf_json_first(json, feed); line >= 0; line = bf_json_next(json, line)) {
        char spot[56], bait[56], of[sizeof spot + sizeof bait + 2];
        cli_text(json, line, "spot", spot, sizeof spot);
        cli_text(json, line, "bait", bait, sizeof bait);
        snprintf(of, sizeof of, "%s, %s", spot, bait);
        cli_add_remarks(&all, json, line, of);
    }
    fputc('\n', stdout);
    cli_show_remarks(&all);
}

static void show(const bf_json *json) {
    char name[256];
    if (cli_text(json, 0, "name", name, sizeof name)[0]) printf("%s\n\n", name);
    show_lines(json);
    show_falls(json);
    show_places(json);
    show_baits(json);
    show_notes(json);
}

/* 1 when the box is more likely short than enough for some bait. */
static int is_box_short(const bf_json *json) {
    int is_short = 0, baits = bf_json_find(json, 0, "baits");
    for (int bait = bf_json_first(json, baits); bait >= 0; bait = bf_json_next(json, bait))
        is_short |= number_at(json, bait, "enough_frac") < 0.5;
    return is_short;
}

cli_exit cli_plan(const cli_command *command, const cli_args *args) {
    char *plan = NULL, *request = NULL;
    size_t n = 0, n_request = 0;
    cli_kit kit = {.text = NULL};
    cli_answer answer = {.text = NULL};
    if (args->n_words != 1)
        return cli_say(command, CLI_USAGE, "name one plan file, or `-` for standard input.");
    cli_exit code = cli_read_file(command, args->word[0], &plan, &n);
    if (code == CLI_OK) code = cli_read_kit(command, args, 0, &kit);
    if (code == CLI_OK) request = complete(args, &kit, plan, n, &n_request);
    if (code == CLI_OK && !request) code = cli_say(command, CLI_INTERNAL, "out of memory.");
    if (code == CLI_OK) code = cli_ask(command, "plan", request, n_request, &answer);
    if (code == CLI_OK && args->option[OPT_JSON])
        puts(answer.text);
    else if (code == CLI_OK)
        show(&answer.json);
    if (code == CLI_OK && is_box_short(&answer.json)) code = CLI_NO;
    cli_answer_free(&answer);
    cli_kit_free(&kit);
    free(request);
    free(plan);
    return code;
}
