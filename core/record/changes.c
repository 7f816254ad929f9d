/* changes.c -- the exact posterior of one change in a row of counts. */
#include "baitfall/changes.h"

#include <math.h>
#include <stddef.h>

#include "baitfall/elementary.h"
#include "baitfall/special.h"
#include "core/record/estimate.h"

#define MOST_BINS 100000

/* Events and exposure of a stretch of bins. */
typedef struct stretch {
    double n, exposure;
} stretch;

static stretch with(stretch s, bf_change_bin bin) {
    return (stretch){s.n + bin.n, s.exposure + bin.exposure};
}

/* Never below 0: both are summed in the same order. */
static stretch without(stretch all, stretch part) {
    return (stretch){all.n - part.n, all.exposure - part.exposure};
}

static bf_gamma rate_of(stretch s, bf_gamma prior) {
    return (bf_gamma){prior.shape + s.n, prior.rate + s.exposure};
}

/* log evidence of one rate over the stretch, without the terms that are the same for every division into stretches. */
static double log_evidence(stretch s, bf_gamma prior) {
    return bf_log_gamma_step(prior.shape, s.n) - prior.shape * bf_log1p(s.exposure / prior.rate) -
           s.n * bf_log(prior.rate + s.exposure);
}

/* Those terms: the sum of n log T - log n!. */
static double log_common(const bf_change_bin *bins, int n_bins) {
    double sum = 0;
    for (int i = 0; i < n_bins; i++)
        if (bins[i].n > 0) sum += bins[i].n * bf_log(bins[i].exposure) - bf_log_gamma(bins[i].n + 1);
    return sum;
}

static bf_status check_bins(const bf_change_bin *bins, int n_bins, stretch *all) {
    *all = (stretch){0, 0};
    for (int i = 0; i < n_bins; i++) {
        bf_status status = bfi_check_count(bins[i].n, bins[i].exposure);
        if (status) return status;
        if (bins[i].n > 0 && bins[i].exposure == 0) return BF_E_DATA;
        *all = with(*all, bins[i]);
    }
    return all->exposure > 0 && all->exposure < INFINITY && all->n <= BFI_MOST_EVENTS ? BF_OK : BF_E_RANGE;
}

static bf_status check(const bf_change_bin *bins, int n_bins, bf_gamma prior, double p_change_before,
                       double level, stretch *all) {
    bf_status status = bfi_check_rate(prior);
    if (status) return status;
    status = bfi_check_level(level);
    if (status) return status;
    if (!bfi_is_finite(p_change_before)) return BF_E_NOT_FINITE;
    if (!(p_change_before >= 0 && p_change_before <= 1)) return BF_E_RANGE;
    return check_bins(bins, n_bins, all);
}

/* Into posterior: P(k | data, change). Returns the log of the mean over k of the evidence. */
static double weigh_ends(const bf_change_bin *bins, int n_k, bf_gamma prior, stretch all, double *posterior) {
    stretch before = {0, 0};
    double top = -INFINITY, sum = 0;
    for (int k = 0; k < n_k; k++) {
        before = with(before, bins[k]);
        posterior[k] = log_evidence(before, prior) + log_evidence(without(all, before), prior);
        if (posterior[k] > top) top = posterior[k];
    }
    for (int k = 0; k < n_k; k++) sum += posterior[k] = bf_exp(posterior[k] - top);
    for (int k = 0; k < n_k; k++) posterior[k] /= sum;
    return top + bf_log(sum / n_k);
}

/* Rates either side and the chance of a slowing, averaged over k. */
static void average_rates(const bf_change_bin *bins, int n_k, bf_gamma prior, stretch all,
                          const double *posterior, bf_change *out) {
    stretch before = {0, 0};
    for (int k = 0; k < n_k; k++) {
        before = with(before, bins[k]);
        bf_gamma one = rate_of(before, prior), other = rate_of(without(all, before), prior);
        out->rate_before += posterior[k] * one.shape / one.rate;
        out->rate_after += posterior[k] * other.shape / other.rate;
        if (posterior[k] > 1e-17) /* less adds nothing, and the beta function is dear */
            out->p_slowed +=
                posterior[k] * bf_beta_i(other.shape, one.shape, other.rate / (one.rate + other.rate));
    }
}

/* Mode, mean, median and central set of k. */
static void place_change(const double *posterior, int n_k, double level, bf_change *out) {
    double below = 0;
    for (int k = 1; k <= n_k; k++) {
        double p = posterior[k - 1], upto = below + p;
        if (p > out->p_mode) out->p_mode = p, out->k_mode = k;
        out->k_mean += k * p;
        if (!out->k_lo && upto >= (1 - level) / 2) out->k_lo = k;
        if (!out->k_mid && upto >= 0.5) out->k_mid = k;
        if (out->k_lo && !out->k_hi) out->p_set += p;
        if (!out->k_hi && (upto >= (1 + level) / 2 || k == n_k)) out->k_hi = k;
        below = upto;
    }
}

/* The odds after are the odds before times the Bayes factor. */
static double chance_of_change(double before, double log_bayes_factor) {
    if (before == 0 || before == 1) return before;
    return 1 / (1 + (1 - before) / before * bf_exp(-log_bayes_factor));
}

bf_status bf_change_find(const bf_change_bin *bins, int n_bins, bf_gamma prior, double p_change_before,
                         double level, double *posterior, bf_change *out) {
    const bf_change nothing = {0, 0, 0, 0, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN};
    *out = nothing;
    if (n_bins < 2 || n_bins > MOST_BINS) return BF_E_RANGE;
    int n_k = n_bins - 1;
    for (int k = 0; k < n_k; k++) posterior[k] = NAN;
    stretch all;
    bf_status status = check(bins, n_bins, prior, p_change_before, level, &all);
    if (status) return status;

    *out = (bf_change){0};
    double common = log_common(bins, n_bins);
    out->log_evidence_same = common + log_evidence(all, prior);
    out->log_evidence_change = common + weigh_ends(bins, n_k, prior, all, posterior);
    out->log_bayes_factor = out->log_evidence_change - out->log_evidence_same;
    out->p_change = chance_of_change(p_change_before, out->log_bayes_factor);
    average_rates(bins, n_k, prior, all, posterior, out);
    place_change(posterior, n_k, level, out);
    return BF_OK;
}

double bf_change_widen(bf_change_bin *bins, int n_bins) {
    stretch all;
    if (n_bins < 2 || n_bins > MOST_BINS || check_bins(bins, n_bins, &all)) return NAN;
    double seen = 0, expected = 0;
    const bf_change_bin *last = NULL;
    for (int i = 0; i < n_bins; i++) {
        if (bins[i].exposure == 0) continue;
        if (last) {
            double both = last->n + bins[i].n, part = last->exposure / (last->exposure + bins[i].exposure);
            seen += (last->n - both * part) * (last->n - both * part);
            expected += both * part * (1 - part);
        }
        last = &bins[i];
    }
    double dispersion = seen > expected ? seen / expected : 1;
    for (int i = 0; i < n_bins; i++) {
        bins[i].n /= dispersion;
        bins[i].exposure /= dispersion;
    }
    return dispersion;
}
