/* elastic.c -- tables of hook and elastic, and what each of them holds. */
#include "baitfall/elastic.h"

#include "baitfall/elementary.h"
#include "baitfall/water.h"

static const bf_field hook_fields[] = {
    BF_I(bf_hook, size, 8, 26, 16, "trade number, smaller hooks have larger ones; start: 16"),
    BF_R(bf_hook, mass_kg, BF_MASS, 1e-6, 0.002, BF_NAN, "of the hook; not given: by its number (memory)"),
};

static const bf_field elastic_fields[] = {
    BF_R(bf_elastic, outer_m, BF_LENGTH, 3e-4, 6e-3, 0.0012,
         "diameter at rest; start: a middle grade (memory; grades are no standard, so measure it)"),
    BF_R(bf_elastic, bore_m, BF_LENGTH, 0, 5e-3, 0, "inner diameter of hollow elastic; start: 0, solid"),
    BF_R(bf_elastic, length_m, BF_LENGTH, 0.2, 10, 2.5,
         "at rest, inside the pole; start: two top sections (memory: 1.5 to 4 m)"),
    BF_Q(bf_elastic, force_frac, BF_PURE, 0.2, 4, 1, 0.25, 0.6, 1.6,
         "real force over that of vulcanised rubber (Treloar 1944); start: give or take a quarter, pull it "
         "to know"),
};

const bf_table bf_hook_table = BF_TABLE("hook", bf_hook, hook_fields);
const bf_table bf_elastic_table = BF_TABLE("elastic", bf_elastic, elastic_fields);

/* Hook --------------------------------------------------------------------------------------------------- */

#define MIDDLE_HOOK 16
#define WIRE_M 0.45e-3
#define WIRE_A_NUMBER 1.068
#define GAPE_M 4.6e-3
#define GAPE_A_NUMBER 1.085
#define WIRE_OVER_GAPE 3.5
#define STEEL_KG_M3 7850
#define STEEL_PA 1.8e9

double bf_hook_wire_m(const bf_hook *hook) {
    return WIRE_M * bf_pow(WIRE_A_NUMBER, MIDDLE_HOOK - hook->size);
}

static double gape_m(const bf_hook *hook) {
    return GAPE_M * bf_pow(GAPE_A_NUMBER, MIDDLE_HOOK - hook->size);
}

double bf_hook_mass_kg(const bf_hook *hook) {
    double wire = bf_hook_wire_m(hook);
    if (hook->mass_kg == hook->mass_kg) return hook->mass_kg;
    return BF_PI / 4 * wire * wire * WIRE_OVER_GAPE * gape_m(hook) * STEEL_KG_M3;
}

double bf_hook_weight_n(const bf_hook *hook, double water_kg_m3) {
    return bf_hook_mass_kg(hook) * BF_GRAVITY_M_S2 * (1 - water_kg_m3 / STEEL_KG_M3);
}

double bf_hook_opens_n(const bf_hook *hook) {
    double wire = bf_hook_wire_m(hook);
    return STEEL_PA * wire * wire * wire / 6 / gape_m(hook);
}
