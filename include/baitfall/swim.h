/* swim.h -- one peg's spots as a stochastic model in continuous time: fish near and on the bait, feed on the bed by size,
 * hunger, wariness, nuisance fish; what a rig lowered there would show.
 *
 * What this is: a model with priors that learns from the user's log. It is not a measurement; most of its numbers are
 * judgement. docs/models/swim.md says for each where it comes from and what was held out to test it.
 *
 * Parameters: those of BF_SWIM_PARAMETER_LIST are learned (belief.h, learn.h); all others are fixed in core/swim/fixed.h.
 * Tests: tests/swim/model_test.c, facts_test.c, fish_test.c
 */
#ifndef BAITFALL_SWIM_H
#define BAITFALL_SWIM_H

#include "baitfall/story.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Raised whenever the model's numbers or a snapshot's bytes change; part of a snapshot's key. */
#define BF_SWIM_VERSION 3

/* X(name, unit, middle, spread, level, why): the learned parameters. All are positive and log-normal: `middle` the
 * median, `spread` the factor by which 8 in 10 lie up or down; `level` V: of the venue and its stock, A: of the angler,
 * D: of the day, part of the variance that is new each day (learn.h). Where each comes from: docs/models/swim.md. */
#define BF_SWIM_PARAMETER_LIST(X)                                                                            \
    X(STOCK, "fish", 20, 3, D, "fish within reach of the peg today")                                         \
    X(SMELL, "1/s", 2.5e-3, 3, V, "coming to feed on the bed at its full smell, each fish near")             \
    X(SPLASH, "1/s", 2e-3, 3, V, "coming to the noise of a put-in")                                          \
    X(COME, "1/s", 5e-5, 6, D, "coming without any cue to where it was fed, each fish near")                 \
    X(LEAVE, "1/s", 1.5e-3, 2.5, V, "leaving a clean bottom")                                                \
    X(SEARCH, "m2/s", 0.02, 2, V, "area one fish searches for 4 mm pieces")                                  \
    X(HANDLE, "s", 6, 2, V, "time to take and sort a 4 mm piece")                                            \
    X(TAKE, "1", 0.25, 1.7, D, "share of hook baits met that are taken")                                     \
    X(LINE, "m2/s", 3.5e-4, 2.5, V, "fish against the line")                                                 \
    X(CROWD, "1", 0.6, 2, V, "what a crowd on small feed costs a strike")                                    \
    X(FOUL, "1", 0.07, 2, V, "how easily a missed strike hooks a fish outside")                              \
    X(KNOCK, "1", 0.2, 2.5, A, "touches seen and logged for each hook bait met")                             \
    X(WARY, "1", 1, 2, V, "how much a fish hooked or lost frightens the others")                             \
    X(NUISANCE, "fish", 3, 4, D, "small nuisance fish on the spot")                                          \
    X(NEAR, "1", 1, 1.6, A, "how near the pile the hook bait lies, against the aim's own figure")            \
    X(HOLD, "1", 1, 1.8, A,                                                                                  \
      "how much oftener the middle of the top lip is the hold when there is little feed about")              \
    X(APPETITE, "1", 1, 6, D, "appetite of the day: odds against none at all")

typedef enum bf_swim_parameter {
#define BF_SWIM_NAME(name, unit, middle, spread, level, why) BF_SWIM_##name,
    BF_SWIM_PARAMETER_LIST(BF_SWIM_NAME)
#undef BF_SWIM_NAME
        BF_SWIM_N_PARAMETERS
} bf_swim_parameter;

/* One set of parameters, in the units of the list. */
typedef struct bf_swim_set {
    double of[BF_SWIM_N_PARAMETERS];
} bf_swim_set;

/* What is believed of the parameters before a session: logarithms independent and normal. The book's: bf_swim_book. */
typedef struct bf_swim_prior {
    double mean[BF_SWIM_N_PARAMETERS]; /* of the natural logarithm */
    double sd[BF_SWIM_N_PARAMETERS];
    int n_sessions; /* learned from; 0: the book alone */
} bf_swim_prior;

bf_swim_prior bf_swim_book(void);

/* Words, units, middles of the list for text and docs; static. */
typedef struct bf_swim_named {
    const char *name, *unit, *why;
    double middle, spread;
    char level; /* 'V', 'A', 'D' */
} bf_swim_named;
extern const bf_swim_named bf_swim_parameters[BF_SWIM_N_PARAMETERS];

/* Set i of n drawn from the prior: a Latin hypercube (each parameter's n strata are each hit once), so a bank covers the prior
 * evenly; a function of (seed, i, n). */
bf_swim_set bf_swim_drawn_set(const bf_swim_prior *prior, uint64_t seed, int i, int n);

/* ---- What is published of fish (fish.c; checked against the rows in tests/swim/fish_test.c) ---- */

/* Relative appetite of carp at a water temperature, as a share of the most,
 *
 *     f = (Tm - T)/(Tm - To) ((T - T0)/(To - T0))^((To - T0)/(Tm - To)),   T0 = 6, To = 26.75, Tm = 38 C
 *
 * but at least 0.02, also outside: carp do take a few baits in cold water (from memory).
 *
 * Source:    form of Yan and Hunt (from memory), fitted to the best growth of Goolish & Adelman 1984 (Aquaculture 36);
 *            growth stands in for appetite, Tm is assumed.
 * Accuracy:  judgement: growth of juveniles is not an angler's bites. Its peak lies between the published 24 C (feeding rate,
 *            Oyugi 2012) and 27 C (scope for growth).
 * Example    bf_fish_appetite(20) = 0.774. NaN gives 0.02. */
double bf_fish_appetite(double temp_c);

/* Maintenance ration of juvenile carp, fraction of body weight a day: 0.00150 exp(0.0857 T), 12 to 30 C.
 *
 * Source:    least squares on the four values of Goolish & Adelman 1984; within 7 % of each (18 C is the worst).
 * Example    bf_fish_maintenance(20) = 0.0083. */
double bf_fish_maintenance(double temp_c);

/* Mass of a fish from its length, W[g] = a L[cm]^b. The length is measured as the source did: carp to the tip of the tail,
 * bream to its root (standard), tench to its fork. Never mix them.
 *
 * Source:    carp Bister et al. 2000 (75th percentile, from 20 cm); bream Khristenko & Kotovska 2017; tench Balik et al.
 *            2009 (9 to 37 cm).
 * Accuracy:  condition alone moves it by a fifth.
 * Example    bf_fish_mass_kg(BF_CARP, 0.30) = 0.393. */
typedef enum bf_fish { BF_CARP, BF_BREAM, BF_TENCH, BF_N_FISH } bf_fish;
double bf_fish_mass_kg(bf_fish fish, double length_m);

/* Oxygen in fresh water that is in balance with air at 1 atm, kg/m3; 0 to 40 C.
 *
 * Source:    Benson & Krause 1984 in the form of the American public health handbook (read in a hydrology manual).
 * Example    bf_fish_oxygen_kg_m3(20) = 9.092e-3, that is 9.092 mg/l. Keep no fish in nets below 5 mg/l (cautious rule, from
 *            memory). */
double bf_fish_oxygen_kg_m3(double temp_c);

#ifdef __cplusplus
}
#endif

#endif
