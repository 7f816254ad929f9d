/* shot.h -- split shot by trade size or weighed, and the patterns they are put on in.
 *
 * (PARTS completes this header: sources, accuracy, legal note, worked numbers.)
 */
#ifndef BAITFALL_SHOT_H
#define BAITFALL_SHOT_H

#include "baitfall/field.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef enum bf_metal { BF_LEAD, BF_TIN, BF_TUNGSTEN } bf_metal;

/* One row: `count` equal shot, the lowest at at_m along the line: above the hook, or for back shots above the float. */
typedef struct bf_shot {
    int size;       /* index into bf_shot_sizes; -1: by mass_kg            */
    double mass_kg; /* each, weighed; NaN: by size                         */
    int metal;      /* bf_metal                                            */
    int count;      /* 1 .. 40                                             */
    double at_m;    /* "above_hook_m", of back shots "above_float_m"       */
    double apart_m; /* from one to the next; 0: a bulk, touching each other */
} bf_shot;

#define BF_RIG_SHOTS 12 /* rows */
#define BF_RIG_BACK_SHOTS 4

typedef struct bf_shot_size {
    const char *word;             /* "No 8" */
    double mass_kg;               /* as the chart that was read says */
    double least_kg, most_kg;     /* spread of trade charts          */
    const char *origin;
} bf_shot_size;
extern const bf_shot_size bf_shot_sizes[];
extern const int bf_n_shot_sizes;

extern const bf_table bf_shot_table, bf_back_shot_table;

double bf_metal_density_kg_m3(int metal);

/* Mass of one shot of a row, kg; error_z moves it within the charts' spread (0: the chart read; +-1: the ends of its 80 % range). */
double bf_shot_mass_kg(const bf_shot *shot, double error_z);

#ifdef __cplusplus
}
#endif
#endif
