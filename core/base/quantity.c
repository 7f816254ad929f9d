#include "baitfall/quantity.h"

#include "baitfall/special.h"

bf_quantity bf_exactly(double value) {
    return (bf_quantity){value, 0, 0};
}

bf_sampler bf_sampler_of(bf_quantity quantity, double least, double most, double usual_least,
                         double usual_most) {
    if (quantity.is_unknown) return (bf_sampler){quantity, usual_least, usual_most, 0, 1};
    bf_sampler sampler = {quantity, least, most, 0, 1};
    if (quantity.pm > 0) {
        double sd = quantity.pm / BF_PM_PER_SD;
        sampler.p_least = bf_normal_cdf((least - quantity.value) / sd);
        sampler.p_most = bf_normal_cdf((most - quantity.value) / sd);
    }
    return sampler;
}

double bf_sampler_at(const bf_sampler *sampler, double p) {
    const bf_quantity *q = &sampler->quantity;
    if (q->is_unknown) return sampler->least + p * (sampler->most - sampler->least);
    if (q->pm <= 0) return q->value;
    double within = sampler->p_least + p * (sampler->p_most - sampler->p_least);
    double value = q->value + q->pm / BF_PM_PER_SD * bf_normal_quantile(within);
    if (value < sampler->least) return sampler->least;
    return value > sampler->most ? sampler->most : value;
}
