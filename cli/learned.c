/* learned.c -- see learned.h.
 *
 * The file holds a line for each summary or score: its key, a check of what follows, the value. Key and check are 16 hex digits. */
#define _POSIX_C_SOURCE 200809L

#include "cli/learned.h"

#include <inttypes.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "baitfall/swim.h"

#define MOST_FORETOLD 40 /* sessions whose bites are foretold */
#define MOST_KEPT 400    /* lines in the file */
#define FILE_BYTES_MOST ((size_t)8 << 20)
#define HEX 16
#define HEAD (2 * (HEX + 1)) /* key and check, each with a blank */

/* ---- Keys ---- */

/* FNV-1a, 64 bits. */
static uint64_t hash_of(uint64_t hash, const char *bytes, size_t n) {
    for (size_t i = 0; i < n; i++) hash = (hash ^ (unsigned char)bytes[i]) * 0x100000001b3u;
    return hash;
}
#define HASH_START 0xcbf29ce484222325u

/* Of all of a session that anything is worked out from. */
static uint64_t key_of(bf_journal *journal, const bf_session *session, const cli_kit *kit) {
    const bf_fold *fold = bf_journal_fold(journal);
    char version[64];
    int n_version = snprintf(version, sizeof version, "%s %d", BF_VERSION, BF_SWIM_VERSION);
    uint64_t hash = hash_of(HASH_START, version, (size_t)n_version);
    if (kit->text) hash = hash_of(hash, kit->text, kit->n);
    for (int i = session->live_from; i < session->live_to; i++) {
        size_t n;
        const char *line = bf_journal_line(journal, fold->live[i].event, &n);
        hash = hash_of(hash, line, n + 1); // with its closing zero
    }
    return hash;
}

/* ---- The file ---- */

static int cache_path(char path[BF_PATH_MOST]) {
    const char *cache = getenv("XDG_CACHE_HOME"), *home = getenv("HOME");
    int n = -1;
    if (cache && cache[0] == '/')
        n = snprintf(path, BF_PATH_MOST, "%s/baitfall/sessions", cache);
    else if (home && home[0] == '/')
        n = snprintf(path, BF_PATH_MOST, "%s/.cache/baitfall/sessions", home);
    return n > 0 && n < BF_PATH_MOST;
}

typedef struct kept {
    char *text; /* NULL: none */
    size_t n;
} kept;

static kept read_kept(void) {
    char path[BF_PATH_MOST];
    kept k = {NULL, 0};
    if (cache_path(path) && bf_file_read(path, FILE_BYTES_MOST, &k.text, &k.n) != BF_FILE_OK)
        k = (kept){NULL, 0};
    return k;
}

/* The next line of the file from *at on, without its newline; NULL: there is no further one. */
static const char *next_line(const char **at, const char *end, size_t *n) {
    const char *line = *at, *newline = line < end ? memchr(line, '\n', (size_t)(end - line)) : NULL;
    if (!newline) return NULL;
    *n = (size_t)(newline - line);
    *at = newline + 1;
    return line;
}

static void write_head(FILE *to, uint64_t key, const char *summary, size_t n) {
    fprintf(to, "%016" PRIx64 " %016" PRIx64 " ", key, hash_of(HASH_START, summary, n));
}

/* The summary kept under a key, NULL: none, or damaged. */
static const char *find_kept(const kept *k, uint64_t key, size_t *n) {
    const char *at = k->text, *line;
    char head[HEAD + 1];
    size_t n_line;
    while (k->text && (line = next_line(&at, k->text + k->n, &n_line)) != NULL) {
        if (n_line <= HEAD) continue;
        *n = n_line - HEAD;
        snprintf(head, sizeof head, "%016" PRIx64 " %016" PRIx64 " ", key,
                 hash_of(HASH_START, line + HEAD, *n));
        if (memcmp(line, head, HEAD) == 0) return line + HEAD;
    }
    return NULL;
}

/* What was worked out of one session: a summary, or a score. */
typedef struct lesson {
    uint64_t key;
    char *text; /* NULL: the session tells nothing */
    size_t n;
} lesson;

static int is_among(const lesson *lessons, int n, const char *line) {
    for (int i = 0; i < n; i++) {
        char key[HEX + 1];
        snprintf(key, sizeof key, "%016" PRIx64, lessons[i].key);
        if (memcmp(line, key, HEX) == 0) return 1;
    }
    return 0;
}

/* Writes the file anew: these, then what was in it, as long as it is of use to another journal. */
static cli_exit write_kept(const cli_command *command, const kept *k, const lesson *lessons, int n) {
    char path[BF_PATH_MOST], *text = NULL;
    size_t n_text, n_line;
    const char *at = k->text, *line;
    if (!cache_path(path)) return CLI_OK; // no home: nothing is kept
    FILE *to = open_memstream(&text, &n_text);
    if (!to) return cli_say(command, CLI_INTERNAL, "out of memory.");
    for (int i = 0; i < n; i++) {
        if (!lessons[i].text) continue;
        write_head(to, lessons[i].key, lessons[i].text, lessons[i].n);
        fprintf(to, "%s\n", lessons[i].text);
    }
    for (int others = n; k->text && others < MOST_KEPT; others++) {
        line = next_line(&at, k->text + k->n, &n_line);
        if (!line) break;
        if (n_line > HEAD && !is_among(lessons, n, line)) fprintf(to, "%.*s\n", (int)n_line, line);
    }
    if (fclose(to) != 0) return cli_say(command, CLI_INTERNAL, "out of memory.");
    bf_file what = bf_kit_write(path, text, n_text);
    free(text);
    if (what != BF_FILE_OK)
        (void)cli_say(command, CLI_OK, "what was learned is not kept: %s cannot be written: %s.", path,
                      bf_file_words(what));
    return CLI_OK;
}

/* ---- Working out ---- */

static char *copy_of(const char *text, size_t n) {
    char *copy = malloc(n + 1);
    if (!copy) return NULL;
    memcpy(copy, text, n);
    copy[n] = 0;
    return copy;
}

/* A question about a session, and the member of its answer that is kept. */
typedef struct question {
    const char *name, *member;
    const char *more; /* of the request, behind a comma */
} question;

static cli_exit work_out(const cli_command *command, bf_journal *journal, const bf_session *session,
                         const cli_kit *kit, const question *asked, lesson *of) {
    char id[33], *request = NULL;
    size_t n;
    cli_answer answer = {.text = NULL};
    bf_id_write(session->id, id);
    FILE *to = open_memstream(&request, &n);
    if (!to) return cli_say(command, CLI_INTERNAL, "out of memory.");
    fprintf(to, "{\"session\":\"%s\",%s", id, asked->more);
    if (kit->text) fprintf(to, ",\"kit\":%s", kit->text);
    fputs("}", to);
    if (fclose(to) != 0) return cli_say(command, CLI_INTERNAL, "out of memory.");
    cli_exit code = cli_ask_journal(command, journal, asked->name, request, n, &answer);
    int member = code == CLI_OK ? bf_json_find(&answer.json, 0, asked->member) : -1;
    const char *text = member >= 0 ? bf_json_raw(&answer.json, member, &of->n) : NULL;
    if (text) of->text = copy_of(text, of->n);
    if (text && !of->text) code = cli_say(command, CLI_INTERNAL, "out of memory.");
    cli_answer_free(&answer);
    free(request);
    return code;
}

/* As kept, else worked out. */
static cli_exit take_lesson(const cli_command *command, bf_journal *journal, const bf_session *session,
                            const cli_kit *kit, const question *asked, const kept *k, lesson *of,
                            int *n_new) {
    of->key = hash_of(key_of(journal, session, kit), asked->name, strlen(asked->name));
    of->key = hash_of(of->key, asked->more, strlen(asked->more));
    const char *text = find_kept(k, of->key, &of->n);
    if (text) {
        of->text = copy_of(text, of->n);
        return of->text ? CLI_OK : cli_say(command, CLI_INTERNAL, "out of memory.");
    }
    if ((*n_new)++ == 0 && isatty(STDERR_FILENO))
        (void)cli_say(command, CLI_OK, "working out what earlier sessions told, once for all times.");
    return work_out(command, journal, session, kit, asked, of);
}

static cli_exit write_array(const cli_command *command, const lesson *lessons, int n, char **json) {
    size_t n_json;
    int n_written = 0;
    FILE *to = open_memstream(json, &n_json);
    if (!to) return cli_say(command, CLI_INTERNAL, "out of memory.");
    fputs("[", to);
    for (int i = 0; i < n; i++)
        if (lessons[i].text) fprintf(to, "%s%s", n_written++ ? "," : "", lessons[i].text);
    fputs("]", to);
    return fclose(to) == 0 ? CLI_OK : cli_say(command, CLI_INTERNAL, "out of memory.");
}

/* Writes what is new, and all of it as an array. */
static cli_exit finish(const cli_command *command, kept *k, lesson *lessons, int n, int n_new, cli_exit code,
                       char **json) {
    if (code == CLI_OK && n_new) code = write_kept(command, k, lessons, n);
    if (code == CLI_OK) code = write_array(command, lessons, n, json);
    for (int i = 0; i < n; i++) free(lessons[i].text);
    free(k->text);
    return code;
}

cli_exit cli_learn(const cli_command *command, bf_journal *journal, double before_ms, const cli_kit *kit,
                   char **json) {
    static const question asked = {"bed", "summary", "\"summary\":true"};
    const bf_fold *fold = bf_journal_fold(journal);
    int session[BF_FOLD_MOST_LESSONS], n = bf_fold_lessons(fold, before_ms, BF_FOLD_MOST_LESSONS, session),
                                       n_new = 0;
    lesson lessons[BF_FOLD_MOST_LESSONS] = {{.text = NULL}};
    kept k = n ? read_kept() : (kept){NULL, 0};
    cli_exit code = CLI_OK;
    *json = NULL;
    for (int i = 0; code == CLI_OK && i < n; i++)
        code =
            take_lesson(command, journal, &fold->session[session[i]], kit, &asked, &k, &lessons[i], &n_new);
    return finish(command, &k, lessons, n, n_new, code, json);
}

/* One session's score, after what those before it told. */
static cli_exit foretell_one(const cli_command *command, bf_journal *journal, const bf_session *session,
                             const cli_kit *kit, const kept *k, lesson *of, int *n_new) {
    char *learned = NULL, *more = NULL;
    size_t n;
    cli_exit code = cli_learn(command, journal, session->opened_ms, kit, &learned);
    FILE *to = code == CLI_OK ? open_memstream(&more, &n) : NULL;
    if (code == CLI_OK && !to) code = cli_say(command, CLI_INTERNAL, "out of memory.");
    if (to) fprintf(to, "\"learned\":%s", learned);
    if (to && fclose(to) != 0) code = cli_say(command, CLI_INTERNAL, "out of memory.");
    const question asked = {"foretell", "score", more};
    if (code == CLI_OK) code = take_lesson(command, journal, session, kit, &asked, k, of, n_new);
    free(more);
    free(learned);
    return code;
}

cli_exit cli_foretell(const cli_command *command, bf_journal *journal, const cli_kit *kit, char **json) {
    const bf_fold *fold = bf_journal_fold(journal);
    int session[MOST_FORETOLD], n = bf_fold_lessons(fold, INFINITY, MOST_FORETOLD, session), n_new = 0;
    lesson lessons[MOST_FORETOLD] = {{.text = NULL}};
    cli_exit code = CLI_OK;
    *json = NULL;
    for (int i = 0; code == CLI_OK && i < n; i++) {
        kept k = read_kept(); // cli_learn may have written it anew
        code = foretell_one(command, journal, &fold->session[session[i]], kit, &k, &lessons[i], &n_new);
        free(k.text);
    }
    kept k = read_kept();
    return finish(command, &k, lessons, n, n_new, code, json);
}
