/* worlds_test.c -- do the worlds, and those who fish them, do what they say? Crashes and determinism, and what is so by the way a world is
 * made; how good the adviser is there is no matter of a test (make evaluate, docs/evaluation.md).
 *
 * Oracles: the same call again; a copy that goes on by itself; W7 and W8 by their definition.
 * BF_FEW=1: one session of each, for sanitizers. */
#include <stdlib.h>
#include <string.h>

#include "common/check.h"
#include "worlds/advised.h"
#include "worlds/simple.h"

static int n_sessions(int all) {
    return getenv("BF_FEW") ? 1 : all;
}

/* Small enough for every run. */
static const advised_size tiny = {
    .n_sets = 3, .n_particles = 48, .n_scenarios = 16, .n_run_off = 16, .most_decisions = 8};

static int landed_by(const world_kind *kind, uint64_t seed, int by) {
    static outing o;
    simple_session(kind, seed, by, &o);
    return outing_landed(&o);
}

static void the_same_seed_and_acts_give_the_same_day(void **state) {
    (void)state;
    static outing first, second;
    for (int w = 0; w < N_WORLDS; w++) {
        simple_session(world_kinds[w], 3, USUAL_FIXED, &first);
        memset(&second, 0x5a, sizeof second);
        simple_session(world_kinds[w], 3, USUAL_FIXED, &second);
        assert_memory_equal(first.landed, second.landed, sizeof first.landed);
        assert_memory_equal(first.world, second.world, world_kinds[w]->bytes);
    }
}

static void a_copy_goes_on_as_the_first_would_have(void **state) {
    (void)state;
    static outing whole, half;
    for (int w = 0; w < N_WORLDS; w++) {
        outing_open(&whole, world_kinds[w], 4, NULL);
        whole.rule = fixed_rule(USUAL_FIXED);
        outing_fish(&whole, NULL, 3000);
        half = whole;
        outing_fish(&whole, NULL, SESSION_S);
        outing_fish(&half, NULL, SESSION_S);
        assert_memory_equal(whole.world, half.world, world_kinds[w]->bytes);
        assert_int_equal(outing_landed(&whole), outing_landed(&half));
    }
}

static void another_seed_gives_another_day(void **state) {
    (void)state;
    for (int w = 0; w < N_WORLDS; w++) {
        int differ = 0;
        for (uint64_t seed = 0; seed < 8; seed++)
            differ += landed_by(world_kinds[w], seed, USUAL_FIXED) !=
                      landed_by(world_kinds[w], seed + 8, USUAL_FIXED);
        assert_true(differ >= 2);
    }
}

static void where_feed_does_not_matter_every_strategy_lands_the_same(void **state) {
    (void)state;
    for (int seed = 0; seed < n_sessions(6); seed++)
        for (int i = 1; i < N_SIMPLE; i++)
            assert_int_equal(landed_by(&clockwork, (uint64_t)seed, i),
                             landed_by(&clockwork, (uint64_t)seed, 0));
}

static void where_more_feed_is_worse_no_feed_is_best(void **state) {
    (void)state;
    int by[N_FIXED] = {0}, none = N_FIXED - 3;
    for (int i = 0; i < N_FIXED; i++)
        for (uint64_t seed = 0; seed < 20; seed++) by[i] += landed_by(&clockwork_perverse, seed, i);
    for (int i = 0; i < N_FIXED; i++) assert_true(i == none || by[i] < by[none]);
}

static void advice_is_followed_through_whole_sessions_and_the_same_again(void **state) {
    (void)state;
    const world_kind *const kinds[2] = {&own_model, &clockwork};
    for (int w = 0; w < 2; w++)
        for (int seed = 0; seed < n_sessions(6); seed++) {
            advised a = advised_session(kinds[w], (uint64_t)seed, ADVISED_BY_BOOK, tiny, NULL);
            assert_int_equal(a.n_decisions, tiny.most_decisions);
            assert_true(a.n_either + a.n_kept + a.n_sure <= 2 * a.n_decisions && a.n_same <= a.n_again);
            if (seed) continue;
            advised again = advised_session(kinds[w], (uint64_t)seed, ADVISED_BY_BOOK, tiny, NULL);
            assert_memory_equal(&a, &again, sizeof a);
        }
}

static void the_adviser_with_the_truth_knows_the_parameters_of_the_world(void **state) {
    (void)state;
    advised a = advised_session(&own_model, 1, ADVISED_BY_TRUTH, tiny, NULL);
    assert_true(a.n_decisions > 0 && a.n_unknown < a.n_decisions);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_same_seed_and_acts_give_the_same_day),
        cmocka_unit_test(a_copy_goes_on_as_the_first_would_have),
        cmocka_unit_test(another_seed_gives_another_day),
        cmocka_unit_test(where_feed_does_not_matter_every_strategy_lands_the_same),
        cmocka_unit_test(where_more_feed_is_worse_no_feed_is_best),
        cmocka_unit_test(advice_is_followed_through_whole_sessions_and_the_same_again),
        cmocka_unit_test(the_adviser_with_the_truth_knows_the_parameters_of_the_world),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
