/* plan_show.c -- the answer to a plan for people: its feed, each spot's rig, and what to do beforehand. */
#include "cli/plan_show.h"

#include <string.h>

#include "baitfall/unit.h"
#include "cli/remarks.h"
#include "cli/show.h"
#include "cli/table.h"

/* Feed ------------------------------------------------------------------------------------------------------- */

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
    int n = (int)cli_number_at(json, line, "put_ins");
    put_clock(cli_number_at(json, line, "from_s"), from, sizeof from);
    if (n == 1) {
        snprintf(cell, CLI_CELL_BYTES, "%s once", from);
        return;
    }
    put_clock(cli_number_at(json, line, "until_s"), last, sizeof last);
    bf_say(cli_number_at(json, line, "every_s"), BF_TIME, every);
    snprintf(cell, CLI_CELL_BYTES, "%s-%s every %.24s: %d", from, last, every, n);
}

/* A new row with the spot and the bait of a line of feed in its first two cells. */
static char (*new_row(cli_table *table, const bf_json *json, int line))[CLI_CELL_BYTES] {
    char(*cell)[CLI_CELL_BYTES] = cli_table_row(table);
    cli_text(json, line, "spot", cell[0], CLI_CELL_BYTES);
    cli_bait_text(json, line, "bait", cell[1], CLI_CELL_BYTES);
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
    double enough = cli_number_at(json, bait, "enough_frac");
    for (int i = 0; i < 3; i++) put_range(json, bait, keys[i], left);
    if (enough != enough) { // a nominal answer has what is left, and no chance
        snprintf(verdict, CLI_CELL_BYTES, "%s", left[0] ? "" : "not in the box");
        return;
    }
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
        cli_bait_text(json, bait, "bait", cell[0], CLI_CELL_BYTES);
        put_range(json, bait, "pieces", cell[1]);
        put_range(json, bait, "mass_kg", cell[2]);
        put_left(json, bait, cell[3], cell[4]);
    }
    puts("\nAltogether");
    cli_table_print(&table);
}

/* Spots and rigs ------------------------------------------------------------------------------------------- */

/* A line of a spot: what, and a range's text with words around it; nothing when the range has none. */
static void show_range(const bf_json *json, int object, const char *key, const char *what, const char *before,
                       const char *after) {
    char text[CLI_CELL_BYTES] = "", line[256];
    put_range(json, object, key, text);
    if (!text[0]) return;
    snprintf(line, sizeof line, "  %-18s%s", what, before);
    fputs(line, stdout);
    printf("%s%s\n", text, after);
}

static void show_text(const bf_json *json, int object, const char *key, const char *what) {
    char text[512], first[32];
    if (object < 0 || !cli_text(json, object, key, text, sizeof text)[0]) return;
    snprintf(first, sizeof first, "  %-18s", what);
    cli_show_wrapped(first, text);
}

static void show_line(const char *what, const char *text) {
    char first[32];
    if (!text[0]) return;
    snprintf(first, sizeof first, "  %-18s", what);
    cli_show_wrapped(first, text);
}

/* A float that goes under in nine draws of ten is not told as so much bristle below nothing. */
static void show_bristle(const bf_json *json, int rig) {
    int bristle = cli_object_at(json, rig, "bristle_m");
    if (bristle >= 0 && cli_number_at(json, bristle, "hi") < 0)
        show_line("bristle shows", "none: as it is shotted the float goes under");
    else
        show_range(json, rig, "bristle_m", "bristle shows", "", "");
}

/* How long it is made, and how it hangs; without a balance only why. */
static void show_rig(const bf_json *json, int rig) {
    char id[64], title[320], text[448], set[BF_SAY_MOST];
    cli_text(json, rig, "id", id, sizeof id);
    cli_text(json, rig, "title", title, sizeof title);
    snprintf(text, sizeof text, "%s%s%s", id, id[0] ? ": " : "", title);
    show_line("rig", text);
    bf_say(cli_number_at(json, rig, "set_m"), BF_LENGTH, set);
    snprintf(text, sizeof text, "%s from hook to float", set);
    show_line("set", text);
    show_text(json, rig, "error", "does not hang");
    show_range(json, rig, "off_m", "bait hangs off", "", "");
    show_range(json, rig, "gust_m", "a gust moves it", "", "");
    show_bristle(json, rig);
    show_line("gives first", cli_first_to_give(json, rig, text, sizeof text));
}

/* "0.4 g because ... Not 0.3 g: ..." */
static void show_suggestions(const bf_json *json, int spot) {
    char what[64], choice[128], because[512], runner_up[128], why_not[512], first[96];
    int list = bf_json_find(json, spot, "suggestions");
    for (int i = list < 0 ? -1 : bf_json_first(json, list); i >= 0; i = bf_json_next(json, i)) {
        char text[1400];
        cli_text(json, i, "what", what, sizeof what);
        cli_text(json, i, "choice", choice, sizeof choice);
        cli_text(json, i, "because", because, sizeof because);
        cli_text(json, i, "runner_up", runner_up, sizeof runner_up);
        cli_text(json, i, "why_not", why_not, sizeof why_not);
        snprintf(first, sizeof first, "  %-18s", what);
        snprintf(text, sizeof text, "%s: %s%s%s%s%s", choice, because, runner_up[0] ? " Not " : "", runner_up,
                 runner_up[0] ? ": " : "", runner_up[0] ? why_not : "");
        cli_show_wrapped(first, text);
    }
}

static void show_spot(const bf_json *json, int spot) {
    char name[64], chance[160];
    int rig = cli_object_at(json, spot, "rig"), lay = cli_object_at(json, spot, "lay"),
        aim = cli_object_at(json, spot, "aim");
    printf("\n%s\n", cli_text(json, spot, "spot", name, sizeof name));
    if (rig >= 0) show_rig(json, rig);
    if (lay >= 0) {
        show_range(json, lay, "feed_s", "feed is down", "", " after the put-in, nine in ten of it");
        show_range(json, lay, "wait_s", "wait, then lower", "", "");
        show_range(json, lay, "down_s", "rig is down", "", " after it is let go");
    }
    if (aim >= 0) {
        show_line("bait on the bed", cli_chance(json, aim, chance, sizeof chance));
        show_range(json, aim, "miss_m", "misses by", "", "");
        cli_show_mends(json, aim, "  mend first        ", 1);
    }
    show_suggestions(json, spot);
}

static int first_of(const bf_json *json, const char *key) {
    int list = bf_json_find(json, 0, key);
    return list < 0 || bf_json_kind_of(json, list) != BF_JSON_ARRAY ? -1 : bf_json_first(json, list);
}

static void show_spots(const bf_json *json) {
    for (int spot = first_of(json, "spots"); spot >= 0; spot = bf_json_next(json, spot))
        show_spot(json, spot);
}

/* What else ------------------------------------------------------------------------------------------------- */

/* A list of rows with a head each and a sentence: "  Brisk wind, long    The bait ...". */
static void show_list(const bf_json *json, const char *title, const char *key, const char *head,
                      const char *of) {
    int i = first_of(json, key);
    if (i >= 0) printf("\n%s\n", title);
    for (; i >= 0; i = bf_json_next(json, i)) {
        char a[96], b[96], text[512], first[224];
        cli_text(json, i, head, a, sizeof a);
        cli_text(json, i, of, b, sizeof b);
        snprintf(first, sizeof first, "  %s%s%s", a, b[0] ? ", " : "", b);
        int n = cli_columns(first);
        snprintf(first + strlen(first), sizeof first - strlen(first), "%*s", n < 25 ? 26 - n : 2, "");
        cli_show_wrapped(first, cli_text(json, i, "text", text, sizeof text));
    }
}

static void show_unknown_peg(const bf_json *json) {
    int set = bf_json_find(json, 0, "unknown_peg"), rigs = set < 0 ? -1 : bf_json_find(json, set, "rigs");
    if (rigs < 0) return;
    puts("\nRigs for a peg not known yet");
    for (int i = bf_json_first(json, rigs); i >= 0; i = bf_json_next(json, i)) {
        char title[256], covers[256], text[128], line[700];
        cli_text(json, i, "title", title, sizeof title);
        cli_text(json, i, "covers", covers, sizeof covers);
        snprintf(line, sizeof line, "%s: %s; %s.", title, covers,
                 cli_text(json, i, "text", text, sizeof text));
        cli_show_wrapped("  - ", line);
    }
    cli_show_notes(json, set);
}

/* All of it --------------------------------------------------------------------------------------------------- */

static void show_notes(const bf_json *json) {
    static cli_remarks all;
    int feed = bf_json_find(json, 0, "feed");
    cli_add_remarks(&all, json, 0, "");
    for (int line = bf_json_first(json, feed); line >= 0; line = bf_json_next(json, line)) {
        char spot[56], bait[56], of[sizeof spot + sizeof bait + 2];
        cli_text(json, line, "spot", spot, sizeof spot);
        cli_bait_text(json, line, "bait", bait, sizeof bait);
        snprintf(of, sizeof of, "%s, %s", spot, bait);
        cli_add_remarks(&all, json, line, of);
    }
    for (int spot = first_of(json, "spots"); spot >= 0; spot = bf_json_next(json, spot)) {
        static const char *const parts[] = {"rig", "lay", "aim"};
        char of[56];
        cli_text(json, spot, "spot", of, sizeof of);
        for (int i = 0; i < 3; i++) {
            int part = cli_object_at(json, spot, parts[i]);
            if (part >= 0) cli_add_remarks(&all, json, part, of);
        }
    }
    fputc('\n', stdout);
    cli_show_remarks(&all);
}

void cli_show_plan(const bf_json *json) {
    char name[256];
    if (cli_text(json, 0, "name", name, sizeof name)[0]) printf("%s\n\n", name);
    show_lines(json);
    show_falls(json);
    show_places(json);
    show_baits(json);
    show_spots(json);
    show_list(json, "What if", "what_if", "what", "spot");
    show_unknown_peg(json);
    show_list(json, "Before the start", "prep", "at_text", "");
    show_list(json, "In the bag", "pack", "what", "name");
    show_list(json, "Rules of the venue", "rules", "status", "");
    show_notes(json);
}
