/* Venue rules against what a plan says, and what it does not say. */
#include "baitfall/rules.h"

#include "baitfall/field.h"
#include "common/check.h"

static const bf_rule_facts nothing_said = {-1, -1, -1, -1, -1, -1, BF_NAN, BF_NAN, BF_NAN, BF_NAN, BF_NAN};
static const bf_rule_facts all_within = {1, 0, 0, 0, 0, 0, 11.5, 16, 1.5, 2, 20};
static const bf_rule_facts all_beyond = {0, 1, 1, 1, 1, 1, 14.5, 10, 4, 3, 30};
static const double limits[BF_N_RULES] = {BF_NAN, BF_NAN, BF_NAN, BF_NAN, BF_NAN, BF_NAN, 13, 12, 3, 2, 22.7};

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
    for (int kind = BF_RULE_POLE_MOST; kind <= BF_RULE_NET_MOST; kind++) {
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

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_plan_within_every_rule_keeps_it_and_one_beyond_breaks_it),
        cmocka_unit_test(what_a_plan_does_not_say_is_left_to_the_reader),
        cmocka_unit_test(a_rule_without_its_number_is_left_to_the_reader),
        cmocka_unit_test(exactly_at_the_limit_is_kept),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
