/* rules.c -- venue rules against what a plan says; see baitfall/rules.h. */
#include "baitfall/rules.h"

#include "baitfall/status.h"

#include <stddef.h>

static const struct {
    const char *unit, *sentence;
} rules_said[BF_N_RULES] = {
#define BF_RULE_SAID(name, word, unit, sentence) {unit, sentence},
    BF_RULE_LIST(BF_RULE_SAID)
#undef BF_RULE_SAID
};

const char *const bf_rule_words[] = {
#define BF_RULE_WORD(name, word, unit, sentence) word,
    BF_RULE_LIST(BF_RULE_WORD)
#undef BF_RULE_WORD
        NULL};

#define BF_RULE_STEM(stem, said) stem,
#define BF_RULE_BAIT(stem, said) said,
const char *const bf_rule_stems[] = {BF_RULE_BAIT_LIST(BF_RULE_STEM)};
const char *const bf_rule_baits[] = {BF_RULE_BAIT_LIST(BF_RULE_BAIT)};

const char *const bf_verdict_words[] = {"kept", "broken", "look", NULL};

const char *bf_rule_unit(int kind) {
    return rules_said[kind].unit;
}

const char *bf_rule_sentence(int kind) {
    return rules_said[kind].sentence;
}

/* A yes or no, -1: not said. */
static bf_verdict forbidden(int does) {
    return does < 0 ? BF_RULE_LOOK : does ? BF_RULE_BROKEN : BF_RULE_KEPT;
}

static bf_verdict at_most(double value, double limit) {
    if (value != value || limit != limit) return BF_RULE_LOOK;
    return value <= limit ? BF_RULE_KEPT : BF_RULE_BROKEN;
}

static bf_verdict barred(const bf_rule *rule, const bf_rule_facts *facts) {
    int is_one = rule->limit >= 0 && rule->limit < BF_RULE_N_BAITS;
    return is_one ? forbidden(facts->is_bait[(int)rule->limit]) : BF_RULE_LOOK;
}

static bf_verdict pellet_at_most(double pellet_m, double limit_m) {
    bf_verdict verdict = at_most(pellet_m, limit_m);
    return verdict == BF_RULE_BROKEN && pellet_m <= BF_RULE_LABEL_MOST * limit_m ? BF_RULE_LOOK : verdict;
}

bf_verdict bf_rule_check(const bf_rule *rule, const bf_rule_facts *facts) {
    switch ((bf_rule_kind)rule->kind) {
    case BF_RULE_BARBLESS: return forbidden(facts->is_barbless < 0 ? -1 : !facts->is_barbless);
    case BF_RULE_NO_LEAD: return forbidden(facts->has_lead);
    case BF_RULE_NO_FLOATING: return forbidden(facts->has_floating);
    case BF_RULE_NO_GROUNDBAIT: return forbidden(facts->has_groundbait);
    case BF_RULE_NO_LIVE: return forbidden(facts->has_live);
    case BF_RULE_NO_THROW: return forbidden(facts->has_throw);
    case BF_RULE_NO_POT: return forbidden(facts->has_pot);
    case BF_RULE_NO_PELLETS: return forbidden(facts->has_pellets);
    case BF_RULE_NO_HARD: return forbidden(facts->has_hard);
    case BF_RULE_NO_SOFT: return forbidden(facts->has_soft);
    case BF_RULE_NO_BAIT: return barred(rule, facts);
    case BF_RULE_POLE_MOST: return at_most(facts->pole_m, rule->limit);
    case BF_RULE_HOOK_LARGEST:
        return at_most(rule->limit, facts->hook_size); /* a larger hook has a smaller number */
    case BF_RULE_FEED_MOST: return at_most(facts->feed_kg, rule->limit);
    case BF_RULE_NETS_MOST: return at_most(facts->nets, rule->limit);
    case BF_RULE_NET_MOST: return at_most(facts->net_kg, rule->limit);
    case BF_RULE_PELLET_MOST: return pellet_at_most(facts->pellet_m, rule->limit);
    case BF_RULE_FEED_FROM: return at_most(rule->limit, facts->feed_from_s);
    case BF_RULE_FEED_UNTIL: return at_most(facts->feed_until_s, rule->limit);
    case BF_RULE_FEED_LAST: return at_most(rule->limit, facts->feed_spare_s);
    case BF_N_RULES: break;
    }
    BF_ASSERT(0);
    return BF_RULE_LOOK;
}
