/* film.h -- dry pieces that hang on the surface film instead of sinking.
 *
 * Pure arithmetic. Model: docs/models/film.md. Tests: tests/feed/film_test.c
 */
#ifndef BAITFALL_FILM_H
#define BAITFALL_FILM_H

#include "baitfall/fall.h"

#ifdef __cplusplus
extern "C" {
#endif

/* The largest density of a sphere that can hang, laid down gently, kg/m3:
 *
 *     most / water - 1 = (3/2) sin^2(theta / 2) F(x, theta) / x^2,   x = (diameter / 2) sqrt(water g / tension)
 *
 * F goes to 1 for small x (Scheludko's limit); F is fitted to bfi_film_density_solved_kg_m3 (core/feed/film.h), a
 * full solution of the axisymmetric Young-Laplace equation.
 *
 * diameter_m         > 0; above 2.5 capillary lengths of radius (13.7 mm) taken as not held at all
 * contact_angle_deg  0 .. 120, through the water
 * water_kg_m3, tension_n_m > 0
 *
 * Validity: one smooth sphere at rest on still water. Other shapes count as the sphere of their volume: an upright
 *           cylinder pinned at its top rim holds more. Rafts of pieces and uneven wetting are not modelled.
 * Accuracy: the part above the water's density within 1.1 % of the full solution (measured).
 * Example   4 mm, 60 degrees, water 999.1026 kg/m3, 0.073486 N/m -> 1753.1 kg/m3 (full solution 1754.1). */
double bf_film_density_most_kg_m3(double diameter_m, double contact_angle_deg, double water_kg_m3,
                                  double tension_n_m);

/* Weber number of a piece that meets the surface: water density x speed^2 x diameter / tension. 4 mm at 0.99 m/s
 * (dropped 5 cm) -> 53. */
double bf_film_weber(double speed_m_s, double diameter_m, double water_kg_m3, double tension_n_m);

/* Seconds a piece hangs before it sinks: bait->hang_s when it can hang, else 0. It can hang when it is dry, no
 * denser than the film holds at bait->contact_angle_deg, and meets the water no harder than bait->punch_weber.
 *
 * bait       its `.value`s as they stand; glazed and soaked pieces are wet and never hang
 * piece      the piece drawn from it
 * impact_m_s speed at the surface, downward: sqrt(2 g height) for a drop
 *
 * No source was found for any of the three: their start values are "don't know" over a wide range. */
double bf_film_hang_s(const bf_bait *bait, const bf_piece *piece, double impact_m_s, double tension_n_m);

/* 1 when a middle piece of the bait could hang if it were laid down on the lake's surface, at the largest
 * contact angle of its range (90 degrees when unknown); 0 when it is wet, too dense or has no hanging time.
 * The other `.value`s as they stand. */
int bf_film_may_hang(const bf_bait *bait, const bf_lake *lake);

#ifdef __cplusplus
}
#endif
#endif
