/* Preparing bait: practice for micros, diffusion between sizes, amounts by hand, and the soak model's own opinion. */
#include "baitfall/prep.h"

#include <string.h>

#include "baitfall/soak.h"
#include "common/check.h"

static bf_bait of_catalogue(const char *word) {
    int i = bf_catalogue_find(word, strlen(word));
    assert_true(i >= 0);
    return bf_catalogue[i].bait;
}

static bf_range about(double mid, double hi) {
    return (bf_range){mid, mid, 2 * mid - hi, hi};
}

static void micros_are_covered_for_five_to_six_minutes_an_hour_before(void **state) {
    (void)state; /* common practice, no source */
    bf_prep step[BF_PREP_STEPS_MOST];
    bf_bait micros = of_catalogue("micros-2");
    assert_int_equal(bf_prep_bait(&micros, about(0.5, 0.55), about(7e-4, 8e-4), 0.2, step), 2);
    assert_int_equal(step[0].code, BF_PREP_COVER);
    assert_int_equal(step[1].code, BF_PREP_DRAIN);
    assert_in_range((int)step[0].for_s, 300, 360);
    BF_CHECK_ABS(step[1].at_s, -3600, 1e-9);
    BF_CHECK_ABS(step[0].at_s + step[0].for_s, step[1].at_s, 1e-9);
    BF_CHECK_REL(step[0].mass_kg, 0.6 / (1 + micros.uptake_frac.value), 1e-12);
    BF_CHECK_REL(step[0].volume_m3, 8.4e-4, 1e-12);
}

/* Crank: fo = D t / a^2. At four times the half time a pellet of twice the diameter is at the same fo; no bait is
 * under water for less than the practice for micros, scaled so. */
static void no_bait_is_soaked_for_less_than_its_diameter_squared_asks(void **state) {
    (void)state;
    bf_bait micros = of_catalogue("micros-2");
    double micro_s = bf_prep_soak_s(&micros), micro_m = micros.diameter_m.value;
    for (int i = 0; i < bf_n_catalogue; i++) {
        bf_bait bait = bf_catalogue[i].bait;
        if (bait.uptake_frac.value == 0) continue;
        double ratio = bait.diameter_m.value / micro_m;
        assert_true(bf_prep_soak_s(&bait) >= micro_s * ratio * ratio * (1 - 1e-12));
    }
}

/* The soak model knows nothing of the practice, and calls the middle micro soft throughout at its time. */
static void the_soak_model_calls_every_soaked_bait_soft_then(void **state) {
    (void)state;
    static const char *const words[] = {"micros-2", "expander-4", "expander-6"};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        bf_bait bait = of_catalogue(words[i]);
        bf_soaking soaking;
        bf_soak_out out;
        bf_record_start(&bf_soaking_table, &soaking);
        soaking.for_s.value = bf_prep_soak_s(&bait);
        soaking.stand_s.value = 3600;
        assert_int_equal(bf_soak(&bait, &soaking, &out), BF_OK);
        assert_true(out.soft_frac >= 0.99);
        if (i > 0) assert_true(out.soft_frac < 0.999); // and no longer than that
    }
}

static void the_amount_is_the_high_end_when_the_spare_is_less(void **state) {
    (void)state;
    bf_prep step[BF_PREP_STEPS_MOST];
    bf_bait hard = of_catalogue("hard-4");
    assert_int_equal(bf_prep_bait(&hard, about(0.4, 0.6), about(6e-4, 9e-4), 0.2, step), 1);
    assert_int_equal(step[0].code, BF_PREP_MEASURE);
    BF_CHECK_REL(step[0].mass_kg, 0.6, 1e-12);
    BF_CHECK_REL(step[0].volume_m3, 9e-4, 1e-12);
}

static void every_kind_of_bait_has_its_own_step(void **state) {
    (void)state;
    static const struct {
        const char *word;
        bf_prep_code code;
    } cases[] = {{"groundbait", BF_PREP_MIX}, {"maggot", BF_PREP_COOL},       {"worm", BF_PREP_COOL},
                 {"hard-6", BF_PREP_MEASURE}, {"sweetcorn", BF_PREP_MEASURE}, {"expander-6", BF_PREP_COVER}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        bf_prep step[BF_PREP_STEPS_MOST];
        bf_bait bait = of_catalogue(cases[i].word);
        assert_true(bf_prep_bait(&bait, about(1, 1.1), about(1e-3, 1.1e-3), 0.2, step) >= 1);
        assert_int_equal(step[0].code, cases[i].code);
        assert_true(step[0].at_s < 0);
    }
    bf_prep step[BF_PREP_STEPS_MOST];
    bf_bait glazed = of_catalogue("hard-4");
    glazed.state = BF_GLAZED;
    assert_int_equal(bf_prep_bait(&glazed, about(1, 1.1), about(1e-3, 1.1e-3), 0.2, step), 1);
    assert_int_equal(step[0].code, BF_PREP_WET);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(micros_are_covered_for_five_to_six_minutes_an_hour_before),
        cmocka_unit_test(no_bait_is_soaked_for_less_than_its_diameter_squared_asks),
        cmocka_unit_test(the_soak_model_calls_every_soaked_bait_soft_then),
        cmocka_unit_test(the_amount_is_the_high_end_when_the_spare_is_less),
        cmocka_unit_test(every_kind_of_bait_has_its_own_step),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
