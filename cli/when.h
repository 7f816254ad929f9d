/* when.h -- instants as people type and read them, by this machine's zone. */
#ifndef BAITFALL_CLI_WHEN_H
#define BAITFALL_CLI_WHEN_H

#include "cli/cli.h"

typedef struct cli_when {
    double ms;    /* since 1970 UTC                */
    int east_min; /* local clock minus UTC then    */
    double pm_s;  /* give or take, half-width of 80 % (common practice, no source) */
} cli_when;

/* Now, give or take 5 s. */
cli_when cli_now(void);

/* "11:42", "11:42:07", "today 11:42", "yesterday 18:30", "2026-04-12 09:31", "5 min ago", "now" or an RFC 3339 instant; NULL is now.
 * A clock time without seconds: give or take 30 s; so long ago: a fifth of it, 30 s at least. Of a time that the clock
 * showed twice, the later that is not still to come. CLI_OK; CLI_USAGE: not understood; CLI_BAD_INPUT: still to come, or a local time that never was. */
cli_exit cli_read_when(const cli_command *command, const char *text, cli_when *when);

/* "11:42" or "11:42:07" of a day in the past: the first such time, by a clock east_min ahead of UTC, in the minute of after_ms or later.
 * 0: it is no clock time. */
int cli_read_clock_after(const char *text, double after_ms, int east_min, double *ms);

/* "11:42:07 on 25 Nov 2026 (+00:00)" */
#define CLI_WHEN_BYTES 64
const char *cli_say_when(double ms, int east_min, char out[CLI_WHEN_BYTES]);

#endif
