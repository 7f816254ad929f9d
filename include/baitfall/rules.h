/* rules.h -- venue rules that a plan can be held against. Everything else a venue says is shown and left to the reader.
 *
 * Pure. Field table: bf_rule_table. Tests: tests/plan/rules_test.c
 *
 * A rule's number is in SI; kinds without a number have limit NaN. What a plan does not say cannot break a rule, but
 * is not called kept either: then the verdict is BF_RULE_LOOK. The venue's own board and local law come first.
 */
#ifndef BAITFALL_RULES_H
#define BAITFALL_RULES_H

#ifdef __cplusplus
extern "C" {
#endif

/* X(name, word, unit of its number: "" none, "n" a count, "m", "kg", "s", "clock" seconds after midnight, "bait" an index of
 * BF_RULE_BAIT_LIST; its sentence: {0} the number, {s} the plural of one that counts). */
#define BF_RULE_LIST(X)                                                                                      \
    X(BF_RULE_BARBLESS, "barbless", "", "Barbless hooks only.")                                              \
    X(BF_RULE_NO_LEAD, "no_lead", "", "No lead shot at all.")                                                \
    X(BF_RULE_NO_FLOATING, "no_floating", "", "No floating baits.")                                          \
    X(BF_RULE_NO_GROUNDBAIT, "no_groundbait", "", "No groundbait.")                                          \
    X(BF_RULE_NO_LIVE, "no_live", "", "No live baits.")                                                      \
    X(BF_RULE_NO_THROW, "no_throw", "", "No catapults.")                                                     \
    X(BF_RULE_NO_POT, "no_pot", "", "No pole pots.")                                                         \
    X(BF_RULE_NO_PELLETS, "no_pellets", "", "No pellets.")                                                   \
    X(BF_RULE_NO_HARD, "no_hard_pellets", "", "No hard pellets.")                                            \
    X(BF_RULE_NO_SOFT, "no_soft_pellets", "", "No soft pellets.")                                            \
    X(BF_RULE_NO_BAIT, "no_bait", "bait", "No {0}.")                                                         \
    X(BF_RULE_POLE_MOST, "pole_most", "m", "No pole longer than {0}.")                                       \
    X(BF_RULE_HOOK_LARGEST, "hook_largest", "n", "No hook larger than size {0}.")                            \
    X(BF_RULE_FEED_MOST, "feed_most", "kg", "No more than {0} of feed.")                                     \
    X(BF_RULE_NETS_MOST, "nets_most", "n", "No more than {0} net{s}.")                                       \
    X(BF_RULE_NET_MOST, "net_most", "kg", "No more than {0} of fish in a net.")                              \
    X(BF_RULE_PELLET_MOST, "pellet_most", "m", "No pellets larger than {0}.")                                \
    X(BF_RULE_FEED_FROM, "feed_from", "clock", "No feeding before {0}.")                                     \
    X(BF_RULE_FEED_UNTIL, "feed_until", "clock", "No feeding after {0}.")                                    \
    X(BF_RULE_FEED_LAST, "feed_last", "s", "No feeding in the last {0}.")

/* Baits that venues bar by name: X(stem, as it is said). A bait of a plan is one when its name holds the stem, whatever the capitals. */
#define BF_RULE_BAIT_LIST(X)                                                                                 \
    X("maggot", "maggots")                                                                                   \
    X("caster", "casters")                                                                                   \
    X("worm", "worms")                                                                                       \
    X("meat", "meat")                                                                                        \
    X("corn", "sweetcorn")                                                                                   \
    X("hemp", "hemp")                                                                                        \
    X("bread", "bread")                                                                                      \
    X("paste", "paste")                                                                                      \
    X("boilie", "boilies")                                                                                   \
    X("nut", "nuts")                                                                                         \
    X("cheese", "cheese")                                                                                    \
    X("biscuit", "biscuits")

typedef enum bf_rule_kind {
#define BF_RULE_NAME(name, word, unit, sentence) name,
    BF_RULE_LIST(BF_RULE_NAME)
#undef BF_RULE_NAME
        BF_N_RULES
} bf_rule_kind;

typedef struct bf_rule {
    int kind;     /* bf_rule_kind                       */
    double limit; /* SI, a count, a hook size, an index; NaN: none */
} bf_rule;

/* Words in order, NULL-ended; the unit of a kind's number ("" when it has none); its sentence. Static. */
extern const char *const bf_rule_words[];
const char *bf_rule_unit(int kind);
const char *bf_rule_sentence(int kind);

#define BF_RULE_COUNT_BAIT(stem, said) +1
#define BF_RULE_N_BAITS (0 BF_RULE_BAIT_LIST(BF_RULE_COUNT_BAIT))
extern const char *const bf_rule_stems[BF_RULE_N_BAITS], *const bf_rule_baits[BF_RULE_N_BAITS];

/* What a plan says of itself. Unknown numbers are NaN, unknown answers -1. */
typedef struct bf_rule_facts {
    int is_barbless;  /* 1, 0, -1: not said                    */
    int has_lead;     /* 1: a rig carries lead shot            */
    int has_floating; /* 1: a bait is lighter than water       */
    int has_groundbait, has_live, has_throw;
    double pole_m;       /* the longest reach, of pole or spots    */
    double hook_size;    /* the largest hook's number (smallest figure); NaN: no rig */
    double feed_kg;      /* the high end of what goes in           */
    double nets, net_kg; /* how many, and what each is to hold     */
    int has_pot, has_pellets, has_hard,
        has_soft;                     /* pellets; those dry or only glazed; those soaked         */
    int is_bait[BF_RULE_N_BAITS];     /* of BF_RULE_BAIT_LIST; -1: a bait's name does not tell   */
    double pellet_m;                  /* the largest pellet, at the low end of its range         */
    double feed_from_s, feed_until_s; /* first and last put-in, seconds after the midnight before the start */
    double feed_spare_s;              /* from the last put-in to the end of the session          */
} bf_rule_facts;

/* A pellet's label understates its size by up to this (docs/models/bait.md); between a limit and so much more only the label tells. */
#define BF_RULE_LABEL_MOST 1.2

typedef enum bf_verdict { BF_RULE_KEPT, BF_RULE_BROKEN, BF_RULE_LOOK, BF_N_VERDICTS } bf_verdict;
extern const char *const bf_verdict_words[]; /* "kept", "broken", "look" */

/* Example   pole_most 13 m, pole 11.5 m -> kept; 14.5 m -> broken; not said -> look.
 *           feed_until 13:00, start at 9:00 and the last put-in after 4 h 10 min -> broken. */
bf_verdict bf_rule_check(const bf_rule *rule, const bf_rule_facts *facts);

#ifdef __cplusplus
}
#endif
#endif
