/* Covering by few masks: against every subset tried, on small cases. */
#include "baitfall/random.h"
#include "baitfall/rigset.h"
#include "common/check.h"

#define SEED 4

static int bits_of(uint64_t mask) {
    return __builtin_popcountll(mask);
}

/* A random case: n masks over so many bits, each bit set with a chance. */
static int random_case(int index, int most_masks, int bits, double chance, uint64_t *mask, double *cost) {
    uint64_t stream = (uint64_t)index + 1, k = 0;
    int n = 1 + (int)(bf_uniform(SEED, stream, k++) * most_masks);
    for (int i = 0; i < n; i++) {
        mask[i] = 0;
        for (int b = 0; b < bits; b++) mask[i] |= (uint64_t)(bf_uniform(SEED, stream, k++) < chance) << b;
        cost[i] = 0.1 + bf_uniform(SEED, stream, k++);
    }
    return n;
}

/* All subsets: the fewest masks that cover everything, the least cost of those, and the most that six can cover. */
typedef struct brute {
    int fewest, most_by_six;
    double cost;
} brute;

static brute try_all_subsets(const uint64_t *mask, const double *cost, int n) {
    uint64_t all = 0;
    brute best = {n + 1, 0, 0};
    for (int i = 0; i < n; i++) all |= mask[i];
    for (uint64_t chosen = 0; chosen < (uint64_t)1 << n; chosen++) {
        uint64_t covered = 0;
        double sum = 0;
        int count = bits_of(chosen);
        for (uint64_t left = chosen; left; left &= left - 1) {
            int i = __builtin_ctzll(left);
            covered |= mask[i];
            sum += cost[i];
        }
        if (count <= BF_RIGSET_MOST && bits_of(covered) > best.most_by_six)
            best.most_by_six = bits_of(covered);
        if (covered == all && (count < best.fewest || (count == best.fewest && sum < best.cost))) {
            best.fewest = count;
            best.cost = sum;
        }
    }
    return best;
}

static double cost_of(const bf_cover *cover, const double *cost) {
    double sum = 0;
    for (int i = 0; i < cover->n; i++) sum += cost[cover->chosen[i]];
    return sum;
}

static void the_choice_is_the_smallest_there_is_and_the_cheapest_of_those(void **state) {
    (void)state;
    int gaps = 0;
    for (int index = 0; index < 200; index++) {
        uint64_t mask[11];
        double cost[11];
        bf_cover cover;
        int n = random_case(index, 11, 10, 0.1 + 0.4 * (index % 10) / 10.0, mask, cost);
        brute best = try_all_subsets(mask, cost, n);
        bf_cover_smallest(mask, cost, n, &cover);
        assert_true(cover.is_exact);
        assert_int_equal(cover.n_least, best.fewest);
        assert_true(cover.n_greedy >= best.fewest);
        gaps += cover.n_greedy - best.fewest;
        if (best.fewest > BF_RIGSET_MOST) continue;
        assert_true(cover.covers_all);
        assert_int_equal(cover.n, best.fewest);
        BF_CHECK_ABS(cost_of(&cover, cost), best.cost, 1e-12);
    }
    print_message("greedy alone takes %d masks too many over 200 cases\n", gaps);
    assert_true(gaps > 0); /* else the search would be for nothing */
}

static void six_that_cannot_cover_all_cover_nearly_what_the_best_six_would(void **state) {
    (void)state;
    int cases = 0, got = 0, could = 0;
    for (int index = 1000; index < 1080; index++) {
        uint64_t mask[12];
        double cost[12];
        bf_cover cover;
        int n = random_case(index, 12, 24, 0.1, mask, cost);
        brute best = try_all_subsets(mask, cost, n);
        bf_cover_smallest(mask, cost, n, &cover);
        if (best.fewest <= BF_RIGSET_MOST) continue;
        cases++;
        got += bits_of(cover.covered);
        could += best.most_by_six;
        assert_false(cover.covers_all);
        assert_int_equal(cover.n, BF_RIGSET_MOST);
        assert_int_equal(cover.n_least, best.fewest);
        assert_true(bits_of(cover.covered) >= (1 - exp(-1)) * best.most_by_six);
    }
    print_message("six chosen greedily cover %d of the %d that the best six would, in %d cases\n", got, could,
                  cases);
    assert_true(cases > 10);
}

static void what_is_chosen_is_what_is_said_to_be_covered(void **state) {
    (void)state;
    for (int index = 2000; index < 2010; index++) {
        static uint64_t mask[BF_COVER_MOST];
        static double cost[BF_COVER_MOST];
        bf_cover cover;
        int n = random_case(index, BF_COVER_MOST - 1, 64, 0.15, mask, cost);
        uint64_t covered = 0, all = 0;
        bf_cover_smallest(mask, cost, n, &cover);
        for (int i = 0; i < cover.n; i++) covered |= mask[cover.chosen[i]];
        for (int i = 0; i < n; i++) all |= mask[i];
        assert_true(covered == cover.covered);
        assert_int_equal(cover.covers_all, covered == all);
        assert_true(cover.n_least <= cover.n_greedy);
        if (cover.covers_all) assert_in_range(cover.n, cover.n_least, cover.n_greedy);
    }
}

static void nothing_is_covered_by_nothing(void **state) {
    (void)state;
    bf_cover cover;
    uint64_t none = 0;
    double cost = 1;
    bf_cover_smallest(NULL, NULL, 0, &cover);
    assert_int_equal(cover.n, 0);
    assert_true(cover.covers_all && cover.is_exact);
    bf_cover_smallest(&none, &cost, 1, &cover);
    assert_int_equal(cover.n, 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_choice_is_the_smallest_there_is_and_the_cheapest_of_those),
        cmocka_unit_test(six_that_cannot_cover_all_cover_nearly_what_the_best_six_would),
        cmocka_unit_test(what_is_chosen_is_what_is_said_to_be_covered),
        cmocka_unit_test(nothing_is_covered_by_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
