/* main.c -- finds the command and runs it. */
#define _POSIX_C_SOURCE 200809L

#include <fcntl.h>
#include <string.h>
#include <unistd.h>

#include "cli/cli.h"

static cli_exit unknown_command(const char *name) {
    cli_nearest best = {NULL, 0};
    for (int i = 0; i < cli_n_commands; i++) cli_consider(&best, name, cli_commands[i].name);
    if (best.word)
        return cli_say(NULL, CLI_USAGE, "there is no command '%s'; did you mean '%s'?", name, best.word);
    return cli_say(NULL, CLI_USAGE, "there is no command '%s'; `baitfall help` lists them.", name);
}

/* What was printed may still sit in the buffer: a full disk or a closed pipe shows here. */
static cli_exit finish(cli_exit code) {
    if (fflush(stdout) != 0 || ferror(stdout))
        return cli_say(NULL, CLI_INTERNAL, "the output could not be written.");
    return code;
}

static cli_exit print_version(void) {
    puts("baitfall " BF_VERSION " (MIT licence, the Baitfall authors)");
    return CLI_OK;
}

static cli_exit run(int argc, const char *const *argv) {
    if (argc < 2) {
        cli_help_short();
        return CLI_OK;
    }
    if (strcmp(argv[1], "--version") == 0) return print_version();
    int asks_help = strcmp(argv[1], "--help") == 0 || strcmp(argv[1], "-h") == 0;
    const cli_command *command = cli_find(asks_help ? "help" : argv[1]);
    if (!command) return unknown_command(argv[1]);
    cli_args args;
    cli_exit code = cli_parse(command, argc, argv, &args);
    if (code != CLI_OK) return code;
    if (args.option[OPT_VERSION]) return print_version();
    if (!args.option[OPT_HELP]) return command->run(command, &args);
    cli_help_command(command);
    return CLI_OK;
}

/* A stream that was closed for us must not become the file we open next: it gets a place that refuses to be used. */
static void hold_closed_streams(void) {
    for (int fd = STDIN_FILENO; fd <= STDERR_FILENO; fd++)
        if (fcntl(fd, F_GETFD) < 0) (void)!open("/dev/null", fd == STDIN_FILENO ? O_WRONLY : O_RDONLY);
}

int main(int argc, char **argv) {
    hold_closed_streams();
    return (int)finish(run(argc, (const char *const *)argv));
}
