/* gamma_parts.h -- what the gamma and the beta functions share. Internal. */
#ifndef BAITFALL_CORE_GAMMA_PARTS_H
#define BAITFALL_CORE_GAMMA_PARTS_H

/* log Gamma(1 + z), z >= 0, with relative accuracy at 0. */
double bfi_log_gamma1p(double z);

/* P(shape, x) and how it rises with log x, which costs nothing beside it; shape > 0, 0 < x, both finite. */
double bfi_gamma_p_slope(double shape, double x, double *slope);

/* What Stirling's formula leaves out: log Gamma(x) - ((x - 1/2) log x - x + log(2 pi) / 2), x >= BFI_STIRLING_FROM. */
double bfi_stirling_rest(double x);
#define BFI_STIRLING_FROM 10.0

/* mu - log(1 + mu) >= 0, with relative accuracy at 0. ratio = 1 + mu, which the caller knows better when it is small. */
double bfi_log_excess(double mu, double ratio);

/* Newton's method on a distribution function is done when a step is this small: the next would be its square. */
#define BFI_LAST_STEP 1e-10
#define BFI_MOST_STEPS 200

#endif
