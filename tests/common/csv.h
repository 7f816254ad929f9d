/* csv.h -- reads the committed check tables: RFC 4180 quoting, one row at a time. Test code only. */
#ifndef BAITFALL_TESTS_CSV_H
#define BAITFALL_TESTS_CSV_H

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define CSV_MOST_CELLS 48

typedef struct csv_file {
    FILE *file;
    char line[4096];
    char *cell[CSV_MOST_CELLS];
    int n_cells;
} csv_file;

/* Opens tests/data/reference/<path>; the test stops when it is not there. */
static inline void csv_open(csv_file *csv, const char *path) {
    char full[512];
    snprintf(full, sizeof full, "%s/reference/%s", BF_TEST_DATA, path);
    csv->file = fopen(full, "r");
    if (!csv->file) {
        fprintf(stderr, "cannot open %s\n", full);
        abort();
    }
}

/* Next row into cell[0 .. n_cells); 0 at the end, when the file is also closed. */
static inline int csv_next(csv_file *csv) {
    if (!fgets(csv->line, sizeof csv->line, csv->file)) {
        fclose(csv->file);
        return 0;
    }
    csv->n_cells = 0;
    char *at = csv->line;
    while (csv->n_cells < CSV_MOST_CELLS) {
        char *to = at, *start = at;
        int quoted = *at == '"';
        if (quoted) at++;
        while (*at && (quoted || (*at != ',' && *at != '\n' && *at != '\r'))) {
            if (quoted && *at == '"') {
                if (at[1] != '"') {
                    quoted = 0;
                    at++;
                    continue;
                }
                at++;
            }
            *to++ = *at++;
        }
        char end = *at;
        *to = 0;
        csv->cell[csv->n_cells++] = start;
        if (end != ',') break;
        at++;
    }
    return 1;
}

static inline double csv_number(const csv_file *csv, int i) {
    return i < csv->n_cells ? strtod(csv->cell[i], NULL) : 0.0 / 0.0;
}

#endif
