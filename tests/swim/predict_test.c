/* Predictive intervals: how long until the next bite, said after a made-up hour (calibration.h). 100 sessions without sanitizers
 * (swim.predict_all, BF_LONG=1); make evaluate runs 1000.
 *
 * Bounds: 3 binomial sd of 100 sessions: 15, 12 and 6.5 points for 50, 80 and 95 %; a sound belief breaks one of the three in 1 of
 * 120. Seeds are fixed. */
#include "swim/calibration.h"

#include "common/check.h"

#define SESSIONS 100

static void next_bites_fall_in_their_intervals_as_often_as_said(void **state) {
    (void)state;
    int is_whole = getenv("BF_LONG") != NULL, n = is_whole ? SESSIONS : 4;
    sbc_size size = {.n_sets = is_whole ? 8 : 2, .n_particles = is_whole ? 640 : 48};
    double share[SESSIONS];
    for (int k = 0; k < n; k++) {
        share[k] = predicted_share((uint64_t)k, size);
        BF_CHECK_IN(share[k], 0, 1);
    }
    const double said[3] = {0.50, 0.80, 0.95};
    for (int i = 0; i < 3; i++) {
        int within = 0;
        for (int k = 0; k < n; k++) within += fabs(share[k] - 0.5) <= said[i] / 2;
        print_message("%.0f %% intervals hold %.1f %% of %d\n", 100 * said[i], 100.0 * within / n, n);
        if (is_whole) BF_CHECK_ABS((double)within / n, said[i], 3 * sqrt(said[i] * (1 - said[i]) / n));
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(next_bites_fall_in_their_intervals_as_often_as_said),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
