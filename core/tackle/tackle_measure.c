/* tackle_measure.c -- float, elastic, line, shot and aim, measured at home. */
#include "baitfall/tackle_measure.h"

#include <math.h>

#include "baitfall/elementary.h"
#include "baitfall/special.h"
#include "baitfall/water.h"
#include "core/feed/worlds.h"

/* Tables ------------------------------------------------------------------------------------------------- */

/* clang-format off */
#define READINGS(record, member, dim, least, most, help)                                                     \
    {#member, BF_LIST, offsetof(record, member), dim, least, most, BF_NAN, 0, least, most, NULL, help, 1}
#define MUST(record, member, dim, least, most, help)                                                         \
    {#member, BF_REAL, offsetof(record, member), dim, least, most, BF_NAN, 0, least, most, NULL, help, 1}
/* clang-format on */

static const bf_field tube_fields[] = {
    READINGS(bf_tube_test, took_kg, BF_MASS, 2e-5, 0.03,
             "shot it took to where the bristle begins, dry mass, one number a try"),
    BF_W(bf_tube_test, metal, bf_metal_words, BF_N_METALS, BF_LEAD, "lead, tin or tungsten; start: lead"),
    BF_Q(bf_tube_test, mass_frac, BF_PURE, 0.5, 1.5, 1, 0.10, 0.75, 1.25,
         "real mass of that shot over what was said; start: give or take 10 %, by trade size; weighed: 1"),
    BF_R(bf_tube_test, try_scatter_kg, BF_MASS, 1e-6, 0.002, 1e-5,
         "from try to try, one standard deviation; start: the smallest shot more or less (judgement)"),
};

static const bf_field pull_fields[] = {
    READINGS(bf_pull_test, load_kg, BF_MASS, 0.001, 10,
             "weights hung on it, one after the other, ever heavier"),
    READINGS(bf_pull_test, long_m, BF_LENGTH, 0.01, 30, "how long it was under each of them"),
    MUST(bf_pull_test, rest_m, BF_LENGTH, 0.01, 10, "its length with nothing on it; it must be given"),
    BF_R(bf_pull_test, scale_scatter_kg, BF_MASS, 1e-5, 0.5, 0.002,
         "of one weight, one standard deviation; start: kitchen scales"),
    BF_R(bf_pull_test, tape_scatter_m, BF_LENGTH, 1e-4, 0.2, 0.005,
         "of one length, one standard deviation; start: a tape beside it (judgement)"),
    BF_R(bf_pull_test, law_scatter_frac, BF_PURE, 0.01, 0.5, 0.1,
         "pull off the shape of the rubber law, one standard deviation; start: as two published sets of one "
         "measurement differ from it"),
};

static const bf_field break_fields[] = {
    READINGS(bf_break_test, broke_kg, BF_MASS, 0.005, 60,
             "loads at which pieces broke, wet and knotted as fished"),
    BF_R(bf_break_test, knot_scatter_frac, BF_PURE, 0.005, 0.6, 0.08,
         "from knot to knot, one standard deviation; start: judgement"),
    BF_Q(bf_break_test, balance_frac, BF_PURE, 0.7, 1.4, 1, 0.05, 0.9, 1.1,
         "real pull over what the balance says; start: give or take 5 % (judgement)"),
};

static const bf_field heap_fields[] = {
    MUST(bf_heap_test, count, BF_PURE, 1, 10000, "how many shot lie on the scales; it must be given"),
    MUST(bf_heap_test, together_kg, BF_MASS, 1e-6, 10, "what they weigh together; it must be given"),
    BF_R(bf_heap_test, scale_scatter_kg, BF_MASS, 1e-7, 0.1, 5e-5,
         "of the weighing, one standard deviation; start: pocket scales of 0.1 g"),
};

static const bf_field ring_fields[] = {
    READINGS(bf_ring_test, out_m, BF_LENGTH, -3, 3,
             "how far beyond the middle of the ring each drop came down, below 0 short of it"),
    READINGS(bf_ring_test, right_m, BF_LENGTH, -3, 3,
             "how far to the right each came down, below 0 to the left"),
    BF_L(bf_ring_test, held_m, BF_LENGTH, 0, 1,
         "how far the tip was off its place, looked at now and then while holding; not given: as believed"),
    MUST(bf_ring_test, distance_m, BF_LENGTH, 1, 20, "from you to the ring; it must be given"),
};

const bf_table bf_tube_table = BF_TABLE("tube", bf_tube_test, tube_fields);
const bf_table bf_pull_table = BF_TABLE("pull", bf_pull_test, pull_fields);
const bf_table bf_break_table = BF_TABLE("break", bf_break_test, break_fields);
const bf_table bf_heap_table = BF_TABLE("heap", bf_heap_test, heap_fields);
const bf_table bf_ring_table = BF_TABLE("ring", bf_ring_test, ring_fields);

#define THING(name, table, member) BF_SECTION(name, table, bf_tackle_measure, member)
#define FLOAT THING("float", bf_float_table, flt)
#define ELASTIC THING("elastic", bf_elastic_table, elastic)
#define LINE THING("line", bf_hooklength_table, line)
#define SHOT THING("shot", bf_weighed_shot_table, shot)
#define AIM THING("aim", bf_aim_table, aim)
#define TUBE THING("readings", bf_tube_table, tube)
#define PULL THING("readings", bf_pull_table, pull)
#define BROKE THING("readings", bf_break_table, broke)
#define HEAP THING("readings", bf_heap_table, heap)
#define RING THING("readings", bf_ring_table, ring)

static const bf_section tube_sections[] = {FLOAT, TUBE};
static const bf_section pull_sections[] = {ELASTIC, PULL};
static const bf_section break_sections[] = {LINE, BROKE};
static const bf_section heap_sections[] = {SHOT, HEAP};
static const bf_section ring_sections[] = {AIM, RING};
static const bf_section all_sections[] = {FLOAT, ELASTIC, LINE, SHOT, AIM, TUBE, PULL, BROKE, HEAP, RING};

const bf_schema bf_tube_schema = BF_SCHEMA("float", bf_tackle_measure, tube_sections);
const bf_schema bf_pull_schema = BF_SCHEMA("pull", bf_tackle_measure, pull_sections);
const bf_schema bf_break_schema = BF_SCHEMA("break", bf_tackle_measure, break_sections);
const bf_schema bf_heap_schema = BF_SCHEMA("weigh", bf_tackle_measure, heap_sections);
const bf_schema bf_ring_schema = BF_SCHEMA("aim", bf_tackle_measure, ring_sections);
static const bf_schema all_schema = BF_SCHEMA("measure", bf_tackle_measure, all_sections);

void bf_tackle_measure_start(bf_tackle_measure *measure) {
    *measure = (bf_tackle_measure){0};
    bf_schema_start(&all_schema, measure);
}

static void start(void *record) {
    bf_tackle_measure_start(record);
}

size_t bf_tackle_measure_work_bytes(void) {
    return bfi_worlds_bytes(sizeof(bf_tackle_measure));
}

/* The thing measured is the first section of each schema. */
#define MEASURED 0

/* Values of a world: what is looked for, and how many times the believed scatter the readings have. */
enum { LOOKED_FOR, TIMES_SCATTER, N_VALUES };

#define MOST_SCATTER 4 /* times the believed one: more is a slip in a reading (judgement) */

/* Weighs the worlds; readings that scatter far more than believed are refused. */
static bf_status weigh_worlds(const bfi_method *how, const bf_tackle_measure *measure, int n_readings,
                              bfi_worlds *w) {
    bf_status status = bfi_weigh_worlds(how, measure, n_readings, w);
    if (status) return status;
    return bfi_range_of(w, TIMES_SCATTER).value > MOST_SCATTER ? BF_E_DATA : BF_OK;
}

/* A number that was known without a give or take, or not at all. */
static bf_quantity was_real(double value) {
    return (bf_quantity){value, 0, value != value};
}

/* A range as one number and what the real one is against it. */
static void change_figure(bf_measured *out, const bf_schema *schema, size_t figure_at, double figure,
                          size_t frac_at, bf_quantity frac, bf_quantity now) {
    bf_quantity against = {1, now.pm / now.value, 0};
    bfi_change(out, schema, MEASURED, figure_at, was_real(figure), now);
    bfi_change(out, schema, MEASURED, frac_at, frac, against);
}

/* Float in a tube ---------------------------------------------------------------------------------------- */

#define TUBE_WATER_KG_M3 999.1

static double in_water_frac(int metal) {
    return 1 - TUBE_WATER_KG_M3 / bf_metal_density_kg_m3(metal);
}

static double float_figure_kg(const bf_float *flt) {
    return flt->capacity_kg == flt->capacity_kg ? flt->capacity_kg : flt->rating_kg;
}

static bfi_explained explain_tube(const void *record, double scatter_factor, double values[BFI_MOST_VALUES]) {
    const bf_tackle_measure *world = record;
    const bf_tube_test *tube = &world->tube;
    double capacity_kg = float_figure_kg(&world->flt) * world->flt.capacity_frac.value;
    double as_said_kg =
        capacity_kg * in_water_frac(BF_LEAD) / in_water_frac(tube->metal) / tube->mass_frac.value;
    double sd = scatter_factor * tube->try_scatter_kg;
    bfi_explained how_well = {0};
    values[LOOKED_FOR] = capacity_kg;
    values[TIMES_SCATTER] = scatter_factor;
    for (int i = 0; i < tube->took_kg.n; i++)
        bfi_add_reading(&how_well, tube->took_kg.n, tube->took_kg.at[i] - as_said_kg, sd, 0);
    return how_well;
}

static bf_status run_tube(const void *record, void *work, bf_measured *out) {
    static const bfi_method how = {
        &bf_tube_schema, {offsetof(bf_tackle_measure, flt.capacity_frac)}, 1, N_VALUES, explain_tube};
    const bf_tackle_measure *measure = record;
    const bf_float *flt = &measure->flt;
    bfi_worlds w = bfi_worlds_in(work);
    *out = (bf_measured){0};
    bf_status status = weigh_worlds(&how, measure, measure->tube.took_kg.n, &w);
    if (status) return status;

    change_figure(out, how.schema, offsetof(bf_float, capacity_kg), flt->capacity_kg,
                  offsetof(bf_float, capacity_frac), flt->capacity_frac, bfi_range_of(&w, LOOKED_FOR));
    if (measure->tube.mass_frac.pm > 0.05) out->note[out->n_notes++] = (bf_note){BF_NOTE_WEIGH_SHOT, {0}};
    return BF_OK;
}

/* Pulled elastic ----------------------------------------------------------------------------------------- */

/* Logarithm of the pull over logarithm of the length, here. */
static double pull_power(double stretch) {
    const double step = 1.01;
    return bf_log(bf_rubber_stress_pa(stretch * step) / bf_rubber_stress_pa(stretch)) / bf_log(step);
}

static bfi_explained explain_pull(const void *record, double scatter_factor, double values[BFI_MOST_VALUES]) {
    const bf_tackle_measure *world = record;
    const bf_pull_test *pull = &world->pull;
    bfi_explained how_well = {0};
    values[LOOKED_FOR] = world->elastic.force_frac.value;
    values[TIMES_SCATTER] = scatter_factor;
    for (int i = 0; i < pull->load_kg.n; i++) {
        double load_kg = pull->load_kg.at[i], stretch = pull->long_m.at[i] / pull->rest_m;
        double pull_n = bf_elastic_pull_n(&world->elastic, stretch);
        if (!(pull_n > 0)) return bfi_impossible(); /* no longer than at rest, or no elastic */
        double by_law = scatter_factor * pull->law_scatter_frac, by_scale = pull->scale_scatter_kg / load_kg;
        double by_tape = pull_power(stretch) * pull->tape_scatter_m / pull->long_m.at[i];
        double sd = sqrt(by_law * by_law + by_scale * by_scale + by_tape * by_tape);
        bfi_add_reading(&how_well, pull->load_kg.n, bf_log(load_kg * BF_GRAVITY_M_S2 / pull_n), sd, 0);
    }
    return how_well;
}

static bf_status run_pull(const void *record, void *work, bf_measured *out) {
    static const bfi_method how = {
        &bf_pull_schema, {offsetof(bf_tackle_measure, elastic.force_frac)}, 1, N_VALUES, explain_pull};
    const bf_tackle_measure *measure = record;
    bfi_worlds w = bfi_worlds_in(work);
    *out = (bf_measured){0};
    if (measure->pull.load_kg.n != measure->pull.long_m.n) return BF_E_COUNT;
    bf_status status = weigh_worlds(&how, measure, measure->pull.load_kg.n, &w);
    if (status) return status;

    bfi_change(out, how.schema, MEASURED, offsetof(bf_elastic, force_frac), measure->elastic.force_frac,
               bfi_range_of(&w, LOOKED_FOR));
    return BF_OK;
}

/* Broken line -------------------------------------------------------------------------------------------- */

static bfi_explained explain_break(const void *record, double scatter_factor,
                                   double values[BFI_MOST_VALUES]) {
    const bf_tackle_measure *world = record;
    const bf_break_test *broke = &world->broke;
    double middle_n = bf_line_break_n(&world->line), sd = scatter_factor * broke->knot_scatter_frac;
    bfi_explained how_well = {0};
    values[LOOKED_FOR] = middle_n;
    values[TIMES_SCATTER] = scatter_factor;
    for (int i = 0; i < broke->broke_kg.n; i++) {
        double broke_n = broke->broke_kg.at[i] * BF_GRAVITY_M_S2 * broke->balance_frac.value;
        bfi_add_reading(&how_well, broke->broke_kg.n, bf_log(broke_n / middle_n), sd, 0);
    }
    return how_well;
}

static bf_status run_break(const void *record, void *work, bf_measured *out) {
    static const bfi_method how = {
        &bf_break_schema, {offsetof(bf_tackle_measure, line.strength_frac)}, 1, N_VALUES, explain_break};
    const bf_tackle_measure *measure = record;
    const bf_fishing_line *line = &measure->line;
    bfi_worlds w = bfi_worlds_in(work);
    *out = (bf_measured){0};
    bf_status status = weigh_worlds(&how, measure, measure->broke.broke_kg.n, &w);
    if (status) return status;

    /* The next knot: what is not known of the middle, and on top how knots differ. */
    bf_quantity next = bfi_range_of(&w, LOOKED_FOR);
    double scatter_frac = measure->broke.knot_scatter_frac * bfi_range_of(&w, TIMES_SCATTER).value;
    double by_knot = BF_PM_PER_SD * scatter_frac * next.value;
    next.pm = sqrt(next.pm * next.pm + by_knot * by_knot);
    change_figure(out, how.schema, offsetof(bf_fishing_line, break_n), line->break_n,
                  offsetof(bf_fishing_line, strength_frac), line->strength_frac, next);
    return BF_OK;
}

/* Weighed shot ------------------------------------------------------------------------------------------- */

#define CHART_LEAST 0.5 /* of the chart's mass: less is another size, or a slip */
#define CHART_MOST 2
#define POORLY_FRAC 0.05

static bf_status run_heap(const void *record, void *work, bf_measured *out) {
    const bf_tackle_measure *measure = record;
    const bf_heap_test *heap = &measure->heap;
    bf_shot by_size = measure->shot;
    (void)work;
    *out = (bf_measured){0};
    by_size.mass_kg = BF_NAN;
    double chart_kg = bf_shot_mass_kg(&by_size, 0), read_kg = heap->together_kg / heap->count;
    if (read_kg < CHART_LEAST * chart_kg || read_kg > CHART_MOST * chart_kg) return BF_E_DATA;

    double chart_pm_kg = (bf_shot_mass_kg(&by_size, 1) - bf_shot_mass_kg(&by_size, -1)) / 2;
    double chart_sd_kg = chart_pm_kg / BF_PM_PER_SD, scale_sd_kg = heap->scale_scatter_kg / heap->count;
    double chart_weight = 1 / (chart_sd_kg * chart_sd_kg), scale_weight = 1 / (scale_sd_kg * scale_sd_kg);
    double both = chart_weight + scale_weight;
    bf_quantity now = {(chart_weight * chart_kg + scale_weight * read_kg) / both, BF_PM_PER_SD / sqrt(both),
                       0};
    bfi_change(out, &bf_heap_schema, MEASURED, offsetof(bf_shot, mass_kg), was_real(measure->shot.mass_kg),
               now);
    if (now.pm > POORLY_FRAC * now.value)
        out->note[out->n_notes++] = (bf_note){BF_NOTE_WEIGH_MORE, {now.pm / now.value}};
    return BF_OK;
}

/* Drops at a ring ---------------------------------------------------------------------------------------- */

#define LEAST_DROPS 3
#define MIDDLE_P 0.8          /* of the next drops are held by the give or take */
#define STEADY_MOST_FRAC 0.75 /* of the scatter's square may be taken as unsteadiness */

static double mean_of(const bf_list *list) {
    double sum = 0;
    for (int i = 0; i < list->n; i++) sum += list->at[i];
    return sum / list->n;
}

/* Sum of squares about a value. */
static double squares_of(const bf_list *list, double about) {
    double sum = 0;
    for (int i = 0; i < list->n; i++) sum += (list->at[i] - about) * (list->at[i] - about);
    return sum;
}

/* The t that Student's distribution of so many degrees of freedom holds MIDDLE_P within -t to t: t^2 / (df + t^2) has the
 * beta distribution of shapes 1/2 and df/2. */
static double student_reach(double df) {
    double x = bf_beta_quantile(0.5, df / 2, MIDDLE_P);
    return sqrt(df * x / (1 - x));
}

/* Mean and give or take of the next drop along one axis, less what unsteadiness adds. */
static bf_quantity next_drop(const bf_list *off, double steady_variance) {
    double mean = mean_of(off), variance = squares_of(off, mean) / (off->n - 1);
    double most = STEADY_MOST_FRAC * variance, taken = steady_variance < most ? steady_variance : most;
    double next_variance = variance - taken + variance / off->n; /* and how well the mean is known */
    return (bf_quantity){mean, student_reach(off->n - 1) * sqrt(next_variance), 0};
}

static bf_quantity angle_of(bf_quantity right_m, double distance_m) {
    return (bf_quantity){bf_atan2(right_m.value, distance_m) / BF_RAD_PER_DEG,
                         bf_atan2(right_m.pm, distance_m) / BF_RAD_PER_DEG, 0};
}

static double variance_of(bf_quantity q) {
    double sd = q.is_unknown ? 0 : q.pm / BF_PM_PER_SD;
    return sd * sd;
}

static bf_note scatter_note(const bf_list *off) {
    double df = off->n - 1, squares = squares_of(off, mean_of(off)), tail = (1 - MIDDLE_P) / 2;
    double least_m = sqrt(squares / (2 * bf_gamma_quantile(df / 2, 1 - tail)));
    double most_m = sqrt(squares / (2 * bf_gamma_quantile(df / 2, tail)));
    return (bf_note){BF_NOTE_AIM_SCATTER, {off->n, least_m, most_m}};
}

static bf_status run_ring(const void *record, void *work, bf_measured *out) {
    const bf_tackle_measure *measure = record;
    const bf_ring_test *ring = &measure->ring;
    const bf_aim *was = &measure->aim;
    (void)work;
    *out = (bf_measured){0};
    if (ring->out_m.n != ring->right_m.n || ring->out_m.n < LEAST_DROPS) return BF_E_COUNT;

    /* Unsteadiness as it was seen, both axes together; else as it was believed. */
    double df = 2.0 * ring->held_m.n, seen_variance = df > 0 ? squares_of(&ring->held_m, 0) / df : 0;
    double steady_variance = df > 0 ? seen_variance : variance_of(was->steady_m);
    bf_quantity out_m = next_drop(&ring->out_m, steady_variance),
                right_m = next_drop(&ring->right_m, steady_variance);
    bfi_change(out, &bf_ring_schema, MEASURED, offsetof(bf_aim, ship_m), was->ship_m, out_m);
    bfi_change(out, &bf_ring_schema, MEASURED, offsetof(bf_aim, bearing_deg), was->bearing_deg,
               angle_of(right_m, ring->distance_m));
    if (df > 0)
        bfi_change(out, &bf_ring_schema, MEASURED, offsetof(bf_aim, steady_m), was->steady_m,
                   (bf_quantity){0, student_reach(df) * sqrt(seen_variance), 0});
    out->note[out->n_notes++] = scatter_note(&ring->out_m);
    return BF_OK;
}

const bf_measurement bf_tackle_measurements[] = {
    {"float", &bf_tube_schema, start, run_tube, {"took_kg", NULL}, 1},
    {"pull", &bf_pull_schema, start, run_pull, {"load_kg", "long_m"}, 1},
    {"break", &bf_break_schema, start, run_break, {"broke_kg", NULL}, 1},
    {"weigh", &bf_heap_schema, start, run_heap, {NULL, NULL}, 0},
    {"aim", &bf_ring_schema, start, run_ring, {"out_m", "right_m"}, LEAST_DROPS},
};
const int bf_n_tackle_measurements = sizeof bf_tackle_measurements / sizeof bf_tackle_measurements[0];
