/* line.h -- monofilament: weight, stretch, and what it breaks at wet and knotted.
 *
 * Pure arithmetic. Model: docs/models/tackle.md. Tests: tests/tackle/line_test.c
 */
#ifndef BAITFALL_LINE_H
#define BAITFALL_LINE_H

#include "baitfall/field.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef enum bf_line_kind { BF_NYLON, BF_FLUOROCARBON, BF_N_LINE_KINDS } bf_line_kind;

/* "nylon", "fluorocarbon", NULL; static. */
extern const char *const bf_line_kind_words[];

typedef struct bf_fishing_line {
    double diameter_m; /* 3e-5 .. 1e-3                                                                   */
    int kind;          /* bf_line_kind                                                                   */
    double length_m;   /* of a hooklength; of a main line not read: as long as the depth asks for        */
    double break_n;    /* measured wet and knotted; NaN: from the diameter                               */
    bf_quantity
        strength_frac; /* real strength over that figure; start 1 +- 0.32 by diameter, narrowed by a test */
    bf_quantity
        stiff_frac; /* Young's modulus over the kind's own                                            */
} bf_fishing_line;

/* The main line has no length of its own; the hooklength has. */
extern const bf_table bf_line_table, bf_hooklength_table;

/* Nylon 1140 (read: SG 1.14, one maker of yarn), fluorocarbon 1780 kg/m3 (memory: 1760 to 1780). */
double bf_line_density_kg_m3(int kind);

/* Cross-section, m2, by the diameter as said. Printed diameters run small: six fluorocarbon samples measured 1 to 15 %
 * over (read), so a line weighs and holds up to a third more than by its label. */
double bf_line_area_m2(const bf_fishing_line *line);

/* Weight of a metre in air and in water, N/m. Example   0.12 mm nylon: 1.265e-4 and 1.563e-5 N/m. */
double bf_line_weight_air_n_m(const bf_fishing_line *line);
double bf_line_weight_water_n_m(const bf_fishing_line *line, double water_kg_m3);

/* Extensional stiffness E A, N: E 1.75e9 Pa, wet nylon, and 2.5e9 Pa, fluorocarbon, times stiff_frac.
 *
 * Source:   nylon wet 1 to 2.5 GPa, dry 2 to 4 (both memory); one yarn 4.56 GPa dry (read, an upper bound).
 *           Fluorocarbon: judgement, no value was found.
 * Example   0.12 mm nylon -> 19.79 N. */
double bf_line_stiffness_n(const bf_fishing_line *line);

/* Wet and knotted, N: break_n, or by diameter 700 MPa x 0.87 wet x 0.85 knot x area (fluorocarbon 773 MPa x 1 x 0.85);
 * either times strength_frac.
 *
 * Source:   yarn 958 MPa, an upper bound, wet loss 10 to 20 %, a good knot's loss 10 to 15 % (read); 700 MPa is the middle
 *           between that bound and the 600 to 800 MPa implied by a remembered table of netting twine (FAO). Fluorocarbon:
 *           six samples of 0.29 to 0.75 mm, mean 773 MPa on the measured diameter, sd 80 (read): thicker than pole lines.
 * Accuracy: give or take 32 % (80 % range), by judgement from the stacked bounds: one sigma is a quarter. A remembered
 *           wet-and-knotted column (FAO) lies 4 to 31 % below it, more for thicker line. Poor knots halve it.
 * Example   0.12 mm nylon -> 5.854 N (0.597 kgf), 4.0 to 7.7. */
double bf_line_break_n(const bf_fishing_line *line);

#ifdef __cplusplus
}
#endif
#endif
