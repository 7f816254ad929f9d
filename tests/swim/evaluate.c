/* evaluate.c -- the program behind scripts/evaluate: a line for each made-up session, tab-separated.
 *
 *     evaluate sbc FAULT FROM TO SETS PARTICLES DRAWS    fault, session, bites, sets that count, four ranks
 *     evaluate predict FROM TO SETS PARTICLES            session, share
 *     evaluate faults                                    number and words of each fault
 *
 * Sessions FROM .. TO - 1. Lines are whole when the program is stopped. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "swim/calibration.h"

static void print_ranks(int plant, int k, sbc_size size) {
    sbc_ranks ranks = sbc_session((uint64_t)k, size, (fault)plant);
    printf("%d\t%d\t%d\t%.1f", plant, k, ranks.n_bites, ranks.effective_sets);
    for (int r = 0; r < N_RANKS; r++) printf("\t%d", ranks.rank[r]);
    printf("\n");
    fflush(stdout);
}

int main(int n, char **word) {
    if (n == 8 && strcmp(word[1], "sbc") == 0) {
        sbc_size size = {atoi(word[5]), atoi(word[6]), atoi(word[7])};
        for (int k = atoi(word[3]); k < atoi(word[4]); k++) print_ranks(atoi(word[2]), k, size);
        return 0;
    }
    if (n == 6 && strcmp(word[1], "predict") == 0) {
        sbc_size size = {atoi(word[4]), atoi(word[5]), 0};
        for (int k = atoi(word[2]); k < atoi(word[3]); k++) {
            printf("%d\t%.6f\n", k, predicted_share((uint64_t)k, size));
            fflush(stdout);
        }
        return 0;
    }
    if (n == 2 && strcmp(word[1], "faults") == 0) {
        for (int i = 0; i < N_FAULTS; i++) printf("%d\t%s\n", i, fault_words[i]);
        return 0;
    }
    fprintf(stderr,
            "evaluate sbc FAULT FROM TO SETS PARTICLES DRAWS | predict FROM TO SETS PARTICLES | faults\n");
    return 2;
}
