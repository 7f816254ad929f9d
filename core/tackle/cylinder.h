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

/* Cd Re^0.75 up to FITTED_RE as a polynomial in Re^0.25 mapped onto -1 .. 1: a Chebyshev fit of the formula, within 2e-8
 * of it, in pairs so that they need not wait for each other. Fishing line is nearly always there. */
#define FITTED_RE 60.0
#define PER_ROOT 0.7186082239261685 /* 2 / 60^0.25 */

static inline double fitted_drag(double fourth) {
    double x = PER_ROOT * fourth - 1, x2 = x * x, x4 = x2 * x2;
    double low = (13.4478327220068 + 7.40636290249612 * x) + (7.5880507742038 + 2.81827931730553 * x) * x2;
    double high =
        (0.271166583078507 + 0.0932895144152977 * x) + (0.00910189074046286 - 0.00198119328587563 * x) * x2;
    return low + x4 * (high - 0.000201589072835986 * x4);
}

static inline double along_of(double x) {
    x = x > 16.8 ? 16.8 : x > 0.7 ? x : 0.7;
    return 2.0 * BF_PI / (0.901522998 + x * (0.336197543 + x * (0.0149320391 - x * 0.000456361729)));
}

/* The natural logarithm to ten digits, which drag laws do not have, and so quicker than bf_log. x a normal number above 0. */
static inline double quick_log(double x) {
    const uint64_t least = UINT64_C(0x3FE6A09E00000000); /* the bits of about 1 / sqrt(2) */
    uint64_t bits;
    double mantissa;
    memcpy(&bits, &x, sizeof bits);
    int64_t octaves = (int64_t)(bits - least) >> 52;
    bits -= (uint64_t)octaves << 52;
    memcpy(&mantissa, &bits, sizeof mantissa);
    double s = (mantissa - 1) / (mantissa + 1), s2 = s * s, s4 = s2 * s2;
    double series = (2.0 + 2.0 / 3 * s2) + s4 * ((2.0 / 5 + 2.0 / 7 * s2) + s4 * (2.0 / 9 + 2.0 / 11 * s2));
    return (double)octaves * 0.69314718055994531 + s * series;
}

/* Force a metre over speed, across: half the viscosity times Cd Re, which is Re^0.25 times the fit. */
static inline double across_pa_s(const bfi_felt *of, double across_m_s) {
    double reynolds = across_m_s * of->re_per_m_s, fourth = sqrt(sqrt(reynolds));
    if (reynolds < FITTED_RE) return of->half_pa_s * fourth * fitted_drag(fourth);
    return of->half_pa_s * reynolds * bfi_cylinder_drag(reynolds);
}

#endif
