/* draw.h -- the drawing of an answer into a file. */
#ifndef BAITFALL_CLI_DRAW_H
#define BAITFALL_CLI_DRAW_H

#include "cli/ask.h"
#include "cli/request.h"

/* 1 when --svg, --png or --pdf is given. */
int cli_wants_drawing(const cli_args *args);

/* Before the question: puts "pictures" into the request, and refuses a file that is there already. */
cli_exit cli_ask_drawing(const cli_command *command, const cli_args *args, cli_request *request);

/* The same without a request: *ask is what to ask for under "pictures", NULL when nothing is drawn. */
cli_exit cli_check_drawing(const cli_command *command, const cli_args *args, const char **ask);

/* Refuses a file option whose value is no name, or names a file that is there already without --force. */
cli_exit cli_check_new_file(const cli_command *command, const cli_args *args, cli_opt option);

/* After it: writes each file that was asked for. */
cli_exit cli_write_drawings(const cli_command *command, const cli_args *args, const bf_json *json);

#endif
