/* shot.c -- trade sizes of split shot, the tables of a rig's rows, and what one shot weighs. */
#include "baitfall/shot.h"

#include <string.h>

#include "baitfall/elementary.h"
#include "baitfall/water.h"

/* Sizes -------------------------------------------------------------------------------------------------- */

#define READ "read: one rounded trade chart"
#define TWICE "read: two trade charts agree"
#define MEMORY "from memory"
#define STYL "from memory, give or take 20 %"

/* X(word, mass in grams, least, most, origin) */
/* clang-format off */
#define SHOT_SIZES(X)                                                                                        \
    X("SSG", 1.6, 1.44, 1.9, READ)           X("SA", 1.2, 1.08, 1.32, MEMORY)                                \
    X("AAA", 0.8, 0.72, 0.88, READ)          X("AB", 0.6, 0.54, 0.66, MEMORY)                                \
    X("BB", 0.4, 0.36, 0.44, TWICE)          X("No 1", 0.3, 0.27, 0.33, READ)                                \
    X("No 3", 0.22, 0.198, 0.25, MEMORY)     X("No 4", 0.2, 0.17, 0.22, TWICE)                               \
    X("No 5", 0.14, 0.126, 0.154, MEMORY)    X("No 6", 0.1, 0.08, 0.11, TWICE)                               \
    X("No 7", 0.08, 0.072, 0.088, MEMORY)    X("No 8", 0.06, 0.054, 0.066, TWICE)                            \
    X("No 9", 0.05, 0.0375, 0.0625, READ)    X("No 10", 0.04, 0.03, 0.05, READ)                              \
    X("No 11", 0.03, 0.0225, 0.0375, READ)   X("No 12", 0.02, 0.015, 0.025, READ)                            \
    X("No 13", 0.01, 0.0075, 0.016, READ)    X("No 14", 0.01, 0.0075, 0.013, MEMORY)                         \
    X("styl 7", 0.012, 0.0096, 0.0144, STYL) X("styl 8", 0.017, 0.0136, 0.0204, STYL)                        \
    X("styl 9", 0.024, 0.0192, 0.0288, STYL) X("styl 10", 0.033, 0.0264, 0.0396, STYL)                       \
    X("styl 11", 0.041, 0.0328, 0.0492, STYL) X("styl 12", 0.054, 0.0432, 0.0648, STYL)
/* clang-format on */

#define ENTRY(word, mass, least, most, origin) {word, (mass)*1e-3, (least)*1e-3, (most)*1e-3, origin},
#define WORD(word, mass, least, most, origin) word,
const bf_shot_size bf_shot_sizes[] = {SHOT_SIZES(ENTRY)};
const char *const bf_shot_size_words[] = {SHOT_SIZES(WORD) NULL};
const int bf_n_shot_sizes = BF_N_SHOT_SIZES;
_Static_assert(sizeof bf_shot_sizes / sizeof bf_shot_sizes[0] == BF_N_SHOT_SIZES, "one entry a size");

const char *const bf_metal_words[] = {"lead", "tin", "tungsten", NULL};

int bf_shot_size_find(const char *word) {
    for (int i = 0; i < bf_n_shot_sizes; i++)
        if (strcmp(bf_shot_sizes[i].word, word) == 0) return i;
    return -1;
}

/* Tables ------------------------------------------------------------------------------------------------- */

#define NO_8 11
#define NO_10 13

/* clang-format off */
#define ROW_FIELDS(start_size, ...)                                                                          \
    BF_W(bf_shot, size, bf_shot_size_words, BF_N_SHOT_SIZES, start_size,                                     \
         "trade size, by mass; charts differ by 10 to 25 %, so weigh ten; not read when the mass is given"), \
    BF_R(bf_shot, mass_kg, BF_MASS, 1e-6, 0.05, BF_NAN, "of one shot, weighed; not given: by its size"),     \
    BF_W(bf_shot, metal, bf_metal_words, BF_N_METALS, BF_NAN,                                                \
         "lead, tin or tungsten; not given: lead up to 0.06 g (the published limit), tin above"),            \
    BF_I(bf_shot, count, 1, 40, 1, "equal shot in this row; start: one"),                                    \
    {__VA_ARGS__},                                                                                           \
    BF_R(bf_shot, apart_m, BF_LENGTH, 0, 5, 0, "from one to the next; start: touching each other, a bulk")

static const bf_field shot_fields[] = {
    ROW_FIELDS(NO_8, "above_hook_m", BF_REAL, offsetof(bf_shot, at_m), BF_LENGTH, 0.005, 14, BF_NAN, 0, 0.005, 14,
               NULL, "from the hook up the line to the lowest of them; it must be given", 1),
};

static const bf_field back_shot_fields[] = {
    ROW_FIELDS(NO_10, "above_float_m", BF_REAL, offsetof(bf_shot, at_m), BF_LENGTH, 0.005, 10, 0.2, 0, 0.005, 10,
               NULL, "from the float up the line to the lowest of them; start: 20 cm (memory: 10 to 30 cm)", 0),
};
/* clang-format on */

const bf_table bf_shot_table = BF_TABLE("shot", bf_shot, shot_fields);
const bf_table bf_back_shot_table = BF_TABLE("back_shot", bf_shot, back_shot_fields);

/* One shot ----------------------------------------------------------------------------------------------- */

double bf_metal_density_kg_m3(int metal) {
    static const double density[BF_N_METALS] = {11340, 7287, 19250};
    BF_ASSERT(metal >= 0 && metal < BF_N_METALS);
    return density[metal];
}

double bf_shot_mass_kg(const bf_shot *shot, double error_z) {
    if (shot->mass_kg == shot->mass_kg) return shot->mass_kg;
    BF_ASSERT(shot->size >= 0 && shot->size < bf_n_shot_sizes);
    const bf_shot_size *size = &bf_shot_sizes[shot->size];
    double side = error_z < 0 ? size->mass_kg - size->least_kg : size->most_kg - size->mass_kg;
    return size->mass_kg + error_z * side;
}

static int is_lawful_in_lead(const bf_shot *shot) {
    double mass = bf_shot_mass_kg(shot, 0);
    return mass <= BF_LEAD_MOST_KG * (1 + 1e-12) || mass > BF_LEAD_FROM_KG;
}

int bf_shot_metal(const bf_shot *shot) {
    return shot->metal >= 0 ? shot->metal : is_lawful_in_lead(shot) ? BF_LEAD : BF_TIN;
}

int bf_shot_is_banned_lead(const bf_shot *shot) {
    return bf_shot_metal(shot) == BF_LEAD && !is_lawful_in_lead(shot);
}

double bf_shot_diameter_m(const bf_shot *shot, double error_z) {
    double volume = bf_shot_mass_kg(shot, error_z) / bf_metal_density_kg_m3(bf_shot_metal(shot));
    return bf_cbrt(6 / BF_PI * volume);
}

double bf_shot_weight_n(const bf_shot *shot, double error_z, double water_kg_m3) {
    double in_water = 1 - water_kg_m3 / bf_metal_density_kg_m3(bf_shot_metal(shot));
    return bf_shot_mass_kg(shot, error_z) * BF_GRAVITY_M_S2 * in_water;
}

double bf_shots_weight_n(const bf_shot *shots, int n_rows, double error_z, double water_kg_m3) {
    double sum = 0;
    for (int i = 0; i < n_rows; i++)
        sum += shots[i].count * bf_shot_weight_n(&shots[i], error_z, water_kg_m3);
    return sum;
}

bf_piece bf_shot_piece(const bf_shot *shot, double error_z, double water_kg_m3, double viscosity_pa_s) {
    double diameter = bf_shot_diameter_m(shot, error_z);
    return bf_piece_of_form(BF_SPHERE, diameter, diameter, bf_metal_density_kg_m3(bf_shot_metal(shot)),
                            water_kg_m3, viscosity_pa_s);
}
