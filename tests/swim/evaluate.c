/* evaluate.c -- the program behind scripts/evaluate: a line for each made-up session, tab-separated.
 *
 *     evaluate sbc FAULT FROM TO SETS PARTICLES DRAWS    fault, session, bites, sets that count, four ranks; share of the next bite (0 with a
 *                                                        fault)
 *     evaluate smc2 FROM TO AGAIN THETA STATES           session, again, bites, states at the end, moves, share of proposals taken, log
 *                                                        evidence, log score; means, then sds, of what is compared (smc2_truth.h)
 *     evaluate belief FROM TO AGAIN SETS PARTICLES       the same of the belief
 *     evaluate faults                                    number and words of each fault
 *
 * Sessions FROM .. TO - 1. Lines are whole when the program is stopped. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "swim/smc2_truth.h"

static void print_ranks(int plant, int k, sbc_size size) {
    sbc_ranks ranks = sbc_session((uint64_t)k, size, (fault)plant);
    printf("%d\t%d\t%d\t%.1f", plant, k, ranks.n_bites, ranks.effective_sets);
    for (int r = 0; r < N_RANKS; r++) printf("\t%d", ranks.rank[r]);
    printf("\t%.6f\n", ranks.share);
    fflush(stdout);
}

static void print_side(int k, int again, const truth_side *side) {
    printf("%d\t%d\t%d\t%d\t%d\t%.3f", k, again, side->n_bites, side->n_states, side->n_moves, side->taken);
    printf("\t%.4f\t%.4f", side->log_evidence, side->log_score);
    for (int q = 0; q < N_TRUTH; q++) printf("\t%.5f", side->mean[q]);
    for (int q = 0; q < N_TRUTH; q++) printf("\t%.5f", side->sd[q]);
    printf("\n");
    fflush(stdout);
}

int main(int n, char **word) {
    if (n == 8 && strcmp(word[1], "sbc") == 0) {
        sbc_size size = {
            .n_sets = atoi(word[5]), .n_particles = atoi(word[6]), .n_draws = atoi(word[7]), .foretells = 1};
        for (int k = atoi(word[3]); k < atoi(word[4]); k++) print_ranks(atoi(word[2]), k, size);
        return 0;
    }
    if (n == 7 && strcmp(word[1], "smc2") == 0) {
        int again = atoi(word[4]), states = atoi(word[6]);
        smc2_size size = {.n_theta = atoi(word[5]), .n_x = states, .most_x = states};
        for (int k = atoi(word[2]); k < atoi(word[3]); k++) {
            truth_side side = truth_by_smc2((uint64_t)k, (uint64_t)again, size);
            print_side(k, again, &side);
        }
        return 0;
    }
    if (n == 7 && strcmp(word[1], "belief") == 0) {
        int again = atoi(word[4]);
        sbc_size size = {.n_sets = atoi(word[5]), .n_particles = atoi(word[6])};
        for (int k = atoi(word[2]); k < atoi(word[3]); k++) {
            truth_side side = truth_by_belief((uint64_t)k, (uint64_t)again, size);
            print_side(k, again, &side);
        }
        return 0;
    }
    if (n == 2 && strcmp(word[1], "faults") == 0) {
        for (int i = 0; i < N_FAULTS; i++) printf("%d\t%s\n", i, fault_words[i]);
        return 0;
    }
    fprintf(stderr,
            "evaluate sbc FAULT FROM TO SETS PARTICLES DRAWS |\n"
            "         smc2 FROM TO AGAIN THETA STATES | belief FROM TO AGAIN SETS PARTICLES | faults\n");
    return 2;
}
