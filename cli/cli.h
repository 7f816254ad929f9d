/* cli.h -- the program `baitfall`: a table of commands and options, and what their functions share.
 *
 * Help, the man page and the completions are written from the same two tables (commands.c).
 * Data goes to standard output, messages to standard error. */
#ifndef BAITFALL_CLI_H
#define BAITFALL_CLI_H

#include <stddef.h>
#include <stdio.h>

#include "baitfall/field.h"

/* What the program says to the shell. */
typedef enum cli_exit {
    CLI_OK = 0,
    CLI_NO = 1,        /* it ran, and the answer is no                 */
    CLI_USAGE = 2,     /* the command line makes no sense              */
    CLI_BAD_INPUT = 3, /* a value, a file or a request is wrong        */
    CLI_NOTHING = 4,   /* nothing found                                */
    CLI_TAKEN = 5,     /* would overwrite a file                       */
    CLI_INTERNAL = 70  /* the program or the system failed             */
} cli_exit;

/* ------------------------------------------------------------------------------------------ options */

/* Which commands an option belongs to: a command names the groups it takes. */
typedef enum cli_group {
    CLI_ANY = 1 << 0,       /* every command                   */
    CLI_ASK = 1 << 1,       /* those that answer with a range  */
    CLI_DRAW = 1 << 2,      /* those with a picture            */
    CLI_POT = 1 << 3,       /* pot                             */
    CLI_MEASURE = 1 << 4,   /* measure                         */
    CLI_SERVE = 1 << 5,     /* serve                           */
    CLI_LIST = 1 << 6,      /* catalogue, form                 */
    CLI_KIT = 1 << 7,       /* those that read the kit         */
    CLI_SET = 1 << 8,       /* those that take --set           */
    CLI_SHORT = 1 << 9,     /* those with many numbers         */
    CLI_JOURNAL = 1 << 10,  /* those that read the journal    */
    CLI_LOG = 1 << 11,      /* log                             */
    CLI_TRIAL = 1 << 12,    /* trial                           */
    CLI_PLAN = 1 << 13,     /* plan                            */
    CLI_PEG = 1 << 14,      /* peg                             */
    CLI_BED = 1 << 15,      /* bed                             */
    CLI_SEASON = 1 << 16,   /* season                          */
    CLI_NEXT = 1 << 17,     /* next                            */
    CLI_REHEARSE = 1 << 18, /* rehearse                       */
    CLI_REVIEW = 1 << 19    /* review                         */
} cli_group;

typedef enum cli_opt {
    OPT_HELP,
    OPT_VERSION,
    OPT_JSON,
    OPT_SHORT,
    OPT_SET,
    OPT_SEED,
    OPT_DRAWS,
    OPT_KIT,
    OPT_COUNTED,
    OPT_SVG,
    OPT_PNG,
    OPT_PDF,
    OPT_VIEW,
    OPT_LOOK,
    OPT_FORCE,
    OPT_HEIGHT,
    OPT_VESSEL,
    OPT_TIMES,
    OPT_COUNT,
    OPT_WATER,
    OPT_DRY,
    OPT_AFTER,
    OPT_WET,
    OPT_DISTANCES,
    OPT_DATE,
    OPT_PORT,
    OPT_FOLDER,
    OPT_DB,
    OPT_SESSION,
    OPT_AT,
    OPT_NOTE,
    OPT_ALL,
    OPT_CSV,
    OPT_HOURS,
    OPT_BLOCK,
    OPT_WASHOUT,
    OPT_BITES,
    OPT_ICS,
    OPT_PEG,
    OPT_PLUMBED,
    OPT_TOOK,
    OPT_LOADS,
    OPT_LENGTHS,
    OPT_REST,
    OPT_BROKE,
    OPT_SHOTS,
    OPT_TOGETHER,
    OPT_BEYOND,
    OPT_RIGHT,
    OPT_HELD,
    OPT_RING,
    OPT_SPOT,
    OPT_PLAN,
    OPT_BOOK,
    OPT_LEARNED,
    OPT_OBJECTIVE,
    OPT_FOLLOW,
    OPT_FROM,
    OPT_OUT,
    OPT_WHAT_IF,
    CLI_N_OPTIONS
} cli_opt;

typedef struct cli_option {
    const char *name;  /* without the dashes                                     */
    const char *value; /* what follows it, in capitals; NULL: nothing follows    */
    const char *path;  /* where the value goes in the request; NULL: nowhere     */
    unsigned groups;   /* of cli_group                                           */
    int is_list;       /* 1: the value is a list with commas                     */
    const char *help;
} cli_option;

extern const cli_option cli_options[CLI_N_OPTIONS];

/* ----------------------------------------------------------------------------------------- commands */

/* Where a bare quantity of a dimension goes; of several slots of one dimension the first that is free. */
typedef struct cli_slot {
    bf_dimension dimension;
    const char *path;
} cli_slot;

typedef struct cli_example {
    const char *line; /* after "baitfall " */
    const char *says; /* what it answers   */
} cli_example;

#define CLI_MOST_WORDS 64
#define CLI_MOST_SETS 64
#define CLI_MOST_SLOTS 10
#define CLI_MOST_EXAMPLES 9

struct cli_args;

typedef struct cli_command {
    const char *name;
    const char *brief;     /* one line                         */
    const char *words;     /* what may follow, for the usage   */
    const char *more;      /* a paragraph for `help <command>` */
    unsigned groups;       /* options it takes                 */
    const cli_slot *slots; /* CLI_MOST_SLOTS at most, ended by a NULL path; NULL: no bare quantities */
    cli_example example[CLI_MOST_EXAMPLES];
    cli_exit (*run)(const struct cli_command *command, const struct cli_args *args);
} cli_command;

extern const cli_command cli_commands[];
extern const int cli_n_commands;

/* NULL when there is none of that name. */
const cli_command *cli_find(const char *name);

/* The command line, taken apart. Points into argv. */
typedef struct cli_args {
    const char *word[CLI_MOST_WORDS];
    int before_counted; /* how many words stood before --counted      */
    int n_words;
    const char *option[CLI_N_OPTIONS]; /* NULL: not given; "" for those without a value */
    const char *set[CLI_MOST_SETS];    /* "key=value"                                   */
    int n_sets;
} cli_args;

/* Takes argv[2 ..] apart for a command. CLI_OK, or CLI_USAGE after saying what is wrong. */
cli_exit cli_parse(const cli_command *command, int argc, const char *const *argv, cli_args *args);

/* The functions of the table. */
cli_exit cli_feed(const cli_command *command, const cli_args *args);
cli_exit cli_measure(const cli_command *command, const cli_args *args);
cli_exit cli_bed(const cli_command *command, const cli_args *args);
cli_exit cli_next(const cli_command *command, const cli_args *args);
cli_exit cli_rehearse(const cli_command *command, const cli_args *args);
cli_exit cli_review(const cli_command *command, const cli_args *args);
cli_exit cli_season(const cli_command *command, const cli_args *args);
cli_exit cli_trial(const cli_command *command, const cli_args *args);
cli_exit cli_plan(const cli_command *command, const cli_args *args);
cli_exit cli_peg(const cli_command *command, const cli_args *args);
cli_exit cli_catalogue(const cli_command *command, const cli_args *args);
cli_exit cli_form(const cli_command *command, const cli_args *args);
cli_exit cli_log(const cli_command *command, const cli_args *args);
cli_exit cli_serve(const cli_command *command, const cli_args *args);
cli_exit cli_demo(const cli_command *command, const cli_args *args);
cli_exit cli_help(const cli_command *command, const cli_args *args);
cli_exit cli_man(const cli_command *command, const cli_args *args);
cli_exit cli_completion(const cli_command *command, const cli_args *args);

/* -------------------------------------------------------------------------------------------- shared */

/* Concise help, for a bare `baitfall`; and the page of one command. */
void cli_help_short(void);
void cli_help_command(const cli_command *command);

/* Prints "baitfall <command>: <sentence>\n" on standard error and returns `code`. */
__attribute__((format(printf, 3, 4))) cli_exit cli_say(const cli_command *command, cli_exit code,
                                                       const char *sentence, ...);

/* The word nearest to `word`, or NULL when none is near enough to suggest: edits of letters, two of them swapped
 * counting once, at most a third of the word; or one word is a part of the other. Capitals do not count. Feed
 * candidates one at a time; best starts as {NULL, 0}. */
typedef struct cli_nearest {
    const char *word;
    size_t edits;
} cli_nearest;
void cli_consider(cli_nearest *best, const char *word, const char *candidate);

#endif
