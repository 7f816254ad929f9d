/* plan.c -- tables of a plan, its lines as scenes, and the sums over its lines. */
#include "baitfall/plan.h"

#include <string.h>

#include "baitfall/fall.h"
#include "baitfall/pot.h"

/* Tables ------------------------------------------------------------------------------------------------- */

static const char *const pots_list[] = {"kit.pots", NULL};
static const char *const baits_list[] = {"kit.baits", NULL};
static const char *const throws_list[] = {"kit.throws", NULL};
static const char *const spots_list[] = {"spots", NULL};

#define REF(record, member, key, list, must, help)                                                           \
    { key, BF_REF, offsetof(record, member), BF_PURE, -1, 40, -1, 0, 0, 0, list, help, must }

static const bf_field spot_use_fields[] = {
    REF(bf_plan_spot, pot, "pot", pots_list, 0, "the pot used here; not given: the kit's first"),
};

static const bf_field line_fields[] = {
    REF(bf_plan_line, spot, "spot", spots_list, 1, "where it goes in"),
    REF(bf_plan_line, bait, "bait", baits_list, 1, "what goes in: of the kit, or a catalogue word"),
    REF(bf_plan_line, sling, "throw", throws_list, 0,
        "how throw: which catapult; not given: the kit's first"),
    BF_R(bf_plan_line, volume_m3, BF_VOLUME, 2e-7, 2e-3, BF_NAN,
         "loose volume of one put-in, in place of count"),
    {"fill", BF_REAL, offsetof(bf_plan_line, fill_frac), BF_PURE, 0, 3, BF_NAN, 0, 0, 3, NULL,
     "part of the struck pot that is filled, in place of count", 0},
    BF_R(bf_plan_line, from_s, BF_TIME, 0, 86400, 0, "first put-in, since the start; start: at the start"),
    BF_R(bf_plan_line, to_s, BF_TIME, 0, 86400, BF_NAN, "no put-in later; not given: the end of the session"),
    BF_R(bf_plan_line, every_s, BF_TIME, 5, 86400, BF_NAN, "from one put-in to the next; not given: once"),
};

static const bf_field box_fields[] = {
    REF(bf_plan_box, bait, "bait", baits_list, 1, "which bait"),
    BF_R(bf_plan_box, mass_kg, BF_MASS, 0, 100, BF_NAN, "how much, by weight, as it goes in"),
    BF_R(bf_plan_box, volume_m3, BF_VOLUME, 0, 0.1, BF_NAN, "how much, by loose volume, as it goes in"),
    BF_R(bf_plan_box, count, BF_PURE, 0, 1e6, BF_NAN, "how many pieces"),
};

static const bf_field session_fields[] = {
    BF_R(bf_plan_session, hours, BF_PURE, 0.25, 24, 5, "length of the session; start: 5 hours (judgement)"),
};

#define OUT(member, dim, help) BF_R(bf_plan_put_out, member, dim, -BF_INFINITY, BF_INFINITY, BF_NAN, help)
static const bf_field put_out_fields[] = {
    OUT(time_s, BF_TIME, "the middle piece from the surface to the bottom"),
    OUT(pieces, BF_PURE, "pieces of one put-in"),
    OUT(holds, BF_PURE, "pieces that the pot holds"),
    OUT(mass_kg, BF_MASS, "what a put-in weighs"),
    OUT(volume_m3, BF_VOLUME, "the loose volume of a put-in"),
};
const bf_table bf_plan_put_out_table = BF_TABLE("put_in", bf_plan_put_out, put_out_fields);

enum { LINE_SPOT, LINE_BAIT, LINE_SLING, LINE_VOLUME, LINE_FILL, LINE_FROM, LINE_TO };
enum { BOX_BAIT, BOX_MASS, BOX_VOLUME, BOX_COUNT };

static const bf_table spot_use_table = BF_TABLE("spot_use", bf_plan_spot, spot_use_fields);
static const bf_table line_table = BF_TABLE("feed", bf_plan_line, line_fields);
static const bf_table box_table = BF_TABLE("box", bf_plan_box, box_fields);
static const bf_table session_table = BF_TABLE("session", bf_plan_session, session_fields);

#define MANY(name, table, member, most, count) BF_ROWS(name, table, bf_plan, member, most, count)

static const bf_section sections[] = {
    [BF_PLAN_WATER] = BF_SECTION("water", bf_lake_table, bf_plan, lake),
    [BF_PLAN_KIT_BAITS] = MANY("kit.baits", bf_bait_table, bait, BF_PLAN_BAITS, n_baits),
    [BF_PLAN_KIT_POTS] = MANY("kit.pots", bf_pot_table, pot, BF_PLAN_POTS, n_pots),
    [BF_PLAN_KIT_THROWS] = MANY("kit.throws", bf_sling_table, sling, BF_PLAN_SLINGS, n_slings),
    [BF_PLAN_SPOT] = MANY("spots", bf_spot_table, spot, BF_PLAN_SPOTS, n_spots),
    [BF_PLAN_SPOT_USE] = MANY("spots", spot_use_table, spot_use, BF_PLAN_SPOTS, n_spots),
    [BF_PLAN_PUT] = MANY("feed", bf_put_table, put, BF_PLAN_LINES, n_lines),
    [BF_PLAN_LINE] = MANY("feed", line_table, line, BF_PLAN_LINES, n_lines),
    [BF_PLAN_BOX] = MANY("box", box_table, box, BF_PLAN_BAITS, n_box),
    [BF_PLAN_SESSION] = BF_SECTION("session", session_table, bf_plan, session),
};

const bf_schema bf_plan_schema = BF_SCHEMA("plan", bf_plan, sections);

/* Checks ------------------------------------------------------------------------------------------------- */

static int is_given(double x) {
    return x == x;
}

static bf_status fault_at(bf_fault *fault, bf_status status, int section, int row, int field, double value) {
    *fault = (bf_fault){
        .status = status, .section = &sections[section], .row = row, .field = field, .value = value};
    return status;
}

static bf_status check_line(const bf_plan *plan, int i, bf_fault *fault) {
    const bf_plan_line *line = &plan->line[i];
    int has_count = is_given(plan->put[i].count), has_volume = is_given(line->volume_m3);
    if (line->spot >= plan->n_spots)
        return fault_at(fault, BF_E_CHOICE, BF_PLAN_LINE, i, LINE_SPOT, line->spot);
    if (line->bait >= plan->n_baits)
        return fault_at(fault, BF_E_CHOICE, BF_PLAN_LINE, i, LINE_BAIT, line->bait);
    if (line->sling >= plan->n_slings)
        return fault_at(fault, BF_E_CHOICE, BF_PLAN_LINE, i, LINE_SLING, line->sling);
    if (has_volume && has_count)
        return fault_at(fault, BF_E_TWICE, BF_PLAN_LINE, i, LINE_VOLUME, line->volume_m3);
    if (is_given(line->fill_frac) && (has_count || has_volume))
        return fault_at(fault, BF_E_TWICE, BF_PLAN_LINE, i, LINE_FILL, line->fill_frac);
    if (is_given(line->to_s) && line->to_s < line->from_s)
        return fault_at(fault, BF_E_RANGE, BF_PLAN_LINE, i, LINE_TO, line->to_s);
    return BF_OK;
}

static bf_status check_box(const bf_plan *plan, int i, bf_fault *fault) {
    const bf_plan_box *box = &plan->box[i];
    int n = is_given(box->mass_kg) + is_given(box->volume_m3) + is_given(box->count);
    if (box->bait >= plan->n_baits) return fault_at(fault, BF_E_CHOICE, BF_PLAN_BOX, i, BOX_BAIT, box->bait);
    for (int j = 0; j < i; j++)
        if (plan->box[j].bait == box->bait)
            return fault_at(fault, BF_E_TWICE, BF_PLAN_BOX, i, BOX_BAIT, box->bait);
    if (n == 0) return fault_at(fault, BF_E_MISSING, BF_PLAN_BOX, i, BOX_MASS, BF_NAN);
    if (n > 1 && is_given(box->count))
        return fault_at(fault, BF_E_TWICE, BF_PLAN_BOX, i, BOX_COUNT, box->count);
    if (n > 1) return fault_at(fault, BF_E_TWICE, BF_PLAN_BOX, i, BOX_VOLUME, box->volume_m3);
    return BF_OK;
}

bf_status bf_plan_check(const bf_plan *plan, bf_fault *fault) {
    bf_status status = bf_schema_check(&bf_plan_schema, plan, fault);
    for (int i = 0; !status && i < plan->n_spots; i++)
        if (plan->spot_use[i].pot >= plan->n_pots)
            status = fault_at(fault, BF_E_CHOICE, BF_PLAN_SPOT_USE, i, 0, plan->spot_use[i].pot);
    for (int i = 0; !status && i < plan->n_lines; i++) status = check_line(plan, i, fault);
    for (int i = 0; !status && i < plan->n_box; i++) status = check_box(plan, i, fault);
    return status;
}

/* One line ----------------------------------------------------------------------------------------------- */

int bf_plan_times(const bf_plan *plan, int i, double *last_s) {
    const bf_plan_line *line = &plan->line[i];
    double end_s = is_given(line->to_s) ? line->to_s : plan->session.hours * 3600;
    int n = 1;
    /* A whole number of steps must not be lost to rounding: a thousandth of a step is given. */
    if (is_given(line->every_s) && end_s > line->from_s)
        n += (int)((end_s - line->from_s) / line->every_s + 1e-3);
    if (last_s) *last_s = n > 1 ? line->from_s + (n - 1) * line->every_s : line->from_s;
    return n;
}

/* The pot of a line's spot, filled as the line says. */
static void take_pot(const bf_plan *plan, const bf_plan_line *line, bf_pot *pot) {
    int i = plan->spot_use[line->spot].pot;
    if (plan->n_pots > 0) *pot = plan->pot[i >= 0 ? i : 0];
    if (is_given(line->fill_frac)) {
        pot->fill_frac.value = line->fill_frac;
        pot->fill_frac.is_unknown = 0;
    }
    if (is_given(line->volume_m3)) {
        pot->volume_m3 = bf_exactly(line->volume_m3);
        pot->fill_frac.value = 1;
        pot->fill_frac.is_unknown = 0;
    }
}

void bf_plan_put_in(const bf_plan *plan, int i, bf_plan_put *put) {
    const bf_plan_line *line = &plan->line[i];
    bf_scene *scene = &put->scene;
    memset(put, 0, sizeof *put);
    bf_scene_start(scene);
    scene->bait = plan->bait[line->bait];
    scene->lake = plan->lake;
    scene->spot = plan->spot[line->spot];
    scene->put = plan->put[i];
    take_pot(plan, line, &scene->pot);
    if (plan->n_slings > 0) scene->sling = plan->sling[line->sling >= 0 ? line->sling : 0];
    put->is_measured_out = is_given(line->volume_m3) || is_given(line->fill_frac);
    put->schema = (bf_schema){"plan", sizeof *put, bf_spread_schema.section, bf_spread_schema.n_sections};
}

/* What the pieces weigh, and fill when poured. */
static void weigh(const bf_bait *bait, double voidage, double pieces, bf_plan_put_out *out) {
    double scatter = bait->size_scatter_frac;
    double piece_m3 = bf_piece_volume_m3(bait->form, bait->diameter_m.value, bait->length_m.value);
    double solid_m3 = pieces * piece_m3 * (1 + 3 * scatter * scatter); /* the mean cube of a scattered size */
    out->mass_kg = solid_m3 * bait->density_kg_m3.value;
    out->volume_m3 = voidage < 1 ? solid_m3 / (1 - voidage) : BF_NAN;
}

static double fall_time(const bf_scene *scene, const bf_draw *draw) {
    bf_fall_out fall;
    return bf_fall_model(scene, draw, (double *)&fall) == BF_OK ? fall.time_s : BF_NAN;
}

/* The model of one put-in: how many by pot, where by spread, how long by fall. */
static bf_status put_in(const void *record, const bf_draw *draw, double *columns) {
    const bf_plan_put *put = record;
    bf_scene scene = put->scene;
    double bed[sizeof(bf_spread_out) / sizeof(double) + BF_SPREAD_RAW];
    bf_plan_put_out out;
    bf_pot_out pot;
    bf_status status = bf_pot_holds(&scene.bait, &scene.pot, &scene.counted, &pot);
    if (status) return status;

    int uses_pot = scene.put.how == BF_CLUMP || scene.put.how == BF_SPRINKLE;
    if (put->is_measured_out) scene.put.count = pot.pieces;
    out.holds = uses_pot ? pot.pieces : BF_NAN;
    out.pieces = bf_put_pieces(&scene, pot.pieces);
    weigh(&scene.bait, pot.voidage_frac, out.pieces, &out);

    out.time_s = fall_time(&scene, draw);
    status = bf_spread_model(&scene, draw, bed);
    if (status && status != BF_E_MODEL_RANGE) return status;
    memcpy(&out.bed, bed, sizeof out.bed);
    memcpy(columns, &out, sizeof out);
    return BF_OK;
}

bf_ensemble bf_plan_ensemble(const bf_plan_put *put, uint64_t seed, int n_draws) {
    return (bf_ensemble){&put->schema, put, put_in, BF_PLAN_N_OUT, 0, seed, n_draws};
}

int bf_plan_notes(const bf_plan_put *put, const bf_ensemble_result *result, bf_note notes[BF_MOST_NOTES]) {
    double goes_in = result->range[BF_PLAN_PIECES].mid, holds = result->range[BF_PLAN_HOLDS].mid;
    int n = bf_spread_notes(&put->scene, result, notes);
    if (goes_in > holds && n < BF_MOST_NOTES)
        notes[n++] = (bf_note){BF_NOTE_POT_TOO_SMALL, {holds, goes_in, 0}};
    return n;
}

/* Sums --------------------------------------------------------------------------------------------------- */

/* Adds up one column over the lines of a bait, each as often as it goes in; stride from one line's block to the next. */
static double sum_column(const bf_plan *plan, int bait, const double *rows, size_t stride, int column) {
    double sum = 0;
    for (int i = 0; i < plan->n_lines; i++)
        if (plan->line[i].bait == bait)
            sum += bf_plan_times(plan, i, NULL) * rows[(size_t)i * stride + (size_t)column];
    return sum;
}

/* The sums of all draws that have one, into work; returns how many. */
static size_t sum_draws(const bf_plan *plan, int bait, const double *rows, int n_draws, int column,
                        double *work) {
    size_t n = 0, stride = (size_t)n_draws * (size_t)BF_PLAN_N_OUT;
    for (int k = 0; k < n_draws; k++) {
        double sum = sum_column(plan, bait, rows + (size_t)k * (size_t)BF_PLAN_N_OUT, stride, column);
        if (is_given(sum)) work[n++] = sum;
    }
    return n;
}

static bf_range range_of_sum(const bf_plan *plan, int bait, const double *rows, const double *nominal,
                             int n_draws, int column, double *work) {
    size_t n = sum_draws(plan, bait, rows, n_draws, column, work);
    return bf_range_of(work, n, sum_column(plan, bait, nominal, (size_t)BF_PLAN_N_OUT, column));
}

static bf_range scaled(bf_range range, double by) {
    return (bf_range){range.nominal * by, range.mid * by, range.lo * by, range.hi * by};
}

/* What is left when a range is taken from a known amount: the most that goes in leaves the least. */
static bf_range left_of(double amount, bf_range range) {
    return (bf_range){amount - range.nominal, amount - range.mid, amount - range.hi, amount - range.lo};
}

static int box_row(const bf_plan *plan, int bait) {
    for (int i = 0; i < plan->n_box; i++)
        if (plan->box[i].bait == bait) return i;
    return -1;
}

static double box_amount(const bf_plan_box *box, int *unit) {
    *unit = is_given(box->mass_kg)     ? BF_PLAN_MASS
            : is_given(box->volume_m3) ? BF_PLAN_VOLUME
                                       : BF_PLAN_PIECES;
    return *unit == BF_PLAN_MASS ? box->mass_kg : *unit == BF_PLAN_VOLUME ? box->volume_m3 : box->count;
}

void bf_plan_sum(const bf_plan *plan, int bait, const double *rows, const double *nominal, int n_draws,
                 double *work, bf_plan_supply *supply) {
    supply->n_put_ins = 0;
    for (int i = 0; i < plan->n_lines; i++)
        if (plan->line[i].bait == bait) supply->n_put_ins += bf_plan_times(plan, i, NULL);
    supply->pieces = range_of_sum(plan, bait, rows, nominal, n_draws, BF_PLAN_PIECES, work);
    supply->mass_kg = range_of_sum(plan, bait, rows, nominal, n_draws, BF_PLAN_MASS, work);
    supply->volume_m3 = range_of_sum(plan, bait, rows, nominal, n_draws, BF_PLAN_VOLUME, work);
    supply->pieces_per_h = scaled(supply->pieces, 1 / plan->session.hours);

    supply->box = box_row(plan, bait);
    supply->unit = -1;
    supply->left = (bf_range){BF_NAN, BF_NAN, BF_NAN, BF_NAN};
    supply->enough_frac = BF_NAN;
    if (supply->box < 0) return;

    double amount = box_amount(&plan->box[supply->box], &supply->unit);
    bf_range needed = range_of_sum(plan, bait, rows, nominal, n_draws, supply->unit, work);
    supply->left = left_of(amount, needed);
    size_t n = sum_draws(plan, bait, rows, n_draws, supply->unit, work), n_enough = 0;
    for (size_t k = 0; k < n; k++) n_enough += work[k] <= amount;
    if (n > 0) supply->enough_frac = (double)n_enough / (double)n;
}
