/* cmd_peg.c -- at the peg: a plan, plumbed depths and today's wind in; which rig, where, and the first half hour out. */
#define _POSIX_C_SOURCE 200809L

#include <stdlib.h>
#include <string.h>

#include "baitfall/day.h"
#include "baitfall/unit.h"
#include "cli/input.h"
#include "cli/remarks.h"
#include "cli/request.h"
#include "cli/show.h"

/* The request ------------------------------------------------------------------------------------------------- */

static void put_member(FILE *to, const char *key, const char *value) {
    fprintf(to, ",\"%s\":", key);
    cli_write_value(to, value, CLI_AS_TEXT);
}

/* One place, "5m:1.35m": how far out and how deep. */
static int put_place(FILE *to, char *place, int is_first) {
    char *depth = strchr(place, ':');
    if (!depth || depth == place || !depth[1]) return 0;
    *depth++ = 0;
    fputs(is_first ? "{\"distance\":" : ",{\"distance\":", to);
    cli_write_value(to, place, CLI_AS_TEXT);
    fputs(",\"depth\":", to);
    cli_write_value(to, depth, CLI_AS_TEXT);
    fputc('}', to);
    return 1;
}

static cli_exit put_places(const cli_command *command, const char *list, FILE *to) {
    char *copy = strdup(list), *place = copy;
    int is_good = copy != NULL;
    fputs(",\"plumbed\":[", to);
    while (is_good && place) {
        char *next = strchr(place, ',');
        if (next) *next++ = 0;
        is_good = put_place(to, place, place == copy);
        place = next;
    }
    fputc(']', to);
    free(copy);
    if (is_good) return CLI_OK;
    return cli_say(command, CLI_USAGE,
                   "--plumbed is %s; write how far out and how deep: 5m:1.35m,11.5m:1.62m.", list);
}

/* Where a word goes: a speed, an angle or a temperature by its unit, else a word for the wind or its side. */
static const char *key_of(const char *word) {
    bf_dimension dimension;
    for (int i = 0; i < bf_n_wind_words; i++)
        if (strcmp(word, bf_wind_words[i].word) == 0) return "wind";
    for (int i = 0; i < bf_n_wind_sides; i++)
        if (strcmp(word, bf_wind_sides[i].word) == 0) return "wind_side";
    if (bf_dimension_read(word, strlen(word), &dimension)) return NULL;
    switch (dimension) {
    case BF_SPEED: return "wind";
    case BF_ANGLE: return "wind_side";
    case BF_TEMPERATURE: return "temp_c";
    default: return NULL;
    }
}

static cli_exit put_words(const cli_command *command, const cli_args *args, FILE *to) {
    const char *said[3] = {NULL, NULL, NULL};
    for (int i = 1; i < args->n_words; i++) {
        const char *key = key_of(args->word[i]);
        if (!key)
            return cli_say(
                command, CLI_USAGE,
                "'%s' is no wind (none, light, brisk, 3m/s), side (left, facing, right, behind) or "
                "temperature (11C).",
                args->word[i]);
        for (int k = 0; k < 3 && said[k]; k++)
            if (strcmp(said[k], key) == 0) return cli_say(command, CLI_USAGE, "%s is given twice.", key);
        for (int k = 0; k < 3; k++)
            if (!said[k]) {
                said[k] = key;
                break;
            }
        put_member(to, key, args->word[i]);
    }
    return CLI_OK;
}

static cli_exit make_request(const cli_command *command, const cli_args *args, const char *plan, size_t n,
                             char **request, size_t *n_request) {
    FILE *to = open_memstream(request, n_request);
    cli_exit code = CLI_OK;
    if (!to) return cli_say(command, CLI_INTERNAL, "out of memory.");
    fputs("{\"plan\":", to);
    fwrite(plan, 1, n, to);
    if (args->option[OPT_PEG]) {
        fputs(",\"peg\":", to);
        cli_write_string(to, args->option[OPT_PEG]);
    }
    if (args->option[OPT_SEED]) put_member(to, "seed", args->option[OPT_SEED]);
    if (args->option[OPT_DRAWS]) put_member(to, "draws", args->option[OPT_DRAWS]);
    if (args->option[OPT_PLUMBED]) code = put_places(command, args->option[OPT_PLUMBED], to);
    if (code == CLI_OK) code = put_words(command, args, to);
    fputc('}', to);
    if (fclose(to) != 0 && code == CLI_OK) code = cli_say(command, CLI_INTERNAL, "out of memory.");
    return code;
}

/* The answer for people ------------------------------------------------------------------------------------- */

static void show_sentence(const bf_json *json, int object, const char *key) {
    char text[512];
    if (object >= 0 && cli_text(json, object, key, text, sizeof text)[0]) cli_show_wrapped("  ", text);
}

static void show_half_hour(const bf_json *json) {
    int list = bf_json_find(json, 0, "half_hour");
    puts("\nFirst half hour");
    for (int i = list < 0 ? -1 : bf_json_first(json, list); i >= 0; i = bf_json_next(json, i)) {
        char text[512], first[32];
        int minutes = (int)(cli_number_at(json, i, "at_s") / 60 + 0.5);
        snprintf(first, sizeof first, "  %d:%02d  ", minutes / 60, minutes % 60);
        cli_show_wrapped(first, cli_text(json, i, "text", text, sizeof text));
    }
}

static void show_where(const bf_json *json) {
    char text[256], line[288];
    int spot = cli_object_at(json, 0, "spot"), shelf = cli_object_at(json, 0, "shelf");
    puts("Where");
    show_sentence(json, spot, "text");
    show_sentence(json, spot, "why");
    if (shelf < 0 || !cli_text(json, shelf, "text", text, sizeof text)[0]) return;
    snprintf(line, sizeof line, "The shelf: %s.", text);
    cli_show_wrapped("  ", line);
}

/* "short bulk: 0.5 g float, ...; rig 2 of the three you carry.", how to set it, why it and why not the others. */
static void show_rig(const bf_json *json) {
    char id[64], title[320], which[96], text[512], set[BF_SAY_MOST];
    int rig = cli_object_at(json, 0, "rig"), others = bf_json_find(json, rig, "why_not");
    cli_text(json, rig, "id", id, sizeof id);
    cli_text(json, rig, "title", title, sizeof title);
    cli_text(json, rig, "text", which, sizeof which);
    bf_say(cli_number_at(json, rig, "set_m"), BF_LENGTH, set);
    puts("\nRig");
    snprintf(text, sizeof text, "%s%s%s.", id, id[0] ? ": " : "", title);
    cli_show_wrapped("  ", text);
    int is_carried = strncmp(which, "None", 4) != 0;
    snprintf(text, sizeof text, "%s%s%s Set it %s from hook to float.", is_carried ? "It is " : "", which,
             is_carried ? "." : "", set);
    cli_show_wrapped("  ", text);
    show_sentence(json, rig, "error");
    show_sentence(json, rig, "why");
    for (int i = others < 0 ? -1 : bf_json_first(json, others); i >= 0; i = bf_json_next(json, i)) {
        if (bf_json_string(json, i, text, sizeof text)) text[sizeof text - 1] = 0;
        cli_show_wrapped("  - not ", text);
    }
}

static void show_lay_in(const bf_json *json) {
    char text[160], line[224];
    int wait = cli_object_at(json, 0, "wait_s");
    if (wait < 0 || !cli_text(json, wait, "text", text, sizeof text)[0]) return;
    printf("\n  Wait %s after the put-in, then lower.\n", text);
    if (!cli_chance(json, 0, text, sizeof text)[0]) return;
    snprintf(line, sizeof line, "Chance that the bait lies on the bed: %s.", text);
    cli_show_wrapped("  ", line);
}

static void show_notes(const bf_json *json) {
    static cli_remarks all;
    static const char *const parts[] = {"rig", "lay", "aim"};
    cli_add_remarks(&all, json, 0, "");
    for (int i = 0; i < 3; i++) {
        int part = cli_object_at(json, 0, parts[i]);
        if (part >= 0) cli_add_remarks(&all, json, part, "");
    }
    fputc('\n', stdout);
    cli_show_remarks(&all);
}

static void show(const bf_json *json) {
    show_where(json);
    show_rig(json);
    show_half_hour(json);
    show_lay_in(json);
    show_notes(json);
}

cli_exit cli_peg(const cli_command *command, const cli_args *args) {
    char *file = NULL, *plan = NULL, *request = NULL;
    size_t n_file = 0, n = 0, n_request = 0;
    cli_kit kit = {.text = NULL};
    cli_answer answer = {.text = NULL};
    if (args->n_words < 1) return cli_say(command, CLI_USAGE, "name a plan file, or `-` for standard input.");
    cli_exit code = cli_read_object(command, args->word[0], &file, &n_file);
    if (code == CLI_OK) code = cli_read_kit(command, args, 0, &kit);
    if (code == CLI_OK && !(plan = cli_plan_with(&kit, "", file, n_file, &n)))
        code = cli_say(command, CLI_INTERNAL, "out of memory.");
    if (code == CLI_OK) code = make_request(command, args, plan, n, &request, &n_request);
    if (code == CLI_OK) code = cli_ask(command, "peg", request, n_request, &answer);
    if (code == CLI_OK && args->option[OPT_JSON])
        puts(answer.text);
    else if (code == CLI_OK)
        show(&answer.json);
    cli_answer_free(&answer);
    cli_kit_free(&kit);
    free(request);
    free(plan);
    free(file);
    return code;
}
