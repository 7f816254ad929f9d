/* survival_data.h -- the data sets of survdata.csv and what the two survival tests share. Test code only.
 *
 * survdata.csv: aml, lung and ovarian of R's package survival (3.5-3), column by column; its answers are in km.csv,
 * km_median.csv, cox.csv (R 4.2.2) and cox_robust.csv (tests/record/cox_robust.R). */
#ifndef BAITFALL_TESTS_SURVIVAL_DATA_H
#define BAITFALL_TESTS_SURVIVAL_DATA_H

#include "common/check.h"
#include "common/csv.h"

#define SURVIVAL_MOST 300

typedef struct survival_data {
    size_t n;
    double time[SURVIVAL_MOST], x[SURVIVAL_MOST][3]; /* NaN where the table has NA */
    unsigned char event[SURVIVAL_MOST];
} survival_data;

/* NA and an empty cell are NaN. */
static inline double number_or_nan(const csv_file *csv, int i) {
    return strcmp(csv->cell[i], "NA") == 0 || !*csv->cell[i] ? (double)NAN : csv_number(csv, i);
}

static inline survival_data survival_read(const char *dataset) {
    survival_data data = {0};
    csv_file csv;
    csv_open(&csv, "statistics/survdata.csv");
    while (csv_next(&csv)) {
        if (strcmp(csv.cell[0], dataset) != 0) continue;
        assert_true(data.n < SURVIVAL_MOST);
        data.time[data.n] = csv_number(&csv, 1);
        data.event[data.n] = csv_number(&csv, 2) == 1;
        for (int k = 0; k < 3; k++) data.x[data.n][k] = number_or_nan(&csv, 3 + k);
        data.n++;
    }
    assert_true(data.n > 0);
    return data;
}

/* The full samples with BF_LONG in the environment. */
static inline size_t repeats(size_t usual, size_t full) {
    return getenv("BF_LONG") ? full : usual;
}

/* A share of n repeats that is 95 % in truth lies outside 94-96 % by chance in 4e-6 of runs of 10 000 repeats; with fewer the
 * bound is four standard errors (6e-5). Seeds are fixed, so a run that passed passes again. */
static inline void check_covers_95(const char *what, size_t n_in, size_t n) {
    double share = (double)n_in / (double)n, error = sqrt(0.95 * 0.05 / (double)n);
    double reach = 4 * error > 0.01 ? 4 * error : 0.01;
    print_message("           %s: %.2f %% of %zu\n", what, 100 * share, n);
    BF_CHECK_ABS(share, 0.95, reach);
}

#endif
