/* columns_test.c -- counts and sums by a pair of keys. Oracle: counting them one cell at a time. */
#include "baitfall/columns.h"
#include "baitfall/random.h"
#include "common/check.h"

enum { N = 5000, N_A = 37, N_B = 6 };

static uint16_t key_a[N];
static uint8_t key_b[N];
static double value[N], sum[N_A * N_B];
static uint32_t count[N_A * N_B];

static void draw(void) {
    for (size_t i = 0; i < N; i++) {
        key_a[i] = (uint16_t)(N_A * bf_uniform(1, 0, i));
        key_b[i] = (uint8_t)(N_B * bf_uniform(1, 1, i));
        value[i] = bf_normal(1, 2, i);
    }
}

static void each_cell_holds_its_rows_and_their_sum(void **state) {
    (void)state;
    draw();
    assert_int_equal(bf_count_pairs(key_a, key_b, value, N, N_A, N_B, count, sum), BF_OK);
    for (size_t a = 0; a < N_A; a++)
        for (size_t b = 0; b < N_B; b++) {
            uint32_t n = 0;
            double total = 0;
            for (size_t i = 0; i < N; i++) {
                if (key_a[i] != a || key_b[i] != b) continue;
                n++;
                total += value[i];
            }
            assert_int_equal(count[a * N_B + b], n);
            BF_CHECK_ABS(sum[a * N_B + b], total, 0);
        }
}

static void without_values_only_rows_are_counted(void **state) {
    (void)state;
    draw();
    assert_int_equal(bf_count_pairs(key_a, key_b, NULL, N, N_A, N_B, count, NULL), BF_OK);
    uint32_t n = 0;
    for (size_t k = 0; k < N_A * N_B; k++) n += count[k];
    assert_int_equal(n, N);
}

static void the_worked_example_of_the_header_holds(void **state) {
    (void)state;
    const uint16_t a[] = {0, 1, 1};
    const uint8_t b[] = {0, 2, 2};
    const double v[] = {5, 7, 9}, want_sum[] = {5, 0, 0, 0, 0, 16};
    const uint32_t want[] = {1, 0, 0, 0, 0, 2};
    assert_int_equal(bf_count_pairs(a, b, v, 3, 2, 3, count, sum), BF_OK);
    assert_memory_equal(count, want, sizeof want);
    assert_memory_equal(sum, want_sum, sizeof want_sum);
}

static void a_missing_value_shows_in_its_own_cell_only(void **state) {
    (void)state;
    const uint16_t a[] = {0, 1, 1};
    const uint8_t b[] = {0, 1, 1};
    const double v[] = {5, NAN, 9};
    assert_int_equal(bf_count_pairs(a, b, v, 3, 2, 2, count, sum), BF_OK);
    assert_true(sum[0] == 5 && sum[1] == 0 && isnan(sum[3]) && count[3] == 2);
}

static void a_key_that_is_too_large_empties_the_tables(void **state) {
    (void)state;
    draw();
    key_a[N - 1] = N_A;
    assert_int_equal(bf_count_pairs(key_a, key_b, value, N, N_A, N_B, count, sum), BF_E_RANGE);
    for (size_t k = 0; k < N_A * N_B; k++) assert_true(count[k] == 0 && sum[k] == 0);
    key_a[N - 1] = 0;
    key_b[0] = N_B;
    assert_int_equal(bf_count_pairs(key_a, key_b, NULL, N, N_A, N_B, count, NULL), BF_E_RANGE);
}

static void too_many_rows_are_refused(void **state) {
    (void)state;
    assert_int_equal(bf_count_pairs(key_a, key_b, NULL, (size_t)UINT32_MAX + 1, N_A, N_B, count, NULL),
                     BF_E_COUNT);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_cell_holds_its_rows_and_their_sum),
        cmocka_unit_test(without_values_only_rows_are_counted),
        cmocka_unit_test(the_worked_example_of_the_header_holds),
        cmocka_unit_test(a_missing_value_shows_in_its_own_cell_only),
        cmocka_unit_test(a_key_that_is_too_large_empties_the_tables),
        cmocka_unit_test(too_many_rows_are_refused),
    };
    return cmocka_run_group_tests_name("columns", tests, NULL, NULL);
}
