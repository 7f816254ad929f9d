/* r_live_beside.c -- reads data sets with R's answers (tests/record/r_live.R) from stdin and works out our own beside each.
 *
 * Exit status 0 when all 50 sets were compared and every number agrees: curves within 1e-12, fits within 1e-8, counts and
 * times exactly; log likelihoods within 1e-8, tests within 1e-8 of 1 or of themselves. R's NA answers our NaN and our "not
 * reached". */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "baitfall/hazard.h"
#include "baitfall/waits.h"

enum { N_SETS = 50, MOST_ROWS = 1000, MOST_CELLS = 16 };

static double time_s[MOST_ROWS], x[MOST_ROWS * BF_HAZARD_MOST], work[200000];
static unsigned char event[MOST_ROWS];
static uint32_t cluster[MOST_ROWS];
static bf_wait_step step[MOST_ROWS];

static char *cell[MOST_CELLS];
static size_t n_line, n_compared, n_wrong;

static double number(int i) {
    return strcmp(cell[i], "NA") == 0 || strcmp(cell[i], "NaN") == 0 ? (double)NAN : strtod(cell[i], NULL);
}

static void compare(const char *what, double ours, int i, double tolerance) {
    double r = number(i);
    int same = isnan(r) ? !isfinite(ours)
                        : fabs(ours - r) <= tolerance * (fabs(r) > 1 && tolerance > 0 ? fabs(r) : 1);
    n_compared++;
    if (same) return;
    n_wrong++;
    if (n_wrong < 20) printf("line %zu: %s: ours %.17g, R %s\n", n_line, what, ours, cell[i]);
}

static void give_up(const char *why) {
    printf("line %zu: %s\n", n_line, why);
    exit(1);
}

/* Cuts the line into cells; 0 at the end of the input. */
static int next_line(void) {
    static char line[1000];
    if (!fgets(line, sizeof line, stdin)) return 0;
    n_line++;
    int n = 0;
    for (char *at = strtok(line, ",\n"); at && n < MOST_CELLS; at = strtok(NULL, ",\n")) cell[n++] = at;
    while (n < MOST_CELLS) cell[n++] = "";
    return 1;
}

static void read_set(size_t n, size_t p) {
    if (n > MOST_ROWS || p > BF_HAZARD_MOST || bf_hazard_bytes(n, p) > sizeof work) give_up("set too large");
    for (size_t i = 0; i < n; i++) {
        if (!next_line() || strcmp(cell[0], "row") != 0) give_up("a row was expected");
        time_s[i] = number(1);
        event[i] = number(2) == 1;
        cluster[i] = (uint32_t)number(3);
        for (size_t k = 0; k < p; k++) x[i * p + k] = number(4 + (int)k);
    }
}

static void compare_step(const bf_wait_step *ours) {
    compare("time", ours->time_s, 2, 0);
    compare("at risk", ours->n_risk, 3, 0);
    compare("ended", ours->n_event, 4, 0);
    compare("cut short", ours->n_censor, 5, 0);
    compare("survival", ours->survival, 6, 1e-12);
    compare("std err", ours->std_err, 7, 1e-12);
    compare("lower", ours->lower, 8, 1e-12);
    compare("upper", ours->upper, 9, 1e-12);
}

static void compare_fit(const bf_hazard *ours, int k) {
    compare("coef", ours->coef[k], 3, 1e-8);
    compare("se", sqrt(ours->model[k][k]), 4, 1e-8);
    compare("robust se", sqrt(ours->robust[k][k]), 5, 1e-8);
    compare("loglik of 0", ours->loglik0, 6, 1e-8);
    compare("loglik", ours->loglik, 7, 1e-8);
    compare("score test", ours->score_test, 8, 1e-8);
    compare("wald test", ours->wald_test, 9, 1e-8);
}

static bf_band band_of(const char *name) {
    return strcmp(name, "log") == 0     ? BF_BAND_LOG
           : strcmp(name, "plain") == 0 ? BF_BAND_PLAIN
                                        : BF_BAND_LOG_LOG;
}

int main(void) {
    size_t n = 0, p = 0, n_sets = 0, n_steps = 0, i_step = 0;
    char band[20] = "", ties[20] = "";
    bf_hazard fit;
    while (next_line()) {
        if (strcmp(cell[0], "set") == 0) {
            n = (size_t)number(1);
            p = (size_t)number(2);
            read_set(n, p);
            band[0] = ties[0] = 0;
            n_sets++;
        } else if (strcmp(cell[0], "km") == 0) {
            if (strcmp(cell[1], band) != 0) {
                snprintf(band, sizeof band, "%s", cell[1]);
                if (bf_waits_curve(time_s, event, n, band_of(band), 0.95, work, step, &n_steps))
                    give_up("curve refused");
                i_step = 0;
            }
            if (i_step == n_steps) give_up("R has more steps");
            compare_step(&step[i_step++]);
        } else if (strcmp(cell[0], "quantile") == 0) {
            if (i_step != n_steps) give_up("R has fewer steps");
            bf_banded ours = bf_waits_quantile(step, n_steps, number(2));
            compare("quantile", ours.value, 3, 0);
            compare("its lower end", ours.lower, 4, 0);
            compare("its upper end", ours.upper, 5, 0);
        } else if (strcmp(cell[0], "cox") == 0) {
            if (strcmp(cell[1], ties) != 0) {
                snprintf(ties, sizeof ties, "%s", cell[1]);
                bf_ties way = strcmp(ties, "efron") == 0 ? BF_EFRON : BF_BRESLOW;
                if (bf_hazard_fit(time_s, event, x, cluster, n, p, way, work, &fit)) give_up("fit refused");
            }
            compare_fit(&fit, (int)number(2) - 1);
        }
    }
    printf("%zu data sets, %zu numbers compared with R, %zu differ\n", n_sets, n_compared, n_wrong);
    return n_wrong > 0 || n_sets != N_SETS || n_compared < 100 * N_SETS;
}
