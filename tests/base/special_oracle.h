/* special_oracle.h -- the gamma and beta distributions by their power series, at so many bits that nothing cancels. */
#ifndef BAITFALL_TESTS_SPECIAL_ORACLE_H
#define BAITFALL_TESTS_SPECIAL_ORACLE_H

#include <mpfr.h>

#define SEED 1u
#define TOLERANCE 1e-12
#define TINY 1e-300 /* below this a tail has fewer digits */

static const double shapes[] = {1e-3, 3e-3, 0.01,  0.03, 0.1, 0.3, 0.5, 0.9, 1,   1.5, 2,   5,
                                9.99, 10,   10.01, 20,   50,  100, 300, 1e3, 3e3, 1e4, 1e5, 1e6};
#define N_SHAPES (sizeof shapes / sizeof *shapes)

static inline double larger(double a, double b) {
    return a > b ? a : b;
}

#define ORACLE_BITS 1400 /* both tails down to 1e-300, the other by subtraction */

typedef struct oracle_tails {
    double lower, upper;
} oracle_tails;

/* Closes with the sum of the terms and the logarithm of the front. */
static inline oracle_tails oracle_finish(mpfr_t sum, mpfr_t log_front) {
    oracle_tails t;
    mpfr_exp(log_front, log_front, MPFR_RNDN);
    mpfr_mul(sum, sum, log_front, MPFR_RNDN);
    t.lower = mpfr_get_d(sum, MPFR_RNDN);
    mpfr_ui_sub(sum, 1, sum, MPFR_RNDN);
    t.upper = mpfr_get_d(sum, MPFR_RNDN);
    return t;
}

/* P(shape, x) = x^shape e^-x / Gamma(shape + 1) (1 + x/(shape + 1) + ...). */
static inline oracle_tails oracle_gamma(double shape, double x) {
    mpfr_t front, part, term, sum;
    mpfr_inits2(ORACLE_BITS, front, part, term, sum, (mpfr_ptr)0);
    mpfr_set_d(front, x, MPFR_RNDN);
    mpfr_log(front, front, MPFR_RNDN);
    mpfr_mul_d(front, front, shape, MPFR_RNDN);
    mpfr_sub_d(front, front, x, MPFR_RNDN);
    mpfr_set_d(part, shape, MPFR_RNDN);
    mpfr_add_ui(part, part, 1, MPFR_RNDN);
    mpfr_lngamma(term, part, MPFR_RNDN);
    mpfr_sub(front, front, term, MPFR_RNDN);
    mpfr_set_ui(term, 1, MPFR_RNDN);
    mpfr_set_ui(sum, 1, MPFR_RNDN);
    while (mpfr_get_exp(term) > mpfr_get_exp(sum) - ORACLE_BITS) {
        mpfr_mul_d(term, term, x, MPFR_RNDN);
        mpfr_div(term, term, part, MPFR_RNDN);
        mpfr_add(sum, sum, term, MPFR_RNDN);
        mpfr_add_ui(part, part, 1, MPFR_RNDN);
    }
    oracle_tails t = oracle_finish(sum, front);
    mpfr_clears(front, part, term, sum, (mpfr_ptr)0);
    return t;
}

/* I_x(a, b) = x^a (1-x)^b / (a B(a, b)) (1 + (a+b)/(a+1) x + (a+b)(a+b+1)/((a+1)(a+2)) x^2 + ...); slow near x = 1. */
static inline oracle_tails oracle_beta(double a, double b, double x) {
    mpfr_t front, part, over, under, term, sum;
    mpfr_inits2(ORACLE_BITS, front, part, over, under, term, sum, (mpfr_ptr)0);
    mpfr_set_d(front, x, MPFR_RNDN);
    mpfr_log(front, front, MPFR_RNDN);
    mpfr_mul_d(front, front, a, MPFR_RNDN);
    mpfr_set_d(part, -x, MPFR_RNDN);
    mpfr_log1p(part, part, MPFR_RNDN);
    mpfr_mul_d(part, part, b, MPFR_RNDN);
    mpfr_add(front, front, part, MPFR_RNDN);
    mpfr_set_d(over, a, MPFR_RNDN);
    mpfr_add_d(over, over, b, MPFR_RNDN);
    mpfr_lngamma(part, over, MPFR_RNDN);
    mpfr_add(front, front, part, MPFR_RNDN);
    mpfr_set_d(under, a, MPFR_RNDN);
    mpfr_add_ui(under, under, 1, MPFR_RNDN);
    mpfr_lngamma(part, under, MPFR_RNDN);
    mpfr_sub(front, front, part, MPFR_RNDN);
    mpfr_set_d(part, b, MPFR_RNDN);
    mpfr_lngamma(part, part, MPFR_RNDN);
    mpfr_sub(front, front, part, MPFR_RNDN);
    mpfr_set_ui(term, 1, MPFR_RNDN);
    mpfr_set_ui(sum, 1, MPFR_RNDN);
    while (mpfr_get_exp(term) > mpfr_get_exp(sum) - ORACLE_BITS) {
        mpfr_mul(term, term, over, MPFR_RNDN);
        mpfr_div(term, term, under, MPFR_RNDN);
        mpfr_mul_d(term, term, x, MPFR_RNDN);
        mpfr_add(sum, sum, term, MPFR_RNDN);
        mpfr_add_ui(over, over, 1, MPFR_RNDN);
        mpfr_add_ui(under, under, 1, MPFR_RNDN);
    }
    oracle_tails t = oracle_finish(sum, front);
    mpfr_clears(front, part, over, under, term, sum, (mpfr_ptr)0);
    return t;
}

#endif
