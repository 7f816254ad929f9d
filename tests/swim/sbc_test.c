/* Does the belief mean what it says? Simulation-based calibration over made-up hours, by what the data can see: bite rate, feed
 * left, fish present, log-likelihood (calibration.h). The whole sample (200 sessions of 19 draws with a belief of half the sets that
 * the program has; two planted faults on 20 and 60 of them) runs without sanitizers: swim.sbc_all,
 * BF_LONG=1; under them a handful of sessions checks the harness. make evaluate runs 1000 x 99 at the program's size and all faults
 * (docs/evaluation.md).
 *
 * False alarms: each bound is broken by a sound belief in 1 of 600 (chi2) and fewer (distance, ranks being few); four quantities,
 * two bounds: 1 of 80 when written. Seeds are fixed. */
#include "swim/calibration.h"

#include "common/check.h"

#define SESSIONS 200
#define SETS 8 /* each is a filter by itself; the program has BF_BELIEF_SETS */
#define DRAWS 19

#define FAULT_SESSIONS 60

static int is_whole(void) {
    return getenv("BF_LONG") != NULL;
}

static sbc_size size_of(int n_sets) {
    return is_whole() ? (sbc_size){.n_sets = n_sets, .n_particles = BF_BELIEF_PARTICLES, .n_draws = DRAWS}
                      : (sbc_size){.n_sets = 2, .n_particles = 48, .n_draws = DRAWS};
}

static void run_sessions(fault plant, int n, int n_sets, int rank[N_RANKS][SESSIONS]) {
    double bites = 0;
    for (int k = 0; k < n; k++) {
        sbc_ranks ranks = sbc_session((uint64_t)k, size_of(n_sets), plant);
        bites += (double)ranks.n_bites / n;
        for (int r = 0; r < N_RANKS; r++) {
            assert_in_range(ranks.rank[r], 0, DRAWS);
            rank[r][k] = ranks.rank[r];
        }
    }
    print_message("%s, %d sessions, %.1f bites each\n", fault_words[plant], n, bites);
}

/* The largest of chi2 and distance over their bounds. */
static double strain(int n, int rank[N_RANKS][SESSIONS]) {
    double most = 0;
    for (int r = 0; r < N_RANKS; r++) {
        uniformity u = uniformity_of(rank[r], n, DRAWS, SBC_BINS);
        print_message("  %-15s chi2 %5.1f (bound %.1f)  distance %.3f (%.3f)\n", rank_words[r], u.chi2,
                      SBC_CHI2, u.distance, SBC_DISTANCE(n));
        most = fmax(most, fmax(u.chi2 / SBC_CHI2, u.distance / SBC_DISTANCE(n)));
    }
    return most;
}

static int sound[N_RANKS][SESSIONS];

static void ranks_of_truth_among_beliefs_are_uniform(void **state) {
    (void)state;
    int n = is_whole() ? SESSIONS : 3;
    run_sessions(FAULT_NONE, n, SETS, sound);
    strain(n, sound); /* says them all */
    for (int r = 0; r < N_RANKS && is_whole(); r++) {
        uniformity u = uniformity_of(sound[r], n, DRAWS, SBC_BINS);
        BF_CHECK_IN(u.chi2, 0, SBC_CHI2);
        BF_CHECK_IN(u.distance, 0, SBC_DISTANCE(n));
    }
}

/* Each breaks a bound over sessions that break none without it: those above. */
static void two_planted_faults_are_seen(void **state) {
    (void)state;
    static int rank[N_RANKS][SESSIONS];
    static const struct {
        fault plant;
        int n; /* the first breaks every session's rank, and is seen at once */
    } planted[] = {{FAULT_NO_INTEGRAL, FAULT_SESSIONS / 3}, {FAULT_BEGUN_EARLY, FAULT_SESSIONS}};
    for (int i = 0; i < 2; i++) {
        int n = is_whole() ? planted[i].n : 2;
        run_sessions(planted[i].plant, n, SETS, rank);
        if (is_whole()) BF_CHECK_IN(strain(n, rank), 1, INFINITY);
    }
    if (is_whole()) BF_CHECK_IN(strain(FAULT_SESSIONS, sound), 0, 1);
}

static void a_session_is_a_function_of_its_number(void **state) {
    (void)state;
    sbc_ranks first = sbc_session(3, size_of(SETS), FAULT_NONE);
    sbc_session(3, size_of(SETS), FAULT_WEIGHTS_KEPT);
    sbc_ranks again = sbc_session(3, size_of(SETS), FAULT_NONE);
    assert_memory_equal(first.rank, again.rank, sizeof first.rank);
}

/* The measure itself: ranks dealt evenly give nothing; all the same, all that can be. */
static void uniformity_is_measured_right(void **state) {
    (void)state;
    int even[SESSIONS], low[SESSIONS];
    for (int k = 0; k < SESSIONS; k++) {
        even[k] = k % (DRAWS + 1);
        low[k] = 0;
    }
    uniformity u = uniformity_of(even, SESSIONS, DRAWS, SBC_BINS);
    BF_CHECK_ABS(u.chi2, 0, 1e-12);
    BF_CHECK_ABS(u.distance, 0, 1e-12);
    u = uniformity_of(low, SESSIONS, DRAWS, SBC_BINS);
    BF_CHECK_ABS(u.chi2, 19.0 * SESSIONS, 1e-9);
    BF_CHECK_ABS(u.distance, 0.95, 1e-12);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(uniformity_is_measured_right),
        cmocka_unit_test(a_session_is_a_function_of_its_number),
        cmocka_unit_test(ranks_of_truth_among_beliefs_are_uniform),
        cmocka_unit_test(two_planted_faults_are_seen),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
