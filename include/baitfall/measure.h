/* measure.h -- measurements an angler can make at home, and what they do to the guesses of the catalogue.
 *
 * Each narrows quantities of the angler's own bait, pot or catapult. All four work the same way: 4096 worlds are drawn
 * from the ranges of everything that is uncertain, each world is weighed by how well it explains the readings, and the 10
 * and 90 % points of the weighed worlds are the new range. When few worlds carry the weight, they are drawn anew about
 * where it was, up to 8 times. What was believed of the measured quantity is given one chance in five of being worthless,
 * with the truth anywhere in its usual range, so that good readings win over a wrong guess.
 *
 * Pure; deterministic (no seed is asked for). Model: docs/models/measure.md. Tests: tests/feed/measure_test.c
 */
#ifndef BAITFALL_MEASURE_H
#define BAITFALL_MEASURE_H

#include "baitfall/note.h"
#include "baitfall/scene.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Single pieces let go just under the surface of a jar or bucket and timed to the bottom. */
typedef struct bf_drop_test {
    bf_list time_s;          /* one piece each                                                        */
    bf_quantity height_m;    /* of the fall                                                           */
    bf_quantity vessel_m;    /* inner diameter                                                        */
    bf_quantity temp_c;      /* of the water                                                          */
    bf_quantity late_s;      /* by how much the stopwatch is always late at the end against the start */
    bf_quantity wall_law;    /* 0: Di Felice's law of the wall, 1: Munroe's                           */
    double timing_scatter_s; /* of one reading, one standard deviation                              */
} bf_drop_test;

/* A pot filled level and counted, perhaps several times; perhaps also weighed full of water. */
typedef struct bf_count_test {
    bf_list count;
    double water_kg;           /* of water that fills it level; NaN: not weighed    */
    double count_scatter_frac; /* from filling to filling, one standard deviation   */
} bf_count_test;

/* A handful weighed dry, soaked, blotted, and weighed again after some times. */
typedef struct bf_weigh_test {
    double dry_kg;
    bf_list at_s;
    bf_list wet_kg;          /* at the same places                                                  */
    bf_quantity temp_c;      /* of the soaking water                                                */
    bf_quantity warm_ratio;  /* as in bf_soaking                                                    */
    bf_quantity cling_frac;  /* water still clinging outside at a weighing, over the dry mass       */
    double scale_scatter_kg; /* of one weighing, one standard deviation                             */
} bf_weigh_test;

/* Distances at which single pieces of a pinch, thrown always the same way, met the water. */
typedef struct bf_throw_test {
    bf_list distance_m;
    double tape_scatter_m; /* of one distance, one standard deviation */
} bf_throw_test;

typedef struct bf_measure {
    bf_bait bait;
    bf_pot pot;
    bf_lake lake;
    bf_sling sling;
    bf_drop_test drop;
    bf_count_test count;
    bf_weigh_test weigh;
    bf_throw_test throws;
} bf_measure;

/* A quantity before and after; section and field index the measurement's schema. A BF_REAL field has pm 0 in `was`; its
 * `now.value` is to be kept and `now.pm` tells how well it is known. */
typedef struct bf_before_after {
    int section, field;
    bf_quantity was, now;
} bf_before_after;

#define BF_MOST_CHANGES 4

typedef struct bf_measured {
    int n_changes;
    bf_before_after change[BF_MOST_CHANGES];
    int n_notes;
    bf_note note[BF_MOST_CHANGES];
} bf_measured;

/* One kind of measurement: its word ("drop", "count", "soak", "throw"), what it reads, and how it is done. Those of tackle
 * (tackle_measure.h) are of the same kind with a record of their own.
 *
 * start    fills a record with start values
 * run      record    a bf_measure, checked by bf_schema_check with `in`
 *          work      bf_measure_work_bytes() bytes, 8-aligned
 *          *out      the changes; empty on error
 *          Returns BF_OK, BF_E_COUNT (the lists named in `paired` differ in length or are too short) or BF_E_DATA (no worlds explain the
 *          readings, or only badly, or throws that scatter more than four times as believed: a slip in a reading, or a
 *          start far from the truth).
 *
 * drop     narrows bait.density_kg_m3, and gives bait.density_scatter_kg_m3. What a fall tells is the excess density over the
 *          drag factor, and only that matters for other falls: so the new density is the one that acts so with the published
 *          drag law, bait.drag_law_error becomes exactly 0, and a note gives the range of the real density.
 *          time = height / (speed wall) + 0.75 start + late; wall by bf_wall_factor; a piece's speed goes as its excess
 *          to a local power. Accuracy: 20 times of "hard-4", its size taken with a ruler, narrow 75 to 24 kg/m3 on
 *          average and hold the truth in 81 % of 500 simulated tests (measured).
 * count    narrows pot.volume_m3, pot.settled_frac and bait.diameter_m (pot.h). Weighed water says the volume by itself,
 *          and the count then the size. Accuracy: 77 % of 150 simulated pots held; without water 2.5 becomes only
 *          2.0 ml: the size of a piece is what is not known.
 * soak     narrows bait.uptake_frac and bait.half_uptake_s at 20 C, by Peleg's curve (soak.h). Accuracy: 76 and 79 % of
 *          135 simulated soaks of five weighings held; the uptake's 0.30 becomes 0.05.
 * throw    narrows sling.speed_m_s and gives sling.speed_scatter_frac, by flights (throw.h). Accuracy: 80 % of
 *          40 simulated catapults of eight pieces held; 1.5 becomes 1.0 m/s, limited by the drag of pellets in air. */
typedef struct bf_measurement {
    const char *word;
    const bf_schema *in;
    void (*start)(void *record);
    bf_status (*run)(const void *record, void *work, bf_measured *out);
    const char
        *paired[2];     /* lists of its readings that must be equally long; the second NULL: only one list */
    int least_readings; /* in the first of them */
} bf_measurement;

extern const bf_measurement bf_measurements[];
extern const int bf_n_measurements;

extern const bf_table bf_drop_table, bf_count_table, bf_weigh_table, bf_throws_table;
extern const bf_schema bf_drop_schema, bf_count_schema, bf_weigh_schema, bf_throws_schema;

/* Fills a record with start values; the bait is the catalogue's first entry. */
void bf_measure_start(bf_measure *measure);

/* Bytes of work space of any of these. */
size_t bf_measure_work_bytes(void);

/* Fall speed on the axis of a tube over that in open water; x = piece diameter / tube diameter, below 1.
 *
 * law 0, Di Felice:  ((1 - x) / (1 - 0.33 x))^a,  (3.3 - a) / (a - 0.85) = 0.1 Re
 * law 1, Munroe:     1 - x^1.5
 * and a mixture between: their difference is how well the wall is known.
 *
 * Source:   R. Di Felice, Int. J. Multiphase Flow 22 (1996) 527; H. S. Munroe (1888). Both from memory.
 * Validity: spheres; law 0 for any Re of the free fall, law 1 above about 1000.
 * Accuracy: not checked against measurements, none found; law 0 at Re 0 lies within 2 % of
 *           Faxen's series for creeping flow up to x = 0.1 (measured).
 *           They differ by 2 % at x = 0.05. Example   x 0.05, Re 500, law 0 -> 0.9694. */
double bf_wall_factor(double piece_over_tube, double reynolds, double law);

#ifdef __cplusplus
}
#endif
#endif
