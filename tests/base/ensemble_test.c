/* The ensemble against closed forms (a linear model, Ishigami's function); its answer does not depend on the cut.
 *
 * Closed form: y = a u + b v + c w with independent normals has first-order shares a2 / (a2 + b2 + c2) ...; the 10 and
 * 90 % points are mean -+ pm. Sampling error of a share from 4096 draws is about 0.01 (one sd), and 16 bins hide 2 % of
 * a normal input's own; of a 10 % point it is 0.027 sd. The tolerances below are at least 4 of these: a false alarm in
 * under 1 in 10 000 seeds. The seed is fixed, so the test never flickers. */
#include <string.h>

#include "baitfall/ensemble.h"
#include "common/check.h"

typedef struct trio {
    bf_quantity u_m, v_m, w_m;
    double gain;
} trio;

static const bf_field trio_fields[] = {
    BF_Q(trio, u_m, BF_LENGTH, -1e6, 1e6, 0, 1, 0, 1, "first"),
    BF_Q(trio, v_m, BF_LENGTH, -1e6, 1e6, 0, 1, 0, 1, "second"),
    BF_Q(trio, w_m, BF_LENGTH, -1e6, 1e6, 0, 1, 0, 1, "third"),
    BF_R(trio, gain, BF_PURE, -10, 10, 1, "factor"),
};
static const bf_table trio_table = BF_TABLE("trio", trio, trio_fields);
static const bf_section trio_section[] = {{"trio", &trio_table, 0, 1, 0, NULL}};
static const bf_schema trio_schema = {"trio", sizeof(trio), trio_section, 1};

/* out: the linear sum; the product u v; the sum where it is positive, else no number; raw: the draw's index.
 */
static bf_status trio_model(const void *record, const bf_draw *draw, double *out) {
    const trio *t = record;
    out[0] = t->gain * (3 * t->u_m.value + 2 * t->v_m.value + 1 * t->w_m.value);
    out[1] = t->u_m.value * t->v_m.value;
    out[2] = out[0] > 0 ? out[0] : BF_NAN;
    out[3] = (double)draw->index;
    return BF_OK;
}

static trio start(void) {
    trio t;
    bf_schema_start(&trio_schema, &t);
    return t;
}

static bf_ensemble_result run(const trio *record, int n_draws, int n_cuts, double *rows) {
    bf_ensemble e = {&trio_schema, record, trio_model, 3, 1, 7, n_draws};
    void *work = malloc(bf_ensemble_work_bytes(&e));
    double nominal[4];
    bf_ensemble_result result;
    assert_int_equal(bf_ensemble_nominal(&e, nominal), BF_OK);
    for (int c = n_cuts - 1; c >= 0; c--) { /* last range first: order must not matter */
        int i = n_draws * c / n_cuts, j = n_draws * (c + 1) / n_cuts;
        assert_int_equal(bf_ensemble_range(&e, i, j, work, rows + 4 * i), BF_OK);
    }
    bf_ensemble_finish(&e, rows, nominal, work, &result);
    free(work);
    return result;
}

static double rows[4 * BF_DRAWS_MOST];

static void linear_model_has_the_closed_form_range_and_shares(void **state) {
    (void)state;
    trio t = start();
    bf_ensemble_result r = run(&t, BF_DRAWS_START, 1, rows);
    double half = sqrt(9.0 + 4.0 + 1.0); /* pm of the sum; sd is half / BF_PM_PER_SD */
    BF_CHECK_ABS(r.range[0].nominal, 0, 0);
    BF_CHECK_ABS(r.range[0].lo, -half, 4 * 0.027 * half / BF_PM_PER_SD);
    BF_CHECK_ABS(r.range[0].mid, 0, 4 * 0.02 * half / BF_PM_PER_SD);
    BF_CHECK_ABS(r.range[0].hi, half, 4 * 0.027 * half / BF_PM_PER_SD);
    assert_int_equal(r.n_inputs, 3);
    BF_CHECK_ABS(r.share[0][0], 9.0 / 14, 0.08);
    BF_CHECK_ABS(r.share[0][1], 4.0 / 14, 0.08);
    BF_CHECK_ABS(r.share[0][2], 1.0 / 14, 0.08);
}

static void shares_and_together_sum_to_one(void **state) {
    (void)state;
    trio t = start();
    bf_ensemble_result r = run(&t, BF_DRAWS_START, 1, rows);
    for (int o = 0; o < 3; o++)
        BF_CHECK_ABS(r.share[o][0] + r.share[o][1] + r.share[o][2] + r.together[o], 1, 1e-12);
}

static void a_pure_interaction_is_all_together(void **state) {
    (void)state;
    trio t = start();
    bf_ensemble_result r = run(&t, BF_DRAWS_START, 1, rows);
    BF_CHECK_IN(r.together[1], 0.85, 1);
}

static void the_answer_does_not_depend_on_the_cut(void **state) {
    (void)state;
    trio t = start();
    static double other[4 * BF_DRAWS_START];
    bf_ensemble_result one = run(&t, BF_DRAWS_START, 1, rows);
    const int cuts[] = {2, 8, 13};
    for (size_t c = 0; c < sizeof cuts / sizeof cuts[0]; c++) {
        bf_ensemble_result cut = run(&t, BF_DRAWS_START, cuts[c], other);
        assert_memory_equal(&one, &cut, sizeof one);
    }
    for (int k = 0; k < BF_DRAWS_START; k++) BF_CHECK_ABS(rows[4 * k + 3], k, 0);
}

static void draws_without_a_number_are_left_out(void **state) {
    (void)state;
    trio t = start();
    bf_ensemble_result r = run(&t, BF_DRAWS_START, 1, rows);
    double sd = sqrt(14.0) / BF_PM_PER_SD;
    BF_CHECK_ABS(r.range[2].mid, 0.6744897501960817 * sd, 4 * 0.035 * sd); /* median of a half normal */
    BF_CHECK_IN(r.range[2].lo, 0, sd);
}

static void an_exact_input_has_no_part(void **state) {
    (void)state;
    trio t = start();
    t.u_m.pm = 0;
    bf_ensemble_result r = run(&t, BF_DRAWS_START, 1, rows);
    assert_int_equal(r.n_inputs, 2);
    BF_CHECK_ABS(r.share[0][0], 4.0 / 5, 0.08);
}

/* The sum is linear with means of 0: its parts, each with only one input uncertain, add up to it draw by draw. */
static void another_inputs_range_does_not_move_a_draw(void **state) {
    (void)state;
    double parts[64] = {0};
    trio t = start();
    for (int only = 0; only < 3; only++) {
        t = start();
        bf_quantity *q[] = {&t.u_m, &t.v_m, &t.w_m};
        for (int i = 0; i < 3; i++)
            if (i != only) q[i]->pm = 0;
        run(&t, 64, 1, rows);
        for (int k = 0; k < 64; k++) parts[k] += rows[4 * k];
    }
    t = start();
    run(&t, 64, 1, rows);
    for (int k = 0; k < 64; k++) BF_CHECK_ABS(rows[4 * k], parts[k], 1e-12);
}

/* Nor does a field more in the table, or another section before it. */
static void a_new_field_does_not_move_a_draw(void **state) {
    (void)state;
    static const bf_field fields[] = {
        BF_R(trio, gain, BF_PURE, -10, 10, 1, "factor"),
        BF_Q(trio, w_m, BF_LENGTH, -1e6, 1e6, 0, 1, 0, 1, "third, now first"),
        BF_Q(trio, v_m, BF_LENGTH, -1e6, 1e6, 0, 1, 0, 1, "second"),
        BF_Q(trio, u_m, BF_LENGTH, -1e6, 1e6, 0, 1, 0, 1, "first, now last"),
    };
    static const bf_table table = BF_TABLE("trio", trio, fields);
    static const bf_section section[] = {{"other", &table, sizeof(trio), 1, 0, NULL},
                                         {"trio", &table, 0, 1, 0, NULL}};
    static const bf_schema schema = {"two", 2 * sizeof(trio), section, 2};
    trio t = start(), two[2];
    static double moved[4 * 64];
    bf_schema_start(&schema, two);
    bf_ensemble e = {&schema, two, trio_model, 3, 1, 7, 64};
    void *work = malloc(bf_ensemble_work_bytes(&e));
    assert_int_equal(bf_ensemble_range(&e, 0, 64, work, moved), BF_OK);
    free(work);
    run(&t, 64, 1, rows);
    for (int k = 0; k < 4 * 64; k++)
        assert_true(moved[k] == rows[k] || (moved[k] != moved[k] && rows[k] != rows[k]));
}

/* Ishigami's function of three inputs uniform over -pi .. pi, a = 7, b = 0.1. First-order shares in closed form:
 * V1 = (1 + b pi^4 / 5)^2 / 2, V2 = a^2 / 8, V = V1 + V2 + b^2 pi^8 (1/18 - 1/50); the third acts only together with
 * the first. A. Saltelli et al., "Global Sensitivity Analysis: The Primer", 2008 (its 0.3139, 0.4424 from memory). */
static const double pi = 3.141592653589793;

static bf_status ishigami_model(const void *record, const bf_draw *draw, double *out) {
    const trio *t = record;
    (void)draw;
    double u = sin(t->u_m.value), v = sin(t->v_m.value), w = t->w_m.value;
    out[0] = u + 7 * v * v + 0.1 * w * w * w * w * u;
    return BF_OK;
}

static void ishigamis_function_has_its_known_shares(void **state) {
    (void)state;
    static const bf_field fields[] = {
        BF_Q(trio, u_m, BF_LENGTH, -4, 4, BF_NAN, 0, -3.141592653589793, 3.141592653589793, "first"),
        BF_Q(trio, v_m, BF_LENGTH, -4, 4, BF_NAN, 0, -3.141592653589793, 3.141592653589793, "second"),
        BF_Q(trio, w_m, BF_LENGTH, -4, 4, BF_NAN, 0, -3.141592653589793, 3.141592653589793, "third"),
    };
    static const bf_table table = BF_TABLE("ishigami", trio, fields);
    static const bf_section section[] = {{"ishigami", &table, 0, 1, 0, NULL}};
    static const bf_schema schema = {"ishigami", sizeof(trio), section, 1};
    trio t;
    bf_schema_start(&schema, &t);
    bf_ensemble e = {&schema, &t, ishigami_model, 1, 0, 3, 1 << 14};
    void *work = malloc(bf_ensemble_work_bytes(&e));
    double nominal[1];
    bf_ensemble_result r;
    assert_int_equal(bf_ensemble_nominal(&e, nominal), BF_OK);
    assert_int_equal(bf_ensemble_range(&e, 0, e.n_draws, work, rows), BF_OK);
    bf_ensemble_finish(&e, rows, nominal, work, &r);
    free(work);

    double v1 = 0.5 * pow(1 + 0.1 * pow(pi, 4) / 5, 2), v2 = 49.0 / 8;
    double v = v1 + v2 + 0.01 * pow(pi, 8) * (1.0 / 18 - 1.0 / 50);
    BF_CHECK_ABS(v1 / v, 0.3139, 5e-5);
    BF_CHECK_ABS(v2 / v, 0.4424, 5e-5);
    BF_CHECK_ABS(r.share[0][0], v1 / v, 0.03);
    BF_CHECK_ABS(r.share[0][1], v2 / v, 0.03);
    BF_CHECK_ABS(r.share[0][2], 0, 0.02);
    BF_CHECK_ABS(r.together[0], 1 - (v1 + v2) / v, 0.05);
}

static bf_status constant_model(const void *record, const bf_draw *draw, double *out) {
    (void)record;
    (void)draw;
    out[0] = 5;
    return BF_OK;
}

static void an_output_that_never_varies_has_no_shares(void **state) {
    (void)state;
    trio t = start();
    bf_ensemble e = {&trio_schema, &t, constant_model, 1, 0, 1, 1024};
    void *work = malloc(bf_ensemble_work_bytes(&e));
    double nominal[1];
    bf_ensemble_result r;
    assert_int_equal(bf_ensemble_nominal(&e, nominal), BF_OK);
    assert_int_equal(bf_ensemble_range(&e, 0, 1024, work, rows), BF_OK);
    bf_ensemble_finish(&e, rows, nominal, work, &r);
    free(work);
    BF_CHECK_ABS(r.range[0].lo, 5, 0);
    BF_CHECK_ABS(r.range[0].hi, 5, 0);
    for (int q = 0; q < r.n_inputs; q++) BF_CHECK_ABS(r.share[0][q], 0, 0);
    BF_CHECK_ABS(r.together[0], 0, 0);
}

static bf_status refusing_model(const void *record, const bf_draw *draw, double *out) {
    (void)record;
    out[0] = 1;
    return draw->index % 2 ? BF_E_MODEL_RANGE : BF_OK;
}

static void a_refusing_draw_is_reported_and_its_row_empty(void **state) {
    (void)state;
    trio t = start();
    bf_ensemble e = {&trio_schema, &t, refusing_model, 1, 0, 1, 16};
    void *work = malloc(bf_ensemble_work_bytes(&e));
    assert_int_equal(bf_ensemble_range(&e, 0, 16, work, rows), BF_E_MODEL_RANGE);
    for (int k = 0; k < 16; k++) assert_int_equal(rows[k] != rows[k], k % 2);
    free(work);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(linear_model_has_the_closed_form_range_and_shares),
        cmocka_unit_test(shares_and_together_sum_to_one),
        cmocka_unit_test(a_pure_interaction_is_all_together),
        cmocka_unit_test(the_answer_does_not_depend_on_the_cut),
        cmocka_unit_test(draws_without_a_number_are_left_out),
        cmocka_unit_test(an_exact_input_has_no_part),
        cmocka_unit_test(another_inputs_range_does_not_move_a_draw),
        cmocka_unit_test(a_new_field_does_not_move_a_draw),
        cmocka_unit_test(ishigamis_function_has_its_known_shares),
        cmocka_unit_test(an_output_that_never_varies_has_no_shares),
        cmocka_unit_test(a_refusing_draw_is_reported_and_its_row_empty),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
