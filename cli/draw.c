/* draw.c -- the drawing of an answer into a file: SVG carrying its style, PNG or PDF by report/. */
#define _POSIX_C_SOURCE 200809L

#include "cli/draw.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "baitfall/picture.h"
#include "baitfall/report.h"
#include "cli/ask.h"
#include "cli/input.h"

#define SVG_BYTES (1u << 20)
#define PNG_WIDTH_PX 1280

static const cli_opt drawings[] = {OPT_SVG, OPT_PNG, OPT_PDF};
#define N_DRAWINGS (sizeof drawings / sizeof drawings[0])

int cli_wants_drawing(const cli_args *args) {
    for (size_t i = 0; i < N_DRAWINGS; i++)
        if (args->option[drawings[i]]) return 1;
    return 0;
}

/* Options that only say how a drawing is made. */
static const cli_opt manners[] = {OPT_VIEW, OPT_LOOK, OPT_FORCE};

/* A view: what --view calls it, what is asked for, and the pictures that the answer then has for it. */
typedef struct view {
    const char *word, *ask;
    const char *page[2]; /* a PDF has all of them, SVG and PNG the first */
} view;

/* What there is to see, the usual first. */
static const view *views_of(const cli_command *command) {
#define SAME(word)                                                                                           \
    {                                                                                                        \
        word, word, {                                                                                        \
            word, NULL                                                                                       \
        }                                                                                                    \
    }
    static const view of_spread[] = {SAME("above"), SAME("side"), {0}};
    static const view of_rig[] = {SAME("section"), {0}};
    static const view of_aim[] = {SAME("above"), {0}};
    static const view of_plan[] = {{"card-a6", "card-a6", {"card-a6-front", "card-a6-back"}},
                                   {"card-a6-back", "card-a6", {"card-a6-back", NULL}},
                                   SAME("card-a5"),
                                   {0}};
    static const view of_review[] = {
        SAME("sheet"), SAME("timeline"), SAME("waits"), SAME("catch"), SAME("rates"), SAME("change"), {0}};
    static const view of_bed[] = {SAME("left"), SAME("fish"), SAME("above"), {0}};
#undef SAME
    if (command->groups & CLI_BED) return of_bed;
    if (command->groups & CLI_JOURNAL) return of_review;
    if (strcmp(command->name, "plan") == 0) return of_plan;
    if (strcmp(command->name, "spread") == 0) return of_spread;
    return strcmp(command->name, "aim") == 0 ? of_aim : of_rig;
}

/* The view of a word, the usual one without; NULL: no such. */
static const view *view_of(const cli_command *command, const cli_args *args) {
    const view *known = views_of(command);
    if (!args->option[OPT_VIEW]) return known;
    while (known->word && strcmp(args->option[OPT_VIEW], known->word) != 0) known++;
    return known->word ? known : NULL;
}

static cli_exit refuse_view(const cli_command *command, const char *word) {
    char accepted[128] = "";
    for (const view *known = views_of(command); known->word; known++) {
        if (accepted[0]) strcat(accepted, known[1].word ? ", " : " or ");
        strcat(accepted, known->word);
    }
    return cli_say(command, CLI_USAGE, "--view is %s; accepted is %s.", word, accepted);
}

cli_exit cli_check_drawing(const cli_command *command, const cli_args *args, const char **ask) {
    const view *seen = view_of(command, args);
    *ask = NULL;
    if (!seen) return refuse_view(command, args->option[OPT_VIEW]);
    for (size_t i = 0; i < sizeof manners / sizeof manners[0] && !cli_wants_drawing(args); i++)
        if (args->option[manners[i]] && !(manners[i] == OPT_FORCE && args->option[OPT_ICS]))
            return cli_say(command, CLI_USAGE, "--%s goes with --svg, --png or --pdf.",
                           cli_options[manners[i]].name);
    if (!cli_wants_drawing(args)) return CLI_OK;
    for (size_t i = 0; i < N_DRAWINGS; i++) {
        cli_exit code = cli_check_new_file(command, args, drawings[i]);
        if (code != CLI_OK) return code;
    }
    *ask = seen->ask;
    return CLI_OK;
}

cli_exit cli_check_new_file(const cli_command *command, const cli_args *args, cli_opt option) {
    const char *path = args->option[option];
    if (path && (!path[0] || strcmp(path, "-") == 0))
        return cli_say(command, CLI_USAGE, "--%s needs the name of a file.", cli_options[option].name);
    if (path && !args->option[OPT_FORCE] && access(path, F_OK) == 0)
        return cli_say(command, CLI_TAKEN, "%s exists already; --force replaces it.", path);
    return CLI_OK;
}

cli_exit cli_ask_drawing(const cli_command *command, const cli_args *args, cli_request *request) {
    const char *ask;
    cli_exit code = cli_check_drawing(command, args, &ask);
    if (code != CLI_OK || !ask) return code;
    if (cli_request_put(request, "pictures", ask, CLI_AS_LIST) != CLI_PUT)
        return cli_say(command, CLI_USAGE, "pictures is given twice.");
    return CLI_OK;
}

/* A document that grows as the renderer writes it. */
typedef struct document {
    char *bytes;
    size_t n, room;
} document;

static int take_bytes(void *to, const unsigned char *bytes, size_t n) {
    document *d = to;
    if (d->room - d->n < n) {
        size_t room = 2 * (d->room + n);
        char *larger = realloc(d->bytes, room);
        if (!larger) return 1;
        d->bytes = larger;
        d->room = room;
    }
    memcpy(d->bytes + d->n, bytes, n);
    d->n += n;
    return 0;
}

/* Pages of one view, the first of n. */
static cli_exit render(const cli_command *command, cli_opt kind, const bf_report_page *page, int n,
                       document *d) {
    char why[BF_REPORT_WHY_BYTES] = "";
    bf_status status = BF_OK;
    if (kind == OPT_PDF) status = bf_report_pdf_pages(page, n, take_bytes, d, why);
    if (kind == OPT_PNG) status = bf_report_png(page->svg, page->n, PNG_WIDTH_PX, take_bytes, d, why);
    if (kind == OPT_SVG) {
        d->bytes = malloc(SVG_BYTES);
        status =
            d->bytes ? bf_picture_with_style(page->svg, page->n, d->bytes, SVG_BYTES, &d->n) : BF_E_SPACE;
    }
    if (!status) return CLI_OK;
    return cli_say(command, CLI_INTERNAL, "the drawing could not be made: %s",
                   why[0] ? why : bf_status_words(status));
}

static cli_exit write_drawing(const cli_command *command, const cli_args *args, cli_opt kind,
                              const bf_report_page *page, int n) {
    document d = {NULL, 0, 0};
    cli_exit code = render(command, kind, page, n, &d);
    if (code == CLI_OK)
        code = cli_write_file(command, args->option[kind], d.bytes, d.n, args->option[OPT_FORCE] != NULL);
    free(d.bytes);
    return code;
}

/* A picture's SVG out of the answer; the caller frees it. NULL: there is none. */
static char *take_svg(const bf_json *json, const char *name) {
    int pictures = bf_json_find(json, 0, "pictures");
    int picture = pictures < 0 ? -1 : bf_json_find(json, pictures, name);
    int text = picture < 0 ? -1 : bf_json_find(json, picture, "svg");
    char *svg = text < 0 ? NULL : malloc(SVG_BYTES);
    if (!svg || bf_json_string(json, text, svg, SVG_BYTES) == BF_OK) return svg;
    free(svg);
    return NULL;
}

/* Why there is none: the answer's own remark, when it has one. */
static cli_exit say_not_drawn(const cli_command *command, const bf_json *json, const char *ask) {
    char text[256];
    int notes = bf_json_find(json, 0, "notes");
    for (int i = notes < 0 ? -1 : bf_json_first(json, notes); i >= 0; i = bf_json_next(json, i))
        if (strcmp(cli_text(json, i, "code", text, sizeof text), "not-drawn") == 0)
            return cli_say(command, CLI_BAD_INPUT, "%s", cli_text(json, i, "text", text, sizeof text));
    return cli_say(command, CLI_BAD_INPUT,
                   "the answer has no drawing; a request needs \"pictures\":[\"%s\"].", ask);
}

cli_exit cli_write_drawings(const cli_command *command, const cli_args *args, const bf_json *json) {
    const view *seen = view_of(command, args);
    char *svg[2] = {NULL, NULL};
    bf_report_page page[2];
    cli_exit code = CLI_OK;
    int n = 0;
    for (; n < 2 && seen->page[n] && code == CLI_OK; n++) {
        svg[n] = take_svg(json, seen->page[n]);
        if (svg[n])
            page[n] = (bf_report_page){svg[n], strlen(svg[n])};
        else
            code = say_not_drawn(command, json, seen->ask);
    }
    for (size_t i = 0; code == CLI_OK && i < N_DRAWINGS; i++)
        if (args->option[drawings[i]]) code = write_drawing(command, args, drawings[i], page, n);
    for (int i = 0; i < 2; i++) free(svg[i]);
    return code;
}
