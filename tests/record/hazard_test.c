/* hazard_test.c -- Cox fits against R, what they must do in every case, and how often their intervals hold the truth.
 *
 * Oracles: R 4.2.2, survival 3.5-3 (cox.csv, cox_robust.csv); GSL's quantile of Student's t; closed forms.
 */
#include <gsl/gsl_cdf.h>

#include "baitfall/elementary.h"
#include "baitfall/hazard.h"
#include "baitfall/random.h"
#include "record/survival_data.h"

enum { N_MOST = 4000 };

static double work[N_MOST * (4 + 4 * (BF_HAZARD_MOST + 1)) + 8000];

static bf_status fit_of(const double *time, const unsigned char *event, const double *x,
                        const uint32_t *cluster, size_t n, size_t p, bf_ties ties, bf_hazard *fit) {
    assert_true(n <= N_MOST && bf_hazard_bytes(n, p) <= sizeof work);
    return bf_hazard_fit(time, event, x, cluster, n, p, ties, work, fit);
}

/* Against R ---------------------------------------------------------------------------------------------- */

typedef struct design {
    size_t n, p;
    double time[SURVIVAL_MOST], x[3 * SURVIVAL_MOST];
    unsigned char event[SURVIVAL_MOST];
    uint32_t cluster[SURVIVAL_MOST]; /* row / 4 of the whole data set, as in cox_robust.R */
} design;

/* The rows of a data set in which none of the named columns is missing. */
static design design_of(const char *dataset, const int *columns, size_t p) {
    survival_data data = survival_read(dataset);
    design d = {.p = p};
    for (size_t i = 0; i < data.n; i++) {
        size_t known = 0;
        for (size_t k = 0; k < p; k++) known += isnan(data.x[i][columns[k]]) ? 0 : 1;
        if (known < p) continue;
        for (size_t k = 0; k < p; k++) d.x[d.n * p + k] = data.x[i][columns[k]];
        d.time[d.n] = data.time[i];
        d.event[d.n] = data.event[i];
        d.cluster[d.n++] = (uint32_t)i / 4;
    }
    return d;
}

static bf_ties ties_of(const char *word) {
    return strcmp(word, "efron") == 0 ? BF_EFRON : BF_BRESLOW;
}

/* R stops earlier than we do, so its own coefficients are good to some 1e-9. Our form of the table's models: */
static void coefficients_errors_likelihoods_and_tests_are_those_of_r(void **state) {
    (void)state;
    static const struct {
        const char *model;
        size_t p;
        int columns[3];
    } models[] = {{"time~x", 1, {0}}, {"time~sex", 1, {1}}, {"time~age+sex+ph.ecog", 3, {0, 1, 2}}};
    csv_file csv;
    csv_open(&csv, "statistics/cox.csv");
    csv_next(&csv);
    char last[64] = "";
    size_t k = 0, n_rows = 0;
    while (csv_next(&csv)) {
        if (strcmp(csv.cell[2], "exact") == 0) continue; /* a third way with ties, not ours */
        char name[64];
        snprintf(name, sizeof name, "%.10s %.30s %.10s", csv.cell[0], csv.cell[1], csv.cell[2]);
        k = strcmp(name, last) ? 0 : k + 1;
        snprintf(last, sizeof last, "%s", name);

        size_t m = 0;
        while (m < 3 && strcmp(models[m].model, csv.cell[1]) != 0) m++;
        assert_true(m < 3);
        design d = design_of(csv.cell[0], models[m].columns, models[m].p);
        bf_hazard fit;
        assert_int_equal(fit_of(d.time, d.event, d.x, NULL, d.n, d.p, ties_of(csv.cell[2]), &fit), BF_OK);
        BF_CHECK_ABS(fit.coef[k], csv_number(&csv, 4), 1e-8);
        BF_CHECK_ABS(sqrt(fit.model[k][k]), csv_number(&csv, 5), 1e-8);
        BF_CHECK_ABS(fit.loglik0, csv_number(&csv, 8), 1e-8);
        BF_CHECK_ABS(fit.loglik, csv_number(&csv, 9), 1e-8);
        BF_CHECK_ABS(fit.ratio_test, csv_number(&csv, 10), 2e-8);
        BF_CHECK_ABS(fit.wald_test, csv_number(&csv, 11), 0.0051); /* printed to 2 decimals there */
        BF_CHECK_ABS(fit.score_test, csv_number(&csv, 12), 1e-8);
        BF_CHECK_ABS(fit.n_waits, csv_number(&csv, 14), 0);
        BF_CHECK_ABS(fit.n_events, csv_number(&csv, 15), 0);
        n_rows++;
    }
    assert_int_equal(n_rows, 10);
}

static void robust_covariances_are_those_of_r(void **state) {
    (void)state;
    const int columns[] = {0, 1, 2};
    csv_file csv;
    csv_open(&csv, "statistics/cox_robust.csv");
    csv_next(&csv);
    csv_next(&csv);
    size_t n_rows = 0;
    for (; csv_next(&csv); n_rows++) {
        design d = design_of(csv.cell[0], columns, (size_t)csv_number(&csv, 2));
        int k = csv.cell[3][1] - '1';
        bf_hazard fit;
        assert_int_equal(fit_of(d.time, d.event, d.x, d.cluster, d.n, d.p, ties_of(csv.cell[1]), &fit),
                         BF_OK);
        BF_CHECK_ABS(fit.coef[k], csv_number(&csv, 4), 1e-10);
        BF_CHECK_ABS(sqrt(fit.model[k][k]), csv_number(&csv, 5), 1e-10);
        BF_CHECK_ABS(sqrt(fit.robust[k][k]), csv_number(&csv, 6), 1e-10);
        BF_CHECK_ABS(fit.robust[k][0], csv_number(&csv, 7), 1e-10);
        BF_CHECK_ABS(fit.n_clusters, csv_number(&csv, 8), 0);
    }
    assert_int_equal(n_rows, 14);
}

/* What must hold ----------------------------------------------------------------------------------------- */

static void the_worked_examples_of_the_header_hold(void **state) {
    (void)state;
    design d = design_of("aml", (const int[]){0}, 1);
    bf_hazard fit;
    assert_int_equal(fit_of(d.time, d.event, d.x, NULL, d.n, 1, BF_EFRON, &fit), BF_OK);
    BF_CHECK_ABS(fit.coef[0], 0.9155326, 5e-8);
    BF_CHECK_ABS(sqrt(fit.model[0][0]), 0.5119343, 5e-8);
    bf_banded factor = bf_hazard_factor(&fit, 0, 1, 0.95, BF_ERROR_MODEL);
    BF_CHECK_ABS(factor.value, 0.400, 5e-4);
    BF_CHECK_ABS(factor.lower, 0.147, 5e-4);
    BF_CHECK_ABS(factor.upper, 1.092, 5e-4);
}

static void factor_of_minus_one_unit_is_the_inverse(void **state) {
    (void)state;
    design d = design_of("lung", (const int[]){1}, 1);
    bf_hazard fit;
    assert_int_equal(fit_of(d.time, d.event, d.x, d.cluster, d.n, 1, BF_EFRON, &fit), BF_OK);
    bf_banded more = bf_hazard_factor(&fit, 0, 1, 0.8, BF_ERROR_ROBUST),
              less = bf_hazard_factor(&fit, 0, -1, 0.8, BF_ERROR_ROBUST);
    BF_CHECK_REL(less.value, 1 / more.value, 1e-14);
    BF_CHECK_REL(less.lower, 1 / more.upper, 1e-14);
    BF_CHECK_REL(less.upper, 1 / more.lower, 1e-14);
}

/* Invented rows: waits in whole seconds (ties), three covariates, sessions of ten. */
static void invent(size_t n, double *time, unsigned char *event, double *x, uint32_t *cluster) {
    for (size_t i = 0; i < n; i++) {
        for (size_t k = 0; k < 3; k++) x[3 * i + k] = bf_normal(21, k, i);
        x[3 * i] = x[3 * i] > 0;
        double hazard = exp(0.5 * x[3 * i] - 0.3 * x[3 * i + 1]);
        time[i] = 1 + floor(-30 * log(1 - bf_uniform(21, 3, i)) / hazard);
        event[i] = bf_uniform(21, 4, i) < 0.7;
        cluster[i] = (uint32_t)(i / 10);
    }
}

static double time_[N_MOST], x_[3 * N_MOST], moved_[3 * N_MOST];
static unsigned char event_[N_MOST];
static uint32_t cluster_[N_MOST];

static void units_of_a_covariate_and_of_time_do_not_matter(void **state) {
    (void)state;
    const size_t n = 500;
    invent(n, time_, event_, x_, cluster_);
    bf_hazard fit, other;
    assert_int_equal(fit_of(time_, event_, x_, cluster_, n, 3, BF_EFRON, &fit), BF_OK);
    for (size_t i = 0; i < n; i++) {
        moved_[3 * i] = x_[3 * i];
        moved_[3 * i + 1] = 273.15 + 10 * x_[3 * i + 1];
        moved_[3 * i + 2] = 1e-9 * x_[3 * i + 2];
        time_[i] *= 60;
    }
    assert_int_equal(fit_of(time_, event_, moved_, cluster_, n, 3, BF_EFRON, &other), BF_OK);
    const double unit[] = {1, 0.1, 1e9};
    for (size_t k = 0; k < 3; k++) {
        BF_CHECK_REL(other.coef[k], unit[k] * fit.coef[k], 1e-10);
        BF_CHECK_REL(other.carriers[k], fit.carriers[k], 1e-10);
        for (size_t j = 0; j < 3; j++) {
            BF_CHECK_REL(other.model[k][j], unit[k] * unit[j] * fit.model[k][j], 1e-9);
            BF_CHECK_REL(other.robust[k][j], unit[k] * unit[j] * fit.robust[k][j], 1e-9);
        }
    }
    BF_CHECK_REL(other.loglik, fit.loglik, 1e-13);
}

static void the_order_of_rows_and_of_ids_matters_only_to_rounding(void **state) {
    (void)state;
    const size_t n = 500;
    static double time[500], x[1500];
    static unsigned char event[500];
    static uint32_t cluster[500];
    invent(n, time_, event_, x_, cluster_);
    for (size_t i = 0; i < n; i++) {
        size_t to = n - 1 - i;
        time[to] = time_[i];
        event[to] = event_[i];
        cluster[to] = 499 - 3 * cluster_[i];
        memcpy(&x[3 * to], &x_[3 * i], 3 * sizeof *x);
    }
    bf_hazard fit, other;
    assert_int_equal(fit_of(time_, event_, x_, cluster_, n, 3, BF_EFRON, &fit), BF_OK);
    assert_int_equal(fit_of(time, event, x, cluster, n, 3, BF_EFRON, &other), BF_OK);
    assert_int_equal(fit.n_clusters, 50);
    assert_int_equal(other.n_clusters, 50);
    for (size_t k = 0; k < 3; k++) {
        BF_CHECK_ABS(other.coef[k], fit.coef[k], 1e-12);
        BF_CHECK_REL(other.robust[k][k], fit.robust[k][k], 1e-11);
    }
}

static void without_ties_both_ways_with_ties_agree(void **state) {
    (void)state;
    const size_t n = 500;
    invent(n, time_, event_, x_, cluster_);
    for (size_t i = 0; i < n; i++) time_[i] += 1e-4 * (double)i;
    bf_hazard efron, breslow;
    assert_int_equal(fit_of(time_, event_, x_, NULL, n, 3, BF_EFRON, &efron), BF_OK);
    assert_int_equal(fit_of(time_, event_, x_, NULL, n, 3, BF_BRESLOW, &breslow), BF_OK);
    assert_memory_equal(&efron, &breslow, sizeof efron);
}

/* Two groups of equal size, all waits of one length: every risk set is the same. With n of each, the score at 0 is 0. */
static void groups_that_do_not_differ_give_a_coefficient_of_0(void **state) {
    (void)state;
    double time[40], x[40];
    unsigned char event[40];
    for (size_t i = 0; i < 40; i++) {
        time[i] = (double)(1 + i / 2);
        x[i] = (double)(i % 2);
        event[i] = 1;
    }
    bf_hazard fit;
    assert_int_equal(fit_of(time, event, x, NULL, 40, 1, BF_EFRON, &fit), BF_OK);
    BF_CHECK_ABS(fit.coef[0], 0, 1e-14);
    assert_int_equal(fit.n_steps, 0);
}

static void carriers_count_the_clusters_in_which_something_was_tried(void **state) {
    (void)state;
    const size_t n = 4000;
    for (size_t i = 0; i < n; i++) {
        cluster_[i] = (uint32_t)(i / 100);
        time_[i] = -log(1 - bf_uniform(22, 0, i));
        event_[i] = 1;
        x_[2 * i] = i % 2 == 0;                              /* in all */
        x_[2 * i + 1] = i % 2 == 0 && cluster_[i] % 10 == 0; /* in 4 */
    }
    bf_hazard fit;
    assert_int_equal(fit_of(time_, event_, x_, cluster_, n, 2, BF_EFRON, &fit), BF_OK);
    BF_CHECK_ABS(fit.carriers[0], 40, 4);
    BF_CHECK_ABS(fit.carriers[1], 4.9, 0.2); /* the other 36 weigh a little, too */
}

static void robust_reach_is_that_of_students_t(void **state) {
    (void)state;
    const double carriers[] = {2, 2.5, 3, 5, 7.25, 30, 201, 5000}, levels[] = {0.5, 0.8, 0.95, 0.999};
    for (size_t i = 0; i < 8; i++)
        for (size_t j = 0; j < 4; j++) {
            bf_hazard fit = {.n_covariates = 1};
            fit.carriers[0] = carriers[i];
            fit.robust[0][0] = 1e-4 * (carriers[i] - 1) / carriers[i];
            double reach = 0.01 * gsl_cdf_tdist_Pinv((1 + levels[j]) / 2, carriers[i] - 1);
            BF_CHECK_REL(log(bf_hazard_factor(&fit, 0, 1, levels[j], BF_ERROR_ROBUST).upper), reach, 1e-9);
        }
}

static void fewer_than_two_carriers_have_no_robust_interval(void **state) {
    (void)state;
    bf_hazard fit = {.n_covariates = 1, .carriers = {1.9}, .robust = {{1}}};
    assert_true(isnan(bf_hazard_factor(&fit, 0, 1, 0.8, BF_ERROR_ROBUST).lower));
}

/* The log partial likelihood written straight from the header, n^2. */
static double likelihood_of(const double *coef, size_t n, size_t p) {
    double risk[20], sum = 0;
    for (size_t i = 0; i < n; i++) {
        risk[i] = 0;
        for (size_t k = 0; k < p; k++) risk[i] += coef[k] * x_[i * p + k];
        if (event_[i]) sum += risk[i];
        risk[i] = exp(risk[i]);
    }
    for (size_t i = 0; i < n; i++) {
        double at_risk = 0, ended = 0, d = 0, before = 0;
        for (size_t j = 0; j < n; j++) {
            if (time_[j] >= time_[i]) at_risk += risk[j];
            if (time_[j] != time_[i] || !event_[j]) continue;
            ended += risk[j];
            d++;
            before += j < i;
        }
        if (event_[i]) sum -= log(at_risk - before / d * ended);
    }
    return sum;
}

/* Of one covariate: whether at every end of a wait the ended had the largest x at risk (side 1), or the smallest (-1). */
static int separates(size_t n, double side) {
    for (size_t i = 0; i < n; i++)
        for (size_t j = 0; j < n; j++)
            if (event_[i] && time_[j] >= time_[i] && side * x_[j] > side * x_[i]) return 0;
    return 1;
}

static bf_status status_of_one_covariate(size_t n) {
    int up = separates(n, 1), down = separates(n, -1);
    return up && down ? BF_E_TWICE : up || down ? BF_E_MODEL_RANGE : BF_OK;
}

/* Sets of 2 to 20 waits, many of which have no answer. Every answer is the top of the likelihood; every refusal has one of the
 * three reasons, and all of them occur. */
static void any_small_record_is_fitted_at_the_top_or_refused_with_a_reason(void **state) {
    (void)state;
    size_t n_status[BF_N_STATUS] = {0};
    for (uint64_t set = 0; set < 5000; set++) {
        size_t n = 2 + (size_t)(19 * bf_uniform(24, set, 0)), p = 1 + (size_t)(3 * bf_uniform(24, set, 1));
        for (size_t i = 0; i < n; i++) {
            time_[i] = 1 + floor(10 * bf_uniform(24, set, 10 + i));
            event_[i] = bf_uniform(24, set, 100 + i) < 0.7;
            cluster_[i] = (uint32_t)(i / 2);
            for (size_t k = 0; k < p; k++) x_[i * p + k] = floor(4 * bf_uniform(24, set, 200 + 3 * i + k));
        }
        bf_hazard fit;
        bf_status status = fit_of(time_, event_, x_, cluster_, n, p, BF_EFRON, &fit);
        n_status[status]++;
        if (p == 1 && status != BF_E_MISSING) assert_int_equal(status, status_of_one_covariate(n));
        if (status) continue;
        BF_CHECK_ABS(fit.loglik, likelihood_of(fit.coef, n, p), 1e-10);
        for (size_t k = 0; k < p; k++) {
            for (double away = -1e-3; away < 2e-3; away += 2e-3) {
                double coef[BF_HAZARD_MOST];
                memcpy(coef, fit.coef, sizeof coef);
                coef[k] += away * sqrt(fit.model[k][k]);
                assert_true(likelihood_of(coef, n, p) < fit.loglik);
            }
            assert_true(fit.robust[k][k] >= 0 && fit.carriers[k] >= 1 - 1e-9 &&
                        fit.carriers[k] <= fit.n_clusters + 1e-9);
        }
    }
    assert_true(n_status[BF_OK] > 1000 && n_status[BF_E_MISSING] && n_status[BF_E_TWICE] &&
                n_status[BF_E_MODEL_RANGE]);
    assert_int_equal(
        n_status[BF_OK] + n_status[BF_E_MISSING] + n_status[BF_E_TWICE] + n_status[BF_E_MODEL_RANGE], 5000);
}

/* Bad input ---------------------------------------------------------------------------------------------- */

static void check_refused(const double *time, const unsigned char *event, const double *x,
                          const uint32_t *cluster, size_t n, size_t p, bf_status want, uint32_t i_bad) {
    bf_hazard fit;
    assert_int_equal(fit_of(time, event, x, cluster, n, p, BF_EFRON, &fit), want);
    assert_true(isnan(fit.loglik) && isnan(fit.score_test));
    for (size_t k = 0; k < fit.n_covariates; k++)
        assert_true(isnan(fit.coef[k]) && isnan(fit.model[k][k]) && isnan(fit.robust[k][k]) &&
                    isnan(fit.carriers[k]));
    assert_int_equal(fit.i_bad, i_bad);
}

static void bad_rows_are_refused(void **state) {
    (void)state;
    const double time[] = {1, 2, 3}, x[] = {0, 1, 0};
    const double bad_time[] = {1, NAN, 3}, late_time[] = {1, INFINITY, 3}, no_time[] = {1, 0, 3};
    const double bad_x[] = {0, NAN, 0}, huge_x[] = {0, 1e101, 0};
    const unsigned char event[] = {1, 1, 1}, none[] = {0, 0, 0};
    const uint32_t cluster[] = {0, 3, 1};
    check_refused(bad_time, event, x, NULL, 3, 1, BF_E_NOT_FINITE, 0);
    check_refused(late_time, event, x, NULL, 3, 1, BF_E_NOT_FINITE, 0);
    check_refused(no_time, event, x, NULL, 3, 1, BF_E_RANGE, 0);
    check_refused(time, event, bad_x, NULL, 3, 1, BF_E_NOT_FINITE, 0);
    check_refused(time, event, huge_x, NULL, 3, 1, BF_E_RANGE, 0);
    check_refused(time, event, x, cluster, 3, 1, BF_E_RANGE, 0);
    check_refused(time, none, x, NULL, 3, 1, BF_E_MISSING, 0);
    check_refused(time, event, x, NULL, 0, 1, BF_E_MISSING, 0);
    check_refused(time, event, x, NULL, 3, 0, BF_E_COUNT, 0);
    check_refused(time, event, x, NULL, 3, BF_HAZARD_MOST + 1, BF_E_COUNT, 0);
    bf_hazard fit;
    assert_int_equal(bf_hazard_fit(time, event, x, NULL, BF_WAITS_MOST + 1u, 1, BF_EFRON, work, &fit),
                     BF_E_COUNT);
}

static void a_constant_covariate_is_blamed(void **state) {
    (void)state;
    invent(200, time_, event_, x_, cluster_);
    for (size_t i = 0; i < 200; i++) x_[3 * i + 1] = 0.1;
    check_refused(time_, event_, x_, NULL, 200, 3, BF_E_TWICE, 1);
}

static void a_covariate_that_says_what_others_said_is_blamed(void **state) {
    (void)state;
    invent(200, time_, event_, x_, cluster_);
    for (size_t i = 0; i < 200; i++) x_[3 * i + 2] = 12 - 0.1 * x_[3 * i] + 7 * x_[3 * i + 1];
    check_refused(time_, event_, x_, NULL, 200, 3, BF_E_TWICE, 2);
}

/* It differs only in waits cut short before anything ended. */
static void a_covariate_constant_wherever_it_counts_is_blamed(void **state) {
    (void)state;
    const double time[] = {1, 2, 3, 4, 5}, x[] = {1, 0, 0, 0, 0};
    const unsigned char event[] = {0, 1, 1, 1, 1};
    check_refused(time, event, x, NULL, 5, 1, BF_E_TWICE, 0);
}

/* "Every wait after stepping up was shorter than every one before", beside a covariate that is blameless. */
static void a_covariate_that_separates_is_blamed(void **state) {
    (void)state;
    for (size_t n = 10; n <= N_MOST; n = n == 10 ? 200 : n + 3800) {
        for (size_t i = 0; i < n; i++) {
            time_[i] = (double)(1 + i);
            event_[i] = 1;
            x_[2 * i] = bf_normal(23, 0, i);
            x_[2 * i + 1] = i < n / 2;
        }
        check_refused(time_, event_, x_, NULL, n, 2, BF_E_MODEL_RANGE, 1);
    }
}

/* Nothing ended in one group: its hazard ratio is 0. */
static void a_group_in_which_nothing_ended_is_blamed(void **state) {
    (void)state;
    invent(200, time_, event_, x_, cluster_);
    for (size_t i = 0; i < 200; i++) event_[i] = (unsigned char)(event_[i] && x_[3 * i] == 0);
    check_refused(time_, event_, x_, NULL, 200, 3, BF_E_MODEL_RANGE, 0);
}

/* Coverage ----------------------------------------------------------------------------------------------- */

#define ALIKE 0.7 /* 1 - Kendall's tau of two waits of a session */

/* A positive stable number of index ALIKE (M. Kanter's representation, Ann. Probab. 3, 1975, from memory): as a common factor
 * on the hazards of a session it leaves the hazards of single waits proportional, so the coefficient is known exactly:
 * P. Hougaard, Biometrika 73, 1986 (from memory). */
static double stable(double uniform, double other) {
    double angle = BF_PI * uniform, rest = 1 - ALIKE;
    double a = sin(rest * angle) * pow(sin(ALIKE * angle), ALIKE / rest) / pow(sin(angle), 1 / rest);
    return pow(a / -log(other), rest / ALIKE);
}

typedef struct plan {
    size_t n_sessions, every; /* one session in `every` steps up half-way; one in every + 1 has warm water */
} plan;

/* One record: coefficient 0.4 after stepping up, 0.3 in warm water. Returns its number of waits. */
static size_t make_record(plan of, uint64_t record, uint64_t seed) {
    size_t n = 0;
    for (size_t s = 0; s < of.n_sessions; s++) {
        uint64_t at = 1000 * s;
        double factor = stable(bf_uniform(seed, record, at), bf_uniform(seed, record, at + 1));
        size_t n_waits = 4 + (size_t)(16 * bf_uniform(seed, record, at + 2));
        for (size_t i = 0; i < n_waits; i++, n++) {
            x_[2 * n] = s % of.every == 0 && i >= n_waits / 2;
            x_[2 * n + 1] = s % (of.every + 1) == 0;
            double hazard = factor * exp((0.4 * x_[2 * n] + 0.3 * x_[2 * n + 1]) / ALIKE);
            double wait = pow(-log(bf_uniform(seed, record, at + 3 + 2 * i)) / hazard, ALIKE);
            double cut = -2.5 * log(bf_uniform(seed, record, at + 4 + 2 * i));
            time_[n] = (wait < cut ? wait : cut) + 1e-12;
            event_[n] = wait <= cut;
            cluster_[n] = (uint32_t)s;
        }
    }
    return n;
}

typedef struct covered {
    size_t n, n_robust[2], n_model[2];
    double carriers[2];
} covered;

static covered simulate(plan of, uint64_t seed) {
    const double truth[] = {exp(-0.4), exp(-0.3)};
    covered in = {.n = repeats(1500, 10000)};
    for (size_t r = 0; r < in.n; r++) {
        size_t n = make_record(of, r, seed);
        bf_hazard fit;
        assert_int_equal(fit_of(time_, event_, x_, cluster_, n, 2, BF_EFRON, &fit), BF_OK);
        for (size_t k = 0; k < 2; k++) {
            bf_banded robust = bf_hazard_factor(&fit, k, 1, 0.95, BF_ERROR_ROBUST),
                      model = bf_hazard_factor(&fit, k, 1, 0.95, BF_ERROR_MODEL);
            in.n_robust[k] += robust.lower <= truth[k] && truth[k] <= robust.upper;
            in.n_model[k] += model.lower <= truth[k] && truth[k] <= model.upper;
            in.carriers[k] += fit.carriers[k] / (double)in.n;
        }
    }
    for (size_t k = 0; k < 2; k++)
        print_message("           %zu sessions, carriers %.1f: robust %.2f %%, model-based %.2f %%\n",
                      of.n_sessions, in.carriers[k], 100 * (double)in.n_robust[k] / (double)in.n,
                      100 * (double)in.n_model[k] / (double)in.n);
    return in;
}

static void robust_intervals_of_95_percent_hold_the_truth_in_94_to_96(void **state) {
    (void)state;
    const plan plans[] = {{20, 1}, {40, 1}, {40, 3}, {80, 3}};
    for (size_t s = 0; s < sizeof plans / sizeof plans[0]; s++) {
        covered in = simulate(plans[s], 31 + s);
        check_covers_95("after stepping up", in.n_robust[0], in.n);
        check_covers_95("in warm water", in.n_robust[1], in.n);
    }
}

/* The header owns up to it: the share, whatever it is, lies within 93.5 to 96.5 % and four standard errors: false alarm
 * 6e-5 at either end. */
static void of_five_to_ten_carriers_robust_intervals_hold_the_truth_in_93_to_97(void **state) {
    (void)state;
    const plan plans[] = {{10, 1}, {10, 3}, {20, 3}};
    for (size_t s = 0; s < sizeof plans / sizeof plans[0]; s++) {
        covered in = simulate(plans[s], 41 + s);
        double reach = 4 * sqrt(0.95 * 0.05 / (double)in.n);
        for (size_t k = 0; k < 2; k++)
            BF_CHECK_IN((double)in.n_robust[k] / (double)in.n, 0.935 - reach, 0.965 + reach);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(coefficients_errors_likelihoods_and_tests_are_those_of_r),
        cmocka_unit_test(robust_covariances_are_those_of_r),
        cmocka_unit_test(the_worked_examples_of_the_header_hold),
        cmocka_unit_test(factor_of_minus_one_unit_is_the_inverse),
        cmocka_unit_test(units_of_a_covariate_and_of_time_do_not_matter),
        cmocka_unit_test(the_order_of_rows_and_of_ids_matters_only_to_rounding),
        cmocka_unit_test(without_ties_both_ways_with_ties_agree),
        cmocka_unit_test(groups_that_do_not_differ_give_a_coefficient_of_0),
        cmocka_unit_test(carriers_count_the_clusters_in_which_something_was_tried),
        cmocka_unit_test(robust_reach_is_that_of_students_t),
        cmocka_unit_test(fewer_than_two_carriers_have_no_robust_interval),
        cmocka_unit_test(any_small_record_is_fitted_at_the_top_or_refused_with_a_reason),
        cmocka_unit_test(bad_rows_are_refused),
        cmocka_unit_test(a_constant_covariate_is_blamed),
        cmocka_unit_test(a_covariate_that_says_what_others_said_is_blamed),
        cmocka_unit_test(a_covariate_constant_wherever_it_counts_is_blamed),
        cmocka_unit_test(a_covariate_that_separates_is_blamed),
        cmocka_unit_test(a_group_in_which_nothing_ended_is_blamed),
        cmocka_unit_test(robust_intervals_of_95_percent_hold_the_truth_in_94_to_96),
        cmocka_unit_test(of_five_to_ten_carriers_robust_intervals_hold_the_truth_in_93_to_97),
    };
    return cmocka_run_group_tests_name("hazard", tests, NULL, NULL);
}
