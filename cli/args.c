/* args.c -- the command line taken apart: words, options, --set. */
#include <ctype.h>
#include <stdarg.h>
#include <string.h>

#include "cli/cli.h"

cli_exit cli_say(const cli_command *command, cli_exit code, const char *sentence, ...) {
    va_list rest;
    fflush(stdout);
    fprintf(stderr, "baitfall%s%s: ", command ? " " : "", command ? command->name : "");
    va_start(rest, sentence);
    vfprintf(stderr, sentence, rest);
    va_end(rest);
    fputc('\n', stderr);
    return code;
}

/* "-5C" and "-.5m" are quantities and "-" is standard input; anything else that starts with a dash is an option. */
static int is_option(const char *word) {
    return word[0] == '-' && word[1] != 0 && !isdigit((unsigned char)word[1]) && word[1] != '.';
}

static int find_option(const cli_command *command, const char *name, size_t n) {
    for (int i = 0; i < CLI_N_OPTIONS; i++)
        if ((cli_options[i].groups & command->groups) && strlen(cli_options[i].name) == n &&
            memcmp(cli_options[i].name, name, n) == 0)
            return i;
    return -1;
}

static cli_exit unknown_option(const cli_command *command, const char *word) {
    cli_nearest best = {NULL, 0};
    for (int i = 0; i < CLI_N_OPTIONS; i++)
        if (cli_options[i].groups & command->groups) cli_consider(&best, word + 2, cli_options[i].name);
    if (best.word)
        return cli_say(command, CLI_USAGE, "there is no %s here; did you mean --%s?", word, best.word);
    return cli_say(command, CLI_USAGE, "there is no %s here; `baitfall help %s` lists what there is.", word,
                   command->name);
}

/* Takes the option at argv[*i] and its value; *i ends at the last word used. */
static cli_exit take_option(const cli_command *command, int argc, const char *const *argv, int *i,
                            cli_args *args) {
    const char *word = argv[*i], *value = "";
    if (strcmp(word, "-h") == 0) word = "--help";
    if (word[1] != '-') return unknown_option(command, word);
    const char *equals = strchr(word, '=');
    size_t n = equals ? (size_t)(equals - word) : strlen(word);
    int option = find_option(command, word + 2, n - 2);
    if (option < 0) return unknown_option(command, word);
    if (!cli_options[option].value && equals)
        return cli_say(command, CLI_USAGE, "--%s takes no value.", cli_options[option].name);
    if (cli_options[option].value && equals) value = equals + 1;
    if (cli_options[option].value && !equals) {
        if (*i + 1 == argc)
            return cli_say(command, CLI_USAGE, "--%s needs a value (%s).", cli_options[option].name,
                           cli_options[option].value);
        value = argv[++*i];
    }
    if (option == OPT_SET) {
        if (args->n_sets == CLI_MOST_SETS)
            return cli_say(command, CLI_USAGE, "at most %d --set are taken.", CLI_MOST_SETS);
        args->set[args->n_sets++] = value;
        return CLI_OK;
    }
    if (args->option[option])
        return cli_say(command, CLI_USAGE, "--%s is given twice.", cli_options[option].name);
    if (option == OPT_COUNTED) args->before_counted = args->n_words;
    args->option[option] = value;
    return CLI_OK;
}

cli_exit cli_parse(const cli_command *command, int argc, const char *const *argv, cli_args *args) {
    int options_ended = 0;
    memset(args, 0, sizeof *args);
    for (int i = 2; i < argc; i++) {
        if (!options_ended && strcmp(argv[i], "--") == 0) {
            options_ended = 1;
        } else if (!options_ended && is_option(argv[i])) {
            cli_exit code = take_option(command, argc, argv, &i, args);
            if (code != CLI_OK) return code;
        } else {
            if (!*command->words)
                return cli_say(command, CLI_USAGE, "no words are taken; got '%s'.", argv[i]);
            if (args->n_words == CLI_MOST_WORDS)
                return cli_say(command, CLI_USAGE, "at most %d words are taken.", CLI_MOST_WORDS);
            args->word[args->n_words++] = argv[i];
        }
    }
    return CLI_OK;
}
