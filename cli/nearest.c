/* nearest.c -- which known word was probably meant. */
#include <ctype.h>
#include <string.h>

#include "cli/cli.h"

#define LONGEST 32
#define LEAST_PART 4 /* letters: "corn" is part of "sweetcorn" */

/* The same letter, large or small. */
static int is_same(char a, char b) {
    return tolower((unsigned char)a) == tolower((unsigned char)b);
}

static size_t least(size_t a, size_t b) {
    return a < b ? a : b;
}

/* Insertions, deletions, changes and swaps of neighbours that turn a into b (optimal string alignment). */
static size_t edits_between(const char *a, size_t n_a, const char *b, size_t n_b) {
    size_t cost[LONGEST + 1][LONGEST + 1];
    for (size_t i = 0; i <= n_a; i++) cost[i][0] = i;
    for (size_t j = 0; j <= n_b; j++) cost[0][j] = j;
    for (size_t i = 1; i <= n_a; i++)
        for (size_t j = 1; j <= n_b; j++) {
            size_t change = cost[i - 1][j - 1] + !is_same(a[i - 1], b[j - 1]);
            cost[i][j] = least(change, least(cost[i - 1][j], cost[i][j - 1]) + 1);
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                cost[i][j] = least(cost[i][j], cost[i - 2][j - 2] + 1);
        }
    return cost[n_a][n_b];
}

void cli_consider(cli_nearest *best, const char *word, const char *candidate) {
    size_t n_word = strlen(word), n_candidate = strlen(candidate);
    if (n_word > LONGEST || n_candidate > LONGEST) return;
    size_t edits = edits_between(word, n_word, candidate, n_candidate);
    int is_part = n_word >= LEAST_PART && strstr(candidate, word) != NULL;
    int has_part = n_candidate >= LEAST_PART && strstr(word, candidate) != NULL;
    if (!is_part && !has_part && ((edits > 1 && edits * 3 > n_word) || edits >= n_word)) return;
    if (best->word && edits >= best->edits) return;
    best->word = candidate;
    best->edits = edits;
}
