/* invented_main.c -- prints invented journals: invented_journal [--seed N] [--days K] [--from FIRST]. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "invented.h"

static void print_line(void *user, const char *line, size_t n) {
    (void)user;
    fwrite(line, 1, n, stdout);
    putchar('\n');
}

int main(int argc, char **argv) {
    unsigned long seed = 1, days = 1, from = 0;
    for (int i = 1; i + 1 < argc; i += 2) {
        unsigned long value = strtoul(argv[i + 1], NULL, 10);
        if (strcmp(argv[i], "--seed") == 0)
            seed = value;
        else if (strcmp(argv[i], "--days") == 0)
            days = value;
        else if (strcmp(argv[i], "--from") == 0)
            from = value;
        else
            return fprintf(stderr, "invented_journal: [--seed N] [--days K] [--from FIRST]\n"), 2;
    }
    for (unsigned long k = 0; k < days; k++) {
        invented_day day = invented_start(seed, (int)(from + k));
        invented_write(&day, print_line, NULL, NULL);
    }
    return fflush(stdout) ? 1 : 0;
}
