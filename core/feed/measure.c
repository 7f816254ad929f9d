#include "baitfall/measure.h"

#include <math.h>

#include "baitfall/elementary.h"
#include "baitfall/pot.h"
#include "baitfall/soak.h"
#include "baitfall/throw.h"
#include "core/feed/terminal.h"
#include "core/feed/worlds.h"

/* Tables ------------------------------------------------------------------------------------------------- */

static const bf_field drop_fields[] = {
    {"time_s", BF_LIST, offsetof(bf_drop_test, time_s), BF_TIME, 0.1, 600, BF_NAN, 0, 0.1, 600, NULL,
     "seconds from letting go to the bottom, one piece each; five to twenty of them", 1},
    {"height_m", BF_QUANTITY, offsetof(bf_drop_test, height_m), BF_LENGTH, 0.05, 5, BF_NAN, 0.003, 0.15, 0.5,
     NULL, "depth of water the piece falls through; it must be given", 1},
    BF_Q(bf_drop_test, vessel_m, BF_LENGTH, 0.02, 5, BF_NAN, 0.005, 0.06, 0.3,
         "inner diameter of the jar or bucket; start: don't know, 6 to 30 cm"),
    BF_Q(bf_drop_test, temp_c, BF_TEMPERATURE, 0, 40, 18, 2, 8, 25,
         "of the water; start: left standing in a room"),
    BF_Q(bf_drop_test, late_s, BF_TIME, -0.5, 0.5, 0, 0.05, -0.1, 0.1,
         "how much later the watch is stopped than started, always; start: evens out, give or take 0.05 s "
         "(judgement)"),
    BF_Q(bf_drop_test, wall_law, BF_PURE, 0, 1, BF_NAN, 0, 0, 1,
         "slowing by the wall: 0 Di Felice 1996, 1 Munroe 1888 (both from memory); start: anything between"),
    BF_R(bf_drop_test, timing_scatter_s, BF_TIME, 0.005, 2, 0.1,
         "of one reading, one standard deviation; start: a thumb on a stopwatch (judgement)"),
};

static const bf_field count_fields[] = {
    {"count", BF_LIST, offsetof(bf_count_test, count), BF_PURE, 1, 100000, BF_NAN, 0, 1, 100000, NULL,
     "pieces in the pot filled level, one number a filling", 1},
    BF_R(bf_count_test, water_kg, BF_MASS, 5e-4, 1.9, BF_NAN,
         "mass of the water that fills the pot level; not given: not weighed"),
    BF_R(bf_count_test, count_scatter_frac, BF_PURE, 0.002, 0.5, 0.03,
         "from filling to filling, one standard deviation; start: judgement"),
};

static const bf_field weigh_fields[] = {
    {"dry_kg", BF_REAL, offsetof(bf_weigh_test, dry_kg), BF_MASS, 1e-4, 10, BF_NAN, 0, 1e-4, 10, NULL,
     "mass of the dry sample; it must be given", 1},
    {"at_s", BF_LIST, offsetof(bf_weigh_test, at_s), BF_TIME, 1, 172800, BF_NAN, 0, 1, 172800, NULL,
     "time under water before each weighing", 1},
    {"wet_kg", BF_LIST, offsetof(bf_weigh_test, wet_kg), BF_MASS, 1e-4, 40, BF_NAN, 0, 1e-4, 40, NULL,
     "mass of the blotted sample at each of those times", 1},
    BF_Q(bf_weigh_test, temp_c, BF_TEMPERATURE, 0, 60, 18, 2, 8, 25,
         "of the soaking water; start: left standing in a room"),
    BF_Q(bf_weigh_test, warm_ratio, BF_PURE, 1, 3, 1.6, 0.17, 1.3, 2,
         "how much faster water goes in at 20 C than at 10 C; start: 1.43 to 1.77, grains (published)"),
    BF_Q(bf_weigh_test, cling_frac, BF_PURE, 0, 0.6, 0.05, 0.04, 0, 0.35,
         "water still clinging outside over the dry mass; start: blotted well; a film of 0.25 mm on 4 mm is "
         "0.35 (computed)"),
    BF_R(bf_weigh_test, scale_scatter_kg, BF_MASS, 1e-6, 0.1, 0.0005,
         "of one weighing, one standard deviation; start: kitchen scales of 1 g"),
};

static const bf_field throws_fields[] = {
    {"distance_m", BF_LIST, offsetof(bf_throw_test, distance_m), BF_LENGTH, 0.2, 100, BF_NAN, 0, 0.2, 100,
     NULL, "how far out single pieces met the water, thrown always the same way", 1},
    BF_R(bf_throw_test, tape_scatter_m, BF_LENGTH, 0.01, 5, 0.2,
         "of one distance, one standard deviation; start: judged against a pole of known length"),
};

const bf_table bf_drop_table = BF_TABLE("drop", bf_drop_test, drop_fields);
const bf_table bf_count_table = BF_TABLE("count", bf_count_test, count_fields);
const bf_table bf_weigh_table = BF_TABLE("weigh", bf_weigh_test, weigh_fields);
const bf_table bf_throws_table = BF_TABLE("throws", bf_throw_test, throws_fields);

#define BAIT BF_SECTION("bait", bf_bait_table, bf_measure, bait)
#define POT BF_SECTION("pot", bf_pot_table, bf_measure, pot)
#define LAKE BF_SECTION("water", bf_lake_table, bf_measure, lake)
#define SLING BF_SECTION("sling", bf_sling_table, bf_measure, sling)
#define READINGS(table, member) BF_SECTION("readings", table, bf_measure, member)

static const bf_section drop_sections[] = {BAIT, READINGS(bf_drop_table, drop)};
static const bf_section count_sections[] = {BAIT, POT, READINGS(bf_count_table, count)};
static const bf_section weigh_sections[] = {BAIT, READINGS(bf_weigh_table, weigh)};
static const bf_section throws_sections[] = {BAIT, SLING, LAKE, READINGS(bf_throws_table, throws)};

const bf_schema bf_drop_schema = BF_SCHEMA("drop", bf_measure, drop_sections);
const bf_schema bf_count_schema = BF_SCHEMA("count", bf_measure, count_sections);
const bf_schema bf_weigh_schema = BF_SCHEMA("soak", bf_measure, weigh_sections);
const bf_schema bf_throws_schema = BF_SCHEMA("throw", bf_measure, throws_sections);

static const bf_section all_sections[] = {POT,
                                          LAKE,
                                          SLING,
                                          READINGS(bf_drop_table, drop),
                                          READINGS(bf_count_table, count),
                                          READINGS(bf_weigh_table, weigh),
                                          READINGS(bf_throws_table, throws)};
static const bf_schema all_schema = BF_SCHEMA("measure", bf_measure, all_sections);

void bf_measure_start(bf_measure *measure) {
    bf_schema_start(&all_schema, measure);
    measure->bait = bf_catalogue[0].bait;
}

static void start(void *record) {
    bf_measure_start(record);
}

/* Drop test ---------------------------------------------------------------------------------------------- */

#define START_LAG 0.75 /* of the start time: 0.69 when drag goes with speed squared, 1 when with speed */

double bf_wall_factor(double piece_over_tube, double reynolds, double law) {
    double x = piece_over_tube;
    double a = (3.3 + 0.085 * reynolds) / (1 + 0.1 * reynolds);
    double di_felice = bf_pow((1 - x) / (1 - 0.33 * x), a), munroe = 1 - x * sqrt(x);
    return di_felice + law * (munroe - di_felice);
}

/* The power of the excess density that the speed goes with, here. */
static double speed_power(const bf_piece *piece, const bfi_terminal *terminal) {
    const double step = 1.1;
    bf_piece denser = *piece;
    bfi_terminal faster;
    denser.density_kg_m3 = piece->water_kg_m3 + step * (piece->density_kg_m3 - piece->water_kg_m3);
    if (bfi_terminal_of(&denser, &faster) != BF_OK) return BF_NAN;
    return bf_log(faster.speed_m_s / terminal->speed_m_s) / bf_log(step);
}

enum { DROP_ACTING, DROP_REAL, DROP_SCATTER };

static bfi_explained explain_drop(const void *record, double scatter_factor, double values[BFI_MOST_VALUES]) {
    const bf_measure *world = record;
    const bf_drop_test *drop = &world->drop;
    bf_lake jar = {.temp_c = drop->temp_c};
    bf_bait published = world->bait;
    published.drag_law_error = bf_exactly(0);
    bf_piece piece = bf_piece_of(&world->bait, &jar), acting = bf_piece_of(&published, &jar);
    bfi_terminal terminal;
    if (bfi_terminal_of(&piece, &terminal) != BF_OK || piece.equivalent_m >= drop->vessel_m.value)
        return bfi_impossible();

    double excess = piece.density_kg_m3 - piece.water_kg_m3, power = speed_power(&piece, &terminal);
    double scatter = scatter_factor * (world->bait.density_scatter_kg_m3 + 1);
    values[DROP_ACTING] = piece.water_kg_m3 + excess * acting.drag.c / piece.drag.c;
    values[DROP_REAL] = piece.density_kg_m3;
    values[DROP_SCATTER] = scatter * acting.drag.c / piece.drag.c;

    /* Each time is turned into the excess density of that piece; those scatter about the bait's. */
    double wall =
        bf_wall_factor(piece.equivalent_m / drop->vessel_m.value, terminal.reynolds, drop->wall_law.value);
    double not_falling_s = drop->late_s.value + START_LAG * terminal.start_s;
    double expected_s = drop->height_m.value / (wall * terminal.speed_m_s);
    /* Re goes as (excess d^3)^power, so speed as excess^power d^(3 power - 1): size counts 3 - 1 / power times. */
    double by_size = (3 - 1 / power) * world->bait.size_scatter_frac * excess;
    double by_timing = drop->timing_scatter_s * excess / (power * expected_s);
    double sd = sqrt(scatter * scatter + by_size * by_size + by_timing * by_timing);
    bfi_explained how_well = {0};
    for (int i = 0; i < drop->time_s.n; i++) {
        double falling_s = drop->time_s.at[i] - not_falling_s;
        if (falling_s <= 0) return bfi_impossible();
        double of_piece = excess * bf_pow(expected_s / falling_s, 1 / power);
        bfi_add_reading(&how_well, drop->time_s.n, of_piece - excess, sd,
                        bf_log(of_piece / (power * falling_s)));
    }
    return how_well;
}

/* The real density behind one that acts so with the published law: the law's own give or take comes on top. */
static bf_quantity real_density(const bf_measure *measure, bf_quantity acting) {
    bf_lake jar = {.temp_c = measure->drop.temp_c};
    bf_bait published = measure->bait, draggier = measure->bait;
    published.drag_law_error = bf_exactly(0);
    draggier.drag_law_error = bf_exactly(1);
    bf_piece piece = bf_piece_of(&published, &jar);
    double excess = acting.value - piece.water_kg_m3;
    double law_pm = excess * (bf_piece_of(&draggier, &jar).drag.c / piece.drag.c - 1);
    return (bf_quantity){acting.value, sqrt(acting.pm * acting.pm + law_pm * law_pm), 0};
}

static bf_status run_drop(const void *record, void *work, bf_measured *out) {
    const bf_measure *measure = record;
    static const bfi_method how = {
        &bf_drop_schema, {offsetof(bf_measure, bait.density_kg_m3)}, 1, 3, explain_drop};
    bfi_worlds w = bfi_worlds_in(work);
    *out = (bf_measured){0};
    bf_status status = bfi_weigh_worlds(&how, measure, measure->drop.time_s.n, &w);
    if (status) return status;

    const bf_bait *was = &measure->bait;
    bf_quantity acting = bfi_range_of(&w, DROP_ACTING);
    int is_first = was->drag_law_error.pm > 0 || was->drag_law_error.is_unknown;
    bf_quantity real = is_first ? bfi_range_of(&w, DROP_REAL) : real_density(measure, acting);
    bfi_change(out, how.schema, 0, offsetof(bf_bait, density_kg_m3), was->density_kg_m3, acting);
    if (is_first)
        bfi_change(out, how.schema, 0, offsetof(bf_bait, drag_law_error), was->drag_law_error, bf_exactly(0));
    bfi_change(out, how.schema, 0, offsetof(bf_bait, density_scatter_kg_m3),
               bf_exactly(was->density_scatter_kg_m3), bfi_range_of(&w, DROP_SCATTER));
    out->note[out->n_notes++] =
        (bf_note){BF_NOTE_ACTING_DENSITY, {real.value - real.pm, real.value + real.pm}};
    return BF_OK;
}

/* Counted pot -------------------------------------------------------------------------------------------- */

#define WATER_FRAC 0.02 /* give or take of a pot filled level with water: its bulge or dip at the rim */

enum { COUNT_VOLUME, COUNT_SETTLED, COUNT_DIAMETER };

static bfi_explained explain_count(const void *record, double scatter_factor,
                                   double values[BFI_MOST_VALUES]) {
    const bf_measure *world = record;
    static const bf_counted not_counted;
    const bf_list *count = &world->count.count;
    bf_pot level = world->pot;
    bf_pot_out holds;
    (void)scatter_factor;
    level.fill_frac = bf_exactly(1);
    if (bf_pot_holds(&world->bait, &level, &not_counted, &holds) != BF_OK || !(holds.pieces > 0))
        return bfi_impossible();
    values[COUNT_VOLUME] = holds.volume_m3;
    values[COUNT_SETTLED] = level.settled_frac.value;
    values[COUNT_DIAMETER] = world->bait.diameter_m.value;

    bfi_explained how_well = {0};
    for (int i = 0; i < count->n; i++) {
        double sd = sqrt(world->count.count_scatter_frac * world->count.count_scatter_frac +
                         1 / (count->at[i] * count->at[i])); /* and give or take one piece at the rim */
        bfi_add_reading(&how_well, count->n, bf_log(count->at[i] / holds.pieces), sd, 0);
    }
    return how_well;
}

static bf_status run_count(const void *record, void *work, bf_measured *out) {
    const bf_measure *measure = record;
    static const bfi_method how = {
        &bf_count_schema, {offsetof(bf_measure, pot.volume_m3)}, 1, 3, explain_count};
    static const bfi_method weighed = {&bf_count_schema, {0}, 0, 3, explain_count};
    bf_measure asked = *measure;
    int has_water = measure->count.water_kg == measure->count.water_kg;
    if (has_water) {
        double volume_m3 = measure->count.water_kg / bf_water_density_kg_m3(20);
        asked.pot.volume_m3 = (bf_quantity){volume_m3, WATER_FRAC * volume_m3, 0};
    }
    bfi_worlds w = bfi_worlds_in(work);
    *out = (bf_measured){0};
    bf_status status = bfi_weigh_worlds(has_water ? &weighed : &how, &asked, measure->count.count.n, &w);
    if (status) return status;

    bfi_change(out, how.schema, 1, offsetof(bf_pot, volume_m3), measure->pot.volume_m3,
               bfi_range_of(&w, COUNT_VOLUME));
    bfi_change(out, how.schema, 1, offsetof(bf_pot, settled_frac), measure->pot.settled_frac,
               bfi_range_of(&w, COUNT_SETTLED));
    bfi_change(out, how.schema, 0, offsetof(bf_bait, diameter_m), measure->bait.diameter_m,
               bfi_range_of(&w, COUNT_DIAMETER));
    if (!has_water) out->note[out->n_notes++] = (bf_note){BF_NOTE_WEIGH_WATER, {0}};
    return BF_OK;
}

/* Weighed soak ------------------------------------------------------------------------------------------- */

#define BLOTTING_FRAC 0.02 /* of the dry mass: how unevenly one blots from weighing to weighing (judgement) */

enum { WEIGH_UPTAKE, WEIGH_HALF };

static bfi_explained explain_weighing(const void *record, double scatter_factor,
                                      double values[BFI_MOST_VALUES]) {
    const bf_measure *world = record;
    const bf_weigh_test *weigh = &world->weigh;
    (void)scatter_factor;
    values[WEIGH_UPTAKE] = world->bait.uptake_frac.value;
    values[WEIGH_HALF] = world->bait.half_uptake_s.value;
    double half_s =
        world->bait.half_uptake_s.value / bf_soak_speed_up(weigh->temp_c.value, weigh->warm_ratio.value);
    double scale_frac = weigh->scale_scatter_kg / weigh->dry_kg;
    double sd = sqrt(2 * scale_frac * scale_frac + BLOTTING_FRAC * BLOTTING_FRAC);
    bfi_explained how_well = {0};
    for (int i = 0; i < weigh->at_s.n; i++) {
        double gained = world->bait.uptake_frac.value * bf_peleg_gain(weigh->at_s.at[i], half_s, 1);
        double off = weigh->wet_kg.at[i] / weigh->dry_kg - 1 - gained - weigh->cling_frac.value;
        bfi_add_reading(&how_well, weigh->at_s.n, off, sd, 0);
    }
    return how_well;
}

static bf_status run_weighing(const void *record, void *work, bf_measured *out) {
    const bf_measure *measure = record;
    static const bfi_method how = {
        &bf_weigh_schema,
        {offsetof(bf_measure, bait.uptake_frac), offsetof(bf_measure, bait.half_uptake_s)},
        2,
        2,
        explain_weighing};
    bfi_worlds w = bfi_worlds_in(work);
    *out = (bf_measured){0};
    if (measure->weigh.at_s.n != measure->weigh.wet_kg.n) return BF_E_COUNT;
    bf_status status = bfi_weigh_worlds(&how, measure, measure->weigh.at_s.n, &w);
    if (status) return status;

    const bf_bait *was = &measure->bait;
    bfi_change(out, how.schema, 0, offsetof(bf_bait, uptake_frac), was->uptake_frac,
               bfi_range_of(&w, WEIGH_UPTAKE));
    bfi_change(out, how.schema, 0, offsetof(bf_bait, half_uptake_s), was->half_uptake_s,
               bfi_range_of(&w, WEIGH_HALF));
    return BF_OK;
}

/* Throws ------------------------------------------------------------------------------------------------- */

#define FLIGHT_TOLERANCE_M 1e-3
#define MOST_SCATTER 4 /* times the believed one: more is a slip, not a catapult (judgement) */

enum { THROW_SPEED, THROW_SCATTER };

/* How far out a piece goes; below 0 when it does not. */
static double range_m(const bf_measure *world, const bf_air *air, double faster, double steeper_deg) {
    bf_piece piece = bf_piece_of(&world->bait, &world->lake);
    bf_release release = {.height_m = world->sling.height_m.value,
                          .speed_m_s = world->sling.speed_m_s.value * faster,
                          .angle_deg = world->sling.angle_deg.value + steeper_deg};
    bf_flight flight;
    return bf_throw_flight(&piece, &release, air, FLIGHT_TOLERANCE_M, &flight) == BF_OK ? flight.x_m : -1;
}

static bfi_explained explain_throws(const void *record, double scatter_factor,
                                    double values[BFI_MOST_VALUES]) {
    const bf_measure *world = record;
    const double step = 1.05, step_deg = 2;
    const bf_throw_test *throws = &world->throws;
    bf_air air = bf_air_of(&world->lake);
    double reach_m = range_m(world, &air, 1, 0), faster_m = range_m(world, &air, step, 0);
    double steeper_m = range_m(world, &air, 1, step_deg);
    if (!(reach_m > 0 && faster_m > reach_m && steeper_m > 0)) return bfi_impossible();

    double scatter = scatter_factor * (world->sling.speed_scatter_frac + 0.001);
    values[THROW_SPEED] = world->sling.speed_m_s.value;
    values[THROW_SCATTER] = scatter;

    /* Each distance is turned into the speed of that piece; those scatter about the catapult's. */
    double power = bf_log(faster_m / reach_m) / bf_log(step);
    double by_angle = bf_log(steeper_m / reach_m) / power / step_deg * world->sling.angle_scatter_deg;
    bfi_explained how_well = {0};
    for (int i = 0; i < throws->distance_m.n; i++) {
        double by_tape = throws->tape_scatter_m / (power * throws->distance_m.at[i]);
        double sd = sqrt(scatter * scatter + by_angle * by_angle + by_tape * by_tape);
        double off = bf_log(throws->distance_m.at[i] / reach_m) / power;
        bfi_add_reading(&how_well, throws->distance_m.n, off, sd, -bf_log(power));
    }
    return how_well;
}

static bf_status run_throws(const void *record, void *work, bf_measured *out) {
    const bf_measure *measure = record;
    static const bfi_method how = {
        &bf_throws_schema, {offsetof(bf_measure, sling.speed_m_s)}, 1, 2, explain_throws};
    bfi_worlds w = bfi_worlds_in(work);
    *out = (bf_measured){0};
    bf_status status = bfi_weigh_worlds(&how, measure, measure->throws.distance_m.n, &w);
    if (status) return status;

    const bf_sling *was = &measure->sling;
    bf_quantity scatter = bfi_range_of(&w, THROW_SCATTER);
    if (scatter.value > MOST_SCATTER * (was->speed_scatter_frac + 0.001)) return BF_E_DATA;
    bfi_change(out, how.schema, 1, offsetof(bf_sling, speed_m_s), was->speed_m_s,
               bfi_range_of(&w, THROW_SPEED));
    bfi_change(out, how.schema, 1, offsetof(bf_sling, speed_scatter_frac),
               bf_exactly(was->speed_scatter_frac), scatter);
    if (measure->lake.wind_m_s.value > 0 && measure->lake.wind_side_deg.is_unknown)
        out->note[out->n_notes++] = (bf_note){BF_NOTE_WIND_SIDE, {0}};
    return BF_OK;
}

size_t bf_measure_work_bytes(void) {
    return bfi_worlds_bytes(sizeof(bf_measure));
}

const bf_measurement bf_measurements[] = {
    {"drop", &bf_drop_schema, start, run_drop, {"time_s", NULL}, 1},
    {"count", &bf_count_schema, start, run_count, {"count", NULL}, 1},
    {"soak", &bf_weigh_schema, start, run_weighing, {"wet_kg", "at_s"}, 1},
    {"throw", &bf_throws_schema, start, run_throws, {"distance_m", NULL}, 1},
};
const int bf_n_measurements = (int)(sizeof bf_measurements / sizeof bf_measurements[0]);
