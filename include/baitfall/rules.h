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

/* X(name, word, unit of its number: "" none, "n" a count, "m", "kg", "kg_lead")
 * The words are what a plan's rule is written with: {"rule":"nets_most","limit":2}. */
#define BF_RULE_LIST(X)                                                                                      \
    X(BF_RULE_BARBLESS, "barbless", "", "Barbless hooks only.")                                              \
    X(BF_RULE_NO_LEAD, "no_lead", "", "No lead shot at all.")                                                \
    X(BF_RULE_NO_FLOATING, "no_floating", "", "No floating baits.")                                          \
    X(BF_RULE_NO_GROUNDBAIT, "no_groundbait", "", "No groundbait.")                                          \
    X(BF_RULE_NO_LIVE, "no_live", "", "No live baits.")                                                      \
    X(BF_RULE_NO_THROW, "no_throw", "", "No catapults.")                                                     \
    X(BF_RULE_POLE_MOST, "pole_most", "m", "No pole longer than {0}.")                                       \
    X(BF_RULE_HOOK_LARGEST, "hook_largest", "n", "No hook larger than size {0}.")                            \
    X(BF_RULE_FEED_MOST, "feed_most", "kg", "No more than {0} of feed.")                                     \
    X(BF_RULE_NETS_MOST, "nets_most", "n", "No more than {0} nets.")                                         \
    X(BF_RULE_NET_MOST, "net_most", "kg", "No more than {0} of fish in a net.")

typedef enum bf_rule_kind {
#define BF_RULE_NAME(name, word, unit, sentence) name,
    BF_RULE_LIST(BF_RULE_NAME)
#undef BF_RULE_NAME
        BF_N_RULES
} bf_rule_kind;

typedef struct bf_rule {
    int kind;     /* bf_rule_kind                       */
    double limit; /* SI, a count, a hook size; NaN: none */
} bf_rule;

/* Words in order, NULL-ended; the unit of a kind's number ("" when it has none); its sentence. Static. */
extern const char *const bf_rule_words[];
const char *bf_rule_unit(int kind);
const char *bf_rule_sentence(int kind);

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
} bf_rule_facts;

typedef enum bf_verdict { BF_RULE_KEPT, BF_RULE_BROKEN, BF_RULE_LOOK, BF_N_VERDICTS } bf_verdict;
extern const char *const bf_verdict_words[]; /* "kept", "broken", "look" */

/* Example   pole_most 13 m, pole 11.5 m -> kept; 14.5 m -> broken; not said -> look. */
bf_verdict bf_rule_check(const bf_rule *rule, const bf_rule_facts *facts);

#ifdef __cplusplus
}
#endif
#endif
