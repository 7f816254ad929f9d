/* learn.c -- see baitfall/learn.h.
 *
 * In matrices: a session tells of its parameters with precision K and K m = k. With the day's variances D between them and theta,
 * it tells of theta with (K^-1 + D)^-1 = K - K (D^-1 + K)^-1 K, and k - K (D^-1 + K)^-1 k.
 */
#include "baitfall/learn.h"

#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"
#include "baitfall/quantity.h"
#include "core/swim/axes.h"

#define D BF_SWIM_N_PARAMETERS

/* How much too small a posterior's variances are: over 60 made-up hours whose parameters were drawn from the book, squared errors
 * in units of the posterior's sd came to 1.14, of the 20 with fifteen bites and more to 1.24 (16 sets x 640). */
#define TOO_SURE 1.2
#define LEAST_LEFT 1e-6 /* of a prior's variance; no session leaves less, rounding does */

/* Share of a parameter's variance that is new each day. */
static double day_share(int parameter) {
    switch (bf_swim_parameters[parameter].level) {
    case 'A': return 0.1;
    case 'D': return 0.8;
    default: return 0.25;
    }
}

bf_swim_summary bf_swim_summary_of(const bf_belief_job *job, const bf_bed *bed, int venue) {
    bf_swim_summary summary = {.version = BF_SWIM_VERSION,
                               .venue = venue,
                               .story = bf_story_hash(job->scene, job->event, job->n_events),
                               .prior = job->prior,
                               .n_effective_sets = bed->n_effective_sets < bed->n_parameter_draws
                                                       ? bed->n_effective_sets
                                                       : bed->n_parameter_draws};
    memcpy(summary.mean, bed->posterior.mean, sizeof summary.mean);
    memcpy(summary.covariance, bed->covariance, sizeof summary.covariance);
    return summary;
}

/* ---- What one session tells ---- */

/* The variance of n draws, over what it should be, that chance undercuts in 1 of 100: chi-square's quantile by Wilson and Hilferty's cube. */
static double by_chance(double n_draws) {
    double spread = 2 / (9 * n_draws), root = 1 - spread - 2.326 * sqrt(spread);
    return root > 0 ? root * root * root : 0;
}

typedef struct told {
    int n, of[D];                    /* of which parameters */
    double precision[D][D], pull[D]; /* K and k, rows and columns 0 .. n - 1 */
} told;

/* The session's likelihood of its parameters, by the axes of its posterior in units of the prior's sd. */
static void take_axes(const bf_swim_summary *s, told *t) {
    double r[D], axis[D][D], within[D][D], fair = 1 - (t->n + 1) / s->n_effective_sets;
    for (int i = 0; i < t->n; i++)
        for (int j = 0; j < t->n; j++)
            within[i][j] =
                s->covariance[t->of[i]][t->of[j]] / (s->prior.sd[t->of[i]] * s->prior.sd[t->of[j]]);
    bfi_axes_of(t->n, within, r, axis);
    for (int a = 0; a < t->n; a++) {
        double left = TOO_SURE * (r[a] > LEAST_LEFT ? r[a] : LEAST_LEFT),
               more = fair > left ? fair / left - 1 : 0, at = 0;
        if (!(more > 0)) continue;
        /* where the likelihood has its middle on this axis: posterior = prior x likelihood */
        for (int i = 0; i < t->n; i++)
            at += axis[i][a] * (s->mean[t->of[i]] - s->prior.mean[t->of[i]]) / s->prior.sd[t->of[i]];
        at /= 1 - r[a];
        for (int i = 0; i < t->n; i++) {
            double zero = 0; /* the prior's mean on the axis' way, in logarithms */
            for (int j = 0; j < t->n; j++) {
                t->precision[i][j] +=
                    more * axis[i][a] * axis[j][a] / (s->prior.sd[t->of[i]] * s->prior.sd[t->of[j]]);
                zero += axis[j][a] * s->prior.mean[t->of[j]] / s->prior.sd[t->of[j]];
            }
            t->pull[i] += more * axis[i][a] / s->prior.sd[t->of[i]] * (at + zero);
        }
    }
}

/* From the session's parameters to what is usual: the day lies between. */
static void look_past_the_day(const bf_swim_prior *book, told *t) {
    double with_day[D][D], root[D][D], solved[D];
    for (int i = 0; i < t->n; i++) {
        memcpy(with_day[i], t->precision[i], sizeof with_day[i]);
        with_day[i][i] += 1 / (day_share(t->of[i]) * book->sd[t->of[i]] * book->sd[t->of[i]]);
    }
    bfi_root_of(t->n, with_day, root);
    told past = *t;
    for (int j = 0; j <= t->n; j++) { /* column j of K; at the end k */
        for (int i = 0; i < t->n; i++) solved[i] = j < t->n ? t->precision[i][j] : t->pull[i];
        bfi_solve_root(t->n, root, solved);
        for (int i = 0; i < t->n; i++) {
            double taken = 0;
            for (int k = 0; k < t->n; k++) taken += t->precision[i][k] * solved[k];
            if (j < t->n)
                past.precision[i][j] -= taken;
            else
                past.pull[i] -= taken;
        }
    }
    *t = past;
}

/* Only parameters that are narrower than chance makes them: the log cannot see every one of them. */
static told told_by(const bf_swim_summary *s, const bf_swim_prior *book, int is_same_venue) {
    told t;
    memset(&t, 0, sizeof t);
    for (int i = 0; i < D; i++) {
        double left = TOO_SURE * s->covariance[i][i] / (s->prior.sd[i] * s->prior.sd[i]);
        if (!(left < by_chance(s->n_effective_sets))) continue;
        if (is_same_venue || bf_swim_parameters[i].level == 'A') t.of[t.n++] = i;
    }
    take_axes(s, &t);
    look_past_the_day(book, &t);
    return t;
}

/* ---- All sessions ---- */

static int is_usable(const bf_swim_summary *summary, int n, int i) {
    const bf_swim_summary *s = &summary[i];
    if (s->version != BF_SWIM_VERSION || !(s->n_effective_sets >= 1)) return 0;
    for (int later = i + 1; later < n; later++)
        if (summary[later].story == s->story && summary[later].version == s->version) return 0;
    for (int a = 0; a < D; a++) {
        if (!(s->prior.sd[a] > 0) || !(s->prior.sd[a] < BF_INFINITY) ||
            !(fabs(s->prior.mean[a]) < BF_INFINITY) || !(fabs(s->mean[a]) < BF_INFINITY))
            return 0;
        for (int b = 0; b < D; b++)
            if (!(fabs(s->covariance[a][b]) < BF_INFINITY)) return 0;
    }
    return 1;
}

bf_swim_learned bf_swim_learn(const bf_swim_summary *summary, int n, int venue) {
    bf_swim_prior book = bf_swim_book();
    bf_swim_learned learned = {.prior = book};
    double precision[D][D] = {{0}}, pull[D], root[D][D];
    for (int i = 0; i < D; i++) {
        precision[i][i] = 1 / ((1 - day_share(i)) * book.sd[i] * book.sd[i]);
        pull[i] = precision[i][i] * book.mean[i];
    }
    for (int s = 0; s < n; s++) {
        if (!is_usable(summary, n, s)) continue;
        int is_same = venue >= 0 && summary[s].venue == venue;
        told t = told_by(&summary[s], &book, is_same);
        learned.n_venue += is_same;
        learned.n_other += !is_same;
        for (int i = 0; i < t.n; i++) {
            learned.lesson[t.of[i]].n_sessions++;
            pull[t.of[i]] += t.pull[i];
            for (int j = 0; j < t.n; j++) precision[t.of[i]][t.of[j]] += t.precision[i][j];
        }
    }
    learned.prior.n_sessions = learned.n_venue + learned.n_other;
    bfi_root_of(D, precision, root);
    bfi_solve_root(D, root, pull); /* now the mean */
    for (int i = 0; i < D; i++) {
        double unit[D] = {0};
        unit[i] = 1;
        bfi_solve_root(D, root, unit);
        double usual = unit[i], day = day_share(i) * book.sd[i] * book.sd[i];
        learned.prior.mean[i] = pull[i];
        learned.prior.sd[i] = sqrt(usual + day);
        bf_swim_lesson *lesson = &learned.lesson[i];
        lesson->book = bf_exp(book.mean[i]);
        lesson->middle = bf_exp(pull[i]);
        lesson->lo = bf_exp(pull[i] - BF_PM_PER_SD * sqrt(usual));
        lesson->hi = bf_exp(pull[i] + BF_PM_PER_SD * sqrt(usual));
    }
    return learned;
}
