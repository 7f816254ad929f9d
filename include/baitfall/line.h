/* line.h -- monofilament: weight, stretch, and what it breaks at wet and knotted.
 *
 * (PARTS completes this header.)
 */
#ifndef BAITFALL_LINE_H
#define BAITFALL_LINE_H

#include "baitfall/field.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef enum bf_line_kind { BF_NYLON, BF_FLUOROCARBON } bf_line_kind;

typedef struct bf_line {
    double diameter_m;
    int kind;                  /* bf_line_kind                                                                  */
    double length_m;           /* hooklength: start 0.15 m. Main line: NaN, as long as the depth asks for       */
    double break_n;            /* measured wet and knotted; NaN: from the diameter                               */
    bf_quantity strength_frac; /* real strength over that figure; start 1 +- 0.32 by diameter, narrowed by a test */
    bf_quantity stiff_frac;    /* Young's modulus over the kind's own                                            */
} bf_line;

extern const bf_table bf_line_table, bf_hooklength_table;

double bf_line_density_kg_m3(int kind);
/* Extensional stiffness E A, N. */
double bf_line_stiffness_n(const bf_line *line);
/* Wet and knotted, N: break_n or by diameter, times strength_frac. */
double bf_line_break_n(const bf_line *line);

#ifdef __cplusplus
}
#endif
#endif
