/* simple.h -- what an adviser has to beat: feeding by chance, fixed ways of feeding, simple rules, two learners that know no swim, and one who
 * sees what is to come. */
#ifndef BAITFALL_TESTS_WORLDS_SIMPLE_H
#define BAITFALL_TESTS_WORLDS_SIMPLE_H

#include "worlds/angler.h"

/* Fixed ways: a pot of 0.5, 1.5 or 5 g, of each feed, every 4 or 10 minutes; nothing; a few thrown each minute; the usual at the other spot. */
enum { N_FIXED = 21, USUAL_FIXED = 8 };
rule fixed_rule(int i);

/* All of them: fixed ways first. */
enum { N_RULES = 8, N_SIMPLE = N_FIXED + N_RULES + 4 };
enum {
    SIMPLE_RULES = N_FIXED,
    SIMPLE_RANDOM = N_FIXED + N_RULES,
    SIMPLE_GREEDY,
    SIMPLE_THOMPSON,
    SIMPLE_SEEING
};
const char *simple_words(int i);

/* A whole session by strategy i. Only landed, fed_kg and n_puts of *o are of use afterwards. */
void simple_session(const world_kind *kind, uint64_t seed, int i, outing *o);

#endif
