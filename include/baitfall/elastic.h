/* elastic.h -- pole elastic, and the strength chain hook - hooklength - knot - main line - elastic.
 *
 * (PARTS completes this header.)
 */
#ifndef BAITFALL_ELASTIC_H
#define BAITFALL_ELASTIC_H

#include "baitfall/field.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct bf_hook {
    int size;       /* trade number, 8 .. 26                     */
    double mass_kg; /* NaN: by size (memory)                     */
} bf_hook;

typedef struct bf_elastic {
    double outer_m;          /* diameter at rest                                                      */
    double bore_m;           /* of hollow elastic; 0: solid                                           */
    double length_m;         /* at rest, inside the pole                                              */
    bf_quantity force_frac;  /* real force over that of the rubber law; start 1 +- 0.25, narrowed by a pull test */
} bf_elastic;

extern const bf_table bf_hook_table, bf_elastic_table;

#ifdef __cplusplus
}
#endif
#endif
