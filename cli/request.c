/* request.c -- dotted paths and their values become one JSON object. */
#define _POSIX_C_SOURCE 200809L

#include "cli/request.h"

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* 1 when `path` is `above` or lies below it. */
static int lies_below(const char *path, const char *above) {
    size_t n = strlen(above);
    return strncmp(path, above, n) == 0 && (path[n] == 0 || path[n] == '.');
}

int cli_request_has(const cli_request *request, const char *path) {
    for (int i = 0; i < request->n; i++)
        if (strcmp(request->item[i].path, path) == 0) return 1;
    return 0;
}

/* Keys of small letters, digits and underscores with single dots between. */
static int is_path(const char *path) {
    size_t n = strspn(path, "abcdefghijklmnopqrstuvwxyz0123456789_.");
    if (n == 0 || n >= CLI_PATH_BYTES || path[n] != 0 || path[0] == '.' || path[n - 1] == '.') return 0;
    return strstr(path, "..") == NULL;
}

cli_put_result cli_request_put(cli_request *request, const char *path, const char *value,
                               cli_value_kind kind) {
    if (!is_path(path)) return CLI_PUT_PATH;
    if (request->n == CLI_MOST_VALUES) return CLI_PUT_FULL;
    for (int i = 0; i < request->n; i++)
        if (lies_below(path, request->item[i].path) || lies_below(request->item[i].path, path))
            return CLI_PUT_TWICE;
    strcpy(request->item[request->n].path, path);
    request->item[request->n].value = value;
    request->item[request->n].kind = kind;
    request->n++;
    return CLI_PUT;
}

static size_t digits(const char *s) {
    size_t n = 0;
    while (isdigit((unsigned char)s[n])) n++;
    return n;
}

/* 1 when n bytes are a number by the grammar of JSON (RFC 8259, section 6). */
static int is_number(const char *s, size_t n) {
    const char *end = s + n;
    if (s < end && *s == '-') s++;
    size_t whole = digits(s);
    if (whole == 0 || (whole > 1 && *s == '0')) return 0;
    s += whole;
    if (s < end && *s == '.') {
        size_t part = digits(++s);
        if (part == 0) return 0;
        s += part;
    }
    if (s < end && (*s == 'e' || *s == 'E')) {
        s++;
        if (s < end && (*s == '+' || *s == '-')) s++;
        size_t power = digits(s);
        if (power == 0) return 0;
        s += power;
    }
    return s == end;
}

static void write_string(FILE *to, const char *s, size_t n) {
    fputc('"', to);
    for (size_t i = 0; i < n; i++) {
        unsigned char c = (unsigned char)s[i];
        if (c == '"' || c == '\\')
            fprintf(to, "\\%c", c);
        else if (c < 0x20)
            fprintf(to, "\\u%04x", c);
        else
            fputc(c, to);
    }
    fputc('"', to);
}

void cli_write_string(FILE *to, const char *text) {
    write_string(to, text, strlen(text));
}

static void write_text(FILE *to, const char *s, size_t n) {
    if (is_number(s, n))
        fwrite(s, 1, n, to);
    else
        write_string(to, s, n);
}

static void write_list(FILE *to, const char *s) {
    fputc('[', to);
    for (;;) {
        while (*s == ' ') s++;
        size_t n = strcspn(s, ",");
        write_text(to, s, n);
        if (s[n] == 0) break;
        fputc(',', to);
        s += n + 1;
    }
    fputc(']', to);
}

void cli_write_value(FILE *to, const char *value, cli_value_kind kind) {
    switch (kind) {
    case CLI_AS_TEXT: write_text(to, value, strlen(value)); break;
    case CLI_AS_LIST: write_list(to, value); break;
    case CLI_AS_JSON: fputs(value, to); break;
    }
}

/* 1 when an item before `i` shares its first `n` bytes of path: its object was written there. */
static int seen_before(const cli_request *request, int i, size_t n) {
    const char *path = request->item[i].path;
    for (int j = 0; j < i; j++) {
        const char *other = request->item[j].path;
        if (strncmp(other, path, n) == 0 && (other[n] == '.' || other[n] == 0)) return 1;
    }
    return 0;
}

/* The object of everything below the first n_prefix bytes of item[first]'s path ("" or "bait."). */
static void write_object(FILE *to, const cli_request *request, int first, size_t n_prefix) {
    const char *prefix = request->item[first].path;
    int n_written = 0;
    fputc('{', to);
    for (int i = first; i < request->n; i++) {
        const char *path = request->item[i].path;
        if (strncmp(path, prefix, n_prefix) != 0) continue;
        size_t n_key = strcspn(path + n_prefix, ".");
        if (seen_before(request, i, n_prefix + n_key)) continue;
        if (n_written++) fputc(',', to);
        fputc('"', to);
        fwrite(path + n_prefix, 1, n_key, to);
        fputs("\":", to);
        if (path[n_prefix + n_key] == '.')
            write_object(to, request, i, n_prefix + n_key + 1);
        else
            cli_write_value(to, request->item[i].value, request->item[i].kind);
    }
    fputc('}', to);
}

char *cli_request_json(const cli_request *request, size_t *n) {
    char *json = NULL;
    FILE *to = open_memstream(&json, n);
    if (!to) return NULL;
    if (request->n > 0)
        write_object(to, request, 0, 0);
    else
        fputs("{}", to);
    if (fclose(to) != 0) {
        free(json);
        return NULL;
    }
    return json;
}
