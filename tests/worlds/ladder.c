/* ladder.c -- the program behind scripts/ladder: a line for each made-up session, tab-separated.
 *
 *     ladder list                       number, name and words of each world; then of each simple strategy
 *     ladder simple WORLD FROM TO       world, session; of each simple strategy: landed in each hour
 *     ladder tuning WORLD FROM TO       the same of fixed ways and rules alone
 *     ladder advised WORLD FROM TO WHO SETS   who (0: the book, 1: W0's parameters), world, session, landed in each hour; decisions, either, kept, unknown,
 *                                       switches, quiet ones, sure, asked again, same; of two bins of P(best) how many, their sum, how many a larger
 *                                       belief kept to; gains, sums of said, came, said^2, said x came; kg fed in each quarter of an hour
 *     ladder tell WORLD SESSION WHO SETS      the same, each decision in words
 *
 * Sessions FROM .. TO - 1: a session's number is its seed. Lines are whole when the program is stopped. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "worlds/advised.h"
#include "worlds/simple.h"

static void print_list(void) {
    for (int w = 0; w < N_WORLDS; w++)
        printf("world\t%d\t%s\t%s\n", w, world_kinds[w]->name, world_kinds[w]->what);
    for (int i = 0; i < N_SIMPLE; i++)
        printf("simple\t%d\t%s\t%s\n", i,
               i < N_FIXED         ? "fixed"
               : i < SIMPLE_RANDOM ? "rule"
                                   : "other",
               simple_words(i));
}

static void print_simple(int world, int k, int n_strategies) {
    static outing o;
    printf("%d\t%d", world, k);
    for (int i = 0; i < n_strategies; i++) {
        simple_session(world_kinds[world], (uint64_t)k, i, &o);
        for (int h = 0; h < SESSION_HOURS; h++) printf("\t%d", o.landed[h]);
    }
    printf("\n");
    fflush(stdout);
}

static void print_advised(int world, int k, advised_who who, int n_sets, FILE *tell) {
    advised_size size = advised_phone;
    size.n_sets = n_sets;
    advised a = advised_session(world_kinds[world], (uint64_t)k, who, size, tell);
    printf("%d\t%d\t%d", who, world, k);
    for (int h = 0; h < SESSION_HOURS; h++) printf("\t%d", a.landed[h]);
    printf("\t%d\t%d\t%d\t%d\t%d\t%d\t%d\t%d\t%d", a.n_decisions, a.n_either, a.n_kept, a.n_unknown,
           a.n_switches, a.n_quiet, a.n_sure, a.n_again, a.n_same);
    for (int b = 0; b < SURE_BINS; b++) printf("\t%d\t%.4f\t%d", a.bin[b].n, a.bin[b].said, a.bin[b].n_kept);
    printf("\t%d\t%.4f\t%.0f\t%.4f\t%.4f", a.n_gains, a.said, a.came, a.said_said, a.said_came);
    for (int q = 0; q < FED_QUARTERS; q++) printf("\t%.4f", a.fed_kg[q]);
    printf("\n");
    fflush(stdout);
}

int main(int n, char **word) {
    if (n == 2 && strcmp(word[1], "list") == 0) {
        print_list();
        return 0;
    }
    int is_tuning = n == 5 && strcmp(word[1], "tuning") == 0;
    if (n == 5 && (is_tuning || strcmp(word[1], "simple") == 0) && atoi(word[2]) < N_WORLDS) {
        for (int k = atoi(word[3]); k < atoi(word[4]); k++)
            print_simple(atoi(word[2]), k, is_tuning ? SIMPLE_RANDOM : N_SIMPLE);
        return 0;
    }
    if (n == 7 && strcmp(word[1], "advised") == 0 && atoi(word[2]) < N_WORLDS) {
        for (int k = atoi(word[3]); k < atoi(word[4]); k++)
            print_advised(atoi(word[2]), k, (advised_who)atoi(word[5]), atoi(word[6]), NULL);
        return 0;
    }
    if (n == 6 && strcmp(word[1], "tell") == 0 && atoi(word[2]) < N_WORLDS) {
        print_advised(atoi(word[2]), atoi(word[3]), (advised_who)atoi(word[4]), atoi(word[5]), stdout);
        return 0;
    }
    fprintf(stderr, "ladder list | simple WORLD FROM TO | tuning WORLD FROM TO |\n"
                    "       advised WORLD FROM TO WHO SETS | tell WORLD SESSION WHO SETS\n");
    return 2;
}
