/* plan_show.h -- the answer to a plan for people. */
#ifndef BAITFALL_CLI_PLAN_SHOW_H
#define BAITFALL_CLI_PLAN_SHOW_H

#include "cli/ask.h"

void cli_show_plan(const bf_json *json);

#endif
