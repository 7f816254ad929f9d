/* cmd_rehearse.c -- rehearse: a simulated session, fished in the log's own words. */
#define _POSIX_C_SOURCE 200809L

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "baitfall/unit.h"
#include "cli/entry.h"
#include "cli/learned.h"
#include "cli/rehearsal.h"
#include "cli/show.h"
#include "cli/swim_request.h"

#define MOST_LINE_WORDS 32
#define LONGEST_WAIT_S 1800.0

/* ---- What is seen ---- */

/* "  09:03:02  Fish     0.53 kg" */
static void show_event(const bf_json *json, int event) {
    char clock[16], word[32], detail[256];
    cli_text(json, event, "at_text", clock, sizeof clock);
    cli_text(json, event, "word", word, sizeof word);
    cli_text(json, event, "detail", detail, sizeof detail);
    if (detail[0])
        printf("  %s  %-9s%s\n", clock, word, detail);
    else
        printf("  %s  %s\n", clock, word);
}

/* Touches that follow each other are one line. Returns the last of them. */
static int show_touches(const bf_json *json, int event, int *n_shown) {
    char first[16], last[16];
    int n = 1;
    cli_text(json, event, "at_text", first, sizeof first);
    for (int next = bf_json_next(json, event);
         next >= 0 && bf_json_is(json, bf_json_find(json, next, "kind"), "touch");
         next = bf_json_next(json, next)) {
        event = next;
        n++, ++*n_shown;
    }
    if (n == 1)
        printf("  %s  Touch\n", first);
    else
        printf("  %s  %d touches until %s\n", first, n, cli_text(json, event, "at_text", last, sizeof last));
    return event;
}

static void show_events(cli_rehearsal *r) {
    const bf_json *json = &r->answer.json;
    int list = bf_json_find(json, 0, "events"), i = 0;
    for (int event = bf_json_first(json, list); event >= 0; event = bf_json_next(json, event), i++) {
        if (i < r->n_shown) continue;
        if (bf_json_is(json, bf_json_find(json, event, "kind"), "touch"))
            event = show_touches(json, event, &i);
        else
            show_event(json, event);
    }
    r->n_shown = i;
}

static int is_true(const bf_json *json, int object, const char *key) {
    int value = bf_json_find(json, object, key);
    return value >= 0 && bf_json_kind_of(json, value) == BF_JSON_TRUE;
}

static int is_in(const cli_rehearsal *r) {
    return is_true(&r->answer.json, cli_object_at(&r->answer.json, 0, "rig"), "in");
}

static int is_over(const cli_rehearsal *r) {
    return is_true(&r->answer.json, 0, "is_over");
}

/* "09:05  rig out; 1 fish, 0.53 kg" */
static void show_standing(const cli_rehearsal *r) {
    const bf_json *json = &r->answer.json;
    char clock[16], spot[64];
    int rig = cli_object_at(json, 0, "rig"), counts = cli_object_at(json, 0, "counts");
    double landed = cli_number_at(json, counts, "landed"), kg = cli_number_at(json, counts, "kg");
    printf("%s  ", cli_text(json, 0, "now_text", clock, sizeof clock));
    if (is_true(json, rig, "in"))
        printf("rig in%s%s", cli_text(json, rig, "spot", spot, sizeof spot)[0] ? " at " : "", spot);
    else
        fputs("rig out", stdout);
    printf("; %.0f fish, %.2f kg%s\n", landed, kg, is_over(r) ? "; time is up: `end` shows the truth" : "");
}

/* A name as it is typed. */
static size_t put_name(char *line, size_t most, const bf_json *json, int name) {
    char text[64];
    if (name < 0 || bf_json_string(json, name, text, sizeof text) != BF_OK || !text[0]) return 0;
    cli_disarm(text);
    const char *quote = strchr(text, ' ') ? "\"" : "";
    return (size_t)snprintf(line, most, "%s%s%s", quote, text, quote);
}

static void show_names(const bf_json *json, const char *key, const char *what) {
    char line[1400] = "";
    size_t n = 0;
    int list = bf_json_find(json, 0, key);
    for (int i = bf_json_first(json, list); i >= 0 && n + 80 < sizeof line; i = bf_json_next(json, i)) {
        if (n) n += (size_t)snprintf(line + n, sizeof line - n, ", ");
        n += put_name(line + n, sizeof line - n, json, i);
    }
    if (line[0]) cli_show_wrapped(what, line);
}

/* "Withy Pool (invented), peg 14: rehearsal, seed 1, 09:00 to 14:00" */
static void show_start(const cli_rehearsal *r) {
    const bf_json *json = &r->answer.json;
    char what[256], venue[64], peg[64], now[16], to[16], bait[80] = "";
    cli_text(json, 0, "venue", venue, sizeof venue);
    cli_text(json, 0, "peg", peg, sizeof peg);
    printf("%s%s%s%sRehearsal, seed %s: now %s, until %s\n", venue, peg[0] ? ", peg " : "", peg,
           venue[0] || peg[0] ? ". " : "", r->seed, cli_text(json, 0, "now_text", now, sizeof now),
           cli_text(json, 0, "ends_text", to, sizeof to));
    cli_show_wrapped("", cli_text(json, 0, "what", what, sizeof what));
    show_names(json, "spots", "  spots       ");
    show_names(json, "baits", "  feed        ");
    show_names(json, "hook_baits", "  hook baits  ");
    put_name(bait, sizeof bait, json, bf_json_first(json, bf_json_find(json, 0, "baits")));
    snprintf(what, sizeof what,
             "feed %s 15; then lower; then until bite; then lower again. `help` says what else.", bait);
    cli_show_wrapped("Try: ", what);
    fputc('\n', stdout);
}

static void show_help(void) {
    puts("What you can do, in the words of `log add`; names of several words in quotes:\n"
         "  feed BAIT AMOUNT [SPOT] [clump|sprinkle|throw|hand]   feed hard-4 15; feed micros-2 8ml margin "
         "sprinkle\n"
         "  lower [SPOT] [HOOK-BAIT]   the rig in: again, at another spot, or with another hook bait\n"
         "  nothing                    the rig out without a bite (feed by pot and lower do that by "
         "themselves)\n"
         "  wait 5                     so many minutes pass (wait 90s), but no more than until a bite\n"
         "  until bite                 half an hour at most\n"
         "What you can ask:\n"
         "  now                        how it stands, and what can be fed and fished\n"
         "  bed, next                  what the model believes, and would do, from what showed so far\n"
         "And:\n"
         "  undo                       takes the last choice back, and all that came of it\n"
         "  end                        the hidden truth, and what each decision cost\n"
         "  quit                       leaves without them\n"
         "A put-in by pot takes 15 s, a fish or a rig taken out 45 s.");
}

/* ---- The end ---- */

#define TRUTH_EVERY_S 1200.0

static double number_of(const bf_json *json, int list, int which) {
    double number = NAN;
    int i = bf_json_first(json, list);
    while (which-- > 0 && i >= 0) i = bf_json_next(json, i);
    if (i < 0 || bf_json_number(json, i, &number) != BF_OK) return NAN;
    return number;
}

/* "  09:20     12 about;  long 8 lie, 3 on it;  margin 0 lie, 0 on it" */
static void show_point(const bf_json *json, int point, int spots) {
    char clock[16], name[64];
    int s = 0, left = bf_json_find(json, point, "left"), fish = bf_json_find(json, point, "fish");
    printf("  %s  %3.0f about", cli_text(json, point, "at_text", clock, sizeof clock),
           cli_number_at(json, point, "near"));
    for (int i = bf_json_first(json, spots); i >= 0; i = bf_json_next(json, i), s++) {
        if (bf_json_string(json, i, name, sizeof name) != BF_OK) name[0] = 0;
        cli_disarm(name);
        printf("; %s%s%.0f pieces, %.0f fish", name, name[0] ? ": " : "", number_of(json, left, s),
               number_of(json, fish, s));
    }
    fputc('\n', stdout);
}

static void show_truth(const bf_json *json) {
    int truth = cli_object_at(json, 0, "truth"), series = bf_json_find(json, truth, "series");
    int spots = bf_json_find(json, 0, "spots");
    puts("\nThe hidden truth: fish about on no bait; at each spot what lay there, and fish on it");
    for (int i = bf_json_first(json, series); i >= 0; i = bf_json_next(json, i)) {
        double t_s = cli_number_at(json, i, "t_s");
        int is_last = bf_json_next(json, i) < 0;
        if (is_last || fmod(t_s, TRUTH_EVERY_S) == 0) show_point(json, i, spots);
    }
}

/* "  fish within reach of the peg today: 9.4 (as a rule 20)": what of the model is new each day. */
static void show_day(const bf_json *json) {
    char what[128];
    int list = bf_json_find(json, cli_object_at(json, 0, "truth"), "parameters");
    puts("\nWhat kind of day it was");
    for (int i = bf_json_first(json, list); i >= 0; i = bf_json_next(json, i)) {
        if (!bf_json_is(json, bf_json_find(json, i, "of"), "day")) continue;
        printf("  %s: %.2g (as a rule %.2g)\n", cli_text(json, i, "what", what, sizeof what),
               cli_number_at(json, i, "value"), cli_number_at(json, i, "usual"));
    }
}

static void show_decision(const bf_json *json, int decision) {
    char clock[16], chosen[256], best[256], cost[256], line[900], first[24];
    int of = cli_object_at(json, decision, "cost");
    snprintf(first, sizeof first, "  %s  ", cli_text(json, decision, "at_text", clock, sizeof clock));
    cli_text(json, decision, "chosen", chosen, sizeof chosen);
    cli_text(json, decision, "best", best, sizeof best);
    cli_text(json, of, "text", cost, sizeof cost);
    if (of < 0)
        snprintf(line, sizeof line, "%s. Not priced: nothing says how it would be fed there.", chosen);
    else if (is_true(json, decision, "is_best"))
        snprintf(line, sizeof line, "%s. %s.", chosen, cost);
    else
        snprintf(line, sizeof line, "%s. %s, which was: %s.", chosen, cost, best);
    cli_show_wrapped(first, line);
}

static void show_decisions(const bf_json *json) {
    char text[512];
    int list = bf_json_find(json, 0, "decisions"), sentences = bf_json_find(json, 0, "sentences");
    puts("\nWhat your decisions cost: on average over many runs of luck, and where that lies eight times in "
         "ten");
    for (int i = bf_json_first(json, list); i >= 0; i = bf_json_next(json, i)) show_decision(json, i);
    fputc('\n', stdout);
    for (int i = bf_json_first(json, sentences); i >= 0; i = bf_json_next(json, i)) {
        if (bf_json_string(json, i, text, sizeof text) != BF_OK) continue;
        cli_disarm(text);
        cli_show_wrapped("", text);
    }
}

/* ---- One line ---- */

typedef enum heard { GO_ON, ENDED, LEFT } heard;

typedef struct words {
    const char *word[MOST_LINE_WORDS];
    int n;
} words;

/* Takes a line apart in place: blanks between words, quotes round names of several. 0: a quote is not closed, or too many words. */
static int split(char *line, words *w) {
    w->n = 0;
    for (char *at = line; *at;) {
        while (isspace((unsigned char)*at)) at++;
        if (!*at || *at == '#') return 1;
        if (w->n == MOST_LINE_WORDS) return 0;
        char end = *at == '"' || *at == '\'' ? *at++ : 0;
        w->word[w->n++] = at;
        while (*at && (end ? *at != end : !isspace((unsigned char)*at))) at++;
        if (end && !*at) return 0;
        if (*at) *at++ = 0;
    }
    return 1;
}

static int is_word(const words *w, int i, const char *a, const char *b) {
    return i < w->n && (strcmp(w->word[i], a) == 0 || (b && strcmp(w->word[i], b) == 0));
}

static cli_exit after_choice(cli_rehearsal *r, cli_exit code) {
    if (code != CLI_OK || r->is_json) return code;
    show_events(r);
    show_standing(r);
    return CLI_OK;
}

/* Feed and lower, read as `log add` reads them. */
static cli_exit choose_entry(cli_rehearsal *r, const words *w, const char *kind) {
    static cli_entry entry;
    char *members = NULL;
    size_t n;
    cli_exit code = cli_entry_words(r->command, w->word, w->n, &entry);
    char *body = code == CLI_OK ? cli_entry_body(&entry) : NULL;
    cli_entry_free(&entry);
    if (code != CLI_OK) return code;
    FILE *to = body ? open_memstream(&members, &n) : NULL;
    if (to) fprintf(to, "\"kind\":\"%s\",\"body\":%s", kind, body);
    int is_written = to && fclose(to) == 0;
    code = is_written ? after_choice(r, cli_rehearse_choose(r, members))
                      : cli_say(r->command, CLI_INTERNAL, "out of memory.");
    free(members);
    free(body);
    return code;
}

static cli_exit lift_words(cli_rehearsal *r) {
    if (!is_in(r)) return cli_say(r->command, CLI_NO, "the rig is out already.");
    return after_choice(r, cli_rehearse_choose(r, "\"kind\":\"lift\""));
}

/* Minutes, or a time with its unit. */
static cli_exit read_wait(const cli_rehearsal *r, const char *word, double *for_s) {
    bf_quantity q = {0};
    int says_pm = 0, is_plain = bf_number_span(word, strlen(word)) == strlen(word);
    bf_status status = BF_OK;
    if (is_plain)
        q.value = 60 * strtod(word, NULL);
    else
        status = bf_quantity_read(word, strlen(word), BF_TIME, &q, &says_pm);
    if (status || q.is_unknown || !(q.value >= 5 && q.value <= 18000))
        return cli_say(r->command, CLI_BAD_INPUT,
                       "wait is '%s'; accepted is 5 s to 5 h: minutes (wait 5), or with a unit (wait 90s).",
                       word);
    *for_s = q.value;
    return CLI_OK;
}

static cli_exit wait_words(cli_rehearsal *r, const words *w) {
    double for_s = LONGEST_WAIT_S;
    cli_exit code = CLI_OK;
    int is_bite = is_word(w, 0, "until", NULL);
    if (is_over(r)) return cli_say(r->command, CLI_NO, "time is up; `end` shows the truth.");
    if (is_bite && !(is_word(w, 1, "bite", NULL) && w->n == 2))
        return cli_say(r->command, CLI_USAGE, "say `until bite`, or `wait 5`.");
    if (!is_bite && w->n != 2) return cli_say(r->command, CLI_USAGE, "say how long, in minutes: wait 5.");
    if (!is_bite) code = read_wait(r, w->word[1], &for_s);
    if (code != CLI_OK) return code;
    if (is_bite && !is_in(r)) return cli_say(r->command, CLI_NO, "the rig is out; `lower` first.");
    code = cli_rehearse_wait(r, for_s);
    if (code != CLI_OK || r->is_json) return code;
    int n = r->n_shown;
    show_events(r);
    if (n == r->n_shown)
        puts("  (nothing showed)");
    else if (is_bite && is_in(r))
        puts("  (no bite in half an hour)");
    show_standing(r);
    return code;
}

static cli_exit ask_words(cli_rehearsal *r, const char *question) {
    cli_answer answer;
    cli_exit code = cli_rehearse_question(r, question, &answer);
    if (code == CLI_OK && r->is_json)
        puts(answer.text);
    else if (code == CLI_OK)
        (strcmp(question, "bed") == 0 ? cli_show_bed : cli_show_next)(&answer.json);
    cli_answer_free(&answer);
    return code;
}

static cli_exit undo_words(cli_rehearsal *r) {
    cli_exit code = cli_rehearse_undo(r);
    if (code != CLI_OK || r->is_json) return code;
    puts("Taken back. So far:");
    return after_choice(r, code);
}

static cli_exit now_words(const cli_rehearsal *r) {
    if (r->is_json) return CLI_OK;
    show_standing(r);
    show_names(&r->answer.json, "spots", "  spots       ");
    show_names(&r->answer.json, "baits", "  feed        ");
    show_names(&r->answer.json, "hook_baits", "  hook baits  ");
    return CLI_OK;
}

static cli_exit help_words(const cli_rehearsal *r) {
    if (!r->is_json) show_help();
    return CLI_OK;
}

static cli_exit unknown_words(const cli_rehearsal *r, const char *word) {
    static const char *const known[] = {"feed", "lower", "nothing", "wait", "until", "now",
                                        "bed",  "next",  "undo",    "end",  "quit",  "help"};
    static const char *const shows[] = {"fish", "missed", "lost", "foul", "touch"};
    cli_nearest nearest = {NULL, 0};
    for (size_t i = 0; i < sizeof shows / sizeof shows[0]; i++)
        if (strcmp(word, shows[i]) == 0)
            return cli_say(r->command, CLI_USAGE,
                           "bites show by themselves here: `wait 5`, or `until bite`.");
    for (size_t i = 0; i < sizeof known / sizeof known[0]; i++) cli_consider(&nearest, word, known[i]);
    if (nearest.word) return cli_say(r->command, CLI_USAGE, "'%s': did you mean '%s'?", word, nearest.word);
    return cli_say(r->command, CLI_USAGE, "'%s' is nothing to do here; `help` says what is.", word);
}

static cli_exit hear(cli_rehearsal *r, char *line, heard *is) {
    words w;
    *is = GO_ON;
    if (!split(line, &w)) return cli_say(r->command, CLI_USAGE, "a quote is not closed, or too many words.");
    if (w.n == 0) return CLI_OK;
    if (is_word(&w, 0, "feed", NULL)) return choose_entry(r, &w, "feed");
    if (is_word(&w, 0, "lower", NULL)) return choose_entry(r, &w, "lower");
    if (is_word(&w, 0, "nothing", "lift")) return lift_words(r);
    if (is_word(&w, 0, "wait", "until")) return wait_words(r, &w);
    if (is_word(&w, 0, "bed", "next")) return ask_words(r, w.word[0]);
    if (is_word(&w, 0, "undo", NULL)) return undo_words(r);
    if (is_word(&w, 0, "now", NULL)) return now_words(r);
    if (is_word(&w, 0, "help", "?")) return help_words(r);
    *is = is_word(&w, 0, "end", NULL) ? ENDED : is_word(&w, 0, "quit", "exit") ? LEFT : GO_ON;
    return *is == GO_ON ? unknown_words(r, w.word[0]) : CLI_OK;
}

/* ---- Line after line ---- */

/* Lines from `from`; what is wrong with one is said, and the next is read. The first such fault is the exit code. */
static cli_exit hear_all(cli_rehearsal *r, FILE *from, int is_person, heard *is) {
    char *line = NULL, clock[16];
    size_t room = 0;
    cli_exit first = CLI_OK;
    *is = LEFT;
    for (;;) {
        if (is_person) printf("%s> ", cli_text(&r->answer.json, 0, "now_text", clock, sizeof clock));
        if (is_person) fflush(stdout);
        if (getline(&line, &room, from) < 0) break;
        line[strcspn(line, "\r\n")] = 0;
        cli_disarm(line); /* lines may be a file of others */
        cli_exit code = hear(r, line, is);
        if (first == CLI_OK && !is_person) first = code;
        if (*is != GO_ON) break;
        *is = LEFT;
    }
    free(line);
    return first;
}

static cli_exit end(cli_rehearsal *r) {
    fflush(stdout);
    if (isatty(STDERR_FILENO)) fputs("Working out what each decision cost ...\n", stderr);
    cli_exit code = cli_rehearse_ask(r, r->until_s, "\"end\":true");
    if (code != CLI_OK || r->is_json) return code;
    show_day(&r->answer.json);
    show_truth(&r->answer.json);
    show_decisions(&r->answer.json);
    return code;
}

/* ---- What it starts from ---- */

static cli_exit no_memory(const cli_command *command) {
    return cli_say(command, CLI_INTERNAL, "out of memory.");
}

/* The request of a bed as the setup: plan, kit, and of a real session its instant. */
static cli_exit put_setup(const cli_command *command, const cli_args *args, cli_swim *swim) {
    cli_args sub = *args;
    const char *from = sub.option[OPT_FROM];
    sub.n_words = 0;
    sub.option[OPT_SEED] = NULL;
    if (from) sub.word[sub.n_words++] = from;
    if (from && !sub.option[OPT_AT])
        return cli_say(command, CLI_USAGE, "--from needs --at TIME: from when on it is your turn.");
    if (!from && sub.option[OPT_AT])
        return cli_say(command, CLI_USAGE, "--at goes with --from SESSION, which it is a time of.");
    if (!from) {
        void *memory = malloc(bf_journal_bytes(1, 1));
        if (!memory) return no_memory(command);
        swim->journal = bf_journal_start(memory, 1, 1);
    }
    return cli_put_swim(command, &sub, swim);
}

/* What earlier sessions of this machine told, for fish that are like theirs. */
static cli_exit put_learned(const cli_command *command, const cli_args *args, cli_swim *swim) {
    bf_journal *journal = NULL;
    if (!args->option[OPT_LEARNED] || args->option[OPT_FROM]) return CLI_OK;
    cli_exit code = cli_load_journal(command, args, NULL, &journal);
    if (code == CLI_OK) code = cli_learn(command, journal, INFINITY, &swim->kit, &swim->learned);
    free(journal);
    return code == CLI_OK ? cli_put(command, &swim->request, "learned", swim->learned, CLI_AS_JSON) : code;
}

/* The truth of a session that is taken up is drawn from what is believed of it. */
static cli_exit draw(cli_rehearsal *r, cli_swim *swim) {
    char *request = NULL;
    size_t n;
    cli_answer answer = {.text = NULL};
    FILE *to = open_memstream(&request, &n);
    if (!to) return no_memory(r->command);
    fprintf(to, "{\"seed\":%s,\"setup\":%s}", r->seed, r->setup);
    if (fclose(to) != 0) return no_memory(r->command);
    cli_exit code = cli_ask_journal(r->command, swim->journal, "rehearse", request, n, &answer);
    free(request);
    int setup = code == CLI_OK ? cli_object_at(&answer.json, 0, "setup") : -1;
    if (setup >= 0) {
        const char *text = bf_json_raw(&answer.json, setup, &n);
        free(r->setup);
        r->setup = strndup(text, n);
        if (!r->setup) code = no_memory(r->command);
    }
    cli_answer_free(&answer);
    return code;
}

static cli_exit begin(const cli_command *command, const cli_args *args, cli_rehearsal *r) {
    static cli_swim swim;
    size_t n;
    cli_exit code = put_setup(command, args, &swim);
    if (code == CLI_OK) code = put_learned(command, args, &swim);
    if (code == CLI_OK) {
        r->setup = cli_request_json(&swim.request, &n);
        if (!r->setup) code = no_memory(command);
    }
    if (code == CLI_OK && args->option[OPT_FROM]) code = draw(r, &swim);
    cli_swim_free(&swim);
    return code;
}

static cli_exit read_seed(const cli_command *command, const cli_args *args, cli_rehearsal *r) {
    const char *seed = args->option[OPT_SEED] ? args->option[OPT_SEED] : "1";
    size_t n = strlen(seed);
    if (n == 0 || n > 15 || strspn(seed, "0123456789") != n)
        return cli_say(command, CLI_USAGE, "--seed is '%s'; accepted is a whole number of up to 15 digits.",
                       seed);
    strcpy(r->seed, seed);
    return CLI_OK;
}

/* A rehearsal's file goes on where it stands, and is kept up to date; any other file is lines of words. */
static cli_exit open_file(const cli_command *command, const cli_args *args, cli_rehearsal *r, char **text,
                          size_t *n) {
    if (args->n_words == 0 || strcmp(args->word[0], "-") == 0) return CLI_OK;
    cli_exit code = cli_read_file(command, args->word[0], text, n);
    if (code != CLI_OK || (*text)[strspn(*text, " \t\r\n")] != '{') return code;
    if (args->option[OPT_SEED] || args->option[OPT_PLAN] || args->option[OPT_FROM])
        code = cli_say(command, CLI_USAGE,
                       "%s has its own seed and setup: leave --seed, --plan and --from out.", args->word[0]);
    if (code == CLI_OK) code = cli_rehearse_load(r, args->word[0], *text, *n);
    free(*text);
    *text = NULL;
    if (!r->file) r->file = args->word[0], r->may_replace = 1;
    return code;
}

/* ---- The command ---- */

static cli_exit play(const cli_command *command, cli_rehearsal *r, char *text, size_t n) {
    int is_person = !text && !r->is_json && isatty(STDIN_FILENO);
    heard is;
    FILE *from = text ? fmemopen(text, n, "r") : stdin;
    if (!from) return no_memory(command);
    cli_exit code = cli_rehearse_ask(r, r->until_s, "");
    if (code == CLI_OK && r->file && !r->may_replace) code = cli_rehearse_save(r);
    if (code == CLI_OK && !r->is_json) {
        show_start(r);
        after_choice(r, CLI_OK);
    }
    cli_exit of_lines = code == CLI_OK ? hear_all(r, from, is_person, &is) : code;
    if (code == CLI_OK && is == ENDED) code = end(r);
    if (code == CLI_OK && is == LEFT && !r->is_json)
        printf("%sLeft at that. %s%s\n", is_person ? "\n" : "",
               r->file ? "It goes on with: baitfall rehearse " : "",
               r->file ? r->file : "Nothing was kept: --out FILE keeps it.");
    if (text) fclose(from);
    return code == CLI_OK ? of_lines : code;
}

cli_exit cli_rehearse(const cli_command *command, const cli_args *args) {
    static cli_rehearsal r;
    char *text = NULL;
    size_t n = 0;
    r.command = command, r.is_json = args->option[OPT_JSON] != NULL;
    r.file = args->option[OPT_OUT], r.may_replace = args->option[OPT_FORCE] != NULL;
    if (args->n_words > 1) return cli_say(command, CLI_USAGE, "name one file, or `-`, or none.");
    cli_exit code = read_seed(command, args, &r);
    if (code == CLI_OK) code = open_file(command, args, &r, &text, &n);
    if (code == CLI_OK && !r.setup) code = begin(command, args, &r);
    if (code == CLI_OK) code = play(command, &r, text, n);
    if (code == CLI_OK && args->option[OPT_JSON]) puts(r.answer.text);
    free(text);
    cli_rehearse_free(&r);
    return code;
}
