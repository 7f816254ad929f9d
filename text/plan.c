/* plan.c -- the feed part of a plan: a plan file in, what each line of feed comes to out. */
#include "baitfall/plan.h"

#include <string.h>

#include "core/base/room.h"
#include "text/work.h"

/* More draws than this are not worth the memory: rows of 32 lines. */
#define MOST_DRAWS 4096
#define DRAWS_ACCEPTED "16 to 4096"

/* Keys of a plan that other parts of the program read, or people: let through, so that one file serves all. */
static const char *const not_read[] = {BFI_OPTION_KEYS,
                                       "schema",
                                       "name",
                                       "venue",
                                       "pole_m",
                                       "unknown_peg",
                                       "kit.hook_baits",
                                       "kit.rigs",
                                       "kit.elastics",
                                       "spots.rig",
                                       "spots.overdepth_m",
                                       "spots.aim",
                                       "session.starts",
                                       "session.species",
                                       "session.objective",
                                       "session.target_kg",
                                       "session.nets",
                                       NULL};

/* What stands in work->own. */
typedef struct own {
    bf_plan plan;
    bf_plan_put put;
    bf_field column[BF_PLAN_N_OUT]; /* of columns */
    bf_table columns;               /* spread's outputs, then the plan's own */
    double nominal[BF_PLAN_LINES * BF_PLAN_N_OUT];
    bf_ensemble_result result;
} own;

/* ---- The request ---- */

static void make_columns(own *o) {
    int n_bed = bf_spread_out_table.n_fields;
    BF_ASSERT(n_bed + bf_plan_put_out_table.n_fields == BF_PLAN_N_OUT);
    memcpy(o->column, bf_spread_out_table.field, (size_t)n_bed * sizeof o->column[0]);
    memcpy(o->column + n_bed, bf_plan_put_out_table.field,
           (size_t)(BF_PLAN_N_OUT - n_bed) * sizeof o->column[0]);
    o->columns = (bf_table){"put_in", sizeof(bf_plan_put_out), o->column, BF_PLAN_N_OUT};
}

static bf_status check_schema(bfi_work *work) {
    double number = 1;
    int value = bfi_option(work, "schema");
    if (value < 0) return BF_OK;
    bf_status status = bf_json_kind_of(&work->json, value) == BF_JSON_NUMBER
                           ? bf_json_number(&work->json, value, &number)
                           : BF_E_TYPE;
    if (!status && number != 1) status = BF_E_RANGE;
    return status ? bfi_fail(&work->error, status, "schema", &work->json, value, "1") : BF_OK;
}

/* What is accepted where one value depends on others (bf_plan_check); NULL: the field's own table says. */
static const char *accepted_by_plan(const bf_fault *fault) {
    if (!fault->section || fault->field < 0) return NULL;
    const bf_field *field = &fault->section->table->field[fault->field];
    int is_box = fault->section == &bf_plan_schema.section[BF_PLAN_BOX];
    if (fault->status == BF_E_TWICE) return field->kind == BF_REF ? "each bait once" : "one amount";
    if (fault->status == BF_E_MISSING && is_box && field->kind != BF_REF)
        return "a mass, a volume or a count";
    int is_in_range = fault->value >= field->least && fault->value <= field->most;
    return fault->status == BF_E_RANGE && is_in_range ? "from_s or later" : NULL;
}

static bf_status begin(bfi_work *work) {
    own *o = work->own;
    bf_fault fault;
    bf_schema_start(&bf_plan_schema, &o->plan);
    make_columns(o);
    bf_status status = check_schema(work);
    if (!status) status = bfi_read_options(work, BF_PLAN_DRAWS_START);
    if (!status && work->n_draws > MOST_DRAWS)
        status = bfi_fail(&work->error, BF_E_RANGE, "draws", &work->json, bfi_option(work, "draws"),
                          DRAWS_ACCEPTED);
    if (!status)
        status = bfi_read_record(&work->reader, &work->json, &bf_plan_schema, &o->plan, not_read,
                                 &work->names, &work->error);
    if (status) return status;
    if (bf_plan_check(&o->plan, &fault))
        return bfi_fail_fault_words(&work->error, &work->names, &fault, accepted_by_plan(&fault));
    if (o->plan.n_lines == 0)
        return bfi_fail(&work->error, BF_E_MISSING, "feed", NULL, -1, "1 to 32 lines of feed");
    work->n_items = o->plan.n_lines * work->n_draws;
    work->n_columns = BF_PLAN_N_OUT;
    return BF_OK;
}

/* ---- Rows: item i is draw i % n_draws of line i / n_draws ---- */

static size_t put_bytes(void) {
    return bfi_room(sizeof(bf_plan_put));
}

static size_t ensemble_bytes(int n_draws) {
    bf_schema schema = {"plan", sizeof(bf_plan_put), bf_spread_schema.section, bf_spread_schema.n_sections};
    bf_ensemble ensemble = {.schema = &schema, .n_draws = n_draws};
    return bf_ensemble_work_bytes(&ensemble);
}

static size_t scratch_bytes(const bfi_work *work) {
    (void)work;
    return put_bytes() + ensemble_bytes(16);
}

static void range(const bfi_work *work, void *scratch, int i, int j, double *rows) {
    const own *o = work->own;
    bf_plan_put *put = scratch;
    while (i < j) {
        int line = i / work->n_draws, from = i % work->n_draws;
        int to = j < (line + 1) * work->n_draws ? from + (j - i) : work->n_draws;
        bf_plan_put_in(&o->plan, line, put);
        bf_ensemble ensemble =
            bf_plan_ensemble(put, work->seed, 16); // 16 only decides the size of the scratch
        // A draw without an answer is a row of NaN, left out of the sums.
        bf_status status = bf_ensemble_range(&ensemble, from, to, (char *)scratch + put_bytes(), rows);
        (void)status;
        rows += (size_t)(to - from) * (size_t)BF_PLAN_N_OUT;
        i += to - from;
    }
}

/* ---- The answer ---- */

static size_t own_bytes(const bf_command *command) {
    (void)command;
    return sizeof(own);
}

static size_t spare_bytes(const bf_command *command) {
    (void)command;
    size_t finishing = ensemble_bytes(MOST_DRAWS);
    return finishing > scratch_bytes(NULL) ? finishing : scratch_bytes(NULL);
}

static size_t rows_bytes(const bf_command *command) {
    (void)command;
    return (size_t)MOST_DRAWS * BF_PLAN_LINES * (size_t)BF_PLAN_N_OUT * sizeof(double);
}

static const char *name_of(const bfi_work *work, int section, int row) {
    return bfi_name_of(&work->names, &bf_plan_schema.section[section], row);
}

static void put_string(const bfi_work *work, const char *key, bfi_json *out) {
    size_t n;
    int value = bfi_option(work, key);
    if (value < 0 || bf_json_kind_of(&work->json, value) != BF_JSON_STRING) return;
    const char *raw = bf_json_raw(&work->json, value, &n);
    bfi_json_key(out, key);
    bfi_json_raw(out, raw, n);
}

static const char *how_word(int how) {
    int is_pm, field = bf_field_find(&bf_put_table, "how", 3, &is_pm);
    return bf_put_table.field[field].words[how];
}

/* When a line goes in. */
static void put_times(const bf_plan *plan, int line, bfi_json *out) {
    double last_s;
    int n = bf_plan_times(plan, line, &last_s);
    bfi_json_key_real(out, "put_ins", n);
    bfi_json_key_real(out, "from_s", plan->line[line].from_s);
    if (n == 1) return;
    bfi_json_key_real(out, "every_s", plan->line[line].every_s);
    bfi_json_key_real(out, "until_s", last_s);
}

static bf_status put_line(bfi_work *work, int line, const double *rows, bfi_json *out) {
    own *o = work->own;
    bf_note notes[BF_MOST_NOTES];
    double *nominal = o->nominal + line * BF_PLAN_N_OUT;
    bf_plan_put_in(&o->plan, line, &o->put);
    bf_ensemble ensemble = bf_plan_ensemble(&o->put, work->seed, work->n_draws);
    bf_status status = bf_ensemble_nominal(&ensemble, nominal);
    if (status) {
        char path[32];
        bfi_field_path(&bf_plan_schema.section[BF_PLAN_LINE], line, -1, 0, path, sizeof path);
        return bfi_fail(&work->error, status, path, NULL, -1, "");
    }
    bf_ensemble_finish(&ensemble, rows, nominal, work->spare, &o->result);
    bfi_json_object(out);
    bfi_json_key_text(out, "spot", name_of(work, BF_PLAN_SPOT, o->plan.line[line].spot));
    bfi_json_key_text(out, "bait", name_of(work, BF_PLAN_KIT_BAITS, o->plan.line[line].bait));
    bfi_json_key_text(out, "how", how_word(o->plan.put[line].how));
    put_times(&o->plan, line, out);
    for (int i = 0; i < BF_PLAN_N_OUT; i++) bfi_json_output(out, &o->columns, i, &o->put.schema, &o->result);
    bfi_json_notes(out, notes, bf_plan_notes(&o->put, &o->result, notes));
    bfi_json_close(out);
    return BF_OK;
}

static void put_range(bfi_json *out, const char *key, bf_range range, bf_dimension dimension) {
    bfi_json_range(out, key, range, dimension);
    bfi_json_close(out);
}

static void put_box(const bf_plan_supply *supply, bfi_json *out) {
    switch (supply->unit) {
    case BF_PLAN_MASS: put_range(out, "left_kg", supply->left, BF_MASS); break;
    case BF_PLAN_VOLUME: put_range(out, "left_m3", supply->left, BF_VOLUME); break;
    default: put_range(out, "left_pieces", supply->left, BF_PURE); break;
    }
    bfi_json_key_real(out, "enough_frac", supply->enough_frac);
}

static void put_bait(bfi_work *work, int bait, const double *rows, bfi_json *out) {
    own *o = work->own;
    bf_plan_supply supply;
    bf_plan_sum(&o->plan, bait, rows, o->nominal, work->n_draws, work->spare, &supply);
    if (supply.n_put_ins == 0 && supply.box < 0) return;
    bfi_json_object(out);
    bfi_json_key_text(out, "bait", name_of(work, BF_PLAN_KIT_BAITS, bait));
    bfi_json_key_real(out, "put_ins", supply.n_put_ins);
    put_range(out, "pieces", supply.pieces, BF_PURE);
    put_range(out, "mass_kg", supply.mass_kg, BF_MASS);
    put_range(out, "volume_m3", supply.volume_m3, BF_VOLUME);
    put_range(out, "pieces_per_h", supply.pieces_per_h, BF_PURE);
    if (supply.box >= 0) put_box(&supply, out);
    bfi_json_close(out);
}

static bf_status finish(bfi_work *work, const double *rows, bfi_json *out) {
    static const bf_note general[] = {
        {BF_NOTE_ESTIMATE, {0}}, {BF_NOTE_PLAN_FEED_ONLY, {0}}, {BF_NOTE_POWER_LINES, {0}}};
    own *o = work->own;
    bf_status status = BF_OK;
    put_string(work, "name", out);
    bfi_json_key(out, "feed");
    bfi_json_array(out);
    for (int i = 0; !status && i < o->plan.n_lines; i++)
        status = put_line(work, i, rows + (size_t)i * (size_t)work->n_draws * (size_t)BF_PLAN_N_OUT, out);
    if (status) return status;
    bfi_json_close(out);
    bfi_json_key(out, "baits");
    bfi_json_array(out);
    for (int i = 0; i < o->plan.n_baits; i++) put_bait(work, i, rows, out);
    bfi_json_close(out);
    bfi_json_key(out, "inputs");
    bfi_json_record(out, &bf_plan_schema, &work->names, &o->plan);
    bfi_json_notes(out, general, (int)(sizeof general / sizeof general[0]));
    return BF_OK;
}

const bfi_verb bfi_plan_verb = {"plan", own_bytes,     spare_bytes, rows_bytes,
                                begin,  scratch_bytes, range,       finish};
