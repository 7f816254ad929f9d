/* advised.h -- the adviser on the ladder: the belief as the program has it, bf_advise at the phone's setting, asked whenever its own look is due
 * (but not within LEAST_LOOK_S), and followed to the letter. Between two questions fishing goes on by the base policy it named.
 *
 * What it is told is the journal and the scene, as the program would: the usual way and time between put-ins are those of the record. */
#ifndef BAITFALL_TESTS_WORLDS_ADVISED_H
#define BAITFALL_TESTS_WORLDS_ADVISED_H

#include <stdio.h>

#include "baitfall/advise.h"
#include "worlds/angler.h"

#define LEAST_LOOK_S 180.0
enum {
    AGAIN_EACH = 6,
    LARGER = 4,
    SURE_BINS = 2,
    FED_QUARTERS = 4 * SESSION_HOURS
}; /* bins: 0.8 to 0.9, 0.9 to 1 */

typedef enum advised_who {
    ADVISED_BY_BOOK,
    ADVISED_BY_TRUTH,
    N_ADVISED
} advised_who; /* truth: W0's parameters, not its state */

/* What a session came to. */
typedef struct advised {
    int landed[SESSION_HOURS];
    int n_decisions, n_either, n_kept, n_unknown; /* unknown: nothing explained the journal */
    int n_switches,
        n_quiet; /* another thing was said than before; quiet: though nothing had shown in between */
    /* Sure: P(best) is told, 0.8 or more. The first, and each AGAIN_EACH-th of those, is asked again with another seed, of belief and scenarios both. */
    int n_sure, n_again, n_same;
    /* In W0 each of those is put to a belief LARGER times as large, of another seed, on as many times the scenarios, too: by bin of P(best). */
    struct {
        int n, n_kept; /* kept: it advises that very act */
        double said;
    } bin[SURE_BINS];
    /* Advice that is not going on by the base: gain said, and what came of it over going on, in a copy of the world, paired. */
    int n_gains;
    double said, came, said_said, said_came;
    double fed_kg[FED_QUARTERS]; /* by quarter of an hour */
} advised;

typedef struct advised_size {
    int n_sets, n_particles; /* of the belief */
    int n_scenarios, n_run_off;
    int most_decisions; /* afterwards the last rule stays */
} advised_size;

/* As the program is on a phone, with at most 60 decisions. */
static const advised_size advised_phone = {BF_BELIEF_SETS, BF_BELIEF_PARTICLES, BF_ADVISE_PHONE_SCENARIOS,
                                           BF_ADVISE_PHONE_RUN_OFF, 60};

/* tell: where each decision is told in words; NULL: nowhere. */
advised advised_session(const world_kind *kind, uint64_t seed, advised_who who, advised_size size,
                        FILE *tell);

#endif
