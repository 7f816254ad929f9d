/* plan.h -- a plan: every line of feed and every spot's rig through the same models, and the box against their sum.
 *
 * A plan says which water, baits, pots, rigs and spots there are, and for each line of feed what goes in where, how, from
 * when to when and how often. The answer says for one put-in of each line how many pieces that is, how long they
 * fall and where they lie; for each bait what goes in altogether and whether the box holds it; and each spot is a
 * bf_stand (stand.h), which rig, lay, aim and the suggestions answer for.
 *
 * Pure arithmetic; no allocation. Records are flat: spots, baits, pots, rigs and throws are named by index.
 *
 * Model     A line of feed is one bf_scene (scene.h): the lake, the spot, its pot, the line's bait and put. One put-in
 *           is answered by the models of spread, pot and fall (docs/models/spread.md and so on). Times are exact arithmetic:
 *           put-ins at from_s, from_s + every_s, ... up to and including to_s.
 * Spots     A spot's stand is what is fed there first (the first of its lines), fished over by its rig.
 * Not in it Fishing in mid-water; fish that eat the feed; other anglers; weed. Put-ins do not change each other.
 * Sums      All lines share their draws, so the errors of two lines add up as they would for the same water, bait
 *           and pot. Two different pots or spots are then taken to be wrong by the same luck, which widens a sum a little.
 * Accuracy  that of spread.h, pot.h and fall.h; counts that the plan gives are exact.
 * Amounts   of the box and the lines are of the bait as its entry says it goes in: soaked micros weigh soaked.
 *
 * Tests: tests/plan/plan_test.c
 */
#ifndef BAITFALL_PLAN_H
#define BAITFALL_PLAN_H

#include "baitfall/note.h"
#include "baitfall/rigset.h"
#include "baitfall/spread.h"
#include "baitfall/stand.h"

#ifdef __cplusplus
extern "C" {
#endif

#define BF_PLAN_BAITS 16
#define BF_PLAN_POTS 8
#define BF_PLAN_SLINGS 8
#define BF_PLAN_ELASTICS 8
#define BF_PLAN_RIGS 16
#define BF_PLAN_AIMS 4
#define BF_PLAN_SPOTS 8
#define BF_PLAN_LINES 32

/* What is said of the whole plan. */
typedef struct bf_plan_whole {
    double pole_m; /* the longest reach of the pole that is taken; NaN: not said */
} bf_plan_whole;

/* What is used at a spot; where it is, is a bf_spot. */
typedef struct bf_plan_spot {
    int pot;       /* index into pot[], -1: the first pot, or a start value when there is none */
    int rig;       /* index into rig[], -1: to be suggested                                    */
    int hook_bait; /* index into hook_bait[], -1: what is fed there first                      */
    bf_quantity overdepth_m, tip_height_m; /* of its hold (stand.h); the rest has start values */
    bf_aim aim;
} bf_plan_spot;

/* A line of feed; how it goes in is a bf_put. At most one of the put's count, volume_m3 and fill_frac is given; none:
 * the spot's pot as full as the pot says. */
typedef struct bf_plan_line {
    int spot;         /* index into spot[], must be given                                               */
    int bait;         /* index into bait[], must be given                                               */
    int sling;        /* how throw: index into sling[], -1: the first, or a start value                 */
    double volume_m3; /* loose volume of a put-in; NaN: not given                                       */
    double fill_frac; /* of the struck pot; NaN: not given                                              */
    double from_s;    /* first put-in, since the start of the session                                   */
    double to_s;      /* last put-in at the latest; NaN: the end of the session, or from_s when once    */
    double every_s;   /* from one put-in to the next; NaN: once                                         */
} bf_plan_line;

/* What is in the box of one bait: exactly one of the three. */
typedef struct bf_plan_box {
    int bait;         /* index into bait[], must be given; each bait at most once */
    double mass_kg;   /* NaN: not given                                           */
    double volume_m3; /* loose; NaN: not given                                    */
    double count;     /* NaN: not given                                           */
} bf_plan_box;

typedef struct bf_plan_session {
    double hours;
    double starts_ms; /* an instant; NaN: not said */
} bf_plan_session;

typedef struct bf_plan_nets {
    double limit_kg; /* of fish in one net; NaN: not said */
    double count;    /* NaN: not said                     */
} bf_plan_nets;

typedef struct bf_plan {
    bf_plan_whole whole;
    bf_lake lake;
    int n_baits, n_hook_baits, n_pots, n_slings, n_elastics, n_rigs, n_aims, n_spots, n_lines, n_box;
    bf_bait bait[BF_PLAN_BAITS];
    bf_bait hook_bait[BF_PLAN_BAITS];
    bf_pot pot[BF_PLAN_POTS];
    bf_sling sling[BF_PLAN_SLINGS];
    bf_elastic elastic[BF_PLAN_ELASTICS];
    bf_rig rig[BF_PLAN_RIGS + 1]; /* the kit's, and room for one made for an unknown peg */
    bf_aim aim[BF_PLAN_AIMS];
    bf_spot spot[BF_PLAN_SPOTS];
    bf_plan_spot spot_use[BF_PLAN_SPOTS];
    bf_put put[BF_PLAN_LINES];
    bf_plan_line line[BF_PLAN_LINES];
    bf_plan_box box[BF_PLAN_BAITS];
    bf_plan_session session;
    bf_plan_nets nets;
    int has_unknown_peg;
    bf_unknown_peg unknown_peg;
} bf_plan;

/* Sections: the whole's at the root, "water", the lists of the "kit", "spots" and "feed" (two tables each, a key is looked
 * for in both; "aim" is a part of a spot), "box", "session", "session.nets"; and in the second schema, for plans that have
 * one, "unknown_peg". A BF_REF field names the section whose ids it refers to. */
extern const bf_schema bf_plan_schema, bf_plan_schema_with_peg;

/* Section numbers. */
enum {
    BF_PLAN_WHOLE,
    BF_PLAN_WATER,
    BF_PLAN_KIT_BAITS,
    BF_PLAN_KIT_HOOK_BAITS,
    BF_PLAN_KIT_POTS,
    BF_PLAN_KIT_THROWS,
    BF_PLAN_KIT_ELASTICS,
    BF_PLAN_KIT_RIGS,
    BF_PLAN_KIT_AIMS,
    BF_PLAN_SPOT,
    BF_PLAN_SPOT_USE,
    BF_PLAN_PUT,
    BF_PLAN_LINE,
    BF_PLAN_BOX,
    BF_PLAN_SESSION,
    BF_PLAN_NETS,
    BF_PLAN_UNKNOWN_PEG
};

/* Checks the tables and what they cannot say: indices in range, at most one amount a line, to_s not before from_s, one
 * amount a box row, no bait twice in the box. *fault always written. Returns the fault's status: those of
 * bf_schema_check, BF_E_TWICE (a second amount; a bait a second time), BF_E_MISSING (a box row without an amount). */
BF_CHECK bf_status bf_plan_check(const bf_plan *plan, bf_fault *fault);

/* How many put-ins a line makes, and when the last one is (*last_s may be NULL).
 *
 * Example   from 0 to 3600 every 600 -> 7, the last at 3600. */
int bf_plan_times(const bf_plan *plan, int line, double *last_s);

/* One put-in of a line, ready for the ensemble. */
typedef struct bf_plan_put {
    bf_scene scene;      /* first: the sections of bf_spread_schema lie in it                             */
    int is_measured_out; /* 1: the put-in is as many pieces as fill the scene's pot, even thrown by hand */
    bf_schema schema;    /* bf_spread_schema over this record                                             */
} bf_plan_put;

/* Fills *put for a line of a checked plan. */
void bf_plan_put_in(const bf_plan *plan, int line, bf_plan_put *put);

/* A spot of a checked plan as a stand, not settled: its rig if it has one, else start values; the put-in of its first line
 * of feed. The hook bait that is not named is what that line feeds, else the kit's first, else a start value.
 * Returns the line, -1: nothing is fed there, and then the stand's bait and put have no meaning. */
int bf_plan_stand(const bf_plan *plan, int spot, bf_stand *stand);

/* One put-in, in the order the model writes it: everything spread answers, then the amounts. */
typedef struct bf_plan_put_out {
    bf_spread_out bed;
    double time_s;    /* the middle piece, surface to bottom, hanging not counted; NaN: it floats */
    double pieces;    /* as many as the line says, as the pot holds, or a pinch                   */
    double holds;     /* as many as the pot holds as full as it goes out; NaN: no pot is used     */
    double mass_kg;   /* of the pieces                                                            */
    double volume_m3; /* loose, as they lie in the pot; NaN: a piece does not go in               */
} bf_plan_put_out;

#define BF_PLAN_N_OUT ((int)(sizeof(bf_plan_put_out) / sizeof(double)))

/* Columns of bf_plan_put_out after those of spread. */
enum {
    BF_PLAN_TIME = (int)(sizeof(bf_spread_out) / sizeof(double)),
    BF_PLAN_PIECES,
    BF_PLAN_HOLDS,
    BF_PLAN_MASS,
    BF_PLAN_VOLUME
};

/* Name, unit and help of the columns from BF_PLAN_TIME on, in order; those before are bf_spread_out_table. */
extern const bf_table bf_plan_put_out_table;

/* The ensemble of one line: BF_PLAN_N_OUT outputs; n_raw columns behind them are left as they are. *put must outlive it. */
bf_ensemble bf_plan_ensemble(const bf_plan_put *put, int n_raw, uint64_t seed, int n_draws);

/* Draws of a line when nobody says. */
#define BF_PLAN_DRAWS_START 512

/* What one bait comes to over the whole plan. */
typedef struct bf_plan_supply {
    int n_put_ins; /* over all lines                                                         */
    bf_range pieces, mass_kg, volume_m3;
    bf_range pieces_per_h; /* pieces over session.hours                                              */
    int box;               /* its box row, -1: nothing said                                          */
    int unit;              /* the box row's: BF_PLAN_PIECES, BF_PLAN_MASS or BF_PLAN_VOLUME; else -1 */
    bf_range left;         /* in that unit; below 0: short                                           */
    double enough_frac;    /* part of the draws in which the box is enough; NaN without a box        */
} bf_plan_supply;

/* Sums a bait's lines draw by draw.
 *
 * rows     (in n_lines x n_draws x n_columns) what bf_ensemble_range wrote for line 0, then line 1 ...
 * nominal  (in n_lines x BF_PLAN_N_OUT)
 * work     n_draws doubles
 * A draw in which a line has no answer (NaN) is left out. */
void bf_plan_sum(const bf_plan *plan, int bait, const double *rows, int n_columns, const double *nominal,
                 int n_draws, double *work, bf_plan_supply *supply);

/* Remarks on a line: those of spread, and that the pot does not hold what the line says. At most BF_MOST_NOTES;
 * returns how many. `result` from bf_ensemble_finish of bf_plan_ensemble. */
int bf_plan_notes(const bf_plan_put *put, const bf_ensemble_result *result, bf_note notes[BF_MOST_NOTES]);

/* The remark on when a line goes in against the length of the session; returns how many, at most 1. */
int bf_plan_time_notes(const bf_plan *plan, int line, bf_note *notes);

#ifdef __cplusplus
}
#endif
#endif
