/* what_if.h -- another feeding, as people say it. */
#ifndef BAITFALL_CLI_WHAT_IF_H
#define BAITFALL_CLI_WHAT_IF_H

#include "baitfall/fold.h"
#include "cli/cli.h"

/* "half", "double" or "3 times"; "every 10 min"; "none after 12:00"; "hard-6" or "hard-6 instead of hard-4"; several with commas; "same":
 * as the JSON object that the question "otherwise" takes. The caller frees *json. CLI_USAGE: not understood, which is said. */
cli_exit cli_read_what_if(const cli_command *command, const char *text, const bf_session *session,
                          char **json);

#endif
