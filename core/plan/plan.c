/* plan.c -- tables of a plan, its lines as scenes, and the sums over its lines. */
#include "baitfall/plan.h"

#include <string.h>

#include "baitfall/elementary.h"
#include "baitfall/fall.h"
#include "baitfall/pot.h"

/* Tables ------------------------------------------------------------------------------------------------- */

static const char *const pots_list[] = {"kit.pots", NULL};
static const char *const baits_list[] = {"kit.baits", NULL};
static const char *const throws_list[] = {"kit.throws", NULL};
static const char *const spots_list[] = {"spots", NULL};
static const char *const rigs_list[] = {"kit.rigs", NULL};
static const char *const hook_baits_list[] = {"kit.hook_baits", NULL};

#define REF(record, member, key, list, must, help)                                                           \
    { key, BF_REF, offsetof(record, member), BF_PURE, -1, 40, -1, 0, 0, 0, list, help, must }

static const bf_field spot_use_fields[] = {
    REF(bf_plan_spot, pot, "pot", pots_list, 0, "the pot used here; not given: the kit's first"),
    REF(bf_plan_spot, rig, "rig", rigs_list, 0,
        "the rig fished here: of the kit, or a catalogue word; not given: one is suggested"),
    REF(bf_plan_spot, hook_bait, "hook_bait", hook_baits_list, 0,
        "what is on the hook: of the kit, or a catalogue word; not given: what is fed here first"),
    BF_OVERDEPTH(bf_plan_spot),
    BF_TIP_HEIGHT(bf_plan_spot),
};

static const bf_section spot_parts_sections[] = {BF_SECTION("aim", bf_aim_table, bf_plan_spot, aim)};
static const bf_schema spot_parts = BF_SCHEMA("spot", bf_plan_spot, spot_parts_sections);

static const bf_field whole_fields[] = {
    BF_R(bf_plan_whole, pole_m, BF_LENGTH, 1, 25, BF_NAN,
         "the longest reach of the pole that is taken; a caution and the venue's rules read it"),
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
    {"starts", BF_INSTANT, offsetof(bf_plan_session, starts_ms), BF_TIME, BF_INSTANT_LEAST_MS,
     BF_INSTANT_MOST_MS, BF_NAN, 0, 0, 0, NULL,
     "when it starts; times of preparing are then clock times, by the clock it is written in", 0},
};

static const bf_field nets_fields[] = {
    BF_R(bf_plan_nets, limit_kg, BF_MASS, 0.1, 1000, BF_NAN, "most fish in one net"),
    BF_R(bf_plan_nets, count, BF_PURE, 1, 20, BF_NAN, "how many nets are taken"),
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

enum { SPOT_POT, SPOT_RIG, SPOT_HOOK_BAIT };
enum { LINE_SPOT, LINE_BAIT, LINE_SLING, LINE_VOLUME, LINE_FILL, LINE_FROM, LINE_TO };
enum { BOX_BAIT, BOX_MASS, BOX_VOLUME, BOX_COUNT };

static const bf_table whole_table = BF_TABLE("plan", bf_plan_whole, whole_fields);
static const bf_table spot_use_table = BF_TABLE("spot_use", bf_plan_spot, spot_use_fields);
static const bf_table line_table = BF_TABLE("feed", bf_plan_line, line_fields);
static const bf_table box_table = BF_TABLE("box", bf_plan_box, box_fields);
static const bf_table session_table = BF_TABLE("session", bf_plan_session, session_fields);
static const bf_table nets_table = BF_TABLE("nets", bf_plan_nets, nets_fields);

#define MANY(name, table, member, most, count) BF_ROWS(name, table, bf_plan, member, most, count)

static const bf_section sections[] = {
    [BF_PLAN_WHOLE] = BF_SECTION("", whole_table, bf_plan, whole),
    [BF_PLAN_WATER] = BF_SECTION("water", bf_lake_table, bf_plan, lake),
    [BF_PLAN_KIT_BAITS] = MANY("kit.baits", bf_bait_table, bait, BF_PLAN_BAITS, n_baits),
    [BF_PLAN_KIT_HOOK_BAITS] = MANY("kit.hook_baits", bf_bait_table, hook_bait, BF_PLAN_BAITS, n_hook_baits),
    [BF_PLAN_KIT_POTS] = MANY("kit.pots", bf_pot_table, pot, BF_PLAN_POTS, n_pots),
    [BF_PLAN_KIT_THROWS] = MANY("kit.throws", bf_sling_table, sling, BF_PLAN_SLINGS, n_slings),
    [BF_PLAN_KIT_ELASTICS] = MANY("kit.elastics", bf_elastic_table, elastic, BF_PLAN_ELASTICS, n_elastics),
    [BF_PLAN_KIT_RIGS] =
        BF_ROWS_OF("kit.rigs", bf_rig_table, bf_plan, rig, BF_PLAN_RIGS, n_rigs, bf_rig_parts),
    [BF_PLAN_KIT_AIMS] = MANY("kit.aims", bf_aim_table, aim, BF_PLAN_AIMS, n_aims),
    [BF_PLAN_SPOT] = MANY("spots", bf_spot_table, spot, BF_PLAN_SPOTS, n_spots),
    [BF_PLAN_SPOT_USE] =
        BF_ROWS_OF("spots", spot_use_table, bf_plan, spot_use, BF_PLAN_SPOTS, n_spots, spot_parts),
    [BF_PLAN_PUT] = MANY("feed", bf_put_table, put, BF_PLAN_LINES, n_lines),
    [BF_PLAN_LINE] = MANY("feed", line_table, line, BF_PLAN_LINES, n_lines),
    [BF_PLAN_BOX] = MANY("box", box_table, box, BF_PLAN_BAITS, n_box),
    [BF_PLAN_SESSION] = BF_SECTION("session", session_table, bf_plan, session),
    [BF_PLAN_NETS] = BF_SECTION("session.nets", nets_table, bf_plan, nets),
    [BF_PLAN_UNKNOWN_PEG] = BF_SECTION("unknown_peg", bf_unknown_peg_table, bf_plan, unknown_peg),
};

const bf_schema bf_plan_schema = {"plan", sizeof(bf_plan), sections, BF_PLAN_UNKNOWN_PEG};
const bf_schema bf_plan_schema_with_peg = BF_SCHEMA("plan", bf_plan, sections);

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

static bf_status check_spot(const bf_plan *plan, int i, bf_fault *fault) {
    const bf_plan_spot *use = &plan->spot_use[i];
    if (use->pot >= plan->n_pots)
        return fault_at(fault, BF_E_CHOICE, BF_PLAN_SPOT_USE, i, SPOT_POT, use->pot);
    if (use->rig >= plan->n_rigs)
        return fault_at(fault, BF_E_CHOICE, BF_PLAN_SPOT_USE, i, SPOT_RIG, use->rig);
    if (use->hook_bait >= plan->n_hook_baits)
        return fault_at(fault, BF_E_CHOICE, BF_PLAN_SPOT_USE, i, SPOT_HOOK_BAIT, use->hook_bait);
    return BF_OK;
}

static bf_status check_peg(const bf_plan *plan, bf_fault *fault) {
    int field;
    double value;
    bf_status status = bf_unknown_peg_check(&plan->unknown_peg, &field, &value);
    return status ? fault_at(fault, status, BF_PLAN_UNKNOWN_PEG, 0, field, value) : BF_OK;
}

bf_status bf_plan_check(const bf_plan *plan, bf_fault *fault) {
    bf_status status =
        bf_schema_check(plan->has_unknown_peg ? &bf_plan_schema_with_peg : &bf_plan_schema, plan, fault);
    for (int i = 0; !status && i < plan->n_spots; i++) status = check_spot(plan, i, fault);
    for (int i = 0; !status && i < plan->n_lines; i++) status = check_line(plan, i, fault);
    for (int i = 0; !status && i < plan->n_box; i++) status = check_box(plan, i, fault);
    if (!status && plan->has_unknown_peg) status = check_peg(plan, fault);
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

/* Everything a line says of a put-in. */
static void take_line(const bf_plan *plan, int i, bf_scene *scene) {
    const bf_plan_line *line = &plan->line[i];
    scene->bait = plan->bait[line->bait];
    scene->put = plan->put[i];
    take_pot(plan, line, &scene->pot);
    if (plan->n_slings > 0) scene->sling = plan->sling[line->sling >= 0 ? line->sling : 0];
}

void bf_plan_put_in(const bf_plan *plan, int i, bf_plan_put *put) {
    const bf_plan_line *line = &plan->line[i];
    memset(put, 0, sizeof *put);
    bf_scene_start(&put->scene);
    put->scene.lake = plan->lake;
    put->scene.spot = plan->spot[line->spot];
    take_line(plan, i, &put->scene);
    put->is_measured_out = is_given(line->volume_m3) || is_given(line->fill_frac);
    put->schema = (bf_schema){"plan", sizeof *put, bf_spread_schema.section, bf_spread_schema.n_sections};
}

/* One spot ----------------------------------------------------------------------------------------------- */

static int first_line(const bf_plan *plan, int spot) {
    int i = 0;
    while (i < plan->n_lines && plan->line[i].spot != spot) i++;
    return i < plan->n_lines ? i : -1;
}

static void take_hook_bait(const bf_plan *plan, int spot, int line, bf_stand *stand) {
    int named = plan->spot_use[spot].hook_bait;
    if (named < 0 && line < 0 && plan->n_hook_baits > 0) named = 0;
    stand->hook_bait = named >= 0 ? plan->hook_bait[named] : stand->scene.bait;
}

int bf_plan_stand(const bf_plan *plan, int spot, bf_stand *stand) {
    const bf_plan_spot *use = &plan->spot_use[spot];
    int line = first_line(plan, spot);
    bf_stand_start(stand);
    stand->scene.lake = plan->lake;
    stand->scene.spot = plan->spot[spot];
    if (line >= 0) take_line(plan, line, &stand->scene);
    take_hook_bait(plan, spot, line, stand);
    if (use->rig >= 0) stand->rig = plan->rig[use->rig];
    stand->hold.overdepth_m = use->overdepth_m;
    stand->hold.tip_height_m = use->tip_height_m;
    stand->aim = use->aim;
    return line;
}

/* What the pieces weigh, and fill when poured. */
static void weigh(const bf_bait *bait, double voidage, double pieces, bf_plan_put_out *out) {
    double scatter = bait->size_scatter_frac;
    double piece_m3 = bf_piece_volume_m3(bait->form, bait->diameter_m.value, bait->length_m.value);
    double solid_m3 = pieces * piece_m3 * (1 + 3 * scatter * scatter); /* the mean cube of a scattered size */
    out->mass_kg = solid_m3 * bait->density_kg_m3.value;
    out->volume_m3 = voidage < 1 ? solid_m3 / (1 - voidage) : BF_NAN;
}

/* Of the middle piece, from the surface; NaN when it never comes to lie. */
static double fall_time(const bf_scene *scene) {
    const bf_spot *spot = &scene->spot;
    const bf_floor floor = {spot->depth_m.value, bf_tan(spot->slope_deg.value * BF_RAD_PER_DEG)};
    const bf_entry rest = {0, 0, 0, 0, 0, 0};
    bf_piece middle = bf_piece_of(&scene->bait, &scene->lake);
    bf_current current;
    bf_landing landing;
    if (bf_current_of(&scene->lake, spot->depth_m.value, &current)) return BF_NAN;
    return bf_fall_land(&middle, &rest, &current, &floor, &landing) == BF_OK ? landing.time_s : BF_NAN;
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

    out.time_s = fall_time(&scene);
    status = bf_spread_model(&scene, draw, bed);
    if (status && status != BF_E_MODEL_RANGE) return status;
    memcpy(&out.bed, bed, sizeof out.bed);
    memcpy(columns, &out, sizeof out);
    return BF_OK;
}

bf_ensemble bf_plan_ensemble(const bf_plan_put *put, int n_raw, uint64_t seed, int n_draws) {
    return (bf_ensemble){&put->schema, put, put_in, BF_PLAN_N_OUT, n_raw, seed, n_draws};
}

int bf_plan_notes(const bf_plan_put *put, const bf_ensemble_result *result, bf_note notes[BF_MOST_NOTES]) {
    double goes_in = result->range[BF_PLAN_PIECES].mid, holds = result->range[BF_PLAN_HOLDS].mid;
    int n = bf_spread_notes(&put->scene, result, notes);
    if (goes_in > holds && n < BF_MOST_NOTES)
        notes[n++] = (bf_note){BF_NOTE_POT_TOO_SMALL, {holds, goes_in, 0}};
    return n;
}

int bf_plan_time_notes(const bf_plan *plan, int i, bf_note *notes) {
    double last_s, end_s = plan->session.hours * 3600, from_s = plan->line[i].from_s;
    bf_plan_times(plan, i, &last_s);
    if (!(last_s > end_s)) return 0;
    *notes = from_s > end_s ? (bf_note){BF_NOTE_FEED_TOO_LATE, {from_s, end_s, 0}}
                            : (bf_note){BF_NOTE_FEED_GOES_ON, {last_s, end_s, 0}};
    return 1;
}

/* Sums --------------------------------------------------------------------------------------------------- */

/* What every line came to, draw by draw: n_columns doubles a row, n_draws rows a line. */
typedef struct block {
    const double *rows;
    size_t n_draws, n_columns;
} block;

/* Adds up one column over the lines of a bait in draw k, each as often as it goes in. */
static double sum_column(const bf_plan *plan, int bait, const block *of, size_t k, int column) {
    double sum = 0;
    for (int i = 0; i < plan->n_lines; i++)
        if (plan->line[i].bait == bait)
            sum += bf_plan_times(plan, i, NULL) *
                   of->rows[((size_t)i * of->n_draws + k) * of->n_columns + (size_t)column];
    return sum;
}

/* The sums of all draws that have one, into work; returns how many. */
static size_t sum_draws(const bf_plan *plan, int bait, const block *of, int column, double *work) {
    size_t n = 0;
    for (size_t k = 0; k < of->n_draws; k++) {
        double sum = sum_column(plan, bait, of, k, column);
        if (is_given(sum)) work[n++] = sum;
    }
    return n;
}

static bf_range range_of_sum(const bf_plan *plan, int bait, const block *of, const double *nominal,
                             int column, double *work) {
    const block as_given = {nominal, 1, (size_t)BF_PLAN_N_OUT};
    size_t n = sum_draws(plan, bait, of, column, work);
    return bf_range_of(work, n, sum_column(plan, bait, &as_given, 0, column));
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

void bf_plan_sum(const bf_plan *plan, int bait, const double *rows, int n_columns, const double *nominal,
                 int n_draws, double *work, bf_plan_supply *supply) {
    const block all = {rows, (size_t)n_draws, (size_t)n_columns};
    supply->n_put_ins = 0;
    for (int i = 0; i < plan->n_lines; i++)
        if (plan->line[i].bait == bait) supply->n_put_ins += bf_plan_times(plan, i, NULL);
    supply->pieces = range_of_sum(plan, bait, &all, nominal, BF_PLAN_PIECES, work);
    supply->mass_kg = range_of_sum(plan, bait, &all, nominal, BF_PLAN_MASS, work);
    supply->volume_m3 = range_of_sum(plan, bait, &all, nominal, BF_PLAN_VOLUME, work);
    supply->pieces_per_h = scaled(supply->pieces, 1 / plan->session.hours);

    supply->box = box_row(plan, bait);
    supply->unit = -1;
    supply->left = (bf_range){BF_NAN, BF_NAN, BF_NAN, BF_NAN};
    supply->enough_frac = BF_NAN;
    if (supply->box < 0) return;

    double amount = box_amount(&plan->box[supply->box], &supply->unit);
    bf_range needed = range_of_sum(plan, bait, &all, nominal, supply->unit, work);
    supply->left = left_of(amount, needed);
    size_t n = sum_draws(plan, bait, &all, supply->unit, work), n_enough = 0;
    for (size_t k = 0; k < n; k++) n_enough += work[k] <= amount;
    if (n > 0) supply->enough_frac = (double)n_enough / (double)n;
}
