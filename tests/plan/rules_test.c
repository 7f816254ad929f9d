/* Venue rules against what a plan says, and what it does not say. */
#include "baitfall/rules.h"

#include "baitfall/field.h"
#include "common/check.h"

#define ALL_BAITS(x)                                                                                         \
    { x, x, x, x, x, x, x, x, x, x, x, x }
static const bf_rule_facts nothing_said = {-1,     -1,     -1,     -1,    -1, -1, BF_NAN, BF_NAN,
                                           BF_NAN, BF_NAN, BF_NAN, -1,    -1, -1, -1,     ALL_BAITS(-1),
                                           BF_NAN, BF_NAN, BF_NAN, BF_NAN};
static const bf_rule_facts all_within = {
    1, 0, 0, 0, 0, 0, 11.5, 16, 1.5, 2, 20, 0, 0, 0, 0, ALL_BAITS(0), 0.006, 36000, 45000, 7200};
static const bf_rule_facts all_beyond = {
    0, 1, 1, 1, 1, 1, 14.5, 10, 4, 3, 30, 1, 1, 1, 1, ALL_BAITS(1), 0.0085, 32000, 50000, 600};
static const double limits[BF_N_RULES] = {
    [BF_RULE_NO_BAIT] = 3,         [BF_RULE_POLE_MOST] = 13,    [BF_RULE_HOOK_LARGEST] = 12,
    [BF_RULE_FEED_MOST] = 3,       [BF_RULE_NETS_MOST] = 2,     [BF_RULE_NET_MOST] = 22.7,
    [BF_RULE_PELLET_MOST] = 0.006, [BF_RULE_FEED_FROM] = 34200, [BF_RULE_FEED_UNTIL] = 46800,
    [BF_RULE_FEED_LAST] = 3600};

static bf_verdict verdict(int kind, const bf_rule_facts *facts) {
    bf_rule rule = {kind, limits[kind]};
    return bf_rule_check(&rule, facts);
}

static void a_plan_within_every_rule_keeps_it_and_one_beyond_breaks_it(void **state) {
    (void)state;
    for (int kind = 0; kind < BF_N_RULES; kind++) {
        assert_int_equal(verdict(kind, &all_within), BF_RULE_KEPT);
        assert_int_equal(verdict(kind, &all_beyond), BF_RULE_BROKEN);
    }
}

static void what_a_plan_does_not_say_is_left_to_the_reader(void **state) {
    (void)state;
    for (int kind = 0; kind < BF_N_RULES; kind++)
        assert_int_equal(verdict(kind, &nothing_said), BF_RULE_LOOK);
}

static void a_rule_without_its_number_is_left_to_the_reader(void **state) {
    (void)state;
    for (int kind = BF_RULE_POLE_MOST; kind < BF_N_RULES; kind++) {
        bf_rule rule = {kind, BF_NAN};
        assert_int_equal(bf_rule_check(&rule, &all_beyond), BF_RULE_LOOK);
    }
}

static void exactly_at_the_limit_is_kept(void **state) {
    (void)state;
    bf_rule_facts facts = all_within;
    facts.pole_m = 13;
    facts.hook_size = 12;
    facts.nets = 2;
    assert_int_equal(verdict(BF_RULE_POLE_MOST, &facts), BF_RULE_KEPT);
    assert_int_equal(verdict(BF_RULE_HOOK_LARGEST, &facts), BF_RULE_KEPT);
    assert_int_equal(verdict(BF_RULE_NETS_MOST, &facts), BF_RULE_KEPT);
}

/* A 6 mm label stands on pellets of 6 to 7.1 mm: what lies between is the label's to say. */
static void a_pellet_a_little_larger_than_its_label_is_left_to_the_reader(void **state) {
    (void)state;
    bf_rule_facts facts = all_within;
    static const struct {
        double pellet_m;
        int verdict;
    } cases[] = {
        {0.0059, BF_RULE_KEPT}, {0.0061, BF_RULE_LOOK}, {0.0071, BF_RULE_LOOK}, {0.0073, BF_RULE_BROKEN}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        facts.pellet_m = cases[i].pellet_m;
        assert_int_equal(verdict(BF_RULE_PELLET_MOST, &facts), cases[i].verdict);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_plan_within_every_rule_keeps_it_and_one_beyond_breaks_it),
        cmocka_unit_test(what_a_plan_does_not_say_is_left_to_the_reader),
        cmocka_unit_test(a_rule_without_its_number_is_left_to_the_reader),
        cmocka_unit_test(exactly_at_the_limit_is_kept),
        cmocka_unit_test(a_pellet_a_little_larger_than_its_label_is_left_to_the_reader),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
