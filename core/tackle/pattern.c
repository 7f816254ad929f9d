/* pattern.c -- shot to a float's capacity, start rigs, generic floats, and remarks on a rig's parts. */
#include "baitfall/pattern.h"

#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"
#include "baitfall/water.h"

const char *const bf_pattern_words[] = {"bulk", "strung", "tapered", NULL};

/* Patterns ----------------------------------------------------------------------------------------------- */

#define SHOWS_M 0.002 /* dotted down */
#define TENSION_C 15
#define LARGEST 0
#define NO_8 11
#define NO_13 16
#define ABOVE_KNOT_M 0.02
#define BULK_AT_M 0.45
#define BULK_AT_MOST 0.6 /* of the line from float to hook, as all below */
#define ABOVE_LOW_M 0.1  /* room for the droppers, over a long hooklength */
#define LOWEST_AT_MOST 0.5
#define TOP_AT 0.85
#define TRIMMERS_AT 0.9
#define N_DROPPERS 2
#define DROPPER_MOST 0.1 /* of the load */
#define BULK_LEAST_SHOT 3
#define SPREAD_LEAST_SHOT 5
#define TAPERED_PLACES 9

double bf_pattern_load_n(const bf_rig *rig, double wet_m, double water_kg_m3) {
    const bf_float *flt = &rig->flt;
    const bf_fishing_line *line = &rig->line, *hooklength = &rig->hooklength;
    double of_line_m = wet_m > hooklength->length_m ? wet_m - hooklength->length_m : 0;
    double meniscus_n = bf_float_meniscus_n(flt, bf_water_tension_n_m(TENSION_C), flt->meets_deg.value);
    return bf_float_lift_n(flt, water_kg_m3) +
           bf_float_bristle_n_m(flt, water_kg_m3) * (flt->bristle_long_m - SHOWS_M) - meniscus_n -
           bf_hook_weight_n(&rig->hook, water_kg_m3) -
           of_line_m * bf_line_weight_water_n_m(line, water_kg_m3) -
           (wet_m - of_line_m) * bf_line_weight_water_n_m(hooklength, water_kg_m3);
}

/* A rig being shotted. */
typedef struct job {
    bf_rig *rig;
    int metal;
    double wet_m, water_kg_m3, left_n;
} job;

static double weight_n(const job *at, int size) {
    bf_shot one = {.size = size, .mass_kg = BF_NAN, .metal = at->metal, .count = 1};
    return bf_shot_weight_n(&one, 0, at->water_kg_m3);
}

static double diameter_m(const job *at, int size) {
    bf_shot one = {.size = size, .mass_kg = BF_NAN, .metal = at->metal, .count = 1};
    return bf_shot_diameter_m(&one, 0);
}

static int fit(const job *at, int size, double room_n) {
    return room_n > 0 ? (int)(room_n / weight_n(at, size)) : 0;
}

/* The largest size from `largest` down of which so many fit, else the smallest. */
static int size_that_fits(const job *at, int largest, int count, double room_n) {
    int size = largest;
    while (size < NO_13 && fit(at, size, room_n) < count) size++;
    return size;
}

static void put(job *at, int size, int count, double at_m, double apart_m) {
    bf_rig *rig = at->rig;
    if (count <= 0 || rig->n_shots == BF_RIG_SHOTS) return;
    rig->shot[rig->n_shots++] = (bf_shot){size, BF_NAN, at->metal, count, at_m, apart_m};
    at->left_n -= count * weight_n(at, size);
}

static int at_most(int n, int most) {
    return n < most ? n : most;
}

static double lower_of(double a, double b) {
    return a < b ? a : b;
}

#define MOST_IN_ROW 40

/* Fills what is left with ever smaller shot from at_m up. */
static void put_trimmers(job *at, int smaller_than, double at_m) {
    for (int size = smaller_than + 1; size <= NO_13; size++) {
        int count = at_most(fit(at, size, at->left_n), MOST_IN_ROW);
        put(at, size, count, at_m, 0);
        at_m += count * diameter_m(at, size);
    }
}

static double lowest_m(const job *at) {
    return lower_of(at->rig->hooklength.length_m + ABOVE_KNOT_M, LOWEST_AT_MOST * at->wet_m);
}

static int largest_of(const job *at) {
    return at->metal == BF_LEAD ? NO_8 : LARGEST;
}

static void put_bulk(job *at) {
    double low = lowest_m(at), above = low + ABOVE_LOW_M;
    double bulk_at = lower_of(above > BULK_AT_M ? above : BULK_AT_M, BULK_AT_MOST * at->wet_m);
    int dropper = size_that_fits(at, NO_8, 1, DROPPER_MOST * at->left_n);
    int n_droppers = at_most(fit(at, dropper, at->left_n), N_DROPPERS);
    put(at, dropper, n_droppers, low, (bulk_at - low) / N_DROPPERS);
    int size = size_that_fits(at, largest_of(at), BULK_LEAST_SHOT, at->left_n);
    int count = at_most(fit(at, size, at->left_n), MOST_IN_ROW);
    put(at, size, count, bulk_at, 0);
    put_trimmers(at, size, bulk_at + count * diameter_m(at, size));
}

static void put_strung(job *at) {
    double low = lowest_m(at), top = TOP_AT * at->wet_m;
    int size = size_that_fits(at, largest_of(at), SPREAD_LEAST_SHOT, at->left_n);
    int count = at_most(fit(at, size, at->left_n), MOST_IN_ROW);
    put(at, size, count, low, count > 1 ? (top - low) / (count - 1) : 0);
    put_trimmers(at, size, TRIMMERS_AT * at->wet_m);
}

static void put_tapered(job *at) {
    double low = lowest_m(at), top = TOP_AT * at->wet_m;
    int size = size_that_fits(at, largest_of(at), SPREAD_LEAST_SHOT, at->left_n);
    int count = at_most(fit(at, size, at->left_n), TAPERED_PLACES * MOST_IN_ROW);
    int places = at_most(count, TAPERED_PLACES);
    for (int i = 0; i < places; i++) {
        double up = places > 1 ? (double)i / (places - 1) : 0;
        int here = count / places + (i >= places - count % places);
        put(at, size, here, low + (top - low) * up * sqrt(up), 0);
    }
    put_trimmers(at, size, TRIMMERS_AT * at->wet_m);
}

int bf_pattern_shot(bf_rig *rig, int pattern, int metal, double wet_m, double water_kg_m3) {
    static void (*const puts[BF_N_PATTERNS])(job *) = {put_bulk, put_strung, put_tapered};
    BF_ASSERT(pattern >= 0 && pattern < BF_N_PATTERNS && wet_m > 0);
    job at = {rig, metal < 0 ? BF_LEAD : metal, wet_m, water_kg_m3, 0};
    at.left_n = bf_pattern_load_n(rig, wet_m, water_kg_m3);
    rig->n_shots = 0;
    puts[pattern](&at);
    return rig->n_shots;
}

/* Catalogue ---------------------------------------------------------------------------------------------- */

/* clang-format off */
#define ANY_BETWEEN(lo, hi) {((lo) + (hi)) / 2, 0, 1}
#define FLOAT(rating, bristle, bristle_long)                                                                 \
    {.rating_kg = (rating) * 1e-3, .capacity_kg = BF_NAN, .capacity_frac = {1, 0.12, 0},                     \
     .bristle_m = (bristle) * 1e-3, .bristle_long_m = (bristle_long) * 1e-3, .body_m = BF_NAN,               \
     .body_long_m = BF_NAN, .stem_long_m = BF_NAN, .mass_kg = BF_NAN, .meets_deg = ANY_BETWEEN(30.0, 90.0)}

const bf_float bf_floats[] = {
    FLOAT(0.1, 0.8, 25), FLOAT(0.15, 0.8, 25), FLOAT(0.2, 1.0, 30), FLOAT(0.3, 1.0, 30), FLOAT(0.4, 1.2, 30),
    FLOAT(0.5, 1.2, 35), FLOAT(0.6, 1.2, 35),  FLOAT(0.75, 1.5, 40), FLOAT(1.0, 1.5, 40), FLOAT(1.25, 1.5, 40),
    FLOAT(1.5, 1.8, 45), FLOAT(2.0, 2.0, 50),
};

#define LINE(diameter, length)                                                                               \
    {.diameter_m = (diameter) * 1e-3, .kind = BF_NYLON, .length_m = length, .break_n = BF_NAN,               \
     .strength_frac = {1, 0.32, 0}, .stiff_frac = {1, 0.4, 0}}
#define RIG(line_mm, hooklength_mm, hook_number, float_, elastic_mm, bore_mm, elastic_m)                     \
    {.tip_to_float_m = 0.5, .shot_error = {0, 1, 0}, .dotted_m = {0.003, 0.002, 0}, .line = LINE(line_mm, BF_NAN), \
     .hooklength = LINE(hooklength_mm, 0.15), .hook = {hook_number, BF_NAN, -1}, .flt = float_,                  \
     .elastic = {(elastic_mm) * 1e-3, (bore_mm) * 1e-3, elastic_m, {1, 0.25, 0}}}
/* clang-format on */

#define RIG_ORIGIN                                                                                           \
    "Diameters and numbers from memory of common use, not of any make; measure and change them."

const bf_rig_entry bf_rigs[] = {
    {"light", "0.2 g float, 0.12 mm line, fine hooklength, hook 18",
     RIG(0.12, 0.09, 18, FLOAT(0.2, 1.0, 30), 1.0, 0, 2.5), RIG_ORIGIN},
    {"middle", "0.4 g float, 0.15 mm line, hooklength 0.12 mm, hook 16",
     RIG(0.15, 0.12, 16, FLOAT(0.4, 1.2, 30), 1.2, 0, 2.5), RIG_ORIGIN},
    {"heavy", "1 g float, 0.18 mm line, hooklength 0.15 mm, hook 14",
     RIG(0.18, 0.15, 14, FLOAT(1.0, 1.5, 40), 1.9, 0.8, 2.5), RIG_ORIGIN},
    {"margin", "0.2 g float with a thick bristle, 0.20 mm line, hooklength 0.16 mm, hook 14",
     RIG(0.20, 0.16, 14, FLOAT(0.2, 2.0, 25), 2.3, 1.0, 2.5), RIG_ORIGIN},
};
const int bf_n_rigs = sizeof bf_rigs / sizeof bf_rigs[0];
const int bf_n_floats = sizeof bf_floats / sizeof bf_floats[0];

/* Remarks ------------------------------------------------------------------------------------------------ */

#define SMALLEST_SHOT_KG 1e-5 /* No 13 */

static int has_banned_lead(const bf_rig *rig) {
    for (int i = 0; i < rig->n_shots; i++)
        if (bf_shot_is_banned_lead(&rig->shot[i])) return 1;
    for (int i = 0; i < rig->n_back_shots; i++)
        if (bf_shot_is_banned_lead(&rig->back_shot[i])) return 1;
    return 0;
}

/* The band that the meniscus makes of what shows, and what the smallest shot does. */
static bf_note bristle_note(const bf_float *flt, double water_kg_m3) {
    double lo_m, hi_m;
    bf_float_shows_band_m(flt, 0, water_kg_m3, bf_water_tension_n_m(TENSION_C), &lo_m, &hi_m);
    double by_shot_m = bf_float_shot_moves_m(flt, SMALLEST_SHOT_KG, water_kg_m3);
    return (bf_note){BF_NOTE_BRISTLE_BAND, {hi_m - lo_m, by_shot_m, 0}};
}

/* As uncertain as nobody tried it: with the give or take its table starts from, or more. */
static int is_untried(const bf_table *table, const char *name, const bf_quantity *quantity) {
    int is_pm, i = bf_field_find(table, name, strlen(name), &is_pm);
    return quantity->is_unknown || quantity->pm >= table->field[i].start_pm;
}

int bf_tackle_notes(const bf_rig *rig, double water_kg_m3, bf_note notes[BF_MOST_TACKLE_NOTES]) {
    int n = 0;
    bf_note bristle = bristle_note(&rig->flt, water_kg_m3);
    if (has_banned_lead(rig)) notes[n++] = (bf_note){BF_NOTE_LEAD_SHOT, {0}};
    if (bristle.number[0] > bristle.number[1]) notes[n++] = bristle;
    if (is_untried(&bf_float_table, "capacity_frac", &rig->flt.capacity_frac))
        notes[n++] = (bf_note){BF_NOTE_FLOAT_UNTRIED, {0}};
    if (is_untried(&bf_line_table, "strength_frac", &rig->hooklength.strength_frac))
        notes[n++] = (bf_note){BF_NOTE_LINE_UNTRIED, {0}};
    if (is_untried(&bf_elastic_table, "force_frac", &rig->elastic.force_frac))
        notes[n++] = (bf_note){BF_NOTE_ELASTIC_UNTRIED, {0}};
    return n;
}
