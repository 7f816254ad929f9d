/* swim_cloud_test.c -- parameters carried by particles: moments and moving.
 *
 * Oracles: moments summed in long double; the law of the move (mean, covariance and covariance with the signs are kept) over many
 * moves, with stated standard errors.
 */
#include "core/swim/cloud.h"

#include "baitfall/random.h"
#include "common/check.h"
#include "core/swim/axes.h"

#define D BF_SWIM_N_PARAMETERS
#define N 501

/* Correlated columns with weights; column 5 does not vary. */
static void made_cloud(double *log_w, double *z, int n) {
    for (int p = 0; p < n; p++) {
        log_w[p] = p % 9 == 4 ? -INFINITY : bf_normal(1, 100, (uint64_t)p);
        for (int i = 0; i < D; i++)
            z[i * n + p] = i == 5 ? 0.25
                                  : bf_normal(1, (uint64_t)i, (uint64_t)p) +
                                        (i ? 0.7 * z[(i - 1) * n + p] : 0) + 0.1 * i;
    }
}

static void covariance_of(const double *w, const double *z, int n, double mean[D], double covariance[D][D]) {
    long double all = 0;
    for (int p = 0; p < n; p++) all += w[p];
    for (int i = 0; i < D; i++) {
        long double sum = 0;
        for (int p = 0; p < n; p++) sum += (long double)w[p] * z[i * n + p];
        mean[i] = (double)(sum / all);
    }
    for (int i = 0; i < D; i++)
        for (int j = 0; j < D; j++) {
            long double sum = 0;
            for (int p = 0; p < n; p++)
                sum += (long double)w[p] * (z[i * n + p] - mean[i]) * (z[j * n + p] - mean[j]);
            covariance[i][j] = (double)(sum / all);
        }
}

/* What a move makes of a covariance: A C A' + E E'. */
static double moved(const bfi_cloud *cloud, double covariance[D][D], int i, int j) {
    double sum = 0;
    for (int k = 0; k < D; k++) {
        sum += cloud->stir[i][k] * cloud->stir[j][k];
        for (int l = 0; l < D; l++) sum += cloud->keep[i][k] * covariance[k][l] * cloud->keep[j][l];
    }
    return sum;
}

/* Two signs that go with parameters 0 to 7, and one that never varies. */
#define SIGNS 3
static void made_signs(const double *z, double *sign) {
    for (int p = 0; p < N; p++) {
        double sum = 0;
        for (int i = 0; i < 8; i++) sum += z[i * N + p];
        sign[p] = 0.3 * sum + bf_normal(2, 0, (uint64_t)p);
        sign[N + p] = exp(0.2 * z[p]) + 0.1 * bf_normal(2, 1, (uint64_t)p);
        sign[2 * N + p] = 3;
    }
}

static void a_move_keeps_the_covariance_of_the_weighted_particles(void **state) {
    (void)state;
    static double log_w[N], w[N], z[D * N], spare[2 * N], mean[D], covariance[D][D];
    made_cloud(log_w, z, N);
    for (int p = 0; p < N; p++) w[p] = exp(log_w[p]);
    covariance_of(w, z, N, mean, covariance);
    bfi_cloud cloud = bfi_cloud_of(log_w, N, 0, NULL, z, spare);
    for (int i = 0; i < D; i++) {
        double stirred = 0;
        for (int k = 0; k < D; k++) stirred += cloud.stir[i][k] * cloud.stir[i][k];
        BF_CHECK_ABS(cloud.mean[i], mean[i], 1e-12);
        for (int j = 0; j <= i; j++) BF_CHECK_ABS(moved(&cloud, covariance, i, j), covariance[i][j], 1e-11);
        assert_true(i == 5 ? stirred < 1e-20 : stirred > 0.01 * covariance[i][i]);
    }
}

/* A cloud as wide as the prior keeps sqrt(1 - h^2) of where each was, h the most there is; one with a tenth of the variance is moved by a tenth of that. */
static void what_is_known_well_is_moved_little(void **state) {
    (void)state;
    static double log_w[N], z[D * N], spare[2 * N];
    for (int i = 0; i < D; i++)
        for (int p = 0; p < N; p++)
            z[i * N + p] = (i % 2 ? 2 : sqrt(0.1)) * bf_normal(1, (uint64_t)i, (uint64_t)p);
    bfi_cloud cloud = bfi_cloud_of(log_w, N, 0, NULL, z, spare);
    for (int i = 0; i < D; i++) {
        double h = BFI_CLOUD_MOVE * (i % 2 ? 1 : 0.1);
        BF_CHECK_ABS(cloud.keep[i][i], sqrt(1 - h * h), i % 2 ? 0.01 : 1e-3);
    }
}

/* Covariance of each parameter with each of the signs that vary; all particles weigh the same. */
static void ties_of(const double *z, const double *sign, double tie[D][2]) {
    for (int i = 0; i < D; i++)
        for (int k = 0; k < 2; k++) {
            long double sum_z = 0, sum_s = 0, sum = 0;
            for (int p = 0; p < N; p++) {
                sum_z += z[i * N + p], sum_s += sign[k * N + p];
                sum += (long double)z[i * N + p] * sign[k * N + p];
            }
            tie[i][k] = (double)(sum / N - sum_z / N * sum_s / N);
        }
}

/* Moves all, the weights alike; n_signs 0: as if there were none. */
static void move_often(int moves, int n_signs, const double *sign, double *z) {
    static double log_w[N], spare[2 * N], off_mean[SIGNS * N];
    memset(log_w, 0, sizeof log_w);
    for (int move = 0; move < moves; move++) {
        memcpy(off_mean, sign, sizeof off_mean);
        bfi_cloud cloud = bfi_cloud_of(log_w, N, n_signs, off_mean, z, spare);
        bfi_cloud_move(&cloud, 3, 8, (uint64_t)move, N, off_mean, z);
    }
}

/* After 60 moves of 501 particles, along axes as wide as the prior, next to nothing is left of where each was beside what its signs tell (0.92^60). Mean,
 * variance and ties wander: bounds are 4 standard errors, h sqrt(60 / 501) sd for a mean, sqrt(2) times that share for a variance, of both sds for
 * a tie; and 1e-7 for what rounding does to the fixed column. */
#define MOVES 60
static void moving_keeps_mean_covariance_and_what_goes_with_the_state(void **state) {
    (void)state;
    static double log_w[N], w[N], z[D * N], sign[SIGNS * N], mean[D], covariance[D][D], mean_after[D],
        after[D][D], tie[D][2], tie_after[D][2];
    made_cloud(log_w, z, N);
    made_signs(z, sign);
    for (int p = 0; p < N; p++) w[p] = 1;
    covariance_of(w, z, N, mean, covariance);
    ties_of(z, sign, tie);
    move_often(MOVES, SIGNS, sign, z);
    covariance_of(w, z, N, mean_after, after);
    ties_of(z, sign, tie_after);
    double wander = BFI_CLOUD_MOVE * sqrt((double)MOVES / N), sign_sd[2] = {0, 0};
    for (int k = 0; k < 2; k++) {
        double sum = 0, squares = 0;
        for (int p = 0; p < N; p++) sum += sign[k * N + p], squares += sign[k * N + p] * sign[k * N + p];
        sign_sd[k] = sqrt(squares / N - sum / N * sum / N);
    }
    for (int i = 0; i < D; i++) {
        double sd = sqrt(covariance[i][i]);
        BF_CHECK_ABS(mean_after[i], mean[i], 4 * wander * sd + 1e-7);
        for (int j = 0; j <= i; j++)
            BF_CHECK_ABS(after[i][j], covariance[i][j],
                         4 * sqrt(2.0) * wander * sd * sqrt(covariance[j][j]) + 1e-7);
        for (int k = 0; k < 2; k++)
            BF_CHECK_ABS(tie_after[i][k], tie[i][k], 4 * wander * sd * sign_sd[k] + 1e-7);
    }
    /* and without signs the strongest tie is lost to that */
    assert_true(tie[3][0] > 4 * wander * sqrt(covariance[3][3]) * sign_sd[0]);
    move_often(MOVES, 0, sign, z);
    ties_of(z, sign, tie_after);
    BF_CHECK_ABS(tie_after[3][0], 0, 3 * wander * sqrt(covariance[3][3]) * sign_sd[0]);
}

/* What all stand on when one particle alone counts has no spread: copies stay where they are. */
static void one_particle_that_counts_leaves_its_copies_where_it_is(void **state) {
    (void)state;
    static double log_w[N], z[D * N], sign[SIGNS * N], spare[2 * N];
    made_cloud(log_w, z, N);
    made_signs(z, sign);
    for (int p = 0; p < N; p++) log_w[p] = p == 77 ? 0 : -INFINITY;
    bfi_cloud cloud = bfi_cloud_of(log_w, N, SIGNS, sign, z, spare);
    for (int p = 0; p < N; p++) {
        for (int i = 0; i < D; i++) z[i * N + p] = z[i * N + 77];
        for (int k = 0; k < SIGNS; k++) sign[k * N + p] = sign[k * N + 77];
    }
    bfi_cloud_move(&cloud, 3, 8, 0, N, sign, z);
    for (int i = 0; i < D; i++)
        for (int p = 0; p < N; p++) BF_CHECK_ABS(z[i * N + p], cloud.mean[i], 1e-12);
}

static void copies_part_and_a_fixed_parameter_stays(void **state) {
    (void)state;
    static double log_w[N], z[D * N], sign[SIGNS * N], spare[2 * N];
    made_cloud(log_w, z, N);
    made_signs(z, sign);
    bfi_cloud cloud = bfi_cloud_of(log_w, N, SIGNS, sign, z, spare);
    for (int i = 0; i < D; i++)
        for (int p = 1; p < N; p++) z[i * N + p] = z[i * N];
    for (int k = 0; k < SIGNS; k++)
        for (int p = 1; p < N; p++) sign[k * N + p] = sign[k * N];
    bfi_cloud_move(&cloud, 3, 8, 0, N, sign, z);
    for (int i = 0; i < D; i++)
        for (int p = 1; p < N; p++)
            if (i == 5)
                BF_CHECK_ABS(z[i * N + p], 0.25, 1e-14);
            else
                assert_true(z[i * N + p] != z[i * N]);
}

static void a_move_is_a_function_of_its_numbers(void **state) {
    (void)state;
    static double log_w[N], z[D * N], again[D * N], other[D * N], sign[SIGNS * N], spare[2 * N];
    made_cloud(log_w, z, N);
    made_signs(z, sign);
    bfi_cloud cloud = bfi_cloud_of(log_w, N, SIGNS, sign, z, spare);
    memcpy(again, z, sizeof z);
    memcpy(other, z, sizeof z);
    bfi_cloud_move(&cloud, 3, 8, 6, N, sign, z);
    bfi_cloud_move(&cloud, 3, 8, 6, N, sign, again);
    bfi_cloud_move(&cloud, 3, 8, 7, N, sign, other);
    assert_memory_equal(z, again, sizeof z);
    assert_true(memcmp(z, other, sizeof z) != 0);
}

/* What is summed as the spread of particles that are all alike is rounding, no covariance; its root must not be larger, or
 * rounding feeds on itself from move to move. Found by a bite every ten seconds for four hours: no number was left. */
static void a_root_of_rounding_is_no_larger_than_rounding(void **state) {
    (void)state;
    for (uint64_t k = 0; k < 100; k++) {
        double noise[D][D], root[D][D];
        for (int i = 0; i < D; i++)
            for (int j = 0; j <= i; j++)
                noise[i][j] = 1e-18 * bf_normal(4, k, (uint64_t)(i * D + j)) * (i == j ? 1e-3 : 1);
        bfi_root_of(D, noise, root);
        for (int i = 0; i < D; i++)
            for (int j = 0; j <= i; j++)
                assert_true(fabs(root[i][j]) <= sqrt(noise[i][i] > 0 ? noise[i][i] : 0));
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_move_keeps_the_covariance_of_the_weighted_particles),
        cmocka_unit_test(what_is_known_well_is_moved_little),
        cmocka_unit_test(moving_keeps_mean_covariance_and_what_goes_with_the_state),
        cmocka_unit_test(one_particle_that_counts_leaves_its_copies_where_it_is),
        cmocka_unit_test(a_root_of_rounding_is_no_larger_than_rounding),
        cmocka_unit_test(copies_part_and_a_fixed_parameter_stays),
        cmocka_unit_test(a_move_is_a_function_of_its_numbers),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
