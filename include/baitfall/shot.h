/* shot.h -- split shot by trade size or weighed: mass, weight in water, size, and how fast one falls.
 *
 * Pure arithmetic. Model: docs/models/tackle.md. Tests: tests/tackle/shot_test.c
 */
#ifndef BAITFALL_SHOT_H
#define BAITFALL_SHOT_H

#include "baitfall/fall.h"
#include "baitfall/field.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef enum bf_metal { BF_LEAD, BF_TIN, BF_TUNGSTEN, BF_N_METALS } bf_metal;

/* "lead", "tin", "tungsten", NULL; static. */
extern const char *const bf_metal_words[];

/* One row: `count` equal shot, the lowest at at_m along the line: above the hook, or for back shots above the float. */
typedef struct bf_shot {
    int size;       /* index into bf_shot_sizes; not read when mass_kg is given                     */
    double mass_kg; /* each, weighed, 1e-6 .. 0.05; NaN: by size                                     */
    int metal;      /* bf_metal; -1: not said, then lead up to BF_LEAD_MOST_KG and tin above         */
    int count;      /* 1 .. 40                                                                       */
    double at_m;    /* "above_hook_m", of back shots "above_float_m"                                 */
    double apart_m; /* from one to the next; 0: a bulk, touching each other                          */
} bf_shot;

#define BF_RIG_SHOTS 12 /* rows */
#define BF_RIG_BACK_SHOTS 4

/* Lead weights for fishing lines, by mass: lead only up to 0.06 g or above 28.35 g (1 oz). Local law first.
 *
 * Source:   for Great Britain: supply banned by S.I. 1986/1992 reg. 4 (Control of Pollution (Anglers' Lead Weights)
 *           Regulations 1986, read); the masses in the official rod-fishing rules as copied by a third party and in
 *           a press release of 2011 (both read; the official page itself was not found). One release's gloss "No 6 shot
 *           to 1 oz" disagrees with the masses, by which No 7 and larger are over. */
#define BF_LEAD_MOST_KG 0.06e-3
#define BF_LEAD_FROM_KG 28.35e-3

/* A trade size. Sizes are not a standard: the chart that was read is rounded, and charts differ. least and most are the
 * ends of an 80 % range, the wider of what charts were remembered and 10 % (No 8 and larger), 25 % (smaller) or 20 %
 * (styls) either way (judgement). American letters and numbers are another series: weigh those. */
typedef struct bf_shot_size {
    const char *word;         /* "No 8" */
    double mass_kg;           /* of one, of whatever metal: sizes are kept by mass      */
    double least_kg, most_kg; /* spread of trade charts                                 */
    const char *origin;       /* where the mass is from: read, or memory                */
} bf_shot_size;
extern const bf_shot_size bf_shot_sizes[];
extern const int bf_n_shot_sizes;

/* Index of a size by its word, such as "No 8"; -1: no such size. */
int bf_shot_size_find(const char *word);

/* The words alone, in the same order, NULL-ended; static. */
extern const char *const bf_shot_size_words[];
#define BF_N_SHOT_SIZES 24

extern const bf_table bf_shot_table, bf_back_shot_table;

/* Lead 11340, tin 7287, tungsten 19250 kg/m3 (read, one angling chart; lead there 11342). Tungsten putty is 8000 to 12000
 * (memory) and not among them. metal: a bf_metal, asserted; of a row: bf_shot_metal. */
double bf_metal_density_kg_m3(int metal);

/* The metal of a row, with -1 decided: lead where the published limits let it be, else tin. */
int bf_shot_metal(const bf_shot *shot);

/* 1: lead, and by its mass outside those limits (the charts' own mass for a size, no spread). */
int bf_shot_is_banned_lead(const bf_shot *shot);

/* Mass of one shot of a row, kg; error_z moves it within the charts' spread (0: the chart read; +-1: the ends of its 80 %
 * range, in a straight line on either side). A weighed shot is what it weighs.
 * Example   No 8, 0 -> 6e-5; No 10, -1 -> 3e-5. */
double bf_shot_mass_kg(const bf_shot *shot, double error_z);

/* Diameter of one, taken as a sphere, m. Example   No 8 of lead -> 2.162e-3. */
double bf_shot_diameter_m(const bf_shot *shot, double error_z);

/* Weight of one in water, N: m g (1 - water / metal).
 * Example   No 8 of lead, 999.10 kg/m3 -> 5.3656e-4 N, 0.912 of its weight in air (tin 0.863, tungsten 0.948). */
double bf_shot_weight_n(const bf_shot *shot, double error_z, double water_kg_m3);

/* Weight in water of all shot of the rows, N. */
double bf_shots_weight_n(const bf_shot *shots, int n_rows, double error_z, double water_kg_m3);

/* One shot let go in still water: a sphere for fall.h (bf_fall_speed gives how fast).
 *
 * Validity: free, smooth, round. On a line with a bait it is far slower: light shot sink with the line.
 * Accuracy: within 1 % of the published Clift-Gauvin law's speeds for 30 shot (measured by the test); three laws differ by
 *           up to 2.9 % among themselves.
 * Example   No 8 of lead, 15 C -> 0.834 m/s. */
bf_piece bf_shot_piece(const bf_shot *shot, double error_z, double water_kg_m3, double viscosity_pa_s);

#ifdef __cplusplus
}
#endif
#endif
