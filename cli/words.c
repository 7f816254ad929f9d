/* words.c -- quantities by their unit, names of the catalogue and the kit, words of a choice. */
#include "cli/words.h"

#include <ctype.h>
#include <string.h>

#include "baitfall/command.h"
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

/* Calls `each` with every word of a choice that the command's record has, and its path; stops when it returns 1. */
static int each_choice(const cli_command *command, int (*each)(void *, const char *word, const char *path),
                       void *with) {
    const bf_command *core = bf_command_find(command->name, strlen(command->name));
    for (int s = 0; core && s < core->in->n_sections; s++) {
        const bf_section *section = &core->in->section[s];
        for (int f = 0; f < section->table->n_fields; f++) {
            const bf_field *field = &section->table->field[f];
            char path[CLI_PATH_BYTES];
            if (field->kind != BF_CHOICE) continue;
            snprintf(path, sizeof path, "%s.%s", section->name, field->name);
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

/* Where a word goes: 1 and want->path, or 0 and want->nearest. */
static int find_word(const cli_command *command, const cli_names *names, search *want) {
    for (int i = 0; i < names->n; i++)
        if (is_the_word(want, names->item[i].name, names->item[i].path)) return 1;
    for (int i = 0; i < bf_n_catalogue; i++)
        if (is_the_word(want, bf_catalogue[i].word, "bait.id")) return 1;
    for (int i = 0; i < bf_n_pots; i++)
        if (is_the_word(want, bf_pots[i].word, "pot.id")) return 1;
    if (each_choice(command, is_the_word, want)) return 1;
    for (int i = 0; i < names->n; i++) consider(want, names->item[i].name, NULL);
    for (int i = 0; i < bf_n_catalogue; i++) consider(want, bf_catalogue[i].word, NULL);
    for (int i = 0; i < bf_n_pots; i++) consider(want, bf_pots[i].word, NULL);
    each_choice(command, consider, want);
    return 0;
}

static cli_exit take_word(const cli_command *command, const cli_names *names, const char *word,
                          int is_counted, cli_request *request) {
    search want = {.word = word};
    if (!find_word(command, names, &want)) {
        if (want.nearest.word)
            return cli_say(command, CLI_USAGE, "'%s' is not a word known here; did you mean '%s'?", word,
                           want.nearest.word);
        return cli_say(command, CLI_USAGE,
                       "'%s' is not a word known here; `baitfall catalogue` lists the baits and pots.", word);
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
    cli_exit code = CLI_OK;
    for (int i = first; code == CLI_OK && i < args->n_words; i++) {
        int is_counted = args->option[OPT_COUNTED] && i < args->before_counted;
        code = is_quantity(args->word[i]) ? take_quantity(command, args->word[i], request)
                                          : take_word(command, names, args->word[i], is_counted, request);
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
