/* line.c -- tables of main line and hooklength, and what a metre weighs, stretches and holds. */
#include "baitfall/line.h"

#include "baitfall/elementary.h"
#include "baitfall/water.h"

const char *const bf_line_kind_words[] = {"nylon", "fluorocarbon", NULL};

/* clang-format off */
#define LINE_FIELDS(start_diameter_m)                                                                        \
    BF_R(bf_fishing_line, diameter_m, BF_LENGTH, 3e-5, 1e-3, start_diameter_m,                                       \
         "of the line as measured; printed ones run 1 to 15 % small (six samples, read)"),                   \
    BF_W(bf_fishing_line, kind, bf_line_kind_words, BF_N_LINE_KINDS, BF_NYLON, "nylon or fluorocarbon; start: nylon"), \
    BF_R(bf_fishing_line, break_n, BF_FORCE, 0.05, 600, BF_NAN,                                                      \
         "load at which it broke wet and knotted; not given: by its diameter"),                              \
    BF_Q(bf_fishing_line, strength_frac, BF_PURE, 0.2, 3, 1, 0.32, 0.5, 1.5,                                         \
         "real strength, wet and knotted, over that figure; start: give or take 32 % (judgement), break some"), \
    BF_Q(bf_fishing_line, stiff_frac, BF_PURE, 0.2, 5, 1, 0.4, 0.5, 2,                                               \
         "stiffness over its kind's; start: give or take 40 %, wet nylon 1 to 2.5 GPa (memory)")
/* clang-format on */

static const bf_field line_fields[] = {LINE_FIELDS(0.00015)};
static const bf_field hooklength_fields[] = {
    LINE_FIELDS(0.00012),
    BF_R(bf_fishing_line, length_m, BF_LENGTH, 0.02, 3, 0.15,
         "from the hook to the main line; start: 15 cm (common practice, no source)"),
};

const bf_table bf_line_table = BF_TABLE("line", bf_fishing_line, line_fields);
const bf_table bf_hooklength_table = BF_TABLE("hooklength", bf_fishing_line, hooklength_fields);

typedef struct material {
    double density_kg_m3, young_pa, strength_pa, wet_frac;
} material;

#define KNOT_FRAC 0.85

static const material materials[BF_N_LINE_KINDS] = {
    {1140, 1.75e9, 700e6, 0.87}, {1780, 2.5e9, 773e6, 1}, /* takes up no water */
};

static const material *material_of(int kind) {
    BF_ASSERT(kind >= 0 && kind < BF_N_LINE_KINDS);
    return &materials[kind];
}

double bf_line_density_kg_m3(int kind) {
    return material_of(kind)->density_kg_m3;
}

double bf_line_area_m2(const bf_fishing_line *line) {
    return BF_PI / 4 * line->diameter_m * line->diameter_m;
}

double bf_line_weight_air_n_m(const bf_fishing_line *line) {
    return bf_line_weight_water_n_m(line, 0);
}

double bf_line_weight_water_n_m(const bf_fishing_line *line, double water_kg_m3) {
    return bf_line_area_m2(line) * (bf_line_density_kg_m3(line->kind) - water_kg_m3) * BF_GRAVITY_M_S2;
}

double bf_line_stiffness_n(const bf_fishing_line *line) {
    return material_of(line->kind)->young_pa * line->stiff_frac.value * bf_line_area_m2(line);
}

double bf_line_break_n(const bf_fishing_line *line) {
    const material *m = material_of(line->kind);
    double by_diameter = m->strength_pa * m->wet_frac * KNOT_FRAC * bf_line_area_m2(line);
    double figure = line->break_n == line->break_n ? line->break_n : by_diameter;
    return figure * line->strength_frac.value;
}
