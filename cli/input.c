/* input.c -- files and the kit, and what to say when they cannot be read or written. */
#define _POSIX_C_SOURCE 200809L

#include "cli/input.h"

#include <stdlib.h>
#include <string.h>

#include "cli/ask.h"

static const char *shown(const char *path) {
    return strcmp(path, "-") == 0 ? "standard input" : path;
}

cli_exit cli_read_file(const cli_command *command, const char *path, char **bytes, size_t *n) {
    bf_file what = bf_file_read(path, BF_JSON_BYTES_MOST, bytes, n);
    if (what == BF_FILE_OK) return CLI_OK;
    return cli_say(command, what == BF_FILE_MEMORY ? CLI_INTERNAL : CLI_BAD_INPUT, "%s cannot be read: %s.",
                   shown(path), bf_file_words(what));
}

static cli_exit refuse_json(const cli_command *command, const char *what, const char *path, bf_status status,
                            const bf_json_fault *fault) {
    return cli_say(command, CLI_BAD_INPUT, "%s%s %s: at byte %zu there should be %s.", what, path,
                   bf_status_words(status), fault->at + 1, fault->wanted);
}

cli_exit cli_read_object(const cli_command *command, const char *path, char **text, size_t *n) {
    bf_json json;
    bf_json_fault fault;
    cli_exit code = cli_read_file(command, path, text, n);
    if (code != CLI_OK) return code;
    int most_tokens = (int)(*n / 2) + 1;
    void *tokens = malloc(bf_json_bytes(most_tokens));
    if (!tokens) return cli_say(command, CLI_INTERNAL, "out of memory.");
    bf_status status = bf_json_read(*text, *n, tokens, most_tokens, &json, &fault);
    free(tokens);
    if (status != BF_E_SYNTAX) return CLI_OK; // what is wrong with its keys the core says better
    free(*text);
    *text = NULL;
    return refuse_json(command, "", shown(path), status, &fault);
}

cli_exit cli_write_file(const cli_command *command, const char *path, const char *bytes, size_t n,
                        int replace) {
    bf_file what = bf_file_write(path, bytes, n, replace);
    if (what == BF_FILE_OK) return CLI_OK;
    if (what == BF_FILE_THERE)
        return cli_say(command, CLI_TAKEN, "%s exists already; --force replaces it.", path);
    if (what == BF_FILE_DATABASE)
        return cli_say(command, CLI_TAKEN, "%s is a database, which is never replaced.", path);
    if (what == BF_FILE_SPECIAL)
        return cli_say(command, CLI_TAKEN, "%s is no ordinary file, and is never replaced.", path);
    return cli_say(command, CLI_INTERNAL, "%s could not be written: %s; nothing was changed.", path,
                   bf_file_words(what));
}

/* The ids of one list of the kit. */
static void take_names(const bf_json *json, int kit, const char *list, const char *path, cli_names *names) {
    int array = bf_json_find(json, kit, list);
    if (array < 0 || bf_json_kind_of(json, array) != BF_JSON_ARRAY) return;
    for (int i = bf_json_first(json, array); i >= 0 && names->n < CLI_MOST_NAMES; i = bf_json_next(json, i)) {
        if (bf_json_kind_of(json, i) != BF_JSON_OBJECT) continue;
        cli_text(json, i, "id", names->item[names->n].name, sizeof names->item[0].name);
        names->item[names->n].path = path;
        if (names->item[names->n].name[0]) names->n++;
    }
}

/* A damaged kit is refused here, with its name: inside a request nobody would know where the fault lies. */
static cli_exit read_names(const cli_command *command, cli_kit *kit) {
    int most_tokens = (int)(kit->n / 2) + 1;
    void *tokens = malloc(bf_json_bytes(most_tokens));
    bf_json json;
    bf_json_fault fault;
    if (!tokens) return cli_say(command, CLI_INTERNAL, "out of memory.");
    bf_status status = bf_json_read(kit->text, kit->n, tokens, most_tokens, &json, &fault);
    if (!status) {
        take_names(&json, 0, "baits", "bait.id", &kit->names);
        take_names(&json, 0, "pots", "pot.id", &kit->names);
        take_names(&json, 0, "throws", "sling.id", &kit->names);
        take_names(&json, 0, "rigs", "rig.id", &kit->names);
        take_names(&json, 0, "hook_baits", "hook_bait.id", &kit->names);
        take_names(&json, 0, "elastics", "rig.elastic.id", &kit->names);
        take_names(&json, 0, "aims", "aim.id", &kit->names);
    }
    free(tokens);
    if (!status) return CLI_OK;
    return refuse_json(command, "the kit ", kit->path, status, &fault);
}

cli_exit cli_read_kit(const cli_command *command, const cli_args *args, int may_be_new, cli_kit *kit) {
    const char *named = args->option[OPT_KIT];
    memset(kit, 0, sizeof *kit);
    if (named && (!named[0] || strcmp(named, "-") == 0))
        return cli_say(command, CLI_USAGE, "--kit needs the name of a file.");
    if (named && strlen(named) < sizeof kit->path)
        strcpy(kit->path, named);
    else if (named)
        return cli_say(command, CLI_USAGE, "the name of the kit is too long.");
    else if (!bf_kit_path(kit->path))
        return CLI_OK;
    bf_file what = bf_file_read(kit->path, BF_KIT_BYTES_MOST, &kit->text, &kit->n);
    if (what == BF_FILE_ABSENT && (!named || may_be_new)) return CLI_OK;
    if (what != BF_FILE_OK)
        return cli_say(command, CLI_BAD_INPUT, "the kit %s cannot be read: %s.", kit->path,
                       bf_file_words(what));
    return read_names(command, kit);
}

char *cli_kit_baits(const cli_kit *kit) {
    bf_json json;
    bf_json_fault fault;
    char *baits = NULL;
    size_t n;
    int most_tokens = (int)(kit->n / 2) + 1;
    void *tokens = kit->text ? malloc(bf_json_bytes(most_tokens)) : NULL;
    if (tokens && bf_json_read(kit->text, kit->n, tokens, most_tokens, &json, &fault) == BF_OK) {
        int list = bf_json_find(&json, 0, "baits");
        const char *raw = list >= 0 ? bf_json_raw(&json, list, &n) : NULL;
        if (raw) baits = strndup(raw, n);
    }
    free(tokens);
    return baits;
}

void cli_kit_free(cli_kit *kit) {
    free(kit->text);
    kit->text = NULL;
}

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

char *cli_with_value(const char *text, size_t n, const char *key, const char *value, size_t *n_with) {
    bf_json json;
    bf_json_fault fault;
    char *with = NULL;
    size_t n_was;
    int most_tokens = (int)(n / 2) + 1, at = -1;
    void *tokens = malloc(bf_json_bytes(most_tokens));
    if (tokens && bf_json_read(text, n, tokens, most_tokens, &json, &fault) == BF_OK)
        at = bf_json_find(&json, 0, key);
    const char *was = at >= 0 ? bf_json_raw(&json, at, &n_was) : NULL;
    FILE *to = was ? open_memstream(&with, n_with) : NULL;
    if (to) {
        fwrite(text, 1, (size_t)(was - text), to);
        fputs(value, to);
        fwrite(was + n_was, 1, n - (size_t)(was - text) - n_was, to);
        if (fclose(to) != 0) {
            free(with);
            with = NULL;
        }
    }
    free(tokens);
    return with;
}

/* Where something may be put before the first key of an object; 0: there is no such place, the core will refuse it. */
static size_t before_first_key(const char *plan) {
    static const char space[] = " \t\r\n";
    size_t brace = strspn(plan, space);
    if (plan[brace] != '{') return 0;
    return plan[brace + 1 + strspn(plan + brace + 1, space)] == '"' ? brace + 1 : 0;
}

char *cli_plan_with(const cli_kit *kit, const char *members, const char *plan, size_t n, size_t *n_request) {
    char *request = NULL;
    size_t place = before_first_key(plan);
    FILE *to = open_memstream(&request, n_request);
    if (!to) return NULL;
    fwrite(plan, 1, place, to);
    if (place > 0) fputs(members, to);
    if (place > 0 && kit->text && !has_kit(plan, n)) fprintf(to, "\"kit\":%s,", kit->text);
    fwrite(plan + place, 1, n - place, to);
    if (fclose(to) == 0) return request;
    free(request);
    return NULL;
}
