/* day.h -- at the peg: wind in words, which place to fish off the plumbed depths, and the first half hour.
 *
 * Pure arithmetic. Rules of thumb of the trade, not models: each is marked so, and the answer says it. Which rig of those
 * carried holds today is computed (suggest.h). Tests: tests/plan/day_test.c
 */
#ifndef BAITFALL_DAY_H
#define BAITFALL_DAY_H

#include "baitfall/quantity.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Wind as an angler says it. Speeds are mean winds over open water; from the classes of the Beaufort scale (WMO, from
 * memory): none 0 to 1, light 2 to 3 at its low end, brisk 4. */
typedef struct bf_wind_word {
    const char *word;
    bf_quantity wind_m_s;
} bf_wind_word;
extern const bf_wind_word bf_wind_words[];
extern const int bf_n_wind_words;

/* Where it comes from, seen by the angler who faces the water. `to_deg` is where it blows to (water.h): 0 out, 90 to the
 * right. "left" comes from the left, so it blows to the right. */
typedef struct bf_wind_side {
    const char *word;
    bf_quantity to_deg;
} bf_wind_side;
extern const bf_wind_side bf_wind_sides[];
extern const int bf_n_wind_sides;

/* A place plumbed at the peg. */
#define BF_DAY_PLACES 6
typedef struct bf_place {
    double distance_m, side_m, depth_m;
    int bottom; /* bf_bottom; -1: not told */
} bf_place;

/* Why a place was chosen. X(name, slug, sentence); {0} {1}: depths or a temperature. All: common practice, no source. */
#define BF_PLACE_WHY_LIST(X)                                                                                 \
    X(BF_WHY_ONLY, "only", "It is the only place within reach.")                                             \
    X(BF_WHY_COLD, "cold", "In cold water ({0:c}) fish lie deep: this is the deepest place.")                \
    X(BF_WHY_OFF_SHELF, "off-shelf",                                                                         \
      "The bottom drops from {0:m} to {1:m} before it: fish patrol the foot of a shelf.")                    \
    X(BF_WHY_WARM, "warm", "In warm water ({0:c}) fish come in to the shallower ground in front of you.")    \
    X(BF_WHY_FLAT, "flat", "No shelf was plumbed: the farthest place disturbs them least.")

typedef enum bf_place_why {
#define BF_WHY_NAME(name, slug, sentence) name,
    BF_PLACE_WHY_LIST(BF_WHY_NAME)
#undef BF_WHY_NAME
        BF_N_WHYS
} bf_place_why;
const char *bf_place_why_slug(bf_place_why why);
const char *bf_place_why_sentence(bf_place_why why);

/* Water below this is cold, above that warm, for where fish lie. Judgement from practice, no source. */
#define BF_COLD_C 8.0
#define BF_WARM_C 16.0
/* A shelf is a drop between neighbours at least this steep and this high. Judgement. */
#define BF_SHELF_SLOPE 0.06
#define BF_SHELF_DROP_M 0.15

typedef struct bf_place_choice {
    int place; /* index into places[]                                          */
    bf_place_why why;
    double number[2];         /* for the sentence                                             */
    int shelf_from, shelf_to; /* the places on either side of the steepest drop; -1: none  */
} bf_place_choice;

/* Chooses among n places those within reach_m (distance along the pole; NaN: all).
 *
 * cold (below BF_COLD_C)  the deepest. warm (above BF_WARM_C) the foot of a shelf, or with none the shallowest place at least
 * half the depth of the deepest. between: the foot of the steepest shelf, or with none the farthest. Temperature NaN: as
 * between. Ties go to the nearer place.
 * Returns 1, or 0 with place -1 when none is within reach. Distances > 0, depths > 0, n 1 .. BF_DAY_PLACES (asserted).
 * Example   2.5 m 0.60, 5 m 1.35, 11.5 m 1.62 m, 11.5 C -> the 5 m place, off the shelf from 0.60 to 1.35. */
int bf_place_choose(const bf_place *places, int n, double reach_m, double temp_c, bf_place_choice *choice);

#ifdef __cplusplus
}
#endif
#endif
