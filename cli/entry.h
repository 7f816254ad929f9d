/* entry.h -- an entry of the journal put together from the words of a command line. */
#ifndef BAITFALL_CLI_ENTRY_H
#define BAITFALL_CLI_ENTRY_H

#include "baitfall/journal.h"
#include "cli/when.h"

#define CLI_MOST_FIELDS 64 /* of a body */

typedef struct cli_entry {
    int kind;                        /* bf_event_kind                                     */
    const char *word;                /* what it is called: "missed"                       */
    char *note;                      /* as JSON; NULL: none. cli_entry_free frees it       */
    char json[CLI_MOST_FIELDS][320]; /* each field of bf_body_table as JSON, "" not given */
} cli_entry;

/* The envelope of a line. */
typedef struct cli_envelope {
    bf_id id, session, of; /* of: zero when it is about no other entry */
    uint32_t dev, run;
    long long seq;
    cli_when at;
    cli_when entered;
} cli_envelope;

/* Starts an entry from words[0] (an act: open, feed, missed ...) and takes the words behind it; the words of `note` are its text. */
cli_exit cli_entry_words(const cli_command *command, const char *const *words, int n, cli_entry *entry);

/* Gives it a note, when it has none yet. */
cli_exit cli_entry_note(const cli_command *command, cli_entry *entry, const char *note);

void cli_entry_free(cli_entry *entry);

/* Starts an entry that corrects another: cross, restore or fix. */
void cli_entry_start(cli_entry *entry, int kind, const char *word);

/* Takes one "key=value". */
cli_exit cli_entry_set(const cli_command *command, cli_entry *entry, const char *set);

/* A field by its name, as JSON; NULL: not given. */
const char *cli_entry_json(const cli_entry *entry, const char *field);

/* The line, 0-ended; the caller frees it. NULL: out of memory. */
char *cli_entry_line(const cli_entry *entry, const cli_envelope *envelope, size_t *n);

/* Its body alone, likewise. */
char *cli_entry_body(const cli_entry *entry);

/* Every act, with what its bare words and quantities are, for help. */
void cli_entry_help(void);

#endif
