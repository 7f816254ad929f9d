/* scene.h -- one put-in and everything it meets: the record that the feed commands answer for.
 *
 * Each command reads some of its sections; the rest keep their start values. Flat records; units, accepted ranges and
 * start values of each field are in the tables. Axes: x out from the bank, y to the angler's right, z down.
 * Tests: tests/feed/bait_test.c
 */
#ifndef BAITFALL_SCENE_H
#define BAITFALL_SCENE_H

#include "baitfall/bait.h"
#include "baitfall/choice.h"
#include "baitfall/ensemble.h"
#include "baitfall/water.h"

#ifdef __cplusplus
extern "C" {
#endif

/* One aimed-at place. x out from the bank, y to the angler's right, z down. */
typedef struct bf_spot {
    bf_quantity distance_m;
    bf_quantity side_m;
    bf_quantity depth_m;
    bf_quantity slope_deg; /* above 0 deepens outward */
    int bottom;            /* bf_bottom; -1: not told */
} bf_spot;

/* The cup near the pole tip, and how full it goes out. */
typedef struct bf_pot {
    bf_quantity volume_m3;
    bf_quantity mouth_m;      /* inner diameter, taken as the same all the way down */
    bf_quantity fill_frac;    /* of the struck volume; above 1 when heaped          */
    bf_quantity behind_tip_m; /* how far the cup sits behind the tip                */
    bf_quantity wall_law; /* 0: Dixon's packing law, 1: Benyahia & O'Neill's; between: a mixture (pot.h) */
    bf_quantity settled_frac; /* pieces held against that law: below 1 poured gently, above 1 tapped */
} bf_pot;

/* A pot known by a word: "small", "medium", "large". */
typedef struct bf_pot_entry {
    const char *word;
    const char *title;
    bf_pot pot;
    const char *origin;
} bf_pot_entry;

extern const bf_pot_entry bf_pots[];
extern const int bf_n_pots;

typedef struct bf_put {
    int how;                   /* bf_how                                                                  */
    double count;              /* pieces; NaN: as many as the pot holds                                   */
    bf_quantity over_s;        /* sprinkle: from the first piece to the last                              */
    bf_quantity wide_m;        /* sprinkle, hand: diameter on the surface that holds nine pieces in ten   */
    bf_quantity height_m;      /* of the pot's mouth or hand above the water                              */
    bf_quantity offset_out_m;  /* where it is released against where it was meant to: outward            */
    bf_quantity offset_side_m; /* ... and to the right                                                  */
    bf_quantity widening_frac; /* clump: how fast a falling cloud's radius grows with depth (cloud.h)     */
    bf_quantity wander_frac;   /* sideways wander of a falling piece against the fitted one (spread.h)    */
} bf_put;

/* A pinch thrown by catapult. */
typedef struct bf_sling {
    bf_quantity speed_m_s;     /* as it leaves                                                       */
    bf_quantity angle_deg;     /* above the horizontal                                               */
    bf_quantity height_m;      /* above the water                                                    */
    double speed_scatter_frac; /* piece to piece, one standard deviation                             */
    double angle_scatter_deg;
    double bearing_scatter_deg;
} bf_sling;

/* A soak: how long under water, how warm, how long drained before use. */
typedef struct bf_soaking {
    bf_quantity for_s;
    bf_quantity temp_c;
    bf_quantity stand_s;
    bf_quantity warm_ratio;   /* how much faster water goes in at 20 C than at 10 C          */
    bf_quantity soft_at_frac; /* part of the final uptake at which a place in it feels soft  */
} bf_soaking;

/* A pot once counted: so many pieces of `bait` filled it level. A count of 0: never counted. */
typedef struct bf_counted {
    bf_quantity count;
    bf_bait bait;
    int is_bait_asked; /* 1: it is the very bait that is asked for, so both are wrong by the same; bf_scene_settle */
} bf_counted;

typedef struct bf_scene {
    bf_bait bait;
    bf_lake lake;
    bf_spot spot;
    bf_pot pot;
    bf_put put;
    bf_sling sling;
    bf_soaking soaking;
    bf_counted counted;
} bf_scene;

extern const bf_table bf_spot_table, bf_pot_table, bf_put_table, bf_sling_table, bf_soaking_table,
    bf_counted_table;

/* bf_put_table without offset_out_m and offset_side_m, in two parts: what stands before them and after. */
extern const bf_table bf_put_way_table, bf_put_fall_table;

/* Schemas over bf_scene, one a command. Request paths: "bait", "water" (the lake and the spot's depth and
 * slope alike), "pot", "put", "sling", "soak", "counted", "counted.bait". */
extern const bf_schema bf_fall_schema, bf_pot_schema, bf_soak_schema, bf_throw_schema, bf_spread_schema;

/* Pieces thrown or given by hand when nobody says how many: a pinch, or one squeezed ball. */
#define BF_PINCH 24
int bf_handful(const bf_bait *bait);

/* Pieces of one put-in: as many as `put.count` says, else by pot as many as it holds, else a handful. */
double bf_put_pieces(const bf_scene *scene, double pot_holds);

/* What follows from the inputs once they are read: counted.is_bait_asked. */
void bf_scene_settle(bf_scene *scene);

/* Fills a scene with start values; both baits are the catalogue's first entry. */
void bf_scene_start(bf_scene *scene);

#ifdef __cplusplus
}
#endif
#endif
