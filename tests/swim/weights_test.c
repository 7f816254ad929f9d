/* weights_test.c -- log weights and systematic resampling.
 *
 * Oracles: sums in long double with the C library; the definition of systematic sampling counted slot by slot.
 */
#include "baitfall/random.h"
#include "common/check.h"
#include "core/swim/weights.h"

#define N 97

/* Weights over 600 orders of magnitude when spread is large; every seventh is 0. */
static void made_weights(uint64_t seed, double spread, double *log_w, int n) {
    for (int i = 0; i < n; i++) log_w[i] = i % 7 == 3 ? -INFINITY : spread * bf_normal(seed, 1, (uint64_t)i);
}

static void the_level_is_the_logarithm_of_the_mean_weight(void **state) {
    (void)state;
    double two[2] = {log(1), log(3)};
    BF_CHECK_ABS(bfi_weights_level(two, 2), log(2), 1e-15);
    BF_CHECK_ABS(two[0], log(0.5), 1e-15);
    BF_CHECK_ABS(two[1], log(1.5), 1e-15);
    for (uint64_t seed = 1; seed <= 20; seed++) {
        double log_w[N];
        made_weights(seed, 3, log_w, N);
        long double sum = 0;
        for (int i = 0; i < N; i++) sum += expl((long double)log_w[i]);
        BF_CHECK_ABS(bfi_weights_level(log_w, N), (double)logl(sum / N), 1e-13);
        sum = 0;
        for (int i = 0; i < N; i++) sum += expl((long double)log_w[i]);
        BF_CHECK_REL((double)sum, 1.0 * N, 1e-14);
    }
}

static void far_out_weights_neither_overflow_nor_vanish(void **state) {
    (void)state;
    double high[3] = {2000, 2000, -INFINITY}, low[2] = {-5000, -5000 + log(3)};
    BF_CHECK_ABS(bfi_weights_level(high, 3), 2000 + log(2.0 / 3), 1e-12);
    BF_CHECK_ABS(bfi_weights_level(low, 2), -5000 + log(2), 1e-11);
    assert_true(high[2] == -INFINITY);
}

static void no_weight_at_all_is_said_and_left_alone(void **state) {
    (void)state;
    double none[2] = {-INFINITY, -INFINITY};
    assert_true(bfi_weights_level(none, 2) == -INFINITY);
    assert_true(none[0] == -INFINITY && none[1] == -INFINITY);
    assert_true(bfi_weights_effective(none, 2) == 0);
}

static void the_effective_number_is_n_for_equal_weights_and_1_for_one(void **state) {
    (void)state;
    double equal[5] = {7, 7, 7, 7, 7}, one[3] = {-INFINITY, 0, -INFINITY}, uneven[2] = {log(1), log(3)};
    BF_CHECK_REL(bfi_weights_effective(equal, 5), 5.0, 1e-15);
    BF_CHECK_REL(bfi_weights_effective(one, 3), 1.0, 1e-15);
    BF_CHECK_REL(bfi_weights_effective(uneven, 2), 16.0 / 10, 1e-14);
}

static void each_comes_floor_or_ceiling_of_its_share_and_in_order(void **state) {
    (void)state;
    for (uint64_t seed = 1; seed <= 400; seed++) {
        double log_w[N];
        int m = 1 + (int)(seed * 37 % 200), from[200], count[N] = {0};
        made_weights(seed, seed % 2 ? 1 : 200, log_w, N);
        bfi_weights_draw(log_w, N, bf_uniform(seed, 2, 0), m, from);
        for (int k = 0; k < m; k++) {
            assert_true(k == 0 || from[k] >= from[k - 1]);
            count[from[k]]++;
        }
        bfi_weights_level(log_w, N);
        for (int i = 0; i < N; i++) {
            double share = m * exp(log_w[i]) / N;
            assert_true(count[i] >= floor(share - 1e-9) && count[i] <= ceil(share + 1e-9));
            assert_true(log_w[i] > -INFINITY || count[i] == 0);
        }
    }
}

static void resampling_leaves_equal_weights_as_they_are(void **state) {
    (void)state;
    double log_w[N] = {0};
    int from[N];
    for (int k = 1; k < 10; k++) {
        bfi_weights_resample(log_w, N, 0.1 * k, from);
        for (int i = 0; i < N; i++) assert_int_equal(from[i], i);
    }
}

static void the_example_of_the_header(void **state) {
    (void)state;
    double log_w[3] = {log(1), log(2), log(1)};
    int from[4];
    bfi_weights_draw(log_w, 3, 0.5, 4, from);
    int want[4] = {0, 1, 1, 2};
    assert_memory_equal(from, want, sizeof want);
}

/* Over all u the mean count is m w exactly: an integral of a step function, here by the midpoint rule whose error is at most
 * 2 / STEPS (one step at each end of its run). */
static void on_average_each_comes_exactly_its_share(void **state) {
    (void)state;
    enum { STEPS = 20000, M = 13 };
    double log_w[N];
    static int count[N];
    made_weights(5, 1, log_w, N);
    for (int s = 0; s < STEPS; s++) {
        int from[M];
        bfi_weights_draw(log_w, N, (s + 0.5) / STEPS, M, from);
        for (int k = 0; k < M; k++) count[from[k]]++;
    }
    bfi_weights_level(log_w, N);
    for (int i = 0; i < N; i++) BF_CHECK_ABS((double)count[i] / STEPS, M * exp(log_w[i]) / N, 2.0 / STEPS);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_level_is_the_logarithm_of_the_mean_weight),
        cmocka_unit_test(far_out_weights_neither_overflow_nor_vanish),
        cmocka_unit_test(no_weight_at_all_is_said_and_left_alone),
        cmocka_unit_test(the_effective_number_is_n_for_equal_weights_and_1_for_one),
        cmocka_unit_test(each_comes_floor_or_ceiling_of_its_share_and_in_order),
        cmocka_unit_test(resampling_leaves_equal_weights_as_they_are),
        cmocka_unit_test(the_example_of_the_header),
        cmocka_unit_test(on_average_each_comes_exactly_its_share),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
