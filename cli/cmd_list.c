/* cmd_list.c -- catalogue and form: what the tables hold. */
#include <stdlib.h>
#include <string.h>

#include "baitfall/unit.h"
#include "cli/request.h"
#include "cli/show.h"

/* Catalogue --------------------------------------------------------------------------------------------------- */

/* 1 when the word or title of an entry has the asked text in it. */
static int matches(const char *asked, const char *word, const char *title) {
    return !asked || strstr(word, asked) || strstr(title, asked);
}

static int show_catalogue(const bf_json *json, const char *list, const char *asked) {
    char word[64], title[128], origin[1024];
    int n = 0, entries = bf_json_find(json, 0, list);
    for (int i = bf_json_first(json, entries); i >= 0; i = bf_json_next(json, i)) {
        cli_text(json, i, "word", word, sizeof word);
        cli_text(json, i, "title", title, sizeof title);
        if (!matches(asked, word, title)) continue;
        n++;
        fputs("  ", stdout);
        cli_show_padded(word, 18);
        puts(title);
        if (asked) cli_show_wrapped("      ", cli_text(json, i, "origin", origin, sizeof origin));
    }
    return n;
}

static int show_all(const bf_json *json, const char *asked) {
    return show_catalogue(json, "baits", asked) + show_catalogue(json, "pots", asked) +
           show_catalogue(json, "rigs", asked);
}

cli_exit cli_catalogue(const cli_command *command, const cli_args *args) {
    cli_answer answer;
    const char *asked = args->n_words > 0 ? args->word[0] : NULL;
    if (args->n_words > 1) return cli_say(command, CLI_USAGE, "name one bait, pot or rig, or none.");
    cli_exit code = cli_ask(command, "catalogue", "{}", 2, &answer);
    if (code == CLI_OK && args->option[OPT_JSON])
        puts(answer.text);
    else if (code == CLI_OK && show_all(&answer.json, asked) == 0)
        code = cli_say(command, CLI_NOTHING, "no bait, pot or rig has '%s' in its word or title.", asked);
    cli_answer_free(&answer);
    return code;
}

/* Form -------------------------------------------------------------------------------------------------------- */

static void put_number(const bf_json *json, int field, const char *key) {
    double number;
    int value = bf_json_find(json, field, key);
    if (value < 0 || bf_json_kind_of(json, value) != BF_JSON_NUMBER) return;
    if (bf_json_number(json, value, &number) == BF_OK) printf("%.12g", number);
}

/* What a field without range and words is. */
static const char *kind_words(const bf_json *json, int field) {
    int is_instant = bf_json_is(json, bf_json_find(json, field, "kind"), "instant");
    return is_instant ? "an instant: 2026-04-12T09:31:05+01:00" : "a name: text of 1 to 48 bytes";
}

/* "0.05 to 12 (or text in mm, cm, m, in or ft)", the words of a choice, a name or an instant. */
static void show_accepted(const bf_json *json, int field) {
    char text[128];
    int words = bf_json_find(json, field, "words");
    for (int i = words < 0 ? -1 : bf_json_first(json, words); i >= 0; i = bf_json_next(json, i))
        if (bf_json_string(json, i, text, sizeof text) == BF_OK) printf("%s ", text);
    if (words < 0 && bf_json_find(json, field, "least") < 0) {
        fputs(kind_words(json, field), stdout);
    } else if (words < 0) {
        put_number(json, field, "least");
        fputs(" to ", stdout);
        put_number(json, field, "most");
        cli_text(json, field, "units", text, sizeof text);
        printf(" (%s%s)",
               bf_json_is(json, bf_json_find(json, field, "units"), bf_units_of(BF_PURE)) ? ""
                                                                                          : "or text in ",
               text);
    }
    fputc('\n', stdout);
}

static void show_fields(const bf_json *json, int fields) {
    for (int i = bf_json_first(json, fields); i >= 0; i = bf_json_next(json, i)) {
        char name[64], text[512];
        fputs("  ", stdout);
        cli_show_padded(cli_text(json, i, "name", name, sizeof name), 26);
        show_accepted(json, i);
        cli_show_wrapped("      ", cli_text(json, i, "help", text, sizeof text));
    }
}

static void show_sections(const bf_json *json, int sections) {
    for (int i = bf_json_first(json, sections); i >= 0; i = bf_json_next(json, i)) {
        char name[64];
        if (bf_json_string(json, i, name, sizeof name) == BF_OK) printf("  %s\n", name);
    }
}

cli_exit cli_form(const cli_command *command, const cli_args *args) {
    static cli_request request;
    cli_answer answer = {.text = NULL};
    size_t n;
    if (args->n_words > 1) return cli_say(command, CLI_USAGE, "name one section, or none for their names.");
    const char *section = args->n_words ? args->word[0] : NULL;
    /* The first value of a request always fits. */
    if (section) (void)cli_request_put(&request, "section", section, CLI_AS_TEXT);
    char *json = cli_request_json(&request, &n);
    if (!json) return cli_say(command, CLI_INTERNAL, "out of memory.");
    cli_exit code = cli_ask(command, "form", json, n, &answer);
    int sections = code == CLI_OK ? bf_json_find(&answer.json, 0, "sections") : -1;
    if (code == CLI_OK && args->option[OPT_JSON])
        puts(answer.text);
    else if (code == CLI_OK && section)
        show_fields(&answer.json, bf_json_find(&answer.json, sections, section));
    else if (code == CLI_OK)
        show_sections(&answer.json, sections);
    cli_answer_free(&answer);
    free(json);
    return code;
}
