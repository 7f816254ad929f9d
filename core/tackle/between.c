/* between.c -- see between.h. */
#include "core/tackle/between.h"

#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"

#define MOST BF_AIM_SOLVES

/* The process' variance is 1; the trend's prior, and what a point may be off by on its own. */
#define TREND_PRIOR 4.0
#define OWN_NOISE 1e-4

/* Bends: where each begins, and the steps it is tried in. */
#define BEND_START 0.1
#define BEND_STEP 3.0
#define BEND_LEAST 0.01
#define BEND_MOST 3.0

static double covariance(double r2) {
    double r = sqrt(5 * r2);
    return (1 + r + r * r / 3) * bf_exp(-r);
}

/* The points on their scales, and what is made of them. */
typedef struct points {
    int n, n_inputs;
    double x[MOST][BF_AIM_FIT_MOST];
    double y[MOST][2];
    double bend[BF_AIM_FIT_MOST];
    /* Of each pair: below the diagonal r^2, on it and above what the trend adds to its covariance. */
    double pair[MOST][MOST];
    double root[MOST][MOST]; /* Cholesky's, lower triangle */
} points;

/* Scales ---------------------------------------------------------------------------------------------------- */

static void scale_inputs(points *p, const double x[][BF_AIM_FIT_MOST], bf_between *between) {
    for (int k = 0; k < p->n_inputs; k++) {
        double mean = 0, square = 0;
        for (int i = 0; i < p->n; i++) mean += x[i][k] / p->n;
        for (int i = 0; i < p->n; i++) square += (x[i][k] - mean) * (x[i][k] - mean) / p->n;
        between->middle[k] = mean;
        /* What only differs by rounding is no input. */
        between->per_unit[k] = sqrt(square) > 1e-9 * fabs(mean) ? 1 / sqrt(square) : 0;
        for (int i = 0; i < p->n; i++) p->x[i][k] = (x[i][k] - mean) * between->per_unit[k];
        p->bend[k] = BEND_START;
    }
}

/* Both outputs on one scale, since one process makes both. Returns it. */
static double scale_outputs(points *p, const double y[][2], bf_between *between) {
    double square = 0;
    for (int c = 0; c < 2; c++) {
        between->level[c] = 0;
        for (int i = 0; i < p->n; i++) between->level[c] += y[i][c] / p->n;
        for (int i = 0; i < p->n; i++) {
            p->y[i][c] = y[i][c] - between->level[c];
            square += p->y[i][c] * p->y[i][c] / p->n;
        }
    }
    double scale = square > 0 ? sqrt(square) : 1;
    for (int i = 0; i < p->n; i++)
        for (int c = 0; c < 2; c++) p->y[i][c] /= scale;
    return scale;
}

static void measure_pairs(points *p) {
    for (int i = 0; i < p->n; i++)
        for (int j = 0; j <= i; j++) {
            double apart2 = 0, trend = 1;
            for (int k = 0; k < p->n_inputs; k++) {
                double d = p->bend[k] * (p->x[i][k] - p->x[j][k]);
                apart2 += d * d;
                trend += p->x[i][k] * p->x[j][k];
            }
            p->pair[i][j] = apart2;
            p->pair[j][i] = TREND_PRIOR * trend; /* on the diagonal it has the last word */
        }
}

/* Moves one bend. */
static void bend_to(points *p, int k, double bend) {
    double more = bend * bend - p->bend[k] * p->bend[k];
    p->bend[k] = bend;
    for (int i = 0; i < p->n; i++)
        for (int j = 0; j < i; j++) {
            double d = p->x[i][k] - p->x[j][k], apart2 = p->pair[i][j] + more * d * d;
            p->pair[i][j] = apart2 > 0 ? apart2 : 0;
        }
}

/* Linear algebra -------------------------------------------------------------------------------------------- */

/* Cholesky's root of all pairs' covariance, column by column. */
static void take_root(points *p) {
    for (int i = 0; i < p->n; i++)
        for (int j = 0; j <= i; j++)
            p->root[i][j] = p->pair[j][i] + (i == j ? 1 + OWN_NOISE : covariance(p->pair[i][j]));
    for (int k = 0; k < p->n; k++) {
        double column[MOST], diagonal = sqrt(p->root[k][k]);
        p->root[k][k] = diagonal;
        for (int i = k + 1; i < p->n; i++) column[i] = p->root[i][k] /= diagonal;
        for (int i = k + 1; i < p->n; i++)
            for (int j = k + 1; j <= i; j++) p->root[i][j] -= column[i] * column[j];
    }
}

/* b becomes the solution of root b' = b; then of its transpose. */
static void solve_down(const points *p, double b[MOST]) {
    for (int i = 0; i < p->n; i++) {
        for (int k = 0; k < i; k++) b[i] -= p->root[i][k] * b[k];
        b[i] /= p->root[i][i];
    }
}

static void solve_up(const points *p, double b[MOST]) {
    for (int i = p->n - 1; i >= 0; i--) {
        b[i] /= p->root[i][i];
        for (int k = 0; k < i; k++) b[k] -= p->root[i][k] * b[i];
    }
}

/* Minus twice the log likelihood, but for a constant; the process' variance at its best. */
static double unlikelihood(points *p) {
    double logs = 0, squares = 0, column[MOST];
    take_root(p);
    for (int i = 0; i < p->n; i++) logs += bf_log(p->root[i][i]);
    for (int c = 0; c < 2; c++) {
        for (int i = 0; i < p->n; i++) column[i] = p->y[i][c];
        solve_down(p, column);
        for (int i = 0; i < p->n; i++) squares += column[i] * column[i];
    }
    return 2 * (2 * logs + p->n * bf_log(squares > 0 ? squares : 1e-300));
}

/* Tries one bend in steps, up and then down, as long as that is more likely. */
static double try_bend(points *p, int k, double best) {
    for (int way = 0; way < 2; way++) {
        for (;;) {
            double was = p->bend[k], next = way == 0 ? was * BEND_STEP : was / BEND_STEP;
            if (next > BEND_MOST || next < BEND_LEAST) break;
            bend_to(p, k, next);
            double now = unlikelihood(p);
            if (!(now < best)) {
                bend_to(p, k, was);
                break;
            }
            best = now;
        }
    }
    return best;
}

static void choose_bends(points *p) {
    double best = unlikelihood(p);
    for (int k = 0; k < p->n_inputs; k++) best = try_bend(p, k, best);
    measure_pairs(p); /* without what many small steps have added up to */
    take_root(p);
}

/* The whole ------------------------------------------------------------------------------------------------- */

/* How far each point is missed by the others: its weight over its own place in the inverse. */
static void miss_each(const points *p, double weight[][2], double scale, double miss[][2]) {
    for (int i = 0; i < p->n; i++) {
        double unit[MOST] = {0}, own = 0;
        unit[i] = 1;
        solve_down(p, unit);
        for (int k = i; k < p->n; k++) own += unit[k] * unit[k];
        for (int c = 0; c < 2; c++) miss[i][c] = scale * weight[i][c] / own;
    }
}

/* Weights of the trend: its prior times what the points' weights put on it, back on the inputs' own scale. */
static void take_trend(const points *p, bf_between *between) {
    for (int c = 0; c < 2; c++) {
        for (int i = 0; i < p->n; i++) between->level[c] += TREND_PRIOR * between->weight[i][c];
        for (int k = 0; k < p->n_inputs; k++) {
            between->trend[k][c] = 0;
            for (int i = 0; i < p->n; i++)
                between->trend[k][c] += TREND_PRIOR * between->weight[i][c] * p->x[i][k] / p->bend[k];
        }
    }
}

void bfi_between_make(int n, int n_inputs, const double x[][BF_AIM_FIT_MOST], const double y[][2],
                      bf_between *between, double miss[][2]) {
    BF_ASSERT(n >= BFI_BETWEEN_LEAST && n <= MOST && n_inputs >= 0 && n_inputs <= BF_AIM_FIT_MOST);
    points p = {.n = n, .n_inputs = n_inputs};
    memset(between, 0, sizeof *between);
    between->n = n;
    between->n_inputs = n_inputs;
    scale_inputs(&p, x, between);
    double scale = scale_outputs(&p, y, between);
    measure_pairs(&p);
    choose_bends(&p);

    for (int c = 0; c < 2; c++) {
        double column[MOST];
        for (int i = 0; i < n; i++) column[i] = p.y[i][c];
        solve_down(&p, column);
        solve_up(&p, column);
        for (int i = 0; i < n; i++) between->weight[i][c] = column[i];
    }
    miss_each(&p, between->weight, scale, miss);
    for (int i = 0; i < n; i++)
        for (int c = 0; c < 2; c++) between->weight[i][c] *= scale;
    take_trend(&p, between);
    for (int k = 0; k < n_inputs; k++) {
        between->per_unit[k] *= p.bend[k];
        for (int i = 0; i < n; i++) between->at[i][k] = p.x[i][k] * p.bend[k];
    }
}

void bfi_between_at(const bf_between *between, const double *x, double y[2]) {
    double at[BF_AIM_FIT_MOST];
    y[0] = between->level[0];
    y[1] = between->level[1];
    for (int k = 0; k < between->n_inputs; k++) {
        at[k] = (x[k] - between->middle[k]) * between->per_unit[k];
        y[0] += between->trend[k][0] * at[k];
        y[1] += between->trend[k][1] * at[k];
    }
    for (int i = 0; i < between->n; i++) {
        double apart2 = 0;
        for (int k = 0; k < between->n_inputs; k++) {
            double d = at[k] - between->at[i][k];
            apart2 += d * d;
        }
        double near = covariance(apart2);
        y[0] += between->weight[i][0] * near;
        y[1] += between->weight[i][1] * near;
    }
}
