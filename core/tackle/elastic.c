/* elastic.c -- tables of hook and elastic, and what each of them holds. */
#include "baitfall/elastic.h"

#include <math.h>
#include <string.h>

#include "baitfall/elementary.h"
#include "baitfall/water.h"

static const char *const barbs_words[] = {"barbless", "barbed", NULL};

static const bf_field hook_fields[] = {
    BF_I(bf_hook, size, 8, 26, 16, "trade number, smaller hooks have larger ones; start: 16"),
    BF_R(bf_hook, mass_kg, BF_MASS, 1e-6, 0.002, BF_NAN, "of the hook; not given: by its number (memory)"),
    BF_W(bf_hook, barbs, barbs_words, 2, BF_NAN,
         "barbless (or crushed) or barbed, for the venue's rules; not given: not said"),
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
    return STEEL_PA * wire * wire * wire / 6 / (gape_m(hook) / 2);
}

/* Rubber ------------------------------------------------------------------------------------------------- */

double bf_rubber_stress_pa(double stretch) {
    static const double mu_pa[3] = {617820, 1176.8, -9806.7}, alpha[3] = {1.3, 5, -2};
    double stress = 0;
    if (stretch <= 1) return 0;
    for (int i = 0; i < 3; i++)
        stress += mu_pa[i] * (bf_pow(stretch, alpha[i] - 1) - bf_pow(stretch, -alpha[i] / 2 - 1));
    return stress;
}

double bf_elastic_area_m2(const bf_elastic *elastic) {
    double outer = elastic->outer_m, bore = elastic->bore_m;
    return bore < outer ? BF_PI / 4 * (outer * outer - bore * bore) : BF_NAN;
}

double bf_elastic_pull_n(const bf_elastic *elastic, double stretch) {
    return bf_elastic_area_m2(elastic) * bf_rubber_stress_pa(stretch) * elastic->force_frac.value;
}

/* Chain -------------------------------------------------------------------------------------------------- */

const char *const bf_chain_words[] = {"hook", "hooklength", "knot", "main line", "elastic", NULL};

#define CHAIN_DRAWS 1024
#define TEARS_PA 24.1e6

/* What is uncertain: four quantities of judgement here, and three of the record. */
enum { OPENS, KNOT_KEEPS, TEARS, FULL, HOOKLENGTH, LINE, FORCE, N_UNKNOWNS };

/* A sampler of a record's quantity with the limits of its field. */
static bf_sampler sampler_of(const bf_table *table, const char *name, const bf_quantity *quantity) {
    int is_pm, i = bf_field_find(table, name, strlen(name), &is_pm);
    const bf_field *f = &table->field[i];
    return bf_sampler_of(*quantity, f->least, f->most, f->usual_least, f->usual_most);
}

static bf_sampler judged(double value, double pm, double least, double most) {
    return bf_sampler_of((bf_quantity){value, pm, 0}, least, most, least, most);
}

/* The n-th uniform number of unknown i: the additive sequence of the plastic number's kin, root of x^8 = x + 1, whose
 * powers spread seven numbers evenly (M. Roberts, 2018, from memory). */
static double even(int n, int i) {
    static const double step[N_UNKNOWNS] = {0.9115923534820549, 0.8310006189269519, 0.7575338099526643,
                                            0.690562028656977,  0.629511064928756,  0.5738574732213994,
                                            0.5231240845771608};
    double u = 0.5 + (n + 1) * step[i];
    return u - floor(u);
}

/* The parts as one draw has them, and how far the elastic stretches. */
typedef struct chain_world {
    bf_hook hook;
    bf_fishing_line hooklength, line;
    bf_elastic elastic;
    double opens_frac, knot_keeps, tears_frac, full_stretch;
} chain_world;

static void set_world(chain_world *world, const double value[N_UNKNOWNS]) {
    world->opens_frac = value[OPENS];
    world->knot_keeps = value[KNOT_KEEPS];
    world->tears_frac = value[TEARS];
    world->full_stretch = value[FULL];
    world->hooklength.strength_frac.value = value[HOOKLENGTH];
    world->line.strength_frac.value = value[LINE];
    world->elastic.force_frac.value = value[FORCE];
}

/* What comes out of one world. */
typedef struct pulled {
    double holds_n[BF_N_CHAIN_PARTS], full_n, spare_n;
    int weakest;
} pulled;

static int weakest_of(const double holds_n[BF_N_CHAIN_PARTS]) {
    int weakest = BF_CHAIN_KNOT; /* of a knot that keeps everything, the knot */
    for (int i = 0; i < BF_N_CHAIN_PARTS; i++)
        if (holds_n[i] < holds_n[weakest]) weakest = i;
    return weakest;
}

static pulled pull(const chain_world *world) {
    double knot_n = bf_line_break_n(&world->hooklength);
    pulled out = {.holds_n = {
                      [BF_CHAIN_HOOK] = bf_hook_opens_n(&world->hook) * world->opens_frac,
                      [BF_CHAIN_HOOKLENGTH] = knot_n / world->knot_keeps,
                      [BF_CHAIN_KNOT] = knot_n,
                      [BF_CHAIN_LINE] = bf_line_break_n(&world->line),
                      [BF_CHAIN_ELASTIC] = TEARS_PA * bf_elastic_area_m2(&world->elastic) * world->tears_frac,
                  }};
    out.weakest = weakest_of(out.holds_n);
    out.full_n = bf_elastic_pull_n(&world->elastic, world->full_stretch);
    out.spare_n = out.holds_n[out.weakest] - out.full_n;
    return out;
}

/* The chain of a world, its numbers as given and its draws gathered. */
static void gather(chain_world *world, const double as_given[N_UNKNOWNS],
                   const bf_sampler sampler[N_UNKNOWNS], bf_chain *out) {
    double holds_n[BF_N_CHAIN_PARTS][CHAIN_DRAWS], full_n[CHAIN_DRAWS], spare_n[CHAIN_DRAWS];
    int gives_first[BF_N_CHAIN_PARTS] = {0}, n_before_full = 0;
    for (int n = 0; n < CHAIN_DRAWS; n++) {
        double value[N_UNKNOWNS];
        for (int i = 0; i < N_UNKNOWNS; i++) value[i] = bf_sampler_at(&sampler[i], even(n, i));
        set_world(world, value);
        pulled now = pull(world);
        for (int i = 0; i < BF_N_CHAIN_PARTS; i++) holds_n[i][n] = now.holds_n[i];
        full_n[n] = now.full_n;
        spare_n[n] = now.spare_n;
        gives_first[now.weakest]++;
        n_before_full += now.spare_n < 0;
    }
    set_world(world, as_given);
    pulled given = pull(world);
    for (int i = 0; i < BF_N_CHAIN_PARTS; i++)
        out->part[i] = (bf_chain_link){bf_range_of(holds_n[i], CHAIN_DRAWS, given.holds_n[i]),
                                       (double)gives_first[i] / CHAIN_DRAWS};
    out->full_n = bf_range_of(full_n, CHAIN_DRAWS, given.full_n);
    out->spare_n = bf_range_of(spare_n, CHAIN_DRAWS, given.spare_n);
    out->gives_before_full_frac = (double)n_before_full / CHAIN_DRAWS;
}

static bf_chain nothing(void) {
    const bf_range none = {BF_NAN, BF_NAN, BF_NAN, BF_NAN};
    bf_chain chain = {.full_n = none, .spare_n = none, .gives_before_full_frac = BF_NAN};
    for (int i = 0; i < BF_N_CHAIN_PARTS; i++) chain.part[i] = (bf_chain_link){none, BF_NAN};
    return chain;
}

bf_status bf_chain_of(const bf_hook *hook, const bf_fishing_line *hooklength, const bf_fishing_line *line,
                      const bf_elastic *elastic, bf_chain *out) {
    const bf_quantity *hl = &hooklength->strength_frac, *of_line = &line->strength_frac,
                      *force = &elastic->force_frac;
    const double as_given[N_UNKNOWNS] = {[OPENS] = 1,
                                         [KNOT_KEEPS] = 0.85,
                                         [TEARS] = 0.5,
                                         [FULL] = BF_ELASTIC_FULL_STRETCH,
                                         [HOOKLENGTH] = hl->value,
                                         [LINE] = of_line->value,
                                         [FORCE] = force->value};
    const bf_sampler sampler[N_UNKNOWNS] = {
        [OPENS] = judged(as_given[OPENS], 0.4, 0.2, 3),
        [KNOT_KEEPS] = judged(as_given[KNOT_KEEPS], 0.1, 0.4, 1),
        [TEARS] = judged(as_given[TEARS], 0.25, 0.1, 1),
        [FULL] = judged(as_given[FULL], 0.5, 3, 7.5),
        [HOOKLENGTH] = sampler_of(&bf_hooklength_table, "strength_frac", hl),
        [LINE] = sampler_of(&bf_line_table, "strength_frac", of_line),
        [FORCE] = sampler_of(&bf_elastic_table, "force_frac", force),
    };
    chain_world world = {.hook = *hook, .hooklength = *hooklength, .line = *line, .elastic = *elastic};
    *out = nothing();
    if (!(elastic->bore_m < elastic->outer_m)) return BF_E_RANGE;
    gather(&world, as_given, sampler, out);
    return BF_OK;
}
