/* elastic.h -- pole elastic, and the strength chain hook - hooklength - knot - main line - elastic.
 *
 * Pure arithmetic. Model: docs/models/tackle.md. Tests: tests/tackle/elastic_test.c, tests/tackle/chain_test.c
 */
#ifndef BAITFALL_ELASTIC_H
#define BAITFALL_ELASTIC_H

#include "baitfall/field.h"
#include "baitfall/line.h"
#include "baitfall/summary.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct bf_hook {
    int size;       /* trade number, 8 .. 26                     */
    double mass_kg; /* NaN: by size (memory)                     */
} bf_hook;

typedef struct bf_elastic {
    double outer_m;  /* diameter at rest                                                      */
    double bore_m;   /* of hollow elastic; 0: solid                                           */
    double length_m; /* at rest, inside the pole                                              */
    bf_quantity
        force_frac; /* real force over that of the rubber law; start 1 +- 0.25, narrowed by a pull test */
} bf_elastic;

extern const bf_table bf_hook_table, bf_elastic_table;

/* Wire diameter of a hook by its number, m: 0.45 mm at 16, 6.8 % thicker a number. From memory of middling hooks: makers
 * differ by a third. Example   16 -> 0.45e-3. */
double bf_hook_wire_m(const bf_hook *hook);

/* Mass, kg: mass_kg, or wire 3.5 gapes long of steel, gape 4.6 mm at 16 and 8.5 % wider a number (memory).
 * Example   16 -> 2.0e-5. */
double bf_hook_mass_kg(const bf_hook *hook);

/* Its weight in water, N: steel of 7850 kg/m3. */
double bf_hook_weight_n(const bf_hook *hook, double water_kg_m3);

/* Pull that opens it, N: the wire bent fully plastic at the bend, strength x wire^3 / 6 over the gape, 1800 MPa (memory,
 * hardened high-carbon steel). Give or take 40 % by judgement: no measurement was found.
 * Example   16 -> 5.9 N. */
double bf_hook_opens_n(const bf_hook *hook);

#ifdef __cplusplus
}
#endif
#endif
