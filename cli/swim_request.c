/* swim_request.c -- see swim_request.h. */
#define _POSIX_C_SOURCE 200809L

#include "cli/swim_request.h"

#include <stdlib.h>
#include <string.h>

#include "cli/learned.h"
#include "cli/show.h"
#include "cli/when.h"

static cli_exit put_kit(const cli_command *command, const cli_args *args, cli_swim *p) {
    cli_exit code = cli_read_kit(command, args, 0, &p->kit);
    if (code != CLI_OK || !p->kit.text) return code;
    return cli_put(command, &p->request, "kit", p->kit.text, CLI_AS_JSON);
}

static cli_exit put_plan(const cli_command *command, const cli_args *args, cli_swim *p) {
    char *text;
    size_t n, n_plan;
    if (!args->option[OPT_PLAN]) return CLI_OK;
    cli_exit code = cli_read_object(command, args->option[OPT_PLAN], &text, &n);
    if (code != CLI_OK) return code;
    p->plan = cli_plan_with(&p->kit, "", text, n, &n_plan);
    free(text);
    if (!p->plan) return cli_say(command, CLI_INTERNAL, "out of memory.");
    return cli_put(command, &p->request, "plan", p->plan, CLI_AS_JSON);
}

/* A name is text even when it looks like a number. */
static cli_exit put_spot(const cli_command *command, const cli_args *args, cli_swim *p) {
    size_t n;
    if (!args->option[OPT_SPOT]) return CLI_OK;
    FILE *to = open_memstream(&p->spot, &n);
    if (!to) return cli_say(command, CLI_INTERNAL, "out of memory.");
    cli_write_string(to, args->option[OPT_SPOT]);
    if (fclose(to) != 0) return cli_say(command, CLI_INTERNAL, "out of memory.");
    return cli_put(command, &p->request, "spot", p->spot, CLI_AS_JSON);
}

const bf_session *cli_swim_session(const cli_swim *p) {
    const bf_fold *fold = bf_journal_fold(p->journal);
    const char *hex = p->session;
    bf_id id;
    int open = bf_fold_open_session(fold);
    if (hex[0] && bf_id_read(hex + 1, 32, &id) == BF_OK)
        for (int i = 0; i < fold->n_sessions; i++)
            if (bf_id_order(fold->session[i].id, id) == 0) return &fold->session[i];
    if (open >= 0) return &fold->session[open];
    return fold->n_sessions ? &fold->session[fold->n_sessions - 1] : NULL;
}

/* An open session is asked about as of now, unless nothing was entered for so long. */
#define FORGOTTEN_MS (12 * 3600e3)
#define DAY_MS 86400e3

static cli_exit put_at(const cli_command *command, const cli_args *args, cli_swim *p) {
    const char *text = args->option[OPT_AT];
    const bf_session *session = cli_swim_session(p);
    cli_when when = cli_now();
    if (!session) return CLI_OK;
    if (!text && (session->closed_ms == session->closed_ms || !(when.ms - session->last_ms < FORGOTTEN_MS)))
        return CLI_OK;
    if (text && cli_read_clock_after(text, session->opened_ms, session->east_min, &when.ms)) {
        when.east_min = session->east_min;
        /* long after its end it is not the next day that is meant, but before it began: which the question says */
        if (when.ms - session->last_ms > FORGOTTEN_MS) when.ms -= DAY_MS;
    } else {
        cli_exit code = cli_read_when(command, text, &when);
        if (code != CLI_OK) return code;
    }
    p->at[0] = '"';
    bf_instant_write(when.ms, when.east_min, p->at + 1);
    strcat(p->at, "\"");
    return cli_put(command, &p->request, text ? "at" : "now", p->at, CLI_AS_JSON);
}

static cli_exit put_learned(const cli_command *command, const cli_args *args, cli_swim *p) {
    const bf_session *session = cli_swim_session(p);
    if (args->option[OPT_BOOK] || !session) return CLI_OK;
    cli_exit code = cli_learn(command, p->journal, session->opened_ms, &p->kit, &p->learned);
    return code == CLI_OK ? cli_put(command, &p->request, "learned", p->learned, CLI_AS_JSON) : code;
}

/* Options whose value is the request's. */
static cli_exit put_options(const cli_command *command, const cli_args *args, cli_swim *p) {
    static const cli_opt plain[] = {OPT_SEED, OPT_LOOK, OPT_OBJECTIVE};
    cli_exit code = CLI_OK;
    for (size_t i = 0; code == CLI_OK && i < sizeof plain / sizeof plain[0]; i++)
        if (args->option[plain[i]])
            code = cli_put(command, &p->request, cli_options[plain[i]].path, args->option[plain[i]],
                           CLI_AS_TEXT);
    return code;
}

cli_exit cli_put_swim(const cli_command *command, const cli_args *args, cli_swim *p) {
    int is_given = p->journal != NULL;
    cli_exit code = put_options(command, args, p);
    if (code == CLI_OK) code = put_kit(command, args, p);
    if (code == CLI_OK) code = put_plan(command, args, p);
    if (code == CLI_OK) code = put_spot(command, args, p);
    if (code == CLI_OK && !is_given)
        code = cli_load_asked(command, args, 0, &p->request, p->session, &p->journal);
    if (code == CLI_OK && !is_given) code = put_at(command, args, p);
    if (code == CLI_OK) code = put_learned(command, args, p);
    return code;
}

void cli_swim_free(cli_swim *p) {
    free(p->journal);
    cli_kit_free(&p->kit);
    free(p->plan);
    free(p->spot);
    free(p->learned);
}

/* ---- What both answers begin with ---- */

void cli_show_swim_head(const bf_json *json) {
    char venue[64], peg[64], at[64], spot[64], clock[16];
    int session = bf_json_find(json, 0, "session");
    cli_text(json, session, "venue", venue, sizeof venue);
    cli_text(json, session, "peg", peg, sizeof peg);
    cli_text(json, 0, "at", at, sizeof at);
    cli_text(json, 0, "at_text", clock, sizeof clock);
    cli_text(json, 0, "spot", spot, sizeof spot);
    at[strcspn(at, "T")] = 0;
    printf("%s%s%s, %s %s%s%s\n", venue[0] ? venue : "A session without a venue", peg[0] ? ", peg " : "", peg,
           at, clock, spot[0] ? ", spot " : "", spot);
}

void cli_show_swim_known(const bf_json *json) {
    char text[1024];
    int list = bf_json_find(json, cli_object_at(json, 0, "known"), "sentences");
    for (int i = list < 0 ? -1 : bf_json_first(json, list); i >= 0; i = bf_json_next(json, i)) {
        if (bf_json_string(json, i, text, sizeof text) != BF_OK) continue;
        cli_disarm(text);
        cli_show_wrapped("  ", text);
    }
}
