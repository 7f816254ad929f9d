/* world.h -- made-up waters that an angler's way of feeding is tried on: the swim's own model and eight others, one interface.
 *
 * The worlds, after models whose parameters are drawn anew for each seed:
 *     W0  the swim's model itself, parameters from the book                                    own_model.c
 *     W1  other functional forms: power laws, Weibull patience that begins again with each mouthful, a liked size    pond.c
 *     W2  a shoal of single fish in the plane, each with a memory of where food was            shoal.c
 *     W3  W1 with regimes that switch unseen: a front, fish gone, a feeding spell              pond.c
 *     W4  W1 with heavy-tailed parameters, three times off either way                          pond.c
 *     W5  W1 with small nuisance fish, fish that rise off the bottom to falling feed, and a journal with a tenth of bites missing and a
 *         tenth under a wrong word                                                             pond.c
 *     W6  W1 where feed acts 20 minutes late                                                   pond.c
 *     W7  bites by the clock: nothing that is fed matters                                      clockwork.c
 *     W8  the same, but the more was fed, the fewer                                            clockwork.c
 * W1 to W8 are no code of the core's but its random numbers and elementary functions; their numbers are judgement, and none of them was
 * set by how the adviser does there.
 *
 * Luck is keyed by seed and second of the clock, so whatever two anglers do, the same second brings the same luck to both. A world is flat:
 * a copy goes on by itself, as the first would have. Time goes in whole seconds.
 *
 * Test code; pure. */
#ifndef BAITFALL_TESTS_WORLDS_WORLD_H
#define BAITFALL_TESTS_WORLDS_WORLD_H

#include <stddef.h>

#include "baitfall/story.h"

enum { WORLD_SPOTS = 2 };
enum { WORLD_SOFT_TWO, WORLD_HARD_FOUR, WORLD_HARD_SIX, WORLD_FEEDS }; /* feeds of the scene      */
enum { WORLD_SOFT_HOOK, WORLD_BANDED_HOOK, WORLD_HOOKS };              /* hook baits of the scene */

/* What shows: a bite with its outcome, which takes the rig out, or BF_TOUCHED. */
typedef struct world_sign {
    double t_s;
    int outcome;
} world_sign;

typedef struct world_kind {
    const char *name, *what;
    size_t bytes;         /* at most WORLD_BYTES */
    double put_in_s;      /* what a pot takes with the rig out; 0 where nothing that is fed may matter */
    double unseen, wrong; /* shares of bites that are not entered, and that are entered under another word */
    void (*start)(void *world, const bf_swim_scene *scene, uint64_t seed);
    /* An act now: BF_SWIM_FEED, BF_SWIM_IN, or BF_SWIM_LIFT for nothing. */
    void (*act)(void *world, const bf_swim_event *act);
    /* To the whole second to_s, or to what shows before. 1: *sign is written. */
    int (*run)(void *world, double to_s, world_sign *sign);
} world_kind;

enum { N_WORLDS = 9, WORLD_BYTES = 16384 };
extern const world_kind own_model, pond_other_forms, pond_regimes, pond_heavy_tails, pond_meddled, pond_late,
    shoal, clockwork, clockwork_perverse;
extern const world_kind *const world_kinds[N_WORLDS];

/* The scene of a session: two spots, three feeds, two hook baits; water of 9 to 22 C. */
bf_swim_scene world_scene(uint64_t seed);

/* Drawn for a seed: log-normal, eight in ten within the factor `spread` of the middle. which: a number of its own for each draw. */
double world_drawn(uint64_t seed, int which, double middle, double spread);

/* The parameters that W0 is made with: what the adviser with the truth is told. */
void own_model_truth(uint64_t seed, double *of_parameters);

#endif
