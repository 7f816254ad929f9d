/* what_if.c -- see what_if.h. */
#define _POSIX_C_SOURCE 200809L

#include "cli/what_if.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#include "baitfall/instant.h"
#include "baitfall/unit.h"
#include "cli/request.h"
#include "cli/when.h"

typedef struct reading {
    const cli_command *command;
    const bf_session *session;
    FILE *to;
    int n; /* members written */
} reading;

static void key(reading *r, const char *name) {
    fprintf(r->to, "%s\"%s\":", r->n++ ? "," : "", name);
}

static cli_exit refuse(const reading *r, const char *part) {
    return cli_say(
        r->command, CLI_USAGE,
        "--what-if '%s' is not understood; say half, double, \"3 times\", \"every 10 min\", \"none after "
        "12:00\", \"hard-6 instead of hard-4\", or same; several with commas.",
        part);
}

/* What stands behind a beginning; NULL: it begins otherwise. */
static const char *behind(const char *text, const char *begin) {
    size_t n = strlen(begin);
    return strncmp(text, begin, n) == 0 ? text + n : NULL;
}

static cli_exit put_times(reading *r, double times) {
    key(r, "times");
    fprintf(r->to, "%.17g", times);
    return CLI_OK;
}

static cli_exit put_every(reading *r, const char *time, const char *part) {
    bf_quantity q = {0};
    int says_pm = 0;
    if (bf_quantity_read(time, strlen(time), BF_TIME, &q, &says_pm) || q.is_unknown) return refuse(r, part);
    key(r, "every_s");
    fprintf(r->to, "%.17g", q.value);
    return CLI_OK;
}

static cli_exit put_none_after(reading *r, const char *clock, const char *part) {
    double ms;
    char instant[BF_INSTANT_BYTES];
    if (!cli_read_clock_after(clock, r->session->opened_ms, r->session->east_min, &ms))
        return refuse(r, part);
    bf_instant_write(ms, r->session->east_min, instant);
    key(r, "none_after");
    fprintf(r->to, "\"%s\"", instant);
    return CLI_OK;
}

static cli_exit put_bait(reading *r, char *name) {
    char *instead = strstr(name, " instead of ");
    if (instead) {
        *instead = 0;
        key(r, "instead_of");
        cli_write_string(r->to, instead + strlen(" instead of "));
    }
    key(r, "bait");
    cli_write_string(r->to, name);
    return CLI_OK;
}

static cli_exit read_part(reading *r, char *part) {
    char *end;
    const char *rest;
    if (strcmp(part, "same") == 0) return CLI_OK;
    if (strncmp(part, "half", 4) == 0 || strncmp(part, "halve", 5) == 0) return put_times(r, 0.5);
    if (strncmp(part, "double", 6) == 0) return put_times(r, 2);
    if ((rest = behind(part, "every ")) != NULL) return put_every(r, rest, part);
    if ((rest = behind(part, "none after ")) != NULL) return put_none_after(r, rest, part);
    double times = strtod(part, &end);
    if (end != part && strcmp(end, " times") == 0) return put_times(r, times);
    if (end != part || !part[0]) return refuse(r, part);
    return put_bait(r, part);
}

static char *trimmed(char *text) {
    while (isspace((unsigned char)*text)) text++;
    for (size_t n = strlen(text); n > 0 && isspace((unsigned char)text[n - 1]); n--) text[n - 1] = 0;
    return text;
}

cli_exit cli_read_what_if(const cli_command *command, const char *text, const bf_session *session,
                          char **json) {
    size_t n;
    char *parts = strdup(text), *rest = parts, *part;
    reading r = {.command = command, .session = session, .to = parts ? open_memstream(json, &n) : NULL};
    *json = NULL;
    if (!r.to) {
        free(parts);
        return cli_say(command, CLI_INTERNAL, "out of memory.");
    }
    cli_exit code = CLI_OK;
    fputc('{', r.to);
    while (code == CLI_OK && (part = strtok_r(rest, ",;", &rest)) != NULL)
        code = read_part(&r, trimmed(part));
    fputc('}', r.to);
    free(parts);
    if (fclose(r.to) != 0 && code == CLI_OK) code = cli_say(command, CLI_INTERNAL, "out of memory.");
    if (code == CLI_OK) return CLI_OK;
    free(*json);
    *json = NULL;
    return code;
}
