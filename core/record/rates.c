/* rates.c -- gamma-Poisson rates. */
#include "baitfall/rates.h"

#include <math.h>

#include "baitfall/elementary.h"
#include "baitfall/special.h"
#include "core/record/estimate.h"

bf_status bfi_check_rate(bf_gamma rate) {
    if (!bfi_is_finite(rate.shape) || !bfi_is_finite(rate.rate)) return BF_E_NOT_FINITE;
    return rate.shape > 0 && rate.rate > 0 ? BF_OK : BF_E_RANGE;
}

bf_status bfi_check_count(double n, double exposure) {
    if (!bfi_is_finite(n) || !bfi_is_finite(exposure)) return BF_E_NOT_FINITE;
    return n >= 0 && n <= BFI_MOST_EVENTS && exposure >= 0 ? BF_OK : BF_E_RANGE;
}

bf_status bf_rate_posterior(bf_gamma prior, double n, double exposure, bf_gamma *out) {
    *out = (bf_gamma){NAN, NAN};
    bf_status status = bfi_check_count(n, exposure);
    if (status) return status;
    if (prior.shape <= 0 || prior.rate < 0) return BF_E_RANGE;
    bf_gamma posterior = {prior.shape + n, prior.rate + exposure};
    status = bfi_check_rate(posterior);
    if (status) return status;
    *out = posterior;
    return BF_OK;
}

double bf_rate_quantile(bf_gamma rate, double p) {
    return bfi_check_rate(rate) ? NAN : bf_gamma_quantile(rate.shape, p) / rate.rate;
}

bf_status bf_rate_estimate(bf_gamma rate, double level, bf_estimate *out) {
    *out = BFI_NO_ESTIMATE;
    bf_status status = bfi_check_rate(rate);
    if (status) return status;
    status = bfi_check_level(level);
    if (status) return status;
    out->mean = rate.shape / rate.rate;
    out->sd = sqrt(rate.shape) / rate.rate;
    out->mid = bf_rate_quantile(rate, 0.5);
    out->lo = bf_rate_quantile(rate, (1 - level) / 2);
    out->hi = bf_rate_quantile(rate, (1 + level) / 2);
    return BF_OK;
}

/* log of the negative binomial chance of n; all in range. */
static double log_chance(bf_gamma rate, double n, double exposure) {
    double both = rate.rate + exposure;
    double which = bf_log_gamma_step(rate.shape, n) - bf_log_gamma(n + 1);
    double log_none = -rate.shape * bf_log1p(exposure / rate.rate);
    return which + log_none + (n > 0 ? n * bf_log(exposure / both) : 0);
}

static bf_status check_forecast(bf_gamma rate, double n, double exposure) {
    bf_status status = bfi_check_rate(rate);
    if (status) return status;
    status = bfi_check_count(n, exposure);
    if (status) return status;
    return exposure > 0 && n == floor(n) ? BF_OK : BF_E_RANGE;
}

bf_status bf_rate_predict(bf_gamma rate, double exposure, double n, bf_rate_forecast *out) {
    *out = (bf_rate_forecast){NAN, NAN, NAN, NAN, NAN};
    bf_status status = check_forecast(rate, n, exposure);
    if (status) return status;
    out->mean = rate.shape / rate.rate * exposure;
    out->sd = sqrt(out->mean * (1 + exposure / rate.rate));
    out->p_none = bf_exp(log_chance(rate, 0, exposure));
    out->p_equal = bf_exp(log_chance(rate, n, exposure));
    out->p_at_most = bf_beta_i(rate.shape, n + 1, rate.rate / (rate.rate + exposure));
    return BF_OK;
}

static bf_status check_pair(bf_gamma one, bf_gamma other) {
    bf_status status = bfi_check_rate(one);
    return status ? status : bfi_check_rate(other);
}

bf_status bf_rate_p_greater(bf_gamma one, bf_gamma other, double *p) {
    *p = NAN;
    bf_status status = check_pair(one, other);
    if (status) return status;
    *p = bf_beta_i(other.shape, one.shape, other.rate / (one.rate + other.rate));
    return BF_OK;
}

/* The p-quantile of w / (1 - w), w ~ Beta(a, b), from the end where the difference loses no digits. */
static double odds_quantile(double a, double b, double p) {
    double w = bf_beta_quantile(a, b, p);
    if (w <= 0.5) return w / (1 - w);
    double rest = bf_beta_quantile(b, a, 1 - p);
    return (1 - rest) / rest;
}

bf_status bf_rate_ratio(bf_gamma one, bf_gamma other, double level, bf_estimate *out) {
    *out = BFI_NO_ESTIMATE;
    bf_status status = check_pair(one, other);
    if (status) return status;
    status = bfi_check_level(level);
    if (status) return status;
    double a = one.shape, b = other.shape, unit = other.rate / one.rate;
    out->mean = b > 1 ? unit * a / (b - 1) : INFINITY;
    out->sd = b > 2 ? unit * sqrt(a * (a + b - 1) / (b - 2)) / (b - 1) : INFINITY;
    out->mid = unit * odds_quantile(a, b, 0.5);
    out->lo = unit * odds_quantile(a, b, (1 - level) / 2);
    out->hi = unit * odds_quantile(a, b, (1 + level) / 2);
    return BF_OK;
}

bf_status bf_rate_log_marginal(bf_gamma prior, double n, double exposure, double *out) {
    *out = NAN;
    bf_status status = check_forecast(prior, n, exposure);
    if (status) return status;
    *out = log_chance(prior, n, exposure);
    return BF_OK;
}
