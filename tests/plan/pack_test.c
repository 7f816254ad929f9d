/* Spares: against Poisson sums added up by hand. */
#include "baitfall/pack.h"

#include <math.h>

#include "common/check.h"

static double chance_of_more(double expected, int n) {
    double term = exp(-expected), sum = term;
    for (int k = 1; k <= n; k++) sum += term *= expected / k;
    return 1 - sum;
}

static void spares_are_the_fewest_within_the_risk(void **state) {
    (void)state;
    static const double rates[] = {0.02, 0.1, 0.4, 1.3, 7}, risks[] = {0.5, 0.05, 0.001};
    for (size_t i = 0; i < sizeof rates / sizeof rates[0]; i++)
        for (size_t j = 0; j < sizeof risks / sizeof risks[0]; j++)
            for (double hours = 0.25; hours <= 24; hours *= 2.3) {
                int n = bf_pack_spares(rates[i], hours, risks[j]);
                assert_true(chance_of_more(rates[i] * hours, n) <= risks[j] + 1e-12);
                if (n > 0) assert_true(chance_of_more(rates[i] * hours, n - 1) > risks[j] - 1e-12);
            }
}

static void the_header_s_example_holds(void **state) {
    (void)state;
    assert_int_equal(bf_pack_spares(0.4, 5, 0.05), 5);
    BF_CHECK_ABS(chance_of_more(2, 5), 0.0166, 5e-5);
    BF_CHECK_ABS(chance_of_more(2, 4), 0.0527, 5e-5);
}

static void what_is_never_lost_needs_no_spare(void **state) {
    (void)state;
    assert_int_equal(bf_pack_spares(0, 24, 0.05), 0);
    assert_int_equal(bf_pack_spares(0.4, 0, 0.05), 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(spares_are_the_fewest_within_the_risk),
        cmocka_unit_test(the_header_s_example_holds),
        cmocka_unit_test(what_is_never_lost_needs_no_spare),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
