/* cylinder.h -- drag of a thin cylinder, quickly: what the marches and strides along a line share.
 *
 * Pure. The laws themselves, their sources and validity: cable.h.
 */
#ifndef BAITFALL_TACKLE_CYLINDER_H
#define BAITFALL_TACKLE_CYLINDER_H

#include <math.h>
#include <stdint.h>
#include <string.h>

#include "baitfall/elementary.h"
#include "core/tackle/cable.h"

#define SURFACE_M 5e-3 /* over which a line goes from air to water */

/* Speeds below this, m/s, drag nothing. */
#define STILL_M_S 1e-9

/* Cd Re over Re^2, octave by octave from 2^-14: polynomials of the mantissa less 1.5, by Chebyshev interpolation of the formula, within
 * 2.2e-6 of it. Fishing line and float are nearly always there; read so, a drag takes no root and no logarithm. */
#define BFI_LEAST_OCTAVE (-14)
#define BFI_OCTAVES 38
extern const double bfi_drag_of_octave[BFI_OCTAVES][6];

double bfi_drag_times_re(double reynolds); /* Cd Re by the formula */

/* Cd Re at the square of Re, above 0. */
static inline double drag_times_re(double re2) {
    uint64_t bits;
    double mantissa;
    if (!(re2 >= 0x1p-14 && re2 < 0x1p24)) return bfi_drag_times_re(sqrt(re2));
    memcpy(&bits, &re2, sizeof bits);
    const double *c = bfi_drag_of_octave[(int)(bits >> 52) - 1023 - BFI_LEAST_OCTAVE];
    bits = (bits & UINT64_C(0x000FFFFFFFFFFFFF)) | UINT64_C(0x3FF0000000000000);
    memcpy(&mantissa, &bits, sizeof mantissa);
    double x = mantissa - 1.5, x2 = x * x;
    return (c[0] + c[1] * x) + x2 * ((c[2] + c[3] * x) + x2 * (c[4] + c[5] * x));
}

static inline double along_of(double x) {
    x = x > 16.8 ? 16.8 : x > 0.7 ? x : 0.7;
    return 2.0 * BF_PI / (0.901522998 + x * (0.336197543 + x * (0.0149320391 - x * 0.000456361729)));
}

/* The natural logarithm of a normal number above 0, to eight digits, which drag laws do not have, and so quicker than bf_log: a
 * polynomial by Chebyshev interpolation. */
static inline double quick_log(double x) {
    const uint64_t least = UINT64_C(0x3FE6A09E00000000); /* the bits of about 1 / sqrt(2) */
    uint64_t bits;
    double mantissa;
    memcpy(&bits, &x, sizeof bits);
    int64_t octaves = (int64_t)(bits - least) >> 52;
    bits -= (uint64_t)octaves << 52;
    memcpy(&mantissa, &bits, sizeof mantissa);
    double r = mantissa - 1, r2 = r * r, r4 = r2 * r2;
    double low =
        (0.999999999383256 - 0.499999884961427 * r) + (0.33333345349813 - 0.250015790991969 * r) * r2;
    double middle =
        (0.200009394395099 - 0.166083694123569 * r) + (0.141996501172396 - 0.132660313957884 * r) * r2;
    double high = 0.128066103157384 - 0.0745118599097315 * r;
    return (double)octaves * 0.69314718055994531 + r * (low + r4 * (middle + r4 * high));
}

/* The exponential to ten digits, for -700 .. 700: 2^k times a series in what is left. */
static inline double quick_exp(double x) {
    int64_t whole = (int64_t)(x * 1.4426950408889634 + (x < 0 ? -0.5 : 0.5));
    double k = (double)whole, r = x - k * 0.69314718055994531, r2 = r * r, scale;
    double even = 1 + r2 * (1.0 / 2 + r2 * (1.0 / 24 + r2 * (1.0 / 720 + r2 * (1.0 / 40320))));
    double odd = 1 + r2 * (1.0 / 6 + r2 * (1.0 / 120 + r2 * (1.0 / 5040 + r2 * (1.0 / 362880))));
    uint64_t bits = (uint64_t)(whole + 1023) << 52;
    memcpy(&scale, &bits, sizeof scale);
    return scale * (even + r * odd);
}

static inline double quick_drag(double reynolds) {
    return drag_times_re(reynolds * reynolds) / reynolds;
}

/* Force a metre over speed, across: half the viscosity times Cd Re. */
static inline double across_pa_s(const bfi_felt *of, double across_m_s) {
    return of->half_pa_s * drag_times_re(across_m_s * across_m_s * of->re2_per_m2_s2);
}

#endif
