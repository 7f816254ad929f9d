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

static const char *const which_words[] = {"hooklength", "line", NULL};

static const bf_field break_fields[] = {
    READINGS(bf_break_test, broke_kg, BF_MASS, 0.005, 60,
             "loads at which pieces broke, wet and knotted as fished"),
    BF_W(bf_break_test, of, which_words, 2, BF_THE_HOOKLENGTH,
         "hooklength or line (the main line); start: hooklength"),
    BF_R(bf_break_test, knot_scatter_frac, BF_PURE, 0.005, 0.6, 0.08,
         "from knot to knot, one standard deviation; start: judgement"),
    BF_Q(bf_break_test, balance_frac, BF_PURE, 0.7, 1.4, 1, 0.05, 0.9, 1.1,
         "real pull over what the balance says; start: give or take 5 % (judgement)"),
};

static const bf_field heap_fields[] = {
    {"size", BF_CHOICE, offsetof(bf_heap_test, size), BF_PURE, 0, BF_N_SHOT_SIZES - 1, BF_NAN, 0, 0, 0,
     bf_shot_size_words, "trade size of the shot; it must be given", 1},
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
#define READ(table, member) THING("readings", table, member)
#define RIG THING("rig", bf_rig_table, rig), BF_RIG_PARTS("rig.", bf_tackle_measure, rig.)

/* What is changed, by the number of its section. */
enum { THE_THING = 0, RIG_LINE = 1, RIG_HOOKLENGTH = 2, RIG_FLOAT = 4 };

static const bf_section tube_sections[] = {RIG, READ(bf_tube_table, tube)};
static const bf_section pull_sections[] = {THING("elastic", bf_elastic_table, elastic),
                                           READ(bf_pull_table, pull)};
static const bf_section break_sections[] = {RIG, READ(bf_break_table, broke)};
static const bf_section heap_sections[] = {RIG, READ(bf_heap_table, heap)};
static const bf_section ring_sections[] = {THING("aim", bf_aim_table, aim), READ(bf_ring_table, ring)};
static const bf_section all_sections[] = {RIG,
                                          THING("elastic", bf_elastic_table, elastic),
                                          THING("aim", bf_aim_table, aim),
                                          READ(bf_tube_table, tube),
                                          READ(bf_pull_table, pull),
                                          READ(bf_break_table, broke),
                                          READ(bf_heap_table, heap),
                                          READ(bf_ring_table, ring)};

const bf_schema bf_tube_schema = BF_SCHEMA("float", bf_tackle_measure, tube_sections);
const bf_schema bf_pull_schema = BF_SCHEMA("pull", bf_tackle_measure, pull_sections);
const bf_schema bf_break_schema = BF_SCHEMA("break", bf_tackle_measure, break_sections);
const bf_schema bf_heap_schema = BF_SCHEMA("weigh", bf_tackle_measure, heap_sections);
const bf_schema bf_ring_schema = BF_SCHEMA("aim", bf_tackle_measure, ring_sections);
static const bf_schema all_schema = BF_SCHEMA("measure", bf_tackle_measure, all_sections);

/* What the readings of a float or a line say something of: the worlds are drawn of this alone. */
static const bf_section tube_told_sections[] = {THING("rig.float", bf_float_table, rig.flt),
                                                READ(bf_tube_table, tube)};
static const bf_section line_told_sections[] = {THING("rig.line", bf_line_table, rig.line),
                                                READ(bf_break_table, broke)};
static const bf_section hooklength_told_sections[] = {
    THING("rig.hooklength", bf_hooklength_table, rig.hooklength), READ(bf_break_table, broke)};
static const bf_schema tube_told = BF_SCHEMA("float", bf_tackle_measure, tube_told_sections);
static const bf_schema line_told = BF_SCHEMA("line", bf_tackle_measure, line_told_sections);
static const bf_schema hooklength_told = BF_SCHEMA("hooklength", bf_tackle_measure, hooklength_told_sections);

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
static bf_quantity against(bf_quantity now) {
    return (bf_quantity){1, now.pm / now.value, 0};
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
    double capacity_kg = float_figure_kg(&world->rig.flt) * world->rig.flt.capacity_frac.value;
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
        &tube_told, {offsetof(bf_tackle_measure, rig.flt.capacity_frac)}, 1, N_VALUES, explain_tube};
    const bf_tackle_measure *measure = record;
    const bf_float *flt = &measure->rig.flt;
    bfi_worlds w = bfi_worlds_in(work);
    *out = (bf_measured){0};
    bf_status status = weigh_worlds(&how, measure, measure->tube.took_kg.n, &w);
    if (status) return status;

    bf_quantity now = bfi_range_of(&w, LOOKED_FOR);
    bfi_change(out, &bf_tube_schema, RIG_FLOAT, offsetof(bf_float, capacity_kg), was_real(flt->capacity_kg),
               now);
    bfi_change(out, &bf_tube_schema, RIG_FLOAT, offsetof(bf_float, capacity_frac), flt->capacity_frac,
               against(now));
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

/* On the way back rubber pulls less than the law, which was measured on the way out (Treloar 1944). */
static int gets_heavier(const bf_list *load_kg) {
    for (int i = 1; i < load_kg->n; i++)
        if (!(load_kg->at[i] > load_kg->at[i - 1])) return 0;
    return 1;
}

static bf_status run_pull(const void *record, void *work, bf_measured *out) {
    static const bfi_method how = {
        &bf_pull_schema, {offsetof(bf_tackle_measure, elastic.force_frac)}, 1, N_VALUES, explain_pull};
    const bf_tackle_measure *measure = record;
    bfi_worlds w = bfi_worlds_in(work);
    *out = (bf_measured){0};
    if (measure->pull.load_kg.n != measure->pull.long_m.n) return BF_E_COUNT;
    if (!gets_heavier(&measure->pull.load_kg)) return BF_E_RANGE;
    bf_status status = weigh_worlds(&how, measure, measure->pull.load_kg.n, &w);
    if (status) return status;

    bfi_change(out, how.schema, THE_THING, offsetof(bf_elastic, force_frac), measure->elastic.force_frac,
               bfi_range_of(&w, LOOKED_FOR));
    return BF_OK;
}

/* Broken line -------------------------------------------------------------------------------------------- */

static const bf_fishing_line *line_of(const bf_tackle_measure *measure) {
    return measure->broke.of == BF_THE_HOOKLENGTH ? &measure->rig.hooklength : &measure->rig.line;
}

static bfi_explained explain_break(const void *record, double scatter_factor,
                                   double values[BFI_MOST_VALUES]) {
    const bf_tackle_measure *world = record;
    const bf_break_test *broke = &world->broke;
    double middle_n = bf_line_break_n(line_of(world)), sd = scatter_factor * broke->knot_scatter_frac;
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
    static const bfi_method hows[2] = {
        {&hooklength_told,
         {offsetof(bf_tackle_measure, rig.hooklength.strength_frac)},
         1,
         N_VALUES,
         explain_break},
        {&line_told, {offsetof(bf_tackle_measure, rig.line.strength_frac)}, 1, N_VALUES, explain_break}};
    const bf_tackle_measure *measure = record;
    const bf_fishing_line *line = line_of(measure);
    int section = measure->broke.of == BF_THE_HOOKLENGTH ? RIG_HOOKLENGTH : RIG_LINE;
    bfi_worlds w = bfi_worlds_in(work);
    *out = (bf_measured){0};
    bf_status status = weigh_worlds(&hows[measure->broke.of], measure, measure->broke.broke_kg.n, &w);
    if (status) return status;

    /* The next knot: what is not known of the middle, and on top how knots differ. */
    bf_quantity next = bfi_range_of(&w, LOOKED_FOR);
    double scatter_frac = measure->broke.knot_scatter_frac * bfi_range_of(&w, TIMES_SCATTER).value;
    double by_knot = BF_PM_PER_SD * scatter_frac * next.value;
    next.pm = sqrt(next.pm * next.pm + by_knot * by_knot);
    bfi_change(out, &bf_break_schema, section, offsetof(bf_fishing_line, break_n), was_real(line->break_n),
               next);
    bfi_change(out, &bf_break_schema, section, offsetof(bf_fishing_line, strength_frac), line->strength_frac,
               against(next));
    return BF_OK;
}

/* Weighed shot ------------------------------------------------------------------------------------------- */

#define MOST_ERROR_Z 3 /* of the chart's range: such shot are another size, or of another series */
#define OTHER_SIZES_Z 0.3
#define POORLY_FRAC 0.05

/* Mass of one of this size somewhere in the charts' range. */
static double chart_kg(int size, double error_z) {
    return bf_shot_mass_kg(&(bf_shot){.size = size, .mass_kg = BF_NAN, .count = 1}, error_z);
}

/* Two beliefs of one number, each weighted by how well it is known. */
static bf_quantity both_of(bf_quantity a, bf_quantity b) {
    double weight_a = 1 / (a.pm * a.pm), weight_b = 1 / (b.pm * b.pm), sum = weight_a + weight_b;
    return (bf_quantity){(weight_a * a.value + weight_b * b.value) / sum, 1 / sqrt(sum), 0};
}

static bf_status run_heap(const void *record, void *work, bf_measured *out) {
    const bf_tackle_measure *measure = record;
    const bf_heap_test *heap = &measure->heap;
    bf_quantity was = measure->rig.shot_error;
    (void)work;
    *out = (bf_measured){0};
    double middle_kg = chart_kg(heap->size, 0), read_kg = heap->together_kg / heap->count;
    double side_kg = fabs(chart_kg(heap->size, read_kg < middle_kg ? -1 : 1) - middle_kg);
    double read_pm_kg = BF_PM_PER_SD * heap->scale_scatter_kg / heap->count;
    bf_quantity read = {(read_kg - middle_kg) / side_kg, read_pm_kg / side_kg, 0};
    if (fabs(read.value) > MOST_ERROR_Z) return BF_E_DATA;

    bf_quantity believed = was.is_unknown ? (bf_quantity){0, 1, 0} : was;
    bf_quantity of_this = believed.pm > 0 ? both_of(believed, read) : read;
    bf_quantity of_all = {of_this.value, sqrt(of_this.pm * of_this.pm + OTHER_SIZES_Z * OTHER_SIZES_Z), 0};
    bfi_change(out, &bf_heap_schema, THE_THING, offsetof(bf_rig, shot_error), was, of_all);
    out->note[out->n_notes++] =
        (bf_note){BF_NOTE_SHOT_MASS, {heap->size, chart_kg(heap->size, of_this.value), of_this.pm * side_kg}};
    if (of_this.pm * side_kg > POORLY_FRAC * middle_kg)
        out->note[out->n_notes++] = (bf_note){BF_NOTE_WEIGH_MORE, {of_this.pm * side_kg / middle_kg}};
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
    bfi_change(out, &bf_ring_schema, THE_THING, offsetof(bf_aim, ship_m), was->ship_m, out_m);
    bfi_change(out, &bf_ring_schema, THE_THING, offsetof(bf_aim, bearing_deg), was->bearing_deg,
               angle_of(right_m, ring->distance_m));
    if (df > 0)
        bfi_change(out, &bf_ring_schema, THE_THING, offsetof(bf_aim, steady_m), was->steady_m,
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
