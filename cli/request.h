/* request.h -- the request of one command line: values under dotted paths, written as one JSON object. */
#ifndef BAITFALL_CLI_REQUEST_H
#define BAITFALL_CLI_REQUEST_H

#include <stddef.h>
#include <stdio.h>

#define CLI_MOST_VALUES 160
#define CLI_PATH_BYTES 96

typedef enum cli_value_kind {
    CLI_AS_TEXT, /* written as a number when it is one, else as text     */
    CLI_AS_LIST, /* the same for each part between commas, as an array   */
    CLI_AS_JSON  /* written as it stands                                 */
} cli_value_kind;

typedef struct cli_request {
    struct {
        char path[CLI_PATH_BYTES];
        const char *value; /* not owned */
        cli_value_kind kind;
    } item[CLI_MOST_VALUES];
    int n;
} cli_request;

typedef enum cli_put_result {
    CLI_PUT,
    CLI_PUT_TWICE, /* the path has a value, or lies above or below one that has */
    CLI_PUT_PATH,  /* not a path: keys of a-z, 0-9 and _ with dots between       */
    CLI_PUT_FULL   /* too many values                                           */
} cli_put_result;

/* Adds a value, which must live as long as the request. */
cli_put_result cli_request_put(cli_request *request, const char *path, const char *value,
                               cli_value_kind kind);

/* 1 when the path has a value already. */
int cli_request_has(const cli_request *request, const char *path);

/* One value as JSON. */
void cli_write_value(FILE *to, const char *value, cli_value_kind kind);

/* Text as a JSON string, even when it looks like a number. */
void cli_write_string(FILE *to, const char *text);

/* The JSON text, zero-ended; the caller frees it. NULL: out of memory. */
char *cli_request_json(const cli_request *request, size_t *n);

#endif
