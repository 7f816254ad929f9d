/* log_rows.c -- see log_rows.h. */
#define _POSIX_C_SOURCE 200809L

#include "cli/log_rows.h"

#include <string.h>

#include "cli/show.h"
#include "cli/when.h"

#define MOST_ROWS 1000 /* that the question gives at once */

/* ---- Asking ---- */

static int number_at(const bf_json *json, int object, const char *key) {
    double number = 0;
    int value = bf_json_find(json, object, key);
    if (value < 0 || bf_json_kind_of(json, value) != BF_JSON_NUMBER ||
        bf_json_number(json, value, &number) != BF_OK)
        return 0;
    return (int)number;
}

/* Long notes make long answers: one that is longer than can be read is asked for again with fewer rows. */
static bf_status ask_page(bf_journal *journal, bf_id session, int before, cli_answer *answer) {
    char request[128], hex[33];
    bf_id_write(session, hex);
    for (int most = MOST_ROWS;; most /= 4) {
        int length = snprintf(request, sizeof request, "{\"session\":\"%s\",\"most\":%d,\"before\":%d}", hex,
                              most, before);
        bf_status status = cli_put_question(journal, "log", request, (size_t)length, answer);
        if ((status != BF_E_SPACE && answer->n <= BF_JSON_BYTES_MOST) || most < 4) return status;
        cli_answer_free(answer);
    }
}

cli_exit cli_ask_rows(const cli_command *command, bf_journal *journal, bf_id session, int *before,
                      cli_answer *answer, int *n) {
    bf_status status = ask_page(journal, session, *before, answer);
    cli_exit code = cli_read_answer(command, status, answer);
    *n = code == CLI_OK ? number_at(&answer->json, 0, "n") : 0;
    int rows = code == CLI_OK ? bf_json_find(&answer->json, 0, "rows") : -1;
    for (int row = rows < 0 ? -1 : bf_json_first(&answer->json, rows); row >= 0;
         row = bf_json_next(&answer->json, row))
        ++*before;
    return code;
}

/* The row of an entry on a page, -1. */
static int find_row(const bf_json *json, bf_id id) {
    char hex[33];
    bf_id_write(id, hex);
    int rows = bf_json_find(json, 0, "rows");
    for (int row = bf_json_first(json, rows); row >= 0; row = bf_json_next(json, row))
        if (bf_json_is(json, bf_json_find(json, row, "id"), hex)) return row;
    return -1;
}

cli_exit cli_ask_row(const cli_command *command, bf_journal *journal, bf_id session, bf_id id,
                     cli_answer *answer, int *row) {
    int n = 1;
    cli_exit code = CLI_OK;
    *row = -1;
    *answer = (cli_answer){.text = NULL};
    for (int before = 0; code == CLI_OK && *row < 0 && before < n;) {
        cli_answer_free(answer);
        code = cli_ask_rows(command, journal, session, &before, answer, &n);
        if (code == CLI_OK) *row = find_row(&answer->json, id);
    }
    return code;
}

/* ---- Printing ---- */

static int truth_at(const bf_json *json, int object, const char *key) {
    int value = bf_json_find(json, object, key);
    return value >= 0 && bf_json_kind_of(json, value) == BF_JSON_TRUE;
}

#define NOTE_BYTES 16385 /* a note whole */

/* On one line, whatever lines it was written in. */
static void print_note(const bf_json *json, int row) {
    static char note[NOTE_BYTES];
    if (bf_json_string(json, bf_json_find(json, row, "note"), note, sizeof note) != BF_OK || !note[0]) return;
    for (char *at = note; (at = strpbrk(at, "\t\r\n"));) *at = ' ';
    cli_disarm(note);
    printf("  \"%s\"", note);
}

void cli_print_row(const bf_json *json, int row) {
    char text[1024];
    int n_fixes = number_at(json, row, "n_fixes");
    printf("  %.8s  ", cli_text(json, row, "id", text, sizeof text));
    printf("%s  ", cli_text(json, row, "at_text", text, sizeof text));
    cli_show_padded(cli_text(json, row, "word", text, sizeof text), 9);
    fputs(cli_text(json, row, "detail", text, sizeof text), stdout);
    print_note(json, row);
    if (truth_at(json, row, "is_crossed")) fputs("  (crossed out)", stdout);
    if (n_fixes > 0) printf("  (fixed%s)", n_fixes > 1 ? " more than once" : "");
    if (truth_at(json, row, "is_late")) fputs("  (entered later)", stdout);
    if (truth_at(json, row, "is_clash")) fputs("  (another entry has its id)", stdout);
    putchar('\n');
}

void cli_print_rows(const bf_json *json) {
    int rows = bf_json_find(json, 0, "rows");
    for (int row = bf_json_first(json, rows); row >= 0; row = bf_json_next(json, row))
        cli_print_row(json, row);
}

void cli_say_row(const bf_json *json, int row) {
    char text[1024], when[CLI_WHEN_BYTES];
    double ms;
    int east_min;
    fputs(cli_text(json, row, "word", text, sizeof text), stdout);
    if (cli_text(json, row, "detail", text, sizeof text)[0]) printf(" (%s)", text);
    print_note(json, row);
    cli_text(json, row, "at", text, sizeof text);
    if (bf_instant_read(text, strlen(text), &ms, &east_min) == BF_OK)
        printf(", %s", cli_say_when(ms, east_min, when));
    printf("  [%.8s]\n", cli_text(json, row, "id", text, sizeof text));
}
