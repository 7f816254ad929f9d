/* pool.c -- empirical Bayes pooling, and the season summed by a factor. Intervals: pool_rates.c. */
#include <math.h>

#include "baitfall/elementary.h"
#include "baitfall/special.h"
#include "core/record/estimate.h"
#include "core/record/pool_parts.h"

#define LEAST_SHAPE 1e-4
#define MOST_SHAPE 1e6 /* above it the groups differ by less than 0.1 %: all alike */
#define N_SCAN 70      /* a step of log shape of a third */

bf_status bfi_pool_check(const bf_pool_group *groups, int n_groups) {
    if (n_groups < 1 || n_groups > BF_POOL_MOST_GROUPS) return BF_E_RANGE;
    for (int i = 0; i < n_groups; i++) {
        bf_status status = bfi_check_count(groups[i].n, groups[i].exposure);
        if (status) return status;
        if (groups[i].n > 0 && groups[i].exposure == 0) return BF_E_DATA;
    }
    return BF_OK;
}

double bfi_pool_mean_part(const bf_pool_group *groups, int n_groups, double shape, double mean) {
    double sum = 0;
    for (int i = 0; i < n_groups; i++) {
        double ratio = groups[i].exposure * mean / shape, n = groups[i].n;
        sum -= (shape + n) * bf_log1p(ratio);
        if (n > 0) sum += n * bf_log(ratio);
    }
    return sum;
}

double bfi_pool_shape_part(const bf_pool_group *groups, int n_groups, double shape) {
    double sum = 0;
    for (int i = 0; i < n_groups; i++)
        if (groups[i].n > 0) sum += bf_log_gamma_step(shape, groups[i].n) - bf_log_gamma(groups[i].n + 1);
    return sum;
}

double bfi_pool_best_log_mean(const bf_pool_group *groups, int n_groups, double shape, double middle,
                              double precision, double *width) {
    double n = 0, exposure = 0;
    for (int i = 0; i < n_groups; i++) n += groups[i].n, exposure += groups[i].exposure;
    double log_mean = n > 0 ? bf_log(n / exposure) : middle;
    for (int step = 0; step < 100; step++) {
        double mean = bf_exp(log_mean), slope = precision * (middle - log_mean), curvature = precision;
        for (int i = 0; i < n_groups; i++) {
            double expected = mean * groups[i].exposure, share = shape / (shape + expected);
            slope += share * (groups[i].n - expected);
            curvature += share * expected * (shape + groups[i].n) / (shape + expected);
        }
        *width = 1 / sqrt(curvature);
        double move = slope / curvature;
        if (fabs(move) > 2) move = move > 0 ? 2 : -2; /* concave, but far from a parabola far away */
        log_mean += move;
        if (fabs(move) < 1e-13 * (1 + fabs(log_mean))) break;
    }
    return log_mean;
}

/* ---- Empirical Bayes ---- */

/* log likelihood at a shape with the mean that fits it best. */
static double profile(const bf_pool_group *groups, int n_groups, double shape) {
    double width, mean = bf_exp(bfi_pool_best_log_mean(groups, n_groups, shape, 0, 0, &width));
    return bfi_pool_mean_part(groups, n_groups, shape, mean) + bfi_pool_shape_part(groups, n_groups, shape);
}

/* Its slope in the shape. */
static double profile_slope(const bf_pool_group *groups, int n_groups, double shape) {
    double width, sum = 0, mean = bf_exp(bfi_pool_best_log_mean(groups, n_groups, shape, 0, 0, &width));
    for (int i = 0; i < n_groups; i++) {
        double ratio = groups[i].exposure * mean / shape;
        sum += (ratio - groups[i].n / shape) / (1 + ratio) - bf_log1p(ratio);
        if (groups[i].n > 0) sum += bf_digamma(shape + groups[i].n) - bf_digamma(shape);
    }
    return sum;
}

static double log_shape_at(int i) {
    double least = bf_log(LEAST_SHAPE), most = bf_log(MOST_SHAPE);
    return least + (most - least) * i / (N_SCAN - 1);
}

/* The best of the scanned shapes. */
static int scan(const bf_pool_group *groups, int n_groups) {
    int best = 0;
    double top = -INFINITY;
    for (int i = 0; i < N_SCAN; i++) {
        double here = profile(groups, n_groups, bf_exp(log_shape_at(i)));
        if (here > top) top = here, best = i;
    }
    return best;
}

/* Where the slope falls through 0 beside scanned shape i. */
static double solve(const bf_pool_group *groups, int n_groups, int i) {
    double lo = log_shape_at(i - 1), hi = log_shape_at(i + 1);
    while (hi - lo > 1e-15 * (1 + fabs(lo))) {
        double middle = lo + (hi - lo) / 2;
        if (middle == lo || middle == hi) break;
        if (profile_slope(groups, n_groups, bf_exp(middle)) > 0)
            lo = middle;
        else
            hi = middle;
    }
    return bf_exp(lo);
}

/* One rate for all: Poisson counts. */
static void fit_alike(const bf_pool_group *groups, int n_groups, double mean, bf_pool_fit *out) {
    *out = (bf_pool_fit){{INFINITY, INFINITY}, mean, 0, 1};
    for (int i = 0; i < n_groups; i++) {
        double expected = mean * groups[i].exposure;
        if (groups[i].n > 0)
            out->log_likelihood += groups[i].n * bf_log(expected) - bf_log_gamma(groups[i].n + 1);
        out->log_likelihood -= expected;
    }
}

bf_status bf_pool_fit_groups(const bf_pool_group *groups, int n_groups, bf_pool_fit *out) {
    *out = (bf_pool_fit){{NAN, NAN}, NAN, NAN, 0};
    bf_status status = bfi_pool_check(groups, n_groups);
    if (status) return status;
    int n_known = 0;
    double n = 0, exposure = 0;
    for (int i = 0; i < n_groups; i++) {
        n_known += groups[i].exposure > 0;
        n += groups[i].n;
        exposure += groups[i].exposure;
    }
    if (n_known < 2 || n == 0) return BF_E_DATA;

    int best = scan(groups, n_groups);
    if (best == 0) return BF_E_NO_CONVERGE;
    if (best == N_SCAN - 1) {
        fit_alike(groups, n_groups, n / exposure, out);
        return BF_OK;
    }
    double width, shape = solve(groups, n_groups, best);
    out->mean = bf_exp(bfi_pool_best_log_mean(groups, n_groups, shape, 0, 0, &width));
    out->between = (bf_gamma){shape, shape / out->mean};
    out->log_likelihood = profile(groups, n_groups, shape);
    return BF_OK;
}

/* ---- The season ---- */

static bf_status check_stretches(const bf_pool_stretch *stretches, int n_stretches, int factor,
                                 int n_levels) {
    if (n_stretches < 0 || factor < 0 || factor >= BF_POOL_MOST_FACTORS) return BF_E_RANGE;
    for (int i = 0; i < n_stretches; i++) {
        bf_status status = bfi_check_count(stretches[i].n, stretches[i].exposure);
        if (status) return status;
        int level = stretches[i].level[factor];
        if (level < -1 || level >= n_levels) return BF_E_RANGE;
        if (i > 0 && stretches[i].session < stretches[i - 1].session) return BF_E_RANGE;
        if (stretches[i].n > 0 && stretches[i].exposure == 0) return BF_E_DATA;
    }
    return BF_OK;
}

/* The next session's part of a level: its sum, from stretch *i on, which moves past it; 0 when there is none left. */
static int next_part(const bf_pool_stretch *stretches, int n_stretches, int factor, int level, int *i,
                     bf_pool_group *part) {
    *part = (bf_pool_group){0, 0, 0};
    int session = 0;
    for (; *i < n_stretches; ++*i) {
        const bf_pool_stretch *s = &stretches[*i];
        if (s->level[factor] != level || s->exposure == 0) continue;
        if (part->n_sessions && s->session != session) break;
        session = s->session;
        part->n_sessions = 1;
        part->n += s->n;
        part->exposure += s->exposure;
    }
    return part->n_sessions;
}

/* Sums a level, then adds to Pearson's chi-square of its sessions and to the degrees of freedom. */
static bf_pool_group sum_level(const bf_pool_stretch *stretches, int n_stretches, int factor, int level,
                               double *chi_square, int *df) {
    bf_pool_group sum = {0, 0, 0}, part;
    for (int i = 0; next_part(stretches, n_stretches, factor, level, &i, &part);) {
        sum.n += part.n;
        sum.exposure += part.exposure;
        sum.n_sessions++;
    }
    if (sum.n == 0) return sum;
    for (int i = 0; next_part(stretches, n_stretches, factor, level, &i, &part);) {
        double expected = sum.n / sum.exposure * part.exposure;
        *chi_square += (part.n - expected) * (part.n - expected) / expected;
    }
    *df += sum.n_sessions - 1;
    return sum;
}

bf_status bf_pool_gather(const bf_pool_stretch *stretches, int n_stretches, int factor, int n_levels,
                         bf_pool_group *groups, double *dispersion) {
    *dispersion = NAN;
    if (n_levels < 1 || n_levels > BF_POOL_MOST_GROUPS) return BF_E_RANGE;
    for (int level = 0; level < n_levels; level++) groups[level] = (bf_pool_group){0, 0, 0};
    bf_status status = check_stretches(stretches, n_stretches, factor, n_levels);
    if (status) return status;
    double chi_square = 0;
    int df = 0;
    for (int level = 0; level < n_levels; level++)
        groups[level] = sum_level(stretches, n_stretches, factor, level, &chi_square, &df);
    *dispersion = df > 0 && chi_square > df ? chi_square / df : 1;
    return BF_OK;
}

void bf_pool_widen(bf_pool_group *groups, int n_groups, double dispersion) {
    BF_ASSERT(dispersion >= 1 && dispersion < INFINITY);
    for (int i = 0; i < n_groups; i++) {
        groups[i].n /= dispersion;
        groups[i].exposure /= dispersion;
    }
}
