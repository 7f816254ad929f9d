/* Venue rules in words: whole phrases only, numbers with their units. */
#include <string.h>

#include "baitfall/field.h"
#include "common/check.h"
#include "text/rules.h"

static int reads(const char *text, bf_rule *rule) {
    return bfi_rule_read(text, strlen(text), rule);
}

static void common_phrases_are_understood(void **state) {
    (void)state;
    static const struct {
        const char *text;
        int kind;
        double limit;
    } cases[] = {
        {"barbless hooks", BF_RULE_BARBLESS, BF_NAN},
        {"Barbless hooks only.", BF_RULE_BARBLESS, BF_NAN},
        {"two nets", BF_RULE_NETS_MOST, 2},
        {"3 nets at most", BF_RULE_NETS_MOST, 3},
        {"no floating baits", BF_RULE_NO_FLOATING, BF_NAN},
        {"No pole longer than 13 m", BF_RULE_POLE_MOST, 13},
        {"no pole longer than 40 ft", BF_RULE_POLE_MOST, 12.192},
        {"no hook larger than size 12", BF_RULE_HOOK_LARGEST, 12},
        {"no more than 2 kg of feed", BF_RULE_FEED_MOST, 2},
        {"net limit 50 lb", BF_RULE_NET_MOST, 22.6796185},
        {"no more than 60lb a net", BF_RULE_NET_MOST, 27.2155422},
        {"one net", BF_RULE_NETS_MOST, 1},
        {"One net only", BF_RULE_NETS_MOST, 1},
        {"no more than 1 net", BF_RULE_NETS_MOST, 1},
        {"no hard pellets", BF_RULE_NO_HARD, BF_NAN},
        {"No soft pellets.", BF_RULE_NO_SOFT, BF_NAN},
        {"no pellets", BF_RULE_NO_PELLETS, BF_NAN},
        {"no pellets over 6 mm", BF_RULE_PELLET_MOST, 0.006},
        {"no maggots", BF_RULE_NO_BAIT, 0},
        {"no meat", BF_RULE_NO_BAIT, 3},
        {"no corn", BF_RULE_NO_BAIT, 4},
        {"no pole pots", BF_RULE_NO_POT, BF_NAN},
        {"no feeding after 13:00", BF_RULE_FEED_UNTIL, 46800},
        {"no feeding after 1pm", BF_RULE_FEED_UNTIL, 46800},
        {"no feed before 9.30", BF_RULE_FEED_FROM, 34200},
        {"no feeding before 12 am", BF_RULE_FEED_FROM, 0},
        {"no feeding in the last hour", BF_RULE_FEED_LAST, 3600},
        {"no feeding in the last 30 min", BF_RULE_FEED_LAST, 1800},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        bf_rule rule;
        assert_int_equal(reads(cases[i].text, &rule), 1);
        assert_int_equal(rule.kind, cases[i].kind);
        if (cases[i].limit == cases[i].limit)
            BF_CHECK_REL(rule.limit, cases[i].limit, 1e-12);
        else
            assert_true(rule.limit != rule.limit);
    }
}

static void a_sentence_that_only_holds_such_words_is_left_to_the_reader(void **state) {
    (void)state;
    static const char *const others[] = {"barbless hooks not needed",
                                         "no nets",
                                         "nets",
                                         "keep the gate shut",
                                         "no pole longer than 13",
                                         "no pole longer than 13 kg",
                                         "",
                                         "no hook larger than size",
                                         "no more than x a net",
                                         "no pole longer than -3 m",
                                         "four hundred nets",
                                         "no feeding after 13",
                                         "no feeding after 25:00",
                                         "no feeding after 13:61",
                                         "no feeding after 13 pm",
                                         "no feeding after lunch",
                                         "no meat on Sundays",
                                         "no hard feelings",
                                         "one net, no hard pellets",
                                         ".",
                                         "no lead core"};
    for (size_t i = 0; i < sizeof others / sizeof others[0]; i++) {
        bf_rule rule;
        assert_int_equal(reads(others[i], &rule), 0);
        assert_int_equal(rule.kind, -1);
    }
}

/* What the program says of a rule it can read again itself. */
static void a_rule_as_said_reads_back_as_itself(void **state) {
    (void)state;
    static const double limits[BF_N_RULES] = {
        [BF_RULE_POLE_MOST] = 13,      [BF_RULE_HOOK_LARGEST] = 12, [BF_RULE_FEED_MOST] = 2.5,
        [BF_RULE_NETS_MOST] = 2,       [BF_RULE_NET_MOST] = 22.5,   [BF_RULE_NO_BAIT] = 5,
        [BF_RULE_PELLET_MOST] = 0.008, [BF_RULE_FEED_FROM] = 34200, [BF_RULE_FEED_UNTIL] = 46860,
        [BF_RULE_FEED_LAST] = 1800};
    for (int kind = 0; kind < BF_N_RULES; kind++) {
        char said[128];
        bf_rule rule = {kind, limits[kind] > 0 ? limits[kind] : BF_NAN}, again;
        bfi_rule_say(&rule, said, sizeof said);
        assert_int_equal(reads(said, &again), 1);
        assert_int_equal(again.kind, kind);
        if (limits[kind] > 0) BF_CHECK_REL(again.limit, limits[kind], 1e-6);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(common_phrases_are_understood),
        cmocka_unit_test(a_sentence_that_only_holds_such_words_is_left_to_the_reader),
        cmocka_unit_test(a_rule_as_said_reads_back_as_itself),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
