/* bank_bench.c -- the question "bank" on a season's journal, as the page asks it after each press.
 *
 *     bank_bench [events] [runs]      CSV on stdout: what, milliseconds (middle of the runs; start: 5000 events, 21 runs)
 *
 * Days of 160 entries on an invented lake: a put-in, a lowering and a lift in turn, nets weighed at the end. */
#define _POSIX_C_SOURCE 199309L
#include <string.h>

#include "baitfall/journal.h"
#include "bench/timing.h"

#define MOST_RUNS 99
#define A_DAY 160
#define START_MS 1767258000000.0 /* 2026-01-01T09:00Z */

static const char *kind_of(int i) {
    static const char *const kinds[] = {"feed", "lower", "lift"};
    return i == 0 ? "open" : i == A_DAY - 2 ? "net" : i == A_DAY - 1 ? "close" : kinds[i % 3];
}

static const char *body_of(int i) {
    static const char *const bodies[] = {
        "{\"spot\":\"long\",\"bait\":\"soft two\",\"fill_frac\":0.5,\"pot_m3\":0.000008,\"how\":\"clump\"}",
        "{\"spot\":\"long\",\"hook_bait\":\"hard six\"}", "{\"outcome\":\"landed\",\"size\":\"one_lb\"}"};
    return i == 0           ? "{\"venue\":\"Withy Pool\",\"peg\":\"14\",\"net_limit_kg\":22.7}"
           : i == A_DAY - 2 ? "{\"net\":1,\"mass_kg\":25}"
           : i == A_DAY - 1 ? "{}"
                            : bodies[i % 3];
}

static void take_entry(bf_journal *journal, int i) {
    char line[1024], at[BF_INSTANT_BYTES];
    bf_taken taken;
    bf_error error;
    int day = i / A_DAY, of_day = i % A_DAY;
    bf_instant_write(START_MS + 864e5 * day + 1e5 * of_day, 0, at);
    int n = snprintf(line, sizeof line,
                     "{\"v\":1,\"id\":\"%032x\",\"session\":\"%032x\",\"dev\":\"0000a001\",\"run\":"
                     "\"0000b001\",\"seq\":%d,"
                     "\"kind\":\"%s\",\"at\":\"%s\",\"pm_s\":1,\"rec\":\"%s\",\"body\":%s}",
                     (unsigned)i + 1, (unsigned)(day * A_DAY) + 1, i + 1, kind_of(of_day), at, at,
                     body_of(of_day));
    if (bf_take(journal, line, (size_t)n, &taken, &error)) give_up("bank_bench", error.text);
}

static void ask(bf_journal *journal, void *work) {
    static char out[1u << 20];
    size_t n;
    if (bf_ask(journal, work, "bank", "{}", 2, out, sizeof out, &n)) give_up("bank_bench", out);
}

static void print_middle(const char *what, double *ms, int n) {
    printf("%s,%.4f\n", what, middle_of(ms, n));
}

int main(int argc, char **argv) {
    int n_events = argc > 1 ? atoi(argv[1]) : 5000, n_runs = argc > 2 ? atoi(argv[2]) : 21;
    double press[MOST_RUNS], asked[MOST_RUNS];
    if (n_events < 1 || n_events > 1000000 || n_runs < 1 || n_runs > MOST_RUNS)
        give_up("bank_bench", "events 1 to 1000000, runs 1 to 99");
    int most = n_events + n_runs;
    bf_journal *journal = bf_journal_start(room("bank_bench", bf_journal_bytes(most, (size_t)most * 400)),
                                           most, (size_t)most * 400);
    double start = now_ms();
    for (int i = 0; i < n_events; i++) take_entry(journal, i);
    printf("what,ms\ntake all,%.4f\n", now_ms() - start);
    void *work = room("bank_bench", bf_ask_bytes(journal, "bank"));
    for (int k = 0; k < n_runs; k++) {
        start = now_ms();
        take_entry(journal, n_events + k);
        ask(journal, work);
        press[k] = now_ms() - start;
        start = now_ms();
        ask(journal, work);
        asked[k] = now_ms() - start;
    }
    print_middle("a press: take and bank", press, n_runs);
    print_middle("bank again", asked, n_runs);
    return 0;
}
