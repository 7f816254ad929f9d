/* entry.c -- see entry.h. */
#define _POSIX_C_SOURCE 200809L

#include "cli/entry.h"

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "baitfall/unit.h"
#include "cli/request.h"

#define MOST_BARE 6
#define NOTE_BYTES_MOST 16384

/* What can be added, by the word for it. Bare words go to the first of `names` that is open, bare quantities to the first of `quantities` of
 * their dimension; both end with NULL. A word of one of the kind's choices ("clump") is always that choice. */
typedef struct act {
    const char *word;
    int kind;
    const char *outcome; /* NULL: it is no lift */
    const char *names[MOST_BARE];
    const char *quantities[MOST_BARE];
} act;

static const act acts[] = {
    {"open", BF_OPEN, NULL, {"venue", "peg"}, {NULL}},
    {"close", BF_CLOSE, NULL, {NULL}, {NULL}},
    {"box", BF_BOX, NULL, {"bait"}, {"count", "volume_m3", "mass_kg"}},
    {"plumb", BF_PLUMB, NULL, {"spot"}, {"depth_m", "distance_m"}},
    {"water", BF_WATER, NULL, {NULL}, {"temp_c", "wind_m_s", "wind_side_deg"}},
    {"feed", BF_FEED, NULL, {"bait", "spot"}, {"count", "volume_m3", "fill_frac", "over_s", "wide_m"}},
    {"lower", BF_LOWER, NULL, {"spot", "hook_bait"}, {NULL}},
    {"fish", BF_LIFT, "landed", {"spot", "hook_bait"}, {"guess_kg"}},
    {"missed", BF_LIFT, "missed", {"spot", "hook_bait"}, {NULL}},
    {"lost", BF_LIFT, "lost", {"spot", "hook_bait"}, {"guess_kg"}},
    {"foul", BF_LIFT, "foul", {"spot", "hook_bait"}, {"guess_kg"}},
    {"nothing", BF_LIFT, "nothing", {"spot", "hook_bait"}, {NULL}},
    {"touch", BF_TOUCH, NULL, {"spot"}, {"n"}},
    {"net", BF_NET, NULL, {NULL}, {"net", "mass_kg"}},
    {"tally", BF_TALLY, NULL, {"spot"}, {NULL}},
    {"look", BF_LOOK, NULL, {"spot"}, {"shown"}},
    {"note", BF_NOTE, NULL, {NULL}, {NULL}},
};
#define N_ACTS (sizeof acts / sizeof acts[0])

/* ---- Fields ---- */

static int has_field(int kind, int i) {
    return (bf_event_fields(kind) >> i & 1) != 0;
}

/* A field of the kind by its name, with or without the unit; -1. */
static int find_field(int kind, const char *name, size_t n) {
    int is_pm = 0, i = bf_field_find(&bf_body_table, name, n, &is_pm);
    return i >= 0 && !is_pm && has_field(kind, i) ? i : -1;
}

static int is_given(const cli_entry *entry, int i) {
    return entry->json[i][0] != 0;
}

const char *cli_entry_json(const cli_entry *entry, const char *field) {
    int i = find_field(entry->kind, field, strlen(field));
    return i >= 0 && is_given(entry, i) ? entry->json[i] : NULL;
}

static cli_exit no_field(const cli_command *command, const cli_entry *entry, const char *name, size_t n) {
    char known[1024] = "";
    size_t length = 0;
    for (int i = 0; i < bf_body_table.n_fields; i++)
        if (has_field(entry->kind, i) && length < sizeof known)
            length += (size_t)snprintf(known + length, sizeof known - length, "%s%s", length ? ", " : "",
                                       bf_body_table.field[i].name);
    return cli_say(command, CLI_USAGE, "%s has no %.*s; it takes %s.", entry->word, (int)n, name,
                   known[0] ? known : "nothing but a note");
}

/* ---- Values ---- */

/* 1 when a JSON string, as written here, can be read back: it can unless the text is not UTF-8. */
static int is_utf8(const char *json, size_t n) {
    _Alignas(16) char tokens[256];
    bf_json read;
    bf_json_fault fault;
    char *object = malloc(n + sizeof "{\"\":}");
    int is_it = 0;
    BF_ASSERT(bf_json_bytes(3) <= sizeof tokens);
    if (object) {
        int length = sprintf(object, "{\"\":%s}", json);
        is_it = bf_json_read(object, (size_t)length, tokens, 3, &read, &fault) == BF_OK;
    }
    free(object);
    return is_it;
}

/* Text as a JSON string of the heap. NULL: what is wrong with it was said. */
static char *text_json(const cli_command *command, const char *what, const char *text, size_t most) {
    char *json = NULL;
    size_t n;
    int is_blank = text[strspn(text, " ")] == 0;
    if (is_blank || strlen(text) > most) {
        (void)cli_say(command, CLI_BAD_INPUT, "%s is %s; accepted is text of 1 to %zu bytes.", what,
                      is_blank ? "blank" : "too long", most);
        return NULL;
    }
    FILE *to = open_memstream(&json, &n);
    if (to) cli_write_string(to, text);
    if (!to || fclose(to) != 0) {
        (void)cli_say(command, CLI_INTERNAL, "out of memory.");
    } else if (is_utf8(json, n)) {
        return json;
    } else {
        (void)cli_say(command, CLI_BAD_INPUT, "%s is not UTF-8.", what);
    }
    free(json);
    return NULL;
}

static cli_exit put_string(const cli_command *command, cli_entry *entry, int i, const char *text) {
    char *json = text_json(command, bf_body_table.field[i].name, text, BF_NAME_BYTES);
    if (!json) return CLI_BAD_INPUT;
    snprintf(entry->json[i], sizeof entry->json[i], "%s", json); /* six times the name's bytes at most */
    free(json);
    return CLI_OK;
}

/* The shortest digits that read back as the same double. */
static void put_number(cli_entry *entry, int i, double value) {
    for (int digits = 15; digits <= 17; digits++) {
        snprintf(entry->json[i], sizeof entry->json[i], "%.*g", digits, value);
        if (strtod(entry->json[i], NULL) == value) break;
    }
}

static cli_exit put_quantity(const cli_command *command, cli_entry *entry, int i, const char *text) {
    const bf_field *field = &bf_body_table.field[i];
    bf_quantity quantity = {0};
    int says_pm = 0, is_plain = bf_number_span(text, strlen(text)) == strlen(text);
    bf_status status = BF_OK;
    if (is_plain)
        quantity.value = strtod(text, NULL); /* SI */
    else
        status = bf_quantity_read(text, strlen(text), field->dimension, &quantity, &says_pm);
    if (status || quantity.is_unknown || !isfinite(quantity.value))
        return cli_say(command, CLI_BAD_INPUT, "%s is '%s'; accepted is %s%s.", field->name, text,
                       field->dimension == BF_PURE ? "" : "an amount in ", bf_units_of(field->dimension));
    put_number(entry, i, quantity.value);
    return CLI_OK;
}

static cli_exit put_whole(const cli_command *command, cli_entry *entry, int i, const char *text) {
    size_t n = strlen(text);
    if (n == 0 || n > 9 || strspn(text, "0123456789") != n)
        return cli_say(command, CLI_BAD_INPUT, "%s is '%s', which is no whole number.",
                       bf_body_table.field[i].name, text);
    put_number(entry, i, (double)atol(text));
    return CLI_OK;
}

static cli_exit put_choice(const cli_command *command, cli_entry *entry, int i, const char *text) {
    char known[512] = "";
    size_t length = 0;
    for (const char *const *word = bf_body_table.field[i].words; *word; word++) {
        if (strcmp(*word, text) == 0) return put_string(command, entry, i, text);
        length += (size_t)snprintf(known + length, sizeof known - length, "%s%s", length ? ", " : "", *word);
    }
    return cli_say(command, CLI_BAD_INPUT, "%s is '%s'; accepted is %s.", bf_body_table.field[i].name, text,
                   known);
}

static cli_exit put_instant(const cli_command *command, cli_entry *entry, int i, const char *text) {
    cli_when when;
    char instant[BF_INSTANT_BYTES];
    cli_exit code = cli_read_when(command, text, &when);
    if (code != CLI_OK) return code;
    bf_instant_write(when.ms, when.east_min, instant);
    return put_string(command, entry, i, instant);
}

static cli_exit put(const cli_command *command, cli_entry *entry, int i, const char *text) {
    if (is_given(entry, i))
        return cli_say(command, CLI_USAGE, "%s is given twice.", bf_body_table.field[i].name);
    switch (bf_body_table.field[i].kind) {
    case BF_REAL: return put_quantity(command, entry, i, text);
    case BF_INT: return put_whole(command, entry, i, text);
    case BF_CHOICE: return put_choice(command, entry, i, text);
    case BF_INSTANT: return put_instant(command, entry, i, text);
    default: return put_string(command, entry, i, text);
    }
}

cli_exit cli_entry_set(const cli_command *command, cli_entry *entry, const char *set) {
    const char *equals = strchr(set, '=');
    if (!equals) return cli_say(command, CLI_USAGE, "'%s' is not KEY=VALUE, such as peg=14.", set);
    size_t n = (size_t)(equals - set);
    int i = find_field(entry->kind, set, n);
    return i < 0 ? no_field(command, entry, set, n) : put(command, entry, i, equals + 1);
}

/* ---- Bare words ---- */

static int find_choice(const cli_entry *entry, const char *word, cli_nearest *nearest) {
    for (int i = 0; i < bf_body_table.n_fields; i++) {
        const bf_field *field = &bf_body_table.field[i];
        if (field->kind != BF_CHOICE || !has_field(entry->kind, i) || strcmp(field->name, "outcome") == 0)
            continue;
        for (const char *const *each = field->words; *each; each++) {
            if (strcmp(*each, word) == 0) return i;
            cli_consider(nearest, word, *each);
        }
    }
    return -1;
}

/* The first of an act's fields that is still open; of a dimension when `dimension` is not NULL. */
static int first_open(const cli_entry *entry, const char *const *fields, const bf_dimension *dimension,
                      int is_ratio) {
    for (; *fields; fields++) {
        int i = find_field(entry->kind, *fields, strlen(*fields));
        BF_ASSERT(i >= 0);
        int is_frac = strcmp(bf_field_suffix(&bf_body_table.field[i]), "_frac") == 0;
        int fits = !dimension || (bf_body_table.field[i].dimension == *dimension && is_frac == is_ratio);
        if (fits && !is_given(entry, i)) return i;
    }
    return -1;
}

static int is_quantity(const char *word) {
    if (*word == '-' || *word == '+') word++;
    if (*word == '.') word++;
    return isdigit((unsigned char)*word) != 0;
}

/* A field that a quantity fits, -1. A plain number that fits none may still be a name: peg 14. */
static int field_for_quantity(const act *a, const cli_entry *entry, const char *word) {
    bf_dimension dimension = BF_PURE;
    size_t n = strlen(word);
    int is_ratio = word[n - 1] == '%', is_plain = is_ratio || bf_number_span(word, n) == n;
    if (!is_plain && bf_dimension_read(word, n, &dimension) != BF_OK) return -1;
    return first_open(entry, a->quantities, &dimension, is_ratio);
}

/* A quantity with a unit, of an act that takes quantities: none of them is a name. */
static int is_misplaced(const act *a, const char *word) {
    bf_dimension dimension;
    size_t n = strlen(word);
    return a->quantities[0] && is_quantity(word) && bf_number_span(word, n) < n &&
           bf_dimension_read(word, n, &dimension) == BF_OK;
}

static cli_exit take_word(const cli_command *command, const act *a, cli_entry *entry, const char *word) {
    cli_nearest nearest = {NULL, 0};
    int i = is_quantity(word) ? field_for_quantity(a, entry, word) : find_choice(entry, word, &nearest);
    if (i >= 0) return put(command, entry, i, word);
    if (nearest.word)
        return cli_say(command, CLI_USAGE,
                       "'%s': did you mean '%s'? A name that is so like it is given by --set.", word,
                       nearest.word);
    i = first_open(entry, a->names, NULL, 0);
    int is_number = bf_number_span(word, strlen(word)) == strlen(word);
    if (i >= 0 && !is_misplaced(a, word) && !(is_number && strcmp(bf_body_table.field[i].name, "spot") == 0))
        return put(command, entry, i,
                   word); /* a peg is called 14, a spot is not: "missed 2" means something else */
    return cli_say(
        command, CLI_USAGE,
        "'%s' fits nothing that is still open in %s; a quantity needs its unit (30ml, 12C), a name of "
        "several words quotes; or name it: --set KEY=%s.",
        word, entry->word, word);
}

/* The word to add by of what entries are listed as: "Rig in" is `lower`; NULL: none. */
static const char *word_of_listed(const char *listed) {
    static const char *const words[][2] = {{"start", "open"}, {"rig", "lower"}, {"end", "close"}};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
        if (strcmp(words[i][0], listed) == 0) return words[i][1];
    return NULL;
}

static const act *find_act(const cli_command *command, const char *word, cli_exit *code) {
    cli_nearest nearest = {NULL, 0};
    for (size_t i = 0; i < N_ACTS; i++) {
        if (strcmp(acts[i].word, word) == 0) return &acts[i];
        cli_consider(&nearest, word, acts[i].word);
    }
    const char *listed = word_of_listed(word);
    if (listed) nearest.word = listed;
    if (nearest.word)
        *code = cli_say(command, CLI_USAGE, "'%s' is nothing that can be added; did you mean '%s'?", word,
                        nearest.word);
    else
        *code = cli_say(command, CLI_USAGE,
                        "'%s' is nothing that can be added; `baitfall log add` lists what is.", word);
    return NULL;
}

void cli_entry_start(cli_entry *entry, int kind, const char *word) {
    BF_ASSERT(bf_body_table.n_fields <= CLI_MOST_FIELDS);
    memset(entry, 0, sizeof *entry);
    entry->kind = kind;
    entry->word = word;
}

/* The words of a note are its text, spaces between. */
cli_exit cli_entry_note(const cli_command *command, cli_entry *entry, const char *note) {
    if (entry->note) return cli_say(command, CLI_USAGE, "the note is given twice: as words and by --note.");
    entry->note = text_json(command, "the note", note, NOTE_BYTES_MOST);
    return entry->note ? CLI_OK : CLI_BAD_INPUT;
}

/* The words of a note are its text. */
static cli_exit take_note(const cli_command *command, cli_entry *entry, const char *const *words, int n) {
    static char note[NOTE_BYTES_MOST + 2]; /* one too many is seen as such */
    size_t length = 0;
    for (int i = 0; i < n && length < sizeof note; i++)
        length += (size_t)snprintf(note + length, sizeof note - length, "%s%s", i ? " " : "", words[i]);
    return length > 0 ? cli_entry_note(command, entry, note) : CLI_OK;
}

cli_exit cli_entry_words(const cli_command *command, const char *const *words, int n, cli_entry *entry) {
    cli_exit code = CLI_OK;
    const act *a = find_act(command, words[0], &code);
    if (!a) return code;
    cli_entry_start(entry, a->kind, a->word);
    if (a->kind == BF_NOTE) return take_note(command, entry, words + 1, n - 1);
    if (a->outcome) code = put(command, entry, find_field(BF_LIFT, "outcome", 7), a->outcome);
    for (int i = 1; code == CLI_OK && i < n; i++) code = take_word(command, a, entry, words[i]);
    return code;
}

void cli_entry_free(cli_entry *entry) {
    free(entry->note);
    entry->note = NULL;
}

/* ---- Help ---- */

/* "volume" of volume_m3 */
static void print_name(const bf_field *field) {
    size_t n = strlen(field->name) - strlen(bf_field_suffix(field));
    printf(" %.*s", (int)n, field->name);
}

static int is_among(const char *name, const char *const *names) {
    while (*names && strcmp(*names, name) != 0) names++;
    return *names != NULL;
}

/* The words that are always a choice, and what only --set gives. */
static void print_others(const act *a) {
    int is_bare = a->outcome && !a->quantities[0]; /* a strike at nothing: there is no fish to tell of */
    const char *before = "\n           one of";
    for (int i = 0; !is_bare && i < bf_body_table.n_fields; i++) {
        const bf_field *field = &bf_body_table.field[i];
        if (!has_field(a->kind, i) || field->kind != BF_CHOICE || strcmp(field->name, "outcome") == 0)
            continue;
        for (const char *const *word = field->words; *word; word++, before = "")
            printf("%s %s", before, *word);
        before = "; of";
    }
    before = "\n           --set";
    for (int i = 0; !is_bare && i < bf_body_table.n_fields; i++) {
        const bf_field *field = &bf_body_table.field[i];
        if (!has_field(a->kind, i) || field->kind == BF_CHOICE || is_among(field->name, a->names) ||
            is_among(field->name, a->quantities))
            continue;
        fputs(before, stdout);
        print_name(field);
        before = "";
    }
    fputc('\n', stdout);
}

void cli_entry_help(void) {
    puts("What can be added, and what its bare words are, in this order; quantities go by their unit:");
    for (size_t i = 0; i < N_ACTS; i++) {
        printf("  %-8s", acts[i].word);
        for (const char *const *name = acts[i].names; *name; name++) printf(" %s", *name);
        for (const char *const *name = acts[i].quantities; *name; name++)
            print_name(&bf_body_table.field[find_field(acts[i].kind, *name, strlen(*name))]);
        if (acts[i].kind == BF_NOTE) fputs(" its text", stdout);
        print_others(&acts[i]);
    }
    puts("`baitfall form body` says what each of them is.");
}

/* ---- The line ---- */

static void write_id(FILE *to, const char *key, bf_id id) {
    char hex[33];
    bf_id_write(id, hex);
    fprintf(to, "\"%s\":\"%s\",", key, hex);
}

static void write_instant(FILE *to, const char *key, const cli_when *when) {
    char instant[BF_INSTANT_BYTES];
    bf_instant_write(when->ms, when->east_min, instant);
    fprintf(to, "\"%s\":\"%s\",", key, instant);
}

static void write_body(FILE *to, const cli_entry *entry) {
    const char *between = "";
    fputc('{', to);
    for (int i = 0; i < bf_body_table.n_fields; i++) {
        if (!is_given(entry, i)) continue;
        fprintf(to, "%s\"%s\":%s", between, bf_body_table.field[i].name, entry->json[i]);
        between = ",";
    }
    if (entry->note) {
        fprintf(to, "%s\"note\":%s", between, entry->note);
    }
    fputc('}', to);
}

char *cli_entry_body(const cli_entry *entry) {
    char *body = NULL;
    size_t n;
    FILE *to = open_memstream(&body, &n);
    if (!to) return NULL;
    write_body(to, entry);
    if (fclose(to) == 0) return body;
    free(body);
    return NULL;
}

char *cli_entry_line(const cli_entry *entry, const cli_envelope *envelope, size_t *n) {
    char *line = NULL;
    FILE *to = open_memstream(&line, n);
    if (!to) return NULL;
    fputs("{\"v\":1,", to);
    write_id(to, "id", envelope->id);
    write_id(to, "session", envelope->session);
    fprintf(to, "\"dev\":\"%08x\",\"run\":\"%08x\",\"seq\":%lld,\"kind\":\"%s\",",
            (unsigned int)envelope->dev, (unsigned int)envelope->run, envelope->seq,
            bf_event_words[entry->kind]);
    write_instant(to, "at", &envelope->at);
    fprintf(to, "\"pm_s\":%.3g,", envelope->at.pm_s);
    write_instant(to, "rec", &envelope->entered);
    if (bf_event_is_correction(entry->kind)) write_id(to, "of", envelope->of);
    fputs("\"body\":", to);
    write_body(to, entry);
    fputc('}', to);
    if (fclose(to) == 0) return line;
    free(line);
    return NULL;
}
