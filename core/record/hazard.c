/* hazard.c -- Cox's proportional hazards by Newton's method, and its sandwich covariance.
 *
 * Inside, waits are in rising order and each covariate is z = (x - mean) / (largest - least): the answer does not change,
 * and every threshold below is free of units. */
#include "baitfall/hazard.h"

#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"
#include "baitfall/special.h"
#include "core/record/order.h"

#define P BF_HAZARD_MOST
#define N_PAIRS (P * (P + 1) / 2)

#define MOST_COVARIATE                                                                                       \
    1e100 /* squares and sums of such are still finite                                    */
#define MOST_STEPS 60
#define LONGEST_STEP 8.0 /* of one coefficient at once, z's range being 1                                 */
#define SEPARATED 30.0   /* e^30 = 1e13 times the hazard from one end of the data to the other            */
#define SMALL_STEP 1e-9  /* in standard errors: the top is found                                          */
#define CAN_FALL 1e-3    /* in standard errors: a shorter step changes the likelihood by rounding only    */
#define NO_INFORMATION                                                                                       \
    1e-9 /* of a covariate's variance left over by those before it                        */

/* The rows in order, and work space. */
typedef struct rows {
    size_t n, p;
    bf_ties ties;
    const bfi_ranked *wait;     /* n            */
    const unsigned char *ended; /* n, in order  */
    const double *z;            /* n x p        */
    double *risk;               /* n            */
    double *at_risk; /* n x (1 + p): the sums s0, s1 at each time, at the row where its waits begin */
} rows;

/* Sums of risk, risk z and risk z z' (row i of the lower triangle starts at i (i + 1)/2). */
typedef struct sums {
    double s0, s1[P], s2[N_PAIRS];
} sums;

/* The log likelihood with its gradient and minus its second derivative. */
typedef struct slope {
    double loglik, score[P], information[N_PAIRS];
} slope;

static size_t pair(size_t i, size_t j) {
    return i >= j ? i * (i + 1) / 2 + j : j * (j + 1) / 2 + i;
}

/* Small symmetric matrices ------------------------------------------------------------------------------- */

/* L with L L' = a, both lower triangles. Returns p; or the first row of which next to nothing is left. */
static size_t cholesky(const double *a, size_t p, double *l) {
    for (size_t i = 0; i < p; i++) {
        for (size_t j = 0; j <= i; j++) {
            double left = a[pair(i, j)];
            for (size_t k = 0; k < j; k++) left -= l[pair(i, k)] * l[pair(j, k)];
            if (i != j) {
                l[pair(i, j)] = left / l[pair(j, j)];
            } else if (left > NO_INFORMATION * a[pair(i, i)]) {
                l[pair(i, i)] = sqrt(left);
            } else {
                return i;
            }
        }
    }
    return p;
}

/* y = L^-1 b, so that y'y = b' a^-1 b. */
static void solve_lower(const double *l, size_t p, const double *b, double *y) {
    for (size_t i = 0; i < p; i++) {
        double left = b[i];
        for (size_t k = 0; k < i; k++) left -= l[pair(i, k)] * y[k];
        y[i] = left / l[pair(i, i)];
    }
}

/* x = L'^-1 y. */
static void solve_upper(const double *l, size_t p, const double *y, double *x) {
    for (size_t i = p; i-- > 0;) {
        double left = y[i];
        for (size_t k = i + 1; k < p; k++) left -= l[pair(k, i)] * x[k];
        x[i] = left / l[pair(i, i)];
    }
}

static double square(const double *y, size_t p) {
    double sum = 0;
    for (size_t i = 0; i < p; i++) sum += y[i] * y[i];
    return sum;
}

/* The likelihood ----------------------------------------------------------------------------------------- */

static void clear(sums *s, size_t p) {
    s->s0 = 0;
    for (size_t i = 0; i < p; i++) s->s1[i] = 0;
    for (size_t ij = 0; ij < p * (p + 1) / 2; ij++) s->s2[ij] = 0;
}

static void add_row(sums *s, double risk, const double *z, size_t p) {
    s->s0 += risk;
    for (size_t i = 0, ij = 0; i < p; i++) {
        double risk_z = risk * z[i];
        s->s1[i] += risk_z;
        for (size_t j = 0; j <= i; j++) s->s2[ij++] += risk_z * z[j];
    }
}

static void add_sums(sums *s, const sums *more, size_t p) {
    s->s0 += more->s0;
    for (size_t i = 0; i < p; i++) s->s1[i] += more->s1[i];
    for (size_t ij = 0; ij < p * (p + 1) / 2; ij++) s->s2[ij] += more->s2[ij];
}

/* What d waits that ended at once add, s over all at risk, e over the ended. The l-th is taken to have left the share
 * l/d of the ended behind it: with f = l/d and a = s0 - f e0 it adds
 *     -log a   to the likelihood,   -(s1 - f e1)/a   to the score,
 *     (s2 - f e2)/a - (s1 - f e1)(s1 - f e1)'/a^2   to the information,
 * of which only the five sums over l below depend on l. */
static void add_ended(slope *at, const sums *s, const sums *e, size_t d, bf_ties ties, size_t p) {
    double w = 0, wf = 0, ww = 0, wwf = 0, wwff = 0, product = 1;
    double share = ties == BF_EFRON ? 1 / (double)d : 0;
    for (size_t l = 0; l < d; l++) {
        double f = share * (double)l, part = 1 - f * (e->s0 / s->s0), inverse = 1 / (s->s0 * part);
        double inverse_f = inverse * f;
        w += inverse;
        wf += inverse_f;
        ww += inverse * inverse;
        wwf += inverse * inverse_f;
        wwff += inverse_f * inverse_f;
        /* part is at least 1/d, so the product of eight is far from 0. */
        product *= part;
        if (l % 8 == 7) {
            at->loglik -= bf_log(product);
            product = 1;
        }
    }
    if (d > 1) at->loglik -= bf_log(product);
    at->loglik -= (double)d * bf_log(s->s0);
    for (size_t i = 0, ij = 0; i < p; i++) {
        at->score[i] -= w * s->s1[i] - wf * e->s1[i];
        double by_s = ww * s->s1[i] - wwf * e->s1[i], by_e = wwff * e->s1[i] - wwf * s->s1[i];
        for (size_t j = 0; j <= i; j++, ij++)
            at->information[ij] += w * s->s2[ij] - wf * e->s2[ij] - (by_s * s->s1[j] + by_e * e->s1[j]);
    }
}

static double dot(const double *a, const double *b, size_t p) {
    double sum = 0;
    for (size_t i = 0; i < p; i++) sum += a[i] * b[i];
    return sum;
}

/* From the longest wait to the shortest: the sums over all waits at least so long grow row by row. */
static void evaluate(const rows *r, const double *coef, slope *at) {
    sums s = {0};
    memset(at, 0, sizeof *at);
    for (size_t to = r->n, from; to > 0; to = from) {
        sums ended;
        size_t d = 0;
        clear(&ended, r->p);
        for (from = to; from > 0 && r->wait[from - 1].x == r->wait[to - 1].x; from--) {
            const double *z = &r->z[(from - 1) * r->p];
            double log_risk = dot(coef, z, r->p), risk = bf_exp(log_risk);
            r->risk[from - 1] = risk;
            if (r->ended[from - 1]) {
                d++;
                add_row(&ended, risk, z, r->p);
                at->loglik += log_risk;
                for (size_t i = 0; i < r->p; i++) at->score[i] += z[i];
            } else {
                add_row(&s, risk, z, r->p);
            }
        }
        if (d == 0) continue;
        add_sums(&s, &ended, r->p);
        add_ended(at, &s, &ended, d, r->ties, r->p);
        double *kept = &r->at_risk[from * (1 + r->p)];
        kept[0] = s.s0;
        memcpy(kept + 1, s.s1, r->p * sizeof *kept);
    }
}

/* Newton ------------------------------------------------------------------------------------------------- */

/* The covariate whose coefficient has run away; p when none has. */
static size_t runaway(const double *coef, size_t p) {
    size_t worst = 0;
    for (size_t i = 1; i < p; i++)
        if (fabs(coef[i]) > fabs(coef[worst])) worst = i;
    return fabs(coef[worst]) > SEPARATED ? worst : p;
}

/* Takes the step from coef, shorter when it is very long or the likelihood falls. */
static bf_status take_step(const rows *r, const double *step, double step_se, double *coef, slope *at) {
    double longest = 0, length = 1, before = at->loglik, start[P];
    for (size_t i = 0; i < r->p; i++) longest = fabs(step[i]) > longest ? fabs(step[i]) : longest;
    if (longest > LONGEST_STEP) length = LONGEST_STEP / longest;

    memcpy(start, coef, r->p * sizeof *coef);
    for (int halvings = 0; halvings < 30; halvings++, length /= 2) {
        for (size_t i = 0; i < r->p; i++) coef[i] = start[i] + length * step[i];
        evaluate(r, coef, at);
        if (at->loglik >= before || step_se < CAN_FALL) return BF_OK;
    }
    return BF_E_NO_CONVERGE;
}

/* Climbs from coef = 0. At the end: coef, the slope there and the root of its information, and fit's tests. */
static bf_status climb(const rows *r, double *coef, slope *at, double *root, bf_hazard *fit) {
    size_t p = r->p;
    evaluate(r, coef, at);
    fit->loglik0 = at->loglik;
    for (;;) {
        size_t i_bad = cholesky(at->information, p, root);
        if (i_bad < p) {
            fit->i_bad = (uint32_t)i_bad;
            return fit->n_steps ? BF_E_MODEL_RANGE : BF_E_TWICE;
        }
        double half[P], step[P];
        solve_lower(root, p, at->score, half);
        solve_upper(root, p, half, step);
        double step_se = sqrt(square(half, p));
        if (fit->n_steps == 0) fit->score_test = square(half, p);
        if (step_se < SMALL_STEP) return BF_OK;
        if (fit->n_steps++ == MOST_STEPS) return BF_E_NO_CONVERGE;

        bf_status status = take_step(r, step, step_se, coef, at);
        if (status) return status;
        i_bad = runaway(coef, p);
        if (i_bad < p) {
            fit->i_bad = (uint32_t)i_bad;
            return BF_E_MODEL_RANGE;
        }
    }
}

/* The robust covariance ---------------------------------------------------------------------------------- */

/* With every z replaced by y = model z, a row's share of the score becomes what it moves the coefficients by. */

/* Sums over the event times so far, and what the ended waits of the present time get instead. h is a step of the
 * cumulative hazard, m the mean of y at risk, f the share of the ended left behind. */
typedef struct past {
    double h, hm[P], hmm[P]; /* sums of h, h m, h m^2                   */
    double fh, fhm[P];       /* of f h, f h m, at the present time      */
    double m[P];             /* average of m over those ended at it     */
} past;

static void turn(double model[P][P], const double *z, size_t p, double *y) {
    for (size_t i = 0; i < p; i++) y[i] = dot(model[i], z, p);
}

/* Takes `now` over a time at which d waits ended, e over them, s over all at risk. */
static void pass_time(double model[P][P], const rows *r, const double *s, const sums *e, size_t d,
                      past *now) {
    size_t p = r->p;
    double s1[P], e1[P];
    turn(model, s + 1, p, s1);
    turn(model, e->s1, p, e1);
    now->fh = 0;
    memset(now->fhm, 0, sizeof now->fhm);
    memset(now->m, 0, sizeof now->m);
    for (size_t l = 0; l < d; l++) {
        double f = r->ties == BF_EFRON ? (double)l / (double)d : 0, h = 1 / (s[0] - f * e->s0);
        now->h += h;
        now->fh += f * h;
        for (size_t i = 0; i < p; i++) {
            double m = (s1[i] - f * e1[i]) * h, hm = h * m;
            now->hm[i] += hm;
            now->hmm[i] += hm * m;
            now->fhm[i] += f * hm;
            now->m[i] += m / (double)d;
        }
    }
}

/* For each cluster, what it moves coefficient i by, and what the square of that is expected to be. */
static void add_moves(double model[P][P], const rows *r, const uint32_t *cluster, double *moved,
                      double *expected) {
    size_t p = r->p;
    past now = {0};
    for (size_t from = 0, to; from < r->n; from = to) {
        sums e;
        size_t d = 0;
        clear(&e, p);
        for (to = from; to < r->n && r->wait[to].x == r->wait[from].x; to++) {
            if (!r->ended[to]) continue;
            d++;
            e.s0 += r->risk[to];
            for (size_t i = 0; i < p; i++) e.s1[i] += r->risk[to] * r->z[to * p + i];
        }
        if (d) pass_time(model, r, &r->at_risk[from * (1 + p)], &e, d, &now);

        for (size_t k = from; k < to; k++) {
            size_t first = (cluster ? cluster[r->wait[k].row] : k) * p;
            double y[P], risk = r->risk[k];
            turn(model, &r->z[k * p], p, y);
            for (size_t i = 0; i < p; i++) {
                double move = -risk * (y[i] * now.h - now.hm[i]);
                if (r->ended[k]) move += y[i] - now.m[i] + risk * (y[i] * now.fh - now.fhm[i]);
                moved[first + i] += move;
                expected[first + i] += risk * (y[i] * (y[i] * now.h - 2 * now.hm[i]) + now.hmm[i]);
            }
        }
    }
}

/* The sandwich, and how many clusters carry each coefficient. moved and expected have places for n clusters. */
static void set_robust(const rows *r, const uint32_t *cluster, double *moved, double *expected,
                       bf_hazard *fit) {
    size_t p = r->p;
    memset(moved, 0, r->n * p * sizeof *moved);
    memset(expected, 0, r->n * p * sizeof *expected);
    add_moves(fit->model, r, cluster, moved, expected);

    double sum[P] = {0}, sum_of_squares[P] = {0};
    for (size_t c = 0; c < r->n; c++)
        for (size_t i = 0; i < p; i++) {
            double of_i = moved[c * p + i], share = expected[c * p + i];
            for (size_t j = 0; j <= i; j++) fit->robust[i][j] += of_i * moved[c * p + j];
            sum[i] += share;
            sum_of_squares[i] += share * share;
        }
    for (size_t i = 0; i < p; i++) {
        for (size_t j = 0; j < i; j++) fit->robust[j][i] = fit->robust[i][j];
        fit->carriers[i] = sum[i] * sum[i] / sum_of_squares[i];
    }
}

/* Fitting ------------------------------------------------------------------------------------------------ */

typedef struct scale {
    double mean, range;
} scale;

/* Ids are below n: a flag each says which occur. */
static uint32_t count_clusters(const uint32_t *cluster, size_t n, unsigned char *seen) {
    if (!cluster) return (uint32_t)n;
    memset(seen, 0, n);
    uint32_t count = 0;
    for (size_t i = 0; i < n; i++) {
        count += !seen[cluster[i]];
        seen[cluster[i]] = 1;
    }
    return count;
}

static bf_status check(const double *wait_s, const double *x, const uint32_t *cluster, size_t n, size_t p) {
    if (n == 0) return BF_E_MISSING;
    if (n > BF_WAITS_MOST || p == 0 || p > P) return BF_E_COUNT;
    for (size_t i = 0; i < n; i++) {
        if (!(fabs(wait_s[i]) < INFINITY)) return BF_E_NOT_FINITE;
        if (!(wait_s[i] > 0)) return BF_E_RANGE;
        if (cluster && cluster[i] >= n) return BF_E_RANGE;
    }
    for (size_t i = 0; i < n * p; i++) {
        if (!(fabs(x[i]) < INFINITY)) return BF_E_NOT_FINITE;
        if (!(fabs(x[i]) <= MOST_COVARIATE)) return BF_E_RANGE;
    }
    return BF_OK;
}

static void set_scales(const double *x, size_t n, size_t p, scale *unit) {
    double least[P], most[P], sum[P] = {0};
    memcpy(least, x, p * sizeof *x);
    memcpy(most, x, p * sizeof *x);
    for (size_t i = 0; i < n; i++)
        for (size_t k = 0; k < p; k++) {
            double value = x[i * p + k];
            least[k] = value < least[k] ? value : least[k];
            most[k] = value > most[k] ? value : most[k];
            sum[k] += value;
        }
    for (size_t k = 0; k < p; k++) unit[k] = (scale){sum[k] / (double)n, most[k] - least[k]};
}

/* Cuts the next count x size bytes from *work, keeping to 8. */
static void *cut(unsigned char **work, size_t count, size_t size) {
    void *piece = *work;
    *work += (count * size + 7) / 8 * 8;
    return piece;
}

size_t bf_hazard_bytes(size_t n, size_t p) {
    size_t doubles = n * p + n + n * (1 + p) + 2 * n * p;
    return (bfi_order_bytes(n) + 7) / 8 * 8 + doubles * sizeof(double) + (n + 7) / 8 * 8;
}

/* NaN for all that a failed fit does not know. */
static void set_unknown(bf_hazard *fit) {
    double *const single[] = {&fit->loglik0, &fit->loglik, &fit->score_test, &fit->wald_test,
                              &fit->ratio_test};
    for (size_t k = 0; k < sizeof single / sizeof single[0]; k++) *single[k] = NAN;
    for (size_t i = 0; i < fit->n_covariates; i++) {
        fit->coef[i] = fit->carriers[i] = NAN;
        for (size_t j = 0; j < fit->n_covariates; j++) fit->model[i][j] = fit->robust[i][j] = NAN;
    }
}

/* The inverse of root root'. */
static void inverse_of_root(const double *root, size_t p, double out[P][P]) {
    for (size_t j = 0; j < p; j++) {
        double unit[P] = {0}, half[P], column[P];
        unit[j] = 1;
        solve_lower(root, p, unit, half);
        solve_upper(root, p, half, column);
        for (size_t i = 0; i <= j; i++) out[i][j] = out[j][i] = column[i];
    }
}

static bf_status fit_rows(const rows *r, const uint32_t *cluster, double *of_clusters, const scale *unit,
                          bf_hazard *fit) {
    size_t p = r->p;
    double coef[P] = {0}, root[N_PAIRS] = {0};
    slope at;
    bf_status status = climb(r, coef, &at, root, fit);
    if (status) return status;

    fit->loglik = at.loglik;
    fit->ratio_test = 2 * (fit->loglik - fit->loglik0);
    for (size_t i = 0; i < p; i++)
        for (size_t j = 0; j < p; j++) fit->wald_test += coef[i] * at.information[pair(i, j)] * coef[j];
    inverse_of_root(root, p, fit->model);
    set_robust(r, cluster, of_clusters, of_clusters + r->n * p, fit);

    /* Back to the covariates' own units. */
    for (size_t i = 0; i < p; i++) {
        fit->coef[i] = coef[i] / unit[i].range;
        for (size_t j = 0; j < p; j++) {
            fit->model[i][j] = fit->model[i][j] / unit[i].range / unit[j].range;
            fit->robust[i][j] = fit->robust[i][j] / unit[i].range / unit[j].range;
        }
    }
    return BF_OK;
}

bf_status bf_hazard_fit(const double *wait_s, const unsigned char *is_event, const double *x,
                        const uint32_t *cluster, size_t n, size_t p, bf_ties ties, void *work,
                        bf_hazard *fit) {
    *fit = (bf_hazard){.n_covariates = (uint32_t)(p < P ? p : P)};
    bf_status status = check(wait_s, x, cluster, n, p);
    if (status) {
        set_unknown(fit);
        return status;
    }

    unsigned char *rest = work, *ended;
    rows r = {.n = n, .p = p, .ties = ties};
    r.wait = bfi_order(wait_s, n, cut(&rest, bfi_order_bytes(n), 1));
    double *z = cut(&rest, n * p, sizeof(double));
    r.risk = cut(&rest, n, sizeof(double));
    r.at_risk = cut(&rest, n * (1 + p), sizeof(double));
    double *of_clusters = cut(&rest, 2 * n * p, sizeof(double));
    ended = cut(&rest, n, 1);
    r.z = z;
    r.ended = ended;

    fit->n_waits = (uint32_t)n;
    fit->n_clusters = count_clusters(cluster, n, ended);
    for (size_t i = 0; i < n; i++) {
        ended[i] = is_event[r.wait[i].row] != 0;
        fit->n_events += ended[i];
    }
    scale unit[P];
    set_scales(x, n, p, unit);
    for (size_t i = 0; i < n; i++)
        for (size_t k = 0; k < p; k++)
            z[i * p + k] = (x[r.wait[i].row * p + k] - unit[k].mean) / unit[k].range;

    size_t i_constant = 0;
    while (i_constant < p && unit[i_constant].range > 0) i_constant++;
    if (fit->n_events == 0) {
        status = BF_E_MISSING;
    } else if (i_constant < p) {
        status = BF_E_TWICE;
        fit->i_bad = (uint32_t)i_constant;
    } else {
        status = fit_rows(&r, cluster, of_clusters, unit, fit);
    }
    if (status) set_unknown(fit);
    return status;
}

/* Reading a fit ------------------------------------------------------------------------------------------ */

/* The t with `level` of Student's t distribution of n degrees of freedom within -t to t: t^2/(n + t^2) has the beta
 * distribution of 1/2 and n/2. */
static double student_reach(double level, double n) {
    double share = bf_beta_quantile(0.5, n / 2, level);
    return sqrt(n * share / (1 - share));
}

bf_banded bf_hazard_factor(const bf_hazard *fit, size_t k, double units, double level,
                           bf_hazard_error error) {
    BF_ASSERT(k < fit->n_covariates && level > 0 && level < 1);
    double reach;
    if (error == BF_ERROR_MODEL) {
        reach = bf_normal_quantile((1 + level) / 2) * sqrt(fit->model[k][k]);
    } else {
        double g = fit->carriers[k];
        if (!(g >= 2)) return (bf_banded){NAN, NAN, NAN};
        reach = student_reach(level, g - 1) * sqrt(fit->robust[k][k] * g / (g - 1));
    }
    double log_factor = -units * fit->coef[k];
    reach *= fabs(units);
    return (bf_banded){bf_exp(log_factor), bf_exp(log_factor - reach), bf_exp(log_factor + reach)};
}
