/* bait.c -- the bait table, the catalogue of generic forms, and the geometry of a piece. */
#include "baitfall/bait.h"

#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"

static const char *const form_words[] = {"sphere", "cylinder", "lens", "cube", "ball", NULL};
static const char *const state_words[] = {"dry", "glazed", "soaked", NULL};
static const char *const kind_words[] = {"pellet", "live", "other", NULL};

/* Start values are those of a hard 4 mm pellet; the ranges beside them are for a value said without one. */
static const bf_field bait_fields[] = {
    BF_W(bf_bait, form, form_words, 5, BF_CYLINDER, "shape of one piece; most pellets are short cylinders"),
    BF_W(bf_bait, state, state_words, 3, BF_DRY,
         "dry as from the bag, glazed (only the skin wetted) or soaked through; start: dry"),
    BF_W(bf_bait, kind, kind_words, 3, BF_PELLET,
         "pellet, live (it crawls once it is down) or other: read by remarks only; start: pellet"),
    BF_Q(bf_bait, diameter_m, BF_LENGTH, 0.0005, 0.1, 0.00443, 0.0002, 0.002, 0.0095,
         "diameter (cube: edge) as it goes in; start: hard 4 mm, between its label and one measured set"),
    BF_Q(bf_bait, length_m, BF_LENGTH, 0.0003, 0.2, 0.0055, 0.0005, 0.002, 0.012,
         "length of a cylinder, thickness of a lens; else not read; start: 1.25 diameters, from memory"),
    BF_Q(bf_bait, density_kg_m3, BF_DENSITY, 300, 3000, 1225, 50, 1020, 1300,
         "density of one piece as it goes in; start: pressed pellets 1150 to 1300, from memory"),
    BF_R(bf_bait, size_scatter_frac, BF_PURE, 0, 0.4, 0.035,
         "piece to piece, one standard deviation of the diameter; start: mean of four measured sizes"),
    BF_R(bf_bait, density_scatter_kg_m3, BF_DENSITY, 0, 400, 72,
         "piece to piece, one standard deviation; start: so that fall speeds scatter by 18 %, a published "
         "feed figure"),
    BF_Q(bf_bait, drag_law_error, BF_PURE, -3, 3, 0, 1, -1, 1,
         "real drag against the published law, in the law's own give or take: 10 % round, 20 % other shapes"),
    BF_Q(bf_bait, contact_angle_deg, BF_ANGLE, 0, 120, BF_NAN, 15, 0, 90,
         "contact angle of the dry skin, 0 when it wets at once; no published value found, so any angle"),
    BF_Q(bf_bait, hang_s, BF_TIME, 0, 3600, BF_NAN, 10, 0, 60,
         "how long a dry piece that can hang stays on the surface film; no source, so up to a minute"),
    BF_Q(bf_bait, punch_weber, BF_PURE, 0, 1000, BF_NAN, 5, 1, 30,
         "Weber number (water density x speed^2 x size / tension) at which a piece punches through; no "
         "source, 1 to 30"),
    BF_Q(bf_bait, repose_deg, BF_ANGLE, 5, 60, 32.5, 5.5, 27, 38,
         "slope at which a heap of pieces stands; start: 27 to 38 degrees, published for extruded pellets"),
    BF_Q(bf_bait, pore_frac, BF_PURE, 0, 0.8, 0.075, 0.05, 0, 0.3,
         "open pore volume per dry volume; start: assumed, pressed pellets have little"),
    BF_Q(bf_bait, uptake_frac, BF_PURE, 0, 3, 0.7, 0.2, 0.4, 1,
         "water taken up in the end, kg per kg dry; start: 0.4 to 1.0, from memory"),
    BF_Q(bf_bait, half_uptake_s, BF_TIME, 5, 86400, 860, 300, 60, 3600,
         "time at 20 C to take up half of it; start: water spreading in legumes, scaled by diameter squared"),
};

const bf_table bf_bait_table = BF_TABLE("bait", bf_bait, bait_fields);

/* Catalogue values --------------------------------------------------------------------------------------- */

#define EXACTLY(x)                                                                                           \
    { x, 0, 0 }
#define BETWEEN(lo, hi)                                                                                      \
    { ((lo) + (hi)) / 2, ((hi) - (lo)) / 2, 0 }
#define ANY_BETWEEN(lo, hi)                                                                                  \
    { ((lo) + (hi)) / 2, 0, 1 }

/* Sizes (m). Label as the low end, the one measured set as the high end of the 80 % range.
 * Measured 2.47, 4.05, 4.86, 7.09 mm for labels 2, 3, 4, 6 mm: Davies & Davies 2017, Int. J. Res. Agric. For.
 * 4(10) (read in the abstract); 8 mm was not in it and takes the ratio of the 6 mm. */
#define LABEL_2 0.00200, 0.00247
#define LABEL_3 0.00300, 0.00405
#define LABEL_4 0.00400, 0.00486
#define LABEL_6 0.00600, 0.00709
#define LABEL_8 0.00800, 0.00945

/* Pellets are cut 1 to 1.5 diameters long (memory; the whole span met is 1 to 2). */
#define LENGTH_OF(lo, hi)                                                                                    \
    { 1.25 * ((lo) + (hi)) / 2, 0.25 * ((lo) + (hi)) / 2, 0 }

/* Time to half the uptake at 20 C: 0.0305 (d/2)^2 / D (Crank, sphere) with D from 6.75e-10 m2/s, the fastest
 * legume (read), down to 1e-10 (assumed): 11 to 76 s per mm2 of d^2. Nothing measured on feed was found. */
#define HALF_UPTAKE(lo, hi)                                                                                  \
    { 11e6 * ((lo) + (hi)) * ((lo) + (hi)), 8e6 * ((lo) + (hi)) * ((lo) + (hi)), 0 }

/* Scatter from piece to piece. The published feed setting (SEPA, read) is a speed of 83 +- 15 mm/s, 18 %. Pellet sizes
 * scatter by 3.5 % (Davies & Davies, mean of four), other baits' by 8 % (judgement) and their speeds as much as pellets'.
 * The rest must be density: at `excess` standard deviations, as parts of the middle excess density, the speeds of a bag
 * scatter by 18 % in water of 12 C (to two digits; found from the drag laws and held by a test). Speed goes as excess to
 * the power p and diameter to 3 p - 1, p from 0.63 for hemp to 0.47 for 8 mm pellets, so the part differs. */
#define SCATTER(size, excess, density)                                                                       \
    .size_scatter_frac = (size), .density_scatter_kg_m3 = (excess) * ((density)-999.0)

/* The drag law as published, give or take its own uncertainty. */
#define LAW                                                                                                  \
    { 0, 1, 0 }

/* No contact angle of feed, no hanging time and no limit of impact was found: any of these. */
#define DRY_SKIN                                                                                             \
    .contact_angle_deg = ANY_BETWEEN(0.0, 90.0), .hang_s = ANY_BETWEEN(0.0, 60.0),                           \
    .punch_weber = ANY_BETWEEN(1.0, 30.0)
#define WET_SKIN .contact_angle_deg = EXACTLY(0.0), .hang_s = EXACTLY(0.0), .punch_weber = EXACTLY(1.0)
#define HEAP .repose_deg = BETWEEN(27.0, 38.0)
#define NO_UPTAKE .pore_frac = EXACTLY(0.0), .uptake_frac = EXACTLY(0.0), .half_uptake_s = EXACTLY(600.0)

/* clang-format off */
#define PELLET(state_, lo, hi, density_lo, density_hi, excess, skin, pores, uptake)                          \
    {.form = BF_CYLINDER, .state = state_, .diameter_m = BETWEEN(lo, hi), .length_m = LENGTH_OF(lo, hi),     \
     .density_kg_m3 = BETWEEN(density_lo, density_hi), SCATTER(0.035, excess, ((density_lo) + (density_hi)) / 2), \
     .drag_law_error = LAW,                                                                                  \
     skin, HEAP, .pore_frac = pores, .uptake_frac = uptake, .half_uptake_s = HALF_UPTAKE(lo, hi)}

#define HARD(size, excess)                                                                                           \
    PELLET(BF_DRY, size, 1150.0, 1300.0, excess, DRY_SKIN, BETWEEN(0.025, 0.125), BETWEEN(0.4, 1.0))
#define MICRO(size, excess)                                                                                          \
    PELLET(BF_SOAKED, size, 1100.0, 1220.0, excess, WET_SKIN, BETWEEN(0.025, 0.125), BETWEEN(0.4, 1.0))
#define EXPANDER(size, excess)                                                                                       \
    PELLET(BF_SOAKED, size, 1015.0, 1085.0, excess, WET_SKIN, BETWEEN(0.2, 0.5), BETWEEN(0.6, 1.4))

#define OTHER(kind_, form_, state_, size, length, density_lo, density_hi, excess, skin)                                     \
    {.form = form_, .state = state_, .kind = kind_, .diameter_m = size, .length_m = length,                  \
     .density_kg_m3 = BETWEEN(density_lo, density_hi), SCATTER(0.08, excess, ((density_lo) + (density_hi)) / 2), \
     .drag_law_error = LAW,                                                                                  \
     skin, HEAP, NO_UPTAKE}

#define SIZE_ORIGIN "Size: label to one measured set (Davies & Davies 2017, read); length 1 to 1.5 diameters (memory). "
#define SPREAD_ORIGIN "Scatter: 18 % in speed (SEPA feed setting, read). Soaking: legumes, scaled by size (read); none found for feed."
#define HARD_ORIGIN SIZE_ORIGIN "Density: pressed pellets (memory). " SPREAD_ORIGIN
#define MICRO_ORIGIN SIZE_ORIGIN "Density: a pressed pellet with 0.4 to 1.0 of its mass of water taken up (bookkeeping from memory values). " SPREAD_ORIGIN
#define EXPANDER_ORIGIN SIZE_ORIGIN "Density: just sinks (judgement). Pores and uptake: judgement. " SPREAD_ORIGIN
#define OTHER_ORIGIN "All from memory or judgement; no measurement was found. Scatter in speed taken as for pellets. "
#define LIVE_ORIGIN OTHER_ORIGIN "It crawls: not modelled."

/* Its word, its name, and its title: the name and how it is. */
#define CALLED(word, name, how) word, name, name ", " how

const bf_catalogue_entry bf_catalogue[] = {
    {CALLED("micros-2", "soft 2 mm micros", "soaked pellets"), MICRO(LABEL_2, 0.28), MICRO_ORIGIN},
    {CALLED("hard-3", "hard 3 mm pellets", "dry"), HARD(LABEL_3, 0.31), HARD_ORIGIN},
    {CALLED("hard-4", "hard 4 mm pellets", "dry"), HARD(LABEL_4, 0.32), HARD_ORIGIN},
    {CALLED("hard-6", "hard 6 mm pellets", "dry"), HARD(LABEL_6, 0.34), HARD_ORIGIN},
    {CALLED("hard-8", "hard 8 mm pellets", "dry"), HARD(LABEL_8, 0.35),
     HARD_ORIGIN " 8 mm was not in the measured set: the 6 mm ratio is used."},
    {CALLED("expander-4", "soft 4 mm expanders", "soaked and sinking"), EXPANDER(LABEL_4, 0.30), EXPANDER_ORIGIN},
    {CALLED("expander-6", "soft 6 mm expanders", "soaked and sinking"), EXPANDER(LABEL_6, 0.31), EXPANDER_ORIGIN},
    {CALLED("maggot", "maggots", "live"),
     OTHER(BF_LIVE, BF_CYLINDER, BF_DRY, BETWEEN(0.0026, 0.0034), BETWEEN(0.0085, 0.0115), 1030.0, 1090.0, 0.29, DRY_SKIN),
     LIVE_ORIGIN},
    {CALLED("caster", "casters", "sinking"),
     OTHER(BF_OTHER_BAIT, BF_CYLINDER, BF_DRY, BETWEEN(0.0031, 0.0039), BETWEEN(0.0080, 0.0100), 1010.0, 1070.0, 0.28, DRY_SKIN),
     OTHER_ORIGIN "Casters that have darkened may float."},
    {CALLED("sweetcorn", "sweetcorn", "tinned, by the grain"),
     OTHER(BF_OTHER_BAIT, BF_LENS, BF_SOAKED, BETWEEN(0.0075, 0.0095), BETWEEN(0.0045, 0.0065), 1050.0, 1110.0, 0.31, WET_SKIN),
     OTHER_ORIGIN},
    {CALLED("hemp", "hemp", "cooked and split seed"),
     OTHER(BF_OTHER_BAIT, BF_SPHERE, BF_SOAKED, BETWEEN(0.0034, 0.0044), EXACTLY(0.0039), 1030.0, 1110.0, 0.25, WET_SKIN),
     OTHER_ORIGIN},
    {CALLED("meat-6", "meat cubes", "luncheon meat of 6 mm"),
     OTHER(BF_OTHER_BAIT, BF_CUBE, BF_DRY, BETWEEN(0.0055, 0.0065), EXACTLY(0.006), 1020.0, 1080.0, 0.31, DRY_SKIN), OTHER_ORIGIN},
    {CALLED("worm", "chopped worm", "one piece"),
     OTHER(BF_LIVE, BF_CYLINDER, BF_SOAKED, BETWEEN(0.0035, 0.0055), BETWEEN(0.006, 0.018), 1030.0, 1090.0, 0.31, WET_SKIN),
     LIVE_ORIGIN},
    {CALLED("groundbait", "groundbait balls", "squeezed"),
     OTHER(BF_OTHER_BAIT, BF_BALL, BF_SOAKED, BETWEEN(0.032, 0.048), EXACTLY(0.04), 1050.0, 1250.0, 0.34, WET_SKIN),
     OTHER_ORIGIN "Taken as one piece: how it breaks up is not modelled."},
};
/* clang-format on */

const int bf_n_catalogue = (int)(sizeof bf_catalogue / sizeof bf_catalogue[0]);

int bf_catalogue_find(const char *word, size_t n) {
    for (int i = 0; i < bf_n_catalogue; i++)
        if (strlen(bf_catalogue[i].word) == n && memcmp(bf_catalogue[i].word, word, n) == 0) return i;
    return -1;
}

const char *bf_bait_name(const char *id) {
    int i = bf_catalogue_find(id, strlen(id));
    return i < 0 ? id : bf_catalogue[i].name;
}

#define SHORT_BYTES 13

size_t bf_bait_short(const char *id) {
    const char *name = bf_bait_name(id);
    size_t n = strlen(name), last = n;
    while (last > 0 && name[last] != ' ') last--;
    return name != id && n > SHORT_BYTES && last > 0 ? last : n;
}

int bf_bait_notes(const bf_bait *bait, bf_note *notes) {
    if (bait->kind == BF_LIVE)
        notes[0] = (bf_note){BF_NOTE_CRAWLS, {0, 0, 0}};
    else if (bait->form == BF_BALL)
        notes[0] = (bf_note){BF_NOTE_BREAKS_UP, {0, 0, 0}};
    else
        return 0;
    return 1;
}

/* Geometry ----------------------------------------------------------------------------------------------- */

int bf_is_round(int form) {
    return form == BF_SPHERE || form == BF_BALL;
}

double bf_piece_volume_m3(int form, double diameter_m, double length_m) {
    double cube_m3 = diameter_m * diameter_m * diameter_m;
    switch (form) {
    case BF_CYLINDER: return BF_PI / 4 * diameter_m * diameter_m * length_m;
    case BF_LENS: return BF_PI / 6 * diameter_m * diameter_m * length_m;
    case BF_CUBE: return cube_m3;
    default: return BF_PI / 6 * cube_m3;
    }
}

double bf_piece_equivalent_m(int form, double diameter_m, double length_m) {
    if (bf_is_round(form)) return diameter_m;
    return bf_cbrt(6 / BF_PI * bf_piece_volume_m3(form, diameter_m, length_m));
}

/* Spheroid of equatorial diameter d and height h: pi/2 d^2 (1 + (h/d) asin(e) / e) when tall, with the
 * inverse hyperbolic tangent in place of the inverse sine when flat. */
static double spheroid_surface_m2(double diameter_m, double height_m) {
    double ratio = height_m / diameter_m, half = BF_PI / 2 * diameter_m * diameter_m;
    double e;
    if (fabs(ratio - 1) < 1e-6) return 2 * half * (1 + 2 * (ratio - 1) / 3);
    if (ratio > 1) {
        e = sqrt(1 - 1 / (ratio * ratio));
        return half * (1 + ratio * bf_asin(e) / e);
    }
    e = sqrt(1 - ratio * ratio);
    return half * (1 + ratio * ratio * (bf_log1p(e) - bf_log1p(-e)) / (2 * e));
}

double bf_piece_sphericity(int form, double diameter_m, double length_m) {
    double surface_m2;
    switch (form) {
    case BF_CYLINDER: surface_m2 = BF_PI * diameter_m * (length_m + diameter_m / 2); break;
    case BF_LENS: surface_m2 = spheroid_surface_m2(diameter_m, length_m); break;
    case BF_CUBE: surface_m2 = 6 * diameter_m * diameter_m; break;
    default: return 1;
    }
    double equivalent_m = bf_piece_equivalent_m(form, diameter_m, length_m);
    return BF_PI * equivalent_m * equivalent_m / surface_m2;
}
