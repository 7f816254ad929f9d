/* wind.h -- what wind does to the water of a closed basin: skin drift on top, return flow below. */
#ifndef BAITFALL_WIND_H
#define BAITFALL_WIND_H

#include "baitfall/water.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Horizontal current over depth at one spot: a thin skin that decays with depth plus a polynomial in z /
 * depth. Axes: x out from the bank, y to the angler's right, z down from the surface. */
typedef struct bf_current {
    double depth_m;
    double skin_x_m_s, skin_y_m_s;       /* skin drift at z = 0, beyond the polynomial             */
    double skin_m;                       /* e-folding depth of the skin, > 0                       */
    double coef_x_m_s[4], coef_y_m_s[4]; /* u(s) = sum coef[k] s^k, s = z / depth_m in 0..1  */
} bf_current;

/* No current at all. */
bf_current bf_current_still(double depth_m);

/* The current of a lake record (its `.value`s as they stand) over a depth. */
BF_CHECK bf_status bf_current_of(const bf_lake *lake, double depth_m, bf_current *current);

/* Velocity at depth z_m (0 .. depth_m). */
void bf_current_at(const bf_current *current, double z_m, double *x_m_s, double *y_m_s);

/* Integral of the velocity over z from the surface to z_m, m2/s: divided by a constant fall speed it is the
 * sideways travel of a piece that follows the water exactly. Closed form. */
void bf_current_integral(const bf_current *current, double z_m, double *x_m2_s, double *y_m2_s);

#ifdef __cplusplus
}
#endif
#endif
