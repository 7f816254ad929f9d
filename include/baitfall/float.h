/* float.h -- a pole float: what it carries, what shows, how it moves.
 *
 * (PARTS completes this header.)
 */
#ifndef BAITFALL_FLOAT_H
#define BAITFALL_FLOAT_H

#include "baitfall/field.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct bf_float {
    double rating_kg;          /* printed: grams of lead shot it is said to take                                  */
    double capacity_kg;        /* lead shot (dry mass) it took in a tube to where the bristle begins; NaN: the rating */
    bf_quantity capacity_frac; /* real capacity over that figure; start 1 +- 0.12, narrowed by a float test      */
    double bristle_m;          /* diameter of the bristle                                                        */
    double bristle_long_m;     /* its length                                                                     */
    double body_m, body_long_m, stem_long_m; /* NaN: from the rating (a slim spindle body)                        */
    double mass_kg;            /* of the float itself; NaN: from its parts                                       */
    bf_quantity meets_deg;     /* contact angle of wet bristle and water: decides the meniscus' pull             */
} bf_float;

extern const bf_table bf_float_table;

/* A float with every NaN filled in. */
bf_float bf_float_settled(const bf_float *given);

/* The downward force that brings it down to where the bristle begins, N: capacity x (1 - water / lead) x g. */
double bf_float_lift_n(const bf_float *settled, double water_kg_m3);

#ifdef __cplusplus
}
#endif
#endif
