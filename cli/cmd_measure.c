/* cmd_measure.c -- a home measurement narrows the kit; the kit file is written at once. */
#define _POSIX_C_SOURCE 200809L

#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "baitfall/tackle_measure.h"
#include "cli/input.h"
#include "cli/show.h"

/* The i-th kind of measurement, NULL past the end. */
static const char *kind(int i) {
    if (i < bf_n_measurements) return bf_measurements[i].word;
    i -= bf_n_measurements;
    return i < bf_n_tackle_measurements ? bf_tackle_measurements[i].word : NULL;
}

/* "drop, count or soak": all kinds. */
static const char *all_kinds(char out[128]) {
    size_t n = 0;
    for (int i = 0; kind(i) && n < 128; i++)
        n += (size_t)snprintf(out + n, 128 - n, "%s%s", i == 0 ? "" : kind(i + 1) ? ", " : " or ", kind(i));
    return out;
}

static cli_exit check_kind(const cli_command *command, const cli_args *args) {
    char all[128];
    cli_nearest best = {NULL, 0};
    for (int i = 0; args->n_words > 0 && kind(i); i++) {
        if (strcmp(args->word[0], kind(i)) == 0) return CLI_OK;
        cli_consider(&best, args->word[0], kind(i));
    }
    return cli_say(command, CLI_USAGE, "say first what was measured: %s%s%s%s", all_kinds(all),
                   best.word ? "; did you mean '" : ".", best.word ? best.word : "", best.word ? "'?" : "");
}

/* Today on this machine's calendar. */
static const char *today(char out[16]) {
    time_t now = time(NULL);
    struct tm calendar;
    if (!localtime_r(&now, &calendar) || strftime(out, 16, "%Y-%m-%d", &calendar) == 0) out[0] = 0;
    return out;
}

static cli_exit make_request(const cli_command *command, const cli_args *args, const cli_kit *kit,
                             char **json, size_t *n) {
    static cli_request request;
    char date[16];
    cli_put_result result = cli_request_put(&request, "what", args->word[0], CLI_AS_TEXT);
    cli_exit code = cli_take_words(command, args, 1, &kit->names, &request);
    if (code == CLI_OK) code = cli_take_options(command, args, &request);
    if (code != CLI_OK) return code;
    if (result == CLI_PUT && !args->option[OPT_DATE])
        result = cli_request_put(&request, "date", today(date), CLI_AS_TEXT);
    if (result == CLI_PUT && kit->text) result = cli_request_put(&request, "kit", kit->text, CLI_AS_JSON);
    if (result != CLI_PUT)
        return cli_say(command, CLI_USAGE, "what, date and kit are not set by --set here.");
    *json = cli_request_json(&request, n);
    return *json ? CLI_OK : cli_say(command, CLI_INTERNAL, "out of memory.");
}

static cli_exit save_kit(const cli_command *command, const cli_kit *kit, const bf_json *answer) {
    size_t n;
    const char *raw = bf_json_raw(answer, bf_json_find(answer, 0, "kit"), &n);
    char *line = malloc(n + 1);
    if (!line) return cli_say(command, CLI_INTERNAL, "out of memory.");
    memcpy(line, raw, n);
    line[n] = '\n';
    bf_file what = bf_kit_write(kit->path, line, n + 1);
    free(line);
    if (what == BF_FILE_OK) return CLI_OK;
    return cli_say(command, CLI_INTERNAL, "the kit %s could not be written: %s; the old one stands.",
                   kit->path, bf_file_words(what));
}

/* "a was 1, now 2; b was 3, now 4." one below the other. */
static void show_changes(const bf_json *json) {
    char text[1024];
    cli_text(json, 0, "text", text, sizeof text);
    for (char *part = text; part;) {
        char *next = strstr(part, "; ");
        if (next) *next = 0;
        cli_show_wrapped("  ", part);
        part = next ? next + 2 : NULL;
    }
}

/* "hard-4 and my pot": the names that what was measured has in the kit. */
static void say_kept(const bf_json *json, char *out, size_t most) {
    char name[64];
    size_t n = 0;
    int kept = bf_json_find(json, 0, "kept");
    out[0] = 0;
    for (int key = bf_json_first(json, kept); key >= 0 && n < most; key = bf_json_next(json, key))
        if (bf_json_string(json, key + 1, name, sizeof name) == BF_OK)
            n += (size_t)snprintf(out + n, most - n, "%s%s", n ? " and " : "", name);
}

static void show(const cli_kit *kit, const bf_json *json) {
    char names[256];
    show_changes(json);
    fputc('\n', stdout);
    cli_show_notes(json, 0);
    say_kept(json, names, sizeof names);
    printf("Kept as %s in %s, the old values with their date.\n", names, kit->path);
}

cli_exit cli_measure(const cli_command *command, const cli_args *args) {
    char *request = NULL;
    size_t n = 0;
    cli_kit kit = {.text = NULL};
    cli_answer answer = {.text = NULL};
    cli_exit code = check_kind(command, args);
    if (code == CLI_OK) code = cli_read_kit(command, args, 1, &kit);
    if (code == CLI_OK && !kit.path[0])
        code =
            cli_say(command, CLI_USAGE, "there is no home folder to keep a kit in; name a file with --kit.");
    if (code == CLI_OK) code = make_request(command, args, &kit, &request, &n);
    if (code == CLI_OK) code = cli_ask(command, "measure", request, n, &answer);
    if (code == CLI_OK) code = save_kit(command, &kit, &answer.json);
    if (code == CLI_OK && args->option[OPT_JSON])
        puts(answer.text);
    else if (code == CLI_OK)
        show(&kit, &answer.json);
    cli_answer_free(&answer);
    cli_kit_free(&kit);
    free(request);
    return code;
}
