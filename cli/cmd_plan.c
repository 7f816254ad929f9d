/* cmd_plan.c -- a plan file in; what its feed comes to out. */
#define _POSIX_C_SOURCE 200809L

#include <stdlib.h>
#include <string.h>

#include "baitfall/instant.h"
#include "cli/draw.h"
#include "cli/input.h"
#include "cli/plan_show.h"
#include "cli/request.h"
#include "cli/show.h"
#include "cli/when.h"

/* The request ------------------------------------------------------------------------------------------------- */

typedef struct plan_text {
    char *text; /* owned */
    size_t n;
} plan_text;

/* A value of the request: in place of the plan's own, else among the members that are put before it. */
static void put_value(plan_text *plan, FILE *members, const char *key, const char *value) {
    size_t n;
    char *with = cli_with_value(plan->text, plan->n, key, value, &n);
    if (!with) {
        fprintf(members, "\"%s\":%s,", key, value);
        return;
    }
    free(plan->text);
    *plan = (plan_text){with, n};
}

static void put_option(plan_text *plan, FILE *members, const cli_args *args, cli_opt option) {
    char *value = NULL;
    size_t n;
    FILE *to = args->option[option] ? open_memstream(&value, &n) : NULL;
    if (!to) return;
    cli_write_value(to, args->option[option], CLI_AS_TEXT);
    if (fclose(to) == 0) put_value(plan, members, cli_options[option].path, value);
    free(value);
}

/* When the appointments are written down. */
static void put_now(plan_text *plan, FILE *members) {
    char now[BF_INSTANT_BYTES], value[BF_INSTANT_BYTES + 2];
    cli_when when = cli_now();
    bf_instant_write(when.ms, when.east_min, now);
    snprintf(value, sizeof value, "\"%s\"", now);
    put_value(plan, members, "ics", value);
}

/* What the command line adds to the plan or says otherwise: seed and draws, a card, the moment of writing. */
static char *members_of(const cli_args *args, const char *ask, plan_text *plan) {
    char *members = NULL, pictures[64];
    size_t n;
    FILE *to = open_memstream(&members, &n);
    if (!to) return NULL;
    put_option(plan, to, args, OPT_SEED);
    put_option(plan, to, args, OPT_DRAWS);
    snprintf(pictures, sizeof pictures, "[\"%s\"]", ask ? ask : "");
    if (ask) put_value(plan, to, "pictures", pictures);
    if (args->option[OPT_ICS]) put_now(plan, to);
    if (fclose(to) == 0) return members;
    free(members);
    return NULL;
}

/* The command ------------------------------------------------------------------------------------------------- */

/* 1 when the box is more likely short than enough for some bait. */
static int is_box_short(const bf_json *json) {
    int is_short = 0, baits = bf_json_find(json, 0, "baits");
    for (int bait = bf_json_first(json, baits); bait >= 0; bait = bf_json_next(json, bait))
        is_short |= cli_number_at(json, bait, "enough_frac") < 0.5;
    return is_short;
}

static cli_exit write_appointments(const cli_command *command, const cli_args *args, const bf_json *json) {
    size_t n;
    int value = bf_json_find(json, 0, "ics");
    const char *raw = value < 0 ? NULL : bf_json_raw(json, value, &n);
    char *text = raw ? malloc(n + 1) : NULL;
    if (!raw)
        return cli_say(command, CLI_BAD_INPUT,
                       "the plan has no start for appointments; say "
                       "\"session\":{\"starts\":\"2026-04-12T09:00:00+01:00\"}.");
    if (!text || bf_json_string(json, value, text, n + 1)) {
        free(text);
        return cli_say(command, CLI_INTERNAL, "out of memory.");
    }
    cli_exit code =
        cli_write_file(command, args->option[OPT_ICS], text, strlen(text), args->option[OPT_FORCE] != NULL);
    free(text);
    return code;
}

static cli_exit ask(const cli_command *command, const cli_args *args, const cli_kit *kit, plan_text *plan,
                    cli_answer *answer) {
    const char *ask = NULL;
    size_t n_request = 0;
    cli_exit code = cli_check_drawing(command, args, &ask);
    if (code == CLI_OK) code = cli_check_new_file(command, args, OPT_ICS);
    if (code != CLI_OK) return code;
    char *members = members_of(args, ask, plan);
    char *request = members ? cli_plan_with(kit, members, plan->text, plan->n, &n_request) : NULL;
    free(members);
    if (!request) return cli_say(command, CLI_INTERNAL, "out of memory.");
    code = cli_ask(command, "plan", request, n_request, answer);
    free(request);
    return code;
}

cli_exit cli_plan(const cli_command *command, const cli_args *args) {
    plan_text plan = {NULL, 0};
    cli_kit kit = {.text = NULL};
    cli_answer answer = {.text = NULL};
    if (args->n_words != 1)
        return cli_say(command, CLI_USAGE, "name one plan file, or `-` for standard input.");
    cli_exit code = cli_read_object(command, args->word[0], &plan.text, &plan.n);
    if (code == CLI_OK) code = cli_read_kit(command, args, 0, &kit);
    if (code == CLI_OK) code = ask(command, args, &kit, &plan, &answer);
    if (code == CLI_OK && cli_wants_drawing(args)) code = cli_write_drawings(command, args, &answer.json);
    if (code == CLI_OK && args->option[OPT_ICS]) code = write_appointments(command, args, &answer.json);
    if (code == CLI_OK && args->option[OPT_JSON])
        puts(answer.text);
    else if (code == CLI_OK)
        cli_show_plan(&answer.json);
    if (code == CLI_OK && is_box_short(&answer.json)) code = CLI_NO;
    cli_answer_free(&answer);
    cli_kit_free(&kit);
    free(plan.text);
    return code;
}
