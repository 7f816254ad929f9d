/* cautions.h -- what can hurt somebody at the water, and what the fish need. */
#ifndef BAITFALL_CLI_CAUTIONS_H
#define BAITFALL_CLI_CAUTIONS_H

/* The first of them, in the core's words: it stands wherever help does. */
const char *cli_caution(void);

/* All of them, wrapped, each behind `first`: as a session starts. */
void cli_show_cautions(const char *first);

#endif
