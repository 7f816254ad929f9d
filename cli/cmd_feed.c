/* cmd_feed.c -- fall, pot, soak, throw and spread: words into a request, the core's answer out. */
#include <stdlib.h>
#include <string.h>

#include "cli/cautions.h"
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

cli_exit cli_feed(const cli_command *command, const cli_args *args) {
    char *request = NULL;
    size_t n = 0;
    cli_kit kit = {.text = NULL};
    cli_exit code = CLI_OK;
    if (reads_stdin(args)) {
        code = nothing_beside(command, args);
        if (code == CLI_OK) code = cli_read_file(command, "-", &request, &n);
    } else {
        code = cli_read_kit(command, args, 0, &kit);
        if (code == CLI_OK) code = make_request(command, args, &kit, &request, &n);
    }
    if (code == CLI_OK) code = print_answer(command, args, request, n);
    free(request);
    cli_kit_free(&kit);
    return code;
}

/* Demo ------------------------------------------------------------------------------------------------------- */

static const struct {
    const char *line;     /* as it is typed                               */
    const char *argv[10]; /* the same as the shell cuts it, NULL-ended    */
} questions[] = {
    {"pot micros-2 --counted 400 hard-4 --short",
     {"baitfall", "pot", "micros-2", "--counted", "400", "hard-4", "--short"}},
    {"fall hard-4 1.62m 11.5C --short", {"baitfall", "fall", "hard-4", "1.62m", "11.5C", "--short"}},
    {"spread hard-4 1.62m 11.5C \"3 m/s\" sprinkle --short",
     {"baitfall", "spread", "hard-4", "1.62m", "11.5C", "3 m/s", "sprinkle", "--short"}},
};
#define N_QUESTIONS (sizeof questions / sizeof questions[0])

static cli_exit answer_question(size_t i) {
    const char *const *argv = questions[i].argv;
    const cli_command *command = cli_find(argv[1]);
    const cli_kit no_kit = {.text = NULL};
    cli_answer answer = {.text = NULL};
    cli_args args;
    char *request = NULL;
    size_t n = 0;
    int argc = 0;
    while (argv[argc]) argc++;
    cli_exit code = cli_parse(command, argc, argv, &args);
    if (code == CLI_OK) code = make_request(command, &args, &no_kit, &request, &n);
    if (code == CLI_OK) code = cli_ask(command, command->name, request, n, &answer);
    if (code == CLI_OK) {
        printf("\n$ baitfall %s\n", questions[i].line);
        cli_show_feed(command, &answer.json, 1);
    }
    cli_answer_free(&answer);
    free(request);
    return code;
}

cli_exit cli_demo(const cli_command *command, const cli_args *args) {
    (void)command;
    (void)args;
    cli_exit code = CLI_OK;
    cli_show_wrapped(
        "", "Withy Pool, peg 14, the long line: 1.62 m deep, water at 11.5 C, a wind of 3 m/s. The pool is "
            "invented; the answers are worked out.");
    for (size_t i = 0; code == CLI_OK && i < N_QUESTIONS; i++) code = answer_question(i);
    if (code != CLI_OK) return code;
    fputc('\n', stdout);
    cli_show_wrapped(
        "",
        "In brackets: where eight in ten would lie. Estimates, not measurements; `baitfall measure` makes "
        "them narrower.");
    cli_show_wrapped("", cli_caution());
    return CLI_OK;
}
