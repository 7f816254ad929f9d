/* completion.c -- completions for three shells, from the two tables and the catalogue. */
#include <string.h>

#include "baitfall/pattern.h"
#include "cli/cli.h"

/* Commands whose words are baits are those that take --set. */
static int takes_baits(const cli_command *command) {
    return (command->groups & CLI_SET) != 0;
}

static void print_commands(void) {
    for (int i = 0; i < cli_n_commands; i++) printf("%s ", cli_commands[i].name);
}

/* The words between which the usage lets one choose: "drop|count|soak|throw BAIT". */
static void print_choices(const char *usage) {
    static const char letters[] = "abcdefghijklmnopqrstuvwxyz";
    for (const char *at = usage; *at;) {
        size_t n = strspn(at, letters);
        int is_choice = n > 0 && (at[n] == '|' || (at > usage && at[-1] == '|'));
        if (is_choice) printf("%.*s ", (int)n, at);
        at += n ? n : 1;
    }
}

/* Every word that may follow a command: choices, baits and options. */
static void print_words(const cli_command *command) {
    print_choices(command->words);
    if (command->run == cli_help) print_commands();
    for (int i = 0; takes_baits(command) && i < bf_n_catalogue; i++) printf("%s ", bf_catalogue[i].word);
    for (int i = 0; takes_baits(command) && i < bf_n_pots; i++) printf("%s ", bf_pots[i].word);
    for (int i = 0; takes_baits(command) && i < bf_n_rigs; i++) printf("%s ", bf_rigs[i].word);
    for (int i = 0; i < CLI_N_OPTIONS; i++)
        if (cli_options[i].groups & command->groups) printf("--%s ", cli_options[i].name);
}

static void bash(void) {
    fputs("_baitfall() {\n    local words\n    if ((COMP_CWORD == 1)); then\n        words=\"", stdout);
    print_commands();
    puts("\"\n    else\n        case ${COMP_WORDS[1]} in");
    for (int i = 0; i < cli_n_commands; i++) {
        printf("        %s) words=\"", cli_commands[i].name);
        print_words(&cli_commands[i]);
        puts("\" ;;");
    }
    puts(
        "        esac\n    fi\n    COMPREPLY=($(compgen -W \"$words\" -- \"${COMP_WORDS[COMP_CWORD]}\"))\n}\n"
        "complete -o default -F _baitfall baitfall");
}

static void zsh(void) {
    fputs("#compdef baitfall\nif ((CURRENT == 2)); then\n    compadd -- ", stdout);
    print_commands();
    puts("\n    return\nfi\n_files\ncase ${words[2]} in");
    for (int i = 0; i < cli_n_commands; i++) {
        printf("    %s) compadd -- ", cli_commands[i].name);
        print_words(&cli_commands[i]);
        puts(";;");
    }
    puts("esac");
}

/* Text in single quotes for fish. */
static void fish_quote(const char *text) {
    fputc('\'', stdout);
    for (const char *c = text; *c; c++) {
        if (*c == '\'' || *c == '\\') fputc('\\', stdout);
        fputc(*c, stdout);
    }
    fputc('\'', stdout);
}

static void fish_command(const cli_command *command) {
    printf("complete -c baitfall -n __fish_use_subcommand -a %s -d ", command->name);
    fish_quote(command->brief);
    fputc('\n', stdout);
    if (strchr(command->words, '|')) {
        printf("complete -c baitfall -n '__fish_seen_subcommand_from %s' -a '", command->name);
        print_choices(command->words);
        puts("'");
    }
    for (int i = 0; takes_baits(command) && i < bf_n_catalogue; i++) {
        printf("complete -c baitfall -n '__fish_seen_subcommand_from %s' -a %s -d ", command->name,
               bf_catalogue[i].word);
        fish_quote(bf_catalogue[i].title);
        fputc('\n', stdout);
    }
    for (int i = 0; i < CLI_N_OPTIONS; i++) {
        if (!(cli_options[i].groups & command->groups)) continue;
        printf("complete -c baitfall -n '__fish_seen_subcommand_from %s' -l %s%s -d ", command->name,
               cli_options[i].name, cli_options[i].value ? " -r" : "");
        fish_quote(cli_options[i].help);
        fputc('\n', stdout);
    }
}

static void fish(void) {
    for (int i = 0; i < cli_n_commands; i++) fish_command(&cli_commands[i]);
}

cli_exit cli_completion(const cli_command *command, const cli_args *args) {
    static const struct {
        const char *shell;
        void (*print)(void);
    } shells[] = {{"bash", bash}, {"zsh", zsh}, {"fish", fish}};
    for (size_t i = 0; args->n_words == 1 && i < sizeof shells / sizeof shells[0]; i++)
        if (strcmp(args->word[0], shells[i].shell) == 0) {
            shells[i].print();
            return CLI_OK;
        }
    return cli_say(command, CLI_USAGE, "name one shell: bash, zsh or fish.");
}
