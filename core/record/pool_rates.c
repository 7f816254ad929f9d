/* pool_rates.c -- rates of groups, everything unknown averaged over by quadrature. */
#include <math.h>

#include "baitfall/elementary.h"
#include "baitfall/special.h"
#include "core/base/gamma_parts.h"
#include "core/record/estimate.h"
#include "core/record/pool_parts.h"

#define N_COARSE 65         /* scan of log shape over 8 sd of its prior either way */
#define N_SHAPES 28         /* trapezoid over the part that matters */
#define MEAN_STEP 0.9       /* in widths of the log mean's conditional distribution */
#define MOST_MEAN_STEPS 120 /* either way */
#define CUT 21              /* nodes below e^-CUT of the top are left out: 8e-10 */
#define MOST_NODES (N_SHAPES * (2 * MOST_MEAN_STEPS + 1))
#define LEAST_LOG_RATE (-700.0) /* nearly all groups may be at 0 */
#define LEAST_GRID 64
#define MOST_GRID 512

/* One guess at the unknown distribution of rates between groups. */
typedef struct node {
    double shape, rate, mean, weight;
} node;

typedef struct nodes {
    node *node;
    int n;
} nodes;

bf_pool_prior bf_pool_weak(double usual_rate) {
    return (bf_pool_prior){usual_rate, 0.975, 4, 0.975};
}

size_t bf_pool_bytes(int n_groups) {
    if (n_groups < 1 || n_groups > BF_POOL_MOST_GROUPS) return 0;
    return MOST_NODES * sizeof(node) + ((size_t)n_groups + 2) * MOST_GRID * sizeof(double);
}

static int is_in(double x, double least, double most) {
    return x >= least && x <= most;
}

static bf_status check_prior(bf_pool_prior p) {
    if (!bfi_is_finite(p.mean_mid) || !bfi_is_finite(p.mean_log_sd) || !bfi_is_finite(p.shape_mid) ||
        !bfi_is_finite(p.shape_log_sd))
        return BF_E_NOT_FINITE;
    return is_in(p.mean_mid, 1e-100, 1e100) && is_in(p.mean_log_sd, 0.01, 3) &&
                   is_in(p.shape_mid, 0.1, 1e4) && is_in(p.shape_log_sd, 0.01, 2)
               ? BF_OK
               : BF_E_RANGE;
}

/* ---- The nodes ---- */

/* What is pooled, and the prior in the form the quadrature wants. */
typedef struct problem {
    const bf_pool_group *groups;
    int n_groups;
    double log_mean, mean_precision, log_shape, shape_sd;
} problem;

/* log of posterior density, but for a constant, at a shape and a log mean. */
static double log_posterior(const problem *q, double log_shape, double shape_part, double log_mean) {
    double off_mean = log_mean - q->log_mean, off_shape = (log_shape - q->log_shape) / q->shape_sd;
    return shape_part + bfi_pool_mean_part(q->groups, q->n_groups, bf_exp(log_shape), bf_exp(log_mean)) -
           0.5 * (off_mean * off_mean * q->mean_precision + off_shape * off_shape);
}

static double best_log_mean(const problem *q, double log_shape, double *width) {
    return bfi_pool_best_log_mean(q->groups, q->n_groups, bf_exp(log_shape), q->log_mean, q->mean_precision,
                                  width);
}

/* log of the posterior density of log shape, the mean integrated out as if normal. */
static double log_marginal(const problem *q, double log_shape) {
    double width, log_mean = best_log_mean(q, log_shape, &width);
    double shape_part = bfi_pool_shape_part(q->groups, q->n_groups, bf_exp(log_shape));
    return log_posterior(q, log_shape, shape_part, log_mean) + bf_log(width);
}

/* The range of log shape that matters. */
static void shape_range(const problem *q, double *least, double *most) {
    double step = 16 * q->shape_sd / (N_COARSE - 1), first = q->log_shape - 8 * q->shape_sd, value[N_COARSE];
    double top = -INFINITY;
    for (int i = 0; i < N_COARSE; i++) {
        value[i] = log_marginal(q, first + i * step);
        if (value[i] > top) top = value[i];
    }
    int from = 0, to = N_COARSE - 1;
    while (value[from] < top - CUT) from++;
    while (value[to] < top - CUT) to--;
    *least = first + (from - 1) * step;
    *most = first + (to + 1) * step;
}

/* Nodes at one shape, from the best mean outwards one way; weight holds the logarithm yet. */
static void add_means(const problem *q, double log_shape, double shape_part, double best, double step, int i,
                      double top, nodes *to) {
    for (; i <= MOST_MEAN_STEPS && i >= -MOST_MEAN_STEPS; i += step > 0 ? 1 : -1) {
        double log_mean = best + fabs(step) * i, here = log_posterior(q, log_shape, shape_part, log_mean);
        if (here < top - CUT) return;
        double shape = bf_exp(log_shape), mean = bf_exp(log_mean);
        to->node[to->n++] = (node){shape, shape / mean, mean, here + bf_log(fabs(step))};
    }
}

/* The step in log mean: below the width of its conditional distribution, so that its own average is right, and
 * below the width of a group's rate at the node, 1 / sqrt(shape) or more, so that a distribution function averaged
 * over nodes has no stairs. Above a shape of 400 only the first matters: there is much data, or the prior gives
 * little weight. */
static double mean_step(double shape, double width) {
    double step = MEAN_STEP * width, finest = 6.6 * width / MOST_MEAN_STEPS;
    double of_group = 1 / sqrt(shape < 400 ? shape : 400);
    if (of_group < step) step = of_group;
    return step > finest ? step : finest;
}

/* Lays the nodes and turns their weights into shares of 1. */
static void lay_nodes(const problem *q, nodes *to) {
    double least, most;
    shape_range(q, &least, &most);
    for (int i = 0; i < N_SHAPES; i++) {
        double log_shape = least + (most - least) * i / (N_SHAPES - 1), width;
        double best = best_log_mean(q, log_shape, &width), step = mean_step(bf_exp(log_shape), width);
        double shape_part = bfi_pool_shape_part(q->groups, q->n_groups, bf_exp(log_shape));
        double top = log_posterior(q, log_shape, shape_part, best);
        add_means(q, log_shape, shape_part, best, step, 0, top, to);
        add_means(q, log_shape, shape_part, best, -step, -1, top, to);
    }
    double top = -INFINITY, sum = 0;
    int n = 0;
    for (int k = 0; k < to->n; k++)
        if (to->node[k].weight > top) top = to->node[k].weight;
    for (int k = 0; k < to->n; k++) {
        if (to->node[k].weight < top - CUT) continue;
        to->node[n] = to->node[k];
        sum += to->node[n].weight = bf_exp(to->node[k].weight - top);
        n++;
    }
    to->n = n;
    for (int k = 0; k < n; k++) to->node[k].weight /= sum;
}

/* ---- A group's rate: the average over nodes of gammas ---- */

static bf_gamma rate_at(node k, bf_pool_group g) {
    return (bf_gamma){k.shape + g.n, k.rate + g.exposure};
}

/* *slope: how it rises with log x. */
static double chance_below(nodes all, bf_pool_group g, double x, double *slope) {
    double sum = 0;
    *slope = 0;
    for (int k = 0; k < all.n; k++) {
        bf_gamma r = rate_at(all.node[k], g);
        double rise;
        sum += all.node[k].weight * bfi_gamma_p_slope(r.shape, r.rate * x, &rise);
        *slope += all.node[k].weight * rise;
    }
    return sum;
}

static void moments(nodes all, bf_pool_group g, bf_estimate *out) {
    double mean = 0, variance = 0;
    for (int k = 0; k < all.n; k++) {
        bf_gamma r = rate_at(all.node[k], g);
        mean += all.node[k].weight * r.shape / r.rate;
    }
    for (int k = 0; k < all.n; k++) {
        bf_gamma r = rate_at(all.node[k], g);
        double off = r.shape / r.rate - mean;
        variance += all.node[k].weight * (off * off + r.shape / r.rate / r.rate);
    }
    out->mean = mean;
    out->sd = sqrt(variance);
}

/* The gamma of the same mean and sd: near the average of gammas. */
static double near_quantile(const bf_estimate *e, double p) {
    double shape = (e->mean / e->sd) * (e->mean / e->sd);
    return bf_gamma_quantile(shape, p) * e->mean / shape;
}

#define LAST_STEP 1e-7 /* Newton's error after it is about its square times sqrt(shape) */

/* Solves chance_below = p in log x: Newton's steps from a near guess, halving when they leave the bracket. */
static double quantile(nodes all, bf_pool_group g, const bf_estimate *e, double p) {
    double lo = LEAST_LOG_RATE, hi = 700, u = bf_log(near_quantile(e, p)), step = INFINITY;
    if (!(u > lo)) u = bf_log(e->mean);
    for (int i = 0; i < 100 && fabs(step) >= LAST_STEP; i++) {
        double slope, last_u = u, off = chance_below(all, g, bf_exp(u), &slope) - p;
        if (off > 0)
            hi = u;
        else
            lo = u;
        u -= off / slope;
        if (!(u > lo && u < hi)) u = lo + (hi - lo) / 2;
        step = u - last_u;
    }
    return u < LEAST_LOG_RATE + 1 ? bf_exp(LEAST_LOG_RATE) : bf_exp(u);
}

static void estimate(nodes all, bf_pool_group g, double level, bf_estimate *out) {
    moments(all, g, out);
    out->mid = quantile(all, g, out, 0.5);
    out->lo = quantile(all, g, out, (1 - level) / 2);
    out->hi = quantile(all, g, out, (1 + level) / 2);
}

/* ---- Which is best ---- */

/* A grid in log x where the best rate lies, and room for a column per group. */
typedef struct grid {
    double first, step;
    int n;
    double *x, *all_below,
        *slope; /* x itself; product of the chances below; per group, density over chance below */
} grid;

static grid lay_grid(const bf_pool_rate *rates, int n_groups, double *room) {
    double lo = 0, hi = 0, most_shape = 1;
    for (int i = 0; i < n_groups; i++) {
        const bf_estimate *e = &rates[i].rate;
        double from = near_quantile(e, 1e-7), to = near_quantile(e, 1 - 1e-9),
               shape = e->mean / e->sd * (e->mean / e->sd);
        if (from > lo) lo = from;
        if (to > hi) hi = to;
        if (shape > most_shape) most_shape = shape;
    }
    if (lo < 1e-9 * hi) lo = 1e-9 * hi; /* below it lies no best rate */
    grid g = {.first = bf_log(lo), .x = room, .all_below = room + MOST_GRID, .slope = room + 2 * MOST_GRID};
    double range = bf_log(hi) - g.first,
           wanted = 4 * range * sqrt(most_shape); /* a quarter of the least sd */
    g.n = wanted < LEAST_GRID ? LEAST_GRID : wanted > MOST_GRID ? MOST_GRID : (int)wanted;
    g.step = range / (g.n - 1);
    for (int j = 0; j < g.n; j++) g.x[j] = bf_exp(g.first + j * g.step);
    return g;
}

/* One group's column at one node: multiplies its chance below into all_below. The chance is summed by the trapezoid
 * rule with end correction from the density's slope. */
static void add_group(const grid *g, bf_gamma r, double *slope) {
    double log_front = r.shape * bf_log(r.rate) - bf_log_gamma(r.shape),
           below = bf_gamma_p(r.shape, r.rate * g->x[0]);
    double density = 0, turn = 0;
    for (int j = 0; j < g->n; j++) {
        double rate_x = r.rate * g->x[j], last_density = density, last_turn = turn;
        density = bf_exp(r.shape * (g->first + j * g->step) - rate_x + log_front);
        turn = density * (r.shape - rate_x);
        if (j > 0)
            below += g->step / 2 * (last_density + density) + g->step * g->step / 12 * (last_turn - turn);
        g->all_below[j] *= below;
        slope[j] = below > 0 ? density / below : 0;
    }
}

static void choose_best(nodes all, const bf_pool_group *groups, int n_groups, double *room,
                        bf_pool_rate *rates) {
    grid g = lay_grid(rates, n_groups, room);
    for (int k = 0; k < all.n; k++) {
        for (int j = 0; j < g.n; j++) g.all_below[j] = 1;
        for (int i = 0; i < n_groups; i++)
            add_group(&g, rate_at(all.node[k], groups[i]), g.slope + (size_t)i * MOST_GRID);
        for (int i = 0; i < n_groups; i++) {
            double sum = 0;
            for (int j = 0; j < g.n; j++) sum += g.slope[(size_t)i * MOST_GRID + (size_t)j] * g.all_below[j];
            rates[i].p_best += all.node[k].weight * g.step * sum;
        }
    }
    double sum = 0; /* 1 but for the ends of the grid */
    for (int i = 0; i < n_groups; i++) sum += rates[i].p_best;
    for (int i = 0; i < n_groups; i++) rates[i].p_best /= sum;
}

/* ---- All of it ---- */

static bf_status check(const bf_pool_group *groups, int n_groups, bf_pool_prior prior, double level) {
    bf_status status = bfi_pool_check(groups, n_groups);
    if (status) return status;
    status = check_prior(prior);
    return status ? status : bfi_check_level(level);
}

static void describe(nodes all, double level, bf_pool *pool) {
    estimate(all, (bf_pool_group){0, 0, 0}, level, &pool->another);
    pool->mean = pool->spread = 0;
    for (int k = 0; k < all.n; k++) {
        pool->mean += all.node[k].weight * all.node[k].mean;
        pool->spread += all.node[k].weight / sqrt(all.node[k].shape);
    }
}

bf_status bf_pool_rates(const bf_pool_group *groups, int n_groups, bf_pool_prior prior, double level,
                        void *work, bf_pool_rate *rates, bf_pool *pool) {
    if (pool) *pool = (bf_pool){BFI_NO_ESTIMATE, NAN, NAN};
    bf_status status = check(groups, n_groups, prior, level);
    if (n_groups < 1 || n_groups > BF_POOL_MOST_GROUPS) return status;
    for (int i = 0; i < n_groups; i++) rates[i] = (bf_pool_rate){BFI_NO_ESTIMATE, NAN, NAN};
    if (status) return status;

    problem q = {groups,
                 n_groups,
                 bf_log(prior.mean_mid),
                 1 / (prior.mean_log_sd * prior.mean_log_sd),
                 bf_log(prior.shape_mid),
                 prior.shape_log_sd};
    nodes all = {work, 0};
    lay_nodes(&q, &all);
    for (int i = 0; i < n_groups; i++) {
        estimate(all, groups[i], level, &rates[i].rate);
        rates[i].p_best = 0;
        if (groups[i].exposure > 0) rates[i].raw = groups[i].n / groups[i].exposure;
    }
    choose_best(all, groups, n_groups, (double *)((node *)work + MOST_NODES), rates);
    if (pool) describe(all, level, pool);
    return BF_OK;
}

static int is_before(const bf_pool_rate *a, const bf_pool_rate *b) {
    return a->p_best > b->p_best || (a->p_best == b->p_best && a->rate.mean > b->rate.mean);
}

void bf_pool_order(const bf_pool_rate *rates, int n_groups, int *order) {
    for (int i = 0; i < n_groups; i++) {
        int at = i;
        for (; at > 0 && is_before(&rates[i], &rates[order[at - 1]]); at--) order[at] = order[at - 1];
        order[at] = i;
    }
}
