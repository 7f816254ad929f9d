/* draw.c -- the drawing of an answer into a file: SVG carrying its style, PNG or PDF by report/. */
#define _POSIX_C_SOURCE 200809L

#include "cli/draw.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "baitfall/picture.h"
#include "baitfall/report.h"
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

/* What there is to see, the usual first. */
static const char *const *views_of(const cli_command *command) {
    static const char *const of_spread[] = {"above", "side", NULL};
    static const char *const of_review[] = {"sheet", "timeline", "waits", "catch", "rates", "change", NULL};
    return command->groups & CLI_JOURNAL ? of_review : of_spread;
}

static const char *view_of(const cli_command *command, const cli_args *args) {
    return args->option[OPT_VIEW] ? args->option[OPT_VIEW] : views_of(command)[0];
}

static cli_exit check_view(const cli_command *command, const char *view) {
    char accepted[128] = "";
    for (const char *const *known = views_of(command); *known; known++) {
        if (strcmp(view, *known) == 0) return CLI_OK;
        if (accepted[0]) strcat(accepted, known[1] ? ", " : " or ");
        strcat(accepted, *known);
    }
    return cli_say(command, CLI_USAGE, "--view is %s; accepted is %s.", view, accepted);
}

cli_exit cli_ask_drawing(const cli_command *command, const cli_args *args, cli_request *request) {
    const char *view = view_of(command, args);
    cli_exit known = check_view(command, view);
    if (known != CLI_OK) return known;
    for (size_t i = 0; i < sizeof manners / sizeof manners[0] && !cli_wants_drawing(args); i++)
        if (args->option[manners[i]])
            return cli_say(command, CLI_USAGE, "--%s goes with --svg, --png or --pdf.",
                           cli_options[manners[i]].name);
    if (!cli_wants_drawing(args)) return CLI_OK;
    for (size_t i = 0; i < N_DRAWINGS; i++) {
        const char *path = args->option[drawings[i]];
        if (path && (!path[0] || strcmp(path, "-") == 0))
            return cli_say(command, CLI_USAGE, "--%s needs the name of a file.",
                           cli_options[drawings[i]].name);
        if (path && !args->option[OPT_FORCE] && access(path, F_OK) == 0)
            return cli_say(command, CLI_TAKEN, "%s exists already; --force replaces it.", path);
    }
    if (cli_request_put(request, "pictures", view, CLI_AS_LIST) != CLI_PUT)
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

static cli_exit render(const cli_command *command, cli_opt kind, const char *svg, size_t n, document *d) {
    char why[BF_REPORT_WHY_BYTES] = "";
    bf_status status = BF_OK;
    if (kind == OPT_PDF) status = bf_report_pdf(svg, n, take_bytes, d, why);
    if (kind == OPT_PNG) status = bf_report_png(svg, n, PNG_WIDTH_PX, take_bytes, d, why);
    if (kind == OPT_SVG) {
        d->bytes = malloc(SVG_BYTES);
        status = d->bytes ? bf_picture_with_style(svg, n, d->bytes, SVG_BYTES, &d->n) : BF_E_SPACE;
    }
    if (!status) return CLI_OK;
    return cli_say(command, CLI_INTERNAL, "the drawing could not be made: %s",
                   why[0] ? why : bf_status_words(status));
}

static cli_exit write_drawing(const cli_command *command, const cli_args *args, cli_opt kind, const char *svg,
                              size_t n) {
    document d = {NULL, 0, 0};
    cli_exit code = render(command, kind, svg, n, &d);
    if (code == CLI_OK)
        code = cli_write_file(command, args->option[kind], d.bytes, d.n, args->option[OPT_FORCE] != NULL);
    free(d.bytes);
    return code;
}

cli_exit cli_write_drawings(const cli_command *command, const cli_args *args, const bf_json *json) {
    cli_exit code = CLI_OK;
    int pictures = bf_json_find(json, 0, "pictures");
    int picture = pictures < 0 ? -1 : bf_json_find(json, pictures, view_of(command, args));
    char *svg = malloc(SVG_BYTES);
    if (!svg) return cli_say(command, CLI_INTERNAL, "out of memory.");
    int text = picture < 0 ? -1 : bf_json_find(json, picture, "svg");
    if (text < 0 || bf_json_string(json, text, svg, SVG_BYTES) != BF_OK)
        code = cli_say(command, CLI_BAD_INPUT,
                       "the answer has no drawing; a request needs \"pictures\":[\"%s\"].",
                       view_of(command, args));
    for (size_t i = 0; code == CLI_OK && i < N_DRAWINGS; i++)
        if (args->option[drawings[i]]) code = write_drawing(command, args, drawings[i], svg, strlen(svg));
    free(svg);
    return code;
}
