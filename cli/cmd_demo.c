/* cmd_demo.c -- four questions about an invented peg, asked as they would be typed. */
#include <stdlib.h>
#include <string.h>

#include "cli/cautions.h"
#include "cli/demo.h"
#include "cli/show.h"

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
    cli_args args;
    int argc = 0;
    while (argv[argc]) argc++;
    cli_exit code = cli_parse(command, argc, argv, &args);
    if (code != CLI_OK) return code;
    printf("\n$ baitfall %s\n", questions[i].line);
    return cli_feed_by_kit(command, &args, &no_kit);
}

/* The head of a review: the day is built in, for where the program is installed the file is not. */
static cli_exit review_day(void) {
    const cli_command *command = cli_find("review");
    bf_journal *journal;
    cli_exit code = cli_load_lines(command, cli_spring_day, strlen(cli_spring_day), &journal);
    puts("\n$ baitfall review examples/withy-pool/spring-day.journal.jsonl | head -12");
    if (code == CLI_OK) code = cli_review_in_short(command, journal);
    free(journal);
    return code;
}

cli_exit cli_demo(const cli_command *command, const cli_args *args) {
    (void)command;
    (void)args;
    cli_exit code = CLI_OK;
    cli_show_wrapped(
        "",
        "Withy Pool, peg 14, the long line: 1.62 m deep, water at 11.5 C, a wind of 3 m/s; then a day there, "
        "looked back on. The pool and the day are invented; the answers are worked out.");
    for (size_t i = 0; code == CLI_OK && i < N_QUESTIONS; i++) code = answer_question(i);
    if (code == CLI_OK) code = review_day();
    if (code != CLI_OK) return code;
    fputc('\n', stdout);
    cli_show_wrapped(
        "",
        "In brackets: where eight in ten would lie. Estimates, not measurements; `baitfall measure` makes "
        "them narrower.");
    cli_show_wrapped("", cli_caution());
    return CLI_OK;
}
