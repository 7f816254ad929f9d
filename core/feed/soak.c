#include "baitfall/soak.h"

#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"
#include "baitfall/special.h"

#define CRANK_HALF 0.030547 /* time number at which the mean is a half */
#define SHORT_TIME 0.04     /* below it the short-time forms, above it the series, both to 1e-9 */

static const bf_field soak_out_fields[] = {
    BF_R(bf_soak_out, uptake_frac, BF_PURE, 0, 10, BF_NAN, "water taken up, part of the dry weight"),
    BF_R(bf_soak_out, wet_density_kg_m3, BF_DENSITY, 0, 5000, BF_NAN, "density of the wet piece"),
    BF_R(bf_soak_out, wet_diameter_m, BF_LENGTH, 0, 1, BF_NAN, "diameter of the wet piece"),
    BF_R(bf_soak_out, soft_frac, BF_PURE, 0, 1, BF_NAN, "part of the piece that is soft after standing"),
    BF_R(bf_soak_out, through_s, BF_TIME, 0, 1e9, BF_NAN, "time under water until soft throughout"),
};
const bf_table bf_soak_out_table = BF_TABLE("soak_out", bf_soak_out, soak_out_fields);

/* Laws --------------------------------------------------------------------------------------------------- */

double bf_peleg_gain(double time, double k1, double k2) {
    return time / (k1 + k2 * time);
}

double bf_soak_speed_up(double temp_c, double warm_ratio) {
    const double at_10_k = 283.15, at_20_k = 293.15;
    double activation_k = bf_log(warm_ratio) / (1 / at_10_k - 1 / at_20_k);
    return bf_exp(activation_k * (1 / at_20_k - 1 / (temp_c + 273.15)));
}

double bf_crank_mean_frac(double fo) {
    if (fo < SHORT_TIME) return 6 * sqrt(fo / BF_PI) - 3 * fo;
    double sum = 0;
    for (int n = 1; n <= 8; n++) sum += bf_exp(-n * n * BF_PI * BF_PI * fo) / (n * n);
    return 1 - 6 / (BF_PI * BF_PI) * sum;
}

static double crank_centre(double fo) {
    double sum = 0;
    if (fo < SHORT_TIME) return fo > 0 ? 2 / sqrt(BF_PI * fo) * bf_exp(-1 / (4 * fo)) : 0;
    for (int n = 1; n <= 8; n++) sum += (n % 2 ? -1 : 1) * bf_exp(-n * n * BF_PI * BF_PI * fo);
    return 1 + 2 * sum;
}

double bf_crank_local_frac(double fo, double x) {
    if (x < 1e-4) return crank_centre(fo);
    if (fo <= 0) return x < 1 ? 0 : 1;
    if (fo < SHORT_TIME) {
        double width = sqrt(2 * fo);
        return 2 / x * (bf_normal_cdf((x - 1) / width) - bf_normal_cdf(-(x + 1) / width));
    }
    double sum = 0;
    for (int n = 1; n <= 8; n++)
        sum += (n % 2 ? -1 : 1) * bf_sin(n * BF_PI * x) * bf_exp(-n * n * BF_PI * BF_PI * fo) / n;
    return 1 + 2 / (BF_PI * x) * sum;
}

double bf_soak_swelling(double dry_kg_m3, double pore_frac, double uptake_frac, double water_kg_m3) {
    double beyond_pores = uptake_frac * dry_kg_m3 / water_kg_m3 - pore_frac;
    return beyond_pores > 0 ? 1 + beyond_pores : 1;
}

double bf_soak_wet_kg_m3(double dry_kg_m3, double pore_frac, double uptake_frac, double water_kg_m3) {
    return dry_kg_m3 * (1 + uptake_frac) / bf_soak_swelling(dry_kg_m3, pore_frac, uptake_frac, water_kg_m3);
}

double bf_soak_dry_kg_m3(double wet_kg_m3, double pore_frac, double uptake_frac, double water_kg_m3) {
    double unswollen = wet_kg_m3 / (1 + uptake_frac);
    if (uptake_frac * unswollen / water_kg_m3 <= pore_frac) return unswollen;
    double left = 1 + uptake_frac - uptake_frac * wet_kg_m3 / water_kg_m3;
    return left > 0 ? wet_kg_m3 * (1 - pore_frac) / left : BF_NAN;
}

/* A soak ------------------------------------------------------------------------------------------------- */

/* Time number at which the centre reaches a local fraction. */
static double centre_reaches_fo(double frac) {
    double lo = 0, hi = 2;
    for (int i = 0; i < 50; i++) {
        double middle = (lo + hi) / 2;
        if (bf_crank_local_frac(middle, 0) < frac)
            lo = middle;
        else
            hi = middle;
    }
    return hi;
}

/* A soak of `soaked` followed by standing sealed, `stood`, both as time numbers. Sealed, the profile is its mean plus
 * modes sin(b x) / x exp(-b^2 stood) with tan b = b; each amplitude is the overlap with the soaked profile. */
#define MODES 24
#define SOAK_TERMS 64
#define LEAST_STOOD 0.003 /* below it the modes do not suffice; nothing but the outermost skin changes */

typedef struct profile {
    double soaked;
    double mean;
    int is_sealed, n_modes;
    double root[MODES], amplitude[MODES];
} profile;

/* m-th positive root of tan b = b, from its asymptotic start by Newton's method. */
static double sealed_root(int m) {
    double q = (m + 0.5) * BF_PI, b = q - 1 / q;
    for (int i = 0; i < 4; i++) b -= (bf_sin(b) - b * bf_cos(b)) / (b * bf_sin(b));
    return b;
}

static profile profile_of(double soaked, double stood) {
    profile p = {.soaked = soaked, .mean = bf_crank_mean_frac(soaked)};
    if (stood <= 0) return p;
    p.is_sealed = 1;
    double left[SOAK_TERMS];
    for (int n = 0; n < SOAK_TERMS; n++) left[n] = bf_exp(-(n + 1) * (n + 1) * BF_PI * BF_PI * soaked);
    for (int m = 0; m < MODES; m++) {
        double b = sealed_root(m + 1), decay = bf_exp(-b * b * stood), overlap = 0;
        if (decay < 1e-12) break;
        for (int n = 0; n < SOAK_TERMS; n++) overlap += left[n] / ((n + 1) * (n + 1) * BF_PI * BF_PI - b * b);
        p.root[m] = b;
        p.amplitude[m] = -4 / bf_sin(b) * overlap * decay;
        p.n_modes = m + 1;
    }
    return p;
}

static double content_at(const profile *p, double x) {
    if (!p->is_sealed) return bf_crank_local_frac(p->soaked, x);
    double sum = p->mean;
    for (int m = 0; m < p->n_modes; m++)
        sum += p->amplitude[m] * (x < 1e-4 ? p->root[m] : bf_sin(p->root[m] * x) / x);
    return sum;
}

/* Part of the volume that holds at least `frac`: content rises outward, so all of it outside one radius. */
static double volume_at_least(const profile *p, double frac) {
    if (content_at(p, 0) >= frac) return 1;
    if (content_at(p, 1) < frac) return 0;
    double lo = 0, hi = 1;
    for (int i = 0; i < 40; i++) {
        double middle = (lo + hi) / 2;
        if (content_at(p, middle) < frac)
            lo = middle;
        else
            hi = middle;
    }
    return 1 - hi * hi * hi;
}

static double soft_frac(double soaked, double stood, double soft_at_frac) {
    double after_s = stood > LEAST_STOOD ? stood : LEAST_STOOD, weight = stood / after_s;
    profile wet = profile_of(soaked, 0), evened = profile_of(soaked, after_s);
    double at_once = volume_at_least(&wet, soft_at_frac);
    return at_once + weight * (volume_at_least(&evened, soft_at_frac) - at_once);
}

bf_status bf_soak(const bf_bait *bait, const bf_soaking *soaking, bf_soak_out *out) {
    out->uptake_frac = out->wet_density_kg_m3 = out->wet_diameter_m = out->soft_frac = out->through_s =
        BF_NAN;

    double water_kg_m3 = bf_water_density_kg_m3(soaking->temp_c.value);
    double end_frac = bait->uptake_frac.value, pore_frac = bait->pore_frac.value;
    double dry_kg_m3 = bait->density_kg_m3.value, dry_m = bait->diameter_m.value;
    if (bait->state == BF_SOAKED) {
        dry_kg_m3 = bf_soak_dry_kg_m3(dry_kg_m3, pore_frac, end_frac, water_kg_m3);
        if (!(dry_kg_m3 > 0)) return BF_E_MODEL_RANGE;
        dry_m /= bf_cbrt(bf_soak_swelling(dry_kg_m3, pore_frac, end_frac, water_kg_m3));
    }

    double half_s =
        bait->half_uptake_s.value / bf_soak_speed_up(soaking->temp_c.value, soaking->warm_ratio.value);
    double uptake_frac = end_frac * bf_peleg_gain(soaking->for_s.value, half_s, 1);
    out->uptake_frac = uptake_frac;
    out->wet_density_kg_m3 = bf_soak_wet_kg_m3(dry_kg_m3, pore_frac, uptake_frac, water_kg_m3);
    out->wet_diameter_m = dry_m * bf_cbrt(bf_soak_swelling(dry_kg_m3, pore_frac, uptake_frac, water_kg_m3));
    if (end_frac > 0) {
        double fo_per_s = CRANK_HALF / half_s, soft_at_frac = soaking->soft_at_frac.value;
        out->soft_frac =
            soft_frac(fo_per_s * soaking->for_s.value, fo_per_s * soaking->stand_s.value, soft_at_frac);
        out->through_s = centre_reaches_fo(soft_at_frac) / fo_per_s;
    }
    return BF_OK;
}

bf_status bf_soak_model(const void *scene, const bf_draw *draw, double *out) {
    const bf_scene *of = scene;
    bf_soak_out soaked;
    (void)draw;
    bf_status status = bf_soak(&of->bait, &of->soaking, &soaked);
    memcpy(out, &soaked, sizeof soaked);
    return status;
}

int bf_soak_notes(const void *record, const bf_ensemble_result *result, bf_note *notes) {
    const bf_scene *scene = record;
    int n = 0;
    (void)result;
    notes[n++] = (bf_note){BF_NOTE_ESTIMATE, {0}};
    if (scene->bait.uptake_frac.value <= 0 && !scene->bait.uptake_frac.is_unknown) {
        notes[n++] = (bf_note){BF_NOTE_NO_UPTAKE, {0}};
        return n;
    }
    notes[n++] = (bf_note){BF_NOTE_NO_FEED_CONSTANTS, {0}};
    notes[n++] = (bf_note){BF_NOTE_CLINGING_WATER, {0}};
    return n;
}
