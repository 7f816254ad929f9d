/* holds.c -- shares of a mix. */
#include "baitfall/holds.h"

#include "baitfall/elementary.h"
#include "baitfall/special.h"
#include "core/record/estimate.h"

#define MOST_COUNT 1000000

static bf_status check_mix(const bf_mix *mix, uint32_t kinds) {
    if (!bfi_is_finite(mix->prior_total)) return BF_E_NOT_FINITE;
    if (!(mix->prior_total > 0 && mix->prior_total <= 100)) return BF_E_RANGE;
    if (mix->n_kinds < 2 || mix->n_kinds > BF_MIX_MOST_KINDS) return BF_E_RANGE;
    for (int i = 0; i < mix->n_kinds; i++)
        if (mix->count[i] < 0 || mix->count[i] > MOST_COUNT) return BF_E_RANGE;
    uint32_t full = (1u << mix->n_kinds) - 1;
    return kinds > 0 && kinds < full ? BF_OK : BF_E_RANGE;
}

/* What the prior gives to the set, and to the rest. */
static void split_prior(const bf_mix *mix, uint32_t kinds, double *inside, double *outside) {
    int n_inside = 0;
    for (int i = 0; i < mix->n_kinds; i++) n_inside += (int)(kinds >> i & 1);
    *inside = mix->prior_total * n_inside / mix->n_kinds;
    *outside = mix->prior_total * (mix->n_kinds - n_inside) / mix->n_kinds;
}

static void split_counts(const bf_mix *mix, uint32_t kinds, int *inside, int *all) {
    *inside = *all = 0;
    for (int i = 0; i < mix->n_kinds; i++) {
        *all += mix->count[i];
        if (kinds >> i & 1) *inside += mix->count[i];
    }
}

bf_status bf_mix_share(const bf_mix *mix, uint32_t kinds, double level, bf_share *out) {
    *out = (bf_share){0, 0, NAN, NAN, BFI_NO_ESTIMATE};
    bf_status status = check_mix(mix, kinds);
    if (status) return status;
    status = bfi_check_level(level);
    if (status) return status;

    split_counts(mix, kinds, &out->n, &out->of_n);
    split_prior(mix, kinds, &out->a, &out->b);
    double a = out->a += out->n, b = out->b += out->of_n - out->n;
    out->share.mean = a / (a + b);
    out->share.sd = sqrt(a * b / (a + b + 1)) / (a + b);
    out->share.mid = bf_beta_quantile(a, b, 0.5);
    out->share.lo = bf_beta_quantile(a, b, (1 - level) / 2);
    out->share.hi = bf_beta_quantile(a, b, (1 + level) / 2);
    return BF_OK;
}

/* Two beta distributions on the way from their common prior to their posteriors. */
typedef struct walk {
    double a, b, c, d; /* one is Beta(a, b), the other Beta(c, d)        */
    double p;          /* P(one > other)                                 */
    double h;          /* B(a + c, b + d) / (B(a, b) B(c, d))            */
} walk;

/* Adds one observation to *shape. `mate` is the other shape of the same distribution, `twin` the same side of the other
 * distribution; sign is +1 when the observation speaks for one > other. */
static void step(walk *w, double *shape, double mate, double twin, double sign) {
    w->p += sign * w->h / *shape;
    w->h *= (*shape + twin) / (w->a + w->b + w->c + w->d) * (*shape + mate) / *shape;
    *shape += 1;
}

bf_status bf_mix_p_more(const bf_mix *one, const bf_mix *other, uint32_t kinds, double *p) {
    *p = NAN;
    bf_status status = check_mix(one, kinds);
    if (status) return status;
    status = check_mix(other, kinds);
    if (status) return status;
    if (one->n_kinds != other->n_kinds || one->prior_total != other->prior_total) return BF_E_RANGE;

    double a, b;
    split_prior(one, kinds, &a, &b);
    walk w = {a, b, a, b, 0.5, bf_exp(bf_log_beta(2 * a, 2 * b) - 2 * bf_log_beta(a, b))};
    int in_one, all_one, in_other, all_other;
    split_counts(one, kinds, &in_one, &all_one);
    split_counts(other, kinds, &in_other, &all_other);

    /* Both together, kind by kind, so that p stays where the data point and h keeps its size. */
    int most = all_one > all_other ? all_one : all_other;
    for (int i = 0; i < most; i++) {
        if (i < in_one) step(&w, &w.a, w.b, w.c, 1);
        if (i < in_other) step(&w, &w.c, w.d, w.a, -1);
        if (i < all_one - in_one) step(&w, &w.b, w.a, w.d, -1);
        if (i < all_other - in_other) step(&w, &w.d, w.c, w.b, 1);
    }
    *p = w.p < 0 ? 0 : w.p > 1 ? 1 : w.p;
    return BF_OK;
}
