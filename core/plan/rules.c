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

bf_verdict bf_rule_check(const bf_rule *rule, const bf_rule_facts *facts) {
    switch ((bf_rule_kind)rule->kind) {
    case BF_RULE_BARBLESS: return forbidden(facts->is_barbless < 0 ? -1 : !facts->is_barbless);
    case BF_RULE_NO_LEAD: return forbidden(facts->has_lead);
    case BF_RULE_NO_FLOATING: return forbidden(facts->has_floating);
    case BF_RULE_NO_GROUNDBAIT: return forbidden(facts->has_groundbait);
    case BF_RULE_NO_LIVE: return forbidden(facts->has_live);
    case BF_RULE_NO_THROW: return forbidden(facts->has_throw);
    case BF_RULE_POLE_MOST: return at_most(facts->pole_m, rule->limit);
    case BF_RULE_HOOK_LARGEST:
        return at_most(rule->limit, facts->hook_size); /* a larger hook has a smaller number */
    case BF_RULE_FEED_MOST: return at_most(facts->feed_kg, rule->limit);
    case BF_RULE_NETS_MOST: return at_most(facts->nets, rule->limit);
    case BF_RULE_NET_MOST: return at_most(facts->net_kg, rule->limit);
    case BF_N_RULES: break;
    }
    BF_ASSERT(0);
    return BF_RULE_LOOK;
}
