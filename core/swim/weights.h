/* weights.h -- log weights and resampling: what any particle filter here does with its weights. Internal. */
#ifndef BFI_SWIM_WEIGHTS_H
#define BFI_SWIM_WEIGHTS_H

/* log(mean of exp(log_w)); -infinity when all are. Normalises: log_w[i] -= that, so that the mean weight is 1. */
double bfi_weights_level(double *log_w, int n);
/* 1 / sum of squared normalised weights. */
double bfi_weights_effective(const double *log_w, int n);
/* Systematic resampling by one uniform number u in (0, 1): from[i] is the particle that comes to slot i; each is taken floor or ceil of n w
 * times (checked in tests), in order. */
void bfi_weights_resample(const double *log_w, int n, double u, int *from);

#endif
