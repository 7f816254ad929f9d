/* cmd_feed.c -- fall, pot, soak, throw and spread: words into a request, the core's answer out. */
#include <stdlib.h>
#include <string.h>

#include "cli/demo.h"
#include "cli/draw.h"
#include "cli/input.h"
#include "cli/show.h"

static int reads_stdin(const cli_args *args) {
    return args->n_words == 1 && strcmp(args->word[0], "-") == 0;
}

/* A request from standard input is put as it is: what would have to go into it is refused, not dropped. */
static cli_exit nothing_beside(const cli_command *command, const cli_args *args) {
    const char *beside = args->n_sets ? "set" : args->option[OPT_KIT] ? "kit" : NULL;
    for (int i = 0; i < CLI_N_OPTIONS; i++)
        if (args->option[i] && cli_options[i].path) beside = cli_options[i].name;
    if (!beside) return CLI_OK;
    return cli_say(command, CLI_USAGE, "--%s does not go with `-`: say it in the request.", beside);
}

/* The words and options as a request. */
static cli_exit make_request(const cli_command *command, const cli_args *args, const cli_kit *kit,
                             char **json, size_t *n) {
    static cli_request request; /* 20 kB */
    request.n = 0;
    cli_exit code = cli_take_words(command, args, 0, &kit->names, &request);
    if (code == CLI_OK) code = cli_take_options(command, args, &request);
    if (code == CLI_OK) code = cli_ask_drawing(command, args, &request);
    if (code != CLI_OK) return code;
    if (args->option[OPT_COUNTED] && !cli_request_has(&request, "counted.bait"))
        return cli_say(command, CLI_USAGE, "name before --counted which bait was counted.");
    if (kit->text && cli_request_put(&request, "kit", kit->text, CLI_AS_JSON) != CLI_PUT)
        return cli_say(command, CLI_USAGE, "kit is given twice; leave the kit file out with --kit.");
    *json = cli_request_json(&request, n);
    return *json ? CLI_OK : cli_say(command, CLI_INTERNAL, "out of memory.");
}

static cli_exit print_answer(const cli_command *command, const cli_args *args, const char *request,
                             size_t n) {
    cli_answer answer;
    cli_exit code = cli_ask(command, command->name, request, n, &answer);
    if (code == CLI_OK && cli_wants_drawing(args)) code = cli_write_drawings(command, args, &answer.json);
    if (code == CLI_OK && args->option[OPT_JSON])
        puts(answer.text);
    else if (code == CLI_OK)
        cli_show_feed(command, &answer.json, args->option[OPT_SHORT] != NULL);
    cli_answer_free(&answer);
    return code;
}

static cli_exit answer_stdin(const cli_command *command, const cli_args *args) {
    char *request = NULL;
    size_t n = 0;
    cli_exit code = nothing_beside(command, args);
    if (code == CLI_OK) code = cli_read_file(command, "-", &request, &n);
    if (code == CLI_OK) code = print_answer(command, args, request, n);
    free(request);
    return code;
}

cli_exit cli_feed_by_kit(const cli_command *command, const cli_args *args, const cli_kit *kit) {
    char *request = NULL;
    size_t n = 0;
    cli_exit code = make_request(command, args, kit, &request, &n);
    if (code == CLI_OK) code = print_answer(command, args, request, n);
    free(request);
    return code;
}

cli_exit cli_feed(const cli_command *command, const cli_args *args) {
    cli_kit kit;
    if (reads_stdin(args)) return answer_stdin(command, args);
    cli_exit code = cli_read_kit(command, args, 0, &kit);
    if (code == CLI_OK) code = cli_feed_by_kit(command, args, &kit);
    cli_kit_free(&kit);
    return code;
}
