/* Answers every request of a file (lines "command<TAB>json"), each in one call and cut in 2 and 8 ranges, and prints
 * one hash of all answer bytes and of the arithmetic under them (kernel.c). A cut that changes an answer is an error.
 *   hash tests/hash/requests.tsv */
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "baitfall/answer.h"
#include "tests/hash/kernel.h"

#define OUT_MOST (4u << 20)

static uint64_t hash_bytes(uint64_t hash, const char *bytes, size_t n) {
    for (size_t i = 0; i < n; i++) hash = (hash ^ (unsigned char)bytes[i]) * 0x100000001b3u;
    return hash;
}

static void *block(size_t bytes) {
    void *memory = aligned_alloc(16, (bytes + 15) / 16 * 16 + 16);
    if (!memory) abort();
    return memory;
}

/* The answer by bf_begin, n_cuts times bf_range_rows (the last range first), bf_finish. */
static size_t answer_in_cuts(const char *command, const char *json, int n_cuts, char *out) {
    void *work = block(bf_state_bytes(command));
    int n_items = 0, n_columns = 0;
    size_t n_out = 0;
    bf_status begun = bf_begin(work, command, json, strlen(json), &n_items, &n_columns);
    double *rows = block(sizeof(double) * (size_t)n_items * (size_t)n_columns);
    void *scratch = block(bf_scratch_bytes(work));
    for (int c = n_cuts - 1; c >= 0 && !begun; c--) {
        int i = n_items * c / n_cuts, j = n_items * (c + 1) / n_cuts;
        if (bf_range_rows(work, scratch, i, j, rows + (size_t)i * (size_t)n_columns)) abort();
    }
    if (bf_finish(work, rows, out, OUT_MOST, &n_out) != begun) abort();
    free(scratch);
    free(rows);
    free(work);
    return n_out;
}

static uint64_t hash_request(uint64_t hash, const char *command, const char *json) {
    char *one = block(OUT_MOST), *cut = block(OUT_MOST);
    void *work = block(bf_work_bytes(command));
    size_t n_one = 0;
    bf_status status = bf_answer(work, command, json, strlen(json), one, OUT_MOST, &n_one);
    const int cuts[] = {1, 2, 8};
    for (int c = 0; c < 3; c++) {
        size_t n_cut = answer_in_cuts(command, json, cuts[c], cut);
        if (n_cut != n_one || memcmp(one, cut, n_one) != 0) {
            fprintf(stderr, "%s %s: %d ranges change the answer\n", command, json, cuts[c]);
            exit(1);
        }
    }
    hash = hash_bytes(hash, one, n_one);
    hash = hash_bytes(hash, &(char){(char)status}, 1);
    free(work);
    free(one);
    free(cut);
    return hash;
}

int main(int argc, char **argv) {
    FILE *file = argc == 2 ? fopen(argv[1], "r") : NULL;
    if (!file) {
        fprintf(stderr, "usage: hash REQUESTS.tsv\n");
        return 2;
    }
    char line[4096];
    uint64_t hash = bf_kernel_hash();
    int n = 0;
    while (fgets(line, sizeof line, file)) {
        line[strcspn(line, "\n")] = 0;
        char *tab = strchr(line, '\t');
        if (!tab) continue;
        *tab = 0;
        hash = hash_request(hash, line, tab + 1);
        n++;
    }
    fclose(file);
    if (n == 0) return 1;
    printf("%016" PRIx64 "\n", hash);
    return 0;
}
