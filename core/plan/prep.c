/* prep.c -- when each bait is prepared, and how much of it; see baitfall/prep.h. */
#include "baitfall/prep.h"

#include "baitfall/soak.h"

#define STAND_S 3600.0     /* drained, until the start: common practice, no source               */
#define MICRO_M 0.002235   /* the middle of 2 mm micros (bait.c)                                 */
#define MICRO_MOST_M 0.003 /* up to here the practice is taken as it is */
#define MICRO_SOAK_S 330.0 /* 5 to 6 minutes: common practice, no source                         */
#define SOFT_FRAC 0.99
#define MOST_SOAK_S 172800.0 /* as bf_soaking_table accepts */
#define MIX_S 3600.0         /* groundbait is mixed an hour before ...                             */
#define TAKE_UP_S 1800.0     /* ... and takes up water for half of it: common practice, no source  */
#define WET_S 300.0          /* a skin is wetted when all else is done: judgement                  */
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

/* How much of a piece is soft after so long under water and an hour of standing; 1 when there is no telling. */
static double soft_after(const bf_bait *bait, double soak_s) {
    bf_soaking soaking;
    bf_soak_out out;
    bf_record_start(&bf_soaking_table, &soaking);
    soaking.for_s.value = soak_s;
    soaking.stand_s.value = STAND_S;
    return bf_soak(bait, &soaking, &out) == BF_OK ? out.soft_frac : 1;
}

double bf_prep_soak_s(const bf_bait *bait) {
    double ratio = bait->diameter_m.value / MICRO_M;
    double short_s = MICRO_SOAK_S * ratio * ratio, long_s = 16 * short_s;
    if (bait->diameter_m.value <= MICRO_MOST_M || long_s > MOST_SOAK_S ||
        soft_after(bait, short_s) >= SOFT_FRAC)
        return short_s;
    for (int i = 0; i < 16; i++) {
        double middle_s = (short_s + long_s) / 2;
        if (soft_after(bait, middle_s) >= SOFT_FRAC)
            long_s = middle_s;
        else
            short_s = middle_s;
    }
    return long_s;
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
        double soak_s = bf_prep_soak_s(bait);
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
