/* words.c -- quantities by their unit, names of the catalogue and the kit, words of a choice. */
#include "cli/words.h"

#include <ctype.h>
#include <string.h>

#include "baitfall/command.h"
#include "baitfall/day.h"
#include "baitfall/pattern.h"
#include "baitfall/tackle_measure.h"
#include "baitfall/unit.h"

static cli_exit put(const cli_command *command, cli_request *request, const char *path, const char *value,
                    cli_value_kind kind) {
    switch (cli_request_put(request, path, value, kind)) {
    case CLI_PUT: return CLI_OK;
    case CLI_PUT_TWICE: return cli_say(command, CLI_USAGE, "%s is given twice.", path);
    case CLI_PUT_PATH: return cli_say(command, CLI_USAGE, "'%s' is not the name of an input.", path);
    case CLI_PUT_FULL: break;
    }
    return cli_say(command, CLI_USAGE, "at most %d inputs are taken.", CLI_MOST_VALUES);
}

/* Quantities ----------------------------------------------------------------------------------------------- */

static int is_quantity(const char *word) {
    if (*word == '-' || *word == '+') word++;
    if (*word == '.') word++;
    return isdigit((unsigned char)*word);
}

static cli_exit no_slot(const cli_command *command, const char *word) {
    if (!command->slots)
        return cli_say(command, CLI_USAGE, "'%s' is a number; this command takes none.", word);
    return cli_say(command, CLI_USAGE,
                   "'%s' fits no input that is still open; `baitfall help %s` lists them.", word,
                   command->name);
}

static cli_exit take_quantity(const cli_command *command, const char *word, cli_request *request) {
    bf_dimension dimension = BF_PURE;
    size_t n = strlen(word);
    int is_plain = bf_number_span(word, n) == n;
    if (!is_plain && bf_dimension_read(word, n, &dimension) != BF_OK)
        return cli_say(command, CLI_USAGE, "'%s' has no unit known here.", word);
    for (const cli_slot *slot = command->slots; slot && slot->path; slot++)
        if (slot->dimension == dimension && !cli_request_has(request, slot->path))
            return put(command, request, slot->path, word, CLI_AS_TEXT);
    if (is_plain) return cli_say(command, CLI_USAGE, "'%s' has no unit; write 1.5m, 12C, 20ml.", word);
    return no_slot(command, word);
}

/* Words ---------------------------------------------------------------------------------------------------- */

/* What a command reads: of `measure` that of the measurement its first word names; NULL: not a record of sections. */
static const bf_schema *schema_of(const cli_command *command, const cli_args *args) {
    const bf_command *core = bf_command_find(command->name, strlen(command->name));
    if (core) return core->in;
    if (strcmp(command->name, "measure") != 0 || args->n_words == 0) return NULL;
    for (int i = 0; i < bf_n_measurements; i++)
        if (strcmp(bf_measurements[i].word, args->word[0]) == 0) return bf_measurements[i].in;
    for (int i = 0; i < bf_n_tackle_measurements; i++)
        if (strcmp(bf_tackle_measurements[i].word, args->word[0]) == 0) return bf_tackle_measurements[i].in;
    return NULL;
}

/* Calls `each` with every word of a choice that a record has, and its path; stops when it returns 1. Rows of an array have
 * no path; a measurement's readings stand at the root. */
static int each_choice(const bf_schema *in, int (*each)(void *, const char *word, const char *path),
                       void *with) {
    for (int s = 0; in && s < in->n_sections; s++) {
        const bf_section *section = &in->section[s];
        int is_root = strcmp(section->name, "readings") == 0;
        for (int f = 0; section->most == 1 && f < section->table->n_fields; f++) {
            const bf_field *field = &section->table->field[f];
            char path[CLI_PATH_BYTES];
            if (field->kind != BF_CHOICE) continue;
            snprintf(path, sizeof path, "%s%s%s", is_root ? "" : section->name, is_root ? "" : ".",
                     field->name);
            for (int w = 0; field->words[w]; w++)
                if (each(with, field->words[w], path)) return 1;
        }
    }
    return 0;
}

typedef struct search {
    const char *word;
    char path[CLI_PATH_BYTES];
    cli_nearest nearest;
} search;

static int is_the_word(void *with, const char *word, const char *path) {
    search *want = with;
    if (strcmp(want->word, word) != 0) return 0;
    strcpy(want->path, path);
    return 1;
}

static int consider(void *with, const char *word, const char *path) {
    search *want = with;
    (void)path;
    cli_consider(&want->nearest, want->word, word);
    return 0;
}

/* 1 when a section is read. */
static int reads(const bf_schema *in, const char *section) {
    for (int s = 0; in && s < in->n_sections; s++)
        if (strcmp(in->section[s].name, section) == 0) return 1;
    return 0;
}

/* A bait is what is fed; a second one, or the only one where nothing is fed, is the hook bait. */
static const char *bait_path(const bf_schema *in, const cli_request *request) {
    if (!reads(in, "hook_bait")) return "bait.id";
    return reads(in, "bait") && !cli_request_has(request, "bait.id") ? "bait.id" : "hook_bait.id";
}

/* Where a name of the kit goes, NULL: nowhere here. */
static const char *place_of(const bf_schema *in, const char *path, const char *bait) {
    if (strcmp(path, "bait.id") == 0) return bait;
    if (strcmp(path, "aim.id") == 0) return reads(in, "aim") ? path : NULL;
    if (strncmp(path, "rig.", 4) != 0 || reads(in, "rig")) return path;
    return strcmp(path, "rig.elastic.id") == 0 && reads(in, "elastic") ? "elastic.id" : NULL;
}

/* Calls `each` with every name of the kit and the catalogue, and where it goes; stops when it returns 1. */
static int each_name(const bf_schema *in, const cli_names *names, const cli_request *request,
                     int (*each)(void *, const char *word, const char *path), void *with) {
    const char *bait = bait_path(in, request);
    int has_rig = reads(in, "rig");
    for (int i = 0; i < names->n; i++) {
        const char *place = place_of(in, names->item[i].path, bait);
        if (place && each(with, names->item[i].name, place)) return 1;
    }
    for (int i = 0; i < bf_n_catalogue; i++)
        if (each(with, bf_catalogue[i].word, bait)) return 1;
    for (int i = 0; i < bf_n_pots; i++)
        if (each(with, bf_pots[i].word, "pot.id")) return 1;
    for (int i = 0; has_rig && i < bf_n_rigs; i++)
        if (each(with, bf_rigs[i].word, "rig.id")) return 1;
    return 0;
}

/* Where a word goes: 1 and want->path, or 0 and want->nearest. */
static int find_word(const bf_schema *in, const cli_names *names, const cli_request *request, search *want) {
    if (each_name(in, names, request, is_the_word, want)) return 1;
    if (each_choice(in, is_the_word, want)) return 1;
    each_name(in, names, request, consider, want);
    each_choice(in, consider, want);
    return 0;
}

static int has_slot(const cli_command *command, const char *path) {
    for (const cli_slot *slot = command->slots; slot && slot->path; slot++)
        if (strcmp(slot->path, path) == 0) return 1;
    return 0;
}

/* Wind in words, as at the peg: "light" and "left" become a speed and an angle; NULL: no such word. */
static const char *weather_of(const char *word, const char **path) {
    static char speed[BF_SAY_MOST], angle[BF_SAY_MOST];
    for (int i = 0; i < bf_n_wind_words; i++) {
        if (strcmp(word, bf_wind_words[i].word) != 0) continue;
        *path = "water.wind";
        bf_say_quantity(bf_wind_words[i].wind_m_s, BF_SPEED, speed);
        return speed;
    }
    for (int i = 0; i < bf_n_wind_sides; i++) {
        if (strcmp(word, bf_wind_sides[i].word) != 0) continue;
        *path = "water.wind_side";
        bf_say_quantity(bf_wind_sides[i].to_deg, BF_ANGLE, angle);
        return angle;
    }
    return NULL;
}

static cli_exit take_word(const cli_command *command, const bf_schema *in, const cli_names *names,
                          const char *word, int is_counted, cli_request *request) {
    search want = {.word = word};
    const char *path = NULL, *weather = weather_of(word, &path);
    int is_found = find_word(in, names, request, &want);
    int is_open =
        is_found && !cli_request_has(request, want.path); // "light" is a rig, and after one the wind
    if (weather && !is_open && has_slot(command, path))
        return put(command, request, path, weather, CLI_AS_TEXT);
    if (!is_found) {
        if (want.nearest.word)
            return cli_say(command, CLI_USAGE, "'%s' is not a word known here; did you mean '%s'?", word,
                           want.nearest.word);
        return cli_say(command, CLI_USAGE,
                       "'%s' is not a word known here; `baitfall catalogue` lists the baits, pots and rigs.",
                       word);
    }
    if (is_counted && strcmp(want.path, "bait.id") == 0) strcpy(want.path, "counted.bait");
    return put(command, request, want.path, word, CLI_AS_TEXT);
}

/* --set ------------------------------------------------------------------------------------------------------ */

static cli_exit take_set(const cli_command *command, const char *set, cli_request *request) {
    char path[CLI_PATH_BYTES];
    const char *equals = strchr(set, '=');
    if (!equals || (size_t)(equals - set) >= sizeof path)
        return cli_say(command, CLI_USAGE, "--set %s is not KEY=VALUE, such as water.depth=1.5m.", set);
    memcpy(path, set, (size_t)(equals - set));
    path[equals - set] = 0;
    return put(command, request, path, equals + 1, CLI_AS_TEXT);
}

cli_exit cli_take_words(const cli_command *command, const cli_args *args, int first, const cli_names *names,
                        cli_request *request) {
    const bf_schema *in = schema_of(command, args);
    cli_exit code = CLI_OK;
    for (int i = first; code == CLI_OK && i < args->n_words; i++) {
        int is_counted = args->option[OPT_COUNTED] && i < args->before_counted;
        code = is_quantity(args->word[i]) ? take_quantity(command, args->word[i], request)
                                          : take_word(command, in, names, args->word[i], is_counted, request);
    }
    for (int i = 0; code == CLI_OK && i < args->n_sets; i++) code = take_set(command, args->set[i], request);
    return code;
}

cli_exit cli_take_options(const cli_command *command, const cli_args *args, cli_request *request) {
    cli_exit code = CLI_OK;
    for (int i = 0; code == CLI_OK && i < CLI_N_OPTIONS; i++)
        if (args->option[i] && cli_options[i].path)
            code = put(command, request, cli_options[i].path, args->option[i],
                       cli_options[i].is_list ? CLI_AS_LIST : CLI_AS_TEXT);
    return code;
}
