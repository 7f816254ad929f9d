/* show.c -- answers for people: plain text, aligned, no colour. */
#include "cli/show.h"

#include <limits.h>
#include <string.h>

#include "baitfall/command.h"
#include "baitfall/throw.h"
#include "baitfall/unit.h"
#include "cli/remarks.h"
#include "cli/request.h"

#define WIDTH 80
#define SHORT_OUTPUTS 2 /* --short */

int cli_columns(const char *text) {
    int n = 0;
    for (; *text; text++) n += ((unsigned char)*text & 0xc0) != 0x80; /* not a continuation byte */
    return n;
}

void cli_show_padded(const char *text, int columns) {
    int n = cli_columns(text);
    printf("%s%*s", text, columns > n ? columns - n : 0, "");
}

void cli_show_wrapped(const char *first, const char *text) {
    int indent = cli_columns(first), at = indent;
    fputs(first, stdout);
    while (*text) {
        char word[128];
        size_t n = strcspn(text, " ");
        if (n >= sizeof word) n = sizeof word - 1;
        memcpy(word, text, n);
        word[n] = 0;
        int columns = cli_columns(word);
        if (at > indent && at + 1 + columns > WIDTH) {
            printf("\n%*s", indent, "");
            at = indent;
        }
        if (at > indent) at += printf(" ");
        fputs(word, stdout);
        at += columns;
        text += n;
        while (*text == ' ') text++;
    }
    fputc('\n', stdout);
}

void cli_show_notes(const bf_json *json, int object) {
    int notes = bf_json_find(json, object, "notes");
    for (int i = notes < 0 ? -1 : bf_json_first(json, notes); i >= 0; i = bf_json_next(json, i)) {
        char text[1024];
        cli_show_wrapped("  - ", cli_text(json, i, "text", text, sizeof text));
    }
}

double cli_number_at(const bf_json *json, int object, const char *key) {
    double number = BF_NAN;
    int value = bf_json_find(json, object, key);
    if (value < 0 || bf_json_kind_of(json, value) != BF_JSON_NUMBER) return BF_NAN;
    return bf_json_number(json, value, &number) == BF_OK ? number : BF_NAN;
}

int cli_object_at(const bf_json *json, int object, const char *key) {
    int value = bf_json_find(json, object, key);
    return value >= 0 && bf_json_kind_of(json, value) == BF_JSON_OBJECT ? value : -1;
}

/* Tackle and aim ------------------------------------------------------------------------------------------- */

const char *cli_first_to_give(const bf_json *json, int rig, char *out, size_t most) {
    double frac = 0;
    char part[64] = "";
    int chain = bf_json_find(json, rig, "chain");
    for (int i = chain < 0 ? -1 : bf_json_first(json, chain); i >= 0; i = bf_json_next(json, i)) {
        double of_part = cli_number_at(json, i, "gives_first_frac");
        if (!(of_part > frac)) continue;
        frac = of_part;
        cli_text(json, i, "part", part, sizeof part);
    }
    out[0] = 0;
    if (part[0] && frac >= 0.95)
        snprintf(out, most, "the %s, nearly always", part);
    else if (part[0]) // of five parts the likeliest: never below twice
        snprintf(out, most, "the %s, about %.0f times in 10", part, 10 * frac);
    return out;
}

const char *cli_chance(const bf_json *json, int aim, char *out, size_t most) {
    char near[32], mid[32], far[32];
    int chance = bf_json_find(json, aim, "chance");
    out[0] = 0;
    if (chance < 0) return out;
    snprintf(out, most, "%s within 5 cm of a piece of feed, %s within 10 cm, %s within 15 cm",
             cli_text(json, chance, "text", near, sizeof near),
             cli_text(json, chance, "text_10cm", mid, sizeof mid),
             cli_text(json, chance, "text_15cm", far, sizeof far));
    return out;
}

void cli_show_mends(const bf_json *json, int aim, const char *first, int most) {
    char text[320], gain[128], line[sizeof text + sizeof gain + 8];
    int list = bf_json_find(json, aim, "mend"), i = list < 0 ? -1 : bf_json_first(json, list);
    for (; i >= 0 && most > 0; i = bf_json_next(json, i), most--) {
        snprintf(line, sizeof line, "%s Then %s.", cli_text(json, i, "text", text, sizeof text),
                 cli_text(json, i, "gain", gain, sizeof gain));
        cli_show_wrapped(first, line);
    }
}

/* What was taken ------------------------------------------------------------------------------------------- */

/* The section that a path "water.depth" lies in, and its field; NULL: no such. */
static const bf_field *field_at(const bf_command *core, const char *path) {
    int is_pm;
    for (int s = 0; s < core->in->n_sections; s++) {
        const bf_section *section = &core->in->section[s];
        size_t n = strlen(section->name);
        if (strncmp(section->name, path, n) != 0 || path[n] != '.') continue;
        int field = bf_field_find(section->table, path + n + 1, strlen(path + n + 1), &is_pm);
        if (field >= 0) return &section->table->field[field];
    }
    return NULL;
}

/* An input as the answer has it: text stays, a number gets its unit and its range. */
static const char *said_input(const bf_json *json, int section, const bf_field *field,
                              char out[BF_SAY_MOST]) {
    bf_quantity quantity = {0, 0, 0};
    char key[96];
    int value = bf_json_find(json, section, field->name);
    const char *suffix = bf_field_suffix(field);
    if (value < 0) return "";
    if (bf_json_kind_of(json, value) == BF_JSON_STRING)
        return cli_text(json, section, field->name, out, BF_SAY_MOST);
    if (bf_json_number(json, value, &quantity.value)) return "";
    snprintf(key, sizeof key, "%.*s_pm%s", (int)(strlen(field->name) - strlen(suffix)), field->name, suffix);
    int pm = bf_json_find(json, section, key);
    if (pm >= 0 && bf_json_number(json, pm, &quantity.pm)) quantity.pm = 0;
    bf_say_given(field, quantity, out);
    return out;
}

/* "water depth", for people. */
static const char *as_words(const char *path, char *out, size_t most) {
    snprintf(out, most, "%s", path);
    for (char *c = out; *c; c++)
        if (*c == '.' || *c == '_') *c = ' ';
    return out;
}

/* A pot that was counted; 1 when it was. */
static int show_counted(const bf_json *json, int inputs) {
    char of[64];
    double count;
    int counted = bf_json_find(json, inputs, "counted");
    if (counted < 0 || bf_json_number(json, bf_json_find(json, counted, "count"), &count) || count == 0)
        return 0;
    cli_bait_text(json, bf_json_find(json, counted, "bait"), "id", of, sizeof of);
    printf("  %-18s%.0f of %s filled it level\n", "counted", count, of[0] ? of : "another bait");
    return 1;
}

static void show_bait(const bf_json *json, int bait) {
    char id[64];
    cli_text(json, bait, "id", id, sizeof id);
    int entry = bf_catalogue_find(id, strlen(id));
    printf("%s%s%s\n", id[0] ? id : "A bait of your own", entry >= 0 ? ": " : "",
           entry >= 0 ? bf_catalogue[entry].title : "");
}

static void show_line(const char *what, const char *text) {
    fputs("  ", stdout);
    cli_show_padded(what, 18);
    puts(text);
}

/* A thing by its name, when the command reads it. */
static void show_named(const bf_json *json, int inputs, const char *section, const char *what) {
    char id[64];
    int at = bf_json_find(json, inputs, section);
    if (at < 0) return;
    if (strcmp(section, "hook_bait") == 0)
        cli_bait_text(json, at, "id", id, sizeof id);
    else
        cli_text(json, at, "id", id, sizeof id);
    show_line(what, id[0] ? id : "one of your own");
}

static int is_by_pole(const char *how) {
    return strcmp(how, "throw") != 0 && strcmp(how, "hand") != 0;
}

/* How feed goes in, and how many pieces when neither a count nor a pot says; "" when the command puts nothing in. */
static void show_how(const bf_json *json, int inputs, char *how, size_t most) {
    int put = bf_json_find(json, inputs, "put");
    if (!cli_text(json, put, "how", how, most)[0]) return;
    show_line("put how", how);
    if (is_by_pole(how) || bf_json_find(json, put, "count") >= 0) return;
    char form[16];
    cli_text(json, bf_json_find(json, inputs, "bait"), "form", form, sizeof form);
    if (strcmp(form, "ball") == 0)
        show_line("put count", "1, a ball");
    else
        printf("  %-18s%d, a pinch\n", "put count", BF_PINCH);
}

/* 0 for inputs that the model does not look at, as the others are. */
static int is_read(const char *path, const char *how, int is_counted) {
    if (strcmp(path, "pot.volume") == 0) return is_by_pole(how) && !is_counted;
    if (strcmp(path, "put.over") == 0) return strcmp(how, "sprinkle") == 0;
    return 1;
}

static void show_inputs(const cli_command *command, const bf_command *core, const bf_json *json) {
    char text[BF_SAY_MOST], words[CLI_PATH_BYTES], how[16], shown[32] = "";
    int inputs = bf_json_find(json, 0, "inputs"), bait = bf_json_find(json, inputs, "bait");
    if (bait >= 0) show_bait(json, bait);
    show_named(json, inputs, "rig", "rig");
    show_named(json, inputs, "hook_bait", "hook bait");
    show_how(json, inputs, how, sizeof how);
    int is_counted = show_counted(json, inputs);
    for (const cli_slot *slot = command->slots; slot->path; slot++) {
        const bf_field *field = field_at(core, slot->path);
        char name[32];
        snprintf(name, sizeof name, "%.*s", (int)strcspn(slot->path, "."), slot->path);
        int section = bf_json_find(json, inputs, name);
        if (!field || section < 0 || !is_read(slot->path, how, is_counted)) continue;
        if (section != bait && strcmp(name, shown) != 0 &&
            cli_text(json, section, "id", text, sizeof text)[0])
            show_line(name, text);
        strcpy(shown, name);
        if (said_input(json, section, field, text)[0])
            show_line(as_words(slot->path, words, sizeof words), text);
    }
    fputc('\n', stdout);
}

/* Outputs --------------------------------------------------------------------------------------------------- */

/* 1 for the chances of `aim` in one draw after another, which are told together in counts of ten. */
static int is_told_as_chance(const bf_field *field, const bf_json *json) {
    return strcmp(bf_field_suffix(field), "_frac") == 0 && bf_json_find(json, 0, "chance") >= 0;
}

static int widest_output(const bf_table *out, int n, const bf_json *json) {
    char text[BF_SAY_MOST];
    int widest = 0;
    for (int i = 0; i < n; i++) {
        if (is_told_as_chance(&out->field[i], json)) continue;
        int columns =
            cli_columns(cli_text(json, bf_json_find(json, 0, out->field[i].name), "text", text, sizeof text));
        if (columns > widest) widest = columns;
    }
    return widest;
}

static void show_outputs(const bf_command *core, const bf_json *json, int most) {
    char text[BF_SAY_MOST], first[BF_SAY_MOST + 8];
    const bf_table *out = core->out;
    int n = out->n_fields < most ? out->n_fields : most, widest = widest_output(out, n, json);
    for (int i = 0; i < n; i++) {
        if (is_told_as_chance(&out->field[i], json)) continue;
        cli_text(json, bf_json_find(json, 0, out->field[i].name), "text", text, sizeof text);
        snprintf(first, sizeof first, "  %s%*s  ", text, widest - cli_columns(text), "");
        cli_show_wrapped(first, out->field[i].help);
    }
}

/* An input for people: "bait.density (density of one piece as it goes in)". The help ends its first part with a ;. A part
 * keeps its "_frac", as in what `measure` says. */
static void say_input(const bf_command *core, const char *path, char *out, size_t most) {
    const bf_field *field = field_at(core, path);
    const char *suffix = field ? bf_field_suffix(field) : "";
    size_t n = strlen(path) - (strcmp(suffix, "_frac") == 0 ? 0 : strlen(suffix));
    const char *help = field ? field->help : "";
    snprintf(out, most, "%.*s (%.*s)", (int)n, path, (int)strcspn(help, ";"), help);
}

/* Where the range of the first output comes from: the input to measure. */
static void show_mostly(const bf_command *core, const bf_json *json) {
    char path[128], cause[256] = "what differs from put-in to put-in, and from inputs together",
                    sentence[384];
    double share;
    const char *name = core->out->field[0].name;
    int output = bf_json_find(json, 0, name),
        shares = bf_json_find(json, bf_json_find(json, 0, "shares"), name);
    if (output < 0 || shares < 0 || !cli_text(json, output, "mostly", path, sizeof path)[0]) return;
    if (bf_json_number(json, bf_json_find(json, shares, path), &share)) return;
    if (share < 0.05) return; // so few draws tell nothing of where it comes from
    if (strcmp(path, "together") != 0) say_input(core, path, cause, sizeof cause);
    snprintf(sentence, sizeof sentence, "The largest part of the first range (%.0f %%) comes from %s.",
             share * 100, cause);
    fputc('\n', stdout);
    cli_show_wrapped("  ", sentence);
}

/* `aim`: the chance in counts of ten, and what to mend, best first. */
static void show_chance(const bf_json *json) {
    char text[256], line[320];
    int mend = bf_json_find(json, 0, "mend");
    if (!cli_chance(json, 0, text, sizeof text)[0]) return;
    snprintf(line, sizeof line, "Chance that the bait lies on the bed: %s.", text);
    fputc('\n', stdout);
    cli_show_wrapped("  ", line);
    if (bf_json_first(json, mend) < 0) return;
    puts("\nWhat to mend first");
    cli_show_mends(json, 0, "  - ", INT_MAX);
}

/* `rig`: what breaks first. */
static void show_chain(const bf_json *json) {
    char text[128];
    if (cli_first_to_give(json, 0, text, sizeof text)[0]) printf("\n  What gives first: %s.\n", text);
}

/* `pot` without a bait: one line for every bait. */
static void show_each(const bf_json *json, int each, cli_remarks *remarks) {
    char text[BF_SAY_MOST];
    for (int i = bf_json_first(json, each); i >= 0; i = bf_json_next(json, i)) {
        fputs("  ", stdout);
        cli_show_padded(cli_text(json, i, "bait", text, sizeof text), 18);
        cli_text(json, bf_json_find(json, i, "pieces"), "text", text, sizeof text);
        if (!text[0]) cli_text(json, i, "error", text, sizeof text);
        cli_show_padded(text, 18);
        puts(cli_text(json, i, "title", text, sizeof text));
        cli_add_remarks(remarks, json, i, cli_text(json, i, "bait", text, sizeof text));
    }
}

void cli_show_feed(const cli_command *command, const bf_json *json, int is_short) {
    const bf_command *core = bf_command_find(command->name, strlen(command->name));
    int each = bf_json_find(json, 0, "each");
    if (each >= 0) {
        static cli_remarks remarks;
        if (!is_short) show_inputs(command, core, json);
        show_each(json, each, &remarks);
        if (is_short) return;
        fputc('\n', stdout);
        cli_show_remarks(&remarks);
        return;
    }
    if (is_short) {
        show_outputs(core, json, SHORT_OUTPUTS);
        return;
    }
    show_inputs(command, core, json);
    show_outputs(core, json, core->out->n_fields);
    show_chain(json);
    show_chance(json);
    show_mostly(core, json);
    fputc('\n', stdout);
    cli_show_notes(json, 0);
}
