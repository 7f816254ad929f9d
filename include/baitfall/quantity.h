/* quantity.h -- a number with its "give or take".
 *
 * An input is rarely exact. `pm` is the half-width of the central 80 % range: the value is taken as
 * normal with standard deviation pm / BF_PM_PER_SD, cut off at the ends of the field's accepted range.
 * "Don't know" is legal: then the value is uniform over the field's usual range.
 *
 * Tests: tests/base/quantity_test.c
 */
#ifndef BAITFALL_QUANTITY_H
#define BAITFALL_QUANTITY_H

#ifdef __cplusplus
extern "C" {
#endif

typedef struct bf_quantity {
    double value;   /* SI unit of its field                                                          */
    double pm;      /* half-width of the central 80 % range, same unit, >= 0; 0: exact               */
    int is_unknown; /* 1: "don't know": uniform over the field's usual range; value is its middle    */
} bf_quantity;

/* A number known exactly. */
bf_quantity bf_exactly(double value);

/* The ratio of half an 80 % range to one standard deviation: the normal quantile of 0.9. */
#define BF_PM_PER_SD 1.2815515655446004

/* A quantity made ready for many draws. */
typedef struct bf_sampler {
    bf_quantity quantity;
    double least, most;     /* the value never leaves these                            */
    double p_least, p_most; /* the untruncated normal's probability below least, most  */
} bf_sampler;

/* Readies a quantity whose field accepts [least, most] and whose usual range is [usual_least, usual_most].
 * The value must lie in [least, most]; bf_record_check has seen to that. */
bf_sampler bf_sampler_of(bf_quantity quantity, double least, double most, double usual_least,
                         double usual_most);

/* The value at cumulative probability p in (0, 1): the truncated normal's inverse distribution function, the
 * uniform's when unknown, or the value itself when pm is 0. Never decreases with p, so that common random
 * numbers stay common. Example: {1.5, 0.05, 0} at p = 0.9, limits far away -> 1.55. */
double bf_sampler_at(const bf_sampler *sampler, double p);

#ifdef __cplusplus
}
#endif
#endif
