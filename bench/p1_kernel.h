/* p1_kernel.h -- problem P1 of bench/peers done like for like: the same force law, current, method and step. */
#ifndef BAITFALL_BENCH_P1_KERNEL_H
#define BAITFALL_BENCH_P1_KERNEL_H

#include <stddef.h>

/* Falls of n pellets through 2 m of sheared water by the classical Runge-Kutta rule with a fixed step of 5 ms, the last
 * step cut by straight interpolation, in double precision. The drag law's power is exact to 1e-7.
 *
 * diameter_m, density_kg_m3, x0_m, y0_m (in n); x_m, y_m, t_s (out n). Returns steps taken by all pellets together. */
unsigned long long p1_fall(const double *diameter_m, const double *density_kg_m3, const double *x0_m,
                           const double *y0_m, size_t n, double *x_m, double *y_m, double *t_s);

#endif
