/* aim.h -- how far bait and bed miss each other, and whose fault it is. (AIM completes.) */
#ifndef BAITFALL_AIM_H
#define BAITFALL_AIM_H

#include "baitfall/lay.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct bf_aim_out {
    double miss_m;      /* from the middle of the put-in's pile to the hook bait; its mid and hi are the 50 and 90 % points */
    double out_m;       /* the bait against the pile's middle: outward                                  */
    double right_m;
    double on_frac;     /* 1: a piece lies within 5 cm of the bait, 0: none; over many drops: the chance */
    double within10_frac, within15_frac; /* ... within 10, 15 cm                                        */
} bf_aim_out;
extern const bf_table bf_aim_out_table;

#ifdef __cplusplus
}
#endif
#endif
