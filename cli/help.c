/* help.c -- help and the manual page, both from the two tables. */
#include <string.h>

#include "cli/cautions.h"
#include "cli/show.h"

static const struct {
    cli_exit code;
    const char *says;
} exits[] = {
    {CLI_OK, "all went well"},
    {CLI_NO, "it ran, and the answer is no"},
    {CLI_USAGE, "the command line makes no sense"},
    {CLI_BAD_INPUT,
     "a value, a file or a request is wrong; nothing was written (`log import` keeps the good lines)"},
    {CLI_NOTHING, "nothing found"},
    {CLI_TAKEN, "would overwrite a file"},
    {CLI_INTERNAL, "the program or the system failed"},
};

#define N_EXITS (int)(sizeof exits / sizeof exits[0])

static const char one_sentence[] =
    "Works out what happens to feed between the pot and the bottom of a stocked "
    "stillwater, how the rig hangs over it and how often they meet, each number "
    "with the range it may lie in. Keeps what happened at the water for good, "
    "looks back on it, and says what to do next.";

void cli_help_short(void) {
    cli_show_wrapped("", one_sentence);
    fputc('\n', stdout);
    for (int i = 0; i < cli_n_commands; i++)
        if (cli_commands[i].groups & (CLI_ASK | CLI_MEASURE | CLI_JOURNAL | CLI_REHEARSE))
            printf("  baitfall %s\n", cli_commands[i].example[0].line);
    puts("\nCommands");
    for (int i = 0; i < cli_n_commands; i++)
        printf("  %-11s %s\n", cli_commands[i].name, cli_commands[i].brief);
    puts("\n`baitfall help COMMAND` says more.");
    cli_show_wrapped("", cli_caution());
}

static int option_width(const cli_option *option) {
    return (int)strlen(option->name) + (option->value ? 1 + (int)strlen(option->value) : 0);
}

static void print_options(const cli_command *command) {
    fputs("\nOptions\n", stdout);
    for (int i = 0; i < CLI_N_OPTIONS; i++) {
        const cli_option *option = &cli_options[i];
        if (!(option->groups & command->groups)) continue;
        char first[64];
        snprintf(first, sizeof first, "  --%s%s%s%*s  ", option->name, option->value ? " " : "",
                 option->value ? option->value : "", 20 - option_width(option), "");
        cli_show_wrapped(first, option->help);
    }
}

/* What a bare quantity of a slot looks like: a pure one counts pieces or fills a pot. */
static const char *unit_example(const cli_slot *slot) {
    switch (slot->dimension) {
    case BF_PURE: return strcmp(slot->path, "put.count") == 0 ? "12" : "80%";
    case BF_LENGTH: return "1.5m, 4mm, 5ft 3in";
    case BF_VOLUME: return "20ml";
    case BF_DENSITY: return "1180 kg/m3";
    case BF_TIME: return "6min, 30s";
    case BF_TEMPERATURE: return "12C, 54F";
    case BF_SPEED: return "3 m/s, 4 Beaufort";
    case BF_ANGLE: return "90deg";
    default: return bf_dimension_suffix(slot->dimension);
    }
}

static void print_slots(const cli_command *command) {
    if (!command->slots) return;
    fputs("\nA bare quantity is, by its unit\n", stdout);
    for (const cli_slot *slot = command->slots; slot->path; slot++)
        printf("  %-22s %s\n", unit_example(slot), slot->path);
}

void cli_help_command(const cli_command *command) {
    for (int i = 0; i < CLI_MOST_EXAMPLES && command->example[i].line; i++)
        printf("  baitfall %s\n      %s\n", command->example[i].line, command->example[i].says);
    printf("\nbaitfall %s%s%s\n", command->name, command->words[0] ? " " : "", command->words);
    cli_show_wrapped("  ", command->more[0] ? command->more : command->brief);
    print_slots(command);
    print_options(command);
    fputs("\nExit\n", stdout);
    for (int i = 0; i < N_EXITS; i++) {
        char first[16];
        snprintf(first, sizeof first, "  %2d  ", exits[i].code);
        cli_show_wrapped(first, exits[i].says);
    }
}

cli_exit cli_help(const cli_command *command, const cli_args *args) {
    if (args->n_words == 0) {
        cli_help_short();
        return CLI_OK;
    }
    const cli_command *about = cli_find(args->word[0]);
    if (!about) {
        cli_nearest best = {NULL, 0};
        for (int i = 0; i < cli_n_commands; i++) cli_consider(&best, args->word[0], cli_commands[i].name);
        return cli_say(command, CLI_USAGE, "there is no command '%s'%s%s%s", args->word[0],
                       best.word ? "; did you mean '" : ".", best.word ? best.word : "",
                       best.word ? "'?" : "");
    }
    cli_help_command(about);
    return CLI_OK;
}

/* The manual page ------------------------------------------------------------------------------------------ */

/* Text for roff: a leading dot or quote would be a request, a backslash an escape, a dash a hyphen. */
static void roff(const char *text) {
    for (const char *c = text; *c; c++) {
        if (c == text || c[-1] == '\n')
            if (*c == '.' || *c == '\'') fputs("\\&", stdout);
        if (*c == '\\')
            fputs("\\e", stdout);
        else if (*c == '-')
            fputs("\\-", stdout);
        else
            fputc(*c, stdout);
    }
}

static void man_command(const cli_command *command) {
    fputs(".SS baitfall ", stdout);
    roff(command->name);
    fputc(' ', stdout);
    roff(command->words);
    fputc('\n', stdout);
    roff(command->brief);
    fputs(".\n", stdout);
    if (command->more[0]) {
        roff(command->more);
        fputc('\n', stdout);
    }
    for (int i = 0; i < CLI_MOST_EXAMPLES && command->example[i].line; i++) {
        fputs(".PP\n.EX\n    baitfall ", stdout);
        roff(command->example[i].line);
        fputs("\n.EE\n", stdout);
    }
}

cli_exit cli_man(const cli_command *command, const cli_args *args) {
    (void)command;
    (void)args;
    fputs(".TH BAITFALL 1 \"\" \"baitfall " BF_VERSION "\"\n.SH NAME\nbaitfall \\- ", stdout);
    roff("feed from the pot to the bottom, with its range, and the record of the day");
    fputs("\n.SH SYNOPSIS\n.B baitfall\n.I command\n[words] [options]\n.SH DESCRIPTION\n", stdout);
    roff(one_sentence);
    fputs("\n.SH COMMANDS\n", stdout);
    for (int i = 0; i < cli_n_commands; i++) man_command(&cli_commands[i]);
    fputs(".SH OPTIONS\n", stdout);
    for (int i = 0; i < CLI_N_OPTIONS; i++) {
        fputs(".TP\n.B \\-\\-", stdout);
        roff(cli_options[i].name);
        if (cli_options[i].value) printf(" %s", cli_options[i].value);
        fputc('\n', stdout);
        roff(cli_options[i].help);
        fputc('\n', stdout);
    }
    fputs(".SH EXIT STATUS\n", stdout);
    for (int i = 0; i < N_EXITS; i++) printf(".TP\n.B %d\n%s\n", exits[i].code, exits[i].says);
    fputs(".SH FILES\n.I $XDG_DATA_HOME/baitfall/kit.json\nholds the kit.\n.PP\n.I "
          "$XDG_DATA_HOME/baitfall/journal.db\nholds the journal.\n.SH SAFETY\n",
          stdout);
    roff(cli_caution());
    fputc('\n', stdout);
    return CLI_OK;
}
