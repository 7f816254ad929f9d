/* cmd_serve.c -- the page to browsers on this machine, until interrupted. */
#define _POSIX_C_SOURCE 200809L

#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "baitfall/kit.h"
#include "baitfall/server.h"
#include "cli/cli.h"

/* The built page lies beside the program: build/page beside build/release/baitfall, or share/baitfall/page in the
 * prefix of an installed bin/baitfall. */
static int find_page(char folder[BF_PATH_MOST]) {
    static const char *const beside[] = {"/../page", "/../share/baitfall/page"};
    char program[BF_PATH_MOST], index[BF_PATH_MOST + 64];
    ssize_t n = readlink("/proc/self/exe", program, sizeof program - 1);
    if (n <= 0) return 0;
    program[n] = 0;
    *strrchr(program, '/') = 0;
    for (size_t i = 0; i < sizeof beside / sizeof beside[0]; i++) {
        if (snprintf(folder, BF_PATH_MOST, "%s%s", program, beside[i]) >= BF_PATH_MOST) continue;
        snprintf(index, sizeof index, "%s/index.html", folder);
        if (access(index, R_OK) == 0) return 1;
    }
    return 0;
}

static cli_exit read_port(const cli_command *command, const cli_args *args, int *port) {
    const char *text = args->option[OPT_PORT];
    *port = BF_SERVE_PORT;
    if (!text) return CLI_OK;
    if (strspn(text, "0123456789") != strlen(text) || strlen(text) > 5 || text[0] == 0)
        return cli_say(command, CLI_USAGE, "--port is %s; accepted is a whole number from 0 to 65535.", text);
    *port = atoi(text);
    return CLI_OK;
}

/* A taken port is an answer, not a failure. */
static cli_exit say_not_served(const cli_command *command, bf_serve_status status, int port,
                               const char *folder) {
    switch (status) {
    case BF_SERVE_E_PORT_TAKEN:
        return cli_say(command, CLI_NO, "port %d is taken by another program; choose one with --port.", port);
    case BF_SERVE_E_PORT_RANGE:
        return cli_say(command, CLI_USAGE, "--port is %d; accepted is a whole number from 0 to 65535.", port);
    case BF_SERVE_E_PORT_DENIED:
        return cli_say(command, CLI_NO,
                       "the system does not allow port %d; choose one above 1023 with --port.", port);
    case BF_SERVE_E_FOLDER:
        return cli_say(command, CLI_BAD_INPUT, "the folder %s cannot be opened or holds no index.html.",
                       folder);
    default: return cli_say(command, CLI_INTERNAL, "the page is not served: %s.", bf_serve_words(status));
    }
}

cli_exit cli_serve(const cli_command *command, const cli_args *args) {
    char beside[BF_PATH_MOST];
    const char *folder = args->option[OPT_FOLDER];
    int port = 0, received = 0;
    cli_exit code = read_port(command, args, &port);
    if (code != CLI_OK) return code;
    if (!folder && !find_page(beside))
        return cli_say(
            command, CLI_BAD_INPUT,
            "no built page lies beside the program; `make page` builds it, --folder names another.");
    if (!folder) folder = beside;

    /* Blocked before the server's thread starts, so that only sigwait sees them. */
    sigset_t stop;
    sigemptyset(&stop);
    sigaddset(&stop, SIGINT);
    sigaddset(&stop, SIGTERM);
    sigprocmask(SIG_BLOCK, &stop, NULL);

    bf_server *server = NULL;
    bf_serve_status status = bf_serve_start(&(bf_serve_options){folder, port, 0}, &server);
    if (status != BF_SERVE_OK) return say_not_served(command, status, port, folder);
    printf("http://localhost:%d/   the page, on this machine only; Ctrl-C ends it\n", bf_serve_port(server));
    fflush(stdout);
    sigwait(&stop, &received);
    bf_serve_stop(server);
    return CLI_OK;
}
