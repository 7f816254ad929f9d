/* tackle_measure.h -- measurements of tackle and aim at home: float, elastic, line, shot, and how well one hits.
 *
 * Of the same kind as those of bait and pot (measure.h). Float, elastic and line are weighed worlds as there; shot and aim are
 * closed forms. Pure; deterministic. Model: docs/models/tackle.md. Tests: tests/tackle/tackle_measure_test.c
 */
#ifndef BAITFALL_TACKLE_MEASURE_H
#define BAITFALL_TACKLE_MEASURE_H

#include "baitfall/measure.h"
#include "baitfall/stand.h"

#ifdef __cplusplus
extern "C" {
#endif

/* A float shotted in a tube or bucket until the water stands where the bristle begins. */
typedef struct bf_tube_test {
    bf_list took_kg;       /* dry mass of the shot, one number a try                            */
    int metal;             /* bf_metal of that shot                                             */
    bf_quantity mass_frac; /* its real mass over what was said: 1 +- 0.10 by trade size, weighed exactly 1 */
    double try_scatter_kg; /* from try to try, one standard deviation                           */
} bf_tube_test;

/* Weights hung on a piece of elastic, and how long it then was; ever heavier, not taken off between. */
typedef struct bf_pull_test {
    bf_list load_kg;
    bf_list long_m;          /* at the same places                                   */
    double rest_m;           /* its length with nothing on it                        */
    double scale_scatter_kg; /* of one weight, one standard deviation                */
    double tape_scatter_m;   /* of one length, one standard deviation                */
    double law_scatter_frac; /* of the pull off the rubber law's shape, one standard deviation */
} bf_pull_test;

/* Which line of the rig was broken. */
typedef enum bf_which_line { BF_THE_HOOKLENGTH, BF_THE_MAIN_LINE } bf_which_line;

/* Loads at which pieces of a line broke, wet and knotted as they are fished. */
typedef struct bf_break_test {
    bf_list broke_kg;         /* by a spring balance or the weights hung: a mass                */
    int of;                   /* bf_which_line                                                  */
    double knot_scatter_frac; /* from knot to knot, one standard deviation                      */
    bf_quantity balance_frac; /* real pull over what the balance says                           */
} bf_break_test;

/* Some shot of one size on the scales together. */
typedef struct bf_heap_test {
    int size; /* index into bf_shot_sizes */
    double count;
    double together_kg;
    double scale_scatter_kg; /* of the weighing, one standard deviation */
} bf_heap_test;

/* Drops at a ring on the water (or at a mark): where each came down against its middle. */
typedef struct bf_ring_test {
    bf_list out_m;   /* beyond it, below 0 short of it                                   */
    bf_list right_m; /* to the angler's right, at the same places                        */
    bf_list
        held_m; /* how far the tip was off its place, now and then while holding still; none: not looked at */
    double distance_m; /* from the angler to the ring                                      */
} bf_ring_test;

/* What is measured, and the readings. A float, a line and shot are measured as parts of a rig. */
typedef struct bf_tackle_measure {
    bf_rig rig;
    bf_elastic elastic;
    bf_aim aim;
    bf_tube_test tube;
    bf_pull_test pull;
    bf_break_test broke;
    bf_heap_test heap;
    bf_ring_test ring;
} bf_tackle_measure;

extern const bf_table bf_tube_table, bf_pull_table, bf_break_table, bf_heap_table, bf_ring_table;
extern const bf_schema bf_tube_schema, bf_pull_schema, bf_break_schema, bf_heap_schema, bf_ring_schema;

void bf_tackle_measure_start(bf_tackle_measure *measure);

/* Bytes of work space of any of these. */
size_t bf_tackle_measure_work_bytes(void);

/* The measurements, over bf_tackle_measure (measure.h says what each function does). Sections: "rig" with its parts
 * (BF_RIG_PARTS) for float, break and weigh; "elastic"; "aim"; and "readings".
 *
 * float    gives rig.float.capacity_kg and narrows capacity_frac, which is against it from then on: took = capacity x capacity_frac
 *          x (what the shot's metal weighs in water, in lead) / mass_frac. Two tries with shot by trade size make 12 % about
 *          8 %, weighed about 3 % (measured): weigh the shot.
 * pull     narrows elastic.force_frac: load g = area x stress(long / rest) x force_frac (elastic.h). Five weights make 25 %
 *          about 6 % (measured); the rest is the law's shape. A length that is not longer than at rest is refused
 *          (BF_E_DATA), and so are weights that do not get heavier (BF_E_RANGE): on the way back rubber pulls less.
 * break    gives break_n and narrows strength_frac of rig.hooklength or rig.line, against it from then on, for the next knot:
 *          what is known of the middle and, on top, how knots differ. Five breaks make 32 % about 13 % (measured).
 * weigh    narrows rig.shot_error, where the rig's shot lie in the trade charts' spread: what was believed and what the scales
 *          say of this size, each weighted by how well it is known, and on top 0.3 since other sizes may lie otherwise
 *          (judgement). The note gives the mass itself. A mass more than three ranges off the chart is refused: such shot
 *          are of another series, to be given by their mass.
 * aim      gives aim.ship_m and aim.bearing_deg: the value is the mean of n offsets, what one is off by always; the give or
 *          take holds the next drop 8 times in 10,
 *
 *              pm = t(0.9; n - 1) sqrt(s^2 - u^2 + s^2/n),     bearing: atan(pm / distance)
 *
 *          t being Student's, which is the normal's spread over the chi-square that n - 1 degrees of freedom leave of s.
 *          u, the standard deviation of steady_m, scatters every drop too and is taken out (u^2 at most 3/4 s^2). With
 *          held_m it is measured first: both axes together, 2m degrees of freedom. A note gives the chi-square's own 80 %
 *          range of the scatter along the pole. Accuracy: from 6 drops 80 % of next drops held in simulated tests, from 3
 *          drops 78 %, since taking u out makes little of few readings (measured). Below 3 drops: BF_E_COUNT.
 * Source:  normal theory, textbook; the scatters are judgement. */
extern const bf_measurement bf_tackle_measurements[];
extern const int bf_n_tackle_measurements;

#ifdef __cplusplus
}
#endif
#endif
