/* Prints one hash of the arithmetic and of the answers to every request of a file (lines "command<TAB>json"; kernel.h).
 *   hash tests/hash/requests.tsv */
#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include "tests/hash/kernel.h"

int main(int argc, char **argv) {
    FILE *file = argc == 2 ? fopen(argv[1], "r") : NULL;
    if (!file) {
        fprintf(stderr, "usage: hash REQUESTS.tsv\n");
        return 2;
    }
    char line[4096];
    uint64_t hash = bf_kernel_hash(BF_HASH_START);
    int n = 0;
    for (; fgets(line, sizeof line, file); n++) {
        line[strcspn(line, "\n")] = 0;
        char *tab = strchr(line, '\t');
        if (!tab) break;
        *tab = 0;
        hash = bf_request_hash(hash, line, tab + 1, strlen(tab + 1));
        if (hash == 0) {
            fprintf(stderr, "%s %s: the answer depends on how it was cut\n", line, tab + 1);
            return 1;
        }
    }
    fclose(file);
    if (n == 0) return 1;
    printf("%016" PRIx64 "\n", hash);
    return 0;
}
