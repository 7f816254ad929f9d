#include "baitfall/prep.h"

#include "baitfall/field.h"

#define STAND_S 3600.0     /* drained, until the start: common practice, no source               */
#define MICRO_M 0.002235   /* the middle of 2 mm micros (bait.c)                                 */
#define MICRO_SOAK_S 330.0 /* 5 to 6 minutes: common practice, no source                         */
#define MIX_S 3600.0       /* groundbait is mixed an hour before ...                             */
#define TAKE_UP_S 1800.0   /* ... and takes up water for half of it: common practice, no source  */
#define WET_S 300.0        /* a skin is wetted when all else is done: judgement                  */
#define MEASURE_S 1800.0

static const struct {
    const char *slug, *sentence;
} steps_said[BF_N_PREPS] = {
#define BF_PREP_SAID(name, slug, sentence) {slug, sentence},
    BF_PREP_LIST(BF_PREP_SAID)
#undef BF_PREP_SAID
};

const char *bf_prep_slug(bf_prep_code code) {
    return steps_said[code].slug;
}

const char *bf_prep_sentence(bf_prep_code code) {
    return steps_said[code].sentence;
}

double bf_prep_soak_s(double diameter_m) {
    double ratio = diameter_m / MICRO_M;
    return MICRO_SOAK_S * ratio * ratio;
}

static double with_spare(bf_range used, double spare_frac) {
    double amount = used.mid * (1 + spare_frac);
    return used.hi > amount ? used.hi : amount;
}

int bf_prep_bait(const bf_bait *bait, bf_range mass_kg, bf_range volume_m3, double spare_frac,
                 bf_prep steps[BF_PREP_STEPS_MOST]) {
    double kg = with_spare(mass_kg, spare_frac), m3 = with_spare(volume_m3, spare_frac);
    if (bait->form == BF_BALL) {
        steps[0] = (bf_prep){BF_PREP_MIX, -MIX_S, TAKE_UP_S, kg, m3};
        return 1;
    }
    if (bait->kind == BF_LIVE) {
        steps[0] = (bf_prep){BF_PREP_COOL, -MEASURE_S, 0, kg, m3};
        return 1;
    }
    if (bait->state == BF_SOAKED && bait->uptake_frac.value > 0) {
        double soak_s = bf_prep_soak_s(bait->diameter_m.value);
        double dry_kg = kg / (1 + bait->uptake_frac.value);
        steps[0] = (bf_prep){BF_PREP_COVER, -(soak_s + STAND_S), soak_s, dry_kg, m3};
        steps[1] = (bf_prep){BF_PREP_DRAIN, -STAND_S, STAND_S, BF_NAN, BF_NAN};
        return 2;
    }
    if (bait->state == BF_GLAZED)
        steps[0] = (bf_prep){BF_PREP_WET, -WET_S, 0, kg, m3};
    else
        steps[0] = (bf_prep){BF_PREP_MEASURE, -MEASURE_S, 0, kg, m3};
    return 1;
}
